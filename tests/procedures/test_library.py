"""The knowledge base as a whole: complete, and quick to open again."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cabassist.errors import ContentProblems, FileProblem, UnknownName
from cabassist.procedures import yamlfile
from cabassist.procedures.library import (
    AMBIGUOUS,
    CALCULATION,
    OUT_OF_SCOPE,
    STEER,
    WISH,
    Knowledge,
    fingerprint_of,
    knowledge_files,
    load_knowledge,
    nearest,
    write_cache,
)
from cabassist.procedures.wording import speech_seconds

from .conftest import procedure_text

TOPICS = {
    "water": """
        fill-fresh-water check-fresh-level find-water-leak sanitize-fresh-tank protect-water-from-freezing
        thaw-frozen-water-line pump-keeps-running no-water-at-tap
    """,
    "waste": """
        dump-waste-tank check-waste-level stow-waste-hose free-collapsed-waste-hose check-heat-tape clean-up-waste-spill
        toilet-trouble frozen-waste-valve
    """,
    "propane": """
        read-propane-gauges change-over-cylinders swap-or-refill-cylinder leak-test-propane shut-off-propane propane-smell
    """,
    "heat": "furnace-will-not-light keep-cabin-warm carbon-monoxide-alarm",
    "power": """
        connect-shore-power disconnect-shore-power no-shore-power shore-breaker-trips route-cord-and-lock-bay
        look-after-generator house-battery-low shock-from-coach-body
    """,
    "body": """
        work-a-bay-latch lock-and-unlock-bay adjust-a-latch lubricate-latches-and-springs mind-bay-doors touch-up-paint
        water-in-a-bay weather-strip-gap bay-lights broken-bay-light snagged-wiring outside-lights
    """,
    "loading": "load-luggage supervise-passengers brief-passengers",
    "kit": "find-tools-and-spares",
    "road": """
        smoke-or-fire pre-trip-inspection post-trip-report check-air-brakes check-tires change-a-tire torque-wheel-nuts
        jack-the-coach raise-on-blocks set-warning-triangles back-up-at-night gelled-diesel cold-start check-fluids
        plan-driving-hours
    """,
    "trip": """
        service-at-turnaround park-for-the-night prepare-to-depart hand-over-coach refill-during-stop winterize-water
        summer-changes report-a-defect
    """,
}
"""The ids that outside question sets are labelled with, by system. None may be dropped or renamed."""

HAZARDS = {
    "clean-up-waste-spill",
    "propane-smell",
    "carbon-monoxide-alarm",
    "smoke-or-fire",
    "shock-from-coach-body",
}
"""The topics that outrank every other."""

SYSTEM_OF = {name: system for system, names in TOPICS.items() for name in names.split()}


# -- what we ship -----------------------------------------------------------------------------------


def test_the_list_has_72_topics():
    """The list above is whole."""
    assert len(SYSTEM_OF) == 72
    assert HAZARDS.issubset(SYSTEM_OF)


@pytest.mark.parametrize("name", sorted(SYSTEM_OF))
def test_every_topic_has_its_procedure(knowledge: Knowledge, name: str):
    """Under its id, in its system, of its kind."""
    procedure = knowledge.procedure(name)

    assert procedure.id == name
    assert procedure.system == SYSTEM_OF[name]
    assert procedure.kind == ("hazard" if name in HAZARDS else "procedure")


def test_the_file_name_is_the_id(knowledge: Knowledge, knowledge_folder: Path):
    """A trainer finds a procedure by its system and id."""
    for name in knowledge.ids:
        assert (knowledge_folder / knowledge.procedure(name).system / f"{name}.yaml").is_file()


def test_hazards_are_known_as_such(knowledge: Knowledge):
    """At least the five of the list; more may be added."""
    assert knowledge.hazards >= HAZARDS


def test_every_escape_line_is_said_in_eight_seconds(knowledge: Knowledge):
    """At 150 words a minute, so that people move at once."""
    for name in knowledge.hazards:
        escape = knowledge.procedure(name).escape
        assert 0 < speech_seconds(escape) <= 8.0


def test_every_procedure_is_asked_for_in_fifteen_ways(knowledge: Knowledge):
    """All different, and none of them empty."""
    for name in knowledge.ids:
        asks = {" ".join(ask.lower().split()) for ask in knowledge.procedure(name).asks}
        assert len(asks) >= 15
        assert all(asks)


def test_every_source_is_named_and_honest(knowledge: Knowledge):
    """Published, common practice or from memory, each with a name."""
    for name in knowledge.ids:
        for source in knowledge.procedure(name).sources:
            assert source.name.strip()


def test_every_phrase_has_a_meaning_that_exists(knowledge: Knowledge):
    """A label is a procedure, a wish, a calculation or one of the words for what is none of these."""
    known = {
        *knowledge.ids,
        *(WISH + name for name in knowledge.raw_wishes),
        *(CALCULATION + name for name in knowledge.calculations),
        *(STEER + path.stem for path in (knowledge.folder / "steering").glob("*.txt")),
        OUT_OF_SCOPE,
        AMBIGUOUS,
        "telling",
        "defect",
    }

    assert {phrase.label for phrase in knowledge.phrases} <= known
    assert all(phrase.text.strip() for phrase in knowledge.phrases)


def test_every_wish_points_to_the_right_way(knowledge: Knowledge):
    """A refusal names a procedure, a reason, what to do instead and a source."""
    assert knowledge.raw_wishes
    for name in knowledge.raw_wishes:
        wish = knowledge.wish(name)
        assert {wish.caution_topic, *wish.also} <= set(knowledge.ids)
        assert wish.refuse
        assert wish.because
        assert wish.instead


def test_every_vague_wording_offers_procedures(knowledge: Knowledge):
    """Two choices or more, all of them there."""
    assert knowledge.vague
    for options in knowledge.vague.values():
        assert len(set(options)) == len(options) >= 2
        assert set(options) <= set(knowledge.ids)


def test_every_calculation_belongs_to_a_procedure(knowledge: Knowledge):
    """The walk that it is offered in, or asked from, exists."""
    assert set(knowledge.calculations.values()) <= set(knowledge.ids)


# -- names ------------------------------------------------------------------------------------------


def test_an_unknown_id_offers_the_nearest(knowledge: Knowledge):
    """The message ends in the next action."""
    with pytest.raises(UnknownName) as caught:
        knowledge.procedure("dump-wast-tank")

    assert caught.value.name == "dump-wast-tank"
    assert caught.value.nearest[0] == "dump-waste-tank"
    assert str(caught.value).endswith("See `cabassist topics`.")


@pytest.mark.parametrize("name", ["", "🙂", "\x00", "x" * 10_000, "../../etc/passwd"])
def test_an_odd_id_is_only_unknown(knowledge: Knowledge, name: str):
    """Whatever is asked for, the answer is UnknownName."""
    with pytest.raises(UnknownName):
        knowledge.procedure(name)


def test_nearest_gives_three_at_most_best_first():
    """Nothing that looks like it gives nothing."""
    assert nearest("topcs", ["show", "topics", "ask"])[0] == "topics"
    assert nearest("qqqq", ["show", "topics"]) == []
    assert len(nearest("bay", ["bay-lights", "bay-doors", "bay-a", "bay-b"])) == 3


def test_a_title_is_the_procedures_title(knowledge: Knowledge):
    """Menus need no more than that of a procedure."""
    assert knowledge.title("propane-smell") == knowledge.procedure("propane-smell").title


# -- loading ----------------------------------------------------------------------------------------


def test_a_folder_that_is_not_there_is_named(tmp_path: Path):
    """With what to check."""
    with pytest.raises(FileProblem, match=r"none: is not a folder of knowledge\. Check CABASSIST_KNOWLEDGE"):
        load_knowledge(tmp_path / "none", None)


def test_the_second_start_reads_the_compiled_copy(small_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """No YAML is read again while the files stay as they are, and the content is the same."""
    cache = tmp_path / "cache"
    first = load_knowledge(small_folder, cache)

    def unexpected(*_: object) -> None:
        raise AssertionError("a YAML file was read")

    monkeypatch.setattr(yamlfile, "load", unexpected)
    second = load_knowledge(small_folder, cache)

    assert second.raw_procedures == first.raw_procedures
    assert second.phrases == first.phrases
    assert (second.vague, second.calculations) == (first.vague, first.calculations)


def test_a_changed_file_is_read_again(small_folder: Path, tmp_path: Path):
    """A trainer sees an edit at the next start; the old copy is cleared away."""
    cache = tmp_path / "cache"
    load_knowledge(small_folder, cache)
    path = small_folder / "water" / "main.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("Never force", "Never ever force"), encoding="utf-8")

    assert load_knowledge(small_folder, cache).procedure("main").never == ["Never ever force the handle."]
    assert len(list(cache.glob("knowledge-*.json"))) == 1


def test_the_fingerprint_follows_names_times_and_sizes(small_folder: Path):
    """Adding, removing and writing a file each change it; nothing else does."""
    before = fingerprint_of(knowledge_files(small_folder))
    again = fingerprint_of(knowledge_files(small_folder))
    extra = small_folder / "out-of-scope.txt"
    extra.write_text("what is the weather\n", encoding="utf-8")
    added = fingerprint_of(knowledge_files(small_folder))
    extra.unlink()

    assert again == before
    assert added != before
    assert fingerprint_of(knowledge_files(small_folder)) == before


@pytest.mark.parametrize(
    "damaged", [b"", b'{"procedures": {', b"\xff\xfe\x00", b"{}", b'{"procedures": {}, "phrases": 5}']
)
def test_a_damaged_copy_is_made_again(small_folder: Path, tmp_path: Path, damaged: bytes):
    """A cache that a crash or a full disk left half written costs time and nothing else."""
    cache = tmp_path / "cache"
    load_knowledge(small_folder, cache)
    (copy,) = cache.glob("knowledge-*.json")
    copy.write_bytes(damaged)

    assert load_knowledge(small_folder, cache).ids == ["drain", "flood", "main"]
    assert json.loads(copy.read_bytes())["procedures"]


@pytest.mark.parametrize("damaged", [b"null", b"[]"])
def test_a_copy_of_another_shape_is_made_again(small_folder: Path, tmp_path: Path, damaged: bytes):
    """Sound JSON that is not our copy is damage too."""
    cache = tmp_path / "cache"
    load_knowledge(small_folder, cache)
    (copy,) = cache.glob("knowledge-*.json")
    copy.write_bytes(damaged)

    assert load_knowledge(small_folder, cache).ids == ["drain", "flood", "main"]


def test_a_cache_that_cannot_be_written_only_costs_time(small_folder: Path, tmp_path: Path):
    """A file where the folder should be stands for every disk that refuses."""
    blocked = tmp_path / "cache"
    blocked.write_text("in the way", encoding="utf-8")

    assert load_knowledge(small_folder, blocked).ids == ["drain", "flood", "main"]
    assert blocked.read_text(encoding="utf-8") == "in the way"


def test_a_cache_that_may_not_be_entered_only_costs_time(
    small_folder: Path, open_folder: Path, as_nobody: Callable[[], Any]
):
    """One that another user made is passed over."""
    for folder in (small_folder, *small_folder.parents):
        if folder.owner() == small_folder.owner() and folder != Path(folder.anchor):
            folder.chmod(folder.stat().st_mode | 0o055)
    closed = open_folder / "cache"
    closed.mkdir()
    closed.chmod(0)
    with as_nobody():
        assert load_knowledge(small_folder, closed).ids == ["drain", "flood", "main"]


def test_a_cache_file_is_written_whole(tmp_path: Path, open_folder: Path, as_nobody: Callable[[], Any]):
    """The last one replaces the others of its kind; a read-only folder is left as it is."""
    write_cache(tmp_path / "terms-1.json", b"1", "terms-*.json")
    write_cache(tmp_path / "terms-2.json", b"2", "terms-*.json")
    open_folder.chmod(0o555)
    with as_nobody():
        write_cache(open_folder / "terms-1.json", b"1", "terms-*.json")

    assert [path.name for path in tmp_path.glob("terms-*")] == ["terms-2.json"]
    assert (tmp_path / "terms-2.json").read_bytes() == b"2"
    assert list(open_folder.iterdir()) == []


# -- what is wrong in a folder ----------------------------------------------------------------------


def problems_of(folder: Path) -> list[str]:
    """All problems that loading gives."""
    with pytest.raises(ContentProblems) as caught:
        load_knowledge(folder, None)
    return [str(problem) for problem in caught.value.problems]


def test_the_id_must_be_the_file_name_and_the_system_the_folder(small_folder: Path):
    """Each at its line."""
    (small_folder / "waste").mkdir()
    (small_folder / "waste" / "other.yaml").write_text(procedure_text("third", "main"), encoding="utf-8")

    assert problems_of(small_folder) == [
        "knowledge/waste/other.yaml:1: id: must be 'other', like the file's name",
        "knowledge/waste/other.yaml:2: system: must be 'waste', like the folder's name",
    ]


def test_every_broken_file_is_reported(small_folder: Path):
    """Not only the first."""
    (small_folder / "water" / "main.yaml").write_text("a: [", encoding="utf-8")
    (small_folder / "water" / "drain.yaml").write_text("id: drain\nid: drain\n", encoding="utf-8")
    found = "\n".join(problems_of(small_folder))

    assert "knowledge/water/main.yaml:" in found
    assert "knowledge/water/drain.yaml:2: 'id' is there twice" in found


VAGUE = "- ask: the valve\n  options: [main, drian]\n"
HARMLESS = "- {ask: test the alarm, topic: mian}\n"
SUM = "- name: fill-by\n  topic: mian\n  asks: [a1, a2, a3, a4, a5, a6, a7, a8]\n"
WISHED = """\
- id: force-it
  caution_topic: mian
  signal: NOTICE
  refuse: I do not help with that.
  because: It breaks the handle.
  instead: Warm it first.
  source: common practice
  asks: [b1, b2, b3, b4, b5, b6, b7, b8, b9, b10]
