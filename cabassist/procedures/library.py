"""The whole knowledge base: read from the YAML files, checked, and kept ready for a quick start.

Reading a hundred YAML files takes longer than a driver should wait, so a compiled copy is kept in the
cache folder. Its name holds a fingerprint of the files; when they change, it is made again.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from pydantic import Field

from cabassist.coach import rebuilt
from cabassist.errors import ContentProblems, FileProblem, Problem, UnknownName
from cabassist.procedures.model import Item, Procedure, Signal

NOT_SYSTEMS = frozenset({"coaches", "wordings", "steering"})
COMPILED_FORMAT = 6


class Wish(Item):
    """Something unsafe or illegal that a driver may want, and the right way instead."""

    id: str = Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", description="Names the wish.")
    caution_topic: str = Field(description="The procedure that shows the right way.")
    also: list[str] = Field(default=[], description="Other procedures that fit.")
    signal: Signal = Field(description="Signal word of the refusal.")
    refuse: str = Field(min_length=3, max_length=200, description="The no.")
    because: str = Field(min_length=5, max_length=240, description="Why.")
    instead: str = Field(min_length=5, max_length=240, description="The right way.")
    source: str = Field(min_length=3, description="Published source or common practice.")
    danger_now: bool = Field(
        default=False, description="Who wishes it tells of a danger that is there: it is warned of, not refused."
    )
    asks: list[str] = Field(min_length=10, description="How the wish is worded.")


class Urgent(Item):
    """A danger that is no procedure, and what must be done about it at once."""

    label: str = Field(pattern=r"^[a-z]+(-[a-z]+)*$", description="What the danger network calls it.")
    topic: str = Field(description="The procedure that comes near it.")
    signal: Signal = Field(description="Signal word.")
    first: str = Field(min_length=3, max_length=120, description="What to do at once; spoken first.")
    then: list[str] = Field(min_length=1, description="What to do next, in order.")
    source: str = Field(min_length=3, description="Published source or common practice.")


class Vague(Item):
    """Something said that fits several procedures equally."""

    ask: str = Field(min_length=1, description="What is said.")
    options: list[str] = Field(min_length=2, max_length=6, description="Procedures that fit, best first.")


class Calculation(Item):
    """Something that is worked out on request, and how it is asked for."""

    name: str = Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", description="Name of the calculation.")
    topic: str = Field(description="The procedure it belongs to.")
    asks: list[str] = Field(min_length=8, description="How it is asked for.")


class Harmless(Item):
    """Something harmless that sounds like a hazard."""

    ask: str = Field(min_length=1, description="What is said.")
    topic: str | None = Field(description="The procedure that answers it, or null.")


@dataclass(frozen=True)
class Phrase:
    """One wording and what it means: a procedure's id, `wish:`, `calc:` or `steer:` and an id, or one of the words above."""

    text: str
    label: str


OUT_OF_SCOPE = "out-of-scope"
AMBIGUOUS = "ambiguous"
TELLING = "telling"
DEFECT = "defect"
WISH = "wish:"
STEER = "steer:"
NO_VERB = "none"
"""Said in a walk to somebody else: what follows `steer:` then."""
CALCULATION = "calc:"


@dataclass
class Knowledge:
    """Everything the assistant knows, apart from the coach."""

    fingerprint: str
    raw_procedures: dict[str, dict[str, Any]]
    raw_wishes: dict[str, dict[str, Any]]
    raw_urgent: dict[str, dict[str, Any]]
    phrase_source: Callable[[], list[Phrase]]
    """Gives every wording; they are many, and answering a question does not need them."""
    vague: dict[str, list[str]]
    calculations: dict[str, str]
    """The procedure each calculation belongs to, by the calculation's name."""
    folder: Path
    _made: dict[str, Procedure] = field(default_factory=dict, init=False)

    @cached_property
    def phrases(self) -> list[Phrase]:
        """Every wording and what it means."""
        return self.phrase_source()

    @property
    def ids(self) -> list[str]:
        """Every procedure's id, in file order."""
        return list(self.raw_procedures)

    def procedure(self, name: str) -> Procedure:
        """The procedure of that id. Raises UnknownName with the nearest ids."""
        if name not in self._made:
            if name not in self.raw_procedures:
                raise UnknownName("procedure", name, nearest(name, self.ids), "See `cabassist topics`.")
            self._made[name] = rebuilt(Procedure, self.raw_procedures[name])
        return self._made[name]

    def title(self, name: str) -> str:
        """A procedure's title without building all of it."""
        return str(self.raw_procedures[name]["title"])

    def wish(self, name: str) -> Wish:
        """The unsafe wish of that id."""
        return rebuilt(Wish, self.raw_wishes[name])

    def urgent(self, label: str) -> Urgent | None:
        """The danger without a procedure of that label, if it is one."""
        return rebuilt(Urgent, self.raw_urgent[label]) if label in self.raw_urgent else None

    @cached_property
    def homes(self) -> dict[str, str]:
        """The procedure that each calculation and wish belongs to, by its label."""
        wishes = {WISH + name: str(raw["caution_topic"]) for name, raw in self.raw_wishes.items()}
        return wishes | {CALCULATION + name: topic for name, topic in self.calculations.items()}

    @cached_property
    def reporting(self) -> dict[str, str]:
        """The hazard that each wish reports which is only wished while that danger is there."""
        return {name: str(raw["caution_topic"]) for name, raw in self.raw_wishes.items() if raw.get("danger_now")}

    @cached_property
    def hazards(self) -> frozenset[str]:
        """Ids of the hazards."""
        return frozenset(name for name, raw in self.raw_procedures.items() if raw["kind"] == "hazard")


