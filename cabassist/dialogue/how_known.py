"""Asked in any words how a number or a rule is known: its working ("how d'you get that"), what is guessed in it ("which of those
are guesses"), where it is from ("where'd you get eighty percent from", "who says it's got to be like that").

A driver who doubts an answer must not be answered by a procedure that has "figures" or "wire" in its wordings, and a figure that he only
quotes must change no sum. What is asked of a number is told of the number that stands, of a rule in a walk by the walk's sources.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from cabassist.dialogue import of_number, reckoning, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import beginnings, plain
from cabassist.language.numbers import NUMBER_WORDS, find_numbers

if TYPE_CHECKING:
    from cabassist.estimate.types import Estimate
    from cabassist.sums.working import Worked
    from cabassist.sums.working_sheet import Input

MAX_WORDS = 13
_CUES = ("how", "where", "who", "what", "which", "guess", "assum", "made up", "make up", "make any", "rule", "says", "work", "math", "through", "according")  # fmt: skip
_LEAD = r"^(?:(?:ok|okay|so|and|but|well|hm+|huh|wait|hang on|hold on|no|right|alright|then|now|hey|sorry|wow|really|uh|um|oh|yeah|yes|just|ha|jeez|please|fine|and just|can you|could you|would you) )*"
_END = r"(?: (?:then|now|though|again|anyway|exactly|please|even|by the way|for me|there|right now|in there|in it|in that|of yours|here|on that|for that|to begin with|in the first place))*$"
_FIGURE = r"(?:numbers?|figures?|values?|answers?|sums?|results?|estimates?|rates?|amounts?|doses?|limits?|ratings?|weights?|percent(?:age)?s?|losses|loss|drops?|hours|times?|miles|gallons|pounds|amps|ohms|volts|watts|maths?)"
_THAT = rf"(?:that|it|this|those|these|them|all (?:of )?(?:that|this)|(?:that|this|the|your|those|these|all (?:that|those|these|the)) (?:[a-z]+ ){{0,2}}?{_FIGURE})"
_OATH = r"(?: (?:on earth|the heck|the hell|in the world|exactly|even))?"
_WORD = "|".join(sorted(NUMBER_WORDS))
_AMOUNT = rf"(?:(?:the|that|your|a) )?(?:\d[\d.,]*|(?:{_WORD})(?:(?: and)?(?: (?:{_WORD})))*)(?: (?:%|per ?cent|{_FIGURE}|degrees|psi|feet|minutes?|days?|btus?|people|flush(?:es)?))?(?: (?:an?|per|each) [a-z]+)?"
_GOT = r"(?:get|getting|got|figure|figured|figuring|figure out|work|working|worked|work out|reckon|reckoned|arrive|arrived|come up with|came up with|come by|come to|came to|come|came|end up with|wind up with|calculate|calculated|make|made|land on|do|did|reach|reached)"
_HOW = Lazy(
    _LEAD
    + rf"(?:how{_OATH}(?:'d| did| do| d| would| are| have|'re|'ve)?{_OATH} (?:you|ya|d'you|d'ya|you all|y'all|he|she|it) {_GOT}(?: (?:to|at|up with|on|there))?(?: (?P<of>{_THAT}|{_AMOUNT}))?(?: (?:out|up|from))?"
    rf"|how d'?(?:you|ya) {_GOT}(?: (?:to|at|up with|on|there))?(?: (?P<of2>{_THAT}|{_AMOUNT}))?(?: (?:out|up|from))?|how(?:'s| does| do| did| is) {_THAT} (?:work|work out|come out|add up|figure|come about|worked out|figured|made up|put together|reckoned)"
    rf"|(?:show|tell|give|walk|run|take|talk)(?: me| us)?(?: through)? (?:how you (?:got|get|came|figured?|reckon|worked?|did|do)(?: (?:to|at|there|here|up with))?(?: {_THAT})?(?: out)?|(?:the|your|that) (?:working|workings|work|math|maths|sum|sums|arithmetic|reckoning|figuring))(?: (?:behind|for|of|on) {_THAT})?"
    rf"|what(?:'s| is|s) (?:the (?:math|maths|working|reckoning|arithmetic)|behind {_THAT}|in {_THAT}|{_THAT} made (?:up )?of|(?:your )?(?:reckoning|working|thinking) (?:on|behind|for) {_THAT})|what did you (?:multiply|divide|add|do|take|use)(?: (?:with|for|to get) {_THAT}|(?: (?:there|here)))|let(?:'s| me) see (?:the|your) (?:working|math|maths|sums?|work)|(?:walk|run|talk|take) (?:me|us) through (?:that|this|the) ?(?:number|figure|sum|answer|one)?)"
    + _END
)
"""Asks how a number came about."""
_GUESSED = r"(?:guess(?:es|ed|ing|work)?|assum(?:ed?|es|ing|ptions?)|made[ -]up|estimated|invented|suppos(?:ed|ing|itions?)|just (?:picked|taken)|rules? of thumb|ball ?park(?:s|ed)?|thumb ?sucks?)"
_ASSUMED = Lazy(
    _LEAD
    + rf"(?:(?:which|what|how much|how many|what part|which part|what bit|which bits?)(?: (?:ones?|parts?|bits?|pieces?|things?|numbers?|figures?|else))?(?:(?: of| in) {_THAT})?(?:(?:'s|s| is| are| was| were)(?: (?:just|only|really|pure|a|an|your|you|the|still))*| did you| do you| have you| you|'re you|'ve you)?(?: (?:are|had|just|really|have to|having to|even))* {_GUESSED}(?: (?:at|about|of|up|for|on|and what(?:'s| is) (?:real|not|sure|true|measured|known)))?(?: {_THAT})?"
    rf"|(?:is|are|was|were|got|have you got|is there|are there|any|how about)(?: (?:any|anything|something|some|all|much))*(?: of)?(?: (?:{_THAT}|there))?(?: (?:is|are|a|an|just|only|pure|all|of|your))* {_GUESSED}(?: (?:in|about|of|behind|at|for) {_THAT})?"
    rf"|(?:did|do) you(?: just)? (?:make (?:any|some|all)(?: of)? {_THAT} up|make up (?:any|some|all)(?: of)? {_THAT}|make {_THAT} up|(?:guess|assume)(?: at)?(?: (?:anything|something|any|some|all|most))?(?: (?:of|in) {_THAT}| {_THAT})?)|d'?you just make {_THAT} up"
    rf"|what(?:'re| are|'s| did| do| have| were)(?: you| we)? (?:just )?(?:assum(?:e|ed|ing)|guess(?:ed|ing)?|tak(?:e|en|ing) for granted)(?: (?:at|about))?(?: {_THAT})?|what(?:'s| are|'re| is) (?:the|your) (?:guesses|assumptions?|guesswork)(?: (?:in|behind|of|on|for) {_THAT})?|(?:give me |tell me |list |name )?(?:the|your) (?:guesses|assumptions))"
    + _END
)
"""Asks what of a number is guessed."""
_RULE = r"(?:rule|law|regulation|reg|regs|code|book|manual|standard|table|chart|list|page|handbook|section|paper|sheet|authority)"
_SOURCE = Lazy(
    _LEAD
    + rf"(?:where(?:'s|'d|'re|s| is| are| do| did| does| was| were| have)?{_OATH}(?: (?:you|ya|we|they))?(?: (?:get|got|find|found|pull|pulled|take|took|read|have|dig up|dug up))? (?P<of>{_THAT}|{_AMOUNT}|(?:the|your|that|those|these|all that|all those) [a-z]+(?: [a-z]+)?)(?: (?:get|come|came|coming|taken|pulled))?(?: (?:from|out of|off of|out from))+(?: (?:a |the |some )?{_RULE})?"
    rf"|where(?:'d| did) (?:you|ya) (?:get|find|pull|take|read) (?P<of2>{_THAT}|{_AMOUNT})|(?P<of3>{_AMOUNT}) (?:says|according to) who(?:m)?|(?:so |and )?where does (?P<of4>{_AMOUNT}|{_THAT}) come from"
    rf"|what(?:'s|s| is| are) (?P<of5>{_THAT}|{_AMOUNT}) (?:from|out of|off of|based on|going by|coming from)"
    rf"|(?:who|what|which {_RULE}) (?:says|said|told you|decided|decides|made up|came up with|wants|thought up|set|wrote|picked|tells (?:me|us))(?: (?:that|so|this|it|it's|its|we|i|i'm|you|the|those|these|they|there|a|that's)\b(?: [a-z']+){{0,8}}| (?P<of6>{_AMOUNT})(?: [a-z]+){{0,2}})?"
    rf"|whose (?:numbers?|figures?|rules?|idea|word|say so|maths?) (?:(?:is|are|was|were) )?{_THAT}(?: (?:is|are))?|on whose (?:say so|word|authority|orders?)|by (?:whose|what|which) (?:rule|law|authority|order|standard|word)"
    rf"|(?:says|according to) (?:who|whom|which {_RULE}|what {_RULE}|what)(?: (?:that|so))?|what(?:'s| is|s) (?:the|your) source(?: (?:of|on|for|behind) {_THAT})?|(?:what|which) {_RULE}(?:'s)?(?: (?:is|are|was|were|says|do you use|are you using|did you use|are you on|do you go by|are you going by))*(?: {_THAT}| so)?(?: (?:out of|from|in|under|come from|out|say|says))*|is there (?:really |actually )?an? {_RULE}(?: (?:for|about|on|of|that says|saying|behind) (?:{_THAT}|so))?|(?:is|are|was) {_THAT} (?:really |actually )?(?:a|an|the|in the|in a|in some|from a|from the|out of a|out of the|by the|by|off a|off the) (?:real |actual )?{_RULE}s?|how official is {_THAT})"
    + _END
)
"""Asks where a number or a rule is from."""
_THING = re.compile(r"^(?:the|your|that|those|these|all that|all those) (?P<words>[a-z]+(?: [a-z]+)?)$")
_ARITHMETIC = "arithmetic"
_POINTED = ("it", "this", "that", "these", "those", "them")


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The working, the assumptions or the source that is asked for; None for anything else, or where nothing stands to be asked of."""
    said = plain(text)
    if state.pending is not None or len(said.split()) > MAX_WORDS or not names_any(said, _CUES):
        return None
    if of_number.asks_trust(said):
        return None
    for kind, pattern in (("working", _HOW), ("assumed", _ASSUMED), ("source", _SOURCE)):
        if (found := pattern.match(said)) is not None:
            quoted = next((part for name, part in found.groupdict().items() if part and name.startswith("of")), "")
            return _answered(state, kind, quoted, said, mind)
    return None


