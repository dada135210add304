"""Heat and water that flow: what a whole coach or an open vent loses, heat delivered by a furnace, a tank filled while it is used, the weight of water above a hose."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.propane import BTU_PER_GAL, BTU_PER_LB
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted, wanted

_DEGREE = Lazy(r"\b(?:per|a|each|every) (?:degree|deg)\b|<[^>]+/deg[FC]?>")
_SHARE_ASKED = Lazy(r"\b(?:what (?:share|part|percent\w*|fraction)|how much of (?:the|each|every)|duty|how (?:many minutes|often)|share of the time|percent of the time)\b")  # fmt: skip
_HOLDS = Lazy(r"\b(?:hold|keep up|manage|enough|handle|cover|cope|do it|carry)\b")
_LOSS_ASKED = Lazy(r"\b(?:loss|lose|loses|losing|need\w*|btu an hour|per hour|heat)\b")


def coach_loss(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Heat lost at so much a degree, against a furnace: BTU an hour, or the share of the time that it burns."""
    if (
        not _DEGREE.search(q.frame)
        or q.has(r"\b(?:pads?|tapes?)\b")
        or any(one.unit in ("W", "kW") for one in q.amounts)
    ):
        return None  # watts that a heat pad must give
    told = [one for one in q.amounts if q.words[one.start : one.end] != ("one",)]
    rates = [one for one in told if one.per in ("deg", "degF") or one.tag == "BTU/h"]
    shares = [one for one in told if one.unit in ("percent", "part") and not one.per]
    heats = [one for one in told if one not in (*rates, *shares) and (one.unit in ("BTU", "BTU/h") or (one.unit == "n" and one.value >= 5000))]  # fmt: skip
    if not heats and len(rates) == 2:
        rates, heats = sorted(rates, key=lambda one: one.value)[:1], sorted(rates, key=lambda one: one.value)[1:]
    degrees = [one for one in told if one not in (*rates, *shares, *heats) and (one.unit in ("F", "temp") or (one.unit == "n" and -60 <= one.value <= 90))]  # fmt: skip
    beside = [one for one in told if one not in (*rates, *shares, *heats, *degrees)]
    degrees = [one for one in degrees if not _counted(q, one)]
    if len(rates) != 1 or len(degrees) != 2 or len(shares) > 1 or len(heats) > 1 or len(heats) < len(shares):
        return None
    if any(one.unit not in ("people", "clock", "furnace") for one in beside) or rates[0].value > 5000:
        return None
    if any(one.unit == "furnace" and one.value > 1 for one in beside) or q.has(r"<(?:lb|gal|h)>|\bpropane\b"):
        return None
    warm, cold = max(one.value for one in degrees), min(one.value for one in degrees)
    loss = rates[0].value * (warm - cold)
    working = [f"{shown(rates[0].value)} × ({shown(warm)} − {shown(cold)}) = {shown(loss, 6)} BTU/h"]
    given = None
    if heats:
        share = 1.0 if not shares else shares[0].value / (100 if shares[0].unit == "percent" else 1)
        given = heats[0].value * share
        if given <= 0:
            return None
        working.append(f"{shown(heats[0].value)} × {shown(share)} = {shown(given, 6)} BTU/h delivered")
    source = "heat loss per degree × difference: arithmetic"
    if given is not None and _SHARE_ASKED.search(q.frame):
        part = 100 * loss / given
        verdict = f"{shown(part, 3)} percent of the time." if part <= 100 else "No: all of the time is not enough."
        return exact("share of the time", part, "percent", working=(*working, f"{shown(loss, 6)} ÷ {shown(given, 6)} = {shown(part)} %"), source=source, verdict=verdict, also=(figure("loss", loss, "BTU/h"),))  # fmt: skip
    if not _LOSS_ASKED.search(q.frame) and not _HOLDS.search(q.frame):
        return None
    if given is None:
        return exact("heat loss", loss, "BTU/h", working=tuple(working), source=source)
    enough = given >= loss
    verdict = f"{'Yes' if enough else 'No'}: {shown(given, 6)} BTU an hour are delivered, {shown(loss, 6)} are lost."
    return exact("heat loss", loss, "BTU/h", working=tuple(working), source=source, verdict=verdict, also=(figure("delivered", given, "BTU/h"),))  # fmt: skip


_THINGS = Lazy(r"^ (?:sleepers?|people|bodies|kids|guys|players|bunks?|passengers|furnaces?|of us|years?|miles?)\b")


def _counted(q: Question, amount: Amount) -> bool:
    """Whether a bare number counts people or things and is no temperature."""
    at = q.amounts.index(amount)
    pieces = q.frame.split("<")
    right = pieces[at + 1].split(">", 1)[1]
    return amount.unit == "n" and _THINGS.search(right) is not None


