"""Questions about distances and times of a trip: legs in all, door to door, arrival, average speed."""

from __future__ import annotations

from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.sums.working_roles import Role, by_words, placed
from cabassist.sums.working_sheet import Sheet, with_verdict
from cabassist.sums.working_unplaced import WORDED

_TOTAL = r"^ (?:add|sum)\b|\b(?:total|in all|altogether|all together|sum|how far|how many (?:miles|kilomet\w+|km)|add(?:s|ed)? up|come to|overall|all told|combined|whole (?:trip|way|thing))\b|\bhow many <"
_SPEED = r"\b(?:average|avg|speed|how fast|mph|km/h|what pace)\b"
_STOP = r"(?:\w+ )?(?:stops?|breaks?|layovers?|meals?|lunch|dinner|breakfast|fuel(?:ing)?|pauses?|wait|rest)"
_RULES = r"\b(?:on duty|hours of service|my (?:ten|fifteen|clock)|berth|bunk|off duty|legal\w*|tank|gallons?|diesel|fuel left|mpg|to the gallon)\b|<(?:gal|L|mpg|mi/gallon|psi|clock)> (?:left|in the tank)"
_MOST_STOPS = 12


def _fast(amount: Amount) -> bool:
    return amount.unit != "n" or 15 <= amount.value <= 85


_ROLES = (
    Role(
        "speed",
        "speed|n",
        r"at|@|at(?: about| an average(?: of)?| a steady)?|averag\w*(?: of| about)?|avg|doing|making|speed(?: of| is)?|holding",
        r"average|avg|mph|miles an hour|an hour|on (?:the )?average|all the way",
        _fast,
    ),
)


def distances_told(q: Question) -> list[tuple[Amount, str]]:
    """Every distance with its unit; bare numbers of a list take the unit at its end."""
    tokens = q.frame.split()
    at = [i for i, token in enumerate(tokens) if token.startswith("<")]
    found: list[tuple[Amount, str]] = []
    waiting: list[Amount] = []
    for place, amount in zip(at, q.amounts, strict=True):
        after = tokens[place + 1] if place + 1 < len(tokens) else ""
        unit = (
            amount.unit
            if amount.unit in ("mi", "km") and not amount.per
            else after
            if amount.unit == "n" and after in ("mi", "km")
            else ""
        )
        if unit:
            found += [(one, unit) for one in waiting] + [(amount, unit)]
            waiting = []
        elif (
            amount.unit == "n"
            and not amount.per
            and amount.value > _MOST_STOPS
            and after in (",", "and", "then", "plus", "+")
        ):
            waiting.append(amount)
        else:
            waiting = []
    named = next((unit for unit in ("mi", "km") if q.has(_WORDS[unit])), "")
    if not found and named and q.has(_TOTAL):
        listed = [a for a in q.of("n") if a.value > _MOST_STOPS and not a.per]
        if len(listed) > 1 and len(listed) == len(q.amounts):
            return [(a, named) for a in listed]
    return found


_WORDS = {"mi": r"\bmiles?\b", "km": r"\b(?:km|kilomet\w+)\b"}


def _stops(q: Question) -> list[tuple[Amount, float]]:
    """Every stop's time, and how often it is made."""
    found: list[tuple[Amount, float]] = []
    for pattern in (
        rf"({{h|min|h/each|min/each}}) {_STOP}\b",
        r"\bstop(?:s|ped|ping)?(?: of| for| at|,)* (?:about )?({h|min|h/each|min/each})",
    ):
        for amount in q.every(pattern):
            if any(amount.start == one.start for one, _ in found):
                continue
            if len(amount.pieces) == 2 and all(map(str.isdigit, amount.pieces)):
                # "three 20 minute stops": the count and the minutes were heard as one number.
                found.append((amount._replace(value=float(amount.pieces[1])), float(amount.pieces[0])))
                continue
            counts = [a for a in q.of("n") if a.end == amount.start and 1 <= a.value <= _MOST_STOPS]
            counts += (
                q.every(r"({n}) (?:\w+ )?stops?(?: of| for| at|,)* (?:about )?<(?:h|min)(?:/each)?>")
                if not counts
                else []
            )
            found.append((amount, counts[0].value if counts else 1.0))
    return found


def _paired(s: Sheet, far: list[Amount], fast: list[Amount]) -> bool:
    """Note legs that are driven at a speed each; False when something else is told beside."""
    q = s.q
    if len(far) != len(fast) or len(q.amounts) != 2 * len(far) or not q.has(r"\b(?:hours?|how long|time)\b"):
        return False
    metric = any(a.unit == "km" for a in far) or q.has(_WORDS["km"])
    s.note("ask", "trip")
    s.note("kind", "paired")
    for number, (leg, speed) in enumerate(zip(far, fast, strict=True)):
        s.note(f"leg {number}", leg.value, "km" if metric else "mi")
        s.note(f"speed {number}", speed.value, "km/h" if metric else "mph")
    return True


