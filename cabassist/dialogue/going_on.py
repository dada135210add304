"""A few words that change the sum just answered, read by the network where the words alone do not tell which amount is meant."""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import following, reckoning, until_level
from cabassist.dialogue.building import in_words
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain

MOST_WORDS = 14
SURE = 0.6
"""How likely the change must be to be told."""

_ADDS = Lazy(
    r"\b(?:plus|another|extra|additional|further|add|adds|added|on top|of (?:those|them|that|these))\b|\bmore\b(?! like)"
)
"""Adds to what was told, or takes a part of it, in place of changing it."""
_TELLS = Lazy(
    r"^(?:(?:and|so|oh|hey|but|well|now|uh|um|also|look) )*(?:there(?:'s|s| is| are|'re| was| were)|i (?:see|saw|found|left|lost)|we (?:found|left|lost)|somebody|someone|one of|some(?: of)?|here(?:'s| is| are)) (?!only|just)(?:\w+ ){0,3}?\w+ (?!(?:instead|now|today|then|aboard)$)\w+ \w+ \w+.*$"
)
"""Tells what there is to see, at some length, and changes no sum: "there's two bags stacked against the door"."""
_SOMEBODY = Lazy(r"\b(?:partner|co driver|codriver|other driver|relief driver|he|she|him|his|her|hers)\b")
"""Two drivers have hours of their own, and a change must not be made in the other's."""


def gone_on(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last sum with what was said changed in it, or None."""
    last = state.worked
    if last is None or last.estimate is None or state.pending is not None or state.last is None:
        return None
    if state.last.kind not in ("calculation", "control", "clarify") or len(text.split()) > MOST_WORDS:
        return None
    said = bare(text)
    if _TELLS.match(said) and "?" not in text:
        return None
    if until_level.ends_at(plain(text)) and last.calculation in until_level.ENDED:
        return None  # a level to end at must not be taken for the level now
    if not state.question or not following.AMOUNT.search(said) or _ADDS.search(said):
        return None
    if _SOMEBODY.search(bare(f"{state.question} {said} {state.last.say}")):
        return None
    if (network := mind.role_network) is None:
        return None
    from cabassist.sums.going_on import gone_on as changed
    from cabassist.sums.working import CALCULATIONS, Worked

    for before in (state.question, *(f"{told}, {state.question}" for told in _levels(state))):
        made = changed(before, last.estimate, text, network=network, coach=mind.coach, now=now, least=SURE)
        topic = CALCULATIONS[made.found.calculation][0] if made is not None else None
        if made is None or topic != last.topic:
            continue
        found = made.found
        worked = Worked(found.calculation, topic, found.estimate, whole=True, taken=found.roles)
        return reckoning.answer(state, worked, made.question, ranking, mind)
    return None


def _levels(state: State) -> list[str]:
    """The latest reading of each supply in words, the latest first: a question may have left its level to them."""
    latest = {one.reading.what: one.reading for one in state.stored if one.reading.value is not None}
    return [in_words(reading) for reading in reversed(latest.values())]
