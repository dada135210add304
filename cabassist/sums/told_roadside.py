"""Short rules of the road told in numbers: tread, the recheck of wheel nuts, a triangle behind a crest, stopping and following distance."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, ranged, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import parts
from cabassist.sums.working_sheet import quantity

_FRONT = Lazy(r"\b(?:fronts?|steers?|steer axle)\b")
_REAR = Lazy(r"\b(?:rears?|drives?|duals?|tags?|back|others?)\b")
_LEAST = Lazy(r"\b(?:minimum|min|least|limit|legal (?:limit|minimum|depth)|how (?:low|thin)|needed?|allowed)\b")
_TREAD = Lazy(r"\b(?:tread|steers?|drives?|duals?|tires?|tyres?|fronts?|rears?|grooves?)\b")


def tread_least(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The least tread of a front or another tire, or whether the one told is allowed."""
    from cabassist.estimate.tires import OTHER_TREAD_32NDS, RULE_SOURCE, STEER_TREAD_32NDS, tread

    if (
        not _TREAD.search(q.frame)
        or not q.has(r"<32nds>|\btread\b|\bthirty ?seconds?\b|<s>")
        or q.has(r"<(?:mi|km|psi)>")
    ):
        return None
    asked = Lazy(r"\b(?:minimum|min|least|limit|needed?|allowed)\b[^.?]*\b(?P<where>fronts?|steers?|rears?|drives?|duals?|tags?)\b").search(q.frame)  # fmt: skip
    if asked is not None and q.has(r"\bwhat\b|\bhow (?:thin|low|deep|many)\b"):
        front = _FRONT.search(asked["where"]) is not None
        least = STEER_TREAD_32NDS if front else OTHER_TREAD_32NDS
        where = "a front tire of a bus" if front else "a tire that is not in front"
        return exact(
            "least tread", least, "1/32 in", source=RULE_SOURCE, verdict=f"At least {shown(least)}/32 on {where}."
        )
    depths = [one for one in q.amounts if one.unit == "32nds"]
    front, rear = _FRONT.search(q.frame) is not None, _REAR.search(q.frame) is not None
    if len(depths) != 1 or front == rear or len([one for one in q.amounts if one.unit != "people"]) != 1:
        return None
    if not q.has(r"\b(?:legal|ok|okay|pass|fail|good|over|left|above|allowed|enough|fine|illegal|out)\b"):
        return None
    found = tread(quantity(depths[0].value / 32, "in"), "front" if front else "rear")
    fine = found.verdict.startswith("Allowed")
    spare = abs(depths[0].value - found.also[0].value)
    if q.has(r"\bhow (?:much|far|many)\b") and not q.has(r"\b(?:legal|ok|okay|pass|good)\b"):
        limit = found.also[0]
        return replace(found, name="left to the limit" if fine else "short of the limit", value=spare, low=spare, high=spare, also=(limit,))  # fmt: skip
    return replace(found, verdict=f"{'Yes' if fine else 'No'}. {found.verdict}", also=(*found.also, figure("to spare" if fine else "short", spare, "1/32 in")))  # fmt: skip


_AGAIN = Lazy(
    r"\b(?:re ?check\w*|re ?torque\w*|re ?tighten\w*|torque wrench|check (?:it|them|the nuts?|the wheel)|again)\b"
)
_WHEEL = Lazy(r"\b(?:wheels?|nuts?|lugs?|studs?)\b")
_FITTED = Lazy(
    r"\b(?:went on|put (?:\w+ )?on|fitted|mounted|chang\w*|swapp?ed|new|torqu\w*|at|odometer|clock|reads?)\b"
)
_WHERE = Lazy(r"\b(?:mileages?|miles?|odometer|when|what mile|between what|from what|at what|where)\b")


