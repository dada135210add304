"""The record in the conversation: defects, duty status, upkeep, kit; and what must not be taken for one of them."""

from __future__ import annotations

from datetime import timedelta

import pytest

from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.record.defects import all_defects, open_defects
from cabassist.record.duty import changes
from cabassist.record.handover import MOST_WORDS
from tests.dialogue.conversation import NOON, Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def test_a_defect_from_the_report_to_the_signature(talk: Conversation):
    """Told, graded when asked, acknowledged, repaired, signed off."""
    first = talk.say("log a cracked lamp in bay three, left side")
    assert first.kind == "defect"
    assert "How bad is it" in first.say
    assert "next service" in talk.say("it can wait").say
    assert talk.say("acknowledge the cracked lamp").kind == "defect"
    assert "repaired" in talk.say("that lamp is fixed").say
    assert "checked" in talk.say("sign off the lamp").say

    assert "No open defects" in talk.say("what's open").say
    assert [e.kind for e in talk.events if e.kind.startswith("defect")] == [
        "defect", "defect-note", "defect-stage", "defect-stage", "defect-stage",
    ]  # fmt: skip


def test_a_safety_fault_says_plainly_that_the_coach_must_not_move(talk: Conversation):
    """First line, as a warning, with the rule; and nothing else is asked."""
    reply = talk.say("log left rear marker light out")

    assert reply.show[0].startswith("WARNING: The coach must not move")
    assert "392.7" in reply.show[0]
    assert talk.state.asking is None


@pytest.mark.parametrize(("answer", "stops"), [("yes", False), ("no", True), ("not sure", True)])
def test_whether_a_safety_part_still_works_is_asked(answer: str, stops: bool, talk: Conversation):
    """Only a clear yes lets the coach move, on the word of who gave it."""
    asked = talk.say("log a squeaky brake pedal")
    assert "Do the brakes still work" in asked.say
    talk.say(answer)
    (defect,) = all_defects(talk.state.record)

    assert (defect.stops, defect.unclear) == (stops, False)
    assert answer in defect.remarks[-1] or answer == "yes"


def test_where_is_asked_when_nobody_could_go_there(talk: Conversation):
    assert "Where is it?" in talk.say("log a torn seal, minor").say
    talk.say("bay five")

    assert all_defects(talk.state.record)[0].place.bays == ("bay 5",)


def test_a_bay_that_is_not_there_is_asked_again(talk: Conversation):
    assert "no bay 12" in talk.say("log a torn seal in bay twelve, minor").say
    assert "no bay 13" in talk.say("bay thirteen").say
    talk.say("bay two")

    assert all_defects(talk.state.record)[0].place.bays == ("bay 2",)


def test_an_empty_report_asks_what_is_wrong(talk: Conversation):
    assert talk.say("log a defect").say == "What is wrong, and where?"
    assert talk.say("the galley tap drips").kind == "defect"


def test_a_question_while_something_is_asked_is_answered(talk: Conversation):
    """The defect stays on record; nobody is held up by its grade."""
    talk.say("log a torn seal in bay five")
    reply = talk.say("how do I dump the waste tank")

    assert reply.topic == "dump-waste-tank"
    assert len(all_defects(talk.state.record)) == 1


def test_which_one_is_asked_when_it_is_unclear(talk: Conversation):
    talk.say("log a cracked lamp in bay three, minor")
    talk.say("log a dead lamp in bay two, minor")
    asked = talk.say("the lamp is fixed")
    assert "Which one?" in asked.say
    assert "repaired" in talk.say("number 2").say

    assert [d.state for d in all_defects(talk.state.record)] == ["reported", "repaired"]


def test_undo_takes_a_defect_back_and_says_so_in_the_journal(talk: Conversation):
    talk.say("log a torn seal in bay five, minor")
    talk.say("undo")

    assert all_defects(talk.state.record) == []
    assert "taken-back" in talk.kinds()


def test_a_photo_is_kept_by_its_path(talk: Conversation):
    talk.say("log a torn seal in bay five, minor")
    talk.say("photo of it is at /sd/IMG_0042.jpg")

    assert all_defects(talk.state.record)[0].photos == ("/sd/IMG_0042.jpg",)


