"""What a reading that stands comes to: "so how many pounds is in the inside one", "what's that in gallons", "and the waste".

Straight from the reading and the profile's sizes, so nothing has to be guessed. Which reading is meant must be clear: named, or
the one told last.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.coach import Coach
from cabassist.dialogue import reckoning
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain
from cabassist.language.reading_types import Reading

LATELY = timedelta(minutes=15)
"""How long "that" may mean a reading that was told."""
NAME = "held-"
"""How the estimate's name begins."""
WATER_LB_PER_GAL = 8.337
"""Water at 60 °F (CoolProp)."""
_UNITS = {
    "gal": "gallons?|gals?", "L": "lit(?:er|re)s?", "lb": "pounds?|lbs?", "kg": "kilos?|kilograms?|kgs?", "percent": "percent|per cent",
    "F": "fahrenheit|f", "C": "celsius|centigrade|c",
}  # fmt: skip
_OPENS = r"^(?:(?:and|so|ok|okay|then|now|right|alright|well|hey|wait|tell me|say|just) )*"
_UNIT = "|".join(_UNITS.values())
_ASKED = Lazy(
    rf"{_OPENS}how many (?P<many>{_UNIT})\b(?P<rest>.*)$"
    rf"|{_OPENS}(?:what(?:'s)?|how much)\b(?P<before>.*) (?:in|as) (?P<turned>{_UNIT})(?: (?:now|then|again))?$"
    rf"|{_OPENS}how (?P<plain>much|full|heavy) (?P<of>.*)$"
    rf"|{_OPENS}what (?:do|does|would|will) (?P<weighed>.*) weigh(?P<end>.*)$"
)
_ALSO = re.compile(r"^(?:(?:and|so|ok|okay|what about|how about|now) )+(?P<what>(?!now\b).{2,30})$")
_SMALL = frozenset(
    "is are does do did have has got get we i you us me it's that's what's in on of the a an my our this that it these those there here left now then again still aboard"
    " come comes to make makes work works out be would will total tank tanks tank's bottle cylinder one ones bank gauge full water propane gas fuel go going all up so right"
    " actually holding hold holds say says exactly about roughly much many at whats weigh weighs inside outside".split()
)
_POINTS = re.compile(r"\b(?:that|it|this|it's|that's|there|now)\b")
_BOTH = re.compile(r"\b(?:the two|both|them|together|altogether|all told|between them|two of them)\b")


