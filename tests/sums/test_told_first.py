"""Supplies beside each other, axles with a share of the load, boxes in a bay, tires up high: with the roles as they are marked.

Expected values are worked out by hand from the formula in the comment above them.
"""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.estimate.loading import boxes_in
from cabassist.sums.marked import marked
from tests.sums.test_marked_wordings import BY_NAME, trouble

CASES = (
    # Hours are what there is by what goes: 40 ÷ 3 = 13.3, 50 ÷ 2.5 = 20, 30 ÷ 2 = 15.
    ("both", "fresh {fresh=40 gallons} at {fresh_rate=3 gallons an hour}, waste {waste=30 gallons} at {waste_rate=2.5 gallons an hour}, propane {propane=30 pounds} at {propane_rate=2 pounds an hour}, which first -> fresh empty, 13.333 h"),
    # NFPA 58 Annex B, 21,548 BTU/lb: 40,000 x 0.5 ÷ 21,548 = 0.9282 lb an hour, 10 lb last 10.774 h.
    ("both", "a {propane_rate=40,000 btu} furnace burning {duty=half} the time off {propane=10 pounds} of propane and fresh {fresh=60 gallons} at {fresh_rate=4 gallons an hour}, which is first -> propane empty, 10.774 h"),
    # (45 - 15) ÷ 1 = 30 h of diesel; 4.24 lb a gallon of propane: 5 x 4.24 ÷ 1.06 = 20 h.
    ("both", "diesel {diesel=45 gallons}, keep {diesel_reserve=15 gallons}, {diesel_rate=1 gallon an hour}; propane {propane=5 gallons} at {propane_rate=1.06 pounds an hour}; which first -> propane empty, 20 h, 10 h"),
    # 60 ÷ 5 = 12 showers of fresh, 35 ÷ 5 = 7 of room.
    ("both", "fresh {fresh=60 gallons}, {waste_room=35 gallons} of room in the waste, {shower_use=5 gallons} a shower, will it do {showers=eight showers} -> no, 7, waste"),
    # 4 min x 1.5 gal = 6 gal: 54 ÷ 6 = 9; (80 - 40) ÷ 6 = 6.7, with 90 percent of it 7.4.
    ("both", "fresh {fresh=54 gallons}, waste {waste=40 gallons}, {shower_minutes=4 minutes} at {shower_flow=1.5 gallons a minute}, {waste_part=90 percent} ends there, how many showers -> 7, waste"),
    # Water 8.337 lb a gallon (CoolProp): 18,700 + 0.7 x 80 x 8.337 = 19,166.9 lb, 833.1 lb under 20,000.
    ("weight", "Drive {weighs=18,700 lb}, {on=80 gal} of water, {share=70%} on it, is it under {limit=20,000 lb} -> yes, 19166.9 lb, 833.1 lb"),
    # 23 USC 127: 34,000 lb on a tandem, 20,000 lb on a single axle, 80,000 lb gross.
    ("weight", "tandem {weighs=33,350 lb}. legal? how much room left? -> yes, 650 lb"),
    ("weight", "single axle {weighs=19,700 lb} and {count=4 people} of {each=180 lb} with {share=half} on it, is it legal -> no, 60 lb"),
    ("weight", "{weighs=12,400 lb} and {weighs=20,000 lb} and {weighs=11,100 lb}, room left to the legal gross -> 36500 lb"),
    # (14,000 - 13,510) ÷ 0.7 ÷ 8.337 = 83.96 gal.
    ("weight", "steer {weighs=13,510 lb}, limit {limit=14,000 lb}, {share=70 percent} of the water rests on it, how many gallons can go in -> 83.96 gal"),
    # 8,700 + 0.6 x 10 x 80 = 9,180 kg.
    ("weight", "axle {weighs=8,700 kg}, {count=10 people} of {each=80 kg}, {share=60%} on it, kg then -> 9180 kg"),
    # 18,240 + 0.75 x 26 x 50 = 19,215 lb.
    ("loads", "rear {scale=18,240 lb}, limit {limit=20,000 lb}, {count=26 bags} of {each=50 lb} with {share=75%} on it, under by how much -> 785 lb"),
    # 96 ÷ 16 = 6, 48 ÷ 24 = 2, 36 ÷ 18 = 2: 24 boxes of 24 x 18 x 16 in.
    ("loads", "boxes {box=24} x {box=18} x {box=16 inches}, bay {bay=8} x {bay=4} x {bay=3 feet}, how many -> 24"),
    # 48 boxes of a foot by size; 1,000 ÷ 40 = 25 by weight.
    ("loads", "boxes {box=1 ft} x {box=1 ft} x {box=1 ft} at {each=40 lb}, bay {bay=6 ft} x {bay=4 ft} x {bay=2 ft} rated {limit=1,000 lb}, how many -> 25, 48"),
    # U.S. Standard Atmosphere 1976: 14.696 psi at sea level, 11.34 at 7,000 ft; 100 + 14.696 - 11.34 = 103.36 psi.
    ("tires", "set to {at_first=a hundred pounds} at sea level, at {height_then=7,000 feet} in the same weather what do they read -> 103.36 psi"),
    # 10.11 psi at 10,000 ft: (100 + 14.696) x 469.67 ÷ 519.67 - 10.11 = 93.55 psi.
    ("tires", "set to {at_first=100 psi} at sea level and {set_at=60 F}, what at {height_then=10,000 feet} and {then_at=10 F} -> 93.55 psi"),
    # 105 + 13.17 - 10.5 (9,000 ft) = 107.66 psi; 97 is 10.7 low.
    ("tires", "set {at_first=105 psi} at {height=3,000 feet}, {now=97 psi} at {height_then=9,000 feet}, same temperature. leak? -> yes, 107.66 psi"),
    # (110 + 14.696) x 459.67 ÷ 529.67 - 14.696 = 93.52 psi.
    ("tires", "set {at_first=110 psi} at {set_at=70 F}, now {now=92 psi} at {then_at=0 F}, is it leaking -> no, 93.52 psi"),
)  # fmt: skip


@pytest.mark.parametrize(("family", "line"), CASES)
def test_it_comes_out(coach: Coach, family: str, line: str) -> None:
    assert trouble(BY_NAME[family], marked(line), coach) == ""


def test_boxes_that_stay_upright_fit_in_fewer_ways() -> None:
    # 64 ÷ 16 = 4, 36 ÷ 12 = 3, 40 ÷ 20 = 2 upright; lying it is no better: 64 ÷ 16 x 36 ÷ 12 x 40 ÷ 20.
    assert boxes_in((64, 36, 40), (16, 12, 20), upright=True) == (24, (4, 3, 2))
    # 30 in high boxes do not stand in a bay of 24 in; lying 30 along 60: 2 x 2 x 1.
    assert boxes_in((60, 40, 24), (20, 20, 30), upright=True)[0] == 0
    assert boxes_in((60, 40, 24), (20, 20, 30))[0] == 4


@pytest.mark.parametrize("box", [(0, 1, 1), (1, -1, 1)])
def test_a_box_without_a_side_is_refused(box: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="more than nothing"):
        boxes_in((1, 1, 1), box)
