"""The hand-over: one page for the next driver, as lines, as a minute of speech, and as a page that prints.

Faults first, the unsafe ones before all, then levels, what is due, what is missing, and what the last driver had to ask
more than once (49 CFR 396.13: the next driver reads the last report; the layout is our own).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from typing import Any

from cabassist.coach import Coach
from cabassist.journal.events import Event
from cabassist.record.defects import Defect, open_defects
from cabassist.record.entries import Record
from cabassist.record.kit import Missing, missing
from cabassist.record.upkeep import Due, due_list, pressing

MOST_WORDS = 150
"""Words of the spoken summary at most: under a minute at 150 words a minute; common practice, no source."""
LOOK_BACK = timedelta(hours=36)
"""How far back questions of the last driver are looked at."""
ASKED_KINDS = frozenset({"procedure", "hazard", "calculation", "unknown"})


@dataclass(frozen=True)
class Level:
    """One supply for the page, in words: see the board."""

    name: str
    level: str
    age: str
    left: str
    act: str


@dataclass(frozen=True)
class Asked:
    """Something that was asked more than once."""

    what: str
    times: int
    by: tuple[str, ...]


@dataclass(frozen=True)
class Page:
    """Everything the next driver must know."""

    coach: str
    at: datetime
    crew: tuple[str, ...]
    """Who spoke since the last hand-over looked back."""
    duty: tuple[str, ...]
    levels: tuple[Level, ...]
    defects: tuple[Defect, ...]
    due: tuple[Due, ...]
    missing: tuple[Missing, ...]
    asked: tuple[Asked, ...]

    @property
    def may_not_move(self) -> list[str]:
        """What keeps the coach parked, or keeps it parked until somebody knows."""
        stops = [f"defect {d.words()}" for d in self.defects if d.stops or d.unclear]
        return [*stops, *(f"{row.item.name} missing" for row in self.missing if row.stops)]


def page_of(
    coach: Coach,
    record: Record,
    now: datetime,
    *,
    levels: Sequence[Level],
    odometer_mi: float | None = None,
    events: Iterable[Event] = (),
    duty: Sequence[str] = (),
    titles: dict[str, str] | None = None,
) -> Page:
    """The page at one moment.

    Args:
        coach: the profile.
        record: defects, upkeep and kit.
        now: the moment of the hand-over.
        levels: the board in words.
        odometer_mi: the latest odometer reading [mi], when one is known.
        events: the journal, for what was asked and by whom.
        duty: where each driver's hours stand, in words.
        titles: titles of the procedures by id.
    """
    recent = [event for event in events if event.coach == coach.id and now - LOOK_BACK <= event.at <= now]
    crew = tuple(dict.fromkeys(event.actor for event in recent if event.kind == "said"))
    return Page(
        coach.name,
        now,
        crew,
        tuple(duty),
        tuple(levels),
        tuple(open_defects(record)),
        tuple(pressing(due_list(coach, record, now, odometer_mi))),
        tuple(missing(coach, record)),
        tuple(asked_twice(recent, titles or {})),
    )


def asked_twice(events: Iterable[Event], titles: dict[str, str]) -> list[Asked]:
    """Topics that were asked for more than once, and questions without an answer; most often first."""
    counts: Counter[str] = Counter()
    by: dict[str, dict[str, None]] = {}
    said: dict[str, str] = {}
    for event in events:
        if event.kind == "said":
            said[event.session] = str(event.payload.get("text", ""))
        if event.kind != "answered" or event.payload.get("kind") not in ASKED_KINDS:
            continue
        topic = event.payload.get("topic")
        name = titles.get(topic, topic) if isinstance(topic, str) else f'"{said.get(event.session, "")[:60]}"'
        counts[name] += 1
        by.setdefault(name, {})[event.actor] = None
    return [Asked(name, count, tuple(by[name])) for name, count in counts.most_common() if count > 1]


def lines_of(page: Page) -> list[str]:
    """The page for a terminal."""
    lines = [f"HAND-OVER: {page.coach}, {page.at:%a %d %b %Y %H:%M}"]
    stop = page.may_not_move
    if stop:
        lines += ["", f"WARNING: The coach stays parked: {'; '.join(stop)}."]
    lines += ["", "Open defects:"]
    for defect in page.defects:
        first, last = defect.stages[0], defect.stages[-1]
        lines.append(f"  {defect.words()}. {defect.verdict()}")
        lines.append(f"     {_stage(first)}" + (f"; {_stage(last)}" if last is not first else ""))
    if not page.defects:
        lines.append("  None on record. Look round all the same.")
    lines += ["", "Levels:"]
    for level in page.levels:
        lines.append(f"  {level.name}: " + ", ".join(part for part in (level.level, level.age, level.left, level.act) if part))  # fmt: skip
    lines += ["", "Due:", *(f"  {row.name}: {row.words}" for row in page.due)]
    if not page.due:
        lines.append("  Nothing.")
    lines += ["", "Missing kit:", *(f"  {row.item.name}, from {row.item.place} ({row.by}, {row.at:%d %b %H:%M})" for row in page.missing)]  # fmt: skip
    if not page.missing:
        lines.append("  Nothing said to be missing.")
    if page.asked:
        lines += [
            "",
            "Asked more than once:",
            *(f"  {a.what}: {a.times} times ({', '.join(a.by)})" for a in page.asked),
        ]
    if page.duty:
        lines += ["", "Hours:", *(f"  {words}" for words in page.duty)]
    if page.crew:
        lines += ["", f"Crew heard: {', '.join(page.crew)}"]
    return lines


def _stage(stage: Any) -> str:
    note = f" ({stage.note})" if stage.note else ""
    return f"{stage.state} by {stage.by} {stage.at:%d %b %H:%M}{note}"


def spoken(page: Page) -> str:
    """The page for the ear: at most MOST_WORDS words, the gravest first; what does not fit is counted."""
    stop = page.may_not_move
    parts = [f"Hand-over of {page.coach}."]
    if stop:
        parts.append(f"Warning. The coach stays parked: {_few(stop, 3)}.")
    others = [d.words() for d in page.defects if not (d.stops or d.unclear)]
    if others:
        parts.append(f"{'Also open' if stop else 'Open defects'}: {_few(others, 3)}.")
    elif not page.defects:
        parts.append("No open defects on record.")
    told = [level for level in page.levels if level.age]
    for level in told:
        parts.append(f"{level.name} {level.level}" + (f", {level.act or level.left}" if level.act or level.left else "") + ".")  # fmt: skip
    silent = [level.name for level in page.levels if not level.age]
    if silent:
        parts.append(f"Not read: {_few(silent, 4)}.")
    late = [row.name for row in page.due if row.state in ("overdue", "due")]
    if late:
        parts.append(f"Due: {_few(late, 3)}.")
    if page.missing:
        parts.append(f"Missing: {_few([row.item.name for row in page.missing], 3)}.")
    if page.asked:
        parts.append(f"Asked more than once: {_few([row.what for row in page.asked], 2)}.")
    return _within(parts, "The rest is on the page.")


def _few(names: Sequence[str], most: int) -> str:
    more = len(names) - most
    return "; ".join(names[:most]) + (f"; and {more} more" if more > 0 else "")


def _within(parts: Sequence[str], rest: str) -> str:
    """As many whole sentences as fit into the words allowed; a first one that is too long is cut."""
    kept: list[str] = []
    left = MOST_WORDS - _words(rest)
    for number, part in enumerate(parts):
        if _words(part) > left:
            if number < 2:  # what keeps the coach parked is said, however it was worded
                kept.append(" ".join(part.split()[: max(1, left)]).rstrip(";,.") + ".")
            return " ".join([*kept, rest])
        kept.append(part)
        left -= _words(part)
    return " ".join(kept)


def _words(text: str) -> int:
    """Words as they are spoken; a figure with a dot or a colon counts as two."""
    return sum(1 + len(re.findall(r"\d[.:]\d", word)) for word in text.split())


def json_of(page: Page) -> dict[str, Any]:
    """The page for programs."""
    body = asdict(page)
    for row, defect in zip(body["defects"], page.defects, strict=True):
        row |= {"state": defect.state, "stops": defect.stops, "unclear": defect.unclear, "verdict": defect.verdict()}
    body["missing"] = [
        {"id": m.item.id, "name": m.item.name, "place": m.item.place, "by": m.by, "at": m.at, "stops": m.stops}
        for m in page.missing
    ]
    return {**body, "may_not_move": page.may_not_move, "spoken": spoken(page)}
