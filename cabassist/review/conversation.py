"""A recorded session as a trainer reads it: turns with what came of them, and the walks they made up.

Folded from the events alone, so any journal of any age can be read; a field that an older version did not write is
simply empty.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from itertools import groupby
from operator import itemgetter
from typing import Any, NamedTuple

from cabassist.journal import Journal
from cabassist.journal.store import RECORD

OPENERS = frozenset({"procedure", "hazard"})
NOTED = ("defect", "timer", "refused-reading", "reminder", "alert", "no-reading")
READ = ("heard", "said", "answered", "asked", "hazard", "walk", "why", "skip", "choice", "reading", "withdrawn", *NOTED)
"""Kinds of events that a conversation is made of."""
_CAUTION = re.compile(r"\b(?:Danger|Warning|Caution|Notice)\.")
NOTHING_OPEN = "No procedure is open"
"""How the assistant answers a "next" that leads nowhere."""


Noted = tuple[str, str, str, str, str, str, str]
"""An event as far as a review needs it: session, id, time (ISO 8601), coach, actor, kind, payload (JSON text). A plain
tuple, as the database gives it: there may be a million of them."""
_parsed = json.JSONDecoder().raw_decode


class Reading(NamedTuple):
    """A reading as it was told; `value` is in `unit`, and None where nothing was measured."""

    what: str
    which: str
    """The cylinder, tire or bay; empty where there is only one, or none was named."""
    value: float | None
    unit: str


@dataclass(slots=True)
class Turn:
    """One utterance and what was answered."""

    id: str
    """The first half of the id of the answer's event, by which marks name it."""
    at: datetime
    actor: str
    text: str
    heard: str = ""
    """What the recogniser wrote, where that was another text."""
    heard_confidence: float | None = None
    verdict: str = ""
    """What the question was decided to be: answer, clarify, unknown; empty when it was no question."""
    kind: str = ""
    topic: str | None = None
    confidence: float = 1.0
    step: tuple[int, int] | None = None
    say: str = ""
    options: tuple[str, ...] = ()
    nearest: tuple[str, ...] = ()
    moves: tuple[str, ...] = ()
    """What happened to walks: open, next, back, repeat, jump, skip, why, pause, resume, stop, end."""
    notes: tuple[str, ...] = ()
    """Readings, skips, defects and timers, in words."""
    readings: tuple[Reading, ...] = ()
    taken: str | None = None
    """The choice that was taken."""
    refused_choice: bool = False
    cautioned: bool = False
    """Whether a caution was said."""

    @property
    def question(self) -> bool:
        """Whether it was taken for a question."""
        return bool(self.verdict)


@dataclass(slots=True)
class Walk:
    """A procedure as it was walked: seconds at each step, and how it ended."""

    topic: str
    opened: datetime
    by: str
    of: int = 0
    step: int = 1
    ended: str = "left"
    """end, stop, or left: nobody closed it."""
    seconds: dict[int, float] = field(default_factory=dict)
    skips: list[tuple[int, str]] = field(default_factory=list)
    whys: list[int] = field(default_factory=list)
    repeats: list[int] = field(default_factory=list)
    cautions: int = 0
    cautions_passed: int = 0
    """Cautions after which the driver did not say next, but skipped, jumped or left."""
    since: datetime | None = None

    @property
    def reached(self) -> int:
        """The furthest step."""
        return max([self.step, *self.seconds])

    @property
    def done(self) -> bool:
        """Whether it was walked to the end: closed there, or left open at the last step."""
        return self.ended == "end" or (self.of > 0 and self.reached >= self.of)

    def leave(self, at: datetime) -> None:
        """Add the time at the step in hand."""
        if self.since is not None:
            self.seconds[self.step] = self.seconds.get(self.step, 0.0) + max(0.0, (at - self.since).total_seconds())
        self.since = at


@dataclass(slots=True)
class Conversation:
    """One session."""

    session: str
    coach: str
    turns: list[Turn]
    walks: list[Walk]

    @property
    def start(self) -> datetime:
        """When its first turn was."""
        return self.turns[0].at

    @property
    def minutes(self) -> float:
        """From the first turn to the last."""
        return (self.turns[-1].at - self.turns[0].at).total_seconds() / 60

    @property
    def actors(self) -> tuple[str, ...]:
        """Who spoke, in order of appearance."""
        return tuple(dict.fromkeys(turn.actor for turn in self.turns))

    def count(self, *kinds: str) -> int:
        """How many turns were answered with one of these kinds."""
        return sum(turn.kind in kinds for turn in self.turns)


def conversation(events: Iterable[Noted]) -> Conversation | None:
    """A session from its events, or None when nothing was said in it."""
    turns: list[Turn] = []
    walks: list[Walk] = []
    heard: dict[str, Any] = {}
    turn: Turn | None = None
    session = coach = ""
    stamp, when = "", datetime.min
    for session, name, at, coach, actor, kind, body in events:  # noqa: B007 - the last ones name the session
        if kind not in READ:
            continue
        payload = _parsed(body)[0]
        if at != stamp:  # all events of a turn have one time, and there are many
            stamp, when = at, datetime.fromisoformat(at)
        if kind == "heard":
            heard = payload
        elif kind == "said":
            turn = Turn(name[:16], when, actor, str(payload.get("text", "")))
            if heard:
                original = str(heard.get("original", ""))
                turn.heard = original if original != turn.text else ""
                turn.heard_confidence = heard.get("confidence")
                heard = {}
            turns.append(turn)
        elif turn is not None:
            _attach(turn, walks, name, when, kind, payload)
            if kind == "answered":
                _cautions(turn, turns, walks)
    return Conversation(session, coach, turns, walks) if turns else None


