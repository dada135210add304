"""Commands made of small words only, with a reason beside them, and reports that only sound like them.

All wordings are our own; what each must do is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist.language.normalise import plain
from cabassist.language.steering import Steering
from cabassist.language.steering_words import beyond, by_words
from cabassist.procedures import yamlfile


@pytest.fixture(scope="module")
def steering(knowledge_folder: Path) -> Steering:
    return Steering(yamlfile.load(knowledge_folder / "steering.yaml").data)


@pytest.mark.parametrize(
    ("text", "verb"),
    [
        ("righto, done and dusted", "next"),
        ("no worries, what else", "next"),
        ("ready when you are", "next"),
        ("yep crack on", "next"),
        ("whoa, I missed one, take it back one", "back"),
        ("wait, what was I supposed to do", "repeat"),
        ("remind me what I'm meant to be doing", "repeat"),
        ("so what's first", "repeat"),
        ("what's the one after this going to be", "peek"),
        ("from step one again please", "start-over"),
        ("ok I've had enough, end it there", "stop"),
        ("I don't need this any more", "stop"),
        ("stop walking me through this", "stop"),
        ("no point in that one, leave it out", "skip"),
        ("hold that thought", "pause"),
        ("I'm not done yet", "pause"),
        ("don't go on yet", "pause"),
        ("right, back with you", "resume"),
        ("is that it or is there more", "how-many"),
        ("what's this one for", "why"),
        ("where does it say that", "source"),
        ("what else do we need", "needs"),
    ],
)
def test_small_words_alone_are_a_command(steering: Steering, text: str, verb: str):
    found = steering.find(text)

    assert found is not None
    assert found.verb == verb


@pytest.mark.parametrize(
    ("text", "number"), [("let's go on to step nine", 9), ("skip two step six", 6), ("to number 4", 4)]
)
def test_a_step_is_named_by_its_number(steering: Steering, text: str, number: int):
    found = steering.find(text)

    assert found is not None
    assert (found.verb, found.number) == ("jump", number)


def test_several_steps_back(steering: Steering):
    found = steering.find("can we go back two")

    assert found is not None
    assert (found.verb, found.number) == ("back", 2)


@pytest.mark.parametrize(
    "text",
    [
        "it won't stop",
        "it did it again",
        "it keeps going",
        "should I go on",
        "how do I start it",
        "he said go back one",
        "leave it in",
        "start it again",
        "what was the reading again",
        "remind me in ten minutes to come back to this",
        "is that enough",
        "somebody did that already",
        "next week we are in Fargo",
    ],
)
def test_reports_and_questions_in_small_words_are_none(text: str):
    """They are looked at as what they are; no walk moves."""
    assert by_words(plain(text)) is None


@pytest.mark.parametrize(
    ("text", "verb"),
    [
        ("go back one, I was talking to the coach", "back"),
        ("I'm beat, let's call it a night", "stop"),
        ("sorry, the door slammed, say that again", "repeat"),
        ("my boss is on the other line, give me five minutes", "pause"),
    ],
)
def test_a_command_may_have_a_reason_beside_it(steering: Steering, text: str, verb: str):
    found = steering.find(text)

    assert found is not None
    assert found.verb == verb


@pytest.mark.parametrize(
    "text",
    [
        "hang on, the hose popped off",
        "hold on, waste is at fifty",
        "wait, show me how to set the triangles first",
        "the pump won't stop, say that again",
        "wait for two minutes then open it",
        "did the dealer say stop here",
        "scratch that, 45",
    ],
)
def test_trouble_amounts_and_requests_after_a_command_are_not_lost(steering: Steering, text: str):
    """A pause or a repeat must not swallow them; "wait for two minutes" may hold the walk but not move it."""
    found = steering.find(text)

    assert found is None or (found.verb == "pause" and "two minutes" in text)


def test_what_names_things_is_left_over():
    assert beyond("why do we have to open the tap first") == "open tap"
