"""Carbon monoxide: what a reading means, and its weight in the air. The answer to any reading is to leave.

The limits explain a number; none of them makes staying safe. An alarm may stay silent below 70 ppm for good.
"""

from __future__ import annotations

import math

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate

MOLAR_MASS, MOLAR_VOLUME_L = 28.01, 24.45
"""g/mol of CO, litres of a mole at 25 °C and 1 atm."""
LEAVE = "Everyone out into fresh air now, call for help, and do not drive with it."

LIMITS: tuple[tuple[float, str], ...] = (
    (25.0, "ACGIH: 25 ppm as a working-day average"),
    (35.0, "NIOSH: 35 ppm as an average"),
    (50.0, "OSHA: 50 ppm as an 8-hour average, not a one-hour limit"),
    (200.0, "NIOSH: 200 ppm is a ceiling, never to be passed"),
    (1200.0, "NIOSH: 1,200 ppm is immediately dangerous to life"),
)
ALARM: tuple[tuple[float, float, float], ...] = ((70.0, 60.0, 240.0), (150.0, 10.0, 50.0), (400.0, 4.0, 15.0))
"""ppm, an alarm must sound between these minutes: UL 2034 sensitivity test (alarm makers, CPSC 2014)."""
EFFECTS: tuple[tuple[float, str], ...] = (
    (400.0, "headache within 35 minutes, death can follow in 2 hours"),
    (150.0, "held for a while: confusion, unconsciousness, death"),
    (100.0, "headache after some 4 hours"),
    (70.0, "headache, tiredness, sickness"),
    (0.0, "most people feel nothing yet"),
)
"""From this ppm up: CPSC, alarm makers' leaflets."""

LIMIT_SOURCE = "29 CFR 1910.1000 Z-1, OSHA and NIOSH (published); UL 2034, CPSC (published, secondary)"


def mg_per_m3(co_ppm: float) -> Estimate:
    """Carbon monoxide in mg/m³ for a reading in ppm.

    Args:
        co_ppm: reading, parts per million.

    Raises:
        ValueError: a negative reading, or more than a million.

    Source: ppm · 28.01 / 24.45, 25 °C and 1 atm.
    """
    ppm = _reading(co_ppm)
    weight = ppm * MOLAR_MASS / MOLAR_VOLUME_L
    return exact(
        "carbon monoxide",
        weight,
        "mg/m³",
        working=(f"{shown(ppm)} ppm × 28.01 ÷ 24.45 = {shown(weight)} mg/m³.",),
        assumptions=("25 °C and sea level",),
        source="molar mass over molar volume (published)",
        verdict=LEAVE if ppm else "",
    )


def ppm_of(mg_per_m3: float) -> Estimate:
    """Carbon monoxide in ppm for a reading in mg/m³.

    Args:
        mg_per_m3: reading, milligrams in a cubic meter of air.

    Raises:
        ValueError: a negative reading, or more than air can hold.

    Source: mg/m³ · 24.45 / 28.01, 25 °C and 1 atm (NIOSH Pocket Guide).
    """
    ppm = _reading(mg_per_m3 * MOLAR_VOLUME_L / MOLAR_MASS)
    return exact(
        "carbon monoxide",
        ppm,
        "ppm",
        working=(f"{shown(mg_per_m3)} mg/m³ × 24.45 ÷ 28.01 = {shown(ppm)} ppm.",),
        assumptions=("25 °C and sea level",),
        source="molar mass over molar volume (published)",
        verdict=LEAVE if ppm else "",
    )


def co_reading(co_ppm: float, *, alarm_sounding: bool | None = None) -> Estimate:
    """What a carbon monoxide reading means; whatever it says, the verdict is to leave when any is detected.

    Args:
        co_ppm: reading, parts per million.
        alarm_sounding: whether the alarm sounds, if known.

    Returns:
        The reading in ppm; `also` has mg/m³ and, from 70 ppm, the minutes after which an alarm must sound.

    Raises:
        ValueError: a negative reading, or more than a million.

    Source: UL 2034; 29 CFR 1910.1000; NIOSH; CPSC.
    """
    ppm = _reading(co_ppm)
    also = [figure("weight in air", ppm * MOLAR_MASS / MOLAR_VOLUME_L, "mg/m³")]
    lines = [
        f"{shown(ppm)} ppm is {'above' if ppm > limit else 'at'} {what}." for limit, what in LIMITS if ppm >= limit
    ]
    heard = [row for row in ALARM if ppm >= row[0]]
    if heard:
        level, first, last = heard[-1]
        lines.append(f"UL 2034: at {shown(level)} ppm an alarm sounds after {shown(first)} to {shown(last)} minutes.")
        also.append(figure("alarm must sound after", last, "min", first, last))
    elif ppm:
        lines.append("UL 2034: below 70 ppm an alarm may stay silent; at 30 ppm it must, for 30 days.")
    if ppm:
        lines.append(f"Effect: {next(what for level, what in EFFECTS if ppm >= level)}.")
    return exact(
        "carbon monoxide",
        ppm,
        "ppm",
        working=tuple(lines),
        assumptions=("the meter is right; levels elsewhere aboard may be higher",),
        source=LIMIT_SOURCE,
        verdict=_verdict(ppm, alarm_sounding),
        also=tuple(also),
    )


def _reading(co_ppm: float) -> float:
    if not math.isfinite(co_ppm) or not 0 <= co_ppm <= 1_000_000:
        raise ValueError(f"I can't use {co_ppm} ppm. Read the meter again. {LEAVE}")
    return float(co_ppm)


def _verdict(ppm: float, alarm_sounding: bool | None) -> str:
    if alarm_sounding:
        return f"{LEAVE} An alarm counts, whatever the meter says."
    if not ppm:
        return f"None shown. If anyone has a headache or feels sick, it may be wrong: {LEAVE[0].lower()}{LEAVE[1:]}"
    silent = " A silent alarm does not make it safe." if ppm < ALARM[0][0] else ""
    return f"{LEAVE} {shown(ppm)} ppm is carbon monoxide.{silent}"
