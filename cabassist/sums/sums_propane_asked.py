"""What propane allows: how much of the time a furnace may burn, how much it may burn in an hour, how large or how many."""

from __future__ import annotations

from math import ceil

from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE, LB_PER_GAL, WEIGHT_SOURCE
from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.sums.families import Told, done
from cabassist.sums.sums_propane_burn import burn_rate, burning_part, heat_rate, must_last
from cabassist.sums.sums_propane_held import BOTH_BURN, held_now, kept_lb, size_lb


def duty_of(t: Told) -> Estimate | None:
    """What share of the time the furnace burns: what is or may be burned over what it burns when it is always on."""
    if t.has("loss"):
        return _duty_for_loss(t)
    heat = heat_rate(t)
    if heat is None:
        return None
    full, line = heat
    lines: tuple[str, ...]
    if any(t.has(name) for name in ("rate", "moved", "before")):
        burn = burn_rate(t)
        if burn is None:
            return None
        hourly, lines = burn[0], (burn[1],)
    else:
        content, span = held_now(t), must_last(t)
        if content is None or content[0] is None or not span:
            return None
        pounds = content[0] - (kept_lb(t) or 0.0)
        hourly, lines = (
            pounds / span,
            (*content[1], f"{shown(pounds)} lb ÷ {shown(span)} h = {shown(pounds / span)} lb an hour"),
        )
    part = hourly / full if full else 0.0
    if part <= 0:
        return None
    work = (*lines, line, f"{shown(hourly)} ÷ {shown(full)} = {shown(part * 100, 3)} %")
    minutes, daily = figure("an hour", part * 60, "min"), figure("a day", part * 24, "h")
    average = (figure("on average", hourly * BTU_PER_LB, "BTU/h"), figure("that is", hourly, "lb/h"))
    verdict = "It can burn all the time." if part >= 1 else ""
    if t.want.kind == "time" and t.want.rate != "day":
        return done(
            "burning in each hour",
            part * 60,
            "min",
            t,
            work,
            verdict,
            figure("of the time", part * 100, "percent"),
            *average,
            source=HEAT_SOURCE,
        )
    return done("of the time", part * 100, "percent", t, work, verdict, minutes, daily, *average, source=HEAT_SOURCE)


_GIVES_OUT = Lazy(r"\b(?:output|outputs|deliver\w*|puts? out|gives? (?:off|out)|rated output|of heat out)\b")
"""The heat of the furnaces is told as what comes out of them."""


def _duty_for_loss(t: Told) -> Estimate | None:
    """What share of the time the furnaces must burn to make up for the heat that the coach loses."""
    loss, efficiency, count = t.value("loss"), t.value("efficiency"), t.value("burners")
    burners = t.all("burner")
    if loss is None or not burners or any(one.value < _LEAST_BTU for one in burners) or len({*t.roles} - _OF_LOSS):
        return None
    if efficiency is None:
        if not _GIVES_OUT.search(t.question.frame):
            return None
        efficiency = 1.0
    if len(burners) > 1 and count not in (None, 1.0, float(len(burners))):
        return None
    if count is None and len(burners) == 1 and BOTH_BURN.search(t.question.frame):
        count = 2.0
    given = sum(one.value for one in burners) * (count if count and len(burners) == 1 else 1.0) * efficiency
    part = loss / given
    times = f" x {shown(count)}" if count and count > 1 and len(burners) == 1 else ""
    share = f" x {shown(efficiency)}" if efficiency != 1 else ""
    line = f"{shown(loss)} BTU/h ÷ ({' + '.join(shown(one.value) for one in burners)}{times}{share}) = {shown(100 * part, 3)} %"  # fmt: skip
    enough = "" if part <= 1 else "They can not keep up: more heat is lost than they give."
    also = (figure("an hour", min(part, 1.0) * 60, "min"), figure("a day", min(part, 1.0) * 24, "h"))
    if t.want.kind == "time" and t.want.rate != "day":
        return done("burning in each hour", part * 60, "min", t, (line,), enough, figure("of the time", part * 100, "percent"))  # fmt: skip
    return done("of the time", part * 100, "percent", t, (line,), enough, *also)


