"""Defects as they stand: worked out from entries, from the first report to the signature.

The four states follow 49 CFR 396.11 and 396.13: a driver reports, the next one or the carrier acknowledges, whoever
mends it says so, and a driver who has seen it work signs. A defect stays open until it is signed off.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal, get_args

from cabassist.language.normalise import plain
from cabassist.record.defect_words import GRADES, NUMBERS, Move, Place, Report, Severity
from cabassist.record.entries import DEFECT, NOTE, STAGE, Entry, Record, made

DefectState = Literal["reported", "acknowledged", "repaired", "checked"]
STATES: tuple[DefectState, ...] = get_args(DefectState)
NO_REPAIR = "no repair needed"
"""Note of a stage that certifies that a repair is unnecessary, as 49 CFR 396.11 allows."""
SOURCE = "49 CFR 392.7, 396.7, 396.11 and 396.13"
_SMALL = frozenset(
    "the that this a an of on in at by it its is was with to for and from my our defect number item entry fault side please one".split()
)


@dataclass(frozen=True)
class Stage:
    """A state that was reached, by whom and when."""

    state: DefectState
    by: str
    at: datetime
    note: str = ""


@dataclass(frozen=True)
class Defect:
    """One defect with everything that was said about it."""

    key: str
    number: int
    """Its number among this coach's defects, from 1."""
    what: str
    place: Place
    severity: Severity
    move: Move
    part: str
    """The safety part it touches, or nothing."""
    why: str
    rule: str
    asks: str
    stages: tuple[Stage, ...]
    photos: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    """What was added or corrected later, each with its speaker."""

    @property
    def state(self) -> DefectState:
        """The last state that was reached."""
        return self.stages[-1].state

    @property
    def open(self) -> bool:
        """Whether nobody has signed it off yet."""
        return self.state != "checked"

    @property
    def stops(self) -> bool:
        """Whether it keeps the coach parked as it stands; a repair that nobody has checked does not yet free it."""
        return self.open and (self.severity == "stop" or self.move == "no")

    @property
    def unclear(self) -> bool:
        """Whether nobody has said if a safety part still works."""
        return self.open and self.move == "unclear" and not self.stops

    def words(self) -> str:
        """One line: number, fault, place."""
        place = self.place.words(self.what)
        return f"{self.number}, {self.what}{f' ({place})' if place else ''}"

    def verdict(self) -> str:
        """Whether the coach may move with it, in one sentence."""
        if not self.open:
            return "Signed off."
        if self.stops:
            reason = f": {self.why}" if self.why else ""
            rule = f" ({self.rule})" if self.rule else ""
            return f"The coach must not move{reason}{rule}."
        if self.unclear:
            return f"The coach stays until you know: {self.why} ({self.rule})."
        return f"It need not stop the coach as it was told; {GRADES[self.severity]}."


def reported(report: Report, said: str, at: datetime, by: str, near: str | None = None) -> Entry:
    """The entry of a new defect."""
    place = report.place
    about = {
        "what": report.what, "said": said, "near": near, "severity": report.severity,
        "bays": list(place.bays), "side": place.side, "places": list(place.near), "unknown_bay": place.unknown,
        "move": report.safety.move, "part": report.safety.part, "why": report.safety.why, "rule": report.safety.rule,
        "asks": report.safety.asks,
    }  # fmt: skip
    return made(DEFECT, at, by, about)


def staged(defect: Defect, state: DefectState, at: datetime, by: str, *, said: str = "", note: str = "") -> Entry:
    """The entry that moves a defect on.

    Raises:
        ValueError: the defect cannot go there from where it stands; the message says what is missing.
    """
    if defect.state == "checked":
        raise ValueError(f"Defect {defect.number} is signed off already. Report it again if it has come back.")
    if state == "checked" and defect.state != "repaired":
        raise ValueError(
            f"Nobody has said that defect {defect.number} is repaired. Say: {defect.number} is fixed; then sign it off."
        )
    if STATES.index(state) <= STATES.index(defect.state):
        last = defect.stages[-1]
        raise ValueError(f"Defect {defect.number} is {last.state} already, by {last.by}.")
    return made(STAGE, at, by, {"defect": defect.key, "state": state, "said": said, "note": note})


def noted(defect: Defect, at: datetime, by: str, *, said: str = "", **fields: object) -> Entry:
    """The entry that adds to a defect or corrects it: what, severity, move, place (bays, side, places), photo or remark."""
    return made(NOTE, at, by, {"defect": defect.key, "said": said, **fields})