@pytest.mark.parametrize("topic", ["walk me through the pre-trip inspection", "my relief is here, what do I tell him", "last round before we leave"])  # fmt: skip
def test_open_defects_are_repeated_until_they_are_signed_off(topic: str, talk: Conversation):
    """Before a drive and at a hand-over (49 CFR 396.13), the ones that keep the coach parked first."""
    talk.say("log a torn curtain in the galley, minor")
    talk.say("log horn does not sound")
    first = talk.say(topic)
    assert first.kind == "procedure"
    assert first.show[0].startswith("WARNING: Defect 2, horn does not sound")
    assert "Open defect 1" in first.show[1]
    talk.say("stop")
    for text in ("horn is fixed", "sign off the horn", "curtain is fixed", "sign off the curtain"):
        talk.say(text)

    assert "torn curtain" not in " ".join(talk.say(topic).show)


def test_a_hazard_outranks_the_entry_and_the_entry_is_kept(talk: Conversation):
    """What was said is never lost, and the danger comes first."""
    reply = talk.say("log a smell of propane by the rear furnace")

    assert reply.kind == "hazard"
    assert reply.topic == "propane-smell"
    assert [d.stops for d in open_defects(talk.state.record)] == [True]


def test_can_it_move_is_answered_by_what_is_open(talk: Conversation):
    talk.say("log horn does not sound")
    reply = talk.say("can the coach move")

    assert reply.say.startswith("No.")
    assert "393.81" in reply.say


@pytest.mark.parametrize(
    ("text", "topic"),
    [
        ("how do I fix the bay lamp", "broken-bay-light"),
        ("where is the torque wrench", "find-tools-and-spares"),
        ("how do I report a defect", "report-a-defect"),
        ("what do I do about a gap in the weather strip", "weather-strip-gap"),
        ("how do I grease the latches", "lubricate-latches-and-springs"),
    ],
)
def test_procedure_questions_stay_questions_with_defects_on_record(text: str, topic: str, talk: Conversation):
    talk.say("log a cracked lamp in bay three, minor")
    reply = talk.say(text)

    assert reply.topic == topic
    assert reply.kind in ("procedure", "clarify", "control")  # where a thing is kept is told, its procedure offered
    assert len(all_defects(talk.state.record)) == 1


@pytest.mark.parametrize("text", ["driving", "on duty", "off duty", "berth", "I'm driving", "going off duty"])
def test_a_duty_status_is_put_on_record(text: str, talk: Conversation):
    talk.say(text)
    (event,) = [e for e in talk.events if e.kind == "duty"]

    assert event.payload["status"] in text or event.payload["status"] == "driving"
    assert event.payload["at"] == talk.now.isoformat()


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("how long may I drive", None),
        ("how many hours can I be on duty", None),
        ("waste at forty percent", "reading"),
        ("driven six hours, on duty eight, how long may I drive", "calculation"),
        ("can I sleep in the berth", None),
    ],
)
def test_questions_and_readings_stay_what_they_are(text: str, kind: str | None, talk: Conversation):
    """Nothing of it is a status."""
    reply = talk.say(text)

    assert "duty" not in talk.kinds()
    if kind is not None:
        assert reply.kind == kind


def test_hours_left_follow_from_the_entries(talk: Conversation):
    """49 CFR 395.5: 10 hours of driving after 8 hours off. Off since yesterday; 2.5 h driven leave 7.5 h."""
    talk.say("off duty")
    talk.say("on duty", minutes=9 * 60)
    talk.say("driving", minutes=30)
    talk.say("on duty", minutes=150)
    reply = talk.say("how long may I drive", minutes=0)

    assert reply.kind == "calculation"
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(7.5, abs=0.01)
    assert "not a logging device" in " ".join(reply.show)


def test_two_drivers_have_hours_of_their_own(mind: Mind):
    """A change of Bob's is not Ann's; between them they have both."""
    with Journal(IN_MEMORY) as journal:
        session = Session(mind, journal)
        for minute, (actor, text) in enumerate(
            [("Ann", "off duty"), ("Bob", "off duty"), ("Ann", "driving"), ("Bob", "driver Bob is in the berth"), ("Ann", "on duty")]
        ):  # fmt: skip
            session.hear(text, NOON + timedelta(hours=9 * min(minute, 2) + max(0, minute - 2)), actor)
        record = session.state.record
        both = session.hear("how many hours do we have between us", NOON + timedelta(hours=20), "Ann")

    assert [status for _, status in changes(record, "Ann")] == ["off duty", "driving", "on duty"]
    assert [status for _, status in changes(record, "bob")] == ["off duty", "berth"]
    assert both.estimate is not None
    assert both.estimate.value == pytest.approx(18, abs=0.05)  # Ann has driven 2 of 10 hours, Bob none


def test_driving_with_a_fault_that_stops_the_coach_is_warned_of(talk: Conversation):
    talk.say("log horn does not sound")

    assert talk.say("driving").show[0].startswith("WARNING: Defect 1")


