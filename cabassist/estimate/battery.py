"""The house battery: state of charge at rest, hours it lasts, hours to charge it, when it freezes, cranking power.

Lead-acid throughout. Outside a table there is no number, only the bound that the table's end gives.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from cabassist.estimate.quantities import (
    CELSIUS,
    FAHRENHEIT,
    MEMORY,
    PRACTICE,
    ZERO_CELSIUS_K,
    Scale,
    between,
    exact,
    figure,
    interpolated,
    not_negative,
    positive,
    ranged,
    roughly,
    scale_of,
    share,
    shown,
    some_share,
    temperature_k,
    tidy,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

REST_VOLTS: tuple[tuple[float, float], ...] = ((11.89, 0.0), (12.06, 0.25), (12.24, 0.5), (12.45, 0.75), (12.65, 1.0))
"""A rested 12 V lead-acid battery at 80 °F: volts, charge (BCI table, repeated twice)."""
CHARGE_GRAVITY: tuple[tuple[float, float], ...] = (
    (0.0, 1.120),
    (0.25, 1.155),
    (0.5, 1.190),
    (0.75, 1.225),
    (1.0, 1.265),
)
"""Charge, specific gravity at 80 °F (same table)."""
VOLTS_CORRECTION: tuple[tuple[float, float], ...] = (
    (0.0, -0.192),
    (20.0, -0.144),
    (40.0, -0.096),
    (60.0, -0.048),
    (80.0, 0.0),
    (100.0, 0.048),
)
"""°F, volts to add to the reading of a 12 V battery (BCI-type table)."""
CHARGE_EFFICIENCY = 0.85
"""Share of a charger's current that a lead battery stores, when it is not told. Common practice, no source."""
METER_V = 0.05
"""How far a 12 V reading may be off by meter and short rest, for the 10-90 % range (common practice, no source)."""
FREEZING_F: tuple[tuple[float, float], ...] = (
    (1.000, 32.0),
    (1.100, 19.0),
    (1.150, 5.0),
    (1.200, -16.0),
    (1.250, -62.0),
    (1.280, -90.0),
)
"""Specific gravity, freezing point °F: U.S. Army OD1002 and TM 5-1185 Table III."""
CRANKING: tuple[tuple[float, float], ...] = ((0.0, 0.40), (30.0, 0.65), (80.0, 1.0))
"""°F, share of full cranking power: U.S. Army TM 5-1185."""
CAPACITY: tuple[tuple[float, float], ...] = ((0.0, 0.60), (32.0, 0.80), (80.0, 1.0))
"""°F, share of the capacity at a slow discharge (from memory)."""
TAPER = 1.3
"""How much longer a charge may take because a charger eases off near full (common practice, no source)."""

BCI_SOURCE = "BCI table of rest voltage and its temperature correction (published, secondary)"
ARMY_SOURCE = "U.S. Army OD1002 and TM 5-1185 Table III, freezing of battery acid (published)"
CRANKING_SOURCE = "U.S. Army TM 5-1185, cranking power in the cold (published)"
PEUKERT_SOURCE = "Peukert's law in its rated form (electrotechnik.net and others; published, secondary)"
NEVER_CHARGE_FROZEN = "Never charge or jump a battery that may be frozen: it can burst."


