"""Sums whose roles the network hands out: bare numbers beside a told unit, claims, groups; each worked out by hand beside it."""

from __future__ import annotations

import pytest

from cabassist.language.asked_for import asked_for, terms_of
from cabassist.language.calculation_inputs import read_question
from cabassist.language.sum_terms import Term, terms
from cabassist.language.wanted import Wanted, wanted
from cabassist.sums.families import Family, Told
from cabassist.sums.marked import marked
from cabassist.sums.summing import summed
from cabassist.sums.sums_bleach import BLEACH
from cabassist.sums.sums_both import BOTH
from cabassist.sums.sums_bottles import VAPOR
from cabassist.sums.sums_water import WATER
from cabassist.sums.told_bank import BANK
from cabassist.sums.told_pad import PAD
from cabassist.sums.told_sums import told_sum
from tests.sums.test_working import COACH, NOW

OF_TANKS = {"water", "both", "bleach", "vapor"}

# fmt: off
WORKED = [
    # (60 - 12) ÷ (3 x 2) = 8
    (WATER, "how many of the lads can take a {minutes_each=three minute} shower, head {rate=two gallons a minute}, {level=sixty} in the tank, {reserve=twelve} kept back", "", 8.0, "persons", ""),
    # fresh 48 ÷ 3 = 16, waste 36 ÷ 3 = 12
    (WATER, "{level=58 gallons}, keep {reserve=10}, the waste takes {waste_room=36} more, {per_event=3 gallons} a shower, how many of the {people=24} can shower", "", 12.0, "persons", "waste tank sets"),
    (BOTH, "{fresh=58 gallons} fresh, keep {reserve=10}, waste has room for {waste_room=36}, {shower_use=3 gallons} a shower, how many of the {showers=24} can shower", "", 12.0, "persons", "waste"),
    # (80 - 50) ÷ 6 = 5 an hour, 50 ÷ 5 = 10 h from noon
    (WATER, "fresh is {level=fifty gallons} and it was {before=eighty} at {clock_before=six this morning}, it's {now=noon}, when do we run dry", "", 10.0, "h", "22:00"),
    # 84 ÷ 28 = 3, in all and not in a day
    (WATER, "{level=84 gallons} for {people=28 people} till {deadline=ten tomorrow morning}, how many gallons is that for each of them", "", 3.0, "gal", ""),
    # 75 x 8 ÷ 12 = 50
    (PAD, "what will a {pad=75 watt} mat take out of the {volts=12 volt} bank in {span=eight hours}", "temperature", 50.0, "Ah", ""),
    # 6 x 20 = 120 W, ÷ 12 = 10 A: the watts come first
    (PAD, "Bay loses {loss=6 W per °C}. Hold {hold=+5 °C} at {air=-15} outside. Watts of pad, amps at {volts=12 V}?", "watts", 120.0, "W", ""),
    # 36 ÷ 12 = 3 A, 90 ÷ 3 = 30 h
    (BANK, "{load=36 watts} at {volts=12 volts}, {usable=90 amp hours} usable, he says {claimed=two and a half hours}, is he right", "", 30.0, "h", "No, it is 30 h"),
    (BANK, "{usable=70 amp hours} usable, {load=7 amps}, he says {claimed=ten hours}, is he right", "", 10.0, "h", "Yes, it is 10 h"),
    # 90 ÷ 30 = 3
    (BANK, "leave losses aside, {missing=90 amp hours} gone from the bank, the charger gives {charger=30 amps}, how long", "", 3.0, "h", ""),
    # 8 fl oz told twice: 8 x 8.25 x 10,000 ÷ (110 x 128)
    (BLEACH, "I put {bleach=one cup}, {bleach=8 ounces}, of {percent=8.25 percent} into {water=110 gallons}, what strength, is it {ppm=50 ppm}", "", 46.875, "mg/L", "No"),
    # the 100 lb table, 45 lb: 59,500 at 0 °F and 86,500 at 20 °F, 73,000 between; 60,000 together is no 120,000
    (VAPOR, "{size=hundred pounder}, {left=45 lb} left, {outside=ten degrees} outside, the {burners=two heaters} want {burner=60,000 BTU} together, enough?", "", 73000.0, "BTU/h", "Yes"),
]
# fmt: on


@pytest.mark.parametrize(("family", "line", "kind", "value", "unit", "verdict"), WORKED)
def test_it_comes_out(family: Family, line: str, kind: str, value: float, unit: str, verdict: str) -> None:
    one = marked(f"{line} -> 1 A")
    question = read_question(one.text)
    of_tanks = family.name in OF_TANKS
    found = terms(question) if of_tanks else terms_of(question)
    assert found is not None
    assert len(question.amounts) == len(one.roles)
    role_at = {amount.start: role for amount, role in zip(question.amounts, one.roles, strict=True)}
    roles: dict[str, list[Term]] = {}
    for term in found:
        roles.setdefault(role_at[term.amount.start], []).append(term)
    heard = wanted(question) if of_tanks else asked_for(question)
    told = Told(roles, question, Wanted(kind) if kind else heard or Wanted(), COACH, NOW)
    made = family.solve(told)
    assert made is not None
    assert told.whole()
    assert made.value == pytest.approx(value, rel=0.01)
    assert made.unit == unit
    assert verdict in made.verdict


# fmt: off
READ = [
    # (78 - 42) ÷ 6 = 6 an hour, 42 ÷ 6 = 7 h
    ("fresh is down to 42 gallons and it was 78 at eight this morning, it's two pm now, when do we run dry", 7.0, "h", "21:00"),
    # 36 x 21,548 ÷ 40 ÷ 40,000
    ("I have 36 pounds of gas, it has to last 40 hours, how much of the time can a 40,000 BTU furnace be on", 48.48, "percent", ""),
    # 7000 - 3 x 1500 - 700: what the generator's plate says
    ("just us and the generator, 7000 watts it says on the plate, three 1500 watt heaters and a 700 watt kettle are on, how many watts are free", 1800.0, "W", "Yes"),
    # 300 x 0.7 x 0.5 ÷ 7
    ("it's so cold my 300 amp hour bank only has 70 percent of its amp hours and i stop at half of that, seven hours to go, what amps can i leave on", 15.0, "A", ""),
    # 8 x 8.25 x 10,000 ÷ (80 x 128)
    ("I dumped one whole cup of 8.25 percent bleach in 80 gallons, how many ppm is that", 64.45, "mg/L", ""),
]
# fmt: on


@pytest.mark.parametrize(("text", "value", "unit", "verdict"), READ)
def test_the_readers_have_it(text: str, value: float, unit: str, verdict: str) -> None:
    question = read_question(text)
    found = summed(question, COACH, NOW) or told_sum(question, COACH, NOW)
    assert found is not None
    assert found[1].value == pytest.approx(value, rel=0.01)
    assert found[1].unit == unit
    assert verdict in found[1].verdict


def test_volts_under_load_tell_no_charge() -> None:
    found = told_sum(
        read_question("house battery shows 12.1 with twenty amps running, how many percent is it"), COACH, NOW
    )
    assert found is not None
    assert found[1].value is None
    assert "rest" in found[1].verdict


@pytest.mark.parametrize("text", ["wc stamp 95.2 lb, max lp fill lb?"])
def test_one_weight_adds_up_to_nothing(text: str) -> None:
    assert told_sum(read_question(text), COACH, NOW) is None
