"""Every rule of the checker, each with an example that breaks it."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist.coach import Coach, facts
from cabassist.errors import Problem
from cabassist.procedures import yamlfile
from cabassist.procedures.checker import Style, check_all, check_procedure, fold
from cabassist.procedures.library import compile_knowledge, knowledge_files
from cabassist.procedures.model import Procedure
from cabassist.procedures.wording import speech_seconds

from .conftest import procedure_text


@pytest.fixture(scope="module")
def style(knowledge_folder: Path) -> Style:
    """The shipped bounds."""
    return yamlfile.validate(yamlfile.load(knowledge_folder / "style.yaml"), Style)


@pytest.fixture
def check(style: Style, coach: Coach):
    """The checker on one text, with the demo coach and two known procedures."""

    def checked(text: str) -> list[Problem]:
        file = yamlfile.parse(text, "knowledge/water/main.yaml")
        return check_procedure(
            yamlfile.validate(file, Procedure),
            file,
            style,
            ids=["main", "drain"],
            placeholders=facts(coach),
            kit=[item.id for item in coach.kit],
            calculations=["fill-by"],
        )

    return checked


SOUND = procedure_text("main", "drain")
HAZARD = procedure_text("main", "drain", escape="Get everyone out now.")
STEP = "  - do: Turn the handle to the right.\n"


def broken(old: str, new: str, text: str = SOUND) -> str:
    """The sound text with one thing replaced."""
    assert old in text
    return text.replace(old, new, 1)


def test_the_bounds_are_the_stated_ones(style: Style):
    """ASD-STE100 rule 5.2 allows 20 words; an escape line takes 8 seconds at most; reading ease has its bound.

    60 to 70 is standard English on Flesch's scale, and notices of the SSA aim at 50 to 60 (references.md, section 10).
    """
    assert style.max_words_a_sentence == 20
    assert style.max_escape_seconds == 8
    assert style.min_reading_ease >= 60


def test_a_sound_procedure_has_no_problems(check):
    """The example that all others are made from, as a procedure and as a hazard."""
    assert check(SOUND) == []
    assert check(HAZARD) == []


def of_words(count: int) -> str:
    """An instruction of that many words."""
    return " ".join(["Turn", *["it"] * (count - 1)]) + "."


LONG = of_words(21)


@pytest.mark.parametrize(
    ("text", "code", "where", "needle", "said"),
    [
        # length: one word too many, wherever a driver is shown it
        (broken(STEP, f"  - do: {LONG}\n"), "length", "steps[0].do", LONG, "21 words in a sentence, at most 20"),
        (broken("    done_when: The handle stops.", f"    done_when: {LONG}"), "length", "steps[0].done_when", LONG, "21"),
        (broken("    text: The handle is cold.", f"    text: {LONG}"), "length", "cautions[0].text", LONG, "21 words"),
        (broken("  - Never force the handle.", f"  - {LONG}"), "length", "never[0]", LONG, "21 words"),
        (broken("  - The handle does not turn.", f"  - {LONG}"), "length", "stop_when[0]", LONG, "21 words"),
        (broken("call: The carrier's", f"call: {LONG} The carrier's"), "length", "call", LONG, "21 words"),
        (broken("summary: The main", f"summary: {LONG} The main"), "length", "summary", LONG, "21 words"),
        # one instruction a sentence
        (broken(STEP, "  - do: Turn the handle and open the cap.\n"), "imperative", "steps[0].do", "Turn the handle and", "more than one"),
        (broken(STEP, "  - do: Turn the handle, then wait.\n"), "imperative", "steps[0].do", "Turn the handle, then", "more than one"),
        (broken(STEP, "  - do: Turn the handle; open it.\n"), "imperative", "steps[0].do", "Turn the handle;", "more than one"),
        (broken(STEP, "  - do: Close and lock the door.\n"), "imperative", "steps[0].do", "Close and", "more than one"),
        # imperative
        (broken(STEP, "  - do: The valve should be closed.\n"), "imperative", "steps[0].do", "The valve should", "instruction ('the')"),
        (broken(STEP, "  - do: You turn the handle.\n"), "imperative", "steps[0].do", "You turn", "instruction ('you')"),
        (broken(STEP, "  - do: Turn it. Nothing drips.\n"), "imperative", "steps[0].do", "Turn it. Nothing", "('nothing')"),
        (broken("  - do: If it is cold, warm", "  - do: If it is cold warm"), "imperative", "steps[1].do", "If it is cold", "after a comma"),
        (broken("  - do: If it is cold, warm the handle", "  - do: If it is cold, the handle"), "imperative", "steps[1].do", "If it is cold", "('the')"),
        (broken("everyone out now.", "out. Danger is near.", HAZARD), "imperative", "escape", "escape:", "('danger')"),
        # words that tell nothing
        (broken(STEP, "  - do: Turn the handle properly.\n"), "vague", "steps[0].do", "properly", "'properly' does not tell"),
        # names
        (broken("{fresh.bay}", "{fresh.bae}"), "placeholder", "steps[2].do", "fresh.bae", "{fresh.bae} is not in the coach profile"),
        (broken("{fresh.capacity}", "{}"), "placeholder", "steps[0].why", "{}", "{} is not in the coach profile"),
        (broken("needs: [gloves]", "needs: [gloves, mittens]"), "kit", "needs[1]", "needs:", "'mittens' is not in the carried kit"),
        (broken("then: []", "then: [flood]"), "reference", "then[0]", "then:", "there is no procedure 'flood'"),
        (broken("related: [drain]", "related: [drian]"), "reference", "related[0]", "related:", "there is no procedure 'drian'"),
        (broken("then: []", "then: [main]"), "reference", "then[0]", "then:", "cannot follow itself"),
        (broken("then: []", "offers: [fill-when]"), "calculation", "offers[0]", "offers:", "there is no calculation 'fill-when'"),
        (broken("[freezing]", "[frosty]"), "condition", "steps[1].only_when[0]", "only_when:", "nobody knows 'frosty'"),
        (broken("[freezing]", "[freezing, not frosty]"), "condition", "steps[1].only_when[1]", "only_when:", "nobody knows 'not frosty'"),
        # asks
        (broken("shut it, wording 7", "shut it, wording 6"), "ask", "asks[7]", "wording 7", "there twice"),
        (broken("the main one, how do I shut it, wording 7", "The MAIN one, how do I shut it? Wording 6!"), "ask", "asks[7]", "MAIN", "there twice"),
    ],
)  # fmt: skip
def test_each_rule_finds_its_failing_example(check, text: str, code: str, where: str, needle: str, said: str):
    """One problem, with file, line, place, words and a stable code."""
    (problem,) = check(text)
    line = (text[: text.index(needle)] if needle in text else SOUND[: SOUND.index(needle)]).count("\n") + 1

    assert (problem.code, problem.where) == (code, where)
    assert str(problem).startswith(f"knowledge/water/main.yaml:{line}: {where}: ")
    assert said in problem.message


@pytest.mark.parametrize(
    "text",
    [
        broken(STEP, f"  - do: {of_words(20)}\n"),
        # a placeholder counts as one word
        broken(STEP, f"  - do: {of_words(18)[:-1]} at {{fresh.fill_place}}.\n"),
        broken(STEP, "  - do: Close the valve. Open the cap.\n"),
        broken(STEP, "  - do: Do not open the cap and the door.\n"),
        broken(STEP, "  - do: Take the hose, the cap and the gloves.\n"),
        broken(STEP, "  - do: Push the door while you turn the latch.\n"),
        broken(STEP, "  - do: When the light is red, slowly turn the handle.\n"),
        broken("then: []", "then: [drain]\noffers: [fill-by]"),
        broken("[freezing]", "[not freezing, heat-tape, not two-drivers]"),
    ],
)
def test_what_the_rules_allow(check, text: str):
    """The other side of each bound gives no problem."""
    assert check(text) == []


@pytest.mark.parametrize(
    "do", ["Close the valve and wait.", "Turn the key and pull hard.", "Stop and call 911.", "Close valve, push door."]
)
def test_a_second_instruction_is_found_whatever_follows_it(check, do: str):
    """Two things to do are two sentences."""
    assert [problem.code for problem in check(broken(STEP, f"  - do: {do}\n"))] == ["imperative"]


@pytest.mark.parametrize("bad", ["{fresh.bay", "fresh.bay}", "{{fresh.bay}}"])
def test_a_brace_that_is_left_over_is_found(check, bad: str):
    """Half a placeholder would be shown to the driver as it is."""
    assert [problem.code for problem in check(broken("{fresh.bay}", bad))] == ["placeholder"]


def with_wait(minutes: str) -> str:
    """The sound procedure with a wait after its first step."""
    wait = f"    wait: {{minutes: {minutes}, reason: the transfer, announce: The time is over.}}\n"
    return broken(STEP, STEP + wait)


def test_a_wait_may_name_a_time_of_the_coach(check):
    """Minutes, or a fact that is a time."""
    assert check(with_wait("10")) == []
    assert check(with_wait("shore.transfer_delay")) == []


@pytest.mark.parametrize("minutes", ["shore.transfer_dely", "shore.nonsense_delay", "fresh.bay"])
def test_a_wait_for_a_fact_that_is_no_time_is_found(check, minutes: str):
    """A misspelt fact would leave the driver waiting for an announcement that never comes."""
    assert [problem.code for problem in check(with_wait(minutes))] == ["placeholder"]


def test_hard_words_are_found(check):
    """The instructions together must reach the stated reading ease."""
    hard = "Verify immediately, simultaneously investigating administrative documentation."
    text = broken(STEP, f"  - do: {hard}\n")

    assert "ease" in [problem.code for problem in check(text)]
    assert "reading ease" in next(p.message for p in check(text) if p.code == "ease")


@pytest.mark.parametrize(("count", "codes"), [(20, []), (21, ["escape"])])
def test_an_escape_line_takes_eight_seconds_at_most(check, count: int, codes: list[str]):
    """At 150 words a minute, 20 words are 8 seconds and 21 are too many; two sentences keep each one short."""
    line = "Get everyone out now. " + of_words(count - 4)
    found = check(broken("Get everyone out now.", line, HAZARD))

    assert speech_seconds(line) == pytest.approx(count * 0.4)
    assert [problem.code for problem in found] == codes


# -- the whole folder -------------------------------------------------------------------------------


def all_of(folder: Path) -> list[Problem]:
    """Every problem of a folder, held against its own demo coach."""
    return check_all(folder, folder / "coaches" / "demo.yaml")


def test_the_shipped_knowledge_passes(knowledge_folder: Path):
    """`cabassist knowledge check` finds nothing in what we ship."""
    assert [str(problem) for problem in all_of(knowledge_folder)] == []


def test_a_sound_folder_passes(small_folder: Path):
    """The small folder that the next tests break."""
    assert all_of(small_folder) == []


def edit(path: Path, old: str, new: str) -> None:
    """Replace one thing in a file."""
    path.write_text(broken(old, new, path.read_text(encoding="utf-8")), encoding="utf-8")


def test_a_procedure_that_nothing_leads_to_is_an_orphan(small_folder: Path):
    """Each procedure is reached from another one by `then` or `related`; itself does not count."""
    edit(small_folder / "water" / "main.yaml", "related: [drain]", "related: [flood]")
    (problem,) = all_of(small_folder)

    assert problem.code == "orphan"
    assert problem.file == "knowledge/water/drain.yaml"


def test_a_wording_claimed_by_two_procedures_is_found(small_folder: Path):
    """The same words cannot lead to two places; case and punctuation do not make them different."""
    edit(small_folder / "water" / "main.yaml", "the main one, how do I shut it, wording 3", "How do I STOP it?")
    edit(small_folder / "water" / "drain.yaml", "the drain one, how do I shut it, wording 3", "how do i stop it")
    (problem,) = all_of(small_folder)

    assert problem.code == "claimed-twice"
    assert "how do I stop it" in problem.message or "How do I STOP it" in problem.message


def test_a_wording_claimed_twice_names_its_file_and_line(small_folder: Path):
    """The trainer is led to one of the two places."""
    edit(small_folder / "water" / "main.yaml", "the main one, how do I shut it, wording 3", "how do I stop it")
    edit(small_folder / "water" / "drain.yaml", "the drain one, how do I shut it, wording 3", "how do I stop it")
    (problem,) = all_of(small_folder)

    assert problem.file in ("knowledge/water/main.yaml", "knowledge/water/drain.yaml")
    assert problem.line == 10


def test_everything_that_is_wrong_is_reported(small_folder: Path):
    """Problems of several files come in one run."""
    edit(small_folder / "water" / "main.yaml", "{fresh.bay}", "{fresh.bae}")
    edit(small_folder / "water" / "drain.yaml", "needs: [gloves]", "needs: [mittens]")

    assert {(p.file, p.code) for p in all_of(small_folder)} == {
        ("knowledge/water/main.yaml", "placeholder"),
        ("knowledge/water/drain.yaml", "kit"),
    }


def test_files_that_cannot_be_read_are_reported_with_their_line(small_folder: Path):
    """A broken file and one of the wrong shape are problems like any other."""
    edit(small_folder / "water" / "main.yaml", "kind: procedure", "kind: 'procedure")
    edit(small_folder / "water" / "drain.yaml", "title:", "titel:")
    found = [str(problem) for problem in all_of(small_folder)]

    assert any(line.startswith("knowledge/water/main.yaml:") and "not sound YAML" in line for line in found)
    assert any("knowledge/water/drain.yaml:4: titel: 'titel' is not known" in line for line in found)


def test_a_coach_that_cannot_be_read_is_reported(small_folder: Path):
    """The knowledge is held against a coach; when that one is wrong, this is said first."""
    edit(small_folder / "coaches" / "demo.yaml", "    capacity_gal: 120", "    capacity_gal: 9999")
    (problem,) = all_of(small_folder)

    assert problem.where == "tanks[0].capacity_gal"


def test_a_coach_without_the_kit_is_found(small_folder: Path, coach_text: str):
    """Held against another profile, the same knowledge asks for what that coach does not carry."""
    edit(small_folder / "coaches" / "demo.yaml", "id: gloves,", "id: mittens,")

    assert {problem.code for problem in all_of(small_folder)} == {"kit"}


@pytest.mark.parametrize(
    ("ask", "folded"), [("How do I SHUT it?", "how do i shut it"), ("  what's  up  ", "what s up"), ("…", "")]
)
def test_asks_are_compared_without_case_and_punctuation(ask: str, folded: str):
    """What sounds the same is the same."""
    assert fold(ask) == folded


def test_ways_to_steer_that_nobody_obeys_are_found(small_folder: Path):
    """The file's name is the command; "none" is what is said to somebody else."""
    folder = small_folder / "steering"
    folder.mkdir()
    (folder / "none.txt").write_text("mind your fingers\n", encoding="utf-8")
    (small_folder / "steering.yaml").write_text("next: [next]\n", encoding="utf-8")
    (folder / "nex.txt").write_text("that bit is behind us\n", encoding="utf-8")
    (problem,) = all_of(small_folder)

    assert (problem.code, problem.file) == ("reference", "knowledge/steering/nex.txt")
    assert "nex" in problem.message


