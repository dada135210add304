"""Air brake tests: build-up, leak-down, low-air warning, spring brakes, governor - pass or fail.

A verdict begins with "Pass", "Fail" or "Not yet". A failed test means: do not drive.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from cabassist.estimate.quantities import MEMORY, PRACTICE, exact, figure, not_negative, positive, shown, withheld
from cabassist.estimate.types import Estimate

if TYPE_CHECKING:
    from pint import Quantity

BUILD_UP_S, BUILD_FROM_PSI, BUILD_TO_PSI = 45.0, 85.0, 100.0
"""85 to 100 psi within 45 s, dual system (CDL manual § 5.3)."""
LEAK_PSI_PER_MIN: dict[tuple[bool, int], float] = {(False, 1): 2.0, (True, 1): 3.0, (False, 2): 3.0, (True, 2): 4.0}
"""Brakes applied?, vehicles → psi a minute (CDL manual § 5.3)."""
WARNING_PSI = 60.0
OLD_WARNING_PSI = 55.0
"""Low-air warning before 60 psi (CDL manual); 55 in the older rule text, 393.51 (from memory)."""
SPRING_LOW_PSI, SPRING_HIGH_PSI = 20.0, 45.0
"""Spring brakes come on by 20 to 45 psi (CDL manual)."""
BUS_CUT_IN_PSI = 85.0
"""A bus's governor cuts in at 85 psi or above: FMVSS 121 S5.1.1.1, 61 FR 60635 (1996)."""
USUAL_CUT_IN_PSI, USUAL_CUT_OUT_PSI, USUAL_SPREAD_PSI = 100.0, 125.0, 15.0
"""In about 100, out about 125 psi (CDL manual); 15 psi as "about" is common practice, no source."""

CDL_SOURCE = "CDL manual § 5.3 (published, secondary)"
DO_NOT_DRIVE = "Do not drive; have it repaired."
HAIR = 1e-6


def build_up(time: Quantity[Any], *, start: Quantity[Any] | None = None, end: Quantity[Any] | None = None) -> Estimate:
    """Verdict on the time the air needs from 85 to 100 psi.

    Args:
        time: time it took [time].
        start: pressure at the start, 85 psi when left out [pressure].
        end: pressure at the end, 100 psi when left out [pressure].

    Returns:
        Seconds. None when other pressures were timed, for which there is no rule.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: no time, or pressures that do not rise.

    Source: CDL manual § 5.3.
    """
    seconds = positive(time, "s", "the build-up time")
    low = BUILD_FROM_PSI if start is None else not_negative(start, "psi", "the start pressure")
    high = BUILD_TO_PSI if end is None else not_negative(end, "psi", "the end pressure")
    if high <= low:
        raise ValueError("The pressure must rise during the test. Say the start, the end and the time again.")
    if abs(low - BUILD_FROM_PSI) > HAIR or abs(high - BUILD_TO_PSI) > HAIR:
        return withheld(
            "build-up time",
            "s",
            "There is no limit for that span. Time it from 85 to 100 psi: 45 seconds at most.",
            source=CDL_SOURCE,
        )
    fine = seconds <= BUILD_UP_S + HAIR
    return exact(
        "build-up time",
        seconds,
        "s",
        working=(f"{shown(seconds)} s from 85 to 100 psi; allowed 45 s.",),
        assumptions=("dual air system, engine at operating speed",),
        source=CDL_SOURCE,
        verdict=(
            f"Pass: {shown(seconds)} seconds, 45 are allowed."
            if fine
            else f"Fail: {shown(seconds)} seconds, 45 are allowed. Weak compressor or a leak. {DO_NOT_DRIVE}"
        ),
    )


