"""Commands are found when they are commands, and only then."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist.language.steering import Steer, Steering
from cabassist.procedures import yamlfile


@pytest.fixture(scope="module")
def steering(knowledge_folder: Path) -> Steering:
    return Steering(yamlfile.load(knowledge_folder / "steering.yaml").data)


@pytest.mark.parametrize(
    ("text", "verb"),
    [
        ("Next.", "next"),
        ("okay, done", "next"),
        ("go back please", "back"),
        ("say that again", "repeat"),
        ("what do I do now?", "repeat"),
        ("why?", "why"),
        ("why do I have to crack the cap", "why"),
        ("how many steps are left", "how-many"),
        ("skip this one", "skip"),
        ("never mind", "stop"),
        ("hold on, the coach is calling me over", "pause"),
        ("I'm back", "resume"),
        ("start from the top", "start-over"),
        ("scratch that", "undo"),
        ("how do I know it's done", "done-when"),
        ("I can't see it", "cannot-see"),
        ("says who", "source"),
        # what recognisers make of them
        ("necks", "next"),
        ("go bach", "back"),
        ("re peat that", "repeat"),
        ("paws for a sec", "pause"),
        ("re zoom", "resume"),
    ],
)
def test_a_command_is_found(steering: Steering, text: str, verb: str):
    """However it is worded, spelt or misheard."""
    found = steering.find(text)

    assert found is not None
    assert found.verb == verb


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("the second one", Steer("choose", 2)),
        ("number three please", Steer("choose", 3)),
        ("2", Steer("choose", 2)),
        ("go to step seven", Steer("jump", 7)),
        ("step 12", Steer("jump", 12)),
    ],
)
def test_a_number_goes_with_its_command(steering: Steering, text: str, expected: Steer):
    """Words and figures alike."""
    assert steering.find(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "what do I do next to the outlet if it is wet",
        "waste is empty now",
        "the pump won't stop running",
        "how do I back up at night",
        "the next driver needs to know about the lamp",
        "fresh is at forty percent",
        "can I skip the leak test on the propane",
        "how do I pause the furnace overnight",
    ],
)
def test_a_sentence_with_such_a_word_in_it_is_no_command(steering: Steering, text: str):
    """Questions are left to the matcher."""
    assert steering.find(text) is None
