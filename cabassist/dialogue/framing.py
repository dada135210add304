"""Words that ask for a walk whatever it is through: "start the … procedure", "run me through …", "do the … checklist".

They say nothing about which procedure is meant, and together with few other words they pull the matcher to procedures that are
asked for in such words. So they are taken off before the rest is looked at.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from cabassist.dialogue.types import Mind
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, beginnings, plain
from cabassist.language.routing import BOUNDS, Decision

SURE = 0.5
"""Probability from which on what is left names a procedure."""
ENOUGH = 0.6
"""Probability from which on the whole text is believed, whatever is left of it without its frame."""
_WISH = r"(?:(?:please|can you|could you|would you|will you|i want (?:you )?to|i'd like (?:you )?to|i would like (?:you )?to|i need (?:you )?to|we need to|let's|lets|help me|time to|ready to|you can|hang on|hold on|wait|actually|first|before that|now|instead|switch to|go to|jump to|quick) )*"
_NOUN = r"(?:procedure|checklist|check list|check-list|list|walk ?through|walk-through|walk|routine|instructions?|steps|guide|drill|job)"
_FORMS = tuple(
    Lazy(pattern)
    for pattern in (
        rf"^{_WISH}(?:start|begin|open|run|do|give me|show me|pull up|bring up|load|get me|get|launch|take me to|read me|let me have|let me see|i need|i want)(?: up)?(?: (?:the|a|my|our|that|on the))? (?P<what>.+?) {_NOUN}$",
        rf"^{_WISH}(?:walk|talk|run|take|lead|guide|step|bring|coach|get) (?:me|us) (?:through|thru|threw|round|around|over)(?: (?:the|a|our|how (?:to|do i|you|we|i)|doing the|doing|(?:rest|remainder|remaining part) of|whole|entire|full))* (?P<what>.+?)(?: {_NOUN})?$",
        rf"^{_WISH}(?:show|teach|tell|explain to|remind) (?:me|us) how (?:to|you|we|i|do i|do you) (?P<what>.+)$",
        rf"^{_WISH}(?:what are |what're |give me |read me |show me )?(?:the )?(?:steps|instructions|procedure|checklist|drill|routine) (?:to|for|on|when) (?P<what>.+)$",
        r"^(?:(?:i'm|we're|i am|we are) )?(?:just )?(?:about to|going to|gonna|time to|ready to|need to|have to|got to|gotta|want to|i want to|i need to|we need to) (?P<what>.+?) (?:(?:so|and|please|can you|could you|will you) )*(?:walk|talk|run|take|lead|guide|step) (?:me|us) (?:through|thru)(?: (?:it|that|this|them))?$",
        r"^(?:the )?(?P<what>[\w' -]+?) (?:procedure|checklist|check list|walk ?through|routine|instructions?)$",
        rf"^{_WISH}(?:start|begin|launch|kick off|get going on|get started (?:on|with)|begin with|start with|start on)(?: (?:the|a|my|our|that))? (?P<what>.+)$",
    )
)
_CUES = ("through", "thru", "threw", "round", " over", " how ", "steps", "instruction", "procedure", "list", "walk", "routine", "guide", "drill", "job", "start", "begin", "launch", "kick off", "get going")  # fmt: skip
_TAIL = re.compile(
    r"(?: (?:please|now|first|with me|for me|then|again|instead|real quick|quick|quickly|on this (?:bus|coach|thing|rig)|with you))+$"
)
_GIVES_UP = re.compile(
    r"^(?:(?:ok|okay|no|nah|ah|oh|well|right|so) )*(?:never ?mind(?: (?:that|it|this))?|forget (?:it|that|this|about (?:it|that|this))|leave (?:it|that|this)|scrap that|drop (?:it|that|this)|to hell with (?:it|that|this)|enough of (?:it|that|this)|screw (?:it|that|this))\b"
)
_ENOUGH_THEN = 0.12
"""Probability from which on a request after something given up names a procedure, when every other is far off."""
_FAR_OFF = 0.02
_LITTLE = frozenset(
    "the and for with that this are our new all now into onto from then you your off out not any coach bus".split()
)


_INTERJECTION = re.compile(
    r"^(?:(?:oh|ok|okay|no|hey|and|but|so|well)[ ,]+)*(?:hang on|hold on|hold up|wait(?: a (?:sec|second|minute|moment))?|one (?:sec|second|moment)|before that|by the way|actually|quick question|real quick|sorry|listen|look|say)\b[ ,.:;-]+(?=\w+\W+\w+\W+\w)",
    re.IGNORECASE,
)


_YES_THEN = Lazy(
    r"^(?:(?:yeah|yes|yep|yup|sure|aye|right|alright|ok|okay|fine|good|great|cool|please)[ ,.!]+)+(?=(?:please )?(?:take|walk|talk|show|run|lead|guide|bring) (?:me|us)\b|(?:let's|lets|open|tell me how|go to|how (?:do|can|should) (?:i|we))\b)",
    re.IGNORECASE,
)


def without_interjection(text: str) -> str:
    """The text without "hang on" or a yes and the like before it, which say nothing of what is asked."""
    return _YES_THEN.sub("", _INTERJECTION.sub("", text))


def unframed(text: str) -> str | None:
    """What a walk is asked through, without the words that ask for a walk; None when no such words stand there."""
    said = _TAIL.sub("", bare(text.rsplit(". ", 1)[-1]))
    if not names_any(f" {said} ", _CUES):
        return None
    for form in _FORMS:
        found = form.match(said)
        if found is not None:
            return str(found["what"])
    return None


_REQUEST = r"(?:take|walk|talk|run|guide|lead|step) (?:me|us) (?:through|thru)\b|how (?:do|can|should|would) (?:i|we|you)\b|show (?:me|us) how\b"
_BEGINS = re.compile(
    rf"^(?:(?:so|and|then|now|ok|okay|right|alright|please|well|can you|could you) )*(?:{_REQUEST}|let's|lets|i want to|i'd like to|start|open|where(?:'s| is| are))\b"
)
_LATER = re.compile(rf"^(?P<report>.+?) (?:(?:so|and|then|now|ok|okay|right|alright) )*(?P<request>(?:{_REQUEST}).+)$")
_SENTENCE_END = re.compile(r"(?<=[.!;?])\s+(?=\S)")


def parted(text: str) -> tuple[str, str] | None:
    """What is told and the request after it: "it's the wrong outlet. how do I unplug it"; None when a text is no such two."""
    *told, request = _SENTENCE_END.split(text.strip())
    if told and len(request.split()) > 1 and _BEGINS.match(bare(request)):
        return " ".join(told), request
    later = _LATER.match(plain(text)) if not told else None
    return (later["report"], later["request"]) if later is not None else None


def gives_up(text: str) -> bool:
    """Whether what was spoken of is given up and something else asked for: "forget it, we're leaving, how do I unplug"."""
    two = parted(text)
    return two is not None and _GIVES_UP.match(bare(two[0])) is not None


_TO_LOG = Lazy(
    r"^(?P<report>.+?)[ ,.;]+(?:(?:so|and|then|now|please|can you|could you|you can|but|also) )*(?P<request>(?:(?:log|note|record|report)(?: (?:it|this))?(?: down)?|write (?:it |this )?(?:up|down)|put (?:it |this )?(?:down|in the log)|jot (?:it |this )?down)(?: as a defect)? (?:that|the|a|an|as|my|our|rear|front|left|right)\b.+)$"
)


def to_log(text: str) -> tuple[str, str] | None:
    """What is told and what is to be put on record after it: "they let us back in, log that the furnace is dead"; else None."""
    found = _TO_LOG.match(plain(text))
    return (found["report"], found["request"]) if found is not None else None


def of_request(text: str, decision: Decision, about: list[str], in_hand: str, mind: Mind) -> Decision:
    """The decision by the request alone when something is told before it, and "it" taken for what is spoken of.

    Args:
        text: what was said.
        decision: what the whole text is taken for.
        about: what was spoken of before, the likeliest first.
        in_hand: the walk in hand, which who reports from it does not ask for; or "".
        mind: what the turn knows.
    """
    if decision.verdict == "hazard" or mind.wishes.find(text):
        return decision
    unsure = decision.verdict in ("clarify", "unknown") or decision.topics[:1] == (in_hand,)
    if in_hand and unsure and not set(decision.topics) & mind.knowledge.hazards:
        asked = _asked_last(text, in_hand, mind)
        if asked is not None:
            return asked
    unsure = unsure or (decision.verdict == "answer" and decision.confidence < ENOUGH)
    if in_hand and unsure and bare(text).startswith("how ") and _POINTED.match(bare(text)):
        deed = _by_deed(text, in_hand, [name for name in decision.topics if name != in_hand], mind)
        if deed is not None:
            return Decision("answer", (deed, *(name for name in decision.topics if name != deed)), SURE)
    two = parted(text)
    report, request = two if two is not None else ("", text)
    if two is not None and _GIVES_UP.match(bare(report)):  # "forget it, we're leaving, how do I unplug"
        alone = mind.ranked(request)
        (best, chance), (_, second) = alone.procedures[0], alone.procedures[1]
        clear = chance >= SURE or (chance >= _ENOUGH_THEN and second < _FAR_OFF)
        if clear and best not in mind.knowledge.hazards and alone.wish < _LIKE_DANGER:
            return Decision("answer", (best, *(name for name in decision.topics if name != best)), max(chance, SURE))
    weak = decision.verdict == "answer" and decision.confidence < SURE
    if weak and about and _OF_IT.match(_LEADS.sub("", bare(request))):
        # "how do I get it out of the bay", of a bottle spoken of
        best, chance = mind.ranked(f"{request} ({about[0]})").procedures[0]
        if chance >= SURE and best not in mind.knowledge.hazards and best != in_hand:
            return Decision("answer", (best, *decision.topics[:2]), chance)
    what = unframed(request)
    pointed = (
        _POINTED.match(what or bare(request).removeprefix("let's ").removeprefix("lets ")) if what or two else None
    )
    if pointed is not None:
        told = [f"{report} {thing}" for thing in about[:1]] + [report] if len(report.split()) > 2 else []
        for thing in told + about:
            ranked = mind.ranked(f"how do i {what or pointed[0]} ({thing})").procedures
            best, chance = _beside(ranked, in_hand if report else "")
            if chance >= SURE and best not in mind.knowledge.hazards:
                other = _by_deed(request, in_hand, [name for name, _ in ranked[:8]], mind) if best == in_hand else None
                return Decision("answer", (other or best, *decision.topics[:2]), chance)
        return decision
    if two is None or (decision.verdict == "answer" and decision.confidence > SURE_WHOLE):
        return decision
    best, chance = max(
        (mind.ranked(form).procedures[0] for form in (request, *([f"how do i {what}"] if what else []))),
        key=lambda row: row[1],
    )
    if chance < SURE and what:  # "planning tomorrow properly", when planning was spoken of
        near = [thing for thing in about if beginnings(what, _LITTLE) & beginnings(thing, _LITTLE)]
        best, chance = mind.ranked(f"how do i {what} ({near[0]})").procedures[0] if near else (best, chance)
    if chance < SURE or best in mind.knowledge.hazards:
        return decision
    return Decision("answer", (best, *(name for name in decision.topics if name != best)), chance)


_ASKS_LAST = Lazy(
    r"^(?:(?:so|and|but|now|oh|then|ok|okay|hey|also) )*(?:what|which|who|when|how|where)\b(?! (?:now|next|else)\b)"
)
_LONG_ENOUGH = 5
_NO_PART, _OF_ITS_OWN, _LIKE_DANGER = 0.15, 0.4, 0.3


def _asked_last(text: str, in_hand: str, mind: Mind) -> Decision | None:
    """What the question in the last sentence asks for after a report from the walk: "it's open. what goes in which bay"."""
    *told, question = _SENTENCE_END.split(text.strip())
    if "," in question and not _ASKS_LAST.match(plain(question)):  # "the wheel's on, what torque do the nuts get"
        told, question = [question.rpartition(",")[0]], question.rpartition(",")[2].strip()
    if not told or len(question.split()) < _LONG_ENOUGH or not _ASKS_LAST.match(plain(question)):
        return None
    ranked = mind.ranked(question).procedures
    best, chance = ranked[0]
    if chance < ENOUGH or best in mind.knowledge.hazards or dict(ranked).get(in_hand, 0.0) >= _NO_PART:
        return None
    return Decision("answer", (best,), chance)


_SIDE_CLAUSE = Lazy(
    r" (?:before|while|after) (?:i|we) [a-z]+(?: [a-z]+){0,3}$| (?:before|while|after) [a-z]+ing(?: [a-z]+){0,3}$"
)
_ASKS_HOW = Lazy(
    r"^(?:(?:so|and|but|now|oh|then|ok|okay|hey|also|please) )*(?:how (?:do|can|should|would|to)|what's the way|show me|walk me|talk me|take me|tell me how|what do (?:i|we) do to)\b"
)


def main_clause(text: str, ranking: Ranking, mind: Mind) -> str | None:
    """The question without a side clause that alone made it like another: "how do I shut the gas before we fuel"; else None."""
    said = bare(text)
    main = _SIDE_CLAUSE.sub("", said)
    if main == said or len(main.split()) < _LONG_ENOUGH or not _ASKS_HOW.match(main) or mind.wishes.find(text):
        return None
    alone = mind.ranked(main)
    if max(ranking.hazard, ranking.wish, alone.hazard, alone.wish) >= _LIKE_DANGER or alone.best == ranking.best:
        return None
    if dict(alone.procedures).get(ranking.best, 0.0) >= _NO_PART or alone.procedures[0][1] < _OF_ITS_OWN:
        return None
    return main if alone.best not in mind.knowledge.hazards else None


def _by_deed(request: str, in_hand: str, near: Sequence[str], mind: Mind) -> str | None:
    """The one other procedure whose name begins with the verb of "how do I jack it", where that of the walk in hand does not."""
    verb = _OPENS.sub("", bare(request)).partition(" ")[0]
    if len(verb) < 4 or in_hand.split("-", maxsplit=1)[0][:4] == verb[:4]:
        return None
    procedure = mind.knowledge.procedure(in_hand)
    around = dict.fromkeys((*near, *procedure.related, *procedure.then))
    for names in (around, mind.knowledge.ids):
        fitting = [name for name in names if name.split("-")[0][:4] == verb[:4] and name not in mind.knowledge.hazards]
        if fitting:
            return fitting[0] if len(fitting) == 1 else None
    return None


def _beside(ranked: Sequence[tuple[str, float]], in_hand: str) -> tuple[str, float]:
    """The likeliest procedure but the one in hand, and its chance when that one is out of question."""
    others = [(name, chance) for name, chance in ranked if name != in_hand]
    name, chance = others[0]
    left = 1.0 - sum(chance for name, chance in ranked if name == in_hand)
    return name, chance / left if chance > 0.15 and left > 0 else chance


SURE_WHOLE = 0.9
"""Probability from which on a text is taken as a whole, whatever its last sentence is like."""
_LEADS = re.compile(r"^(?:(?:right|ok|okay|so|and|then|now|well|alright) )+")
_OF_IT = re.compile(r"^how (?:do|can|should|would) (?:i|we|you) [a-z]+ (?:it|them|that one|those)\b")
_POINTED = re.compile(
    r"^(?:how (?:do|can|should|would) (?:i|we|you) )?[a-z]+ (?:it|them|(?:that|this|those)(?: thing| one| things)?)(?: (?:out|up|off|on|back|properly|right|safely|now|then|again|please|first))*$"
)


def framed(text: str, ranking: Ranking, decision: Decision, mind: Mind) -> Decision:
    """The decision once words that ask for a walk are taken off; the same where there are none, or a danger or wish is heard."""
    if decision.verdict == "hazard" or (decision.verdict == "refuse" and mind.wishes.find(text)):
        return decision
    what = unframed(text)
    if what is None or decision.verdict == "refuse":
        return _plainly_asked(text, what, ranking, decision, mind)
    rankings = [*(mind.ranked(form) for form in (what, f"how do i {what}")), ranking]
    likely = {name for one in rankings for name, chance in one.procedures[:6] if chance > 0.005}
    by_name = _named(what, mind)
    if by_name is not None and by_name in likely:
        return Decision("answer", (by_name, *decision.topics[:2]), 0.9)
    best, chance = max((one.procedures[0] for one in rankings), key=lambda row: row[1])
    if chance < SURE or (decision.verdict == "answer" and decision.confidence >= ENOUGH):
        return decision
    if best in mind.knowledge.hazards:
        return decision
    return Decision("answer", (best, *(name for name in decision.topics if name != best)), chance)


HARMLESS = 0.15
"""A wish less likely than this once the words that ask for a walk are gone was none."""
SURE_DEED = 0.75
"""Probability from which on a deed alone is that of a procedure, though a wish is somewhat like it."""
SURE_ALONE = 0.7
"""Probability from which on the deed alone is believed without asking the way as well."""
_BEFORE_LEAVING = Lazy(
    r" before (?:we|i) (?:drive|leave|go|set off|roll|move|head (?:out|off)|take off|get going)(?: off| out| away)?$"
)
_SETS_OUT = Lazy(
    r"^(?:(?:ok|okay|so|right|alright|well|good|great|fine|and|then|now|yes|yeah|please|first|hey) )*"
    r"(?:let's|lets|let us|i'll|we'll|i will|we will|i'm going to|i'm gonna|we're going to|we're gonna|gonna|going to|about to|i'd like to|we'd like to|(?:it's )?time to|help me|want to|i want to|we want to|need to|i need to|we need to|have to|i have to|gotta|got to)"
    r"(?: (?:go|just|now|start))*(?: (?:ahead|and))* (?P<what>\w+ .+)$"
)
_THING_FIRST = Lazy(
    r"^(?P<what>\w+(?: [\w'-]+){1,5}) (?:let's|lets) (?:go|do (?:it|this|that)|start|get (?:going|started|to it))$"
)
_CORNER = Lazy(
    r"\b(?:without|anyway|instead|only|skip\w*|trick|nobody|no one|quick\w*|faster|easier|bypass\w*|ignor\w+|leave|leaving|while|before|after|until|if|so|because|with|not|no|never|\w+n't)\b"
)
"""Words by which a deed may be an unsafe one, whatever it is."""


def _plainly_asked(text: str, what: str | None, ranking: Ranking, decision: Decision, mind: Mind) -> Decision:
    """The decision once "let's", "time to" and "walk me through" are gone: "let's fill the fresh tank" cuts no corner.

    Only a deed that is by itself like a procedure, and like no wish or danger, is taken for it; the words before it
    alone are like many a wish.
    """
    if decision.verdict == "answer":
        return decision
    if what is None:
        said = _TAIL.sub("", bare(text))
        found = _SETS_OUT.match(said) or _THING_FIRST.match(said)
        if found is None:
            return decision
        what = str(found["what"])
    what = _BEFORE_LEAVING.sub("", what)
    if _CORNER.search(what):
        return decision
    named = _named(what, mind)
    alone = mind.ranked(what)
    if named is not None and named in (ranking.best, alone.best):  # "the pre trip", however like a wish it is
        return Decision("answer", (named,), 0.9)
    best, chance = alone.procedures[0]
    least = HARMLESS if decision.verdict == "refuse" and chance < SURE_DEED else BOUNDS.wish / 2
    if chance < SURE or alone.wish >= least or alone.hazard >= HARMLESS or best in mind.knowledge.hazards:
        return decision
    if chance < SURE_ALONE and mind.ranked(f"how do i {what}").best != best:
        return decision
    return Decision("answer", (best, *(name for name in decision.topics if name != best)), chance)


_CONNECTS = Lazy(
    r"\b(?:re-?connect(?:ing|ed)?|re-?plug(?:ging|ged)?|(?:plug|hook|connect|hitch)(?:ging|ing|ged|ed)?(?: (?:it|us|her|that|the (?:cord|power|coach|bus|plug)|shore(?: power)?))? (?:back|again)\b(?: (?:in|up|on))?)"
)
_UNHOOKS = Lazy(
    r"^(?:(?:so|and|ok|okay|now|well|then|hey) )*(?:how (?:do|can|should|would) (?:i|we|you) |how to |(?:i|we) (?:want|need|have|'ve got|got) to |(?:i|we) want |time to |let's |gotta |need to )?(?:unhook|unplug|disconnect|(?:(?:get|come|go|be) )?off (?:of )?(?:(?:this|the|that|our|my) )?(?:hook ?up|plug|shore(?: power| line)?|pedestal|cord|post|outlet))\b(?!.*\bthen\b)"
)
"""Asks to be off the hookup, though "this plug in the morning" reads like plugging in."""
_TIRED = Lazy(
    r"^(?:(?:so|and|but|ok|okay|well|hey|oh|uh|um|i think|looks like|seems like) )*(?:(?:the|our|my|these|this) )?(?:house |cabin )?batter(?:y|ies)(?:'s|'re)?(?: (?:is|are|seems?|looks?|feels?|sounds?|getting|gettin|going|been|a bit|a little|kind of|kinda|pretty|real|really|just|awful|about|starting to (?:get|look|feel)))* (?:tired|weary|low|weak|sleepy|knackered|worn (?:out|down)|pooped|sluggish|puny|sagging|sag|fading|fade|flat(?:tening)?|running (?:low|down)|down|dropping|drooping|had it|done for|shot|spent|on (?:its|their) last legs)(?: (?:on (?:me|us)|now|tonight|again|already|here|back here|in the (?:back|coach)))*$"
)
"""A battery of no name that is low: the house's, as one that starts an engine is told of by that."""
_LOW_BATTERY = "house-battery-low"
_WORDS_AROUND = 2
_PARTS_FROM, _CONNECT = "disconnect-shore-power", "connect-shore-power"


