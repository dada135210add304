"""Amp hours that are there against those a night takes, told as two numbers and a "will it do"."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.wanted import Wanted

_NEEDED = Lazy(
    r"\b(?:need\w*|tak(?:e|es|ing)|us(?:e|es|ing)|burn\w*|want\w*|draws?|pulls?|goes through|eats?)(?: (?:about|around|only|up|is|at|us|me|the|night))* $"
)
_HELD = Lazy(
    r"\b(?:have|has|got|holds?|there (?:is|are)|left|usable|bank|batter\w+|with|of|on|only)(?: (?:about|around|only|is|are|at|has|have|holds?|got|left|a|the))* $"
)
_HELD_AFTER = Lazy(r"^ (?:amp hours )?(?:is )?(?:usable|available|left|in (?:the|it)|there|to use|to play with|good)\b")
_ENOUGH = Lazy(
    r"\b(?:enough|will (?:it|that|they|we)|do we|can we|does (?:it|that)|make it|spare|over|short|left over|is that|are we)\b"
)


def amp_hours_there(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether the amp hours that are there are those that are needed."""
    if not names_any(q.text.lower(), ("amp hour", "amp-hour", "ah", "amphour")) or len(q.amounts) != 2:
        return None
    if {one.unit for one in q.amounts} not in ({"Ah"}, {"Ah", "n"}) or not _ENOUGH.search(q.frame):
        return None
    needed = [one for one in q.amounts if _NEEDED.search(_before(q, one))]
    held = [
        one
        for one in q.amounts
        if one not in needed and (_HELD.search(_before(q, one)) or _HELD_AFTER.search(_after(q, one)))
    ]
    if [len(needed), len(held)] != [1, 1] or q.has(r"\b(?:percent|half|charg\w+|volts?)\b"):
        return None
    gap = held[0].value - needed[0].value
    fits = gap >= 0
    line = f"{shown(held[0].value)} - {shown(needed[0].value)} = {shown(gap)} Ah"
    said = f"{'Yes' if fits else 'No'}: {shown(abs(gap))} amp hours {'to spare' if fits else 'short'}."
    return exact("to spare" if fits else "short", abs(gap), "Ah", working=(line,), source="arithmetic", verdict=said, also=(figure("needed", needed[0].value, "Ah"),))  # fmt: skip


def _before(q: Question, amount: Amount) -> str:
    return f" {' '.join(q.words[max(0, amount.start - 5) : amount.start])} "


def _after(q: Question, amount: Amount) -> str:
    return f" {' '.join(q.words[amount.end : amount.end + 4])} "


_ADDED = Lazy(
    r"\b(?:total|add(?:s|ed)? (?:them |it |that |all )?(?:all )?(?:up|to|together)|(?:come|comes|coming|amount|amounts) (?:out )?to|altogether|all together|in all|sum|all told|combined|what do (?:they|those) make)\b"
)
_SUPPLY = Lazy(r"\b(?:breakers?|outlet|post|pedestal|plug|service|circuit|leg|inverter|generator|genny|genset|fuse|shore|limit|hours?|all night|overnight|bank|battery|volts?|percent)\b|<(?:h|V|percent|Ah|min)(?:/\w+)*>")  # fmt: skip
_MOST_AMPS = 60.0


def amps_added(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Amps of a list in one sum, the unit told with one of them: "charger six amps, fridge two and a half, tape three"."""
    if not names_any(q.text.lower(), ("amp",)) or not _ADDED.search(q.frame) or _SUPPLY.search(q.frame):
        return None
    if not 2 <= len(q.amounts) <= 8 or not any(one.unit == "A" for one in q.amounts):
        return None
    if any(one.unit not in ("A", "n") or one.per or one.each or not 0 < one.value <= _MOST_AMPS for one in q.amounts):
        return None
    if any(
        one.unit == "n"
        and q.words[one.end : one.end + 1]
        in (("of",), ("at",), ("x",), ("times",), ("fans",), ("heaters",), ("lights",))
        for one in q.amounts
    ):
        return None  # so many of them
    if any(one.unit == "A" and q.words[one.end : one.end + 1] in (("each",), ("apiece",)) for one in q.amounts):
        return None
    if q.has(r"<n> (?:<A>|[a-z]+s <A>|<n>)|\b(?:the|this|that|which|each|every|other|more) <n>\b"):
        return None
    total = sum(one.value for one in q.amounts)
    line = f"{' + '.join(shown(one.value) for one in q.amounts)} = {shown(total)} A"
    return exact("load", total, "A", working=(line,), source="arithmetic")


_RUN = Lazy(r"\b(?:can|could|will|do|does|ok|okay|fit|hold|carry|trip|too much|both|all)\b")
_SIZES = (15.0, 20.0, 30.0, 50.0)
_ON_SUPPLY = r"\b(?:on|off|onto|from) (?:a|the|my|this|that|our|one) ({n|A})(?! (?:volt|percent))"


def amps_fit(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether a list of amps goes on a breaker of which a share that is told may be used."""
    if (
        not names_any(q.text.lower(), ("amp",))
        or not _RUN.search(q.frame)
        or q.has(r"\b(?:more|left|spare|add|watts?|volts?)\b")
    ):
        return None
    supply = [one for one in q.every(_ON_SUPPLY) if one.value in _SIZES]
    shares = [one for one in q.amounts if one.unit == "percent" and 50 <= one.value <= 100]
    loads = [one for one in q.amounts if one not in supply and one not in shares]
    if [len(supply), len(shares)] != [1, 1] or not 2 <= len(loads) <= 6 or not any(one.unit == "A" for one in loads):
        return None
    if any(one.unit not in ("A", "n") or one.per or one.each or not 0 < one.value < 30 for one in loads):
        return None
    if q.has(r"<n> (?:<A>|[a-z]+s (?:at |of )?<A>|<n>)|\b(?:each|apiece)\b|\b(?:the|this|that|which|other) <n>\b"):
        return None
    allowed = supply[0].value * shares[0].value / 100
    total = sum(one.value for one in loads)
    fits = total <= allowed + 1e-9
    lines = (f"{' + '.join(shown(one.value) for one in loads)} = {shown(total)} A", f"{shown(supply[0].value)} A x {shown(shares[0].value)} % = {shown(allowed)} A")  # fmt: skip
    said = f"{'Yes' if fits else 'No'}: {shown(total)} amps, {shown(allowed)} allowed."
    gap = figure("to spare" if fits else "over", abs(allowed - total), "A")
    return exact("load", total, "A", working=lines, source="arithmetic", verdict=said, also=(gap,))


_AMP_HOURS = Lazy(r"\bamp ?hours?\b|\bah\b")


def amp_hours_of(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Amp hours of several draws, each with its own hours."""
    if (
        not _AMP_HOURS.search(q.frame)
        or len(q.amounts) not in (4, 6)
        or q.has(r"\b(?:usable|left|last|bank|enough|will|charg\w+|percent)\b")
    ):
        return None
    pairs = [(q.amounts[i], q.amounts[i + 1]) for i in range(0, len(q.amounts), 2)]
    if (
        any((first.tag, second.tag) not in (("A", "h"), ("n", "h")) for first, second in pairs)
        or pairs[0][0].unit != "A"
    ):
        return None
    if any(not 0 < first.value <= 100 for first, _ in pairs):
        return None
    each = [first.value * second.value for first, second in pairs]
    line = f"{' + '.join(f'{shown(first.value)} A x {shown(second.value)} h' for first, second in pairs)} = {shown(sum(each))} Ah"
    return exact("drawn", sum(each), "Ah", working=(line,), source="arithmetic")
