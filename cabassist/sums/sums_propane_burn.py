"""How fast propane burns: by a rate, by what was burned in a time, by two readings, or by the heat of the furnaces; and how long it must."""

from __future__ import annotations

from cabassist.estimate.propane import BTU_PER_LB, LB_PER_GAL
from cabassist.estimate.quantities import shown
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term, hours_until, per_hour
from cabassist.sums.families import Told
from cabassist.sums.sums_propane_held import BOTH_BURN, capacity_lb, pounds_of
from cabassist.sums.told_parts import to_deadline

EVERY = Lazy(r"# (?:of (?:it|that|the \w+) )?(?:a|an|per|each|every) (hour|night|day)\b")
"""An amount for each night, day or hour."""
_MINUTES = Lazy(r"\bhow many minutes (?:of|in|out of|an|per|each|every) (?:(?:the|an|each|every) )?hour\b")
_DUTY = Lazy(
    r"\b(?:(?:of|in) (?:the|that|each|every|an) (?:time|hour|clock)|of time|duty|how (?:often|hard)|(?:how much|what (?:share|part|percent|percentage|fraction)) of (?:the|each|every|a) (?:time|hour|night|day))\b"
)
_SHARE_ASKED = Lazy(
    r"\b(?:how much|what (?:share|part|percent|percentage|fraction)) of (?:the|each|every|a) (?:time|hour|night|day)\b"
)


def asks_duty(t: Told) -> bool:
    """Whether it is asked how much of the time the furnace burns, or may."""
    if not t.has("burner") or t.has("duty") or t.has("on"):
        return False
    if t.want.kind in ("power", "energy") and t.has("needed") and _ON_AVERAGE.search(t.question.frame):
        return True  # "what share of the time, and what does that average"
    if t.want.kind == "time":
        return bool(t.want.rate) or _MINUTES.search(t.question.frame) is not None
    if t.want.kind not in ("share", ""):
        return False
    asked = _SHARE_ASKED if t.want.judged else _DUTY  # "it has to last 40 hours: how much of the time can it be on"
    return asked.search(t.question.frame) is not None


_ON_AVERAGE = Lazy(r"\b(?:average|averages|averaging|averaged|avg|mean)\b")
_OVER_CLOCKS = Lazy(r"<(?:n|lb|kg|gal|percent)> (?:\w+ ){0,3}?(?:from|between) <clock> (?:to|till?|until|and) <clock>")


def burn_rate(t: Told) -> tuple[float, str] | None:
    """Pounds an hour with the working; 0 when none was told; None when what was told does not fit together."""
    rate = t.one("rate")
    if rate is not None:
        if (t.has("moved") and not t.has("before")) or (t.has("burner") and not asks_duty(t)):
            return None
        if rate.kind == "share/time":
            hourly = rate.value * capacity_lb(t) * burning_part(t)
            return hourly, f"{shown(hourly)} lb an hour"
        kinds = {term.kind for term in t.roles.get("left", [])}
        plain = next((term.factor for term in t.roles.get("left", []) if term.kind == "mass"), 1.0)
        if rate.kind == "n/time":
            rate = rate._replace(value=rate.value * plain)
        if rate.kind == "n/time" and kinds not in ({"mass"}, {"volume"}):
            return None
        hourly = per_hour(rate) * (
            LB_PER_GAL if rate.kind == "volume/time" or (rate.kind == "n/time" and kinds == {"volume"}) else 1.0
        )
        span = {"day": (24.0, "a day"), "week": (168.0, "a week")}.get(rate.per, (1.0, "an hour"))
        part = burning_part(t) * (t.value("duty") or 1.0)
        hourly *= part
        return hourly, f"{shown(hourly * span[0])} lb {span[1]}"
    if t.has("moved"):
        moved = t.one("moved")
        if moved is None:
            return None
        if t.has("burner") and not asks_duty(t):
            return heat_rate(t) if _spent_before(t, moved) else None
        if t.has("needed") and not t.has("elapsed") and _IN_TIME.search(moved.around):
            return None
        if not t.has("elapsed") and _OVER_CLOCKS.search(t.question.frame):
            return None  # burned between two times of day: in those hours, not in a night and day
        daily = _NIGHTLY.search(_ASKED_RATE.sub("", t.question.frame)) or _DAILY.search(moved.around)
        hours = t.value("elapsed") if t.has("elapsed") else 24.0 if daily else None
        if not hours:
            return (0.0, "") if t.has("before") and not t.has("burner") else None
        pounds = moved.value * capacity_lb(t) if moved.kind == "share" else pounds_of(moved)
        return (
            pounds / hours,
            f"{shown(pounds)} lb in {'a night, one each day' if not t.has('elapsed') else shown(hours) + ' h'}",
        )
    if t.has("before"):
        return _between(t)
    return heat_rate(t)


def _spent_before(t: Told, moved: Term) -> bool:
    """Whether what was burned of what there was only tells what is left, the furnaces burning on from there."""
    at_once = not (_NIGHTLY.search(t.question.frame) or _DAILY.search(moved.around) or EVERY.search(moved.around))
    took = Lazy(r"\bhow long (?:did|was|were|has|have|had|ago|it took)\b").search(t.question.frame)
    return t.has("before") and not t.has("elapsed") and at_once and took is None


