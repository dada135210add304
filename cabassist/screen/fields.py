"""What can be entered, and how each entry is checked while it is typed. Pure: a text in, a verdict out.

A filled field becomes words that are said to the session, as if the driver had said them; only a change of the coach's
profile is kept in its file. What a reading may be is decided by the same code that hears readings.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from cabassist.dialogue.types import Mind
from cabassist.files import write_whole
from cabassist.language.plausibility import echo, label
from cabassist.record.upkeep import done_in
from cabassist.screen.values import find, values_of

DEFECT_LEAST, DEFECT_MOST = 4, 300


@dataclass(frozen=True)
class Verdict:
    """Whether what stands in a field can be used, and what it means or what is allowed."""

    ok: bool
    words: str


@dataclass(frozen=True)
class Field:
    """One line of a form. `says` makes the words for the session of its text."""

    name: str
    label: str
    allowed: str
    check: Callable[[str], Verdict]
    says: Callable[[str], str]


def fields_of(form: str, mind: Mind) -> tuple[Field, ...]:
    """The fields of a form: readings, duty, defects, upkeep or coach. Raises KeyError for another."""
    return FORMS[form](mind)


def _reading(what: str, which: str | None, said: str, allowed: str, mind: Mind) -> Field:
    def check(text: str) -> Verdict:
        heard = mind.readings_in(f"{said} {text}")
        if heard.refused:
            return Verdict(False, heard.refused[0].message)
        fitting = [r for r in heard.readings if r.what == what and which in (None, r.which)]
        if len(fitting) != 1 or len(heard.readings) != 1:
            return Verdict(False, heard.ask or f"Not understood. Allowed: {allowed}")
        return Verdict(True, echo(fitting[0], mind.coach))

    return Field(f"{what}-{which or ''}", label(what, which), allowed, check, lambda text: f"{said} {text}")


def _readings(mind: Mind) -> tuple[Field, ...]:
    coach = mind.coach
    found = []
    for tank in coach.tanks:
        allowed = f"a level such as 40 percent, two thirds or full; or up to {tank.capacity_gal:g} gallons"
        found.append(_reading(tank.name, None, f"{tank.name.replace('_', ' ')} at", allowed, mind))
    for cylinder in coach.propane.cylinders:
        if cylinder.role != "spare":
            allowed = f"a level such as a quarter; or up to {cylinder.nominal_lb:g} pounds"
            found.append(_reading("propane", cylinder.role, f"{cylinder.role} cylinder at", allowed, mind))
    volts = coach.house_battery.volts
    found.append(
        _reading("house_battery", None, "house battery", f"volts of a {volts} V bank, such as {volts}.4 volts", mind)
    )
    found.append(
        _reading("diesel", None, "diesel at", f"a level; or up to {coach.diesel.capacity_gal:g} gallons", mind)
    )
    found.append(_reading("outside_temp", None, "outside temperature", "degrees, such as minus 12", mind))
    found.append(_reading("inside_temp", None, "inside temperature", "degrees, such as 66", mind))
    found.append(_reading("odometer", None, "odometer", "miles, such as 120400 miles", mind))
    found.append(
        _reading("passengers", None, "passengers aboard:", f"up to {coach.people.max_passengers} people", mind)
    )
    return tuple(found)


_STATUSES = ("driving", "on duty", "off duty", "berth")


def _duty(mind: Mind) -> tuple[Field, ...]:
    allowed = f"{', '.join(_STATUSES)}; a time may follow: off duty since 21:40"

    def check(text: str) -> Verdict:
        from cabassist.record.duty import status_in

        found = status_in(f"I'm {text}") or status_in(text)
        return Verdict(True, f"Your status: {found.status}.") if found else Verdict(False, f"Allowed: {allowed}")

    return (Field("status", "Your status", allowed, check, lambda text: f"I'm {text}"),)


def _defects(mind: Mind) -> tuple[Field, ...]:
    allowed = f"what is wrong and where, {DEFECT_LEAST} to {DEFECT_MOST} characters"

    def check(text: str) -> Verdict:
        size = len(text.strip())
        ok = DEFECT_LEAST <= size <= DEFECT_MOST
        return Verdict(
            ok, "Goes on record; what is missing is asked." if ok else f"{size} characters. Allowed: {allowed}"
        )

    return (Field("defect", "What is wrong", allowed, check, lambda text: f"log a defect: {text}"),)


def _upkeep(mind: Mind) -> tuple[Field, ...]:
    names = ", ".join(item.name[:1].lower() + item.name[1:] for item in mind.coach.upkeep) or "none in this profile"
    allowed = f"words for work that was done. This coach asks for: {names}"

    def check(text: str) -> Verdict:
        item = done_in(text, mind.coach)
        return Verdict(True, f"Done: {item.name}.") if item else Verdict(False, f"Not understood. Allowed: {allowed}")

    return (Field("done", "Work done", allowed, check, lambda text: text),)


def value_field(model: BaseModel, example: str) -> Field:
    """One value of a profile or a trip, written as it is listed: fresh tank capacity = 450 L."""
    allowed = f"what it belongs to, its name, = and the new value, such as {example}"

    def check(text: str) -> Verdict:
        try:
            changed(model, text)
        except ValueError as error:
            return Verdict(False, str(error))
        return Verdict(True, "Fits.")

    return Field("value", "Change", allowed, check, lambda text: text)


def _coach(mind: Mind) -> tuple[Field, ...]:
    return (value_field(mind.coach, "fresh tank capacity = 450 L"),)


FORMS: dict[str, Callable[[Mind], tuple[Field, ...]]] = {
    "readings": _readings, "duty": _duty, "defects": _defects, "upkeep": _upkeep, "coach": _coach,
}  # fmt: skip
"""Every form by its name."""


M = TypeVar("M", bound=BaseModel)


def changed(model: M, text: str) -> M:
    """A profile or a trip with one value changed, as "fresh tank capacity = 450 L".

    Raises:
        ValueError: says what is wrong and what is allowed.
    """
    said, found, value = (part.strip() for part in text.partition("="))
    if not found or not said:
        raise ValueError("Write the name, an equals sign and the value: fresh tank capacity = 450 L")
    meant = find(said, list(values_of(model)))
    body: dict[str, Any] = model.model_dump(mode="json", by_alias=True)
    *path, last = meant.path
    inside: Any = body
    for part in path:
        inside = inside[int(part)] if isinstance(inside, list) else inside[part]
    inside[last] = _typed(inside[last], value)
    try:
        return type(model).model_validate(body)
    except ValidationError as error:
        first = error.errors()[0]
        raise ValueError(f"{first['msg']}. It is {meant.shown} now. {meant.about}") from None


def _typed(before: Any, value: str) -> Any:
    """A text as what stood there: yes and no, a list, nothing, or the text, which the model reads by itself."""
    if isinstance(before, bool) and value.lower() in ("yes", "no", "true", "false"):
        return value.lower() in ("yes", "true")
    if isinstance(before, list):
        return [part.strip() for part in value.strip("[]").split(",") if part.strip()]
    if value.lower() == "none" and before is None:
        return None
    return value


def save(model: BaseModel, path: Path) -> None:
    """Write a profile or a trip, all or nothing.

    Raises:
        FileProblem: it cannot be written; what was there stands.
    """
    import yaml

    body = yaml.safe_dump(model.model_dump(mode="json", by_alias=True), sort_keys=False, allow_unicode=True)
    write_whole(path, body, advice="Free some space or choose another folder.")
