"""Whether a propane cylinder may be filled that far: the one sum whose answer is a no, with the limit, when it is not.

A cylinder named by its pounds is named by its legal fill; a volume is taken at 80 %, a stamped water capacity at 42 %.
"""

from __future__ import annotations

from cabassist.estimate.cylinders import FILLING_DENSITY
from cabassist.estimate.propane import LB_PER_GAL, WEIGHT_SOURCE
from cabassist.estimate.quantities import exact, figure, shown, withheld
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told, role

PAST_LEGAL_FILL = "past the legal fill"
"""The name of an estimate that refuses a fill."""
MOST_OF_VOLUME = 0.8
"""Share of a vessel's volume that may be liquid: 80 % fill rule, NFPA 58, from memory."""
_VESSEL = r"(?:pounders?|cylinders?|bottles?|tanks?|cilinders?|jugs?)"
_KIND = r"(?:(?:propane|lp|gas|steel|aluminum|aluminium|empty|our|spare|big|little|small) )*"
_INTO = r"(?:fill\w*|put\w*|pump\w*|squeeze\w*|squirt\w*|cram\w*|stuff\w*|shove\w*|take|takes|taking|hold|holds|get|top|topp\w*|load\w*|give|pour\w*|dispens\w*|accept|go|goes|fits?|overfill\w*)"
_POURS = Lazy(rf"\b{_INTO}\b(?: [a-z]+){{0,6}} # ")
_ROLES = (
    role("size", "mass", 0.0, (3.0, rf"# {_KIND}{_VESSEL}\b|\b{_VESSEL} (?:of|is|rated|rated at|rated for|that is|size) # ")),
    role("capacity", "volume", -1.5, (4.0, rf"# {_KIND}(?:tank|vessel)\b|\bout of a # "), bare=9.0),
    role("water_capacity", "mass|volume", -2.0, (5.0, r"\b(?:wc|water capacity)\b(?: \w+){0,3} # |# (?:\w+ )?(?:water capacity|wc|of water capacity)\b"), bare=0.3),
    role("fill", "mass|volume|share", 0.3,
        (2.0, rf"\b{_INTO}\b(?: (?!has|have|had)[a-z]+){{0,4}} # "),
        (1.5, r"\b(?:up to|to|past|over|beyond|as far as|with) # |# (?:of (?:propane|gas|lp) )?(?:in|into|inside|go|fit)\b"),
        never=rf"# {_KIND}{_VESSEL}\b|# (?:left|already|more|extra)\b|\b(?:another|extra|additional) # ", bare=1.2),
    role("more", "mass|volume", -1.5, (3.5, r"# (?:more|extra|on top|over|too much)\b|\b(?:another|extra|additional) # ")),
    role("inside", "mass|volume|share", -1.0, (3.0, r"\b(?:has|have|had|with|already|got|holds) (?:about |still )?# (?:\w+ )?(?:in it|left|already|in there|in)\b|# (?:left|already)\b"), bare=1.0),
    role("bottles", "count cylinder", 0.5),
    role("bottles", "n", -1.0, (3.0, rf"# (?:<lb>|{_KIND}{_VESSEL})")),
    role("beside", "clock|people|temperature", -1.0, many=True),
)  # fmt: skip
_PROPANE = Lazy(r"\b(?:propane|lp|lpg|cylinders?|bottles?|pounders?|cilinders?)\b|<lb> (?:\w+ )?tank\b|<cylinder>")
_FILLS = Lazy(rf"\b{_INTO}\b|\b(?:in|into) (?:a |an |the |our |my |one )?<lb>|\ballowed\b|\blegal\b")
_NOT_A_FILL = Lazy(
    r"\b(?:fresh|waste|hose|water(?! capacity)|diesel|furnaces?|last|lasts|burn\w*|btus?|gauge|left for|how long|days|nights|hours|date\w*|retest\w*|requal\w*|expire\w*|due|feed|vapou?r\w*|take out|takes? off|weigh\w*|tare|tw|scale|showers?)\b|<BTU|<(?:lb|gal|percent|n)/"
)
_MAY = Lazy(
    r"\b(?:can|could|may|might|should|would|will|ok|okay|alright|safe|legal|allowed|all right|fine|fit|fits|too much|enough room|take|hold|want|wants|wanna|lets|let|going to|is it|trouble)\b|^ (?:just )?(?:fill|put|pump|squeeze|top)\b"
)
_NUMBER_ASKED = Lazy(r"\bhow (?:much|many)\b|\bwhat (?:is|does|would)\b")
_FULL = Lazy(r"\bfull\b")
_BRIM = Lazy(r"\b(?:to|up to) the (?:very |absolute )?(?:top|brim|rim|neck)\b|\b(?:completely|liquid|brim) ?full\b")
_PAST = Lazy(r"\b(?:filled|pumped|took|bought|dispensed|got|went in|guy put|filler put)\b")


