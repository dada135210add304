"""Questions about freezing water: hours until ice, how cold it can get, what a heat pad must give."""

from __future__ import annotations

import dataclasses
import re
from dataclasses import replace
from typing import Any

from cabassist.estimate.quantities import exact, figure, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.sums.working_levels import needed_hours, tank_levels
from cabassist.sums.working_roles import Role, degrees_in, placed
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_verdict
from cabassist.units import registry

HELD_F = 40.0
"""Water in a tank that the pad has kept from freezing, when nobody says; common practice, no source."""


OUTSIDE = (
    r"\b(?:outside|out|air|outdoors|ambient|weather) (?:is |at |of |temp\w* |it |was |says |reads )*({temp}|{n})",
    r"({temp}|{n}) (?:degrees )?(?:out|outside|outdoors|air|ambient|weather)\b",
    r"\b(?:it|it is) ({temp}) (?:and|with|out)",
    r"\b(?:drops? to|going (?:down )?to|goes to|forecast (?:is )?|low of|tonight) ({temp})",
)


def temperatures(s: Sheet, warm: str, cold: str, warm_cues: tuple[str, ...]) -> None:
    """Note a warm and a cold temperature by their cues; what is left goes to the cold one, the warmer of two to the warm."""
    q = s.q
    chill = q.every(r"\bwind ?chil+ (?:is |of |it )*({temp})")
    temps = [a for a in q.of("temp") if a not in chill]
    hot = q.one(*warm_cues)
    if hot is not None and hot.unit == "n" and not -60 <= hot.value <= 120:
        hot = None
    out = next((a for p in OUTSIDE for a in q.every(p) if a not in (hot, *chill) and abs(a.value) <= 130), None)
    rest = [t for t in temps if t not in (hot, out)]
    if out is None and rest:
        if hot is None and len(rest) > 1:
            hot, out = max(rest, key=lambda t: t.value), min(rest, key=lambda t: t.value)
        else:
            out = rest[0]
    elif hot is None and rest:
        hot = rest[0]
    if out is None:
        bare = q.one(
            r"(?<!power)(?<!off)(?<!lost)(?<!plugged in)(?<!quit) at ({n})(?! (?:percent|o'clock|am|pm|in the|more|hours|days))(?= |$)",
            r"\bfor ({n}) $",
        )
        if bare is not None and bare != hot and -60 <= bare.value <= 100:
            out = bare
    if hot is not None and hot.unit in ("temp", "n") and any(a.per == "degC" for a in q.amounts):
        # Per degree Celsius: a cabin or tank at 20 is meant so, one at 36 is not.
        q = s.q = dataclasses.replace(q, scale="C" if hot.value <= 30 else "F")
    limit = 0.0 if hot is not None and (hot.unit if hot.unit in ("F", "C") else q.scale) == "C" else 32.0
    cold_itself = hot is not None and (hot.value < limit or (hot.value == limit and warm != "start"))
    if hot is not None and cold_itself and (warm != "hold" or out is None):
        # What is meant to be warm is not below freezing: "does the pad hold at ten below" tells the air.
        hot, out = (None, hot) if out is None else (out, hot) if out.value > hot.value else (None, out)
    s.say(warm, hot, q.scale)
    s.say(cold, out, q.scale)


_LOSES = r"\b(?:lose|loses|losing|loss of|loss is|lost|bleed(?:s|ing)?(?: off)?|leak(?:s|ing)?|giving off|gives off|shed(?:s|ding)?|drop(?:s|ping))"
_PER_LETTER = re.compile(r"(<(?:W|kW|BTU|BTU/h)>) (?:per|a|/|each|for each) (?:degrees? |deg |° )?([cfk])\b")


