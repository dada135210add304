"""The hours of a trip: distance, speed, halts, when to leave and when one is there."""

from __future__ import annotations

from cabassist.estimate.quantities import duration, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.sums.families import Told
from cabassist.sums.told_parts import ahead, between, hour_now, hour_of, listed, now_term, result
from cabassist.sums.told_zones import leave_by, there_at, zone_shift


def legs_told(t: Told) -> list[float]:
    """The miles of each leg: as told, as the odometer shows them, less what is already behind, so many times over."""
    legs = [one.value for one in t.all("distance")]
    shown_then = [one.value for one in t.all("odometer")]
    if len(shown_then) == 2 and not legs:
        legs = [abs(shown_then[1] - shown_then[0])]
    if len(legs) == 1 and t.has("done") and not t.has("hours"):
        legs = [legs[0] - (t.total("done") or 0.0)]
    times = t.value("times")
    return [one * (times or 1.0) for one in legs] if all(one > 0 for one in legs) else []


_EARLY = Lazy(
    r"# (?:\w+ )?(?:early|before|beforehand|cushion|ahead|margin|buffer|slack)\b|\b(?:cushion|margin|buffer|slack) of (?:about )?# "
)
"""Time in hand at the other end: no part of the drive, but of when to leave."""


def _in_hand(t: Told) -> float:
    """Hours by which one wants to be there before the time that is told."""
    return sum(one.value for one in t.all("stop") if _EARLY.search(one.around))


_SMALL = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "couple": 2, "2": 2, "3": 3, "4": 4, "5": 5}
_IN_ALL = r"\b(?:altogether|together|total|in all)\b"
_STOPS = Lazy(
    rf"\b({'|'.join(_SMALL)}) (?:of )?(?:(?:fuel|food|short|quick|more|rest|bathroom|comfort|pee) )?(?:stops|breaks|halts) (?:of|at|for|each|taking|lasting)(?: about| around)? <(?:min|h)"
)
"""Stops whose number was not read as an amount: "two stops of 20 minutes"."""


def _halts(t: Told) -> float:
    """Hours of all stops; as many of each as are told, or two of them when it says so."""
    halts = [one for one in t.all("stop") if not _EARLY.search(one.around)]
    counts, hours = t.all("stops"), [_halt_hours(one) for one in halts]
    if not counts:
        said = _STOPS.search(t.question.frame) if len(halts) == 1 and not t.question.has(_IN_ALL) else None
        return sum(hours) * (1.0 if said is None else float(_SMALL[said[1]]))
    if len(counts) == 1 and len(halts) == counts[0].value > 1 and _LISTED.search(counts[0].around):
        return sum(hours)  # "two stops of 20 and 40 minutes"
    times = [1.0] * len(halts)
    for count in counts:
        behind = (place for place, one in enumerate(halts) if one.amount.start >= count.amount.end)
        place = next(behind, len(halts) - 1)
        if place >= 0:
            times[place] = count.value  # "two 15 minute stops and a half hour for lunch"
    return sum(one * many for one, many in zip(hours, times, strict=True))


_LISTED = Lazy(r"# (?:\w+ )?(?:stops|breaks|halts)\b(?!.*\beach\b)(?!.*\b(?:and|plus) (?:an?|another) <)")
_LEAST_MINUTES = 5
"""A stop of so many, without a unit, is told in minutes: "forty for food"."""


def _halt_hours(term: Term) -> float:
    """Hours of one stop."""
    if term.kind == "n":
        return term.value / 60 if term.value >= _LEAST_MINUTES else term.value
    pieces = term.amount.pieces
    if len(pieces) == 2 and all(map(str.isdigit, pieces)) and int(pieces[0]) < 10:
        # "two 20 minute stops" were heard as one number
        return int(pieces[0]) * int(pieces[1]) * term.value / term.amount.value
    return term.value


_LATE = r"\b(?:be|are|am|is|running|run|arrive|get (?:in|there)|roll in) (?:we |it |i )?(?:too )?late\b|\b(?:will|do|would|are) (?:we|i) (?:going to |gonna )?miss\b|(?:^|[.,;?] |\beta )(?:too )?late for\b"
""" "Will we be late": yes when the time is not enough."""


_WHEN = r"\b(?:when|what time|how late|latest)\b"


def _in_time(t: Told, need: float, span: float, end: Term | None, lines: tuple[str, ...], shift: float) -> Estimate:
    """Whether the hours there are, less what is to be in hand, are enough, and when one arrives."""
    there = span - _in_hand(t)
    first = (hour_of(end) - shift - span) % 24 if end is not None else 0.0
    said = "Yes" if (need <= there) != t.question.has(_LATE) else "No"
    verdict = f"{said}: {duration(need)} needed, {duration(there)} there. {there_at(first + need, shift)}"
    off = figure("late" if need > there else "early", abs(need - there), "h")
    return result(t, "needed", need, "h", lines, verdict, (off,))


