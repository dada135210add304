"""Driving left around rests in the sleeper berth: "seven in the berth, drove four before and three after, how long can I drive".

49 CFR 395.1(g)(3), passenger carriers: two periods in the berth, 8 hours in all and neither under 2, stand for the 8 hours off in a
row; what is driven before and after a rest counts together. Periods that make no pair leave all hours since the last full rest.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Literal

from cabassist.coach import Coach
from cabassist.estimate.driving_hours import (
    HELPER,
    REST_H,
    SPLIT_LEAST_H,
    SPLIT_SOURCE,
    hours_left,
    hours_left_around_rest,
    split_rest,
)
from cabassist.estimate.quantities import figure, shown, withheld
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.told_parted import Part, last_at, parts

Place = Literal["before", "between", "after", ""]

_BERTH = Lazy(r"\b(?:berth|bunk|sleeper|bed|slept|sleeping|asleep|laid down|lay down)\b")
_NAMED = Lazy(r"\b(?:berth|bunk|sleeper|split)\b")
_DROVE = Lazy(r"\b(?:drove|driven|driving|drive|at the wheel|behind the wheel|wheel)\b")
_DUTY = Lazy(r"\b(?:on duty|duty|on the clock)\b(?! off)")
_WORKED = Lazy(
    r"\b(?:work\w*|load\w*|unload\w*|fuel\w*|pre ?trip|post ?trip|inspect\w*|clean\w*|dump\w*|paperwork|other)\b"
)
_ASKED = Lazy(
    r"\b(?:how (?:long|much|many|far)|what)\b[^?.]*\b(?:drive|driving|left|remain\w*|have i|do i have|wheel|go)\b|\b(?:driving|drive time|hours) (?:left|remaining)\b|\b(?:left|remaining)(?: to drive)? $|\bcan i (?:still |legally )?drive\b"
)
_OTHER = Lazy(
    r"\b(?:week\w*|partner|co ?driver|between us|he|she|adverse|snow\w*|miles|arriv\w*|eta|counts? as|does (?:that|it|this) count)\b|<(?:mi|km|mph|day|gal|clock|people)(?:/\w+)?>|\b(?:sixty|seventy) in\b"
)
_BEFORE = Lazy(
    r"^ (?:hours? )?(?:of )?(?:\w+ ){0,2}?before\b|^ (?:hours? )?(?:beforehand|first|ahead of (?:it|that))\b"
)
_AFTER = Lazy(r"^ (?:hours? )?(?:of )?(?:\w+ ){0,2}?(?:after|since|afterwards?)\b|^ (?:hours? )?(?:more|again|later)\b")
_BETWEEN = Lazy(r"^ (?:hours? )?(?:of )?(?:\w+ ){0,2}?(?:between|in between)\b")
_SAID_BEFORE = Lazy(
    r"\bbefore(?: (?:that|it|the|my|berth|bunk|rest|sleep|this|i|had|then))* (?:drove |driven |drive )?$"
)
_SAID_AFTER = Lazy(r"\b(?:after|since|afterwards?)(?: (?:that|it|the|my|berth|bunk|rest|sleep|then|i|ve|have|'))* (?:drove |driven |driving )?$")  # fmt: skip
_SAID_BETWEEN = Lazy(r"\b(?:between|in between)(?: (?:them|the|two|those|rests?|berths?|periods?|i|ve|have|had|'))* (?:drove |driven |driving )?$")  # fmt: skip
_LIST_IN_BERTH = Lazy(r"^ (?:hours? )?(?:and|plus|then) <(?:n|h)> (?:hours? )?(?:\w+ )?(?:split )?(?:in|of|at) (?:the |a |my )?(?:\w+ )?(?:berth|bunk|sleeper)\b")  # fmt: skip
_RIGHT_AWAY = Lazy(
    r"^ (?:more )?(?:hours? )?(?:of )?(?P<doing>driving|drive|driven|at the wheel|behind the wheel|on duty|work\w*|loading|fuell?ing)\b"
)
_RULE = Lazy(
    r"^ (?:hours? )?(?:split|rule|limit|in all|in total)\b|^ and (?:<n>|\d+) split\b|^ (?:hour )?(?:sleeper |berth |bunk )?split\b"
)
_OFF = Lazy(r"\b(?:off duty|off|lunch|break|hotel|meal|nap)\b")


_AROUND = Lazy(r"\b(?:split|before (?:it|that|the berth)|between (?:them|the two)|(?:berth|bunk|sleeper)\b.*\b(?:before|since|after (?:it|that|the))\b)")  # fmt: skip
_IN_TURN = "I can't place these hours. Tell them in the order in which they were: drove four, five in the berth, drove three, three in the berth."


@dataclass
class _Rests:
    """What was told: periods in the berth, and the hours driven, on duty and worked around them."""

    berths: list[float] = field(default_factory=list)
    driven: dict[Place, float] = field(default_factory=dict)
    duty: dict[Place, float] = field(default_factory=dict)
    worked: dict[Place, float] = field(default_factory=dict)

    def add(self, what: str, where: Place, hours: float) -> bool:
        """Note hours of driving, duty or other work; False when that place is taken already."""
        held = {"drove": self.driven, "duty": self.duty, "worked": self.worked}[what]
        if where in held:
            return False
        held[where] = hours
        return True

    def on_duty(self, where: Place) -> float:
        """Hours on duty of a stretch: as told, or the driving and the work in it."""
        return self.duty.get(where, self.driven.get(where, 0.0) + self.worked.get(where, 0.0))


def around_berth(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours left to drive when one or two periods in the berth are told with the driving around them."""
    if not _NAMED.search(q.frame) or not _ASKED.search(q.frame) or _OTHER.search(q.frame):
        return None
    told = _told(q)
    unclear = told is None or not told.driven or not 1 <= len(told.berths) <= 2
    # more driving than time on duty: something is heard wrong
    if told is None or unclear or any(told.on_duty(where) + 1e-9 < hours for where, hours in told.driven.items()):
        return withheld("driving left", "h", _IN_TURN, source=SPLIT_SOURCE) if _AROUND.search(q.frame) and len(q.amounts) > 2 else None  # fmt: skip
    if max(told.berths) >= REST_H:
        return _rested(told)
    return _one(told) if len(told.berths) == 1 else _two(told)


