"""How people get out when the door will not open: the ways out of the profile, and that how each opens is not in it.

"How do I work the hatch if the door's jammed" names a hatch and a jammed door, and is no matter of bay latches.
"""

from __future__ import annotations

from cabassist.dialogue import phrases, properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_TOPIC = "brief-passengers"
_HOW = Lazy(
    r"^(?:(?:so|and|hey|ok|well|um|if|in|say|suppose) )*.*\b(?:how (?:do|does|would|should|can|could|to)|where (?:do|does|would|can)|what(?:'s| is) the way|which way)\b"
)
_WAY_OUT = Lazy(
    r"\b(?:(?:roof|escape|emergency|ceiling) (?:hatch\w*|exit\w*|window\w*)|emergency (?:way )?out|(?:rear|back) (?:window|exit)|exits?|hatch|get (?:out|everyone out|everybody out|people out|them out|the \w+ out)|ways? out)\b"
)
_WRECKED = Lazy(
    r"\b(?:roll ?over|rolled over|rolls over|roll over|on (?:its|her|the) (?:side|roof)|tipped|tips|overturn\w*|upside down|crash\w*|wreck\w*|(?:front |entry |main |passenger )?door(?:'s| is| gets| was)? (?:\w+ )?(?:jammed|stuck|blocked|jams|sticks|won't open|crushed|bent)|(?:can't|cannot) (?:open|use|get out (?:of|by|through)) the (?:front |entry |main )?door)\b"
)
_BAY = Lazy(r"\b(?:bay|luggage|engine|compartment|locker)\b")


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The ways out, and what is not known of them; None for anything else."""
    said = plain(text)
    if (
        not names_any(said, ("hatch", "exit", "out", "window"))
        or not _WAY_OUT.search(said)
        or not _WRECKED.search(said)
    ):
        return None
    if not _HOW.match(said) or _BAY.search(said) or mind.hazards.find(text) is not None:
        return None
    ways = phrases.filled("ways {cabin.exits}", mind.facts).partition(" ")[2]
    line = (
        f"Ways out: {ways}. I do not have how each one opens: follow the label on it, and call the emergency services."
    )
    return properties.told(state, line, mind, topic=_TOPIC, said=text)
