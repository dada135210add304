"""Measures of plain wording, held against published figures."""

from __future__ import annotations

import pytest

from cabassist.procedures.wording import reading_ease, sentences, speech_seconds, syllables, words


def test_reading_ease_of_the_published_sentence():
    """Six short words in one sentence score 116.145.

    Flesch reading ease as printed by the VA HSR&D page on readability, 206.835 - 1.015 words/sentence - 84.6
    syllables/word; the check value stands in references.md, section 10, test case 3. By hand: 206.835 - 6.09 - 84.6.
    A scale that counts letters or characters instead of syllables gives something else.
    """
    assert reading_ease("The cat sat on the mat.") == pytest.approx(116.145, abs=0.01)


def test_reading_ease_of_a_hundred_words_in_five_sentences():
    """100 words, 5 sentences and 150 syllables score 59.635 (same source, same test case).

    By hand: 206.835 - 1.015 x 20 - 84.6 x 1.5. Half of the words have one syllable, half have two.
    """
    text = " ".join(["Water " + "cat water " * 9 + "cat."] * 5)

    assert (len(words(text)), len(sentences(text))) == (100, 5)
    assert reading_ease(text) == pytest.approx(59.635, abs=0.01)


def test_longer_words_and_longer_sentences_are_harder():
    """The law of the measure: more syllables a word or more words a sentence never read easier."""
    assert reading_ease("Close the valve.") > reading_ease("Investigate the regulator immediately.")
    assert reading_ease("Close it. Wait.") > reading_ease("Close it wait.")


@pytest.mark.parametrize("text", ["", "   ", "...", "–"])
def test_a_text_without_words_has_no_reading_ease(text: str):
    """Nothing to measure is an error, not a figure."""
    with pytest.raises(ValueError, match="without words"):
        reading_ease(text)


# Counted by saying them, as an American dictionary divides them.
@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("valve", 1),
        ("hose", 1),
        ("pulled", 1),
        ("latch", 1),
        ("needed", 2),
        ("bottle", 2),
        ("propane", 2),
        ("furnace", 2),
        ("tighten", 2),
        ("cylinder", 3),
        ("overflow", 3),
        ("battery", 3),
        ("regulator", 4),
        ("thermostat", 3),
        ("12", 1),
    ],
)
def test_syllables_of_the_trade(word: str, count: int):
    """Common words of the procedures are counted as they are said."""
    assert syllables(word) == count


def test_a_hyphenated_word_counts_once():
    """As ASD-STE100 counts it; a figure and a contraction are one word each."""
    assert words("Don't over-tighten the 2.5-inch low-profile jack.") == [
        "Don't",
        "over-tighten",
        "the",
        "2.5-inch",
        "low-profile",
        "jack.",
    ]


def test_a_decimal_point_does_not_end_a_sentence():
    """Sentences end at a full stop, a question mark or an exclamation mark with space after it."""
    assert sentences("Wait 2.5 minutes. Is it lit? Go!  Then stop") == ["Wait 2.5 minutes.", "Is it lit?", "Go!", "Then stop"]  # fmt: skip
    assert sentences("") == []


@pytest.mark.parametrize(("count", "seconds"), [(0, 0.0), (1, 0.4), (20, 8.0), (150, 60.0)])
def test_speech_takes_a_minute_for_150_words(count: int, seconds: float):
    """The stated rate: 20 words are 8 seconds."""
    assert speech_seconds("word " * count) == pytest.approx(seconds)
