"""What hangs on a supply, with the role of each amount marked; each answer worked out by hand beside it.

80 % for three hours or more is NEC 210.20(A) and Art. 100; the watts of a resistance at other volts are P = V²/R.
"""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.estimate.power import parted, resisted
from cabassist.estimate.types import Estimate
from cabassist.language.asked_for import asked_for, terms_of
from cabassist.language.calculation_inputs import read_question
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Told
from cabassist.sums.marked import marked
from cabassist.sums.told_supply import SHORE
from cabassist.sums.working_sheet import quantity
from tests.sums.test_working import NOW


def solved(line: str, coach: Coach, kind: str = "") -> Estimate | None:
    one = marked(f"{line} -> 1 A")
    question = read_question(one.text)
    found = terms_of(question)
    assert found is not None
    assert len(question.amounts) == len(one.roles)
    role_at = {amount.start: role for amount, role in zip(question.amounts, one.roles, strict=True)}
    roles: dict[str, list[Term]] = {}
    for term in found:
        roles.setdefault(role_at[term.amount.start], []).append(term)
    told = Told(roles, question, Wanted(kind) if kind else asked_for(question) or Wanted(), coach, NOW)
    made = SHORE.solve(told)
    return made if made is not None and told.whole() else None


# fmt: off
WORKED = [
    # 30 x 0.8 = 24; 1500 ÷ 120 = 12.5, and 9: 21.5 of 24
    ("{supply=30 A}, {load=1500 W} and {load=9 A} all night, amps?", 21.5, "A", "Yes"),
    # 2 x 750 ÷ 115 = 13.04; 16 - 13.04 = 2.957 A = 340 W
    ("{supply=20 A} at {volts=115 V} measured, {count=2} x {load=750 W} overnight, watts left?", 340.0, "W", "Yes"),
    # a count behind its load; 2 x 1500 = 3000 W = 25 A over 16 A
    ("heaters {load=1500} each, {count=two of them}, {supply=20 A} all night, amps?", 25.0, "A", "No, too much"),
    # both at 13 A: 26 x 120 = 3120; 6500 - 3120 - 1000 = 2380: a plate has no 80 %
    ("genny {supply=6.5 kW}, both roof units {load=13 amps} each, kettle {load=1000 W}, watts free?", 2380.0, "W", "Yes"),
    # the same 2 hours and 9 hours of 19 A on 20 A
    ("may i pull {load=19 amps} on a {supply=20 amp} breaker for {hours=two hours}", 19.0, "A", "Yes"),
    ("may i pull {load=19 amps} on a {supply=20 amp} breaker for {hours=nine hours}", 19.0, "A", "No"),
    ("may i pull {load=19 amps} on a {supply=20 amp} breaker from {from=11 pm} to {to=1 am}", 19.0, "A", "Yes"),
    # too much, it trips, is it over: the other way round
    ("is {load=17 amps} too much for a {supply=20 amp} breaker all night", 17.0, "A", "Yes, not for hours"),
    ("will {load=15 amps} trip a {supply=20 amp} breaker all night", 15.0, "A", "No, it fits"),
    ("can i run {load=15 amps} without tripping a {supply=20 amp} breaker all night", 15.0, "A", "Yes, it fits"),
    # what it goes through: 0.8 x 15 = 12 A = 1440 W
    ("post {supply=30 amps}, adapter {through=15 amps}, how many watts all night", 1440.0, "W", ""),
    # legs of 40 A each: 40 - 31 = 9 and 40 - 18 = 22
    ("{supply=50 amp} service, left leg {load=31 amps}, right leg {second=18 amps} all night, amps left?", 9.0, "A", "Yes"),
    # 2 legs x 40 A x 120 V
    ("{supply=50 A} at {volts=120}/{volts=240 V}, how many watts all night", 9600.0, "W", ""),
    # 16 A = 1920 W; 1920 - 600 = 1320; ÷ 500 = 2.64
    ("how many {each=500 watt} lamps more on {supply=20 amps} all night with {load=600 watts} on", 2.0, "loads", "2 of them"),
    # 2880 - 600 = 2280; ÷ 3 = 760
    ("{among=three} heaters on {supply=30 amps} all night with {load=600 watts} on, how many watts each", 760.0, "W", ""),
    # 24 - 14 - 5
    ("{supply=30 amps}, {load=14 amps} on, keep {reserve=5 amps}, how many amps left all night", 5.0, "A", "Yes"),
    # 26 - 9 = 17 of 24
    ("{load=26 amps} on {supply=30 amps} all night, {off=9 amps} go off, how many amps left", 7.0, "A", "Yes"),
    # 7500 x 0.8 - 3800; 4000 x 0.85 - 2800
    ("set {supply=7500 watts}, load it to {share=80 percent}, {load=3800 watts} on, how many watts left", 2200.0, "W", "Yes"),
    ("set {supply=4000 watts}, {lost=15 percent} less up here, {load=2800 watts} on, how many watts left", 600.0, "W", "Yes"),
    # 1500 x (108 ÷ 120)² = 1215; 12.5 x 104 ÷ 120 = 10.83
    ("outlet {volts=108 volts}, heater {load=1500 watts} at {rated=120 volts}, how many watts really", 1215.0, "W", ""),
    ("outlet {volts=104 volts}, heater {load=1500 watts} at {rated=120 volts}, how many amps really", 10.8333, "A", ""),
    # 12.5 x 120 = 1500 W; ÷ 230
    ("{load=12.5 amps} at {volts=120 volts}, how many amps at {at=230 volts}", 6.5217, "A", ""),
    # 8.5 x 120; 1500 ÷ 12.5
    ("{load=19 amps} with it on, {before=10.5 amps} without, how many watts does it take", 1020.0, "W", ""),
    ("{load=1500 watts} pulls {load=12.5 amps}, how many volts", 120.0, "V", ""),
    # 18 ÷ 0.8 = 22.5; 2800 ÷ 0.7 = 4000; 900 ÷ (12 x 0.9)
    ("what size breaker for {load=18 amps} all night", 22.5, "A", "next size is 25"),
    ("{load=2800 watts}, generator loaded to {share=70 percent}, how many watts must it make", 4000.0, "W", ""),
    ("{load=900 watts} through a {efficiency=90 percent} inverter at {volts=12 volts}, how many amps", 83.3333, "A", ""),
    # what somebody says: 24 - 17 = 7, not 9; 16 x 120 = 1920
    ("he says {claimed=9 amps} left on {supply=30 amps} with {load=17 amps} all night, is he right", 7.0, "A", "No, it is 7 A"),
    ("is {claimed=1,920 watts} what {supply=20 amps} give all night", 1920.0, "W", "Yes"),
    # 1500 and 1000 W on a circuit of 16 A: one goes
    ("microwave {load=1500 W}, block heater {load=1000 W} on {supply=20 A} all night, ok?", 20.8333, "A", "Switch off the microwave"),
    # a kettle of 7.5 A beside 5.83 A on 12 A: the heater makes room
    ("{supply=15 A}, heater {load=700 W} on, add {add=900 W} all night, ok?", 13.3333, "A", "Switch off the heater"),
]
# fmt: on


