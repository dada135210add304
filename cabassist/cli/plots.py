"""Small plots of levels in a terminal: one line, or a few rows with their scale. Block characters, or plain ones."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from datetime import datetime

from cabassist.screen.drawing import ascii_asked, known_by

Points = Sequence[tuple[datetime, float]]
BLOCKS, PLAIN = "▁▂▃▄▅▆▇█", "_.:-=+*#"
"""From low to high."""
WIDTH, ROWS = 24, 8


def blocks_shown() -> bool:
    """Whether the terminal can be trusted with block characters."""
    if ascii_asked():
        return False
    if sys.platform == "win32":
        return True
    locale = next((os.environ[name] for name in ("LC_ALL", "LC_CTYPE", "LANG") if os.environ.get(name)), "")
    return "UTF" in locale.upper() and os.environ.get("TERM", "") not in ("dumb", "linux")


def _sampled(points: Points, width: int) -> list[float]:
    """A value for each column: what was last known by its end."""
    times = [at for at, _ in points]
    if times[0] == times[-1]:
        return [points[-1][1]]
    return [points[known - 1][1] for known in known_by(times, times[0], times[-1], width)]


def _ends(values: Sequence[float], low: float | None, high: float | None) -> tuple[float, float]:
    low = min(values) if low is None else low
    high = max(values) if high is None else high
    return (low, high) if high > low else (low - 1, high + 1)


def line_of(points: Points, *, plain: bool, low: float | None = None, high: float | None = None) -> str:
    """A history in one line, oldest on the left; between `low` and `high`, or its own least and most."""
    marks = PLAIN if plain else BLOCKS
    values = _sampled(points, min(WIDTH, 4 * len(points)))
    bottom, top = _ends(values, low, high)
    return "".join(marks[max(0, min(7, round((v - bottom) / (top - bottom) * 7)))] for v in values)


def plot(
    points: Points, *, plain: bool, unit: str = "", low: float | None = None, high: float | None = None
) -> list[str]:
    """A history as rows with a scale on the left and the times below."""
    values = _sampled(points, 2 * WIDTH)
    bottom, top = _ends(values, low, high)
    mark, rest = ("#", " ") if plain else ("█", " ")
    corner, bar, dash = ("+", "|", "-") if plain else ("└", "│", "─")
    rows = []
    for row in range(ROWS, 0, -1):
        edge = bottom + (top - bottom) * row / ROWS
        label = f"{edge:g}{unit}" if row in (ROWS, ROWS // 2) else ""
        body = "".join(mark if v >= edge - (top - bottom) / ROWS / 2 else rest for v in values)
        rows.append(f"{label:>9} {bar}{body}".rstrip())
    first, last = points[0][0], points[-1][0]
    rows.append(f"{bottom:g}{unit}".rjust(9) + f" {corner}{dash * len(values)}")
    begin, end = f"{first:%a %H:%M}", f"{last:%a %H:%M}"
    rows.append(f"{'':10} {begin}" + (f"{end:>{len(values) - len(begin)}}" if len(values) > len(begin) else ""))
    return rows
