"""A step that was done before it was said: "already did the shore power". It is done, not skipped, and the record says so."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, progress, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare
from cabassist.language.steering import Steer

_LEAD = r"^(?:(?:oh|ok|okay|yeah|yep|yes|no|nope|well|so|and|right|actually|wait|hey|um|uh|that one|this one) )*"
_DONE = r"(?:did|done|do|finished|handled|connected|plugged in|hooked up|set|checked|turned on|turned off|switched on|switched off|shut off|shut|closed|locked|cleared|tested|pressed|pushed|read|opened|put on|put out|laid out|stowed|chocked|seen to|took care of|taken care of|sorted)"
_WHEN = r"(?: (?:already|earlier(?: (?:on|today|tonight))?|before(?: (?:that|this|supper|dinner|you asked|we started))?|beforehand|(?:a|an|half an|ten|five|twenty|thirty|fifteen|two|three|\d+) ?(?:few |couple of )?(?:minutes?|mins?|hours?|while|bit|moment) (?:ago|back)|(?:just|right) before(?: (?:that|this))?|(?:just )?(?:now|minutes) ago|this (?:morning|afternoon|evening)|when (?:we|i) (?:parked|came in|got here|pulled in|stopped|arrived)|with the (?:other|last|first) (?:list|walk|one)))+"
_THING = r"(?P<what>[a-z][a-z' -]*?)"
_FORMS = (
    Lazy(rf"{_LEAD}(?:(?:i|we)(?:'ve| have|'d| had)? )?already (?:have |been )?{_DONE}(?: {_THING})?(?:{_WHEN})?(?: (?:and|so) .{{0,12}})?$"),
    Lazy(rf"{_LEAD}(?:(?:i|we)(?:'ve| have|'d| had)? )?(?:just )?{_DONE} {_THING}{_WHEN}$"),
    Lazy(rf"{_LEAD}{_THING}(?:'s| is| are| was| were| has been| have been|'s been)? already (?:been )?(?:{_DONE}|in|on|off|out|open|up|down)(?:{_WHEN})?$"),
    Lazy(rf"{_LEAD}{_THING}(?:'s| is| are| was| were| has been| have been|'s been) (?:been )?{_DONE}{_WHEN}$"),
    Lazy(rf"{_LEAD}{_THING}(?:'s| is| are)? (?:been )?(?:{_DONE}|in|on|off|out|open|up|down) already$"),
)  # fmt: skip
"""What was done, told with "already" or when it was."""
_ITSELF = re.compile(
    r"^(?:it|that|this|them|those|(?:that|this|the) (?:one|step|part|bit|thing))(?:'s)?(?: (?:one|step|part|bit|thing))?$"
)
_NOT = Lazy(
    r"\b(?:not|\w+n't|never|almost|nearly|half|part(?:ly)?|should|would|if|think|maybe|guess|probably|most(?:ly)?|some|but|except|wrong|somebody|someone|he|she|they)\b"
)
BEFORE = "done before"
"""What is kept in the record with such a step."""


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The next step, when the one in hand is told to be done before; a later one is named and nothing moves; None for anything else."""
    walk, said = state.walk, bare(text)
    if (
        walk is None
        or walk.paused
        or state.pending is not None
        or "?" in text
        or "skip" in said
        or "already" not in said
        and not _LATE.search(said)
    ):
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    if procedure.kind == "hazard" or _NOT.search(said) or mind.wishes.find(text):
        return None
    found = next((one for one in (form.match(said) for form in _FORMS) if one is not None), None)
    if found is None:
        return None
    what = found["what"] or ""
    if _ITSELF.match(what) and re.search(r"\bbeen\b", said):
        return None  # "it's been checked already" does not say by whom: that is a skip with its reason
    named = set() if not what or _ITSELF.match(what) else progress.stems(what)
    if what and not named and not _ITSELF.match(what):
        return None
    texts = [phrases.filled(procedure.steps[index].do, mind.facts) for index in walk.plan]
    if named and not _of(named, texts[walk.at], said):
        ahead = [at for at, do in enumerate(texts) if at > walk.at and named <= progress.stems(do)]
        if len(ahead) != 1:
            return None
        line = f"That is step {ahead[0] + 1}; say so again there. You are at step {walk.number} of {len(walk.plan)}."
        return walking.control(replace(state, failures=0), line, topic=walk.topic)
    if phrases.step_of(procedure, walk).reading:  # a figure is still wanted
        return walking.HANDLERS["next"](replace(state, failures=0), mind, now, Steer("next"))
    event = EventDraft("told-done", {"topic": walk.topic, "step": walk.number, "said": text, "when": BEFORE})
    outcome = walking.forward(
        replace(state, asking=None, failures=0), mind, now, f"Step {walk.number} was done before."
    )
    return Outcome(outcome.state, outcome.reply, (event, *outcome.events))


_LATE = Lazy(
    r"\b(?:ago|earlier|before|beforehand|this (?:morning|afternoon|evening)|when (?:we|i)|other list|last list)\b"
)


def _of(named: set[str], do: str, said: str) -> bool:
    """Whether what is named is what the step is about."""
    step = progress.stems(do)
    return named <= step or (len(named & step) > 0 and len(named - step) <= 1)
