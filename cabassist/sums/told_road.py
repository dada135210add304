"""Sums over a trip: distance, speed, time of arrival, mileage, fuel, what it costs."""

from __future__ import annotations

from cabassist.estimate.clock import time_of_day
from cabassist.estimate.fuel import MPG_TIMES_L_PER_100_KM
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import (
    ENDS,
    EVEN,
    OTHERS,
    STARTS,
    ahead,
    asks_lack,
    between,
    hour_now,
    hour_of,
    lasting,
    listed,
    result,
)
from cabassist.sums.told_units import as_spoken

_OTHER = r"\b(?:water|waste|fresh|propane|furnace\w*|tread|nuts?|lugs?|recheck|re ?torque|tires?|tyres?|torque|battery|amps?|odometer|showers?|wheel)\b|<(?:Ah|A|W|psi|lb|kg|F|C|temp|32nds|awg|V)>|\b(?:drove|driven|on duty|off duty|hours? off|legal\w*|hours of service|sleeper|drivers?|eastern|central|mountain|pacific|atlantic|time zone|(?:two|both) of us|between us|left each)\b|<h/each>|<driver>"
_SPARE = r"\b(?:spare|reserve|left (?:when|on|at)|want|keep|keeping|leave|leaving|still|margin|in hand|in the tank at the end)\b"
_ROLES = (
    role("distance", "distance", 0.5, never=r"<(?:L|gal)> (?:per|/|a|every|each|for every|to) (?:the )?# ", many=True),
    role("distance", "n", -9.0, many=True),  # "a leg of 120": only the network hands it out
    role("per_km", "distance|n", -1.6, (4.6, r"\b(?:l|lit(?:er|re)s?) (?:/|per|for|a) # |<(?:L|gal)> (?:per|/|a|every|each|for every|to) (?:the )?# ")),
    role("per_litres", "volume", -1.6, (4.6, r"# (?:per|/|a|every|each|for every|to) (?:the )?(?:<km>|hundred)")),
    role("done", "distance|n", -2.0, many=True),
    role("to_go", "distance|n", -2.0),
    role("odometer", "distance|n", -2.0, many=True),
    role("burned", "volume|n", -2.0),  # what the run between two readings took, the tank ahead being another
    role("times", "n", -2.0),
    role("worse", "share", -2.0),
    role("speed", "speed", 0.8, many=True),
    role("speed", "n", -1.6, (2.6, r"\b(?:at|averag\w+|avg|doing|making|running)(?: about| around| a| of)* # "), (1.0, r"<(?:mi|km)>[^#]{0,20} at # ")),
    role("other_speed", "speed|n", -2.0, (4.5, r"\b(?:instead of|rather than|not|vs|versus|down from) # ")),
    role("mileage", "mileage", 0.8),
    role("mileage", "n", -1.6, (2.8, r"\b(?:at|gets?|getting|does|doing|do|averag\w+|burn\w*|making|mpg|mileage (?:is|of)) (?:us |me |about |around |only )*# (?!mph|percent)|# (?:to|a|per) (?:the )?gallon\b"), (1.0, r"<gal>[^#]{0,25} at # ")),
    role("other_mileage", "mileage|n", -1.8, (4.0, r"\b(?:instead of|rather than|but|now|it is|down to|only|not|vs|versus|dropped to|today|wind) (?:' s )?(?:only |just |about |more like )*# |<mi/gallon>[^#]{0,40} # "), (0.5, r"<mpg>[^#]{0,40} # ")),
    role("fuel", "volume", 0.5, (1.0, r"\b(?:have|got|there (?:is|are)|with|left|holds?|tank|put in|filled|took|took on|used|burned|burnt|on) (?:is |of |a |about )*# "), never=r"# (?:per|/) (?:<km>|hundred)|# (?:spare|reserve|in reserve)"),
    role("fuel", "n", -1.6, (2.6, r"\b(?:tank|holds?|takes?|it is|carries) (?:is |holds |takes |a )*# ")),
    role("share", "share", 0.4, never=r"# (?:effic|grade|of the time)"),
    role("reserve", "volume|n", -1.6, (4.0, _SPARE + r"[^#<]{0,14} # |# (?:gallons )?(?:spare|(?:in )?reserve|left (?:when|on|at|in)|to spare|in hand|margin|still in)\b"), bare=0.6),
    role("reserve_share", "share", -1.6, (4.0, _SPARE + r"[^#<]{0,10} # |# (?:spare|(?:in )?reserve|left (?:when|on|at))\b")),
    role("idle", "volume/time|n/time", 0.5),
    role("idle_hours", "time", -0.8, (3.0, r"\bidl\w+[^#]{0,20} # |# (?:of )?(?:idling|idle)\b")),
    role("stop", "time", -0.8, (3.0, r"# (?:\w+ ){0,2}(?:stop|stops|break|breaks|lunch|halt|fuel|dinner|supper|rest)\b|\b(?:stop|stops|break|breaks|lunch|halt|resting|dinner)(?: of| for| at)* # "), many=True),
    role("stops", "n", -2.0, (4.5, r"# <(?:min|h)> (?:\w+ )?(?:stops|breaks|halts)\b|# (?:\w+ )?(?:stops|breaks|halts) of <")),
    role("hours", "time", 0.2),
    role("start", "clock", 0.3, *STARTS, (1.2, r"\b(?:leav\w*|left|start\w*|depart\w*|now|it is|it|from|set off|roll\w*|out|past|is)(?: at| about| here at| out at| just)* # |# (?:now|already)\b")),
    role("arrive", "clock", 0.2, *ENDS, (1.2, r"\b(?:by|before|arriv\w*|due|there|until|till?|game (?:is )?at|for)(?: at| in at| by)* # ")),
    role("start", "n", -1.8, (2.8, r"\b(?:leav\w*|left|depart\w*|start\w*|set off)(?: at)? # ")),
    role("arrive", "n", -1.8, (2.8, r"\b(?:by|arriv\w*|due(?: in)?)(?: at)? # ")),
    role("price", "n", -2.0, (4.5, r"\b(?:fuel|diesel|price|\$|costs?)(?: is| at| costs?| now)*(?: \$)? # (?:\$ |dollars? |bucks )?(?:an?|per|the|/|each)? ?(?:<gal>|gallon)?|# (?:\$ |dollars? |bucks )?(?:a|per) gallon\b")),
    role("a gallon", "volume", -1.6, (4.1, r"\b<n> # |<n> (?:dollars? |\$ )?(?:a|per|/) # ")),
    OTHERS,
    role("beside", "people", -0.5, many=True),
    role("other_price", "n", -2.0),
    role("now", "clock|n", -2.0),
    role("legs", "n", -2.0, (4.5, r"# (?:legs|runs|hops|stretches|drives)\b")),
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    if question.has(_OTHER) or not question.has(
        r"<(?:mi|km|mph|km/h|mpg|mi/h|mi/gallon|km/gallon)>|\b(?:mpg|to the gallon|how far|range|miles|km)\b"
    ):
        return False
    return want.kind in ("distance", "speed", "time", "mileage", "volume", "money", "share", "")


def _way(t: Told) -> list[float]:
    """The miles of each leg: as told, as the odometer shows them, less what is already behind, so many times over."""
    legs = [one.value for one in t.all("distance")]
    shown_then = [one.value for one in t.all("odometer")]
    if len(shown_then) == 2 and not legs:
        legs = [abs(shown_then[1] - shown_then[0])]
    if len(legs) == 1 and t.has("done") and not t.has("hours"):
        legs = [legs[0] - (t.total("done") or 0.0)]
    times = t.value("times")
    return [one * (times or 1.0) for one in legs] if all(one > 0 for one in legs) else []


def _tank(t: Told) -> tuple[float, tuple[str, ...]] | None:
    """Gallons that may be used: what is in the tank less what is to stay in it."""
    fuel, share = t.value("fuel"), t.value("share")
    if fuel is None:
        if share is None:
            return None
        fuel = float(t.coach.diesel.capacity_gal)
        t.assumed.append(f"a {shown(fuel)} gal tank (profile)")
    whole, lines = fuel, []
    if share is not None:
        lines.append(f"{shown(100 * share)} % of {shown(fuel)} gal = {shown(fuel * share)} gal")
        whole = fuel * share
    stays, part = t.value("reserve"), t.value("reserve_share")
    if part is not None:
        stays = (stays or 0.0) + part * fuel
    if stays is not None:
        lines.append(f"{shown(whole)} - {shown(stays)} gal = {shown(whole - stays)} gal")
        whole -= stays
    burnt, hours = t.value("idle"), t.value("idle_hours")
    if (burnt is None) != (hours is None):
        return None
    if burnt is not None and hours is not None:
        lines.append(f"- {shown(burnt)} gal an hour x {shown(hours)} h = {shown(whole - burnt * hours)} gal")
        whole -= burnt * hours
    return (whole, tuple(lines)) if whole > 0 else None


def _mileage(t: Told) -> float | None:
    worse = t.value("worse")
    found = _mileage_told(t)
    if found is None or worse is None:
        return found
    t.assumed.append(f"{shown(found)} mpg less {shown(100 * worse)} %")
    return found * (1 - worse)


def _mileage_told(t: Told) -> float | None:
    litres, far = t.value("per_litres"), t.value("per_km")
    if litres is not None:
        if t.has("mileage"):
            return None
        return (62.137119 if far is None else far) / litres if litres else None
    return t.value("mileage") if far is None else None


_EARLY = Lazy(
    r"# (?:\w+ )?(?:early|before|beforehand|cushion|ahead|margin|buffer|slack)\b|\b(?:cushion|margin|buffer|slack) of (?:about )?# "
)
"""Time in hand at the other end: no part of the drive, but of when to leave."""


def _in_hand(t: Told) -> float:
    """Hours by which one wants to be there before the time that is told."""
    return sum(one.value for one in t.all("stop") if _EARLY.search(one.around))


_SMALL = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "couple": 2, "2": 2, "3": 3, "4": 4, "5": 5}
_IN_ALL = r"\b(?:altogether|together|total|in all)\b"
_STOPS = Lazy(
    rf"\b({'|'.join(_SMALL)}) (?:of )?(?:(?:fuel|food|short|quick|more|rest|bathroom|comfort|pee) )?(?:stops|breaks|halts) (?:of|at|for|each|taking|lasting)(?: about| around)? <(?:min|h)"
)
"""Stops whose number was not read as an amount: "two stops of 20 minutes"."""


