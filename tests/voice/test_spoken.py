"""What is said of a reply: cautions first, one step, short on the move."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.coach import Coach, facts
from cabassist.dialogue import phrases
from cabassist.dialogue.rolling import MAX_WORDS, MORE
from cabassist.dialogue.types import Reply, ReplyKind, Walk
from cabassist.estimate.types import Estimate
from cabassist.language.reading_types import Reading
from cabassist.procedures.library import Knowledge
from cabassist.voice.spoken import NO_NUMBER, TOO_LONG, for_ear, just_number, spelled
from cabassist.voice.words import ALPHABET, in_words

KINDS: tuple[ReplyKind, ...] = (
    "procedure", "step", "hazard", "reading", "calculation", "clarify", "defect", "refuse", "control", "unknown",
)  # fmt: skip
STEP = Reply(
    "step",
    "The wait has 3 minutes to go. Warning. A wet plug can shock you. Dry your hands first. Pull the plug.",
    (
        "The wait has 3 minutes to go.",
        "WARNING: A wet plug can shock you. Dry your hands first.",
        "Step 2 of 7: Pull the plug.",
    ),
)


@pytest.fixture(scope="module")
def known(knowledge: Knowledge, coach: Coach) -> Any:
    """What the wording of replies needs; the matcher is not."""
    return SimpleNamespace(knowledge=knowledge, coach=coach, facts=facts(coach))


def replies(known: Any) -> Iterator[tuple[str, Reply]]:
    """Everything the demo coach's procedures can say: each opening, each step, each end."""
    for name in known.knowledge.ids:
        procedure = known.knowledge.procedure(name)
        plan = tuple(range(len(procedure.steps)))
        yield f"{name}: opening", phrases.opening(procedure, Walk(name, plan), known, 1.0)
        for at in plan:
            yield f"{name}: step {at + 1}", phrases.at_step(procedure, Walk(name, plan, at), known)
        yield f"{name}: end", phrases.ended(procedure, Walk(name, plan), known, None)


def test_cautions_come_first_with_their_signal_word():
    """Also before a remark on what went before."""
    assert for_ear(STEP) == (
        "Warning. A wet plug can shock you. Dry your hands first. The wait has three minutes to go. Pull the plug."
    )


def test_a_hazard_begins_with_danger():
    """Its escape line has no signal word of its own."""
    reply = Reply("hazard", "Get everyone out now.", ("DANGER: Propane smell", "Get everyone out now."))

    assert for_ear(reply) == "Danger. Get everyone out now."


def test_cautions_read_on_request_are_each_said_with_their_signal():
    """The lines of "any warnings" carry their signal words in capitals."""
    reply = Reply(
        "control",
        "CAUTION: Heavy bags hurt backs. WARNING: Gas can burn.",
        ("CAUTION: Heavy bags hurt backs.", "WARNING: Gas can burn."),
    )

    assert for_ear(reply) == "Caution. Heavy bags hurt backs. Warning. Gas can burn."


def test_on_the_move_what_does_not_fit_is_left_out_and_that_is_said():
    """Whole sentences in their order; the action is not said without its caution."""
    long = "Hold the lever with your left hand while you turn the cap slowly against the clock until you hear gas."
    said = for_ear(replace(STEP, say=STEP.say.replace("Pull the plug.", long)), rolling=True)

    assert said == f"Warning. A wet plug can shock you. Dry your hands first. The wait has three minutes to go. {MORE}"


def test_on_the_move_an_endless_sentence_is_not_cut():
    """Half a sentence may mean the opposite: "do not go on ... unless"."""
    reply = Reply("control", "Do not " + "really " * 40 + "go on.", ())

    assert for_ear(reply, rolling=True) == TOO_LONG


def test_on_the_move_an_endless_answer_gives_its_number():
    """The number is what was asked for."""
    estimate = Estimate("days", 2.4, "days")
    reply = Reply("calculation", "It lasts " + "very " * 40 + "long.", (), estimate=estimate)

    assert for_ear(reply, rolling=True) == f"two and a half days. {MORE}"


def test_a_short_pace_leaves_out_the_remarks_of_an_answer():
    """But nothing of a step, a danger or a refusal."""
    answer = Reply("calculation", "About 2 days. Fill by 21:40.", ())
    refusal = Reply("refuse", "Danger. No. Never do that. Do this.", ("DANGER: No. Never do that.",))

    assert for_ear(answer, pace="short") == "About two days."
    assert for_ear(refusal, pace="short") == "Danger. No. Never do that. Do this."
    assert for_ear(STEP, pace="short") == for_ear(STEP)


def test_choices_are_said_with_their_numbers():
    """On the move as many as fit, whole."""
    options = [
        "Dump the waste tank",
        "Stow the waste hose",
        "Free a collapsed waste hose",
        "Clean up a waste spill on the wet ground outside",
    ]
    say = "Which do you mean? " + "; ".join(f"{n}, {title}" for n, title in enumerate(options, 1)) + "?"
    reply = Reply("clarify", say, ())

    assert for_ear(reply).startswith("Which do you mean? one, Dump the waste tank; two, Stow the waste hose;")
    assert for_ear(reply, rolling=True) == (
        "Which do you mean? one, Dump the waste tank; two, Stow the waste hose; three, Free a collapsed waste hose."
        f" {MORE}"
    )


