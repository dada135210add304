"""From a driver's calculation question to an answer: which calculation, with which inputs, and what is still to be asked.

What stands in the text decides first and what the matcher thinks second, because a hint may be wrong. Inputs said in the
question outweigh stored readings, and these the profile; nothing said in a question is stored. What is missing is asked
for, one thing at a time; the next utterance completes it, and later ones may change an input or the unit of the answer.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from cabassist.coach import Coach
from cabassist.estimate.driving_hours import HELPER, SPLIT_SOURCE
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, asked_unit, read_question
from cabassist.language.calculation_units import FACTORS, converted, same_kind
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import wanted
from cabassist.sums import (
    working_battery,
    working_cabin,
    working_cords,
    working_cylinders,
    working_filling,
    working_freezing,
    working_fresh,
    working_fuel,
    working_power,
    working_propane,
    working_road,
    working_roadside,
    working_tanks,
    working_tires,
    working_waste,
    working_weather,
    working_wheels,
)
from cabassist.sums.days_named import with_day
from cabassist.sums.in_all import as_one, by_head
from cabassist.sums.nights import in_nights
from cabassist.sums.outright import OUTRIGHT, asked_outright
from cabassist.sums.summing import summed
from cabassist.sums.sums_compared import compares
from cabassist.sums.told_plainly import plainly_asked, told_plainly
from cabassist.sums.told_stamp import WHICH_CYLINDER
from cabassist.sums.told_stories import story_asked
from cabassist.sums.told_sums import told_sum
from cabassist.sums.working_asked import another_kind, measures
from cabassist.sums.working_asks import asks_something, chosen, doubted
from cabassist.sums.working_doubts import OTHER_WORDS, unsure
from cabassist.sums.working_sheet import Input, Missing, Sheet, StoredReading
from cabassist.sums.working_told import ASKED, HARMLESS, TOLD
from cabassist.sums.working_unplaced import unplaced, words
from cabassist.sums.working_unused import BY_RULE, unused
from cabassist.sums.working_words import say as _say
from cabassist.sums.working_words import show as _show

if TYPE_CHECKING:
    from cabassist.language.role_network import RoleNetwork
    from cabassist.sums.handing import Found

Said = Callable[[Sheet], None]
Solved = Callable[[Sheet], Estimate]

CALCULATIONS: Mapping[str, tuple[str, Said, Solved]] = {
    "propane-days-left": ("read-propane-gauges", working_propane.propane_days_said, working_propane.propane_days),
    "fill-by": ("refill-during-stop", working_fresh.fill_by_said, working_fresh.fill_by),
    "dump-deadline": ("dump-waste-tank", working_waste.dump_deadline_said, working_waste.dump_deadline),
    "waste-hours": ("dump-waste-tank", working_waste.waste_hours_said, working_waste.waste_hours),
    "fresh-hours": ("check-fresh-level", working_fresh.fresh_hours_said, working_fresh.fresh_hours),
    "which-first": ("service-at-turnaround", working_fresh.which_first_said, working_fresh.which_first),
    "fill-time": ("fill-fresh-water", working_filling.fill_time_said, working_filling.fill_time),
    "when-to-look": ("fill-fresh-water", working_filling.when_to_look_said, working_filling.when_to_look),
    "water-weight": ("fill-fresh-water", working_tanks.water_weight_said, working_tanks.water_weight),
    "tank-depth": ("check-fresh-level", working_tanks.tank_depth_said, working_tanks.tank_depth),
    "bleach-dose": ("sanitize-fresh-tank", working_tanks.bleach_dose_said, working_tanks.bleach_dose),
    "heat-pad-watts": ("protect-water-from-freezing", working_freezing.heat_pad_said, working_freezing.heat_pad),
    "wind-chill": ("park-for-the-night", working_weather.wind_said, working_weather.wind_chill),
    "frostbite": ("park-for-the-night", working_weather.wind_said, working_weather.frostbite),
    "gel-risk": ("gelled-diesel", working_weather.gel_risk_said, working_weather.gel_risk),
    "cabin-cool-down": ("keep-cabin-warm", working_cabin.cabin_said, working_cabin.cabin_cool_down),
    "heat-loss": ("keep-cabin-warm", working_cabin.heat_loss_said, working_cabin.heat_loss),
    "battery-hours": ("house-battery-low", working_battery.battery_hours_said, working_battery.battery_hours),
    "battery-state": ("house-battery-low", working_battery.battery_state_said, working_battery.battery_state),
    "battery-charge-time": ("house-battery-low", working_battery.battery_charge_said, working_battery.battery_charge),
    "battery-freezing": ("house-battery-low", working_battery.battery_freezing_said, working_battery.battery_freezing),
    "shore-load": ("connect-shore-power", working_power.shore_load_said, working_power.shore_load),
    "breaker-limit": ("connect-shore-power", working_power.breaker_said, working_power.breaker_limit),
    "voltage-drop": ("shore-breaker-trips", working_cords.cord_said, working_cords.voltage_drop),
    "cord-length": ("shore-breaker-trips", working_cords.cord_said, working_cords.cord_length),
    "cord-ampacity": ("shore-breaker-trips", working_cords.cord_said, working_cords.cord_ampacity),
    "driving-hours": ("plan-driving-hours", working_road.driving_said, working_road.driving_hours),
    "tire-pressure": ("check-tires", working_tires.tire_said, working_tires.tire_pressure),
    "tread-limit": ("check-tires", working_tires.tread_said, working_tires.tread),
    "wheel-torque": ("torque-wheel-nuts", working_wheels.torque_said, working_wheels.wheel_torque),
    "wheel-recheck": ("torque-wheel-nuts", working_wheels.recheck_said, working_wheels.wheel_recheck),
    "triangle-distances": ("set-warning-triangles", working_roadside.triangles_said, working_roadside.triangles),
    "air-brake-verdict": ("check-air-brakes", working_roadside.brakes_said, working_roadside.brakes),
    "diesel-range": ("refill-during-stop", working_fuel.diesel_range_said, working_fuel.diesel_range),
    "idle-hours": ("refill-during-stop", working_fuel.idle_said, working_fuel.idle_hours),
    "diesel-weight": ("load-luggage", working_fuel.diesel_weight_said, working_fuel.diesel_weight),
    "axle-load": ("load-luggage", working_wheels.axle_said, working_wheels.axle_load),
    "propane-weight": (
        "swap-or-refill-cylinder",
        working_cylinders.propane_weight_said,
        working_cylinders.propane_weight,
    ),
    "propane-hours": ("read-propane-gauges", working_propane.propane_hours_said, working_propane.propane_hours),
    "vaporization": ("change-over-cylinders", working_cylinders.vaporization_said, working_cylinders.vaporization),
    "requalification": (
        "swap-or-refill-cylinder",
        working_cylinders.requalification_said,
        working_cylinders.requalification,
    ),
    "co-meaning": ("carbon-monoxide-alarm", working_fuel.co_said, working_fuel.co_meaning),
    "unit-conversion": ("check-fluids", working_fuel.conversion_said, working_fuel.conversion),
    **{one.name: (one.topic, one.said, one.solve) for one in OUTRIGHT},
}
"""Each calculation with its topic, what reads its inputs from a text, and what works it out."""

_TWINS = {
    "fresh-hours": "waste-hours",
    "waste-hours": "fresh-hours",
    "fill-by": "dump-deadline",
    "dump-deadline": "fill-by",
}
_FOLLOWS = re.compile(
    r"^ (?:and|so|what about|how about|what if|if|with|without|at|make (?:it|that|them)|same|then|but|or|in|for|say|suppose|now|no|only|using|instead|try|on|from|down to|until|till|ok|okay)\b"
    r"|\b(?:those|of (?:that|them|it)|instead|rather|that in|is that)\b"
)
_STATES = re.compile(
    r"\b(?:is|are|was|reads?) (?:now |about |around )?(?:at )?<|<[^>]+> now\b"
    r"|\b(?:fresh|waste|tank|bottle|cylinder|outside|inside|battery|diesel|propane|water|black) (?:is )?(?:now )?(?:at|down to|up to) <"
)
_SUPPOSED = re.compile(
    r"\b(?:what (?:about|if)|how about|if|suppose|say|make (?:it|that)|instead|those|of that|with|without)\b"
)
_UNKNOWN = re.compile(
    r"\b(?:do not know|dont know|don't know|no idea|not sure|no clue|can not (?:see|tell|read)|unknown|skip|who knows|haven't a clue|never mind that)\b"
)
_SWITCHES = re.compile(r"^ (?:and|what about|how about)\b")
_FRESH_WORD = Lazy(r"\b(?:fresh|clean|drinking)\b")
_WASTE_WORD = Lazy(r"\b(?:waste|black|sewage|gr[ae]y|holding)\b")
_SUPPLIES: dict[str, tuple[Lazy, tuple[str, ...]]] = {
    "fresh": (_FRESH_WORD, ("fresh", "water", "fill-by")),
    "waste": (_WASTE_WORD, ("waste", "dump")),
    "propane": (Lazy(r"\b(?:propane|lpg|gas|bottles?|cylinders?)\b"), ("propane", "furnace", "heat")),
    "battery": (Lazy(r"\b(?:house|battery|batteries)\b"), ("battery",)),
    "diesel": (Lazy(r"\b(?:diesel|fuel)\b"), ("diesel", "fuel", "range")),
    "tires": (Lazy(r"\bt[iy]res?\b"), ("tire", "tread", "wheel")),
}
"""Each supply: how a question names it, and how the names of its calculations show it."""


@dataclass(frozen=True)
class Pending:
    """A question that was asked back: what the calculation has so far, and what it waits for."""

    calculation: str
    inputs: tuple[Input, ...]
    missing: str
    unit: str = ""
    """The unit that a bare number is taken in."""


@dataclass(frozen=True)
class Worked:
    """What came of a calculation question: an estimate, a question asked back, or a refusal."""

    calculation: str
    topic: str | None
    estimate: Estimate | None = None
    question: str = ""
    pending: Pending | None = None
    inputs: tuple[Input, ...] = ()
    refused: str = ""
    whole: bool = False
    """Whether every amount of the question has its place in the answer."""
    leans: bool = False
    """Whether it is the sum before with what was said since changed in it."""
    taken: tuple[tuple[str, str], ...] = ()
    """What each amount was taken for, with its words."""
    plain: bool = False
    """Whether a strict reader told it, so that nobody need look at it twice."""
    doubtful: bool = False
    """Whether one reader alone placed the amounts, so that the answer says that it may be wrong."""


_NO_SUPPLY = (
    r"\b(?:def|exhaust fluid|ad ?blue|idl(?:es?|ing))\b|\bhow many (?:of )?(?:\w+ )?<gal> (?:jugs?|buckets?|cans?|pails?)\b"
    r"|\b(?:genset|genny|generator)\b.*\b(?:quits?|pick ?up|sucks? air)\b|\b(?:pick ?up|sucks? air)\b.*\b(?:genset|genny|generator)\b"
    r"|^[^<]*<k?W>[^<]*\bbtus?\b[^<]*$"
)
_TWO_WAYS = "I can take that in two ways. Say what each number is, one sentence for each."
_LOADS = "axle-load"
_ASKED_FIRST = frozenset({"fresh-hours", "diesel-range"})
"""Two levels without the time between them, or fuel burned over an unknown distance: no usual rate answers for what was told."""


def work_out(
    text: str,
    hints: Sequence[tuple[str, float]],
    *,
    coach: Coach,
    stored: Sequence[StoredReading],
    now: datetime,
    pending: Pending | None = None,
    last: Worked | None = None,
    network: RoleNetwork | None = None,
) -> Worked | None:
    """The answer to a calculation question, or None when the text is none.

    Args:
        text: what was said.
        hints: calculations with their chance, as the matcher ranks them.
        coach: the profile.
        stored: readings that stand, oldest first.
        now: the clock, with its zone.
        pending: what a question asked back before waits for.
        last: the answer before, which "what about at minus thirty" refers to.
        network: hands out the roles of the amounts a second time; without it no answer is looked at twice.
    """
    question = read_question(by_head(as_one(text)), metric=coach.units == "metric")
    worked = _looked_at(question, hints, coach, stored, now, pending, last, network)
    if worked is None or worked.estimate is None:
        return worked
    told = with_day(question, in_nights(question, worked.estimate))
    return worked if told is worked.estimate else replace(worked, estimate=told)


def _looked_at(
    question: Question,
    hints: Sequence[tuple[str, float]],
    coach: Coach,
    stored: Sequence[StoredReading],
    now: datetime,
    pending: Pending | None,
    last: Worked | None,
    network: RoleNetwork | None,
) -> Worked | None:
    """What the readers make of a question, and the network beside them."""
    worked = _worked_out(question, hints, coach, stored, now, pending, last)
    if worked is not None and (worked.leans or worked.plain):
        return worked
    if pending is not None and worked is not None:
        alone = _worked_out(question, hints, coach, stored, now, None, None)
        if alone is None or alone.estimate is None or alone.estimate != worked.estimate:
            return worked  # it completes the question before, and need not tell all
    if network is not None and (pending is None or worked is not None):
        from cabassist.sums.handing import handed_out

        found = handed_out(question, network, coach, now)
        told = _rule_and_hours(question, worked, found)
        if told is not None:
            return told
        twice = _seen_twice(worked, found) if found is not None else None
        if twice is not None:
            return twice
    if worked is None or worked.estimate is None:
        return worked
    worked = _guarded(worked, question, hints, coach, stored, now)
    by_one = network is not None and len(question.amounts) > 1 and worked.calculation not in _PLAIN_RULES
    return replace(worked, doubtful=True) if by_one and worked.estimate is not None else worked


_PLAIN_RULES = BY_RULE | {"breaker-limit", "cord-ampacity", "unit-conversion"}
"""Calculations whose amounts can hardly be taken for each other."""
_ALONE = 0.15
"""How likely what the network makes of a question must be to be told where no reader has an answer; chosen on questions of others that it had not learnt from."""
_ALONE_ASKED = 0.5
"""So likely it must be where a reader would ask back."""
_ALONE_SURE = 0.75
"""From here on it is told without saying that it may be wrong: below, one in three was on questions that nobody had tuned to."""
_AGAINST = 0.9
"""How likely it must be for an answer that it does not agree with to be put in question."""


_HOURS_TOO = Lazy(
    r"\bhow (?:much|many|long)\b[^.?]*\b(?:left|remain\w*|drive|driving|have)\b|\bwhat (?:do|have|does|is|' s)\b[^.?]*\b(?:left|remain\w*|have)\b|\bhours left\b"
)
_HOURS_SURE = 0.3
"""So likely the hours must be that are told beside a rule of which the reader is sure."""


def _rule_and_hours(question: Question, worked: Worked | None, found: Found | None) -> Worked | None:
    """A rule that has no number ("no break is owed"), with the hours of driving that are asked for in the same breath."""
    if worked is None or worked.estimate is None or found is None or not _HOURS_TOO.search(question.frame):
        return None
    rule, hours = worked.estimate, found.estimate
    same = worked.calculation == found.calculation == "driving-hours"
    if not same or rule.value is not None or not rule.verdict or hours.value is None or found.sure < _HOURS_SURE:
        return None
    verdict = rule.verdict.removesuffix(HELPER).strip()
    rest = hours.verdict if not _YES_NO.match(hours.verdict) else hours.verdict.partition(": ")[2]
    rest = f"{rest[:1].upper()}{rest[1:]}" or f"{hours.value:g} h left. {HELPER}"
    estimate = replace(hours, verdict=f"{verdict} {rest}", source=f"{rule.source}; {hours.source}")
    return replace(worked, estimate=estimate, whole=True, taken=found.roles, doubtful=found.sure < _ALONE_SURE)


def _seen_twice(worked: Worked | None, found: Found) -> Worked | None:
    """What follows when the network has an answer too; None when it changes nothing."""
    if worked is not None and worked.estimate is not None:
        if _says(worked.estimate, found.estimate) or _says(found.estimate, worked.estimate):
            return replace(worked, whole=True, taken=found.roles)
        judged, other = _YES_NO.match(worked.estimate.verdict), _YES_NO.match(found.estimate.verdict)
        if judged is not None and other is not None and judged[0] == other[0]:
            if worked.estimate.value is None and found.estimate.value is not None and found.sure >= _ALONE_SURE:
                return Worked(found.calculation, CALCULATIONS[found.calculation][0], found.estimate, whole=True, taken=found.roles)  # fmt: skip
            return None  # what was asked has the same answer, whichever number stands first
        return (
            replace(worked, estimate=None, question=_TWO_WAYS, pending=None, whole=True)
            if found.sure >= _AGAINST
            else None
        )
    asks = worked is not None and worked.question != ""  # a reader knows what is missing
    if found.sure < (_ALONE_ASKED if asks else _ALONE):
        return None
    topic, doubtful = CALCULATIONS[found.calculation][0], found.sure < _ALONE_SURE
    return Worked(found.calculation, topic, found.estimate, whole=True, taken=found.roles, doubtful=doubtful)


def _guarded(
    worked: Worked,
    question: Question,
    hints: Sequence[tuple[str, float]],
    coach: Coach,
    stored: Sequence[StoredReading],
    now: datetime,
) -> Worked:
    """The answer, or what is asked instead when it is of another kind than was asked for, or has no use for an amount."""

    def again(other: Question) -> Estimate | None:
        try:
            found = _worked_out(other, hints, coach, stored, now, None, None)
        except (ValueError, ArithmeticError, AssertionError, LookupError):
            return None  # a value nobody said
        return found.estimate if found is not None else None

    estimate = worked.estimate
    assert estimate is not None
    if another_kind(question, worked.calculation, estimate):
        return replace(worked, estimate=None, question=OTHER_WORDS, pending=None)
    left = unused(question, worked.calculation, estimate, coach, again)
    if not left:
        return worked
    text = f"What is the {words(question, left[:1])} for? Ask again and say what each number is."
    return replace(worked, estimate=None, question=text, pending=None)


def _worked_out(
    question: Question,
    hints: Sequence[tuple[str, float]],
    coach: Coach,
    stored: Sequence[StoredReading],
    now: datetime,
    pending: Pending | None,
    last: Worked | None,
) -> Worked | None:
    """What the question comes to, before it is looked at whether all of it counted."""
    told = told_plainly(question, coach, now)
    if told is not None:
        return Worked(told[0], CALCULATIONS[told[0]][0], told[1], whole=True, plain=True)
    lacks = plainly_asked(question)
    if lacks is not None:
        return Worked(lacks[0], CALCULATIONS[lacks[0]][0], question=lacks[1], whole=True, plain=True)
    plainly = asked_outright(question, coach)
    if plainly is not None:
        return _whole(_worked(plainly.name, Sheet(question, coach, stored, now)), question, coach)
    now = _told_now(question, now)
    name = _rate_of_latest(question, stored, now) or chosen(question, hints)
    if (
        pending is not None
        and _other_supply(question, pending.calculation) is None
        and (name in (None, pending.calculation) or not asks_something(question))
    ):
        done = _completed(question, pending, coach, stored, now)
        if done is not None:
            return done
    if last is not None and last.estimate is not None and _leans(question, name, last):
        again = _again(question, last, coach, stored, now)
        if again is not None:
            return replace(again, leans=True)
    name = name or _about_latest(question, stored, now)
    if name in _TANK_DEADLINES and (supply := _other_supply(question, name)) not in (None, "fresh", "waste"):
        name = "propane-days-left" if supply == "propane" else None
    if (
        name == "fill-by"
        and not question.has(r"\b(?:fresh|water|clean|hose|tank|drinking)\b")
        and _speaks_of_propane(stored, last)
    ):
        name = "propane-days-left"
    worked = None
    if name is not None:
        worked = _placed(_worked(name, Sheet(question, coach, stored, now)), question, coach, now)
    worked = _told(question, worked, coach, stored, now) or worked
    # tanks of water and propane know nothing of exhaust fluid, nor of an engine that idles
    own = None if question.has(_NO_SUPPLY) else summed(question, coach, now)
    other = told_sum(question, coach, now)
    if own is not None and other is not None and not (_says(own[1], other[1]) or _says(other[1], own[1])):
        if other[0] != _LOADS:
            return Worked(own[0], CALCULATIONS[own[0]][0], refused=_TWO_WAYS)
        own = other  # counted things and what weighs each of them are no limit of one weight
    own = own or other
    if own is not None and (doubt := unsure(question, own[0], own[1])):
        return Worked(own[0], CALCULATIONS[own[0]][0], refused=doubt)
    if own is not None:
        return _better(worked, own, question, coach, stored, now)
    asked = story_asked(question)
    if asked is not None and (worked is None or worked.estimate is None or asked[0] in _ASKED_FIRST):
        return Worked(asked[0], CALCULATIONS[asked[0]][0], question=asked[1], whole=True)
    return None if worked is None or (doubted(hints) and worked.question) else worked


def _whole(worked: Worked, question: Question, coach: Coach) -> Worked:
    """The answer to what was asked outright, or the amount that has no place in it."""
    if worked.estimate is None:
        return replace(worked, whole=True)
    left = unplaced(question, worked.inputs, worked.estimate, coach, beside=False, strict=True)
    if not left:
        return replace(worked, whole=True)
    text = f"I can't place {words(question, left)} in this. Ask again and say what each number is."
    return replace(worked, estimate=None, refused=text)


def _told(
    question: Question, worked: Worked | None, coach: Coach, stored: Sequence[StoredReading], now: datetime
) -> Worked | None:
    """The calculation whose inputs the question tells all of, when its answer leaves no number out.

    Told by its words beside the amounts it outweighs another that was chosen by cues alone.
    """
    for name, told in TOLD:
        if told(Sheet(question, coach, stored, now)):
            if worked is not None and worked.calculation == name and worked.estimate is not None:
                return replace(worked, whole=True)
            found = _placed(_worked(name, Sheet(question, coach, stored, now)), question, coach, now)
            if found.estimate is not None:
                return replace(found, whole=True)
    if (
        worked is not None
        and worked.estimate is not None
        and worked.calculation not in {*(name for name, _ in ASKED), "shore-load"}
    ):
        return None
    for name, asked in ASKED:
        if asked(Sheet(question, coach, stored, now)):
            found = _worked(name, Sheet(question, coach, stored, now))
            return replace(found, whole=True) if found.question else None
    return None


def wholly_told(question: Question, coach: Coach, now: datetime) -> bool:
    """Whether the question is a sum of a harmless family, told with every input and asking for its number."""
    if told_plainly(question, coach, now) is not None:
        return True
    found = _told(question, None, coach, (), now)
    told = found is not None and found.estimate is not None and found.calculation in HARMLESS
    return told and wanted(question) is not None


def _better(
    worked: Worked | None,
    own: tuple[str, Estimate],
    question: Question,
    coach: Coach,
    stored: Sequence[StoredReading],
    now: datetime,
) -> Worked:
    """The sum that has a place for every amount, or the calculation that says the same and more."""
    calculation, estimate = own
    want = wanted(question)
    unasked = want is not None and not want.judged and _YES_NO.match(estimate.verdict) is None
    if worked is not None and worked.estimate is not None and unasked and _YES_NO.match(worked.estimate.verdict):
        worked = replace(worked, estimate=None)  # a yes or no that nobody asked for
    of_two = estimate.verdict.startswith(WHICH_CYLINDER)  # a reader of one stamp knows nothing of the other
    if worked is not None and worked.estimate is not None and _says(worked.estimate, estimate) and not of_two:
        return replace(worked, whole=True)
    topic, said, _ = CALCULATIONS[calculation]
    if worked is None or worked.topic != topic:
        sheet = Sheet(question, coach, stored, now)
        try:
            said(sheet)
        except (ValueError, Missing):
            sheet.inputs.clear()
        worked = Worked(calculation, topic, inputs=_kept(sheet))
    return replace(worked, estimate=estimate, question="", pending=None, refused="", whole=True)


_YES_NO = re.compile(r"(?:Yes|No)\b")
DOUBTFUL = "Check that: I may have a number in the wrong place."
"""Said with an answer that only one reader has."""


def _says(worked: Estimate, own: Estimate) -> bool:
    """Whether an estimate gives the other's number and its verdict."""
    if own.value is None or worked.value is None:
        return own.value is worked.value
    figures = ((worked.value, worked.unit), *((one.value, one.unit) for one in worked.also))
    ahead = re.match(r"(?:Dump|Fill)\b", worked.verdict) is not None  # a deadline keeps an hour in hand
    if (
        not ahead
        and worked.unit == own.unit
        and abs(worked.value - own.value) > 0.02 * max(abs(worked.value), abs(own.value))
    ):
        return False  # the number said first is another one
    in_own = [
        converted(value, unit, own.unit)
        for value, unit in figures
        if unit == own.unit or (unit not in ("F", "C") and same_kind(unit, own.unit))
    ]
    in_own += [value for value, unit in figures if _counts(unit) and _counts(own.unit)]  # heaters, loads
    same = any(abs(value - own.value) <= 0.01 * max(abs(value), abs(own.value)) for value in in_own)
    named = {one.name: one.value for one in worked.also}
    same = same and all(abs(named.get(one.name, one.value) - one.value) <= 0.02 * abs(one.value) for one in own.also)
    judged, clocks = _YES_NO.match(own.verdict), re.findall(r"\d\d:\d\d(?! [ap]m)", own.verdict)
    return (
        same
        and (judged is None or re.search(rf"\b{judged[0]}\b", worked.verdict) is not None)
        and all(at in worked.verdict for at in clocks)
    )


