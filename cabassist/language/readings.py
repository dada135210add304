"""What a driver tells about the coach: levels, temperatures, voltages, pressures, people.

`hear` finds amounts and subjects among the words (`reading_parts`), leaves out what is not said of the present
(`present_state`), brings the two together (`pairing`), and refuses what cannot be (`plausibility`). A sentence
that leans on the one before ("no, make that fifty", "same for the street side") is read against `previous`.
May import nothing that loads slowly; units are converted only where a limit needs it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cabassist.language.numbers import as_decimal, number_at, words_of
from cabassist.language.pairing import NEVER, Pair, pair
from cabassist.language.plausibility import BATTERY_V, echo, fraction_of_full, is_tank, label, refusal, wrong_unit
from cabassist.language.present_state import spoken_of_now
from cabassist.language.reading_parts import PUNCTUATION, Amount, Reader, Subject, find_amounts, find_subjects
from cabassist.language.reading_terms import Terms, mended, terms
from cabassist.language.reading_types import Heard, Reading, Refusal

if TYPE_CHECKING:
    from cabassist.coach import Coach

__all__ = ["Heard", "Reading", "Refusal", "echo", "fraction_of_full", "hear"]

LONGEST_UTTERANCE = 80
"""Words beyond this are no report; nobody says so much in one breath."""

SHARES = ("fraction", "percent")
ALLOWED: dict[str, tuple[str, ...]] = {
    "propane": ("percent", "fraction", "lb", "kg", "gal", "L"),
    "house_battery": ("V", "percent", "fraction", "A"),
    "diesel": ("percent", "fraction", "gal", "L"),
    "def": ("percent", "fraction", "gal", "L"),
    "outside_temp": ("F", "C"),
    "inside_temp": ("F", "C"),
    "shore_voltage": ("V",),
    "tire_pressure": ("psi", "bar"),
    "air_pressure": ("psi", "bar"),
    "odometer": ("mi", "km"),
    "passengers": ("persons",),
    "co_ppm": ("ppm",),
    "generator_hours": ("h",),
}
TANK_UNITS = ("percent", "fraction", "gal", "L", "in", "cm", "ft")
FLAGGED = frozenset({"propane", "diesel", "def", "house_battery", "air_pressure", "co_ppm", "place", "tank", "gauge", "pair"})
LEVELLED = frozenset({"propane", "diesel", "def", "house_battery", "place", "tank", "other", "pair"})
FAMILY = {"propane": "propane", "diesel": "fuel", "def": "fuel", "outside_temp": "temperature", "inside_temp": "temperature"}
TEMPERATURES = ("outside_temp", "inside_temp")
IMPLIED = {"persons": "passengers", "ppm": "co_ppm"}
"""Units that name their subject."""
SPREAD = {"percent": 7.0, "fraction": 0.07, "F": 4.0, "C": 2.0, "V": 0.2, "psi": 4.0, "in": 1.0, "cm": 2.5, "persons": 2.0, "ppm": 5.0}
"""Least half-width of "about" in a unit; a tenth of the value when that is more."""
NUDGE = 0.02
"""How far "just under a quarter" lies from a quarter."""
OPENINGS = frozenset("ok okay so and well oh hey yeah yes yep alright now then but please coach also hi uh um er hmm that is it was the for in on i a meant at , . - …".split())
POINTING = frozenset("that it those this was for meant".split())


@dataclass(frozen=True)
class Setting:
    """What a sentence is read against."""

    coach: Coach
    reader: Reader
    previous: tuple[Reading, ...]
    corrected: bool
    """Something in it takes back what was said before."""


def hear(text: str, coach: Coach, previous: Sequence[Reading] = ()) -> Heard:
    """The readings a text tells, what it refuses, and what of `previous` (newest last) it takes back."""
    vocabulary = terms(tuple(tank.name for tank in coach.tanks))
    words = mended(words_of(text), vocabulary)
    if not words or len(words) > LONGEST_UTTERANCE:
        return Heard()
    reader = Reader(words, vocabulary)
    amounts = find_amounts(reader)
    subjects = find_subjects(reader)
    lead, strong = _lead(reader)
    now = spoken_of_now(reader, subjects, lead if strong else 0)
    amounts, subjects, denied = _affirmed(reader, amounts, subjects)
    setting = Setting(coach, reader, tuple(previous), strong or denied or _takes_back(reader))
    told = [amount for amount in amounts if now[min(amount.start, len(now) - 1)]]
    if not previous and reader.phrase(0, "make it", "change it to", "make that", "change that to"):
        # With nothing to correct it is a wish: "make it sixty eight in here".
        return Heard()
    if previous and not told and not amounts:
        leaning = _leaning(setting, subjects, text)
        if leaning:
            return leaning
    if not told:
        return _overflowing(setting, subjects, text)
    heard = _told(setting, subjects, told, text)
    return heard if heard != Heard() else _overflowing(setting, subjects, text)


def _lead(reader: Reader) -> tuple[int, bool]:
    """Where the sentence proper begins, and whether what stands before takes something back."""
    i, strong = 0, False
    while i < len(reader.texts) and not reader.taken[i]:
        found = reader.vocabulary.corrections.at(reader.texts, i)
        if found and not any(reader.taken[i : found[0]]):
            strong = strong or found[1] == "strong"
            i = found[0]
        elif reader.text(i) in OPENINGS and not (reader.text(i) in ("that", "it", "is", "was", "the", "for", "in", "on", "i", "a", "meant", "at") and not strong):
            i += 1
        else:
            break
    return i, strong


def _takes_back(reader: Reader) -> bool:
    """Whether a correction stands anywhere outside amounts: "fifty, sorry"."""
    i = 0
    while i < len(reader.texts):
        found = reader.vocabulary.corrections.at(reader.texts, i)
        if found and found[1] == "strong" and not any(reader.taken[i : found[0]]):
            return True
        i += 1
    return False


def _affirmed(reader: Reader, amounts: list[Amount], subjects: list[Subject]) -> tuple[list[Amount], list[Subject], bool]:
    """Amounts and subjects without those denied in favour of another: "not fifteen, fifty"."""

    def is_denied(start: int) -> bool:
        at = start - 1
        while at >= 0 and reader.text(at) in ("the", "in", "on", "for", "at", "a"):
            at -= 1
        return reader.text(at) == "not" and reader.text(at - 1) not in ("is", "are", "does", "do")

    kept_amounts: list[Amount] = []
    denied = False
    for amount in amounts:
        if not is_denied(amount.start):
            kept_amounts.append(amount)
        elif len(amount.said) == 2 and len(amounts) == 1:
            # "not fifteen fifty": the second is meant.
            kept_amounts.append(replace(amount, number=float(amount.said[1]), said=(), kind="integer"))
            denied = True
        elif len(amounts) > 1:
            denied = True
        else:
            kept_amounts.append(amount)
    kept_subjects = [subject for subject in subjects if not is_denied(subject.start)]
    if kept_subjects and len(kept_subjects) < len(subjects):
        return kept_amounts, kept_subjects, True
    return kept_amounts, subjects, denied


# What belongs to what


def _allowed(what: str, coach: Coach) -> tuple[str, ...]:
    return TANK_UNITS if is_tank(what, coach) else ALLOWED.get(what, ())


def _fits(coach: Coach, subject: Subject, amount: Amount) -> float:
    """How ill an amount fits a subject: 0 well, NEVER not at all."""
    what = subject.what
    if what == "elsewhere":
        return 0.5
    if amount.kind in ("same", "relative"):
        return 0.0 if what not in ("gauge", "temperature") else NEVER
    if amount.flag:
        if amount.kind == "red":
            return 0.0 if what in ("propane", "place", "air_pressure") else NEVER
        return 0.0 if what in FLAGGED or is_tank(what, coach) else NEVER
    if amount.level:
        return (0.5 if subject.loose else 0.0) if what in LEVELLED or is_tank(what, coach) else NEVER
    unit, fraction = amount.unit, amount.kind == "fraction"
    if not unit and amount.number == 1 and amount.kind == "integer" and what not in (*TEMPERATURES, "passengers", "co_ppm", "generator_hours"):
        # "one" by itself is a pronoun far more often than one percent.
        return NEVER
    if what == "place" and subject.place == "spare" and not unit and not fraction:
        return NEVER
    temperature = unit in ("F", "C", "degrees")
    if what == "gauge":
        return 4.0
    if what == "place":
        if unit in ("percent", "lb", "kg", "gal", "L") or (fraction and unit == ""):
            return 0.0
        return 0.0 if temperature or unit == "" else NEVER
    if what == "temperature":
        return 0.0 if temperature or (unit == "" and not fraction) else NEVER
    if what == "tank":
        return 1.0 if unit in TANK_UNITS or unit == "" else NEVER
    if what in ("other", "pair"):
        return 1.0 if what == "other" else 2.0
    if what == "side":
        return 0.5 if unit in ("psi", "bar", "", "lb") and not fraction else NEVER
    if what == "air_pressure" and subject.loose and temperature:
        return 0.0
    allowed = _allowed(what, coach)
    if unit == "":
        if fraction:
            return 0.0 if "fraction" in allowed else NEVER
        return 0.3 if subject.loose else 0.0
    if what in ("tire_pressure", "air_pressure") and unit == "lb":
        return 0.0
    if what in TEMPERATURES:
        return 0.0 if temperature else NEVER
    if what == "house_battery" and unit == "V" and subject.hint == "A":
        return NEVER
    return 0.0 if unit in allowed else NEVER


def _named(setting: Setting, subject: Subject, amount: Amount, last: Reading | None) -> tuple[str, str | None] | None:
    """The name and "which" of a subject, given the amount and what was told before it; None when unclear."""
    coach = setting.coach
    what = subject.what
    if what == "air_pressure" and subject.loose and amount.unit in ("F", "C", "degrees"):
        return "outside_temp", None
    if what == "place":
        return _named_place(setting, subject, amount, last)
    if what == "temperature":
        return ("inside_temp" if subject.place == "inside" else "outside_temp"), None
    if what == "propane":
        return what, _cylinder(subject, coach)
    if what == "tire_pressure":
        return what, _tire(subject, coach)
    if what == "side" and last and last.what == "tire_pressure":
        return what_and_side(last, subject, coach)
    if what == "side" and last and last.what == "propane":
        return "propane", _cylinder(subject, coach)
    if what == "other" and last:
        return _counterpart(last)
    if what == "tank":
        if last and is_tank(last.what, coach) and not subject.both:
            return last.what, None
        return None
    if what in ("side", "other", "gauge"):
        return None
    return what, subject.which


def _named_place(setting: Setting, subject: Subject, amount: Amount, last: Reading | None) -> tuple[str, str | None]:
    place = subject.place or ""
    bare = amount.unit == "" and amount.kind != "fraction" and not amount.level
    if place not in ("inside", "outside") or subject.pronoun or amount.level or amount.flag:
        return "propane", _cylinder(subject, setting.coach)
    if amount.unit in ("percent", "lb", "kg", "gal", "L") or (amount.kind == "fraction" and amount.unit == ""):
        return "propane", place
    if amount.kind in ("same", "relative") and last and last.what == "propane":
        return "propane", place
    if bare and last and last.what == "propane" and last.which not in (None, place) and not amount.below_zero and (amount.number or 0) >= 0:
        return "propane", place
    return f"{place}_temp", None


def what_and_side(last: Reading, subject: Subject, coach: Coach) -> tuple[str, str | None]:
    """The tire on the other side, in the same position as the last one."""
    words = (last.which or "").split()
    tire = {_position(word): word for word in words}
    tire.update(subject.tire)
    return "tire_pressure", _tire(replace(subject, tire=tire), coach)


def _position(word: str) -> str:
    return "side" if word in ("left", "right") else "dual" if word in ("outer", "inner") else "axle"


def _cylinder(subject: Subject, coach: Coach) -> str | None:
    if subject.place in ("driver-side", "passenger-side"):
        # The street is on the driver's side, whichever side of the road is driven on.
        return "street-side" if subject.place == "driver-side" else "curb-side"
    if subject.place:
        return subject.place
    side = subject.tire.get("side")
    if side:
        return "street-side" if (side == "left") == (coach.drive == "left-hand") else "curb-side"
    return {"outer": "outside", "inner": "inside"}.get(subject.tire.get("dual", ""))


def _tire(subject: Subject, coach: Coach) -> str | None:
    driver = "left" if coach.drive == "left-hand" else "right"
    passenger = "right" if driver == "left" else "left"
    place = {"driver-side": driver, "street-side": driver, "passenger-side": passenger, "curb-side": passenger}.get(subject.place or "")
    side = subject.tire.get("side") or place
    axle = subject.tire.get("axle")
    dual = subject.tire.get("dual") or {"outside": "outer", "inside": "inner"}.get(subject.place or "")
    if dual and not axle:
        axle = "drive"
    if subject.place == "spare":
        return "spare"
    return " ".join(part for part in (side, axle, dual) if part) or None


COUNTERPART = {
    "outside": "inside", "inside": "outside", "curb-side": "street-side", "street-side": "curb-side", "primary": "secondary", "secondary": "primary",
    "left": "right", "right": "left", "fresh": "waste", "waste": "fresh", "outside_temp": "inside_temp", "inside_temp": "outside_temp",
}  # fmt: skip


def _counterpart(reading: Reading) -> tuple[str, str | None] | None:
    """The other one of a pair: the inside cylinder, the right tire, the waste tank."""
    if reading.which:
        first, _, rest = reading.which.partition(" ")
        if first in COUNTERPART:
            return reading.what, f"{COUNTERPART[first]} {rest}".strip()
    elif reading.what in COUNTERPART:
        return COUNTERPART[reading.what], None
    return None


def _both(subject: Subject, name: tuple[str, str | None]) -> list[tuple[str, str | None]]:
    what, which = name
    if not subject.both:
        return [name]
    if what == "propane" and which is None:
        return [("propane", "outside"), ("propane", "inside")]
    if what == "air_pressure" and which is None:
        return [(what, "primary"), (what, "secondary")]
    if what == "tire_pressure" and which and not which.startswith(("left", "right")):
        return [(what, f"left {which}"), (what, f"right {which}")]
    return [name]


# From an amount to a reading


def _reading(setting: Setting, what: str, which: str | None, amount: Amount, shared: str, hint: str, said: str, base: Reading | None) -> Reading | Refusal | None:
    """The reading that an amount gives for a subject, a refusal, or None when the two do not go together."""
    coach = setting.coach
    if amount.kind in ("same", "relative"):
        return _derived(setting, what, which, amount, said, base)
    if amount.flag:
        flag = "high" if what in ("waste", "co_ppm") and amount.kind == "flag" and _in_the_red(setting.reader, amount) else amount.flag
        return Reading(what, which, None, None, flag=flag, said=said)
    allowed = _allowed(what, coach)
    number, unit = _quantity(setting, what, amount, shared, hint)
    if unit not in allowed:
        return wrong_unit(what, which, unit, allowed) if allowed and unit else None
    reading = Reading(what, which, _rounded(number, unit), unit, counted_from=amount.counted_from, said=said)
    reading = _vague(reading, amount, hint)
    refused = refusal(reading, coach)
    if refused and (other := _other_hearing(amount, unit)) is not None:
        again = replace(reading, value=other)
        if refusal(again, coach) is None:
            return again
    return refused or reading


def _in_the_red(reader: Reader, amount: Amount) -> bool:
    return "red" in reader.texts[amount.start : amount.end]


def _other_hearing(amount: Amount, unit: str) -> float | None:
    """Another way to hear a number in pieces that cannot be true: a stutter, or a "one" that stood for a thing."""
    said = amount.said
    if len(said) < 2:
        return None
    if said[0] == "1" and amount.after_place and unit in (*SHARES, "lb", "kg", "gal", "L"):
        return float("".join(said[1:]))
    if len(said) == 2 and said[0][-1:] == "0" and said[1][:1] == said[0][:1] and len(said[0]) == len(said[1]) == 2:
        return float(said[1])
    return None


def _quantity(setting: Setting, what: str, amount: Amount, shared: str, hint: str) -> tuple[float, str]:
    """The number and its unit; where none was said, the one that the subject and the profile imply."""
    coach, number, unit = setting.coach, amount.number or 0.0, amount.unit
    metric = coach.units == "metric"
    if amount.freezing is not None:
        celsius = unit == "C" or (unit != "F" and metric)
        return (amount.freezing, "C") if celsius else (32 + amount.freezing, "F")
    if what in TEMPERATURES:
        return number, unit if unit in ("F", "C") else shared or ("C" if metric else "F")
    if what in ("tire_pressure", "air_pressure"):
        return number, "psi" if unit in ("", "lb") and shared != "bar" else unit or shared
    if what == "house_battery":
        return _battery(setting, amount, hint)
    if unit:
        return number, unit
    if amount.of and what != "passengers":
        return number / amount.of, "fraction"
    fixed = {"shore_voltage": "V", "passengers": "persons", "co_ppm": "ppm", "generator_hours": "h", "odometer": "km" if metric else "mi"}.get(what)
    if fixed:
        return number, shared or (hint if hint == "km" else fixed)
    if amount.kind == "fraction" or (amount.kind == "decimal" and 0 < number < 1):
        return number, "fraction"
    return number, shared or "percent"


def _battery(setting: Setting, amount: Amount, hint: str) -> tuple[float, str]:
    nominal = setting.coach.house_battery.volts
    low, high = BATTERY_V[nominal]
    number, unit = amount.number or 0.0, amount.unit
    split = as_decimal(amount.said, low, high)
    if unit in ("A", "percent"):
        return number, unit
    if unit == "V" or hint == "V":
        return (split if split is not None else number), "V"
    if unit:
        return number, unit
    if hint == "A":
        return number, "A"
    if amount.kind == "fraction":
        return number, "fraction"
    if split is not None:
        return split, "V"
    least = 10.0 if nominal == 12 else 20.0
    if least <= number <= high or (amount.kind == "decimal" and low - 2 <= number <= high + 2):
        return number, "V"
    # A lost point: 126 for 12.6. The limit for volts then asks which was meant.
    return number, "V" if 10 * low < number <= 10 * high and number != 100 else "percent"


def _rounded(number: float, unit: str) -> float:
    value = round(number, 4 if unit == "fraction" else 3)
    return value + 0.0


def _vague(reading: Reading, amount: Amount, hint: str = "") -> Reading:
    """The reading with its plausible range when it was told vaguely."""
    value, unit = reading.value, reading.unit or ""
    if value is None or not amount.hedge:
        return reading
    least = 0.0 if unit in SHARES else None
    most = {"fraction": 1.0, "percent": 100.0}.get(unit)
    if most is not None and not least <= value <= most:  # type: ignore[operator]
        return reading
    if amount.hedge == "range":
        return replace(reading, approx=True, low=amount.low, high=amount.high)
    width = max(SPREAD.get(unit, 0.0), 0.1 * abs(value) if unit not in (*SHARES, "F", "C", "V") else 0.0)
    if amount.level:
        value = 0.95 if value else 0.05
        return replace(reading, value=value, approx=True, low=max(0.0, value - 0.07), high=min(1.0, value + 0.05))
    if unit == "fraction" and amount.hedge in ("under", "over"):
        value = round(value - NUDGE if amount.hedge == "under" else value + NUDGE, 4)
        value = min(1.0, max(0.0, value))
    low = value - width if amount.hedge != "over" else value - width / 4
    high = value + width if amount.hedge != "under" else value + width / 4
    low = max(low, least) if least is not None else low
    high = min(high, most) if most is not None else high
    return replace(reading, value=value, approx=True, low=round(low, 4), high=round(high, 4))


def _derived(setting: Setting, what: str, which: str | None, amount: Amount, said: str, base: Reading | None) -> Reading | Refusal | None:
    """A reading told relative to another: "the same", "half of that"."""
    if base is None or (base.value is None and amount.kind == "relative"):
        return None
    if base.unit is not None and base.unit not in _allowed(what, setting.coach):
        return None
    factor = amount.number if amount.kind == "relative" and amount.number else 1.0
    value = None if base.value is None else _rounded(base.value * factor, base.unit or "")
    scaled = [None if bound is None else bound * factor for bound in (base.low, base.high)]
    made = replace(base, what=what, which=which, value=value, low=scaled[0], high=scaled[1], said=said)
    return refusal(made, setting.coach) or made


def _said(text: str, reader: Reader, *parts: Subject | Amount) -> str:
    spans = [(reader.words[part.start].start, reader.words[min(part.end, len(reader.words)) - 1].end) for part in parts if part.end > part.start]
    return text[min(start for start, _ in spans) : max(end for _, end in spans)] if spans else text


# A sentence with amounts


def _told(setting: Setting, subjects: Sequence[Subject], amounts: Sequence[Amount], text: str) -> Heard:
    reader, coach = setting.reader, setting.coach
    subjects = _with_implied(setting, subjects, amounts)
    paired = pair(reader, subjects, amounts, lambda subject, amount: _fits(coach, subject, amount))
    readings: list[Reading] = []
    refused: list[Refusal] = []
    ask = ""
    units = _said_units(setting, paired.pairs)
    for one in sorted(paired.pairs, key=lambda p: p.amount.start):
        last = readings[-1] if readings else (setting.previous[-1] if setting.previous else None)
        for subject in one.subjects:
            names = _names(setting, subject, one.amount, last)
            if names is None:
                ask = ask or (_which_tank(coach) if subject.what == "tank" else "")
                continue
            for what, which in names:
                shared = _shared_unit(units, what, one.amount, coach)
                said = text if len(paired.pairs) == 1 else _said(text, reader, subject, one.amount)
                got = _reading(setting, what, which, one.amount, shared, subject.hint, said, last)
                if isinstance(got, Reading):
                    if _is_size(setting, subject, one.amount, got):
                        continue
                    if not _is_second_thought(got, readings, one.amount):
                        readings.append(got)
                elif got is not None:
                    if _is_time_of_day(reader, one.amount) or not (one.amount.unit or _few_other_words(reader, 2)):
                        continue
                    if not (one.amount.unit == "" and any(r.what == what and r.which == which for r in readings)):
                        refused.append(got)
    spare = [subject for subject in paired.subjects if subject.what not in ("elsewhere", "gauge", "place", "side", "other", "temperature")]
    if readings and spare:
        readings += _same_again(setting, spare, readings, text)
    for amount in paired.amounts:
        if readings and amount.below_zero and not any(reading.what == "outside_temp" for reading in readings):
            got = _reading(setting, "outside_temp", None, amount, "", "", text, None)
            readings += [got] if isinstance(got, Reading) else []
    if not readings and not refused:
        return _without_subject(setting, list(paired.amounts), spare, text, ask)
    return Heard(tuple(readings), tuple(refused), _withdrawn(setting, readings), "" if readings or refused else ask)


def _names(setting: Setting, subject: Subject, amount: Amount, last: Reading | None) -> list[tuple[str, str | None]] | None:
    if subject.what == "elsewhere":
        return []
    if subject.what == "tank" and subject.both:
        return [(tank.name, None) for tank in setting.coach.tanks]
    if subject.what == "pair":
        return _pair_of(setting, last)
    name = _named(setting, subject, amount, last)
    return None if name is None else _both(subject, name)


def _pair_of(setting: Setting, last: Reading | None) -> list[tuple[str, str | None]] | None:
    """The two that "both" stands for after a reading of one of them."""
    other = _counterpart(last) if last else None
    return [(last.what, last.which), other] if last and other else None


def _with_implied(setting: Setting, subjects: Sequence[Subject], amounts: Sequence[Amount]) -> list[Subject]:
    """The subjects, and those that a unit names by itself: "thirty people", "forty ppm"."""
    found = list(subjects)
    for amount in amounts:
        what = _implied(setting.reader, amount)
        if what and not any(subject.what == what for subject in found):
            found.append(Subject(amount.end, amount.end, what))
    found = [s for s in found if not (s.what == "passengers" and not _is_head_count(setting.reader, next((a for a in amounts if a.unit == "persons"), None)))]
    return sorted(found, key=lambda subject: subject.start)


def _implied(reader: Reader, amount: Amount) -> str | None:
    """The subject that a unit names by itself, when hardly anything else is talked about."""
    what = IMPLIED.get(amount.unit)
    if what is None or not _few_other_words(reader, 2):
        return None
    counting = {"we", "got", "have", "carrying", "total", "passengers", "passenger", "pax", "souls", "riders"} & set(reader.texts)
    return what if what != "passengers" or (counting and _is_head_count(reader, amount)) else None


HEAD_COUNT_AFTER = frozenset("aboard on in now today total plus and tonight so here all seated counted onboard , . ! then with this currently".split())


def _is_head_count(reader: Reader, amount: Amount | None) -> bool:
    """Whether people are counted, not told about: "two passengers are sick" is no count."""
    if amount is None or amount.unit != "persons":
        return True
    after = reader.text(amount.end)
    if after in ("is", "are") and reader.text(amount.end + 1) in ("aboard", "on", "here", "onboard", "seated", "in"):
        return True
    if after in ("", *HEAD_COUNT_AFTER):
        if after == "and" and (number_at(reader.texts, amount.end + 1) if amount.end + 1 < len(reader.texts) else None):
            return True
        return not (after in ("on", "in", "with", "and") and reader.text(amount.end + 1) not in ("", "board", "the", "this", "coach", "bus", "waste", "fresh", "diesel", "total", "here", "our", "two", "drivers"))
    return reader.vocabulary.clues.at(reader.texts, amount.end) is not None


def _said_units(setting: Setting, pairs: Sequence[Pair]) -> list[tuple[str, str, int]]:
    """Family, unit and place of every unit that was spoken."""
    found: list[tuple[str, str, int]] = []
    for one in pairs:
        what = one.subjects[0].what
        if one.amount.unit and one.amount.unit != "degrees":
            if what == "place":
                what = "inside_temp" if one.amount.unit in ("F", "C") else "propane"
            found.append((_family(what, setting.coach), one.amount.unit, one.amount.start))
    return found


def _family(what: str, coach: Coach) -> str:
    return "tank" if is_tank(what, coach) else FAMILY.get(what, what)


def _shared_unit(units: Sequence[tuple[str, str, int]], what: str, amount: Amount, coach: Coach) -> str:
    """The nearest unit spoken of the same kind of thing, for an amount that has none."""
    if what == "temperature":
        return ""
    fitting = [(abs(place - amount.start), unit) for family, unit, place in units if family == _family(what, coach) and unit in _allowed(what, coach)]
    return min(fitting)[1] if fitting else ""


def _is_second_thought(reading: Reading, readings: Sequence[Reading], amount: Amount) -> bool:
    """Whether a bare second number for the same thing is something else, such as the time of day."""
    return any(r.what == reading.what and r.which == reading.which and r.unit == reading.unit for r in readings) and amount.unit == ""


def _is_time_of_day(reader: Reader, amount: Amount) -> bool:
    """Whether a number that cannot be a reading is a clock time: "outside at nine thirty"."""
    said = amount.said
    shaped = len(said) == 2 and 1 <= int(said[0]) <= 12 and len(said[1]) == 2 and int(said[1]) < 60
    return not amount.unit and shaped and reader.text(amount.start - 1) in ("at", "it", "is", "around", "about", "for")


def _is_size(setting: Setting, subject: Subject, amount: Amount, reading: Reading) -> bool:
    """Whether "the fresh tank is a hundred and twenty gallons" tells how big it is, not how full."""
    reader = setting.reader
    if not reading.unit or reading.unit in SHARES or reading.value is None or reading.what == "propane":
        return False
    named = "tank" in reader.texts[subject.start : subject.end]
    determined = reader.text(subject.start - 1) in ("the", "our", "my")
    between = [word for word in reader.texts[subject.end : amount.start] if not reader.taken[reader.texts.index(word)]]
    plain = subject.end <= amount.start and (between == ["is"] or (between == [] and determined))
    return named and plain and (fraction_of_full(replace(reading, counted_from="bottom"), setting.coach) or 0.0) > 0.99


def _same_again(setting: Setting, subjects: Sequence[Subject], readings: Sequence[Reading], text: str) -> list[Reading]:
    """Readings for subjects that were only said to be the same: "fresh is half, waste too"."""
    made: list[Reading] = []
    for subject in subjects:
        found = setting.reader.vocabulary.same.at(setting.reader.texts, subject.end) or setting.reader.vocabulary.same.at(setting.reader.texts, subject.end + 1)
        before = any((same := setting.reader.vocabulary.same.at(setting.reader.texts, k)) and same[0] <= subject.start for k in range(max(0, subject.start - 3), subject.start))
        if not found and not before:
            continue
        last = readings[-1]
        name = _named(setting, subject, Amount(subject.end, subject.end, 1.0, kind="same"), last)
        if name and name != (last.what, last.which):
            derived = _derived(setting, *name, Amount(subject.end, subject.end, 1.0, kind="same"), text, last)
            if isinstance(derived, Reading):
                made.append(derived)
    return made


def _withdrawn(setting: Setting, readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """Earlier readings that a correction replaces."""
    if not setting.corrected or not setting.previous:
        return ()
    gone: list[Reading] = []
    for reading in readings:
        for earlier in reversed(setting.previous):
            same = earlier.what == reading.what and earlier.which in (reading.which, None)
            moved = earlier is setting.previous[-1] and (earlier.value, earlier.unit) == (reading.value, reading.unit)
            if (same or moved) and earlier not in gone:
                gone.append(earlier)
                break
    return tuple(gone)


def _without_subject(setting: Setting, amounts: list[Amount], spare: Sequence[Subject], text: str, ask: str) -> Heard:
    """Amounts that no subject took: a correction of the last reading, a clear case, a question, or nothing."""
    if not amounts:
        return Heard(ask=ask)
    amount = amounts[-1]
    if setting.previous and _leans(setting, amount):
        return _replaced(setting, amount, text)
    what = None if any(not subject.loose for subject in spare) else _evident(setting, amount)
    if what:
        got = _reading(setting, what, None, amount, "", "", text, None)
        return Heard(refused=(got,)) if isinstance(got, Refusal) else Heard(readings=(got,)) if got else Heard()
    if len(spare) == 1 and len(amounts) == 1 and amount.unit and not spare[0].loose and _few_other_words(setting.reader, 0):
        allowed = _allowed(spare[0].what, setting.coach)
        name = _named(setting, spare[0], amount, None)
        if allowed and name and amount.unit not in allowed:
            return Heard(refused=(wrong_unit(*name, amount.unit, allowed),))
    return Heard(ask=ask or _question(setting, amount))


def _leans(setting: Setting, amount: Amount) -> bool:
    """Whether an amount without subject is about the last reading."""
    if setting.corrected:
        return True
    if not _few_other_words(setting.reader, 2):
        return False
    bare = amount.unit == "" and amount.kind == "integer" and abs(amount.number or 0) < 10 and not amount.level
    return not bare or any(word in POINTING or word == "now" for word in setting.reader.texts)


def _replaced(setting: Setting, amount: Amount, text: str) -> Heard:
    """The last reading that the amount fits, told anew."""
    first: Heard | None = None
    for earlier in reversed(setting.previous):
        hint = earlier.unit if earlier.unit in ("V", "A") else ""
        shared = earlier.unit if earlier.unit not in (None, "fraction") else ""
        told = amount
        if earlier.what == "house_battery" and amount.unit == "" and earlier.unit == "percent":
            told = replace(amount, unit="percent") if amount.kind != "fraction" else amount
        got = _reading(setting, earlier.what, earlier.which, told, shared or "", hint or "", text, earlier)
        if isinstance(got, Reading):
            if got.unit in ("in", "cm", "ft") and got.counted_from is None:
                got = replace(got, counted_from=earlier.counted_from)
            beside = "now" in setting.reader.texts and not setting.corrected
            return Heard((got,), withdrawn=() if beside else (earlier,))
        if isinstance(got, Refusal) and first is None:
            first = Heard(refused=(got,))
    return first or Heard()


def _evident(setting: Setting, amount: Amount) -> str | None:
    """The subject of an amount that names none, where only one is likely."""
    if setting.reader.skipped or not _few_other_words(setting.reader, 3):
        return None
    if amount.below_zero or amount.freezing is not None or (amount.unit in ("F", "C") and (amount.number or 0) < 0):
        return "outside_temp"
    if amount.unit == "degrees" and (amount.number or 0) < 0:
        return "outside_temp"
    if amount.unit == "" and amount.number is not None and amount.number < 0 and "minus" in setting.reader.texts:
        return "outside_temp" if any(word in ("it", "temp") for word in setting.reader.texts) else None
    if amount.unit == "V" and amount.number is not None:
        low, high = BATTERY_V[setting.coach.house_battery.volts]
        if low <= amount.number <= high or as_decimal(amount.said, low, high) is not None:
            return "house_battery"
        return "shore_voltage" if 90 <= amount.number <= 250 else None
    return _implied(setting.reader, amount)


COMMON = frozenset(
    "the a an it is are we i at we've have has got now just about still there here that this on in of to so and so's looks like reading reads shows showing says left right"
    " my our been down up only currently ok okay well yeah hey coach oh um uh er now's currently for be then sitting approx was were what they".split()
)


def _few_other_words(reader: Reader, allowed: int) -> bool:
    """Whether hardly a word is left that nothing here understands."""
    others = 0
    for i, word in enumerate(reader.texts):
        if reader.taken[i] or word in COMMON or word in PUNCTUATION:
            continue
        if reader.vocabulary.clues.at(reader.texts, i) or word in reader.vocabulary.corrections.words:
            continue
        others += 1
    return others <= allowed


def _question(setting: Setting, amount: Amount) -> str:
    """What to ask about an amount that nothing tells the subject of, or ""."""
    reader = setting.reader
    stated = {"at", "it", "we", "got", "left", "tank", "gauge", "full", "reads", "is", "has", "shows", "says", "have"} & set(reader.texts)
    if reader.skipped or not stated or not _few_other_words(reader, 0):
        return ""
    if amount.unit in ("percent", "gal", "L", "in", "cm", "ft") or (amount.kind == "fraction" and not amount.unit):
        return _which_tank(setting.coach)
    if amount.unit in ("psi", "bar"):
        return "Which pressure: a tire, or the air gauge?"
    if amount.unit in ("F", "C", "degrees"):
        return "Is that inside or outside?"
    if amount.unit in ("lb", "kg"):
        return "Which cylinder is that?"
    if amount.unit == "V":
        return "Is that the house battery or shore power?"
    return ""


def _which_tank(coach: Coach) -> str:
    names = [label(tank.name).lower() for tank in coach.tanks]
    return f"Which one: {', '.join(names)}, propane or diesel?"


def _overflowing(setting: Setting, subjects: Sequence[Subject], text: str) -> Heard:
    """The fresh tank is full when its overflow runs; a low-level lamp tells a low level."""
    reader = setting.reader
    signs = reader.vocabulary.signs
    asked = signs.clause.search(reader.joined) or signs.everything.search(reader.joined) or reader.text(len(reader.texts) - 1) == "?"
    if asked or {"not", "no", "nothing", "never", "was", "if", "when", "until", "till", "will"} & set(reader.texts):
        return Heard()
    if signs.overflow.search(reader.joined) and not any(subject.what == "waste" for subject in subjects):
        return Heard((Reading("fresh", None, 1.0, "fraction", said=text),))
    return Heard()


# A sentence that leans on the one before


def _leaning(setting: Setting, subjects: Sequence[Subject], text: str) -> Heard | None:
    """What a sentence without an amount of its own does to the readings before it, or None."""
    reader, vocabulary = setting.reader, setting.reader.vocabulary
    signs = vocabulary.signs
    asked = signs.clause.search(reader.joined) and not reader.phrase(0, "so is", "so are", "and so is", "and so are")
    if signs.everything.search(reader.joined) or asked or reader.texts[-1] == "?" or not _few_other_words(reader, 4):
        return None
    if _has(reader, vocabulary, "swap") and len(setting.previous) > 1:
        return _swapped(setting, text)
    last = setting.previous[-1]
    if len(subjects) == 1 and subjects[0].what == "pair":
        return _of_both(setting, last, text)
    aims = [subject for subject in subjects if subject.what not in ("elsewhere", "gauge", "tank", "temperature")]
    if aims and _has(reader, vocabulary, "same"):
        made = [got for subject in aims if isinstance(got := _aimed(setting, subject, last, text), Reading)]
        return Heard(tuple(made)) if made else None
    pointing = setting.corrected or bool(reader.texts) and reader.texts[0] in POINTING
    if len(aims) == 1 and (pointing or _completes(aims[0], last)):
        moved = _aimed(setting, aims[0], last, text)
        if isinstance(moved, Refusal):
            return Heard(refused=(moved,))
        return Heard((moved,), withdrawn=(last,)) if moved else None
    return _other_unit(setting, last, text)


def _of_both(setting: Setting, last: Reading, text: str) -> Heard | None:
    """The last reading, said of both of a pair."""
    if last.what == "propane" and last.which is None:
        names: list[tuple[str, str | None]] | None = [("propane", "outside"), ("propane", "inside")]
    else:
        names = _pair_of(setting, last)
    if names is None:
        return None
    made = tuple(replace(last, what=what, which=which, said=text) for what, which in names)
    return Heard(made, withdrawn=(last,) if last.which is None else ())


def _has(reader: Reader, vocabulary: Terms, name: str) -> bool:
    phrases = vocabulary.swap if name == "swap" else vocabulary.same
    return any(phrases.at(reader.texts, i) for i in range(len(reader.texts)))


def _swapped(setting: Setting, text: str) -> Heard:
    first, second = setting.previous[-2:]
    made = []
    for taker, giver in ((first, second), (second, first)):
        if giver.unit is not None and giver.unit not in _allowed(taker.what, setting.coach):
            return Heard()
        made.append(replace(giver, what=taker.what, which=taker.which, said=text))
    refused = tuple(r for r in (refusal(reading, setting.coach) for reading in made) if r)
    return Heard(refused=refused) if refused else Heard(tuple(made), withdrawn=(first, second))


def _completes(subject: Subject, last: Reading) -> bool:
    """Whether a subject only tells which one was meant."""
    if last.which is not None:
        return False
    if last.what == "propane":
        return subject.what in ("propane", "place") and (subject.place is not None or bool(subject.tire))
    if last.what == "tire_pressure":
        return subject.what in ("tire_pressure", "side")
    return last.what == subject.what == "air_pressure" and subject.which is not None


def _aimed(setting: Setting, subject: Subject, last: Reading, text: str) -> Reading | Refusal | None:
    """The last reading, said of another subject."""
    coach = setting.coach
    name: tuple[str, str | None] | None
    if subject.what == "place" and last.what in TEMPERATURES and subject.place in ("inside", "outside") and not subject.pronoun:
        name = (f"{subject.place}_temp", None)
    elif subject.what == "place":
        name = ("propane", _cylinder(subject, coach)) if last.what == "propane" or last.unit in ALLOWED["propane"] else None
        if last.what == "tire_pressure":
            name = what_and_side(last, replace(subject, tire={"side": side} if (side := _tire(subject, coach)) in ("left", "right") else {}), coach)
    elif subject.what in ("side", "tire_pressure") and last.what == "tire_pressure":
        name = what_and_side(last, subject, coach)
    else:
        name = _named(setting, subject, Amount(subject.end, subject.end, 1.0, kind="same"), last)
    if name is None or name == (last.what, last.which):
        return None
    what, which = name
    allowed = _allowed(what, coach)
    if last.unit is not None and last.unit not in allowed:
        return wrong_unit(what, which, last.unit, allowed) if setting.corrected and allowed else None
    made = replace(last, what=what, which=which, said=text)
    return refusal(made, coach) or made


def _other_unit(setting: Setting, last: Reading, text: str) -> Heard | None:
    """The last value in another unit or counted from the other end: "celsius I mean", "from the top"."""
    reader = setting.reader
    for i in range(len(reader.texts)):
        direction = reader.vocabulary.counted_from.at(reader.texts, i)
        if direction and last.unit in ("in", "cm", "ft") and reader.text(i) in ("from", "off", "down", "up", "below", "above"):
            return Heard((replace(last, counted_from=direction[1], said=text),), withdrawn=(last,))
        if reader.text(i) in ("below", "minus") and last.what in TEMPERATURES and last.value and _few_other_words(reader, 1):
            return Heard((replace(last, value=-abs(last.value), said=text),), withdrawn=(last,))
        if reader.vocabulary.hedges.at(reader.texts, i) and _few_other_words(reader, 1) and len(reader.texts) <= 4 and last.value is not None:
            amount = Amount(0, 0, last.value, last.unit or "", hedge="about")
            return Heard((replace(_vague(last, amount), said=text),), withdrawn=(last,))
        found = reader.vocabulary.units.at(reader.texts, i)
        unit = found[1][0] if found else ""
        if unit and unit in _allowed(last.what, setting.coach) and unit != last.unit and last.value is not None and reader.text(i - 1) != "not":
            value = last.value * 100 if last.unit == "fraction" and unit == "percent" else last.value
            made = replace(last, unit=unit, value=value, low=None, high=None, approx=False, said=text)
            refused = refusal(made, setting.coach)
            return Heard(refused=(refused,)) if refused else Heard((made,), withdrawn=(last,))
    return None
