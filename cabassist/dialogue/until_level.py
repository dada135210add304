"""Where what the last sum was about is to end: "only down to twenty percent though", "if I quit at sixty percent left".

Such a level is the end of the time, never what there is now. The question is put once more with it, and asked back where that
gives no number.
"""

from __future__ import annotations

import re
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import reckoning
from cabassist.dialogue.anew import worked_anew
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking

if TYPE_CHECKING:
    from cabassist.language.calculation_amounts import Amount
    from cabassist.sums.working import Worked

ENDED = frozenset({"fresh-hours", "waste-hours", "battery-hours"})
_TIMES = frozenset({"h", "min", "day", "days"})
_ENDS = frozenset({"stop", "target", "limit"})
"""Roles of the level at which a time ends."""
_SMALL = r"(?:(?:ok|okay|so|and|but|or|no|wait|oh|well|hm+|sorry|actually|right|alright|then|now|what|how long|how about|what about|say|suppose|only|just|really|maybe) )*"
_STOPS = r"(?:(?:only |just |have to |want to |would |should |'d )*(?:quit|stop|shut (?:it )?(?:off|down)|dump|dumped|switch over|fill up|recharge|charge|start (?:the generator|charging)|pull the plug|call it quits|cut (?:it )?off))(?: (?:it|using it|drawing|it off))?"
_BEFORE = (
    r"(?:(?:if|when|once) (?:i|we|you|they) "
    + _STOPS
    + r" (?:at|with|when (?:it|there)(?:'s| is| hits| gets (?:down |up )?to| reaches)?)"
    r"|(?:quit|quitting|stop|stopping|dumping|dump it|cut off) (?:at|with)"
    r"|(?:(?:if|when) )?(?:(?:i|we|you|they|it|the (?:pump|tank|bank|battery)) )?(?:(?:only|just|can|can only|will|would|'ll|'d|want to|have to|dare|should) )*(?:(?:run|runs|take|draw|drain|use|let|go|goes|get|gets|drop|drops|pull|fill|fills|drawn|run) (?:it |her |them )?)?(?:down|up|as (?:low|high|far) as) ?(?:to)?"
    r"|(?:only )?(?:until|till|til|'til) (?:it|the (?:tank|bank|battery)|she|there)(?:'s| is| are| hits| reaches| gets (?:down |up )?to| drops to| falls to)(?: (?:down|up) to| at)?)"
)
_AFTER = r"(?: (?:left(?: (?:in (?:it|there|her)))?|full|charged?|remaining|of (?:it|the tank|the bank|charge|full)))*(?: (?:though|instead|then|please|rather))*(?:,? (?:so|because|cause|since|in case|to (?:be|keep|save|spare)|that's|it's|not|as|or|for)\b.*)?$"
_REACHED = Lazy(
    rf"^{_SMALL}{_BEFORE} (?:about |around |only |say )*(?P<level>[a-z0-9.%]+(?: [a-z0-9.%]+){{0,3}}?){_AFTER}"
)


_AGAIN = Lazy(
    rf"^{_SMALL}(?:(?:to|at|till?|until|make (?:it|that)) )*(?P<level>[a-z0-9.%]+(?: [a-z0-9.%]+){{0,3}}?){_AFTER}"
)
"""Another level to end at, right after one: "and to thirty percent", "no, eighty"."""
_SHARES = ("percent", "part")


def ends_at(said: str) -> bool:
    """Whether a text names a level that something goes down or up to."""
    return (level := _named(_REACHED.match(said))) is not None and level.unit != "n"


def _named(found: re.Match[str] | None) -> Amount | None:
    """The level that a text names and nothing beside it; None when it is so much in a time, or nothing of the kind."""
    if found is None:
        return None
    from cabassist.language.calculation_inputs import read_question

    level = read_question(found["level"])
    if len(level.amounts) != 1 or (level.amounts[0].start, level.amounts[0].end) != (0, len(level.words)):
        return None
    one = level.amounts[0]
    return one if one.unit in ("n", "gal", *_SHARES) and not (one.per or one.each or one.pieces) else None