def nearest(name: str, known: list[str]) -> list[str]:
    """Up to three known names that look like `name`."""
    from rapidfuzz import fuzz, process

    return [found for found, _, _ in process.extract(name, known, scorer=fuzz.WRatio, limit=3, score_cutoff=55)]


def knowledge_files(folder: Path) -> list[Path]:
    """Every file that makes up the knowledge, in a stable order."""
    if not folder.is_dir():
        raise FileProblem(folder, "is not a folder of knowledge.", "Check CABASSIST_KNOWLEDGE or install again.")
    return sorted(
        path for pattern in ("*.yaml", "*.txt", "*.npz", "*/*.yaml", "*/*.txt") for path in folder.glob(pattern)
    )


def fingerprint_of(files: list[Path]) -> str:
    """Changes whenever a file is added, removed or written."""
    digest = hashlib.blake2b(str(COMPILED_FORMAT).encode(), digest_size=10)
    for path in files:
        about = path.stat()
        digest.update(f"{path}\0{about.st_mtime_ns}\0{about.st_size}\n".encode())
    return digest.hexdigest()


def load_knowledge(folder: Path, cache: Path | None) -> Knowledge:
    """The knowledge in `folder`, from the compiled copy in `cache` when that is still right.

    Raises:
        ContentProblems: a file is wrong.
        FileProblem: the folder or a file cannot be read.
    """
    files = knowledge_files(folder)
    if not any(
        path.suffix == ".yaml" and path.parent != folder and path.parent.name not in NOT_SYSTEMS for path in files
    ):
        raise FileProblem(folder, "holds no procedures.", "Check CABASSIST_KNOWLEDGE or install again.")
    mark = fingerprint_of(files)
    if cache is None:
        return _from_compiled(compile_knowledge(folder, files), mark, folder)
    compiled, wordings = cache / f"knowledge-{mark}.json", cache / f"wordings-{mark}.json"
    with contextlib.suppress(OSError, ValueError, KeyError, TypeError):  # a damaged copy is simply made again
        if compiled.exists() and wordings.exists():
            body = json.loads(compiled.read_bytes())
            body["phrases"] = wordings
            return _from_compiled(body, mark, folder)
    body = compile_knowledge(folder, files)
    write_cache(wordings, json.dumps(body["phrases"]).encode(), "wordings-*.json")
    write_cache(compiled, json.dumps({k: v for k, v in body.items() if k != "phrases"}).encode(), "knowledge-*.json")
    return _from_compiled(body, mark, folder)


def write_cache(path: Path, body: bytes, stale: str) -> None:
    """Write a cache file whole or not at all; a full or read-only disk only costs time at the next start."""
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        for old in path.parent.glob(stale):
            old.unlink(missing_ok=True)
        temporary = path.with_suffix(f".{os.getpid()}")
        temporary.write_bytes(body)
        temporary.replace(path)


def _from_compiled(body: dict[str, Any], mark: str, folder: Path) -> Knowledge:
    given = body["phrases"]

    def phrases() -> list[Phrase]:
        rows = given
        if isinstance(given, Path):
            try:
                rows = json.loads(given.read_bytes())
            except (OSError, ValueError):  # the copy is gone or damaged
                rows = compile_knowledge(folder, knowledge_files(folder))["phrases"]
        return [Phrase(text, label) for text, label in rows]

    return Knowledge(
        fingerprint=mark,
        raw_procedures=body["procedures"],
        raw_wishes=body["wishes"],
        raw_urgent=body.get("urgent", {}),
        phrase_source=phrases,
        vague=body["vague"],
        calculations=body["calculations"],
        folder=folder,
    )


