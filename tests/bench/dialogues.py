"""How well whole conversations go, on conversations nobody tuned to.

    python tests/bench/dialogues.py                   # the unseen set, tests/data/dialogues/unseen.jsonl
    python tests/bench/dialogues.py --set dev         # the set to look at while working on the dialogue
    python tests/bench/dialogues.py --set dev --misses

Every conversation is one session with the demo coach, its journal in memory, two minutes between turns. A turn is right when
everything that its row names is right: the kind of reply (`type` or one of `type_ok`), its topic, what became of the walk in
hand (`move`), the readings stored and withdrawn, the number worked out (`calc`). `move` is judged on the walk itself: `first`
opened at its first step, or sent back to it; `next`, `back`, `skip` and `jump` moved it so; `same` left the walk where it was,
also under a hazard or a question; `end` closed it. A skip whose reason is asked first counts.
"""

from __future__ import annotations

import re
from collections import defaultdict
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from question_sets import chosen, options, rows
from readings import all_there, line, strange

from cabassist.dialogue.session import Session, as_contract, load_mind
from cabassist.dialogue.types import Mind, State, Walk
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.places import demo_coach

DATA = Path(__file__).parents[1] / "data" / "dialogues"
NOW = datetime(2026, 12, 1, 19, 0, tzinfo=UTC)
BETWEEN = timedelta(minutes=2)
NEAR = 0.02
"""How far a number may be from the one expected, as a share of it."""

Row = dict[str, Any]


def moved(move: str, before: Walk | None, state: State, opened: bool, under: tuple[Walk, ...] = ()) -> bool:
    """Whether the walk that was in hand, or the new one, stands where the move puts it.

    A danger that is over is closed, and the walk that it interrupted, one of those `under` it, is in hand again.
    """
    now = state.walk
    if move == "first":
        return now is not None and now.at == 0 and (opened or before is not None)
    if before is None:
        return move == "same"
    kept = next((walk for walk in state.walks if walk.topic == before.topic), None)
    if move == "end":
        return kept is None
    if move == "same":
        interrupted = kept is None and now is not None and (now.topic, now.at) in {(w.topic, w.at) for w in under}
        return interrupted or (kept is not None and kept.at == before.at)
    if move == "skip" and state.asking is not None and state.asking.what == "skip-reason":
        return True
    if kept is None:
        return move in ("next", "skip") and before.at + 1 == len(before.plan)
    if move == "back":
        return kept.at == max(0, before.at - 1)
    if move == "jump":
        return kept.at not in (before.at, before.at + 1)
    return kept.at == before.at + 1 and (move != "skip" or len(kept.skipped) > len(before.skipped))


def returned(row: Row, state: State) -> bool:
    """A step that is spoken belongs to the walk in hand."""
    topics = [row["topic"], *row.get("topic_ok", [])] if "topic" in row else []
    return row.get("type") != "step" or state.walk is None or not topics or state.walk.topic in topics


def number_given(row: Row, reply: Row) -> bool:
    """Whether the expected number stands in the estimate or among the words."""
    wanted, near = row["calc"], max(row.get("calc_tol", 0.0), abs(row["calc"]) * NEAR)
    estimate = reply["estimate"] or {"value": None, "also": []}
    given = [estimate["value"], *(also["value"] for also in estimate["also"])]
    given += [float(one.replace(",", "")) for one in re.findall(r"\d[\d,]*(?:\.\d+)?", reply["say"])]
    return any(
        value is not None and min(abs(value - wanted), abs(value + wanted) if wanted < 0 else 1e9) <= near
        for value in given
    )


def faults(row: Row, reply: Row, before: Walk | None, state: State, under: tuple[Walk, ...] = ()) -> list[str]:
    """What is not as the row has it, by name; nothing when the turn is right."""
    found = []
    kinds = [row["type"], *row.get("type_ok", [])] if "type" in row else []
    if kinds and reply["kind"] not in kinds:
        found.append("kind")
    topics = [row["topic"], *row.get("topic_ok", [])] if "topic" in row else []
    named = {reply["topic"], *(reply["options"] if reply["kind"] == "clarify" else ())}
    if topics and not named & set(topics) and not (state.walk and state.walk.topic in topics):
        found.append("topic")
    if "move" in row:
        opened = before is None or (state.walk is not None and state.walk.topic != before.topic)
        right = any(moved(move, before, state, opened, under) for move in (row["move"], *row.get("move_ok", [])))
        if not (right and returned(row, state)) and not (reply["kind"] == "clarify" and "clarify" in kinds):
            found.append("move")
    asked = reply["kind"] in ("clarify", "refuse") and reply["kind"] in kinds
    labels = [{"approx": False, "tol": 0.0, **label} for label in row.get("readings") or []]
    if row.get("readings") is not None and not asked and not all_there(labels, reply["readings"], row):
        found.append("readings")
        if any(strange(labels, one, row) for one in reply["readings"]):
            found.append("stored what nobody said")
    if row.get("withdrawn") and len(reply["withdrawn"]) < len(row["withdrawn"]):
        found.append("withdrawn")
    if "calc" in row and not row.get("calc_optional") and not asked and not number_given(row, reply):
        found.append("number")
        if reply["estimate"] and reply["estimate"]["value"] is not None:
            found.append("wrong number given")
    return found


def measure(mind: Mind, name: str, misses: bool) -> None:
    turns = wholly = 0
    wrong: dict[str, int] = defaultdict(int)
    of: dict[str, int] = defaultdict(int)
    told = rows(DATA / f"{name}.jsonl")
    for conversation in told:
        session, now, clean = Session(mind, Journal(IN_MEMORY)), NOW, True
        for row in conversation["turns"]:
            before, under = session.state.walk, session.state.walks[:-1]
            reply = as_contract(session.hear(row["u"], now), 0.0)
            now += BETWEEN
            found = faults(row, reply, before, session.state, under)
            turns += 1
            clean &= not found
            for aspect, given in (
                ("kind", "type"),
                ("topic", "topic"),
                ("move", "move"),
                ("readings", "readings"),
                ("number", "calc"),
            ):
                of[aspect] += row.get(given) is not None
            wrong["any"] += bool(found)
            for fault in found:
                wrong[fault] += 1
            if misses and found:
                walk = session.state.walk
                stands = f"{walk.topic} {walk.number}/{len(walk.plan)}" if walk else "no walk"
                wanted = {k: v for k, v in row.items() if k not in ("u", "detail")}
                print(f"    {conversation['id']} {', '.join(found)}: {row['u']!r}\n        {wanted}")
                print(f"        -> {reply['kind']} {reply['topic']} ({stands}) {reply['say'][:230]}")
        wholly += clean
    line("turns right", turns - wrong["any"], turns)
    for aspect in ("kind", "topic", "move", "readings", "number"):
        line(f"  {aspect} right", of[aspect] - wrong[aspect], of[aspect])
    line("  stored what nobody said", wrong["stored what nobody said"], turns)
    line("  gave a wrong number", wrong["wrong number given"], of["number"])
    line("conversations right from end to end", wholly, len(told))


def main() -> None:
    given = chosen(options(__doc__))
    print(f"cabassist, {given.set} conversations")
    measure(load_mind(demo_coach()), given.set, given.misses)


if __name__ == "__main__":
    main()
