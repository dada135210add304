"""Asked about the world outside the coach, which nobody aboard a computer without a line can know; and what time it is."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_LEAD = r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|please|tell me|do you know|any idea|you know|can you tell me|could you tell me|check) )*(?:if |whether )?"
_WHEN = r"(?: (?:tonight|today|tomorrow|now|later|soon|again|overnight|much|a lot|hard|all (?:day|night)|there|here|out(?: there)?|outside|up there|on the (?:road|way|pass)|this (?:morning|afternoon|evening|week|weekend)|in the morning|by (?:morning|then)|for (?:tomorrow|tonight|the (?:drive|night|road|morning|weekend|week))|at the (?:rink|hotel|pass|border)|before (?:we (?:leave|go|get there)|morning)|or not|do you think|like|going to|gonna|be|doing|morning|night))*$"
_WEATHER = Lazy(
    _LEAD
    + r"(?:(?:is|will|isn't|won't|does|might|could|is there|are we|are there) ?(?:it|we|there|the (?:weather|storm|snow|wind|rain))?(?: (?:going to|gonna|supposed to|be|get|getting|expected|forecast|expecting|expect|look like|still|have|any|a|an|some|more|fresh))* (?:snow(?:ing|storm|fall|y)?|rain(?:ing|y)?|storms?|stormy|blizzards?|sleet(?:ing)?|hail(?:ing)?|fog(?:gy)?|wind(?:y)?|blow(?:ing)?|thaw|flurries|freezing rain|clear(?:ing)? up|let up|warm(?:ing)? up|colder|warmer)"
    rf"|(?:what(?:'s| is| does| will)?|how(?:'s| is| will)?) (?:the )?(?:weather|forecast)(?: (?:forecast|report))?(?: (?:is|be|look|looking|going to be|say|says|supposed to be))*|(?:the )?weather (?:forecast|report)|(?:the )?forecast|how (?:cold|warm) (?:will|is) it (?:going to |gonna |supposed to )*(?:get|be|going to be)){_WHEN}"
)
_WORLD = Lazy(
    _LEAD
    + r"(?:(?:what|which) (?:hotel )?(?:room|floor|seat)(?: number)?(?:'s| is| are) (?!the (?:fire|shore|tank|furnace))[a-z' ]{2,40}(?: in| on)?|what(?:'s| is) [a-z' ]{2,30} room(?: number)?|(?:what(?:'s| is) )?(?:the )?(?:hotel |guest )?(?:wifi|wi fi|wi-fi|internet)(?: (?:password|code|name|network|key))?"
    r"|(?:when(?:'s| is)?|what time(?:'s| is| does| do)?) (?:the |our |their )?(?:breakfast|dinner|lunch|supper|check ?out|check out|check ?in|game|match|practice|puck drop|kick ?off|tip ?off|bus call|curfew|pool|rink|gym|front desk|reception|restaurant|store|shop|truck stop|hotel|sunrise|sun ?rise|sunset|sun ?set|sun(?: come)? up)(?: (?:open|opens|close|closes|start|starts|starting|served|on|begin|begins|over|end|ends|rise|come up|tomorrow|tonight|today|in the morning))*"
    r"|who(?:'s| is|'ll| will)? (?:win|won|winning|playing|ahead|starting in goal)(?: (?:the )?(?:game|match|tonight|last night|today))*|what(?:'s| is| was) the (?:final )?score(?: (?:tonight|now|of the game|last night))*|did (?:we|they|the team) (?:win|lose)(?: (?:tonight|last night|the game|today))*"
    r"|(?:is|are) the (?:road|roads|pass|highway|interstate|border|bridge|ferry|store|shop|truck stop|gas station|fuel stop|pool|restaurant|front desk|kitchen)(?: [a-z0-9]+)? (?:open|closed|shut|still open|plowed|ploughed)(?: (?:now|tonight|today|yet|tomorrow|still))*|how(?:'s| is) (?:the )?traffic(?: [a-z ]{2,30})?|any (?:traffic|road closures?|closures)(?: [a-z ]{2,30})?"
    r"|what(?:'s| is) (?:the )?(?:hotel|rink|arena|front desk|motel)(?:'s)? (?:phone |telephone |street )?(?:number|address)|where(?:'s| is| are) (?:the |our |my )?(?:coach captain|head coach|team(?: manager)?|manager|trainer|equipment manager|other driver|co-?driver|players|everybody|everyone|boys|kids|nearest (?:hospital|truck stop|gas station|walmart|hotel|dump|dump station))(?: (?:now|at|tonight|right now|staying|sleeping))*)$"
)
_NO_WEATHER = "I can't know that: I have no forecast. Tell me how cold it is outside, and I reckon with it."
_NO_WORLD = "I can't know that. I know this coach, and what I am told aboard."


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """That it cannot be known, for a fact of the world outside; None for anything else."""
    said = plain(text)
    weather = _WEATHER.match(said) is not None and AMOUNT.search(said) is None
    if not (weather or _WORLD.match(said)) or state.pending is not None:
        return None
    line = _NO_WEATHER if weather else _NO_WORLD
    walk = state.walk
    return Outcome(state, Reply("unknown", line, (line,), step=phrases.mark(walk) if walk else None))


# -- the time ---------------------------------------------------------------------------------

_TIME = Lazy(
    _LEAD
    + r"(?:what(?:'s|s| is)? (?:the )?(?:time|hour)(?: is it)?|(?:i (?:need|want|have) to know )?what time (?:it is|do (?:you|we) have|have (?:you|we) got|do you make it|is it)|(?:have|do) you (?:got |have )?(?:the )?time|got the time|(?:the )?(?:current|exact|right) time|the time|time|how late is it|what does (?:the|your) clock say|what(?:'s| is) (?:the|your) clock(?: say| at)?|what day is it|what(?:'s| is)? (?:today|the date|today's date|the day)|what date is it|what day(?: of the week)? is (?:it|today))(?: (?:now|right now|here|please|at the moment|currently|exactly|again|today|by the way|on your clock))*$"
)
_GOES_ON = Lazy(r"^(?:so|and|then|but|ok|okay) ")
_HOUR = (
    r"(?P<hour>[01]?\d|2[0-4])[ :.]?(?P<minute>[0-5]\d)?(?: ?(?P<half>a\.?m|p\.?m)\.?)?(?P<hundred> hours| o'?clock)?"
)
_TOLD = Lazy(
    rf"^(?:(?:no|but|well|so|and|ok|okay|hey|wait|actually|sorry) )*(?:it's|its|it is|(?:the )?(?:time|clock)(?:'s| is| says| reads| shows)?(?: now)?|my (?:watch|phone|clock)(?: here)? (?:says|shows|reads|has)|(?:the )?(?:dash|galley|wall|dashboard) clock (?:says|shows|reads|is)|right now it's|now it's|i (?:have|make it|got)) (?:already |about |only |just |actually |really )*{_HOUR}(?: (?:now|here|already|by my watch|on my (?:watch|phone)|at night|right now|in the (?:morning|evening|afternoon)|not .{{1,20}}))*$",
)
SAME = timedelta(minutes=2)
"""Two clocks that differ by no more agree."""


def clock(state: State, text: str, now: datetime) -> Outcome | None:
    """The time of the clock, asked for or told otherwise; None for anything else."""
    said = plain(text)
    of_sum = state.last is not None and state.last.kind == "calculation"
    if state.pending is not None or (of_sum and (_GOES_ON.match(said) or not _TIME.match(said))):
        return None  # there it is the time of a sum
    if state.asking is not None and state.asking.what in ("reading", "level"):
        return None
    stands = f"{now:%H:%M} on {now:%A}, {now.day} {now:%B}"
    if _TIME.match(said) and ("time" in said or "clock" in said or "late" in said or "hour" in said or "da" in said):
        return walking.control(state, f"It is {stands}.")
    told = _TOLD.match(said)
    if told is None or not (told["minute"] or told["half"] or told["hundred"]):
        return None
    if re.search(r"\b(?:degrees|percent|volts?|psi|amps?|below|above|outside|inside)\b", said):
        return None
    hour, minute = int(told["hour"]), int(told["minute"] or 0)
    half = (told["half"] or "")[:1]
    hour = hour % 12 + 12 if half == "p" else hour % 12 if half == "a" else hour % 24
    hours = {hour} if half or hour > 12 or hour == 0 or told["hour"].startswith("0") else {hour, (hour + 12) % 24}
    apart = min(abs((now.hour - one) * 60 + now.minute - minute) for one in hours)
    if min(apart, 24 * 60 - apart) <= SAME.seconds / 60:
        return walking.control(state, f"Yes, my clock has {now:%H:%M}.")
    line = f"My clock has {stands}, and reminders and forecasts go by it. If it is wrong, set the computer's clock."
    return walking.control(state, line)
