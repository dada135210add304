"""From readings and the coach's profile to the accounts that `estimate/ledger.py` settles: one for each supply.

What nobody told is taken from the profile or from habit, and every account says so among its assumptions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cached_property

from cabassist.coach import Coach
from cabassist.dialogue.types import Stored
from cabassist.estimate.amounts import gal, lb
from cabassist.estimate.clock import later
from cabassist.estimate.courses import (
    House,
    Known,
    Stretch,
    cold_course,
    even_course,
    people_course,
    road_course,
)
from cabassist.estimate.furnaces import AIR_FACTOR, PERSON_W
from cabassist.estimate.learning import FILLED_SD, FORECAST_SPREAD, GAUGE_SD, Supply
from cabassist.estimate.ledger import Account, Seen, Written
from cabassist.estimate.propane import BTU_PER_LB, HEAT_J_PER_KG
from cabassist.estimate.quantities import (
    BTU_J,
    BTU_PER_H_F_IN_W_PER_K,
    CELSIUS,
    FAHRENHEIT,
    GALLON_M3,
    LB_KG,
    shown,
)
from cabassist.estimate.stocks import BATTERY_LIMIT, HOUSE_SPREAD, WASTE_LIMIT, CoachFigures
from cabassist.estimate.tanks import RANGE_Z
from cabassist.estimate.trip import MILE_M
from cabassist.language.plausibility import converted, cylinder_of, fraction_of_full
from cabassist.language.plausibility import shown as said_as
from cabassist.sums.working_use import HABIT

PEOPLE_MARGIN_H, HEAT_MARGIN_H, ROAD_MARGIN_MI = 1.0, 6.0, 50.0
"""In hand before the early end: water and waste, propane, and the road to a pump. Common practice, no source."""
AIR_SD_F = 10.0
"""Standard deviation of the outside air ahead, as a mean, when all that is known is what it is now. Common practice, no source."""
DEF_SHARE, DEF_SPREAD = 0.025, 0.3
"""Exhaust fluid used for each gallon of diesel, and its width. Common practice, no source."""
REST_SD = 0.1
"""How far a charge read off the house battery's voltage may be off: it is seldom at rest. Common practice, no source."""
CHARGING_V = 0.15
"""A 12 V battery this far above its fullest rest voltage is being charged. Common practice, no source."""
DEPTH_SD = 0.02
"""The same for a depth measured in a tank, as a share of full. Common practice, no source."""
TOGETHER = timedelta(minutes=20)
"""Cylinders read within this time are one reading of the propane."""
NEAR_ODOMETER = timedelta(hours=1)
"""A level and an odometer read within this time belong together."""
RISEN, EMPTY, FULL = 0.1, 0.03, 0.97
"""A cylinder that has risen by this share was filled or swapped; at or below, above that it is empty, full."""
FRESH_DRAW = timedelta(hours=12)
LOOKS_H = 14 * 24
LOOKS_MI = 5000.0

TEMPERATURE = "Tell me the outside temperature, and I say how long the heat lasts."
DRAW = "Tell me the amps the house draws, or its charge again in a few hours."


def figures_of(coach: Coach) -> CoachFigures:
    """What calculations need to know of a coach, in SI."""
    feeding = [c for c in coach.propane.cylinders if c.role != "spare"]
    most = sum(f.input_btu_per_h for f in coach.furnaces)
    gain = sum(f.input_btu_per_h * f.efficiency for f in coach.furnaces)
    return CoachFigures(
        fresh_m3=coach.tank("fresh").capacity_gal * GALLON_M3,
        waste_m3=coach.tank("waste").capacity_gal * GALLON_M3,
        propane_kg=sum(c.nominal_lb for c in feeding) * LB_KG,
        loss_w_per_k=_loss_btu(coach) * BTU_PER_H_F_IN_W_PER_K,
        efficiency=gain / most if most else 1.0,
        furnaces_w=most * BTU_J / 3600,
        fresh_m3_per_person_day=HABIT["fresh"] * GALLON_M3,
        waste_m3_per_person_day=HABIT["waste"] * GALLON_M3,
        setpoint_k=(coach.cabin.setpoint_f + 459.67) / 1.8,
        night_setpoint_k=(coach.cabin.night_setpoint_f + 459.67) / 1.8,
        diesel_m3=coach.diesel.capacity_gal * GALLON_M3,
        diesel_m3_per_m=GALLON_M3 / coach.diesel.miles_per_gal / MILE_M,
        battery_ah=coach.house_battery.capacity_ah,
    )


