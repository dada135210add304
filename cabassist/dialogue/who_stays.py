"""Who is aboard, told in words where a step asks for it: "so that's two with me", "everyone off except the lead driver"."""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import telling, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare

MOST_WORDS = 16
_FIGURE = r"(?P<count>\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|(?:twenty|thirty|forty|fifty)(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?)"
_COUNTS = Lazy(
    r"^(?:(?:so|ok|okay|right|well|and|then|yeah|now|just|only|all told|in all|i guess it's|i make it|it's|its|that's|thats|that is|that makes(?: it)?|makes(?: it)?|makes that|we're|we are|there's|there are|there will be|leaves|that leaves|we have|we've got|i count|i counted|i have|the) )*"
    + _FIGURE
    + r"(?: (?:of us|of them|people|persons|men|heads|drivers|souls|aboard|on board|here|staying|stays|stay|sleeping|asleep|sleep|in all|all told|altogether|total|left|tonight|(?:all )?(?:the )?night|in (?:the |their )?bunks?|with me|counting me|including me|me included|and me included|myself included|with myself|me|included))*$"
)
_NOBODY = Lazy(
    r"^(?:(?:so|ok|okay|right|well|and|yeah|all clear|checked) )*(?:(?:nobody|no one|no-one|none|not a soul)(?:'s|s| is| are)?(?: (?:staying|stays|left|aboard|on board|here|inside|in there|sleeping|in (?:the )?(?:bunks?|bathroom)))*|(?:it's |she's |all |the (?:bus|coach|bunks)(?:'s| is| are)? |bunks? (?:are )?)?(?:completely |totally |all )?empty|every(?:one|body)(?:'s|s| is)? (?:all )?(?:off|out|gone|in the hotel)|they're all (?:off|out|gone|in the hotel))(?: (?:tonight|now|for the night|at all|and (?:the )?bathroom(?: (?:is )?(?:clear|empty))?))*$"
)
_EXCEPT = Lazy(
    r"^(?:(?:so|ok|okay|right|well|and|yeah) )*(?:every(?:one|body)(?:'s|s| is| has)?|they(?:'re| are)? all|all(?: of them)?|the team(?:'s| is)?|nobody|no one|no-one|just|only)\b.*\b(?:except|but|besides|apart from|other than|bar|save|only|just|asleep|sleeping|staying|stays)\b"
)
ASKS = "How many is that, yourself included if you sleep aboard? Say the number."


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The head count that a step waits for; asked back where words name people and give no number. None for anything else."""
    asking = state.asking
    if state.walk is None or asking is None or asking.what != "reading" or asking.reading != "passengers":
        return None
    said = bare(text)
    if "?" in text or not 0 < len(said.split()) <= MOST_WORDS:
        return None
    found = _COUNTS.match(said)
    count = found["count"] if found is not None else "zero" if _NOBODY.match(said) else ""
    if count:
        heard = mind.readings_in(f"passengers {count}")
        return telling.told(heard, text, state, mind, now) if heard.readings else None
    if _EXCEPT.match(said) and mind.hazards.find(text) is None:
        return walking.control(state, ASKS, topic=state.walk.topic)
    return None
