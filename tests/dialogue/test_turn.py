"""The conversation, as a driver has it."""

from __future__ import annotations

import dataclasses
from dataclasses import replace

import pytest

from cabassist.dialogue.phrases import filled
from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from cabassist.dialogue.walking import move_to, open_walk
from cabassist.language.hazards import HazardScreen
from cabassist.procedures.wording import speech_seconds
from tests.dialogue.conversation import NOON, Conversation


@pytest.fixture
def talk(mind: Mind) -> Conversation:
    return Conversation(mind)


def test_a_question_opens_the_walk_with_its_cautions_before_the_first_step(talk: Conversation):
    """Cautions stand before the step they belong to."""
    reply = talk.say("how do I empty the waste tank")

    assert (reply.kind, reply.topic) == ("procedure", "dump-waste-tank")
    assert reply.step is not None
    assert reply.step.index == 1
    first_step = next(i for i, line in enumerate(reply.show) if line.startswith("Step 1"))
    cautions = [i for i, line in enumerate(reply.show) if line.startswith(("DANGER", "WARNING", "CAUTION", "NOTICE"))]
    assert cautions
    assert max(cautions) < first_step


def test_every_caution_of_every_step_is_shown_and_spoken_before_the_action(mind: Mind):
    """No step anywhere is said before its own caution."""
    seen = 0
    for topic in mind.knowledge.ids:
        talk = Conversation(mind)
        state = open_walk(topic, State(), mind, talk.now, 1.0, "").state
        walk = state.walks[-1]
        procedure = mind.knowledge.procedure(topic)
        for place, index in enumerate(walk.plan):
            step = procedure.steps[index]
            reply = move_to(place, state, mind, talk.now, "jump").reply
            do = next(i for i, line in enumerate(reply.show) if line.startswith("Step "))
            for caution in step.cautions:
                seen += 1
                at = next(i for i, line in enumerate(reply.show) if line.startswith(f"{caution.signal}:"))
                assert at < do
                assert reply.say.index(filled(caution.text, mind.facts)) < reply.say.index(filled(step.do, mind.facts))
            assert "{" not in reply.say
    assert seen > 50


def test_next_back_and_repeat_move_the_pointer(talk: Conversation):
    """Next, next, back and repeat end at step 2."""
    talk.say("walk me through emptying the waste tank")
    indexes = [talk.say(text).step.index for text in ("next", "next", "back", "repeat")]  # type: ignore[union-attr]

    assert indexes == [2, 3, 2, 2]


def test_back_at_the_first_step_stays_there(talk: Conversation):
    """There is nothing before the first step."""
    talk.say("how do I empty the waste tank")
    reply = talk.say("back")

    assert reply.step is not None
    assert reply.step.index == 1
    assert "first step" in reply.say


def test_pausing_keeps_the_place_and_coming_back_does_not_advance(talk: Conversation):
    """ "I'm back" says the same step again."""
    talk.say("i need to fill the fresh tank")
    talk.say("next")
    paused = talk.say("hang on, I'm getting my gloves from the cab")
    back = talk.say("right I'm back")

    assert paused.kind == "control"
    assert paused.step == back.step
    assert back.step is not None
    assert back.step.index == 2


def test_a_hazard_in_the_middle_of_a_walk_comes_first_and_the_walk_waits(talk: Conversation):
    """The hazard opens on top; stopping it offers the step where the walk stood."""
    talk.say("how do I empty the waste tank")
    talk.say("next")
    hazard = talk.say("next, hold on, it smells of gas in here")
    stopped = talk.say("stop")
    back = talk.say("resume")

    assert (hazard.kind, hazard.topic) == ("hazard", "propane-smell")
    assert "resume" in stopped.say
    assert back.step is not None
    assert (back.topic, back.step.index) == ("dump-waste-tank", 2)


@pytest.mark.parametrize(
    ("text", "topic"),
    [
        ("the wall behind the stove is too hot to touch and going brown", "smoke-or-fire"),
        ("my temples are pounding and so are his", "carbon-monoxide-alarm"),
    ],
)
def test_a_hazard_without_a_known_sign_is_seen_where_the_reason_of_a_skip_is_awaited(
    talk: Conversation, text: str, topic: str
):
    """Words that only the matcher knows as a hazard are not swallowed as a reason or a reminder."""
    talk.mind = replace(talk.mind, hazards=HazardScreen({}, {}))
    talk.say("how do I empty the waste tank")
    while talk.state.asking is None or talk.state.asking.what != "skip-reason":
        talk.say("next")
        talk.say("skip")

    reply = talk.say(text)

    assert (reply.kind, reply.topic) == ("hazard", topic)


