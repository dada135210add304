"""When somebody may drive again and must be off duty, as a time of day, from the duty status on record."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import duty, phrases, walking
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.estimate.driving_hours import HELPER, ON_DUTY_H, REST_H, SOURCE, hours_left
from cabassist.estimate.quantities import duration, exact
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.record import duty as record_of_duty

_LEAD = r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|please|tell me|remind me|exactly) )*"
_AGAIN = Lazy(
    _LEAD
    + r"(?:(?:when|what time|how soon|from when|at what time)(?: exactly)?(?:'s the (?:earliest|soonest)| is the (?:earliest|soonest))? ?(?:can|may|could|am|are|will|do|should|would)? ?(?P<who>i|we|he|she)(?:'m| can| may| am| be| get| allowed| able| ok| okay| good| legal| clear| free| to)* (?:drive|driving|take the wheel|be (?:driving|back (?:at|behind) the wheel|legal|fresh|good to (?:go|drive))|get (?:back )?(?:behind|to) the wheel|go (?:back )?on duty|start driving|hit the road|roll|legal|good to (?:go|drive))(?: (?:again|next|tomorrow|legally|the coach|the bus|in the morning|then|once more))*"
    r"|(?:when(?:'s| is| does| will)?|what time(?:'s| is| does)?) (?:my|the|his|her|our) (?:rest|break|eight(?: hours?)?|8(?: hours?)?|off duty(?: time)?|time off|sleep|eight off|8 off) (?:be )?(?:over|up|done|end|ends|finished|run out|runs out|finish|complete))(?: (?:again|legally))*$"
)
_NEEDS_AGAIN = Lazy(
    r"\b(?:again|next|tomorrow|legal\w*|earliest|soonest|fresh|back)\b|\b(?:rest|break|off|sleep|eight|8)\b"
)
_MUST_STOP = Lazy(
    _LEAD
    + r"(?:(?:when|what time|by when|by what time|until when) (?:do|must|should|have|am|will|does|has) (?:i|we|he|she)(?: (?:have|need|got|has|supposed|legally|to))* (?:be off duty|go off duty|be off the clock|clock off|clock out|be done for the day|sign off|come off duty|stop for the day|quit for the day)"
    r"|(?:when|what time)(?:'s| is| does| do)? (?:my|our|the) (?:duty day|day|fifteen(?: hours?)?|15(?: hours?)?|duty time|shift) (?:over|up|end|ends|run out|runs out|done))(?: (?:by|today|tonight|at the latest|legally))*$"
)
_DROVE = Lazy(
    r"^(?:(?:so|and|ok|okay|well) )*(?:(?:i|i've|i'm|we) )?(?:came|went|been|started|reported|have been|got|signed) on duty (?:at|since|from) (?P<since>[\w' ]{1,24}?),? (?:and |then )?(?:i |i've |i have |we )?(?:drove|driven|have driven|been driving|did|drove for|driving) (?:for )?(?P<h>\d+(?:\.\d+)?|[a-z]+(?: and a half)?) (?:hours?|hrs?)(?: (?:driving|of driving|of it|of that|so far|since|since then|at the wheel|in all|today))*$"
)
_OTHER_ONE = Lazy(r"\b(?:he|she|his|her|partner|co-?driver|other driver)\b")
"""The question is about somebody else than the speaker."""


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A time of day from what stands on record, or the hours left of a shift told in one breath; None for anything else."""
    said = plain(text)
    if (drove := _DROVE.match(said)) is not None and "?" not in text:
        return _driven(state, drove["since"], drove["h"], now)
    if _told_so(state, said):
        return Outcome(state, replace(state.last, readings=(), withdrawn=())) if state.last is not None else None
    if _MUST_STOP.match(said):
        return _off_by(state, said, now)
    if _AGAIN.match(said) and _NEEDS_AGAIN.search(said):
        return _again(state, said, now)
    return None


_SHIFT = "On duty since "
"""How the hours left of a shift told in one breath begin."""


def _told_so(state: State, said: str) -> bool:
    """Whether the hours left are asked right after they were told."""
    last = state.last
    just = last is not None and last.kind == "calculation" and last.say.startswith(_SHIFT)
    return just and duty.asks_hours(said) and AMOUNT.search(said) is None


def _who(state: State, said: str) -> str | None:
    """The driver on record who is meant."""
    people = record_of_duty.drivers(state.record)
    other = _OTHER_ONE.search(said) is not None
    return next((name for name in people if (name.lower() != state.actor.lower()) == other), None)


