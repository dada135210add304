"""What is supposed of the last sum in words of its own: "and if they run flat out", "and if it warms up to twenty", "only half full",
"how many could have one with what's in there".

The question is put once more with what is supposed in the place of what it said, and the answer must follow from the one before;
where it does not, it is asked back rather than guessed.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import reckoning
from cabassist.dialogue.anew import NEAR, SHARES, number_of, worked_anew
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import plain

if TYPE_CHECKING:
    from cabassist.language.calculation_inputs import Question
    from cabassist.sums.working import Worked

_LEAD = r"^(?:(?:ok|okay|so|and|but|or|no|wait|oh|well|hm+|right|alright|then|now|what if|if|say|suppose|supposing|what about|how about|let's say|how long if|what's that if) )*"


def supposed(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last sum with what the text supposes in it, asked back where that has no place; None when it supposes nothing of the kind."""
    return (
        _burning(state, said, ranking, mind, now)
        or _warmer(state, said, text, ranking, mind, now)
        or _tire_reads(state, said, ranking, mind, now)
        or _for_part(state, said, ranking, mind, now)
        or _enough(state, said, text, ranking, mind, now)
    )


def _not_placed(state: State, mind: Mind) -> Outcome:
    from cabassist.dialogue.following import not_placed

    return not_placed(state, mind)


_RATE = Lazy(
    r"^(?:(?:and|so|ok|okay|but|or|then|now|what about|how about|what if it's|if it's|make it|say) )*(?:at |with |for |on |only |just |about )*(?:\d[\d.]*|[a-z]+(?:[ -][a-z]+){0,2}) (?:(?:gallons?|gals?|lit(?:er|re)s?|pounds?|percent|amps|watts|miles|of (?:them|those)) )?(?:a|per|an|every|each) (?:minute|min|second|sec|moment|hour)(?: (?:instead|then))?$"
)


def goes_on(state: State, text: str) -> bool:
    """Whether words that sound like a command go on with the last number: "and at eight a minute" asks for no pause."""
    said = plain(text)
    if reckoning.standing(state) is not None and AMOUNT.search(said) and _RATE.match(said):
        return True
    return bool(state.given) and _SERVES.match(said) is not None


# -- how much of the time -------------------------------------------------------------------------

_SHARES = SHARES | {"one third": 1 / 3, "one quarter": 1 / 4, "all": 1.0}
_FLAT_OUT = r"flat out|full (?:time|blast|bore|on|tilt|out)|wide open|non ?-?stop|all (?:of )?the time|the (?:whole|entire) time|constantly|continuously|steady|all (?:day|night)(?: long)?|without (?:a break|stopping|a stop|cycling|let ?up)"
_PART_OF = r"half|(?:a|one) (?:third|quarter)|two thirds|three quarters"
_BURNING = Lazy(
    _LEAD
    + r"(?:(?:they|it|both|those|each|we|i|the (?:furnaces?|heaters?|burners?))(?:'re|'s| are| is|'ll| will)?(?: both| all)? )?(?:only |just |really |have to |had to |to )*(?:run|runs|running|ran|burn|burns|burning|go|goes|going|on|work|working|kept? (?:going|running|burning)|at)?(?: (?:it|them|on|at))? ?"
    rf"(?:(?P<flat>{_FLAT_OUT})|(?P<part>{_PART_OF}) (?:of )?the (?:time|night|hour))(?: (?:then|instead|now|though|tonight|both|together))*$"
)
_DUTY_SAID = Lazy(
    rf"\b(?:(?P<flat>{_FLAT_OUT})|(?P<part>{_PART_OF}) (?:of )?the (?:time|night|hour)|(?P<percent>[\w.]+(?: (?:and a half|point \w+|\w+))? ?(?:percent|per cent|%))(?: of the (?:time|night|hour)| duty)?)(?=$|[ ,.?])"
)


