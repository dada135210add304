"""A question of the last sum put once more with something changed in it: what comes of it, and how its number compares."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue.types import Mind, State

if TYPE_CHECKING:
    from cabassist.sums.working import Worked

NEAR = 0.01
"""Share by which a number may differ and still be the one that a change must come to."""
SHARES = {"half": 1 / 2, "a third": 1 / 3, "a quarter": 1 / 4, "two thirds": 2 / 3, "three quarters": 3 / 4}
"""Parts of a whole as they are said."""


def worked_anew(
    whole: str, state: State, mind: Mind, now: datetime, hints: Sequence[tuple[str, float]] = ()
) -> Worked | None:
    """What a question comes to; None when that is no number. `hints` are calculations with their chance, as the matcher ranks them."""
    from cabassist.sums.working import work_out

    worked = work_out(whole, hints, coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    return worked if worked is not None and worked.estimate is not None and worked.estimate.value is not None else None


def number_of(worked: Worked | None) -> float:
    """The number of an answer, 0 where there is none."""
    return float(worked.estimate.value) if worked and worked.estimate and worked.estimate.value is not None else 0.0
