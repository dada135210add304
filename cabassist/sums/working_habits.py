"""Questions worked out from habits and from heat that is known: waste of one person, propane for a heat loss, heat over degree days."""

from __future__ import annotations

from typing import Any

from cabassist.estimate.quantities import BTU_PER_H_F_IN_W_PER_K
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.sums.working_roles import Role, placed
from cabassist.sums.working_sheet import Missing, Sheet, quantity
from cabassist.units import registry

# -- waste of one person ------------------------------------------------------------------------

_WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding|down the drain|in the tank)\b")
_EACH = Lazy(r"\b(?:(?:one|a|per|each|every|single) (?:\w+ )?(?:person|people|guy|passenger|head|player|kid)|each of (?:us|them)|per head|everybody|everyone|apiece)\b|<people>|<n> (?:person|guy|passenger|head|player|kid)\b")  # fmt: skip
_ASKED = Lazy(
    r"\bhow (?:much|many gallons)\b[^?.]*\b(?:waste|make|makes|put|puts|produce\w*|add|adds|come|comes|that)\b|\bwaste (?:per|for each|a) (?:person|head|guy)|\bper person\b"
)
_NO_HABIT = Lazy(
    r"\b(?:full|left|room|last|lasts|until|till|dump|how long|when|hours)\b|<(?:h|clock|percent|part|lb|psi|F|C|temp)(?:/\w+)?>"
)
_HABITS = (
    Role("flushes", "n|flush", r"flush\w*(?: the toilet)?|goes|uses the toilet", r"flush\w*|times|uses", lambda a: 0 < a.value <= 30),
    Role("per flush", "water|use|rate", r"(?:flush\w*|times)(?: a day| each)?(?: (?:of|at|uses?|takes?|is|with|about|a|each|every|one|per)){0,3}|at|of|each flush(?: (?:is|takes|uses|of))?", r"(?:a|per|each|every) flush|flush\w*"),
    Role("basin", "water|use|rate", r"(?:basin|sink|wash\w*|hands|brush\w*)(?: (?:up|with|uses?|is|of|takes?|about|at|and|the|day|a|hands)){0,3}", r"(?:(?:at|in|for|of|to) )?(?:the |a )?(?:basin|sink|wash\w*|hands|brush\w*)"),
    Role("shower", "water|use|rate", r"shower\w*(?: (?:with|uses?|is|of|takes?|about|at|and|the|a)){0,3}", r"(?:(?:in|for|of) )?(?:the |a )?shower\w*"),
)  # fmt: skip


def habits_asked(q: Question) -> bool:
    """Whether it asks what one person puts into the waste tank, from flushes and washing that are told."""
    frame = q.frame
    if not (_WASTE.search(frame) and _EACH.search(frame) and _ASKED.search(frame)) or _NO_HABIT.search(frame):
        return False
    if not {"flushes", "per flush"} <= set(placed(q, _HABITS)):
        return False
    heads = [a for a in q.amounts if a.unit == "people" and a.value != 1]
    return not heads


def habits_said(s: Sheet) -> None:
    """Inputs of "five flushes of a quarter gallon and half a gallon at the basin, how much waste does one person make"."""
    for name, amount in placed(s.q, _HABITS).items():
        unit = "" if name == "flushes" else amount.unit
        s.note(name, amount.value, unit)


def habits(s: Sheet) -> Estimate:
    """Gallons a day of one person."""
    from cabassist.estimate.waste import inflow_per_person

    s.need("flushes", "How many flushes a day?", "n")
    s.profile("per flush", s.coach.toilet.flush_gal, "gal", f"{s.coach.toilet.flush_gal:g} gal a flush")
    basin = s.amount("basin") if s.has("basin") else None
    shower = s.amount("shower") if s.has("shower") else None
    return inflow_per_person(s.number("flushes"), s.amount("per flush"), basin=basin, shower=shower)


# -- propane for a heat loss --------------------------------------------------------------------

_BURNS = Lazy(
    r"\b(?:what|how much|how many)\b[^?.]*\bburn\w*\b|\bburn (?:rate|an hour|per hour|a day)\b|\bhow (?:much|many \w+)(?: of)? (?:propane|gas)\b[^?.]*\b(?:an hour|per hour|a day|per day)\b"
)
_LOSES = Lazy(
    r"\b(?:lose|loses|losing|loss|need|needs|demand)\b[^?.]{0,40}<BTU/h>|<BTU/h> (?:of )?(?:heat )?(?:loss|lost|needed|demand)"
)
_FURNACE = Lazy(r"\b(?:furnaces?|propane|gas|heaters?)\b|<furnace>")
_NO_BURN = Lazy(
    r"\b(?:gallons|pounds|last|lasts|how long|left|until|till|water|tank|pad|battery|idle|diesel|duty|of the time|for <)\b|<(?:F|C|temp|h|day|night|lb|gal|people|W|clock)(?:/\w+)?>|<BTU/h(?:/deg\w?|/each)>|\bper degree\b"
)


