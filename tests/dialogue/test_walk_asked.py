"""What is asked at a step is worked out, read from the walk, or said not to be known; the step stays. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("title", "step", "words", "line"),
    [
        ("test the air brakes", 4, "what pressure does it climb to?", "That is where the governor cuts out, near 125 psi."),
        ("load the luggage", 4, "and the heaviest ones, where do those go?", "Step 6 says: Load the heaviest bags first"),
        ("start the engine after a night of deep cold", 6, "how long must the block heater be plugged in at minus 8?", "Step 2 says: Check that the block heater"),
        ("turn the outside scene lights on or off", 1, "but I want them on", "Step 2 says: If you want light outside"),
    ],
)  # fmt: skip
def test_a_line_of_the_walk_answers(talk: Conversation, title: str, step: int, words: str, line: str):
    talk.say(title)
    if step > 1:
        talk.say(f"go to step {step}")
    before = talk.state.walks
    reply = talk.say(words)

    assert reply.show[0].startswith(line)
    assert reply.show[-1].startswith(f"Still at step {step} of")
    assert talk.state.walks == before


@pytest.mark.parametrize(
    ("title", "step", "words", "number"),
    [
        ("the building's breaker trips again and again", 7, "15 amps, what can I run on that?", "12 amps for hours"),
        ("connect shore power", 15, "can the coffee maker and the microwave run together?", "20.83 amps of 24"),
        ("connect shore power", 15, "can we run the microwave and the coffee maker at the same time?", "20.83 amps of 24"),
    ],
)  # fmt: skip
def test_a_number_is_worked_out(talk: Conversation, title: str, step: int, words: str, number: str):
    talk.say(title)
    talk.say(f"go to step {step}")
    before = talk.state.walks
    reply = talk.say(words)

    assert reply.kind == "calculation"
    assert number in " ".join(reply.show)
    assert talk.state.walks == before
    assert f"step {step} of" in reply.show[-1]


def test_a_load_that_is_not_known_is_not_left_out_of_a_sum(talk: Conversation):
    talk.say("connect shore power")
    talk.say("go to step 15")
    reply = talk.say("can I run the microwave and a hair dryer at once?")

    assert reply.kind != "calculation"


def test_what_is_not_known_is_said_to_be_so(talk: Conversation):
    talk.say("take out, fill and refit a propane cylinder")
    talk.say("go to step 4")
    reply = talk.say("how cold can it be to do this?")

    assert reply.kind == "unknown"
    assert reply.show[0] == "I have no answer to that."
    assert reply.show[-1].startswith("Still at step 4 of 29")
