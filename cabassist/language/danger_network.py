"""Whether a text reports a danger that is there now, and whether it wishes for something unsafe: a small transformer over its words.

It shares the word pieces of the matcher's encoder and goes on from its layers; `tests/bench/train_dangers.py` trains it on
the wordings of hazards, of harmless lines beside them and of unsafe wishes. The matcher asks what a text is about; the
network only whether something is wrong, which is a matter of who does what when, and not of the words alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from cabassist.language.encoder import Encoder, Floats, Transformer, read_parts

MOST_PIECES = 96
"""Word pieces that are read at once, start and end marks included."""
_KINDS = 3
"""Wishes that are told of a text."""
WISH = "wish"
"""The label of what wishes for something unsafe or illegal; all others are dangers."""


@dataclass(frozen=True)
class Judged:
    """How likely a text reports each danger, and how likely it wishes for something unsafe, 0 to 1 each."""

    dangers: dict[str, float]
    wish: float
    which: tuple[tuple[str, float], ...] = ()
    """The wishes that it is likeliest to be, best first, each with how likely it is that one, should it be any."""

    @property
    def danger(self) -> float:
        """That any danger is reported, as likely as the likeliest."""
        return max(self.dangers.values(), default=0.0)

    @property
    def worst(self) -> str:
        """The likeliest danger."""
        return max(self.dangers, key=self.dangers.__getitem__)


class DangerNetwork:
    """Judges texts."""

    def __init__(self, path: Path, encoder: Encoder) -> None:
        """Read the weights. Raises FileProblem when the file is missing or damaged."""
        parts = read_parts(path, "danger network")
        self._encoder = encoder
        self._net = Transformer(parts, encoder.net.words, encoder.net.words_scale)
        self.labels: list[str] = str(parts["labels"]).split("\n")
        self.wishes: list[str] = str(parts["wishes"]).split("\n")
        self._weight, self._bias = parts["label"].astype(np.float32), parts["label_bias"].astype(np.float32)
        self._which, self._which_bias = parts["which"].astype(np.float32), parts["which_bias"].astype(np.float32)

    def judge(self, text: str) -> Judged:
        """What the network makes of a text. Of a long one each part is judged, and the worst counts."""
        parts = [self._judged(ids) for ids in parted(self._encoder, text)]
        worst = max(parts, key=lambda part: part[0][self.labels.index(WISH)])
        found = dict(zip(self.labels, map(float, np.max([chances for chances, _ in parts], axis=0)), strict=True))
        best = np.argsort(-worst[1])[:_KINDS]
        return Judged(found, found.pop(WISH), tuple((self.wishes[i], float(worst[1][i])) for i in best))

    def _judged(self, ids: list[int]) -> tuple[Floats, Floats]:
        """The chances of the labels and of the wishes."""
        states, _ = self._net.states([ids])
        said = np.concatenate([states[:, 0].mean(1), states[:, 0].max(1)])
        kinds = self._which @ said + self._which_bias
        kinds = np.exp(kinds - kinds.max())
        return np.asarray(1 / (1 + np.exp(-(self._weight @ said + self._bias))), np.float32), kinds / kinds.sum()


def parted(encoder: Encoder, text: str) -> list[list[int]]:
    """Ids of the pieces of a text, start and end marks included; of a long text in parts that overlap by half."""
    ids = encoder.all_pieces(text)
    room = MOST_PIECES - 2
    starts = range(0, max(1, len(ids) - room // 2), room // 2) if len(ids) > room else range(1)
    return [[encoder.pieces["[CLS]"], *ids[at : at + room], encoder.pieces["[SEP]"]] for at in starts]
