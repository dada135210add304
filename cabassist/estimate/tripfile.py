"""The trip file: a trip as people write it in YAML, checked, and turned into hours for `trip.py`.

This is the one module here that loads pydantic, so it is imported only when a trip file is in hand.
Reading the file is the caller's job; each field has a sentence that help and error messages use.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

import numpy as np
from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationInfo, field_validator, model_validator

from cabassist.estimate.clock import later
from cabassist.estimate.courses import NIGHT_FROM, NIGHT_TO
from cabassist.estimate.stocks import CoachFigures
from cabassist.estimate.trip import MILE_M, Itinerary, Service, Visit
from cabassist.estimate.weather import hourly, points_from_csv, points_from_daily
from cabassist.units import measured_value

LONGEST_H = 60 * 24


class TripPart(BaseModel):
    """Base of every part: unknown keys are refused, values do not change, units may be written out."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    @field_validator("*", mode="before")
    @classmethod
    def _read_quantity(cls, given: Any, about: ValidationInfo) -> Any:
        field = cls.model_fields[str(about.field_name)]
        if isinstance(given, bool) and field.annotation is not bool:
            raise ValueError("a yes or no is not a number")
        return measured_value(given, field.json_schema_extra)


def _measured(unit: str, low: float, high: float, sentence: str, default: Any = ...) -> Any:
    return Field(default, ge=low, le=high, description=sentence, json_schema_extra={"unit": unit, "measured": True})


def _degrees(sentence: str) -> Any:
    return _measured("degF", -90, 130, sentence)


class Day(TripPart):
    """Forecast of one date."""

    day: date = Field(alias="date", description="The date.")
    low_f: float = _degrees("Lowest temperature of the day.")
    high_f: float = _degrees("Highest temperature of the day.")

    @model_validator(mode="after")
    def _in_order(self) -> Day:
        if self.low_f > self.high_f:
            raise ValueError("the low is above the high; turn them round")
        return self


class Weather(TripPart):
    """Outside temperatures, in one of three ways."""

    daily: list[Day] = Field(default_factory=list, max_length=90, description="Low and high of each date.")
    hourly_f: list[float] = Field(default_factory=list, max_length=LONGEST_H, description="Degrees F of each hour.")
    csv: str = Field("", max_length=400, description="A table with the columns time and temp_f or temp_c.")

    @model_validator(mode="after")
    def _one_way(self) -> Weather:
        ways = [bool(self.daily), bool(self.hourly_f), bool(self.csv)]
        if sum(ways) != 1:
            raise ValueError("give the temperatures in one way: daily, hourly_f or csv")
        for degrees in self.hourly_f:
            if not -90 <= degrees <= 130:
                raise ValueError(f"{degrees:g} is no temperature of the air in degrees F")
        dates = [one.day for one in self.daily]
        if len(set(dates)) < len(dates):
            raise ValueError("a date is there twice")
        return self


class Stop(TripPart):
    """A stop on the way."""

    name: str = Field(min_length=1, max_length=80, description="What people call the place.")
    arrive: AwareDatetime = Field(description="When the coach arrives, with its zone.")
    leave: AwareDatetime = Field(description="When it leaves, with its zone.")
    aboard: float | None = Field(None, ge=0, le=100, description="People aboard while it stands there.")
    services: list[Service] = Field(
        default_factory=list, description="What can be had: water, dump, propane, diesel, shore."
    )
    do: list[Service] = Field(default_factory=list, description="What is planned to be done there.")
    miles: float = _measured("mi", 0, 2000, "Road from the stop before.", 0.0)

    @model_validator(mode="after")
    def _makes_sense(self) -> Stop:
        if self.leave <= self.arrive:
            raise ValueError(f"{self.name}: it leaves before it arrives")
        missing = [service for service in self.do if service not in self.services]
        if missing:
            raise ValueError(f"{self.name}: {', '.join(missing)} is planned but not among its services")
        return self


class Levels(TripPart):
    """Levels at the start, as shares of full; what is left out comes from the readings."""

    fresh: float | None = Field(None, ge=0, le=1, description="Share of the fresh tank.")
    waste: float | None = Field(None, ge=0, le=1, description="Share of the waste tank.")
    propane: float | None = Field(None, ge=0, le=1, description="Share of all cylinders that feed.")
    diesel: float | None = Field(None, ge=0, le=1, description="Share of the fuel tank.")


class TripFile(TripPart):
    """One trip."""

    name: str = Field(min_length=1, max_length=120, description="What the trip is called.")
    start: AwareDatetime = Field(description="When it starts, with its zone.")
    end: AwareDatetime = Field(description="When it ends, with its zone.")
    aboard: float = Field(ge=0, le=100, description="People aboard unless a stop says otherwise.")
    fresh_per_person_day: float = _measured("gal", 0.05, 50, "Fresh water a person uses in a day.", 2.0)
    waste_per_person_day: float = _measured("gal", 0.05, 50, "What a person puts into the waste tank in a day.", 1.6)
    bound: float = Field(0.1, gt=0, lt=1, description="Highest chance of a shortfall that is accepted.")
    weather: Weather = Field(description="Outside temperatures.")
    stops: list[Stop] = Field(default_factory=list, max_length=80, description="Stops, in the order of the trip.")
    levels: Levels = Field(default_factory=Levels, description="Levels at the start.")

    @model_validator(mode="after")
    def _in_order(self) -> TripFile:
        hours = (self.end - self.start) / timedelta(hours=1)
        if not 1 <= hours <= LONGEST_H:
            raise ValueError(f"the trip must last between an hour and {LONGEST_H // 24} days")
        before, name = self.start, "the start"
        for stop in self.stops:
            if stop.arrive < before:
                raise ValueError(f"{stop.name}: it arrives before {name} is over")
            before, name = stop.leave, stop.name
        if before > self.end:
            raise ValueError(f"{name}: it is not over when the trip ends")
        return self