def _counts(unit: str) -> bool:
    """Whether a unit is a name for counted things."""
    return unit.isalpha() and unit not in FACTORS and unit not in ("F", "C")


_NOW = (
    r"^ (?:so |ok |okay )?(?:it|it is|its)(?: ' ?s)? (?:now |about |already |almost |just )*({clock})",
    r"({clock}) (?:right )?now\b",
    r"\b(?:it|it is|its) (?:now|about|already) ({clock})",
    r"<(?:gal|L|percent|part)> (?:(?:fresh|waste|of|water|full|in|it|the|tank) ){0,3}at ({clock})",
)


def _told_now(question: Question, now: datetime) -> datetime:
    """The clock, set to the time of day that the question says it is."""
    if not question.has(r"\b(?:dump|run (?:out|dry)|what time|when|by)\b"):
        return now
    told = question.one(*_NOW)
    if told is None or sum(amount.unit == "clock" for amount in question.amounts) > 1:
        return now
    hour = told.value
    if told.pieces and hour < 12:  # "it's 7:10": the half of the day nearer to the clock
        clock = now.hour + now.minute / 60
        hour = min((hour, hour + 12), key=lambda h: min(abs(h - clock), 24 - abs(h - clock)))
    return now.replace(hour=int(hour) % 24, minute=round(hour % 1 * 60) % 60, second=0, microsecond=0)


