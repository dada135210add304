"""Cold on skin and pipes, told among other things: wind chill, frostbite in a time, what wind can not do to a pipe."""

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
from cabassist.sums.told_parted import Part, parts
from cabassist.sums.told_parts import FREEZING_F
from cabassist.sums.working_sheet import quantity

_CHILL = Lazy(r"\b(?:wind ?chil+|feels?|feel like|felt|frost ?bit\w*|bare skin|exposed skin|skin)\b")
_WIND = Lazy(r"\b(?:wind\w*|gust\w*|blow\w*|breeze|gale|mph|miles? an hour)\b")
_FROSTBITE = Lazy(r"\b(?:frost ?bit\w*|(?:bare|exposed) skin|skin (?:freeze\w*|fr[eo]ze)|freeze their|nip\w*)\b")
_HOW_LONG = Lazy(
    r"\bhow (?:long|many minutes|much time|soon|quick\w*)\b|\bminutes (?:till?|until|before|to)\b|\btime (?:till?|until|before|to) (?:frost|freez)"
)
_PIPE = Lazy(
    r"\bwill (?:it|that|this|they) freeze\b|\b(?:pipes?|drains?|fittings?|tank|water|hose|line|valve|pump|bay|plumbing)\b"
)
_PIPE_ASKED = Lazy(
    r"\bhow cold\b|\bcoldest\b|\blowest\b|\bcan (?:the )?wind\b|\bwind (?:alone )?(?:make|take|push|drop|bring)\b|\bget (?:down )?to\b|\b(?:get|go|be|drop) (?:any )?(?:colder|lower|below)\b|\bwill (?:it|that|this|they) freeze\b"
)
_PIPE_WORDS = Lazy(r"\b(?:air (?:in|around|inside)|in (?:the|that|there)|bay)\b")
_LOSES = Lazy(r"\b(?:btu\w*|watts?|loses?|losing|pad|heater|hours?)\b|<(?:W|BTU|BTU/h|gal)(?:/\w+)?>")
_CHILL_BEFORE = Lazy(r"\b(?:chil+|feels?(?: more)? like|feels)(?: \w+){0,2} $")
_CHILL_AFTER = Lazy(r"^ (?:degrees )?(?:(?:with|in) the )?wind ?chil+\b|^ with the wind\b(?! ?chil)")
_FREEZE_ASKED = Lazy(r"\b(?:can|could|will|does|would)\b[^<]*\bfreez\w*")
_COLDER_ASKED = Lazy(r"\b(?:can|could|will|does|would)\b[^<]*\b(?:colder|lower|below|under)\b")


