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
from cabassist.sums.told_units import as_spoken

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
    role("size", "time", -9.0),  # "both 40s" is heard as forty seconds: no cue tells it, only the network
    role("capacity", "volume", -1.5, (4.0, rf"# {_KIND}(?:tank|vessel)\b|\bout of a # "), bare=9.0),
    role("water_capacity", "mass|volume", -2.0, (5.0, r"\b(?:wc|water capacity)\b(?: \w+){0,3} # |# (?:\w+ )?(?:water capacity|wc|of water capacity)\b"), bare=0.3),
    role("fill", "mass|volume|share", 0.3,
        (2.0, rf"\b{_INTO}\b(?: (?!has|have|had)[a-z]+){{0,4}} # "),
        (1.5, r"\b(?:up to|to|past|over|beyond|as far as|with) # |# (?:of (?:propane|gas|lp) )?(?:in|into|inside|go|fit)\b"),
        never=rf"# {_KIND}{_VESSEL}\b|# (?:left|already|more|extra)\b|\b(?:another|extra|additional) # ", bare=1.2),
    role("more", "mass|volume", -1.5, (3.5, r"# (?:more|extra|on top|over|too much)\b|\b(?:another|extra|additional) # ")),
    role("more", "n", -9.0),
    role("inside", "mass|volume|share", -1.0, (3.0, r"\b(?:has|have|had|with|already|got|holds) (?:about |still )?# (?:\w+ )?(?:in it|left|already|in there|in)\b|# (?:left|already)\b"), bare=1.0),
    role("claimed", "mass|n", -9.0),  # what somebody says that it holds
    role("bottles", "count cylinder", 0.5),
    role("bottles", "n", -1.0, (3.0, rf"# (?:<lb>|{_KIND}{_VESSEL})")),
    role("beside", "clock|people|temperature", -1.0, many=True),
)  # fmt: skip
_PROPANE = Lazy(r"\b(?:propane|lp|lpg|cylinders?|bottles?|pounders?|cilinders?)\b|<lb> (?:\w+ )?tank\b|<cylinder>")
_FILLS = Lazy(
    rf"\b{_INTO}\b|\b(?:in|into) (?:a |an |the |our |my |one )?<lb>|\ballowed\b|\blegal\b|\btoo (?:much|many)(?: \w+)? (?:for|in|into)\b"
)
_NOT_A_FILL = Lazy(
    r"\b(?:fresh|waste|hose|water(?! capacity)|diesel|furnaces?|last|lasts|burn\w*|btus?|gauge|left for|how long|days|nights|hours|date\w*|retest\w*|requal\w*|expire\w*|due|feed|vapou?r\w*|take out|takes? off|weigh\w*|tare|tw|scale|showers?)\b|<BTU|<(?:lb|gal|percent|n)/"
)
_MAY = Lazy(
    r"\b(?:can|could|may|might|should|would|will|ok|okay|alright|safe|legal|allowed|all right|fine|fit|fits|too much|enough room|take|hold|want|wants|wanna|lets|let|going to|is it|trouble)\b|^ (?:just )?(?:fill|put|pump|squeeze|top)\b"
)
_NUMBER_ASKED = Lazy(r"\bhow (?:much|many)\b|\bwhat (?:is|does|would)\b")
_FULL = Lazy(r"\bfull\b")
_BRIM = Lazy(r"\b(?:to|up to) the (?:very |absolute )?(?:top|brim|rim|neck)\b|\b(?:completely|liquid|brim) ?full\b")
_PAST_IT = r"(?:too (?:much|many|full|heavy|far)|over ?fill\w*|overfull|(?:over|past|above) (?:the|its|what is|what the) (?:\w+ ){0,3}(?:limit|line|mark|fill|legal|allowed|allows)|more than (?:it|is|the law|legal|allowed)|illegal|unlawful|unsafe|dangerous|trouble|worried|worry|a problem|wrong)\b"
_TOO_MUCH = Lazy(rf"\b{_PAST_IT}")
"""Asked so, a yes is that it may not be."""
_OR_TOO_MUCH = Lazy(rf"\b(?:or|without)\b(?: \w+){{0,3}} {_PAST_IT}")
""" "Can I, or is it too much": the first is what is asked."""
_IS_IT_RIGHT = Lazy(
    r"\b(?:ok|okay|alright|all right|legal|legally|safe|allowed|fine|fit|fits|take|hold)\b|\b(?:can|could|may|should|shall) (?:i|we|he|she|they|you|the|our|my|it|this|that|a)\b"
)
_EACH = Lazy(r"\b(?:in|into|to|for) each\b|<n/each>|\b(?:each|apiece|every one)\b")
_IN_EACH = Lazy(r"# (?:(?:of|propane|lp|gas|more|extra) ){0,4}(?:go )?(?:in|into|to|for) each\b")
"""The amount of which it is said, where "each" elsewhere may belong to another."""
_TOGETHER = Lazy(
    r"\b(?:altogether|together|total|in all|combined|between (?:them|the two|the pair|both|those|these))\b"
)
_BOTH = Lazy(r"\bboth\b")
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
        if size.kind == "time" and size.unit != "s":
            return None
        one = size.amount.value if size.kind == "time" else size.value
        count = _count(t)
        if count != 1:
            return (
                count * one,
                f"{shown(count)} cylinders of {shown(one)} lb: {shown(count * one)} lb is their legal fill",
            )
        return one, f"a {shown(one)} lb cylinder: {shown(one)} lb is its legal fill"
    if _count(t) != 1:
        return None
    if stamp is not None and stamp.kind == "mass":
        pounds = FILLING_DENSITY * stamp.value
        return pounds, f"{FILLING_DENSITY} x {shown(stamp.value)} lb water capacity = {shown(pounds)} lb"
    volume = stamp or capacity
    if volume is None:
        return None
    gallons = MOST_OF_VOLUME * volume.value
    return gallons * LB_PER_GAL, f"80 % of {shown(volume.value)} gal = {shown(gallons)} gal"


