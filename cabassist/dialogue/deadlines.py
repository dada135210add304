"""What follows from a reading at once: the time left, a question when it does not fit, and the deadline that it sets.

One deadline a supply: a newer reading replaces it, and one that cannot be known any more takes it away.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, NamedTuple

from cabassist.coach import Coach
from cabassist.dialogue import who_stays, will_do
from cabassist.dialogue.accounts import EMPTY, FULL, RISEN
from cabassist.dialogue.board import Board, BoardLine, first_due, lines_of
from cabassist.dialogue.types import Mind, State, Stored, Timer
from cabassist.language.lazy import Lazy
from cabassist.language.plausibility import converted, fraction_of_full, label, shown
from cabassist.language.reading_types import Reading

if TYPE_CHECKING:
    from cabassist.sums.working import Worked

CALCULATION = {"fresh": "fresh-hours", "waste": "waste-hours", "propane": "propane-days-left",
    "house_battery": "battery-hours", "diesel": "diesel-range"}  # fmt: skip
"""The calculation that a question after a reading goes on from."""
MOVES = {"outside_temp": ("propane",), "passengers": ("fresh", "waste", "propane"), "odometer": ("diesel", "def")}
"""Readings that are no supply, and the supplies whose time left they change."""
SERVICES = frozenset({"fill-fresh-water", "dump-waste-tank", "service-at-turnaround", "refill-during-stop",
    "swap-or-refill-cylinder", "sanitize-fresh-tank", "change-over-cylinders"})  # fmt: skip
"""Procedures in whose course a level may jump."""
LEAP_F, LEAP_WITHIN = 40.0, timedelta(hours=1)
"""The weather hardly ever turns further in so short a time."""
STEADY_FOR = timedelta(hours=12)
"""So long an earlier temperature outside speaks for a new one that is like it."""
COLDEST_F = -70.0
"""Few roads were ever colder."""
_SERVICED = re.compile(
    r"\b(?:fill(?:ed|ing)|topped|topping|refill\w*|dump(?:ed|ing)|emptied|emptying|drained|swap\w*|changed|"
    r"new (?:bottle|cylinder)|filled up|fueled|fuelled|after (?:the |a )?(?:fill|dump|swap|refill|fuel stop))\b"
)
ANNOUNCED = {
    "fresh": "Fill by now: in an hour the fresh water may be gone.",
    "waste": "Dump by now: in an hour the waste tank may be at 90 percent.",
    "propane": "Fill by now: in six hours the propane may be gone.",
    "house_battery": "Charge by now: in an hour the house battery may be at half.",
}


class After(NamedTuple):
    """What follows from what was told."""

    state: State
    asked: tuple[str, ...]
    """Questions about readings that do not fit."""
    lasts: tuple[str, ...]
    """Time left and when to act, the most urgent first."""
    first: BoardLine | None
    """The most urgent of the supplies told."""


def after_telling(
    state: State, told: Sequence[Reading], gone: Sequence[Reading], said: str, mind: Mind, now: datetime
) -> After:
    """What follows from readings that stand now, and from those taken back.

    Args:
        state: with the readings stored.
        told: readings of this turn.
        gone: readings taken back by it.
        said: the whole utterance.
    """
    touched = tuple(dict.fromkeys(name for r in (*told, *gone) for name in MOVES.get(r.what, (r.what,))))
    of_heat = any(r.what == "outside_temp" or (r.what == "passengers" and who_stays.heads_wanted(state)) for r in told)
    named = {r.what for r in told} | ({"propane"} if of_heat else set())
    lines = {name: lines_of(name, state, mind, now) for name in touched}
    for name, of in lines.items():
        state = with_deadline(state, name, of)
    asked = [] if _serviced(state, said) else _asked(state, told, lines, mind.coach, now)
    asked += [words for reading in told if (words := _strange_weather(reading, state, now))]
    answers = [line for name in touched if name in named and (line := _answering(lines[name])) is not None]
    first = first_due(Board(now, tuple(answers)))
    ordered = sorted(answers, key=lambda line: (line is not first, line.act_by or line.said_at or now))
    lasts = tuple(sentence(line) + _only(lines[line.what]) for line in ordered)
    hints = [lines["propane"][0].left_words] if _wants_temperature(told, lines) else []
    rated = mind.coach.shore.volts
    hints += [odd for r in told if r.what == "shore_voltage" and (odd := will_do.odd(r.value or 0.0, rated))]
    hints += _heads_assumed(state, told, lines, mind.coach)
    return After(state, tuple(asked), (*lasts, *hints), first)


def with_deadline(state: State, what: str, lines: Iterable[BoardLine]) -> State:
    """The state with the one deadline of a supply as it is now, or without."""
    acts = [line.act_by for line in lines if line.act_by is not None]
    others = tuple(timer for timer in state.timers if timer.about != what)
    due = min(acts, default=None)
    announce = ANNOUNCED.get(what)
    if due is None or announce is None or any(line.act_words.endswith(" now") for line in lines):
        return replace(state, timers=others)
    return replace(state, timers=(*others, Timer(due, announce, None, about=what)))


def renewed(state: State, mind: Mind, now: datetime) -> State:
    """The state with the deadlines that its readings set, as for a conversation that begins."""
    for what in ANNOUNCED:
        state = with_deadline(state, what, lines_of(what, state, mind, now))
    return state


def as_worked(line: BoardLine | None, state: State) -> Worked | None:
    """What "why" and "what about at minus thirty" refer to from now on: the time left of that supply."""
    from cabassist.sums.working import Worked

    if line is None or line.estimate is None or line.what not in CALCULATION:
        return state.worked
    return Worked(CALCULATION[line.what], None, replace(line.estimate, verdict=sentence(line)))


_SUPPLIES = {
    "fresh": Lazy(r"\b(?:fresh|water)\b"),
    "waste": Lazy(r"\b(?:waste|black|sewage|gr[ae]y)\b"),
    "propane": Lazy(r"\b(?:propane|heat|gas|bottles?|cylinders?)\b"),
    "house_battery": Lazy(r"\b(?:batter\w*|house bank)\b"),
    "diesel": Lazy(r"\b(?:diesel|fuel)\b"),
}


def of_supply(text: str, state: State, mind: Mind, now: datetime) -> State:
    """The state in which "why" refers to the supply that is named with it: "why is the fresh that long"."""
    named = [what for what, words in _SUPPLIES.items() if words.search(text.lower())]
    if len(named) != 1:
        return state
    line = _answering(lines_of(named[0], state, mind, now))
    return state if line is None else replace(state, worked=as_worked(line, state))


def answering(what: str, state: State, mind: Mind, now: datetime) -> BoardLine | None:
    """The line that answers for a supply as it stands now; None while it cannot be told how long it lasts."""
    return _answering(lines_of(what, state, mind, now))


def sentence(line: BoardLine) -> str:
    """Time left and when to act: "About 20 hours of heat, between 14 and 31 hours; fill by 05:05 tonight."."""
    words = "; ".join(part for part in (line.left_words, line.act_words) if part)
    if line.estimate is not None and line.estimate.value == 0:
        words = f"{line.name}: {words}"
    return f"{words[:1].upper()}{words[1:]}."


def _only(lines: Sequence[BoardLine]) -> str:
    """Which cylinders the time left counts, when not all were read."""
    unread = [line.name.lower() for line in lines if not line.history]
    return f" Without the {' and the '.join(unread)}, which nobody has read." if unread else ""


def _answering(lines: Sequence[BoardLine]) -> BoardLine | None:
    """The line that answers for a supply: of several cylinders the last to feed."""
    known = [line for line in lines if line.estimate is not None]
    return max(known, key=lambda line: line.left_low_h or 0.0) if known else None


def _wants_temperature(told: Sequence[Reading], lines: dict[str, tuple[BoardLine, ...]]) -> bool:
    """Whether the cylinders were read, and the temperature outside would tell how long they last."""
    of = lines.get("propane", ())
    asks = bool(of) and bool(of[0].left_words) and all(line.estimate is None for line in of)
    return asks and any(reading.what == "propane" for reading in told)


def _heads_assumed(
    state: State, told: Sequence[Reading], lines: dict[str, tuple[BoardLine, ...]], coach: Coach
) -> list[str]:
    """That the first forecast of the heat counts people whom nobody has told: an empty coach burns more."""
    stored = [one.reading.what for one in state.stored]
    forecast = any(line.estimate is not None for line in lines.get("propane", ()))
    first = any(stored.count(r.what) == sum(one.what == r.what for one in told) for r in told if r.what in _OF_HEAT)
    if not (forecast and first) or "passengers" in stored:
        return []
    return [f"That counts {coach.people.usual_passengers} people aboard, who warm it. {who_stays.WHO_SLEEPS}"]


_OF_HEAT = ("propane", "outside_temp")


def _serviced(state: State, said: str) -> bool:
    """Whether a fill, a dump or a swap was told, or is being done."""
    return bool(_SERVICED.search(said.lower())) or any(walk.topic in SERVICES for walk in state.walks)


def _asked(
    state: State, told: Sequence[Reading], lines: dict[str, tuple[BoardLine, ...]], coach: Coach, now: datetime
) -> list[str]:
    """One short question for each reading that does not fit what was known."""
    found = []
    for name in dict.fromkeys(reading.what for reading in told):
        line = next((one for one in lines.get(name, ()) if one.odd), None)
        level = line.level if line is not None else None
        serviced = level is not None and (level <= EMPTY if name == "waste" else level >= FULL)
        if line is not None and not (serviced and "was told" in line.odd):
            found.append(f"{line.name}: {line.odd}")
    asked = {words.partition(":")[0] for words in found}
    risen = [words for reading in told if (words := _risen(reading, state.stored, coach))]
    return found + [words for words in risen if words.partition(":")[0] not in asked]


def _strange_weather(reading: Reading, state: State, now: datetime) -> str:
    """The question about a temperature outside that is colder than almost anywhere, or far from the one just told.

    One that goes back to what was told before that is asked no question: the one between was the wrong one.
    """
    stored = state.stored
    if reading.what != "outside_temp" or reading.value is None:
        return ""
    degrees = converted(reading.value, reading.unit or "F", "F")
    if degrees < COLDEST_F:
        return f"{label(reading.what)}: {shown(reading.value, reading.unit)} is colder than almost anywhere. Is that right?"
    before = next(
        (
            held.reading
            for held in reversed(stored)
            if held.reading.what == reading.what and held.reading is not reading and now - held.at <= LEAP_WITHIN
        ),
        None,
    )
    if before is None or before.value is None:
        return ""
    if abs(degrees - converted(before.value, before.unit or "F", "F")) <= LEAP_F:
        return ""
    earlier = (held for note in state.undo for held in note.stored if now - held.at <= STEADY_FOR)
    for held in (*stored, *earlier):
        other = held.reading
        if other.what != reading.what or other is reading or other == before or other.value is None:
            continue
        if abs(degrees - converted(other.value, other.unit or "F", "F")) <= LEAP_F:
            return ""
    return f"{label(reading.what)}: it was {shown(before.value, before.unit)} within the hour. Is that right?"


def _risen(reading: Reading, stored: Sequence[Stored], coach: Coach) -> str:
    """The question about a cylinder or a fuel tank that has more in it than before, and is not full."""
    share = fraction_of_full(reading, coach) if reading.what in ("propane", "diesel", "def") else None
    if share is None or share >= FULL:
        return ""
    earlier = [
        before
        for held in stored
        if held.reading is not reading and (held.reading.what, held.reading.which) == (reading.what, reading.which)
        if (before := fraction_of_full(held.reading, coach)) is not None
    ]
    if not earlier or share - earlier[-1] < RISEN:
        return ""
    swapped = " or swapped" if reading.what == "propane" else ""
    was = f"up from {100 * earlier[-1]:.0f} %, and no fill was told"
    return f"{label(reading.what, reading.which)}: {was}. Was it filled{swapped}?"