def test_everything_the_procedures_say_is_for_the_ear(known: Any):
    """Every opening and step of the demo coach, standing and rolling, in the alphabet an engine reads rightly."""
    faults = []
    number = 0
    for where, reply in replies(known):
        number += 1
        for rolling in (False, True):
            said = for_ear(reply, rolling=rolling)
            if not said or not set(said) <= ALPHABET or (rolling and len(said.split()) > MAX_WORDS):
                faults.append(f"{where}: {said}")
            if in_words(said) != said:
                faults.append(f"{where}: put into words twice it is another text")
            if said == TOO_LONG:
                faults.append(f"{where}: nothing of it can be said on the move")

    assert number > 500
    assert faults == []


def test_every_step_is_said_whole_when_standing(known: Any):
    """Nothing but the order changes: as many cautions are said as are shown before the step."""
    for where, reply in replies(known):
        said = for_ear(reply)
        shown = sum(line.startswith(("DANGER: ", "WARNING: ", "CAUTION: ", "NOTICE: ")) for line in reply.show)
        heard = sum(said.count(f"{word}. ") for word in ("Danger", "Warning", "Caution", "Notice"))

        assert heard == (1 if reply.kind == "hazard" else shown), where
        if shown:
            assert said.split(".")[0] in ("Danger", "Warning", "Caution", "Notice"), where


def test_every_danger_is_said_in_one_breath(known: Any):
    """The escape line is never shortened on the move."""
    for where, reply in replies(known):
        if reply.kind == "hazard":
            assert for_ear(reply, rolling=True) == for_ear(reply), where
            assert MORE not in for_ear(reply, rolling=True)


@given(
    st.sampled_from(KINDS),
    st.text(max_size=300),
    st.lists(st.text(max_size=60).map(lambda text: f"WARNING: {text}"), max_size=2),
)
def test_on_the_move_twelve_seconds_are_enough(kind: ReplyKind, say: str, show: list[str]):
    """30 words at 150 words a minute are 12 s, whatever the reply."""
    said = for_ear(Reply(kind, say, tuple(show)), rolling=True)

    assert len(said.split()) <= MAX_WORDS
    assert set(said) <= ALPHABET


@given(
    st.lists(st.sampled_from(["12 V.", "Go.", "WARNING: x y.", "1/4 tank;", "No. ", "5 gal", "21:40!"]), max_size=40)
)
def test_on_the_move_any_sequence_of_sentences_keeps_to_its_words(parts: list[str]):
    """Short sentences in any number."""
    assert len(for_ear(Reply("control", " ".join(parts), tuple(parts)), rolling=True).split()) <= MAX_WORDS


@pytest.mark.parametrize(
    ("reply", "number"),
    [
        (Reply("calculation", "x", (), estimate=Estimate("e", 2.5, "days")), "two and a half days"),
        (Reply("calculation", "x", (), estimate=Estimate("e", -35.0, "F")), "minus thirty five degrees Fahrenheit"),
        (Reply("calculation", "x", (), estimate=Estimate("e", None, "F")), NO_NUMBER),
        (Reply("reading", "x", (), readings=(Reading("waste", None, 50.0, "percent"),)), "fifty percent"),
        (Reply("reading", "x", (), readings=(Reading("waste", None, 0.25, "fraction"),)), "twenty five percent"),
        (Reply("reading", "x", (), readings=(Reading("shore_voltage", None, 118.0, "V"),)), "one hundred eighteen volts"),
        (Reply("reading", "x", (), readings=(Reading("waste", None, None, None, flag="low"),)), NO_NUMBER),
        (Reply("step", "Set the heat to 62 degrees Fahrenheit.", ()), "sixty two degrees Fahrenheit"),
        # two figures: which one is meant cannot be known
        (Reply("control", "120 gal × 6 mi/gal = 720 mi.", ()), NO_NUMBER),
        (Reply("step", "Pull the plug.", ()), NO_NUMBER),
    ],
)  # fmt: skip
def test_just_the_number(reply: Reply, number: str):
    """The result with its unit, or that there is none."""
    assert just_number(reply) == number


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("TW 38.5", "T, W. three, eight, point, five."),
        ("bay", "B, A, Y."),
        ("-12", "dash, one, two."),
        ("Set the wrench to 475 foot-pounds.", "Set the wrench to. four, seven, five. foot-pounds."),
        ("Find the TW stamp on the collar.", "Find the. T, W. stamp on the collar."),
        ("", ""),
    ],
)
def test_spelling(text: str, said: str):
    """A short text letter by letter, of a long one what can be misheard."""
    assert spelled(text) == said


@given(st.text(max_size=100))
def test_spelling_stays_in_the_alphabet(text: str):
    """Whatever is to be spelled."""
    assert set(spelled(text)) <= ALPHABET
