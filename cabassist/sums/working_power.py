"""Questions about breakers and about loads on shore power."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any, NamedTuple

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.calculation_units import converted
from cabassist.sums.working_roles import by_words
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_also, with_verdict
from cabassist.sums.working_unplaced import WORDED

_NAMED = {
    "microwave": r"\bmicrowave\b", "coffee maker": r"\bcoffee\b", "block heater": r"\bblock heater\b", "heat pad": r"\b(?:heat )?pads?\b",
    "heat tape": r"\b(?:heat )?tape\b", "charger": r"\bcharger\b", "refrigerator": r"\b(?:fridge|refrigerator)\b", "outlets": r"\b(?:cabin )?outlets\b(?! (?:is|at|for))",
}  # fmt: skip
_APPLIANCE = re.compile(
    r"heaters?|kettles?|chargers?|microwaves?|toasters?|crock ?pots?|crockpots?|pots?|cookers?|fridges?|refrigerators?|freezers?|coolers?"
    r"|coffee|makers?|pads?|tapes?|lights?|lamps?|fans?|blowers?|dryers?|irons?|griddles?|skillets?|tvs?|televisions?|converters?|pumps?|blankets?|laptops?|ovens?|humidifiers?|vacuums?"
)
"""What draws power aboard: a bare number beside one of these is in watts."""
_THINGS = r"(?:\w+ ){0,2}?(?:heaters?|kettles?|dryers?|microwaves?|cookers?|loads|things|chargers?|lights?)"
_COUNTED = (
    rf"({{n}}(?= {_THINGS})|{{heater}}) (?:{_THINGS} )?(?:at |of |drawing |pulling |that are |, )*{{n|n/each|W|W/each}}"
)
_COUNTED_POWER = rf"(?:{{n}}(?= {_THINGS})|{{heater}}) (?:{_THINGS} )?(?:at |of |drawing |pulling |that are |, )*({{n|n/each|W|W/each}})"
"""Loads by count with a bare power: "two space heaters 1500 each"."""
_LEAST_W, _MOST_COUNT = 40, 12
_MOST_HEATER_W = 3000
"""Up to this a heater beside a breaker is told in watts, "a 1500 heater"; a furnace is told in BTU."""
_BESIDE = 3
"""Words between a power and what draws it."""


class _Load(NamedTuple):
    label: str
    watts: float
    nouns: frozenset[int]
    """Where the words for it stand in the frame."""


def _loads_told(q: Question, breaker: Amount | None) -> list[_Load]:
    """Every load with its power: "1500 heater, 700 microwave", "a kettle of 1000 W", "two heaters at 1500 each"."""
    tokens = q.frame.split()
    at = [i for i, token in enumerate(tokens) if token.startswith("<")]
    counted = {
        power.start: count
        for count, power in zip(q.every(_COUNTED), q.every(_COUNTED_POWER), strict=False)
        if 1 < count.value <= _MOST_COUNT and (power.unit in ("W", "kW") or power.value >= 100)
    }
    nouns = [i for i, token in enumerate(tokens) if _APPLIANCE.fullmatch(token)]
    powers = [
        (place, amount)
        for place, amount in zip(at, q.amounts, strict=True)
        if amount != breaker and amount.unit in ("W", "kW", "n", "heater", "BTU") and not amount.per
    ]
    first = next((p for p, a in powers if a.unit in ("W", "kW") or a.value >= _LEAST_W), None)
    follows = first is None or not nouns or nouns[0] > first or tokens[first + 1 : first + 2] == ["of"]
    found: list[_Load] = []
    for place, amount in powers:
        near = _nouns_beside(tokens, at, nouns, place, follows=follows)
        bare = amount.unit not in ("W", "kW")
        if amount.unit == "BTU" and amount.value > _MOST_HEATER_W:
            continue
        count = counted.get(amount.start)
        if amount.unit == "n" and tokens[place - 1 : place] in (["on"], ["at"], ["off"]) and count is None:
            continue  # "overnight on 120"
        if bare and count is None and not (amount.value >= _LEAST_W and (near or amount.unit != "n")):
            continue
        many = count.value if count is not None else _count_before(q, amount)
        watts = amount.value if bare else converted(amount.value, amount.unit, "W")
        each = f"{shown(amount.value)} {'W' if bare else amount.unit}"
        found.append(_Load(f"{shown(many)} x {each}" if many != 1 else each, many * watts, near))
    return found


def _nouns_beside(tokens: list[str], at: list[int], nouns: list[int], place: int, *, follows: bool) -> frozenset[int]:
    """The words for what draws a power: after it up to the next amount, or before it."""
    later = next((i for i in at if i > place), len(tokens))
    earlier = next((i for i in reversed(at) if i < place), -1)
    after = [i for i in nouns if place < i < later and i - place <= _BESIDE]
    before = [i for i in nouns if earlier < i < place and place - i <= _BESIDE]
    return frozenset((after or before) if follows else (before or after))


def _count_before(q: Question, power: Amount) -> float:
    """The "two" of "two 1500 watt heaters"."""
    return next((a.value for a in q.every(r"({n}) <k?W>") if a.end == power.start and 1 < a.value <= _MOST_COUNT), 1.0)


def loads_said(s: Sheet, breaker: Amount | None) -> None:
    """Note loads by name or in watts and amps."""
    q = s.q
    told = _loads_told(q, breaker)
    lines = [one.label for one in told]
    watts = sum(one.watts for one in told)
    tokens = q.frame.split()
    at = [i for i, token in enumerate(tokens) if token.startswith("<")]
    nouns = [i for i, token in enumerate(tokens) if _APPLIANCE.fullmatch(token)]
    in_amps = [
        _nouns_beside(tokens, at, nouns, place, follows=False)
        for place, amount in zip(at, q.amounts, strict=True)
        if amount.unit == "A" and amount != breaker
    ]
    spent = frozenset().union(*(one.nouns for one in told), *in_amps)
    amps = [a for a in q.of("A") if a != breaker]
    for name, pattern in _NAMED.items():
        match = compiled(pattern).search(q.frame)
        if match is None:
            continue
        first = len(q.frame[: match.start()].split())
        if spent & set(range(first, first + len(match[0].split()))) and tokens:
            continue
        load = next(
            (one for one in s.coach.loads if name in one.name or (name == "outlets" and "outlets" in one.name)), None
        )
        if load is not None:
            watts += load.watts
            lines.append(f"{load.name} {shown(load.watts)} W")
    if watts or amps:
        s.drop("unit")
    if watts:
        s.note("watts", watts, "W")
        s.note("loads", "; ".join(lines))
    if amps:
        s.note("load_amps", sum(a.value for a in amps), "A")
    if q.has(r"\b(?:everything|whole coach|all of it|total|all (?:the|our|my) (?:loads|stuff|gear))\b") and not lines:
        s.note("loads", "all")


_ALL_LOADS = r"\b(?:everything|whole coach|all of it|total|in all|altogether|all (?:the|our) loads|our loads?|the loads?|shore)\b"
_ONE_LOAD = (
    rf"\b(?:how many|how much|what) (?:amps|watts|amperage|current|power|wattage|load)?\b.*\b(?:{_APPLIANCE.pattern})\b"
)
"""Asks what one thing draws, "how many amps is the heater": the loads of the whole coach are no answer."""
_OVER = (
    r"\b(?:watts|amps|how (?:much|far)|wattage)\b(?: \w+){0,4} (?:over|too (?:much|many)|beyond|above|past|in excess)\b"
    r"|\bhow (?:many|much)\b.*\b(?:shed|get rid of|turn off|switch off|unplug|drop|cut|lose)\b|\bover by how\b"
)
"""Asks by how much the loads are more than the breaker carries."""
_MAY = r"\b(?:can|may|could|ok|okay|fine|safe|allowed|all ?right|good|is it|will (?:\w+ ){1,5}?(?:hold|handle|take|carry)|will (?:\w+ )?<A>(?: \w+){0,3} (?:hold|handle|take|carry))\b"
_CONTRARY = r"\b(?:too much|trip|trips|pop|pops|blow|over ?load\w*|how many|how much)\b"
_OWN_INLET = r"\b(?:shore|inlet|pedestal|hook ?up|our|the coach|main|coach's|on board)\b"


_BREAKER = (
    r"({A}) (?:amp )?(?:\w+ ){0,1}?(?:breaker|brkr|bkr|ped|outlet|circuit|receptacle|plug|gfci|fuse|service|socket|inlet|pedestal|hookup|supply|site|post|wall)\b",
    r"\b(?:breaker|outlet|circuit|receptacle|fuse|plug|inlet|supply)(?: is| of| at| it|'s)* (?:only )?(?:a |an |at )?({A}|{n})\b",
    r"\b(?:on|off|from|take|over|through) (?:a|an|the|one|that) ({A})",
    r"\b(?:pop|pops|trip|trips|blow|blows|on|for) (?:a|the|an) ({n})\b",
    r"\bthe ({n}) (?:trip|pop|hold|blow)",
    r"\b(?:a|the) ({n}) (?:amp )?(?:breaker|outlet|circuit|trip)",
    r"{percent} of ({A}|{n})",
)


_RATINGS = (15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 100.0)


def _rated(s: Sheet, breaker: Amount) -> None:
    """Note a breaker's rating: the "one 15 amp circuit" that is heard as 115 is one of 15."""
    if breaker.value not in _RATINGS and breaker.value - 100 in _RATINGS:
        s.note(WORDED, by_words(s.q, breaker))
        breaker = breaker._replace(value=breaker.value - 100)
    s.say("breaker", breaker, "A")


