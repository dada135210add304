"""Back to a walk, or to a step of it, by its name: "the tires again, where was I", "step six of the pre trip"."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, deciding, moving, phrases, walking
from cabassist.dialogue.framing import SURE
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import beginnings, plain
from cabassist.language.routing import Decision
from cabassist.language.steering import Steer
from cabassist.language.steering_families import tells

_LEAD = (
    r"^(?:(?:ok|okay|right|alright|so|and|then|now|well|hey|no|actually|anyway|please|can you|could you|let's|lets) )*"
)
_STEP_OF = Lazy(
    _LEAD
    + r"(?:(?:go|jump|skip|move|get|take me|bring me|put me)(?: back| ahead| on| forward| straight)* to |(?:show|read|give|tell) me |what(?:'s| is| was) |do |start (?:at|from) )?(?:the )?"
    r"(?:(?:step|number|point|item)(?: number)? (?P<n>[a-z0-9]+(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?)|(?P<place>first|last|final|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth) (?:step|one|item|point))(?: again)?"
    r" (?:of|in|on|from|for) (?P<what>.+?)(?: please| again| then| now)*$"
)
_AGAIN = Lazy(
    _LEAD
    + r"(?:the |that |my |our )?(?P<what>[a-z][\w'-]*(?: [\w'-]+){0,3}?)(?: (?:one|thing|job|list|procedure|walk|steps))? (?:(?:again|once more)(?: (?:please|then|now))*|now(?= (?:and )?wh))"
    r"(?: (?:and )?(?P<asks>(?:where|which step|what step|which one) (?:was i|were we|am i|are we|did (?:i|we) (?:get to|stop|leave off))(?: (?:on|at|with (?:it|that)))?|what(?:'s| was| is) next|what was i (?:doing|on|at)))?$"
)
_ASKED_FIRST = Lazy(
    _LEAD
    + r"(?:the |that |my |our )?(?P<what>[a-z][\w'-]*(?: [\w'-]+){0,3}?) (?:(?:where|which step|what step|which one) (?:was i|were we|did (?:i|we) (?:get to|stop|leave off))(?: (?:on|at|with (?:it|that)))?)$"
)
_STOPS = Lazy(
    _LEAD
    + r"(?:stop|end|quit|finish|close|drop|cancel|scrap|forget(?: about)?|leave|i'm done with|we're done with|done with|that's it for|enough of) (?:the |that |my |our )(?P<what>[a-z][\w'-]*(?: [\w'-]+){0,2}?)(?: (?:stop|one|thing|now|then|please|for now|there|here|list|procedure|walk|job))*$"
)
_LITTLE = frozenset("the and for with that this one now again step steps list procedure walk job thing".split())


def by_name(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The walk, or the step of a walk, that the words name; None when they name none that is open.

    Args:
        state: where the conversation stands.
        text: what was said, without any sign of danger.
        mind: what the turn knows.
        now: the clock.
    """
    said = plain(text)
    if tells(_HARMLESS.sub(" ", said)) or "?" in text and not said.startswith(("what", "where", "which")):
        return None
    return _step_named(state, said, text, mind, now) or _walk_named(state, said, mind, now)


_HARMLESS = re.compile(
    r"\b(?:(?:pre|post)[ -]?trip|\d+|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|where|which|third|half)\b"
)
"""Numbers, questions and names of walks, which tell of no trouble here."""
_PLACES = "first second third fourth fifth sixth seventh eighth ninth tenth".split()