@pytest.mark.parametrize(
    ("text", "topic"),
    [
        ("how do I set the thermostat, by the way it stinks of propane back here", "propane-smell"),
        ("the carbon monoxide alarm is going off", "carbon-monoxide-alarm"),
        ("three of the kids have headaches and feel sick since the furnace came on", "carbon-monoxide-alarm"),
        ("there is smoke coming out of the rear wheel", "smoke-or-fire"),
        ("I got a shock when I touched the door handle", "shock-from-coach-body"),
        ("sewage all over the bay floor", "clean-up-waste-spill"),
    ],
)
def test_hazards_outrank_whatever_else_is_said(talk: Conversation, text: str, topic: str):
    """A hazard is answered first, also in passing, and its first breath takes less than 8 seconds."""
    reply = talk.say(text)

    assert (reply.kind, reply.topic) == ("hazard", topic)
    assert speech_seconds(reply.say) <= 8.0


def test_skipping_a_step_with_a_caution_asks_why_and_keeps_the_reason(talk: Conversation):
    """The reason is on record and named at the end."""
    talk.say("how do I connect shore power")
    talk.say("next")
    asked = talk.say("skip")
    moved = talk.say("the lot is too dark")

    assert "why" in asked.say
    assert moved.step is not None
    assert moved.step.index == 3
    skip = next(event for event in talk.events if event.kind == "skip")
    assert skip.payload == {"topic": "connect-shore-power", "step": 2, "reason": "the lot is too dark"}


def test_no_to_a_skip_stays_at_the_step(talk: Conversation):
    """A skip that was not meant changes nothing."""
    talk.say("how do I connect shore power")
    talk.say("next")
    talk.say("skip")
    reply = talk.say("no")

    assert reply.step is not None
    assert reply.step.index == 2
    assert "skip" not in talk.kinds()


def test_a_wait_becomes_a_timer_that_is_announced_once(talk: Conversation):
    """Ten minutes after the transfer began it says so, once, whatever is said in between."""
    talk.say("how do I connect shore power")
    waiting = talk.until_step(12)
    early = talk.wait(5)
    late = talk.wait(6)
    again = talk.wait(5)

    assert any("Wait:" in line for line in waiting.show)
    assert early == ()
    assert late == ("The transfer time is over. Confirm power inside.",)
    assert again == ()


def test_going_on_during_a_wait_says_how_long_it_still_takes(talk: Conversation):
    """The driver is not held up, and not left in the dark."""
    talk.say("how do I connect shore power")
    talk.until_step(12)
    reply = talk.say("next", minutes=3)

    assert "7 minutes" in reply.show[0]


def test_a_timer_that_ran_out_is_said_before_the_next_answer(talk: Conversation):
    """Nothing said later hides it."""
    talk.say("how do I connect shore power")
    talk.until_step(12)
    reply = talk.say("why", minutes=30)

    assert reply.show[0].startswith("Timer: The transfer time is over")


def test_a_step_that_asks_for_a_reading_waits_and_accepts_that_it_cannot_be_seen(talk: Conversation):
    """Next asks once more; can't see it goes on and is on record."""
    talk.say("how do I connect shore power")
    talk.until_step(14)
    asked = talk.say("next")
    moved = talk.say("can't see it")

    assert "shore voltage" in asked.say
    assert moved.step is not None
    assert moved.step.index == 15
    assert "no-reading" in talk.kinds()


def test_the_reading_that_a_step_asks_for_is_kept_and_moves_on(talk: Conversation):
    """Saying the voltage finishes the step."""
    talk.say("how do I connect shore power")
    talk.until_step(14)
    reply = talk.say("shore is one eighteen")

    assert [(r.what, r.value, r.unit) for r in reply.readings] == [("shore_voltage", 118, "V")]
    assert reply.step is not None
    assert reply.step.index == 15


def test_an_overflow_while_filling_is_full_and_leads_to_the_closing_steps(talk: Conversation):
    """Full ends the filling step; the next thing said is to close down."""
    talk.say("i need to fill the fresh tank")
    talk.say("next")
    reply = talk.say("it's spitting out of the overflow now")
    now_what = talk.say("what do i do now")

    assert [(r.what, r.value) for r in reply.readings] == [("fresh", 1)]
    assert reply.step is not None
    assert now_what.step == reply.step
    assert "tap" in now_what.say.lower() or "water" in now_what.say.lower()


