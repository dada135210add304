"""Amounts that belong together or apart: "two fifty foot cords", "two hours twenty", "each uses two gallons"."""

from __future__ import annotations

import re

from cabassist.language.calculation_types import Amount
from cabassist.language.calculation_units import unit_phrases
from cabassist.language.lazy import Lazy
from cabassist.language.numbers import number_at

_COUNTED = re.compile(
    r"(?:heater|furnace|cord|load|bottle|cylinder|batterie|tank|shower|bulb|lamp|cable|extension|footer|pounder|circuit|breaker|outlet|stop|break|pad)s"
)


_DRAWING = re.compile(r"(?:charger|fan|pump|light|compressor|fridge|blower|inverter)s")
"""Things that come several at so many amps each: "two five amp fans"."""
_ONE_OF_THEM = frozenset({"amp", "a", "watt", "w"})
_BY_HUNDREDS = {"lb": ("bottles", "cylinders", "tanks", "pounders"), "ft": ("cords", "extensions", "cables", "footers")}


_LONG_MIN, _LONG_H = 600.0, 100.0


_OF_THINGS = frozenset({"lb", "kg", "gal", "L", "W", "BTU", "BTU/h", "ft"})
_A_SCORE = 20


def _drawing(amount: Amount, texts: list[str]) -> bool:
    """ "Three 4 amp chargers", "two three and a half amp fans": one unit of several things."""
    near = texts[amount.end : amount.end + 2]
    return amount.unit in ("A", "W") and texts[amount.end - 1] in _ONE_OF_THEM and any(map(_DRAWING.fullmatch, near))


def _of_hundreds(amount: Amount, texts: list[str]) -> list[Amount]:
    """ "Two hundred pound bottles" as two of a hundred pounds; none where it is one amount."""
    things = _BY_HUNDREDS.get(amount.unit, ())
    spoken = texts[amount.start : amount.end - 1]
    counted = len(spoken) == 2 and spoken[0] in ("two", "three", "four") and spoken[1] == "hundred"
    several = texts[amount.end - 1] in things or (
        texts[amount.end - 1] in ("pound", "foot", "lb", "ft")
        and texts[amount.end : amount.end + 1]
        and texts[amount.end] in things
    )
    before = [w for w in texts[max(0, amount.start - 2) : amount.start] if w != ","]
    if not counted or not several or (before and (before[-1] == "both" or number_at(before[-1:], 0) is not None)):
        return []
    first = Amount(amount.value / 100, "n", start=amount.start, end=amount.start + 1)
    return [first, amount._replace(value=100.0, start=amount.start + 1, pieces=())]


_PLUGS = frozenset(
    "plug plugs cord hookup hook-up hook pedestal post outlet receptacle inlet socket breaker circuit feed service site spot connection".split()
)
_PLUG_AMPS = frozenset({15.0, 20.0, 30.0, 50.0})
_LOW_VOLTS = frozenset({6.0, 8.0, 12.0, 24.0, 36.0, 48.0})
_PLUG_NEAR = 7


def _one_plug(amount: Amount, texts: list[str]) -> bool:
    """ "One thirty amp hundred and twenty volt plug": one of thirty amps, no 130."""
    if amount.unit != "A" or texts[amount.start] != "one" or texts[amount.end - 1] != "amp":
        return False
    size = number_at(texts[: amount.end], amount.start + 1)
    if size is None or size.end != amount.end - 1 or size.value not in _PLUG_AMPS:
        return False
    volts = number_at(texts, amount.end) if amount.end < len(texts) else None
    sized = volts is not None and (
        texts[volts.end : volts.end + 1] in (["volt"], ["v"], ["volts"]) or volts.value in (110, 115, 120, 125, 240)
    )
    return sized or bool(_PLUGS & {*texts[amount.end : amount.end + _PLUG_NEAR]})


def _hours_follow(amount: Amount, texts: list[str]) -> bool:
    """Whether amp hours follow volts, as of batteries: "two six volt 230 amp hours"."""
    size = number_at(texts, amount.end) if amount.unit == "V" and amount.end < len(texts) else None
    after = texts[size.end : size.end + 2] if size is not None else []
    return after[:1] == ["ah"] or after in (["amp", "hour"], ["amp", "hours"])


_LEAST_MPG, _MOST_MPG, _NO_MPG = 2.0, 16.0, 40.0


