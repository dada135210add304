"""A tank that fills while somebody draws water, or from two hoses at once."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed
from cabassist.language.wanted import implied, wanted

_FLOWS = frozenset({"gal/min", "gpm", "n/min"})
_FILLS = Lazy(r"\b(?:fill\w*|hoses?|full|spigot|bib)\b")
_OTHER = Lazy(r"\b(?:propane|diesel|fuel|dump\w*|waste|black|pump(?:ed)? out)\b")
_OUT_WORDS = r"(?:shower\w*|tap|taps|faucet|galley|sink|drain\w*|leak\w*|los(?:es|ing)|washing|washer|draw\w*|taking|takes|take|uses|using|use|used|out|pulling|pulls|open|going|dish\w*|toilet|somebody|someone|people|crew|kid|meanwhile)"
_OUT = Lazy(rf"\b{_OUT_WORDS}\b")
_OUT_AFTER = Lazy(
    r"^(?:\w+ ){0,3}?(?:out|away|leaves|leaving|leaks?|drains?|by the (?:shower|galley)|to the (?:shower|galley)|for the (?:shower|galley)|used|is used)\b"
)
_IN = Lazy(r"\b(?:hoses?|fill\w*|in|puts?|gives?|giving|spigot|bib|comes in|coming in|run in|runs in|deliver\w*)\b")
_TO_GO = Lazy(
    r"^(?:gallons )?(?:still )?(?:to go|needed|more|to put in|to fill|short|left to|of room|to add|of space)\b"
)
_WHOLE = Lazy(r"^(?:tank|gallon tank|capacity)\b")
_BOTH = Lazy(r"\b(?:both|two hoses|together|at once|second hose|other hose)\b|<n> hoses\b")
_BARE_FLOW = Lazy(r"\b(?:open|taking|using|leaking|out|running|going|shower|tap|galley)(?: (?:at|about|is|on))* $")
_TO_PUT = Lazy(r"\b(?:needs?|want|wants|put|puts|add|adding|get)(?: (?:in|another|about|to|it|have))* $")
_COUNTS = Lazy(r"^(?:\w+ )?(?:hoses|taps|spigots|of them|showers)\b")
_HOSES = compiled(
    r"(?:({n}) |both |two )(?:of the |the )?(?:\w+ )?hoses\b(?=.*<(?:(?:gal/min|gpm|n/min)/each>|(?:gal/min|gpm|n/min)> (?:each|apiece|a piece)))"
)
_SECOND = Lazy(r"\b(?:second|another|other|both|two|extra) (?:\w+ )?hoses?\b|<n> hoses\b")
_PLUS = Lazy(r"^(?:, )?(?:plus|and another|and|on top of that|and then|with another) (?:about |the second |another )?$")
_MOST_OF_A_HOSE = 12.0
"""Gallons a minute that one hose gives at most, common practice, no source; more is what is to go in."""
_OUT_ALONE = Lazy(r"\b(?:shower\w*|leak\w*|open|taking|drain\w*)\b")
_EMPTY = Lazy(r"\b(?:empty|dry|bone dry|from nothing|from zero|to fill)\b")


_THE_OTHER = Lazy(
    r"^(?:, )?(?:and |but )?the (?:other|second)(?: one)?(?: (?:gives|does|puts|makes|is|only|about|out|in))* $"
)


def drawn(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Minutes until a tank is full with water running out meanwhile, or with two hoses."""
    if not _FILLS.search(q.frame) or _OTHER.search(q.frame):
        return None
    want = wanted(q) or implied(q)
    if want is None or want.kind != "time" or want.clock:
        return None
    found = placed(q)
    if found is None:
        return None
    flows = [one for one in found if one.amount.tag.removesuffix("/each") in _FLOWS]
    rest = [one for one in found if one not in flows]
    if len(flows) == 1 and _SECOND.search(q.frame):  # "three and a half gallons a minute plus a gallon and a half"
        more = [one for one in rest if one.amount.tag in ("gal", "n") and 0 < one.value < _MOST_OF_A_HOSE and one.before == flows[0].amount.tag and _PLUS.search(one.left)]  # fmt: skip
        flows = [*flows, *(more if len(more) == 1 else [])]
        rest = [one for one in rest if one not in flows]
    if len(flows) == 1:  # "with a tap left open at one and a half"
        bare = [one for one in rest if one.amount.tag == "n" and one.value % 1 and _BARE_FLOW.search(one.left)]
        flows = sorted([*flows, *bare[:1]], key=lambda one: one.amount.start)
        rest = [one for one in rest if one not in bare[:1]]
    if len(flows) == 1:  # "one gives three, the other two and a half gallons a minute"
        bare = [
            one for one in rest if one.amount.tag == "n" and 0 < one.value < 30 and _THE_OTHER.search(f"{one.right} ")
        ]
        flows = sorted([*flows, *(bare if len(bare) == 1 else [])], key=lambda one: one.amount.start)
        rest = [one for one in rest if one not in flows]
    counts = [one for one in rest if one.unit == "people" or (one.amount.tag == "n" and _COUNTS.search(one.right))]
    spoken = [
        one for one in rest if q.words[one.amount.start : one.amount.end] == ("one",)
    ]  # "one gives three a minute"
    rest = [one for one in rest if one not in counts and one not in spoken]
    hoses = _HOSES.search(q.frame)
    if len(flows) == 1 and hoses is not None and _OUT_ALONE.search(q.frame) is None:
        many = q.amount_at(hoses.start(1)).value if hoses.group(1) else 2.0
        flows = flows * round(many) if many in (2.0, 3.0) else flows
    if len(flows) < 2 or (len(flows) > 2 and hoses is None):
        return None
    room = _room(rest, q)
    rates = _rates(flows, q)
    if room is None or rates is None or room[0] <= 0:
        return None
    into, out = rates
    gallons, line = room
    if out is None:
        total = sum(one.value for one in into)
        told = f"{' + '.join(shown(one.value) for one in into)} = {shown(total)} gal/min"
    else:
        each = out.amount.each or out.right.startswith(("each", "apiece"))
        if each != (len(counts) == 1) or into[0].amount.each:
            return None  # of how many
        taken = out.value * (counts[0].value if each else 1.0)
        total = into[0].value - taken
        told = f"{shown(into[0].value)} − {shown(taken)} = {shown(total)} gal/min"
    if total <= 0:
        return exact("time", 0.0, "min", working=(told,), source="arithmetic", verdict="It never fills: as much runs out as comes in.")  # fmt: skip
    minutes = gallons / total
    work = (*line, told, f"{shown(gallons)} ÷ {shown(total)} = {shown(minutes)} min")
    return exact("until full", minutes, "min", working=work, source="arithmetic", verdict=f"{shown(minutes, 3)} minutes.", also=(figure("to fill", gallons, "gal"),))  # fmt: skip