def test_a_reading_of_something_else_keeps_the_place(talk: Conversation):
    """A remark about the fresh tank does not move the dump."""
    talk.say("how do I empty the waste tank")
    talk.say("next")
    reply = talk.say("by the way fresh is at a quarter")
    here = talk.say("where was i")

    assert [(r.what, r.value) for r in reply.readings] == [("fresh", 0.25)]
    assert here.step is not None
    assert here.step.index == 2


def test_undo_takes_back_only_the_last_reading_and_says_what_stands(talk: Conversation):
    """The first reading stands, the second does not."""
    talk.say("fresh is at sixty percent")
    talk.say("waste is at ten percent")
    reply = talk.say("undo that")
    stands = talk.say("what have we got for the waste")

    assert [r.what for r in reply.withdrawn] == ["waste"]
    assert [stored.reading.what for stored in talk.state.stored] == ["fresh"]
    assert "No waste reading" in stands.say


def test_a_correction_moves_the_value_and_withdraws_the_first(talk: Conversation):
    """ "No, the waste tank" means the number was right and the tank was not."""
    talk.say("fresh is at sixty percent")
    reply = talk.say("no, the waste tank")

    assert [(r.what, r.value) for r in reply.readings] == [("waste", 60)]
    assert [r.what for r in reply.withdrawn] == ["fresh"]


def test_an_impossible_reading_is_not_stored_and_is_asked_about(talk: Conversation):
    """Nothing is kept of 140 percent."""
    reply = talk.say("waste is at a hundred and forty percent")

    assert reply.readings == ()
    assert talk.state.stored == ()
    assert reply.kind == "clarify"


def test_undo_of_a_step_goes_back_to_it(talk: Conversation):
    """Next and undo end where they began."""
    talk.say("how do I empty the waste tank")
    talk.say("next")
    talk.say("next")
    talk.say("undo")
    reply = talk.say("repeat")

    assert reply.step is not None
    assert reply.step.index == 2


def test_undo_with_nothing_done_says_so(talk: Conversation):
    """No change, no error."""
    assert "nothing to undo" in talk.say("undo").say


def test_a_vague_question_is_asked_back_and_the_second_one_opens(talk: Conversation):
    """ "The second one" picks from the list that was shown."""
    asked = talk.say("it won't open")
    reply = talk.say("the second one")

    assert asked.kind == "clarify"
    assert 2 <= len(asked.options) <= 3
    assert (reply.kind, reply.topic) == ("procedure", asked.options[1])


def test_a_number_beyond_the_choices_is_said_to_be(talk: Conversation):
    """Nine of three is no choice."""
    talk.say("it won't open")
    reply = talk.say("9")

    assert reply.kind == "control"
    assert "choices" in reply.say


def test_what_nobody_can_answer_is_said_to_be_unknown_with_the_nearest(talk: Conversation):
    """Never a confident wrong procedure."""
    reply = talk.say("who won the election in nineteen sixty four")

    assert reply.kind == "unknown"
    assert reply.topic is None
    assert reply.nearest


@pytest.mark.parametrize(
    ("text", "topic"),
    [
        ("can I pour a bit of gasoline in the diesel so it doesn't gel", "gelled-diesel"),
        ("can I just dump the waste tank in the ditch", "dump-waste-tank"),
        ("I want to pull the battery out of the carbon monoxide alarm so it shuts up", "carbon-monoxide-alarm"),
        ("can the kids sleep in the coach while it's up on the jacks", "jack-the-coach"),
    ],
)
def test_an_unsafe_wish_is_refused_with_the_right_way(talk: Conversation, text: str, topic: str):
    """The caution and the right way, never steps for the wish."""
    reply = talk.say(text)

    assert reply.kind in ("refuse", "hazard")
    assert reply.topic == topic
    if reply.kind == "refuse":
        assert reply.step is None
        assert reply.show[0].split(":")[0] in ("DANGER", "WARNING", "CAUTION", "NOTICE")


def test_yes_after_a_refusal_opens_the_right_way(talk: Conversation):
    """The procedure offered is the one that opens."""
    refused = talk.say("can I just dump the waste tank in the ditch")
    reply = talk.say("yes")

    assert (reply.kind, reply.topic) == ("procedure", refused.topic)


def test_how_do_you_know_names_the_sources(talk: Conversation):
    """A rule is named, and that it must be current."""
    talk.say("where do the warning triangles go")
    reply = talk.say("how do you know that")

    assert "392.22" in " ".join(reply.show)
    assert any("current" in line for line in reply.show)


def test_the_other_one_is_the_twin_of_what_was_asked(talk: Conversation):
    """After the fresh level, the other one is the waste level."""
    talk.say("how do I check how much fresh water is left")
    reply = talk.say("and the other one?")

    assert reply.topic == "check-waste-level"


