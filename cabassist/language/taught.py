"""How a trainer's wordings bear on what a text means.

A text that is one of them means what the trainer said; the less it is like one, the less they count. It must be like it in
its vector and in its words: questions without an answer lie close together as vectors, whatever they are about. What a
wording may never do is take weight from a hazard or an unsafe wish, so none can talk the assistant out of a warning.
"""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from cabassist.language.encoder import Floats
from cabassist.language.matching import UNLIKE, Matcher, Ranking, likeness, vectors_for
from cabassist.language.normalise import bare
from cabassist.procedures.layer import Layer
from cabassist.procedures.library import write_cache


@dataclass(frozen=True)
class Taught:
    """A trainer's wordings, their topics and their unit vectors, one row a wording."""

    wordings: tuple[tuple[str, str], ...]
    vectors: Floats

    def nearest(self, text: str, vector: Floats) -> tuple[str, float]:
        """The topic of the wording that counts most for this text, and how much, 0 to 1."""
        near = self.vectors @ vector
        said, best, most = bare(text), "", 0.0
        for index in np.flatnonzero(near > UNLIKE):
            wording, topic = self.wordings[index]
            weight = likeness(float(near[index]), said, wording)
            if weight > most:
                best, most = topic, weight
        return best, most


class TaughtMatcher(Matcher):
    """A matcher that knows a trainer's wordings too. It shares everything else with the one it is made from."""

    def __init__(self, base: Matcher, taught: Taught) -> None:
        self.__dict__.update(base.__dict__)
        self.base, self.taught = base, taught

    def _ranked(self, text: str, vector: Floats) -> Ranking:
        ranking = super()._ranked(text, vector)
        topic, weight = self.taught.nearest(text, vector)
        return ranking if weight == 0.0 else self.moved(ranking, topic, weight)


def with_taught(base: Matcher, layer: Layer, cache: Path | None) -> Matcher:
    """The matcher with a layer's wordings; their vectors are computed once and kept in the cache."""
    if not layer.wordings:
        return base
    shape = (len(layer.wordings), base.encoder.size)
    kept = cache / f"taught-{layer.fingerprint}-{base.encoder.size}.npz" if cache else None
    if kept is not None and kept.exists():
        try:
            with np.load(kept, allow_pickle=False) as stored:
                vectors = stored["vectors"].astype(np.float32)
            if vectors.shape == shape:
                return TaughtMatcher(base, Taught(layer.wordings, vectors))
        except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
            pass  # a damaged copy is simply made again
    vectors = vectors_for([text for text, _ in layer.wordings], base.encoder, {})
    if kept is not None:
        body = io.BytesIO()
        np.savez(body, vectors=vectors)
        write_cache(kept, body.getvalue(), "taught-*.npz")
    return TaughtMatcher(base, Taught(layer.wordings, vectors))
