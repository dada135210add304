"""Two drivers who share a run: what each has driven since his rest, and what is left between them.

49 CFR 395.5, passenger carriers: ten hours of driving for each, and no driving after fifteen on duty.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.driving_hours import DRIVING_H, HELPER, ON_DUTY_H, REST_H, SOURCE, hours_left
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, last_at, parts

_TWO = Lazy(
    r"\b(?:both|each|two of us|two drivers|the two|team|pair|co ?driver|partner|mate|buddy|relief|other|combined|together|<driver>)\b|<(?:driver|people)>|\b(?:he|she|hes|shes) (?:has|is|' s)?\b"
)
_TOGETHER = Lazy(
    r"\b(?:between (?:us|them|the (?:two|pair))|together|both of us|the two of us|combined|in all|in total|altogether|can we|do we|have we|we (?:have|got))\b|\bthe <people>"
)
_DRIVING = Lazy(r"\b(?:driv\w+|drove|wheel)\b")
_FRESH = Lazy(
    r"\b(?:clean|fresh|rested|slept|full (?:clock|night|rest|ten)|eight off|start\w* (?:at )?(?:zero|full)|(?:has|have) ?(?:not|n ?' ?t) (?:driven|touched)|not driven|yet to drive|nothing|none)\b"
)
_DONE = Lazy(r"\b(?:drove|driven|done|did|driving|wheel|used(?: up)?|had|put in)\b")
_MINE = Lazy(r"\b(?:i|me|my|mine|myself|one|first)\b")
_OTHERS = Lazy(
    r"\b(?:he|she|hes|shes|his|her|him|they|partner|co ?driver|mate|buddy|relief|other|second|colleague|fellow)\b"
)
_ON_DUTY = Lazy(r"\b(?:on duty|on the clock|on shift)(?: for| about)* $")
_ON_DUTY_AFTER = Lazy(r"^ (?:hours? )?(?:on duty|on the clock|on shift)\b")
_LEFT_AFTER = Lazy(
    r"^ (?:hours? )?(?:of )?(?:driving |drive time |wheel time )?(?:left|remaining|to go|in hand|to drive)\b(?! (?:between|do|have|for (?:us|both)|together))"
)
_OFF_AFTER = Lazy(r"^ (?:hours? )?(?:off|rest|sleep|of (?:rest|sleep))\b")
_BEYOND = Lazy(r"\b(?:week|seven|eight days|berth|split|snow|adverse)\b|<(?:day|gal|mpg|clock|lb)(?:/\w+)?>")


@dataclass
class _Driver:
    driven: float | None = None
    on_duty: float | None = None
    told_left: float | None = None

    def left(self) -> float:
        """Hours of driving that are left to this driver."""
        if self.told_left is not None:
            return self.told_left
        driven = self.driven or 0.0
        return float(hours_left(driven, max(driven, self.on_duty or 0.0)).value or 0.0)


def pair(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours of driving that two drivers have left between them, and whether these are enough for a run that is told."""
    if not (_TWO.search(q.frame) and _TOGETHER.search(q.frame) and _DRIVING.search(q.frame)) or _BEYOND.search(q.frame):
        return None
    if want.kind not in ("time", ""):
        return None
    found = [part for part in parts(q) if part.kind not in ("people", "drivers", "temperature")]
    far = [part.value for part in found if part.kind == "distance"]
    speeds = [part for part in found if part.kind == "speed" or (far and part.kind in ("n", "n/time") and 20 <= part.value <= 80)]  # fmt: skip
    spells = [part for part in found if part.kind in ("time", "n") and part not in speeds and not _rest(part)]
    if len(found) != len(far) + len(speeds) + len(spells) + sum(_rest(part) for part in found):
        return None
    if len(far) != len(speeds) or len(far) > 1:
        return None
    drivers = _drivers(spells, q.frame)
    need = far[0] / speeds[0].value if far else None
    if drivers is None and len(spells) == 1 and not far and _rested(q) and spells[0].kind == "time":
        drivers, need = (_Driver(), _Driver()), spells[0].value
    if drivers is None:
        return None
    each = [one.left() for one in drivers]
    total = sum(each)
    line = f"{shown(each[0])} + {shown(each[1])} = {shown(total)} h"
    assumed = ("each within 15 hours on duty, by what is told",)
    if need is None:
        return exact("driving between two", total, "h", working=(line,), source=SOURCE, assumptions=assumed, verdict=f"{duration(each[0])} and {duration(each[1])}. {HELPER}")  # fmt: skip
    verdict = (
        f"{'Yes' if need <= total + 1e-6 else 'No'}: {duration(need)} needed, {duration(total)} between you. {HELPER}"
    )
    return exact("driving between two", total, "h", working=(line,), source=SOURCE, assumptions=assumed, verdict=verdict, also=(figure("needed", need, "h"),))  # fmt: skip