def timed(t: Told) -> Estimate | None:
    """Distance, speed and time, two of which give the third."""
    t.value("legs")
    shift = zone_shift(t)
    if shift is None:
        return None
    if t.has("hours", "done") or t.has("start", "done", "now"):
        return _paced(t, shift)
    legs, speed, other = legs_told(t), t.value("speed"), t.value("other_speed")
    if t.has("to_go") and not legs:
        legs = [one.value for one in t.all("to_go")]
    if len(t.roles.get("speed", [])) > 1:
        return _two_ways(t, legs) if _WHICH_WAY.search(t.question.frame) else _by_legs(t, legs, shift)
    worse = t.value("worse")
    speed = speed * (1 - worse) if speed is not None and worse is not None else speed
    far, hours, halts = (sum(legs) if legs else None), t.value("hours"), _halts(t)
    start, end = t.one("start"), t.one("arrive")
    kind = t.want.kind
    span = None
    if end is not None and (
        start is not None
        or t.question.has(r"\bnow\b")
        or (kind == "speed" and hours is None)
        or (t.want.judged and not (t.want.clock and t.question.has(_WHEN)))
    ):
        span = between(now_term(t) if start is None else start, end) - shift
        if span <= 0:
            return None
    if other is not None:
        if speed is None or far is None or not t.want.difference or span is not None or hours is not None:
            return None
        gap = abs(far / speed - far / other)
        return result(t, "difference", gap, "h", (f"{shown(far)} mi ÷ {shown(speed)} - {shown(far)} mi ÷ {shown(other)} = {shown(gap)} h",), f"{duration(gap)} {'longer' if speed < other else 'shorter'}.")  # fmt: skip
    if t.want.difference and kind != "distance" and span is None:
        return None
    if kind == "speed":
        there = span if hours is None else hours
        if (
            far is None
            or there is None
            or speed is not None
            or there <= halts + _in_hand(t)
            or (span is not None and hours is not None)
        ):
            return None
        rolling = there - halts - _in_hand(t)
        value = far / rolling
        return result(t, "average speed", value, "mph", (f"{listed(legs)} mi ÷ {shown(rolling)} h = {shown(value)} mph",))  # fmt: skip
    if speed is None and far is None and hours is not None and span is not None and t.want.judged:
        return _in_time(t, hours + halts, span, end, (), shift)  # "ten hours of driving, it's eight: there by seven?"
    if speed is None and far is None and hours is not None and span is None and (start is None) is not (end is None):
        return _of_hours(t, hours + halts, start, end, shift) if kind in ("time", "") else None
    if speed is None or speed < 5:
        return None
    if far is None:
        if hours is None or kind != "distance" or span is not None:
            return None
        value = speed * (hours - halts)
        return result(
            t, "distance", value, "mi", (f"{shown(speed)} mph x {shown(hours - halts)} h = {shown(value)} mi",)
        )
    need = far / speed + halts
    lines: tuple[str, ...] = (f"{listed(legs)} mi ÷ {shown(speed)} mph = {shown(far / speed)} h",)
    if halts:
        lines += (f"+ {shown(halts)} h = {shown(need)} h",)
    if hours is not None:
        if kind == "distance" and len(legs) == 1 and t.question.has(r"\bleft|remain|to go|still\b"):
            left = far - speed * (hours - halts)
            return result(t, "left to go", left, "mi", (f"{shown(far)} - {shown(speed)} mph x {shown(hours - halts)} h = {shown(left)} mi",)) if left >= 0 else None  # fmt: skip
        if not t.want.judged or kind not in ("", "time", "distance"):
            return None
        return result(t, "needed", need, "h", lines, f"{'Yes' if need <= hours else 'No'}: {duration(need)} needed, {duration(hours)} there.")  # fmt: skip
    if kind not in ("time", "", "distance"):
        return None
    if span is not None:
        return _in_time(t, need, span, end, lines, shift) if t.want.judged or kind in ("", "time") else None
    if kind == "distance":
        return None
    if end is not None:
        early = _in_hand(t)
        return result(t, "door to door", need, "h", lines, leave_by(hour_of(end) - shift - early - need, shift), (figure("with the time in hand", need + early, "h"),) if early else ())  # fmt: skip
    if _in_hand(t):
        return None
    if start is not None:
        return result(t, "door to door", need, "h", lines, there_at(hour_of(start) + need, shift))
    verdict = there_at(hour_now(t) + need, shift) if t.want.clock or shift else ""
    return result(t, "door to door", need, "h", lines, verdict)


def _of_hours(t: Told, need: float, start: Term | None, end: Term | None, shift: float) -> Estimate:
    """When one is there, or has to leave, by the hours that the drive takes."""
    lines = (f"{duration(need)} with the stops",) if t.has("stop") else ()
    if start is not None:
        return result(t, "door to door", need, "h", lines, there_at(hour_of(start) + need, shift))
    early, last = _in_hand(t), 0.0 if end is None else hour_of(end)
    return result(t, "door to door", need, "h", lines, leave_by(last - shift - early - need, shift))


