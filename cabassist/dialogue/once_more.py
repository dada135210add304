"""The last sum once more, after the reading it was built on was put right ("so what's that make it"), and levels added to it.

"Add the waste to that", after the weight of the fresh water: the last number and what the level named comes to, together.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import building, held, reckoning, telling
from cabassist.dialogue.anew import worked_anew
from cabassist.dialogue.differences import OF_READINGS
from cabassist.dialogue.following import AMOUNT, put_back
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain

_OPENS = r"^(?:(?:and|so|ok|okay|then|now|right|alright|well|but|ouch|oh|damn|ugh|hm+|ah|great|fine|please) )*"
_IT = r"(?:it|that|this|things)"
_REDO = Lazy(
    rf"{_OPENS}(?:what(?:'?s|s| does| is| will| would|'?ll|'?d)? (?:{_IT} )?(?:make|made|come to|bring|work out to|work out at|come out at)(?: {_IT})?(?: (?:to|at|with))?"
    rf"|what(?:'?s|s| is| would| does)? (?:the (?:answer|number|figure|result|sum)|{_IT}) (?:come to|make|work out to)"
    rf"|(?:re ?do|re ?work|re ?run|re ?calculate|work|run|do|figure|try) (?:{_IT}|the sum|the number|the math|the maths|that sum)(?: (?:out|over))?(?: (?:again|once more|over|anew|with that|with the new (?:one|number|figure|reading)))*"
    rf"|(?:same (?:question|sum|thing)|again|once more)(?: (?:with|for|on) (?:that|this|it|the new (?:one|number|figure|reading)))?)(?: (?:now|then|again|with that|instead))*$"
)
""" "So what's that make it", "work it out again", "same question"."""
_NOW = Lazy(r"^(?:(?:so|and|ok|okay|then|right|well|how about|what about) )*now(?: then)?$")
""" "So now", right after a reading was put right."""
_SO_MUCH_AGAIN = Lazy(
    rf"{_OPENS}(?:with |at |for )?(?P<what>.+?) (?:again|once more|as before)(?: (?:then|now|please))*$"
)
_LEAST_WORDS = 2


def asked(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last sum with the reading that was told or put right since, or with a level added to its number; else None."""
    if state.pending is not None or state.last is None:
        return None
    if state.last.kind == "calculation":
        return _with_level(state, text, ranking, mind)
    if state.last.kind != "reading" or len(state.told) != 1 or not state.given or "?" in text.rstrip("?. !"):
        return None
    said = bare(text)
    if not AMOUNT.search(said):
        redo = _REDO.match(said) or (_NOW.match(said) and state.last.withdrawn)
        return _anew(state, state.given[-1].question, ranking, mind, now) if redo else None
    found = _SO_MUCH_AGAIN.match(said)
    if found is None or len(found["what"].split()) < _LEAST_WORDS:
        return None
    from cabassist.dialogue.restating import restated

    changed = restated(_question(state), f"and with {found['what']}")
    if changed is None or not changed.text:
        return None
    return _anew(state, changed.text, ranking, mind, now)


_LEADS = Lazy(r"^(?P<told>[a-z_ ]+ -?[\d.]+ ?[a-zA-Z%]+) ?, (?P<asks>.+)$")
"""A question with the reading it was built on in front of it."""


def _question(state: State) -> str:
    """The last question without the reading that was put in front of it."""
    question = state.given[-1].question
    found = _LEADS.match(question)
    return found["asks"] if found is not None else question


