"""The last sum with another level supposed in it: "and if the tank was full", "and with only half a cylinder".

Such a level is no reading, however much it sounds like one: stored, it would wipe out what was read off the gauge.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import following, put_plainly, reckoning, telling, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_CUES = ("full", "empty", "half", "third", "quarter", "fourth", "fifth", "eighth")
_PART = r"(?:(?:a |an |one |two |three |four |five |six |seven )?(?:half|thirds?|quarters?|fourths?|fifths?|eighths?)|full|empty)"
_SUPPOSES = Lazy(
    r"^(?:(?:and|so|but|ok|okay|then|now|well|what|how about|what about|right|alright|fine|or|just|also) )*(?:if|with|say|suppose|supposing|imagine|pretend|had|let's say|what about|how about|on|starting (?:with|from|at)|start (?:with|from|at))"
    r"(?P<of>(?: (?:the|it|it's|that|that's|we|we're|they|she|she's|i|i'd|you|my|our|this|tank|tank's|fresh|fresh's|water|waste|black|sewage|cylinder|cylinder's|bottle|bottle's|propane|gas|was|were|is|had|have|got|only|just|a|an|started|start|starts|at|with|left|about|of|in|been|be|came|already|completely|all|to|really|one|each|both|inside|outside))*)"
    rf" (?P<level>{_PART})(?P<more>(?: (?:a|of|tank|tanks|cylinder|bottle|the|one|full|left|in|it|there|instead|water|fresh|waste|propane|then|to|start|begin|with|though|when|we|again|inside|now))*)$"
)
_OF = {
    "fresh-hours": ("fresh", frozenset({"fresh", "water", "tank"})),
    "waste-hours": ("waste", frozenset({"waste", "black", "sewage", "tank"})),
    "propane-hours": ("propane", frozenset({"propane", "gas", "cylinder", "bottle", "tank"})),
}
_NOUNS = frozenset({"fresh", "water", "waste", "black", "sewage", "propane", "gas", "cylinder", "bottle", "tank"})
_LEFT = frozenset({"left", "in"})
_FULLNESS = frozenset({"full", "empty"})


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The last sum with that level in it; None where none is supposed, or the sum is about no level of that kind."""
    said = plain(text)
    worked = reckoning.standing(state)
    if worked is None or worked.calculation not in _OF or not names_any(said, _CUES):
        return None
    found = _SUPPOSES.match(said)
    if found is None or state.last is None or state.last.kind not in ("calculation", "control", "clarify"):
        return None
    what, nouns = _OF[worked.calculation]
    words = {word.removesuffix("'s") for word in (found["of"] + found["more"]).split()}
    named = words & _NOUNS
    if named - nouns:  # not as a question back, which would be looked for in the sum by other ways
        return walking.control(state, "The last number was of another supply. Ask that with all its numbers.")
    if what == "propane" and not named and found["level"] not in _FULLNESS and not words & _LEFT:
        return None  # "if it was half", of a furnace that runs half the time
    heard = mind.readings_in(f"{'inside cylinder' if what == 'propane' else what} {found['level']}")
    if len(heard.readings) != 1 or (share := telling.level_of(heard.readings[0], mind.coach)) is None:
        return None
    if share <= 0 and what != "waste":
        return walking.control(state, "Then nothing is left of it.", topic=worked.topic)
    inputs = {one.name: one.value for one in worked.inputs if not isinstance(one.value, str)}
    sizes = {one.nominal_lb for one in mind.coach.propane.cylinders}
    question = _question(what, share, inputs, max(sizes) if len(sizes) == 1 else 0.0)
    told = put_plainly.worked_for(state, question, worked.calculation, mind, now) if question else None
    return told or following.not_placed(state, mind)


def _question(what: str, share: float, inputs: dict[str, float], most: float) -> str:
    """The question with the level in it and everything else as it was; nothing where something of it is not known."""
    if what == "propane":
        bottle, rate = inputs.get("size", most), inputs.get("input")  # the bottle that was told, else the coach's
        if not bottle or rate is None:
            return ""
        each = rate * inputs.get("duty", 1.0) * inputs.get("furnaces", 1.0)
        return f"how long does {share * bottle:g} pounds of propane last at {each:g} BTU an hour"
    people, use, size = inputs.get("people"), inputs.get(f"{what}_use"), inputs.get(f"{what}_capacity")
    if people is None or use is None or size is None:
        return ""
    if what == "waste":
        return f"waste tank at {100 * share:g} percent, {people:g} people at {use:g} gallons each a day, how long until it is full"
    return f"how long do {share * size:g} gallons of fresh water last {people:g} people at {use:g} gallons each a day"
