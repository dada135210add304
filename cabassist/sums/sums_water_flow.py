"""Which way the water of a question goes: into a tank, or out of it.

Single words tell it badly: a hose may be there to fill or to drain, "up" may be a gauge or "drink up". So every sign there
is has a say, and when they contradict each other there is no answer, for the other way round is the worst one.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cabassist.language.lazy import Lazy
from cabassist.sums.families import Told
from cabassist.sums.sums_water_tank import Tank, first_in

_ABOUT = r"(?:(?:by|about|at|in|on|of|another|around|roughly|only|maybe|some|to|it|us|her|like|a|the|good|up) ){0,3}"
_UP = Lazy(
    rf"\b(?:(?<!drink )(?<!drinks )(?<!use )(?<!uses )(?<!using )up|gain(?:s|ed|ing)?|rises?|rose|rising|climb(?:s|ed|ing)?|creep(?:s|ing)?|puts?|putting|adds?|adding|fill(?:s|ed|ing)?|(?:takes?|took|taking) on|(?:com(?:es?|ing)|goes|going|pour(?:s|ing)) in) {_ABOUT}# "
    r"|# (?:(?:of|it|that|which|is|are) ){0,2}(?:(?:going|goes|coming|comes|gets?|run(?:s|ning)|pour(?:s|ing)|flow(?:s|ing)) )?(?:into\b|in (?:the|it|there) (?!last|past|next)|in (?:,|\.|$))"
)
"""An amount that comes in, by the words beside it."""
_DOWN = Lazy(
    rf"\b(?:down|drops?|dropp(?:ed|ing)|falls?|falling|fell|los(?:es?|ing|t)|leak(?:s|ed|ing)?|drip(?:s|ping)?|lets?(?: \w+)? (?:out|go(?: of)?)) {_ABOUT}# "
    r"|# (?:a |of )?leak\b|# (?:is |are )?(?:leaking|leaks|dripping|going|goes|running|runs) (?:out|away)\b"
)
"""An amount that is lost, whichever tank it is."""
_SPENT = Lazy(
    rf"\b(?:us(?:es?|ed|ing)|eat(?:s|ing)?|drinks?|drinking|drank|burn(?:s|ed|ing)?|pull(?:s|ed|ing)?|draw(?:s|n|ing)?|drew|(?:go(?:es|ing)?|went|gone) through|showers?(?: will| that)? takes?|showers? (?:at|of|use|run|with)) {_ABOUT}# "
    r"|\b(?:showers?|sinks?|galley|basins?|dish ?washer|washing machine) (?:(?:head|tap|faucet|that|which|is|are|left|running|runs?|on|gives?|puts? out|does|will|at|about|flows?|pours?|makes?) ){0,4}# "
    r"|# (?:of \w+ )?(?:used|a shower|showers?)\b"
)
"""What people use leaves the fresh tank, and ends up in the waste."""
FULL_ASKED = Lazy(
    r"\b(?:till|until|to|before|when|days|hours|minutes|be|gets?|going to|how long|what time) (?:(?!dry\b|empty\b|is\b)[a-z]+ ){0,4}?(?:is |it is )?(?:(?<!half )(?<!brim )(?<!when it )full(?! (?:of|fresh|tank|now|at)\b)|brim\b|overflow\w*|spill\w*|(?:go|goes|run|runs|running) over|topped (?:off|up)|the top)\b"
    r"|\b(?:enough|long|hours|minutes|time) to fill\b"
)
"""The end that is asked for is a full tank."""
_DRY_ASKED = Lazy(
    r"\b(?:till|until|to|before|when|days|hours|be|gets?|will|does|do|going to|how long|what time|run|runs|running|goes|go) (?:(?!full\b|is\b|was\b|from\b|just\b)[a-z]+ ){0,4}?(?:is |it is |we are )?(?:dry|(?<!from )empty|all gone|run(?:s|ning)? (?:out|short|low)|be out)\b|\b(?:does|will|how long (?:do|does|will)) (?:[^.,]{0,30}) lasts?\b|\b(?:see us through|dry at|run out)\b|\b(?:minutes|hours|days) of (?:\w+ )?(?:water|shower\w*)\b"
)
"""The end that is asked for is a tank without water."""


class Signs(NamedTuple):
    """What a question tells of the way the water goes."""

    inward: bool = False
    outward: bool = False
    spent: bool = False
    """Whether it is used by those aboard: out of the fresh tank, into the waste."""


def _signs(frame: str, beside: Sequence[str], start: float | None, goal: float | None) -> Signs:
    """The signs of a question, from the words around what flows and from what is to be reached."""
    reached = 0.0 if start is None or goal is None else goal - start
    return Signs(
        any(_UP.search(words) for words in beside) or FULL_ASKED.search(frame) is not None or reached > 0,
        any(_DOWN.search(words) for words in beside) or reached < 0,
        any(_SPENT.search(words) for words in beside) or _DRY_ASKED.search(frame) is not None,
    )


FILLING = Lazy(
    r"\b(?:hose|spigot|faucet|bucket|pail|jug|(?<!next )(?<!the last )fill|filling|filled|fills|top (?:it )?(?:off|up)|to the (?:top|brim))\b"
)
"""Words of a tank that is being filled."""
_PUMPED_OUT = Lazy(
    r"\bmacerator\b|\b(?:waste|sewer|black|dump) (?:hose|valve|pipe|cock) (?:\w+ )?(?:lets?|passes|runs|takes) (?:\S+ ){0,2}?out\b|\b(?:pump(?:s|ed|ing)?|suck(?:s|ed|ing)?) (?:\w+ ){0,2}?out\b|\bdrains? (?:\w+ ){0,2}?at <(?:gal|L)/h>"
)
_DRAWN = Lazy(
    r"\b(?:run|runs|running|go|goes|going|till|until) (?:(?:it|we|is|are|its) ){0,2}dry\b|\brun(?:s|ning)? out\b|\bleak\w*|\blasts?\b|\bleft (?:on|running|open)\b|\ball gone\b"
)
_HOSED = Lazy(
    r"\b(?:hose|(?<!to a )(?<!next )spigot|hydrant|(?<!next )(?<!the )(?<!a )fill(?:ing|s)?(?! (?:stop|site|point|station|up))|trickl\w*) (?:(?![,.])\S+ ){0,6}?<(?:gal|L|n)/(?:h|day)>|<(?:gal|L|n)/(?:h|day)> (?:\w+ ){0,4}?(?:hose|spigot|hydrant)\b"
)
"""So much an hour that flows in and not out."""
_LET_OUT = Lazy(
    r"(?<!just )(?<!been )(?<!freshly )\b(?:drain\w*|dump\w*|emptying|empties|emptied|(?:to|can|will|does|till|until|when|before|get|gets|go|goes|be|run|runs) (?:(?:it|is|its|we|the|i|tank|waste|black) ){0,3}empty|empty (?:it|the|out|this|them)|^ empty)\b"
)
_SHOWERING = Lazy(r"\bshower(?:s|ing)?\b")
"""Where nothing is said of filling, water beside a shower is what it uses."""
_HOSE = Lazy(r"\b(?:hose|spigot|hydrant) (?:[a-z]+ ){0,3}# ")


def flows_in(t: Told, tank: Tank, filling: bool) -> bool | None:
    """Whether the water goes in by a hose; notes when it is let out. None when the signs contradict each other."""
    frame = t.question.frame
    if tank.dumped or _PUMPED_OUT.search(frame) or (filling and _LET_OUT.search(frame)):
        tank.rising, tank.dumped = False, True
        return False
    beside = [term.around for name in ("rate", "moved", "use") for term in t.roles.get(name, [])]
    ends = (first_in(t, tank, "level", "before"), first_in(t, tank, "target"))
    found = _signs(frame, beside, *ends)
    filling_told = FILLING.search(frame) is not None or FULL_ASKED.search(frame) is not None
    if tank.waste:
        # what is used ends up in it, so that only what is lost speaks against its filling
        doubtful = found.outward or t.has("reserve") or (filling and not found.inward)  # nobody fills it by the minute
        return None if doubtful else filling
    spent = (
        found.spent
        or (_SHOWERING.search(frame) is not None and not filling_told)
        or t.has("use")
        or t.has("reserve")
        or (t.has("duty") and not FILLING.search(frame))
    )
    out = found.outward or spent or (not filling and _falling(t, tank))
    hosed = (_HOSED.search(frame) is not None and not t.has("use")) or (
        t.has("moved") and _HOSE.search(t.roles["moved"][0].around) is not None
    )
    if t.has("against"):
        return filling or hosed or (found.inward and not out)
    if found.inward and out:
        return None
    if found.inward:
        return True if filling or hosed or tank.named or FILLING.search(frame) or _size_told(t, tank) else None
    return (filling or hosed) and not out and not _DRAWN.search(frame)


def _falling(t: Told, tank: Tank) -> bool:
    """Whether a tank held more before."""
    first, last = first_in(t, tank, "before"), first_in(t, tank, "level")
    return first is not None and last is not None and first > last


def _size_told(t: Told, tank: Tank) -> bool:
    """Whether it makes no difference which of the coach's tanks it is, when none was named."""
    rate = t.roles["rate"][0].kind if t.has("rate") else ""
    return tank.said or t.has("room") or rate == "share/time" or (t.has("target") and tank.bare == "volume")
