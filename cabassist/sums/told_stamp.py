"""When a propane cylinder is due, by the months on its collar, whatever else is told of it.

A month belongs to the making or to the last test by the letter behind it and the words before it. A date with its day, or
one that it is said to be, is the day asked about.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime
from typing import Literal

from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.sums.working_cylinders import dates_in, spoken_stamps

_CYLINDER = Lazy(
    r"\b(?:cylinders?|cyls?|bottles?|pounders?|propane|collar|requal\w*|re ?-?qualif\w*|re ?-?test\w*|re ?-?cert\w*|ring)\b"
)
_ASKED = Lazy(
    r"\b(?:due|expires?|expired|expiry|run(?:s)? out|out of date|in date|date\b.*\bgood|good (?:till|until|for|to|today|now|any ?more)|is (?:it|this one|that one|she) (?:still )?(?:good|ok|okay|fine)|how long is it good|when\b|still (?:ok|okay|good|legal|in date|fillable)|(?:re)?fill (?:it|this|that|them|one)|be (?:re)?filled|legal|overdue|done again|tested again|retest|next|(?:what|which) (?:month|year)|(?:go|goes|send|sent) (?:back )?in again|back to (?:the )?(?:shop|dealer))\b"
)
_MARK_SAID = Lazy(
    r"\b(?:letter|mark|marked|with an?|an?|the) (?:letter |mark )?['\"]?([es])\b(?!')|\b([es]) (?:mark|stamp|letter|after it)\b|\b(visual|external|proof)\b"
)
_LAST = Lazy(
    r"\b(?:re ?-?qualif\w*|requal\w*|re ?-?test\w*|re ?-?cert\w*|inspected|visual|last (?:tested|checked|done|test)|later|then|proof|hydro\w*)\b"
)
_NONE = Lazy(
    r"\b(?:no|not|never|nothing|without|isn ?'?t|hasn ?'?t been|zero)\b[^,.;]{0,24}\b(?:re ?-?qual\w*|re ?-?test\w*|re ?-?cert\w*|tested|done|checked|stamps?|marks?|else|other|since|letters?)\b|\bnothing else\b|\bnever (?:been )?(?:re|done|tested)"
)
_MADE = Lazy(r"\b(?:made|mfg|mfd|manufactur\w*|built|born|birthday|new|date stamp|date code|birth)\b")
_BESIDE = Lazy(r"\b(?:under|below|beside|next to|then|plus|another|second)\b")
_THEN = Lazy(
    r"\b(?:legal|ok|okay|good|fill\w*|still|due|now|today|on|by|it ' s|it's|its|it is|in date|as of|use\w*)\b[^.?]{0,40}$"
)
_WITH_DAY = Lazy(r"^[a-z]+\.? \d{1,2}(?:st|nd|rd|th)?,? ?(?:of )?\d{4}")


def stamped(question: Question, now: datetime) -> tuple[str, Estimate] | None:
    """When the cylinder told of is due, and whether it may be filled; None when no stamp, or no question of it, is told."""
    text = question.text.lower()
    timed = sum(one.unit == "clock" for one in question.amounts) > 1
    if timed or not _CYLINDER.search(text) or not _ASKED.search(text):
        return None
    found = dates_in(text)
    if not found or len(found) > 3:
        return None
    said = spoken_stamps(text)
    first = _first_due(said, found, now.date())
    if first is not None:
        return "requalification", first
    on = now.date()
    stamps: list[tuple[int, date]] = []
    before = 0
    for at, when in found:
        between = _NONE.sub(" ", said[before:at])
        tested = _letter(said[at:]) or _LAST.search(between) or _BESIDE.search(between)
        before = at
        if not stamps or (tested and not _WITH_DAY.search(said[at:])):
            stamps.append((at, when))
        elif _WITH_DAY.search(said[at:]) or _THEN.search(between):
            on = _day(said[at:], when)
        else:
            return None  # a second test, or the day asked about?
    if not 1 <= len(stamps) <= 2:
        return None
    from cabassist.estimate import cylinders

    made, last, mark = _placed(said, stamps)
    if made is None and last is None:
        return None
    try:
        estimate = cylinders.requalification(made or last or on, on, last=last, mark=mark)
    except ValueError:
        return None
    if _MAY.search(text) and estimate.value is not None:
        yes = estimate.value >= 0
        estimate = replace(estimate, verdict=f"{'Yes' if yes else 'No'}. {estimate.verdict}")
    return "requalification", estimate


_STAMP = Lazy(r"\b(?:stamps?|stamped|marks?|marked|collar|re ?-?test\w*|re ?-?qual\w*|re ?-?cert\w*|letter)\b")
_DUE = Lazy(r"\b(?:when|what (?:month|year|date)|how long|till when|is it)\b[^.?]*\b(?:due|expires?|run(?:s)? out|good|next|again|up)\b")  # fmt: skip


def undated(question: Question) -> str:
    """What is asked back when a cylinder's due date is asked for by its letter and no date is told; "" when that is not so."""
    text = question.text.lower()
    if not (_CYLINDER.search(text) and _STAMP.search(text) and _DUE.search(text)) or dates_in(text) or question.amounts:
        return ""
    return "" if _letter_said(text) == "" else "What month and year stand before that letter?"


