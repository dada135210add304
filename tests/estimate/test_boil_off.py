"""Boil-off in the cold and vapor pressure."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.estimate import boil_off
from cabassist.units import registry

Q = registry().Quantity

TRADE_TABLE = """
100 113,000 167,000 214,000 277,000 300,000
90 104,000 152,000 200,000 247,000 277,000
80 94,000 137,000 180,000 214,000 236,000
70 83,000 122,000 160,000 199,000 214,000
60 75,000 109,000 140,000 176,000 192,000
50 64,000 94,000 125,000 154,000 167,000
40 55,000 79,000 105,000 131,000 141,000
30 45,000 66,000 85,000 107,000 118,000
20 36,000 51,000 68,000 83,000 92,000
10 28,000 38,000 49,000 60,000 66,000
"""
"""LP-gas trade table for a 100-lb cylinder, columns 0 / 20 / 40 / 60 / 70 °F (Flame Engineering; references).

The stored copy had lost its "0°" heading: read with the first column as 20 °F, every entry would be wrong.
"""
ENTRIES = [
    (float(row.split()[0]), air_f, float(entry.replace(",", "")))
    for row in TRADE_TABLE.strip().splitlines()
    for air_f, entry in zip((0, 20, 40, 60, 70), row.split()[1:], strict=True)
]


@pytest.mark.parametrize(("left_lb", "air_f", "rate"), ENTRIES)
def test_every_entry_of_the_table(left_lb, air_f, rate):
    """At the entries the table itself is given back."""
    assert boil_off.vaporization(Q(left_lb, "lb"), Q(air_f, "degF")).value == pytest.approx(rate, rel=1e-6)


def test_between_the_entries():
    """45 lb at 10 °F, by hand: mean of 64,000, 94,000, 55,000 and 79,000 = 73,000."""
    assert boil_off.vaporization(Q(45, "lb"), Q(10, "degF")).value == pytest.approx(73_000)


@pytest.mark.parametrize(
    ("left_lb", "air_f", "words"),
    [(50, -0.1, "stops at 0 °F"), (50, 70.1, "stops at 70 °F"), (9.9, 40, "a tenth of a fill")],
)
def test_the_table_is_not_extrapolated(left_lb, air_f, words):
    """Just outside each edge no number is given, and the words say why."""
    out = boil_off.vaporization(Q(left_lb, "lb"), Q(air_f, "degF"))

    assert out.value is None
    assert words in out.verdict


def test_another_size_is_an_indication_only():
    """Half of a 40-lb cylinder is like 50 lb of 100; wall area goes with (40 ÷ 100)^⅔ = 0.543: 34,750 at 0 °F."""
    half = boil_off.vaporization(Q(20, "lb"), Q(0, "degF"), nominal=Q(40, "lb"))

    assert half.value == pytest.approx(64_000 * 0.5429, rel=0.001)
    assert half.low == pytest.approx(half.value * 0.7)
    assert "indication" in half.verdict


def test_more_than_it_can_hold_is_refused():
    """60 lb in a 40-lb cylinder was misheard."""
    with pytest.raises(ValueError, match="can't hold"):
        boil_off.vaporization(Q(60, "lb"), Q(0, "degF"), nominal=Q(40, "lb"))


@pytest.mark.parametrize(("left_lb", "warned"), [(50, True), (90, False), (70, False), (60, True)])
def test_two_furnaces_of_40_000_in_the_cold(left_lb, warned):
    """0 °F, 80,000 BTU/h: 64,000 from 50 lb warns, 104,000 from 90 lb does not (references, propane test case 4)."""
    fed = boil_off.can_feed(Q(80_000, "Btu/h"), Q(0, "degF"), [Q(left_lb, "lb")])

    assert fed.verdict.startswith("Warning") is warned


def test_two_open_cylinders_share_the_work():
    """64,000 each: 128,000 feed 80,000."""
    fed = boil_off.can_feed(Q(80_000, "Btu/h"), Q(0, "degF"), [Q(50, "lb"), Q(50, "lb")])

    assert fed.value == pytest.approx(128_000)
    assert fed.verdict == "It can feed them."


def test_below_the_table_a_warning_needs_no_number():
    """At -12 °F nothing is known but that it is less than at 0 °F, where 64,000 is too little for 80,000 already."""
    cold = boil_off.can_feed(Q(80_000, "Btu/h"), Q(-12, "degF"), [Q(50, "lb")])
    unsure = boil_off.can_feed(Q(30_000, "Btu/h"), Q(-12, "degF"), [Q(50, "lb")])

    assert cold.value is None
    assert cold.high == pytest.approx(64_000)
    assert cold.verdict.startswith("Warning")
    assert unsure.value is None
    assert not unsure.verdict.startswith("Warning")


@pytest.mark.parametrize(("degrees_f", "psig"), [(-20, 10.7), (0, 23.7), (40, 63.9), (70, 110.2)])
def test_pressure_of_pure_propane(degrees_f, psig):
    """CoolProp, ±0.3 psi (references, propane test case 5). The commercial figure at 70 °F would be 127."""
    assert boil_off.vapor_pressure(Q(degrees_f, "degF")).value == pytest.approx(psig, abs=0.3)


@pytest.mark.parametrize(
    ("degrees_f", "psig"),
    # Flame Engineering, Propane Information page, pure propane.
    list(
        zip(
            range(-30, 111, 10),
            (6.8, 11.5, 17.5, 24.5, 34, 42, 53, 65, 78, 93, 110, 128, 150, 177, 204),
            strict=True,
        )
    ),
)
def test_pressure_against_the_trade_table(degrees_f, psig):
    """±4.5 psi over the whole table; ±1.2 at -20, 0, 40, 70 (references)."""
    near = 1.2 if degrees_f in (-20, 0, 40, 70) else 4.5

    assert boil_off.vapor_pressure(Q(degrees_f, "degF")).value == pytest.approx(psig, abs=near)


def test_pressure_against_an_equation_of_state():
    """CoolProp over the whole range, ±0.3 psi."""
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    for degrees_f in range(-40, 131, 10):
        pascal = coolprop.PropsSI("P", "T", (degrees_f + 459.67) / 1.8, "Q", 0, "Propane")
        ours = boil_off.vapor_pressure(Q(degrees_f, "degF")).value

        assert ours == pytest.approx(pascal / 6894.757 - 14.696, abs=0.35)


@pytest.mark.parametrize(("degrees_f", "psig"), [(70, 127), (100, 196), (105, 210), (130, 287)])
def test_commercial_propane_has_its_own_table(degrees_f, psig):
    """NFPA 58 Annex B; never mixed with pure propane."""
    assert boil_off.vapor_pressure(Q(degrees_f, "degF"), kind="commercial").value == pytest.approx(psig, abs=0.01)


@pytest.mark.parametrize(("degrees_f", "kind"), [(-45, "pure"), (131, "pure"), (69, "commercial"), (131, "commercial")])
def test_outside_its_range_no_pressure_is_given(degrees_f, kind):
    """Below the boiling point (-44 °F, OSHA chemical data 563) there is none; beyond the tables it is not known here."""
    out = boil_off.vapor_pressure(Q(degrees_f, "degF"), kind=kind)

    assert out.value is None
    assert out.verdict


@given(st.floats(10, 100), st.floats(0, 70), st.floats(0, 20), st.floats(0, 20))
def test_colder_or_emptier_never_boils_off_faster(left_lb, air_f, less, colder):
    """Over the whole table."""
    one = boil_off.vaporization(Q(left_lb, "lb"), Q(air_f, "degF")).value
    two = boil_off.vaporization(Q(max(left_lb - less, 10), "lb"), Q(max(air_f - colder, 0), "degF")).value

    assert two <= one + 1e-6


@given(st.floats(-43, 129), st.floats(0.01, 20))
def test_warmer_never_lowers_the_pressure(degrees_f, warmer):
    """Pure propane over its whole range."""
    one = boil_off.vapor_pressure(Q(degrees_f, "degF")).value
    two = boil_off.vapor_pressure(Q(min(degrees_f + warmer, 130), "degF")).value

    assert two >= one
