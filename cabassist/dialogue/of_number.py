"""What is asked about a number that was told, without a new amount: "how'd you get that", "how sure is that", "do that sum
again", "what's that in percent", "what was that cord loss you gave me first".

A number stays at hand until another sum is answered or a procedure opens: a reading told, a timer set or a line that was not understood do
not take it away.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import correcting, reckoning, walking
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import beginnings, plain

if TYPE_CHECKING:
    from cabassist.estimate.types import Estimate
    from cabassist.sums.working import Worked

MAX_WORDS = 14
_LEAD = r"^(?:(?:ok|okay|so|and|but|well|hm+|huh|wait|hang on|hold on|no|right|alright|then|now|hey|sorry|wow|really|uh|um|oh|yeah|just|ha|jeez|please|can you|could you|would you|will you) )*"
_TAIL = r"(?: (?:then|now|though|again|anyway|exactly|please|even|by the way|again please|for me|roughly|there|right now))*$"
_THAT = r"(?:that|it|this|those|these|(?:that|this|the|your|those) (?:\w+ )?(?:number|numbers|figure|figures|answer|sum|result|estimate|guess|one|math|maths|calculation|hours|time))"
_HOW = Lazy(
    _LEAD
    + rf"(?:how(?:'d| did|d| do| are| did you say| on earth did| the heck did| d)? ?(?:you|ya|d'you|d'ya) (?:get|getting|got|figure|figured|figure out|work|work out|worked out|reckon|arrive at|come up with|come by|come to|end up with|calculate|make)(?: (?:to|at))? {_THAT}(?: out| up)?"
    r"|how (?:do|did|d'|d)? ?(?:you|ya) (?:figure|reckon|work that|make that)(?: out)?"
    rf"|how(?:'s| is| was|s) {_THAT} (?:worked out|figured|figured out|calculated|come about|made up|add up)|how(?: does| did| do|'d|d) {_THAT} (?:work out|come out|come about|add up|come to that)"
    rf"|(?:show|tell|give|walk|run|take|talk)(?: me| us)?(?: through)? (?:the|your|that) (?:working|workings|math|maths|sum|arithmetic|numbers|calculation)(?: (?:behind|for|of|on) {_THAT})?"
    rf"|show (?:me )?your work(?:ings?)?|show me how you (?:got|worked out|figured|get) {_THAT}|what(?:'s| is|s) the (?:math|maths|sum|working|arithmetic|calculation)(?: (?:behind|for|on) {_THAT})?"
    rf"|what(?:'s| is|s| was| did you base) {_THAT} (?:based on|on|made of|made up of|worked out from)|where(?:'s|'d| is| did| does|s)(?: you)?(?: (?:get|pull|find|have))? {_THAT} (?:come from|coming from|from)|explain {_THAT}"
    r"|what(?:'re| are|re) you (?:even |really |actually )?(?:basing|going (?:on|by)|working (?:from|off))(?: (?:that|it|this|the [\w ]{2,24}?))?(?: on| from| off)?|why (?:do|did|would) you (?:even |just |always )?(?:assume|use|take|pick|count on|reckon with) (?:that|the|this|such an?) (?:\w+ )?(?:number|figure|value|rate|amount))"
    + _TAIL
)
"""Asks how the number came about."""
_SURE = Lazy(
    _LEAD
    + rf"(?:how (?:sure|certain|confident)|how (?:sure|certain|confident|positive) (?:is|are you|of|about|on|in)(?: (?:you|of|about|on|in|we))*(?: {_THAT})?|(?:are |)you (?:(?:absolutely|really|quite|pretty|dead|100 percent) )?(?:sure|certain|confident|positive)(?: (?:about|of|on|in))? {_THAT}"
    rf"|(?:how|is) (?:{_THAT} )?(?:accurate|exact|reliable|precise|solid|good|close|trustworthy|firm|rough)(?: (?:an? )?(?:number|figure|guess|estimate|answer))?(?: (?:is|are|would)(?: {_THAT})(?: be)?)?"
    rf"|(?:can|should|could|do) (?:i|we) (?:really |actually )?(?:trust|rely on|bank on|count on|go by|believe|bet on) {_THAT}|how (?:much|far) (?:can|should|could|do) (?:i|we) (?:trust|rely on|bank on|count on|go by) {_THAT}"
    rf"|how (?:far|much) (?:off|out) (?:could|can|might|would|is) {_THAT}(?: be)?|(?:could|can|might) {_THAT} be (?:off|out|wrong)(?: by (?:much|a lot|how much))?|give or take(?: (?:what|how much))?|plus or minus(?: (?:what|how much))?|what(?:'s| is|s) the (?:margin|range|margin of error|error)(?: on {_THAT})?"
    rf"|is {_THAT} (?:just |only |really |about )?(?:a guess|an estimate|right|a ballpark|exact|rough|solid|for sure|ballpark|certain|the worst case|on the safe side)|best case worst case|what(?:'s| is|s) the (?:best|worst) case)"
    + _TAIL
)
"""Asks how far the number can be trusted."""
_AGAIN = Lazy(
    _LEAD
    + r"(?:(?:do|run|try|work|go through|go over|give me|make) (?:(?:me )?(?:that|the|those|these|my|your|this|same|last|whole) )*(?:sums?|math|maths|numbers?|figures?|calculations?|calc|arithmetic|working)(?: out)?(?: (?:again|anew|over|over again|once more|one more time|fresh|for me|with (?:that|the new one|the new number|the right number|the right one)|now))+"
    r"|(?:work|figure|reckon|calculate|compute|count) (?:it|that|this|them)(?: out| up)?(?: all)? (?:again|anew|over|once more|one more time|over again|fresh)|(?:redo|rerun|re-?work|re-?calculate|re-?compute|re-?figure|re-?run|refigure) (?:it|that|this|the \w+|that \w+|those \w+)|re-?calculate|(?:the )?same (?:sum|math|maths|calculation) again|(?:do|run) the same (?:sum|math|maths|calculation|numbers))"
    r"(?: (?:again|then|now|please|with (?:that|the new (?:one|number|reading|level)|the right (?:one|number))|for me))*$"
)
"""Asks for the last sum once more, with what has been told since."""
_SHARE = Lazy(
    _LEAD
    + rf"(?:(?:what(?:'s| is|s)|how (?:much|many) is|give me|say|put|make|tell me)? ?{_THAT}? ?(?:in|as|into)(?: a| an)? (?:percent|per cent|percents|percentage|percentages|share)|what (?:percent|per cent|percentage|share)(?: of (?:it|the tank|the whole|full|a tank|the \w+ tank))? (?:is|are|would|does) {_THAT}(?: (?:be|make|come to))?|how many (?:percent|per cent) (?:is|are) {_THAT}|(?:in )?per ?cent)"
    + _TAIL
)
_EARLIER = Lazy(
    _LEAD
    + r"(?:(?:remind me|tell me|give me|say|repeat) )*(?:what|whats|which|how (?:many|much|long|far)) ?(?:'s|'d|was|is|were|did|had|that|the)?\b.*\b(?:you (?:gave|told|said|got|had|worked out|came up with|figured)|(?:did|had) you (?:give|tell|say|get|got|said|have|work out|come up with|figure)|(?:first|earlier|previous|original|other|last|old) (?:number|figure|answer|result|sum|one)|(?:number|figure|answer|result|sum) (?:again|before|first|earlier|for|with|of|on)|was (?:it|that)(?: again)? (?:before|with|for|at|first))\b"
)
_WHICH = Lazy(r"\b(?P<first>first|originally|at the start|to start with|to begin with|at first|initially|original|start)\b|\b(?P<before>before|previous|earlier|other|old|last time)\b")  # fmt: skip
_SMALL = frozenset("what whats which how many much long far was is were did had that the you gave give told tell me said say got get have number figure answer result sum one again before first earlier previous original other last old for with originally start begin initially time ago back then worked work out came come up figured remind repeat your and when did just now please that's what's this those these one's minutes".split())  # fmt: skip


def asked(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The answer to what is asked about a number told before; None when the text asks nothing of the kind, or there is none."""
    said = plain(text)
    if state.pending is not None or len(said.split()) > MAX_WORDS:
        return None
    if (before := _earlier(state, said, mind)) is not None:
        return before
    worked = reckoning.standing(state)
    if worked is None or worked.estimate is None:
        return None
    if _AGAIN.match(said):
        return _once_more(state, ranking, mind, now)
    if _HOW.match(said):
        return explained(state, worked)
    if _SURE.match(said):
        return _trusted(state, worked)
    if not _SHARE.match(said) or correcting.completes(state, said, mind):
        return None
    from cabassist.dialogue import held

    share = _share(state, worked, mind)
    of_sum = state.last is not None and state.last.kind == "calculation" and share.reply.estimate is not None
    return share if of_sum else held.asked(state, text, ranking, mind, now) or share


