"""Where things stand in the report's charts: plain geometry in the units of the drawing, no colors and no text of its own."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from cabassist.review.figures import ASKED_BACK, NOT_ANSWERED, Forecast

WIDTH, HEIGHT = 760.0, 230.0
LEFT, BOTTOM, TOP = 40.0, 36.0, 10.0
MAX_LABELS = 12


@dataclass(frozen=True)
class Bar:
    """A rectangle; `name` tells what it is of."""

    name: str
    x: float
    y: float
    width: float
    height: float
    value: int


@dataclass(frozen=True)
class Label:
    """A text at a place."""

    x: float
    y: float
    text: str


@dataclass(frozen=True)
class Stack:
    """Stacked bars with their axes."""

    bars: tuple[Bar, ...]
    ticks: tuple[Label, ...]
    names: tuple[Label, ...]


def stacked(columns: Sequence[tuple[str, Counter[str]]]) -> Stack:
    """Questions of each column as answered, asked back and not answered, from the bottom up."""
    most = max((count.total() for _, count in columns), default=0)
    top = nice(most)
    inner = HEIGHT - BOTTOM - TOP
    step = (WIDTH - LEFT) / max(1, len(columns))
    bars: list[Bar] = []
    for index, (_, count) in enumerate(columns):
        y = HEIGHT - BOTTOM
        rest = count.total() - count[ASKED_BACK] - count[NOT_ANSWERED]
        for name, value in (("answered", rest), (ASKED_BACK, count[ASKED_BACK]), (NOT_ANSWERED, count[NOT_ANSWERED])):
            height = inner * value / top
            if value:
                y -= height
                bars.append(Bar(name, LEFT + step * index + step * 0.15, y, step * 0.7, height, value))
    ticks = tuple(Label(LEFT - 6, HEIGHT - BOTTOM - inner * share, f"{top * share:g}") for share in (0, 0.5, 1))
    every = math.ceil(len(columns) / MAX_LABELS)
    names = tuple(
        Label(LEFT + step * (index + 0.5), HEIGHT - BOTTOM + 18, name)
        for index, (name, _) in enumerate(columns)
        if index % every == 0
    )
    return Stack(tuple(bars), ticks, names)


def nice(value: float) -> float:
    """The next round and even number at or above a value: 2, 4, 10, 20, 40, 100 …"""
    if value <= 2:
        return 2.0
    size = 10.0 ** math.floor(math.log10(value))
    return next(step * size for step in (1, 2, 4, 6, 8, 10) if step * size >= value)


def scattered(forecasts: Sequence[Forecast], side: float) -> list[tuple[str, float, float]]:
    """Each forecast as a point in a square: foretold to the right, actual upwards."""
    return [(f.supply, side * f.foretold, side * (1 - f.actual)) for f in forecasts]


def shade(value: int, most: int) -> int:
    """How strong a cell of the heat table is, 0 to 5; 0 only for nothing."""
    return 0 if value == 0 else 1 + min(4, int(5 * value / max(1, most)) if value < most else 4)
