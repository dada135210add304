"""One turn of the conversation: (state, what was said, now) to (state, reply, events).

The order is the safety rule: a hazard outranks everything, by its signs or by its likeness to known reports, also in
passing. Only a command of a few words, which can hold no report without a sign, is obeyed before the matcher has
looked. Then come commands, what the assistant waits for, and reminders; then readings, reports and calculations; last
the question, with the wishes that must be refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import (
    choosing,
    defects,
    duty,
    framing,
    keeping,
    manner,
    moving,
    outlook,
    phrases,
    pointing,
    progress,
    reckoning,
    reminders,
    rolling,
    telling,
    walking,
)
from cabassist.dialogue.types import Asking, Kept, Mind, Outcome, Reply, State
from cabassist.estimate.quantities import roughly
from cabassist.journal.events import EventDraft
from cabassist.language.matching import Ranking
from cabassist.language.normalise import MAX_CHARACTERS, bare, clean, has_words, plain
from cabassist.language.reading_types import Heard, Reading
from cabassist.language.routing import Decision, decide
from cabassist.language.steering import BY_WORDS, Steer
from cabassist.language.steering_families import tells
from cabassist.language.steering_words import beyond
from cabassist.procedures.layer import mended

COMMAND_WORDS = 3
"""A command up to this long is obeyed at once."""
STATEMENT_WORDS = 4
"""A statement up to this long that tells a reading tells nothing else."""
WORTH_WORKING_OUT = 0.15
"""Probability of a calculation from which on the text is looked at for one."""
ANYTIME = frozenset({"undo", "help", "readings", "timers", "cancel-timer", "thanks", "source"})
"""Commands that make sense without a walk."""
HELP = (
    "Ask in your own words: how do I dump the waste tank? It smells of gas. Where is the torque wrench?",
    "Tell readings: waste at forty percent. Outside bottle a quarter, minus twelve out.",
    "In a procedure: next, back, repeat, why, how many left, skip, pause, resume, stop, start over, undo.",
    "A danger is answered first, whatever else is going on.",
)
_FOLLOW_UP = re.compile(
    r"^(?:and |but |no |nope |not that |i meant? |i mean |what about |how about |and what about |sorry )+(?:the |for the |on the |with the |in the |at the )?(?P<rest>.+)$"
)
_VARIES = re.compile(r"^(?:ok |okay |so |well )*(?:and|what if|what about|how about|same|but if|if|make (?:it|that))\b")
"""Opens a question that changes an input of the last calculation."""
_OTHER = re.compile(r"\b(?:the )?other (?:one|side|tank|cylinder|bottle|end|thing|way)\b|\bthe opposite\b")


def take_turn(state: State, said: str, *, mind: Mind, now: datetime) -> Outcome:
    """Answer one utterance. Timers that have run out are announced before the answer."""
    state, over = walking.due(state, now)
    outcome = keeping.after_walk(_turn(state, said, mind, now), mind, now)
    outcome = rolling.held(state, defects.repeated(outcome), mind, now)
    reply = outcome.reply
    if state.rolling and outcome.state.rolling:
        reply, unsaid = rolling.short(reply, over)
        kept = rolling.keep(outcome.state, *(Kept(f"Timer: {announce}") for announce in unsaid))
        outcome = Outcome(kept, outcome.reply, outcome.events)
    elif over:
        lines = tuple(f"Timer: {announce}" for announce in over)
        reply = replace(reply, say=" ".join([*over, reply.say]), show=(*lines, *reply.show))
    events = tuple(EventDraft("timer", {"announce": announce}) for announce in over)
    whole = outcome.reply if state.rolling else reply  # "repeat" gives all of it once the coach is parked
    whole = manner.kept(state, outcome, whole)
    return Outcome(replace(outcome.state, last=whole), reply, (*events, *outcome.events))


def _turn(state: State, said: str, mind: Mind, now: datetime) -> Outcome:
    text = clean(said)
    if not has_words(text):
        lines = ("I heard nothing I can use. Say what you want to do, or say help.",)
        return Outcome(state, Reply("unknown", lines[0], lines, confidence=0.0))
    if mind.misheard and mind.hazards.find(text) is None:  # a word list must never talk a hazard away
        text = mended(text, mind.misheard)
    cut = len(text) > MAX_CHARACTERS
    text = text[:MAX_CHARACTERS]
    outcome = _understood(state, text, mind, now)
    if cut:
        note = f"That was long. I used the first {MAX_CHARACTERS} characters."
        outcome = outcome._replace(reply=replace(outcome.reply, show=(note, *outcome.reply.show)))
    return outcome


def _understood(state: State, text: str, mind: Mind, now: datetime) -> Outcome:
    sign = mind.hazards.find(progress.without_services(text, state, mind))
    steer = mind.steering.find(text) if sign is None else None
    if steer is not None and len(text.split()) <= COMMAND_WORDS:
        steered = _steered(state, steer, text, mind, now)
        if steered is not None:
            return steered
    timed = reminders.at_clock(state, text, now) if sign is None else None
    if timed is not None:
        return timed
    heard = _heard(text, state, mind)
    asked = framing.without_interjection(text)
    ranking = mind.matcher.rank(asked)
    decision = _decided(asked, ranking, sign, mind)
    if sign is None:
        decision = framing.framed(asked, decision, mind)
    decision = _in_context(text, ranking, decision, state, mind)
    ongoing = progress.over_told(state, text, mind, now)
    if ongoing is None and sign is None:
        ongoing = progress.danger_told(state, text, mind, now)
    if ongoing is not None:
        return ongoing
    if sign is None and decision.verdict in ("hazard", "refuse") and reckoning.only_a_sum(text, mind, now):
        reckoned = reckoning.reckoned(state, text, heard, ranking, mind, now)
        if reckoned is not None:
            return reckoned
    if decision.verdict == "hazard":
        return defects.beside(_hazard(state, decision, heard, text, mind, now), text, mind, now)
    if sign is None:
        expected = _expected(state, steer, text, mind, now) or _recorded(state, text, ranking, decision, mind, now)
        if expected is not None:
            return expected
    wished = decision.verdict == "refuse" and bool(mind.wishes.find(text))
    if decision.verdict == "refuse" and not wished and state.worked is not None and _VARIES.match(plain(text)):
        worked = _worked(state, text, ranking, mind, now)  # "and if it only runs half the time" only sounds like a wish
        if worked is not None:
            return worked
    if sign is None and not wished:
        again = _restated(state, text, heard, ranking, mind, now) or _completed(state, text, heard, ranking, mind, now)
        if again is not None:
            return again
    if sign is None and not wished and _AMOUNT.search(bare(text)):
        reckoned = reckoning.reckoned(state, text, heard, ranking, mind, now)
        if reckoned is not None:
            return reckoned
    if sign is None and _is_telling(text, heard, ranking, decision, state):
        return _told(state, heard, text, mind, now)
    if not heard.readings or heard.withdrawn:
        return _asked(state, text, sign, ranking, decision, mind, now)
    # What is told beside a question is stored before the question is answered, for the answer may need it.
    state, echoes, events = telling.beside(heard, text, state, mind, now)
    outcome = _asked(state, text, sign, ranking, decision, mind, now)
    reply = replace(outcome.reply, show=(*echoes, *outcome.reply.show), readings=heard.readings)
    return Outcome(outcome.state, reply, (*events, *outcome.events))


def _asked(
    state: State, text: str, sign: str | None, ranking: Ranking, decision: Decision, mind: Mind, now: datetime
) -> Outcome:
    """The answer to what is no mere report: a level asked back, a defect, an outlook, a calculation, a question."""
    asked = telling.asked_level(plain(text), state.last) if sign is None else None
    if asked is not None:
        return telling.read_back(asked, state, mind, now)
    if sign is None and decision.verdict != "refuse":
        logged = defects.logged(state, text, ranking, mind, now)
        if logged is not None:
            return logged
    if sign is None and decision.verdict != "refuse" and state.pending is None and outlook.asked(text, ranking):
        return outlook.answer(state, text, mind, now)
    if sign is None and decision.verdict != "refuse" and _asks_for_number(text, ranking, decision, state):
        worked = _worked(state, text, ranking, mind, now)
        if worked is not None and not (worked.reply.kind == "clarify" and _wants_walk(text, decision, state)):
            return worked
    decision = pointing.pointed(state, text, decision, mind) or decision
    follow = _follow_up(state, text, decision, mind)
    if follow is not None:
        decision, text = follow
    return _decision(state, decision, text, mind, now)


def _expected(state: State, steer: Steer | None, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A longer command, an answer to what the assistant asked, or a reminder to be set."""
    if steer is not None and len(text.split()) > COMMAND_WORDS:
        steered = _steered(state, steer, text, mind, now)
        if steered is not None:
            return steered
    if state.asking is not None:
        waited = _waited_for(state, text, mind, now)
        if waited is not None:
            return waited
    if _timer_spoken_of(state) and _ENDS_TIMER.match(bare(text)):
        return reminders.cancelled(state, mind, now)
    return (
        reminders.reminder(text, state, mind, now)
        or moving.told(state, text, mind, now)
        or pointing.remedy_told(state, text, mind, now)
        or pointing.judged_told(state, text)
    )


