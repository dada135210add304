"""Amounts whose words lead astray, written so that each stands alone: "55 and half an hour breakfast" is a speed and a halt.

What is written out here means one thing only; what could mean two is left as it was said.
"""

from __future__ import annotations

import re

from cabassist.language.lazy import Lazy
from cabassist.language.numbers import find_numbers, words_of

_ONE = r"(?:one|two|three|four|five|six|seven|eight|nine)"
_SPEED = rf"(?:(?:forty|fifty|sixty|seventy)(?:[ -]{_ONE})?|[4-7]\d)"
_HALT = r"(?:breakfast|lunch|dinner|supper|meals?|stop|break|layover|halt|nap|fuel(?:ing| stop)?|rest|coffee|food|pause|delay|walk ?around|inspection|traffic|fueling)"
_SPEED_AND_PART = Lazy(
    rf"\b({_SPEED})(?: miles an hour| mph)?,? (?:and|plus) (?=(?:a )?(?:half|quarter) (?:of )?an hour\b|three quarters? of an hour\b|a (?:half|quarter)[ -]hour (?:for |of )?(?:a |the |our )?{_HALT}\b)",
    re.IGNORECASE,
)
""" "Doing fifty five and half an hour breakfast": nobody says half an hour of the speed, nor drives 55.5 of them."""
_MIDNIGHT = Lazy(
    r"\b(half|a quarter|quarter|ten|twenty|five|10|15|20|30|5)(?: minutes)? (past|after|to|before|till) (midnight|noon|midday)\b",
    re.IGNORECASE,
)
_PAST = {"half": 30, "quarter": 15, "ten": 10, "twenty": 20, "five": 5}
_TAKEN_OFF = Lazy(r"(?<=\w) ?(?:,|\bbut)? ?(?:\bminus|[-–−]) ?(?=(?:\d+(?:\.\d+)?|(?:[a-z]+[ -]){0,2}[a-z]+) ?(?:%|per ?cent\b|kw\b|watts?\b|w\b))", re.IGNORECASE)  # fmt: skip
_OFF_UNITS = frozenset({"percent", "kw", "watt", "watts", "w"})
_PER_100_KM = Lazy(
    r"\b(\d+(?:\.\d+)?|[a-z]+) ?(l|lit(?:er|re)s?)(?: per | a | to the | for (?:a|every) | every | ?/ ?)(?:100|hundred|a hundred)\b(?! ?(?:k\b|km|kms|kilomet|klicks?|miles?|mi\b|gallons?|gal\b|lit|l\b|pounds?|lbs?|people|heads?|hours?|percent|%|and\b|ml|\d|[,.]\d))",
    re.IGNORECASE,
)
_KILOMETERS = Lazy(r"\b(?:\d ?(?:km|kms|k)|kilomet(?:er|re)s?|klicks?|kms?)\b", re.IGNORECASE)
_MILES = Lazy(r"\b(?:miles?|mi)\b", re.IGNORECASE)
_THIRTY_SECONDS = Lazy(
    rf"\b({_ONE}|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|1?\d)(?:[ -])(?:thirty[ -]seconds?|thirty[ -]2nds?|30[ -]?seconds?)\b(?! of an inch)",
    re.IGNORECASE,
)
_OF_TREAD = Lazy(
    r"\b(?:miles?|wore|worn?|wear\w*|tread\w*|rubber|tires?|tyres?|depth|32nds?|steers?|drives?|tags?|grooves?|legal)\b|/ ?32\b",
    re.IGNORECASE,
)
_TIMED = Lazy(r"\b(?:gallons?|gal|hose|fill\w*|shower\w*|flush\w*|pump\w*|psi|cups?|minutes?|stop ?watch|timer|timed|furnace|engine|idle)\b", re.IGNORECASE)  # fmt: skip
_EVERY_STOP = Lazy(
    r"\b((?:about |around )?(?:\d+(?:\.\d+)?|half an|an|one|two|five|ten|fifteen|(?:twenty|thirty|forty|fifty)(?:[ -]five)?) ?(?:hours?|hrs?|minutes?|mins?)) (?:at|for|on|per) (?:every|each) (stop|drop ?off|pick ?up|rink|hotel|halt|game)\b(.*?)\b(\d+|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve) ((?:of them|stops|drop ?offs|pick ?ups|rinks|hotels|halts|games))\b",
    re.IGNORECASE,
)
_VALUE = rf"(?:\d[\d,]*(?:\.\d+)?k?|(?:(?:{_ONE}|ten|eleven|twelve|\w+teen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|thousand|and)[ -])*(?:{_ONE}|ten|eleven|twelve|\w+teen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|thousand))"
_MEASURED_IN = r"(?: ?(?:kw|watts?|w|amps?)\b|(?<=\d)a\b)"
_ITEM = rf"(?:one (?:of |is |at |with )?(?:a |an )?(?=\d))?(?:a |an |the )?({_VALUE}{_MEASURED_IN}?)"
_LOADS = r"(?:heater|load|thing|unit|appliance|charger|lamp|kettle|pad|fan)"
_NEXT = r" ?(?:, and|,|\+|and|plus|&) ?"
_NO_MORE = rf"(?! ?(?:/|(?:a|an|per|every) )(?!\d|<))(?! ?(?:(?:kw|watts?|w|amps?|a)\b|each|apiece|,? ?(?:\+|plus) (?:a |an |the |one )?\d|,? and (?:a |an |the |one )?\d))(?! (?:{_LOADS}|fridge|microwave|dryer|iron|tv|pump|coffee|toaster|light|breaker|outlet|circuit|supply|service|plug|generator|genny|genset|amp|post|hook)\w*\b)"
_LEADS = rf"(?:\w+ )?({_LOADS[3:-1]})s ?(?:,|:|-|of|at|with|on|are|draw(?:ing)?|pull(?:ing)?|running)? ?"
_LISTED = tuple(
    Lazy(rf"\b({count}) {_LEADS}{_NEXT.join([_ITEM] * many)}{_NO_MORE}", re.IGNORECASE)
    for many, count in ((2, "two|2"), (3, "three|3"))
)
""" "Two heaters 1000 W + 1500 W": as many as are counted are told one by one, so that neither comes twice."""
_UNIT_LAST = Lazy(rf"{_MEASURED_IN}$", re.IGNORECASE)
_WARM_PLACE = Lazy(
    rf"\b((?:bay|shop|garage|barn|shed)(?:'s| is| was| sits at| is at| is about| is kept at)) ((?:[3-8]\d|(?:thirty|forty|fifty|sixty|seventy|eighty)(?:[ -]{_ONE})?))(?= ?(?:[,.;?!]|$)| (?:and|but|when|inside|in there|now|while)\b)",
    re.IGNORECASE,
)
_INFLATED = Lazy(r"\b(?:psi|pressures?|tires?|tyres?|air|inflat\w*|steers?|duals?)\b", re.IGNORECASE)
""" "The wash bay is sixty": where tires are filled it is no bay of that number."""
_LATER_THERE = Lazy(
    r"\b(it'?s|it is|they'?re|they are|(?:the |their )?clocks?(?:'s| is| are)?) (an|one|two|1|2|three) hours? later(?= (?:(?:over|up|out|down) )?there\b| (?:at|in) (?:the|their) (?:rink|arena|hotel|end|place|town|city)\b)",
    re.IGNORECASE,
)
_BURNS = Lazy(r"\bidl\w*|\bgenerator\b|\bgenset\b|\brunning\b", re.IGNORECASE)


