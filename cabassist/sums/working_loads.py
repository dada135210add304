"""Questions about what is loaded: people and bags by count and weight, an axle with something put over it."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import NamedTuple

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.sums.working_roles import Role, placed
from cabassist.sums.working_sheet import Sheet, with_verdict

_THINGS = re.compile(
    r"(?:bags?|duffels?|duffles?|trunks?|suitcases?|cases?|sticks?|boxes|box|crates?|bins?|totes?|coolers?|racks?|packs?|backpacks?|chests?|nets?|helmets?|pallets?|bundles?"
    r"|people|players?|guys?|kids?|passengers?|men|women|girls|boys|adults?|coaches|skis?|mats?|balls?|tents?|carts?|drums?|kits?)"
)
_LIMIT = Role(
    "limit",
    "lb|n",
    r"limit(?:ed)?(?: is| of| to| at|,)*|max(?:imum)?(?: is| of)?|allowed|under|over|more than|less than|rated(?: for| at)?|holds?|capacity(?: is| of)?|good for|up to|stay(?:s)? under|exceed|before",
    r"(?:pound |lb )?(?:limit|max|maximum|capacity|rating|allowed)",
    lambda a: a.value >= 100,
)
_SCALED = Role(
    "scaled",
    "lb|n",
    r"axles?(?: is| at| was| scaled| weighs)*|scaled(?: at| out at)?|weigh(?:s|ed|ing)(?: in| out)?(?: at)?|scale (?:says|shows|read)|drives?|steers?|tag|tandem(?: is| at)?|at|is|rear|front",
    r"on the (?:scale|axle|drives?|steers?|tag)",
    lambda a: a.value >= 4000,
)
_FITS = r"\b(?:ok|okay|fine|can|will|fit|fits|legal|allowed|safe|under|within|good)\b"
_OVER = r"\b(?:over(?:weight|loaded)?|too (?:much|heavy))\b"
_MOST = 500


class _Loaded(NamedTuple):
    many: float
    each: Amount
    unit: str


def _loaded(q: Question, limit: Amount | None) -> list[_Loaded] | None:
    """Each weight with how many there are of it; None when an amount has no place."""
    tokens = q.frame.split()
    at = [i for i, token in enumerate(tokens) if token.startswith("<")]
    found: list[_Loaded] = []
    count: Amount | None = None
    spent = False
    for number, (place, amount) in enumerate(zip(at, q.amounts, strict=True)):
        end = at[number + 1] if number + 1 < len(at) else len(tokens)
        after = tokens[place + 1 : end][:4]
        if amount == limit:
            continue
        bare = amount.unit == "n" and not amount.per
        named = amount.unit in ("people", "bag", "cylinder", "driver") or (
            bare and (any(map(_THINGS.fullmatch, after)) or after[:1] == ["x"])
        )
        weight = amount.unit in ("lb", "kg", "ton") and not amount.per
        before = tokens[at[number - 1] + 1 if number else 0 : place]
        if (
            not weight
            and bare
            and count is not None
            and before[-1:]
            in (["at"], ["of"], ["about"], ["@"], ["weighing"], ["averaging"], ["avg"], ["average"], ["weigh"])
        ):
            weight = True
        if weight:
            again = amount.each or after[:1] in (["each"], ["apiece"]) or bool({"each", "apiece"} & {*after})
            if count is None or (spent and not again):
                many = 1.0
            else:
                many = count.value
                spent = True
            unit = amount.unit if amount.unit != "n" else found[-1].unit if found else _unit(q)
            found.append(_Loaded(many, amount, unit))
        elif named and amount.value == int(amount.value) and 0 < amount.value <= _MOST:
            if count is not None and not spent:
                return None
            count, spent = amount, False
        elif amount.unit != "clock":
            return None
    return None if count is not None and not spent else found


def _unit(q: Question) -> str:
    return next((a.unit for a in q.amounts if a.unit in ("lb", "kg")), "kg" if q.has(r"\bkilos?\b|\bkg\b") else "lb")


def _fit_said(s: Sheet, limit: Amount | None) -> bool:
    """Note how many of one weight a limit is asked to hold."""
    q = s.q
    each = [a for a in q.amounts if a.unit in ("lb", "kg") and a != limit]
    many = q.has(r"\bhow many (?:more )?(?:\w+ ){0,2}(?:bags|duffels|trunks|suitcases|boxes|cases|totes|of them)\b")
    if limit is None or not many or len(each) != 1 or len(q.amounts) != 2:
        return False
    s.note("ask", "luggage")
    s.say("limit", limit, each[0].unit)
    s.note("fit", each[0].value, each[0].unit)
    return True


def luggage_said(s: Sheet) -> bool:
    """Note loads by count and weight; False when the question is another one."""
    q = s.q
    if s.follows or q.has(r"\b(?:axles?|axel|scaled?|gross|steer|tandem|bridge|tongue|propane|diesel)\b|<(?:gal|L)>"):
        return False
    limit = placed(q, (_LIMIT,)).get("limit")
    if _fit_said(s, limit):
        return True
    found = _loaded(q, limit)
    if not found or not any(one.many > 1 for one in found):
        return False
    s.note("ask", "luggage")
    for number, one in enumerate(found):
        s.note(f"many {number}", one.many)
        s.note(f"each {number}", one.each.value, one.unit)
    if limit is not None:
        s.say("limit", limit, _unit(q))
    return True


def unweighed_said(s: Sheet) -> bool:
    """Note how many there are of what nobody weighed yet; False when the question is another one."""
    q = s.q
    counts = [a for a in q.amounts if a.unit in ("bag", "people")] or q.every(
        r"({n}) (?:\w+ ){0,2}(?:bags|duffels|trunks|suitcases|boxes|cases|totes)\b"
    )
    if len(counts) != 1 or len(q.amounts) != 1 or s.follows:
        return False
    s.note("ask", "luggage")
    s.note("many 0", counts[0].value)
    return True


def luggage(s: Sheet) -> Estimate:
    """What the loads weigh together, and whether they keep a limit."""
    from cabassist.estimate import loading

    if s.has("fit"):
        return loading.how_many_fit(s.amount("fit"), s.amount("limit"))
    s.need("each 0", "What does one of them weigh, in pounds?", "lb")
    count = sum(name.startswith("each ") for name in s.inputs)
    loads = [(s.number(f"many {i}"), s.amount(f"each {i}")) for i in range(count)]
    found = loading.counted_weight(loads, limit=s.amount("limit") if s.has("limit") else None)
    return _judged(s, found)


def _judged(s: Sheet, found: Estimate) -> Estimate:
    """The estimate with a yes or no to "is it over" or "does it fit"."""
    left = next((f for f in found.also if f.name == "left to the limit"), None)
    if left is None:
        return found
    fits = left.value >= 0
    if s.q.has(_OVER) and not s.q.has(r"\bover (?:it|the|that|this|there|top|<)"):
        return with_verdict(found, "No." if fits else "Yes.")
    return with_verdict(found, "Yes." if fits else "No.") if s.q.has(_FITS) else found


_PUT = r"\b(?:add\w*|goes on|go on|going on|another|extra|fill\w*|put(?:ting)?|load\w*|tak(?:e|ing) on|plus|pump\w*|top\w*|with|over it|dump\w*|drain\w*|burn\w*|remov\w*|tak(?:e|ing) off|minus)\b|\+ <"
_OFF = r"\b(?:dump\w*|drain\w*|burn\w*|remov\w*|tak(?:e|ing) off|unload\w*|minus|lighter)\b"


def axle_change_said(s: Sheet) -> bool:
    """Note an axle's weight with what is put over it, or a limit of its own; False when the question is another one."""
    q = s.q
    weights = [
        a
        for a in q.amounts
        if not a.per and ((a.unit == "lb" and a.value >= 1000) or (a.unit == "n" and a.value >= 4000))
    ]
    if not weights or s.follows:
        return False
    limit = placed(q, (_SCALED, _LIMIT._replace(fits=_SCALED.fits))).get("limit")
    scaled = [a for a in weights if a != limit]
    if len(scaled) != 1:
        return False
    volume = next((a for a in q.of("water") if not a.per), None)
    load = next((a for a in q.of("lb") if a not in (limit, *scaled) and not a.per), None)
    if (volume is None and load is None and limit is None) or ((volume or load) and not q.has(_PUT)):
        return False
    if any(a not in (limit, *scaled, volume, load) for a in q.amounts if a.unit not in ("clock", "people")):
        return False
    s.note("ask", "change")
    s.say("weight", scaled[0], "lb")
    s.say("limit", limit, "lb")
    if volume is not None:
        s.say("diesel" if q.has(r"\b(?:diesel|fuel)\b") else "water", volume)
    s.say("load", load)
    if volume is None and load is None and q.has(r"\bhow many gallons\b"):
        s.note("ask gal", "diesel" if q.has(r"\b(?:diesel|fuel)\b") else "water")
    if (volume or load) and q.has(_OFF):
        s.note("off", 1.0)
    return True