def _recorded(
    state: State, text: str, ranking: Ranking, decision: Decision, mind: Mind, now: datetime
) -> Outcome | None:
    """What belongs to the record and is stated as such: defects that move on, duty status, upkeep, kit, hours left."""
    told = (
        defects.told(state, text, mind, now)
        or duty.told(state, text, mind, now)
        or keeping.told(state, text, mind, now)
    )
    if told is not None or decision.verdict == "refuse":
        return told
    return duty.hours(state, text, ranking, mind, now)


def _decided(text: str, ranking: Ranking, sign: str | None, mind: Mind) -> Decision:
    options = tuple(mind.knowledge.vague.get(ranking.vague_like, ()))
    return decide(
        ranking,
        sign,
        hazards=mind.knowledge.hazards,
        vague_options=options,
        homes=mind.knowledge.homes,
        wish_signs=mind.wishes.find(text),
    )


_ASKS = re.compile(
    r"^(?:how|what|where|why|when|which|who|can|could|should|shall|may|must|do|does|did|is|are|am|will|would|any)\b"
)
_AMOUNT = re.compile(
    r"\d|%|\b(?:zero|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twent\w+|thirt\w+|fort\w+|fift\w+"
    r"|sixt\w+|sevent\w+|eight\w+|ninet\w+|hundred|thousand|half|quarter\w*|thirds?|per ?cent|minus|below)\b"
)

