"""Sums over the weight of water that is taken on, dumped, or in the tanks."""

from __future__ import annotations

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.sums_depth import OF_OTHERS, OF_PROPANE, OF_WASTE
from cabassist.sums.told_axle import legal_limit, on_axle
from cabassist.sums.told_units import as_beside, as_spoken
from cabassist.sums.working_sheet import quantity, with_also, with_verdict

_ANY = "mass|volume|share|length|time|people|clock|temperature|n|volume/time|count shower"
"""Kinds of which an amount may be told in passing."""
_ROLES = (
    role("on", "volume|share", 0.6, (1.5, r"\b(?:add\w*|took on|take on|taking on|filled|fill|put in|putting|load\w*|plus|on) (?:\w+ )?# |\b(?:fresh|waste|clean|black) (?:is |at |has )?# "), bare=2.0, many=True),
    role("off", "volume|share", -1.0, (3.5, r"\b(?:dump\w*|drain\w*|emptied|minus|less|lost|used|got rid of|let out|off) (?:\w+ )?# "), bare=1.0, many=True),
    role("capacity", "volume", -0.5, (2.5, r"<(?:part|percent)> (?:full )?of (?:a |the |our )?# |# (?:(?:fresh|waste|black|water|clean) )*tank\b")),
    role("beside", "n", -2.5, (3.5, r"# tanks\b"), many=True),
    role("before", "share|volume", -9.0, bare=0.1),
    role("now", "share|volume", -9.0, bare=0.1),
    role("fresh", "share", -9.0, bare=0.1),
    role("waste", "share", -9.0, bare=0.1),
    role("weighs", "mass|n", -9.0, many=True),
    role("share", "share", -9.0),  # how much of what comes aboard rests on that axle
    role("count", "people|n", -9.0, many=True),
    role("each", "mass|n", -9.0, many=True),
    role("moved", "mass|n", -9.0, many=True),
    role("count off", "people|n", -9.0, many=True),
    role("moved off", "mass|n", -9.0, many=True),
    role("on", "n", -9.0, many=True),
    role("off", "n", -9.0, many=True),
    role("beside", _ANY, -9.0, many=True),
    role("capacity", "n", -9.0),
    role("limit", "n", -9.0),
    role("limit", "mass", -0.5, (2.0, r"\b(?:over|under|more than|less than|below|above|limit(?: is| of)?|have|only|than) # ")),
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    frame = question.frame
    if want.kind == "volume" and [term.kind for term in terms] == ["mass"]:
        return Lazy(r"\bwater\b").search(frame) is not None and not Lazy(r"\b(?:capacity|wc|propane|ice)\b").search(
            frame
        )
    if want.kind != "mass" or OF_PROPANE.search(frame) or OF_OTHERS.search(frame) or "cylinder" in frame:
        return False
    if Lazy(r"\b(?:people|bags?|luggage|gear|guys|filler|pumped|bleach|scale|gas)\b").search(frame):
        return False
    # "8 gallons in, how many pounds" without a word of water may be propane
    return Lazy(r"\b(?:water|fresh|waste|tanks?|black|gr[ae]y|sewage|dump\w*)\b").search(frame) is not None


def _gallons_of(t: Told) -> Estimate | None:
    """How much water has a weight."""
    from cabassist.estimate import water

    pounds, weighs, one = t.value("limit"), t.value("weighs"), water.weight(quantity(1.0, "gal"))
    if pounds is None or not one.value:
        return None
    pounds = pounds if weighs is None else abs(pounds - weighs)
    gallons = pounds / one.value
    line = f"{shown(pounds)} lb ÷ {shown(one.value)} lb/gal = {shown(gallons)} gal"
    return exact("water", gallons, "gal", working=(line,), assumptions=one.assumptions, source=one.source)


_NO_WATER = Lazy(
    r"\b(?:diesel|fuel|propane|lp|lpg|gasoline|petrol|kerosene|oil|def|ad ?blue|urea|coolant|antifreeze)\b"
)
_OF_WATER = Lazy(r"\b(?:water|fresh|waste|black|gr[ae]y|sewage|potable|holding|clean)\b")
_OF_FUEL = Lazy(
    r"# (?:(?:of|our|the|more|extra|winter|number) ){0,3}(?:diesel|fuel|propane|lp|lpg|gasoline|petrol|kerosene|oil|def|ad ?blue|urea|coolant|antifreeze)\b"
)
"""What weighs otherwise than water."""
_LEVELS = frozenset({"before", "now", "fresh", "waste"})


def _is_fuel(t: Told) -> bool:
    """Whether it is fuel or the like that is weighed, and not water."""
    moved = [one for name in ("on", "off", "capacity") for one in t.roles.get(name, [])]
    named = _NO_WATER.search(t.question.frame) and not _OF_WATER.search(t.question.frame)
    return bool(named) or any(_OF_FUEL.search(one.around) for one in moved)


_EMPTIED = Lazy(
    r"\b(?:if|once|after|when|suppose|by|say|until) (?:i |we |they |you |it )?(?:\w+ )?(?:empty|emptying|emptied|dump|dumping|dumped|drain|draining|drained|pump(?:ing|ed)? (?:it |that |this |them )?out|let (?:it|that|them|this) (?:all )?(?:out|go)|get rid of|got rid of)\b"
)
"""What is told is in the tank, and is to be let out."""
_FILLED = Lazy(r"\b(?:fill\w*|add\w*|take on|took on|top(?:ped)? (?:it|off|up)|put (?:in|on))\b")
_TOPPED = Lazy(
    r"<(?:gal|L|n)> (?:gallons )?(?:down|short|shy|off|less|missing|low|under|below|from|away)(?: (?:from|of|on|a|being|the|fresh|tank))* (?:full|topped|the top|brim)\b.*\b(?:fill\w*|top\w*|brim\w*|full)\b"
    r"|\b(?:had|if|when|once|suppose) (?:i |we )?(?:would |had )?(?:topped|filled|brimmed)\b.*<(?:gal|L|n)> (?:gallons )?(?:down|short|shy|missing|less|low)\b"
)
"""So much is missing in the tank, and is to be put on: "80 gallons down from full, if I topped it off"."""
_ON_AXLE = frozenset({"share", "count", "each", "moved", "count off", "moved off"})
"""Roles that are of an axle's load, beside the water."""


def _by_law(t: Told) -> bool:
    """Whether the weight on a scale is held against the limit of the law, several axles together, or fuel is among it."""
    several = len(t.roles.get("weighs", [])) > 1
    fuel = any(_OF_FUEL.search(one.around) for name in ("on", "off") for one in t.roles.get(name, []))
    against = t.has("limit") and (t.want.kind != "volume" or t.has("on") or t.has("off"))
    return several or fuel or against or (not t.has("limit") and legal_limit(t.question.frame) is not None)


def _solve(t: Told) -> Estimate | None:
    """The weight of water; of an axle where more than water goes on it, or where the law limits it."""
    as_spoken(t, "mass", "weighs", "limit", "each", "moved", "moved off")
    as_spoken(t, "volume", "on", "off", "capacity")
    if t.has("weighs") and t.has("off") and not t.has("on") and _TOPPED.search(t.question.frame):
        t.roles = {("on" if name == "off" else name): found for name, found in t.roles.items()}
    if (
        t.has("weighs")
        and not t.has("off")
        and _EMPTIED.search(t.question.frame)
        and not _FILLED.search(t.question.frame)
    ):
        return None
    if _ON_AXLE & t.roles.keys() or (t.has("weighs") and _by_law(t)):
        return on_axle(t)
    return _of_water(t)


def _of_water(t: Told) -> Estimate | None:
    from cabassist.estimate import water

    if t.want.kind not in ("mass", "volume", "") or _is_fuel(t):
        return None
    if t.want.kind == "volume":
        return _gallons_of(t)
    levels = [term for name in ("before", "now", "fresh", "waste") for term in t.roles.get(name, [])]
    if any(term.kind == "n" for term in levels):
        told = [term for term in levels if term.kind != "n"]
        if len(told) != 1 or (told[0].kind == "share" and any(term.value > 100 for term in levels)):
            return None  # in what it is told nobody knows
        t.roles = {name: [as_beside(x, told[0]) for x in found] if name in _LEVELS else found for name, found in t.roles.items()}  # fmt: skip
    on, off = t.all("on"), t.all("off")
    if t.has("before", "now"):
        before, now = t.all("before"), t.all("now")
        on, off = (on or now), (off or before)
        if len(on) + len(off) > 2:
            return None
    capacity = t.value("capacity")
    own = t.coach.tank("waste" if OF_WASTE.search(t.question.frame) else "fresh").capacity_gal
    both = [(name, term) for name in ("fresh", "waste") for term in t.all(name)]

    def gallons(term: Term) -> float:
        for name, one in both:
            if one is term:
                full = t.coach.tank(name).capacity_gal
                t.assumed.append(f"{name} tank {shown(full)} gal (profile)")
                return term.value * full
        if term.kind == "share":
            if capacity is None:
                t.assumed.append(f"tank {shown(own)} gal (profile)")
            return term.value * (capacity if capacity is not None else own)
        return term.value

    on = [*on, *(term for _, term in both)]
    shares = any(term.kind == "share" for term in (*on, *off))
    if not on and not off and capacity is not None and not shares:
        net, on_only = capacity, True
    elif capacity is not None and not shares:
        return None
    else:
        net, on_only = sum(map(gallons, on)) - sum(map(gallons, off)), not off
    if not net or (shares and len((*on, *off)) > 1 and not both and not t.has("before", "now")):
        return None
    found = water.weight(quantity(abs(net), "gal"))
    if found.value is None:
        return None
    weighed = found.value
    if len((*on, *off)) > 1:
        parts = " ".join([*(f"+ {shown(gallons(one))}" for one in on), *(f"- {shown(gallons(one))}" for one in off)])
        found = exact(found.name, weighed, "lb", working=(f"{parts.removeprefix('+ ')} = {shown(net)} gal", *found.working), assumptions=found.assumptions, source=found.source)  # fmt: skip
    pounds, limit, weighs = weighed, t.value("limit"), t.value("weighs")
    if weighs is not None:
        pounds = weighs + (weighed if net > 0 else -weighed)
        line = f"{shown(weighs)} {'+' if net > 0 else '-'} {shown(weighed)} lb = {shown(pounds)} lb"
        found = exact("weight then", pounds, "lb", working=(*found.working, line), source=found.source, also=(figure("the water", weighed, "lb"),))  # fmt: skip
    if limit is not None:
        over = pounds > limit
        found = with_verdict(found, f"{'Over' if over else 'Under'} {shown(limit)} pounds, by {shown(abs(pounds - limit))}.")  # fmt: skip
        found = with_also(found, figure("over" if over else "under", abs(pounds - limit), "lb"))
    if weighs is not None or limit is not None:
        return found
    if on_only and not t.want.difference:
        return found
    return with_verdict(found, f"{shown(pounds)} pounds {'heavier' if net > 0 else 'lighter'}.")


WEIGHT = Family("weight", lambda _question: "water-weight", _applies, _ROLES, _solve)
