"""Whether what was read will do: "is 108 volts ok", and "is that enough" right after a voltage, a pressure or a level was told.

A low shore voltage is the fault that nobody sees: the lights burn, and the motors of pumps, fans and chargers cook. A level is good
for so long; a pressure is held against what belongs there.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Reading

LEAST, MOST = 110 / 120, 126 / 120
"""Shares of the rated voltage between which equipment is made to work: ANSI C84.1, utilization voltage, range A (from memory)."""
LIVE_V = 50.0
"""Below so many volts nothing is plugged in, or the reading is of a battery."""
SOURCE = "ANSI C84.1, utilization voltage, range A (from memory)"
LOW = "Low voltage harms motors: switch off heavy loads. If it stays low, unplug and use another outlet."
HIGH = "High voltage burns electronics: unplug the cord, and use another outlet."
AIR_WARNING_PSI, AIR_IN_PSI = 60.0, 100.0
"""Where the low-air warning comes at the latest, and where the governor lets the compressor in: CDL manual, section 5."""
AIR_SOURCE = "commercial driver's manual, section 5: warning before 60 psi, governor about 100 to 125; 49 CFR 393.51"
_LEVELS = ("fresh", "waste", "propane", "diesel", "def")

_LEAD = r"^(?:(?:so|and|but|ok|okay|right|now|hey|well|um|uh|oh|hmm|wait) )*"
_WELL = r"(?:ok|okay|all right|alright|fine|good(?: enough)?|enough|normal|safe|right|usable|plenty|acceptable|sufficient|too (?:low|high|little|much)|low|high|bad|a problem|a worry)"
_JUDGED = Lazy(
    _LEAD
    + r"(?:(?:is|are|would|will) (?P<that>that|it|this)?(?: (?:reading|voltage|pressure|level|be))?(?P<volts> ?(?P<number>\d+(?:\.\d+)?) ?(?:v|volts?)(?: (?:ac|on the (?:meter|cord|post|pedestal)|at the (?:post|pedestal|outlet|plug|inlet)|shore(?: power)?|from the (?:wall|post|pedestal|outlet)))*)?"
    rf" (?:be )?{_WELL}|will (?P<does>that|it|this) do|(?P<bare>\d+(?:\.\d+)?) ?(?:v|volts?)(?: (?:ac|at the (?:post|pedestal|outlet|plug|inlet)))?,? (?:is (?:that|it|this) )?{_WELL})"
    r"(?: (?:for (?:shore(?: power)?|us|the (?:coach|bus|furnaces?|charger|heaters?)|this|it|now|tonight)|to (?:run|use|plug in|connect|drive|go|stay (?:on|plugged in))(?: (?:on|with|the \w+|everything|it))?|or (?:not|what|too \w+|low|high|bad)|then|do you think|here|now|at the (?:post|pedestal|outlet|plug)))*$"
)


def odd(volts: float, rated: float) -> str:
    """What to do about a shore voltage, in volts, that is too low or too high for the rated one; "" where it is well."""
    if not LIVE_V < volts < 2 * rated or LEAST * rated <= volts <= MOST * rated:
        return ""
    return LOW if volts < rated else HIGH


def _found(text: str) -> re.Match[str] | None:
    return _JUDGED.match(re.sub(r"[?!.]+$", "", plain(text)).strip())


def _of_last(found: re.Match[str], state: State) -> Reading | None:
    """The one reading told last, where "that" is all that the question names."""
    if found["number"] or found["bare"] or not (found["that"] or found["does"]):
        return None
    told = state.told[0] if len(state.told) == 1 else None
    fresh = state.last is not None and state.last.kind in ("reading", "control") and told in state.last.readings
    return told if fresh and told is not None and told.value is not None else None


def spelled(state: State, text: str) -> str:
    """The text with the battery's voltage in it, where "is that ok" follows it: its charge is worked out from that."""
    found = _found(text)
    told = _of_last(found, state) if found is not None else None
    if told is None or told.what != "house_battery" or told.unit != "V":
        return text
    return f"is {told.value:g} volts ok"


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The verdict on a voltage that is named, or on what was told last; None for any other question."""
    found = _found(text)
    if found is None:
        return None
    number, told = found["number"] or found["bare"], _of_last(found, state)
    rated = mind.coach.shore.volts
    lines: tuple[str, ...] = ()
    if number is not None:
        lines = _volts(float(number), rated)
    elif told is not None and told.value is not None:
        if told.what == "shore_voltage":
            lines = _volts(told.value, rated)
        elif told.what == "air_pressure":
            lines = _air(told.value)
        elif told.what == "tire_pressure" and told.unit in (None, "psi"):
            lines = _tire(told.value, told.which or "", mind.coach)
        elif told.what in _LEVELS:
            return _lasts(told.what, state, mind, now)
    if not lines:
        return None
    walk = state.walk
    return Outcome(state, Reply("control", " ".join(lines[:2]), lines, topic=walk.topic if walk else None), ())


def _volts(volts: float, rated: float) -> tuple[str, ...]:
    if not LIVE_V < volts < 2 * rated:
        return ()
    span = f"{LEAST * rated:.0f} to {MOST * rated:.0f} volts is what equipment for {rated:.0f} is made for"
    if wrong := odd(volts, rated):
        return (f"No: {volts:g} volts is too {'low' if volts < rated else 'high'}; {span}.", wrong, f"Source: {SOURCE}")
    return (f"Yes: {volts:g} volts is good; {span}.", f"Source: {SOURCE}")


def _air(psi: float) -> tuple[str, ...]:
    if psi >= AIR_IN_PSI:
        words = f"Yes: {psi:g} psi; the governor keeps it between about 100 and 125."
    elif psi >= AIR_WARNING_PSI:
        words = f"Not yet: {psi:g} psi. Let it build above {AIR_IN_PSI:g} before you roll."
    else:
        words = f"No: {psi:g} psi is below {AIR_WARNING_PSI:g}, where the warning comes. Do not move; find out why."
    return (words, f"Source: {AIR_SOURCE}")


def _tire(psi: float, which: str, coach: Coach) -> tuple[str, ...]:
    """Held against the cold pressure of the profile, front and rear where it is not said which tire."""
    wheels = coach.wheels
    ends = {"front": wheels.front_psi, "rear": wheels.rear_psi}
    of = {end: due for end, due in ends.items() if not which or end in which} or ends
    short = {end: due - psi for end, due in of.items() if psi < due}
    due_words = ", ".join(f"{due:g} {end}" for end, due in of.items())
    if not short:
        return (f"Yes: {psi:g} psi is what belongs there or more (cold: {due_words}).", "Source: the coach's profile")
    by = ", ".join(f"{off:g} below the {ends[end]:g} of a cold {end} tire" for end, off in short.items())
    return (f"No: {psi:g} psi is {by}. Say: check the tires.", "Source: the coach's profile")


def _lasts(what: str, state: State, mind: Mind, now: datetime) -> Outcome | None:
    """How long it lasts, which is for the driver to hold against the plan."""
    from cabassist.dialogue import deadlines

    line = deadlines.answering(what, state, mind, now)
    if line is None:
        return None
    words = deadlines.sentence(line)
    topic = state.walk.topic if state.walk else None
    reply = Reply("calculation", words, (words,), topic=topic, confidence=1.0, estimate=line.estimate)
    return Outcome(replace(state, worked=deadlines.as_worked(line, state)), reply, ())