_PLAIN_UNITS = frozenset(
    {"gal", "L", "lb", "kg", "h", "min", "day", "A", "V", "W", "BTU", "BTU/h", "ft", "mi", "F", "C"}
)
"""Units that an answer must be in when it is asked for in one of them."""
_TANK_HOURS = frozenset({"waste-hours", "fresh-hours"})
_COLD_COUNTS = frozenset({"propane-hours", "propane-weight"})
"""A temperature beside these asks what a cylinder gives in the cold, which is another question."""
_DATED = frozenset({"requalification"})
"""Their inputs are dates, which stand in no sum as they were said."""


def _by_the_clock(worked: Worked, question: Question, now: datetime) -> Worked:
    """The answer with its time of day, when that is asked for; the last time told is what it counts from."""
    found = worked.estimate
    if found is None or found.unit != "h" or worked.calculation not in _TANK_HOURS or not found.value:
        return worked
    if not question.has(r"\b(?:what time|when)\b"):
        return worked
    clocks = [amount for amount in question.amounts if amount.unit == "clock"]
    if len(clocks) == 2 and not any(amount.pieces for amount in clocks):
        now = now.replace(hour=int(clocks[1].value) % 24, minute=round(clocks[1].value % 1 * 60) % 60)
    at = f"That is at {(now + timedelta(hours=found.value)):%H:%M}."
    return replace(worked, estimate=replace(found, verdict=f"{found.verdict} {at}".strip()))


