"""Many wordings of one question as one row.

The matcher's own vectors cannot tell questions apart that it has no answer to: to it they are all "nothing here". So two
things are looked at: whether both wordings point clearly to the same procedure, and how near their words are, each word
by its meaning alone and weighted by how rarely drivers use it.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping

import numpy as np
from numpy.typing import NDArray

from cabassist.language.matching import Matcher
from cabassist.language.normalise import bare

LIKE_LEADER = 0.38
"""Cosine of the words to the leading wording from which on a wording joins it."""
LIKE_MEMBER = 0.46
"""The same to any other wording of the cluster; stricter, so that a chain of small steps does not wander off."""
POINTS = 0.35
"""Probability from which on a wording points to a procedure."""
MAX_TEXTS = 1500
"""Distinct wordings that are compared; of rarer ones each is a row of its own."""
COMMON = 2.0
"""Weight, in natural logarithms, that words as common as "how" and "the" lose."""

Floats = NDArray[np.float32]


class Likeness:
    """Tells how near wordings are. `phrases` are known wordings, from which it learns which words are common."""

    def __init__(self, matcher: Matcher, phrases: Iterable[str]) -> None:
        self._matcher = matcher
        counts: Counter[str] = Counter()
        total = 0
        for phrase in phrases:
            counts.update(set(phrase.lower().split()))
            total += 1
        self._counts, self._total = counts, max(1, total)

    def vectors(self, texts: list[str]) -> Floats:
        """One unit vector a text, by its words alone; zeros for a text without words."""
        encoder = self._matcher.encoder
        rows = []
        for text in texts:
            made = np.zeros(encoder.alone([0]).shape[1], np.float32)
            for word in bare(text).split():
                ids = encoder.word_pieces(word)[1:-1]
                if ids:
                    rarity = math.log(self._total / (self._counts[word] + 1)) - COMMON
                    made += max(0.05, rarity) * encoder.alone(ids).mean(0)
            rows.append(made / max(float(np.linalg.norm(made)), 1e-9))
        return np.array(rows, np.float32)

    def points_to(self, texts: list[str]) -> list[str]:
        """The procedure each text clearly points to, or nothing."""
        if not texts:
            return []
        ranked = [self._matcher.rank_vector(v) for v in self._matcher.encoder.encode([t.lower() for t in texts])]
        return [r.procedures[0][0] if r.procedures and r.procedures[0][1] >= POINTS else "" for r in ranked]


def clustered(weights: Mapping[str, float], likeness: Likeness) -> list[list[str]]:
    """The texts in clusters, leader first; heavier texts lead."""
    order = sorted(weights, key=lambda text: (-weights[text], text))
    compared, rest = order[:MAX_TEXTS], order[MAX_TEXTS:]
    if not compared:
        return []
    vectors, topics = likeness.vectors(compared), likeness.points_to(compared)
    near = vectors @ vectors.T
    groups: list[list[int]] = []
    of: dict[int, int] = {}
    leads: list[int] = []
    for index in range(len(compared)):
        place = _place(index, near, topics, leads, of)
        if place is None:
            place = len(groups)
            groups.append([])
            leads.append(index)
        groups[place].append(index)
        of[index] = place
    return [*([compared[i] for i in group] for group in groups), *([text] for text in rest)]


def _place(index: int, near: Floats, topics: list[str], leads: list[int], of: dict[int, int]) -> int | None:
    """The cluster that a wording joins, or None when it opens its own."""
    if topics[index]:
        for earlier in range(index):
            if topics[earlier] == topics[index]:
                return of[earlier]
    if leads:
        best = leads[int(np.argmax(near[index, leads]))]
        if near[index, best] >= LIKE_LEADER:
            return of[best]
    if index:
        best = int(np.argmax(near[index, :index]))
        if near[index, best] >= LIKE_MEMBER:
            return of[best]
    return None
