"""Signs that somebody is hurt or ill: no danger of the coach, and nothing that a procedure answers.

The signs are data (`knowledge/hurt-signs.yaml`), written like those of hazards. What may come of one of the coach's own
dangers, such as several people with headaches, is left to their screen, and so are old stories and talk of the game.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import Any

from cabassist.language.hazards import HazardScreen
from cabassist.language.normalise import plain

POISON = "poison"
"""The sign under which something harmful was swallowed."""


class HurtScreen:
    """Finds reports of people who are hurt or ill."""

    def __init__(self, data: Mapping[str, Any]) -> None:
        """`data` as in `hurt-signs.yaml`. Raises KeyError when a list is missing."""
        self._signs = HazardScreen(data["signs"], data["words"])
        self._written: Sequence[str] = data["leave"]

    @cached_property
    def _leave(self) -> tuple[re.Pattern[str], ...]:
        return tuple(re.compile(pattern) for pattern in self._written)

    def prove(self) -> None:
        """Compile everything. Raises re.error for a wrong pattern, KeyError for a name without words."""
        self._signs.prove()
        _ = self._leave

    def find(self, text: str) -> str | None:
        """The first sign of somebody hurt or ill that the text holds, or None."""
        sign = self._signs.find(text)
        return None if sign is None or self.leaves(text) else sign

    def leaves(self, text: str) -> bool:
        """Whether a text is left to everything else, whoever is hurt in it."""
        return any(pattern.search(plain(text)) for pattern in self._leave)
