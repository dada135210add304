"""Renew `knowledge/vectors.npz`, the vectors of every wording, after wordings were added or changed."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from functools import cache
from pathlib import Path

# isort: off
import cabassist  # noqa: F401 - before numpy: it says how many threads numpy takes
import numpy as np

# isort: on
from cabassist.language.encoder import Encoder
from cabassist.language.matching import pack_vectors
from cabassist.procedures.library import compile_knowledge, knowledge_files

KNOWLEDGE = Path(__file__).parents[2] / "knowledge"
AT_ONCE = 1024


@cache
def encoder() -> Encoder:
    """The shipped encoder, once in each process."""
    return Encoder(KNOWLEDGE / "encoder.npz")


def part(texts: list[str]) -> np.ndarray:
    """Vectors of some texts."""
    return encoder().encode(texts)


def encode(texts: list[str]) -> np.ndarray:
    """Vectors of all texts, worked out on every core; texts of like length go together and waste little padding."""
    order = sorted(range(len(texts)), key=lambda i: len(texts[i]))
    parts = [order[start : start + AT_ONCE] for start in range(0, len(order), AT_ONCE)]
    out = np.zeros((len(texts), encoder().size), np.float32)
    with ProcessPoolExecutor() as pool:
        for chosen, vectors in zip(
            parts, pool.map(part, [[texts[i] for i in chosen] for chosen in parts]), strict=True
        ):
            out[chosen] = vectors
    return out


def main() -> None:
    texts = [text for text, _ in compile_knowledge(KNOWLEDGE, knowledge_files(KNOWLEDGE))["phrases"]]
    path = KNOWLEDGE / "vectors.npz"
    pack_vectors(texts, encode, path)
    print(f"{path}: {len(set(texts))} wordings, {path.stat().st_size / 1e6:.1f} MB")


if __name__ == "__main__":
    main()