def loss_said(s: Sheet) -> None:
    """Note a loss for each degree, or a steady loss, as said."""
    q = s.q
    each = q.one(r"({perdeg})")
    if each is not None:
        unit = each.unit.removesuffix("/h")
        metric = each.per == "degC" or (each.per == "deg" and q.scale == "C")
        s.note("loss_w_k", _w_per_k(each.value, unit, metric), "W/K")
        s.note("loss_said", f"{shown(each.value)} {'BTU/h' if unit == 'BTU' else unit} per °{'C' if metric else 'F'}")
        return
    bare = q.one(
        r"\b(?:lose|loses|losing|loss of|leaks?) (?:about )?({n}|{W}) (?:watts )?(?:per|a|for each|for every|each) degree"
    )
    if bare is not None:
        s.note("loss_w_k", _w_per_k(bare.value, "W", q.scale == "C"), "W/K")
        return
    letter = next((m for m in _PER_LETTER.finditer(q.frame)), None)
    if letter is not None:
        amount = q.amount_at(letter.start(1))
        unit = "BTU" if amount.unit.startswith("BTU") else amount.unit
        s.note("loss_w_k", _w_per_k(amount.value, unit, letter[2] != "f"), "W/K")
        s.note("loss_said", f"{shown(amount.value)} {unit} per °{letter[2].upper()}")
        return
    steady = q.one(
        rf"{_LOSES} (?:about |heat at |a steady |at )*({{W|kW|BTU/h|BTU}})",
        r"({W|kW|BTU/h|BTU}) (?:of )?(?:heat )?(?:loss|lost)",
    )
    if steady is not None:
        s.drop("loss_w_k")
        s.note("loss_w", converted(steady.value, "BTU/h" if steady.unit.startswith("BTU") else steady.unit, "W"), "W")


def _w_per_k(value: float, unit: str, metric: bool) -> float:
    watts = value * (0.29307107 if unit == "BTU" else 1000 if unit == "kW" else 1)
    return watts if metric else watts * 1.8


def loss_of(s: Sheet, tank: str) -> Any:
    """Heat the tank loses for each degree, as told or by the profile."""
    if not s.has("loss_w_k"):
        own = s.tank(tank)
        s.profile(
            "loss_w_k", own.heat_loss_w_per_k, "W/K", f"{tank} tank loses {shown(own.heat_loss_w_per_k)} W per °C"
        )
    return registry().Quantity(s.number("loss_w_k"), "W/delta_degC")


_FALLING = r"\b(?:drop\w*|fall\w*|los(?:e|es|ing|t)|cool\w*|(?:going|coming|goes|comes) down)(?: about| around| at| by| off|,)* "
_FALLS = (
    rf"{_FALLING}({{F|C|temp|n}}) (?:degrees )?(?:an|per|each|every|a|/) (?:hour|hr|h)\b",
    rf"{_FALLING}({{F/h|C/h|temp/h|n/h}})",
)
"""By so many degrees each hour, which is no temperature."""


def _falling_said(s: Sheet) -> bool:
    """Note how warm it is and by how much it falls in an hour, where nothing else is told."""
    falls, degrees = s.q.one(*_FALLS), s.q.of("temp") + s.q.of("n")
    now = next((one for one in degrees if one != falls and one.unit != "n"), None)
    if falls is None or now is None or len(s.q.amounts) != 2 or falls.value <= 0:
        return False
    unit = now.unit if now.unit in ("F", "C") else s.q.scale
    s.note("falls", falls.value, unit)
    s.note("start", now.value, unit)
    return True


def _at_that_fall(s: Sheet) -> Estimate:
    """Hours until it is at freezing, when it goes on falling by as much each hour."""
    unit = s.inputs["start"].unit
    start, falls, freezing = s.number("start"), s.number("falls"), 0.0 if unit == "C" else 32.0
    if start <= freezing:
        raise ValueError("That is at freezing already.")
    hours = (start - freezing) / falls
    line = f"({shown(start)} - {shown(freezing)}) ÷ {shown(falls)} = {shown(hours)} h"
    return exact("time until it is at freezing", hours, "h", working=(line,), assumptions=("it goes on falling as fast",), source="arithmetic")  # fmt: skip


