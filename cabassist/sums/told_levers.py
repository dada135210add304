"""Rules that a question tells all numbers of: the bridge formula, a lever on a nut, a torque against its range, air that the brakes lose, a battery at rest."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.working_sheet import quantity

_BRIDGE = Lazy(r"\bbridge\b")
_AXLES = Lazy(r"<n> axles?\b|\baxles? (?:is |are )?<n>")


def bridge(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What the bridge formula allows on a group of axles."""
    if not _BRIDGE.search(q.frame) or not _AXLES.search(q.frame) or len(q.amounts) != 2:
        return None
    from cabassist.estimate.wheels import bridge_formula

    axles = next((one for one in q.amounts if one.unit == "n"), None)
    apart = next((one for one in q.amounts if one.unit in ("ft", "m", "in")), None)
    if axles is None or apart is None or axles.value != int(axles.value) or not 2 <= axles.value <= 9:
        return None
    return bridge_formula(quantity(apart.value, apart.unit), int(axles.value))


_LEVER = Lazy(r"\b(?:cheater|breaker bar|lever|bar|pipe|wrench|handle|extension|arm)\b")
_NUT = Lazy(r"\b(?:foot pounds?|lb ft|torque|lug|nuts?|newton)\b")


def lever(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Torque of a weight on the end of a lever, and whether it is inside a range that is told."""
    if not _LEVER.search(q.frame) or not _NUT.search(q.frame):
        return None
    arms = [one for one in q.amounts if one.unit in ("ft", "in", "m")]
    weights = [one for one in q.amounts if one.unit in ("lb", "kg") and not one.per]
    rest = [one for one in q.amounts if one not in (*arms, *weights)]
    if len(arms) != 1 or len(weights) != 1 or len(rest) not in (0, 2) or any(one.unit not in ("n", "lb-ft") for one in rest):  # fmt: skip
        return None
    feet, pounds = converted(arms[0].value, arms[0].unit, "ft"), converted(weights[0].value, weights[0].unit, "lb")
    made = feet * pounds
    found = exact("torque", made, "lb-ft", working=(f"{shown(feet)} ft × {shown(pounds)} lb = {shown(made)} lb-ft",), assumptions=("pulled at a right angle, on the end of it",), source="force × arm")  # fmt: skip
    return _inside(found, made, [one.value for one in rest])


def _inside(found: Estimate, value: float, ends: list[float]) -> Estimate:
    """With whether the value lies inside the range."""
    if len(ends) != 2:
        return found
    low, high = sorted(ends)
    if low <= value <= high:
        return replace(found, verdict=f"Yes, inside {shown(low)} to {shown(high)}.")
    return replace(found, verdict=f"No, too {'low' if value < low else 'high'} for {shown(low)} to {shown(high)}.")


_NEWTONS = Lazy(r"\b(?:newton ?-? ?met(?:er|re)s?|nm|n m|n · m|newtons)\b")
_FOOT_POUNDS = Lazy(r"\b(?:foot ?-? ?pounds?|pound ?-? ?f(?:oo|ee)t|ft ?-? ?lbs?|lbs? ?-? ?ft)\b")
"""The unit that a wrench is marked in, told apart from its number."""


def torque_range(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """A torque against a range told in the other unit, with its value in that unit."""
    units = {one.unit for one in q.amounts} | ({"N·m"} if _NEWTONS.search(q.frame) else set()) | ({"lb-ft"} if _FOOT_POUNDS.search(q.frame) else set())  # fmt: skip
    if len(q.amounts) != 3 or units - {"n"} != {"lb-ft", "N·m"}:
        return None
    spans = q.find(r"({n|lb-ft|N·m}) (?:to|-|and|through) ({n|lb-ft|N·m})")
    if len(spans) != 2 or {one.unit for one in spans} not in ({"n", "lb-ft"}, {"n", "N·m"}, {"lb-ft"}, {"N·m"}):
        return None
    unit = next(one.unit for one in spans if one.unit != "n")
    have = next(one for one in q.amounts if one not in spans)
    own = have.unit if have.unit != "n" else "N·m" if unit == "lb-ft" else "lb-ft"
    if own == unit or (have.unit == "n" and any(one.unit == own for one in q.amounts)):
        return None
    value = converted(have.value, own, unit)
    line = f"{shown(have.value)} {own} = {shown(value)} {unit}"
    found = exact("torque", value, unit, working=(line,), source="exact definitions (NIST Handbook 44 App. C)")
    return _inside(found, value, [one.value for one in spans])


_LEAK = Lazy(r"\b(?:air|pressure|gauge|tanks?)\b")
_BRAKES = Lazy(r"\bbrakes?|pedal\b")
_HELD = Lazy(r"\b(?:held|holding|hold|pedal|applied|on|stood|pressed|foot)\b")
_FELL = r"\bfrom ({n|psi}) (?:psi )?(?:down )?to ({n|psi})"


def leaked(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What the brakes lose a minute between two pressures, and whether that passes."""
    if not (_LEAK.search(q.frame) and _BRAKES.search(q.frame)) or q.has(
        r"\b(?:build\w*|compressor|governor|came on)\b"
    ):
        return None
    ends = q.find(_FELL)
    minutes = [one for one in q.amounts if one.unit in ("min", "s") and not one.per]
    watched = [one for one in minutes if q.words[one.start : one.end][:1] not in (("a",), ("per",), ("each",))]
    if len(ends) != 2 or len(watched) != 1 or len(ends) + len(minutes) != len(q.amounts) or len(minutes) > 2:
        return None
    from cabassist.estimate.brakes import leak_down

    drop = ends[0].value - ends[1].value
    if drop < 0 or not 40 <= ends[1].value <= 150:
        return None
    released = q.has(r"\b(?:released|off the (?:pedal|brakes?)|without the brakes?|not applied|brakes off)\b")
    if not released and not _HELD.search(q.frame):
        return None
    found = leak_down(quantity(drop, "psi"), quantity(watched[0].value, watched[0].unit), applied=not released)
    head = "No. " if found.verdict.startswith("Fail") else "Yes. " if found.verdict.startswith("Pass") else ""
    return replace(found, verdict=head + found.verdict) if q.has(r"\b(?:pass|ok|okay|good|legal|fine)\b") else found


_RESTED = Lazy(r"\b(?:rest|rested|resting|at rest|sat (?:all night|overnight)|no load|off all night)\b")
_CHARGE = Lazy(r"\bstate of charge\b|\b(?:what|how much|percent|true|real) (?:percent |of )?charge\b|\bhow (?:full|charged)\b|\bsoc\b|\bwhat percent\b")  # fmt: skip
_FLOODED = Lazy(r"\b(?:flooded|lead ?acid|agm|wet|gel|bank|house|batter\w+)\b")


def rested_volts(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The charge of a bank by its volts at rest and its temperature."""
    if not (_RESTED.search(q.frame) and _CHARGE.search(q.frame) and _FLOODED.search(q.frame)):
        return None
    volts = [one for one in q.amounts if one.unit == "V"]
    degrees = [one for one in q.amounts if one.unit in ("F", "C", "temp")]
    if len(volts) != 1 or not 10 <= volts[0].value <= 15 or len(volts) + len(degrees) != len(q.amounts):
        return None
    if len(degrees) == 2 and any(one.value in (77, 80) for one in degrees) and q.has(r"\b(?:corrected|correct|to) (?:to )?<(?:F|temp)>"):  # fmt: skip
        degrees = [one for one in degrees if one.value not in (77, 80)]
    if len(degrees) != 1:
        return None
    from cabassist.estimate.battery import state_of_charge

    scale = degrees[0].unit if degrees[0].unit in ("F", "C") else q.scale
    return state_of_charge(quantity(volts[0].value, "V"), battery_temperature=quantity(degrees[0].value, scale))


def both_units(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Water in litres and in kilos: a volume asked for in another unit and as a weight at once."""
    if len(q.amounts) != 1 or q.amounts[0].unit not in ("gal", "L") or q.amounts[0].per:
        return None
    if not q.has(r"\b(?:lit(?:er|re)s|gallons) and (?:in )?(?:kilos|kg|kilograms|pounds|lbs?)\b|\b(?:kilos|kg|kilograms|pounds|lbs?) and (?:in )?(?:lit(?:er|re)s|gallons)\b"):  # fmt: skip
        return None
    if not q.has(r"\b(?:fresh|water|waste)\b"):
        return None
    metric = q.has(r"\b(?:kilos|kg|kilograms)\b")
    unit = "L" if q.amounts[0].unit == "gal" else "gal"
    volume = converted(q.amounts[0].value, q.amounts[0].unit, unit)
    gallons = converted(q.amounts[0].value, q.amounts[0].unit, "gal")
    pounds = gallons * 8.337
    weight = converted(pounds, "lb", "kg") if metric else pounds
    name = "kg" if metric else "lb"
    return exact("weight", weight, name, working=(f"{shown(gallons)} gal × 8.337 lb = {shown(pounds)} lb",), source="water 8.337 lb/gal (CoolProp)", verdict=f"{shown(volume)} {'liters' if unit == 'L' else 'gallons'}, {shown(weight)} {'kilos' if metric else 'pounds'}.", also=(figure("volume", volume, unit),))  # fmt: skip