def compile_knowledge(folder: Path, files: list[Path]) -> dict[str, Any]:
    """Read and validate every file. Raises ContentProblems with all that is wrong."""
    from cabassist.procedures import yamlfile

    problems: list[Problem] = []
    procedures: dict[str, dict[str, Any]] = {}
    phrases: list[tuple[str, str]] = []
    for path in files:
        if path.suffix != ".yaml" or path.parent == folder or path.parent.name in NOT_SYSTEMS:
            continue
        name = str(path.relative_to(folder.parent))
        try:
            file = yamlfile.load(path, name)
            made = yamlfile.validate(file, Procedure)
        except ContentProblems as error:
            problems += error.problems
            continue
        if made.id != path.stem:
            problems.append(file.problem(("id",), f"must be '{path.stem}', like the file's name", "id"))
        if made.system != path.parent.name:
            problems.append(
                file.problem(("system",), f"must be '{path.parent.name}', like the folder's name", "system")
            )
        procedures[made.id] = made.model_dump(mode="json", exclude_defaults=True)
        phrases += [(text, made.id) for text in [made.title, made.summary, *made.asks]]
    for path in files:
        if path.parent.name == "wordings" and path.suffix == ".txt":
            if path.stem not in procedures:
                name = str(path.relative_to(folder.parent))
                problems.append(Problem(name, 1, "", f"there is no procedure '{path.stem}'", "reference"))
            phrases += [(line, path.stem) for line in _lines(path)]
    phrases += [(line, STEER + path.stem) for path in files if path.parent.name == "steering" for line in _lines(path)]
    wishes = _wishes(folder, procedures, problems)
    phrases += [(ask, WISH + name) for name, wish in wishes.items() for ask in wish["asks"]]
    vague: dict[str, list[str]] = {}
    for index, entry, file in _entries(folder / "ambiguous.yaml", Vague, problems):
        for topic in entry.options:
            if topic not in procedures:
                problems.append(file.problem((index,), f"there is no procedure '{topic}'", "reference"))
        vague[entry.ask] = entry.options
        phrases.append((entry.ask, AMBIGUOUS))
    for index, harmless, file in _entries(folder / "harmless.yaml", Harmless, problems):
        if harmless.topic is not None and harmless.topic not in procedures:
            problems.append(file.problem((index,), f"there is no procedure '{harmless.topic}'", "reference"))
        phrases.append((harmless.ask, harmless.topic or OUT_OF_SCOPE))
    calculations: dict[str, str] = {}
    for index, calculation, file in _entries(folder / "calculations.yaml", Calculation, problems):
        if calculation.topic not in procedures:
            problems.append(file.problem((index, "topic"), f"there is no procedure '{calculation.topic}'", "reference"))
        calculations[calculation.name] = calculation.topic
        phrases += [(ask, CALCULATION + calculation.name) for ask in calculation.asks]
    for name, label in (("out-of-scope.txt", OUT_OF_SCOPE), ("tellings.txt", TELLING), ("defect-asks.txt", DEFECT)):
        if (folder / name).exists():
            phrases += [(line, label) for line in _lines(folder / name)]
    found = {"procedures": procedures, "wishes": wishes, "urgent": _urgent(folder, procedures, problems)}
    if problems:
        raise ContentProblems(problems)
    return {
        **found,
        "phrases": phrases,
        "vague": vague,
        "calculations": calculations,
    }


def _wishes(
    folder: Path, procedures: Mapping[str, dict[str, Any]], problems: list[Problem]
) -> dict[str, dict[str, Any]]:
    """The unsafe wishes, by their ids."""
    found = {}
    for index, wish, file in _entries(folder / "unsafe-wishes.yaml", Wish, problems):
        for topic in [wish.caution_topic, *wish.also]:
            if topic not in procedures:
                problems.append(file.problem((index,), f"there is no procedure '{topic}'", "reference"))
        if wish.danger_now and procedures.get(wish.caution_topic, {}).get("kind") != "hazard":
            problems.append(file.problem((index, "danger_now"), "its caution_topic is no hazard", "reference"))
        found[wish.id] = wish.model_dump(mode="json", exclude_defaults=True)
    return found


def _urgent(folder: Path, procedures: Collection[str], problems: list[Problem]) -> dict[str, dict[str, Any]]:
    """The dangers that are no procedure, by their labels."""
    found = {}
    for index, danger, file in _entries(folder / "urgent.yaml", Urgent, problems):
        if danger.topic not in procedures:
            problems.append(file.problem((index, "topic"), f"there is no procedure '{danger.topic}'", "reference"))
        found[danger.label] = danger.model_dump(mode="json", exclude_defaults=True)
    return found


def _lines(path: Path) -> list[str]:
    from cabassist.procedures.yamlfile import read_text

    return [line.strip() for line in read_text(path).splitlines() if line.strip()]


def _entries(path: Path, model: type[Any], problems: list[Problem]) -> Iterator[tuple[int, Any, Any]]:
    """The validated entries of a YAML list, with their index and file."""
    from cabassist.procedures import yamlfile

    if not path.exists():
        return
    name = str(path.relative_to(path.parents[1]))
    try:
        file = yamlfile.load(path, name)
    except ContentProblems as error:
        problems += error.problems
        return
    if not isinstance(file.data, list):
        problems.append(Problem(name, 1, "", "the file must hold a list", "shape"))
        return
    for index, data in enumerate(file.data):
        part = yamlfile.YamlFile(name, data, file.under(index))
        try:
            yield index, yamlfile.validate(part, model), file
        except ContentProblems as error:
            problems += error.problems
