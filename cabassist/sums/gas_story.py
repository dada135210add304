"""What a question tells of propane: cylinders and what is in them, what burns it and how long, each from the words of its own.

Nothing is worked out here (`told_gas.py`). An amount that has no place leaves the question unread.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from cabassist.estimate.propane import LB_PER_GAL
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, HOURS, PER_H, converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed

_VESSEL_AFTER = Lazy(
    r"^(?:(?:propane|steel|aluminum|aluminium|gas|lp|full|empty|s|'|big|spare|other|one|ones) )*(?:cylinders?|bottles?|pounders?|tanks?|cyls?|jugs?)\b"
)
_VESSEL_BEFORE = Lazy(r"\b(?:cylinders?|bottles?|tanks?) (?:(?:is|are|hold|holds|of|that|each|both|rated|a|an) )+$")
_BURNS_BEFORE = Lazy(
    r"\b(?:furnaces?|heaters?|burners?|plate|blows?|rated|input|that ' s|thats|that|both|each|two|on|and|at|is|of|says?|are|makes?)(?: (?:is|are|at|of|a|an|says|rated|both|each|about|for|one|the|other|that|draws?|takes?))* $"
)
_BURNERS = Lazy(r"\b(?:furnaces|heaters|burners)\b")
_LOSES_BEFORE = Lazy(
    r"\b(?:los(?:es|ing|s|e)|needs?|loss|demand|takes?|leaks?|wants|requires?|calls for|to hold|heat load)(?: (?:is|of|about|around|some|something like|roughly|us|at))* $"
)
_OF_TIME = Lazy(
    r"^(?:(?:of|out of) )?(?:the |that |each |every )?(?:time|clock|hour|hours|night|day|cycle|duty)\b|^duty\b|^(?:each|apiece)(?: of (?:the )?time)?\b"
)
_DUTY_BEFORE = Lazy(
    r"\b(?:on|runs?|running|going|burning|burns|cycl\w+|fires?|firing|lit|duty(?: cycle)?(?: of| is)?|they run|it runs)(?: (?:about|maybe|around|only|for|roughly|at|say))* $"
)
_GETS_IN = Lazy(
    r"^(?:of )?(?:(?:the|that|it|its|gas|gas ' s|' s|propane) )*(?:heat )?(?:(?:of )?(?:that|it) )?(?:that )?(?:gets?|goes|comes|ends up|reach\w*|makes it|stays|warms|effic\w*)\b|^effic\w*"
)
_EFFICIENT_BEFORE = Lazy(r"\beffic\w*(?: (?:of|is|at|about|say))* $")
_OF_AN_HOUR = Lazy(r"^(?:out )?(?:of |in )?(?:every|each|an|the|per|a) hour\b")
_MOVED_AFTER = Lazy(
    r"^(?:of )?(?:(?:the )?(?:propane|gas|lp) )?(?:(?:was|were|is|got|has|have) )?(?:went|gone|burned|burnt|used|disappeared|left us|vanished|out)\b"
)
_MOVED_BEFORE = Lazy(
    r"\b(?:burned|burnt|used(?: up)?|went through|gone through|ate|eaten|lost|dropped|drops|down by|went down(?: by)?|through)(?: (?:up|about|around|some|by|just|only))* $"
)
_TARE = Lazy(
    r"\b(?:tare|tw|empty(?: (?:bottle|one|cylinder|tank|weight|it))?)(?: (?:is|weighs?|of|stamped|says|at|' s|it|about|was|on|the|its|collar|stamp|marked|reads|ring|weight))* $"
)
_TARE_AFTER = Lazy(r"^(?:tare|empty)\b(?! (?:is|on|of|says|reads|weight|was|at|about|stamp\w*)\b)(?! ?$)")
_SCALE = Lazy(r"\b(?:gross|scales?|weighs?|weighed|weighing|weight)\b")
_STILL_LEFT = Lazy(r"^(?:of (?:propane|gas) )?(?:left|in it|in there|remain\w*)\b")
_KEEP = Lazy(
    r"\b(?:keep|keeping|leave|leaving|hold back|save|reserve(?: of)?|never below|not below|spare)(?: (?:at least|about|me|us))* $"
)
_FULL = Lazy(r"\b(?:full|fresh|new)\b")
_TO_SPAN = Lazy(r"^(?:and|to|till?|until|-) $")
_ELAPSED_AFTER = Lazy(r"^(?:later|ago|earlier|since|apart|of that)\b")
_ELAPSED_BEFORE = Lazy(r"\b(?:in|over|within|last|past|took|after)(?: (?:the|about|last|past|just|only))* $")
_LEAST_BTU = 5000.0
"""A bare number from here on is a furnace's heat, not pounds."""
_LEFT_WORDS = Lazy(
    r"^(?:\w+ ){0,2}?(?:left|in it|in there|remain\w*|still|of propane|of gas|on hand|in the)\b|^$|^[,.]|^(?:propane|gas)\b"
)


