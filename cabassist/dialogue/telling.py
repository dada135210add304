"""Readings in the conversation: stored, echoed, corrected, read back, taken back."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.dialogue import phrases, reminders, walking
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, ReplyKind, State, Stored, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.reading_types import Heard, Reading
from cabassist.procedures.model import Step
from cabassist.record.entries import withdrawal

FULL, EMPTY = 0.97, 0.03
"""A level at which a step that fills or empties is done."""
KEPT = 400
"""Readings kept in the conversation; the journal keeps all."""
SPOKEN = 2
"""How many of the lines that follow from readings are spoken; all are shown."""
CO_CONCERN_PPM = 9.0
"""Above this an indoor reading is no background; EPA's 8-hour outdoor limit is 9 ppm (from memory)."""


def echo(reading: Reading, coach: Coach) -> str:
    """One short line with a reading's meaning on this coach. Loaded when the first reading is told."""
    from cabassist.language.plausibility import echo as echoed

    return echoed(reading, coach)


def level_of(reading: Reading, coach: Coach) -> float | None:
    """The share of full that a reading means, 0 to 1, or None where there is no full."""
    from cabassist.language.plausibility import fraction_of_full

    return fraction_of_full(reading, coach)


def is_flat(reading: Reading, coach: Coach) -> bool:
    """Whether a house battery reads at or below its quarter: 12.06 V at rest for 12 V (BCI table), twice that for 24 V."""
    if reading.what != "house_battery" or reading.value is None:
        return False
    if reading.unit == "V":
        return reading.value <= 12.06 * coach.house_battery.volts / 12
    level = level_of(reading, coach) if reading.unit in ("percent", "fraction") else None
    return level is not None and level <= 0.25


def as_payload(reading: Reading) -> dict[str, object]:
    """A reading as the scripting contract writes it."""
    return {
        "what": reading.what,
        "which": reading.which,
        "value": reading.value,
        "unit": reading.unit,
        "approx": reading.approx,
        "flag": reading.flag,
        "from": reading.counted_from,
    }


def told(heard: Heard, said: str, state: State, mind: Mind, now: datetime, topic: str | None = None) -> Outcome:
    """Store what was heard, say what it means, ask about what cannot be; a walk that waited for it moves on."""
    return _in_walk(_noted(heard, said, state, mind, now, topic), heard, mind, now)


def beside(
    heard: Heard, said: str, state: State, mind: Mind, now: datetime
) -> tuple[State, tuple[str, ...], tuple[EventDraft, ...]]:
    """The state with readings that were told beside something else, their echoes, and their events. No walk moves."""
    outcome = _noted(heard, said, state, mind, now)
    kept = outcome.state
    state = replace(state, stored=kept.stored, timers=kept.timers, walks=kept.walks, told=heard.readings)
    return state, outcome.reply.show[: len(heard.readings)], outcome.events


def noted_beside(heard: Heard, said: str, outcome: Outcome, mind: Mind, now: datetime) -> Outcome:
    """The answer to what was told first, with the carbon monoxide measured that was told in the same breath stored as well."""
    measured = tuple(one for one in heard.readings if one.what == "co_ppm")
    if not measured or heard.withdrawn or outcome.reply.readings:
        return outcome
    state, echoes, events = beside(Heard(measured), said, outcome.state, mind, now)
    reply = replace(outcome.reply, show=(*echoes, *outcome.reply.show), readings=measured)
    return Outcome(state, reply, (*events, *outcome.events))


