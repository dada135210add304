"""What a sentence says beside the words that would be a command, a pick or a plain "why" alone."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize("text", ["go back to the waste thing", "no wait go back to the waste thing"])
@pytest.mark.parametrize("before", [(), ("start the dump procedure",)])
def test_a_danger_that_only_a_wish_hints_at_is_put_as_a_question(mind: Mind, before: tuple[str, ...], text: str):
    talk = Conversation(mind)
    for said in before:
        talk.say(said)
    assert talk.say(text).kind in ("clarify", "step", "procedure", "control", "unknown")


@pytest.mark.parametrize("text", ["a front tire blew out and we are on the verge, now what", "a blowout by the guard rail, trucks flying past, what now"])  # fmt: skip
@pytest.mark.parametrize("before", [(), ("start the dump procedure",)])
def test_trouble_is_not_lost_before_now_what(mind: Mind, before: tuple[str, ...], text: str):
    talk = Conversation(mind)
    for said in before:
        talk.say(said)
    assert talk.say(text).topic in ("change-a-tire", "set-warning-triangles")


def test_done_and_now_what_goes_on(mind: Mind):
    talk = Conversation(mind)
    talk.say("start the dump procedure")
    reply = talk.say("gloves are on, now what")
    assert reply.step is not None
    assert reply.step.index == 2


def test_a_long_sentence_picks_none_of_the_nearest_topics(mind: Mind):
    talk = Conversation(mind)
    assert talk.say("who won the cup in nineteen eighty").kind == "unknown"
    assert talk.say("the roof of the house next door is white already").kind != "procedure"


@pytest.mark.parametrize(
    ("text", "what"),
    [("why fresh", " - 0 = "), ("why is the waste that soon", "to go: 72 - "), ("why the fresh water", " - 0 = ")],
)
def test_why_is_about_the_supply_that_is_named(mind: Mind, text: str, what: str):
    talk = Conversation(mind)
    talk.say("fresh at half")
    talk.say("waste at 60 percent")
    assert what in talk.say(text).say
