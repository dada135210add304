"""What a terminal can draw, and a history as columns. Loads no Textual, so that the plain commands draw by it too."""

from __future__ import annotations

import os
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from datetime import datetime


def ascii_asked(environment: Mapping[str, str] | None = None) -> bool:
    """Whether `CABASSIST_ASCII` asks for plain characters: it is set to anything but 0."""
    environment = os.environ if environment is None else environment
    return environment.get("CABASSIST_ASCII", "") not in ("", "0")


def known_by(times: Sequence[datetime], first: datetime, last: datetime, width: int) -> list[int]:
    """How many of the readings taken at `times`, oldest first, were known at the end of each of `width` columns.

    The columns share the time from `first` to `last` equally; a reading at the very end of one counts in it.
    """
    return [bisect_right(times, first + (last - first) * column / width) for column in range(1, width + 1)]
