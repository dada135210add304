"""Changes of the last sum that name a thing rather than an amount, and a change put right.

"And two of them", "what if I turn the kettle off", "with an 800 watt toaster on top", "will a twenty amp breaker hold that", "no wait,
it was eight" right after a change, "how long on both cylinders". The question is put once more in words, and the same readers
of sums judge it; where they do not use what was put in, nothing is answered here.
"""

from __future__ import annotations

import re
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import reckoning
from cabassist.dialogue.anew import NEAR, number_of, worked_anew
from cabassist.dialogue.multiplied import multiplied
from cabassist.dialogue.supposing import served, supposed
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.dialogue.until_level import reached
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import plain

if TYPE_CHECKING:
    from cabassist.language.calculation_inputs import Question
    from cabassist.sums.working import Worked
    from cabassist.sums.working_sheet import Input

MAX_WORDS = 16
_LOADS = frozenset({"shore-load", "breaker-limit"})
_LEAD = r"^(?:(?:ok|okay|so|and|but|no|wait|oh|well|hm+|sorry|actually|right|alright|then|now|what if|if|say|suppose|what about|how about) )*"
_THINGS = r"(?:furnace|heater|stove|fan|pump|charger|light|lamp|pad|fridge|burner|microwave|kettle|generator|compressor|machine|maker|dryer|blanket|tape|toaster|cooker|freezer|blower|tank|cylinder|bottle|bag|cord)"


