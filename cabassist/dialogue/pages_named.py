"""A page of the record named by one word: "defects", "rounds", "trip"."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from cabassist.dialogue import defects, duty, keeping, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare

_NAMED = Lazy(
    r"^(?:(?:the|my|our|all|show|show me|list|read|read me|open) )*(?P<page>defects?|faults?|snags?|rounds?|trips?|upkeep|due|service list|kit|duty|duty status)(?: (?:page|list|log|please))*$"
)


def named(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The page of the record that a text names and nothing else; None while an answer is waited for."""
    found = _NAMED.match(bare(text)) if state.asking is None and state.pending is None else None
    return _PAGES[found["page"].rstrip("s")](state, mind, now) if found is not None else None


def _defects(state: State, mind: Mind, now: datetime) -> Outcome:
    return defects.listed(state, mind)


def _rounds(state: State, mind: Mind, now: datetime) -> Outcome:
    names = [entry.name for entry in mind.coach.rounds if entry.topic in mind.knowledge.ids]
    if not names:
        return walking.control(state, "This coach's profile names no rounds.")
    lines = (f"Rounds: {', '.join(names)}.", "Ask for one to walk it. Those walked are listed by `cabassist rounds`.")
    return walking.control(state, f"{lines[0]} Ask for one to walk it.", lines=lines)


def _trip(state: State, mind: Mind, now: datetime) -> Outcome:
    lines = (
        "A trip is followed from a trip file: `cabassist trip FILE`, or on the screen.",
        "Here I know what is told: say board for the supplies, or ask how far and how long.",
    )
    return walking.control(state, "A trip is followed from a trip file, or on the screen. Say board for the supplies.", lines=lines)  # fmt: skip


def _kit(state: State, mind: Mind, now: datetime) -> Outcome:
    return keeping.missing(state, mind)


def _duty(state: State, mind: Mind, now: datetime) -> Outcome:
    lines = duty.lines_of(state.record, now)
    return walking.control(state, lines[0] if lines else "No duty status on record.", lines=tuple(lines), topic=duty.TOPIC)  # fmt: skip


_PAGES: dict[str, Callable[[State, Mind, datetime], Outcome]] = {
    **dict.fromkeys(("defect", "fault", "snag"), _defects),
    "round": _rounds,
    "trip": _trip,
    "kit": _kit,
    **dict.fromkeys(("upkeep", "due", "service list"), keeping.due),
    **dict.fromkeys(("duty", "duty statu"), _duty),
}
