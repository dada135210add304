"""Words in pieces put together, and the commands of one word that a slip leaves recognisable."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from cabassist.language.gluing import glued
from tests.dialogue.conversation import Conversation


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("dis connect the power cord", "disconnect the power cord"),
        ("dis con nect it", "disconnect it"),
        ("this connect the cord", "disconnect the cord"),
        ("un connect the cord", "disconnect the cord"),
        ("conn nect the cord", "connect the cord"),
        ("pre pair the bus", "prepare the bus"),
        ("re-start the genny", "re-start the genny"),
        ("Re fill, please", "refill, please"),
        ("gen orator noise", "generator noise"),
        ("un plugging it now", "unplugging it now"),
        ("hand over the coach, pull out and set up", "hand over the coach, pull out and set up"),
        ("put it in stall four", "put it in stall four"),
        ("can we re- check the nuts", "can we recheck the nuts"),
    ],
)
def test_only_known_words_are_put_together(said: str, meant: str):
    assert glued(said) == meant


@pytest.mark.parametrize(
    ("said", "topic"),
    [
        ("dis connect us from the building", "disconnect-shore-power"),
        ("un hook the power cord", "disconnect-shore-power"),
        ("conn nect us to the building's power", "connect-shore-power"),
        ("pre pair to leave", "prepare-to-depart"),
        ("win ter ize the water lines", "winterize-water"),
    ],
)
def test_what_is_in_pieces_opens_what_is_meant(mind: Mind, said: str, topic: str):
    assert Conversation(mind).say(said).topic == topic


@pytest.mark.parametrize(
    ("slip", "verb"),
    [("bakc", "back"), ("nexed", "next"), ("repaet", "repeat"), ("skpi", "skip"), ("pasue", "pause"), ("cancle", "stop"), ("undoo", "undo")],
)  # fmt: skip
def test_a_slip_is_still_the_command(mind: Mind, slip: str, verb: str):
    steer = mind.steering.find(slip)
    assert steer is not None
    assert steer.verb == verb


@pytest.mark.parametrize("word", ["spot", "bucket", "neat", "tops", "cause", "beck-and-call", "skirt", "packs"])
def test_other_words_are_none(mind: Mind, word: str):
    steer = mind.steering.find(word)
    assert steer is None or steer.verb not in ("next", "stop", "skip", "undo", "pause")
