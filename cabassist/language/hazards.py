"""Hazard words, looked for in every utterance, also when they are only mentioned in passing.

The signs are data (`knowledge/hazard-signs.yaml`): for each hazard, patterns that report it, and patterns
that make the same words harmless ("test the smoke alarm"). The matcher's own opinion is added to this
screen; either of them is enough. Missing a hazard is worse than asking once too often.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from cabassist.language.normalise import plain


@dataclass(frozen=True)
class Sign:
    """The patterns of one hazard."""

    topic: str
    reports: tuple[re.Pattern[str], ...]
    harmless: tuple[re.Pattern[str], ...]


class HazardScreen:
    """Finds reported hazards by their signs."""

    def __init__(self, signs: Mapping[str, Mapping[str, Sequence[str]]], words: Mapping[str, Sequence[str]]) -> None:
        self._signs = tuple(
            Sign(
                topic,
                tuple(re.compile(_expanded(pattern, words)) for pattern in body.get("reports", ())),
                tuple(re.compile(_expanded(pattern, words)) for pattern in body.get("harmless", ())),
            )
            for topic, body in signs.items()
        )

    def find(self, text: str) -> str | None:
        """The first hazard the text reports, most urgent first, or None."""
        lowered = plain(text)
        for sign in self._signs:
            left = lowered
            for pattern in sign.harmless:
                left = pattern.sub(" ", left)
            if any(pattern.search(left) for pattern in sign.reports):
                return sign.topic
        return None


def _expanded(pattern: str, words: Mapping[str, Sequence[str]]) -> str:
    """A pattern with its <names> replaced by the alternatives of that name."""
    return re.sub(r"<(\w[\w-]*)>", lambda m: "(?:" + "|".join(words[m.group(1)]) + ")", pattern)
