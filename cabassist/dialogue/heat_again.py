"""How to get the heat back after the cylinder valves were shut: not after a leak; else open, smell, light.

To whoever asks for that, the way to shut the gas is the wrong answer: it turns off the heat that is asked for.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.coach import holds
from cabassist.dialogue import danger_first, phrases, valves_told, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_HEAT = r"(?:the |our |my )?(?:heat(?:ing|er|ers)?|furnaces?|warmth|warm air)"
_GAS = (
    r"(?:(?:the |our |my |both |all )*(?:(?:gas|propane|lp|cylinder|bottle) )?(?:gas|propane|valves|bottles|cylinders))"
)
_AGAIN = r"(?:back|on|again|going|running|up|open|lit|working)"
_HOW = r"(?:how (?:do|can|should|would|could|to)|can|could|may|should|when (?:can|may|do)|what do|is it (?:ok|okay|safe) to|what(?:'s| is) the (?:right )?way to|show me how to|help me)(?: (?:i|we))?(?: (?:now|just|safely))*(?: do to| to)?"
_ASKS_GAS = Lazy(
    rf"\b{_HOW} (?:open {_GAS}|(?:turn|put|get|switch|bring|have) (?:{_GAS} (?:back )?{_AGAIN}|(?:back )?on {_GAS}))\b"
)
_ASKS_HEAT = Lazy(
    rf"\b{_HOW} (?:(?:get|turn|put|bring|start|switch|have|light|relight|restart|run|set) (?:(?:back )?on )?{_HEAT}(?: {_AGAIN})*|(?:get|have) (?:it|them|us) warm)\b|\b(?:want|need) {_HEAT} (?:back|again|on)\b|\bno heat (?:now|any ?more)\b"
)
_CUES = ("heat", "furnace", "gas", "propane", "valve", "bottle", "cylinder", "warm")
_NOT = Lazy(
    r"\b(?:won't|doesn't|isn't|not|can't) (?:light|start|run|come on|open|turn)\b|\b(?:water heater|engine|diesel|refill|fill|swap|change ?over|second cylinder|empty)\b"
)


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What comes before heat, and then how; None when the valves are not told to be shut, or nothing of the kind is asked."""
    said = plain(text)
    if not names_any(said, _CUES) or danger_first.danger(state, mind) is not None or _NOT.search(said):
        return None
    opens = _ASKS_GAS.search(said)
    if not opens and not _ASKS_HEAT.search(said):
        return None
    valves = state.valves_shut
    if not opens and valves is None and not valves_told.in_words(text):
        return None
    if valves is not None and valves.leak:
        lines = [valves_told.note(valves, now), *valves_told.at_end(valves)[1:3]]
    else:
        lines = [
            "Was there a smell or a leak? Then they stay shut until a licensed propane technician has tested.",
            "Was work done on the gas? Test it first: say test a propane joint for leaks.",
            "If there was neither:",
            *(f"  {number}. {phrases.filled(step, mind.facts)}" for number, step in enumerate(_steps(mind), 1)),
            "Tell me when the valves are open.",
        ]
    walk = state.walk
    if walk is not None:
        lines.append(f"You are still at step {walk.number} of {len(walk.plan)}, {mind.knowledge.title(walk.topic)}.")
    say = " ".join(lines[:2])
    outcome = walking.control(replace(state, failures=0), say, lines=tuple(lines))
    return outcome._replace(reply=replace(outcome.reply, topic=walk.topic if walk is not None else "keep-cabin-warm"))


def _steps(mind: Mind) -> list[str]:
    """From the flashlight to the flame; the second cylinder where the coach has one."""
    steps = [
        "Leave the heat off at {cabin.thermostat_place}.",
        "Turn on the flashlight before you get near the gas. Go to {propane.shutoff_place}.",
        "Smell the air low down. A smell or hiss: walk away at once and tell me.",
        "Open the valve slowly by hand, one turn. Listen and smell. Then open it fully.",
    ]
    if holds("second-cylinder", mind.coach):
        steps.append("Open the second cylinder in the same way.")
    return [*steps, "Latch the locker. Set the heat. No flame? Say: a furnace will not light."]