def _noted(heard: Heard, said: str, state: State, mind: Mind, now: datetime, topic: str | None = None) -> Outcome:
    back = _displaced(state, heard)
    state = walking.remembered(state, "that reading")
    gone = list(heard.withdrawn)
    stored = (*_without(state.stored, gone), *back, *(Stored(reading, now) for reading in heard.readings))[-KEPT:]
    state = replace(state, stored=stored, told=heard.readings or state.told, topic=topic or state.topic)
    state = walking.made_up(state, {reading.what for reading in heard.readings}, mind)
    state, alerts = reminders.crossed(heard.readings, state, mind)
    lines = [*(echo(reading, mind.coach) for reading in heard.readings), *alerts]
    lines += [f"Taken back: {echo(reading, mind.coach)}" for reading in gone]
    lines += [f"Stands again: {echo(held.reading, mind.coach)}" for held in back]
    lines += [refusal.message for refusal in heard.refused]
    if heard.ask:
        lines.append(heard.ask)
    standing = replace(heard, readings=(*heard.readings, *(held.reading for held in back)))
    state, follows = _followed(state, standing, said, mind, now)
    spoken, lines = [*lines, *follows[:SPOKEN]], [*lines, *follows]
    events = [EventDraft("reading", {**as_payload(r), **_width(r), "said": said}) for r in heard.readings]
    events += [EventDraft("withdrawn", {**as_payload(r), "said": said}) for r in gone]
    events += [_again(held, said) for held in back]
    events += [
        EventDraft("refused-reading", {"what": r.what, "which": r.which, "reason": r.reason, "said": said})
        for r in heard.refused
    ]
    kind: ReplyKind = "reading" if heard.readings else "control" if gone else "clarify"
    return Outcome(
        state,
        Reply(kind, " ".join(spoken), tuple(lines), topic=topic, readings=heard.readings, withdrawn=tuple(gone)),
        tuple(events),
    )


def _again(held: Stored, said: str) -> EventDraft:
    """What the journal keeps of an earlier reading that stands again, with the time at which it was told."""
    return EventDraft("reading", {**as_payload(held.reading), **_width(held.reading), "said": said, "at": held.at.isoformat()})  # fmt: skip


def _displaced(state: State, heard: Heard) -> tuple[Stored, ...]:
    """The readings that were taken back when a wrong one was told, where the wrong one is now said to be of something else.

    "No, that was the house battery": the diesel told before stands again, as no other was ever read.
    """
    told = {(one.what, one.which) for one in heard.readings}
    found: list[Stored] = []
    for wrong in heard.withdrawn:
        if (wrong.what, wrong.which) in told or not heard.readings:
            continue
        note = next((one for one in reversed(state.undo) if not any(same(s.reading, wrong) for s in one.stored)), None)
        name = (wrong.what, wrong.which)
        before = [s for s in note.stored if (s.reading.what, s.reading.which) == name][-1:] if note is not None else []
        found += [held for held in before if held not in state.stored]
    return tuple(found)


def _without(stored: Sequence[Stored], gone: Sequence[Reading]) -> tuple[Stored, ...]:
    """What still stands: for each reading taken back the latest that is the same goes, older ones stay."""
    kept = list(stored)
    for reading in gone:
        last = next((held for held in reversed(kept) if same(held.reading, reading)), None)
        if last is not None:
            kept.remove(last)
    return tuple(kept)


def _width(reading: Reading) -> dict[str, float]:
    """The range that vague words left open, so that the record keeps it."""
    ends = {"low": reading.low, "high": reading.high} if reading.approx else {}
    return {name: value for name, value in ends.items() if value is not None}


def _followed(state: State, heard: Heard, said: str, mind: Mind, now: datetime) -> tuple[State, tuple[str, ...]]:
    """What follows from the readings: questions first, then how long each supply lasts. Deadlines are set anew."""
    if not (heard.readings or heard.withdrawn):
        return state, ()
    from cabassist.dialogue.deadlines import after_telling, as_worked

    after = after_telling(state, heard.readings, heard.withdrawn, said, mind, now)
    state = after.state
    if state.walk is None:  # in a walk "why" asks about the step
        state = replace(state, worked=as_worked(after.first, state))
    return state, (*after.asked, *after.lasts)


def same(a: Reading, b: Reading) -> bool:
    """Whether two readings are the same entry, however they were worded."""
    return (a.what, a.which, a.value, a.unit, a.flag) == (b.what, b.which, b.value, b.unit, b.flag)


def _in_walk(outcome: Outcome, heard: Heard, mind: Mind, now: datetime) -> Outcome:
    """A reading that the step in hand waits for, or that finishes it, moves the walk on."""
    state, reply, events = outcome
    walk = state.walk
    if walk is None:
        return outcome
    procedure = mind.knowledge.procedure(walk.topic)
    finisher = _finished_by(heard, walk.plan, walk.at, procedure.steps, mind)
    if finisher is not None:
        state = replace(state, walks=(*state.walks[:-1], replace(walk, at=finisher)))
        moved = walking.forward(state, mind, now)
        return _joined(reply, moved, events)
    step = phrases.step_of(procedure, walk)
    if step.reading and any(r.what == step.reading for r in heard.readings):
        moved = walking.forward(replace(state, asking=None), mind, now)
        return _joined(reply, moved, events)
    standing = f"You are at step {walk.number} of {len(walk.plan)}."
    reply = replace(reply, show=(*reply.show, standing), step=phrases.mark(walk), topic=reply.topic or walk.topic)
    return Outcome(state, reply, events)