def _anew(state: State, question: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """A question put once more about the reading told last; None when that reading is not what it was about."""
    from cabassist.dialogue.trusting import uses

    told, before = state.told[0], state.given[-1].worked
    found = _LEADS.match(question)
    asks = found["asks"] if found is not None else question
    if told.value is None or before.estimate is None or not asks:
        return None
    from cabassist.language.plausibility import label

    about = plain(" ".join([question, state.given[-1].question, *before.estimate.working]))
    summed = before.estimate.source == OF_READINGS and bool(state.last and state.last.withdrawn)
    if not summed and not any(
        name in about for name in (label(told.what, told.which).lower(), told.what.replace("_", " "))
    ):
        return None  # something else was told in between
    if not AMOUNT.search(bare(asks)):
        inside = held.asked(state, asks, ranking, mind, now)
        if inside is not None:
            return inside
    level = building.level_of(told, mind)
    whole = f"{building.in_words(level)}, {asks}"
    worked = worked_anew(whole, state, mind, now, mind.ranked(whole).calculations)
    if worked is None or worked.estimate is None or worked.estimate.unit != before.estimate.unit:
        return None
    amounts = (level.value, held.amount_of(told, "gal", mind.coach), held.amount_of(told, "lb", mind.coach))
    if not any(uses(worked, one) for one in amounts if one):
        return None
    return reckoning.answer(state, worked, whole, ranking, mind)


_ADDS_LEVEL = Lazy(
    rf"{_OPENS}(?:(?:add|plus|throw in|count in|include|put in|with)(?: in| on)? |what (?:about|if i add|is it with|'?s it with) )(?:what's in |what is in )?(?:the |our |my )?(?P<what>[a-z]+(?: [a-z]+)?(?: (?:tank|water|cylinder|bottle|weight))?)"
    r"(?P<to>(?: (?:to (?:that|it|this)|on top(?: of (?:that|it))?|into (?:that|it)|in|as well|too|together|altogether|added|included|now|then|please))*)$"
)
_PLAINLY = Lazy(
    r"^(?:(?:and|so|ok|okay|then|now) )*(?:add|plus|throw in|count in|include)\b|\b(?:to|of|into) (?:that|it|this)\b|\bon top\b|\badded\b|\bincluded\b|\b(?:al)?together\b"
)
_UNITS = ("gal", "L", "lb", "kg")
_ALL = frozenset({"both", "all", "together", "total", "tanks", "cylinders", "bottles", "everything"})
_CYLINDERS = frozenset({"inside", "outside", "spare"})


def _with_level(state: State, text: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """ "Add the waste to that": the last number and what the level of the thing named comes to in the same unit; else None."""
    last = state.worked.estimate if state.worked is not None else None
    said = plain(text)
    found = _ADDS_LEVEL.match(said) if last is not None and last.unit in _UNITS else None
    if found is None or last is None or last.value is None or state.worked is None or not _PLAINLY.search(said):
        return None
    from cabassist.estimate.quantities import shown
    from cabassist.sums.working import Worked

    kind, level = telling.named_in(found["what"]), held.named_reading(state, found["what"], mind)
    if kind is None:
        return None
    more = held.amount_of(level, last.unit, mind.coach) if level is not None else None
    about = set(re.split(r"\W+", plain(" ".join([state.question, *last.working]))))
    if level is None or more is None:
        return put_back(
            f"I have no {kind.replace('_', ' ')} level in that unit to add. Tell me one first.", state, mind
        )
    if about & _ALL or (level.which or level.what) in about or (level.which and not about & _CYLINDERS):
        return put_back(
            "That is in the last number already, as I see it. Ask it once more with all its numbers.", state, mind
        )
    total = round(last.value + more, 2)
    line = f"{shown(last.value, 4)} {last.unit} + {shown(more, 4)} {last.unit} = {shown(total, 4)} {last.unit}"
    sides = [None if one is None else round(one + more, 2) for one in (last.low, last.high)]
    estimate = Estimate(
        "added-up", total, last.unit, low=sides[0], high=sides[1], working=(*last.working, line), source=last.source
    )
    worked = Worked(
        state.worked.calculation, state.worked.topic, estimate=replace(estimate, assumptions=last.assumptions)
    )
    return reckoning.answer(state, worked, text, ranking, mind)


__all__ = ["asked"]
