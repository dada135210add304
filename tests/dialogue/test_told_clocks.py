"""Times of day in sums: by 24 hours, of the next day, with the half of the day unsaid. Every span is worked out by hand."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State

NOW = datetime(2026, 1, 15, 18, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "verdict"),
    [
        ("9 pounds of propane at a pound an hour, is there heat until nine tomorrow morning if it's 21:30 now", "No: 9 h against 11 h 30 min"),
        ("13 pounds of propane at a pound an hour, will it hold from 18:00 to 8:00", "No, not enough: 13 h against 14 h"),
        ("12 pounds of propane at a pound an hour, does it last from nine tonight till eight", "Yes, it lasts: 12 h against 11 h"),
        ("24 gallons of fresh, 24 people at 2 gallons each a day, does it last until noon tomorrow if it's 22:15 now", "No: 12 h against 13 h 45 min"),
        ("48 gallons fresh, 24 people at 2 gallons each a day, it's 22:30, does it last until 21:00 tomorrow", "Yes, it lasts: 24 h against 22 h 30 min"),
        ("48 gallons fresh, 24 people at 2 gallons each a day, it's 20:30, does it last until 22:00 tomorrow", "No: 24 h against 25 h 30 min"),
        ("Waste has 24 gallons of room and fills 2 gallons an hour, it's 20:30, is there room until 11 tomorrow morning", "No: 12 h against 14 h 30 min"),
        ("120 amp hours to use at 10 amps, enough from 21:00 until 10:30", "against 13 h 30 min"),
        ("It's 20:40 and we've 750 miles at 50 miles an hour, are we there before 11 tomorrow", "No: 40 minutes late"),
        ("Off duty at 22:15, can we leave at 6:30", "Yes, rested: 8 h 15 min off"),
        ("Do 90 gallons of diesel at six miles a gallon get us 510 miles with 45 miles to spare", "No: 555 mi asked, 540 mi there"),
        ("Do 90 gallons of diesel at six miles a gallon get us 510 miles with 20 miles to spare", "Yes"),
    ],
)  # fmt: skip
def test_told_clocks(text: str, verdict: str, mind: Mind) -> None:
    reply = take_turn(State(), text, mind=mind, now=NOW).reply
    assert reply.estimate is not None
    assert verdict in reply.estimate.verdict