_SUMMED = frozenset(
    {
        "propane-days-left", "propane-hours", "propane-weight", "vaporization", "fresh-hours", "waste-hours", "which-first", "fill-time",
        "water-weight", "tank-depth", "bleach-dose",
    }
)  # fmt: skip
"""Calculations whose questions are sums; what no sum has a place for must not be answered with another number."""
_MEASURES: Mapping[str, frozenset[str]] = {
    "volume": frozenset("gal L mL fl_oz floz cup tbsp tsp qt pt drops".split()) | {"fl oz"},
    "mass": frozenset({"lb", "kg", "ton"}),
    "length": frozenset({"in", "cm", "ft", "m"}),
    "share": frozenset({"percent", "fraction"}),
    "time": frozenset({"h", "min", "s", "days", "weeks", "months"}),
    "people": frozenset({"people", "persons"}),
    "strength": frozenset({"ppm", "mg/L"}),
    "times": frozenset(
        {
            "times",
            "showers",
            "flushes",
            "uses",
            "cylinders",
            "bottles",
            "buckets",
            "trips",
            "furnaces",
            "heaters",
            "loads",
        }
    ),
}
"""Units that answer what is wanted."""


def _answers(question: Question, estimate: Estimate) -> bool:
    """Whether a number measures what is wanted: a depth is no answer to how many gallons."""
    want = wanted(question)
    units = {estimate.unit, *(one.unit for one in estimate.also)}
    if want is not None and want.rate and not any("/" in unit or unit in ("gpm", "gph") for unit in units):
        return False
    if compares(question) or (_A_LEVEL.search(question.frame) and units <= _MEASURES["time"] | _RATES):
        return False
    if (
        want is not None
        and want.difference
        and len(question.amounts) > 1
        and not _DIFFERS.search(f"{estimate.name} {estimate.verdict}")
    ):
        return False
    return want is None or want.kind not in _MEASURES or bool(units & _MEASURES[want.kind])


