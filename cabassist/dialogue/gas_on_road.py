"""Whether the propane may stay on while the coach drives: "is it ok to leave the gas on down the highway".

The coach heats its passengers on the road, so the answer is no refusal, and which roads, ferries and pumps forbid it is told by those who
run them. A smell of gas and closing the cylinders are asked of elsewhere.
"""

from __future__ import annotations

from cabassist.dialogue import properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_GAS = r"(?:propane|gas|lp|furnaces?|(?:gas |propane |furnace )?(?:bottles?|cylinders?))"
_ON = r"(?:on|open|running|lit|going)"
_ROAD = r"(?:driv\w+|going down the (?:road|highway)|down the (?:road|highway)|on the (?:road|highway|move)|rolling|moving|under ?way|we roll|we drive|(?:go|travel|traveling|set off|leave|move|roll|be rolling|hit the road)(?= with| while| and (?:leave|keep|have))|travel\w*)"
_ASKED = Lazy(
    rf"^(?:(?:so|and|hey|ok|okay|well|but) )*(?:is it|it's|am i|are we|may (?:i|we|the|our)|can (?:i|we|the|our|they)|do (?:i|we) have to|should (?:i|we|the|our)|must (?:i|we)|does the|do the)\b.*(?:\b{_GAS}\b(?: \w+){{0,3}}? {_ON}\b.*\b{_ROAD}\b|\b{_ROAD}\b.*\b{_GAS}\b(?: \w+){{0,3}}? {_ON}\b|\bfurnaces? (?:run|be on|stay on|work)\b.*\b{_ROAD}\b|\b(?:turn|shut|close|switch|have) (?:off )?(?:the |our |both )?\b{_GAS}(?: off| closed| shut)? (?:to|before|when|while|for|every time) (?:i |we |you )?\b(?:drive|driving|the road|going|moving)\b)"
)
_OTHER = Lazy(r"\b(?:smell\w*|leak\w*|hiss\w*|stove|oven|galley|burner|level|gauge|how (?:long|much|many)|engine|generator|gasoline|diesel|locker|doors?|lid|loose\w*|strap\w*|unstrapped|lying|regulator|hose|window|vent|hatch|heaters? (?:on|in) the (?:seat|aisle|floor)|pumps?|fuel(?:ing|ling)?|refuel\w*|station|forecourt|fill\w*|garage|shop|barn|closed|shut)\b")  # fmt: skip
_BELOW = Lazy(
    rf"\b(?:{_GAS}|lpg)\b.*\b(?:ferry|ferries|tunnels?|boat|underpass)\b|\b(?:ferry|ferries|tunnels?|boat)\b.*\b(?:{_GAS}|lpg)\b"
)
_MAY = Lazy(
    r"^(?:(?:so|and|hey|ok|okay|well|but) )*(?:(?:is|are) (?:the |our )?(?:propane|gas|lpg|bottles?|cylinders?|propane \w+) (?:allowed|permitted|legal|banned|ok|okay)|(?:is it|are we) (?:allowed|permitted|legal|ok|okay)|(?:do|must|should) (?:i|we)\b|(?:do|does) (?:the |that |this |most )?(?:ferr\w+|tunnels?|boat)|what(?:'s| is| are) the (?:tunnel |ferry |propane )?rules?|which (?:ferr\w+|tunnels?))"
)
_CLOSED = "Furnaces off and cylinders closed before you drive in, unless its staff say otherwise. Many ferries and tunnels limit or forbid propane; each has rules of its own, so ask it first (common practice, no source)."
_HARM = Lazy(
    r"\b(?:get by|get past|trick|hide|hidden|guard|chance|check\w*|carry no|tell|grill|back on|after|out of|stay|smell\w*|leak\w*|hiss\w*|how (?:much|many|long)|diesel|gasoline|level)\b"
)
_LINE = "I know no rule against it on the open road: the furnaces keep the passengers warm. At fuel pumps furnaces off and cylinders closed. Tunnels and ferries have rules of their own: ask before you drive in. The carrier may forbid it (common practice, no source)."


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """Where the gas may stay on and where it is closed; None for anything else."""
    said = plain(text)
    if not names_any(said, ("propane", "gas", "furnace", "bottle", "cylinder", "lp")):
        return None
    if _BELOW.search(said) and _MAY.match(said) and not _HARM.search(said) and not mind.wishes.find(text):
        return properties.told(state, _CLOSED, mind, topic="shut-off-propane", said=text)
    if not _ASKED.match(said) or _OTHER.search(said):
        return None
    return properties.told(state, _LINE, mind, topic="shut-off-propane", said=text)