_AIRFLOW_BTU = 1.08
"""BTU an hour for one cubic foot a minute and one °F: 60 min × 0.075 lb/ft³ × 0.24 BTU/lb·°F (air at 70 °F)."""
_CUBIC = Lazy(r"<n> (?:cfm\b|cubic (?:feet|foot|ft)(?: (?:a|per|each) (?:minute|min))?|cu ?\.? ?ft)|<cfm>")
_HEAT_ASKED = Lazy(r"\b(?:btus?|heat|cost\w*|los\w+)\b")


def vented(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """BTU an hour that air carries out of a vent."""
    if not _CUBIC.search(q.frame) or not _HEAT_ASKED.search(q.frame) or not q.has(r"\b(?:minute|min|cfm)\b|<cfm>"):
        return None
    flows = [one for one in q.amounts if one.unit in ("n", "cfm")]
    degrees = [one for one in q.amounts if one.unit in ("F", "temp")]
    flow = next((one for one in flows if one.unit == "cfm"), flows[0] if flows else None)
    if flow is None or len(flows) + len(degrees) != len(q.amounts):
        return None
    bare = [one for one in flows if one is not flow]
    ends = [one.value for one in (*degrees, *bare)]
    if len(ends) == 1 and q.has(r"\b(?:split|difference|apart|colder|warmer|delta|degrees? between)\b"):
        step = abs(ends[0])
    elif len(ends) == 2:
        step = abs(ends[0] - ends[1])
    else:
        return None
    lost = _AIRFLOW_BTU * flow.value * step
    line = f"{_AIRFLOW_BTU} × {shown(flow.value)} ft³/min × {shown(step)} °F = {shown(lost)} BTU/h"
    return exact("heat carried out", lost, "BTU/h", working=(line,), source="air at 70 °F, 0.075 lb/ft³ and 0.24 BTU/lb·°F (common practice)")  # fmt: skip


_DELIVERED = Lazy(r"\b(?:delivered|into the (?:cabin|coach)|needs?|demand|loses?|losing|requires?)\b")
_BURNER = Lazy(r"\b(?:percent|effic\w*|burners?|furnaces?)\b|<percent>")


def delivered(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Propane for heat that must reach the cabin over some hours, at the efficiency that is told."""
    if not _DELIVERED.search(q.frame) or not _BURNER.search(q.frame):
        return None
    heats = [one for one in q.amounts if one.unit in ("BTU", "BTU/h")]
    spans = [one for one in q.amounts if one.unit == "h" and not one.per]
    shares = [one for one in q.amounts if one.unit == "percent"]
    if len(q.amounts) != 3 or [len(heats), len(spans), len(shares)] != [1, 1, 1]:
        return None
    want = wanted(q) or want
    gallons = want.kind == "volume" or q.has(r"\bgallons? of (?:propane|gas|lp)\b")
    pounds = want.kind == "mass" or q.has(r"\bpounds? of (?:propane|gas|lp)\b")
    share = shares[0].value / 100
    if gallons == pounds or not 0.5 <= share <= 1:
        return None
    heat = heats[0].value * spans[0].value / share
    per, unit = (BTU_PER_GAL, "gal") if gallons else (BTU_PER_LB, "lb")
    value = heat / per
    working = (
        f"{shown(heats[0].value)} BTU/h × {shown(spans[0].value)} h ÷ {shown(share)} = {shown(heat, 6)} BTU",
        f"{shown(heat, 6)} ÷ {per:,.0f} = {shown(value)} {unit}",
    )
    also = figure("propane", heat / BTU_PER_LB, "lb") if gallons else figure("propane", heat / BTU_PER_GAL, "gal")
    return exact("propane", value, unit, working=working, source="NFPA 58 Annex B (secondary)", also=(also,))


_FILLS = Lazy(r"\b(?:put\w*|fill\w*|hose|running in|going in|coming in|goes in|comes in|adding|in at)\b")
_USES = Lazy(r"\b(?:us(?:es?|ing|ed)|draw\w*|tak\w+|leak\w*|los\w+|out|taps?|shower\w*|run(?:s|ning)?)\b")
_FULL_ASKED = Lazy(r"\b(?:till?|until|to|before|when|how (?:long|many minutes))\b.*\b(?:full|filled|fill|top|fills?)\b")
_SIZE = Lazy(r"\b(?:holds?|tank(?: is)?|capacity(?: is)?|of)(?: about| a| an| the)* $")
_SIZE_AFTER = Lazy(r"^ (?:gallon )?(?:tank|capacity|full|fresh tank)\b")
_HAS = Lazy(r"\b(?:has|have|already|with|reads?|at|got|holding)(?: about| only| just)* $")
_HAS_AFTER = Lazy(r"^ (?:in (?:it|there|the)|already|now|aboard)\b")


def net_fill(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Minutes to fill the fresh tank while water is used: what the hose brings less what the taps take."""
    if not (_FILLS.search(q.frame) and _USES.search(q.frame) and _FULL_ASKED.search(q.frame)):
        return None
    if q.has(r"\b(?:waste|black|gr[ae]y|propane|diesel)\b"):
        return None
    flows = [one for one in q.amounts if one.tag in ("gal/min", "gpm", "L/min")]
    levels = [one for one in q.amounts if one.tag in ("gal", "n", "L")]
    parts_full = [one for one in q.amounts if one.tag in ("part", "percent")]
    if len(flows) != 2 or len(flows) + len(levels) + len(parts_full) != len(q.amounts) or len(parts_full) > 1:
        return None
    if any(one.unit == "L" for one in q.amounts):
        return None
    pieces = q.frame.split("<")
    lefts = {id(one): pieces[i].split(">", 1)[-1] for i, one in enumerate(q.amounts)}
    rights = {id(one): pieces[i + 1].split(">", 1)[1] for i, one in enumerate(q.amounts)}
    sizes = [one for one in levels if _SIZE_AFTER.search(rights[id(one)]) or _SIZE.search(lefts[id(one)]) and not _HAS_AFTER.search(rights[id(one)])]  # fmt: skip
    inside = [one for one in levels if one not in sizes and (_HAS_AFTER.search(rights[id(one)]) or _HAS.search(lefts[id(one)]))]  # fmt: skip
    if len(sizes) > 1 or len(inside) + len(parts_full) != 1 or len(sizes) + len(inside) != len(levels):
        return None
    size = sizes[0].value if sizes else coach.tank("fresh").capacity_gal
    if inside:
        level = inside[0].value
    else:
        level = size * parts_full[0].value / (100 if parts_full[0].unit == "percent" else 1)
    using = [one for one in flows if _USES.search(lefts[id(one)]) and not _FILLS.search(lefts[id(one)])]
    using = using or [one for one in flows if _USES.search(rights[id(one)]) and not _FILLS.search(rights[id(one)])]
    if len(using) != 1 or level >= size:
        return None
    out = using[0].value
    into = next(one.value for one in flows if one is not using[0])
    net = into - out
    if net <= 0:
        return exact("net flow", net, "gal/min", source="arithmetic", verdict="It never fills: more is used than the hose brings.")  # fmt: skip
    minutes = (size - level) / net
    working = (f"{shown(into)} − {shown(out)} = {shown(net)} gal/min", f"({shown(size)} − {shown(level)}) ÷ {shown(net)} = {shown(minutes)} min")  # fmt: skip
    return exact("time to fill", minutes, "min", working=working, source="arithmetic", verdict=f"Full in {duration(minutes / 60)}.")  # fmt: skip


_PSI_PER_FT = 0.4335
"""Water at 62.43 lb/ft³ ÷ 144."""
_RISES = Lazy(r"\b(?:higher|above|lift\w*|up|rise|head|climb\w*|uphill|elevation|tall|over)\b")
_LOST = Lazy(r"\b(?:los\w+|lift\w*|drop\w*|cost\w*|eat\w*|take\w*|need\w*|head|just to get|left)\b")


def static_head(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Pressure that lifting water to a height takes, and what is left of the pressure at the tap."""
    if not _RISES.search(q.frame) or not _LOST.search(q.frame) or not q.has(r"\bpsi\b|\bpressure\b|<psi>"):
        return None
    if q.has(r"\b(?:tires?|tyres?|brakes?|hose of|long|diameter)\b"):
        return None
    heights = [one for one in q.amounts if one.unit in ("ft", "m", "in")]
    taps = [one for one in q.amounts if one.unit == "psi"]
    if len(heights) != 1 or len(taps) > 1 or len(heights) + len(taps) != len(q.amounts):
        return None
    feet = converted(heights[0].value, heights[0].unit, "ft")
    lost = feet * _PSI_PER_FT
    line = f"{shown(feet)} ft × {_PSI_PER_FT} psi = {shown(lost)} psi"
    source = "static head of water, 62.43 lb/ft³ ÷ 144 (computed)"
    if not taps:
        return exact("pressure lost to the height", lost, "psi", working=(line,), source=source)
    left = taps[0].value - lost
    verdict = f"{shown(lost, 3)} psi go for the height, {shown(left, 3)} are left."
    remains = q.has(r"\bleft\b|\bwhat (?:pressure|psi)\b|\bat the (?:tank|filler|top|inlet)\b") and not q.has(r"\b(?:do|does|will) (?:i|we|it|you) lose\b")  # fmt: skip
    first, second = (left, lost) if remains else (lost, left)
    return exact("pressure", first, "psi", working=(line,), source=source, verdict=verdict, also=(figure("the other", second, "psi"),))  # fmt: skip
