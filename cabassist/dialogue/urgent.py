"""Dangers that the network tells: which of them has a procedure, and what is said at once of one that has none."""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import deciding, staying
from cabassist.dialogue.framing import without_interjection
from cabassist.dialogue.phrases import ANNOUNCE_CAUTION
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.danger_network import Judged
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.routing import BOUNDS, reported
from cabassist.language.wishes import asks_leave
from cabassist.record.held_brakes import is_held


def weighed(sign: str | None, text: str, judged: Judged | None, state: State, mind: Mind) -> str | None:
    """The hazard that a text reports, by the signs in it and by the network; None for none that has a procedure."""
    if judged is None:
        return sign
    if judged.danger < BOUNDS.judged_with_sign:
        # the least that any rule asks of the network; but a long story hides what one of its clauses says plainly
        return _told_in_passing(text, mind) if sign is not None else None
    if deciding.only_wished(text, judged, mind):
        return None  # "can I let it drip out on the highway"
    if sign is None and staying.wished(text, state, mind) is not None:
        return None  # what is unsafe because of the walk in hand is refused
    ranking = mind.ranked(without_interjection(text))
    seen = deciding.judged_beside(text, deciding.in_hand(state), ranking, mind) or judged
    return reported(ranking, sign, seen, mind.knowledge.hazards, supposed=asks_leave(text))


_CLAUSE = Lazy(r"[.;!?]+\s+|,\s+|…|\s-+\s")
_LEAST_WORDS = 3
PAST = Lazy(
    r"\b(?:ago|used to|back when|when i was|once|last (?:year|season|winter|summer|month|week|trip|time)|years? back|if|in case|would|could|might)\b"
)
"""What makes an old story or a supposition of a clause."""


def _told_in_passing(text: str, mind: Mind) -> str | None:
    """The hazard that one clause of a longer text reports by its sign, and of which the network is sure there; else None."""
    clauses = [clause for clause in _CLAUSE.split(text) if len(clause.split()) >= _LEAST_WORDS]
    if len(clauses) < 2 or PAST.search(plain(text)):
        return None
    for clause in clauses:
        sign = mind.hazards.find(clause)
        judged = mind.judge(clause) if sign is not None else None
        if sign is not None and judged is not None and judged.dangers.get(sign, 0.0) >= BOUNDS.judged_supposed:
            return sign
    return None


def told(state: State, text: str, judged: Judged | None, mind: Mind) -> Outcome | None:
    """What to do about a danger without a procedure: somebody under the coach, the coach rolling, water at the wires."""
    if judged is None or judged.danger < BOUNDS.judged_urgent or judged.wish > judged.danger:
        return None
    danger = mind.knowledge.urgent(judged.worst)
    if (
        danger is None
        or (danger.label == "runaway" and not state.rolling and is_held(text))
        or (asks_leave(text) and mind.wishes.find(text))
    ):
        return None
    lines = (f"{danger.signal}: {danger.first}", *danger.then, f"Source: {danger.source}")
    say = f"{ANNOUNCE_CAUTION[danger.signal]} {danger.first} {' '.join(danger.then[:2])}"
    reply = Reply("hazard", say, lines, topic=danger.topic, options=(danger.topic,), confidence=judged.danger)
    asking = Asking("choice", (danger.topic,))
    event = EventDraft("hazard", {"topic": danger.topic, "said": text, "confidence": round(judged.danger, 3)})
    after = replace(state, asking=asking, failures=0)
    return Outcome(after, deciding.standing(reply, state, mind), (event,))
