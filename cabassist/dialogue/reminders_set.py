"""Reminders that are set: asked about, and moved to another time of day."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import reminders, telling, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.journal.events import EventDraft
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
    near = min(_moments(plain(time), now), key=lambda moment: abs(moment - last.due), default=timers[-1].due)
    if last.clock and near != timers[-1].due and not _HALF.search(plain(time)):  # "make that 3" of 2 am is 3 am
        timers = (*timers[:-1], replace(timers[-1], due=near, announce=f"It is {near:%H:%M}."))
        say = f"I remind you at {_when(near, now)}."
        event = EventDraft("reminder", {"said": time, "seconds": (near - now).total_seconds()})
        outcome = outcome._replace(reply=replace(outcome.reply, say=say, show=(say,)), events=(event,))
    if last.announce.startswith("Reminder: "):
        timers = (*timers[:-1], replace(timers[-1], announce=last.announce))
    note = replace(outcome.state.undo[-1], timers=state.timers)
    return outcome._replace(state=replace(outcome.state, timers=timers, undo=(*outcome.state.undo[:-1], note)))


_AT = r"(?:half past |quarter past |quarter to )?(?:\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|noon|midnight)(?:[ :.]?(?:[0-5]\d|thirty|fifteen|forty ?five))?(?: ?o'?clock)?(?: ?(?:a\.?m|p\.?m)|(?: in the (?:morning|afternoon|evening|night)| at night| tonight| tomorrow))?"
_CALL = r"(?:alarm|reminder|wake ?-?up(?: call)?|call|timer|one)"
_ASKED = r"^(?:(?:no|ok|okay|and|so|now|please|actually|sorry|hey|wait|oh|can you|could you|you can|let's) )*"
_OTHER_TIME = Lazy(
    _ASKED
    + rf"(?:(?:cancel|kill|drop|forget|scrap|delete|lose|clear|never ?mind|not|stop|skip|remove|undo) (?:about )?(?:the |that |my |this )?(?P<a>{_AT})(?: {_CALL})? (?:and |then |but |instead )*(?:make (?:it|that)|set (?:it|one|that|me one)?(?: for| to)?|change (?:it|that) to|move (?:it|that) to|wake (?:me|us)(?: up)?(?: at)?|do|remind (?:me|us) at|i want|i need|it's|rather|better)(?: at| for| to)? (?P<to_a>{_AT})"
    rf"|(?:change|move|shift|push|put|set|make|reset|bump|switch|pull|bring) (?:the |that |my |this )?(?P<b>{_AT})? ?{_CALL}(?: (?:from|at|of|for) (?P<b2>{_AT}))?(?: back| forward| up| out| on)?(?: (?:to|for|at|till|until|into|be at|go off at|be))? (?P<to_b>{_AT})"
    rf"|(?:wake|remind|call|buzz) (?:me|us)(?: up)? (?:at )?(?P<to_c>{_AT}) (?:instead of|not|rather than)(?: at)? (?P<c>{_AT})"
    rf"|(?:instead of|rather than|not)(?: at)? (?P<d>{_AT}) (?:wake|remind|call|buzz) (?:me|us)(?: up)?(?: at)? (?P<to_d>{_AT}))(?: (?:instead|please|now|then|sharp))*$"
)
"""A reminder at a time of day, to be at another."""


def at_other_time(state: State, text: str, now: datetime) -> Outcome | None:
    """ "Cancel the 2 am alarm, make it 3": that reminder at the other time, in the same half of the day unless said; None for anything else."""
    found = _OTHER_TIME.match(plain(text).replace(".", ""))
    if found is None:
        return None
    old = next((found[name] for name in ("a", "b", "b2", "c", "d") if found[name]), "")
    new = next(found[name] for name in ("to_a", "to_b", "to_c", "to_d") if found[name])
    clocks = [timer for timer in state.timers if timer.clock]
    named = [timer for timer in clocks if not old or timer.due in _moments(old, now)]
    if not clocks and not old:
        return None
    if not named:
        held = f" I have one at {' and '.join(f'{timer.due:%H:%M}' for timer in clocks)}." if clocks else ""
        return walking.control(state, f"No reminder is set for {old}.{held} Say: wake me at {new}.")
    last = named[-1]
    likely = min(_moments(new, now), key=lambda moment: abs(moment - last.due), default=None)
    if likely is None:
        return None
    named_so = last.announce.startswith("Reminder: ")
    moved_to = replace(last, due=likely, announce=last.announce if named_so else f"It is {likely:%H:%M}.")
    timers = tuple(moved_to if timer is last else timer for timer in state.timers)
    line = f"I remind you at {_when(likely, now)}, no longer at {last.due:%H:%M}."
    event = EventDraft("reminder", {"said": text, "seconds": (likely - now).total_seconds()})
    off = EventDraft("timer-off", {"announce": last.announce})
    return walking.control(
        replace(walking.remembered(state, "moving that reminder"), timers=timers), line, events=(off, event)
    )


_HALF = Lazy(
    r"\b(?:am|pm|in the (?:morning|afternoon|evening|night)|at night|tonight|tomorrow(?: \w+)?|noon|midnight)$"
)


def _when(moment: datetime, now: datetime) -> str:
    """A moment as time of day, with its weekday when that is not today."""
    return f"{moment:%H:%M}" if moment.date() == now.date() else f"{moment:%A %H:%M}"


def _moments(words: str, now: datetime) -> list[datetime]:
    """The moments to come within a day that a time of day may mean."""
    said = re.sub(r" ?o'?clock", "", words.strip())
    half = _HALF.search(said)
    tries = [said] if half or said in ("noon", "midnight") else [f"{said} am", f"{said} pm"]
    found = (reminders.clock_of(f"at {one}", now) for one in tries)
    moments = {moment for moment in found if moment is not None}
    if not half and (plainly := reminders.clock_of(f"at {said}", now)) is not None:
        moments.add(plainly)
    return sorted(moments)


_TIMER_OFF = Lazy(
    _ASKED
    + r"(?:cancel|kill|stop|end|drop|scrap|turn off|switch off|delete|clear|forget|lose|bin|remove|get rid of|shut off) (?:about )?(?:the |that |my |a |any |all (?:the |my )?)?(?P<what>[\w' ]{0,30}?) ?(?:timers?|reminders?|countdowns?|wake ?-?up(?: calls?)?)(?: (?:off|now|please|then|too))*$"
)


_CLOCK_OFF = Lazy(
    _ASKED
    + rf"(?:cancel|kill|stop|end|drop|scrap|turn off|switch off|delete|clear|forget|lose|bin|remove|get rid of|skip|never ?mind) (?:about )?(?:the |that |my )?(?P<at>{_AT})(?: {_CALL})(?: (?:off|now|please|then|too))*$"
)
""" "The 2 am one"; a bare number may be anything."""


def _at_clock_off(state: State, said: str, now: datetime) -> Outcome | None:
    """ "Cancel the 2 am one": the reminder set for that time of day taken off; None for anything else."""
    found = _CLOCK_OFF.match(said)
    clocks = [timer for timer in state.timers if timer.clock] if found is not None else []
    if found is None or not clocks:
        return None
    named = [timer for timer in clocks if timer.due in _moments(found["at"], now)]
    if named:
        return reminders.off(state, named[-1])
    if found["at"] in ("one", "two"):
        return None  # "the one" names no time
    held = " and ".join(f"{timer.due:%H:%M}" for timer in clocks)
    return walking.control(state, f"No reminder is set for {found['at']}. I have one at {held}.")


def timer_off(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Cancel the heat tape timer": the one for that taken off, also by the walk it belongs to; says so when there is none. None for anything else."""
    if (by_time := _at_clock_off(state, plain(text), now)) is not None:
        return by_time
    found = _TIMER_OFF.match(plain(text))
    if found is None:
        return None
    if not state.timers:
        return walking.control(state, "No timer is running.")
    if (off := reminders.named_off(state, text, mind, now)) is not None:
        return off
    words = set(found["what"].split()) - {"the", "that", "my", "last", "one"}
    if not words or found["what"].split()[0] in ("all", "every", "both"):
        return None
    titles = {
        timer.topic: set(plain(mind.knowledge.title(timer.topic)).split()) for timer in state.timers if timer.topic
    }
    of_walk = [timer for timer in state.timers if timer.topic and words <= titles[timer.topic]]
    if of_walk:
        return reminders.off(state, of_walk[-1])
    if re.search(r"\d|\b(?:minutes?|hours?|first|second|third|other|long\w*|short\w*)\b", found["what"]):
        return None
    running = " ".join(timer.announce for timer in state.timers)
    return walking.control(state, f"No timer is for that. Running: {running}")


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
