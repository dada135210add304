"""`cabassist trip new|check|show`."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cabassist import places
from cabassist.cli.shared import (
    ANSWERED,
    NOT_ANSWERED,
    Given,
    content_checked,
    json_option,
    now,
    open_journal,
    print_json,
    print_problems,
    safe,
)
from cabassist.errors import FileProblem
from cabassist.files import write_whole

if TYPE_CHECKING:
    from cabassist.estimate.tripfile import TripFile
    from cabassist.estimate.types import Estimate

WHEN = "for example 2026-01-15 08:00"
SERVICES = ("water", "dump", "propane", "diesel", "shore")


@click.group()
def trip() -> None:
    """Plan a trip: a file of stops and weather, and how every supply fares to its end."""


def _trip_file(file: Path | None) -> Path:
    return file or places.data_folder() / "trip.yaml"


def _loaded(path: Path) -> TripFile:
    """A checked trip file; its forecast covers the trip.

    Raises:
        FileProblem: it cannot be read.
        ContentProblems: it is not a sound trip, with file and line.
    """
    from cabassist.estimate.tripfile import TripFile
    from cabassist.procedures import yamlfile

    if not path.exists():
        raise FileProblem(path, "does not exist.", "Make one with: cabassist trip new")
    return yamlfile.validate(yamlfile.load(path), TripFile)


def _tables(path: Path) -> Callable[[str], str]:
    """Reads a table that a trip file names, from the folder of the trip file."""

    def read(name: str) -> str:
        from cabassist.procedures.yamlfile import read_text

        return read_text(path.parent / name)

    return read


@trip.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@json_option
@click.pass_obj
def check(given: Given, file: Path | None, as_json: bool) -> None:
    """Check a trip file; name file, line, field and what is allowed. FILE is trip.yaml in the data folder when left out."""
    from cabassist.dialogue.accounts import figures_of
    from cabassist.estimate.tripfile import itinerary

    path = _trip_file(file)
    with content_checked(as_json):
        made = _loaded(path)
        ahead = _covered(path, lambda: itinerary(made, figures_of(given.load_coach()), _tables(path)))
    if as_json:
        print_problems([])
    else:
        click.echo(safe(f"{path}: sound. {made.name}: {ahead.hours} hours, {len(made.stops)} stops."))
    raise SystemExit(ANSWERED)


def _covered(path: Path, make: Callable[[], Any]) -> Any:
    """What is made from a trip; what it lacks is told with the file's name."""
    try:
        return make()
    except ValueError as error:
        raise FileProblem(path, f"cannot be followed: {error}", "Check it with: cabassist trip check") from None


@trip.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--why", is_flag=True, help="Print the working and the assumptions as well.")
@json_option
@click.pass_obj
def show(given: Given, file: Path | None, why: bool, as_json: bool) -> None:
    """Follow every supply to the end of the trip.

    Prints the first shortfall and its chance, how each supply stands at the end, and the smallest set of service stops
    that keeps every chance under the file's bound. Levels come from the file, else from the readings. FILE is trip.yaml
    in the data folder when left out. Exit code 1: even every stop is not enough.
    """
    from cabassist.dialogue.recall import recalled
    from cabassist.dialogue.trip_outlook import simulated
    from cabassist.estimate.service_plan import service_stops
    from cabassist.estimate.trip import first_shortfall, outlook, supply_to_end

    path, at = _trip_file(file), now()
    made, coach = _loaded(path), given.load_coach()
    with open_journal(given.journal_file()) as journal:
        stored = recalled(journal, coach.id, at)
    run, origins = _covered(path, lambda: simulated(made, coach, stored, at, _tables(path)))
    first, stops = first_shortfall(run), service_stops(run, made.bound)
    ends = [supply_to_end(run, one.name) for one in outlook(run)]
    if as_json:
        body = {"name": made.name, "from": run.itinerary.start.isoformat(), "hours": run.itinerary.hours}
        print_json(
            {
                **body,
                "origins": list(origins),
                "first_shortfall": _as_json(first),
                "supplies": [_as_json(end) for end in ends],
                "service_stops": _as_json(stops),
            }
        )
    else:
        for line in _shown(made, origins, first, ends, stops, why=why):
            click.echo(safe(line))
    raise SystemExit(NOT_ANSWERED if stops.value is None else ANSWERED)


