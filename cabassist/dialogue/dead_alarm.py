"""A carbon monoxide alarm that is told dead, not sounding: nobody sleeps aboard, and what gives it life again.

It is no alarm that goes off, so nobody is sent out into the cold for it; but who feels ill, or an alarm that sounds as well, is a danger.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import danger_first, deciding
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.routing import Decision

WISH = "sleep-without-co-alarm"
_CUES = ("alarm", "detector")
_OF = r"(?:co|c o|carbon monoxide|monoxide)"
_DEAD = Lazy(
    rf"\b{_OF} (?:alarm|detector)(?:'s|s)?(?: (?:is|was|went|seems|looks|stays|appears|still|just|now|totally|completely|all|by the bunks|aboard|in here|here))* (?:dead|broken|blank|kaput|shot|bust(?:ed)?|expired|missing|not working|no good)\b"
    rf"|\b{_OF} (?:alarm|detector)(?:'s)? (?:(?:has|have|got|with) (?:no (?:light|battery|power)|(?:a )?dead batter(?:y|ies))|(?:batter(?:y|ies)|cell)(?:'s| is| are| went)? (?:dead|flat|gone|done)|(?:doesn't|does not|won't|isn't|is not|don't) (?:work\w*|light(?: up)?|test|come on|do anything|sound in the test|beep when (?:i|you) (?:test|press|push)))\b"
    rf"|\b(?:dead|broken|expired|no|without (?:a|an|the)|no working) {_OF} (?:alarm|detector)\b"
)
_SOUNDS = Lazy(
    r"\b(?:going off|goes off|went off|beep(?:s|ing|ed)|chirp\w*|scream\w*|sound(?:s|ed|ing)|ring\w*|shriek\w*|ppm|headaches?|dizzy|sick|sleepy|nausea\w*|throw\w*|vomit\w*|smell\w*|fumes?|faint\w*|passed out|wake|woozy|groggy|kill\w*|silen\w*|took|take|pull\w*|unplug\w*|cover\w*|tape\w*|hide|hiding|last (?:week|month|year)|yesterday|replaced|fixed|mended|new one in)\b"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The no to sleeping with an alarm that does not work, with what to do about it; None for anything else, and in a danger."""
    said = plain(text)
    if not names_any(said, _CUES) or not _DEAD.search(said) or _SOUNDS.search(said):
        return None
    if danger_first.danger(state, mind) is not None or mind.hurt.find(text) is not None:
        return None
    return deciding.answered(state, Decision("refuse", (), 1.0, WISH), text, mind, now)