def _attach(turn: Turn, walks: list[Walk], name: str, when: datetime, kind: str, payload: dict[str, Any]) -> None:
    if kind == "answered":
        turn.id = name[:16]
        turn.kind, turn.topic = str(payload.get("kind", "")), payload.get("topic")
        turn.confidence = float(payload.get("confidence", 1.0))
        step = payload.get("step")
        turn.step = (int(step[0]), int(step[1])) if step else None
        turn.say = str(payload.get("say", ""))
        turn.cautioned = turn.kind == "hazard" or bool(_CAUTION.search(turn.say))
        turn.options, turn.nearest = tuple(payload.get("options", ())), tuple(payload.get("nearest", ()))
    elif kind == "asked":
        turn.verdict = str(payload.get("verdict", ""))
    elif kind == "hazard":
        turn.verdict = "hazard"
    elif kind == "walk":
        turn.moves += (str(payload.get("move", "")),)
        _walked(walks, turn, when, payload)
    elif kind == "why":
        turn.moves += ("why",)
        if walks:
            walks[-1].whys.append(int(payload.get("step", 1)))
    elif kind == "skip":
        turn.moves += ("skip",)
        reason = str(payload.get("reason", ""))
        turn.notes += (f"skipped step {payload.get('step')}: {reason or 'no reason given'}",)
        walk = _last(walks, str(payload.get("topic")))
        if walk is not None:
            walk.skips.append((int(payload.get("step", 1)), reason))
    elif kind == "choice":
        turn.taken = payload.get("taken")
        turn.refused_choice = turn.taken is None
    elif kind in ("reading", "withdrawn"):
        what, which = str(payload.get("what", "")), str(payload.get("which") or "")
        value, unit = payload.get("value"), payload.get("unit")
        if kind == "reading" and what:
            number = value if isinstance(value, int | float) else None
            turn.readings += (Reading(what, which, number, str(unit or "")),)
        turn.notes += (f"{kind}: {what.replace('_', ' ')}{f' {which}' if which else ''} {value} {unit}",)
    elif kind in NOTED:
        told = payload.get("what") or payload.get("announce") or payload.get("reason") or payload.get("said") or ""
        turn.notes += (f"{kind}: {told}",)


def _last(walks: list[Walk], topic: str) -> Walk | None:
    return next((walk for walk in reversed(walks) if walk.topic == topic and walk.ended == "left"), None)


def _walked(walks: list[Walk], turn: Turn, when: datetime, payload: dict[str, Any]) -> None:
    topic, move = str(payload.get("topic")), str(payload.get("move"))
    walk = _last(walks, topic)
    if move == "open" or walk is None:
        walk = Walk(topic, when, turn.actor, int(payload.get("of", 0)), int(payload.get("step", 1)), since=when)
        walks.append(walk)
        return
    if move != "return":
        walk.leave(when)
    walk.since = when
    if move in ("end", "stop"):
        walk.ended = move
        return
    if move == "repeat":
        walk.repeats.append(walk.step)
    walk.step = int(payload.get("step", walk.step))
    walk.of = int(payload.get("of", walk.of))


def _cautions(turn: Turn, turns: list[Turn], walks: list[Walk]) -> None:
    """Count the caution of this turn, and whether the one before it was followed by a next."""
    before = turns[-2] if len(turns) > 1 else None
    if before is not None and before.cautioned and turn.moves and before.topic:
        walk = next((walk for walk in reversed(walks) if walk.topic == before.topic), None)
        if walk is not None and {"skip", "jump", "stop"} & set(turn.moves):
            walk.cautions_passed += 1
    if turn.cautioned and turn.topic and walks and walks[-1].topic == turn.topic:
        walks[-1].cautions += 1


def conversations(journal: Journal, sessions: Iterable[str] | None = None) -> Iterator[Conversation]:
    """Every session in which something was said, or only those named, one after the other."""
    asked = "" if sessions is None else f" AND session IN ({','.join('?' * len(names := list(sessions)))})"
    given = [] if sessions is None else names
    # the plus keeps SQLite on the index by session, which has them in order already
    found = journal.select(
        "SELECT session, id, at, coach, actor, kind, payload FROM events WHERE session <> ?"
        f" AND +kind IN ({','.join('?' * len(READ))}){asked} ORDER BY session, seq",
        [RECORD, *READ, *given],
    )
    for _, events in groupby(found, key=itemgetter(0)):
        made = conversation(events)
        if made is not None:
            yield made


def latest_sessions(journal: Journal, count: int | None) -> list[str]:
    """Names of the newest sessions, newest first.

    Jumps from session to session through the index instead of reading every event.
    """
    rows = journal.select(
        "WITH RECURSIVE each(name) AS (SELECT min(session) FROM events UNION ALL"
        " SELECT (SELECT min(session) FROM events WHERE session > name) FROM each WHERE name IS NOT NULL)"
        " SELECT name, (SELECT max(seq) FROM events WHERE session = name) AS last FROM each"
        " WHERE name IS NOT NULL AND name <> ? ORDER BY last DESC LIMIT ?",
        (RECORD, -1 if count is None else count),
    )
    return [name for name, _ in rows]