def _rates(flows: list[Said], q: Question) -> tuple[list[Said], Said | None] | None:
    """What runs in, and what runs out meanwhile; None when the words do not tell."""
    outward = [_OUT_AFTER.search(one.right) is not None or (_OUT.search(one.left) is not None and (k > 0 or not _IN.search(one.left))) for k, one in enumerate(flows)]  # fmt: skip
    if outward == [True, True]:
        inward = [_IN.search(one.left) is not None for one in flows]
        outward = [not one for one in inward]
    if outward.count(True) == 1:
        k = outward.index(True)
        return [flows[1 - k]], flows[k]
    if len(flows) > 2 or flows[0] is flows[1]:
        return flows, None
    if outward == [False, False] and _BOTH.search(q.frame):
        return flows, None
    return None


def _room(rest: list[Said], q: Question) -> tuple[float, tuple[str, ...]] | None:
    """Gallons still to be filled, with the line; None when that is not told."""
    if len(rest) == 1 and rest[0].amount.tag in ("gal", "n"):
        one = rest[0]
        if _TO_GO.search(one.right) or _EMPTY.search(q.frame) or _TO_PUT.search(one.left):
            return one.value, ()
        return None
    if len(rest) != 2 or any(one.amount.per or one.amount.each for one in rest):
        return None
    shares = [one for one in rest if one.unit in ("part", "percent")]
    gallons = [one for one in rest if one.amount.tag in ("gal", "n")]
    if len(shares) == 1 and len(gallons) == 1:
        share = shares[0].value / (100 if shares[0].unit == "percent" else 1)
        if not 0 <= share < 1 or Lazy(r"^(?:empty|to go)\b").search(shares[0].right):
            return None
        left = gallons[0].value * (1 - share)
        return left, (f"{shown(gallons[0].value)} × (1 − {shown(share, 3)}) = {shown(left)} gal to fill",)
    if len(gallons) != 2 or any(_TO_GO.search(one.right) for one in gallons):
        return None
    low, size = sorted(one.value for one in gallons)
    return size - low, (f"{shown(size)} − {shown(low)} = {shown(size - low)} gal to fill",)