@dataclass
class Gas:
    """Everything a question tells of propane."""

    sizes: list[tuple[float, float, Said]] = field(default_factory=list)
    """Pounds a cylinder holds, how many of them, and where it is told."""
    shares: list[Said] = field(default_factory=list)
    left: list[float] = field(default_factory=list)
    """Pounds told as what is in it."""
    burners: list[float] = field(default_factory=list)
    duties: list[float] = field(default_factory=list)
    loss: float | None = None
    efficiency: float | None = None
    rate: float | None = None
    """Pounds an hour."""
    moved: float | None = None
    weights: list[float] = field(default_factory=list)
    tare: float | None = None
    keep: float | None = None
    elapsed: float | None = None
    needed: list[Said] = field(default_factory=list)
    clocks: list[tuple[float, bool, Said]] = field(default_factory=list)
    outside: float | None = None
    """°F."""


def gas_story(question: Question) -> Gas | None:
    """What the question tells, or None when an amount of it has no place."""
    found = placed(question)
    if found is None:
        return None
    gas = Gas()
    count, furnaces, counted = 0.0, 0.0, -1
    for one in found:
        said = question.words[one.amount.start : one.amount.end]
        if one.unit == "n" and said == ("one",):
            continue  # "one at half, the other full"
        if _counted(one) or said[-2:] == ("of", "them"):
            if count:
                return None
            count, counted = one.value, one.amount.end
            continue
        before = (len(gas.sizes), len(gas.burners))
        if not _put(gas, one, found, question):
            return None
        if count and len(gas.sizes) > before[0]:
            size, _, told = gas.sizes[-1]
            gas.sizes[-1], count = (size, count, told), 0.0
        elif count and len(gas.burners) > before[1]:
            if furnaces or before[1]:
                return None
            if one.unit != "n" and one.amount.start == counted and _PLURAL.search(one.right):
                gas.burners += gas.burners[-1:] * (round(count) - 1)  # "two 42,000 BTU furnaces plus a 30,000 heater"
                count = 0.0
                continue
            furnaces, count = count, 0.0
    return gas if _numbered(gas, furnaces, count) else None


_PLURAL = Lazy(r"^(?:an hour |\w+ )?(?:furnaces|heaters|burners)\b(?=.*\b(?:and|plus|with|,))")
"""Several of one size, beside which something else burns."""


def _numbered(gas: Gas, furnaces: float, count: float) -> bool:
    """Give the furnaces their number, told before or after their heat; False when it fits nothing."""
    if furnaces and len(gas.burners) == 1:
        gas.burners = gas.burners * round(furnaces)
    elif furnaces and furnaces != len(gas.burners):
        return False
    if not count:
        return True
    if len(gas.burners) == 1 and not gas.sizes:
        gas.burners = gas.burners * round(count)
        return not furnaces
    return count in (1.0, float(len(gas.left)), float(sum(many for _, many, _ in gas.sizes)), float(len(gas.burners)))


def _counted(one: Said) -> bool:
    """Whether an amount says how many cylinders or furnaces there are."""
    if one.unit in ("furnace", "heater", "cylinder"):
        return one.value < 20
    whole = one.unit == "n" and one.value % 1 == 0 and 1 <= one.value <= 8 and not one.amount.per
    plural = Lazy(r"^(?:\w+ ){0,2}?(?:furnaces|heaters|cylinders|bottles|of (?:them|those))\b").search(one.right)
    return whole and (plural is not None or (one.right in ("", "full", "x") and one.after.partition("/")[0] in ("lb", "kg", "BTU", "furnace", "kW")))  # fmt: skip