def _finished_by(heard: Heard, plan: tuple[int, ...], at: int, steps: Sequence[Step], mind: Mind) -> int | None:
    """The place in the plan of a coming step that one of the readings finishes, the nearest first.

    A full tank ends the filling wherever the driver stood: what he sees outranks where the list was. Only
    steps from the one in hand on are looked at, so that an old remark never moves a walk back.
    """
    for place in range(at, len(plan)):
        step = steps[plan[place]]
        for reading in heard.readings:
            if not step.ends_when or reading.what != step.reading:
                continue
            level = level_of(reading, mind.coach)
            if level is None:
                continue
            if (step.ends_when == "full" and level >= FULL) or (step.ends_when == "empty" and level <= EMPTY):
                return place
    return None


def _joined(reply: Reply, moved: Outcome, events: tuple[EventDraft, ...]) -> Outcome:
    after = moved.reply
    joined = replace(
        reply,
        say=f"{reply.say} {after.say}",
        show=(*reply.show, *after.show),
        step=after.step,
        topic=after.topic,
        options=after.options,
    )
    return Outcome(moved.state, joined, (*events, *moved.events))


_NOTE_IT = Lazy(
    r"[,.; ]+(?:(?:so|and|please|can you|could you|you can|just) )*(?:jot|note|write|put|log|take|mark|get|record|enter)(?: (?:it|that|this))?(?: (?:down|in|up))?(?: (?:the|in the|in your) (?:log|book|record))?(?: (?:please|for (?:me|him|her|them|us|later)|would you|will you))*$"
)
_NOTE_THE = Lazy(
    r"^(?:(?:ok|okay|please|can you|could you|and|also|then|so) )*(?:jot(?: down)?|note(?: down)?|write down|put down|log|record|enter|mark(?: down)?|take down)(?: that)? (?=(?:the |my |our )?[a-z])"
)
_NOTED_WORDS = 9


def to_be_noted(text: str, mind: Mind) -> bool:
    """Whether a reading is told in few words with the wish to note it, and no fault: "meter shows 1142 hours, jot it down"."""
    from cabassist.record.defect_words import told_trouble

    said = " ".join(text.lower().split()).rstrip(" .!")
    rest = _NOTE_THE.sub("", _NOTE_IT.sub("", said))
    return rest != said and len(rest.split()) <= _NOTED_WORDS and not told_trouble(rest, mind.defect_words)


def undone(state: State, mind: Mind, now: datetime) -> Outcome:
    """Take the last change back, and say what stands now."""
    if not state.undo:
        return walking.control(state, "There is nothing to undo.")
    note = state.undo[-1]
    gone = tuple(s.reading for s in state.stored if s not in note.stored)
    returned = tuple(s for s in note.stored if s not in state.stored)
    again = tuple(s.reading for s in returned)
    lost = state.record.keys - note.record.keys
    found = [entry for entry in note.record.entries if entry.key not in state.record.keys]  # what was taken off
    before = {walk.topic for walk in note.walks}
    # "that's wrong" is no all-clear: a danger is closed in words of its own, whether a reading or a report raised it
    dangers = tuple(w for w in state.walks if w.topic in mind.knowledge.hazards and w.topic not in before)
    if dangers and not (gone or again or lost or found):
        return _not_undone(state, dangers[-1], mind)
    state = replace(
        state,
        walks=(*note.walks, *dangers),
        stored=note.stored,
        timers=note.timers,
        record=note.record if found else state.record.without(lost),
        undo=state.undo[:-1],
        asking=None,
        told=again,
    )
    lines = [f"Undone: {note.what}."]
    lines += [f"Taken back: {echo(reading, mind.coach)}" for reading in gone]
    lines += [f"Stands again: {echo(reading, mind.coach)}" for reading in again]
    walk = state.walk
    if walk is not None:
        lines.append(f"You are at step {walk.number} of {len(walk.plan)}, {mind.knowledge.title(walk.topic)}.")
    elif not gone and not again and not lost:
        lines.append("No procedure is open.")
    if dangers:
        lines.append("The danger stays open. If it was none, say false alarm.")
    events = tuple(EventDraft("withdrawn", {**as_payload(reading), "said": "undo"}) for reading in gone)
    events += tuple(_again(s, "undo") for s in returned)
    events = (*events, withdrawal(lost)) if lost else events
    events = (*events, *(entry.draft() for entry in found))
    outcome = walking.control(
        state, " ".join(lines), lines=tuple(lines), events=(EventDraft("undo", {"what": note.what}), *events)
    )
    return Outcome(outcome.state, replace(outcome.reply, withdrawn=gone), outcome.events)


