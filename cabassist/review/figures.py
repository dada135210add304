"""The figures of a report, gathered from conversations one by one: memory does not grow with the events."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from cabassist.review.conversation import Conversation, Reading, Turn, Walk

MAX_COLUMNS = 31
"""Columns of a chart; more days than that become weeks, then months."""
MAX_FORECASTS = 400
SHARE = {"percent": 0.01, "fraction": 1.0}
SUPPLIES = ("fresh", "waste", "propane", "diesel")


@dataclass
class Hazard:
    """How one kind of hazard was handled."""

    topic: str
    times: int = 0
    to_the_end: int = 0
    passed_over: int = 0
    """Cautions after which the driver did not go on."""
    seconds: list[float] = field(default_factory=list)
    """From the report to the second step."""


@dataclass(frozen=True)
class Forecast:
    """What two readings foretold for the time of a third, and what that was; shares of full, 0 to 1."""

    supply: str
    at: datetime
    foretold: float
    actual: float


@dataclass
class Figures:
    """Everything a report shows."""

    sessions: int = 0
    turns: int = 0
    questions: int = 0
    unanswered: int = 0
    asked_back: int = 0
    first: datetime | None = None
    last: datetime | None = None
    kinds: Counter[str] = field(default_factory=Counter)
    by_day: dict[date, Counter[str]] = field(default_factory=lambda: defaultdict(Counter))
    """Questions of each system by day; what nobody answered counts as "not answered"."""
    topics: Counter[str] = field(default_factory=Counter)
    walks: Counter[str] = field(default_factory=Counter)
    """Walks by how they ended."""
    hazards: dict[str, Hazard] = field(default_factory=dict)
    forecasts: list[Forecast] = field(default_factory=list)
    readings: int = 0


NOT_ANSWERED, ASKED_BACK = "not answered", "asked back"
Levels = dict[tuple[str, str], list[tuple[datetime, float]]]
"""When each supply stood where, share of full, 0 to 1; each cylinder or tank of a supply for itself."""


class Figuring:
    """Adds conversations up. `systems` gives the system of each topic, `hazards` tells which are hazards."""

    def __init__(self, systems: Mapping[str, str], hazards: frozenset[str]) -> None:
        self.figures = Figures()
        self._systems, self._hazards = systems, hazards

    def add(self, told: Conversation) -> None:
        """Count one session."""
        f = self.figures
        f.sessions += 1
        f.first = min(f.first or told.start, told.start)
        f.last = max(f.last or told.start, told.start)
        levels: Levels = {}
        for turn in told.turns:
            f.turns += 1
            f.kinds[turn.kind] += 1
            if turn.question:
                self._question(turn)
            for reading in turn.readings:
                self._level(reading, turn.at, levels)
        for walk in told.walks:
            f.walks[walk.ended] += 1
            if walk.topic in self._hazards:
                self._hazard(walk)

    def _question(self, turn: Turn) -> None:
        f = self.figures
        f.questions += 1
        row = f.by_day[turn.at.date()]
        if turn.kind == "unknown":
            f.unanswered += 1
            row[NOT_ANSWERED] += 1
        elif turn.kind == "clarify":
            f.asked_back += 1
            row[ASKED_BACK] += 1
        else:
            row[self._systems.get(turn.topic or "", "other")] += 1
            if turn.topic:
                f.topics[turn.topic] += 1

    def _hazard(self, walk: Walk) -> None:
        row = self.figures.hazards.setdefault(walk.topic, Hazard(walk.topic))
        row.times += 1
        row.to_the_end += walk.done
        row.passed_over += walk.cautions_passed
        if 1 in walk.seconds and walk.reached > 1:
            row.seconds.append(walk.seconds[1])

    def _level(self, reading: Reading, at: datetime, levels: Levels) -> None:
        """A reading, such as the waste tank at 40 percent, against what the two before it foretold."""
        self.figures.readings += 1
        if reading.what not in SUPPLIES or reading.unit not in SHARE or reading.value is None:
            return
        share = reading.value * SHARE[reading.unit]
        known = levels.setdefault((reading.what, reading.which), [])
        if len(known) >= 2 and len(self.figures.forecasts) < MAX_FORECASTS:
            (t1, a), (t2, b) = known[-2:]
            # a tank that was filled or dumped in between follows no rate
            steady = t2 > t1 and at > t2 and (b - a) * (share - b) > 0
            if steady:
                rate = (b - a) / (t2 - t1).total_seconds()
                foretold = min(1.0, max(0.0, b + rate * (at - t2).total_seconds()))
                self.figures.forecasts.append(Forecast(reading.what, at, foretold, share))
        known.append((at, share))


def columns(by_day: Mapping[date, Counter[str]]) -> tuple[str, list[tuple[str, Counter[str]]]]:
    """The days as columns with a name for each, empty ones included, and what a column is: a day, else a week or a month.

    Never more than MAX_COLUMNS; of a longer time the newest.
    """
    units = {unit: _summed(by_day, unit) for unit in ("day", "week", "month")}
    unit = next((unit for unit, sums in units.items() if len(sums) <= MAX_COLUMNS), "month")
    form = "%b %Y" if unit == "month" else "%b %d"
    return unit, [(at.strftime(form), count) for at, count in list(units[unit].items())[-MAX_COLUMNS:]]


def _summed(by_day: Mapping[date, Counter[str]], unit: str) -> dict[date, Counter[str]]:
    sums: dict[date, Counter[str]] = {}
    if not by_day:
        return sums
    at, last = _begin(min(by_day), unit), max(by_day)
    while at <= last:
        sums[at] = Counter()
        at = _after(at, unit)
    for day, count in by_day.items():
        sums[_begin(day, unit)].update(count)
    return sums


def _begin(day: date, unit: str) -> date:
    if unit == "week":
        return day - timedelta(days=day.weekday())
    return day.replace(day=1) if unit == "month" else day


def _after(day: date, unit: str) -> date:
    if unit == "month":
        return (day.replace(day=28) + timedelta(days=4)).replace(day=1)
    return day + timedelta(days=7 if unit == "week" else 1)
