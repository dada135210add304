"""Where a needle lies, told by the marks beside it, and what only sounds like it."""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.dialogue.types import Mind
from cabassist.language.needles import by_marks, only_told
from cabassist.language.numbers import words_of
from tests.language.test_readings import hear, table, told

BETWEEN = table("""
waste gauge lies halfway between the quarter line and the half => waste 0.375 fraction ~
the diesel's about midway from E to the half mark => diesel 0.25 fraction ~
def somewhere between three quarters and full => def 0.875 fraction ~
outside bottle, half or three quarters, split the difference => propane/outside 0.625 fraction ~
inside bottle: splitting the difference between full and a half => propane/inside 0.75 fraction ~
fresh between a half and full but a bit nearer the half => fresh 0.625 fraction ~
needle on the waste is closer to a quarter than to empty => waste 0.1875 fraction ~
fuel is a third of the way from half to full => diesel 0.6667 fraction ~
""")
WITHIN = table("""
fuel is down in the bottom quarter => diesel 0.125 fraction ~
fresh sank halfway into the lower half => fresh 0.25 fraction ~
waste is just into the top quarter => waste 0.8 fraction ~
def is deep in the bottom third => def 0.1 fraction ~
diesel has worked down to the lower third => diesel 0.1666 fraction ~
waste is in the second quarter of the dial => waste 0.375 fraction ~
waste has got to its last quarter =>
""")
BESIDE = table("""
waste a pencil's breadth above the half => waste 0.52 fraction ~
fresh is a couple of needle widths below three quarters => fresh 0.73 fraction ~
def a hair to the right of a quarter => def 0.27 fraction ~
diesel's well past the half mark => diesel 0.52 fraction ~
waste one line under the half => waste 0.5 fraction ~
fresh a fingernail off empty => fresh low
waste one mark short of full => waste high
def three bars short of full =>
""")
MIDDLE = table("""
fresh needle bang in the middle of its scale => fresh 0.5 fraction ~
waste is a tad past the middle => waste 0.52 fraction ~
def sits a shade below the middle => def 0.48 fraction ~
diesel needle bolt upright => diesel 0.5 fraction ~
propane needle outside is pointing straight up and down => propane/outside 0.5 fraction ~
waste needle's at twelve o'clock => waste 0.5 fraction ~
inside bottle is mid scale => propane/inside 0.5 fraction ~
fresh straight up full => fresh 1 fraction
diesel straight up three quarters => diesel 0.75 fraction
house battery needle is straight up =>
""")
ENDS = table("""
diesel needle has not stirred from its peg => diesel low
waste hasn't come off the bottom stop yet => waste low
propane needle outside hasn't dropped off the full peg => propane/outside high
fresh is a matchstick above the empty mark => fresh low
def barely clear of the bottom line => def low
fuel needle's drooping at the low end of the dial => diesel low
waste needle is lying up against the upper peg => waste high
fresh right up at the high end => fresh high
fresh buried past the lower peg => fresh low
the air needle's at the very edge of the red => air_pressure low
waste crept into the red => waste high
house battery is sitting at the bottom end => house_battery low
outside bottle shows one thin sliver of green => propane/outside low
no green left on the inside bottle => propane/inside low
fresh needle on the low mark => fresh low
""")
LAMPS = table("""
def has all the bars lit except the top one => def high
fresh shows every light but the last => fresh high
waste panel, all five lights are on => waste high
def's down to the last bar => def low
fresh has just one light showing => fresh low
waste with no lights lit => waste low
def's last bar has gone out => def low
waste one light out of four lit => waste 0.25 fraction
waste top light has come on => waste high
fresh has half its bars => fresh 0.5 fraction ~
""")


@pytest.mark.parametrize(("said", "expected"), [*BETWEEN, *WITHIN, *BESIDE, *MIDDLE, *ENDS, *LAMPS])
def test_a_place_on_the_gauge_is_a_level(said: str, expected: list[str], coach: Coach) -> None:
    """What leaves the level open is not stored as one of the marks that are named."""
    assert told(hear(said, coach)) == expected


@pytest.mark.parametrize(
    "said",
    [
        "the site is midway between the rink and the motel",
        "split the difference on the fuel bill",
        "they were down by two in the third quarter",
        "water stood on the low side of the hall",
        "one light left on over the front seats",
        "no lights lit in the galley",
        "the fresh gauge needle never left its peg even after we filled the tank",
        "the hose hangs in the middle of the bay",
        "is the waste needle between a half and full?",
    ],
)
def test_other_talk_tells_no_level(said: str, coach: Coach) -> None:
    assert not hear(said, coach).readings


def test_a_length_is_counted_from_where_it_is_told(coach: Coach) -> None:
    """ "Below the max line" after inches is no needle."""
    assert told(hear("fresh is five inches below the full line", coach)) == ["fresh 5 in top"]
    assert told(hear("waste nine inches off the bottom", coach)) == ["waste 9 in bottom"]


def test_each_word_keeps_its_place() -> None:
    """What is told in other words covers what it was told in."""
    text = "fresh is halfway between a half and full, waste a third"
    changed = by_marks(words_of(text))
    place = next(word for word in changed if word.text == "between")

    assert text[place.start : place.end] == "halfway between a half and full"
    assert text[changed[-1].start : changed[-1].end] == "third"


@pytest.mark.parametrize(
    ("said", "only"),
    [
        ("waste needle's lying on its stop", True),
        ("the fuel's halfway between E and a quarter", True),
        ("waste needle's on its stop, how do I check the sender", False),
        ("fresh needle is off its peg and the pump is leaking", False),
        ("waste is at fifty", False),
    ],
)
def test_what_is_told_beside_a_needle(said: str, only: bool) -> None:
    assert only_told(said) is only


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("fresh one foot two", 14.0), ("waste's at a foot and three inches", 15.0), ("fresh is down to 1 ft 6 in", 18.0),
        ("fresh's one foot two and a half", 14.5), ("dipped the waste, eleven", 11.0), ("the stick says nine in the fresh tank", 9.0),
    ],
)  # fmt: skip
def test_depths_in_feet_and_by_the_stick_are_inches(said: str, inches: float, mind: Mind):
    """Feet and inches are one depth, and a stick tells no share."""
    [reading] = mind.readings_in(said).readings
    assert (reading.value, reading.unit) == (inches, "in")


def test_people_beside_a_depth_are_no_inches(mind: Mind):
    found = mind.readings_in("fresh is one foot, two people aboard").readings
    assert {(one.what, one.value, one.unit) for one in found} >= {("fresh", 1.0, "ft")}
