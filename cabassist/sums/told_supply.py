"""Sums over what hangs on an outlet, an inlet, a cord, a generator or an inverter, every amount with its role.

A breaker carries 80 % of its rating for three hours or more and all of it for a short time; the plate of a generator or an
inverter is what it gives. `told_shore` answers such questions by their words; here the network hands out the roles.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from cabassist.estimate.power import CONTINUOUS_SHARE, parted, resisted
from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.plugged import BOTH_LEGS_SAID, SIZE, Load, Plugged, called
from cabassist.sums.told_parts import ASIDE, EVEN, MARKED, between, listed, result
from cabassist.sums.told_shore import BRIEF, FOR_HOURS, LEFT, OVER, SUM_ASKED, to_shed
from cabassist.sums.working_sheet import quantity

_DRAWN = "current|watts|n|time"
"""What a load is told in; "a 750s" of a bare number is heard as seconds."""
_COUNTS = "n|people"
""" "Two of them" is heard as two people."""
_ROLES = (
    role("supply", "current|watts|n", MARKED, many=True),  # a breaker's or outlet's amps, the plate of a generator
    role("supplies", _COUNTS, MARKED),  # how many of the outlet
    role("legs", _COUNTS, MARKED),
    role("through", "current|n", MARKED, many=True),  # an inlet, an adapter or a cord that it goes through as well
    role("volts", "volts|n", MARKED, many=True),  # what the supply has, as told or measured
    role("rated", "volts|n", MARKED),  # the volts on the plate of a heater
    role("at", "volts|n", MARKED),  # other volts that the load is to be told for
    role("load", _DRAWN, MARKED, many=True),
    role("second", _DRAWN, MARKED, many=True),  # a load on the second leg or outlet
    role("add", _DRAWN, MARKED, many=True),  # one that is to come on as well
    role("off", _DRAWN, MARKED, many=True),  # one that goes off
    role("before", _DRAWN, MARKED),  # what was drawn before the load came on
    role("each", _DRAWN, MARKED),  # the load of which it is asked how many fit
    role("count", _COUNTS, MARKED, many=True),  # how many of the load beside it
    role("among", _COUNTS, MARKED),  # equal loads, of which each may have how much
    role("hours", "time", MARKED),
    role("from", "clock|n", MARKED),
    role("to", "clock|n", MARKED),
    role("share", "share", MARKED),  # of the rating that is used
    role("lost", "share|watts", MARKED),  # of a generator's plate, by height or age
    role("reserve", "current|watts|share|n", MARKED),
    role("efficiency", "share", MARKED),  # of an inverter
    role("claimed", "current|watts|volts|share|n|people", MARKED),  # what somebody says comes out
    ASIDE,
)  # fmt: skip
_NEC = "80 % for 3 hours or more, NEC 210.20(A), Art. 100"
_HOURS_ON_END = 3.0
"""From here on a load is a continuous one (NEC Art. 100)."""
_MOST_BARE_A, _MOST_SUPPLY_A = 40.0, 100.0
"""A bare number below is in amps, of a load and of a supply."""
_ONE_LEG_MOST = 130.0
_ROUNDED = 0.025
"""So far off may be what somebody says from what comes out."""
_BREAKERS = (15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 90, 100)
_COUNT_BEHIND = Lazy(r"# (?:of (?:them|those|these|each|the same)|(?:in all|pieces|altogether)\b)|\b(?:x|times|×) # ")
_BOTH = Lazy(
    r"\b(?:both|pair of|couple of|twin|two)\b(?: (?!and\b|plus\b|,)[^ <#]+){0,5} # (?:\w+ ){0,3}(?:each|apiece|a piece|heaters|units|pads|lamps|kettles|fans|acs)\b|\b(?:both|pair of|couple of|twin)(?: (?:the|our|my|of|those|these))* # "
)
""" "Both heaters at 1500 each": a count that is no number."""
_BETWEEN_THEM = Lazy(r"\b(?:between them|together|total|in all|combined)\b")
_TOO_MUCH = Lazy(
    r"\b(?:too (?:much|many)|over ?load\w*|overdo\w*|(?:am|are|is|be|going|go|that|it|we)(?: (?:i|we|it|that|this))? over(?: the (?:limit|line|top|rating))?(?= $| ,| \.| now| with| on| if| for| here| at)|over (?:the|that|its|our) (?:limit|rating|line)\b|(?:trips?|pops?|blows?) (?:a|the|our|that|this|my|its|<A>)(?= )|(?:will|would|does|do|is|are|going|gonna|bound|likely|about|should) (?:\S+ ){0,6}?(?:trips?|pops?|blows?|kicks?|stalls?|bogs?)\b)|(?:[.,]|<\w+>) (?:trips?|pops?) (?=$|[.,])"
)
_NO_TRIP = Lazy(
    r"\b(?:not|without|before|until|never|no|n ' t|wo|so|keep\w*|till?)\b(?: \S+){0,4} (?:trip\w*|pop\w*|blow\w*|kick\w*|stall\w*|overload\w*|over)\b"
)
_OR_NOT = Lazy(r"\bover or (?:under|not|ok|fine)\b|\bunder or over\b|\btoo much or\b|\btrip or\b|\bor (?:will|does) it (?:trip|pop)")  # fmt: skip
_LEGS = Lazy(r"\b(?:legs?|hots?|phases?|l1|l2|sides?)\b")
_IN_ALL = Lazy(r"\b(?:in all|altogether|total|both (?:legs|outlets) together|all told|combined|overall)\b")


class _Draw(NamedTuple):
    """A load: amps at the supply's volts, watts, and what it is called."""

    amps: float
    watts: float
    name: str


