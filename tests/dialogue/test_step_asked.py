"""A question in passing stays at the step: a line of the walk answers it, and another procedure is only offered. Sentences are our own."""

from __future__ import annotations

import pytest

from cabassist.dialogue.types import Mind
from tests.dialogue.conversation import Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def _at(talk: Conversation, title: str, step: int) -> None:
    talk.say(title)
    if step > 1:
        talk.say(f"go to step {step}")


@pytest.mark.parametrize(
    ("title", "step", "words"),
    [
        ("park the coach for the night", 1, "how do I know it's level enough"),
        ("park the coach for the night", 2, "are the air brakes the button you push or pull"),
        ("park the coach for the night", 2, "won't my brakes freeze on if I set them at 25 below?"),
        ("park the coach for the night", 4, "will it start again in the morning at -25?"),
        ("park the coach for the night", 8, "can the block heater and the heat tape both run on this plug"),
        ("park the coach for the night", 17, "which one is the scene light"),
        ("connect shore power", 4, "which one again? 30 or 50 amp"),
        ("check the heat tape on the waste tank", 7, "what does three quarters mean, will it last the night"),
        ("start the engine after a night of deep cold", 4, "coolant looks low, does it matter"),
        ("check the tires", 4, "is this one flat or just cold"),
    ],
)
def test_a_question_opens_nothing(talk: Conversation, title: str, step: int, words: str):
    _at(talk, title, step)
    before = talk.state.walks
    reply = talk.say(words)

    assert talk.state.walks == before
    assert reply.kind not in ("procedure", "hazard")
    assert any(f"step {step} of" in line for line in reply.show)


@pytest.mark.parametrize(
    ("title", "step", "words", "line"),
    [
        ("park the coach for the night", 1, "how do I know it's level enough", "Done when: The coach stands level"),
        ("park the coach for the night", 10, "how loud should the alarm be", "Done when: It sounds loud and clear."),
        (
            "park the coach for the night",
            9,
            "is 62 warm enough for the pipes",
            "The reason for this step: The bathroom",
        ),
        ("park the coach for the night", 1, "can I plug in the block heater later", "Step 8 says: Plug in the block"),
        ("connect shore power", 4, "so 30 or 50 amps", "The shore inlet is rated 30 amps"),
        (
            "start the engine after a night of deep cold",
            11,
            "how long do I let it sit before I try again?",
            "Wait 2 minutes.",
        ),
        ("fill the fresh tank", 7, "would a garden hose do?", "WARNING: Any other hose can carry germs."),
    ],
)
def test_one_line_answers_where_the_walk_has_it(talk: Conversation, title: str, step: int, words: str, line: str):
    _at(talk, title, step)

    assert talk.say(words).show[0].startswith(line)


def test_the_nearest_procedure_is_opened_by_a_yes(talk: Conversation):
    _at(talk, "park the coach for the night", 4)
    reply = talk.say("will it start again in the morning at -25?")
    assert reply.show[:2] == (
        "I have no answer to that.",
        "Say yes to open: Start the engine after a night of deep cold.",
    )

    assert talk.say("yes").topic == "cold-start"
    assert [walk.topic for walk in talk.state.walks] == ["park-for-the-night", "cold-start"]


@pytest.mark.parametrize("words", ["next", "engine off"])
def test_the_offer_is_passed_over_by_the_step_itself(talk: Conversation, words: str):
    _at(talk, "park the coach for the night", 4)
    talk.say("will it start again in the morning at -25?")
    reply = talk.say(words)

    assert reply.step is not None
    assert (reply.topic, reply.step.index) == ("park-for-the-night", 5)


@pytest.mark.parametrize(
    ("words", "topic"),
    [
        ("how do I dump the waste tank", "dump-waste-tank"),
        ("why is the water pump running all the time", "pump-keeps-running"),
        ("the waste valve is frozen, what do I do", "frozen-waste-valve"),
        ("check the tires", "check-tires"),
    ],
)
def test_a_request_or_a_trouble_opens_its_procedure(talk: Conversation, words: str, topic: str):
    talk.say("park the coach for the night")

    assert talk.say(words).topic == topic
    assert talk.state.walks[-1].topic == topic


@pytest.mark.parametrize(
    "words",
    [
        "all on, breaker held",
        "everything's back on and it didn't trip",
        "loads are on, breaker's still holding",
        "no trips",
    ],
)
def test_what_held_is_no_trouble(talk: Conversation, words: str):
    """The step is done when the breaker stays on."""
    _at(talk, "connect shore power", 15)
    reply = talk.say(words)

    assert "Connect shore power is done." in reply.say
    assert talk.state.walks == ()


@pytest.mark.parametrize("words", ["the breaker tripped", "all on but the breaker didn't hold"])
def test_what_did_not_hold_is_one(talk: Conversation, words: str):
    _at(talk, "connect shore power", 15)
    talk.say(words)

    assert talk.state.walks != ()


@pytest.mark.parametrize(
    ("words", "topic"),
    [
        ("park the coach for the night", "park-for-the-night"),
        ("check the tires", "check-tires"),
        ("how do I chain up", ""),
        ("kids are off", ""),
        ("set the brake", ""),
        ("good to go", ""),
    ],
)
def test_a_menu_swallows_no_request_or_report(talk: Conversation, words: str, topic: str):
    """Only what leans on the question picks one of its options."""
    assert talk.say("how do I check the tank").kind == "clarify"
    talk.say(words)

    assert [walk.topic for walk in talk.state.walks] == ([topic] if topic else [])


@pytest.mark.parametrize(
    ("words", "topic"), [("the waste one", "check-waste-level"), ("the drinking water", "fill-fresh-water"), ("2", "check-waste-level")]
)  # fmt: skip
def test_what_leans_on_the_menu_picks(talk: Conversation, words: str, topic: str):
    talk.say("how do I check the tank")
    talk.say(words)

    assert talk.state.walks[-1].topic == topic


def test_what_works_opens_no_procedure(talk: Conversation):
    """It is said of the round in hand, whatever it is like."""
    _at(talk, "make the last round before departure", 7)
    before = talk.state.walks
    reply = talk.say("all lights work")

    assert talk.state.walks == before
    assert reply.say == "Good. Still at step 7. Say next when it is done."


def test_the_reason_of_a_step_is_no_verdict_on_what_is_seen(talk: Conversation):
    """ "It shows a missing ground" would be taken for the meaning of the two lamps."""
    _at(talk, "connect shore power", 3)

    reply = talk.say("tester shows two greens, is that good")

    assert "missing ground" not in reply.say
    assert reply.step is not None
    assert reply.step.index == 3