_A_LEVEL = re.compile(
    r"\b(?:what|how (?:much|full)) (?:' ?)?(?:ll|will|would) (?:[a-z]+ ){0,3}?(?:be|have|read|show|left)\b(?! (?:the time|empty|full|dry|out))"
)
_RATES = frozenset({"percent/h", "gal/h", "gal/day"})
_MAYBE_GAS = r"\b(?:paid|bought|pumped|filler|fill station|took in|guy put)\b"
_WATERY = r"\b(?:water|fresh|waste|tanks?|black|gr[ae]y|sewage|dump\w*|hose|clean)\b"
_DIFFERS = re.compile(
    r"\b(?:spare|short|left|room|over|under|more|heavier|lighter|add|lasts?|difference)\b", re.IGNORECASE
)


def _placed(worked: Worked, question: Question, coach: Coach, now: datetime) -> Worked:
    """The answer, or what of the question it would have left out."""
    if worked.estimate is None or worked.estimate.value is None or worked.calculation in _DATED:
        return worked
    unit_asked = asked_unit(question)
    units = [worked.estimate.unit, *(figure.unit for figure in worked.estimate.also)]
    if unit_asked in _PLAIN_UNITS and not any(unit == unit_asked or same_kind(unit, unit_asked) for unit in units):
        return replace(
            worked, estimate=None, refused="I can't work that out from these numbers. Ask it in other words."
        )
    worked = _by_the_clock(worked, question, now)
    assert worked.estimate is not None
    assumes = any(one.origin == "assumed" and one.name.endswith("_use") for one in worked.inputs)
    if doubt := unsure(question, worked.calculation, worked.estimate, assumes):
        return replace(worked, estimate=None, refused=doubt)
    if worked.calculation == "water-weight" and question.has(_MAYBE_GAS) and not question.has(_WATERY):
        return replace(worked, estimate=None, refused="Is that propane, water or diesel? Ask it again with the word.")
    if not (
        _answers(question, worked.estimate)
        if worked.calculation in _SUMMED
        else measures(question, worked.calculation, worked.estimate)
    ):
        return replace(
            worked, estimate=None, refused="I can't work that out from these numbers. Ask it in other words."
        )
    left = unplaced(
        question,
        worked.inputs,
        worked.estimate,
        coach,
        worked.calculation not in _COLD_COUNTS,
        strict=True,
    )
    if not left:
        return worked
    text = f"I can't place {words(question, left)} in this. Ask again and say what each number is."
    return replace(worked, estimate=None, refused=text)