def asks_trust(said: str) -> bool:
    """Whether a plain text asks how far a number can be trusted: "is that a guess"."""
    return _SURE.match(said) is not None


def explained(state: State, worked: Worked) -> Outcome | None:
    """How the number came about: its working, what was assumed and where it is from."""
    estimate = worked.estimate
    if estimate is None:
        return None
    assumed = [f"Assumed: {line}" for line in estimate.assumptions]
    lines = ("Working:", *(f"  {line}" for line in estimate.working), *assumed, f"Source: {estimate.source}")
    spoken = " ".join([*estimate.working[:2], *assumed[:1]]) or estimate.verdict
    return walking.control(state, spoken, lines=lines, topic=worked.topic)


def _trusted(state: State, worked: Worked) -> Outcome:
    """How far the number can be trusted: its range, what it rests on, and where it is from."""
    from cabassist.sums.working_words import number_said, range_said

    estimate = worked.estimate
    assert estimate is not None
    ends = range_said(estimate).removeprefix(", ")
    told = number_said(estimate.value, estimate.unit) if estimate.value is not None else ""
    lines = [f"{told[:1].upper()}{told[1:]}: probably {ends}." if ends else f"{told[:1].upper()}{told[1:]} is plain arithmetic: as good as the numbers it is made of."] if told else []  # fmt: skip
    if worked.doubtful:
        lines.append("I may have a number in the wrong place. Say why for the working.")
    if any(one.origin == "reading" for one in worked.inputs):
        lines.append("It rests on a gauge, and gauges are rough.")
    lines += [f"Assumed: {line}." for line in estimate.assumptions[:1]]
    more = [f"Assumed: {line}." for line in estimate.assumptions[1:]]
    source = f"From: {estimate.source}." if estimate.source else ""
    return walking.control(
        state,
        " ".join(lines) or source,
        lines=(*lines, *more, *([source] if source else ())),
        topic=worked.topic,
    )