@dataclass
class _Hung:
    """What was told, in amps of the supply."""

    t: Told
    volts: float
    legs: int
    ratings: list[float]
    """Amps of each supply and leg, with what it goes through."""
    plate: bool
    """Whether it is the plate of a generator or an inverter."""
    share: float
    """Of the rating that may be used."""
    brief: bool
    lines: list[str]

    @property
    def limits(self) -> list[float]:
        return [self.share * one for one in self.ratings]


def _solve(t: Told) -> Estimate | None:
    """What loads draw, what a supply leaves, how many loads it carries, whether all of it may be on and what must go."""
    volts = _volts(t)
    if volts is None or volts <= 0:
        return None
    draws = {name: _draws(t, name, volts) for name in ("load", "second", "add", "off", "each", "before")}
    if not _counted(t, draws):
        return None
    supply, at = t.has("supply"), t.value("at")
    plain = {name: [draw for _, draw in found] for name, found in draws.items()}
    if at is not None:
        return None if supply or at <= 0 else _moved(t, plain["load"], volts, at)
    if not supply:
        return _unsupplied(t, plain, volts)
    hung = _hung(t, volts)
    if hung is None:
        return None
    if plain["each"]:
        return _how_many(hung, plain)
    among = t.value("among")
    if among is not None:
        return _for_each(hung, plain, among)
    if not (plain["load"] or plain["second"] or plain["add"]):
        return _capacity(hung)
    return _loaded(hung, plain)


def _volts(t: Told) -> float | None:
    """Volts of a leg; 120 and 240 told together are two legs."""
    found = sorted({one.value for one in t.all("volts")})
    if not found:
        if any(one.kind in ("watts", "n") for name in ("supply", "load", "add", "each", "second") for one in t.roles.get(name, [])):  # fmt: skip
            t.assumed.append(f"{shown(float(t.coach.shore.volts))} V (profile)")
        return float(t.coach.shore.volts)
    if len(found) == 1:
        return found[0]
    return found[0] if len(found) == 2 and 1.7 <= found[1] / found[0] <= 2.1 else None


def _draws(t: Told, name: str, volts: float) -> list[tuple[Term, _Draw]]:
    """The loads of a role; one told in watts at the volts of its plate gives less at lower ones."""
    plate, efficiency = t.roles.get("rated", []), t.roles.get("efficiency", [])
    rated = plate[0].value if plate else None
    found = []
    names = {one.amount.start: (one, last) for last, one in _pairs(t.question)}
    for term in t.all(name):
        value, watts = _drawn(term._replace(value=abs(term.value)))  # "minus 1000 W"
        if watts and rated is not None:
            t.taken.add("rated")
            less = resisted(quantity(value, "W"), quantity(rated, "V"), quantity(volts, "V"))
            t.assumed += [*less.assumptions, *less.working]
            value = less.value or 0.0
        elif rated is not None and not watts:
            t.taken.add("rated")
            value *= volts / rated
        if efficiency and watts:
            t.taken.add("efficiency")
            amps = value / (volts * efficiency[0].value)
        else:
            amps = value / volts if watts else value
        said = names.get(term.amount.start)
        title = called(*said) if said is not None else ""
        found.append((term, _Draw(amps, value if watts else value * volts, title)))
    return found


