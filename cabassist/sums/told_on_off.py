"""A burner told by its minutes on and off, as the share of the time that it burns."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted, wanted
from cabassist.sums.told_gas import told_gas

if TYPE_CHECKING:
    from cabassist.language.calculation_amounts import Amount

_BURNS = Lazy(r"\b(?:furnaces?|heaters?|burners?|flame|boiler|pads?|tapes?|thermostat)\b|<furnace>|<heater>")
_OTHER = Lazy(r"\b(?:driv\w+|hose|shower\w*|miles|charger|generator|genny|battery|pump)\b")
_BETWEEN = r"(?: (?:and|then|,|or so|but|\.|minutes|it|she|he|so))*"
_GOES_OFF = r"(?: (?:it|she|goes|sits|shuts|stays|rests|is|kicks|cuts|was))*"
_OFF = r"(?:off|out|quiet|idle|idles|idling|rests?|resting|dark|sits|down|waits?|silent)"
_FOR = r"(?: (?:for|about|around|say|maybe|only))*"
_ON = r"(?:on|lit|runs?|running|burns?|burning|fires?|firing|going|up)"
_WAYS = (
    (True, compiled(rf"\b{_ON}{_FOR} ({{min|n}}){_BETWEEN}{_GOES_OFF} {_OFF}{_FOR} ({{min|n}})(?: minutes)?(?= )")),
    (True, compiled(rf"({{min|n}}) {_ON}{_BETWEEN} ({{min|n}}) {_OFF}(?: minutes)?(?= )")),
    (
        False,
        compiled(
            r"({min|n|h}) (?:minutes )?(?:out )?(?:of|in|for) (?:every |each |any |a |the last |the past )?({min|n|h})(?: minutes)?(?= )"
        ),
    ),
    (False, compiled(r"({min}) (?:every|each|per) ({min|h})(?= )")),
)
"""Frames of minutes on and off, and of minutes out of so many."""
_OF_AN_HOUR = compiled(r"({min|h}) (?:out )?(?:(?:of|in|for) )?(?:every|each|an|the|per|a) (?:\w+ )?hour(?= )")
_PERCENT = Lazy(
    r"\bpercent\w*\b|\bduty\b|\b(?:what|which) (?:share|part|fraction)\b|\bhow much of the time\b|\bhow often\b"
)
_LONGEST_MIN = 180.0


def on_off(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """The share of the time a burner is on, or what it burns at that share."""
    if not _BURNS.search(q.frame) or _OTHER.search(q.frame):
        return None
    found = as_share(q)
    if found is None:
        return None
    whole, share, line = found
    others = [one for one in whole.amounts if one.unit not in ("F", "C", "temp")]
    if _PERCENT.search(q.frame) and len(others) == 1 and not Lazy(r"\b(?:pounds?|gallons?|hours?|how long|watts?)\b").search(_PAST_HOUR.sub(" ", q.frame)):  # fmt: skip
        percent = 100 * share
        return exact("on", percent, "percent", working=(line,), source="arithmetic", verdict=f"{shown(percent, 3)} percent of the time.", also=(figure("in an hour", 60 * share, "min"),))  # fmt: skip
    want = wanted(whole) or Wanted()
    told = told_gas(whole, want, now)
    return None if told is None else replace(told[1], working=(line, *told[1].working))


_PAST_HOUR = Lazy(r"\b(?:of|in|for|every|each|an|the|per|a) (?:\w+ )?hours?\b")


def as_share(q: Question) -> tuple[Question, float, str] | None:
    """The question with its minutes on and off as one share, with the share and its line; None when it tells none."""
    for off, way in _WAYS:
        match = way.search(q.frame)
        if match is None:
            continue
        on, other = q.amount_at(match.start(1)), q.amount_at(match.start(2))
        minutes = {"min", "h"} & {on.unit, other.unit} or match[0].endswith(" minutes")
        if not minutes or on.per or other.per or on.each or other.each:
            continue
        first, second = _minutes(on), _minutes(other)
        cycle = first + second if off else second
        if not 0 < first <= cycle <= _LONGEST_MIN or (other.unit == "h" and off):
            continue
        line = f"{shown(first)} ÷ {f'({shown(first)} + {shown(second)})' if off else shown(second)} min = {shown(first / cycle, 3)} of the time"
        return _replaced(q, match.start(), match.end(), (on, other), first / cycle), first / cycle, line
    match = _OF_AN_HOUR.search(q.frame)
    if match is None:
        return None
    on = q.amount_at(match.start(1))
    first = _minutes(on)
    if on.each or not 0 < first <= 60:
        return None
    line = f"{shown(first)} ÷ 60 min = {shown(first / 60, 3)} of the time"
    return _replaced(q, match.start(), match.end(), (on,), first / 60), first / 60, line


def _minutes(one: Amount) -> float:
    return one.value * (60.0 if one.unit == "h" else 1.0)


def _replaced(q: Question, start: int, end: int, told: tuple[Amount, ...], share: float) -> Question:
    part = told[0]._replace(value=share, unit="part", end=told[-1].end)
    amounts: list[Amount] = []
    for one in q.amounts:
        if one is told[0]:
            amounts.append(part)
        elif one not in told:
            amounts.append(one)
    frame = f"{q.frame[:start].rstrip()} on <part> of the time {q.frame[end:].lstrip()}"
    return replace(q, amounts=tuple(amounts), frame=frame.replace(" on on ", " on "))
