"""Sums over what is plugged in: amps, watts and volts of loads, a breaker or a generator, in whatever order they are told.

Everything follows from watts = volts x amps, a resistance that gives less at lower volts, and the 80 % that a breaker
carries for hours. Every amount is a load, a count of loads, a supply, volts or a share; one that is none of them leaves
the question to the others.
"""

from __future__ import annotations

from cabassist.coach import Coach
from cabassist.estimate.power import CONTINUOUS_SHARE
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.asked_for import asked_for
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.placed import placed
from cabassist.language.wanted import Wanted
from cabassist.sums.plugged import FAR_END, NEAR_END, SIZE, Plugged, plugged

_NEC = "NEC 210.20(A)"
_GENERATOR = Lazy(r"\b(?:generator|genny|gennie|gen ?set|gen|inverter)\b")
_OTHERS = Lazy(
    r"<(?:Ah|awg|ft|m|yd|gal|L|lb|kg|psi|mpg|mph|BTU|BTU/h|kWh|Wh)[/>]|\b(?:batter\w+(?! charger)|bank|amp ?hours?|gauge|btus?|propane|gallons?|pounds|cords?|how long|how many hours|degrees?|kilowatt ?hours?|kwh|wh)\b"
)
FOR_HOURS = Lazy(
    r"\b(?:all (?:night|day|evening|weekend)|over ?night|(?:whole|entire|full) (?:night|day)|breakfast|sustained|non ?stop|nonstop|continuous\w*|contin\w*|(?:a)?round the clock|(?:till|until|through|to) (?:the )?(?:morning|dawn|breakfast)|hours (?:on end|and hours)|for hours|long haul|lights out|while (?:we|they|everyone) sleeps?|through the night|the night|at night|tonight|steady|sleep\w*)\b|<(?:h|night|day)>|<clock>.*<clock>"
)
BRIEF = Lazy(
    r"\b(?:for (?:a|one|just a) (?:minute|moment|bit)|quick|short\w*|briefly)\b|\b(?:for|runs?|running|on|together|going|only|just)(?: (?:only|just|about|both|them|it|together|at once))* <min>(?! (?:of|out of|off|in|per|each|every|an|on,? (?:and )?(?:then )?(?:off|<min>)) )"
)
LEFT = Lazy(
    r"\b(?:left|spare|room|headroom|remain\w*|free|more can|how (?:many|much) more|still (?:add|put|run|have|plug)|else can|unused)\b"
)
OVER = Lazy(
    r"\b(?:over or under|(?:has|have|need|must|got) to (?:go|come) off|turn(?:ed)? off|switch(?:ed)? off|shut off|shed|drop|over (?:by|are|am|is)|how (?:far|much|many \w+) (?:over|too much)|must go|cut|kill)\b"
)
_MOST = Lazy(
    r"\b(?:what|how (?:much|many (?:amps|watts))|most|max\w*|watts|amps)\b[^.?]*?\b(?:can|may|could|should|allowed|safely|able to) (?:(?:i|we|you|it|they|that) )?(?:\w+ )?(?:pull|draw|use|run|load|take|put|have|carry|plug|get|hang|give|supply)\b|\ballowed\b|\blimit\b|\bgood for\b"
)
_MEASURED = Lazy(
    r"\b(?:meter|outlet|wall|reads?|reading|measur\w*|shows?|really|actually|sag\w*|only|down to|low|now|getting|seeing|see)\b"
)
_RATED = Lazy(r"\b(?:label\w*|made|rated|rating|made for|plate|nameplate|nominal|designed|stamped|sticker)\b")
_MAINS = (85.0, 260.0)
_RESISTS = Lazy(r"\b(?:heaters?|kettle|element|toaster|coffee|iron|dryer|blanket|pads?)\b")


_INVERTER = Lazy(r"\binverter\b")
_BANK = Lazy(r"<Ah[/>]|\b(?:how long|hours|amp ?hours?|last)\b")
_THE_CORD = Lazy(r"\b(?:in|is|by) (?:the|that|our) cords?\b")
_TWO_ENDS = Lazy(
    r"<(?:n|V)> (?:volts )?(?:at|on|in) the (?:\w+ )?(?:wall|outlet|post|pedestal|plug|socket|stand|panel)\b.*<(?:n|V)> (?:at|in|on|inside|aboard)\b|\b(?:wall|outlet|post|pedestal|socket|panel)\b(?: [a-z]+){0,3} <(?:n|V)>.*\b(?:coach|bus|inside|aboard|here)\b(?: [a-z]+){0,3} <(?:n|V)>"
)


