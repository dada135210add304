"""Figures told in a sentence at the step that asks for them, and readings told of the wrong thing put right. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


def at(mind: Mind, request_: str, step: int) -> Conversation:
    talk = Conversation(mind)
    talk.say(request_)
    talk.say(f"step {step}")
    return talk


def _step(talk: Conversation) -> int:
    return talk.state.walk.number if talk.state.walk is not None else 0


def stored(talk: Conversation) -> list[tuple[str, float | None, str | None]]:
    return [(one.reading.what, one.reading.value, one.reading.unit) for one in talk.state.stored]


@pytest.mark.parametrize(
    ("request_", "step", "said", "reading"),
    [
        ("test the air brakes", 4, "the needles quit rising around 121 and it spat", ("air_pressure", 121, "psi")),
        ("test the air brakes", 4, "cut out at a hundred and twenty four", ("air_pressure", 124, "psi")),
        ("test the air brakes", 11, "there's the buzzer, right at 70", ("air_pressure", 70, "psi")),
        ("test the air brakes", 12, "out it popped at thirty six pounds", ("air_pressure", 36, "psi")),
        ("check the tires", 5, "the rears all sit between 94 and 97", ("tire_pressure", 94, "psi")),
        ("I have a flat tire", 24, "this one's at 98", ("tire_pressure", 98, "psi")),
        ("hand the coach over", 14, "twenty kids, two trainers and a nurse, one is diabetic", ("passengers", 23, "persons")),
        ("hand the coach over", 14, "25 players and 3 staff, none of them ill", ("passengers", 28, "persons")),
        ("park for the night", 6, "two stay aboard, the others have rooms", ("passengers", 2, "persons")),
        ("park for the night", 6, "looked in all of them, 3 in the bunks", ("passengers", 3, "persons")),
        ("hand the coach over", 9, "three eighths, enough for tonight", ("diesel", 0.375, "fraction")),
        ("fill the fresh tank", 19, "there it spits, full", ("fresh", 1.0, "fraction")),
        ("dump the waste tank", 15, "it went quiet and the gauge says empty", ("waste", 0.0, "fraction")),
    ],
)  # fmt: skip
def test_a_figure_that_the_step_asks_for_is_stored_and_the_walk_goes_on(
    request_: str, step: int, said: str, reading: tuple[str, float, str], mind: Mind
):
    talk = at(mind, request_, step)
    reply = talk.say(said)
    assert reply.kind == "reading"
    assert stored(talk) == [reading]
    assert talk.state.walk is None or _step(talk) == step + 1


@pytest.mark.parametrize(
    ("step", "said"),
    [
        (8, "fell a little, about one pound"),
        (8, "went from 121 to 120"),
        (10, "lost two psi while I held it"),
        (14, "that took 29 seconds"),
        (16, "began to rise again at 97"),
    ],
)
def test_a_test_within_its_bounds_is_passed(step: int, said: str, mind: Mind):
    talk = at(mind, "test the air brakes", step)
    talk.say(said)
    assert _step(talk) == step + 1


@pytest.mark.parametrize(
    ("step", "said", "kept"),
    [
        (8, "lost 6 in that minute", []),
        (11, "no buzzer until 48", [("air_pressure", 48, "psi")]),
        (11, "the light came on at 52", [("air_pressure", 52, "psi")]),
        (12, "the knob only came out at 14", [("air_pressure", 14, "psi")]),
        (14, "it needed 63 seconds", []),
        (16, "the needles didn't rise till 71", []),
    ],
)
def test_a_test_outside_its_bounds_is_not_ticked(step: int, said: str, kept: list[tuple[str, float, str]], mind: Mind):
    talk = at(mind, "test the air brakes", step)
    reply = talk.say(said)
    assert _step(talk) == step
    assert "Not passed" in reply.say
    assert "Call:" in reply.say
    assert stored(talk) == kept


@pytest.mark.parametrize(
    "said", ["I'll be back in 15", "pumped it six times so far", "go to step 14", "it's not on yet"]
)
def test_other_numbers_pass_no_test(said: str, mind: Mind):
    talk = at(mind, "test the air brakes", 11)
    reply = talk.say(said)
    assert "Not passed" not in reply.say
    assert talk.state.stored == ()


def test_a_bare_level_is_of_what_the_step_asks_for_whatever_was_told_last(mind: Mind):
    talk = at(mind, "hand the coach over", 9)
    talk.say("five eighths")
    talk.say("half")
    talk.say("it reads 12.6")
    assert stored(talk) == [("diesel", 0.625, "fraction"), ("def", 0.5, "fraction"), ("house_battery", 12.6, "V")]


def test_a_correction_of_the_name_restores_what_the_wrong_one_took_back(mind: Mind):
    talk = Conversation(mind)
    talk.say("diesel five eighths")
    talk.say("sorry, 12.5")
    reply = talk.say("no, that was the house battery, 12.5 volts")
    assert "Stands again: Diesel five eighths" in reply.say
    assert stored(talk) == [("diesel", 0.625, "fraction"), ("house_battery", 12.5, "V")]


@pytest.mark.parametrize("said", ["no shore power, I know that", "we have no shore power"])
def test_a_supply_that_is_not_there_takes_no_value(said: str, mind: Mind):
    talk = Conversation(mind)
    talk.say("house battery 11.9")
    talk.say(said)
    assert stored(talk) == [("house_battery", 11.9, "V")]


def test_no_shore_power_beside_a_reading(mind: Mind):
    talk = Conversation(mind)
    talk.say("house battery is 11.9 volts, we have no shore power")
    assert stored(talk) == [("house_battery", 11.9, "V")]


def test_who_was_told_is_no_unit(mind: Mind):
    talk = Conversation(mind)
    talk.say("waste 2 inches")
    talk.say("told the leader it's open again")
    assert stored(talk) == [("waste", 2, "in")]


def test_who_lies_in_the_bunks_is_no_temperature(mind: Mind):
    talk = Conversation(mind)
    talk.say("4 in the bunks")
    assert talk.state.stored == ()
    talk.say("68 in the bunks")
    assert stored(talk) == [("inside_temp", 68, "F")]


def test_a_tap_that_is_the_dry_one_is_no_temperature(mind: Mind):
    talk = Conversation(mind)
    talk.say("shower runs, galley is the dry one")
    assert talk.state.stored == ()


@pytest.mark.parametrize(
    ("said", "reading"),
    [
        ("front left tire's at 88", ("tire_pressure", 88, "psi")),
        ("DEF light's on at a tenth, how far", ("def", 0.1, "fraction")),
    ],
)
def test_a_reading_in_other_words(said: str, reading: tuple[str, float, str], mind: Mind):
    talk = Conversation(mind)
    assert talk.say(said).kind == "reading"
    assert stored(talk) == [reading]


def test_sleepers_told_beside_the_gas_are_counted(mind: Mind):
    talk = Conversation(mind)
    reply = talk.say("inside propane half, ten below, 16 sleeping")
    assert ("passengers", 16, "persons") in stored(talk)
    assert "Tell me how many sleep here" not in " ".join(reply.show)


def test_a_bare_figure_of_the_battery_is_volts(mind: Mind):
    reply = Conversation(mind).say("battery says 12.2, how long till it's dead with a 20 amp draw")
    assert reply.kind == "calculation"
    assert any("12.2 volts" in line for line in reply.show)


def test_the_reading_told_in_place_of_a_reason_is_no_reason(mind: Mind):
    talk = at(mind, "fill the fresh tank", 19)
    talk.say("next")
    assert "Tell me why you skip it" in talk.say("next").say
    assert talk.say("the fresh tank is full").kind == "reading"
    assert stored(talk) == [("fresh", 1.0, "fraction")]
    assert talk.state.walk is not None
    assert not talk.state.walk.skipped
    assert _step(talk) == 20


def test_heat_that_was_cranked_up_starts_no_engine(mind: Mind):
    assert at(mind, "the furnace will not light", 2).say("cranked it to 80, it's on heat").kind != "calculation"