def asked(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The amount in a tank, a cylinder or the air in the unit asked for, by the reading that stands; else None."""
    said = bare(text)
    if not state.stored or state.pending is not None or AMOUNT.search(said.replace("the two", "")):
        return None
    if (room := _ROOM.search(said)) is not None and _ROOM_ASKED.match(said):
        return _to_fill(state, room, said, text, ranking, mind, now)
    alone = _ALONE.match(said)
    if alone is not None and state.last is not None and state.last.kind == "reading":
        meant = _meant(state, "that", alone["turned"] or "", mind, now, by_name=True)
        unit = _unit_of(alone["turned"] or "") or ("kg" if mind.coach.units == "metric" else "lb")
        value = amount_of(meant, unit, mind.coach) if meant is not None and unit else None
        return (
            _answered(state, (meant,), value, unit, text, ranking, mind)
            if meant is not None and value is not None
            else None
        )
    found, also = _ASKED.match(said), _ALSO.match(plain(text))
    last = state.worked.estimate if state.worked is not None else None
    after = last if last is not None and last.name.startswith(NAME) and _just_answered(state) else None
    if found is not None:
        groups = found.groupdict()
        unit = _unit_of(groups["many"] or groups["turned"] or "")
        rest = next((groups[key] for key in ("rest", "before", "of", "weighed") if groups[key] is not None), "")
        unit = unit or ("percent" if groups["plain"] == "full" else "lb" if groups["plain"] == "heavy" or groups["weighed"] is not None else "")  # fmt: skip
        rest = f"{rest} {groups['end'] or ''}"
    elif also is not None and (unit := after.unit if after is not None else _asked_before(state)):
        rest = also["what"]
    else:
        return None
    if _BOTH.search(rest) and (unit or after is not None):
        return _together(state, rest, unit or (after.unit if after else ""), text, ranking, mind)
    meant = _meant(state, rest, unit, mind, now, by_name=found is None or groups["plain"] != "much")
    if meant is None or (not unit and meant.what in ("inside_temp", "outside_temp")):
        return None
    unit = unit or _usual(meant, mind.coach, after.unit if after is not None else "")
    value = amount_of(meant, unit, mind.coach)
    return None if value is None else _answered(state, (meant,), value, unit, text, ranking, mind)


_ALONE = Lazy(rf"{_OPENS}(?:(?:in |as )?(?P<turned>{_UNIT})|(?:what about |how about )?(?:the )?weight)$")
"""Nothing but a unit, after a reading."""
_ROOM_ASKED = Lazy(rf"{_OPENS}(?:how (?:many (?:more )?(?P<many>{_UNIT})|much|many|far)\b|what (?:room|space)\b)")
_ROOM = Lazy(
    r"\b(?:short(?: of (?:full|the top))?|(?:to|till|until|from|below|off|under) (?:it is |it's |its )?(?:full|the top|brim)|to (?:fill|top)(?: (?:it|that|this|the \w+(?: \w+)?))?(?: (?:up|off))?"
    r"|(?:more )?(?:can|will|does|would|could) (?:it |that |this |we |i )?(?:go|fit|put|get|go in|take|hold)\b.*|(?:room|space) (?:is |have |do |we |there |i )*left|more room|room is (?:there|in)\b.*)"
)
"""What is missing to full, not what is there."""
_FILLS = frozenset(
    "more short many much how full top up off fill it's its room space left can will does would could go fit in take hold till until from below under brim what".split()
)


def _to_fill(
    state: State, room: re.Match[str], said: str, text: str, ranking: Ranking, mind: Mind, now: datetime
) -> Outcome | None:
    """What a tank or cylinder still takes, by its reading: "how many gallons short of full is that"; else None."""
    asked = _ROOM_ASKED.match(said)
    unit = _unit_of(asked["many"] or "") if asked is not None else ""
    rest = " ".join(
        word
        for word in said.split()
        if word not in _FILLS
        and not _unit_of(word)
        and word not in ("and", "so", "ok", "okay", "then", "now", "of", "to", "the")
    )
    meant = _meant(state, rest or "that", unit, mind, now, by_name=True) or (
        _meant(state, "that", unit, mind, now, by_name=True) if rest in ("it", "that", "this", "there") else None
    )
    if meant is None or meant.what.endswith("_temp"):
        return None
    unit = unit or _usual(meant, mind.coach, "")
    inside, share = amount_of(meant, unit, mind.coach), amount_of(meant, "percent", mind.coach)
    if inside is None or not share or share >= 100:
        return None
    value = inside * (100 - share) / share
    return _answered(state, (meant,), value, unit, text, ranking, mind, to_full=True)


def _asked_before(state: State) -> str:
    """The unit that was asked for before the reading told since: "how many gallons is that", "waste is a foot deep", "and that"."""
    found = _ASKED.match(bare(state.question)) if state.last is not None and state.last.kind == "reading" else None
    return _unit_of(found["many"] or found["turned"] or "") if found is not None else ""


def _unit_of(words: str) -> str:
    return next((unit for unit, pattern in _UNITS.items() if words and re.fullmatch(pattern, words)), "")


def _just_answered(state: State) -> bool:
    return state.last is not None and state.last.kind in ("calculation", "control", "reading", "step")


def _usual(reading: Reading, coach: Coach, before: str) -> str:
    """The unit of an amount when none is named: that of the answer before where it fits, else the profile's."""
    metric = coach.units == "metric"
    mine = ("kg" if metric else "lb") if reading.what == "propane" else "L" if metric else "gal"
    return before if before and amount_of(reading, before, coach) is not None else mine


def _meant(state: State, rest: str, unit: str, mind: Mind, now: datetime, *, by_name: bool) -> Reading | None:
    """The reading that is asked about: the newest of the thing named, or the one just told; None when that is not clear."""
    from cabassist.language import putting_right

    standing = [held.reading for held in state.stored]
    words, named = putting_right.named(rest, mind.coach, mind.vocabulary, standing)
    if any(word not in _SMALL for word in words):
        return None
    if unit in ("F", "C"):
        named = tuple(one for one in named if one.what.endswith("_temp")) if named is not None else None
    elif named is not None:
        named = tuple(one for one in named if not one.what.endswith("_temp"))
    if named is not None:
        return named[-1] if named and by_name else None
    fresh = [held.reading for held in state.stored if now - held.at <= LATELY]
    if not _POINTS.search(rest) or len(state.told) != 1 or not fresh or fresh[-1] != state.told[-1]:
        return None
    return fresh[-1]


def amount_of(reading: Reading, unit: str, coach: Coach) -> float | None:
    """What a reading comes to in `unit`, or None when it is not to be told in that: gallons of a temperature, pounds of diesel."""
    from cabassist.language.plausibility import PROPANE_LB_PER_GAL, converted, cylinder_of, fraction_of_full, is_tank

    if reading.value is None or reading.unit is None:
        return None
    if reading.what.endswith("_temp"):
        return converted(reading.value, reading.unit, unit) if unit in ("F", "C") else None
    share = fraction_of_full(reading, coach)
    if share is None or unit in ("F", "C"):
        return None
    if unit == "percent":
        return share * 100
    if reading.what == "propane":
        cylinder = cylinder_of(reading.which, coach)
        if cylinder is None:
            return None
        pounds = share * cylinder.nominal_lb
        return (
            converted(pounds, "lb", unit)
            if unit in ("lb", "kg")
            else converted(pounds / PROPANE_LB_PER_GAL, "gal", unit)
        )
    if is_tank(reading.what, coach):
        gallons = share * coach.tank(reading.what).capacity_gal
        return (
            converted(gallons * WATER_LB_PER_GAL, "lb", unit)
            if unit in ("lb", "kg")
            else converted(gallons, "gal", unit)
        )
    whole = {"diesel": coach.diesel.capacity_gal, "def": coach.diesel.def_capacity_gal}.get(reading.what)
    return converted(share * whole, "gal", unit) if whole and unit in ("gal", "L") else None


def _together(state: State, rest: str, unit: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """Both cylinders, or both water tanks, whichever were told last, added up."""
    from cabassist.language.plausibility import is_tank

    words = [word for word in _BOTH.sub(" ", rest).split() if word not in _SMALL]
    newest = {(one.what, one.which): one for one in (held.reading for held in state.stored)}
    water = [one for one in newest.values() if is_tank(one.what, mind.coach)]
    propane = [one for one in newest.values() if one.what == "propane" and one.which]
    last = state.stored[-1].reading
    pair = propane if last.what == "propane" or "bottles" in words or "cylinders" in words else water
    known = {"bottles", "cylinders", "tanks", "weigh", "hold"}
    values = [amount_of(one, unit, mind.coach) for one in pair]
    if len(pair) != 2 or unit in ("percent", "F", "C") or any(word not in known for word in words) or None in values:
        return None
    return _answered(state, tuple(pair), sum(value or 0.0 for value in values), unit, text, ranking, mind)


def _answered(
    state: State,
    meant: tuple[Reading, ...],
    value: float,
    unit: str,
    text: str,
    ranking: Ranking,
    mind: Mind,
    *,
    to_full: bool = False,
) -> Outcome:
    from cabassist.dialogue.telling import echo
    from cabassist.estimate.quantities import shown
    from cabassist.estimate.types import Estimate
    from cabassist.language.plausibility import label
    from cabassist.sums.working import Worked
    from cabassist.units import SPOKEN_UNITS

    what = "propane" if meant[0].what == "propane" else "diesel" if meant[0].what == "diesel" else "water"
    estimate = Estimate(
        f"{NAME}{what}",
        round(value, 2),
        unit,
        low=round(value, 2),
        high=round(value, 2),
        working=tuple(echo(one, mind.coach) for one in meant),
        source="arithmetic on the reading and the profile's sizes",
    )
    outcome = reckoning.answer(state, Worked("unit-conversion", None, estimate=estimate), text, ranking, mind)
    names = " and ".join(
        label(one.what, one.which) if i == 0 else label(one.what, one.which).lower() for i, one in enumerate(meant)
    )
    about = "about " if any(one.approx for one in meant) else ""
    line = f"{names}: {about}{shown(value, 3)} {SPOKEN_UNITS.get(unit, (unit, unit))[1]}{' together' if len(meant) > 1 else ' more to full' if to_full else ''}."
    reply = replace(outcome.reply, say=line, show=(line, *outcome.reply.show[1:]))
    return Outcome(outcome.state, reply, outcome.events)
