"""Reminders that are set: asked about, and moved to another time of day."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import reminders
from cabassist.dialogue.types import Outcome, State
from cabassist.language.normalise import plain

_TIME_OF_DAY = re.compile(r"\b(?:half past|quarter (?:past|to)|o'?clock|a\.?m|p\.?m|noon|midday|midnight)\b|\d:\d\d")


def moved(state: State, time: str, now: datetime) -> Outcome | None:
    """The reminder at a time of day set last, at another time of day: "no make that five thirty"; None when that is none."""
    last = state.timers[-1]
    if not (last.clock or _TIME_OF_DAY.search(time)):
        return None
    time = re.sub(r"^(?:at |by |for |a )+", "", time)
    outcome = reminders.at_clock(replace(state, timers=state.timers[:-1]), f"remind me at {time}", now)
    if outcome is None:
        return None
    timers = outcome.state.timers
    if last.announce.startswith("Reminder: "):
        timers = (*timers[:-1], replace(timers[-1], announce=last.announce))
    note = replace(outcome.state.undo[-1], timers=state.timers)
    return outcome._replace(state=replace(outcome.state, timers=timers, undo=(*outcome.state.undo[:-1], note)))


_WHAT_IS_SET = re.compile(
    r"^(?:(?:so|and|ok|okay|now|hey|wait|remind me|tell me) )*(?:"
    r"(?:what|when|what time|why)(?: time)?(?:'s|'re| is| are| am| have| did| do| was| were| will)? (?:i|you|we)(?:'ve|'re|'ll)? (?:(?:got|have|had|me|us|down|to|asked?|told|set|gonna|going to|be|being|supposed to) )*(?:you )?(?:to )?(?:waking|wake|woken|reminding|remind|reminded|alerting|alert|nudging|buzzing|beeping|calling) ?(?:me|us)?(?: up)?(?: (?:for|of|about|at|to do|tomorrow|tonight|in the morning|then|again))*"
    r"|(?:what|which|any|how many|when(?:'s| is| are)?|have i(?: got)?(?: any)?|do i have(?: any)?|are there(?: any)?|is there(?: an?| any)?|list|show me|read me)(?: (?:the|my|all|other|of|next))* (?:reminders?|alarms?|wake ?-?up calls?|wake ?-?ups?)(?: (?:have|do|did|are|is|i|you|we|got|have|set|there|on|running|for|going|going off|due|left|now|tomorrow|tonight|still))*"
    r"|(?:is there |have i |do i have |have you )?(?:got )?anything set(?: (?:to|for))? (?:wake|remind|buzz|alert|nudge)(?: (?:me|us))?(?: (?:up|tomorrow|tonight|in the morning))*"
    r"|what(?:'s|'re| is| are) (?:the|my) (?:reminders?|alarms?|wake ?-?up)(?: (?:set|on|now|again))*(?: (?:for|at|to))?)$"
)
"""Asks what reminders are set. The alarms of the cabin are not meant by "what is the alarm for" alone."""


def asks_what_is_set(text: str) -> bool:
    """Whether it asks what the driver is to be reminded of, or woken for."""
    return _WHAT_IS_SET.match(plain(text)) is not None
