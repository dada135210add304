"""While a danger is not over, a question that would open another procedure is put off, and come back to afterwards."""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import phrases, stopping
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State, Walk
from cabassist.journal.events import EventDraft

LATER = "Say when it is over, and I come back to that."


def danger(state: State, mind: Mind) -> Walk | None:
    """The walk through a danger that is not over, the newest first."""
    return next((walk for walk in reversed(state.walks) if walk.topic in mind.knowledge.hazards), None)


def held(before: State, outcome: Outcome, mind: Mind) -> Outcome:
    """What of a turn may be done while there is danger; and once there is none, the offer of what was put off."""
    open_danger = danger(before, mind)
    if open_danger is not None and _leads_away(before, outcome, open_danger, mind):
        return _put_off(before, outcome, open_danger, mind)
    if open_danger is not None and open_danger is before.walk and _lost(outcome, open_danger, mind):
        reply = phrases.at_step(mind.knowledge.procedure(open_danger.topic), open_danger, mind, "This comes first.")
        return Outcome(replace(outcome.state, asking=before.asking, topic=open_danger.topic), reply, outcome.events)
    if _unanswered(before, outcome, mind):
        return _asked_once_more(before, outcome, mind)
    if outcome.state.put_off and danger(outcome.state, mind) is None:
        return _offered(outcome, mind)
    return outcome


def _leads_away(before: State, outcome: Outcome, open_danger: Walk, mind: Mind) -> bool:
    """Whether the turn opened a procedure that is no part of the danger. To go back to a walk in so many words is obeyed."""
    walk = outcome.state.walk
    if walk is None or walk.topic in mind.knowledge.hazards or danger(outcome.state, mind) is None:
        return False
    if before.walk is not None and walk.topic == before.walk.topic:
        return False
    asked = any(event.kind == "asked" for event in outcome.events)
    if walk.topic in {one.topic for one in before.walks} and not asked:
        return False
    return not _part_of(open_danger.topic, walk.topic, mind)


_TOOLS = "find-tools-and-spares"


def _lost(outcome: Outcome, open_danger: Walk, mind: Mind) -> bool:
    """Whether a question in a danger was only met with a choice of procedures that have no part in it."""
    asking, reply = outcome.state.asking, outcome.reply
    if reply.kind == "unknown" and reply.say.startswith(phrases.NOT_KNOWN) and outcome.state.walk == open_danger:
        return True  # what is not understood in a danger is met with the danger's step, and with no list to choose from
    if reply.kind != "clarify" or asking is None or asking.what != "choice" or not reply.options:
        return False
    if not any(event.kind == "asked" for event in outcome.events) or outcome.state.walk != open_danger:
        return False
    others = set(reply.options) - {open_danger.topic}
    away = mind.knowledge.hazards | {_TOOLS}
    return not any(topic in away or _part_of(open_danger.topic, topic, mind) for topic in others)


OF_AIR = ("propane-smell", "carbon-monoxide-alarm", "smoke-or-fire")
"""Dangers in which nobody goes back inside, so that no other work is begun."""
_VALVES = "shut-off-propane"
_OUTSIDE = ("report-a-defect", "set-warning-triangles")


def _part_of(hazard: str, topic: str, mind: Mind) -> bool:
    """Whether a procedure belongs to what is done while the danger lasts."""
    if hazard in OF_AIR and topic not in mind.knowledge.hazards and topic not in _OUTSIDE:
        return False  # "shut off the propane" begins at a switch inside
    procedure = mind.knowledge.procedure(hazard)
    return topic in {*procedure.then, *procedure.related} - set(procedure.only_after)


def _unanswered(before: State, outcome: Outcome, mind: Mind) -> bool:
    """Whether a procedure was asked for in place of the answer whether all are safe; once that is not let pass."""
    asking, walk = before.asking, outcome.state.walk
    if asking is None or asking.what != "out" or asking.said or walk is None or walk.topic in mind.knowledge.hazards:
        return False
    if not any(event.kind == "asked" for event in outcome.events) or outcome.reply.kind not in ("procedure", "step"):
        return False
    return not _part_of(asking.options[0], walk.topic, mind)