def _put(gas: Gas, one: Said, found: tuple[Said, ...], question: Question) -> bool:
    """Give an amount its place; False when it has none."""
    unit, value = one.unit, one.value
    if unit == "clock" or _hour(one, found):
        gas.clocks.append((value, unit == "clock" and not one.amount.pieces, one))
        return True
    if unit in ("F", "C", "temp"):
        if gas.outside is not None:
            return False
        celsius = unit == "C" or (unit == "temp" and question.scale == "C")
        gas.outside = converted(value, "C", "F") if celsius else value
        return True
    if unit in ("people", "mi", "km") and not one.amount.per:
        return True
    if unit == "min" and _OF_AN_HOUR.search(one.right):
        gas.duties.append(value / 60)
        return value <= 60
    if unit in HOURS and unit != "s" and not one.amount.per:
        if (_ELAPSED_AFTER.search(one.right) or _ELAPSED_BEFORE.search(one.left)) and gas.elapsed is None:
            gas.elapsed = value * HOURS[unit]
        else:
            gas.needed.append(one)
        return True
    if unit in ("percent", "part"):
        return _share(gas, one)
    if unit in ("BTU", "BTU/h", "kW", "furnace") or (unit == "n" and value >= _LEAST_BTU):
        return _heat(gas, one)
    return _weight(gas, one, question)


def _hour(one: Said, found: tuple[Said, ...]) -> bool:
    """Whether a bare number is an hour: "between midnight and five", "at six"."""
    if one.unit != "n" or one.value % 1 or not 1 <= one.value <= 12 or one.amount.per:
        return False
    spanned = one.before == "clock" and _TO_SPAN.search(one.left)
    timed = Lazy(r"\b(?:at|from|by|till?|until|around|since) $").search(one.left)
    return bool(spanned) or bool(timed and any(other.unit == "clock" for other in found))


def _share(gas: Gas, one: Said) -> bool:
    share = one.value / (100 if one.unit == "percent" else 1)
    if not 0 < share <= 1:
        return False
    if _GETS_IN.search(one.right) or _EFFICIENT_BEFORE.search(one.left):
        gas.efficiency = share
        return True
    if _OF_TIME.search(one.right) or _DUTY_BEFORE.search(one.left):
        gas.duties.append(share)
        return True
    gas.shares.append(one)
    return True


def _heat(gas: Gas, one: Said) -> bool:
    value = one.value / (0.00029307107 if one.unit == "kW" else 1.0)
    if one.amount.per not in ("", "h") or value < 1000:
        return False
    if _LOSES_BEFORE.search(one.left):
        if gas.loss is not None:
            return False
        gas.loss = value
        return True
    if one.unit == "n" and not (one.before == "furnace" or (one.amount.each and _BURNERS.search(one.left)) or _BURNS_BEFORE.search(one.left) or Lazy(r"^(?:\w+ )?(?:furnace|heater|burner)").search(one.right)):  # fmt: skip
        return False
    gas.burners.append(value)
    return True


def _weight(gas: Gas, one: Said, question: Question) -> bool:
    """Pounds or gallons of gas, or of the cylinder with it."""
    unit, amount = one.unit, one.amount
    if unit in FACTORS and FACTORS[unit][0] == "mass":
        pounds = converted(one.value, unit, "lb")
    elif unit in ("gal", "L"):
        pounds = converted(one.value, unit, "gal") * LB_PER_GAL
    elif unit == "n":
        pounds = one.value * _factor(question)
    else:
        return False
    if amount.per:
        if amount.per not in ("h", "day", "night", "week") or gas.rate is not None or unit == "n":
            return False
        gas.rate = pounds * PER_H[amount.per]
        return True
    if _TARE.search(one.left) or _TARE_AFTER.search(one.right):
        gas.tare = pounds
        return gas.tare is not None
    if _MOVED_AFTER.search(one.right) or _MOVED_BEFORE.search(one.left):
        if gas.moved is not None:
            return False
        gas.moved = pounds
        return True
    if _KEEP.search(one.left):
        gas.keep = pounds
        return True
    if unit in ("lb", "kg") and (
        _VESSEL_AFTER.search(one.right) or _VESSEL_BEFORE.search(one.left) or _pounders(one, question)
    ):
        gas.sizes.append((pounds, 1.0, one))
        return True
    stamped = gas.tare is not None and not gas.weights and not _STILL_LEFT.search(one.right)
    if _SCALE.search(one.left) or (gas.weights and unit == "n") or stamped:
        gas.weights.append(pounds)
        return len(gas.weights) <= 2
    if unit == "n" and not (gas.left or gas.moved or gas.sizes):
        return False
    gas.left.append(pounds)
    return len(gas.left) <= 2


def _factor(question: Question) -> float:
    """Pounds in one of what weights without a unit are told in."""
    masses = {one.unit for one in question.amounts if one.unit in ("lb", "kg")}
    return converted(1.0, "kg", "lb") if masses == {"kg"} else 1.0


def _pounders(one: Said, question: Question) -> bool:
    """ "Two forty pounders": the unit itself names the cylinder."""
    return question.words[one.amount.end - 1] in ("pounder", "pounders")
