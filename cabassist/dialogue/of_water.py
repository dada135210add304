"""Sums of water asked on: "eighteen but only once each", "how many can shower now at two minutes each", "what'll it weigh, the part I'm putting in"."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import reckoning
from cabassist.dialogue.anew import NEAR, number_of, worked_anew
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking

_LEAD = r"^(?:(?:ok|okay|so|and|but|well|no|wait|then|now|right|alright|say|suppose|what if|if|what about|how about|it's|there's|there are|with|for|make it|make that) )*"
_TIMES = r"once|twice|(?:one|two|three|four|five|[1-9]) times?"
_EACH = r"(?:each|apiece|a head|per head|per person|a person)"
_HEADS = r"(?:people|guys|kids|players|passengers|heads|of (?:us|them|em)|men|women|boys|girls)"
_HEADS_TIMES = Lazy(
    rf"{_LEAD}(?P<heads>[a-z0-9]+(?: [a-z0-9]+)??)(?: {_HEADS})?(?: (?:but|and|going|flushing|at|only|just|who|that|go|flush|it's))* (?P<times>{_TIMES}) {_EACH}(?: (?:then|instead|now|only))*$"
    rf"|{_LEAD}(?:(?:they|everybody|everyone|each|all|the guys|we) )?(?:(?:only|just|go|goes|flush|flushes|flushing|do it) )*(?P<alone>{_TIMES})(?: {_EACH})?(?: (?:then|instead|now|only))*$"
)
_TIMES_IN = Lazy(rf"\b(?P<times>{_TIMES})(?= {_EACH}\b)|\b(?P<bare>{_TIMES})\b")
_COUNTS = {"once": 1, "twice": 2, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5}


def times_changed(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last use of water for other heads, or so many times each; None when the text changes nothing of the kind."""
    worked = reckoning.standing(state)
    if worked is None or not number_of(worked) or not state.given or not state.question:
        return None
    found = _HEADS_TIMES.match(said)
    if found is None:
        return None
    from cabassist.dialogue.restating import put  # the reader of questions is loaded when it is needed
    from cabassist.language.calculation_inputs import read_question

    question = state.given[-1].question
    old = read_question(question)
    factor, whole = 1.0, " ".join(old.words)
    if found["heads"]:
        heads, before = read_question(f"{found['heads']} people"), [one for one in old.amounts if one.unit == "people"]
        if len(heads.amounts) != 1 or heads.amounts[0].unit != "people" or len(before) != 1 or not before[0].value:
            return None
        bare = read_question(found["heads"])
        if len(bare.amounts) != 1:
            return None
        factor, whole = heads.amounts[0].value / before[0].value, put(old, before[0], bare, bare.amounts[0])
    times = found["times"] or found["alone"]
    stood = list(_TIMES_IN.finditer(whole))
    if len(stood) != 1:
        return None
    was = stood[0]["times"] or stood[0]["bare"]
    factor *= _count(times) / _count(was)
    whole = f"{whole[: stood[0].start()]}{times}{whole[stood[0].end() :]}"
    again = worked_anew(whole, state, mind, now)
    if again is None or again.calculation != worked.calculation or abs(number_of(again) / number_of(worked) / factor - 1) > NEAR:  # fmt: skip
        return None
    return reckoning.answer(state, again, whole, ranking, mind)


def _count(times: str) -> int:
    first = times.split(maxsplit=1)[0]
    return _COUNTS.get(first) or int(first)


_SERVES = Lazy(
    r"^(?:(?:so|and|ok|okay|then|now|well|but) )*how many (?:more )?(?:(?:of (?:us|them|em|the \w+)|guys|people|kids|players|passengers|heads) )?(?:can|could|will|would)(?: (?:we|i|they|still|now|then|all))* (?:shower|wash|rinse(?: off)?|flush|go|(?:have|get|take) (?:one|a shower|showers)|be served)(?: (?:now|then|still))*"
    rf"(?: (?:(?:at|with|for|if it's|if they (?:take|get|have)) )?(?P<each>[a-z0-9.]+(?: [a-z0-9.]+){{0,4}}) {_EACH})?(?: (?:now|then|still|with (?:that|what's (?:in there|left))|on that))*$"
)


