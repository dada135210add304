"""`cabassist coach show|check|new`."""

from __future__ import annotations

import types
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Any, Union, get_args, get_origin

import click
from pydantic import BaseModel, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from cabassist import places
from cabassist.cli.shared import ANSWERED, Given, content_checked, json_option, print_json, print_problems, safe
from cabassist.coach import Coach, part_of
from cabassist.errors import FileProblem
from cabassist.files import write_whole


@click.group()
def coach() -> None:
    """Show, check or make the profile of a coach."""


@coach.command()
@json_option
@click.pass_obj
def show(given: Given, as_json: bool) -> None:
    """Print the coach profile in use, each value with its unit."""
    from cabassist.dialogue.session import load_coach

    made = load_coach(given.coach_file())
    if as_json:
        print_json(made.model_dump(mode="json"))
        return
    click.echo(safe(f"{made.name} ({given.coach_file()})"))
    for line in _lines(made, 0):
        click.echo(safe(line))


def _lines(part: BaseModel, depth: int) -> Iterator[str]:
    for name, field in type(part).model_fields.items():
        value = getattr(part, name)
        indent = "  " * depth
        if isinstance(value, BaseModel):
            yield f"{indent}{name}:"
            yield from _lines(value, depth + 1)
        elif isinstance(value, list):
            yield f"{indent}{name}:"
            for item in value:
                if isinstance(item, BaseModel):
                    first, *rest = _lines(item, depth + 2)
                    yield f"{indent}  - {first.strip()}"
                    yield from rest
        else:
            unit = _unit(field)
            yield f"{indent}{name}: {value}{' ' + unit if unit else ''}"


def _unit(field: FieldInfo) -> str:
    extra = field.json_schema_extra
    unit = str(extra.get("unit", "")) if isinstance(extra, dict) else ""
    return "" if unit in ("words", "name", "choice", "count", "list", "fraction", "1") else unit


@coach.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@json_option
@click.pass_obj
def check(given: Given, file: Path | None, as_json: bool) -> None:
    """Check a coach profile; name file, line, field and what is allowed. FILE is the one in use when left out."""
    from cabassist.dialogue.session import load_coach

    path = file or given.coach_file()
    with content_checked(as_json):
        made = load_coach(path)
    if as_json:
        print_problems([])
    else:
        click.echo(
            f"{path}: sound. {made.name}: {len(made.tanks)} tanks, {len(made.propane.cylinders)} cylinders, {len(made.kit)} carried items."
        )
    raise SystemExit(ANSWERED)


@coach.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--force", is_flag=True, help="Write over a file that is there.")
@click.pass_obj
def new(given: Given, file: Path | None, force: bool) -> None:
    """Ask about a coach and write its profile.

    Every question shows its unit and range; Enter keeps the value of the bundled coach. FILE is coach.yaml in
    the data folder when left out, where every command finds it.
    """
    import yaml

    path = file or places.data_folder() / "coach.yaml"
    if path.exists() and not force:
        raise FileProblem(path, "is there already.", "Name another file, or add --force to write over it.")
    from cabassist.procedures import yamlfile

    template = yamlfile.load(places.demo_coach()).data
    click.echo("Enter keeps the value in brackets. A quantity may have its own unit, for example 450 L.\n")
    while True:
        answers = _ask_part(Coach, template, "")
        try:
            made = Coach.model_validate(answers)
            break
        except ValidationError as error:
            for item in error.errors():
                click.echo(f"  {'.'.join(map(str, item['loc']))}: {item['msg']}")
            click.echo("That does not fit together; once more, with your answers kept.")
            template = answers
    body = yaml.safe_dump(made.model_dump(mode="json"), sort_keys=False, allow_unicode=True)
    write_whole(path, body, advice="Name a file in a folder you may write to.")
    click.echo(f"Written: {path}. Check it any time with: cabassist coach check {path}")


def _ask_part(model: type[BaseModel], template: dict[str, Any], where: str) -> dict[str, Any]:
    answers: dict[str, Any] = {}
    if where:
        click.echo(f"\n[{where}]")
    for name, field in model.model_fields.items():
        inner = part_of(field.annotation)
        here = f"{where}.{name}" if where else name
        kept = template.get(name)
        if inner is None:
            answers[name] = _ask_value(model, name, field, kept)
        elif get_origin(field.annotation) is list:
            answers[name] = _ask_list(inner, kept or [], here, field)
        elif get_origin(field.annotation) in (Union, types.UnionType):
            wanted = click.confirm(
                f"Does it have {name.replace('_', ' ')}? {field.description or ''}".strip(), default=kept is not None
            )
            answers[name] = _ask_part(inner, kept or {}, here) if wanted else None
        else:
            answers[name] = _ask_part(inner, kept or {}, here)
    return {name: value for name, value in answers.items() if value is not None}


def _ask_list(inner: type[BaseModel], kept: list[Any], where: str, field: FieldInfo) -> list[Any]:
    label = where.replace("_", " ")
    shown = ", ".join(str(item.get("name") or item.get("role") or item.get("id")) for item in kept)
    if kept and click.confirm(f"\n{label}: keep these {len(kept)}? ({shown[:160]})", default=True):
        return kept
    count = click.prompt(
        f"How many {label}? {field.description or ''}".strip(), type=click.IntRange(0, 120), default=len(kept)
    )
    return [_ask_part(inner, kept[i] if i < len(kept) else {}, f"{where} {i + 1}") for i in range(count)]


def _ask_value(model: type[BaseModel], name: str, field: FieldInfo, kept: Any) -> Any:
    if kept is None and not field.is_required():
        kept = field.default
    bounds = [f"{m.ge:g}" for m in field.metadata if hasattr(m, "ge")] + [
        f"{m.le:g}" for m in field.metadata if hasattr(m, "le")
    ]
    about = (field.description or "").rstrip(".")
    unit = _unit(field)
    allowed = f" {' to '.join(bounds)}{' ' + unit if unit else ''}" if bounds else ""
    choices = [str(arg) for arg in get_args(field.annotation) if isinstance(arg, (str, int))]
    if choices:
        allowed = f" one of: {', '.join(choices)}"
    shape: Any = Annotated[(field.annotation, *field.metadata, None)]
    adapter: TypeAdapter[Any] = TypeAdapter(shape)
    while True:
        given = click.prompt(
            f"{name.replace('_', ' ')}: {about}.{allowed}",
            default="" if kept is None else str(kept),
            show_default=kept is not None,
        )
        if given == "" and not field.is_required():
            return None
        value: Any = int(given) if choices and given.isdigit() else given
        try:
            # only this field is looked at; the others are judged when all is answered
            made = adapter.validate_python(_quantity(model, name, value))
            return given if hasattr(made, "isoformat") else made
        except (ValidationError, ValueError) as error:
            message = error.errors()[0]["msg"] if isinstance(error, ValidationError) else str(error)
            click.echo(f"  {message.removeprefix('Value error, ')}. Allowed:{allowed or ' see the help'}.")


def _quantity(model: type[BaseModel], name: str, value: Any) -> Any:
    from cabassist.units import parse_to

    extra = model.model_fields[name].json_schema_extra
    if isinstance(extra, dict) and extra.get("measured") and isinstance(value, str):
        return parse_to(value, str(extra["unit"]))
    return value
