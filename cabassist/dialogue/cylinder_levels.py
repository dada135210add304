"""Levels of the cylinders told in a walk without a name: "60 and 40", "both at 60", a bare number at a step of one cylinder.

Two levels told in one breath are of the two cylinders where the walk wants propane: outside first, which is the order of the
gauges. They are echoed by name, so that the wrong way round is noticed. "Both" is of the cylinders as well where a later step
of the walk reads them, for the gauges are read on the way round.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, telling, walking
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_MOST_WORDS = 12
_LEVEL = r"(?:\d{1,3}|(?:a |one |three )?(?:half|quarters?|third|eighths?)|full|empty|ten|fifteen|(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)(?:[ -]five)?|a hundred|zero)"
_LEAD = r"^(?:(?:ok|okay|yep|yeah|so|and|well|right|now|um|uh|they're|they are|they|it's|its|says?|reads?|read|show|shows|got|gauges?|the gauges|needles?|i see|i've got|about|around|roughly|sitting|at|are|is|on) )*"
_UNIT = r"(?: ?(?:%|percent))?"
_TAIL = r"(?: (?:now|here|full|each|left|or so|on the gauges?|by the gauges?|more or less))*$"
_TWO = Lazy(
    rf"{_LEAD}(?:about )?(?P<first>{_LEVEL}){_UNIT}(?: on (?:the )?(?:one|first))?(?: and|,| then|,? and then)? (?:about |at |the other(?:'s| is| at)? )*(?P<second>{_LEVEL}){_UNIT}{_TAIL}"
)
_LEVEL_WORD = rf"(?:(?:near(?:ly)? |almost |bone |stone |about |half |just under |a bit over )*(?:{_LEVEL}|dead|out|dry|gone|nothing))"
_EACH = Lazy(
    rf"{_LEAD}(?:the )?(?P<turn>one|first(?: one| bottle| cylinder)?)(?: of (?:them|'em|em))?(?:'s|s| is| at| reads?| shows?)? (?P<first>{_LEVEL_WORD}){_UNIT}(?: and| but| then)?(?: the)? (?:other|second|one|next)(?: one| bottle| cylinder)?(?:'s|s| is| at| reads?| shows?)? (?P<second>{_LEVEL_WORD}){_UNIT}{_TAIL}"
)
"""Each of the two by its turn, "first one's half and second's full"; or by nothing: "one half, one full"."""
_SIDES = Lazy(
    rf"{_LEAD}(?:the )?(?P<one>left|right|outside|inside|outer|inner)(?: hand)?(?: one| side| bottle| cylinder)?(?:'s|s| is| at| reads?| shows?)? (?P<first>{_LEVEL_WORD}){_UNIT}(?: and| but| then)?(?: the)? (?P<other>left|right|outside|inside|outer|inner)(?: hand)?(?: one| side| bottle| cylinder)?(?:'s|s| is| at| reads?| shows?)? (?P<second>{_LEVEL_WORD}){_UNIT}{_TAIL}"
)
_ONE_OF = Lazy(
    rf"{_LEAD}(?:there's |just |only )*one(?: of (?:them|'em|em|the (?:two|cylinders|bottles|tanks)))?(?: (?:bottle|cylinder|tank))?(?:(?:'s|s| is| was| reads?| shows?| looks?| feels?) (?:all |now )*(?:{_LEVEL_WORD}){_UNIT}| (?:(?:bone |stone |all )?(?:dead|empty|out|dry|gone|full)))(?: (?:now|already|i think|here|again))*$"
)
"""One of the two, and not which: "one dead", "one of them's out"."""
_EMPTY = Lazy(r"\b(?:dead|out|dry|gone|nothing)\b")
_BOTH = Lazy(
    rf"{_LEAD}both(?: of (?:them|the (?:gauges|cylinders|bottles|tanks)))?(?: (?:are|is|say|read|show|at|on|about|around|still|sitting|now|gauges|cylinders|bottles|just))* (?P<level>{_LEVEL}){_UNIT}{_TAIL}"
)
_ONE = Lazy(rf"{_LEAD}(?P<level>{_LEVEL}){_UNIT}{_TAIL}")


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The levels stored under the cylinders' names; None for anything else."""
    walk, said = state.walk, plain(text)
    if walk is None or walk.paused or state.pending is not None or "?" in text or len(said.split()) > _MOST_WORDS:
        return None
    if state.last is not None and state.last.kind in ("calculation", "clarify"):
        return None  # it varies the sum, or answers what was asked back
    roles = _roles(mind)
    here = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    if len(roles) < 2 or not (here.reading == "propane" or (not here.reading and _later(walk, mind))):
        return None
    if (each := _each_told(state, said, text, roles, mind, now)) is not None:
        return each
    if names_any(said, ("one",)) and _ONE_OF.match(said):
        return _which(state, roles)
    if names_any(said, ("both",)) and (both := _BOTH.match(said)) is not None:
        return _stored(state, text, f"propane both at {both['level']}", mind, now)
    if here.reading != "propane":
        return None
    if (two := _TWO.match(said)) is not None:
        form = f"{roles[0]} cylinder {two['first']} and {roles[1]} cylinder {two['second']}"
        return _stored(state, text, form, mind, now, "Other way round? Tell me each by its name.")
    one = _ONE.match(said)
    role = walking.cylinder_named(here.do, mind)
    if one is None or not role:
        return None
    return _stored(state, text, f"{role} cylinder {one['level']}", mind, now)


