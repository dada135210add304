"""Tires told as a story: where and how warm they were set, how high and cold it is now, what the gauge should show."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, last_at, parts
from cabassist.sums.working_sheet import in_unit, quantity

_TIRES = Lazy(r"\b(?:tires?|tyres?|steers?|duals?|drives|psi|bar|aired|pumped|inflat\w*|cold pressure|left front|right front|fronts|rears|tag)\b|<(?:psi|bar|kPa)>")  # fmt: skip
_OTHER = Lazy(r"\b(?:propane|regulator|brakes?|leak ?down|compressor|cylinder|shower|hose|tread|weigh\w*|torque\w*|nuts?|water|cord)\b|<(?:32nds|gal|lb-ft|N·m|L|V|A)(?:/\w+)?>")  # fmt: skip
_SET = Lazy(r"\b(?:set|aired|filled|pumped|inflated|put|were|was|had|sat|start\w*|checked|cold)\b")
_READ = Lazy(
    r"\b(?:(?:they|it) (?:are|is) (?:now )?at|reads?|reading|show(?:s|ed|n)?|showing|now|down to|dropped to|measured?|gauge|says|at this morning|i got|i get)\b"
)
_WARM = Lazy(
    r"\b(?:shop|garage|barn|heated|indoors|inside|in there|yesterday|last (?:week|night|time|month)|home|when (?:i|we) (?:set|aired|filled|left)|set|aired|filled|pumped|were|was|from|then|back home|afternoon|left)\b"
)
_COLD = Lazy(
    r"\b(?:now|this morning|today|tonight|tomorrow|out|outside|here|up here|up there|drops? to|going (?:down )?to|to|forecast|will be|overnight|when it|woke|parked|lodge|it is|gets? to)\b"
)
_ASKED = Lazy(
    r"\b(?:what|how (?:much|many|high|low|far)|should|ought|expect|will (?:it|they|the|that)|would|supposed|where|reading|just|only)\b"
)
_LOW = Lazy(
    r"\b(?:leak\w*|just (?:the )?cold|only (?:the )?cold|normal|okay|ok|low|flat|lost air|worry|too low|cold or)\b"
)
_LOSE = Lazy(r"\b(?:lose|lost|drop|dropped|gain|rise|go up|go down|come up|change|how (?:much|many psi) (?:higher|lower|more|less))\b")  # fmt: skip
_SEA = Lazy(r"\bsea level\b")
_HEIGHT = Lazy(
    r"\b(?:elevation|altitude|feet up|up (?:here|there)|pass|summit|above (?:the )?sea|high|mountain\w*|sea level|climb\w*|at home|denver)\b"
)
_SAME = Lazy(r"\b(?:same temperature|temperature (?:stays|is|of the \w+ stays) the same|no change in temperature|just as (?:warm|cold)|same temp)\b")  # fmt: skip
_STANDARD_F = 60.0


def tires(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What a tire should show, or whether what it shows is only the cold and the height."""
    if not _TIRES.search(q.frame) or _OTHER.search(q.frame) or not _ASKED.search(q.frame):
        return None
    found = parts(q)
    pressures = [part for part in found if part.kind == "pressure" or (part.kind in ("n", "mass") and _is_pressure(part, found))]  # fmt: skip
    sure = any(part.kind in ("pressure", "mass") for part in pressures)
    heights = [part for part in found if part.kind == "length" and part.value >= 200]
    degrees = [part for part in found if part.kind == "temperature" or (part.kind == "n" and part not in pressures and _is_degrees(part, sure))]  # fmt: skip
    bare = [part for part in found if part.kind == "n" and part not in pressures and part not in degrees]
    heights += [part for part in bare if _is_height(part)]
    heights.sort(key=lambda part: part.amount.start)
    if any(not _is_height(part) for part in bare) or not 1 <= len(pressures) <= 2 or len(heights) > 2:
        return None
    if len(degrees) not in (0, 2) or (not degrees and not heights):
        return None
    unit = next((part.unit for part in pressures if part.unit in ("psi", "bar", "kPa")), "psi")
    if unit != "psi" and any(part.kind != "pressure" for part in pressures):
        return None
    first, read = _ordered(pressures)
    if not 30 <= first.value <= 150:
        return None
    warm, cold = _degrees(degrees, q)
    if not degrees and not (_SAME.search(q.frame) or not q.has(r"\b(?:cold\w*|warm\w*|degrees|below|freez\w*)\b")):
        return None
    if heights:
        return _up(q, first, read, warm, cold, heights, unit)
    return _level(q, first, read, warm, cold, unit)


