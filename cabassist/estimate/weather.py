"""Outside temperatures hour by hour, from daily lows and highs or from a table that somebody typed or saved.

May import `quantities` only. Temperatures inside are kelvin.
"""

from __future__ import annotations

import csv
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from io import StringIO
from math import cos, isfinite, pi

from cabassist.estimate.clock import later
from cabassist.estimate.quantities import ZERO_CELSIUS_K

LOW_AT, HIGH_AT = 7, 15
"""Local hour of the day's low and high in winter. Common practice, no source."""
LONGEST_GAP_H = 12.0
"""Typed temperatures further apart than this are not joined."""
COLDEST_K, HOTTEST_K = 178.0, 339.0
"""About -139 °F and +150 °F: no air on earth is outside."""

Point = tuple[datetime, float]


def points_from_daily(days: Mapping[date, tuple[float, float]], zone: datetime) -> list[Point]:
    """The turning points of a curve through daily lows and highs.

    Args:
        days: low and high of each date, kelvin.
        zone: any moment in the zone whose dates these are.

    Raises:
        ValueError: a low above its high, or no day.

    Source: low at sunrise, high in mid-afternoon (common practice, no source).
    """
    if not days:
        raise ValueError("The forecast holds no day.")
    made: list[Point] = []
    for day, (low_k, high_k) in sorted(days.items()):
        if low_k > high_k:
            raise ValueError(f"On {day} the low is above the high. Turn them round.")
        made.append((datetime.combine(day, time(LOW_AT), zone.tzinfo), low_k))
        made.append((datetime.combine(day, time(HIGH_AT), zone.tzinfo), high_k))
    return made


def hourly(points: Sequence[Point], start: datetime, hours: int, *, smooth: bool = True) -> list[float]:
    """Kelvin at the start of each hour, on a curve through known moments.

    Half a day before the first moment, after the last and into a gap longer than a day the nearest temperature stands;
    further from any moment nothing is known.

    Args:
        points: moments and temperatures, in any order.
        start: the first hour.
        hours: how many.
        smooth: half a cosine between moments, as between a low and a high; straight lines otherwise.

    Raises:
        ValueError: an hour further from any known moment than half a day.
    """
    known = sorted(points, key=lambda point: point[0])
    times = [moment for moment, _ in known]
    made = []
    for hour in range(hours):
        moment = later(start, hour)
        after = bisect_right(times, moment)
        before = max(after - 1, 0)
        after = min(after, len(known) - 1)
        gap_h = (times[after] - times[before]) / timedelta(hours=1)
        away_h = (
            min(abs((moment - times[i]) / timedelta(hours=1)) for i in (before, after)) if known else LONGEST_GAP_H + 1
        )
        if away_h > LONGEST_GAP_H:
            raise ValueError(f"No temperature is known near {moment:%A %d %B %H:%M}. Add that day to the forecast.")
        part = ((moment - times[before]) / timedelta(hours=1)) / gap_h if gap_h else 0.0
        if gap_h > 2 * LONGEST_GAP_H:
            part = round(part)
        part = (1 - cos(pi * part)) / 2 if smooth else part
        made.append(known[before][1] + (known[after][1] - known[before][1]) * part)
    return made


def points_from_csv(text: str, zone: datetime) -> list[Point]:
    """Moments and temperatures from a table with the columns `time` and `temp_f` or `temp_c`.

    Args:
        text: the table, its first line naming the columns; times as 2026-01-15T08:00, with or without zone.
        zone: any moment in the zone of times that do not say theirs.

    Raises:
        ValueError: a column is missing or a line cannot be read; the message names the line.
    """
    table = csv.DictReader(StringIO(text.lstrip("\ufeff")))
    names = {(name or "").strip().lower(): name for name in table.fieldnames or ()}
    scale = next((name for name in ("temp_f", "temp_c") if name in names), None)
    if "time" not in names or scale is None:
        raise ValueError("The table needs a first line with the columns time and temp_f (or temp_c).")
    made: list[Point] = []
    for row in table:
        try:
            moment = datetime.fromisoformat((row[names["time"]] or "").strip())
            degrees = float((row[names[scale]] or "").strip())
        except ValueError:
            raise ValueError(f"Line {table.line_num} of the table is not a time and a temperature.") from None
        kelvin = degrees + ZERO_CELSIUS_K if scale == "temp_c" else (degrees + 459.67) / 1.8
        if not (isfinite(kelvin) and COLDEST_K <= kelvin <= HOTTEST_K):
            raise ValueError(f"Line {table.line_num} of the table: {degrees:g} is no temperature of the air.")
        made.append((moment if moment.tzinfo else moment.replace(tzinfo=zone.tzinfo), kelvin))
    if not made:
        raise ValueError("The table holds no temperatures.")
    return made
