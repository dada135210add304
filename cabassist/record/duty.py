"""Duty status by voice: what was said, and the entries that the rules are applied to."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from cabassist.estimate.duty import DutyEntry, Status
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare
from cabassist.record.entries import DUTY, Entry, Record, made

WORDS: dict[str, Status] = {
    "on duty": "on duty", "on duty not driving": "on duty", "working": "on duty",
    "driving": "driving", "at the wheel": "driving", "behind the wheel": "driving",
    "off duty": "off duty", "off the clock": "off duty",
    "berth": "berth", "in the berth": "berth", "sleeper berth": "berth", "in the sleeper": "berth", "sleeper": "berth",
    "in the sleeper berth": "berth", "in berth": "berth",
}  # fmt: skip
"""How a status is said."""
_HINTS = ("duty", "driving", "wheel", "clock", "berth", "sleeper", "working")
_ALONE = frozenset(WORDS) - {"working", "at the wheel", "behind the wheel", "sleeper"}
"""Those that are a status when nothing else is said."""
_STATUS = "|".join(sorted((re.escape(words) for words in WORDS), key=len, reverse=True))
_TIME = r"(?:[ ,]*(?:now|again|from now(?: on)?|as of now|starting now|(?P<since>(?:since|from|at|as of) .{1,30})))?"
_TIME_WORD = Lazy(
    r"\d[\d:]*|am|pm|noon|midday|midnight|half|quarter|past|to|o'?clock|last|night|yesterday|this|the|in|at|morning|evening|afternoon|tonight|today|about|around|hundred|oh"
    r"|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|thirty|forty|fifty"
)
_I = r"(?:i'?m|i am|i'?ve (?:gone|come|been)|i have (?:gone|come)|i went|i came|i was|i've been|i have been|me)"
_PUT = r"(?:(?:please )?(?:put|log|mark|set|switch|change|show|make) (?:me|my (?:duty )?status|status|duty status)(?: (?:down|over))?(?: (?:as|to|on|in))?|(?:my )?(?:duty )?status(?: is)?|going|coming|switching to|switch to|start|starting|log|clocking|(?:just )?(?:came|went|got|been))"
_SAID = Lazy(rf"^(?:(?:{_I}|{_PUT}) (?:now |just |back |going |gone |coming )*)?(?P<status>{_STATUS}){_TIME}$")
_OTHER = Lazy(
    rf"^(?:driver |put |log |mark |set )?(?P<who>[a-z][\w'-]{{1,20}}?)(?:'s| is| goes| went| came| has gone| as|:)? (?:now |just |back |going |on to )*(?P<status>{_STATUS}){_TIME}$"
)
_NOT_NAMES = frozenset(
    "i we you he she it they who whos what whats when how is are am was not never still stop keep start since while if after before the a an my "
    "nobody noone someone somebody anybody everyone coach bus team furnace engine status duty night safe snow wind no yes can may long far just "
    "stay staying time hours hour go going been being legal too without about and or so then now".split()
)
OTHER_DRIVER = frozenset({"partner", "co-driver", "codriver", "relief", "mate"})
"""Words that mean the other driver."""


@dataclass(frozen=True)
class StatusSaid:
    """A status as it was said. `who` is empty for the speaker; `since` holds the words of a time."""

    status: Status
    who: str = ""
    since: str = ""
    named_as_driver: bool = False
    """Whether the words call the person a driver, so that an unknown name is meant as one."""


def status_in(text: str, known: Iterable[str] = ()) -> StatusSaid | None:
    """The duty status that a text states as one, or None. A question, or a status in passing, is none."""
    said = bare(text)
    if not names_any(said, _HINTS) or text.rstrip().endswith("?") or not _only_a_time(said):
        return None
    mine = _SAID.match(said)
    if mine is not None:
        if said == mine["status"] and said not in _ALONE:
            return None
        return StatusSaid(WORDS[mine["status"]], since=mine["since"] or "")
    theirs = _OTHER.match(re.sub(r"^(?:the|my) (?:other driver|co-?driver|co driver|partner|relief)", "partner", said))
    if theirs is None or theirs["who"] in _NOT_NAMES:
        return None
    who, named = theirs["who"], said.startswith("driver ")
    if who in {name.lower() for name in known} or named or who in OTHER_DRIVER:
        return StatusSaid(WORDS[theirs["status"]], who, theirs["since"] or "", named)
    certain = re.search(rf"\b{re.escape(who)}(?:'s| is| goes| went) ", said) and WORDS[theirs["status"]] != "on duty"
    return StatusSaid(WORDS[theirs["status"]], who, theirs["since"] or "") if certain else None


def _only_a_time(said: str) -> bool:
    """Whether what follows "since", "from" and the like is a time and no more."""
    after = re.split(r"\b(?:since|from(?! now)|as of(?! now)|at(?! the wheel))\b", said, maxsplit=1)
    return len(after) < 2 or all(_TIME_WORD.fullmatch(word) for word in after[1].split())


_WRITTEN = Lazy(r"\b(?P<hour>[01]?\d|2[0-3])[ :](?P<minute>[0-5]\d)\b")
"""A time of day in figures: "04:00", also where the colon was taken out."""


def time_in(words: str, now: datetime) -> datetime | None:
    """The latest moment up to `now` that a time of day in the words can mean; None when there is none in it."""
    from cabassist.language.calculation_amounts import amounts_among
    from cabassist.language.numbers import find_numbers, words_of

    spoken = words_of(words)
    clocks = [a for a in amounts_among(spoken, [word.text for word in spoken]) if a.unit == "clock"]
    if clocks:
        hour, sure = clocks[0].value, not clocks[0].pieces
    elif (written := _WRITTEN.search(bare(words))) is not None:
        hour, sure = int(written["hour"]) + int(written["minute"]) / 60, written["hour"].startswith("0")
    else:
        numbers = find_numbers(spoken)
        if len(numbers) != 1:
            return None
        hour, sure = numbers[0].value, numbers[0].value > 12
        if hour >= 100:
            hour = hour // 100 + hour % 100 / 60
    if not 0 <= hour <= 24:
        return None
    hours = [hour % 24] if sure or hour > 12 else [hour % 24, (hour + 12) % 24]
    midnight = now.replace(hour=0, minute=0, second=0, microsecond=0)
    tried = [midnight + timedelta(days=day, hours=h) for day in (-1, 0) for h in hours]
    past = [moment for moment in tried if moment <= now]
    return max(past) if past else None


def said(status: Status, start: datetime, at: datetime, by: str, who: str, words: str) -> Entry:
    """The entry of a status that began at `start`."""
    return made(DUTY, at, by, {"status": status, "at": start.isoformat(), "driver": who, "said": words})


def changes(record: Record, driver: str) -> list[tuple[datetime, Status]]:
    """A driver's changes of status in the order of their time; a later word about the same moment counts."""
    found: dict[datetime, Status] = {}
    for entry in record.of(DUTY):
        status = entry.text("status")
        if status not in ("off duty", "berth", "driving", "on duty") or driver_of(entry).lower() != driver.lower():
            continue
        try:
            at = datetime.fromisoformat(entry.text("at"))
        except ValueError:
            at = entry.at
        found[at if at.tzinfo else entry.at] = status  # type: ignore[assignment]
    return sorted(found.items())


def driver_of(entry: Entry) -> str:
    """Whose status an entry is: who was named, else who spoke."""
    return entry.text("driver") or entry.by


def drivers(record: Record) -> list[str]:
    """Everyone whose status was told, the latest first."""
    found: dict[str, str] = {}
    for entry in record.of(DUTY):
        name = driver_of(entry)
        found.pop(name.lower(), None)
        found[name.lower()] = name
    return list(found.values())[::-1]


def duty_entries(record: Record, driver: str, now: datetime) -> list[DutyEntry]:
    """A driver's status as stretches up to `now`, each to the next change; the last goes on."""
    moved = [(at, status) for at, status in changes(record, driver) if at <= now]
    ends: list[datetime | None] = [*(at for at, _ in moved[1:]), None]
    return [DutyEntry(status, at, end) for (at, status), end in zip(moved, ends, strict=True)]