def trip_said(s: Sheet) -> bool:
    """Note the legs, the speed and the times of a trip; False when the question is another one."""
    q = s.q
    if q.has(_RULES) or (s.follows and s.text("ask") != "trip"):
        return False
    legs, stops = distances_told(q), _stops(q)
    halts = [a for a in q.amounts if a.start in {one.start for one, _ in stops}]
    spans = [a for a in q.of("h") if a not in halts and a.unit in ("h", "min") and not a.per]
    speed = placed(q, _ROLES, (*(a for a, _ in legs), *halts, *spans)).get("speed")
    kind = ""
    far = q.every(r"({mi|km|n})(?: mi| km)? at <(?:n|mph|km/h|mi/h)>")
    fast = q.every(r"<(?:mi|km|n)>(?: mi| km)? at ({n|mph|km/h|mi/h})")
    if len(far) > 1:
        return _paired(s, far, fast)
    if speed is not None and legs:
        kind = "time"
    elif len(legs) > 1 and not spans and (q.has(_TOTAL) or (len(legs) == len(q.amounts) and "+" in q.frame)):
        kind = "total"
    elif legs and len(spans) == 1 and q.has(_SPEED):
        kind = "speed"
    elif speed is not None and speed.unit != "n" and len(spans) == 1 and q.has(_TOTAL):
        kind = "distance"
    if not kind or (kind == "time" and q.has(r"\bhow many gallons\b")):
        return False
    s.note("ask", "trip")
    s.note("kind", kind)
    s.note(WORDED, by_words(q, *q.every(r"({n}) (?:legs|runs|hops|stretches|drives)\b")))
    for number, (amount, unit) in enumerate(legs):
        s.note(f"leg {number}", amount.value, unit)
    if speed is not None:
        unit = {"mi/h": "mph", "km/h": "km/h"}.get(speed.tag, speed.tag)
        s.note("speed", speed.value, unit if speed.unit != "n" else "km/h" if legs and legs[0][1] == "km" else "mph")
    for number, (amount, many) in enumerate(stops):
        if amount not in q.amounts:
            s.note(WORDED, "; ".join((s.text(WORDED), by_words(q, amount))))
        s.note(f"stop {number}", converted(amount.value, amount.unit, "h") * many, "h")
    if spans and kind in ("speed", "distance"):
        s.say("span", spans[0])
    arrival = q.one(
        r"\b(?:arriv\w*|there|be there|get there|due)(?: there| in| at the \w+)?(?: by| at| for)* ({clock})"
    )
    if (
        arrival is not None
        and kind == "time"
        and q.has(r"\b(?:leave|depart\w*|departure|start|roll|set off|head out)\b")
    ):
        s.note("arrival", arrival.value, "clock")
        return True
    start = q.one(
        r"\b(?:leav\w*|left|depart\w*|start\w*|roll\w*|pull\w*|head\w*|out|go|set off)(?: out| off)?(?: here| there| the \w+)?(?: at| by| around)* ({clock})",
        r"\b(?:at|from) ({clock})",
    )
    if start is not None and kind == "time":
        s.note("start", start.value, "clock")
    return True


def trip_unsped(s: Sheet) -> bool:
    """Note a distance whose time is asked without a speed; False when the question is another one."""
    q = s.q
    legs = distances_told(q)
    asked = q.has(
        r"\bhow (?:long|many hours)\b.*\b(?:drive|take|takes|trip|get|go|cover|for|miles)\b|\b(?:drive|travel) time\b"
    )
    if s.follows or q.has(_RULES) or not legs or not asked or len(legs) != len(q.amounts):
        return False
    if q.has(r"\b(?:fuel|nuts?|lugs?|tires?|re ?check|re ?torque|idle|idling)\b"):
        return False
    s.note("ask", "trip")
    s.note("kind", "time")
    for number, (amount, unit) in enumerate(legs):
        s.note(f"leg {number}", amount.value, unit)
    return True


def trip(s: Sheet) -> Estimate:
    """What a trip comes to in miles or hours."""
    from cabassist.estimate import journeys
    from cabassist.estimate.clock import time_of_day

    legs = [s.amount(name) for name in s.inputs if name.startswith("leg ")]
    stops = [s.amount(name) for name in s.inputs if name.startswith("stop ")]
    kind = s.text("kind")
    if kind == "paired":
        speeds = [s.amount(name) for name in s.inputs if name.startswith("speed ")]
        return journeys.legs_time(list(zip(legs, speeds, strict=True)))
    if kind == "total":
        return journeys.legs_total(legs)
    if kind == "speed":
        return journeys.average_speed(sum(legs[1:], legs[0]), s.amount("span"))
    if kind == "distance":
        return journeys.distance_in(s.amount("speed"), s.amount("span"))
    s.need("speed", "At what average speed, in miles an hour?", "mph")
    found = journeys.door_to_door(sum(legs[1:], legs[0]), s.amount("speed"), stops)
    if s.has("arrival") and found.value is not None:
        return with_verdict(found, f"Leave by {time_of_day(s.number('arrival') - found.value)}.")
    if s.has("start") and found.value is not None:
        found = with_verdict(found, f"There at about {time_of_day(s.number('start') + found.value)}.")
    return found
