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
_ROAD = r"(?:driv\w+|going down the (?:road|highway)|down the (?:road|highway)|on the (?:road|highway|move)|rolling|moving|under ?way|we roll|we drive)"
_ASKED = Lazy(
    rf"^(?:(?:so|and|hey|ok|okay|well|but) )*(?:is it|it's|am i|are we|may (?:i|we)|can (?:i|we|the|our|they)|do (?:i|we) have to|should (?:i|we|the|our)|must (?:i|we)|does the|do the)\b.*(?:\b{_GAS}\b(?: \w+){{0,3}}? {_ON}\b.*\b{_ROAD}\b|\b{_ROAD}\b.*\b{_GAS}\b(?: \w+){{0,3}}? {_ON}\b|\bfurnaces? run\b.*\b{_ROAD}\b)"
)
_OTHER = Lazy(r"\b(?:smell\w*|leak\w*|hiss\w*|stove|oven|galley|burner|level|gauge|how (?:long|much|many)|engine|generator|gasoline|diesel)\b")  # fmt: skip
_LINE = "I know no rule against it on the open road: the furnaces keep the passengers warm. At fuel pumps furnaces off and cylinders closed. Tunnels and ferries have rules of their own: ask before you drive in. The carrier may forbid it (common practice, no source)."


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """Where the gas may stay on and where it is closed; None for anything else."""
    said = plain(text)
    if not names_any(said, ("propane", "gas", "furnace", "bottle", "cylinder", "lp ")):
        return None
    if not _ASKED.match(said) or _OTHER.search(said):
        return None
    return properties.told(state, _LINE, mind, topic="shut-off-propane", said=text)