def _told(q: Question) -> _Rests | None:
    """The spells with their places; None when one has none."""
    found = _Rests()
    doing = ""
    every = [part for part in parts(q) if part.kind != "people"]
    spells = [part for part in every if part.kind in ("time", "n") and not part.amount.per]
    if len(spells) != len(every):
        return None
    ordered = not any(_where(part) for part in spells)
    spent = ""
    for part in spells:
        if not 0 < part.value < 24:
            return None
        if _RULE.search(part.right) and not _DROVE.search(part.left) and part.value == REST_H:
            continue  # "an eight hour split"
        if _names_berth(part, found):
            continue  # "before the two": a period that was told, named again
        left = part.left.rpartition(spent)[2] if spent and spent in part.left else part.left
        said, spent = _doing(part, left)
        doing = said or doing
        if doing == "berth":
            found.berths.append(part.value)
            continue
        if doing in ("", "off"):
            return None
        where = _IN_ORDER[min(len(found.berths), 3)] if ordered else _where(part)
        if not where or not found.add(doing, where, part.value):
            return None
    if len(found.berths) == 1 and ordered:
        for held in (found.driven, found.duty, found.worked):  # behind the only rest is after it
            if "between" in held:
                held["after"] = held.pop("between")
    return found


_AGAIN = Lazy(r"\b(?:before|after|since) (?:the |my |that )?$")


def _names_berth(part: Part, found: _Rests) -> bool:
    return part.value in found.berths and _AGAIN.search(part.left) is not None


