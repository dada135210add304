"""What may stand on the screen while the coach rolls: one line that one glance takes in.

A single look away from the road should last no more than 2 seconds, all looks of a task no more than 12 (NHTSA
visual-manual guidelines, 78 FR 24817, 2013). Typing and holding a phone are forbidden to the driver, stopped in traffic
included (49 CFR 392.80, 392.82); one press of a button in reach is not (390.5).
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cabassist.dialogue.types import Reply

GLANCE_S = 2.0
READ_WORDS_A_MINUTE = 180
"""An easy pace of reading, slower than the 240 or so of a book, as the line is read in parts. Common practice, no source."""
MAX_WORDS = int(GLANCE_S * READ_WORDS_A_MINUTE / 60)
ROLLING = "ROLLING: speak. F8 when parked."
UNHEARD = "ROLLING. F8 when parked."
"""The same where no microphone is on."""
LOCKED = "Typing is locked. F8 when parked."

STOP = "STOP:"
"""How the reasons begin for which the coach should not have been set rolling."""


def line_for(reply: Reply) -> str:
    """The one line for an answer given while rolling; what does not fit was spoken."""
    text = reply.say
    if reply.kind == "hazard":
        first = f"DANGER: {_first(text)}"
        return first if fits(first) else "DANGER: listen, and stop safely."
    if reply.kind == "refuse":
        return "NO. Listen for why."
    return text if fits(text) else _short(text)


def announced(text: str) -> str:
    """The one line for a timer that ran out."""
    return text if fits(text) else "A timer ended. Look when parked."


def fits(text: str) -> bool:
    """Whether one glance takes it in."""
    return 0 < len(text.split()) <= MAX_WORDS


def _first(text: str) -> str:
    return re.split(r"(?<=[.!?])\s", text, maxsplit=1)[0]


def _short(text: str) -> str:
    first = _first(text)
    return first if fits(first) else "Answered aloud. Look when parked."


__all__ = ["GLANCE_S", "LOCKED", "MAX_WORDS", "ROLLING", "STOP", "UNHEARD", "announced", "fits", "line_for"]
