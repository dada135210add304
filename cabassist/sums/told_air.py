"""Air told in numbers: what the brakes lose or build up, and the damp air that fogs the windows."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, parts
from cabassist.sums.working_sheet import quantity

_BRAKES = Lazy(r"\b(?:brakes?|pedal|air|leak ?down|applied|released|treadle|compressor|governor|static)\b")
_OTHER = Lazy(r"\b(?:tires?|tyres?|propane|regulator|cylinder|bottle|water|hose|steers?|duals?|tread)\b")
_APPLIED = Lazy(
    r"\b(?:applied|held|holding|hold|pressed|pressing|(?:foot|standing|stood|leaning)(?: \w+){0,2} (?:on|down)|hard on (?:the|it)|pedal (?:down|held|to)|full application|brakes? (?:held )?on|treadle|stepping|standing on|stood on|pushed|with the pedal|service brakes? on)\b"
)
_RELEASED = Lazy(
    r"\b(?:released?|foot off|off the (?:brake|pedal)|brakes? off|not applied|static|knobs? (?:pushed )?in|nothing pressed|pedal up|unapplied)\b"
)
_RISES = Lazy(
    r"\b(?:build\w*|built|pump\w*|climb\w*|rise|rises|rose|rising|come up|came up|comes up|up to|compressor|recover\w*|charge\w*|fill\w*)\b"
)
_FALLS = Lazy(
    r"\b(?:fell|fall\w*|drop\w*|los[est]\w*|lost|leak\w*|down to|went down|bled|bleeds?|declin\w*|sank|sinks?)\b"
)
_BETWEEN = Lazy(r"^ (?:psi )?(?:down |up )?(?:to|-|,|then|and then) $")
_PARKED = Lazy(
    r"\b(?:park\w*|spring|emergency|maxi)(?: brakes?| knobs?| buttons?)? (?:is |are )?(?:off|released|in|pushed in|on|set)\b"
)
"""Parking brakes that are off tell nothing of the pedal."""
_NO_TRAILER = Lazy(r"\b(?:no|without(?: a| the)?|not (?:towing|pulling)(?: a| the)?) (?:trailer|towing|combination)\b")
_TWO = Lazy(r"\b(?:trailer|two vehicles|combination|towing)\b")


def brake_air(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """psi a minute that the brakes lose, or the seconds of the build-up, with whether it passes."""
    known = _BRAKES.search(q.frame) or ({85.0, 100.0} == {one.value for one in q.amounts if one.unit in ("n", "psi")} and _RISES.search(q.frame))  # fmt: skip
    if not known or _OTHER.search(q.frame):
        return None
    found = [part for part in parts(q) if part.kind in ("pressure", "n", "time", "pressure/time", "mass")]
    minutes = [part for part in found if part.kind == "time"]
    levels = [part for part in found if part.kind in ("pressure", "n", "mass") and not part.amount.per]
    rates = [part for part in found if part.kind == "pressure/time"]
    if rates:
        if len(rates) != 1 or len(levels) > 0 or len(minutes) > 0:
            return None
        return _leak(q, rates[0].value / 60, 1.0)
    spans = [part for part in minutes if part.value <= 0.5]
    if len(spans) != 1 or not levels or len(levels) > 2:
        return None
    whole = spans[0].value * 60
    if len(levels) == 2:
        first, last = levels[0].value, levels[1].value
        if not (20 <= first <= 150 and 20 <= last <= 150):
            return None
        if first < last and _RISES.search(q.frame):
            return _built(first, last, whole * 60)
        if first > last and not _RISES.search(q.frame.replace("pumping the", "")):
            return _leak(q, first - last, whole)
        return None
    lost = levels[0]
    if not _FALLS.search(q.frame) or not 0 < lost.value <= 40 or _REACHED.search(lost.left):
        return None
    return _leak(q, lost.value, whole)


_REACHED = Lazy(r"\b(?:to|at|from|of)(?: \w+)? $")


def _leak(q: Question, drop: float, minutes: float) -> Estimate | None:
    from cabassist.estimate.brakes import leak_down

    frame = _PARKED.sub(" ", q.frame)
    applied, released = _APPLIED.search(frame) is not None, _RELEASED.search(frame) is not None
    vehicles = 2 if _TWO.search(_NO_TRAILER.sub(" ", frame)) else 1
    if applied and released:
        applied = not _LATER_RELEASED.search(q.frame)
        return (
            None
            if applied
            else leak_down(quantity(drop, "psi"), quantity(minutes, "min"), applied=False, vehicles=vehicles)
        )
    if applied or released:
        found = leak_down(quantity(drop, "psi"), quantity(minutes, "min"), applied=applied, vehicles=vehicles)
        return replace(found, verdict=_headed(found.verdict), also=(*found.also, figure("lost", drop, "psi")))
    on = leak_down(quantity(drop, "psi"), quantity(minutes, "min"), applied=True, vehicles=vehicles)
    off = leak_down(quantity(drop, "psi"), quantity(minutes, "min"), applied=False, vehicles=vehicles)
    heads = (on.verdict.split(":")[0], off.verdict.split(":")[0])
    if heads[0] == heads[1]:
        return replace(off, verdict=_headed(off.verdict))
    return exact(off.name, off.value or 0.0, off.unit, working=off.working, source=off.source, verdict="It passes with the brakes applied (3 psi a minute), and fails with them released (2). Which was it?")  # fmt: skip


_LATER_RELEASED = Lazy(r"\breleased\b[^.]*<(?:psi|n)>[^.]*<(?:psi|n)>")


def _headed(verdict: str) -> str:
    """The verdict with a yes or no before it."""
    return f"{'Yes. ' if verdict.startswith('Pass') else 'No. ' if verdict.startswith('Fail') else ''}{verdict}"


def _built(first: float, last: float, seconds: float) -> Estimate | None:
    from cabassist.estimate.brakes import build_up

    found = build_up(quantity(seconds, "s"), start=quantity(first, "psi"), end=quantity(last, "psi"))
    return replace(found, verdict=_headed(found.verdict))


_HUMID = Lazy(r"\b(?:humid\w*|rh|dew ?(?:point|pt)|damp|moisture|hygrometer)\b")
_FOGS = Lazy(
    r"\b(?:fog\w*|sweat\w*|condens\w*|drip\w*|wet|stream\w*|mist\w*|frost\w*|stays? dry|dry|pouring|weep\w*|steam\w*|dew ?(?:point|pt)|bead\w*|(?:water|moisture|drops|droplets|ice) (?:\w+ ){0,2}?(?:form\w*|gather\w*|collect\w*|settl\w*)|(?:form|make|get|have|see) (?:any )?(?:water|moisture|drops|droplets) on)\b"
)
_SURFACE = Lazy(
    r"\b(?:glass|window|windows|pane|windshield|wall|skin|surface|metal|door|hatch|laser|ceiling|panel|frame)\b"
)
_AIR = Lazy(r"\b(?:inside|air|cabin|in here|room|coach|indoors|thermometer|bunks?|hold|holding|it is|keep|heat)\b")
_OUTSIDE = Lazy(r"\b(?:outside|outdoors|out there|out)\b")
_HIGHEST = Lazy(
    r"\b(?:what|how much|which|how (?:low|dry|high)|down to what|max\w*|highest) (?:relative )?(?:humidity|rh)\b|\bhow (?:low|dry|high) (?:must|can|may|does|do|should|has|have)\b[^?]*\b(?:humidity|air|rh)\b|\bhumidity (?:must|can|may|do|have|should)\b|\bhow humid (?:can|may|must|could)\b"
)
_OF_GAS = Lazy(r"\b(?:propane|btu|furnace|cylinders?|bottles?|pounders?)\b|<(?:BTU|BTU/h|lb|kg)>")
"""A bottle that ran dry is no glass that stays dry."""
_ALIVE = Lazy(r"^ (?:\w+ )?(?:bodies|sleepers|people|kids|guys|players|of us|souls|men|women)\b")
_PERCENT = 100.0


def damp_air(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The dew point, whether a window sweats, or how dry the air must be for it to stay dry."""
    from cabassist.estimate.damp import dew_point, driest_allowed, sweats

    if not (
        _HUMID.search(q.frame)
        or _HIGHEST.search(q.frame)
        or (_FOGS.search(q.frame) and any(part.kind == "share" for part in parts(q)))
    ):
        return None
    if not (_FOGS.search(q.frame) or _HIGHEST.search(q.frame)) or _OF_GAS.search(q.frame):
        return None
    found = parts(q)
    shares = [part.value for part in found if part.kind == "share"]
    bare = [part for part in found if part.kind == "n"]
    if not shares:
        told = [part for part in bare if _HUMID.search(part.left) or _HUMID.search(part.right)]
        shares = [part.value / _PERCENT for part in told]
        bare = [part for part in bare if part not in told]
    degrees = [part for part in found if part.kind == "temperature"] + [part for part in bare if _of_degrees(part)]  # fmt: skip
    degrees.sort(key=lambda part: part.amount.start)
    surfaces = [part for part in degrees if _nearest(part) == "surface"]
    airs = [part for part in degrees if part not in surfaces and _nearest(part) != "outside"]
    if len(shares) > 1 or any(not 0 < one <= 1 for one in shares) or len(surfaces) > 1 or len(airs) != 1:
        return None
    air = _fahrenheit(airs[0], q)
    if surfaces:
        surface = _fahrenheit(surfaces[0], q)
        if _HIGHEST.search(q.frame):
            return _scaled(driest_allowed(surface, air), q)
        return _scaled(sweats(surface, air, shares[0]), q) if shares else None
    return _scaled(dew_point(air, shares[0]), q) if shares and not _HIGHEST.search(q.frame) else None


