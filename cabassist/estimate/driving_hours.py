"""Driving and on-duty hours left for passenger carriers, 49 CFR 395.5, for one driver or two.

10 hours of driving and 15 on duty after 8 hours off in a row, and 60 hours in 7 days or 70 in 8. Time off duty in
between does not count toward the 15. There is no 34-hour restart and no 30-minute break for passengers: both are in
395.3, for goods. This is a helper, not a logging device, and every answer says so. Law changes: re-read the rule.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from itertools import pairwise
from typing import Literal, NamedTuple

from cabassist.estimate.duty import RESTING, DutyEntry, Span, Status, day_of, hours_by_day, hours_of, joined, spans
from cabassist.estimate.quantities import MEMORY, duration, exact, figure, ranged, shown, tidy, withheld
from cabassist.estimate.types import Estimate, Figure

DRIVING_H = 10.0
"""49 CFR 395.5(a)(1)."""
ON_DUTY_H = 15.0
"""49 CFR 395.5(a)(2)."""
REST_H = 8.0
ADVERSE_H = 2.0
"""Up to 2 hours more in adverse conditions, 49 CFR 395.1(b)(1), 2020 text."""
WEEK_H: dict[int, float] = {7: 60.0, 8: 70.0}
"""49 CFR 395.5(b): 70 in 8 only for a carrier that runs every day of the week."""
SPLIT_SUM_H, SPLIT_LEAST_H = 8.0, 2.0
"""Two periods in the berth, 8 hours in all, neither under 2: 395.1(g)(3), FMCSA summary table."""

HELPER = "A helper, not a logging device."
SOURCE = "49 CFR 395.5(a) and (b), passenger carriers (published); check that it is current"
ADVERSE_SOURCE = f"49 CFR 395.1(b)(1) (published); what counts as adverse, 395.2 ({MEMORY})"
SPLIT_SOURCE = f"49 CFR 395.1(g)(3), FMCSA summary (published, secondary); how to count around a rest {MEMORY}"
NO_RESTART = "no 34-hour restart and no 30-minute break for passengers: both are in 395.3, for goods"
HAIR = 1e-9

WeekDays = Literal[7, 8]
Adverse = Literal["met on the way", "known before"]
DRIVING: frozenset[Status | None] = frozenset({"driving"})
DUTY: frozenset[Status | None] = frozenset({"driving", "on duty"})
UNWRITTEN: frozenset[Status | None] = frozenset({None})


class _Week(NamedTuple):
    """On-duty hours of the carrier's days so far, today last; how many of its days are missing."""

    days_h: tuple[float, ...]
    limit_h: float
    missing: int
    notes: tuple[str, ...]

    @property
    def left_h(self) -> float:
        return self.limit_h - sum(self.days_h)


def hours_left(
    driven_h: float,
    on_duty_h: float,
    *,
    off_duty_inside_h: float = 0.0,
    earlier_days_h: Sequence[float] = (),
    today_h: float | None = None,
    week_total_h: float | None = None,
    week_days: WeekDays | None = None,
    adverse: Adverse | None = None,
    planned_driving_h: float | None = None,
) -> Estimate:
    """Driving hours left, from the hours since the last 8 hours off.

    Args:
        driven_h: hours driven since then.
        on_duty_h: hours on duty since then, with the driving in it.
        off_duty_inside_h: hours off duty that `on_duty_h` still contains; they do not count.
        earlier_days_h: on-duty hours of the days before today, oldest first, for the weekly limit.
        today_h: on-duty hours of today for the weekly limit; the on-duty hours above when left out.
        week_total_h: on-duty hours of the carrier's 7 or 8 days in one sum, today included, in place of the days.
        week_days: 7 for 60 hours in 7 days, 8 for 70 in 8; the careful 7 when left out.
        adverse: adverse conditions "met on the way" give up to 2 hours, "known before" none.
        planned_driving_h: driving still planned, to see whether it fits.

    Returns:
        Hours of driving left, the smallest of the limits; `also` has each limit.

    Raises:
        ValueError: hours below zero or above what a day or week has, or more driving than time on duty.

    Source: 49 CFR 395.5(a), (b); 395.1(b)(1).
    """
    driven = _hours(driven_h, "the driving")
    gross = _hours(on_duty_h, "the time on duty")
    off = _hours(off_duty_inside_h, "the time off duty")
    if off > gross + HAIR:
        raise ValueError(f"{shown(off)} hours off can't be inside {shown(gross)} hours. Say both again.")
    duty = gross - off
    if driven > duty + HAIR:
        raise ValueError(
            f"{shown(driven)} hours of driving can't be more than the {shown(duty)} on duty. "
            "Say all time on duty with the driving in it."
        )
    lines = [f"On duty: {shown(gross)} - {shown(off)} off duty = {shown(duty)} h."] if off else []
    week = _week(earlier_days_h, duty if today_h is None else _hours(today_h, "today"), week_total_h, week_days)
    return _answer(driven, duty, week, adverse, planned_driving_h, tuple(lines), ())