_HOW_MANY = re.compile(r"\bhow (?:many|much|long|far|full)\b")


def _heard(text: str, state: State, mind: Mind) -> Heard:
    # A plain question with no amount in it tells nothing, and the reader of reports takes a while to load.
    asked = bare(text)
    if not _AMOUNT.search(asked) and (_HOW_MANY.search(asked) or (not state.told and _ASKS.match(asked))):
        return Heard()
    # What a calculation waits for is no correction of the reading that was told last.
    return mind.readings_in(text, state.told if state.pending is None else ())


_POINTS = re.compile(r"\b(?:it|that|this|them|these|those|one|ones|there|him|her)\b")


def _in_context(text: str, ranking: Ranking, decision: Decision, state: State, mind: Mind) -> Decision:
    """The decision once the walk in hand is taken into account: "can I tape it so it stays in", "it's frozen"."""
    walk = state.walk
    if (
        walk is None
        or decision.verdict in ("hazard", "refuse")
        or (decision.verdict == "answer" and decision.confidence > 0.85)
    ):
        return decision
    if _POINTS.search(plain(text)):
        whole = f"{mind.knowledge.title(walk.topic)}: {text}"
        joined = _decided(whole, mind.matcher.rank(whole), None, mind)
        if joined.verdict == "refuse" and walk.topic in {
            mind.knowledge.wish(joined.wish).caution_topic,
            *mind.knowledge.wish(joined.wish).also,
        }:
            return joined
    if decision.verdict == "clarify":
        procedure = mind.knowledge.procedure(walk.topic)
        near = [name for name in decision.topics if name in (*procedure.related, *procedure.then)]
        if len(near) == 1 and walk.topic not in decision.topics:
            return Decision("answer", (near[0],), dict(ranking.procedures).get(near[0], 0.5))
    return decision


def _is_telling(text: str, heard: Heard, ranking: Ranking, decision: Decision, state: State) -> bool:
    """Whether the text states readings and nothing else that needs an answer."""
    if not (heard.readings or heard.refused or heard.withdrawn or heard.ask):
        return False
    if state.pending is not None and not (heard.readings or heard.refused or heard.withdrawn):
        return False  # the amount is what the calculation waits for
    if heard.withdrawn and not heard.readings:
        # "scratch that" means the reading only while one stands that was told.
        return any(telling.same(stored.reading, gone) for stored in state.stored for gone in heard.withdrawn)
    if heard.withdrawn or heard.refused:
        return True
    if len(text.split()) <= STATEMENT_WORDS and not _ASKS.match(bare(text)) and "?" not in text:
        return True  # "waste is empty" holds nothing beside the reading
    return not (decision.verdict in ("answer", "refuse") and ranking.telling < 0.5)