def _halts(t: Told) -> float:
    """Hours of all stops; as many as are told, or two of them when it says so."""
    many, total = t.value("stops"), 0.0
    if many is None and len(t.roles.get("stop", [])) == 1 and not t.question.has(_IN_ALL):
        said = _STOPS.search(t.question.frame)
        many = None if said is None else float(_SMALL[said[1]])
    for one in t.all("stop"):
        if _EARLY.search(one.around):
            continue
        pieces = one.amount.pieces
        if len(pieces) == 2 and all(map(str.isdigit, pieces)) and int(pieces[0]) < 10:
            total += (
                int(pieces[0]) * int(pieces[1]) * one.value / one.amount.value
            )  # "two 20 minute stops" were heard as one number
        else:
            total += one.value
    return total * (1.0 if many is None else many)


_ELSEWHERE = (
    r"\b(?:def|exhaust fluid|ad ?blue|urea)\b"
    r"|\b(?:eastern|central|mountain|pacific|atlantic|est|cst|mst|pst|edt|cdt|mdt|pdt)(?: standard| daylight)?(?: time| zone)\b|\btime ?zones?\b|\b(?:est|cst|mst|pst|edt|cdt|mdt|pdt)\b"
)
"""Exhaust fluid and time zones are reckoned by others."""
_ASKS_CLOCK = r"\b(?:what|which) (?:time|hour)\b|\bwhen (?:do|must|should|can|will|would|am|are|have|to) (?:i |we |they |the |you )?(?:\w+ ){0,2}?(?:pull|leave|go|start|set off|depart|roll|get|be|arrive|there|out)\b|\bby when\b|\blatest\b|\beta\b"
_ASKS_LEAVING = r"\b(?:when|what time|what hour|latest)\b(?: (?:do|must|should|can|will|am|are|have|has|to|i|we|they|the|bus|coach|you|time))*(?: \w+)? (?:pull out|roll out|roll|leave|set off|depart|start|go)\b(?! in\b)(?! .*\b(?:arrive|there)\b)|\blatest departure\b"
_ASKS_ARRIVAL = r"\b(?:when|what time|what hour)\b(?: (?:do|should|can|will|would|am|are|i|we|they|the|bus|coach|you))*(?: \w+)? (?:arrive|get there|get in|be there|roll in|pull in)\b|\beta\b|\barrival time\b|\barrive at what\b"
_A_CLOCK = Lazy(r"\b\d\d?:\d\d\b")