def _pairs(question: Question) -> list[tuple[Said | None, Said]]:
    """Each amount in its own words, behind the one before it."""
    said = placed(question) or ()
    return list(zip((None, *said[:-1]), said, strict=True)) if said else []


def _drawn(term: Term) -> tuple[float, bool]:
    """What a load draws, and whether that is in watts."""
    if term.kind == "time":
        if term.unit != "s":
            raise ValueError("a time is no load")
        return term.amount.value, True  # "the 750s"
    return term.value, term.kind == "watts" or (term.kind == "n" and term.value >= _MOST_BARE_A)


def _counted(t: Told, draws: dict[str, list[tuple[Term, _Draw]]]) -> bool:
    """Multiply each load by the count beside it: the one before it, or behind it in "1500 each, two of them"."""
    every = sorted(
        ((one[0].amount.start, name, i) for name, found in draws.items() for i, one in enumerate(found)),
    )
    counts = sorted(t.all("count"), key=lambda one: one.amount.start)
    used: set[tuple[str, int]] = set()
    for k, count in enumerate(counts):
        if count.value % 1 or not 1 <= count.value <= 60:
            return False
        till = counts[k + 1].amount.start if k + 1 < len(counts) else 10**6
        ahead = [one for one in every if count.amount.start < one[0] < till and one[1:] not in used]
        behind = [one for one in every if one[0] < count.amount.start and one[1:] not in used]
        of_them = "of" in t.question.words[count.amount.start : count.amount.end] or _COUNT_BEHIND.search(count.around)
        chosen = behind[-1:] if (of_them and behind) or not ahead else ahead[:1]
        if not chosen:
            return False
        _, name, i = chosen[0]
        used.add((name, i))
        term, one = draws[name][i]
        draws[name][i : i + 1] = [(term, one)] if name == "each" else [(term, _Draw(one.amps * count.value, one.watts * count.value, one.name))]  # fmt: skip
    for _, name, i in every:
        term, one = draws[name][i]
        if (
            name != "each"
            and (name, i) not in used
            and _BOTH.search(term.around)
            and not _BETWEEN_THEM.search(term.around)
        ):
            draws[name][i] = (term, _Draw(2 * one.amps, 2 * one.watts, one.name))
    return True


def _hung(t: Told, volts: float) -> _Hung | None:
    """What the supply gives: its amps by leg and by outlet, and the share of them that may be used."""
    found = t.all("supply")
    plates = [one.kind == "watts" or one.value > _MOST_SUPPLY_A for one in found]
    if len(set(plates)) > 1:
        return None
    plate = plates[0]
    ratings = [one.value / volts if plate else one.value for one in found]
    many = t.value("supplies")
    if many is not None:
        if many % 1 or not 1 <= many <= 8 or len(ratings) != 1:
            return None
        ratings *= int(many)
    elif t.has("second") and len(ratings) == 1 and not plate and not t.has("legs") and not BOTH_LEGS_SAID.search(t.question.frame) and len(t.roles.get("volts", [])) < 2:  # fmt: skip
        ratings *= (
            1 if _LEGS.search(t.question.frame) else 2
        )  # "eleven amps on one outlet, fifteen on the other, both twenty"
    legs = t.value("legs") or (2 if len(t.roles.get("volts", [])) == 2 or BOTH_LEGS_SAID.search(t.question.frame) or (t.has("second") and _LEGS.search(t.question.frame)) else 1)  # fmt: skip
    if legs not in (1, 2) or (legs == 2 and (volts > _ONE_LEG_MOST or len(ratings) > 1)):
        return None
    if legs == 2:
        ratings = [ratings[0] / 2] * 2 if plate else ratings * 2
    lines: list[str] = []
    lost = t.one("lost")
    if lost is not None:
        if not plate:
            return None
        ratings = [one * (1 - lost.value) if lost.kind == "share" else one - lost.value / volts / len(ratings) for one in ratings]  # fmt: skip
        lines.append(f"{shown(sum(ratings) * volts)} W are left of its plate")
    through = [one.value for one in t.all("through")]
    share, hours = t.value("share"), t.value("hours")
    start, end = t.one("from"), t.one("to")
    if (start is None) is not (end is None):
        return None
    if start is not None and end is not None and hours is None:
        hours = between(start, end)
    frame = t.question.frame
    brief = hours < _HOURS_ON_END if hours is not None else BRIEF.search(frame) is not None and not FOR_HOURS.search(frame)  # fmt: skip
    steady = 1.0 if brief else CONTINUOUS_SHARE
    used = share if share is not None else (1.0 if plate else steady)
    if through:
        least = min(through)
        smaller = [min(one, least * steady / used if plate else least) for one in ratings]
        lines.append(f"nothing over {shown(least)} A goes through")
        ratings = smaller
    elif used < 1.0:
        lines.append(f"{shown(used)} x {shown(ratings[0])} A = {shown(used * ratings[0])} A" if not plate else f"{shown(used)} x {shown(sum(ratings) * volts)} W = {shown(used * sum(ratings) * volts)} W")  # fmt: skip
    return _Hung(t, volts, int(legs), ratings, plate, used, brief, lines)


