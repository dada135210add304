"""A danger that was raised falsely and is said to be none: "no, no alarm, everyone's fine", "it's only meltwater, no spill"."""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import over_asked
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare
from cabassist.language.routing import BOUNDS

MOST_WORDS = 22
_NOUNS = {
    "propane-smell": r"gas|propane|smell|leak|rotten eggs?",
    "carbon-monoxide-alarm": r"co|carbon monoxide|monoxide|fumes?",
    "smoke-or-fire": r"fire|smoke|flames?",
    "clean-up-waste-spill": r"spill|spillage|sewage|waste|mess|leak",
    "shock-from-coach-body": r"shocks?|current|tingl\w+",
}
"""What is denied, by the danger that it would be; an alarm, an emergency and a danger are denied of each."""
_ANY = r"alarm|danger|emergency|problem|trouble"
_DENIES = {
    topic: Lazy(
        rf"\b(?:there(?:'s| is| was)? |it's |it is |it was |that's |that was |i have |we have |we've got )?(?:no|not|never any|isn't|wasn't|isn't any|wasn't any)(?: (?:a|an|any|real|actual|such))*(?: (?:gas|smoke|fire|co|propane|sewage|waste|carbon monoxide))? (?:{nouns}|{_ANY})(?: (?:here|at all|anywhere|in here|inside|after all|aboard|really|or anything))*\b"
    )
    for topic, nouns in _NOUNS.items()
}
_MEANT = Lazy(
    r"\b(?:it's|its|it is|it was|that's|that is|that was|they're|turns out|turned out)(?: (?:just|only|merely|really|simply))* (?:a |an |the |my |our |his |her |their |some |somebody's |someone's |one of |from )?(?!(?:not|no|still|getting|there|here|coming|in|on|at|by|under|outside|inside|near|behind|over|up|down|all|everywhere|out|off|gone|worse|more|bad|strong|spreading|too|so|very|in|from (?:the|our|under|inside|behind))\b)[a-z]|\b(?:just|only) (?:a|an|the|my|our|some|from)\b"
)
"""What it was instead."""
_ALL_FINE = Lazy(
    r"\b(?:every(?:one|body)(?:'s|s| is)|we're all|we are all|they're all|all of us are|nobody's hurt and all(?:'s| is))(?: (?:all|perfectly|totally|just))* (?:fine|ok|okay|good|alright|all right|well|safe)\b"
)
_TAKES_BACK = Lazy(
    r"^(?:(?:oh|ok|no|sorry|wait) )*(?:never ?mind|forget (?:it|that)|scratch that|my mistake|my bad|false alarm)\b"
)
_UNSEEN = Lazy(r"\b(?:co|monoxide|fumes?)\b")
"""What nobody sees or smells, so that being well does not deny it."""
_DOUBTFUL = Lazy(
    r"\?|\b(?:but|except|though|yet|any ?more|any longer|still|again|maybe|perhaps|probably|might|could|may|think|guess|hope|bet|reckon|suppose|not sure|if|until|unless|or|smold\w*|smok(?:y|es|ing)|burn(?:s|ing)|hiss\w*|dizzy|sick|headache\w*|hurt\w*|unconscious|faint\w*|what|how|why|where|when|which|should|can|going off|beeping)\b"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The walk through a danger closed that is denied by its name and explained, or with everybody well; else None.

    Who must clear it is still said. Doubt, a "but" or words of another danger leave it open.
    """
    danger = next((walk for walk in reversed(state.walks) if walk.topic in mind.knowledge.hazards), None)
    said = bare(text)
    if danger is None or danger.topic not in _DENIES or "?" in text or len(said.split()) > MOST_WORDS:
        return None
    denial = _DENIES[danger.topic].search(said)
    if denial is None or _DOUBTFUL.search(said.replace("or anything", "")):
        return None
    rest = " ".join(f"{said[: denial.start()]} {said[denial.end() :]}".split())
    well = _ALL_FINE.search(rest) or _TAKES_BACK.match(said)
    if not (_MEANT.search(rest) or (well and not _UNSEEN.search(denial[0]))):
        return None
    if mind.hazards.find(rest) is not None:
        return None
    judged = mind.judge(rest) if rest else None
    if judged is not None and judged.danger >= BOUNDS.judged_with_sign:
        return None
    return over_asked.first(state, danger, text, mind) or over_asked.closed(state, danger, text, mind)
