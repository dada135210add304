"""Questions about tires: their pressure in the cold, and how much tread is left."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_units import converted
from cabassist.sums.told_wheels import unwarmed
from cabassist.sums.working_roles import Role, placed
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_also, with_verdict

SET_AT_F = 65.0
"""Where a tire was set when nobody says: a shop; common practice, no source."""


_DEGREES = "temp|n"


def _pressure(amount: Amount) -> bool:
    return amount.unit != "n" or 60 <= amount.value <= 160


def _weather(amount: Amount) -> bool:
    return amount.unit != "n" or -60 <= amount.value <= 110


_SET = r"(?:set|aired|air|pumped|inflated|filled|put|topped)(?: it| them| em| the \w+(?: tires?)?)?(?: up)?(?: to| at| with)?"
_ROLES = (
    Role(
        "set_to",
        "psi|lb|n",
        rf"{_SET}|were|was|had|at|tires?|steers?|drives?",
        r"in the (?:shop|tires?)|when (?:i|we) set \w+",
        _pressure,
    ),
    Role(
        "read",
        "psi|lb|n",
        r"reads?|reading|shows?|showing|says?|gauge(?: is| at)?|(?:now|it) (?:is|at)|is now|down to|measures?|only(?: got)?",
        fits=_pressure,
    ),
    Role(
        "set_at",
        _DEGREES,
        r"at|@|set at|shop(?: at| was| is)?|garage(?: at| was| is)?|when it was|it was|in (?:a|the)|going from|from",
        r"(?:degree )?(?:shop|garage|bay|day|morning)|in the (?:shop|garage)|when (?:i|we) set|warm|then|day",
        _weather,
    ),
    Role(
        "now",
        _DEGREES,
        r"now(?: at| it is| it)?|it(?: is)?|outside(?: is)?|out(?: is)?|today|this morning|tonight|(?:what|reading|read|reads) (?:at|@|in)|(?:dropped|drops|going|goes|down) to",
        r"now|out|outside|today|tonight|this morning|out there",
        _weather,
    ),
)


_WHAT_READS = r"\b(?:what|should|will|would|gonna|going to)\b.*\b(?:read|show|be|say|at|in) (?:at |in |@ )?<(?:temp|F|C)>|\breading (?:at |@ )<(?:temp|F|C)>"


def tires_placed(s: Sheet) -> bool:
    """Note pressures and temperatures by the words beside them; False when the roles are not all clear."""
    q = s.q
    found = placed(q, _ROLES)
    pressures = [a for a in q.of("psi") if a not in found.values()]
    if "set_to" not in found and len(pressures) == 1:
        found["set_to"] = pressures[0]
    beside = q.find(
        r"({psi|kPa|bar|lb|n}) (?:psi |pounds |set )?(?:at|@|when it was|when it is|in) ({temp|F|C|n})"
    ) or q.find(r"({psi|kPa|bar}) ({temp|F|C})")
    degrees = [a for a in q.of("temp") if a not in (found.get("set_to"), found.get("read"))]
    if len(beside) == 2 and beside[0] == found.get("set_to") and _weather(beside[1]) and beside[1] != found.get("now"):
        found["set_at"] = beside[1]
    elif len(degrees) == 2 and not {"set_at", "now"} & found.keys():
        found["set_at"], found["now"] = degrees
    alone = len(degrees) == 1 and found.get("set_at") in (None, degrees[0])
    if alone and "set_to" in found and q.has(_WHAT_READS):
        # One temperature beside "what will they read at" is the one they are read at.
        s.say("set_to", found["set_to"]._replace(per=""), "psi")
        s.say("now", degrees[0], q.scale)
        return True
    for name, other in (("set_at", "now"), ("now", "set_at")):
        if name not in found and other in found:
            left = [a for a in degrees if a != found[other]]
            if len(left) == 1:
                found[name] = left[0]
    if not {"set_to", "set_at", "now"} <= found.keys() or len(set(found.values())) != len(found):
        return False
    s.say("set_to", found["set_to"]._replace(per=""), "psi")
    if "read" in found and not q.has(r"\bwhat (?:will|should|would|does|do) (?:they|it|the \w+) (?:read|show)\b"):
        s.say("read", found["read"], "psi")
    s.say("set_at", found["set_at"], q.scale)
    s.say("now", found["now"], q.scale)
    return True


_REAR = r"\b(?:drives?|rears?|tag|trailing|duals?|inner|outer|back)\b"


def tire_said(s: Sheet) -> None:
    """Inputs of "what will they read at ten below"."""
    q = s.q
    position = "rear" if q.has(_REAR) else "front" if q.has(r"\b(?:steers?|fronts?|left front|right front)\b") else ""
    if position:
        s.note("position", position)
    if not s.follows and (told := unwarmed(q)) is not None:
        s.say("set_to", told[0], "psi")
        s.say("now", told[1], q.scale)
        return
    if not s.follows and tires_placed(s):
        _tire_ask(s)
        return
    pressures = [a for a in (*q.of("psi"), *q.of("lb")) if not a.per]
    pairs = q.find(
        r"({psi}|{n}) (?:psi )?(?:set )?(?:at|when it was|in) (?:a |the )?({temp}|{n}) .*?(?:\bat|\bto|\bnow|\bin|\bnow it|\bit) ({temp}|{n})",
        r"\b(?:at|if it is|in) ({temp}) .*?({psi}|{n}) at ({temp}|{n})",
    )
    read = q.one(
        r"\b(?:reads?|reading|shows?|showing|is at|are at|now at|measures?) (?:only |now )?({psi}|{n})(?! degrees| below)",
        r"\bis ({psi}|{n}) (?:low|okay|ok|fine|enough|too low|right|good)",
        r"\bis ({n}|{psi}) (?:over|under|from spec)",
    )
    temps = q.of("temp")
    if s.follows and s.has("now", "set_to") and not s.has("set_at") and len(temps) == len(q.amounts) == 1:
        s.say("set_at", temps[0], q.scale)  # the one that was asked back
        return
    if (
        read is not None
        and read not in q.of("temp")
        and (read.unit != "n" or 30 <= read.value <= 160)
        and not q.has(r"\bwhat (?:will|should|would|does) (?:they|it|the \w+) read\b")
    ):
        s.say("read", read, "psi")
        pressures = [a for a in pressures if a != read]
    if len(pairs) == 3 and pairs[0].unit in ("psi", "kPa", "bar", "n") and pairs[0].unit != "temp":
        s.say("set_to", pairs[0], "psi")
        s.say("set_at", pairs[1], q.scale)
        s.say("now", pairs[2], q.scale)
        return
    if len(pairs) == 3:
        s.say("now", pairs[0], q.scale)
        s.say("set_to", pairs[1], "psi")
        s.say("set_at", pairs[2], q.scale)
        return
    if pressures:
        s.say("set_to", pressures[0], "psi")
    else:
        bare = q.one(
            r"\b(?:set to|set at|was|were|filled to|pumped to|aired (?:up )?to|inflated to|at|if it was) (?:a |about )?({n})(?! degrees)(?= at| when| in| warm| cold)",
            rf"\b{_SET} ({{n}})(?= $| ,| \.| psi)",
            r"^ ({n}) (?:warm|psi)",
        )
        if bare is not None and 20 <= bare.value <= 160:
            s.say("set_to", bare, "psi")
    _tire_ask(s)
    trip = q.find(r"\bfrom (?:\w+ )?(?:at )?({temp}|{n}) (?:degrees )?to (?:\w+ )?(?:at )?({temp}|{n})")
    if len(trip) == 2:
        s.say("set_at", trip[0], q.scale)
        s.say("now", trip[1], q.scale)
        return
    set_at = q.one(
        r"\b(?:set|filled|pumped|inflated|aired|checked)\b[^<]{0,30}\b(?:at|in) (?:a |the )?(?:shop at )?({temp}|{n})(?= |$)",
        r"\b(?:set|filled|pumped|inflated|aired|checked|was|were)\b[^<]*(?:<psi>|<n>|<kPa>|<bar>)? ?[^<]{0,25}\b(?:at|in) (?:a |the )?(?:shop at )?({temp}|{n})",
        r"({temp}) (?:shop|garage|day|morning|when)",
        r"\b(?:shop|garage) (?:at |is |was )*({temp}|{n})",
    )
    if (
        set_at is not None
        and set_at != read
        and (set_at.unit != "n" or abs(set_at.value) <= 110)
        and s.number_or("set_to") != set_at.value
    ):
        if len(temps) > 1 or not s.follows:
            later = [t for t in temps if t != set_at]
            if later or q.has(r"\bset\b|\bshop\b|\binflated\b"):
                s.say("set_at", set_at, q.scale)
    rest = [t for t in temps if not (s.has("set_at") and "set_at" in s.fresh and t.value == s.number("set_at"))]
    now = rest[-1] if rest else q.one(r"\bat ({n})(?: degrees)?(?= |$)")
    if now is not None and now.unit == "n" and (now.value > 75 or (s.has("read") and now.value == s.number("read"))):
        now = None
    if now is not None and not ("set_at" in s.fresh and now.unit == "n" and s.number("set_at") == now.value):
        s.say("now", now, q.scale)


def _tire_ask(s: Sheet) -> None:
    q = s.q
    if q.has(r"\bper (?:ten|10) degrees\b|\bper <temp>|\bper <n> degrees"):
        s.note("ask", "per ten")
    elif q.has(r"\b(?:drop|lose|loss|how much (?:does|will|do))\b"):
        s.note("ask", "change")
    elif q.has(r"\bshould i add\b|\bhow many pounds .* add\b"):
        s.note("ask", "add")
    elif q.has(r"\bspread\b"):
        s.note("ask", "spread")
    elif q.has(r"\bfrom spec\b|\bover the max\b|\bhow low is too low\b"):
        s.note("ask", "spec")


def _spec(s: Sheet) -> float:
    rear = s.text("position") == "rear"
    value = s.coach.wheels.rear_psi if rear else s.coach.wheels.front_psi
    s.profile("set_to", value, "psi", f"{'rear' if rear else 'front'} tires {shown(value)} psi cold")
    return s.number("set_to", "psi")


def tire_pressure(s: Sheet) -> Estimate:
    """A tire's pressure at another temperature, or whether a reading is low."""
    from cabassist.estimate import tires

    ask = s.text("ask")
    if ask == "per ten":
        spec = _spec(s)
        before = tires.tire_pressure(quantity(spec, "psi"), quantity(60, "F"), quantity(50, "F"))
        drop = spec - (before.value or spec)
        return replace(
            with_verdict(before, f"About {shown(drop, 2)} psi for every 10 °F: 2 percent."),
            name="lost for 10 °F",
            value=drop,
            low=drop * 0.9,
            high=drop * 1.1,
            also=(),
        )
    if ask == "spread" and (pair := s.q.find(r"({psi}|{n}) and (?:a )?({psi}|{n})")) and len(pair) == 2:
        apart = abs(pair[0].value - pair[1].value)
        spec = _spec(s)
        return exact(
            "apart",
            apart,
            "psi",
            working=(f"{shown(pair[0].value)} and {shown(pair[1].value)}: {shown(apart)} psi apart",),
            source="coach profile",
            verdict=f"Set both to {shown(spec)} psi cold; duals should be alike.",
        )
    if s.q.has(r"\bhow low is too low\b"):
        spec = _spec(s)
        value = tires.RUN_FLAT_SHARE * spec
        return exact(
            "flat below",
            value,
            "psi",
            working=(f"{tires.RUN_FLAT_SHARE:g} x {shown(spec)} = {shown(value)} psi",),
            source="a fifth low counts as run flat (from memory)",
            verdict="A tire a fifth low counts as flat: do not drive on it. In the cold it reads lower: say the temperature.",
        )
    if s.has("read", "set_to") and not s.has("now") and s.q.has(r"\b(?:what|at what|which) temp\w*\b|\bhow cold\b"):
        raise Missing("now", "How cold are the tires now? I work out the pressure from that.", "temp")
    if s.has("read") and not s.has("now") and ask in ("spec", "spread", ""):
        if s.latest("outside_temp") is None or ask == "spec":
            spec = _spec(s)
            off = s.number("read", "psi") - spec
            share = s.number("read", "psi") / spec
            verdict = f"{shown(abs(off), 3)} psi {'under' if off < 0 else 'over'} the {shown(spec)} psi cold." + (
                " A fifth low counts as flat: do not drive on it."
                if share < tires.RUN_FLAT_SHARE
                else " In the cold a tire reads lower: say the temperature."
            )
            return exact(
                "from the cold setting",
                off,
                "psi",
                working=(f"{shown(s.number('read', 'psi'))} - {shown(spec)} = {shown(off)} psi",),
                source="coach profile",
                verdict=verdict,
            )
    if not s.has("now"):
        s.from_reading("now", "outside_temp", "outside temperature", "F")
    if not s.has("now"):
        raise Missing("now", "How cold are the tires now?", "temp")
    if s.said("set_to") and not s.has("set_at"):
        raise Missing("set_at", "How warm was it when they were set, in degrees?", "temp")
    _spec(s)
    s.assume("set_at", SET_AT_F, "F", f"set at {SET_AT_F:g} °F (common practice, no source; say where)")
    if s.has("read"):
        found = tires.tire_reading(s.amount("read"), s.amount("set_to"), s.amount("set_at"), s.amount("now"))
        return found
    found = tires.tire_pressure(s.amount("set_to"), s.amount("set_at"), s.amount("now"))
    change = next((f for f in found.also if f.name == "change"), None)
    if ask in ("change", "add") and change is not None and found.value is not None:
        lost = -change.value
        also = (figure("pressure then", found.value, found.unit, found.low, found.high),)
        return replace(
            found,
            name="lost",
            value=lost,
            low=-(change.high if change.high is not None else change.value),
            high=-(change.low if change.low is not None else change.value),
            also=also,
        )
    return found


