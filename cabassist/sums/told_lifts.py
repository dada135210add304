"""Half an axle on a jack, how far a wrench reaches, what a bar needs: questions that tell all of it but not as one weight and one rating."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.wanted import Wanted
from cabassist.sums.working_jacks import LIGHTEST_LB, on_axle
from cabassist.sums.working_sheet import quantity

_JACK = Lazy(r"\bjack\w*\b")
_UNDER = Lazy(r"\b(?:under(?! (?:the|its|that) rating)|beneath|crawl\w*|climb\w*|lie|lying|slide)\b")
_HALF = r"\b(?:one|<n>|a|each|either|single|per|only|just the) (?:\w+ )?(?:side|corner|end|wheel|wheel end)\b|\b(?:half|<part>) (?:of )?(?:the |an |that |it\b|its |what )|\bhalf (?:an |the )?axle\b"
_LB_A_TON = 2000.0
"""A short ton."""
_POUNDS_ASKED = Lazy(
    r"\bhow many pounds\b|\bpounds\b[^.?]*\bon (?:the|that|my|one|each|it)\b|\bhow (?:heavy|much weight)\b|\bhow much (?:does|is|will|do)\b[^.?]*\b(?:lift|lifting|hold\w*|on)\b"
)
_TONS_ASKED = Lazy(
    r"\b(?:how many|what|which) (?:\w+ )?(?:tons?|jack|size)\b|\bhow big a jack\b|\bwhat size\b|\btons? (?:of jack|do i|needed)\b|\btons $"
)
_ENOUGH = Lazy(r"\b(?:enough|can|will|does|ok|okay|big|strong|hold|lift|do it|manage|handle|pick)\b")
_CAUTION = "Crib or block the load at once. Never go under a load on jacks alone."


def half_lifted(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Half the weight of an axle: pounds and tons on the jack, or whether a jack lifts them."""
    lifted = _JACK.search(q.frame) or (q.has(r"\baxles?\b") and _TONS_ASKED.search(q.frame) is not None)
    if not names_any(q.text.lower(), ("jack", "ton")) or not lifted or _UNDER.search(q.frame):
        return None
    told = [
        one
        for one in q.amounts
        if q.words[one.start : one.end] != ("one",) and not (one.unit == "part" and one.value == 0.5)
    ]
    loads = [one for one in told if one.unit in ("lb", "n") and one.value >= LIGHTEST_LB and not one.per]
    ratings = [one for one in told if one.unit == "ton" and one.value <= 50]
    if len(loads) != 1 or len(loads) + len(ratings) != len(told) or not q.has(_HALF):
        return None
    half = loads[0].value / 2
    line = f"half of {shown(loads[0].value)} lb on one side = {shown(half)} lb = {shown(half / _LB_A_TON)} tons"
    assumed = ("both sides carry the same: luggage or a slope can shift it",)
    tons = figure("tons", half / _LB_A_TON, "tons")
    if not ratings:
        if not (_POUNDS_ASKED.search(q.frame) or _TONS_ASKED.search(q.frame)):
            return None
        said = f"{shown(half)} pounds on one side, {shown(half / _LB_A_TON)} tons: take a jack that is marked with more. {_CAUTION}"
        return exact("one side", half, "lb", working=(line,), assumptions=assumed, source="arithmetic", verdict=said, also=(tons,))  # fmt: skip
    if len(ratings) != 1 or not _ENOUGH.search(q.frame):
        return None
    found = on_axle(quantity(loads[0].value, "lb"), quantity(ratings[0].value * _LB_A_TON, "lb"), one_side=True)
    return replace(found, also=(*found.also, figure("one side", half, "lb")))