def _count(t: Told) -> float:
    """How many cylinders are filled."""
    return t.value("bottles") or (2.0 if _BOTH.search(t.question.frame) else 1.0)


def _put(t: Told, term: Term, most: float) -> tuple[float, float]:
    """What an amount comes to in pounds in all cylinders, at the least and at the most that it can mean."""
    pounds, count, frame = _pounds(term, most), _count(t), t.question.frame
    if count == 1 or term.kind == "share":
        return pounds, pounds
    if term.each or _IN_EACH.search(term.around):
        return count * pounds, count * pounds
    if _TOGETHER.search(frame):
        return pounds, pounds
    open_ended = _EACH.search(frame) or not t.has("bottles")  # "in both": in each, or in the two of them?
    return pounds, (count * pounds if open_ended else pounds)


def _filled(t: Told) -> Estimate | None:
    as_spoken(t, "mass", "fill", "more", "inside")
    limit = _limit(t)
    if limit is None:
        return None
    most, line = limit
    if t.has("claimed"):
        return _claim(t, most, line)
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
        parts = [(most, most) if inside is None else _put(t, inside, most), _put(t, more, most)]
    else:
        assert fill is not None
        parts = [_put(t, fill, most)]
        if inside is not None and fill.kind != "share" and not Lazy(r"\bto # ").search(fill.around):
            parts.append(_put(t, inside, most))
    put, at_most = (sum(part[k] for part in parts) for k in (0, 1))
    frame = t.question.frame
    over = put > most * 1.002
    if not over and at_most > put:
        return None
    asked = _NUMBER_ASKED.search(frame) is not None
    if not (_MAY.search(frame) or _TOO_MUCH.search(frame)) and (
        not over or not _POURS.search(t.roles["fill" if fill else "more"][0].around)
    ):
        return None
    if not over and asked:
        return None
    told = f"{shown(put, 3)} lb"
    limits = _limits(most)
    yes, no = _answers(frame)
    if not over:
        return exact("in it then", put, "lb", working=(line, f"{told} against {shown(most)} lb"), source=SOURCE, verdict=f"{yes}: {shown(put, 3)} pounds of {shown(most, 3)}.", also=limits)  # fmt: skip
    if asked and _PAST.search(frame) and fill is not None and fill.kind != "share":
        return exact("in it then", put, "lb", working=(line,), source=SOURCE, verdict=f"That is too much: {most_said(most)}", also=(*limits, figure("gallons", put / LB_PER_GAL, "gal")))  # fmt: skip
    return _refused(most, (line, f"{told} is {shown(put - most, 3)} lb more"), no)


_DENIES = Lazy(r"\bis (?:\w+ ){1,3}(?:wrong|mistaken|off|nonsense|rubbish)\b|\b(?:wrong|mistaken|nonsense) $")


def _claim(t: Told, most: float, line: str) -> Estimate | None:
    """Whether a cylinder holds what somebody says: the pounds in its name are the legal fill, 80 % is of its volume."""
    claimed = t.value("claimed")
    if claimed is None or any(t.has(name) for name in ("fill", "more", "inside")) or not t.want.judged:
        return None
    right = abs(claimed - most) <= 0.01 * most
    said = "Yes" if right is not (_DENIES.search(t.question.frame) is not None) else "No"
    named = " The pounds in its name are that already." if t.has("size") else ""
    verdict = f"{said}: {shown(most, 3)} pounds is its legal fill, 80 percent of its volume and no less of the pounds.{named}"  # fmt: skip
    return exact("legal fill", most, "lb", working=(line,), source=SOURCE, verdict=verdict, also=(figure("in gallons", most / LB_PER_GAL, "gal"),))  # fmt: skip


def _answers(frame: str) -> tuple[str, str]:
    """How the verdict begins when it may be filled so, and when not: "is that too much" turns yes and no about.

    Where both ways of asking stand in one question, neither word would be sure to answer the right one.
    """
    if not _TOO_MUCH.search(frame) or _OR_TOO_MUCH.search(frame):
        return "Yes", "No."
    if _IS_IT_RIGHT.search(_TOO_MUCH.sub("", frame)):
        return "It is not too much", "That is too much:"
    return "No, it is not too much", "Yes, that is too much:"


SOURCE = f"80 % of the volume, 42 % of the water weight (29 CFR 1910.110); {WEIGHT_SOURCE}"


def most_said(most: float) -> str:
    """The limit in words, as a refusal tells it."""
    return f"{shown(most, 3)} pounds, {shown(most / LB_PER_GAL, 3)} gallons, is the most: 80 percent of its volume. Liquid needs room to swell, or it vents or bursts."


def _limits(most: float) -> tuple[Figure, ...]:
    return figure("most that may be filled", most, "lb"), figure("in gallons", most / LB_PER_GAL, "gal")


def _refused(most: float, working: tuple[str, ...], no: str = "No.") -> Estimate:
    """No number for the wish, and the limit beside it."""
    return withheld(
        PAST_LEGAL_FILL, "lb", f"{no} {most_said(most)}", working=working, source=SOURCE, also=_limits(most)
    )


FILL = Family("fill", lambda _question: "propane-weight", _applies, _ROLES, _filled)
