"""Trips across time zones, several stops, what the rest of a tank does, and a driver's day told by the clock.

Every amount has the role that its mark says; expected values are worked out by hand from the source above them.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.asked_for import asked_for, terms_of
from cabassist.language.calculation_inputs import read_question
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Told
from cabassist.sums.marked import marked
from cabassist.sums.told_duty import DUTY
from cabassist.sums.told_road import ROAD

NOW = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)


def solved(line: str, coach: Coach, family: object) -> Estimate | None:
    """What the marked amounts come to."""
    assert family in (ROAD, DUTY)
    one = marked(f"{line} -> 1 h")
    question = read_question(one.text)
    role_at = {amount.start: role for amount, role in zip(question.amounts, one.roles, strict=True)}
    roles: dict[str, list[Term]] = {}
    for term in terms_of(question) or ():
        roles.setdefault(role_at[term.amount.start], []).append(term)
    told = Told(roles, question, asked_for(question) or Wanted(), coach, NOW)
    found = (ROAD if family is ROAD else DUTY).solve(told)
    return found if found is not None and told.whole() else None


ON_THE_ROAD = (
    # 300 mi ÷ 60 mph = 5 h: 13:00 here, an hour later there.
    ("leaving {start=8 am}, {distance=300 miles} at {speed=60}, they are {zone=an hour} ahead of us, when are we there", 5, "14:00"),
    ("leaving {start=8 am}, {distance=300 miles} at {speed=60}, we are {zone=an hour} ahead of them, when are we there", 5, "12:00"),
    ("leaving {start=8 am}, {distance=300 miles} at {speed=60}, we lose {zone=an hour}, when are we there", 5, "14:00"),
    # Central is an hour behind Eastern (49 CFR 71): 14:00 there is 15:00 here, less 4 h.
    ("be there at {arrive=2 pm} central, we leave on eastern, {distance=240 miles} at {speed=60}, when do i leave", 4, "11:00"),
    # 2 x 20 min + 1 h; 20 + 40 min.
    ("{distance=300 miles} at {speed=60}, {stops=two} {stop=20 minute} stops and {stop=an hour} for dinner, how long", 5 + 2 / 3 + 1, ""),
    ("{distance=300 miles} at {speed=60}, {stops=two} stops of {stop=20 minutes} and {stop=40 minutes}, how long", 6, ""),
    ("{distance=300 miles} at {speed=60}, {stop=fifteen minutes} fuel and {stop=forty} for food, how long", 5 + 55 / 60, ""),
    # 240 mi in the five hours from noon.
    ("{distance=240 miles}, there by {arrive=5 pm}, what speed do i need", 48, ""),
    # 600 mi ÷ 2 gal x 3.5 gal; 30 % took 360 mi, so 50 % do 600; 170 - 110 gal took 366 mi.
    ("used {burned=2 gallons} of def in {done=600 miles}, {fuel=3.5 gallons} left, how far does it go", 1050, ""),
    ("from {was=80 percent} to {share=50 percent} in {done=360 miles}, how far on the rest", 600, ""),
    ("from {was=170 gallons} to {fuel=110 gallons} in {done=366 miles}, how far on the rest", 671, ""),
    ("{burned=50 gallons} took us {done=300 miles}, how many gallons for {distance=180 miles}", 30, ""),
)  # fmt: skip


@pytest.mark.parametrize(("line", "value", "said"), ON_THE_ROAD)
def test_a_trip(line: str, value: float, said: str, coach: Coach) -> None:
    found = solved(line, coach, ROAD)
    assert found is not None
    assert found.value == pytest.approx(value, rel=1e-3)
    assert said in found.verdict


@pytest.mark.parametrize(
    "line",
    [
        "leaving {start=8 am}, {distance=300 miles} at {speed=60}, the clock is off by {zone=an hour}, when are we there",
        "leaving {start=8 am} eastern, {distance=300 miles} at {speed=60}, when are we there",
        "{was=90 percent} def, {done=300 miles}, how far on the rest",
    ],
)
def test_what_is_not_clear_is_not_answered(line: str, coach: Coach) -> None:
    assert solved(line, coach, ROAD) is None


# 49 CFR 395.5: ten hours of driving, none after fifteen on duty, eight off in a row; 60 in 7 days or 70 in 8, no restart.
OF_A_DAY = (
    ("on since {start=6 am}, off from {off_from=one} till {off_to=four}, when does my {limit=fifteen} run out", 18, "00:00"),
    ("on since {start=6 am}, off from {off_from=1 pm} till {off_to=4 pm}, when does my {limit=fifteen} run out", 18, "00:00"),
    ("on since {start=6 am}, off from {off_from=11 am} till {off_to=2 pm}, drove {driven=6 hours}, it is {now=5 pm}, driving left", 4, "The 15 on duty end at 00:00"),
    ("on since {start=6 am}, off {off=3 hours}, drove {driven=6 hours}, how much of my {limit=ten} and when does my {limit=fifteen} run out", 4, "00:00"),
    ("drove {drove_from=6 am} to {drove_to=10 am} and {drove_from=1 pm} to {drove_to=3:30 pm}, hours of driving left", 3.5, ""),
    ("bus call is {again=6 am}, when must i be off duty", 8, "22:00"),
    ("been off {rest=6 hours}, it is {now=4 am}, when can i drive", 2, "06:00"),
    ("parked {stopped=1 am}, then {distance=200 miles} at {speed=50}, when can we be there", 8, "13:00"),
    ("relief drove {driven_b=2 hours} but is {on_duty_b=13 hours} on duty, i have {left=4 hours}, hours together", 6, ""),
    ("{week_limit=60} in {week_span=7}: {week=11}, {week=12}, {days_off=2 days} off, {week=10}, {week=11}, did it reset, hours left", 16, "No, no restart"),
    # In the eight days with today: 2 x 0, 12, 10, 9 and the 11 before; the 12 of nine days ago has dropped out.
    ("{week_limit=70} in {week_span=8}: {week=12}, {week=8}, {week=11}, {days_off=2 days} off, {week=12}, {week=10}, {week=9}, today {today=1}, left", 19, ""),
)  # fmt: skip


@pytest.mark.parametrize(("line", "value", "said"), OF_A_DAY)
def test_a_day(line: str, value: float, said: str, coach: Coach) -> None:
    found = solved(line, coach, DUTY)
    assert found is not None
    assert found.value == pytest.approx(value, rel=1e-3)
    assert said in found.verdict


def test_half_a_spell_is_no_spell(coach: Coach) -> None:
    assert (
        solved("on since {start=6 am}, off till {off_to=4 pm}, when does my {limit=fifteen} run out", coach, DUTY)
        is None
    )