_RESTED_PAIR = Lazy(
    r"<(?:n|driver)> (?:fully |well )?(?:fresh|rested|clean)(?: drivers)?\b|<driver> (?:\S+ ){0,3}?(?:fresh|rested)\b|\bboth (?:of the |our |my )?drivers (?:are )?(?:all |fully |well )?(?:fresh|rested)\b"
    r"|\b(?:fresh|rested) (?:team|pair) of <driver>"
)
_HOW_FAR = Lazy(r"\bhow (?:far|many miles)\b")
_HOW_LONG = Lazy(r"\bhow (?:long|many hours|much (?:driving|time))\b|\bhours\b")
_DRIVING_ASKED = Lazy(r"\b(?:driv(?:e|ing|es)|go|get|run|roll|cover|wheel|between)\b")


def _only_two(q: Question) -> bool:
    """Whether two rested drivers are told, and of hours nothing else."""
    if _RESTED_PAIR.search(q.frame) is None or _BEYOND.search(q.frame) or not _DRIVING_ASKED.search(q.frame):
        return False
    counts = [one for one in q.amounts if one.unit in ("n", "driver")]
    rest = [one for one in q.amounts if one not in counts]
    return (
        len(counts) <= 1 and all(one.value == 2 for one in counts) and all(one.unit in ("mph", "km/h") for one in rest)
    )


def rested_pair(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours of driving that two rested drivers have between them, or the miles of these at a speed."""
    if not _only_two(q):
        return None
    hours = 2 * DRIVING_H
    line = f"{shown(DRIVING_H)} + {shown(DRIVING_H)} = {shown(hours)} h"
    assumed = ("both after 8 hours off, each within 15 hours on duty",)
    verdict = f"{duration(DRIVING_H)} each. {HELPER}"
    speeds = [one for one in q.amounts if one.unit in ("mph", "km/h")]
    if _HOW_FAR.search(q.frame):
        if len(speeds) != 1:
            return None
        far, unit = hours * speeds[0].value, "mi" if speeds[0].unit == "mph" else "km"
        return exact("driving between two", far, unit, working=(line, f"{shown(hours)} h × {shown(speeds[0].value)} = {shown(far)} {unit}"), source=SOURCE, assumptions=assumed, verdict=verdict, also=(figure("hours", hours, "h"),))  # fmt: skip
    if speeds or not _HOW_LONG.search(q.frame):
        return None
    return exact("driving between two", hours, "h", working=(line,), source=SOURCE, assumptions=assumed, verdict=verdict)  # fmt: skip


def unhurried(q: Question) -> str:
    """Two rested drivers, asked how far they get: the speed is not told."""
    if not _only_two(q) or not _HOW_FAR.search(q.frame) or any(one.unit in ("mph", "km/h") for one in q.amounts):
        return ""
    return f"At what average speed? Two rested drivers have {shown(2 * DRIVING_H)} hours of driving between them."


def _rest(part: Part) -> bool:
    """Whether hours are those of a full rest."""
    return part.kind == "time" and part.value >= REST_H and _OFF_AFTER.search(part.right) is not None


def _rested(q: Question) -> bool:
    """Whether both are told to be rested, and nothing of what they drove."""
    return _FRESH.search(q.frame) is not None and not q.has(r"\b(?:drove|driven|already|so far|done|did)\b")


def _hours_and_minutes(part: Part) -> Part:
    """ "I drove five twenty" tells hours and minutes."""
    spoken = part.kind == "n" and len(part.amount.pieces) == 2 and part.value >= 100 and part.value % 100 < 60
    return part._replace(value=part.value // 100 + part.value % 100 / 60) if spoken else part


def _drivers(spells: list[Part], frame: str) -> tuple[_Driver, _Driver] | None:
    """What each has driven and been on duty; None when it is not known whose hours are whose."""
    drivers = (_Driver(), _Driver())
    whose, left = 0, False
    for part in map(_hours_and_minutes, spells):
        mine, other = last_at(_MINE, part.left), last_at(_OTHERS, part.left)
        if not 0 <= part.value <= ON_DUTY_H:
            return None
        whose = whose if mine < 0 and other < 0 else int(other > mine)
        one = drivers[whose]
        left = _LEFT_AFTER.search(part.right) is not None or (left and not _DONE.search(part.left))
        if left and part.value <= DRIVING_H and one.driven is None:
            one.told_left = one.driven = part.value
        elif _ON_DUTY.search(part.left) or _ON_DUTY_AFTER.search(part.right):
            if one.on_duty is not None:
                return None
            one.on_duty = part.value
        elif one.driven is not None or part.value > DRIVING_H:
            return None
        else:
            one.driven = part.value
    if not spells:
        return drivers if _FRESH.search(frame) else None
    if not _DONE.search(frame) and all(one.told_left is None for one in drivers):
        return None
    told = sum(one.driven is not None for one in drivers)
    return drivers if told == 2 or (told == 1 and _FRESH.search(frame)) else None
