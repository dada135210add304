"""The last sum so many times over: "and two of them", "with only ten aboard, half of that", "at four dollars a gallon".

One amount of the question is multiplied and the question put once more; the answer must change by just that factor, or nothing
is answered here.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import reckoning
from cabassist.dialogue.anew import NEAR, SHARES, number_of, worked_anew
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import plain

if TYPE_CHECKING:
    from cabassist.language.calculation_amounts import Amount
    from cabassist.language.calculation_inputs import Question

_LEAD = r"^(?:(?:ok|okay|so|and|but|no|wait|oh|well|hm+|right|alright|then|now|what if|if|say|suppose|what about|how about|make (?:it|that)) )*"
_COUNTS = {"one": 1, "both": 2, "two": 2, "a pair": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_COUNT = "both|a pair|two|three|four|five|six|[2-6]"
_SO_MANY = Lazy(
    _LEAD
    + rf"(?:(?:with|it's|there's|there are|for|running|i've got|we've got|how many amps (?:for|is)) )*(?:(?:i|we|they)(?: had| have|'d)? (?:run|use|plug in|turn on|put on|got|had|have|need|want) )?(?P<count>{_COUNT})"
    r"(?: of (?:them|em|those|these|that kind|the same|that)| like (?:that|it|this)| such| the same)(?: (?:on|running|going|together|at once|at the same time|instead|then|flat out))*$"
)
_RUN_SO_MANY = Lazy(
    _LEAD
    + rf"(?:i|we|they)(?:'d| had| have)? (?:run|use|plug in|turn on|put on)(?: all)? (?P<count>{_COUNT})(?: of (?:them|those))?(?: (?:on|together|at once|at the same time|instead|then))*$"
)
_DRAWS = ("W", "kW", "A", "btu", "BTU")


def so_many(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And two of them", after a sum about the one thing that draws so much."""
    from cabassist.language.calculation_inputs import read_question

    found = _SO_MANY.match(said) or _RUN_SO_MANY.match(said)
    if found is None or state.worked is None:
        return None
    count = _COUNTS.get(found["count"]) or int(found["count"])
    question = read_question(state.question)
    drawn = [one for one in question.amounts if one.unit in _DRAWS and not one.each]
    return _times(state, question, drawn, count, ranking, mind, now) if len(drawn) == 1 else None


_WORTH = Lazy(
    r"^(?:.*? )??(?:so|that's|make (?:it|that)|call it|only|just|for|and|say|what about|how about) (?P<count>(?!so\b)[a-z0-9.]+(?: (?!so\b|only\b|just\b)[a-z0-9.]+){0,4}) (?:of (?:them|those|em)|bottles?|cylinders?)(?: (?:worth|full|in all|altogether|to fill|then|instead))*$"
)
_SIZED = re.compile(r"(?:bottles?|cylinders?|tanks?)\b")
_HELD_OF = frozenset({"propane-weight", "propane-hours", "propane-heat"})