def test_an_unknown_name_is_no_driver_until_it_is_said(talk: Conversation):
    assert "I know no driver called Carl" in talk.say("Carl is driving").say
    assert "duty" not in talk.kinds()
    talk.say("driver Carl is driving")

    assert [e.payload["driver"] for e in talk.events if e.kind == "duty"] == ["Carl"]


def test_who_speaks_is_who_said_it(mind: Mind):
    """Named by the program or by voice; each entry carries its speaker."""
    with Journal(IN_MEMORY) as journal:
        session = Session(mind, journal, actor="Ann")
        session.hear("log a torn seal in bay five, minor", NOON)
        session.hear("this is Bob speaking", NOON)
        session.hear("that seal is fixed", NOON)
        session.hear("sign off the seal", NOON, "Carl")
        actors = [e.actor for e in journal.read() if e.kind.startswith("defect")]
        (defect,) = all_defects(session.state.record)

    assert actors == ["Ann", "Bob", "Carl"]
    assert [s.by for s in defect.stages] == ["Ann", "Bob", "Carl"]


@pytest.mark.parametrize(
    "text", ["this is wrong", "this is it", "I'm back", "it is cold", "waste here", "this is broken"]
)
def test_other_words_name_nobody(text: str, talk: Conversation):
    talk.say(text)

    assert talk.state.actor == "driver"


def test_a_new_conversation_knows_the_record(mind: Mind):
    with Journal(IN_MEMORY) as journal:
        Session(mind, journal, actor="Ann").hear("log a torn seal in bay five, minor", NOON)
        reply = Session(mind, journal, actor="Bob").hear("what's open", NOON + timedelta(hours=5))

    assert "torn seal" in reply.say
    assert "by Ann" in reply.say


def test_upkeep_is_told_as_done_and_asked_back(talk: Conversation):
    reply = talk.say("greased the latches today")
    assert "on record" in reply.say
    shown = " ".join(talk.say("what's due").show)

    assert "Test the CO alarm" in shown
    assert "Lubricate latches" not in shown


def test_a_procedure_walked_to_its_end_counts_as_upkeep_where_the_profile_says_so(talk: Conversation):
    """Finished without a skip; and a changed wheel makes its nuts due."""
    talk.say("how do I check the heat tape")
    for _ in range(30):
        if talk.state.walk is None:
            break
        talk.say("next")
    items = [e.payload["item"] for e in talk.events if e.kind == "upkeep"]

    assert items == ["test-heat-tape"]


def test_missing_kit_that_the_rule_wants_stops_the_coach(talk: Conversation):
    """49 CFR 392.8."""
    assert talk.say("the fire extinguisher is missing").show[0].startswith("WARNING: The coach must not drive")
    assert "fire extinguisher" in talk.say("what's missing").say


def test_the_hand_over_can_be_heard(talk: Conversation):
    talk.say("log horn does not sound")
    talk.say("fresh at sixty percent")
    reply = talk.say("give me the hand-over summary")

    assert "stays parked" in reply.say
    assert len(reply.say.split()) <= MOST_WORDS


@pytest.mark.parametrize("text", ["log " + "a" * 500, "log ; DROP TABLE", "log {what} %s \x00", "defect 99999999999 is fixed", "sign off", "acknowledge", "photo of x is at ../../etc/passwd.jpg", "on duty since 99:99"])  # fmt: skip
def test_hostile_words_do_no_harm(text: str, talk: Conversation):
    talk.say("log a torn seal in bay five, minor")
    reply = talk.say(text)

    assert reply.say
    assert all_defects(talk.state.record)[0].state == "reported"


def test_a_fault_told_in_so_many_words_is_logged(talk: Conversation):
    """Nobody says "log it" at the front of the coach in the dark; 49 CFR 392.7 names the horn."""
    reply = talk.say("the horn does not work")

    assert reply.kind == "defect"
    assert "must not move" in reply.say
    assert [defect.what for defect in open_defects(talk.state.record)] == ["the horn does not work"]


@pytest.mark.parametrize("said", ["brakes are dragging", "the brakes aren't working", "the steering is stuck"])
def test_a_fault_that_the_danger_network_is_not_sure_of_stays_a_fault(talk: Conversation, said: str):
    """Logged or asked back about, the coach stays for it, and nobody is sent out of its path."""
    reply = talk.say(said)

    assert reply.kind in ("clarify", "defect")
    assert reply.say.startswith("Warning. ")
    assert "392.7" in reply.say


