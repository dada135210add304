"""Sums over mixtures: what makes a mixture weaker or stronger, what comes of a drain and a refill, a percent of another amount.

What is dissolved does not change when water is added: amount x percent = amount x percent. A coolant's freeze point is not
told: no table of it is among the references.
"""

from __future__ import annotations

from typing import NamedTuple

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role

_UNDILUTED = (
    r"# (?:bottles? |jugs? )?(?:of )?(?:the )?(?:straight|pure|neat|undiluted|uncut|full strength|concentrate)\b"
)
_ROLES = (
    role("mix", "volume", 0.0, bare=1.0, never=_UNDILUTED),  # how much mixture there is, or is to be made
    role("have", "share|n", 0.0),  # its strength now
    role("target", "share|n", 0.0),  # the strength wanted
    role("pure", "volume", 0.0, bare=1.0, many=True),  # concentrate, or another mixture, put in or at hand
    role("strength", "share|n", 0.0),  # the strength of that one; undiluted when not told
    role("water", "volume", 0.0, bare=1.0, many=True),
    role("drain", "volume|share", 0.0, bare=1.0),  # let out, and replaced
    role("capacity", "volume", 0.0, bare=1.0),  # what the vessel holds
    role("parts", "n", 0.0),  # "one part to three", "50/50"
    role("water_parts", "n", 0.0),
    role("whole", "volume", 0.0, bare=1.0, many=True),  # what a percent is taken of: the diesel burned
    role("share", "share", 0.0),  # that percent
    role("stock", "volume", 0.0, bare=1.0, many=True),  # what there is for it, or the size of its tank
    role("part", "share", 0.0),  # how full that tank is
    role("reserve", "volume|share", 0.0, bare=1.0),  # what is to stay in it
    role("rate", "volume/time", 0.0),  # diesel burned an hour or a day
    role("needed", "time", 0.0),  # for so long
)  # fmt: skip
_HALF_AND_HALF = 5050.0
""" "Fifty fifty", as it is read."""
_SOURCE = "amount x percent before = amount x percent after, arithmetic"


def _applies(_question: Question, _want: Wanted, _terms: tuple[Term, ...]) -> bool:
    return False  # no cue tells these roles: only the network hands them out


_BY_WATER = Lazy(
    r"\b(?:with|by|add|adding|put|putting|pour\w*|top\w*(?: \w+){0,2}|refill\w*|replac\w*|swap\w*|more|of|much|for) (?:(?:in|it|them|that|up|with|by|for|plain|just|straight|more|clean|distilled|de ?mineralized|tap|the same|same|as much|of) )*water\b|\bwater (?:instead|to (?:add|thin|top)|goes (?:in|back)|in its place|back|in (?=[:,.]|$))"
)
"""What goes in is plain water."""
_ASKS_WATER = Lazy(
    r"\b(?:how (?:much|many <?\w+>?)|what|<?\w+>? of|and|more|the) (?:(?:of|plain|distilled|de ?mineralized|clean|tap|extra|more|gallons|liters|litres|quarts|ounces|cups) )*water\b|\bhow much (?:\w+ )?(?:can i )?(?:thin|stretch|cut|dilut|water)\w*\b|\bwater $"
)
_DRAINS = Lazy(
    r"\b(?:drain\w*|swap\w*|replac\w*|let out|take out|taken out|pull(?:ed)? out|draw(?:n)? off|drawn? out|dump\w*|tip(?:ped)? out|exchang\w*|chang\w* out|bleed\w*|suck\w*|siphon\w*|pump(?:ed)? out|bail\w*|scoop\w*|come out|comes out|get rid)\b|\bout(?: and| ,| with|,){1,2} (?:\w+ )?(?:pure|straight|water|concentrate|new)\b"
)
_ONLY_ADDED = Lazy(r"\b(?:dont|don ' t|don t|do not|without|no|never|not|rather than|instead of) (?:\w+ )?drain\w*|\bdrain none\b")  # fmt: skip
_ASKS_WHOLE = Lazy(
    r"\b(?:how (?:much|many <?\w+>?)(?: of)? (?:diesel|fuel)|gallons of (?:diesel|fuel)|liters of (?:diesel|fuel)|litres of (?:diesel|fuel))\b"
)
_TOO_MUCH = Lazy(r"\btoo (?:much|strong|rich|many)\b|\b(?:over|past|above) (?:the )?<")
_TOO_WEAK = Lazy(r"\btoo (?:weak|thin|little|watery|lean)\b|\b(?:under|below|short of) (?:the )?<|\b(?:run|runs) (?:out|dry|short)\b")  # fmt: skip
_OR_SHORT = Lazy(r"\bor (?:\w+ ){0,3}?runs? (?:out|dry|short)\b")
""" "Does it do, or will I run short": the first is what is asked."""
_FIRST = Lazy(
    r"\b(?:which|what|who)\b.*\bfirst\b|\bfirst\b.*\bor\b|\bor\b.*\bfirst\b|\bwhich (?:\w+ ){0,3}?(?:sooner|before the other)\b"
)
"""Asks which of the two is gone first."""
_EVEN = 0.003
"""A strength that differs by no more is the same."""