def changed(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last sum with what the text changes in it; None when it changes nothing of the kind."""
    last = state.last
    if state.pending is not None or len(text.split()) > MAX_WORDS:
        return None
    said = plain(text)
    listed = _listed(state, said, text, ranking, mind, now) or served(state, said, text, ranking, mind)
    if listed is not None:
        return listed
    worked = state.worked
    if (
        last is None
        or worked is None
        or worked.estimate is None
        or last.kind not in ("calculation", "control", "reading")
    ):
        return None
    return (
        reached(state, said, ranking, mind, now)
        or _put_right(state, said, text, ranking, mind, now)
        or _at_speed(state, said, ranking, mind, now)
        or _so_many(state, said, ranking, mind, now)
        or multiplied(state, text, ranking, mind, now)
        or _switched_off(state, said, ranking, mind, now)
        or _added(state, said, ranking, mind, now)
        or _carried(state, said, ranking, mind, now)
        or _of_cylinders(state, said, ranking, mind, now)
        or supposed(state, said, text, ranking, mind, now)
        or _by_shower(state, said, ranking, mind, now)
        or _poured(state, said, ranking, mind, now)
        or _to_put_in(state, said, text, ranking, mind)
    )


def _numbers(worked: Worked) -> dict[str, Input]:
    return {one.name: one for one in worked.inputs if isinstance(one.value, (int, float))}


# -- a change put right -------------------------------------------------------------------------

_CORRECTS = Lazy(
    r"^(?:(?:no|nope|sorry|wait|oh|actually|hang on|hold on|scratch that|correction|my mistake|my bad|make that|make it|i mean|i meant|ugh|er|um|well) )+"
    r"(?:(?:it|that|they|there|i|we|he|she)(?:'s|'d|'ve|'re| was| is| were| are| had| have)?(?: been| only| really)? |make (?:it|that) |i (?:mean|meant|said) |only )*(?:a |an )?[a-z0-9.]+(?: [a-z0-9.]+){0,3}$"
)


def _put_right(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "No wait, it was eight", right after an amount was changed: that amount, and no other."""
    from cabassist.dialogue.restating import put
    from cabassist.language.calculation_inputs import read_question
    from cabassist.language.calculation_units import same_kind

    worked, before = state.worked, state.earlier
    if worked is None or state.last is None or state.last.kind != "calculation" or not _CORRECTS.match(said):
        return None
    new, old = read_question(text), read_question(state.question)
    if len(new.amounts) != 1:
        return None
    if before is None or before.calculation != worked.calculation:
        return _put_right_first(state, old, new, ranking, mind, now)
    given, was, now_so = new.amounts[0], _numbers(before), _numbers(worked)
    altered = [one for name, one in now_so.items() if name in was and was[name].value != one.value]
    if len(altered) != 1 or not (given.unit == "n" or same_kind(given.unit, altered[0].unit)):
        return None
    wrong = float(altered[0].value)
    stands = [one for one in old.amounts if abs(one.value - wrong) <= NEAR * abs(wrong)]
    if len(stands) != 1:
        return None
    whole = put(old, stands[0], new, given)
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation:
        return None
    found = _numbers(again).get(altered[0].name)
    if found is None or abs(float(found.value) - given.value * (wrong / stands[0].value)) > NEAR * abs(given.value):
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


def _put_right_first(
    state: State, old: Question, new: Question, ranking: Ranking, mind: Mind, now: datetime
) -> Outcome | None:
    """ "No sorry, three an hour": the one amount of the question that measures the same, when it has a unit of its own."""
    from cabassist.dialogue.restating import put

    given, worked = new.amounts[0], state.worked
    if worked is None or not given.per:
        return None
    fitting = [one for one in old.amounts if one.per == given.per and given.unit in ("n", one.unit)]
    if len(fitting) != 1 or fitting[0].pieces or given.pieces:
        return None
    whole = put(old, fitting[0], new, given)
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation or number_of(again) == number_of(worked):
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


_SPEED = Lazy(
    _LEAD + r"(?:make (?:it|that) |call it |it's |at |we (?:only )?(?:average|do|did|manage) |averaging |only )+"
)
_LEAST_MPH, _MOST_MPH = 15, 85


def _at_speed(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "Make it fifty miles an hour", after a trip told "at sixty": the speed, though it had no unit before."""
    from cabassist.dialogue.restating import put
    from cabassist.language.calculation_inputs import read_question

    worked = state.worked
    if worked is None or not _SPEED.match(said):
        return None
    new, old = read_question(said), read_question(state.question)
    if len(new.amounts) != 1 or (new.amounts[0].unit, new.amounts[0].per) != ("mi", "h"):
        return None
    speeds = [
        one
        for one in old.amounts
        if one.unit == "n" and _LEAST_MPH <= one.value <= _MOST_MPH and one.start and old.words[one.start - 1] in _AT
    ]
    if len(speeds) != 1 or not any(one.unit == "mi" for one in old.amounts):
        return None
    whole = put(old, speeds[0], new, new.amounts[0])
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation:
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


_AT = frozenset({"at", "average", "averaging", "doing", "do", "around", "about"})

# -- things that draw ---------------------------------------------------------------------------

_COUNTS = {"both": 2, "two": 2, "a pair": 2, "three": 3, "four": 4, "2": 2, "3": 3, "4": 4, "one": 1}
_SO_MANY = Lazy(
    _LEAD
    + r"(?:with |it's |there's |there are |we (?:run|use|have|had)|i (?:run|use|have|had) |for |running )*(?P<count>both|two|three|four|a pair|[234])(?: of (?:them|em|those|these|that kind|the same)| (?:more )?(?:furnaces|heaters|burners) (?:like|of) (?:that|it|them)| like (?:that|it)| such)(?P<duty> (?:(?:still|both|each|all|but|and|running|on|at) )*(?:half|a (?:third|quarter)|three quarters) (?:of )?the time)?(?: (?:each|on|running|going|together|at once|at the same time|instead|then|flat out))*$"
)
_ONE_THING = rf"\b(?:one|a|an|the|that|each|single|my|our) (?P<of>(?:(?!(?:one|a|an|the|that|each|runs?|does|will)\b)[\w.%-]+ ){{0,6}}?)(?P<thing>{_THINGS})(?:s|es)?\b"


_A_BURNER = re.compile(r"\b1 ([\d,.]+) btu furnace\b")


def _stem(duty: str) -> str:
    """How much of the time, without the words before it."""
    return re.sub(r"^.*?(?=half|a third|a quarter|three quarters)", "", duty)


def _so_many(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And two of them?", after a sum about one furnace, heater or the like."""
    found, worked = _SO_MANY.match(said), state.worked
    if found is None or worked is None:
        return None
    count = _COUNTS[found["count"]]
    before = _A_BURNER.sub(r"one \1 btu furnace", plain(state.question))
    if found["duty"] and _stem(found["duty"]) not in before:
        return None  # how long each runs is changed as well
    word = next((name for name, number in _COUNTS.items() if number == count and name not in ("both", "a pair")), "two")
    for place in re.finditer(_ONE_THING, before):
        if any(char.isdigit() for char in place["of"]) or place["of"].split():
            whole = f"{before[: place.start()]}{word} {place['of']}{place['thing']}s{before[place.end() :]}"
            again = worked_anew(whole, state, mind, now)
            ratio = number_of(again) / number_of(worked) if number_of(worked) else 0.0
            same = again is not None and again.calculation == worked.calculation
            if same and again is not None and min(abs(ratio - count), abs(ratio - 1 / count)) < NEAR:
                return reckoning.answer(state, again, whole, ranking, mind)
    return None


_OFF = Lazy(
    _LEAD
    + r"(?:(?:i|we|they) )?(?:(?:turn|turned|switch|switched|leave|left|take|took|cut|shut|keep) (?:the |that |my |our )?(?P<a>[a-z]+(?: [a-z]+)?) (?:off|out)|(?:turn|switch|shut) off (?:the |that |my |our )?(?P<b>[a-z]+(?: [a-z]+)?)|(?:without|minus|lose|drop|unplug|skip|not|no) (?:the |that |my |our )?(?P<c>[a-z]+(?: [a-z]+)?)|(?:the |that |my |our )?(?P<d>[a-z]+(?: [a-z]+)?)(?:'s| is| goes| stays)? off)(?: (?:then|instead|again|now))*$"
)
_JOIN = Lazy(r"(?:,|\b(?:and|plus|with|a|an|the|one|then|also)\b|\s)+$")


def _switched_off(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "What if I turn the kettle off": the sum before without the amount that the kettle had in it."""
    from cabassist.language.calculation_inputs import read_question

    found = _OFF.match(said)
    if found is None:
        return None
    thing = (found["a"] or found["b"] or found["c"] or found["d"]).split()[-1]
    for before in reversed(state.sums):
        question = read_question(before)
        words = list(question.words)
        at = next(
            (place for place, word in enumerate(words) if word.removesuffix("s") == thing.removesuffix("s")), None
        )
        own = [one for one in question.amounts if at is not None and one.end <= at <= one.end + 2]
        if at is None or not own or len([one for one in question.amounts if one.tag == own[-1].tag]) < 2:
            continue
        left = _JOIN.sub(" ", " ".join(words[: own[-1].start]))
        rest = " ".join(words[at + 1 :])
        whole = f"{left} {re.sub(r'^(?:and|plus|on top|as well|too|,) ?', '', rest)}".strip()
        with_it, without = worked_anew(before, state, mind, now), worked_anew(whole, state, mind, now)
        if with_it is None or without is None or with_it.calculation != without.calculation:
            return None
        return (
            reckoning.answer(state, without, whole, ranking, mind) if number_of(with_it) != number_of(without) else None
        )
    return None


_ADDS = Lazy(_LEAD + r"(?:plus|with|add|adding|i add|we add|i plug in|we plug in|and|also|on top of that)\b")
_AND = Lazy(r"^(?:(?:ok|okay|so|then|now) )*(?:and|plus)\b")


def _added(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And with an 800 watt toaster on top": one load more, by its own name, so that it can be taken off again."""
    from cabassist.language.calculation_inputs import read_question

    worked = state.worked
    if worked is None or worked.calculation not in _LOADS or not (_ADDS.match(said) or _AND.match(said)):
        return None
    given = read_question(said).amounts
    names_thing = re.search(rf"\b{_THINGS}s?\b", said)
    if len(given) != 1 or given[0].unit not in ("W", "A") or names_thing is None:
        return None
    if given[0].unit not in {one.unit for one in read_question(state.question).amounts}:
        return None
    whole = f"{state.question.rstrip(' .?!')}, {said if _AND.match(said) else f'and {said}'}"
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation not in _LOADS:
        return None
    more = number_of(again) - number_of(worked)
    before, after = _numbers(worked), _numbers(again)
    if given[0].unit == "W":
        if "watts" not in before or "watts" not in after or before["volts"].value != after["volts"].value:
            return None
        more = float(after["watts"].value) - float(before["watts"].value)
    return reckoning.answer(state, again, whole, ranking, mind) if abs(more - given[0].value) < NEAR * more else None


_HOLDS = Lazy(
    r"\b(?:breaker|outlet|circuit|socket|fuse|hookup|plug|pedestal|inlet|service)\b.*\b(?:carry|hold|take|run|stand|handle|do|feed|manage|cope with|be ok with|good for|enough for)\b(?: for)? (?P<that>that|it|this|those|them|both|all that|all of that|the lot)\b"
)


def _carried(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "Will a twenty amp breaker carry that": the load just worked out against that breaker."""
    worked, found = state.worked, _HOLDS.search(said)
    if worked is None or found is None or worked.calculation not in _LOADS:
        return None
    stands = _numbers(worked)
    if "watts" not in stands or "volts" not in stands:
        return None
    load = f"{stands['watts'].value:g} watts at {stands['volts'].value:g} volts"
    whole = f"{said[: found.start('that')]}{load}{said[found.end('that') :]}"
    again = worked_anew(whole, state, mind, now)
    if again is None or "watts" not in _numbers(again) or _numbers(again)["watts"].value != stands["watts"].value:
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


# -- cylinders ----------------------------------------------------------------------------------

_BOTH = Lazy(
    _LEAD
    + r"(?:how (?:long|many hours)(?: (?:do|does|will|would|is it|have we got|do we have|can we go|on|with|for))* )?(?:on |with |for |from )?(?:both|the two|the pair)(?: (?:of them|cylinders?|bottles?|tanks?))?(?: (?:together|last|run|then|do|go|now))*$"
)
_JUST = Lazy(
    _LEAD
    + r"(?:how (?:long|many hours)(?: (?:do|does|will|would|on|with|for))* )?(?:on |with |for |from )?(?:just |only )?(?:the )?(?P<which>outside|inside|left|right|first|second|curb ?side|street ?side|spare)(?: (?:one|cylinder|bottle|tank))(?: (?:alone|only|last|run|then|by itself|on its own))*$"
)


def _of_cylinders(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "How long on both cylinders then", "just the outside one": the hours of propane on what was told of those."""
    from cabassist.dialogue.building import in_words

    worked = state.worked
    one = _JUST.match(said)
    if worked is None or worked.calculation != "propane-hours" or not (_BOTH.match(said) or one):
        return None
    newest = {h.reading.which: h.reading for h in state.stored if h.reading.what == "propane" and h.reading.which}
    meant = [reading for which, reading in newest.items() if one is None or which == one["which"].replace(" ", "")]
    if any(reading.value is None for reading in meant) or len(meant) != (1 if one else 2):
        return None
    stands = _numbers(worked)
    if "input" not in stands:
        return None
    count = int(stands["furnaces"].value) if "furnaces" in stands else 1
    part = float(stands["duty"].value) if "duty" in stands else _part(state)
    whole = (
        f"{' and '.join(in_words(reading) for reading in meant)}, how long {'do they' if len(meant) > 1 else 'does it'} run"
        f" {count} {stands['input'].value:g} BTU furnace{'s' if count > 1 else ''} running {part * 100:g} percent of the time"
    )
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation:
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


def _part(state: State) -> float:
    """The share of the time that the last question says a furnace runs; all of it when it says none."""
    return 0.5 if re.search(r"\bhalf (?:of )?the time\b", plain(state.question)) else 1.0


# -- water --------------------------------------------------------------------------------------

_WATER_USE = Lazy(r"\b(?:showers?|flush\w*|rins\w*|dishes|wash\w*|fills?|jugs?|kettles?|coffees?)\b")


def _listed(state: State, said: str, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "Fifteen showers, two minutes each, two gallons a minute": what that comes to, though nothing is asked."""
    if not _WATER_USE.search(said) or "?" in text or re.search(r"\b(?:how|what|when|is|will|can|do)\b", said):
        return None
    from cabassist.dialogue.trusting import uses
    from cabassist.language.calculation_inputs import read_question

    question = read_question(text)
    flows = [one for one in question.amounts if one.unit in ("gal", "L") and (one.per or one.each)]
    if len(question.amounts) < 2 or len(flows) != 1:
        return None
    whole = f"{text.rstrip(' .!')}, how many gallons is that"
    worked = worked_anew(whole, state, mind, now)
    if worked is None or not worked.whole or worked.estimate is None or worked.estimate.unit != "gal":
        return None
    if not all(uses(worked, one.value) for one in question.amounts):
        return None
    return reckoning.answer(state, worked, whole, ranking, mind)


_HEADS = Lazy(
    _LEAD
    + r"(?:it's |there's |there are |we're |we are |with |for |only |make (?:it|that) )*(?P<heads>(?:\d+|[a-z]+)(?: [a-z]+)?) (?:of (?:us|them|em)|people|heads|players|passengers|kids|guys|showers)(?: (?:do|want to|take|have|get|want))?(?: (?:shower|showers|showering|one|a shower))?(?: (?:instead|then|aboard|at that))*$"
)


def _by_shower(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And if it's twenty people?", after a sum of so many showers: one each."""
    from cabassist.language.calculation_inputs import read_question

    found, worked = _HEADS.match(said), state.worked
    if found is None or worked is None:
        return None
    old, heads = read_question(state.question), read_question(f"{found['heads']} people").amounts
    showers = [one for one in old.amounts if one.unit == "shower"]
    if len(showers) != 1 or len(heads) != 1 or heads[0].unit != "people":
        return None
    words = list(old.words)
    whole = " ".join([*words[: showers[0].start], f"{heads[0].value:g} showers", *words[showers[0].end :]])
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation:
        return None
    if abs(number_of(again) / (number_of(worked) or 1.0) - heads[0].value / showers[0].value) > NEAR:
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


_POURED = Lazy(
    r"^(?:(?:and|so|ok|okay|then|now) )*how (?:long|many minutes) (?:(?:does|will|would|do|is|it|take|takes|for|to) )*(?:(?:put|fill|pump|pour|get|run|load) )?(?P<that>that|it|those|this|all that|that much)\b.*\b(?:a|per) (?:minute|min|second|hour)\b"
)


def _poured(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "How long does that take to put in at six a minute": of the gallons just worked out, not of the whole tank."""
    from cabassist.dialogue.trusting import uses

    worked, found, last = state.worked, _POURED.match(said), state.last
    if worked is None or worked.estimate is None or found is None or last is None or last.kind != "calculation":
        return None
    if worked.estimate.unit not in ("gal", "L") or not number_of(worked) or re.search(r"\bfull\b", said):
        return None
    amount = f"{number_of(worked):g} {'gallons' if worked.estimate.unit == 'gal' else 'liters'}"
    whole = f"{said[: found.start('that')]}{amount}{said[found.end('that') :]}"
    again = worked_anew(whole, state, mind, now)
    if again is None or not uses(again, number_of(worked)):
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


_PUTS_IN = Lazy(
    r"^(?:(?:so|and|ok|okay|then|now|but) )*(?:how (?:much|many gallons)(?: more)?|what)(?: more)? (?:do|must|should|would|will|have|am|are) (?:i|we)(?: (?:have|need|got|going))?(?: to)? (?:put in|add|fill(?: up)?|take on|top up(?: with)?|load|get in|run in|need(?: to (?:add|put in|fill|take on))?)(?: (?:then|for that|to have that|to cover (?:that|it)|first|before that|more))*$"
)


def _to_put_in(state: State, said: str, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """ "So how much do I have to put in", after gallons that will be used: those less what the fresh tank holds."""
    from cabassist.dialogue.held import amount_of
    from cabassist.estimate.quantities import exact, shown
    from cabassist.language.plausibility import converted
    from cabassist.sums.working import Worked as Found

    worked = state.worked
    if (
        worked is None
        or worked.estimate is None
        or not _PUTS_IN.match(said)
        or not _WATER_USE.search(plain(state.question))
    ):
        return None
    fresh = [held.reading for held in state.stored if held.reading.what == "fresh"]
    unit, need = worked.estimate.unit, worked.estimate.value
    holds = amount_of(fresh[-1], unit, mind.coach) if fresh and unit in ("gal", "L") else None
    if holds is None or need is None:
        return None
    more = max(0.0, round(need - holds, 2))
    room = max(0.0, converted(mind.coach.tank("fresh").capacity_gal, "gal", unit) - holds)
    line = f"{shown(need)} - {shown(holds)} aboard = {shown(need - holds)} {unit}"
    verdict = "The tank holds enough." if not more else "More than the tank has room for." if more > room else ""
    estimate = exact(
        "to-put-in", more, unit, working=(line,), verdict=verdict,
        assumptions=("nothing is kept back in the tank",), source="arithmetic on the reading and the profile's sizes",
    )  # fmt: skip
    return reckoning.answer(state, Found(worked.calculation, worked.topic, estimate=estimate), text, ranking, mind)
