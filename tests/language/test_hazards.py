"""Signs of hazards, and what only sounds like one."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist.language.hazards import HazardScreen
from cabassist.procedures import yamlfile


@pytest.fixture(scope="module")
def screen(knowledge_folder: Path) -> HazardScreen:
    signs = yamlfile.load(knowledge_folder / "hazard-signs.yaml").data
    return HazardScreen(signs["signs"], signs["words"])


@pytest.mark.parametrize(
    ("text", "topic"),
    [
        ("it smells like rotten eggs by the bunks", "propane-smell"),
        ("I can hear propane hissing at the regulator", "propane-smell"),
        ("the CO alarm went off", "carbon-monoxide-alarm"),
        ("everyone in the back has a headache", "carbon-monoxide-alarm"),
        ("there's smoke coming from the panel", "smoke-or-fire"),
        ("the left brake is smoking", "smoke-or-fire"),
        ("he got a zap off the bay door", "shock-from-coach-body"),
        ("the coach tingles when I touch it", "shock-from-coach-body"),
        ("sewage spilled on the pavement", "clean-up-waste-spill"),
        ("black water all over my boots", "clean-up-waste-spill"),
    ],
)
def test_a_report_is_found(screen: HazardScreen, text: str, topic: str):
    """By its signs alone, without the matcher."""
    assert screen.find(text) == topic


@pytest.mark.parametrize(
    "text",
    [
        "how do I test the CO alarm",
        "the smoke detector chirps, which battery does it take",
        "where is the fire extinguisher",
        "who is our co driver tonight",
        "the rear shock absorbers are worn",
        "how do I avoid spilling waste on my boots",
        "how do I do the soap test for a leak",
        "is there a gas station that smells less",
        "firing up the furnace for the night",
        "I don't smell any propane",
    ],
)
def test_a_harmless_word_raises_no_alarm(screen: HazardScreen, text: str):
    """Words alone are no hazard."""
    assert screen.find(text) is None