def hours_left_from_entries(
    entries: Sequence[DutyEntry],
    now: datetime,
    *,
    home: tzinfo = UTC,
    day_starts: time = time(0),
    week_days: WeekDays | None = None,
    earlier_days_h: Sequence[float] = (),
    rested_before: bool = False,
    berth_split: bool = False,
    adverse: Adverse | None = None,
    planned_driving_h: float | None = None,
) -> Estimate:
    """Driving hours left at `now`, from a driver's duty entries.

    Time that nobody wrote down counts as on duty; the range runs from driving to off duty.

    Args:
        entries: the driver's duty entries, in any order.
        now: the moment asked about.
        home: time zone of the home terminal.
        day_starts: when the carrier's 24-hour day begins there.
        week_days: 7 for 60 hours in 7 days, 8 for 70 in 8; the careful 7 when left out.
        earlier_days_h: on-duty hours of the days before the first entry's day, oldest first.
        rested_before: whether the first entry comes right after 8 hours off in a row.
        berth_split: whether the bunk counts as a sleeper berth and split rests may be used.
        adverse: adverse conditions "met on the way" give up to 2 hours, "known before" none.
        planned_driving_h: driving still planned, to see whether it fits.

    Returns:
        Hours of driving left; `also` has each limit. Without 8 hours off in the entries, and not `rested_before`, the
        number is only the most it can be and the verdict asks.

    Raises:
        ValueError: no entries, entries that overlap or run backwards, or times without a zone.

    Source: 49 CFR 395.5(a), (b); 395.1(b)(1), (g)(3).
    """
    found = spans(entries, now)
    if not found:
        raise ValueError("There are no duty entries yet. Say for example: on duty since six.")
    since, lines, sure = _counted_since(found, home, rested_before)
    notes: list[str] = []
    if berth_split and (pair := _last_split(found, since)) is not None:
        since = pair[0].end
        lines = (
            f"Split rest in the berth, {shown(pair[0].hours)} + {shown(pair[1].hours)} h: counted from the end of the"
            f" first, {_clock(since, home)}.",
        )
        notes.append(f"split rest counted after 395.1(g)(3) ({MEMORY}); the bunk must be a berth under 393.76")
    driven, duty = hours_of(found, DRIVING, since), hours_of(found, DUTY, since)
    unwritten = hours_of(found, UNWRITTEN, since)
    week = _week_from_entries(found, now, home, day_starts, week_days, earlier_days_h)
    careful = _answer(driven, duty + unwritten, week, adverse, planned_driving_h, lines, tuple(notes))
    careful = _with_clock(careful, now, home)
    careful = _with_rest(careful, found, now)
    if unwritten > 1 / 60:
        worst = _answer(driven + unwritten, duty + unwritten, week, adverse, None, (), ())
        best = _answer(driven, duty, _less(week, unwritten), adverse, None, (), ())
        careful = _replaced(
            careful,
            low=worst.value,
            high=best.value,
            note=f"{duration(unwritten)} are not written down: counted as on duty; low end as driving, high end as off",
            verdict=f"{duration(unwritten)} are not in the log: say what they were. {careful.verdict}",
        )
    if not sure:
        careful = _replaced(
            careful,
            low=0.0,
            high=careful.high,
            note="8 hours off in a row just before the first entry",
            verdict=f"Only if you had 8 hours off in a row before {_clock(since, home)}: {careful.verdict}",
        )
    return careful


