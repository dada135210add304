"""Every value of a profile or a trip in words that a driver reads: "fresh tank", "capacity", "120 gal". Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

_KEYS = ("name", "role", "day", "id")
"""Fields that tell one item of a list from the others, the most telling first."""
_UNIT = re.compile(
    r"_(?:gal|in|ft|lb|ft_lb|w|w_per_k|ah|psi|mi|min|awg|f|cfm|btu_per_h|btu_per_f|btu_per_h_f|gal_per_h)$"
)


@dataclass(frozen=True)
class Value:
    """One value: its path in the file, what it belongs to, its name, how it is shown, and what it is."""

    path: tuple[str, ...]
    group: str
    name: str
    shown: str
    about: str

    @property
    def place(self) -> str:
        """How a driver names it: "fresh tank capacity"."""
        return f"{self.group} {self.name}".strip()

    @property
    def dotted(self) -> str:
        """How the file has it: "tanks.0.capacity_gal"."""
        return ".".join(self.path)


def values_of(part: BaseModel, path: tuple[str, ...] = (), group: str = "") -> Iterator[Value]:
    """Every value of a profile or a trip, group by group."""
    inner: list[Iterator[Value]] = []
    for name, field in type(part).model_fields.items():
        value, here, words = getattr(part, name), (*path, field.alias or name), name.replace("_", " ")
        if isinstance(value, BaseModel):
            inner.append(values_of(value, here, f"{group} {words}".strip()))
        elif isinstance(value, (list, tuple)) and value and all(isinstance(item, BaseModel) for item in value):
            inner += [values_of(item, (*here, str(at)), _called(item, words)) for at, item in enumerate(value)]
        else:
            extra: Any = field.json_schema_extra
            unit = extra.get("unit", "") if isinstance(extra, dict) and extra.get("measured") else ""
            short = _UNIT.sub("", name).replace("_", " ")
            yield Value(here, group, short, _shown(value, unit), field.description or "")
    for values in inner:
        yield from values


def find(said: str, values: list[Value]) -> Value:
    """The value that is named, in words or as the file has it.

    Raises:
        ValueError: there is none; names the nearest.
    """
    wanted = " ".join(said.lower().split())
    for value in values:
        if wanted in (value.place.lower(), value.dotted):
            return value
    from cabassist.procedures.library import nearest

    near = nearest(wanted, [value.dotted if "." in wanted else value.place for value in values])
    raise ValueError(f"There is no {said}." + (f" Did you mean {' or '.join(near)}?" if near else ""))


def _called(item: BaseModel, many: str) -> str:
    """What an item of a list is called: the fresh tank, bay 3, the kit's torque wrench."""
    body = {name: getattr(item, name) for name in type(item).model_fields}
    key = next((str(body[name]) for name in _KEYS if name in body), "")
    if not many.endswith("s"):
        return f"{many}: {key}"
    one = many[:-2] if many.endswith("ches") else many[:-1]
    return key if one in key.split() else f"{key} {one}".strip()


def _shown(value: Any, unit: str) -> str:
    if value is None or value == "":
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (list, tuple)):
        return ", ".join(str(item) for item in value) or "none"
    text = f"{value:g}" if isinstance(value, float) and abs(value) < 1e5 else str(value)
    return f"{text} {_UNITS.get(unit, unit)}".strip()


_UNITS = {
    "degF": "°F", "fraction": "of 1", "1": "", "count": "", "day": "days", "ft^3/min": "cubic feet a minute",
    "Btu/h/delta_degF": "Btu/h for each °F", "Btu/delta_degF": "Btu for each °F", "ft_lb": "ft lb", "mi": "miles",
    "mi/gal": "miles a gallon", "gal/h": "gal/h", "degF/h": "°F an hour",
}  # fmt: skip
"""Units as a driver reads them, where pint's name is not that."""
