"""Defects in the conversation: reported, asked about, read back, moved on, repeated before a drive and at a hand-over."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, progress, walking
from cabassist.dialogue.defect_answer import answer_in, yes_at_length
from cabassist.dialogue.defect_figures import out_of_limit
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, beginnings, plain
from cabassist.language.routing import Decision
from cabassist.record.defect_words import (
    GRADES,
    Place,
    Severity,
    place_in,
    read_report,
    safety_of,
    severity_in,
    told_damage,
    told_fault,
    told_trouble,
    wants_record,
)
from cabassist.record.defects import (
    NO_REPAIR,
    Defect,
    DefectState,
    all_defects,
    noted,
    open_defects,
    reported,
    staged,
    which,
)
from cabassist.record.entries import DEFECT, NOTE, STAGE, Entry, withdrawal
from cabassist.record.good_news import without_good_news
from cabassist.record.held_brakes import is_held
from cabassist.record.lamp_words import is_dead_lamp

TOPIC = "report-a-defect"
REPEATED_AT = frozenset({"pre-trip-inspection", "prepare-to-depart", "hand-over-coach"})
"""Procedures that open with the open defects, as 49 CFR 396.13 asks of the driver who takes over."""
REPORTING = frozenset({"post-trip-report", TOPIC})
"""Walks in which defects are told one after the other."""
_SURELY_OTHER = 0.95
SHOWN = 5
WORKS = "works"
"""The step by which a driver says that a part still does its work."""
_THE = r"(?:the |that |this |my |our )?"
_WHO = r"(?:i|we|he|she|they|somebody|someone|the (?:mechanic|shop|yard|garage|guy|dealer)|mechanic|maintenance|[a-z][\w'-]{1,20})"
_DONE = r"(?:fixed|repaired|mended|replaced|sorted(?: out)?|patched up)"
_FORMS: tuple[tuple[DefectState, Lazy], ...] = tuple(
    (state, Lazy(pattern))  # type: ignore[misc]
    for state, pattern in (
        ("checked", rf"^(?:i'?ll |i |let me |we |please )?sign(?:ed|ing)? (?:off )?(?:on |for )?{_THE}(?P<which>.+?)(?: off)?$"),
        ("checked", rf"^(?:close|clear|checked off|check off|tick off) {_THE}(?P<which>.+?)(?: off| out)?$"),
        ("checked", rf"^{_THE}(?P<which>.+?)(?:'s| is| has been| was) (?:signed off|checked(?: and (?:it )?(?:works|good|fine))?|checked off|closed out)$"),
        ("checked", rf"^(?:i|we)(?:'ve| have)? (?:checked|looked at|tested|seen) (?:the repair (?:of|on) )?{_THE}(?P<which>.+?)(?: and| -)? (?:it works|it's (?:good|fine|ok|working)|works(?: fine| now)?|it holds|all good)$"),
        ("acknowledged", rf"^(?:i |we )?(?:acknowledge|acknowledged|ack)(?: the)? {_THE}(?P<which>.+)$"),
        ("acknowledged", rf"^(?:i|we)(?:'ve| have)? (?:read|seen|noted|taken note of|know about) {_THE}(?P<which>.+)$"),
        ("acknowledged", rf"^(?:i|we) know about {_THE}(?P<which>.+)$"),
        ("repaired", rf"^{_THE}(?P<which>.+?)(?:'s|'re| is| are| has been| have been| was| were| got) (?:now |all |been )*{_DONE}(?: now| again| today| already)*(?: by (?P<who>.{{2,40}}))?$"),
        ("repaired", rf"^(?:{_WHO}(?:'ve|'s| have| has)? (?:just |already )?)?{_DONE} {_THE}(?P<which>.+?)(?: now| today| just now)?$"),
        ("repaired", rf"^(?:take|cross|strike|knock|tick|get|scratch) {_THE}(?P<which>.+?) off(?: (?:the|my|our) (?:list|log|book|sheet|defects))?(?: (?:it's|its|it is|it's been|it has been|that's|they're|because it's) (?:now |all |been |already )*{_DONE})?$"),
        ("repaired", rf"^(?P<which>it|that|this|that one|they)(?:'s|'re| is| are| has been| was)? (?:all |now |been )*(?:done|{_DONE}) (?:now )?(?:take|cross|strike|knock|scratch) (?:it|that|them) off(?: .{{3,20}})?$"),
        ("repaired", rf"^(?:mark|note|log) {_THE}(?P<which>.+?) (?:as |is )?{_DONE}$"),
    )
)  # fmt: skip
_NEEDS_NONE = Lazy(rf"^{_THE}(?P<which>.+?) (?:needs|does not need|doesn't need) (?:no|a|any) repair$")
_NEGATED = Lazy(r"\b(?:not|isn't|aren't|wasn't|hasn't|haven't|never|half|almost|nearly|to be|get|can't)\b")
_LIST = Lazy(
    r"^(?:(?:what(?:'s| is| are)?|which|how many|list|read(?: me)?(?: out)?|show(?: me)?|give me|tell me|any|are there(?: any)?|have we(?: got)?(?: any)?|do we have(?: any)?) )*"
    r"(?:all |the |of |any |what's |what is )*(?:(?:(?:still |currently )?open(?: right now| now| still)?)|(?:open |known |outstanding |logged |reported )+(?:defects?|faults?|repairs?|items?|entries)(?: list| are there| do we have| have we got| open)?"
    r"|(?:defects?|faults?) (?:are |is |still )*(?:open|outstanding|there|on record|listed|logged|known)|(?:defect|fault) list|(?:still )?open on the (?:defect|fault|snag) (?:list|log|sheet)|(?:list|read|show)(?: me)?(?: the| all)* defects)$"
)
_UNFIXED = Lazy(
    r"^(?:what(?:'s| is| are|'ve we got| have we got| do we have| else is)?|which(?: ones?)?|show me(?: what(?:'s| is)?)?|(?:tell|read) me what(?:'s| is)?|(?:is there |is )?anything|list(?: what(?:'s| is)?)?|(?:read|tell|give|show|list|run|go)(?: me| us)?(?: back| out| through| over| off)* (?:everything|all|the lot)(?: that's| that is| that| which is| which)?) "
    r"(?:on the (?:defect )?(?:list|log|sheet)(?: so far| right now| now| still)?(?: (?:that |which )?(?:is|isn't|is not|aren't|are not|hasn't been|haven't|still|needs?|we).{2,30})?"
    r"|(?:that |which )?(?:is |isn't |is not |not |still |logged |noted |written |put |down |as |hasn't been |haven't been |hasn't |needs? |left to |to be |been |we )*(?:unfixed|unrepaired|broken|fixed|fixing|repaired|repairing|repair|fix|mended|mending)(?: yet| still| now| on (?:it|her|the (?:coach|bus|list)))*)$"
)
"""The same in other words: "what still needs fixing", "what's on the list that isn't done"."""
_WHAT_LOGGED = Lazy(
    r"^(?:(?:so|and|ok|okay|now|hey|remind me|can you|could you|please) )*(?:what(?:'s|'ve)?|which|any|list|read|show|tell me|give me|run (?:me )?through|how many|have (?:you|we|i)|do (?:you|we)|is there|are there|go (?:over|through))\b(?: [\w']+){0,5}? (?:defects?|faults?|snags?|repairs)(?: [\w']+){0,6}$"
)
_NO_LIST = Lazy(
    r"\b(?:how (?:do|to|can|should)|report (?:a|it|them)|should|must|supposed|fix|cause\w*|mean|call|serious|a (?:defect|fault))\b"
)
"""With these a question about defects asks for more than what is on record."""
_MOVE = Lazy(
    r"^(?:(?:so|and|but|ok|well) )*(?:can|may|could|should|is|are|am) (?:the (?:coach|bus)|she|it|we|i) (?:still |even )?(?:allowed to |ok to |okay to |safe to |good to |fit to )?(?:move|drive|go|roll|run|take|get|leave|be driven)(?: (?:it|her|him|them|the (?:coach|bus)))?(?: (?:home|on|back|out|off|away|tonight|now|tomorrow|anyway|to the (?:yard|depot|shop|garage|hotel|rink)))*(?: with (?:it|that|this|these|those|the defects?|what's open)(?: (?:like this|like that|open|on it))?| like (?:this|that|it is))?(?: (?:home|tonight|anyway))?$"
)
_PRONOUN = Lazy(r"^(?:it|that|this|that one|this one|the last one|them|that defect|the defect)$")
_ALL = Lazy(r"^(?:all|them all|all of them|all defects|everything|them|the list|the report|the defects|the last report|all open defects|defects)$")  # fmt: skip
_REGRADE = Lazy(
    r"^(?:no |actually |and )*(?:it|that|that one|this one|the last one|number \w+|defect \w+)(?:'s| is| does)? (?:really |in fact |actually )*(?P<grade>.+)$|^(?:make|mark|grade|call) (?:it|that|that one|this) (?:as )?(?P<as>.+)$"
)
_GRADE_WORDS = Lazy(
    r"^(?:quite |very |really |more |a )*(?:urgent|serious|severe|major|minor|cosmetic|nuisance|unsafe|dangerous|critical|not (?:urgent|safe)|getting worse|stops? the (?:coach|bus)|(?:for )?repair today|(?:for )?(?:the )?next service|out of service)(?: now)?$"
)
_STILL_WORKS = Lazy(
    rf"^{_THE}(?P<which>.+?) (?:still works|works again|can move|does not stop the (?:coach|bus)|doesn't stop the (?:coach|bus)|need not stop the coach|is safe to drive(?: with)?)$"
)
_PHOTO = Lazy(
    r"\b(?:photos?|pictures?|image|snapshot) (?:(?:of|for|to) (?P<which>.+?) )?(?:is |at |in |under |as |called |file |saved (?:as|at|in|under) )*(?P<path>[\w~./\\:-]*[\w-]\.(?:jpe?g|png|heic|webp))\b",
    re.IGNORECASE,
)
_GRADES = (("stop", r"^(?:1|one|it stops?(?: (?:the )?(?:coach|bus))?|stops(?: (?:the )?(?:coach|bus))?|stop the (?:coach|bus)|unsafe|park it)$"), ("today", r"^(?:2|two|today|repair(?: it)? today|soon|medium|middle|urgent)$"), ("service", r"^(?:3|three|(?:the )?next service|service|later|it can wait|can wait|minor|nuisance|small|not bad|not much)$"))  # fmt: skip
_YES = Lazy(r"^(?:yes|yeah|yep|yup|it (?:does|is|works?|holds)|they do|works(?: fine)?|still works|all (?:tight|good|fine)|fine|sure|aye|affirmative|correct)(?: it (?:does|is|works))?$")  # fmt: skip
_NO = Lazy(r"^(?:no|nope|nah|it (?:doesn't|does not|isn't|is not)|they don't|negative|not (?:really|any more|anymore|at all)|broken|dead|doesn't work|not working)(?: it (?:doesn't|isn't))?$")  # fmt: skip
_UNSURE = Lazy(r"^(?:(?:i )?(?:don't|do not|dunno|can't) ?(?:know|tell|say|see)?|not sure|unsure|maybe|perhaps|no idea|hard to say)$")  # fmt: skip
_PLACE_OPENS = Lazy(r"^(?:it's |it is |that's |on|at|in|by|under|behind|near|the|left|right|front|rear|inside|outside|over|above|below|next to|bay)\b")  # fmt: skip


# -- reports ------------------------------------------------------------------------------------


def logged(state: State, text: str, ranking: Ranking, decision: Decision, mind: Mind, now: datetime) -> Outcome | None:
    """Record a defect, or ask what is wrong; None when the text wants nothing recorded."""
    what = wants_record(text, ranking.defect)
    if wants_record(text) is None and not without_good_news(text, mind.defect_words.faults).strip():
        return None  # "the log says the wiper was fixed last week, works fine"
    if (
        what is None
        and (state.asking is None or state.asking.what != "defect")
        and (is_dead_lamp(text) or is_held(text))
    ):
        return _recorded(state, _told_words(text), text, mind, now, near=TOPIC)
    if what == "" and _POINTS_BACK.search(bare(text)) and (before := _told_before(state, mind)) is not None:
        if not before:  # it is kept already
            line = f"It is on the list: defect {_of(state, state.defect).words()}."
            return _answer(replace(state, failures=0), line, (line,))
        return _recorded(replace(state, asking=None), before, before, mind, now, near=ranking.best)
    in_report = state.walk is not None and state.walk.topic in REPORTING
    if what is None and in_report and state.walk is not None and _of_report(text, decision, state.walk.topic, mind):
        return _recorded(state, _told_words(text), text, mind, now, near=ranking.best)
    if what is None and state.asking is None and _tells_fault(text, decision, mind):
        if decision.verdict == "unknown" and safety_of(bare(text), mind.defect_words).move != "no":
            return _offered(state, text, decision, mind)
        return _recorded(state, _told_words(text), text, mind, now, near=ranking.best)
    free = state.asking is None or state.asking.what == "choice"
    if what is None and free and decision.verdict == "unknown" and _told_of_part(text, mind):
        return _recorded(state, _told_words(text), text, mind, now, near=ranking.best)
    if what is None or (ranking.out_of_scope >= 0.5 and ranking.defect < 0.2):
        return None
    if not what:
        asking = Asking("defect", reading="what")
        line = "What is wrong, and where?"
        return _answer(replace(state, asking=asking, failures=0), line, (line,), kind="clarify")
    if state.walk is not None and state.walk.topic in mind.knowledge.hazards:
        return _kept(state, what, text, mind, now)
    return _recorded(state, what, text, mind, now, near=ranking.best)


_POINTS_BACK = Lazy(r"\b(?:it|that|this)\b")


def _told_before(state: State, mind: Mind) -> str | None:
    """What was told just before and is meant by "write that down"; empty when it was kept then, None for nothing that is a fault."""
    last = state.last
    if last is None:
        return None
    if last.kind == "defect" and state.defect:
        return ""
    asked_back = last.kind in ("clarify", "unknown") and bool(state.question)
    return state.question if asked_back and told_trouble(state.question, mind.defect_words) else None


_BROKEN = Lazy(
    r"\b(?:(?:hanging|hangs|dangling|broke|broken|came|come|coming|fell|fallen|snapped|ripped|torn|sheared|popped) (?:off|down|loose|apart|out|away|half off)|is (?:hanging|broken|busted|cracked|smashed|shattered|ripped|torn|loose|bent|snapped|jammed|stuck|dead|wobbly)|are (?:hanging|broken|busted|cracked|smashed|ripped|torn|loose|bent|jammed|stuck|dead)"
    r"|(?:won't|doesn't|will not|does not|don't) (?:latch|shut|close|open|lock|light|light up|work|fold|slide|recline|stay (?:up|shut|closed|open|put))|(?:broke|snapped|cracked|busted|ripped|jammed)$)"
)
_PEOPLE = Lazy(
    r"\b(?:i|i'm|my|me|he|she|they|he's|she's|they're|his|her|their|we|we're|you|kids?|players?|boys?|girls?|guys?|passengers?|driver|coach's|somebody|someone|everybody|nobody|goalie|trainer|phones?|laptops?|sticks?|skates?|bags?|shoes?|arms?|legs?|heads?|knees?|ankles?|wrists?|fingers?|hands?)\b(?! (?:seat|door|rail|light|bunk))"
)


def _told_of_part(text: str, mind: Mind) -> bool:
    """Whether something at a place of the coach is plainly told to be broken, and no procedure is near it: "bunk six's rail is hanging off"."""
    said = plain(text)
    if not told_trouble(text, mind.defect_words) or not _BROKEN.search(said) or _PEOPLE.search(said):
        return False
    return place_in(text, mind.coach, mind.defect_words).known


_RIGHT_SIDE = Lazy(r"^\s*right\s+[a-z]")


def _told_words(text: str) -> str:
    """The words of a fault; "right" before a part is a side, and only with a comma after it a filler."""
    return plain(text) if _RIGHT_SIDE.match(text.lower()) else _LEAD_IN.sub("", bare(text))


_LEAD_IN = Lazy(
    r"^(?:(?:no|nope|hey|oh|well|so|also|yeah|looks like) )+(?=(?:the|my|our|a|one|left|right|front|rear)\b)"
)


def _of_report(text: str, decision: Decision, walk: str, mind: Mind) -> bool:
    """Whether a text told while defects are written down is one, and is not plainly the request for another procedure."""
    other = decision.verdict == "answer" and decision.topics[0] not in (walk, TOPIC)
    return told_trouble(text, mind.defect_words) and not (other and decision.confidence >= _SURELY_OTHER)


def _tells_fault(text: str, decision: Decision, mind: Mind) -> bool:
    """Whether a statement tells a fault that no procedure here deals with, or a damage that may belong to several."""
    part = told_fault(text, mind.defect_words)
    if part is not None:
        likely = decision.topics[:1] if decision.verdict == "answer" else decision.topics
        if decision.verdict == "answer" and decision.confidence < _LIKELY:
            return safety_of(bare(text), mind.defect_words).move == "no"
        if decision.verdict == "clarify" and (TOPIC in likely or not set(part.topics) & set(likely)):
            return True
        return decision.verdict == "unknown" or not {*part.topics, *_FOR_ALL_PARTS} & set(likely)
    return decision.verdict != "answer" and told_damage(text, mind.defect_words, mind.coach)


def warned(outcome: Outcome, text: str, mind: Mind) -> Outcome:
    """What is asked back, with what the fault that was told means for the coach said first."""
    if outcome.reply.kind != "clarify" or told_fault(text, mind.defect_words) is None:
        return outcome
    safety = safety_of(bare(text), mind.defect_words)
    if safety.move != "no":
        return outcome
    line = _DO_NOT_DRIVE.format(why=safety.why, rule=safety.rule)
    reply = outcome.reply
    say = f"Warning. {line.removeprefix('WARNING: ')} {reply.say}"
    return Outcome(outcome.state, replace(reply, say=say, show=(line, *reply.show)), outcome.events)


_DO_NOT_DRIVE = "WARNING: Do not drive with it before it is looked at: {why} ({rule})."


def _offered(state: State, text: str, decision: Decision, mind: Mind) -> Outcome:
    """No procedure fits, and a fault is told: what it means for the coach, and that it can be kept."""
    safety = safety_of(bare(text), mind.defect_words)
    lines = ["I have no procedure for that. Say log it, and I keep it as a defect."]
    if safety.move == "no":
        lines.insert(0, _DO_NOT_DRIVE.format(why=safety.why, rule=safety.rule))
    elif safety.move == "unclear":
        lines.insert(0, f"{safety.asks} Until you know, the coach stays.")
    asking = Asking("defect", reading="offer", said=text)
    outcome = _answer(replace(state, asking=asking), " ".join(lines), tuple(lines), kind="unknown")
    reply = replace(outcome.reply, topic=None, nearest=decision.topics, confidence=decision.confidence)
    return Outcome(outcome.state, reply, outcome.events)


_KEEP = Lazy(
    r"^(?:(?:yes|yeah|yep|sure|ok|okay|please|do|right) )*(?:log|note|record|write|put|keep|report|jot|mark|enter)\b.{0,24}$|^(?:yes|yeah|yep|yup|sure|ok|okay|please do|do that|go ahead|do it)(?: please)?$"
)
_LIKELY = 0.5
"""How likely a procedure must be to be walked in place of a record of what keeps the coach parked."""
_FOR_ALL_PARTS = ("pre-trip-inspection",)


def _recorded(state: State, what: str, said: str, mind: Mind, now: datetime, near: str | None = None) -> Outcome:
    report = read_report(what, mind.coach, mind.defect_words, said)
    verdict = out_of_limit(what, mind, now)
    report = replace(report, severity="stop") if verdict else report
    entry = reported(report, said, now, state.actor, near)
    state = replace(_with(state, entry, LOGGED), defect=entry.key, failures=0)
    defect = _of(state, entry.key)
    lines = [f"WARNING: {defect.verdict()} Call the carrier's maintenance."] if defect.stops else []
    lines.append(f"Logged as defect {defect.words()}. Say undo if that is wrong.")
    if verdict:
        lines.append(verdict)
    if report.place.remark:
        lines.append(report.place.remark)
    if not defect.stops and not defect.unclear:
        lines.append("As told, it need not stop the coach. If it can get worse or come off, say: it stops the coach.")
    return _then_ask(state, defect, tuple(lines), mind, (entry,))


def beside(outcome: Outcome, text: str, mind: Mind, now: datetime) -> Outcome:
    """A hazard's answer, with the report in the same words kept too: the danger first, and nothing is lost."""
    what = wants_record(text)
    if not what:
        return outcome
    report = replace(read_report(what, mind.coach, mind.defect_words), severity="stop")
    entry = reported(report, text, now, outcome.state.actor, outcome.reply.topic)
    state = _with(outcome.state, entry, "that defect")
    line = f"Kept as defect {_of(state, entry.key).words()}."
    reply = replace(outcome.reply, show=(*outcome.reply.show, line))
    return Outcome(replace(state, defect=entry.key), reply, (*outcome.events, entry.draft()))


