"""Short questions known by all of their words: what they must name, and that nothing stands in them that is not known.

A question of this kind is put in any order of words ("axle limit", "biggest weight on the steer axle", "the steer axle takes how
much"), so no pattern of the whole holds them all. One foreign word makes it another question: that keeps a report, a sum and a wish out.
"""

from __future__ import annotations

from collections.abc import Iterable

from cabassist.language.lazy import Lazy

MOST_WORDS = 22
_SMALL = frozenset(
    "so and but ok okay hey right well then now um uh oh hmm wait sorry please again anyway exactly quick question one just only also really actually roughly about around say"
    " what what's whats which how many much when where why who whose is isn't are aren't was were be been do does did don't doesn't can could will would should shall must may might am got get gets has have need needs"
    " the a an our my your this that these those its it it's i i'm we we're you they she he me us one's for of on in at to by with from as if or not there there's here any some all ever"
    " tell know remind remember forgot idea supposed meant think by way coach bus rig driver drivers book profile says say said number figure rule rules".split()
)  # fmt: skip
_ASKING = Lazy(
    r"\b(?:what|what's|whats|which|how|when|where|why|tell me|remind me|is it|is that|is there|are (?:we|you|they|there)|am i|can|could|may|must|should|do|does|did|do i|will|would)\b"
)
_SAYS = Lazy(r"\b(?:is|are|was|were|has|have|got|had|did|been|went|it's|there's|that's|i'm|we're)\b")
_OPENS_ASKING = Lazy(r"^(?:(?:so|and|but|ok|okay|hey|right|well|then|now|um|uh|oh|wait|sorry) )*(?:is|are|was|were|isn't|aren't|am|any)\b")  # fmt: skip
FEW = 7
"""A name without a verb that is up to this long asks for what it names."""


def asks(said: str) -> bool:
    """Whether a plain text asks, or only names what is wanted: "axle limit"."""
    if _ASKING.search(said) or _OPENS_ASKING.match(said):
        return True
    return len(said.split()) <= FEW and not _SAYS.search(said)


def known(said: str, needs: Iterable[Lazy], words: frozenset[str], *, told: bool = False) -> bool:
    """Whether a plain text is a question that names each of `needs`, and holds small words and `words` only.

    Args:
        said: the text, as `normalise.plain` writes it.
        needs: what must be found in it.
        words: what may stand in it beside small words; a word that ends in `*` stands for its beginning.
        told: whether it may be a report as well.
    """
    spoken = said.split()
    if len(spoken) > MOST_WORDS or not all(need.search(said) for need in needs) or not (told or asks(said)):
        return False
    begins = tuple(word[:-1] for word in words if word.endswith("*"))
    return all(word in _SMALL or word in words or (bool(begins) and word.startswith(begins)) for word in spoken)


__all__ = ["asks", "known"]
