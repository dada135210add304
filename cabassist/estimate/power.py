"""Shore power: breakers and what they carry, loads and which to shed.

A load that runs for three hours or more may take 80 % of a breaker. Cords are in `cords.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from cabassist.estimate.quantities import exact, figure, not_negative, positive, share, shown, tidy, whole
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

CONTINUOUS_SHARE = 0.8
"""Share of a breaker for a load of three hours or more (NEC 210.19(A), 210.20(A): 125 % turned round)."""
BREAKER_SOURCE = "80 % for a continuous load, NEC 210.19(A), 210.20(A), Art. 100 (published, secondary)"
NEVER_DEFEAT = "Never tape, wedge or replace a breaker by a bigger one."


@dataclass(frozen=True)
class ElectricLoad:
    """A load on shore power as a calculation sees it.

    `duty` is the share of the time it is on; `shed_order` says in which order it may be switched off, 0 for never.
    """

    name: str
    power: Quantity[Any]
    duty: float = 1.0
    shed_order: int = 0


def amps(power: Quantity[Any], supply: Quantity[Any]) -> Estimate:
    """Amps that a load draws, taken as all watts (power factor 1).

    Args:
        power: the load [power].
        supply: voltage [voltage].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative load or no voltage.

    Source: I = P/V.
    """
    watts, volts = not_negative(power, "W", "the load"), positive(supply, "V", "the voltage")
    return exact(
        "current",
        watts / volts,
        "A",
        working=(f"{shown(watts)} W ÷ {shown(volts)} V = {shown(watts / volts)} A.",),
        assumptions=("heaters and lamps; motors and chargers draw somewhat more",),
        source="I = P/V, arithmetic",
    )


def watts(current: Quantity[Any], supply: Quantity[Any]) -> Estimate:
    """Watts behind a current.

    Args:
        current: amps [current].
        supply: voltage [voltage].

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative current or no voltage.

    Source: P = V·I.
    """
    flow, volts = not_negative(current, "A", "the current"), positive(supply, "V", "the voltage")
    return exact(
        "power",
        flow * volts,
        "W",
        working=(f"{shown(flow)} A × {shown(volts)} V = {shown(flow * volts)} W.",),
        source="P = V·I, arithmetic",
    )


def continuous_limit(breaker: Quantity[Any], supply: Quantity[Any]) -> Estimate:
    """What a breaker carries for hours on end: 80 % of its rating, for any breaker.

    Args:
        breaker: its rating [current].
        supply: voltage [voltage].

    Returns:
        Amps; `also` has the watts, and the rating's watts for short loads.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no rating or no voltage.

    Source: NEC 210.19(A), 210.20(A).
    """
    rating, volts = positive(breaker, "A", "the breaker"), positive(supply, "V", "the voltage")
    limit = CONTINUOUS_SHARE * rating
    return exact(
        "continuous load",
        limit,
        "A",
        working=(
            f"0.8 × {shown(rating)} A = {shown(limit)} A.",
            f"{shown(limit)} A × {shown(volts)} V = {shown(limit * volts)} W.",
        ),
        assumptions=("nothing else is plugged in on the same breaker",),
        source=BREAKER_SOURCE,
        verdict=f"{shown(limit)} amps for hours on end, {shown(limit * volts)} watts.",
        also=(figure("continuous power", limit * volts, "W"), figure("short-time power", rating * volts, "W")),
    )


def breaker_left(
    breaker: Quantity[Any],
    supply: Quantity[Any],
    loads: Sequence[Quantity[Any]],
    *,
    continuous: bool = True,
) -> Estimate:
    """What a breaker still carries with these loads on, and whether they are too much already.

    Args:
        breaker: its rating [current].
        supply: voltage [voltage].
        loads: what runs on it, each in watts or in amps [power or current].
        continuous: whether the loads run three hours or more; then 80 % is the limit, else the whole rating.

    Returns:
        Amps left, below zero when it is too much; `also` has the amps drawn and the watts left.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no rating, no voltage or a negative load.

    Source: NEC 210.19(A), 210.20(A).
    """
    rating, volts = positive(breaker, "A", "the breaker"), positive(supply, "V", "the voltage")
    flows = [_amps(load, volts) for load in loads]
    drawn = sum(flows)
    limit = CONTINUOUS_SHARE * rating if continuous else rating
    left = tidy(limit - drawn)
    written = " + ".join(shown(flow) for flow in flows) or "0"
    if drawn > rating * (1 + 1e-9):
        verdict = f"Too much: {shown(drawn)} amps trip a {shown(rating)} amp breaker. {NEVER_DEFEAT}"
    elif left < 0:
        verdict = (
            f"Not for hours on end: {shown(drawn)} amps on a {shown(rating)} amp breaker, {shown(limit)} are allowed."
            " Use a bigger outlet or shed load."
        )
    else:
        verdict = f"Allowed: {shown(drawn)} amps of {shown(limit)}, {shown(left)} amps left."
    return exact(
        "left on the breaker",
        left,
        "A",
        working=(
            *(_amps_line(load, volts) for load in loads if load.check("[power]")),
            f"Drawn: {written} = {shown(drawn)} A." if len(flows) > 1 else f"Drawn: {shown(drawn)} A.",
            f"0.8 × {shown(rating)} A = {shown(limit)} A."
            if continuous
            else f"Short time: the whole {shown(rating)} A.",
            f"{shown(limit)} - {shown(drawn)} = {shown(left)} A, {shown(left * volts)} W.",
        ),
        assumptions=("all loads on at once, nothing else on the same breaker",),
        source=BREAKER_SOURCE,
        verdict=verdict,
        also=(figure("drawn", drawn, "A"), figure("power left", left * volts, "W")),
    )


def outlet_capacity(
    outlet: Quantity[Any], supply: Quantity[Any], *, legs: int = 1, each: Quantity[Any] | None = None
) -> Estimate:
    """Watts an outlet gives for hours on end, and how many loads of one size fit.

    Args:
        outlet: rating of the outlet's breaker [current].
        supply: voltage of each leg [voltage].
        legs: hot legs, 2 for a 50 A 120/240 V outlet.
        each: power of one load, if the question is how many fit [power].

    Returns:
        Watts for hours on end; `also` has the rating in VA and the number of loads.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no rating or voltage, or an impossible number of legs.

    Source: NEC 210.20(A), 551.46, 551.73.
    """
    rating, volts = positive(outlet, "A", "the outlet"), positive(supply, "V", "the voltage")
    hot = whole(legs, "the hot legs")
    full, steady = rating * volts * hot, CONTINUOUS_SHARE * rating * volts * hot
    lines = [
        f"{shown(rating)} A × {shown(volts)} V" + (f" × {hot} legs" if hot > 1 else "") + f" = {shown(full)} VA.",
        f"0.8 × {shown(full)} = {shown(steady)} W for hours on end.",
    ]
    also = [figure("rating", full, "VA"), figure("continuous current a leg", CONTINUOUS_SHARE * rating, "A")]
    verdict = f"{shown(steady)} watts for hours on end."
    if each is not None:
        one = positive(each, "W", "the load")
        a_leg = int(CONTINUOUS_SHARE * rating * volts / one + 1e-9)
        lines.append(
            f"{shown(steady / hot)} ÷ {shown(one)} W = {shown(steady / hot / one)}: {a_leg} fit"
            + (f" on each leg, {a_leg * hot} in all." if hot > 1 else ".")
        )
        also.append(figure("loads that fit", a_leg * hot, "loads"))
        verdict = f"{a_leg * hot} of them fit for hours on end." if a_leg else "Not even one fits for hours on end."
    return exact(
        "outlet capacity",
        steady,
        "W",
        working=tuple(lines),
        assumptions=("nothing else on the same breaker", "each load stays on one leg")
        if hot > 1
        else ("nothing else on the same breaker",),
        source="NEC 210.20(A), 551.46, 551.73 (published, secondary)",
        verdict=verdict,
        also=tuple(also),
    )


def shore_load(loads: Sequence[ElectricLoad], breaker: Quantity[Any], supply: Quantity[Any]) -> Estimate:
    """Shore load with everything on, against 80 % of the breaker, and what to switch off first.

    Loads are shed in their order until the rest fits; loads with order 0 stay on.

    Args:
        loads: what is switched on.
        breaker: rating of the outlet's or inlet's breaker, the smaller one [current].
        supply: voltage [voltage].

    Returns:
        Amps with everything on; `also` has the average by duty, the amps over or left, and the amps after shedding.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no rating or voltage, a negative load, or an impossible duty or order.

    Source: NEC 210.19(A), 210.20(A).
    """
    rating, volts = positive(breaker, "A", "the breaker"), positive(supply, "V", "the voltage")
    each = [(load, not_negative(load.power, "W", load.name) / volts) for load in loads]
    for load in loads:
        share(load.duty, f"the time {load.name} is on")
        whole(load.shed_order, f"the shedding order of {load.name}", least=0)
    drawn = sum(flow for _, flow in each)
    average = sum(flow * load.duty for load, flow in each)
    limit = CONTINUOUS_SHARE * rating
    shed, rest = _shed(each, limit)
    lines = [f"{load.name}: {shown(flow * volts)} W ÷ {shown(volts)} V = {shown(flow)} A." for load, flow in each]
    lines.append(f"All on: {shown(drawn)} A; limit 0.8 × {shown(rating)} A = {shown(limit)} A.")
    lines.append(f"On the average, by the share of time each is on: {shown(average)} A.")
    running = drawn
    for load, flow in shed:
        lines.append(f"Without {load.name}: {shown(running)} - {shown(flow)} = {shown(running - flow)} A.")
        running -= flow
    return exact(
        "shore load",
        drawn,
        "A",
        working=tuple(lines),
        assumptions=("everything listed on at the same time", "only the coach is on this breaker"),
        source=BREAKER_SOURCE,
        verdict=_shore_verdict(drawn, limit, rating, [load.name for load, _ in shed], rest),
        also=(
            figure("average", average, "A"),
            figure("left to 80 %", limit - drawn, "A"),
            figure("after shedding", rest, "A"),
            *(figure(f"shed: {load.name}", flow, "A") for load, flow in shed),
        ),
    )


def _shed(each: list[tuple[ElectricLoad, float]], limit: float) -> tuple[list[tuple[ElectricLoad, float]], float]:
    rest = sum(flow for _, flow in each)
    shed: list[tuple[ElectricLoad, float]] = []
    for load, flow in sorted((one for one in each if one[0].shed_order), key=lambda one: one[0].shed_order):
        if rest <= limit * (1 + 1e-9):
            break
        shed.append((load, flow))
        rest -= flow
    return shed, rest


def _shore_verdict(drawn: float, limit: float, rating: float, shed: list[str], rest: float) -> str:
    if drawn <= limit * (1 + 1e-9):
        return f"It fits: {shown(drawn)} amps of {shown(limit)}, {shown(limit - drawn)} amps left."
    trips = " The breaker will trip." if drawn > rating * (1 + 1e-9) else ""
    start = f"Too much for hours on end: {shown(drawn)} amps, {shown(limit)} are allowed.{trips}"
    if not shed:
        return f"{start} Nothing in the list may be switched off: find a bigger outlet."
    order = ", then ".join(shed)
    if rest > limit * (1 + 1e-9):
        return f"{start} Even without {order} it is {shown(rest)} amps: find a bigger outlet."
    return f"{start} Switch off {order}: then it is {shown(rest)} amps."


def _amps(load: Quantity[Any], volts: float) -> float:
    if load.check("[power]"):
        return not_negative(load, "W", "the load") / volts
    return not_negative(load, "A", "the load")


def _amps_line(load: Quantity[Any], volts: float) -> str:
    power = float(load.m_as("W"))
    return f"{shown(power)} W ÷ {shown(volts)} V = {shown(power / volts)} A."


def resisted(power: Quantity[Any], rated: Quantity[Any], supply: Quantity[Any]) -> Estimate:
    """What a plain resistance gives at other volts than those of its plate: by the square, the current in proportion.

    Args:
        power: the watts of its plate [power].
        rated: the volts of its plate [voltage].
        supply: the volts that it gets [voltage].

    Returns:
        Watts; `also` has the amps.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative load or no voltage.

    Source: Ohm's law, P = V²/R.
    """
    made = not_negative(power, "W", "the load")
    plate, volts = positive(rated, "V", "the volts of the plate"), positive(supply, "V", "the voltage")
    given = made * (volts / plate) ** 2
    return exact(
        "given at that voltage",
        given,
        "W",
        working=(f"{shown(made)} W x ({shown(volts)} ÷ {shown(plate)})² = {shown(given)} W",),
        assumptions=("a plain resistance, as in a heater",),
        source="Ohm's law",
        also=(figure("amps", given / volts, "A"),),
    )


def parted(amps: Sequence[float], limits: Sequence[float]) -> tuple[int, ...] | None:
    """Which of several breakers each load goes on so that all of them fit; None when they can not. The biggest goes first.

    Args:
        amps: what each load draws.
        limits: amps that each breaker carries.

    Returns:
        For each load the number of its breaker, from 0.
    """
    order = sorted(range(len(amps)), key=lambda i: -amps[i])

    def put(k: int, left: tuple[float, ...]) -> dict[int, int] | None:
        if k == len(order):
            return {}
        tried: set[float] = set()
        for at, room in enumerate(left):
            if room in tried or amps[order[k]] > room + 1e-6:
                continue
            tried.add(room)
            rest = put(k + 1, (*left[:at], room - amps[order[k]], *left[at + 1 :]))
            if rest is not None:
                return {order[k]: at, **rest}
        return None

    found = put(0, tuple(limits))
    return None if found is None else tuple(found[i] for i in range(len(amps)))
