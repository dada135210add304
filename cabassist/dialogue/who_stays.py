"""Who is aboard, told in words: "so that's two with me" where a step asks for it, "6 of us sleep here tonight" at any time.

What the heat costs hangs on who sleeps aboard, so it is heard without a step too, where sleeping or staying is said with the number.
"""

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
_SLEEPERS = Lazy(
    r"^(?:(?:so|ok|okay|right|well|and|then|yeah|now|just|only|the|there'?s|there are|there will be|we have|we've got|it's|its|i have|the|us|about) )*"
    rf"(?:{_FIGURE}(?: (?:of us|of them|of the (?:team|staff|crew|coaches)|adults?|people|persons|men|guys|drivers|souls|staff|coaches|heads|trainers))?(?: (?:are|will be|will|is|gonna|going to|who|that|plan to|want to))*|(?P<none>nobody|no one|none of them|none of us)(?:'s|s| is| will| will be)?|(?P<driver>(?:just |only )?(?:me|myself|the driver|i))(?: am|'m|m|'ll| will| is)?(?: the only one(?: who)?)?)"
    r" (?:sleep|sleeps|sleeping|asleep|stay|stays|staying|bunk|bunks|bunking|bedding|camping|kipping|overnight|spend the night|spending the night|to sleep|crash|crashing)(?: down)?"
    r"(?: (?:here|aboard|on board|onboard|(?:on|in) (?:the |this )?(?:bus|coach|bunks?|board)|in here|tonight|overnight|(?:for )?(?:the|all) night|with me|till morning|until morning|counting me|me included|including me))+$"
)
_SHORTLY = Lazy(
    r"^(?:(?:so|ok|okay|right|well|just|only|it's|its|that's|there's|we're|about) )*(?:"
    rf"{_FIGURE}(?: (?:of us|people|guys|adults|drivers|heads|sleepers))?|(?P<none>nobody|no one|none|empty|none of us)|(?P<driver>(?:just |only )?(?:me|myself|the driver)))(?: (?:tonight|sleep|sleep here|aboard|here|now|in here))*$"
)
WHO_SLEEPS = "Tell me how many sleep here."
"""Said below a forecast of the heat that counts people of whom nobody has told."""
ASKS = "How many is that, yourself included if you sleep aboard? Say the number."


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The head count that is told; asked back where a step waits and words name people without a number. None for anything else."""
    said = bare(text)
    if "?" in text or not 0 < len(said.split()) <= MOST_WORDS:
        return None
    if not _step_waits(state):
        found = _SLEEPERS.match(said) or (_SHORTLY.match(said) if heads_wanted(state) else None)
        count = found["count"] or ("zero" if found["none"] else "one") if found is not None else ""
        return _counted(state, count, text, mind, now)
    found = _COUNTS.match(said)
    count = found["count"] if found is not None else "zero" if _NOBODY.match(said) else ""
    if count:
        return _counted(state, count, text, mind, now)
    if (found := _SLEEPERS.match(said)) is not None:
        return _counted(state, found["count"] or ("zero" if found["none"] else "one"), text, mind, now)
    if state.walk is not None and _EXCEPT.match(said) and mind.hazards.find(text) is None:
        return walking.control(state, ASKS, topic=state.walk.topic)
    return None


def counts_sleepers(text: str) -> bool:
    """Whether a text says how many sleep aboard and nothing else, which reports no danger: "the two of us are sleeping in the bunks"."""
    return "?" not in text and _SLEEPERS.match(bare(text)) is not None


def _step_waits(state: State) -> bool:
    asking = state.asking
    return state.walk is not None and asking is not None and asking.what == "reading" and asking.reading == "passengers"


def heads_wanted(state: State) -> bool:
    """Whether it was just said that nobody has told who sleeps aboard."""
    return state.last is not None and state.last.kind == "reading" and WHO_SLEEPS in " ".join(state.last.show[-1:])


def _counted(state: State, count: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    heard = mind.readings_in(f"passengers {count}") if count else None
    return telling.told(heard, text, state, mind, now) if heard is not None and heard.readings else None
