"""A driver's day in spells, and two drivers with hours left: driven, worked and off duty are told apart by their words."""

from __future__ import annotations

from cabassist.estimate.driving_hours import ON_DUTY_H, REST_H
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.sums.working_roles import Role, by_words, distances
from cabassist.sums.working_sheet import Sheet
from cabassist.sums.working_unplaced import WORDED
from cabassist.sums.working_week import hours


def _spell(amount: Amount) -> bool:
    return 0 < hours(amount) <= ON_DUTY_H


_SPELLS = (
    Role(
        "driven",
        "h|min|n",
        r"drove|driven|driving|drive|behind the wheel|at the wheel|rolled|ran",
        r"(?:hours? )?(?:of )?(?:driving|driven|behind the wheel|at the wheel|on the road)",
        _spell,
    ),
    Role(
        "other_work",
        "h|min|n",
        r"load(?:ed|ing)|unload(?:ed|ing)|fuel(?:ed|ing|led|ling)|pre ?trip(?:ped)?|inspect\w*|post ?trip|wait(?:ed|ing)|paperwork|work(?:ed|ing)|clean(?:ed|ing)|dump(?:ed|ing)",
        r"(?:hours? )?(?:of |on (?:the )?|for )?(?:load\w*|unload\w*|fuel\w*|pre ?trip\w*|inspect\w*|post ?trip|wait\w*|paperwork|other work|work|clean\w*|dump\w*|on duty not driving)",
        _spell,
    ),
    Role(
        "off_inside",
        "h|min|n",
        r"off(?: duty)?(?: for)?|rest(?:ed|ing)?|slept|sleeping|napp?(?:ed|ing)?|break|lunch|dinner|bunk|berth",
        r"(?:hours? )?(?:of )?(?:off(?: duty)?|rest|nap|break|lunch|dinner|sleep|in the (?:bunk|berth|sleeper)|asleep|hotel)",
        _spell,
    ),
)
_OTHER = r"(?:he|she|his|her|him|co ?driver(?:'s)?|other (?:guy|driver|fellow|man|one)(?:'s)?|partner(?:'s)?|mate|second driver|relief|buddy|wife|husband|team ?mate)"
_TOTAL_DUTY = r"\bon (?:duty|the clock) (?:for |about |now |since )*<(?:h|n)>|<(?:h|n)> (?:hours? )?(?:on duty|on the clock|of duty)\b|\b(?:of (?:it|that|them|those|which)|including|except)\b"


def spells_said(s: Sheet, used: list[Amount]) -> bool:
    """Note the sums of a day told in several spells; False when it is told otherwise or one spell is unclear."""
    q = s.q
    if q.has(_TOTAL_DUTY) or q.has(rf"\b{_OTHER}\b"):
        return False
    rows = distances(q, _SPELLS)
    sums = dict.fromkeys((role.name for role in _SPELLS), 0.0)
    spent: list[Amount] = []
    drives, last = 0, "driven"
    for amount, row in zip(q.amounts, rows, strict=True):
        if amount in used or amount.unit not in ("h", "min", "n") or amount.per:
            continue
        if (
            amount.unit == "n"
            and spent
            and spent[-1].end == amount.start
            and spent[-1].unit == "h"
            and amount.value < 60
        ):
            sums[last] += amount.value / 60  # "4 h 45"
            spent.append(amount)
            continue
        near = [(distance, index) for index, distance in enumerate(row) if distance is not None]
        if not near:
            return False
        role = _SPELLS[min(near)[1]].name
        if role == "off_inside" and hours(amount) >= REST_H:
            if drives:
                return False  # eight hours off after driving begin the day anew
            spent.append(amount)
            continue
        drives += role == "driven"
        last = role
        sums[role] += hours(amount)
        spent.append(amount)
    if drives < 2 and not (drives and sums["other_work"] and sums["off_inside"]):
        return False
    used += spent
    for name, total in sums.items():
        if total:
            s.note(name, total, "h")
    return True


_ON_DUTY = r"\bon duty\b|\bduty\b"
_ME = r"(?:i|i've|me|mine|my clock|myself|i am)"
_FRESH = r"\b(?:fresh|rested|just (?:came|come|got|getting) (?:on|up|off)|full (?:night|ten|clock)|slept|hasn't driven|has not driven|not driven|haven't driven|havent driven|have not driven|hasnt driven|nothing yet|starting fresh)\b"
TOGETHER = r"\b(?:between (?:us|them|both)|combined|together|altogether|total|in all|both of us|the two of us|as a team|among us)\b"


def pair_said(s: Sheet) -> bool:
    """ "I have 3 left and he is fresh": what each of two drivers has left, to be added up; False when it is told otherwise."""
    q = s.q
    other, me = compiled(rf"\b{_OTHER}\b").search(q.frame), compiled(rf"\b{_ME}\b").search(q.frame)
    if other is None or not q.has(TOGETHER):
        return False
    cut = max(other.start(), me.start()) if me is not None else other.start()
    first, second = q.frame[:cut], q.frame[cut:]
    his, mine = (second, first) if me is None or other.start() == cut else (first, second)
    parts = [_left(q, part, q.frame.find(part)) for part in (mine, his)]
    if None in parts or q.has(_ON_DUTY):
        return False
    for name, part in zip(("left_a", "left_b"), parts, strict=True):
        assert part is not None
        s.note(name, part[0], "h")
    driven = q.every(
        r"({h|n}) (?:hours? )?(?:driven|driving|behind the wheel)|(?:drove|driven|driving|done) (?:for |about )?(?:{h|n})"
    )
    s.note(WORDED, by_words(q, *_beside(q), *driven))
    if any(part is not None and not part[1] for part in parts):
        s.assumed.append("10 hours of driving after 8 off, less what was driven; the on-duty limit not checked")
    s.note("ask", "sum")
    return True


def _beside(q: Question) -> list[Amount]:
    """A rest of eight hours and more, and how many they are: told beside what is left."""
    return [a for a in q.amounts if a.unit in ("people", "driver") or (a.unit in ("h", "n") and a.value >= REST_H)]


def _left(q: Question, part: str, offset: int) -> tuple[float, bool] | None:
    """Hours of driving that one driver has left, and whether they were said as left."""
    for pattern, said in (
        (r"({h}|{n}) (?:hours? )?(?:more )?(?:of driving )?(?:left|remaining|available|to go|to drive)", True),
        (r"\b(?:have|has|got|with) (?:about )?({h}|{n})(?! (?:off|in the|of sleep|sleep|rest|behind))", True),
    ):
        match = compiled(pattern).search(part)
        if match is not None:
            return min(10.0, hours(q.amount_at(offset + match.start(1)))), said
    if compiled(_FRESH).search(part):
        return 10.0, False
    match = compiled(
        r"\b(?:drove|driven|driving|done) (?:for |about )?({h|n})|({h|n}) (?:hours? )?(?:driven|driving|behind the wheel)"
    ).search(part)
    return (
        (max(0.0, 10.0 - hours(q.amount_at(offset + match.start(match.lastindex or 1)))), False)
        if match is not None
        else None
    )
