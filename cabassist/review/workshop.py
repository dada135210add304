"""Where a trainer mends: wordings and misheard words are proposed, looked at as a diff, replayed, then accepted or not.

Nothing that is proposed reaches a driver before it is accepted.
"""

from __future__ import annotations

import difflib
import shutil
from pathlib import Path

from cabassist.dialogue.types import Mind
from cabassist.errors import ContentProblems, FileProblem, Problem, UnknownName
from cabassist.files import write_whole
from cabassist.language.normalise import bare, clean
from cabassist.language.numbers import NUMBER_WORDS
from cabassist.language.routing import BOUNDS
from cabassist.procedures.layer import MAX_WORDING, MISHEARD, PROPOSED, Layer, read_layer
from cabassist.procedures.library import nearest

NEVER = frozenset("no not none never don't can't won't yes off on open shut closed left right".split())
"""Words whose change would turn a sentence into its opposite."""


class Workshop:
    """The trainer's folder, with what is accepted in it and what is only proposed."""

    def __init__(self, folder: Path, mind: Mind) -> None:
        self.folder, self._mind = folder, mind
        self._topics = mind.knowledge.raw_procedures

    def accepted(self) -> Layer:
        """What drivers are answered with."""
        return read_layer(self.folder, self._topics)[0]

    def proposed(self) -> Layer:
        """What waits to be accepted."""
        return read_layer(self.folder / PROPOSED, self._topics)[0]

    def problems(self) -> list[Problem]:
        """Everything in the folder that cannot be used or is not safe to teach."""
        found = [*read_layer(self.folder, self._topics)[1], *read_layer(self.folder / PROPOSED, self._topics)[1]]
        for layer in (self.accepted(), self.proposed()):
            for text, topic in layer.wordings:
                found += self._unsafe_wording(text, topic)
            for heard, meant in layer.misheard:
                found += self._unsafe_word(heard, meant)
        return found

    def propose_wording(self, text: str, topic: str) -> str:
        """Note that this wording means this topic; what it means today, when it is a shipped wording of another.

        Raises:
            UnknownName: there is no such topic.
            ContentProblems: it must not be taught, and why.
        """
        if topic not in self._topics:
            raise UnknownName("procedure", topic, nearest(topic, list(self._topics)), "See `cabassist topics`.")
        text = clean(text)
        problems = self._unsafe_wording(text, topic)
        if problems:
            raise ContentProblems(problems)
        self._add(self.folder / PROPOSED / "wordings" / f"{topic}.txt", text)
        folded = bare(text)
        return next((p.label for p in self._mind.knowledge.phrases if bare(p.text) == folded and p.label != topic), "")

    def propose_misheard(self, heard: str, meant: str) -> None:
        """Note that a word is misheard and what is meant. Raises ContentProblems when that is not safe."""
        heard, meant = bare(clean(heard)), bare(clean(meant))
        problems = self._unsafe_word(heard, meant)
        if problems:
            raise ContentProblems(problems)
        self._add(self.folder / PROPOSED / MISHEARD, f"{heard} = {meant}")

    def _unsafe_wording(self, text: str, topic: str) -> list[Problem]:
        name = f"wordings/{topic}.txt"
        said: list[str] = []
        if len(text) > MAX_WORDING or not any(c.isalpha() for c in text):
            said.append(f"must be words, at most {MAX_WORDING} characters")
        elif self._mind.steering.find(text) is not None and len(text.split()) <= 3:
            said.append(f"'{text}' is a command; a wording would take it away")
        elif topic not in self._mind.knowledge.hazards:
            ranking = self._mind.matcher.rank(text)
            sign = self._mind.hazards.find(text)
            if sign is not None:
                said.append(f"'{text}' has the sign of a hazard, {sign}; it may only mean a hazard")
            elif ranking.hazard >= BOUNDS.hazard:
                said.append(f"'{text}' reports a hazard, {ranking.best}; it may only mean a hazard")
            elif ranking.wish >= BOUNDS.wish:
                said.append(f"'{text}' is refused as unsafe; a wording cannot make it safe")
        return [Problem(name, 1, "", message, "unsafe") for message in said]

    def _unsafe_word(self, heard: str, meant: str) -> list[Problem]:
        words = {*heard.split(), *meant.split()}
        said = ""
        if not heard or not meant or heard == meant or len(heard) < 3 or "=" in heard + meant:
            said = "write the word that was heard and the one that was meant, three letters or more"
        elif words & (NUMBER_WORDS | NEVER) or any(c.isdigit() for c in heard + meant):
            said = "numbers and words such as no, off and left are never replaced: that could turn one reading into another"
        elif self._mind.hazards.find(heard) is not None:
            said = f"'{heard}' is the sign of a hazard"
        elif self._mind.steering.find(heard) is not None:
            said = f"'{heard}' is a command"
        else:
            used = sum(f" {heard} " in f" {phrase.text.lower()} " for phrase in self._mind.knowledge.phrases)
            if used:
                said = f"'{heard}' stands in {used} known wordings, which would no longer be understood; name more words around it"
        return [Problem(MISHEARD, 1, f"{heard} = {meant}", said, "unsafe")] if said else []

    def accept(self) -> Layer:
        """Make what is proposed count for drivers, and return it. A wording moves away from its former topic."""
        layer = self.proposed()
        moved = dict(layer.wordings)
        for name in _proposed_files(self.folder):
            _write(self.folder / name, _merged(self.folder, name))
        for path in (self.folder / "wordings").glob("*.txt"):
            kept = [line for line in _text(path).splitlines() if moved.get(line.strip(), path.stem) == path.stem]
            if len(kept) != len(_text(path).splitlines()):
                _write(path, "".join(f"{line}\n" for line in kept))
        discard(self.folder)
        return layer

    def _add(self, path: Path, line: str) -> None:
        lines = dict.fromkeys([*_text(path).splitlines(), line])
        _write(path, "".join(f"{one}\n" for one in lines))


def diff(folder: Path) -> str:
    """What accepting would change, as a unified diff of the trainer's folder; empty when nothing is proposed."""
    lines: list[str] = []
    for name in _proposed_files(folder):
        old, new = _text(folder / name), _merged(folder, name)
        lines += difflib.unified_diff(
            old.splitlines(True), new.splitlines(True), f"trainer/{name}", f"trainer/{name} (proposed)"
        )
    return "".join(lines)


def discard(folder: Path) -> None:
    """Forget what is proposed in the trainer's folder."""
    shutil.rmtree(folder / PROPOSED, ignore_errors=True)


def _proposed_files(folder: Path) -> list[Path]:
    base = folder / PROPOSED
    return sorted(path.relative_to(base) for path in base.rglob("*.txt"))


def _merged(folder: Path, name: Path) -> str:
    lines = [*_text(folder / name).splitlines(), *_text(folder / PROPOSED / name).splitlines()]
    return "".join(f"{line}\n" for line in dict.fromkeys(line.strip() for line in lines if line.strip()))


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8") if path.exists() else ""
    except (OSError, UnicodeDecodeError) as error:
        raise FileProblem(path, f"cannot be read ({error}).", "Mend or remove it.") from None


def _write(path: Path, text: str) -> None:
    write_whole(path, text, advice="Check its folder.")
