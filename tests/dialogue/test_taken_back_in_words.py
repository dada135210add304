"""Entries taken back and put right in any words: another one too, the first of two, the unit of a bare number, the battery read again."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def _standing(talk: Conversation) -> dict[str, tuple[float | None, str | None]]:
    return {f"{one.reading.which or ''} {one.reading.what}".strip(): (one.reading.value, one.reading.unit) for one in talk.state.stored}  # fmt: skip


@pytest.mark.parametrize(
    "said",
    [
        "and take the diesel back too",
        "pull the diesel back too",
        "and lose the diesel",
        "scrap the diesel number as well",
        "forget what I said about the diesel",
        "the diesel one can go too",
        "diesel as well",
        "and the diesel, take that back as well",
        "strike the diesel too",
        "I take the diesel back",
        "ditch the diesel too",
    ],
)
def test_another_entry_goes_the_same_way(talk: Conversation, said: str):
    talk.say("diesel's at ninety gallons")
    talk.say("def nine gallons")
    talk.say("scratch that last one")
    reply = talk.say(said)
    assert reply.kind == "control"
    assert [one.what for one in reply.withdrawn] == ["diesel"]
    assert not talk.state.stored


@pytest.mark.parametrize("said", ["take the waste out", "pull the waste hose back", "take the bottle back", "take the bottle back too"])  # fmt: skip
def test_a_thing_taken_out_by_hand_takes_no_entry_back(talk: Conversation, said: str):
    talk.say("outside bottle a quarter")
    talk.say("waste half")
    talk.say(said)
    assert len(talk.state.stored) == 2


@pytest.mark.parametrize(
    "said",
    [
        "actually the first one's nearer an eighth",
        "make the first one an eighth",
        "no the first was an eighth",
        "sorry, the first one I told you is an eighth",
        "the one before that was an eighth",
        "correction, the first bottle is an eighth",
        "the former should be an eighth",
        "first one's really an eighth",
        "hang on, the earlier one's more like an eighth",
    ],
)
def test_the_first_of_two_is_the_first_that_was_told(talk: Conversation, said: str):
    talk.say("outside bottle's a quarter")
    talk.say("and the other one's full")
    talk.say(said)
    assert _standing(talk) == {"outside propane": (0.125, "fraction"), "inside propane": (1.0, "fraction")}


def test_the_first_of_two_bottles_after_something_else_was_said(talk: Conversation):
    talk.say("outside bottle's a quarter")
    talk.say("and the other one's full")
    talk.say("so which should I be running off")
    talk.say("actually the first one's nearer an eighth")
    assert _standing(talk) == {"outside propane": (0.125, "fraction"), "inside propane": (1.0, "fraction")}


def test_the_last_of_two_and_the_first_of_different_tanks(talk: Conversation):
    talk.say("fresh is half")
    talk.say("waste three quarters")
    talk.say("the first one should be a third")
    assert _standing(talk)["fresh"] == (pytest.approx(1 / 3, abs=0.001), "fraction")
    assert _standing(talk)["waste"] == (0.75, "fraction")
    talk.say("the last one's more like a quarter")
    assert _standing(talk)["fresh"] == (0.25, "fraction")


def test_a_bare_number_after_gallons_asks_its_unit(talk: Conversation):
    talk.say("def nine gallons")
    talk.say("scratch that last one")
    reply = talk.say("def is seven")
    assert reply.kind == "clarify"
    assert reply.say == "Is that 7 gallons or 7 percent?"
    assert not talk.state.stored
    talk.say("gallons")
    assert _standing(talk) == {"def": (7, "gal")}


@pytest.mark.parametrize(("said", "stored"), [("percent", (40, "percent")), ("1", (40, "gal")), ("forty gallons", (40, "gal")), ("in percent", (40, "percent"))])  # fmt: skip
def test_the_unit_is_told_by_name_or_number(talk: Conversation, said: str, stored: tuple[float, str]):
    talk.say("fresh sixty gallons")
    talk.say("fresh is forty")
    talk.say(said)
    assert _standing(talk)["fresh"] == stored


@pytest.mark.parametrize("said", ["no wait, def's seven", "make def seven", "actually seven", "sorry, seven"])
def test_a_correction_keeps_the_unit(talk: Conversation, said: str):
    talk.say("def nine gallons")
    reply = talk.say(said)
    assert [(one.value, one.unit) for one in reply.withdrawn] == [(9, "gal")]
    assert _standing(talk) == {"def": (7, "gal")}


def test_after_percent_a_bare_number_is_percent(talk: Conversation):
    talk.say("fresh at sixty percent")
    assert talk.say("fresh is fifty").kind == "reading"


@pytest.mark.parametrize("said", ["it's twelve flat now", "she's down to twelve now", "twelve even now", "it's at 12.0 now", "meter reads twelve point oh now"])  # fmt: skip
def test_the_battery_read_again_after_a_sum_is_a_reading(talk: Conversation, said: str):
    talk.say("house bank twelve point two")
    talk.say("a hundred usable amp hours and eight amps drawn, how long")
    reply = talk.say(said)
    assert reply.kind == "reading"
    assert reply.say.startswith("House battery 12 volts")


@pytest.mark.parametrize("said", ["and at five amps", "it's twelve now", "twelve twenty now", "and twelve amps"])
def test_what_may_be_of_the_sum_or_the_clock_is_no_battery(talk: Conversation, said: str):
    talk.say("house bank twelve point two")
    talk.say("a hundred usable amp hours and eight amps drawn, how long")
    talk.say(said)
    assert [one.reading.value for one in talk.state.stored if one.reading.what == "house_battery"] == [12.2]
