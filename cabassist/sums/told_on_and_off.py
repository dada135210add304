"""What comes aboard and what leaves in one breath, and gear moved off an axle: each clause with its own verb, every amount placed."""

from __future__ import annotations

import re
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.fuel import DIESEL_LB_PER_GAL
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.estimate.wheels import WATER_LB_PER_GAL
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted

_ASKED = Lazy(r"\b(?:heavier|lighter|net|difference|change|lost or gained|gained? or lost|up or down)\b")
_ON = Lazy(
    r"\b(?:came|come|comes|coming|got|get|gets|getting|went|go|goes|going|put|loaded|climbed|hopped|step\w*|take|took|taken|taking) (?:back )?(?:on|aboard|in)\b|\b(?:boarded|boards?|joined|joins?|loaded|added|brought)\b|\b(?:we|i) (?:put|picked|pick) (?:on|up)\b|\bpicked up\b"
)
_OFF = Lazy(
    r"\b(?:came|come|comes|coming|got|get|gets|getting|went|go|goes|going|put|step\w*|climbed|hopped|take|took|taken|taking|dropped|drop) (?:\w+ )?(?:off|out|away|back off)\b|\b(?:left|leaves?|leaving|unloaded|removed|departed|stayed behind|left behind)\b"
)
_CUT = re.compile(r" (?:, and|, but|, then|and then|but|and|then|while|plus|,|\.) (?=(?:\S+ ){0,4}?<)")
_COUNTED = re.compile(r"<(people|bag|n)> (?:\w+ ){0,2}?(?:at|of|@|x|weighing|averaging)(?: about| around)? <(lb|kg|n)>")
_ONE_WEIGHT = re.compile(r"<(lb|kg)>(?! (?:each|apiece|a (?:head|man|piece)|per)\b)")
_MOST_COUNTED, _MOST_EACH = 80.0, 400.0


def _pounds(one: Amount) -> float:
    return converted(one.value, "kg", "lb") if one.unit == "kg" else one.value