def breaker_said(s: Sheet) -> None:
    """Inputs of "how much can a fifteen amp breaker take"."""
    q = s.q
    breaker = q.one(*_BREAKER)
    amps = q.of("A")
    if breaker is None and amps:
        standard = [a for a in amps if a.value in (15, 20, 30, 50)]
        breaker = (standard or amps)[-1] if len(amps) > 1 or not (q.of("W") and s.has("breaker")) else amps[0]
        if s.has("breaker") and s.follows and not standard:
            breaker = None
    if breaker is not None and breaker.value > 0:
        _rated(s, breaker)
    loads_said(s, breaker)
    volts = q.one(r"({V})", r"\b(?:on|at) ({n})(?: volts)?\b")
    if volts is not None and (volts.unit == "V" or 100 <= volts.value <= 250) and volts != breaker:
        s.say("volts", volts, "V")
    over = q.has(_OVER)
    if q.has(r"\bhow many\b.*\b(?:heaters?|<W>|of them|fit|can i plug)\b") and q.of("W") and not over:
        s.note("ask", "fit")
        each = q.of("W")[0]
        s.note(
            "each", each.value * (_count_before(q, each) if each.value == 100 else 1), each.unit
        )  # "six hundred watt"
    elif q.has(r"\b(?:for a (?:few|couple of) minutes|short|briefly|<min>|quick)\b"):
        s.note("ask", "short")
    elif over:
        s.note("ask", "over")
    elif q.has(
        r"\bhow (?:much|many)\b.*\b(?:left|more|else|spare|room)\b|\bwhat left\b|\b(?:watts|amps) (?:left|to spare)\b"
    ):
        s.note("ask", "left")
    elif not s.follows:
        s.drop("ask")


