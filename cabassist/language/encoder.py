"""A sentence as a short vector, by a small transformer that runs on numpy alone.

The weights are the first layers of all-MiniLM-L6-v2 (Apache-2.0), fine-tuned on the knowledge's own
wordings and stored as 8-bit integers by `tests/bench/train_encoder.py`. The packaged tokenizer library
would bring a network client into an offline tool, so the greedy word-piece rule is written out here; a
test holds it against that library.
"""

from __future__ import annotations

import unicodedata
import zipfile
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from cabassist.errors import FileProblem

Floats = NDArray[np.float32]
MAX_PIECES = 48
_HEADS = 12
_EPSILON = np.float32(1e-12)


class Encoder:
    """Turns texts into unit vectors; near texts have a dot product near 1."""

    def __init__(self, path: Path) -> None:
        """Read the weights. Raises FileProblem when the file is missing or damaged."""
        try:
            with np.load(path, allow_pickle=False) as stored:
                parts = {name: stored[name] for name in stored.files}
        except (OSError, ValueError, EOFError, zipfile.BadZipFile) as error:
            raise FileProblem(path, f"is no sound encoder ({error}).", "Install cabassist again.") from None
        self.pieces = {piece: i for i, piece in enumerate(str(parts["pieces"]).split("\n"))}
        self.classes: list[str] = str(parts["classes"]).split("\n")
        self.proxies: Floats = parts["proxies"].astype(np.float32)
        self._words = parts["words"]
        self._words_scale = parts["words_scale"].astype(np.float32)
        self._places = parts["places"].astype(np.float32)
        self._weights: dict[str, Any] = {}
        for name, value in parts.items():
            if value.dtype == np.int8 and name != "words":
                self._weights[name] = value.astype(np.float32)
                self._weights[name + "_scale"] = parts[name + "_scale"].astype(np.float32)
            elif value.dtype == np.float16 and not name.endswith("_scale"):
                self._weights[name] = value.astype(np.float32)
        self._layers = sum(1 for name in parts if name.endswith("_q"))
        self.size = int(parts["project"].shape[0])

    def word_pieces(self, text: str) -> list[int]:
        """Ids of the pieces of a text, start and end marks included, at most MAX_PIECES."""
        plain = unicodedata.normalize("NFD", text.lower().replace("’", "'"))
        kept = (c for c in plain if unicodedata.category(c) not in ("Mn", "Cc", "Cf", "Co"))
        spaced = "".join(f" {c} " if _stands_alone(c) else c for c in kept)
        ids: list[int] = []
        for word in spaced.split():
            ids += self._split(word)
            if len(ids) >= MAX_PIECES - 2:
                break
        return [self.pieces["[CLS]"], *ids[: MAX_PIECES - 2], self.pieces["[SEP]"]]

    def _split(self, word: str) -> list[int]:
        if len(word) > 40:
            return [self.pieces["[UNK]"]]
        found: list[int] = []
        start = 0
        while start < len(word):
            for end in range(len(word), start, -1):
                piece = ("##" if start else "") + word[start:end]
                if piece in self.pieces:
                    found.append(self.pieces[piece])
                    start = end
                    break
            else:
                return [self.pieces["[UNK]"]]
        return found

    def alone(self, ids: list[int]) -> Floats:
        """The vectors of word pieces by themselves, before a sentence is made of them: shape (len(ids), width)."""
        return np.asarray(self._words[ids].astype(np.float32) * self._words_scale[ids], np.float32)

    def encode(self, texts: list[str]) -> Floats:
        """One unit vector a text: shape (len(texts), size)."""
        out = np.zeros((len(texts), self.size), np.float32)
        order = sorted(range(len(texts)), key=lambda i: len(texts[i]))
        for start in range(0, len(order), 64):
            chosen = order[start : start + 64]
            out[chosen] = self._batch([self.word_pieces(texts[i]) for i in chosen])
        return out

    def _batch(self, rows: list[list[int]]) -> Floats:
        longest = max(map(len, rows))
        ids = np.array([row + [0] * (longest - len(row)) for row in rows])
        mask = np.array([[1.0] * len(row) + [0.0] * (longest - len(row)) for row in rows], np.float32)
        hidden = self._words[ids].astype(np.float32) * self._words_scale[ids] + self._places[:longest]
        hidden = self._norm(hidden, "start_weight", "start_bias")
        blocked = ((1 - mask) * np.float32(-1e9))[:, None, None, :]
        for layer in range(self._layers):
            hidden = self._layer(hidden, blocked, str(layer))
        mean = (hidden * mask[:, :, None]).sum(1) / mask.sum(1, keepdims=True)
        vector = mean @ self._weights["project"].T + self._weights["project_bias"]
        return np.asarray(vector / np.linalg.norm(vector, axis=1, keepdims=True), np.float32)

    def _layer(self, hidden: Floats, blocked: Floats, layer: str) -> Floats:
        rows, length, width = hidden.shape
        split = (rows, length, _HEADS, width // _HEADS)
        query, key, value = (self._linear(hidden, layer, part).reshape(split).transpose(0, 2, 1, 3) for part in "qkv")
        score = query @ key.transpose(0, 1, 3, 2) / np.float32((width // _HEADS) ** 0.5) + blocked
        score = np.exp(score - score.max(-1, keepdims=True))
        score /= score.sum(-1, keepdims=True)
        mixed = (score @ value).transpose(0, 2, 1, 3).reshape(rows, length, width)
        hidden = self._norm(hidden + self._linear(mixed, layer, "o"), f"{layer}_n1", f"{layer}_n1_bias")
        inner = _gelu(self._linear(hidden, layer, "up"))
        return self._norm(hidden + self._linear(inner, layer, "down"), f"{layer}_n2", f"{layer}_n2_bias")

    def _linear(self, hidden: Floats, layer: str, part: str) -> Floats:
        weights = self._weights
        name = f"{layer}_{part}"
        rows, length, width = hidden.shape
        made = hidden.reshape(rows * length, width) @ weights[name]  # one large product is faster than one a row
        made *= weights[name + "_scale"]
        made += weights[name + "_bias"]
        return np.asarray(made.reshape(rows, length, -1))

    def _norm(self, hidden: Floats, weight: str, bias: str) -> Floats:
        centered = hidden - hidden.mean(-1, keepdims=True)
        spread = np.sqrt(np.einsum("rlw,rlw->rl", centered, centered)[:, :, None] / hidden.shape[-1] + _EPSILON)
        centered /= spread
        centered *= self._weights[weight]
        centered += self._weights[bias]
        return np.asarray(centered)


def _stands_alone(c: str) -> bool:
    """Whether a character is a word of its own: punctuation, ASCII symbols and Chinese characters, as BERT splits."""
    if c.isascii():
        return not c.isalnum() and not c.isspace()
    return unicodedata.category(c).startswith("P") or 0x3400 <= ord(c) <= 0x9FFF


def _gelu(x: Floats) -> Floats:
    """Gaussian error linear unit by the logistic form of the error function.

    Source: Hendrycks and Gimpel, "Gaussian error linear units" (2016), tanh form, error below 1e-3.
    """
    inner = x * x  # in place from here on: the arrays are large, and making them anew is what takes the time
    inner *= np.float32(0.044715 * 0.7978845608)
    inner += np.float32(0.7978845608)
    inner *= x
    np.tanh(inner, out=inner)
    inner += 1
    inner *= x
    inner *= np.float32(0.5)
    return inner