def _solve(t: Told) -> Estimate | None:
    """What follows from the amounts; never without a time of day where one is asked for."""
    if t.question.has(_ELSEWHERE) or any(_MEANT_TO_BE.search(one.around) for one in t.roles.get("start", [])):
        return None
    if any(one.kind == "n" and _OF_A_TANK.search(one.around) for one in t.roles.get("distance", [])):
        return None
    as_spoken(t, "distance", "distance", "done", "to_go", "odometer")
    as_spoken(t, "speed", "speed", "other_speed")
    as_spoken(t, "volume", "fuel", "reserve", "burned", "idle")
    for name in ("start", "arrive", "now"):
        if name in t.roles:
            t.roles = {**t.roles, name: [_afternoon(one) for one in t.roles[name]]}
    found = _reckoned(t)
    clockless = found is not None and found.unit in ("h", "min") and _A_CLOCK.search(found.verdict) is None
    if clockless and t.question.has(_ASKS_CLOCK):
        return None
    told = next((said for said in ("There at", "Leave by") if found is not None and said in found.verdict), "")
    wrong = {"There at": _ASKS_LEAVING, "Leave by": _ASKS_ARRIVAL}.get(told)
    return None if wrong is not None and t.question.has(wrong) else found


_OF_A_TANK = Lazy(
    r"\b(?:tanks?|holds?|takes?|carr(?:y|ies)|capacity|fuel|diesel|price|costs?)(?: (?:of|is|at|a|an|about|only|s|'))* # |# (?:\w+ )?(?:tanks?|gallon|in it|dollars?|a gallon)\b"
)
"""A bare number that is no distance."""
_MEANT_TO_BE = Lazy(
    r"\b(?:skat(?:e|es|ing)|play|plays|game(?: time)?|puck(?: drops?)?|drops?|face ?offs?|be there|be in|get there|due(?: there| in)?|arriv\w+|warm ?ups?|ice time|on the ice|doors(?: open)?|practi[cs]e|kick ?off|check ?in)(?: (?:is|s|'|at|by|are|for|starts?|around|about|before|there))* # "
)
"""When one is to be there, which is no time at which one leaves."""
_IN_THE_AFTERNOON = Lazy(r"# (?:p ?m|(?:in the )?(?:evening|afternoon)|tonight|at night)\b")