class _Of(NamedTuple):
    """What was told of a mixture, volumes in gallons, strengths as shares."""

    mix: float | None
    have: float | None
    target: float | None
    pure: float | None
    strength: float
    water: float | None


def _share(t: Told, name: str) -> float | None:
    """A strength as a share; "fifty fifty" and a bare "forty" count as percents."""
    term = t.one(name)
    if term is None:
        return None
    if term.kind == "share":
        return term.value
    return 0.5 if term.value == _HALF_AND_HALF else term.value / 100


def _by_parts(t: Told) -> float | None:
    """The strength that "one part to three of water" makes; a "one" in words is no amount."""
    if not (t.has("parts") or t.has("water_parts")):
        return None
    pure, water = t.value("parts") or 1.0, t.value("water_parts") or 1.0
    return pure / (pure + water)


def _unit(t: Told) -> tuple[str, float]:
    """The unit that volumes are told in, unless another is wanted, and what a gallon is in it."""
    said = t.want.unit if t.want.kind == "volume" else ""
    for name in ("mix", "pure", "water", "whole", "stock", "drain", "capacity"):
        said = said or next((one.unit for one in t.roles.get(name, []) if one.kind == "volume"), "")
    unit = said if said in ("L", "mL", "qt", "pt", "floz", "cup", "gal") else "gal"
    return unit, converted(1.0, "gal", unit)


def _told(t: Told, name: str, gallons: float) -> Figure:
    unit, factor = _unit(t)
    return figure(name, gallons * factor, {"floz": "fl oz"}.get(unit, unit))


def _amount(t: Told, name: str, gallons: float, work: str, verdict: str = "", *also: Figure) -> Estimate:
    first = _told(t, name, gallons)
    return exact(first.name, first.value, first.unit, working=(work,), assumptions=tuple(t.assumed), source=_SOURCE, verdict=verdict, also=also)  # fmt: skip


def _percent(t: Told, share: float, work: str, verdict: str = "", *also: Figure) -> Estimate:
    return exact("strength", 100 * share, "percent", working=(work,), assumptions=tuple(t.assumed), source=_SOURCE, verdict=verdict, also=also)  # fmt: skip


def _mixed(t: Told) -> Estimate | None:
    """What follows from the amounts; None when nothing does."""
    if t.has("share") or (t.has("whole") and t.has("stock")):
        return _percent_of(t)
    strength = _share(t, "strength")
    target = _share(t, "target")
    parts = _by_parts(t)
    if parts is not None and (t.has("target") or (t.has("strength") and t.has("have"))):
        return None
    one = _Of(t.total("mix"), _share(t, "have"), target if parts is None else parts, t.total("pure"), 1.0 if strength is None else strength, t.total("water"))  # fmt: skip
    if any(part is not None and not 0 <= part <= 1 for part in (one.have, one.target, one.strength)) or not one.strength:  # fmt: skip
        return None
    if one.mix is None:
        return _made_up(t, one)
    if t.has("drain"):
        return _refilled(t, one)
    if one.pure is not None or one.water is not None:
        return _put_together(t, one)
    if one.target is None or not one.target:
        return None
    return _to_make(t, one) if one.have is None else _to_reach(t, one, one.mix, one.have, one.target)


def _judged(t: Told, made: float, target: float | None) -> str:
    """Whether a strength is what is wanted: at least so strong, or no stronger where it is thinned down."""
    if target is None:
        return ""
    against = f"{shown(100 * made, 3)} percent against {shown(100 * target, 3)}."
    if _TOO_MUCH.search(t.question.frame):
        return f"{'Yes' if made > target + _EVEN else 'No'}: {against}"
    if _TOO_WEAK.search(t.question.frame):
        return f"{'Yes' if made < target - _EVEN else 'No'}: {against}"
    had = _share(t, "have")
    thinned = had is not None and had > target
    enough = made <= target + _EVEN if thinned else made >= target - _EVEN
    return f"{'Yes' if enough else 'No'}: {against}"