def _of_degrees(part: Part) -> bool:
    """Whether a bare number is a temperature: what it is of stands right beside it."""
    if _ALIVE.search(part.right):
        return False
    before, after = " ".join(part.left.split()[-6:]), " ".join(part.right.split()[:3])
    return any(pattern.search(f" {before} # {after} ") is not None for pattern in (_SURFACE, _AIR))


def _nearest(part: Part) -> str:
    """What a temperature is of, by the last word that says so before it, or the first one behind it."""
    from cabassist.sums.told_parted import last_at

    first = " ".join(part.right.split()[:2])
    for name, words in _RIGHT_BEHIND:
        if words.match(first):
            return name
    left = _BESIDE.sub(" ", part.left)
    ends = {"surface": last_at(_SURFACE, left), "air": last_at(_AIR, left), "outside": last_at(_OUTSIDE, left)}
    best = max(ends, key=lambda one: ends[one])
    if ends[best] >= 0:
        return best
    after = " ".join(part.right.split()[:4])
    for name, pattern in (("outside", _OUTSIDE), ("surface", _SURFACE), ("air", _AIR)):
        if pattern.search(f" {after} "):
            return name
    return ""


_BESIDE = Lazy(r"\b(?:by|near|beside|behind|next to|over|above|under) (?:the |my |our )?(?:bunks?|bed|door|cabin)\b")
"""Where a surface is, not what the temperature is of."""
_RIGHT_BEHIND = (
    ("air", Lazy(r"(?:inside|indoors|in here|in the)\b")),
    ("outside", Lazy(r"(?:outside|outdoors|out\b)")),
    ("surface", Lazy(r"(?:glass|degree glass|window)\b")),
)


def _fahrenheit(part: Part, q: Question) -> float:
    return part.value * 1.8 + 32 if part.kind == "n" and q.scale == "C" else part.value


def _scaled(found: Estimate, q: Question) -> Estimate:
    """The answer in °C for a question in it."""
    if q.scale != "C" or found.unit != "F" or found.value is None:
        return found
    celsius = (found.value - 32) / 1.8
    return exact(
        found.name, celsius, "C", working=found.working, source=found.source, verdict=found.verdict, also=found.also
    )