def _applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    frame = question.frame
    pounders = any("# pounders" in term.around for term in terms)
    return bool((pounders or _PROPANE.search(frame)) and _FILLS.search(frame)) and not _NOT_A_FILL.search(frame)


def _pounds(term: Term, limit: float) -> float:
    """What an amount comes to in pounds; a share is one of the volume, of which the limit is 80 %."""
    if term.kind == "share":
        return term.value * limit / MOST_OF_VOLUME
    return term.value * LB_PER_GAL if term.kind == "volume" else term.value


def _limit(t: Told) -> tuple[float, str] | None:
    """Pounds a cylinder may hold, with the working."""
    size, stamp, capacity = t.one("size"), t.one("water_capacity"), t.one("capacity")
    if sum(one is not None for one in (size, stamp, capacity)) != 1:
        return None
    if size is not None:
        count = t.value("bottles") or 1.0
        if count != 1:
            return (
                count * size.value,
                f"{shown(count)} cylinders of {shown(size.value)} lb: {shown(count * size.value)} lb is their legal fill",
            )
        return size.value, f"a {shown(size.value)} lb cylinder: {shown(size.value)} lb is its legal fill"
    if stamp is not None and stamp.kind == "mass":
        pounds = FILLING_DENSITY * stamp.value
        return pounds, f"{FILLING_DENSITY} x {shown(stamp.value)} lb water capacity = {shown(pounds)} lb"
    volume = stamp or capacity
    if volume is None:
        return None
    gallons = MOST_OF_VOLUME * volume.value
    return gallons * LB_PER_GAL, f"80 % of {shown(volume.value)} gal = {shown(gallons)} gal"


def _filled(t: Told) -> Estimate | None:
    limit = _limit(t)
    if limit is None:
        return None
    most, line = limit
    if _BRIM.search(t.question.frame) and not (t.has("fill") or t.has("more") or t.has("inside")):
        return _refused(most, (line,))
    if not (t.has("fill") or t.has("more")):
        return None
    fill, more, inside = t.one("fill"), t.one("more"), t.one("inside")
    if fill is not None and more is not None:
        return None
    if more is not None:
        if inside is None and not _FULL.search(t.question.frame):
            return None
        put = (most if inside is None else _pounds(inside, most)) + _pounds(more, most)
    else:
        assert fill is not None
        put = _pounds(fill, most)
        if inside is not None and fill.kind != "share" and not Lazy(r"\bto # ").search(fill.around):
            put += _pounds(inside, most)
    frame = t.question.frame
    over = put > most * 1.002
    asked = _NUMBER_ASKED.search(frame) is not None
    if not _MAY.search(frame) and (not over or not _POURS.search(t.roles["fill" if fill else "more"][0].around)):
        return None
    if not over and asked:
        return None
    told = f"{shown(put, 3)} lb"
    limits = _limits(most)
    if not over:
        return exact("in it then", put, "lb", working=(line, f"{told} against {shown(most)} lb"), source=_SOURCE, verdict=f"Yes: {shown(put, 3)} pounds of {shown(most, 3)}.", also=limits)  # fmt: skip
    if asked and _PAST.search(frame) and fill is not None and fill.kind != "share":
        return exact("in it then", put, "lb", working=(line,), source=_SOURCE, verdict=f"That is too much: {_no(most)}", also=(*limits, figure("gallons", put / LB_PER_GAL, "gal")))  # fmt: skip
    return _refused(most, (line, f"{told} is {shown(put - most, 3)} lb more"))


_SOURCE = f"80 % of the volume, 42 % of the water weight (29 CFR 1910.110); {WEIGHT_SOURCE}"


def _no(most: float) -> str:
    return f"{shown(most, 3)} pounds, {shown(most / LB_PER_GAL, 3)} gallons, is the most: 80 percent of its volume. Liquid needs room to swell, or it vents or bursts."


def _limits(most: float) -> tuple[Figure, ...]:
    return figure("most that may be filled", most, "lb"), figure("in gallons", most / LB_PER_GAL, "gal")


def _refused(most: float, working: tuple[str, ...]) -> Estimate:
    """No number for the wish, and the limit beside it."""
    return withheld(PAST_LEGAL_FILL, "lb", f"No. {_no(most)}", working=working, source=_SOURCE, also=_limits(most))


FILL = Family("fill", lambda _question: "propane-weight", _applies, _ROLES, _filled)
