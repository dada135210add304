"""Propane into bottles that are named in passing: "the forty", "both forties", "a forty pound bottle that's half full".

A cylinder named by its pounds is named by its legal fill, whatever the weather. Where "half full" may be half of the pounds or
half of the space, only what is right by both is told; an overfilled cylinder vents or bursts.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.propane import LB_PER_GAL
from cabassist.estimate.quantities import LB_KG, exact, figure, shown, withheld
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted
from cabassist.sums.sums_fill import MOST_OF_VOLUME, PAST_LEGAL_FILL, SOURCE, most_said

_VESSEL = r"(?:pounders?|cylinders?|bottles?|propane tanks?|ones?)"
_ASKED = Lazy(
    r"\b(?:legal\w*|ok|okay|alright|all right|allowed|fine|safe\w*|fits?|can|could|may|should|would|will|too much|too many|right)\b"
)
_TOO_MUCH = Lazy(r"\btoo (?:much|many|full)\b|\bover ?fill\w*\b|\billegal\b|\bover the\b")
_MORE = r"({lb}) (?:more |of (?:propane|gas) |extra )*(?:more )?(?:in|into|on top of|to) (?:a|an|the|our|my|that|one)?\b|\b(?:another|extra) ({lb})\b"
_SIZED = rf"({{lb}}) (?:(?:propane|steel|aluminum|gas|lp) )?{_VESSEL}\b"
_PART_FULL = r"({part}) (?:of the way )?full\b|\bfull to ({part})"
_OTHERS = Lazy(
    r"\b(?:enough|make it|makes it|do us|get us|see us|carry|through|till?|until|tonight|morning|nights?|warm|heat|furnaces?|psi|tires?|tyres?|axles?|fresh|waste|water|diesel|fuel|scale|weigh\w*|last|burn\w*|hours?|how (?:much|many|long))\b"
)


def topped(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether so many pounds more may go into a cylinder that is a part full."""
    if len(q.amounts) != 3 or _OTHERS.search(q.frame) or not _ASKED.search(q.frame):
        return None
    size = tuple(one for one in q.amounts if q.words[one.end - 1] in ("pounder", "pounders")) or q.find(_SIZED)
    share = q.find(_PART_FULL)
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
    verdict = (
        f"{yes}: {shown(low, 3)} pounds of {shown(most)}, or {shown(high, 3)} if a gauge shows that part of its space."
    )
    return exact("in it then", low, unit, working=lines, source=SOURCE, verdict=verdict, also=(figure("most that may be filled", most, unit),))  # fmt: skip


_SIZES = frozenset({5.0, 10.0, 20.0, 30.0, 33.0, 40.0, 60.0, 100.0})
"""Pounds by which cylinders are sold, common practice, no source; of another number none is called "the forty"."""
_IN_THE = r"({lb}) (?:of (?:propane|gas|lp) )?(?:in|into|inside) (?:the|a|our|my|that|this|each|one of the) ({n})(?! (?:psi|percent|tires?|degrees))\b"


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
_SETS = Lazy(rf"\b({'|'.join(_MANY)})(?: of)?(?: (?:the|our|my|those|these|empty))* ({'|'.join(_NAMED)})\b")
_SETS_BY_AMOUNT = rf"({{n}}|both)(?: of)?(?: (?:the|our|my|those|these|empty))* ({'|'.join(_NAMED)})\b"
_ALL = Lazy(
    r"\b(?:between (?:them|the two|the pair|both)|altogether|in all|total|together|combined|in the two|in both)\b"
)
_EACH = Lazy(r"\b(?:each|apiece)\b|/each>")


def in_set(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether so many pounds may go into "both forties", between them or each."""
    many, size = _set_of(q)
    pounds = [one for one in q.amounts if one.unit == "lb" and not one.per]
    if not many or len(pounds) != 1 or _OTHERS.search(q.frame) or not _ASKED.search(q.frame) or _ALREADY.search(q.frame):  # fmt: skip
        return None
    if [one for one in q.amounts if one.unit not in ("lb", "n", "F", "C", "temp")] or len(q.amounts) > 2:
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
    pounds = most if unit == "lb" else most / LB_KG
    return withheld(PAST_LEGAL_FILL, unit, f"{no} {most_said(pounds)}", working=lines, source=SOURCE, also=(figure("most that may be filled", most, unit), figure("in gallons", pounds / LB_PER_GAL, "gal")))  # fmt: skip