def axle_change(s: Sheet) -> Estimate:
    """An axle's weight with what is put over it, against its limit."""
    from cabassist.estimate import fuel, loading, wheels

    if not s.has("limit"):
        group = (
            "gross"
            if s.q.has(r"\b(?:gross|all up|whole)\b")
            else "tandem"
            if s.q.has(r"\b(?:tandem|duals? and tag)\b")
            else "single"
        )
        pounds = {"single": wheels.SINGLE_AXLE_LB, "tandem": wheels.TANDEM_LB, "gross": wheels.GROSS_LB}[group]
        s.assume(
            "limit",
            pounds,
            "lb",
            f"the federal {pounds:,.0f} pounds of a {group} axle".replace("of a gross axle", "in all"),
        )
    found = loading.axle_with(
        s.amount("weight"),
        s.amount("limit"),
        water=s.amount("water") if s.has("water") else None,
        diesel=s.amount("diesel") if s.has("diesel") else None,
        load=s.amount("load") if s.has("load") else None,
        taken_off=s.has("off"),
    )
    if s.has("ask gal"):
        per_gallon = wheels.WATER_LB_PER_GAL if s.text("ask gal") == "water" else fuel.DIESEL_LB_PER_GAL
        room = max(0.0, next(f for f in found.also if f.name == "left to the limit").value)
        gallons = room / per_gallon
        line = f"{shown(room)} lb ÷ {shown(per_gallon)} lb/gal = {shown(gallons)} gal"
        verdict = "With nothing in hand, and all of it over this axle."
        return replace(
            found,
            name="gallons to the limit",
            value=gallons,
            low=gallons,
            high=gallons,
            unit="gal",
            working=(*found.working, line),
            verdict=verdict,
        )
    if (
        not s.has("water")
        and not s.has("diesel")
        and not s.has("load")
        or s.q.has(r"\b(?:left|spare|more can|room|to spare|over by|how (?:much|many)(?: \w+){0,2} over)\b")
    ):
        left = next(f for f in found.also if f.name == "left to the limit")
        over = left.value < 0 and s.q.has(r"\bover\b")
        value = -left.value if over else left.value
        return replace(
            found,
            name="over the limit" if over else left.name,
            value=value,
            low=value,
            high=value,
            also=(figure("on the axle", found.value or 0.0, "lb"), *(f for f in found.also if f is not left)),
        )
    return _judged(s, found)