_ASKS_RECORD = Lazy(
    r"^(?:(?:ok|okay|right|so|and|then|well|fine|please|can you|could you|yeah|also) )*(?:log|note|write|record|put|report|add|mark|jot|enter)\b"
)


def kept_in_danger(state: State, danger: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Log it, a shock from the door", in the walk through that danger: kept, and the step in hand said again; else None."""
    walk, what = state.walk, wants_record(text)
    if walk is None or walk.topic != danger or not what or not _ASKS_RECORD.search(plain(text)):
        return None
    return _kept(state, what, text, mind, now, grave=True)


def _kept(state: State, what: str, text: str, mind: Mind, now: datetime, grave: bool = False) -> Outcome:
    """A defect told in a danger: kept without a question about it, and the step in hand said again."""
    from cabassist.dialogue import phrases

    walk = state.walks[-1]
    danger = mind.knowledge.procedure(walk.topic)
    about = beginnings(what, _LITTLE) & beginnings(f"{walk.topic.replace('-', ' ')} {danger.title}", _LITTLE)
    report = read_report(what, mind.coach, mind.defect_words, text)
    entry = reported(replace(report, severity="stop") if grave or about else report, text, now, state.actor, walk.topic)
    state = replace(_with(state, entry, LOGGED), defect=entry.key, asking=None, failures=0)
    do = phrases.filled(phrases.step_of(danger, walk).do, mind.facts)
    lines = (f"Kept as defect {_of(state, entry.key).words()}.", f"This comes first: {do}")
    return _answer(state, " ".join(lines), lines, entries=(entry,))


_LITTLE = frozenset("the and for with that this from coach bus out off".split())


def only_asks_record(text: str, mind: Mind) -> bool:
    """Whether it asks that something be logged and says nothing of what, so that it wishes for nothing unsafe: "put that in as well"."""
    return _ASKS_RECORD.search(plain(text)) is not None and wants_record(text) == "" and not mind.wishes.find(text)


_AS_DEFECT = Lazy(r"\bas an? (?:\w+ )?(?:defect|fault)\b")


def keeps_fault(text: str, mind: Mind) -> bool:
    """Whether a trouble is told and asked to be kept, so that its figures are of no sum: "bunk 2 rail is loose, note that for the driver"."""
    asked = bool(wants_record(text))
    return asked and (told_trouble(text, mind.defect_words) or _AS_DEFECT.search(plain(text)) is not None)


def _then_ask(
    state: State, defect: Defect, lines: tuple[str, ...], mind: Mind, entries: Sequence[Entry] = ()
) -> Outcome:
    """The reply, with the next thing that is unclear asked after it."""
    asked, question = _next_question(defect)
    asking = Asking("defect", (defect.key,), asked) if asked else None
    lines = (*lines, question) if question else lines
    return _answer(replace(state, asking=asking), " ".join(lines), lines, entries=entries)


def _next_question(defect: Defect) -> tuple[str, str]:
    """What to ask of a defect, and the words; empty when everything is told."""
    if defect.place.unknown:
        return "where", f"This coach has no {defect.place.unknown}. Which bay, or which side and part?"
    if not defect.place.known:
        return "where", "Where is it? Say the bay, the door, the wheel or the side."
    if defect.unclear:
        return "works", f"{defect.asks} Until you know, the coach stays."
    if not defect.severity:
        return "severity", "How bad is it: 1, it stops the coach; 2, repair today; 3, next service?"
    return "", ""


# -- answers ------------------------------------------------------------------------------------


def expected(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The answer to a question about a defect, or None when the words are something else."""
    asking = state.asking
    if asking is None or asking.what != "defect":
        return None
    said = bare(text)
    free = replace(state, asking=None)
    if state.walk is not None and asking.reading in ("what", "where") and _steers(text, mind):
        return None
    if asking.reading == "what":
        if re.match(r"^(?:no|nothing|never mind|nevermind|forget it|cancel)$", said):
            return _answer(free, "All right, nothing logged.", ("All right, nothing logged.",), kind="control")
        return None if _question(said) or len(said.split()) < 2 else _recorded(free, said, text, mind, now)
    if asking.reading == "offer":
        if re.match(r"^(?:no|nope|nah|never mind|don't)\b", said) and len(said.split()) <= 4:
            return _answer(free, "All right, nothing logged.", ("All right, nothing logged.",), kind="control")
        return _recorded(free, bare(asking.said), asking.said, mind, now) if _KEEP.match(said) else None
    if (other := _another(text, mind)) is not None:
        return _recorded(free, other, text, mind, now)
    if asking.reading == "which":
        return _picked(free, said, asking, mind, now)
    defect = next((d for d in all_defects(state.record) if d.key == asking.options[0]), None)
    if defect is None:
        return None
    if asking.reading == "where":
        return _placed(free, defect, text, mind, now)
    if asking.reading == "works":
        return _works(free, defect, said, mind, now)
    grade = _grade(said, mind)
    if not grade or _question(said):
        return None
    entry = noted(defect, now, state.actor, said=text, severity=grade)
    return _changed(free, defect, entry, f"Defect {defect.number}: {GRADES[grade]}.", mind)


_AND_ANOTHER = Lazy(
    r"^(?:(?:ok|okay|oh|yes|yeah|so|well) )*(?:and|also|plus|another one|one more)[ ,:]+(?!that\b|it\b|it's\b|they\b|this\b)"
)


def _another(text: str, mind: Mind) -> str | None:
    """The words of one more defect told in place of an answer: "and the bay 3 latch sticks, log that too"; else None."""
    said = plain(text)
    if "?" in text or not told_trouble(_AND_ANOTHER.sub("", said), mind.defect_words):
        return None
    if not _AND_ANOTHER.match(said) and not (_LOGS_TOO.search(said) and wants_record(text)):
        return None
    rest = _AND_ANOTHER.sub("", said)
    return wants_record(rest) or rest


_LOGS_TOO = Lazy(
    r"\b(?:log|note|record|write|put|add|report)\b.*\b(?:too|as well|also)$|^(?:also|and) (?:log|note|record|write|put|add|report)\b"
)
_OF_WALK = frozenset(
    {"repeat", "next", "jump", "why", "how-many", "start-over", "pause", "resume", "skip", "undo", "peek"}
)


def _steers(text: str, mind: Mind) -> bool:
    """Whether an answer to what or where a defect is is a command to the walk: "read me that step again" names no step of the door."""
    steer = mind.steering.find(text)
    return steer is not None and steer.verb in _OF_WALK


def _grade(said: str, mind: Mind) -> Severity:
    for grade, pattern in _GRADES:
        if re.match(pattern, said):
            return grade  # type: ignore[return-value]
    return severity_in(said, mind.defect_words) if len(said.split()) <= 6 else ""


def _placed(state: State, defect: Defect, text: str, mind: Mind, now: datetime) -> Outcome | None:
    said = bare(text)
    place = place_in(said, mind.coach, mind.defect_words)
    if _question(said) or len(said.split()) > 10:
        return None
    if not place.known and not place.unknown:
        if not _PLACE_OPENS.match(said) or len(said.split()) < 2:
            return None
        place = Place(near=(re.sub(r"^(?:it's|it is|that's) ", "", said),))
    if place.unknown:
        line = f"This coach has no {place.unknown}. Which bay, or which side and part?"
        return _answer(replace(state, asking=Asking("defect", (defect.key,), "where")), line, (line,), kind="clarify")
    near = (*defect.place.near, *place.near)
    entry = noted(
        defect, now, state.actor, said=text, bays=list(place.bays), side=place.side or defect.place.side,
        places=list(dict.fromkeys(near)), unknown_bay="",
    )  # fmt: skip
    return _changed(state, defect, entry, f"Defect {defect.number}: {place.words()}.", mind)


def _works(state: State, defect: Defect, said: str, mind: Mind, now: datetime, answer: str = "") -> Outcome | None:
    if _YES.match(answer or said):
        entry = noted(defect, now, state.actor, said=f"{defect.asks} {said}", move="yes")
        line = f"Noted, on your word: defect {defect.number} need not stop the coach while that holds."
        return _changed(state, defect, entry, line, mind)
    if _NO.match(answer or said) or _UNSURE.match(said):
        sure = _NO.match(answer or said) is not None
        fields = {"move": "no", "severity": "stop"} if sure else {"severity": "stop"}
        entry = noted(defect, now, state.actor, said=f"{defect.asks} {said}", **fields)
        state = _with(state, entry, "that answer")
        now_so = _of(state, defect.key)
        line = f"WARNING: {now_so.verdict()} Call the carrier's maintenance."
        return _answer(state, line, (line,), entries=(entry,))
    grade = _grade(said, mind) if len(said.split()) <= 3 else ""
    if grade:  # how bad it is was not asked yet; it is kept, and the question put again
        entry = noted(defect, now, state.actor, said=said, severity=grade)
        return _changed(state, defect, entry, f"Defect {defect.number}: {GRADES[grade]}.", mind)
    return _in_words(state, defect, said, mind, now)


def answered(state: State, defect: Defect, said: str, mind: Mind, now: datetime) -> Outcome | None:
    """What is told answers the question that an open defect still has; None when it is of something else."""
    return _works(state, defect, said, mind, now)


def _in_words(state: State, defect: Defect, said: str, mind: Mind, now: datetime) -> Outcome | None:
    """The answer whether a part still works in words of its own; asked once more where they are too little to go by."""
    answer = answer_in(said, defect.asks) or yes_at_length(said)
    if answer == "again":
        line = f"Say yes or no, for defect {defect.number}: {defect.asks}"
        asking = Asking("defect", (defect.key,), "works")
        return _answer(replace(state, asking=asking), line, (line,), kind="clarify")
    return _works(state, defect, said, mind, now, answer) if answer else None


def answered_late(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What was asked of a defect, answered after something else came between: "it's held shut with a strap"; else None.

    The words must be plainly of that question, and of the step in hand not at all.
    """
    open_one = [d for d in all_defects(state.record) if d.unclear and d.asks]
    said = bare(text)
    if len(open_one) != 1 or state.asking is not None or "?" in text or state.pending is not None:
        return None
    if answer_in(said, open_one[0].asks) != "yes" or mind.wishes.find(text):
        return None
    if state.walk is not None:
        step = phrases.step_of(mind.knowledge.procedure(state.walk.topic), state.walk)
        if progress.stems(said) & progress.stems(phrases.filled(f"{step.do} {step.done_when or ''}", mind.facts)):
            return None
    return _in_words(state, open_one[0], said, mind, now)


def _picked(state: State, said: str, asking: Asking, mind: Mind, now: datetime) -> Outcome | None:
    """The defect that was meant, of those that were offered."""
    among = [d for d in all_defects(state.record) if d.key in asking.options]
    found = which(said, among)
    if len(found) != 1:
        return None
    return _move(replace(state, asking=None), found[0], asking.said, said, mind, now)


# -- what is said about defects that are there ---------------------------------------------------


_LIST_CUES = ("open", "defect", "fault", "outstanding", "repair", "fix", "broken", "written up", " list", "mended", "sorted", "wrong", "working", "bust", "matter", "messed", "order")  # fmt: skip


def asks_list(text: str) -> bool:
    """Whether it asks what defects are on record."""
    said = bare(text)
    return (
        names_any(said, _LIST_CUES)
        and said not in ("open", "defects", "faults")
        and bool(_LIST.match(said) or _UNFIXED.match(said) or (_WHAT_LOGGED.match(said) and not _NO_LIST.search(said)))
    )


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """Defects read back or moved on; None when the text does neither."""
    said = bare(text)
    if asks_list(text):
        return listed(state, mind)
    defects = all_defects(state.record)
    if (defects or state.missing) and _MOVE.match(said):
        return _may_move(state)
    if not defects:
        return None
    photo = _PHOTO.search(text)
    if photo is not None:
        return _photographed(state, defects, photo, text, now)
    if _question(said) or text.rstrip().endswith("?"):
        return None
    regrade = _REGRADE.match(said)
    if regrade is not None:
        changed = _regraded(state, defects, said, regrade, text, mind, now)
        if changed is not None:
            return changed
    works = _STILL_WORKS.match(said)
    if works is not None:
        return _named(state, works["which"], WORKS, text, mind, now)
    if _NEGATED.search(said):
        return None
    none_needed = _NEEDS_NONE.match(said)
    if none_needed is not None:
        return _named(state, none_needed["which"], NO_REPAIR, text, mind, now)
    for step, pattern in _FORMS:
        found = pattern.match(said)
        if found is not None:
            outcome = _named(state, found["which"], step, text, mind, now)
            if outcome is not None:
                return outcome
    return None


_TAKES_BACK = Lazy(
    rf"^(?:(?:no|sorry|actually|wait|oh|and|hang on|on second thoughts?) )*(?:take|cross|strike|knock|get|scratch|drop|delete|remove|lose|forget|scrub|ditch) (?:about )?{_THE}(?P<which>.+?)(?: (?:off|out|back))?(?: (?:the|my|our) (?:list|log|book|sheet|defects|report))?(?: again)?(?: (?:it's|its|it is|that's|it was|they're) (?:fine|ok|okay|nothing|only .+|just .+|all right|good|not broken|working|shut now|mine))?$"
)


def taken_off(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Take the door one off again": the defect just logged is withdrawn, an older one needs no repair; None when none is named."""
    still = open_defects(state.record)
    matched = _TAKES_BACK.match(bare(text)) if still else None
    if matched is None or SAYS_FIXED.search(bare(text)):
        return None
    words = re.sub(r"^(?:defect|number) (?=\w)| (?:defect|entry)$", "", matched["which"])
    found = which(re.sub(r" (?:one|thing)$", "", words), still) if not _PRONOUN.match(words) else []
    return withdrawn(state, found[0], text, mind, now) if len(found) == 1 else None


def withdrawn(state: State, meant: Defect, text: str, mind: Mind, now: datetime) -> Outcome:
    """An open defect taken back: the one just logged is undone, an older one needs no repair."""
    from cabassist.dialogue import telling

    newest = max(all_defects(state.record), key=lambda defect: defect.number)
    if meant.key == newest.key and state.undo and state.undo[-1].what == LOGGED:
        return telling.undone(state, mind, now)
    own = meant.state == "reported" and not meant.stops and meant.stages[0].by == state.actor
    if own and _MISTAKEN.search(plain(text)):
        return _unmade(state, meant, meant.key == newest.key, text, now)
    return _move(state, meant, NO_REPAIR, text, mind, now)


_MISTAKEN = Lazy(
    r"\b(?:mistakes?|mistaken|in error|error|by accident|accidentally|wrong|wrongly|not real|misheard|misread|duplicate|(?:in|logged|entered) twice|no such|never (?:said|was|broke|happened)|didn't say|did not say|not one|(?:a|just) test|testing|joke|other (?:bus|coach))\b"
)


def _unmade(state: State, meant: Defect, newest: bool, text: str, now: datetime) -> Outcome:
    """A defect entered by mistake taken back by who reported it: the newest as if it had not been told, an older one
    closed, as the others keep their numbers."""
    note = "entered by mistake"
    if newest:
        mine = (DEFECT, NOTE, STAGE)
        gone = [
            entry.key
            for entry in state.record.entries
            if entry.key == meant.key or (entry.kind in mine and entry.text("defect") == meant.key)
        ]
        line = f"Taken off: defect {meant.words()}."
        state = replace(walking.remembered(state, "taking it off"), record=state.record.without(gone), asking=None)
        outcome = _answer(state, line, (line,))
        return outcome._replace(events=(*outcome.events, withdrawal(gone)))
    mended = staged(meant, "repaired", now, state.actor, said=text, note=note)
    state = _with(state, mended, "taking it off")
    closed = staged(_of(state, meant.key), "checked", now, state.actor, said=text, note=note)
    state = replace(state, record=state.record.with_entries(closed), defect=meant.key, asking=None)
    line = f"Closed: defect {meant.words()}, {note}, by {state.actor}. The others keep their numbers."
    return _answer(state, line, (line,), entries=(mended, closed))


SAYS_FIXED = Lazy(rf"\b{_DONE}\b")
LOGGED = "that defect"
"""What the last change was when a defect was logged."""


def _named(state: State, words: str, step: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """Move on the defect that the words name; ask when they fit several; None when they fit none."""
    still = open_defects(state.record)
    if step == "acknowledged" and _ALL.match(words):
        return _all_acknowledged(state, text, now)
    if _PRONOUN.match(words):
        found = [d for d in still if d.key == state.defect]
        if not found and len(still) == 1 and words.endswith(("one", "defect")):
            found = still
    else:
        found = which(words, still) or which(words, all_defects(state.record))
    if not found:
        return None
    if len(found) > 1:
        fitting = [d for d in found if _fits(d, step)]
        found = fitting or found
    if len(found) == 1:
        return _move(state, found[0], step, text, mind, now)
    keys = tuple(d.key for d in found[:SHOWN])
    lines = ("Which one?", *(f"  {d.words()} ({d.state})" for d in found[:SHOWN]), "Say its number.")
    asking = Asking("defect", keys, "which", said=step)
    spoken = "Which one? " + "; ".join(d.words() for d in found[:SHOWN]) + "?"
    return _answer(replace(state, asking=asking), spoken, lines, kind="clarify")


def _fits(defect: Defect, step: str) -> bool:
    """Whether a defect can take this step now."""
    return {"acknowledged": "reported", "checked": "repaired"}.get(step, defect.state) == defect.state


def _move(state: State, defect: Defect, step: str, text: str, mind: Mind, now: datetime) -> Outcome:
    state = replace(state, defect=defect.key, asking=None)
    if step == WORKS:
        entry = noted(defect, now, state.actor, said=text, move="yes", severity="today")
        line = f"Noted, on {state.actor}'s word: defect {defect.number} does not stop the coach; {GRADES['today']}."
        both = (line, "Before you drive you must be satisfied that the coach is safe (49 CFR 396.13).")
        return _answer(_with(state, entry, "that"), " ".join(both), both, entries=(entry,))
    note = NO_REPAIR if step == NO_REPAIR else ""
    goal: DefectState = "repaired" if step == NO_REPAIR else step  # type: ignore[assignment]
    try:
        entry = staged(defect, goal, now, state.actor, said=text, note=note)
    except ValueError as error:
        return _answer(state, str(error), (str(error),))
    state = _with(state, entry, f"that defect {defect.number} is {goal}")
    after = f"Defect {defect.words()}: {note or goal}, by {state.actor}."
    ends: dict[DefectState, str] = {
        "acknowledged": _of(state, defect.key).verdict(),
        "repaired": "See it work, then say: sign off number " + str(defect.number) + ".",
        "checked": "It is closed.",
        "reported": "",
    }
    lines = tuple(line for line in (after, ends[goal]) if line)
    return _answer(state, " ".join(lines), lines, entries=(entry,))


def _all_acknowledged(state: State, text: str, now: datetime) -> Outcome | None:
    new = [d for d in open_defects(state.record) if d.state == "reported"]
    if not new:
        return None
    entries = [staged(defect, "acknowledged", now, state.actor, said=text) for defect in new]
    state = walking.remembered(state, "acknowledging")
    state = replace(state, record=state.record.with_entries(*entries))
    numbers = ", ".join(str(d.number) for d in sorted(new, key=lambda d: d.number))
    line = f"Acknowledged by {state.actor}: {numbers}."
    lines = [line, *(f"WARNING: {d.words()}. {d.verdict()}" for d in open_defects(state.record) if d.stops)]
    return _answer(state, " ".join(lines), tuple(lines), entries=entries)


def _regraded(
    state: State, defects: list[Defect], said: str, found: re.Match[str], text: str, mind: Mind, now: datetime
) -> Outcome | None:
    number = re.match(r"^(?:no |actually |and )*((?:number|defect) \w+)", said)
    named = which(number[1], defects) if number else [d for d in defects if d.key == state.defect]
    words = found["grade"] or found["as"] or ""
    grade = severity_in(words, mind.defect_words) if _GRADE_WORDS.match(words) else ""
    if len(named) != 1 or not grade or not named[0].open:
        return None
    entry = noted(named[0], now, state.actor, said=text, severity=grade)
    return _changed(state, named[0], entry, f"Defect {named[0].number}: {GRADES[grade]}.", mind)


def _photographed(
    state: State, defects: list[Defect], photo: re.Match[str], text: str, now: datetime
) -> Outcome | None:
    words = photo["which"]
    pronoun = not words or _PRONOUN.match(plain(words))
    found = [d for d in defects if d.key == state.defect] if pronoun else which(words, defects)
    if len(found) != 1:
        line = "Of which defect is that photo? Say: photo of defect 2, and the file."
        return _answer(state, line, (line,), kind="clarify")
    entry = noted(found[0], now, state.actor, photo=photo["path"])
    line = f"Photo {photo['path']} kept with defect {found[0].words()}. I keep its path; the file stays where it is."
    return _answer(_with(state, entry, "that photo"), line, (line,), entries=(entry,))


def _may_move(state: State) -> Outcome | None:
    """Whether the coach may move, as far as the open defects say."""
    still = open_defects(state.record)
    held = [d for d in still if d.stops or d.unclear]
    if not held and not state.missing:
        return None  # nothing on record forbids it; whether it may is a question for the inspection
    lines = ["WARNING: Somebody is missing. Count heads, and tell me the count."] if state.missing else []
    lines += [f"WARNING: {d.words()}. {d.verdict()}" for d in held[:SHOWN]]
    return _answer(state, " ".join(["No.", *lines]), ("No.", *lines), kind="refuse")


def listed(state: State, mind: Mind) -> Outcome:
    """The open defects, the gravest first."""
    still = open_defects(state.record)
    if not still:
        line = "No open defects on record. Look round all the same."
        return _answer(state, line, (line,))
    lines = [f"{len(still)} open defect{'s' if len(still) != 1 else ''}."]
    for defect in still:
        mark = "WARNING: " if defect.stops or defect.unclear else ""
        lines.append(f"{mark}{defect.words()}. {defect.state.capitalize()} by {defect.stages[-1].by}. {defect.verdict()}")  # fmt: skip
    more = [f"And {len(still) - SHOWN} more on the screen."] if len(still) > SHOWN else []
    spoken = [line.removeprefix("WARNING: ") for line in lines[: SHOWN + 1]]
    return _answer(state, " ".join([*spoken, *more]), tuple(lines))


def also_open(outcome: Outcome) -> Outcome:
    """What is on record read back, with the open defects after it."""
    still = open_defects(outcome.state.record)
    if not still:
        return outcome
    lines = tuple(f"Open defect {defect.words()}." for defect in still)
    reply = outcome.reply
    more = f" And {len(still) - 1} more open." if len(still) > 1 else ""
    return outcome._replace(reply=replace(reply, say=f"{reply.say} {lines[0]}{more}", show=(*reply.show, *lines)))


def repeated(outcome: Outcome) -> Outcome:
    """A procedure that opens before a drive or at a hand-over begins with the open defects."""
    reply = outcome.reply
    if reply.kind != "procedure" or reply.topic not in REPEATED_AT:
        return outcome
    still = open_defects(outcome.state.record)
    if not still:
        return outcome
    held = [f"WARNING: Defect {d.words()}. {d.verdict()}" for d in still if d.stops or d.unclear]
    rest = [f"Open defect {d.words()}, {d.state} by {d.stages[-1].by}." for d in still if not (d.stops or d.unclear)]
    new = any(d.state == "reported" for d in still)
    lines = [*held, *rest, *(["Say acknowledge all when you have read them."] if new else [])]
    spoken = [*(line.removeprefix("WARNING: ") for line in held[:2])]
    spoken.append(f"{len(still)} open defect{'s' if len(still) != 1 else ''} on the screen.")
    say = " ".join([*spoken, reply.say])
    return outcome._replace(reply=replace(reply, say=say, show=(*lines, *reply.show)))


# -- small parts --------------------------------------------------------------------------------


def _question(said: str) -> bool:
    return re.match(r"^(?:how|what|where|why|when|which|who|can|could|should|shall|may|must|do|does|did|is|are|will|would)\b", said) is not None  # fmt: skip


def _of(state: State, key: str) -> Defect:
    return next(d for d in all_defects(state.record) if d.key == key)


def _with(state: State, entry: Entry, what: str) -> State:
    """The state with an entry more, which can be undone."""
    return replace(walking.remembered(state, what), record=state.record.with_entries(entry))


def put_right(state: State, defect: Defect, entry: Entry, line: str, mind: Mind) -> Outcome:
    """A defect corrected: says so, and asks what is still unclear."""
    return _changed(state, defect, entry, line, mind)


def _changed(state: State, defect: Defect, entry: Entry, line: str, mind: Mind) -> Outcome:
    """A defect changed: says so, its verdict when it stops the coach, and asks what is still unclear."""
    state = replace(_with(state, entry, f"that about defect {defect.number}"), defect=defect.key)
    after = _of(state, defect.key)
    if after.stops:
        verdict = f"WARNING: {after.verdict()} Call the carrier's maintenance."
        return _then_ask(state, after, (verdict, line), mind, (entry,))
    return _then_ask(state, after, (line,), mind, (entry,))


def _answer(
    state: State,
    say: str,
    lines: tuple[str, ...],
    *,
    kind: str = "defect",
    entries: Sequence[Entry] = (),
) -> Outcome:
    from cabassist.dialogue import phrases

    walk = state.walk
    reply = Reply(
        kind,  # type: ignore[arg-type]
        say.replace("WARNING: ", "Warning. "),
        lines,
        topic=TOPIC,
        step=phrases.mark(walk) if walk else None,
    )
    return Outcome(state, reply, tuple(entry.draft() for entry in entries))


answer = _answer
"""A reply of the record, with the step in hand kept."""

__all__ = ["answer", "beside", "expected", "listed", "logged", "repeated", "told"]
