"""Propane over a night in few words: how many bottles, bottles weighed together, a loss between two times, the burn since it was full."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE, LB_PER_GAL
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.calculation_units import HOURS
from cabassist.language.lazy import Lazy
from cabassist.language.placed import placed
from cabassist.language.wanted import Wanted
from cabassist.sums.families import at_clock
from cabassist.sums.told_moved import halves

_VESSEL = r"(?:pounders?|cylinders?|bottles?|propane tanks?|ones?)"
_EACH = Lazy(r"\b(?:each|apiece)\b|/each>")
_TAKES = r"(?:takes?|burns?|uses?|needs?|eats?|costs? us|goes through|is|runs|wants)"
_BOTTLES_FOR = rf"\bhow many ({{lb}}) (?:(?:propane|steel|lp) )?{_VESSEL}\b[^.?]*?({{night|day|h}})[^.?]*\b(?:a|an|each|every|one|per) (night|day|hour) (?:of heat )?{_TAKES} (?:about |us )?({{lb}})"
_BOTTLES_AT = rf"\b(?:a|an|each|every|one|per) (night|day|hour) (?:of heat )?{_TAKES} (?:about |us )?({{lb}})[^.?]*\bhow many ({{lb}}) (?:(?:propane|steel|lp) )?{_VESSEL}\b[^.?]*?({{night|day|h}})"
_EVERY = {"night": "night", "day": "day", "hour": "h"}


def bottles_for(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How many cylinders of a size so many nights take, where it is told what a night takes."""
    if len(q.amounts) != 3:
        return None
    first, last = compiled(_BOTTLES_FOR).search(q.frame), compiled(_BOTTLES_AT).search(q.frame)
    if first is not None:
        size, span, burn, every = (
            q.amount_at(first.start(1)),
            q.amount_at(first.start(2)),
            q.amount_at(first.start(4)),
            first[3],
        )
    elif last is not None:
        size, span, burn, every = (
            q.amount_at(last.start(3)),
            q.amount_at(last.start(4)),
            q.amount_at(last.start(2)),
            last[1],
        )
    else:
        return None
    if span.unit != _EVERY[every] or size.unit != burn.unit or size.per or burn.per or size.value <= 0:
        return None
    need = span.value * burn.value
    count = need / size.value
    whole = int(count + 1 - 1e-9)
    lines = (f"{shown(span.value)} x {shown(burn.value)} = {shown(need)} {size.unit}", f"{shown(need)} ÷ {shown(size.value)} {size.unit} = {shown(count)}")  # fmt: skip
    verdict = f"{whole} full ones: {shown(need)} pounds." if size.unit == "lb" else f"{whole} full ones."
    return exact("cylinders", count, "cylinders", working=lines, source="arithmetic", verdict=verdict, also=(figure("needed", need, size.unit),))  # fmt: skip


_STEEL = r"({lb|lb/each}) (?:of|is|for|in) (?:the |that |it )?(?:steel|iron|metal|empty bottles?|tare)\b|\b(?:steel|tare|empties|empty weight)(?: (?:of|for|both|the two|together|in all|is|at|alone|them|weighs?))* ({lb})"
_TOGETHER = Lazy(r"\b(?:both|two|together|pair|bottles|cylinders)\b")
_WEIGHED = Lazy(r"\b(?:weigh\w*|scale|scales)\b")
_HOURS_ASKED = Lazy(r"\bhow (?:long|many (?:more )?hours)\b|\bhours (?:left|to go)\b|\bwhen\b")


_BOTH = Lazy(r"\b(?:both|two)\b|<cylinder>")


