"""Replies in words: lines for the eye with cautions first, one short form for the ear."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime

from cabassist.dialogue.types import Mind, Reply, Skip, StepMark, Walk
from cabassist.language.report_network import Told, words_of_step
from cabassist.procedures.library import Wish
from cabassist.procedures.model import Caution, Procedure, Step

_PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
ANNOUNCE_CAUTION = {"DANGER": "Danger.", "WARNING": "Warning.", "CAUTION": "Caution.", "NOTICE": "Notice."}
STEER_HINT = "Say: next, back, repeat, why, pause or stop."


def filled(text: str, facts: Mapping[str, str]) -> str:
    """A text with the coach's own words in place of its placeholders.

    A fact the coach does not have reads as what it is, so that no sentence is left with a hole.
    """
    whole = _PLACEHOLDER.sub(lambda m: facts.get(m.group(1), "a place this coach's profile does not name"), text)
    return whole[:1].upper() + whole[1:]


def caution_line(caution: Caution, facts: Mapping[str, str]) -> str:
    """A caution for the eye."""
    return f"{caution.signal}: {filled(caution.text, facts)}"


def caution_speech(caution: Caution, facts: Mapping[str, str]) -> str:
    """A caution for the ear."""
    return f"{ANNOUNCE_CAUTION[caution.signal]} {filled(caution.text, facts)}"


def words_at(walk: Walk, at: int, mind: Mind) -> str:
    """The step at a place of a walk's plan, as the report network reads it."""
    step = mind.knowledge.procedure(walk.topic).steps[walk.plan[at]]
    return filled(words_of_step(step.do, step.done_when), mind.facts)


def heard_here(text: str, walk: Walk, mind: Mind) -> Told:
    """What is said at a walk's step in hand, as the report network hears it; it must be there."""
    assert mind.report_network is not None
    return mind.report_network.judge(text, (words_at(walk, walk.at, mind),))[0]


def step_of(procedure: Procedure, walk: Walk) -> Step:
    """The step in hand."""
    return procedure.steps[walk.plan[walk.at]]


def mark(walk: Walk) -> StepMark:
    """Where a walk stands."""
    return StepMark(walk.number, len(walk.plan))


def step_lines(procedure: Procedure, walk: Walk, mind: Mind) -> list[str]:
    """The step in hand, for the eye, its cautions before it."""
    step = step_of(procedure, walk)
    lines = [caution_line(caution, mind.facts) for caution in step.cautions]
    lines.append(f"Step {walk.number} of {len(walk.plan)}: {filled(step.do, mind.facts)}")
    other = walk_named(procedure, step, mind)
    if other:
        lines.append(f"  It has steps of its own. To walk through them say: {mind.knowledge.title(other).lower()}.")
    if step.done_when:
        lines.append(f"  Done when: {filled(step.done_when, mind.facts)}")
    if step.wait:
        reason = filled(step.wait.reason, mind.facts)
        lines.append(
            f"  Wait: {wait_words(step, mind)} for {reason[:1].lower()}{reason[1:]}. I tell you when it is over."
        )
    if step.reading:
        lines.append(f"  Tell me the reading: {step.reading.replace('_', ' ')}. Or say: can't see it.")
    return lines


def walk_named(procedure: Procedure, step: Step, mind: Mind) -> str:
    """The procedure that a step of another one is by name ("Connect shore power."), or nothing."""
    names = {mind.knowledge.title(name).lower(): name for name in mind.knowledge.ids if name != procedure.id}
    return names.get(filled(step.do, mind.facts).rstrip(".").lower(), "")


def step_speech(procedure: Procedure, walk: Walk, mind: Mind) -> str:
    """The step in hand, for the ear."""
    step = step_of(procedure, walk)
    parts = [caution_speech(caution, mind.facts) for caution in step.cautions]
    parts.append(filled(step.do, mind.facts))
    if step.wait:
        parts.append(f"I tell you in {wait_words(step, mind)}.")
    if step.reading:
        parts.append("Tell me the reading.")
    if other := walk_named(procedure, step, mind):
        parts.append(f"For its own steps say: {mind.knowledge.title(other).lower()}.")
    return " ".join(parts)


