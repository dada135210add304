"""Written text comes out in words that no engine can misread."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from cabassist.voice.words import ALPHABET, UNITS, cardinal, in_words, measured_in, ordinal


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("12 V", "twelve volt"),
        ("12.6 V", "twelve point six volts"),
        ("the 12 V system", "the twelve volt system"),
        ("-25 °F", "minus twenty five degrees"),
        ("−25 °F", "minus twenty five degrees"),  # a typographic minus
        ("-12 °C", "minus twelve degrees Celsius"),
        # once both scales are named, Fahrenheit must be said too
        ("-30 °C is -22 °F", "minus thirty degrees Celsius is minus twenty two degrees Fahrenheit"),
        ("60 A", "sixty amps"),
        ("60A", "sixty amps"),
        ("a 60 A plug", "a sixty amp plug"),
        ("1 gal", "one gallon"),
        ("0.5 gal", "zero point five gallons"),
        ("85 psi", "eighty five P S I"),
        ("30,000 BTU/h", "thirty thousand B T U an hour"),
        ("43.2 BTU/h per °F", "forty three point two B T U an hour per degree"),
        ("0.6 gal/h", "zero point six gallons an hour"),
        ("4.24 lb/gal", "four point two four pounds a gallon"),
        ("50 mg/L", "fifty milligrams a liter"),
        ("35 ppm", "thirty five parts per million"),
        ("40%", "forty percent"),
        ("40 %", "forty percent"),
        ("12 in deep", "twelve inches deep"),
        ("70 in a car", "seventy in a car"),
        ("100-lb cylinder", "one hundred pound cylinder"),
        ("34-hour restart", "thirty four hour restart"),
        ("2.1–2.9 days", "two point one to two point nine days"),
        ("85-100 psi", "eighty five to one hundred P S I"),
        ("0 to -20 °F", "zero to minus twenty degrees"),
        ("1/4", "a quarter"),
        ("¼ tank", "a quarter tank"),
        ("3/4 full", "three quarters full"),
        ("1/8", "an eighth"),
        ("2 1/2 gal", "two and a half gallons"),
        ("9¾ tablespoons", "nine and three quarters tablespoons"),
        ("4/32 in", "four thirty seconds of an inch"),
        ("24/7", "twenty four over seven"),
        ("21:40", "twenty one forty"),
        ("6:05", "six oh five"),
        ("06:00", "six o'clock"),
        ("21:00", "twenty one hundred"),
        ("00:00", "midnight"),
        ("6:05 a.m.", "six oh five a m"),
        ("2026-01-15", "January fifteenth twenty twenty six"),
        ("since August 2009", "since August two thousand nine"),
        ("2026-13-45", "two zero two six, one three, four five"),  # no date
        ("call 911", "call nine one one"),
        ("0042", "zero zero four two"),
        ("D975", "D nine seven five"),
        ("1-800-555-0100", "one, eight zero zero, five five five, zero one zero zero"),
        ("1.2e+04 W", "twelve thousand watts"),
        ("CO alarm", "carbon monoxide alarm"),
        ("the GFCI", "the G F C I"),
        ("DANGER", "Danger"),
        ("turn it OFF", "turn it off"),
        ("a No. 2 diesel", "a number two diesel"),
        ("Danger. No. 12 hours", "Danger. No. twelve hours"),  # a refusal stays a refusal
        ("gloves/goggles", "gloves or goggles"),
        ("e.g. a rag", "for example a rag"),
        ("(110 + 14.7) × 2 = 249.4", "one hundred ten plus fourteen point seven, times two is two hundred forty nine point four"),
        ("10 - 3 = 7 h", "ten minus three is seven hours"),
    ],
)  # fmt: skip
def test_what_is_written_is_said(written: str, said: str):
    """Numbers, units, times, ids and short forms; words stay as they are."""
    assert in_words(written) == said
    assert in_words(said) == said


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("49 CFR 392.7, parts", "the federal transport rules, parts"),
        ("49 CFR 395.3(a) and (b), 10 hours", "the federal transport rules, ten hours"),
        ("49 CFR 392.22(b)(1) and (2), distances; x", "the federal transport rules, distances; x"),
        ("29 CFR 1910.304(b)(3), ground-fault protection", "the federal workplace rules, ground-fault protection"),
        ("21 CFR 1250.52 and 1250.60, no waste", "the federal health rules, no waste"),
        ("33 USC 1311(a)", "federal law"),
        ("61 FR 60635, bus tires", "the Federal Register, bus tires"),
        ("WAC 296-307-22509 gives", "the Washington state rules gives"),
        ("UL 2034: below", "U L: below"),
        ("NFPA 58 Annex B", "N F P A Annex B"),
        ("See 49 CFR 392.7. Rules change.", "See the federal transport rules. Rules change."),
        ("by ASTM D975. Makers first.", "by A S T M. Makers first."),
        ("published; 392.22(b)(2)(iv), published", "published; its paragraph, published"),
    ],
)
def test_a_paragraph_is_never_read_out(written: str, said: str):
    """Rules are named by what they are."""
    assert in_words(written) == said


@cache
def inflect_engine() -> Any:
    """Another library's numbers in words."""
    import inflect

    return inflect.engine()


