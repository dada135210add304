"""Power cords: the voltage they lose, how long they may be, how much current they carry.

Both wires count, there and back. Resistance is NEC Chapter 9 Table 8 (copper, stranded, 75 °C) corrected to the
conductor's temperature, or K = 12.9 ohm-circular mils a foot over the wire's area.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Literal

from cabassist.estimate.quantities import (
    MEMORY,
    ZERO_CELSIUS_K,
    exact,
    figure,
    not_negative,
    positive,
    ranged,
    shown,
    some_share,
    temperature_k,
    withheld,
)
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

STRANDED_OHM_PER_KFT: dict[int, float] = {18: 7.95, 16: 4.99, 14: 3.14, 12: 1.98, 10: 1.24, 8: 0.778, 6: 0.491}
"""Copper, stranded, 75 °C: NEC Ch. 9 Table 8 (2011 edition, two copies)."""
TABLE_C = 75.0
COPPER_PER_C = 0.00323
"""R₂ = R₁[1 + 0.00323(T₂ - 75 °C)], NEC Ch. 9 Table 8 note 2 (coefficient from memory; 20 °C gives 0.822)."""
COLD_C = 20.0
K_COPPER = 12.9
"""Ohm-circular mils a foot, copper (electrician exam notes; EC&M)."""
ADVICE, ADVICE_WHOLE = 0.03, 0.05
"""3 % on a branch, 5 % with the feeder: advice, NEC 210.19 and 215.2 informational notes."""
FOOT_M = 0.3048

AMPACITY: dict[int, float] = {18: 10, 17: 12, 16: 13, 14: 18, 12: 25, 10: 30, 8: 40, 6: 55}
"""Flexible cord with two live wires, NEC 400.5(A)(1); 10, 8 and 6 AWG from memory."""
AMPACITY_FROM_MEMORY = frozenset({10, 8, 6})
SET_SPLIT_FT = 50.0
SET_SHORT: dict[int, float] = {16: 13, 14: 15, 12: 20}
SET_LONG: dict[int, float] = {16: 10, 12: 15, 10: 20}
"""Cord sets up to 50 ft and over 50 ft, UL 817 Tables 114-115 (quoted on a code forum)."""

TABLE_SOURCE = "NEC Ch. 9 Table 8, copper, stranded (published, secondary); correction of note 2 (from memory)"
K_SOURCE = "K = 12.9 for copper (electrician exam notes; EC&M; published, secondary), AWG sizes of ASTM B258"
ADVICE_NOTE = "3 % and 5 % are advice, not a rule (NEC 210.19 and 215.2 notes)"
CORD_SOURCE = "NEC 400.5(A)(1), UL 817 Tables 114-115 (published, secondary)"
Method = Literal["table", "k"]


def circular_mils(awg: int) -> float:
    """Area of a wire in circular mils: the square of its diameter in thousandths of an inch.

    Raises:
        ValueError: no wire size between 0 and 40.

    Source: ASTM B258-02, d = 0.005 · 92^((36 - n)/39) in.
    """
    if not 0 <= awg <= 40:
        raise ValueError(f"I don't know a {awg} gauge wire. Say a size such as 10, 12 or 14.")
    return float((5.0 * math.pow(92.0, (36 - awg) / 39)) ** 2)


def ohm_per_foot(awg: int, conductor_c: float = TABLE_C, method: Method = "table") -> float:
    """Resistance of one copper wire, ohms a foot.

    Sizes that the table lacks are worked out by K over circular mils.

    Raises:
        ValueError: an unknown wire size.

    Source: NEC Ch. 9 Table 8 and note 2; K = 12.9.
    """
    if method == "k" or awg not in STRANDED_OHM_PER_KFT:
        return K_COPPER / circular_mils(awg)
    return STRANDED_OHM_PER_KFT[awg] / 1000 * (1 + COPPER_PER_C * (conductor_c - TABLE_C))


def voltage_drop(
    supply: Quantity[Any],
    current: Quantity[Any],
    length: Quantity[Any],
    awg: int,
    *,
    conductor_temperature: Quantity[Any] | None = None,
    method: Method = "table",
    resistance: Quantity[Any] | None = None,
    three_phase: bool = False,
) -> Estimate:
    """Voltage lost along a cord.

    Args:
        supply: voltage at the outlet [voltage].
        current: amps in the cord [current].
        length: length of the cord, one way [length].
        awg: wire size.
        conductor_temperature: the copper's own temperature, 75 °C (167 °F) when left out [temperature].
        method: "table" for NEC Table 8, "k" for K = 12.9.
        resistance: resistance of one wire a length, in place of a table [resistance/length].
        three_phase: a three-phase cord; 1.732 wires count instead of 2.

    Returns:
        Volts lost. Left to itself the range runs from copper at 20 °C to 75 °C; `also` has the percentage and what is
        left at the end. None when more would be lost than there is.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no voltage or length, a negative current, or an unknown wire size.

    Source: NEC Ch. 9 Table 8; K = 12.9.
    """
    volts, flow = positive(supply, "V", "the voltage"), not_negative(current, "A", "the current")
    metres = positive(length, "m", "the cord's length")
    feet = metres / FOOT_M
    each, cold, line, source, notes = _wire(awg, conductor_temperature, method, resistance)
    wires = math.sqrt(3) if three_phase else 2.0
    drop, low = wires * flow * feet * each, wires * flow * feet * cold
    ways = "1.732" if three_phase else "2"
    shown_each = shown(each * 1000, 5)
    working = (
        line,
        f"{ways} × {shown(flow)} A × {shown(feet)} ft × {shown_each} ÷ 1000 = {shown(drop)} V.",
        f"{shown(drop)} ÷ {shown(volts)} V = {shown(drop / volts * 100, 3)} %.",
        f"At the end: {shown(volts)} - {shown(drop)} = {shown(volts - drop)} V.",
    )
    if drop >= volts:
        return withheld(
            "voltage drop",
            "V",
            "That can't be: the cord would take all the voltage. Check the amps, the length and the wire size.",
            working=working,
            source=source,
        )
    return ranged(
        "voltage drop",
        drop,
        "V",
        low,
        drop,
        working=working,
        assumptions=(*notes, ADVICE_NOTE, "plugs and the building's own wires lose more"),
        source=source,
        verdict=_drop_verdict(drop / volts),
        also=(
            figure("share lost", drop / volts * 100, "percent", low / volts * 100, drop / volts * 100),
            figure("at the end", volts - drop, "V", volts - drop, volts - low),
        ),
    )


def longest_cord(
    supply: Quantity[Any],
    current: Quantity[Any],
    awg: int,
    *,
    most_drop: float = ADVICE,
    conductor_temperature: Quantity[Any] | None = None,
    method: Method = "table",
    resistance: Quantity[Any] | None = None,
) -> Estimate:
    """The longest cord that loses no more than a share of the voltage.

    Args:
        supply: voltage at the outlet [voltage].
        current: amps in the cord [current].
        awg: wire size.
        most_drop: share of the voltage that may be lost, 0.03 when left out.
        conductor_temperature: the copper's own temperature, 75 °C (167 °F) when left out [temperature].
        method: "table" for NEC Table 8, "k" for K = 12.9.
        resistance: resistance of one wire a length, in place of a table [resistance/length].

    Returns:
        Feet, one way. Left to itself the range runs from copper at 75 °C to 20 °C.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no voltage, current or drop, or an unknown wire size.

    Source: NEC Ch. 9 Table 8; K = 12.9.
    """
    volts, flow = positive(supply, "V", "the voltage"), positive(current, "A", "the current")
    part = some_share(most_drop, "the drop allowed")
    each, cold, line, source, notes = _wire(awg, conductor_temperature, method, resistance)
    feet, most = part * volts / (2 * flow * each), part * volts / (2 * flow * cold)
    return ranged(
        "longest cord",
        feet,
        "ft",
        feet,
        most,
        working=(
            line,
            f"{shown(part)} × {shown(volts)} V = {shown(part * volts)} V may be lost.",
            f"{shown(part * volts)} ÷ (2 × {shown(flow)} A × {shown(each * 1000, 5)} ÷ 1000) = {shown(feet)} ft.",
        ),
        assumptions=(*notes, ADVICE_NOTE),
        source=source,
        verdict=f"No longer than {shown(feet, 2)} feet.",
    )


def thinnest_cord(
    supply: Quantity[Any],
    current: Quantity[Any],
    length: Quantity[Any],
    *,
    most_drop: float = ADVICE,
    three_phase: bool = False,
) -> Estimate:
    """The thinnest wire that loses no more than a share of the voltage, by K = 12.9.

    Args:
        supply: voltage at the outlet [voltage].
        current: amps in the cord [current].
        length: length of the cord, one way [length].
        most_drop: share of the voltage that may be lost, 0.03 when left out.
        three_phase: a three-phase cord.

    Returns:
        The wire size, AWG; `also` has the circular mils needed. None when even 0 gauge is too thin.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no voltage, current, length or drop.

    Source: K = 12.9 (EC&M), AWG sizes of ASTM B258.
    """
    volts, flow = positive(supply, "V", "the voltage"), positive(current, "A", "the current")
    feet = positive(length, "m", "the cord's length") / FOOT_M
    part = some_share(most_drop, "the drop allowed")
    ways = math.sqrt(3) if three_phase else 2.0
    needed = ways * K_COPPER * flow * feet / (part * volts)
    line = (
        f"{'1.732' if three_phase else '2'} × 12.9 × {shown(flow)} A × {shown(feet)} ft ÷ ({shown(part)} ×"
        f" {shown(volts)} V) = {shown(needed)} circular mils."
    )
    sizes = [awg for awg in range(18, -1, -2) if circular_mils(awg) >= needed]
    if not sizes:
        return withheld(
            "wire size", "AWG", "No cord is thick enough: use a nearer outlet.", working=(line,), source=K_SOURCE
        )
    return exact(
        "wire size",
        sizes[0],
        "AWG",
        working=(line, f"{sizes[0]} gauge has {shown(circular_mils(sizes[0]))} circular mils."),
        assumptions=(ADVICE_NOTE, "the cord must also carry the amps"),
        source=K_SOURCE,
        verdict=f"{sizes[0]} gauge or thicker.",
        also=(figure("circular mils needed", needed, "cmil"),),
    )


def cord_limit(awg: int, length: Quantity[Any], *, current: Quantity[Any] | None = None) -> Estimate:
    """Amps a cord may carry: its wire's ampacity, and the limit of cord sets by length.

    Args:
        awg: wire size.
        length: length of the cord [length].
        current: amps it is to carry, if asked [current].

    Returns:
        Amps. None where the tables have no figure that settles it; then the known bounds are given.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no length or a negative current.

    Source: NEC 400.5(A)(1); UL 817 Tables 114-115.
    """
    feet = positive(length, "m", "the cord's length") / FOOT_M
    flow = None if current is None else not_negative(current, "A", "the current")
    # Feet that come from a metric conversion may miss 50 by a hair.
    long = feet > SET_SPLIT_FT * (1 + 1e-9)
    listed = SET_LONG if long else SET_SHORT
    span = "over 50 ft" if long else "up to 50 ft"
    ampacity = AMPACITY.get(awg)
    if ampacity is None:
        return withheld(
            "cord limit", "A", f"The table has no {awg} gauge cord. Read the rating on the cord.", source=CORD_SOURCE
        )
    notes = [f"{awg} gauge ampacity {MEMORY}"] if awg in AMPACITY_FROM_MEMORY else []
    notes.append("a whole, uncoiled, three-wire cord in good order")
    lines = [f"NEC 400.5: {awg} gauge with two live wires carries {shown(ampacity)} A."]
    if awg in listed:
        limit = min(ampacity, listed[awg])
        lines.append(f"UL 817: a cord set of {awg} gauge {span} carries {shown(listed[awg])} A; the smaller counts.")
    else:
        lines.append(f"UL 817: no figure for {awg} gauge {span} in the tables at hand.")
        low, high = _bounds(awg, long)
        if high is not None and high <= ampacity:
            return _unlisted(awg, span, low, high, flow, tuple(lines), tuple(notes))
        limit = ampacity
    return exact(
        "cord limit",
        limit,
        "A",
        working=tuple(lines),
        assumptions=tuple(notes),
        source=CORD_SOURCE,
        verdict=_cord_verdict(limit, flow),
        also=(figure("ampacity", ampacity, "A"),),
    )


def _unlisted(
    awg: int,
    span: str,
    low: float | None,
    high: float,
    flow: float | None,
    lines: tuple[str, ...],
    notes: tuple[str, ...],
) -> Estimate:
    sure = f" Up to {shown(low)} amps is sure." if low is not None else ""
    verdict = f"No figure for a cord of {awg} gauge {span}; it is no more than {shown(high)} amps.{sure}"
    if flow is not None:
        if flow > high:
            verdict += f" {shown(flow)} amps are too much."
        elif low is not None and flow <= low:
            verdict += f" {shown(flow)} amps are all right."
        else:
            verdict += " Take a thicker or shorter cord."
    return withheld(
        "cord limit", "A", verdict, low=low, high=high, working=lines, assumptions=notes, source=CORD_SOURCE
    )


def _bounds(awg: int, long: bool) -> tuple[float | None, float | None]:
    """Bounds for an unlisted set: thinner or longer carries no more, thicker or shorter no less."""
    at_least = [SET_LONG[size] for size in SET_LONG if size >= awg]
    at_most = [SET_SHORT[size] for size in SET_SHORT if size <= awg]
    if long:
        at_most += [SET_LONG[size] for size in SET_LONG if size <= awg]
    else:
        at_least += [SET_SHORT[size] for size in SET_SHORT if size >= awg]
    return max(at_least, default=None), min(at_most, default=None)


def _cord_verdict(limit: float, flow: float | None) -> str:
    if flow is None:
        return f"{shown(limit)} amps at most."
    if flow > limit * (1 + 1e-9):
        return f"Too thin: {shown(flow)} amps on a cord for {shown(limit)}. It gets hot. Take a thicker or shorter one."
    return f"Thick enough: {shown(flow)} amps on a cord for {shown(limit)}. Check the voltage drop too."


def _drop_verdict(part: float) -> str:
    percent = shown(part * 100, 2)
    if part <= ADVICE * (1 + 1e-9):
        return f"{percent} percent lost: good, not over 3."
    if part <= ADVICE_WHOLE * (1 + 1e-9):
        return f"{percent} percent lost: over 3, not over 5. A shorter or thicker cord is better."
    return f"{percent} percent lost: over 5, too much. Use a shorter or thicker cord, or less load."


def _wire(
    awg: int, conductor_temperature: Quantity[Any] | None, method: Method, resistance: Quantity[Any] | None
) -> tuple[float, float, str, str, tuple[str, ...]]:
    """Ohms a foot, the same at the cold end of the range, its working line, source and assumptions."""
    if resistance is not None:
        each = positive(resistance, "ohm/m", "the wire's resistance") * FOOT_M
        return each, each, f"Given: {shown(each * 1000, 5)} ohm per 1000 ft and wire.", "resistance as given", ()
    if method == "k" or awg not in STRANDED_OHM_PER_KFT:
        each, mils = K_COPPER / circular_mils(awg), circular_mils(awg)
        line = f"12.9 ÷ {shown(mils)} circular mils × 1000 = {shown(each * 1000, 5)} ohm per 1000 ft."
        return each, each, line, K_SOURCE, ("copper warm from the load, as K = 12.9 takes it",)
    base = STRANDED_OHM_PER_KFT[awg]
    if conductor_temperature is None:
        line = f"{awg} gauge, 75 °C: {shown(base)} ohm per 1000 ft; at 20 °C {shown(base * _correction(COLD_C))}."
        return (
            base / 1000,
            base / 1000 * _correction(COLD_C),
            line,
            TABLE_SOURCE,
            ("copper at 75 °C as in the table; the low end of the drop is copper at 20 °C",),
        )
    celsius = temperature_k(conductor_temperature, "the copper") - ZERO_CELSIUS_K
    factor = _correction(celsius)
    if factor <= 0:
        raise ValueError(f"I can't use {conductor_temperature:~P} for the copper. Say its temperature again.")
    line = (
        f"{awg} gauge, 75 °C: {shown(base)} × (1 + 0.00323 × ({shown(celsius)} - 75)) = {shown(base * factor, 5)}"
        " ohm per 1000 ft."
    )
    return base * factor / 1000, base * factor / 1000, line, TABLE_SOURCE, ("copper at the temperature given",)


def _correction(conductor_c: float) -> float:
    return 1 + COPPER_PER_C * (conductor_c - TABLE_C)