_ABOUT: Mapping[str, tuple[tuple[str, str], ...]] = {
    "propane": (("propane-days-left", r"\b(?:last|days|nights|run out|hold out|long|left|enough|empty|hours)\b"),),
    "fresh": (
        ("tank-depth", r"\bhow many gallons\b"),
        ("fill-by", r"\bfill\b"),
        ("fresh-hours", r"\b(?:last|run out|hours|days|long|left|empty|enough|dry)\b"),
    ),
    "waste": (
        ("tank-depth", r"\bhow many gallons\b"),
        ("dump-deadline", r"\b(?:dump|empty)\b"),
        ("waste-hours", r"\b(?:full|hours|long|left|last|days)\b"),
    ),
    "house_battery": (
        ("battery-hours", r"\b(?:last|hours|long|flat|left)\b"),
        ("battery-state", r"\b(?:percent|charge|full|low)\b"),
    ),
    "diesel": (("diesel-range", r"\b(?:far|miles|range|enough|last)\b"),),
}
"""What a question that names nothing asks about, by the reading told just before it."""
_NAMELESS = re.compile(
    r"^ (?:and |so |okay |ok |now )*(?:that|it|this)(?: is)? how (?:many|much|long)\b|^ (?:and |so |okay |ok |now )*(?:how (?:long|many|far|much)|when|what time|will|does|is)\b.*\b(?:it|that|this|we|they|those|them|us)\b"
)
_JUST_H = 0.5