def reached(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The time of the last sum until such a level; asked back where it cannot be told, None when the text names none."""
    worked = state.worked
    if worked is None or worked.estimate is None or worked.calculation not in ENDED:
        return None
    if worked.estimate.unit not in _TIMES:
        return None
    level = _named(_REACHED.match(said))
    if level is None or level.unit == "n":  # "down to eight" may be so much an hour
        level = _named(_AGAIN.match(said)) if _end_changed(state, worked) else None
    if level is None:
        return None
    from cabassist.dialogue.following import not_placed
    from cabassist.dialogue.trusting import uses

    end = _percent(level, worked, mind)
    if end is None:
        return not_placed(state, mind)
    for whole in _questions(worked, end, state):
        again = worked_anew(whole, state, mind, now)
        if again is None or again.calculation != worked.calculation or again.estimate is None:
            continue
        placed = bool(_end_of(again)) or uses(again, end / 100) or uses(again, end)
        if again.estimate.unit in _TIMES and placed:
            return reckoning.answer(state, again, whole, ranking, mind)
    return not_placed(state, mind)


def _end_changed(state: State, worked: Worked) -> bool:
    """Whether the sum before the last had another end or none, so that the end is what is spoken of."""
    before = state.earlier
    if before is None or before.calculation != worked.calculation or state.last is None:
        return False
    return state.last.kind == "calculation" and _end_of(worked) not in ("", _end_of(before))


def _end_of(worked: Worked) -> str:
    """The level at which a time ends, as it was said or as the answer is called; empty where there is none."""
    name = worked.estimate.name if worked.estimate is not None else ""
    return next((said for role, said in worked.taken if role in _ENDS), name if name.startswith(_UNTIL) else "")


_UNTIL = "until it is at"


def _percent(level: Amount, worked: Worked, mind: Mind) -> float | None:
    """A level in percent of full; None when it is none of the thing that the sum is about."""
    if level.unit in ("n", *_SHARES):
        share = level.value * (100.0 if level.unit == "part" else 1.0)
    elif worked.calculation != "battery-hours":
        tank = worked.calculation.partition("-")[0]
        share = level.value / mind.coach.tank(tank).capacity_gal * 100.0
    else:
        return None
    return round(share, 2) if 0.0 <= share <= 100.0 else None


def _questions(worked: Worked, end: float, state: State) -> list[str]:
    """The last question with its end at such a level: in its own words where it named one, else in plain words."""
    from cabassist.language.calculation_inputs import read_question

    question = read_question(state.question)
    words = " ".join(question.words)
    ends = [said for role, said in worked.taken if role in _ENDS]
    found = [re.sub(rf"\b{re.escape(ends[0])}\b(?! (?:a|an|per) )", f"{end:g} percent", words)] if len(ends) == 1 and words.count(ends[0]) == 1 else []  # fmt: skip
    stands = {one.name: one for one in worked.inputs if isinstance(one.value, (int, float))}
    if worked.calculation == "battery-hours":
        held, drawn = stands.get("capacity"), stands.get("load")
        if not ends and held is not None and drawn is not None and (held.unit, drawn.unit) == ("Ah", "A"):
            start = float(stands["charge"].value) if "charge" in stands else 1.0
            found.append(f"{held.value:g} amp hours, {drawn.value:g} amps, how long from {start * 100:g} percent down to {end:g} percent")  # fmt: skip
        return found
    tank = worked.calculation.partition("-")[0]
    rate, level = stands.get(f"{tank}_rate"), stands.get(f"{tank}_share")
    if rate is not None and level is not None and rate.unit in ("gal/h", "gal/day"):
        share = float(level.value) * (1.0 if level.unit == "percent" else 100.0)
        found.append(f"{tank} {share:g} percent, how long at {rate.value:g} gallons {'an hour' if rate.unit == 'gal/h' else 'a day'} until it is at {end:g} percent")  # fmt: skip
    return found
