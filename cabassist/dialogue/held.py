"""What a reading that stands comes to: "so how many pounds is in the inside one", "what's that in gallons", "and the waste".

Straight from the reading and the profile's sizes, so nothing has to be guessed. Which reading is meant must be clear: named, or
the one told last.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.coach import Coach
from cabassist.dialogue import correcting, reckoning, telling
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain
from cabassist.language.reading_types import Reading

LATELY = timedelta(minutes=15)
"""How long "that" may mean a reading that was told."""
NAME = "held-"
"""How the estimate's name begins."""
ROOM = f"{NAME}room-"
"""The same, of what is missing to full."""
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
    rf"|{_OPENS}(?:what(?:'?s)?|how much|how'?s)\b(?P<before>.*) (?:(?:in|as|in terms of) (?P<turned>{_UNIT})(?: terms)?|(?P<wise>{_UNIT})[ -]?wise)(?: (?:now|then|again))?$"
    rf"|{_OPENS}how (?P<plain>much|full|heavy)(?:'?s)? (?P<of>.*)$"
    rf"|{_OPENS}what (?:do|does|would|will) (?P<weighed>.*) weigh(?P<end>.*)$"
)
_ALSO = re.compile(r"^(?:(?:and|so|ok|okay|what about|how about|now) )+(?P<what>(?!now\b).{2,30})$")
_SMALL = frozenset(
    "is are does do did have has got get we i you us me it's that's what's in on of the a an my our this that it these those there here left now then again still aboard"
    " come comes to make makes work works out be would will total tank tanks tank's bottle cylinder one ones bank gauge full water propane gas fuel go going all up so right"
    " actually holding hold holds say says exactly about roughly much many at whats weigh weighs inside outside".split()
)
_POINTS = re.compile(r"\b(?:that|it|this|it's|that's|there|now)\b")
_BOTH = Lazy(
    r"\b(?:(?:the|those|these|all) (?:two|three)|both|them|together|(?:the |in )total|altogether|all told|in all|all in|all of (?:it|that|them)|between them|(?:two|three) of them)\b"
)
_TWO = Lazy(r"\b(?:two|both)\b")


