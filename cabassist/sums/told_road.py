"""Sums over a trip: distance, speed, time of arrival, mileage, fuel, what it costs."""

from __future__ import annotations

from cabassist.estimate.fuel import MPG_TIMES_L_PER_100_KM
from cabassist.estimate.quantities import exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import ENDS, OTHERS, STARTS, hour_of
from cabassist.sums.told_road_fuel import FLUID, as_before, bought, fluid_for, fuelled, mpg_told
from cabassist.sums.told_road_hours import timed
from cabassist.sums.told_units import as_spoken
from cabassist.sums.told_zones import zone_shift

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
    role("burned", "volume|n", -2.0),
    role("burned", "share", -9.0),
    role("was", "share|volume|n", -9.0),  # what was in it before the run
    role("takes", "volume|share", -9.0),  # so much exhaust fluid ...
    role("takes_of", "volume|n", -9.0),  # ... goes with so much diesel
    role("zone", "time|n", -9.0),  # by so much the clock there is ahead or behind  # what the run between two readings took, the tank ahead being another
    role("times", "n", -2.0),
    role("worse", "share", -2.0),
    role("speed", "speed", 0.8, many=True),
    role("speed", "n/time", -9.0, many=True),  # "counting on fifty an hour"
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
    role("stops", "n", -2.0, (4.5, r"# <(?:min|h)> (?:\w+ )?(?:stops|breaks|halts)\b|# (?:\w+ )?(?:stops|breaks|halts) of <"), many=True),
    role("stop", "n", -9.0, many=True),  # "forty for food"
    role("hours", "time", 0.2),
    role("hours", "n", -9.0),
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


_ASKS_CLOCK = r"\b(?:what|which) (?:time|hour)\b|\bwhen (?:do|must|should|can|will|would|am|are|have|to) (?:i |we |they |the |you )?(?:\w+ ){0,2}?(?:pull|leave|go|start|set off|depart|roll|get|be|arrive|there|out)\b|\bby when\b|\blatest\b|\beta\b"
_ASKS_LEAVING = r"\b(?:when|what time|what hour|latest)\b(?: (?:do|must|should|can|will|am|are|have|has|to|i|we|they|the|bus|coach|you|time|(?:mon|tues|wednes|thurs|fri|satur|sun)day|tomorrow|today|tonight))*(?: \w+)? (?:pull out|roll out|roll|leave|set off|depart|start|go)\b(?! in\b)(?! .*\b(?:arrive|there)\b)|\blatest departure\b"
_ASKS_ARRIVAL = r"\b(?:when|what time|what hour)\b(?: (?:do|should|can|will|would|am|are|i|we|they|the|bus|coach|you|(?:mon|tues|wednes|thurs|fri|satur|sun)day|tomorrow|today|tonight))*(?: \w+)? (?:arrive|get there|get in|be there|roll in|pull in|land)\b|\b(?:when|what time|what hour)(?: (?:mon|tues|wednes|thurs|fri|satur|sun)day| tomorrow| tonight)? (?:are|am|is) (?:we|i|the \w+|it) (?:in|there)\b|\beta\b|\barrival time\b|\barrive at what\b"
_A_CLOCK = Lazy(r"\b\d\d?:\d\d\b")


def _solve(t: Told) -> Estimate | None:
    """What follows from the amounts; never without a time of day where one is asked for."""
    if t.has("takes"):
        as_spoken(t, "volume", "fuel", "reserve", "takes", "takes_of")
        return fluid_for(t) if t.question.has(FLUID) and zone_shift(t) is not None else None
    if (t.question.has(FLUID) and not t.has("burned") and not t.has("was")) or zone_shift(t) is None:
        return None  # of exhaust fluid, only how far the rest goes at what a run took is reckoned here
    if any(_MEANT_TO_BE.search(one.around) for one in t.roles.get("start", [])):
        return None
    if any(_SETS_OFF.search(one.around) for one in t.roles.get("arrive", [])):
        return None
    if any(_ON_THE_ICE.search(one.around) for one in (*t.roles.get("stop", []), *t.roles.get("zone", []))):
        return None
    if any(one.kind == "n" and _OF_A_TANK.search(one.around) for one in t.roles.get("distance", [])):
        return None
    as_spoken(t, "distance", "distance", "done", "to_go", "odometer")
    as_spoken(t, "speed", "speed", "other_speed")
    as_spoken(t, "volume", "fuel", "reserve", "burned", "was", "idle")
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
_SETS_OFF = Lazy(
    r"\b(?:we|i|bus|coach|us) (?:will |are going to |gonna )?(?:roll|rolled|leave|left|pull(?:ed)? (?:out|away)|depart(?:ed)?|head(?:ed)? (?:out|off)|set (?:off|out))(?: (?:out|off|away|on|(?:mon|tues|wednes|thurs|fri|satur|sun)day|tomorrow|tonight|night|evening|at|around|about|right))* # "
)
"""When one leaves, which is no time at which one is to be there."""
_ON_THE_ICE = Lazy(
    r"\b(?:warm ?ups?|game|puck|skate|ice time|face ?off|doors|practi[cs]e)(?: (?:is|s|'|starts?|comes?|goes|drops?))* # (?:\w+ )?(?:after|later|past)\b"
)
"""What comes so long after one is there: no stop on the road, and no other clock."""
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
        return bought(t)
    if t.has("burned") or t.has("was"):
        return as_before(t)
    mileage = mpg_told(t)
    if mileage is not None or t.want.kind in ("mileage", "volume", "money", "share"):
        return None if t.has("start") or t.has("arrive") or t.has("speed") else fuelled(t, mileage)
    return timed(t)


ROAD = Family(
    "road",
    lambda q: "diesel-range" if q.has(r"<(?:mpg|gal|L|mi/gallon)>|\bmpg\b|\bfuel\b|\bdiesel\b") else "driving-hours",
    _applies,
    _ROLES,
    _solve,
)
