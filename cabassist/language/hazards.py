"""Hazard words, looked for in every utterance, also when they are only mentioned in passing.

The signs are data (`knowledge/hazard-signs.yaml`): for each hazard, patterns that report it, and patterns
that make the same words harmless ("test the smoke alarm"). The matcher's own opinion is added to this
screen; either of them is enough, unless an unsafe wish is likelier (`routing.decide`). Missing a hazard is worse than asking once too often.

Compiling all patterns takes longer than answering most questions, so each hazard also has cues: pieces of
words of which every report holds one. Only a text with a cue has the patterns of that hazard compiled.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from cabassist.language.normalise import plain

Words = Mapping[str, Sequence[str]]


@dataclass(frozen=True)
class Sign:
    """The patterns of one hazard, as they are written, and the words that their <names> stand for."""

    topic: str
    cues: tuple[str, ...]
    written: Mapping[str, Sequence[str]]
    words: Words

    @cached_property
    def reports(self) -> tuple[re.Pattern[str], ...]:
        """Patterns that report the hazard."""
        return self._compiled("reports")

    @cached_property
    def harmless(self) -> tuple[re.Pattern[str], ...]:
        """Patterns to take out of a text first."""
        return self._compiled("harmless")

    def _compiled(self, kind: str) -> tuple[re.Pattern[str], ...]:
        return tuple(re.compile(_expanded(pattern, self.words)) for pattern in self.written.get(kind, ()))

    def stands_in(self, text: str) -> bool:
        """Whether a plain text reports the hazard. No cues at all mean that any text may."""
        left = self.without_harmless(text)
        return left is not None and any(pattern.search(left) for pattern in self.reports)

    def without_harmless(self, text: str) -> str | None:
        """A plain text without what is harmless in it, or None when it holds no cue, before or after."""
        if not self._cued(text):
            return None
        for pattern in self.harmless:
            text = pattern.sub(" ", text)
        return text if self._cued(text) else None

    def _cued(self, text: str) -> bool:
        padded = f" {text} "
        return not self.cues or any(cue in padded for cue in self.cues)


class HazardScreen:
    """Finds reported hazards by their signs."""

    def __init__(self, signs: Mapping[str, Mapping[str, Sequence[str]]], words: Words) -> None:
        self._signs = tuple(Sign(topic, tuple(body.get("cues", ())), body, words) for topic, body in signs.items())

    def prove(self) -> None:
        """Compile everything. Raises re.error for a wrong pattern, KeyError for a name without words."""
        for sign in self._signs:
            _ = sign.reports, sign.harmless

    def find(self, text: str) -> str | None:
        """The first hazard the text reports, most urgent first, or None."""
        lowered = plain(text)
        return next((sign.topic for sign in self._signs if sign.stands_in(lowered)), None)

    def cued(self, text: str) -> frozenset[str]:
        """The hazards of which the text holds a cue that is not harmless: no report yet, but a reason to look twice."""
        lowered = plain(text)
        return frozenset(sign.topic for sign in self._signs if sign.without_harmless(lowered) is not None)


def _expanded(pattern: str, words: Words) -> str:
    """A pattern with its <names> replaced by the alternatives of that name."""
    return re.sub(r"<(\w[\w-]*)>", lambda m: "(?:" + "|".join(words[m.group(1)]) + ")", pattern)
