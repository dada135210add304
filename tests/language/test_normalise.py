"""Cleaning what comes in."""

from __future__ import annotations

import pytest

from cabassist.language.normalise import bare, clean, has_words, plain, spelled_out


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("  two\twords\n", "two words"),
        ("a\x00b\x1b[31mc", "a b c"),
        ("left\u202eright\u200b", "leftright"),
        ("soft\u2028line", "soft line"),
    ],
)
def test_control_and_format_characters_go(text: str, expected: str):
    """Nothing that a terminal would obey is left."""
    assert clean(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("It's -12.5°!", "it's -12.5"),
        ("bay-3, left", "bay 3 left"),
        ("40% full?", "40% full"),
        ("Don’t!", "don't"),
    ],
)
def test_plain_keeps_what_numbers_need(text: str, expected: str):
    """Points in numbers and percent signs stay, punctuation goes."""
    assert plain(text) == expected


def test_bare_leaves_the_fillers_out():
    """What is meant stays."""
    assert bare("Okay, um, so next please") == "next"
    assert bare("please") == "please"


@pytest.mark.parametrize(
    ("text", "expected"), [("", False), ("?!", False), ("🚿", False), ("a", True), ("7", True), ("水", True)]
)
def test_words_are_letters_or_figures_of_any_script(text: str, expected: bool):
    """An emoji alone says nothing."""
    assert has_words(text) is expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("she's runnin' fine", "she's running fine"),
        ("Keep 'em outta the bay", "Keep them out of the bay"),
        ("the bin's 'in' the bay", "the bin's 'in' the bay"),
    ],
)
def test_what_is_dropped_in_talk_is_written_out(text: str, expected: str):
    assert spelled_out(text) == expected