def freeze_time_said(s: Sheet) -> None:
    """Inputs of "how long until the tank freezes"."""
    q = s.q
    if _falling_said(s):
        return
    needed_hours(s)
    temperatures(
        s,
        "start",
        "outside",
        (
            r"({temp}|{n}) (?:degree )?water\b",
            r"\bwater (?:that is |in it |in the tank )?(?:is |at |starts? at |starting at |of )*({temp}|{n})\b",
            r"\b(?:tank|fresh|waste|gallons|<gal>|<L>) (?:of water |water |tank )*(?:is |at |starts? at |it at )+({temp})",
            r"<(?:gal|L)> (?:of water |water |tank |in the \w+ |already |now )*(?:is |at |starts? at |it at )+({n})\b",
            r"\b(?:from|starting at|starts at|started at) ({temp}|{n})",
            r"({temp}) (?:in the tank|tank)\b",
        ),
    )
    loss_said(s)
    wind = q.one(r"({speed})", r"\bwind (?:of |at |is )?({n})", r"\bblowing ({n})")
    s.say("wind", wind, "mph")
    if q.has(
        r"\bhow (?:cold|low)\b|\b(?:colder|lower) than\b|\bcoldest\b|\blowest\b|\bbelow (?:the )?(?:air|outside)\b|\bcolder than\b"
    ):
        s.note("ask", "coldest")
    elif q.has(r"\bhow much heat\b|\bhow many btus?\b"):
        s.note("ask", "heat")
    elif q.has(r"\b(?:solid|all the way|right through|block of ice|completely)\b"):
        s.note("ask", "solid")
    elif q.has(r"\bhow (?:warm|cold) will\b|\bwhat temp\w*\b.*\bafter\b|\btemperature .* after\b"):
        s.note("ask", "after")
    thing = (
        "hose"
        if q.has(r"\bhose\b(?! (?:bib|bay))")
        else "line"
        if q.has(r"\b(?:pipes?|lines?)\b")
        else "waste"
        if q.has(r"\b(?:waste|black|sewage|holding|gr[ae]y)\b")
        else ""
    )
    if thing or not s.follows:
        s.note("thing", thing or "fresh")
    bore = q.one(r"({in|mm}) (?:hose|pipe|line|pex)")
    s.say("bore", bore)
    volume = next((a for a in q.of("water")), None)
    if volume is not None:
        s.drop("fresh_share", "waste_share")
        s.say("volume", volume)
    elif thing in ("", "waste"):
        tank_levels(s, ("waste" if thing == "waste" else "fresh",), q.of("n"))
        if s.fresh & {"fresh_share", "fresh_gal", "fresh_depth", "waste_share", "waste_gal", "waste_depth"}:
            s.drop("volume")


def freeze_time(s: Sheet) -> Estimate:
    """Hours until water freezes, or how cold it can get."""
    from cabassist.estimate import cold, wind_chill

    if s.has("falls"):
        return _at_that_fall(s)
    if s.text("ask") == "coldest":
        s.outside("How cold is the air?")
        return wind_chill.coldest_unheated(s.amount("outside"), s.amount("wind") if s.has("wind") else None)
    thing = s.text("thing") or "fresh"
    if thing in ("hose", "line"):
        s.outside()
        s.assume("bore", 0.625 if thing == "hose" else 0.5, "in", f"{'5/8' if thing == 'hose' else '1/2'} inch {thing}")
        s.assume("start", HELD_F, "F", f"water at {HELD_F:g} °F to begin with")
        found = cold.hours_for_hose_to_freeze(
            s.amount("bore"), s.amount("start"), s.amount("outside"), wind=s.amount("wind") if s.has("wind") else None
        )
        return frozen_by(s, found)
    volume = _volume(s, thing)
    if s.text("ask") == "heat":
        s.assume("start", HELD_F, "F", f"water at {HELD_F:g} °F to begin with")
        return cold.freezing_reserve(volume, s.amount("start"))
    if s.has("loss_w"):
        s.need("start", "How warm is the water now?", "temp")
        return until_solid(
            s, cold.hours_to_freeze_at_loss(volume, s.amount("start"), quantity(s.number("loss_w"), "W"))
        )
    s.outside()
    s.assume("start", HELD_F, "F", f"water at {HELD_F:g} °F to begin with: say if it is warmer")
    loss = loss_of(s, thing)
    if s.text("ask") == "after" and s.has("needed"):
        return cold.water_temperature_after(volume, s.amount("start"), s.amount("outside"), loss, s.amount("needed"))
    return until_solid(s, frozen_by(s, cold.hours_to_freeze(volume, s.amount("start"), s.amount("outside"), loss)))


def _volume(s: Sheet, tank: str) -> Any:
    if s.has("volume"):
        return s.amount("volume")
    level = s.level(tank)
    if level is None:
        raise Missing(tank, f"How much is in the {tank} tank?", "percent")
    if level <= 0:
        raise ValueError(f"An empty {tank} tank does not freeze. Say how much is in it.")
    return quantity(level * s.capacity(tank), "gal")


def frozen_by(s: Sheet, found: Estimate) -> Estimate:
    """The hours to the first ice, with a yes or no for the time that is asked about."""
    if not s.has("needed"):
        return found
    hours = s.number("needed", "h")
    if found.value is None:
        return with_verdict(found, "No.")
    early = found.low or found.value
    word = (
        "Yes, it can freeze" if found.value <= hours else "Perhaps: too close to tell" if early <= hours else "No, not"
    )
    return with_verdict(found, f"{word} within {roughly(hours)}.")