def burn_asked(q: Question) -> bool:
    """Whether it asks what the furnaces burn for a heat loss that is told with their efficiency."""
    frame = q.frame
    if not (_BURNS.search(frame) and _LOSES.search(frame) and _FURNACE.search(frame)) or _NO_BURN.search(frame):
        return False
    rates, parts = [a for a in q.amounts if a.unit == "BTU/h" or (a.unit == "BTU" and a.per == "h")], q.of("part")
    return len(rates) == 1 and len(parts) == 1 and len(q.amounts) == 2


def burn_said(s: Sheet) -> None:
    """Inputs of "we lose 24,000 BTU an hour at 78 percent, what does the furnace burn"."""
    rate = next((a for a in s.q.amounts if a.unit.startswith("BTU")), None)
    if rate is not None:
        s.note("loss", rate.value, "BTU/h")
    part = next(iter(s.q.of("part")), None)
    if part is not None:
        s.note("efficiency", part.value / (100 if part.unit == "percent" else 1))


def burn(s: Sheet) -> Estimate:
    """BTU an hour of propane, with gallons and pounds beside; whether the coach's furnaces can."""
    from cabassist.estimate.furnaces import burn_for_heat

    s.need("loss", "How many BTU an hour does it lose?", "BTU/h")
    s.need("efficiency", "How efficient is the furnace, in percent?", "percent")
    plates = [quantity(one.input_btu_per_h, "BTU/h") for one in s.coach.furnaces]
    return burn_for_heat(s.amount("loss"), s.number("efficiency"), inputs=plates)


# -- heat over degree days ----------------------------------------------------------------------

_DEGREE_DAYS = r"({n}|{temp}|{F}) (?:heating )?(?:degree )?days\b"
_PER_DEGREE = Lazy(r"<BTU/h/deg[CF]?>|<BTU/h> (?:per|a|for each|for every|each) (?:degree|deg|f)\b")
_FUEL = Lazy(r"\bhow (?:many gallons|much propane|much diesel|much fuel)\b|\bgallons of\b")


def degree_days_asked(q: Question) -> bool:
    """Whether it asks for the heat, or the fuel, that a loss per degree takes over degree days."""
    if "degree day" not in q.text.lower() or not _PER_DEGREE.search(q.frame) or q.one(_DEGREE_DAYS) is None:
        return False
    return q.has(r"\bhow (?:many|much)\b|\bbtus?\b[?]?")


def degree_days_said(s: Sheet) -> None:
    """Inputs of "675 BTU an hour per degree and 5000 degree days, how many gallons at 78 percent"."""
    q = s.q
    rate = next((a for a in q.amounts if a.unit.startswith("BTU")), None)
    days = q.one(_DEGREE_DAYS)
    if rate is not None:
        s.note("loss", rate.value, "BTU/h")
    if days is not None:
        s.note("days", days.value)
    part = next(iter(q.of("part")), None)
    if part is not None:
        s.note("efficiency", part.value / (100 if part.unit == "percent" else 1))
    if _FUEL.search(q.frame):
        s.note(
            "fuel", "diesel" if q.has(r"\bdiesel\b") else "propane" if q.has(r"\b(?:propane|gas|lp)\b") else "unnamed"
        )


def degree_days(s: Sheet) -> Estimate:
    """BTU over the degree days, or gallons of the fuel that gives them."""
    from cabassist.estimate.cabin import degree_day_heat, fuel_for_heat
    from cabassist.estimate.fuel import DIESEL_BTU_PER_GAL
    from cabassist.estimate.propane import BTU_PER_GAL

    ureg = registry()
    loss = ureg.Quantity(s.number("loss") * BTU_PER_H_F_IN_W_PER_K, "W/delta_degC")
    heat = degree_day_heat(loss, ureg.Quantity(s.number("days"), "delta_degF*day"))
    if not s.has("fuel"):
        return heat
    if s.text("fuel") == "unnamed":
        raise Missing("fuel", "Propane or diesel?")
    s.need("efficiency", "How efficient is the heater, in percent?", "percent")
    rich: Any = ureg.Quantity(DIESEL_BTU_PER_GAL if s.text("fuel") == "diesel" else BTU_PER_GAL, "Btu/gallon")
    found = fuel_for_heat(ureg.Quantity(heat.value, "Btu"), rich, s.number("efficiency"))
    return Estimate(
        found.name, found.value, found.unit, found.low, found.high, (*heat.working, *found.working),
        (*heat.assumptions, *found.assumptions), heat.source, found.verdict, found.also,
    )  # fmt: skip
