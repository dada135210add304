"""From a ranking to a decision: answer, ask back, refuse, raise a hazard, or say that nothing fits.

The bounds were chosen on the development questions under `tests/data/dev`, never on the unseen ones.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from cabassist.language.matching import Ranking
from cabassist.procedures.library import CALCULATION, WISH

DEFECT_TOPIC = "report-a-defect"

Verdict = Literal["answer", "clarify", "unknown", "refuse", "hazard"]


@dataclass(frozen=True)
class Bounds:
    """Probabilities, 0 to 1, at which the decision changes."""

    hazard: float = 0.70
    hazard_with_cue: float = 0.20
    """The same when the text also holds a cue of that hazard, such as "electr" or "spil"."""
    wish: float = 0.40
    wish_with_cue: float = 0.15
    """The same when the text also asks leave, says what its speaker is about to do, or cuts a corner."""
    wish_with_sign: float = 0.02
    outside: float = 0.50
    vague: float = 0.35
    sure: float = 0.40
    margin: float = 0.10
    floor: float = 0.12
    wish_over_sign: float = 0.60
    """A wish this likely outranks the signs of a hazard: "can I tape over the alarm that is going off"."""
    hazard_in_wish: float = 0.15
    """A hazard this likely is warned of when the wish is one about it: "can we sleep now that the alarm is off the wall"."""
    fit: float = 0.30
    """Below this a question is too far from everything known to be answered without asking."""


BOUNDS = Bounds()
LIKE = 0.15
"""Share of all procedures from which on the likeliest is offered for a vague text."""


@dataclass(frozen=True)
class Decision:
    """What to do with a text, about which procedures, and how sure that is."""

    verdict: Verdict
    topics: tuple[str, ...]
    confidence: float
    wish: str = ""


def decide(
    ranking: Ranking,
    sign: str | None,
    *,
    hazards: frozenset[str],
    vague_options: tuple[str, ...] = (),
    homes: Mapping[str, str] | None = None,
    wish_signs: Sequence[str] = (),
    cues: Collection[str] = (),
    wishing: bool = False,
    bounds: Bounds = BOUNDS,
) -> Decision:
    """The decision for one text.

    `sign` is the hazard whose signs stand in the text; `vague_options` are the choices that belong to the
    nearest vague wording; `homes` names the procedure that a calculation or wish belongs to; `wish_signs` are the
    unsafe wishes whose signs stand in the text; `cues` are the hazards of which it holds a cue; `wishing` is whether it
    asks leave or tells an intention. Hazards come first, unless a wish is likelier
    (with a sign of a hazard, only from `wish_over_sign` on); then unsafe wishes, then the question itself.
    """
    worst = next((name for name, _ in ranking.procedures if name in hazards), None)
    likeliest = [name for name, _ in ranking.wishes]
    refused = next((name for name in likeliest if name in wish_signs), "") or next(iter([*wish_signs, *likeliest]), "")
    least = bounds.wish_with_cue if wishing else bounds.wish
    wished = ranking.wish >= (bounds.wish_over_sign if sign else least) and ranking.wish >= ranking.hazard
    home = (homes or {}).get(WISH + refused, "")
    if wished and home in hazards and ranking.hazard >= bounds.hazard_in_wish:
        return Decision("hazard", (home,), ranking.hazard)
    if not wished:
        if worst and ranking.hazard >= (bounds.hazard_with_cue if worst in cues else bounds.hazard):
            return Decision("hazard", (worst,), ranking.hazard)
        if sign:
            return Decision("hazard", (sign,), max(ranking.hazard, 0.5))
    if wish_signs and (ranking.wish >= bounds.wish_with_sign or ranking.out_of_scope < bounds.outside):
        return Decision("refuse", (), max(ranking.wish, 0.5), refused)
    if wished:
        return Decision("refuse", (), ranking.wish, refused)
    chance = gathered(ranking, homes or {})
    top = tuple(chance)
    if ranking.out_of_scope >= bounds.outside:
        return Decision("unknown", top[:3], ranking.out_of_scope)
    if ranking.ambiguous >= bounds.vague:
        # vague wordings are all alike, and the nearest may be of another thing: what the text is most like stands beside its choices
        like = [name for name in top[:1] if name not in hazards and chance[name] > LIKE * sum(chance.values())]
        options = tuple(dict.fromkeys([*vague_options[:2], *like, *vague_options, *top[:3]]))[:3]
        return Decision("clarify", options, ranking.ambiguous)
    best, second = chance[top[0]], chance[top[1]]
    if ranking.fit < bounds.fit:
        return Decision("clarify", top[:3], best * 0.5)
    if best < bounds.floor:
        return Decision("unknown", top[:3], 1 - best)
    share = best / max(1e-9, 1 - ranking.out_of_scope - ranking.ambiguous)
    if share < bounds.sure and best - second < bounds.margin:
        return Decision("clarify", top[:3], best)
    return Decision("answer", top[:3], best)


def gathered(ranking: Ranking, homes: Mapping[str, str]) -> dict[str, float]:
    """The procedures' probabilities, likeliest first, each with what belongs to it: its calculations, the wishes
    that were too unlikely to refuse, and for the defect report the defects."""
    chance = dict(ranking.procedures)
    for kind, rows in ((CALCULATION, ranking.calculations), (WISH, ranking.wishes)):
        for name, value in rows:
            home = homes.get(kind + name)
            if home is not None:
                chance[home] = chance.get(home, 0.0) + value
    chance[DEFECT_TOPIC] = chance.get(DEFECT_TOPIC, 0.0) + ranking.defect
    return dict(sorted(chance.items(), key=lambda row: -row[1]))