def connected(text: str, decision: Decision, mind: Mind) -> Decision:
    """ "Reconnect the power" and "plug it back in" are taken for the hookup, however like the unplugging they are."""
    if (low := _tired(text, decision, mind)) is not None:
        return low
    if decision.topics[:1] == (_CONNECT,) and _PARTS_FROM in mind.knowledge.ids and _UNHOOKS.search(bare(text)):
        return Decision(decision.verdict, (_PARTS_FROM, *(n for n in decision.topics if n != _PARTS_FROM)), decision.confidence)  # fmt: skip
    found = _CONNECTS.search(plain(text))
    if found is None or _CONNECT not in mind.knowledge.ids or mind.wishes.find(text):
        return decision
    whole = len(found[0].split()) + _WORDS_AROUND >= len(text.split())
    parts = decision.topics[:1] == (_PARTS_FROM,) and decision.verdict in ("answer", "clarify")
    if decision.verdict == "hazard" or not (parts or (whole and decision.verdict != "answer")):
        return decision
    return Decision("answer", (_CONNECT, *(name for name in decision.topics if name != _CONNECT)), SURE)


def _tired(text: str, decision: Decision, mind: Mind) -> Decision | None:
    """The house battery that is low, where only a tired battery was told and it would be asked what is meant."""
    if decision.verdict not in ("clarify", "unknown") or _LOW_BATTERY not in mind.knowledge.ids:
        return None
    if mind.knowledge.hazards & set(decision.topics[:1]) or not _TIRED.match(plain(text)):
        return None
    return Decision("answer", (_LOW_BATTERY, *(name for name in decision.topics if name != _LOW_BATTERY)), SURE)


