"""What `cabassist knowledge check` holds the knowledge to; every problem found is reported."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from pydantic import Field

from cabassist.coach import CONDITIONS, SITUATIONS, Coach, facts
from cabassist.errors import ContentProblems, Problem
from cabassist.procedures.library import NO_VERB
from cabassist.procedures.model import Item, Procedure
from cabassist.procedures.wording import reading_ease, sentences, speech_seconds, words
from cabassist.procedures.yamlfile import Key, YamlFile

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
_VAGUE_WORDS = frozenset({"etc", "properly", "appropriate", "appropriately", "suitable", "adequately"})


class Style(Item):
    """The bounds in `style.yaml`."""

    max_words_a_sentence: int = Field(ge=8, le=30, description="Most words in a sentence.")
    min_reading_ease: float = Field(ge=0, le=100, description="Lowest Flesch reading ease.")
    max_escape_seconds: float = Field(gt=2, le=15, description="Longest escape line, spoken.")
    imperatives: str = Field(description="Verbs that open an instruction.")
    openers: list[str] = Field(description="Words that may stand before the verb.")
    conditions: list[str] = Field(description="Words that open a condition before the instruction.")

    homonyms: list[str] = Field(
        description="Verbs that are nouns or adjectives too; inside a sentence they count only before an article or pronoun."
    )

    @property
    def verbs(self) -> frozenset[str]:
        """The imperatives as a set."""
        return frozenset(self.imperatives.split())


def check_procedure(
    procedure: Procedure,
    file: YamlFile,
    style: Style,
    *,
    ids: Iterable[str],
    placeholders: Iterable[str],
    kit: Iterable[str],
    calculations: Iterable[str],
) -> list[Problem]:
    """Every problem of one procedure against its neighbours, the profile and the style."""
    found: list[Problem] = []
    known_ids, known_kit, known_calculations = frozenset(ids), frozenset(kit), frozenset(calculations)
    found += _wording(procedure, file, style)
    for path, text in texts(procedure):
        if re.search(r"[{}]", PLACEHOLDER.sub("", text)):
            found.append(file.problem(path, "a brace is left over; write {name}", "placeholder"))
        for name in PLACEHOLDER.findall(text):
            if name not in placeholders:
                found.append(file.problem(path, f"placeholder {{{name}}} is not in the coach profile", "placeholder"))
    for field in ("then", "related"):
        for index, name in enumerate(getattr(procedure, field)):
            if name not in known_ids:
                found.append(file.problem((field, index), f"there is no procedure '{name}'", "reference"))
            elif name == procedure.id:
                found.append(file.problem((field, index), "a procedure cannot follow itself", "reference"))
    for index, name in enumerate(procedure.needs):
        if name not in known_kit:
            found.append(file.problem(("needs", index), f"'{name}' is not in the carried kit", "kit"))
    for index, name in enumerate(procedure.offers):
        if name not in known_calculations:
            found.append(file.problem(("offers", index), f"there is no calculation '{name}'", "calculation"))
    for index, step in enumerate(procedure.steps):
        fact = step.wait.minutes if step.wait else ""
        if isinstance(fact, str) and fact and not (fact.endswith("_delay") and fact in placeholders):
            path = ("steps", index, "wait", "minutes")
            found.append(file.problem(path, f"'{fact}' is not a time of the coach profile", "placeholder"))
        for place, name in enumerate(step.only_when):
            if name.removeprefix("not ") not in CONDITIONS.keys() | SITUATIONS:
                found.append(file.problem(("steps", index, "only_when", place), f"nobody knows '{name}'", "condition"))
    folded = [fold(ask) for ask in procedure.asks]
    for index, ask in enumerate(folded):
        if ask in folded[:index]:
            found.append(file.problem(("asks", index), "this ask is there twice", "ask"))
    return found


def fold(ask: str) -> str:
    """An ask without case and punctuation, for comparing."""
    return " ".join(re.findall(r"[a-z0-9]+", ask.lower()))


def texts(procedure: Procedure) -> Iterator[tuple[Key, str]]:
    """Every text a driver may be shown, with its place in the file."""
    yield ("title",), procedure.title
    yield ("summary",), procedure.summary
    yield ("escape",), procedure.escape
    for index, caution in enumerate(procedure.cautions):
        yield ("cautions", index, "text"), caution.text
    for index, step in enumerate(procedure.steps):
        yield ("steps", index, "do"), step.do
        yield ("steps", index, "why"), step.why
        yield ("steps", index, "done_when"), step.done_when
        for place, caution in enumerate(step.cautions):
            yield ("steps", index, "cautions", place, "text"), caution.text
        if step.wait:
            yield ("steps", index, "wait", "reason"), step.wait.reason
            yield ("steps", index, "wait", "announce"), step.wait.announce
    for field in ("never", "stop_when"):
        for index, text in enumerate(getattr(procedure, field)):
            yield (field, index), text
    yield ("call",), procedure.call


def _instructions(procedure: Procedure) -> Iterator[tuple[Key, str]]:
    if procedure.escape:
        yield ("escape",), procedure.escape
    for index, step in enumerate(procedure.steps):
        yield ("steps", index, "do"), step.do


def _wording(procedure: Procedure, file: YamlFile, style: Style) -> Iterator[Problem]:
    for path, text in texts(procedure):
        for sentence in sentences(PLACEHOLDER.sub("place", text)):
            count = len(words(sentence))
            if count > style.max_words_a_sentence:
                yield file.problem(path, f"{count} words in a sentence, at most {style.max_words_a_sentence}", "length")
            vague = _VAGUE_WORDS & {word.lower().rstrip(".") for word in words(sentence)}
            if vague:
                yield file.problem(path, f"'{sorted(vague)[0]}' does not tell a driver what to do", "vague")
    for path, text in _instructions(procedure):
        for sentence in sentences(PLACEHOLDER.sub("place", text)):
            fault = _instruction_fault(sentence, style)
            if fault:
                yield file.problem(path, f"{fault}: “{sentence}”", "imperative")
    whole = " ".join(PLACEHOLDER.sub("place", text) for _, text in _instructions(procedure))
    ease = reading_ease(whole)
    if ease < style.min_reading_ease:
        yield file.problem(("steps",), f"reading ease {ease:.0f}, at least {style.min_reading_ease:.0f}", "ease")
    if procedure.escape and speech_seconds(procedure.escape) > style.max_escape_seconds:
        seconds = speech_seconds(procedure.escape)
        yield file.problem(
            ("escape",), f"takes {seconds:.1f} s to say, at most {style.max_escape_seconds:.0f}", "escape"
        )


def _instruction_fault(sentence: str, style: Style) -> str:
    """What is wrong with a sentence as one instruction, or nothing."""
    lowered = sentence.lower()
    main = lowered
    first = words(lowered)[0] if words(lowered) else ""
    if first in style.conditions:
        _, comma, main = lowered.partition(", ")
        if not comma:
            return "the instruction must follow the condition after a comma"
    found = words(main)
    while found and found[0] in style.openers:
        found = found[1:]
        if found[:1] == ["not"]:
            found = found[1:]
    if not found or found[0] not in style.verbs:
        return f"does not begin with a known instruction ('{found[0] if found else ''}')"
    if ";" in main or re.search(r"(,| and) then ", main):
        return "more than one instruction"
    if main.startswith(("do not ", "never ")):
        return ""
    for verb, has_object in re.findall(
        r"(?:,| and| or) (\w+)\b( (?:the|a|an|it|them|its|your|all|each|both)\b)?", main
    ):
        if verb in style.verbs and (has_object or verb not in style.homonyms):
            return "more than one instruction"
    return ""


CALM, HURT, WISHED, UNWISHED = "calm", "hurt", "wished", "unwished"
"""Files of lines for the danger network: nothing is wrong, somebody is hurt, unsafe wishes with their ids, and what is none, be there a danger or not."""


def _dangers(folder: Path, compiled: Mapping[str, Any], style: Style) -> Iterator[Problem]:
    """What is wrong with the dangers that are no procedure, and with the lines that the danger network learns from."""
    from cabassist.procedures import yamlfile

    hazards = {name for name, raw in compiled["procedures"].items() if raw.get("kind") == "hazard"}
    for path in sorted((folder / "dangers").glob("*.txt")):
        where = str(path.relative_to(folder.parent))
        if path.stem not in {CALM, HURT, WISHED, UNWISHED, *hazards, *compiled["urgent"]}:
            yield Problem(where, 1, "", f"there is no danger '{path.stem}'", "reference")
        if path.stem == WISHED:
            for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
                name, _, text = line.partition("\t")
                if line.strip() and (name not in compiled["wishes"] or not text.strip()):
                    yield Problem(where, number, "", "write the id of a wish, a tab and a wording", "reference")
    if not compiled["urgent"]:
        return
    file = yamlfile.load(folder / "urgent.yaml", "knowledge/urgent.yaml")
    for index, raw in enumerate(compiled["urgent"].values()):
        if speech_seconds(raw["first"]) > style.max_escape_seconds:
            seconds = speech_seconds(raw["first"])
            text = f"takes {seconds:.1f} s to say, at most {style.max_escape_seconds:.0f}"
            yield file.problem((index, "first"), text, "escape")
        for sentence in (one for text in (raw["first"], *raw["then"]) for one in sentences(text)):
            count = len(words(sentence))
            if count > style.max_words_a_sentence:
                text = f"{count} words in a sentence, at most {style.max_words_a_sentence}"
                yield file.problem((index,), text, "length")


def _reports(folder: Path, compiled: Mapping[str, Any]) -> Iterator[Problem]:
    """What is wrong with the lines that the report network learns from: a block for each step, in order, each told done."""
    from cabassist.procedures.reports import blocks_in

    for path in sorted((folder / "reports").glob("*.txt")):
        where = str(path.relative_to(folder.parent))
        if path.stem not in compiled["procedures"]:
            yield Problem(where, 1, "", f"there is no procedure '{path.stem}'", "reference")
            continue
        blocks, steps = blocks_in(path), compiled["procedures"][path.stem]["steps"]
        for number, (block, step) in enumerate(zip(blocks, steps, strict=False), 1):
            if block.do != step["do"]:
                yield Problem(where, block.line, "", f"step {number} is: # {step['do']}", "reference")
                break
            if not block.done:
                yield Problem(where, block.line, "", "no line tells this step done", "reference")
        if len(blocks) != len(steps):
            yield Problem(where, 1, "", f"{len(blocks)} blocks for {len(steps)} steps", "reference")


def check_all(folder: Path, coach_file: Path) -> list[Problem]:
    """Every problem in a knowledge folder, held against one coach's profile; files that cannot be read included."""
    from cabassist.procedures import yamlfile
    from cabassist.procedures.library import NOT_SYSTEMS, compile_knowledge, knowledge_files

    files = knowledge_files(folder)
    try:
        style = yamlfile.validate(yamlfile.load(folder / "style.yaml", "knowledge/style.yaml"), Style)
        coach = yamlfile.validate(yamlfile.load(coach_file), Coach)
        compiled = compile_knowledge(folder, files)
    except ContentProblems as error:
        return error.problems
    placeholders, kit = facts(coach), [item.id for item in coach.kit]
    found: list[Problem] = []
    reached: set[str] = set()
    for path in files:
        if path.suffix != ".yaml" or path.parent == folder or path.parent.name in NOT_SYSTEMS:
            continue
        file = yamlfile.load(path, str(path.relative_to(folder.parent)))
        procedure = yamlfile.validate(file, Procedure)
        reached.update([*procedure.then, *procedure.related])
        found += check_procedure(
            procedure,
            file,
            style,
            ids=compiled["procedures"],
            placeholders=placeholders,
            kit=kit,
            calculations=compiled["calculations"],
        )
    for name in sorted(set(compiled["procedures"]) - reached):
        where = f"knowledge/{compiled['procedures'][name]['system']}/{name}.yaml"
        found.append(Problem(where, 1, "id", "no other procedure leads here by `then` or `related`", "orphan"))
    free = [path for path in files if path.parent.name == "steering" and path.suffix == ".txt"]
    verbs = {NO_VERB, *(yamlfile.load(folder / "steering.yaml").data if free else ())}
    for path in free:
        if path.stem not in verbs:
            where = str(path.relative_to(folder.parent))
            found.append(Problem(where, 1, "", f"steering.yaml has no '{path.stem}'", "reference"))
    found += _dangers(folder, compiled, style)
    found += _reports(folder, compiled)
    owner: dict[str, str] = {}
    for text, label in compiled["phrases"]:
        key = fold(text)
        if owner.setdefault(key, label) != label:
            where, line = _place_of(key, files, folder)
            found.append(Problem(where, line, label, f"'{text}' already means '{owner[key]}'", "claimed-twice"))
    return found


def _place_of(key: str, files: Iterable[Path], folder: Path) -> tuple[str, int]:
    """The last file and line where a wording stands."""
    found = ("knowledge", 1)
    for path in files:
        if path.suffix in (".yaml", ".txt"):
            for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
                if key in fold(line):
                    found = (str(path.relative_to(folder.parent)), number)
    return found
