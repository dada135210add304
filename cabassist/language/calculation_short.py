"""Amounts said short: axle weights in pairs ("thirty three two" for 33,200), a voltage behind its amps ("thirty amp one twenty")."""

from __future__ import annotations

from collections.abc import Sequence

from cabassist.language.calculation_types import Amount

_ON_A_SCALE = frozenset(
    "axle axles scale scales scaled gross grossed tandem tandems steers drives gvw gvwr gawr ticket weighed".split()
)
_NOT_WEIGHED = frozenset("psi volts volt tread pressure inflated hours hour duty amps amp".split())
_LIMITS = frozenset("limit limits rated rating max maximum legal allowed".split())
_BETWEEN = frozenset("is at ' s for of to only".split())
_PAIR = (2, 1)
"""Figures of the thousands and of the hundreds."""
_LIGHTEST, _HEAVIEST = 5_000.0, 99_900.0

_MAINS = frozenset({110, 115, 117, 120, 125, 208, 220, 230, 240})


def said_short(found: Sequence[Amount], texts: Sequence[str]) -> list[Amount]:
    """The amounts with weights told by their thousands and voltages told without their unit in full."""
    return _weights(_voltages(found, texts), texts)


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
    if not words & _ON_A_SCALE or words & _NOT_WEIGHED:
        return list(found)
    full = [_hundreds(one) for one in found]
    if not any(one.unit in ("n", "lb") and _LIGHTEST <= one.value <= _HEAVIEST for one in full):
        return full
    return [_thousands(one, texts) for one in full]


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