def shore_sum(question: Question, coach: Coach) -> tuple[str, Estimate] | None:
    """What the loads and the supply come to, with the calculation it belongs to; None when not every amount is placed."""
    frame = question.frame
    measured = any(one.unit in ("A", "W", "kW", "V") for one in question.amounts)
    through = _INVERTER.search(frame) is not None and not _BANK.search(frame)
    ends = _TWO_ENDS.search(frame) is not None
    if not (measured or ends) or (_OTHERS.search(_THE_CORD.sub(" ", frame) if ends else frame) and not through):
        return None
    found, want = placed(question), asked_for(question)
    if found is None:
        return None
    told = plugged(found, frame)
    if told is None:
        return None
    if want is None or want.kind == "mass":  # "3 x 80 W pads, 12 V. A?": what is not told of the three
        want = Wanted(
            ""
            if told.breaker or told.supply or len(told.volts) > 1 or SIZE.search(frame)
            else "current"
            if told.watts
            else "watts"
        )
    if want.kind in ("mass", "bags", "distance"):  # "what would the total be", "does it make it"
        want = Wanted("", judged=want.judged, difference=want.difference)
    made = _worked(told, question, want, coach)
    calculation = "breaker-limit" if told.breaker is not None else "shore-load"
    return None if made is None else (calculation, made)


def _worked(told: Plugged, question: Question, want: Wanted, coach: Coach) -> Estimate | None:
    frame = question.frame
    if told.watts and len(told.volts) == 2 and told.breaker is None and told.supply is None:
        return _at_other_volts(told, want, frame)
    if len(told.volts) == 2:
        return _lost(told, want, frame) if not (told.watts or told.amps or told.breaker) else None
    if len(told.volts) > 2 or (told.share is not None and told.supply is None and told.breaker is None):
        return None
    assumed: tuple[str, ...] = ()
    if told.volts:
        volts = told.volts[0].value
    else:
        volts = float(coach.shore.volts)
        assumed = (f"{shown(volts)} V (profile)",)
    if told.legs > 1:
        return _both_legs(told, want, volts, assumed, frame)
    if found := _HOW_MANY.search(frame):
        return _many(told, volts, assumed, found[0].split()[-1])
    if told.supply is not None:
        return _generator(told, want, volts, assumed, frame)
    if told.breaker is not None:
        return _on_breaker(told, want, volts, assumed, frame, coach)
    if SIZE.search(frame) and want.kind in ("current", ""):
        return _breaker_for(told, volts, assumed, frame)
    return _plain(told, want, volts, assumed, frame)


def _parts(values: list[float]) -> str:
    return " + ".join(map(shown, values))


def _drawn(told: Plugged, volts: float) -> tuple[float, tuple[str, ...]]:
    """Amps of all loads, with the working."""
    efficiency = told.efficiency or 1.0
    lines: list[str] = []
    amps = sum(told.watts) / (volts * efficiency)
    if told.watts:
        by = f" ÷ {shown(efficiency)}" if told.efficiency else ""
        lines.append(f"({_parts(told.watts)}) W ÷ {shown(volts)} V{by} = {shown(amps)} A")
    if told.amps:
        total = amps + sum(told.amps)
        both = [*([amps] if told.watts else []), *told.amps]
        if len(both) > 1:
            lines.append(f"{_parts(both)} = {shown(total)} A")
        amps = total
    return amps, tuple(lines)