def supply_of(s: Sheet) -> Any:
    """The voltage: as said, as read, or the profile's."""
    if not s.has("volts"):
        held = s.latest("shore_voltage")
        if held is not None:
            s.from_reading("volts", "shore_voltage", "shore voltage", "V")
        else:
            s.profile("volts", float(s.coach.shore.volts), "V", f"{s.coach.shore.volts} volts")
    return s.amount("volts")


def _counted(s: Sheet) -> str:
    """What is counted, as the question calls it: "how many heat lamps can go on" counts lamps."""
    found = compiled(
        r"\bhow many (?:more )?(?:<[^>]+> )*(?:of (?:the|these|those|my) )?(?:\w+ )*?(\w{3,}s) (?:can|could|may|will|would|fit|go|on|at|are|do|does|run)\b"
    ).search(s.q.frame)
    return found[1] if found is not None else "loads"


def breaker_limit(s: Sheet) -> Estimate:
    """What a breaker carries for hours on end, and whether the load is too much."""
    from cabassist.estimate import power

    if not s.has("breaker"):
        if not s.q.has(_OWN_INLET):
            raise Missing("breaker", "How many amps is the breaker or outlet?", "A")
        s.profile("breaker", float(s.coach.shore.amps), "A", f"{s.coach.shore.amps} amp inlet")
    supply = supply_of(s)
    breaker = s.amount("breaker")
    limit = power.continuous_limit(breaker, supply)
    if s.text("ask") == "fit" and s.has("each"):
        found = power.outlet_capacity(breaker, supply, each=s.amount("each"))
        fit = next((f for f in found.also if f.unit == "loads"), None)
        if fit is not None and found.value is not None:
            return replace(
                found,
                name="loads that fit",
                value=fit.value,
                low=fit.value,
                high=fit.value,
                unit=_counted(s),
                also=(figure("continuous power", found.value, "W"), *(f for f in found.also if f is not fit)),
            )
        return found
    loads = [quantity(s.number(n), u) for n, u in (("watts", "W"), ("load_amps", "A")) if s.has(n)]
    if not loads and s.text("loads") == "all" and s.text("ask") not in ("fit", "over"):
        found = shore_load(s)
        fits = found.value is not None and limit.value is not None and found.value <= limit.value
        return with_verdict(found, "Yes." if fits else "No.") if s.q.has(_MAY) else found
    if not loads:
        return limit
    found = power.breaker_left(breaker, supply, loads, continuous=s.text("ask") != "short")
    drawn = next(f for f in found.also if f.name == "drawn")
    volts = float(supply.magnitude)
    also = (
        figure("power drawn", drawn.value * volts, "W"),
        *found.also,
        figure("continuous limit", limit.value or 0.0, "A"),
        *(f for f in limit.also if f.name == "continuous power"),
    )
    line = (s.text("loads"),) if s.has("loads") else ()
    found = replace(found, also=also, working=(*line, *found.working))
    left = found.value or 0.0
    if s.text("ask") == "left":
        return replace(found, also=tuple(f for f in also if f.name != "power drawn"))
    if s.text("ask") == "over":
        over = max(0.0, -left)
        told = "Not over." if left >= 0 else f"{shown(over * volts)} watts over, {shown(over)} amps."
        return replace(
            with_verdict(found, told),
            name="over the limit",
            value=over,
            low=over,
            high=over,
            also=(
                figure("power over", over * volts, "W"),
                drawn,
                *(f for f in limit.also if f.name == "continuous power"),
            ),
        )
    if s.q.has(_MAY) and not s.q.has(_CONTRARY):
        found = with_verdict(found, "Yes." if left >= 0 else "No.")
    return replace(
        found,
        name="drawn",
        value=drawn.value,
        low=drawn.value,
        high=drawn.value,
        also=(figure("left", left, "A"), *(f for f in also if f is not drawn)),
    )


