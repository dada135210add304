"""The pictures of the README show the screen as it is: each is drawn again and compared, row by row and colour by colour."""

from __future__ import annotations

import asyncio
import html
import re
import sys
from pathlib import Path

import pytest

from cabassist.dialogue.types import Mind

BENCH = Path(__file__).parents[1] / "bench"
sys.path.insert(0, str(BENCH))
screenshots = pytest.importorskip("screenshots")
sys.path.remove(str(BENCH))

_TEXT = re.compile(r'<text class="([^"]*)" x="([\d.]+)" y="([\d.]+)"[^>]*>(.*?)</text>')
_COLOUR = re.compile(r"#[0-9a-f]{6}")


def rows(svg: str) -> list[str]:
    """What stands on the screen, a line a row."""
    found: dict[float, list[tuple[float, str]]] = {}
    for _, x, y, text in _TEXT.findall(svg):
        found.setdefault(float(y), []).append((float(x), html.unescape(text).replace("\xa0", " ")))
    return [" ".join(text for _, text in sorted(parts)).rstrip() for _, parts in sorted(found.items())]


@pytest.mark.parametrize("name", sorted(screenshots.PICTURES))
def test_a_picture_is_what_the_screen_shows(name: str, mind: Mind):
    """`python tests/bench/screenshots.py` draws them anew after a change."""
    stored = (screenshots.FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    drawn = asyncio.run(screenshots.picture(name, mind))

    assert rows(stored)
    assert rows(drawn) == rows(stored)
    assert set(_COLOUR.findall(drawn)) == set(_COLOUR.findall(stored))
