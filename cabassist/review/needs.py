"""What needs work, ranked by how often and how bad.

A row is a question in all its wordings, a step of a procedure, or a misheard word. What is counted on it are troubles, and
each kind of trouble has a weight: a question answered wrongly weighs most, one that was only asked back about the least.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from difflib import SequenceMatcher
from typing import Literal

from cabassist.language.normalise import bare
from cabassist.review.clusters import Likeness, clustered
from cabassist.review.conversation import NOTHING_OPEN, OPENERS, Conversation, Turn, Walk
from cabassist.review.marks import Mark

Trouble = Literal[
    "marked wrong", "unanswered", "nothing open", "choice not taken", "rephrased", "unsure", "stopped", "left",
    "skipped", "asked why", "repeated", "misheard",
]  # fmt: skip

WEIGHT: dict[Trouble, float] = {
    "marked wrong": 8.0,
    "unanswered": 3.0,
    "choice not taken": 2.5,
    "rephrased": 2.5,
    "stopped": 2.0,
    "nothing open": 1.0,
    "unsure": 1.0,
    "misheard": 1.5,
    "skipped": 1.0,
    "left": 1.0,
    "asked why": 0.5,
    "repeated": 0.5,
}
"""How bad each trouble is. Our own scale: a wrong answer is the worst fault, a driver who was left alone the next."""
UNSURE = 0.55
"""Confidence of an answer below which it counts as unsure."""
REPHRASE_S = 180.0
"""Seconds within which a second question counts as the first in other words."""
REPHRASE_LIKENESS = 50.0
"""Likeness of the two, 0 to 100, by the words they share."""
MAX_NOWHERE = 3
"""Times that "next" leads nowhere after one question that are counted; a driver who is lost says it often."""
MAX_EXAMPLES = 12


@dataclass(frozen=True)
class Example:
    """Where a trouble can be read."""

    session: str
    turn: str
    text: str


@dataclass
class Need:
    """A row of what needs work."""

    sort: Literal["question", "step", "word"]
    name: str
    """The leading wording, `topic:step`, or the word that was heard."""
    troubles: Counter[Trouble] = field(default_factory=Counter)
    sessions: set[str] = field(default_factory=set)
    wordings: Counter[str] = field(default_factory=Counter)
    topics: Counter[str] = field(default_factory=Counter)
    """What was answered or offered."""
    examples: list[Example] = field(default_factory=list)

    @property
    def badness(self) -> float:
        """How often times how bad, summed."""
        return sum(WEIGHT[trouble] * count for trouble, count in self.troubles.items())

    def add(self, trouble: Trouble, session: str, turn: str, text: str) -> None:
        """Count one."""
        self.troubles[trouble] += 1
        self.sessions.add(session)
        if len(self.examples) < MAX_EXAMPLES and all(e.turn != turn for e in self.examples):
            self.examples.append(Example(session, turn, text))

    def take(self, other: Need) -> None:
        """Take in another row of the same question."""
        self.troubles.update(other.troubles)
        self.sessions |= other.sessions
        self.wordings.update(other.wordings)
        self.topics.update(other.topics)
        self.examples = [*self.examples, *other.examples][:MAX_EXAMPLES]


class Gathering:
    """Takes conversations one by one; `needs` ranks what they held. Memory grows with the wordings, not the sessions."""

    def __init__(self, marks: Mapping[tuple[str, str], Mark], taught: Iterable[str] = (), since: str = "") -> None:
        """`taught` are wordings that were taught by `since` (ISO 8601): what went wrong with them before is mended."""
        self._marks = marks
        self._taught, self._since = frozenset(map(bare, taught)), datetime.fromisoformat(since) if since else None
        self._questions: dict[str, Need] = {}
        self._steps: dict[str, Need] = {}
        self._words: dict[str, Need] = {}

    def add(self, told: Conversation) -> None:
        """Count the troubles of one session."""
        question: Turn | None = None
        nowhere = 0
        for index, turn in enumerate(told.turns):
            following = told.turns[index + 1] if index + 1 < len(told.turns) else None
            mark = self._marks.get((told.session, turn.id)) if self._marks else None
            if self._since is not None and turn.at < self._since and bare(turn.text) in self._taught:
                question = None
                continue
            if turn.verdict:
                question, nowhere = turn, 0
            elif turn.kind == "step" and mark is None and not turn.heard:
                continue  # most turns are a next that went well
            for trouble in _troubles(turn, following, mark):
                self._question(turn, told.session).add(trouble, told.session, turn.id, turn.text)
            lost = turn.say.startswith(NOTHING_OPEN) and question is not None and not _opened(question)
            if lost and question is not None and nowhere < MAX_NOWHERE:
                nowhere += 1
                self._question(question, told.session).add("nothing open", told.session, question.id, question.text)
            if turn.heard or mark is not None:
                self._misheard(told.session, turn, mark)
        for walk in told.walks:
            self._walk(told, walk)

    def _question(self, turn: Turn, session: str) -> Need:
        key = bare(turn.text) or turn.text
        need = self._questions.setdefault(key, Need("question", key))
        need.wordings[key] += 1
        need.topics.update([turn.topic] if turn.topic else [*turn.options, *turn.nearest][:3])
        return need

    def _misheard(self, session: str, turn: Turn, mark: Mark | None) -> None:
        meant = mark.said if mark is not None and mark.said else turn.text if turn.heard else ""
        heard = turn.heard or (turn.text if meant else "")
        for wrong, right in differing(heard, meant):
            need = self._words.setdefault(wrong, Need("word", wrong))
            need.wordings[right] += 1
            need.add("misheard", session, turn.id, turn.text)

    def _walk(self, told: Conversation, walk: Walk) -> None:
        found: list[tuple[Trouble, int]] = [("asked why", step) for step in walk.whys]
        found += [("repeated", step) for step in walk.repeats]
        found += [("skipped", step) for step, _ in walk.skips]
        if walk.ended == "stop" and walk.step < walk.of:
            found.append(("stopped", walk.step))
        if walk.ended == "left" and walk.step < walk.of:
            found.append(("left", walk.step))
        if not found:
            return
        turns = {turn.step[0]: turn for turn in told.turns if turn.topic == walk.topic and turn.step}
        for trouble, step in found:
            name = f"{walk.topic}:{step}"
            need = self._steps.setdefault(name, Need("step", name))
            need.topics[walk.topic] += 1
            turn = turns.get(step)
            need.add(trouble, told.session, turn.id if turn else "", turn.say if turn else "")

    def needs(self, likeness: Likeness) -> list[Need]:
        """The rows, worst first. To be asked once: rows of one question are joined."""
        weights = {key: need.badness for key, need in self._questions.items()}
        rows = []
        for group in clustered(weights, likeness):
            leader = self._questions[group[0]]
            for other in group[1:]:
                leader.take(self._questions[other])
            rows.append(leader)
        rows += [*self._steps.values(), *self._words.values()]
        return sorted(rows, key=lambda need: (-need.badness, need.name))


def _opened(turn: Turn) -> bool:
    return turn.kind in OPENERS or turn.taken is not None


def _troubles(turn: Turn, following: Turn | None, mark: Mark | None) -> Iterable[Trouble]:
    if mark is not None and mark.right is False:
        yield "marked wrong"
    if mark is not None and mark.right:
        return
    if turn.kind == "unknown" and any(c.isalpha() for c in turn.text):
        taken = following is not None and following.taken is not None
        yield "choice not taken" if taken else "unanswered"
    elif turn.kind == "clarify" and turn.options:
        if following is None or following.taken is None:
            yield "choice not taken"
    elif turn.question and turn.kind == "procedure" and turn.confidence < UNSURE:
        yield "unsure"
    if turn.question and turn.kind == "procedure" and following is not None and _rephrased(turn, following):
        yield "rephrased"


def _rephrased(turn: Turn, following: Turn) -> bool:
    from rapidfuzz import fuzz

    soon = 0 <= (following.at - turn.at).total_seconds() <= REPHRASE_S
    if not (soon and following.question and following.topic != turn.topic):
        return False
    return fuzz.token_set_ratio(bare(turn.text), bare(following.text)) >= REPHRASE_LIKENESS


def differing(heard: str, meant: str) -> list[tuple[str, str]]:
    """The runs of words that differ between what was heard and what was meant: (wrong, right)."""
    a, b = heard.lower().split(), meant.lower().split()
    if not a or not b:
        return []
    runs = SequenceMatcher(None, a, b, autojunk=False).get_opcodes()
    return [(" ".join(a[i:j]), " ".join(b[k:n])) for tag, i, j, k, n in runs if tag == "replace"]