def _reserved(hung: _Hung) -> float | None:
    """Amps that are to stay free."""
    term = hung.t.one("reserve")
    if term is None:
        return 0.0
    if term.kind == "share":
        return term.value * (sum(hung.ratings) if hung.plate else sum(hung.limits))
    value, watts = _drawn(term)
    return value / hung.volts if watts else value


def _sum(draws: list[_Draw]) -> float:
    return sum(one.amps for one in draws)


def _on(plain: dict[str, list[_Draw]], name: str = "load") -> float:
    """Amps that are on, less what goes off."""
    return _sum(plain[name]) - (_sum(plain["off"]) if name == "load" else 0.0)


def _asked(t: Told, amps: float, volts: float) -> tuple[float, str]:
    """A current in the unit that is wanted, else in the one that the loads were told in."""
    said = [one.kind for name in ("load", "add", "supply", "second") for one in t.roles.get(name, [])]
    in_amps = t.want.kind == "current" or (t.want.kind != "watts" and "current" in said and said[0] == "current")
    return (amps, "A") if in_amps else (amps * volts, "W")


def _both(name: str, amps: float, volts: float) -> tuple[Figure, ...]:
    return figure(name, amps, "A"), figure(f"{name}, in watts", amps * volts, "W")


def _judged(t: Told, value: float, unit: str, volts: float, verdict: str = "") -> str:
    """Whether what somebody says comes out, before the rest of what is told."""
    said = t.one("claimed")
    if said is None:
        return verdict
    claim = said.value * (100 if said.kind == "share" else 1)
    if {said.kind, unit} == {"current", "W"}:
        claim *= volts
    elif {said.kind, unit} == {"watts", "A"}:
        claim /= volts
    right = abs(claim - value) <= (EVEN if unit == "loads" else max(_ROUNDED * abs(value), 0.06))
    told = f"{'Yes' if right else 'No'}, it is {shown(value)} {unit}."
    rest = verdict.removeprefix("Yes, ").removeprefix("No, ")
    return f"{told} {rest[:1].upper()}{rest[1:]}".strip()


def _moved(t: Told, loads: list[_Draw], volts: float, at: float) -> Estimate | None:
    """What the same watts draw at other volts."""
    if not loads:
        return None
    watts = sum(one.watts for one in loads)
    amps = watts / at
    line = f"{shown(watts)} W ÷ {shown(at)} V = {shown(amps)} A"
    here = figure(f"at {shown(volts)} V", watts / volts, "A")
    return result(t, f"at {shown(at)} V", amps, "A", (line,), _judged(t, amps, "A", at), (figure("watts", watts, "W"), here))  # fmt: skip