def _afternoon(term: Term) -> Term:
    """A time of day whose "pm" was not read with it."""
    late = term.kind == "n" and 1 <= hour_of(term) < 12 and _IN_THE_AFTERNOON.search(term.around)
    return term._replace(kind="clock", value=hour_of(term) + 12) if late else term


def _reckoned(t: Told) -> Estimate | None:
    if t.has("mileage", "per_km") and len(t.roles) == 2 and t.want.kind == "mileage":
        mpg = t.value("mileage") or 0.0
        t.value("per_km")
        consumed = MPG_TIMES_L_PER_100_KM / mpg
        return exact("consumption", consumed, "L/100 km", working=(f"{MPG_TIMES_L_PER_100_KM:.6g} ÷ {shown(mpg)} mpg = {shown(consumed)} L/100 km",), source="arithmetic") if mpg > 0 else None  # fmt: skip
    if t.has("price") and not t.has("mileage") and not t.has("per_litres"):
        return _bought(t)
    if t.has("burned"):
        return _as_before(t)
    mileage = _mileage(t)
    if mileage is not None or t.want.kind in ("mileage", "volume", "money", "share"):
        return None if t.has("start") or t.has("arrive") or t.has("speed") else _fuelled(t, mileage)
    return _timed(t)


def _as_before(t: Told) -> Estimate | None:
    """How far a tank goes at the mileage that an earlier run came to: the miles between two readings over the gallons put in."""
    burned, readings, before = t.value("burned"), [one.value for one in t.all("odometer")], t.total("done")
    if t.has("mileage") or t.has("start") or t.has("arrive") or t.has("speed") or not burned:
        return None
    if (len(readings) == 2) is (before is not None):
        return None
    run = abs(readings[1] - readings[0]) if before is None else before
    mileage = run / burned
    legs = [one.value for one in t.all("distance")]
    tank = _tank(t)
    if tank is None or not _LEAST_MPG <= mileage <= _MOST_MPG or t.want.kind not in ("distance", "") or len(legs) > 1:
        return None
    reach = tank[0] * mileage
    lines = (f"{shown(run)} mi ÷ {shown(burned)} gal = {shown(mileage)} mpg", *tank[1], f"{shown(tank[0])} gal x {shown(mileage)} mpg = {shown(reach)} mi")  # fmt: skip
    verdict = f"{'Yes, it reaches' if reach >= legs[0] else 'No'}: {shown(legs[0])} mi asked, {shown(reach)} mi there." if legs else ""  # fmt: skip
    return result(t, "range", reach, "mi", lines, verdict, (figure("mileage", mileage, "mpg"),))


_LEAST_MPG, _MOST_MPG = 1.5, 40.0


