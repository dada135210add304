"""Upkeep, carried kit and the hand-over in the conversation: told as done or missing, and read back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import duty, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.journal.events import Event
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare
from cabassist.record import kit, upkeep
from cabassist.record.entries import Entry

if TYPE_CHECKING:
    from cabassist.record.handover import Page

SPOKEN = 4
TURNAROUND = "service-at-turnaround"
"""The walk that ends a trip."""
_DUE = Lazy(
    r"^(?:(?:so |tell me |read me |show me |list )*(?:what(?:'s| is| are)|which|any|is|are there any|anything)(?: the)? )?(?:(?:upkeep|maintenance|work|service|jobs?|anything|care) (?:is |that's |that is |are )?(?:over)?due(?: (?:now|today|this week|soon|next|on (?:the coach|her|it)))?|(?:over)?due(?: (?:now|today|this week|soon|next|on (?:the coach|her|it)|for upkeep))?|due (?:upkeep|maintenance|jobs?|work)|upkeep(?: list)?)$"
)
_MISSING = Lazy(
    r"^(?:what(?:'s| is)|which|any|is any|list(?: the)?|show(?: me)?(?: the)?)? ?(?:of the )?(?:kit |tools? |gear |equipment )?(?:is |are |that's )?(?:missing(?: (?:from (?:the )?(?:kit|coach|bus)|kit|tools))?|kit that is missing)$"
)
_HAND_OVER = Lazy(
    r"^(?:give me |read(?: me)?(?: out)? |tell me |show(?: me)? |do )?(?:the |a )?(?:hand ?-?over|handover|shift)(?: of the coach)? (?:summary|page|sheet|report|briefing|in a minute|please)$|^(?:sum(?:marise|marize)? (?:up )?the (?:hand ?-?over|coach))$"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """Work that is done, a trip that is over, kit that is missing or back, or one of these asked back; else None."""
    said = bare(text)
    if names_any(said, ("due", "upkeep")) and _DUE.match(said) and said not in ("due", "upkeep"):
        return due(state, mind, now)
    if names_any(said, ("hand", "shift", "sum")) and _HAND_OVER.match(said):
        from cabassist.record.handover import lines_of, spoken

        page = page_now(state, mind, now)
        return walking.control(state, spoken(page), lines=tuple(lines_of(page)), topic="hand-over-coach")
    if "missing" in said and _MISSING.match(said) and said != "missing":
        return missing(state, mind)
    item = upkeep.done_in(text, mind.coach)
    if item is not None:
        on = upkeep.day_in(text, now)
        entry = upkeep.done(item.id, on, now, state.actor, miles=odometer_mi(state), said=text)
        day = "" if on.date() == now.date() else f", {on:%a %d %b}"
        line = f"Done and on record: {item.name[:1].lower()}{item.name[1:]}{day}, by {state.actor}."
        return _kept(state, entry, f"{item.name}", line, _next_time(item.id, state, entry, mind, now))
    if upkeep.ends_trip(text):
        entry = upkeep.trip_ended(now, state.actor, text)
        return _kept(state, entry, "the end of the trip", "The trip is over: work by trips counts one more.")
    found = kit.kit_in(text, mind.coach)
    return _kit(state, text, found[0].id, found[1], mind, now) if found is not None else None


def _next_time(item: str, state: State, entry: Entry, mind: Mind, now: datetime) -> str:
    rows = upkeep.due_list(mind.coach, state.record.with_entries(entry), now, odometer_mi(state))
    row = next((row for row in rows if row.id == item), None)
    return f"Next: {row.words}." if row is not None else ""


def _kept(state: State, entry: Entry, what: str, *lines: str) -> Outcome:
    state = walking.remembered(state, what)
    state = replace(state, record=state.record.with_entries(entry), failures=0)
    shown = tuple(line for line in lines if line)
    return walking.control(
        state, " ".join(shown).replace("WARNING: ", "Warning. "), lines=shown, events=(entry.draft(),)
    )


def _kit(state: State, text: str, item_id: str, where: kit.Where, mind: Mind, now: datetime) -> Outcome | None:
    away = {row.item.id: row for row in kit.missing(mind.coach, state.record)}
    item = next(item for item in mind.coach.kit if item.id == item_id)
    if where == "back":
        if item_id not in away:
            return None  # nobody missed it: the words mean something else
        entry = kit.moved(item, "back", now, state.actor, text)
        return _kept(state, entry, item.name, f"Back on record: {item.name}. Its place is {item.place}.")
    entry = kit.moved(item, "missing", now, state.actor, text)
    line = f"Missing, on record: {item.name}. Its place is {item.place}."
    if item_id in kit.REQUIRED:
        stop = f"WARNING: The coach must not drive without {kit.REQUIRED[item_id]} ({kit.REQUIRED_RULE})."
        return _kept(state, entry, item.name, stop, line)
    return _kept(state, entry, item.name, line)


def missing(state: State, mind: Mind) -> Outcome:
    """The kit that was said to be missing."""
    rows = kit.missing(mind.coach, state.record)
    if not rows:
        return walking.control(state, "Nothing was said to be missing.")
    lines = tuple(f"{row.item.name}, from {row.item.place}." for row in rows)
    return walking.control(state, "Missing: " + " ".join(lines), lines=("Missing:", *lines))


def due(state: State, mind: Mind, now: datetime) -> Outcome:
    """What is due, the most pressing first."""
    rows = upkeep.pressing(upkeep.due_list(mind.coach, state.record, now, odometer_mi(state)))
    if not rows:
        return walking.control(state, "Nothing is due.", topic=None)
    lines = tuple(f"{row.name}: {row.words}." for row in rows)
    late = [row for row in rows if row.state in ("overdue", "due", "soon")]
    unknown = len([row for row in rows if row.state == "no record"])
    parts = [f"{row.name}: {row.words}." for row in late[:SPOKEN]]
    if len(late) > SPOKEN:
        parts.append(f"And {len(late) - SPOKEN} more.")
    if unknown:
        parts.append(f"{unknown} {'has' if unknown == 1 else 'have'} no record; they are on the screen.")
    return walking.control(state, " ".join(parts) or lines[0], lines=lines)


def after_walk(outcome: Outcome, mind: Mind, now: datetime) -> Outcome:
    """A walk that has just ended without a skip counts as upkeep where the profile says so, and may make other work due."""
    entries: list[Entry] = []
    state = outcome.state
    for event in outcome.events:
        if event.kind != "walk" or event.payload.get("move") != "end":
            continue
        topic = event.payload.get("topic")
        for item in mind.coach.upkeep:
            said = f"walked: {topic}"
            if item.by_walk and item.topic == topic and not event.payload.get("skipped"):
                entries.append(upkeep.done(item.id, now, now, state.actor, miles=odometer_mi(state), said=said))
            if item.after and item.after == topic:
                entries.append(upkeep.needed(item.id, now, state.actor, miles=odometer_mi(state), said=said))
        if topic == TURNAROUND:
            entries.append(upkeep.trip_ended(now, state.actor, f"walked: {topic}"))
    if not entries:
        return outcome
    state = replace(state, record=state.record.with_entries(*entries))
    return outcome._replace(state=state, events=(*outcome.events, *(entry.draft() for entry in entries)))


def odometer_mi(state: State) -> float | None:
    """The latest odometer reading [mi], or None."""
    for stored in reversed(state.stored):
        if stored.reading.what == "odometer":
            return upkeep.miles_of(stored.reading.value, stored.reading.unit)
    return None


def page_now(state: State, mind: Mind, now: datetime, events: Iterable[Event] = ()) -> Page:
    """The hand-over as it stands; `events` are the journal's, for what was asked and by whom."""
    from cabassist.dialogue.board import board_of
    from cabassist.record.handover import Level, page_of

    board = board_of(state, mind, now)
    levels = [
        Level(line.name, line.level_words, line.age_words, line.left_words, line.act_words) for line in board.lines
    ]
    return page_of(
        mind.coach,
        state.record,
        now,
        levels=levels,
        odometer_mi=odometer_mi(state),
        events=events,
        duty=duty.lines_of(state.record, now),
        titles={name: mind.knowledge.title(name) for name in mind.knowledge.ids},
    )
