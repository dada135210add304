"""Amounts that are told without a unit, in the unit of the others: "420 km at 90" is ninety kilometers an hour."""

from __future__ import annotations

from cabassist.language.calculation_units import converted
from cabassist.language.sum_terms import Term
from cabassist.sums.families import Told

_TWINS = {
    "distance": (frozenset({"km", "km/h"}), frozenset({"mi", "mph"}), "km", "mi"),
    "speed": (frozenset({"km", "km/h"}), frozenset({"mi", "mph"}), "km/h", "mph"),
    "volume": (frozenset({"L"}), frozenset({"gal"}), "L", "gal"),
    "mass": (frozenset({"kg"}), frozenset({"lb"}), "kg", "lb"),
}
"""The metric units that speak for one, the others that speak against it, and the two to convert between."""


def as_spoken(t: Told, kind: str, *names: str) -> None:
    """Take the bare numbers of these roles as metric ones where every amount of the kind that has a unit is metric."""
    metric, other, unit, own = _TWINS[kind]
    spoken = {one.unit for one in t.question.amounts}
    if not spoken & metric or spoken & other:
        return
    factor = converted(1.0, unit, own)
    for name in names:
        if name in t.roles:
            put = [one._replace(value=one.value * factor) if one.kind in ("n", "n/time") else one for one in t.roles[name]]  # fmt: skip
            t.roles = {**t.roles, name: put}


def as_beside(term: Term, other: Term) -> Term:
    """A level without a unit in that of the other one: "from 20 to ninety percent"."""
    if term.kind != "n":
        return term
    return term._replace(kind=other.kind, value=term.value * (0.01 if other.kind == "share" else other.factor))
