"""Levels told of a grey and a black tank, on a coach with one waste tank and on one with both."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist import places
from cabassist.dialogue.session import load_mind
from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Mind:
    """A coach with a tank for the grey water beside the waste tank."""
    demo = places.demo_coach().read_text()
    start, end = demo.index("  - name: waste"), demo.index("    heat_tape:")
    waste, rest = demo[start:end], demo[demo.index("toilet:") :]
    two = waste + waste.replace("name: waste", "name: grey")
    folder: Path = tmp_path_factory.mktemp("both")
    profile = folder / "coach.yaml"
    profile.write_text(demo[:start] + two + rest)
    return load_mind(profile, cache=folder)


@pytest.mark.parametrize(
    "said",
    [
        "gray two thirds, black one third",
        "black tank at 20 percent and the grey at 70 percent",
        "a third in the black, two thirds in the grey",
        "sewage 30 percent, grey water 55 percent",
        "waste is half, black is a quarter",
    ],
)
def test_two_levels_of_one_tank_are_asked_about(mind: Mind, said: str):
    talk = Conversation(mind)
    reply = talk.say(said)
    assert (reply.kind, reply.options) == ("clarify", ("check-waste-level",))
    assert not talk.state.stored
    (reading,) = talk.say("45 percent").readings
    assert (reading.what, reading.value) == ("waste", 45)


def test_what_is_told_beside_is_stored(mind: Mind):
    talk = Conversation(mind)
    reply = talk.say("fresh full, black a quarter, grey three quarters")
    assert reply.kind == "clarify"
    assert [one.reading.what for one in talk.state.stored] == ["fresh"]


def test_the_second_tank_right_after_the_first(mind: Mind):
    talk = Conversation(mind)
    talk.say("the black is at 20 percent")
    assert talk.say("the grey is at 65 percent").kind == "clarify"
    assert [one.reading.value for one in talk.state.stored] == [20]


def test_the_same_level_is_one(mind: Mind):
    (reading,) = Conversation(mind).say("black half, grey half").readings
    assert (reading.what, reading.value) == ("waste", 0.5)


@pytest.mark.parametrize("said", ["gray two thirds, black one third", "a third in the black, two thirds in the grey"])
def test_a_coach_with_both_keeps_both(both: Mind, said: str):
    talk = Conversation(both)
    levels = {one.what: round(one.value or 0.0, 2) for one in talk.say(said).readings}
    assert levels == {"grey": 0.67, "waste": 0.33}
