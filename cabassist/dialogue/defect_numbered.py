"""What is told of a defect by its number, long after it was logged: "defect 2, it's shut and strapped".

It is an answer to what the defect still asks, or it is asked what changed; a new defect with the number in its words it never is.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import defects, walking
from cabassist.dialogue.defect_undone import numbered
from cabassist.dialogue.types import Asking, Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare

_TOLD = Lazy(
    r"^(?:(?:for|about|on|as for|regarding|so|and|ok|okay|well|oh|hey|now) )*(?:the )?(?:defect|fault) (?:number |no )?(?P<number>\d+|one|two|three|four|five|six|seven|eight|nine|ten) (?P<rest>.+)$"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The answer to words about an open defect that is named by its number; None for anything else."""
    said = bare(text)
    found = _TOLD.match(said) if "defect" in said or "fault" in said else None
    if found is None or "?" in text or mind.wishes.find(text):
        return None
    named = numbered(state, found["number"])
    meant = named[1] if named is not None else None
    if meant is None:
        return None
    if (
        meant.unclear
        and meant.asks
        and (answer := defects.answered(state, meant, found["rest"], mind, now)) is not None
    ):
        return answer
    if meant.unclear and meant.asks:
        asking = Asking("defect", (meant.key,), "works")
        return walking.control(replace(state, asking=asking), f"Defect {meant.number}: {meant.what}. {meant.asks}")
    line = f"Defect {meant.number}: {meant.what}. Say it is fixed, where it is, or how bad it is."
    return walking.control(state, line)