def shore_load_said(s: Sheet) -> None:
    """Inputs of "what is our load on shore"."""
    q = s.q
    breaker = q.one(*_BREAKER[:2], r"\b(?:over|under) ({A})")
    if breaker is not None:
        _rated(s, breaker)
    loads_said(s, breaker)
    volts = q.one(r"({V})", r"\b(?:on|at) ({n}) (?:volts)?$")
    if volts is not None and (volts.unit == "V" or 100 <= volts.value <= 250):
        s.say("volts", volts, "V")
    over = q.one(r"\b(?:over|under|more than|less than) ({W}|{A})")
    if over is not None:
        s.say("over", over)
        if over.unit in ("W", "kW") and s.has("watts"):
            s.note("watts", s.number("watts") - converted(over.value, over.unit, "W"), "W")
            if s.number("watts") <= 0:
                s.inputs.pop("watts")
                s.inputs.pop("loads", None)
    off = re.search(r"\b(?:shed|turn off|switch off|without|kill|drop) (?:the )?(\w+ ?\w*)", q.frame)
    if off:
        s.note("without", off[1])
        s.inputs.pop("watts", None)
        s.inputs.pop("loads", None)
    if q.has(r"\bhow many watts\b|\bwatts (?:is|are)\b") and not s.has("watts") and s.has("load_amps"):
        s.note("ask", "watts")


