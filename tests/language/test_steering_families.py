"""Commands in a driver's own words: families of phrasing, and sentences that only look like them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cabassist.language import steering_families
from cabassist.language.steering import Steering
from cabassist.procedures import yamlfile


@pytest.fixture(scope="module")
def steering(knowledge_folder: Path) -> Steering:
    return Steering(yamlfile.load(knowledge_folder / "steering.yaml").data)


@pytest.mark.parametrize(
    ("text", "verb"),
    [
        ("yep all of that's been taken care of", "next"),
        ("we're finished with that part, what's after that", "next"),
        ("the cord is laid out, now what", "next"),
        ("I turned the valve, on to the next one", "next"),
        ("right, moving along", "next"),
        ("alright, hit me with the next step", "next"),
        ("hold up, run that by me one more time", "repeat"),
        ("sorry, I lost my place", "repeat"),
        ("what did you just say", "repeat"),
        ("once more, slower please", "repeat"),
        ("let's go back a step", "back"),
        ("what was the one before this", "back"),
        ("can we take it from the top", "start-over"),
        ("send me back to the beginning", "start-over"),
        ("let's call it good", "stop"),
        ("that's enough for tonight, close it out", "stop"),
        ("quit this, I'm going to bed", "stop"),
        ("ok we're back at it", "resume"),
        ("how many of these do I have left", "how-many"),
        ("how far along are we", "how-many"),
        ("how did you come up with that number", "why"),
        ("walk me through the math", "why"),
        ("what does that mean", "why"),
        ("kill that timer", "cancel-timer"),
        ("never mind the reminder", "cancel-timer"),
        ("what's still running", "timers"),
        ("what have you got written down", "readings"),
    ],
)
def test_a_command_is_found_in_own_words(steering: Steering, text: str, verb: str):
    """None of these stands in the list of wordings."""
    found = steering.find(text)

    assert found is not None
    assert found.verb == verb


@pytest.mark.parametrize(
    "text",
    [
        "the valve broke off in my hand, what now",  # trouble, however the sentence ends
        "it won't turn any further, what's next",
        "smells funny in there, go on",
        "the pump is on and water is running out, what do I do now",
        "waste is at forty, next",  # a reading must be kept
        "I turned the lever, waste at 60, what's next",
        "somebody did that already",  # a skip with its reason, which the walk takes
        "stop the leak under the sink",
        "close the dump valve",
        "is that all of the luggage",
        "what was the torque again",
        "how many gallons do we have left",
        "how many people are there to go",
        "where did that water come from",
        "turn off the carbon monoxide alarm",
        "start the generator",
        "we're done with the propane for the season",
        "the lights are on",
        "start from the rear axle",
        "go back to the hotel",
    ],
)
def test_a_sentence_that_only_looks_like_a_command_is_none(steering: Steering, text: str):
    """It goes on to be looked at as a report or a question."""
    assert steering.find(text) is None


def test_every_pattern_is_sound():
    """They are compiled when first used; a wrong one must not wait until then."""
    from cabassist.language.lazy import Lazy

    found = [value for value in vars(steering_families).values() if isinstance(value, Lazy)]
    found += [pattern for _, _, pattern in steering_families._WHOLE]
    for pattern in found:
        pattern.check()

    assert len(found) > 10


@settings(max_examples=400, deadline=None)
@given(data=st.data())
def test_whatever_a_family_takes_holds_one_of_its_cues(data: st.DataObject):
    """Else a command would be passed over because its pattern was never tried."""
    verb, cues, pattern = data.draw(st.sampled_from(steering_families._WHOLE))
    form = data.draw(st.from_regex(re.compile(pattern.pattern, re.ASCII), fullmatch=True)).rstrip("\n")

    assert any(cue in f" {form} " for cue in cues), (verb, form)


@settings(max_examples=200, deadline=None)
@given(form=st.from_regex(re.compile(steering_families._REPORT.pattern, re.ASCII), fullmatch=True))
def test_whatever_reports_a_step_as_done_holds_a_cue(form: str):
    assert any(cue in f" {form.strip()} " for cue in steering_families._NEXT_CUES), form
