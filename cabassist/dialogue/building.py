"""Sums that build on what stands: on the last number ("how long would that last"), on a reading told ("how full is that at
eighty degrees", "service is due at five hundred, how many hours is that") or on the heads aboard ("two gallons each").

The question is put once more with what it leans on said in words, so that the same readers of sums judge it, and nothing is
answered when they do not use what was put in.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from cabassist.dialogue import reckoning, spent_by
from cabassist.dialogue.anew import SHARES, worked_anew
from cabassist.dialogue.following import AMOUNT, NOT_MADE
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain
from cabassist.language.reading_types import Reading

if TYPE_CHECKING:
    from cabassist.sums.working import Worked

LATELY = timedelta(minutes=30)
"""How long "that" may mean a reading that was told."""
_THAT = Lazy(r"\b(?:that|it|this|those)\b")
_LASTS = Lazy(
    r"\b(?:last|lasts|run|runs|go|goes|burn|feed|keep|do us|get us|get through|good for|take us|hold us|stretch)\b"
)
_HOW_FAR = Lazy(r"\bhow (?:far|many miles)\b")
_CARRIED = {
    "lb": "pounds",
    "kg": "kilograms",
    "gal": "gallons",
    "L": "liters",
    "Ah": "amp hours",
    "kWh": "kilowatt hours",
}
"""Amounts that a later question may be about, as words."""
_OWN = frozenset({*_CARRIED, "percent", "part"})
_ASKS = Lazy(r"\b(?:how (?:many|much|long|far|full|low|high)|what (?:does|do|is|would|will|per ?cent)|what's|enough)\b")
_EACH = Lazy(r"\b(?:each|apiece|a head|per head|per person|a person|per man)\b")
_OF_NOW = re.compile(
    r"^(?:(?:and|so|ok|okay|then) )*(?:now )?(?P<asks>how (?:full|long|much|many|far)|what)(?: (?:is|does|would|will))?(?: (?:it|that|this))?(?: (?:now|then))*$"
)


_HOWS_IT = Lazy(
    r"\bhow(?:'?s| does| will|'?ll|'?d)? (?P<that>that|it|this) (?P<verb>run|last|keep|feed|do|go|hold|burn)\b(?! (?:off|out|down|bad|wrong))",
    re.IGNORECASE,
)
""" "How's that run one furnace": how long."""


def built(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The answer to a question that leans on a number, a reading or the heads that stand; else None."""
    if state.pending is not None or state.last is None:
        return None
    text = _HOWS_IT.sub(r"how long does \g<that> \g<verb>", re.sub(r"\bpercentage\b", "percent", text))
    said = bare(text)
    if not AMOUNT.search(said):
        return (
            _of_other(state, said, ranking, mind, now)
            or _of_one_cylinder(state, said, ranking, mind, now)
            or _asked_again(state, said, text, ranking, mind, now)
        )
    if (anew := spent_by.at_so_many(state, said, text, ranking, mind)) is not None:
        return anew
    if not _ASKS.search(said):
        return _counted_anew(state, text, ranking, mind, now)
    return (
        _by_part(state, text, ranking, mind, now)
        or _share_of(state, said, text, ranking, mind)
        or _of_number(state, said, text, ranking, mind, now)
        or spent_by.until_due(state, said, text, ranking, mind)
        or _of_told(state, said, text, ranking, mind, now)
        or _of_cylinders(state, said, text, ranking, mind, now)
        or by_head(state, text, ranking, mind, now)
    )


def _worked(whole: str, state: State, mind: Mind, now: datetime) -> Worked | None:
    return worked_anew(whole, state, mind, now, mind.ranked(whole).calculations)


