"""Amounts said short: axle weights in pairs ("thirty three two" for 33,200), a voltage behind its amps ("thirty amp one twenty"), prices ("four nineteen")."""

from __future__ import annotations

from collections.abc import Sequence

from cabassist.language.calculation_types import Amount

_ON_A_SCALE = frozenset(
    "axle axles scale scales scaled gross grossed tandem tandems steers drives gvw gvwr gawr ticket weighed".split()
)
_AXLE_NAMES = frozenset("tag tags steer steers axle drive drives".split())
_AXLES = frozenset("steer drive tag".split())
"""Two of these are the axles of one coach."""
_NOT_WEIGHED = frozenset("psi volts volt tread pressure inflated hours hour duty amps amp".split())
_LIMITS = frozenset("limit limits rated rating max maximum legal allowed".split())
_BETWEEN = frozenset("is at ' s for of to only".split())
_PAIR = (2, 1)
"""Figures of the thousands and of the hundreds."""
_SMALL_PAIR = (1, 1)
_LIGHTEST, _HEAVIEST = 5_000.0, 99_900.0

_MAINS = frozenset({110, 115, 117, 120, 125, 208, 220, 230, 240})


def said_short(found: Sequence[Amount], texts: Sequence[str]) -> list[Amount]:
    """The amounts with weights told by their thousands and voltages told without their unit in full."""
    return _prices(_weights(_voltages(found, texts), texts), texts)


def _prices(found: Sequence[Amount], texts: Sequence[str]) -> list[Amount]:
    """ "Need eighty gallons, pump says four nineteen, how much money": dollars and cents, where money and fuel are spoken of."""
    words = {*texts}
    fuel = any(one.unit in _BOUGHT for one in found) or words & _BURNED
    if not words & _MONEY or not fuel or words & _AT_VOLTS:
        return list(found)
    return [_dollars(one, texts) for one in found]


def _dollars(amount: Amount, texts: Sequence[str]) -> Amount:
    if {*texts[max(0, amount.start - 1) : amount.start]} & _HOUR_BEFORE or {
        *texts[amount.end : amount.end + 1]
    } & _HALVES:
        return amount
    shape = tuple(map(len, amount.pieces))
    if shape == (1, *_CENTS) and texts[amount.start] == "one" and amount.unit == "n":
        first = amount.value % 1000  # "the next one three eighty nine"
        amount = amount._replace(value=first, pieces=amount.pieces[1:], start=amount.start + 1)
    spoken = tuple(map(len, amount.pieces)) == _CENTS and amount.unit == "n" and not amount.per
    if not spoken or not _CHEAPEST <= amount.value <= _DEAREST:
        return amount
    return amount._replace(value=amount.value / 100, pieces=(), each=False)  # "three eighty each": each gallon


_MONEY = frozenset(
    "money cash dollars dollar bucks cost costs costing price prices priced pay paying owe bill save saves saved saving cheaper cheapest dearer tab spend spent paid charge charges damage".split()
)
_BOUGHT = frozenset({"gal", "L", "mpg", "mi", "km"})
_BURNED = frozenset("gallon gallons price prices pump diesel fuel genny generator genset apu idling".split())
_HOUR_BEFORE = frozenset("from till until to since by between before after".split())
_HALVES = frozenset("am pm oclock".split())
"""Beside these it is a time of day."""
_AT_VOLTS = frozenset("volts volt amps amp psi".split())
_CENTS = (1, 2)
_CHEAPEST, _DEAREST = 200, 999


def _voltages(found: Sequence[Amount], texts: Sequence[str]) -> list[Amount]:
    """ "A thirty amp one twenty", "fifty amp two forty plug": what follows the size of a plug at once is its voltage."""
    out: list[Amount] = []
    for amount in found:
        last = out[-1] if out else None
        sized = last is not None and last.unit == "A" and last.end == amount.start and texts[last.end - 1] == "amp"
        if sized and amount.unit == "n" and not amount.per and amount.value in _MAINS:
            amount = amount._replace(unit="V", pieces=())
        out.append(amount)
    return out


