"""Sums over bleach in a tank: the dose, the strength it comes to, the water it treats."""

from __future__ import annotations

from cabassist.estimate.quantities import exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.working_sheet import in_unit, quantity, with_verdict

_ROLES = (
    role("water", "volume", 0.5,
        (2.0, r"# (?:(?:fresh|water|drinking|of water|gallon|of) )*(?:tank|water)\b|\b(?:tank(?: of| is| holds)?|in(?:to)?|for|to|sanitize|treat) (?:the |a |about |our )?# "), bare=0.9),
    role("percent", "share", 0.5, (1.5, r"# (?:\w+ )?(?:bleach|strength|clorox|hypochlorite|chlorine)\b|\b(?:bleach|label|jug|bottle) (?:\w+ ){0,3}?# "), bare=1.2),
    role("percent", "n", -1.8, (3.0, r"# (?:\w+ )?(?:bleach|strength|clorox|hypochlorite)\b|\b(?:bleach|label|jug) (?:\w+ ){0,3}?# ")),
    role("part", "share", -1.5, (4.0, r"# (?:full )?of (?:a|the|our) <|# full\b|<gal> tank (?:is |at |that is )?# ")),
    role("ppm", "strength", 1.0),
    role("have", "strength|n", -9.0),
    role("ppm", "n", -9.0),
    role("add", "volume", -9.0),
    role("bleach", "volume", 0.0,
        (2.0, r"# (?:of )?(?:the |that )?(?:<(?:percent|n)> )?(?:bleach|clorox)\b|# of <|\b(?:pour\w*|put|added|add|dump\w*|use) (?:in )?# |# (?:of <[^>]+> )?(?:goes|went|going) in")),
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    if want.kind not in ("volume", "strength", "mass", "") or Lazy(r"\b(?:drops?|drink(?:able|ing)?|cloudy|murky)\b").search(question.frame):  # fmt: skip
        return False
    named = Lazy(r"\b(?:bleach\w*|clorox|sanitiz\w*|chlorin\w*|hypochlorite|shock)\b").search(question.frame)
    return named is not None or want.kind == "strength" or any(term.kind == "strength" for term in terms)


_DOUBLED = Lazy(r"\b(?:double|twice|triple)\b")


def _times(t: Told) -> float:
    """How many times the dose is wanted."""
    return {"double": 2.0, "twice": 2.0, "triple": 3.0}.get(next(iter(_DOUBLED.findall(t.question.frame)), ""), 1.0)


def _solve(t: Told) -> Estimate | None:
    from cabassist.estimate import bleach

    if _TO_DRINK.search(t.question.frame) or t.want.kind not in ("volume", "strength", "mass", ""):
        return None
    if t.has("have", "water") and not t.has("percent"):
        return _thinned(t)
    water, percent = t.value("water"), t.one("percent")
    have = t.value("have") or 0.0
    if water is None and not t.has("bleach", "ppm") and _OWN_TANK.search(t.question.frame):
        water = t.coach.tank("fresh").capacity_gal
        t.assumed.append(f"fresh tank {shown(water)} gal (profile)")
    if percent is None or (water is None and not t.has("bleach", "ppm")):
        return None
    if t.has("part"):
        part = t.value("part")
        if water is None or part is None:
            return None
        water *= part
    label = percent.value * (100 if percent.kind == "share" else 1)
    if not 1 <= label <= 20:
        return None
    treats = _TREATS.search(t.question.frame) is not None
    if water is None:
        poured, target = t.value("bleach"), t.value("ppm")
        if not treats or not poured or not target:
            return None
        gallons = poured * 10_000 * label / target
        line = f"{shown(poured * 3785.41)} mL x 10,000 x {shown(label)} % ÷ {shown(target)} mg/L"
        return exact("treats", gallons, "gal", working=(f"{line} = {shown(gallons)} gal",), source=bleach.DOSE_SOURCE)
    if treats and not t.has("bleach"):
        return None
    if t.has("bleach"):
        poured = t.value("bleach")
        if poured is None or (t.want.kind == "volume" and not t.has("ppm")) or poured > 0.05 * water:
            return None
        found = bleach.bleach_strength(quantity(water, "gal"), quantity(poured, "gal"), label)
        target = t.value("ppm")
        if have and found.value is not None:
            line = f"{shown(found.value)} + {shown(have)} mg/L that was there = {shown(found.value + have)} mg/L"
            found = exact(found.name, found.value + have, "mg/L", working=(*found.working, line), assumptions=found.assumptions, source=found.source)  # fmt: skip
        if target is None and t.want.judged:
            target = bleach.SHOCK_MG_PER_L
        still = t.want.kind == "volume" or _STILL.search(t.question.frame) is not None
        if target is not None and found.value is not None and still:
            if target <= have:
                return None
            dose = bleach.bleach_dose(quantity(water, "gal"), label, target_mg_per_l=target - have)
            more = (dose.value or 0.0) - poured * 128
            line = f"{shown(dose.value or 0.0)} - {shown(poured * 128)} fl oz = {shown(more)} fl oz"
            return exact("still to add", more, "fl oz", working=(*dose.working, line), source=dose.source) if more > 0 else None  # fmt: skip
        if target is not None and found.value is not None:
            enough = found.value >= 0.97 * target
            if Lazy(r"\btoo (?:strong|much)\b").search(t.question.frame):
                enough = found.value > 1.03 * target
            elif Lazy(r"\btoo (?:weak|little)\b").search(t.question.frame):
                enough = not enough
            return with_verdict(
                found, f"{'Yes' if enough else 'No'}: {shown(found.value, 3)} against {shown(target)} mg per liter."
            )
        return found if target is None else None
    if t.want.kind == "strength":
        return None
    target = _times(t) * (t.value("ppm") or bleach.SHOCK_MG_PER_L) - have
    if target <= 0:
        return None
    found = bleach.bleach_dose(quantity(water, "gal"), label, target_mg_per_l=target)
    return in_unit(found, t.want.unit) if t.want.unit in ("cup", "tbsp", "tsp", "mL", "L", "qt", "pt", "gal") else found


_TO_DRINK = Lazy(
    r"\bdrops?\b|\bcloudy\b|\bmurky\b|\bto drink\b|\bdrinkable\b|\b(?:make|treat\w*|for) (?:\S+ ){0,5}?(?:safe|drinking)\b"
)
"""Water to drink takes drops, far less than the shock dose."""
_OWN_TANK = Lazy(r"\b(?:fresh|(?:the|our|my|whole) (?:\w+ )?tank)\b")


def _thinned(t: Told) -> Estimate | None:
    """What plain water makes of the chlorine, or how much of it brings the chlorine down to what is wanted."""
    water, have, target, added = t.value("water"), t.value("have"), t.value("ppm"), t.value("add")
    if not water or not have or (target is None) is (added is None):
        return None
    if target is not None:
        more = water * (have / target - 1) if target else 0.0
        line = f"{shown(water)} gal x ({shown(have)} ÷ {shown(target)} - 1) = {shown(more)} gal"
        return exact("plain water", more, "gal", working=(line,), source="arithmetic") if more > 0 else None
    left = have * water / (water + (added or 0.0))
    line = f"{shown(have)} mg/L x {shown(water)} ÷ {shown(water + (added or 0.0))} gal = {shown(left)} mg/L"
    return exact("chlorine", left, "mg/L", working=(line,), source="arithmetic")


_TREATS = Lazy(
    r"\b(?:treats?|sanitiz\w* how|good for|enough for|(?<!to )do at)\b.*<(?:ppm|mg/L)>|\bhow many (?:gallons|liters|litres)\b(?! of (?:the )?(?:<[^>]+> )?(?:bleach|clorox|chlorine))"
)
_STILL = Lazy(r"\bhow much more\b|\bhow many more\b|\bstill (?:need|add)\b")
BLEACH = Family("bleach", lambda _question: "bleach-dose", _applies, _ROLES, _solve)
