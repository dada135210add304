"""From a ranking to a decision: answer, ask back, refuse, raise a hazard, or say that nothing fits.

The bounds were chosen on the development questions under `tests/data/dev`, never on the unseen ones.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from cabassist.language.danger_network import Judged
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
    vague: float = 0.25
    sure: float = 0.40
    margin: float = 0.10
    floor: float = 0.12
    wish_over_sign: float = 0.60
    """A wish this likely outranks the signs of a hazard: "can I tape over the alarm that is going off"."""
    hazard_in_wish: float = 0.15
    """A hazard this likely is warned of when the wish is one about it: "can we sleep now that the alarm is off the wall"."""
    judged_sure: float = 0.93
    """The danger network alone raises what it holds for this likely."""
    judged_supposed: float = 0.80
    """At least so likely it must be where leave is asked or an intention told."""
    judged_danger: float = 0.60
    """The same where the text is a little like the wordings of a hazard, and not too much like those of one procedure."""
    little_likeness: float = 0.02
    hardly_asked: float = 0.30
    """Below this for every procedure, a text that is more like a hazard needs little likeness to it."""
    plainly_asked: float = 0.80
    judged_with_sign: float = 0.30
    """The same where a sign of the hazard stands in the text."""
    judged_with_likeness: float = 0.40
    """The same where the text is much like the wordings of a hazard."""
    much_likeness: float = 0.30
    over_danger: float = 0.10
    """So much likelier than the danger a wish must be to be refused where both are there."""
    judged_askable: float = 0.15
    """From here on it is asked whether a hazard is there that only words or likeness tell."""
    judged_calm: float = 0.05
    """Below this for every danger none is among the choices."""
    judged_hurt: float = 0.95
    """Somebody is hurt from here on."""
    judged_urgent: float = 0.85
    """A danger without a procedure is told from here on."""
    judged_wish: float = 0.50
    """The network takes a text for an unsafe wish from here on."""
    some_wish: float = 0.05
    judged_sure_wish: float = 0.90
    """The same without a doubt."""
    wish_fit: float = 0.10
    """Below this a text is too far from the matters of the coach to be a wish about them, but for signs."""
    wish_weights: tuple[float, ...] = (0.74, 0.25, 0.18, 0.20, -1.71, 3.01, -0.27, 0.16)
    """What each kind of evidence in WISH_EVIDENCE counts for a wish; `tests/bench/weigh_wishes.py` fits them."""
    wish_constant: float = -2.06
    wished: float = 0.40
    """A wish this likely is refused."""
    which_sure: float = 0.70
    """A wish that the network takes it for, this likely, is told also where the signs of another stand in the text."""
    which_likely: float = 0.30
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
    judged: Judged | None = None,
    supposed: bool = False,
    bounds: Bounds = BOUNDS,
) -> Decision:
    """The decision for one text.

    `sign` is the hazard whose signs stand in the text; `vague_options` are the choices that belong to the
    nearest vague wording; `homes` names the procedure that a calculation or wish belongs to; `wish_signs` are the
    unsafe wishes whose signs stand in the text; `cues` are the hazards of which it holds a cue, which count without
    `judged`; `supposed` is whether it asks leave or tells an intention. Hazards come first, unless a wish is likelier
    (with a sign of a hazard, only from `wish_over_sign` on); then unsafe wishes, then the question itself. `judged` is what the
    danger network makes of the text; with it, signs and likeness alone raise no hazard and refuse no wish.
    """
    worst = next((name for name, _ in ranking.procedures if name in hazards), None)
    likeliest = [name for name, _ in ranking.wishes]
    refused = next((name for name in likeliest if name in wish_signs), "") or next(iter([*wish_signs, *likeliest]), "")
    if judged is not None:
        named = _which(refused, dict(ranking.wishes).get(refused, 0.0), wish_signs, judged, bounds)
        first = _first(ranking, sign, judged, hazards, named, wish_signs, homes or {}, bounds, supposed=supposed)
        if first is not None:
            return first
        ranking = _without_wish(ranking, bounds)
        if judged.danger < bounds.judged_calm:
            calm = tuple((name, chance) for name, chance in ranking.procedures if name not in hazards)
            ranking = replace(ranking, procedures=calm) if len(calm) > 1 else ranking
        return _fitting(ranking, hazards, vague_options, homes or {}, bounds)
    least = bounds.wish_with_cue if supposed else bounds.wish
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
    return _fitting(ranking, hazards, vague_options, homes or {}, bounds)


def reported(
    ranking: Ranking | None,
    sign: str | None,
    judged: Judged,
    hazards: Collection[str],
    *,
    supposed: bool,
    bounds: Bounds = BOUNDS,
) -> str | None:
    """The hazard with a procedure that a text reports by all that is known of it; without a ranking by signs and network alone.

    `supposed` is whether it asks leave or tells an intention, so that the network must be surer.
    """
    chances = {name: chance for name, chance in judged.dangers.items() if name in hazards}
    worst = max(chances, key=chances.__getitem__, default="")
    danger = chances.get(worst, 0.0)
    if sign is not None and judged.danger >= bounds.judged_with_sign:
        named = chances.get(sign, 0.0) >= bounds.judged_askable or danger < bounds.judged_sure
        return sign if named else worst
    if danger < judged.danger or (supposed and danger < bounds.judged_supposed):
        return None
    if danger >= bounds.judged_sure:
        return worst
    if ranking is None:
        return None
    asked = next((chance for name, chance in ranking.procedures if name not in hazards), 0.0)
    like = ranking.hazard >= bounds.little_likeness or asked < min(bounds.hardly_asked, ranking.hazard)
    if danger >= bounds.judged_danger and like and asked < bounds.plainly_asked:
        return worst
    return worst if danger >= bounds.judged_with_likeness and ranking.hazard >= bounds.much_likeness else None


WISH_EVIDENCE = ("judged", "which", "ranked", "asked", "fit", "sign", "outside", "danger")
"""What tells a wish for something unsafe from everything else; chances count as log odds."""


def wish_evidence(ranking: Ranking, signs: Sequence[str], judged: Judged) -> tuple[float, ...]:
    """How much of each kind of evidence there is, in the order of WISH_EVIDENCE."""
    asked = ranking.procedures[0][1] if ranking.procedures else 0.0
    return (
        _odds(judged.wish),
        _odds(judged.which[0][1] if judged.which else 0.0),
        _odds(ranking.wish),
        _odds(asked),
        ranking.fit,
        float(bool(signs)),
        _odds(ranking.out_of_scope),
        _odds(judged.danger),
    )


def wishes(ranking: Ranking, signs: Sequence[str], judged: Judged, *, bounds: Bounds = BOUNDS) -> bool:
    """Whether a text wishes for something unsafe by all that is known of it."""
    told = zip(bounds.wish_weights, wish_evidence(ranking, signs, judged), strict=True)
    return sum(weight * value for weight, value in told) + bounds.wish_constant >= _odds(bounds.wished)


def _odds(chance: float) -> float:
    """Log odds of a chance, no surer than one in ten thousand."""
    sure = min(max(chance, 1e-4), 1 - 1e-4)
    return math.log(sure / (1 - sure))


def _which(refused: str, share: float, signs: Sequence[str], judged: Judged, bounds: Bounds) -> str:
    """The wish that a text is for, should it be for one; empty when nothing known is like it.

    `refused` is the one by ranking and signs, `share` how likely the ranking holds it.
    """
    if not judged.which:
        return refused
    best, chance = judged.which[0]
    if chance >= bounds.which_sure or (not signs and chance >= bounds.which_likely):
        return best
    known = refused if share >= bounds.which_sure else ""
    return next((name for name, _ in judged.which if name in signs), next(iter(signs), known))


def _first(
    ranking: Ranking,
    sign: str | None,
    judged: Judged,
    hazards: frozenset[str],
    refused: str,
    wish_signs: Sequence[str],
    homes: Mapping[str, str],
    bounds: Bounds,
    *,
    supposed: bool,
) -> Decision | None:
    """The hazard or the wish that comes before everything else, or whether there is one is asked."""
    danger = reported(ranking, sign, judged, hazards, supposed=supposed, bounds=bounds)
    if wishes(ranking, wish_signs, judged, bounds=bounds):
        home = homes.get(WISH + refused, "")
        plainly = supposed and bool(wish_signs) and sign is None
        if danger is None or ((plainly or judged.wish > judged.danger + bounds.over_danger) and home not in hazards):
            near = [name for name in gathered(ranking, homes) if name not in hazards]
            return Decision("refuse", () if refused else tuple(near[:1]), judged.wish, refused)
    if danger is not None:
        return Decision("hazard", (danger,), max(judged.danger, 0.5))
    likely = next((name for name, _ in ranking.procedures if name in hazards), None)
    doubtful = sign or (likely if ranking.hazard >= bounds.much_likeness else None)
    if doubtful is not None and judged.dangers.get(doubtful, 0.0) >= bounds.judged_askable:
        calm = [name for name in gathered(ranking, homes) if name not in hazards]
        return Decision("clarify", (doubtful, *calm[:2]), judged.danger)
    return None


def _without_wish(ranking: Ranking, bounds: Bounds) -> Ranking:
    """The ranking of a text that is no wish, however like one: what it held for one goes to everything else.

    Where all that is known is far it counts as nothing known: "who won the cup".
    """
    if ranking.fit < bounds.wish_fit:
        return replace(ranking, wishes=(), wish=0.0, out_of_scope=ranking.out_of_scope + ranking.wish)
    more = 1 / max(1 - ranking.wish, _LEAST_LEFT)
    return replace(
        ranking,
        procedures=tuple((name, chance * more) for name, chance in ranking.procedures),
        calculations=tuple((name, chance * more) for name, chance in ranking.calculations),
        wishes=(),
        wish=0.0,
        defect=ranking.defect * more,
        out_of_scope=ranking.out_of_scope * more,
        ambiguous=ranking.ambiguous * more,
    )


_LEAST_LEFT = 0.05
"""What is left beside a wish counts for at least so much of all, or it would be noise made loud."""


def _fitting(
    ranking: Ranking, hazards: frozenset[str], vague_options: tuple[str, ...], homes: Mapping[str, str], bounds: Bounds
) -> Decision:
    """The decision for a text that reports no hazard and wishes for nothing unsafe."""
    chance = gathered(ranking, homes)
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