def _weights(found: Sequence[Amount], texts: Sequence[str]) -> list[Amount]:
    """ "Steers eleven eight, drives thirty two four, limit thirty four": hundreds behind thousands, and a limit beside them in thousands."""
    words = {*texts}
    named = bool(words & _ON_A_SCALE) or len(words & _AXLES) > 1
    if not named or words & _NOT_WEIGHED:
        return list(found)
    full = [_said_on(_hundreds(one), texts) for one in found]
    if _in_thousands(texts):
        return [_each_thousand(one, texts) for one in full]
    if not any(one.unit in ("n", "lb") and _LIGHTEST <= one.value <= _HEAVIEST for one in full):
        return full
    return [_thousands(_of_axle(one, texts), texts) for one in full]


def _of_axle(amount: Amount, texts: Sequence[str]) -> Amount:
    """ "Tag eight six" as 8,600 beside axles told in full."""
    small = tuple(map(len, amount.pieces)) == _SMALL_PAIR and amount.unit in ("n", "lb") and not amount.per
    if small and {*texts[max(0, amount.start - 2) : amount.start]} & _AXLE_NAMES and "0" not in amount.pieces:
        return amount._replace(value=amount.value * 100, pieces=())
    return amount


def _in_thousands(texts: Sequence[str]) -> bool:
    """Whether all weights are said to be thousands: "fifteen two, twenty one eight, nine four, all thousands of pounds"."""
    at = [i for i, word in enumerate(texts) if word in ("thousand", "thousands")]
    return any(texts[i - 1 : i] in ([","], ["in"], ["all"], ["the"], ["are"], ["."]) for i in at)


def _each_thousand(amount: Amount, texts: Sequence[str]) -> Amount:
    """ "Nine four" as 9,400 and "twenty five" as 25,000."""
    bare = amount.unit in ("n", "lb") and not amount.per and not amount.each
    if not bare or amount.value >= _LIGHTEST:
        return amount
    if tuple(map(len, amount.pieces)) == _SMALL_PAIR:
        return amount._replace(value=amount.value * 100, pieces=())
    few = 2 <= amount.value < 100 and texts[amount.start : amount.end] != ["one"]  # "that one"
    return amount._replace(value=amount.value * 1000, pieces=()) if few and len(amount.pieces) <= 1 else amount


def _said_on(amount: Amount, texts: Sequence[str]) -> Amount:
    """ "Twenty two thousand one" as 22,100: nobody reads a scale to the pound."""
    more = amount.value % 1000
    said = texts[max(amount.start, amount.end - 2) : amount.end]
    odd = amount.unit in ("n", "lb") and amount.value >= _LIGHTEST and 1 <= more <= 9 and said[:1] == ["thousand"]
    return amount._replace(value=amount.value + 99 * more) if odd else amount


def _hundreds(amount: Amount) -> Amount:
    """ "Thirty three two" as 33,200."""
    pair = tuple(map(len, amount.pieces)) == _PAIR and amount.pieces[1] != "0"
    bare = amount.unit in ("n", "lb") and not amount.per and not amount.each
    return amount._replace(value=amount.value * 100, pieces=()) if pair and bare else amount


def _thousands(amount: Amount, texts: Sequence[str]) -> Amount:
    """ "Limit's thirty four" as 34,000 beside a weight told in full."""
    at = amount.start - 1
    while at >= 0 and texts[at] in _BETWEEN:
        at -= 1
    bare = amount.unit == "n" and not amount.per and not amount.each and amount.value % 1 == 0
    spoken = texts[amount.start].isalpha() and len(amount.pieces) < len(_PAIR)
    limit = at >= 0 and texts[at] in _LIMITS
    return (
        amount._replace(value=amount.value * 1000) if bare and spoken and limit and 8 <= amount.value <= 80 else amount
    )
