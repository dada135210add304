"""What people use of a tank: showers, flushes, and which of the two tanks stops the coach first."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.sums.families import at_clock, today_at
from cabassist.sums.sums_water_events import OF_THEM
from cabassist.sums.tank_story import Tank
from cabassist.sums.tank_volumes import EACH, ToldTank, by_percent, gallons_of, size_of


def showers(t: ToldTank, tank: Tank) -> Estimate | None:
    """How many showers, or how many minutes for each, from what may be used."""
    story = t.story
    if story.flow is None or len(tank.levels) != 1 or story.needed or story.elapsed or tank.rates or tank.uses:
        return None
    assumed: list[str] = []
    have = gallons_of(tank.levels[0], tank, t.coach, "fresh", assumed)
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
            return None if t.want.kind not in ("times", "people", "") else exact("showers", whole, "persons" if t.want.kind == "people" or OF_THEM.search(t.question.frame) else "showers", working=work, assumptions=tuple(assumed), source="arithmetic")  # fmt: skip
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


def uses(t: ToldTank, tank: Tank, name: str) -> Estimate | None:
    """What flushes come to beside the room there is, or for how many people there is room."""
    story = t.story
    if story.per_use is None or story.flow or story.needed or story.elapsed or tank.rates or tank.uses or story.clocks:
        return None
    assumed: list[str] = []
    have: float | None = tank.room if tank.room is None else tank.room - (story.keep or 0.0)
    inside = 0.0
    if have is None and len(tank.levels) == 1:
        told = gallons_of(tank.levels[0], tank, t.coach, name, assumed)
        if told is None:
            return None
        inside = told
        have = size_of(tank, t.coach, name, assumed) - told if name == "waste" else told - (story.keep or 0.0)
    elif tank.levels:
        return None
    elif have is None and tank.size is not None:
        have = tank.size
    if have is None:
        return None
    times = story.times or (2.0 if t.question.has(r"\btwice\b") else 1.0)
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


def first_empty_or_full(t: ToldTank) -> Estimate | None:
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
    if by_percent(fresh) or by_percent(waste):
        return None
    down, up = _tank_rate(t, fresh, None), _tank_rate(t, waste, fresh)
    if down is None or up is None or not down or not up:
        return None
    if fresh.levels[0].kind == "share":
        have: float | None = fresh.levels[0].value * size_of(fresh, t.coach, "fresh", assumed)
    else:
        have = fresh.levels[0].value
    if waste.levels and waste.levels[0].kind == "bare" and waste.size is None and not any(one.kind == "gal" for one in (*fresh.levels, *waste.levels)):  # fmt: skip
        return None  # gallons of it, or percent
    size = size_of(waste, t.coach, "waste", assumed) if waste.room is None else 0.0
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
        begin = today_at(t.now, start)
        verdict = f"{verdict} {at_clock(begin, first)}"
    work = (
        f"{shown(have)} gal ÷ {shown(down)} gal an hour = {shown(dry)} h until the fresh is empty",
        f"{shown(room)} gal ÷ {shown(up)} gal an hour = {shown(full)} h until the waste is full",
    )
    also = (figure("fresh empty", dry, "h"), figure("waste full", full, "h"))
    return exact("which comes first", first, "h", working=work, assumptions=tuple(assumed), source="arithmetic", verdict=verdict, also=also)  # fmt: skip


def _tank_rate(t: ToldTank, tank: Tank, fresh: Tank | None) -> float | None:
    """Gallons an hour out of a tank, or into it; the waste gets all that is used when nothing else is told."""
    if len(tank.rates) + len(tank.uses) > 1:
        return None
    if tank.rates:
        return None if t.story.people and EACH.search(t.question.frame) else tank.rates[0]
    people = t.story.people
    if tank.uses:
        return None if people is None else people * tank.uses[0]
    if fresh is not None and len(fresh.uses) == 1 and people is not None and not fresh.rates:
        return people * fresh.uses[0]
    return None
