"""Reminders that are set: asked about, and moved to another time of day."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import reminders, telling, walking
from cabassist.dialogue.types import Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_TIME_OF_DAY = Lazy(r"\b(?:half past|quarter (?:past|to)|o'?clock|a\.?m|p\.?m|noon|midday|midnight)\b|\d:\d\d")


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


_WHAT_IS_SET = Lazy(
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


_ALERT_OFF = Lazy(
    r"^(?:(?:ok|okay|and|so|now|no|please|actually|hey|right|you can|can you|could you|just) )*(?:"
    r"(?:kill|cancel|drop|scrap|clear|delete|forget|lose|stop|end|remove|switch off|turn off|take off|get rid of|never mind) (?:about )?(?:the |that |my |this |your )?(?P<a>[a-z ]{0,24}?) ?(?:level )?(?:alert|watch|heads up|notification|warning)s?"
    r"|(?:no need to|you don't (?:have|need) to|don't|stop) (?:tell(?:ing)?|warn(?:ing)?|alert(?:ing)?|let(?:ting)?|remind(?:ing)?|bother(?:ing)?|watch(?:ing)?|nag(?:ging)?)(?: me)?(?: know)?(?: (?:about|for|on|when|if))?(?: the| my| our)? (?P<b>[a-z]+(?: (?:tank|water|bottle|cylinder|level|temperature))?)(?: (?:any ?more|any longer|now|gets there))*"
    r")(?: (?:one|on the (?P<c>[a-z]+(?: [a-z]+)?)|for the (?P<d>[a-z]+(?: [a-z]+)?)|please|now|then|for me|again|any ?more|off))*$"
)
"""Takes back that a level is watched. Alarms of the cabin are no such thing."""


def alert_off(state: State, text: str) -> Outcome | None:
    """ "Cancel that waste alert": the level is watched no longer; None for anything else, or where none was ever spoken of by that name."""
    found = _ALERT_OFF.match(plain(text))
    if found is None:
        return None
    name = next((group for group in (found["a"], found["b"], found["c"], found["d"]) if group), "").strip()
    what = telling.named_in(name)
    if (name and what is None) or (found["b"] and not state.alerts):
        return None
    gone = [alert for alert in state.alerts if what in (None, alert.what)][-1:]
    if not gone:
        return walking.control(state, f"No {name} alert is set." if name else "No alert is set.")
    left = tuple(alert for alert in state.alerts if alert is not gone[0])
    state = replace(walking.remembered(state, "taking that alert off"), alerts=left)
    return walking.control(state, f"All right. I no longer watch {gone[0].name}.")
