"""Which procedure a driver means, and how sure that is.

Each known wording is a unit vector (see `encoder`). A question is compared with the center of every
meaning and with its nearest wordings; the two opinions are joined as log probabilities. Meanings are
the procedures, the unsafe wishes, the calculations, readings told, defects reported, "nothing here answers
that" and "too vague to tell".
"""

from __future__ import annotations

import hashlib
import io
import json
import re
import zipfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from cabassist.language.encoder import Encoder, Floats
from cabassist.language.normalise import bare
from cabassist.procedures.library import (
    AMBIGUOUS,
    CALCULATION,
    DEFECT,
    OUT_OF_SCOPE,
    STEER,
    TELLING,
    WISH,
    Knowledge,
    write_cache,
)

Fixed = NDArray[np.int16]
_ONE = 32767
SHARPNESS = np.float32(20.0)
"""How fast likeness falls off; the encoder is trained with the same figure."""
NEIGHBOURS = 128
FLOOR = np.float32(1e-7)
FIT_NEIGHBOURS = 5
WORTH_COMPARING = 0.2
"""Probability of being vague from which on the nearest vague wording matters."""
LETTERS = 0.005
"""What one point of likeness in letters (0 to 100) is worth beside likeness in meaning."""
UNLIKE, SAME = 0.80, 0.94
"""Cosines between which a known wording's say grows from nothing to all."""
OTHER_WORDS, SAME_WORDS = 65.0, 88.0
"""The same for the likeness of the words, 0 to 100, their order left aside."""
_YOU = re.compile(r"\bhow (?:do|would|does|can|should) (?:you|ya|u|one|we|they)\b|\bhow d'(?:you|ya)\b")
"""Who asks how somebody does a thing wants to do it; left so, the words are too much like those of idle questions."""
COMPARED = 12
"""Nearest wordings whose words are compared."""
AXES = 40
"""Axes a first look compares. `tests/bench/train_encoder.py` turns the encoder so that these hold 92 % of what wordings differ in."""
LOOKED_AT = 2048
"""Wordings that are compared whole after the first look; with fewer, some of the NEIGHBOURS begin to be missed."""
LOOKED_AT_OF_KIND = 64
"""The same for the nearest few of one kind."""


@dataclass(frozen=True)
class _Near:
    """The wordings near a text."""

    rows: NDArray[np.int64]
    cosines: Floats
    """One for each row."""
    procedure: np.float32
    """Mean likeness of the nearest few wordings of procedures."""
    outside: np.float32
    """The same of those that nothing answers."""


@dataclass(frozen=True)
class Ranking:
    """What a text may mean. All figures are probabilities, 0 to 1.

    Those of steering, hazards and wishes are shares of all meanings; the others are shares of what is left without
    steering, which means something only while a walk is in hand.
    """

    procedures: tuple[tuple[str, float], ...]
    """The ten likeliest procedures, best first."""
    wishes: tuple[tuple[str, float], ...]
    """The three likeliest unsafe wishes, best first."""
    wish: float
    """That it is an unsafe wish at all."""
    calculations: tuple[tuple[str, float], ...]
    """The three likeliest calculations, best first."""
    work_out: float
    """That it asks for a calculation at all."""
    telling: float
    """That it only states readings."""
    defect: float
    """That it wants a defect recorded."""
    out_of_scope: float
    ambiguous: float
    hazard: float
    """That it reports any hazard."""
    fit: float
    """How near the best procedure is, less how near "nothing here answers that" is; about -2 to 2."""
    steering: tuple[tuple[str, float], ...] = ()
    """The three likeliest ways to steer a walk, best first."""
    vague_like: str = ""
    """The nearest vague wording, when the text is likely to be vague."""

    @property
    def best(self) -> str:
        """The likeliest procedure."""
        return self.procedures[0][0]


def key_of(text: str) -> int:
    """A stable 64-bit key of a wording."""
    return int.from_bytes(hashlib.blake2b(text.encode(), digest_size=8).digest(), "little")