def recheck(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The odometer readings between which the nuts of a fitted wheel are checked again."""
    from cabassist.estimate.wheels import torque_recheck

    if not (_AGAIN.search(q.frame) and _WHEEL.search(q.frame) and _FITTED.search(q.frame) and _WHERE.search(q.frame)):
        return None
    odometers = [part for part in parts(q) if part.kind in ("n", "distance") and part.value >= 1000]
    rest = [
        part for part in parts(q) if part not in odometers and part.kind in ("n", "distance", "torque", "clock", "time")
    ]
    if len(odometers) != 1 or rest:
        return None
    unit = "km" if odometers[0].unit == "km" else "mi"
    found = torque_recheck(quantity(odometers[0].amount.value, unit))
    if found.value is None or found.high is None:
        return found
    return replace(found, also=(figure("at the latest", found.high, unit), *found.also))


_CLEARS = Lazy(
    r"\b(?:clear\w*|bridge|overpass|underpass|tunnel|garage|doorway|door|gate|canopy|sign|height|tall|high|low)\b"
)
_OVERHEAD = Lazy(r"\b(?:bridge|overpass|underpass|tunnel|garage|door\w*|gate|canopy|sign\w*|clearance|limit|ceiling)\b")
_OURS = Lazy(r"\b(?:coach|bus|we|our|us|i am|she|rig)\b")


_GAP_ASKED = r"\bhow (?:many inches|much (?:room|space|gap|air|clearance|over|to spare))\b|\b(?:gap|to spare|left over (?:the )?top)\b"
"""What is left above the roof is asked for."""


def clearance(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether the coach goes under what is overhead, and what is left."""
    found = parts(q)
    if not _CLEARS.search(q.frame) or len(found) != 2 or any(part.kind not in ("length", "depth") for part in found):
        return None
    feet = [part.value if part.kind == "length" else part.value / 12 for part in found]
    over = [_OVERHEAD.search(part.left) is not None and not _LAST_OURS.search(part.left) for part in found]
    ours = [_OURS.search(part.left) is not None or _OURS.search(part.right) is not None for part in found]
    if over[0] == over[1] or not any(ours) or not all(7 <= one <= 20 for one in feet):
        return None
    bridge, tall = (feet[0], feet[1]) if over[0] else (feet[1], feet[0])
    gap = bridge - tall
    verdict = f"Yes, with {shown(12 * gap, 2)} inches to spare; keep some for snow and bounce." if gap > 0 else f"No: it is {shown(-12 * gap, 2)} inches too low."  # fmt: skip
    line = f"{shown(bridge)} - {shown(tall)} ft = {shown(gap)} ft"
    if q.has(_GAP_ASKED):
        return exact("gap", 12 * gap, "in", working=(line,), source="arithmetic", verdict=verdict, also=(figure("clearance", bridge, "ft"),))  # fmt: skip
    return exact("clearance", bridge, "ft", working=(line,), source="arithmetic", verdict=verdict, also=(figure("gap", 12 * gap, "in"),))  # fmt: skip


_LAST_OURS = Lazy(r"\b(?:coach|bus|our|we are|rig)(?: \w+){0,3} $")
_TRIANGLE = Lazy(r"\b(?:triangles?|reflectors?|warning devices?)\b")
_CREST = Lazy(r"\b(?:crest|hill\w*|top|curve|bend|rise|brow|corner)\b")
_ONE = Lazy(r"\b(?:at most|furthest|farthest|how far|most|max\w*|least|where)\b")


def triangle_at_crest(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How far back the triangle goes when a hill or curve within 500 feet hides the coach."""
    if not (_TRIANGLE.search(q.frame) and _CREST.search(q.frame) and _ONE.search(q.frame)):
        return None
    if q.has(r"\b(?:two way|two lane|divided|interstate|freeway|one way)\b|<n> (?:lane|way)"):
        return None
    views = [part for part in parts(q) if part.kind == "length"]
    if len(views) != 1 or len(parts(q)) != 1:
        return None
    view = views[0].value
    if view > 500:
        return None
    return exact("farthest triangle", 500.0, "ft", source="49 CFR 392.22(b)(2)(iv)", verdict=f"100 to 500 feet back in that direction, so that it is seen before the hill or curve {shown(view)} feet away.", also=(figure("at least", 100.0, "ft"),))  # fmt: skip


_FT_PER_S = 5280 / 3600
_STOPS = Lazy(r"\b(?:stopping (?:distance|far)|(?:how (?:far|long|many feet)|distance)\b[^?]*\b(?:to )?stop(?:ping)?|braking distance|takes? to stop|feet to stop)\b")  # fmt: skip
_SLIPPERY = Lazy(r"\b(?:ice|icy|snow\w*|wet|rain\w*|slush\w*|slick|slippery|glare)\b")
_TRAVELS = Lazy(r"\bhow (?:far|many feet|much road)\b[^?]*\b(?:travel\w*|go|goes|cover\w*|move\w*|roll\w*|driv\w*)\b|\b(?:feet|distance) (?:in|do we|per|a|travel\w*)\b|\bcover (?:in|at)\b")  # fmt: skip
_FOLLOWS = Lazy(r"\b(?:following (?:distance|time|gap)|(?:how (?:far|many seconds|much (?:gap|space|room)))\b[^?]*\b(?:back|behind|follow\w*|gap|ahead)|seconds (?:behind|back|of (?:gap|following)))\b")  # fmt: skip
CDL = "CDL manual, sections 2.6 and 2.7 (from memory)"
_BRAKING_FT, _BRAKING_AT_MPH, _THINKING_S = 216.0, 55.0, 2.5
"""On a dry road with good brakes 216 ft of braking at 55 mph, after 1.75 s to see and 0.75 s to react."""


def road_distance(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Feet to a stop, feet gone in some seconds, or seconds behind the vehicle ahead."""
    found = parts(q)
    speeds = [part for part in found if part.kind == "speed"]
    if len(speeds) != 1 or any(part.kind in ("distance", "mileage", "temperature") for part in found):
        return None
    mph = speeds[0].value
    feet = _FT_PER_S * mph
    lengths = [part for part in found if part.kind == "length" and 20 <= part.value <= 65]
    spans = [part for part in found if part.kind == "time"]
    if _FOLLOWS.search(q.frame):
        long = lengths[0].value if len(lengths) == 1 else None
        if long is None or spans:
            return None
        seconds = long / 10 + (1.0 if mph > 40 else 0.0)
        line = f"1 s for each 10 ft of {shown(long)} ft{' + 1 s above 40 mph' if mph > 40 else ''} = {shown(seconds)} s"
        return exact("following distance", seconds, "s", working=(line, f"{shown(seconds)} s x {shown(feet)} ft/s = {shown(seconds * feet)} ft"), source=CDL, verdict="At least that much on a dry road, more on snow and ice.", also=(figure("in feet", seconds * feet, "ft"),))  # fmt: skip
    if _STOPS.search(q.frame) and not spans and len(found) - len(lengths) == 1:
        if _SLIPPERY.search(q.frame):
            return None
        thinking, braking = _THINKING_S * feet, _BRAKING_FT * (mph / _BRAKING_AT_MPH) ** 2
        total = thinking + braking
        return ranged("stopping distance", total, "ft", 0.85 * total, 1.3 * total, working=(f"seeing and reacting 2.5 s x {shown(feet)} ft/s = {shown(thinking)} ft", f"braking 216 ft x ({shown(mph)} ÷ 55)² = {shown(braking)} ft"), assumptions=("dry road, good brakes, an alert driver",), source=CDL, verdict="Twice as far on a wet road, many times as far on ice.")  # fmt: skip
    if len(spans) == 1 and len(found) == 2 and spans[0].unit == "s" and _TRAVELS.search(q.frame):
        gone = feet * spans[0].value * 3600
        return exact("distance", gone, "ft", working=(f"{shown(mph)} mph = {shown(feet)} ft/s, x {shown(spans[0].value * 3600)} s = {shown(gone)} ft",), source="arithmetic")  # fmt: skip
    return None


_PEOPLE_HEAT = Lazy(
    r"\b(?:heat|btus?|watts?|warmth)\b[^?]*\b(?:give (?:off|out)|gives (?:off|out)|put(?:s)? out|make|produce\w*|body|bodies|from)\b|\bbody heat\b|\bgive off\b"
)
_OUTSIDE = Lazy(
    r"\b(?:outside|degrees|furnace\w*|propane|loses?|tank|per degree)\b|<(?:F|C|temp|lb|gal|W|BTU|BTU/h)(?:/\w+)?>"
)


def people_warmth(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The heat that people at rest or asleep give off."""
    from cabassist.estimate.cabin import people_heat

    if not _PEOPLE_HEAT.search(q.frame) or _OUTSIDE.search(q.frame):
        return None
    heads = [
        one
        for one in q.amounts
        if one.unit == "people"
        or (
            one.unit == "n"
            and q.has(
                r"<n> (?:\w+ )?(?:passengers|people|players|kids|guys|bodies|sleepers|persons|men|women|adults|lads)\b"
            )
        )
    ]
    if len(heads) != 1 or len(q.amounts) != 1 or heads[0].value != int(heads[0].value) or heads[0].value < 1:
        return None
    found = people_heat(int(heads[0].value), "asleep" if q.has(r"\b(?:asleep|sleep\w*)\b") else "seated")
    if not q.has(r"\bbtus?\b"):
        return found
    told = next((one for one in found.also if one.unit == "BTU/h"), None)
    if told is None:
        return found
    return replace(found, value=told.value, low=told.low, high=told.high, unit="BTU/h", also=(figure("in watts", found.value or 0.0, "W"),))  # fmt: skip


_AT = Lazy(r"\b(?:at|when|it|is|its|to|down to|hits|' s|in) $|<n>.*\b(?:at|to) $")
_RATED_F = (75.0, 85.0)
"""Cranking amps are told for a battery at 80 °F, when another temperature is told beside that of the cold."""


def cranking(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The share of its cranking power that a battery has in the cold, and the amps of it when they are told."""
    from cabassist.estimate.battery import cranking_power

    if not q.has(r"\bcrank\w*\b(?! (?:it|her|that|them|the \w+|up|to|at)\b)|\bcca\b|\bstart(?:ing|er) batter\w+"):
        return None
    found = parts(q)
    amps = [part for part in found if part.kind in ("current", "n") and part.value >= 150]
    degrees = [part.value for part in found if part.kind == "temperature" or (part.kind == "n" and part not in amps and _AT.search(part.left))]  # fmt: skip
    if len(amps) > 1 or len(found) != len(degrees) + len(amps):
        return None
    if q.has(r"\bfreezing\b") and len(degrees) < 2:
        degrees.append(32.0)
    cold = [one for one in degrees if not _RATED_F[0] <= one <= _RATED_F[1]] if len(degrees) == 2 else degrees
    if len(cold) != 1:
        return None
    power = cranking_power(quantity(cold[0], "F"))
    if power.value is None or not amps:
        return power
    left = amps[0].value * power.value / 100
    line = f"{shown(power.value)} % of {shown(amps[0].value)} A = {shown(left)} A"
    low, high = (amps[0].value * one / 100 if one is not None else left for one in (power.low, power.high))
    return replace(power, name="cranking amps", value=left, unit="A", low=low, high=high, working=(*power.working, line), also=(figure("of the full power", power.value, "percent"),))  # fmt: skip
