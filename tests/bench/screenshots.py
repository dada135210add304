"""Pictures of the screen for the README, from the demo coach: SVG files in `.assets/`.

python tests/bench/screenshots.py
"""

from __future__ import annotations

import asyncio
from datetime import datetime, timedelta
from pathlib import Path

from textual.widgets import Input

from cabassist import places
from cabassist.dialogue.session import Session, load_mind
from cabassist.dialogue.types import Mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.screen.app import CabApp, Opened

FOLDER = Path(__file__).resolve().parents[2] / ".assets"
EVENING = datetime.fromisoformat("2026-01-15T21:40:00-06:00")
TOLD = ("fresh at two thirds", "waste at forty percent", "outside bottle nearly full, inside bottle half, minus twelve out",
        "twelve aboard, diesel at half", "house battery 12.5 volts")  # fmt: skip
SHORE = "how do I plug the coach in at the hotel"
PICTURES: dict[str, tuple[tuple[int, int], bool, tuple[str, ...]]] = {
    "conversation-day": ((80, 24), False, (*TOLD, SHORE, "next")),
    "conversation-night": ((140, 42), True, (*TOLD, "remind me in 20 minutes to check the cord", SHORE, "next", "why")),
    "danger": ((80, 24), False, (SHORE, "oh and it stinks of rotten eggs by the back bunks")),
    "rolling": ((80, 24), True, ("we are rolling",)),
    "readings": ((110, 34), False, (*TOLD, "fresh at 60 percent", "waste at fifty percent", "key:f9", "key:right")),
}
"""Name of a picture: size in columns and rows, whether at night, what is said, or which key is pressed."""


async def picture(name: str, mind: Mind) -> str:
    """The screen as SVG after all that was said, with nothing left to work out."""
    size, night, said = PICTURES[name]
    now = EVENING
    with Journal(IN_MEMORY) as journal:
        session = Session(mind, journal)
        app = CabApp(lambda: Opened(session), clock=lambda: now, night=night)
        async with app.run_test(size=size) as pilot:
            app.query_one("#say", Input).cursor_blink = False  # else every second picture is another one
            for text in ("", *said):
                now += timedelta(minutes=4 if text not in ("next", "why") else 1)
                if text.startswith("key:"):
                    await pilot.press(text[4:])
                else:
                    app.say(text)
                await pilot.pause(0.1)
                while not app.idle:
                    await pilot.pause(0.05)
            for _ in range(100):  # the board is worked out beside the conversation
                await pilot.pause(0.05)
                if app.board is not None and app.board.at == now:
                    break
            await pilot.pause(0.5)
            return app.export_screenshot(title="cabassist")


def main() -> None:
    mind = load_mind(places.demo_coach())
    FOLDER.mkdir(exist_ok=True)
    for name in PICTURES:
        (FOLDER / f"{name}.svg").write_text(asyncio.run(picture(name, mind)), encoding="utf-8")
        print(f"{FOLDER.name}/{name}.svg")


if __name__ == "__main__":
    main()