def _answered(state: State, kind: str, quoted: str, said: str, mind: Mind) -> Outcome | None:
    """What is known of the number that is meant, else the sources of the walk in hand."""
    if state.last is None or state.last.kind in ("refuse", "hazard"):
        return None  # a no gives its own reason and source
    worked = reckoning.standing(state)
    if worked is None and quoted in _POINTED and "coming" in said:
        return None  # of water, of a smell
    thing = _THING.match(quoted)
    if thing is not None and not _FIGURES.search(thing["words"]):
        # "where's the water from" is no question about an answer; "where'd the ohms come from" is where they stand in the working
        if worked is None or worked.estimate is None or not _speaks_of(worked.estimate, thing["words"]):
            return None
    elif numbers := _numbers(quoted):
        worked = _holding(state, worked, numbers)
    if worked is not None and worked.estimate is not None:
        if kind == "assumed":
            return _assumed(state, worked, worked.estimate)
        if kind == "source" and worked.estimate.source and not worked.estimate.source.startswith(_ARITHMETIC):
            note = "Rules change: check that it is current." if "CFR" in worked.estimate.source else "Makers' figures come first."  # fmt: skip
            return walking.control(state, f"From: {worked.estimate.source}. {note}", topic=worked.topic)
        return of_number.explained(state, worked)
    if kind == "source" and state.walk is not None:
        return walking.source_of(state.walk.topic, state, mind)
    return None