def _mileage_apart(amount: Amount, texts: list[str]) -> list[Amount]:
    """ "Of two hundred six point four to the gallon" as 200 and 6.4: no coach goes so far on a gallon."""
    if (amount.unit, amount.per) not in (("mi", "gallon"), ("mpg", "")) or amount.value <= _NO_MPG:
        return []
    whole = number_at(texts, amount.start)
    for at in range(amount.start + 1, whole.end if whole is not None else 0):
        first, last = number_at(texts[:at], amount.start), number_at(texts, at)
        ends = first is not None and last is not None and whole is not None and (first.end, last.end) == (at, whole.end)
        if ends and first is not None and last is not None and _LEAST_MPG <= last.value <= _MOST_MPG < first.value:
            return [Amount(first.value, "n", start=amount.start, end=at), amount._replace(value=last.value, start=at, pieces=())]  # fmt: skip
    return []


def split_count(amount: Amount, texts: list[str]) -> list[Amount]:
    """ "two fifty foot cords" as two of fifty feet; "one thirty five thousand BTU furnace" as one of 35,000."""
    if apart := _mileage_apart(amount, texts):
        return apart
    if (burner := _one_burner(amount, texts)) is not None:
        return [burner]
    if len(amount.pieces) > 1 and amount.value > {"min": _LONG_MIN, "h": _LONG_H}.get(amount.unit, amount.value):
        return _in_a_row(amount, texts)
    if hundreds := _of_hundreds(amount, texts):
        return hundreds
    drawing = _drawing(amount, texts)
    if (
        amount.unit in _OF_THINGS
        and texts[amount.start].isalpha()
        and texts[amount.start + 1 : amount.start + 2]
        and texts[amount.start + 1].isdigit()
    ):
        spelt, digits = (
            number_at(texts[: amount.start + 1], amount.start),
            number_at(texts[: amount.end], amount.start + 1),
        )
        if (
            spelt is not None
            and digits is not None
            and amount.value != digits.value
            and (spelt.value < _A_SCORE or amount.unit in ("lb", "kg"))
        ):  # "twelve 50 pound bags"
            return [Amount(spelt.value, "n", start=amount.start, end=amount.start + 1), amount._replace(value=digits.value, start=amount.start + 1, pieces=())]  # fmt: skip
    near = [w for w in texts[amount.end : amount.end + 4] if w.isalpha()]
    noun = next((w for w in near if _COUNTED.fullmatch(w)), near[0] if near else "")
    one = (
        noun
        in (
            "furnace",
            "cylinder",
            "bottle",
            "circuit",
            "breaker",
            "outlet",
            "receptacle",
            "plug",
            "stop",
            "break",
            "halt",
            "layover",
        )
        and texts[amount.start] == "one"
    )
    one = one or _one_plug(amount, texts)
    if texts[amount.end - 1] == "pounder":
        one = texts[amount.start] == "one"  # "one forty pounder" has no 140 pounds
    if _COUNTED.fullmatch(texts[amount.end - 1]):
        noun = texts[amount.end - 1]  # "two forty pounders", "two 40k furnaces"
    many = _COUNTED.fullmatch(noun) is not None or one or drawing or _hours_follow(amount, texts)
    kinds = ("ft", "lb", "W", "BTU", "m", "min", "Ah", "V", "BTU/h", "A", "furnace", "heater")
    if (
        not many
        or amount.unit not in kinds
        or texts[amount.start] not in ("one", "two", "three", "four", "five", "six", "2", "3", "4")
    ):
        return [amount]
    if texts[amount.start + 1 : amount.start + 2] in (["hundred"], ["thousand"]):
        return [amount]  # "six hundred watt heaters" are not six of a hundred
    rest = number_at(texts, amount.start + 1) if amount.start + 1 < amount.end else None
    if one and rest is not None and amount.unit == "V" and rest.value not in _LOW_VOLTS:
        return [amount]  # "a one twenty volt plug"
    count = number_at(texts[amount.start : amount.start + 1], 0)
    if rest is None or count is None or rest.end > amount.end - 1 or rest.value < (1 if drawing else 5):
        return [amount]
    first = Amount(count.value, "n", start=amount.start, end=amount.start + 1)
    unit = "BTU" if amount.unit in ("furnace", "heater") else amount.unit  # "two 40k furnaces"
    if unit != amount.unit and rest.value < 1000:
        return [amount]
    return [first, amount._replace(value=rest.value, unit=unit, start=amount.start + 1, pieces=())]


