"""A danger cried out in one word: "gas!", "propane!!", "shock!", "help!".

One word has no sentence around it that tells a danger from a thing asked about. Cried out, or said twice, it is taken for the danger;
said plainly it is asked about first. Who cries for help is asked what it is, with what holds in any danger.
"""

from __future__ import annotations

import re

from cabassist.dialogue import walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.routing import Decision

_CRIES = {
    "propane-smell": frozenset({"gas", "propane", "lpg"}),
    "clean-up-waste-spill": frozenset({"sewage", "poop", "poo", "spill"}),
    "shock-from-coach-body": frozenset({"shock", "shocks", "zap", "zapped", "tingle"}),
    "carbon-monoxide-alarm": frozenset({"co", "monoxide"}),
}
"""The danger that each word is cried for; smoke and fire are signs by themselves."""
_ASKED = frozenset({"gas", "shock", "spill", "tingle", "monoxide"})
"""Words that are asked about when they are said plainly."""
_HELP = Lazy(
    r"^(?:please )?(?:help(?: (?:me|us))?|emergency|may ?day|sos)(?: (?:help|please|emergency|now|quick|may ?day))*$"
)
_CRIED = re.compile(r"!\s*$")
_LINES = (
    "Say what is wrong: gas, smoke, fire, alarm, shock, sewage, brakes, or somebody hurt.",
    "In any danger: stop, get everyone out and away, and call the emergency services.",
)


def danger(text: str, mind: Mind) -> Decision | None:
    """The danger that is cried out, or asked about where its word is said plainly; None for anything longer."""
    words = plain(text).split()
    if not 0 < len(words) <= MOST_WORDS or len(set(words)) > 1:
        return None
    found = next((name for name, cries in _CRIES.items() if words[0] in cries), None)
    if found is None or found not in mind.knowledge.hazards:
        return None
    if _CRIED.search(text) or len(words) > 1:
        return Decision("hazard", (found,), 0.9)
    if words[0] not in _ASKED:
        return None
    near = [name for name, _ in mind.ranked(text).procedures if name not in mind.knowledge.hazards]
    return Decision("clarify", (found, *near[:2]), 0.5)


MOST_WORDS = 4


def help_cried(state: State, text: str) -> Outcome | None:
    """What to say, and what holds in any danger; None unless help is cried for."""
    said = plain(text)
    if not _HELP.match(said) or (said == "help" and not _CRIED.search(text)):
        return None
    return walking.control(state, " ".join(_LINES), lines=_LINES)
