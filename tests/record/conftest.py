"""Defect words of the shipped knowledge, and entries to build records from."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from cabassist.coach import Coach
from cabassist.dialogue.types import Mind
from cabassist.record.defect_words import DefectWords, read_report
from cabassist.record.defects import reported
from cabassist.record.entries import Entry

NOON = datetime(2026, 1, 15, 12, tzinfo=UTC)


def later(hours: float) -> datetime:
    """A moment so many hours after noon."""
    return NOON + timedelta(hours=hours)


@pytest.fixture(scope="session")
def words(mind: Mind) -> DefectWords:
    return mind.defect_words


@pytest.fixture
def report(coach: Coach, words: DefectWords):
    """Makes the entry of a defect told in some words."""

    def made(what: str, at: datetime = NOON, by: str = "Ann") -> Entry:
        return reported(read_report(what, coach, words), what, at, by)

    return made
