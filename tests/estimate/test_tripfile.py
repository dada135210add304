"""The trip file."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
import yaml
from pydantic import ValidationError

from cabassist.estimate import stocks, trip, tripfile
from cabassist.estimate.tripfile import TripFile, itinerary, new_trip_text

GALLON_M3 = 0.003785411784
POUND_KG = 0.45359237
START = datetime(2026, 1, 15, 8, tzinfo=UTC)

TRIP = """
name: to the tournament
start: 2026-01-15T08:00:00-06:00
end: 2026-01-18T08:00:00-06:00
aboard: 24
weather:
  daily:
    - {date: 2026-01-15, low_f: -12 C, high_f: 20}
    - {date: 2026-01-16, low_f: 5, high_f: 15}
    - {date: 2026-01-17, low_f: 0, high_f: 12}
    - {date: 2026-01-18, low_f: 0, high_f: 12}
stops:
  - name: rink
    arrive: 2026-01-15T14:00:00-06:00
    leave: 2026-01-15T20:00:00-06:00
    aboard: 2
    services: [dump, water, shore]
    do: [water]
    miles: 300 km
  - name: hotel
    arrive: 2026-01-15T20:30:00-06:00
    leave: 2026-01-16T08:00:00-06:00
"""


@pytest.fixture
def figures(coach):
    """The demo coach's figures for a simulation."""
    per_degree_w = (coach.cabin.ua_btu_per_h_f + 1.08 * coach.cabin.infiltration_cfm) * 1.8 * 1055.056 / 3600
    return stocks.CoachFigures(
        fresh_m3=coach.tank("fresh").capacity_gal * GALLON_M3,
        waste_m3=coach.tank("waste").capacity_gal * GALLON_M3,
        propane_kg=sum(c.nominal_lb for c in coach.propane.cylinders if c.role != "spare") * POUND_KG,
        loss_w_per_k=per_degree_w,
        efficiency=coach.furnaces[0].efficiency,
        furnaces_w=sum(f.input_btu_per_h for f in coach.furnaces) * 1055.056 / 3600,
        fresh_m3_per_person_day=2 * GALLON_M3,
        waste_m3_per_person_day=1.6 * GALLON_M3,
        setpoint_k=(coach.cabin.setpoint_f + 459.67) / 1.8,
        night_setpoint_k=(coach.cabin.night_setpoint_f + 459.67) / 1.8,
    )


def read(text=TRIP, **changes):
    """A trip file from YAML, with top-level parts replaced."""
    return TripFile.model_validate({**yaml.safe_load(text), **changes})


def test_a_trip_becomes_hours(figures):
    """72 hours; the rink from hour 6 to 12 with two aboard; 300 km over the six hours before it; -12 °C at the first low."""
    hours = itinerary(read(), figures)

    assert hours.hours == 72
    assert list(hours.aboard[5:13]) == [24, 2, 2, 2, 2, 2, 2, 24]
    assert hours.road_m[:6] == pytest.approx([50_000] * 6)
    assert hours.road_m[6:].sum() == 0
    assert (hours.visits[0].hour, hours.visits[0].leave) == (6, 12)
    assert hours.visits[0].planned == {"water"}
    assert hours.outside_k[0] == pytest.approx(261.15, abs=0.4)
    assert hours.outside_k[7] == pytest.approx((20 + 459.67) / 1.8)
    # 22:00 is hour 14: the thermostat goes to its night setting.
    assert hours.inside_k[13] > hours.inside_k[14]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"end": "2026-01-15T08:00:00-06:00"}, "between an hour and"),
        ({"start": "2026-01-15T08:00:00"}, "timezone"),
        ({"people": 3}, "people"),
        ({"aboard": -1}, "greater than or equal"),
        ({"bound": 0}, "greater than"),
        ({"weather": {}}, "in one way"),
        ({"weather": {"hourly_f": [10], "csv": "a.csv"}}, "in one way"),
        ({"weather": {"hourly_f": [500]}}, "no temperature"),
        ({"weather": {"daily": [{"date": "2026-01-15", "low_f": 20, "high_f": 10}]}}, "turn them round"),
        ({"weather": {"daily": [{"date": "2026-01-15", "low_f": "cold", "high_f": 10}]}}, "cannot be read"),
    ],
)
def test_what_is_wrong_is_said(changes, words):
    """Each with what would be right."""
    with pytest.raises(ValidationError, match=words):
        read(**changes)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"leave": "2026-01-15T13:00:00-06:00"}, "leaves before it arrives"),
        ({"arrive": "2026-01-15T07:00:00-06:00"}, "before the start"),
        ({"do": ["propane"]}, "not among its services"),
        ({"services": ["beer"]}, "Input should be"),
        ({"leave": "2026-01-19T07:00:00-06:00"}, "not over|arrives before"),
    ],
)
def test_a_stop_that_makes_no_sense_is_refused(change, words):
    """With its name."""
    stop = {**yaml.safe_load(TRIP)["stops"][0], **change}
    with pytest.raises(ValidationError, match=words):
        read(stops=[stop])


