"""How a trainer's wordings bear on what a text means.

A text that is one of them means what the trainer said; the less it is like one, the less they count. It must be like it in
its vector and in its words: questions without an answer lie close together as vectors, whatever they are about. What a
wording may never do is take weight from a hazard or an unsafe wish, so none can talk the assistant out of a warning.
"""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from cabassist.language.encoder import Floats
from cabassist.language.matching import Matcher, Ranking, vectors_for
from cabassist.language.normalise import bare
from cabassist.procedures.layer import Layer
from cabassist.procedures.library import write_cache

UNLIKE, SAME = 0.80, 0.94
"""Cosines between which a wording's say grows from nothing to all."""
OTHER_WORDS, SAME_WORDS = 65.0, 88.0
"""The same for the likeness of the words, 0 to 100, their order left aside."""


@dataclass(frozen=True)
class Taught:
    """A trainer's wordings, their topics and their unit vectors, one row a wording."""

    wordings: tuple[tuple[str, str], ...]
    vectors: Floats

    def nearest(self, text: str, vector: Floats) -> tuple[str, float]:
        """The topic of the wording that counts most for this text, and how much, 0 to 1."""
        from rapidfuzz import fuzz

        near = self.vectors @ vector
        said, best, most = bare(text), "", 0.0
        for index in np.flatnonzero(near > UNLIKE):
            wording, topic = self.wordings[index]
            words = fuzz.token_sort_ratio(said, bare(wording))
            weight = _between(float(near[index]), UNLIKE, SAME) * _between(words, OTHER_WORDS, SAME_WORDS)
            if weight > most:
                best, most = topic, weight
        return best, most


def _between(value: float, low: float, high: float) -> float:
    return min(1.0, max(0.0, (value - low) / (high - low)))


class TaughtMatcher(Matcher):
    """A matcher that knows a trainer's wordings too. It shares everything else with the one it is made from."""

    def __init__(self, base: Matcher, taught: Taught) -> None:
        self.__dict__.update(base.__dict__)
        self.base, self.taught = base, taught

    def _ranked(self, text: str, vector: Floats) -> Ranking:
        ranking = super()._ranked(text, vector)
        topic, weight = self.taught.nearest(text, vector)
        return ranking if weight == 0.0 else self._moved(ranking, topic, weight)

    def _moved(self, ranking: Ranking, topic: str, weight: float) -> Ranking:
        """The ranking with `weight` of what may be moved given to the topic."""
        hazards = {self.labels[i] for i in self._hazards}
        warns = topic in hazards
        # only what is no warning may be moved, unless the trainer's topic is itself a hazard
        gain = weight * (1.0 - ranking.wish - (0.0 if warns else ranking.hazard))
        keep = 1.0 - weight
        chance = {name: value if name in hazards and not warns else value * keep for name, value in ranking.procedures}
        chance[topic] = chance.get(topic, 0.0) + gain
        return replace(
            ranking,
            procedures=tuple(sorted(chance.items(), key=lambda row: -row[1])[:10]),
            calculations=tuple((name, value * keep) for name, value in ranking.calculations),
            work_out=ranking.work_out * keep,
            telling=ranking.telling * keep,
            defect=ranking.defect * keep,
            out_of_scope=ranking.out_of_scope * keep,
            ambiguous=ranking.ambiguous * keep,
            hazard=ranking.hazard * keep + gain if warns else ranking.hazard,
            fit=max(ranking.fit, 2.0 * weight),
        )


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
