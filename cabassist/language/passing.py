"""Numbers of a question that name something or are told in passing: "exit 88", "won 5 to 2", "the kid's 19", "since 2009".

No sum takes them, and none may refuse to answer because of them. What may be an amount of a sum stays: a number with a unit,
or one that no word beside it explains.
"""

from __future__ import annotations

from collections.abc import Sequence

from cabassist.language.calculation_amounts import Amount
from cabassist.language.lazy import Lazy

_NAMED = Lazy(
    r"\b(?:exit|route|rte|highway|hwy|interstate|room|gate|door|dock|row|site|slip|stall|(?<!next )(?<!first )(?<!second )(?<!third )(?<!last )(?<!other )(?<!whole )lot|aisle|marker|milepost|post|kilometre|kilometer|number|code|jersey|player"
    r"|page|section|flight|channel|suite|platform|apartment|trailer|seat|locker|chapter|invoice|coach number|bus number|bay|county road|road|floor|game|terminal"
    r"|store|shop|station|truck stop|rest area|mp)(?: number)?(?: ' s| is)?(?: \.)? #$|\b(?:up|along|down|off|onto|via) the #$|\b[im] - #$|\bi #$|(?:^|\b(?:the|on|take|taking|off|onto|along|via|up|down|by|heading)(?: north| south| east| west)? )(?:m|us|sr|cr) #$"
)
"""Words before a number that make it a name: "room 208", "up the 17", "I-90"."""
_NAMED_TOO = Lazy(r"\b(?:coach|bus|unit|pump)(?: number)? #$")
"""These name only where no amps are told ("pump 6, lights 3") and no degrees ("coach 62, outside 10")."""
_LOADS = Lazy(r"\d ?(?:a|amps?)\b|\bamps?\b|\bwatts?\b|\b(?:inside|outside|degrees?|below|zero)\b")
_THREAD = Lazy(r"\bm(?: -)? #$")
_THREADS = range(12, 31)
_BOLTED = Lazy(r"\b(?:nuts?|lugs?|studs?|bolts?|threads?|torque\w*|wheels?)\b")
"""The size of a metric thread, "M22 nuts", is no amount of a sum."""
_AT_THE_POST = Lazy(r"\bpost(?: ' s| is| reads| at| shows)? #$")
_POST_VOLTS = range(100, 136)
_VOLTS = Lazy(r"\b(?:volts?|voltage)\b")
"""A post in a question about volts has so many of them and is no milepost."""
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
    r"\b(?:to spend|cost of|cost to|total cost|bill|cheaper|save|what do (?:i|we) (?:owe|pay)|how much (?:money|is that|do (?:i|we) pay|to (?:put|fill|top)|will it cost|does it cost)|what (?:will|does|would) (?:it|that|the \w+) cost|fuel (?:bill|cost)|costs? (?:me|us) \?|dollars (?:is|will|for|to)|a gallon|per gallon|price|in dollars|how many dollars|what (?:does|will|did) \w+ (?:\w+ )?cost|diesel (?:is|costs?)|fuel (?:is|costs?))\b"
)
_A_UNIT = Lazy(r"^# (?:dollars? |bucks )?(?:a|an|per|/) (?:gallon|gal|liter|litre|pound|lb|kilo)\b")
_PRICED = Lazy(
    r"(?:\$|€|£|\b(?:charg\w+|pay|paid|paying|cost|costs|price\w*|diesel|fuel|propane|pump))(?: \w+){0,2} ?\$? ?#$"
)
_ASKS_MONEY = Lazy(
    r"\b(?:how much (?!water|propane|gas|fuel|diesel|longer|further|farther|time|is left|left)|how many (?:dollars|bucks)|to spend|cost of|costs? (?:to|for|me|us)|(?:what|total|the) (?:\w+ ){0,3}cost|[,.] (?:total )?cost|bill|damage|spend|owe|in dollars|save|cheaper|what do (?:i|we) pay|do (?:i|we) pay)\b"
)
_ASKS_OTHER = Lazy(
    r"\b(?:how (?:far|long|many)|what (?:percent|mpg|speed|time|is (?:my|our) range)|how much (?:water|propane|gas|fuel|diesel|longer|further|farther|time|is left|left))\b"
)
_MARKED = Lazy(r"\$|\b(?:dollars?|bucks|cents)\b")
_CENTS = 2
_YEAR = Lazy(
    r"\b(?:in|since|from|back in|of|year|season|until|summer|winter|spring|fall|january|march|april|october|november|december) #$"
)
_BUILT = Lazy(r"\b(?:coach|bus|rig|unit|it|she)(?: is| ' s|) an? (?:\w+ )?#$")
"""The year a coach was built: "the coach is a 2009 by the way"."""
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
    prices = [k for k, one in enumerate(amounts) if _is_price(one, texts, said)]
    if len(prices) == 1:  # with "a gallon" behind it
        behind = amounts[prices[0] + 1 : prices[0] + 2]
        gone = [amounts[prices[0]], *(one for one in behind if one.start == amounts[prices[0]].end)]
        amounts = [one for one in amounts if one not in gone]
    return [one for one in amounts if not _is_passing(one, amounts, texts, said) and not _told_by(one, amounts, texts)]


