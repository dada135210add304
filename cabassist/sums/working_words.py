"""A worked estimate in words: short for the ear, full for the eye."""

from __future__ import annotations

import re

from cabassist.estimate.quantities import roughly, shown
from cabassist.estimate.types import Estimate, Figure

_SPOKEN = {
    "gal": ("gallon", "gallons"), "L": ("liter", "liters"), "lb": ("pound", "pounds"), "kg": ("kilogram", "kilograms"), "psi": ("psi", "psi"),
    "psi/min": ("psi a minute", "psi a minute"), "A": ("amp", "amps"), "V": ("volt", "volts"), "W": ("watt", "watts"), "kW": ("kilowatt", "kilowatts"),
    "Ah": ("amp hour", "amp hours"), "ft": ("foot", "feet"), "yd": ("yard", "yards"), "in": ("inch", "inches"), "cm": ("centimeter", "centimeters"), "m": ("meter", "meters"),
    "mi": ("mile", "miles"), "km": ("kilometer", "kilometers"), "percent": ("percent", "percent"), "F": ("degree Fahrenheit", "degrees Fahrenheit"),
    "C": ("degree Celsius", "degrees Celsius"), "BTU/h": ("BTU an hour", "BTU an hour"), "BTU": ("BTU", "BTU"), "fl oz": ("fluid ounce", "fluid ounces"),
    "cup": ("cup", "cups"), "mL": ("milliliter", "milliliters"), "tbsp": ("tablespoon", "tablespoons"), "tsp": ("teaspoon", "teaspoons"), "lb-ft": ("foot-pound", "foot-pounds"),
    "N·m": ("newton meter", "newton meters"), "1/32 in": ("thirty-second of an inch", "thirty-seconds of an inch"), "mg/L": ("milligram a liter", "milligrams a liter"),
    "gal/min": ("gallon a minute", "gallons a minute"), "gal/h": ("gallon an hour", "gallons an hour"), "gal/day": ("gallon a day", "gallons a day"), "ppm": ("ppm", "ppm"), "months": ("month", "months"), "AWG": ("gauge", "gauge"), "fraction": ("of full", "of full"),
    "s": ("second", "seconds"), "count": ("of them", "of them"), "imp gal": ("imperial gallon", "imperial gallons"), "persons": ("person", "people"), "cylinders": ("cylinder", "cylinders"), "lb/h": ("pound an hour", "pounds an hour"), "lb/day": ("pound a day", "pounds a day"), "L/min": ("liter a minute", "liters a minute"), "L/h": ("liter an hour", "liters an hour"), "L/day": ("liter a day", "liters a day"), "days": ("day", "days"), "weeks": ("week", "weeks"), "paces": ("pace", "paces"), "kPa": ("kilopascal", "kilopascals"),
    "mi/gal": ("mile a gallon", "miles a gallon"), "mpg": ("mile a gallon", "miles a gallon"), "km/h": ("kilometer an hour", "kilometers an hour"), "mph": ("mile an hour", "miles an hour"), "year": ("year", "years"),
}  # fmt: skip
_HALF_KEPT_H = (10.0, 24.0)
"""Between these a half hour is told, though other minutes are not: 11.5 hours of driving are no 12."""
_HALVES = {0.5: "half a", 1.5: "one and a half", 2.5: "two and a half", 3.5: "three and a half", 4.5: "four and a half"}


def _digits(value: float) -> int:
    return 3 if abs(value) < 1000 else 4


def number_said(value: float, unit: str) -> str:
    """A number with its unit, as said: "22 minutes", "minus 35 degrees Fahrenheit", "two and a half days"."""
    if unit == "days" and 0 <= value < 1:
        return roughly(24 * value)
    if unit == "h" and 0 <= value < 1.5:
        return number_said(60 * value, "min")
    if unit == "h" and _HALF_KEPT_H[0] < value < _HALF_KEPT_H[1] and 2 * value % 2 == 1:
        return f"{value:g} hours"
    if unit == "h":
        return roughly(value) if value >= 0 else f"minus {roughly(-value)}"
    if unit == "min":
        return (
            f"{round(value)} minute{'' if round(value) == 1 else 's'}"
            if 1 <= value < 120
            else roughly(max(0.0, value) / 60)
        )
    if unit == "dollars":
        return f"{'minus ' if value < 0 else ''}{abs(value):,.2f} dollars".replace(".00 ", " ")
    if unit == "days" and 0 < value < 10:
        half = round(value * 2) / 2
        if half in _HALVES and abs(value - half) < 0.13:
            return f"{_HALVES[half]} day{'s' if half > 1 else ''}"
        return f"{shown(value, 2)} {'day' if shown(value, 2) == '1' else 'days'}"
    if unit in ("F", "C"):
        value = round(value, 0 if abs(value) >= 10 else 1)
    text = shown(abs(value), _digits(value))
    one, many = _SPOKEN.get(unit, (unit, unit))
    return f"{'minus ' if value < 0 else ''}{text} {one if text == '1' else many}".strip()


