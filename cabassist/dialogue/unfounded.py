"""A danger that was raised by likeness alone, and is denied in plain words: "there's no fire, I meant the water pressure's strong".

The networks hear a danger in more than reports one, and what nobody saw must not keep people out of their coach. Where no
sign of it was in any words told since, a plain denial closes it and goes back to the walk; what to do if it is there after
all is said once more. Once a sign was told, the cautious ways hold: `over_asked` asks, and who must clear it is named.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, ill_in_danger, over_asked, phrases, progress, walking, well_in_danger
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.routing import BOUNDS

MOST_WORDS = 26
_CO, _SPILL = "carbon-monoxide-alarm", "clean-up-waste-spill"
_NO = r"(?:no|not|not any|isn't|isn't any|is not|wasn't|wasn't any|was not|never|never was|never any|never was any|there was never|there never was|without any|don't have|ain't)(?: (?:a|an|any|real|actual|such|one))*"
_BE = r"(?:'s| is| was| has been| has| had| got| ever)?"
_WHAT = {
    "propane-smell": (
        r"(?:propane |gas )?(?:gas|propane|smell|odou?r|whiff|leaks?|hiss|rotten eggs?)",
        rf"nothing{_BE} (?:smells?|smelt|smelled|leaking|leaks|hissing|hisses)|(?:smells?|smelt|smelled|hear|heard) nothing|(?:(?:don't|didn't|do not|did not|can't|cannot|couldn't|never|nobody|no one)(?: \w+)? (?:smells?|smelt|smelled|hear|heard)(?: (?:any|anything|gas|propane|a thing|a leak))+)|doesn't smell(?: of (?:gas|propane|anything))?",
    ),
    _CO: (
        r"(?:co |carbon monoxide |smoke )?(?:alarms?|co|carbon monoxide|monoxide|fumes?|beep(?:s|ing)?)(?: (?:is |are |was )?(?:going|on|sounding|ringing|beeping|went off|going off|goes))?",
        r"(?:alarms?|detectors?|it)(?:'s| is| are| was)? (?:not|isn't|never|hasn't|didn't|wasn't)(?: (?:on|going|going off|gone off|gone|sounding|beeping|beeped|go off|make a (?:sound|peep)))+|(?:alarms?|detectors?)(?:'s| is| are)? (?:silent|quiet|green)|(?:it|alarms?|detectors?) never (?:went|goes|has gone) off|nothing(?:'s| is| was)? (?:beeping|going off|sounding|ringing)",
    ),
    "smoke-or-fire": (
        r"(?:(?:smoke|fire) (?:or|and) (?:any )?flames?|flames? (?:or|and) (?:any )?(?:smoke|fire)|fires?|smoke|burning)",
        r"nothing(?:'s| is| was)? (?:on fire|burning|burnt|smoking|smoldering|alight)|(?:not|isn't|wasn't) (?:on fire|burning|smoking|alight)",
    ),
    _SPILL: (
        r"(?:sewage |waste |poop )?(?:spill(?:s|age)?|sewage|waste|mess|leaks?|puddle)",
        r"(?:nothing|none|not a drop|no drop)(?:'s| is| was| has| got| ever)?(?: been)? (?:spilled|spilt|spilling|leaked|leaking|overflow\w*|run(?:ning)? over|come out|came out|went over|on the ground)|(?:hasn't|didn't|haven't|not|never|isn't|wasn't)(?: (?:ever|really|actually|even|once))? (?:spill(?:ed|ing)?|spilt|leak(?:ed|ing)?|overflow(?:ed|ing)?)(?: (?:anything|any|a drop))*",
    ),
    "shock-from-coach-body": (
        r"(?:shocks?|tingl\w+|current|electricity)",
        r"(?:nobody|no one|nothing)(?:'s| is| was| has| got| has got)?(?: a)? (?:shocked|shock|tingl\w+|tingle|live|electrocuted)",
    ),
}  # fmt: skip
"""What is denied of each danger: its nouns after a no, and whole denials."""
_ANY = r"(?:danger|emergency|hazard)"
_END = r"(?: (?:here|there|at all|anywhere|in here|inside|aboard|really|or anything|of any kind|involved|going))*+(?! (?:now|yet|any ?more|at the|this time|up front|in (?:the )?(?:back|front)|on (?:me|us|him|her|them)|by the|near)\b)"
"""Said of one place or one moment only, it denies nothing."""
_DENIALS = {
    topic: Lazy(rf"\b(?:{_NO} (?:{nouns}|{_ANY})(?: (?:or|and|nor) (?:any |no )?(?:{nouns}|{_ANY}))*|{verbs}){_END}(?![\w'])")
    for topic, (nouns, verbs) in _WHAT.items()
}  # fmt: skip
_FALSE = Lazy(r"\bfalse alarm\b|\b(?:you|it) (?:misheard|misunderstood|got (?:me|that|it) (?:all )?wrong)\b")
"""What says that it was never so."""
_BESIDE = Lazy(r"\b(?:i|we) (?:only |just |really )?(?:meant|mean)\b|\bit(?:'s| is) over\b")
_ILLS = r"(?:headaches?|ill|sick|dizzy|unwell|hurt|sleepy|drowsy|faint|symptoms?)"
_NOBODY_ILL = Lazy(
    rf"\b(?:nobody|no one|no-one|none of (?:us|them))(?:'s|s| is| has| feels?| got| are| have)*(?: \w+)? {_ILLS}(?: (?:or|and|nor) {_ILLS})*\b|\bno (?:\w+ )?{_ILLS}(?: or {_ILLS})*\b"
    r"|\b(?:every(?:one|body)(?:'s|s| is| feels)?|we're all|we are all|they're all|all of us are|we all feel|all feel)(?: (?:all|perfectly|totally|just|feeling))* (?:fine|ok|okay|good|alright|all right|well|normal)\b"
)
_DOUBTFUL = Lazy(
    r"\?|\b(?:but|except|though|although|however|yet|any ?more|any ?longer|still|again|maybe|perhaps|probably|might|may|think|guess|hope|bet|reckon|suppose|not sure|unsure|if|until|till|unless|almost|so far|seems?|looks like|used to|earlier|before|worse)\b"
    r"|\bit(?:'s| is|s)? (?:only |just )?(?:under|behind|inside|in|near|at|from|comes?|coming|getting|spreading|hot|glow\w*|out of|all over|everywhere)\b"
)
_CUES = (
    "no",
    "n't",
    "never",
    "without",
    "false",
    "mean",
    "misheard",
    "misunder",
    "wrong",
    "over",
    "silent",
    "quiet",
    "green",
)


def signs(state: State, said: str, mind: Mind) -> bool:
    """Whether a text tells of a danger by a sign of its own, beside what it denies."""
    left = plain(said)
    for denial in _DENIALS.values():
        left = denial.sub(" ", left)
    if well_in_danger.is_ill(said) or ill_in_danger.aches(said):
        return True
    left = progress.without_services(left, state, mind)
    return mind.hazards.find(left) is not None or progress.sign_in_walk(left, state, mind) is not None


def after(before: State, outcome: Outcome, said: str, mind: Mind) -> Outcome:
    """The outcome, whose state holds of which open dangers a sign was told, or one was chosen by the driver."""
    state = outcome.state
    open_now = [walk.topic for walk in state.walks if walk.topic in mind.knowledge.hazards]
    if not open_now:
        return outcome if not state.signed else outcome._replace(state=replace(state, signed=()))
    kept = tuple(topic for topic in state.signed if topic in open_now)
    newest = open_now[-1]
    chosen = before.asking is not None and before.asking.what == "choice" and newest in before.asking.options
    opened = newest not in {walk.topic for walk in before.walks}
    if newest not in kept and ((chosen and opened) or signs(before, said, mind)):
        kept = (*kept, newest)
    return outcome if kept == state.signed else outcome._replace(state=replace(state, signed=kept))


def denies(topic: str, text: str, mind: Mind) -> bool:
    """Whether a danger is denied by its name in plain words that hold no doubt and no other danger."""
    said = plain(text)
    if topic not in _DENIALS or not names_any(said, _CUES) or len(said.split()) > MOST_WORDS:
        return False
    if "?" in text or _DOUBTFUL.search(said) or well_in_danger.is_ill(text) or ill_in_danger.aches(text):
        return False
    named, false = _DENIALS[topic].search(said), _FALSE.search(said)
    if topic == _CO:  # nobody smells or sees it, so a quiet alarm alone denies nothing
        if not (false or (named and _NOBODY_ILL.search(plain(text)))):
            return False
    elif not (named or false):
        return False
    rest = said
    for told_of in (_DENIALS[topic], _FALSE, _BESIDE, _NOBODY_ILL):
        rest = told_of.sub(" ", rest)
    rest = " ".join(rest.split())
    if mind.hazards.find(rest) is not None:
        return False
    judged = mind.judge(rest) if len(rest.split()) > 1 else None
    return judged is None or judged.danger < BOUNDS.judged_with_sign


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A danger without any sign closed by its denial, or the one that was only asked about put aside; None for anything else."""
    danger = danger_first.danger(state, mind)
    if danger is None:
        return _not_that(state, text, mind)
    if danger.topic in state.signed or state.ill_in == danger.topic or not denies(danger.topic, text, mind):
        return None
    return _closed(state, danger, text, mind, now)


