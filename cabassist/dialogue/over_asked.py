"""A smell of gas or a CO alarm that is explained away: asked once whether it is over and everybody well, then closed."""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import ill_in_danger, phrases, walking
from cabassist.dialogue.types import Asking, Mind, Outcome, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain

GAS, GAS_SYSTEM = "propane-smell", "propane"
"""The danger after which the valves stay shut, and the procedures that work on them."""
_NO_LEAK = Lazy(
    r"\bfalse alarm\b|\b(?:skunk|perfume|toilet|vent|cooking|onions?|eggs?|drill|test)\b|\b(?:not|no|never) (?:any |a )?(?:gas|propane|leak)\b"
)


def explained_away(said: str) -> bool:
    """Whether a danger from gas is told to have been none."""
    return _NO_LEAK.search(said) is not None


QUESTIONS = {
    "propane-smell": "Has the smell gone, and is everybody well? Say yes, and I close it.",
    "carbon-monoxide-alarm": "Is the alarm silent, and is everybody well? Say yes, and I close it.",
}
_SURELY = Lazy(
    r"\bfalse alarm\b|\ball[- ]clear\b|\bno alarm\b|\b(?:never|wasn't|was not|weren't|isn't|is not|not) (?:\w+ ){0,2}(?:alarms?|emergency|drill)\b|\b(?:just |only )?(?:a )?(?:test|testing|drill|practice|practising|joking|kidding|exercise)\b"
    r"|\b(?:smell|alarm|it|that|air|odou?r)(?:'s|s| is| has| went)? (?:\w+ )?(?:gone|quiet|silent|stopped|cleared|clear|off now|over)\b|\b(?:every(?:one|body)|we|they|all)(?:'s|'re|s| is| are)?(?: of us)?(?: all)? (?:fine|ok|okay|well|good|alright|all right|safe)\b"
    r"|\b(?:i|we) (?:meant|mean|was asking|asked|misheard|never said|didn't say|did not say|said nothing)\b|\b(?:misheard|wrong button|typo)\b"
    r"|\b(?:fire|firemen|firefighters?|crew|department|mechanic|technician|gas (?:man|guy|company))\b.*\b(?:check\w*|clear\w*|said|says?|measured|okay|ok|safe|fine|found|fixed|mended|repaired|signed)\b|\b(?:fixed|repaired|mended|sorted)\b"
)
"""What shows that it is over, or that there never was anything: nothing is asked then."""
_YES = frozenset(
    "yes yeah yep yup yea sure of course correct right affirmative aye and it it's its is that's the a both all everyone everybody everyone's everybody's we we're they they're are everybody here now feels feel smell smell's alarm alarm's has gone went away quiet silent stopped off fine well ok okay good alright safe nobody nobody's sick ill dizzy hurt headache headaches no one one's".split()
)
_YES_SAID = Lazy(r"^(?:yes|yeah|yep|yup|yea|sure|of course|correct|affirmative|aye)\b")
_GONE = Lazy(r"\b(?:gone|went away|quiet|silent|stopped|off)\b")
_WELL = Lazy(r"\b(?:fine|well|ok|okay|good|alright|safe)\b|\b(?:nobody|no one)(?:'s|s| is)? (?:sick|ill|dizzy|hurt)\b")
_NO = Lazy(
    r"^(?:no|nope|nah|not (?:yet|really|sure|quite|all)|i don't know|don't know|dunno|maybe|half|partly|almost)\b|\b(?:still|but|except|\w+n't|not|again|worse)\b"
)
_DOUBLE = Lazy(r"\b(?:sick|ill|dizzy|hurt|headaches?)\b")


def first(state: State, danger: Walk, text: str, mind: Mind) -> Outcome | None:
    """The question that comes before a danger is closed which is only explained: "it was the toilet vent, not gas"; None where it may be closed.

    Where somebody was told to be ill it stays open, whatever is asked.
    """
    if (ill := ill_in_danger.keeps_open(state, danger, text, mind)) is not None:
        return ill
    question = QUESTIONS.get(danger.topic)
    if question is None or _SURELY.search(plain(text)):
        return None
    topic = danger.topic
    step = phrases.mark(danger)
    outcome = walking.control(replace(state, failures=0), question, topic=topic)
    return outcome._replace(reply=replace(outcome.reply, step=step))


def answered(state: State, text: str, mind: Mind) -> Outcome | None:
    """A yes closes the danger, a no or half an answer keeps it open; None when nothing of the kind was asked last, or something else is said."""
    last = state.last
    if (
        last is None
        or last.kind != "control"
        or last.topic is None
        or not last.say.endswith(QUESTIONS.get(last.topic, "\n"))
    ):
        return None
    danger = next((walk for walk in reversed(state.walks) if walk.topic == last.topic), None)
    said = bare(text)
    if danger is None or "?" in text or not said:
        return None
    words = set(said.split())
    ails = _DOUBLE.search(said) is not None and not {"nobody", "nobody's", "no"} & words
    plainly = words <= _YES and not ails
    if plainly and (_YES_SAID.match(said) or (_GONE.search(said) and _WELL.search(said))):
        return ill_in_danger.keeps_open(state, danger, text, mind) or closed(state, danger, text, mind)
    if plainly and (_GONE.search(said) or _WELL.search(said)):  # half an answer
        return first(state, danger, "", mind)
    if _NO.search(said) and not mind.hazards.find(text) and not ails:
        clears = phrases.filled(mind.knowledge.procedure(danger.topic).steps[danger.plan[-1]].do, mind.facts)
        line = f"Then it stays open. {clears}"
        outcome = walking.control(replace(state, failures=0), line, topic=danger.topic)
        return outcome._replace(reply=replace(outcome.reply, step=phrases.mark(danger)))
    return None


_CLEARED = Lazy(
    r"\b(?:fire|firemen|firefighters|mechanic|electrician|gas (?:man|guy|company)|technician)\b.*\b(?:check\w*|clear\w*|said|says?|measured|okay|ok|safe|fine)\b"
)
"""Who may say so has said so."""


def closed(state: State, danger: Walk, text: str, mind: Mind, *, cleared: bool = False) -> Outcome:
    """The walk through a danger closed, what it interrupted offered, and who must clear it said unless they have."""
    procedure = mind.knowledge.procedure(danger.topic)
    rest = tuple(walk for walk in state.walks if walk.topic != danger.topic)
    lines = [f"Good. {procedure.title} is closed."]
    if not (cleared or _CLEARED.search(bare(text))):
        lines.append(phrases.filled(procedure.steps[danger.plan[-1]].do, mind.facts))
    lines.append("If it comes back, tell me at once.")
    of_gas = (
        cleared and bool(rest) and danger.topic == GAS and mind.knowledge.procedure(rest[-1].topic).system == GAS_SYSTEM
    )
    if of_gas:  # nobody is led back to valves that must stay shut
        lines.append(f"{mind.knowledge.title(rest[-1].topic)} waits. It works on the gas: leave it until a technician has tested.")  # fmt: skip
    elif rest:
        lines.append(phrases.back_to(rest[-1], mind))
    timers = tuple(timer for timer in state.timers if timer.topic != danger.topic)
    state = replace(
        walking.remembered(state, "closing that"),
        walks=rest,
        timers=timers,
        asking=Asking("resume") if rest and not of_gas else None,
        topic=danger.topic,
        failures=0,
    )
    event = EventDraft("walk", {"topic": danger.topic, "step": danger.number, "of": len(danger.plan), "move": "stop", "said": text})  # fmt: skip
    return walking.control(state, " ".join(lines), lines=tuple(lines), topic=danger.topic, events=(event,))
