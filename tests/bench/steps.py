"""What becomes of what drivers say at a step, in lines nobody tuned to.

    python tests/bench/steps.py                   # the unseen lines, tests/data/steps/unseen.jsonl
    python tests/bench/steps.py --set dev         # the lines to look at while working on walks
    python tests/bench/steps.py --set dev --misses

Each line is said in a conversation of its own, with its procedure in hand at its step: "done" tells the step done and should move
the walk on; "later" and "earlier" tell another step done; "trouble", "notyet", "question" and "aside" must not move it on. "Led away"
is whatever leaves the driver with another procedure, a list to choose from, a no, a danger or "I do not have that"; of trouble
and questions only a wrong step forward counts, for another procedure may be the right answer to them.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from datetime import UTC, datetime, timedelta
from pathlib import Path

from question_sets import chosen, options, rows
from readings import line

from cabassist.dialogue import walking
from cabassist.dialogue.session import load_mind
from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from cabassist.places import demo_coach

DATA = Path(__file__).parents[1] / "data" / "steps"
NOW = datetime(2026, 12, 1, 19, 0, tzinfo=UTC)
MOVED, STAYED, AWAY = "moved on", "stayed", "led away"


def at_step(topic: str, do: str, mind: Mind) -> State | None:
    """A conversation in which the procedure stands at this step; None where the demo coach leaves the step out."""
    opened = walking.open_walk(topic, State(), mind, NOW, 0.9, "")
    walk = opened.state.walks[-1]
    steps = mind.knowledge.procedure(topic).steps
    places = [at for at, index in enumerate(walk.plan) if steps[index].do == do]
    if not places:
        return None
    return walking.move_to(places[0], opened.state, mind, NOW, "jump").state


def became(state: State, said: str, mind: Mind) -> tuple[str, str]:
    """What became of the walk, and what was answered."""
    before = state.walks[-1]
    outcome = take_turn(state, said, mind=mind, now=NOW + timedelta(minutes=1))
    after, reply = outcome.state.walk, outcome.reply
    if after is None:
        return (MOVED if before.at + 1 == len(before.plan) else AWAY), reply.say
    if after.topic == before.topic and after.at > before.at:
        return MOVED, reply.say
    if after.topic == before.topic and reply.kind in ("step", "control", "reading", "calculation"):
        return STAYED, reply.say
    return AWAY, reply.say


def measure(mind: Mind, name: str, misses: bool) -> None:
    """Print the shares, and with `misses` each line that went wrong."""
    found: dict[str, Counter[str]] = defaultdict(Counter)
    for row in rows(DATA / f"{name}.jsonl"):
        state = at_step(row["topic"], row["at"], mind)
        if state is None:
            continue
        what, said = became(state, row["say"], mind)
        found[row["kind"]][what] += 1
        wrong = what != MOVED if row["kind"] == "done" else what == MOVED
        if misses and wrong:
            print(f"    {row['kind']}, {what}: {row['at']} | {row['say']}\n        -> {said[:120]}")
    print(f"cabassist, {name} lines said at steps")
    done = found.pop("done")
    for what, label in ((MOVED, "done, and the walk moved on"), (STAYED, "done, and it stayed"), (AWAY, "done, and led away")):  # fmt: skip
        line(label, done[what], done.total())
    others = sum(found.values(), Counter[str]())
    line("not done, and moved on all the same", others[MOVED], others.total())
    for kind, counts in sorted(found.items()):
        line(f"  {kind}", counts[MOVED], counts.total())


def main() -> None:
    given = chosen(options(__doc__))
    measure(load_mind(demo_coach()), given.set, given.misses)


if __name__ == "__main__":
    main()
