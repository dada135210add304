"""Words pulled towards the domain, and those that must stay."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist.voice.repair import Repairer

DICTIONARY = {
    "diesel": "D IY Z AH L", "die": "D AY", "sell": "S EH L", "propane": "P R OW P EY N", "pro": "P R OW", "pain": "P EY N",
    "gelled": "JH EH L D", "valve": "V AE L V", "vowel": "V AW AH L", "valves": "V AE L V Z", "waste": "W EY S T", "furnace": "F ER N AH S",
    "furnish": "F ER N IH SH", "the": "DH AH", "is": "IH Z", "at": "AE T", "tank": "T AE NG K", "banana": "B AH N AE N AH",
    "fifty": "F IH F T IY", "fifteen": "F IH F T IY N", "nifty": "N IH F T IY", "no": "N OW", "know": "N OW", "generator": "JH EH N ER EY T ER",
    "general": "JH EH N ER AH L",
}  # fmt: skip
DOMAIN = [
    "diesel",
    "propane",
    "gelled",
    "valve",
    "waste",
    "furnace",
    "the",
    "is",
    "at",
    "tank",
    "fifty",
    "fifteen",
    "no",
    "generator",
]


@pytest.fixture
def repairer() -> Repairer:
    return Repairer(DOMAIN, DICTIONARY)


@pytest.mark.parametrize(
    ("heard", "meant"),
    [
        ("the pro pain tank", "the propane tank"),
        ("the valves is gelld", "the valve is gelled"),
        ("furnish", "furnace"),
        ("waste is at fifty", "waste is at fifty"),
        ("", ""),
    ],
)
def test_what_sounds_like_a_word_of_the_domain_becomes_it(repairer: Repairer, heard: str, meant: str):
    """The original is kept beside it."""
    found = repairer.repair(heard)

    assert found.text == meant
    assert found.original == heard
    assert found.changed == (heard != meant)


def test_words_that_only_the_recogniser_knows_are_looked_up_in_its_file(tmp_path: Path):
    """By the whole word, with its first pronunciation; the last line too."""
    own, wide = tmp_path / "own.dict", tmp_path / "wide.dict"
    own.write_text("furnace F ER N AH S\ntank T AE NG K\n", encoding="utf-8")
    wide.write_text("furn F ER N\nfurnish F ER N IH SH\nfurnish(2) F\ntan T AE N\ntanque T AE NG K", encoding="utf-8")
    repairer = Repairer.from_files(own, wide)

    assert repairer.repair("furnish tanque").text == "furnace tank"
    assert repairer.repair("furn").text == "furn"


@pytest.mark.parametrize("text", ["banana", "nifty", "know", "general", "xqzzy"])
def test_no_number_no_denial_and_nothing_far_away_is_made(repairer: Repairer, text: str):
    """ "nifty" must not become "fifty", nor "know" "no"."""
    assert repairer.repair(f"waste is at {text}").text == f"waste is at {text}"
