"""Mixtures, bleach thinned, propane shared over nights and water between two tanks: by their marked roles, each by hand beside it.

Mixtures and bleach are arithmetic (amount x percent stays; 1 % holds 10,000 mg/L); propane gives 21,548 BTU/lb (trade).
"""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import read_question
from cabassist.language.sum_terms import Term, terms
from cabassist.language.wanted import implied, wanted
from cabassist.sums.families import Told
from cabassist.sums.handing import wanted_as
from cabassist.sums.marked import answer_kind, marked
from cabassist.sums.sums_mixing import MIXING
from tests.sums.test_marked_wordings import BY_NAME, NOON, says

# fmt: off
LINES = [
    # 12 x (50 - 35) ÷ (100 - 35)
    ("mixing", "system holds {mix=12 gal} at {have=35%}, want {target=50%}, how much do I drain and replace with pure -> 2.769 gal"),
    # 12 x (50 - 35) ÷ (100 - 50): nothing is drained
    ("mixing", "{mix=12 gal} at {have=35%}, how much pure do I add for {target=50%} -> 3.6 gal"),
    # 10 x (60 ÷ 50 - 1)
    ("mixing", "{mix=10 gal} at {have=60%}, how much water brings it to {target=50%} -> 2 gal"),
    # 6 x (30 - 20) ÷ (50 - 30): the premix is half water itself
    ("mixing", "{mix=6 gal} at {have=20%}, how much {strength=50%} premix to add for {target=30%} -> 3 gal"),
    # (8 x 40 + 2 x 100) ÷ 10
    ("mixing", "{drain=2 gal} of {mix=10 gal} at {have=40%} drained, pure back in, what percent -> 52 percent"),
    # (10 - 2) x 50 ÷ 10
    ("mixing", "{drain=2 gal} of {mix=10 gal} at {have=50%} drained and topped with water, what percent -> 40 percent"),
    # 8 ÷ (1 + 3)
    ("mixing", "{parts=1} part to {water_parts=3} for {mix=8 gal}, how much concentrate -> 2 gal"),
    # 90 x 3 % = 2.7, a quarter of 10 is 2.5
    ("mixing", "DEF tank {stock=10 gal} is {part=1/4} full, {whole=90 gal} of diesel at {share=3%}, is it enough -> no, 2.7 gal"),
    # 4 ÷ 3 % ÷ 6
    ("mixing", "{stock=4 gal} of DEF at {share=3%}, diesel {rate=6 gal/h}, how many hours -> 22.22 h"),
    # 12 fl oz = 354.9 mL x 10 x 8.25 ÷ 189.3 L = 154.7 mg/L, x 50 gal ÷ 50 - 50
    ("bleach", "{bleach=12 oz} of {percent=8.25%} in {water=50 gal}, wanted {ppm=50 ppm}, how much water to thin it -> 104.7 gal"),
    # 90 x (1 - 50 ÷ 200)
    ("bleach", "{water=90 gal} at {have=200 ppm}, how much do I drain and refill plain for {ppm=50 ppm} -> 67.5 gal"),
    # 50 x 378.5 L ÷ (10 x 295.7 mL)
    ("bleach", "what percent must the bleach be so {bleach=10 oz} gives {ppm=50 ppm} in {water=100 gal} -> 6.4 percent"),
    # 3 fl oz = 88.7 mL x 10 x 6 ÷ 94.6 L
    ("bleach", "{capfuls=6} capfuls of {cap=half an ounce} of {percent=6%} in {water=25 gal}, what ppm -> 56.25 ppm"),
    # 40 lb x 21,548 ÷ 36 h, and that over 35,000
    ("propane", "what share of the time can a {burner=35,000 BTU} furnace run so {left=40 lb} does {nights=3 nights} of {needed=12 h} -> 68.4 percent, 23942 BTU/h"),
    # (27 - 13.4) kg
    ("propane", "the {size=40 pounder} weighs {gross=27 kg}, tare {tare=13.4 kg}, how many pounds in it -> 29.98 lb"),
    # 40 x 21,548 ÷ 30,000 = 28.7 h after 21:00
    ("propane", "a full {size=40 pounder} went on at {now=9 pm}, {burner=30,000 BTU} flat out, when is it empty -> 01:43"),
    # 90 ÷ 2 ÷ 25, and the waste tank takes only 30
    ("water", "{level=60 gal} fresh, {waste_room=30 gal} of room in the waste, how many can shower {minutes_each=3 min} at {rate=2 gpm} -> 5"),
    # (80 - 60) ÷ 10: the waste tank sets the limit
    ("water", "waste {waste_level=60 gal} of {waste_size=80 gal}, fresh {level=50 gal}, what can {people=10 people} use each over {needed=1 day} -> 2 gal/day"),
    # (70 - 10) ÷ 10 h
    ("water", "{level=70 gal} fresh, {reserve=10 gal} kept, it is {now=8 pm}, what can we use an hour till {deadline=6 am} -> 6 gal/h"),
    # 50 lb at 10 °F gives half of 64,000 + 94,000: it does not starve
    ("vapor", "a {size=100 pounder} with {left=50 lb} at {outside=10 F} won't starve a {burner=40,000 BTU} furnace, can it feed it -> yes"),
]
# fmt: on


def worked(name: str, text: str, coach: Coach) -> Estimate | None:
    line = marked(text)
    question = read_question(line.text)
    assert len(question.amounts) == len(line.roles)
    role_at = {amount.start: one for amount, one in zip(question.amounts, line.roles, strict=True)}
    given: dict[str, list[Term]] = {}
    for term in terms(question) or ():
        given.setdefault(role_at[term.amount.start], []).append(term)
    for want in (wanted(question) or implied(question), wanted_as(answer_kind(line.answer))):
        if want is not None:
            told = Told(dict(given), question, want, coach, NOON)
            estimate = BY_NAME[name].solve(told)
            if estimate is not None and told.whole() and says(line.answer, estimate):
                return estimate
    return None


@pytest.mark.parametrize(("name", "text"), LINES)
def test_it_comes_out(name: str, text: str, coach: Coach) -> None:
    assert worked(name, text, coach) is not None


def test_no_cue_makes_a_mixture() -> None:
    """Only the network hands out the roles of a mixture."""
    question = read_question("12 gal at 35 percent, want 50 percent, how much do I drain")
    want = wanted(question)
    assert want is not None
    assert not MIXING.applies(question, want, terms(question) or ())


def test_a_mixture_never_comes_past_what_is_put_in(coach: Coach) -> None:
    text = "{mix=6 gal} at {have=20%}, how much {strength=50%} premix to add for {target=60%} -> 3 gal"
    assert worked("mixing", text, coach) is None
