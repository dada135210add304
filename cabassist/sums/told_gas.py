"""Sums over propane that the families of roles leave: furnaces each with a share of the time, nights of so many hours, two weighings.

Everything is put into pounds and hours. The story (`gas_story.py`) has every amount in its place; nothing follows when what
burns, or what there is, is told in two ways.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE, LB_PER_GAL, WEIGHT_SOURCE
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said
from cabassist.language.wanted import Wanted, wanted
from cabassist.sums.families import at_clock
from cabassist.sums.gas_story import Gas, gas_story
from cabassist.sums.sums_propane_held import of_cylinders

_OF_GAS = Lazy(
    r"\b(?:propane|lp|lpg|gas|cylinders?|bottles?|pounders?|furnaces?|btus?|burners?|heater)\b|<(?:BTU|BTU/h|cylinder|furnace)[/>]|\b(?:burned|burnt|burning|burns?|used)\b[^.]*<lb>[^,.]*\b(?:between|since|last night|overnight|in <h>)"
)
_OTHERS = Lazy(
    r"\b(?:diesel|mpg|batter\w*|bank|amps?|volts?|watts?|tires?|axles?|luggage|bags?|chill|freez\w*|fro[sz]e\w*|ice|idle|idling|generator|bleach|fresh|waste|hose|water|per degree|degree of|retest\w*|requal\w*|vapou?r\w*|boil\w*"
    r"|make(?! it\b)|keep up|keep going|starve|feed|gauge show|pressure|fill|filled|filling|refill\w*|stop|top|r value|tighten\w*|insulat\w*|warm(?:s|ed)?|per person|put in|took in|pumped|meter|price|cost|gallon price)\b|<(?:A|V|W|psi|in|ft|cm|mpg|BTU/deg|BTU/degF|W/deg)[/>]"
)
_ALL_FULL = Lazy(
    r"(?<!<part> )(?<!<percent> )\b(?:full|topped|filled|brand new|fresh)\b(?! (?:blast|time|bore|on|tilt|power|night|day))"
)
_BOTH = Lazy(r"\b(?:both|two of them)\b|\bpair\b")
_OTHER = Lazy(r"\bother\b")
_NIGHTS = frozenset({"night", "day"})
_FIRST_NOW = Lazy(r"\b(?:now|is down to|left)\b")


def told_gas(question: Question, want: Wanted, now: datetime) -> tuple[str, Estimate] | None:
    """What the propane comes to, with the calculation it belongs to; None when an amount has no place or nothing follows."""
    frame = question.frame
    pounders = {"pounder", "pounders"} & {*question.words}
    if (
        not (pounders or _OF_GAS.search(frame))
        or (_OTHERS.search(frame) and not _BURNER_ASKED.search(frame))
        or want.kind not in ("time", "mass", "volume", "energy", "share", "power", "")
    ):
        return None
    gas = gas_story(question)
    if gas is None or gas.keep is not None:
        return None
    if len(gas.weights) == 1 and gas.tare is not None and not (gas.needed or gas.rate or gas.burners or gas.loss or gas.moved or gas.sizes):  # fmt: skip
        return _weighed(gas, want, frame)
    if _DUTY_ASKED.search(frame) or _BURNER_ASKED.search(frame):
        return _may_burn(gas, frame)
    burn = _burn(gas, frame)
    if burn is None or want.kind in ("share", "power"):
        return None
    if gas.outside is not None and gas.burners and not gas.duties and not gas.needed:
        return None  # whether the cold lets it boil off fast enough
    start = len(gas.left) == 2 and gas.rate is None and not gas.burners
    content = (None, ()) if want.rate and (start or len(gas.weights) == 2) else (gas.left[-1], ()) if start else _content(gas, frame)  # fmt: skip
    needed = _needed(gas)
    if content is None or needed is None:
        return None
    made = _answer(gas, want, burn, content, needed, now)
    return None if made is None else ("propane-hours" if gas.burners or gas.loss else "propane-days-left", made)


def _span(gas: Gas) -> float | None:
    """Hours between two times of day."""
    times = [one for k, one in enumerate(gas.clocks) if not any(abs(one[0] - other[0]) < 1e-6 for other in gas.clocks[:k])]  # fmt: skip
    if len(times) != 2:
        return None
    (start, sure, _), (end, known, _) = times
    return (end - start) % (24 if sure and known else 12) or 12.0


def _between(gas: Gas) -> float:
    """Pounds between two weighings, or from one content to a later one; 0 when there are not two."""
    if len(gas.weights) == 2:
        return abs(gas.weights[0] - gas.weights[1])
    timed = gas.elapsed is not None or len(gas.clocks) == 2
    return gas.left[0] - gas.left[1] if len(gas.left) == 2 and timed and not (gas.rate or gas.burners or gas.sizes) else 0.0  # fmt: skip


def _weighed(gas: Gas, want: Wanted, frame: str) -> tuple[str, Estimate] | None:
    """What is in a cylinder by the scale and its stamped tare."""
    content = _content(gas, frame)
    pounds = content[0] if content is not None else None
    if content is None or pounds is None or want.rate or want.kind not in ("mass", "volume", ""):
        return None
    lines = content[1]
    volume = pounds / LB_PER_GAL
    only_gallons = want.kind == "volume" and not Lazy(r"\b(?:pounds|lbs?|kilos?|kg)\b").search(frame)
    if only_gallons:
        return "propane-weight", exact("in it", volume, "gal", working=lines, source=WEIGHT_SOURCE, also=(figure("pounds", pounds, "lb"),))  # fmt: skip
    return "propane-weight", exact("in it", pounds, "lb", working=lines, source=WEIGHT_SOURCE, also=(figure("gallons", volume, "gal"),))  # fmt: skip


_DUTY_ASKED = Lazy(
    r"\b(?:what|which) (?:duty|share of the time|part of the time|fraction)\b|\bhow (?:much|many percent) of the time (?:can|may|could|should|is|will)\b"
)
_BURNER_ASKED = Lazy(r"\b(?:how big an?|what size) (?:furnace|heater|burner)\b")


def _may_burn(gas: Gas, frame: str) -> tuple[str, Estimate] | None:
    """The share of the time a burner may be on, or the heat it may have, so that the propane lasts."""
    content, needed = _content(gas, frame), _needed(gas)
    pounds, hours = content[0] if content else None, needed[0] if needed else None
    if (
        not pounds
        or not hours
        or gas.outside is not None
        or gas.rate is not None
        or gas.moved is not None
        or gas.loss is not None
    ):
        return None
    heat = pounds * BTU_PER_LB / hours
    line = f"{shown(pounds)} lb x {shown(BTU_PER_LB)} ÷ {shown(hours)} h = {shown(heat)} BTU/h"
    if _BURNER_ASKED.search(frame):
        if gas.burners or len(gas.duties) > 1:
            return None
        most = heat / (gas.duties[0] if gas.duties else 1.0)
        return "propane-hours", exact("may burn", most, "BTU/h", working=(line,), source=HEAT_SOURCE)
    if not gas.burners or gas.duties:
        return None
    share = 100 * heat / sum(gas.burners)
    average = figure("on average", heat, "BTU/h")
    work = (line, f"÷ {shown(sum(gas.burners))} BTU/h = {shown(share)} %")
    verdict = "All the time, and some is left." if share > 100 else ""
    return "propane-hours", exact("of the time", min(100.0, share), "percent", working=work, source=HEAT_SOURCE, verdict=verdict, also=(average,))  # fmt: skip


def ungassed(question: Question) -> str:
    """What is to be asked when burners are told, and not how much propane there is."""
    want, frame = wanted(question), question.frame
    if want is None or want.kind != "time" or not _OF_GAS.search(frame) or _OTHERS.search(frame):
        return ""
    gas = gas_story(question)
    if gas is None or not gas.burners or gas.left or gas.sizes or gas.shares or gas.weights or gas.needed or gas.moved is not None:  # fmt: skip
        return ""
    return "How much propane is in the cylinders? Say pounds, gallons or percent."


def _burn(gas: Gas, frame: str) -> tuple[float, tuple[str, ...]] | None:
    """Pounds an hour with the working; None when it is told in no way, or in two."""
    fell = _between(gas)
    told = [gas.rate is not None, bool(gas.burners), gas.loss is not None, gas.moved is not None, fell > 0]
    if sum(told) != 1:
        return None
    if gas.rate is not None:
        return gas.rate, (f"{shown(gas.rate)} lb an hour",)
    if gas.moved is not None or fell > 0:
        pounds = gas.moved if gas.moved is not None else fell
        hours = gas.elapsed if gas.elapsed is not None else _span(gas)
        if not hours or pounds <= 0:
            return None
        return pounds / hours, (f"{shown(pounds)} lb in {shown(hours)} h = {shown(pounds / hours)} lb an hour",)
    if gas.loss is not None:
        if gas.efficiency is None or gas.duties:
            return None
        hourly = gas.loss / gas.efficiency / BTU_PER_LB
        line = f"{shown(gas.loss)} BTU/h ÷ {shown(gas.efficiency)} ÷ {shown(BTU_PER_LB)} = {shown(hourly)} lb an hour"
        return hourly, (line,)
    burners = gas.burners * 2 if len(gas.burners) == 1 and _TWO_FURNACES.search(frame) else gas.burners
    if gas.duties and _AS_EFFICIENCY.search(frame) and (max(gas.duties) >= _BURNS_WELL or "effic" in frame):
        return None  # how much of the heat gets in, not how much of the time it burns
    duties = gas.duties or [1.0]
    if len(duties) == 1:
        duties = duties * len(burners)
    if len(duties) != len(burners) or gas.efficiency is not None:
        return None
    heat = sum(one * duty for one, duty in zip(burners, duties, strict=True))
    parts = " + ".join(f"{shown(one)}{'' if duty == 1 else f' x {shown(duty, 3)}'}" for one, duty in zip(burners, duties, strict=True))  # fmt: skip
    hourly = heat / BTU_PER_LB
    return hourly, (f"{parts} = {shown(heat)} BTU/h ÷ {shown(BTU_PER_LB)} = {shown(hourly)} lb an hour",)


_AS_EFFICIENCY = Lazy(
    r"\beffic\w*|\bburn(?:s|ing)? at (?:about |around |only )*<(?:percent|part)>(?! (?:of )?(?:the |that |each |every )?(?:time|hour|night|day|clock|duty))"
)
_BURNS_WELL = 0.7
_TWO_FURNACES = Lazy(r"\bboth (?:\w+ )?(?:furnaces|heaters|<BTU)|\btwo furnaces\b")


def _content(gas: Gas, frame: str) -> tuple[float | None, tuple[str, ...]] | None:
    """Pounds there are with the working; (None, ()) when none are told; None when it fits nothing."""
    frame = of_cylinders(frame)
    shares = [one.value / (100 if one.unit == "percent" else 1) for one in gas.shares]
    many = sum(count for _, count, _ in gas.sizes)
    if gas.weights:
        if gas.tare is None or gas.left or shares:
            return None
        last = gas.weights[-1] if len(gas.weights) == 1 or not _FIRST_NOW.search(frame[: frame.find("<lb>")]) else gas.weights[0]  # fmt: skip
        inside = last - gas.tare
        return (inside, (f"{shown(last)} - {shown(gas.tare)} lb = {shown(inside)} lb",)) if inside > 0 else None
    if gas.tare is not None:
        return None
    if gas.left and not shares:
        if len(gas.left) > 1 and not Lazy(r"\b(?:and|plus|other|together|both)\b").search(frame):
            return None
        if gas.sizes and max(gas.left) > max(size for size, _, _ in gas.sizes) * 1.02:
            return None
        if _BOTH.search(frame) and len(gas.left) == 1:
            return None  # in each, or in both together
        return sum(gas.left), ()
    if not gas.sizes:
        return None if shares else (None, ())
    if gas.left:
        if len(shares) != many or len(gas.sizes) != 1:
            return None
        size = gas.sizes[0][0]
        total = sum(gas.left) + size * sum(shares)
        return total, (f"{shown(sum(gas.left))} + {shown(size)} x {shown(sum(shares), 3)} = {shown(total)} lb",)
    return _by_share(gas, shares, many, frame)


def _by_share(gas: Gas, shares: list[float], many: float, frame: str) -> tuple[float, tuple[str, ...]] | None:
    """Pounds in cylinders told by their size and how full they are."""
    if len(gas.sizes) == 1 and many == 1 and (_BOTH.search(frame) or _OTHER.search(frame) or len(shares) == 2):
        many = 2.0
    sizes = [size for size, count, _ in gas.sizes for _ in range(round(count if len(gas.sizes) > 1 else many))]
    if not shares:
        if not _ALL_FULL.search(frame):
            return None
        shares = [1.0] * len(sizes)
    elif len(shares) == 1 and len(sizes) > 1:
        full = _ALL_FULL.search(frame) is not None
        if full and len(sizes) == 2 and len(set(sizes)) == 1:
            shares = [1.0, *shares]
        elif _BOTH.search(frame) and not full:
            shares = shares * len(sizes)
        else:
            return None
    if len(shares) != len(sizes) or (len(set(sizes)) > 1 and len(set(shares)) > 1):
        return None
    pounds = sum(size * share for size, share in zip(sizes, shares, strict=True))
    parts = " + ".join(f"{shown(size)} x {shown(share, 3)}" for size, share in zip(sizes, shares, strict=True))
    return pounds, (f"{parts} = {shown(pounds)} lb",)


def _needed(gas: Gas) -> tuple[float | None, str] | None:
    """Hours it must last or burn, with how that is put; None when it fits nothing."""
    spans = gas.needed
    if len(spans) > 2:
        return None
    if len(spans) == 2:
        nights = [one for one in spans if one.unit in _NIGHTS]
        hours = [one for one in spans if one.unit in ("h", "min")]
        if len(nights) != 1 or len(hours) != 1:
            return None
        long = hours[0].value / (60 if hours[0].unit == "min" else 1)
        return nights[0].value * long, f"{shown(nights[0].value)} x {shown(long)} h = {shown(nights[0].value * long)} h"
    if spans:
        return _hours(spans[0]), ""
    if gas.clocks and gas.moved is None and not _between(gas):
        span = _span(gas)
        return None if span is None else (span, "")
    if gas.elapsed is not None and gas.moved is None and not _between(gas):
        return gas.elapsed, ""
    return None, ""


def _hours(one: Said) -> float:
    return one.value * {"h": 1.0, "min": 1 / 60, "day": 24.0, "night": 24.0, "week": 168.0}[one.unit]


def _answer(
    gas: Gas, want: Wanted, burn: tuple[float, tuple[str, ...]], content: tuple[float | None, tuple[str, ...]],
    needed: tuple[float | None, str], now: datetime,
) -> Estimate | None:  # fmt: skip
    hourly, lines = burn
    pounds, inside = content
    hours, span = needed
    nightly = any(one.unit == "night" for one in gas.needed) and len(gas.needed) == 1
    if hourly <= 0:
        return None
    if want.rate:
        if pounds is not None or hours is not None or want.kind not in ("mass", "volume", "energy", ""):
            return None
        return _rated(want, hourly, lines)
    if pounds is not None and (want.kind == "time" or (want.kind == "" and want.judged)):
        lasts = pounds / hourly
        work = (*inside, *lines, f"{shown(pounds)} lb ÷ {shown(hourly)} lb an hour = {shown(lasts)} h")
        verdict = ""
        if hours is not None:
            if nightly:
                return None  # nights of how many hours?
            verdict = f"{'Yes, it lasts' if lasts >= hours else 'No, not enough'}: {duration(lasts)} against {duration(hours)}."  # fmt: skip
        elif want.clock and gas.clocks:
            end = gas.clocks[-1][0]
            verdict = at_clock(now.replace(hour=int(end) % 24, minute=round(end % 1 * 60) % 60), lasts)
        elif want.clock:
            verdict = at_clock(now, lasts)
        return exact("lasts", lasts, "h", working=work, source=HEAT_SOURCE, verdict=verdict, also=(figure("days", lasts / 24, "days"),))  # fmt: skip
    if hours is None or want.kind not in ("mass", "volume", "energy", "") or nightly:
        return None
    burned = hourly * hours
    work = (*lines, *((span,) if span else ()), f"{shown(hourly)} lb an hour x {shown(hours)} h = {shown(burned)} lb")
    verdict = ""
    if pounds is not None:
        left = pounds - burned
        verdict = f"{'Yes' if left >= 0 else 'No'}: {shown(burned)} pounds of {shown(pounds)}, {shown(abs(left))} {'to spare' if left >= 0 else 'short'}."  # fmt: skip
        if want.difference:
            return exact("to spare" if left >= 0 else "short", abs(left), "lb", working=(*inside, *work), source=HEAT_SOURCE, verdict=verdict)  # fmt: skip
    gallons, mass = burned / LB_PER_GAL, ("pounds", burned, "lb")
    also: tuple[Figure, ...] = (figure(*mass) if want.kind == "volume" else figure("gallons", gallons, "gal"),)
    value, unit = (gallons, "gal") if want.kind == "volume" else (burned * BTU_PER_LB, "BTU") if want.kind == "energy" else (burned, "lb")  # fmt: skip
    return exact("burns", value, unit, working=(*inside, *work), source=f"{HEAT_SOURCE}; {WEIGHT_SOURCE}", verdict=verdict, also=also)  # fmt: skip


def _rated(want: Wanted, hourly: float, lines: tuple[str, ...]) -> Estimate:
    """What is burned in an hour or a day."""
    factor, per = {"h": (1.0, "h"), "day": (24.0, "day"), "min": (1 / 60, "min")}[want.rate]
    pounds = hourly * factor
    work = lines if factor == 1 else (*lines, f"x {shown(factor)} = {shown(pounds)} lb a {per}")
    mass, volume = (pounds, f"lb/{per}"), (pounds / LB_PER_GAL, f"gal/{per}")
    first, other = (volume, mass) if want.kind == "volume" else (mass, volume)
    return exact("burns", *first, working=work, source=f"{HEAT_SOURCE}; {WEIGHT_SOURCE}", also=(figure("or", *other),))
