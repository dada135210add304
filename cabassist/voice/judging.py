"""What to do with what was heard: act, read it back, ask to say it again, or let it pass.

Every hypothesis is taken as if it had been typed, on a copy of the conversation's state, and hypotheses that lead to
the same answer support each other. What the engines and the matcher think of their own work is combined into one
confidence. A hazard needs little: asking once too often is better than missing one.
"""

from __future__ import annotations

import math
from collections.abc import Hashable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State
from cabassist.voice.heard import Hypothesis
from cabassist.voice.repair import Repairer
from cabassist.voice.worker import Hearing

Action = Literal["act", "confirm", "again", "ignore"]


@dataclass(frozen=True)
class Bounds:
    """Confidences, 0 to 1, from which on something is done."""

    act: float = 0.55
    """Open a procedure, obey a command, answer a question."""
    store: float = 0.72
    """Put a reading or a defect on record."""
    hazard: float = 0.42
    """Raise a hazard without asking first."""
    confirm: float = 0.22
    """Read back what was understood."""
    unrelated: float = 0.60
    """How sure the words must be before "I do not have that" is answered."""


BOUNDS = Bounds()
ALTERNATIVE = 0.6
"""What an alternative counts beside the best hypothesis of the same engine."""
_EXPECTED = 0.35
"""Share of the doubt that is gone when the words are exactly a sentence of the knowledge."""
_NOT_A_COMMAND = 0.5
"""What counts for a command that is no wording of one: two engines must agree."""
_BABBLE = 0.01
"""Below this confidence in its words a report of a hazard is no more than noise."""
_STORING = frozenset({"reading", "defect"})
_IN_OTHERS = 0.8
"""Share of an engine's doubt that goes to its alternatives, by their weight; the rest goes to what it does not name."""
_UNWEIGHED = 0.25
"""The part of that share which alternatives get that their engine does not weigh."""
_NEVER_SURER = 0.97
"""Chance that an engine is given at most: each errs now and then however sure it is."""
_LEAST_MEANING = 0.35
"""How sure an answer that would be given to typed words is at least."""
_LOOKED_AT = 6
"""Texts looked at, the likeliest first, as each costs a turn of the matcher."""
_SAFE = frozenset({"clarify", "unknown"})
"""Answers that do nothing but ask."""


@dataclass(frozen=True)
class Verdict:
    """What to do with an utterance. `text` is taken as said, `original` is what the recogniser wrote."""

    action: Action
    text: str
    original: str
    confidence: float
    engine: str = ""
    kind: str = ""


@dataclass(frozen=True)
class Understanding:
    """One way to understand the utterance: its words, how sure they are, and what would be answered."""

    text: str
    original: str
    words: float
    meaning: float
    reply: Reply
    engine: str


def judge(
    hearing: Hearing,
    state: State,
    *,
    mind: Mind,
    now: datetime,
    repairer: Repairer | None = None,
    bounds: Bounds = BOUNDS,
) -> Verdict:
    """The verdict on one utterance. Pure: nothing is stored.

    Alternatives are only looked at when the best hypotheses do not settle it, as each costs a turn of the matcher.
    """
    understand = _Understander(state, mind, now, repairer)
    hearing = parted_alike(hearing)
    best = [row for hypothesis in hearing.hypotheses for row in understand.best(hypothesis)]
    if not best:
        return Verdict("ignore", "", "", 0.0)
    others = [row for hypothesis in hearing.hypotheses for row in understand.alarming(hypothesis)]
    danger = _danger(hearing, [*best, *others], bounds)
    if danger is not None:
        return danger
    if any(hypothesis.weighed for hypothesis in hearing.hypotheses):
        return _verdict(understand.weighed(hearing), bounds, exclusive=True)
    verdict = _verdict(best, bounds)
    if verdict.action == "act" or not any(hypothesis.alternatives for hypothesis in hearing.hypotheses):
        return verdict
    more = [row for hypothesis in hearing.hypotheses for row in understand.alternatives(hypothesis)]
    return _verdict([*best, *more], bounds)