def all_defects(record: Record) -> list[Defect]:
    """Every defect of the record as it stands now, oldest first."""
    found: dict[str, Defect] = {}
    for entry in record.entries:
        if entry.kind == DEFECT:
            found[entry.key] = _opened(entry, len(found) + 1)
        elif entry.kind in (STAGE, NOTE):
            defect = found.get(entry.text("defect"))
            if defect is not None:
                found[defect.key] = _moved(defect, entry) if entry.kind == STAGE else _added(defect, entry)
    return list(found.values())


def open_defects(record: Record) -> list[Defect]:
    """The open ones: those that keep the coach parked first, then those that are unclear, then by grade and age."""
    order = {"stop": 0, "today": 1, "": 2, "service": 3}
    return sorted(
        (defect for defect in all_defects(record) if defect.open),
        key=lambda defect: (not defect.stops, not defect.unclear, order[defect.severity], defect.number),
    )


def _opened(entry: Entry, number: int) -> Defect:
    severity = entry.text("severity")
    move = entry.text("move")
    return Defect(
        key=entry.key,
        number=number,
        what=entry.text("what") or entry.text("said") or "not described",
        place=_place(entry),
        severity=severity if severity in GRADES else "",
        move=move if move in get_args(Move) else "yes",  # type: ignore[arg-type]
        part=entry.text("part"),
        why=entry.text("why"),
        rule=entry.text("rule"),
        asks=entry.text("asks"),
        stages=(Stage("reported", entry.by, entry.at),),
    )


def _place(entry: Entry) -> Place:
    return Place(entry.names("bays"), entry.text("side"), entry.names("places"), entry.text("unknown_bay"))


def _moved(defect: Defect, entry: Entry) -> Defect:
    state = entry.text("state")
    if state not in STATES or STATES.index(state) <= STATES.index(defect.state):
        return defect
    stage = Stage(state, entry.by, entry.at, entry.text("note"))
    return replace(defect, stages=(*defect.stages, stage))


def _added(defect: Defect, entry: Entry) -> Defect:
    if (severity := entry.text("severity")) in GRADES and severity:
        defect = replace(defect, severity=severity)
    if (move := entry.text("move")) in get_args(Move):
        defect = replace(defect, move=move)  # type: ignore[arg-type]
    if what := entry.text("what"):
        defect = replace(defect, what=what)
    if "part" in entry.about:
        why, rule, asks = (entry.text(name) for name in ("why", "rule", "asks"))
        defect = replace(defect, part=entry.text("part"), why=why, rule=rule, asks=asks)
    if any(name in entry.about for name in ("bays", "side", "places")):
        defect = replace(defect, place=_place(entry))
    if photo := entry.text("photo"):
        defect = replace(defect, photos=(*defect.photos, photo))
    if said := entry.text("said"):
        defect = replace(defect, remarks=(*defect.remarks, f"{entry.by}: {said}"))
    return defect


def which(words: str, among: Sequence[Defect]) -> list[Defect]:
    """The defects that some words name: by number, else those that share most of the words; none when too few do."""
    said = plain(words)
    number = re.fullmatch(r"(?:the )?(?:defect |number |item |entry |no |fault )*(\d{1,4}|[a-z]+)(?: one)?", said)
    if number is not None:
        raw = number[1]
        wanted = int(raw) if raw.isdigit() else NUMBERS.get(raw, 0) if raw not in ("to", "for", "too", "ate") else 0
        if wanted:
            return [defect for defect in among if defect.number == wanted]
    asked = _tokens(said)
    if not asked:
        return []
    scores = [(len(asked & _tokens(f"{d.what} {d.place.words()}", asked)) / len(asked), d) for d in among]
    best = max((score for score, _ in scores), default=0.0)
    return [defect for score, defect in scores if score == best] if best >= 0.6 else []


def _tokens(text: str, like: frozenset[str] = frozenset()) -> frozenset[str]:
    """The words that matter, numbers as figures; a word that nearly equals one in `like` counts as that one."""
    from rapidfuzz import fuzz, process

    found: set[str] = set()
    for word in plain(text).replace("'s", "").split():
        if word in _SMALL:
            continue
        token = str(NUMBERS[word]) if word in NUMBERS and len(word) > 2 else word
        near = process.extractOne(token, like, scorer=fuzz.ratio, score_cutoff=85) if like and len(token) > 3 else None
        found.add(near[0] if near else token)
    return frozenset(found)