def tread_said(s: Sheet) -> None:
    """Inputs of "is four thirty seconds legal on a steer tire"."""
    q = s.q
    if q.has(_REAR) and not q.has(r"\bfronts? (?:and|or|&) (?:rear|back)|\brears? (?:and|or|&) front"):
        s.note("position", "rear")
    elif q.has(_REAR):
        pass
    elif q.has(r"\b(?:steers?|fronts?)\b"):
        s.note("position", "front")
    depth = q.one(r"({32nds})", r"({mm})", r"\btread (?:is |of |at |it )*({n})")
    if depth is not None:
        s.note("depth", depth.value, "mm" if depth.unit == "mm" else "32nds")
    if q.has(r"\bretread|\brecap|\bregroove"):
        s.note("ask", "retread")
    elif q.has(
        r"\bhow much wear\b|\bhow much (?:\w+ )?before\b|\bwear is left\b|\bhow much (?:\w+ )*left\b|\b(?:above|over|to spare|more than|left before|beyond) (?:the )?(?:legal |min\w*|limit)|\bleft before\b|\bto spare\b|\bhow many (?:<n> nds|32nds?|<32nds>|thirty seconds) (?:above|over|left|more)\b|\bhow many <?32nds>?\b.*\bbefore\b|\bhow many (?:more )?thirty seconds?\b"
    ):
        s.note("ask", "left")