def parted_alike(hearing: Hearing) -> Hearing:
    """The hearing with the same sounds in the same words: "alight" becomes "a light" when the surer engine heard that."""
    surest: dict[str, Hypothesis] = {}
    for hypothesis in sorted(hearing.hypotheses, key=word_confidence):
        surest[_letters(hypothesis.text)] = hypothesis

    def parted(text: str) -> str:
        held = surest.get(_letters(text))
        return text if held is None else held.text

    return replace(
        hearing,
        hypotheses=tuple(
            replace(
                hypothesis,
                text=parted(hypothesis.text),
                alternatives=tuple(replace(other, text=parted(other.text)) for other in hypothesis.alternatives),
            )
            for hypothesis in hearing.hypotheses
        ),
    )


def _letters(text: str) -> str:
    return text.replace(" ", "")


def chances(hearing: Hearing) -> dict[str, float]:
    """How likely each text is what was said, by all engines together: of the texts and "none of them" one is right.

    Each engine spreads its own chances over its text, its alternatives and everything else; those of the engines are
    multiplied, as they err apart from each other.
    """
    spread: list[tuple[dict[str, float], float]] = []
    for hypothesis in hearing.hypotheses:
        if not hypothesis.text:
            continue
        sure = min(word_confidence(hypothesis), _NEVER_SURER)
        others = {other.text: other.confidence for other in hypothesis.alternatives if other.text != hypothesis.text}
        whole = sum(others.values()) if hypothesis.weighed else len(others) / _UNWEIGHED
        given = {
            text: (1 - sure) * _IN_OTHERS * (weight if hypothesis.weighed else 1.0) / max(whole, 1e-9)
            for text, weight in others.items()
        }
        given[hypothesis.text] = sure
        spread.append((given, 1 - sum(given.values())))
    texts = dict.fromkeys(text for given, _ in spread for text in given)
    weights = {text: math.prod(given.get(text, rest) for given, rest in spread) for text in texts}
    none = math.prod(rest for _, rest in spread)
    return {text: weight / (sum(weights.values()) + none) for text, weight in weights.items()}


def _verdict(rows: list[Understanding], bounds: Bounds, *, exclusive: bool = False) -> Verdict:
    """The verdict on rows; `exclusive` ones are chances of which only one can be right, others support each other."""
    groups = _grouped(rows)
    support = {
        group: sum(row.words * row.meaning for row in listed)
        if exclusive
        else 1 - math.prod(1 - row.words * row.meaning for row in listed)
        for group, listed in groups.items()
    }
    chosen = max(support, key=lambda group: support[group])
    best = max(groups[chosen], key=lambda row: row.words * row.meaning)
    confidence = support[chosen]
    strange = max((row for row in rows if row.meaning <= 0.0), key=lambda row: row.words, default=None)
    if exclusive and confidence < bounds.confirm and strange is not None and strange.words > confidence:
        best = strange
    action: Action
    if best.meaning <= 0.0:
        confidence = best.words if exclusive else max(row.words for row in rows)
        action = "act" if confidence >= bounds.unrelated else "again"
    elif confidence >= (bounds.store if best.reply.kind in _STORING else bounds.act):
        action = "act"
    else:
        action = "confirm" if confidence >= bounds.confirm else "again"
    return Verdict(action, best.text, best.original, confidence, best.engine.partition(" ")[0], best.reply.kind)


def _danger(hearing: Hearing, rows: list[Understanding], bounds: Bounds) -> Verdict | None:
    """A hazard that any hypothesis reports, or that was spotted."""
    reports = [row for row in rows if row.reply.kind == "hazard" and row.words >= _BABBLE]
    if reports:
        surest: dict[str, float] = {}
        for row in reports:
            surest[row.engine] = max(row.words, surest.get(row.engine, 0.0))
        best = max(reports, key=lambda row: row.words)
        confidence = 1 - math.prod(1 - words for words in surest.values())
        # An engine that is surer of something else makes it a question: "a light out" is heard as "alight".
        doubted = any(row.reply.kind != "hazard" and row.meaning > 0 and row.words > confidence for row in rows)
        action: Action = "act" if confidence >= bounds.hazard and not doubted else "confirm"
        return Verdict(action, best.text, best.original, confidence, best.engine, "hazard")
    if hearing.spotted:
        return Verdict("confirm", hearing.spotted[0], hearing.best.text, bounds.confirm, "spotter", "hazard")
    return None


