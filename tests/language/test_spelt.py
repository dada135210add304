"""Numbers as thumbs spell them."""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.language.numbers import NUMBER_WORDS, parse_number, words_of
from cabassist.language.spelt import SLIPS, apart, with_parts
from tests.language.test_readings import hear, table, told

TOLD = table("""
waste ahlf => waste 0.5 fraction
inside bottle is at a hallf => propane/inside 0.5 fraction
fresh thre fifths => fresh 0.6 fraction
diesel an eigth => diesel 0.125 fraction
def sevn tenths => def 0.7 fraction
waste a thrid full => waste 0.3333 fraction
fresh thirtyfive prcnt => fresh 35 percent
def eightypercent => def 80 percent
waste threefourths => waste 0.75 fraction
diesel halffull => diesel 0.5 fraction
fresh twentygallons => fresh 20 gal
outside 5 8ths => propane/outside 0.625 fraction
wastequarter => waste 0.25 fraction
dieseltank empty => diesel 0 fraction
shorepower 121 => shore_voltage 121 V
outside temp minuseight => outside_temp -8 F
fresh lkjf eighths =>
waste is a thxqd full =>
""")


@pytest.mark.parametrize(("said", "expected"), TOLD)
def test_a_slip_is_read_as_it_was_meant(said: str, expected: list[str], coach: Coach) -> None:
    """A part that has lost its number, or a word nobody knows in place of a part, is no level."""
    assert told(hear(said, coach)) == expected


@pytest.mark.parametrize(("said", "value"), [("ninetyeight", 98), ("twohundred", 200), ("threequarters", 0.75), ("twelvepointfour", 12.4)])  # fmt: skip
def test_a_number_in_one_word(said: str, value: float) -> None:
    assert parse_number(said) == pytest.approx(value)


@pytest.mark.parametrize("word", ["sixteenth", "eighteen", "fullness", "often", "someone", "tankful", "attention", "thirsty", "minus", "percent"])  # fmt: skip
def test_a_whole_word_stays_whole(word: str) -> None:
    assert apart(word) == ()


def test_every_slip_means_a_number() -> None:
    assert all(set(meant) & (NUMBER_WORDS | {"percent"}) for meant in SLIPS.values())
    assert not set(SLIPS) & {(word,) for word in NUMBER_WORDS}


def test_parts_keep_their_place() -> None:
    text = "waste 7 8ths, fresh ninetyfive"
    assert len(with_parts(text)) == len(text)
    assert [text[word.start : word.end] for word in words_of(text)][-2:] == ["ninety", "five"]