def _step_named(state: State, said: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Step six of the pre trip": that step, of a walk that is open or of one that is opened for it."""
    found = _STEP_OF.match(said)
    if found is None:
        return None
    what = re.sub(r"^(?:the |that |this |my |our )+", "", found["what"])
    walk = state.walk if state.walk is not None and what in _THIS else _titled(what, state, mind)
    if walk is None:
        best, chance = max(
            (mind.ranked(form).procedures[0] for form in (what, f"how do i {what}")), key=lambda row: row[1]
        )
        walk = next((one for one in state.walks if one.topic == best), None)
        if walk is None and (chance < SURE or best in mind.knowledge.hazards):
            return None
    if walk is None:
        opened = walking.open_walk(best, state, mind, now, chance, text).state
        walk = opened.walks[-1]
    else:
        opened = replace(state, walks=(*(one for one in state.walks if one is not walk), walk), asking=None)
    if found["place"]:
        number = len(walk.plan) if found["place"] in ("last", "final") else _PLACES.index(found["place"]) + 1
    else:
        steer = mind.steering.find(f"step {found['n']}")
        if steer is None or steer.number is None:
            return None
        number = steer.number
    return walking.jump(opened, mind, now, Steer("jump", number))


_OPENS = Lazy(
    _LEAD
    + r"(?:(?:how (?:do|would|should|can) (?:i|we|you)|i (?:want|need|have|would like|'d like) to|i'd like to|i'll|we need to|we have to|help me(?: to)?|can you help me(?: to)?|walk me through|take me through|show me(?: how to)?|start|open|begin|do|go to|time to) )?(?:the )?(?P<what>.+?)(?: please| now)?$"
)


def titled(text: str, state: State, mind: Mind, now: datetime) -> Outcome | None:
    """The procedure whose title is said word for word, which nothing in it can turn into anything else: "check the waste level"."""
    said = plain(text)
    found = _OPENS.match(said)
    topic = mind.by_title.get(said) or (mind.by_title.get(found["what"]) if found is not None else None)
    walk = state.walk
    if topic is None and walk is not None and f": {said}." in phrases.words_at(walk, walk.at, mind).lower():
        topic = said.replace(" ", "-")  # the very words that the step tells to say
        if topic in mind.knowledge.ids and topic not in mind.knowledge.hazards:
            return deciding.answered(replace(state, pending=None), Decision("answer", (topic,), 1.0), text, mind, now)
        topic = None
    if topic is None or danger_first.danger(state, mind) is not None or (state.asking and state.asking.what == "out"):
        return None
    if mind.ranked(text).best != topic:
        return None  # a trainer has taught it otherwise
    return deciding.answered(replace(state, pending=None), Decision("answer", (topic,), 1.0), text, mind, now)


_THIS = frozenset({"it", "this", "that", "list", "procedure", "checklist", "walk", "this one", "this list"})


def _walk_named(state: State, said: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "The hose again, where was I": that walk comes to the top, at its step; "finish the tires" ends it."""
    if len(state.walks) < 2:
        return None
    again = _AGAIN.match(said) or _ASKED_FIRST.match(said)
    if again is not None:
        walk = _titled(again["what"], state, mind, wholly=not again.groupdict().get("asks", "where"))
        return moving.returned(walk, state, mind, now) if walk is not None else None
    ends = _STOPS.match(said)
    walk = _titled(ends["what"], state, mind) if ends is not None else None
    if walk is None:
        return None
    others = tuple(one for one in state.walks if one is not walk)
    state = replace(state, walks=(*others, walk), asking=None, failures=0)
    return walking.HANDLERS["stop"](state, mind, now, Steer("stop"))


def _titled(what: str, state: State, mind: Mind, wholly: bool = False) -> Walk | None:
    """The one open walk in whose name the words stand, or of several the one that shares most of them.

    `wholly`: all of them must stand there. "Tires low again" names no walk.
    """
    names = beginnings(what, _LITTLE)
    shared = [
        (len(names & beginnings(f"{walk.topic.replace('-', ' ')} {mind.knowledge.title(walk.topic)}", _LITTLE)), walk)
        for walk in state.walks
    ]
    most = max((count for count, _ in shared), default=0)
    if wholly and most < len(names):
        return None
    fitting = [walk for count, walk in shared if count == most]
    return fitting[0] if most and len(fitting) == 1 else None
