"""Which way the water of a question goes: into a tank, or out of it.

Single words tell it badly: a hose may be there to fill or to drain, "up" may be a gauge or "drink up". So every sign there
is has a say, and when they contradict each other there is no answer, for the other way round is the worst one.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cabassist.language.lazy import Lazy

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

    @property
    def agreed(self) -> bool:
        """Whether they do not contradict each other."""
        return not (self.inward and (self.outward or self.spent))


def signs(frame: str, beside: Sequence[str], start: float | None, goal: float | None) -> Signs:
    """The signs of a question, from the words around what flows and from what is to be reached."""
    reached = 0.0 if start is None or goal is None else goal - start
    return Signs(
        any(_UP.search(words) for words in beside) or FULL_ASKED.search(frame) is not None or reached > 0,
        any(_DOWN.search(words) for words in beside) or reached < 0,
        any(_SPENT.search(words) for words in beside) or _DRY_ASKED.search(frame) is not None,
    )
