"""Themes, signal words, signs, and texts made harmless."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.color import Color

from cabassist.screen.look import DAY, NIGHT, SIGNALS, Look, kind_of, option_of, signal_of, wants_ascii

from .conftest import LARGE, SMALL, Cab

Drive = Callable[..., None]
PAIRS = [("cab-ink", "cab-paper"), ("cab-ink", "cab-soft"), ("cab-ink", "cab-quiet"), ("cab-dim", "cab-paper"), ("cab-dim", "cab-quiet"), ("cab-step-ink", "cab-step-back"),
         *((f"cab-{word.lower()}-ink", f"cab-{word.lower()}-back") for word in SIGNALS)]  # fmt: skip


def luminance(color: Color) -> float:
    """Relative luminance, 0 to 1 (WCAG 2.2, definition of relative luminance)."""

    def linear(share: float) -> float:
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    return 0.2126 * linear(color.r / 255) + 0.7152 * linear(color.g / 255) + 0.0722 * linear(color.b / 255)


def contrast(one: Color, other: Color) -> float:
    """Contrast ratio, 1 to 21 (WCAG 2.2, definition of contrast ratio)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_measure_itself():
    """Black on white is 21 : 1 (WCAG 2.2)."""
    assert contrast(Color.parse("#000000"), Color.parse("#ffffff")) == pytest.approx(21)


@pytest.mark.parametrize(("theme", "least"), [(DAY, 7.0), (NIGHT, 4.5)])
def test_every_pair_of_colors_can_be_read(theme: object, least: float):
    """7 : 1 by day (WCAG 2.2, 1.4.6, level AAA), 4.5 : 1 at night (1.4.3, level AA). The signal words by day keep to the
    colors of ANSI Z535, which reach at least 4.5."""
    colors = theme.variables  # type: ignore[attr-defined]
    for ink, paper in PAIRS:
        wanted = 4.5 if "back" in paper else least
        assert contrast(Color.parse(colors[ink]), Color.parse(colors[paper])) >= wanted, (ink, paper)


def test_the_night_does_not_dazzle():
    """Nothing brighter than amber at 45 % of white, and no more blue than red in any ink."""
    for name, value in NIGHT.variables.items():
        color = Color.parse(value)
        assert luminance(color) < 0.45, name
        assert color.b <= color.r or name == "cab-notice-back", name


@pytest.mark.parametrize("size", [SMALL, LARGE])
@pytest.mark.parametrize("night", [False, True])
def test_what_is_drawn_keeps_to_the_theme(drive: Drive, size: tuple[int, int], night: bool):
    """On the conversation, the pages, the forms, help and the palette; changed live by a key."""

    async def story(cab: Cab) -> None:
        await cab.say("fresh at half", "can I dump it in the ditch", "how do I plug in at the hotel", "it won't open")

        def check(where: str) -> None:
            for ink, paper in cab.colors():
                assert contrast(ink, paper) >= 4.4, (where, ink.hex, paper.hex)
                if night:
                    assert max(luminance(ink), luminance(paper)) < 0.45, (where, ink.hex, paper.hex)

        check("conversation")
        for key in ("f1", "f9", "ctrl+p"):
            await cab.pilot.press(key)
            await cab.pilot.pause(0.3)
            check(key)
            await cab.press("escape")
        await cab.press("f9", "e")
        check("form")
        await cab.press("escape", "escape", "ctrl+t")
        night_now = cab.app.theme == NIGHT.name
        assert night_now is not night

    drive(story, size, night=night)


def test_ascii_draws_nothing_else(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say("fresh at half", "minus twelve out", "it smells of gas", "stop", "how do I plug in at the hotel")
        assert any(row.startswith(" Fresh water") for row in cab.rows)  # no frame around the board on a small screen
        for keys in (("escape",), ("f1",), ("escape", "f9"), ("right",), ("e",), ("escape", "escape", "f8")):
            await cab.press(*keys)
            assert "\n".join(cab.rows).isascii(), keys

    drive(story, look=Look(ascii=True))


@pytest.mark.parametrize(
    ("environment", "encoding", "wanted"),
    [
        ({}, "utf-8", False),
        ({"CABASSIST_ASCII": "1"}, "utf-8", True),
        ({"CABASSIST_ASCII": "0"}, "utf-8", False),
        ({}, "ascii", True),
        ({}, "latin-1", True),  # has the letters, not the bars
        ({}, "no-such-encoding", True),
    ],
)
def test_ascii_is_wanted_or_needed(environment: dict[str, str], encoding: str, wanted: bool):
    assert wants_ascii(environment, encoding) is wanted


@given(st.text())
def test_any_text_becomes_ascii_that_a_terminal_only_prints(text: str):
    shown = Look(ascii=True).text(text)

    assert shown.isascii()
    assert all(c == "\n" or c.isprintable() for c in shown)


@pytest.mark.parametrize(
    ("text", "plain"),
    [("-12 °F", "-12 deg F"), ("5 h–22 h", "5 h-22 h"), ("jak napełnić", "jak nape?nic"), ("≥ 3", ">= 3")],
)
def test_signs_have_a_plain_twin(text: str, plain: str):
    assert Look(ascii=True).text(text) == plain


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("DANGER: Gas.", "caution"),
        ("NOTICE: Wet.", "caution"),
        ("Danger lurks.", "plain"),
        ("Step 3 of 14: Look.", "step"),
        ("  2. Lock a bay", "option"),
        ("  Done when: It holds.", "detail"),
        ("Say: next, back.", "hint"),
        ("Timer: It is over.", "timer"),
    ],
)
def test_lines_are_told_apart(line: str, kind: str):
    assert kind_of(line) == kind


def test_parts_of_lines():
    assert signal_of("WARNING: Hot: do not touch.") == ("WARNING", "Hot: do not touch.")
    assert option_of("  12. Load: luggage") == ("12", "Load: luggage")
    with pytest.raises(ValueError, match="no signal word"):
        signal_of("warning: hot")
    with pytest.raises(ValueError, match="no option"):
        option_of("2. Lock a bay")


@pytest.mark.parametrize(
    ("share", "bar"),
    [
        (0.0, "░░░░░░░░"),
        (1.0, "████████"),
        (0.5, "████░░░░"),
        (0.01, "█░░░░░░░"),
        (0.99, "███████░"),
        (7.0, "████████"),
    ],
)
def test_a_bar_is_full_or_empty_only_when_it_is(share: float, bar: str):
    assert Look().bar(share, 8) == bar


def test_a_spark_line():
    assert Look().spark([0, 5, 10], 9) == "▁▅█"
    assert Look().spark([], 9) == ""
    assert Look().spark([0, 0], 9) == "▁▁"
    assert Look(ascii=True).spark(list(map(float, range(8))), 8).isascii()
