"""What a report of a defect says."""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.procedures.library import Knowledge
from cabassist.record.defect_words import (
    DefectWords,
    place_in,
    read_report,
    safety_of,
    told_damage,
    told_fault,
    wants_record,
)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("log a cracked lamp in bay three, left side", "a cracked lamp in bay three left side"),
        ("chip by the rear hinge, about two inches, log it", "chip by the rear hinge about two inches"),
        ("can you log that the microwave turntable is cracked", "the microwave turntable is cracked"),
        ("put in the book that the galley drawer sticks", None),
        ("defect: tear in the entry step tread", "tear in the entry step tread"),
        ("log a defect", ""),
        ("I'd like to log a defect", ""),
    ],
)
def test_a_report_is_kept_in_its_words(text: str, what: str | None):
    """Only the words that ask for the entry fall away; one that names nothing is empty."""
    assert wants_record(text) == what


@pytest.mark.parametrize(
    "text",
    [
        "how do I log a defect",
        "what defects are open",
        "where do I write down a fault",
        "can I drive with a cracked lamp",
        "can the cracked lamp wait",
        "should I report this",
        "report a defect",
        "the bay lamp is cracked, what do I do",
        "is the lamp logged",
        "log says nine hours driving, can we make it",
    ],
)
def test_a_question_is_no_defect(text: str):
    """Questions belong to the procedures, also when they hold a word of reporting."""
    assert wants_record(text) is None


def test_few_wordings_of_procedures_sound_like_an_entry(knowledge: Knowledge):
    """Of all wordings that ask for a procedure, other than the one about defects, hardly any asks for an entry."""
    asked = [p.text for p in knowledge.phrases if p.label in knowledge.raw_procedures and p.label != "report-a-defect"]
    taken = [text for text in asked if wants_record(text) is not None]

    assert len(taken) < 0.005 * len(asked)


@pytest.mark.parametrize(
    ("text", "bays", "side"),
    [
        ("cracked lamp in bay three", ("bay 3",), "left"),
        ("bay tree lamp is busted", ("bay 3",), "left"),
        ("lamp out bay 6", ("bay 6",), "left"),
        ("torn seal, second bay", ("bay 2",), "right"),
        ("scratch on the driver's side", (), "left"),
        ("scratch on the passenger side", (), "right"),
        ("dent, curb side", (), "right"),
        ("scrape at the rear", (), "rear"),
        ("the galley drawer", (), ""),
    ],
)
def test_places_come_from_the_profile(text: str, bays: tuple[str, ...], side: str, coach: Coach, words: DefectWords):
    """Bays by number or as misheard; the side that nobody said is the profile's."""
    place = place_in(text, coach, words)

    assert (place.bays, place.side) == (bays, side)


def test_sides_turn_round_with_the_steering_wheel(coach: Coach, other_coach, words: DefectWords):
    """The driver's side of a right-hand drive coach is the right."""
    assert place_in("driver's side", other_coach({"drive": "right-hand"}), words).side == "right"


def test_a_bay_nobody_has_is_said(coach: Coach, words: DefectWords):
    assert place_in("cracked lamp in bay twelve", coach, words).unknown == "bay 12"
    assert not place_in("cracked lamp in bay twelve", coach, words).known


def test_a_side_that_the_profile_contradicts_is_remarked(coach: Coach, words: DefectWords):
    """Bay 3 is on the left; what was said stays."""
    place = place_in("bay three, right side", coach, words)

    assert place.side == "right"
    assert "left" in place.remark


# The parts are those of 49 CFR 392.7 (service and parking brakes, steering, lamps and reflectors, tires, horn, wipers,
# mirrors, coupling, wheels) and 392.8 (emergency equipment).
@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("brakes are pulling and losing air", "brakes"),
        ("play in the steering", "steering"),
        ("two wheel nuts missing right rear", "wheels"),
        ("left rear outer tire is flat", "tires"),
        ("right tail light out", "lamps outside"),
        ("horn does not sound", "horn"),
        ("wiper stuck", "wipers"),
        ("left mirror broken", "mirrors"),
        ("fire extinguisher is empty", "emergency kit"),
        ("roof hatch won't open", "exits"),
        ("bay two door won't stay shut", "things that can come off"),
    ],
)
def test_a_fault_in_a_part_of_the_rule_keeps_the_coach_parked(text: str, part: str, coach: Coach, words: DefectWords):
    """Whatever grade was said with it."""
    told = read_report(f"{text}, minor", coach, words)

    assert (told.safety.move, told.safety.part) == ("no", part)
    assert told.severity == "stop"
    assert "CFR" in told.safety.rule


@pytest.mark.parametrize("text", ["squeaky brake pedal", "cracked tail light, still working", "mirror glass cracked"])
def test_whether_such_a_part_still_works_is_asked_when_it_is_not_said(text: str, words: DefectWords):
    safety = safety_of(text, words)

    assert safety.move == "unclear"
    assert safety.asks.endswith("?")


@pytest.mark.parametrize(
    "text",
    [
        "cracked lamp in bay three",
        "galley drawer won't stay shut",
        "chip in the paint by the rear hinge",
        "bathroom mirror is broken",
        "bathroom door latch is loose",
        "scratch on the left behind the front wheel",
        "reading lamp over bunk seven is dead",
        "knee pads missing",
    ],
)
def test_what_the_rule_does_not_name_may_move(text: str, words: DefectWords):
    """Also when its words sound like a part of the rule."""
    assert safety_of(text, words).move == "yes"


@pytest.mark.parametrize(
    ("text", "grade"),
    [("scratch, minor", "service"), ("torn seal, urgent", "today"), ("floor is unsafe", "stop"), ("torn seal", ""),
     ("crack, not urgent", "service")],
)  # fmt: skip
def test_the_grade_is_read_from_the_words(text: str, grade: str, coach: Coach, words: DefectWords):
    assert read_report(text, coach, words).severity == grade


# -- faults told in so many words ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "part"),
    [
        ("the horn does not work", "horn"),
        ("left marker lamp is out", "lamps outside"),
        ("steering pulls hard to the right", "steering"),
        ("the wipers are torn", "wipers"),
        ("an air line is leaking at the rear axle", "brakes"),
        ("windshield cracked on my side", "glass ahead"),
    ],
)
def test_a_plain_statement_tells_a_fault(said: str, part: str, words: DefectWords):
    """The parts are those of 49 CFR 392.7, 393.60 and 396.11."""
    told = told_fault(said, words)

    assert told is not None
    assert told.name == part


@pytest.mark.parametrize(
    "said",
    [
        "how do I tell whether the horn works",
        "what if the horn does not work",
        "the horn was fixed last week",
        "the horn works",
        "is the left marker lamp out?",
        "tires are at a hundred and ten psi",
        "if a wiper tears we stop",
    ],
)
def test_a_question_a_mended_or_a_supposed_fault_is_no_fault_told(said: str, words: DefectWords):
    """A record must not fill with what nobody saw."""
    assert told_fault(said, words) is None


def test_damage_with_its_place_is_told(words: DefectWords, coach: Coach):
    """A noun and a place are enough; without a place it could be anything."""
    assert told_damage("chip by the rear hinge, about two inches", words, coach)
    assert told_damage("there's a new dent on the left side", words, coach)
    assert not told_damage("how do I mend a chip by the rear hinge", words, coach)
    assert not told_damage("chips and a soda", words, coach)
