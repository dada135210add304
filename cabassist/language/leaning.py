"""Sentences that lean on the readings told before: corrections without a number, "the same", swaps, other units.

Each function gives what the sentence does, or None when it does nothing of its kind.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from cabassist.language.lazy import Lazy
from cabassist.language.plausibility import BATTERY_V, refusal, wrong_unit
from cabassist.language.reading_names import (
    ALLOWED,
    TEMPERATURES,
    Name,
    Setting,
    allowed_units,
    cylinder,
    name_of,
    pair_of,
    tire,
    tire_beside,
)
from cabassist.language.reading_parts import LENGTHS, PUNCTUATION, Amount, Reader, Subject
from cabassist.language.reading_types import Heard, Reading, Refusal
from cabassist.language.reading_values import reading_of, vaguely

POINTING = frozenset("that it those this was for meant".split())
"""First words of a sentence that says what the last reading was of: "that was the waste"."""
SHORT = 6
"""Words of a remark that only changes how the last value is to be taken: "no, that's celsius"."""
NO_AIM = frozenset({"elsewhere", "tank", "temperature"})


NEGATED_SUPPLY = Lazy(
    r"\b(?:no|not on|off|without(?: any)?|lost(?: the)?) (?:shore|hook ?up|mains|shoreline|pedestal|grid|wall power|outside power)\b"
    r"|\b(?:have|has|got|had|is|are|was|with|there's) (?:still )?(?:no|not any|zero) (?!number|reading|idea|clue)[a-z]+\b"
)
"""There is none of it: no name for what was told before. A correction says "no, that was shore power"."""


def taken_back(setting: Setting, subjects: Sequence[Subject]) -> Heard | None:
    """What a sentence takes back that only does that: "strike that last entry", "delete the diesel reading"."""
    joined = setting.reader.joined
    if not any(pattern.search(joined) for pattern in setting.reader.vocabulary.signs.withdrawal):
        return None
    named = {subject.what for subject in subjects if not subject.loose} - NO_AIM - {"side", "pair", "other"}
    meant = {f"{s.place}_temp" for s in subjects if s.what == "place"} | {"propane"} if "place" in named else set()
    gone = [reading for reading in setting.previous if not named or reading.what in named | meant]
    return Heard(withdrawn=tuple(gone)) if gone else None


def leaning(setting: Setting, subjects: Sequence[Subject], lead: int) -> Heard | None:
    """What a sentence without an amount of its own does to the readings before it, or None.

    Args:
        setting: what the sentence is read against; it has previous readings.
        subjects: what the sentence names.
        lead: where the sentence proper begins, after "no" and "sorry".
    """
    reader = setting.reader
    vocabulary, signs = reader.vocabulary, reader.vocabulary.signs
    proper = " ".join(reader.texts[lead:])
    asked = signs.clause.search(proper) and not reader.phrase(0, "so is", "so are", "and so is", "and so are")
    if signs.everything.search(reader.joined) or asked or reader.texts[-1] == "?":
        return None
    if len(setting.previous) > 1 and _swapped_why(reader):
        return _swapped(setting)
    if not reader.few_others(3, subjects):
        return None
    if vocabulary.swap.anywhere(reader.texts) and len(setting.previous) > 1:
        return _swapped(setting)
    last = setting.previous[-1]
    if len(subjects) == 1 and subjects[0].what == "pair":
        return _of_both(setting, last)
    if NEGATED_SUPPLY.search(reader.joined):
        return None  # "no shore power, I know that" says that there is none
    aims = [subject for subject in subjects if subject.what not in NO_AIM]
    if (
        aims
        and vocabulary.same.anywhere(reader.texts)
        and not (_BESIDE.search(reader.joined) and not reader.few_others(1, subjects))
    ):
        made = tuple(got for subject in aims if isinstance(got := aimed(setting, subject, last), Reading))
        return Heard(made) if made else None
    pointing = setting.corrected or reader.texts[0] in POINTING
    if len(aims) == 1 and reader.few_others(0, aims) and (pointing or _completes(aims[0], last)):
        moved = aimed(setting, aims[0], last)
        if isinstance(moved, Refusal):
            return Heard(refused=(moved,))
        return Heard((moved,), withdrawn=(last,)) if moved else None
    return _told_otherwise(setting, last) if not aims else None


_BESIDE = Lazy(r"\b(?:too|also|as well)\b")
"""Words for the same that also put one trouble beside another: "there's some water where it shouldn't be too"."""


_MISTAKEN = Lazy(
    r"^(?:(?:because|cause|cuz|cos|since|sorry|as|my|,|and|guess|oops|whoops) )*(?:i|we|he|she|they|it|you|my (?:bad|mistake)|the (?:labels?|gauges?|dials?|lines?|tags?))\b.*"
    r"\b(?:wrong|mix\w*|backwards?|confus\w*|cross\w*|misread|muddl\w*|looking|facing|standing|behind|turned|thought|mistake|my bad|opposite|other|upside|mislabel\w*)\b"
)


def _swapped_why(reader: Reader) -> bool:
    """ "Other way round, I was on the wrong side of the locker": a swap with how the mistake came about before or after it."""
    texts, swap = reader.texts, reader.vocabulary.swap
    known = reader.vocabulary.common | reader.vocabulary.corrections.words | PUNCTUATION | _SWAP_LEAD
    for at in (i for i in range(len(texts)) if swap.at(texts, i)):
        lead, why = texts[:at], texts[swap.end(texts, at) :]
        plainly = all(word in known for word in lead) if why else True
        if plainly and _MISTAKEN.match(" ".join(why or lead).lstrip(" ,.")) is not None:
            return True
    return False


_SWAP_LEAD = frozenset("it is that was the got so had have i them those".split())


def _swapped(setting: Setting) -> Heard:
    """The last two readings with their values exchanged."""
    first, second = setting.previous[-2:]
    made = []
    for taker, giver in ((first, second), (second, first)):
        if giver.unit is not None and giver.unit not in allowed_units(taker.what, setting.coach):
            return Heard()
        made.append(replace(giver, what=taker.what, which=taker.which, said=setting.text))
    refused = tuple(r for r in (refusal(reading, setting.coach) for reading in made) if r)
    return Heard(refused=refused) if refused else Heard(tuple(made), withdrawn=(first, second))


_ENDS = frozenset(
    "stop quit end close cancel drop leave abort kill clear scrap forget exit shut open start check swap turn".split()
)
"""What is done to both or to all, which tells no level."""


def _of_both(setting: Setting, last: Reading) -> Heard | None:
    """The last reading, said of both of a pair."""
    unplaced = last.what == "propane" and last.which is None
    names: list[Name] | None = [("propane", "outside"), ("propane", "inside")] if unplaced else pair_of(last)
    reader = setting.reader
    of_people = "all" in reader.texts and "both" not in reader.texts
    if names is None or (of_people and last.what in TEMPERATURES):
        return None  # "they're all in the lobby"
    same = reader.vocabulary.same.anywhere(reader.texts) or reader.texts[0] in POINTING or setting.corrected
    if _ENDS & set(reader.texts) or (of_people and not same):
        return None  # "stop all of them"
    made = tuple(replace(last, what=what, which=which, said=setting.text) for what, which in names)
    return Heard(made, withdrawn=(last,) if unplaced else ())


def _completes(subject: Subject, last: Reading) -> bool:
    """Whether a subject only tells which one was meant."""
    if last.which is not None:
        return False
    if last.what == "propane":
        return subject.what in ("propane", "place") and (subject.place is not None or bool(subject.tire))
    if last.what == "tire_pressure":
        return subject.what in ("tire_pressure", "side")
    return last.what == subject.what == "air_pressure" and subject.which is not None


def aimed(setting: Setting, subject: Subject, last: Reading) -> Reading | Refusal | None:
    """The last reading, said of another subject."""
    name = _aim(setting, subject, last)
    if name is None or name == (last.what, last.which):
        return None
    allowed = allowed_units(name[0], setting.coach)
    low, high = BATTERY_V[setting.coach.house_battery.volts]
    if name[0] == "house_battery" and last.unit == "percent" and low <= (last.value or 0.0) <= high and not _SHARE_SAID.search(last.said):  # fmt: skip
        last = replace(last, unit="V")  # a bare figure was only taken for a share because of what it was put down to
    if last.unit is not None and last.unit not in allowed:
        return wrong_unit(*name, last.unit, allowed) if setting.corrected and allowed else None
    made = replace(last, what=name[0], which=name[1], said=setting.text)
    return refusal(made, setting.coach) or made


_SHARE_SAID = Lazy(r"%|\bper ?cent\b", re.IGNORECASE)


def _aim(setting: Setting, subject: Subject, last: Reading) -> Name | None:
    coach = setting.coach
    if last.what == "tire_pressure" and subject.what in ("side", "tire_pressure", "place"):
        side = tire(subject, coach) if subject.what == "place" else None
        return tire_beside(last, replace(subject, tire={"side": side}) if side in ("left", "right") else subject, coach)
    if (
        subject.what == "place"
        and last.what in TEMPERATURES
        and subject.place in ("inside", "outside")
        and (setting.corrected or not subject.pronoun)
    ):
        return f"{subject.place}_temp", None
    if subject.what == "place":
        return ("propane", cylinder(subject)) if last.what == "propane" or last.unit in ALLOWED["propane"] else None
    return name_of(setting, subject, Amount(subject.end, subject.end, 1.0, kind="same"), last)


def _told_otherwise(setting: Setting, last: Reading) -> Heard | None:
    """The last value in another unit, from the other end or vaguely: "celsius I mean", "from the top", "roughly"."""
    reader, vocabulary = setting.reader, setting.reader.vocabulary
    words = [word for word in reader.texts if word not in PUNCTUATION]
    if last.value is None or len(words) > SHORT or not reader.few_others(3):
        return None
    for i, word in enumerate(reader.texts):
        direction = vocabulary.counted_from.at(reader.texts, i)
        if direction and last.unit in LENGTHS and word in ("from", "off", "down", "up", "below", "above"):
            return Heard((replace(last, counted_from=direction[1], said=setting.text),), withdrawn=(last,))
        if word in ("below", "minus") and last.what in TEMPERATURES and last.value and reader.few_others(1):
            return Heard((replace(last, value=-abs(last.value), said=setting.text),), withdrawn=(last,))
        if len(reader.texts) <= 4 and _only_vague(reader, i):
            vague = vaguely(last, Amount(0, 0, last.value, last.unit or "", hedge="about"))
            return Heard((replace(vague, said=setting.text),), withdrawn=(last,))
        found = vocabulary.units.at(reader.texts, i)
        if (
            found
            and reader.text(i - 1) not in ("not", "the", "our", "my", "their")
            and found[1][0] in allowed_units(last.what, setting.coach)
        ):
            return _in_unit(setting, last, found[1][0])
    return None


def _only_vague(reader: Reader, at: int) -> bool:
    """Whether words say how exactly the last value holds and nothing else: "roughly", "a bit over"; not "keys handed over", "nearly there"."""
    found = reader.vocabulary.hedges.at(reader.texts, at)
    if found is None or _ELSEWHERE & set(reader.texts):
        return False
    if not reader.few_others(0, [Subject(at, found[0], "hedge")]):
        return False
    return found[1] == "about" or found[0] - at > 1


_ELSEWHERE = frozenset("there here this the in on to up down back done all".split())
"""Beside "over", "around" and the like these tell where something is, or that it is done."""


def _in_unit(setting: Setting, last: Reading, unit: str) -> Heard | None:
    if last.value is None:
        return None
    if unit == last.unit:
        # "Fahrenheit, to be clear" stands by what was told.
        return Heard((replace(last, said=setting.text),), withdrawn=(last,))
    value = last.value * 100 if last.unit == "fraction" and unit == "percent" else last.value
    made = replace(last, unit=unit, value=value, low=None, high=None, approx=False, said=setting.text)
    refused = refusal(made, setting.coach)
    return Heard(refused=(refused,)) if refused else Heard((made,), withdrawn=(last,))


def _end_told(setting: Setting) -> str | None:
    """ "Down from the top", behind a depth without a unit."""
    found = (
        setting.reader.vocabulary.counted_from.at(setting.reader.texts, i) for i in range(len(setting.reader.texts))
    )
    return next((one[1] for one in found if one), None)


_MOVED = Lazy(
    r"\b(?:dropped|drops|dropping|fell|fallen|sank|down|up|rose|risen|climbed|crept|came|come|gone|went)(?: (?:up|down|back))? to\b"
)
"""Tells that a level has moved since: both readings stand."""


def told_anew(setting: Setting, amount: Amount) -> Heard:
    """The newest earlier reading that an amount without subject fits, with that amount."""
    refused: tuple[Refusal, ...] = ()
    for earlier in reversed(setting.previous):
        hint = earlier.unit if earlier.unit in ("V", "A") else ""
        shared = earlier.unit if earlier.unit not in (None, "fraction") else ""
        told = amount
        if (
            earlier.what == "house_battery"
            and not amount.unit
            and earlier.unit == "percent"
            and amount.kind != "fraction"
        ):
            told = replace(amount, unit="percent")
        name = earlier.what, earlier.which
        got = reading_of(setting, name, told, setting.text, shared=shared or "", hint=hint or "", base=earlier)
        if isinstance(got, Reading):
            if got.unit in LENGTHS and got.counted_from is None:
                got = replace(got, counted_from=_end_told(setting) or earlier.counted_from)
            told_since = "now" in setting.reader.texts or _MOVED.search(" ".join(setting.reader.texts)) is not None
            beside = told_since and not setting.corrected
            return Heard((got,), withdrawn=() if beside else (earlier,))
        if got is not None:
            refused = refused or (got,)
    return Heard(refused=refused)
