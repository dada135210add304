"""Rounds as they were walked, read from the journal of a conversation."""

from __future__ import annotations

from datetime import timedelta

from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.record.pages import round_html
from cabassist.record.rounds import RoundWalked, rounds_walked
from tests.record.conftest import NOON

ROUND = "walk me through the last round before departure"


def walked(mind: Mind, *said: str) -> list[RoundWalked]:
    """The rounds after a conversation, a minute between two utterances."""
    with Journal(IN_MEMORY) as journal:
        session = Session(mind, journal, actor="Ann")
        for minute, text in enumerate(said):
            session.hear(text, NOON + timedelta(minutes=minute))
        return rounds_walked(journal.read(), mind.coach)


def test_what_was_ticked_skipped_and_why_is_kept(mind: Mind):
    (found,) = walked(mind, ROUND, "done", "check", "skip", "it was not plugged in", "next", "stop")

    assert (found.name, found.topic, found.ending) == ("departure", "prepare-to-depart", "stopped")
    assert [t.mark for t in found.ticks[:5]] == ["done", "done", "skipped", "done", "not done"]
    assert found.ticks[2].reason == "it was not plugged in"
    assert found.ticks[0].by == "Ann"
    assert found.missed == len(found.ticks) - 4


def test_a_skip_takes_its_reason_in_one_breath(mind: Mind):
    (found,) = walked(mind, ROUND, "skip it because there is no other driver today", "stop")

    assert found.ticks[0].mark == "skipped"
    assert "no other driver" in found.ticks[0].reason


def test_going_back_takes_the_tick_back(mind: Mind):
    (found,) = walked(mind, ROUND, "next", "next", "back", "stop")

    assert [t.mark for t in found.ticks[:3]] == ["done", "not done", "not done"]


def test_a_command_is_no_reason_for_a_skip(mind: Mind):
    (found,) = walked(mind, ROUND, "next", "skip", "start over", "stop")

    assert found.skipped == ()
    assert found.ticks[0].mark == "not done"


def test_readings_on_the_way_stand_with_their_step(mind: Mind):
    (found,) = walked(mind, ROUND, "next", "waste at forty percent", "next", "stop")

    assert found.ticks[1].readings == ("waste: 40 percent",)


def test_a_round_walked_to_the_end_is_finished(mind: Mind):
    said = [ROUND]
    for _ in range(40):
        said += ["next", "can't see it"]
    found = walked(mind, *said)[0]

    assert found.ending == "finished"
    assert found.missed == 0


def test_other_walks_are_no_rounds(mind: Mind):
    assert walked(mind, "how do I dump the waste tank", "next", "stop") == []


def test_the_page_of_a_round_escapes_what_was_said(mind: Mind):
    (found,) = walked(mind, ROUND, "skip", "<script>alert(1)</script> because", "stop")
    page = round_html(found, "Round & more", "the Loon", [f"step {t.step}" for t in found.ticks])

    assert "<script" not in page
    assert "Round &amp; more" in page
    assert "SKIPPED" in page
