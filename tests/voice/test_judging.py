"""What is done with what was heard."""

from __future__ import annotations

import math
from datetime import datetime

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from cabassist.voice.heard import Alternative, Hypothesis
from cabassist.voice.judging import Verdict, chances, judge, word_confidence
from cabassist.voice.worker import Hearing


def sureness(margin: float) -> float:
    """A confidence for a number between about -8, surely wrong, and 8, surely right."""
    return 1 / (1 + math.exp(-(margin - 0.5) / 1.2))


def narrow(text: str, margin: float, *others: str, expected: bool = False, spotted: tuple[str, ...] = ()) -> Hypothesis:
    """What the engine with the language model heard."""
    return Hypothesis(
        text,
        sureness(margin),
        "pocketsphinx",
        alternatives=tuple(Alternative(other, 0.3) for other in others),
        expected=expected,
        spotted=spotted,
    )


def wide(text: str, confidence: float) -> Hypothesis:
    """What the engine without one heard."""
    return Hypothesis(text, confidence, "whisper")


def tuned(text: str, confidence: float, *others: tuple[str, float]) -> Hypothesis:
    """What an engine heard that weighs its alternatives."""
    found = tuple(Alternative(*other) for other in others)
    return Hypothesis(text, confidence, "whisper", alternatives=found, weighed=True)


@pytest.fixture
def verdict(mind: Mind, now: datetime):
    """Judges hypotheses in a state."""

    def judged(*hypotheses: Hypothesis, state: State | None = None) -> Verdict:
        return judge(Hearing(hypotheses), state or State(), mind=mind, now=now)

    return judged


def test_sure_words_are_acted_on(verdict):
    found = verdict(narrow("how do i dump the waste tank", 6.0, expected=True))

    assert (found.action, found.kind) == ("act", "procedure")


def test_two_engines_that_agree_in_meaning_support_each_other(verdict):
    """Neither is sure enough by itself; the words need not be the same."""
    alone = verdict(narrow("how do i dump the waste tank", 0.2))
    together = verdict(narrow("how do i dump the waste tank", 0.2), wide("how do you empty the waste tank", 0.6))

    assert alone.action == "confirm"
    assert together.action == "act"
    assert together.confidence > alone.confidence


def test_a_doubtful_reading_is_read_back(verdict):
    """What would be stored needs more than what would only be shown."""
    found = verdict(narrow("waste is at fifty percent", 1.0))

    assert (found.action, found.kind, found.text) == ("confirm", "reading", "waste is at fifty percent")


def test_engines_that_disagree_about_a_number_store_nothing(verdict):
    """Fifty or fifteen: the likelier one is read back."""
    found = verdict(narrow("waste is at fifteen percent", 0.8), wide("waste is at fifty percent", 0.62))

    assert found.action == "confirm"


def test_poor_words_are_asked_for_again(verdict):
    assert verdict(narrow("fill the left of it", -8.0)).action == "again"


def test_silence_is_ignored(verdict):
    assert verdict(narrow("", -8.0), wide("", 0.0)).action == "ignore"
    assert verdict().action == "ignore"


def test_a_hazard_needs_little(verdict):
    """Heard by one engine only, and not well."""
    found = verdict(narrow("hi small class in the back", -6.0), wide("i smell gas in the back", 0.45))

    assert (found.action, found.kind, found.text) == ("act", "hazard", "i smell gas in the back")


def test_a_hazard_that_a_surer_engine_did_not_hear_is_asked_about(verdict):
    """Never dropped, and raised at once when the engine that heard it is the surer one."""
    mild = wide("there is a light out in the bay", 0.9)
    doubted = verdict(narrow("there is a fire in the bay", 1.0), mild)
    surer = verdict(narrow("there is a fire in the bay", 4.0), mild)

    assert (doubted.action, doubted.kind) == ("confirm", "hazard")
    assert (surer.action, surer.kind) == ("act", "hazard")


