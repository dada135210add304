"""The network that tells whether what is said at a step tells that the step is done."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist.errors import FileProblem
from cabassist.language.encoder import Encoder
from cabassist.language.report_network import ACTS, MOST_SAID, MOST_STEP, ReportNetwork, paired

CAP = "Crack the cap a little to let air in. You hear a hiss, and then the hiss stops."
GLOVES = "Put on the gloves from the door pocket in bay 4."
BRAKE = "Set the parking brake. The knob stays out."


@pytest.fixture(scope="module")
def encoder(knowledge_folder: Path) -> Encoder:
    return Encoder(knowledge_folder / "encoder.npz")


@pytest.fixture(scope="module")
def network(knowledge_folder: Path, encoder: Encoder) -> ReportNetwork:
    return ReportNetwork(knowledge_folder / "reports.npz", encoder)


@pytest.mark.parametrize(
    ("said", "step"),
    [("hissed a bit and then went quiet", CAP), ("both hands covered", GLOVES), ("pulled the yellow knob and it stays put", BRAKE)],
)  # fmt: skip
def test_a_step_told_done_without_its_words_is_known(network: ReportNetwork, said: str, step: str):
    told = network.judge(said, (step,))[0]
    assert told.done > 0.5
    assert told.act == "report"


@pytest.mark.parametrize(
    ("said", "act"),
    [
        ("the cap is frozen solid, it will not turn", "trouble"),
        ("why do I have to let air in", "asks"),
        ("how far do I open it", "asks"),
    ],
)
def test_trouble_and_questions_tell_nothing_done(network: ReportNetwork, said: str, act: str):
    told = network.judge(said, (CAP,))[0]
    assert told.done < 0.3
    assert told.act == act
    assert set(told.acts) == set(ACTS)
    assert sum(told.acts.values()) == pytest.approx(1.0, abs=1e-4)


def test_of_several_steps_the_one_meant_is_likeliest(network: ReportNetwork):
    judged = network.judge("got my mitts on", (CAP, BRAKE, GLOVES))
    assert max(range(3), key=lambda at: judged[at].done) == 2


def test_a_step_alone_and_among_others_is_judged_alike(network: ReportNetwork):
    alone = network.judge("knob is out", (BRAKE,))[0]
    among = network.judge("knob is out", (CAP, BRAKE))[1]
    assert among.done == pytest.approx(alone.done, abs=1e-3)


def test_long_texts_are_cut_and_not_refused(network: ReportNetwork, encoder: Encoder):
    ids, split = paired(encoder, "word " * 500, "step " * 500)
    assert split <= MOST_SAID + 2
    assert len(ids) <= MOST_SAID + MOST_STEP + 3
    assert 0.0 <= network.judge("word " * 500, ("step " * 500,))[0].done <= 1.0


def test_a_damaged_file_is_named(tmp_path: Path, encoder: Encoder):
    broken = tmp_path / "reports.npz"
    broken.write_bytes(b"no weights")
    with pytest.raises(FileProblem, match=r"reports\.npz"):
        ReportNetwork(broken, encoder)
