"""Moving through procedures: opening, next, back, skip, pause, undo. Walks are a stack."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.coach import holds
from cabassist.dialogue import phrases
from cabassist.dialogue.types import (
    MAX_WALKS,
    Asking,
    Left,
    Mind,
    Outcome,
    Reply,
    Skip,
    State,
    Timer,
    ToldDone,
    Undoable,
    Walk,
)
from cabassist.journal.events import EventDraft
from cabassist.language.steering import Steer
from cabassist.procedures.model import Procedure, Step

UNDO_DEPTH = 12
FREEZING_F = 32.0


def freezing(state: State, now: datetime) -> bool | None:
    """Whether the last outside temperature of the past 12 hours is at or below freezing; None when nobody said."""
    for stored in reversed(state.stored):
        reading = stored.reading
        if reading.what == "outside_temp" and reading.value is not None and now - stored.at < timedelta(hours=12):
            return reading.value <= (0.0 if reading.unit == "C" else FREEZING_F)
    return None


def planned(topic: str, state: State, mind: Mind, now: datetime) -> Walk:
    """A new walk with the steps that apply to this coach and this weather."""
    cold = freezing(state, now)
    steps = mind.knowledge.procedure(topic).steps
    plan = tuple(i for i, step in enumerate(steps) if all(holds(c, mind.coach, freezing=cold) for c in step.only_when))
    return Walk(topic, plan or tuple(range(len(steps))))


def remembered(state: State, what: str) -> State:
    """The state with a note of how to take the coming change back."""
    note = Undoable(what, state.walks, state.stored, state.timers, state.record)
    return replace(state, undo=(*state.undo, note)[-UNDO_DEPTH:])


LEFT_KEPT = 8
"""So many walks that were left are remembered."""


def leaving(state: State, walks: Collection[Walk], now: datetime, *, ended: bool = False) -> State:
    """The state with walks remembered that are left before all of their work is done, so that they can be gone on with and told of."""
    topics = {walk.topic for walk in walks}
    rest = tuple(one for one in state.left if one.walk.topic not in topics)
    return replace(state, left=(*rest, *(Left(walk, now, ended) for walk in walks))[-LEFT_KEPT:])


def open_walk(
    topic: str, state: State, mind: Mind, now: datetime, confidence: float, said: str, before: str = ""
) -> Outcome:
    """Open a procedure on top of the walk in hand. One that is already on the stack comes back to the top at its step."""
    procedure = mind.knowledge.procedure(topic)
    already = next((walk for walk in state.walks if walk.topic == topic), None)
    others = tuple(walk for walk in state.walks if walk.topic != topic)
    state = remembered(state, f"opening {procedure.title}")
    if already is not None and procedure.kind != "hazard":
        walk = replace(already, paused=False)
        state = replace(state, walks=(*others, walk), asking=None, topic=topic, question=said, failures=0)
        remark = f"You are in this one: {procedure.title}."
        if already is not state.undo[-1].walks[-1]:
            remark = f"{remark} {phrases.waits(others[-1], mind)}"
        reply = replace(phrases.at_step(procedure, walk, mind, remark), confidence=confidence)
        return Outcome(state, reply, (EventDraft("walk", {"topic": topic, "step": walk.number, "move": "return"}),))
    walk = replace(planned(topic, state, mind, now), asked=said)
    if (
        already is not None and state.undo[-1].walks[-1] == already
    ):  # a danger in hand that is named again does not begin anew
        walk = already
    stopped = next((one.walk for one in state.left if one.walk.topic == topic and not one.ended and one.walk.at), None)
    if stopped is not None and procedure.kind != "hazard":
        before = f"{before} You stopped it at step {stopped.number}: say step {stopped.number} to go on there.".strip()
    reply = phrases.opening(procedure, walk, mind, confidence, before, others[-1] if others else None)
    walks = (*others, walk)[-MAX_WALKS:]
    left = tuple(one for one in state.left if one.walk.topic != topic)  # it is walked anew
    state = replace(state, walks=walks, left=left, asking=None, topic=topic, question=said, failures=0)
    state = with_timer(state, mind, now)
    return Outcome(
        state,
        reply,
        (
            EventDraft(
                "walk",
                {
                    "topic": topic,
                    "step": 1,
                    "of": len(walk.plan),
                    "move": "open",
                    "plan": [index + 1 for index in walk.plan],
                },
            ),
        ),
    )


def with_timer(state: State, mind: Mind, now: datetime) -> State:
    """The state with a timer for the wait of the step in hand, once."""
    walk = state.walk
    if walk is None:
        return state
    procedure = mind.knowledge.procedure(walk.topic)
    step = phrases.step_of(procedure, walk)
    seconds = phrases.wait_seconds(step, mind)
    index = walk.plan[walk.at]
    running = any(timer.topic == walk.topic and timer.step == index for timer in state.timers)
    if step.wait is None or not seconds or running:
        return state
    announce = phrases.filled(step.wait.announce, mind.facts)
    return replace(state, timers=(*state.timers, Timer(now + timedelta(seconds=seconds), announce, walk.topic, index)))


def due(state: State, now: datetime) -> tuple[State, tuple[str, ...]]:
    """The timers that have run out by now, announced once, oldest first."""
    over = sorted((timer for timer in state.timers if timer.due <= now), key=lambda timer: timer.due)
    if not over:
        return state, ()
    return replace(state, timers=tuple(t for t in state.timers if t.due > now)), tuple(t.announce for t in over)


def move_to(at: int, state: State, mind: Mind, now: datetime, move: str, before: str = "") -> Outcome:
    """Put the walk in hand at place `at` of its plan, and say that step."""
    walk = state.walks[-1]
    procedure = mind.knowledge.procedure(walk.topic)
    moved = replace(walk, at=at, paused=False)
    asking = None
    step = phrases.step_of(procedure, moved)
    if step.reading:
        asking = Asking("reading", reading=step.reading)
        if (told := told_just_now(procedure, step, state, mind, now)) and move == "next":
            asking, before = replace(asking, said=TOLD), f"{before} {told}".strip()
    state = replace(state, walks=(*state.walks[:-1], moved), asking=asking, topic=walk.topic)
    state = with_timer(state, mind, now)
    event = EventDraft("walk", {"topic": walk.topic, "step": moved.number, "of": len(walk.plan), "move": move})
    return Outcome(state, phrases.at_step(procedure, moved, mind, before), (event,))


TOLD = "told"
"""What a step asks for was told just before; the next one keeps it."""
NO_READING = "no reading given"
_JUST_TOLD = timedelta(minutes=15)
_COUNTED_NOW = frozenset({"prepare-to-depart", "supervise-passengers"})
"""Procedures before whose end heads are counted then and there: no earlier count stands for that."""
_OF_MANY = frozenset({"tire_pressure", "air_pressure", "co_ppm"})
"""Readings that are taken of several things, or more than once: what was told before is not what the step asks for."""


def told_just_now(procedure: Procedure, step: Step, state: State, mind: Mind, now: datetime) -> str:
    """The reading that a step asks for, when it was told a few minutes ago: "You told me: House battery 12.4 volts."; else nothing."""
    what = step.reading or ""
    told = [one for one in state.stored if one.reading.what == what and now - one.at <= _JUST_TOLD]
    role = cylinder_named(step.do, mind) if what == "propane" else ""
    told = [one for one in told if not role or one.reading.which == role]
    if not told or what in _OF_MANY or (what == "passengers" and procedure.id in _COUNTED_NOW):
        return ""
    if sum(one.reading == what for one in procedure.steps) > 1 and not role:
        return ""
    from cabassist.language.plausibility import echo

    latest = {one.reading.which if what == "propane" else None: one.reading for one in told}
    echoes = " ".join(echo(reading, mind.coach) for reading in latest.values())
    return f"You told me: {echoes} Say next to keep it, or tell me what it is now."


def cylinder_named(order: str, mind: Mind) -> str:
    """The role of the one cylinder whose gauge an order reads: "Read the gauge on the second cylinder"; nothing where it names both or neither."""
    roles = [cylinder.role for cylinder in mind.coach.propane.cylinders if cylinder.role != "spare"]
    named = [place for place, words in enumerate(("outside cylinder", "second cylinder")) if words in order.lower()]
    return roles[named[0]] if len(named) == 1 and named[0] < len(roles) else ""


def made_up(state: State, told: Collection[str], mind: Mind) -> State:
    """The state without the skips of steps whose readings are told now, in the walk in hand."""
    walk = state.walk
    if walk is None or not walk.skipped:
        return state
    steps = mind.knowledge.procedure(walk.topic).steps
    kept = tuple(skip for skip in walk.skipped if skip.reason != NO_READING or steps[skip.step].reading not in told)
    return state if kept == walk.skipped else replace(state, walks=(*state.walks[:-1], replace(walk, skipped=kept)))


def _past_done(walk: Walk, mind: Mind) -> tuple[int, list[str]]:
    """The place of the next step that is not told to be done yet, and what is said of those that are.

    One with a caution, a figure or a wait is said all the same, and so is the last, with which the walk ends.
    """
    steps = mind.knowledge.procedure(walk.topic).steps
    told = {one.at: one for one in walk.done}
    at, lines = walk.at + 1, []
    passed: list[ToldDone] = []
    while at in told and at + 1 < len(walk.plan):
        step = steps[walk.plan[at]]
        if told[at].applies and (step.cautions or step.reading or step.wait):
            lines.append("You said that this is done. Say next if it is.")
            break
        passed.append(told[at])
        at += 1
    done = [one for one in passed if one.applies]
    if len(done) > 1:  # by their numbers only, for the step that comes must not be drowned
        numbers = ", ".join(str(one.at + 1) for one in done[:-1])
        lines.insert(0, f"Steps {numbers} and {done[-1].at + 1} were done before.")
    elif done:
        lines.insert(0, f"Step {done[0].at + 1} was done before: {phrases.filled(steps[walk.plan[done[0].at]].do, mind.facts)}")  # fmt: skip
    lines[:0] = [f"Step {one.at + 1} does not apply." for one in passed if not one.applies]
    return at, lines


def forward(state: State, mind: Mind, now: datetime, before: str = "") -> Outcome:
    """On to the next step, or out of the walk after the last."""
    walk = state.walks[-1]
    if walk.at + 1 < len(walk.plan):
        at, passed = _past_done(walk, mind)
        return move_to(at, remembered(state, "next"), mind, now, "next", " ".join([before, *passed]).strip())
    procedure = mind.knowledge.procedure(walk.topic)
    rest = state.walks[:-1]
    reply = phrases.ended(procedure, walk, mind, rest[-1] if rest else None)
    asking = Asking("resume") if rest else Asking("choice", reply.options) if reply.options else None
    state = replace(remembered(state, "finishing"), walks=rest, asking=asking, topic=walk.topic)
    if walk.skipped:
        state = leaving(state, (walk,), now, ended=True)
    payload = {
        "topic": walk.topic,
        "move": "end",
        "skipped": [{"step": s.step + 1, "reason": s.reason} for s in walk.skipped],
    }
    return Outcome(state, reply, (EventDraft("walk", payload),))


def told_done(state: State, text: str, mind: Mind, now: datetime) -> Outcome:
    """On from the step in hand, which these words tell done; they are kept in the record. Its wait is over with it."""
    walk = state.walks[-1]
    state = _without_wait(state, walk)
    event = EventDraft("told-done", {"topic": walk.topic, "step": walk.number, "said": text})
    moved = forward(replace(state, asking=None, failures=0), mind, now)
    return Outcome(moved.state, moved.reply, (event, *moved.events))


def _without_wait(state: State, walk: Walk) -> State:
    """The state without the timer of the step in hand."""
    index = walk.plan[walk.at]
    kept = tuple(one for one in state.timers if (one.topic, one.step) != (walk.topic, index))
    return state if len(kept) == len(state.timers) else replace(state, timers=kept)


def control(
    state: State,
    text: str,
    *,
    lines: tuple[str, ...] = (),
    topic: str | None = None,
    events: tuple[EventDraft, ...] = (),
) -> Outcome:
    """A reply that steers: one sentence, and the step in hand named."""
    walk = state.walk
    reply = Reply(
        "control",
        text,
        lines or (text,),
        topic=topic or (walk.topic if walk else None),
        step=phrases.mark(walk) if walk else None,
    )
    return Outcome(state, reply, events)


def _next(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = state.walks[-1]
    procedure = mind.knowledge.procedure(walk.topic)
    step = phrases.step_of(procedure, walk)
    if step.reading and state.asking and state.asking.what == "reading" and not state.asking.said:
        name = "head count" if step.reading == "passengers" else step.reading.replace("_", " ")
        state = replace(state, asking=replace(state.asking, said="asked"))
        return control(state, f"Tell me the {name} first, or say: can't see it.")
    index = walk.plan[walk.at]
    if step.do.startswith("If "):  # who goes on at once has not done what waits
        state = _without_wait(state, walk)
    running = next((t for t in state.timers if t.topic == walk.topic and t.step == index and t.due > now), None)
    remark = ""
    if running is not None:
        minutes = max(1, round((running.due - now).total_seconds() / 60))
        remark = f"The wait has {minutes} minute{'s' if minutes != 1 else ''} to go. I still tell you when it is over."
    if step.reading and state.asking is None and walk.at == 0:  # said with the title, and not asked for once more
        known = any(one.reading.what == step.reading and now - one.at <= _JUST_TOLD for one in state.stored)
        if not known:
            remark = f"{remark} Step 1: {NO_READING}.".strip()
            walk = replace(walk, skipped=(*walk.skipped, Skip(index, NO_READING)))
            state = replace(state, walks=(*state.walks[:-1], walk))
    if state.asking and state.asking.what == "reading" and state.asking.said != TOLD:
        if step.reading == "passengers" and state.missing:
            return control(state, "Somebody is missing. Count heads, and tell me the count.")
        if step.cautions:  # what is warned of is skipped for a reason only
            return _skip(replace(state, asking=None), mind, now, steer)
        why = "heads were not counted" if step.reading == "passengers" else NO_READING
        remark = f"{remark} Step {walk.number} skipped: {why}.".strip()
        skipped = (*walk.skipped, Skip(index, NO_READING))
        state = replace(state, walks=(*state.walks[:-1], replace(walk, skipped=skipped)))
    return forward(state, mind, now, remark)


def _back(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = state.walks[-1]
    if walk.at == 0:
        return move_to(0, state, mind, now, "same", "This is the first step.")
    return move_to(max(0, walk.at - (steer.number or 1)), remembered(state, "back"), mind, now, "back")


def _peek(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    """What comes after the step in hand, which stays in hand."""
    walk = state.walks[-1]
    if walk.at + 1 == len(walk.plan):
        return control(state, "Nothing comes after this step. It is the last.")
    procedure = mind.knowledge.procedure(walk.topic)
    after = phrases.filled(procedure.steps[walk.plan[walk.at + 1]].do, mind.facts)
    text = f"After this one: {after} You are still at step {walk.number}."
    return Outcome(state, Reply("step", text, (text,), topic=walk.topic, step=phrases.mark(walk)))


def _repeat(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    return move_to(state.walks[-1].at, state, mind, now, "repeat")


def _why(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = state.walks[-1]
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    reason = phrases.filled(step.why, mind.facts) if step.why else ""
    if not reason and step.cautions:
        reason = phrases.filled(step.cautions[0].text, mind.facts)
    if not reason and step.done_when:
        reason = f"It brings you to this: {phrases.filled(step.done_when, mind.facts)}"
    text = reason or "The procedure gives no reason for this step. It is noted for the trainer."
    reply = Reply("step", text, (f"Why: {text}",), topic=walk.topic, step=phrases.mark(walk))
    return Outcome(
        state, reply, (EventDraft("why", {"topic": walk.topic, "step": walk.number, "answered": bool(reason)}),)
    )


def _done_when(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = state.walks[-1]
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    text = (
        phrases.filled(step.done_when, mind.facts)
        if step.done_when
        else "Nothing special shows. Do the step and say next."
    )
    return Outcome(state, Reply("step", text, (f"Done when: {text}",), topic=walk.topic, step=phrases.mark(walk)))


def source_of(topic: str, state: State, mind: Mind) -> Outcome:
    """Where a procedure's facts come from."""
    sources = mind.knowledge.procedure(topic).sources
    lines = tuple(f"{source.name} ({source.kind})" for source in sources)
    note = (
        "Rules change: check that they are current."
        if any("CFR" in source.name for source in sources)
        else "Local codes and the makers' manuals come first."
    )
    return control(
        state, f"From: {lines[0]}. {note}", lines=("Sources:", *(f"  {line}" for line in lines), note), topic=topic
    )


