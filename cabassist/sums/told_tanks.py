"""Sums over a tank that the families of roles leave: told in another order, with numbers that have no unit, or much beside.

One balance answers them: what may flow = rate x time. The story (`tank_story.py`) has every amount in its place; here is
only worked out what the question wants, and nothing when two readings would answer differently.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_clock import spans
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted, wanted
from cabassist.sums.families import at_clock, today_at
from cabassist.sums.sums_water import dumped_by
from cabassist.sums.sums_water_verdict import FEARED, verdict_of
from cabassist.sums.tank_story import FRESH, WASTE, Level, Story, Tank, tank_story
from cabassist.sums.tank_volumes import EACH, ToldTank, by_percent, gallons_of, size_of
from cabassist.sums.told_tanks_used import first_empty_or_full, showers, uses

_OTHERS = Lazy(
    r"\b(?:diesel|def|fuel|mpg|batter\w*|bank|amps?|volts?|watts?|tires?|axles?|luggage|bags?|chill|freez\w*|fro[sz]e\w*|ice|idle|idling|generator|genny|bleach|ppm|propane|lp|lpg|cylinders?|bottles?|furnaces?|btus?|pounders?"
    r"|coolant|cord|breaker|heater|weigh\w*|heavier|lighter|pounds?|speed|inch\w*|imperial|chlorine)\b|<(?:drop|A|V|W|lb|psi|in|cm|BTU)[/>]"
)
_WATER = Lazy(
    r"\b(?:waste|black|gr[ae]y|sewage|holding|fresh|clean|drinking|potable|water|tanks?|hose|fill\w*|showers?|flush\w*|toilet|dump|tap|spigot)\b"
)
_FILLING = Lazy(
    r"\b(?:hose|spigot|tap|brim|to put in|(?:putting|running|pumping) (?:water |it )?in|(?<!next )(?<!the last )fill|filling|filled|top (?:it )?(?:off|up)|topping|tanker)\b"
)
_DRAINS = Lazy(
    r"\bdrain(?:s|ing|ed)? (?:at|out|it|rate)\b|\bto drain\b|\bpump(?:ed|ing)? out\b|\bdump(?:s|ing) (?:at|takes)\b|\bempties at\b"
)
_FIRST = Lazy(r"\b(?:first|sooner|soonest|before the other|gives out)\b")
_RATE_ASKED = Lazy(r"\b(?:an|per|a|each|every) (?:hour|day|minute)\b|\bhourly\b|\brate\b|\bflow\b")
_MOST = Lazy(r"\b(?:most|may|can|allowed|max\w*|at most|afford)\b")
_EMPTY = Lazy(r"\b(?:empty|dry|out|gone|runs? out|last|lasts)\b")
_FULL = Lazy(r"\b(?:full|fill\w*|overflow\w*|over the top|brim|run over|runs over|top)\b")


def told_tank(question: Question, want: Wanted, coach: Coach, now: datetime) -> tuple[str, Estimate] | None:
    """What the tanks come to, with the calculation it belongs to; None when an amount has no place or nothing follows."""
    frame = question.frame
    if (
        _OTHERS.search(frame)
        or not (_WATER.search(frame) or "/each>" in frame)
        or _DRAINS.search(frame)
        or dumped_by(question)
    ):
        return None
    story = tank_story(question)
    if story is None:
        return None
    if (
        story.elapsed is None
        and want.rate
        and any(len(one.levels) == 2 for one in (story.fresh, story.waste, story.tank))
    ):
        story.elapsed, story.needed = story.needed, None  # "went from 22 to 40 in four hours, what's that an hour"
    told = ToldTank(story, question, want, coach, now)
    if story.target is not None and (
        story.per_use is not None or story.minutes_each is not None or _FIRST.search(frame)
    ):
        return None
    if story.times is not None and story.per_use is None:
        return None
    both = FRESH.search(frame) is not None and WASTE.search(frame) is not None
    if both and _FIRST.search(frame):
        return _named("which-first", first_empty_or_full(told))
    name = "waste" if WASTE.search(frame) and not story.fresh.levels else "fresh"
    tank = _merged(story, name, both)
    if tank is None:
        return None
    if story.minutes_each is not None or (story.flow is not None and story.people and "shower" in frame):
        return _named("fresh-hours", showers(told, tank))
    if story.per_use is not None:
        return _named("waste-hours" if name == "waste" else "fresh-hours", uses(told, tank, name))
    runs_dry = bool(tank.rates) and FEARED.search(frame) is not None
    filling = name == "fresh" and _FILLING.search(frame) is not None and (story.flow is not None or not (story.people or runs_dry))  # fmt: skip
    made = _flowing(told, tank, name, filling)
    return _named("fill-time" if filling else f"{name}-hours", made)


def untimed(question: Question) -> str:
    """What is to be asked when two levels are told, and not how long it was from the one to the other."""
    want, frame = wanted(question), question.frame
    if want is None or not (want.rate or want.kind == "time") or _OTHERS.search(frame) or not _WATER.search(frame):
        return ""
    story = tank_story(question)
    tank = None if story is None else _merged(story, "waste" if WASTE.search(frame) else "fresh", False)
    if story is None or tank is None or len(tank.levels) != 2 or tank.rates or tank.uses or story.flow:
        return ""
    timed = story.elapsed is not None or story.needed is not None or len(story.clocks) > 1
    return "" if timed else "How many hours lie between those two levels?"


def _named(calculation: str, made: Estimate | None) -> tuple[str, Estimate] | None:
    return None if made is None else (calculation, made)


def _merged(story: Story, name: str, both: bool) -> Tank | None:
    """The one tank a question is about, with what was told of "the tank"; None when it tells of two."""
    named, other = story.of(name), story.of("fresh" if name == "waste" else "waste")
    if other.levels or other.size is not None or other.room is not None or other.rates:
        return None
    if both and other.uses:
        return None
    plain = story.tank
    if named.size is not None and plain.size is not None:
        return None
    return replace(
        named, levels=[*named.levels, *plain.levels], size=named.size if named.size is not None else plain.size,
        room=named.room if named.room is not None else plain.room, bare_rate=named.bare_rate or plain.bare_rate, rates=[*named.rates, *plain.rates], uses=[*named.uses, *other.uses],
    )  # fmt: skip


@dataclass(frozen=True)
class _Rate:
    hourly: float
    line: str
    level: float | None = None
    """The level from which it goes on, when two were told."""
    clock: float | None = None


_RIGHT_BEHIND = 2
"""Words to a time of day that is a level's own: "it was 78 at eight"."""
_WAS_AT = Lazy(r"\b(?:was|were|had|started|began)\b")