def _made_up(t: Told, one: _Of) -> Estimate | None:
    """Concentrate and water: what they make, or how much of the other goes to what is there."""
    if one.have is not None or t.has("drain"):
        return None
    if one.pure is not None and one.water is not None:
        total = one.pure + one.water
        made = one.pure * one.strength / total if total else 0.0
        line = f"{shown(one.pure)} gal x {shown(100 * one.strength)} % ÷ {shown(total)} gal = {shown(100 * made)} %"
        return _percent(t, made, line, _judged(t, made, one.target), _told(t, "altogether", total)) if made else None
    if one.target is None or not 0 < one.target < one.strength:
        return None
    if one.pure is not None:
        water = one.pure * (one.strength / one.target - 1)
        line = f"{shown(one.pure)} gal x ({shown(100 * one.strength)} ÷ {shown(100 * one.target)} - 1) = {shown(water)} gal of water"  # fmt: skip
        return _fitting(t, "water", water, one.pure, line)
    if one.water is not None:
        pure = one.water * one.target / (one.strength - one.target)
        line = f"{shown(one.water)} gal x {shown(100 * one.target)} ÷ ({shown(100 * one.strength)} - {shown(100 * one.target)}) = {shown(pure)} gal"  # fmt: skip
        return _fitting(t, "concentrate", pure, one.water, line)
    return None


def _fitting(t: Told, name: str, more: float, there: float, line: str) -> Estimate:
    """An amount to add, with what there is then and whether the vessel holds it."""
    holds, total = t.total("capacity"), more + there
    verdict = ""
    if holds is not None:
        fits = total <= holds * (1 + _EVEN)
        verdict = f"{'Yes, it fits' if fits else 'No, it does not fit'}: {shown(total)} against {shown(holds)} gallons."
    return _amount(t, name, more, line, verdict, _told(t, "altogether", total))


def _to_make(t: Told, one: _Of) -> Estimate | None:
    """How much concentrate, and how much water, make so much of a mixture."""
    if one.mix is None or one.target is None or one.target > one.strength:
        return None
    pure = one.mix * one.target / one.strength
    water = one.mix - pure
    line = f"{shown(one.mix)} gal x {shown(100 * one.target)} ÷ {shown(100 * one.strength)} = {shown(pure)} gal, and {shown(water)} gal of water"  # fmt: skip
    if _ASKS_WATER.search(t.question.frame):
        return _amount(t, "water", water, line, "", _told(t, "concentrate", pure))
    return _amount(t, "concentrate", pure, line, "", _told(t, "water", water))


def _to_reach(t: Told, one: _Of, mix: float, have: float, target: float) -> Estimate | None:
    """What is added, or drained and replaced, so that a mixture comes to the strength wanted."""
    frame = t.question.frame
    if abs(have - target) <= 1e-9:
        return None
    thin = have > target
    other = 0.0 if thin else one.strength
    if not thin and other <= target:
        return None
    name = "water" if thin else "concentrate"
    if _DRAINS.search(_ONLY_ADDED.sub(" ", frame)) and not t.has("capacity"):
        out = mix * (target - have) / (other - have)
        line = f"{shown(mix)} gal x ({shown(100 * target)} - {shown(100 * have)}) ÷ ({shown(100 * other)} - {shown(100 * have)}) = {shown(out)} gal"  # fmt: skip
        return _amount(t, f"to drain and replace with {name}", out, line, "", figure("of it", 100 * out / mix, "percent"))  # fmt: skip
    more = mix * (target - have) / (other - target)
    line = f"{shown(mix)} gal x ({shown(100 * target)} - {shown(100 * have)}) ÷ ({shown(100 * other)} - {shown(100 * target)}) = {shown(more)} gal"  # fmt: skip
    return _fitting(t, name, more, mix, line)


def _refilled(t: Told, one: _Of) -> Estimate | None:
    """The strength after so much is drained and replaced."""
    drain = t.one("drain")
    if one.mix is None or one.have is None or drain is None or one.pure is not None or one.water is not None:
        return None
    out = drain.value * one.mix if drain.kind == "share" else drain.value
    other = 0.0 if not t.has("strength") and _BY_WATER.search(t.question.frame) else one.strength
    if not 0 < out <= one.mix:
        return None
    made = ((one.mix - out) * one.have + out * other) / one.mix
    line = f"({shown(one.mix - out)} gal x {shown(100 * one.have)} % + {shown(out)} gal x {shown(100 * other)} %) ÷ {shown(one.mix)} gal = {shown(100 * made)} %"  # fmt: skip
    return _percent(t, made, line, _judged(t, made, one.target))


