"""Numbers of a question that name something or are told in passing: "exit 88", "won 5 to 2", "the kid's 19", "since 2009".

No sum takes them, and none may refuse to answer because of them. What may be an amount of a sum stays: a number with a unit,
or one that no word beside it explains.
"""

from __future__ import annotations

from collections.abc import Sequence

from cabassist.language.calculation_amounts import Amount
from cabassist.language.lazy import Lazy

_NAMED = Lazy(
    r"\b(?:exit|route|rte|highway|hwy|interstate|room|gate|door|dock|row|site|slip|stall|lot|aisle|marker|milepost|post|kilometre|kilometer|number|code|jersey|player"
    r"|page|section|flight|channel|suite|platform|apartment|trailer|seat|locker|chapter|invoice|coach number|bus number|bay|county road|road|floor|game|terminal"
    r"|store|shop|station|truck stop|rest area|mp)(?: number)?(?: ' s| is)?(?: \.)? #$|\b(?:up|along|down|off|onto|via) the #$|\bi - #$|\bi #$"
)
"""Words before a number that make it a name: "room 208", "up the 17", "I-90"."""
_NAMED_TOO = Lazy(r"\b(?:coach|bus|unit|pump)(?: number)? #$")
"""These name only where no amps are told ("pump 6, lights 3") and no degrees ("coach 62, outside 10")."""
_LOADS = Lazy(r"\d ?(?:a|amps?)\b|\bamps?\b|\bwatts?\b|\b(?:inside|outside|degrees?|below|zero)\b")
_CODE = Lazy(r"\b(?:code|combination|pin|lock|password|extension|zip)(?: ' s| is| was)? #$")
_AGED = Lazy(
    r"\b(?:who|he|she|kid|guy|driver|coach|helper|trainer|son|daughter|dad|wife)(?: ' s| is|'s) (?:only |just |about |all of )?#$"
)
_AGE = Lazy(r"^# (?:tops|years? (?:old|of age)|year old|and never|yrs? old)\b")
_PAID = Lazy(
    r"(?:\$|€|£|\b(?:cost|costs|charged|paid|paying|fined|tipped|owe|owes|bet)(?: me| us| him| them| you)?(?: about| only| just| like)?) ?\$? ?#$"
)
_MONEY = Lazy(r"^# (?:and (?:a half |change )?)?(?:dollars?|bucks|euros?|cents|quid|loonies)\b|^# \$")
_PRICE = Lazy(
    r"\b(?:how much (?:money|will it cost|does it cost)|what (?:will|does|would) (?:it|that|the \w+) cost|fuel (?:bill|cost)|costs? (?:me|us) \?|dollars (?:is|will|for|to)|a gallon|per gallon|price|in dollars|how many dollars|what (?:does|will|did) \w+ (?:\w+ )?cost|diesel (?:is|costs?)|fuel (?:is|costs?))\b"
)
_YEAR = Lazy(
    r"\b(?:in|since|from|back in|of|year|season|until|summer|winter|spring|fall|january|march|april|october|november|december) #$"
)
_DATED = Lazy(
    r"\b(?:re ?qualif\w*|re ?test\w*|re ?cert\w*|collar|stamp\w*|hydro\w*|cylinder|bottle|propane|tare|expire\w*|dot)\b"
)
_YEARS_BESIDE = Lazy(r"^# (?:of it|old|ago|now|and|on|in|driving|behind|at|with|,|\.|experience|running|$)|^#$")
_OTHER_THINGS = frozenset(
    "burritos beers dogs donuts doughnuts cookies snacks cones moose deer coffees tea teas hamburgers burgers sandwiches"
    " cops troopers wrecks crashes accidents ditch nuts lugs studs tires tyres wheels pumps tvs televisions movies shows episodes texts calls emails tries attempts"
    " hats jackets boots pairs potholes bridges tolls tunnels hills curves exits turns"
    " hounds goalkeepers fans parents refs referees periods overtimes championships cups trophies medals brothers sisters grandkids".split()
)
_CLEAR = frozenset({"cups", "goalkeepers"})
_NEAR = 4
"""Words on each side that are looked at."""


def without_passing(amounts: Sequence[Amount], texts: Sequence[str]) -> list[Amount]:
    """The amounts that a sum can be about."""
    said = " ".join(texts)
    return [one for one in amounts if not _is_passing(one, amounts, texts, said)]


def _is_passing(amount: Amount, amounts: Sequence[Amount], texts: Sequence[str], said: str) -> bool:
    before = f"{' '.join(texts[max(0, amount.start - _NEAR) : amount.start])} #".strip()
    after = f"# {' '.join(texts[amount.end : amount.end + _NEAR])}".strip()
    if amount.unit == "year":
        return _DATED.search(said) is None and not amount.per
    if amount.unit != "n" or amount.per or amount.each:
        return False
    following = texts[amount.end] if amount.end < len(texts) else ""
    if following in _OTHER_THINGS and following not in _CLEAR:
        return True
    if (_MONEY.search(after) or _PAID.search(before)) and not _PRICE.search(said):
        return True
    if _AGED.search(before) and amount.value < 90 and following in ("", ",", ".", "and", "tops", "now", "but"):
        return True
    if _CODE.search(before) or _AGE.search(after):
        return True
    whole = amount.value == int(amount.value)
    if _NAMED.search(before) and whole and following not in ("percent", "/", "x") and not _measuring(amount, texts):
        return True
    if _NAMED_TOO.search(before) and whole and not _LOADS.search(said) and following not in ("by", "x"):
        return True
    if (
        whole
        and 1950 <= amount.value <= 2040
        and amount.end - amount.start <= 4
        and _YEAR.search(before)
        and not _DATED.search(said)
    ):
        return not _of_day(texts)
    return whole and amount.value < 20 and _scored(amount, amounts, texts)


def _measuring(amount: Amount, texts: Sequence[str]) -> bool:
    """Whether a word that can name a thing rather tells what is measured: "number of bags 30", "bay 12 by 4"."""
    if list(texts[amount.end : amount.end + 3]) == ["by", "the", "way"]:
        return False
    return " ".join(texts[amount.end : amount.end + 1]) in ("by", "ft", "-") or " ".join(
        texts[max(0, amount.start - 2) : amount.start]
    ) in ("of coach", "of bus")


def _of_day(texts: Sequence[str]) -> bool:
    """Whether times of day are written as four figures here, so that 2015 may be one: "2015 to 0545"."""
    return any(len(one) == 4 and one.isdigit() and one[0] == "0" for one in texts)


def _scored(amount: Amount, amounts: Sequence[Amount], texts: Sequence[str]) -> bool:
    """Whether it is one side of a score: "won 5 to 2", "lost it 4-1"."""
    for other in amounts:
        first, last = sorted((amount, other), key=lambda one: one.start)
        if other is amount or other.unit != "n" or texts[first.end : last.start] not in (["to"], ["-"], ["two"]):
            continue
        before = " ".join(texts[max(0, first.start - 3) : first.start])
        after = " ".join(texts[last.end : last.end + 2])
        if Lazy(r"\b(?:won|lost|beat|tied|scored?|final|up|lead\w*|win|loss)\b").search(before) or Lazy(r"^(?:win|loss|final|in overtime|in ot|last night)").search(after):  # fmt: skip
            return True
    return False
