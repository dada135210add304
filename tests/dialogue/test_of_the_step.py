"""What is told of a step and stops no walk, skips nothing, is no defect and no unsafe wish. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import at, number


@pytest.mark.parametrize(
    ("request_", "step", "said"),
    [
        ("hand the coach over to the next driver", 4, "that's everything that was mended"),
        ("the house battery is low", 5, "everything else is off, that's all that's lit"),
        ("frozen waste valve", 1, "not pulling on it any more"),
    ],
)
def test_words_of_stopping_with_a_report_around_them_go_on(mind: Mind, request_: str, step: int, said: str):
    talk = at(mind, request_, step)
    talk.say(said)
    assert number(talk) == step + 1


@pytest.mark.parametrize(
    "said", ["that's it for now", "we're done here, stop", "that's all for tonight", "I don't want to do this any more"]
)
def test_a_plain_stop_still_stops(mind: Mind, said: str):
    talk = at(mind, "dump the waste tank", 5)
    reply = talk.say(said)
    assert reply.say.startswith("Stopped at step 5")
    assert talk.state.walk is None


def test_no_need_leaves_out_one_step_only(mind: Mind):
    talk = at(mind, "thaw a frozen water line", 14)
    reply = talk.say("it's melted, no need")
    assert reply.show[0] == "Step 14 skipped."


def test_what_others_have_understood_is_told_and_not_skipped(mind: Mind):
    talk = at(mind, "brief the passengers", 6)
    talk.say("everybody's got that")
    assert number(talk) == 7
    assert not any(event.kind == "skip" for event in talk.events)


@pytest.mark.parametrize(
    ("request_", "step", "said"),
    [
        ("hand the coach over to the next driver", 3, "showed her the dent and the dead reading light"),
        ("make the last round before departure", 7, "only an old oil stain under there, no fresh drips"),
        ("make the last round before departure", 10, "mirrors are clean, no cracks"),
        ("thaw a frozen water line", 10, "headlight's fine, no leaks"),
    ],
)
def test_good_news_is_no_defect(mind: Mind, request_: str, step: int, said: str):
    talk = at(mind, request_, step)
    reply = talk.say(said)
    assert reply.kind != "defect"
    assert not any(event.kind == "defect" for event in talk.events)


@pytest.mark.parametrize(
    "said",
    [
        "headlights good, right turn signal is out",
        "the left headlight doesn't work, wipers are fine",
        "no leaks, but the left headlight is cracked",
    ],
)
def test_a_fault_beside_good_news_is_kept(mind: Mind, said: str):
    talk = at(mind, "make the last round before departure", 10)
    talk.say(said)
    assert any(event.kind == "defect" for event in talk.events)


@pytest.mark.parametrize(
    "said", ["the breaker is 15 amps", "15 amp breaker, it feeds the ice machine too", "they said twenty amps"]
)
def test_the_amount_a_step_asks_for_is_taken(mind: Mind, said: str):
    talk = at(mind, "the building's breaker keeps tripping", 7)
    reply = talk.say(said)
    assert reply.kind == "step"
    assert number(talk) == 8


@pytest.mark.parametrize(
    ("request_", "step", "said"),
    [
        ("make the last round before departure", 16, "five eighths, plenty to the next stop"),
        ("deal with a flat tire", 8, "bare hard gravel here, no ice"),
        ("fill the fresh tank", 17, "nothing wet in there, so it stays running"),
        ("the house battery is low", 11, "no outlet here, I'll just run the generator"),
    ],
)
def test_a_report_is_no_unsafe_wish(mind: Mind, request_: str, step: int, said: str):
    talk = at(mind, request_, step)
    assert talk.say(said).kind != "refuse"


@pytest.mark.parametrize(
    ("request_", "step", "said"),
    [
        ("the building's breaker keeps tripping", 7, "I'll put a 30 amp breaker in"),
        ("the building's breaker keeps tripping", 13, "tape the breaker so it holds"),
        ("the house battery is low", 11, "I'll run the generator and feed the outlet with it"),
    ],
)
def test_a_wish_at_a_step_is_still_refused(mind: Mind, request_: str, step: int, said: str):
    talk = at(mind, request_, step)
    assert talk.say(said).kind == "refuse"