def _put_together(t: Told, one: _Of) -> Estimate | None:
    """The strength of a mixture after concentrate, water or another mixture was added."""
    if one.mix is None or one.have is None:
        return None
    pure, water = one.pure or 0.0, one.water or 0.0
    total = one.mix + pure + water
    made = (one.mix * one.have + pure * one.strength) / total
    added = "".join((f" + {shown(pure)} gal x {shown(100 * one.strength)} %" if pure else "", f" + {shown(water)} gal of water" if water else ""))  # fmt: skip
    line = f"({shown(one.mix)} gal x {shown(100 * one.have)} %{added}) ÷ {shown(total)} gal = {shown(100 * made)} %"
    holds = t.total("capacity")
    verdict = _judged(t, made, one.target)
    if holds is not None and not verdict:
        verdict = f"{'Yes, it fits' if total <= holds else 'No, it does not fit'}: {shown(total)} against {shown(holds)} gallons."
    return _percent(t, made, line, verdict, _told(t, "altogether", total))


def _percent_of(t: Told) -> Estimate | None:
    """A percent of what is burned, such as the DEF that goes with the diesel, and whether there is enough of it."""
    share, whole, hours, stock = t.value("share"), t.total("whole"), t.value("needed"), t.total("stock")
    rate = t.one("rate")
    if rate is not None:
        if whole is not None:
            return None
        whole = None if hours is None else rate.value * hours
    elif hours is not None:
        return None
    if t.has("part"):
        part = t.value("part")
        if stock is None or part is None:
            return None
        stock *= part
    kept = t.one("reserve")
    if kept is not None:
        if stock is None:
            return None
        stock -= kept.value * (t.total("stock") or 0.0) if kept.kind == "share" else kept.value
        if stock <= 0:
            return None
    if share is None:
        if not whole or not stock:
            return None
        line = f"{shown(stock)} ÷ {shown(whole)} gal = {shown(100 * stock / whole)} %"
        return exact("of it", 100 * stock / whole, "percent", working=(line,), source="arithmetic")
    if not 0 < share <= 1:
        return None
    if whole is None:
        if stock is None:
            return None
        if rate is not None:  # how long there is enough
            lasts = stock / share / rate.value
            line = f"{shown(stock)} gal ÷ {shown(100 * share)} % ÷ {shown(rate.value)} gal an hour = {shown(lasts)} h"
            return exact("lasts", lasts, "h", working=(line,), source="arithmetic", also=(figure("days", lasts / 24, "days"),))  # fmt: skip
        line = f"{shown(stock)} gal ÷ {shown(100 * share)} % = {shown(stock / share)} gal"
        return _amount(t, "it goes with", stock / share, line)
    uses = whole * share
    line = f"{shown(whole)} gal x {shown(100 * share)} % = {shown(uses)} gal"
    if stock is None:
        return _amount(t, "takes", uses, line)
    left = stock - uses
    enough = left >= -1e-9
    yes = enough is not (_TOO_WEAK.search(_OR_SHORT.sub(" ", t.question.frame)) is not None)
    said = f"{'Yes' if yes else 'No'}: {shown(uses)} against {shown(stock)} gallons, {shown(abs(left))} {'to spare' if enough else 'short'}."  # fmt: skip
    spare = _told(t, "to spare" if enough else "short", abs(left))
    reach = _told(t, "there is enough for", stock / share)
    if _FIRST.search(t.question.frame):
        goes = "the diesel" if Lazy(r"\bdiesel\b").search(t.question.frame) else "the fuel"
        name = "the DEF" if Lazy(r"\b(?:def|ad ?blue|exhaust fluid|urea)\b").search(t.question.frame) else "what goes with it"  # fmt: skip
        first = f"{(goes if enough else name).capitalize().replace(' def', ' DEF')} first: {name} is enough for {shown(reach.value)}, and there are {shown(_told(t, '', whole).value)}."  # fmt: skip
        return _amount(t, reach.name, stock / share, f"{shown(stock)} gal ÷ {shown(100 * share)} % = {shown(stock / share)} gal", first, _told(t, "takes", uses), spare)  # fmt: skip
    if t.want.difference:
        return _amount(t, spare.name, abs(left), line, said, _told(t, "takes", uses), reach)
    return _amount(t, "takes", uses, line, said, spare, reach)


MIXING = Family("mixing", lambda _question: "unit-conversion", _applies, _ROLES, _mixed)