def _again(state: State, said: str, now: datetime) -> Outcome | None:
    """The moment at which 8 hours off duty in a row are full; None without a status on record."""
    who = _who(state, said)
    moved = [(at, status) for at, status in record_of_duty.changes(state.record, who) if at <= now] if who else []
    if who is None or not moved:
        return None
    rest: datetime | None = None
    for at, status in moved:
        rest = (rest or at) if status in ("off duty", "berth") else None
    if rest is None:
        line = f"{who}: {moved[-1][1]} now. {duration(REST_H)} after going off duty. {HELPER}"
        return walking.control(state, line, topic=duty.TOPIC)
    rested, since = rest + timedelta(hours=REST_H), f"{rest.astimezone(now.tzinfo):%H:%M}"
    left = max(0.0, (rested - now).total_seconds() / 3600)
    if not left:
        line = f"Now: the 8 hours off duty were full at {_when(rested, now)}. {HELPER}"
    else:
        line = f"At {_when(rested, now)}, in {duration(left)}: then 8 hours off duty since {since} are full. {HELPER}"
    working = (f"{since} + {duration(REST_H)} = {rested.astimezone(now.tzinfo):%H:%M}",)
    return _calculated(state, who, exact("driving-hours", left, "h", working=working, source=SOURCE, verdict=line))


def _calculated(state: State, who: str, estimate: Estimate) -> Outcome:
    """An estimate of a driver's hours as a reply."""
    from cabassist.sums.working import Worked, show

    worked, walk = Worked(duty.CALCULATION, duty.TOPIC, estimate), state.walk
    step = phrases.mark(walk) if walk else None
    say = f"{who}: {estimate.verdict}"
    reply = Reply("calculation", say, (say, *show(worked)[1:]), topic=duty.TOPIC, estimate=estimate, step=step)
    return Outcome(replace(state, worked=worked, topic=duty.TOPIC, failures=0), reply)


def _off_by(state: State, said: str, now: datetime) -> Outcome:
    """The moment at which 15 hours on duty are full, after which nobody may drive; asks when nothing is on record."""
    who = _who(state, said)
    changes = record_of_duty.changes(state.record, who) if who else []
    entries = record_of_duty.duty_entries(state.record, who, now) if who else []
    if who is None or not changes or changes[-1][1] not in ("on duty", "driving"):
        line = f"When did you come on duty? Say: on duty since, and the time. No driving after {duration(ON_DUTY_H)} on duty. {HELPER}"
        return walking.control(state, line, topic=duty.TOPIC)
    used, off = timedelta(), timedelta()
    for entry in entries:
        span = (entry.end or now) - entry.start
        off = off + span if entry.status in ("off duty", "berth") else timedelta()
        used = timedelta() if off >= timedelta(hours=REST_H) else used + (timedelta() if off else span)
    left = timedelta(hours=ON_DUTY_H) - used
    if left <= timedelta():
        line = f"{who}: {duration(ON_DUTY_H)} on duty are full. No driving any more. {HELPER}"
    else:
        line = (
            f"{who}: no driving after {_when(now + left, now)}: then {duration(ON_DUTY_H)} on duty are full. {HELPER}"
        )
    return walking.control(state, line, lines=(line, f"Source: {SOURCE}."), topic=duty.TOPIC)


def _driven(state: State, since: str, hours: str, now: datetime) -> Outcome | None:
    """Hours left of a shift told with its beginning and the hours driven. Nothing is put on record: when it was driven was not said."""
    from cabassist.language.numbers import find_numbers, words_of
    from cabassist.sums.working import Worked, show

    start, found = record_of_duty.time_in(since, now), find_numbers(words_of(hours))
    if start is None or len(found) != 1:
        return None
    try:
        estimate = hours_left(found[0].value, (now - start).total_seconds() / 3600)
    except ValueError as error:
        return walking.control(state, str(error), topic=duty.TOPIC)
    worked = Worked(duty.CALCULATION, duty.TOPIC, estimate)
    kept = "It is not on record: for that say on duty and driving as they begin."
    first = f"{_SHIFT}{_when(start, now)}: {estimate.verdict}"
    reply = Reply("calculation", first, (first, *show(worked)[1:], kept), topic=duty.TOPIC, estimate=estimate)
    walk = state.walk
    reply = replace(reply, step=phrases.mark(walk)) if walk else reply
    return Outcome(replace(state, worked=worked, topic=duty.TOPIC, failures=0), reply)


def _when(moment: datetime, now: datetime) -> str:
    """A moment as time of day, with its day when that is not today."""
    there = moment.astimezone(now.tzinfo)
    return f"{there:%H:%M}" if there.date() == now.date() else f"{there:%H:%M} on {there:%A}"