class Matcher:
    """Ranks meanings for a text. Building one reads the shipped vectors; `rank` is pure."""

    def __init__(
        self,
        encoder: Encoder,
        fixed: Fixed,
        label_of: NDArray[np.int64],
        labels: list[str],
        vague: dict[int, str],
        hazards: frozenset[str],
        centers: Floats | None = None,
        *,
        texts: Callable[[], Sequence[str]],
    ) -> None:
        """`texts` gives the wordings, one for each row of `fixed`; they are fetched for the first question."""
        self.encoder = encoder
        self.fixed = fixed
        self.labels = labels
        self.label_of = label_of
        self.vague = vague
        self._texts_of = texts
        self.centers = self._made_centers() if centers is None else centers
        kinds = [_kind(label) for label in labels]
        self._of_kind = {
            kind: np.array([i for i, k in enumerate(kinds) if k == kind], np.int64) for kind in set(kinds) | _KINDS
        }
        self._is_procedure = np.isin(label_of, self._of_kind[""])
        self._of_procedures = np.flatnonzero(self._is_procedure)
        self._of_outside = np.flatnonzero(np.isin(label_of, self._of_kind[OUT_OF_SCOPE]))
        self._heads = in_floats(fixed[:, :AXES])
        self._hazards = np.array([i for i, label in enumerate(labels) if label in hazards], np.int64)

    @classmethod
    def of(cls, knowledge: Knowledge, encoder: Encoder, vectors: Floats) -> Matcher:
        """A matcher for all wordings of the knowledge; `vectors` has a row for each, in the same order."""
        labels = sorted({phrase.label for phrase in knowledge.phrases})
        place = {label: i for i, label in enumerate(labels)}
        label_of = np.array([place[phrase.label] for phrase in knowledge.phrases], np.int64)
        vague = {i: phrase.text for i, phrase in enumerate(knowledge.phrases) if phrase.label == AMBIGUOUS}
        texts = [phrase.text for phrase in knowledge.phrases]
        return cls(encoder, in_fixed(vectors), label_of, labels, vague, knowledge.hazards, texts=lambda: texts)

    @property
    def vectors(self) -> Floats:
        """The unit vectors of all wordings, made anew each time: shape (wordings, encoder.size)."""
        return in_floats(self.fixed)

    def cosines(self, rows: NDArray[np.int64], vector: Floats) -> Floats:
        """How like the wordings of these rows are to a vector: shape (len(rows),), -1 to 1."""
        return np.asarray(in_floats(self.fixed[rows]) @ vector, np.float32)

    def _made_centers(self) -> Floats:
        known = {label: self.encoder.proxies[i] for i, label in enumerate(self.encoder.classes)}
        sums = np.zeros((len(self.labels), self.encoder.size), np.float32)
        np.add.at(sums, self.label_of, self.vectors)
        norms = np.linalg.norm(sums, axis=1, keepdims=True)
        centers = sums / np.maximum(norms, FLOOR)
        for i, label in enumerate(self.labels):
            if label in known:
                centers[i] = known[label]
        return np.asarray(centers, np.float32)

    def rank(self, text: str) -> Ranking:
        """What the text may mean."""
        return self._ranked(text, self.encoder.encode([_YOU.sub("how do i", text.lower())])[0])

    def _ranked(self, text: str, vector: Floats) -> Ranking:
        near = self._near(vector)
        ranking = self._from(near, vector)
        topic, weight = self._said_alike(text, near)
        if weight:
            ranking = self.moved(ranking, topic, weight)
        if ranking.ambiguous < WORTH_COMPARING or not self.vague:
            return ranking
        return replace(ranking, vague_like=self._vague_like(text.lower(), vector))

    def _vague_like(self, lowered: str, vector: Floats) -> str:
        """The vague wording that is nearest in meaning and in letters: meanings alone all look vague alike."""
        from rapidfuzz import fuzz

        places = np.fromiter(self.vague, np.int64)
        likeness = self.cosines(places, vector)
        letters = np.array([fuzz.WRatio(lowered, self.vague[i].lower()) for i in places.tolist()])
        return self.vague[int(places[np.argmax(likeness + LETTERS * letters)])]

    def rank_vector(self, vector: Floats) -> Ranking:
        """What a text with this vector may mean; `vague_like` needs the text and stays empty."""
        return self._from(self._near(vector), vector)

    def _near(self, vector: Floats) -> _Near:
        """Compare with all wordings roughly, and wholly with those that may count."""
        rough = self._heads @ vector[:AXES]
        rows = _greatest(rough, LOOKED_AT)
        cosines = self.cosines(rows, vector)
        of_procedures = cosines[self._is_procedure[rows]]
        if len(of_procedures) < FIT_NEIGHBOURS:
            of_procedures = self._nearest_of(self._of_procedures, rough, vector)
        outside = self._nearest_of(self._of_outside, rough, vector)
        return _Near(rows, cosines, _mean_of_greatest(of_procedures), _mean_of_greatest(outside))

    def _nearest_of(self, rows: NDArray[np.int64], rough: Floats, vector: Floats) -> Floats:
        """The likeness of the nearest of these rows."""
        return self.cosines(rows[_greatest(rough[rows], LOOKED_AT_OF_KIND)], vector)

    @cached_property
    def _texts(self) -> Sequence[str]:
        return self._texts_of()

    def _said_alike(self, text: str, near: _Near) -> tuple[str, float]:
        """The procedure of the wording that is most like this text in meaning and in words, and how like it is, 0 to 1.

        Vectors blur the plainest questions; "the furnace won't light" is what it says. Nothing when a wording of
        another kind, or of a hazard, is more like it.
        """
        said, best, most, nearest = bare(text), -1, 0.0, 0.0
        for place in _greatest(near.cosines, COMPARED).tolist():
            index, cosine = int(near.rows[place]), float(near.cosines[place])
            weight = likeness(cosine, said, self._texts[index])
            if (weight, cosine) > (most, nearest):  # of two that are as good as the same, the nearer in meaning
                best, most, nearest = int(self.label_of[index]), weight, cosine
        fits = most > 0 and best in self._of_kind[""] and best not in self._hazards
        return (self.labels[best], most) if fits else ("", 0.0)

    def moved(self, ranking: Ranking, topic: str, weight: float) -> Ranking:
        """The ranking with `weight` of what may be moved given to the topic."""
        hazards = {self.labels[i] for i in self._hazards}
        warns = topic in hazards
        # only what is no warning may be moved, unless the topic is itself a hazard
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

    def _from(self, near: _Near, vector: Floats) -> Ranking:
        top = _greatest(near.cosines, NEIGHBOURS)
        weight = np.exp(SHARPNESS * (near.cosines[top] - 1))
        voters = self.label_of[near.rows[top]]
        votes = np.bincount(voters, weights=weight, minlength=len(self.labels)).astype(np.float32) + FLOOR
        head = SHARPNESS * (self.centers @ vector)
        joined = head - _log_sum(head) + np.log(votes) - np.log(votes.sum())
        chance = np.exp((joined - joined.max()) / 2)
        chance /= chance.sum()
        steering, hazard = self._likeliest(STEER, chance, 3), float(chance[self._hazards].sum())
        wish = self._share(WISH, chance)
        chance[self._of_kind[STEER]] = 0.0
        chance /= max(float(chance.sum()), FLOOR)
        return Ranking(
            procedures=self._likeliest("", chance, 10),
            wishes=self._likeliest(WISH, chance, 3),
            wish=wish,
            calculations=self._likeliest(CALCULATION, chance, 3),
            work_out=self._share(CALCULATION, chance),
            telling=self._share(TELLING, chance),
            defect=self._share(DEFECT, chance),
            out_of_scope=self._share(OUT_OF_SCOPE, chance),
            ambiguous=self._share(AMBIGUOUS, chance),
            hazard=hazard,
            fit=self._fit(near, head / SHARPNESS),
            steering=steering,
        )

    def _fit(self, near: _Near, cosines: Floats) -> float:
        members = self._of_kind[""]
        if not len(members):
            return 0.0
        fit = cosines[members].max() + near.procedure
        outside = self._of_kind[OUT_OF_SCOPE]
        if len(outside):
            fit -= cosines[outside].max() + near.outside
        return float(fit)

    def _likeliest(self, kind: str, chance: Floats, count: int) -> tuple[tuple[str, float], ...]:
        members = self._of_kind[kind]
        order = members[np.argsort(-chance[members])[:count]]
        return tuple((self.labels[i].removeprefix(kind), float(chance[i])) for i in order)

    def _share(self, kind: str, chance: Floats) -> float:
        return float(chance[self._of_kind[kind]].sum())