def _plain(told: Plugged, want: Wanted, volts: float, assumed: tuple[str, ...], frame: str) -> Estimate | None:
    """Amps for watts, or watts for amps."""
    if not told.loads or (want.difference and not _SAVES.search(frame)) or want.judged:
        return None
    amps, lines = _drawn(told, volts)
    if want.kind == "current" and told.watts and (told.volts or not told.efficiency):
        watts = figure("together", sum(told.watts) + volts * sum(told.amps), "W")
        return exact("drawn", amps, "A", working=lines, assumptions=assumed, source="arithmetic", also=(watts,))
    if want.kind == "watts" and told.amps and told.volts and told.efficiency is None:
        watts_ = amps * volts
        line = f"{shown(amps)} A x {shown(volts)} V = {shown(watts_)} W"
        return exact("power", watts_, "W", working=(*lines, line), assumptions=assumed, source="arithmetic", also=(figure("drawn", amps, "A"),))  # fmt: skip
    return None


def _both_legs(told: Plugged, want: Wanted, volts: float, assumed: tuple[str, ...], frame: str) -> Estimate | None:
    """Watts of a supply with two legs; what is plugged in would have to be told by its leg."""
    if told.breaker is None or told.loads or told.efficiency is not None or want.kind != "watts" or want.difference:
        return None
    if volts > _ONE_LEG_MOST:
        return None  # 240 volts are those of both already
    share = told.share or (CONTINUOUS_SHARE if FOR_HOURS.search(frame) else 1.0)
    amps = share * told.breaker
    watts = told.legs * amps * volts
    lines = (f"{shown(told.breaker)} A x {shown(share)} = {shown(amps)} A",) if share < 1 else ()
    work = (*lines, f"{told.legs} x {shown(amps)} A x {shown(volts)} V = {shown(watts)} W")
    return exact("both legs", watts, "W", working=work, assumptions=assumed, source=_NEC if share < 1 else "arithmetic", also=(figure("amps on each leg", amps, "A"),))  # fmt: skip


_ONE_LEG_MOST = 130.0
_SAVES = Lazy(
    r"\b(?:turn\w*|switch\w*|shut\w*) (?:\S+ ){0,5}?off\b.*\bsaves?\b|\b(?:unplug\w*|drop\w*|without)\b.*\bsaves?\b"
)
_HOW_MANY = Lazy(
    r"\b(?:how many|max(?:imum)?(?: number of)?|most) (?:more |of )?(?:(?:the|those|these) )?(?:<[^>]+> )?(?:\w+ ){0,3}?(?:heaters?|pads?|units|lamps?|blankets?|chargers?|kettles?|of (?:them|those|these))\b"
)


def _many(told: Plugged, volts: float, assumed: tuple[str, ...], things: str) -> Estimate | None:
    """How many of one load a breaker carries for hours, or a generator at its rating."""
    loads = [*told.watts, *(one * volts for one in told.amps)]
    if len(loads) != 1 or told.efficiency is not None or (told.breaker is None) is (told.supply is None):
        return None
    if told.breaker is not None:
        limit = CONTINUOUS_SHARE * told.breaker * volts
        line = f"{shown(told.breaker)} A x {CONTINUOUS_SHARE} x {shown(volts)} V = {shown(limit)} W"
    else:
        limit = (told.supply or 0.0) * (told.share or 1.0)
        line = f"{shown(limit)} W"
    count = limit / loads[0]
    work = (line, f"÷ {shown(loads[0])} W = {shown(count, 3)}")
    unit = things if things.endswith("s") else f"{things}s"
    unit = "heaters" if unit in ("thems", "thoses", "theses") else unit
    return exact(f"{unit} it carries", float(int(count + 1e-9)), unit, working=work, assumptions=assumed, source=_NEC)  # fmt: skip


def _breaker_for(told: Plugged, volts: float, assumed: tuple[str, ...], frame: str) -> Estimate | None:
    """The smallest breaker for a load: 125 % of what runs for hours."""
    if not (told.watts or told.amps):
        return None
    amps, lines = _drawn(told, volts)
    if not told.watts:
        assumed = ()
    if not FOR_HOURS.search(frame):
        return None
    least = amps / CONTINUOUS_SHARE
    line = f"{shown(amps)} A ÷ {CONTINUOUS_SHARE} = {shown(least)} A"
    sizes = [one for one in (15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 90, 100) if one >= least - 1e-6]
    verdict = f"At least {shown(least)} amps: the next size is {sizes[0]}." if sizes else ""
    return exact("breaker at least", least, "A", working=(*lines, line), assumptions=assumed, source=_NEC, verdict=verdict)  # fmt: skip


