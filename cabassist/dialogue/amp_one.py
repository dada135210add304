"""A breaker that is only called "one" where breakers are spoken of: "it's a twenty amp one, what can I pull for hours"."""

from __future__ import annotations

import re

from cabassist.dialogue.types import State
from cabassist.language.lazy import Lazy

_ONE = Lazy(r"\b(?P<amps>(?:\d{2}|ten|fifteen|twenty|thirty|forty|fifty)(?: |-)?(?:amps?|a)) one\b", re.IGNORECASE)
_TOPICS = frozenset({"shore-breaker-trips", "connect-shore-power", "disconnect-shore-power"})


def spoken_out(state: State, text: str) -> str:
    """The text with the breaker named, in a walk or after an answer about shore power; else as it is."""
    topic = state.walk.topic if state.walk is not None else state.topic
    return _ONE.sub(r"\g<amps> breaker", text) if topic in _TOPICS and " one" in text.lower() else text
