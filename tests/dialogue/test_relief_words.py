"""What relief drivers say in their own words: power wanted from the generator, places of things, counts in parts, questions at a step."""

from __future__ import annotations

import pytest

from cabassist.dialogue import no_wish
from cabassist.dialogue.step_figures import heads
from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation, at


@pytest.mark.parametrize(
    "said",
    [
        "need the genny running, there's no plug-in here",
        "no hookups at this lot, how do I get the generator going",
        "there's nowhere to plug in here so I want to use the generator",
        "can we run the lights off the generator while we're parked",
        "gotta have the genny on, rink's got no outlets",
        "let's get the genset fired up",
        "no shore power here, switch over to the generator",
    ],
)
def test_who_wants_the_generators_power_starts_the_engine(mind: Mind, said: str):
    reply = Conversation(mind).say(said)
    assert "start the engine" in reply.say
    assert "Never idle in a closed building" in reply.say


@pytest.mark.parametrize(
    ("said", "topic"),
    [
        ("clean the generator screens", "look-after-generator"),
        ("the generator quit making power", "look-after-generator"),
        ("battery's getting tired", "house-battery-low"),
        ("battery's getting low", "house-battery-low"),
        ("how do I unhook from this plug in the morning", "disconnect-shore-power"),
        ("how do I get off this hookup tomorrow", "disconnect-shore-power"),
    ],
)
def test_what_opens(mind: Mind, said: str, topic: str):
    talk = Conversation(mind)
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.topic == topic


def test_overnight_the_generator_is_no_answer(mind: Mind):
    assert "kills sleepers" in Conversation(mind).say("can we run off the genny tonight, there's no outlet").say


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("where's the book kept", "Coach log"),
        ("where does the book live", "Coach log"),
        ("where'd they put the vests", "Reflective vests"),
        ("any idea where the gloves went", "Nitrile and work gloves"),
        ("where's that wheel wrench at", "Torque wrench"),
        ("which bay are the chocks in", "Wheel chocks"),
        ("where's the switch for those big side lights", "Scene lights switch"),
        ("where are the snow chains kept", "the profile does not say"),
        ("where's the dipstick", "the profile does not say"),
        ("where's the heater switch", "the profile does not say"),
    ],
)
def test_a_place_is_told_and_the_walk_stays(mind: Mind, said: str, told: str):
    talk = at(mind, "start the pre-trip", 1)
    reply = talk.say(said)
    assert told in reply.say
    assert [walk.topic for walk in talk.state.walks] == ["pre-trip-inspection"]
    assert "defect" not in talk.kinds()


@pytest.mark.parametrize(
    ("said", "count"),
    [
        ("ten kids and two adults", 12),
        ("thirty-one plus me and the coach", 33),
        ("counted thirty one and that's what the list says", 31),
        ("thirty one, and Tyler's got the peanut allergy", 31),
        ("got thirty one same as the sheet", 31),
        ("thirty one on the nose, manager agrees", 31),
        ("thirty one including the coaches", 31),
        ("ten and two makes twelve", 12),
        ("ten and two makes thirteen", None),
        ("fourteen girls plus the trainer", 15),
    ],
)
def test_heads_told_in_parts(said: str, count: int | None):
    assert heads(said) == count


@pytest.mark.parametrize("said", ["one dead", "one's empty", "one of em's out", "one half, one full", "one's dead the other's full"])  # fmt: skip
def test_which_cylinder_is_asked(mind: Mind, said: str):
    talk = at(mind, "read the propane gauges", 9)
    assert talk.say(said).say.startswith("Which one: the outside or the inside cylinder?")
    assert not talk.state.stored


@pytest.mark.parametrize(
    ("said", "levels"),
    [
        ("first one's half and second's full", ["outside", "inside"]),
        ("left one full right one quarter", ["left", "right"]),
    ],
)
def test_both_cylinders_in_one_breath(mind: Mind, said: str, levels: list[str]):
    talk = at(mind, "read the propane gauges", 9)
    talk.say(said)
    assert [one.reading.which for one in talk.state.stored] == levels


@pytest.mark.parametrize(
    ("said", "step"),
    [("the pad here is dead level", 1), ("parked, it's dead level here", 2), ("parked up and she's dead level", 2)],
)
def test_dead_level_is_no_defect(mind: Mind, said: str, step: int):
    talk = at(mind, "park for the night", 1)
    talk.say(said)
    assert talk.state.walk is not None
    assert talk.state.walk.number == step
    assert "defect" not in talk.kinds()


@pytest.mark.parametrize(
    ("said", "first"),
    [
        ("is it legal to drive with a cracked windshield", "Not before you know. "),
        ("is it legal to run with one marker out", "No. "),
        ("can I drive if the horn doesn't work", "No. "),
        ("does a burnt out marker keep us parked", "Yes, it does. "),
    ],
)
def test_a_question_of_the_rules_logs_nothing(mind: Mind, said: str, first: str):
    talk = at(mind, "start the pre-trip", 1)
    reply = talk.say(said)
    assert reply.say.startswith(first)
    assert "49 CFR" in reply.say
    assert "defect" not in talk.kinds()


def test_what_was_mended_is_no_defect(mind: Mind):
    talk = at(mind, "check the tires", 1)
    talk.say("log says the wiper was fixed last week, works fine")
    assert "defect" not in talk.kinds()


def test_a_dead_wiper_stays_one(mind: Mind):
    talk = at(mind, "park for the night", 1)
    talk.say("right wiper's dead, and the lot is dead level")
    assert "defect" in talk.kinds()


@pytest.mark.parametrize(
    "said",
    ["what if the cap won't come off", "what do they keep in these hoses anyhow", "what's the vest for anyways", "is that normal", "what if it doesn't fit"],
)  # fmt: skip
def test_questions_at_a_step_keep_the_step(mind: Mind, said: str):
    talk = at(mind, "dump the waste tank", 7)
    reply = talk.say(said)
    assert [(walk.topic, walk.number) for walk in talk.state.walks] == [("dump-waste-tank", 7)]
    assert "Which do you mean" not in reply.say


@pytest.mark.parametrize("said", ["Darlene's gonna sit in with the kids while I go round", "my partner stays with the players"])  # fmt: skip
def test_somebody_grown_who_stays_is_no_wish(mind: Mind, said: str):
    assert at(mind, "supervise the passengers", 4).say(said).kind != "refuse"


@pytest.mark.parametrize(
    "said",
    [
        "leave the kids alone with the goalie",
        "the oldest kid stays with the players, the adults are at the bar",
        "my partner's watching the kids while I go under the coach",
        "my partner stays with the kids while we drive with the bay open",
    ],
)
def test_what_else_is_told_of_the_young_is_heard_as_before(mind: Mind, said: str):
    talk = at(mind, "supervise the passengers", 4)
    assert not no_wish.answers(talk.state, said, mind)


def test_the_young_left_alone_are_refused(mind: Mind):
    assert at(mind, "supervise the passengers", 4).say("leave the kids alone with the goalie").kind == "refuse"


@pytest.mark.parametrize("said", ["shook his hand, he's got her", "we shook on it, she's his now"])
def test_a_handshake_is_no_shock(mind: Mind, said: str):
    talk = at(mind, "hand over the coach", 19)
    assert talk.say(said).topic == "hand-over-coach"
