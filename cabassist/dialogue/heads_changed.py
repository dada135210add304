"""People who came or went, and how many there are now: "we picked up two more, thirty now". A head count, whatever was told before.

The number at the end names nothing, and right after a level it would be taken for that level told anew: the waste would fall to
30 percent, and the time to dump it would move by half a day.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import telling
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.numbers import NUMBER_WORDS, parse_number

_CUES = ("picked up", "dropped", "took on", "taken on", "got on", "got off", "gets off", "get off", "come aboard", "came aboard", "came on", "hopped", "climbed", "joined", "boarded", "let off", "collected", "left us", "more aboard", "went home", "going home", "stayed behind", "staying behind", "staying at", "stayed at", "flew home", "went ahead")  # fmt: skip
_WORD = "|".join(sorted(NUMBER_WORDS))
_N = rf"(?:\d{{1,2}}|(?:{_WORD})(?:[ -](?:{_WORD}))?)"
_WHO = r"(?:kids?|players?|passengers?|people|persons?|guys?|girls?|boys?|men|women|skaters?|parents?|trainers?|coaches|coach|students?|heads?|athletes?|lads?|others?|riders?|folks?|drivers?)"
_SOME = rf"(?:another )?(?:a couple(?: of)?|a few|a|one|{_N}|some|another)(?: (?:more|extra|other|of (?:them|us|the)))*(?: {_WHO})?(?: more)?"
_CAME = rf"(?:(?:picked up|dropped(?: off)?|took on|taken on|let off|collected) {_SOME}(?: off)?|{_SOME}(?:'ve|'s| have| has| just| are| is)* (?:got on|got off|gets off|came aboard|come aboard|came on|hopped (?:on|off|in)|climbed (?:on|aboard|in)|joined(?: us)?|boarded|left us|more aboard|went home|going home|stayed behind|staying behind|stay(?:ed|ing) at (?:the )?\w+|flew home|went ahead))"
_TOTAL = r"(?:that makes(?: it| us)?|makes(?: it| us)?|that's|so|and|now|we're|we are|it's|there are|there's|makes|which makes(?: it| us)?|total|in all|all told|for|to make)"
_TAIL = rf"(?:now|of us|aboard|on board|in all|in total|total|all told|altogether|{_WHO}|here|today|tonight|again)"
_CHANGED = Lazy(rf"\b{_CAME}\b(?P<between>.{{0,30}}?)(?P<lead>(?: {_TOTAL})*) (?P<count>{_N})(?P<tail>(?: {_TAIL})*)$")
_FIRST = Lazy(
    rf"^(?:(?:ok|okay|so|and|well|right|now|that makes|we're|we are|there are|there's|it's|we have|we've got) )*(?P<count>{_N})(?: {_TAIL})+(?: (?:since|because|as|after|cause))?(?: (?:we|i|that|just|have|'ve))* {_CAME}\b(?P<between>.{{0,30}})$"
)
"""The count before its reason."""
_OF_THINGS = re.compile(
    r"\b(?:gallons?|liters?|litres?|pounds?|percent|degrees?|volts?|miles?|bags?|bottles?|cylinders?|minutes?|hours?|cases?|boxes)\b"
)
_FILLS = Lazy(r"^(?: (?:at|in|from|on|the|a|an|just|here|there|back|aboard|more|up|stop|rink|hotel|motel|truck|station|corner|with|last|\w+ville))*$")  # fmt: skip
_PLAINLY = re.compile(r"\b(?:now|of us|aboard|on board|in all|total|all told|altogether)\b")
LEAST, MOST = 2, 80


def count_in(text: str) -> str | None:
    """The head count at the end of such a text, as a report of it; None for anything else."""
    said = plain(text)
    if "?" in text or not names_any(said, _CUES) or _OF_THINGS.search(said):
        return None
    found = first = _FIRST.match(said)
    found = found or _CHANGED.search(said)
    if found is None or not _FILLS.match(found["between"]):
        return None
    if not first and not found["lead"] and not _PLAINLY.search(found["tail"]) and "," not in text:
        return None
    number = parse_number(found["count"].replace("-", " "))
    if number is None or not LEAST <= number <= MOST or number != int(number):
        return None
    return f"{int(number)} people aboard"


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The head count stored; None for anything else."""
    count = count_in(text) if state.pending is None else None
    heard = mind.readings_in(count) if count is not None else None
    if heard is None or [one.what for one in heard.readings] != ["passengers"]:
        return None
    heard = replace(heard, readings=tuple(replace(one, said=text) for one in heard.readings))
    return telling.told(heard, text, replace(state, failures=0), mind, now)


def speaks_of_people(text: str) -> bool:
    """Whether people came or went and no supply is named, so that no number in the text is a level."""
    said = plain(text)
    return names_any(said, _CUES) and _GOING.search(said) is not None and telling.named_in(said) is None


_GOING = Lazy(rf"\b{_CAME}\b(?! (?:gallons?|pounds?|bags?|bottles?))")
