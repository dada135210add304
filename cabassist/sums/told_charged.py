"""Amps, amp hours and watts that are told whole: several of one thing, a charge less what is used meanwhile, legs, watts too many."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.placed import placed
from cabassist.language.wanted import Wanted
from cabassist.sums.told_on_off import as_share

_LOW, _HIGH = 100.0, 250.0
_AMP_HOURS = Lazy(r"\bamp ?hours?\b|\bah\b")
_OF_THEM = Lazy(r"^(?:of (?:them|those)|each|apiece|all told|in all)\b")
_BANK = Lazy(r"\b(?:left|last\w*|bank|enough|usable|charge[ds]?|charging|inverter|percent|effic\w*)\b")


def charge_of_many(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Amp hours of several of one thing over some hours: "a fan of 30 watts, three of them, six hours, 12 volts"."""
    if not _AMP_HOURS.search(q.frame) or want.kind != "charge" or _BANK.search(q.frame) or len(q.amounts) not in (3, 4):
        return None
    found = placed(q)
    if found is None or any(one.amount.per or one.amount.each for one in found):
        return None
    powers = [one for one in found if one.unit in ("W", "A")]
    hours = [one for one in found if one.unit in ("h", "min")]
    volts = [one for one in found if one.unit == "V"]
    counts = [one for one in found if one.unit == "n" and 1 < one.value <= 60 and one.value % 1 == 0]
    if [len(powers), len(hours), len(counts)] != [1, 1, 1] or len(volts) > 1 or len(found) != 3 + len(volts):
        return None
    if not (_OF_THEM.search(counts[0].right) or (counts[0].after and counts[0].amount.start < powers[0].amount.start)):
        return None
    side = volts[0].value if volts else coach.house_battery.volts
    if powers[0].unit == "W" and not side:
        return None
    amps = powers[0].value / (side if powers[0].unit == "W" else 1.0)
    span = hours[0].value / (60 if hours[0].unit == "min" else 1)
    charge = counts[0].value * amps * span
    line = f"{shown(counts[0].value)} x {shown(powers[0].value)} {powers[0].unit} x {shown(span)} h{f' ÷ {shown(side)} V' if powers[0].unit == 'W' else ''} = {shown(charge)} Ah"
    return exact("drawn", charge, "Ah", working=(line,), source="arithmetic")


_LEGS = Lazy(r"(?:<n>|\bboth|\btwo) (?:hot )?(?:legs?|lines|hots|sides)\b")