def itinerary(trip: TripFile, figures: CoachFigures, read_table: Callable[[str], str] | None = None) -> Itinerary:
    """The trip hour by hour.

    Args:
        trip: the checked file.
        figures: of the coach, for its thermostat.
        read_table: gives the text of a table named in the file; needed only when the weather is a csv.

    Raises:
        ValueError: the forecast does not cover the trip, or a table cannot be read.
    """
    hours = int(np.ceil((trip.end - trip.start) / timedelta(hours=1)))
    aboard = np.full(hours, trip.aboard)
    road_m = np.zeros(hours)
    visits = []
    left = 0
    for stop in trip.stops:
        arrive, leave = _hour(trip, stop.arrive), max(_hour(trip, stop.leave), _hour(trip, stop.arrive) + 1)
        arrive, leave = min(arrive, hours - 1), min(leave, hours)
        if stop.aboard is not None:
            aboard[arrive:leave] = stop.aboard
        if stop.miles:
            begin = min(left, max(arrive - 1, 0))
            driven = slice(begin, max(arrive, begin + 1))
            road_m[driven] += stop.miles * MILE_M / (driven.stop - driven.start)
        visits.append(Visit(stop.name, arrive, leave, frozenset(stop.services), frozenset(stop.do)))
        left = leave
    local = [(trip.start.hour + hour) % 24 for hour in range(hours)]
    night = np.array([hour >= NIGHT_FROM or hour < NIGHT_TO for hour in local])
    inside = np.where(night, figures.night_setpoint_k, figures.setpoint_k)
    outside = np.array(_outside(trip, hours, read_table))
    return Itinerary(trip.start, aboard, inside, outside, road_m, tuple(visits))


def remaining(trip: Itinerary, now: datetime) -> Itinerary:
    """What of a trip is still ahead: from the full hour that has begun, with the stops not yet left; all of it before its start.

    A stop in which the coach stands counts as one from now on.

    Raises:
        ValueError: the trip is over.
    """
    gone = int((now - trip.start) / timedelta(hours=1))
    if gone <= 0:
        return trip
    if gone >= trip.hours:
        raise ValueError("This trip is over. Nothing of it is ahead.")
    visits = tuple(
        replace(visit, hour=max(visit.hour - gone, 0), leave=visit.leave - gone)
        for visit in trip.visits
        if visit.leave > gone
    )
    return Itinerary(
        later(trip.start, gone),
        trip.aboard[gone:],
        trip.inside_k[gone:],
        trip.outside_k[gone:],
        trip.road_m[gone:],
        visits,
    )


def _hour(trip: TripFile, moment: datetime) -> int:
    return int((moment - trip.start) / timedelta(hours=1))


def _outside(trip: TripFile, hours: int, read_table: Callable[[str], str] | None) -> list[float]:
    weather = trip.weather
    if weather.hourly_f:
        if len(weather.hourly_f) < hours:
            raise ValueError(f"The trip has {hours} hours and the forecast {len(weather.hourly_f)}. Add the rest.")
        return [(degrees + 459.67) / 1.8 for degrees in weather.hourly_f[:hours]]
    if weather.csv:
        if read_table is None:
            raise ValueError(f"The temperatures are in {weather.csv}, which nobody has opened.")
        return hourly(points_from_csv(read_table(weather.csv), trip.start), trip.start, hours, smooth=False)
    days = {day.day: ((day.low_f + 459.67) / 1.8, (day.high_f + 459.67) / 1.8) for day in weather.daily}
    return hourly(points_from_daily(days, trip.start), trip.start, hours)


def new_trip_text(start: datetime, days: int) -> str:
    """A trip file to fill in, which is itself valid.

    Args:
        start: when the trip starts, with its zone.
        days: how long it lasts.

    Raises:
        ValueError: no zone, or no whole day between 1 and 60.
    """
    if start.tzinfo is None or not 1 <= days <= LONGEST_H // 24:
        raise ValueError("Say when the trip starts, with its time zone, and for how many days (1 to 60).")
    begin = start.replace(second=0, microsecond=0)
    end = begin + timedelta(days=days)
    forecast = "\n".join(
        f"    - {{date: {(begin + timedelta(days=day)).date()}, low_f: 5, high_f: 20}}" for day in range(days + 1)
    )
    arrive, leave = begin + timedelta(hours=4), begin + timedelta(hours=12)
    return f"""\
# A trip. Times need their zone; temperatures are in F unless written as "-12 C".
name: our trip
start: {begin.isoformat()}
end: {end.isoformat()}
aboard: 24                     # people aboard unless a stop says otherwise
fresh_per_person_day: 2 gal    # replaced by what the coach's own readings teach
waste_per_person_day: 1.6 gal
bound: 0.1                     # highest chance of a shortfall you accept
weather:                       # or hourly_f: [12, 11, ...], or csv: forecast.csv (columns time, temp_f)
  daily:
{forecast}
stops:
  - name: first stop
    arrive: {arrive.isoformat()}
    leave: {leave.isoformat()}
    aboard: 2                  # people aboard while it stands there
    services: [water, dump, propane, diesel, shore]   # what can be had
    do: []                     # what you plan to do
    miles: 180                 # road from the stop before
levels: {{}}                     # shares of full, such as {{fresh: 0.9, propane: 0.75}}; else from the readings
"""
