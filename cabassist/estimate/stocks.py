"""From the coach's figures and what its readings taught to the supplies that a trip simulation follows.

Figures are SI, as the names say; who holds the coach's profile fills them in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from cabassist.estimate.learning import GAUGE_SD, Belief, Supply, people_supply, propane_supply
from cabassist.estimate.trip import Heat, Stock

WASTE_LIMIT = 0.9
"""Share of full at which the waste tank counts as failed. Common practice, no source."""
BATTERY_LIMIT = 0.5
"""Share below which a lead-acid house battery should not go. Common practice, no source."""
ROAD_SPREAD, HOUSE_SPREAD = 0.1, 0.3
"""Standard deviation of fuel for a mile and of the house's draw, as shares. Common practice, no source."""
UNREAD_SD = 0.29
"""Standard deviation of a level nobody has read: anything from empty to full."""


@dataclass(frozen=True)
class CoachFigures:
    """What a simulation needs to know of a coach."""

    fresh_m3: float
    waste_m3: float
    propane_kg: float
    """Legal fill of the cylinders that feed, together."""
    loss_w_per_k: float
    """Heat lost for each kelvin, shell and leaking air together."""
    efficiency: float
    furnaces_w: float
    """Fuel input of all furnaces together; 0 when there is none."""
    fresh_m3_per_person_day: float
    waste_m3_per_person_day: float
    setpoint_k: float
    night_setpoint_k: float
    diesel_m3: float = 0.0
    diesel_m3_per_m: float = 0.0
    battery_ah: float = 0.0
    house_a: float = 0.0
    """What the house draws on average while nothing charges it."""

    def heat(self) -> Heat:
        """Loss of the cabin and the most its furnaces deliver."""
        return Heat(self.loss_w_per_k, self.furnaces_w * self.efficiency)

    def supplies(self) -> dict[str, Supply]:
        """Every supply this coach has, with the rate that physics or habit gives it."""
        made = {
            "fresh": people_supply("fresh", self.fresh_m3, self.fresh_m3_per_person_day),
            "waste": people_supply("waste", self.waste_m3, self.waste_m3_per_person_day, rising=True),
        }
        if self.furnaces_w > 0:
            made["propane"] = propane_supply(self.propane_kg, self.loss_w_per_k, self.efficiency)
        if self.diesel_m3 > 0:
            made["diesel"] = Supply("diesel", self.diesel_m3, "m^3", self.diesel_m3_per_m, ROAD_SPREAD, 0.0)
        if self.battery_ah > 0 and self.house_a > 0:
            made["house battery"] = Supply("house battery", self.battery_ah, "A*h", self.house_a, HOUSE_SPREAD, 0.0)
        return made


def belief_from_level(supply: Supply, level: float | None, level_sd: float = GAUGE_SD) -> Belief:
    """What is believed of a supply from one level, or from none.

    Args:
        supply: with its prior rate.
        level: share of full, 0–1; None when nobody has read it.
        level_sd: standard deviation of the reading, as a share of full.

    Raises:
        ValueError: the level is no share.
    """
    if level is not None and not 0 <= level <= 1:
        raise ValueError(f"I can't use {level:g} for the level of {supply.name}. It is a share between 0 and 1.")
    middle, sd = (0.5, UNREAD_SD) if level is None else (level, level_sd)
    full = supply.capacity
    return Belief(middle * full, supply.rate, (sd * full) ** 2, (supply.rate_spread * supply.rate) ** 2)


def stocks(figures: CoachFigures, beliefs: Mapping[str, Belief]) -> tuple[Stock, ...]:
    """The supplies to follow; one without a belief is taken as unread.

    Args:
        figures: of the coach.
        beliefs: by supply, as `learning.learn` and `advance`, or `belief_from_level`, leave them.
    """
    made = []
    for name, supply in figures.supplies().items():
        belief = beliefs.get(name) or belief_from_level(supply, None)
        if name == "fresh":
            made.append(Stock(supply, belief, 0.0, "people", "water"))
        elif name == "waste":
            made.append(Stock(supply, belief, WASTE_LIMIT * supply.capacity, "people", "dump"))
        elif name == "propane":
            made.append(Stock(supply, belief, 0.0, "cold", "propane"))
        elif name == "diesel":
            made.append(Stock(supply, belief, 0.0, "road", "diesel"))
        else:
            made.append(Stock(supply, belief, BATTERY_LIMIT * supply.capacity, "house"))
    return tuple(made)