def test_lines_said_at_steps_stand_under_their_steps(small_folder: Path):
    """Each file is a procedure's, with a block for each step, in order, that some line tells done."""
    folder = small_folder / "reports"
    folder.mkdir()
    steps = [str(step["do"]) for step in compile_knowledge(small_folder, knowledge_files(small_folder))["procedures"]["main"]["steps"]]  # fmt: skip
    blocks = [f"# {do}\ndid that one\n! not yet\n? what for\n" for do in steps]
    (folder / "main.txt").write_text("\n".join(blocks), encoding="utf-8")
    assert all_of(small_folder) == []

    (folder / "main.txt").write_text("\n".join(blocks[:-1]), encoding="utf-8")
    (folder / "mane.txt").write_text(blocks[0], encoding="utf-8")
    assert [(p.file, p.code) for p in all_of(small_folder)] == [
        ("knowledge/reports/main.txt", "reference"),
        ("knowledge/reports/mane.txt", "reference"),
    ]
    (folder / "mane.txt").unlink()
    (folder / "main.txt").write_text(
        "\n".join([blocks[0].replace("did that one\n", ""), *blocks[1:]]), encoding="utf-8"
    )
    (problem,) = all_of(small_folder)
    assert problem.message == "no line tells this step done"

    (folder / "main.txt").write_text("\n".join(blocks).replace(steps[0], "Do something else."), encoding="utf-8")
    (problem,) = all_of(small_folder)
    assert (problem.line, problem.message) == (1, f"step 1 is: # {steps[0]}")