def _amps(value: float) -> str:
    return f"{shown(value, 3)} amp{'' if value == 1 else 's'}"


def _in(want: Wanted, amps: float, volts: float) -> tuple[float, str]:
    return (amps * volts, "W") if want.kind == "watts" else (amps, "A")


def _on_breaker(told: Plugged, want: Wanted, volts: float, assumed: tuple[str, ...], frame: str, coach: Coach) -> Estimate | None:  # fmt: skip
    """Loads on a breaker: their sum, what is left or over, a yes or no; without loads what it carries."""
    assert told.breaker is not None
    breaker, brief = told.breaker, BRIEF.search(frame) is not None
    hours = FOR_HOURS.search(frame) is not None and not brief
    limit = CONTINUOUS_SHARE * breaker
    share = f"{shown(breaker)} A x {CONTINUOUS_SHARE} = {shown(limit)} A for hours on end"
    if not told.loads:
        plain = want.kind == "" and not want.judged and _CARRIES.search(frame) is not None
        if not (hours or told.share == CONTINUOUS_SHARE) or not (plain or want.kind in ("current", "watts")):
            return None
        value, unit = _in(want, limit, volts)
        work: tuple[str, ...] = (
            (share,) if unit == "A" else (share, f"{shown(limit)} A x {shown(volts)} V = {shown(value)} W")
        )
        other = figure("in amps", limit, "A") if unit == "W" else figure("in watts", limit * volts, "W")
        return exact("may be drawn for hours", value, unit, working=work, assumptions=assumed, source=_NEC, also=(other,))  # fmt: skip
    if told.efficiency is not None:
        return None
    if not told.watts and want.kind != "watts":
        assumed = ()
    total, lines = _drawn(told, volts)
    left = limit - total
    fits = left >= -1e-6
    said = f"{shown(total)} amps on a {shown(breaker)} amp breaker, {shown(limit)} are allowed for hours on end."
    if fits:
        verdict = f"Yes, it fits: {said}"
    elif total <= breaker and brief:
        fits, verdict = True, f"Yes, for a short time: {shown(total)} of {shown(breaker)} amps."
    elif total <= breaker:
        verdict = f"No, not for hours on end, over by {_amps(-left)}: {said}"
    else:
        verdict = f"No, too much, over by {_amps(-left)}: {said} It trips."
    if not fits and (shed := to_shed(told, total, volts, breaker if brief else limit, coach)):
        verdict = f"{verdict} {shed}"
    beyond, room = abs(left), "left" if left >= -1e-6 else "over by"
    figures: tuple[Figure, ...] = (
        figure("drawn", total, "A"), figure("drawn in watts", total * volts, "W"), figure("allowed for hours", limit, "A"), figure(room, beyond, "A"), figure(f"{room}, in watts", beyond * volts, "W"),
    )  # fmt: skip
    work = (*lines, share)
    if OVER.search(frame) and left < 0 and want.kind in ("current", "watts", ""):
        value, unit = _in(want, -left, volts)
        line = f"{shown(total)} - {shown(limit)} = {shown(-left)} A"
        return exact("over the limit", value, unit, working=(*work, line), assumptions=assumed, source=_NEC, verdict=verdict, also=figures[:3])  # fmt: skip
    if LEFT.search(frame) and want.kind in ("current", "watts", "", "volume", "mass"):
        value, unit = _in(want, beyond, volts)
        line = f"{shown(limit)} - {shown(total)} = {shown(left)} A"
        verdict = f"Nothing is left: {verdict}" if left < -1e-6 else ""
        return exact("left on the breaker" if not verdict else "over the limit", value, unit, working=(*work, line), assumptions=assumed, source=_NEC, verdict=verdict, also=figures)  # fmt: skip
    if want.kind not in ("current", "watts", ""):
        return None
    if _MOST.search(frame) and want.kind in ("current", "watts") and not _ADDS.search(frame):
        value, unit = _in(want, limit, volts)
        return exact("may be drawn for hours", value, unit, working=(share, *lines), assumptions=assumed, source=_NEC, verdict=verdict, also=figures)  # fmt: skip
    value, unit = _in(want, total, volts)
    others = tuple(one for one in figures if one.name not in ("drawn", "drawn in watts"))
    return exact("drawn", value, unit, working=work, assumptions=assumed, source=_NEC, verdict=verdict, also=others)


