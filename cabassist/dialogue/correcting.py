"""Entries put right later: "scratch the battery one", "inside was fifty five not seventy five", "make waste two thirds"."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from cabassist.dialogue import telling
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.reading_types import Heard, Reading

_AFTER_ALL = re.compile(r"(?: (?:after all|in fact|really|actually|in the end))+$")
LATELY = timedelta(hours=2)
"""How far back an entry is put right; what was told earlier has simply changed since."""


_REASON = Lazy(
    r"[,;.]? *\b(?:(?:cause|cuz|because|since|turns out|sorry|my bad|my mistake) )?(?:i|we|he|she)(?:'d| had| have|'ve|'s| has)?(?: been| was| were)? (?:just )?(?:looking at|look(?:ed)? at|reading|read|checking|checked|went by|going by|mixing up|mixed up)(?: off| from)? (?:the )?(?:other|wrong|next|neighbou?ring) (?:gauge|dial|needle|meter|display|line|one|sender|scale|tank|bottle|row)(?:'s (?:gauge|dial|level))?\b[,;.]?",
    re.IGNORECASE,
)
"""Why the entry before was wrong; it names no other thing that the amount would be of."""


def without_reason(text: str) -> str:
    """A correction without why it is made: of "it isn't fifty, I was looking at the other gauge, it's sixty" the first and the last part."""
    rest = _REASON.sub(",", text)
    return rest.strip(" ,") if rest != text and AMOUNT.search(rest.lower()) else text


def _standing(state: State) -> list[Reading]:
    """The entries of about the same time as the last, oldest first."""
    newest = state.stored[-1].at
    return [held.reading for held in state.stored if newest - held.at <= LATELY]


def _just_told(state: State, mind: Mind) -> tuple[Reading, ...]:
    """What "that" means: the one just read back, the readings told in the turn before, or in a walk that has only moved on since."""
    last = state.last
    if last is None or not state.told or state.pending is not None:
        return ()
    if last.kind == "control" and last.say.count(telling.READ_BACK) == 1:
        return tuple(one.reading for one in state.stored if last.say.startswith(telling.echo(one.reading, mind.coach)))[
            -1:
        ]
    fresh = last.kind == "reading" or (last.kind == "control" and bool(last.withdrawn)) or bool(last.readings)
    return state.told if fresh else ()


def taken_back(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """An entry taken back by its name or value, or the last one with the reason; None when the text takes none back.

    When the reason holds what is right ("undo that, it was a third"), that is stored in its place.
    """
    if not state.stored or "?" in text:
        return None
    from cabassist.language import putting_right

    if not putting_right.takes_back(text):
        return None
    found = putting_right.taken_back(text, mind.coach, mind.vocabulary, _standing(state), _just_told(state, mind))
    if found is None:
        return None
    gone, why = found
    instead = mind.readings_in(f"no {_AFTER_ALL.sub('', why)}", gone) if why else Heard()
    same = {(one.what, one.which) for one in instead.readings} == {(one.what, one.which) for one in gone}
    same = same and AMOUNT.search(why) is not None  # "I was guessing" puts nothing in its place
    heard = instead if instead.readings and same else Heard(withdrawn=gone)
    return telling.told(heard, text, state, mind, now)


def puts_right(text: str, state: State, mind: Mind) -> bool:
    """Whether a text puts an entry right that stands: "no wait, thirty four, two went by car"."""
    heard = put_right(Heard(), text, state, mind)
    return bool(heard.readings and heard.withdrawn)


def put_right(heard: Heard, text: str, state: State, mind: Mind) -> Heard:
    """What was heard, with the earlier entry that it replaces; read anew where a correction was not understood by itself."""
    if not state.stored or state.pending is not None or heard.refused or heard.withdrawn:
        return heard
    from cabassist.language import putting_right

    if not putting_right.puts_right(text):
        return heard
    standing = _standing(state)
    if heard.readings:
        return putting_right.replaced(heard, standing)
    return putting_right.put_right(text, mind.coach, mind.vocabulary, standing, _just_told(state, mind)) or heard