def _burning(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And if they run flat out", after a sum on furnaces: so much of the time."""
    worked = state.worked
    if worked is None or worked.calculation != "propane-hours" or not state.question:
        return None
    part = _part_said(said)
    if part is None:
        return None
    from cabassist.language.calculation_inputs import read_question

    before = " ".join(read_question(state.question).words)
    told = _duty_in(before)
    if told is None:
        return _not_placed(state, mind)
    stood, share = told
    words = {1.0: "all the time", 0.5: "half the time"}.get(part, f"{part * 100:.4g} percent of the time")
    runs = "" if stood is None or _RUNS.search(before[: stood[0]]) else "running "
    whole = f"{before[: stood[0]]}{runs}{words}{before[stood[1] :]}" if stood else _with_duty(before, words)
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation or not number_of(worked) or not number_of(again):
        kept = any(
            one.name == "input" for one in worked.inputs
        )  # the heat of each, should another reader change the rest
        return None if kept else _not_placed(state, mind)
    ratio = number_of(again) / number_of(worked)
    return (
        reckoning.answer(state, again, whole, ranking, mind)
        if min(abs(ratio * part / share - 1), abs(ratio * share / part - 1)) < NEAR
        else _not_placed(state, mind)
    )


def when_so(said: str) -> bool:
    """Whether a text is one amount and when it would be so: "sixty percent if it's windy"."""
    from cabassist.dialogue import restating  # the reader of questions is loaded when it is needed

    return restating.when_so(said) is not None


def _part_said(said: str) -> float | None:
    """How much of the time a text supposes something to burn: "flat out", "seventy percent if it snows"."""
    from cabassist.dialogue import restating
    from cabassist.language.calculation_inputs import read_question

    if (found := _BURNING.match(said)) is not None:
        return _SHARES[found["part"]] if found["part"] else 1.0
    if (so := restating.when_so(said)) is None:
        return None
    amount = read_question(so["change"]).amounts[0]
    return amount.value / 100 if amount.unit == "percent" and 0 < amount.value <= 100 else None


def _with_duty(before: str, words: str) -> str:
    """The question with so much of the time put before what it asks."""
    asks = re.search(r",? (?:how|when|will|what)\b", before)
    return (
        f"{before[: asks.start()]}, burning {words}{before[asks.start() :]}" if asks else f"{before}, burning {words}"
    )


_RUNS = Lazy(r"\b(?:run|runs|running|burn|burns|burning|on|cycl\w+|duty(?: of)?|at)(?: (?:about|around|only|at))* $")


def _duty_in(before: str) -> tuple[tuple[int, int] | None, float] | None:
    """Where a question says how much of the time something burns, and how much; the whole time when it does not, None when it cannot be told."""
    from cabassist.language.calculation_inputs import read_question

    shares: list[tuple[tuple[int, int], float]] = []
    levels = 0
    for found in _DUTY_SAID.finditer(before):
        if found["flat"] or found["part"]:
            shares.append((found.span(), _SHARES[found["part"]] if found["part"] else 1.0))
            continue
        amounts = read_question(found[0]).amounts
        if len(amounts) != 1 or amounts[0].unit != "percent":
            return None
        words = read_question(found[0]).words
        start = found.start() + len(" ".join(words[: amounts[0].start])) + (1 if amounts[0].start else 0)
        if re.search(r"\b(?:time|duty|hour|night)\b", found[0]) or _RUNS.search(before[:start]):
            shares.append(((start, found.end()), amounts[0].value / 100))
        else:
            levels += 1
    if len(shares) > 1 or (levels and not shares):
        return None
    return shares[0] if shares else (None, 1.0)


# -- how warm it is -------------------------------------------------------------------------------

_WARMER = Lazy(
    _LEAD
    + r"(?:(?:it|that|this|the (?:weather|temperature|temp|air|day|night|outside)|temperature|temps?)(?:'s|'ll| is| will| only| just| really)* )?(?:going to |gonna |only |just |really )*"
    r"(?P<verb>(?:warm|cool|heat|chill)(?:s|ed|ing)?(?: (?:up|down|off|back up))?|(?:drop|fall|climb|ris|plung|sink|dip|creep)(?:s|es|ed|ing|e)?(?: (?:up|down|back))?|get(?:s|ting)?(?: (?:up|down|back))?|go(?:es|ing)?(?: (?:up|down|back))?|be(?:come)?s?)"
    r" (?:back )?(?:up |down )?(?:to|at|as (?:low|high|warm|cold) as) (?:about |around |only |like )*(?P<degrees>.+?)(?: (?:out|outside|today|tomorrow|tonight|later|by \w+|in the \w+|this \w+))*$"
)
_NOW = r"(?:now|today|tonight|outside|out|this (?:morning|afternoon|evening)|here)"


def _warmer(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And if it warms up to twenty", after what tires should read: how warm it is now; never a pressure."""
    from cabassist.dialogue.trusting import uses
    from cabassist.language.calculation_inputs import read_question

    found, worked = _WARMER.match(said), state.worked
    if found is None or worked is None or worked.calculation != "tire-pressure" or not state.question:
        return None
    new, old = read_question(found["degrees"]), read_question(state.question)
    if len(new.amounts) != 1 or new.amounts[0].per or new.amounts[0].unit not in ("n", "F", "C", "temp"):
        return None
    place = _now_in(old, worked)
    if place is None:
        return _not_placed(state, mind)
    given, amount = new.amounts[0], old.amounts[place]
    scale = {"C": " celsius", "F": " fahrenheit"}.get(given.unit if given.unit in ("C", "F") else amount.unit, "")
    is_ = "is " if amount.start and old.words[amount.start - 1] == "it" else ""
    degrees = f"{is_}{'minus ' if given.value < 0 else ''}{abs(given.value):g} degrees{scale}"
    whole = " ".join([*old.words[: amount.start], degrees, *old.words[amount.end :]])
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation or not uses(again, new.amounts[0].value):
        return _not_placed(state, mind)
    if again.estimate is None or worked.estimate is None or again.estimate.unit != worked.estimate.unit:
        return _not_placed(state, mind)
    return reckoning.answer(state, again, whole, ranking, mind)


_READS = Lazy(
    _LEAD
    + r"(?:(?:any )?(?:one|it|that one|the other(?: one)?|the (?:left|right|inner|outer|spare)(?: one)?|the rest|they)(?: of (?:them|em|those|the \w+))?(?: all)?)(?:'s(?: only| just| still)?(?: reading| showing| at)?| (?:only |just |still )?(?:reads?|shows?|says|is(?: only)?(?: at)?|measures|gauges|comes (?:up|out)(?: at)?|has))"
    r" (?P<psi>[a-z0-9.]+(?: (?!at\b|when\b)[a-z0-9.]+){0,3}?)(?: psi| pounds)?(?: (?:at|when it's|when it is|and it's) (?P<at>[a-z0-9.]+(?: [a-z0-9.]+){0,3}?)(?: degrees)?)?(?: (?:out|outside|now|then|instead|is that (?:ok|okay|a leak|bad)))*$"
)
_LEAST_PSI = 20.0
_ABSOLUTE = re.compile(r"Absolute: (?P<then>-?[\d.]+) °F = [\d.]+, (?P<now>-?[\d.]+) °F =")
_SET_TO = re.compile(r"\((?P<psi>[\d.]+) \+ 14\.\d+\)")


def _tire_reads(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "If one of em reads eighty at zero", after what tires should read: whether the cold explains that; else None."""
    from cabassist.dialogue.trusting import uses
    from cabassist.language.calculation_inputs import read_question

    worked, found = state.worked, _READS.match(said)
    if found is None or worked is None or worked.calculation != "tire-pressure":
        return None
    degrees_then = _ABSOLUTE.search(" ".join(worked.estimate.working)) if worked.estimate is not None else None
    set_to = _SET_TO.search(" ".join(worked.estimate.working)) if worked.estimate is not None else None
    psi, at = read_question(found["psi"]).amounts, read_question(found["at"]).amounts if found["at"] else ()
    if degrees_then is None or set_to is None or len(psi) != 1 or len(at) > 1:
        return None
    if psi[0].unit not in ("n", "psi") or psi[0].value < _LEAST_PSI or (found["at"] and (not at or at[0].unit not in ("n", "F", "temp"))):  # fmt: skip
        return None
    degrees = f"{at[0].value:g}" if at else degrees_then["now"]
    whole = f"set to {set_to['psi']} psi at {degrees_then['then']} degrees, reads {psi[0].value:g} psi at {degrees} degrees"  # fmt: skip
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation or not (uses(again, psi[0].value) and uses(again, float(set_to["psi"]))):  # fmt: skip
        return None
    read = [one.value for one in again.inputs if one.name == "read"]
    return reckoning.answer(state, again, whole, ranking, mind) if read == [psi[0].value] else None


def _now_in(question: Question, worked: Worked) -> int | None:
    """Which amount of a question is how warm it is now: by what it was taken for, else by the words beside it."""
    words = [" ".join(question.words[one.start : one.end]) for one in question.amounts]
    taken = [said for role, said in worked.taken if role in ("then_at", "cold", "now")]
    places = [at for at, said in enumerate(words) if said in taken]
    if len(places) != 1:
        places = [
            at
            for at, one in enumerate(question.amounts)
            if one.unit in ("n", "F", "C", "temp")
            and not one.per
            and (
                re.match(rf"{_NOW}\b", " ".join(question.words[one.end :]))
                or re.search(rf"\b{_NOW}(?: it| is| at)*$", " ".join(question.words[: one.start]))
            )
        ]
    return places[0] if len(places) == 1 else None


# -- a part of it -------------------------------------------------------------------------------

_PARTS = SHARES | {
    "halfway": 1 / 2,
    "half way": 1 / 2,
    "quarter": 1 / 4,
    "twice": 2.0,
    "double": 2.0,
    "twice as much": 2.0,
}
_OF_FULL = r"half|a quarter|quarter|a third|three quarters|two thirds"
_FOR_PART = Lazy(
    r"^(?:(?:and|so|ok|okay|then|now|but|what about|how about|how much|what's that|what is that|what if it's|if it's|make it) )*(?:for |with )?(?:just |only )?(?P<part>half|a quarter|quarter|a third|three quarters|two thirds|twice|double)(?: (?:of )?(?:that|it|as much|the tank|a tank|the amount|that much))?(?: (?:then|only|instead))*$"
)
_FILLED_SO_FAR = Lazy(
    _LEAD
    + r"(?:when |once )?(?:(?:i|we|he|they)(?:'ve|'d| have|'m| am|'re| are)?(?: gonna| going to)? (?:only |just )*(?:fill(?:ed|ing)?|run|top|take|have|got|put|bring)(?: (?:it|her|that|the (?:fresh )?tank|the fresh|up))*|(?:it|she|that|the (?:fresh )?tank|the fresh)(?:'s| is| was)?|with (?:it|the (?:fresh )?tank|a tank)|for a(?: tank)?(?: that's)?|a)?(?: only| just| about| up| filled| to)*"
    rf" ?(?P<part>half ?way|{_OF_FULL})(?: (?:way|full|of (?:the way|it|the tank|a tank)|up|a tank|the tank|tank))*(?: (?:then|only|instead|up|though))*$"
)
_WHOLE_TANK = Lazy(
    r"\b(?:a |the |my |our )?(?:full|whole|entire)(?: fresh| water)?(?: tank)?\b|\b(?:the|our|my) (?:fresh )?tank\b"
)
_DOSES = frozenset({"bleach"})


def _for_part(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And for half a tank", "if I only fill it half way", after what a tank takes: so much of it, when the answer follows."""
    from cabassist.language.calculation_inputs import read_question

    worked = state.worked
    found = _FOR_PART.match(said) or _FILLED_SO_FAR.match(said)
    if found is None or worked is None or not any(dose in worked.calculation for dose in _DOSES):
        return None
    share = _PARTS[found["part"]]
    before = read_question(state.question)
    stocks = [one for one in before.amounts if one.unit in ("gal", "L") and not one.per and not one.each]
    if len(stocks) == 1:
        words, stock = list(before.words), stocks[0]
        unit = "gallons" if stock.unit == "gal" else "liters"
        whole = " ".join([*words[: stock.start], f"{stock.value * share:g} {unit}", *words[stock.end :]])
    else:
        size = mind.coach.tank("fresh").capacity_gal * share
        whole = _WHOLE_TANK.sub(f"{size:g} gallons", " ".join(before.words), count=1)
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation or not number_of(worked):
        return None
    if abs(number_of(again) / number_of(worked) / share - 1) > NEAR:
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


# -- whether it lasts ------------------------------------------------------------------------------

_ENOUGH = Lazy(
    r"^(?:(?:and|so|ok|okay|then|now|well|but) )*(?:(?:is|will|would|does|s) (?:that|it|this) (?:be )?(?:long )?(?:enough|do|last|go|hold|carry|get|see|keep|make it|run|stretch)(?: (?:us|me|it|through|out|long|going|warm|okay))*|that's enough|enough) (?:till?|until|to|for|through|all the way to) \S.*$"
)


_TILL_HOUR = Lazy(r"\b(?:till?|until|to) (?:about |around )?\w+(?: o'?clock)?$")


def _enough(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "Is that enough till six in the morning", after how long something lasts: that number against the hours until then."""
    from cabassist.estimate.quantities import duration
    from cabassist.language.calculation_inputs import read_question
    from cabassist.language.calculation_units import converted

    worked = reckoning.standing(state)
    estimate = worked.estimate if worked is not None else None
    if worked is None or estimate is None or estimate.value is None or _ENOUGH.match(said) is None:
        return None
    scale = {"h": 1.0, "min": 1 / 60, "days": 24.0, "day": 24.0}.get(estimate.unit)
    amounts = read_question(text).amounts
    if (
        scale is None
        or worked.calculation == "driving-hours"
        or len(amounts) != 1
        or amounts[0].per
        or amounts[0].value <= 0
    ):
        return None
    told = amounts[0]
    hour = told.unit == "n" and told.value in range(1, 13) and _TILL_HOUR.search(said) is not None
    if told.unit == "clock" or hour:
        needed = (told.value - now.hour - now.minute / 60) % 24.0
        needed = min(needed, (needed + 12.0) % 24.0) if told.pieces or hour else needed
    elif told.unit in ("h", "min", "day", "days"):
        needed = converted(told.value, "day" if told.unit == "days" else told.unit, "h")
    else:
        return None
    lasts = estimate.value * scale
    least = (estimate.low if estimate.low is not None else estimate.value) * scale
    if least >= needed:
        verdict = f"Enough for {duration(needed)}."
    elif lasts >= needed:
        verdict = f"Perhaps enough for {duration(needed)}: it may end {duration(needed - least)} short."
    else:
        verdict = f"Not enough for {duration(needed)}: {duration(needed - lasts)} short."
    again = replace(worked, estimate=replace(estimate, verdict=verdict))
    outcome = reckoning.answer(state, again, text, ranking, mind)
    return outcome._replace(state=replace(outcome.state, question=state.question))


# -- how many the tank serves -----------------------------------------------------------------------

_SERVES = Lazy(
    r"^(?:(?:so|and|ok|okay|then|now|well|but) )*how many (?:more )?(?:of (?:us|them|those|these)|guys|people|kids|players|passengers|heads|boys|girls|men|women|of the \w+|showers|ones)?\b ?(?:of (?:those|these|them|that) )?(?=.*\b(?:can|could|will|would|does|do|is)\b)(?!.*\b(?:hours?|days?|minutes?)\b)"
    r".*\b(?:(?:with|from|on|out of|off|for) (?:just )?(?:what(?:'s|s| is| we have| we've got| i have| i've got| is left| there is)|that|the (?:rest|tank|fresh)|it)|what's (?:in there|left|aboard))\b"
)


def served(state: State, said: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """ "How many guys can have one with what's in there", after the water of so many showers: by the fresh level told."""
    if not state.given or _SERVES.match(said) is None:
        return None
    from cabassist.dialogue.held import amount_of
    from cabassist.estimate.quantities import exact, shown
    from cabassist.language.calculation_inputs import read_question
    from cabassist.sums.working import Worked as Found

    question, worked = state.given[-1].question, state.given[-1].worked
    if worked.estimate is None or not worked.estimate.value:
        return None
    unit = worked.estimate.unit
    counted = [one for one in read_question(question).amounts if one.unit in ("shower", "people")]
    fresh = [held.reading for held in state.stored if held.reading.what == "fresh"]
    holds = amount_of(fresh[-1], unit, mind.coach) if fresh and unit in ("gal", "L") else None
    if holds is None or len(counted) != 1 or counted[0].per or counted[0].value <= 0:
        return None
    each = worked.estimate.value / counted[0].value
    whole = float(int(holds / each + 1e-9))
    lines = (
        f"{shown(worked.estimate.value)} {unit} ÷ {shown(counted[0].value)} = {shown(each)} {unit} each",
        f"{shown(holds)} {unit} aboard ÷ {shown(each)} {unit} = {shown(holds / each)}",
    )
    verdict = f"Enough for {whole:g}, at {shown(each)} {'gallons' if unit == 'gal' else 'litres'} each. Then the tank is empty."
    estimate = exact(
        "served", whole, "", working=lines, verdict=verdict,
        assumptions=("nothing is kept back in the tank",), source="arithmetic on the reading and the last sum",
    )  # fmt: skip
    outcome = reckoning.answer(state, Found(worked.calculation, worked.topic, estimate=estimate), text, ranking, mind)
    return outcome._replace(reply=replace(outcome.reply, say=verdict, show=(verdict, *outcome.reply.show[1:])))