def wait_words(step: Step, mind: Mind) -> str:
    """How long a step waits, in words."""
    if step.wait is None:
        return ""
    if isinstance(step.wait.minutes, str):
        return mind.facts.get(step.wait.minutes, step.wait.minutes)
    minutes = step.wait.minutes
    if minutes >= 90:
        return f"{minutes / 60:g} hours"
    return "1 minute" if minutes == 1 else f"{minutes:g} minutes"


def wait_seconds(step: Step, mind: Mind) -> float:
    """How long a step waits [s]; a fact that is a time is read from its words."""
    if step.wait is None:
        return 0.0
    if isinstance(step.wait.minutes, str):
        found = re.match(r"[\d.,]+", mind.facts.get(step.wait.minutes, ""))
        return float(found.group().replace(",", "")) * 60 if found else 0.0
    return step.wait.minutes * 60


def waits(walk: Walk, mind: Mind) -> str:
    """That the walk in hand until now waits for the one that was just opened."""
    return f"{mind.knowledge.title(walk.topic)} waits at step {walk.number}."


def opening(
    procedure: Procedure, walk: Walk, mind: Mind, confidence: float, before: str = "", under: Walk | None = None
) -> Reply:
    """A walk opens: title, general cautions, what to bring, the first step, and which walk waits `under` it."""
    lines = [before] if before else []
    if procedure.kind == "hazard":
        lines += [f"DANGER: {procedure.title}", filled(procedure.escape, mind.facts)]
        say = filled(procedure.escape, mind.facts)
    else:
        lines.append(f"{procedure.title}. {len(walk.plan)} steps.")
        say = f"{procedure.title}."
    if under is not None and procedure.kind != "hazard":
        say = f"{say} {waits(under, mind)}"
    lines += [caution_line(caution, mind.facts) for caution in procedure.cautions]
    kit = {item.id: item for item in mind.coach.kit}
    carried = [f"{kit[name].name} ({kit[name].place})" for name in procedure.needs if name in kit]
    if carried:
        lines.append("Bring: " + "; ".join(carried) + ".")
    missing = [name.replace("-", " ") for name in procedure.needs if name not in kit]
    if missing:
        lines.append(f"Not in this coach's kit list: {', '.join(missing)}.")
    lines += step_lines(procedure, walk, mind)
    lines += [waits(under, mind)] if under is not None else []
    lines.append(STEER_HINT)
    if procedure.kind != "hazard":
        say = " ".join(
            [
                *(before.split("\n") if before else []),
                say,
                *(caution_speech(c, mind.facts) for c in procedure.cautions),
                step_speech(procedure, walk, mind),
            ]
        )
    return Reply(
        kind="hazard" if procedure.kind == "hazard" else "procedure",
        say=say,
        show=tuple(lines),
        topic=procedure.id,
        confidence=confidence,
        step=mark(walk),
    )


def escape(name: str, mind: Mind) -> str:
    """What to do at once about a hazard."""
    return filled(mind.knowledge.procedure(name).escape, mind.facts)


def at_step(procedure: Procedure, walk: Walk, mind: Mind, before: str = "") -> Reply:
    """The step in hand, with a short remark before it."""
    lines = ([before] if before else []) + step_lines(procedure, walk, mind)
    say = " ".join(([before] if before else []) + [step_speech(procedure, walk, mind)])
    return Reply("step", say, tuple(lines), topic=procedure.id, step=mark(walk))


def back_to(walk: Walk, mind: Mind) -> str:
    """The offer to go on with a walk that was interrupted."""
    return f"Back to step {walk.number} of {len(walk.plan)}, {mind.knowledge.title(walk.topic)}: say resume."


def refusal(wish: Wish, mind: Mind, confidence: float, topic: str) -> Reply:
    """The no to an unsafe or illegal wish, with the right way."""
    title = mind.knowledge.title(topic)
    lines = (
        f"{wish.signal}: {wish.refuse}",
        f"Why: {wish.because}",
        f"Instead: {wish.instead}",
        f"The right way is in: {title}. Say yes to walk through it.",
        f"Source: {wish.source}",
    )
    say = f"{ANNOUNCE_CAUTION[wish.signal]} {wish.refuse} {wish.because} {wish.instead}"
    return Reply("refuse", say, lines, topic=topic, options=(topic,), confidence=confidence)


