"""Whether a voltage at the shore connection will do: "is 108 volts ok", and "is that enough" right after it was told.

A low voltage is the fault that nobody sees: the lights burn, and the motors of pumps, fans and chargers cook.
"""

from __future__ import annotations

import re

from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

LEAST, MOST = 110 / 120, 126 / 120
"""Shares of the rated voltage between which equipment is made to work: ANSI C84.1, utilization voltage, range A (from memory)."""
LIVE_V = 50.0
"""Below so many volts nothing is plugged in, or the reading is of a battery."""
SOURCE = "ANSI C84.1, utilization voltage, range A (from memory)"
LOW = "Low voltage harms motors: switch off heavy loads. If it stays low, unplug and use another outlet."
HIGH = "High voltage burns electronics: unplug the cord, and use another outlet."

_LEAD = r"^(?:(?:so|and|but|ok|okay|right|now|hey|well|um|uh|oh|hmm|wait) )*"
_WELL = r"(?:ok|okay|all right|alright|fine|good(?: enough)?|enough|normal|safe|right|usable|plenty|acceptable|sufficient|too (?:low|high|little|much)|low|high|bad|a problem)"
_JUDGED = Lazy(
    _LEAD
    + r"(?:(?:is|are|would|will) (?P<that>that|it|this)?(?: (?:reading|voltage|be))?(?P<volts> ?(?P<number>\d+(?:\.\d+)?) ?(?:v|volts?)(?: (?:ac|on the (?:meter|cord|post|pedestal)|at the (?:post|pedestal|outlet|plug|inlet)|shore(?: power)?|from the (?:wall|post|pedestal|outlet)))*)?"
    rf" (?:be )?{_WELL}|(?P<bare>\d+(?:\.\d+)?) ?(?:v|volts?)(?: (?:ac|at the (?:post|pedestal|outlet|plug|inlet)))?,? (?:is (?:that|it|this) )?{_WELL})"
    r"(?: (?:for (?:shore(?: power)?|us|the (?:coach|bus|furnaces?|charger|heaters?)|this|it)|to (?:run|use|plug in|connect|stay (?:on|plugged in))(?: (?:on|the \w+|everything|it))?|or (?:not|what|too \w+|low|high|bad)|then|do you think|here|now|at the (?:post|pedestal|outlet|plug)))*$"
)


def odd(volts: float, rated: float) -> str:
    """What to do about a shore voltage, in volts, that is too low or too high for the rated one; "" where it is well."""
    if not LIVE_V < volts < 2 * rated or LEAST * rated <= volts <= MOST * rated:
        return ""
    return LOW if volts < rated else HIGH


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The verdict on a voltage that is named, or was the last that was told; None for any other question."""
    found = _JUDGED.match(re.sub(r"[?!.]+$", "", plain(text)).strip())
    if found is None:
        return None
    rated, number = mind.coach.shore.volts, found["number"] or found["bare"]
    if number is None:
        told = state.told[0] if len(state.told) == 1 else None
        if not found["that"] or told is None or told.what != "shore_voltage" or told.value is None:
            return None
        volts = told.value
    else:
        volts = float(number)
    if not LIVE_V < volts < 2 * rated:
        return None
    least, most = LEAST * rated, MOST * rated
    span = f"{least:.0f} to {most:.0f} volts is what equipment for {rated:.0f} is made for"
    lines: tuple[str, ...]
    if wrong := odd(volts, rated):
        lines = (f"No: {volts:g} volts is too {'low' if volts < rated else 'high'}; {span}.", wrong)
    else:
        lines = (f"Yes: {volts:g} volts is good; {span}.",)
    walk = state.walk
    reply = Reply("control", " ".join(lines), (*lines, f"Source: {SOURCE}"), topic=walk.topic if walk else None)
    return Outcome(state, reply, ())
