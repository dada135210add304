"""Money shared out or metered: a bill with tax or tip split by heads, a price a kilowatt hour, gallons a night at a price."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.calculation_units import HOURS
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.numbers import number_at
from cabassist.language.placed import placed
from cabassist.language.wanted import Wanted

_EACH = Lazy(r"\b(?:how much|what|each|share)\b[^.?]*\b(?:each|apiece|per (?:head|person|man)|a (?:head|man|person)|everybody|pays?|owe|chip in|put in)\b|\beach (?:pays?|owes?)\b")  # fmt: skip
_ADDED = Lazy(r"^(?:\w+ )?(?:tax|tip|taxes|gratuity|service|fee)\b|^on (?:top|that)\b")
_ADDED_LEFT = Lazy(r"\b(?:tax|tip|tipping|plus|gratuity|service|fee)(?: (?:of|is|a|at|plus))* $")
_OFF = Lazy(r"\b(?:off|discount|less|without)\b")
_BILL = Lazy(r"\b(?:came to|comes to|come to|bill|cost|costs|is|was|total|ran|paid|at|for|tab|check)(?: (?:is|was|us|of|about|to|came|a|\$))* $")  # fmt: skip
_THINGS = frozenset("rooms room pizzas tickets meals spots sites nights coffees sandwiches".split())
_ELSE = Lazy(r"<(?:gal|lb|A|V|W|kW|mi|h|gal/\w+)(?:/\w+)*>|\b(?:gallons?|propane|diesel)\b")


def shared_bill(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What each pays of a bill, with tax or a tip in percent of it."""
    if not _EACH.search(q.frame) or _ELSE.search(q.frame) or _OFF.search(q.frame):
        return None
    if not names_any(
        q.text.lower(), ("pay", "bill", "cost", "tip", "tax", "chip", "owe", "split", "$", "dollar", "buck", "came to")
    ):
        return None
    found = placed(q)
    if found is None or any(one.amount.per for one in found):
        return None
    people = [one for one in found if one.unit == "people"]
    shares = [one for one in found if one.unit == "percent" and (_ADDED.search(one.right) or _ADDED_LEFT.search(one.left))]  # fmt: skip
    rest = [one for one in found if one not in (*people, *shares)]
    if len(people) != 1 or people[0].value < 2 or len(shares) > 1 or len(rest) != 1 or rest[0].unit != "n":
        return None
    if not _BILL.search(rest[0].left) or rest[0].value <= 0:
        return None
    many = _counted(q)
    if many is None:
        return None
    bill = rest[0].value * many * (1 + shares[0].value / 100 if shares else 1)
    value = bill / people[0].value
    line = f"{f'{shown(many)} x ' if many != 1 else ''}{shown(rest[0].value)}{f' + {shown(shares[0].value)} %' if shares else ''} = {bill:,.2f} dollars"
    return exact("each pays", value, "dollars", working=(line, f"÷ {shown(people[0].value)} = {value:,.2f} dollars"), source="arithmetic", also=(figure("in all", bill, "dollars"),))  # fmt: skip


def _counted(q: Question) -> float | None:
    """How many of the thing there are of which a price is told: "four rooms at"; 1 where none is, None where two are."""
    told = []
    for i, word in enumerate(q.words):
        if word in _THINGS and i and not any(one.start <= i - 1 < one.end and one.unit != "n" for one in q.amounts):
            number = number_at(q.words, i - 1)
            if number is not None and number.end == i and q.words[i + 1 : i + 2] in (("at",), ("for",), (",",)):
                told.append(number.value)
    return (told[0] if told else 1.0) if len(told) <= 1 else None


_METERED = compiled(
    r"({n}) (cents?|dollars?) (?:a|per|each|the|for a|an?) (?:kilowatt hour|kwh|kw hour|kilo ?watt ?hour)\b"
)
_PAID = Lazy(r"\b(?:owe|pay|cost\w*|bill|how much|what (?:is|do|does|will)|charge)\b")


def metered(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What kilowatts over some hours cost at so much a kilowatt hour."""
    if not names_any(q.text.lower(), ("kilowatt", "kwh", "kw h")) or not _PAID.search(q.frame):
        return None
    match = _METERED.search(q.frame)
    if match is None:
        return None
    price = q.amount_at(match.start(1))
    rest = [one for one in q.amounts if one is not price]
    powers = [one for one in rest if one.unit in ("kW", "W") and not one.per]
    times = [one for one in rest if one.unit in ("h", "night", "day", "min") and one.per in ("", "day", "night")]
    energy = [one for one in rest if one.unit == "kWh" and not one.per]
    if len(powers) + len(times) + len(energy) != len(rest) or any(one.each for one in rest):
        return None
    dollars = price.value / (100 if match[2].startswith("cent") else 1)
    if len(energy) == 1 and not powers and not times:
        used = energy[0].value
    elif len(powers) == 1 and len(times) == 1 and not times[0].per and not energy and times[0].unit in ("h", "min"):
        used = powers[0].value / (1000 if powers[0].unit == "W" else 1) * times[0].value * HOURS[times[0].unit]
    else:
        return None
    value = used * dollars
    line = f"{shown(used)} kWh x ${shown(dollars)} = ${value:,.2f}"
    return exact("cost", value, "dollars", working=(line,), source="arithmetic", also=(figure("used", used, "kWh"),))


_COST = Lazy(r"\b(?:cost\w*|pay|paid|owe|bill|spend|money|dollars|bucks)\b")
_OTHERS = Lazy(r"\b(?:save|cheaper|difference|instead|versus|against|less|left|enough)\b")


def nightly_cost(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What so many gallons or pounds a night, a day or an hour come to in money over a time: every amount once."""
    if not _COST.search(q.frame) or _OTHERS.search(q.frame) or not 3 <= len(q.amounts) <= 4:
        return None
    found = placed(q)
    if found is None or any(one.amount.each for one in found):
        return None
    rates = [one for one in found if one.unit in ("gal", "lb") and one.amount.per in ("h", "day", "night")]
    times = [one for one in found if one.unit in ("h", "day", "night") and not one.amount.per]
    units = [one for one in found if one.unit in ("gal", "lb") and not one.amount.per and one.value == 1]
    prices = [one for one in found if one.unit == "n" and not one.amount.per and 0.3 <= one.value <= 12]
    if [len(rates), len(times), len(prices)] != [1, 1, 1] or len(units) != 1 or len(found) != 4:
        return None
    if units[0].unit != rates[0].unit or units[0].amount.start != prices[0].amount.end:
        return None
    per_h = rates[0].value / HOURS["day" if rates[0].amount.per == "night" else rates[0].amount.per]
    if rates[0].amount.per != "h" and times[0].unit == "h":
        return None  # hours of a night
    if rates[0].amount.per == "h" and times[0].unit != "h":
        return None  # how many hours a night it runs is not told
    used = per_h * times[0].value * HOURS[times[0].unit]
    value = used * prices[0].value
    lines = (f"{shown(rates[0].value)} x {shown(times[0].value)} = {shown(used)} {units[0].unit}", f"x ${prices[0].value:.2f} = ${value:,.2f}")  # fmt: skip
    return exact("cost", value, "dollars", working=lines, source="arithmetic", also=(figure("used", used, units[0].unit),))  # fmt: skip