def tons_in_pounds(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The pounds a jack is marked for."""
    if len(q.amounts) != 1 or q.amounts[0].unit != "ton" or not _JACK.search(q.frame) or _UNDER.search(q.frame):
        return None
    if not q.has(r"\b(?:how many|what (?:is that|does that|are they)?)\b[^.?]*\b(?:pounds|lbs?)\b") or q.has(
        r"\baxles?\b"
    ):
        return None
    pounds = q.amounts[0].value * _LB_A_TON
    line = f"{shown(q.amounts[0].value)} tons x 2,000 lb = {shown(pounds)} lb"
    return exact("jack rating", pounds, "lb", working=(line,), source="a short ton is 2,000 lb", assumptions=("marked in short tons",))  # fmt: skip


_WRENCH = Lazy(r"\b(?:wrench|torque wrench|clicker|tool|gun|multiplier)\b")
_GOES_TO = Lazy(
    r"\b(?:wrench|clicker|tool|gun|one|it|mine|multiplier)(?: (?:that|only|here|i have|i got|just|we have))*(?: (?:goes?|stops?|tops? out|maxe?s?(?: out)?|reads?|does|is|good|marked|reaches|ends?|runs?|only|up|to|at|for|out|can do|has|will do|rated|' s))* $"
)
_WRENCH_AFTER = Lazy(r"^ (?:torque )?(?:wrench|clicker|tool)\b")
_REACHES = Lazy(
    r"\b(?:reach\w*|enough|do it|get there|big enough|far enough|handle|cover|use (?:it|that|this|mine)|ok|okay|will it|can it|can i|will that|will this|will mine)\b"
)
_TORQUES = frozenset({"lb-ft", "N·m"})
_LOOSEST, _TIGHTEST = 30.0, 1200.0
"""What a nut of a coach takes, in foot-pounds."""


def wrench_reach(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether a wrench that ends at one torque reaches another, told in any of the two units."""
    if not names_any(q.text.lower(), ("wrench", "clicker", "tool")) or not _WRENCH.search(q.frame):
        return None
    if not _REACHES.search(q.frame) or len(q.amounts) != 2 or q.has(r"\b(?:impact|gun|air wrench)\b"):
        return None
    ends = [one for one in q.amounts if _of_wrench(q, one)]
    if len(ends) != 1:
        return None
    end, need = ends[0], next(one for one in q.amounts if one is not ends[0])
    unit = end.unit if end.unit in _TORQUES else need.unit
    own = need.unit if need.unit in _TORQUES else unit
    if unit not in _TORQUES or end.unit not in (*_TORQUES, "n") or need.unit not in (*_TORQUES, "n"):
        return None
    wanted = converted(need.value, own, unit)
    feet = converted(need.value, own, "lb-ft")
    if not _LOOSEST <= feet <= _TIGHTEST:
        return None
    reaches = end.value >= wanted
    name = "foot-pounds" if unit == "lb-ft" else "newton meters"
    line = f"{shown(need.value)} {own} = {shown(wanted)} {unit}"
    gap = figure("to spare" if reaches else "short", abs(end.value - wanted), unit)
    said = f"{'Yes' if reaches else 'No'}: {shown(wanted)} {name} needed, it goes to {shown(end.value)}."
    return exact("torque", wanted, unit, working=(line,), source="exact definitions (NIST Handbook 44 App. C)", verdict=said, also=(gap,))  # fmt: skip


def _of_wrench(q: Question, amount: Amount) -> bool:
    before = f" {' '.join(q.words[max(0, amount.start - 9) : amount.start])} "
    after = f" {' '.join(q.words[amount.end : amount.end + 3])} "
    return (
        _GOES_TO.search(before.rsplit(" , ", 1)[-1].rjust(1) if " , " in before else before) is not None
        or _WRENCH_AFTER.search(after) is not None
    )


_BAR = Lazy(r"\b(?:bar|cheater|lever|wrench|handle|pipe|breaker bar)\b")
_PULLS = Lazy(
    r"\bhow (?:hard|much (?:weight|force|pull))\b|\bhow many pounds\b|\bwhat (?:pull|force|weight)\b|\bpounds (?:on|do i|of pull)\b"
)


def pull_needed(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The pull on the end of a bar that makes a torque."""
    if not names_any(q.text.lower(), ("bar", "cheater", "lever", "wrench", "handle", "pipe")) or len(q.amounts) != 2:
        return None
    arms = [one for one in q.amounts if one.unit in ("ft", "in", "m", "cm") and not one.per]
    nuts = [one for one in q.amounts if one.unit in _TORQUES]
    if [len(arms), len(nuts)] != [1, 1] or not (_BAR.search(q.frame) and _PULLS.search(q.frame)):
        return None
    feet, torque = converted(arms[0].value, arms[0].unit, "ft"), converted(nuts[0].value, nuts[0].unit, "lb-ft")
    if not 0.3 <= feet <= 15:
        return None
    pounds = torque / feet
    line = f"{shown(torque)} lb-ft ÷ {shown(feet)} ft = {shown(pounds)} lb"
    return exact("pull", pounds, "lb", working=(line,), assumptions=("pulled at a right angle, on the end of it",), source="force x arm = torque")  # fmt: skip


_STANDS = (
    r"\b(?:weigh|weighs|weighing|i am|stand\w*|pull\w*|push\w*|lean\w*)(?: (?:about|in at|on|with|at|around))* ({n|lb})"
)


def stood_on(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """The torque of somebody's weight, or of a pull, on the end of a bar."""
    if not names_any(q.text.lower(), ("bar", "cheater", "lever", "wrench", "handle", "pipe")) or len(q.amounts) != 2:
        return None
    arms = [one for one in q.amounts if one.unit in ("ft", "in") and not one.per]
    pulls = q.find(_STANDS)
    if (
        len(arms) != 1
        or len(pulls) != 1
        or not q.has(r"\b(?:torque|foot pounds?|ft lbs?|pound feet)\b")
        or not _BAR.search(q.frame)
    ):
        return None
    feet, pounds = converted(arms[0].value, arms[0].unit, "ft"), pulls[0].value
    if pulls[0] is arms[0] or not (0.3 <= feet <= 15 and 20 <= pounds <= 400):
        return None
    torque = feet * pounds
    line = f"{shown(feet)} ft x {shown(pounds)} lb = {shown(torque)} lb-ft"
    return exact("torque", torque, "lb-ft", working=(line,), assumptions=("at a right angle, on the end of it",), source="force x arm")  # fmt: skip


_LOW_PSI, _HIGH_PSI = 40.0, 150.0
_TIRE = Lazy(r"\b(?:tires?|tyres?|psi|placard|steers?|drives?|tags?|sidewall|pressure|cold|gauge|flat|sticker)\b")
_PSI_ASKED = Lazy(
    r"\b(?:what|how (?:many|much))\b[^.?]*\b(?:psi|pressure|pounds|is that|that come|line|limit|number|figure)\b"
)
_DRIVES = Lazy(r"\b(?:can i|ok|okay|legal|drive|roll|good|flat|go|above|below|under|is it|is that|am i)\b")
_READS = Lazy(
    r"\b(?:reads?|reading|shows?|showing|gauge|says|got|is|at|has|sits|sitting|down to|now|gives)(?: (?:at|about|only|is|now|me))* $"
)
_OF_PLACARD = Lazy(r"^ (?:of|under|below|off) ")


def share_of_pressure(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """So many percent of the pressure a tire should have, and whether one that reads another is still above it."""
    if (
        not names_any(q.text.lower(), ("percent", "%"))
        or not _TIRE.search(q.frame)
        or q.has(r"<(?:F|C|temp|mi|h|lb|A)>")
    ):
        return None
    told = [one for one in q.amounts if q.words[one.start : one.end] != ("one",)]
    shares = [one for one in told if one.unit == "percent" and 50 <= one.value < 100]
    pressures = [one for one in told if one.unit in ("psi", "n") and _LOW_PSI <= one.value <= _HIGH_PSI and not one.per]
    if len(shares) != 1 or len(told) != 1 + len(pressures) or not 1 <= len(pressures) <= 2:
        return None
    if q.has(r"\b(?:what|how many) percent\b|\bpercent (?:low|under|down|short|off)\b"):
        return None
    share = shares[0].value / 100
    if len(pressures) == 1:
        if not _PSI_ASKED.search(q.frame):
            return None
        least = pressures[0].value * share
        return exact("pressure", least, "psi", working=(f"{shown(pressures[0].value)} psi x {shown(share)} = {shown(least)} psi",), source="arithmetic")  # fmt: skip
    right = q.find(r"{percent} of (?:the |a |my |its |what )?(?:\w+ ){0,2}?({psi|n})") or q.find(
        r"\b(?:should be|placard\w*|sticker|wants?|calls? for|supposed to be|right is|set at|spec)(?: \w+){0,3}? ({psi|n})"
    )
    if len(right) != 1 or not _DRIVES.search(q.frame):
        return None
    reads = next((one for one in pressures if one is not right[0]), None)
    if (
        reads is None
        or right[0] not in pressures
        or not _READS.search(f" {' '.join(q.words[max(0, reads.start - 4) : reads.start])} ")
    ):
        return None
    least = right[0].value * share
    fits = reads.value >= least
    gap = figure("above it" if fits else "below it", abs(reads.value - least), "psi")
    said = f"{shown(reads.value)} psi is {'above' if fits else 'below'} it, by {shown(gap.value)}."
    if reads.value < right[0].value:
        said = f"{said} Air it up to {shown(right[0].value)} as soon as you can."
    head = f"{'Yes' if fits else 'No'}: " if not q.has(r"\b(?:flat|below|under|too low)\b") else ""
    return replace(exact("least pressure", least, "psi", working=(f"{shown(right[0].value)} psi x {shown(share)} = {shown(least)} psi",), source="arithmetic"), verdict=f"{head}{shown(least)} psi is the least, and {said}", also=(gap,))  # fmt: skip