_LEAST_BTU = 3000
_OF_LOSS = frozenset({"loss", "efficiency", "burners", "burner", "beside"})


def count_wanted(t: Told, pounds: float | None, hourly: float, line: str, needed: float | None) -> Estimate | None:
    """How many cylinders a time takes beside what is there, or how many furnaces what is there can feed."""
    if t.want.unit not in ("furnaces", "heaters"):
        return _cylinders(t, hourly, line, needed, pounds or 0.0)
    if pounds is None or not needed or hourly <= 0 or t.has("burners"):
        return None
    count = pounds / needed / hourly
    work = (line, f"{shown(pounds)} lb ÷ {shown(needed)} h ÷ {shown(hourly)} = {shown(count, 3)}")
    return done(t.want.unit, count, t.want.unit, t, work, f"That feeds {int(count)}.", source=HEAT_SOURCE)


def may_burn(t: Told, pounds: float, lines: tuple[str, ...], needed: float) -> Estimate | None:
    """How large a furnace may be, so that what is there lasts as long as it must."""
    duty = t.value("duty") if t.has("duty") else burning_part(t) or 1.0
    count = t.value("burners") or 1.0
    if not duty:
        return None
    heat = pounds * BTU_PER_LB / needed / duty / count
    over = "".join(f" ÷ {shown(one, 3)}" for one in (duty, count) if one != 1)
    work = (*lines, f"{shown(pounds)} lb x {shown(BTU_PER_LB)} BTU/lb ÷ {shown(needed)} h{over} = {shown(heat)} BTU/h")
    return done("may burn", heat, "BTU/h", t, work, "", figure("pounds an hour", pounds / needed, "lb/h"), source=HEAT_SOURCE)  # fmt: skip


_SPANS = {"h": (1.0, "h", "an hour"), "day": (24.0, "day", "a day"), "min": (1 / 60, "min", "a minute")}


def rated(t: Told, pounds: float | None, lines: tuple[str, ...], hourly: float, line: str, needed: float | None) -> Estimate | None:  # fmt: skip
    """What is burned in an hour or a day, or may be, so that it lasts as long as it must."""
    factor, per, said = _SPANS[t.want.rate]
    work: tuple[str, ...] = (line,)
    name = "burns"
    if hourly == 0.0:
        if pounds is None or not needed:
            return None
        hourly, name = pounds / needed, "may burn"
        work = (*lines, f"{shown(pounds)} lb ÷ {shown(needed)} h = {shown(hourly)} lb an hour")
    elif needed is not None or (pounds is not None and not t.has("before")):
        return None
    by_span = hourly * factor
    work = work if factor == 1 else (*work, f"= {shown(by_span)} lb {said}")
    pound, gallon = (by_span, f"lb/{per}"), (by_span / LB_PER_GAL, f"gal/{per}")
    if t.want.kind == "energy":
        heat = by_span * BTU_PER_LB
        return done(name, heat, "BTU/h" if per == "h" else "BTU", t, (*work, f"x {shown(BTU_PER_LB)} BTU/lb = {shown(heat)}"), "", figure("pounds", *pound), source=HEAT_SOURCE)  # fmt: skip
    first, other = (gallon, pound) if t.want.kind == "volume" else (pound, gallon)
    return done(name, *first, t, work, "", figure("or", *other), source=f"{HEAT_SOURCE}; {WEIGHT_SOURCE}")


def _cylinders(t: Told, hourly: float, line: str, needed: float | None, there: float = 0.0) -> Estimate | None:
    """How many cylinders a time takes."""
    size = size_lb(t)
    hours = needed if needed is not None else t.value("elapsed")
    if not size or not hours or hourly <= 0:
        return None
    pounds = hourly * hours
    count = max(pounds - there, 0.0) / size
    work = (line, f"{shown(hourly)} lb an hour x {shown(hours)} h = {shown(pounds)} lb", f"{shown(pounds)} ÷ {shown(size)} lb = {shown(count, 3)}")  # fmt: skip
    whole = ceil(count - 1e-9)
    return done("cylinders", count, "cylinders", t, work, f"Take {whole} full one{'s' if whole > 1 else ''}.", figure("pounds", pounds, "lb"))  # fmt: skip
