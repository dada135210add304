"""What is told of an alarm right after its test button was pressed: "it chirped nice and loud", "loud and clear", "not a peep".

In the step that tests it, a sound is what is wanted, and elsewhere it is an alarm. So only words that tell of a single sound that
is over count here, and only in that step or right after it. No sound is worse than any: nobody sleeps by an alarm that is dead.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State, Walk
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare, plain

_TESTS = Lazy(r"^press the test button of (?:the|each|every) [^.]*\balarms?\b")
_LEAD = r"^(?:(?:ok|okay|yep|yup|yeah|yes|so|and|well|right|good|great|done|pressed it|tested it|tested|test button|oh|wow|ouch|ow) )*"
_IT = r"(?:(?:the |that |our )?(?:co |smoke |carbon monoxide |little )?(?:alarm|detector|thing|one|button|it|that|she|they|both|test)(?:'s| has| have| is| was)? )?(?:just |did |all |still |sure |really )*"
_LOUD = r"(?:loud|loudly|clear|clearly|strong|piercing|ear[- ]?splitting|deafening)"
_SOUNDED = r"(?:beep(?:ed|s)?|chirp(?:ed|s)?|sound(?:ed|s)|rang|rings?|scream(?:ed|s)|shriek(?:ed|s)|blar(?:ed|es)|screech(?:ed|es)|buzz(?:ed|es)|squeal(?:ed|s)|yelled|blasted|shrilled|piped up)"
_HOW = r"(?:nice|and|good|real|really|pretty|super|very|plenty|so|fine|ok|okay|well|right|properly|as it should|like it should|for me|when i (?:pressed|pushed|hit|held) (?:it|the button|test|the test button)|on (?:the )?(?:test|button)|with the button|enough(?: to wake (?:the dead|everyone|us|me))?|as hell|my ears|now|too|again|just now|twice|three times|four times|all good|that's good)"
_HEARD = Lazy(
    rf"{_LEAD}(?:{_IT}{_SOUNDED}(?: (?:{_LOUD}|{_HOW}))*|{_IT}(?:{_HOW} )*{_LOUD}(?: (?:{_LOUD}|{_HOW}))*|{_IT}(?:went|goes) off (?:{_HOW} )*(?:{_LOUD}(?: {_HOW})*|when i (?:pressed|pushed|hit|held) (?:it|the button|test|the test button))"
    r"|(?:my )?ears (?:are|'re) ringing|(?:heard it|i heard it)(?: (?:loud and clear|fine|all right|clearly|from here))*)$"
)
_WORKS = Lazy(
    rf"{_LEAD}{_IT}(?:works|worked|tests? (?:fine|good|ok|okay)|(?:is |'s )?working|passed(?: the test)?|tested (?:fine|good|ok|okay))(?: {_HOW})*$"
)
_SILENT = Lazy(
    rf"^(?:(?:ok|okay|so|and|well|hm+|uh|um|no|nope|oh|pressed it|but|tested it) )*(?:{_IT}(?:didn't|doesn't|won't|did not|does not|isn't|not) (?:beep\w*|chirp\w*|sound\w*|make (?:a|any) (?:sound|noise|peep)|work\w*|do anything|go off|ring|respond)|nothing(?: (?:happens|happened|at all|there|when i press(?:ed)? it))*|(?:not a|no) (?:peep|beep|sound|noise|chirp|response|tone)(?: (?:at all|from it|out of it|when i press(?:ed)? it))*|{_IT}(?:is |stays |stayed |was )?(?:silent|dead|quiet|mute)|(?:it's |its |it is )(?:dead|silent|quiet))(?: (?:at all|though|when i press(?:ed)? it|when i push(?:ed)? it))*$"
)
_CUES = ("beep", "chirp", "sound", "loud", "clear", "rang", "ring", "scream", "shriek", "blar", "screech", "buzz", "squeal", "work", "test", "went off", "heard", "nothing", "peep", "silent", "dead", "quiet", "noise", "pass", "respon", "yell", "blast")  # fmt: skip
NO_SOUND = "DANGER: An alarm that does not sound wakes nobody. Fit new batteries or a new alarm, and test it again. Until it sounds, nobody sleeps aboard."


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The step done, or what an alarm that is dead means; None for anything else, and away from the test."""
    walk = state.walk
    if walk is None or walk.paused or "?" in text or not names_any(text.lower(), _CUES):
        return None
    said = bare(text)
    if _tests(walk, walk.at, mind):
        if _SILENT.match(said):
            line = f"Step {walk.number} is not done."
            reply = Reply("control", f"{NO_SOUND} {line}", (NO_SOUND, line), topic=walk.topic, step=phrases.mark(walk))
            return Outcome(replace(state, failures=0), reply)
        if _HEARD.match(said) or _WORKS.match(said):
            return walking.told_done(state, text, mind, now)
        return None
    if walk.at and _tests(walk, walk.at - 1, mind) and _HEARD.match(said) and _just_moved(state, walk):
        line = f"Good. Still at step {walk.number}."
        return walking.control(replace(state, failures=0), line, topic=walk.topic)
    return None


