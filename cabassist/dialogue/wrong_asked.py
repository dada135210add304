"""What is wrong with the coach, asked in any words: "so what's wrong with this bus", "what needs fixing", "what's the damage list".

What is open on record answers that. A thing by itself ("what's wrong with it") is no coach, and whoever tells a trouble in the same
breath is not answered by a list.
"""

from __future__ import annotations

from cabassist.dialogue import defects
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.record.defects import open_defects

MAX_WORDS = 13
_CUES = ("wrong", "broke", "busted", "matter", "trouble", "working", "fix", "damage", "write up", "writeup", "wrote up", "written up", "mend", "repair", "faulty", "up with", "acting up", "ails", "ailing", "messed")  # fmt: skip
_LEAD = r"^(?:(?:ok|okay|so|and|but|well|right|alright|now|hey|wait|hang on|oh|um|uh|again|remind me|tell me|just tell me|quick|then|before i (?:go|drive|leave|roll)) )*"
_COACH = r"(?:(?:the|this|that|my|our) (?:(?:old|whole|damn|poor) )?(?:bus|coach|rig|vehicle|unit|ride|motor ?home|girl|wagon|beast|truck)|her|board|here)"
_ON = rf"(?: (?:with|on|about|in|around|aboard))?(?: {_COACH})"
_OPEN = r"(?:broken|broke|busted|not working|out of order|faulty|defective|messed up|acting up|in need of (?:fixing|repair|mending)|needing (?:fixing|repair)|written up|wrote up|not right|not fixed|unfixed)"
_OF_COACH = Lazy(
    _LEAD
    + rf"(?:(?:what|which things?)(?:'s|s| is| all is| else is|'re| are| all's| else's)?(?: (?:all|still|currently|actually|it that's|there that's))* (?:wrong|the matter|the trouble|up|ailing|{_OPEN}){_ON}|what ails{_ON}|what(?:'s| is)? (?:\w+ )?(?:needs?|wants|left) (?:to be )?(?:fixing|fixed|mending|mended|repairing|repaired|repairs?|seeing to){_ON}"
    rf"|(?:is there |is |got |have (?:you|we) got |do (?:you|we) have )?(?:anything|something|much)(?: else)?(?: that's| that is)?(?: still| currently)? (?:wrong|the matter|up|{_OPEN}){_ON}|what (?:have|do|did) (?:you|we|i|they) (?:got |have |get |find )?(?:wrong|broken|broke|busted){_ON})(?: (?:now|right now|at the moment|again|today|tonight|then|that you know of|so far|already))*$"
)
"""Names the coach, so that it is asked for as a whole."""
_OF_LIST = Lazy(
    _LEAD
    + rf"(?:(?:what|which things?)(?:'s|s| is| all is| else is|'re| are)?(?: (?:all|still|currently))* {_OPEN}|what(?:'s| is| was)? (?:still )?(?:needs?|wants) (?:to be )?(?:fixing|fixed|mending|mended|repairing|repaired|repairs?|seeing to)|what else(?:'s| is) wrong"
    rf"|(?:what(?:'s|s| is|'re| are)|give me|read me|show me|run me through|tell me|how's) (?:the |all the |your |my |our )?(?:damage|damages|trouble|broken|repair|fix ?it|to fix) ?(?:list|report|sheet)|what(?:'s|s| is) the damage"
    rf"|(?:are there |have (?:you|we) got |do (?:you|we) have |got |is there |what|which|how many|give me the|read me the|list the|what are the|the )?(?:any |many )?(?:still )?(?:open |old |standing )?(?:write|wrote)[ -]?ups?(?: (?:are|do|have))?(?: (?:there|you|we))?(?: (?:still|got|have|open|left|outstanding|on record))*)(?: (?:on|around|aboard|with) (?:{_COACH}|(?:this|the) (?:old )?thing))?(?: (?:now|right now|at the moment|again|today|tonight|then|still|so far|yet))*$"
)
"""Asks for what is open without the coach's name; only where something is open does it mean that."""


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The open defects, when they are asked for; None for anything else."""
    said = plain(text)
    if state.pending is not None or len(said.split()) > MAX_WORDS or not names_any(said, _CUES):
        return None
    if _OF_COACH.match(said) or (open_defects(state.record) and _OF_LIST.match(said)):
        return defects.listed(state, mind)
    return None
