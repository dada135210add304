"""Sums over propane cylinders in the cold: what they boil off, whether that feeds the furnaces, and which to run from first."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.working_sheet import quantity, with_verdict

_BOILING = Lazy(
    r"\b(?:vapou?r\w*|boil\w*|feeds?|fed|keep up|keeps up|supply|put out|puts out|make|makes|give|gives|deliver|handle|carry|run|enough gas)\b"
)
_BOTTLE = Lazy(r"\b(?:propane|cylinders?|bottles?|pounders?|lp|tank)\b|<cylinder>| # pounders|<lb>")
_VAPOR_ROLES = (
    role("left", "mass", 0.5,
        (1.5, r"# (?:\w+ ){0,2}?(?:left|remaining|in it|in there|of propane)\b|\b(?:with|has|down to|only|got|holding) (?:about |only )?# "), never=r"# pounders", bare=1.5),
    role("size", "mass", -0.3, (2.0, r"# (?:pounders?|(?:propane |steel )?(?:cylinders?|bottles?|tanks?))\b"), bare=1.5),
    role("share", "share", 0.5),
    role("outside", "temperature", 1.0, bare=2.0),
    role("outside", "n", -1.5, (2.5, r"\b(?:it is|it|outside|at|cold|temp\w*|out) # |# (?:out|outside)\b")),
    role("burner", "power|energy", 0.8, bare=2.0, many=True),
    role("burners", "count furnace|count heater", 1.0),
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


def _boils_off(t: Told) -> Estimate | None:
    from cabassist.estimate import boil_off

    cold, size = t.one("outside"), t.value("size")
    if cold is None:
        return None
    nominal = size if size is not None else t.coach.propane.cylinders[0].nominal_lb
    if size is None:
        t.assumed.append(f"{shown(nominal)} lb cylinder (profile)")
    left, share = t.value("left"), t.value("share")
    if (left is None) is (share is None):
        return None
    pounds = left if left is not None else (share or 0.0) * nominal
    if pounds > nominal * 1.02:
        return None
    bottles = t.value("bottles") or 1.0
    air = quantity(cold.value, "F")
    burners, count = t.all("burner"), t.value("burners")
    if any(term.kind == "n" and term.value < 3000 for term in burners) or (count and not burners):
        return None
    if not burners:
        found = boil_off.vaporization(quantity(pounds, "lb"), air, nominal=quantity(nominal, "lb"))
        return found if bottles == 1 else None
    if count and len(burners) > 1 and count != len(burners):
        return None
    demand = sum(term.value for term in burners) * (count if count and len(burners) == 1 else 1.0)
    if t.want.unit in ("furnaces", "heaters"):
        if len(burners) != 1 or count or bottles != 1:
            return None
        gives = boil_off.vaporization(quantity(pounds, "lb"), air, nominal=quantity(nominal, "lb"))
        if gives.value is None:
            return gives
        fed = float(int(gives.value / demand + 1e-9))
        line = f"{shown(gives.value)} ÷ {shown(demand)} BTU/h = {shown(gives.value / demand)}"
        return exact(f"{t.want.unit} it can feed", fed, t.want.unit, working=(*gives.working, line), assumptions=gives.assumptions, source=gives.source, also=(figure("boils off", gives.value, "BTU/h"),))  # fmt: skip
    found = boil_off.can_feed(
        quantity(demand, "BTU/h"), air, [quantity(pounds, "lb")] * round(bottles), nominal=quantity(nominal, "lb")
    )
    if found.value is None:
        return found
    sure = found.value >= demand and (found.low is None or found.low >= demand)
    judged = "Yes." if sure else "No." if found.value < demand else "Barely."
    return replace(with_verdict(found, judged), assumptions=(*t.assumed, *found.assumptions))


VAPOR = Family(lambda _question: "vaporization", _vapor_applies, _VAPOR_ROLES, _boils_off)

_WHICH_ROLES = (
    role("left", "mass|share", 0.5, bare=0.5, many=True),
    role("size", "mass", -0.5, (3.0, r"# (?:pounders?|cylinders?|bottles?)\b")),
)  # fmt: skip
_PLACE = Lazy(r"\b(curb|street|outside|inside|outer|inner|left|right|front|rear|back|driver|passenger|first|second)\b")


def _which_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    named = Lazy(r"\b(?:bottles?|cylinders?|propane|tanks?)\b").search(question.frame)
    order = Lazy(r"\b(?:first|feed\w*|burn\w*|use|using|run\w*|open|on)\b").search(question.frame)
    return want.kind == "which" and bool(named and order) and all(t.kind in ("mass", "share", "n") for t in terms)


def _first_to_burn(t: Told) -> Estimate | None:
    """The cylinder to run from: the one with least left, so that it can be filled while the other feeds."""
    left = t.all("left")
    t.one("size")
    if len(left) != 2 or len({term.kind for term in left if term.kind != "n"}) != 1:
        return None
    names = [places[-1] if (places := _PLACE.findall(term.around.partition("#")[0])) else "" for term in left]
    if not all(names) or names[0] == names[1] or left[0].value == left[1].value:
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


WHICH = Family(lambda _question: "propane-weight", _which_applies, _WHICH_ROLES, _first_to_burn)