def plain_refusal(topic: str, mind: Mind, confidence: float) -> Reply:
    """The no to something unsafe for which no reason of its own is known: what the nearest procedure says must never be done."""
    never = [f"Never: {filled(text, mind.facts)}" for text in mind.knowledge.procedure(topic).never]
    first = "No. As I understand you, that is not safe or not allowed."
    other = "If I took you wrongly, say it in other words."
    lines = (f"WARNING: {first}", *never, f"The right way is in: {mind.knowledge.title(topic)}. Say yes to walk through it.", other)  # fmt: skip
    say = f"{ANNOUNCE_CAUTION['WARNING']} {first} {other}"
    return Reply("refuse", say, lines, topic=topic, options=(topic,), confidence=confidence)


def choices(question: str, options: tuple[str, ...], mind: Mind, confidence: float, topic: str | None = None) -> Reply:
    """A question back, with numbered choices."""
    titles = [mind.knowledge.title(name) for name in options]
    lines = [question, *(f"  {number}. {title}" for number, title in enumerate(titles, 1)), "Say the number, or no."]
    spoken = "; ".join(f"{number}, {title}" for number, title in enumerate(titles, 1))
    return Reply("clarify", f"{question} {spoken}?", tuple(lines), topic=topic, options=options, confidence=confidence)


NOT_KNOWN = "I do not have that."


def unknown(nearest: tuple[str, ...], mind: Mind, confidence: float, failures: int) -> Reply:
    """Nothing fits: says so and offers what is nearest."""
    titles = [mind.knowledge.title(name) for name in nearest]
    lines = [NOT_KNOWN]
    if titles:
        lines += [
            "The nearest I have:",
            *(f"  {n}. {title}" for n, title in enumerate(titles, 1)),
            "Say a number, or ask in other words.",
        ]
    if failures >= 2:
        lines.append("Type `cabassist topics` or say help to see what I know.")
    say = f"{NOT_KNOWN} " + (f"The nearest I have is {titles[0]}." if titles else "Ask in other words.")
    return Reply("unknown", say, tuple(lines), options=(), nearest=nearest, confidence=confidence)


def ended(procedure: Procedure, walk: Walk, mind: Mind, under: Walk | None) -> Reply:
    """The last step is done: what was skipped, what comes next."""
    lines = [f"That was the last step. {procedure.title} is done."]
    lines += skipped_lines(walk.skipped, procedure, mind)
    follow = tuple(name for name in procedure.then if name in mind.knowledge.raw_procedures)
    if under is not None:
        lines.append(back_to(under, mind))
    elif follow:
        lines += [
            "Next comes:",
            *(f"  {n}. {mind.knowledge.title(name)}" for n, name in enumerate(follow, 1)),
            "Say the number to begin.",
        ]
    return Reply(
        "control",
        " ".join([lines[0], back_to(under, mind) if under else ""]).strip(),
        tuple(lines),
        topic=procedure.id,
        options=follow,
    )


def skipped_lines(skipped: tuple[Skip, ...], procedure: Procedure, mind: Mind) -> list[str]:
    """What was left out, so that nobody takes it for done."""
    if not skipped:
        return []
    return [
        "Skipped:",
        *(f"  {filled(procedure.steps[s.step].do, mind.facts)} ({s.reason or 'no reason given'})" for s in skipped),
    ]


def ago(then: datetime, now: datetime) -> str:
    """How long ago, in words a driver uses."""
    minutes = max(0, round((now - then).total_seconds() / 60))
    if minutes < 1:
        return "just now"
    if minutes < 90:
        return f"{minutes} minute{'s' if minutes != 1 else ''} ago"
    hours = round(minutes / 60)
    return f"{hours} hours ago" if hours < 48 else f"{round(hours / 24)} days ago"
