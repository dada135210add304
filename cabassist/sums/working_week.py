"""The hours of seven or eight days, as a driver adds them up: "60/7, 9 8 10 11 7 9 so far, nothing today"."""

from __future__ import annotations

import re

from cabassist.estimate.quantities import shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.sums.told_duty import FOR_TOMORROW
from cabassist.sums.working_roles import by_words
from cabassist.sums.working_sheet import Sheet
from cabassist.sums.working_unplaced import WORDED

_LIMITS = {60.0: 7, 70.0: 8}
_DAY_H = 24.0
_LIST = 4
"""So many numbers in a row are days, and not two spells of one day."""
_WRITTEN_LIST = re.compile(r"(?<![\d.,])\d{1,2}(?:\.\d+)?(?:[,+/]\d{1,2}(?:\.\d+)?){3,}(?![\d,])")
_BETWEEN = frozenset({",", "and", "then", "plus", "+", "/", "-", "."})


def hours(amount: Amount) -> float:
    """An amount of time, or a bare number, in hours."""
    return converted(amount.value, amount.unit, "h") if amount.unit != "n" else amount.value


def _limit(q: Question) -> tuple[Amount, ...]:
    """The amounts of "60 in 7", "70/8", "70 hour 8 day", "the 60 hour limit"."""
    for pattern in (
        r"({h}|{n}) (?:hours? )?(?:in|over|per|for|/|-|,|and)? ?(?:the )?(?:last )?({day}|{n})(?= |$)",
        r"({h|n}) (?:hour )?(?:rule|limit|carrier|outfit|week|clock|cap)",
    ):
        for match in re.finditer(_written(pattern), q.frame):
            found = tuple(q.amount_at(match.start(i)) for i in range(1, match.re.groups + 1) if match.group(i))
            days = _LIMITS.get(hours(found[0]))
            if days is not None and (len(found) == 1 or _days(found[1]) == days):
                return found
    used_up = q.find(r"({n|h}) of (?:my |the |our )?({n|h}) (?:hours )?(?:are |is )?(?:used|gone|up|done)\b")
    if len(used_up) == 2 and hours(used_up[1]) in _LIMITS:
        return (used_up[1],)
    left_of = q.find(
        r"\bleft(?: (?:do|have|has|i|we|is|are|there|hours|hrs))* (?:of|on|in|from|out of) (?:my |the |our |a )?({n|h}) $",
        r"\bof (?:my |the |our )({n|h}) (?:hours )?(?:is|are|do i have|have i got|do i still have) (?:still )?left\b",
    )
    if len(left_of) == 1 and hours(left_of[0]) in _LIMITS:
        return left_of
    return _apart(q)


def _apart(q: Question) -> tuple[Amount, ...]:
    """ "My 8 day total on a 70": the hours and the days of the limit stand apart."""
    limits = [a for a in (*q.of("h"), *q.of("n")) if hours(a) in _LIMITS]
    days = [a for a in q.of("day") if a.value in (7, 8)]
    if (
        len(limits) == 1
        and len(days) == 1
        and _LIMITS[hours(limits[0])] == days[0].value
        and q.has(r"\b(?:total|rule|limit|on a <)")
    ):
        return (limits[0], days[0])
    return ()


def _written_limit(q: Question) -> int:
    """The days of "60/7" or "70/8" in one word, or 0."""
    match = re.search(r"(?<!\S)(60|70) ?/ ?(7|8)(?!\S)", q.frame)
    return int(match[2]) if match is not None and _LIMITS[float(match[1])] == int(match[2]) else 0


def _written(pattern: str) -> str:
    from cabassist.language.calculation_inputs import compiled

    return compiled(pattern).pattern


def _days(amount: Amount) -> float:
    return amount.value if amount.unit in ("day", "n") else hours(amount) / _DAY_H


