"""An answer that two readers agree on, one they do not, and one that only the network has."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from cabassist.dialogue.types import Mind
from cabassist.sums import handing
from cabassist.sums.handing import Found, Opinion
from cabassist.sums.working import Worked, say, show, work_out

NOON = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)
QUESTION = "how long to fill 63 gallons at 3.5 gallons a minute"


def asked(mind: Mind, text: str, monkeypatch: pytest.MonkeyPatch, opinion: Opinion | None = None) -> Worked | None:
    if opinion is not None:
        monkeypatch.setattr(handing, "handed_out", lambda *_: opinion)
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
    worked = asked(mind, QUESTION, monkeypatch, Opinion(found(mind, 1.0, 0.8), 1.0))
    assert worked is not None
    assert worked.estimate is not None
    assert worked.estimate.value == pytest.approx(18.0)
    assert not worked.doubtful
    assert "Taken: add 63 gallons, rate 3.5 gallons a minute." in show(worked)


def test_two_answers_are_asked_about(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    worked = asked(mind, QUESTION, monkeypatch, Opinion(found(mind, 2.0, 0.95), 1.0))
    assert worked is not None
    assert worked.estimate is None
    assert "two ways" in say(worked)


def test_an_unsure_second_answer_only_makes_the_first_doubtful(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    worked = asked(mind, QUESTION, monkeypatch, Opinion(found(mind, 2.0, 0.4), 0.9))
    assert worked is not None
    assert worked.estimate is not None
    assert worked.doubtful
    assert say(worked).endswith("Check that: I may have a number in the wrong place.")


def test_what_is_none_of_its_sums_stays_as_it_is(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    worked = asked(mind, QUESTION, monkeypatch, Opinion(None, 0.05))
    assert worked is not None
    assert worked.estimate is not None
    assert not worked.doubtful


def test_a_sure_answer_is_told_where_no_reader_has_one(mind: Mind, monkeypatch: pytest.MonkeyPatch):
    text = "63 wobbles by 3.5 gallons, who knows"
    assert asked(mind, text, monkeypatch, Opinion(None, 1.0)) is None
    worked = asked(mind, text, monkeypatch, Opinion(found(mind, 1.0, 0.8), 1.0))
    assert worked is not None
    assert worked.estimate is not None
    assert asked(mind, text, monkeypatch, Opinion(found(mind, 1.0, 0.3), 1.0)) is None


def test_without_a_network_the_readers_answer_alone(mind: Mind):
    worked = work_out(QUESTION, (), coach=mind.coach, stored=(), now=NOON)
    assert worked is not None
    assert worked.estimate is not None
    assert not worked.doubtful
    assert not worked.taken
