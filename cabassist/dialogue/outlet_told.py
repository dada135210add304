"""An outlet or a plug told to be burned, melted, wet or broken: it is not used, however little it is.

Brown is plastic that was too hot once and gets hotter the next time. "A little brown, good enough" is asked with the plug in the
hand, so the answer is no and where else to plug in. What burns, sparks or bites now is a danger and no matter of this module.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, deciding, phrases, walking
from cabassist.dialogue.framing import without_interjection
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.routing import BOUNDS

MOST_WORDS = 26
_CUES = ("brown", "burn", "scorch", "melt", "char", "singe", "discolo", "black", "soot", "wet", "damp", "water", "ice", "snow", "crack", "broken", "split", "chipped", "loose", "yellow")  # fmt: skip
_OUTLET = Lazy(r"\b(?:(?:out|in)lets?|sockets?|receptacles?|(?:power )?pedestals?|hook ?ups?|power posts?|wall plug)\b")
_PLUG = Lazy(
    r"\b(?:(?<=the )|(?<=our )|(?<=my )|(?<=this )|(?<=that )|(?<=a )|(?<=its )|(?<=cord )|(?<=shore )|(?<=power ))plugs?\b|\b(?:prongs?|pins?|blades?|cord(?:'s)? ends?|connectors?|adapt[eo]rs?)\b"
)
_PART = Lazy(r"\b(?:slots?|holes?|face|face ?plate|cover|contacts?|one (?:side|corner|edge)|it|there)\b")
"""What is looked at in the step that looks at the outlet."""
_ALWAYS = Lazy(r"\b(?:waste|sewage|toilet|water|ice|snow|sink|bathroom|tank|engine|lights?|fuse|coffee|stove|oven) (?:outlets?|plugs?|pipe)\b|\b(?:spark|drain|oil|glow|freeze|heater) plugs?\b")  # fmt: skip
_OF_WASTE = Lazy(
    r"\b(?:waste|sewage|sewer|dump\w*|black ?water|gr[ae]y ?water|hose|toilet|tank|drain\w*|poo\w*|shit\w*|effluent)\b"
)
"""Sewage goes into an outlet, too."""
_ASKED = Lazy(
    r"\?|\b(?:ok|okay|fine|good enough|all right|alright|right|safe|matter|can i|can we|should i|should we|will it|is it|is that|use it|use this|plug (?:it |in)|anyway|still use)\b"
)
"""Away from the step that looks at it, what only tells of it may be a danger told: it is left to what knows those."""
_BURNED = Lazy(
    r"\b(?:brown(?:ish|ed|ing)?|burn(?:t|ed)|burn(?:ing)? marks?|scorch\w*|melted|charred|sing(?:ed|eing)|discolou?r\w*|sooty?|blackened|black (?:marks?|spots?|stains?|around|edges?|streaks?|soot)|(?:a bit |little |gone |turned |looks |is |all )black|yellowed|heat marks?)\b"
)
_WET = Lazy(
    r"\b(?:(?:wet|damp)(?! (?:gloves?|hands?|socks|boots|feet|fingers?|towels?|rags?|mitts?|shoes))|dripping|soaked|moist|(?:water|ice|snow|slush|frost) (?:\w+ )?(?:in|inside|on|around|under|behind))\b"
)
_BROKEN = Lazy(r"\b(?:crack(?:ed|s)?|broken|split|chipped|smashed|loose|wobbl\w+|hanging (?:off|out))\b")
_NOW = Lazy(
    r"\b(?:smok\w+|spark\w*|arc(?:s|ing)|glow\w*|melting|buzz\w*|crackl\w*|sizzl\w*|fizz\w*|hiss\w*|smell\w*|stinks?|flames?|fire|burn(?:ing|s)?(?! marks?)|start\w*|catch\w*|whack|ouch|tingl\w*|zap\w*|shock\w*|bit(?:es)?(?! (?:of|brown|black|burn\w*|scorch\w*|wet|damp|loose|melted|discolo\w*))|hot|too warm|puddle|under ?water|metal|copper|bare)\b"
)
_MELTED_LIVE = Lazy(
    r"\bmelted\b.*\b(?:live|plugged|connected|still|carrying|feeding|on)\b|\b(?:live|plugged|connected|still)\b.*\bmelted\b"
)
_NONE = Lazy(r"\b(?:no|not|never|without|any|\w+n't|isn't|if|what if|nothing|neither|zero)\b(?! (?:too|that|very|so|bad|much) )")  # fmt: skip
_MUCH = Lazy(
    r"\b(?:isn't|not|\w+n't) (?:too|that|very|so|really) (?:bad|much|wet|brown|burn\w*|big)\b|\b(?:isn't it|right|no big deal|not a problem)\b"
)
"""What makes little of it, and denies nothing."""
_IN = Lazy(
    r"\b(?:plugged in|plug is in|plug's in|hooked up|connected|on it now|using it|running on it|still (?:plugged )?in)\b"
)
_PAST = Lazy(
    r"\b(?:replaced|repaired|fixed|mended|changed|swapped|new one|signed off|yesterday|last (?:week|night|month|year|time)|on (?:mon|tues|wednes|thurs|fri|satur|sun)day|was (?:brown|burned|melted))\b"
)
"""It was seen to, or is told of another time."""
_LOG = Lazy(r"\b(?:log|note|write|defect|report)\b")
_LIVE = frozenset({"smoke-or-fire", "shock-from-coach-body"})
_WALKS = frozenset({"connect-shore-power", "no-shore-power"})


def _raised(text: str, mind: Mind) -> bool:
    """Whether a text by itself is taken for a danger."""
    return deciding.decided(text, mind.ranked(without_interjection(text)), None, mind).verdict == "hazard"


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The no to that outlet or plug, and what to use in its place; None for anything else, or where it is a danger now."""
    said = plain(text)
    if not names_any(said, _CUES) or len(said.split()) > MOST_WORDS or danger_first.danger(state, mind) is not None:
        return None
    in_walk = state.walk is not None and state.walk.topic in _WALKS
    outlet, plug = _OUTLET.search(said), _PLUG.search(said)
    if not (outlet or plug or (in_walk and _PART.search(said))) or _ALWAYS.search(said):
        return None
    if not in_walk and (_OF_WASTE.search(said) or (not _ASKED.search(text.lower()) and _raised(text, mind))):
        return None
    sign = _sign(said, burned_only=not (outlet or in_walk))
    if not sign or _NOW.search(said) or _MELTED_LIVE.search(said) or _LOG.search(said) or _PAST.search(said):
        return None
    judged = mind.judge(text)
    least = BOUNDS.judged_with_sign if _IN.search(said) else BOUNDS.judged_sure  # under load it may burn now
    if judged is not None and judged.danger >= (least if judged.worst in _LIVE else BOUNDS.judged_sure):
        return None  # also what has nothing to do with an outlet: "brown water is running out from under the coach"
    if mind.hazards.find(text) is not None or (_BURNED.search(said) and _OTHERS.search(said) and not in_walk):
        return None
    if _NONE.search(_MUCH.sub("", " ".join(text.lower().replace("\u2019", "'").split()))):
        return _well(state, said, mind, now) if _DENIES.search(text.lower()) else None
    of_plug = plug is not None and outlet is None
    lines = [f"WARNING: No. Do not use this {'plug' if of_plug else 'outlet'}, however little it is.", f"Why: {sign}"]
    if state.cord_in or _IN.search(said):
        lines.append("Is a plug in it now? Have the building's breaker switched off before you pull it.")
    lines.append(
        "Instead: Leave the cord stowed. A qualified electrician fits a new plug."
        if of_plug
        else "Instead: Ask the building's staff for another outlet. Tell them about this one."
    )
    walk = state.walk
    if walk is not None:
        again = " Look at the other outlet in the same way." if in_walk and not of_plug else ""
        lines.append(f"You are still at step {walk.number} of {len(walk.plan)}, {mind.knowledge.title(walk.topic)}.{again}")  # fmt: skip
    say = f"Warning. {lines[0].removeprefix('WARNING: ')} {sign}"
    reply = Reply(
        "refuse", say, tuple(lines), topic="connect-shore-power", step=phrases.mark(walk) if walk is not None else None
    )
    event = EventDraft("asked", {"said": text, "verdict": "refuse", "topics": ["connect-shore-power"], "confidence": 1.0})  # fmt: skip
    return Outcome(replace(state, failures=0), reply, (event,))