def state_of_charge(
    rest_voltage: Quantity[Any],
    *,
    battery_temperature: Quantity[Any] | None = None,
    nominal: Quantity[Any] | None = None,
    outside: Quantity[Any] | None = None,
) -> Estimate:
    """Charge of a lead-acid battery from its voltage at rest.

    At rest means some hours without charging and without load.

    Args:
        rest_voltage: volts read [voltage].
        battery_temperature: the battery's own temperature, 80 °F when left out [temperature].
        nominal: 12 or 24 V, 12 when left out [voltage].
        outside: how cold it will get, to see whether it can freeze [temperature].

    Returns:
        Percent of full. None below 0 °F or above 100 °F, where the correction table ends, and above a rested voltage.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a voltage such a bank can't have.

    Source: BCI table with temperature correction; U.S. Army table for freezing.
    """
    bank = 12.0 if nominal is None else positive(nominal, "V", "the bank's voltage")
    if bank not in (12.0, 24.0):
        raise ValueError(f"I know banks of 12 and 24 volts, not {shown(bank)}. Say which it is.")
    read = not_negative(rest_voltage, "V", "the battery") * 12 / bank
    if not 0 < read <= 16:
        raise ValueError(f"{rest_voltage:~P} can't be a {shown(bank)} volt battery. Read the meter again.")
    scale = CELSIUS if battery_temperature is None else scale_of(battery_temperature)
    warm_f = 80.0 if battery_temperature is None else _fahrenheit(battery_temperature, "the battery")
    halved = () if bank == 12 else (f"{shown(read * 2, 5)} V ÷ 2 = {shown(read, 5)} V for each 12 V half.",)
    correction = interpolated(VOLTS_CORRECTION, warm_f)
    if correction is None:
        return _charge_beyond_table(read, warm_f, scale, halved)
    volts = tidy(read + correction)
    lines = [*halved]
    if battery_temperature is not None:
        lines.append(f"Corrected for {shown(warm_f)} °F: {shown(read, 5)} {_signed(correction)} = {shown(volts, 5)} V.")
    if volts > REST_VOLTS[-1][0] + 0.15:
        return withheld(
            "charge",
            "percent",
            f"{shown(volts)} volts is no rest voltage: it is charging, or has just been charged. Let it rest some hours.",
            working=tuple(lines),
            source=BCI_SOURCE,
        )
    charge = _charge_at(volts)
    low, high = _charge_at(volts - METER_V), _charge_at(volts + METER_V)
    lines.append(_table_line(volts, charge))
    freezes_f, careful_f, hopeful_f = (_freezes_at_f(each) for each in (charge, low, high))
    return ranged(
        "charge",
        charge * 100,
        "percent",
        low * 100,
        high * 100,
        working=tuple(lines),
        assumptions=(
            "lead-acid, some hours at rest without charge or load",
            f"meter and rest good for {METER_V} V a 12 V battery ({PRACTICE})",
            *(() if battery_temperature is not None else ("battery at 80 °F; in the cold say its temperature",)),
        ),
        source=BCI_SOURCE,
        verdict=_charge_verdict(charge, volts, careful_f, outside),
        also=(figure("acid freezes at about", freezes_f, "F", hopeful_f, careful_f),),
    )


def freezing_point(specific_gravity: float, *, outside: Quantity[Any] | None = None) -> Estimate:
    """Temperature at which battery acid of a specific gravity freezes, and the risk at an outside temperature.

    Uses the Army's values. A much-copied table is some 25 °F too low for a discharged battery.

    Args:
        specific_gravity: hydrometer reading at 80 °F, 1.000 to 1.280.
        outside: how cold the battery gets [temperature].

    Returns:
        °F, or °C when `outside` is in Celsius; None outside the table.

    Raises:
        DimensionalityError: `outside` is no temperature.
        ValueError: a gravity no battery has.

    Source: U.S. Army OD1002 and TM 5-1185 Table III.
    """
    if not 0.9 <= specific_gravity <= 1.5:
        raise ValueError(
            f"I can't use {specific_gravity} as a specific gravity. A battery reads between 1.000 and 1.300."
        )
    scale = FAHRENHEIT if outside is None else scale_of(outside)
    point_f = interpolated(FREEZING_F, specific_gravity)
    if point_f is None:
        return withheld(
            "acid freezes at",
            scale.letter,
            f"The Army table ends at 1.280; at {specific_gravity:.3f} it gives no number.",
            high=None if specific_gravity < 1 else scale.degrees(_kelvin(FREEZING_F[-1][1])),
            source=ARMY_SOURCE,
        )
    point_k = _kelvin(point_f)
    below = max(row for row in FREEZING_F if row[0] <= specific_gravity)
    above = min(row for row in FREEZING_F if row[0] >= specific_gravity)
    line = f"Army table at {specific_gravity:.3f}: {scale.show(point_k)}."
    if below != above:
        line = (
            f"Between {below[0]:.3f} ({shown(below[1])} °F) and {above[0]:.3f} ({shown(above[1])} °F): "
            f"{shown(point_f)} °F."
        )
    verdict = ""
    if outside is not None:
        verdict = _freeze_risk(point_f, outside)
    return exact(
        "acid freezes at",
        scale.degrees(point_k),
        scale.letter,
        working=(line,),
        assumptions=("straight lines between the table's points", "gravity corrected to 80 °F"),
        source=ARMY_SOURCE,
        verdict=verdict,
    )