def _told_by(count: Amount, amounts: Sequence[Amount], texts: Sequence[str]) -> bool:
    """Whether the lengths tell themselves how many cords there are: "two cords end to end, 50 ft and 25 ft"."""
    lengths = [one for one in amounts if one.unit in ("ft", "m") and one.start >= count.end]
    if (count.unit, count.value, len(lengths)) != ("cord", 2, 2):
        return False
    return {*texts[lengths[0].end : lengths[1].start]} <= {"and", "plus", "+", ",", "a", "an", "the", "one", "of"}


def _is_price(amount: Amount, texts: Sequence[str], said: str) -> bool:
    """Whether it is what a gallon or a pound costs, where no money is asked for: "they charge 4.19 a gallon"."""
    after = f"# {' '.join(texts[amount.end : amount.end + _NEAR])}"
    if amount.unit != "n" or not _A_UNIT.search(after) or not _ASKS_OTHER.search(said) or _ASKS_MONEY.search(said):
        return False
    before = f"{' '.join(texts[max(0, amount.start - _NEAR) : amount.start])} #"
    cents = texts[amount.end - 1].partition(".")[2]
    if _in_words(amount, texts):
        return _PRICED.search(before) is not None
    spoken = amount.value % 1 and 1 < amount.value < 10 and (len(cents) == _CENTS or texts[amount.start].isalpha())
    return len(_MARKED.findall(said)) <= 1 and bool(spoken) and _PRICED.search(before) is not None


def _in_words(amount: Amount, texts: Sequence[str]) -> bool:
    """Whether it is "3 dollars" of "3 dollars a gallon"."""
    return texts[amount.end - 1] in ("dollars", "dollar", "bucks")


def _is_passing(amount: Amount, amounts: Sequence[Amount], texts: Sequence[str], said: str) -> bool:
    before = f"{' '.join(texts[max(0, amount.start - _NEAR) : amount.start])} #".strip()
    after = f"# {' '.join(texts[amount.end : amount.end + _NEAR])}".strip()
    if amount.unit == "year":
        return _DATED.search(said) is None and not amount.per
    if amount.unit != "n" or amount.per or amount.each:
        return False
    following = texts[amount.end] if amount.end < len(texts) else ""
    if following in _OTHER_THINGS and following not in _CLEAR and not _weighed(amount, amounts, texts):
        return True
    if _in_words(amount, texts) and not _ASKS_MONEY.search(said):
        return True
    if (_MONEY.search(after) or _PAID.search(before)) and not _PRICE.search(said) and not _compared(amount, amounts):
        return True
    if _AGED.search(before) and amount.value < 90 and following in ("", ",", ".", "and", "tops", "now", "but"):
        return True
    if _CODE.search(before) or _AGE.search(after):
        return True
    whole = amount.value == int(amount.value)
    if _AT_THE_POST.search(before) and amount.value in _POST_VOLTS and _VOLTS.search(said):
        return False
    if _ended(amount, texts):
        return False
    if _NAMED.search(before) and whole and following not in ("percent", "/", "x") and not _measuring(amount, texts):
        return True
    if _THREAD.search(before) and amount.value in _THREADS and _BOLTED.search(said):
        return True
    if _NAMED_TOO.search(before) and whole and not _LOADS.search(said) and following not in ("by", "x"):
        return True
    if (
        whole
        and 1950 <= amount.value <= 2040
        and amount.end - amount.start <= 4
        and (_YEAR.search(before) or _BUILT.search(before))
        and not _DATED.search(said)
    ):
        return not _of_day(texts)
    return whole and amount.value < 20 and _scored(amount, amounts, texts)


_LONG = 4


def _ended(amount: Amount, texts: Sequence[str]) -> bool:
    """Whether a sentence ends before it: "no trailer. 118 on the gauge"; "hwy. 17" is a name."""
    before = texts[max(0, amount.start - 2) : amount.start]
    return len(before) == 2 and before[1] == "." and len(before[0]) > _LONG


def _compared(amount: Amount, amounts: Sequence[Amount]) -> bool:
    """Whether another price stands beside it: "paid 3.79 there and here it is 4.19"."""
    others = (one for one in amounts if one is not amount and one.unit == "n" and not one.per)
    return amount.value % 1 > 0 and any(one.value % 1 > 0 and 1 < amount.value + one.value < 20 for one in others)


def _weighed(amount: Amount, amounts: Sequence[Amount], texts: Sequence[str]) -> bool:
    """Whether the things have a weight or a draw of their own: "twenty pairs of skates at five pounds"."""
    following = next((one for one in amounts if one.start >= amount.end), None)
    return (
        following is not None
        and following.start - amount.end <= _NEAR + 1
        and (
            (following.unit in ("lb", "kg") and texts[following.start - 1] in ("at", "@", "weighing", "weigh"))
            or (following.unit in ("A", "W") and _of_each(following, texts))
        )
    )


def _of_each(draw: Amount, texts: Sequence[str]) -> bool:
    """Whether a draw is that of one of several: "two fans at 3 amps", "two pumps, 4 amps each"."""
    return texts[draw.start - 1] in ("at", "@") or list(texts[draw.end : draw.end + 1]) in (["each"], ["apiece"])


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
