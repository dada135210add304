"""Sums over batteries, power, trips, duty, loads, tires and warmth: every amount placed, or no answer.

The families work as those of `summing` do. A sum is given only when its formula measures what the question asks for and takes
every amount that was told, so that no number is answered for another question than the one that was asked.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.asked_for import asked_for, terms_of
from cabassist.language.calculation_inputs import Question
from cabassist.sums.families import Family, Told, likeliest
from cabassist.sums.told_bank import BANK
from cabassist.sums.told_cabin import CABIN
from cabassist.sums.told_chill import CHILL
from cabassist.sums.told_chilling import CHILLING
from cabassist.sums.told_damp import DAMP
from cabassist.sums.told_duty import DUTY
from cabassist.sums.told_idle import IDLE
from cabassist.sums.told_loads import LOADS
from cabassist.sums.told_pad import PAD
from cabassist.sums.told_power import CORDS
from cabassist.sums.told_road import ROAD
from cabassist.sums.told_shore import shore_sum
from cabassist.sums.told_stamp import stamped
from cabassist.sums.told_stories import story_told
from cabassist.sums.told_supply import SHORE
from cabassist.sums.told_tires import RECHECK, TIRES, TREAD

FAMILIES: tuple[Family, ...] = (
    BANK,
    CORDS,
    DUTY,
    ROAD,
    IDLE,
    LOADS,
    TIRES,
    TREAD,
    RECHECK,
    CABIN,
    CHILL,
    CHILLING,
    PAD,
    DAMP,
    SHORE,
)
_MOST = 10
"""So many amounts a family weighs against its roles."""
_MOST_TOLD = 20
"""So many a story may have: a week of days among other numbers."""


def told_sum(question: Question, coach: Coach, now: datetime) -> tuple[str, Estimate] | None:
    """What the amounts come to, with the calculation it belongs to; None when not every amount has its place."""
    dated = stamped(question, now)
    if dated is not None:
        return dated
    if not question.amounts or len(question.amounts) > _MOST_TOLD:
        return None
    plugged = shore_sum(question, coach)
    if plugged is not None:
        return plugged
    want, found = asked_for(question), terms_of(question)
    story = story_told(question, want, coach, now)
    if story is not None:
        return story
    told = None
    if want is not None and found is not None and len(question.amounts) <= _MOST:
        told = likeliest(FAMILIES, question, want, found, lambda roles: Told(roles, question, want, coach, now))
    return told or story_told(question, want, coach, now, later=True)
