"""Two levels told of what is one tank on this coach: "grey three quarters, black a quarter". Asked about, neither dropped."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import phrases, telling, whose_level
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Heard, Reading

_NAME = Lazy(r"\b(?P<name>grey|gray|black|sewage|sewer|waste|holding)(?: ?water)?(?: tank)?\b")
_GREY = frozenset({"grey", "gray"})
_ASKS = re.compile(r"^(?:how|what|where|why|when|which|who|can|could|should|is|are|do|does|did|will)\b|\?$")
LATELY = timedelta(minutes=20)
_FEW = 18


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The levels of two waste tanks that a text tells: stored on a coach that has both, asked about where they are one; else None."""
    said = plain(text)
    if _ASKS.search(text.lower().strip()) or state.pending is not None or len(said.split()) > _FEW:
        return None
    named = list(_NAME.finditer(said))
    if not named:
        return None
    levels = _levels(said, named, mind)
    different = {name if name not in _GREY else "grey" for name in levels}
    if len(different) > 1:
        return _both(state, text, said[: named[0].start()], list(levels.values()), mind, now)
    if len(named) == 1 and levels:
        return _after_the_other(state, named[0]["name"], next(iter(levels.values())), mind, now)
    return None


def _levels(said: str, named: list[re.Match[str]], mind: Mind) -> dict[str, Reading]:
    """The level beside each name: after it, or, where the text begins with a level, before it."""
    first, last = [one.start() for one in named], [one.end() for one in named]
    after = list(zip(first, [*first[1:], len(said)], strict=True))
    before = list(zip([0, *last[:-1]], last, strict=True))
    found: dict[str, Reading] = {}
    for spans in (before, after) if AMOUNT.search(said[: first[0]]) else (after,):
        levels = {one["name"]: _level(said[a:b], mind) for one, (a, b) in zip(named, spans, strict=True)}
        told = {name: level for name, level in levels.items() if level is not None}
        if len(told) > len(found):
            found = told
    return found


def _level(part: str, mind: Mind) -> Reading | None:
    """The one level of a waste tank in a part of the text that begins with its name."""
    from cabassist.language.plausibility import is_tank

    words = re.sub(r"^(?:[ ,]*(?:and|but|with|plus)\b)+ *|(?:[ ,]+(?:and|but|the|with|plus))+$", "", part)
    found = [one for one in mind.readings_in(words).readings if is_tank(one.what, mind.coach)]
    return found[0] if found and found[0].what != "fresh" and found[0].value is not None else None


def _both(state: State, text: str, before: str, levels: list[Reading], mind: Mind, now: datetime) -> Outcome | None:
    same = len({one.what for one in levels}) == 1
    if same and len({(one.value, one.unit) for one in levels}) == 1:
        levels = levels[:1]
    elif same:
        return _asked(state, levels, mind, _others(before, text, levels, mind), text, now)
    others = _others(before, text, levels, mind)
    readings = tuple(replace(one, said=text) for one in (*others, *levels))
    return telling.told(Heard(readings), text, replace(state, failures=0), mind, now)


def _others(before: str, text: str, levels: list[Reading], mind: Mind) -> tuple[Reading, ...]:
    """What the text tells of other supplies."""
    waste = {one.what for one in levels}
    found = (*mind.readings_in(before).readings, *mind.readings_in(text).readings) if before else mind.readings_in(text).readings  # fmt: skip
    return tuple({(one.what, one.which): one for one in found if one.what not in waste}.values())


def _asked(
    state: State, levels: list[Reading], mind: Mind, others: tuple[Reading, ...], text: str, now: datetime
) -> Outcome:
    """Which of two levels it is, with what was told beside it stored."""
    name = levels[0].what
    line = f"{whose_level.ONE} {name.replace('_', ' ')} tank. Is it {_words(levels[0])} or {_words(levels[1])}?"
    options = tuple(one for one in ("check-waste-level",) if one in mind.knowledge.ids)
    echoes: tuple[str, ...] = ()
    events: tuple[EventDraft, ...] = ()
    if others:
        state, echoes, events = telling.beside(Heard(others), text, state, mind, now)
    state = replace(state, asking=Asking("level", options, name), failures=0)
    reply = Reply(
        "clarify", line, (*echoes, line), topic=options[0] if options else None, options=options, readings=others
    )
    step = phrases.mark(state.walk) if state.walk is not None else None
    return Outcome(state, replace(reply, step=step), events)


def _after_the_other(state: State, name: str, level: Reading, mind: Mind, now: datetime) -> Outcome | None:
    """The level of the grey tank right after that of the black one, where both are one tank."""
    held = next((one for one in reversed(state.stored) if one.reading.what == level.what), None)
    if held is None or now - held.at > LATELY or (held.reading.value, held.reading.unit) == (level.value, level.unit):
        return None
    before = _NAME.search(plain(held.reading.said))
    if before is None or "waste" in (before["name"], name) or (before["name"] in _GREY) is (name in _GREY):
        return None
    return _asked(state, [held.reading, level], mind, (), level.said, now)


def _words(level: Reading) -> str:
    from cabassist.dialogue.building import in_words

    words = in_words(level)
    return re.sub(rf"^{level.what.replace('_', ' ')}(?: is| at)? ", "", words)