def asked_again(state: State, text: str, outcome: Outcome, mind: Mind) -> Outcome:
    """The outcome; or in place of a danger that its denial raised anew, the question whether it is over."""
    danger = state.walk
    if danger is None or danger.topic not in mind.knowledge.hazards or outcome.reply.kind != "hazard":
        return outcome
    if outcome.reply.topic != danger.topic or not denies(danger.topic, text, mind):
        return outcome
    if (asked := over_asked.first(state, danger, "", mind)) is not None:
        return asked
    procedure = mind.knowledge.procedure(danger.topic)
    reply = phrases.at_step(procedure, danger, mind, "If it never was there, say false alarm. Until then this comes first.")  # fmt: skip
    return Outcome(replace(state, failures=0), reply)


def _closed(state: State, danger: Walk, text: str, mind: Mind, now: datetime) -> Outcome:
    """The danger gone from the stack, and on with what it interrupted, or with what may have been meant."""
    procedure = mind.knowledge.procedure(danger.topic)
    line = f"Good. {procedure.title}: closed. If it is there after all: {phrases.filled(procedure.escape or '', mind.facts)}".strip()  # fmt: skip
    rest = tuple(walk for walk in state.walks if walk.topic != danger.topic)
    timers = tuple(timer for timer in state.timers if timer.topic != danger.topic)
    event = EventDraft("walk", {"topic": danger.topic, "step": danger.number, "of": len(danger.plan), "move": "stop", "said": text})  # fmt: skip
    state = walking.remembered(state, "closing that")
    state = replace(state, walks=rest, timers=timers, asking=None, topic=danger.topic, failures=0)
    if rest and rest[-1].topic not in mind.knowledge.hazards:
        back = walking.move_to(rest[-1].at, state, mind, now, "return", line)
        return Outcome(back.state, back.reply, (event, *back.events))
    if rest:
        outcome = walking.control(state, f"{line} {phrases.back_to(rest[-1], mind)}", topic=rest[-1].topic)
        return Outcome(replace(outcome.state, asking=Asking("resume")), outcome.reply, (event,))
    meant = _meant(danger.asked, text, mind)
    if meant is None:
        lines = (line, "Say what you need next.")
        return walking.control(state, " ".join(lines), lines=lines, topic=danger.topic, events=(event,))
    lines = (line, f"Is it this? {mind.knowledge.title(meant)}. Say yes to begin.")
    state = replace(state, asking=Asking("choice", (meant,)), question=danger.asked)
    reply = Reply("control", " ".join(lines), lines, topic=danger.topic, options=(meant,))
    return Outcome(state, reply, (event,))


