"""Whether a place is reached before a tank is full or empty: the hours there are, a distance and the speed."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, parts

_RUNS_OUT = Lazy(
    r"\b(?:waste|black|gr[ae]y|fresh|water|tanks?|propane|gas|battery)\b.*\b(?:full|fills?(?: up)?|dry|empty|(?:runs?|run) out|lasts?|out|gone|dead|flat)\b"
)
_IN_TIME = Lazy(
    r"\b(?:in time|make (?:it|that)|get there|there (?:before|by then|first)|before (?:it|its|that|then)|reach|beat|enough|ok|okay)\b"
)
_SPEED = Lazy(r"\b(?:doing|at|average|averaging|make|making|going|running|do|run) (?:about )?$")


def reach(question: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours of the drive, with the yes or no; None when an amount has no place."""
    if not (_RUNS_OUT.search(question.frame) and _IN_TIME.search(question.frame)) or want.kind in ("volume", "mass"):
        return None
    found = parts(question)
    times = [part for part in found if part.kind == "time"]
    ways = [part for part in found if part.kind == "distance"]
    speeds = [part for part in found if part.kind == "speed" or _bare_speed(part)]
    if len(found) != len(question.amounts) or [len(times), len(ways), len(speeds)] != [1, 1, 1] or len(found) != 3:
        return None
    mph = speeds[0].value
    if speeds[0].unit == "n" and ways[0].unit == "km":
        mph = converted(mph, "km", "mi")
    if mph <= 0:
        return None
    drive, there = ways[0].value / mph, times[0].value
    enough = drive <= there
    line = f"{shown(ways[0].value)} mi ÷ {shown(mph)} mph = {shown(drive)} h"
    verdict = f"{'Yes, in time' if enough else 'No, not in time'}: {duration(drive)} against {duration(there)}."
    spare = figure("to spare" if enough else "late", abs(there - drive), "h")
    return exact("the drive", drive, "h", working=(line,), source="arithmetic", verdict=verdict, also=(spare,))


def _bare_speed(part: Part) -> bool:
    hourly = part.unit == "n" and part.amount.per == "h"
    return hourly or (part.kind == "n" and 20 <= part.value <= 120 and _SPEED.search(part.left) is not None)
