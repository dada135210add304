"""Taking up a conversation where it ended, however it ended: killed terminal, closed line, flat battery."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import walking
from cabassist.dialogue.recall import recalled
from cabassist.dialogue.session import Session
from cabassist.dialogue.still_shut import restored
from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import State
from cabassist.journal.events import Event

RESUME_WITHIN = timedelta(hours=18)
"""What was open longer ago belongs to another day."""
LEAVE = frozenset({"quit", "exit", "bye", "goodbye", ":q", "q"})
"""Words that end the conversation, for front ends that are left by words."""


def take_up(session: Session, now: datetime) -> str:
    """Bring a fresh session to where the last one of this coach stood; gives the offer to go on, or "".

    When something is still open there (a walk, timers, standing requests, a coach that rolls), the session goes on
    under its name: its turns are taken again in their own times, so that timers are right, and those that were
    announced stay announced. Otherwise only the readings are taken over that the board still counts, with the deadlines that
    they set, and what holds on (`still_shut.py`). Nothing is written.
    """
    coach = session.mind.coach.id
    last = session.journal.last_session()
    events = [event for event in session.journal.read(session=last) if event.coach == coach] if last else []
    said = [event for event in events if event.kind == "said"]
    if said and now - said[-1].at <= RESUME_WITHIN:
        earlier = recalled(session.journal, coach, events[0].at, before=events[0].id)
        start = restored(replace(session.state, stored=earlier), session.journal, coach, before=events[0].id)
        state = replace(_again(session, start, events), record=session.state.record)
        if state.walk or state.timers or state.alerts or state.rolling or state.kept:
            session.state, session.name = state, str(last)
            return _offer(session)
    known = replace(session.state, stored=recalled(session.journal, coach, now))
    session.state = restored(known, session.journal, coach)
    if session.state.stored:
        from cabassist.dialogue.deadlines import renewed

        session.state = renewed(session.state, session.mind, now)
    return ""


def _again(session: Session, state: State, events: list[Event]) -> State:
    for event in events:
        if event.kind == "said":
            state = replace(state, actor=event.actor)
            state = take_turn(state, str(event.payload.get("text", "")), mind=session.mind, now=event.at).state
        elif event.kind == "timer":
            state, _ = walking.due(state, event.at)
    return state


def _offer(session: Session) -> str:
    walk = session.state.walk
    if walk is None:
        return ""
    title = session.mind.knowledge.title(walk.topic)
    return f"You were at step {walk.number} of {len(walk.plan)}: {title}. Say resume, stop, or ask something else."


__all__ = ["LEAVE", "RESUME_WITHIN", "take_up"]