_WHICH_WAY = Lazy(
    r"\bwhich\b.*\b(?:sooner|soonest|earlier|earliest|first|faster|fastest|quicker|quickest|shorter|shortest|better|best|less time|saves?)\b"
    r"|\bwhat(?: ' ?s|s| is)? (?:the )?(?:sooner|faster|quicker|quickest|fastest)\b"
    r"|\b(?:sooner|faster|quicker|quickest|fastest|shorter in time)\b.*\bor\b|\bor\b.*\b(?:sooner|faster|quicker|quickest|fastest)\b|\bhow much (?:sooner|quicker|faster)\b|\b(?:do|would|will|does) .*\b(?:save|gain|lose)\b"
)
"""Two roads are set against each other, and not driven one after the other."""
_WAYS = 2


def _two_ways(t: Told, legs: list[float]) -> Estimate | None:
    """Which of two roads takes less time, and by how much; a stop is on the road it is told behind."""
    roads, speeds = t.all("distance"), t.all("speed")
    if len(roads) != _WAYS or len(speeds) != _WAYS or len(legs) != _WAYS or min(one.value for one in speeds) < 5:
        return None
    if t.has("start") or t.has("arrive") or t.want.kind not in ("time", ""):
        return None
    halts, second = [0.0, 0.0], max(one.amount.start for one in roads)
    for stop in t.all("stop"):
        halts[stop.amount.start > second] += _halt_hours(stop)
    roads, speeds = (sorted(one, key=lambda term: term.amount.start) for one in (roads, speeds))
    needs = [road.value / speed.value + halt for road, speed, halt in zip(roads, speeds, halts, strict=True)]
    gap, first = abs(needs[0] - needs[1]), int(needs[1] < needs[0])
    lines = tuple(
        f"{shown(road.value)} mi ÷ {shown(speed.value)} mph{f' + {shown(halt)} h' if halt else ''} = {shown(need)} h"
        for road, speed, halt, need in zip(roads, speeds, halts, needs, strict=True)
    )
    name = ("The first way", "The second way")[first]
    verdict = f"{name}, the {shown(roads[first].amount.value)}, is sooner by {duration(gap)}: {duration(needs[first])} against {duration(needs[1 - first])}."  # fmt: skip
    if gap < _SAME_H:
        verdict = f"Both take as long: {duration(needs[first])}."
    also = (figure("the first way", needs[0], "h"), figure("the second way", needs[1], "h"))
    return result(t, "difference", gap, "h", lines, verdict, also)


_SAME_H = 1 / 60


def _by_legs(t: Told, legs: list[float], shift: float) -> Estimate | None:
    """Legs that are each driven at their own speed."""
    speeds, halts, start, end = [one.value for one in t.all("speed")], _halts(t), t.one("start"), t.one("arrive")
    if len(speeds) != len(legs) or min(speeds) < 5:
        return None
    need = sum(far / speed for far, speed in zip(legs, speeds, strict=True)) + halts
    lines = (" + ".join(f"{shown(far)} mi ÷ {shown(speed)} mph" for far, speed in zip(legs, speeds, strict=True)) + f" = {shown(need)} h",)  # fmt: skip
    average = figure("average", sum(legs) / need, "mph")
    if t.want.kind == "speed":
        return result(t, "average speed", average.value or 0.0, "mph", lines)
    if t.want.kind not in ("time", ""):
        return None
    verdict = "" if start is None and end is None else there_at(hour_of(start) + need, shift) if start is not None else leave_by(hour_of(end) - shift - _in_hand(t) - need, shift) if end is not None else ""  # fmt: skip
    if start is not None and end is not None:
        span = between(start, end) - shift - _in_hand(t)
        verdict = f"{'Yes' if need <= span else 'No'}: {duration(need)} needed, {duration(span)} there. {verdict}"
    return result(t, "door to door", need, "h", lines, verdict, (average,))


def _paced(t: Told, shift: float) -> Estimate | None:
    """How long the rest takes at the pace so far."""
    done, whole, ahead_of_us = t.total("done") or 0.0, t.total("distance"), t.value("to_go")
    start, now, end, halts = t.one("start"), t.one("now"), t.one("arrive"), _halts(t)
    hours = t.value("hours") if now is None or start is None else between(start, now)
    if (whole is None) == (ahead_of_us is None) or not hours or done <= 0 or t.want.difference:
        return None
    left = ahead_of_us if ahead_of_us is not None else (whole or 0.0) - done
    speed = done / hours
    if left <= 0 or speed < 5:
        return None
    need = left / speed + halts
    lines = (f"{shown(done)} mi ÷ {shown(hours)} h = {shown(speed)} mph", f"{shown(left)} mi ÷ {shown(speed)} mph + {shown(halts)} h = {shown(need)} h")  # fmt: skip
    first = hour_of(now) if now is not None else hour_of(start) if start is not None else hour_now(t)
    verdict = there_at(first + need, shift)
    if end is not None:
        span = ahead(first + shift, hour_of(end)) - _in_hand(t)
        verdict = f"{'Yes' if need <= span else 'No'}: {duration(need)} needed, {duration(span)} there. {verdict}"
    return result(t, "still to drive", need, "h", lines, verdict, (figure("pace", speed, "mph"), figure("left to go", left, "mi")))  # fmt: skip