_BARE_STOPS = Lazy(
    r"\b(stops of (?:about |around )?(?:ten|fifteen|(?:twenty|thirty|forty|fifty)(?:[ -]five)?|[1-5][05]))(?=$|[,.;?!]| (?:when|what|how|and (?:when|what|how)|then when|each|do|will)\b)",
    re.IGNORECASE,
)
"""So many stops of twenty are of minutes, on the road."""
_ON_ROAD = Lazy(r"\b(?:miles?|mi|km|kilomet(?:er|re)s?|mph|drive|driving|road)\b", re.IGNORECASE)


def plainly_written(text: str) -> str:
    """The text with such amounts written plainly; the text itself where there are none."""
    lowered = text.lower()
    said = text
    if "hour" in lowered and ("half" in lowered or "quarter" in lowered):
        said = re.sub(_SPEED_AND_PART.pattern, r"\1, ", said, flags=re.IGNORECASE)
    if "midnight" in lowered or "noon" in lowered or "midday" in lowered:
        said = re.sub(_MIDNIGHT.pattern, _hour_named, said, flags=re.IGNORECASE)
    if ("minus" in lowered or " -" in lowered or "−" in lowered) and _TAKEN_OFF.search(said):
        said = _taken_off(said)
    if ("100" in lowered or "hundred" in lowered) and _KILOMETERS.search(said) and not _MILES.search(said):
        said = re.sub(_PER_100_KM.pattern, r"\1 \2 per 100 km", said, flags=re.IGNORECASE)
    if "second" in lowered or "2nd" in lowered:
        said = _treads(said)
    if "later" in lowered:
        said = re.sub(_LATER_THERE.pattern, _ahead_there, said, flags=re.IGNORECASE)
    if (" is" in lowered or "'s" in lowered or " was" in lowered or " at" in lowered) and _WARM_PLACE.search(said):
        said = (
            re.sub(_WARM_PLACE.pattern, r"\1 \2 degrees", said, flags=re.IGNORECASE) if _INFLATED.search(said) else said
        )
    if ("every" in lowered or "each" in lowered) and _BURNS.search(lowered):
        said = re.sub(_EVERY_STOP.pattern, _so_many_stops, said, flags=re.IGNORECASE)
    if "stops of" in lowered and _ON_ROAD.search(said):
        said = re.sub(_BARE_STOPS.pattern, r"\1 minutes", said, flags=re.IGNORECASE)
    if "+" in said or " and " in lowered or "plus" in lowered or "," in said:
        for listed in _LISTED:
            said = re.sub(listed.pattern, _one_by_one, said, flags=re.IGNORECASE) if listed.search(said) else said
    return said


