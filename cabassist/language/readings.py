"""What a driver tells about the coach: levels, temperatures, voltages, pressures, people.

`hear` finds the amounts and the subjects among the words (`amounts`, `subjects`), leaves out what is not said of
the present (`present_state`), brings the two together (`pairing`), names them (`reading_names`), settles units
(`reading_values`) and refuses what cannot be (`plausibility`). A sentence that leans on the one before is read
against `previous` (`leaning`). The vocabulary is data: `knowledge/reading-terms.yaml`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cabassist.language.amounts import find_amounts
from cabassist.language.cylinder_sides import UNPLACED, in_order
from cabassist.language.leaning import POINTING, aimed, leaning, taken_back, told_anew
from cabassist.language.numbers import as_decimal, words_of
from cabassist.language.pairing import Pair, Pairing, pair
from cabassist.language.plausibility import BATTERY_V, cylinder_of, echo, fraction_of_full, is_tank, label, wrong_unit
from cabassist.language.present_state import spoken_of_now
from cabassist.language.reading_names import SHARES, TEMPERATURES, Setting, allowed_units, name_of, names_of
from cabassist.language.reading_parts import PUNCTUATION, TEMPERATURE_UNITS, Amount, Reader, Subject
from cabassist.language.reading_terms import Phrases, Terms, mended
from cabassist.language.reading_types import Heard, Reading, Refusal
from cabassist.language.reading_values import FREEZING_F, misfit, reading_of
from cabassist.language.subjects import find_subjects

if TYPE_CHECKING:
    from cabassist.coach import Coach

__all__ = ["Heard", "Reading", "Refusal", "echo", "fraction_of_full", "hear"]

LONGEST_UTTERANCE = 80
"""Words beyond this are no report; nobody says so much in one breath."""
FAMILY = {
    "propane": "propane",
    "diesel": "fuel",
    "def": "fuel",
    "outside_temp": "temperature",
    "inside_temp": "temperature",
}
"""Things of one kind share a unit: "waste twenty fresh eighty percent"."""
IMPLIED = {"persons": "passengers", "ppm": "co_ppm"}
"""Units that name their subject."""
SAME = ("that", "the same", "same", "this")
CORNERS = ("corner", "axle", "wheel", "end", "position", "side")
WISHES = ("make it", "change it to", "make that", "change that to")
THESE_DAYS = frozenset({"now", "today", "tonight"})
"""Behind or before a number of people these make it a count: "28 people now"."""
WARMING = frozenset({"warmed", "warmer", "colder"})
"""Words for the weather that make a bare number its temperature."""
FALLING = frozenset({"dropped", "fell", "down"})
"""Words before a number below zero that tell of the weather."""
WEATHER = frozenset("it temp windy cold snowing blowing clear calm brutal chilly bitter frosty".split())
NOWADAYS = frozenset({"now", "morning", "currently"})
"""Beside a number below zero, which only the cold can be, these tell that it is so: "morning, -18 now"."""
ODOMETER_LEAST = 20_000
"""So many miles or kilometers are no distance to go."""
OPENINGS = frozenset(
    "ok okay so and well oh hey yeah yes yep alright now then but please coach also hi uh um er hmm , . - …".split()
)
AFTER_CORRECTION = frozenset("that is it was the for in on i a meant at".split())
DENYING_LINKS = frozenset({"the", "in", "on", "for", "at", "a"})
COUNTING = frozenset(
    "count counted heads boarded seated aboard present accounted loaded make tally we got have carrying total passengers passenger pax souls riders".split()
)
"""Words that make "thirty people" a count of those aboard."""
BESIDE = frozenset({"beside", "other", "next", "mate", "dual", "opposite", "twin", "partner"})
"""Words that point to something beside what was told last."""
BOARDED = frozenset(
    "boarded seated accounted counted checked strapped buckled belted present loaded confirmed riding".split()
)
"""Words behind people that make them those aboard."""
EVENT = frozenset({"at", "in", "from", "late", "earlier", "and"})
"""After "boarded" these tell what happened at a stop, not how many there are."""
ABOARD = frozenset({"aboard", "on", "here", "onboard", "seated", "in"})
AFTER_HEADS = (
    frozenset("in now today total plus tonight so all counted , . ! then with this currently and".split())
    | ABOARD
    | {""}
)
AFTER_HEADS_AND = (
    BOARDED
    | frozenset("aboard board the this coach bus waste fresh diesel total here our two drivers".split())
    | THESE_DAYS
    | {""}
)
STATING = frozenset(
    {"at", "it", "we", "got", "left", "tank", "gauge", "full", "reads", "is", "has", "shows", "says", "have"}
)
DENIALS = frozenset({"not", "no", "nothing", "never", "was", "if", "when", "until", "till", "will"})
NO_READING = frozenset({"elsewhere", "place", "side", "other", "temperature"})
SHORE_GUESS_V = (90.0, 250.0)
"""Volts in this range, with nothing else said, are those of shore power."""


POINTED_BACK = Phrases(
    (phrase, phrase)
    for phrase in (f"{link}{which} {part}" for link in ("on ", "at ", "of ", "") for which in SAME for part in CORNERS)
)
"""Words that only point back at a wheel."""


def hear(text: str, coach: Coach, vocabulary: Terms, previous: Sequence[Reading] = ()) -> Heard:
    """The readings a text tells, what it refuses, and what of `previous` it takes back.

    Args:
        text: what was said or typed.
        coach: the profile; it decides units that were not said, names of tanks, sides and what is possible.
        vocabulary: the words of readings on this coach.
        previous: the readings told before, newest last, for sentences that lean on them.
    """
    if (ordered := in_order(text)) is not None:
        return _said_as(hear(ordered, coach, vocabulary, previous), text) if ordered else Heard(ask=UNPLACED)
    words = mended(words_of(text), vocabulary)
    if not words or len(words) > LONGEST_UTTERANCE:
        return Heard()
    reader = Reader(words, vocabulary)
    _leave_out_pointing(reader)
    both = _leave_out_both_places(reader)
    amounts, subjects = [_of_us(reader, amount) for amount in find_amounts(reader)], find_subjects(reader)
    if both:
        subjects = [replace(one, both=True) if one.what == "propane" and not one.place else one for one in subjects]
    subjects = [subject for subject in subjects if not _is_lacking(reader, subject, amounts)]
    if not previous and reader.phrase(0, *WISHES):
        # With nothing to correct it is a wish: "make it sixty eight in here".
        return Heard()
    if previous:
        gone = taken_back(Setting(coach, reader, tuple(previous), True, text), subjects)
        if gone:
            return gone
    lead, strong = _lead(reader)
    now = spoken_of_now(reader, subjects, lead if strong and previous else 0)
    subjects = [subject for subject in subjects if subject.start == subject.end or not reader.taken[subject.start]]
    amounts, subjects, denied = _affirmed(reader, amounts, subjects)
    setting = Setting(coach, reader, tuple(previous), strong or denied or _takes_back(reader), text)
    heard = leaning(setting, subjects, lead) if previous and not amounts and not _has_figure(reader) else None
    if heard is None:
        told = [amount for amount in amounts if now[amount.start]]
        heard = _told(setting, subjects, told) if told else Heard()
    return heard if heard != Heard() else _overflowing(setting, subjects)


def _is_lacking(reader: Reader, subject: Subject, amounts: Sequence[Amount]) -> bool:
    """Whether a supply is told not to be there, so that no amount is of it: "we have no shore power"."""
    if reader.text(subject.start - 1) != "no" or subject.start == subject.end:
        return False
    follows = any(amount.start >= subject.end for amount in amounts)
    return reader.text(subject.start - 2) in LACKING or (subject.what == "shore_voltage" and not follows)


LACKING = frozenset("have has had got is are with there".split())


def _said_as(heard: Heard, text: str) -> Heard:
    """What was heard in a text that was put in order, kept with the words that were said."""
    return replace(heard, readings=tuple(replace(one, said=text) for one in heard.readings))


def _leave_out_pointing(reader: Reader) -> None:
    """Take the words that only point back at a wheel: "inner dual on that corner"."""
    for i in range(len(reader.texts)):
        end = POINTED_BACK.end(reader.texts, i)
        if end and reader.text(end) not in CORNERS and not reader.number_at(end):
            reader.take(i, end)


BOTH_PLACES = Phrases(
    (phrase, phrase)
    for a, b in (("inside", "out"), ("inside", "outside"), ("in", "out"), ("inner", "outer"))
    for phrase in (f"{a} and {b}", f"{b} and {a}", f"the {a} and the {b}", f"the {b} and the {a}", f"{a} and {b} alike")
)
"""Words that only say once more that both cylinders are meant."""
CYLINDERS = frozenset({"bottles", "cylinders", "propane"})


def _leave_out_both_places(reader: Reader) -> bool:
    """Take the words that end a clause and only say that both are meant: "bottles full, inside and out"; whether there were any."""
    found = False
    for i in range(len(reader.texts)):
        end = BOTH_PLACES.end(reader.texts, i)
        last = not reader.text(end) or reader.text(end) in PUNCTUATION
        if end and last and CYLINDERS & set(reader.texts[:i]):
            reader.take(i, end)
            found = True
    return found


def _has_figure(reader: Reader) -> bool:
    """Whether a number stands in the text that is no level of anything: "make it two minutes each" moves no reading."""
    return any(
        reader.number_at(i) and word not in ("one", "a") and not reader.vocabulary.clues.at(reader.texts, i - 1)
        for i, word in enumerate(reader.texts)
    )


def _lead(reader: Reader) -> tuple[int, bool]:
    """Where the sentence proper begins, and whether what stands before takes something back."""
    i, strong = 0, False
    while i < len(reader.texts) and not reader.taken[i]:
        found = reader.vocabulary.corrections.at(reader.texts, i)
        if found and not any(reader.taken[i : found[0]]):
            strong = strong or found[1] == "strong"
            i = found[0]
        elif reader.text(i) in OPENINGS or (strong and reader.text(i) in AFTER_CORRECTION):
            i += 1
        else:
            break
    return i, strong


def _takes_back(reader: Reader) -> bool:
    """Whether a correction stands anywhere outside amounts: "fifty, sorry"."""
    found = (reader.vocabulary.corrections.at(reader.texts, i) for i in range(len(reader.texts)))
    return any(f is not None and f[1] == "strong" and not any(reader.taken[i : f[0]]) for i, f in enumerate(found))


def _affirmed(
    reader: Reader, amounts: list[Amount], subjects: list[Subject]
) -> tuple[list[Amount], list[Subject], bool]:
    """The amounts and subjects without those denied in favour of another, and whether any was: "not fifteen, fifty"."""
    kept_amounts: list[Amount] = []
    denied = False
    for amount in amounts:
        if not _is_denied(reader, amount.start):
            kept_amounts.append(amount)
        elif len(amounts) > 1:
            denied = True
        elif len(amount.said) == 2:
            # "not fifteen fifty": the second is meant.
            kept_amounts.append(replace(amount, number=float(amount.said[1]), said=(), kind="integer"))
            denied = True
        else:
            kept_amounts.append(amount)
    kept_subjects = [subject for subject in subjects if not _is_denied(reader, subject.start)]
    if kept_subjects and len(kept_subjects) < len(subjects):
        return kept_amounts, kept_subjects, True
    return kept_amounts, subjects, denied


def _is_denied(reader: Reader, start: int) -> bool:
    at = start - 1
    while at >= 0 and reader.text(at) in DENYING_LINKS:
        at -= 1
    return reader.text(at) == "not" and reader.text(at - 1) not in ("is", "are", "does", "do")


# A sentence with amounts


def _told(setting: Setting, subjects: Sequence[Subject], amounts: Sequence[Amount]) -> Heard:
    counts = [amount for amount in amounts if amount.unit != "persons" or _is_head_count(setting.reader, amount)]
    if any(amount.unit in ("", "persons") and amount.kind != "fraction" for amount in counts):
        # "one passenger short, thirty one aboard"
        amounts = counts
    subjects = _with_implied(setting.reader, subjects, amounts)
    pairing = pair(setting.reader, subjects, amounts, lambda subject, amount: misfit(setting, subject, amount))
    readings: list[Reading] = []
    refused: list[Refusal] = []
    unclear: list[Subject] = []
    twins: list[Reading] = []
    owner: Subject | None = None
    for one in sorted(pairing.pairs, key=lambda p: p.amount.start):
        for subject in one.subjects:
            last = _last_named(readings) if readings else setting.previous[-1] if setting.previous else None
            names = names_of(setting, subject, one.amount, last)
            if names is None:
                unclear.append(subject)
            for name in names or ():
                shared = _shared_unit(setting, pairing.pairs, name[0], one.amount)
                said = setting.text if len(pairing.pairs) == 1 else _said(setting, subject, one.amount)
                got = reading_of(setting, name, one.amount, said, shared=shared, hint=subject.hint, base=last)
                if isinstance(got, Reading) and (
                    _is_share(setting, one, got) or _lie_in_bunks(setting, one.amount, got)
                ):
                    continue
                if isinstance(got, Reading) and _is_later(setting, one.amount, got, readings):
                    readings.pop()
                if isinstance(got, Reading) and _is_twin(setting, got, readings):
                    twins.append(got)
                if isinstance(got, Reading) and _is_new(setting, subject, one.amount, got, readings):
                    if readings and owner == subject and _is_closer(setting, readings[-1], got):
                        readings.pop()
                    readings.append(got)
                    owner = subject
                elif isinstance(got, Refusal) and _is_meant(setting, one.amount, got, readings):
                    refused.append(got)
    spare = [subject for subject in pairing.subjects if subject.what not in NO_READING]
    if twins:
        left = tuple(
            one for one in readings if not any((one.what, one.which) == (two.what, two.which) for two in twins)
        )
        return Heard(left, tuple(refused), _withdrawn(setting, left), ask=EACH_TIRE)
    if readings:
        readings += _same_again(setting, spare, readings)
        readings += _weather_besides(setting, pairing, readings)
        readings += _moved_besides(setting, spare, readings)
    if readings or refused:
        return Heard(tuple(readings), tuple(refused), _withdrawn(setting, readings))
    return _without_subject(setting, pairing.amounts, spare, unclear)


EACH_TIRE = "Which tire has which pressure? Say each with its place."


def _lie_in_bunks(setting: Setting, amount: Amount, reading: Reading) -> bool:
    """Whether a number is of people and no temperature: "4 in the bunks"."""
    bunks = setting.reader.phrase(amount.end, "in the bunks", "in their bunks", "in bunks")
    few = amount.kind == "integer" and not amount.unit and 0 < (amount.number or 0.0) <= MOST_SLEEPERS
    return bool(bunks) and few and reading.what == "inside_temp"


MOST_SLEEPERS = 30
"""More do not lie in the bunks; so warm is a cabin that is heated."""


def _is_later(setting: Setting, amount: Amount, reading: Reading, readings: Sequence[Reading]) -> bool:
    """Whether an amount is that of now, and the one before it of the same thing an earlier one: "right front 98, 112 now"."""
    again = bool(readings) and (readings[-1].what, readings[-1].which) == (reading.what, reading.which)
    return again and "now" in (setting.reader.text(amount.end), setting.reader.text(amount.start - 1))


def _is_twin(setting: Setting, reading: Reading, readings: Sequence[Reading]) -> bool:
    """Whether two pressures were told of tires of which the words name only what they share: "steers at 118 and 116"."""
    again = any(
        (one.what, one.which) == (reading.what, reading.which) and one.value != reading.value for one in readings
    )
    partly = len((reading.which or "").split()) < (2 if {"front", "tag"} & set((reading.which or "").split()) else 3)
    return again and partly and reading.what == "tire_pressure" and not setting.corrected


def _with_implied(reader: Reader, subjects: Sequence[Subject], amounts: Sequence[Amount]) -> list[Subject]:
    """The subjects, and those that a unit names by itself: "thirty people", "forty ppm"."""
    found = list(subjects)
    for amount in amounts:
        what = _implied(reader, amount)
        if what and not any(subject.what == what for subject in found):
            found.append(Subject(amount.end, amount.end, what))
    heads = [amount for amount in amounts if amount.unit == "persons"]
    if heads and not any(_is_head_count(reader, amount) for amount in heads):
        found = [subject for subject in found if subject.what != "passengers"]
    return sorted(found, key=lambda subject: subject.start)


def _implied(reader: Reader, amount: Amount) -> str | None:
    """The subject that a unit names by itself, when hardly anything else is talked about."""
    far = amount.unit in ("mi", "km") and (amount.number or 0) >= ODOMETER_LEAST
    what = "odometer" if far else IMPLIED.get(amount.unit)
    if what is None or not (reader.few_others(2, around=amount.start) or _is_measured(reader, amount)):
        return None
    counted = what != "passengers" or (_is_counted(reader, amount) and _is_head_count(reader, amount))
    return what if counted else None


MEASURES = frozenset("says reads shows showing reading measured measures got showed".split())
MEASURED_BY = frozenset(
    "meter meters detector monitor tester alarm gauge crew dept department firemen firefighters they guys".split()
)
PRINTED = frozenset(
    "manual book label sheet sign rule rules law chart limit bottle bleach chlorine if when should".split()
)


def _is_measured(reader: Reader, amount: Amount) -> bool:
    """Whether parts per million are told as just measured, whatever else is told with them: "fire dept came, meter says zero ppm"."""
    said = set(reader.texts)
    before = reader.texts[max(0, amount.start - 2) : amount.start]
    return amount.unit == "ppm" and bool(MEASURES & set(before) and MEASURED_BY & said) and not PRINTED & said


def _is_counted(reader: Reader, amount: Amount) -> bool:
    """Whether people are told of as those aboard: "we have 26 people", "so 28 people now", "we are 24"."""
    if COUNTING & set(reader.texts) or reader.text(amount.start - 1) in THESE_DAYS:
        return True
    if reader.phrase(amount.start - 2, "we are") or _is_all_of_us(reader, amount):
        return True
    after = reader.text(amount.end)
    end = amount.end + (after in THESE_DAYS | ABOARD)
    ends = not reader.text(end) or reader.text(end) in PUNCTUATION
    return ends and (after in THESE_DAYS or bool(reader.phrase(amount.start - 2, "there are")))


MOST_APART = 9
"""So many of us may be told of who are not all: "five of us"."""


def _is_all_of_us(reader: Reader, amount: Amount) -> bool:
    """Whether so many "of us" stand as a part of their own among other readings: "minus 25 outside, 28 of us"."""
    before, after = reader.text(amount.start - 1), reader.text(amount.end)
    apart = not before or before in PUNCTUATION or before in ("and", "with", "is", "are", "there", "plus")
    ends = not after or after in PUNCTUATION or after == "and"
    of_us = reader.texts[amount.end - 2 : amount.end] == ["of", "us"]
    return apart and ends and of_us and amount.kind == "integer" and (amount.number or 0) > MOST_APART


def _of_us(reader: Reader, amount: Amount) -> Amount:
    """The amount, which counts people where it tells how many we are: "we're 24 today"."""
    after = reader.text(amount.end)
    plainly = reader.phrase(amount.start - 2, "we are") and (not after or after in PUNCTUATION | THESE_DAYS | ABOARD)
    bare = not amount.unit and amount.kind == "integer" and (amount.number or 0) > 1
    return replace(amount, unit="persons") if plainly and bare else amount


def _is_head_count(reader: Reader, amount: Amount) -> bool:
    """Whether people are counted, not told about: "two passengers are sick" is no count."""
    after, further = reader.text(amount.end), reader.text(amount.end + 1)
    ahead = amount.end + (after in ("have", "has", "are", "all", "now"))
    if reader.text(ahead) in BOARDED:
        return reader.text(ahead + 1) not in EVENT or reader.text(ahead + 2) in BOARDED
    if reader.vocabulary.signs.present.match(" ".join(reader.texts[amount.end :])):
        return True
    if after in ("is", "are"):
        return further in ABOARD
    if after not in AFTER_HEADS:
        return reader.vocabulary.clues.at(reader.texts, amount.end) is not None
    if after == "and" and reader.number_at(amount.end + 1):
        return True
    return after not in ("on", "in", "with", "and") or further in AFTER_HEADS_AND


def _shared_unit(setting: Setting, pairs: Sequence[Pair], what: str, amount: Amount) -> str:
    """The nearest unit spoken of the same kind of thing, for an amount that has none."""
    coach = setting.coach
    fitting = [
        (abs(one.amount.start - amount.start), one.amount.unit)
        for one in pairs
        if one.amount.unit in allowed_units(what, coach) and _family(_kind(one), coach) == _family(what, coach)
    ]
    return min(fitting)[1] if fitting else ""


def _kind(one: Pair) -> str:
    what = one.subjects[0].what
    if what != "place":
        return what
    return "inside_temp" if one.amount.unit in TEMPERATURE_UNITS else "propane"


def _family(what: str, coach: Coach) -> str:
    return "tank" if is_tank(what, coach) else FAMILY.get(what, what)


def _said(setting: Setting, *parts: Subject | Amount) -> str:
    """The part of the text that tells a subject and its amount."""
    words = setting.reader.words
    spans = [(words[part.start].start, words[part.end - 1].end) for part in parts if part.end > part.start]
    return setting.text[min(start for start, _ in spans) : max(end for _, end in spans)] if spans else setting.text


def _is_new(setting: Setting, subject: Subject, amount: Amount, reading: Reading, readings: Sequence[Reading]) -> bool:
    """Whether a reading tells something: not the size of a tank, nor a stray second number for the same thing."""
    again = any((r.what, r.which, r.unit) == (reading.what, reading.which, reading.unit) for r in readings)
    return not (again and not amount.unit) and not _is_size(setting, subject, amount, reading)


def _last_named(readings: Sequence[Reading]) -> Reading:
    """The last reading; of the same one told of both sides without the side, which nobody said: "rears 95, one inner at 70"."""
    last, before = readings[-1], readings[-2] if len(readings) > 1 else None
    side, _, rest = (last.which or "").partition(" ")
    same = before is not None and (before.what, before.value, before.unit) == (last.what, last.value, last.unit)
    if (
        last.what == "tire_pressure"
        and same
        and side == "right"
        and before is not None
        and before.which == f"left {rest}"
    ):
        return replace(last, which=rest)
    return last


def _is_closer(setting: Setting, before: Reading, reading: Reading) -> bool:
    """Whether a level is told once more in other words, closer to what the gauge shows: "nearly full, about ninety percent"."""
    if (before.what, before.which) != (reading.what, reading.which):
        return False
    if before.value is None and reading.value is not None:
        return True
    if reading.unit not in SHARES:
        return False
    if not before.approx and before.unit != "fraction":
        return False
    first, then = fraction_of_full(before, setting.coach), fraction_of_full(reading, setting.coach)
    return first is not None and then is not None and abs(first - then) <= _CLOSE


_CLOSE = 0.15
"""Shares of a full tank by which a level in words may miss the figure told with it."""

SINGLE = frozenset({"diesel", "def", "odometer", "shore_voltage", "outside_temp", "inside_temp"})
"""What there is one of, water tanks apart."""
EACH = frozenset({"each", "apiece"})
BY_HEAD = ("per head", "per person", "a head", "per man", "a person", "per player", "every one")


def _is_share(setting: Setting, one: Pair, reading: Reading) -> bool:
    """Whether an amount is what each of many gets: "two gallons of drinking water each" fills no tank."""
    reader = setting.reader
    if len(one.subjects) > 1 or not (reading.what in SINGLE or is_tank(reading.what, setting.coach)):
        return False
    end = max(one.amount.end, one.subjects[0].end)
    return bool(EACH & {reader.text(end - 1), reader.text(end)}) or bool(reader.phrase(end, *BY_HEAD))


SIZED = ("capacity", "top to bottom", "when full", "when it is full", "when it full", "all told", "tall", "tank depth is", "floor to ceiling", "if full", "inside depth")  # fmt: skip
"""Words by which a tank is described, not its level."""


def _is_size(setting: Setting, subject: Subject, amount: Amount, reading: Reading) -> bool:
    """Whether "the fresh tank is a hundred and twenty gallons" tells how big it is, not how full."""
    reader = setting.reader
    if not reading.unit or reading.unit in SHARES or reading.value is None or reading.what == "propane":
        return False
    between = [reader.text(i) for i in range(subject.end, amount.start) if not reader.taken[i]]
    determined = reader.text(subject.start - 1) in ("the", "our", "my") or reader.words[subject.end - 1].owner
    plainly = subject.end <= amount.start and (between == ["is"] or (between == [] and determined))
    plainly = plainly and "tank" in reader.texts[subject.start : subject.end]
    if not plainly and not any(reader.phrase(i, *SIZED) for i in range(len(reader.texts))):
        return False
    return (fraction_of_full(replace(reading, counted_from="bottom"), setting.coach) or 0.0) > 0.99


def _is_meant(setting: Setting, amount: Amount, refused: Refusal, readings: Sequence[Reading]) -> bool:
    """Whether an impossible value was told as a reading at all; a bare number among other talk was not."""
    if amount.unit:
        return True
    said = amount.said
    clock = len(said) == 2 and 1 <= int(said[0]) <= 12 and len(said[1]) == 2 and int(said[1]) < 60
    if clock and setting.reader.text(amount.start - 1) in ("at", "it", "is", "around", "about", "for"):
        return False
    known = any((r.what, r.which) == (refused.what, refused.which) for r in readings)
    return setting.reader.few_others(2) and not known


def _same_again(setting: Setting, subjects: Sequence[Subject], readings: Sequence[Reading]) -> list[Reading]:
    """Readings for subjects that were only said to be the same: "fresh is half, waste too"."""
    made: list[Reading] = []
    same, texts = setting.reader.vocabulary.same, setting.reader.texts
    for subject in subjects:
        after = same.at(texts, subject.end) or same.at(texts, subject.end + 1)
        before = any(0 < same.end(texts, k) <= subject.start for k in range(max(0, subject.start - 3), subject.start))
        if not after and not before:
            continue
        amount = Amount(subject.end, subject.end, 1.0, kind="same")
        name = name_of(setting, subject, amount, readings[-1])
        if name and name != (readings[-1].what, readings[-1].which):
            got = reading_of(setting, name, amount, setting.text, base=readings[-1])
            made += [got] if isinstance(got, Reading) else []
    return made


def _weather_besides(setting: Setting, pairing: Pairing, readings: Sequence[Reading]) -> list[Reading]:
    """The outside temperature of "it's twelve below and the waste is at two thirds"."""
    if any(reading.what == "outside_temp" for reading in readings):
        return []
    below = next((amount for amount in pairing.amounts if amount.below_zero), None)
    got = reading_of(setting, ("outside_temp", None), below, setting.text) if below else None
    return [got] if isinstance(got, Reading) else []


def _moved_besides(setting: Setting, subjects: Sequence[Subject], readings: Sequence[Reading]) -> list[Reading]:
    """The last reading told of another thing, before what is right: "sorry, that's the waste, fresh is a quarter"."""
    led = [one for one in subjects if {"that", "it"} & set(setting.reader.texts[max(0, one.start - 3) : one.start])]
    if not (setting.corrected and setting.previous and len(led) == 1):
        return []
    last, moved = setting.previous[-1], aimed(setting, led[0], setting.previous[-1])
    again = any((one.what, one.which) == (last.what, last.which) for one in readings)
    return [moved] if again and isinstance(moved, Reading) else []


def _withdrawn(setting: Setting, readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """Earlier readings that a correction replaces."""
    gone: list[Reading] = []
    for reading in readings if setting.corrected else ():
        for earlier in reversed(setting.previous):
            same = earlier.what == reading.what and (
                earlier.which in (reading.which, None) or _one_cylinder(setting, earlier, reading)
            )
            # the unit may differ, as one that was not said is taken from the thing: 12.5 of diesel, 12.5 volts of the battery
            moved = earlier is setting.previous[-1] and earlier.value == reading.value is not None
            if (same or moved) and earlier not in gone:
                gone.append(earlier)
                break
    return tuple(gone)


def _one_cylinder(setting: Setting, earlier: Reading, reading: Reading) -> bool:
    """Whether two names are those of one cylinder: "outside" and "curb side"."""
    named = reading.what == "propane" and reading.which not in (None, "both") and earlier.which != "both"
    return named and cylinder_of(earlier.which, setting.coach) == cylinder_of(reading.which, setting.coach)


# Amounts without a subject


def _without_subject(
    setting: Setting, amounts: Sequence[Amount], spare: Sequence[Subject], unclear: Sequence[Subject]
) -> Heard:
    """A correction of the last reading, a clear case, a question, or nothing."""
    ask = which_tank(setting.coach) if any(subject.what == "tank" for subject in unclear) else ""
    if not amounts:
        return Heard(ask=ask)
    amount = amounts[-1]
    of_its_own = _is_of_its_own(setting, amount)
    if setting.previous and not of_its_own and _is_about_the_last(setting, amount, spare):
        return told_anew(setting, amount)
    what = None if any(not subject.loose for subject in spare) else _evident(setting, amount)
    if what:
        got = reading_of(setting, (what, None), amount, setting.text)
        return Heard((got,)) if isinstance(got, Reading) else Heard(refused=(got,)) if got else Heard()
    misfitting = _in_wrong_unit(setting, spare, amount) if len(amounts) == 1 else None
    return Heard(refused=(misfitting,)) if misfitting else Heard(ask=ask or _question(setting, amount))


def _is_about_the_last(setting: Setting, amount: Amount, spare: Sequence[Subject]) -> bool:
    """Whether an amount without subject corrects or renews the last reading; a bare small number may be a choice."""
    last = setting.previous[-1]
    if any(not s.loose and s.what not in ("pair", "tank", "other") and (s.what != last.what or s.tire) for s in spare):
        # What is named is another thing: "the inner dual beside it, ninety".
        return False
    if setting.corrected:
        return True
    sides = {"left", "right"} & set(setting.reader.texts) if last.what == "tire_pressure" else set()
    if BESIDE & set(setting.reader.texts) or sides - set((last.which or "").split()):
        return False
    if not setting.corrected and _names_another(setting.reader, amount):
        return False
    of_tank = setting.corrected or {"run", "ran", "gone", "bone"} & set(setting.reader.texts)
    if list(setting.reader.texts[amount.start : amount.end]) == ["dry"] and not of_tank:
        return False  # an outlet, a floor, the weather
    small = not amount.unit and amount.kind == "integer" and abs(amount.number or 0) < 10
    pointed = bool((POINTING | {"now"}) & set(setting.reader.texts))
    return setting.reader.few_others(2) and (not small or pointed)


def _is_of_its_own(setting: Setting, amount: Amount) -> bool:
    """Whether an amount tells what it is of, and that is not what was told last: people, or the cold outside."""
    kinds = {reading.what for reading in setting.previous}
    if amount.unit == "persons":
        return "passengers" not in kinds
    units = {unit for what in kinds for unit in allowed_units(what, setting.coach)}
    told_in_pounds = amount.unit == "lb" and "psi" in units
    foreign = amount.unit and amount.unit not in TEMPERATURE_UNITS | units and not told_in_pounds
    if foreign and not setting.corrected:
        return True
    outdoors = ((amount.number or 0.0) < 0 or _is_above(setting.reader, amount)) and not setting.corrected
    return _is_weather(setting, amount) and not kinds & ({"outside_temp"} if outdoors else set(TEMPERATURES))


def _is_above(reader: Reader, amount: Amount) -> bool:
    return "above" in reader.texts[amount.start : amount.end]


def _is_weather(setting: Setting, amount: Amount) -> bool:
    """Whether an amount is a temperature by its own words: below or above zero, degrees, or in warmer weather."""
    if amount.unit in TEMPERATURE_UNITS:
        return True
    texts, battery = setting.reader.texts, any(r.what == "house_battery" for r in setting.previous[-1:])
    signed = (amount.number or 0.0) < 0 and "or" not in texts[max(0, amount.start - 1) : amount.start]
    bare = not amount.unit and amount.kind != "fraction"
    return bare and not battery and (signed or bool(WARMING & set(texts)))


SHORTEST_OWNER = 4
SAID_OF = frozenset({"at", "is", "are", "reads", "shows", "says"})


def _names_another(reader: Reader, amount: Amount) -> bool:
    """Whether an amount is told of a thing nobody here knows: "fools at three eighths" is no other reading's level."""
    vocabulary = reader.vocabulary
    beside, before = reader.text(amount.start - 1), reader.text(amount.start - 2)
    if (
        len(beside) > SHORTEST_OWNER
        and beside.endswith("s")
        and beside.isalpha()
        and not reader.taken[amount.start - 1]
    ):
        return beside not in vocabulary.known and beside not in vocabulary.common  # "lockers full", of "locker's"
    if beside not in SAID_OF or not before:
        return False
    known = before in vocabulary.common or before in vocabulary.between or before in vocabulary.corrections.words
    return not (known or before in SAID_OF or reader.taken[amount.start - 2] or before in PUNCTUATION)