def _is_pressure(part: Part, found: list[Part]) -> bool:
    """Whether a bare number is a pressure; "a hundred and five pounds" of a tire is one too."""
    if part.kind == "mass" and part.unit != "lb":
        return False
    if any(other.kind == "pressure" for other in found) and not _READ.search(part.left):
        return False
    return 50 <= part.value <= 150 and (_SET.search(part.left) or _READ.search(part.left) or _TIRE_BEFORE.search(part.left)) is not None and (part.value >= 80 or not _IN_PLACE.search(part.right))  # fmt: skip


_TIRE_BEFORE = Lazy(r"\b(?:tires?|tyres?|steers?|duals?|drives|fronts?|rears?|pressure)(?: \w+){0,2} $")
_IN_PLACE = Lazy(r"^ (?:degrees )?(?:in (?:the )?(?:shop|garage|barn|there|here)|out\b|outside|inside|indoors)")


def _is_degrees(part: Part, pressure_told: bool) -> bool:
    """Whether a bare number is a temperature; with the pressure told, any "at eighty" is one."""
    near = (
        (pressure_told and _AT.search(part.left))
        or _IN_PLACE.search(part.right)
        or _WARM.search(part.left)
        or _COLD.search(part.left)
        or _COLD.search(" ".join(part.right.split()[:3]))
    )
    return -60 <= part.value <= 115 and part.value % 1 == 0 and near is not None and not _HEIGHT.search(part.left)


def _is_height(part: Part) -> bool:
    if part.kind == "length":
        return True
    return 200 <= part.value <= 14_500 and _HEIGHT.search(f"{part.left}{part.right}") is not None


def _ordered(pressures: list[Part]) -> tuple[Part, Part | None]:
    """The pressure that was set, and the one read later if there is one."""
    if len(pressures) == 1:
        return pressures[0], None
    one, other = pressures
    if last_at(_READ, one.left) > last_at(_SET, one.left) and last_at(_SET, other.left) >= 0:
        return other, one
    return one, other


def _degrees(degrees: list[Part], q: Question) -> tuple[float, float]:
    """How warm it was when the pressure was set and how cold it is now, in °F; the same when nothing is told of it."""
    if not degrees:
        return _STANDARD_F, _STANDARD_F
    one, other = degrees
    if _TO_BE_SET.search(q.frame) or (
        _WANTS_THEN.search(q.frame) and _STOPS_AT.search(q.frame)
    ):  # told for one place, and set in the other
        one, other = sorted(degrees, key=lambda part: (not _beside_pressure(part), _place(part)))
    elif _score(one) < _score(other):
        one, other = other, one
    return _fahrenheit(one, q), _fahrenheit(other, q)


def _score(part: Part) -> float:
    """How much speaks for a temperature being the one at which the pressure was set."""
    near = 1.5 if part.before.rstrip().endswith(("psi> at", "psi>", "bar> at", "kPa> at", "psi> ,", "psi> in")) else 0.0
    return _place(part) + near


def _place(part: Part) -> float:
    """How much speaks for a temperature being that of a shop or of the time before."""
    after = " ".join(part.right.split()[:4])
    warm = (_WARM.search(part.left) is not None) + (_WARM.search(f" {after} ") is not None)
    cold = (_COLD.search(part.left) is not None) + (_COLD.search(f" {after} ") is not None)
    return warm - cold - 0.001 * part.amount.start


def _fahrenheit(part: Part, q: Question) -> float:
    return converted(part.value, "C", "F") if part.kind == "n" and q.scale == "C" else part.value


