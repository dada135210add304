"""Heat for water told whole: to warm so much of it from one temperature to another, to melt ice, to boil a pot dry.

The figures of water (8.34 lb a gallon, 144 BTU to melt a pound, 970 to boil one off) are taken as they are told, or as they stand
here. Nothing is told of how a tank freezes: other readers know that.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, converted
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.placed import Said, placed

_CUES = ("btu", "heat", "warm", "kettle", "boil", "melt", "ice", "hot")
_LB_PER_GAL, _FUSION, _STEAM, _BOILS = 8.34, 144.0, 970.0, 212.0
_BTU_PER_WH = 3.412
_SOURCE = "a pound of water takes 1 BTU a degree; 144 BTU a pound to melt, 970 to boil off"
_ELSE = Lazy(r"\b(?:freez\w*|frozen|propane|diesel|furnaces?|cabin|insulat\w*|tank|bays? to|keep|lose[sd]?|losing|altitude|drinking)\b")  # fmt: skip
_MELTS = Lazy(r"\b(?:melt\w*|thaw\w*)\b")
_DRY = Lazy(r"\b(?:boil\w*|steam\w*)\b.*\b(?:dry|off|away|gone|empty)\b|\bdry\b.*\bboil\w*|\bboils? (?:it )?(?:all )?(?:dry|off|away)\b")  # fmt: skip
_TO = Lazy(r"\b(?:to|till|until|hits?|reach\w*|at)(?: (?:a|about|boil\w*|is|up|get|of|the|it|,))* $|\bboiling , $")
_FROM = Lazy(r"\b(?:from|of|is|at|starts?|starting|with|that is|in)(?: (?:about|at|around|the|a|out))* $|^$|\b(?:gallons?|water) $")  # fmt: skip
_HEAT_ASKED = Lazy(r"\bhow (?:many|much) (?:btus?|heat|energy)\b|\bbtus? (?:do|does|to|needed|will|is|are)\b|\bwhat .*\bbtus?\b|[,.] btus? $")  # fmt: skip
_TIME_ASKED = Lazy(r"\bhow (?:long|many (?:more )?(?:minutes|mins|hours|hrs))\b|\b(?:minutes|mins|hours) (?:to|till?|until)\b|\bhow much time\b")  # fmt: skip
_FIGURE_OF = Lazy(
    r"^(?:to (?:\w+ ){0,2}?|per |a |each |for (?:each |every )?|every )(?:a |the |each |one )?(?:pound|lb)?\b"
)
_LATENT = Lazy(r"\b(?:melt\w*|boil\w*|thaw\w*|turn\w*|steam)\b")


def heated(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """BTU to warm, melt or boil off so much water, or how long that takes with so much power; None unless all is placed."""
    if not names_any(q.text.lower(), _CUES) or _ELSE.search(q.frame):
        return None
    asks_heat, asks_time = _HEAT_ASKED.search(q.frame) is not None, _TIME_ASKED.search(q.frame) is not None
    found = placed(q)
    if asks_heat == asks_time or found is None:
        return None
    melts, dry = _MELTS.search(q.frame) is not None, _DRY.search(q.frame) is not None
    water: list[Said] = []
    degrees: list[Said] = []
    power: list[float] = []
    latent: list[float] = []
    share = 1.0
    k = 0
    while k < len(found):
        one = found[k]
        k += 1
        if one.amount.each or (one.amount.per and one.amount.tag != "BTU/h"):
            return None
        if one.unit in ("W", "kW"):
            power.append(one.value * (1000 if one.unit == "kW" else 1) * _BTU_PER_WH)
        elif one.amount.tag == "BTU/h":
            power.append(one.value)
        elif one.unit == "BTU":
            of_one = k < len(found) and found[k].unit == "lb" and found[k].value == 1
            if not (_LATENT.search(one.right) or _LATENT.search(one.left)) or not (
                of_one or _FIGURE_OF.search(one.right)
            ):
                return None
            latent.append(one.value)
            k += of_one
        elif one.unit in ("gal", "L", "qt", "pt", "lb", "kg", "cup"):
            water.append(one)
        elif one.unit in ("F", "temp") or (one.unit == "n" and 0 <= one.value <= _BOILS):
            degrees.append(one)
        elif one.unit == "percent" and Lazy(r"\b(?:effic\w*|goes? in\w*|gets? in\w*|into)\b").search(one.right):
            share = one.value / 100
        else:
            return None
    if len(water) != 1 or len(power) != asks_time or not 0 < share <= 1 or len(latent) > 1 or (melts and dry):
        return None
    pounds = _pounds(water[0])
    held = f"{shown(pounds)} lb of {'ice' if melts else 'water'}"
    if melts or dry:
        if not all(one.value == (32 if melts else _BOILS) for one in degrees) or (melts and " ice " not in q.frame):
            return None  # it is warmed or cooled besides
        each = latent[0] if latent else _FUSION if melts else _STEAM
        heat = pounds * each
        line = f"{held} x {shown(each)} BTU = {shown(heat)} BTU"
    else:
        ends = _ends(degrees, q.frame)
        if ends is None or latent:
            return None
        heat = pounds * (ends[1] - ends[0])
        line = f"{held} x ({shown(ends[1])} - {shown(ends[0])}) °F = {shown(heat)} BTU"
    if asks_heat:
        return exact("heat", heat, "BTU", working=(line,), source=_SOURCE)
    hours = heat / (power[0] * share)
    lines = (line, f"÷ {shown(power[0] * share)} BTU/h = {shown(hours)} h")
    value, unit = (hours, "h") if hours >= 3 or Lazy(r"\bhow many (?:more )?(?:hours|hrs)\b").search(q.frame) else (hours * 60, "min")  # fmt: skip
    return exact("time", value, unit, working=lines, source=_SOURCE, assumptions=("no heat is lost",), verdict=f"{duration(hours)[:1].upper()}{duration(hours)[1:]}; longer where heat is lost.", also=(figure("heat", heat, "BTU"),))  # fmt: skip


def _pounds(one: Said) -> float:
    if FACTORS[one.unit][0] == "mass":
        return converted(one.value, one.unit, "lb")
    return converted(one.value, one.unit, "gal") * _LB_PER_GAL


def _ends(degrees: list[Said], frame: str) -> tuple[float, float] | None:
    """What it starts from and is brought to; boiling is 212 where no number is told for it."""
    ends = [one for one in degrees if _TO.search(one.left) and not _FROM_ONLY.search(one.left)]
    starts = [one for one in degrees if one not in ends]
    boils = _TO_BOIL.search(frame) is not None
    if boils and len(ends) == 1 and not starts:
        starts, ends = ends, []  # "two gallons at sixty to a boil"
    if len(ends) == 2 and len(degrees) == 2:
        starts, ends = ends[:1], ends[1:]  # "at fifty, to a hundred and four"
    if len(starts) != 1 or len(ends) > 1 or not (_FROM.search(starts[0].left) or Lazy(r"^(?:degrees? )?(?:cold )?water\b").search(starts[0].right)):  # fmt: skip
        return None
    if not ends and not boils:
        return None
    top = ends[0].value if ends else _BOILS
    return (starts[0].value, top) if 0 <= starts[0].value < top <= _BOILS else None


_TO_BOIL = Lazy(r"\b(?:to|till|until|up to) (?:a |the )?(?:rolling )?boil\w*\b|\bto boil (?:it|that|them)\b|\bboils\b")
_FROM_ONLY = Lazy(r"\bfrom(?: \w+)? $")