_FIGURES = re.compile(rf"\b{_FIGURE}\b|\brules?\b")


def _numbers(quoted: str) -> list[float]:
    return [one.value for one in find_numbers(quoted)] if quoted else []


def _told(estimate: Estimate) -> str:
    return " ".join((estimate.verdict, *estimate.working, *estimate.assumptions, estimate.source))


def _speaks_of(estimate: Estimate, words: str) -> bool:
    """Whether the working names what is asked for: ohms, a wire, a furnace."""
    named = beginnings(words, frozenset())
    return bool(named) and named <= beginnings(f"{estimate.name} {_told(estimate)}", frozenset())


def _holding(state: State, standing: Worked | None, numbers: list[float]) -> Worked | None:
    """The newest sum in which the number that is quoted stands; None when it stands in none, as it is then a walk's."""
    told = [one.worked for one in state.given if one.worked.estimate is not None]
    for worked in reversed([*told, *([standing] if standing is not None else [])]):
        estimate = worked.estimate
        assert estimate is not None
        figures = {float(one.replace(",", "")) for one in re.findall(r"\d[\d,]*(?:\.\d+)?", _told(estimate))}
        figures |= {one for one in (estimate.value, estimate.low, estimate.high) if one is not None}
        figures |= {one.value for one in estimate.also}
        if all(any(abs(one - figure) <= 0.02 * abs(one) for figure in figures) for one in numbers):
            return worked
    return None


def _assumed(state: State, worked: Worked, estimate: Estimate) -> Outcome:
    """What was assumed, and what was not: each input by where it is from."""
    lines = [f"Assumed: {line}." for line in estimate.assumptions]
    lines += [f"Assumed: {_input(one)}." for one in worked.inputs if one.origin == "assumed"]
    if not lines:
        lines.append("I assumed nothing.")
    for origin, words in (("said", "From you"), ("reading", "From your readings"), ("profile", "From the coach's profile")):  # fmt: skip
        of = [_input(one) for one in worked.inputs if one.origin == origin]
        lines += [f"{words}: {', '.join(of)}."] if of else []
    if estimate.low is not None and estimate.high is not None and estimate.high - estimate.low > 1e-9:
        lines.append("The range allows for the guesses.")
    return walking.control(state, " ".join(lines[:2]), lines=tuple(lines), topic=worked.topic)


def _input(one: Input) -> str:
    """An input of a sum as it is told: "fresh use 2 gal/day"."""
    from cabassist.estimate.quantities import shown

    name = one.name.replace("_", " ")
    amount = f"{shown(one.value, 3) if isinstance(one.value, float | int) else one.value}"
    return f"{name} {amount}" if one.unit in ("", one.name) else f"{name} {amount} {one.unit}"