def _ahead_there(found: re.Match[str]) -> str:
    """ "It's an hour later over there" as an hour ahead: the clock of another place, no time that passes."""
    many = found[2].lower().replace("an", "one")
    return f"{found[1]} {many} hour{'' if many in ('one', '1') else 's'} ahead"


def _one_by_one(found: re.Match[str]) -> str:
    """ "Two heaters, 1000 and 1500 W" as a heater of 1000 W and a heater of 1500 W; as it was said where no unit is told."""
    told = [one for one in found.groups()[2:] if one]
    unit = _UNIT_LAST.search(told[-1])
    if unit is None:
        return found[0]
    values = [one if _UNIT_LAST.search(one) else f"{one}{unit[0]}" for one in told]
    return " and ".join(f"a {one} {found[2]}" for one in values)


def _hour_named(found: re.Match[str]) -> str:
    """ "Half past midnight" as 0:30: the hour has a name and no number."""
    word = found[1].lower().removeprefix("a ")
    minutes = int(word) if word.isdigit() else _PAST[word]
    noon = found[3].lower() != "midnight"
    late = found[2].lower() in ("past", "after")
    if late:
        return f"12:{minutes:02d} pm" if noon else f"00:{minutes:02d}"
    return f"11:{60 - minutes:02d} {'am' if noon else 'pm'}"


def _taken_off(text: str) -> str:
    """ "4 kW minus 20%" as "4 kW less 20%": a share, or watts, taken off, and none below zero."""

    def off(found: re.Match[str]) -> str:
        words = words_of(text[found.end() :])
        numbers = find_numbers(words[:4])
        before = text[: found.start()].rstrip()[-1:]
        begins = bool(numbers) and numbers[0].start == 0 and numbers[0].end < len(words) and words[numbers[0].end].text in _OFF_UNITS  # fmt: skip
        dash = "minus" not in found[0].lower()
        spaced = found[0].startswith(" ") and not found[0].endswith(" ")
        if not begins or (dash and not spaced) or not before.isalnum():
            return found[0]
        return " less "

    return re.sub(_TAKEN_OFF.pattern, off, text, flags=re.IGNORECASE)


def _treads(text: str) -> str:
    """ "Lost three thirty seconds" as 3/32, where tires or miles are spoken of and nothing is timed."""
    if not _THIRTY_SECONDS.search(text) or not _OF_TREAD.search(text) or _TIMED.search(text):
        return text

    def depth(found: re.Match[str]) -> str:
        numbers = find_numbers(found[1])
        return f"{numbers[0].value:g}/32 of an inch" if numbers else found[0]

    return re.sub(_THIRTY_SECONDS.pattern, depth, text, flags=re.IGNORECASE)


def _so_many_stops(found: re.Match[str]) -> str:
    """ "Forty minutes at every stop, six stops" as six stops of forty minutes each."""
    return f"{found[4]} stops of {found[1]}{found[3].rstrip(' ,')}"
