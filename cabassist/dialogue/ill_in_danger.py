"""Somebody was told to be ill or not to wake in a danger: an alarm that went quiet or an explanation no longer closes it.

"It stopped, somebody was frying eggs" explains an alarm, and no headache and no man who does not wake. Only those who can
measure or treat may then say that it is over.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import phrases, walking, well_in_danger
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain

HELPERS = r"(?:fire (?:department|dept|service|crew|brigade|fighters|guys|men|people|chief|truck|engine)|firefighters?|firem[ae]n|medics?|paramedics?|doctor|ambulance(?: (?:crew|people|guys|men))?|electrician|technician|tech|gas (?:man|guy|company))"
_CLEARED = Lazy(
    rf"\b{HELPERS}\b.*\b(?:check\w*|clear\w*|said|says?|measured|okay|ok|safe|fine|released|looked at|treated|took|all[- ]clear|signed)\b|\b(?:cleared|all[- ]clear|checked|measured|released|signed off) (?:\w+ ){{0,3}}?(?:by|from) (?:the )?{HELPERS}\b"
)
"""Those who may say so have said so."""
_NOT_CLEARED = Lazy(
    r"\b(?:not|\w+n't|hasn't|haven't|before|until|till|if|when|once|will|going to|coming|on (?:the|their) way|called|calling|need|no)\b"
)
_NEVER_WAS = Lazy(
    r"\b(?:just |only )?(?:a )?(?:drill|practice|practising|exercise|joking|kidding|joke|test run|training)\b|\b(?:i|we) (?:was|were|am|are) (?:only |just )?(?:asking|testing|practising|playing)\b|\b(?:nobody|no one) (?:was|is|has been|ever was) (?:really |actually |ever )?(?:ill|sick|hurt)\b.*\b(?:mistyped|typo|wrong (?:words|button|line)|misheard|misspoke)\b|\b(?:mistyped|typo|wrong button|misheard (?:me|that|it))\b"
)
"""There was no danger and nobody ill: it was played, or heard wrongly."""
_ASKS_ILL = Lazy(
    r"^(?:(?:so|and|but|ok) )*(?:if|what if|should|does|do|can|could|would|is (?:that|it|anybody|anyone)|are there)\b"
)


def after(outcome: Outcome, said: str, mind: Mind) -> Outcome:
    """The outcome, whose state holds in which danger somebody was told to be ill."""
    state = outcome.state
    open_now = [walk.topic for walk in state.walks if walk.topic in mind.knowledge.hazards]
    ill_in = state.ill_in if state.ill_in in open_now else ""
    if open_now and not ill_in and not _ASKS_ILL.match(plain(said)) and (well_in_danger.is_ill(said) or aches(said)):
        ill_in = open_now[-1]
    return outcome if ill_in == state.ill_in else outcome._replace(state=replace(state, ill_in=ill_in))


_ACHES = Lazy(
    r"\b(?:head(?:'s|s)?|heads are|skulls?|temples) (?:is |are |all )?(?:hurt\w*|ach\w+|pound\w*|split\w*|throb\w*|kill\w*|swim\w*|spin\w*)\b|\b(?:pounding|splitting|throbbing|aching) (?:heads?|skulls?)\b|\b(?:won't|can't|not|cannot) (?:get |be )?(?:\w+ )?(?:up|awake|roused|woken)\b"
)


def aches(said: str) -> bool:
    """Whether a head is told to hurt, or somebody not to be got up."""
    return _ACHES.search(bare(said)) is not None


def keeps_open(state: State, danger: Walk, text: str, mind: Mind) -> Outcome | None:
    """The refusal to close a danger in which somebody is ill; None where it may be closed."""
    said = plain(text)
    if state.ill_in != danger.topic or _NEVER_WAS.search(said):
        return None
    if _CLEARED.search(said) and not _NOT_CLEARED.search(said):
        return None
    procedure = mind.knowledge.procedure(danger.topic)
    lines = [f"No. {procedure.title}: this stays open.", _why(danger.topic)]
    lines += [
        "Call the emergency services now and do what they say.",
        phrases.filled(procedure.steps[danger.plan[-1]].do, mind.facts),
        "Tell me when they have cleared it.",
    ]
    outcome = walking.control(replace(state, failures=0, asking=None), " ".join(lines), lines=tuple(lines), topic=danger.topic)  # fmt: skip
    return outcome._replace(reply=replace(outcome.reply, kind="refuse", step=phrases.mark(danger)))


def _why(topic: str) -> str:
    if topic == "carbon-monoxide-alarm":
        return "Somebody is ill or does not wake: that is no false alarm. A quiet alarm proves nothing."
    return "Somebody was told to be ill or hurt: that is no false alarm."
