"""Upkeep that comes round by days, miles or trips: heard as done, and what is due.

The work and its intervals stand in the coach's profile; cylinders are added by the dates stamped on them. What nobody
has recorded counts as due, because nobody knows better.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from cabassist.coach import Coach, Upkeep
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare, plain
from cabassist.record.entries import TRIP, UPKEEP, Entry, Record, made

State = Literal["overdue", "due", "soon", "not due", "no record", "ask"]
"""`ask` is a date that a rule leaves unsettled; `due` is today."""
SOON = 0.1
"""Share of the interval that is left from which on work is due soon; common practice, no source."""
SOON_DAYS = 3
MILES_IN_KM = 0.621371
ORDER: tuple[State, ...] = ("overdue", "due", "no record", "ask", "soon", "not due")

_SUBJECT = r"(?:(?:i|we|he|she|they|[a-z][\w'-]{1,20}) (?:have |has |just |already |had )*|i've (?:just |already )?|we've (?:just |already )?)?"
_NOT = Lazy(r"\b(?:not|n't|never|haven't|hasn't|didn't|half|need|needs|should|must|going to|will|when|if|before)\b")
_ASKS = Lazy(
    r"^(?:how|what|where|why|when|which|who|can|could|should|shall|may|must|do|does|did|is|are|has|have (?:i|we))\b"
)
_AGO = Lazy(r"\b(?:(?P<n>\d+|a|one|two|three|four|five|six|seven|ten) (?P<unit>day|week|month)s? ago|(?P<day>yesterday|last night)|last (?P<weekday>monday|tuesday|wednesday|thursday|friday|saturday|sunday)|on (?P<on>monday|tuesday|wednesday|thursday|friday|saturday|sunday))\b")  # fmt: skip
_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_COUNT = {"a": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "ten": 10}
_UNNAMED = re.sub(r"\?P<\w+>", "?:", _AGO.pattern)
_TAIL = (
    _UNNAMED
    + r"|today|tonight|just now|now|again|too|as well|everywhere|this (?:morning|afternoon|evening)|earlier|all (?:good|fine|ok|okay)|(?:and )?(?:it|they|all)(?: all)? (?:works?|(?:is|are) (?:fine|good|ok|okay))"
    r"|works|on (?:all|every|both|each)(?: \w+){1,3}|in (?:all|every|each)(?: \w+){1,2}|at (?:the|this)(?: \w+){1,2}|with (?:the )?\w+(?: \w+)?"
)
"""What may follow without saying anything about how the work went: trouble found on the way is no work done."""
_TRIP_OVER = Lazy(r"^(?:the |this |that |our )?trip(?:'s| is)? (?:over|done|finished|ended)$|^(?:that's )?(?:the )?end of (?:the |this )?trip$")  # fmt: skip


@dataclass(frozen=True)
class Due:
    """One piece of work as it stands."""

    id: str
    name: str
    topic: str
    state: State
    last: datetime | None
    """When it was last done; None when nobody recorded it."""
    by: str
    """Who did it last."""
    due_on: date | None
    """The day by which it is due, when days decide."""
    left_days: float | None
    left_miles: float | None
    left_trips: int | None
    words: str
    """When it is due, in words."""


def done_in(text: str, coach: Coach) -> Upkeep | None:
    """The work that a text tells as done, or None. Questions, plans and denials tell none."""
    said = bare(text)
    hinted = [
        item for item in coach.upkeep if names_any(said, _listed(item.verbs)) and names_any(said, _listed(item.things))
    ]
    if not hinted or _ASKS.match(said) or _NOT.search(said) or text.rstrip().endswith("?"):
        return None
    best: tuple[int, Upkeep] | None = None
    for item in hinted:
        verbs, things = _either(item.verbs), _either(item.things)
        tail = rf"(?: (?:and |the )*(?:{things}))*(?: (?:{_TAIL}))*"
        active = rf"^{_SUBJECT}(?:{verbs}) (?:(?:all|both|the|every|each|of|our|bay|door|new|whole|front|rear) )*(?P<thing>{things}){tail}$"
        passive = rf"^(?:(?:all|both|the|every|each|of|our|bay|door|front|rear) )*(?P<thing>{things})(?: (?:and |the )*(?:{things}))*(?: (?:are|is|were|was|has been|have been|got|all|been|now))* (?:{verbs}){tail}$"
        found = re.match(active, said) or re.match(passive, said)
        if found and (best is None or len(found["thing"]) > best[0]):
            best = (len(found["thing"]), item)
    return best[1] if best else None


def _listed(listed: str) -> tuple[str, ...]:
    return tuple(plain(word) for word in listed.split(",") if word.strip())


def _either(listed: str) -> str:
    return "|".join(re.escape(word) for word in sorted(_listed(listed), key=len, reverse=True))


def day_in(text: str, now: datetime) -> datetime:
    """When something was done, by words such as "yesterday" and "three days ago"; now when none are said."""
    found = _AGO.search(plain(text))
    if found is None:
        return now
    if found["day"]:
        return now - timedelta(days=1)
    weekday = found["weekday"] or found["on"]
    if weekday:
        back = (now.weekday() - _WEEKDAYS.index(weekday)) % 7
        return now - timedelta(days=back or 7)
    count = int(found["n"]) if found["n"].isdigit() else _COUNT[found["n"]]
    days = count * {"day": 1, "week": 7, "month": 30}[found["unit"]]
    return now - timedelta(days=min(days, 3650))


def done(item_id: str, on: datetime, at: datetime, by: str, *, miles: float | None, said: str) -> Entry:
    """The entry of work done `on` a day; `miles` is the odometer then, when it is known."""
    return made(UPKEEP, at, by, {"item": item_id, "on": on.isoformat(), "miles": miles, "said": said})


def needed(item_id: str, at: datetime, by: str, *, miles: float | None, said: str) -> Entry:
    """The entry that work which follows something else has become due from now on."""
    return made(UPKEEP, at, by, {"item": item_id, "from": at.isoformat(), "miles": miles, "said": said})


def ends_trip(text: str) -> bool:
    """Whether a text says that the trip is over."""
    return "trip" in text.lower() and _TRIP_OVER.match(bare(text)) is not None


def trip_ended(at: datetime, by: str, said: str) -> Entry:
    """The entry of a trip that has ended; work by trips is counted by these."""
    return made(TRIP, at, by, {"said": said})


def miles_of(value: float | None, unit: str | None) -> float | None:
    """An odometer reading in miles."""
    return None if value is None else value * MILES_IN_KM if unit == "km" else value


def due_list(coach: Coach, record: Record, now: datetime, odometer_mi: float | None = None) -> list[Due]:
    """Everything the profile asks for as it stands, the most pressing first.

    Args:
        coach: the profile.
        record: what was recorded as done.
        now: the moment asked about, with its zone.
        odometer_mi: the latest odometer reading [mi], when one is known.
    """
    found = [row for item in coach.upkeep if (row := _item(item, record, now, odometer_mi)) is not None]
    found += _cylinders(coach, now)
    return sorted(found, key=lambda row: (ORDER.index(row.state), row.due_on or date.max, row.name))


def pressing(rows: Sequence[Due]) -> list[Due]:
    """What is overdue, due, due soon or not recorded."""
    return [row for row in rows if row.state != "not due"]


def _time(entry: Entry, name: str) -> datetime | None:
    try:
        found = datetime.fromisoformat(entry.text(name))
    except ValueError:
        return None
    return found if found.tzinfo else None


def _item(item: Upkeep, record: Record, now: datetime, odometer_mi: float | None) -> Due | None:
    entries = [entry for entry in record.of(UPKEEP) if entry.text("item") == item.id]
    finished = [entry for entry in entries if _time(entry, "on") is not None]
    last = max(finished, key=lambda entry: _time(entry, "on") or entry.at, default=None)
    start = last
    if item.after:
        began = [entry for entry in entries if _time(entry, "from") is not None]
        start = max(began, key=lambda entry: entry.at, default=None)
        if start is None or (last is not None and last.at >= start.at):
            return None  # nothing has made it necessary since it was last done
    when = _time(last, "on") if last else None
    since = (_time(start, "from") or _time(start, "on")) if start else None
    by = last.by if last else ""
    if start is None or since is None:
        words = f"no record; {interval(item)}. Say when it was done"
        return Due(item.id, item.name, item.topic, "no record", None, "", None, None, None, None, words)
    limits: list[tuple[float, str]] = []
    left_days = left_miles = None
    left_trips: int | None = None
    due_on = None
    if item.every_days:
        due_on = (since + timedelta(days=item.every_days)).date()
        left_days = float((due_on - now.date()).days)
        limits.append((_rank(left_days, item.every_days, SOON_DAYS), _days(left_days, due_on)))
    unknown = ""
    if item.every_miles:
        at_miles = start.number("miles")
        if at_miles is not None and odometer_mi is not None:
            left_miles = item.every_miles - (odometer_mi - at_miles)
            words = f"{left_miles:,.0f} miles to go" if left_miles > 0 else f"{-left_miles:,.0f} miles over"
            limits.append((_rank(left_miles, item.every_miles, 0), words))
        else:
            unknown = f"{item.every_miles:,.0f} miles after it; say the odometer"
    if item.every_trips:
        left_trips = item.every_trips - sum(entry.at > since for entry in record.of(TRIP))
        words = f"{left_trips} trip{'s' if left_trips != 1 else ''} to go" if left_trips > 0 else "due by trips"
        limits.append((3.0 if left_trips > 1 else 2.0 if left_trips == 1 and item.every_trips > 1 else 3.0 if left_trips > 0 else 1.0, words))  # fmt: skip
    worst, words = min(limits, default=(1.0, unknown), key=lambda limit: limit[0])
    state: State = {0.0: "overdue", 1.0: "due", 2.0: "soon"}.get(worst, "not due")  # type: ignore[assignment]
    if unknown and limits:
        words = f"{words}; {unknown}"
    return Due(item.id, item.name, item.topic, state, when, by, due_on, left_days, left_miles, left_trips, words)


def _rank(left: float, whole: float, least: float) -> float:
    """0 overdue, 1 due now, 2 soon, 3 not due."""
    return 0.0 if left < 0 else 1.0 if left == 0 else 2.0 if left <= max(least, SOON * whole) and left < whole else 3.0


def _days(left: float, due_on: date) -> str:
    if left < 0:
        return f"overdue by {-left:.0f} day{'s' if left != -1 else ''}, since {due_on:%d %b}"
    return "due today" if left == 0 else f"due {due_on:%d %b %Y}, in {left:.0f} day{'s' if left != 1 else ''}"


def interval(item: Upkeep) -> str:
    """How often this work is due, in words."""
    parts = [
        f"every {item.every_days:g} days" if item.every_days else "",
        f"every {item.every_miles:,.0f} miles" if item.every_miles else "",
        ("each trip" if item.every_trips == 1 else f"every {item.every_trips} trips") if item.every_trips else "",
    ]
    return " or ".join(part for part in parts if part)


def _cylinders(coach: Coach, now: datetime) -> list[Due]:
    """The requalification of each cylinder, by the dates stamped on it."""
    from cabassist.estimate.cylinders import requalification

    rows = []
    for number, cylinder in enumerate(coach.propane.cylinders, 1):
        name = f"Requalify the {cylinder.role} cylinder"
        key = f"cylinder-{number}-{cylinder.role}"
        topic = "swap-or-refill-cylinder"
        try:
            found = requalification(
                cylinder.made, now.date(), last=cylinder.requalified, mark=cylinder.requalified_mark
            )
        except ValueError as error:
            rows.append(Due(key, name, topic, "ask", None, "", None, None, None, None, str(error)))
            continue
        if found.value is None:
            state: State = "overdue" if found.verdict.startswith("Overdue") else "ask"
            rows.append(Due(key, name, topic, state, None, "", None, None, None, None, found.verdict.rstrip(".")))
            continue
        figures = {figure.name: int(figure.value) for figure in found.also}
        due_on = date(figures["due year"], figures["due month"], 1)
        months = found.value
        state = "overdue" if months < 0 else "due" if months == 0 else "soon" if months <= 3 else "not due"
        left = float((due_on - now.date()).days)
        rows.append(Due(key, name, topic, state, None, "", due_on, left, None, None, found.verdict.rstrip(".")))
    return rows
