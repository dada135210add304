"""Numbers as drivers say and type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.language.numbers import as_decimal, find_numbers, parse_number, pieces, words_of

ONES = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()
TENS = "zero ten twenty thirty forty fifty sixty seventy eighty ninety".split()


def spelled(number: int) -> str:
    """A whole number below a million in plain English words: the slow twin of the parser."""
    if number < 20:
        return ONES[number]
    if number < 100:
        return TENS[number // 10] + (f" {ONES[number % 10]}" if number % 10 else "")
    if number < 1000:
        return f"{ONES[number // 100]} hundred" + (f" and {spelled(number % 100)}" if number % 100 else "")
    rest = number % 1000
    joint = " and " if 0 < rest < 100 else " "
    return f"{spelled(number // 1000)} thousand" + (joint + spelled(rest) if rest else "")


@given(st.integers(0, 999_999))
def test_every_whole_number_is_read_as_it_is_spelled(number: int) -> None:
    """Words and figures of the same number have the same value."""
    assert parse_number(spelled(number)) == number
    assert parse_number(f"{number:,}") == number


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("one oh seven", 107),
        ("one nineteen", 119),
        ("one twenty four", 124),
        ("two oh oh", 200),
        ("nineteen forty two", 1942),
        ("two seven one oh four nine", 271049),
        ("a hundred and sixty", 160),
        ("hundred", 100),
        ("twelve hundred", 1200),
        ("four hundred and ten thousand and six", 410006),
        ("two fifty thousand", 250000),
        ("290k", 290000),
        ("1.5 million", 1_500_000),
        ("half a million", 500_000),
        ("two dozen", 24),
        ("half a dozen", 6),
        ("271 049", 271049),
        ("thirteen point four", 13.4),
        ("twelve point oh five", 12.05),
        ("point six", 0.6),
        ("13,4", 13.4),
        ("four sevenths", 4 / 7),
        ("a sixth", 1 / 6),
        ("half", 0.5),
        ("three quarter's", 0.75),
        ("nine tenths", 0.9),
        ("2/5", 0.4),
        ("⅝", 0.625),
        ("11½", 11.5),
        ("6-3/4", 6.75),
        ("nine and a half", 9.5),
        ("seven and five eighths", 7.625),
        ("ten three quarter", 10.75),
        ("minus seventeen", -17),
        ("nineteen below", -19),
        ("-3.5", -3.5),
        # What recognisers make of numbers.
        ("six tea five", 65),
        ("for teen", 14),
        ("to thirds", 2 / 3),
        ("five ates", 5 / 8),
        ("three corners", 0.75),
        ("too hundred", 200),
        ("thirty-eight", 38),
    ],
)
def test_a_spoken_number_has_its_value(said: str, value: float) -> None:
    """Words, figures, fractions, pieces and slips."""
    assert parse_number(said) == pytest.approx(value)


@pytest.mark.parametrize(
    "said", ["", "water", "a tank", "o", "e", "oh", "fresh forty", "forty gallons", "seven or eight", "06-11"]
)
def test_what_is_not_one_number_has_no_value(said: str) -> None:
    """The whole text must be the number."""
    assert parse_number(said) is None


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("left is one oh two and right is ninety eight", [(102, "pieces"), (98, "integer")]),
        ("eight and a quarter inches of fifteen", [(8.25, "mixed"), (15, "integer")]),
        ("two thirds, then 40/60", [(2 / 3, "fraction"), (40, "integer"), (60, "integer")]),
        ("on the 3rd and the 22nd", []),
        ("at 7:45", []),
        ("twelve seven", [(127, "pieces")]),
        ("a quarter inch", [(0.25, "fraction")]),
        ("200 k's", [(200, "integer")]),
        ("two fifteen hundred watt heaters", [(2, "integer"), (1500, "integer")]),
    ],
)
def test_numbers_are_found_in_a_sentence(text: str, found: list[tuple[float, str]]) -> None:
    """Value and kind of each, in order; times of day and places in a row are none."""
    got = [(n.value, n.kind) for n in find_numbers(text)]

    assert [kind for _, kind in got] == [kind for _, kind in found]
    assert [value for value, _ in got] == pytest.approx([value for value, _ in found])


def test_a_number_says_which_words_it_is_made_of() -> None:
    """Start and end count the words of `words_of`, so that callers can look around."""
    words = words_of("put the front at one oh five psi")
    (number,) = find_numbers(words)

    assert [word.text for word in words[number.start : number.end]] == ["one", "oh", "five"]
    assert words[number.end].text == "psi"


def test_words_know_their_place_in_the_text() -> None:
    """Opened contractions and mended slips still point at what was said."""
    text = "Waste isn't at for tea"
    words = words_of(text)

    assert [word.text for word in words] == ["waste", "is", "not", "at", "forty"]
    assert text[words[-1].start : words[-1].end] == "for tea"


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("twelve six", 12.6),
        ("thirteen oh five", 13.05),
        ("twelve sixty five", 12.65),
        ("one two six", 12.6),
        # Nobody puts a point into "one twenty six".
        ("one twenty six", None),
        ("eighteen four", None),
        ("twelve", None),
    ],
)
def test_pieces_with_a_point_between(said: str, value: float | None) -> None:
    """The voltage of a 12 V battery that two pieces give, between 9 and 16."""
    assert as_decimal(pieces(said.split()), 9, 16) == value


@given(st.text(max_size=60))
def test_any_text_can_be_searched(text: str) -> None:
    """No text breaks the search, and every place it gives lies inside the words."""
    words = words_of(text)

    assert all(0 <= n.start < n.end <= len(words) for n in find_numbers(words))
    assert all(0 <= word.start <= word.end <= len(text) for word in words)
