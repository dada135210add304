"""Sums over a tank that the families of roles leave: told in another order, with numbers that have no unit, or much beside.

One balance answers them: what may flow = rate x time. The story (`tank_story.py`) has every amount in its place; here is
only worked out what the question wants, and nothing when two readings would answer differently.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from cabassist.coach import Coach
from cabassist.dialogue.sums import at_clock
from cabassist.dialogue.sums_water import dumped_by
from cabassist.dialogue.tank_story import FRESH, WASTE, Level, Story, Tank, tank_story
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_OTHERS = Lazy(
    r"\b(?:diesel|def|fuel|mpg|batter\w*|bank|amps?|volts?|watts?|tires?|axles?|luggage|bags?|chill|freez\w*|fro[sz]e\w*|ice|idle|idling|generator|genny|bleach|ppm|propane|lp|lpg|cylinders?|bottles?|furnaces?|btus?|pounders?"
    r"|coolant|cord|breaker|heater|weigh\w*|heavier|lighter|pounds?|speed|inch\w*|imperial|chlorine)\b|<(?:drop|A|V|W|lb|psi|in|cm|BTU)[/>]"
)
_WATER = Lazy(
    r"\b(?:waste|black|gr[ae]y|sewage|holding|fresh|clean|drinking|potable|water|tanks?|hose|fill\w*|showers?|flush\w*|toilet|dump|tap)\b"
)
_FILLING = Lazy(r"\b(?:hose|spigot|fill|filling|filled|top (?:it )?(?:off|up)|topping|tanker)\b")
_DRAINS = Lazy(
    r"\bdrain(?:s|ing|ed)? (?:at|out|it|rate)\b|\bto drain\b|\bpump(?:ed|ing)? out\b|\bdump(?:s|ing) (?:at|takes)\b|\bempties at\b"
)
_FIRST = Lazy(r"\b(?:first|sooner|soonest|before the other|gives out)\b")
_EACH = Lazy(
    r"\b(?:each|apiece|per (?:person|head|player|man)|a (?:head|person|man)|every (?:one|player|person)|everybody|everyone|one of (?:us|them))\b"
)
_RATE_ASKED = Lazy(r"\b(?:an|per|a|each|every) (?:hour|day|minute)\b|\bhourly\b|\brate\b|\bflow\b")
_MOST = Lazy(r"\b(?:most|may|can|allowed|max\w*|at most|afford)\b")
_EMPTY = Lazy(r"\b(?:empty|dry|out|gone|runs? out|last|lasts)\b")
_FULL = Lazy(r"\b(?:full|fill\w*|overflow\w*|over the top|brim|run over|runs over|top)\b")


@dataclass(frozen=True)
class _Told:
    story: Story
    question: Question
    want: Wanted
    coach: Coach
    now: datetime


def told_tank(question: Question, want: Wanted, coach: Coach, now: datetime) -> tuple[str, Estimate] | None:
    """What the tanks come to, with the calculation it belongs to; None when an amount has no place or nothing follows."""
    frame = question.frame
    if _OTHERS.search(frame) or not _WATER.search(frame) or _DRAINS.search(frame) or dumped_by(question):
        return None
    story = tank_story(question)
    if story is None:
        return None
    told = _Told(story, question, want, coach, now)
    if story.target is not None and (
        story.per_use is not None or story.minutes_each is not None or _FIRST.search(frame)
    ):
        return None
    if story.times is not None and story.per_use is None:
        return None
    both = FRESH.search(frame) is not None and WASTE.search(frame) is not None
    if both and _FIRST.search(frame):
        return _named("which-first", _first(told))
    name = "waste" if WASTE.search(frame) and not story.fresh.levels else "fresh"
    tank = _merged(story, name, both)
    if tank is None:
        return None
    if story.minutes_each is not None or (story.flow is not None and story.people and "shower" in frame):
        return _named("fresh-hours", _showers(told, tank))
    if story.per_use is not None:
        return _named("waste-hours" if name == "waste" else "fresh-hours", _uses(told, tank, name))
    filling = name == "fresh" and _FILLING.search(frame) is not None and (story.flow is not None or not story.people)
    made = _flowing(told, tank, name, filling)
    return _named("fill-time" if filling else f"{name}-hours", made)


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


def _gallons(level: Level, tank: Tank, coach: Coach, name: str, assumed: list[str]) -> float | None:
    if level.kind == "share":
        return level.value * _size(tank, coach, name, assumed)
    if level.kind == "bare" and {one.kind for one in tank.levels} == {"bare", "share"} and level.value <= 100:
        return level.value / 100 * _size(tank, coach, name, assumed)
    if level.kind == "bare" and not _in_gallons(tank):
        return None
    return level.value


def _in_gallons(tank: Tank) -> bool:
    """Whether a number without a unit is in gallons, as the others told of the tank are."""
    kinds = {one.kind for one in tank.levels} - {"bare"}
    return kinds == {"gal"} or (not kinds and (tank.size is not None or bool(tank.rates)))


def _size(tank: Tank, coach: Coach, name: str, assumed: list[str]) -> float:
    if tank.size is not None:
        return tank.size
    own = float(coach.tank("waste" if name == "waste" else "fresh").capacity_gal)
    line = f"{name} tank {shown(own)} gal (profile)"
    if line not in assumed:
        assumed.append(line)
    return own


def _showers(t: _Told, tank: Tank) -> Estimate | None:
    """How many showers, or how many minutes for each, from what may be used."""
    story = t.story
    if story.flow is None or len(tank.levels) != 1 or story.needed or story.elapsed or tank.rates or tank.uses:
        return None
    assumed: list[str] = []
    have = _gallons(tank.levels[0], tank, t.coach, "fresh", assumed)
    if have is None or story.per_use is not None or story.times is not None:
        return None
    may = have - (story.keep or 0.0)
    if may <= 0:
        return None
    kept = (f"{shown(have)} - {shown(story.keep)} = {shown(may)} gal",) if story.keep else ()
    if story.minutes_each is not None:
        each = story.flow * story.minutes_each
        line = f"{shown(story.flow)} gal a minute x {shown(story.minutes_each)} min = {shown(each)} gal each"
        count = may / each
        work = (*kept, line, f"{shown(may)} ÷ {shown(each)} gal = {shown(count)}")
        whole = float(int(count + 1e-9))
        if story.people is None:
            return None if t.want.kind not in ("times", "people", "") else exact("showers", whole, "persons" if t.want.kind == "people" else "showers", working=work, assumptions=tuple(assumed), source="arithmetic")  # fmt: skip
        need = story.people * each
        enough = need <= may
        verdict = f"{'Yes' if enough else 'No'}: {shown(need)} gallons against {shown(may)}."
        also = (figure("showers", whole, "showers"), figure("to spare" if enough else "short", abs(may - need), "gal"))
        return exact("needed", need, "gal", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=verdict, also=also)  # fmt: skip
    if not story.people:
        return None
    minutes = may / story.people / story.flow
    line = f"{shown(may)} gal ÷ {shown(story.people)} ÷ {shown(story.flow)} gal a minute = {shown(minutes)} min each"
    return exact("for each", minutes, "min", working=(*kept, line), assumptions=tuple(assumed), source="arithmetic", also=(figure("gallons each", may / story.people, "gal"),))  # fmt: skip


def _uses(t: _Told, tank: Tank, name: str) -> Estimate | None:
    """What flushes come to beside the room there is, or for how many people there is room."""
    story = t.story
    if story.per_use is None or story.flow or story.needed or story.elapsed or tank.rates or tank.uses or story.clocks:
        return None
    assumed: list[str] = []
    have: float | None = tank.room
    inside = 0.0
    if have is None and len(tank.levels) == 1:
        told = _gallons(tank.levels[0], tank, t.coach, name, assumed)
        if told is None:
            return None
        inside = told
        have = _size(tank, t.coach, name, assumed) - told if name == "waste" else told - (story.keep or 0.0)
    elif tank.levels:
        return None
    elif have is None and tank.size is not None:
        have = tank.size
    if have is None:
        return None
    times = story.times or 1.0
    if t.want.kind == "people" or (t.want.kind == "times" and story.people is None):
        if story.people is not None:
            return None
        many = have / (times * story.per_use)
        line = f"{shown(have)} gal ÷ ({shown(times)} x {shown(story.per_use)} gal) = {shown(many)}"
        unit = "persons" if t.want.kind == "people" else t.want.unit or "times"
        return exact("people it is enough for" if unit == "persons" else unit, float(int(many + 1e-9)), unit, working=(line,), assumptions=tuple(assumed), source="arithmetic")  # fmt: skip
    if story.people is None or t.want.kind not in ("volume", ""):
        return None
    total = story.people * times * story.per_use
    work = (f"{shown(story.people)} x {shown(times)} x {shown(story.per_use)} gal = {shown(total)} gal",)
    fits = total <= have
    word = "to spare" if fits else "over" if name == "waste" else "short"
    verdict = f"{'Yes, it fits' if fits and name == 'waste' else 'Yes' if fits else 'No'}: {shown(total)} gallons against {shown(have)}, {shown(abs(have - total))} {word}."
    also: tuple[Figure, ...] = (figure(word, abs(have - total), "gal"),)
    if name == "waste" and inside:
        also = (*also, figure("in the tank then", inside + total, "gal"))
    return exact("comes to", total, "gal", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=verdict, also=also)  # fmt: skip


@dataclass(frozen=True)
class _Rate:
    hourly: float
    line: str
    level: float | None = None
    """The level from which it goes on, when two were told."""
    clock: float | None = None


def _between(t: _Told, tank: Tank, name: str, rising: bool, assumed: list[str]) -> _Rate | None:
    """The rate of two levels, and the later one."""
    first, last = tank.levels
    backward = Lazy(r"\b(?:was|were|had|started|began)\b").search(last.said.left) is not None or (
        Lazy(r"\bnow\b").search(f"{first.said.left} {first.said.right[:12]}") is not None
    )
    clocks = t.story.clocks
    if backward:
        first, last = last, first
        clocks = clocks[::-1]
    a, b = (_gallons(one, tank, t.coach, name, assumed) for one in (first, last))
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
        end = times[1][0]
    moved = b - a if rising else a - b
    if moved <= 0 or hours <= 0:
        return None
    hourly = moved / hours
    return _Rate(hourly, f"{shown(moved)} gal in {shown(hours)} h = {shown(hourly)} gal an hour", b, end)


def _rate(t: _Told, tank: Tank, name: str, rising: bool, assumed: list[str]) -> _Rate | None:
    story = t.story
    told = [bool(story.flow), bool(tank.rates), bool(tank.uses), len(tank.levels) == 2]
    if sum(told) != 1:
        return None
    if story.flow:
        return _Rate(story.flow * 60, f"{shown(story.flow)} gal a minute")
    if tank.rates:
        if story.people and _EACH.search(t.question.frame):
            return None  # what each uses, or all of them?
        if _by_percent(tank):
            hourly = tank.rates[0] / 100 * _size(tank, t.coach, name, assumed)
            return _Rate(hourly, f"{shown(tank.rates[0])} % an hour = {shown(hourly)} gal an hour")
        return _Rate(tank.rates[0], f"{shown(tank.rates[0])} gal an hour")
    if tank.uses:
        if story.people is None or len(tank.uses) != 1:
            return None
        hourly = story.people * tank.uses[0]
        return _Rate(hourly, f"{shown(story.people)} x {shown(24 * tank.uses[0])} = {shown(24 * hourly)} gal a day")
    return _between(t, tank, name, rising, assumed)


_ROOM = Lazy(
    r"\b(?:can|will|could) (?:still |also )?(?:go|fit|be put)\b|\bgo(?:es)? in (?:it|yet)?\b|\bfits?\b|\broom\b|\b(?:to|can i|do i|does it) (?:top|fill|take|need|add)\b|\bmore (?:will|does|can)\b"
)
_RAN_OVER = Lazy(r"\b(?:full|ran over|runs over|overflow\w*|spill\w*|brim|top|topped|done|filled up)\b")


def _room(t: _Told, tank: Tank, name: str, assumed: list[str]) -> Estimate | None:
    """What still goes into a tank when nothing flows."""
    story = t.story
    if len(tank.levels) != 1 or tank.rates or tank.uses or story.people or story.flow or story.clocks or story.needed or story.keep or story.target:  # fmt: skip
        return None
    inside = _gallons(tank.levels[0], tank, t.coach, name, assumed)
    size = _size(tank, t.coach, name, assumed)
    if inside is None or not 0 <= inside <= size or not _is_inside(tank.levels[0]):
        return None
    line = f"{shown(size)} - {shown(inside)} gal = {shown(size - inside)} gal"
    return exact("room", size - inside, "gal", working=(line,), assumptions=tuple(assumed), source="arithmetic")


def _filled(t: _Told, tank: Tank, assumed: list[str]) -> Estimate | None:
    """The flow of a hose that filled a tank between two times of day."""
    if not _RAN_OVER.search(t.question.frame) or not t.want.rate or t.story.needed or t.story.elapsed or tank.rates:
        return None
    inside = _gallons(tank.levels[0], tank, t.coach, "fresh", assumed) if tank.levels else None
    (start, _, _), (end, _, _) = t.story.clocks
    hours = (end - start) % 12
    size = _size(tank, t.coach, "fresh", assumed)
    if inside is None or not hours > 0 or inside >= size:
        return None
    factor, span = {"h": (1.0, "hour"), "day": (24.0, "day"), "min": (1 / 60, "minute")}[t.want.rate]
    flow = (size - inside) / hours * factor
    line = f"({shown(size)} - {shown(inside)}) gal ÷ {shown(hours * 60)} min = {shown(flow)} gal a {span}"
    return exact("flow", flow, f"gal/{t.want.rate}", working=(line,), assumptions=tuple(assumed), source="arithmetic")


def _by_percent(tank: Tank) -> bool:
    """Whether a rate without a unit is in percent, as the level is."""
    return tank.bare_rate and tank.size is None and {one.kind for one in tank.levels} == {"share"}


def _flowing(t: _Told, tank: Tank, name: str, filling: bool) -> Estimate | None:
    story, want = t.story, t.want
    assumed: list[str] = []
    rising = name == "waste" or filling
    if story.keep is not None and rising:
        return None
    until = f"at {shown(100 * story.target)} %" if story.target is not None else ""
    spans = not (story.flow or tank.rates or tank.uses) and len(tank.levels) == 1
    if spans and story.target is None and story.needed and (want.rate or want.kind == ""):
        return _may_flow(t, tank, name, rising, assumed)
    if filling and not story.flow and len(story.clocks) == 2 and len(tank.levels) <= 1:
        return _filled(t, tank, assumed)
    if _ROOM.search(t.question.frame) and want.kind == "volume" and not want.rate:
        return _room(t, tank, name, assumed)
    rate = _rate(t, tank, name, rising, assumed)
    if rate is None or rate.hourly <= 0:
        return None
    if story.flow and (not filling or any(not _is_inside(one) for one in tank.levels)):
        return None  # "fill 75 gallons" is what goes in, not what is in already
    level = rate.level
    if level is None and tank.levels:
        level = _gallons(tank.levels[0], tank, t.coach, name, assumed)
        if level is None:
            return None
    if level is None and tank.room is None:
        return None
    if tank.room is not None:
        if level is not None or not rising or story.target is not None:
            return None
        gallons = tank.room
    elif rising:
        gallons = _size(tank, t.coach, name, assumed) * (story.target or 1.0) - (level or 0.0)
    elif story.target is not None:
        return None
    else:
        gallons = (level or 0.0) - (story.keep or 0.0)
    if gallons <= 0:
        return None
    return _answer(t, rate, gallons, rising, filling, assumed, until)


_INSIDE_AFTER = Lazy(r"^(?:\w+ ){0,2}?(?:in|already|now|left|aboard|inside)\b|^(?:full )?(?:out )?of\b")
_INSIDE_BEFORE = Lazy(r"\b(?:has|have|had|got|at|is|reads?|with|from|holding|says?|shows?) (?:about |only )?$")


def _is_inside(level: Level) -> bool:
    """Whether a level is told as what is in the tank."""
    return level.kind == "share" or bool(_INSIDE_AFTER.search(level.said.right) or _INSIDE_BEFORE.search(level.said.left))  # fmt: skip


def _answer(
    t: _Told, rate: _Rate, gallons: float, rising: bool, filling: bool, assumed: list[str], until: str
) -> Estimate | None:
    story, want = t.story, t.want
    hours = gallons / rate.hourly
    work = (rate.line, f"{shown(gallons)} gal ÷ {shown(rate.hourly)} gal an hour = {shown(hours)} h")
    name = f"until it is {until}" if until else "until it is full" if rising else "lasts"
    start = rate.clock
    if start is None and story.clocks and rate.level is None:
        if len(story.clocks) > 1:
            return None
        start = story.clocks[0][0]
    begin = t.now if start is None else t.now.replace(hour=int(start) % 24, minute=round(start % 1 * 60) % 60)
    when = at_clock(begin, hours) if start is not None or want.clock else ""
    if start is not None and not any(sure or one.unit == "clock" and value >= 13 for value, sure, one in story.clocks):
        when = f"That is at {(begin + timedelta(hours=hours)):%-I:%M}."  # morning or evening was not said
    if want.rate or (want.kind == "volume" and _RATE_ASKED.search(t.question.frame)):
        if rate.level is None or story.needed:
            return None
        per = want.rate or "h"
        value = rate.hourly * {"h": 1.0, "day": 24.0, "min": 1 / 60}[per]
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
        verdict = f"{'Yes, it lasts' if enough and not filling else 'Yes' if enough else 'No'}: {duration(hours)} against {duration(story.needed)}."  # fmt: skip
        if want.kind == "time" or (want.kind == "" and want.judged):
            return exact(name, hours * 60 if filling else hours, "min" if filling else "h", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=verdict, also=also)  # fmt: skip
        return None
    if want.kind != "time":
        return None
    if filling and want.unit in ("", "min"):
        return exact("filling takes", hours * 60, "min", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=when)  # fmt: skip
    return exact(name, hours, "h", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=when, also=(figure("days", hours / 24, "days"), figure("rate", rate.hourly, "gal/h")))  # fmt: skip


def _may_flow(t: _Told, tank: Tank, name: str, rising: bool, assumed: list[str]) -> Estimate | None:
    """How much an hour may be used, or put in, so that it lasts."""
    story = t.story
    inside = _gallons(tank.levels[0], tank, t.coach, name, assumed)
    if inside is None or not story.needed or story.elapsed or len(story.clocks) > 1:
        return None
    if not (_MOST.search(t.question.frame) and _RATE_ASKED.search(t.question.frame)):
        return None
    per = t.want.rate or "h"
    gallons = _size(tank, t.coach, name, assumed) - inside if rising else inside - (story.keep or 0.0)
    if gallons <= 0:
        return None
    total = gallons / story.needed * {"h": 1.0, "day": 24.0, "min": 1 / 60}[per]
    span = {"h": "an hour", "day": "a day", "min": "a minute"}[per]
    top = f"{shown(_size(tank, t.coach, name, assumed))} - {shown(inside)}" if rising else f"{shown(inside)} - {shown(story.keep)}" if story.keep else shown(inside)  # fmt: skip
    line = f"({top}) gal ÷ {shown(story.needed)} h = {shown(total)} gal {span}"
    each = story.people is not None and _EACH.search(t.question.frame) is not None
    if each and story.people:
        share = total / story.people
        return exact("each may use", share, f"gal/{per}", working=(line, f"÷ {shown(story.people)} = {shown(share)} gal"), assumptions=tuple(assumed), source="arithmetic", also=(figure("all together", total, f"gal/{per}"), figure("each", share, "gal")))  # fmt: skip
    return exact("may flow", total, f"gal/{per}", working=(line,), assumptions=tuple(assumed), source="arithmetic")


def _first(t: _Told) -> Estimate | None:
    """Which of the two tanks stops the coach first."""
    story = t.story
    assumed: list[str] = []
    fresh, waste = story.fresh, story.waste
    if story.tank.levels or story.flow or story.per_use or len(fresh.levels) != 1 or len(waste.levels) > 1:
        return None
    if story.tank.size is not None:
        if waste.size is not None:
            return None
        waste = replace(waste, size=story.tank.size)
    if not waste.levels and waste.room is None:
        return None
    if _by_percent(fresh) or _by_percent(waste):
        return None
    down, up = _tank_rate(t, fresh, None), _tank_rate(t, waste, fresh)
    if down is None or up is None or not down or not up:
        return None
    if fresh.levels[0].kind == "share":
        have: float | None = fresh.levels[0].value * _size(fresh, t.coach, "fresh", assumed)
    else:
        have = fresh.levels[0].value
    if waste.levels and waste.levels[0].kind == "bare" and waste.size is None and not any(one.kind == "gal" for one in (*fresh.levels, *waste.levels)):  # fmt: skip
        return None  # gallons of it, or percent
    size = _size(waste, t.coach, "waste", assumed) if waste.room is None else 0.0
    inside = 0.0 if not waste.levels else waste.levels[0].value * (size if waste.levels[0].kind == "share" else 1.0)
    room = waste.room if waste.room is not None else size - inside
    if have is None or room <= 0 or have <= 0:
        return None
    dry, full = (have - (story.keep or 0.0)) / down, room / up
    first = min(dry, full)
    if first <= 0:
        return None
    which = "Waste full" if full < dry else "Fresh empty"
    verdict = f"{which} first, in about {duration(first)}." if abs(dry - full) > 0.02 * first else f"Both at about the same time, in about {duration(first)}."  # fmt: skip
    if t.want.clock or story.clocks:
        if len(story.clocks) > 1:
            return None
        start = story.clocks[0][0] if story.clocks else None
        begin = t.now if start is None else t.now.replace(hour=int(start) % 24, minute=round(start % 1 * 60) % 60)
        verdict = f"{verdict} {at_clock(begin, first)}"
    work = (
        f"{shown(have)} gal ÷ {shown(down)} gal an hour = {shown(dry)} h until the fresh is empty",
        f"{shown(room)} gal ÷ {shown(up)} gal an hour = {shown(full)} h until the waste is full",
    )
    also = (figure("fresh empty", dry, "h"), figure("waste full", full, "h"))
    return exact("which comes first", first, "h", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=verdict, also=also)  # fmt: skip


def _tank_rate(t: _Told, tank: Tank, fresh: Tank | None) -> float | None:
    """Gallons an hour out of a tank, or into it; the waste gets all that is used when nothing else is told."""
    if len(tank.rates) + len(tank.uses) > 1:
        return None
    if tank.rates:
        return None if t.story.people and _EACH.search(t.question.frame) else tank.rates[0]
    people = t.story.people
    if tank.uses:
        return None if people is None else people * tank.uses[0]
    if fresh is not None and len(fresh.uses) == 1 and people is not None and not fresh.rates:
        return people * fresh.uses[0]
    return None