_MAY = r"\b(?:legal|ok|okay|good to go|can (?:i|we)|pass|fine|allowed|safe|good enough|good|enough|run (?:it|on))\b(?! (?:min\w*|limit))"


def tread(s: Sheet) -> Estimate:
    """Whether a tread is deep enough."""
    from cabassist.estimate import tires

    position: Literal["front", "rear"] = "rear" if s.text("position") == "rear" else "front"
    if s.text("ask") == "retread":
        return tires.retread_allowed(position)
    limits = {"front": tires.STEER_TREAD_32NDS, "rear": tires.OTHER_TREAD_32NDS}
    if not s.has("depth"):
        value = limits[position] if s.text("position") else limits["front"]
        other: tuple[Figure, ...] = () if s.text("position") else (figure("other tires", limits["rear"], "1/32 in"),)
        verdict = (
            f"At least {value:g}/32 inch on a {position} tire."
            if s.text("position")
            else "At least 4/32 inch on the front, 2/32 on the others."
        )
        return exact(
            "least tread",
            value,
            "1/32 in",
            source=tires.RULE_SOURCE,
            verdict=verdict,
            also=(*other, figure("millimeters", converted(value, "32nds", "mm"), "mm")),
            working=("49 CFR 393.75(b), (c): 4/32 in front, 2/32 elsewhere.",),
        )
    if not s.text("position"):
        s.assumed.append("taken as a front tire, the stricter limit; say if it is not")
    depth = quantity(s.number("depth", "in"), "in")
    found = tires.tread(depth, position)
    left = converted(s.number("depth"), s.inputs["depth"].unit, "32nds") - limits[position]
    found = with_also(found, figure("left to the limit", left, "1/32 in"))
    if s.q.has(_MAY):
        found = with_verdict(found, "Yes." if found.verdict.startswith("Allowed") else "No.")
    if s.text("ask") == "left" and found.value is not None:
        return replace(
            found,
            name="left to the limit",
            value=left,
            low=left,
            high=left,
            also=(figure("tread", found.value, "1/32 in"), *(f for f in found.also if f.name != "left to the limit")),
        )
    return found