def _shown(
    made: TripFile, origins: tuple[str, ...], first: Estimate, ends: list[Estimate], stops: Estimate, *, why: bool
) -> list[str]:
    from cabassist.estimate.amounts import percent

    lines = [f"{made.name}: {made.start:%a %d %b %H:%M} to {made.end:%a %d %b %H:%M}", "", first.verdict, ""]
    for end in ends:
        low, value, high = (percent(x or 0.0) for x in (end.low, end.value, end.high))
        lines.append(f"{end.name}: {value}, between {low} and {high}. {end.verdict}")
    lines += ["", f"Fewest service stops that keep every chance at {percent(made.bound)} or less: {stops.verdict}"]
    if why:
        lines += ["", "Levels and rates at the start:", *(f"  {origin}" for origin in origins)]
        for estimate in (first, *ends, stops):
            lines += ["", f"{estimate.name}:", *(f"  {line}" for line in estimate.working)]
        lines += ["", "Assumed:", *(f"  {line}" for line in first.assumptions), f"Source: {first.source}"]
    else:
        lines += ["", "Working and assumptions: cabassist trip show --why"]
    return lines


def _as_json(estimate: Estimate) -> dict[str, Any]:
    return {
        "name": estimate.name, "value": estimate.value, "unit": estimate.unit, "low": estimate.low, "high": estimate.high,
        "verdict": estimate.verdict, "working": list(estimate.working), "assumptions": list(estimate.assumptions),
        "source": estimate.source,
        "also": [{"name": f.name, "value": f.value, "unit": f.unit, "low": f.low, "high": f.high} for f in estimate.also],
    }  # fmt: skip


# -- the interview -------------------------------------------------------------------------------------------------


@trip.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--force", is_flag=True, help="Write over a file that is there.")
@click.option("--blank", is_flag=True, help="Write a sample to fill in by hand instead of asking.")
@click.pass_obj
def new(given: Given, file: Path | None, force: bool, blank: bool) -> None:
    """Ask about a trip and write its file.

    Enter keeps what stands in brackets; temperatures may be written as "-12 C". FILE is trip.yaml in the data folder
    when left out, where `check` and `show` find it.
    """
    import yaml
    from pydantic import ValidationError

    from cabassist.estimate.tripfile import TripFile, new_trip_text

    path = _trip_file(file)
    if path.exists() and not force:
        raise FileProblem(path, "is there already.", "Name another file, or add --force to write over it.")
    begin = now().replace(minute=0, second=0, microsecond=0) + timedelta(hours=1)
    if blank:
        _written(path, new_trip_text(begin, 3))
        return
    coach = given.load_coach()
    click.echo("Enter keeps the value in brackets. Times are local unless a zone is added.\n")
    while True:
        answers = _asked(begin, coach.people.usual_passengers + coach.people.drivers)
        try:
            TripFile.model_validate(answers)
            break
        except ValidationError as error:
            for item in error.errors():
                place = ".".join(map(str, item["loc"]))
                click.echo(safe(f"  {place}: {item['msg'].removeprefix('Value error, ')}".replace("  : ", "  ")))
            click.echo("That does not fit together; once more.\n")
    _written(path, yaml.safe_dump(answers, sort_keys=False, allow_unicode=True))


def _written(path: Path, body: str) -> None:
    write_whole(path, body, advice="Name a file in a folder you may write to.")
    click.echo(safe(f"Written: {path}. Look ahead with: cabassist trip show {path}"))


