"""What fuel costs, told whole: two prices beside each other, an engine against a generator, a night on shore power, money to spend.

A price is said in many ways ("four thirty nine", "three dollars ninety", "$4.05 a gallon"), and which number is one is told by its
words. Each reader here answers only when every amount and every sum of money of the question has its place.
"""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.numbers import number_at
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, parts, spans_between

_SOURCE = "arithmetic"
_CUES = ("paid", "less", "against", "versus", "cost", "pay", "owe", "money", "dollar", "buck", "save", "cheap", "bill", "spen", "$", "price", "a gallon", "ahead", "difference")  # fmt: skip
_MONEY = frozenset({"dollars", "dollar", "bucks"})
_LEAST, _MOST = 1.0, 12.0
"""What a gallon costs, in dollars."""
_WIDEST = 6
"""Words that a sum of money has at most."""


class Sum(NamedTuple):
    """Dollars told in the question that are no amount of a sum elsewhere: "three hundred bucks to spend"."""

    value: float
    after: str
    """The words behind it."""
    before: str


def _dollars(q: Question) -> list[Sum]:
    """Sums of money said with their word, that stand among no amounts."""
    found: list[Sum] = []
    taken = {i for one in q.amounts for i in range(one.start, one.end)}
    for at, word in enumerate(q.words):
        if word not in _MONEY or at in taken:
            continue
        for start in range(max(0, at - _WIDEST), at):
            number = number_at(q.words, start) if not taken & set(range(start, at)) else None
            if number is not None and number.end == at:
                end, value = at + 1, number.value
                cents = number_at(q.words, end) if end < len(q.words) and end not in taken else None
                if cents is not None and value < _MOST and 1 <= cents.value < 100 and cents.value % 1 == 0:
                    value, end = value + cents.value / 100, cents.end
                after, before = q.words[end : end + 4], q.words[max(0, start - 4) : start]
                found.append(Sum(value, f" {' '.join(after)} ", f" {' '.join(before)} "))
                break
    return found


_A_GALLON = Lazy(r"^ (?:dollars? |\$ )?(?:a gallon|per gallon|the gallon|<gal>|/ gal)")
_PRICED = Lazy(
    r"\b(?:price\w*|diesel|fuel|pump|station|stop|here|there|town|place|it|line|at|propane|gas|is|costs?|charg\w+|says|wants?|versus|vs|or|and|against|a|b|<gal>)(?: (?:is|now|says|sez|at|it is|about|for|over here|only|here|there|wants|costs?|' s|\$))* $"
)


def _is_price(part: Part, q: Question) -> bool:
    """Whether a number is what a gallon costs: with cents, or with the words of a price."""
    if part.kind != "n" or not _LEAST <= part.value <= _MOST or part.amount.per:
        return False
    said = q.words[part.amount.start : part.amount.end]
    if said[-1] in _MONEY or _A_GALLON.search(part.after) or part.right.startswith((" even ", " flat ")):
        return True
    cents = abs(part.value * 100 - round(part.value * 100)) < 1e-6 and part.value % 1 != 0
    spoken = len(said) > 1 and "point" not in said and "and" not in said and said[0].isalpha()
    written = len(said) == 1 and len(said[0].partition(".")[2]) == 2
    return cents and (spoken or written)


_BUYING = Lazy(r"\b(?:buy\w*|tak(?:e|ing)(?: on)?|need(?:ing)?|put(?:ting)? in|pump\w*)(?: (?:about|around|in|on))* $")


_ANOTHER = Lazy(r"\b(?:and|another|then|plus)(?: (?:another|then))* $")


class Told(NamedTuple):
    """The parts of a question of money, each in its place."""

    prices: list[Part]
    gallons: list[Part]
    rates: list[Part]
    times: list[Part]
    miles: list[Part]
    shares: list[Part]
    sums: list[Sum]
    rest: list[Part]


_OTHER = frozenset({"people", "temperature"})
_RUNS = Lazy(
    r"\b(?:idl\w*|generator|genny|genset|gen ?set|gen|apu|(?:main |big )?(?:engine|motor)|other(?: one)?)(?: (?:the|big|main|engine|motor|takes?|burns?|us(?:es|ing)|is|at|drinks?|sips?|does|only|about|it|costs?|runs?|on|eats?|' s))* $"
)


