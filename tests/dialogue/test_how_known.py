"""Asked in any words how a number or a rule is known: the working, what is guessed, the source; nothing is stored and no walk moves."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

_DUTY = "three driven, eight on duty, how long can I drive"
_CORD = "what do I lose on a sixty foot twelve gauge cord at ten amps"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    "said",
    [
        "how d'ya get that",
        "how do you figure",
        "how'd you get seven",
        "where's that number out of",
        "what's behind that number",
        "run me through how you got there",
        "walk me through that",
        "how on earth do you come up with that",
        "let's see the math",
    ],
)
def test_the_working_is_told_in_any_words(talk: Conversation, said: str):
    talk.say(_DUTY)
    reply = talk.say(said)
    assert reply.kind == "control"
    assert any("15 - 8 = 7" in line for line in reply.show) or "49 CFR 395.5" in reply.say
    assert not talk.state.walks


@pytest.mark.parametrize(
    "said",
    [
        "which of those numbers are guesses",
        "what did you assume",
        "how much of that is guesswork",
        "did you make any of that up",
        "any guesses in there",
        "what's guessed in that",
        "which bits are you guessing at",
        "what are the assumptions behind that",
    ],
)
def test_what_is_guessed_is_told(talk: Conversation, said: str):
    talk.say("how long does sixty gallons of fresh last thirty people at two gallons each a day")
    reply = talk.say(said)
    assert reply.kind == "control"
    assert "Assumed" in reply.say
    assert any("From you" in line for line in reply.show)


@pytest.mark.parametrize(
    "said",
    [
        "where are those wire numbers out of",
        "where'd the ohms come from",
        "what table is that",
        "what book's that out of",
        "which table are you using",
        "who came up with those figures",
        "whose numbers are these",
        "according to who",
    ],
)
def test_the_source_of_a_number_is_told(talk: Conversation, said: str):
    talk.say(_CORD)
    reply = talk.say(said)
    assert reply.kind == "control"
    assert "NEC" in reply.say
    assert not talk.state.walks


@pytest.mark.parametrize("said", ["who says ten hours", "where'd you get fifteen from", "where's the ten from"])
def test_a_figure_that_is_quoted_changes_no_sum(talk: Conversation, said: str):
    talk.say(_DUTY)
    before = talk.state.worked
    assert "395.5" in talk.say(said).say
    assert talk.state.worked is before


@pytest.mark.parametrize(
    "said",
    [
        "who says it's got to be like that",
        "who says we have to",
        "where'd you get eighty percent from",
        "eighty percent says who",
        "on whose say so",
        "is there a rule for that",
        "what book's that out of",
    ],
)
def test_at_a_step_the_sources_of_the_walk_are_told(talk: Conversation, said: str):
    talk.say("taking a bottle in to get filled")
    reply = talk.say(said)
    assert reply.kind == "control"
    assert "1910.110" in reply.say
    assert talk.state.walk is not None
    assert talk.state.walk.at == 0
    assert not talk.state.stored


@pytest.mark.parametrize(
    "said", ["where's the water coming from", "where's that smell coming from", "where's the drip coming from"]
)
def test_where_a_thing_comes_from_is_no_question_about_an_answer(talk: Conversation, said: str):
    talk.say("taking a bottle in to get filled")
    assert "1910.110" not in talk.say(said).say