_BURNERS = frozenset("furnaces heaters burners".split())
_LEAST_SPOKEN, _MOST_SPOKEN = 110_000.0, 200_000.0
"""Between these a furnace of a coach is none: "one thirty thousand BTU and one twenty five thousand" are two of them."""


def _one_burner(amount: Amount, texts: list[str]) -> Amount | None:
    """The heat of one of several burners, "one thirty thousand BTU", without its "one"; None for anything else."""
    if amount.unit not in ("BTU", "BTU/h", "n") or not _LEAST_SPOKEN <= amount.value < _MOST_SPOKEN:
        return None
    spoken = texts[amount.start] == "one" and "thousand" in texts[amount.start : amount.end]
    if not spoken or not (_BURNERS & {*texts} or texts.count("one") > 1 or "other" in texts):
        return None
    rest = number_at(texts, amount.start + 1)
    if rest is None or "btu" not in " ".join(texts) or rest.value < 1000:
        return None
    return amount._replace(value=rest.value, start=amount.start + 1, pieces=())


def _in_a_row(amount: Amount, texts: list[str]) -> list[Amount]:
    """ "Averaging fifty two forty minutes of stops" as 52 and 40 minutes: no trip takes 5,240."""
    for at in range(amount.start + 1, amount.end):
        first, last = number_at(texts[:at], amount.start), number_at(texts[: amount.end], at)
        if first is None or last is None or (first.end, last.value) != (at, float(amount.pieces[-1])):
            continue
        return [Amount(first.value, "n", start=amount.start, end=at), amount._replace(value=last.value, start=at, pieces=())]  # fmt: skip
    return [amount]


def _minutes_alone(hours: Amount, amount: Amount, texts: list[str], joined: bool) -> bool:
    """Whether a bare number behind hours tells their minutes: "nine hours fifteen so far", "2 hours 20 to the arena"."""
    bare = amount.unit == "n" and not amount.per and not amount.each and amount.value % 5 == 0 and 0 < amount.value < 60
    after = texts[amount.end : amount.end + 1]
    return bare and hours.unit == "h" and not hours.per and hours.value % 1 == 0 and (hours.end == amount.start or (joined and after[:1] == ["off"])) and (not after or after[0] in _MINUTES_END)  # fmt: skip


def _inches_alone(feet: Amount, amount: Amount, texts: list[str]) -> bool:
    """Whether a bare number behind feet tells their inches: "13 foot 2 tall"."""
    bare = amount.unit == "n" and not amount.per and not amount.each and amount.value % 1 == 0 and 0 < amount.value < 12
    after = texts[amount.end : amount.end + 1]
    into = after == ["in"] and texts[amount.end + 1 : amount.end + 2] and texts[amount.end + 1] in unit_phrases()
    return (
        bare
        and feet.unit == "ft"
        and not feet.per
        and feet.end == amount.start
        and (not after or after[0] in _INCHES_END or bool(into))
    )


_SCALES_OF = frozenset(
    "axle axles limit scale scales scaled ticket gross grossed steer steers drives tandem tandems".split()
)


def _thousands(last: Amount, amount: Amount, texts: list[str]) -> bool:
    """Whether a weight is said short: "eighteen four hundred" for 18,400."""
    bare = last.unit == "n" and not last.per and not last.each and 10 <= last.value <= 99 and last.value % 1 == 0
    spoken = texts[amount.start + 1 : amount.start + 2] == ["hundred"] and texts[last.start].isalpha()
    return (
        bare
        and spoken
        and bool(_SCALES_OF & {*texts})
        and amount.unit in ("n", "lb")
        and not amount.per
        and 100 <= amount.value < 1000
    )


_INCHES_END = frozenset(
    ", . tall high wide long deep and is so overall do will can to on at of left now from when with".split()
)
_MINUTES_END = frozenset(
    ", . to of so at and now left driving driven already today behind since on from is before then for until till but with in away out off last this yesterday tonight earlier plus done gone used total all straight there".split()
)


