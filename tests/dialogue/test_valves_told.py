"""The cylinder valves told to be shut are remembered until they are told open. Sentences are our own."""

from __future__ import annotations

from datetime import timedelta

import pytest

from cabassist.dialogue.resuming import take_up
from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from tests.dialogue.conversation import NOON, Conversation

SHUT = "The cylinder valves are shut since"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def said_in(talk: Conversation, text: str) -> bool:
    return any(line.startswith(SHUT) for line in talk.say(text).show)


@pytest.mark.parametrize(
    "said",
    ["i turned the propane valves off", "gas bottles are closed", "i've just closed both cylinders", "I shut off the propane earlier", "the gas is off"],
)  # fmt: skip
def test_told_shut_is_noted_and_said_with_the_heat(talk: Conversation, said: str):
    reply = talk.say(said)
    assert reply.kind == "control"
    assert talk.state.valves_shut is not None
    assert said_in(talk, "keep the cabin warm for the night")


@pytest.mark.parametrize("said", ["we opened the valves", "turned the gas back on", "bottles are open again", "the technician tested it, the valves are open again"])  # fmt: skip
def test_told_open_it_is_forgotten(talk: Conversation, said: str):
    talk.say("i closed the cylinder valves")
    assert talk.say(said).kind == "control"
    assert talk.state.valves_shut is None
    assert not said_in(talk, "keep the cabin warm for the night")


@pytest.mark.parametrize(
    "said",
    ["shut off the propane", "should i shut the bottles", "is the propane off", "i forgot to close the valves", "the outside bottle is off", "the waste valve is shut", "valves shut?"],
)  # fmt: skip
def test_what_is_no_such_report_changes_nothing(talk: Conversation, said: str):
    talk.say(said)
    assert talk.state.valves_shut is None


def test_after_the_leak_the_walk_the_numbers_and_the_morning_say_so(talk: Conversation):
    talk.say("I smell gas in the coach")
    talk.say("go to step 5")
    for _ in range(5):
        talk.say("next")
    ended = talk.say("next")
    assert any("valves stay shut" in line for line in ended.show)
    assert talk.state.valves_shut is not None
    assert talk.state.valves_shut.leak

    assert "technician" in talk.say("keep the cabin warm for the night").show[0]
    talk.say("stop")
    talk.say("6 aboard. minus 25 outside. outside bottle half, inside bottle full")
    assert said_in(talk, "is the propane enough until 8 in the morning")

    morning = talk.say("good morning", minutes=9 * 60)
    assert any(line.startswith(SHUT) for line in morning.show)
    assert not said_in(talk, "good morning")
    assert said_in(talk, "make the last round before departure")


def test_what_was_jumped_over_was_not_done(talk: Conversation):
    talk.say("I smell gas in the coach")
    talk.say("go to step 8")
    assert talk.state.valves_shut is None


def test_opened_after_a_leak_without_a_test_is_warned_of(talk: Conversation):
    talk.say("I smell gas in the coach")
    talk.say("the fire service fixed the leak, they say it's safe now")
    assert "technician's leak test" in " ".join(talk.say("i opened the valves").show)


@pytest.mark.parametrize("said", ["should i shut the bottles", "can i turn off the gas first", "do we need to close the cylinder valves?"])  # fmt: skip
def test_whether_to_shut_them_in_the_danger(talk: Conversation, said: str):
    talk.say("I smell gas in the coach")
    reply = talk.say(said)

    assert any(line.startswith("If there is no hiss and it lies on your way") for line in reply.show)
    assert "Nobody goes back for it" in reply.say
    assert talk.state.valves_shut is None


def test_a_terminal_started_anew_knows_it(mind: Mind):
    session = Session(mind, Journal(IN_MEMORY))
    session.hear("i closed the cylinder valves", NOON)
    session.hear("I felt a tingle on the door handle", NOON)
    session.hear("false alarm", NOON)

    later = Session(mind, session.journal)
    take_up(later, NOON + timedelta(hours=20))
    assert later.state.valves_shut is not None
    assert later.state.tingled is not None

    later.hear("the valves are open again", NOON + timedelta(hours=20))
    last = Session(mind, session.journal)
    take_up(last, NOON + timedelta(hours=21))
    assert last.state.valves_shut is None
    assert last.state.tingled is not None


def test_a_skunk_shuts_no_valves(talk: Conversation):
    talk.say("I smell gas in the coach")
    talk.say("false alarm, it was a skunk")
    assert talk.state.valves_shut is None