_DAY_BEFORE = Lazy(r"\b(?:last (?:night|nite|evening)|yesterday)\b")


def _by_day(t: ToldTank) -> bool | None:
    """Whether the time told second is of the evening before, the first of today; None where the days are not told apart."""
    if len(t.story.clocks) != 2:
        return None
    words = t.question.words
    spans = [" ".join(words[one.amount.start : one.amount.end + 2]) for _, _, one in t.story.clocks]
    before = [_DAY_BEFORE.search(span) is not None for span in spans]
    return None if before[0] is before[1] else before[1]


def _between(t: ToldTank, tank: Tank, name: str, rising: bool, assumed: list[str]) -> _Rate | None:
    """The rate of two levels, and the later one."""
    first, last = tank.levels
    backward = (_WAS_AT.search(last.said.left) is not None and _WAS_AT.search(first.said.left) is None) or (
        Lazy(r"\bnow\b").search(f"{first.said.left} {first.said.right[:12]}") is not None
    )
    clocks = t.story.clocks
    if (told := _by_day(t)) is not None:
        backward = told
    if backward:
        first, last = last, first
        clocks = clocks[::-1]
    at_first = first.said.amount.end
    clocks = sorted(
        clocks,
        key=lambda one: not (0 < one[2].amount.start - at_first <= _RIGHT_BEHIND and one[2].left.endswith("at ")),
    )
    a, b = (gallons_of(one, tank, t.coach, name, assumed) for one in (first, last))
    if a is None or b is None:
        return None
    if t.story.elapsed is not None:
        if len(clocks) > 1:
            return None
        hours = t.story.elapsed
        end = (clocks[0][0] + hours) % 24 if clocks else None
    else:
        times = [
            clock for k, clock in enumerate(clocks) if not any(abs(clock[0] - other[0]) < 1e-6 for other in clocks[:k])
        ]
        if len(times) != 2:
            return None
        sure = times[0][1] and times[1][1]
        hours = (times[1][0] - times[0][0]) % (24 if sure else 12) or 12.0
        end = (times[0][0] + hours) % 24 if times[0][1] else times[1][0]
    moved = b - a if rising else a - b
    if moved <= 0 or hours <= 0:
        return None
    hourly = moved / hours
    return _Rate(hourly, f"{shown(moved)} gal in {shown(hours)} h = {shown(hourly)} gal an hour", b, end)


