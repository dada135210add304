"""Whether what a driver says at a step tells that the step is done: a small transformer over the words said and the words of the step.

A step can be told done in more ways than patterns can hold: "it hissed and then went quiet" at a cap. The network reads both
sides at once, so it serves steps that it has never seen too. It shares the word pieces of the matcher's encoder and goes on
from its layers; `tests/bench/train_reports.py` trains it on the lines of `knowledge/reports/`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np

from cabassist.language.encoder import Encoder, Floats, Transformer, read_parts

MOST_SAID, MOST_STEP = 40, 53
"""Word pieces that are read of what is said and of a step, without the marks."""
MOST_PIECES = MOST_SAID + MOST_STEP + 3
ACTS = ("report", "trouble", "asks", "command", "aside")
"""What somebody does by saying something: tells work done or how things stand; tells trouble or what is not done yet; asks or
wishes for something; steers the walk; speaks to somebody else."""

RISKS = ("danger", "wish")
"""What may be told at a step besides: a danger that is there now, an unsafe wish. Brown water through the hose is none where that is looked for."""


@dataclass(frozen=True)
class Told:
    """What is said at a step: the chances that it tells the step done, of a danger and of an unsafe wish, and how likely each of ACTS is, 0 to 1."""

    done: float
    acts: dict[str, float]
    danger: float
    wish: float

    @property
    def act(self) -> str:
        """The likeliest act."""
        return max(self.acts, key=self.acts.__getitem__)


class ReportNetwork:
    """Judges what is said at steps."""

    def __init__(self, path: Path, encoder: Encoder) -> None:
        """Read the weights. Raises FileProblem when the file is missing or damaged."""
        parts = read_parts(path, "report network")
        self._encoder = encoder
        self._net = Transformer(parts, encoder.net.words, encoder.net.words_scale)
        self._done, self._done_bias = parts["done"].astype(np.float32), parts["done_bias"].astype(np.float32)
        self._act, self._act_bias = parts["act"].astype(np.float32), parts["act_bias"].astype(np.float32)
        self._risk, self._risk_bias = parts["risk"].astype(np.float32), parts["risk_bias"].astype(np.float32)
        self._judged = lru_cache(maxsize=256)(self._judge)  # one turn may ask more than once

    def judge(self, said: str, steps: Sequence[str]) -> tuple[Told, ...]:
        """What a text tells of each of these steps, given as they are said to the driver."""
        return self._judged(said, tuple(steps))

    def _judge(self, said: str, steps: tuple[str, ...]) -> tuple[Told, ...]:
        pairs = [paired(self._encoder, said, step) for step in steps]
        states, _ = self._net.states([ids for ids, _ in pairs])
        found = []
        for at, (ids, split) in enumerate(pairs):
            state = states[:, at, : len(ids)]
            spoken = state[:, :split]
            pooled = np.concatenate([spoken.mean(1), spoken.max(1), state[:, split:].mean(1)])
            acts = self._act @ pooled + self._act_bias
            acts = np.exp(acts - acts.max())
            done = _chances(self._done @ pooled + self._done_bias)
            danger, wish = map(float, _chances(self._risk @ pooled + self._risk_bias))
            found.append(
                Told(float(done[0]), dict(zip(ACTS, map(float, acts / acts.sum()), strict=True)), danger, wish)
            )
        return tuple(found)


def _chances(scores: Floats) -> Floats:
    return np.asarray(1 / (1 + np.exp(-scores)), np.float32)


def paired(encoder: Encoder, said: str, step: str) -> tuple[list[int], int]:
    """Ids of the pieces of what is said and of a step, with marks; and where the step begins."""
    start, end = encoder.pieces["[CLS]"], encoder.pieces["[SEP]"]
    first = [start, *encoder.all_pieces(said, MOST_SAID), end]
    return [*first, *encoder.all_pieces(step, MOST_STEP), end], len(first)


def words_of_step(do: str, done_when: str | None) -> str:
    """A step as the network reads it: what to do, and how it is known to be done."""
    return f"{do} {done_when}" if done_when else do