def on_and_off(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """How much heavier or lighter the coach is when some come aboard and others, or gear, leave."""
    if not 2 <= len(q.amounts) <= 8 or not _ASKED.search(q.frame) or any(one.per for one in q.amounts):
        return None
    net, lines, sides, taken = 0.0, list[str](), set[int](), 0
    start = 0
    cuts = [found.start() for found in _CUT.finditer(q.frame)]
    for end in (*cuts, len(q.frame)):
        clause, at = q.frame[start:end] + " ", start
        start = end
        if "<" not in clause:
            continue
        on, off = _ON.search(clause) is not None, _OFF.search(clause) is not None
        counted, weight = _COUNTED.search(clause), _ONE_WEIGHT.search(clause)
        tags = clause.count("<")
        if on is off or (counted is None) is (weight is None) and tags != 2:
            return None
        sign = 1 if on else -1
        if counted is not None and tags == 2:
            many, each = q.amount_at(at + counted.start()), q.amount_at(at + counted.start(2) - 1)
            if many.value % 1 or not 0 < many.value <= _MOST_COUNTED or not 0 < _pounds(each) <= _MOST_EACH:
                return None
            pounds = many.value * _pounds(each)
            lines.append(f"{'- ' if off else ''}{shown(many.value)} x {shown(_pounds(each))} lb = {shown(pounds)} lb")
        elif weight is not None and tags == 1:
            pounds = _pounds(q.amount_at(at + weight.start()))
            lines.append(f"{'- ' if off else ''}{shown(pounds)} lb")
        else:
            return None
        if pounds < 0:
            return None
        taken += tags
        net += sign * pounds
        sides.add(sign)
    if len(sides) != 2 or taken != len(q.amounts):
        return None
    verdict = f"{shown(abs(net))} lb {'heavier' if net >= 0 else 'lighter'}."
    return exact("change of weight", abs(net), "lb", working=tuple(lines), source="arithmetic", verdict=verdict)


_AXLE = r"(?:the |our |that |her |my )?(?:tag|drives?|steers?|drive axle|tag axle|steer axle|front axle|rear axle|front|rear|axle)"
_TAKEN = rf"\b(?:mov\w+|shift\w*|tak\w+|took|pull\w*|lift\w*|haul\w*|get|got) (?:out |off )?({{lb|kg|n}})(?: (?!onto|into|aboard)\w+){{0,4}} (?:off|from|off of) {_AXLE}\b"
_WEIGHS = r"\b(?:it|they|she|axle|tag|drives?|steers?|that|which)(?: is| are| was| were| now| currently| reads?| weighs?| shows?| sits?| scales?| ' s| ' re| at| about| with| by| rolling| of)+ ({lb|kg|n})"
_THEN = Lazy(
    r"\b(?:then|after|afterwards?|now|left on|becomes?|come (?:down )?to|be|read|reads|weigh|weighs|under|below)\b"
)
_TO_ANOTHER = Lazy(r"\b(?:onto|on to|over to|to (?:the|our) (?:drives?|tag|steers?|front|rear|axle)|into)\b")
_ALL_OF_IT = Lazy(r"\b(?:all of it|all (?:on|off)|the whole lot|every pound|the lot of it)\b")


def moved_off(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """What an axle weighs when gear is moved off it, or off it by the share that rests there."""
    if not 2 <= len(q.amounts) <= 4 or not _THEN.search(q.frame) or _TO_ANOTHER.search(q.frame):
        return None
    off, weighs = q.one(_TAKEN), q.one(_WEIGHS)
    limit = q.one(r"\b(?:under|below|over|limit(?: is| of)?|legal at|inside|within) (?:the )?({lb|kg|n})")
    share = q.one(
        r"({part|percent}) (?:of (?:it|that|the (?:weight|load)) )?(?:is |rests? |sits? |bears? |was )?(?:on|there|off)\b"
    )
    placed = [one for one in (off, weighs, limit, share) if one is not None]
    if off is None or weighs is None or len({one.start for one in placed}) != len(q.amounts) or len(placed) != len(q.amounts):  # fmt: skip
        return None
    metric = {one.unit for one in placed} & {"kg"}
    if metric or not 0 < off.value < weighs.value or weighs.value < _LEAST_AXLE:
        return None
    part = 1.0 if share is None else share.value / (100 if share.unit == "percent" else 1)
    if not 0 < part <= 1 or (share is not None and _ALL_OF_IT.search(q.frame)):
        return None
    gone = off.value * part
    there = weighs.value - gone
    lines = [f"{shown(100 * part)} % of {shown(off.value)} lb = {shown(gone)} lb"] if part < 1 else []
    lines.append(f"{shown(weighs.value)} - {shown(gone)} = {shown(there)} lb")
    verdict = ""
    if limit is not None:
        over = q.has(r"\bover (?:the )?{lb|kg|n}")
        left = limit.value - there
        verdict = f"{'Yes' if (left < 0) is over else 'No'}. {'Over' if left < 0 else 'Under'} the {shown(limit.value)} pounds, by {shown(abs(left))}."  # fmt: skip
    return exact("weight then", there, "lb", working=tuple(lines), source="arithmetic", verdict=verdict, also=(figure("taken off", gone, "lb"),))  # fmt: skip


_CLAIMED = r"\b(?:lighter|heavier) by (?:about |around |roughly |some |almost |nearly )?({lb})"
_DRAINED = Lazy(r"\b(?:dump\w*|drain\w*|pump\w*|empt\w+|gone|out|burn\w*|use[ds]?|let)\b")
_FILLED = Lazy(r"\b(?:fill\w*|took on|take on|add\w*|put in|topped)\b")
_YES = Lazy(r"\b(?:right|correct|true|really|is|are|am|does|do|will|would)\b")
_FUEL = Lazy(r"\b(?:diesel|fuel|burn\w*)\b")
_OTHER_LIQUID = Lazy(r"\b(?:propane|gas|def)\b")
_NEAR_ENOUGH = 0.03


def claimed_lighter(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whether so many gallons make the coach lighter, or heavier, by what is said.

    Source: water 8.337 lb/gal at 60 F (CoolProp); diesel 7.09 lb/gal (SG 0.85 from memory).
    """
    claimed = q.one(_CLAIMED)
    gallons = [one for one in q.amounts if one.unit == "gal" and not one.per]
    if claimed is None or len(q.amounts) != 2 or len(gallons) != 1 or not _YES.search(q.frame):
        return None
    drained, filled, fuel = (one.search(q.frame) is not None for one in (_DRAINED, _FILLED, _FUEL))
    if drained is filled or _OTHER_LIQUID.search(q.frame) or filled is q.has(r"\blighter\b"):
        return None
    density = DIESEL_LB_PER_GAL if fuel else WATER_LB_PER_GAL
    pounds = gallons[0].value * density
    said = "Yes" if abs(pounds - claimed.value) <= _NEAR_ENOUGH * pounds else "No"
    line = f"{shown(gallons[0].value)} gal x {shown(density)} lb = {shown(pounds)} lb"
    verdict = f"{said}: {shown(pounds, 3)} pounds {'heavier' if filled else 'lighter'}."
    return exact("change of weight", pounds, "lb", working=(line,), source="water 8.337 lb/gal (CoolProp); diesel SG 0.85 (from memory)", verdict=verdict)  # fmt: skip


_LEAST_AXLE = 3000.0
"""An axle of a coach weighs more."""