class _Understander:
    """Takes hypotheses as if they had been typed, each text once."""

    def __init__(self, state: State, mind: Mind, now: datetime, repairer: Repairer | None) -> None:
        self._state, self._mind, self._now, self._repairer = state, mind, now, repairer
        self._replies: dict[str, Reply] = {}

    def best(self, hypothesis: Hypothesis) -> list[Understanding]:
        """The best text of an engine, as heard and as repaired."""
        return self._both(hypothesis.text, word_confidence(hypothesis), hypothesis.engine)

    def weighed(self, hearing: Hearing) -> list[Understanding]:
        """Every text that may have been said, each with its chance and as an engine of its own."""
        likely = sorted(chances(hearing).items(), key=lambda row: -row[1])[:_LOOKED_AT]
        engines = {text: h.engine for h in reversed(hearing.hypotheses) for text in h.texts}
        return [
            replace(row, engine=f"{engines[text]} {number}")
            for number, (text, chance) in enumerate(likely)
            for row in self._both(text, chance, engines[text])
        ]

    def alternatives(self, hypothesis: Hypothesis) -> list[Understanding]:
        """The other texts of an engine."""
        sure = ALTERNATIVE * word_confidence(hypothesis)
        return [row for other in hypothesis.alternatives for row in self._both(other.text, sure, hypothesis.engine)]

    def alarming(self, hypothesis: Hypothesis) -> list[Understanding]:
        """The other texts that hold the sign of a hazard."""
        sure = ALTERNATIVE * word_confidence(hypothesis)
        texts = [other.text for other in hypothesis.alternatives if self._mind.hazards.find(other.text)]
        return [row for text in texts for row in self._both(text, sure, hypothesis.engine)]

    def _both(self, original: str, words: float, engine: str) -> list[Understanding]:
        if not original:
            return []
        repaired = self._repairer.repair(original).text if self._repairer else original
        return [self._one(text, original, words, engine) for text in dict.fromkeys([original, repaired])]

    def _one(self, text: str, original: str, words: float, engine: str) -> Understanding:
        if text not in self._replies:
            self._replies[text] = take_turn(self._state, text, mind=self._mind, now=self._now).reply
        reply = self._replies[text]
        return Understanding(text, original, words, meaning_confidence(reply, text, self._mind), reply, engine)


def word_confidence(hypothesis: Hypothesis) -> float:
    """How likely the words are right, 0 to 1; a sentence of the knowledge, word for word, rarely is a mishearing."""
    sure = hypothesis.confidence
    return 1 - (1 - sure) * (1 - _EXPECTED) if hypothesis.expected else sure


def meaning_confidence(reply: Reply, text: str, mind: Mind) -> float:
    """How sure the understanding of a text is, 0 to 1, if the words are right."""
    if reply.kind == "unknown":
        return 0.0
    if reply.kind == "clarify":
        return 0.6
    if reply.kind == "reading":
        return 1.0 if reply.readings or reply.withdrawn else 0.5
    if reply.kind in ("step", "control"):
        steer = mind.steering.find(text)
        return steer.sure if steer is not None else _NOT_A_COMMAND
    return max(_LEAST_MEANING, min(1.0, reply.confidence))


def _grouped(readings: list[Understanding]) -> dict[Hashable, list[Understanding]]:
    """Readings by what they lead to; of each engine only the surest counts."""
    groups: dict[Hashable, dict[str, Understanding]] = {}
    for row in readings:
        of_engine = groups.setdefault(outcome_of(row.reply), {})
        held = of_engine.get(row.engine)
        if held is None or row.words * row.meaning > held.words * held.meaning:
            of_engine[row.engine] = row
    return {group: list(rows.values()) for group, rows in groups.items()}


def outcome_of(reply: Reply) -> Hashable:
    """What a reply does, so that two can be compared."""
    stored = tuple((r.what, r.which, r.value, r.unit) for r in reply.readings)
    if reply.kind in _SAFE:
        return (reply.kind,)
    if reply.kind in ("procedure", "hazard", "refuse"):
        return (reply.kind, reply.topic)
    value = reply.estimate.value if reply.estimate else None
    return (reply.kind, reply.topic, stored, value, reply.say)