def test_weather_must_cover_the_trip(figures):
    """Hours that nobody foresaw are asked for."""
    with pytest.raises(ValueError, match="72 hours and the forecast 71"):
        itinerary(read(weather={"hourly_f": [10.0] * 71}), figures)
    assert itinerary(read(weather={"hourly_f": [14.0] * 72}), figures).outside_k == pytest.approx([263.15] * 72)
    with pytest.raises(ValueError, match="Add that day"):
        itinerary(read(weather={"daily": [{"date": "2026-01-15", "low_f": 5, "high_f": 10}]}), figures)


def test_weather_from_a_table(figures):
    """The caller opens the file."""
    trip_file = read(weather={"csv": "forecast.csv"})
    lines = [f"{(START + timedelta(hours=6 * k)).isoformat()},14" for k in range(20)]
    table = "\n".join(["time,temp_f", *lines])

    assert itinerary(trip_file, figures, lambda name: table).outside_k == pytest.approx([263.15] * 72)
    with pytest.raises(ValueError, match="nobody has opened"):
        itinerary(trip_file, figures)


def test_a_new_trip_file_is_valid(figures):
    """What `trip new` writes can be checked and simulated as it stands."""
    made = read(new_trip_text(START, 4))
    hours = itinerary(made, figures)
    supplies = figures.supplies()
    beliefs = {name: stocks.belief_from_level(supply, None) for name, supply in supplies.items()}
    run = trip.simulate(
        hours, stocks.stocks(figures, beliefs), figures.heat(), np.random.default_rng(1), trajectories=200
    )

    assert hours.hours == 96
    assert {one.name for one in trip.outlook(run)} == {"fresh", "waste", "propane"}
    with pytest.raises(ValueError, match="time zone"):
        new_trip_text(datetime(2026, 1, 15, 8), 4)
    with pytest.raises(ValueError, match="how many days"):
        new_trip_text(START, 0)


def test_two_cylinders_last_most_of_a_week_in_the_simulation(coach, figures):
    """Common practice, no source: two cylinders feeding the demo coach in fairly cold weather last most of a week."""
    week = {"daily": [{"date": str((START + timedelta(days=d)).date()), "low_f": 0, "high_f": 15} for d in range(10)]}
    hours = itinerary(read(end="2026-01-24T08:00:00-06:00", stops=[], weather=week), figures)
    full = {"propane": stocks.belief_from_level(figures.supplies()["propane"], 1.0, 0.01)}
    chosen = [s for s in stocks.stocks(figures, full) if s.supply.name == "propane"]
    run = trip.simulate(hours, chosen, figures.heat(), np.random.default_rng(1), trajectories=2000)

    assert 4 * 24 <= np.median(trip.first_hours(run, "propane", ())) <= 7 * 24


def test_a_level_nobody_read_may_be_anything(figures):
    """Half, give or take most of it; a level that is no share is refused."""
    unread = stocks.belief_from_level(figures.supplies()["fresh"], None)
    read_one = stocks.belief_from_level(figures.supplies()["fresh"], 0.5)

    assert unread.level_sd > 5 * read_one.level_sd
    with pytest.raises(ValueError, match="share between 0 and 1"):
        stocks.belief_from_level(figures.supplies()["fresh"], 50)


def test_the_module_that_simulates_does_not_load_pydantic_or_pint():
    """They are loaded when a trip file or a quantity is in hand."""
    import subprocess
    import sys

    code = (
        "import sys; import cabassist.estimate.trip, cabassist.estimate.service_plan, cabassist.estimate.waste;"
        "print([name for name in ('pydantic', 'pint', 'yaml') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "[]"
    assert tripfile.TripFile.model_fields["bound"].default == 0.1