def legs(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Watts of a pedestal with two legs, whole or a share of them."""
    if not names_any(q.text.lower(), ("leg", "lines", "hots")) or not _LEGS.search(q.frame) or want.kind != "watts":
        return None
    amps = [one for one in q.amounts if one.unit == "A"]
    counts = [one for one in q.amounts if one.unit == "n" and not one.each and one.value in (1.0, 2.0)]
    volts = [one for one in q.amounts if one.unit in ("V", "n") and one not in counts and 110 <= one.value <= 125]
    shares = [one for one in q.amounts if one.unit == "percent" and 0 < one.value <= 100]
    if (
        len(amps) != 1
        or len(volts) > 1
        or len(counts) > 1
        or len(shares) > 1
        or q.has(r"\b(?:left|spare|over|already)\b")
    ):
        return None
    if len(amps) + len(volts) + len(counts) + len(shares) != len(q.amounts) or not 10 <= amps[0].value <= 100:
        return None
    many = counts[0].value if counts else 2.0
    side, share = (volts[0].value if volts else 120.0), (shares[0].value / 100 if shares else 1.0)
    watts = many * side * amps[0].value * share
    line = f"{shown(many)} x {shown(side)} V x {shown(amps[0].value)} A{f' x {shown(share)}' if shares else ''} = {shown(watts)} W"
    return exact("power", watts, "W", working=(line,), source="arithmetic", also=(figure("on each leg", watts / many, "W"),))  # fmt: skip


_DOWN = Lazy(r"^(?:down|short|out|gone|used|below|under|to (?:make up|put back|get back|go|replace))\b")
_DOWN_LEFT = Lazy(r"\b(?:down|used|drew|short|took out|pulled|put back|make up|replace)(?: (?:about|by|out|to|of))* $")
_GIVES = Lazy(
    r"\b(?:puts?|gives?|makes?|charg\w+|alternator|generator|genny|solar|pushes|feeds?|delivers?|puts? out)\b"
)
_TAKES = Lazy(r"\b(?:using|use|uses|us|draws?|drawing|loads?|pull\w*|burn\w*|eat\w*|running|runs?|takes?|taking|but|meanwhile|while|lights|fridge)\b")  # fmt: skip
_OF_IT = Lazy(r"^(?:amps )?(?:of (?:it|that|them)|goes? (?:right )?(?:back )?(?:out|to|into)|going|to (?:run|the)|for|all the time|the whole|steady)\b")  # fmt: skip
_LOSES = Lazy(r"\b(?:effic\w*|percent|inverter|full|inverter)\b")


def made_up(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Hours until so many amp hours are put back while some of the charge is used meanwhile."""
    if want.kind != "time" or len(q.amounts) != 3 or _LOSES.search(q.frame):
        return None
    found = placed(q)
    if found is None or any(one.amount.per or one.amount.each or one.unit not in ("Ah", "A", "n") for one in found):
        return None
    down = [one for one in found if one.unit == "Ah"]
    currents = [one for one in found if one.unit != "Ah"]
    if len(down) != 1 or not (_DOWN.search(down[0].right) or _DOWN_LEFT.search(down[0].left)):
        return None
    into = [one for one in currents if _GIVES.search(one.left) and not _TAKES.search(one.left)]
    out = [one for one in currents if one not in into and (_TAKES.search(one.left) or _OF_IT.search(one.right))]
    if [len(into), len(out)] != [1, 1] or into[0].unit != "A" or out[0].value >= into[0].value:
        return None
    net = into[0].value - out[0].value
    hours = down[0].value / net
    line = f"{shown(down[0].value)} Ah ÷ ({shown(into[0].value)} - {shown(out[0].value)}) A = {shown(hours)} h"
    return exact("made up", hours, "h", working=(line,), source="arithmetic", assumptions=("nothing is lost in charging",), verdict=f"{duration(hours)}; longer, as charging loses some.", also=(figure("into the bank", net, "A"),))  # fmt: skip


_ELECTRIC = Lazy(r"<(?:A|Ah)>")
_BURNS = Lazy(r"\b(?:furnaces?|propane|diesel|gallons?)\b")


def in_cycles(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """A bank with a load that is on some minutes of each hour: the minutes as the share of the time they are."""
    if want.kind not in ("time", "charge") or not _ELECTRIC.search(q.frame) or _BURNS.search(q.frame):
        return None
    if not any(one.unit == "min" or (one.unit == "h" and one.value < 1) for one in q.amounts):
        return None
    found = as_share(q)
    if found is None:
        return None
    return cycled(found[0], want, coach, found[2])


_BARE_MOST = 60.0


def cycled(q: Question, want: Wanted, coach: Coach, line: str) -> Estimate | None:
    """Loads added, one of them a share of the time, against the amp hours there are or over the hours told."""
    found = placed(q)
    if found is None or any(one.amount.per or one.amount.each for one in found):
        return None
    stock = [one for one in found if one.unit == "Ah"]
    hours = [one for one in found if one.unit == "h"]
    pieces: list[float] = []
    for k, one in enumerate(found):
        if one in stock or one in hours:
            continue
        if one.unit == "part":
            if not k or found[k - 1].unit not in ("A", "n"):
                return None
            last = pieces.pop()
            pieces.append(last * one.value)
            continue
        if (
            one.unit not in ("A", "n")
            or not 0 < one.value <= _BARE_MOST
            or (one.unit == "n" and (one.after in ("A", "n") and not one.right))
        ):
            return None  # so many of them
        pieces.append(one.value)
    total = sum(pieces)
    if not pieces or not total or q.has(r"\b(?:percent|each|apiece|charg\w+|half|left of)\b"):
        return None
    lines = (line, f"{' + '.join(shown(one) for one in pieces)} = {shown(total)} A on average")
    if want.kind == "time" and len(stock) == 1 and not hours:
        lasts = stock[0].value / total
        return exact("lasts", lasts, "h", working=(*lines, f"{shown(stock[0].value)} Ah ÷ {shown(total)} A = {shown(lasts)} h"), source="arithmetic", verdict=f"About {duration(lasts)}.")  # fmt: skip
    if want.kind == "charge" and len(hours) == 1 and not stock:
        used = total * hours[0].value
        return exact("drawn", used, "Ah", working=(*lines, f"{shown(total)} A x {shown(hours[0].value)} h = {shown(used)} Ah"), source="arithmetic")  # fmt: skip
    return None


_OVER = Lazy(r"\b(?:over|too (?:much|many)|past|short|above|spare|left|under)\b")
_MOST = Lazy(r"\b(?:only|most|no more than|steady|continuous\w*|limit\w*|safe\w*|allowed)\b")


def watts_over(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """By how many watts loads are over, or under, what an outlet gives for hours on end."""
    if (
        want.kind != "watts"
        or not _OVER.search(q.frame)
        or q.has(r"\b(?:inverter|generator|genny|genset|bank|battery|add)\b")
    ):
        return None
    found = placed(q)
    if found is None or any(one.amount.per or one.amount.each for one in found):
        return None
    volts = [one for one in found if one.unit == "V" and _LOW <= one.value <= _HIGH]
    steady = [one for one in found if one.unit in ("A", "n") and one.value <= 60 and (_MOST.search(one.left) or _MOST.search(one.right))]  # fmt: skip
    breakers = [one for one in found if one.unit == "A" and one not in steady]
    shares = [one for one in found if one.unit == "percent" and 50 <= one.value <= 100]
    loads = [one for one in found if one not in (*volts, *steady, *breakers, *shares)]
    if len(loads) < 2 or any(one.unit not in ("W", "kW", "n") or (one.unit == "n" and one.value < 30) for one in loads):
        return None
    if loads[0].unit not in ("W", "kW") or len(volts) > 1 or len(steady) + len(shares) != 1 or len(breakers) > 1:
        return None
    if shares and not breakers:
        return None
    amps = steady[0].value if steady else breakers[0].value * shares[0].value / 100
    side = volts[0].value if volts else float(coach.shore.volts)
    allowed = amps * side
    total = sum(one.value * (1000 if one.unit == "kW" else 1) for one in loads)
    gap = total - allowed
    said = (
        f"No: {shown(gap)} watts over. Do not run them together." if gap > 0 else f"Yes: {shown(-gap)} watts to spare."
    )
    lines = (f"{' + '.join(shown(one.value) for one in loads)} = {shown(total)} W", f"{shown(amps)} A x {shown(side)} V = {shown(allowed)} W")  # fmt: skip
    return exact("over" if gap > 0 else "to spare", abs(gap), "W", working=lines, source="arithmetic", verdict=said, also=(figure("load", total, "W"), figure("allowed", allowed, "W")))  # fmt: skip
