"""A sentence as a short vector, by a small transformer that runs on numpy alone.

The weights are the first layers of all-MiniLM-L6-v2 (Apache-2.0), fine-tuned on the knowledge's own
wordings and stored as 8-bit integers by `tests/bench/train_encoder.py`. The packaged tokenizer library
would bring a network client into an offline tool, so the greedy word-piece rule is written out here; a
test holds it against that library.
"""

from __future__ import annotations

import unicodedata
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from cabassist.errors import FileProblem

Floats = NDArray[np.float32]
MAX_PIECES = 48
_HEADS = 12
_EPSILON = np.float32(1e-12)


@dataclass(frozen=True)
class _Layer:
    """One layer's weights, each with an output a row, and its biases as columns."""

    ask: Floats
    """Queries, keys and values below each other; the queries are divided by the root of a head's width."""
    ask_bias: Floats
    o: Floats
    o_bias: Floats
    up: Floats
    up_bias: Floats
    down: Floats
    down_bias: Floats
    n1: Floats
    n1_bias: Floats
    n2: Floats
    n2_bias: Floats


class Transformer:
    """Layers over word pieces; what a whole text, or a part of it, comes to is made of its states."""

    def __init__(self, parts: Mapping[str, NDArray[Any]], words: NDArray[np.int8], words_scale: Floats) -> None:
        """Take the weights of the layers; those of the word pieces may be another network's as well."""
        self.words, self.words_scale = words, words_scale
        self._places = parts["places"].astype(np.float32)
        self._start, self._start_bias = _column(parts["start_weight"]), _column(parts["start_bias"])
        self._layers = [_layer(parts, number) for number in range(sum(1 for name in parts if name.endswith("_q")))]

    def states(self, rows: list[list[int]]) -> tuple[Floats, Floats]:
        """The states of texts given as ids of their pieces: shape (width, texts, longest), and which of them are pieces.

        Within, a word piece is a column: products with few columns are quicker than with few rows.
        """
        count, longest = len(rows), max(map(len, rows))
        ids = np.array([row + [0] * (longest - len(row)) for row in rows])
        mask = np.array([[1.0] * len(row) + [0.0] * (longest - len(row)) for row in rows], np.float32)
        blocked = ((1 - mask) * np.float32(-1e9))[:, None, None, :]
        begin = self.words[ids].astype(np.float32) * self.words_scale[ids] + self._places[:longest]
        hidden = np.ascontiguousarray(begin.reshape(count * longest, -1).T)
        _norm(hidden, self._start, self._start_bias)
        for layer in self._layers:
            asked = layer.ask @ hidden
            asked += layer.ask_bias
            query, key, value = asked.reshape(3, _HEADS, -1, count, longest).transpose(0, 3, 1, 2, 4)
            score = query.swapaxes(-1, -2) @ key
            score += blocked
            score -= score.max(-1, keepdims=True)
            np.exp(score, out=score)
            score /= score.sum(-1, keepdims=True)
            mixed = (value @ score.swapaxes(-1, -2)).transpose(1, 2, 0, 3).reshape(-1, count * longest)
            hidden += layer.o @ mixed
            hidden += layer.o_bias
            _norm(hidden, layer.n1, layer.n1_bias)
            inner = layer.up @ hidden
            inner += layer.up_bias
            hidden += layer.down @ _gelu(inner)
            hidden += layer.down_bias
            _norm(hidden, layer.n2, layer.n2_bias)
        return hidden.reshape(-1, count, longest), mask


def read_parts(path: Path, what: str) -> dict[str, NDArray[Any]]:
    """The arrays of a file of weights. Raises FileProblem when it is missing or damaged."""
    try:
        with np.load(path, allow_pickle=False) as stored:
            return {name: stored[name] for name in stored.files}
    except (OSError, ValueError, EOFError, zipfile.BadZipFile) as error:
        raise FileProblem(path, f"is no sound {what} ({error}).", "Install cabassist again.") from None