def _unsupplied(t: Told, plain: dict[str, list[_Draw]], volts: float) -> Estimate | None:
    """Loads without a supply: what they draw, what one of them does, the volts, or how big a breaker or generator must be."""
    loads = [*plain["load"], *plain["add"]]
    if not loads or plain["each"] or plain["second"]:
        return None
    kinds = [one.kind for one in t.roles.get("load", [])]
    if t.want.kind == "volts":
        if sorted(kinds) != ["current", "watts"] or t.has("volts"):
            return None
        watts, amps = (t.roles["load"][kinds.index(kind)].value for kind in ("watts", "current"))
        found = watts / amps
        t.assumed.clear()
        return result(t, "voltage", found, "V", (f"{shown(watts)} W ÷ {shown(amps)} A = {shown(found)} V",), _judged(t, found, "V", volts))  # fmt: skip
    drawn = _sum(loads) - _sum(plain["off"])
    work = [f"{listed([one.watts for one in loads])} W = {shown(_sum(loads) * volts)} W"] if len(loads) > 1 else []
    if plain["before"]:
        drawn -= _sum(plain["before"])
        work.append(f"- {shown(_sum(plain['before']))} A = {shown(drawn)} A")
    if drawn <= 0:
        return None
    hours, share, reserve = t.value("hours"), t.value("share"), t.one("reserve")
    frame = t.question.frame
    if SIZE.search(frame) or _OUTLET_SIZE.search(frame):
        brief = hours < _HOURS_ON_END if hours is not None else BRIEF.search(frame) is not None
        least = drawn / (share or (1.0 if brief else CONTINUOUS_SHARE))
        line = f"{shown(drawn)} A ÷ {shown(drawn / least)} = {shown(least)} A"
        size = next((one for one in _BREAKERS if one >= least - EVEN), None)
        if size is None:
            return None
        verdict = f"At least {shown(least)} amps: the next size is {size}."
        return result(t, "breaker at least", least, "A", (*work, line), _judged(t, float(size), "A", volts, verdict), (figure("next size", float(size), "A"), *_both("drawn", drawn, volts)), _NEC)  # fmt: skip
    if reserve is not None:
        value, watts_ = _drawn(reserve) if reserve.kind != "share" else (0.0, False)
        drawn += drawn * reserve.value if reserve.kind == "share" else value / volts if watts_ else value
        work.append(f"with the reserve {shown(drawn * volts)} W")
    if share is not None:
        drawn /= share
        work.append(f"÷ {shown(share)} = {shown(drawn * volts)} W")
    if hours is not None:
        return None
    value, unit = _unlike(t, drawn, volts)
    work.append(f"{shown(drawn * volts)} W ÷ {shown(volts)} V = {shown(drawn)} A" if unit == "A" else f"{shown(drawn)} A x {shown(volts)} V = {shown(drawn * volts)} W")  # fmt: skip
    return result(t, "drawn", value, unit, tuple(work), _judged(t, value, unit, volts), tuple(one for one in _both("together", drawn, volts) if one.unit != unit))  # fmt: skip


_OUTLET_SIZE = Lazy(r"\b(?:what|which|how big|smallest|least)\b(?: \S+){0,4} (?:breaker|circuit|outlet|receptacle|fuse|hook ?up|post|service|site|pedestal)\b(?! (?:hold|take|carry))|\b(?:breaker|circuit|outlet|fuse|service) size\b")  # fmt: skip


def _unlike(t: Told, amps: float, volts: float) -> tuple[float, str]:
    """A current in the unit that is wanted; without a word in that which the loads were not told in."""
    kinds = {one.kind for one in t.roles.get("load", [])}
    if t.want.kind == "watts" or (t.want.kind != "current" and kinds == {"current"}):
        return amps * volts, "W"
    return amps, "A"


def _how_many(hung: _Hung, plain: dict[str, list[_Draw]]) -> Estimate | None:
    """How many of a load fit beside what is on; each stays on one leg."""
    one, t = plain["each"][0], hung.t
    reserve = _reserved(hung)
    if reserve is None or one.amps <= 0 or plain["add"]:
        return None
    rooms = hung.limits
    if hung.plate and hung.legs == 1:
        rooms = [sum(rooms)]
    if plain["second"] and len(rooms) > 1:
        rooms = [rooms[0] - _on(plain), rooms[1] - _on(plain, "second"), *rooms[2:]]
    else:
        rooms = [rooms[0] - _on(plain) - reserve, *rooms[1:]]
        reserve = 0.0
    fit = sum(max(0, int(room / one.amps + EVEN)) for room in rooms)
    if reserve:
        fit = min(fit, int((sum(rooms) - reserve) / one.amps + EVEN))
    lines = (*hung.lines, *(f"{shown(room * hung.volts)} W ÷ {shown(one.watts)} W = {shown(room / one.amps, 3)}" for room in rooms))  # fmt: skip
    left = figure("then left", sum(rooms) - fit * one.amps, "A")
    verdict = _judged(t, float(fit), "loads", hung.volts, f"{fit} of them fit." if fit else "Not even one fits.")
    return result(t, "loads that fit", float(fit), "loads", lines, verdict, (left, *_both("room", sum(rooms), hung.volts)), _source(hung))  # fmt: skip


