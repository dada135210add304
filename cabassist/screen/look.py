"""How things look: two themes, signal words, signs with a plain twin, and texts made harmless.

Signal words follow ANSI Z535.6: DANGER white on red, WARNING black on orange, CAUTION black on yellow, NOTICE white on
blue, the first three with the safety alert symbol. The word and the sign tell them apart without any color. At night
nothing is brighter than amber (a screen in the dark must not blind the eyes for the road), so DANGER is amber on red.
"""

from __future__ import annotations

import re
import sys
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from textual.content import Content
from textual.theme import Theme

from cabassist.language.normalise import literal
from cabassist.screen.drawing import ascii_asked

LineKind = Literal["caution", "step", "detail", "option", "hint", "timer", "plain"]
SIGNALS = ("DANGER", "WARNING", "CAUTION", "NOTICE")
_SIGNAL = re.compile(rf"^({'|'.join(SIGNALS)}): ?(.*)$", re.DOTALL)
_OPTION = re.compile(r"^ {2}(\d{1,2})\. (.+)$")
_ASCII = {
    "°": " deg ", "–": "-", "—": "-", "−": "-", "’": "'", "‘": "'", "“": '"', "”": '"', "≥": ">=", "≤": "<=", "≈": "~",
    "×": "x", "·": "*", "…": "...", "²": "^2", "³": "^3", "→": "->", "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "±": "+/-",
}  # fmt: skip


@dataclass(frozen=True)
class Signs:
    """The signs that are drawn."""

    alert: str
    full: str
    empty: str
    clock: str
    levels: str
    """From low to high."""
    dot: str
    mark: str
    """Stands before what somebody said."""
    dash: str


UNICODE = Signs("⚠", "█", "░", "◷", "▁▂▃▄▅▆▇█", "·", "›", "–")
ASCII = Signs("!", "#", ".", "*", "._-=+*%#", "*", ">", "-")


def wants_ascii(environment: Mapping[str, str] | None = None, encoding: str | None = None) -> bool:
    """Whether only ASCII may be drawn: it is asked for, or the terminal's encoding holds nothing more."""
    if ascii_asked(environment):
        return True
    written = encoding or getattr(sys.stdout, "encoding", None) or "ascii"
    try:
        UNICODE.levels.encode(written)
    except (UnicodeEncodeError, LookupError):
        return True
    return False


@dataclass(frozen=True)
class Look:
    """What may be drawn, and how texts are made ready for it."""

    ascii: bool = False

    @property
    def signs(self) -> Signs:
        """The signs in use."""
        return ASCII if self.ascii else UNICODE

    def text(self, text: str) -> str:
        """A text as it may be shown: what steers a terminal written out, and in ASCII when that is wanted."""
        shown = literal(text)
        if not self.ascii or shown.isascii():
            return shown
        for sign, plain in _ASCII.items():
            shown = shown.replace(sign, plain)
        return "".join(c if c.isascii() else _plain(c) for c in re.sub(r"(\d) +deg +", r"\1 deg ", shown))

    def content(self, text: str, style: str = "") -> Content:
        """A text to be shown as it is: nothing in it is taken for markup."""
        return Content.styled(self.text(text), style)

    def bar(self, share: float, width: int) -> str:
        """A level as a bar; a level that is not quite full or empty never looks it."""
        filled = round(max(0.0, min(1.0, share)) * width)
        if 0 < share < 1 and width > 2:
            filled = max(1, min(width - 1, filled))
        return self.signs.full * filled + self.signs.empty * (width - filled)

    def spark(self, values: list[float], width: int) -> str:
        """The last `width` values as a line of small columns from 0 to their greatest."""
        top = max([*values[-width:], 0.0])
        steps = self.signs.levels
        return "".join(steps[round((len(steps) - 1) * (max(0.0, v) / top if top else 0.0))] for v in values[-width:])


def _plain(character: str) -> str:
    return unicodedata.normalize("NFKD", character).encode("ascii", "ignore").decode() or "?"