def _rate(t: ToldTank, tank: Tank, name: str, rising: bool, assumed: list[str]) -> _Rate | None:
    story = t.story
    told = [bool(story.flow), bool(tank.rates), bool(tank.uses), len(tank.levels) == 2]
    if sum(told) != 1:
        return None
    if story.flow:
        return _Rate(story.flow * 60, f"{shown(story.flow)} gal a minute")
    if tank.rates:
        if story.people and EACH.search(t.question.frame):
            return None  # what each uses, or all of them?
        if by_percent(tank):
            hourly = tank.rates[0] / 100 * size_of(tank, t.coach, name, assumed)
            return _Rate(hourly, f"{shown(tank.rates[0])} % an hour = {shown(hourly)} gal an hour")
        return _Rate(tank.rates[0], f"{shown(tank.rates[0])} gal an hour")
    if tank.uses:
        if story.people is None or len(tank.uses) != 1:
            return None
        hourly = story.people * tank.uses[0]
        return _Rate(hourly, f"{shown(story.people)} x {shown(24 * tank.uses[0])} = {shown(24 * hourly)} gal a day")
    return _between(t, tank, name, rising, assumed)


_TILL = Lazy(
    r"\b(?:till?|until|to|by|before|make(?: it)?(?: to| till?| until)?|through to|okay for|ok for)(?: about)? $"
)


def _till(t: ToldTank) -> float | None:
    """Hours up to the time of day that it is asked to last until, from the other one that is told or from now."""
    clocks = t.story.clocks
    if not t.want.judged or not 1 <= len(clocks) <= 2 or t.story.elapsed is not None or sum(len(tank.levels) + (tank.room is not None) for tank in (t.story.fresh, t.story.waste, t.story.tank)) != 1:  # fmt: skip
        return None
    ends = [k for k, (_, _, said) in enumerate(clocks) if _TILL.search(said.left)]
    if len(ends) != 1:
        return None
    end, sure, said = clocks[ends[0]]
    t.story.clocks = [clock for k, clock in enumerate(clocks) if k != ends[0]]
    start, known = (clocks[1 - ends[0]][0], clocks[1 - ends[0]][1]) if len(clocks) == 2 else (t.now.hour + t.now.minute / 60, True)  # fmt: skip
    firsts, lasts = ((one,) if told else (one, one + 12) for one, told in ((start, known), (end, sure)))
    return min(one or 12.0 for one in spans(firsts, lasts, said.amount.tomorrow)) or None


_ROOM = Lazy(
    r"\b(?:can|will|could) (?:still |also )?(?:go|fit|be put)\b|\bgo(?:es)? in (?:it|yet)?\b|\bfits?\b|\broom\b|\b(?:to|can i|do i|does it) (?:top|fill|take|need|add)\b|\bmore (?:will|does|can)\b"
)
_RAN_OVER = Lazy(r"\b(?:full|ran over|runs over|overflow\w*|spill\w*|brim|top|topped|done|filled up)\b")


def _room(t: ToldTank, tank: Tank, name: str, assumed: list[str]) -> Estimate | None:
    """What still goes into a tank when nothing flows."""
    story = t.story
    if len(tank.levels) != 1 or tank.rates or tank.uses or story.people or story.flow or story.clocks or story.needed or story.keep or story.target:  # fmt: skip
        return None
    inside = gallons_of(tank.levels[0], tank, t.coach, name, assumed)
    size = size_of(tank, t.coach, name, assumed)
    if inside is None or not 0 <= inside <= size or not _is_inside(tank.levels[0]):
        return None
    line = f"{shown(size)} - {shown(inside)} gal = {shown(size - inside)} gal"
    return exact("room", size - inside, "gal", working=(line,), assumptions=tuple(assumed), source="arithmetic")