def _not_undone(state: State, danger: Walk, mind: Mind) -> Outcome:
    """What is said in place of taking a danger back: how it is closed, how a reading is put right, and the step in hand."""
    step = phrases.step_of(mind.knowledge.procedure(danger.topic), danger)
    lines = (
        f"{mind.knowledge.title(danger.topic)} stays open.",
        "If there is no danger, say false alarm. If a reading is wrong, tell me the right one.",
        f"Step {danger.number} of {len(danger.plan)}: {phrases.filled(step.do, mind.facts)}",
    )
    outcome = walking.control(replace(state, failures=0), " ".join(lines), lines=lines, topic=danger.topic)
    return outcome._replace(reply=replace(outcome.reply, step=phrases.mark(danger)))


_SLEEPERS = Lazy(
    r"[,;.]+ *(?:and |with |we've got |we have |there's |there are )?(?P<count>\d{1,2}|[a-z]+(?:[ -][a-z]+)?) (?:of us |people |kids |players |are |will be |all )*(?:sleeping|sleep|asleep)(?: (?:here|aboard|on board|in (?:the )?bunks|tonight|in here))* *(?=[,;.]|$)",
    re.IGNORECASE,
)


def _with_sleepers(heard: Heard, text: str, mind: Mind) -> Heard:
    """What was heard, with how many sleep aboard where a clause beside other readings says only that: "nine below, 18 sleeping"."""
    if not heard.readings or any(reading.what == "passengers" for reading in heard.readings):
        return heard
    found = _SLEEPERS.search(text)
    counted = mind.readings_in(f"passengers {found['count']}").readings if found is not None else ()
    return replace(heard, readings=(*heard.readings, *(replace(one, said=text) for one in counted)))


def with_weather(heard: Heard, text: str, mind: Mind) -> Heard:
    """What was heard, with the temperature outside and the number of sleepers told in a sentence about something else."""
    heard = _with_sleepers(heard, text, mind)
    from cabassist.language.weather_told import is_clock, told_outside

    words = "" if heard.withdrawn else told_outside(text)
    outside = [reading for reading in heard.readings if reading.what == "outside_temp"]
    if outside and not words and is_clock(text):
        return replace(heard, readings=tuple(one for one in heard.readings if one not in outside))
    if not words or len(outside) == 1:
        return heard
    found = [one for one in mind.readings_in(words).readings if one.what == "outside_temp"]
    if len(found) != 1:
        return heard
    asks = "outside" in heard.ask
    if asks and (found[0].value or 0.0) > (walking.FREEZING_F if found[0].unit == "F" else 0.0):
        return heard  # "it's sixty eight degrees" may be said of the cabin
    others = tuple(reading for reading in heard.readings if reading.what != "outside_temp")
    return replace(heard, readings=(*others, replace(found[0], said=text)), ask="" if asks else heard.ask)


_OPENING = Lazy(
    r"^(?:(?:ok|okay|so|and|right|now|well) )*(?:(?:before|while|as|now that|since|when) (?:i|we|i'm|we're|i am|we are|i've|we've)\b[^,;?]*?|just so you know|so you know|for the record|by the way|fyi|(?:i'm )?(?:looking at (?:it|the (?:gauge|panel|tank|meter))|standing here)(?: now)?|one (?:more )?thing|first)(?:[,;:-]+ *| (?=(?:it|it's|that's|gauge|the (?:gauge|panel|tank|needle|level|meter))\b))",
    re.IGNORECASE,
)


def without_opening(text: str) -> str:
    """What is told after "before I open anything" or the like; the text itself where nothing like it stands before."""
    return _OPENING.sub("", text, count=1)


