"""Turns that lean on the one before: choices by words, inputs changed or told late, what to do about it, reports in a walk.

Numbers: worked out by hand beside each. What a reply must be is common practice, no source.
"""

from __future__ import annotations

import pytest

from cabassist.dialogue.framing import unframed
from cabassist.dialogue.restating import restated
from cabassist.dialogue.types import Asking, Mind, Reply
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def value(reply: Reply) -> float | None:
    return reply.estimate.value if reply.estimate is not None else None


# -- amounts ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("before", "said", "after"),
    [
        ("how long to fill 50 gallons at 4 gallons a minute", "what about 6 a minute", "6 gallons a minute"),
        ("how long to fill 50 gallons at 4 gallons a minute", "make that 70 gallons", "fill 70 gallons"),
        ("at 3 percent an hour when is the waste full", "and if it goes up eight an hour", "eight percent an hour"),
        ("18 people at 2 gallons each, how long do 90 gallons last", "what if it's 25 people", "25 people"),
    ],
)
def test_the_amount_of_the_same_kind_is_changed(before: str, said: str, after: str):
    found = restated(before, said)

    assert found is not None
    assert after in found.text


def test_a_bare_amount_that_fits_two_places_is_asked_back():
    """A guess would be a wrong number."""
    found = restated("how long does 60 gallons last at 18 gallons a day", "make it 30")

    assert found is not None
    assert not found.text
    assert len(found.between) == 2


@pytest.mark.parametrize(
    "said", ["how long at 6 an hour for 90 gallons", "the waste is at 40 percent", "what about tonight"]
)
def test_what_asks_anew_or_tells_is_no_change(said: str):
    assert restated("how long does 80 gallons last at 4 gallons an hour", said) is None


def test_the_rate_of_the_last_question_is_changed(talk: Conversation):
    """84 gal ÷ 6 = 14 h, ÷ 12 = 7 h, ÷ 4 = 21 h."""
    hours = [value(talk.say("how long do 84 gallons of fresh last at 6 gallons an hour"))]
    hours += [value(talk.say(text)) for text in ("what if it's 12 an hour", "and if they only use four")]

    assert hours == pytest.approx([14, 7, 21], rel=0.01)


def test_people_told_anew_go_into_the_last_calculation(talk: Conversation):
    """Half as many people make it last twice as long, less what was used since it was read."""
    talk.say("fresh is 80 gallons and 24 people aboard")
    first = value(talk.say("how long will the water last"))
    again = talk.say("make that 12 people")

    assert first is not None
    assert value(again) == pytest.approx(2 * first, rel=0.05)
    assert [(r.what, r.value) for r in again.readings] == [("passengers", 12.0)]


def test_a_correction_of_a_level_changes_no_rate(talk: Conversation):
    """ "Actually it's 60" corrects what was read, and nothing is taken for gallons an hour."""
    talk.say("waste is at 40 percent")
    talk.say("it goes up four percent an hour, how long have I got")
    reply = talk.say("actually it's 60")

    assert reply.kind == "reading"
    assert [r.value for r in reply.readings] == [60.0]


def test_hours_told_after_the_question_answer_it(talk: Conversation):
    """10 - 7 = 3 h of driving (49 CFR 395.5)."""
    talk.say("how much longer may I drive today")
    reply = talk.say("seven behind the wheel, one fueling")

    assert value(reply) == pytest.approx(3)


def test_the_answer_to_what_a_calculation_waits_for_corrects_no_other_tank(talk: Conversation):
    """The waste's level stays as it was told."""
    talk.say("waste is at 72 percent")
    talk.say("how long will the fresh last")
    reply = talk.say("it's at 40 percent")

    assert not reply.withdrawn
    assert [s.reading.what for s in talk.state.stored].count("waste") == 1


# -- choices and pronouns -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("options", "asked", "said", "meant"),
    [
        (
            ("pump-keeps-running", "no-water-at-tap"),
            "the pump",
            "it keeps running all night",
            "pump-keeps-running",
        ),
        (("thaw-frozen-water-line", "frozen-waste-valve"), "it's frozen", "the sewage handle", "frozen-waste-valve"),
        (("bay-lights", "outside-lights"), "the lights won't go off", "the ones in the luggage hold", "bay-lights"),
    ],
)
def test_an_option_is_chosen_by_what_tells_it_from_the_others(
    talk: Conversation, options: tuple[str, ...], asked: str, said: str, meant: str
):
    from dataclasses import replace

    talk.state = replace(talk.state, asking=Asking("choice", options), question=asked)

    assert talk.say(said).topic == meant


@pytest.mark.parametrize(
    ("told", "topic"),
    [("waste is at 91 percent", "dump-waste-tank"), ("fresh is down to 7 percent", "fill-fresh-water")],
)
def test_what_to_do_about_a_level(talk: Conversation, told: str, topic: str):
    talk.say(told)

    assert talk.say("so what do we do about that").topic == topic


def test_a_level_is_judged_by_what_was_said_of_it(talk: Conversation):
    talk.say("waste is at 91 percent")

    assert talk.say("is that bad").kind == "calculation"


