"""Cooling told by itself: a time constant, or two readings and the time between them, instead of the profile's cabin."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_units import converted
from cabassist.sums.working_levels import clock_hours
from cabassist.sums.working_roles import Role, by_words, degrees_in, placed
from cabassist.sums.working_sheet import Missing, Sheet, with_also, with_verdict
from cabassist.sums.working_unplaced import WORDED

_CONSTANT = r"\b(?:time constant|thermal constant|tau|cooling constant)\b"
_HOUR_APART = r"\b(?:first|one|the last|the past) hour\b|\bhour (?:later|ago|after)\b"
_TEMP = "temp|n"
_HEAT_GONE = (
    r"(?:lost (?:the )?heat|heat|heater|furnaces?|it) (?:died |quit |failed |went out |stopped |went |off )?(?:at)?"
)


def _degrees(amount: Amount) -> bool:
    return amount.unit != "n" or -60 <= amount.value <= 110


_OUT = Role(
    "outside",
    _TEMP,
    r"outside|outdoors|ambient|air|out(?: there)?|night at",
    r"outside|outdoors|ambient|out(?: there)?",
    _degrees,
)
_TARGET = Role(
    "target",
    _TEMP,
    r"till?|until|'til|to|hits?|reach(?:es)?|below|under|above|drops?|down to|gets? to|go(?:es)? to|for|at or above",
    fits=_degrees,
)
_FIRST = Role(
    "start",
    _TEMP,
    rf"was|were|had|from|start(?:ed|ing|s)?(?: at| out at)?|{_HEAT_GONE}|at first|used to be|inside|in here|cabin|coach|interior|read",
    r"inside|in here|in|indoors|in the (?:cabin|coach|bus)|when (?:the|it)|at first|to start|then|an? hour ago|down|before|and",
    _degrees,
)
_LATER = Role(
    "later",
    _TEMP,
    r"now|later|is|it|to|reads?|down to|after that|inside|in here|it is|at",
    r"now|later|already|inside|in here|after|in the first",
    _degrees,
)


def cooling_said(s: Sheet) -> bool:
    """Inputs of a cooling that is told by its time constant or by two readings; False when it is neither."""
    s.q = degrees_in(s.q)
    return _by_readings(s) or _by_constant(s)


def _target(s: Sheet, found: dict[str, Amount]) -> None:
    s.say("target", found.get("target"), s.q.scale)
    if "target" not in found and s.q.has(r"\b(?:to|hit|hits|at|reach\w*|below|down to|before|till?|until) freezing\b"):
        s.note("target", 32.0 if s.q.scale == "F" else 0.0, s.q.scale)


def _by_constant(s: Sheet) -> bool:
    q = s.q
    if not q.has(_CONSTANT) and not (s.follows and s.has("tau")):
        return False
    times = placed(
        q,
        (
            Role(
                "tau",
                "h|min",
                r"(?:time|thermal|cooling) constant|constant|tau",
                r"(?:time|thermal|cooling) constant|constant|tau",
            ),
            Role(
                "needed",
                "h|min",
                r"after|in|for|over|with|at",
                r"later|from now|without|with(?: the)?|unheated|after|no heat|on|of",
            ),
        ),
    )
    for name, amount in times.items():
        s.note(name, converted(amount.value, amount.unit, "h"), "h")
    found = placed(q, (_FIRST, _OUT, _TARGET), tuple(times.values()))
    clocks = [a for a in q.amounts if a.unit == "clock"]
    if len(clocks) == 2 and "needed" not in times and q.has(r"\bhow (?:warm|cold)\b|\bwhat temp\w*|\btemp\w* at\b"):
        s.note("needed", clock_hours(*clocks), "h")
        found.pop("target", None)
    left = [a for a in q.of("temp") if a not in found.values()]
    if "start" not in found and len(left) == 1:
        found["start"] = left[0]
    elif "outside" not in found and "start" in found and len(left) == 1:
        found["outside"] = left[0]
    s.say("start", found.get("start"), q.scale)
    s.say("outside", found.get("outside"), q.scale)
    _target(s, found)
    return True


def _by_readings(s: Sheet) -> bool:
    q = s.q
    if q.has(_CONSTANT) and q.has(r"\b(?:constant|tau) (?:is |of |about )*<h>|<h> (?:time )?constant"):
        return False
    apart = placed(
        q,
        (
            Role(
                "apart",
                "h|min",
                r"in(?: the)?(?: first| last| past)?|over(?: the)?(?: last| past)?|after|for",
                r"later|ago|after(?: that)?|since|apart|on",
            ),
        ),
    ).get("apart")
    clocks = [a for a in q.amounts if a.unit == "clock"]
    if apart is None and not q.has(_HOUR_APART) and len(clocks) != 2:
        return False
    # "lost 6 degrees" says what the two readings say.
    lost = q.every(r"\b(?:lost|dropped|fell|down) (?:about )?({temp}|{n})(?! to)")
    found = placed(q, (_FIRST, _LATER, _OUT, _TARGET), (*lost, *([] if apart is None else [apart])))
    if len(clocks) == 2:
        pair = q.find(r"({temp|F|C|n}) (?:\w+ ){0,2}at <clock>.*?({temp|F|C|n}) (?:\w+ ){0,2}at <clock>")
        if len(pair) == 2:
            found = {**placed(q, (_OUT, _TARGET), pair), "start": pair[0], "later": pair[1]}
    if not {"start", "later", "outside"} <= found.keys():
        return False
    wants_constant = q.has(_CONSTANT)
    if "target" not in found and not q.has(r"\bfreezing\b") and not wants_constant:
        return False
    if not found["start"].value > found["later"].value > found["outside"].value:
        return False
    for name in ("start", "later", "outside"):
        s.say(name, found[name], q.scale)
    _target(s, found)
    s.note(WORDED, by_words(q, *lost))
    between = clock_hours(*clocks) if len(clocks) == 2 else 1.0
    s.note("apart", between if apart is None else converted(apart.value, apart.unit, "h"), "h")
    if q.has(r"\b(?:from|since) (?:when|the time|the start|it quit|the heat)\b|\bin all\b|\baltogether\b"):
        s.note("ask", "in all")
    return True


def cooling(s: Sheet) -> Estimate | None:
    """The answer by what was told, or None when the profile's cabin is meant.

    Raises:
        Missing: an input was not said.
    """
    from cabassist.estimate import lumped

    if s.has("later") and not s.has("target"):
        s.note("target", s.number("outside") + (s.number("later") - s.number("outside")) / 2, s.inputs["outside"].unit)
        found = lumped.cooling_from_readings(
            s.amount("start"), s.amount("later"), s.amount("outside"), s.amount("apart"), s.amount("target")
        )
        constant = next(f for f in found.also if f.name == "time constant")
        s.inputs.pop("target")
        return replace(
            found,
            name=constant.name,
            value=constant.value,
            low=None,
            high=None,
            working=found.working[:1],
            verdict="",
            also=(),
        )
    if s.has("later"):
        found = lumped.cooling_from_readings(
            s.amount("start"), s.amount("later"), s.amount("outside"), s.amount("apart"), s.amount("target")
        )
        if found.value is None:
            return found
        whole = found.value + s.number("apart", "h")
        beside = figure("from the first reading", whole, "h")
        if s.text("ask") != "in all":
            return with_also(found, beside)
        line = f"{shown(found.value)} h + the {shown(s.number('apart', 'h'))} h before = {shown(whole)} h"
        from_now = figure("from now", found.value, "h")
        return replace(
            found, value=whole, low=None, high=None, working=(*found.working, line), also=(from_now, *found.also)
        )
    if not s.has("tau") and not s.q.has(_CONSTANT):
        return None
    s.need("tau", "How many hours is the time constant?", "h")
    s.need("start", "How warm is it inside?", "temp")
    s.outside()
    if s.has("needed"):
        found = lumped.temperature_with_constant(
            s.amount("start"), s.amount("outside"), s.amount("tau"), s.amount("needed")
        )
        if s.has("target") and found.value is not None:
            target = s.number("target", found.unit)
            found = with_verdict(
                found, f"{'Yes' if found.value >= target else 'No'}: {shown(target, 3)} °{found.unit} is asked."
            )
        return found
    if not s.has("target"):
        raise Missing("target", "Down to what temperature?", "temp")
    return lumped.hours_with_constant(s.amount("target"), s.amount("start"), s.amount("outside"), s.amount("tau"))
