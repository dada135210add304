"""Who has how many rows: the answer from its beginning, the step with its cautions, the most pressing supply."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.widgets import Static

from cabassist.dialogue.types import Mind, Walk
from cabassist.screen.look import kind_of
from cabassist.screen.room import shared_out, talk_rows
from cabassist.screen.talk import StepPanel, Talk, step_lines

from .conftest import Cab

Drive = Callable[..., None]
SIZES = [(80, 24), (100, 34), (120, 30), (140, 42)]
FULL = (
    "waste 65", "fresh a quarter", "outside bottle a quarter, inside bottle full, 22 below out", "2 aboard",
    "house battery 12.5 volts",
)  # fmt: skip
UNSAFE = "ok to heat the cabin with the galley burners tonight"


@given(*(st.integers(0, most) for most in (60, 60, 20, 20, 10)))
def test_rows_are_shared_out_in_their_order(screen: int, middle: int, step: int, least: int, supplies: int):
    middle, least = max(4, min(middle, screen)), min(least, step)
    rooms = shared_out(screen, middle, step, least, supplies)

    assert rooms.step + rooms.supplies < middle or middle <= 4
    assert rooms.step <= step or rooms.step == least
    assert rooms.supplies >= min(1, supplies)
    if least + talk_rows(screen) + 1 <= middle:
        assert rooms.step >= least
        assert middle - rooms.step - rooms.supplies >= talk_rows(screen)


def seen(cab: Cab, line: str) -> bool:
    """Whether all words of a line stand in the conversation or the step, beside nothing else."""
    left = [row.split("│")[0] for row in cab.rows]
    shown = " ".join("".join(c for c in row if c not in "┃║▁▂▃▄▅▆▇█") for row in left)
    return line in " ".join(shown.split())


@pytest.mark.parametrize("size", SIZES)
def test_an_answer_is_seen_from_its_beginning(drive: Drive, size: tuple[int, int]):
    """With every supply told and a walk open; the conversation has a third of the screen."""

    async def story(cab: Cab) -> None:
        await cab.say(*FULL, "we just parked for the night", UNSAFE)
        assert seen(cab, f"› {UNSAFE}")
        assert seen(cab, "⚠ DANGER No. The galley stove or oven is never used to heat the coach.")
        assert seen(cab, "Park on level ground near an outlet")
        assert cab.app.query_one(Talk).outer_size.height >= talk_rows(size[1])
        await cab.press("pageup")
        await cab.say("thanks")
        assert "You are welcome." in cab.text

    drive(story, size)


def test_many_words_do_not_push_their_answer_out(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say(*FULL, "we just parked for the night")
        await cab.say("well you know it was a long day on the road and everybody is tired and cold " * 6 + UNSAFE)
        first = next(line for line in cab.session.state.last.show if line.strip())  # type: ignore[union-attr]
        assert seen(cab, first.split(". ")[0].split(": ")[-1])

    drive(story)


@pytest.mark.parametrize("size", [(60, 20), *SIZES])
def test_cautions_and_the_sentence_of_a_step_are_always_in_view(drive: Drive, mind: Mind, size: tuple[int, int]):
    """The steps with the most words, on a screen with every supply told."""

    def words(walk: Walk) -> int:
        return sum(len(line) for line in step_lines(walk, mind) if kind_of(line) in ("caution", "step"))

    walks = []
    for name in mind.knowledge.ids:
        plan = tuple(range(len(mind.knowledge.procedure(name).steps)))
        walks += [Walk(name, plan, at) for at in plan]
    longest = sorted(walks, key=words)[-10:]

    async def story(cab: Cab) -> None:
        await cab.say(*FULL)
        for walk in longest:
            cab.session.state = replace(cab.session.state, walks=(walk,))
            await cab.say("thanks")
            panel = cab.app.query_one(StepPanel)
            for shown in panel.query("#step-lines .word, #step-lines .text, #step-lines .step").results(Static):
                assert panel.content_region.contains_region(shown.region), (walk.topic, walk.number, str(shown.content))
            assert cab.app.query_one("#supplies").outer_size.height >= 1
            assert cab.app.query_one(Talk).outer_size.height >= 3

    drive(story, size)


def test_what_is_cut_from_a_step_is_said_when_it_is_asked_for(drive: Drive):
    async def story(cab: Cab) -> None:
        await cab.say(*FULL, "there is a carbon monoxide alarm", "next", "next")
        done = "Done when: Everyone is out, upwind of the coach, and the doors stand open."
        assert cab.app.query_one(StepPanel).cut
        await cab.say("repeat")
        assert done in cab.conversation

    drive(story, (60, 20))


@pytest.mark.parametrize("said", ["next", "resume", "repeat"])
def test_going_on_with_what_waited_is_seen(drive: Drive, said: str):
    """The box stood there before: without a word beside it nothing would have happened for the eye."""

    async def story(cab: Cab) -> None:
        await cab.say("we just parked for the night", "how do I plug in at the hotel", "stop")
        assert "PAUSED" in cab.text or "say resume" in cab.text
        await cab.say(said)
        assert cab.conversation.splitlines()[-1].strip() != f"› {said}"
        assert "Park on level ground" in cab.conversation.split(f"› {said}")[-1]

    drive(story)
