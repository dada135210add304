"""Questions about freezing when a bay is named, a hose is described, or nobody has read the level of a tank."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from cabassist.coach import Coach
from cabassist.estimate.quantities import BTU_PER_H_F_IN_W_PER_K, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.sums.working_freezing import HELD_F, freeze_time, freeze_time_said, frozen_by, loss_of, until_solid
from cabassist.sums.working_roles import by_words
from cabassist.sums.working_sheet import Missing, Sheet, quantity
from cabassist.sums.working_unplaced import WORDED

_BAY = Lazy(r"\bbays?\b")
_TANK = Lazy(r"\b(?:tanks?|fresh|waste|black|sewage|holding|gr[ae]y|hoses?|pipes?|lines?|cabin|battery)\b")
_FREEZES = Lazy(r"\b(?:freez\w*|fr[oe]ze\w*|ice|ices|iced|icing|solid)\b")
_ASKS = Lazy(
    r"\b(?:how (?:long|soon|quick\w*|fast|many (?:\w+ )?(?:hours|minutes|days))|when|time (?:until|till|before|to)|(?:hours?|minutes) (?:until|till|before|to)|what time)\b"
)
_THING = Lazy(r"\b(?:tanks?|water|fresh|waste|hoses?|bays?)\b")
_NO_HEAT = Lazy(
    r"\b(?:heat(?:er|ers|ing|s)?|furnaces?|power|shore|shore power|pads?|plug|electric\w*)\b(?: \w+){0,3} (?:off|out|fails?|failed|dead|died|dies|quits?|lost|gone|down)\b|\b(?:no|without|lose|loses|lost|kill(?:ed)?) (?:any |the |shore )?(?:heat\w*|power|shore|pad)\b|\bunplugged\b|\bunheated\b"
)
_NOT_THIS = Lazy(
    r"\b(?:diesel|gel\w*|batter\w*|propane|skin|frostbite|wind ?chil\w*|antifreeze|thaw\w*|cabin|how do|pad hold|does the pad|door)\b|<(?:W|A|V|Ah|psi|mi|lb)(?:/\w+)?>"
)
_HOLDS = r"\b(?:holds?|stores?|capacity|keeps?) (?:of )?(?:about )?({BTU/deg|BTU/degF})"
_BORES_IN = (0.25, 0.375, 0.5, 0.625, 0.75, 1.0)
_EMPTIEST = 0.25
"""The careful end when nobody has read a tank; below a quarter it is drained, or freezes within the hours given anyway less its share."""


def freezing_asked(q: Question, coach: Coach) -> bool:
    """Whether it asks how long water, a tank, a hose or a bay takes to freeze, the cold or the lost heat being told."""
    frame = q.frame
    if not (_FREEZES.search(frame) and _ASKS.search(frame) and _THING.search(frame)) or _NOT_THIS.search(frame):
        return False
    cold = any(a.unit in ("F", "C", "temp") for a in q.amounts) or _NO_HEAT.search(frame) is not None
    if not cold or any(a.unit in ("gal", "L", "clock") for a in q.amounts):
        return False  # an amount of water is a sum, which the families know better
    if any(a.unit.startswith(("W", "BTU", "kW")) for a in q.amounts):
        return _BAY.search(frame) is not None and q.has(_HOLDS)
    named = _BAY.search(frame) is not None or "hose" in frame
    return named or not any(a.unit in ("part", "percent", "in") for a in q.amounts)


def freezing_said(s: Sheet) -> None:
    """Inputs of "how long until the water in bay 3 freezes at minus 20"."""
    bay = _bay_named(s.q)
    s.q = _degrees_told(s.q)
    if "hose" in s.q.frame:
        _hose_said(s)
    freeze_time_said(s)
    if bay is not None:
        s.note("bay", float(bay))
    only_bay = _BAY.search(s.q.frame) is not None and _TANK.search(s.q.frame) is None
    if bay is not None or only_bay:
        if s.text("thing") in ("", "fresh") and not s.q.has(r"\b(?:fresh|hoses?|pipes?|lines?)\b"):
            s.note("thing", "bay")
        holds = s.q.one(_HOLDS)
        loses = s.q.one(r"({BTU/h}) (?:per|a|for each|each|every) degrees?\b")
        if holds is not None:
            s.note("bay_holds", holds.value, "BTU")
        if loses is not None:
            s.note("loss_w_k", loses.value * BTU_PER_H_F_IN_W_PER_K, "W/K")
            s.note("loss_said", f"{shown(loses.value)} BTU/h per °F")


_NUMBERED = Lazy(r"\bbay (?:number |no |# )?(?P<bay>\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten)\b")
_BY_WORD = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def _bay_named(q: Question) -> int | None:
    """The number of the bay that is named: "bay 3" is a name and no amount."""
    match = _NUMBERED.search(" ".join(q.words))
    if match is None:
        return None
    return int(match["bay"]) if match["bay"].isdigit() else _BY_WORD.index(match["bay"]) + 1


_AT_DEGREES = Lazy(
    r"\b(?:bays?|water|tank|hose|it|fresh|waste|inside)(?: (?:is|are|at|now|sits|sitting|starts?|of|about|in it|in there)){1,3} $"
)


def _degrees_told(q: Question) -> Question:
    """A bare number after "the bay is at" as a temperature, where another temperature is told."""
    if not any(a.unit in ("F", "C", "temp") for a in q.amounts):
        return q
    tokens = q.frame.split()
    places = [i for i, token in enumerate(tokens) if token.startswith("<")]
    amounts = list(q.amounts)
    for number, (place, amount) in enumerate(zip(places, q.amounts, strict=True)):
        left = f" {' '.join(tokens[max(0, place - 5) : place])} "
        if amount.unit == "n" and -60 <= amount.value <= 120 and _AT_DEGREES.search(left):
            amounts[number] = amount._replace(unit="temp")
            tokens[place] = "<temp>"
    return replace(q, amounts=tuple(amounts), frame=f" {' '.join(tokens)} ")


def _hose_said(s: Sheet) -> None:
    """The bore of a hose told as "five eighths"; its length stands in no sum, for every foot freezes alike."""
    q = s.q
    bore = next((a for a in q.amounts if a.unit == "part" and a.value in _BORES_IN), None)
    if bore is not None:
        s.note("bore", bore.value, "in")
    s.say("bore", q.one(r"\bhose (?:\w+ ){0,2}({in|mm})"))
    s.note(WORDED, by_words(q, *(a for a in q.amounts if a.unit in ("ft", "m", "yd"))))


def freezing(s: Sheet) -> Estimate:
    """Hours until water freezes: of the bay that holds it, and over all levels when none is read."""
    thing = s.text("thing") or "fresh"
    if s.has("falls"):
        return freeze_time(s)
    if thing == "bay":
        if s.has("bay_holds", "loss_w_k"):
            return _bay_air(s)
        return _in_bay(s)
    plainly = thing in ("fresh", "waste") and not s.has("volume") and not s.text("ask") and not s.has("loss_w")
    found = _unread(s, thing) if plainly and s.level(thing) is None else freeze_time(s)
    return replace(found, verdict=f"{found.verdict} {_kept_open(thing, s)}".strip()) if plainly else found


def _kept_open(tank: str, s: Sheet) -> str:
    """That the figure is of a tank without its heat, which is to be kept on; nothing where it has none, or where the heat is told to be off."""
    if _NO_HEAT.search(s.q.frame):
        return ""
    of = s.coach.tank(tank)
    if of.heat_tape is not None:
        return f"That is without heat: keep the heat tape on, and look for its {of.heat_tape.pilot_light_color} light."
    return "That is without heat: keep the heat pad on." if of.heat_pad_w > 0 else ""


def _in_bay(s: Sheet) -> Estimate:
    """Freezing in a bay: the water that the profile keeps there."""
    by_bay = {number: tank.name for tank in s.coach.tanks if (number := _number_of(tank.bay))}
    if not s.has("bay"):
        held = ", ".join(f"bay {number} the {tank} tank" for number, tank in by_bay.items())
        raise Missing("bay", f"Which bay? By the profile water stands in {held}.", "n")
    bay = int(s.number("bay"))
    tank = by_bay.get(bay)
    if tank is None:
        held = " and ".join(f"the {tank} tank in bay {number}" for number, tank in by_bay.items())
        return Estimate(
            "time until the bay freezes", None, "h", source="the coach's profile",
            verdict=f"The profile has no tank in bay {bay}, only {held}. For another bay say how warm it was at two times and how cold it is out, and I work out when it is at freezing.",
        )  # fmt: skip
    s.note("thing", tank)
    s.assumed.append(f"the {tank} tank is in bay {bay} (profile)")
    found = freezing(s)
    first = "Thin lines and valves in the bay go first, within minutes once it is as cold as outside."
    return replace(found, verdict=f"The {tank} tank: {found.verdict} {first}")


def _number_of(place: str) -> int | None:
    match = re.match(r"bay (\d+)\b", place)
    return int(match[1]) if match else None


def _bay_air(s: Sheet) -> Estimate:
    """A bay whose loss and heat capacity are told."""
    from cabassist.estimate.cold import hours_for_bay_to_freeze
    from cabassist.units import registry

    s.outside()
    s.need("start", "How warm is the bay now?", "temp")
    held = registry().Quantity(s.number("bay_holds"), "Btu/delta_degF")
    loss = registry().Quantity(s.number("loss_w_k"), "W/delta_degC")
    return frozen_by(s, hours_for_bay_to_freeze(s.amount("start"), s.amount("outside"), loss, held))


def _unread(s: Sheet, tank: str) -> Estimate:
    """A tank that nobody has read: half full, with the range from a quarter to full."""
    from cabassist.estimate.cold import hours_to_freeze

    s.outside()
    s.assume("start", HELD_F, "F", f"water at {HELD_F:g} °F to begin with: say if it is warmer")
    loss, capacity = loss_of(s, tank), s.capacity(tank)

    def at(share: float) -> Estimate:
        water: Any = quantity(share * capacity, "gal")
        return hours_to_freeze(water, s.amount("start"), s.amount("outside"), loss)

    low, half, full = at(_EMPTIEST), at(0.5), at(1.0)
    if low.value is None or half.value is None or full.value is None:
        return frozen_by(s, half)
    known = f"half full: nobody has read the {tank} tank; the range goes from a quarter to full"
    verdict = (
        f"First ice in about {roughly(half.value)} half full, {roughly(low.value)} at a quarter, {roughly(full.value)} full."
        f" Say how much is in the {tank} tank for a closer figure."
    )
    lines = (
        *half.working,
        f"a quarter: {shown(low.value)} h; full: {shown(full.value)} h, as the time goes with the water.",
    )
    found = replace(
        half,
        low=low.low,
        high=full.high,
        working=lines,
        assumptions=(known, *half.assumptions),
        verdict=verdict,
        also=(),
    )
    return until_solid(s, frozen_by(s, found))
