"""A defect just logged, or one named by its number, taken back: "undo that, it's only a hair", "undo defect 2"."""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import defects, telling, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare
from cabassist.language.numbers import find_numbers, words_of
from cabassist.record.defects import Defect, all_defects, open_defects

_LEAD = r"^(?:(?:no|nope|nah|oh|wait|sorry|actually|hang on|hold on|ok|okay|and|well|oops|whoops|ah|hm+|please|can you|could you|you can|just|my mistake|my bad) )*"
_DROPS = r"(?:undo|scratch|cancel|delete|remove|erase|drop|scrap|withdraw|void|strike|strike out|strike off|cross out|cross off|ditch|bin|lose|forget|ignore|disregard|take back|take off|unlog|un-log)(?: about)?"
_BACK = r"(?: (?:back|off|out|again|(?:off|from) (?:the|my|your) (?:list|record|report|log)))*"
_IT = r"(?:that|it|this|that one|this one|(?:that|this|the)(?: last)? (?:defect|fault|entry|report|one|log|note)|the last)"
_WHY = r"(?: (?:because|cause|since|as))?(?: (?P<why>(?:it|it's|its|that|that's|they|they're|this|the|there's|there|i|i'm|i was|we|he|she|he's|she's|just|only|was|turns|turned|wrong|not|false|no|nothing|someone|somebody|my|on|looks|works|already|all|entered|logged|put|typed|noted|never|by|in error|mistake|error|duplicate)\b.*))?$"
_JUST_LOGGED = Lazy(_LEAD + rf"(?:{_DROPS} {_IT}{_BACK}|take {_IT}{_BACK}){_WHY}")
"""The entry just made is taken back, with the reason or without."""
_GIVEN_UP = Lazy(
    _LEAD
    + r"(?:never ?mind|forget (?:it|that|about it))(?: (?:the |that |this )?(?:defect|entry|report))? (?:it|that|this|they|the [\w' ]{2,30}?)(?:'s|'re| is| are| was| were| isn't| wasn't| does| do|s)? (?:just |only |all |actually |perfectly |still |really )*(?:(?:(?<=just )|(?<=only ))(?:(?:a|an|the|some|my|our) )?(?!(?:left|right|front|rear|bay|one|it)\b)[a-z]+(?: of [a-z]+| [a-z]+)?|a \w+(?: of \w+)?|fine|ok|okay|good|all right|alright|nothing|working|works|holds|tight|whole|sound|dirt|dirty|snow|ice|not (?:broken|cracked|torn|loose|bad|leaking)|my mistake)(?: (?:after all|now|again|really|fine))*$"
)
"""The same said as a second thought about what was logged."""
_NUMBERED = Lazy(
    _LEAD
    + rf"(?:{_DROPS}|take(?: back| off| out)?|get rid of) (?:the )?(?:(?:defect|fault|entry|report|item)(?: number| no)?|number) (?P<number>[a-z0-9-]+){_BACK}{_WHY}"
)
_ENTRY = Lazy(r"\b(?:defect|fault|entry|report)\b")
_FINE = Lazy(r"\b(?:just|only|fine|ok|okay|good|all right|nothing|not (?:broken|cracked|torn|loose|bad)|holds|works)\b")
_OF_READING = Lazy(r"\b(?:reading|level|number i|figure)\b")


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The defect taken back that is named by its number, or that was logged last and just spoken of; else None."""
    said = bare(text)
    if "?" in text or _OF_READING.search(said) or defects.SAYS_FIXED.search(said):
        return None
    numbered = _NUMBERED.match(said)
    if numbered is not None:
        return _by_number(state, numbered["number"], text, mind, now)
    if state.last is None or state.last.kind != "defect" or not state.undo:
        return None
    just, up = _JUST_LOGGED.match(said), _GIVEN_UP.match(said)
    if state.undo[-1].what == defects.LOGGED:
        return telling.undone(state, mind, now) if just or up else None
    still = open_defects(state.record)
    whole = up or (just and (_ENTRY.search(just[0]) or _FINE.search(just["why"] or "")))  # not only what was told since
    meant = next((defect for defect in still if defect.key == state.defect), None)
    return defects.withdrawn(state, meant, text, mind, now) if whole and meant is not None else None


def numbered(state: State, word: str) -> tuple[int, Defect | None] | None:
    """The number that a word tells, and the open defect that has it; None when the word tells no number or several."""
    found = find_numbers(words_of(word))
    if len(found) != 1:
        return None
    number = int(found[0].value)
    return number, next((defect for defect in open_defects(state.record) if defect.number == number), None)


def _by_number(state: State, word: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    told = numbered(state, word)
    if told is None:
        return None
    number, meant = told
    if meant is None:
        known = any(defect.number == number for defect in all_defects(state.record))
        line = f"Defect {number} is not open any more." if known else f"There is no defect {number} on record."
        return walking.control(state, line)
    return defects.withdrawn(state, meant, text, mind, now)
