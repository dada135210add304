"""What is said at a step and understood by nobody else: work done in any words, trouble, a question, a word to somebody else.

Patterns and the matcher look first. Where they would lead away from the walk or ask back, the report network reads what was said beside
the step in hand: "hissed and then went quiet" at a cap tells the step done. A report of a later step is kept for it, trouble is met
with whom to call, a question with what the step knows. What was told advances nothing where the network reads a question in it.
People hurt, and dangers and wishes with a sign of their own, are left as they are.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import (
    choosing,
    following,
    no_wish,
    phrases,
    step_asked,
    step_figures,
    telling,
    told_ahead,
    walking,
)
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain
from cabassist.language.report_network import Told
from cabassist.language.steering import Steer
from cabassist.language.wishes import asks_leave
from cabassist.record.defect_words import told_fault

DONE = 0.5
"""From this chance on, what is said tells the step in hand done."""
DENIED = 0.65
"""The same where something is denied in the words and nothing in the step: "won't move" may be trouble."""
OTHERWISE_HELD = 0.7
"""The same where the patterns have found that it is not of the step in hand."""
DONE_SURE = 0.85
"""The same against what was taken for a danger where dangers are looked for, a defect or a choice."""
NOT_DANGER = 0.6
"""The same where it was taken for a danger that no sign of one is in, at any other step, or for a reading without a name."""
NOT_DONE = 0.15
"""Below this chance what is said never moves the walk on, if it is a question, or trouble in free words."""
HARDLY = 0.1
"""Below this chance a report is of some other work, whatever words it shares with the step."""
LEAST_WORDS, LEAST_REPORT, WHOLE_SENTENCE = 2, 3, 8
"""One word only names a thing; so many may tell of the work where a command was heard in them; so many tell what is the matter."""
ACT, ACT_SURE = 0.6, 0.85
"""From this chance on, a report, trouble, a question or a word to somebody else is taken for that; and where that overrules a danger or a no."""
AMISS = 0.75
"""The same for trouble and question together."""
DANGER_LIKELY = 0.3
"""From this chance of a danger on, what was asked back is not made less of."""
BY_RULE = 1.0
"""What a rule makes of the very words stands, at this confidence: a scorched outlet is refused, "cold start" opens, whatever is told with it."""
STANDS = 0.5
"""A danger that is asked about and this likely is no report."""
SURE_OF_OTHER = 0.9
"""A procedure that is this likely opens, unless the step in hand is told done."""
REPORTS = 0.93
"""What is this surely a report opens no procedure, however like one it is."""
DOUBTED = 0.03
"""What was noted for a later step and is less likely told of it than this, is not noted."""
LATER = 0.9
"""From this chance on, a report that is not of the step in hand is one of another step."""
BEHIND, AHEAD = 3, 9
"""So many steps around the one in hand may be told of."""
POSSIBLY = 0.05
"""A sure report that is told of no step near it is of the step in hand, unless even this is too much: whoever is led tells of what is in hand."""
LIKELIER, TIMES = 0.15, 1.5
"""A report that is likelier of the step in hand than of any near it, so many times, and at least this likely, is of that step."""
_OVERRULED = ("hazard", "refuse", "defect", "reading")
"""What stands unless the step in hand is surely told done."""
_AWAY = ("procedure", "clarify", "unknown")
_NOT_PLACED = ("clarify", "unknown")
_SENSED = re.compile(
    r"\b(?:smell|sniff|hiss|listen|leak|bubble|smoke|burn|alarm|detector|hot|warm|touch|feel|wet|drip|gas)",
    re.IGNORECASE,
)
"""At such a step a danger may be found, and its report is like that of a step done."""
_WASTE = Lazy(r"\b(?:sewage|waste|poop|poo|crap|shit|spill\w*|spilt|black ?water|muck|sludge|septic)\b")
"""Sewage that is named has got out more surely than what is only like it."""
_DENIES = Lazy(
    r"\b(?:no|not|\w+n't|never|nothing|none|nobody|without|hardly|barely|but|except|only|still|yet|stuck|almost|nearly|just (?:a|sits|rides|spins|clicks?)|wrong|instead)\b"
)
_PAST_TOO = Lazy(r"^(?:put|set|shut|cut|hit|read|let|spread)\b")
"""What begins with these may tell of work done as well as ask for it."""


def settled(state: State, text: str, outcome: Outcome, mind: Mind, now: datetime) -> Outcome:
    """The outcome, or what the report network makes of a text that would lead away from the walk in hand."""
    walk = state.walk
    if walk is None or walk.paused or state.pending is not None or mind.report_network is None:
        return outcome
    if mind.knowledge.procedure(walk.topic).kind == "hazard":
        return outcome
    if outcome.reply.kind != "hazard" and not _advanced(state, outcome) and _ALREADY.match(plain(text)):
        return walking.told_done(state, text, mind, now)
    if not _may_be_of_step(state, text, outcome, walk, mind):
        return outcome
    if outcome.reply.kind == "procedure" and _asked_for(text, mind):
        return outcome
    here = phrases.heard_here(text, walk, mind)
    harmless = _harmless(text, outcome, here, mind)
    if _left(state, outcome) and here.done < DONE:
        return outcome if here.acts["command"] >= ACT else told_ahead.stays(state, walk)
    if not _left(state, outcome) and _advanced(state, outcome):
        return _held(state, text, outcome, walk, here, mind)
    kind, reports = outcome.reply.kind, here.acts["report"]
    if _restarted(state, outcome):
        told = here.done >= DONE and reports >= ACT
        return walking.told_done(state, text, mind, now) if told else outcome
    if kind == "control" and _ill_noted(state, text, outcome, walk, mind):
        return walking.told_done(state, text, mind, now) if here.done >= DONE else told_ahead.stays(state, walk)
    least = _denied(text, walk, mind) if harmless else _least(state, text, outcome, walk, mind)
    if here.done >= least and reports >= (ACT_SURE if kind in _OVERRULED and not harmless else ACT):
        if wanted := phrases.step_of(
            mind.knowledge.procedure(walk.topic), walk
        ).reading:  # its figure is asked for first
            if wanted == "passengers" and step_figures.counts(text):
                return outcome
            return walking.HANDLERS["next"](replace(state, failures=0), mind, now, Steer("next"))
        return walking.told_done(state, text, mind, now)
    if kind == "refuse" and _is_done(text, here, phrases.words_at(walk, walk.at, mind)):
        return walking.told_done(state, text, mind, now)
    if kind == "reading" and outcome.reply.withdrawn and len(text.split()) >= WHOLE_SENTENCE:
        # a number in a sentence about the work puts no reading right
        amiss = here.acts["trouble"] >= DONE
        return _trouble(state, text, outcome, walk, mind) if amiss else told_ahead.stays(state, walk)
    if kind in ("defect", "control", "reading") or (kind == "hazard" and not harmless):
        return outcome
    if kind == "refuse" and not harmless and (reports < ACT_SURE or _wished(text, mind)):
        return outcome
    if kind in _NOT_PLACED and here.acts["trouble"] >= ACT_SURE and _FOUND.search(plain(text)) and here.danger < STANDS:
        return _trouble(state, text, outcome, walk, mind)  # a nick in the cord is no list of other matters
    if here.done < DONE and not harmless and _near_danger(text, outcome, mind):
        return outcome
    if reports >= ACT:
        compared = _by_comparison(state, text, outcome, walk, here, mind, now)
        return (
            _offered(state, text, outcome, walk, mind)
            if compared is outcome and _far(outcome, walk, mind)
            else compared
        )
    if kind == "procedure" and here.acts["asks"] < DONE and here.acts["command"] < DONE and _far(outcome, walk, mind):
        return _offered(state, text, outcome, walk, mind)
    if kind not in _NOT_PLACED and not harmless:
        return outcome
    if here.acts["trouble"] >= ACT and told_fault(text, mind.defect_words) is None:
        return _trouble(state, text, outcome, walk, mind)
    if here.acts["asks"] >= ACT and kind in ("unknown", "hazard"):
        return _asked(state, text, outcome, walk, mind)
    says = here.acts["report"] + here.acts["aside"]
    asks_nothing = kind == "unknown" and here.acts["asks"] + here.acts["command"] < ASKS_LITTLE
    return told_ahead.stays(state, walk) if says >= ACT or asks_nothing else outcome


ASKS_LITTLE = 0.3
"""Below this chance of a question or a command, what nobody understood is met with the step in hand."""


def _is_done(text: str, here: Told, words: str) -> bool:
    """Whether what the network alone refuses is rather work told done: it names a thing of the step, and in no word leave is asked or an intention told."""
    if not told_ahead.stems(bare(text)) & told_ahead.stems(words.lower()):
        return False
    done = here.done >= DONE_REFUSED and here.acts["report"] >= REPORT_REFUSED
    return done and "?" not in text and not no_wish.ABOUT_TO.search(plain(text)) and not asks_leave(text)


DONE_REFUSED, REPORT_REFUSED = 0.75, 0.8


def _asked_for(text: str, mind: Mind) -> bool:
    """Whether the words are a request: "open a bay latch", not "pump switch is off"."""
    said = bare(text)
    return choosing.begins_deed(said, mind) and not _PAST_TOO.match(said) and not _STANDS.search(said.partition(" ")[2])


_STANDS = Lazy(r"\b(?:is|are|was|were|'s|has|have|went|came|off|out|shut|open|now|already)\b|'s\b")


def _least(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind) -> float:
    """How likely a step must be told done to be taken as done."""
    kind, words = outcome.reply.kind, phrases.words_at(walk, walk.at, mind)
    chosen = state.asking is not None and state.asking.what == "choice"
    at_danger = (kind == "hazard" and _SENSED.search(words) is not None) or mind.hazards.find(text) is not None
    found = words.startswith("Look") and _FOUND.search(plain(text)) is not None
    waste_named = kind == "hazard" and _WASTE.search(plain(text)) is not None
    if chosen or at_danger or found or waste_named or kind == "defect":
        return DONE_SURE
    if kind in ("hazard", "reading"):
        return NOT_DANGER
    if _still_told(outcome):
        return OTHERWISE_HELD
    return _denied(text, walk, mind)


def _denied(text: str, walk: Walk, mind: Mind) -> float:
    """How likely a step must be told done by what may deny it."""
    words = phrases.words_at(walk, walk.at, mind).lower()
    return DENIED if _DENIES.search(plain(text)) and not _DENIES.search(words) else DONE


def _harmless(text: str, outcome: Outcome, here: Told, mind: Mind) -> bool:
    """Whether a danger or an unsafe wish was heard in a text that, at its step, hardly tells of any: brown water where that is looked for."""
    kind = outcome.reply.kind
    if kind == "refuse":
        return here.wish < HARMLESS
    dangerous = kind == "hazard" or not mind.knowledge.hazards.isdisjoint(outcome.reply.options)
    return dangerous and here.danger < HARMLESS and mind.hazards.find(text) is None


HARMLESS = 0.1
"""Below this chance at the step in hand, what was taken for a danger or an unsafe wish without a sign in its words is none."""

_LEAVES = Lazy(
    r"^(?:(?:ok|okay|just|please) )*close\b|\b(?:quit\w*|stop\w*|never ?mind|finish\w*|done|clos\w+ (?:it|both|all|them|that|this)|cancel\w*|forget|enough|end (?:it|this|here|of|the|that)|that's (?:it|all|everything)|skip\w*|leav\w*|left|pass|without|needn't|no need|not needed|don't need|doesn't matter|drop (?:it|this|that|all|these|them|those|everything)|later|bail|abort|bother|already|care of|appl(?:y|ies)|doesn't|isn't|wait|back to|over (?:and|with)|through with|call it)\b"
)
"""Words without which nothing is stopped or left out."""


def _left(state: State, outcome: Outcome) -> bool:
    """Whether the walk was closed before its end, or its step left out."""
    if any(event.kind == "skip" for event in outcome.events):
        return True
    ended = any(event.payload.get("move") == "end" for event in outcome.events)
    return not ended and state.walks[-1].topic not in {walk.topic for walk in outcome.state.walks}


def _still_told(outcome: Outcome) -> bool:
    return outcome.reply.show[0].startswith(("Still at step", "Good. Still at step", "Noted for step"))


def _wished(text: str, mind: Mind) -> bool:
    """Whether the danger network, too, hears something unsafe wished for."""
    judged = mind.judge(text)
    return (judged is not None and judged.wish >= WISHED) or _LEAVES_OUT.search(plain(text)) is not None


WISHED = 0.5
_LEAVES_OUT = Lazy(r"\b(?:forget|without|skip\w*|leav\w*|never mind|bother|no need|anyway|instead)\b")
_FOUND = Lazy(
    r"^(?!.*\b(?:no|not|\w+n't|nothing|none|never|without|clear|all good|fine)\b).*\b(?:squash\w*|crush\w*|cuts?|nick\w*|crack\w*|split\w*|bulg\w*|fray\w*|melt\w*|burn\w*|scorch\w*|torn|dent\w*|leak\w*|drip\w*|rust\w*|bent|bare (?:wire|copper|metal)|gouge\w*|chafed|worn through)\b"
)
"""A fault found where one was looked for."""


def _talked_down(text: str, mind: Mind) -> bool:
    """Whether the danger network is sure that a sign of danger is only named: "no gas smell down there"."""
    judged = mind.judge(text)
    return judged is not None and judged.danger < NO_DANGER


NO_DANGER = 0.2


def _likely(text: str, mind: Mind, least: float) -> bool:
    """Whether the danger network holds a danger for at least so likely."""
    judged = mind.judge(text)
    return judged is not None and judged.danger >= least


def _near_danger(text: str, outcome: Outcome, mind: Mind) -> bool:
    """Whether a danger was asked about or is likely enough that what was asked back stands."""
    return (
        _likely(text, mind, DANGER_LIKELY)
        or mind.ranked(text).hazard >= DANGER_LIKELY
        or bool(set(outcome.reply.options) & mind.knowledge.hazards)
    )


def _may_be_of_step(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind) -> bool:
    """Whether what was said may be of the step in hand: no plain command, no answer to a question, nothing with a sign of danger, no sum."""
    reply, asked_back = outcome.reply, outcome.state.asking
    if state.asking is not None and state.asking.what not in ("reading", "resume", "choice"):
        return False
    if (
        (len(text.split()) < LEAST_WORDS and not _DID.match(bare(text)))
        or mind.hurt.find(text) is not None
        or (mind.hazards.find(text) is not None and (reply.kind == "hazard" or not _talked_down(text, mind)))
    ):
        return False
    if not _left(state, outcome) and (_advanced(state, outcome) or _restarted(state, outcome)):
        return True
    if _left(state, outcome):
        said = _END_STOP.sub(" ", plain(text))
        return len(text.split()) >= LEAST_REPORT and not (_LEAVES.search(said) or _CORRECTS.match(said))
    if state.walks[-1].topic not in {walk.topic for walk in outcome.state.walks}:
        return False
    steer = mind.steering.find(text)
    if (steer is not None and not (steer.verb in ("stop", "skip") and steer.sure < 1.0)) or reply.show[0].startswith(
        following.NOT_PLACED
    ):
        return False
    if asked_back is not None and asked_back.what == "level":
        return False  # what is asked back of a level is known to be of one
    asked_danger = not mind.knowledge.hazards.isdisjoint(reply.options) and _likely(text, mind, STANDS)
    if asked_danger and not _harmless(text, outcome, phrases.heard_here(text, walk, mind), mind):
        return False
    if state.worked is not None and following.VARIES.match(plain(text)):
        return False
    if reply.kind == "procedure":
        topic = reply.topic or ""
        named = told_ahead.stems(mind.knowledge.title(topic)) <= told_ahead.stems(text)
        named = named and not _surely_done(text, walk, mind)
        chosen = state.asking is not None and topic in state.asking.options
        levels = bool(reply.readings) and _named(plain(text), outcome)
        by_words = reply.confidence >= BY_RULE
        return not (named or chosen or levels or by_words or topic in mind.knowledge.hazards)
    if reply.kind in ("clarify", "unknown", "defect"):
        return not reply.readings and not RECORDS.search(plain(text))
    if reply.kind == "refuse":
        return state.refused is None and not mind.wishes.find(text) and reply.confidence < BY_RULE
    if reply.kind == "step" and not any(event.kind == "skip" for event in outcome.events):
        return reply.show[0].startswith("You are in this one") and reply.topic == walk.topic
    if reply.kind == "reading":
        wanted = phrases.step_of(mind.knowledge.procedure(walk.topic), walk).reading
        corrects = bool(reply.withdrawn) and _PUTS_RIGHT.search(plain(text)) is not None
        return not (wanted or corrects or _named(plain(text), outcome) or _CORRECTS.match(plain(text)))
    return (reply.kind == "hazard" or (reply.kind == "control" and _still_told(outcome))) and not reply.readings


def _named(said: str, outcome: Outcome) -> bool:
    """Whether a reading is told by its own name. "Out" alone names no weather: "three out, one at ten feet"."""
    named = telling.named_in(said)
    if named is None or named not in {one.what for one in outcome.reply.readings}:
        return False
    return named != "outside_temp" or _WEATHER.search(said) is not None


_WEATHER = Lazy(
    r"\b(?:degrees?|below|minus|above|zero|outside|outdoors|out there|out here|cold|temp\w*|thermometer|fahrenheit|celsius|it's|its|is)\b|[°-]\d?"
)
_ALREADY = Lazy(
    r"^(?:(?:no|yes|yeah|ok|okay|well|but|so|and|not skipping it) )*(?:i|we|he|she|they|my partner|the other driver)(?:'ve|'s| have| has)?(?: already| just)? (?:did|done) (?:it|that|this|all that|the (?:[a-z]+ ){1,3}?(?:test|check|walk|round|count|inspection))(?: already| this morning| earlier| before| a minute ago)*(?: and)?(?: (?:it|they|that|all)){0,2} ?(?:all )?(?:passed|fine|good|ok|okay|done|clear)?$"
    r"|^(?:(?:no|yes|yeah|ok|okay) )*did (?:it|that|the (?:[a-z]+ ){1,3}?(?:test|check|walk|round|count|inspection)) already(?: (?:it|they|that))?(?: all)?(?: passed| was fine| was good)?$"
)
"""The step is told to have been done before: "did the brake test already, it all passed"."""
_DID = Lazy(r"^[a-z]{2,}(?:ed|ung|ept)$")
"""One word that tells what was done: "dusted"."""
RECORDS = Lazy(
    r"^(?:(?:please|ok|okay|and|also) )*(?:log|note|write up|record|report) |\b(?:log|note) (?:it|that|this)\b"
)
"""Wants something on record."""


def _surely_done(text: str, walk: Walk, mind: Mind) -> bool:
    """Whether the network hears the step in hand told done beyond doubt."""
    here = phrases.heard_here(text, walk, mind)
    return here.done >= DONE_SURE and here.acts["report"] >= ACT_SURE


_PUTS_RIGHT = Lazy(
    r"\b(?:scratch|correction|make (?:it|that)|i mean|meant|should be|rather|mistake|misread|wrong|actually|sorry|not)\b"
)
"""Puts a reading right."""


def _advanced(state: State, outcome: Outcome) -> bool:
    """Whether the walk in hand went one step on by what was said."""
    before, after = state.walk, outcome.state.walk
    return before is not None and after is not None and after.topic == before.topic and after.at == before.at + 1


def _restarted(state: State, outcome: Outcome) -> bool:
    """Whether the walk in hand was begun anew: "all off but the one at the top" holds words for that."""
    before, after = state.walk, outcome.state.walk
    same = before is not None and after is not None and after.topic == before.topic and after.at == 0 < before.at
    return same and any(event.payload.get("move") == "first" for event in outcome.events)


def _held(state: State, text: str, outcome: Outcome, walk: Walk, here: Told, mind: Mind) -> Outcome:
    """The walk kept at its step where what moved it on is rather a question or trouble, and the next step is not asked for."""
    if here.done >= NOT_DONE or len(text.split()) < LEAST_REPORT or _GOES_ON.search(bare(text)):
        return outcome
    if any(event.kind in ("skip", "no-reading") or "when" in event.payload for event in outcome.events):
        return outcome
    steer = mind.steering.find(text)
    plainly = steer is not None and (steer.sure == 1.0 or steer.number is not None)
    if plainly or not any(event.payload.get("move") == "next" for event in outcome.events):
        return outcome
    if outcome.state.stored != state.stored:
        return outcome
    amiss = here.acts["trouble"] + here.acts["asks"] >= AMISS
    if any(event.kind == "told-done" for event in outcome.events):
        wrong = (
            here.acts["asks"] >= ACT
            or (here.acts["trouble"] >= ACT and len(text.split()) >= WHOLE_SENTENCE)
            or (walk.at > 0 and here.done < HARDLY and here.acts["report"] >= ACT)
        )
    else:  # a command in free words, "what now": with a thing of the step named it tells of that
        named = told_ahead.stems(bare(text)) & told_ahead.stems(phrases.words_at(walk, walk.at, mind).lower())
        wrong = (
            (amiss and bool(named)) or here.acts["trouble"] >= ACT or told_fault(text, mind.defect_words) is not None
        )
    return told_ahead.stays(state, walk) if wrong else outcome


_GOES_ON = Lazy(r"\b(?:next|go on|going on|carry on|move on|moving on|keep going|continue|proceed|skip|done|ready)\b")


_END_STOP = Lazy(r"\b(?:the|its|a|end|hard|dead|full)(?: end)? stops?\b")
"""Where something moves no further: "handle's in, hit the stop"."""
_CORRECTS = Lazy(
    r"^(?:no(?! (?:more|one|other|further|questions))|nope|nah|wrong|not|wait|hang on|hold on|actually|i mean|sorry)\b"
)
"""Puts right what was understood, and reports nothing."""


def _by_comparison(
    state: State, text: str, outcome: Outcome, walk: Walk, here: Told, mind: Mind, now: datetime
) -> Outcome:
    """A report that is not plainly of the step in hand, by the steps around it: kept for the one it is of, or taken for this one."""
    assert mind.report_network is not None
    kind = outcome.reply.kind
    likely = outcome.reply.confidence >= SURE_OF_OTHER and here.acts["report"] < REPORTS
    sure = kind == "procedure" and (likely or here.acts["report"] < ACT_SURE)
    corrects = _CORRECTS.match(plain(text)) is not None
    away = kind in (*_AWAY, "refuse", "hazard") and not sure and not corrects
    first, last = max(0, walk.at - BEHIND), min(len(walk.plan), walk.at + AHEAD + 1)
    places = [at for at in range(first, last) if at != walk.at]
    judged = mind.report_network.judge(text, tuple(phrases.words_at(walk, at, mind) for at in places))
    found = [at for at, told in zip(places, judged, strict=True) if told.done >= LATER]
    if len(found) == 1 and found[0] > walk.at:
        noted = told_ahead.kept(state, (found[0],), text, told_ahead.AHEAD, f"Noted for step {found[0] + 1}.")
        return _both(noted, state, walk, mind, now) if found[0] == walk.at + 1 else noted
    if found:
        return told_ahead.stays(state, walk)
    if not away:
        return outcome
    nearest = max((told.done for told in judged), default=0.0)
    of_reading = bool(phrases.step_of(mind.knowledge.procedure(walk.topic), walk).reading)
    likelier = here.done >= LIKELIER and here.done > nearest * TIMES and not _DENIES.search(plain(text))
    of_no_other = (
        here.done >= POSSIBLY
        and nearest < DONE
        and here.acts["report"] >= ACT_SURE
        and len(text.split()) >= LEAST_REPORT
    )
    if (likelier or of_no_other) and not of_reading and kind not in ("refuse", "hazard"):
        return walking.told_done(state, text, mind, now)
    return told_ahead.stays(state, walk)


def _both(noted: Outcome, state: State, walk: Walk, mind: Mind, now: datetime) -> Outcome:
    """On past the step in hand as well, when something was told of it that was not understood and now the next one is told done."""
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    stood = (
        state.last is not None
        and state.last.kind == "control"
        and state.last.show[0].startswith(told_ahead.still(walk))
    )
    if not stood or step.cautions or step.reading or step.wait:
        return noted
    moved = walking.forward(noted.state, mind, now, f"Step {walk.number} is done, then.")
    return Outcome(moved.state, moved.reply, (*noted.events, *moved.events))


def _ill_noted(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind) -> bool:
    """Whether something was noted for a later step that the network does not hear in it at all."""
    after = outcome.state.walk
    if after is None or after.topic != walk.topic or mind.report_network is None:
        return False
    fresh = [one.at for one in after.done if one not in walk.done and one.at > walk.at and one.applies]
    judged = mind.report_network.judge(text, tuple(phrases.words_at(walk, at, mind) for at in fresh)) if fresh else ()
    return any(told.done < DOUBTED for told in judged)


def _far(outcome: Outcome, walk: Walk, mind: Mind) -> bool:
    """Whether a procedure opened by likeness that has nothing to do with the walk in hand, and is not all too like."""
    procedure, topic = mind.knowledge.procedure(walk.topic), outcome.reply.topic or ""
    near = (*procedure.related, *procedure.then)
    return outcome.reply.kind == "procedure" and topic not in near and outcome.reply.confidence < SURE_OF_FAR


SURE_OF_FAR = 0.95
"""A procedure of another matter that is less likely is only offered when something is told at a step, and not asked for."""


def _offered(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind) -> Outcome:
    """The procedure offered, and the step in hand kept."""
    topic = outcome.reply.topic or ""
    lines = step_asked.offering("That is not told of this step, as I understand it.", topic, walk, mind)
    reply = Reply("control", " ".join(lines), lines, topic=walk.topic, options=(topic,), nearest=(topic,), step=phrases.mark(walk))  # fmt: skip
    payload = {
        "said": text,
        "verdict": "in-passing",
        "topics": [topic],
        "confidence": round(outcome.reply.confidence, 3),
    }
    asking = Asking("choice", (topic,), said=step_asked.IN_PASSING)
    return Outcome(replace(state, asking=asking, question=text, failures=0), reply, (EventDraft("asked", payload),))


def _trouble(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind) -> Outcome:
    """Whom to call where the step cannot be done, and the procedures beside this one that it sounds like."""
    procedure = mind.knowledge.procedure(walk.topic)
    near = (*procedure.related, *procedure.then)
    options = tuple(name for name in outcome.reply.options if name in near and name not in mind.knowledge.hazards)[:2]
    lines = [f"Not done, then: still at step {walk.number}."]
    lines += [f"  {place}. {mind.knowledge.title(name)}" for place, name in enumerate(options, 1)]
    if options:
        lines.insert(1, "Or is it this? Say its number.")
    lines.append(f"If it cannot be done: {phrases.filled(procedure.call, mind.facts)}")
    warned = _cautions_of(text, walk, mind)
    lines[1:1] = warned
    reply = Reply(
        "control", " ".join((lines[0], *warned, lines[-1])), tuple(lines), topic=walk.topic, options=options, nearest=options,
        step=phrases.mark(walk),
    )  # fmt: skip
    payload = {
        "said": text,
        "verdict": "in-passing",
        "topics": list(options),
        "confidence": round(outcome.reply.confidence, 3),
    }
    event = EventDraft("asked", payload)
    asking = Asking("choice", options) if options else state.asking
    return Outcome(replace(state, asking=asking, question=text, failures=0), reply, (event,))


def _cautions_of(text: str, walk: Walk, mind: Mind) -> list[str]:
    """The cautions of the step in hand that speak of what was said."""
    named = told_ahead.stems(bare(text))
    return [
        phrases.caution_line(caution, mind.facts)
        for caution in phrases.step_of(mind.knowledge.procedure(walk.topic), walk).cautions
        if named & told_ahead.stems(bare(phrases.filled(caution.text, mind.facts)))
    ]


def _asked(state: State, text: str, outcome: Outcome, walk: Walk, mind: Mind) -> Outcome:
    """What the step itself says to a question about it, and that no more is known."""
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    known = _cautions_of(text, walk, mind)
    if step.why:
        known.append(f"The reason for this step: {phrases.filled(step.why, mind.facts)}")
    if step.done_when:
        known.append(f"Done when: {phrases.filled(step.done_when, mind.facts)}")
    if not known:
        return outcome
    do = phrases.filled(step.do, mind.facts)
    lines = ("I know only what the step says.", *known, f"Still at step {walk.number} of {len(walk.plan)}: {do}")
    reply = Reply("unknown", " ".join(lines[:-1]), lines, topic=walk.topic, step=phrases.mark(walk), confidence=outcome.reply.confidence)  # fmt: skip
    return Outcome(replace(state, asking=None if state.asking and state.asking.what == "choice" else state.asking), reply, outcome.events)  # fmt: skip
