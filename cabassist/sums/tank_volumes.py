"""What a story tells of a tank, in gallons: levels in gallons, in percent or without a unit, and the size when it is not told."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import shown
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.tank_story import Level, Story, Tank

_AS_GALLONS = "numbers without a unit taken as gallons"
EACH = Lazy(
    r"\b(?:each|apiece|per (?:person|head|player|man)|a (?:head|person|man)|every (?:one|player|person)|everybody|everyone|one of (?:us|them))\b"
)


@dataclass(frozen=True)
class ToldTank:
    """A question about tanks, with all that it is worked out from."""

    story: Story
    question: Question
    want: Wanted
    coach: Coach
    now: datetime


def gallons_of(level: Level, tank: Tank, coach: Coach, name: str, assumed: list[str]) -> float | None:
    """Gallons of a level; None when its unit is not told. What is taken from the profile goes into `assumed`."""
    if level.kind == "share":
        return level.value * size_of(tank, coach, name, assumed)
    if level.kind == "bare" and {one.kind for one in tank.levels} == {"bare", "share"} and level.value <= 100:
        return level.value / 100 * size_of(tank, coach, name, assumed)
    if level.kind == "bare" and not _in_gallons(tank):
        return None
    bare = level.kind == "bare" and tank.size is None and {one.kind for one in tank.levels} == {"bare"}
    if bare and _AS_GALLONS not in assumed:
        assumed.append(_AS_GALLONS)
    return level.value


def _in_gallons(tank: Tank) -> bool:
    """Whether a number without a unit is in gallons, as the others told of the tank are."""
    kinds = {one.kind for one in tank.levels} - {"bare"}
    told = tank.size is not None or bool(tank.rates) or bool(tank.uses)
    return kinds == {"gal"} or (not kinds and (told or len(tank.levels) > 1))


def size_of(tank: Tank, coach: Coach, name: str, assumed: list[str]) -> float:
    """Gallons a tank holds, as told or as the profile has it."""
    if tank.size is not None:
        return tank.size
    own = float(coach.tank("waste" if name == "waste" else "fresh").capacity_gal)
    line = f"{name} tank {shown(own)} gal (profile)"
    if line not in assumed:
        assumed.append(line)
    return own


def by_percent(tank: Tank) -> bool:
    """Whether a rate without a unit is in percent, as the level is."""
    return tank.bare_rate and tank.size is None and {one.kind for one in tank.levels} == {"share"}
