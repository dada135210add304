"""The trip as it is planned: its file, and how every supply fares to its end. The simulation is long work."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from cabassist.dialogue.types import Mind, Stored
from cabassist.errors import FileProblem
from cabassist.files import write_whole

if TYPE_CHECKING:
    from cabassist.estimate.tripfile import TripFile

SAMPLE_DAYS = 3
NONE = "No trip is planned yet. Press E to begin one from a sample, or run: cabassist trip new"


def load(path: Path) -> TripFile:
    """The trip in a file. Raises FileProblem or ContentProblems."""
    from cabassist.estimate.tripfile import TripFile
    from cabassist.procedures import yamlfile

    return yamlfile.validate(yamlfile.load(path), TripFile)


def begin(path: Path, now: datetime) -> None:
    """Write a sample trip from the next full hour on. Raises FileProblem."""
    from cabassist.estimate.tripfile import new_trip_text

    start = now.replace(minute=0, second=0, microsecond=0) + timedelta(hours=1)
    write_whole(path, new_trip_text(start, SAMPLE_DAYS), advice="Free some space, then try again.")


def ahead(
    path: Path, mind: Mind, stored: tuple[Stored, ...], now: datetime, told: Callable[[float], bool]
) -> tuple[str, ...]:
    """How every supply fares, in lines; () when it was stopped.

    Args:
        path: the trip's file.
        mind: for the coach.
        stored: the readings that stand.
        now: the moment.
        told: told the share that is done, answers whether to go on.

    Raises:
        FileProblem, ContentProblems: the trip cannot be followed; says what to mend.
    """
    from cabassist.dialogue.trip_outlook import simulated
    from cabassist.estimate.amounts import percent
    from cabassist.estimate.service_plan import service_stops
    from cabassist.estimate.trip import first_shortfall, outlook, supply_to_end
    from cabassist.procedures.yamlfile import read_text

    made = load(path)
    if not told(0.1):
        return ()
    try:
        run, _ = simulated(made, mind.coach, stored, now, lambda name: read_text(path.parent / name))
    except ValueError as error:
        raise FileProblem(path, f"cannot be followed: {error}", "Check it with: cabassist trip check") from None
    if not told(0.6):
        return ()
    first = first_shortfall(run)
    lines = [f"{made.name}: {made.start:%a %d %b %H:%M} to {made.end:%a %d %b %H:%M}", first.verdict]
    for one in outlook(run):
        end = supply_to_end(run, one.name)
        low, value, high = (percent(x or 0.0) for x in (end.low, end.value, end.high))
        lines.append(f"{end.name}: {value}, between {low} and {high}. {end.verdict}")
    if not told(0.8):
        return ()
    stops = service_stops(run, made.bound)
    lines.append(f"Fewest service stops that keep every chance at {percent(made.bound)} or less: {stops.verdict}")
    return tuple(lines)