_FLOW_ASKED = Lazy(r"\b(?:what|which) (?:\w+ )?(?:flow|rate)\b|\bhow fast\b")


def _hose_flow(t: ToldTank, tank: Tank) -> Estimate | None:
    """The flow that puts so much in, in the time that is told."""
    hours = t.story.elapsed if t.story.elapsed is not None else t.story.needed
    if hours is None or not hours > 0 or tank.room is None or tank.levels or tank.rates or t.story.flow or t.story.clocks:  # fmt: skip
        return None
    per = t.want.rate or "min"
    flow = tank.room / hours * {"h": 1.0, "day": 24.0, "min": 1 / 60}[per]
    line = f"{shown(tank.room)} gal ÷ {shown(hours * 60)} min = {shown(flow)} gal a {'minute' if per == 'min' else per}"
    return exact("flow", flow, f"gal/{per}", working=(line,), source="arithmetic")


def _filled(t: ToldTank, tank: Tank, assumed: list[str]) -> Estimate | None:
    """The flow of a hose that filled a tank between two times of day."""
    if not _RAN_OVER.search(t.question.frame) or not t.want.rate or t.story.needed or t.story.elapsed or tank.rates:
        return None
    inside = gallons_of(tank.levels[0], tank, t.coach, "fresh", assumed) if tank.levels else None
    (start, _, _), (end, _, _) = t.story.clocks
    hours = (end - start) % 12
    size = size_of(tank, t.coach, "fresh", assumed)
    if inside is None or not hours > 0 or inside >= size:
        return None
    factor, span = {"h": (1.0, "hour"), "day": (24.0, "day"), "min": (1 / 60, "minute")}[t.want.rate]
    flow = (size - inside) / hours * factor
    line = f"({shown(size)} - {shown(inside)}) gal ÷ {shown(hours * 60)} min = {shown(flow)} gal a {span}"
    return exact("flow", flow, f"gal/{t.want.rate}", working=(line,), assumptions=tuple(assumed), source="arithmetic")


def _flowing(t: ToldTank, tank: Tank, name: str, filling: bool) -> Estimate | None:
    story, want = t.story, t.want
    assumed: list[str] = []
    rising = name == "waste" or filling
    if (story.keep is not None and rising) or (story.goal is not None and (story.keep or story.target)):
        return None
    if want.kind == "people":
        return _carried(t, tank, name, rising, assumed)
    until = f"at {shown(100 * story.target)} %" if story.target is not None else f"at {shown(story.goal.value)}" if story.goal is not None else ""  # fmt: skip
    spans = not (story.flow or tank.rates or tank.uses) and len(tank.levels) == 1
    story.needed = _till(t) if story.needed is None else story.needed
    if spans and story.target is None and story.needed and (want.rate or want.kind == ""):
        return _may_flow(t, tank, name, rising, assumed)
    if tank.room is not None and want.kind in ("", "volume") and (want.rate or _FLOW_ASKED.search(t.question.frame)):
        return _hose_flow(t, tank)
    if filling and not story.flow and len(story.clocks) == 2 and len(tank.levels) <= 1:
        return _filled(t, tank, assumed)
    if _ROOM.search(t.question.frame) and want.kind == "volume" and not want.rate:
        return _room(t, tank, name, assumed)
    tank = _apart(tank, filling, story.flow)
    rate = _rate(t, tank, name, rising, assumed)
    if rate is None or rate.hourly <= 0:
        return None
    if story.flow and (not filling or any(not _is_inside(one) for one in tank.levels)):
        return None  # "fill 75 gallons" is what goes in, not what is in already
    level = rate.level
    if level is None and tank.levels:
        level = gallons_of(tank.levels[0], tank, t.coach, name, assumed)
        if level is None:
            return None
    if level is None and tank.room is None:
        return None
    if tank.room is not None:
        if level is not None or not rising or until:
            return None
        gallons = tank.room
    elif story.goal is not None:
        by_share = story.goal.kind == "bare" and all(one.kind == "share" for one in tank.levels)
        goal = replace(story.goal, value=story.goal.value / 100, kind="share") if by_share else story.goal
        end = gallons_of(goal, replace(tank, levels=[*tank.levels, goal]), t.coach, name, assumed)
        if end is None:
            return None
        gallons = (end - (level or 0.0)) * (1 if rising else -1)
    elif rising:
        gallons = size_of(tank, t.coach, name, assumed) * (story.target or 1.0) - (level or 0.0)
    elif story.target is not None:
        return None
    else:
        gallons = (level or 0.0) - (story.keep or 0.0)
    if gallons <= 0:
        return None
    size = size_of(tank, t.coach, name, assumed) if {one.kind for one in tank.levels} == {"share"} else None
    return _answer(t, rate, gallons, rising, filling, assumed, until, size)