def battery_hours(
    capacity: Quantity[Any],
    load: Quantity[Any],
    *,
    nominal: Quantity[Any] | None = None,
    charge: float = 1.0,
    stop_at: float = 0.5,
) -> Estimate:
    """Hours a battery carries a load down to a level, by amp hours alone.

    Args:
        capacity: capacity at the 20-hour rate [charge].
        load: amps, or watts [current or power].
        nominal: voltage, needed when the load is in watts; 12 V when left out [voltage].
        charge: charge now, as a share of full.
        stop_at: level at which to stop, as a share of full.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no capacity or load, or an impossible share.

    Source: hours = amp hours ÷ amps.
    """
    hours_ah, flow, lines = _bank(capacity, load, nominal)
    use = _usable(charge, stop_at)
    hours = hours_ah * use / flow
    return exact(
        "hours on battery",
        hours,
        "h",
        working=(
            *lines,
            f"{shown(hours_ah)} Ah × ({shown(charge)} - {shown(stop_at)}) = {shown(hours_ah * use)} Ah to use.",
            f"{shown(hours_ah * use)} ÷ {shown(flow)} A = {shown(hours)} h.",
        ),
        assumptions=("the load stays the same; cold and fast loads take capacity away", _stop_note(stop_at)),
        source="amp hours ÷ amps, arithmetic",
        verdict=_battery_verdict(use, hours, stop_at),
    )


def house_battery_hours(
    capacity: Quantity[Any],
    load: Quantity[Any],
    *,
    nominal: Quantity[Any] | None = None,
    charge: float = 1.0,
    stop_at: float = 0.5,
    exponent: float = 1.2,
    rated_time: Quantity[Any] | None = None,
    battery_temperature: Quantity[Any] | None = None,
) -> Estimate:
    """Hours a battery carries a load down to a level, by Peukert's law and the battery's temperature.

    Args:
        capacity: capacity at the rated time [charge].
        load: amps, or watts [current or power].
        nominal: voltage, needed when the load is in watts; 12 V when left out [voltage].
        charge: charge now, as a share of full.
        stop_at: level at which to stop, as a share of full.
        exponent: Peukert exponent, 1.0 to 1.6.
        rated_time: time the capacity is rated for, 20 h when left out [time].
        battery_temperature: the battery's own temperature; no correction when left out [temperature].

    Returns:
        Hours. In the cold the range runs from the Army's cranking share to full capacity; None below 0 °F.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no capacity or load, or an impossible share, exponent or time.

    Source: t = H·(C/(I·H))^k; capacity in the cold from memory, bounded by U.S. Army TM 5-1185.
    """
    hours_ah, flow, lines = _bank(capacity, load, nominal)
    use = _usable(charge, stop_at)
    rated = 20.0 if rated_time is None else positive(rated_time, "h", "the rated time")
    full = peukert_hours(hours_ah, flow, exponent, rated)
    hours = full * use
    working = (
        *lines,
        f"Full: {shown(rated)} h × ({shown(hours_ah)} ÷ ({shown(flow)} × {shown(rated)}))^{shown(exponent)}"
        f" = {shown(full)} h.",
        f"From {shown(charge * 100)} to {shown(stop_at * 100)} %: {shown(full)} × {shown(use)} = {shown(hours)} h.",
    )
    notes = ("the load stays the same", _stop_note(stop_at))
    if battery_temperature is None:
        return exact(
            "hours on battery",
            hours,
            "h",
            working=working,
            assumptions=(*notes, "battery at about 80 °F; in the cold it gives less"),
            source=PEUKERT_SOURCE,
            verdict=_battery_verdict(use, hours, stop_at),
        )
    warm_f = _fahrenheit(battery_temperature, "the battery")
    part = interpolated(CAPACITY, min(warm_f, 80.0))
    least = interpolated(CRANKING, min(warm_f, 80.0))
    if part is None or least is None:
        return withheld(
            "hours on battery",
            "h",
            f"No figure below 0 °F. It is less than the {roughly(hours * CAPACITY[0][1])} of 0 °F.",
            high=hours * CAPACITY[0][1],
            working=working,
            source=f"{PEUKERT_SOURCE}; capacity in the cold {MEMORY}",
        )
    return ranged(
        "hours on battery",
        hours * part,
        "h",
        hours * least,
        hours,
        working=(*working, f"At {shown(warm_f)} °F it gives about {shown(part * 100)} %: {shown(hours * part)} h."),
        assumptions=(*notes, f"capacity in the cold {MEMORY}; low end: the Army's cranking share, high end: no loss"),
        source=f"{PEUKERT_SOURCE}; {CRANKING_SOURCE}",
        verdict=_battery_verdict(use, hours * part, stop_at, between(hours * least, hours)),
    )


