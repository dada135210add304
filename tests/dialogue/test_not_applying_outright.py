"""A step that begins with "If" is passed when its case is said not to be so, in whatever short words. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation

GELLED = "deal with gelled diesel in deep cold"


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


@pytest.mark.parametrize(
    ("title", "step", "words"),
    [
        (GELLED, 1, "not applicable, we're standing already"),
        (GELLED, 7, "that doesn't apply, it's cloudy"),
        (GELLED, 9, "we can't, there isn't one"),
        (GELLED, 9, "no heated building around, now what"),
        (GELLED, 9, "there's none here"),
        ("fill the fresh water tank", 17, "none, all dry inside"),
    ],
)
def test_the_step_is_passed(talk: Conversation, title: str, step: int, words: str):
    talk.say(title)
    talk.say(f"go to step {step}")
    reply = talk.say(words)

    assert reply.show[0].startswith(f"Step {step} does not apply.")
    assert reply.step is not None
    assert reply.step.index == step + 1
    assert talk.events[-2].payload["when"] == "does not apply"


@pytest.mark.parametrize(
    ("title", "step", "words"),
    [
        ("test the air brakes", 3, "doesn't apply"),
        (GELLED, 8, "there's none"),
        ("the house battery is low", 14, "there's none"),
    ],
)
def test_other_steps_have_no_case(talk: Conversation, title: str, step: int, words: str):
    talk.say(title)
    talk.say(f"go to step {step}")
    reply = talk.say(words)

    assert "does not apply" not in reply.say