def test_after_a_no_why_gives_its_reason_and_the_right_way_opens(talk: Conversation):
    no = talk.say("can I dump the gray water on the gravel")
    why = talk.say("why not")
    way = talk.say("ok what should I do instead")

    assert no.kind == "refuse"
    assert f"Why: {why.say}" in no.show
    assert (way.kind, way.topic) == ("procedure", no.topic)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("start the brake test procedure", "brake test"),
        ("can you run me through plugging in", "plugging in"),
        ("let's do the departure checklist", "departure"),
        ("give me the steps for winterizing", "winterizing"),
        ("how do I dump the waste tank", None),
    ],
)
def test_words_that_ask_for_a_walk_are_taken_off(text: str, what: str | None):
    assert unframed(text) == what


# -- in a walk ----------------------------------------------------------------------------------


def at(talk: Conversation) -> int:
    assert talk.state.walk is not None
    return talk.state.walk.number


@pytest.mark.parametrize(
    ("asked", "step", "words"),
    [
        ("how do I dump the waste tank", 5, "gloves are on"),
        ("how do I park for the night", 3, "okay, chocks are in"),
        ("how do I dump the waste tank", 1, "got my gloves on, what's next"),
        ("how do I dump the waste tank", 8, "cap's off"),
    ],
)
def test_work_reported_as_done_moves_on_by_one(talk: Conversation, asked: str, step: int, words: str):
    """Where it is of the step in hand, or the next one is asked for with it."""
    talk.say(asked)
    talk.until_step(step)
    talk.say(words)

    assert at(talk) == step + 1


@pytest.mark.parametrize("words", ["chocks are in", "cap's off"])
def test_work_of_another_step_moves_nothing(talk: Conversation, words: str):
    talk.say("how do I dump the waste tank")
    talk.say(words)

    assert at(talk) == 1


@pytest.mark.parametrize(
    "words",
    [
        "the gloves are torn",
        "the marker light is out",
        "the hose won't go on",
        "gloves should be on",
        "is the cap off",
        "waste is at 60 percent",
        "the cap came off in my hand",
        "why is the hose brown",
    ],
)
def test_trouble_readings_and_questions_move_nothing(talk: Conversation, words: str):
    talk.say("how do I dump the waste tank")
    talk.say("next")
    talk.say(words)

    walk = next(walk for walk in talk.state.walks if walk.topic == "dump-waste-tank")
    assert walk.number == 2


def test_the_step_to_come_is_told_and_the_one_in_hand_stays(talk: Conversation):
    talk.say("how do I dump the waste tank")
    reply = talk.say("what's the one after this gonna be")
    step = talk.say("next").show

    assert reply.kind == "step"
    assert any(line.split(": ", 1)[-1] in reply.say for line in step if line.startswith("Step 2"))


def test_everyone_out_passes_only_what_it_implies(talk: Conversation):
    """Waking and leading out are done then; calling for help is not."""
    talk.say("I smell gas in the bunks")
    out = talk.say("everybody's off the coach")
    called = talk.say("we called 911")

    assert out.kind == "step"
    assert out.step is not None
    assert out.step.index > 3
    assert called.step is not None
    assert called.step.index <= out.step.index + 1


@pytest.mark.parametrize(
    "words", ["they're all out but one", "everyone is out cold", "the alarm stopped", "is it over"]
)
def test_a_danger_is_not_over_by_half_a_word(talk: Conversation, words: str):
    talk.say("the carbon monoxide alarm is going off")
    talk.say(words)

    assert "carbon-monoxide-alarm" in [walk.topic for walk in talk.state.walks]


def test_a_danger_said_to_be_over_is_closed_with_who_must_clear_it(talk: Conversation):
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say("I smell gas")
    over = talk.say("false alarm, it was the paint store next door")
    back = talk.say("resume")

    assert over.kind == "control"
    assert "fire service" in over.say
    assert (back.topic, at(talk)) == ("connect-shore-power", 2)


def test_going_back_in_is_answered_by_who_must_clear_it(talk: Conversation):
    talk.say("the carbon monoxide alarm is going off")

    assert talk.say("can we go back in now").say.startswith("Not yet.")


# -- reminders, records -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        ("remind me to shut the tap at half past ten tonight", "22:30"),
        ("wake me at 5:30", "05:30"),
        ("remind me at quarter to eleven to look at the cord", "22:45"),
        ("set an alarm for 6 am", "06:00"),
        ("call me at midnight", "00:00"),
    ],
)
def test_a_reminder_at_a_time_of_day(talk: Conversation, words: str, shown: str):
    """The clock stands at 21:41; the next such time is meant."""
    reply = talk.say(words)

    assert reply.kind == "control"
    assert shown in reply.say
    assert len(talk.state.timers) == 1


def test_a_timer_just_set_is_asked_for_and_taken_back(talk: Conversation):
    talk.say("set a timer for 20 minutes")
    left = talk.say("how long's left")
    talk.say("actually kill it")

    assert "19 minutes" in left.say
    assert not talk.state.timers


@pytest.mark.parametrize(
    "words", ["how's the waste looking", "what does the waste tank say", "what's the waste at by the way"]
)
def test_a_level_is_read_back_however_it_is_asked(talk: Conversation, words: str):
    talk.say("waste is at 35 percent")
    reply = talk.say(words)

    assert reply.kind == "control"
    assert "35 %" in reply.say
    assert "No fresh reading" in talk.say("and the fresh").say


def test_a_defect_taken_off_the_list_is_repaired_and_shown_until_then(talk: Conversation):
    talk.say("the left mirror bracket is loose, log it")
    listed = talk.say("what still needs fixing")
    reply = talk.say("take that off, it's fixed")

    assert "mirror" in listed.say
    assert "repaired" in reply.say
