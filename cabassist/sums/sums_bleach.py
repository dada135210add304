"""Sums over bleach in a tank: the dose, the strength it comes to, the water it treats."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import exact, figure, shown
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
    role("other", "share|n", -9.0),  # the strength of another bleach that it is set against
    role("part", "share", -1.5, (4.0, r"# (?:full )?of (?:a|the|our) <|# full\b|<gal> tank (?:is |at |that is )?# ")),
    role("ppm", "strength", 1.0),
    role("have", "strength|n", -9.0),
    role("ppm", "n", -9.0),
    role("add", "volume", -9.0),
    role("cap", "volume", -9.0),  # what one capful holds
    role("capfuls", "n", -9.0),
    role("capacity", "volume", -9.0),  # what the tank holds, beside the water that is in it
    role("bleach", "volume", 0.0,
        (2.0, r"# (?:of )?(?:the |that )?(?:<(?:percent|n)> )?(?:bleach|clorox)\b|# of <|\b(?:pour\w*|put|added|add|dump\w*|use) (?:in )?# |# (?:of <[^>]+> )?(?:goes|went|going) in"), many=True),
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

    if _TO_DRINK.search(t.question.frame) or t.want.kind not in ("volume", "strength", "mass", "share", "times", ""):
        return None
    beside = [one for one in t.roles.get("beside", []) if one.kind in ("share", "n")]
    if any(_RATHER.search(one.around) for one in beside) and _BY_HOW_MUCH.search(t.question.frame):
        return None
    if t.has("have", "water") and not t.has("percent"):
        return _thinned(t)
    water, percent = t.value("water"), t.one("percent")
    many = _poured(t)
    if percent is None and not t.has("have"):
        return _label(t, water, many)
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
    if t.has("other"):
        return _against(t, water, label, have) if many is None else None
    treats = _TREATS.search(t.question.frame) is not None
    if water is None:
        poured, target = many, t.value("ppm")
        if not treats or not poured or not target:
            return None
        gallons = poured * 10_000 * label / target
        line = f"{shown(poured * 3785.41)} mL x 10,000 x {shown(label)} % ÷ {shown(target)} mg/L"
        return exact("treats", gallons, "gal", working=(f"{line} = {shown(gallons)} gal",), source=bleach.DOSE_SOURCE)
    if treats and many is None:
        return None
    if many is not None:
        return _comes_to(t, water, many, label, have)
    if t.want.kind == "strength":
        return None
    target = _times(t) * (t.value("ppm") or bleach.SHOCK_MG_PER_L) - have
    if target <= 0:
        return None
    found = bleach.bleach_dose(quantity(water, "gal"), label, target_mg_per_l=target)
    if t.has("cap"):
        cap, gallons = t.value("cap"), (found.value or 0.0) / 128
        if not cap:
            return None
        line = f"÷ {shown(cap * 128)} fl oz a capful = {shown(gallons / cap)}"
        dose = figure("bleach", found.value or 0.0, "fl oz")
        return exact("capfuls", gallons / cap, "capfuls", working=(*found.working, line), assumptions=found.assumptions, source=found.source, also=(dose, *found.also))  # fmt: skip
    return in_unit(found, t.want.unit) if t.want.unit in ("cup", "tbsp", "tsp", "mL", "L", "qt", "pt", "gal") else found


_BY_HOW_MUCH = Lazy(r"\b(?:less|more|fewer|extra|save|saved|difference|apart)\b")
_RATHER = Lazy(
    r"\b(?:rather than|instead of|versus|vs|compared (?:with|to|against)|not)(?: (?:the|my|our|a|an|of))* # "
)
"""Another strength that the dose is set against."""


def _against(t: Told, water: float | None, label: float, have: float) -> Estimate | None:
    """How much more, or less, of one bleach is needed than of another."""
    from cabassist.estimate import bleach

    other = t.one("other")
    target = _times(t) * (t.value("ppm") or bleach.SHOCK_MG_PER_L) - have
    if other is None or water is None or target <= 0 or t.has("cap") or t.want.kind not in ("volume", ""):
        return None
    second = other.value * (100 if other.kind == "share" else 1)
    if not 1 <= second <= 20 or second == label:
        return None
    doses = [bleach.bleach_dose(quantity(water, "gal"), one, target_mg_per_l=target) for one in (label, second)]
    one, two = (dose.value or 0.0 for dose in doses)
    gap, less = abs(one - two), label > second
    line = f"{shown(max(one, two))} - {shown(min(one, two))} = {shown(gap)} fl oz"
    strong, weak = max(label, second), min(label, second)
    verdict = f"The stronger takes less: {shown(min(one, two), 3)} of the {shown(strong)} percent, {shown(max(one, two), 3)} of the {shown(weak)} percent."  # fmt: skip
    also = (figure(f"of the {shown(label)} percent", one, "fl oz"), figure(f"of the {shown(second)} percent", two, "fl oz"), figure("millilitres", gap * _ML_PER_FL_OZ, "mL"))  # fmt: skip
    found = exact("less of it" if less else "more of it", gap, "fl oz", working=(*doses[0].working, *doses[1].working, line), assumptions=doses[0].assumptions, source=bleach.DOSE_SOURCE, verdict=verdict, also=also)  # fmt: skip
    return in_unit(found, t.want.unit) if t.want.unit in ("cup", "tbsp", "tsp", "mL", "L", "qt", "pt", "gal") else found


_ML_PER_FL_OZ = 29.5735


def _comes_to(t: Told, water: float, poured: float, label: float, have: float) -> Estimate | None:
    """The strength that was made, whether it is enough, and what is still to add."""
    from cabassist.estimate import bleach

    if (t.want.kind == "volume" and not t.has("ppm")) or poured > 0.05 * water:
        return None
    found = bleach.bleach_strength(quantity(water, "gal"), quantity(poured, "gal"), label)
    target = t.value("ppm")
    if have and found.value is not None:
        line = f"{shown(found.value)} + {shown(have)} mg/L that was there = {shown(found.value + have)} mg/L"
        found = exact(found.name, found.value + have, "mg/L", working=(*found.working, line), assumptions=found.assumptions, source=found.source)  # fmt: skip
    if target is None and t.want.judged:
        target = bleach.SHOCK_MG_PER_L
    if target and found.value is not None and _ASKS_WATER.search(t.question.frame):
        thinner = _thinner(t, water, found.value, target)
        return thinner and replace(thinner, also=(*thinner.also, figure("chlorine now", found.value, "mg/L")))
    still = t.want.kind == "volume" or _STILL.search(t.question.frame) is not None
    if target is not None and found.value is not None and still:
        if target <= have:
            return None
        dose = bleach.bleach_dose(quantity(water, "gal"), label, target_mg_per_l=target - have)
        more = (dose.value or 0.0) - poured * 128
        line = f"{shown(dose.value or 0.0)} - {shown(poured * 128)} fl oz = {shown(more)} fl oz"
        return exact("still to add", more, "fl oz", working=(*dose.working, line), source=dose.source, also=(figure("chlorine now", found.value, "mg/L"),)) if more > 0 else None  # fmt: skip
    if target is not None and found.value is not None:
        enough = found.value >= 0.97 * target
        if Lazy(r"\btoo (?:strong|much)\b").search(t.question.frame):
            enough = found.value > 1.03 * target
        elif Lazy(r"\btoo (?:weak|little)\b").search(t.question.frame):
            enough = not enough
        made = found.value
        short = (target - made) * water / (label * 10_000) * 128
        also = figure("still to add", short, "fl oz") if short > 0 else figure("water to thin it", water * (made / target - 1), "gal")  # fmt: skip
        found = replace(found, also=(*found.also, also))
        return with_verdict(
            found, f"{'Yes' if enough else 'No'}: {shown(made, 3)} against {shown(target)} mg per liter."
        )
    return found if target is None else None


_TO_DRINK = Lazy(
    r"\bdrops?\b|\bcloudy\b|\bmurky\b|\bto drink\b|\bdrinkable\b|\b(?:make|treat\w*|for) (?:\S+ ){0,5}?(?:safe|drinking)\b"
)
"""Water to drink takes drops, far less than the shock dose."""
_OWN_TANK = Lazy(r"\b(?:fresh|(?:the|our|my|whole) (?:\w+ )?tank)\b")


def _thinned(t: Told) -> Estimate | None:
    """What plain water makes of the chlorine, or how much of it brings the chlorine down to what is wanted."""
    water, have, target, added = t.value("water"), t.value("have"), t.value("ppm"), t.value("add")
    if not water or not have or (target is None and added is None):
        return None
    if target is not None and added is None:
        return _thinner(t, water, have, target)
    left = have * water / (water + (added or 0.0))
    line = f"{shown(have)} mg/L x {shown(water)} ÷ {shown(water + (added or 0.0))} gal = {shown(left)} mg/L"
    verdict = "" if target is None else f"{'Yes' if left <= 1.03 * target else 'No'}: {shown(left, 3)} against {shown(target)} mg per liter."  # fmt: skip
    return exact("chlorine", left, "mg/L", working=(line,), source="arithmetic", verdict=verdict)


def _poured(t: Told) -> float | None:
    """Gallons of bleach that went in: capfuls of a size, or all amounts together."""
    if t.has("capfuls"):
        count, cap = t.value("capfuls"), t.value("cap")
        return None if count is None or cap is None or t.has("bleach") else count * cap
    told = t.all("bleach")
    once = [
        one
        for k, one in enumerate(told)
        if not any(one.unit != two.unit and abs(one.value - two.value) <= 0.02 * two.value for two in told[:k])
    ]  # "a cup of it, eight ounces"
    return sum(one.value for one in once) if once else None


def _label(t: Told, water: float | None, poured: float | None) -> Estimate | None:
    """What percent the bleach must be of, or was of, so that what was poured makes such a strength."""
    target = t.value("ppm")
    if not water or not poured or not target or t.has("part") or t.want.kind not in ("share", "strength", ""):
        return None
    percent = target * water / (poured * 10_000)
    line = f"{shown(target)} mg/L x {shown(water)} gal ÷ ({shown(poured * 128)} fl oz x 10,000) = {shown(percent)} %"
    return exact("strength of the bleach", percent, "percent", working=(line,), source="mg/L = mL x 10 x % ÷ L, arithmetic") if percent <= 20 else None  # fmt: skip


def _thinner(t: Told, water: float, have: float, target: float) -> Estimate | None:
    """How much plain water thins it down, or how much is let out and replaced by plain water."""
    if not 0 < target < have:
        return None
    if _DRAINS.search(t.question.frame) and not _WATER_IN.search(t.question.frame):
        out = water * (1 - target / have)
        line = f"{shown(water)} gal x (1 - {shown(target)} ÷ {shown(have)}) = {shown(out)} gal"
        return exact("to drain and replace with plain water", out, "gal", working=(line,), source="arithmetic")
    more = water * (have / target - 1)
    line = f"{shown(water)} gal x ({shown(have)} ÷ {shown(target)} - 1) = {shown(more)} gal"
    holds, verdict = t.value("capacity"), ""
    if holds is not None:
        fits = water + more <= holds * 1.003
        verdict = f"{'Yes, it fits' if fits else 'No, it does not fit'}: {shown(water + more)} against {shown(holds)} gallons."  # fmt: skip
    return exact("plain water", more, "gal", working=(line,), source="arithmetic", verdict=verdict, also=(figure("altogether", water + more, "gal"),))  # fmt: skip


_ASKS_WATER = Lazy(
    r"\b(?:how (?:much|many <?\w+>?)|what|more|and) (?:(?:of|more|extra|plain|clean|fresh|straight|gallons|liters|litres|quarts) )*water\b|\b(?:thin|dilut|water|weaken|cut)\w* (?:it|that|this|her|them|the \w+|down)\b|\bhow much (?:\w+ ){0,3}?(?:drain|let out|dump|swap)\b"
)
_WATER_IN = Lazy(
    r"\b(?:how (?:much|many <?\w+>?)(?: of)?|what) (?:(?:of|more|extra|plain|clean|fresh|straight) )*water\b(?! (?:\w+ ){0,4}?(?:drain|dump|let out|swap|replace|take out))"
)
"""Asks for the water that goes in, though some was let out before."""
_DRAINS = Lazy(r"\b(?:drain\w*|dump\w*|let out|swap\w*|replac\w*|take out|run off)\b")
_TREATS = Lazy(
    r"\b(?:treats?|sanitiz\w* how|good for|enough for|(?<!to )do at)\b.*<(?:ppm|mg/L)>|\bhow many (?:gallons|liters|litres)\b(?! of (?:the )?(?:<[^>]+> )?(?:bleach|clorox|chlorine))"
)
_STILL = Lazy(r"\bhow much more\b|\bhow many more\b|\bstill (?:need|add)\b")
BLEACH = Family("bleach", lambda _question: "bleach-dose", _applies, _ROLES, _solve)
