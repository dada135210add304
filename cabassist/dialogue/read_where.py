"""How a reading is taken at the step that asks for it: "how do I read that one", "where's the meter".

Told from the profile, in a line; where the profile names no meter that is said. The step stays, and waits for the reading as before.
"""

from __future__ import annotations

import re
from dataclasses import replace

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.procedures.model import Step

_LEAD = r"^(?:(?:so|and|but|ok|okay|hey|right|well|now|um|uh|wait|sorry|hang on|please) )*"
_THAT = r"(?:that|this|it|one|that one|this one|them|those|these|(?:the |that |this |its |their )?(?:gauge|meter|reading|number|level|pressure|voltage|volts|temperature|temp|needle|dial|display|figure|value|odometer|hour meter|air needles?|needles|thermometer)(?: on (?:it|that|this)(?: one)?)?)"
_HOW = Lazy(
    _LEAD
    + rf"(?:how (?:do|can|should|would|am) (?:i|we|you)(?: supposed to| meant to)? (?:read|get|see|take|check|measure|find|know|tell) {_THAT}|how(?:'s| is| does one) (?:{_THAT} )?(?:read|get read|taken)(?: {_THAT})?|how to (?:read|get|take|measure|find) {_THAT}"
    rf"|where (?:do|can|should|would) (?:i|we|you) (?:read|see|find|get|look|check|take)(?: for)? ?(?:{_THAT})?|where(?:'s| is| are|s) (?:the )?(?:gauge|meter|reading|number|needle|dial|display|needles|thermometer|odometer|hour meter)(?: for (?:that|it|this|this one))?|where (?:is|are) (?:that|it|this)(?: read| shown)?"
    rf"|what do (?:i|we) (?:read|use|measure|look at)(?: (?:it|that|this))?(?: (?:on|with|off|from|for that|for this|for it))*|(?:off|on|with|from) (?:what|which) (?:gauge|meter|dial|thing|instrument)?|(?:which|what) (?:gauge|meter|dial|needle|instrument|tool)(?: (?:is it|is that|do (?:i|we) (?:read|use|look at)))?|read it (?:where|how|off what|on what)|read (?:what|which))"
    r"(?: (?:then|again|exactly|please|now|here|at|off|from|on|for (?:that|this|it)|in the dark|properly|right))*$"
)
_READS = re.compile(r"^(?:Read|Give|Look at|Watch|Count|Tell)\b")


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """Where the reading of the step in hand is taken, and how; None away from a reading, and for anything else."""
    walk = state.walk
    if walk is None or walk.paused or state.pending is not None:
        return None
    if not names_any(plain(text), ("how", "where", "what", "which")):
        return None
    said = re.sub(r"[?!.,]+(?= |$)", "", plain(text)).strip()
    if not _HOW.match(said):
        return None
    step = _meant(walk, said, mind)
    if step is None or not step.reading:
        return None
    line = _how(step.reading, walking.cylinder_named(step.do, mind), mind)
    if not line:
        return None
    here = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    still = (
        f"Still at step {walk.number}: tell me the reading, or say can't see it."
        if step is here
        else f"Still at step {walk.number}."
    )
    outcome = walking.control(replace(state, failures=0), f"{line} {still}", lines=(line, still), topic=walk.topic)
    return outcome._replace(reply=replace(outcome.reply, step=phrases.mark(walk)))


def _meant(walk: Walk, said: str, mind: Mind) -> Step | None:
    """The step whose reading is meant: the one in hand, else the next that reads what is named; None where the words name another kind."""
    steps = mind.knowledge.procedure(walk.topic).steps
    kinds = next((kinds for words, kinds in _KINDS if words.search(said)), None)
    here = steps[walk.plan[walk.at]]
    if here.reading and _READS.match(here.do) and (kinds is None or here.reading in kinds):
        return here
    if here.reading and kinds is None or not _READING.search(said):
        return None
    ahead = (steps[index] for index in walk.plan[walk.at :])
    return next(
        (one for one in ahead if one.reading and _READS.match(one.do) and (kinds is None or one.reading in kinds)), None
    )