def test_the_surer_engine_says_where_one_word_ends(verdict):
    found = verdict(
        narrow("there is alight out in the luggage bay", 0.5), wide("there is a light out in the luggage bay", 0.95)
    )
    assert (found.action, found.kind) == ("act", "procedure")
    assert "a light out" in found.text
    unsure = verdict(narrow("the bunk is alight", 6.0), wide("the bunk is a light", 0.3))
    assert unsure.kind == "hazard"


def test_a_hazard_among_the_alternatives_is_asked_about(verdict):
    found = verdict(narrow("i spell pass near the bunks", -1.0, "i smell gas near the bunks"))

    assert (found.action, found.kind, found.text) == ("confirm", "hazard", "i smell gas near the bunks")


def test_a_spotted_hazard_is_asked_about(verdict):
    found = verdict(narrow("where do i put the bags", 5.0, spotted=("rotten eggs",)))

    assert (found.action, found.kind, found.text) == ("confirm", "hazard", "rotten eggs")


def test_unrelated_speech_does_nothing(verdict):
    """Sure words without a meaning here are answered with "I do not have that", unsure ones asked for again."""
    sure = verdict(narrow("who won the game last night", 3.0))
    unsure = verdict(narrow("who won the gauge last light", -5.0), wide("who won the game last night", 0.4))

    assert sure.kind == "unknown"
    assert unsure.action in ("again", "confirm")


def test_judging_changes_nothing(verdict, mind: Mind, now: datetime):
    """The same question about an open walk, judged twice, gives the same verdict, and the walk stands where it stood."""
    state = take_turn(State(), "how do i dump the waste tank", mind=mind, now=now).state
    first = verdict(narrow("next", 3.0, expected=True), state=state)
    second = verdict(narrow("next", 3.0, expected=True), state=state)

    assert first == second
    assert first.action == "act"
    assert state.walk is not None
    assert state.walk.at == 0


def test_words_are_the_surer_the_better_the_narrow_search_does():
    rising = [word_confidence(narrow("x", margin)) for margin in (-20.0, -2.0, 0.0, 2.0, 20.0)]

    assert rising == sorted(rising)
    assert rising[0] < 0.01
    assert rising[-1] > 0.99
    assert word_confidence(narrow("x", 0.0, expected=True)) > word_confidence(narrow("x", 0.0))


def test_engines_multiply_their_chances_and_one_text_at_most_is_right():
    """By hand: of the first engine's doubt, 0.2, b gets 0.16 and all else 0.04; of the second's, 0.4, c gets 0.32 and all else 0.08."""
    heard = Hearing((tuned("a", 0.8, ("b", 0.1)), tuned("b", 0.6, ("c", 0.3))))
    a, b, c, none = 0.8 * 0.08, 0.16 * 0.6, 0.04 * 0.32, 0.04 * 0.08
    whole = a + b + c + none

    assert chances(heard) == pytest.approx({"a": a / whole, "b": b / whole, "c": c / whole})


def test_no_engine_is_believed_wholly():
    assert 0.9 < chances(Hearing((tuned("a", 1.0),)))["a"] < 1
    assert sum(chances(Hearing((tuned("a", 1.0, ("b", 1.0)),))).values()) < 1


def test_well_heard_words_outweigh_a_mishearing_that_means_more(verdict):
    """The narrow engine can only hear what it expects; an engine that is surer of its words is believed."""
    found = verdict(
        narrow("how do i dump the waste tank", 0.6), tuned("how do i bump the waste basket against the wall", 0.92)
    )
    assert found.text != "how do i dump the waste tank"
    agreed = verdict(narrow("how do i dump the waste tank", 0.6), tuned("how do i dump the waste tank", 0.92))
    assert (agreed.action, agreed.kind) == ("act", "procedure")
    assert agreed.confidence > found.confidence


def test_a_number_of_which_the_surer_engine_is_sure_is_stored(verdict):
    sure = verdict(narrow("waste is at fifteen percent", -3.0), tuned("waste is at fifty percent", 0.95))
    unsure = verdict(narrow("waste is at fifteen percent", 0.8), tuned("waste is at fifty percent", 0.6))

    assert (sure.action, sure.text) == ("act", "waste is at fifty percent")
    assert unsure.action in ("confirm", "again")
