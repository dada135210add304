"""Good night, and "I didn't ask for that", which takes back the walk that was opened."""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import danger_first, phrases, stopping, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_GOOD_NIGHT = Lazy(
    r"^(?:(?:ok|okay|right|well|thanks|thank you|cheers|all right|alright|and|so|great|perfect|lovely|then|that's (?:all|it)|that is all|that'll do|i'm (?:off|going) to (?:bed|sleep)|off to bed|time for bed|i'm turning in|all good) )*"
    r"(?:(?:have a )?good ?night|nighty night|night night|night(?= (?:all|then|everyone|buddy|mate)$)|(?<=thanks )night|sleep (?:well|tight)|(?:see|catch) you (?:tomorrow|in the morning|later)|good ?bye|bye(?: bye| for now)?|talk (?:to you )?(?:tomorrow|later)|i'm (?:off|going) to (?:bed|sleep)|i'm turning in|off to bed)(?: (?:then|now|all|everyone|buddy|mate|and thanks|and thank you|thanks|thank you|for tonight|cabassist|tomorrow|in the morning|good night))*$"
)
_NOT_ASKED = Lazy(
    r"^(?:(?:no|nope|nah|hey|but|well|oh|wait|what|why|ok|okay|um|uh|sorry|stop|so|and|i said) )*"
    r"(?:(?:i|we) (?:didn't|did not|never|haven't|don't think i) (?:ask(?:ed)?|want(?:ed)?|need(?:ed)?|request(?:ed)?|call(?:ed)?|say|said|mean|meant)(?: (?:you|for|to))*(?: (?:that|this|it|any of (?:that|this)|anything like that|those|one|a (?:list|procedure|walk)))(?: (?:one|list|procedure|walk|thing|at all|now|though))*"
    r"|(?:who|nobody|no one) asked(?: (?:you|for|to))*(?: (?:that|this|it))?|(?:that's|this is|that is|it's) not what i (?:asked(?: (?:for|you|about))?|wanted|said|meant|was asking(?: for)?)|(?:that's|this is|that is) (?:the )?wrong (?:list|procedure|one|walk)|that was not my question|that wasn't (?:my question|what i (?:asked(?: for)?|wanted|meant)))(?: (?:so )?(?:close|stop|drop|cancel|quit) (?:it|that|this))?$"
)


def said(state: State, text: str, mind: Mind) -> Outcome | None:
    """The answer to a parting word or to "I didn't ask for that"; None for anything else, and while a danger is not over."""
    words = plain(text)
    if danger_first.danger(state, mind) is not None or (state.asking is not None and state.asking.what == "out"):
        return None
    if _GOOD_NIGHT.match(words):
        walk = state.walk
        waits = f" {mind.knowledge.title(walk.topic)} waits at step {walk.number} of {len(walk.plan)}." if walk else ""
        night = "night" in words or "sleep" in words or "bed" in words
        return walking.control(state, f"{'Good night.' if night else 'All right, I am here.'}{waits}")
    return _not_asked(state, mind) if _NOT_ASKED.match(words) else None


_OPENED = "opening "
"""How the note of an opened walk begins."""


def _not_asked(state: State, mind: Mind) -> Outcome:
    """The walk just opened or brought back is left again; with none, what was asked back is dropped."""
    if (closed := stopping.not_meant(state, "no", mind)) is not None:
        return closed
    last, note = state.last, state.undo[-1] if state.undo else None
    back = last is not None and last.kind == "step" and note is not None and note.what.startswith(_OPENED)
    if back and note is not None and note.walks != state.walks and len(note.walks) == len(state.walks):
        state = replace(state, walks=note.walks, timers=note.timers, undo=state.undo[:-1], asking=None)
        assert state.walk is not None
        reply = phrases.at_step(mind.knowledge.procedure(state.walk.topic), state.walk, mind, "All right, not that.")
        return Outcome(replace(state, topic=state.walk.topic), reply)
    undo = last is not None and last.kind in ("reading", "defect") and note is not None
    asking = None if state.asking is not None and state.asking.what == "choice" else state.asking
    line = "All right. Say undo to take it back." if undo else "All right. Ask in other words."
    return walking.control(replace(state, asking=asking), line)
