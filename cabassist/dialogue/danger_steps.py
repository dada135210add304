"""What is told of the steps of a danger in own words: "no hiss, closed both of them on the way out" goes on by one step.

In a danger nobody speaks in commands, and what is not placed must lead nowhere else. The report network reads what was said
beside the step in hand and moves on by one, never more: help is called and heads are counted only when that is told or
said. No other procedure opens from within, least of all one that sends somebody back inside.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import choosing, danger_first, phrases, progress, telling, walking, well_in_danger
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain

DONE, REPORT, REPORT_SURE = 0.55, 0.6, 0.85
"""From these chances on, what is said tells the step in hand done."""
DONE_OF_REPORT, REPORT_BEYOND_DOUBT = 0.4, 0.95
"""The chance of a step done that is enough where what is said is beyond doubt a report."""
DONE_SURE = 0.9
"""The same where something is denied in the words, or the danger is named in them."""
LATER = 0.7
"""From this chance on, what is said tells a later step done."""
DANGER_LIKELY, DANGER_SURE = 0.3, 0.8
"""From these chances of another danger on, nothing is taken for a report that is not sure, and nothing at all."""
LEAST_WORDS = 2
NOT_DONE = 0.15
"""Below this chance, what is said passes no step that people's lives hang on."""
SURE_OF_OTHER = 0.9
"""A procedure that is this likely is asked for, and not only like a report."""
_SPILL = "clean-up-waste-spill"
_OF_WASTE = Lazy(r"\b(?:sewage|waste|poop|poo|crap|shit|spill\w*|spilt|toilet|black ?water|muck|sludge|septic)\b")
_PASSES = Lazy(r"^(?:if|as you leave|in the cold)\b")
"""A step that holds only in a case or at a time: told to be further on, people are past it, and nobody goes back for it."""
_LEADS_OUT = Lazy(r"^(?:wake|lead|get|bring) every(?:one| sleeper)\b")
_PLACES = Lazy(r"^(?:lead|get|bring|send|move|in the cold)\b")
"""What brings people somewhere: told done, they are out and the coach stands."""
_ALL = Lazy(r"\b(?:all|both|every(?:one|body)(?:'s|s)?|they|they're|we're|we are|kids|team|players|passengers|people|folks|lot|crew|nobody)\b")  # fmt: skip
"""Of all of them it is told, so that they are out."""
_DENIES = Lazy(r"\b(?:no|not|\w+n't|never|none|nobody|without|but|except|only|still|yet|almost|nearly)\b")
_MISSES = Lazy(r"\b(?:missing|inside|in there|(?:can't|cannot|couldn't|didn't) (?:find|reach|get))\b")
_DEGREES = Lazy(r"\b(?:degrees?|temp\w*|thermometer|celsius|fahrenheit|cold|warm|zero|below|minus)\b|°")
_WARMTH = ("inside_temp", "outside_temp")
_STAYS = ("clarify", "unknown", "step", "procedure", "reading", "control", "hazard", "defect")
SAID_BEFORE = "You said that this is done. Say next if it is."
FIRST = "This comes first."


def told(state: State, text: str, outcome: Outcome, mind: Mind, now: datetime) -> Outcome:
    """The outcome, or the next step of the danger in hand where the one in hand is told done; what is not placed stays at it."""
    walk = state.walk
    if walk is None or walk.topic not in mind.knowledge.hazards or mind.report_network is None:
        return outcome
    if _passes_unsaid(state, text, outcome, walk, mind):
        reply = phrases.at_step(mind.knowledge.procedure(walk.topic), walk, mind, FIRST)
        return Outcome(replace(state, asking=None, failures=0), reply, ())
    if outcome.reply.kind == "procedure" and choosing.begins_deed(bare(text), mind):
        return outcome  # it is asked for, and put off elsewhere
    false_heat = _false_heat(text, outcome)
    if not (false_heat or _may_be_report(state, text, outcome, walk, mind)):
        return outcome
    other = _other_danger(state, text, walk, mind)
    if other >= DANGER_SURE:
        return outcome
    kept = state if false_heat or _opened(state, outcome) else outcome.state
    moved = (
        _moved(kept, text, walk, mind, now, sure=other >= DANGER_LIKELY, steered=_steered(outcome))
        if len(text.split()) >= LEAST_WORDS
        else None
    )
    if moved is not None:
        echoes = outcome.reply.show[: len(outcome.reply.readings)] if kept is not state else ()
        reply = replace(moved.reply, say=" ".join([*echoes, moved.reply.say]), show=(*echoes, *moved.reply.show))
        return Outcome(moved.state, reply, (*(event for event in outcome.events if kept is not state and event.kind == "reading"), *moved.events))  # fmt: skip
    if other < DANGER_LIKELY and (false_heat or _astray(text, outcome, walk, mind)):
        reply = phrases.at_step(mind.knowledge.procedure(walk.topic), walk, mind, FIRST)
        return Outcome(replace(state, asking=None, failures=0), reply, ())
    return outcome


_VITAL = Lazy(r"^(?:(?:have someone )?call|count|wake|lead|get everyone|send|move everyone)\b")


def _passes_unsaid(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind) -> bool:
    """Whether a report of something else would pass the call, the count or the way out: "soaked it with disinfectant"."""
    after = outcome.state.walk
    told_done = any(
        event.kind == "told-done" or (event.kind == "steer" and event.payload.get("sure", 1.0) < SURE_OF_OTHER)
        for event in outcome.events
    )
    if not told_done or after is None or after.topic != walk.topic or after.at <= walk.at:
        return False
    here = phrases.heard_here(text, walk, mind)
    vital = _VITAL.match(_do(walk, walk.at, mind).lower()) is not None
    return vital and here.done < NOT_DONE and here.acts["report"] >= REPORT


