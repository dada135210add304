"""A light that a step looks for is told to be dark: what that means, and the procedure for it is offered. The step stays.

A dark light is no defect by itself and no lamp that is out: it says that what it stands for has no power.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.step_asked import IN_PASSING, offering
from cabassist.dialogue.types import Asking, Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare

_STANDS_FOR = (
    ("heat tape", "check-heat-tape", "Then the heat tape has no power, and the waste can freeze."),
    ("pilot light", "no-shore-power", "Then the plug has no power."),
)
"""What a step's light stands for, by its words; the procedure for it when it is dark; what that means."""
_IS = {
    "heat tape": "It is the heat tape's pilot light. Lit, the tape has power, whatever its color; that is good. Dark in the cold, the tape needs a look.",
    "pilot light": "It is the pilot light of the plug. Lit, the plug has power. Dark, it has none.",
}
_ASKS_OF = Lazy(
    r"^(?:(?:so|and|ok|okay|wait|hey|but|um|uh|hm+|sorry) )*(?:what(?:'s|s| is| does| do you mean by| are)?|which|why(?:'s| is)?|is|should|shouldn't|isn't|explain|tell me about) (?:(?:there|it|a|an|the|that|this|with|about) )*(?:(?:red|green|amber|little|small|pilot|indicator|heat tape|tape) )*(?:lights?|lamp|led)\b"
    r"(?: (?:for|of|mean|means|about|on|supposed to be|lit|good|bad|ok|okay|a (?:bad|good) (?:sign|thing)|be|red|that|a|problem|warning|normal|fine|or|do|tell me|there|be on|here|in the window|by the latch))*$"
)
_DARK = Lazy(
    r"^(?:(?:no|ok|okay|so|and|but|well|hm+|oh|uh|um|hey|the|that|its|my|there's|there is|i see|i've got|i can see|it says) )*(?:(?:red|pilot|little|small|indicator|tape|plug|heat tape) )*(?:(?:lights?|lamps?|led|indicator|it|it's|one)(?:'s| is)?(?: (?:still|just|completely|all))* (?:not|isn't|aren't|ain't|is not|doesn't|won't) (?:on|lit|glowing|showing|light(?:ing)?(?: up)?|come on|working)|(?:lights?|lamps?|led|indicator|it|it's|one)(?:'s| is)(?: (?:still|just|completely|all))* (?:dark|out|off|dead|black|unlit)|(?:no|not any|not a) (?:red |pilot )?(?:light|lamp|glow|led)(?: (?:at all|there|on|showing|anywhere|in it))*|(?:it's |it is )?(?:dark|unlit|not lit|no light at all|nothing lit))(?: (?:now|though|at all|here|either|tonight|there))*$"
)


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """What the light is that the step in hand looks for, in one line; None for anything else."""
    walk = state.walk
    if walk is None or walk.paused or not names_any(text.lower(), ("light", "lamp", "led")):
        return None
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    do = phrases.filled(step.do, mind.facts)
    found = next((row for row in _STANDS_FOR if row[0] in do.lower()), None)
    if found is None or not do.startswith("Look") or not _ASKS_OF.match(bare(text)):
        return None
    line, still = _IS[found[0]], f"Still at step {walk.number} of {len(walk.plan)}: {do}"
    return walking.control(replace(state, failures=0), f"{line} {still}", topic=walk.topic, lines=(line, still))


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """What a dark light means in the step that looks for it, with the procedure offered; None for anything else."""
    walk = state.walk
    if walk is None or "?" in text or _DARK.match(bare(text)) is None:
        return None
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    do = phrases.filled(step.do, mind.facts)
    found = next((row for row in _STANDS_FOR if row[0] in do.lower()), None)
    if found is None or found[1] == walk.topic or found[1] not in mind.knowledge.ids or not do.startswith("Look"):
        return None
    _, topic, means = found
    lines = offering(means, topic, walk, mind)
    outcome = walking.control(replace(state, failures=0), " ".join(lines), topic=walk.topic, lines=lines)
    asking = Asking("choice", (topic,), said=IN_PASSING)
    return outcome._replace(
        state=replace(outcome.state, asking=asking), reply=replace(outcome.reply, options=(topic,), nearest=(topic,))
    )
