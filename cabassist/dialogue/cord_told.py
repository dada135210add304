"""Whether the shore cord was told to be plugged in: by a walk past its step, by a voltage read, or in so many words."""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_IN_STEPS = Lazy(r"^(?:Push the plug into the building|Connect shore power)")
_OUT_STEPS = Lazy(r"^(?:Pull the plug out of the building|Disconnect shore power|Leave the cord unplugged)")
_CORD = r"(?:the |our |my )?(?:shore )?(?:power )?(?:cord|shore(?: power)?|plug|cable|shoreline|shore line|hook ?up)"
_OUT = Lazy(
    rf"^(?:(?:ok|okay|yes|yeah|yep|and|so|right|done|i|i've|we|we've|he|he's|she|have|has|just|already) )*(?:unplugged|pulled|disconnected|unhooked|stowed|coiled|put away|rolled up|took off|took in) (?:{_CORD}|it)\b|^(?:(?:ok|okay|yes|yeah|and|so|right) )*{_CORD}(?:'s| is| has been| was|'s been)? (?:now |all |already |been )*(?:off|out|unplugged|pulled|disconnected|stowed|coiled|put away|in the bay|aboard)\b|^(?:(?:ok|okay|yes|and|so|we're|i'm|we are|i am) )*(?:unplugged|unhooked|off shore(?: power)?|disconnected)(?: (?:now|already|and stowed|and ready))*$"
)
_IN = Lazy(
    rf"^(?:(?:ok|okay|yes|yeah|yep|and|so|right|done|i|i've|we|we've|he|he's|she|have|has|just|already) )*(?:plugged in|plugged|connected|hooked up) {_CORD}|^(?:(?:ok|okay|yes|and|so|right) )*{_CORD}(?:'s| is| has been)? (?:now |all |already |been )*(?:plugged in|connected|in the (?:wall|outlet|building)|hooked up|live|on)\b|^(?:(?:ok|okay|yes|and|so|we're|i'm|we are|i am) )*(?:plugged in|hooked up|on shore(?: power)?)(?: (?:now|already|to the (?:building|hotel|rink)))*$"
)
_NO = Lazy(r"\b(?:not|\w+n't|if|when|after|before|once|unless|until|should|could|never|almost|about to|going to)\b")
LEAST_V = 50.0
"""A voltage above this is read on a cord that is plugged in."""


def after(before: State, outcome: Outcome, said: str, mind: Mind) -> Outcome:
    """The outcome, whose state holds whether the cord was last told to be in."""
    cord = _told(before, outcome, plain(said), mind)
    if cord is None or cord == outcome.state.cord_in:
        return outcome
    return outcome._replace(state=replace(outcome.state, cord_in=cord))


def _told(before: State, outcome: Outcome, said: str, mind: Mind) -> bool | None:
    """What this turn tells about the cord; None when nothing."""
    if not _NO.search(said):
        if _OUT.match(said):
            return False
        if _IN.match(said):
            return True
    told = None
    for walk in before.walks:
        after = next((one for one in outcome.state.walks if one.topic == walk.topic), None)
        if after is None and not any(event.payload.get("move") == "end" for event in _of_walk(outcome)):
            continue  # left, not finished
        skipped = {one.step for one in after.skipped} if after is not None else _left_out(outcome)
        steps = mind.knowledge.procedure(walk.topic).steps
        for place in range(walk.at, after.at if after is not None else len(walk.plan)):
            do = steps[walk.plan[place]].do
            if walk.plan[place] not in skipped:
                told = True if _IN_STEPS.match(do) else False if _OUT_STEPS.match(do) else told
    if any(r.what == "shore_voltage" and (r.value or 0.0) > LEAST_V for r in outcome.reply.readings):
        told = True
    return told


def _of_walk(outcome: Outcome) -> list[EventDraft]:
    return [event for event in outcome.events if event.kind == "walk"]


def _left_out(outcome: Outcome) -> set[int]:
    """The steps that were skipped in a walk that has just ended."""
    skips = [skip for event in _of_walk(outcome) for skip in event.payload.get("skipped") or ()]
    return {skip["step"] - 1 for skip in skips}