def _evident(setting: Setting, amount: Amount) -> str | None:
    """The subject of an amount that names none, where only one is likely."""
    reader, number = setting.reader, amount.number or 0.0
    if reader.skipped or not reader.few_others(3):
        return None
    cold = amount.unit in TEMPERATURE_UNITS and number < 0
    if amount.below_zero or amount.freezing is not None or cold:
        return "outside_temp"
    if not amount.unit and number < 0 and (WEATHER | WARMING | FALLING | NOWADAYS) & set(reader.texts):
        return "outside_temp"
    likely = number <= FREEZING_F or not amount.unit or _is_above(reader, amount)
    if setting.previous and likely and _is_weather(setting, amount):
        return "outside_temp"
    if amount.unit == "V":
        low, high = BATTERY_V[setting.coach.house_battery.volts]
        if low <= number <= high or as_decimal(amount.said, low, high) is not None:
            return "house_battery"
        return "shore_voltage" if SHORE_GUESS_V[0] <= number <= SHORE_GUESS_V[1] else None
    if amount.unit == "persons" and setting.corrected and _is_head_count(reader, amount):
        return "passengers"
    return _implied(reader, amount)


def _in_wrong_unit(setting: Setting, spare: Sequence[Subject], amount: Amount) -> Refusal | None:
    """The refusal of a plain report in a unit that does not measure its subject: "fresh forty volts"."""
    if len(spare) != 1 or not amount.unit or spare[0].loose or not setting.reader.few_others(0):
        return None
    name = name_of(setting, spare[0], amount, None)
    allowed = allowed_units(name[0], setting.coach) if name else ()
    return wrong_unit(*name, amount.unit, allowed) if name and allowed and amount.unit not in allowed else None


