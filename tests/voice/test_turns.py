"""The spoken conversation without its sound."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from cabassist.dialogue.manner import MANNERS
from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.procedures import yamlfile
from cabassist.voice.heard import Hypothesis
from cabassist.voice.turns import AWAKE, Turns, after_trigger, is_echo
from cabassist.voice.worker import Hearing


def heard(text: str, margin: float = 6.0) -> Hearing:
    """One engine's hearing."""
    return Hearing((Hypothesis(text, 1 / (1 + math.exp(-(margin - 0.5) / 1.2)), "pocketsphinx", expected=margin > 2),))


@pytest.fixture
def session(mind: Mind) -> Iterator[Session]:
    with Journal(IN_MEMORY) as journal:
        yield Session(mind, journal)


@pytest.fixture
def turns(session: Session) -> Turns:
    return Turns(session)


def events(session: Session, kind: str) -> list[dict[str, object]]:
    return [event.payload for event in session.journal.read(kind=kind)]


def test_a_walk_by_voice(turns: Turns, session: Session, now: datetime):
    """Ask, step on, choose, and a hazard in between."""
    opened = turns.take(heard("how do i dump the waste tank"), now)
    stepped = turns.take(heard("next"), now)
    danger = turns.take(heard("i smell gas in the back", -4.0), now)

    assert opened.reply is not None
    assert opened.reply.topic == "dump-waste-tank"
    assert stepped.reply is not None
    assert stepped.reply.step is not None
    assert stepped.reply.step.index == 2
    assert danger.reply is None  # too unsure to raise at once, so it is asked
    assert "smell gas" in danger.say
    raised = turns.take(heard("yes"), now)
    assert raised.reply is not None
    assert raised.reply.kind == "hazard"


def test_a_doubtful_reading_is_stored_only_after_yes(turns: Turns, session: Session, now: datetime):
    asked = turns.take(heard("waste is at fifty percent", 1.0), now)

    assert asked.say == "Did you say: waste is at fifty percent?"
    assert events(session, "reading") == []
    stored = turns.take(heard("yes", -1.0), now)
    assert stored.reply is not None
    assert [reading["value"] for reading in events(session, "reading")] == [50.0]
    assert "50" in stored.show[0]


def test_no_takes_it_back(turns: Turns, session: Session, now: datetime):
    turns.take(heard("waste is at fifty percent", 1.0), now)
    again = turns.take(heard("no"), now)

    assert again.say == "Say again."
    assert events(session, "said") == []


def test_something_else_instead_of_yes_is_a_new_turn(turns: Turns, session: Session, now: datetime):
    turns.take(heard("waste is at fifty percent", 1.0), now)
    told = turns.take(heard("waste is at fifteen percent"), now)

    assert told.reply is not None
    assert [reading["value"] for reading in events(session, "reading")] == [15.0]


def test_after_two_failures_there_are_choices_to_say_or_type(turns: Turns, now: datetime):
    first = turns.take(heard("the dump wolf is frozen", -8.0), now)
    second = turns.take(heard("the dumb valve is chosen", -8.0), now)

    assert first.say == "Say again."
    assert second.show[0] == "I did not get that. Is it one of these?"
    assert "type" in second.show[-1]
    chosen = turns.take(heard("the second one", 0.0), now)
    assert chosen.reply is not None
    assert chosen.reply.kind == "procedure"
    assert second.show[2].strip().removeprefix("2. ") in chosen.show[0]


def test_what_the_recogniser_wrote_is_kept(turns: Turns, session: Session, now: datetime):
    turns.take(heard("how do i dump the waste tank"), now)
    turns.take(heard("mumble mumble", -9.0), now)

    assert [(row["original"], row["action"]) for row in events(session, "heard")] == [
        ("how do i dump the waste tank", "act"),
        ("mumble mumble", "again"),
    ]


def test_without_the_trigger_nothing_is_taken_but_hazards(session: Session, now: datetime):
    turns = Turns(session, trigger="hey cabbie")

    assert turns.take(heard("how do i dump the waste tank"), now).silent
    assert events(session, "said") == []
    danger = turns.take(heard("i smell gas in the back"), now)
    assert danger.reply is not None
    assert danger.reply.kind == "hazard"


