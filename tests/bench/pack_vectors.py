"""Renew `knowledge/vectors.npz`, the vectors of every wording, after wordings were added or changed."""

from __future__ import annotations

from pathlib import Path

from cabassist.language.encoder import Encoder
from cabassist.language.matching import pack_vectors
from cabassist.procedures.library import compile_knowledge, knowledge_files

KNOWLEDGE = Path(__file__).parents[2] / "knowledge"


def main() -> None:
    texts = [text for text, _ in compile_knowledge(KNOWLEDGE, knowledge_files(KNOWLEDGE))["phrases"]]
    path = KNOWLEDGE / "vectors.npz"
    pack_vectors(texts, Encoder(KNOWLEDGE / "encoder.npz"), path)
    print(f"{path}: {len(set(texts))} wordings, {path.stat().st_size / 1e6:.1f} MB")


if __name__ == "__main__":
    main()