@settings(max_examples=40)
@given(st.integers(min_value=0, max_value=10**15 - 1))
@example(100)
@example(1_000_000)
def test_whole_numbers_agree_with_another_library(number: int):
    """Outside check: the inflect library, without its "and" and its commas."""
    expected = str(inflect_engine().number_to_words(number, andword="")).replace(",", "").replace("-", " ")

    assert cardinal(number) == " ".join(expected.split())


@settings(max_examples=40)
@given(st.integers(min_value=0, max_value=9999))
def test_ordinals_agree_with_another_library(number: int):
    """Outside check: the inflect library."""
    engine = inflect_engine()
    expected = str(engine.ordinal(engine.number_to_words(number, andword=""))).replace(",", "").replace("-", " ")

    assert ordinal(number) == " ".join(expected.split())


def test_numbers_beyond_counting_are_said_digit_by_digit():
    """Nobody can follow quadrillions; a long id is read as one."""
    assert (
        in_words("1234567890123456") == "one two three four five six seven eight nine zero one two three four five six"
    )


@given(
    st.floats(min_value=-9999, max_value=99999, allow_nan=False).map(lambda x: f"{x:,.3g}"),
    st.sampled_from(sorted(UNITS)),
    st.sampled_from(["", " "]),
)
@example("5", "in", " ")
def test_a_number_never_keeps_its_figures_or_its_unit_sign(number: str, unit: str, gap: str):
    """Whatever quantity a reply holds, it ends in the words of its unit."""
    said = in_words(f"It reads {number}{gap}{unit}.")

    assert not re.search(r"[\d%°/]", said)
    if "e" not in number:
        words = said.removesuffix(".")
        assert any(words.endswith(form.split()[-1]) for form in (*UNITS[unit], "Fahrenheit")), said


@given(st.text(max_size=200))
@example("\x1b[31m12 V\x07")
@example("½ 2 ² ℃ ㎏ ١٢ ₂")
@example("49 CFR" + " 1(a)" * 20)
def test_nothing_but_the_alphabet_is_left(text: str):
    """No control character, no symbol, no figure reaches an engine, whatever a driver or a file wrote."""
    assert set(in_words(text)) <= ALPHABET


@given(st.text(alphabet="0123456789-/:.,% °FCVA()x×e", max_size=60))
def test_jumbled_figures_leave_no_figure(text: str):
    """Also when they are no number at all."""
    assert set(in_words(text)) <= ALPHABET


@pytest.mark.parametrize(
    "text",
    ["1," * 9999, "1" * 9999, "1-" * 9999, "9/" * 9999, "1.1" * 5000, "49 CFR 1" + ", 1.1" * 4000 + "%", "(a" * 9999, "e5" * 9999],
)  # fmt: skip
def test_a_hostile_text_is_said_all_the_same(text: str):
    """Long rows of figures neither fail nor run away."""
    assert set(in_words(text)) <= ALPHABET


def test_a_number_is_found_with_its_unit():
    """What "just the number" says of a sentence."""
    assert measured_in("Set the heat to 62 degrees Fahrenheit at the wall.") == ["62 degrees Fahrenheit"]
    assert measured_in("About -25 °F") == ["-25 °F"]
    assert measured_in("bay 4 on the left") == ["4"]
    assert measured_in("No figure here.") == []