def leak_down(drop: Quantity[Any], time: Quantity[Any], *, applied: bool, vehicles: int = 1) -> Estimate:
    """Verdict on the air lost with the engine off.

    Args:
        drop: pressure lost, with brakes applied counted after the first drop [pressure].
        time: how long it was watched [time].
        applied: whether the pedal was held down.
        vehicles: 1 for a coach alone, 2 with a trailer.

    Returns:
        psi a minute; the verdict asks for a full minute when it was watched for less.

    Raises:
        DimensionalityError: an argument measures something else.
        ValueError: a negative drop, no time, or another number of vehicles.

    Source: CDL manual § 5.3; California DMV; Ontario (3 psi).
    """
    lost, minutes = not_negative(drop, "psi", "the pressure lost"), positive(time, "min", "the time")
    if vehicles not in (1, 2):
        raise ValueError(f"I know the limits for one or two vehicles, not for {vehicles}.")
    limit = LEAK_PSI_PER_MIN[applied, vehicles]
    rate = lost / minutes
    how = "applied" if applied else "released"
    if rate > limit + HAIR:
        verdict = f"Fail: {shown(rate)} psi a minute, {shown(limit)} are allowed with brakes {how}. {DO_NOT_DRIVE}"
    elif minutes < 1 - HAIR:
        verdict = f"Not yet: watch a full minute. So far {shown(rate)} psi a minute, {shown(limit)} are allowed."
    else:
        verdict = f"Pass: {shown(rate)} psi a minute, {shown(limit)} are allowed with brakes {how}."
    return exact(
        "air lost",
        rate,
        "psi/min",
        working=(f"{shown(lost)} psi ÷ {shown(minutes)} min = {shown(rate)} psi a minute; allowed {shown(limit)}.",),
        assumptions=("engine off, chocked, " + ("the first drop not counted" if applied else "parking brake off"),),
        source=f"{CDL_SOURCE}; California DMV, Ontario (published, secondary)",
        verdict=verdict,
        also=(figure("allowed", limit, "psi/min"),),
    )


def low_air_warning(came_on_at: Quantity[Any] | None, *, dropped_to: Quantity[Any] | None = None) -> Estimate:
    """Verdict on the low-air warning: it must be on before 60 psi.

    Args:
        came_on_at: pressure at which light or buzzer came on, None when it has not [pressure].
        dropped_to: lowest pressure reached without a warning [pressure].

    Returns:
        The pressure it came on at, or the one reached without it.

    Raises:
        DimensionalityError: an argument is no pressure.
        ValueError: neither is given, or a negative pressure.

    Source: CDL manual; 49 CFR 393.51 (55 psi in older text, from memory).
    """
    if came_on_at is None and dropped_to is None:
        raise ValueError("Say at what pressure the warning came on, or how far the needle fell without it.")
    if came_on_at is None:
        assert dropped_to is not None
        reached = not_negative(dropped_to, "psi", "the pressure")
        silent = reached < WARNING_PSI - HAIR
        verdict = (
            f"Fail: no warning down to {shown(reached)} psi; it must be on before 60. {DO_NOT_DRIVE}"
            if silent
            else f"Not yet: no warning at {shown(reached)} psi. Pump on until it comes, before 60."
        )
        found = reached
    else:
        found = not_negative(came_on_at, "psi", "the pressure")
        verdict = f"Pass: it came on at {shown(found)} psi, before 60."
        if found < WARNING_PSI - HAIR:
            old = " Older rule text has 55, from memory; 60 is the safe side." if found >= OLD_WARNING_PSI else ""
            verdict = f"Fail: it came on at {shown(found)} psi; it must be on before 60.{old} {DO_NOT_DRIVE}"
    return exact(
        "low-air warning",
        found,
        "psi",
        working=(f"{shown(found)} psi against 60 psi.",),
        assumptions=("engine off, key on, pressure pumped down with the pedal",),
        source=f"{CDL_SOURCE}; 49 CFR 393.51, 55 psi in older text ({MEMORY})",
        verdict=verdict,
    )


