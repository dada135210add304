"""Rest once the hours are used up, a drive told by its hours, what falls steadily, gear of each, torque in the other unit.

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
from cabassist.sums.families import Family, Told
from cabassist.sums.marked import marked
from cabassist.sums.told_cabin import CABIN
from cabassist.sums.told_duty import DUTY
from cabassist.sums.told_loads import LOADS
from cabassist.sums.told_road import ROAD
from cabassist.sums.working import work_out

NOW = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)


def solved(line: str, coach: Coach, family: Family) -> Estimate | None:
    """What the marked amounts come to."""
    one = marked(f"{line} -> 1 h")
    question = read_question(one.text)
    role_at = {amount.start: role for amount, role in zip(question.amounts, one.roles, strict=True)}
    roles: dict[str, list[Term]] = {}
    for term in terms_of(question) or ():
        roles.setdefault(role_at[term.amount.start], []).append(term)
    told = Told(roles, question, asked_for(question) or Wanted(), coach, NOW)
    found = family.solve(told)
    return found if found is not None and told.whole() else None


CASES = (
    # 49 CFR 395.5(a): eight consecutive hours off; 8 - 3 = 5.
    (DUTY, "{driven=ten hours} at the wheel today, how many hours of rest do i need", 8, "8 hours"),
    (DUTY, "{driven=ten hours} driven and {off=three hours} off so far, how much longer off do i need", 5, "5 h"),
    (DUTY, "that's my {limit=ten} used up, how long do i sit", 8, "8 hours"),
    # 22:00 - 14:00 = 8 h, less 1 h off: 7 h driven, 3 h left, until 01:00.
    (DUTY, "on since {start=two pm}, {now=ten} now, {off=an hour} off, otherwise driving, how much driving is left", 3, "01:00"),
    (DUTY, "nobody called me in: {week=51 hours} before, {today=three} today, what's left of the {week_limit=seventy}", 16, ""),
    # 16:00 + 5 h = 21:00 Pacific, 22:00 Mountain; 07:20 + 5 h + 2 h; 17:00 - 7 h.
    (ROAD, "out at {start=four pm} pacific, {hours=five hours} of road, they're on mountain, when are we there", 5, "22:00"),
    (ROAD, "go {start=7:20}, {hours=four and a half hours} driving, {stop=30 minutes} of stops, they are {zone=two hours} ahead, when are we there", 5, "14:20"),
    (ROAD, "{hours=six hours} of driving and {stop=an hour} of stops, be there by {arrive=5 pm}, when do i leave", 7, "10:00"),
    (ROAD, "off at {start=ten tonight} mountain, {hours=eight hours} of road, what time is it there if it's pacific there", 8, "05:00"),
    # 6 degrees in 3 h: 2 an hour, 8 more take 4 h; (47 - 32) / 5 = 3 h.
    (CABIN, "{start=70} at {from=8 pm}, {later=64} at {seen=11 pm}, going on so, when is it {target=56}", 4, "03:00"),
    (CABIN, "it was {start=70}, {apart=three hours} on it's {later=64}, how long until {target=56}", 4, ""),
    (CABIN, "sink drain {start=47 F}, losing {rate=five degrees} each hour, how long till ice", 3, ""),
    # 26 x (200 + 45).
    (LOADS, "{count=26 players} at {each=200 lb} and {each=45 lb} of kit per man, total pounds", 6370, ""),
)  # fmt: skip


@pytest.mark.parametrize(("family", "line", "value", "says"), CASES)
def test_it_works_out(family: Family, line: str, value: float, says: str, coach: Coach) -> None:
    found = solved(line, coach, family)
    assert found is not None, line
    assert found.value == pytest.approx(value, rel=0.005)
    assert says in found.verdict


@pytest.mark.parametrize(
    ("text", "hint", "value", "unit", "says"),
    [
        # 560 ÷ 1.35582; 475 ± 25 lb-ft (Trucknews, wheel article).
        ("M22 nuts pulled to 560 newton meters, is that enough and what is it in foot pounds", "wheel-torque", 413.0, "lb-ft", "No"),
        # 100 - 6 x 0.8.
        ("a full hundred gallon tank, idled six hours at point eight, how much is left", "idle-hours", 95.2, "gal", ""),
        # (10 - 0) ÷ 2.
        ("water in the pipe is at 10 C and losing 2 C an hour, when does it freeze", "freeze-time", 5, "h", ""),
    ],
)  # fmt: skip
def test_the_readers_work_out(text: str, hint: str, value: float, unit: str, says: str, coach: Coach) -> None:
    worked = work_out(text, [(hint, 0.9)], coach=coach, stored=[], now=NOW)
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value == pytest.approx(value, rel=0.005)
    assert worked.estimate.unit == unit
    assert worked.estimate.verdict.startswith(says)
