"""Calculations that are asked for outright, by words that mean nothing else, often without a number.

"Which cylinder do I use first", "how long do I boil water": no amount speaks for a sum, so each of these says itself whether a
question is its own. They are tried before all cues and families.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import names_any
from cabassist.sums.told_stamp import undated
from cabassist.sums.working_bays import freezing, freezing_asked, freezing_said
from cabassist.sums.working_cylinders import requalification, requalification_said
from cabassist.sums.working_forecast import forecast, forecast_asked, forecast_said
from cabassist.sums.working_habits import (
    burn,
    burn_asked,
    burn_said,
    degree_days,
    degree_days_asked,
    degree_days_said,
    habits,
    habits_asked,
    habits_said,
)
from cabassist.sums.working_heat_in import (
    boil,
    boil_asked,
    boil_said,
    boils,
    boils_asked,
    boils_said,
    heat_in,
    heat_in_asked,
    heat_in_said,
)
from cabassist.sums.working_jacks import jack, jack_asked, jack_said
from cabassist.sums.working_order import fill, fill_asked, fill_said, order, order_asked, order_said
from cabassist.sums.working_sheet import Sheet


class Outright(NamedTuple):
    """One calculation with what tells that it is asked for."""

    name: str
    topic: str
    parts: tuple[str, ...]
    """One of these stands in every such question, also inside a word."""
    asked: Callable[[Question, Coach], bool]
    said: Callable[[Sheet], None]
    solve: Callable[[Sheet], Estimate]
    tells: bool = False
    """Whether what is told beside is so now, and is stored."""


OUTRIGHT: tuple[Outright, ...] = (
    Outright("jack-rating", "jack-the-coach", ("jack",), lambda q, _: jack_asked(q), jack_said, jack),
    Outright("boil-time", "sanitize-fresh-tank", ("boil",), lambda q, _: boil_asked(q), boil_said, boil),
    Outright("propane-boils", "read-propane-gauges", ("boil", "vapor", "vapour", "gas"), lambda q, _: boils_asked(q), boils_said, boils),
    Outright("waste-of-one", "dump-waste-tank", ("flush",), lambda q, _: habits_asked(q), habits_said, habits),
    Outright("burn-for-loss", "read-propane-gauges", ("burn", "propane", "gas"), lambda q, _: burn_asked(q), burn_said, burn),
    Outright("degree-days", "keep-cabin-warm", ("degree day",), lambda q, _: degree_days_asked(q), degree_days_said, degree_days),
    Outright("heat-in-fuel", "check-fluids", ("diesel", "propane", "lp"), lambda q, _: heat_in_asked(q), heat_in_said, heat_in),
    Outright("cylinder-order", "change-over-cylinders", ("first", "order", "which", "what"), lambda q, _: order_asked(q), order_said, order, True),
    Outright("legal-fill", "swap-or-refill-cylinder", ("cylinder", "bottle", "pound", "propane", "lp"), lambda q, _: fill_asked(q), fill_said, fill),
    Outright("requalification", "swap-or-refill-cylinder", ("stamp", "mark", "letter", "collar", "test", "qual", "cert"), lambda q, _: undated(q) != "", requalification_said, requalification),
    Outright("propane-forecast", "read-propane-gauges", ("propane", "gas", "cylinder", "bottle", "pound", "lb", "kilo", "kg", "lp"), lambda q, _: forecast_asked(q), forecast_said, forecast),
    Outright("freeze-time", "protect-water-from-freezing", ("freez", "froze", "ice", "solid"), freezing_asked, freezing_said, freezing),
)  # fmt: skip


def asked_outright(question: Question, coach: Coach) -> Outright | None:
    """The calculation that the question asks for outright, or None."""
    said = question.text.lower()
    return next((one for one in OUTRIGHT if names_any(said, one.parts) and one.asked(question, coach)), None)
