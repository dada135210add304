"""What each amount of a sum is for, which family of sums it is, and what is wanted: a small transformer over the words of the question.

It shares the word pieces of the matcher's encoder and goes on from its layers; `tests/bench/train_roles.py` trains it on the
marked wordings under `knowledge/roles/`. An amount is shown to it as a number with its unit, whatever words it was said in.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.encoder import Encoder, Floats, Transformer, read_parts

MOST_PIECES = 128
NO_SUM = "-"
"""The family of questions that are none of these sums."""
_KINDS = {
    "time": "s min h day days week weeks month months", "volume": "gal L qt pt fl_oz cup cups mL tbsp tsp drop drops", "mass": "lb kg ton oz", "share": "percent fraction",
    "length": "in ft m cm mm yd 1/32_in 32nds", "distance": "mi km", "speed": "mph km/h", "mileage": "mpg mi/gal", "consumption": "L/100_km", "energy": "BTU", "power": "BTU/h", "strength": "mg/L ppm", "current": "A", "watts": "W kW",
    "volts": "V", "charge": "Ah", "pressure": "psi kPa bar", "temperature": "F C", "volume/time": "gal/h gal/day gal/min L/min L/h L/day", "mass/time": "lb/h lb/day", "share/time": "percent/h percent/day",
}  # fmt: skip
_KIND_OF = {unit.replace("_", " "): kind for kind, units in _KINDS.items() for unit in units.split()}


def kind_of_unit(unit: str) -> str:
    """What a unit measures, as the network tells what is wanted: "time" for h; "count" for things and people."""
    return _KIND_OF.get(unit, "count")


_UNITS = {"n": "", "temp": "degrees", "part": "share", "clock": "o'clock"}


@dataclass(frozen=True)
class Handed:
    """How likely each family is, each kind of answer, and for each amount each role, as logarithms."""

    families: dict[str, float]
    wanted: dict[str, float]
    """For each kind of answer: a kind of unit, "clock", "yes-no", or "word" for which of two."""
    roles: tuple[dict[str, float], ...]
    """For each amount of the question, "family.role"; to be compared within one family only."""

    def role(self, family: str, name: str, place: int) -> float:
        """The logarithm of the chance that the amount at a place has this role, given the family."""
        return self.roles[place].get(f"{family}.{name}", _NEVER)


_NEVER = -12.0
"""For a role that no wording has."""


def shown(amount: Amount) -> str:
    """An amount as the network reads it: "4.5 gal / min"."""
    parts = amount.tag.split("/")
    return f"{amount.value:.4g} {' / '.join(_UNITS.get(part, part) for part in parts)}".strip()


def laid_out(words: tuple[str, ...], amounts: tuple[Amount, ...]) -> tuple[list[str], list[tuple[int, int]]]:
    """The words that the network reads, and from which to which each amount stands."""
    found: list[str] = []
    spans: list[tuple[int, int]] = []
    at = 0
    for amount in amounts:
        found += words[at : amount.start]
        begun = len(found)
        found += shown(amount).split()
        spans.append((begun, len(found)))
        at = amount.end
    return [*found, *words[at:]], spans


def pieces_of(encoder: Encoder, words: list[str], spans: list[tuple[int, int]]) -> tuple[list[int], list[tuple[int, int]]]:  # fmt: skip
    """Ids of the pieces of these words, start and end marks included, and the spans in them."""
    ids = [encoder.pieces["[CLS]"]]
    starts = []
    for word in words:
        starts.append(len(ids))
        ids += encoder.word_pieces(word)[1:-1]
    starts.append(len(ids))
    inside = [(min(starts[a], MOST_PIECES - 2), min(starts[b], MOST_PIECES - 1)) for a, b in spans]
    return [*ids[: MOST_PIECES - 1], encoder.pieces["[SEP]"]], inside


class RoleNetwork:
    """Hands out the roles of a question's amounts."""

    def __init__(self, path: Path, encoder: Encoder) -> None:
        """Read the weights. Raises FileProblem when the file is missing or damaged."""
        parts = read_parts(path, "role network")
        self._encoder = encoder
        self._net = Transformer(parts, encoder.net.words, encoder.net.words_scale)
        self.families: list[str] = str(parts["families"]).split("\n")
        self.roles: list[str] = str(parts["roles"]).split("\n")
        self._family, self._family_bias = parts["family"].astype(np.float32), parts["family_bias"].astype(np.float32)
        self.kinds: list[str] = str(parts["kinds"]).split("\n")
        self._kind, self._kind_bias = parts["kind"].astype(np.float32), parts["kind_bias"].astype(np.float32)
        self._role, self._role_bias = parts["role"].astype(np.float32), parts["role_bias"].astype(np.float32)
        of = np.array([role.partition(".")[0] for role in self.roles])
        self._parted = [np.flatnonzero(of == family) for family in self.families]
        self._handed = lru_cache(maxsize=64)(self._hand_out)  # one turn may ask more than once

    def hand_out(self, question: Question) -> Handed:
        """What the network makes of a question."""
        return self._handed(tuple(question.words), tuple(question.amounts))

    def _hand_out(self, words: tuple[str, ...], amounts: tuple[Amount, ...]) -> Handed:
        ids, spans = pieces_of(self._encoder, *laid_out(words, amounts))
        states, _ = self._net.states([ids])
        whole = states[:, 0].mean(1)
        families = _log_share(self._family @ whole + self._family_bias)
        given = []
        for start, end in spans:
            logits = self._role @ np.concatenate([states[:, 0, start:end].mean(1), whole]) + self._role_bias
            chances: dict[str, float] = {}
            for places in self._parted:
                chances.update(
                    zip([self.roles[i] for i in places], map(float, _log_share(logits[places])), strict=True)
                )
            given.append(chances)
        kinds = _log_share(self._kind @ whole + self._kind_bias)
        return Handed(
            dict(zip(self.families, map(float, families), strict=True)),
            dict(zip(self.kinds, map(float, kinds), strict=True)),
            tuple(given),
        )


def _log_share(logits: Floats) -> Floats:
    if not len(logits):
        return logits
    top = logits - logits.max()
    return np.asarray(top - np.log(np.exp(top).sum()), np.float32)