def _doing(part: Part, left: str) -> tuple[str, str]:
    """What a spell was spent on, and the word right behind it that tells it, which tells nothing of the next one."""
    at_once = _RIGHT_AWAY.search(part.right)
    if at_once is not None:
        word = at_once["doing"]
        doing = "duty" if word == "on duty" else "drove" if word.startswith("driv") or "wheel" in word else "worked"
        return doing, word
    if _LIST_IN_BERTH.search(part.after):
        return "berth", ""
    after = f" {' '.join(part.right.split()[:4])} "
    for pattern, doing in ((_BERTH, "berth"), (_OFF, "off")):
        match = pattern.search(after)
        if match is not None and not _DROVE.search(after[: match.start()]) and not _DROVE.search(left):
            return doing, match[0]
    ends = {
        "berth": last_at(_BERTH, left),
        "drove": last_at(_DROVE, left),
        "duty": last_at(_DUTY, left),
        "worked": last_at(_WORKED, left),
        "off": last_at(_OFF, left),
    }
    best = max(ends, key=lambda one: ends[one])
    if ends[best] >= 0:
        return best, ""
    for pattern, doing in ((_DROVE, "drove"), (_DUTY, "duty"), (_WORKED, "worked")):
        match = pattern.search(after)
        if match is not None:
            return doing, match[0]
    return "", ""


_IN_ORDER: tuple[Place, ...] = ("before", "between", "after", "")
"""Where a spell lies when all are told in the order in which they were, by the rests before it."""


def _where(part: Part) -> Place:
    """Where a spell lies by its own words: before, between or after the rests."""
    if _BETWEEN.search(part.right) or _SAID_BETWEEN.search(part.left):
        return "between"
    if _BEFORE.search(part.right) or _SAID_BEFORE.search(part.left):
        return "before"
    if _AFTER.search(part.right) or _SAID_AFTER.search(part.left):
        return "after"
    return ""


def _rested(told: _Rests) -> Estimate | None:
    """8 hours in a row in the berth: only what came after it counts."""
    if len(told.berths) != 1:
        return None
    left = hours_left(told.driven.get("after", 0.0), told.on_duty("after"))
    line = f"{shown(told.berths[0])} h in the berth in a row: the limits start again after it."
    return replace(left, working=(line, *left.working))


def _one(told: _Rests) -> Estimate | None:
    """One period under 8 hours: what is driven on both sides of it counts, with or without a second period."""
    if set(told.driven) | set(told.duty) | set(told.worked) > {"before", "after"}:
        return None
    rest = told.berths[0]
    found = hours_left_around_rest(
        told.driven.get("before", 0.0), told.driven.get("after", 0.0), told.on_duty("before"), told.on_duty("after")
    )
    if rest < SPLIT_LEAST_H:
        why = f"{shown(rest)} hours in the berth are under 2 and make no split."
    else:
        other = max(SPLIT_LEAST_H, REST_H - rest)
        why = f"{shown(rest)} hours in the berth are no full rest: with another of at least {shown(other)} they make the split."
    notes = ("8 hours off in a row before the driving told first", *_duty_note(told), *found.assumptions)
    return replace(found, assumptions=notes, verdict=f"{why} Before and after count together. {found.verdict}")


def _two(told: _Rests) -> Estimate | None:
    """Two periods: a valid pair, or none, and what then counts."""
    pair = split_rest(*told.berths)
    valid = pair.verdict.startswith("Valid")
    if valid and "between" in told.driven:
        # the hours before the first rest are off once the pair is whole: what counts begins at its end
        found = hours_left_around_rest(
            told.driven["between"], told.driven.get("after", 0.0), told.on_duty("between"), told.on_duty("after")
        )
        how = "Counted from the end of the first rest."
    else:
        found = hours_left_around_rest(
            told.driven.get("before", 0.0) + told.driven.get("between", 0.0), told.driven.get("after", 0.0),
            told.on_duty("before") + told.on_duty("between"), told.on_duty("after"),
        )  # fmt: skip
        how = "Before and after count together." if valid else "So all since the last 8 hours off counts."
    word = "A valid split." if valid else pair.verdict.split(" Check ")[0].replace("Not valid:", "Not a valid split:")
    notes = (*_duty_note(told), *found.assumptions) if valid else ("8 hours off in a row before the driving told first", *_duty_note(told), HELPER)  # fmt: skip
    return replace(
        found, working=(*pair.working, *found.working), assumptions=notes, verdict=f"{word} {how} {found.verdict}",
        also=(*found.also, figure("in the berth", sum(told.berths), "h")),
    )  # fmt: skip


def _duty_note(told: _Rests) -> tuple[str, ...]:
    return () if told.duty or told.worked else ("no other work than the driving",)