def _fuelled(t: Told, mileage: float | None) -> Estimate | None:
    legs = _way(t)
    far = sum(legs) if legs else None
    other, price = t.value("other_mileage"), t.value("price")
    if price is not None:
        price /= _priced(t)
    kind = t.want.kind
    if kind == "mileage":
        tank = _tank(t)
        if mileage is not None or far is None or tank is None or other is not None or price is not None:
            return None
        value = far / tank[0]
        return result(t, "mileage", value, "mpg", (*tank[1], f"{shown(far)} mi ÷ {shown(tank[0])} gal = {shown(value)} mpg"), also=(figure("liters for 100 km", MPG_TIMES_L_PER_100_KM / value, "L/100 km"),))  # fmt: skip
    if mileage is None or not _LEAST_MPG <= mileage <= _MOST_MPG:
        return None
    if other is not None:
        if far is None or not t.want.difference or t.has("fuel") or t.has("reserve") or price is not None:
            return None
        gallons = abs(far / other - far / mileage)
        work = f"{shown(far)} mi ÷ {shown(other)} - {shown(far)} mi ÷ {shown(mileage)} = {shown(gallons)} gal"
        also = (figure("at the first mileage", far / mileage, "gal"), figure("at the other", far / other, "gal"))
        return result(t, "difference", gallons, "gal", (work,), "More." if other < mileage else "Less.", also)
    if price is not None:
        if far is None or t.has("fuel") or (kind != "money" and not (kind == "" and not t.want.judged)):
            return None
        cost = far / mileage * price
        return result(
            t,
            "fuel cost",
            cost,
            "dollars",
            (f"{shown(far)} mi ÷ {shown(mileage)} mpg x {shown(price)} = {shown(cost)}",),
        )
    if kind in ("volume", "money", "share"):
        return _needed(t, mileage, far)
    if t.want.difference and far is None:
        return None
    tank = _tank(t)
    if tank is None or kind == "time":
        return None
    reach = tank[0] * mileage
    working = (*tank[1], f"{shown(tank[0])} gal x {shown(mileage)} mpg = {shown(reach)} mi")
    verdict = ""
    if far is not None:
        near = " It is close." if 0.93 * reach < far <= reach else ""
        verdict = f"Yes, {'barely' if near else 'it reaches'}: {shown(far)} mi asked, {shown(reach)} mi there.{near}" if reach >= far else f"No: {shown(far)} mi asked, {shown(reach)} mi there."  # fmt: skip
        if "km" in {one.unit for one in t.question.amounts}:
            verdict = "Yes, it reaches." if reach >= far else "No, it does not reach."
        if asks_lack(t.question) and not t.question.has(r"\b(?:make it|reach|get there|get us there|enough)\b"):
            verdict = f"{'No' if reach >= far else 'Yes'}: {shown(far)} mi asked, {shown(reach)} mi there."
        if t.question.has(r"\bhow (?:far|many miles|many km)\b.*\b(?:after|beyond|past|left|more)\b"):
            return None
    beside = () if far is None else (figure("to spare", (reach - far) / mileage, "gal"),)
    return result(t, "range", reach, "mi", working, verdict, beside)


def _priced(t: Told) -> float:
    """Gallons that a price is for: one, or what a liter is of it."""
    each = [one.value for one in t.all("a gallon")]
    return each[0] if each and each[0] > 0 else 1.0


def _bought(t: Told) -> Estimate | None:
    """What so many gallons cost, or what is saved on them at another price."""
    gallons, price, other = t.value("fuel"), t.value("price") or 0.0, t.value("other_price")
    each = _priced(t)
    price, other = price / each, None if other is None else other / each
    if gallons is None or t.want.kind not in ("money", "volume", ""):
        return None
    if other is not None:
        saved = gallons * abs(price - other)
        return result(t, "difference", saved, "dollars", (f"{shown(gallons)} x ({shown(max(price, other))} - {shown(min(price, other))}) = {shown(saved)}",))  # fmt: skip
    return result(t, "fuel cost", gallons * price, "dollars", (f"{shown(gallons)} gal x {shown(price)} = {shown(gallons * price)}",))  # fmt: skip


def _needed(t: Told, mileage: float, far: float | None) -> Estimate | None:
    """Gallons for a distance, with what is to be kept, or still to be taken on beside what there is."""
    if far is None or t.want.kind == "money":
        return None
    share = t.value("share")
    gallons = far / mileage
    lines = [f"{shown(far)} mi ÷ {shown(mileage)} mpg = {shown(gallons)} gal"]
    spare = t.value("reserve")
    if spare is not None:
        gallons += spare
        lines.append(f"+ {shown(spare)} gal = {shown(gallons)} gal")
    have = t.value("fuel")
    if share is not None:
        have = share * (float(t.coach.diesel.capacity_gal) if have is None else have)
    if have is None:
        if t.want.kind == "share":
            return None
        return result(t, "fuel", gallons, "gal", tuple(lines))
    left = have - gallons
    lines.append(f"{shown(have)} - {shown(gallons)} = {shown(left)} gal")
    if t.question.has(r"\b(?:left|leaves?|remain\w*|spare)\b") and left >= 0 and spare is None:
        full = have / share if share else have
        if t.want.kind == "share":
            return result(t, "left", 100 * left / full, "percent", tuple(lines), also=(figure("left", left, "gal"),))
        return result(t, "left", left, "gal", tuple(lines), also=(figure("of what it was full", 100 * left / full, "percent"),))  # fmt: skip
    if t.want.kind == "share":
        return None
    if left < 0 and t.question.has(r"\b(?:take on|buy|add|put in|short|more)\b"):
        return result(t, "still to take on", -left, "gal", tuple(lines))
    return None


