"""On the road: short answers, hands-on work put off until the coach is parked, hazards as ever.

A driver may neither text nor hold a phone (49 CFR 392.80, 392.82), and should look away for no more than 2 seconds at
a time (NHTSA visual-manual guidelines, 78 FR 24817, 2013). So while the coach rolls nothing is answered that needs
hands or eyes: a procedure is kept and offered again once the coach stands.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import walking
from cabassist.dialogue.phrases import filled
from cabassist.dialogue.types import Asking, Kept, Mind, Outcome, Reply, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.record.defects import open_defects
from cabassist.record.duty import changes, drivers
from cabassist.record.entries import DUTY

WORDS_A_MINUTE = 150
"""How fast answers are spoken."""
SPOKEN_S = 12.0
"""Longest answer while rolling; the whole of a task at the wheel in the guidelines."""
MAX_WORDS = int(SPOKEN_S * WORDS_A_MINUTE / 60)
MAX_KEPT = 8
"""Things kept for the stop; the oldest beyond that are dropped."""
MORE = "More when parked."
PUT_OFF = "I keep that for when you are parked."


def set_rolling(state: State, mind: Mind, now: datetime) -> Outcome:
    """The coach rolls: the walk in hand waits. What is on record against it is said at once."""
    against = held_back(state, mind, now)
    state = replace(_waiting(state, mind), rolling=True, asking=None)
    lines = (*against, "Rolling. I keep answers short, and hands-on work for when you are parked.")
    return Outcome(state, Reply("control", " ".join(lines), lines), (EventDraft("rolling", {"on": True}),))


def held_back(state: State, mind: Mind, now: datetime, *, with_defects: bool = True) -> tuple[str, ...]:
    """Why the coach should not move as things stand on record, the first line short enough for a glance; nothing when nothing is."""
    still = open_defects(state.record) if with_defects else ()
    against = [defect for defect in still if defect.stops or defect.unclear]
    skipped = skipped_before_leaving(state, mind, now) if with_defects else ()
    undone = broken_off(state, mind, now) if with_defects else ()
    if not (against or state.cord_in or state.missing or skipped or undone):
        return ()
    short = ["one missing"] if state.missing else []
    short += [f"defect {against[0].number}"] if against else []
    short += ["cord in"] if state.cord_in else []
    short += ["step skipped" if len(skipped) == 1 else f"{len(skipped)} steps skipped"] if skipped else []
    short += [f"{_HALF_DONE[topic]} not done" for topic, _ in undone]
    lines = [f"STOP: {', '.join(short)}."]
    if state.missing:
        lines.append("Somebody was missing: count heads before the coach moves.")
    if against:
        must = "The coach must not move" if against[0].stops else "The coach stays until you know"
        more = f", and {len(against) - 1} more" if len(against) > 1 else ""
        lines.append(f"{must}: {against[0].what}{more}.")
    if state.cord_in:
        lines.append("The shore cord was told to be plugged in.")
    lines += [f"Skipped: {do}" for do in skipped[:_MOST_SKIPPED]]
    return (*lines, *(f"{mind.knowledge.title(topic)} stands at step {number}." for topic, number in undone))


_BEFORE_LEAVING = frozenset({"prepare-to-depart", "pre-trip-inspection", "check-air-brakes"})
_GRAVE = frozenset({"air_pressure", "passengers"})
_TIED = ("Disconnect ", "Unplug ")
_SKIPPED_WITHIN = timedelta(hours=4)
_MOST_SKIPPED = 3
_NO_REASON = frozenset({"", walking.NO_READING, "could not be read"})


def skipped_before_leaving(state: State, mind: Mind, now: datetime) -> tuple[str, ...]:
    """The steps left out without a reason, in the rounds before leaving, that keep the coach safe."""
    left = [one for one in state.left if now - one.at <= _SKIPPED_WITHIN]
    found: list[str] = []
    for walk in (*state.walks, *(one.walk for one in left)):
        if walk.topic not in _BEFORE_LEAVING:
            continue
        steps = mind.knowledge.procedure(walk.topic).steps
        for skip in walk.skipped:
            step = steps[skip.step]
            grave = bool(step.cautions) or step.reading in _GRAVE or step.do.startswith(_TIED)
            told = any(one.reading.what == step.reading and now - one.at <= _SKIPPED_WITHIN for one in state.stored)
            if grave and skip.reason in _NO_REASON and not told:
                found.append(filled(step.do, mind.facts))
    return tuple(dict.fromkeys(found))


_SHUTS_GAS, _ROUND = "shut-off-propane", "prepare-to-depart"
_HALF_DONE = {_SHUTS_GAS: "gas shut-off", _ROUND: "last round"}


def broken_off(state: State, mind: Mind, now: datetime) -> tuple[tuple[str, int], ...]:
    """What must not stay half done when the coach leaves, and its step: a shut-off of the gas, the last round with a step to come that keeps the coach safe."""
    left = [one.walk for one in state.left if not one.ended and now - one.at <= _SKIPPED_WITHIN]
    found = []
    for walk in (*state.walks, *left):
        steps = mind.knowledge.procedure(walk.topic).steps
        ahead = any(steps[index].cautions for index in walk.plan[walk.at :])
        if (walk.topic == _SHUTS_GAS and state.valves_shut is None) or (walk.topic == _ROUND and ahead):
            found.append((walk.topic, walk.number))
    return tuple(dict.fromkeys(found))


def set_parked(state: State, mind: Mind, now: datetime) -> Outcome:
    """The coach stands: what was put off is offered, and the walk that waits."""
    topics = tuple(dict.fromkeys(kept.topic for kept in state.kept if kept.topic is not None))
    words = [kept.words for kept in state.kept if kept.topic is None]
    titles = [f"{number}. {mind.knowledge.title(topic)}" for number, topic in enumerate(topics, 1)]
    lines, spoken = ["Parked."], ["Parked."]
    if topics:
        lines += ["I kept for you:", *(f"  {title}" for title in titles), "Say the number to begin, or no."]
        spoken += [f"I kept for you: {'; '.join(titles)}.", lines[-1]]
    if words:
        lines += ["While rolling:", *(f"  {text}" for text in words)]
        spoken.append(f"While rolling: {'; '.join(words)}.")
    if state.walk is not None:
        lines.append(f"{mind.knowledge.title(state.walk.topic)} waits at step {state.walk.number}: say resume.")
        spoken.append(lines[-1])
    asking = Asking("choice", topics) if topics else Asking("resume") if state.walk else None
    state = replace(state, rolling=False, kept=(), asking=asking)
    reply = Reply("control", " ".join(spoken), tuple(lines), options=topics)
    return Outcome(state, reply, (EventDraft("rolling", {"on": False}),))


COMMANDS: dict[str, Callable[[State, Mind, datetime], Outcome]] = {"rolling": set_rolling, "parked": set_parked}
"""What the words "we are rolling" and "we are parked" do."""


def held(before: State, outcome: Outcome, mind: Mind, now: datetime) -> Outcome:
    """What of a turn may be said and done at the wheel. A turn of a parked coach passes unchanged."""
    outcome = _after_duty(before, outcome, mind, now)
    if not (before.rolling and outcome.state.rolling):
        return outcome
    state, reply, events = outcome
    if _needs_hands(before, outcome, mind):
        return _put_off(before, outcome, mind)
    if reply.kind == "reading" and state.walks != before.walks:
        echoes = reply.show[: len(reply.readings)]
        reply = replace(reply, say=" ".join(echoes), show=echoes)
    return Outcome(_waiting(state, mind), reply, events)


def short(reply: Reply, announced: Sequence[str] = ()) -> tuple[Reply, tuple[str, ...]]:
    """The reply in at most `MAX_WORDS`, with what was announced, and the announcements there was no room for.

    A hazard is said before anything that ran out.
    """
    if reply.kind == "hazard":
        said = shortened(reply.say)
        return replace(reply, say=said, show=(said,)), tuple(announced)
    room, fit = MAX_WORDS, []
    for text in announced:
        if len(text.split()) <= room:
            fit.append(text)
            room -= len(text.split())
    said = " ".join([*fit, *filter(None, [shortened(reply.say, room)])])
    return replace(reply, say=said, show=(said,)), tuple(text for text in announced if text not in fit)


def shortened(text: str, room: int = MAX_WORDS) -> str:
    """Whole sentences, else whole clauses, from the front, in at most `room` words; says when something is left out."""
    if len(text.split()) <= room:
        return text
    room -= len(MORE.split())
    for boundary in (r"(?<=[.!?])\s+", r"(?<=[,;:])\s+"):
        fit = ""
        for part in re.split(boundary, text):
            if len(fit.split()) + len(part.split()) > room:
                break
            fit = f"{fit} {part}".strip()
        if fit:
            return f"{fit.rstrip(',;:.!?')}. {MORE}"
    return MORE if room >= 0 else ""


def keep(state: State, *things: Kept) -> State:
    """The state with these kept for the stop, each once."""
    return replace(state, kept=tuple(dict.fromkeys((*state.kept, *things)))[-MAX_KEPT:])


def _needs_hands(before: State, outcome: Outcome, mind: Mind) -> bool:
    reply, walk = outcome.reply, outcome.state.walk
    if reply.kind == "clarify" and reply.options:
        return not set(reply.options) & mind.knowledge.hazards
    if reply.kind not in ("procedure", "step") or outcome.state.walks == before.walks:
        return False
    return walk is not None and walk.topic not in mind.knowledge.hazards


def _put_off(before: State, outcome: Outcome, mind: Mind) -> Outcome:
    """As if the procedure had not been opened, but remembered."""
    reply = outcome.reply
    topic = reply.topic if reply.kind != "clarify" else None
    waits = topic in {walk.topic for walk in before.walks}
    title = f" {mind.knowledge.title(topic)}." if topic else ""
    line = PUT_OFF + title
    state = replace(outcome.state, walks=before.walks, timers=before.timers, undo=before.undo, asking=None)
    state = _waiting(state, mind)
    if not waits:
        state = keep(state, Kept(outcome.state.question if topic is None else title.strip(), topic))
    events = tuple(event for event in outcome.events if event.kind not in ("walk", "steer"))
    reply = Reply("control", line, (line,), topic=topic, confidence=reply.confidence, readings=reply.readings)
    return Outcome(state, reply, (*events, EventDraft("put-off", {"topic": topic})))


def _waiting(state: State, mind: Mind) -> State:
    """The state with its walk paused; a hazard is never."""
    walk: Walk | None = state.walk
    if walk is None or walk.paused or walk.topic in mind.knowledge.hazards:
        return state
    return replace(state, walks=(*state.walks[:-1], replace(walk, paused=True)))


def _after_duty(before: State, outcome: Outcome, mind: Mind, now: datetime) -> Outcome:
    """Somebody drives: the coach rolls. The one who drove does something else, and nobody drives: it stands.

    A co-driver who goes to bed while the coach rolls does not park it.
    """
    if not any(event.kind == DUTY for event in outcome.events):
        return outcome
    at_the_wheel, left_it = _driving(outcome.state, now), _driving(before, now)
    if at_the_wheel and not outcome.state.rolling:
        moved, against = set_rolling(outcome.state, mind, now), held_back(outcome.state, mind, now, with_defects=False)
        reply = replace(
            outcome.reply, say=" ".join([*against, outcome.reply.say]), show=(*against, *outcome.reply.show)
        )
        return Outcome(moved.state, reply, (*outcome.events, *moved.events))
    if outcome.state.rolling and left_it and not at_the_wheel:
        stood = set_parked(outcome.state, mind, now)
        reply = replace(outcome.reply, show=(*outcome.reply.show, *stood.reply.show), options=stood.reply.options)
        return Outcome(stood.state, reply, (*outcome.events, *stood.events))
    return outcome


def _driving(state: State, now: datetime) -> set[str]:
    """Who is on record as driving now."""
    moved = {who: [status for at, status in changes(state.record, who) if at <= now] for who in drivers(state.record)}
    return {who for who, statuses in moved.items() if statuses and statuses[-1] == "driving"}


__all__ = ["COMMANDS", "MAX_WORDS", "held", "held_back", "keep", "set_parked", "set_rolling", "short", "shortened"]