def _watts(line: str) -> float:
    """The watts of a load's line: "galley microwave 1,500 W", "2 x 400 W", "1.5 kW"."""
    match = re.search(r"(?:(?P<count>[\d.]+) x )?(?P<power>[\d.,]+) (?P<kilo>k?)W$", line)
    if match is None:
        return 0.0
    return float(match["power"].replace(",", "")) * float(match["count"] or 1) * (1000 if match["kilo"] else 1)


def shore_load(s: Sheet) -> Estimate:
    """Amps and watts of loads on shore power."""
    from cabassist.estimate import power

    supply = supply_of(s)
    if (
        s.text("ask") == "watts"
        and not s.said("volts")
        and not s.q.has(_OWN_INLET)
        and s.latest("shore_voltage") is None
    ):
        raise Missing("volts", "At what voltage?", "V")
    if s.text("ask") == "watts" and s.has("load_amps"):
        return power.watts(s.amount("load_amps"), supply)
    if (
        s.has("watts")
        and not s.has("breaker")
        and not s.q.has(r"\bshore\b|\bover\b|\bunder\b|\bcan (?:we|i)\b")
        and ";" not in s.text("loads")
    ):
        found = power.amps(s.amount("watts"), supply)
        return with_also(found, figure("power", s.number("watts"), "W"))
    if s.has("load_amps") and not s.has("watts"):
        return power.watts(s.amount("load_amps"), supply)
    without = s.text("without").split()
    if not s.has("watts") and not without and s.q.has(_ONE_LOAD) and not s.q.has(_ALL_LOADS):
        raise Missing("watts", "How many watts does it take? That stands on its plate.", "W")
    chosen = [
        load for load in s.coach.loads if not without or not any(word in load.name for word in without if len(word) > 3)
    ]
    if s.has("watts"):
        loads = [
            power.ElectricLoad(one, quantity(_watts(one), "W")) for one in s.text("loads").split("; ") if _watts(one)
        ]
    else:
        loads = [power.ElectricLoad(one.name, quantity(one.watts, "W"), one.duty, one.shed_order) for one in chosen]
        s.assumed.append("loads as in the profile")
    if not s.has("breaker"):
        s.profile("breaker", float(s.coach.shore.amps), "A", f"{s.coach.shore.amps} amp inlet")
    found = power.shore_load(loads, s.amount("breaker"), supply)
    total = sum(float(one.power.to("W").magnitude) for one in loads)
    found = with_also(found, figure("power", total, "W"))
    if s.has("over") and found.value is not None:
        limit, have = (s.number("over"), total) if s.inputs["over"].unit != "A" else (s.number("over"), found.value)
        found = with_verdict(
            found, f"{'Over' if have > limit else 'Under'} {shown(limit)} {s.inputs['over'].unit}: {shown(have, 4)}."
        )
    return found
