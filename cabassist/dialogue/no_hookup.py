"""No outlet where the coach stands for the night: the step that wants shore power is passed, and what is off without it is said.

A driver who has plugged in and finds no power is not meant: that is trouble, with a procedure of its own.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.not_applying import NOT_SO
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_LEAD = r"^(?:(?:no|nope|ok|okay|so|well|and|but|sorry|nah|can't|cannot|i|we) )*?"
_PLACE = r"(?:(?:here|there|around(?: here)?|tonight|anywhere|at all|to be had|to find|for us|free|left|nearby|close by|out here)|(?:in|at|on) (?:this|the|that) (?:lot|yard|place|spot|site|stop|rest area|truck ?stop|rink|hotel|motel|parking lot|street|lay ?by|building|camp|pull ?out))"
_SOURCE = r"(?:shore(?: power| line)?|hook ?ups?|plug(?: |-)?ins?|plugs?|outlets?|sockets?|pedestals?|power posts?|power|electricity|electric|juice|mains)"
_NONE = Lazy(
    rf"{_LEAD}(?:(?:there's|there is|there are|there ain't|ain't|it's got|they've got|they have|we've got|we have|i've got|got|have|has|this (?:place|lot|yard) has)? ?(?:no|any|not any|not an|without) {_SOURCE}(?: (?:to plug (?:in|into)|or (?:outlet|plug|socket|power)))?(?: {_PLACE})*"
    rf"|(?:can't|cannot|can not|couldn't|no way to) (?:plug|hook|connect)(?: (?:her|it|us|the coach|the bus|in|up|to shore(?: power)?|anything))*(?: {_PLACE})*(?:,? (?:because |as |since |cause )?(?:there's |there is |they have |they've got )?(?:no|not any) {_SOURCE}(?: {_PLACE})*)?"
    rf"|(?:nowhere|nothing|no place|no where) (?:here )?to (?:plug|hook|connect)(?: (?:in|into|up|to|her|it|us|the coach))*(?: {_PLACE})*|(?:we're|we are|i'm) (?:off grid|off the grid|dry camping|boondocking)(?: tonight)?)$"
)
_TROUBLE = Lazy(r"\b(?:plugged in|inside|breaker|tripp\w*|yet|after|but|still|lost|went|quit)\b")
WITHOUT = (
    "What hangs on shore power is off: heat tape, tank pads, block heater, charger. Keep the furnaces on, read the house battery before you sleep, "
    "and for the tanks say: keep the fresh water from freezing."
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The step that wants shore power passed, as there is none here; None at any other step and for anything else."""
    walk = state.walk
    if walk is None or walk.paused or state.pending is not None or "?" in text:
        return None
    if state.asking is not None and state.asking.what not in ("reading", "resume", "skip-reason"):
        return None
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    said = plain(text)
    if not step.do.lower().startswith("connect shore power") or not _NONE.match(said) or _TROUBLE.search(said):
        return None
    event = EventDraft("told-done", {"topic": walk.topic, "step": walk.number, "said": text, "when": NOT_SO})
    free = replace(state, asking=None, failures=0)
    outcome = walking.forward(
        free, mind, now, f"No shore power here, then: step {walk.number} does not apply. {WITHOUT}"
    )
    return Outcome(outcome.state, outcome.reply, (event, *outcome.events))
