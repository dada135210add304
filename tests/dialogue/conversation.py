"""A conversation for tests: says things one after the other, a minute apart, and keeps the replies."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State
from cabassist.dialogue.walking import due
from cabassist.journal.events import EventDraft


class Conversation:
    """What a driver says to a mind."""

    def __init__(self, mind: Mind, start: str = "2026-01-15T21:40:00+00:00") -> None:
        self.mind = mind
        self.now = datetime.fromisoformat(start)
        self.state = State()
        self.events: list[EventDraft] = []

    def say(self, text: str, minutes: float = 1) -> Reply:
        """Say something after some minutes."""
        self.now += timedelta(minutes=minutes)
        outcome = take_turn(self.state, text, mind=self.mind, now=self.now)
        self.state = outcome.state
        self.events += outcome.events
        return outcome.reply

    def until_step(self, number: int) -> Reply:
        """Go on to a step of the walk in hand; readings that are asked for cannot be seen."""
        reply = self.say("repeat")
        while reply.step is None or reply.step.index < number:
            reply = self.say("next")
            if "Tell me the" in reply.say and reply.kind == "control":
                reply = self.say("can't see it")
        return reply

    def wait(self, minutes: float) -> tuple[str, ...]:
        """Let time pass in silence."""
        self.now += timedelta(minutes=minutes)
        self.state, over = due(self.state, self.now)
        return over

    def kinds(self) -> list[str]:
        """The kinds of the events so far."""
        return [event.kind for event in self.events]


NOON = datetime(2026, 1, 15, 12, tzinfo=UTC)


def at(mind: Mind, request: str, step: int) -> Conversation:
    """A conversation at that step of what is asked for."""
    talk = Conversation(mind)
    talk.say(request)
    talk.until_step(step)
    return talk


def number(talk: Conversation) -> int:
    """The number of the step in hand."""
    assert talk.state.walk is not None
    return talk.state.walk.number