def range_said(estimate: Estimate) -> str:
    """ ", between two and three days" where the range is wide enough to matter."""
    low, high, value = estimate.low, estimate.high, estimate.value
    if low is None or high is None or value is None or high - low <= 0.02 * max(abs(value), abs(high), 1e-9):
        return ""
    first, last = number_said(low, estimate.unit), number_said(high, estimate.unit)
    if first == last:
        return ""
    one, _, unit_low = first.partition(" ")
    _, _, unit_high = last.partition(" ")
    return f", between {one if unit_low == unit_high and one[:1].isdigit() else first} and {last}"


def say(estimate: Estimate) -> str:
    """The number first, its range in words, then the verdict without what it repeats."""
    if estimate.value is None:
        return estimate.verdict or "No number can be given."
    if estimate.name in _JUDGED_ONLY and estimate.verdict:
        return estimate.verdict
    number = number_said(estimate.value, estimate.unit)
    ends = range_said(estimate)
    rounded = estimate.unit in ("h", "days", "min") and abs(2 * estimate.value - round(2 * estimate.value)) > 0.02
    head = f"{'About ' if ends or rounded else ''}{number}{ends}."
    rest = [
        _trimmed(one, estimate)
        for one in _SENTENCE.split(estimate.verdict.strip())
        if one and not _repeats(one, estimate)
    ]
    if rest and _JUDGED.match(rest[0]):
        return " ".join(
            (rest[0], head[0].upper() + head[1:], *rest[1:]) if not _has_number(rest[0], estimate) else rest
        )
    return " ".join((head[0].upper() + head[1:], *rest))


_JUDGED_ONLY = frozenset(
    {
        "margin above the cloud point",
        "off the target torque",
        "left to the limit",
        "difference from what the temperature explains",
    }
)
"""What these numbers measure says little by itself; their verdicts say it."""
_SENTENCE = re.compile(r"(?<=[.!?]) +")
_JUDGED = re.compile(
    r"(?:yes|no|pass|fail|barely|not yet|warning|risk|inside|outside|too |over|under|valid)\b", re.IGNORECASE
)
_HEADED = re.compile(r"(?:About )?(\d[\d,]*(?:\.\d+)?)(?: [a-z°%-]+){0,2}, (?:but )?", re.IGNORECASE)
_FIGURES = re.compile(r"\d[\d,]*(?:\.\d+)?")
_PADDING = re.compile(
    r"\b(?:about|full|in|feels|like|on|bare|skin|until|it|is|lasts|no|longer|than|for|the|more|left|days?|hours?|h|min|minutes?|percent|miles?|gallons?|pounds?|at|idle|drops?|heat|of|between|and)\b|°|[^a-z]"
)


def _trimmed(sentence: str, estimate: Estimate) -> str:
    """A sentence without the number at its head that is said already."""
    match = _HEADED.match(sentence)
    if (
        match is None
        or abs(float(match[1].replace(",", "")) - abs(estimate.value or 0.0)) > 0.03 * abs(estimate.value or 0.0) + 1e-9
    ):
        return sentence
    left = sentence[match.end() :]
    return left[0].upper() + left[1:] if left else sentence


def _has_number(sentence: str, estimate: Estimate) -> bool:
    """Whether the sentence gives the estimate's own number."""
    value = abs(estimate.value or 0.0)
    return any(abs(float(n.replace(",", "")) - value) <= 0.03 * value + 1e-9 for n in _FIGURES.findall(sentence))


def _repeats(sentence: str, estimate: Estimate) -> bool:
    """Whether a sentence says nothing but the number that is said already."""
    if not _FIGURES.search(sentence) or len(sentence) > 110:
        return False
    left = _PADDING.sub("", _FIGURES.sub("", sentence).lower())
    return not left.strip() and (_has_number(sentence, estimate) or estimate.unit in ("h", "days"))


_ANSWERS = ("Yes", "No:", "No.", "Barely")
ASK_WHY = "Say why for the working."


def _also(figure: Figure) -> str:
    """What stands beside a number; less than nothing left is said to be over."""
    if figure.value < 0 and figure.name.startswith("left"):
        return f"over by {shown(-figure.value, _digits(figure.value))} {_unit_shown(figure.unit)}"
    return f"also {figure.name}: {shown(figure.value, _digits(figure.value))} {_unit_shown(figure.unit)}"


def show(estimate: Estimate) -> tuple[str, ...]:
    """The number, its range, the verdict, what stands beside it; the working is long, and told when it is asked for.

    Where yes or no was asked, that comes first.
    """
    first = estimate.verdict.startswith(_ANSWERS)
    lines = [estimate.verdict] if first else []
    if estimate.value is not None:
        lines.append(f"{estimate.name}: {shown(estimate.value, _digits(estimate.value))} {_unit_shown(estimate.unit)}")
        if estimate.low is not None and estimate.high is not None and estimate.high - estimate.low > 1e-9:
            ends = f"{shown(estimate.low, 3)} and {shown(estimate.high, 3)}"
            lines.append(f"probably between {ends} {_unit_shown(estimate.unit)}")
    if estimate.verdict and not first:
        lines.append(estimate.verdict)
    lines += [_also(figure) for figure in estimate.also]
    if estimate.working or estimate.assumptions or estimate.source:
        lines.append(ASK_WHY)
    return tuple(lines)


def _unit_shown(unit: str) -> str:
    return {"1/32 in": "thirty-seconds of an inch", "percent": "%", "F": "°F", "C": "°C", "fraction": "of full"}.get(
        unit, unit
    )
