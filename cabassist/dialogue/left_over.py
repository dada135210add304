"""What is left after so much: "if we burn fifteen point six tonight what's left", "how much does that leave me".

By the reading that stands, or by the limit that the last sum was held against; the number stays at hand for what is asked of it next.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import reckoning, telling
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.reading_types import Reading

NAME = "left-over-"
_LEAD = r"^(?:(?:ok|okay|so|and|but|well|then|now|right|alright|say|suppose|supposing) )*"
_USE = r"(?:burns?|burned|uses?|used|spends?|go(?:es)? through|gets? through|went through|pumps? out|dumps?|drains?|drinks?|takes? out|draws?|loses?|runs? off|sells?|gives? away)"
_LEFT = r"(?:what(?:'s| is|'ll be| will be| have (?:we|i) got| do (?:we|i) have|s) (?:still )?left|how (?:much|many(?: gallons| pounds)?)(?:'s| is| are| will be| would be| do (?:we|i) have| have (?:we|i) got| does that leave(?: (?:me|us))?)(?: (?:still|be))?(?: left)?|what does (?:that|it) leave(?: (?:me|us))?|what(?:'s| is) that leave(?: (?:me|us))?)"
_TAIL = r"(?: (?:in (?:it|there|the (?:tank|bottle))|then|after(?: that)?|over|for the (?:road|drive|trip)|in the morning|tomorrow|aboard))*$"
_IF_USED = Lazy(
    rf"{_LEAD}(?:(?:if|when|once|after) )?(?:we|i|they|you|the (?:generator|furnaces?|engine|heaters?|guys|team|kids|players)|it) (?:only |just |'ll |will |would )*{_USE} (?:about |around |another |only |like )*(?P<used>[a-z0-9.]+(?: [a-z0-9.]+){{0,4}}?)(?: (?:of (?:it|that|them)|tonight|today|overnight|tomorrow|by morning|more|on the (?:way|road)|idling))*,? (?:then |so )*{_LEFT}{_TAIL}"
    rf"|{_LEAD}{_LEFT} (?:in (?:it|there|the (?:tank|bottle)) )?(?:if|when|once|after) (?:we|i|they|it|the (?:generator|furnaces?|engine|heaters?|guys|team|kids|players)) (?:only |just |'ll |will |would )*{_USE} (?:about |around |another |only |like )*(?P<then>[a-z0-9.]+(?: [a-z0-9.]+){{0,4}}?)(?: (?:of (?:it|that|them)|tonight|today|overnight|tomorrow|by morning|more|on the (?:way|road)|idling))*$"
)
_LEAVES = Lazy(
    rf"{_LEAD}(?:how (?:much|many amps|many gallons|much (?:more|room|headroom|spare))|what)(?:(?:'s| does| do| would| will|s) (?:that|it|this))? (?:leaves?|(?:have (?:i|we) got|do (?:i|we) have|is|is there|there's)(?: still)? (?:left|to spare|spare))(?: (?:me|us))?(?: (?:with|over|to spare|spare|for (?:other things|the rest|anything else|something else)|on (?:it|that|that (?:one|outlet|breaker|circuit))|then|now))*$"
)
_OUT = Lazy(r"\b(?:dump|drain|pump)\w*\b")
_STOCKS = ("diesel", "fresh", "propane", "def", "waste")


def asked(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """What is left after the amount that a text names, or after the last number; None when it asks nothing of the kind."""
    found = _IF_USED.match(said)
    if found is not None:
        return _of_reading(state, found["used"] or found["then"], said, ranking, mind)
    worked = reckoning.standing(state)
    if worked is None or worked.estimate is None or worked.estimate.value is None or not _LEAVES.match(said):
        return None
    stands = {one.name: float(one.value) for one in worked.inputs if isinstance(one.value, (int, float))}
    if worked.calculation != "breaker-limit" or worked.estimate.unit != "A" or "breaker" not in stands:
        return None
    return _of_breaker(state, said, ranking, mind)


def _of_breaker(state: State, said: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """What a breaker still carries beside the load of the last sum."""
    from cabassist.estimate.quantities import exact, shown

    worked = state.worked
    assert worked is not None
    assert worked.estimate is not None
    line = next((one for one in worked.estimate.working if _SPARE.match(one)), "")
    found = _SPARE.match(line)
    if found is None:
        return None
    left = round(float(found["limit"].replace(",", "")) - float(found["drawn"].replace(",", "")), 3)
    if left < 0:
        return None
    verdict = f"{shown(left)} amps left of {found['limit']}."
    estimate = exact("left on the breaker", left, "A", working=(line,), verdict=verdict, source=worked.estimate.source)
    outcome = reckoning.answer(state, replace(worked, estimate=estimate), said, ranking, mind)
    outcome = outcome._replace(reply=replace(outcome.reply, say=verdict, show=(verdict, *outcome.reply.show[1:])))
    # what is changed next is the load, and the question stays that of the load
    return outcome._replace(state=replace(outcome.state, question=state.question, worked=worked))


_SPARE = re.compile(r"(?P<limit>[\d.,]+) - (?P<drawn>[\d.,]+) = [\d.,]+ A\b")


def _of_reading(state: State, used: str, said: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """What a reading that stands leaves: of the thing named, or of the one told last."""
    from cabassist.dialogue.held import amount_of
    from cabassist.estimate.quantities import exact, shown
    from cabassist.language.calculation_inputs import read_question
    from cabassist.language.plausibility import label
    from cabassist.sums.working import Worked

    amounts = read_question(used).amounts
    meant = _meant(state, said)
    if meant is not None and meant.what == "waste" and not _OUT.search(said):
        return None  # what is used goes into that tank
    if len(amounts) != 1 or meant is None or amounts[0].per or amounts[0].each or amounts[0].value <= 0:
        return None
    unit = amounts[0].unit
    if unit == "n":
        unit = meant.unit if meant.unit in ("gal", "L", "lb", "kg") else "lb" if meant.what == "propane" else "gal"
    if unit in ("percent", "part") and meant.unit in ("percent", "fraction"):
        value, unit = amounts[0].value * (100.0 if unit == "part" else 1.0), "percent"
    elif unit in ("gal", "L", "lb", "kg"):
        value = amounts[0].value
    else:
        return None
    holds = amount_of(meant, unit, mind.coach)
    if holds is None:
        return None
    left = round(holds - value, 2)
    if left < 0:
        line = f"There is not that much: {telling.echo(meant, mind.coach).rstrip('.')}."
        from cabassist.dialogue.following import put_back

        return put_back(line, state, mind)
    what = meant.what if meant.what in ("propane", "diesel", "def") else "water"
    line = f"{shown(holds)} {unit} - {shown(value)} {unit} = {shown(left)} {unit}"
    estimate = exact(
        f"{NAME}{what}", left, unit, working=(telling.echo(meant, mind.coach), line), source="arithmetic on the reading"
    )
    outcome = reckoning.answer(state, Worked("unit-conversion", None, estimate=estimate), said, ranking, mind)
    from cabassist.units import SPOKEN_UNITS

    say = f"{label(meant.what, meant.which)}: {shown(left)} {SPOKEN_UNITS.get(unit, (unit, unit))[1]} left."
    return outcome._replace(reply=replace(outcome.reply, say=say, show=(say, *outcome.reply.show[1:])))


def _meant(state: State, said: str) -> Reading | None:
    """The newest reading of the supply that a text names, or the supply told last; None when it is not clear."""
    stands = [one.reading for one in state.stored if one.reading.what in _STOCKS and one.reading.value is not None]
    words = set(said.split())
    named = [one for one in stands if {one.what, one.which or ""} & words or (one.what == "fresh" and "water" in words)]
    if named:
        return named[-1]
    if words & {"diesel", "fuel", "propane", "gas", "water", "waste", "def"} or len(state.told) != 1:
        return None
    return stands[-1] if stands and stands[-1] == state.told[0] else None


__all__ = ["NAME", "asked"]
