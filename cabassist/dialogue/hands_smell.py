"""A smell of waste left on the hands or clothes after the dump: washed off, and no spill; what got into eyes, mouth or a cut is one."""

from __future__ import annotations

from cabassist.dialogue import danger_first, deciding, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_WASTE = (
    r"(?:sewage|sewer|waste|poop?|poo|shit|crap|dump|toilet|black water|tank|waste tank|the tank|the dump|the hose)"
)
_SMELL = r"(?:smell|smells|smelling|stink|stinks|stinking|reek|reeks|stench|odor|odour|whiff)"
_ON = r"(?:hands?|fingers?|gloves?|skin|arms?|sleeves?|jacket|clothes|clothing|coat|boots)"
_SAID = Lazy(
    rf"\b{_ON}\b(?: (?:still|really|now|all|just|do|kind of|sort of|a bit))* {_SMELL}\b(?: (?:of|like|from|after|bad|awful|the|that|of the))* ?{_WASTE}\b|\b{_SMELL} (?:of |like )?(?:the )?{_WASTE} (?:\w+ )?(?:on|off|from|out of) (?:my |the |our |his |her )?{_ON}\b|\b(?:get|wash|got|getting|clean) (?:rid of )?(?:the |this |that )?(?:{_WASTE} )?{_SMELL} (?:\w+ )?(?:off|out of|from|on) (?:my |the |our )?{_ON}\b|\b{_WASTE} {_SMELL} (?:\w+ ){{0,2}}(?:on|off|from|out of) (?:my |the |our )?{_ON}\b"
)
_MORE = Lazy(
    r"\b(?:spill\w*|splash\w*|splatter\w*|leak\w*|drip\w*|all over|covered|eyes?|mouth|face|cuts?|wound|bleed\w*|rotten|eggs?|gas|propane|exhaust|smoke|burn\w*|floor|ground|swallow\w*|sick|vomit\w*|ill|puddle|soaked|something|off the hose|stuff|wet|brown|is on)\b"
)
WASH = (
    "Wash your hands with soap and running water for 20 seconds, nails too, before you touch food, your face or the fresh hose. Gel alone does not do (CDC).",
    "Bag or disinfect the gloves, and change stained clothes. If waste got on a cut, in the eyes or mouth, or is spilled anywhere, tell me just that.",
)


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """How the smell comes off, with the walk in hand as it is; None for anything more than a smell on hands or clothes."""
    said = plain(text)
    if not names_any(said, ("smell", "stink", "reek", "stench", "odor", "odour", "whiff")):
        return None
    if danger_first.danger(state, mind) is not None or not _SAID.search(said) or _MORE.search(said):
        return None
    outcome = walking.control(state, " ".join(WASH), lines=WASH)
    return outcome._replace(reply=deciding.standing(outcome.reply, state, mind)) if state.walk is not None else outcome


__all__ = ["told"]
