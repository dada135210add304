"""Sums over propane cylinders in the cold: what they boil off, whether that feeds the furnaces, and which to run from first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_units import as_spoken
from cabassist.sums.working_sheet import quantity, with_verdict

if TYPE_CHECKING:
    from pint import Quantity

_BOILING = Lazy(
    r"\b(?:vapou?r\w*|boil\w*|feeds?|fed|keep up|keeps up|supply|put out|puts out|make|makes|give|gives|deliver|handle|carry|run|enough gas)\b"
)
_BOTTLE = Lazy(r"\b(?:propane|cylinders?|bottles?|pounders?|lp|tank)\b|<cylinder>| # pounders|<lb>")
_VAPOR_ROLES = (
    role("left", "mass", 0.5,
        (1.5, r"# (?:\w+ ){0,2}?(?:left|remaining|in it|in there|of propane)\b|\b(?:with|has|down to|only|got|holding) (?:about |only )?# "), never=r"# pounders", bare=1.5, many=True),
    role("size", "mass", -0.3, (2.0, r"# (?:pounders?|(?:propane |steel )?(?:cylinders?|bottles?|tanks?))\b"), bare=1.5),
    role("share", "share", 0.5, many=True),
    role("duty", "share", -9.0),
    role("outside", "temperature", 1.0, bare=2.0),
    role("outside", "n", -1.5, (2.5, r"\b(?:it is|it|outside|at|cold|temp\w*|out) # |# (?:out|outside)\b")),
    role("burner", "power|energy", 0.8, bare=2.0, many=True),
    role("burners", "count furnace|count heater", 1.0, many=True),
    role("burners", "n", -1.5, (3.0, r"# <(?:BTU|BTU/h|n)(?:/each)?> (?:furnaces|heaters)|# <BTU|# (?:furnaces|heaters)\b")),
    role("bottles", "count cylinder", 0.5),
    role("bottles", "n", -1.5, (3.0, r"# (?:full )?<lb> |# (?:full )?(?:bottles|cylinders)\b")),
    role("beside", "n", -2.5, (3.0, r"# (?:full|of)\b"), many=True),
)  # fmt: skip


def _vapor_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    cold = any(term.kind == "temperature" for term in terms) or Lazy(r"\b(?:out|outside|vapou?r\w*)\b|\bat <n>|\bat zero\b").search(question.frame)  # fmt: skip
    if (
        not cold
        or (want.kind not in ("power", "energy", "") and want.unit not in ("furnaces", "heaters"))
        or not _BOILING.search(question.frame)
    ):
        return False
    return _BOTTLE.search(question.frame) is not None and any(term.kind in ("mass", "share") for term in terms)


_LEAST_LEFT = Lazy(r"\b(?:at least|least|minimum|min|how full|how low|must|have to|has to|needs? to|need)\b")
_COLDEST = Lazy(r"\b(?:how (?:cold|low)|coldest|lowest|(?:what|which) (?:temp\w*|degrees?))\b")


_TOGETHER = Lazy(
    r"# (?:\w+ )?(?:together|altogether|between them|combined|in all|all told|in total|total)\b|\b(?:together|between them|combined)(?: \w+){0,3} # "
)
"""What all burners take, whatever their number."""


def _burned(t: Told) -> float | None:
    """BTU an hour of all that burns; None when the counts do not fit the burners, 0 when no burner was told."""
    burners, counts, duty = t.all("burner"), t.all("burners"), t.value("duty")
    if any(term.kind == "n" and term.value < 3000 for term in burners) or (counts and not burners):
        return None
    if duty is not None and duty < 1:
        t.assumed.append("averaged over the time; while all burn it may fall short")
    many = [1.0] * len(burners)
    if len(burners) == 1 and _TOGETHER.search(burners[0].around):
        counts = []  # "the two heaters want 60,000 together"
    for count in counts:
        beside = [k for k, one in enumerate(burners) if one.amount.start == count.amount.end]
        if beside or len(burners) == 1:
            many[beside[0] if beside else 0] = count.value
        elif count.value != len(burners):
            return None
    return sum(n * one.value for n, one in zip(many, burners, strict=True)) * (1.0 if duty is None else duty)


def _open(t: Told, nominal: float) -> list[float] | None:
    """Pounds left in each cylinder that feeds; empty when nothing was said of them."""
    each = [term.value for term in t.all("left")] + [term.value * nominal for term in t.all("share")]
    bottles = t.value("bottles")
    if len(each) > 1 and bottles not in (None, float(len(each))):
        return None
    if any(pounds > nominal * 1.02 for pounds in each):
        return None
    return each * round(bottles) if len(each) == 1 and bottles else each


def _crossing(low: float, high: float, enough: Callable[[float], bool]) -> float | None:
    """Where what boils off becomes enough between two figures; None when it never does, or always is."""
    if enough(low) or not enough(high):
        return None
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def _least_left(t: Told, nominal: float, demand: float) -> Estimate | None:
    """How much must be left in each cylinder to feed the burners."""
    from cabassist.estimate import boil_off

    cold, bottles = t.one("outside"), t.value("bottles") or 1.0
    if cold is None or not demand:
        return None

    def gives(pounds: float) -> float:
        one = boil_off.vaporization(quantity(pounds, "lb"), quantity(cold.value, "F"), nominal=quantity(nominal, "lb"))
        return (one.value or 0.0) * bottles

    pounds = _crossing(nominal * 0.1, nominal, lambda tried: gives(tried) >= demand)
    if pounds is None:
        return None
    line = f"{shown(pounds)} of {shown(nominal)} lb boils off {shown(gives(pounds))} BTU/h at {shown(cold.value)} °F"
    return exact("must be left", pounds, "lb", working=(line,), assumptions=tuple(t.assumed), source=boil_off.BOIL_OFF_SOURCE, also=(figure("percent full", pounds / nominal * 100, "percent"),))  # fmt: skip


def _coldest(t: Told, nominal: float, demand: float, each: list[float]) -> Estimate | None:
    """The coldest air in which what is left still feeds the burners."""
    from cabassist.estimate import boil_off

    def gives(air: float) -> float:
        found = (boil_off.vaporization(quantity(lb, "lb"), quantity(air, "F"), nominal=quantity(nominal, "lb")) for lb in each)  # fmt: skip
        return sum(one.value or 0.0 for one in found)

    air = _crossing(boil_off.BOIL_OFF_AIR_F[0], boil_off.BOIL_OFF_AIR_F[-1], lambda tried: gives(tried) >= demand)
    if air is None:
        return None
    line = f"at {shown(air)} °F {shown(sum(each))} lb boil off {shown(gives(air))} BTU/h"
    return exact("coldest that feeds them", air, "F", working=(line,), assumptions=tuple(t.assumed), source=boil_off.BOIL_OFF_SOURCE)  # fmt: skip


_STARVE = r"(?:starv\w*|sputter\w*|too (?:cold|little|low|much)|fall short|run short|short of (?:gas|vapou?r)|freeze (?:up|over)|die|go out|quit|not (?:keep up|be enough)|fail)\b"
_STARVES = Lazy(
    rf"\b(?:will|would|is|does|do|are|am|going|gonna|could)\b(?: (?!feed|run|keep|carry|handle|supply|make|not\b)\S+){{0,9}}? {_STARVE}"
)
"""Asked so, a yes is that it does not feed the burners."""
_OR_STARVES = Lazy(rf"\b(?:or|without|before|and not)\b(?: \S+){{0,7}}? {_STARVE}")


def _boils_off(t: Told) -> Estimate | None:
    from cabassist.estimate import boil_off

    as_spoken(t, "mass", "left", "size")
    size = t.value("size")
    nominal = size if size is not None else t.coach.propane.cylinders[0].nominal_lb
    if size is None:
        t.assumed.append(f"{shown(nominal)} lb cylinder (profile)")
    each, demand = _open(t, nominal), _burned(t)
    if each is None or demand is None:
        return None
    if not each:
        asked = t.want.kind in ("mass", "share") or (not t.want.judged and _LEAST_LEFT.search(t.question.frame))
        return _least_left(t, nominal, demand) if asked else None
    cold = t.one("outside")
    if cold is None:
        asked = t.want.kind == "temperature" or _COLDEST.search(t.question.frame)
        return _coldest(t, nominal, demand, each) if demand and asked else None
    if t.want.kind in ("temperature", "time", "volume", "length") and not t.want.judged:
        return None
    air = quantity(cold.value, "F")
    if not demand or t.want.unit in ("furnaces", "heaters", "bottles", "cylinders"):
        gives = boil_off.vaporization(quantity(each[0], "lb"), air, nominal=quantity(nominal, "lb"))
        if gives.value is None or not demand:
            return gives if len(each) == 1 else _together(each, gives, air, nominal)
        return _count_fed(t, gives, demand) if len(each) == 1 else None
    found = boil_off.can_feed(
        quantity(demand, "BTU/h"), air, [quantity(pounds, "lb") for pounds in each], nominal=quantity(nominal, "lb")
    )
    if found.value is None:
        if _STARVES.search(t.question.frame):
            return None
        return with_verdict(found, "No.") if found.high and demand > found.high else found
    sure = found.value >= demand and (found.low is None or found.low >= demand)
    starves = _STARVES.search(_OR_STARVES.sub(" ", t.question.frame)) is not None
    judged = ("No." if starves else "Yes.") if sure else ("Yes." if starves else "No.") if found.value < demand else "Barely."  # fmt: skip
    return replace(with_verdict(found, judged), assumptions=(*t.assumed, *found.assumptions))


def _together(each: list[float], gives: Estimate, air: Quantity[Any], nominal: float) -> Estimate | None:
    """What several open cylinders boil off."""
    from cabassist.estimate import boil_off

    found = [boil_off.vaporization(quantity(pounds, "lb"), air, nominal=quantity(nominal, "lb")) for pounds in each]
    values = [one.value for one in found if one.value is not None]
    if len(values) < len(each):
        return None
    line = f"{' + '.join(map(shown, values))} = {shown(sum(values))} BTU/h"
    return exact("boil off together", sum(values), "BTU/h", working=(line,), assumptions=gives.assumptions, source=gives.source)  # fmt: skip


def _count_fed(t: Told, gives: Estimate, demand: float) -> Estimate | None:
    """How many furnaces a cylinder feeds, or how many such cylinders the burners need."""
    boiled = gives.value or 0.0
    if t.want.unit in ("bottles", "cylinders"):
        count, line = -(-demand // boiled), f"{shown(demand)} ÷ {shown(boiled)} BTU/h = {shown(demand / boiled)}"
        return exact(f"{t.want.unit} it takes", count, t.want.unit, working=(*gives.working, line), assumptions=gives.assumptions, source=gives.source, also=(figure("boils off", boiled, "BTU/h"),))  # fmt: skip
    if len(t.all("burner")) != 1 or t.has("burners"):
        return None
    fed = float(int(boiled / demand + 1e-9))
    line = f"{shown(boiled)} ÷ {shown(demand)} BTU/h = {shown(boiled / demand)}"
    return exact(f"{t.want.unit} it can feed", fed, t.want.unit, working=(*gives.working, line), assumptions=gives.assumptions, source=gives.source, also=(figure("boils off", boiled, "BTU/h"),))  # fmt: skip


VAPOR = Family("vapor", lambda _question: "vaporization", _vapor_applies, _VAPOR_ROLES, _boils_off)

_WHICH_ROLES = (
    role("left", "mass|share", 0.5, bare=0.5, many=True),
    role("size", "mass", -0.5, (3.0, r"# (?:pounders?|cylinders?|bottles?)\b"), many=True),
)  # fmt: skip
_THING = r"(?:hand|side|bottle|cylinder|tank|bay|one|#|<n>)"
_PLACE = Lazy(
    rf"\b(?:(curb|kerb|street|outside|inside|outer|inner|front|rear|back|driver|passenger|road|door|spare|main)|(left|right|first|second)(?= (?:lp |propane )?{_THING}))\b"
)


def _which_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    named = Lazy(r"\b(?:bottles?|cylinders?|propane|tanks?)\b").search(question.frame)
    order = Lazy(r"\b(?:first|feed\w*|burn\w*|use|using|run\w*|open|on)\b").search(question.frame)
    return want.kind == "which" and bool(named and order) and all(t.kind in ("mass", "share", "n") for t in terms)


def _placed(term: Term, before: bool) -> str:
    """Where a cylinder stands, from the words before its amount or those behind it, up to the next amount."""
    ahead, _, behind = term.around.partition("#")
    said = ahead.rpartition(">")[2] + "# " if before else behind.partition("<")[0]
    places = [match[1] or match[2] for match in _PLACE.finditer(said)]
    return (places[-1] if before else places[0]) if places else ""


_ALIKE = Lazy(r"\b(?:both|each|two|same|all|are|pair)\b|<cylinder>")


def _first_to_burn(t: Told) -> Estimate | None:
    """The cylinder to run from: the one with least left, so that it can be filled while the other feeds."""
    left, sizes = t.all("left"), t.all("size")
    if len(left) != 2 or len({term.kind for term in left if term.kind != "n"}) != 1:
        return None
    if len(sizes) == 2 and all(term.kind == "share" for term in left):
        left = [term._replace(value=term.value * size.value) for term, size in zip(left, sizes, strict=True)]
    elif (
        len(sizes) == 1
        and left[0].kind == "share"
        and not (
            _ALIKE.search(t.question.frame) or any(one.unit == "n" and one.value == 2 for one in t.question.amounts)
        )
    ):
        return None  # the size of one of them, and what the other holds is not known
    bearers = [left, sizes] if len(sizes) == 2 else [left]  # "the street side is a forty pounder at half"
    named = ([_placed(term, before) for term in terms] for terms in bearers for before in (True, False))
    names = next((both for both in named if all(both) and both[0] != both[1]), None)
    if names is None or left[0].value == left[1].value:
        return None
    least = names[0] if left[0].value < left[1].value else names[1]
    other = names[1] if least == names[0] else names[0]
    side = "-side" if least in ("curb", "street") else ""
    return Estimate(
        "cylinder to run from first",
        None,
        "",
        working=tuple(f"{name}: {shown(term.amount.value)}" for name, term in zip(names, left, strict=True)),
        source="common practice, no source",
        verdict=f"The {least}{side} cylinder first: it has least left. Fill it while the {other}{'-side' if side else ''} one feeds.",
    )


WHICH = Family("which", lambda _question: "propane-weight", _which_applies, _WHICH_ROLES, _first_to_burn)