def _source(hung: _Hung) -> str:
    return "arithmetic" if hung.plate or hung.share != CONTINUOUS_SHARE else _NEC


def _for_each(hung: _Hung, plain: dict[str, list[_Draw]], among: float) -> Estimate | None:
    """What each of some equal loads may draw."""
    reserve = _reserved(hung)
    if reserve is None or among < 1 or plain["second"] or plain["add"]:
        return None
    room = sum(hung.limits) - _on(plain) - reserve
    if room <= 0:
        return None
    each = room / among
    value, unit = (each, "A") if hung.t.want.kind == "current" else (each * hung.volts, "W")
    line = f"{shown(room * hung.volts)} W ÷ {shown(among)} = {shown(each * hung.volts)} W"
    return result(hung.t, "for each", value, unit, (*hung.lines, line), _judged(hung.t, value, unit, hung.volts), _both("each", each, hung.volts), _source(hung))  # fmt: skip


def _capacity(hung: _Hung) -> Estimate | None:
    """What a supply gives."""
    t, reserve = hung.t, _reserved(hung)
    if reserve is None:
        return None
    amps = sum(hung.limits) - reserve
    rated = sum(hung.ratings)
    if t.want.kind in ("current", "watts"):
        value, unit = (amps, "A") if t.want.kind == "current" else (amps * hung.volts, "W")
    else:
        value, unit = (amps, "A") if hung.plate else (amps * hung.volts, "W")
    a_leg = (figure("on each leg", hung.limits[0], "A"), figure("on each leg, in watts", hung.limits[0] * hung.volts, "W"))  # fmt: skip
    if t.has("legs") or hung.legs == 2:
        each = t.question.has(r"\b(?:each|per|a|every|one) leg\b|\bleg each\b") and not _IN_ALL.search(t.question.frame)
        if each and (t.want.kind == "current" or unit == "A"):
            value, unit = hung.limits[0], "A"
        elif each:
            value, unit = hung.limits[0] * hung.volts, "W"
        elif unit == "A":
            value = hung.limits[0]  # amps of two legs do not add up
    line = f"{shown(amps)} A x {shown(hung.volts)} V = {shown(amps * hung.volts)} W"
    also = (*_both("gives", amps, hung.volts), figure("its rating", rated, "A"), figure("its rating, in watts", rated * hung.volts, "W"), *(a_leg if hung.legs == 2 else ()))  # fmt: skip
    return result(t, "may be drawn", value, unit, (*hung.lines, line), _judged(t, value, unit, hung.volts), also, _source(hung))  # fmt: skip


def _loaded(hung: _Hung, plain: dict[str, list[_Draw]]) -> Estimate | None:
    """Loads on a supply: what they draw, what is left or over, whether they may all be on, and what goes off."""
    t, volts, frame = hung.t, hung.volts, hung.t.question.frame
    reserve = _reserved(hung)
    if reserve is None or plain["before"]:
        return None
    limits, added = hung.limits, _sum(plain["add"])
    if hung.plate and hung.legs == 1:
        limits = [sum(limits)]
    first, second = _on(plain), _on(plain, "second")
    if first < -EVEN or (plain["second"] and len(limits) != 2):
        return None
    drawn, allowed = first + second + added, sum(limits)
    left = allowed - reserve - drawn
    also: list[Figure] = [*_both("drawn", drawn, volts), *_both("left" if left >= -EVEN else "over", abs(left), volts)]
    if added:
        also += _both("left before", left + added, volts)
    also += [*_both("allowed", allowed, volts), figure("of the rating", 100 * drawn / sum(hung.ratings), "percent")]
    how = ""
    if plain["second"]:
        rooms = [limits[0] - first, limits[1] - second]
        fits = min(rooms) >= -EVEN and max(rooms) >= added + reserve - EVEN
        name = "leg" if hung.legs == 2 else "outlet"
        for k, room in enumerate(rooms, 1):
            also += _both(f"left on {name} {k}" if room >= 0 else f"over on {name} {k}", abs(room), volts)
        if added:
            how = f" It goes on {name} {1 if rooms[0] >= rooms[1] else 2}."
    elif len(limits) > 1:
        every = [one.amps for one in (*plain["load"], *plain["add"])]
        split = parted(every, limits) if not plain["off"] else None
        fits = split is not None and left >= -EVEN
        if split is not None:
            how = f" {_split(every, split, len(limits), volts)}"
    else:
        fits = left >= -EVEN
    verdict = _verdict(hung, plain, drawn, allowed - reserve, fits) + how
    work = (*hung.lines, f"{listed([one.amps for name in ('load', 'second', 'add') for one in plain[name]])} = {shown(drawn)} A" if not plain["off"] else f"{shown(drawn)} A are on", f"{shown(allowed)} - {shown(drawn + reserve)} = {shown(left)} A, {shown(left * volts)} W")  # fmt: skip
    sums = SUM_ASKED.search(frame) is not None
    if t.want.kind == "share" or any(one.kind == "share" for one in t.roles.get("claimed", [])):
        name, value, unit = "of the rating", 100 * drawn / sum(hung.ratings), "percent"
    elif plain["second"] and not sums and not _IN_ALL.search(frame):
        room = min(limits[0] - first, limits[1] - second)
        name = "left on the fuller one" if room >= 0 else "over on the fuller one"
        value, unit = _asked(t, abs(room), volts)
    elif not sums and (LEFT.search(frame) or t.want.difference or reserve or OVER.search(frame) or hung.plate and t.want.kind == ""):  # fmt: skip
        name = "left" if left >= -EVEN else "over"
        value, unit = _asked(t, abs(left), volts)
    else:
        name = "drawn"
        value, unit = _asked(t, drawn, volts)
    return result(t, name, value, unit, work, _judged(t, value, unit, volts, verdict), tuple(one for one in also if (one.value, one.unit) != (value, unit)), _source(hung))  # fmt: skip


