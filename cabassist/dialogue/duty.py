"""Duty status by voice, who is speaking, and the hours left that follow. A helper, not a logging device."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain
from cabassist.record import duty
from cabassist.record.defects import open_defects
from cabassist.record.entries import DUTY, Record

if TYPE_CHECKING:
    from cabassist.estimate.types import Estimate

CALCULATION = "driving-hours"
TOPIC = "plan-driving-hours"
LIKELY = 0.2
"""Probability of the calculation from which on a question without numbers may be answered from the entries."""
_HOURS = Lazy(
    r"\b(?:how (?:much )?(?:long|longer|many|much|far)|hours?|time)\b.*\b(?:left|drive|driving|behind the wheel|at the wheel|on duty)\b"
    r"|\b(?:hours|driving time|duty time) (?:left|remaining)\b|\bwhen (?:must|do|should) (?:i|we|he|she) (?:stop|swap|change over|hand over)\b"
)
_PLAIN = Lazy(
    r"^(?:so |and |ok |okay )*how (?:long|much longer|much time|many (?:more )?hours(?: of driving)?) (?:more )?(?:(?:may|can|could|do|does|have|has|did) )?(?:i|we|he|she|[a-z]+)(?: both)?"
    r"(?: still| legally| now| got| have| to)* (?:drive|driving|left|keep driving|be on duty|left to drive|have left|at the wheel|behind the wheel|between us)(?: left| today| tonight| now| for| between us| together)*$"
    r"|^(?:how many )?(?:driving |duty |my |our )*hours (?:left|remaining|do (?:i|we) have left)$"
)
"""Asks for hours of driving and for nothing else, so that the words are enough."""
_TIRED = Lazy(
    r"\b(?:tired|exhausted|sleepy|asleep|drowsy|coffee|dead on|burned out|worn out|wiped|nodding|head spin\w*|eyes?|yawn\w*|smell|smoke|alarm)\b"
)
"""With these the procedure and its warning come first."""
_OTHER_RULE = Lazy(
    r"\bdriv(?:e|ing) (?:on|with|without|in|at|like|to|from|through|over|before|after|the)\b|"
    r"\b(?:restart|reset|34|thirty ?four|break|split|adverse|snow|weather|limit|rule|law|legal|week|seven|eight|60|70|sixty|seventy|rest|sleep|miles?|fuel|diesel|range)\b|\d"
)
_BOTH = Lazy(r"\b(?:both|between us|the two of us|two of us|together|two drivers|the pair of us)\b")
_OTHER_ONE = Lazy(r"\b(?:he|she|him|her|partner|other driver|co-?driver|co driver|relief)\b")
_SPEAKER = Lazy(
    r"^(?:this is|it's|it is|here is|here's|i'm|i am) (?P<a>[a-z][\w-]{1,20}) (?:speaking|here|talking|taking over|at the wheel now)(?: now)?$"
    r"|^my name(?:'s| is) (?P<b>[a-z][\w-]{1,20})$|^(?:driver )?(?P<c>[a-z][\w-]{1,20}) (?:speaking|taking over)(?: now)?$|^(?:this is|i'm|i am) driver (?P<d>[a-z][\w-]{1,20})$|^(?:this is|it's) (?P<e>[a-z][\w-]{1,20})(?: now)?$"
)
_SPEAKING = ("speaking", "here", "talking", "taking over", "name", "driver", "this is", "it's", "at the wheel")
_NO_NAME = frozenset(
    "is not it the a who now still just he she i we they you me nobody someone anyone water propane waste fresh nothing what there here over back driver all".split()
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A duty status or a change of who speaks, put on record; None when the text states neither."""
    return _speaker(state, text) or _status(state, text, mind, now)


