"""What a propane vessel gives in the cold, what may still be filled into it, and what its gauge shows.

A cylinder called by its pounds is called by its legal fill; a tank told in gallons may be filled to 80 % of them.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.coach import Coach
from cabassist.estimate.propane import LB_PER_GAL, WEIGHT_SOURCE
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.placed import placed
from cabassist.language.wanted import Wanted
from cabassist.sums.gas_story import Gas, gas_story
from cabassist.sums.sums_fill import MOST_OF_VOLUME
from cabassist.sums.working_sheet import quantity, with_verdict

_PROPANE = Lazy(r"\b(?:propane|lp|lpg|gas|cylinders?|cyls?|bottles?|pounders?|cilinders?)\b|<cylinder[/>]")
_BOILS = Lazy(
    r"\bbtus?\b|\bb t us?\b|\b(?:vapou?r\w*|boil\w*|give|gives|make|makes|supply|supplies|put out|keep up|keep going|starve\w*|feed|feeds|enough|nonstop|non stop|full ?time|carry|run)\b|<BTU"
)
_LASTS = Lazy(
    r"\b(?:how long|how many (?:hours|days|nights)|hours|days|last|lasts|till morning|until|through)\b|<(?:h|day|night)>"
)
_FILLS = Lazy(
    r"\b(?:fill|filled|refill\w*|top|stop|full|hold|holds|allowed|legal|put in|goes in|go in|take|room|bring|pump|may)\b|\bgauge (?:says|reads|shows|is)\b|<percent> of (?:a |an |the |our )?<gal>"
)
_NOT_A_FILL = Lazy(
    r"\b(?:fresh|waste|hose|water(?! (?:size|capacity))|diesel|furnaces?|last|lasts|burn\w*|btus?|how long|days|nights|hours|due|retest\w*|feed|vapou?r\w*|scale|weigh(?:s(?! how)|ed|ing)|tare|cost|price)\b|<(?:lb|gal)/|<(?:BTU|h|day|night)"
)
_GAUGE = Lazy(r"\bpressure\b|\bpsi\b|\bpsig\b")
_SHOWS = Lazy(r"\b(?:show|shows|read|reads|be|have|has|what|how much|how many)\b")
_TIRES = Lazy(r"\b(?:tires?|tyres?|air brakes?|steers?|duals?)\b")
_EMPTY = Lazy(r"\b(?:empty|bone dry|ran dry|is dry)\b")
_ONLY_80 = Lazy(r"\b80 percent rule\b|<percent> rule\b|<percent> (?:fill|limit)\b")


def told_vessel(question: Question, want: Wanted | None, coach: Coach) -> tuple[str, Estimate] | None:
    """What follows for a propane cylinder or tank; None when the question is about something else."""
    frame = question.frame
    if not (_PROPANE.search(frame) or "<lb>" in frame):
        return None
    if _GAUGE.search(frame) and not _TIRES.search(frame):
        return _pressure(question)
    if any(one.unit in ("F", "C", "temp") for one in question.amounts):
        return _vapor(question, want, coach)
    if _FILLS.search(frame) and not _NOT_A_FILL.search(frame) and _PROPANE.search(frame):
        made = _fill(question, want)
        return None if made is None else ("propane-weight", made)
    return None


def _pressure(question: Question) -> tuple[str, Estimate] | None:
    """What a gauge on the cylinder shows at a temperature."""
    from cabassist.estimate import boil_off

    if len(question.amounts) != 1 or not _SHOWS.search(question.frame) or not _PROPANE.search(question.frame):
        return None
    only = question.amounts[0]
    if only.unit not in ("F", "C", "temp"):
        return None
    scale = question.scale if only.unit == "temp" else only.unit
    try:
        found = boil_off.vapor_pressure(quantity(only.value, scale))
    except ValueError:
        return None
    return "vaporization", found


def _vapor(question: Question, want: Wanted | None, coach: Coach) -> tuple[str, Estimate] | None:
    """What a cylinder boils off in the cold, and whether that feeds what burns."""
    from cabassist.estimate import boil_off

    frame = question.frame
    if not _BOILS.search(frame) or (want is not None and want.kind not in ("power", "energy", "", "mass")):
        return None
    if _LASTS.search(frame) and not Lazy(r"\bbtus?\b|\bb t us?\b|\bvapou?r\w*").search(frame):
        return None
    gas = gas_story(question)
    if gas is None or gas.outside is None or gas.duties or gas.loss is not None or gas.rate is not None or gas.moved or gas.weights:  # fmt: skip
        return None
    told = _one_cylinder(gas, coach)
    if told is None:
        return None
    pounds, size, assumed = told
    air, nominal = quantity(gas.outside, "F"), quantity(size, "lb")
    try:
        gives = boil_off.vaporization(quantity(pounds, "lb"), air, nominal=nominal)
    except ValueError:
        return None
    if gas.burners:
        demand = sum(gas.burners)
        judged = boil_off.can_feed(quantity(demand, "BTU/h"), air, [quantity(pounds, "lb")], nominal=nominal)
        if judged.value is None:
            return "vaporization", replace(judged, assumptions=(*assumed, *judged.assumptions))
        sure = judged.value >= demand and (judged.low is None or judged.low >= demand)
        gives = with_verdict(judged, "Yes." if sure else "No, not enough." if judged.value < demand else "Barely.")
    return "vaporization", replace(gives, assumptions=(*assumed, *gives.assumptions))


def _one_cylinder(gas: Gas, coach: Coach) -> tuple[float, float, tuple[str, ...]] | None:
    """Pounds left in one cylinder, and the size it is called by."""
    sizes = {size for size, _, _ in gas.sizes}
    if len(sizes) > 1 or any(count != 1 for _, count, _ in gas.sizes):
        return None
    own = coach.propane.cylinders[0].nominal_lb
    size = next(iter(sizes), own)
    assumed = () if sizes else (f"a {shown(own)} lb cylinder (profile)",)
    if gas.left and not gas.shares:
        pounds = gas.left[0] if len(gas.left) == 1 else None
    elif gas.shares and not gas.left and len(gas.shares) == 1:
        one = gas.shares[0]
        pounds = size * one.value / (100 if one.unit == "percent" else 1)
    else:
        pounds = None
    return None if pounds is None or pounds > size * 1.02 else (pounds, size, assumed)


def _fill(question: Question, want: Wanted | None) -> Estimate | None:
    """What a vessel may hold, or what still goes in up to that."""
    found = placed(question)
    if found is None or (want is not None and want.kind not in ("volume", "mass", "")):
        return None
    size_lb = size_gal = inside_lb = inside = None
    for one in found:
        share = one.value / (100 if one.unit == "percent" else 1)
        if one.unit in ("lb", "kg") and not one.amount.per:
            pounds = one.value * (2.204622622 if one.unit == "kg" else 1)
            if _VESSEL.search(one.right) or question.words[one.amount.end - 1] in ("pounder", "pounders"):
                if size_lb is not None:
                    return None
                size_lb = pounds
            elif size_lb is None and any(abs(pounds - MOST_OF_VOLUME * other.value) < 0.5 for other in found if other.unit in ("lb", "kg")):  # fmt: skip
                continue  # 80 percent of a fill that is legal as it is
            elif _INSIDE.search(one.right) or _HOLDS.search(one.left):
                if inside_lb is not None:
                    return None
                inside_lb = pounds
            else:
                return None
        elif one.unit == "n" and (1950 <= one.value <= 2040 or one.value in (size_lb, size_gal)):
            continue
        elif one.unit == "gal" and not one.amount.per:
            if size_gal is not None:
                return None
            size_gal = one.value
        elif one.unit in ("percent", "part"):
            limit = abs(share - MOST_OF_VOLUME) < 1e-6 and _LIMIT.search(f"{one.left}# {one.right}")
            if limit:
                continue
            if inside is not None:
                return None
            inside = share
        elif one.unit in ("people", "clock", "mi"):
            continue
        else:
            return None
    if (size_lb is None) is (size_gal is None):
        return None
    if size_gal is not None:
        if inside_lb is not None:
            return None
        filled = inside is not None and inside <= MOST_OF_VOLUME and not _MORE.search(question.frame)
        return _content(size_gal, inside or 0.0) if filled else _by_volume(size_gal, inside)
    return _by_weight(size_lb or 0.0, inside_lb, inside, question, want)


_VESSEL = Lazy(
    r"^(?:(?:propane|steel|aluminum|aluminium|gas|lp|full|empty) )*(?:cylinders?|cyls?|bottles?|tanks?|ones?)\b"
)
_INSIDE = Lazy(r"^(?:\w+ )?(?:still )?(?:left|in it|in there|already|in\b|remain\w*|still)")
_HOLDS = Lazy(r"\b(?:has|have|had|with|got|still|holds|at)(?: (?:about|only|still|got))* $")
_LIMIT = Lazy(
    r"\b(?:to|stop at|stops? (?:it )?at|stop|up to|until|till|at) (?:the )?# |# (?:stop|rule|limit|fill|mark|valve|max\w*)\b|\blimit (?:of|is) # |# $"
)


_MORE = Lazy(r"\b(?:more|room|can|may|take|takes|still|to (?:fill|top|the)|need|needs|put|goes|go|add|left to|bring)\b")


def _content(size: float, share: float) -> Estimate:
    """What is in a tank told in gallons, by its gauge."""
    inside = size * share
    line = f"{shown(size)} gal x {shown(100 * share)} % = {shown(inside)} gal"
    return exact("in it", inside, "gal", working=(line,), source=WEIGHT_SOURCE, also=(figure("pounds", inside * LB_PER_GAL, "lb"),))  # fmt: skip


def _by_volume(size: float, inside: float | None) -> Estimate | None:
    """A tank told in gallons: 80 % of them, or what is missing to that."""
    most = MOST_OF_VOLUME * size
    source = f"80 % fill rule (NFPA 58, from memory); {WEIGHT_SOURCE}"
    if inside is None:
        return exact("most that may be filled", most, "gal", working=(f"80 % of {shown(size)} gal = {shown(most)} gal",), source=source, also=(figure("pounds", most * LB_PER_GAL, "lb"),))  # fmt: skip
    room = most - inside * size
    if room <= 0:
        return None
    line = f"{shown(size)} gal x (80 % - {shown(100 * inside)} %) = {shown(room)} gal"
    return exact("still to be filled", room, "gal", working=(line,), source=source, verdict="80 percent at most, the outage gauge decides.", also=(figure("pounds", room * LB_PER_GAL, "lb"),))  # fmt: skip


def _by_weight(size: float, inside_lb: float | None, share: float | None, question: Question, want: Wanted | None) -> Estimate | None:  # fmt: skip
    """A cylinder called by its pounds: they are its legal fill already."""
    if inside_lb is not None and share is not None:
        return None
    if inside_lb is None and share is None and not _EMPTY.search(question.frame):
        return None
    inside = inside_lb if inside_lb is not None else (share or 0.0) * size
    room = size - inside
    if room <= 0:
        return None
    gallons = room / LB_PER_GAL
    line = f"{shown(size)} - {shown(inside)} = {shown(room)} lb ÷ {LB_PER_GAL} lb/gal = {shown(gallons)} gal"
    verdict = f"A {shown(size)} pound cylinder is called by its legal fill: do not take 80 percent of it again."
    by_volume = want is not None and want.kind == "volume"
    value, unit = (gallons, "gal") if by_volume and "pounds" not in question.frame else (room, "lb")
    other = figure("pounds", room, "lb") if unit == "gal" else figure("gallons", gallons, "gal")
    return exact("may be filled", value, unit, working=(line,), source=WEIGHT_SOURCE, verdict=verdict, also=(other,))
