"""Asked whether the coach may leave with what is open: "are we allowed to leave with those two things", "is the mud flap keeping us here".

The record knows which defects hold the coach and by which rule, so the answer is a plain no with those. With only such as
allow it, it is told what the record says of them, never more: whether the coach is fit is for the inspection. A thing that nobody
has reported is none of the record.
"""

from __future__ import annotations

import re

from cabassist.dialogue import danger_first, defects, properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare, plain
from cabassist.record.defect_words import safety_of
from cabassist.record.defects import Defect, open_defects, which

_CUES = ("leave", "leaving", "go", "driv", "roll", "mov", "set off", "setting off", "depart", "pull out", "hit the road", "head out", "get going", "take off", "run", "travel", "stop", "ground", "park", "hold", "keep", "stuck", "stay", "legal", "allow", "back on the road")  # fmt: skip
_LEAD = r"(?:(?:so|and|but|ok|okay|well|right|now|then|alright|hey|wait|hm+|um+|uh|just|tell me|remind me|honestly|please|again|you (?:think|reckon)|(?:do|would) you (?:think|say)) )*"
_US = r"(?:i|we|you|she|he|it|they|one|(?:the|this|our) (?:coach|bus|rig)|a (?:coach|bus))"
_GO = r"(?:leave|go|going|drive|driving|driven|roll|rolling|move|moving|run|set off|depart|pull (?:out|away|off)|hit the road|head (?:out|off|home)|get (?:going|rolling|moving|on the road|back on the road|out of here)|take (?:off|it|her|the (?:coach|bus))(?: out)?|travel|continue|carry on|keep (?:going|driving|rolling)|be (?:driven|moved|on the road)|put (?:it|her|the (?:coach|bus)) on the road)"
_MAY = rf"(?:(?:can|may|could|should|shall|do|does|would|must|will|are|am|is|was) {_US}(?: (?:still|even|really|actually|legally|safely|just|ever|legal|cleared|fit|free|able|permitted|allowed|good|ok|okay|fine|safe|let|get|gonna|supposed|clear|be|have|then))*(?: to)?|(?:is it|would it be|it's|is that) (?:still |even |really )?(?:ok|okay|legal|safe|fine|alright|all right|allowed|permitted|lawful|possible|illegal|against the law|too risky)(?: for (?:us|me|the coach|the bus))? (?:to|if (?:i|we))|(?:(?:ok|okay|legal|safe|allowed|fine|good) )?to|(?:i|we) (?:can't|cannot|may not|mustn't)(?: still| even)?|(?:do |would )?you (?:think|say|reckon|sure)(?: that)? (?:i|we|it|she|the (?:coach|bus)) (?:can|may|could)(?: still| even)?|(?:who says|are you saying|does that mean|you mean|meaning) (?:i|we) (?:can|can't|cannot|may|may not|mustn't)(?: still)?)"
_AFTER_GO = r"(?: (?:it|her|him|the (?:coach|bus)|home|on|back|out|off|away|tonight|now|tomorrow|anyway|still|at all|then|today|to (?:the |a |our )?(?:next )?(?:yard|depot|shop|garage|hotel|motel|rink|arena|dealer|game|border|airport|mechanic|station|truck stop|rest area|town|city|highway)|from here|down the road|on the road|slow(?:ly)?|legally|safely|in the morning|like (?:this|that|it is)))*"
_MEANT = r"(?:it|that|this|them|these|those|both|all (?:of )?(?:it|that|this|them|these|those)|both (?:of )?(?:them|these|those)|(?:(?:the|those|these|that|this|all|both|our|my|any of the|either of the|any of those) )?(?:(?:two|three|four|five|open|listed|reported|logged|few|couple of|same|other) )*(?:things?|defects?|faults?|ones?|issues?|problems?|items?|troubles?|entries|damage|write ?ups?|list|record|report)|(?:what(?:'s| is)|everything(?: that's| that is)?|the stuff(?: that's| that is)?) (?:open|broken|wrong|on the list|on record|logged|written up|reported)|things (?:as they are|like that|like this)|the (?:coach|bus) (?:like|in) (?:this|that)(?: (?:state|shape|condition))?)"
_STATE = r"(?:(?: (?:being|is|are|was|were|still|all))*(?: (?:like (?:this|that)|open|on it|on the (?:list|books?|record)|wrong(?: with (?:it|her|the (?:coach|bus)))?|out|off|gone|broken|dead|torn(?: off)?|missing|unfixed|not fixed|as (?:it|they) (?:is|are)|that way|hanging|cracked|loose|busted|damaged|down))*)"
_END = r"(?: (?:tonight|now|anyway|then|or not|or no|or what|or do (?:i|we) (?:stay|wait)|or are we (?:stuck|parked)|still|legally|at all|please|today|home|do you think|you think))*$"
_WITH = r"(?:with|on|despite|given|carrying|having|in spite of)"
_GOES = Lazy(
    rf"^{_LEAD}{_MAY} {_GO}{_AFTER_GO}(?: (?:{_WITH} (?:{_MEANT}|(?P<named>(?:the |that |this |a |our |my |no )?[a-z][\w' -]*?)){_STATE}))?{_END}"
)
"""Whether it may go, with what it may go, if that is said."""
_HOLDS = Lazy(
    rf"^{_LEAD}(?:(?:do|does|would|will|can|is|are) (?:{_MEANT}|(?P<named>(?:the |that |a )[a-z][\w' -]*?)|(?:any|either|one|which)(?: one)? of (?:it|that|this|them|these|those)) (?:really |actually |even |enough to |going to |gonna |bad enough to )*(?:stop|stopping|ground|grounding|park|parking|hold|holding|keep|keeping|sideline|shut)(?: (?:us|me|the (?:coach|bus)|her))(?: (?:up|down|here|parked|back|from (?:leaving|going|driving|rolling|moving)|off the road|out of service|overnight))*"
    rf"|(?:are|am) (?:we|i) (?:grounded|stuck(?: here)?|out of service|sidelined)(?: (?:with|by|because of|over|on account of|for) {_MEANT})?"
    rf"|(?:is|are|was) {_MEANT} (?:really |even )?(?:a |an )?(?:show ?stoppers?|deal ?breakers?|out of service(?: (?:item|thing|defects?))?|stoppers?|grounding (?:item|defect)|reasons? (?:to stay(?: (?:put|parked|here))?|not to (?:go|leave|drive)))"
    rf"|(?:what|which(?: (?:one|ones|of them|of those|of these|defects?))?)(?:'s| is| are)? (?:it that |actually |that )?(?:keeps?|keeping|holds?|holding|stops?|stopping|grounds?|grounding|parks?) (?:us|me|the (?:coach|bus)|her)(?: (?:up|here|parked|back|from (?:leaving|going|driving|rolling|moving)|off the road))*"
    rf"|(?:do|must|should) (?:we|i) (?:have to |need to |really )*(?:stay (?:here|put|parked)|wait here|keep (?:it|her|the (?:coach|bus)) parked)(?: (?:with|because of|over|on account of|for) {_MEANT})?){_END}"
)
"""The same, asked the other way round."""
_WITH_FAULT = Lazy(
    rf"^{_LEAD}{_MAY} (?:legally |safely )*{_GO}{_AFTER_GO} (?:{_WITH}|if|when|while|without) (?P<fault>[a-z0-9][\w' -]*?){_END}"
    rf"|^{_LEAD}(?:do|does|would|will|can|is|are) (?P<holder>(?:an? |one |the |my |our |that )?[a-z0-9][\w' -]*?) (?:really |enough to |going to )*(?:stop|ground|park|hold|keep|sideline)(?:s|ing)? (?:us|me|the (?:coach|bus)|her)\b[\w' ]*$"
)
"""Whether it may be driven with a fault that is named, reported or not."""
_POINTS = Lazy(rf"\b(?:with|on|like|given|despite|do|does|is|are|of|because of|over|for) {_MEANT}\b")
_OF_ROAD = Lazy(
    r"\b(?:leave|driv\w*|roll\w*|depart|set off|pull (?:out|off|away)|hit the road|head (?:out|off|home)|get (?:going|rolling)|take off|us|stuck|grounded|coach|bus|stay)\b"
)
_PARTS = Lazy(
    r"(?:[,;.?!] ?|(?<=\w) - )+(?:(?:and|so|but|or) )*|(?<=\w) (?:so|and) (?=(?:can|may|could|are|am|is) (?:i|we|it|she) )"
)
_ONLY_ASKS = Lazy(
    r"^(?:(?:so|and|but|ok|okay|well|right|now|hey|wait|again|remind me|tell me|you said|you say|didn't you say|i (?:still )?have|we (?:still )?have|there's|there is|there was|what was|what's|what is|what about|how about|about|that|this|it|the thing|something|with|is|was|were|thing|again|word|still|on record|on the list|logged) ?)*(?P<what>.*?)(?: (?:again|then|still|thing|business|you mentioned|is (?:still )?(?:open|on the list|torn off|out|broken|off)|now))*$"
)