def peukert_hours(capacity_ah: float, current_a: float, exponent: float, rated_hours: float = 20.0) -> float:
    """Hours a full battery carries a current, H·(C/(I·H))^k.

    Raises:
        ValueError: a capacity, current or time that is not above zero, or an exponent outside 1.0 to 1.6.

    Source: Peukert's law, rated form.
    """
    if capacity_ah <= 0 or current_a <= 0 or rated_hours <= 0:
        raise ValueError("Capacity, amps and rated hours must be more than zero. Say them again.")
    if not 1.0 <= exponent <= 1.6:
        raise ValueError(f"I can't use {exponent} as a Peukert exponent. It is between 1.0 and 1.6, often 1.2.")
    return rated_hours * math.pow(capacity_ah / (current_a * rated_hours), exponent)


def charge_hours(
    missing: Quantity[Any], current: Quantity[Any], *, efficiency: float = CHARGE_EFFICIENCY, to_full: bool = True
) -> Estimate:
    """Hours to put amp hours back.

    Args:
        missing: amp hours to put back [charge].
        current: amps the charger gives [current].
        efficiency: share of the charge that stays in the battery.
        to_full: whether it is charged full; near full the charger eases off and the range says so.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no current, a negative charge or an impossible efficiency.

    Source: hours = amp hours ÷ (amps × efficiency).
    """
    wanted = not_negative(missing, "A*h", "the missing charge")
    flow, part = positive(current, "A", "the charger"), some_share(efficiency, "the efficiency")
    return _charging(wanted, flow, part, to_full=to_full)


def charge_hours_between(
    capacity: Quantity[Any],
    from_charge: float,
    to_charge: float,
    current: Quantity[Any],
    *,
    efficiency: float = CHARGE_EFFICIENCY,
) -> Estimate:
    """Hours to charge a bank from one level to another.

    Args:
        capacity: capacity of the bank [charge].
        from_charge: level now, as a share of full.
        to_charge: level wanted, as a share of full.
        current: amps the charger gives [current].
        efficiency: share of the charge that stays in the battery.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: an impossible level, capacity, current or efficiency, or a level wanted below the present one.

    Source: hours = amp hours ÷ (amps × efficiency).
    """
    bank = positive(capacity, "A*h", "the capacity")
    start, end = share(from_charge, "the level now"), share(to_charge, "the level wanted")
    if end < start:
        raise ValueError(
            f"{shown(end * 100)} percent is below the {shown(start * 100)} percent it has. Say the level again."
        )
    missing = (end - start) * bank
    flow, part = positive(current, "A", "the charger"), some_share(efficiency, "the efficiency")
    line = f"{shown(bank)} Ah × ({shown(end)} - {shown(start)}) = {shown(missing)} Ah."
    return _charging(missing, flow, part, line, to_full=end > 0.85)