def spring_brakes(came_on_at: Quantity[Any] | None, *, dropped_to: Quantity[Any] | None = None) -> Estimate:
    """Verdict on the spring brakes: the knob pops out between 45 and 20 psi.

    Args:
        came_on_at: pressure at which the knob popped out, None when it has not [pressure].
        dropped_to: lowest pressure reached without it [pressure].

    Returns:
        The pressure it came on at, or the one reached without it.

    Raises:
        DimensionalityError: an argument is no pressure.
        ValueError: neither is given, or a negative pressure.

    Source: CDL manual.
    """
    if came_on_at is None and dropped_to is None:
        raise ValueError("Say at what pressure the knob popped out, or how far the needle fell without it.")
    if came_on_at is None:
        assert dropped_to is not None
        found = not_negative(dropped_to, "psi", "the pressure")
        verdict = (
            f"Fail: the knob is still in at {shown(found)} psi; it must pop out by 20. {DO_NOT_DRIVE}"
            if found < SPRING_LOW_PSI - HAIR
            else f"Not yet: still in at {shown(found)} psi. Pump on; it must pop out between 45 and 20."
        )
    else:
        found = not_negative(came_on_at, "psi", "the pressure")
        if found > SPRING_HIGH_PSI + HAIR:
            verdict = f"Fail: it popped out at {shown(found)} psi, above 45: too early. {DO_NOT_DRIVE}"
        elif found < SPRING_LOW_PSI - HAIR:
            verdict = f"Fail: it popped out at {shown(found)} psi, below 20: too late. {DO_NOT_DRIVE}"
        else:
            verdict = f"Pass: it popped out at {shown(found)} psi, between 45 and 20."
    return exact(
        "spring brakes",
        found,
        "psi",
        working=(f"{shown(found)} psi against 20 to 45 psi.",),
        assumptions=("the maker's own figure comes first",),
        source=CDL_SOURCE,
        verdict=verdict,
    )


def governor(cut_in: Quantity[Any], cut_out: Quantity[Any]) -> Estimate:
    """Verdict on the governor: a bus must cut in at 85 psi or above; about 100 in and 125 out are usual.

    Args:
        cut_in: pressure at which the compressor starts to pump [pressure].
        cut_out: pressure at which it stops [pressure].

    Returns:
        The cut-in pressure; `also` has the cut-out.

    Raises:
        DimensionalityError: an argument is no pressure.
        ValueError: a negative pressure, or a cut-out that is not above the cut-in.

    Source: CDL manual; FMVSS 121 S5.1.1.1, 61 FR 60635 (1996).
    """
    low, high = not_negative(cut_in, "psi", "the cut-in"), not_negative(cut_out, "psi", "the cut-out")
    if high <= low:
        raise ValueError(
            "The cut-out must be above the cut-in. Say first where it starts to pump, then where it stops."
        )
    odd = (
        abs(low - USUAL_CUT_IN_PSI) > USUAL_SPREAD_PSI + HAIR or abs(high - USUAL_CUT_OUT_PSI) > USUAL_SPREAD_PSI + HAIR
    )
    if low < BUS_CUT_IN_PSI - HAIR:
        verdict = f"Fail: it cuts in at {shown(low)} psi; a bus needs 85 or above. {DO_NOT_DRIVE}"
    elif odd:
        verdict = (
            f"Pass, but unusual: in at {shown(low)}, out at {shown(high)} psi; about 100 and 125 are usual. Report it."
        )
    else:
        verdict = f"Pass: in at {shown(low)}, out at {shown(high)} psi."
    return exact(
        "governor cut-in",
        low,
        "psi",
        working=(f"Cut-in {shown(low)} psi against 85; usual about 100 in, 125 out.",),
        assumptions=(f"usual within 15 psi ({PRACTICE})",),
        source=f"{CDL_SOURCE}; FMVSS 121 S5.1.1.1, 61 FR 60635 of 1996 (published)",
        verdict=verdict,
        also=(figure("governor cut-out", high, "psi"),),
    )
