"""Levels, heads, loads and gas told or asked in few words, as tired people do. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation, at


def stored(talk: Conversation) -> list[tuple[str, str | None, float | None]]:
    return [(one.reading.what, one.reading.which, one.reading.value) for one in talk.state.stored]


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("outside dry, twenty to nine", [("propane", "outside", 0.0)]),
        ("inside's feeding, outside dry", [("propane", "outside", 0.0)]),
        ("nothing in the outside bottle", [("propane", "outside", 0.0)]),
        ("outside bottle a quarter, minus twenty-six", [("propane", "outside", 0.25), ("outside_temp", None, -26.0)]),
    ],
)
def test_levels_in_few_words(mind: Mind, said: str, told: list[tuple[str, str | None, float]]):
    talk = Conversation(mind)
    talk.say(said)
    assert stored(talk) == told


def test_nothing_that_is_found_is_no_level(mind: Mind):
    talk = at(mind, "the furnace will not light", 12)
    talk.say("there's nothing in the vents outside")
    assert not stored(talk)


def test_volts_said_without_a_hundred(mind: Mind):
    talk = at(mind, "connect shore power", 14)
    talk.say("it says one nineteen")
    assert stored(talk) == [("shore_voltage", None, 119.0)]


def test_groups_of_people_are_counted_together(mind: Mind):
    talk = at(mind, "keep the fresh water from freezing", 1)
    talk.say("headcount is twelve kids and three adults in the bunks")
    assert stored(talk) == [("passengers", None, 15.0)]


def test_a_side_that_nobody_said_is_not_put_down(mind: Mind):
    talk = at(mind, "check the tires", 5)
    talk.say("rears all around 96, one inner at 72")
    assert [which for _, which, value in stored(talk) if value == 72] == ["rear inner"]


def test_so_many_of_so_much_is_too_much(mind: Mind):
    reply = Conversation(mind).say("two fifteen hundred watt heaters on a thirty amp outlet, ok?")
    assert reply.kind == "calculation"
    assert "25 amps" in reply.say
    assert "Not for hours on end" in reply.say


def test_what_is_switched_off_leaves_no_more_than_is_allowed(mind: Mind):
    reply = Conversation(mind).say("two heaters of 1500 watts and a charger at 8 amps on a 30 amp cord, too much?")
    assert "Switch off the charger: then it is 8 amps" not in reply.say


def test_gas_on_the_road(mind: Mind):
    reply = Conversation(mind).say("is it ok to leave the propane on while we drive")
    assert "Tunnels and ferries" in reply.say
    assert reply.kind == "control"


def test_unhooking_is_not_plugging_in(mind: Mind):
    assert Conversation(mind).say("how do I unhook from the plug in the morning").topic == "disconnect-shore-power"


def test_people_are_kept_warm_and_not_the_water(mind: Mind):
    assert Conversation(mind).say("eight kids sleepin' aboard, how do I keep 'em from freezin'").topic == "keep-cabin-warm"  # fmt: skip


@pytest.mark.parametrize("said", ["waste 200 percent", "Fresh 300%."])
def test_an_impossible_level_is_refused_and_no_danger_asked_about(mind: Mind, said: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert not reply.options
    assert not stored(talk)


def test_a_tank_that_emptied_where_it_must_not_asks_for_no_level(mind: Mind):
    reply = Conversation(mind).say("our tank just emptied itself onto the bank of the creek")
    assert "Which one: fresh water" not in reply.say