_KINDS = frozenset({WISH, CALCULATION, STEER, TELLING, DEFECT, OUT_OF_SCOPE, AMBIGUOUS, ""})


def _kind(label: str) -> str:
    """Which kind of meaning a label is; the empty kind is a procedure."""
    if label in (TELLING, DEFECT, OUT_OF_SCOPE, AMBIGUOUS):
        return label
    return next((prefix for prefix in (WISH, CALCULATION, STEER) if label.startswith(prefix)), "")


def likeness(cosine: float, said: str, wording: str) -> float:
    """How much a wording bears on what was said, 0 to 1: it must be like it in meaning and in words.

    Args:
        cosine: of the two vectors.
        said: the text, as `normalise.bare` writes it.
    """
    from rapidfuzz import fuzz

    meaning = _between(cosine, UNLIKE, SAME)
    return meaning and meaning * _between(fuzz.token_sort_ratio(said, bare(wording)), OTHER_WORDS, SAME_WORDS)


def _between(value: float, low: float, high: float) -> float:
    return min(1.0, max(0.0, (value - low) / (high - low)))


def _greatest(values: Floats, count: int) -> NDArray[np.int64]:
    """Places of the greatest values, in no order; all places when there are no more."""
    return np.arange(len(values)) if len(values) <= count else np.argpartition(values, -count)[-count:]