_NAMES = {
    "fresh": r"\b(?:fresh|clean|drinking|potable)\b",
    "waste": r"\b(?:waste|waist|black|holding|sewage|grey|gray)\b",
    "propane": r"\b(?:propane|lpg|gas|bottle|bottles|cylinder|cylinders|(?:inside|outside) one)\b",
    "house_battery": r"\b(?:house|battery|batteries|volts)\b",
    "diesel": r"\b(?:diesel|fuel)\b",
    "def": r"\b(?:def|exhaust fluid)\b",
    "outside_temp": r"\b(?:outside|outdoors?|(?<!inside )(?<!cabin )temperature|out (?:here|there))\b",
    "inside_temp": r"\b(?:inside|cabin|in here|indoors?)\b",
    "shore_voltage": r"\bshore\b",
    "tire_pressure": r"\b(?:tire|tires|tyre|tyres|pressures|(?:left|right) (?:front|rear)|(?:front|rear) (?:left|right)|steers?|drives)\b",
    "air_pressure": r"\bair\b",
    "odometer": r"\b(?:odometer|miles|mileage)\b",
    "passengers": r"\b(?:passengers|aboard|people)\b",
    "co_ppm": r"\b(?:co|monoxide)\b",
    "generator_hours": r"\bgenerator\b",
}


_RECALLS = Lazy(
    r"\b(?:have we got|'ve we got|have you got|do we have|did (?:i|we|he|she) (?:say|tell|log|give|put|report)|logged|recorded|noted|on record|last (?:reading|known)|reading for|written down|down for|was the last|read (?:me |us )?back|(?:i|we)(?:'ve| have)? (?:said|told you|logged|reported))\b"
)
_TOLD_BEFORE = Lazy(
    r"\b(?:did (?:i|we) (?:say|tell|log|report)|(?:i|we)(?:'ve| have)? (?:said|told you|logged|reported))\b"
)
_NOTED = Lazy(
    r"^(?:(?:so|ok|okay|and|but|now|hey|wait|right|well|by the way) )*(?:did|have|do) you (?:(?:actually|even|ever|still) )?(?:get|got|catch|caught|have|note|noted|hear|heard|take|taken|write|written|put|log|logged|store|stored|save|saved|keep|kept|record|recorded)(?: down| in)?(?: on record)?"
    r" (?:the |my |our |that |what the )(?P<what>[a-z]+(?: [a-z]+)?(?: (?:temp|temperature|reading|level|number|figure|voltage|pressure|count|mileage|one))?)(?: (?:down|or not|noted|logged|on record|ok|okay|all right|i gave you|i told you|i said|earlier|before|by the way|then|at all))*$"
)
"""Asks whether what was told has been noted."""
_RECALL_OPENS = Lazy(
    r"\b(?:what(?:'ve| have| did| was)|what (?:temperature|level|number|reading|pressure|voltage|mileage)|how (?:cold|warm|hot|full|empty|high|low|much|many)|last|tell me|read (?:me |us )?back|what's|what is)\b"
)
_STANDS = Lazy(
    r"^(?:(?:so|ok|okay|and|now|hey|remind me|tell me|hang on|hold on|hold up|wait|by the way|real quick|quick) )*(?:how(?:'s| is| are|s)? (?:the |our |my )?(?P<a>.+?) (?:looking|doing|holding up|standing|getting on|coming along)"
    r"|what(?:'s| is| are|s)? (?:the |our |my )?(?P<b>.+?) (?:at|sitting at|reading|showing|standing at|down to|up to|on)"
    r"|what (?:does|do|did) (?:the |our |my )?(?P<c>.+?) (?:say|read|show|stand at)|where(?:'s| is| are|s)? (?:the |our |my )?(?P<d>.+?) (?:at|standing|sitting)"
    r"|how (?:much|many) (?P<e>.+?) (?:did|do) (?:i|we) (?:say|tell you|log)|what was (?:the |our |my )?(?P<f>.+?)(?: again| before| at| reading)"
    r"|what(?:'s| is| are) (?:the |our |my )?(?P<g>[a-z]+(?: (?:tank|water|bottle|cylinder|level|reading|pressure))?)(?= (?:now|again|then|right now|at the moment)\b)|where (?:does|did) (?:that|this|it) (?:leave|put) (?:us (?:on|for|with) )?(?:the |our |my )?(?P<h>.+?)|(?:the |our |my )?(?P<i>[a-z]+(?: (?:tank|water|bottle|cylinder))?)(?:'s| is| was| stands at) what)(?: (?:again|now|right now|at the moment|today|then|please|tank|at|by the way|so far|when (?:i|we) (?:last )?(?:looked|checked|read (?:it|that)|wrote it down)|earlier|before|last|last time(?: (?:i|we) (?:looked|checked))?|the last time(?: (?:i|we) (?:looked|checked))?))*$"
)
"""Asks how a supply stands: only what was told can answer that."""
_HEADS = Lazy(
    r"^(?:(?:so|ok|okay|and|now|again|remind me|tell me) )*how many (?:(?:people|heads|passengers|players|kids|souls|of (?:us|them)|bodies) )?(?:(?:have|do|did|are|is) )?(?:(?:i|we|there|you) )?(?:(?:got|have|say|said|count|counted|tell you|put down) )*(?:aboard|on board|onboard|on the (?:bus|coach))(?: (?:now|again|right now|at the moment|was it|did (?:i|we) say))*$"
)
_ALSO = Lazy(
    r"^(?:and|what about|how about|and what about|and how about|and for|same for)(?: (?:the|our|my|for the))? (?P<what>[\w' ]{2,24})$"
)