def _question(setting: Setting, amount: Amount) -> str:
    """What to ask about an amount that nothing tells the subject of, or ""."""
    reader, unit = setting.reader, amount.unit
    if reader.skipped or not STATING & set(reader.texts) or not reader.few_others(0):
        return ""
    if unit in ("percent", "gal", "L", "in", "cm", "ft") or (amount.kind == "fraction" and not unit):
        return which_tank(setting.coach)
    if unit in TEMPERATURE_UNITS:
        return "Is that inside or outside?"
    return {
        "psi": "Which pressure: a tire, or the air gauge?",
        "bar": "Which pressure: a tire, or the air gauge?",
        "lb": "Which cylinder is that?",
        "kg": "Which cylinder is that?",
        "V": "Is that the house battery or shore power?",
    }.get(unit, "")


def which_tank(coach: Coach) -> str:
    """The question which supply a level is of."""
    names = [label(tank.name).lower() for tank in coach.tanks]
    return f"Which one: {', '.join(names)}, propane or diesel?"


def _overflowing(setting: Setting, subjects: Sequence[Subject]) -> Heard:
    """The fresh tank is full when its overflow runs."""
    reader, signs = setting.reader, setting.reader.vocabulary.signs
    asked = signs.clause.search(reader.joined) or signs.everything.search(reader.joined) or reader.texts[-1] == "?"
    if asked or DENIALS & set(reader.texts) or any(subject.what == "waste" for subject in subjects):
        return Heard()
    return (
        Heard((Reading("fresh", None, 1.0, "fraction", said=setting.text),))
        if signs.overflow.search(reader.joined)
        else Heard()
    )