def _tests(walk: Walk, at: int, mind: Mind) -> bool:
    """Whether that step of the walk is the test of an alarm."""
    step = mind.knowledge.procedure(walk.topic).steps[walk.plan[at]]
    return _TESTS.match(step.do.lower()) is not None


def _just_moved(state: State, walk: Walk) -> bool:
    """Whether the step in hand was the last thing said."""
    last = state.last
    return last is not None and last.kind == "step" and last.step is not None and last.step.index == walk.number


_ASKED = Lazy(
    r"^(?:(?:so|and|ok|okay|hey|please|now|can you tell me|tell me|show me|quick question|i want to|i need to|let's|we should|time to) )*(?:how (?:do|can|should|would|does|often (?:do|should)) (?:i|we|you|one) (?:test|check|try|know)|how to (?:test|check|try)|how (?:is|do you do) (?:a )?test(?:ing)?(?: of)?|test(?:ing)?|check(?:ing)?|do (?:i|we) (?:have|need) to test|what button tests)(?: (?:if|that|whether))?"
    r" (?:(?:the|our|that|my|if the) )?(?:co|c o|carbon monoxide|monoxide) ?(?:alarms?|detectors?|sensors?|monitor)?(?: (?:works|is working|still works|is (?:ok|okay|good|alive)|battery|button))*(?: (?:before (?:bed|the night|we sleep)|tonight|now|please|for me))*$"
)
KEEPS_WARM = "keep-cabin-warm"


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """How the alarm is tested, in a few words, with the walk that holds the test offered; the walk in hand stays. None for anything else."""
    walk = state.walk
    if not names_any(text.lower(), ("monoxide", "co ", "c o")) or not _ASKED.match(plain(text)):
        return None
    if walk is not None and (walk.paused or mind.knowledge.procedure(walk.topic).kind == "hazard"):
        return None
    how = phrases.filled(
        "Press its test button, here: {cabin.co_alarm_place}. It must sound loud and clear.", mind.facts
    )
    silent = "If it is silent, fit new batteries or a new alarm. Until it sounds, nobody sleeps aboard."
    if walk is not None:
        still = f"Still at step {walk.number}."
        return walking.control(replace(state, failures=0), f"{how} {silent} {still}", lines=(how, silent, still))
    if KEEPS_WARM not in mind.knowledge.ids:
        return walking.control(replace(state, failures=0), f"{how} {silent}", lines=(how, silent))
    offer = f"The round for the night holds it. Say yes to open: {mind.knowledge.title(KEEPS_WARM)}."
    lines = (how, silent, offer)
    outcome = walking.control(replace(state, failures=0, question=text), " ".join(lines), lines=lines, topic=KEEPS_WARM)
    return outcome._replace(
        state=replace(outcome.state, asking=Asking("choice", (KEEPS_WARM,))),
        reply=replace(outcome.reply, options=(KEEPS_WARM,), nearest=(KEEPS_WARM,)),
    )