def _told(state: State, heard: Heard, text: str, mind: Mind, now: datetime) -> Outcome:
    if any(r.what == "co_ppm" and (r.value or 0) > telling.CO_CONCERN_PPM for r in heard.readings):
        return _hazard(state, Decision("hazard", ("carbon-monoxide-alarm",), 0.9), heard, text, mind, now)
    topic = "house-battery-low" if any(telling.is_flat(reading, mind.coach) for reading in heard.readings) else None
    return telling.told(heard, text, replace(state, failures=0), mind, now, topic)


# -- what the assistant waits for ---------------------------------------------------------------


_TIME = re.compile(r"\b(?:timer|clock|wait|minutes)\b", re.IGNORECASE)


_ENDS_TIMER = re.compile(
    r"^(?:kill|cancel|scrap|stop|end|lose|drop|forget|clear|delete|switch off|turn off) (?:it|that|that one|the last one)$|^(?:turn|switch) it off$"
)


def _timer_spoken_of(state: State) -> bool:
    """Whether the last answer was about a timer or reminder."""
    last = state.last
    return last is not None and last.kind == "control" and (" to go, then: " in last.say or "I remind you" in last.say)


_ERRAND = re.compile(
    r"\b(?:i'm|i am|i have to|i've got to|i got to|gotta|i need to|let me|lemme|i'll|while i|till i|until i|i want to) (?:\w+ )?(?:get|getting|grab|grabbing|find|finding|fetch|fetching|put|putting|go|going|run|running|talk|talking|answer|ask|call|help|take|look|see|check|be|wash|use)"
)
"""What somebody does meanwhile who asks to wait."""


def _waits(text: str, state: State, mind: Mind) -> bool:
    """Whether "hang on" only asks to wait: what follows it is not about the job in hand, and names no other."""
    rest = beyond(bare(text))
    if not rest:
        return True
    if state.walk is None or re.search(r"\b(?:first|instead)\b", text.lower()):
        return False
    if _ERRAND.search(plain(text)):
        return True
    procedure = mind.knowledge.procedure(state.walk.topic)
    words = " ".join([procedure.title, *(step.do for step in procedure.steps)])
    return not progress.stems(rest) & progress.stems(phrases.filled(words, mind.facts))


def _refusal_explained(state: State, steer: Steer) -> Outcome | None:
    """Why a wish was refused, or by what rule, when the refusal was the last thing said."""
    if state.last is None or state.last.kind != "refuse" or steer.verb not in ("why", "source"):
        return None
    opens = "Why: " if steer.verb == "why" else "Source: "
    line = next((line for line in state.last.show if line.startswith(opens)), None)
    return walking.control(state, line.removeprefix("Why: "), topic=state.last.topic) if line is not None else None


_WHY = re.compile(r"^why ")


def _of_step(text: str, state: State, mind: Mind) -> bool:
    """Whether "why" asks about the step in hand: every thing it names is named there. "Why is the water brown" is not."""
    walk = state.walk
    if walk is None or len(text.split()) <= COMMAND_WORDS or not _WHY.match(bare(text)):
        return True
    if tells(_WHY.sub("", bare(text))):
        return False
    procedure = mind.knowledge.procedure(walk.topic)
    texts = [
        *(part for step in procedure.steps for part in (step.do, step.done_when or "", step.why or "")),
        procedure.title,
    ]
    texts += [
        caution.text for caution in (*procedure.cautions, *(c for step in procedure.steps for c in step.cautions))
    ]
    return progress.stems(beyond(bare(text))) <= progress.stems(
        phrases.filled(" ".join([*texts, *procedure.needs]), mind.facts)
    )


