"""A sum put once more in plain words of our own, with one thing in it changed: nothing of it is stored as a reading."""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import reckoning
from cabassist.dialogue.types import Mind, Outcome, State


def worked_for(state: State, question: str, calculation: str, mind: Mind, now: datetime) -> Outcome | None:
    """The answer to a question that holds all its numbers; None when it comes out as another sum."""
    from cabassist.sums.working import work_out

    ranking = mind.ranked(question)
    again = work_out(question, ranking.calculations, coach=mind.coach, network=mind.role_network, stored=(), now=now)
    if again is None or again.estimate is None or again.calculation != calculation:
        return None
    return reckoning.answer(state, again, question, ranking, mind)