@pytest.mark.parametrize(("line", "value", "unit", "verdict"), WORKED)
def test_each_role_counts(line: str, value: float, unit: str, verdict: str, coach: Coach) -> None:
    made = solved(line, coach, {"A": "current", "W": "watts", "V": "volts"}.get(unit, ""))
    assert made is not None
    assert made.value == pytest.approx(value, rel=1e-3)
    assert made.unit == unit
    assert verdict in made.verdict


@pytest.mark.parametrize(
    ("last", "verdict"),
    [("800", "Yes"), ("1000", "No, they can not be parted")],  # 1440 W each: 1000 | 600 + 800; 1000 | 600 + 1000
)
def test_loads_are_parted_over_two_outlets(last: str, verdict: str, coach: Coach) -> None:
    line = f"{{supplies=two}} {{supply=15 amp}} outlets, {{load=1000 watts}}, {{load=600 watts}}, {{load={last} watts}} all night, ok?"
    made = solved(line, coach)
    assert made is not None
    assert made.verdict.startswith(verdict)


@pytest.mark.parametrize(
    "line",
    [
        "{supply=30 A} and {supply=5000 W}, {load=9 A} on, ok?",  # a breaker and a plate do not add up
        "{supply=30 A}, {load=9 A}, {second=8 A} and {before=3 A}, ok?",
        "{load=9 A} for {hours=two hours}, amps?",  # amps do not turn on the hours
        "{load=9 A} at {volts=120 V} and {volts=100 V}, how many watts",
        "{count=three} on {supply=30 A}, ok?",  # a count of nothing
    ],
)
def test_what_does_not_follow_is_left(line: str, coach: Coach) -> None:
    assert solved(line, coach) is None


def test_only_the_network_uses_it() -> None:
    question = read_question("30 A outlet, 1500 W heater, ok?")
    assert not SHORE.applies(question, Wanted(), ())
    assert SHORE.calculation(question) == "breaker-limit"
    assert SHORE.calculation(read_question("generator 5 kW, 9 A on, ok?")) == "shore-load"


def test_a_resistance_gives_less_by_the_square() -> None:
    less = resisted(quantity(1500.0, "W"), quantity(120.0, "V"), quantity(108.0, "V"))
    assert less.value == pytest.approx(1215.0)  # 1500 x 0.9²
    assert less.also[0].value == pytest.approx(11.25)  # 1215 ÷ 108


def test_loads_go_where_there_is_room() -> None:
    assert parted([5.0, 7.0, 8.0], [12.0, 8.0]) == (0, 0, 1)
    assert parted([7.0, 7.0, 7.0], [12.0, 12.0]) is None
    assert parted([], [12.0]) == ()