_OPENS = re.compile(
    r"^(?:how (?:do|can|would|should|does|to)(?: (?:i|you|we|one))? |(?:show|tell|teach) (?:me|us) how (?:to |you |i |we )|(?:i |we )?(?:need|want|have|got|gotta|going|gonna|time|ready|about)(?: to)? |let's |lets |i'm |we're |i am |we are |(?:it's )?time to )"
)
_TROUBLE = re.compile(r"\b(?:not|\w+n't|cannot|no|never|without|stop|keeps?|when|if|why|after|while)\b")


def by_verb(text: str, decision: Decision, mind: Mind) -> Decision:
    """What would be asked back is answered when only one of the choices is the deed named: "filling the water up again"."""
    said = bare(text)
    if decision.verdict != "clarify" or _TROUBLE.search(said):
        return decision
    verb, _, rest = _OPENS.sub("", said).partition(" ")
    of = beginnings(rest, _LITTLE)
    fitting = [
        name
        for name in decision.topics
        if len(verb) > 3
        and name not in mind.knowledge.hazards
        and name.split("-")[0][:4] == verb[:4]
        and of & beginnings(" ".join([*name.split("-")[1:], *mind.knowledge.title(name).split()[1:]]), _LITTLE)
    ]
    if len(fitting) != 1:
        return decision
    return Decision("answer", (fitting[0], *(name for name in decision.topics if name != fitting[0])), SURE)


def _named(what: str, mind: Mind) -> str | None:
    """The one procedure whose name holds all the words that are left."""
    said = beginnings(what, _LITTLE)
    if not said:
        return None
    fitting = [
        name
        for name in mind.knowledge.ids
        if said <= {word[:4] for word in name.split("-") if len(word) > 2} and name not in mind.knowledge.hazards
    ]
    return fitting[0] if len(fitting) == 1 else None