def _speaker(state: State, text: str) -> Outcome | None:
    said = bare(text)
    found = _SPEAKER.match(said) if names_any(said, _SPEAKING) else None
    if found is None or text.rstrip().endswith("?"):
        return None
    name = next(group for group in found.groups() if group)
    known = {person.lower(): person for person in (*duty.drivers(state.record), state.actor)}
    if name in _NO_NAME or (found["e"] and name not in known):
        return None
    written = re.search(rf"\b{re.escape(name)}\b", text, re.IGNORECASE)
    shown = known.get(name, written.group(0).capitalize() if written else name.capitalize())
    line = f"{shown} is speaking now. What is said from here on is on record under that name."
    return walking.control(
        replace(state, actor=shown), line, events=(EventDraft("speaker", {"name": shown, "before": state.actor}),)
    )


_AND_ON = Lazy(r"^(?:(?:and|what about|how about|then) )+(?:on duty|driving|off duty|at the wheel)(?: then)?$")


def _status(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    known = {name.lower(): name for name in (*duty.drivers(state.record), state.actor)}
    said = duty.status_in(text, known)
    asked = state.last is not None and state.last.kind == "calculation" and state.last.topic == TOPIC
    if said is None:
        return None
    if asked and _AND_ON.match(plain(text)):  # after "how long may I drive" it asks for the hours of that
        from cabassist.dialogue.following import not_placed

        return not_placed(state, mind)
    who = state.actor
    if said.who in duty.OTHER_DRIVER and said.who not in known:
        others = [name for name in known.values() if name.lower() != state.actor.lower()]
        if not others:
            return walking.control(state, "I do not know the other driver's name. Say: driver, the name, is driving.")
        who = others[0]
    elif said.who in known:
        who = known[said.who]
    elif said.who and said.named_as_driver:
        who = said.who.capitalize()
    elif said.who:
        name = said.who.capitalize()
        return walking.control(
            state, f"I know no driver called {name}. If that is one, say: driver {name} is {said.status}."
        )
    start = now
    if said.since:
        at = duty.time_in(said.since, now)
        if at is None:
            return None
        start = at
    changes = duty.changes(state.record, who)
    if changes and changes[0][0] <= start < changes[-1][0]:  # before the first one it only adds what went before
        last_at, last = changes[-1]
        line = (
            f"{who} is on record as {last} since {last_at.astimezone(now.tzinfo):%H:%M}, later than {start:%H:%M}. "
            "Say a later time, or undo the last one."
        )
        return walking.control(state, line)
    entry = duty.said(said.status, start, now, state.actor, who, text)
    state = walking.remembered(state, f"{who} {said.status}")
    state = replace(state, record=state.record.with_entries(entry), failures=0)
    lines = [f"{who}: {said.status} since {start:%H:%M}."]
    if said.status == "driving":
        lines = [*_held(state.record), *lines, *_two_at_the_wheel(state.record, who, now)]
    left = estimate_of(state.record, who, now) if said.status in ("driving", "on duty") else None
    if left is not None:
        lines.append(_in_words(left.verdict))
    else:
        lines.append("A helper, not a logging device.")
    return walking.control(
        state,
        " ".join(lines).replace("WARNING: ", "Warning. "),
        lines=tuple(lines),
        topic=TOPIC,
        events=(entry.draft(),),
    )


def _held(record: Record) -> list[str]:
    return [f"WARNING: Defect {d.words()}. {d.verdict()}" for d in open_defects(record) if d.stops or d.unclear][:2]


def _two_at_the_wheel(record: Record, who: str, now: datetime) -> list[str]:
    found = []
    for other in duty.drivers(record):
        changes = [change for change in duty.changes(record, other) if change[0] <= now]
        if other.lower() != who.lower() and changes and changes[-1][1] == "driving":
            found.append(f"{other} is still on record as driving. Say what {other} does now.")
    return found


def estimate_of(record: Record, who: str, now: datetime) -> Estimate | None:
    """Driving hours left of one driver from the entries, or None when there are none.

    A split rest in the berth is not counted by itself; where it would give more, that is said beside the number.
    """
    from cabassist.estimate.driving_hours import hours_left_from_entries

    entries = duty.duty_entries(record, who, now)
    if not entries or now.tzinfo is None or all(entry.start >= now for entry in entries) and len(entries) == 1:
        return _fresh_start(record, who, now) if entries else None
    plain_one = hours_left_from_entries(entries, now, home=now.tzinfo)
    if all(entry.status != "berth" for entry in entries):
        return plain_one
    split = hours_left_from_entries(entries, now, home=now.tzinfo, berth_split=True)
    if split.value is None or plain_one.value is None or split.value <= plain_one.value:
        return plain_one
    note = f"with the split rest of 49 CFR 395.1(g)(3), if the bunk is a berth under 393.76: {split.value:.1f} h"
    return replace(plain_one, assumptions=(*plain_one.assumptions, note), verdict=f"{plain_one.verdict} {note.capitalize()}.")  # fmt: skip


def _fresh_start(record: Record, who: str, now: datetime) -> Estimate | None:
    """The very first entry, begun this minute: nothing has been used yet."""
    from datetime import timedelta

    from cabassist.estimate.driving_hours import hours_left_from_entries

    entries = duty.duty_entries(record, who, now)
    assert now.tzinfo is not None
    return hours_left_from_entries(entries, now + timedelta(seconds=1), home=now.tzinfo)


def hours(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """Hours left, from the entries, when that is asked without numbers; None when something else is asked."""
    said = plain(text)
    if not state.record.of(DUTY):
        return None
    likely = dict(ranking.calculations).get(CALCULATION, 0.0) >= LIKELY
    asked = _PLAIN.search(said) or (likely and _HOURS.search(said))
    if state.pending is not None or not asked or _OTHER_RULE.search(said) or _TIRED.search(said):
        return None
    people = duty.drivers(state.record)
    named = next((name for name in people if re.search(rf"\b{re.escape(name.lower())}\b", said)), None)
    mine = next((name for name in people if name.lower() == state.actor.lower()), None)
    others = [name for name in people if name.lower() != state.actor.lower()]
    if _BOTH.search(said):
        return _both(state, people, now) if len(people) > 1 else None
    who = named or ((others[0] if others else None) if _OTHER_ONE.search(said) else mine)
    found = estimate_of(state.record, who, now) if who else None
    if who is None or found is None:
        return None
    return _answer(state, who, found)


def asks_hours(said: str) -> bool:
    """Whether a plain text asks for hours of driving and for nothing else."""
    return _PLAIN.search(said) is not None


def _in_words(verdict: str) -> str:
    """A verdict with its broken hours as hours and minutes."""
    from cabassist.estimate.quantities import duration

    return re.sub(r"\b(\d+\.\d+) hours?\b", lambda found: duration(float(found[1])), verdict)


def _both(state: State, people: list[str], now: datetime) -> Outcome | None:
    from cabassist.estimate.driving_hours import two_drivers

    first, second = people[0], people[1]
    mine, other = estimate_of(state.record, first, now), estimate_of(state.record, second, now)
    if mine is None or other is None or mine.value is None or other.value is None:
        return None
    return _answer(state, f"{first} and {second}", two_drivers(mine, other, names=(first, second)))


def _answer(state: State, who: str, found: Estimate) -> Outcome:
    from cabassist.sums.working import Worked, say, show

    found = replace(found, verdict=_in_words(found.verdict))
    worked = Worked(CALCULATION, TOPIC, found)
    walk = state.walk
    reply = Reply(
        "calculation",
        f"{who}: {found.verdict or say(worked)}",
        (f"{who}, from the duty status on record:", *show(worked)),
        topic=TOPIC,
        estimate=found,
        step=phrases.mark(walk) if walk else None,
    )
    event = EventDraft(
        "worked-out", {"said": who, "calculation": CALCULATION, "value": found.value, "asked": "", "driver": who}
    )
    return Outcome(replace(state, worked=worked, topic=TOPIC, failures=0), reply, (event,))


def lines_of(record: Record, now: datetime) -> list[str]:
    """Where each driver stands, in one line each."""
    found = []
    for who in duty.drivers(record):
        changes = [change for change in duty.changes(record, who) if change[0] <= now]
        if not changes:
            continue
        since, status = changes[-1]
        left = estimate_of(record, who, now)
        words = f"{who}: {status} since {since.astimezone(now.tzinfo):%a %H:%M}"
        found.append(f"{words}. {_in_words(left.verdict)}" if left is not None else f"{words}.")
    return found
