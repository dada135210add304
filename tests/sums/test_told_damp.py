"""Sums with the roles of their amounts marked: damp air, starting batteries in the cold, pads by their amps, water frozen through."""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.estimate.damp import warmed, warmest_allowed
from cabassist.sums.marked import marked
from tests.sums.test_marked_wordings import BY_NAME, trouble

# The formulas stand above the lines; each was worked out by hand.
LINES = {
    "damp": (
        # Magnus, 17.625 and 243.04 °C: 20 °C at 50 % is saturated at 9.26 °C.
        "air {air=20 C}, humidity {humidity=50 percent}, dew point? -> 9.26 C",
        "cabin {air=20 C} at {humidity=50 percent}, glass {surface=5 C}, will it drip -> yes, 9.26 C",
        "cabin {air=20 C} at {humidity=50 percent}, glass {surface=12 C}, will it drip -> no",
        "cabin {air=20 C} at {humidity=50 percent}, glass {surface=12 C}, does it stay dry -> yes",
        "relief says it stays dry at {humidity=fifty percent}, glass {surface=5 C}, air {air=20 C}, is he right -> no",
        # e(10 °C) ÷ e(20 °C) = 12.26 ÷ 23.33 hPa = 52.5 %.
        "wall {surface=10 C}, air {air=20 C}, highest humidity? -> 52.5 percent",
        # The other way round: air whose dew point at 52.5 % is 10 °C.
        "wall {surface=10 C}, humidity {humidity=52.5 percent}, how warm may the air be -> 20 C",
        # e(0 °C) ÷ e(20 °C) x 80 % = 6.109 ÷ 23.33 x 80 = 21 %.
        "air of {air=0 C} at {humidity=80 percent} warmed to {later=20 C}, humidity then? -> 20.9 percent",
    ),
    "bank": (
        # U.S. Army TM 5-1185: 40 % at 0 °F, 65 % at 30 °F, so 52.5 % at 15 °F; below 0 °F no figure.
        "start battery {rated=1000} cranking amps, {cold=15 F}, what is left -> 525 A, 52.5 percent",
        "start battery {rated=1000}, {cold=0 F}, engine needs {engine=450 amps} to crank, enough? -> no, 400 A",
        "engine needs {engine=390 amps} to crank at {cold=30 F}, what rating in amps -> 600 A",
        "start battery {rated=900 amps}, {cold=-10 F}, cranking amps? -> less than 40 percent",
        # 200 Ah x 70 % x 50 %; 12 A x 10 h ÷ (50 % x 80 %).
        "{capacity=200 amp hours}, cold leaves {derated=70 percent}, we use {usable_share=half}, how many amp hours -> 70 Ah",
        "{load=12 amps} for {hours=10 hours}, use {usable_share=half}, cold leaves {derated=80 percent}, what bank in amp hours -> 300 Ah",
        # 120 Ah ÷ 10 h = 12 A; x 12 V x 90 %; from noon until six are 6 h.
        "{usable=120 amp hours}, {hours=10 hours}, how many amps, ok with {load=14 amps} -> 12 A, no",
        "{usable=120 amp hours}, {hours=10 hours}, {volts=12 volts}, inverter {efficiency=90 percent}, how many watts -> 129.6 W",
        "{usable=90 amp hours} till {end=6 pm}, how many amps steady -> 15 A",
        # 600 W ÷ 12 V ÷ 90 %.
        "{load=600 watts} on the inverter at {efficiency=90 percent}, {volts=12 volts}, how many amps -> 55.56 A",
    ),
    "pad": (
        # 150 W ÷ 12 V; over 8 h; 3 W x 40 degrees are 120 W.
        "a {pad=150 watt} pad, {volts=12 volts}, how many amps -> 12.5 A",
        "a {pad=150 watt} pad, {volts=12 volts}, {span=8 hours}, how many amp hours -> 100 Ah",
        "{pad=150 watt} pad, {loss=3 watts per degree}, hold {hold=40 F} at {air=0 F}, how many amps, ok -> 12.5 A, yes",
    ),
    "chilling": (
        # 417 lb x 10 °F ÷ 1000 BTU/h = 4.17 h; 143.35 BTU/lb (IAPWS) more until it is ice: 417 x 153.35 ÷ 1000.
        "{water=50 gallons} at {start=42 F} losing {loss=1000 btu an hour}, hours until ice and until solid -> 4.17 h, 63.95 h",
        "{water=50 gallons} at {start=32 F} losing {loss=1000 btu an hour}, hours until frozen through -> 59.78 h",
        "{water=50 gallons} at {start=42 F} losing {loss=1000 btu an hour}, frozen solid in {span=two days}? -> no, 63.95 h",
        "relief says ice in {span=5 hours}, {water=50 gallons} at {start=42 F} losing {loss=1000 btu an hour}, is he right -> yes",
        "relief says {span=5 hours} before ice, {water=50 gallons} at {start=42 F} losing {loss=1000 btu an hour}, is he right -> no",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("family", "line"), [(name, line) for name, lines in LINES.items() for line in lines])
def test_with_its_roles_it_comes_out(family: str, line: str, coach: Coach) -> None:
    assert trouble(BY_NAME[family], marked(line), coach) == ""


@pytest.mark.parametrize(
    ("family", "line"),
    [
        ("damp", "air {air=20 C} and nothing else, will it drip -> yes"),
        ("damp", "air {air=20 C} at {humidity=130 percent}, dew point -> 9 C"),
        ("damp", "wall {surface=25 C} in air of {air=20 C}, highest humidity -> 100 percent"),
        ("bank", "start battery {rated=1000} cranking amps, what is left -> 525 A"),
        ("bank", "engine needs {engine=390 amps} to crank at {cold=-20 F}, what rating in amps -> 600 A"),
    ],
)
def test_what_is_not_all_told_gives_nothing(family: str, line: str, coach: Coach) -> None:
    assert trouble(BY_NAME[family], marked(line), coach) == "does not come out"


def test_damp_air_is_known_between_limits_only() -> None:
    assert warmed(-60.0, 0.5, 60.0).value is None
    assert warmest_allowed(-60.0, 0.5).value is None
    with pytest.raises(ValueError, match="more than nothing"):
        warmest_allowed(40.0, 0.0)
    # cooled below its dew point of 48.7 °F the air is saturated
    assert warmed(68.0, 0.5, 40.0).value == 100.0