def _told(q: Question) -> Told:
    """Every part by what it is; what is nothing of the kind is left over."""
    told = Told([], [], [], [], [], [], _dollars(q), [])
    found = [part for part in parts(q) if part.kind not in _OTHER]
    had_rate = any(part.kind == "volume/time" for part in found)
    for k, part in enumerate(found):
        last = found[k - 1] if k else None
        if (
            last is not None
            and part.kind == "volume"
            and part.value == 1
            and last in told.prices
            and last.amount.end == part.amount.start
        ):
            continue  # "a gallon" behind its price
        if part.kind == "time" and part.value < 5 and q.words[part.amount.end - 2 : part.amount.end] == ("an", "hour"):
            if _RUNS.search(part.left):  # "the generator burns three tenths an hour"
                part, had_rate = part._replace(kind="volume/time"), True
        small = part.kind in ("n", "share", "volume") and 0 < part.value < 5 and (part.unit != "percent")
        if part.kind == "volume/time" or (small and _RUNS.search(part.left) and (had_rate or part.kind == "volume")):
            told.rates.append(part)
        elif _is_price(part, q):
            told.prices.append(part)
        elif (
            part.kind == "n"
            and part.value >= 10
            and (_BUYING.search(part.left) or (told.gallons and _ANOTHER.search(part.left) and part.right == " at "))
        ):
            told.gallons.append(part)
        elif small and part.kind == "volume" and part.left in (" at ", " burning ", " burns "):
            told.rates.append(part)
        else:
            place = {
                "volume": told.gallons,
                "time": told.times,
                "clock": told.times,
                "distance": told.miles,
                "share": told.shares,
            }
            place.get(part.kind, told.rest).append(part)
    return told


def _names(q: Question) -> int:
    """How many amounts the parts stand for; an amount of no kind makes the question another one."""
    return len([one for one in q.amounts if q.words[one.start : one.end] != ("one",)])