def bottles_worth(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "So two and a half bottles worth", after what goes into bottles of one size: so much propane."""
    from cabassist.language.calculation_inputs import read_question

    worked, found = reckoning.standing(state), _WORTH.match(said)
    if found is None or worked is None or worked.calculation not in _HELD_OF or not number_of(worked):
        return None
    counted = read_question(f"{found['count']} bottles").amounts
    if len(counted) != 1 or counted[0].unit != "cylinder" or counted[0].per or not counted[0].value:
        return None
    question = read_question(state.question)
    words = list(question.words)
    sized = [one for one in question.amounts if one.unit == "lb" and one.end < len(words) and _SIZED.match(words[one.end])]  # fmt: skip
    if len(sized) != 1:
        return None
    size = sized[0]
    before = [one for one in question.amounts if one.end == size.start]
    start = (
        before[0].start if before else size.start - (words[size.start - 1 : size.start] in (["a"], ["one"], ["the"]))
    )
    was = before[0].value if before else 1.0
    so_many = counted[0].value
    told = f"{so_many:g} {size.value:g} pound bottles" if so_many in range(2, 100) else f"a {size.value * so_many:g} pound bottle"  # fmt: skip
    whole = " ".join([*words[:start], told, *words[size.end + 1 :]])
    again, base = worked_anew(whole, state, mind, now), number_of(worked_anew(state.question, state, mind, now))
    if again is None or again.calculation != worked.calculation or not base:
        return None
    if abs(number_of(again) / base * was / so_many - 1) > NEAR:
        return None
    outcome = reckoning.answer(state, again, whole, ranking, mind)
    if so_many in range(2, 100):
        return outcome
    return outcome._replace(state=replace(outcome.state, question=state.question))  # it tells how big each is


_SHARE = Lazy(
    _LEAD
    + r"(?:(?:with|for|at|it's|there's|there are|they|we|only|just|when) )*(?:(?:[\w.]+ ){1,3}?(?:aboard|people|of us|on board|players|passengers|heads|guys|kids|on the bus)(?: aboard| on board)?,? )?(?:(?:so|they|we|that's|it's|use|uses|using|only|just|about|at|maybe|be) )*"
    r"(?P<share>half|a third|two thirds|a quarter|three quarters|twice|double|triple|three times)(?: (?:of )?(?:that|as much|the amount|the rate|that rate|that much|that use))(?: (?:then|instead|a day|an hour))*$"
)
_SHARES = SHARES | {"twice": 2.0, "double": 2.0, "triple": 3.0, "three times": 3.0}
_TIMES = ("h", "min", "day", "days")


def of_that(said: str) -> bool:
    """Whether a text speaks of a share of the last number or of what it was worked out from: "with ten aboard, half of that"."""
    return _SHARE.match(said) is not None


def share_of_rate(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "With only ten aboard, half of that", after how long something lasts at so much an hour: at half the rate."""
    from cabassist.language.calculation_inputs import read_question

    found, worked = _SHARE.match(said), state.worked
    if found is None or worked is None or worked.estimate is None or worked.estimate.unit not in _TIMES:
        return None
    question = read_question(state.question)
    rates = [one for one in question.amounts if one.per and one.unit != "n" and not one.each]
    return _times(state, question, rates, _SHARES[found["share"]], ranking, mind, now) if len(rates) == 1 else None


def _times(
    state: State, question: Question, meant: list[Amount], factor: float, ranking: Ranking, mind: Mind, now: datetime
) -> Outcome | None:
    """The question with one amount so many times as great, when the answer follows."""
    from cabassist.dialogue.restating import put
    from cabassist.language.calculation_inputs import read_question

    worked, amount = state.worked, meant[0]
    if amount.pieces or amount.value <= 0:
        return None
    new = read_question(f"{amount.value * factor:.6g}")
    if len(new.amounts) != 1:
        return None
    whole = put(question, amount, new, new.amounts[0])
    for text in (whole, *_with_level(state, whole)):
        again = worked_anew(text, state, mind, now)
        ratio = number_of(again) / number_of(worked) if number_of(worked) else 0.0
        if again is not None and min(abs(ratio / factor - 1), abs(ratio * factor - 1)) < NEAR:
            return reckoning.answer(state, again, text, ranking, mind)
    return None


def _with_level(state: State, text: str) -> list[str]:
    """The text with the reading told last before it, which it may have been asked of."""
    from cabassist.dialogue.building import in_words

    told = [one for one in state.told[-1:] if one.value is not None]
    return [f"{in_words(one)}, {text}" for one in told]


_SOLD = {"gallon": "gal", "gal": "gal", "litre": "L", "liter": "L", "pound": "lb", "lb": "lb", "kilo": "kg", "kg": "kg", "mile": "mi"}  # fmt: skip
_ONES = "one|two|three|four|five|six|seven|eight|nine"
_SPOKEN = Lazy(
    rf"^(?P<dollars>{_ONES}) (?P<cents>oh (?:{_ONES})|ten|eleven|twelve|[a-z]+teen|(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)(?:[ -](?:{_ONES}))?)$"
)
"""A price without its units: "three eighty", "four oh nine"."""
_PRICE = Lazy(
    _LEAD
    + r"(?:(?:at|for|with|it's|it is|they|he|she|it|diesel|fuel|propane|is|are|wants?|charges?|charging|costs?|the|price|they're|what's|whats|what|does|do|would|will|how much|that|be|cost|come to|this|one|guy|place|station|here) )*"
    r"(?P<price>\$ ?[\d.]+|[\w.]+(?: [\w.]+)?(?= (?:dollars?|bucks))|[\d.]+(?= (?:a|per)\b)|(?:one|two|three|four|five|six|seven|eight|nine|ten)(?= (?:a|per)\b)|(?:one|two|three|four|five|six|seven|eight|nine)(?: (?:oh [a-z]+|[a-z]+(?:ty|teen)(?:[ -][a-z]+)?|ten|eleven|twelve))(?= (?:a|per)\b))(?: (?:dollars?|bucks))?"
    r"(?: and (?P<cents>[a-z0-9]+(?: [a-z]+)?) cents)? (?:a|per|the|each|every) (?P<unit>gallon|gal|lit(?:er|re)|pound|lb|kilo|kg|mile)(?P<rest> .*)?$"
)
_COST = Lazy(
    r"\b(?:dollars?|bucks|costs?|cents|price|charges?|charging|pay|bill)\b|\$|\b(?:how much|what)(?:'s| is| does| will| would)? (?:that|it|this)(?: (?:be|come to|run me|set me back))?$"
)
_OPEN = Lazy(
    r"^(?: (?:then|now|here|today|what's that|whats that|what is that|how much is that|how much|what does that cost|what'?s (?:that|it) cost|what'?s that (?:gonna|going to) cost|what'?s the (?:price|cost)|what does that come to|what will that cost|what would that cost|all in|altogether|in all|what do i pay|what's the bill|for (?:it|that|diesel|fuel|propane)))*$"
)
_CHEAPEST, _DEAREST = 0.05, 50.0


def priced(state: State, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """ "At four dollars a gallon", after so many gallons: what they cost; asked back where the number is of something else."""
    from cabassist.dialogue.following import which_number
    from cabassist.estimate.quantities import shown
    from cabassist.estimate.types import Estimate
    from cabassist.language.calculation_inputs import read_question
    from cabassist.language.calculation_units import converted, same_kind
    from cabassist.sums.working import Worked as Found

    said = re.sub(r"[,?!]", "", text.lower()).strip(" .")
    found, worked = _PRICE.match(said), reckoning.standing(state)
    if found is None or worked is None or worked.estimate is None or not _COST.search(said):
        return None
    if not _OPEN.match(found["rest"] or ""):
        return None
    estimate, unit = worked.estimate, _SOLD[found["unit"]]
    price = found["price"].replace("$", "").strip()
    if (spoken := _SPOKEN.match(price)) is not None:
        price = f"{spoken['dollars']} point {spoken['cents']}"
    amounts = read_question(price).amounts
    cents = read_question(found["cents"]).amounts if found["cents"] else ()
    if len(amounts) != 1 or (found["cents"] and len(cents) != 1):
        return which_number(state, mind)
    price = amounts[0].value + (cents[0].value / 100 if cents else 0.0)
    if estimate.value is None or not same_kind(estimate.unit, unit) or not _CHEAPEST <= price <= _DEAREST:
        return which_number(state, mind)
    ends = (estimate.value, estimate.low, estimate.high)
    value, low, high = (None if one is None else round(converted(one, estimate.unit, unit) * price, 2) for one in ends)
    line = f"{shown(converted(estimate.value, estimate.unit, unit))} {unit} × ${price:.2f} = ${value:.2f}"
    cost = Estimate(
        "cost", value, "dollars", low=low, high=high, working=(line,), source="arithmetic on the last number"
    )
    return reckoning.answer(state, Found(worked.calculation, worked.topic, estimate=cost), text, ranking, mind)


def multiplied(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last sum so many times over; else None."""
    said = plain(text)
    return (
        bottles_worth(state, said, ranking, mind, now)
        or so_many(state, said, ranking, mind, now)
        or share_of_rate(state, said, ranking, mind, now)
        or priced(state, text, ranking, mind)
    )
