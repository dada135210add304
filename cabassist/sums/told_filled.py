"""Propane into bottles that are named in passing: "the forty", "both forties", "a forty pound bottle that's half full".

A cylinder named by its pounds is named by its legal fill, whatever the weather. Where "half full" may be half of the pounds or
half of the space, only what is right by both is told; an overfilled cylinder vents or bursts.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE, LB_PER_GAL
from cabassist.estimate.quantities import exact, figure, shown, withheld
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.calculation_units import HOURS
from cabassist.language.lazy import Lazy
from cabassist.language.placed import placed
from cabassist.language.wanted import Wanted
from cabassist.sums.families import at_clock
from cabassist.sums.sums_fill import MOST_OF_VOLUME, PAST_LEGAL_FILL, SOURCE, most_said
from cabassist.sums.told_moved import halves

_VESSEL = r"(?:pounders?|cylinders?|bottles?|propane tanks?|ones?)"
_ASKED = Lazy(
    r"\b(?:legal\w*|ok|okay|alright|all right|allowed|fine|safe\w*|fits?|can|could|may|should|would|will|too much|too many|right)\b"
)
_TOO_MUCH = Lazy(r"\btoo (?:much|many|full)\b|\bover ?fill\w*\b|\billegal\b|\bover the\b")
_MORE = (
    r"({lb}) (?:more |of (?:propane|gas) |extra )*(?:more )?(?:in|into|on top of|to) (?:a|an|the|our|my|that|one)?\b|\b(?:another|extra) ({lb})\b"
)
_SIZED = (rf"({{lb}}) (?:(?:propane|steel|aluminum|gas|lp) )?{_VESSEL}\b")
_PART_FULL = (r"({part}) (?:of the way )?full\b|\bfull to ({part})")
_OTHERS = Lazy(
    r"\b(?:enough|make it|makes it|do us|get us|see us|carry|through|till?|until|tonight|morning|nights?|warm|heat|furnaces?|psi|tires?|tyres?|axles?|fresh|waste|water|diesel|fuel|scale|weigh\w*|last|burn\w*|hours?|how (?:much|many|long))\b"
)


def topped(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether so many pounds more may go into a cylinder that is a part full."""
    if len(q.amounts) != 3 or _OTHERS.search(q.frame) or not _ASKED.search(q.frame):
        return None
    size, share = q.find(_SIZED), q.find(_PART_FULL)
    if len(size) != 1 or len(share) != 1 or not compiled(_MORE).search(q.frame):
        return None
    more = next((one for one in q.amounts if one not in (size[0], share[0])), None)
    if more is None or more.unit != size[0].unit or more.per or not 0 < share[0].value < 1:
        return None
    most, unit = size[0].value, size[0].unit
    by_weight, by_space = most * share[0].value, most * share[0].value / MOST_OF_VOLUME
    low, high = by_weight + more.value, by_space + more.value
    lines = (
        f"{shown(share[0].value)} of {shown(most)} {unit} + {shown(more.value)} = {shown(low)} {unit}",
        f"by a gauge of its space: {shown(share[0].value)} ÷ {MOST_OF_VOLUME} x {shown(most)} + {shown(more.value)} = {shown(high)} {unit}",
    )
    if low > most * 1.002:
        return _refused(q, most, unit, lines)
    if high > most * 1.002:
        verdict = f"Weigh it first. {shown(low, 3)} of {shown(most)} if that part is of its {shown(most)} pounds; {shown(high, 3)}, too much, if a gauge shows that part of its space."
        return withheld(PAST_LEGAL_FILL, unit, verdict, working=lines, source=SOURCE)
    yes = "No, it is not too much" if _TOO_MUCH.search(q.frame) else "Yes"
    verdict = f"{yes}: {shown(low, 3)} pounds of {shown(most)}, or {shown(high, 3)} if a gauge shows that part of its space."
    return exact("in it then", low, unit, working=lines, source=SOURCE, verdict=verdict, also=(figure("most that may be filled", most, unit),))  # fmt: skip


_SIZES = frozenset({5.0, 10.0, 20.0, 30.0, 33.0, 40.0, 60.0, 100.0})
"""Pounds by which cylinders are sold, common practice, no source; of another number none is called "the forty"."""
_IN_THE = (
    r"({lb}) (?:of (?:propane|gas|lp) )?(?:in|into|inside) (?:the|a|our|my|that|this|each|one of the) ({n})(?! (?:psi|percent|tires?|degrees))\b"
)