_TWO = Lazy(
    r"\b(?:two|2|both|pair of) (?:\w+ )?(?:cylinders?|bottles?|tanks?)\b|\b(?:the|and|an?) ?other(?: (?:one|bottle|cylinder|tank))?\b|\bthe second (?:one|bottle|cylinder)\b"
)
_WHICH_FIRST = Lazy(
    r"\bwhich\b[^.?]*\b(?:first|sooner|next|earlier|before)\b|\bfirst to (?:go|come|expire|be due)\b|\b(?:first|sooner)\b[^.?]*\bwhich\b"
)


WHICH_CYLINDER = "The one stamped"
"""Begins what is told of two cylinders."""


def _first_due(said: str, found: list[tuple[int, date]], on: date) -> Estimate | None:
    """Which of two cylinders, each with one stamp, is due first; None when there are not two, or no rule settles it."""
    from cabassist.estimate import cylinders

    if len(found) != 2 or not _TWO.search(said) or not _WHICH_FIRST.search(said):
        return None
    made: list[tuple[Estimate, str]] = []
    ends = (found[1][0], len(said))
    starts = (0, _start_of_second(said, *ends[:1]))
    for (at, when), begin, end in zip(found, starts, ends, strict=True):
        own = _NONE.sub(" ", said[begin:end])
        mark = _letter(said[at:]) or _letter_said(own)
        tested = bool(mark) or (_LAST.search(own) is not None and _MADE.search(own) is None)
        try:
            due = cylinders.requalification(when, on, last=when if tested else None, mark=mark)
        except ValueError:
            return None
        made.append((due, f"{when:%m-%y}{f' {mark}' if mark else ''}"))
    if any(due.value is None for due, _ in made):
        return None
    (first, name), (other, last) = sorted(made, key=lambda pair: pair[0].value or 0.0)
    if first.value == other.value:
        return replace(first, verdict=f"Both at the same time. {first.verdict}")
    return replace(first, verdict=f"{WHICH_CYLINDER} {name} first. {first.verdict} The one stamped {last}: {other.verdict[:1].lower()}{other.verdict[1:]}")  # fmt: skip


def _start_of_second(said: str, at: int) -> int:
    """Where it begins to be about the second cylinder."""
    found = [match.start() for match in _TWO.finditer(said[:at])]
    return found[-1] if found else at


_MAY = Lazy(
    r"\b(?:still (?:ok|okay|good|legal|in date|fillable)|may (?:they|i|he|we)|can (?:they|i|he|we|it)|(?:re)?fill (?:it|this)|be (?:re)?filled|legal|is (?:it|this one|that one|she) (?:still )?(?:ok|okay|good|fine|in date))\b"
)


def _day(text: str, when: date) -> date:
    """The day of a date that is told with its day."""
    day = re.match(r"[a-z]+\.? (\d{1,2})(?:st|nd|rd|th)?,? ?(?:of )?\d{4}", text)
    return when.replace(day=int(day[1])) if day and 1 <= int(day[1]) <= 28 else when


def _placed(text: str, stamps: list[tuple[int, date]]) -> tuple[date | None, date | None, Literal["", "E", "S"]]:
    """The month it was made, that of the last test and its letter."""
    at, first = stamps[0]
    own = _NONE.sub(" ", text)
    if len(stamps) == 2:
        mark = _letter(text[stamps[1][0] :]) or _letter_said(own)
        return first, stamps[1][1], mark
    mark = _letter(text[at:]) or _letter_said(own)
    tested = mark or (_LAST.search(own) and not _MADE.search(text))
    return (None, first, mark) if tested else (first, None, "")


def _letter(text: str) -> Literal["", "E", "S"]:
    """The letter right behind a stamp."""
    found = re.match(
        r"[\d]{1,2} ?[-/. ] ?\d{2,4}[ ,]*(?:and |then |with )*(?:an? |the |letter |mark )*['\"]?([es])\b(?!')", text
    )
    return "" if found is None else "E" if found[1] == "e" else "S"


def _letter_said(text: str) -> Literal["", "E", "S"]:
    """A letter, or the kind of test, told anywhere."""
    found = _MARK_SAID.search(text)
    if found is None:
        return ""
    letter = found[1] or found[2] or ""
    return "E" if letter == "e" or found[3] in ("visual", "external") else "S"