def merged(found: list[Amount], texts: list[str]) -> list[Amount]:
    """Hours and minutes, feet and inches, as one; a bare number before a rate's "each" gets it."""
    out: list[Amount] = []
    for amount in found:
        last = out[-1] if out else None
        between = texts[last.end : amount.start] if last else ["x"]
        if last and between in ([], [","]) and _thousands(last, amount, texts):
            out[-1] = amount._replace(value=1000 * last.value + amount.value, start=last.start)
            continue
        if last and between in ([], ["and"]):
            if _minutes_alone(last, amount, texts, bool(between)):
                out[-1] = last._replace(value=last.value + amount.value / 60, end=amount.end)
                continue
            if (last.unit, amount.unit) == ("h", "min") and not (last.per or amount.per):
                out[-1] = last._replace(value=last.value + amount.value / 60, end=amount.end)
                continue
            if _inches_alone(last, amount, texts):
                out[-1] = last._replace(value=last.value + amount.value / 12, end=amount.end)
                continue
            if (last.unit, amount.unit) == ("ft", "in") and not between and not last.per:
                out[-1] = last._replace(value=last.value + amount.value / 12, end=amount.end)
                continue
            if (last.unit, amount.unit) == ("min", "s") and not last.per:
                out[-1] = last._replace(value=last.value + amount.value / 60, end=amount.end)
                continue
        if not _told_again(amount, out, texts):
            out.append(_each_before(amount, texts, last))
    return _a_day_each(out, texts)


_MINE = frozenset({"my", "our", "the", "that", "those"})


def _told_again(amount: Amount, found: list[Amount], texts: list[str]) -> bool:
    """ "Before we are into our fifteen", "what percent of the 118": a number that was told before and ends the sentence."""
    bare = (
        amount.unit == "n" and not amount.per and not amount.each and amount.start and texts[amount.start - 1] in _MINE
    )
    ends = texts[amount.end : amount.end + 1] in ([], ["."], ["?"])
    spoken = texts[amount.start - 2 : amount.start - 1] in (
        ["of"],
        ["into"],
        ["in", "to"],
        ["touch"],
        ["under"],
        ["below"],
    )
    return bool(bare and ends and spoken and any(one.value == amount.value and one.unit != "clock" for one in found))


_IN_A_DAY = frozenset({"in", "per", "every"})
_FARTHEST = 7
"""Words between so much of each one and the day it is for."""


def _a_day_each(found: list[Amount], texts: list[str]) -> list[Amount]:
    """ "A gallon each goes down the drain in a day": the day that is told later belongs to the share."""
    for k, share in enumerate(found[:-1]):
        day = found[k + 1]
        near = day.unit == "day" and day.value == 1 and not day.per and day.start - share.end <= _FARTHEST
        if share.each and not share.per and share.unit == "gal" and near and texts[day.start - 1] in _IN_A_DAY:
            return [*found[:k], share._replace(per="day"), *found[k + 2 :]]
    return found


_SHARED_OUT = re.compile(
    r"\b(?:each(?! (?:day|hour|night|minute|time))|apiece|per (?:person|head)|a (?:person|head|player)|every (?:person|passenger|player|kid|man)"
    r"|(?:everyone|everybody) (?:uses?|drinks?|puts?|gets?|takes?|needs?|goes))\b"
)


_APART = Lazy(r"(?:,|\band|\bplus|\bthen) (?:and )?(?:there(?: is| are)?|another|an extra|on top)\b")
"""Behind these something else is told: "twice each, and there's another 12 gallons"."""


def _each_before(amount: Amount, texts: list[str], last: Amount | None) -> Amount:
    """ "each uses two gallons a day": the share is said before the amount."""
    if (
        amount.each
        or amount.unit not in ("gal", "L", "n", "flush", "qt", "cup")
        or texts[amount.end : amount.end + 1] == ["times"]
        or texts[max(0, amount.start - 2) : amount.start] in (["for", "each"], ["each", "of"])
    ):
        return amount
    said = texts[max(last.end if last else 0, amount.start - 7) : amount.start]
    shared = last is not None and last.unit != "people" and said[:1] in (["each"], ["apiece"])
    before = " ".join(said[1:] if shared else said)  # "38 lb each plus 6 more"
    before = _APART.split(before)[-1]
    if _SHARED_OUT.search(before) or (
        last and last.unit == "people" and re.fullmatch(r"(?:who )?each(?: \w+){0,2}", before)
    ):
        return amount._replace(each=True)
    after = " ".join(texts[amount.end : amount.end + 3])
    if amount.per and re.match(r"(?:by|for|from|in) (?:each|every|everybody|everyone)\b", after):
        return amount._replace(each=True)
    return amount
