"""Rounds as they were walked: each step ticked, skipped with its reason, or not reached, and the readings on the way.

A round is a procedure that the profile names as one. Its record is read from the events of the walk; nothing is kept twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Literal

from cabassist.coach import Coach
from cabassist.journal.events import Event

Mark = Literal["done", "skipped", "not done"]
Ending = Literal["finished", "stopped", "open"]


@dataclass(frozen=True)
class Tick:
    """One step of a round. `step` counts the procedure's steps from 0."""

    step: int
    mark: Mark
    by: str = ""
    at: datetime | None = None
    reason: str = ""
    readings: tuple[str, ...] = ()


@dataclass(frozen=True)
class RoundWalked:
    """One round."""

    number: int
    name: str
    topic: str
    began: datetime
    ended: datetime | None
    ending: Ending
    by: tuple[str, ...]
    """Everyone who took part."""
    ticks: tuple[Tick, ...]

    @property
    def skipped(self) -> tuple[Tick, ...]:
        """The steps that were left out."""
        return tuple(tick for tick in self.ticks if tick.mark == "skipped")

    @property
    def missed(self) -> int:
        """How many steps were not reached."""
        return sum(tick.mark == "not done" for tick in self.ticks)


@dataclass
class _Walking:
    """A walk while its events are read."""

    topic: str
    began: datetime
    plan: list[int]
    at: int = 0
    by: list[str] = field(default_factory=list)
    marks: dict[int, tuple[Mark, str, datetime, str]] = field(default_factory=dict)
    readings: dict[int, list[str]] = field(default_factory=dict)
    ended: datetime | None = None
    ending: Ending = "open"

    def done(self, until: int, event: Event) -> None:
        """Everything before place `until` that has no mark is done."""
        for place in range(self.at, until):
            self.marks.setdefault(place, ("done", event.actor, event.at, ""))


def rounds_walked(events: Iterable[Event], coach: Coach) -> list[RoundWalked]:
    """The rounds in the journal, oldest first; those of other coaches are passed over."""
    names = {entry.topic: entry.name for entry in coach.rounds}
    walks: list[_Walking] = []
    open_now: dict[tuple[str, str], _Walking] = {}
    in_hand: dict[str, _Walking | None] = {}
    for event in events:
        if event.coach != coach.id:
            continue
        body = event.payload
        if event.kind in ("walk", "skip", "no-reading"):
            walk = _follow(event, body, names, walks, open_now)
            in_hand[event.session] = walk
        elif event.kind == "reading" and in_hand.get(event.session) is not None:
            walk = in_hand[event.session]
            if walk is not None:
                walk.readings.setdefault(walk.at, []).append(_reading(body))
    return [_made(number, walk, names[walk.topic]) for number, walk in enumerate(walks, 1)]


def _follow(
    event: Event,
    body: Mapping[str, Any],
    names: Mapping[str, str],
    walks: list[_Walking],
    open_now: dict[tuple[str, str], _Walking],
) -> _Walking | None:
    """Take one event of a walk in; the round in hand after it, or None."""
    topic = str(body.get("topic", ""))
    if topic not in names:
        return None
    place = int(body["step"]) - 1 if isinstance(body.get("step"), int) else 0
    move = body.get("move")
    key = (event.session, topic)
    if event.kind == "walk" and move == "open":
        plan = body.get("plan")
        count = body.get("of")
        steps = [n - 1 for n in plan if isinstance(n, int)] if isinstance(plan, list) else []
        walk = _Walking(topic, event.at, steps or list(range(count if isinstance(count, int) else 1)))
        walks.append(walk)
        open_now[key] = walk
    current = open_now.get(key)
    if current is None:
        return None
    if event.actor not in current.by:
        current.by.append(event.actor)
    if event.kind == "skip":
        current.marks[place] = ("skipped", event.actor, event.at, str(body.get("reason") or "no reason given"))
    elif event.kind == "no-reading":
        current.marks[place] = ("skipped", event.actor, event.at, "could not be read")
    elif move == "end":
        for row in body.get("skipped") or ():
            if isinstance(row, dict) and isinstance(row.get("step"), int) and row["step"] - 1 in current.plan:
                where = current.plan.index(row["step"] - 1)
                current.marks.setdefault(where, ("skipped", event.actor, event.at, str(row.get("reason") or "no reason given")))  # fmt: skip
        current.done(len(current.plan), event)
        current.ended, current.ending = event.at, "finished"
        del open_now[key]
    elif move == "stop":
        current.ended, current.ending = event.at, "stopped"
        del open_now[key]
    elif move == "first":
        current.marks.clear()
        current.at = 0
    elif move == "jump":
        current.at = place
    elif move in ("next", "back"):
        if place > current.at:
            current.done(place, event)
        else:
            current.marks.pop(place, None)
        current.at = place
    return current


def _reading(body: Mapping[str, Any]) -> str:
    which = f" {body['which']}" if body.get("which") else ""
    value = body.get("value")
    said = body.get("flag") or "?" if not isinstance(value, (int, float)) else f"{value:g} {body.get('unit') or ''}"
    return f"{str(body.get('what', '')).replace('_', ' ')}{which}: {said}".strip()


def _made(number: int, walk: _Walking, name: str) -> RoundWalked:
    ticks = []
    for place, step in enumerate(walk.plan):
        mark, by, at, reason = walk.marks.get(place, ("not done", "", None, ""))
        ticks.append(Tick(step, mark, by, at, reason, tuple(walk.readings.get(place, ()))))  # type: ignore[arg-type]
    return RoundWalked(number, name, walk.topic, walk.began, walk.ended, walk.ending, tuple(walk.by), tuple(ticks))
