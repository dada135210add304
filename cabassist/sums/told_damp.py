"""Sums over damp air: its dew point, whether a surface sweats in it, which humidity or which air a surface just bears."""

from __future__ import annotations

import re

from cabassist.estimate.damp import CLOSE_F, SOURCE, dew_point, driest_allowed, warmed, warmest_allowed
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import ASIDE, MARKED, degrees_f

_ROLES = (
    role("air", "temperature|n", MARKED),
    role("surface", "temperature|n", MARKED),  # the glass, the wall, the hatch
    role("humidity", "share|n", MARKED),
    role("later", "temperature|n", MARKED),  # how warm the same air is made, or grows cold
    ASIDE,
)


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return False  # its amounts have no cues: only the network hands them out


def _solve(t: Told) -> Estimate | None:
    """What follows of two of the air, its humidity and a surface, or whether the three go together."""
    air, surface, later, term = degrees_f(t, "air"), degrees_f(t, "surface"), degrees_f(t, "later"), t.one("humidity")
    humidity = None if term is None else term.value / (100 if term.kind == "n" else 1)
    if humidity is not None and not 0 < humidity <= 1:
        return None
    if later is not None:
        if air is None or humidity is None or surface is not None:
            return None
        return warmed(air, humidity, later)
    if humidity is None:
        return None if air is None or surface is None or surface > air else driest_allowed(surface, air)
    if air is None:
        return None if surface is None else _in_scale(t, warmest_allowed(surface, humidity))
    if surface is None:
        return _in_scale(t, dew_point(air, humidity))
    return _sweats(t, surface, air, humidity)


def _sweats(t: Told, surface: float, air: float, humidity: float) -> Estimate:
    """Whether a surface sweats; yes says that it does, or that it stays dry where that is asked."""
    dew, allowed = dew_point(air, humidity), driest_allowed(surface, air)
    if dew.value is None or allowed.value is None:
        return dew
    wet, dry = surface < dew.value, _asks_if_dry(t.question.frame)
    beside = f"{_said(t, surface)} is {'below' if wet else 'above'} the dew point of {_said(t, dew.value)}."
    if abs(surface - dew.value) < CLOSE_F:
        verdict = f"Close: the surface at {_said(t, surface)}, the dew point at {_said(t, dew.value)}."
    elif wet:
        verdict = f"{'No' if dry else 'Yes'}, it {'frosts over' if surface < 32 else 'sweats'}: {beside}"
    else:
        verdict = f"{'Yes' if dry else 'No'}, it stays dry: {beside}"
    also = (figure("highest humidity without it", allowed.value, "percent"),)
    return _in_scale(t, exact("dew point", dew.value, "F", working=dew.working, source=SOURCE, verdict=verdict, also=also))  # fmt: skip


def _said(t: Told, degrees: float) -> str:
    return f"{shown((degrees - 32) / 1.8, 3)} °C" if t.question.scale == "C" else f"{shown(degrees, 3)} °F"


def _in_scale(t: Told, found: Estimate) -> Estimate:
    """The answer in °C for a question in it."""
    if found.value is None or t.question.scale != "C":
        return found
    return exact(found.name, (found.value - 32) / 1.8, "C", working=found.working, source=found.source, verdict=found.verdict, also=found.also)  # fmt: skip


_WET = Lazy(
    r"\b(?:fogs?|fogg\w*|sweat\w*|condens\w*|drip\w*|wet\w*|stream\w*|mist\w*|frost\w*|weep\w*|steam\w*|bead\w*|drops?|droplets?|soak\w*|soggy|damp|mou?ld\w*|run(?:s|ning)? with|water|moisture|rain\w*)\b"
)
_DRY = Lazy(
    r"\b(?:dry|ok|okay|fine|safe|clear|good|all ?right|enough|allowed|get away|without|not|never|nothing|no (?:drip\w*|sweat\w*|fog\w*|condens\w*|water|drops))\b"
)
_ASKING = Lazy(r"\b(?:will|would|is|are|does|do|can|could|am|has|have|gonna|going|should|shall)\b")


def _asks_if_dry(frame: str) -> bool:
    """Whether it is asked if a surface stays dry, and not if it gets wet: what the asking clause says first of the two."""
    clauses = [one for one in re.split(r"[,.;?]", frame) if _WET.search(one) or _DRY.search(one)]
    asking = [one for one in clauses if _ASKING.search(one)]
    asked = (asking or clauses or [""])[-1]
    asked = asked[found.start() :] if asking and (found := _ASKING.search(asked)) else asked
    wet, dry = _WET.search(asked), _DRY.search(asked)
    return dry is not None and (wet is None or dry.start() < wet.start())


DAMP = Family("damp", lambda _q: "cabin-cool-down", _applies, _ROLES, _solve)