def two_drivers(first: Estimate, second: Estimate, *, names: tuple[str, str] = ("first", "second")) -> Estimate:
    """Driving hours both drivers have between them when they take turns.

    Args:
        first: hours left of one driver, from this module.
        second: hours left of the other.
        names: what they are called.

    Raises:
        ValueError: one of the two has no number.

    Source: 49 CFR 395.5; each driver has limits of his own.
    """
    if first.value is None or second.value is None:
        raise ValueError("I need the hours of both drivers. Say driven and on duty for each.")
    total = first.value + second.value
    return ranged(
        "driving left for both",
        total,
        "h",
        _sum(first.low, second.low),
        _sum(first.high, second.high),
        working=(
            *(f"{names[0]}: {line}" for line in first.working),
            *(f"{names[1]}: {line}" for line in second.working),
            f"{shown(first.value)} + {shown(second.value)} = {shown(total)} h.",
        ),
        assumptions=(
            "the one who does not drive is off duty or in a berth that counts; working time eats his 15 hours",
            NO_RESTART,
            HELPER,
        ),
        source=SOURCE,
        verdict=(
            f"{_h(total)} of driving between both: {names[0]} {shown(first.value)}, {names[1]} {shown(second.value)}."
            f" {HELPER}"
        ),
        also=(figure(names[0], first.value, "h"), figure(names[1], second.value, "h")),
    )


def split_rest(first_h: float, second_h: float) -> Estimate:
    """Whether two periods in the sleeper berth make a valid split rest.

    Args:
        first_h: hours of one period.
        second_h: hours of the other.

    Returns:
        Hours in all; the verdict says valid or not.

    Raises:
        ValueError: hours below zero or beyond a day.

    Source: 49 CFR 395.1(g)(3); FMCSA summary table. Counting from memory.
    """
    first, second = _hours(first_h, "the first period"), _hours(second_h, "the second period")
    total, least = first + second, min(first, second)
    why, lacks = "", max(SPLIT_LEAST_H - least, SPLIT_SUM_H - total, 0.0)
    if least < SPLIT_LEAST_H - HAIR:
        why = f"{shown(least)} hours is under 2."
    elif total < SPLIT_SUM_H - HAIR:
        why = f"{shown(total)} hours in all is under 8."
    return exact(
        "split rest",
        total,
        "h",
        working=(
            f"{shown(first)} + {shown(second)} = {shown(total)} h, at least 8; shorter one {shown(least)} h, at least 2.",
        ),
        assumptions=(
            "both in a berth that counts (393.76); a team bunk may not",
            f"around each rest: driving before and after no more than 10 h, on duty no more than 15 ({MEMORY})",
            HELPER,
        ),
        source=SPLIT_SOURCE,
        also=(figure("too short by", 60 * lacks, "min"), figure("the shorter at least", SPLIT_LEAST_H, "h"))
        if why
        else (),
        verdict=f"{f'Not valid: {why}' if why else 'Valid.'} Check with the carrier that the bunk counts. {HELPER}",
    )