def _split(amps: list[float], split: tuple[int, ...], many: int, volts: float) -> str:
    """Which load goes on which of several outlets or legs."""
    groups = [[shown(one * volts) for one, at in zip(amps, split, strict=True) if at == k] for k in range(many)]
    return "; ".join(f"{k}: {' + '.join(group)} W" for k, group in enumerate(groups, 1) if group) + "."


def _verdict(hung: _Hung, plain: dict[str, list[_Draw]], drawn: float, allowed: float, fits: bool) -> str:
    """The yes or no, with the rule; a question whether it is too much is answered the other way round."""
    t, volts, frame = hung.t, hung.volts, hung.t.question.frame
    turned = bool(_TOO_MUCH.search(frame)) and not _NO_TRIP.search(frame) and not _OR_NOT.search(frame)
    word = "Yes" if fits is not turned else "No"
    rating = sum(hung.ratings)
    if hung.plate:
        said = f"{shown(drawn * volts)} of {shown(allowed * volts)} watts"
    else:
        span = "for a short time" if hung.brief else "for hours on end" if hung.share == CONTINUOUS_SHARE else "as told"
        said = f"{shown(drawn)} amps, {shown(allowed)} are allowed {span}"
    if fits:
        return f"{word}, it fits: {said}."
    if drawn <= allowed + EVEN:
        return f"{word}, they can not be parted so that each one carries its own: {said}."
    over = drawn - allowed
    by = f"{shown(over, 3)} amp{'' if shown(over, 3) == '1' else 's'}, {shown(over * volts)} watts"
    trips = " It trips." if drawn > rating + EVEN and not hung.plate else ""
    told = f"{word}, {'too much' if drawn > rating + EVEN or hung.plate else 'not for hours on end' if not hung.brief else 'too much'}, over by {by}: {said}.{trips}"  # fmt: skip
    stay = plain["load"] if plain["add"] else [*plain["load"], *plain["add"]]
    if plain["off"] or plain["second"] or len(hung.limits) > 1 or not stay:
        return told
    loads = [Load(one.amps, "A", one.name or f"{shown(one.watts)} watts") for one in stay]
    if plain["add"]:  # what is to come on stays on, if the rest can make room
        if _sum(stay) < over - EVEN:
            return told
        allowed -= _sum(plain["add"])
        if len(loads) == 1:
            return f"{told} Switch off the {loads[0].name}."
    shed = to_shed(Plugged(loads=loads), sum(one.value for one in loads), volts, allowed, t.coach)
    return f"{told} {shed}".strip()


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    """Only the network uses it: `told_shore` knows such questions by their words."""
    return False


def _calculation(question: Question) -> str:
    return "shore-load" if question.has(_MADE_ABOARD) else "breaker-limit" if question.has(r"<A>") else "shore-load"


_MADE_ABOARD = r"\b(?:generator|genny|gennie|gen ?set|gen|inverter)\b"

SHORE = Family("shore", _calculation, _applies, _ROLES, _solve)