def test_the_trigger_wakes_it_for_a_while(session: Session, now: datetime):
    """With the question in one breath or after it, and for some time after an answer."""
    turns = Turns(session, trigger="hey cabbie")
    called = turns.take(heard("hey cabby"), now)
    told = turns.take(heard("waste is at forty percent"), now + timedelta(seconds=5))
    late = turns.take(heard("fresh is at forty percent"), now + timedelta(seconds=6) + AWAKE)
    again = turns.take(heard("hey cabbie fresh is at sixty percent"), now + 2 * AWAKE)

    assert called.say == "Yes?"
    assert told.reply is not None
    assert late.silent
    assert again.reply is not None
    assert [row["value"] for row in events(session, "reading")] == [40.0, 60.0]


def test_in_an_open_walk_no_trigger_is_needed(session: Session, now: datetime):
    turns = Turns(session, trigger="hey cabbie")
    turns.take(heard("hey cabbie how do i dump the waste tank"), now)
    stepped = turns.take(heard("next"), now + timedelta(minutes=10))

    assert stepped.reply is not None
    assert stepped.reply.step is not None


@pytest.mark.parametrize(
    ("text", "manner"),
    [
        ("slower", "slower"),
        ("speak up", "louder"),
        ("spell that", "spell"),
        ("a bit slower", "slower"),
        ("too fast", "slower"),
        ("letter by letter", "spell"),
        ("can you speak up please", "louder"),
        ("turn it up", "louder"),
        ("turn it down", "quieter"),
        ("spell", "spell"),
    ],
)
def test_manners_change_the_voice_and_not_the_conversation(
    turns: Turns, session: Session, now: datetime, text: str, manner: str
):
    assert turns.take(heard(text), now).manner == manner
    assert events(session, "said") == []


def test_every_wording_of_a_manner_changes_the_voice(turns: Turns, knowledge_folder: Path, now: datetime):
    """Said or typed: what the conversation takes for such a wish must not be answered and then not done."""
    wordings = yamlfile.load(knowledge_folder / "steering.yaml").data
    wrong = [
        (verb, text)
        for verb in MANNERS
        for text in wordings[verb]
        if (turns.take(heard(text), now).manner, turns.typed(text, now).manner) != (verb, verb)
    ]

    assert wrong == []


@pytest.mark.parametrize("text", ["smell that", "shower", "turn it on", "spells"])
def test_what_only_sounds_like_a_manner_is_none(turns: Turns, now: datetime, text: str):
    assert turns.take(heard(text), now).manner is None
    assert turns.typed(text, now).manner is None


def test_a_typed_manner_leaves_open_what_was_asked(turns: Turns, session: Session, now: datetime):
    turns.take(heard("waste is at fifty percent", 1.0), now)

    assert turns.typed("Slower, please.", now).manner == "slower"
    assert turns.take(heard("yes", -1.0), now).reply is not None
    assert [reading["value"] for reading in events(session, "reading")] == [50.0]


def test_typing_goes_on_in_the_same_conversation(turns: Turns, now: datetime):
    turns.take(heard("how do i dump the waste tank"), now)
    stepped = turns.typed("next", now)

    assert stepped.reply is not None
    assert stepped.reply.step is not None
    assert stepped.reply.step.index == 2


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("hey cabbie next", "next"),
        ("hey cabby next", "next"),
        ("a cabbie how full is it", "how full is it"),
        ("hey cabbie", ""),
        ("hey there next", None),
        ("next", None),
        ("", None),
    ],
)
def test_the_trigger_is_known_by_its_sound(text: str, rest: str | None):
    assert after_trigger(text, "hey cabbie") == rest


def test_its_own_words_are_no_interruption():
    saying = "Step two of fourteen. Look at the outlet and its cover with a flashlight."

    assert is_echo("look at the outlet and its", saying)
    assert not is_echo("stop talking please", saying)
    assert not is_echo("stop", saying)
