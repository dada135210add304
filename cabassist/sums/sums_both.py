"""Whether the fresh water runs out first or the waste tank fills first, from what each holds and what flows."""

from __future__ import annotations

from cabassist.estimate.quantities import duration, exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term, per_hour
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role

_FRESH = r"(?:fresh|clean|drinking|potable)"
_WASTE = r"(?:waste|black|gr[ae]y|sewage|holding)"
_OUT = r"(?:use[sd]?|using|draws?|drawing|down|drink|out|burn|dropping|drops)"
_IN = r"(?:gains?|gaining|up|rising|rises|fills?|filling|in|into|coming|put|puts|adds?|adding|climbing|ends up)"
_ROLES = (
    role("fresh", "volume|share", 0.0,
        (2.5, rf"\b{_FRESH}\b(?: (?!{_WASTE})[^<#\s]+)* # |# (?:[a-z]+ ){{0,3}}?{_FRESH}\b"), (-1.0, rf"\b{_WASTE}\b(?: [^<#\s]+)* # "),
        bare=0.7, each=False),
    role("waste", "volume|share", 0.0,
        (2.5, rf"\b{_WASTE}\b(?: (?!{_FRESH})[^<#\s]+)* # |# (?:of |in )?(?:the )?{_WASTE}\b|<gal> tank (?:(?:is|at|now) )*# "), (-1.0, rf"\b{_FRESH}\b(?: [^<#\s]+)* # "),
        never=r"\b(?:out )?of # |# tank\b|# of room|# (?:of )?(?:room|space|free)\b", bare=0.7, each=False),
    role("waste_size", "volume", -1.0,
        (2.5, rf"\b{_WASTE}\b(?: [^#]{{0,30}})? (?:of|out of) # |\b{_WASTE} (?:tank )?# tank|\b{_WASTE} (?:tank )?# (?:at|is|,)?|# (?:gal )?{_WASTE} tank"),
        (2.0, rf"\b{_WASTE} (?:tank )?(?:that )?(?:is |' s )?an? # (?:,|and|at|is|with|gallon)"),
        (1.0, r"# tank\b|<(?:part|percent|gal|n)> (?:full )?(?:out )?of (?:a |an )?# "), never=rf"# (?:left|remaining)\b|# (?:[a-z]+ ){{0,3}}?{_FRESH}\b", bare=0.7, each=False),
    role("fresh_size", "volume", -1.2, (2.5, rf"\b{_FRESH}\b(?: (?!{_WASTE})[^#\s]+)* of # |# (?:gal )?{_FRESH} tank"), bare=0.7, each=False),
    role("fresh_rate", "volume/time|n/time|share/time", 0.3,
        (1.5, rf"\b{_FRESH}\b(?: (?!{_WASTE})[^<#\s]+)* # |# (?:of )?{_FRESH}\b"), (1.0, rf"\b{_OUT}(?: [^<#\s]+){{0,3}} # "), never=r"\b(?:rising|rises|filling|fills|gaining|gains|climbing|up) (?:by |about )?# ", each=False),
    role("waste_rate", "volume/time|n/time|share/time", 0.3,
        (1.5, rf"\b{_WASTE}\b(?: (?!{_FRESH})[^<#\s]+)* # |# (?:\w+ ){{0,3}}?{_WASTE}\b"), (1.0, rf"\b{_IN}(?: [^<#\s]+){{0,3}} # |# (?:\w+ ){{0,2}}?(?:in|into)\b"), never=r"\b(?:dropping|drops|falling|draining|drawing|down|using) (?:by |about )?# ", each=False),
    role("fresh_use", "volume/time|n/time", 0.0, (1.5, rf"# (?:of )?{_FRESH}|\b{_OUT}(?: [^<#\s]+){{0,2}} # |# used|# each\b|<people> (?:\w+ )?(?:, )?# ")),
    role("waste_use", "volume/time|n/time", 0.0, (2.0, rf"# (?:\w+ ){{0,4}}?(?:{_WASTE}|drains?)\b|\b(?:puts?|adds?|ends up)(?: [^<#\s]+){{0,2}} # "), bare=1.0),
    role("waste_use", "n", -1.5, (3.5, rf"# of (?:it|that) (?:\w+ ){{0,4}}?(?:{_WASTE}|in|into)\b")),
    role("waste_use", "n", -1.5, (3.5, rf"# (?:of (?:it|that|them|which) )?(?:\w+ ){{0,2}}?(?:to|into|in|down) the (?:drain|{_WASTE})\b")),
    role("waste_room", "volume|share", -1.5, (4.0, r"# (?:of )?(?:room|space|free)\b|\broom for # ")),
    role("people", "people", 1.0),
    role("limit", "share", -2.0, (4.0, r"\b(?:limit|full at|to|at most|until|till)(?: \w+)? # "), bare=1.0),
    role("beside", "clock", -1.0, many=True),
    role("beside", "n", -2.5, (3.5, r"# tanks\b"), many=True),
)  # fmt: skip
_EMPTY = Lazy(rf"\b{_WASTE}(?: tank)?(?: is)? (?:empty|dumped|just dumped)\b|\bempty (?:<gal> )?{_WASTE}\b")
_FIRST = Lazy(r"\b(?:first|sooner|soonest|before the|which one)\b")


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    frame = question.frame
    both = Lazy(rf"\b{_FRESH}\b").search(frame) and Lazy(rf"\b{_WASTE}\b").search(frame)
    return bool(both and _FIRST.search(frame)) and want.kind in ("", "time", "which")