_READING = re.compile(
    r"\bhow (?:do|can|should|would) (?:i|we|you) (?:read|take|measure)\b|\b(?:gauge|meter|needles?|dial|odometer|thermometer)\b"
)
"""Away from a step that reads, only this is surely of a reading: "where do I find it" may be anything."""
_KINDS = (
    (re.compile(r"\b(?:pressure|psi)\b"), ("tire_pressure", "air_pressure")),
    (re.compile(r"\b(?:voltage|volts)\b"), ("house_battery", "shore_voltage")),
    (re.compile(r"\b(?:temp|temperature|thermometer)\b"), ("outside_temp", "inside_temp")),
    (re.compile(r"\b(?:air needles?|needles)\b"), ("air_pressure",)),
    (re.compile(r"\bodometer\b"), ("odometer",)),
    (re.compile(r"\bhour meter\b"), ("generator_hours",)),
    (re.compile(r"\blevel\b"), ("fresh", "waste", "propane", "diesel", "def")),
)


def _how(reading: str, role: str, mind: Mind) -> str:
    """Where and how a kind of reading is taken on this coach."""
    coach = mind.coach
    kit = {item.id: item.place for item in coach.kit}
    if reading == "propane":
        return _gauge(role, mind)
    if reading in ("fresh", "waste"):
        tank = coach.tank(reading)
        if tank.gauge:
            return f"Its gauge shows it. By eye: {tank.level_view_place}. Tell me the part that is full, or percent."
        return f"The tank has no gauge. Look at {tank.level_view_place} with a flashlight, where the water line stands, and tell me the part that is full."
    if reading == "house_battery":
        meter = f" A multimeter is here: {kit['multimeter']}." if "multimeter" in kit else ""
        return f"Read the volts at the battery's meter; the profile does not say where that is. The bank is in {coach.house_battery.place}.{meter} Set it to DC volts, red to plus, black to minus, with no load on for a while."
    if reading == "shore_voltage":
        return f"Read it on the coach's voltmeter or a plug-in one in an inside outlet; the profile names neither. That power is on shows at {coach.shore.confirm_place}. Put no bare probes into an outlet."
    if reading == "tire_pressure":
        gauge = f" It is here: {kit['tire-gauge']}." if "tire-gauge" in kit else ""
        return f"With the tire gauge.{gauge} Press it squarely on the valve until it stops hissing, stand beside the tread, and read psi."
    if reading == "outside_temp":
        return "On the dash display or a thermometer outside; the profile does not say where one is. A phone's weather for this place does as well."
    if reading == "inside_temp":
        return f"At the thermostat: {coach.cabin.thermostat_place}."
    if reading == "generator_hours":
        place = f", at {coach.generator.place}" if coach.generator is not None else ""
        return f"On the hour meter of the generator module{place}; the profile does not say on which face. No meter in sight: say can't see it."
    if reading == "air_pressure":
        return "On the two air needles on the dash, in psi. The lower one counts."
    if reading in ("diesel", "def", "odometer"):
        return "On the dash, with the ignition on." + (
            " Tell me the part that is full." if reading != "odometer" else ""
        )
    if reading == "passengers":
        return "Count heads, everyone aboard, and tell me the number."
    return f"On the CO alarm, if it has a display: {coach.cabin.co_alarm_place}." if reading == "co_ppm" else ""


def _gauge(role: str, mind: Mind) -> str:
    """The gauge of the cylinder that is named, or of those that feed."""
    cylinders = [one for one in mind.coach.propane.cylinders if (one.role == role if role else one.role != "spare")]
    bare = [one.role for one in cylinders if not one.gauge]
    places = "; ".join(f"{one.role} cylinder: {one.place}" for one in cylinders)
    if bare and len(bare) == len(cylinders):
        return (
            f"{places[:1].upper()}{places[1:]}. It has no gauge: weigh it, and take off its empty weight, the TW stamp."
        )
    return f"Its gauge sits on the cylinder, at the valve. {places[:1].upper()}{places[1:]}. Read the needle as a part of full or percent, by flashlight; no flame."


__all__ = ["asked"]
