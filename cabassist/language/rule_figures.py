"""Figures of a rule told beside a question: "at 21,591 BTU to the pound", "4.24 pounds a gallon".

The estimates know what a pound of propane gives and what a gallon weighs. Told in passing, such a figure is no amount of the sum,
and taken for one it spoils the answer: "30 pounds at 21,591 a pound" would be 31 pounds, or a furnace. One that is not ours stays.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cabassist.language.calculation_amounts import Amount
from cabassist.language.lazy import Lazy


class _Figure(NamedTuple):
    """A figure of a rule and how it is told."""

    least: float
    most: float
    units: frozenset[str]
    """What it may be told in; "n" without a unit."""
    of: frozenset[str]
    """Of which so much: "a pound"."""
    bare: frozenset[float]
    """Values that are taken for it also without a unit; everything between the bounds when empty."""


_POUND = frozenset("pound pounds lb lbs".split())
_GALLON = frozenset("gallon gallons gal gals".split())
_HEATS = frozenset({"BTU", "BTU/h", "n", "furnace"})
FIGURES = (
    _Figure(21_330.0, 21_770.0, _HEATS, _POUND, frozenset()),
    _Figure(90_400.0, 92_300.0, _HEATS, _GALLON, frozenset()),
    _Figure(4.19, 4.29, frozenset({"lb", "n", "mi/gallon"}), _GALLON, frozenset({4.24, 4.2})),
    _Figure(8.3, 8.4, frozenset({"n", "mi/gallon"}), _GALLON, frozenset({8.34, 8.33, 8.3})),
)
"""A pound and a gallon of propane in BTU, a gallon of propane and one of water in pounds; as near to ours as the sums are told."""
_ALONE = frozenset({4.24, 8.34})
"""Nothing else of a bottle or a tank is just so much: "how many gallons is that at 4.24"."""
_OF_GAS = Lazy(r"\b(?:propane|gas|lp|lpg|bottles?|cylinders?|tare|furnaces?|heaters?|burners?|btus?|pounders?)\b")
_OF_WATER = Lazy(r"\b(?:water|fresh|waste|sewage|gr[ae]y|black)\b")
_OF_MONEY = Lazy(r"\$|\b(?:pay\w*|paid|cost\w*|bills?|dollars?|bucks|cents|money|price\w*|sav(?:e|es|ing)|cheaper|spend|owe|charge|charges|worth)\b")  # fmt: skip
_LEADS = frozenset("at @ say figure figuring figurin figured using use with call take taking and , of about".split())
_ARTICLES = frozenset("a an per the each every one / to in for".split())
_WEIGHS = frozenset("weighs weigh is has gives holds of propane gas lp it water being ' s".split())
_SAYS_WHAT = frozenset("propane gas lp water".split())
"""These stay: they tell what the question is about."""
_FARTHEST = 4
"""Words between "a gallon" and what it weighs."""


def without_rule_figures(amounts: Sequence[Amount], texts: Sequence[str]) -> tuple[list[Amount], frozenset[int]]:
    """The amounts that are no figure of a rule, and the places of the words that told one."""
    gone: set[int] = set()
    left = list(amounts)
    said = " ".join(texts)
    if len(amounts) < 2 or not (_OF_GAS.search(said) or _OF_WATER.search(said)):
        return left, frozenset()
    for one in amounts:
        span = _told(one, texts, said)
        if span is not None and len(left) > 1:
            gone |= {k for k in range(*span) if texts[k] not in _SAYS_WHAT}
            left = [other for other in left if not (span[0] <= other.start and other.end <= span[1])]
    return left, frozenset(gone)


def _told(one: Amount, texts: Sequence[str], said: str) -> tuple[int, int] | None:
    """Where a figure of a rule stands, with the words that belong to it; None when the amount is none."""
    for figure in FIGURES:
        if one.tag.removesuffix("/each") not in figure.units or not figure.least <= one.value <= figure.most:
            continue
        bare = one.tag in ("n", "mi/gallon")
        if one.each and figure is not FIGURES[0]:
            continue
        if bare and one.value in _ALONE and texts[one.start - 1 : one.start] in (["weighs"], ["weigh"], ["weighing"]):
            return one.start - 1, one.end  # "it's 4.30 a gallon and weighs 4.24"
        if figure is FIGURES[0] and (one.each or texts[one.end : one.end + 1] in (["each"], ["apiece"])):
            return one.start, one.end + (not one.each)
        if bare and figure.bare and (round(one.value, 3) not in figure.bare or _OF_MONEY.search(said)):
            continue
        if not (_OF_WATER if figure is FIGURES[-1] else _OF_GAS).search(said):
            continue
        end = one.end if one.tag == "mi/gallon" else _behind(texts, one.end, figure.of)
        start = one.start
        if (
            not end
            and bare
            and one.value in _ALONE
            and texts[start - 1 : start] in (["at"], ["using"], ["figure"], ["say"])
        ):
            end = one.end  # "how many gallons is that at 4.24"
        if not end:
            start = _before(texts, one.start, figure.of)
            if start < 0:
                continue
            end = one.end
        while start and texts[start - 1] in _LEADS and texts[start - 1] != ",":
            start -= 1
        return start, end
    return None


def _behind(texts: Sequence[str], end: int, of: frozenset[str]) -> int:
    """The end of "to the pound" or "a gallon of propane" behind an amount, or 0."""
    at = end
    while at < len(texts) and at - end < 2 and texts[at] in _ARTICLES:
        at += 1
    if at == end or at >= len(texts) or texts[at] not in of:
        return 0
    at += 1
    return at + 2 if list(texts[at : at + 2]) in (["of", "propane"], ["of", "gas"], ["of", "it"], ["of", "water"]) else at  # fmt: skip


def _before(texts: Sequence[str], start: int, of: frozenset[str]) -> int:
    """The start of "a gallon of propane weighs" before an amount, or -1."""
    at = start - 1
    while at > 0 and start - at <= _FARTHEST and texts[at] in _WEIGHS:
        at -= 1
    told = at < start - 1 and at > 0 and texts[at] in of and texts[at - 1] in ("a", "each", "one", "per", "every")
    return at - 1 if told else -1
