"""The last use by head worked out for other heads: "for all thirty four", "what if it's twenty people at that", "ten more people"."""

from __future__ import annotations

import re
from datetime import datetime

from cabassist.dialogue import reckoning
from cabassist.dialogue.following import put_back
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain

FOR_ALL = re.compile(
    r"^(?:(?:and|so|ok|okay|then|now|but) )*(?:(?:how (?:long|much|many \w+)|what) (?:is|does|will|would|about) (?:(?:that|it|this)(?: (?:be|last|come to|make))? )?|what's (?:that|it) )?for (?:all |the )*(?P<heads>(?:\d+|[a-z]+)(?: [a-z]+)?)(?: (?:of (?:us|them)|people|heads|players|passengers|aboard))?$"
)
SO_MANY = re.compile(
    r"^(?:(?:and|so|ok|okay|then|now|but) )*(?:what if|if|say|make (?:it|that)|with|(?:what's|what is) (?:the total|that)) (?:it's |it is |its |there's |there are |we're |we are |with |for |i've got |we've got )?(?P<heads>(?:\d+|[a-z]+)(?: [a-z]+)?) (?:of (?:us|them|em)|people|heads|players|passengers|aboard)(?: (?:at|with|on) that| instead| aboard)*$"
)
_HEADS = re.compile(r"\b(?:people|heads?|each|persons?|players|passengers|of us|apiece)\b")


def for_heads(state: State, heads: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last use by head worked out for other heads: "for all thirty four". Asked back when the question names others."""
    from cabassist.dialogue.trusting import uses
    from cabassist.language.calculation_inputs import read_question
    from cabassist.sums.working import work_out

    last, before = state.worked, state.question
    counted = read_question(f"{heads} people").amounts
    if last is None or [one.unit for one in counted] != ["people"]:
        return None
    by_head = bool(before) and _HEADS.search(bare(before)) is not None
    if not by_head and not any(one.name == "people" for one in last.inputs):
        return None
    named = [one for one in read_question(before).amounts if one.unit == "people"]
    whole = f"{before}, {heads} people" if by_head else ""
    if named and by_head:
        from cabassist.dialogue.restating import restated as with_amount

        found = with_amount(before, f"make it {heads} people")
        whole = found.text if found is not None else ""
    worked = None
    if whole:
        calculations = mind.ranked(whole).calculations
        worked = work_out(
            whole, calculations, coach=mind.coach, network=mind.role_network, stored=state.stored, now=now
        )
    sure = worked is not None and worked.estimate is not None and uses(worked, counted[0].value)
    if worked is None or not sure or worked.calculation != last.calculation:
        line = "Ask it once more with all its numbers, and I work it out for that many."
        return put_back(line, state, mind)
    return reckoning.answer(state, worked, whole, ranking, mind)


_MORE_HEADS = re.compile(r"\b(?P<number>\d+|[a-z]+(?:[ -][a-z]+)?) (?P<more>more|extra|additional|fewer|less) (?:people|heads|players|passengers|of (?:us|them)|kids|guys)\b")  # fmt: skip


def more_heads(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "With ten more people", when the heads of the last sum were those told before; else None."""
    found, last = _MORE_HEADS.search(plain(text)), state.worked
    heads = [one.value for one in last.inputs if one.name == "people"] if last is not None else []
    if found is None or len(heads) != 1 or not isinstance(heads[0], (int, float)):
        return None
    from cabassist.language.calculation_inputs import read_question

    words = found["number"].split()
    counted = [read_question(f"{' '.join(words[at:])} people").amounts for at in range(len(words))]
    counts = next((one for one in counted if len(one) == 1 and one[0].unit == "people"), ())
    if not counts:
        return None
    total = heads[0] + counts[0].value * (-1 if found["more"] in ("fewer", "less") else 1)
    return for_heads(state, f"{total:g}", ranking, mind, now) if total > 0 else None