def _apart(tank: Tank, filling: bool, flow: float | None) -> Tank:
    """The tank with what goes in: "from 35 to 110 gallons" at the flow of a hose."""
    if not filling or flow is None or len(tank.levels) != 2 or {one.kind for one in tank.levels} > {"gal", "bare"}:
        return tank
    first, last = tank.levels
    told = first.said.left.endswith("from ") and last.said.left.endswith("to ") and "gal" in (first.kind, last.kind)
    return replace(tank, levels=[], room=last.value - first.value) if told and last.value > first.value else tank


_INSIDE_AFTER = Lazy(r"^(?:\w+ ){0,2}?(?:in|already|now|left|aboard|inside)\b|^(?:full )?(?:out )?of\b")
_INSIDE_BEFORE = Lazy(r"\b(?:has|have|had|got|at|is|reads?|with|from|holding|says?|shows?|down to) (?:about |only )?$")


def _is_inside(level: Level) -> bool:
    """Whether a level is told as what is in the tank."""
    return level.kind == "share" or bool(_INSIDE_AFTER.search(level.said.right) or _INSIDE_BEFORE.search(level.said.left))  # fmt: skip


_NOW_TOLD = Lazy(r"\bit (?:is )?(?:now |about |just )*# |# (?:right )?now\b")


def _answer(
    t: ToldTank, rate: _Rate, gallons: float, rising: bool, filling: bool, assumed: list[str], until: str, size: float | None
) -> Estimate | None:  # fmt: skip
    """What is wanted of so many gallons at a rate; `size` is the tank's when its levels are told in percent."""
    story, want = t.story, t.want
    hours = gallons / rate.hourly
    work = (rate.line, f"{shown(gallons)} gal ÷ {shown(rate.hourly)} gal an hour = {shown(hours)} h")
    name = f"until it is {until}" if until else "until it is full" if rising else "lasts"
    start = rate.clock
    if start is None and story.clocks and rate.level is None:
        if len(story.clocks) > 1:
            return None
        start = story.clocks[0][0]
    if start is not None and len(story.clocks) == 1 and _NOW_TOLD.search(f"{story.clocks[0][2].left}# {story.clocks[0][2].right}"):  # fmt: skip
        now = t.now.hour + t.now.minute / 60  # the half of the day nearer to the clock
        start = start if story.clocks[0][1] or start >= 12 else min(start, start + 12, key=lambda one: abs(one - now))
        story.clocks = [(start, True, story.clocks[0][2])]
    begin = today_at(t.now, start)
    when = at_clock(begin, hours) if start is not None or want.clock else ""
    if start is not None and not any(sure or one.unit == "clock" and value >= 13 for value, sure, one in story.clocks):
        when = f"That is at {(begin + timedelta(hours=hours)):%-I:%M}."  # morning or evening was not said
    if want.rate or (want.kind == "volume" and _RATE_ASKED.search(t.question.frame)):
        if rate.level is None or story.needed:
            return None
        per = want.rate or "h"
        if not until:
            when = when.replace("That is", "Full" if rising else "Empty")
        value = rate.hourly * {"h": 1.0, "day": 24.0, "min": 1 / 60}[per]
        if size is not None and want.kind in ("share", ""):
            of_it = (figure("gallons", value, f"gal/{per}"), figure(name, hours, "h"))
            return exact("rate", 100 * value / size, f"percent/{per}", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=when, also=of_it)  # fmt: skip
        also: tuple[Figure, ...] = (figure(name, hours, "h"),)
        return exact("rate", value, f"gal/{per}", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=when, also=also)  # fmt: skip
    if story.needed is not None:
        used = rate.hourly * story.needed
        left = gallons - used
        also = (
            figure("flows in that time", used, "gal"),
            figure("to spare" if left >= 0 else "short", abs(left), "gal"),
        )
        enough = left >= 0 if not filling else hours <= story.needed
        verdict = verdict_of(t.question, enough, hours, story.needed, filling)
        if want.kind == "time" or (want.kind == "" and want.judged):
            return exact(name, hours * 60 if filling else hours, "min" if filling else "h", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=verdict, also=also)  # fmt: skip
        return None
    if want.kind != "time":
        return None
    if filling and want.unit in ("", "min"):
        return exact("filling takes", hours * 60, "min", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=when)  # fmt: skip
    return exact(name, hours, "h", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=when, also=(figure("days", hours / 24, "days"), figure("rate", rate.hourly, "gal/h")))  # fmt: skip