def test_asking_for_the_walk_in_hand_does_not_start_it_over(talk: Conversation):
    """The step stays where it was."""
    talk.say("how do I empty the waste tank")
    talk.say("next")
    talk.say("next")
    reply = talk.say("how do I empty the waste tank again")

    assert reply.step is not None
    assert reply.step.index == 3


def test_walks_are_a_stack(talk: Conversation):
    """Two interruptions come back in reverse order."""
    talk.say("how do I empty the waste tank")
    talk.say("how do I plug in to shore power")
    talk.say("what tools are aboard")
    first = talk.say("stop")
    talk.say("resume")
    second = talk.say("stop")
    reply = talk.say("resume")

    assert "shore" in first.say.lower()
    assert "waste" in second.say.lower()
    assert reply.topic == "dump-waste-tank"


def test_the_end_of_a_walk_names_what_was_skipped_and_what_comes_next(talk: Conversation):
    """Nobody takes a skipped step for done."""
    talk.say("how do I connect shore power")
    reply = talk.say("skip")
    while reply.step is not None:
        reply = talk.say("can't see it" if "reading" in " ".join(reply.show) else "next")

    assert "is done" in reply.say
    assert any("no reason given" in line for line in reply.show)
    assert reply.options
    assert talk.say("1").topic == reply.options[0]


def test_a_coach_without_heat_tape_is_not_sent_to_look_at_one(mind: Mind, other_coach):
    """Steps whose condition does not hold are left out, and no placeholder is left open."""
    from cabassist.coach import facts

    tanks = [t.model_dump() | ({"heat_tape": None} if t.name == "waste" else {}) for t in mind.coach.tanks]
    bare = other_coach({"tanks": tanks})
    talk = Conversation(dataclasses.replace(mind, coach=bare, facts=facts(bare)))
    talk.say("how do I check the heat tape on the waste tank")
    full = Conversation(mind)
    full.say("how do I check the heat tape on the waste tank")

    assert talk.state.walk is not None
    assert full.state.walk is not None
    assert len(talk.state.walk.plan) < len(full.state.walk.plan)


def test_warm_weather_leaves_out_what_only_frost_needs(talk: Conversation, mind: Mind):
    """Sixty degrees outside makes the walk shorter than minus twenty does."""
    cold = Conversation(mind)
    cold.say("it's minus twenty outside")
    cold.say("how do I park the coach for the night")
    talk.say("it's sixty degrees outside")
    talk.say("how do I park the coach for the night")

    assert cold.state.walk is not None
    assert talk.state.walk is not None
    assert len(talk.state.walk.plan) < len(cold.state.walk.plan)


def test_a_defect_is_kept_in_the_words_it_was_told_in(talk: Conversation):
    """Logging is not asking how to repair."""
    reply = talk.say("log a cracked lamp in bay two on the right")

    assert reply.kind == "defect"
    defect = next(event for event in talk.events if event.kind == "defect")
    assert defect.payload["what"] == "a cracked lamp in bay two on the right"


@pytest.mark.parametrize("text", ["", " ", "?", "...", "\x00\x1b[31m", "\u202e\u200b", "🚿", "🔥🔥"])
def test_nothing_usable_gets_a_short_clear_reply(talk: Conversation, text: str):
    """No word, no traceback, no change."""
    reply = talk.say(text)

    assert reply.kind in ("unknown", "hazard")
    assert reply.show
    assert talk.state.walks == () or reply.kind == "hazard"


@pytest.mark.parametrize(
    "text",
    [
        "x",
        "x" * 10_000,
        "how " * 5_000,
        "wie fülle ich den Tank",
        "як заправити бак",
        "水をください",
        "<b>[red]hi[/red]</b>",
        "\x1b]0;title\x07 fill the tank",
        "{waste.capacity}",
    ],
)
def test_strange_input_is_answered_without_control_characters_or_markup(talk: Conversation, text: str):
    """What comes back can be printed to any terminal."""
    reply = talk.say(text)

    for line in reply.show:
        assert all(c.isprintable() for c in line)
        assert len(line) < 1_000


def test_bubbles_in_a_leak_test_are_escaping_gas(mind: Mind):
    """However little "it's bubbling" says by itself."""
    walking = take_turn(State(), "how do I leak test the propane joint", mind=mind, now=NOON).state
    reply = take_turn(walking, "it's bubbling", mind=mind, now=NOON).reply

    assert (reply.kind, reply.topic) == ("hazard", "propane-smell")