def _loss_btu(coach: Coach) -> float:
    return coach.cabin.ua_btu_per_h_f + AIR_FACTOR * coach.cabin.infiltration_cfm


@dataclass(frozen=True)
class Cylinders:
    """The cylinders that count, in the order in which they feed, with their shares as last read."""

    order: tuple[str, ...]
    shares: dict[str, float]


@dataclass(frozen=True)
class Accounts:
    """Every account of a coach at one moment; makes each when it is asked for."""

    coach: Coach
    stored: Sequence[Stored]
    now: datetime

    # -- what is known ------------------------------------------------------------------------------------------

    def history(self, what: str, which: str | None = None) -> tuple[tuple[datetime, float], ...]:
        """The levels of one supply as they were read, oldest first: moment, share of full."""
        return tuple(
            (held.at, share) for held, share in self._levels(what) if which is None or which in self._roles(held)
        )

    def _levels(self, what: str) -> list[tuple[Stored, float]]:
        if what not in self._found:
            shares = ((held, self._share(held)) for held in self._by_kind.get(what, ()) if held.at <= self.now)
            self._found[what] = [(held, share) for held, share in shares if share is not None]
        return self._found[what]

    @cached_property
    def _found(self) -> dict[str, list[tuple[Stored, float]]]:
        return {}

    @cached_property
    def _by_kind(self) -> dict[str, list[Stored]]:
        """The readings of each kind in local time, oldest first: forecasts look them through again and again."""
        found: dict[str, list[Stored]] = {}
        for held in sorted(self.stored, key=lambda held: held.at):
            local = replace(held, at=held.at.astimezone(self.now.tzinfo))
            found.setdefault(held.reading.what, []).append(local)
        return found

    def _share(self, held: Stored) -> float | None:
        if held.reading.what != "house_battery":
            return fraction_of_full(held.reading, self.coach)
        value, unit = held.reading.value, held.reading.unit
        if value is None or unit not in ("percent", "fraction", "V"):
            return None
        return self._charge(value) if unit == "V" else value / (100 if unit == "percent" else 1)

    def _charge(self, volts: float) -> float | None:
        """Share of full by the rest voltage; None above what a rested battery has: then it is charging."""
        from cabassist.estimate.battery import REST_VOLTS
        from cabassist.estimate.quantities import interpolated

        (lowest, _), (highest, _) = REST_VOLTS[0], REST_VOLTS[-1]
        half = volts * 12 / self.coach.house_battery.volts
        if half > highest + CHARGING_V:
            return None
        return interpolated(REST_VOLTS, min(max(half, lowest), highest))

    def values(self, what: str, until: datetime, as_si: Callable[[float, str], float]) -> Known:
        """Values that readings gave up to a moment, oldest first."""
        return tuple(
            (held.at, as_si(held.reading.value, held.reading.unit or ""))
            for held in self._by_kind.get(what, ())
            if held.reading.value is not None and held.at <= until
        )

    def _aboard(self, until: datetime) -> Known:
        usual = float(self.coach.people.usual_passengers)
        return self.values("passengers", until, lambda value, _: value) or ((self.now, usual),)

    def _outside(self, until: datetime) -> Known:
        def kelvin(value: float, unit: str) -> float:
            celsius = unit == "C" or (not unit and self.metric)
            return value + 273.15 if celsius else (value + 459.67) / 1.8

        return self.values("outside_temp", until, kelvin)

    def _road(self, until: datetime) -> Known:
        read = self.values("odometer", until, lambda value, unit: converted(value, unit or "mi", "mi") * MILE_M)
        return tuple((at, value) for i, (at, value) in enumerate(read) if i == 0 or value >= read[i - 1][1])

    @property
    def metric(self) -> bool:
        """Whether the driver is answered in metric units."""
        return self.coach.units == "metric"

    # -- the accounts -------------------------------------------------------------------------------------------

    def account(self, what: str) -> tuple[Account | None, str]:
        """The account of a supply, or None and what to tell to have one; "" when it is just not read yet."""
        makers: dict[str, Callable[[], tuple[Account | None, str]]] = {
            "fresh": self._people, "waste": lambda: self._people("waste"), "propane": self._propane,
            "house_battery": self._battery, "diesel": self._diesel, "def": lambda: self._diesel("def"),
        }  # fmt: skip
        made = makers.get(what)
        return made() if made is not None and self.history(what) else (None, "")

    def _people(self, what: str = "fresh") -> tuple[Account | None, str]:
        supply = figures_of(self.coach).supplies()[what]
        written = (
            Written("L", 1000.0, "person-hours", 1.0) if self.metric else Written("gal", gal(1.0), "person-hours", 1.0)
        )
        each = HABIT[what] * GALLON_M3 * written.per_amount
        assumed = [f"{shown(each)} {written.amount} a person a day before any reading (common practice, no source)"]
        assumed.append(self._aboard_words())
        assumed.append(
            "little use at night, most in the morning and evening: weights by the clock (common practice, no source)"
        )

        def past(since: datetime, until: datetime, known: datetime) -> tuple[Stretch, ...]:
            return people_course(since, until, self._aboard(known))

        return Account(
            supply, written, f"{shown(each)} ÷ 24 = {shown(each / 24)}", self._seen(what, supply, written), past,
            lambda since, known: _days(lambda a, b: people_course(a, b, self._aboard(known)), since),
            limit=WASTE_LIMIT * supply.capacity if supply.rising else 0.0,
            margin=PEOPLE_MARGIN_H, forecast_spread=FORECAST_SPREAD, assumptions=tuple(assumed),
        ), ""  # fmt: skip

    def _aboard_words(self) -> str:
        known = self.values("passengers", self.now, lambda value, _: value)
        if known:
            return f"{shown(known[-1][1])} people aboard as last told, {known[-1][0]:%a %H:%M}, from now on"
        return f"{self.coach.people.usual_passengers} people aboard as usual (profile); nobody has told how many"

    def _seen(self, what: str, supply: Supply, written: Written) -> tuple[Seen, ...]:
        return tuple(
            self._one(held, share, supply, written, share >= FULL if not supply.rising else share <= EMPTY)
            for held, share in self._levels(what)
        )

    def _one(self, held: Stored, share: float, supply: Supply, written: Written, brim: bool) -> Seen:
        """One reading of a tank; at the brim, or dumped, it is read more surely."""
        sd, sd_sum = (FILLED_SD, shown(FILLED_SD)) if brim else self._sd(held)
        words = (
            f"{said_as(held.reading.value or 0.0, held.reading.unit)}: {shown(share)} x"
            f" {shown(supply.capacity * written.per_amount)} = {shown(share * supply.capacity * written.per_amount)}"
        )
        sd_words = f"{sd_sum} x {shown(supply.capacity * written.per_amount)}"
        return Seen(held.at, share * supply.capacity, sd * supply.capacity, words, sd_words)

    def _sd(self, held: Stored) -> tuple[float, str]:
        """Standard deviation of a level as a share of full, and its sum: the gauge's, or what the words left open."""
        reading = held.reading
        base = DEPTH_SD if reading.unit in ("in", "cm", "ft") else GAUGE_SD
        if reading.what == "house_battery" and reading.unit == "V":
            return REST_SD, shown(REST_SD)
        if reading.approx and reading.low is not None and reading.high is not None:
            ends = [fraction_of_full(replace(reading, value=end), self.coach) for end in (reading.low, reading.high)]
            if ends[0] is not None and ends[1] is not None:
                low, high = sorted((ends[0], ends[1]))
                if (sd := (high - low) / 2 / RANGE_Z) > base:
                    return sd, f"({shown(high)} - {shown(low)}) ÷ 2 ÷ 1.2816"
        return base, shown(base)

    # -- propane ------------------------------------------------------------------------------------------------

    def cylinders(self) -> Cylinders:
        """The feeding cylinders that were read, the one in use first: the lower one, of two alike the outside one."""
        roles = [c.role for c in self.coach.propane.cylinders if c.role != "spare"]
        shares: dict[str, float] = {}
        for held, share in self._levels("propane"):
            for role in self._roles(held):
                shares[role] = share
        known = [role for role in roles if role in shares]
        order = sorted(known, key=lambda role: (shares[role] <= EMPTY, shares[role], roles.index(role)))
        return Cylinders(tuple(order), shares)

    def _roles(self, held: Stored) -> tuple[str, ...]:
        """The feeding cylinders that a reading is of; nothing for other readings."""
        if held.reading.what != "propane":
            return ()
        feeding = tuple(str(c.role) for c in self.coach.propane.cylinders if c.role != "spare")
        if held.reading.which == "both":
            return feeding
        cylinder = cylinder_of(held.reading.which, self.coach)
        return tuple(role for role in feeding if cylinder is not None and role == cylinder.role)

    def size_kg(self, role: str) -> float:
        """What a cylinder holds at its legal fill."""
        return next(c.nominal_lb for c in self.coach.propane.cylinders if c.role == role) * LB_KG

    def _propane(self) -> tuple[Account | None, str]:
        figures = figures_of(self.coach)
        cylinders = self.cylinders()
        supply = figures.supplies().get("propane")
        if supply is None or not cylinders.order:
            return None, ""
        if not self._outside(self.now):
            return None, TEMPERATURE
        supply = replace(supply, capacity=sum(self.size_kg(role) for role in cylinders.order))
        scale = CELSIUS if self.metric else FAHRENHEIT
        written = Written("kg", 1.0, "°C-hours", 1.0) if self.metric else Written("lb", lb(1.0), "°F-hours", 1.8)
        house = House(figures.setpoint_k, figures.night_setpoint_k, figures.loss_w_per_k, figures.heat().most_w or 0.0)

        def past(since: datetime, until: datetime, known: datetime) -> tuple[Stretch, ...]:
            outside = self._outside(known) or self._outside(self.now)[:1]
            return cold_course(since, until, outside, self._aboard(known), house, scale)

        need = max(past(self.now, later(self.now, 24), self.now), key=lambda one: one.pace).pace
        least = max(need, AIR_SD_F / 1.8)
        spread = float((FORECAST_SPREAD**2 + (AIR_SD_F / 1.8 / least) ** 2) ** 0.5)
        air, gap = shown(scale.span(AIR_SD_F / 1.8)), shown(scale.span(least))
        ahead = f"what lies ahead may be off by: √({FORECAST_SPREAD:g}² + ({air} ÷ {gap})²) = {shown(spread)}"
        return Account(
            supply, written, self._burn_words(figures), self._propane_seen(supply, written), past,
            lambda since, known: _days(lambda a, b: past(a, b, known), since),
            limit=0.0, margin=HEAT_MARGIN_H, forecast_spread=spread,
            assumptions=self._heat_assumptions(cylinders, figures),
            source="heat loss U·A·ΔT (ASHRAE Fundamentals, from memory); heat of propane: NFPA 58 Annex B (published, secondary)",
            notes=(*self._warmth_lines(figures), ahead),
        ), ""  # fmt: skip

    def _burn_words(self, figures: CoachFigures) -> str:
        """The burn for each degree-hour by physics, as a sum."""
        if self.metric:
            kj, each = HEAT_J_PER_KG / 1000, figures.supplies()["propane"].rate
            return f"{shown(figures.loss_w_per_k)} x 3.6 ÷ {shown(figures.efficiency)} ÷ {shown(kj, 5)} = {shown(each)}"
        cabin, loss = self.coach.cabin, _loss_btu(self.coach)
        each = loss / figures.efficiency / BTU_PER_LB
        return (
            f"({shown(cabin.ua_btu_per_h_f)} + {AIR_FACTOR:g} x {shown(cabin.infiltration_cfm)}) ÷"
            f" {shown(figures.efficiency)} ÷ {shown(BTU_PER_LB, 5)} = {shown(each)}"
        )

    def _warmth_lines(self, figures: CoachFigures) -> tuple[str, ...]:
        """What the people warm, which the furnaces need not."""
        lines = []
        for aboard in dict.fromkeys(value for _, value in self._aboard(self.now)):
            if self.metric:
                each, loss, unit = PERSON_W, figures.loss_w_per_k, "°C"
            else:
                each, loss, unit = PERSON_W * 3600 / BTU_J, _loss_btu(self.coach), "°F"
            lines.append(
                f"{shown(aboard)} people warm the cabin by: {shown(aboard)} x {shown(each)} ÷ {shown(loss)} = {shown(aboard * each / loss)} {unit}"
            )
        return tuple(lines)

    def _heat_assumptions(self, cylinders: Cylinders, figures: CoachFigures) -> tuple[str, ...]:
        at, kelvin = self._outside(self.now)[-1]
        scale = CELSIUS if self.metric else FAHRENHEIT
        air = f"{shown(AIR_SD_F / 1.8, 2)} °C" if self.metric else f"{shown(AIR_SD_F)} °F"
        lines = [
            f"outside stays at {scale.show(kelvin)} as told {at:%a %H:%M}, give or take {air} (common practice, no source)",
            f"inside {scale.show(figures.setpoint_k)}, from 22:00 to 07:00 {scale.show(figures.night_setpoint_k)} (profile)",
            self._aboard_words(),
        ]
        feeding = [c.role for c in self.coach.propane.cylinders if c.role != "spare"]
        unread = [role for role in feeding if role not in cylinders.shares]
        lines += [f"the {role} cylinder is not counted: nobody has read it" for role in unread]
        if len(cylinders.order) > 1:
            lines.append(f"the {cylinders.order[0]} cylinder feeds first")
        return tuple(lines)

    def _propane_seen(self, supply: Supply, written: Written) -> tuple[Seen, ...]:
        """All cylinders that were read, together, whenever one or more of them were."""
        shares: dict[str, float] = {}
        sds: dict[str, tuple[float, str]] = {}
        made: list[Seen] = []
        begun: datetime | None = None
        touched: set[str] = set()
        afresh = False
        for held, share in self._levels("propane"):
            roles = self._roles(held)
            if not roles:
                continue
            joins = begun is not None and held.at - begun <= TOGETHER and not touched & set(roles)
            if not joins:
                begun, touched, afresh = held.at, set(), False
            for role in roles:
                afresh = afresh or role not in shares or share - shares[role] >= RISEN
                shares[role], sds[role] = share, self._sd(held)
            touched |= set(roles)
            whole = sum(shares[r] * self.size_kg(r) for r in shares)
            sd = sum((sds[r][0] * self.size_kg(r)) ** 2 for r in shares) ** 0.5
            sum_ = " + ".join(f"{shown(shares[r])} x {shown(self.size_kg(r) * written.per_amount)}" for r in shares)
            words = f"{' and '.join(shares)}: {sum_} = {shown(whole * written.per_amount)}"
            squares = " + ".join(f"({sds[r][1]} x {shown(self.size_kg(r) * written.per_amount)})²" for r in shares)
            made = (made[:-1] if joins else made) + [Seen(held.at, whole, sd, words, f"√({squares})", afresh)]
        return tuple(made)

    # -- battery and road ---------------------------------------------------------------------------------------

    def _battery(self) -> tuple[Account | None, str]:
        draw = next(
            (
                held
                for held in reversed(self.stored)
                if held.reading.what == "house_battery" and held.reading.unit == "A" and held.reading.value
                and timedelta(0) <= self.now - held.at <= FRESH_DRAW
            ),
            None,
        )  # fmt: skip
        if draw is None or draw.reading.value is None or "charg" in draw.reading.said:
            return None, DRAW
        amps, full = abs(draw.reading.value), self.coach.house_battery.capacity_ah
        supply = Supply("house battery", full, "A*h", amps, HOUSE_SPREAD, 0.0)
        written = Written("Ah", 1.0, "hours", 1.0)

        def past(since: datetime, until: datetime, known: datetime) -> tuple[Stretch, ...]:
            return even_course((until - since) / timedelta(hours=1))

        return Account(
            supply, written, f"{shown(amps)} x 1 = {shown(amps)}", self._seen("house_battery", supply, written), past,
            lambda since, known: iter(even_course(LOOKS_H)),
            limit=BATTERY_LIMIT * full, margin=PEOPLE_MARGIN_H, forecast_spread=FORECAST_SPREAD,
            assumptions=(
                f"{shown(amps)} A drawn as told, and nothing charging",
                "down to half, as lead-acid wants; at about 80 °F, in the cold it gives less",
                "a voltage is taken as one at rest (BCI table)",
            ),
        ), ""  # fmt: skip

    def _diesel(self, what: str = "diesel") -> tuple[Account | None, str]:
        share = DEF_SHARE if what == "def" else 1.0
        diesel = self.coach.diesel
        full = diesel.def_capacity_gal if what == "def" else diesel.capacity_gal
        if not full:
            return None, ""
        supply = figures_of(self.coach).supplies()["diesel"]
        supply = replace(
            supply, name="DEF" if what == "def" else "diesel", capacity=full * GALLON_M3, rate=supply.rate * share
        )
        unit, long = ("km", 1000.0) if self.metric else ("miles", MILE_M)
        written = Written("L" if self.metric else "gal", 1000.0 if self.metric else gal(1.0), unit, 1 / long, unit)
        if what == "def":
            supply = replace(supply, rate_spread=DEF_SPREAD)
        each = supply.rate * written.per_amount * long
        prior = f"{share:g} ÷ {shown(diesel.miles_per_gal)} = {shown(each)}"
        if self.metric:
            per_km = GALLON_M3 * 1000 / (MILE_M / 1000)
            prior = f"{share:g} x {shown(per_km)} ÷ {shown(diesel.miles_per_gal)} = {shown(each)}"
        road = self._road(self.now)
        notes: tuple[str, ...] = (
            f"{shown(diesel.miles_per_gal)} miles to the gallon (profile)",
            "idling is not counted",
        )
        notes += ("2.5 % of the diesel (common practice, no source)",) if what == "def" else ()
        notes += (
            (f"miles driven since {road[-1][0]:%a %H:%M} are not taken off: the odometer was read then",)
            if road
            else ("miles driven since the reading are not taken off: nobody has told the odometer",)
        )

        def past(since: datetime, until: datetime, known: datetime) -> tuple[Stretch, ...]:
            return road_course(since, until, self._road(known), long)

        return Account(
            supply, written, prior, self._fuel_seen(what, supply, written, road), past,
            lambda since, known: iter(even_course(LOOKS_MI, long, "1")),
            limit=0.0, margin=ROAD_MARGIN_MI * MILE_M / long, forecast_spread=FORECAST_SPREAD, assumptions=notes,
        ), ""  # fmt: skip

    def _fuel_seen(self, what: str, supply: Supply, written: Written, road: Known) -> tuple[Seen, ...]:
        """Levels; one from which nobody knows the miles to the level before starts afresh."""
        made: list[Seen] = []
        for one in self._seen(what, supply, written):
            both = made and all(
                any(abs(at - moment) <= NEAR_ODOMETER for moment, _ in road) for at in (made[-1].at, one.at)
            )
            made.append(replace(one, afresh=not both))
        return tuple(made)


def _days(course: Callable[[datetime, datetime], tuple[Stretch, ...]], since: datetime) -> Iterator[Stretch]:
    """What lies ahead, made day by day: most answers need no more than the first few."""
    for day in range(0, LOOKS_H, 24):
        yield from course(later(since, day), later(since, day + 24))