def _asked_once_more(before: State, outcome: Outcome, mind: Mind) -> Outcome:
    """As if the procedure had not been opened: first whether all are safe."""
    assert before.asking is not None
    left = before.asking.options[0]
    line = f"This comes first: {stopping.question(left, mind)}"
    reply = Reply("control", line, (line,), topic=left)
    return _unopened(before, outcome, reply, walks=before.walks, asking=replace(before.asking, said="asked"))


def _put_off(before: State, outcome: Outcome, open_danger: Walk, mind: Mind) -> Outcome:
    """As if the procedure had not been opened: the danger on top, its step in hand once more."""
    others = tuple(walk for walk in before.walks if walk.topic != open_danger.topic)
    procedure = mind.knowledge.procedure(open_danger.topic)
    remark = f"This comes first: {procedure.title}."
    if outcome.state.walks[-1].topic == _VALVES and (only := _valves_step(open_danger, mind)):
        remark = f"Of the gas only this: {only}"
    reply = phrases.at_step(procedure, open_danger, mind, remark)
    reply = replace(reply, say=f"{reply.say} {LATER}", show=(*reply.show, LATER))
    if outcome.reply.readings:  # what was told beside it stands, and is read back
        echoes = outcome.reply.show[: len(outcome.reply.readings)]
        reply = replace(reply, kind="reading", say=" ".join([*echoes, reply.say]), show=(*echoes, *reply.show))
    return _unopened(before, outcome, reply, walks=(*others, replace(open_danger, paused=False)), asking=None)


def _valves_step(walk: Walk, mind: Mind) -> str:
    """What the danger itself says of the cylinder valves, with its condition, unless that step is in hand; else nothing."""
    steps = mind.knowledge.procedure(walk.topic).steps
    found = [at for at, index in enumerate(walk.plan) if "{propane.shutoff_place}" in steps[index].do]
    return phrases.filled(steps[walk.plan[found[0]]].do, mind.facts) if found and found[0] != walk.at else ""


def _unopened(before: State, outcome: Outcome, reply: Reply, *, walks: tuple[Walk, ...], asking: Asking | None) -> Outcome:  # fmt: skip
    """The turn without the procedure that it opened, which is kept for later; what else it told stands."""
    topic = outcome.state.walks[-1].topic
    state = replace(
        outcome.state,
        walks=walks,
        timers=before.timers,
        undo=outcome.state.undo[:-1],
        asking=asking,
        topic=reply.topic,
        put_off=topic,
    )
    events = tuple(event for event in outcome.events if event.kind not in ("walk", "steer"))
    reply = replace(reply, readings=outcome.reply.readings)
    return Outcome(state, reply, (*events, EventDraft("put-off", {"topic": topic})))


def _offered(outcome: Outcome, mind: Mind) -> Outcome:
    """What was put off is offered with the answer that closes the danger; while that asks something, it waits."""
    state, reply, events = outcome
    asking = state.asking
    if asking is not None and asking.what == "out":
        return outcome
    topic, state = state.put_off, replace(state, put_off="")
    resumes = asking is None or asking.what in ("resume", "choice")
    if reply.kind != "control" or not resumes or topic in {walk.topic for walk in state.walks}:
        return Outcome(state, reply, events)
    options = tuple(dict.fromkeys((*(asking.options if asking is not None else ()), topic)))
    word = "yes" if len(options) == 1 else str(options.index(topic) + 1)
    line = f"You asked for this: {mind.knowledge.title(topic)}. Once it is safe, say {word} to begin."
    reply = replace(reply, say=f"{reply.say} {line}", show=(*reply.show, line), options=options)
    return Outcome(replace(state, asking=Asking("choice", options)), reply, events)