def _gallons(term: Term, size: float, unit_of: set[str], factor: float) -> float | None:
    kind = term.kind if term.kind != "n" else next(iter(unit_of)) if len(unit_of) == 1 else ""
    if kind == "volume":
        return term.value * (factor if term.kind == "n" else 1.0)
    share = term.value / (100 if term.kind == "n" else 1)
    return share * size if kind == "share" and share <= 1 else None


def _flow(t: Told, tank: str, size: float, factor: float) -> tuple[float, str] | None:
    """Gallons an hour out of the fresh, or into the waste tank."""
    rate = t.one(f"{tank}_rate")
    if rate is not None and not t.has("people"):
        hourly = (
            rate.value * size
            if rate.kind == "share/time"
            else per_hour(rate) * (factor if rate.kind == "n/time" else 1.0)
        )
        return hourly, f"{tank}: {shown(hourly)} gal an hour"
    people = t.value("people")
    if people is not None and any(t.has(f"{name}_rate") for name in ("fresh", "waste")):
        return None  # so much a day for each, or for all of them?
    use = t.one(f"{tank}_use")
    other = t.one("fresh_use") if tank == "waste" else None
    if use is None and other is not None:
        t.assumed.append("all that is used ends up in the waste tank")
        use = other
    if use is None or people is None:
        return None
    value = per_hour(use) if "/" in use.kind else use.value * (1 / 24 if other is None or other.per == "day" else 1.0)
    value *= factor if use.kind in ("n", "n/time") else 1.0
    return people * value, f"{tank}: {shown(people)} x {shown(use.amount.value)} gal = {shown(24 * people * value)} gal a day"  # fmt: skip


def _which_first(t: Told) -> Estimate | None:
    fresh, waste = t.one("fresh"), t.one("waste")
    free = t.one("waste_room")
    if free is not None and (waste is not None or t.has("waste_size")):
        return None
    empty = waste is None and free is None and not t.has("waste") and _EMPTY.search(t.question.frame) is not None
    if waste is not None and _EMPTY.search(t.question.frame):
        return None
    if fresh is None or (waste is None and free is None and not empty) or (t.has("fresh_use") and t.has("fresh_rate")):
        return None
    sizes = {}
    for tank in ("fresh", "waste"):
        said = t.value(f"{tank}_size")
        sizes[tank] = said if said is not None else t.coach.tank(tank).capacity_gal
        if said is None:
            t.assumed.append(f"{tank} tank {shown(sizes[tank])} gal (profile)")
    kinds = {term.kind for term in (fresh, waste) if term is not None and term.kind != "n"} or {
        term.kind.partition("/")[0]
        for name in ("fresh_rate", "waste_rate", "fresh_use")
        for term in t.roles.get(name, [])
        if term.kind != "n/time"
    }
    told_in = [term.factor for terms in t.roles.values() for term in terms if term.kind == "volume"]
    factor = told_in[0] if told_in else 1.0
    have = _gallons(fresh, sizes["fresh"], kinds, factor)
    inside = 0.0 if waste is None else _gallons(waste, sizes["waste"], kinds, factor)
    down, up = _flow(t, "fresh", sizes["fresh"], factor), _flow(t, "waste", sizes["waste"], factor)
    if have is None or inside is None or down is None or up is None or not down[0] or not up[0]:
        return None
    limit = t.value("limit")
    room = sizes["waste"] * (limit if limit is not None else 1.0) - inside
    if free is not None:
        room = free.value if free.kind == "volume" else free.value * sizes["waste"]
    dry, full = have / down[0], room / up[0]
    if room < 0 or have > sizes["fresh"] * 1.02:
        return None
    first = min(dry, full)
    if first <= 0:
        return None
    if abs(dry - full) <= 0.02 * first:
        verdict = f"Both at about the same time, in about {duration(first)}."
    else:
        verdict = f"{'Waste full' if full < dry else 'Fresh empty'} first, in about {duration(first)}."
    work = (
        down[1],
        up[1],
        f"{shown(have)} gal ÷ {shown(down[0])} = {shown(dry)} h until the fresh is empty",
        f"{shown(room)} gal ÷ {shown(up[0])} = {shown(full)} h until the waste is full",
    )
    also = (figure("fresh empty", dry, "h"), figure("waste full", full, "h"))
    return exact("which comes first", first, "h", working=work, assumptions=tuple(t.assumed), source="arithmetic", verdict=verdict, also=also)  # fmt: skip


BOTH = Family(lambda _question: "which-first", _applies, _ROLES, _which_first)