def with_fault(state: State, text: str, mind: Mind) -> Outcome | None:
    """What the rules say of driving with a fault that nobody has reported: "is it legal to drive with a cracked windshield".

    Nothing is logged by a question; None where no part is named that can keep the coach parked, and for a refused wish.
    """
    if not names_any(text.lower(), _CUES) or danger_first.danger(state, mind) is not None or mind.wishes.find(text):
        return None
    found = _WITH_FAULT.match(bare(text))
    fault = (found["fault"] or found["holder"]) if found is not None else ""
    if not fault or which(_what(fault), open_defects(state.record)):
        return None
    words, said = mind.defect_words, plain(fault)
    if not (words.faults.search(said) or words.fails.search(said) or words.damage.search(said)):
        return None
    safety = safety_of(said, words)
    if safety.move == "yes" or not safety.rule:
        return None
    rest = f"{safety.why[:1].upper()}{safety.why[1:]}. Rule: {safety.rule}."
    holds = found is not None and found["holder"]
    never, unsure = ("Yes, it does.", "It may.") if holds else ("No.", "Not before you know.")
    first = f"{never} {rest}" if safety.move == "no" else f"{unsure} {safety.asks} {rest}"
    return properties.told(state, f"{first} Nothing is logged: if it is there, say report a defect.", mind)