def hours_left_around_rest(
    driven_before_h: float, driven_after_h: float, on_duty_before_h: float, on_duty_after_h: float
) -> Estimate:
    """Driving hours left in a split rest: before and after a berth period count together.

    Args:
        driven_before_h: hours driven between the rest before that and this rest.
        driven_after_h: hours driven since this rest.
        on_duty_before_h: hours on duty in the same stretch before, driving included.
        on_duty_after_h: hours on duty since, driving included.

    Raises:
        ValueError: hours below zero, or more driving than time on duty.

    Source: 49 CFR 395.1(g)(3)(i)-(iv), from memory.
    """
    parts = [
        _hours(value, what)
        for value, what in (
            (driven_before_h, "the driving before"),
            (driven_after_h, "the driving after"),
            (on_duty_before_h, "the time on duty before"),
            (on_duty_after_h, "the time on duty after"),
        )
    ]
    if parts[0] > parts[2] + HAIR or parts[1] > parts[3] + HAIR:
        raise ValueError("Driving can't be more than time on duty. Say all time on duty with the driving in it.")
    drive, duty = DRIVING_H - parts[0] - parts[1], ON_DUTY_H - parts[2] - parts[3]
    left = max(0.0, min(drive, duty))
    return exact(
        "driving left",
        left,
        "h",
        working=(
            f"Driving: 10 - ({shown(parts[0])} + {shown(parts[1])}) = {shown(drive)} h.",
            f"On duty: 15 - ({shown(parts[2])} + {shown(parts[3])}) = {shown(duty)} h.",
        ),
        assumptions=("a valid split rest in a berth that counts; weekly limit not checked", NO_RESTART, HELPER),
        source=SPLIT_SOURCE,
        verdict=f"{_h(left)} of driving left, counted from memory of the rule: check with the carrier. {HELPER}",
        also=(figure("driving limit", drive, "h"), figure("on-duty limit", duty, "h")),
    )


def rest_needed(rest_so_far_h: float) -> Estimate:
    """Hours of rest still needed until the daily limits start again.

    Args:
        rest_so_far_h: hours off duty or in the berth, in a row, so far.

    Raises:
        ValueError: hours below zero.

    Source: 49 CFR 395.5(a): 8 consecutive hours off.
    """
    if not math.isfinite(rest_so_far_h) or rest_so_far_h < 0:
        raise ValueError(f"I can't use {rest_so_far_h} hours of rest. Say how long you have been off.")
    left = max(0.0, REST_H - rest_so_far_h)
    return exact(
        "rest still needed",
        left,
        "h",
        working=(f"8 - {shown(rest_so_far_h)} = {shown(REST_H - rest_so_far_h)} h.",),
        assumptions=("in a row, with no work in it; the weekly sum does not start again", NO_RESTART, HELPER),
        source=SOURCE,
        verdict=(
            f"{_h(left)} more off duty, then 10 hours of driving again. {HELPER}"
            if left
            else f"Rested: 10 hours of driving and 15 on duty again, if the week allows. {HELPER}"
        ),
    )


def restart() -> Estimate:
    """Answer to the wish for a 34-hour restart: there is none for passengers.

    Source: 49 CFR 395.3 and 395.5.
    """
    return withheld(
        "34-hour restart",
        "h",
        f"No. The 34-hour restart is for goods (395.3). With passengers old days drop out of the sum one by one. {HELPER}",
        source=f"49 CFR 395.3, 395.5 (published); {SOURCE}",
    )


def half_hour_break() -> Estimate:
    """Answer to the question for a 30-minute break: none is required with passengers, and none gains hours.

    Source: 49 CFR 395.3 and 395.5.
    """
    return withheld(
        "30-minute break",
        "h",
        f"Not required with passengers, and it gives no hours back: that rule is for goods (395.3). Rest when tired. {HELPER}",
        source=f"49 CFR 395.3, 395.5 (published); {SOURCE}",
    )


def _hours(value: float, what: str) -> float:
    if not math.isfinite(value) or value < 0:
        raise ValueError(f"I can't use {value} hours for {what}. Say the hours again.")
    if value > 24 * 8:
        raise ValueError(f"{shown(value)} hours for {what} is more than eight days have. Say the hours again.")
    return float(value)


