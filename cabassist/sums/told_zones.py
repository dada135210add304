"""The clocks of two places: by how many hours the one there is ahead of the one here."""

from __future__ import annotations

import re

from cabassist.estimate.clock import time_of_day
from cabassist.language.lazy import Lazy
from cabassist.sums.families import Told

ZONES = {"newfoundland": 1.5, "atlantic": 1.0, "eastern": 0.0, "central": -1.0, "mountain": -2.0, "pacific": -3.0}
"""Hours ahead of Eastern time; 49 CFR 71 and the legal times of the Canadian provinces."""
_SHORT = {"ast": "atlantic", "adt": "atlantic", "est": "eastern", "edt": "eastern", "cst": "central", "cdt": "central", "mst": "mountain", "mdt": "mountain", "pst": "pacific", "pdt": "pacific"}  # fmt: skip
_NAMED = Lazy(
    rf"\b({'|'.join((*ZONES, *_SHORT))})\b(?! (?:station|park|avenue|street|rink|arena|run|leg|pass|road|roads|drive|stretch|section|grade|town|hill|route|way|bit|part|highway|division|league|conference)\b)"
)
_OF_TIME = Lazy(
    rf"(?:<clock>|<n>) (?:{'|'.join((*ZONES, *_SHORT))})\b|\b(?:{'|'.join(ZONES)}) (?:standard |daylight )?(?:time|zone|clock)\b|\b(?:{'|'.join(_SHORT)})\b|\btime ?zones?\b"
)
"""One zone alone, where the other one is not told."""
_SAME = Lazy(
    r"\b(?:same|no other|one)(?: time)? ?zone\b|\bno (?:time )?(?:zones?|zone changes?|time change|change of zone)\b|\bsame (?:clock|time)\b"
)
_HERE = Lazy(
    r"\b(?:here|it is|we|i|leav\w+|left|depart\w*|start\w*|roll\w*|pull\w* out|set(?:ting)? (?:off|out)|from|our|my|out of|now|behind us|off at|go at)\b"
)
_HERE_NOW = Lazy(r"(?: time| clock)? (?:now|here)\b")
_OVER_THERE = Lazy(r"(?: time| clock)? (?:(?:over|up|down|out) )?there\b")
_THERE = Lazy(
    r"\b(?:there|they|them|their|arriv\w*|to|into|game|puck|due|by|over|host|hosts|destination|get in|in at|face ?off|doors|skate|practi[cs]e|ice time|going|(?<!leaving the )(?<!leave the )(?<!left the )(?<!from the )(?<!here at the )(?:rink|arena|venue|hotel|motel))\b"
)
_AHEAD = Lazy(
    r"# (?:\w+ ){0,2}(?:ahead|later|forward|lost|on from|fast(?:er)?|in front)\b|\b(?:los\w+|lost|forward|ahead)(?: \w+){0,2} # "
)
_BEHIND = Lazy(r"# (?:\w+ ){0,2}(?:behind|earlier|back|gained|slow(?:er)?)\b|\b(?:gain\w*|back|behind)(?: \w+){0,2} # ")
_WE = Lazy(r"\b(?:we|i|our (?:clock|time|side|watch)|my (?:clock|watch)|(?:back )?here)(?: (?:are|am|is|be|run|runs|sit|already|all|still))* # (?:\w+ ){0,2}(?:ahead|behind|fast|slow|in front)\b|# (?:\w+ ){0,2}(?:ahead|behind|earlier|later) (?:(?:of|than) (?:there|them|theirs)|them|theirs)\b")  # fmt: skip
"""Those here are ahead of those there, not the other way round."""


def zone_shift(t: Told) -> float | None:
    """Hours by which the clock there is ahead of the one here, 0 where nobody speaks of it, None when it stays unclear."""
    term = t.one("zone")
    if term is not None:
        ahead, behind = _AHEAD.search(term.around) is not None, _BEHIND.search(term.around) is not None
        if ahead is behind or not 0 < term.value <= _MOST_H:
            return None
        return term.value * (1 if ahead else -1) * (-1 if _WE.search(term.around) else 1)
    if _SAME.search(t.question.frame):
        return 0.0
    named = [*_NAMED.finditer(t.question.frame)]
    if len(named) > _PLACES:  # "what time on my central clock" names one of the two once more
        once = {_SHORT.get(one[1], one[1]): one for one in reversed(named)}
        named = sorted(once.values(), key=lambda one: one.start())
    zones = [_SHORT.get(one[1], one[1]) for one in named]
    if len(named) != _PLACES:
        return None if len(named) > 1 or _OF_TIME.search(t.question.frame) else 0.0
    vote = 0
    for first, (one, before) in enumerate(zip(named, (0, named[0].end()), strict=True)):
        clause = re.split(r"[,.;?]", t.question.frame[before : one.start()])[-1]
        here_at, there_at_ = (
            max((one.start() for one in words.finditer(clause)), default=-1) for words in (_HERE, _THERE)
        )
        if _HERE_NOW.match(t.question.frame[one.end() :]):
            here_at = one.end()
        elif _OVER_THERE.match(t.question.frame[one.end() :]):
            there_at_ = one.end()
        said = (here_at > there_at_) - (here_at < there_at_)  # the nearer word tells
        vote += said if first == 0 else -said
    if not vote and zones[0] != zones[1]:
        return None
    here, there = zones if vote >= 0 else reversed(zones)
    return ZONES[there] - ZONES[here]


_MOST_H = 4.5
"""From Newfoundland to the Pacific."""
_PLACES = 2


def there_at(hour: float, shift: float) -> str:
    """When one is there, by the clock there."""
    if not shift:
        return f"There at about {time_of_day(hour)}."
    return f"There at about {time_of_day(hour + shift)} by the clock there, {time_of_day(hour)} by the one here."


def leave_by(hour: float, shift: float) -> str:
    """When to leave, by the clock here."""
    return f"Leave by {time_of_day(hour)}{' by the clock here' if shift else ''}."
