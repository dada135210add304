"""How words that the dictionary lacks are said."""

from __future__ import annotations

import pytest

from cabassist.voice.pronouncing import arpabet, pronounced, with_s

KNOWN = {"heater": "HH IY T ER", "box": "B AA K S", "pump": "P AH M P"}


@pytest.mark.parametrize(
    ("ipa", "phones"),
    [("dʒˈɛld", "JH EH L D"), ("wˈɔːkɹaʊnd", "W AO K R AW N D"), ("hˈiːɾɚz", "HH IY T ER Z"), ("tʃˈɑːks", "CH AA K S")],
)
def test_phonemes_are_written_in_arpabet(ipa: str, phones: str):
    """Outside check: the CMU dictionary's own way of writing these sounds (read off its entries for gel, walk, round, heat)."""
    assert arpabet(ipa) == phones


def test_an_unknown_sign_gives_nothing():
    assert arpabet("dʒ❄d") is None
    assert arpabet("") is None


@pytest.mark.parametrize(("phones", "ending"), [("HH IY T ER", "Z"), ("P AH M P", "S"), ("B AA K S", "IH Z")])
def test_the_ending_s_follows_the_last_sound(phones: str, ending: str):
    """Voiced, voiceless and hissing ends, from any grammar of English."""
    assert with_s(phones) == f"{phones} {ending}"


def test_possessives_come_from_the_dictionary_and_the_rest_from_espeak():
    found = pronounced(["heater's", "genset", "lpg"], KNOWN.get)

    assert found["heater's"] == "HH IY T ER Z"
    assert found["genset"] == "JH EH N S EH T"
    assert found["lpg"].startswith("EH L P IY")