_IS_FULL = Lazy(
    r"\b(?:is|are|it|we|tank|fresh|leave|start\w*|now) (?:\w+ )?(?:full|topped|brimming)\b|\bfull (?:at|tank|of)\b"
)


def _carried(t: ToldTank, tank: Tank, name: str, rising: bool, assumed: list[str]) -> Estimate | None:
    """How many people the water, or the room, is enough for over a time."""
    story = t.story
    if story.people is not None or story.needed is None or len(tank.uses) != 1 or tank.rates or story.flow or story.clocks or story.goal is not None:  # fmt: skip
        return None
    gallons = tank.room
    if len(tank.levels) == 1 and gallons is None:
        inside = gallons_of(tank.levels[0], tank, t.coach, name, assumed)
        if inside is None:
            return None
        gallons = size_of(tank, t.coach, name, assumed) * (story.target or 1.0) - inside if rising else inside - (story.keep or 0.0)  # fmt: skip
    if (
        gallons is None
        and not tank.levels
        and not rising
        and tank.size is not None
        and _IS_FULL.search(t.question.frame)
    ):
        gallons = tank.size - (story.keep or 0.0)
    if gallons is None or gallons <= 0 or len(tank.levels) > 1 or (tank.levels and tank.room is not None):
        return None
    each = tank.uses[0] * story.needed
    line = f"{shown(gallons)} gal ÷ ({shown(tank.uses[0])} gal an hour x {shown(story.needed)} h) = {shown(gallons / each)}"
    return exact("people it is enough for", float(int(gallons / each + 1e-9)), "persons", working=(line,), assumptions=tuple(assumed), source="arithmetic")  # fmt: skip


def _may_flow(t: ToldTank, tank: Tank, name: str, rising: bool, assumed: list[str]) -> Estimate | None:
    """How much an hour may be used, or put in, so that it lasts."""
    story = t.story
    inside = gallons_of(tank.levels[0], tank, t.coach, name, assumed)
    if inside is None or not story.needed or story.elapsed or len(story.clocks) > 1:
        return None
    if not (_MOST.search(t.question.frame) and _RATE_ASKED.search(t.question.frame)):
        return None
    per = t.want.rate or "h"
    gallons = size_of(tank, t.coach, name, assumed) - inside if rising else inside - (story.keep or 0.0)
    if gallons <= 0:
        return None
    total = gallons / story.needed * {"h": 1.0, "day": 24.0, "min": 1 / 60}[per]
    span = {"h": "an hour", "day": "a day", "min": "a minute"}[per]
    top = f"{shown(size_of(tank, t.coach, name, assumed))} - {shown(inside)}" if rising else f"{shown(inside)} - {shown(story.keep)}" if story.keep else shown(inside)  # fmt: skip
    line = f"({top}) gal ÷ {shown(story.needed)} h = {shown(total)} gal {span}"
    each = story.people is not None and EACH.search(t.question.frame) is not None
    if each and story.people:
        share = total / story.people
        return exact("each may use", share, f"gal/{per}", working=(line, f"÷ {shown(story.people)} = {shown(share)} gal"), assumptions=tuple(assumed), source="arithmetic", also=(figure("all together", total, f"gal/{per}"), figure("each", share, "gal")))  # fmt: skip
    return exact("may flow", total, f"gal/{per}", working=(line,), assumptions=tuple(assumed), source="arithmetic")