def amp_hours_used(
    power: Quantity[Any], time: Quantity[Any], nominal: Quantity[Any], *, efficiency: float = 1.0
) -> Estimate:
    """Amp hours a load takes from the battery, through an inverter if it has one.

    Args:
        power: the load [power].
        time: how long it runs [time].
        nominal: battery voltage [voltage].
        efficiency: share of the battery's power that reaches the load, 1 without an inverter.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative load or time, no voltage or an impossible efficiency.

    Source: Ah = W·h ÷ (V × efficiency).
    """
    load, hours = not_negative(power, "W", "the load"), not_negative(time, "h", "the time")
    volts, part = positive(nominal, "V", "the battery"), some_share(efficiency, "the efficiency")
    used = load * hours / (volts * part)
    return exact(
        "amp hours used",
        used,
        "Ah",
        working=(f"{shown(load)} W × {shown(hours)} h ÷ ({shown(volts)} V × {shown(part)}) = {shown(used)} Ah.",),
        source="arithmetic",
    )


def cranking_power(battery_temperature: Quantity[Any]) -> Estimate:
    """Share of its full cranking power that a charged battery has in the cold.

    Args:
        battery_temperature: the battery's own temperature [temperature].

    Returns:
        Percent; None below 0 °F or above 80 °F, where the Army's figures end.

    Raises:
        DimensionalityError: not a temperature.

    Source: U.S. Army TM 5-1185: 100 % at 80 °F, 65 % at 30 °F, 40 % at 0 °F.
    """
    warm_f = _fahrenheit(battery_temperature, "the battery")
    part = interpolated(CRANKING, warm_f)
    if part is None:
        cold = warm_f < 0
        return withheld(
            "cranking power",
            "percent",
            f"The Army's figures end at {'0' if cold else '80'} °F. "
            + ("It is less than 40 percent: use the block heater." if cold else "It is the full power."),
            high=40 if cold else None,
            low=None if cold else 100,
            source=CRANKING_SOURCE,
        )
    return exact(
        "cranking power",
        part * 100,
        "percent",
        working=(
            f"Between 100 % at 80 °F, 65 % at 30 °F and 40 % at 0 °F: {shown(part * 100, 3)} % at {shown(warm_f)} °F.",
        ),
        assumptions=("a fully charged battery; straight lines between the points; cold oil also needs more power",),
        source=CRANKING_SOURCE,
        verdict=f"About {shown(part * 100, 2)} percent of its cranking power.",
    )


def _charging(missing_ah: float, current_a: float, efficiency: float, *before: str, to_full: bool) -> Estimate:
    hours = missing_ah / (current_a * efficiency)
    easing = (f"near full it eases off: up to 30 % longer ({PRACTICE})",) if to_full else ()
    return ranged(
        "hours to charge",
        hours,
        "h",
        hours,
        hours * TAPER if to_full else hours,
        working=(
            *before,
            f"{shown(missing_ah)} Ah ÷ ({shown(current_a)} A × {shown(efficiency)}) = {shown(hours)} h.",
        ),
        assumptions=("the charger gives its full amps all the time", *easing),
        source="amp hours ÷ (amps × efficiency), arithmetic",
        verdict=f"About {roughly(hours)}" + (", longer if it is charged quite full." if to_full else "."),
    )


def _bank(
    capacity: Quantity[Any], load: Quantity[Any], nominal: Quantity[Any] | None
) -> tuple[float, float, tuple[str, ...]]:
    hours_ah = positive(capacity, "A*h", "the capacity")
    if not load.check("[power]"):
        return hours_ah, positive(load, "A", "the load"), ()
    watts, volts = positive(load, "W", "the load"), 12.0 if nominal is None else positive(nominal, "V", "the battery")
    return hours_ah, watts / volts, (f"{shown(watts)} W ÷ {shown(volts)} V = {shown(watts / volts)} A.",)


def _usable(charge: float, stop_at: float) -> float:
    return max(0.0, share(charge, "the charge now") - share(stop_at, "the level to stop at"))


def _stop_note(stop_at: float) -> str:
    if stop_at >= 0.5:
        return f"stop at {shown(stop_at * 100)} % ({PRACTICE} for 50 %: deeper wears a lead-acid battery out)"
    return f"down to {shown(stop_at * 100)} %: below 50 % wears a lead-acid battery out ({PRACTICE})"