def _answer(
    driven: float,
    duty: float,
    week: _Week | None,
    adverse: Adverse | None,
    planned_h: float | None,
    before: tuple[str, ...],
    notes: tuple[str, ...],
) -> Estimate:
    extra = ADVERSE_H if adverse == "met on the way" else 0.0
    limits = {"driving": tidy(DRIVING_H + extra - driven), "on-duty": tidy(ON_DUTY_H + extra - duty)}
    plus = " + 2" if extra else ""
    lines = [
        *before,
        f"Driving: 10{plus} - {shown(driven)} = {shown(limits['driving'])} h.",
        f"On duty: 15{plus} - {shown(duty)} = {shown(limits['on-duty'])} h.",
    ]
    assumptions = [*notes, NO_RESTART]
    if week is not None:
        limits["weekly"] = tidy(week.left_h)
        days = " + ".join(shown(day) for day in week.days_h)
        lines.append(f"Week: {shown(week.limit_h)} - ({days}) = {shown(limits['weekly'])} h.")
        assumptions += week.notes
    else:
        assumptions.append("weekly limit not checked: say the on-duty hours of the last days")
    if adverse == "known before":
        assumptions.append("bad weather that was known before leaving gives no hours")
    elif extra:
        assumptions.append("adverse conditions nobody could know before; the weekly limit gets no extra")
    left = max(0.0, min(limits.values()))
    lines.append(f"The smallest counts: {shown(left)} h.")
    return exact(
        "driving left",
        left,
        "h",
        working=tuple(lines),
        assumptions=(*assumptions, "tired is tired, whatever the hours", HELPER),
        source=f"{SOURCE}; {ADVERSE_SOURCE}" if adverse else SOURCE,
        verdict=_verdict(left, limits, planned_h, week),
        also=tuple(
            Figure(f"{name} limit", max(0.0, hours), "h", max(0.0, hours), max(0.0, hours))
            for name, hours in limits.items()
        ),
    )


def _verdict(left: float, limits: dict[str, float], planned_h: float | None, week: _Week | None) -> str:
    least = min(limits.values())
    first = " and ".join(name for name, hours in limits.items() if hours <= least + HAIR)
    if left > 0:
        said = f"{_h(left)} of driving left, by the {first} limit."
    else:
        said = f"No driving left, by the {first} limit. Other work is still lawful, driving is not."
    if planned_h is not None:
        plan = _hours(planned_h, "the plan")
        said += (
            f" The planned {_h(plan)} fit."
            if plan <= left + HAIR
            else f" The planned {_h(plan)} do not fit: {_h(plan - left)} too much."
        )
    if week is not None and week.missing:
        said += f" The {_missing_days(week.missing)}, so the week may leave less."
    return f"{said} {HELPER}"


def _week(earlier: Sequence[float], today: float, total: float | None, week_days: WeekDays | None) -> _Week | None:
    if total is None and not earlier:
        return None
    days = 7 if week_days is None else week_days
    notes = () if week_days is not None else ("60 hours in 7 days taken, the careful one: ask the carrier",)
    if total is not None:
        return _Week((_hours(total, "the week"),), WEEK_H[days], 0, notes)
    each = [_day(value) for value in earlier][-(days - 1) :]
    missing = days - 1 - len(each)
    if missing:
        notes = (*notes, f"{_missing_days(missing)} and taken as 0")
    return _Week((*each, today), WEEK_H[days], missing, notes)


def _missing_days(count: int) -> str:
    return "hours of 1 earlier day are missing" if count == 1 else f"hours of {count} earlier days are missing"


def _day(value: float) -> float:
    if not math.isfinite(value) or not 0 <= value <= 24:
        raise ValueError(f"I can't use {value} hours for one day. Say between 0 and 24.")
    return float(value)