def _asked(begin: datetime, people: int) -> dict[str, Any]:
    """The answers as they stand in a trip file."""
    answers: dict[str, Any] = {"name": click.prompt("What is the trip called?", default="our trip")}
    start = _moment("When does it start?", begin)
    end = _moment("When does it end?", start + timedelta(days=3))
    answers |= {"start": start.isoformat(), "end": end.isoformat()}
    answers["aboard"] = click.prompt("People aboard?", type=click.FloatRange(0, 100), default=float(people))
    days = min(max((end.date() - start.date()).days, 0), 60) + 1
    click.echo("\nThe forecast of each day, low and high, in °F or as -12 C:")
    low: float | str = 5
    high: float | str = 20
    forecast = []
    for number in range(days):
        day: date = start.date() + timedelta(days=number)
        low = _degrees(f"{day:%a %d %b} low", low)
        high = _degrees(f"{day:%a %d %b} high", high)
        forecast.append({"date": day.isoformat(), "low_f": low, "high_f": high})
    answers["weather"] = {"daily": forecast}
    click.echo("\nStops, in the order of the trip; an empty name ends them.")
    answers["stops"] = _stops(start)
    return answers


def _stops(start: datetime) -> list[dict[str, Any]]:
    stops: list[dict[str, Any]] = []
    after = start
    while name := click.prompt("Name of the stop", default="", show_default=False).strip():
        arrive = _moment("  Arrive?", after + timedelta(hours=4))
        after = _moment("  Leave?", arrive + timedelta(hours=8))
        stop: dict[str, Any] = {"name": name, "arrive": arrive.isoformat(), "leave": after.isoformat()}
        aboard = click.prompt("  People aboard while it stands there? (Enter: as on the road)", default="")
        if aboard.strip():
            stop["aboard"] = _number(aboard)
        stop["services"] = _services(f"  What can be had there? ({', '.join(SERVICES)}, or none)", SERVICES)
        stop["do"] = _services("  What do you plan to do of that?", tuple(stop["services"])) if stop["services"] else []
        stop["miles"] = click.prompt("  Miles from the stop before?", type=click.FloatRange(0, 2000), default=0.0)
        stops.append(stop)
    return stops


def _number(text: str) -> float | str:
    """A plain number as one, anything else as it was written."""
    try:
        return float(text)
    except ValueError:
        return text


def _moment(question: str, kept: datetime) -> datetime:
    """A moment with its zone; asked again until it is one."""
    while True:
        given = click.prompt(question, default=f"{kept:%Y-%m-%d %H:%M}")
        try:
            found = datetime.fromisoformat(given.strip())
            return found if found.tzinfo else found.replace(tzinfo=kept.tzinfo)
        except ValueError:
            click.echo(f"  That is no time. Write it {WHEN}.")


def _degrees(question: str, kept: float | str) -> float | str:
    """A temperature, in °F or as it was written; asked again until it can be read."""
    from cabassist.units import parse_to

    while True:
        given = str(click.prompt(question, default=str(kept))).strip()
        try:
            if -90 <= parse_to(given, "degF") <= 130:
                return _number(given)
            click.echo("  The air is not as cold or warm as that. Allowed: -90 to 130 °F.")
        except ValueError:
            click.echo("  That is no temperature. Write for example 12, or -12 C.")


def _services(question: str, allowed: tuple[str, ...]) -> list[str]:
    """Some of the allowed services, by their names with commas or spaces between."""
    while True:
        given = click.prompt(question, default="none").lower().replace(",", " ").split()
        wrong = [word for word in given if word not in (*allowed, "none", "all")]
        if not wrong:
            return list(allowed) if "all" in given else [word for word in dict.fromkeys(given) if word in allowed]
        click.echo(safe(f"  Not known: {', '.join(wrong)}. Allowed: {', '.join(allowed)}, all or none."))
