"""A reading that stands changed by as much as is said: "two less than that", "dropped another two since", "one more just got on"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import correcting, danger_first, telling
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind, Outcome, State, Stored
from cabassist.language.reading_parts import Amount
from cabassist.language.reading_types import Heard, Reading

HEADS_LAST = timedelta(hours=12)
"""How long a head count is one that people get on and off of; an older one is of another trip."""
_OWN = {"F": ("degrees",), "C": ("degrees",), "persons": ("persons",)}
"""Units that may be said for the one in which a reading stands."""


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The reading that stands, higher or lower by what was said; None when nothing is told so or it is not clear of what."""
    if not state.stored or state.pending is not None or danger_first.danger(state, mind) is not None:
        return None
    from cabassist.language.shifts import shift

    found = shift(text, mind.vocabulary)
    if found is None:
        return None
    last = state.last
    if found.heads:
        standing = [one for one in state.stored if one.reading.what == "passengers" and now - one.at <= HEADS_LAST]
        fitting: Sequence[Reading] = [one.reading for one in standing[-1:]]
    else:
        named = _named(state, found.thing, mind)
        if named is None and found.thing and not found.corrects:
            return None  # "the heat is two less now" is of nothing that was read
        fitting = named if named is not None else _meant(state, now, mind)
        if found.amount is None and not found.corrects and not (last is not None and last.readings):
            return None
    summed = last is not None and last.kind == "calculation" and (found.amount is None or found.amount.unit != "")
    if not fitting and (found.heads or not found.corrects or last is None or summed):
        return None
    if not fitting:  # by how much it differs is never what it is
        return telling.told(Heard(ask="Than what? Say what it is of, and the figure itself."), text, state, mind, now)
    if len(fitting) > 1:
        return telling.told(Heard(ask="Of which one? Say its name and what it is now."), text, state, mind, now)
    old = fitting[0]
    value = _shifted(old, found.amount, found.way) if found.amount is not None else None
    if value is None:
        ask = f"So far: {telling.echo(old, mind.coach)} What is it now, as a figure?"
        return telling.told(Heard(ask=ask), text, state, mind, now)
    from cabassist.language.plausibility import refusal

    new = replace(old, value=value[0], unit=value[1], approx=False, low=None, high=None, flag=None, said=text)
    refused = refusal(new, mind.coach)
    if refused is not None:
        return telling.told(Heard(refused=(refused,)), text, state, mind, now)
    heard = Heard((new,), withdrawn=(old,) if found.corrects else ())
    return telling.told(heard, text, state, mind, now)


def _named(state: State, thing: str, mind: Mind) -> Sequence[Reading] | None:
    """The newest standing reading of what the words name, none when there is none of it; None when they name nothing."""
    if not thing:
        return None
    from cabassist.language.putting_right import named

    standing = [one.reading for one in _lately(state.stored)]
    _, fitting = named(thing, mind.coach, mind.vocabulary, standing)
    if fitting is None:
        return None
    newest = {(one.what, one.which): one for one in fitting}
    return tuple(newest.values())


def _lately(stored: Sequence[Stored]) -> list[Stored]:
    return [one for one in stored if stored[-1].at - one.at <= correcting.LATELY]


def _meant(state: State, now: datetime, mind: Mind) -> tuple[Reading, ...]:
    """What "that" means: what was just told, also when since then only steps without a figure were said."""
    just = correcting.just_told(state, mind)
    last = state.last
    if just or last is None or last.kind not in ("control", "step") or len(state.told) != 1:
        return just
    newest = state.stored[-1]
    fresh = now - newest.at <= correcting.APART and state.told[0] == newest.reading
    return state.told if fresh and not AMOUNT.search(last.say.lower()) else ()


def _shifted(old: Reading, by: Amount, way: int) -> tuple[float, str | None] | None:
    """The value that far from a reading, and its unit; None when the amount is of another unit, so that it cannot be said."""
    if old.value is None or by.number is None:
        return None
    value, unit = old.value, old.unit
    if unit == "fraction" and by.unit == "percent":
        value, unit = 100 * value, "percent"
    elif by.unit not in ("", unit, *_OWN.get(unit or "", ())) or (unit == "fraction" and by.number >= 1):
        return None
    return round(value + way * (by.number or 0.0), 4), unit