_CARRIES = Lazy(
    r"\b(?:draw\w*|pull\w*|load\w*|lean|run(?:ning)?|carr(?:y|ies)|stay|leave|take|use|have on|hang|plug|allow\w*|limit|rated?|most|max\w*|give|hold|continuous\w*|percent of)\b|<percent> of\b"
)


_ESSENTIAL = Lazy(r"\b(?:heater|fridge|refrigerator|freezer|charger|converter|pump|tape|pad|blanket|furnace|blower)\b")
_COMFORT, _NEEDED = 0, 50
_COMMON_NAMES = frozenset("heater maker machine pot engine galley cabin the".split())


def _order(name: str, coach: Coach) -> int:
    """When a load is switched off: by the profile's order, else comfort before what is needed."""
    said = set(name.split()) - _COMMON_NAMES
    for load in coach.loads:
        if said & set(load.name.lower().split()):
            return load.shed_order or _NEEDED
    return _NEEDED if _ESSENTIAL.search(name) else _COMFORT


def to_shed(told: Plugged, total: float, volts: float, limit: float, coach: Coach) -> str:
    """What to switch off first so that the rest may stay on, comfort first: the smallest that does it alone, or the largest."""
    amps = [(one.value if one.unit == "A" else one.value / volts, one.name) for one in told.loads]
    if len(amps) < 2 or not all(name for _, name in amps):
        return ""
    rest, off = total, []
    for _ in amps:
        alone = [one for one in amps if rest - one[0] <= limit + 1e-6]
        gone = min(alone or amps, key=lambda one: (_order(one[1], coach), one[0] if alone else -one[0]))
        amps.remove(gone)
        rest -= gone[0]
        off.append(f"the {gone[1]}")
        if alone:
            break
    return f"Switch off {' and '.join(off)}: then it is {shown(rest)} amps."


_ADDS = Lazy(r"\b(?:total|together|add|altogether|in all|do (?:they|the \w+|those) (?:pull|draw)|load)\b")


def _generator(told: Plugged, want: Wanted, volts: float, assumed: tuple[str, ...], frame: str) -> Estimate | None:
    """Amps a generator gives, or what is left of its rating."""
    assert told.supply is not None
    if told.breaker is not None or told.efficiency is not None:
        return None
    rating = told.supply * (told.share or 1.0)
    lines: tuple[str, ...] = (
        (f"{shown(told.supply)} W x {shown(told.share)} = {shown(rating)} W",) if told.share else ()
    )
    if not (told.watts or told.amps):
        if want.kind == "current":
            amps = rating / volts
            line = f"{shown(rating)} W ÷ {shown(volts)} V = {shown(amps)} A"
            return exact("amps", amps, "A", working=(*lines, line), assumptions=assumed, source="arithmetic")
        if want.kind == "watts" and told.share:
            return exact("watts", rating, "W", working=lines, source="arithmetic")
        return None
    used = sum(told.watts) + volts * sum(told.amps)
    parts = [*map(shown, told.watts), *(f"{shown(one)} A x {shown(volts)} V" for one in told.amps)]
    work = (*lines, f"{' + '.join(parts)} = {shown(used)} W")
    if not told.amps and want.kind != "current":
        assumed = ()
    left = rating - used
    verdict = f"{'Yes, it fits' if left >= 0 else 'No, too much'}: {shown(used)} of {shown(rating)} watts."
    if want.kind in ("current", "watts") and SUM_ASKED.search(frame) and not LEFT.search(frame) and not want.difference:  # fmt: skip
        value, unit = (used / volts, "A") if want.kind == "current" else (used, "W")
        also = (figure("left", left, "W"), figure("left in amps", left / volts, "A"))
        return exact("drawn", value, unit, working=(*work, f"÷ {shown(volts)} V = {shown(used / volts)} A") if unit == "A" else work, assumptions=assumed, source="arithmetic", verdict=verdict, also=also)  # fmt: skip
    if LEFT.search(frame) or want.difference or want.judged or want.kind == "":
        value, unit = (left / volts, "A") if want.kind == "current" else (left, "W")
        also = (figure("used", used, "W"), figure("left in amps", left / volts, "A"))
        return exact("left", value, unit, working=(*work, f"{shown(rating)} - {shown(used)} = {shown(left)} W"), assumptions=assumed, source="arithmetic", verdict=verdict, also=also)  # fmt: skip
    if want.kind == "share":
        share = 100 * used / rating
        return exact("of the rating", share, "percent", working=(*work, f"÷ {shown(rating)} W = {shown(share)} %"), assumptions=assumed, source="arithmetic", verdict=verdict)  # fmt: skip
    return None