def _entries(amount: Amount) -> list[float]:
    """The days that one amount stands for: "9 8 10" said without commas is heard as one number."""
    if amount.unit == "n" and len(amount.pieces) > 1 and all(re.fullmatch(r"\d+(?:\.\d+)?", p) for p in amount.pieces):
        return [float(piece) for piece in amount.pieces]
    return [hours(amount)]


def _listed(q: Question, spent: tuple[Amount, ...]) -> tuple[list[float], tuple[Amount, ...]]:
    """The longest run of hours a day, and its amounts."""
    written = _WRITTEN_LIST.search(q.text)
    if written is not None:
        # "10,9,8,10" without spaces is no number with thousands.
        days = [float(day) for day in re.findall(r"\d+(?:\.\d+)?", written[0])]
        return days, tuple(a for a in q.amounts if a.unit == "n" and a not in spent)
    tokens = q.frame.split()
    at = [i for i, token in enumerate(tokens) if token.startswith("<")]
    best: tuple[list[float], tuple[Amount, ...]] = ([], ())
    run: list[float] = []
    members: list[Amount] = []
    last = -1
    for place, amount in zip(at, q.amounts, strict=True):
        between = set(tokens[last + 1 : place]) - _BETWEEN if last >= 0 else set()
        if amount in spent or amount.unit not in ("n", "h") or amount.per or between:
            run, members = [], []
        if amount not in spent and amount.unit in ("n", "h") and not amount.per and max(_entries(amount)) <= _DAY_H:
            run += _entries(amount)
            members.append(amount)
            if len(run) > len(best[0]):
                best = (list(run), tuple(members))
        last = place
    return best if len(best[0]) >= _LIST else ([], ())


def week_said(s: Sheet, used: list[Amount]) -> None:
    """Note the limit, the hours of the days before and today's, and add the amounts to those used."""
    q = s.q
    limit, days_of = _limit(q), _written_limit(q)
    if limit or days_of:
        s.note("week_days", float(days_of or _LIMITS[hours(limit[0])]))
        used += limit
    days, listed = _listed(q, limit)
    today = next(
        (
            a
            for p in (
                r"({h|n}) (?:hours? )?(?:so far |on duty |worked |done |in |on )*today",
                r"\btoday(?: i)? (?:(?:will|shall|going|plan|planning|mean|want|expect|figure|am|we|i|to|on|about|only|just) )+(?:do|doing|work|working|put in|putting in|be|have|run|log)?(?: about| around| another)* ?({h|n})",
                r"\btoday(?: so far| i(?: have)?| is|'s| was| it is| worked| did| have| had| got|,)* ({h|n})(?! left)",
            )
            for a in q.every(p)
            if a not in limit and a not in listed and hours(a) <= _DAY_H and q.words[a.start - 1 : a.start] != ("day",)
        ),
        None,
    )
    if days:
        # The oldest days of a longer list have dropped out of the span.
        span = round(s.number("week_days")) if s.has("week_days") else 7
        # and for tomorrow one day more will have
        room = span - (today is not None) - s.q.has(FOR_TOMORROW)
        total = sum(days[-room:])
        line = " + ".join(shown(day) for day in days[-room:])
        if today is not None:
            total += hours(today)
            line += f" + {shown(hours(today))} today"
        s.note("week", total, "h")
        s.note("week_line", f"{line} = {shown(total)} h")
        used += [*listed, *([today] if today is not None else [])]
        spans = [a for a in q.of("day") if a not in used and _days(a) <= 8]
        used += spans
        s.note(WORDED, by_words(q, *listed, *spans))
        return
    _summed(s, used, limit, today, bool(limit or days_of))


def week_told(s: Sheet) -> bool:
    """Whether a week is told by its limit and its hours."""
    if not (_limit(s.q) or _written_limit(s.q)) or s.q.has(r"\b(?:drove|driven|gallons?|miles)\b|<(?:gal|mi|lb)>"):
        return False
    week_said(s, [])
    return s.has("week")


