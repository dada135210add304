"""What the figure in a defect says of it: "front left tread is three thirty seconds" is out, whatever grade nobody gave it."""

from __future__ import annotations

import re
from datetime import datetime

from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind
from cabassist.language.normalise import bare

_LIMITS = frozenset({"tread-limit", "air-brake-verdict", "tire-pressure"})
_TREAD = re.compile(r"\btread\b")
_PARKED = "Do not drive"


def out_of_limit(what: str, mind: Mind, now: datetime) -> str:
    """The verdict on a figure by which the coach must not be driven; empty where there is none."""
    if not AMOUNT.search(bare(what)):
        return ""
    from cabassist.sums.working import work_out

    hints = (("tread-limit", 1.0),) if _TREAD.search(what.lower()) else ()
    worked = work_out(what, hints, coach=mind.coach, network=mind.role_network, stored=(), now=now)
    if worked is None or worked.estimate is None or worked.calculation not in _LIMITS:
        return ""
    return worked.estimate.verdict if _PARKED in worked.estimate.verdict else ""