_MEANT, _AHEAD = 0.04, 2.5


def _meant(asked: str, text: str, mind: Mind) -> str | None:
    """The likeliest procedure beside the danger of what raised it, or else of the denial; None where none is well ahead of the next."""
    for words in (asked, text):
        left = [one for one in mind.ranked(words).procedures if one[0] not in mind.knowledge.hazards] if words else []
        if left and left[0][1] >= _MEANT and (len(left) < 2 or left[0][1] >= _AHEAD * left[1][1]):
            return left[0][0]
    return None


def _not_that(state: State, text: str, mind: Mind) -> Outcome | None:
    """A danger that was among the choices, and is denied: the choice is dropped; None for anything else."""
    asking = state.asking
    if asking is None or asking.what != "choice" or state.last is None or state.last.kind != "clarify":
        return None
    dangers = [topic for topic in asking.options if topic in mind.knowledge.hazards]
    if not dangers or not all(denies(topic, text, mind) for topic in dangers):
        return None
    state, walk = replace(state, asking=None, failures=0), state.walk
    if walk is None:
        return walking.control(state, "Good. Then say what you need.")
    do = phrases.filled(phrases.step_of(mind.knowledge.procedure(walk.topic), walk).do, mind.facts)
    return walking.control(state, f"Good. Still at step {walk.number}: {do}", topic=walk.topic)