def burning_part(t: Told) -> float:
    """The share of the time a furnace burns by its minutes on and off, or its hours each night."""
    part, on, off, cycle, nightly = 1.0, t.one("on"), t.one("off"), t.one("cycle"), t.one("nightly")
    if on is not None and (off is not None or cycle is not None):
        burning = on.value if on.kind == "time" else on.value / 60
        other = off or cycle
        assert other is not None
        rest = other.value if other.kind == "time" else other.value * (on.factor if on.kind == "time" else 1 / 60)
        part = burning / (burning + rest if off is not None else rest)
    if nightly is not None:
        part *= nightly.value if nightly.kind == "time/time" else nightly.value / 24
    return part


def heat_rate(t: Told) -> tuple[float, str] | None:
    """Pounds an hour of the furnaces with the working; 0 when none was told; None when what was told does not fit together."""
    powers = [*t.all("burner"), *t.all("loss")]
    if not powers:
        return (0.0, "")
    if any(term.kind not in ("power", "energy") and term.value < 3000 for term in powers):
        return None
    duties = [term.value for term in t.all("duty")] or [1.0]
    count = t.value("burners")
    if count is None and len(powers) == 1:
        count = 2.0 if BOTH_BURN.search(t.question.frame) else 1.0
    if len(powers) > 1 and count not in (None, 1.0, float(len(powers))):  # "one furnace is 30,000 and the other ..."
        return None
    if len(duties) not in (1, len(powers)):
        return None
    if len(duties) == 1:
        duties = duties * len(powers)
    efficiency = t.value("efficiency")
    if t.has("loss") and efficiency is None:
        return None
    heat = sum(term.value * duty for term, duty in zip(powers, duties, strict=True)) * (
        count if count and len(powers) == 1 else 1.0
    )
    if efficiency and t.has("loss"):
        heat /= efficiency
    cycled = burning_part(t)
    heat *= cycled
    hourly = heat / BTU_PER_LB
    parts = " + ".join(
        f"{shown(term.value)}{'' if duty == 1 else f' x {shown(duty, 3)}'}"
        for term, duty in zip(powers, duties, strict=True)
    )
    parts += f" x {shown(count)}" if count and count > 1 and len(powers) == 1 else ""
    parts += f" x {shown(cycled, 3)}" if cycled != 1 else ""
    parts += f" ÷ {shown(efficiency)}" if efficiency and t.has("loss") else ""
    return hourly, f"{parts} = {shown(heat)} BTU/h ÷ {shown(BTU_PER_LB)} = {shown(hourly)} lb an hour"


def _between(t: Told) -> tuple[float, str] | None:
    """Pounds an hour from two levels and the time between them."""
    hours = t.value("elapsed")
    first, last = t.one("before"), _last(t)
    if first is None or len(last) != 1:
        return None
    if hours is None:
        start, end = t.one("clock_before"), t.one("now")
        forward = first.amount.start < last[0].amount.start
        if start is None or end is None:
            return None
        if (t.roles["clock_before"][0].amount.start < t.roles["now"][0].amount.start) is not forward:
            return None
        hours = hours_until(start.amount, end.amount)
    fall = fallen(t)
    if fall is None or not hours:
        return None
    return fall[0] / hours, f"{fall[1]} in {shown(hours)} h = {shown(fall[0] / hours)} lb an hour"


def _last(t: Told) -> list[Term]:
    """The later reading."""
    return t.all("gross") or t.all("left") or t.all("share")


def fallen(t: Told) -> tuple[float, str] | None:
    """Pounds burned between two readings."""
    first, last = t.one("before"), _last(t)
    if first is None or len(last) != 1 or t.has("moved") or (t.has("burner") and not asks_duty(t)):
        return None
    if (first.kind == "share") is not (last[0].kind == "share"):
        return None
    size = capacity_lb(t) if first.kind == "share" else 1.0
    if first.kind != "share":
        t.all("size")
    fall = (pounds_of(first) - pounds_of(last[0])) * size
    return (fall, f"{shown(fall)} lb") if fall > 0 else None


_IN_TIME = Lazy(r"# (?:\w+ )?(?:in|over) (?:the last |the |about )?<")
_ASKED_RATE = Lazy(
    r"\b(?:how (?:many|much)|what)(?: (?!is |was |did )\S+){0,5}? (?:a|per|an|each|every) (?:day|night)\b"
)
""" "How many pounds a night": the span that is asked for, not that of what was burned."""
_DAILY = Lazy(
    r"# (?:(?:of|the|a|our|my|its|that|propane|gas|bottle|cylinder|tank|full|<lb>) ){0,6}(?:per|each|every|a) day\b"
)
_NIGHTLY = Lazy(r"\b(?:last night|overnight|a night|every night|per night|each night|yesterday|nights? like that)\b")


def must_last(t: Told) -> float | None:
    """How long it must last, in hours; 0 when that was not told, None when what was told does not fit together."""
    needed, nights = t.value("needed"), t.value("nights")
    if nights is not None:
        return None if needed is None else needed * nights / 24
    if needed is None and t.has("deadline"):
        return to_deadline(t)
    return needed or 0.0