def _steered(state: State, steer: Steer, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """Obey a command, when it makes sense where the conversation stands."""
    if steer.verb in manner.MANNERS:
        return manner.changed(state, steer.verb) if steer.sure == 1.0 else None
    if steer.verb in rolling.COMMANDS:
        return rolling.COMMANDS[steer.verb](state, mind, now) if steer.sure == 1.0 else None
    if state.asking is not None:
        answered = defects.expected(state, text, mind, now) or _answered(state, steer, text, mind, now)
        if answered is not None:
            return answered
    if steer.sure == BY_WORDS and steer.verb in ("skip", "resume") and state.walk is not None:
        moved = moving.told(state, text, mind, now)  # "no need for that" is a skip with its reason
        if moved is not None:
            return moved
    if steer.verb == "choose" and (state.pending is not None or telling.reading_wanted(state) is not None):
        return None
    explained = _explained(state, steer) or _refusal_explained(state, steer)
    if explained is not None:
        return explained
    if steer.verb == "how-many" and state.timers and (state.walk is None or _TIME.search(text)):
        return _timers(state, mind, now)
    if steer.verb == "stop" and state.walk is None and state.timers and _timer_spoken_of(state):
        return reminders.cancelled(state, mind, now)
    if steer.verb == "pause" and not _waits(text, state, mind):
        return None
    if steer.verb == "why" and state.walk is not None and not _of_step(text, state, mind):
        return None
    if steer.verb in ANYTIME:
        return _ANYTIME[steer.verb](state, mind, now)
    if state.walk is not None:
        if steer.verb in ("choose", "last", "no", "just-number") or (steer.verb == "yes" and state.walk.paused):
            return None if steer.verb != "yes" else walking.HANDLERS["resume"](state, mind, now, steer)
        if state.walk.paused and steer.verb == "next":
            return walking.HANDLERS["resume"](state, mind, now, steer)
        outcome = walking.HANDLERS[steer.verb](replace(state, failures=0), mind, now, steer)
        event = EventDraft("steer", {"verb": steer.verb, "sure": round(steer.sure, 3)})
        return Outcome(outcome.state, outcome.reply, (event, *outcome.events))
    if steer.verb == "repeat" and state.last is not None:
        return Outcome(state, replace(state.last, readings=(), withdrawn=()))
    if steer.verb == "next" and state.asking is not None and state.last is not None and state.last.kind == "clarify":
        return Outcome(state, state.last)  # what was asked is still to be answered
    if steer.verb == "resume" and state.undo and state.topic:
        return walking.control(state, "No procedure is paused. Ask for one in your own words.")
    if steer.verb in ("why", "done-when", "needs", "cautions") and len(text.split()) > 3:
        return None
    if steer.verb in ("no", "yes", "stop"):
        return walking.control(replace(state, asking=None), "All right.")
    if steer.sure >= 0.8:
        return walking.control(state, "No procedure is open. Ask for one in your own words, or say help.")
    return None


_STEP = re.compile(r"\b(?:step|where|supposed|meant)\b", re.IGNORECASE)
"""Asks for the step in hand again, whatever was said since."""


def _answered(state: State, steer: Steer, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A command that answers what the assistant asked."""
    asking = state.asking
    assert asking is not None
    if asking.what == "choice":
        number = {"choose": steer.number, "last": len(asking.options), "yes": 1}.get(steer.verb)
        if number is not None:
            if 1 <= number <= len(asking.options):
                return _chosen(state, asking.options[number - 1], text, mind, now)
            return walking.control(
                state, f"There are {len(asking.options)} choices. Say a number from 1 to {len(asking.options)}, or no."
            )
        if steer.verb == "no":
            text = "All right, none of those. Ask in other words."
            outcome = walking.control(replace(state, asking=None, failures=state.failures + 1), text)
            return Outcome(
                outcome.state, outcome.reply, (EventDraft("choice", {"options": list(asking.options), "taken": None}),)
            )
        if steer.verb == "repeat" and state.last is not None and not (state.walk is not None and _STEP.search(text)):
            return Outcome(state, state.last)
    if asking.what == "resume" and state.walk is not None:
        if steer.verb in ("yes", "resume", "next"):
            return walking.HANDLERS["resume"](replace(state, asking=None), mind, now, steer)
        if steer.verb == "no":
            return walking.HANDLERS["stop"](replace(state, asking=None), mind, now, steer)
    if asking.what == "skip-reason":
        if steer.verb in ANYTIME:
            return None
        if steer.verb in ("no", "back", "repeat", "stop", "pause", "start-over", "jump", "why", "how-many"):
            return walking.HANDLERS["repeat" if steer.verb == "no" else steer.verb](
                replace(state, asking=None), mind, now, steer
            )
        reason = "" if steer.verb in ("next", "yes") or bare(text).startswith("skip") else text
        return walking.skipped(replace(state, asking=None), mind, now, reason)
    if asking.what == "reading" and steer.verb == "no":
        return walking.HANDLERS["cannot-see"](state, mind, now, steer)
    return None


def _waited_for(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """Free words that answer what the assistant asked."""
    asking = state.asking
    assert asking is not None
    if asking.what == "defect":
        return defects.expected(state, text, mind, now)
    if asking.what == "skip-reason":
        return walking.skipped(replace(state, asking=None), mind, now, text)
    if asking.what == "reading" and len(text.split()) <= 6:
        heard = mind.readings_in(text, state.told)
        if not heard.readings:
            heard = mind.readings_in(f"{asking.reading.replace('_', ' ')} {text}")
        if heard.readings or heard.refused:
            return telling.told(heard, text, state, mind, now)
    if asking.what == "choice" and len(text.split()) <= choosing.MAX_WORDS:
        picked = choosing.named(text, state.question, asking.options, mind)
        if picked is not None:
            return _chosen(state, picked, text, mind, now)
    return None


def _chosen(state: State, topic: str, text: str, mind: Mind, now: datetime) -> Outcome:
    options = state.asking.options if state.asking else ()
    outcome = walking.open_walk(topic, replace(state, asking=None), mind, now, 1.0, state.question or text)
    event = EventDraft("choice", {"options": list(options), "taken": topic, "question": state.question})
    return Outcome(outcome.state, outcome.reply, (event, *outcome.events))


# -- what was meant -----------------------------------------------------------------------------


def _hazard(state: State, decision: Decision, heard: Heard, text: str, mind: Mind, now: datetime) -> Outcome:
    """A hazard: its escape line at once; what stands under it waits."""
    topic = decision.topics[0]
    events: tuple[EventDraft, ...] = (
        EventDraft("hazard", {"topic": topic, "said": text, "confidence": round(decision.confidence, 3)}),
    )
    readings: tuple[Reading, ...] = ()
    if heard.readings and not heard.withdrawn:
        state, _, stored = telling.beside(heard, text, state, mind, now)
        readings, events = heard.readings, (*events, *stored)
    if state.walk is not None and state.walk.topic == topic:
        walk = state.walk
        procedure = mind.knowledge.procedure(topic)
        reply = replace(phrases.opening(procedure, walk, mind, decision.confidence), readings=readings)
        return Outcome(state, reply, events)
    outcome = walking.open_walk(topic, state, mind, now, decision.confidence, text)
    return Outcome(outcome.state, replace(outcome.reply, readings=readings), (*events, *outcome.events))


def _follow_up(state: State, text: str, decision: Decision, mind: Mind) -> tuple[Decision, str] | None:
    """A question that leans on the one before: "and the other one?", "no, the waste tank"."""
    if not state.topic or decision.verdict in ("hazard", "refuse"):
        return None
    short = bare(text)
    twin = mind.twins.get(state.topic)
    if twin and _OTHER.search(short) and len(short.split()) <= 8:
        return Decision("answer", (twin,), 0.7), text
    match = _FOLLOW_UP.match(plain(text))
    if not match or len(match.group("rest").split()) > 5:
        return None
    if decision.verdict == "answer" and decision.confidence > 0.85:
        return None
    rest = match.group("rest")
    if not state.question:
        return None
    joined = f"{state.question} {rest}" if decision.verdict != "unknown" else f"{state.question}, {rest}"
    swapped = _swapped(state.question, rest)
    whole = swapped or joined
    again = _decided(whole, mind.matcher.rank(whole), None, mind)
    return (again, whole) if again.verdict in ("answer", "clarify") else None


_THINGS = (
    "fresh",
    "waste",
    "black",
    "grey",
    "gray",
    "propane",
    "water",
    "outside",
    "inside",
    "front",
    "rear",
    "left",
    "right",
    "diesel",
)


def _swapped(question: str, rest: str) -> str | None:
    """The question before with the thing it was about replaced by the new one."""
    new = next((word for word in rest.split() if word in _THINGS), None)
    old = next((word for word in plain(question).split() if word in _THINGS), None)
    if new is None or old is None or new == old:
        return None
    return re.sub(rf"\b{old}\b", new, plain(question), count=1)


_OF_NUMBER = re.compile(
    r"\b(?:how (?:many|much|long|far|full|soon|often|cold|heavy|big|low|high)|when|enough|last|left|till?|until|work out|calculate|figure|what time|range|will it|legal|over(?:weight)?|too much)\b"
)


def _wants_walk(text: str, decision: Decision, state: State) -> bool:
    """Whether a procedure is asked for rather than a number that would have to be asked for: "time to dump the tank"."""
    return (
        state.pending is None
        and decision.verdict == "answer"
        and decision.confidence >= 0.5
        and not _AMOUNT.search(bare(text))
        and not _OF_NUMBER.search(bare(text))
    )


def _asks_for_number(text: str, ranking: Ranking, decision: Decision, state: State) -> bool:
    """Whether it is worth looking for a calculation; that loads the unit registry, which takes a while."""
    if state.pending is not None or ranking.work_out >= WORTH_WORKING_OUT:
        return True
    if (
        state.worked is not None
        and len(text.split()) <= 12
        and not (decision.verdict == "answer" and decision.confidence > 0.9)
    ):
        return True
    return bool(_AMOUNT.search(bare(text))) and not (decision.verdict == "answer" and decision.confidence > 0.9)


def _worked(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """Work out what the text asks for, ask for what is missing, or None when it asks for no number."""
    from cabassist.dialogue.working import work_out

    worked = work_out(
        text,
        ranking.calculations,
        coach=mind.coach,
        stored=state.stored,
        now=now,
        pending=state.pending,
        last=state.worked,
    )
    return None if worked is None else reckoning.answer(state, worked, text, ranking, mind)


def _restated(state: State, text: str, heard: Heard, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last calculation with one amount of its question changed, or None; asked back when it could be either of two."""
    last = state.worked
    if last is None or last.estimate is None or state.last is None or state.last.kind not in ("calculation", "control"):
        return None
    if state.pending is not None or heard.withdrawn or not _AMOUNT.search(bare(text)):
        return None
    from cabassist.dialogue.restating import restated, varies
    from cabassist.dialogue.working import work_out

    found = restated(state.question, text)
    if found is None and heard.readings and not heard.withdrawn and varies(text):
        # "make that 14 people": what the calculation took from the readings is told anew
        told, echoes, events = telling.beside(heard, text, state, mind, now)
        worked = work_out(
            state.question,
            mind.matcher.rank(state.question).calculations,
            coach=mind.coach,
            stored=told.stored,
            now=now,
        )
        if worked is None or worked.estimate is None or worked.calculation != last.calculation:
            return None
        outcome = reckoning.answer(told, worked, state.question, ranking, mind)
        reply = replace(outcome.reply, show=(*echoes, *outcome.reply.show), readings=heard.readings)
        return Outcome(outcome.state, reply, (*events, *outcome.events))
    if found is None:
        return None
    if found.between:
        line = f"Which do you change: {', or '.join(found.between)}? Say it with its unit."
        reply = Reply("clarify", line, (line,), topic=last.topic)
        return Outcome(state, _standing(reply, state, mind))
    worked = work_out(
        found.text, mind.matcher.rank(found.text).calculations, coach=mind.coach, stored=state.stored, now=now
    )
    if worked is None or worked.estimate is None or worked.calculation != last.calculation:
        return None
    return reckoning.answer(state, worked, found.text, ranking, mind)


def _completed(state: State, text: str, heard: Heard, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """Amounts told after a question for a number that named none: "how long can I drive" and then "drove six so far"."""
    last = state.last
    if state.pending is not None or last is None or last.kind not in ("procedure", "clarify", "unknown"):
        return None
    short = bare(text)
    if (
        heard.readings
        or "?" in text
        or _ASKS.match(short)
        or not _AMOUNT.search(short)
        or _AMOUNT.search(bare(state.question))
    ):
        return None
    if not _OF_NUMBER.search(bare(state.question)) or (state.asking is not None and len(short.split()) < 3):
        return None
    from cabassist.dialogue.working import work_out

    whole = f"{state.question}, {text}"
    worked = work_out(whole, mind.matcher.rank(whole).calculations, coach=mind.coach, stored=state.stored, now=now)
    if worked is None or worked.estimate is None:
        return None
    return reckoning.answer(replace(state, asking=None), worked, whole, ranking, mind)


def _explained(state: State, steer: Steer) -> Outcome | None:
    """How the last number came about, when a number was the last thing said."""
    if state.worked is None or state.worked.estimate is None or state.last is None:
        return None
    told = state.last.kind == "reading" and state.walk is None
    if not (told or state.last.kind in ("calculation", "control")) or steer.verb not in (
        "why",
        "source",
        "just-number",
    ):
        return None
    estimate = state.worked.estimate
    if steer.verb == "just-number":
        number = "No number." if estimate.value is None else f"{estimate.value:.3g} {estimate.unit}"
        return walking.control(state, number)
    if steer.verb == "source":
        note = "Rules change: check that it is current." if "CFR" in estimate.source else "Makers' figures come first."
        return walking.control(state, f"From: {estimate.source}. {note}", topic=state.worked.topic)
    assumed = [f"Assumed: {line}" for line in estimate.assumptions]
    lines = ("Working:", *(f"  {line}" for line in estimate.working), *assumed, f"Source: {estimate.source}")
    spoken = " ".join([*estimate.working[:2], *assumed[:1]]) or estimate.verdict
    return walking.control(state, spoken, lines=lines, topic=state.worked.topic)


def _decision(state: State, decision: Decision, text: str, mind: Mind, now: datetime) -> Outcome:
    payload = {
        "said": text,
        "verdict": decision.verdict,
        "topics": list(decision.topics),
        "confidence": round(decision.confidence, 3),
    }
    event = EventDraft("asked", payload)
    if decision.verdict == "refuse":
        outcome = _refused(state, decision, mind)
    elif decision.verdict == "answer":
        outcome = walking.open_walk(decision.topics[0], state, mind, now, decision.confidence, text)
    elif decision.verdict == "clarify":
        reply = phrases.choices("Which do you mean?", decision.topics, mind, decision.confidence)
        outcome = Outcome(
            replace(state, asking=Asking("choice", decision.topics), question=text), _standing(reply, state, mind)
        )
    else:
        reply = phrases.unknown(decision.topics, mind, decision.confidence, state.failures + 1)
        asking = Asking("choice", decision.topics)
        outcome = Outcome(
            replace(state, asking=asking, question=text, failures=state.failures + 1), _standing(reply, state, mind)
        )
    return Outcome(outcome.state, outcome.reply, (event, *outcome.events))


def _standing(reply: Reply, state: State, mind: Mind) -> Reply:
    """The reply with the walk in hand named, so that nobody thinks it is gone."""
    walk = state.walk
    if walk is None:
        return reply
    return replace(
        reply,
        show=(
            *reply.show,
            f"You are still at step {walk.number} of {len(walk.plan)}, {mind.knowledge.title(walk.topic)}.",
        ),
        step=phrases.mark(walk),
    )


def _refused(state: State, decision: Decision, mind: Mind) -> Outcome:
    wish = mind.knowledge.wish(decision.wish)
    topic = wish.caution_topic
    walk = state.walk
    if walk is not None and walk.topic in wish.also:
        topic = walk.topic
    reply = phrases.refusal(wish, mind, decision.confidence, topic)
    asking = Asking("choice", (topic,))
    event = EventDraft("refused", {"wish": wish.id, "topic": topic})
    return Outcome(replace(state, asking=asking, topic=topic), _standing(reply, state, mind), (event,))


# -- commands that need no walk -----------------------------------------------------------------


def _undo(state: State, mind: Mind, now: datetime) -> Outcome:
    return telling.undone(state, mind, now)


def _help(state: State, mind: Mind, now: datetime) -> Outcome:
    return walking.control(state, HELP[0], lines=HELP)


def _readings(state: State, mind: Mind, now: datetime) -> Outcome:
    return defects.also_open(telling.read_back(None, state, mind, now))


def _timers(state: State, mind: Mind, now: datetime) -> Outcome:
    if not state.timers:
        return walking.control(state, "No timer is running.")
    lines = []
    for timer in state.timers:
        minutes = max(0, round((timer.due - now).total_seconds() / 60))
        left = f"{minutes} minute{'s' if minutes != 1 else ''}" if minutes < 90 else roughly(minutes / 60)
        lines.append(f"{left} to go, then: {timer.announce}")
    return walking.control(state, " ".join(lines), lines=tuple(lines))


def _thanks(state: State, mind: Mind, now: datetime) -> Outcome:
    return walking.control(state, "You are welcome.")


def _source(state: State, mind: Mind, now: datetime) -> Outcome:
    topic = state.walk.topic if state.walk else state.topic
    if topic is None:
        return walking.control(state, "Ask something first; then I name its sources.")
    return walking.source_of(topic, state, mind)


_ANYTIME: dict[str, Callable[[State, Mind, datetime], Outcome]] = {
    "undo": _undo,
    "help": _help,
    "readings": _readings,
    "timers": _timers,
    "cancel-timer": reminders.cancelled,
    "thanks": _thanks,
    "source": _source,
}
