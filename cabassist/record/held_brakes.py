"""A brake told to hold the coach and not to let go: "the brake is stuck", "parking brake won't release".

The coach stands, so nobody is in its path; but it must not be moved before the brake has been looked at.
"""

from __future__ import annotations

from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_HELD = Lazy(
    r"\bbrakes?(?: knob)?(?:'s|'re| is| are)? (?:\w+ )?(?:stuck|frozen|seized|hung up|locked up|not (?:releasing|coming off|letting go))\b|\bbrakes? (?:just |still )?(?:won't|will not|doesn't|does not|don't|isn't|aren't) (?:\w+ )?(?:let(?:ting)? go|releas\w+|com\w+ off|budge|pop in|push in|go in)\b"
    r"|\bcan't (?:get|release|push) (?:the |my )?(?:parking )?brakes?(?: knob)? (?:off|to (?:let go|release|come off)|in)\b|\bstuck brakes?\b"
)
_MOVES = Lazy(
    r"\b(?:roll\w*|mov(?:es|ing|ed)|runaway|run away|down(?:hill)?|hill|grade|speed\w*|stop\w*|highway|road|driving|drove|skid\w*|slid\w*|throttle|accelerator|gas pedal|going|crash\w*|fast|floor|hold|fail\w*|gone|no brakes|smok\w*|hot|fire|burn\w*)\b"
)


_SUPPOSED = Lazy(r"\b(?:if|when|should|would|how|what|why|can i|could|until|before)\b")


def is_held(text: str) -> bool:
    """Whether a brake is told to hold the coach and not to let go, which is a fault and no runaway: "the brake is stuck"."""
    said = plain(text)
    if "brake" not in said or "?" in text or _SUPPOSED.search(said):
        return False
    return _HELD.search(said) is not None and not _MOVES.search(said)