def asked(state: State, text: str, mind: Mind, wished: bool) -> Outcome | None:
    """The no with what holds the coach, or what the record says of defects that do not; None for anything else."""
    still = open_defects(state.record)
    if (
        not (still or state.missing)
        or not names_any(text.lower(), _CUES)
        or danger_first.danger(state, mind) is not None
    ):
        return None
    parts = [part for part in (bare(one) for one in _PARTS.split(text.strip())) if part]
    if not parts:
        return None
    goes, holds = _GOES.match(parts[-1]), _HOLDS.match(parts[-1])
    found = goes or holds
    pointed = _POINTS.search(parts[-1]) is not None
    if found is None or len(parts) > _MOST_PARTS:
        return None
    if state.walk is not None and not pointed and len(parts) == 1 and not _OF_ROAD.search(parts[-1]):
        return None  # "can we go on" is said to the walk
    named: list[Defect] = []
    for words in (*parts[:-1], found["named"] or ""):
        if not words:
            continue
        meant = which(_what(words), still)
        if not meant:
            return None  # it is with something that nobody has reported
        named += meant
    held = [one for one in still if one.stops or one.unclear]
    if held or state.missing:
        return _no(state, held, named, "No." if goes else "The coach stays parked.")
    if wished or not (named or (pointed and _just_spoken_of(state))):
        return None  # whether it may go without a word of defects is for the inspection
    lines = [f"{one.words()}. {one.verdict()}" for one in (named or still)[: defects.SHOWN]]
    lines = ["Nothing on record keeps the coach parked.", *lines, "The inspection decides the rest."]
    return defects.answer(state, " ".join(lines), tuple(lines))


_MOST_PARTS = 3


def _what(words: str) -> str:
    found = _ONLY_ASKS.match(words)
    what = found["what"] if found is not None else words
    return re.sub(r"^(?:the|that|this|a|an|our|my|no) ", "", what)


def _just_spoken_of(state: State) -> bool:
    """Whether the turn before was about defects, so that "those" are those."""
    last = state.last
    return last is not None and (last.kind == "defect" or last.topic == defects.TOPIC)


def _no(state: State, held: list[Defect], named: list[Defect], first: str) -> Outcome:
    """The no, in the words that answer the question: who is missing, what holds the coach, those named first; then what was named and does not."""
    keys = [one.key for one in named]
    order = [*(one for one in held if one.key in keys), *(one for one in held if one.key not in keys)]
    lines = ["WARNING: Somebody is missing. Count heads, and tell me the count."] if state.missing else []
    lines += [f"WARNING: {one.words()}. {one.verdict()}" for one in order[: defects.SHOWN]]
    more = len(order) - defects.SHOWN
    lines += [f"And {more} more that hold it."] if more > 0 else []
    lines += [f"{one.words()}. {one.verdict()}" for one in dict.fromkeys(named) if one not in held]
    return defects.answer(state, " ".join([first, *lines]), (first, *lines), kind="refuse")