_DENIES = Lazy(
    r"\b(?:no|without|any|isn't|is not|not|don't see any|can't see any) (?:\w+ )?(?:brown|burn\w*|scorch\w*|melted|black|soot|wet|damp|water|ice|crack\w*|broken|loose)\b(?!.*\b(?:but|except|only|though)\b)"
)
_LOOKS = Lazy(r"^Look at the outlet\b")


def _well(state: State, said: str, mind: Mind, now: datetime) -> Outcome | None:
    """What follows when the marks are denied: the step that looks for them is done, elsewhere it is acknowledged."""
    walk = state.walk
    if "?" in said or re.match(r"(?:if|what|is|are|has|does)\b", said):
        return None
    if walk is None:
        return walking.control(replace(state, failures=0), "Good. Say what you need next.")
    if _LOOKS.match(phrases.step_of(mind.knowledge.procedure(walk.topic), walk).do):
        return walking.told_done(state, said, mind, now)
    return walking.control(replace(state, failures=0), f"Good. Still at step {walk.number}. Say next when it is done.")


_OTHERS = Lazy(
    r"\b(?:water|waste|sewage|tap|faucet|vents?|furnaces?|exhaust|drain|hose|tanks?|air|heater (?:out|in)let)\b"
)
"""Outlets of something else than power, where brown is something else than burned."""


def _sign(said: str, *, burned_only: bool) -> str:
    """What is wrong with it, in a sentence; nothing for nothing."""
    if _BURNED.search(said):
        return "Brown, black or melted means that it got too hot. Under load it gets hotter, and can burn."
    if burned_only:
        return ""
    if _WET.search(said):
        return "Water in an outlet can shock you."
    return "A broken or loose outlet arcs and can shock you." if _BROKEN.search(said) else ""