def _of_number(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "How long would that last", with a new draw, after a number of pounds, gallons or amp hours."""
    from cabassist.dialogue.trusting import uses

    last = state.worked.estimate if state.worked is not None else None
    if last is None or last.value is None or last.unit not in _CARRIED or state.last is None:
        return None
    goes = _LASTS.search(said) or (last.unit in ("gal", "L") and _HOW_FAR.search(said))
    if state.last.kind != "calculation" or not (_THAT.search(said) and goes):
        return None
    from cabassist.language.calculation_inputs import read_question

    if any(one.unit in _OWN and not one.per for one in read_question(_DUTY.sub(" ", text)).amounts):
        return None  # the question has a supply of its own
    about = f"{state.worked.calculation if state.worked else ''} {last.name}"
    thing = next((word for word in ("propane", "diesel", "water", "fresh") if word in about), "")
    of = f" of {'water' if thing == 'fresh' else thing}" if thing else ""
    whole = f"{last.value:.6g} {_CARRIED[last.unit]}{of}, {text}"
    worked = _worked(whole, state, mind, now)
    if worked is None or not uses(worked, last.value):
        return None
    return reckoning.answer(state, worked, whole, ranking, mind)


_DUTY = Lazy(
    r"\b(?:half|(?:a|one) (?:third|quarter)|two thirds|three quarters|[\w.]+ ?(?:percent|per cent|%)) (?:of )?the (?:time|hour|night|day)\b",
    re.IGNORECASE,
)
"""How much of the time something burns or draws."""
_OUT_OF = Lazy(r"\bof (?:a |an |the |my |our )?(?:\d|[a-z])")


def _share_of(state: State, said: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """ "Out of two hundred amp hours how many is that", after a share of full: so much of it; else None."""
    last = state.worked.estimate if state.worked is not None else None
    if last is None or last.value is None or last.unit != "percent" or state.last is None or state.worked is None:
        return None
    if state.last.kind != "calculation" or not _OUT_OF.search(said) or not _THAT.search(said):
        return None
    from cabassist.estimate.quantities import shown
    from cabassist.estimate.types import Estimate
    from cabassist.language.calculation_inputs import read_question
    from cabassist.sums.working import Worked

    amounts = read_question(text).amounts
    if len(amounts) != 1 or amounts[0].unit not in _CARRIED or amounts[0].per:
        return None
    whole = amounts[0]
    part, low, high = (
        None if one is None else round(one / 100 * whole.value, 4) for one in (last.value, last.low, last.high)
    )
    line = f"{shown(last.value)} % of {shown(whole.value)} {whole.unit} = {shown(part or 0.0)} {whole.unit}"
    estimate = Estimate(
        "share-of-whole", part, whole.unit, low=low, high=high, working=(line,), source="arithmetic on the share"
    )
    found = Worked(state.worked.calculation, state.worked.topic, estimate=estimate)
    return reckoning.answer(state, found, text, ranking, mind)


_SHARED = Lazy(r"\b(?:shared?|split|divided?|each|apiece|per (?:head|person|man)|a head|last\w*|full|at)\b")


_OTHER_TANK = re.compile(
    r"^(?:(?:and|so|ok|okay|then|now) )*(?:(?:the )?same (?:for|with|thing for|thing with)|what about|how about|and)? ?(?:the )?other (?:tank|one)$"
)


def _of_other(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "Same for the other tank": the last sum about one of the two water tanks asked of the other; else None."""
    last = state.worked
    if last is None or last.estimate is None or state.last is None or state.last.kind != "calculation":
        return None
    before = plain(state.question)
    named = [word for word in ("fresh", "waste") if re.search(rf"\b{word}\b", before)]
    if not _OTHER_TANK.match(said) or len(named) != 1 or AMOUNT.search(before):
        return None  # an amount was told of the one tank only
    whole = re.sub(rf"\b{named[0]}\b", "waste" if named[0] == "fresh" else "fresh", before)
    worked = _worked(whole, state, mind, now)
    if worked is None or worked.calculation != last.calculation:
        return None
    return reckoning.answer(state, worked, whole, ranking, mind)


def in_words(reading: Reading) -> str:
    """A reading as words that begin a question."""
    unit = {"fraction": "percent", "h": "hours", "persons": "people"}.get(reading.unit or "", reading.unit or "")
    value = (reading.value or 0.0) * (100 if reading.unit == "fraction" else 1)
    which = f"{reading.which} " if reading.which else ""
    return f"{which}{reading.what.replace('_', ' ')} {value:.6g} {unit}"


def level_of(reading: Reading, mind: Mind) -> Reading:
    """A reading as a question is built on it: a depth from the top as what is in there, not what is missing."""
    from cabassist.dialogue.held import amount_of

    inside = amount_of(reading, "percent", mind.coach) if reading.counted_from == "top" else None
    return reading if inside is None else replace(reading, value=round(inside, 2), unit="percent")


def _of_told(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "How full is that at eighty degrees": a sum on the one reading told last."""
    from cabassist.dialogue.held import amount_of
    from cabassist.dialogue.trusting import uses

    if len(state.told) != 1 or not state.stored or now - state.stored[-1].at > LATELY or state.last is None:
        return None
    points = _THAT.search(said) is not None
    if points and state.last.kind == "clarify" and state.last.say in NOT_MADE:
        return None  # "that" is what could not be told
    if not points and state.last.kind not in ("reading", *_SPOKEN_SINCE):
        return None
    told = state.told[0]
    if not points and len({held.reading.which for held in state.stored if held.reading.what == told.what}) > 1:
        return None  # the one told last is not all there is
    from cabassist.language.calculation_inputs import read_question

    heads_only = not any(one.per or one.unit not in ("n", "people") for one in read_question(text).amounts)
    if heads_only and told.what != "house_battery" and not (points and _SHARED.search(said)):
        return None  # so many heads say nothing of a level, and are not to be multiplied by it
    if (
        state.stored[-1].reading != told
        or told.value is None
        or (state.last.kind == "calculation" and not _of_held(state))
    ):
        return None
    if told.what == "house_battery" and heads_only:  # "what's that in percent, it's about seventy in here"
        text = next((part for part in re.split(r"[,.;] ", text) if _ASKS.search(bare(part))), text)
    told = level_of(told, mind)
    whole = f"{in_words(told)}, {text}"
    worked = _worked(whole, state, mind, now)
    means: list[float | None] = [told.value]
    if not heads_only:
        part = told.value * 100 if told.value is not None and told.unit == "fraction" else None
        means += [part, amount_of(told, "gal", mind.coach)]
    if worked is None or not any(uses(worked, one) for one in means if one) or not (points or worked.whole):
        return None
    if state.last.kind in _SPOKEN_SINCE and not worked.whole:
        return None  # it may lean on something else that was said since
    heads = [one for one in read_question(text).amounts if one.unit == "people"]
    if not all(uses(worked, one.value) for one in (heads if worked.whole else read_question(text).amounts)):
        return None  # an amount left out makes it another sum
    if worked.estimate is not None and worked.estimate.value == 0:
        return None  # heads shared out as if they were gallons
    return reckoning.answer(state, worked, whole, ranking, mind)


_SPOKEN_SINCE = ("control", "clarify", "calculation")


def _of_held(state: State) -> bool:
    """Whether the last number was what the reading comes to in another unit."""
    from cabassist.dialogue.held import NAME

    last = state.worked.estimate if state.worked is not None else None
    return last is not None and last.name.startswith(NAME)


_OF_ONE = Lazy(
    r"\b(?:from|on|off|out of|in|with|using) (?:just |only )*(?:the )?(?P<which>outside|inside|outer|inner|spare)(?: (?:one|bottle|cylinder|tank))?(?: (?:alone|only|by itself|on its own|then))*$|\b(?P<will>outside|inside|outer|inner|spare) (?:one|bottle|cylinder|tank)(?: (?:alone|only))?(?: (?:last|run|burn|keep|feed|do|give|hold|go))"
)
"""The one cylinder that is asked about."""
_BURNERS = Lazy(r"\b(?:furnaces?|heaters?|burners?|btus?)\b")
_HAS_PROPANE = Lazy(
    r"\b(?:bottles?|cylinders?|tanks?|gallons?|pounds?|lbs?|kilos?|litres?|liters?|pounders?|full|empty)\b"
)
_HOURS_ASKED = Lazy(r"\bhow (?:many (?:hours|days|nights)|long)\b|\bhours\b.*\?$")


def _of_cylinders(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """How long furnaces that are told of burn on what stands in the cylinders, where the question leaves that out; else None."""
    if not (_BURNERS.search(said) and _HOURS_ASKED.search(said)) or _HAS_PROPANE.search(_OF_ONE.sub(" ", said)):
        return None
    newest = _cylinders_read(state)
    if None in newest and len(newest) > 1:
        return None
    named = _OF_ONE.search(said)
    meant = _SIDES.get(word := named["which"] or named["will"], word) if named is not None else None
    read = [one for which, one in newest.items() if which == meant or (meant is None and which != "spare")]
    return _burned(state, read, text, ranking, mind, now)


def _cylinders_read(state: State) -> dict[str | None, Reading]:
    """The newest level of each cylinder."""
    return {held.reading.which: held.reading for held in state.stored if held.reading.what == "propane"}


_ONE_CYLINDER = Lazy(
    r"^(?:(?:and|so|ok|okay|but|what about|how about|what if|now|then) )*(?:(?:just|only|with|on|from|off|for|using|i use|we use|i burn|we burn|it's) )*the (?P<which>outside|inside|outer|inner)(?: (?:one|bottle|cylinder|tank))?(?: (?:alone|only|by itself|on its own|then|instead))*$"
    r"|^(?:(?:and|so|ok|okay|but|what about|how about|now|then) )*(?:(?:with|on|from|using) )*(?P<all>both(?: of them)?|the two(?: of them)?)(?: (?:together|then))*$"
)
_SIDES = {"outer": "outside", "inner": "inside"}
_OF_POUNDS = Lazy(r"^[\d.]+ pounds of propane, (?P<question>.+)$")


def _of_one_cylinder(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And just with the outside one", after a sum on all that is in the cylinders; else None."""
    found, before = _ONE_CYLINDER.match(said), _OF_POUNDS.match(state.question)
    if found is None or before is None or state.last is None or state.last.kind not in ("calculation", "control"):
        return None
    which = _SIDES.get(found["which"], found["which"])
    read = [one for name, one in _cylinders_read(state).items() if name != "spare" and which in (None, name)]
    return _burned(state, read, before["question"], ranking, mind, now)


def _burned(
    state: State, read: list[Reading], text: str, ranking: Ranking, mind: Mind, now: datetime
) -> Outcome | None:
    """The answer to a question about furnaces with the propane of these levels in front of it."""
    from cabassist.dialogue.held import amount_of
    from cabassist.dialogue.telling import echo
    from cabassist.dialogue.trusting import uses

    pounds = [amount_of(one, "lb", mind.coach) for one in read]
    total = sum(one or 0.0 for one in pounds)
    if not total or None in pounds:
        return None
    whole = f"{total:.6g} pounds of propane, {text}"
    worked = _worked(whole, state, mind, now)
    if worked is None or worked.estimate is None or not worked.whole or not uses(worked, total):
        return None
    told = tuple(echo(one, mind.coach) for one in read)
    worked = replace(worked, estimate=replace(worked.estimate, assumptions=(*told, *worked.estimate.assumptions)))
    return reckoning.answer(state, worked, whole, ranking, mind)


def _asked_again(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And now how full", after the reading that a sum was built on was told anew."""
    from cabassist.dialogue.trusting import uses

    found, last = _OF_NOW.match(said), state.last
    question = state.question.replace(" ,", ",")
    if found is None or last is None or last.kind != "reading" or len(state.told) != 1 or ", " not in question:
        return None
    told, (before, _, rest) = state.told[0], question.partition(", ")
    named = " ".join(in_words(told).split()[:-2])
    asks = plain(rest).startswith(found["asks"]) or re.search(rf" {found['asks']}\b", plain(rest)) is not None
    if (
        not before.startswith(named)
        or not asks
        or told.value is None
        or (found["asks"] == "what" and said == "what now")
    ):
        return None
    whole = f"{in_words(told)}, {rest}"
    worked = _worked(whole, state, mind, now)
    if worked is None or not uses(worked, told.value):
        return None
    return reckoning.answer(state, worked, whole, ranking, mind)


_OF_THEM = Lazy(
    r"\b(?:(?:if |for |it's |only |just |that's )*)(?P<part>half|a third|a quarter|two thirds|three quarters) of (?:them|us|the (?:team|players|passengers|kids|guys))\b"
)
"""Not all who are aboard."""
_COUNTED_AS = Lazy(r"\b(?:so )?(?:call it|say|make it|that's|which is) (?P<heads>\w+(?: \w+)?)$")
_A_DAY = re.compile(r" (?:a|per|each|every) (?:day|night)\b")


def _by_part(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "Four gallons each for half of them": for so many of those aboard; asked back when it does not come out."""
    from cabassist.dialogue.following import not_placed
    from cabassist.dialogue.trusting import uses
    from cabassist.language.calculation_inputs import read_question

    aboard = [held.reading.value for held in state.stored if held.reading.what == "passengers"]
    said = plain(text)
    part = _OF_THEM.search(said) if _EACH.search(bare(text)) and aboard else None
    if part is None or not aboard[-1]:
        return None
    counted = _COUNTED_AS.search(said)
    told = read_question(f"{counted['heads']} people").amounts if counted is not None else ()
    heads = told[0].value if told else aboard[-1] * SHARES[part["part"]]
    rest = " ".join(_OF_THEM.sub(" ", _COUNTED_AS.sub("", said)).split())
    whole = f"{heads:g} people, {rest}"
    worked = _worked(whole, state, mind, now)
    if worked is None or heads != round(heads) or not uses(worked, heads) or not all(uses(worked, one.value) for one in read_question(rest).amounts):  # fmt: skip
        return not_placed(state, mind)
    return reckoning.answer(state, worked, whole, ranking, mind)


def by_head(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "Two gallons each, what does that come to": for all who were told to be aboard."""
    from cabassist.dialogue.trusting import uses

    if not _EACH.search(bare(text)):
        return None
    heads = [held.reading.value for held in state.stored if held.reading.what == "passengers"]
    from cabassist.language.calculation_inputs import read_question

    amounts = read_question(text).amounts
    if not heads or not heads[-1] or any(one.unit == "people" for one in amounts):
        return None
    bags = [one for one in amounts if one.unit == "bag" and one.each]
    whole = f"{heads[-1]:g} people, {text}"
    used = heads[-1]
    if len(bags) == 1:  # so many bags in all, which each weigh so much
        words, used = read_question(text).words, heads[-1] * bags[0].value
        whole = " ".join([*words[: bags[0].start], f"{used:g} bags", *words[bags[0].end :]])
    worked = _worked(whole, state, mind, now)
    if worked is None and len(amounts) == 1 and amounts[0].per == "day":  # a head and day: so much for all, each day
        worked = _worked(whole := _A_DAY.sub("", whole), state, mind, now)
    if worked is None or not worked.whole or not uses(worked, used):
        return None
    outcome = reckoning.answer(state, worked, whole, ranking, mind)
    # asked with other bags, or by other heads, it is by head again
    return outcome._replace(state=replace(outcome.state, question=text)) if bags else outcome


_COUNTS = {"both": "two", "only one": "one", "all three": "three", "all four": "four"}
_COUNTED = re.compile(
    r"^(?:(?:and|so|ok|okay|but|what about|how about|what if (?:it's|it is|i run|we run|i use)|if (?:it's|it is|i run|we run)|with|for|say|same (?:for|with)) )*(?P<count>both|one|two|three|four|only one|all three|all four)(?: of)?(?: the| those| these| them)? (?P<thing>[a-z]{4,})(?: (?:on|running|going|together|at once|instead|then|flat out))*$"
)


def _counted_anew(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And both furnaces?" after a sum about one: the question with so many of the same thing in it."""
    found, last = _COUNTED.match(bare(text)), state.worked
    if found is None or last is None or last.estimate is None or state.last is None or state.last.kind != "calculation":
        return None
    thing = found["thing"].removesuffix("es") if found["thing"].endswith(("ces", "ses")) else found["thing"]
    thing = thing.removesuffix("s")
    count = _COUNTS.get(found["count"], found["count"])
    many = thing + (
        "" if count == "one" else "s" if thing.endswith("e") else "es" if thing.endswith(("c", "s")) else "s"
    )
    before = plain(state.question)
    whole, swaps = re.subn(
        rf"\b(?:one|a|an|the|each|single|two|three|both) {thing}\w{{0,2}}\b", f"{count} {many}", before, count=1
    )
    worked = _worked(whole, state, mind, now) if swaps else None
    same = worked is None or worked.calculation != last.calculation or worked.estimate is None
    if worked is None or same or worked.estimate is None or worked.estimate.value == last.estimate.value:
        return None
    return reckoning.answer(state, worked, whole, ranking, mind)
