"""Whether something was done, asked in a walk: "am I done", "wait, did I shut the valve". It ticks no step.

What the hands did is not known here, and a question taken for a report would move past the very step that is in doubt. So the
step in hand is said again, and that the driver is to look.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

MOST_WORDS = 12
_CUES = (
    "done",
    "finished",
    "through",
    "complete",
    "did",
    "didn't",
    "have",
    "haven't",
    "has",
    "hasn't",
    "had",
    "hadn't",
    "that it",
    "that all",
    "it all",
    "the end",
)
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|wait|hang on|hold on|oh|hm+|um|uh|er|sorry|no|yeah|damn|crap|a sec|just|quick question|actually|please|tell me|remind me|do you know if|do you know whether|i wonder if|i'm not sure|not sure|i can't remember|i forget|if|whether) )*"
_ALL_DONE = Lazy(
    _LEAD
    + r"(?:(?:am i|are we|was i|were we)(?: \w+)? ?(?:done|finished|through|complete|good to go on)|(?:is|was) (?:it|this|that|everything|the (?:job|walk|list|procedure|whole thing)|this one|that one)(?: all| really)? (?:done|finished|complete|it|all|everything|the end))(?: (?:yet|now|here|then|with (?:it|this|that|the \w+|this (?:one|step|list))|already|or what|or not|or is there more))*$"
)
"""Asks whether the step or the walk is at its end."""
_DEED = Lazy(
    _LEAD
    + r"(?:did|didn't|have|haven't|had|hadn't) (?:i|we)(?: (?:already|even|really|actually|just|not|ever|remember to|forget to))* (?!(?:hit|burn\w*|br(?:eak|oke)\w*|hurt|kill\w*|crash\w*|damage\w*|smell\w*|see|feel|(?:leave|left|forget|forgot) (?:some|any|a kid|the kid|a child|one of|him|her|them)\w*|tell|told|say|said|mention\w*|ask\w*|log|logged|report\w*|note|noted|write|written|record\w*|set a|set an|set the timer|miss|missed|skip\w*|lose|lost|hear|heard|get|got|run|need|have|had|to|enough|any|much|many|time|use|used|drive|driven|burn|burned|choose|pick|want|mean|meant|read|call it|start|begin|stop at|leave off|go wrong|do wrong|do it (?:wrong|right)|do (?:that|this|it) (?:wrong|right))\b)[a-z]+(?: [\w']+)*$"
)
"""Asks whether something with the hands was done; what was told, read, used or set as a timer stands on record."""
_OTHERS_DEED = Lazy(
    _LEAD
    + r"(?:did|didn't|has|hasn't|had|have|haven't) (?:he|she|they|some(?:one|body)|any(?:one|body)|the (?:other |co |second |last )?(?:driver|guy|man|staff|shift)|my (?:mate|partner|co driver))(?: (?:already|even|really|actually|just|not|ever|remember to|forget to))* (?:shut|clos|open|lock|unlock|turn|put|set|rins|check|clean|wip|screw|drain|chock|connect|plug|unplug|switch|wash|fill|dump|test|stow|tie|took|take|remov|tighten|latch|hook)[a-z]* [\w' ]+$"
)
"""The same of what another was to do; what befell him is no such question."""
_BEEN = Lazy(
    _LEAD
    + r"(?:has|hasn't|have|haven't|had) (?:it|that|this|(?:the|my|our|both|all the) [a-z]+(?: [a-z]+){0,3}?)(?: (?:already|ever|even|not))? been [a-z]+(?:ed|un|ut|et|ilt|ept|own|ne|ung|aid)(?: (?:up|down|off|out|on|in|yet|already|now|back|again|properly|tight))*$"
)
"""Asks whether something was seen to, no matter by whom."""
_HARM = Lazy(r"\b(?:hurt|injured|burned|burnt|shocked|poisoned|hit|cut|robbed|damaged|gone|shut in|locked in)\b")
"""What happened to somebody is no deed in doubt."""
_OTHER_ASKED = Lazy(
    r"\b(?:what|which|how|why|where|when|who|right|wrong|correctly|properly|enough|too|a (?:mistake|timer))\b"
)


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The step in hand once more, and nothing ticked; None for anything else."""
    walk = state.walk
    if walk is None or walk.paused or state.pending is not None:
        return None
    said = plain(text)
    if not 1 < len(said.split()) <= MOST_WORDS or not names_any(said, _CUES) or walk.topic in mind.knowledge.hazards:
        return None
    whole = _ALL_DONE.match(said) is not None
    deed = (
        not whole
        and (_DEED.match(said) or _OTHERS_DEED.match(said) or _BEEN.match(said))
        and not (_OTHER_ASKED.search(said) or _HARM.search(said))
    )
    if not (whole or deed):
        return None
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    still = f"Still at step {walk.number} of {len(walk.plan)}: {phrases.filled(step.do, mind.facts)}"
    lines = (still,) if whole else (UNSEEN, still)
    return walking.control(replace(state, failures=0), " ".join(lines), topic=walk.topic, lines=lines)


UNSEEN = "I can't see that. Look before you go on."
"""What is said of a deed in doubt."""