def asked_level(plain_text: str, after: Reply | None = None) -> str | None:
    """What reading is being asked back ("what have we got for the waste", "how's the fresh looking"), or None.

    Args:
        plain_text: the question as `normalise.plain` writes it.
        after: the last reply; after a level was read back, "and the fresh" asks for another one.
    """
    if _HEADS.match(plain_text):
        return "passengers"
    plain_text = plain_text.replace("what've ", "what have ", 1)
    found = _STANDS.match(plain_text)
    named = next((group for group in found.groups() if group), "") if found is not None else ""
    if not named and after is not None and after.kind == "control" and READ_BACK in after.say:
        also = _ALSO.match(plain_text)
        named = also["what"] if also is not None else ""
    if not named and _RECALL_OPENS.search(plain_text) and _RECALLS.search(plain_text):
        named = plain_text
    if named and len(named.split()) > 4 and named != plain_text:
        return None
    return named_in(named)


def recalled(plain_text: str) -> str | None:
    """The reading that is asked back by its having been told: "what did I say it was in here"; or None."""
    if (noted := _NOTED.match(plain_text)) is not None:
        return named_in(noted["what"])
    if not (_RECALL_OPENS.search(plain_text) and _TOLD_BEFORE.search(plain_text)):
        return None
    return named_in(plain_text)


def which_named(text: str, mind: Mind) -> str | None:
    """The cylinder or tire that a plain text names: "the inside one", "left front"; None where it names none."""
    from cabassist.language import putting_right

    others = ("inside", "outside", "spare") if named_in(text) == "propane" else ()
    role = next((word for word in others if re.search(rf"\b{word}\b", text)), None)
    if role is not None or named_in(text) != "tire_pressure":
        return role
    return putting_right.tire_named(text, mind.coach, mind.vocabulary)


def named_in(text: str) -> str | None:
    """The first kind of reading that a plain text names, or None."""
    return next((what for what, pattern in _NAMES.items() if re.search(pattern, text)), None)


READ_BACK = " Said "
"""Stands in every level that is read back, with its age after it."""


def read_back(what: str | None, state: State, mind: Mind, now: datetime, which: str | None = None) -> Outcome:
    """The latest readings that stand, with their age; of one kind, of one of that kind, or of all."""
    if what == "tire_pressure" and not any(one.reading.which == which for one in state.stored):
        which = None  # "the left one" may be any of three
    newest: dict[tuple[str, str | None], Stored] = {}
    for stored in state.stored:
        if what is None or (stored.reading.what == what and which in (None, stored.reading.which)):
            newest[(stored.reading.what, stored.reading.which)] = stored
    if not newest:
        name = " ".join(part for part in (which, (what or "").replace("_", " ")) if part)
        return walking.control(
            state,
            f"No {name} reading stands. Tell me one, or ask how to check it." if what else "No readings stand yet.",
        )
    lines = tuple(f"{echo(s.reading, mind.coach)}{READ_BACK}{phrases.ago(s.at, now)}." for s in newest.values())
    return walking.control(state, " ".join(lines), lines=lines)


def reading_wanted(state: State) -> Asking | None:
    """The reading that the step in hand waits for."""
    return state.asking if state.asking and state.asking.what == "reading" else None