def in_named(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether so many pounds may go into "the forty"; the cold changes nothing of it."""
    found = q.find(_IN_THE)
    if len(found) != 2 or found[1].value not in _SIZES or not _ASKED.search(q.frame):
        return None
    if any(one.unit not in ("F", "C", "temp", "clock") for one in q.amounts if one not in found):
        return None
    if _OTHERS.search(q.frame) or found[0].unit != "lb" or _ALREADY.search(q.frame):
        return None
    return _judged(q, found[0].value, found[1].value, ("a cylinder is called by its legal fill",))


_ALREADY = Lazy(r"\b(?:already|more|another|extra|half|left|still|on top)\b")
_NAMED = {"twenties": 20.0, "thirties": 30.0, "forties": 40.0, "hundreds": 100.0}
_MANY = {"both": 2.0, "two": 2.0, "pair of": 2.0, "three": 3.0, "four": 4.0}
_SETS = Lazy(
    rf"\b({'|'.join(_MANY)})(?: of)?(?: (?:the|our|my|those|these|empty))* ({'|'.join(_NAMED)})\b"
)
_SETS_BY_AMOUNT = (rf"({{n}}|both)(?: of)?(?: (?:the|our|my|those|these|empty))* ({'|'.join(_NAMED)})\b")
_ALL = Lazy(r"\b(?:between (?:them|the two|the pair|both)|altogether|in all|total|together|combined|in the two|in both)\b")
_EACH = Lazy(r"\b(?:each|apiece)\b|/each>")


def in_set(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether so many pounds may go into "both forties", between them or each."""
    many, size = _set_of(q)
    pounds = [one for one in q.amounts if one.unit == "lb" and not one.per]
    if not many or len(pounds) != 1 or _OTHERS.search(q.frame) or not _ASKED.search(q.frame) or _ALREADY.search(q.frame):  # fmt: skip
        return None
    if len([one for one in q.amounts if one.unit not in ("lb", "n", "F", "C", "temp")]) or len(q.amounts) > 2:
        return None
    in_all, each = _ALL.search(q.frame) is not None, _EACH.search(q.frame) is not None
    if in_all == each:
        return None
    total = pounds[0].value * (many if each else 1.0)
    return _judged(q, total, many * size, (f"{shown(many)} cylinders of {shown(size)} lb",))


def _set_of(q: Question) -> tuple[float, float]:
    """How many cylinders of which pounds "both forties" are; zeros when none are named so."""
    match = _SETS.search(q.frame)
    if match is not None:
        return _MANY[match[1]], _NAMED[match[2]]
    told = compiled(_SETS_BY_AMOUNT).search(q.frame)
    if told is not None and told[1].startswith("<"):
        return q.amount_at(told.start(1)).value, _NAMED[told[2]]
    return 0.0, 0.0


def _judged(q: Question, put: float, most: float, lines: tuple[str, ...]) -> Estimate:
    told = (*lines, f"{shown(put)} lb against {shown(most)} lb")
    if put > most * 1.002:
        return _refused(q, most, "lb", told)
    yes = "No, it is not too much" if _TOO_MUCH.search(q.frame) else "Yes"
    return exact("in it then", put, "lb", working=told, source=SOURCE, verdict=f"{yes}: {shown(put, 3)} pounds of {shown(most, 3)}, if nothing is in there now.", also=(figure("most that may be filled", most, "lb"),))  # fmt: skip


def _refused(q: Question, most: float, unit: str, lines: tuple[str, ...]) -> Estimate:
    no = "Yes, that is too much:" if _TOO_MUCH.search(q.frame) else "No."
    pounds = most if unit == "lb" else most / 0.45359237
    return withheld(PAST_LEGAL_FILL, unit, f"{no} {most_said(pounds)}", working=lines, source=SOURCE, also=(figure("most that may be filled", most, unit), figure("in gallons", pounds / LB_PER_GAL, "gal")))  # fmt: skip


_TAKES = r"(?:takes?|burns?|uses?|needs?|eats?|costs? us|goes through|is|runs|wants)"
_BOTTLES_FOR = (
    rf"\bhow many ({{lb}}) (?:(?:propane|steel|lp) )?{_VESSEL}\b[^.?]*?({{night|day|h}})[^.?]*\b(?:a|an|each|every|one|per) (night|day|hour) (?:of heat )?{_TAKES} (?:about |us )?({{lb}})"
)
_BOTTLES_AT = (
    rf"\b(?:a|an|each|every|one|per) (night|day|hour) (?:of heat )?{_TAKES} (?:about |us )?({{lb}})[^.?]*\bhow many ({{lb}}) (?:(?:propane|steel|lp) )?{_VESSEL}\b[^.?]*?({{night|day|h}})"
)
_EVERY = {"night": "night", "day": "day", "hour": "h"}


def bottles_for(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How many cylinders of a size so many nights take, where it is told what a night takes."""
    if len(q.amounts) != 3:
        return None
    first, last = compiled(_BOTTLES_FOR).search(q.frame), compiled(_BOTTLES_AT).search(q.frame)
    if first is not None:
        size, span, burn, every = q.amount_at(first.start(1)), q.amount_at(first.start(2)), q.amount_at(first.start(4)), first[3]
    elif last is not None:
        size, span, burn, every = q.amount_at(last.start(3)), q.amount_at(last.start(4)), q.amount_at(last.start(2)), last[1]
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


_STEEL = (
    r"({lb|lb/each}) (?:of|is|for|in) (?:the |that |it )?(?:steel|iron|metal|empty bottles?|tare)\b|\b(?:steel|tare|empties|empty weight)(?: (?:of|for|both|the two|together|in all|is|at|alone|them|weighs?))* ({lb})"
)
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


_FROM_FULL = (
    rf"\bfull (?:on |in |with )?(?:a |an |the |our |one )?({{lb}}) ?{_VESSEL}?[^.?]*\b(?:down to|now|at|to|shows?|reads?) (?:a |the |about )?({{part|percent}})[^.?]*?\b(?:in|after|over) (?:the last |about )?({{h}})|\b(?:a|the|our|one) (?:full )?({{lb}}) ?{_VESSEL}?[^.?]*\b(?:from|was|went) full\b[^.?]*\b(?:down to|now|at|to|shows?|reads?) (?:a |the |about )?({{part|percent}})[^.?]*?\b(?:in|after|over) (?:the last |about )?({{h}})"
)
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