def _week_from_entries(
    found: Sequence[Span],
    now: datetime,
    home: tzinfo,
    day_starts: time,
    week_days: WeekDays | None,
    earlier: Sequence[float],
) -> _Week:
    days = 7 if week_days is None else week_days
    notes = () if week_days is not None else ("60 hours in 7 days taken, the careful one: ask the carrier",)
    by_day = hours_by_day(found, DUTY | UNWRITTEN, home, day_starts)
    today, first = day_of(now, home, day_starts), day_of(found[0].start, home, day_starts)
    told: dict[date, float] = {
        first - timedelta(days=back): _day(value) for back, value in enumerate(reversed(earlier), start=1)
    }
    window = [today - timedelta(days=back) for back in range(days - 1, -1, -1)]
    missing = sum(day < first and day not in told for day in window)
    if missing:
        notes = (*notes, f"{_missing_days(missing)} and taken as 0")
    return _Week(tuple(by_day.get(day, told.get(day, 0.0)) for day in window), WEEK_H[days], missing, notes)


def _less(week: _Week, hours: float) -> _Week:
    return week._replace(days_h=(*week.days_h, -hours))


def _counted_since(found: Sequence[Span], home: tzinfo, rested_before: bool) -> tuple[datetime, tuple[str, ...], bool]:
    rests = [rest for rest in joined(found, RESTING) if rest.hours >= REST_H - HAIR]
    if rests:
        last = rests[-1]
        return (
            last.end,
            (f"Last 8 hours off in a row ended {_clock(last.end, home)} ({shown(last.hours)} h off).",),
            True,
        )
    start = found[0].start
    return start, (f"Counted from the first entry, {_clock(start, home)}.",), rested_before


def _last_split(found: Sequence[Span], since: datetime) -> tuple[Span, Span] | None:
    """The last two berth periods in a row that make a valid split, after `since`."""
    berths = [
        rest
        for rest in joined(found, frozenset({"berth"}))
        if rest.hours >= SPLIT_LEAST_H - HAIR and rest.start >= since
    ]
    pairs = [(first, second) for first, second in pairwise(berths) if first.hours + second.hours >= SPLIT_SUM_H - HAIR]
    return pairs[-1] if pairs else None


def _with_clock(found: Estimate, now: datetime, home: tzinfo) -> Estimate:
    if not found.value:
        return found
    end = now.astimezone(UTC) + timedelta(hours=found.value)
    return _replaced(found, line=f"Driving without a stop from now, it ends {_clock(end, home)}.")


def _with_rest(found: Estimate, spans_found: Sequence[Span], now: datetime) -> Estimate:
    rests = joined(spans_found, RESTING)
    if not rests or rests[-1].end != now.astimezone(UTC) or rests[-1].hours >= REST_H - HAIR:
        return found
    left = REST_H - rests[-1].hours
    return _replaced(
        found,
        line=f"Resting for {shown(rests[-1].hours)} h: 8 - {shown(rests[-1].hours)} = {shown(left)} h more for fresh hours.",
        figure_added=figure("rest until fresh", left, "h"),
    )


def _replaced(
    found: Estimate,
    *,
    low: float | None = None,
    high: float | None = None,
    note: str | None = None,
    verdict: str | None = None,
    line: str | None = None,
    figure_added: Figure | None = None,
) -> Estimate:
    return Estimate(
        found.name,
        found.value,
        found.unit,
        found.low if low is None else low,
        found.high if high is None else high,
        found.working if line is None else (*found.working, line),
        found.assumptions if note is None else (note, *found.assumptions),
        found.source,
        found.verdict if verdict is None else verdict,
        found.also if figure_added is None else (*found.also, figure_added),
    )


def _sum(first: float | None, second: float | None) -> float | None:
    return None if first is None or second is None else first + second


def _clock(moment: datetime, home: tzinfo) -> str:
    return f"{moment.astimezone(home):%a %H:%M}"


def _h(hours: float) -> str:
    return f"{shown(hours)} hour" if hours == 1 else f"{shown(hours)} hours"
