"""Sums over tires: pressure at another temperature, whether cold alone explains a reading, tread left, wheel nuts due."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from cabassist.estimate.quantities import PSI_PA, exact, figure, shown
from cabassist.estimate.tires import GAUGE_PA
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import OTHERS, result
from cabassist.sums.working_sheet import quantity

if TYPE_CHECKING:
    from pint import Quantity

_ROLES = (
    role("at_first", "pressure", 0.5, (1.2, r"\b(?:set|aired|filled|pumped|inflated|was|were|had|from|put|want|need|should|must|start\w*)(?: \w+){0,3} # |# (?:\w+ ){0,2}(?:at|in|when|last|yesterday|monday|then|this morning)"), never=r"\b(?:now|gauge|down to|reads?|shows?|today)(?: \w+){0,2} # "),
    role("at_first", "n", -1.6, (3.2, r"\b(?:set|aired|filled|pumped|inflated|want|need)(?: \w+){0,3} # ")),
    role("now", "pressure", 0.0, (2.0, r"\b(?:now|gauge|down to|dropped to|reads?|reading|shows?|showing|today|says?|is|this morning)(?: \w+){0,3} # |# (?:now|today|this morning)\b")),
    role("now", "n", -1.6, (3.2, r"\b(?:gauge|down to|dropped to|reads?|reading|shows?|showing|says?)(?: \w+){0,2} # ")),
    role("warm", "temperature", 0.4, (1.0, r"\b<(?:psi|bar|kPa|n)>(?: \w+){0,5} # |\bshop\b[^#]{0,20} # "), many=False),
    role("warm", "n", -1.6, (2.8, r"<(?:psi|bar|kPa|n)> (?:\w+ ){0,2}at # |\bshop[^#<]{0,16} # |# (?:\w+ )?in the shop\b|<psi> # ")),
    role("cold", "temperature", 0.4, (1.0, r"\b(?:now|out|outside|today|it is|drops to|when|this morning)(?: \w+){0,3} # ")),
    role("cold", "n", -1.6, (2.8, r"\b(?:now|outside|today|drops to|it is|at)(?: \w+){0,2} # |\bshop[^#<]{0,16} # ")),
    OTHERS,
    role("beside", "people", -0.5, many=True),
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    named = question.has(
        r"\b(?:tires?|tyres?|psi|bar|steers?|drives?|duals?|aired|pumped|inflated|gauge|pressure|shop)\b|<(?:psi|bar|kPa)>"
    )
    return named and want.kind in ("pressure", "temperature", "") and not question.has(r"\b(?:propane|regulator|brakes?|air pressure|leak ?down)\b|<(?:mi|gal|h|mph|min|lb)>")  # fmt: skip


def _of_pressure(t: Told, pressure: Term) -> Term | None:
    """The temperature told with a pressure: the one nearest to it, "110 at 65"."""
    temps = [one for name in ("warm", "cold") for one in t.roles.get(name, [])]
    if not temps:
        return None
    return min(temps, key=lambda one: abs(one.amount.start - pressure.amount.start) + (0 if one.amount.start > pressure.amount.start else 1.5))  # fmt: skip


_LOST = Lazy(r"\b(?:lose|lost|loss|drop|gain|rise|change|difference)\b")
_JUST = Lazy(r"\b(?:just|only) (?:the )?(?:cold|weather|temperature)\b")


def _solve(t: Told) -> Estimate | None:
    """Pressure at the other temperature, or what of a second reading that explains."""
    from cabassist.estimate.tires import tire_pressure, tire_reading

    first, now = t.one("at_first"), t.one("now")
    warm, cold = t.one("warm"), t.one("cold")
    if first is None or warm is None or cold is None:
        return None
    own = (
        min((warm, cold), key=lambda one: one.amount.start)
        if _FROM.search(t.question.frame)
        else _of_pressure(t, first)
    )
    other = cold if own is warm else warm
    if own is None or (first.kind == "n" and any(one.unit in ("bar", "kPa") for one in t.question.amounts)):
        return None
    if not (30 <= first.value <= 150 and -70 <= other.value <= 130 and -70 <= own.value <= 130):
        return None
    set_to, set_at, then = _pressure(t, first), _degrees(t, own), _degrees(t, other)
    if now is None:
        if t.want.judged and t.question.has(r"\bleak"):
            return None
        found = tire_pressure(set_to, set_at, then)
        change = next((one for one in found.also if one.unit == found.unit), None)
        if change is None or not _LOST.search(t.question.frame):
            return found
        return replace(found, name=change.name, value=abs(change.value), low=None, high=None, also=(figure("pressure then", found.value or 0.0, found.unit),))  # fmt: skip
    if now.amount.start < first.amount.start:
        return None
    found = tire_reading(_pressure(t, now), set_to, set_at, then)
    if not _JUST.search(t.question.frame):
        return found
    explained = (found.value or 0.0) > -GAUGE_PA / PSI_PA * (
        1.0 if found.unit == "psi" else converted(1.0, "psi", found.unit)
    )
    return replace(found, verdict=f"{'Yes' if explained else 'No'}. {found.verdict}")


_FROM = Lazy(r"\bfrom <(?:F|C|temp|n)> (?:\w+ ){0,3}to <")


def _pressure(t: Told, term: Term) -> Quantity[Any]:
    """A pressure; one without a unit is in the unit of the other."""
    spoken = next((one.unit for one in t.question.amounts if one.unit in ("psi", "bar", "kPa")), "psi")
    return quantity(term.amount.value, spoken if term.unit == "n" else term.unit)


def _degrees(t: Told, term: Term) -> Quantity[Any]:
    return quantity(term.amount.value, term.unit if term.unit in ("F", "C") else t.question.scale)


TIRES = Family(lambda _q: "tire-pressure", _applies, _ROLES, _solve)

_TREAD_ROLES = (
    role("depth", "depth", 0.5, (0.5, r"\b(?:at|is|are|have|has|tread|measure\w*) # "), never=r"\b(?:legal|limit|minimum|to|till?|until)(?: \w+)? # $|\b(?:lose\w*|losing|wear\w*|burn\w*|use\w*|using)(?: about)? # "),
    role("worn", "depth", -0.5, (3.5, r"\b(?:lose\w*|losing|wear\w*|burn\w*|using|uses?|goes|going|down)(?: about| roughly)* # |# (?:every|per|a|each|for every|in) (?:<mi>|<km>|month|week)|\bhow many # |\bin # ")),
    role("worn", "n", -1.6, (4.1, r"\b(?:lose\w*|losing|wear\w*|burn\w*|using|uses?)(?: about| a)* # |# (?:nd|thirty second)")),
    role("limit", "depth|n", -0.6, (3.0, r"\b(?:legal|limit|minimum|min|to|till?|until|down to|before|hit|reach)(?: the| of| is| legal| limit| at)* # |# (?:limit|legal|minimum)\b")),
    role("every", "distance", -0.2, (3.5, r"\b(?:every|per|each|for every|in|a|over) # |\b<(?:32nds|mm|n)>[^#<]{0,12} # ")),
    role("beside", "distance|people", -0.8, (1.5, r"\b(?:done|did|we have done|since|this trip|so far|driven)(?: \w+)? # |# (?:this trip|so far|done)"), many=True),
    role("beside", "n", -1.6, (3.1, r"\b(?:done|did|this trip|driven)(?: \w+)? # |# this trip")),
)  # fmt: skip


def _tread_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    if question.has(_IN_32NDS):
        return True
    return (
        any(one.kind == "depth" for one in terms)
        and want.kind == "distance"
        and question.has(r"\b(?:tread|steers?|tires?|tyres?|drives?)\b|<32nds>")
    )


_IN_32NDS = r"<(?:mm|in|cm)>.*\b(?:how many|in) <s>"


def _tread(t: Told) -> Estimate | None:
    """Miles until the tread is down to its limit."""
    if t.has("depth", "worn") and len(t.roles) == 2 and t.question.has(_IN_32NDS):
        inches = t.value("depth") or 0.0
        t.value("worn")
        return exact("tread", inches * 32, "1/32 in", working=(f"{shown(inches * 25.4)} mm ÷ 25.4 x 32 = {shown(inches * 32)}/32 in",), source="arithmetic")  # fmt: skip
    depth, worn, every, limit = t.one("depth"), t.one("worn"), t.value("every"), t.one("limit")
    if depth is None or worn is None or every is None:
        return None
    if limit is None:
        if not t.question.has(r"\b(?:steers?|fronts?)\b"):
            return None
        last = converted(4.0, "32nds", "in")
        t.assumed.append("4/32 in on a front tire, 49 CFR 393.75")
    else:
        last = converted(limit.value, "32nds", "in") if limit.kind == "n" else limit.value
    each = converted(worn.value, "32nds", "in") if worn.kind == "n" else worn.value
    left = depth.value - last
    if left <= 0 or each <= 0:
        return None
    miles = left / each * every
    return result(t, "miles left on the tread", miles, "mi", (f"({shown(depth.value * 32)} - {shown(last * 32)})/32 ÷ {shown(each * 32)}/32 x {shown(every)} mi = {shown(miles)} mi",))  # fmt: skip


TREAD = Family(lambda _q: "tread-limit", _tread_applies, _TREAD_ROLES, _tread)

_RECHECK_ROLES = (
    role("fitted", "n|distance", 0.0, (1.5, r"\b(?:wheel|swap\w*|chang\w*|fitted|nuts?|mounted|put|went)\b[^#]{0,30} # "), never=r"# (?:mile |miles )?(?:limit|rule)"),
    role("now", "n|distance", 0.0, (1.5, r"\b(?:now|we are|at|on|odometer|reads?|shows?)(?: \w+){0,2} # |# now\b"), never=r"# (?:mile |miles )?(?:limit|rule)"),
    role("first", "n|distance", -1.6, (3.6, r"\b(?:within|between|after|from|at|in|due|recheck) # (?:to|and|-)")),
    role("within", "n|distance", -0.6, (3.0, r"# (?:mile |miles )?(?:limit|recheck|re ?torque|check|torque|mark|rule)|<n> (?:to|and|-) # |\b(?:within|due (?:at|in|after)|limit|recheck(?: at| in| after)?|inside|<n> (?:to|and)|past the|over the)(?: of| is| the)? # "), never=r"# recheck (?:within|in|at|after|due)"),
    role("beside", "people|temperature", -0.5, many=True),
)  # fmt: skip


def _recheck_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return question.has(r"\b(?:wheels?|nuts?|lugs?|tire|tyre)\b") and question.has(r"\b(?:past|over|overdue|left|to go|more miles|until|till|late|how many miles)\b") and want.kind in ("distance", "", "mass")  # fmt: skip


def _recheck(t: Told) -> Estimate | None:
    """Miles past the distance in which wheel nuts are checked again, or left until then."""
    fitted, now, within = t.value("fitted"), t.value("now"), t.value("within")
    t.value("first")
    if (
        fitted is None
        or now is None
        or within is None
        or not 0 <= now - fitted <= 5000
        or within > 1000
        or fitted < 1000
    ):
        return None
    done = now - fitted
    past = t.question.has(r"\b(?:past|over|overdue|late)\b")
    left = within - done
    line = f"{shown(now, 7)} - {shown(fitted, 7)} = {shown(done)} mi since it was fitted"
    if left < 0:
        return result(
            t,
            "past the recheck",
            -left,
            "mi",
            (line,),
            f"{shown(-left)} miles past: check the nuts now.",
            (figure("since it was fitted", done, "mi"),),
        )
    if past and not t.question.has(r"\bleft\b"):
        return result(t, "left until the recheck", left, "mi", (line,), f"Not past: {shown(left)} miles are left.")
    return result(t, "left until the recheck", left, "mi", (line,), f"{shown(left)} miles left.")


RECHECK = Family(lambda _q: "wheel-recheck", _recheck_applies, _RECHECK_ROLES, _recheck)