def test_a_fault_that_is_a_danger_by_all_signs_is_no_defect(talk: Conversation):
    """Gas goes before the record."""
    assert talk.say("the propane line is hissing").kind == "hazard"
    assert not open_defects(talk.state.record)


def test_a_fault_that_fits_nothing_is_offered_for_the_record(talk: Conversation):
    """What no procedure deals with is said so, with what it means for the coach, and kept on a word."""
    offered = talk.say("seat belt is frayed on the jump seat")

    assert offered.kind == "unknown"
    assert "log it" in offered.say
    assert "the coach stays" in offered.say or "Do not drive" in offered.say
    assert not open_defects(talk.state.record)
    assert talk.say("log it").kind == "defect"
    assert len(open_defects(talk.state.record)) == 1


def test_an_offer_to_keep_a_fault_can_be_left(talk: Conversation):
    """The word no keeps nothing; a question is answered as ever."""
    talk.say("seat belt is frayed on the jump seat")

    assert talk.say("no").kind == "control"
    assert not open_defects(talk.state.record)
    talk.say("seat belt is frayed on the jump seat")
    assert talk.say("how do I dump the waste tank").topic == "dump-waste-tank"
    assert not open_defects(talk.state.record)


def test_what_is_asked_back_about_a_fault_says_first_that_the_coach_stays(talk: Conversation):
    """A brake that leaks air is no question of hoses; 49 CFR 392.7."""
    reply = talk.say("brake hose is leaking air")

    assert reply.kind in ("clarify", "defect")
    assert reply.show[0].startswith("WARNING: ")
    assert "392.7" in reply.show[0]


@pytest.mark.parametrize(
    "words",
    ["the right mirror glass is cracked", "brake's hissing at the left rear", "bunk four's reading lamp flickers"],
)
def test_faults_told_one_after_the_other_in_the_report_are_kept(talk: Conversation, words: str):
    """Nobody says "log" each time, and the report goes on."""
    talk.say("let's do the post trip report")
    reply = talk.say(words)

    assert reply.kind == "defect"
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "post-trip-report"


def test_a_side_before_a_part_is_no_filler(talk: Conversation):
    """ "Right, the mirror" and "right mirror" differ."""
    talk.say("let's do the post trip report")
    talk.say("right mirror glass is cracked")

    assert open_defects(talk.state.record)[0].what.startswith("right mirror")


def test_a_defect_is_named_to_take_it_off_again(talk: Conversation):
    """The newest is withdrawn; one before it stays on record as needing no repair."""
    talk.say("log that the galley drawer won't shut")
    talk.say("log that a bunk curtain is torn")
    talk.say("take the curtain one off again")
    assert [defect.number for defect in open_defects(talk.state.record)] == [1]

    talk.say("log that the shower door sticks")
    reply = talk.say("scratch the drawer one")
    assert "no repair needed" in reply.say


def test_driving_with_what_keeps_the_coach_parked_is_refused(talk: Conversation):
    """In the driver's own words, and by the defects on record."""
    talk.say("log that the horn is dead")
    reply = talk.say("can I drive it home like that")

    assert reply.kind == "refuse"
    assert reply.say.startswith("No.")


def test_defects_can_be_asked_for_while_a_choice_is_open(talk: Conversation):
    """ "What defects are open" picks none of the choices."""
    talk.say("log that the horn is dead")
    talk.say("it won't open")
    assert talk.say("what defects are open").say.startswith("1 open defect.")


@pytest.mark.parametrize(
    "said",
    ["the curtain in bunk two came off", "seat nine armrest is broken", "fold down table on seat four won't fold", "the blind in row two is torn"],
)  # fmt: skip
def test_a_broken_thing_that_no_procedure_deals_with_is_kept(mind: Mind, said: str):
    """With its place, and without moving a walk."""
    talk = Conversation(mind)
    talk.say("handing over to the next driver")
    reply = talk.say(said)

    assert reply.kind == "defect"
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "hand-over-coach"


def test_a_persons_trouble_is_no_defect(mind: Mind):
    """Only things of the coach are written down."""
    talk = Conversation(mind)

    assert talk.say("my phone in bunk two is broken").kind != "defect"


@pytest.mark.parametrize("said", ["what's in the defect log", "what's on the list of faults", "show me what's written down as broken"])  # fmt: skip
def test_the_list_is_read(mind: Mind, said: str):
    talk = Conversation(mind)
    talk.say("defect: left mirror cracked")
    reply = talk.say(said)

    assert (reply.kind, talk.state.walk) == ("defect", None)
    assert "mirror" in reply.say
