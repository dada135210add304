"""The network that hands out the roles of a sum's amounts."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from cabassist.errors import FileProblem
from cabassist.language.calculation_inputs import read_question
from cabassist.language.encoder import Encoder
from cabassist.language.role_network import MOST_PIECES, NO_SUM, RoleNetwork, kind_of_unit, laid_out, pieces_of


@pytest.fixture(scope="module")
def encoder(knowledge_folder: Path) -> Encoder:
    return Encoder(knowledge_folder / "encoder.npz")


@pytest.fixture(scope="module")
def network(knowledge_folder: Path, encoder: Encoder) -> RoleNetwork:
    return RoleNetwork(knowledge_folder / "roles.npz", encoder)


def test_an_amount_is_shown_as_a_number_with_its_unit():
    question = read_question("how long to fill ninety gallons at two and a half gallons a minute")
    words, spans = laid_out(question.words, question.amounts)
    assert [" ".join(words[a:b]) for a, b in spans] == ["90 gal", "2.5 gal / min"]
    assert words[:4] == ["how", "long", "to", "fill"]


def test_spans_are_of_the_pieces_of_their_amounts(encoder: Encoder):
    names = {i: piece for piece, i in encoder.pieces.items()}
    question = read_question("furnace of 25,000 btu an hour on 14 lb, how long")
    ids, spans = pieces_of(encoder, *laid_out(question.words, question.amounts))
    shown = ["".join(names[i] for i in ids[a:b]).replace("##", "") for a, b in spans]
    assert shown == ["2.5e+04btu/h", "14lb"]


def test_a_long_text_is_cut_and_its_spans_stay_inside(encoder: Encoder):
    question = read_question("well " * 200 + "how long do 20 gallons last")
    ids, spans = pieces_of(encoder, *laid_out(question.words, question.amounts))
    assert len(ids) == MOST_PIECES
    assert all(0 <= a <= b <= MOST_PIECES for a, b in spans)


def test_what_it_hands_out_are_chances(network: RoleNetwork):
    handed = network.hand_out(read_question("46 gallons in the fresh and we use 4 an hour, how long"))
    assert sum(math.exp(chance) for chance in handed.families.values()) == pytest.approx(1.0, abs=1e-3)
    assert sum(math.exp(chance) for chance in handed.wanted.values()) == pytest.approx(1.0, abs=1e-3)
    for family in set(handed.families) - {NO_SUM}:
        of_family = [chance for role, chance in handed.roles[0].items() if role.startswith(f"{family}.")]
        assert sum(map(math.exp, of_family)) == pytest.approx(1.0, abs=1e-3)


@pytest.mark.parametrize(
    ("text", "family", "roles"),
    [
        ("46 gallons in the fresh and we use 4 an hour, how long will it last", "water", ["level", "rate"]),
        ("from a spigot that gives 5 gallons a minute i need 61 gallons, minutes?", "water", ["rate", "add"]),
        ("31 lb of propane and a 20,000 btu furnace on 40 percent of the time, how many hours", "propane", ["left", "burner", "duty"]),
        ("tires set to 105 psi at 60 degrees, what do they read at 12 below", "tires", ["at_first", "set_at", "then_at"]),
        ("260 miles at 52 mph, leaving at 7 am, when are we there", "road", ["distance", "speed", "start"]),
    ],
)  # fmt: skip
def test_plain_questions_are_read_as_meant(network: RoleNetwork, text: str, family: str, roles: list[str]):
    handed = network.hand_out(read_question(text))
    assert max(handed.families, key=handed.families.__getitem__) == family
    found = []
    for chances in handed.roles:
        own = {role: chance for role, chance in chances.items() if role.startswith(f"{family}.")}
        found.append(max(own, key=own.__getitem__).partition(".")[2])
    assert found == roles


@pytest.mark.parametrize("text", ["remind me in 25 minutes", "step 6 again please", "the two rear bunks are cold", "added 35 gallons"])  # fmt: skip
def test_what_is_no_sum_is_none(network: RoleNetwork, text: str):
    handed = network.hand_out(read_question(text))
    assert max(handed.families, key=handed.families.__getitem__) == NO_SUM


def test_it_is_small(knowledge_folder: Path):
    assert (knowledge_folder / "roles.npz").stat().st_size < 5_000_000


def test_a_damaged_file_is_named(tmp_path: Path, encoder: Encoder):
    broken = tmp_path / "roles.npz"
    broken.write_bytes(b"not weights")
    with pytest.raises(FileProblem, match=r"roles\.npz"):
        RoleNetwork(broken, encoder)


def test_kinds_of_units():
    assert [kind_of_unit(unit) for unit in ("h", "fl oz", "gal/h", "people", "percent")] == ["time", "volume", "volume/time", "count", "share"]  # fmt: skip


def test_weights_are_finite(knowledge_folder: Path):
    with np.load(knowledge_folder / "roles.npz") as stored:
        assert all(np.isfinite(stored[name]).all() for name in stored.files if stored[name].dtype.kind == "f")
