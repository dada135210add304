"""What the readings told come to together and differ by: places left with so many aboard, and how much was lost or gained between the last two readings of a thing."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import held, reckoning
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare

OF_READINGS = "the readings told"
"""What a sum of several readings is worked out from."""

_OPENS = r"^(?:(?:and|so|ok|okay|then|now|right|alright|well|but|ah|hm+) )*"
_PLACES = Lazy(
    rf"{_OPENS}how many (?:more |free |empty |open |spare )*(?:places|seats|spots|spaces|people|passengers|kids|players)(?: (?:does (?:that|it|this) leave(?: (?:us|me|open|free))?|(?:are|is) (?:there )?(?:still )?(?:left|free|empty|open)|(?:do|have) (?:we|i) (?:still )?(?:got |have )?(?:left|free|open)|(?:can|could|may) (?:we|i) (?:still )?(?:take|fit|carry|seat|let on)|(?:can|could|will) (?:still )?(?:get on|fit|come aboard|ride)|left|free))(?: (?:now|then|aboard|on board|on (?:the|this) (?:bus|coach)))*$"
    rf"|{_OPENS}how many more (?:can|could|may) (?:we|i) (?:still )?(?:take|fit|carry|seat|let on)(?: (?:now|then|aboard|on board|on))*$"
)
_TOGETHER = Lazy(
    rf"{_OPENS}how (?:many|much in) (?P<unit>pounds|gallons|liters|litres|kilos)(?: (?:of \w+ )?(?:is|are|was|does|do|makes?))?(?: (?:that|those|it|they|we|i|have|got|make|come to))* (?:between (?:the two(?: of them)?|them(?: both)?|both(?: of them)?)|(?:in|of) both(?: of them)?|together|altogether|all together|combined|all told|in all|in total|all in)(?: (?:now|then))*$"
)
"""Asks what the readings told in one breath come to together."""
OTHER_UNIT = Lazy(
    rf"{_OPENS}(?:(?:what's|what is|how much is) (?:that|it|those) )?(?:in|as) (?P<unit>pounds|gallons|liters|litres|kilos)(?: (?:then|now|please))*$"
)
"""Asks for the last number in another unit."""
_GOES = Lazy(
    rf"{_OPENS}(?P<asked>how (?:many|much in) (?:gallons|pounds|liters|litres) (?:is|does) (?:that|it)(?: (?:make|come to))?) (?:(?:going|running|coming|draining|pouring|to go|to dump|to come|that goes|we're dumping|i'm dumping|down|out|into|in|the|hole|sewer|drain|pipe|hose|tank|ground) ?)+$"
)
"""Asks what a level comes to, and says where it goes."""
_SEATS = Lazy(r"\b(?:places|seats|spots|spaces)\b")
_CHANGED = Lazy(
    rf"{_OPENS}how (?:much|many (?:psi|pounds|gallons|volts|degrees|percent|points))(?: (?:air|pressure|water|voltage))? (?:did|have|has) (?:i|we|it|that|she) (?:just )?(?P<way>lose|lost|drop|dropped|fall|fallen|gone down|go down|leak|leaked|gain|gained|rise|risen|go up|gone up|come up)(?: (?:by|there|then|in that (?:time|minute)|between (?:those|the two)|since|in all))*$"
)
_UP = ("gain", "ris", "go up", "gone up", "come up")
APART = timedelta(hours=1)
"""So far apart two readings are told at most whose difference is asked for without a name."""
_SHARES = ("percent", "fraction")


def asked(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The places left by the last head count, or the difference between the last two readings of a thing; else None."""
    if not state.stored or state.pending is not None:
        return None
    said = bare(text)
    if _PLACES.match(said):
        return _places(state, text, ranking, mind)
    if (both := _TOGETHER.match(said)) is not None:
        return _together(state, both["unit"], text, ranking, mind)
    summed = state.last is not None and state.last.kind == "calculation" and _TOGETHER.match(bare(state.question))
    if summed and (unit := OTHER_UNIT.match(said)) is not None:
        return _again_in(state, unit["unit"], text, ranking, mind)
    if (goes := _GOES.match(said)) is not None:
        return held.asked(state, goes["asked"], ranking, mind, now)
    found = _CHANGED.match(said)
    return _changed(state, text, found["way"].startswith(_UP), ranking, mind, now) if found is not None else None


def _places(state: State, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    counts = [one.reading.value for one in state.stored if one.reading.what == "passengers"]
    most, aboard = mind.coach.people.max_passengers, counts[-1] if counts else None
    if aboard is None or not (_SEATS.search(bare(text)) or (state.told and state.told[0].what == "passengers")):
        return None
    left = most - aboard
    line = f"{most} passengers at most - {aboard:g} aboard = {left:g}"
    verdict = f"{left:g} of {most} places {'is' if left == 1 else 'are'} left."
    return _answer(state, left, "persons", line, "the coach's profile", text, ranking, mind, verdict)


def _again_in(state: State, unit: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """The sum of what was told in another unit, still known by the question that asked for it."""
    outcome = _together(state, unit, text, ranking, mind)
    return None if outcome is None else Outcome(replace(outcome.state, question=state.question), *outcome[1:])


def _together(state: State, unit: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """What the readings of one kind told in one breath come to; None when one of them has no amount in that unit."""
    short = {"pounds": "lb", "gallons": "gal", "kilos": "kg"}.get(unit, "L")
    amounts = [held.amount_of(one, short, mind.coach) for one in state.told]
    known = [one for one in amounts if one is not None]
    if len(known) < _TWO or len(known) != len(amounts) or len({one.what for one in state.told}) != 1:
        return None
    total = sum(known)
    line = f"{' + '.join(f'{one:g}' for one in known)} = {total:g} {short}"
    return _answer(state, total, short, line, OF_READINGS, text, ranking, mind)


_TWO = 2


def _changed(state: State, text: str, up: bool, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    newest = state.stored[-1]
    last = newest.reading
    older = [one for one in state.stored[:-1] if (one.reading.what, one.reading.which) == (last.what, last.which)]
    if not older or now - older[-1].at > APART or state.last is None or state.last.kind == "calculation":
        return None
    first = older[-1].reading
    if first.value is None or last.value is None or first.unit != last.unit or first.unit in (None, *_SHARES):
        return None
    change = last.value - first.value if up else first.value - last.value
    if change < 0:
        return None
    line = f"{max(first.value, last.value):g} - {min(first.value, last.value):g} = {change:g} {last.unit}"
    return _answer(state, change, last.unit or "", line, "the last two readings told", text, ranking, mind)


def _answer(
    state: State,
    value: float,
    unit: str,
    line: str,
    source: str,
    text: str,
    ranking: Ranking,
    mind: Mind,
    verdict: str = "",
) -> Outcome:
    from cabassist.estimate.quantities import exact
    from cabassist.sums.working import Worked

    estimate = exact("difference", round(value, 2), unit, working=(line,), source=source, verdict=verdict)
    return reckoning.answer(state, Worked("unit-conversion", None, estimate=estimate), text, ranking, mind)
