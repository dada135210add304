"""Furnaces: how much propane they burn, from their plates or from what the coach loses in the cold.

The burn goes into `propane.py`, which says how long it lasts.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any

from cabassist.estimate.amounts import FOOT_M, HOUR_S, btu, btu_per_h, people, percent, spread
from cabassist.estimate.clock import between, clock
from cabassist.estimate.propane import BTU_PER_GAL, BTU_PER_LB, HEAT_SOURCE, heat_of
from cabassist.estimate.quantities import (
    BTU_J,
    duration,
    exact,
    figure,
    not_negative,
    positive,
    ranged,
    scale_of,
    share,
    shown,
    some_share,
    temperature_k,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

AIR_FACTOR = 1.08
"""BTU/h for each cfm and °F: 0.075 lb/ft³ x 0.24 BTU/lb·°F x 60 (psychrometric rule; psychrolib gives 1.078)."""
AIR_J_PER_M3_K = AIR_FACTOR * BTU_J / HOUR_S * 1.8 / (FOOT_M**3 / 60)
PERSON_W = 70.0
"""Warmth of one seated person that heats the air (ASHRAE Fundamentals 2013, ch. 18 Table 1; published, secondary)."""
LOSS_SOURCE = (
    "heat loss U·A·ΔT (ASHRAE Fundamentals, from memory); 1.08 BTU/h per cfm and °F (psychrometric rule, published); "
    "70 W of warmth a person (ASHRAE 2013 ch. 18, published, secondary)"
)

LOSS_SPREAD = 0.2
"""Half the 10–90 % range of a heat loss taken from a profile: wind, doors, sun. Common practice, no source."""
NO_FURNACE = "Say which furnace, or its BTU an hour."


def burn_from_furnaces(inputs: Sequence[Quantity[Any]], duty: float) -> Estimate:
    """Propane burned by furnaces that run a share of the time.

    Args:
        inputs: fuel input of each furnace in use while it burns [power].
        duty: share of the time they burn, 0–1.

    Raises:
        ValueError: no furnace, an input not above zero, or a duty that is not a share.

    Source: input x share of the time.
    """
    most_w, on = _inputs_w(inputs), share(duty, "the time the furnace runs")
    each = " + ".join(shown(btu_per_h(positive(one, "W", "the furnace"))) for one in inputs)
    return _burn(
        most_w * on,
        working=(f"({each}) BTU/h x {shown(on)} of the time = {shown(btu_per_h(most_w * on))} BTU/h",),
        assumptions=("the input on the furnace's plate: burning or off, nothing between",),
        source=f"input x share of the time; {HEAT_SOURCE}",
    )


def _inputs_w(inputs: Sequence[Quantity[Any]]) -> float:
    if not inputs:
        raise ValueError(NO_FURNACE)
    return sum(positive(one, "W", "the furnace's input") for one in inputs)


def burn_for_heat(demand: Quantity[Any], efficiency: float, *, inputs: Sequence[Quantity[Any]] = ()) -> Estimate:
    """Propane burned to put a known amount of heat into the cabin.

    Args:
        demand: heat the cabin needs [power].
        efficiency: share of the fuel's heat that reaches the cabin, above 0 up to 1.
        inputs: fuel input of the furnaces, to see whether they can [power].

    Raises:
        ValueError: an impossible number.

    Source: demand ÷ efficiency.
    """
    demand_w, part = not_negative(demand, "W", "the heat needed"), some_share(efficiency, "the efficiency")
    wanted_w = demand_w / part
    burn_w, more, verdict = _capped(wanted_w, inputs)
    return _burn(
        burn_w,
        working=(
            f"{shown(btu_per_h(demand_w))} ÷ {shown(part)} = {shown(btu_per_h(wanted_w))} BTU/h of propane",
            *more,
        ),
        assumptions=("the heat is needed all the time",),
        source=f"demand ÷ efficiency; {HEAT_SOURCE}",
        verdict=verdict,
    )


def _capped(wanted_w: float, inputs: Sequence[Quantity[Any]]) -> tuple[float, tuple[str, ...], str]:
    """What the furnaces can burn of what is wanted, the line that shows it, and a warning."""
    if not inputs:
        return wanted_w, (), ""
    most_w = _inputs_w(inputs)
    on = f"{shown(btu_per_h(wanted_w))} ÷ {shown(btu_per_h(most_w))} BTU/h of input = {percent(wanted_w / most_w)} of the time"
    if wanted_w <= most_w:
        return wanted_w, (on,), ""
    return most_w, (on,), "The furnaces can't keep up. They burn without a pause and the cabin cools."


def furnace_duty(demand: Quantity[Any], inputs: Sequence[Quantity[Any]], efficiency: float) -> Estimate:
    """Share of the time the furnaces must burn to cover a steady heat loss.

    Args:
        demand: heat the cabin loses [power].
        inputs: fuel input of each furnace [power].
        efficiency: share of the fuel's heat that reaches the cabin.

    Returns:
        The share, 0–1; None when even burning all the time is not enough.

    Raises:
        ValueError: an impossible number.

    Source: share on = loss ÷ (input x efficiency), arithmetic.
    """
    demand_w, part = not_negative(demand, "W", "the heat needed"), some_share(efficiency, "the efficiency")
    most_w = _inputs_w(inputs)
    on = demand_w / (most_w * part)
    line = f"{shown(btu_per_h(demand_w))} ÷ ({shown(btu_per_h(most_w))} x {shown(part)}) = {shown(on)}"
    source = "share on = loss ÷ (input x efficiency), arithmetic"
    name = "share of the time the furnaces burn"
    if on > 1:
        return withheld(name, "fraction", "The furnaces can't keep up with this loss.", working=(line,), source=source)
    return exact(
        name,
        on,
        "fraction",
        working=(line,),
        assumptions=("a steady loss",),
        source=source,
        verdict=f"They burn {percent(on)} of the time.",
    )


def burn_from_heat_loss(
    *,
    ua: Quantity[Any],
    infiltration: Quantity[Any],
    inside: Quantity[Any],
    outside: Quantity[Any],
    aboard: float,
    efficiency: float,
    inputs: Sequence[Quantity[Any]] = (),
    loss_spread: float = LOSS_SPREAD,
) -> Estimate:
    """Propane burned to hold the cabin at a temperature, from the coach's heat loss.

    Args:
        ua: heat through the shell for each degree [power per temperature difference].
        infiltration: cold air that leaks in [volume per time].
        inside: cabin temperature held [temperature].
        outside: air temperature outside, not the wind chill [temperature].
        aboard: people who warm the cabin.
        efficiency: share of the fuel's heat that reaches the cabin.
        inputs: fuel input of each furnace, to see whether they can [power].
        loss_spread: half the 10–90 % range of the loss, as a share; 0 to take it as exact.

    Raises:
        ValueError: an impossible number.

    Source: U·A·ΔT (ASHRAE, from memory); 1.08 BTU/h per cfm and °F; 70 W a person (ASHRAE 2013, secondary).
    """
    ua_w_per_k = positive(ua, "W/K", "the coach's heat loss")
    air_m3_per_s = not_negative(infiltration, "m^3/s", "the air that leaks in")
    inside_k, outside_k = temperature_k(inside, "the cabin"), temperature_k(outside, "the air outside")
    heads, part, wide = people(aboard), some_share(efficiency, "the efficiency"), spread(loss_spread, "the heat loss")
    gross_w = (ua_w_per_k + AIR_J_PER_M3_K * air_m3_per_s) * max(inside_k - outside_k, 0.0)
    wanted_w, low_w, high_w = (max(gross_w * f - heads * PERSON_W, 0.0) / part for f in (1, 1 - wide, 1 + wide))
    burn_w, more, verdict = _capped(wanted_w, inputs)
    held, air = scale_of(inside).show(inside_k), scale_of(outside).show(outside_k)
    return _burn(
        burn_w,
        low_w=_capped(low_w, inputs)[0],
        high_w=_capped(high_w, inputs)[0],
        working=(
            f"{held} inside, {air} outside: {shown(max(inside_k - outside_k, 0.0) * 1.8)} °F warmer inside",
            *_loss_lines(ua_w_per_k, air_m3_per_s, inside_k - outside_k, heads, part),
            *more,
        ),
        assumptions=(
            "steady weather; no sun and no warmth from the road engine",
            "wind chill plays no part: it is about skin",
            f"the loss may be {percent(wide)} off either way (common practice, no source)",
        ),
        source=f"{LOSS_SOURCE}; {HEAT_SOURCE}",
        verdict=verdict or ("No heat needed: it is as warm outside." if outside_k >= inside_k else ""),
    )


def _loss_lines(
    ua_w_per_k: float, air_m3_per_s: float, warmer_k: float, heads: float, efficiency: float
) -> tuple[str, ...]:
    warmer_f = max(warmer_k, 0.0) * 1.8
    ua, cfm, body = btu_per_h(ua_w_per_k) / 1.8, air_m3_per_s / FOOT_M**3 * 60, btu_per_h(PERSON_W)
    each_f = ua + AIR_FACTOR * cfm
    net = max(each_f * warmer_f - heads * body, 0.0)
    return (
        f"{shown(ua)} + {AIR_FACTOR} x {shown(cfm)} cfm = {shown(each_f)} BTU/h for each °F",
        f"{shown(each_f)} x {shown(warmer_f)} = {shown(each_f * warmer_f)} BTU/h lost",
        f"less {shown(heads)} people x {shown(body)} BTU/h = {shown(net)} BTU/h to replace",
        f"{shown(net)} ÷ {shown(efficiency)} efficiency = {shown(net / efficiency)} BTU/h of propane",
    )


def _burn(
    burn_w: float,
    *,
    working: tuple[str, ...],
    assumptions: tuple[str, ...],
    source: str,
    low_w: float | None = None,
    high_w: float | None = None,
    verdict: str = "",
) -> Estimate:
    rate = btu_per_h(burn_w)
    low = rate if low_w is None else btu_per_h(low_w)
    high = rate if high_w is None else btu_per_h(high_w)
    a_day, lb_a_day = 24 / BTU_PER_GAL, 24 / BTU_PER_LB
    return ranged(
        "propane burned",
        rate,
        "BTU/h",
        low,
        high,
        working=(
            *working,
            f"{shown(rate)} BTU/h x 24 h ÷ {BTU_PER_GAL:,.0f} BTU/gal = {shown(rate * a_day)} gal a day",
        ),
        assumptions=assumptions,
        source=source,
        verdict=verdict,
        also=(
            figure("gallons an hour", rate / BTU_PER_GAL, "gal/h", low / BTU_PER_GAL, high / BTU_PER_GAL),
            figure("gallons a day", rate * a_day, "gal/day", low * a_day, high * a_day),
            figure("pounds a day", rate * lb_a_day, "lb/day", low * lb_a_day, high * lb_a_day),
        ),
    )


def run_out_over_forecast(
    propane: Quantity[Any],
    outside: Sequence[Quantity[Any]],
    now: datetime,
    *,
    ua: Quantity[Any],
    infiltration: Quantity[Any],
    inside: Quantity[Any],
    aboard: float,
    efficiency: float,
    inputs: Sequence[Quantity[Any]] = (),
    loss_spread: float = LOSS_SPREAD,
) -> Estimate:
    """When the propane runs out if the outside temperature follows an hourly forecast.

    Args:
        propane: what is left [volume or mass].
        outside: air temperature of each hour from `now` on [temperature].
        now: the clock, with its zone.
        ua, infiltration, inside, aboard, efficiency, inputs, loss_spread: as in `burn_from_heat_loss`.

    Returns:
        Hours; None when the forecast ends first, and the verdict then says what is left at its end.

    Raises:
        ValueError: no temperatures, or an impossible number.

    Source: as `burn_from_heat_loss`, added up hour by hour.
    """
    heat_j, line = heat_of(propane)
    if not outside:
        raise ValueError("I need the temperatures of the coming hours.")
    burns: dict[tuple[float, str], Estimate] = {}
    for air in outside:  # hours that are as cold burn as much
        if (key := (float(air.magnitude), str(air.units))) not in burns:
            burns[key] = burn_from_heat_loss(
                ua=ua,
                infiltration=infiltration,
                inside=inside,
                outside=air,
                aboard=aboard,
                efficiency=efficiency,
                inputs=inputs,
                loss_spread=loss_spread,
            )
    hourly = [burns[float(air.magnitude), str(air.units)] for air in outside]
    have = btu(heat_j)
    hours, early, late = (
        _hours_to_burn(have, [getattr(burn, end) or 0.0 for burn in hourly]) for end in ("value", "high", "low")
    )
    burned = sum(burn.value or 0.0 for burn in hourly)
    working = (
        f"first hour: {'; '.join(hourly[0].working[:-1])}",
        f"{len(hourly)} hours of forecast together: {shown(burned)} BTU",
        line,
    )
    common: dict[str, Any] = {"assumptions": hourly[0].assumptions, "source": hourly[0].source}
    if hours is None:
        left = (have - burned) / BTU_PER_LB
        verdict = f"More than {duration(len(hourly))}. The forecast ends first, with about {shown(left, 2)} lb left."
        return withheld("propane runs out", "h", verdict, low=early, working=working, **common)
    return ranged(
        "propane runs out",
        hours,
        "h",
        early,
        late,
        working=(*working, f"the hours add up to {shown(have)} BTU after {shown(hours)} h"),
        verdict=f"About {duration(hours)} of heat left{between(early, late)}, until {clock(now, hours)}.",
        **common,
    )


def _hours_to_burn(have_btu: float, hourly_btu: Sequence[float]) -> float | None:
    for hour, burned in enumerate(hourly_btu):
        if burned > 0 and have_btu <= burned:
            return hour + have_btu / burned
        have_btu -= burned
    return None