SUM_ASKED = Lazy(
    r"\bhow (?:many|much) (?:amps|watts|current|power)\b[^.?,]{0,30}\b(?:total|in all|altogether|all told|together|combined|add up)\b|\b(?:total|combined|sum)\b(?: in| of the| of)? (?:amps|watts|draw|load|current)\b|\bwhat (?:is |' s )?the (?:total|sum)\b"
    r"|\bhow (?:many|much) (?:amps|watts|current) (?:is|are|do|does) (?:that|they|those|it|the \w+|all)(?: \w+){0,3}(?: (?:draw|pull|take|want)|, all told| altogether| in all)\b|\badds? up to\b|\ball told\b"
)
"""Asks what all loads draw, beside whether the generator carries it."""


def _at_other_volts(told: Plugged, want: Wanted, frame: str) -> Estimate | None:
    """What a heater gives at other volts than it is made for: a resistance gives less by the square."""
    if (
        want.kind not in ("watts", "current", "")
        or told.amps
        or told.share
        or told.efficiency
        or not _RESISTS.search(frame)
    ):
        return None
    first, second = told.volts
    rated = [one for one in told.volts if _RATED.search(one.left) or one.before in ("W", "kW")]
    if len(rated) != 1:
        measured = [one for one in told.volts if _MEASURED.search(one.left) or _MEASURED.search(one.right)]
        if len(measured) != 1:
            return None
        rated = [one for one in told.volts if one is not measured[0]]
    at, real = rated[0].value, (second if rated[0] is first else first).value
    made = sum(told.watts)
    if not (_MAINS[0] <= at <= _MAINS[1] and _MAINS[0] <= real <= _MAINS[1]):
        return None
    watts = made * (real / at) ** 2
    line = f"{shown(made)} W x ({shown(real)} ÷ {shown(at)})² = {shown(watts)} W"
    amps = watts / real
    value, unit = (amps, "A") if want.kind == "current" else (watts, "W")
    also = (figure("watts", watts, "W"), figure("amps", amps, "A"))
    return exact("given at that voltage", value, unit, working=(line,), assumptions=("a plain resistance, as in a heater",), source="Ohm's law", also=also)  # fmt: skip


def _lost(told: Plugged, want: Wanted, frame: str) -> Estimate | None:
    """Volts or percent lost between two readings of one supply."""
    first, second = told.volts
    near, far = max(first.value, second.value), min(first.value, second.value)
    if not _MAINS[0] <= far < near <= _MAINS[1]:
        return None
    high, low = (first, second) if first.value > second.value else (second, first)
    if not (NEAR_END.search(high.left + high.right) or FAR_END.search(low.left + low.right)):
        return None
    if not Lazy(r"\b(?:los\w+|loss|drop\w*|sag\w*|difference|percent)\b").search(frame):
        return None
    lost = near - far
    share = 100 * lost / near
    lines = (f"({shown(near)} - {shown(far)}) ÷ {shown(near)} = {shown(share)} %",)
    verdict = "More than 5 percent is too much: a shorter or thicker cord." if share > 5 else ""
    volts, percent = figure("volts lost", lost, "V"), figure("share lost", share, "percent")
    if want.kind == "volts" and not Lazy(r"\bpercent").search(frame):
        return exact("volts lost", lost, "V", working=lines, source="arithmetic", verdict=verdict, also=(percent,))
    return exact("share lost", share, "percent", working=lines, source="arithmetic", verdict=verdict, also=(volts,))