def _level(q: Question, first: Part, read: Part | None, warm: float, cold: float, unit: str) -> Estimate | None:
    """Where no height is told: the older reader of sums answers most of these; this one, what stands among other numbers."""
    from cabassist.estimate.tires import tire_pressure, tire_reading

    set_to = quantity(converted(first.value, "psi", unit), unit)
    if read is None:
        if _LOW.search(q.frame) and not q.has(r"\b(?:what|how)\b"):
            return None
        found = tire_pressure(set_to, quantity(warm, "F"), quantity(cold, "F"))
        change = found.also[0]
        if _LOSE.search(q.frame) and not q.has(r"\b(?:read|show|be at|drop to|end up)\b"):
            return replace(found, name="change", value=abs(change.value), low=None, high=None, also=(figure("pressure then", found.value or 0.0, found.unit),))  # fmt: skip
        return found
    found = tire_reading(quantity(converted(read.value, "psi", unit), unit), set_to, quantity(warm, "F"), quantity(cold, "F"))  # fmt: skip
    if not (_LOW.search(q.frame) or q.has(r"\bshould\b|\bought\b")):
        return None
    if not _JUST.search(q.frame):
        return found
    explained = (found.high or 0.0) >= 0
    return replace(found, verdict=f"{'Yes' if explained else 'No'}. {found.verdict}")


_TO_BE_SET = Lazy(
    r"\bwhat (?:psi |pressure )?(?:do|should|must|to|would|will|have) (?:(?:i|we|you) )?(?:(?:have|need) to |to )?(?:set|pump|fill|inflate|air|put|blow)\b|\b(?:set|pump|fill|inflate|air|put) (?:them |it |the \w+ )?(?:up )?to what\b"
)
_WANTS_THEN = Lazy(
    r"\b(?:want|wants|need|needs|like|should (?:have|read|be|show)|supposed to (?:be|have|read)|to (?:read|have|be|show|hold)|end(?:s|ing)? up (?:at|with)|calls for)(?: \w+){0,3} <(?:psi|bar|kPa|n)>"
)
_STOPS_AT = Lazy(
    r"\bwhat (?:\w+ ){0,2}(?:do|should|must|would|will|can) (?:i|we|you) (?:\w+ )?(?:stop|quit|go|aim|shut|cut|bring|run|take|pump|air|fill|set|leave|need)\b(?:.{0,24} (?:at|to|for|up to)\b)?"
    r"|\b(?:stop|quit|shut off|pump|air|fill|aim|set)(?: \w+){0,3} (?:at|to|for) what\b|\bhow (?:high|far) (?:do|should|must|would) (?:i|we) (?:pump|air|fill|go|set)\b"
)
"""A pressure is wanted at one temperature, and it is asked what to pump to at another."""
_AT = Lazy(r"\b(?:at|to|hits) $")
_JUST = Lazy(r"\b(?:just|only) (?:the )?(?:cold|weather|temperature)\b")


def _up(q: Question, first: Part, read: Part | None, warm: float, cold: float, heights: list[Part], unit: str) -> Estimate | None:  # fmt: skip
    from cabassist.estimate.tires import tire_pressure_up

    feet = [part.value for part in heights]
    if len(feet) == 1:
        if not _SEA.search(q.frame):
            return None
        feet = [0.0, feet[0]] if q.frame.find("sea level") < q.frame.find("<ft>") or "sea level" in heights[0].left or _UP.search(heights[0].left) else [feet[0], 0.0]  # fmt: skip
    else:
        told = _beside_pressure(heights[1]) and not _beside_pressure(
            heights[0]
        )  # "elevation 7,200, set 110 at 1,000 ft"
        if told or (_UP.search(heights[0].left) and _HOME.search(heights[1].left + heights[1].right)):
            feet.reverse()
    found = tire_pressure_up(first.value, warm, cold, *feet)
    if read is not None and found.value is not None:
        gap = read.value - found.value
        fine = gap > -3.0
        verdict = f"{'It is explained' if fine else 'Lower than that explains, a leak is likely'}: it should read about {shown(found.value, 3)} psi."
        return exact("difference from what is explained", gap, "psi", working=found.working, source=found.source, verdict=verdict, also=(figure("should read", found.value, "psi"),))  # fmt: skip
    return found if unit == "psi" else in_unit(found, unit)


