"""Sums over wind chill: wind against wind, what one wind makes of the air, the wind or the air by what it feels like."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import shown
from cabassist.estimate.types import Estimate
from cabassist.estimate.wind_chill import wind_chill_f
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role
from cabassist.sums.told_parts import ASIDE, FREEZING_F, MARKED, degrees_f, result

_ROLES = (
    role("air", "temperature", 0.5, many=True),
    role("wind", "speed", 0.5, many=True),
    role("wind", "n", -1.6, (3.0, r"\b(?:from|blow\w*|wind\w*|gust\w*|to)(?: at| of| goes from| from| is)* # |# (?:to|mile|mph)"), many=True),
    role("beside", "people|time|clock", -0.5, many=True),
    role("air", "n", MARKED, many=True),
    role("felt", "temperature|n", MARKED),
    role("limit", "temperature|n", MARKED),
    ASIDE,
)  # fmt: skip


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    if want.kind == "temperature" and _CHILL.search(question.frame) and _FREEZES_UP.search(question.frame):
        return True
    return (
        want.difference
        and question.has(r"\b(?:wind\w*|blow\w*|gust\w*|feels?)\b")
        and question.has(r"\b(?:colder|difference|warmer|more|worse)\b")
    )


def _solve(t: Told) -> Estimate | None:
    """Degrees by which one wind feels colder than another."""
    frame = t.question.frame
    things = _THINGS.search(frame) and (not _FELT.search(frame) or _FREEZES_UP.search(frame))
    beside = things or _NO_SKIN.search(frame)
    if beside and not (_CHILL.search(frame) and _FREEZES_UP.search(frame)):
        return None
    metric = t.question.scale == "C"
    airs = [converted(one.value, "C", "F") if metric and one.kind == "n" else one.value for one in t.all("air")]
    winds = [_mph(t, one) for one in t.all("wind")]
    airs = airs[:1] if len(set(airs)) == 1 == len(winds) else airs  # "it is 35 and stays at 35"
    if beside:
        return _things_too(t, airs, winds)
    if t.want.kind not in (("temperature", "speed", "") if t.has("felt") else ("temperature", "")):
        return None
    if t.has("felt"):
        return None if not airs and _ASKS_FELT.search(frame) else _from_felt(t, airs, winds)
    if len(winds) == 1 == len(airs):
        return _one_chill(t, airs[0], winds[0])
    if not 1 <= len(winds) <= 2 or not 1 <= len(airs) <= 2 or "limit" in t.roles:
        return None
    airs, winds = (one * (2 if len(one) == 1 else 1) for one in (airs, winds))
    first, second = (wind_chill_f(air, wind) for air, wind in zip(airs, winds, strict=True))
    if first is None or second is None:
        return None
    celsius = t.question.scale == "C"
    gap = abs(first - second) / (1.8 if celsius else 1.0)
    unit = "C" if celsius else "F"
    each = [(one - 32) / 1.8 if celsius else one for one in (first, second)]
    line = f"{shown(each[0])} °{unit} against {shown(each[1])} °{unit}"
    return result(t, "difference", gap, unit, (line,), f"{shown(gap, 3)} degrees {'colder' if second < first else 'warmer'}.", source=_NWS)  # fmt: skip


def _things_too(t: Told, airs: list[float], winds: list[float]) -> Estimate | None:
    """How the wind feels, and whether a hose or a tank freezes: by the air alone, which no wind makes colder."""
    if len(airs) != 1 or len(winds) != 1 or {*t.roles} - {"air", "wind", "beside"}:
        return None
    found, air = _one_chill(t, airs[0], winds[0]), airs[0]
    if found is None or t.want.difference:
        return None
    unit, told = ("C", (air - 32) / 1.8) if t.question.scale == "C" else ("F", air)
    freezes = air <= FREEZING_F
    why = f"the air is {shown(told)} °{unit}, and wind takes no thing below the air"
    verdict = f"Yes, it can freeze: {why}; it only gets there sooner." if freezes else f"No, it does not freeze: {why}."
    return replace(found, verdict=verdict)


_NO_SKIN = Lazy(
    r"\b(?:can|will|does|do|would|could|is|are|get|gets|make|makes|freezes?) (?:the |our |my |a |that |those |these |your )?(?:\w+ )?(?:water|tanks?|pipes?|hoses?|lines?|fuel|diesel|engine|valves?|plumbing|radiator|coolant|batter\w*|drains?|pump)\b"
)
"""Wind cools no thing below the air."""
_FREEZES_UP = Lazy(r"\b(?:freez\w*|frozen|fro[sz]e|burst\w*|gel\w*|crack\w*|ic(?:e|ed) up)\b")
_ASKS_FELT = Lazy(
    r"\b(?:what|how)\b[^,.<]*\b(?:feels?|felt|feel like|wind ?chill|chill)\b(?! (?:\w+ ){0,3}<)|\b(?:feels? like|wind ?chill|felt(?: temp\w*)?) $"
)
"""Asks how it feels: then that is not told."""
_CHILL = Lazy(r"\b(?:wind ?chill|chill|feels? like)\b")
_THINGS = Lazy(r"\b(?:pipes?|plumbing|hoses?|valves?|water lines?|lines?|radiator|batter\w*)\b")
_FELT = Lazy(r"\b(?:feels?|wind ?chill|chill|skin|face|fingers|hands|ears|frostbit\w*|us|we|i|me|guys|people|kids)\b")
_TAKEN_OFF = Lazy(
    r"\bhow (?:many degrees|much) (?:\S+ ){0,6}?(?:takes?|knocks?|shaves?|strips?) (?:\S+ ){0,3}?(?:off|away)\b"
)
_ABOVE_OR_BELOW = Lazy(
    r"\b(above|over|warmer|stay\w*(?! in\b)|better than|colder|below|under|worse than|past|beyond)\b"
)
"""Of these the last one tells which way a limit is asked about; "stay in" asks neither."""
_NWS = "National Weather Service, 1 November 2001"


def _mph(t: Told, wind: Term) -> float:
    """A wind in mph; one without a unit is in that of the other, or of the scale."""
    if wind.kind != "n":
        return wind.value
    spoken = next((one.unit for one in t.question.amounts if one.unit in ("mph", "km/h", "kn", "m/s")), "")
    return converted(wind.value, spoken or ("km/h" if t.question.scale == "C" else "mph"), "mph")


def _one_chill(t: Told, air: float, wind: float) -> Estimate | None:
    """What one wind makes of the air, and whether that is past a limit, or how far under the air it feels."""
    felt, limit = wind_chill_f(air, wind), degrees_f(t, "limit")
    if felt is None:
        return None
    line, verdict = f"air {shown(air)} °F, wind {shown(wind)} mph: {shown(felt)} °F", ""
    if limit is not None:
        colder = felt < limit
        asked = _ABOVE_OR_BELOW.findall(t.question.frame)
        asks_above = bool(asked) and asked[-1] in ("above", "over", "warmer", "better than") or bool(asked) and asked[-1].startswith("stay")  # fmt: skip
        verdict = (
            f"{'No' if colder == asks_above else 'Yes'}, it feels {'colder' if colder else 'no colder'} than that."
        )
    elif t.want.difference or _TAKEN_OFF.search(t.question.frame):
        gap = (air - felt) / (1.8 if t.question.scale == "C" else 1.0)
        return result(t, "difference", gap, t.question.scale, (line,), f"{shown(gap, 3)} degrees colder.", source=_NWS)
    celsius = t.question.scale == "C"
    return result(t, "wind chill", (felt - 32) / 1.8 if celsius else felt, "C" if celsius else "F", (line,), verdict, source=_NWS)  # fmt: skip


def _from_felt(t: Told, airs: list[float], winds: list[float]) -> Estimate | None:
    """The wind, or the air, by what it feels like."""
    felt = degrees_f(t, "felt")
    if felt is None or len(airs) + len(winds) != 1:
        return None
    if winds:
        pull = winds[0] ** 0.16
        air = (felt - 35.74 + 35.75 * pull) / (0.6215 + 0.4275 * pull)
        celsius = t.question.scale == "C"
        return result(t, "air temperature", (air - 32) / 1.8 if celsius else air, "C" if celsius else "F", (f"wind {shown(winds[0])} mph, felt {shown(felt)} °F: {shown(air)} °F",), source=_NWS) if wind_chill_f(air, winds[0]) is not None else None  # fmt: skip
    pull = (35.74 + 0.6215 * airs[0] - felt) / (35.75 - 0.4275 * airs[0])
    if pull <= 0 or airs[0] > 50 or pull ** (1 / 0.16) < 3:
        return None
    wind = float(pull ** (1 / 0.16))
    metric = t.question.scale == "C"
    return result(t, "wind", converted(wind, "mph", "km/h") if metric else wind, "km/h" if metric else "mph", (f"air {shown(airs[0])} °F, felt {shown(felt)} °F: {shown(wind)} mph",), source=_NWS)  # fmt: skip


CHILL = Family("chill", lambda _q: "wind-chill", _applies, _ROLES, _solve)
