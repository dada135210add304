"""A light that a step looks for is told to be dark: what that means, and the procedure for it is offered. The step stays.

A dark light is no defect by itself and no lamp that is out: it says that what it stands for has no power.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.step_asked import IN_PASSING, offering
from cabassist.dialogue.types import Asking, Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare

_STANDS_FOR = (
    ("heat tape", "check-heat-tape", "Then the heat tape has no power, and the waste can freeze."),
    ("pilot light", "no-shore-power", "Then the plug has no power."),
)
"""What a step's light stands for, by its words; the procedure for it when it is dark; what that means."""
_DARK = Lazy(
    r"^(?:(?:no|ok|okay|so|and|but|well|hm+|oh|uh|um|hey|the|that|its|my|there's|there is|i see|i've got|i can see|it says) )*(?:(?:red|pilot|little|small|indicator|tape|plug|heat tape) )*(?:(?:lights?|lamps?|led|indicator|it|it's|one)(?:'s| is)?(?: (?:still|just|completely|all))* (?:not|isn't|aren't|ain't|is not|doesn't|won't) (?:on|lit|glowing|showing|light(?:ing)?(?: up)?|come on|working)|(?:lights?|lamps?|led|indicator|it|it's|one)(?:'s| is)(?: (?:still|just|completely|all))* (?:dark|out|off|dead|black|unlit)|(?:no|not any|not a) (?:red |pilot )?(?:light|lamp|glow|led)(?: (?:at all|there|on|showing|anywhere|in it))*|(?:it's |it is )?(?:dark|unlit|not lit|no light at all|nothing lit))(?: (?:now|though|at all|here|either|tonight|there))*$"
)


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
