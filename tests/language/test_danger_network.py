"""The network that tells whether a danger is there now, and whether something unsafe is wished for."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist.errors import FileProblem
from cabassist.language.danger_network import MOST_PIECES, WISH, DangerNetwork, parted
from cabassist.language.encoder import Encoder


@pytest.fixture(scope="module")
def encoder(knowledge_folder: Path) -> Encoder:
    return Encoder(knowledge_folder / "encoder.npz")


@pytest.fixture(scope="module")
def network(knowledge_folder: Path, encoder: Encoder) -> DangerNetwork:
    return DangerNetwork(knowledge_folder / "dangers.npz", encoder)


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("there is a strong smell of propane by the stove", "propane-smell"),
        ("the carbon monoxide alarm has been going for a minute now", "carbon-monoxide-alarm"),
        ("smoke is coming out from behind the fridge", "smoke-or-fire"),
        ("I got a shock off the door handle with the cord plugged in", "shock-from-coach-body"),
        ("the toilet tank is running over onto the floor", "clean-up-waste-spill"),
        ("the coach is rolling down the lot with nobody at the wheel", "runaway"),
        ("he is lying under the axle and the jack is sinking", "under"),
        ("water is pouring into the inverter", "flood"),
    ],
)
def test_a_danger_told_plainly_is_known(network: DangerNetwork, text: str, label: str):
    judged = network.judge(text)
    assert judged.worst == label
    assert judged.danger > 0.8


@pytest.mark.parametrize(
    "text",
    [
        "how often do we test the carbon monoxide alarm",
        "what would I do if the propane alarm ever went off",
        "the waste hose burst last winter and it was replaced, when is the new one due for a check",
        "our goalie was on fire tonight",
        "how do I fill the fresh tank",
    ],
)
def test_what_speaks_of_a_danger_that_is_not_there_is_calm(network: DangerNetwork, text: str):
    assert network.judge(text).danger < 0.2


def test_a_wish_is_told_from_a_question_about_it(network: DangerNetwork):
    assert network.judge("I'll just tape over the carbon monoxide alarm so they can sleep").wish > 0.8
    assert network.judge("why must nobody tape over the carbon monoxide alarm").wish < 0.2


def test_a_danger_at_the_end_of_a_long_story_is_seen(network: DangerNetwork, encoder: Encoder):
    story = (
        "we left the rink late and the boys were hungry so we stopped for pizza on the way and talked of the game, " * 6
    )
    text = f"{story} and now there is a strong smell of propane in here"
    assert len(parted(encoder, text)) > 1
    assert network.judge(text).worst == "propane-smell"


def test_parts_of_a_long_text_hold_all_of_it(encoder: Encoder):
    text = " ".join(f"word{number}" for number in range(300))
    ids = encoder.all_pieces(text)
    parts = parted(encoder, text)
    assert all(len(part) <= MOST_PIECES for part in parts)
    half = (MOST_PIECES - 2) // 2
    joined = [piece for part in parts[:-1] for piece in part[1 : half + 1]] + parts[-1][1:-1]
    assert joined == ids


def test_nothing_said_is_no_danger(network: DangerNetwork):
    assert network.judge("").danger < 0.5


def test_lines_to_learn_from_are_of_known_labels(network: DangerNetwork, knowledge_folder: Path):
    names = {path.stem for path in (knowledge_folder / "dangers").glob("*.txt")}
    assert names <= {*network.labels, "calm", "wished", "unwished"} - {WISH}


def test_a_damaged_file_is_named(tmp_path: Path, encoder: Encoder):
    path = tmp_path / "dangers.npz"
    path.write_bytes(b"no weights")
    with pytest.raises(FileProblem, match=r"dangers\.npz"):
        DangerNetwork(path, encoder)