def _about_latest(question: Question, stored: Sequence[StoredReading], now: datetime) -> str | None:
    """The calculation that "how many days is that" asks for right after a reading."""
    if not stored or question.amounts or len(question.words) > 10 or not _NAMELESS.search(question.frame):
        return None
    held = stored[-1]
    for back in reversed(stored):
        if back.reading.what in _ABOUT:
            held = back
            break
    if held.reading.what not in _ABOUT or (now - held.at).total_seconds() / 3600 > _JUST_H:
        return None
    return next((name for name, words in _ABOUT[held.reading.what] if re.search(words, question.frame)), None)


_NAMES = re.compile(
    r"\b(?:fresh|waste|black|gr[ae]y|sewage|clean|water|propane|gas|cylinders?|bottles?|furnaces?|batter\w*|bank|diesel|fuel|tires?|hose|cabin|heater|pad|cord|breaker|drive|driving|idle|idling)\b"
)
_HOW_LONG = re.compile(r"\b(?:how (?:long|many hours|much (?:longer|time))|when|what time|hours left|time left)\b")


def _rate_of_latest(question: Question, stored: Sequence[StoredReading], now: datetime) -> str | None:
    """ "It's going up five percent an hour, how long have I got" right after the tank that was told."""
    rates = [amount for amount in question.amounts if amount.per in ("h", "day")]
    if not stored or len(rates) != 1 or _NAMES.search(question.frame) or not _HOW_LONG.search(question.frame):
        return None
    held = next((one for one in reversed(stored) if one.reading.what in _ABOUT), None)
    if held is None or (now - held.at).total_seconds() / 3600 > _JUST_H:
        return None
    return {"fresh": "fresh-hours", "waste": "waste-hours"}.get(held.reading.what)


_TANK_DEADLINES = frozenset({"fill-by", "dump-deadline"})


def _other_supply(question: Question, calculation: str) -> str | None:
    """The supply that a question names, when the calculation is about another one that it does not name; else None."""
    named = [what for what, (words, _) in _SUPPLIES.items() if words.search(question.frame)]
    about = {what for what, (_, parts) in _SUPPLIES.items() if any(part in calculation for part in parts)}
    return named[0] if named and about and not about & set(named) else None


def _speaks_of_propane(stored: Sequence[StoredReading], last: Worked | None) -> bool:
    """Whether "when do we have to fill it" is about the cylinders."""
    if last is not None:
        return last.calculation.startswith("propane")
    told = [held.reading.what for held in stored if held.reading.what in _ABOUT]
    return bool(told) and told[-1] == "propane"


def _worked(name: str, sheet: Sheet) -> Worked:
    """Read the inputs of the text, and work out."""
    topic, said, solve = CALCULATIONS[name]
    try:
        said(sheet)
        unit_asked = asked_unit(sheet.q)
        if unit_asked and name != "unit-conversion":
            sheet.note("unit", unit_asked)
        return _solved(name, topic, sheet, solve)
    except Missing as missing:
        return _asked(name, topic, sheet, missing)
    except ValueError as error:
        return Worked(name, topic, refused=_sentence(error), inputs=_kept(sheet))


def _solved(name: str, topic: str, sheet: Sheet, solve: Solved) -> Worked:
    try:
        estimate = sheet.closed(solve(sheet))
    except TypeError as error:
        # pint's own error for a quantity of the wrong kind, which must not need pint to be loaded here.
        if type(error).__name__ != "DimensionalityError":
            raise
        return Worked(
            name, topic, refused="Those units do not fit together. Say it again with the units.", inputs=_kept(sheet)
        )
    return Worked(name, topic, estimate, inputs=_kept(sheet))


def _asked(name: str, topic: str, sheet: Sheet, missing: Missing) -> Worked:
    kept = tuple(given for given in sheet.inputs.values() if given.origin == "said")
    pending = Pending(name, kept, missing.name, missing.unit)
    return Worked(name, topic, question=missing.question, pending=pending, inputs=kept)


def _kept(sheet: Sheet) -> tuple[Input, ...]:
    return tuple(sheet.inputs.values())


def _sentence(error: ValueError) -> str:
    text = str(error).strip() or "That can't be worked out."
    return text[0].upper() + text[1:] + ("" if text.endswith((".", "?", "!")) else ".")


# -- the answer to a question asked back --------------------------------------------------------


def _completed(
    question: Question, pending: Pending, coach: Coach, stored: Sequence[StoredReading], now: datetime
) -> Worked | None:
    topic, said, solve = CALCULATIONS[pending.calculation]
    sheet = Sheet(question, coach, stored, now, pending.inputs, follows=True)
    try:
        bare = len(question.words) <= 3 and len(question.amounts) == 1 and question.amounts[0].unit == "n"
        if bare and pending.unit != "date":  # "May 2021" is no number
            _bare(sheet, question, pending)
        else:
            said(sheet)
        if not sheet.fresh - {"ask", "tank", "thing", "unit"}:
            _bare(sheet, question, pending)
        if not sheet.fresh - {"ask", "tank", "thing"} and _UNKNOWN.search(question.frame):
            sheet.note(pending.missing, "unknown")
        if not sheet.fresh - {"ask", "tank", "thing"}:
            return None
        return _solved(pending.calculation, topic, sheet, solve)
    except Missing as missing:
        if missing.name == pending.missing and sheet.unknown(missing.name):
            text = f"Without that there is no number. {missing.question}"
            return Worked(
                pending.calculation,
                topic,
                question=text,
                pending=replace(pending, inputs=pending.inputs),
                inputs=_kept(sheet),
            )
        return _asked(pending.calculation, topic, sheet, missing)
    except ValueError as error:
        return Worked(pending.calculation, topic, refused=_sentence(error), inputs=_kept(sheet))