def money(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What is paid, saved or bought, with which of two is cheaper; None when a number has no place."""
    if not names_any(q.text.lower(), _CUES) or _ELSE.search(q.frame):
        return None
    if len(parts(q)) != _names(q):
        return None
    told = _told(q)
    if told.rest:
        return None
    for read in (_two_burns, _flat_night, _two_prices, _two_fills, _burn_cost, _bought, _topped):
        found = read(q, told)
        if found is not None:
            return found
    return None


_ELSE = Lazy(r"\b(?:propane|cylinders?|bottles?|bags?|volts?|breaker|percent of (?:the|my) driv\w+)\b|<(?:A|Ah|V|W|psi|lb|kg|BTU|BTU/h)(?:/\w+)*>")  # fmt: skip
_WHICH = Lazy(
    r"\b(?:cheap\w*|save[sd]?|saving|difference|less|more|better off|ahead|instead|versus|vs|against|dearer|worth it)\b"
)
_GALLONS = Lazy(r"\b(?:how (?:many|much) (?:gallons|fuel|diesel)|gallons? (?:do|will|would|can|is|saved))\b")


def _hours(times: list[Part]) -> float | None:
    """Hours told as one span, or from one time of day to another."""
    spans = [one for one in times if one.kind == "time" and one.unit in ("h", "min")]
    if len(times) == 1 and len(spans) == 1:
        return spans[0].value
    clocks = [one for one in times if one.kind == "clock"]
    if len(times) == 2 and len(clocks) == 2:
        return min((one for one in spans_between(clocks[0], clocks[1]) if one > 0.01), default=None)
    return None


_GENERATOR = Lazy(r"\b(?:generator|genny|genset|gen ?set|gen|apu)\b")
_ENGINE = Lazy(r"\b(?:idl\w*|engine|motor)\b")


def _burner(part: Part) -> str:
    """What burns it, by the nearer word in front of it; "" when none stands there."""
    text = part.left if _GENERATOR.search(part.left) or _ENGINE.search(part.left) else part.before
    ends = {name: max((one.end() for one in words.finditer(text)), default=-1) for name, words in (("generator", _GENERATOR), ("engine", _ENGINE))}  # fmt: skip
    best = max(ends, key=lambda name: ends[name])
    return best if ends[best] >= 0 and ends["generator"] != ends["engine"] else ""


def _two_burns(q: Question, told: Told) -> Estimate | None:
    """The engine idling against the generator, over some hours: gallons and money, and which is cheaper."""
    hours = _hours(told.times)
    if len(told.rates) != 2 or hours is None or len(told.prices) + len(told.sums) > 1 or not _WHICH.search(q.frame):
        return None
    if told.gallons or told.miles or told.shares:
        return None
    names = [_burner(one) for one in told.rates]
    if set(names) != {"generator", "engine"}:
        return None
    by = dict(zip(names, (one.value for one in told.rates), strict=True))
    called = {"generator": "APU" if "apu" in q.words else "generator", "engine": "engine"}
    by = {called[name]: value for name, value in by.items()}
    less = min(by, key=lambda name: by[name])
    gallons = (max(by.values()) - min(by.values())) * hours
    line = (
        f"({shown(max(by.values()))} - {shown(min(by.values()))}) gal an hour x {shown(hours)} h = {shown(gallons)} gal"
    )
    prices = [one.value for one in told.prices] + [one.value for one in told.sums if one.value <= _MOST]
    if not prices:
        if told.sums:
            return None
        return exact("saved", gallons, "gal", working=(line,), source=_SOURCE, verdict=f"The {less} is cheaper, by {shown(gallons)} gallons.")  # fmt: skip
    saved = gallons * prices[0]
    each = " and ".join(f"the {name} {_cash(by[name] * hours * prices[0])}" for name in sorted(by))
    lines = (line, f"{shown(gallons)} gal x {_cash(prices[0])} = {_cash(saved)} dollars")
    return exact("saved", saved, "dollars", working=lines, source=_SOURCE, verdict=f"The {less} is cheaper: {each}.", also=(figure("fuel", gallons, "gal"),))  # fmt: skip


def _cash(dollars: float) -> str:
    return f"{dollars:,.2f}".removesuffix(".00")


_A_NIGHT = Lazy(r"^ (?:a|per|for the|the|each|flat|for|to) ?(?:night|plug|hook ?up|flat|site|spot|day|hook)?\b")
_SHORE = Lazy(r"\b(?:shore|plug|hook ?up|pedestal|outlet|site|spot|campground|lot|park\w*)\b")


def _flat_night(q: Question, told: Told) -> Estimate | None:
    """A flat price for shore power against what the generator or the engine burns in the same time."""
    hours = _hours(told.times)
    if len(told.rates) != 1 or hours is None or not _SHORE.search(q.frame) or not _WHICH.search(q.frame):
        return None
    flat = [one for one in told.sums if one.value > _MOST or _A_NIGHT.search(one.after)]
    prices = [one.value for one in told.prices] + [
        one.value for one in told.sums if one not in flat and one.value <= _MOST
    ]
    burner = _burner(told.rates[0]) or ("generator" if _GENERATOR.search(q.frame) else "engine" if _ENGINE.search(q.frame) else "")  # fmt: skip
    if len(flat) != 1 or len(prices) != 1 or not burner or told.gallons or told.miles or told.shares:
        return None
    burned = told.rates[0].value * hours
    cost = burned * prices[0]
    gap = abs(cost - flat[0].value)
    less = burner if cost < flat[0].value else "shore power"
    lines = (f"{shown(told.rates[0].value)} gal an hour x {shown(hours)} h = {shown(burned)} gal", f"{shown(burned)} gal x {_cash(prices[0])} = {_cash(cost)} dollars")  # fmt: skip
    verdict = f"{less.capitalize() if less == 'shore power' else f'The {less}'} is cheaper, by {_cash(gap)} dollars: {_cash(cost)} for the {burner}, {_cash(flat[0].value)} for shore power."
    return exact("difference", gap, "dollars", working=lines, source=_SOURCE, verdict=verdict, also=(figure("burned", cost, "dollars"), figure("fuel", burned, "gal")))  # fmt: skip


_ALONE = Lazy(r"\b(?:alone|only on the fuel|aside|not counting|leaving out|forget(?:ting)? the|never mind the)\b")


def _two_prices(q: Question, told: Told) -> Estimate | None:
    """What one pump saves against another, over the gallons that are bought."""
    if len(told.prices) != 2 or len(told.gallons) != 1 or not _WHICH.search(q.frame) or told.sums:
        return None
    if told.rates or told.times or told.shares or (told.miles and not _ALONE.search(q.frame)):
        return None
    first, second = (one.value for one in told.prices)
    gallons = told.gallons[0].value
    gap = abs(first - second)
    saved = gap * gallons
    line = (
        f"({_cash(max(first, second))} - {_cash(min(first, second))}) x {shown(gallons)} gal = {_cash(saved)} dollars"
    )
    verdict = f"{_cash(min(first, second))} is cheaper: {_cash(min(first, second) * gallons)} against {_cash(max(first, second) * gallons)} dollars."
    return exact("saved", saved, "dollars", working=(line,), source=_SOURCE, verdict=verdict)


_PAYS = Lazy(
    r"\b(?:cost\w*|bill|spen[dt]|pay|paid|owe|total|how much (?:money|is that|was that)|dollars|bucks|damage)\b"
)


def _two_fills(q: Question, told: Told) -> Estimate | None:
    """Two fills, each at its own price, in one sum."""
    if (
        len(told.prices) != 2
        or len(told.gallons) != 2
        or told.sums
        or not _PAYS.search(q.frame)
        or _WHICH.search(q.frame)
    ):
        return None
    if told.rates or told.times or told.miles or told.shares:
        return None
    order = sorted((*told.prices, *told.gallons), key=lambda one: one.amount.start)
    if [one in told.gallons for one in order] not in ([True, False, True, False], [False, True, False, True]):
        return None
    each = [first.value * second.value for first, second in ((order[0], order[1]), (order[2], order[3]))]
    line = f"{_cash(each[0])} + {_cash(each[1])} = {_cash(sum(each))} dollars"
    return exact("fuel cost", sum(each), "dollars", working=(line,), source=_SOURCE)


def _burn_cost(q: Question, told: Told) -> Estimate | None:
    """What an engine or a generator burns in some hours, and what that costs."""
    hours = _hours(told.times)
    prices = [one.value for one in told.prices] + [one.value for one in told.sums if one.value <= _MOST]
    if len(told.rates) != 1 or hours is None or len(prices) != 1 or len(told.sums) > 1 or not _PAYS.search(q.frame):
        return None
    if (
        told.gallons
        or told.miles
        or told.shares
        or _WHICH.search(q.frame)
        or len(prices) != len(told.prices) + len(told.sums)
    ):
        return None
    gallons = told.rates[0].value * hours
    cost = gallons * prices[0]
    lines = (
        f"{shown(told.rates[0].value)} gal an hour x {shown(hours)} h = {shown(gallons)} gal",
        f"{shown(gallons)} gal x {_cash(prices[0])} = {_cash(cost)} dollars",
    )
    return exact(
        "fuel cost",
        cost,
        "dollars",
        working=lines,
        source=_SOURCE,
        verdict=f"{shown(gallons)} gallons.",
        also=(figure("fuel", gallons, "gal"),),
    )


_BUYS = Lazy(
    r"\bhow (?:many gallons|much (?:fuel|diesel|can))\b|\bgallons (?:do|will|can|would|is that|does)\b|\bhow many\b"
)


def _bought(q: Question, told: Told) -> Estimate | None:
    """Gallons that a sum of money buys."""
    if told.gallons or told.rates or told.times or told.miles or told.shares or not _BUYS.search(q.frame):
        return None
    prices = [one.value for one in told.prices] + [one.value for one in told.sums if one.value <= _MOST]
    spent = [one.value for one in told.sums if one.value > _MOST]
    if len(prices) != 1 or len(spent) != 1:
        return None
    gallons = spent[0] / prices[0]
    return exact("fuel", gallons, "gal", working=(f"{_cash(spent[0])} ÷ {_cash(prices[0])} = {shown(gallons)} gal",), source=_SOURCE)  # fmt: skip


_EACH = Lazy(
    r"\b(?:what|how much)(?: (?:is|was|does|did|do|' s|that|it|i|we|they|he|me|us|pay|paid|charge|work out|come|came|to|at|charge|for))* (?:<gal>|(?:a|per|each|the) gallon)|\bprice (?:per|a|of a) gallon\b|\bprice (?:of |per )?<gal>"
)
_SPENT = Lazy(
    r"\b(?:spent|paid|cost|bill|charged|was|ran|took|hit me for|total|came to)(?: (?:me|us|was|of|for|about|\$))* $"
)


def paid_each(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What a gallon came to, from what was paid for some."""
    if not names_any(q.text.lower(), ("spent", "paid", "cost", "bill", "charged", "$", "dollar", "buck")):
        return None
    if not _EACH.search(q.frame) or _ELSE.search(q.frame):
        return None
    sums = _dollars(q)
    found = [part for part in parts(q) if part.kind not in _OTHER]
    one = [part for part in found if part.kind == "volume" and part.value == 1]
    many = [part for part in found if part.kind == "volume" and part.value > 1]
    paid = [part.value for part in found if part.kind == "n" and _SPENT.search(part.left)] + [one.value for one in sums]
    if len(many) != 1 or len(paid) != 1 or len(found) != len(one) + len(many) + len(paid) - len(sums) or len(one) > 1:
        return None
    price = paid[0] / many[0].value
    if not 0.5 <= price <= 20:
        return None
    return exact("price", price, "dollars", working=(f"{_cash(paid[0])} ÷ {shown(many[0].value)} gal = {price:.3f} dollars a gallon",), source=_SOURCE)  # fmt: skip


_TOP = Lazy(r"\b(?:fill|top|full)\b")
_LEFT_IN = Lazy(r"\b(?:at|on|down to|has|shows?|reads?|is|sitting at|' s|only)(?: (?:about|a|only))* $")


def _topped(q: Question, told: Told) -> Estimate | None:
    """Gallons that fill a tank from a share of full, and what they cost."""
    prices = [one.value for one in told.prices] + [one.value for one in told.sums if one.value <= _MOST]
    if len(told.gallons) != 1 or len(told.shares) != 1 or len(prices) != 1 or not _TOP.search(q.frame):
        return None
    if told.rates or told.times or told.miles or len(prices) != len(told.prices) + len(told.sums):
        return None
    share, size = told.shares[0], told.gallons[0].value
    if not _LEFT_IN.search(share.left) or not 0 < share.value < 1 or size < 20:
        return None
    gallons = size * (1 - share.value)
    cost = gallons * prices[0]
    lines = (f"{shown(size)} gal x (1 - {shown(share.value)}) = {shown(gallons)} gal", f"{shown(gallons)} gal x {_cash(prices[0])} = {_cash(cost)} dollars")  # fmt: skip
    return exact("fuel cost", cost, "dollars", working=lines, source=_SOURCE, verdict=f"{shown(gallons)} gallons to fill it.", also=(figure("fuel", gallons, "gal"),))  # fmt: skip


_BURNT = Lazy(
    r"\b(?:burn\w*|used?|using|took|takes|went through|drank|put in|filled|on)(?: (?:about|up|around|only|in|us|her))* $"
)
_GETTING = Lazy(
    r"\b(?:what|how)\b[^.?]*\b(?:getting|get|gets|got|mileage|mpg|(?:to|per|a) (?:the )?gallon)\b|\b(?:mpg|mileage) $|\bto the gallon\b"
)


def got_a_gallon(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Miles a gallon from gallons burned over some miles."""
    if len(q.amounts) != 2 or want.kind not in ("", "mileage") or not _GETTING.search(q.frame):
        return None
    found = parts(q)
    gallons = [part for part in found if part.kind == "volume" and part.value > 1 and _BURNT.search(part.left)]
    miles = [part for part in found if part.kind == "distance"]
    if [len(gallons), len(miles)] != [1, 1] or q.has(r"\b(?:left|to go|tank|idl\w*|def|more|still)\b"):
        return None
    got = miles[0].value / gallons[0].value
    if not 1.5 <= got <= 40:
        return None
    line = f"{shown(miles[0].value)} mi ÷ {shown(gallons[0].value)} gal = {shown(got)} mpg"
    return exact("mileage", got, "mpg", working=(line,), source=_SOURCE)