def until_solid(s: Sheet, found: Estimate) -> Estimate:
    """The hours until it is solid, when these are asked for, with the first ice beside."""
    if s.text("ask") != "solid":
        return found
    solid = next((f for f in found.also if f.name == "frozen solid"), None)
    if solid is None or found.value is None:
        return found
    first = figure("first ice", found.value, "h", found.low, found.high)
    return replace(
        found,
        name=solid.name,
        value=solid.value,
        low=solid.low,
        high=solid.high,
        also=(first, *(f for f in found.also if f is not solid)),
    )


_HELD = (
    Role(
        "hold",
        "temp|n",
        r"(?:keep|hold|holding|keeping|maintain|stay|stays|kept)(?: (?:it|the (?:tank|water|fresh|waste)|us|water))?(?: at| above| to)?|want|(?:tank|water|fresh)(?: at| to stay at)?|inside",
        r"inside(?: the tank)?|in the tank|water|in it",
        lambda a: a.unit != "n" or 0 <= a.value <= 80,
    ),
    Role(
        "outside",
        "temp|n",
        r"outside|out|air|ambient|outdoors|bay|weather|it is|it",
        r"outside|out|outdoors|air|ambient|weather|in the bay|tonight",
        lambda a: a.unit != "n" or -60 <= a.value <= 70,
    ),
)


def _held_said(s: Sheet) -> bool:
    """Note what the tank is to be held at and the air outside by the words beside them; False when one is unclear."""
    q = s.q = degrees_in(s.q)
    found = placed(q, _HELD)
    loose = [a for a in q.of("temp") if a not in found.values()]
    if loose or not found or s.follows:
        return False
    hold, out = found.get("hold"), found.get("outside")
    if (hold is not None and out is not None and hold.value <= out.value) or hold is None:
        return False
    if hold is not None and hold.unit in ("temp", "n"):
        metric = out.unit == "C" if out is not None and out.unit in ("F", "C") else _per_celsius(q) and hold.value <= 30
        s.q = dataclasses.replace(q, scale="C" if metric else q.scale)
    s.say("hold", hold, s.q.scale)
    s.say("outside", out, s.q.scale)
    return True


def _per_celsius(q: Question) -> bool:
    """Whether the loss is told for each degree Celsius."""
    letter = _PER_LETTER.search(q.frame)
    return any(a.per == "degC" for a in q.amounts) or (letter is not None and letter[2] != "f")


def heat_pad_said(s: Sheet) -> None:
    """Inputs of "how many watts does the pad need"."""
    q = s.q
    loss_said(s)
    if not _held_said(s):
        temperatures(
            s,
            "hold",
            "outside",
            (
                r"\b(?:hold|keep|holding|keeping|held)\b(?:(?!outside|out )[^<]){0,25}\b(?:at|above|to) ({temp}|{n})",
                r"\b(?:hold|keep|holding|keeping) ({temp}|{n})",
                r"\b(?:tank|water) (?:at|to stay at) ({temp}|{n}) (?:when|if|with|while)",
                r"({temp}|{n}) in the tank\b",
            ),
        )
    losing = q.every(rf"{_LOSES} (?:about |heat at |a steady |at )*({{W|kW}})")
    pads = [
        *q.every(r"({W}) (?:of )?(?:heat |heating )?(?:pad|tape|heater|mat)\b"),
        *q.every(r"\b(?:pad|tape|heater|mat) (?:is |of |gives |puts out |at )*({W})"),
        *q.of("W"),
    ]
    s.say("pad", next((a for a in pads if a not in losing), None))
    tank = "waste" if q.has(r"\b(?:waste|black|sewage|tape|holding tank)\b") else "fresh"
    if not s.follows or q.has(r"\b(?:waste|tape|fresh|black)\b"):
        s.note("tank", tank)
    wind = q.one(r"({speed})")
    s.say("wind", wind, "mph")
    if s.has("pad") and q.has(r"\bdegrees? (?:above|over|warmer)\b|\bhow much (?:above|warmer)\b"):
        s.note("ask", "rise")
    elif q.has(
        r"\bmin(?:imum)? (?:outside|air|temp\w*)\b|\b(?:lowest|coldest|how cold|how many degrees|how low|fall behind|falls behind|down to|at what|what outside|good to)\b"
    ):
        s.note("ask", "coldest")
    elif q.has(r"\b(?:enough|big enough|strong enough|keep up|keeps up|hold|holds|cope|copes|stay|stays)\b") and (
        s.has("pad") or not q.has(r"\bhow (?:many|much)|\bwhat wattage|\bwatts (?:to|for|needed)")
    ):
        s.note("ask", "holds")
    elif not s.follows:
        s.drop("ask")