def weighed_together(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours of propane in bottles weighed together, with the steel of all of them told beside."""
    told = [one for one in q.amounts if one.tag != "cylinder"]
    if len(told) != 3 or len(q.amounts) - len(told) > 1 or not _WEIGHED.search(q.frame) or not _TOGETHER.search(q.frame) or not _HOURS_ASKED.search(q.frame):  # fmt: skip
        return None
    steel = q.find(_STEEL)
    rates = [one for one in told if one.unit == "lb" and one.per == "h"]
    if len(steel) != 1 or len(rates) != 1:
        return None
    each = _EACH.search(q.frame) is not None
    counted = [one.value for one in q.amounts if one.tag == "cylinder"]
    if each and (counted not in ([], [2.0]) or not _BOTH.search(q.frame)):
        return None
    empty = steel[0].value * (2 if each else 1)
    total = next((one for one in told if one not in (steel[0], rates[0])), None)
    if total is None or total.unit != "lb" or total.per or total.each or steel[0].per or not total.value > empty or rates[0].value <= 0:  # fmt: skip
        return None
    gas = total.value - empty
    hours = gas / rates[0].value
    lines = (f"{shown(total.value)} - {shown(empty)} = {shown(gas)} lb of propane", f"{shown(gas)} ÷ {shown(rates[0].value)} lb an hour = {shown(hours)} h")  # fmt: skip
    return exact("lasts", hours, "h", working=lines, source="arithmetic", verdict=at_clock(now, hours) if want.clock else "", also=(figure("propane", gas, "lb"),))  # fmt: skip


_LOSS = Lazy(r"\b(?:loss|losing|loses|lose|leaks?|heat load|needs?|gives off|bleeds?)\b")
_POUNDS = Lazy(r"\bhow (?:many (?:pounds|lbs?)|much (?:propane|gas))\b|\bpounds of propane\b")


def loss_between(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Pounds of propane for a loss of heat from one time of day to another, at an efficiency."""
    if len(q.amounts) != 4 or not _POUNDS.search(q.frame) or not _LOSS.search(q.frame):
        return None
    found = placed(q)
    if found is None:
        return None
    losses = [one for one in found if one.unit in ("BTU/h", "BTU") and not one.amount.each]
    shares = [one for one in found if one.unit == "percent" and 30 <= one.value <= 100]
    clocks = [one for one in found if one.unit == "clock"]
    if [len(losses), len(shares), len(clocks)] != [1, 1, 2] or q.has(r"\b(?:gallons|half the time|off and on)\b"):
        return None
    if losses[0].unit == "BTU" and losses[0].amount.per not in ("h",):
        return None
    spans = {(b - a) % 24 for a in halves(clocks[0]) for b in halves(clocks[1])} - {0.0}
    if not spans:
        return None
    hours = min(spans)
    heat = losses[0].value * hours * (1 if losses[0].unit == "BTU/h" else HOURS["h"])
    pounds = heat / (shares[0].value / 100) / BTU_PER_LB
    lines = (f"{shown(losses[0].value)} BTU an hour x {shown(hours)} h ÷ {shown(shares[0].value / 100)} = {shown(heat / shares[0].value * 100)} BTU", f"÷ {shown(BTU_PER_LB)} BTU a pound = {shown(pounds)} lb")  # fmt: skip
    return exact("propane", pounds, "lb", working=lines, source=HEAT_SOURCE, also=(figure("gallons", pounds / LB_PER_GAL, "gal"),))  # fmt: skip


_FROM_FULL = rf"\bfull (?:on |in |with )?(?:a |an |the |our |one )?({{lb}}) ?{_VESSEL}?[^.?]*\b(?:down to|now|at|to|shows?|reads?) (?:a |the |about )?({{part|percent}})[^.?]*?\b(?:in|after|over) (?:the last |about )?({{h}})|\b(?:a|the|our|one) (?:full )?({{lb}}) ?{_VESSEL}?[^.?]*\b(?:from|was|went) full\b[^.?]*\b(?:down to|now|at|to|shows?|reads?) (?:a |the |about )?({{part|percent}})[^.?]*?\b(?:in|after|over) (?:the last |about )?({{h}})"
_BURN_ASKED = Lazy(r"\bwhat (?:is |' s |was |' is )?(?:the|our|my|that)? ?(?:burn|rate|use|usage)\b|\bhow (?:fast|many pounds|much)\b[^.?]*\b(?:an|per|each|every) hour\b|\b(?:burn|rate) $|\bhow fast\b|\b(?:burning|using)\b[^.?]*\b(?:an|per) hour\b")  # fmt: skip


def burn_from_full(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Pounds an hour of a cylinder that was full and is now down to a part."""
    match = compiled(_FROM_FULL).search(q.frame) if len(q.amounts) == 3 and _BURN_ASKED.search(q.frame) else None
    if match is None:
        return None
    size, left, span = (q.amount_at(match.start(k)) for k in ((1, 2, 3) if match[1] else (4, 5, 6)))
    share = left.value / (100 if left.unit == "percent" else 1)
    hours = span.value * HOURS[span.unit]
    if not 0 <= share < 1 or hours <= 0 or size.per or size.unit not in ("lb", "kg"):
        return None
    gone = size.value * (1 - share)
    lines = (f"{shown(size.value)} {size.unit} x (1 - {shown(share)}) = {shown(gone)} {size.unit}", f"÷ {shown(hours)} h = {shown(gone / hours)} {size.unit} an hour")  # fmt: skip
    return exact("burn", gone / hours, f"{size.unit}/h", working=lines, source="arithmetic", also=(figure("gone", gone, size.unit),))  # fmt: skip
