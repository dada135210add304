"""An answer that two readers agree on, one they do not, and one that only the network has."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from cabassist.dialogue.types import Mind
from cabassist.sums import handing
from cabassist.sums.handing import Found
from cabassist.sums.working import Worked, say, show, work_out

NOON = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)
QUESTION = "how long to fill 63 gallons at 3.5 gallons a minute"


def asked(mind: Mind, text: str, monkeypatch: pytest.MonkeyPatch, *opinion: Found | None) -> Worked | None:
    if opinion:
        monkeypatch.setattr(handing, "handed_out", lambda *_: opinion[0])
    return work_out(text, (), coach=mind.coach, stored=(), now=NOON, network=mind.role_network)


def found(mind: Mind, factor: float, sure: float) -> Found:
    """An answer so many times the right one."""
    worked = work_out(QUESTION, (), coach=mind.coach, stored=(), now=NOON)
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value is not None
    estimate = replace(worked.estimate, value=worked.estimate.value * factor, low=None, high=None, also=(), verdict="")
    return Found("fill-time", estimate, sure, (("add", "63 gallons"), ("rate", "3.5 gallons a minute")))


def test_what_both_say_is_told_with_what_each_amount_was_taken_for(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    worked = asked(mind, QUESTION, monkeypatch, found(mind, 1.0, 0.8))
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value == pytest.approx(18.0)
    assert not worked.doubtful
    assert "Taken: add 63 gallons, rate 3.5 gallons a minute." in show(worked)


def test_two_answers_are_asked_about(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    worked = asked(mind, QUESTION, monkeypatch, found(mind, 2.0, 0.95))
    assert worked is not None
    assert worked.estimate is None
    assert "two ways" in say(worked)


def test_an_unsure_second_answer_only_makes_the_first_doubtful(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    worked = asked(mind, QUESTION, monkeypatch, found(mind, 2.0, 0.4))
    assert worked is not None
    assert worked.estimate is not None
    assert worked.doubtful
    assert say(worked).endswith("Check that: I may have a number in the wrong place.")


def test_one_reader_alone_says_that_it_may_be_wrong(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    worked = asked(mind, QUESTION, monkeypatch, None)
    assert worked is not None
    assert worked.doubtful


def test_a_rule_with_its_figures_is_no_matter_of_places(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    worked = asked(mind, "frostbite time at minus 20 F with 25 mph of wind", monkeypatch, None)
    assert worked is not None
    assert worked.estimate is not None
    assert not worked.doubtful


def test_what_is_worked_out_from_readings_is_not_doubted(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    worked = asked(mind, "how much does 45 gallons of water weigh", monkeypatch, None)
    assert worked is not None
    assert not worked.doubtful


def test_a_sure_answer_is_told_where_no_reader_has_one(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    text = "63 wobbles by 3.5 gallons, who knows"
    assert asked(mind, text, monkeypatch, None) is None
    worked = asked(mind, text, monkeypatch, found(mind, 1.0, 0.8))
    assert worked is not None
    assert worked.estimate is not None
    unsure = asked(mind, text, monkeypatch, found(mind, 1.0, 0.3))
    assert unsure is not None
    assert unsure.doubtful
    assert asked(mind, text, monkeypatch, found(mind, 1.0, 0.1)) is None


def test_without_a_network_the_readers_answer_alone(mind: Mind):
    worked = work_out(QUESTION, (), coach=mind.coach, stored=(), now=NOON)
    assert worked is not None
    assert worked.estimate is not None
    assert not worked.doubtful
    assert not worked.taken
