"""Who is aboard: the words for people behind a number."""

from __future__ import annotations

import re

_PEOPLE = frozenset(
    "people persons person passengers passenger guys kids players riders aboard souls heads folks men women girls boys travelers"
    " travellers skaters bodies humans pax ppl peeps crew athletes teammates adults students occupants folk guests fellas lads sleepers coaches trainers staff chaperones parents".split()
)


_PEOPLE_PHRASES = (("on", "board"), ("of", "us"), ("of", "them"), ("on", "the", "coach"), ("on", "the", "bus"), ("with", "us"), ("hockey", "players"), ("breathing", "bodies"))  # fmt: skip


EACH = frozenset("person head passenger man guy kid player soul body capita rider individual human one member".split())


_RATED = frozenset("watt watts wats w amp amps a pound pounds lb lbs btu btus".split())
"""What one thing is told in before it is said how many there are."""
_OF_THE_RULES = frozenset("carrier carriers carrying rule rules hours limit limits driver drivers".split())


def of_us(texts: list[str], i: int, end: int) -> bool:
    """ "If we're thirty and each uses": who is aboard, though no word for people follows; "were" as a recogniser writes it."""
    said, after = texts[max(0, i - 3) : i], texts[end : end + 1]
    ours = said[-2:] == ["we", "are"] or said[-3:-1] == ["we", "'"] or (said[-1:] == ["were"] and said[-2:-1] in (["if"], ["when"], ["since"], ["because"], ["and"], ["now"], ["that"], ["so"], [","]))  # fmt: skip
    return ours and after in ([], ["and"], [","], ["."], ["with"], ["who"], ["each"], ["so"], ["using"], ["now"])


def people_at(texts: list[str], i: int, count: float) -> int:
    """The end of the words for so many people at a place, or 0."""
    if count == 1 and texts[i : i + 2] == ["of", "them"]:
        return 0  # "before one of them is done": of what was told before
    if (
        texts[i : i + 2] == ["of", "them"]
        and texts[max(0, i - 2) : i - 1] == [","]
        and _RATED & {*texts[max(0, i - 5) : i - 2]}
    ):
        return 0  # "a fan of 30 watts, three of them": things, of which one was told
    if (
        texts[i : i + 2] == ["of", "them"]
        and texts[i + 2 : i + 3]
        and re.match(r"driv|behind|was|were|off|rest|full|on|half|empty|spent", texts[i + 2])
    ):
        return 0
    if texts[i : i + 1] == ["passenger"] and texts[i + 1 : i + 2] and texts[i + 1] in _OF_THE_RULES:
        return 0  # "seventy in eight passenger carrier"
    for phrase in _PEOPLE_PHRASES:
        if tuple(texts[i : i + len(phrase)]) == phrase:
            return i + len(phrase)
    if texts[i : i + 1] and texts[i] in _PEOPLE:
        return i + 2 if texts[i + 1 : i + 2] == ["aboard"] else i + 1
    return 0
