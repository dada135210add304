"""Sums over tires: pressure at another temperature, whether cold alone explains a reading, tread left, wheel nuts due."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from cabassist.estimate.quantities import PSI_PA, exact, figure, shown
from cabassist.estimate.tires import GAUGE_PA
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import MARKED, OTHERS, result
from cabassist.sums.working_sheet import quantity

if TYPE_CHECKING:
    from pint import Quantity

_ANY = "time|clock|distance|speed|temperature|pressure|depth|length|mass|volume|share|torque|n"
"""Kinds of which an amount may be told in passing."""
_AIR = "outside|air|ambient|barometer|atmosphere"
_HIGH = "top|pass|summit|up there|up here|altitude|mountains?|high|higher|ridge|elevation"
_ROLES = (
    role("at_first", "pressure", 0.5, (1.2, r"\b(?:set|aired|filled|pumped|inflated|was|were|had|from|put|want|need|should|must|start\w*)(?: \w+){0,3} # |# (?:\w+ ){0,2}(?:at|in|when|last|yesterday|monday|then|this morning)"), never=r"\b(?:now|gauge|down to|reads?|shows?|today)(?: \w+){0,2} # "),
    role("at_first", "n", -1.6, (3.2, r"\b(?:set|aired|filled|pumped|inflated|want|need)(?: \w+){0,3} # ")),
    role("now", "pressure", 0.0, (2.0, r"\b(?:now|gauge|down to|dropped to|reads?|reading|shows?|showing|today|says?|is|this morning)(?: \w+){0,3} # |# (?:now|today|this morning)\b")),
    role("now", "n", -1.6, (3.2, r"\b(?:gauge|down to|dropped to|reads?|reading|shows?|showing|says?)(?: \w+){0,2} # ")),
    role("warm", "temperature", 0.4, (1.0, r"\b<(?:psi|bar|kPa|n)>(?: \w+){0,5} # |\bshop\b[^#]{0,20} # "), many=False),
    role("warm", "n", -1.6, (2.8, r"<(?:psi|bar|kPa|n)> (?:\w+ ){0,2}at # |\bshop[^#<]{0,16} # |# (?:\w+ )?in the shop\b|<psi> # ")),
    role("cold", "temperature", 0.4, (1.0, r"\b(?:now|out|outside|today|it is|drops to|when|this morning)(?: \w+){0,3} # ")),
    role("cold", "n", -1.6, (2.8, r"\b(?:now|outside|today|drops to|it is|at)(?: \w+){0,2} # |\bshop[^#<]{0,16} # ")),
    OTHERS,
    role("beside", "people", -0.5, many=True),
    role("set_at", "temperature|n", MARKED),  # how warm it was where the pressure told first was set, or is wanted
    role("then_at", "temperature|n", MARKED),  # how warm it is where the pressure is asked for, or was read
    role("limit", "pressure|n|mass", MARKED),
    role("part", "share", MARKED),  # by so much it may be low
    role("at_first", "mass", MARKED),  # "a hundred pounds" in a tire are psi
    role("now", "mass", MARKED),
    role("height", "length|n", MARKED),  # how high it was set, or the pressure is wanted; sea level where none is told
    role("height_then", "length|n", MARKED),  # how high it is where the pressure is asked for, or was read
    role("air", "pressure|n", -1.6, (6.0, rf"# (?:\w+ )?(?:outside|at sea level|down here|air|barometer|of air)\b|\b(?:{_AIR}) (?:(?:{_AIR}|is|was|at|of|reads?|there|down|here|pressure|sea|level|about|then) )*# "), never=rf"\b(?:{_HIGH})\b[^#.,<]{{0,30}} # "),
    role("air_then", "pressure|n", -1.6, (6.0, rf"\b(?:{_HIGH})\b[^#.<]{{0,30}}\b(?:air|outside|barometer|it|is|at|drops to|down to|only)(?: \w+)? # |# (?:\w+ )?(?:up there|up here|on top|at the (?:top|pass|summit))\b")),
    role("beside", _ANY, MARKED, many=True),
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    named = question.has(
        r"\b(?:tires?|tyres?|psi|bar|steers?|drives?|duals?|aired|pumped|inflated|gauge|pressure|shop)\b|<(?:psi|bar|kPa)>"
    )
    return named and want.kind in ("pressure", "temperature", "") and not question.has(r"\b(?:propane|regulator|brakes?|air pressure|leak ?down)\b|<(?:mi|gal|h|mph|min|lb)>")  # fmt: skip


def _of_pressure(t: Told, pressure: Term) -> Term | None:
    """The temperature told with a pressure: the one nearest to it, "110 at 65"."""
    temps = [one for name in ("warm", "cold") for one in t.roles.get(name, [])]
    if not temps:
        return None
    return min(temps, key=lambda one: abs(one.amount.start - pressure.amount.start) + (0 if one.amount.start > pressure.amount.start else 1.5))  # fmt: skip


_LOST = Lazy(
    r"\b(?:lose|lost|loss|losing|drop|gain|gained|rise|change|difference)\b|\bhow (?:much|far|many (?:psi|pounds|bar))(?: \w+){0,4}? (?:down|up|higher|lower|more)\b|\bhow many more\b"
)
_JUST = Lazy(
    r"\b(?:just|only) (?:the )?(?:cold|weather|temperature)\b"
    r"|\b(?:does|do|can|could|would|will) (?:\w+ ){0,3}?(?:cold|weather|temperature)(?: (?:alone|by itself|on its own|itself|snap))? (?:explains?|accounts? for|do (?:that|it|all that|this))\b"
)


def _solve(t: Told) -> Estimate | None:
    """Pressure at the other temperature, or what of a second reading that explains."""
    from cabassist.estimate.tires import tire_pressure, tire_reading

    if {*t.roles} - {"beside", "part"} == {"now", "limit"}:
        return _below_placard(t)
    if t.has("air", "air_then"):
        return _at_height(t)
    if t.has("height") or t.has("height_then"):
        return _up_high(t)
    if t.has("set_at"):
        return _solve_marked(t)
    first, now = t.one("at_first"), t.one("now")
    warm, cold = t.one("warm"), t.one("cold")
    if first is None or warm is None or cold is None:
        return None
    own = (
        min((warm, cold), key=lambda one: one.amount.start)
        if _FROM.search(t.question.frame)
        else _of_pressure(t, first)
    )
    other = cold if own is warm else warm
    if own is None or (first.kind == "n" and any(one.unit in ("bar", "kPa") for one in t.question.amounts)):
        return None
    if not (30 <= first.value <= 150 and -70 <= other.value <= 130 and -70 <= own.value <= 130):
        return None
    set_to, set_at, then = _pressure(t, first), _degrees(t, own), _degrees(t, other)
    if now is None:
        if t.want.judged and t.question.has(r"\bleak"):
            return None
        found = tire_pressure(set_to, set_at, then)
        change = next((one for one in found.also if one.unit == found.unit), None)
        if change is None or not _LOST.search(t.question.frame):
            return found
        return replace(found, name=change.name, value=abs(change.value), low=None, high=None, also=(figure("pressure then", found.value or 0.0, found.unit),))  # fmt: skip
    if now.amount.start < first.amount.start:
        return None
    found = tire_reading(_pressure(t, now), set_to, set_at, then)
    if not _JUST.search(t.question.frame):
        return found
    explained = (found.value or 0.0) > -GAUGE_PA / PSI_PA * (
        1.0 if found.unit == "psi" else converted(1.0, "psi", found.unit)
    )
    return replace(found, verdict=f"{'Yes' if explained else 'No'}. {found.verdict}")


def _below_placard(t: Told) -> Estimate | None:
    """How far a tire is below what it should have, in percent and in its unit, and whether that is more than it may be."""
    now, wanted, part = t.one("now"), t.one("limit"), t.value("part")
    if now is None or wanted is None:
        return None
    should = _pressure(t, wanted)
    unit = wanted.unit if wanted.unit in ("bar", "kPa") else now.unit if now.unit in ("bar", "kPa") else "psi"
    full, reads = (float(one.to(unit).magnitude) for one in (should, _pressure(t, now)))
    if not 30 <= converted(full, unit, "psi") <= 150 or not 0 <= reads <= 1.5 * full:
        return None
    low = full - reads
    share, name = 100 * abs(low) / full, "low" if low >= 0 else "over"
    line = f"({shown(full)} - {shown(reads)}) {unit} ÷ {shown(full)} {unit} = {shown(100 * low / full)} %"
    gap, verdict = figure("missing" if low >= 0 else "too much", abs(low), unit), ""
    if part is not None:
        more = 100 * low / full > 100 * part + 1e-9
        asks_more = t.question.has(
            r"\b(?:more than|over|past|exceed\w*) (?:\w+ )?<(?:percent|part)>|\btoo low\b|\bflat\b"
        )
        verdict = f"{'Yes' if more == asks_more else 'No'}: {shown(share, 3)} percent {name}."
    if t.want.kind == "share" or (part is not None and t.want.kind == ""):
        return result(t, f"percent {name}", share, "percent", (line,), verdict, (gap,))
    if t.want.kind not in ("pressure", ""):
        return None
    return result(t, gap.name, abs(low), unit, (line,), verdict, (figure(f"percent {name}", share, "percent"),))


_BAROMETER_PSI = (7.0, 16.0)
"""What the air presses with from the highest road to the lowest."""


def _at_height(t: Told) -> Estimate | None:
    """What the gauge reads where the air outside presses less: the absolute pressure stays, or goes with the temperature."""
    first, air, then = t.one("at_first"), t.one("air"), t.one("air_then")
    if first is None or air is None or then is None or t.has("now", "limit") or t.want.kind not in ("pressure", ""):
        return None
    set_to = _pressure(t, first).to("psi").magnitude
    outside, up_there = (_pressure(t, one).to("psi").magnitude for one in (air, then))
    if not 30 <= set_to <= 150 or not all(_BAROMETER_PSI[0] <= one <= _BAROMETER_PSI[1] for one in (outside, up_there)):
        return None
    ratio, own, other = 1.0, t.one("set_at"), t.one("then_at")
    if own is not None and other is not None:
        ratio = (_degrees(t, other).to("degF").magnitude + _RANKINE) / (_degrees(t, own).to("degF").magnitude + _RANKINE)  # fmt: skip
    reads = (set_to + outside) * ratio - up_there
    unit = first.unit if first.unit in ("bar", "kPa") else "psi"
    warm = f" x {shown(ratio)}" if ratio != 1 else ""
    line = f"({shown(set_to)} + {shown(outside)}) psi{warm} - {shown(up_there)} psi = {shown(reads)} psi"
    gained = reads - set_to
    value, change = (converted(one, "psi", unit) for one in (reads, gained))
    also = figure("pressure then", value, unit), figure("change", abs(change), unit)
    if _LOST.search(t.question.frame):
        return result(t, "change", abs(change), unit, (line,), f"{'More' if gained >= 0 else 'Less'}: {shown(value)} {unit}.", also[:1])  # fmt: skip
    return result(t, "pressure then", value, unit, (line,), also=also[1:])


_GAUGE_PSI = GAUGE_PA / PSI_PA
_DAY_F = 60.0
"""Any temperature, where it is the same at both places."""


def _up_high(t: Told) -> Estimate | None:
    """What the gauge shows at another height, in the same or another temperature, and whether a reading is low beyond that."""
    from cabassist.estimate.tires import tire_pressure_up

    first, own, other = t.one("at_first"), t.one("set_at"), t.one("then_at")
    heights = [_feet(t, name) for name in ("height", "height_then")]
    if first is None or (own is None) is not (other is None) or t.want.kind not in ("pressure", ""):
        return None
    set_to = _pressure(t, first).to("psi").magnitude
    warm, cold = (_DAY_F if one is None else float(_degrees(t, one).to("degF").magnitude) for one in (own, other))
    if not 30 <= set_to <= 150:
        return None
    found = tire_pressure_up(set_to, warm, cold, *heights)
    reads, unit = found.value or 0.0, first.unit if first.unit in ("bar", "kPa") else "psi"
    now, limit = t.one("now"), t.one("limit")
    if now is not None and limit is not None:
        return None
    value, change, spread = (converted(one, "psi", unit) for one in (reads, reads - set_to, _GAUGE_PSI))
    should = figure("should read", value, unit)
    if now is not None:
        gap = converted(float(_pressure(t, now).to("psi").magnitude) - reads, "psi", unit)
        told = f"at this height and temperature it should read about {shown(value, 3)} {unit}"
        verdict = f"The height and temperature explain it: {told}."
        if gap < -spread:
            verdict = f"Low beyond the height and temperature: {told}, {shown(-gap, 2)} {unit} are missing. Look for a leak and add air."
        elif gap > spread:
            verdict = (
                f"Higher than the height and temperature explain: {told}. Is it warm from driving? Then let no air out."
            )
        verdict = f"{_leak_head(t, -gap > spread)}{verdict}"
        return result(t, "difference from what height and temperature explain", gap, unit, found.working, verdict, (should,), source=found.source)  # fmt: skip
    if limit is not None:
        least = converted(float(_pressure(t, limit).to("psi").magnitude), "psi", unit)
        verdict = _held_against(t, value, least)
        return result(t, "pressure then", value, unit, found.working, verdict, (figure("change", abs(change), unit),), source=found.source)  # fmt: skip
    if _LOST.search(t.question.frame):
        return result(t, "change", abs(change), unit, found.working, f"{'More' if change >= 0 else 'Less'}: {shown(value)} {unit}.", (figure("pressure then", value, unit),), source=found.source)  # fmt: skip
    return result(t, "pressure then", value, unit, found.working, also=(figure("change", abs(change), unit),), source=found.source)  # fmt: skip


def _feet(t: Told, name: str) -> float:
    """A height in feet; a bare number is in meters where the other is, and what is not told is sea level."""
    term = t.one(name)
    if term is None:
        return 0.0
    metric = term.kind == "n" and any(one.unit in ("m", "km") for one in t.question.amounts)
    return converted(term.value, "m", "ft") if metric else term.value


def _held_against(t: Told, value: float, least: float) -> str:
    """Yes or no: whether it stays above a pressure, or falls below it, as it is asked."""
    above = value >= least
    if t.question.has(r"\b(?:stay|stays|keep|keeps|remain|remains) (?:under|below)\b"):
        return f"{'No' if above else 'Yes'}, it {'comes to more than' if above else 'stays below'} {shown(least, 3)}."
    asks_below = t.question.has(rf"\b(?:{_BELOW})\b") and not t.question.has(
        r"\b(?:stay|stays|keep|hold|holds|without)\b"
    )
    return (
        f"{'No' if above == asks_below else 'Yes'}, it {'stays above' if above else 'falls below'} {shown(least, 3)}."
    )


_BELOW = r"below|under|less|lower|drop\w* past|(?:it|they|that|alarm|sensor) (?:trip|alarm|warn|go off|yell|beep|chirp|ding|scream|light up)|goes off"


_SURELY_LEAKS = Lazy(r"\b(?:is|does|do|has|have|are|got|am|sure|reckons?|says?|swears?|thinks?)\b[^?]{0,60}?\b(?:leak\w*|losing air|puncture\w*|slow one)\b(?! or\b| and not\b)|\b(?:leak\w*|puncture)[ .?]*$")  # fmt: skip
_LEAK_OR = Lazy(r"\b(?:leak\w*|cold|weather|losing air|temperature|puncture) or\b|\bor (?:just|only|is|a|the|does|do|it|they|are)? ?(?:it |the |a |just |only )?(?:leak\w*|cold|weather|losing|temperature)\b")  # fmt: skip


def _leak_head(t: Told, leaks: bool) -> str:
    """Yes or no, where it is asked whether a tire leaks, or whether only the cold has made it low."""
    frame = t.question.frame
    if _LEAK_OR.search(frame) or not t.want.judged:
        return ""
    if _JUST.search(frame):
        return "No. " if leaks else "Yes. "
    return "" if not _SURELY_LEAKS.search(frame) else "Yes. " if leaks else "No. "


_MISSING = Lazy(r"\b(?:missing|short|add|adding|put in|pump in|more|low|top (?:up|off)|under)\b")
_RANKINE = 459.67


_SIDE = Lazy(r"\b(inner|inside|outer|outside|left|right)\b(?! (?:rear|front|steer|drive|tag|dual|duals|pair)\b)")
_SAME_SIDE = {"inside": "inner", "outside": "outer"}


def _other_of_two(t: Told, now: Term) -> bool:
    """Whether the reading is of the one of two tires that is not asked about: "outer says 93, inner 82, is the inner only cold"."""
    if not any(one.kind in ("pressure", "n") for one in t.roles.get("beside", [])):
        return False
    asked = [_SAME_SIDE.get(one, one) for one in _SIDE.findall(t.question.frame.rpartition("<")[2])]
    own = [_SAME_SIDE.get(one, one) for one in _SIDE.findall(now.around.partition("#")[0].rpartition(">")[2])]
    return len(set(asked)) == 1 and bool(own) and asked[0] not in own


_AT_THAT = Lazy(r"\b(?:want|wants|need|needs|should be|must be)(?: \w+){0,2} # (?:at|when it is|in) <(?:temp|F|C|n)>")


def _solve_marked(t: Told) -> Estimate | None:
    """The same where each temperature is known to belong to its pressure; and the temperature at which a pressure is read."""
    from cabassist.estimate.tires import ATMOSPHERE_PA, tire_pressure, tire_reading

    first, own, other = t.one("at_first"), t.one("set_at"), t.one("then_at")
    now, limit = t.one("now"), t.one("limit")
    if first is None or own is None:
        return None
    set_to, set_at = _pressure(t, first), _degrees(t, own)
    if other is None:
        asked = now or limit
        if asked is None or (now is not None and limit is not None):
            return None
        air = converted(ATMOSPHERE_PA / PSI_PA, "psi", str(first.unit) if first.unit != "n" else "psi")
        ratio = (_in_unit_of(t, asked, set_to) + air) / (set_to.magnitude + air)
        found = (set_at.to("degF").magnitude + _RANKINE) * ratio - _RANKINE
        line = f"({shown(set_to.magnitude * ratio + air * (ratio - 1))} + {shown(air)}) ÷ ({shown(set_to.magnitude)} + {shown(air)}) = {shown(ratio)} of the absolute temperature"
        celsius = t.question.scale == "C"
        return result(t, "temperature then", (found - 32) / 1.8 if celsius else found, "C" if celsius else "F", (line,))
    if t.want.kind == "temperature" and not t.want.judged and limit is None:
        return None
    if _AT_THAT.search(first.around) and first.amount.end < other.amount.start < own.amount.start:
        return None  # "want 105 psi at zero, shop is at 70": it is set where the other temperature is
    then = _degrees(t, other)
    if now is not None and _other_of_two(t, now):
        return None
    if now is not None:
        found_gap = tire_reading(_pressure(t, now), set_to, set_at, then)
        gap = found_gap.value or 0.0
        if _JUST.search(t.question.frame):
            explained = gap > -GAUGE_PA / PSI_PA * (1.0 if found_gap.unit == "psi" else converted(1.0, "psi", found_gap.unit))  # fmt: skip
            return replace(found_gap, verdict=f"{'Yes' if explained else 'No'}. {found_gap.verdict}")
        if gap < 0 and _MISSING.search(t.question.frame):
            return replace(found_gap, name="missing", value=-gap, low=None, high=None)
        far = _GAUGE_PSI if found_gap.unit == "psi" else converted(_GAUGE_PSI, "psi", found_gap.unit)
        found_gap = replace(found_gap, verdict=f"{_leak_head(t, gap < -far)}{found_gap.verdict}")
        return found_gap
    found_then = tire_pressure(set_to, set_at, then)
    value = found_then.value or 0.0
    if limit is not None:
        verdict = _held_against(t, value, _in_unit_of(t, limit, set_to))
        return replace(found_then, verdict=f"{verdict} {found_then.verdict}")
    change = next((one for one in found_then.also if one.unit == found_then.unit), None)
    if change is None or not _LOST.search(t.question.frame):
        return found_then
    return replace(found_then, name=change.name, value=abs(change.value), low=None, high=None, also=(figure("pressure then", value, found_then.unit),))  # fmt: skip


def _in_unit_of(t: Told, term: Term, other: Quantity[Any]) -> float:
    """A pressure as a number in the unit of another."""
    return float(_pressure(t, term).to(other.units).magnitude)


_FROM = Lazy(r"\bfrom <(?:F|C|temp|n)> (?:\w+ ){0,3}to <")


def _pressure(t: Told, term: Term) -> Quantity[Any]:
    """A pressure; one without a unit is in the unit of the other."""
    spoken = next((one.unit for one in t.question.amounts if one.unit in ("psi", "bar", "kPa")), "psi")
    return quantity(term.amount.value, spoken if term.unit == "n" else "psi" if term.unit == "lb" else term.unit)


def _degrees(t: Told, term: Term) -> Quantity[Any]:
    return quantity(term.amount.value, term.unit if term.unit in ("F", "C") else t.question.scale)


TIRES = Family("tires", lambda _q: "tire-pressure", _applies, _ROLES, _solve)

_TREAD_ROLES = (
    role("depth", "depth", 0.5, (0.5, r"\b(?:at|is|are|have|has|tread|measure\w*) # "), never=r"\b(?:legal|limit|minimum|to|till?|until)(?: \w+)? # $|\b(?:lose\w*|losing|wear\w*|burn\w*|use\w*|using)(?: about)? # "),
    role("worn", "depth", -0.5, (3.5, r"\b(?:lose\w*|losing|wear\w*|burn\w*|using|uses?|goes|going|down)(?: about| roughly)* # |# (?:every|per|a|each|for every|in) (?:<mi>|<km>|month|week)|\bhow many # |\bin # ")),
    role("worn", "n", -1.6, (4.1, r"\b(?:lose\w*|losing|wear\w*|burn\w*|using|uses?)(?: about| a)* # |# (?:nd|thirty second)")),
    role("limit", "depth|n", -0.6, (3.0, r"\b(?:legal|limit|minimum|min|to|till?|until|down to|before|hit|reach)(?: the| of| is| legal| limit| at)* # |# (?:limit|legal|minimum)\b")),
    role("every", "distance", -0.2, (3.5, r"\b(?:every|per|each|for every|in|a|over) # |\b<(?:32nds|mm|n)>[^#<]{0,12} # ")),
    role("beside", "distance|people", -0.8, (1.5, r"\b(?:done|did|we have done|since|this trip|so far|driven)(?: \w+)? # |# (?:this trip|so far|done)"), many=True),
    role("beside", "n", -1.6, (3.1, r"\b(?:done|did|this trip|driven)(?: \w+)? # |# this trip")),
    role("before", "depth|n", MARKED),  # the tread when it was new, or at an earlier reading
    role("odometer_before", "distance|n", MARKED),
    role("odometer", "distance|n", MARKED),
    role("trip", "distance|n", MARKED),  # the miles that lie ahead
    role("every", "n", MARKED),
    role("worn", "share", MARKED),
    role("depth", "n", MARKED),
    role("beside", _ANY, MARKED, many=True),
)  # fmt: skip


def _tread_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    if question.has(_IN_32NDS):
        return True
    return (
        any(one.kind == "depth" for one in terms)
        and want.kind == "distance"
        and question.has(r"\b(?:tread|steers?|tires?|tyres?|drives?)\b|<32nds>")
    )


_IN_32NDS = r"<(?:mm|in|cm)>.*\b(?:how many|in) <(?:s|32nds|n)>(?! (?:miles|mi|km)\b)|\b(?:how many|what) <(?:s|32nds|n)> (?:nds )?(?:is|are|in|make|does|do|would)\b.*<(?:mm|in|cm)>"


_WEARS_OUT = r"(?:(?:be|go|get|wear|run|fall|drop)(?: \w+){0,2} (?:under|below|out|bald|illegal|down|past)|worn out|too (?:thin|low|bald))\b"
_WORN_OUT = rf"\b(?:will|would|do|does|are|is|going|gonna)\b(?: (?!last|make|survive|hold|do)\S+){{0,7}}? {_WEARS_OUT}"
""" "Will they be under the limit": yes when the tread does not last."""
_OR_WORN_OUT = rf"\b(?:or|without|before|until|till?|when)\b(?: \S+){{0,4}}? {_WEARS_OUT}"


def _tread(t: Told) -> Estimate | None:
    """Miles until the tread is down to its limit, whether it lasts a trip, or what a trip leaves."""
    if t.has("depth") and {*t.roles} <= {"depth", "worn", "beside"} and t.question.has(_IN_32NDS):
        inches = t.value("depth") or 0.0
        t.all("worn")
        return exact("tread", inches * 32, "1/32 in", working=(f"{shown(inches * 25.4)} mm ÷ 25.4 x 32 = {shown(inches * 32)}/32 in",), source="arithmetic")  # fmt: skip
    depth, worn, limit, before = (_inches(t, name) for name in ("depth", "worn", "limit", "before"))
    every, trip, far = _miles(t, "every"), _miles(t, "trip"), _miles(t, "odometer")
    since = _miles(t, "odometer_before")
    if far is not None and since is not None and every is None:
        every = far - since
    if worn is None and before is not None and depth is not None:
        worn = before - depth
    if depth is None or worn is None or every is None or worn <= 0 or every <= 0 or t.want.kind == "time":
        return None
    lasting = t.want.judged or t.question.has(r"\b(?:will|can|do|does|would) (?:they|it|the \w+|these|those) (?:last|make|get|do|survive|go)\b")  # fmt: skip
    if trip is not None and limit is None and not lasting:
        then = depth - worn / every * trip
        lost = t.question.has(
            r"\b(?:lose|lost|wear off|use up|burn off|come off|comes off|gone|worn off|take off|cost)\b"
        )
        found = worn / every * trip if lost else then
        return exact("tread worn off" if lost else "tread then", found * 32, "1/32 in", working=(f"{shown(depth * 32)} - {shown(worn * 32)} x {shown(trip)} ÷ {shown(every)} = {shown(then * 32)}/32 in",), source="arithmetic", also=(figure("tread then" if lost else "tread worn off", (then if lost else depth - then) * 32, "1/32 in"),))  # fmt: skip
    if limit is None:
        front = t.question.has(r"\b(?:steers?|steering|fronts?)\b")
        if not front and not t.question.has(r"\b(?:drives?|duals?|tags?|rears?|back)\b"):
            return None
        limit = converted(4.0 if front else 2.0, "32nds", "in")
        t.assumed.append(f"{'4/32 in on a front tire' if front else '2/32 in on a rear tire'}, 49 CFR 393.75")
    last, each = limit, worn
    left = depth - last
    if left <= 0:
        return None
    miles = left / each * every
    if trip is not None:
        worn_out = t.question.has(_WORN_OUT) and not t.question.has(_OR_WORN_OUT)
        lasts = f"{'Yes' if (miles >= trip) != worn_out else 'No'}, it {'lasts' if miles >= trip else 'does not last'}"
        gap = figure("to spare" if miles >= trip else "short", abs(miles - trip), "mi")
        return result(t, "miles left on the tread", miles, "mi", (f"({shown(depth * 32)} - {shown(last * 32)})/32 ÷ {shown(each * 32)}/32 x {shown(every)} mi = {shown(miles)} mi",), f"{lasts}: {shown(miles)} miles of tread against {shown(trip)}.", (gap,))  # fmt: skip
    if far is not None and t.question.has(
        r"\b(?:odometer|reading|at what|what will (?:it|the clock) (?:say|read|show))\b"
    ):
        return result(t, "odometer then", far + miles, "mi", (f"{shown(far, 7)} + {shown(miles)} mi",), also=(figure("miles left on the tread", miles, "mi"),))  # fmt: skip
    return result(t, "miles left on the tread", miles, "mi", (f"({shown(depth * 32)} - {shown(last * 32)})/32 ÷ {shown(each * 32)}/32 x {shown(every)} mi = {shown(miles)} mi",))  # fmt: skip


def _inches(t: Told, name: str) -> float | None:
    """A depth in inches; one without a unit, or a part of one, is in 32nds."""
    term = t.one(name)
    if term is None or term.kind == "depth":
        return None if term is None else term.value
    return converted(term.value, "32nds", "in")


TREAD = Family("tread", lambda _q: "tread-limit", _tread_applies, _TREAD_ROLES, _tread)

_RECHECK_ROLES = (
    role("fitted", "n|distance", 0.0, (1.5, r"\b(?:wheel|swap\w*|chang\w*|fitted|nuts?|mounted|put|went)\b[^#]{0,30} # "), never=r"# (?:mile |miles )?(?:limit|rule)"),
    role("now", "n|distance", 0.0, (1.5, r"\b(?:now|we are|at|on|odometer|reads?|shows?)(?: \w+){0,2} # |# now\b"), never=r"# (?:mile |miles )?(?:limit|rule)"),
    role("first", "n|distance", -1.6, (3.6, r"\b(?:within|between|after|from|at|in|due|recheck) # (?:to|and|-)")),
    role("within", "n|distance", -0.6, (3.0, r"# (?:mile |miles )?(?:limit|recheck|re ?torque|check|torque|mark|rule)|<n> (?:to|and|-) # |\b(?:within|due (?:at|in|after)|limit|recheck(?: at| in| after)?|inside|<n> (?:to|and)|past the|over the)(?: of| is| the)? # "), never=r"# recheck (?:within|in|at|after|due)"),
    role("beside", "people|temperature", -0.5, many=True),
    role("done", "distance|n", MARKED),  # driven since it was fitted
    role("ahead", "distance|n", MARKED),  # still to drive to the next stop
    role("speed", "speed|n", MARKED),
    role("beside", _ANY, MARKED, many=True),
)  # fmt: skip


def _recheck_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return question.has(r"\b(?:wheels?|nuts?|lugs?|tire|tyre)\b") and question.has(r"\b(?:past|over|overdue|left|to go|more miles|until|till|late|how many miles)\b") and want.kind in ("distance", "", "mass")  # fmt: skip


_LEAST_READING = 1000.0
"""An odometer shows more; in its place where only the miles since the wheel went on are told."""
_ASKS_READING = r"\b(?:at )?(?:what|which) (?:odometer|reading|mileage|number)\b|\bwhat (?:will|should|would|does|must) (?:the odometer|the odo|it|the clock) (?:say|read|show|be)\b"
_ASKS_MILES = r"\b(?:miles|km) left\b|\bhow (?:many|far)\b"
_LATE = r"(?:over ?due|past (?:it|due|the)|over (?:it|the|by)|too late|late)\b"
_OVERDUE = rf"\b(?:will|would|are|am|is)\b(?: (?!reach|make|get|able)\S+){{0,5}}? {_LATE}"
""" "Will they be overdue when I get there": yes when it is not reached in time."""
_OR_OVERDUE = rf"\b(?:or|without|before)\b(?: \S+){{0,5}}? {_LATE}"


def _recheck(t: Told) -> Estimate | None:
    """Miles past the distance in which wheel nuts are checked again, or left until then."""
    fitted, now, within = _miles(t, "fitted"), _miles(t, "now"), _miles(t, "within")
    t.one("first")
    done, ahead, speed = _miles(t, "done"), _miles(t, "ahead"), _miles(t, "speed")
    if fitted is not None and within is not None and now is None and done is None and ahead is None and speed is None:
        return _due_at(t, fitted, within)
    if done is not None and now is None:
        fitted, now = fitted or _LEAST_READING, (fitted or _LEAST_READING) + done
    elif done is not None:
        return None
    if (
        fitted is not None
        and fitted >= _LEAST_READING
        and within is not None
        and ahead is None
        and speed is None
        and t.question.has(_ASKS_READING)
        and not t.question.has(_ASKS_MILES)
    ):
        return _due_at(t, fitted, within)
    if t.want.kind == "time" and speed is None:
        return None
    if (
        fitted is None
        or now is None
        or within is None
        or not 0 <= now - fitted <= 5000
        or within > 1000
        or fitted < 1000
    ):
        return None
    done = now - fitted
    past = t.question.has(r"\b(?:past|over|overdue|late)\b")
    left = within - done
    line = f"{shown(now, 7)} - {shown(fitted, 7)} = {shown(done)} mi since it was fitted"
    if "done" in t.roles:
        line = f"{shown(done)} mi since it was fitted"
    if speed is not None:
        if left <= 0 or speed <= 0 or ahead is not None:
            return None
        return result(t, "time until the recheck", left / speed, "h", (line, f"{shown(left)} mi ÷ {shown(speed)} mph = {shown(left / speed)} h"), also=(figure("left until the recheck", left, "mi"),))  # fmt: skip
    if ahead is not None:
        reached, overdue = left >= ahead, t.question.has(_OVERDUE) and not t.question.has(_OR_OVERDUE)
        stops = t.question.has(
            r"\b(?:must|have to|need to|should|got to|gotta) (?:i |we )?(?:stop|pull)\b|\bstop (?:on the way|before|short)\b|\bpull over\b"
        )
        stops = stops or overdue
        verdict = f"{'Yes' if reached != stops else 'No'}, {shown(left)} miles are left and {shown(ahead)} lie ahead." if left >= 0 else f"{'Yes' if stops else 'No'}, it is {shown(-left)} miles past already."  # fmt: skip
        gap = figure("to spare" if reached else "short", abs(left - ahead), "mi")
        return result(t, "left until the recheck", left, "mi", (line,), verdict, (gap,))
    if left < 0:
        return result(
            t,
            "past the recheck",
            -left,
            "mi",
            (line,),
            f"{shown(-left)} miles past: check the nuts now.",
            (figure("since it was fitted", done, "mi"),),
        )
    if past and not t.question.has(r"\bleft\b"):
        return result(t, "left until the recheck", left, "mi", (line,), f"Not past: {shown(left)} miles are left.")
    return result(t, "left until the recheck", left, "mi", (line,), f"{shown(left)} miles left.")


def _miles(t: Told, name: str) -> float | None:
    """A distance in miles; one without a unit is in kilometers where the others are."""
    term = t.one(name)
    if term is None:
        return None
    metric = term.kind == "n" and any(one.unit in ("km", "km/h") for one in t.question.amounts)
    return converted(term.value, "km", "mi") if metric else term.value


def _due_at(t: Told, fitted: float, within: float) -> Estimate | None:
    """The odometer reading at which the nuts are due."""
    if fitted < 1000 or not 0 < within <= 1000:
        return None
    due = fitted + within
    return result(t, "recheck due at", due, "mi", (f"{shown(fitted, 7)} + {shown(within)} mi",), f"Due at {shown(due, 7)}.")  # fmt: skip


RECHECK = Family("recheck", lambda _q: "wheel-recheck", _recheck_applies, _RECHECK_ROLES, _recheck)
