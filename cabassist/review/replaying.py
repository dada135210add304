"""Old sessions against what a trainer proposes: which turns would be answered differently, and is that better or worse.

Both sides take every turn from the same state, so a difference is the proposal's own doing. Once they differ, the
proposal's side also goes its own way, and what changes only because of that is counted apart. What is better is judged by
what is known: a trainer's mark, the wording just taught, the choice a driver took, or that the driver walked on. Where
nothing is known it is left to the trainer. A hazard that is no longer answered is always worse.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State
from cabassist.language.normalise import bare
from cabassist.review.conversation import NOTHING_OPEN, Conversation
from cabassist.review.marks import Mark

Judged = Literal["better", "worse", "look"]
OPENED = frozenset({"procedure", "hazard", "step"})


@dataclass(frozen=True)
class Answered:
    """What a turn was answered with, as far as it is compared."""

    kind: str
    topic: str | None
    step: int | None
    options: tuple[str, ...]
    say: str = field(compare=False)

    @classmethod
    def of(cls, reply: Reply) -> Answered:
        """The compared part of a reply."""
        step = reply.step.index if reply.step else None
        return cls(reply.kind, reply.topic, step, reply.options or reply.nearest, reply.say)

    def __str__(self) -> str:
        where = f" {self.topic}" if self.topic else ""
        at = f", step {self.step}" if self.step else ""
        offered = f" ({', '.join(self.options)})" if self.kind in ("clarify", "unknown") and self.options else ""
        return f"{self.kind}{where}{at}{offered}"


@dataclass(frozen=True)
class Difference:
    """One turn that would be answered differently. `follows` counts later turns that change only because of it."""

    session: str
    turn: str
    text: str
    before: Answered
    after: Answered
    expected: str | None
    judged: Judged
    why: str


@dataclass
class Replayed:
    """What a replay found."""

    sessions: int = 0
    turns: int = 0
    differences: list[Difference] = field(default_factory=list)
    followed: int = 0
    """Turns that change only because an earlier one did."""
    found_their_step: int = 0
    """Of these, turns that led nowhere before and are a step now."""

    def count(self, judged: Judged) -> int:
        """How many differences were judged so."""
        return sum(row.judged == judged for row in self.differences)


def replayed(
    told: Iterable[Conversation],
    before: Mind,
    after: Mind,
    marks: Mapping[tuple[str, str], Mark],
    taught: Mapping[str, str],
) -> Replayed:
    """Take every turn with both minds. `taught` maps a proposed wording, bare, to its topic."""
    found = Replayed()
    for one in told:
        found.sessions += 1
        _replay(one, before, after, expectations(one, marks, taught), found)
    return found


def expectations(
    told: Conversation, marks: Mapping[tuple[str, str], Mark], taught: Mapping[str, str]
) -> dict[str, tuple[str, str]]:
    """What should be answered, by turn, and how that is known."""
    known: dict[str, tuple[str, str]] = {}
    for turn, following in zip(told.turns, [*told.turns[1:], None], strict=True):
        mark = marks.get((told.session, turn.id))
        if mark is not None and mark.topic:
            known[turn.id] = (mark.topic, "marked by the trainer")
        elif mark is not None and mark.right and turn.topic:
            known[turn.id] = (turn.topic, "marked right")
        elif following is not None and following.taken:
            known[turn.id] = (following.taken, "the choice taken")
        elif (
            turn.question
            and turn.topic
            and following is not None
            and following.topic == turn.topic
            and "next" in following.moves
        ):
            known[turn.id] = (turn.topic, "the driver went along")
        elif bare(turn.text) in taught:  # last: what a driver did weighs more than a wording that may be a slip
            known[turn.id] = (taught[bare(turn.text)], "the wording taught")
    return known


def _replay(
    told: Conversation, before: Mind, after: Mind, known: Mapping[str, tuple[str, str]], found: Replayed
) -> None:
    base = own = State()
    apart = False
    for turn in told.turns:
        found.turns += 1
        base = replace(base, actor=turn.actor)
        was = take_turn(base, turn.text, mind=before, now=turn.at)
        now = take_turn(base, turn.text, mind=after, now=turn.at)
        a, b = Answered.of(was.reply), Answered.of(now.reply)
        if apart:
            mine = take_turn(replace(own, actor=turn.actor), turn.text, mind=after, now=turn.at)
            own, c = mine.state, Answered.of(mine.reply)
            if a == b != c:
                found.followed += 1
                found.found_their_step += a.say.startswith(NOTHING_OPEN) and c.kind in OPENED
        else:
            own = now.state
        if a != b:
            apart = True
            expected, how = known.get(turn.id, (None, ""))
            judged, why = judge(a, b, expected, how)
            found.differences.append(Difference(told.session, turn.id, turn.text, a, b, expected, judged, why))
        base = was.state


def judge(before: Answered, after: Answered, expected: str | None, how: str) -> tuple[Judged, str]:
    """Whether the second answer is better, and why."""
    if before.kind == "hazard" and after.kind != "hazard":
        return "worse", "a hazard is no longer answered"
    if before.kind == "refuse" and after.kind != "refuse":
        return "worse", "an unsafe wish is no longer refused"
    if expected is None:
        return "look", "nobody has said what is right here"
    gain = _score(after, expected) - _score(before, expected)
    if gain == 0:
        return "look", f"neither is nearer to {expected} ({how})"
    return ("better" if gain > 0 else "worse"), f"{expected} is right: {how}"


def _score(answer: Answered, expected: str) -> int:
    """3 answered right, 2 offered, 1 asked back or said it does not know, 0 answered wrong."""
    if answer.topic == expected and answer.kind in OPENED:
        return 3
    if expected in answer.options:
        return 2
    return 1 if answer.kind in ("clarify", "unknown", "control") else 0