def _beside_pressure(part: Part) -> bool:
    return part.before.rstrip().endswith(("<psi> at", "<n> at", "<bar> at", "<kPa> at")) or _WHEN_IT_IS.search(part.before) is not None  # fmt: skip


_WHEN_IT_IS = Lazy(
    r"<(?:psi|bar|kPa|n)>(?: (?:in (?:them|it|there|the \w+)|cold|psi|on the gauge))?(?: out)? (?:when|once|if|as soon as)(?: (?:it|they|the|temperature|air|tires|is|are|hits?|gets?|falls?|drops?|goes|to|down|outside|about|around))* $"
)
_UP = Lazy(
    r"\b(?:up|cross\w*|pass|summit|climb\w*|lodge|mountain|now|here|this morning|arriv\w*|go(?:ing)? (?:up )?to|top)\b"
)
_HOME = Lazy(r"\b(?:home|shop|set|aired|filled|garage|started|left)\b")


_DOWN_FROM = Lazy(
    r"\b(?:down from|below|under|lower than|short of) (?:where|what) (?:it|they)\b|\bought to be\b|\bshould (?:it|they) (?:be|read)\b|\bis (?:it|that) (?:just|only) (?:the )?cold\b"
)


_WILL_READ = Lazy(
    r"\b(?:what|how (?:much|low|high|many))\b[^.?]*\b(?:tires?|tyres?|duals|steers|they|psi|pressure|gauge)\b[^.?]*\b(?:read|show|say|be|have|drop|fall|down)\b"
)


def tires_unset(q: Question) -> str:
    """What is asked back when a reading and the cold are told, but not what it was set to; "" when that is not so."""
    if not _TIRES.search(q.frame) or _OTHER.search(q.frame):
        return ""
    found = parts(q)
    if [part.kind for part in found] == ["temperature"] and len(q.amounts) == 1 and _WILL_READ.search(q.frame):
        return "What did they read cold, and at what temperature?"
    if not _DOWN_FROM.search(q.frame):
        return ""
    named = q.has(r"\b(?:tires?|tyres?|steers?|duals?|(?:left|right) (?:front|rear)|psi)\b")
    pressures = [part for part in found if part.kind == "pressure" or (part.kind == "n" and 50 <= part.value <= 150)]
    degrees = [part for part in found if part.kind == "temperature"]
    if not named or len(pressures) != 1 or len(degrees) != 1 or _SET_WORD.search(q.frame):
        return ""
    return "What cold pressure was it set to, and at what temperature?"


_THEN = Lazy(
    r"\b(?:what|how (?:much|low|high|many))(?: (?:will|would|should|do|does|psi|pressure|can|might))+ (?:it|they|them|the \w+|i|we|those)(?: \w+)? (?:read|show|be|have|say|see|expect|drop|fall|lose|end up)\b"
)


def unwarmed(q: Question) -> tuple[Amount, Amount] | None:
    """A pressure and the one later temperature at which it is asked for, where it is not told how warm it was at first."""
    if not _TIRES.search(q.frame) or _OTHER.search(q.frame) or not _THEN.search(q.frame):
        return None
    pressures = [one for one in q.amounts if one.tag in ("psi", "bar", "kPa") or (one.tag == "n" and 50 <= one.value <= 150)]  # fmt: skip
    degrees = [one for one in q.amounts if one.tag in ("F", "C", "temp")]
    if len(pressures) != 1 or len(degrees) != 1 or len(q.amounts) != 2 or pressures[0].start > degrees[0].start:
        return None
    return pressures[0], degrees[0]


_SET_WORD = Lazy(r"\b(?:set|aired|filled|pumped|inflated|placard) ")