def _battery_verdict(use: float, hours: float, stop_at: float, span: str = "") -> str:
    if not use:
        return f"It is at or below {shown(stop_at * 100)} percent already: charge it now."
    return f"About {roughly(hours)}{span} until it is at {shown(stop_at * 100)} percent."


def _fahrenheit(reading: Quantity[Any], what: str) -> float:
    return FAHRENHEIT.degrees(temperature_k(reading, what))


def _kelvin(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8 + ZERO_CELSIUS_K


def _signed(value: float) -> str:
    return f"- {shown(-value)}" if value < 0 else f"+ {shown(value)}"


def _charge_at(volts: float) -> float:
    if volts <= REST_VOLTS[0][0]:
        return 0.0
    found = interpolated(REST_VOLTS, volts)
    return 1.0 if found is None else found


def _table_line(volts: float, charge: float) -> str:
    if charge in (0.0, 1.0):
        end = REST_VOLTS[0] if charge == 0.0 else REST_VOLTS[-1]
        return f"Table: {end[0]} V and {'less' if charge == 0 else 'more'} is {shown(end[1] * 100)} %."
    below = max(row for row in REST_VOLTS if row[0] <= volts)
    above = min(row for row in REST_VOLTS if row[0] >= volts)
    if below == above:
        return f"Table: {below[0]} V is {shown(below[1] * 100)} %."
    return (
        f"Table: {below[0]} V {shown(below[1] * 100)} %, {above[0]} V {shown(above[1] * 100)} %; "
        f"{shown(below[1] * 100)} + {shown((above[1] - below[1]) * 100)} × ({shown(volts, 5)} - {below[0]}) ÷ "
        f"{shown(above[0] - below[0])} = {shown(charge * 100, 3)} %."
    )


def _charge_beyond_table(read: float, warm_f: float, scale: Scale, lines: tuple[str, ...]) -> Estimate:
    cold = warm_f < 0
    end_f, correction = VOLTS_CORRECTION[0] if cold else VOLTS_CORRECTION[-1]
    bound = _charge_at(read + correction) * 100
    return withheld(
        "charge",
        "percent",
        f"The correction table ends at {shown(end_f)} °F. It is "
        + (f"at most {shown(bound, 2)} percent." if cold else f"at least {shown(bound, 2)} percent.")
        + f" Measure again with the battery {'warmer' if cold else 'cooler'}.",
        low=None if cold else bound,
        high=bound if cold else None,
        working=(*lines, f"With the correction of {scale.show(_kelvin(end_f))}: {shown(read + correction, 5)} V."),
        source=BCI_SOURCE,
    )


def _charge_verdict(charge: float, volts: float, freezes_f: float, outside: Quantity[Any] | None) -> str:
    if volts < 10.5:
        state = "Flat, or a cell is dead: do not count on it. Have it tested."
    elif charge < 0.25:
        state = "Nearly flat: charge it now."
    elif charge < 0.5:
        state = f"About {shown(charge * 100, 2)} percent: charge it soon."
    else:
        state = f"About {shown(charge * 100, 2)} percent."
    if outside is None:
        return state
    return f"{state} {_freeze_risk(freezes_f, outside)}"


def _freezes_at_f(charge: float) -> float:
    gravity = interpolated(CHARGE_GRAVITY, charge)
    point = None if gravity is None else interpolated(FREEZING_F, gravity)
    assert point is not None  # both tables cover a charge from empty to full
    return point


def _freeze_risk(point_f: float, outside: Quantity[Any]) -> str:
    cold_f, point = _fahrenheit(outside, "the outside"), scale_of(outside).show(_kelvin(point_f), 2)
    if cold_f <= point_f:
        return f"It can freeze: it does at about {point}. {NEVER_CHARGE_FROZEN}"
    if cold_f <= point_f + 5:
        return f"Close to freezing, at about {point}: charge it before it gets colder."
    return f"No freezing risk: it freezes at about {point}."