class Encoder:
    """Turns texts into unit vectors; near texts have a dot product near 1."""

    def __init__(self, path: Path) -> None:
        """Read the weights. Raises FileProblem when the file is missing or damaged."""
        parts = read_parts(path, "encoder")
        self.pieces = {piece: i for i, piece in enumerate(str(parts["pieces"]).split("\n"))}
        self.classes: list[str] = str(parts["classes"]).split("\n")
        self.proxies: Floats = parts["proxies"].astype(np.float32)
        self.net = Transformer(parts, parts["words"], parts["words_scale"].astype(np.float32))
        self._project = parts["project"].astype(np.float32)
        self._project_bias = parts["project_bias"].astype(np.float32)
        self.size = len(self._project)

    def word_pieces(self, text: str) -> list[int]:
        """Ids of the pieces of a text, start and end marks included, at most MAX_PIECES."""
        return [self.pieces["[CLS]"], *self.all_pieces(text, MAX_PIECES - 2), self.pieces["[SEP]"]]

    def all_pieces(self, text: str, most: int | None = None) -> list[int]:
        """Ids of the pieces of a text, the first `most` of them, without marks."""
        plain = unicodedata.normalize("NFD", text.lower().replace("’", "'"))
        kept = (c for c in plain if unicodedata.category(c) not in ("Mn", "Cc", "Cf", "Co"))
        spaced = "".join(f" {c} " if _stands_alone(c) else c for c in kept)
        ids: list[int] = []
        for word in spaced.split():
            ids += self.split(word)
            if most is not None and len(ids) >= most:
                break
        return ids[:most]

    def split(self, word: str) -> list[int]:
        """Ids of the pieces of one word."""
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
        return np.asarray(self.net.words[ids].astype(np.float32) * self.net.words_scale[ids], np.float32)

    def encode(self, texts: list[str]) -> Floats:
        """One unit vector a text: shape (len(texts), size)."""
        out = np.zeros((len(texts), self.size), np.float32)
        order = sorted(range(len(texts)), key=lambda i: len(texts[i]))
        for start in range(0, len(order), 64):
            chosen = order[start : start + 64]
            out[chosen] = self._batch([self.word_pieces(texts[i]) for i in chosen])
        return out

    def _batch(self, rows: list[list[int]]) -> Floats:
        """The vectors of texts given as ids."""
        states, mask = self.net.states(rows)
        mean = (states * mask).sum(-1).T / mask.sum(1, keepdims=True)
        vector = mean @ self._project.T + self._project_bias
        return np.asarray(vector / np.linalg.norm(vector, axis=1, keepdims=True), np.float32)


def _layer(parts: Mapping[str, NDArray[Any]], number: int) -> _Layer:
    def whole(name: str) -> Floats:
        stored = parts[f"{number}_{name}"]
        made = np.empty(stored.shape[::-1], np.float32)
        np.multiply(stored.T, parts[f"{number}_{name}_scale"].astype(np.float32)[:, None], out=made)
        return made

    def column(name: str) -> Floats:
        return _column(parts[f"{number}_{name}"])

    ask, bias = np.concatenate([whole(p) for p in "qkv"]), np.concatenate([column(f"{p}_bias") for p in "qkv"])
    width = ask.shape[1]
    for part in (ask, bias):
        part[:width] /= np.float32((width // _HEADS) ** 0.5)
    return _Layer(
        ask,
        bias,
        *(part for name in ("o", "up", "down") for part in (whole(name), column(f"{name}_bias"))),
        *(column(name) for name in ("n1", "n1_bias", "n2", "n2_bias")),
    )


def _column(stored: NDArray[Any]) -> Floats:
    return stored.astype(np.float32)[:, None]


def _norm(hidden: Floats, weight: Floats, bias: Floats) -> None:
    """Layer norm of each column, in place."""
    hidden -= hidden.mean(0)
    spread = np.sqrt(np.einsum("wn,wn->n", hidden, hidden) / np.float32(len(hidden)) + _EPSILON)
    hidden /= spread
    hidden *= weight
    hidden += bias


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