def served(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "How many can shower now at two minutes each", after the water of so many showers: by the fresh level told; else None."""
    if not state.given or state.pending is not None:
        return None
    found = _SERVES.match(said)
    if found is None:
        return None
    from cabassist.dialogue.held import amount_of  # the reader of questions is loaded when it is needed
    from cabassist.dialogue.restating import restated
    from cabassist.estimate.quantities import exact, shown
    from cabassist.language.calculation_inputs import read_question
    from cabassist.sums.working import Worked

    given, question = state.given[-1], state.given[-1].question
    if given.worked.estimate is None or given.worked.estimate.unit not in ("gal", "L"):
        return None
    worked = given.worked
    if found["each"]:
        changed = restated(question, f"what if it's {found['each']} each")
        again = worked_anew(changed.text, state, mind, now) if changed is not None and changed.text else None
        if again is None or again.estimate is None or again.estimate.unit != given.worked.estimate.unit:
            return None
        worked, question = again, changed.text if changed is not None else question
    heads = [one for one in read_question(question).amounts if one.unit in ("people", "shower") and not one.per]
    fresh = [one.reading for one in state.stored if one.reading.what == "fresh"]
    assert worked.estimate is not None
    unit, used = worked.estimate.unit, worked.estimate.value
    holds = amount_of(fresh[-1], unit, mind.coach) if fresh else None
    if holds is None or not used or len(heads) != 1 or heads[0].value <= 0:
        return None
    each = used / heads[0].value
    whole = float(int(holds / each + 1e-9))
    lines = (
        f"{shown(used)} {unit} ÷ {shown(heads[0].value)} = {shown(each)} {unit} each",
        f"{shown(holds)} {unit} aboard ÷ {shown(each)} {unit} = {shown(holds / each)}",
    )
    verdict = f"Enough for {whole:g}, at {shown(each)} {'gallons' if unit == 'gal' else 'litres'} each. Then the tank is empty."  # fmt: skip
    estimate = exact(
        "served", whole, "", working=lines, verdict=verdict,
        assumptions=("nothing is kept back in the tank",), source="arithmetic on the reading and the last sum",
    )  # fmt: skip
    outcome = reckoning.answer(state, Worked(worked.calculation, worked.topic, estimate=estimate), question, ranking, mind)  # fmt: skip
    return outcome._replace(reply=replace(outcome.reply, say=verdict, show=(verdict, *outcome.reply.show[1:])))


_WEIGHS_IN = Lazy(
    r"^(?:(?:so|and|ok|okay|then|now|but) )*(?:what|how (?:much|heavy|many (?:pounds|kilos)))\b.*\b(?:weigh\w*|heavy|pounds|kilos|weight)\b.*\b(?:(?:i'm|we're|i am|we are|i|we|going|goes|that's|to be|gets?) ?(?:going to |gonna )?(?:putting|put|adding|add|pumping|pump|taking|take|filling|running|run|going|goes|load(?:ing)?) (?:in|on|aboard)|(?:goes|going|put|added|pumped) in)\b"
)
_GOES_IN = re.compile(r"= ([\d.,]+) (gal|L) to go in")


def weighs_in(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """What the water weighs that the last sum put into the tank; else None."""
    worked = reckoning.standing(state)
    if worked is None or worked.estimate is None or not _WEIGHS_IN.match(said):
        return None
    found = next((one for line in worked.estimate.working if (one := _GOES_IN.search(line))), None)
    if found is None:
        return None
    whole = f"how much do {found[1].replace(',', '')} {'gallons' if found[2] == 'gal' else 'liters'} of water weigh"
    again = worked_anew(whole, state, mind, now)
    return None if again is None else reckoning.answer(state, again, whole, ranking, mind)


def asked_on(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last sum of water changed or asked on; else None."""
    return (
        times_changed(state, said, ranking, mind, now)
        or served(state, said, ranking, mind, now)
        or weighs_in(state, said, ranking, mind, now)
    )