def _each_told(state: State, said: str, text: str, roles: list[str], mind: Mind, now: datetime) -> Outcome | None:
    """Both levels where each is told by its side or by its turn; None for anything else."""
    sides = _SIDES.match(said) if names_any(said, ("left", "right", "side", "outer", "inner")) else None
    if sides is not None and sides["one"] != sides["other"]:
        names = [_ROLE.get(sides[one], sides[one]) for one in ("one", "other")]
        form = f"{names[0]} cylinder {_level(sides['first'])} and {names[1]} cylinder {_level(sides['second'])}"
        return _stored(state, text, form, mind, now, count=2)
    each = _EACH.match(said) if names_any(said, ("other", "second", "one", "next")) else None
    if each is None:
        return None
    if each["turn"] == "one" and each["first"] != each["second"]:
        return _which(state, roles)
    form = f"{roles[0]} cylinder {_level(each['first'])} and {roles[1]} cylinder {_level(each['second'])}"
    return _stored(state, text, form, mind, now, "Other way round? Tell me each by its name.", count=2)


_ROLE = {"outer": "outside", "inner": "inside"}


def _level(words: str) -> str:
    """A level in words that a reading has: "bone dry" is empty."""
    return "empty" if _EMPTY.search(words) else words


def _which(state: State, roles: list[str]) -> Outcome:
    """The question which of the two is meant: nothing is stored, and the step stays."""
    line = f"Which one: the {roles[0]} or the {roles[1]} cylinder? Tell me each by its name and level."
    return walking.control(replace(state, failures=0), line, topic=state.walk.topic if state.walk is not None else None)


def _roles(mind: Mind) -> list[str]:
    return [str(cylinder.role) for cylinder in mind.coach.propane.cylinders if cylinder.role != "spare"][:2]


def _later(walk: Walk, mind: Mind) -> bool:
    """Whether a later step of the walk reads the cylinders."""
    steps = mind.knowledge.procedure(walk.topic).steps
    return any(steps[index].reading == "propane" for index in walk.plan[walk.at + 1 :])


def _stored(
    state: State, text: str, form: str, mind: Mind, now: datetime, note: str = "", count: int = 1
) -> Outcome | None:
    heard = mind.readings_in(form)
    if len(heard.readings) < count or any(one.what != "propane" for one in heard.readings):
        return None
    outcome = telling.told(heard, text, replace(state, failures=0), mind, now)
    if not note:
        return outcome
    lines = outcome.reply.show
    named = len(heard.readings)
    return outcome._replace(reply=replace(outcome.reply, show=(*lines[:named], note, *lines[named:])))