"""


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("ambiguous.yaml", VAGUE, "there is no procedure 'drian'"),
        ("harmless.yaml", HARMLESS, "there is no procedure 'mian'"),
        ("calculations.yaml", SUM, "there is no procedure 'mian'"),
        ("unsafe-wishes.yaml", WISHED, "there is no procedure 'mian'"),
        ("ambiguous.yaml", "ask: the valve\n", "must hold a list"),
        ("ambiguous.yaml", "- ask: the valve\n", "'options' is missing"),
        ("ambiguous.yaml", "- the valve\n", "must hold a mapping"),
        ("calculations.yaml", SUM.replace("fill-by", "Fill By"), "should match pattern"),
        ("unsafe-wishes.yaml", WISHED.replace("NOTICE", "STOP"), "'DANGER', 'WARNING', 'CAUTION' or 'NOTICE'"),
        ("unsafe-wishes.yaml", "[", "not sound YAML"),
    ],
)
def test_wrong_entries_of_the_lists_are_reported(small_folder: Path, name: str, text: str, said: str):
    """Wishes, vague wordings, calculations and harmless sentences are checked like the procedures."""
    (small_folder / name).write_text(text, encoding="utf-8")
    found = problems_of(small_folder)

    assert any(line.startswith(f"knowledge/{name}:") and said in line for line in found)


def test_an_entry_is_named_with_the_line_of_the_whole_file(small_folder: Path):
    """The second entry of a list is wrong at its own line."""
    text = "- ask: the valve\n  options: [main, drain]\n- ask: the other\n  options: [main]\n"
    (small_folder / "ambiguous.yaml").write_text(text, encoding="utf-8")
    (problem,) = problems_of(small_folder)

    assert problem.startswith("knowledge/ambiguous.yaml:4: ")
    assert "at least 2 items" in problem


def test_wordings_of_no_procedure_are_reported(small_folder: Path):
    """A file of wordings has the name of its procedure."""
    (small_folder / "wordings").mkdir()
    (small_folder / "wordings" / "mian.txt").write_text("shut the main\n", encoding="utf-8")

    assert problems_of(small_folder) == ["knowledge/wordings/mian.txt:1: there is no procedure 'mian'"]


def test_wordings_are_taken_line_by_line(small_folder: Path):
    """Empty lines count for nothing; all other lines are phrases of the procedure."""
    (small_folder / "wordings").mkdir()
    (small_folder / "wordings" / "main.txt").write_text("shut the main\n\n  stop the main  \n", encoding="utf-8")
    found = [phrase.text for phrase in load_knowledge(small_folder, None).phrases if phrase.label == "main"]

    assert found[-2:] == ["shut the main", "stop the main"]


def test_a_binary_file_of_wordings_is_named(small_folder: Path):
    """Text that is not UTF-8 is an error with the file's name."""
    (small_folder / "tellings.txt").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(FileProblem, match=r"tellings\.txt: is not UTF-8 text"):
        load_knowledge(small_folder, None)


def test_a_folder_without_procedures_is_no_knowledge(tmp_path: Path):
    """A wrong path is said to be wrong, rather than every question being unknown."""
    with pytest.raises(FileProblem):
        load_knowledge(tmp_path, None)
