"""What is still open, asked for as a whole: walks that wait and their steps, those stopped, steps skipped, defects and timers.

Said before somebody goes to bed or off, too: what was left for something else is forgotten most easily then. Only what was told
to the assistant can be listed, and the answer says so.
"""

from __future__ import annotations

from datetime import datetime

from cabassist.dialogue import danger_first, defects, night_watch, parting_words, phrases, reminders, taking_up, walking
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.record.defects import open_defects

_CUES = ("wait", "open", "skip", "left", "miss", "forg", "pending", "outstanding", "finish", "done", "undone", "hold", "pause", "half", "bed", "sleep", "turn", "sack", "hay", "night", "to do", "complete", "progress", "hand", "stack", "start", "need", "other")  # fmt: skip
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|alright|well|then|now|hey|wait|please|oh|sorry|no|tell me|remind me|show me|can you tell me|do you know|quick question) )*"
_WHEN = r"(?: (?:now|right now|for me|for us|tonight|today|this evening|so far|here|yet|at the moment|still|please|then|again|in all|all told|before (?:i|we) (?:go|go to bed|go to sleep|sleep|turn in|leave|head off|go in|stop|knock off|walk away)|before (?:bed|sleep|lights out|the night|morning|leaving)|for (?:the night|tonight|today)|until morning|overnight))*"
_STATE = r"(?:waiting|open|pending|outstanding|unfinished|undone|on hold|paused|incomplete|half (?:done|finished|open)|in progress|on the stack|not (?:done|finished|complete)|left (?:open|undone|unfinished|hanging)|(?:been )?(?:started|begun))"
_STILL = r"(?: (?:still|all|currently|now|already|the))*"
_JOBS = r"(?:procedures?|walks?|lists?|jobs?|tasks?|checklists?|ones?|things?|others?|stuff)"
_WAITS = Lazy(
    _LEAD
    + rf"(?:(?:what|which)(?: else| other)?(?: (?:of (?:these|those|them|my {_JOBS})|{_JOBS}))?(?:'s| is| are|'re| do (?:i|we) have| have (?:i|we)(?: got)?| did (?:i|we) leave)?{_STILL}(?: else)? {_STATE}"
    rf"|(?:what|which) are (?:the|those|these|my) (?:\w+ )?(?:{_STATE} {_JOBS}|{_JOBS} {_STATE}|\w+ {_STATE}|{_STATE})"
    rf"|(?:list|read(?: me)?|name|give me)(?: (?:all|the|my|those|every))* {_STATE} {_JOBS}|(?:list|read(?: me)?|name|give me) (?:what|everything|all)(?:'s| is| that(?:'s| is))?{_STILL} {_STATE}"
    rf"|(?:\w+ )?(?:more|others?|procedures?)(?: (?:are|is))? waiting(?: (?:so )?(?:what|which)(?: ones)?(?: are (?:they|those|these))?)?|what are the other (?:\w+ )?(?:{_JOBS}|two|three|four|five)"
    rf"|how many(?: {_JOBS})?(?: are| have i(?: got)?| do i have)?{_STILL} {_STATE}"
    rf"|(?:is|are|do (?:i|we) have) (?:there )?(?:any ?thing|any {_JOBS}|something)(?: else)?{_STILL} {_STATE}|any ?thing(?: else)?{_STILL} {_STATE}){_WHEN}$"
)
_LEFT_OUT = r"(?:skip(?:ped)?|miss(?:ed)?|(?:leave|left) (?:out|undone|off|behind|open)|pass(?:ed)? over|forg(?:et|ot|otten)(?: about)?|not (?:do|done|finish|finished)|overlook(?:ed)?)"
_SKIPS = Lazy(
    _LEAD
    + rf"(?:(?:what|which)(?: else)?(?: (?:steps?|parts?|things?|ones?|bits?))?(?: all)? (?:have|did|had) (?:i|we)(?: all)? {_LEFT_OUT}|(?:what|which)(?: (?:steps?|parts?|things?|ones?))? (?:haven't|didn't) (?:i|we) (?:do|done|finish|finished)"
    rf"|(?:what|which)(?: (?:steps?|parts?|things?|ones?))?(?:'s| is| was| were| are| got| has been| have been)(?: all)? (?:skipped|missed|left out|left undone|not done|forgotten)|(?:the |my |list (?:the |my )?)?skipped (?:steps?|ones?|list)"
    rf"|(?:did|have|had) (?:i|we) {_LEFT_OUT} (?:any ?thing|something|any(?: of the)? (?:steps?|parts?)|a step)(?: else)?|(?:is there )?any ?thing(?: else)?(?: that)?(?: (?:i|we))?(?:'ve| have| did)? {_LEFT_OUT}|any ?thing(?: that)? (?:i|we) (?:haven't|didn't) (?:do|done|finish|finished)){_WHEN}$"
)
_TO_DO = Lazy(
    _LEAD
    + rf"(?:(?:what|which things?)(?: else)?(?:'s| is| are)?(?: there)?{_STILL} (?:left|remaining|to go|left over)(?: (?:for (?:me|us) )?to (?:do|be done|finish|see to))?|what (?:else do (?:i|we)(?: still)?|do (?:i|we) still) (?:have|need|got) (?:left )?to (?:do|finish|see to)|what do (?:i|we) have left to (?:do|finish|see to)|what(?: else)?(?:'s| is)? still (?:to do|to be done|needs? (?:doing|to be done|finishing))|what(?: else)? (?:needs? (?:doing|to be done)|is to be done)"
    rf"|(?:is (?:there )?)?any ?thing(?: else)?{_STILL} (?:left|to do|to be done|remaining)(?: (?:for (?:me|us) )?to (?:do|be done|finish|see to))?|any ?thing(?: else)?(?: that)? (?:(?:i|we) (?:still )?(?:have to|need to|should|must) do|still needs? (?:doing|to be done))"
    rf"|(?:am i|are we|is (?:everything|it all|all)) (?:all )?(?:done|set|finished|good|through)(?= (?:for|before|tonight))){_WHEN}$"
)
_ONLY_LEFT = Lazy(_LEAD + r"(?:what(?:'s| is)|is anything|anything) left(?: (?:now|then|to do))?$")
""" "What's left" asks for steps while a walk is in hand."""
_BED = Lazy(
    _LEAD
    + r"(?:(?:i'm|we're|i am|we are|i'll|we'll|i will|gonna|i think i'll|time to|time for|ready for|ready to|about to|going to|just|off to|heading to|headed to|heading|headed|going|off|go to|go|get to|let me|before i|before we|before|now|then|can i|can we|may i|to|get some) )*(?:(?<= )bed|bedtime|(?<= )sleep|turning in|(?<= )turn in|(?<= )hit(?:ting)? the (?:sack|hay|bunk)|(?<= )bunk down|good ?night|night night)(?: (?:now|then|soon|all|everyone|tonight))*(?: (?P<more>.+))?$"
)


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The list of what is open, when that is asked or somebody goes to bed; None for anything else, and while a danger is not over."""
    said = plain(text)
    if not names_any(said, _CUES) or state.rolling or danger_first.danger(state, mind) is not None:
        return None
    if state.asking is not None and state.asking.what == "out":
        return None
    bed = _BED.match(said)
    if bed is not None and bed["more"] and not _asks(bed["more"]):
        return None
    skips = _SKIPS.match(said) is not None or (bed is not None and _SKIPS.match(bed["more"] or "") is not None)
    if not (bed or skips or _asks(said)):
        return None
    if bed is None and state.walk is not None and _ONLY_LEFT.match(said) and mind.steering.find(text) is not None:
        return None
    return _listed(state, text, mind, now, skips=skips, bed=bed is not None)


def _asks(said: str) -> bool:
    return any(pattern.match(said) for pattern in (_WAITS, _SKIPS, _TO_DO))


def open_lines(state: State, mind: Mind, now: datetime) -> list[str]:
    """What is open: walks in hand, waiting or stopped, steps skipped, defects and timers; empty for nothing."""
    walks, skipped, rest = _parts(state, mind, now)
    return [*walks, *skipped, *rest]


def _parts(state: State, mind: Mind, now: datetime) -> tuple[list[str], list[str], list[str]]:
    """The walks, the steps skipped, and the defects and timers that are open, in lines."""
    walks = [_at(walk, "In hand" if walk is state.walk else "Waits", mind) for walk in reversed(state.walks)]
    stopped = taking_up.stopped(state, mind, now)
    walks += [_at(walk, "Stopped", mind) for walk in reversed(stopped)]
    rest = [
        f"Open defect {one.words()}.{' ' + one.verdict() if one.stops or one.unclear else ''}"
        for one in open_defects(state.record)
    ]
    rest += [f"Timer: {line}" for line in reminders.running(state, now)]
    return walks, _skipped(state, stopped, mind, now), rest


def _listed(state: State, text: str, mind: Mind, now: datetime, *, skips: bool, bed: bool) -> Outcome | None:
    walks, skipped, rest = _parts(state, mind, now)
    stopped = taking_up.stopped(state, mind, now)
    if skips and not skipped:
        skipped = ["No step is marked as skipped."]
    lines = [*skipped, *walks, *rest] if skips else [*walks, *skipped, *rest]
    parted = parting_words.said(state, text, mind) if bed else None
    if not lines and (other := parted or night_watch.asked(state, text, mind, now)) is not None:
        return other
    if not (walks or skipped or state.timers) and defects.asks_list(text):
        return None  # "what's open", where only defects can be meant
    if not lines:
        lines = ["Nothing is open: no procedure waits, no step is skipped, no defect and no timer runs."]
    if len(state.walks) > 1 or stopped:
        name = (stopped[-1] if len(state.walks) < 2 else state.walks[-2]).topic
        lines.append(f"To go on with one, name it: back to {mind.knowledge.title(name).lower()}.")
    if bed:
        lines.insert(0, "Good night." if parted is not None else "Before you sleep:")
    lines.append("I only know what was told to me.")
    if bed:
        lines.append("Ask what to look at in the night, too.")
    return walking.control(state, " ".join(lines), lines=tuple(lines))


def _at(walk: Walk, how: str, mind: Mind) -> str:
    procedure = mind.knowledge.procedure(walk.topic)
    do = phrases.filled(phrases.step_of(procedure, walk).do, mind.facts)
    return f"{how}: {procedure.title}, step {walk.number} of {len(walk.plan)}: {do}"


def _skipped(state: State, stopped: list[Walk], mind: Mind, now: datetime) -> list[str]:
    """The steps left out of walks that are open, were stopped or have ended not long ago."""
    here = {walk.topic for walk in state.walks}
    ended = [
        one.walk
        for one in state.left
        if one.ended and one.walk.topic not in here and now - one.at < taking_up.STOPPED_WITHIN
    ]
    lines = []
    for walk in (*state.walks, *stopped, *ended):
        procedure = mind.knowledge.procedure(walk.topic)
        for skip in walk.skipped:
            do = phrases.filled(procedure.steps[skip.step].do, mind.facts)
            lines.append(f"Skipped in {procedure.title}: {do} ({skip.reason or 'no reason given'})")
    return lines
