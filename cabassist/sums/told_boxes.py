"""How many boxes of one size go into a bay."""

from __future__ import annotations

from cabassist.estimate.loading import boxes_in
from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.sums.families import Told
from cabassist.sums.told_parts import result

_UPRIGHT = Lazy(
    r"\b(?:upright|(?:this|right|same|one) (?:side|way) up|stand up|standing up|kept? level|flat side down|not (?:be )?(?:tipped|turned over|on (?:its|their) sides?))\b"
)
_IN = {"ft": "ft", "m": "m", "yd": "yd", "in": "in", "cm": "cm", "mm": "mm"}


def boxes_into(t: Told) -> Estimate | None:
    """Whole boxes along each side of a bay, the best way turned; a weight that the bay may carry can leave fewer."""
    bay, box = _sides(t.all("bay")), _sides(t.all("box"))
    if len(bay) != 3 or len(box) != 3 or min(*bay, *box) <= 0:
        return None
    many, along = boxes_in(bay, box, upright=_UPRIGHT.search(t.question.frame) is not None)
    lines = [f"{' x '.join(map(str, along))} along the sides = {many}"]
    limit, each, needed = t.value("limit"), t.value("each"), t.value("count")
    if (limit is None) is not (each is None) or (each is not None and each <= 0):
        return None
    verdict, room = f"{many} fit.", many
    if limit is not None and each is not None:
        by_weight = int(limit / each + 1e-9)
        lines.append(f"{shown(limit)} lb ÷ {shown(each)} lb = {shown(limit / each)}")
        verdict = f"{many} fit by their size and {by_weight} by their weight."
        many = min(many, by_weight)
    also: tuple[Figure, ...] = (figure("by their size", room, "count"),)
    if needed is not None:
        verdict = f"{'Yes' if many >= needed else 'No'}, {verdict}"
        also = (*also, figure("to spare" if many >= needed else "left over", abs(many - needed), "count"))
    return result(t, "that many fit", float(many), "count", tuple(lines), verdict, also)


def _sides(terms: list[Term]) -> list[float]:
    """Sides in inches; one without a unit is in that of the next, or of the last before it."""
    found = []
    for place, one in enumerate(terms):
        unit = one.unit
        if unit not in _IN:
            later = [other.unit for other in (*terms[place + 1 :], *terms[:place][::-1]) if other.unit in _IN]
            unit = later[0] if later else "in"
        found.append(converted(one.amount.value, unit, "in"))
    return found