_LATE = r"\b(?:be|are|am|is|running|run|arrive|get (?:in|there)|roll in) (?:we |it |i )?(?:too )?late\b|\b(?:will|do|would|are) (?:we|i) (?:going to |gonna )?miss\b"
""" "Will we be late": yes when the time is not enough."""


def _timed(t: Told) -> Estimate | None:
    """Distance, speed and time, two of which give the third."""
    t.value("legs")
    if t.has("hours", "done") or t.has("start", "done", "now"):
        return _paced(t)
    legs, speed, other = _way(t), t.value("speed"), t.value("other_speed")
    if t.has("to_go") and not legs:
        legs = [one.value for one in t.all("to_go")]
    if len(t.roles.get("speed", [])) > 1:
        return _by_legs(t, legs)
    worse = t.value("worse")
    speed = speed * (1 - worse) if speed is not None and worse is not None else speed
    far, hours, halts = (sum(legs) if legs else None), t.value("hours"), _halts(t)
    start, end = t.one("start"), t.one("arrive")
    kind = t.want.kind
    span = None
    if end is not None and (start is not None or t.question.has(r"\bnow\b") or (t.want.judged and not t.want.clock)):
        now = Term(Amount(hour_now(t), "clock"), "clock", hour_now(t), "")
        span = between(now if start is None else start, end)
    if other is not None:
        if speed is None or far is None or not t.want.difference or span is not None or hours is not None:
            return None
        gap = abs(far / speed - far / other)
        return result(t, "difference", gap, "h", (f"{shown(far)} mi ÷ {shown(speed)} - {shown(far)} mi ÷ {shown(other)} = {shown(gap)} h",), f"{duration(gap)} {'longer' if speed < other else 'shorter'}.")  # fmt: skip
    if t.want.difference and kind != "distance" and span is None:
        return None
    if kind == "speed":
        there = span if hours is None else hours
        if (
            far is None
            or there is None
            or speed is not None
            or there <= halts
            or (span is not None and hours is not None)
        ):
            return None
        value = far / (there - halts)
        return result(
            t, "average speed", value, "mph", (f"{listed(legs)} mi ÷ {shown(there - halts)} h = {shown(value)} mph",)
        )
    if speed is None or speed < 5:
        return None
    if far is None:
        if hours is None or kind != "distance" or span is not None:
            return None
        value = speed * (hours - halts)
        return result(
            t, "distance", value, "mi", (f"{shown(speed)} mph x {shown(hours - halts)} h = {shown(value)} mi",)
        )
    need = far / speed + halts
    lines: tuple[str, ...] = (f"{listed(legs)} mi ÷ {shown(speed)} mph = {shown(far / speed)} h",)
    if halts:
        lines += (f"+ {shown(halts)} h = {shown(need)} h",)
    if hours is not None:
        if kind == "distance" and len(legs) == 1 and t.question.has(r"\bleft|remain|to go|still\b"):
            left = far - speed * (hours - halts)
            return result(t, "left to go", left, "mi", (f"{shown(far)} - {shown(speed)} mph x {shown(hours - halts)} h = {shown(left)} mi",)) if left >= 0 else None  # fmt: skip
        if not t.want.judged or kind not in ("", "time", "distance"):
            return None
        return result(t, "needed", need, "h", lines, f"{'Yes' if need <= hours else 'No'}: {duration(need)} needed, {duration(hours)} there.")  # fmt: skip
    if kind not in ("time", "", "distance"):
        return None
    if span is not None:
        span -= _in_hand(t)
        first = (hour_of(end) - span - _in_hand(t)) % 24 if end is not None else 0.0
        said = "Yes" if (need <= span) != t.question.has(_LATE) else "No"
        verdict = f"{said}: {duration(need)} needed, {duration(span)} there. There at {time_of_day(first + need)}."
        off = figure("late" if need > span else "early", abs(need - span), "h")
        return result(t, "needed", need, "h", lines, verdict, (off,)) if t.want.judged or kind in ("", "time") else None
    if kind == "distance":
        return None
    if end is not None:
        early = _in_hand(t)
        return result(t, "door to door", need, "h", lines, f"Leave by {time_of_day(hour_of(end) - early - need)}.", (figure("with the time in hand", need + early, "h"),) if early else ())  # fmt: skip
    if _in_hand(t):
        return None
    if start is not None:
        return result(t, "door to door", need, "h", lines, f"There at about {time_of_day(hour_of(start) + need)}.")
    verdict = f"There at about {time_of_day(hour_now(t) + need)}." if t.want.clock else ""
    return result(t, "door to door", need, "h", lines, verdict)