def _mean_of_greatest(cosines: Floats) -> np.float32:
    """The mean likeness of the nearest few; 0 when there is none."""
    return np.float32(cosines[_greatest(cosines, FIT_NEIGHBOURS)].mean()) if len(cosines) else np.float32(0.0)


def _log_sum(values: Floats) -> np.float32:
    top = values.max()
    return np.float32(top + np.log(np.exp(values - top).sum()))


def in_fixed(vectors: Floats) -> Fixed:
    """Unit vectors as whole numbers, to within 2e-5: half the memory, and as quick to compare as floats."""
    return np.round(vectors * np.float32(_ONE)).astype(np.int16)


def in_floats(fixed: Fixed) -> Floats:
    """The unit vectors that `in_fixed` wrote down."""
    made = fixed.astype(np.float32)
    made *= np.float32(1 / _ONE)
    return made


def stored_vectors(path: Path) -> dict[int, Floats]:
    """The vectors that ship with the knowledge, by key of the wording."""
    if not path.exists():
        return {}
    try:
        with np.load(io.BytesIO(path.read_bytes()), allow_pickle=False) as stored:
            return dict(zip(stored["keys"].tolist(), stored["vectors"].astype(np.float32), strict=True))
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
        return {}  # they are only worked out again


def vectors_for(texts: list[str], encoder: Encoder, stored: dict[int, Floats]) -> Floats:
    """A vector for each text; only those that are not stored are computed."""
    keys = [key_of(text) for text in texts]
    missing = [i for i, key in enumerate(keys) if key not in stored]
    fresh = encoder.encode([texts[i].lower() for i in missing]) if missing else np.zeros((0, encoder.size), np.float32)
    made = dict(zip(missing, fresh, strict=True))
    return np.array([made[i] if i in made else stored[key] for i, key in enumerate(keys)], np.float32)


def pack_vectors(texts: list[str], encode: Callable[[list[str]], Floats], path: Path) -> None:
    """Write the shipped vectors of these texts; `encode` makes them, as `Encoder.encode` does."""
    unique = sorted(set(texts), key=key_of)
    vectors = encode([text.lower() for text in unique]).astype(np.float16)
    np.savez(path, keys=np.array([key_of(text) for text in unique], np.uint64), vectors=vectors)


def load_matcher(knowledge: Knowledge, cache: Path | None) -> Matcher:
    """A matcher for this knowledge, its vectors taken from the cache when they are still right."""
    encoder = Encoder(knowledge.folder / "encoder.npz")
    compiled = cache / f"matcher-{knowledge.fingerprint}.npz" if cache else None
    if compiled and compiled.exists():
        try:
            return _stored_matcher(compiled, encoder, knowledge)
        except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile):
            pass  # a damaged copy is simply made again
    stored = stored_vectors(knowledge.folder / "vectors.npz")
    matcher = Matcher.of(knowledge, encoder, vectors_for([p.text for p in knowledge.phrases], encoder, stored))
    if compiled:
        body = io.BytesIO()
        np.savez(
            body,
            fixed=matcher.fixed,
            label_of=matcher.label_of.astype(np.int32),
            centers=matcher.centers,
            labels=np.array("\n".join(matcher.labels)),
            vague=np.array(json.dumps(matcher.vague)),
            texts=np.array("\n".join(phrase.text for phrase in knowledge.phrases).encode()),
        )
        write_cache(compiled, body.getvalue(), "matcher-*.npz")
    return matcher


def _stored_matcher(path: Path, encoder: Encoder, knowledge: Knowledge) -> Matcher:
    with np.load(path, allow_pickle=False) as stored:
        vague = {int(i): text for i, text in json.loads(str(stored["vague"])).items()}
        fixed = stored["fixed"]
        if fixed.shape[1] != encoder.size:
            raise ValueError("made by another encoder")
        texts = bytes(stored["texts"])
        return Matcher(
            encoder,
            fixed,
            stored["label_of"].astype(np.int64),
            str(stored["labels"]).split("\n"),
            vague,
            knowledge.hazards,
            stored["centers"],
            texts=lambda: texts.decode().split("\n"),
        )