def _bare(sheet: Sheet, question: Question, pending: Pending) -> None:
    """Take a bare number, or one in a fitting unit, as what was asked for."""
    for amount in question.amounts:
        if amount.unit in ("used", "clock"):
            continue
        unit = pending.unit
        if pending.missing == "flow" and amount.unit in ("s", "min"):
            minutes = amount.value / (60 if amount.unit == "s" else 1)
            sheet.note("bucket", 5.0, "gal")
            sheet.note("bucket_time", amount.value, amount.unit)
            sheet.note("flow", 5.0 / minutes if minutes else 0.0, "gpm")
            return
        if _fits(amount, unit):
            name = {"fresh": "fresh_share", "waste": "waste_share"}.get(pending.missing, pending.missing)
            value = amount.value
            if name == "cylinders":
                value = value / (1 if amount.unit == "part" else 100)
                sheet.note(name, value * (2 if question.has(r"\bboth\b") else 1))
                return
            if name in ("charge", "share"):
                sheet.note(name, value / (1 if amount.unit == "part" else 100))
                return
            sheet.say(name, amount._replace(value=value), question.scale if unit == "temp" else unit)
            return
    if question.has(r"\bfull\b") and pending.unit == "percent":
        sheet.note({"fresh": "fresh_share", "waste": "waste_share"}.get(pending.missing, pending.missing), 1.0, "part")


def _fits(amount: Amount, unit: str) -> bool:
    if amount.unit == "n":
        return True
    if unit == "temp":
        return amount.unit in ("F", "C", "temp")
    if unit == "percent":
        return amount.unit in ("percent", "part")
    return amount.tag == unit or same_kind(amount.tag.replace("gal/min", "gpm"), unit)


# -- questions that lean on the answer before -----------------------------------------------------


def _leans(question: Question, name: str | None, last: Worked) -> bool:
    """Whether the text changes something about the last answer instead of asking anew."""
    short = len(question.words) <= 14
    if not short or not (_FOLLOWS.search(question.frame) or (asked_unit(question) and not question.amounts)):
        return False
    if name is not None and name != last.calculation and not (name == "unit-conversion" and not question.amounts):
        return _OTHER_DRIVER.search(question.frame) is not None and last.calculation == "driving-hours"
    return not (_STATES.search(question.frame) and not _SUPPOSED.search(question.frame)) or name == last.calculation


_OTHER_DRIVER = re.compile(r"\b(?:other (?:guy|driver|fellow|man|one)|co ?driver|partner|relief)\b")


def _again(
    question: Question, last: Worked, coach: Coach, stored: Sequence[StoredReading], now: datetime
) -> Worked | None:
    """The last calculation once more, with what the text changes."""
    name = last.calculation
    if last.estimate is not None and last.estimate.source == SPLIT_SOURCE:
        # which of the hours lies where is told by their order, and one of them alone does not say it
        return Worked(name, last.topic, refused="Say all the hours again, in the order in which they were.")
    known = [given for given in last.inputs if given.origin == "said"]
    twin = _TWINS.get(name)
    if twin is not None and _names_other_tank(question, name):
        shared = [given for given in known if given.name in ("people", "needed")]
        return _worked(twin, Sheet(question, coach, stored, now, shared))
    topic, said, solve = CALCULATIONS[name]
    sheet = Sheet(question, coach, stored, now, known, follows=True)
    try:
        said(sheet)
        unit_asked = asked_unit(question)
        if unit_asked:
            sheet.note("unit", unit_asked)
        if not sheet.fresh:
            return None
        if (
            not sheet.fresh - {"ask", "tank", "thing"}
            and not asks_something(question)
            and not _SWITCHES.search(question.frame)
        ):
            return None
        worked = _solved(name, topic, sheet, solve)
        same = worked.estimate is not None and last.estimate is not None and worked.estimate.unit == last.estimate.unit
        return None if same and sheet.fresh <= {"unit"} else worked
    except Missing as missing:
        return _asked(name, topic, sheet, missing)
    except ValueError as error:
        return Worked(name, topic, refused=_sentence(error), inputs=_kept(sheet))


def _names_other_tank(question: Question, name: str) -> bool:
    fresh, waste = _FRESH_WORD.search(question.frame), _WASTE_WORD.search(question.frame)
    return bool(waste and not fresh) if name in ("fresh-hours", "fill-by") else bool(fresh and not waste)


# -- what is said and shown -------------------------------------------------------------------------


def say(worked: Worked) -> str:
    """The short form for the ear: the number first, its range in words, then what to do by when."""
    if worked.refused:
        return worked.refused
    if worked.question:
        return worked.question
    if worked.estimate is None:
        return ""
    return f"{_say(worked.estimate)}{' ' + DOUBTFUL if worked.doubtful else ''}"


def show(worked: Worked) -> tuple[str, ...]:
    """Lines for the eye: the number, its range, the verdict, what stands beside it."""
    if worked.refused:
        return (worked.refused,)
    if worked.question:
        return (worked.question,)
    if worked.estimate is None:
        return ()
    named = ((role.replace("_", " "), words) for role, words in worked.taken)
    taken = ", ".join(words if role in words else f"{role} {words}" for role, words in named)
    told = (f"Taken: {taken}.",) if len(worked.taken) > 1 else ()
    return (*_show(worked.estimate), *told, *((DOUBTFUL,) if worked.doubtful else ()))
