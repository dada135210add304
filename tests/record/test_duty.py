"""Duty status: what is one and what is not, and the stretches it makes."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cabassist.record import duty
from cabassist.record.entries import Record
from tests.record.conftest import NOON, later


@pytest.mark.parametrize(
    ("text", "status"),
    [
        ("on duty", "on duty"),
        ("On duty.", "on duty"),
        ("I'm on duty now", "on duty"),
        ("driving", "driving"),
        ("I'm driving", "driving"),
        ("put me on duty", "on duty"),
        ("log me as driving", "driving"),
        ("going off duty", "off duty"),
        ("off duty", "off duty"),
        ("berth", "berth"),
        ("I'm in the sleeper berth", "berth"),
        ("status: berth", "berth"),
        ("on duty since six", "on duty"),
        ("I've been driving since 6:30", "driving"),
    ],
)
def test_a_status_said_as_one_counts(text: str, status: str):
    found = duty.status_in(text)

    assert found is not None
    assert (found.status, found.who) == (status, "")


@pytest.mark.parametrize(
    "text",
    [
        "how long may I drive",
        "how many hours on duty do I have left",
        "on duty?",
        "am I on duty",
        "what does on duty mean",
        "can I sleep in the berth",
        "the berth heater is cold",
        "driving hours",
        "driving in snow",
        "I was driving all night",
        "nine hours driving, ten on duty",
        "stop driving",
        "keep driving",
        "is it legal driving tired",
        "working",
        "when I'm off duty where do I sleep",
        "not on duty",
        "nobody is driving",
        "who is driving",
        "snow is driving",
        "the furnace is off duty",
        "waste is at forty percent",
    ],
)
def test_a_question_a_reading_or_a_word_in_passing_is_no_status(text: str):
    assert duty.status_in(text) is None


def test_another_driver_is_named():
    known = ("Ann", "Bob")

    assert duty.status_in("Bob is driving", known) == duty.StatusSaid("driving", "bob")
    assert duty.status_in("put Bob on duty", known) == duty.StatusSaid("on duty", "bob")
    assert duty.status_in("driver Carl is driving", known) == duty.StatusSaid("driving", "carl", "", True)
    assert duty.status_in("the other driver is off duty", known) == duty.StatusSaid("off duty", "partner")


@pytest.mark.parametrize(
    ("words", "hour", "day"),
    [("since six", 6, 15), ("since 6:30", 6.5, 15), ("at ten last night", 22, 14), ("since 11 pm", 23, 14), ("from half past eight", 8.5, 15), ("since one", 1, 15)],
)  # fmt: skip
def test_a_time_of_day_is_the_latest_that_has_been(words: str, hour: float, day: int):
    """At noon, six is this morning's and eleven at night is yesterday's."""
    assert duty.time_in(words, NOON) == datetime(2026, 1, day, int(hour), int(hour % 1 * 60), tzinfo=UTC)


@pytest.mark.parametrize("words", ["since the hotel", "from 25:99", "at", "since ninety", "since 2 and 3"])
def test_no_time_is_no_time(words: str):
    assert duty.time_in(words, NOON) is None


def test_changes_make_stretches_to_the_next_one():
    record = Record(
        tuple(
            duty.said(status, later(h), later(h), "Ann", who, "")  # type: ignore[arg-type]
            for h, status, who in ((-4, "on duty", "Ann"), (-3, "driving", "ann"), (-2, "driving", "Bob"), (-1, "berth", "Ann"))
        )
    )  # fmt: skip
    entries = duty.duty_entries(record, "Ann", NOON)

    assert [(e.status, e.start, e.end) for e in entries] == [
        ("on duty", later(-4), later(-3)), ("driving", later(-3), later(-1)), ("berth", later(-1), None),
    ]  # fmt: skip
    assert duty.drivers(record) == ["Ann", "Bob"]
