"""Good news within what is told: "headlamp's fine, no leak, hair dryer plugged in" names a lamp and a leak, and no fault.

A fault counts only in a part of what is said that does not deny it, call it old, or say that all is well. "No brake lights" and
"no longer works" deny the thing itself and stay faults.
"""

from __future__ import annotations

import re

from cabassist.language.lazy import Lazy, names_any

_CUES = ("no ", "not ", "nothing", "without", "never", "fine", "good", "ok", "old ", "sound", "dry", "tight", "whole", "well", "shut", "latched", "closed", "right", "dead", "works", "working")  # fmt: skip
_DEAD_IS_VERY = Lazy(r"\bdead[ -]+(?=(?:level|flat|cent(?:er|re)|ahead|straight|slow|easy|square|even|sure|certain|true|bugs?|fl(?:y|ies)|moths?|leaf|leaves|grass|tree|branch\w*|end|on(?= target| spec| the (?:mark|line|money|full|nose|dot)|[,.;!]|$))\b)")  # fmt: skip
""" "Dead level" is quite level."""
_MENDED = Lazy(
    r"\b(?:(?:was|were|been|got|had|it's been|they've) (?:\w+ ){0,2}?(?:fixed|repaired|mended|replaced|changed|sorted|patched|tightened|swapped)|(?:report|log|book|sheet|last driver|list)(?: that)? (?:says?|said|has|had|shows?|showed))\b"
)
_STANDS_NOW = Lazy(
    r"(?:^|[,;.] ?|\b(?:and|but|now) )(?:(?:it|they|that|this|he|she|all|both|the [a-z]+(?: [a-z]+)?)(?:'s|'re| is| are)? ?|now )*(?:(?:works?|working|holds?|holding|runs?|fixed|mended|tight|fine|good|ok|okay|sound|solid|like new)(?: (?:fine|good|great|well|ok|okay|as new|as it should|now|again|today|here|too))*)$"
)
"""How a thing that was mended, or stood in a report, is now."""
_PARTS = re.compile(r"\s*[,;.!]+(?=\s|$)\s*|\s+(?:but|though|although|yet|except)\s+")
_DENIED = Lazy(r"\b(?:no|without(?: an?y?)?|not an?y?|never an?y?|nothing(?:'s| is| was)?|none(?:'s| is| are| was| were)?|isn't any|wasn't any|aren't any)\b ")  # fmt: skip
_BETWEEN = 2
"""Words that may stand between what denies a fault and the fault: "no fresh oil drips"."""
_WELL = Lazy(
    r"(?:'s|'re|\b(?:is|are|was|were|looks?|looked|feels?|felt|all|both|checks out|seems?)) (?:all |still |just |nice and |perfectly |quite |really |both )*(?:fine|good|ok|okay|all right|alright|sound|dry|tight|whole|well|shut|latched|closed|clean|in order|as it should(?: be)?)(?: and (?:fine|good|ok|okay|sound|dry|tight|whole|shut|latched|closed|clean|locked|dark|off))*(?: (?:now|again|here|there|too|all round|all around|underneath|inside))*$"
)
_OLD = Lazy(
    r"\b(?:just|only|nothing but|it's|that's|same|usual) (?:an? |the |that |some |same )*old (?:[a-z]+ )?(?:spots?|stains?|marks?|scars?|scratch(?:es)?|streaks?|ones?|puddles?|damage|dents?|dings?|drips?|patch(?:es)?|news)\b(?! (?:is|was|has|keeps|got|won't)\b)"
)
_CONTRARY = Lazy(
    r"\b(?:not|isn't|aren't|wasn't|won't|doesn't|hardly|barely|until|when|unless|only (?:when|if|the|one)|almost|half)\b"
)


def without_good_news(text: str, faults: Lazy) -> str:
    """The text without the parts that tell no fault; the text itself where there are none.

    Args:
        text: what was said.
        faults: what is said of a part that has a fault.
    """
    said = " ".join(text.lower().replace("’", "'").split())
    if not names_any(f"{said} ", _CUES):
        return text
    if _MENDED.search(said) and _STANDS_NOW.search(said.rstrip(" .!")) and not _CONTRARY.search(said):
        return ""
    if "dead" in said and (very := _DEAD_IS_VERY.sub("", said)) != said:
        return without_good_news(very, faults)
    parts = [part for part in _PARTS.split(said) if part]
    left = [part for part in parts if not _is_good(part, faults)]
    return text if len(left) == len(parts) else ", ".join(left)


def _is_good(part: str, faults: Lazy) -> bool:
    """Whether a part of what is said denies a fault, calls it old, or says that the thing is well."""
    if _OLD.search(part) or (_WELL.search(part) and not _CONTRARY.search(part) and not faults.search(part)):
        return True
    found = _DENIED.search(part)
    if found is None:
        return False
    after = part[found.end() :].split()
    denied = any(faults.match(" ".join(after[at:])) for at in range(min(_BETWEEN + 1, len(after))))
    return denied and not faults.search(part[: found.start()])
