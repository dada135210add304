"""Entries put right later, by their name, their value or as the last told."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind, Reply
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def stands(talk: Conversation) -> list[str]:
    """The entries that stand, as `what/which value unit`."""
    held = [stored.reading for stored in talk.state.stored]
    return sorted(f"{one.what}{f'/{one.which}' if one.which else ''} {one.value:g} {one.unit}" for one in held)


@pytest.mark.parametrize(
    ("before", "said", "left"),
    [
        (["waste at 35", "def forty percent"], "delete the waste one, somebody bumped the gauge", ["def 40 percent"]),
        (["outside bottle half", "inside bottle full"], "strike the outside cylinder reading", ["propane/inside 1 fraction"]),
        (["fresh seventy gallons", "it's 14 out"], "scratch the seventy that gauge sticks", ["outside_temp 14 F"]),
        (["left front 112", "right front 96"], "lose the right front one it was the spare", ["tire_pressure/left front 112 psi"]),
        (["diesel at a quarter"], "erase that, i had the wrong truck", []),
        (["fresh at a third"], "undo that, it was two thirds", ["fresh 0.6667 fraction"]),
        (["waste twelve inches"], "no wait waste was nine", ["waste 9 in"]),
        (["inside bottle 70 percent"], "inside was 40 not 70", ["propane/inside 40 percent"]),
        (["twenty six aboard"], "no twenty seven, one was still at the desk", ["passengers 27 persons"]),
        (["waste a quarter", "fresh half"], "make waste three quarters", ["fresh 0.5 fraction", "waste 0.75 fraction"]),
        (["odometer 301220"], "change the odometer to 301250", ["odometer 301250 mi"]),
    ],
)  # fmt: skip
def test_only_what_is_right_stands(talk: Conversation, before: list[str], said: str, left: list[str]):
    """The entry meant is gone, however many were told since, and the right one stands in its place."""
    for words in before:
        talk.say(words)
    reply = talk.say(said)

    assert stands(talk) == left
    assert reply.withdrawn


@pytest.mark.parametrize("said", ["drop the hose", "forget the waste", "cancel the timer", "no two of them are sick", "lose the jug of fresh water"])  # fmt: skip
def test_other_talk_takes_nothing_back(talk: Conversation, said: str):
    """Things are dropped and forgotten too, and "no" may begin any sentence."""
    talk.say("waste at sixty")
    talk.say("thirty aboard")
    reply: Reply = talk.say(said)

    assert stands(talk) == ["passengers 30 persons", "waste 60 percent"]
    assert not reply.withdrawn


def test_a_reading_taken_back_is_no_all_clear(talk: Conversation):
    """The carbon monoxide walk that a reading opened stays until somebody says that it was none."""
    talk.say("CO meter says 120 ppm")
    undone = talk.say("undo")

    assert [reading.what for reading in undone.withdrawn] == ["co_ppm"]
    assert talk.state.walk is not None
    assert talk.state.walk.topic == "carbon-monoxide-alarm"
    assert "false alarm" in undone.say
    talk.say("false alarm, it was the clock")
    assert talk.state.walk is None


@pytest.mark.parametrize(
    "said",
    ["waste was a quarter, I misread it", "the waste was a quarter got it wrong", "it was a quarter for the waste my mistake", "waste was a quarter, I read the gauge wrong"],
)  # fmt: skip
def test_why_it_was_wrong_may_be_told_after_what_is_right(talk: Conversation, said: str):
    """What was told beside it stands."""
    talk.say("waste half fresh two thirds")
    reply = talk.say(said)

    assert [(one.what, one.value) for one in reply.readings] == [("waste", 0.25)]
    assert [(one.what, one.value) for one in reply.withdrawn] == [("waste", 0.5)]
    assert len(talk.state.stored) == 2


def test_a_level_past_is_no_correction(talk: Conversation):
    """Without a word of error it is history."""
    talk.say("waste half fresh two thirds")

    assert talk.say("the fresh was a third last night").withdrawn == ()


@pytest.mark.parametrize("said", ["lockers full", "kettles full", "coolers half"])
def test_the_level_of_something_else_is_not_the_last_readings(talk: Conversation, said: str):
    """ "Is" run on to a word that nobody here knows."""
    talk.say("fresh half")
    talk.say(said)

    assert [stored.reading.value for stored in talk.state.stored] == [0.5]


def test_a_reading_beside_a_choice_is_a_reading(talk: Conversation):
    """Its name is that of a procedure offered; put right and asked about, it still picks none."""
    offered = talk.say("lights are going dim")
    told = talk.say("house battery twelve four")
    right = talk.say("no sorry twelve two four")
    asked = talk.say("how much charge is that if the battery is at eighty degrees")

    assert "house-battery-low" in offered.options
    assert [one.value for one in told.readings] == [12.4]
    assert [one.value for one in right.readings] == [12.24]
    assert [one.value for one in right.withdrawn] == [12.4]
    assert asked.estimate is not None
    assert asked.estimate.value == pytest.approx(50, abs=2)
    assert talk.state.walk is None


@pytest.mark.parametrize(
    "said",
    ["forget the def, I never looked", "ignore the def the gauge is stuck", "drop the def I was guessing", "disregard def, not sure about it"],
)  # fmt: skip
def test_a_reading_nobody_took_is_taken_back(talk: Conversation, said: str):
    """The reason tells that the entry is meant; nothing takes its place."""
    talk.say("diesel at half, def a third")
    reply = talk.say(said)

    assert [one.what for one in reply.withdrawn] == ["def"]
    assert reply.readings == ()
    assert [held.reading.what for held in talk.state.stored] == ["diesel"]


def test_a_head_count_put_right_picks_no_choice(talk: Conversation):
    """What was offered before it is past, however many words tell why."""
    talk.say("loading bags what's the rule")
    talk.say("my wife wants to know what's for dinner")
    talk.say("forty aboard")
    reply = talk.say("no wait thirty seven three went home with their folks")

    assert [one.value for one in reply.readings] == [37]
    assert [one.value for one in reply.withdrawn] == [40]


@pytest.mark.parametrize(
    "said",
    ["no hang on it's not thirty, I was reading the wrong gauge, it's seventy", "sorry it's seventy, I looked at the other dial", "wait that's not thirty, we were looking at the wrong needle, seventy"],
)  # fmt: skip
def test_the_gauge_that_was_misread_is_no_other_tank(talk: Conversation, said: str):
    """Why an entry was wrong names no thing that the right amount is of."""
    talk.say("waste thirty percent")
    reply = talk.say(said)

    assert [(one.what, one.value) for one in reply.readings] == [("waste", 70)]
    assert [(one.what, one.value) for one in reply.withdrawn] == [("waste", 30)]


@pytest.mark.parametrize("said", ["my husband says the same", "there's some damp where it shouldn't be too"])
def test_who_says_the_same_tells_no_level(talk: Conversation, said: str):
    talk.say("fresh a quarter")

    assert talk.say(said).readings == ()


def test_the_inside_one_is_a_cylinder(talk: Conversation):
    talk.say("outside bottle a quarter, inside bottle full")

    assert "Inside cylinder full" in talk.say("what's on record for the inside one").say


@pytest.mark.parametrize(
    ("before", "said", "what"),
    [
        ("waste thirty percent", "strike that, thirty was the fresh", "fresh"),
        ("fresh thirty percent", "scratch that, it was the waste", "waste"),
        ("outside it's thirty", "undo that, that's the inside", "inside_temp"),
        ("fresh thirty percent", "the thirty was the diesel actually", "diesel"),
    ],
)
def test_what_was_told_is_of_something_else(talk: Conversation, before: str, said: str, what: str):
    """The amount stays, the name is put right."""
    first = talk.say(before).readings
    reply = talk.say(said)

    assert [(one.what, one.value) for one in reply.readings] == [(what, 30)]
    assert reply.withdrawn == first


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("hold on, I misread the dial, the last one should be forty four", 44),
        ("scratch the sixty, somebody leaned on the panel, it's forty one", 41),
        ("wait, read it wrong, it's forty two", 42),
    ],
)
def test_why_it_was_wrong_may_stand_before_what_is_right(talk: Conversation, said: str, value: float):
    """One entry, put right."""
    talk.say("waste sixty percent")
    reply = talk.say(said)

    assert [(one.what, one.value) for one in reply.readings] == [("waste", value)]
    assert [one.value for one in reply.withdrawn] == [60]


@pytest.mark.parametrize("said", ["swap those two", "sorry I got those backwards"])
def test_two_told_one_after_the_other_are_swapped(talk: Conversation, said: str):
    """They need not have been told in one breath."""
    talk.say("waste 20 percent")
    talk.say("fresh 70 percent")
    talk.say(said)

    assert stands(talk) == ["fresh 20 percent", "waste 70 percent"]


def test_an_entry_taken_out_again(talk: Conversation):
    """Nothing is unscrewed."""
    talk.say("inside 40 percent, outside 60 percent, spare 70 percent")
    walks = talk.state.walks
    reply = talk.say("take the spare one out again, it wasn't ours")

    assert [one.which for one in reply.withdrawn] == ["spare"]
    assert talk.state.walks == walks


@pytest.mark.parametrize(
    ("before", "said", "left"),
    [
        ("waste five eighths", "my partner calls it three quarters, and she's right", "waste 0.75 fraction"),
        ("fresh 55 percent", "the relief driver gets fifty, go with that", "fresh 50 percent"),
        ("left front 108 psi", "co-driver read 101 on his gauge so use his", "tire_pressure/left front 101 psi"),
        ("diesel half", "my mate says dinner's at six and he's right", "diesel 0.5 fraction"),
        ("diesel half", "my mate says a quarter but he's wrong", "diesel 0.5 fraction"),
    ],
)
def test_what_another_read_stands_when_they_are_believed(talk: Conversation, before: str, said: str, left: str):
    """And only when it is a reading."""
    talk.say(before)
    talk.say(said)

    assert stands(talk) == [left]


@pytest.mark.parametrize(
    ("before", "said", "left"),
    [
        ("outside bottle 35 percent", "strike that, I was checking the inside one", "propane/inside 35 percent"),
        ("fresh a third", "no wait, I was looking at the waste gauge", "waste 0.3333 fraction"),
        ("right front 96 psi", "scratch that, I was reading the left front", "tire_pressure/left front 96 psi"),
    ],
)
def test_what_was_looked_at_by_mistake(talk: Conversation, before: str, said: str, left: str):
    """The figure is that of the other."""
    talk.say(before)
    talk.say(said)

    assert stands(talk) == [left]


@pytest.mark.parametrize(
    ("before", "said", "left"),
    [
        ("waste 35", "gallons", "waste 35 gal"),
        ("outside six", "celsius", "outside_temp 6 C"),
        ("inside cylinder 18", "pounds", "propane/inside 18 lb"),
        ("diesel 110", "gallons", "diesel 110 gal"),
        ("fresh 60", "percent", "fresh 60 percent"),
        ("waste 35 percent", "gallons", "waste 35 percent"),
        ("waste 35", "in gallons", "waste 35 percent"),
    ],
)
def test_a_unit_completes_a_figure_that_had_none(talk: Conversation, before: str, said: str, left: str):
    """After a figure with its unit, or with "in", it asks for another one."""
    talk.say(before)
    talk.say(said)

    assert stands(talk) == [left]