def _against_loss(s: Sheet) -> Estimate:
    """Whether a pad makes up for a loss told as power: both are watts, so no temperature is needed."""
    pad, loss = s.number("pad", "W"), s.number("loss_w", "W")
    btu = converted(1.0, "W", "BTU/h")
    word = "Yes, it holds" if pad >= 1.1 * loss else "Barely" if pad >= loss else "No, it does not hold"
    verdict = f"{word}: the pad gives {shown(pad * btu, 3)} BTU an hour, the tank loses {shown(loss * btu, 3)}."
    line = f"{shown(pad)} W x {shown(btu, 4)} = {shown(pad * btu, 4)} BTU/h"
    beside = f"loss {shown(loss * btu, 4)} BTU/h = {shown(loss, 3)} W"
    return exact(
        "heat of the pad",
        pad * btu,
        "BTU/h",
        working=(line, beside),
        source="1 W = 3.412 BTU/h; arithmetic",
        verdict=verdict,
        also=(figure("left over", pad - loss, "W"),),
    )


def _rise(s: Sheet, scale: str) -> Estimate:
    """How much warmer than the air a pad keeps a tank."""
    per_degree = s.number("loss_w_k") if s.has("loss_w_k") else s.tank(s.text("tank") or "fresh").heat_loss_w_per_k
    celsius = s.number("pad", "W") / per_degree
    said_fahrenheit = scale == "F" and not s.text("loss_said").endswith("C")
    rise, unit = (celsius * 1.8, "°F") if said_fahrenheit else (celsius, "°C")
    line = f"{shown(s.number('pad', 'W'))} W ÷ {shown(per_degree)} W per °C = {shown(celsius)} °C = {shown(celsius * 1.8)} °F"
    verdict = f"{shown(rise, 3)} {unit} warmer than the air outside."
    return exact(
        "warmer than the air",
        rise,
        unit[1:],
        working=(line,),
        source="conduction, Q = UA·ΔT",
        verdict=verdict,
    )


def heat_pad(s: Sheet) -> Estimate:
    """Watts a pad needs, or whether it holds."""
    from cabassist.estimate import heat_pad as pads

    tank = s.text("tank") or "fresh"
    ask = s.text("ask")
    if s.has("loss_w", "pad") and ask != "coldest":
        return _against_loss(s)
    if s.has("loss_w") and not s.has("loss_w_k") and (ask == "coldest" or s.has("outside")):
        raise Missing("loss_w_k", "How many watts does the tank lose for each degree?", "W/K")
    loss = loss_of(s, tank)
    told = next((s.inputs[name].unit for name in ("outside", "hold") if s.has(name)), s.q.scale)
    scale = "C" if told == "C" else "F"
    if ask == "rise":
        return _rise(s, scale)
    if ask in ("coldest", "holds") or (s.has("pad") and not ask):
        if not s.has("pad"):
            own = s.tank(tank)
            watts = own.heat_tape.power_w if tank == "waste" and own.heat_tape else own.heat_pad_w
            if not watts:
                raise Missing("pad", "How many watts is the pad?", "W")
            s.profile("pad", watts, "W", f"{shown(watts)} W {'tape' if tank == 'waste' else 'pad'}")
        hold = s.amount("hold") if s.has("hold") else None
        if ask == "coldest" and not s.has("outside"):
            found = pads.heat_pad_holds(s.amount("pad"), quantity(0, scale), loss, hold=hold)
            cold = next(f for f in found.also if f.name.startswith("coldest"))
            line = f"{shown(s.number('pad'))} W ÷ {shown(s.number('loss_w_k'))} W per °C = {shown(s.number('pad') / s.number('loss_w_k'))} °C above the air"
            verdict = f"Good down to about {shown(cold.value, 3)} °{cold.unit}."
            return Estimate(
                "coldest air it holds in",
                cold.value,
                cold.unit,
                cold.low,
                cold.high,
                (line,),
                found.assumptions,
                found.source,
                verdict,
            )
        s.outside()
        found = pads.heat_pad_holds(s.amount("pad"), s.amount("outside"), loss, hold=hold)
        if not s.q.has(r"\b(?:will|does|is|can|enough|do)\b"):
            return found
        return with_verdict(found, "No." if found.verdict.startswith("It does not") else "Yes.")
    s.outside()
    if not s.has("hold"):
        s.assume("hold", 0.0 if scale == "C" else 32.0, scale, "held at freezing; a few degrees more are wiser")
    return pads.heat_pad_watts(s.amount("hold"), s.amount("outside"), loss)
