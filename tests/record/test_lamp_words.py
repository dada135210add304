"""Lamps that are told to be dead, and what only sounds like one. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.record.lamp_words import is_dead_lamp


@pytest.mark.parametrize(
    "said",
    ["side marker light is out on the right", "left tail lamp's dead", "one of the clearance lights isn't working", "right turn signal quit", "reading light over bunk 3 went out", "the dome light by the galley flickers", "got a dead brake light on the left", "two markers on the roof are burned out", "backup light won't come on", "license plate light is out"],
)  # fmt: skip
def test_a_lamp_that_is_dead(said: str):
    assert is_dead_lamp(said)


@pytest.mark.parametrize(
    "said",
    ["all the lights are out", "lights are out", "the light is out", "the pilot light is out", "heat tape light is dark", "the bay light is out", "scene lights are out", "is the left tail light out", "the tail lights were out last night", "check engine light is on", "I turned the reading light out", "marker lights are on"],
)  # fmt: skip
def test_what_is_no_dead_lamp(said: str):
    assert not is_dead_lamp(said)
