"""How the assistant speaks: slower, louder, letter by letter.

The dialogue only understands the wish and puts it on record as an event; a front end that has a voice fulfils it.
"""

from __future__ import annotations

from cabassist.dialogue import walking
from cabassist.dialogue.types import Outcome, Reply, State
from cabassist.journal.events import EventDraft

EVENT = "voice"
"""Kind of the event; its payload is `{"do": verb}`."""
MANNERS = {
    "slower": "Slower from now on.",
    "faster": "Faster from now on.",
    "louder": "Louder from now on.",
    "quieter": "Quieter from now on.",
    "spell": "",
}
"""What is answered to each; spelling repeats what was said last, and the voice spells it."""


def changed(state: State, verb: str) -> Outcome:
    """The answer to a wish about the voice. What the conversation waits for, and its last answer, stay as they are."""
    events = (EventDraft(EVENT, {"do": verb}),)
    if verb != "spell":
        note = f"{MANNERS[verb]} That is for answers said aloud."
        return walking.control(state, MANNERS[verb], lines=(note,), events=events)
    if state.last is None:
        return walking.control(state, "I have said nothing yet.")
    return walking.control(state, state.last.say, lines=state.last.show, topic=state.last.topic, events=events)


def kept(before: State, outcome: Outcome, said: Reply) -> Reply:
    """What "repeat" gives after this turn: a wish about the voice is no answer worth repeating."""
    wish = any(event.kind == EVENT for event in outcome.events)
    return before.last if wish and before.last is not None else said
