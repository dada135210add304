"""How fast the water of a sum flows: by a rate, by what each uses, by a bucket, or by two readings of a tank."""

from __future__ import annotations

from cabassist.estimate.quantities import shown
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term, hours_until, per_hour
from cabassist.sums.families import Told
from cabassist.sums.sums_water_flow import FILLING, FULL_ASKED
from cabassist.sums.sums_water_tank import Tank, first_in

MINUTELY = frozenset({"gpm", "L/min"})
"""Flows a minute that are one word."""
FASTEST = 3000.0
"""No hose, pump or valve of a coach moves more gallons an hour: two amounts that say so are no two readings."""
DRAINING = Lazy(r"\b(?:drain\w*|dump\w*|empty|empties|emptying|emptied|pump(?:ed|ing)? out)\b")
"""Words of a tank that is let out."""


def mended_flow(t: Told, tank: Tank, hourly: float, line: str) -> tuple[float, str] | None:
    """The flow with what flows besides it or against it, and the share of the time in which it flows."""
    hoses, duty = t.value("hoses") or 1.0, t.value("duty") or 1.0
    first = t.roles["rate"][0] if t.has("rate") else None
    total = hourly * hoses * duty
    for term in t.all("second"):
        bare = term.kind == "n"
        if bare and (first is None or not first.amount.value):
            return None
        total += hourly * term.value / first.amount.value if bare and first else per_hour(term)
    against = t.one("against")
    if against is not None:
        total -= per_hour(against) * (tank.capacity if against.kind == "share/time" else 1.0)
        tank.used_capacity = tank.used_capacity or against.kind == "share/time"
    if total <= 0:
        return None
    return (total, line) if total == hourly else (total, f"{line}; together {shown(total)} gal an hour")


_EVERY = Lazy(r"\b(?:every|each|per) (hour|day|minute|night) (?:\w+ ){0,5}?# ")
BY_HEADS = Lazy(r"<people> (?:[a-z]+ ){0,3}?# |# <people>|\b(?:each|apiece|everybody|everyone)\b")
"""An amount for each of those aboard."""


def _used(t: Told, tank: Tank) -> tuple[float, str, bool] | None:
    """Gallons an hour that those aboard use, with the working."""
    use, people = t.one("use"), t.total("people")
    beside = t.one("rate") if t.has("rate") else None
    if beside is not None and (beside.kind != "volume/time" or beside.per in ("min", "s") or beside.unit in MINUTELY):
        return None
    if use is not None and not use.each and use.per == "h" and not BY_HEADS.search(use.around):
        return None  # so much an hour, told apart from the people, is what all of them use
    if use is None or people is None or t.has("bucket") or use.per in ("min", "s") or use.unit in MINUTELY:
        return None  # nobody is told to use so much a minute: that is a hose
    hourly = people * per_hour(use) * (tank.factor if use.kind == "n/time" else 1.0)
    if beside is not None:  # a leak, or the galley, on top of what each uses
        both = hourly + per_hour(beside)
        return both, f"{shown(hourly)} + {shown(per_hour(beside))} gal an hour = {shown(both)} gal an hour", False
    return hourly, f"{shown(people)} x {gallons_told(use)} = {shown(_per(use, hourly))} gal {span_told(use)}", False


def flow_rate(t: Told, tank: Tank) -> tuple[float, str, bool] | None:
    """Gallons an hour with the working, and whether it is a hose."""
    if t.has("use"):
        return _used(t, tank)
    if t.has("rate"):
        rate = t.one("rate")
        if rate is None or t.has("bucket"):
            return None
        if rate.per in ("min", "s") or rate.unit in MINUTELY:
            if all(one.kind == "people" for one in t.roles.get("people", [])):
                t.all("people")  # who is aboard changes nothing about a hose
        if rate.kind == "volume/time" and any(x.kind == "people" for x in t.roles.get("beside", [])):
            t.doubt += 1.0
        if rate.kind == "n/time" and not tank.bare and not FILLING.search(t.question.frame) and not t.has("level"):
            return None
        if rate.kind == "length/time":
            if tank.shape != "rectangular":
                return None
            tank.used_capacity = True
            hourly = rate.value / tank.height * tank.capacity
            return (
                hourly,
                f"{shown(rate.value)} in an hour of {shown(tank.height)} in = {shown(hourly)} gal an hour",
                False,
            )
        share = rate.kind == "share/time" or (
            rate.kind == "n/time" and tank.bare == "share" and rate.per in ("h", "day")
        )
        if rate.kind == "n/time" and tank.bare == "length":
            return None
        plain = tank.factor if rate.kind == "n/time" else 1.0
        hourly = per_hour(rate) * (tank.capacity / (100 if rate.kind == "n/time" else 1) if share else plain)
        tank.used_capacity = tank.used_capacity or share
        return (
            hourly,
            f"{shown(_per(rate, hourly))} gal {span_told(rate)}",
            rate.per in ("min", "s") or rate.unit in MINUTELY,
        )
    if t.has("bucket", "bucket_time"):
        size, took = t.value("bucket"), t.value("bucket_time")
        if not size or not took:
            return None
        return (
            size / took,
            f"{shown(size)} gal in {shown(took * 3600)} s = {shown(size / took / 60)} gal a minute",
            True,
        )
    if t.has("moved") and not t.has("elapsed") and (span := _EVERY.search(t.roles["moved"][0].around)):
        moved_by = t.one("moved")
        gallons = None if moved_by is None else tank.gallons(moved_by)
        factor, name = IN_H[{"hour": "h", "day": "day", "minute": "min", "night": "day"}[span[1]]]
        return None if not gallons else (gallons / factor, f"{shown(gallons)} gal {name}", name == "a minute")
    if t.has("moved", "elapsed"):
        moved_by, hours = t.one("moved"), t.value("elapsed")
        gallons = None if moved_by is None else tank.gallons(moved_by)
        if not gallons or not hours:
            return None
        return (
            gallons / hours,
            f"{shown(gallons)} gal in {shown(hours)} h = {shown(gallons / hours)} gal an hour",
            False,
        )
    if t.has("before", "level") and (t.has("elapsed") or t.has("clock_before", "now")):
        return _between(t, tank)
    return None