def asked(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The amount in a tank, a cylinder or the air in the unit asked for, by the reading that stands; else None."""
    said = bare(text)
    if state.pending is None and (level := _LEVEL_ASKED.match(said)) is not None:
        return _of_level(state, level, text, ranking, mind)
    if state.pending is None and (level := _LEVEL_OF_IT.match(said)) is not None:
        return _of_its_level(state, level, text, ranking, mind, now)
    if not state.stored or state.pending is not None or AMOUNT.search(_NO_AMOUNT.sub("", said)):
        return None
    if _ROOM_ALONE.match(said):
        told = _meant(state, "that", "", mind, now, by_name=True)
        return None if told is None else _room_in(state, told, "", text, ranking, mind)
    if (room := _ROOM.search(said)) is not None and _ROOM_ASKED.match(said):
        return _to_fill(state, room, said, text, ranking, mind, now)
    if (inside := _CONTENTS.match(said)) is not None:
        held = _meant(state, inside["what"], "", mind, now, by_name=True)
        if held is not None:
            return telling.read_back(held.what, state, mind, now, held.which)
    alone = _ALONE.match(said)
    if alone is not None and correcting.completes(state, said, mind):
        return None
    last = state.worked.estimate if state.worked is not None else None
    after = last if last is not None and last.name.startswith(NAME) and _just_answered(state) else None
    room_told = after if after is not None and after.name.startswith(ROOM) else None
    if room_told is not None and (other := _other_unit(state, room_told, said, text, ranking, mind)) is not None:
        return other
    if alone is not None and state.last is not None and (state.last.kind == "reading" or _of_reading(state, after)):
        meant = _meant(state, "that", alone["turned"] or "", mind, now, by_name=True)
        unit = _unit_of((alone["turned"] or "").replace("percentage", "percent")) or (
            "kg" if mind.coach.units == "metric" else "lb"
        )
        value = amount_of(meant, unit, mind.coach) if meant is not None and unit else None
        return (
            _answered(state, (meant,), value, unit, text, ranking, mind)
            if meant is not None and value is not None
            else None
        )
    found, also = _ASKED.match(said), _ALSO.match(plain(text))
    if found is not None:
        groups = found.groupdict()
        unit = _unit_of(groups["many"] or groups["turned"] or groups["wise"] or "")
        rest = next((groups[key] for key in ("rest", "before", "of", "weighed") if groups[key] is not None), "")
        unit = unit or ("percent" if groups["plain"] == "full" else "lb" if groups["plain"] == "heavy" or groups["weighed"] is not None else "")  # fmt: skip
        rest = f"{rest} {groups['end'] or ''}"
        if groups["plain"] == "much" and not unit and _WEIGH.search(rest):
            unit = "kg" if mind.coach.units == "metric" else "lb"
    elif also is not None and (unit := after.unit if after is not None else _asked_before(state)):
        rest = also["what"]
    else:
        return None
    if _BOTH.search(rest) and room_told is not None:
        return None
    if _BOTH.search(rest) and (unit or after is not None or found is not None):
        return _together(state, rest, unit or (after.unit if after else ""), text, ranking, mind)
    meant = _meant(state, rest, unit, mind, now, by_name=found is None or groups["plain"] != "much")
    if meant is None or (not unit and meant.what in ("inside_temp", "outside_temp")):
        return None
    if found is None and room_told is not None:  # "how much more can I put in the fresh", "and the waste"
        return _room_in(state, meant, "", text, ranking, mind)
    unit = unit or _usual(meant, mind.coach, after.unit if after is not None else "")
    value = amount_of(meant, unit, mind.coach)
    return None if value is None else _answered(state, (meant,), value, unit, text, ranking, mind)


_LEVEL_ASKED = Lazy(
    rf"{_OPENS}(?P<level>[\w.% ]{{3,40}}?) (?:is|makes|means|comes to|works out to|would be|equals|gives(?: me| us)?)(?: that)? (?:how many|what in|how much in) (?P<unit>{_UNIT})(?: (?:then|roughly|about))*$"
)
"""Asks what a level comes to in the same breath as it names it: "diesel half is how many gallons"."""


def _of_level(state: State, found: re.Match[str], text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """What the level that a question names comes to; it is asked about, and not stored."""
    told, unit = mind.readings_in(found["level"]).readings, _unit_of(found["unit"])
    value = amount_of(told[0], unit, mind.coach) if len(told) == 1 and unit else None
    return None if value is None else _answered(state, told, value, unit, text, ranking, mind)


_SHARE = r"(?:that |the )?(?P<level{0}>(?:a |an |one |two |three |five |seven )?(?:half|halves|thirds?|quarters?|fourths?|eighths?)(?: full)?|[a-z0-9. -]+? ?(?:percent|per cent|%))"
_LEVEL_OF_IT = Lazy(
    rf"{_OPENS}how many (?P<unit0>{_UNIT}) (?:is|are|does|do|would|will|makes?|in)(?: that| it)? {_SHARE.format(0)}(?: (?:be|make|mean|come to|of (?:it|that|the tank)|anyway|then|exactly|roughly|about|full))*$"
    rf"|{_OPENS}what(?:'s|s| is| would| does) {_SHARE.format(1)}(?: (?:be|make|mean|come to|work out to))? (?:in|as) (?P<unit1>{_UNIT})(?: (?:anyway|then|exactly|roughly))*$"
)
"""Asks what a share comes to without a word of which tank: "how many gallons is seventy percent anyway"."""


def _of_its_level(
    state: State, found: re.Match[str], text: str, ranking: Ranking, mind: Mind, now: datetime
) -> Outcome | None:
    """What a share comes to, of what was told last or else of the tank that the walk in hand is about; else None."""
    last = state.stored[-1] if state.stored and len(state.told) == 1 else None
    name = ""
    if last is not None and now - last.at <= LATELY and last.reading == state.told[0]:
        name = f"{last.reading.which or ''} {last.reading.what.replace('_', ' ')}"
    elif state.walk is not None:
        name = next((tank for tank in ("waste", "fresh") if tank in state.walk.topic.split("-")), "")
    unit = _unit_of(found["unit0"] or found["unit1"])
    told = mind.readings_in(f"{name} is {found['level0'] or found['level1']}").readings if name else ()
    value = amount_of(told[0], unit, mind.coach) if len(told) == 1 and unit else None
    return None if value is None else _answered(state, told, value, unit, text, ranking, mind)


_NO_AMOUNT = Lazy(
    r"\b(?:(?:the|those|these|all) (?:two|three)|(?:two|three) of them|(?:in|as|how many|what) per ?cent)\b"
)
_WEIGH = Lazy(r"\bweighs?\b")
_CONTENTS = Lazy(
    rf"{_OPENS}(?:what(?:'s| is| have (?:we|i|you) got| do (?:we|i) have)|how much(?:'s|s)?) (?:(?:is|there|still|left|have (?:we|i) got|do (?:we|i) have) )*(?:in|inside) (?P<what>(?:the|our|my|that) (?!.* (?:to|if|for|when)\b).{{2,30}})$"
)
"""Asks how much is in what has been read: answered with that reading."""
_ALONE = Lazy(
    rf"{_OPENS}(?:(?:in |as |what |how many |what about (?:in )?|how about (?:in )?)?(?:a )?(?P<turned>{_UNIT}|percentage)(?: (?:is|would) (?:that|it|this)(?: be)?| full)?|(?:what about |how about )?(?:the )?weight)$"
)
"""Nothing but a unit, after a reading or what it comes to."""
_ROOM_ASKED = Lazy(
    rf"{_OPENS}(?:how (?:many (?:more )?(?P<many>{_UNIT})|much|many|far)\b|what (?:room|space|am i|are we)\b)"
)
_ROOM_ALONE = Lazy(
    rf"{_OPENS}(?:(?:the |any |more |how much |what )*(?:room|space)(?: left| more| in (?:it|there))*|(?:how much |what )?(?:does )?that leave(?:s)?(?: (?:room|space))?)(?: (?:now|then|in (?:it|there)|left))*$"
)
""" "Room now", right after a level."""
_ROOM = Lazy(
    r"\b(?:short(?: of (?:full|the top))?|(?:to|till|until|from|below|off|under) (?:it is |it's |its )?(?:full|the top|brim)|to (?:fill|top)(?: (?:it|that|this|the \w+(?: \w+)?))?(?: (?:up|off))?"
    r"|(?:more )?(?:can|will|does|would|could) (?:it |that |this |we |i |they |he |(?:the|our|my) (?:\w+ ){1,2})?(?:still )?(?:go|fit|put|get|go in|take|hold|add|squeeze)\b.*"
    r"|(?:(?:am|will|should|do|would) i|(?:are|will|should|do|would) we|(?:will|would) (?:they|he|she|it)) (?:have to |need to |be )?(?:buy|buying|pay for|paying for|sell me|putting in)\b.*|(?:will|would|do|does|can|must) (?:they|he|she|the (?:guy|man|kid|filler|dealer|station|attendant)) (?:have to |need to |be )?put(?:ting)? (?:back )?in(?:to it| it)?|(?:room|space) (?:is |have |do |we |there |i )*left|more room|room (?:is (?:there|in)|(?:have|do|did) (?:i|we))\b.*"
    r"|(?:room|space) (?:does|do|would|will|did) (?:that|it|this|the \w+) (?:leave|give|have|still have)(?: (?:me|us))?|(?:(?:would|will|does|do|to|it takes to|that) )?(?:fill|fills|top off|top up|tops? (?:it|that|this)) (?:it|that|this|the \w+(?: \w+)?|up|off)(?: (?:up|off|right up|all the way))*)"
)
"""What is missing to full, not what is there."""
_FILLS = frozenset(
    "more short many much how full top up off fill it's its room space left can will does would could go fit in take hold till until from below under brim what put get add squeeze still"
    " i we they he she am are should do have got need be buy buying pay paying for sell me us putting back into must leave give fills tops all way right"
    " guy man kid filler dealer station attendant".split()
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
    return None if meant is None else _room_in(state, meant, unit, text, ranking, mind)


def _room_in(state: State, meant: Reading, unit: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """What is missing to full in the tank or cylinder of a reading."""
    if meant.what.endswith("_temp"):
        return None
    unit = unit or _usual(meant, mind.coach, "")
    inside, whole = (
        amount_of(one, unit, mind.coach)
        for one in (meant, replace(meant, value=1.0, unit="fraction", counted_from=None))
    )
    if inside is None or whole is None or inside >= whole:
        return None
    value = whole - inside
    return _answered(state, (meant,), value, unit, text, ranking, mind, to_full=True)


_THAT_IN = Lazy(
    rf"{_OPENS}(?:(?:what(?:'s|s| is| would)?|how (?:many|much)(?:'s| is)?|make|give me|put|say|how about|what about) )?(?:(?:that|it|this)(?: (?:be|come to|make))? )?(?:(?:in|into|as) )?(?P<unit>{_UNIT})(?: (?:is|are|would) (?:that|it|this)(?: be)?)?(?: (?:then|now|please))*$"
    rf"|{_OPENS}(?:(?P<heavy>how heavy)(?:'?s| is| would)? (?:that|it|this)(?: be)?|(?:what|how much) (?:does|do|would|will) (?:that|it|this) (?P<weigh>weigh))(?: (?:then|now))*$"
)


def _other_unit(state: State, room: Estimate, said: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """What was just told to be missing to full, in another unit: pounds of propane in gallons, gallons in litres."""
    from cabassist.estimate.fuel import DIESEL_LB_PER_GAL
    from cabassist.language.plausibility import PROPANE_LB_PER_GAL, converted
    from cabassist.sums.working import Worked

    found = _THAT_IN.match(said) if state.last is not None and state.last.kind == "calculation" else None
    unit = (
        ""
        if found is None
        else _unit_of(found["unit"])
        if found["unit"]
        else "kg"
        if mind.coach.units == "metric"
        else "lb"
    )
    weights = ("lb", "kg")
    if unit not in (*weights, "gal", "L") or room.value is None or unit == room.unit:
        return None
    a_gallon = {"propane": PROPANE_LB_PER_GAL, "diesel": DIESEL_LB_PER_GAL, "water": WATER_LB_PER_GAL}
    density = a_gallon.get(room.name.removeprefix(ROOM))
    if (room.unit in weights) == (unit in weights):
        value = converted(room.value, room.unit, unit)
    elif density is None:
        return None
    elif unit in weights:
        value = converted(converted(room.value, room.unit, "gal") * density, "lb", unit)
    else:
        value = converted(converted(room.value, room.unit, "lb") / density, "gal", unit)
    value = round(value, 2)
    turned = replace(room, value=value, low=value, high=value, unit=unit)
    return reckoning.answer(state, Worked("unit-conversion", None, estimate=turned), text, ranking, mind)


def _asked_before(state: State) -> str:
    """The unit that was asked for before the reading told since: "how many gallons is that", "waste is a foot deep", "and that"."""
    found = _ASKED.match(bare(state.question)) if state.last is not None and state.last.kind == "reading" else None
    return _unit_of(found["many"] or found["turned"] or "") if found is not None else ""


def _of_reading(state: State, after: Estimate | None) -> bool:
    """Whether the last answer was what one reading comes to, and no room that it leaves."""
    told = after is not None and state.last is not None and state.last.kind == "calculation"
    return told and after is not None and not after.name.startswith(ROOM) and len(after.working) == 1


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


def named_reading(state: State, what: str, mind: Mind) -> Reading | None:
    """The newest reading that stands of what a few words name; None when they name more, or none was told."""
    from cabassist.language import putting_right

    standing = [held.reading for held in state.stored]
    words, named = putting_right.named(what, mind.coach, mind.vocabulary, standing)
    return named[-1] if named and all(word in _SMALL for word in words) else None


def amount_of(reading: Reading, unit: str, coach: Coach) -> float | None:
    """What a reading comes to in `unit`, or None when it is not to be told in that: gallons of a temperature, pounds of exhaust fluid."""
    from cabassist.estimate.fuel import DIESEL_LB_PER_GAL
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
    if reading.what == "diesel" and whole and unit in ("lb", "kg"):
        return converted(share * whole * DIESEL_LB_PER_GAL, "lb", unit)
    return converted(share * whole, "gal", unit) if whole and unit in ("gal", "L") else None


def _together(state: State, rest: str, unit: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """All cylinders, or both water tanks, whichever were told last, added up; asked back when only one of two is known."""
    from cabassist.dialogue.following import put_back
    from cabassist.language.plausibility import is_tank

    words = [word for word in _BOTH.sub(" ", rest).split() if word not in _SMALL]
    newest = {(one.what, one.which): one for one in (held.reading for held in state.stored)}
    water = [one for one in newest.values() if is_tank(one.what, mind.coach)]
    propane = [one for one in newest.values() if one.what == "propane" and one.which]
    last = state.stored[-1].reading
    of_gas = re.search(r"\b(?:propane|gas|lp|bottles|cylinders)\b", rest)
    of_water = re.search(r"\b(?:water|tanks)\b", rest)
    all_ = propane if of_gas or (last.what == "propane" and not of_water) else water
    unit = unit or (_usual(all_[-1], mind.coach, "") if all_ else "")
    if _TWO.search(rest) and len(all_) > len(_PAIR):
        all_ = [one for one in all_ if one.which != "spare"]
    known = {"bottles", "cylinders", "tanks", "weigh", "hold", "they", "those", "these"}
    values = [amount_of(one, unit, mind.coach) for one in all_]
    if unit in ("percent", "F", "C") or any(word not in known for word in words) or None in values:
        return None
    if len(all_) < len(_PAIR):
        if not (_TWO.search(rest) and all_):
            return None
        line = f"I have one level only: {telling.echo(all_[0], mind.coach).rstrip('.')}. Tell me the other."
        return put_back(line, state, mind)
    return _answered(state, tuple(all_), sum(value or 0.0 for value in values), unit, text, ranking, mind)


_PAIR = ("one", "other")


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
    from cabassist.estimate.quantities import exact, shown
    from cabassist.language.plausibility import label
    from cabassist.sums.working import Worked
    from cabassist.units import SPOKEN_UNITS

    what = meant[0].what if meant[0].what in ("propane", "diesel", "def") else "water"
    estimate = exact(
        f"{ROOM if to_full else NAME}{what}",
        round(value, 2),
        unit,
        working=tuple(telling.echo(one, mind.coach) for one in meant),
        source="arithmetic on the reading and the profile's sizes",
    )
    outcome = reckoning.answer(state, Worked("unit-conversion", None, estimate=estimate), text, ranking, mind)
    each = [label(one.what, one.which) if i == 0 else label(one.what, one.which).lower() for i, one in enumerate(meant)]
    names = " and ".join([", ".join(each[:-1]), each[-1]] if len(each) > 1 else each)
    about = "about " if any(one.approx for one in meant) else ""
    line = f"{names}: {about}{shown(value, 3)} {SPOKEN_UNITS.get(unit, (unit, unit))[1]}{' together' if len(meant) > 1 else ' more to full' if to_full else ''}."
    reply = replace(outcome.reply, say=line, show=(line, *outcome.reply.show[1:]))
    return Outcome(outcome.state, reply, outcome.events)
