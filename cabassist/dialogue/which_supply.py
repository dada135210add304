"""Which of the cylinders is meant when only "which" is asked, right after both were told: "so which should I be running off"."""

from __future__ import annotations

from cabassist.dialogue.types import State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_WHICH = Lazy(
    r"^(?:(?:so|and|ok|okay|then|well|now|right|alright) )*(?:off |from |on )?(?:which|what)(?: (?:one|side|bottle|cylinder|tank|of (?:them|those|the two)))? (?:(?:should|do|must|ought|would|am|are|shall|can) (?:i|we)|is|should be|ought to be)(?: (?:to|be|supposed to|meant to|best to))*(?: (?:run|running|use|using|burn|burning|feed|feeding|draw|drawing|pull|pulling|go|going|be|on|off|from|out of|first|open|now|tonight|the heat|with|start|starting))+$"
    r"|^(?:(?:so|and|ok|okay|then) )*(?:which (?:one )?(?:goes |is |comes )?first|(?:off|from|on) which(?: one| side| bottle)?)$"
)
_USES = Lazy(r"\b(?:run\w*|us(?:e|ing)|burn\w*|feed\w*|draw\w*|pull\w*|off|from|on|first|open)\b")


def spoken_out(state: State, text: str) -> str:
    """The question with the cylinders named, where cylinders were told last; else the text as it is."""
    said = plain(text)
    told = state.last is not None and state.last.kind == "reading" and state.told
    if not told or any(one.what != "propane" for one in state.told) or not said.count("which") + said.count("what"):
        return text
    return "which cylinder do we run off first" if _WHICH.match(said) and _USES.search(said) else text