def _by_legs(t: Told, legs: list[float]) -> Estimate | None:
    """Legs that are each driven at their own speed."""
    speeds, halts, start, end = [one.value for one in t.all("speed")], _halts(t), t.one("start"), t.one("arrive")
    if len(speeds) != len(legs) or min(speeds) < 5:
        return None
    need = sum(far / speed for far, speed in zip(legs, speeds, strict=True)) + halts
    lines = (" + ".join(f"{shown(far)} mi ÷ {shown(speed)} mph" for far, speed in zip(legs, speeds, strict=True)) + f" = {shown(need)} h",)  # fmt: skip
    average = figure("average", sum(legs) / need, "mph")
    if t.want.kind == "speed":
        return result(t, "average speed", average.value or 0.0, "mph", lines)
    if t.want.kind not in ("time", ""):
        return None
    verdict = "" if start is None and end is None else f"There at about {time_of_day(hour_of(start) + need)}." if start is not None else f"Leave by {time_of_day(hour_of(end) - need)}." if end is not None else ""  # fmt: skip
    if start is not None and end is not None:
        span = between(start, end)
        verdict = f"{'Yes' if need <= span else 'No'}: {duration(need)} needed, {duration(span)} there. {verdict}"
    return result(t, "door to door", need, "h", lines, verdict, (average,))


def _paced(t: Told) -> Estimate | None:
    """How long the rest takes at the pace so far."""
    done, whole, ahead_of_us = t.total("done") or 0.0, t.total("distance"), t.value("to_go")
    start, now, end, halts = t.one("start"), t.one("now"), t.one("arrive"), _halts(t)
    hours = t.value("hours") if now is None or start is None else between(start, now)
    if (whole is None) == (ahead_of_us is None) or not hours or done <= 0 or t.want.difference:
        return None
    left = ahead_of_us if ahead_of_us is not None else (whole or 0.0) - done
    speed = done / hours
    if left <= 0 or speed < 5:
        return None
    need = left / speed + halts
    lines = (f"{shown(done)} mi ÷ {shown(hours)} h = {shown(speed)} mph", f"{shown(left)} mi ÷ {shown(speed)} mph + {shown(halts)} h = {shown(need)} h")  # fmt: skip
    first = hour_of(now) if now is not None else hour_of(start) if start is not None else hour_now(t)
    verdict = f"There at about {time_of_day(first + need)}."
    if end is not None:
        span = ahead(first, hour_of(end))
        verdict = f"{'Yes' if need <= span else 'No'}: {duration(need)} needed, {duration(span)} there. {verdict}"
    return result(t, "still to drive", need, "h", lines, verdict, (figure("pace", speed, "mph"), figure("left to go", left, "mi")))  # fmt: skip


ROAD = Family(
    "road",
    lambda q: "diesel-range" if q.has(r"<(?:mpg|gal|L|mi/gallon)>|\bmpg\b|\bfuel\b|\bdiesel\b") else "driving-hours",
    _applies,
    _ROLES,
    _solve,
)

_IDLE_ROLES = (
    role("fuel", "volume", 0.6, (0.6, r"\b(?:have|got|with|left|there is|of|tank)(?: about| only)* # ")),
    role("rate", "volume/time|n/time", 0.8, many=True),
    role("rate", "n", -1.6, (3.0, r"\b(?:plus|and|generator|heater)(?: \w+){0,3} # "), many=True),
    role("hours", "time|time/time", 0.3),
    role("fuel", "n", -9.0),
    role("from", "n", -9.0),
    role("to", "n", -9.0),
    role("after", "volume|n", -2.0),
    role("reserve", "volume|n", -2.0),
    role("reserve_share", "share", -2.0),
    role("share", "share", -2.0),
    role("on_part", "share", -2.0),
    role("other_rate", "volume/time|n/time|n", -2.0),
    role("times", "n|time", -2.0),
    role("price", "n", -2.0),
    role("a gallon", "volume", -2.0),
    role("from", "clock", 0.0, *STARTS),
    role("to", "clock", 0.0, *ENDS),
    OTHERS,
    role("beside", "people|temperature", -0.5, many=True),
)  # fmt: skip


def _idle_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    burns = question.has(r"\b(?:idl\w+|generator)\b") and any(one.kind in ("volume/time", "n/time") for one in terms)
    return burns and not question.has(
        r"\b(?:water|waste|fresh|propane|furnace\w*|miles|showers?)\b|<(?:lb|mpg|mi|A|Ah)>"
    )


