"""Answer the recorded sessions in `demo_sessions/` anew and write them back, after answers were meant to change.

Look at the difference in git before committing it: whatever changed was answered differently.
"""

from __future__ import annotations

import json
from pathlib import Path

from cabassist.cli.replay import COMPARED, read_recording
from cabassist.cli.shared import parse_time
from cabassist.dialogue.session import Session, as_contract, load_mind
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.places import demo_coach

SESSIONS = Path(__file__).parents[2] / "demo_sessions"


def main() -> None:
    mind = load_mind(demo_coach())
    for path in sorted(SESSIONS.glob("*.jsonl")):
        session = Session(mind, Journal(IN_MEMORY))
        lines = []
        for turn in read_recording(path):
            answer = as_contract(session.hear(turn["text"], parse_time(turn["now"]), turn.get("actor")), 0.0)
            kept = {key: answer[key] for key in (*COMPARED, "say")}
            lines.append(
                json.dumps({**{k: turn[k] for k in ("text", "now", "actor")}, "answered": kept}, ensure_ascii=False)
            )
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
        print(f"{path.name}: {len(lines)} turns")


if __name__ == "__main__":
    main()