def skin(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Wind chill, with whether bare skin freezes in the time told, or the minutes until it does."""
    from cabassist.estimate.wind_chill import frostbite_time, wind_chill

    if not _CHILL.search(q.frame) or not _WIND.search(q.frame) or _LOSES.search(q.frame.replace("half an hour", "")):
        return None
    if _PIPE.search(q.frame):
        return None
    found = parts(q)
    winds = [part for part in found if _is_wind(part, q)]
    degrees = [part for part in found if part.kind == "temperature" and part not in winds]
    stays = [part for part in found if part.kind == "time"]
    if not degrees:
        degrees = [
            part for part in found if part.kind == "n" and part not in winds and _NOT_COUNTED.search(part.right) is None
        ]
    if len(winds) != 1 or len(degrees) != 1 or len(stays) > 1:
        return None
    metric = winds[0].unit == "km/h" or (winds[0].unit == "km") or (winds[0].kind == "n" and q.scale == "C")
    blows = winds[0].amount.value
    speed = (
        quantity(blows, "km/h") if metric else quantity(winds[0].value if winds[0].kind == "speed" else blows, "mph")
    )
    scale = degrees[0].unit if degrees[0].unit in ("F", "C") else q.scale
    air = quantity(degrees[0].amount.value, scale)
    chill = wind_chill(air, speed)
    if chill.value is None or not _FROSTBITE.search(q.frame):
        return chill
    frost = frostbite_time(air, speed)
    minutes = frost.value
    if _HOW_LONG.search(q.frame) and not stays:
        return replace(frost, also=(figure("wind chill", chill.value, chill.unit), *frost.also)) if minutes is not None else frost  # fmt: skip
    told = stays[0].value * 60 if stays else None
    risk = minutes is not None and (told is None or told >= minutes - 1e-6)
    if risk:
        verdict = (
            f"Yes, frostbite is a risk: bare skin can freeze in {shown(minutes or 0.0)} minutes or less. Cover up."
        )
    elif minutes is not None:
        verdict = (
            f"Not in {shown(told or 0.0)} minutes by the chart, which gives {shown(minutes)}; cover up all the same."
        )
    else:
        verdict = "The chart gives no time for this; cover the skin all the same."
    return replace(chill, verdict=verdict, source=frost.source)


_NOT_COUNTED = Lazy(r"^ (?:bags?|people|kids|players|guys|of (?:us|them)|\w+s )")
_WIND_NEAR = Lazy(r"\b(?:wind\w*|gust\w*|blow\w*|breeze)\b(?! ?chil)(?: \S+){0,3} $")
_WIND_AFTER = Lazy(r"^ (?:mile |knot |mph )?(?:an hour )?(?:winds?|gusts?|breeze|out of the)\b")


def _is_wind(part: Part, q: Question) -> bool:
    if part.kind == "speed":
        return True
    return part.kind == "n" and 0 <= part.value <= 120 and (_WIND_NEAR.search(part.left) or _WIND_AFTER.search(part.right)) is not None  # fmt: skip


def pipe(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How cold the wind can make a pipe: no colder than the air around it."""
    from cabassist.estimate.wind_chill import coldest_unheated

    if (
        not _PIPE.search(q.frame)
        or not _PIPE_ASKED.search(q.frame)
        or not q.has(r"\bwind\w*|\bchil+\b|\bfeels? like\b|\bgale\b|\bblowing\b")
    ):
        return None
    if _LOSES.search(q.frame) or (_CHILL_TOO.search(q.frame) and any(one.unit in ("mph", "km/h") or one.unit in ("mi", "km") and one.per == "h" for one in q.amounts)):  # fmt: skip
        return None
    found = parts(q)
    degrees = [part for part in found if part.kind == "temperature" or (part.kind == "n" and -60 <= part.value <= 100)]
    chills = [part for part in degrees if _CHILL_BEFORE.search(part.left) or _CHILL_AFTER.search(part.right)]
    airs = [part for part in degrees if part not in chills and not _SAID.search(part.before)]
    if len({part.amount.value for part in airs}) != 1 or len(chills) > 1 or len(degrees) != sum(part.kind in ("temperature", "n") for part in found):  # fmt: skip
        return None
    scale = next((part.unit for part in airs if part.unit in ("F", "C")), q.scale)
    coldest = coldest_unheated(quantity(airs[0].amount.value, scale))
    value = coldest.value if coldest.value is not None else converted(airs[0].value, "F", scale)
    head = "No. " if _COLDER_ASKED.search(q.frame) else ""
    if _FREEZE_ASKED.search(q.frame):
        head = "Yes, it can freeze. " if airs[0].value <= FREEZING_F else "No, not above 32 degrees Fahrenheit. "
    verdict = f"{head}That is the air temperature, not the wind chill: it gets no colder than the air around it, wind only gets it there faster."
    return exact(coldest.name, value, coldest.unit, working=coldest.working, assumptions=coldest.assumptions, source=coldest.source, verdict=verdict)  # fmt: skip


_CHILL_TOO = Lazy(r"\b(?:what|how (?:cold|low))(?: is|' s| s)? (?:the |my |our )?(?:wind ?chill|feels? like)\b")
"""The wind chill is asked for beside, and the wind is told."""
_SAID = Lazy(
    r"\b(?:driver|buddy|he|she|guy|mate|coach|kid|trainer|manager) says?\b|\b(?:swears?|claims?|thinks?|reckons?|told me|bets?|worried|afraid)\b"
)
