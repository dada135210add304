"""What the measures on question sets share: reading a set, the interval of a share, and not looking at the unseen."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import Any

Row = dict[str, Any]


def rows(path: Path) -> list[Row]:
    """The rows of a file of JSON lines; none when it is not there."""
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()] if path.exists() else []


def wilson(hits: int, of: int) -> str:
    """95 % interval of a share (Wilson 1927)."""
    if of == 0:
        return "–"
    z, share = 1.96, hits / of
    center = (share + z * z / (2 * of)) / (1 + z * z / of)
    half = z * ((share * (1 - share) / of + z * z / (4 * of * of)) ** 0.5) / (1 + z * z / of)
    return f"{100 * max(0.0, center - half):.1f}–{100 * min(1.0, center + half):.1f}"


def options(description: str | None) -> argparse.ArgumentParser:
    """The options of a measure: which set, and whether to print what went wrong."""
    parser = argparse.ArgumentParser(description=description, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--set", choices=["unseen", "dev"], default="unseen")
    parser.add_argument("--misses", action="store_true", help="also print what went wrong (development set only)")
    return parser


def chosen(parser: argparse.ArgumentParser) -> argparse.Namespace:
    """What was asked for; ends when that is to look at what is missed on the unseen set."""
    given = parser.parse_args()
    if given.misses and given.set == "unseen":
        sys.exit("Looking at what is missed on the unseen set would make it a seen one. Use --set dev.")
    return given