def _may_be_report(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind) -> bool:
    """Whether the outcome left the danger at its step, or led away from it by likeness."""
    reply, after = outcome.reply, outcome.state.walk
    if reply.kind not in _STAYS or mind.hurt.find(text) is not None or well_in_danger.is_ill(text) or "?" in text:
        return False
    if reply.kind == "control" and not reply.show[0].startswith(("Still at step", "Good. Still at step")):
        return False
    if reply.readings and telling.named_in(plain(text)) not in (None, "passengers", *_WARMTH):
        return False  # a level told by its name is no step of the danger
    same = after is not None and after.topic == walk.topic and after.at == walk.at
    return same or _opened(state, outcome)


def _steered(outcome: Outcome) -> bool:
    """Whether a command was obeyed, which tells nothing."""
    return any(event.kind in ("steer", "refused") for event in outcome.events)


def _opened(state: State, outcome: Outcome) -> bool:
    """Whether another procedure came on top by likeness."""
    topics = {walk.topic for walk in state.walks}
    after = outcome.state.walk
    return after is not None and after.topic not in topics


def _other_danger(state: State, text: str, walk: Walk, mind: Mind) -> float:
    """How likely a text tells of another danger than the one in hand."""
    sign = mind.hazards.find(progress.without_services(text, state, mind))
    if sign is not None:
        return float(sign != walk.topic)
    judged = mind.judge(text)
    if judged is None:
        return 0.0
    less = {walk.topic}
    if not _OF_WASTE.search(plain(text)):  # sewage that nobody named keeps nobody from what burns or chokes
        less.add(_SPILL)
    return max((chance for topic, chance in judged.dangers.items() if topic not in less), default=0.0)


def _false_heat(text: str, outcome: Outcome) -> bool:
    """Whether a count of people or the like was heard as a temperature: "nobody's inside, all thirty here"."""
    readings = outcome.reply.readings
    temperatures = bool(readings) and all(one.what in _WARMTH for one in readings)
    return temperatures and not _DEGREES.search(plain(text))


def _moved(
    state: State, text: str, walk: Walk, mind: Mind, now: datetime, *, sure: bool, steered: bool
) -> Outcome | None:
    """The danger one step further where that step is told done, or where people are told to be past it; else None.

    The last step is never left so: who must clear the danger is not passed by a report. `sure` asks for a report that is beyond doubt.
    """
    assert mind.report_network is not None
    if walk.at + 1 >= len(walk.plan):
        return None
    said = plain(text)
    told = mind.report_network.judge(
        text, tuple(phrases.words_at(walk, at, mind) for at in range(walk.at, len(walk.plan)))
    )
    here, later = told[0], told[1:-1]
    if steered and here.acts["report"] < REPORT_SURE:
        return None
    sure = sure or _DENIES.search(said) is not None or mind.hazards.find(text) is not None
    least = DONE_SURE if sure else DONE_OF_REPORT if here.acts["report"] >= REPORT_BEYOND_DOUBT else DONE
    if here.acts["report"] >= REPORT and here.done >= least and not _MISSES.search(said):
        return _forward(state, text, walk, mind, now, "Good.")
    do = _do(walk, walk.at, mind).lower()
    passed = (_PASSES.match(do) and "call" not in do) or (_LEADS_OUT.match(do) and _ALL.search(said))
    best = max(later, key=lambda one: one.done, default=None)
    if (
        walk.topic not in danger_first.OF_AIR
        or sure
        or not passed
        or _MISSES.search(said)
        or best is None
        or best.done < LATER
        or best.acts["report"] < REPORT
    ):
        return None
    at = walk.at + 1 + later.index(best)
    if (walk.at == 0 or _LEADS_OUT.match(do)) and not _PLACES.match(_do(walk, at, mind).lower()):
        return None  # a call is made and heads are counted on the move and inside too
    before = SAID_BEFORE if at == walk.at + 1 else "Good."
    return _forward(state, text, walk, mind, now, before)


def _forward(state: State, text: str, walk: Walk, mind: Mind, now: datetime, before: str) -> Outcome:
    event = EventDraft("told-done", {"topic": walk.topic, "step": walk.number, "said": text})
    state = walking.remembered(replace(state, asking=None, failures=0), "that report")
    moved = walking.move_to(walk.at + 1, state, mind, now, "next", before)
    return Outcome(moved.state, moved.reply, (event, *moved.events))


def _astray(text: str, outcome: Outcome, walk: Walk, mind: Mind) -> bool:
    """Whether what was said was met with a choice of what has no part in the danger, or with a danger it is not like and tells no sign of."""
    if outcome.reply.kind == "hazard" and outcome.reply.topic not in (walk.topic, None):
        unnamed = outcome.reply.topic == _SPILL and not _OF_WASTE.search(plain(text))
        return unnamed or mind.ranked(text).hazard < DANGER_LIKELY
    asked = any(event.kind == "asked" for event in outcome.events)
    if outcome.reply.kind == "procedure" and outcome.reply.confidence < SURE_OF_OTHER:
        return asked and phrases.heard_here(text, walk, mind).acts["report"] >= REPORT
    return outcome.reply.kind == "clarify" and bool(outcome.reply.options) and asked


def _do(walk: Walk, at: int, mind: Mind) -> str:
    return phrases.filled(mind.knowledge.procedure(walk.topic).steps[walk.plan[at]].do, mind.facts)