def _between(t: Told, tank: Tank) -> tuple[float, str, bool] | None:
    """Gallons an hour from two readings."""
    first, last = t.one("before"), t.one("level")
    if first is None or last is None or first.kind != last.kind and "n" not in (first.kind, last.kind):
        return None
    hours = t.value("elapsed")
    if hours is None:
        start, end = t.one("clock_before"), t.one("now")
        own = _ITS_CLOCK.search(first.around) is not None
        behind = start is not None and 0 < start.amount.start - first.amount.end <= 2
        if own and not behind:
            return None  # "it was 78 at eight": that is no time of the other reading
        forward = _place(t, "before") < _place(t, "level")
        alike = (_place(t, "clock_before") < _place(t, "now")) is forward
        beside = _AT_CLOCK.search(first.around) or own  # "88, down from a hundred at seven, its eleven now"
        if start is None or end is None or not (alike or beside or _READ_NOW.search(last.around)):
            return None
        hours = hours_until(start.amount, end.amount)
    a, b = tank.gallons(first), tank.gallons(last)
    if a is None or b is None or not hours:
        return None
    if tank.waste and a > b and DRAINING.search(t.question.frame):
        tank.rising, tank.dumped = False, True
        a, b = b, a
    goal = first_in(t, tank, "target")
    filled = FILLING.search(t.question.frame) or FULL_ASKED.search(t.question.frame) or (goal is not None and goal > b)  # fmt: skip
    moved = b - a if tank.waste or (filled and b > a) else a - b
    if not 0 < moved <= FASTEST * hours:
        return None
    return (
        moved / hours,
        f"{shown(moved)} gal in {shown(hours)} h = {shown(moved / hours)} gal an hour",
        b > a and not tank.waste,
    )


_AT_CLOCK = Lazy(r"\b(?:down|up) from # (?:full |percent )?at <clock>")
_ITS_CLOCK = Lazy(r"# (?:full |percent )?at <clock>")
"""The time of day at which a level was read stands right behind it."""
_READ_NOW = Lazy(r"# (?:\w+ ){0,3}?now\b|\bnow (?:(?:it|is|at|reads|the \w+) ){0,3}# ")
"""Such a level belongs to the time it is, wherever the two times stand."""
IN_H = {"h": (1.0, "an hour"), "day": (24.0, "a day"), "min": (1 / 60, "a minute")}
"""The part of an hour in each span of a rate, with how it is said."""
RATES = {"h": "gal/h", "day": "gal/day", "min": "gal/min"}
"""The unit of a rate by its span."""


def _place(t: Told, name: str) -> int:
    return t.roles[name][0].amount.start


def gallons_told(term: Term) -> str:
    """The gallons of an amount as they were told."""
    return f"{shown(term.amount.value)} gal"


def span_told(term: Term) -> str:
    """The span of a rate in words."""
    return {"h": "an hour", "day": "a day", "min": "a minute", "week": "a week", "s": "a second"}.get(term.per, "a minute" if term.unit in MINUTELY else "an hour")  # fmt: skip


def _per(term: Term, hourly: float) -> float:
    return hourly * {"h": 1.0, "day": 24.0, "min": 1 / 60, "week": 168.0, "s": 1 / 3600}.get(term.per, 1 / 60 if term.unit in MINUTELY else 1.0)  # fmt: skip