_SPAN = r"(?:the |my |this )?(?:last |past |previous |whole )?(?:week|six|seven|eight|(?:<day>|<n>)(?: days?)?)"


def _summed(s: Sheet, used: list[Amount], limit: tuple[Amount, ...], today: Amount | None, limited: bool) -> None:
    """A sum of the days before: "51 in the last six days and 4 today", "62 used including today"."""
    q = s.q
    week = next(
        (
            a
            for p in (
                rf"({{h}}|{{n}}) (?:hours? )?(?:on duty |worked |used |already |total |so far )*(?:in |over |for |during |these |this |across )?{_SPAN}(?= |$)",
                rf"\b{_SPAN}\b[^<]{{0,20}}({{h}}|{{n}})",
                r"({h}|{n}) of (?:my |the |our )?<(?:n|h)>",
                r"({h}|{n}) (?:hours? )?(?:used|so far|already|on it|on the clock|in already|on duty|worked)",
                r"\b(?:at|on|used|had|have|with|worked|done|did|got) ({h}|{n})",
            )[: 5 if limited else 2]
            for a in q.every(p)
            if a not in limit and a not in used and a != today and _DAY_H < hours(a) <= 100
        ),
        None,
    )
    if week is None and limit and q.has(r"\b(?:on duty|worked|already|did|done|had) <h>|\balready\b"):
        week = limit[0]
    if week is None:
        return
    total, line = hours(week), ""
    used.append(week)
    including = q.has(r"\b(?:incl\w*|counting|with) today\b")
    if today is not None and not including:
        line = f"{shown(total)} + {shown(hours(today))} today = {shown(total + hours(today))} h"
        total += hours(today)
    if today is not None:
        used.append(today)
    s.note("week", total, "h")
    if line:
        s.note("week_line", line)
    if not s.has("week_days"):
        eight = q.has(r"\beight days\b") or any(a.value == 8 for a in q.of("day"))
        s.note("week_days", 8.0 if eight else 7.0)
    spans = [a for a in (*q.of("day"), *q.every(r"\b(?:last|past|previous) ({n})")) if a not in used and _days(a) <= 8]
    used += spans
    s.note(WORDED, by_words(q, *spans))
    held = q.find(
        r"\bnot (?:yet )?(?:hit|reached|at|over|near|used)(?: my| the| either)? ({h|n}) (?:or|and|nor)(?: my| the)? ({h|n})"
    )
    if len(held) == 2 and {hours(a) for a in held} == {10.0, 15.0}:
        used += held
        s.assumed.append("10 hours of driving and 15 on duty not reached today, as said")


def week(s: Sheet) -> Estimate:
    """What is left of the week, when only its sum is known. Source: 49 CFR 395.5(b)."""
    from cabassist.estimate import driving_hours as rule

    days = 8 if s.has("week_days") and s.number("week_days") == 8 else 7
    limit = rule.WEEK_H[days]
    left = max(0.0, limit - s.number("week", "h"))
    line = f"{limit:g} h in {days} days - {shown(s.number('week', 'h'))} h = {shown(left)} h"
    verdict = f"{shown(left)} hours of the {limit:g} left. {rule.HELPER}"
    if not s.has("week_line") and s.q.has(FOR_TOMORROW):
        verdict = f"At least {verdict} What you worked on the oldest day comes free too: tell me the days one by one."
    if s.has("planned"):
        planned = s.number("planned", "h")
        verdict = f"{'Yes, it fits' if planned <= left else 'No: no driving beyond the limit'}: {verdict}"
    return Estimate(
        "hours left this week",
        left,
        "h",
        left,
        left,
        (*([s.text("week_line")] if s.has("week_line") else []), line),
        (
            rule.NO_RESTART,
            "the daily limits are not checked: say hours driven and on duty",
            f"{days} days: say if the carrier runs every day and uses 70 in 8" if days == 7 else "70 in 8 days",
        ),
        rule.SOURCE,
        verdict,
    )
