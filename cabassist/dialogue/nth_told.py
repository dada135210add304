"""One of the readings told lately, by its place in the telling: "actually the first one's nearer an eighth", of two cylinders told.

What was told last is not what is meant merely because it was last: a first and a second are counted in the order of telling.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from cabassist.dialogue import telling
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Reading

_CUES = ("first", "second", "third", "last", "latter", "former", "before that", "1st", "2nd", "earlier")
_LEAD = r"^(?:(?:actually|no|nope|sorry|wait|oh|hang on|hold on|correction|my mistake|my bad|oops|whoops|scratch that|and|but|so|ok|okay|well|make|change|fix|put|set|ah|um|uh|i think|you know|hm+|looking again|on second look) )*"
_NTH = Lazy(
    _LEAD
    + r"(?:the |that |my )?(?:(?P<nth>first|second|third|last|latter|former|1st|2nd|3rd|other|earlier)(?: (?:one|bottle|cylinder|tank|reading|number|figure|level|tire|of (?:the two|those|them)))?|one before that)(?: (?:that )?(?:i|we) (?:told you|said|gave you|read(?: out)?|called))?(?:'s| is| was| should(?: have)? (?:be|been|read)| reads?| ought to be| to| at)?"
    r"(?: (?:really|actually|more like|more|like|nearer(?: to)?|closer to|about|only|just|at|to|a bit over|barely|in fact))*"
    r" (?P<level>(?:a |an |one |two |three |five |seven |half|full|empty|\d|[a-z]+ty\b|[a-z]+teen\b|ten\b|eleven\b|twelve\b|four\b|six\b|eight\b|nine\b|zero\b).*?)(?: (?:now|sorry|really|actually|instead|after all|not (?:a |an |the )?[a-z]+(?: [a-z]+)?))*$"
)
_CORRECTS = Lazy(
    r"^(?:(?:oh|ah|ok|okay|um|uh|so|and|but|well) )*(?:actually|no|nope|sorry|wait|hang on|hold on|correction|my mistake|my bad|oops|whoops|scratch that|make|change|looking again|on second look)\b"
)
_NEAR = timedelta(minutes=15)
"""Readings told so near to the last are counted with it."""
_PLACE = {"first": 0, "1st": 0, "former": 0, "earlier": 0, "second": 1, "2nd": 1, "third": 2, "3rd": 2, "latter": -1, "last": -1}  # fmt: skip
_WORDS = 12


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """That reading put right; None where the words name none by its place, or it is not clear which are counted."""
    said = plain(text)
    if not state.stored or state.pending is not None or "?" in text or not names_any(said, _CUES):
        return None
    if state.last is None or len(said.split()) > _WORDS or (state.asking is not None and state.asking.what == "choice"):
        return None
    fresh = state.last.kind in ("reading", "control")
    if not fresh and (_CORRECTS.match(said) is None or now - state.stored[-1].at > _NEAR):
        return None  # "the first one" may be of anything that was spoken of since
    found = _NTH.match(said)
    counted = _counted(state)
    if found is None or len(counted) < _LEAST or found["nth"] == "other":
        return None
    if not fresh and len({one.what for one in counted}) > 1:
        return None
    place = _PLACE[found["nth"]] if found["nth"] else -2
    if place >= len(counted):
        return None
    meant = counted[place]
    heard = mind.readings_in(f"no {found['level']}", (meant,))
    if [(one.what, one.which) for one in heard.readings] != [(meant.what, meant.which)] or not heard.withdrawn:
        return None
    return telling.told(heard, text, state, mind, now)


_LEAST = 2


def _counted(state: State) -> tuple[Reading, ...]:
    """The readings that are counted: two of one kind told last, as of two cylinders, else all that were told about together."""
    newest = state.stored[-1].at
    near = [one.reading for one in state.stored if newest - one.at <= _NEAR]
    standing = tuple({(one.what, one.which): one for one in near}.values())
    pair = standing[-2:]
    alike = len(pair) == _LEAST and pair[0].what == pair[1].what
    return pair if alike and not (len(standing) > _LEAST and standing[-3].what == pair[0].what) else standing
