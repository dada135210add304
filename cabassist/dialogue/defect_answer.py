"""The answer to whether a part still works, in other words than yes and no: "it's held shut with a strap"."""

from __future__ import annotations

from typing import Literal

from cabassist.language.lazy import Lazy
from cabassist.language.normalise import beginnings

Answer = Literal["yes", "no", "again", ""]
MOST_WORDS = 12
_LITTLE = frozenset(
    "the and for with that this are was has have its all now into onto from then them they you your our off out not any each every both one two does still can should who must anyone everyone with without new fully that's it's isn't doesn't won't can't"
    " road coach which see side work works".split()
)
_QUESTION = Lazy(r"^(?:is|are|do|does|did|can|could|should|how|what|why|where|when|which|who|may|will|would)\b")
_NOT = Lazy(r"\b(?:no|not|\w+n't|never|cannot|nothing|hardly|barely|won't)\b")
_DOUBT = Lazy(
    r"\b(?:maybe|perhaps|sort of|kind of|kinda|mostly|nearly|almost|half|for now|more or less|i think|i guess|i hope|should|might|would|could|if|but|except|unless|until|ish|a bit|a little|not sure|probably|sometimes|some|looks|seems?)\b"
)
_PARTS = Lazy(r",| and ")


def _stems(words: str) -> set[str]:
    return beginnings(words, _LITTLE)


def answer_in(said: str, asks: str) -> Answer:
    """What a statement answers to a question about a part: "again" where it is of the question and too little to go by; "" where it is of something else.

    Args:
        said: the words, bare.
        asks: the question that was put.
    """
    common = _stems(said) & _stems(asks)
    if not common or len(said.split()) > MOST_WORDS or _QUESTION.match(said):
        return ""
    if _DOUBT.search(said):
        return "again"
    if _NOT.search(said):
        return "again" if _NOT.search(asks) else "no"  # "no leak", where no leak is asked for
    main = asks.split(" so that ", maxsplit=1)[0]
    # what asks two things is answered by one word of both only when each is named
    parts = [_stems(part) for part in _PARTS.sub("|", main).split("|")]
    return "yes" if all(_stems(said) & part for part in parts if part) else "again"


_YES_AND = Lazy(r"^(?:yes|yeah|yep|yup|aye|sure|oh yes|oh yeah) (?!(?:log|note|write|please|and)\b)")


def yes_at_length(said: str) -> Answer:
    """Yes with its reason, of whatever it speaks: "yeah, only a corner is gone"; "again" where it doubts or denies."""
    if len(said.split()) > MOST_WORDS or not _YES_AND.match(said) or _QUESTION.match(_YES_AND.sub("", said)):
        return ""
    return "again" if _DOUBT.search(said) or _NOT.search(said) else "yes"
