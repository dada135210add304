"""The palette: what can be done here, and every procedure by its title or by how drivers ask for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any, TypeAlias, cast

from textual.command import DiscoveryHit, Hit, Hits, Provider

if TYPE_CHECKING:
    from cabassist.dialogue.types import Mind
    from cabassist.screen.app import CabApp

ASKED_SHOWN = 6
A_ROUND_COUNTS = 5
"""Wordings that the name of a round of the crew (arrival, departure) is worth."""

Offer: TypeAlias = tuple[str, str, Callable[[], Any]]
"""Title, help, what is done."""


class Commands(Provider):
    """What the palette offers."""

    @property
    def _cab(self) -> CabApp:
        return cast("CabApp", self.app)

    async def discover(self) -> Hits:
        """What is shown before anything is typed."""
        for title, help_text, run in commands(self._cab):
            yield DiscoveryHit(title, run, help=help_text)

    async def search(self, query: str) -> Hits:
        """What fits by its title, then what is asked for in such words."""
        cab, matcher = self._cab, self.matcher(query)
        mind = cab.session.mind if cab.session else None
        walks = _walks(cab, mind, mind.knowledge.ids) if mind else []
        asked = {mind.knowledge.title(name) for name in asked_as(query, mind)} if mind else set()
        for title, help_text, run in (*commands(cab), *walks):
            score = matcher.match(title)
            if score > 0 and _begins(query.lower().split(), title):
                yield Hit(2 + score, matcher.highlight(title), run, help=help_text)
            elif title in asked:
                yield Hit(1, title, run, help=help_text)
            elif score > 0:  # letters here and there
                yield Hit(score / (1 + score), matcher.highlight(title), run, help=help_text)


def commands(cab: CabApp) -> list[Offer]:
    """What can be done on the screen."""
    from cabassist.screen.pages import PAGES

    found: list[Offer] = [
        ("Day or night colors", "Ctrl+T", cab.action_colors),
        ("Help", "F1", cab.action_help),
        ("Microphone on or off", "F10", cab.action_listen),
        ("The coach rolls", "F8", lambda: cab.say("we are rolling")),
        ("Save the journal as a file", "All that was said, one JSON object a line", cab.action_export),
        ("Leave", "Ctrl+Q", cab.action_leave),
    ]
    return found + [(f"Look: {page.title}", page.about, partial(cab.action_look, name)) for name, page in PAGES.items()]


def asked_as(query: str, mind: Mind) -> list[str]:
    """Ids of procedures that drivers ask for in words that begin so, those with the most such wordings first."""
    begun = query.lower().split()
    if not begun:
        return []
    counts: Counter[str] = Counter()
    for name in mind.knowledge.ids:
        rounds = [made.name for made in mind.coach.rounds if made.topic == name]
        for ask in (*mind.knowledge.raw_procedures[name]["asks"], *rounds * A_ROUND_COUNTS):
            counts[name] += _begins(begun, ask)
    return [name for name, count in counts.most_common(ASKED_SHOWN) if count]


def _begins(parts: list[str], text: str) -> bool:
    """Whether each part begins a word of the text."""
    words = text.lower().split()
    return all(any(word.startswith(part) for word in words) for part in parts)


def _walks(cab: CabApp, mind: Mind, names: list[str]) -> list[Offer]:
    titles = [mind.knowledge.title(name) for name in names]
    return [(title, "Walk through it", partial(cab.say, title)) for title in titles]