def kind_of(line: str) -> LineKind:
    """What a line of a reply is, by its wording."""
    if _SIGNAL.match(line):
        return "caution"
    if re.match(r"^Step \d+ of \d+: ", line):
        return "step"
    if _OPTION.match(line):
        return "option"
    if line.startswith("Timer: "):
        return "timer"
    if line.startswith(("Say: ", "Say the number", "Say a number", "You are at step", "You are still at step")):
        return "hint"
    return "detail" if line.startswith("  ") else "plain"


def signal_of(line: str) -> tuple[str, str]:
    """The signal word of a caution line, and its text. Raises ValueError for another line."""
    found = _SIGNAL.match(line)
    if found is None:
        raise ValueError(f"no signal word in {line!r}")
    return found.group(1), found.group(2)


def option_of(line: str) -> tuple[str, str]:
    """The number and the words of an option line. Raises ValueError for another line."""
    found = _OPTION.match(line)
    if found is None:
        raise ValueError(f"no option in {line!r}")
    return found.group(1), found.group(2)


def _theme(name: str, dark: bool, colors: dict[str, str]) -> Theme:
    """A theme in which no color is worked out by mixing, so that contrast is as designed."""
    ink, paper, soft, edge, key = (colors[part] for part in ("ink", "paper", "soft", "edge", "key"))
    named = {
        **{f"cab-{part}": color for part, color in colors.items()},
        "text": ink, "text-muted": colors["dim"], "text-disabled": colors["dim"], "foreground-muted": colors["dim"],
        "foreground-disabled": colors["dim"], "block-cursor-foreground": paper, "block-cursor-background": key,
        "block-cursor-blurred-foreground": ink, "block-cursor-blurred-background": soft, "block-hover-background": soft,
        "border": key, "border-blurred": edge, "scrollbar": edge, "scrollbar-hover": key, "scrollbar-active": key,
        "scrollbar-background": soft, "scrollbar-background-hover": soft, "scrollbar-background-active": soft,
        "scrollbar-corner-color": soft, "input-cursor-background": ink, "input-cursor-foreground": paper,
        "input-selection-background": edge, "input-selection-foreground": ink, "link-color": key, "link-color-hover": ink,
        "link-background-hover": soft, "button-foreground": ink, "button-color-foreground": ink,
        "footer-foreground": ink, "footer-background": soft, "footer-key-foreground": key,
    }  # fmt: skip
    return Theme(
        name=name, primary=key, secondary=edge, accent=key, warning=colors["warning-back"], error=colors["danger-back"],
        success=key, foreground=ink, background=paper, surface=paper, panel=soft, boost=soft, dark=dark,
        luminosity_spread=0.0, text_alpha=1.0, variables=named,
    )  # fmt: skip


DAY = _theme("cab-day", False, {
    "ink": "#000000", "paper": "#ffffff", "soft": "#e6e6e6", "dim": "#3d3d3d", "edge": "#6b6b6b", "key": "#003c8f", "quiet": "#d0d7e2", "step-ink": "#ffffff", "step-back": "#003c8f",
    "danger-ink": "#ffffff", "danger-back": "#b3001b", "warning-ink": "#000000", "warning-back": "#ff8200",
    "caution-ink": "#000000", "caution-back": "#ffd100", "notice-ink": "#ffffff", "notice-back": "#0050a0",
})  # fmt: skip
"""Black on white, for daylight and tired eyes."""
NIGHT = _theme("cab-night", True, {
    "ink": "#d6944f", "paper": "#0a0705", "soft": "#1a120c", "dim": "#b88149", "edge": "#4d3823", "key": "#d9a05c", "quiet": "#241910", "step-ink": "#dca566", "step-back": "#3a2a18",
    "danger-ink": "#dca566", "danger-back": "#5c0a08", "warning-ink": "#140a00", "warning-back": "#b8651b",
    "caution-ink": "#140a00", "caution-back": "#a98420", "notice-ink": "#d9a05c", "notice-back": "#14243a",
})  # fmt: skip
"""Amber on black: nothing blue-white, nothing bright."""