def _idle(t: Told) -> Estimate | None:
    """Hours that fuel lasts at idle, what is burned in some, or what is left after them."""
    as_spoken(t, "volume", "fuel", "after", "reserve", "rate", "other_rate")
    rates, fuel, spell = [one.value for one in t.all("rate")], t.value("fuel"), t.one("hours")
    hours = None if spell is None else spell.value * (24 if spell.kind == "time/time" else 1)  # "ten hours a night"
    start, end, after, part = t.one("from"), t.one("to"), t.value("after"), t.value("on_part")
    if start is not None and end is not None and hours is None:
        hours = between(start, end)
    elif end is not None:
        return None
    times = t.one("times")
    if times is not None:
        if hours is None:
            return None
        hours *= times.value / 24 if times.kind == "time" else times.value
    if after is not None:
        return _idle_rate(t, fuel, after, hours) if not rates else None
    burned = sum(rates) * (1.0 if part is None else part)
    other = t.value("other_rate")
    if burned <= 0:
        return None
    if other is not None:
        saved = abs(burned - other) * (hours or 0.0)
        return result(t, "difference", saved, "gal", (f"{shown(abs(burned - other))} gal an hour x {shown(hours)} h = {shown(saved)} gal",)) if hours and fuel is None else None  # fmt: skip
    share, size = t.value("share"), fuel
    if share is not None:
        size = float(t.coach.diesel.capacity_gal) if fuel is None else fuel
        fuel = share * size
    keep = _kept(t, size)
    if fuel is None or t.has("price"):
        if hours is None or fuel is not None or t.want.kind not in ("volume", "money", ""):
            return None
        return _idle_burned(t, burned, hours, rates)
    usable = fuel - keep
    lasts = usable / burned
    line = f"({shown(fuel)} - {shown(keep)}) gal ÷ {shown(burned)} gal an hour = {shown(lasts)} h" if keep else f"{shown(fuel)} gal ÷ ({listed(rates)}) gal an hour = {shown(lasts)} h"  # fmt: skip
    if usable <= 0:
        return None
    first = None if start is None else hour_of(start)
    if hours is None:
        return result(t, "lasts", lasts, "h", (line,), lasting(t, lasts, None, first)) if t.want.kind in ("time", "") else None  # fmt: skip
    left = fuel - burned * hours
    used = f"{shown(fuel)} - {shown(burned)} gal an hour x {shown(hours)} h = {shown(left)} gal"
    if t.want.judged or left < 0:
        enough = left >= keep - EVEN
        word = "Yes" if enough != asks_lack(t.question) else "No"
        verdict = f"{word}, it {'lasts' if enough else 'does not last'}: {duration(lasts)} against {duration(hours)}."
        return result(t, "lasts", lasts, "h", (line, used), verdict, (figure("left", left, "gal"),))
    if t.want.kind == "time":
        return None
    full = fuel / share if share else fuel
    return result(t, "left", left, "gal", (used,), also=(figure("burned", burned * hours, "gal"), figure("of what it was full", 100 * left / full, "percent")))  # fmt: skip


def _kept(t: Told, size: float | None) -> float:
    """Gallons that are to stay in the tank."""
    part = t.value("reserve_share")
    return (t.value("reserve") or 0.0) + (part or 0.0) * (size or 0.0)


def _idle_rate(t: Told, before: float | None, after: float, hours: float | None) -> Estimate | None:
    """What was burned an hour, from what there was before and after."""
    if before is None or not hours or before <= after:
        return None
    rate = (before - after) / hours
    return result(t, "burned an hour", rate, "gal/h", (f"({shown(before)} - {shown(after)}) gal ÷ {shown(hours)} h = {shown(rate)} gal an hour",), also=(figure("burned", before - after, "gal"),))  # fmt: skip


def _idle_burned(t: Told, burned: float, hours: float, rates: list[float]) -> Estimate:
    """What is burned in some hours, and what it costs."""
    gallons, price = burned * hours, t.value("price")
    price = None if price is None else price / _priced(t)
    line = f"({listed(rates)}) gal an hour x {shown(hours)} h = {shown(gallons)} gal" if len(rates) > 1 else f"{shown(burned)} gal an hour x {shown(hours)} h = {shown(gallons)} gal"  # fmt: skip
    if price is not None:
        return result(t, "cost", gallons * price, "dollars", (line,), also=(figure("burned", gallons, "gal"),))
    return result(t, "burned", gallons, "gal", (line,))


IDLE = Family("idle", lambda _q: "idle-hours", _idle_applies, _IDLE_ROLES, _idle)