def _how_many(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = state.walks[-1]
    left = len(walk.plan) - walk.number
    text = (
        "This is the last step."
        if left == 0
        else f"{left} more after this one. You are at step {walk.number} of {len(walk.plan)}."
    )
    return control(state, text)


def _needs(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    procedure = mind.knowledge.procedure(state.walks[-1].topic)
    kit = {item.id: item for item in mind.coach.kit}
    lines = [
        f"{kit[n].name}: {kit[n].place}" if n in kit else f"{n}: not in this coach's kit list" for n in procedure.needs
    ]
    return control(state, "You need: " + "; ".join(lines) + "." if lines else "You need nothing special.")


def _cautions(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    procedure = mind.knowledge.procedure(state.walks[-1].topic)
    found = [*procedure.cautions, *(caution for step in procedure.steps for caution in step.cautions)]
    lines = [phrases.caution_line(caution, mind.facts) for caution in found]
    lines += [phrases.filled(text, mind.facts) for text in procedure.never]
    lines += [f"Stop when: {phrases.filled(text, mind.facts)}" for text in procedure.stop_when]
    lines.append(f"Call: {phrases.filled(procedure.call, mind.facts)}")
    return control(state, " ".join(lines[:2]), lines=tuple(lines))


def _skip(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = state.walks[-1]
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    if step.cautions:
        text = f"This step carries a {step.cautions[0].signal.lower()}. Tell me why you skip it, or say no."
        return control(replace(state, asking=Asking("skip-reason")), text)
    if any(entry.topic == walk.topic for entry in mind.coach.rounds):
        return control(replace(state, asking=Asking("skip-reason")), "Why do you skip it? It is kept with the round.")
    return skipped(state, mind, now, "")


def skipped(state: State, mind: Mind, now: datetime, reason: str) -> Outcome:
    """Leave the step in hand out, with its reason on record."""
    walk = state.walks[-1]
    note = Skip(walk.plan[walk.at], reason)
    before = remembered(state, "skipping")
    state = replace(before, walks=(*state.walks[:-1], replace(walk, skipped=(*walk.skipped, note))), asking=None)
    outcome = forward(state, mind, now, f"Step {walk.number} skipped.")
    event = EventDraft("skip", {"topic": walk.topic, "step": walk.number, "reason": reason})
    return Outcome(outcome.state, outcome.reply, (event, *outcome.events))


def _stop(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = state.walks[-1]
    procedure = mind.knowledge.procedure(walk.topic)
    rest = state.walks[:-1]
    timers = tuple(timer for timer in state.timers if timer.topic != walk.topic)
    left = len(walk.plan) - walk.at
    lines = [f"Stopped at step {walk.number} of {len(walk.plan)}: {procedure.title}."]
    if left > 1:
        lines.append(f"{left} step{'s' if left != 1 else ''} not done.")
    asking = None
    if rest:
        lines.append(phrases.back_to(rest[-1], mind))
        asking = Asking("resume")
    elif left > 1 and walk.topic not in mind.knowledge.hazards:
        lines.append("Say resume to go on with it.")
    state = replace(remembered(state, "stopping"), walks=rest, timers=timers, asking=asking, topic=walk.topic)
    state = leaving(state, (walk,), now)
    event = EventDraft("walk", {"topic": walk.topic, "step": walk.number, "of": len(walk.plan), "move": "stop"})
    return control(state, " ".join(lines), lines=tuple(lines), topic=walk.topic, events=(event,))


def _pause(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = replace(state.walks[-1], paused=True)
    state = replace(state, walks=(*state.walks[:-1], walk))
    event = EventDraft("walk", {"topic": walk.topic, "step": walk.number, "move": "pause"})
    return control(
        state, f"Paused at step {walk.number} of {len(walk.plan)}. Say resume when you are back.", events=(event,)
    )


def _resume(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    return move_to(state.walks[-1].at, state, mind, now, "resume")


def _start_over(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = planned(state.walks[-1].topic, state, mind, now)
    timers = tuple(timer for timer in state.timers if timer.topic != walk.topic)
    state = replace(remembered(state, "starting over"), walks=(*state.walks[:-1], walk), timers=timers)
    return move_to(0, state, mind, now, "first", "From the start.")


def jump(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    """To the step of that number; the cautions of the steps passed are counted aloud."""
    walk = state.walks[-1]
    target = (steer.number or 1) - 1
    if not 0 <= target < len(walk.plan):
        return control(state, f"There are {len(walk.plan)} steps. You are at step {walk.number}.")
    passed = [i for i in walk.plan[walk.at : target] if mind.knowledge.procedure(walk.topic).steps[i].cautions]
    remark = f"You jump past {len(passed)} step{'s' if len(passed) != 1 else ''} with a caution." if passed else ""
    return move_to(target, remembered(state, "jumping"), mind, now, "jump", remark)


def _cannot_see(state: State, mind: Mind, now: datetime, steer: Steer) -> Outcome:
    walk = state.walks[-1]
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    if not step.reading:
        return _done_when(state, mind, now, steer)
    if step.reading == "passengers" and state.missing:
        return control(state, "Somebody is missing. Count heads, and tell me the count.")
    note = Skip(walk.plan[walk.at], "could not be read")
    state = replace(state, walks=(*state.walks[:-1], replace(walk, skipped=(*walk.skipped, note))), asking=None)
    event = EventDraft("no-reading", {"topic": walk.topic, "step": walk.number, "what": step.reading})
    outcome = forward(state, mind, now, "Noted: no reading.")
    return Outcome(outcome.state, outcome.reply, (event, *outcome.events))


Handler = Callable[[State, Mind, datetime, Steer], Outcome]
HANDLERS: dict[str, Handler] = {
    "next": _next,
    "yes": _next,
    "back": _back,
    "peek": _peek,
    "repeat": _repeat,
    "why": _why,
    "done-when": _done_when,
    "how-many": _how_many,
    "needs": _needs,
    "cautions": _cautions,
    "skip": _skip,
    "stop": _stop,
    "pause": _pause,
    "resume": _resume,
    "start-over": _start_over,
    "jump": jump,
    "cannot-see": _cannot_see,
}
"""What each command does to the walk in hand."""