def _once_more(state: State, ranking: Ranking, mind: Mind, now: datetime) -> Outcome:
    """The last sum, worked out anew with the readings that stand now."""
    from cabassist.dialogue.following import not_placed
    from cabassist.sums.working import work_out

    question, before = state.given[-1] if state.given else ("", None)
    if not question or before is None:
        return not_placed(state, mind)
    hints = mind.ranked(question).calculations
    again = work_out(question, hints, coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    if again is None or again.estimate is None or again.calculation != before.calculation:
        return not_placed(state, mind)
    return reckoning.answer(state, again, question, ranking, mind)


_PERCENT = Lazy(r"(?P<value>\d+(?:\.\d+)?) percent\b")
_TANKS = (("waste", "waste"), ("fresh", "fresh"), ("water", "fresh"))


def _share(state: State, worked: Worked, mind: Mind) -> Outcome:
    """The number as a share of what it is a part of: volts lost of the volts put in, gallons of their tank."""
    from cabassist.estimate.quantities import shown
    from cabassist.language.calculation_units import converted
    from cabassist.sums.working_words import number_said

    estimate = worked.estimate
    assert estimate is not None
    told = "" if estimate.value is None else number_said(estimate.value, estimate.unit)
    beside = next((one.value for one in estimate.also if one.unit == "percent"), None)
    value, line = None, ""
    if estimate.unit == "percent" and estimate.value is not None:
        value, line = estimate.value, f"{shown(estimate.value, 3)} percent."
    elif estimate.unit == "fraction" and estimate.value is not None:
        value, line = 100 * estimate.value, f"{shown(100 * estimate.value, 3)} percent of full."
    elif beside is not None:
        value, line = beside, f"{told[:1].upper()}{told[1:]} is {shown(beside, 3)} percent."
    elif estimate.unit in ("gal", "L") and estimate.value is not None and (tank := _tank(worked)):
        size = mind.coach.tank(tank).capacity_gal
        value = converted(estimate.value, estimate.unit, "gal") / size * 100
        line = f"{told[:1].upper()}{told[1:]} is {shown(value, 3)} percent of the {tank} tank's {shown(size)} gallons."
    if value is None:
        line = "I do not know what to take the percent of. Ask it once more with both numbers."
        return Outcome(state, Reply("clarify", line, (line,), topic=worked.topic))
    share: Estimate = replace(estimate, value=value, unit="percent", low=value, high=value, verdict="", also=())
    return Outcome(state, Reply("calculation", line, (line,), topic=worked.topic, estimate=share))


def _tank(worked: Worked) -> str:
    """The tank that gallons worked out belong to, or ""."""
    about = f"{worked.calculation} {worked.topic or ''}"
    return next((tank for word, tank in _TANKS if word in about and "diesel" not in about), "")


def _earlier(state: State, said: str, mind: Mind) -> Outcome | None:
    """A number told before, by what it was of and by whether it came first: told again as it was told; else None."""
    from cabassist.dialogue.telling import asked_level, recalled

    given = state.given
    if not given or not _EARLIER.match(said) or recalled(said) or asked_level(said, state.last):
        return None
    words = beginnings(said, _SMALL)
    which = _WHICH.search(said)
    if not words and which is None and "number" not in said and "answer" not in said:
        return None
    fits = [len(words & beginnings(f"{one.question} {one.worked.calculation.replace('-', ' ')}", _SMALL)) for one in given]  # fmt: skip
    if words and not max(fits):
        return None
    meant = [one for one, fit in zip(given, fits, strict=True) if fit == max(fits)]
    if which is not None and which["before"]:
        meant = [one for one in meant if one.worked is not state.worked] or meant
    chosen = meant[0] if which is not None and which["first"] else meant[-1]
    from cabassist.sums.working import say, show

    line = f"{say(chosen.worked)} That was for: {chosen.question.rstrip(' .?!')}."
    reply = Reply("calculation", line, (*show(chosen.worked), line), topic=chosen.worked.topic, estimate=chosen.worked.estimate)  # fmt: skip
    return Outcome(state, reply)
