"""Asked in passing about what was said before: "did I give you the outside temperature yet", "what was the limit again", "which ones do I switch off"."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, telling, walking
from cabassist.dialogue.types import Mind, Outcome, Reply, State, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.steering import Steer

_LEAD = r"^(?:(?:so|and|but|ok|okay|right|alright|now|hey|wait|well|sorry|um|uh|hm+|oh|yeah|hang on|hold on|by the way|remind me|tell me|just|then|wait a minute) )*"
_TELL = r"(?:give|gave|given|tell|told|say|said|mention|mentioned|log|logged|report|reported|read|enter|entered|note|noted|put in|put down|write down|wrote down)"
_IF_TOLD = Lazy(
    _LEAD
    + rf"(?:(?:did|have|had|when did|when was it|what time did) (?:i|we)(?: (?:already|ever|even|actually|last))* {_TELL}|(?:when|what time) (?:was it )?(?:i|we) {_TELL})(?: (?:you|in|down|about|of|anything|that))*"
    r" (?:what |how (?:full|low|high|cold|warm|much) )?(?:the |my |our |that )?(?P<what>(?!that\b|this\b|it\b)[a-z]+(?: (?!is\b|was\b|are\b|at\b)[a-z]+){0,2}?)(?: (?:is|was|are|were)(?: at)?)?(?: (?:yet|already|before|earlier|or not|at all|down|again|in|today|tonight|by the way|last))*$"
)
"""Asks whether, or when, a reading was told."""
_WEATHER = Lazy(
    _LEAD
    + r"(?:how (?:cold|warm|hot|freezing|chilly|icy|mild)|what(?:'s|s| is)? (?:the )?temp(?:erature)?)(?:(?:'s|s| is| was|'d| did i say| did we say| have i got| do you have) ?(?:it|that)?(?: is| was)?)?(?: it)? (?P<where>(?:like )?(?:outside|outdoors|out(?: (?:there|here))?|inside|in here|in the (?:cabin|coach|bus|bunks)|indoors|in there))(?: (?:now|right now|again|at the moment|then|today|tonight|did i say|was it))*$"
)
"""How cold or warm it is, which only what was told can answer."""
_FIGURE_HELD = Lazy(
    _LEAD
    + r"(?:what(?:'s|s| is| was)|give me|read me|tell me|which is) (?:the |your |my |our )?(?:current |latest |last )?(?P<what>[a-z]+(?: [a-z]+){0,2}?)(?:'s)? (?:figure|number|reading|value|level|entry|voltage|percentage|pressure)s? (?:(?:that )?(?:you have|you've got|you got|you hold|you're holding|we have|we've got|i have|i've got|i gave(?: you)?|i told you|i said|on record|on file|noted|written down|logged|down|stored|that stands|standing)(?: (?:down|got|on record|noted|stored))?)(?: (?:for )?(?:now|right now|at the moment|today|tonight|again|so far|it|me|us))*$"
)
_FORGOT = Lazy(
    r"(?:^| )(?:(?:sorry |because |cause )?(?:i|we)(?:'ve| have)? (?:just |already |clean |totally )?(?:forgot|forgotten|lost track|can't remember|cannot remember|don't remember|don't recall|can't recall)(?: (?:again|already|it|what i said|now))*|it slipped my mind|slipped my mind|refresh my memory|jog my memory|remind me(?! to\b| in\b| at\b| when\b))(?: |$)"
)
"""The asker has told it and no longer knows it."""
_ASKS_LEVEL = Lazy(
    r"^(?:(?:so|and|ok|okay|wait|hey|now|sorry) )*(?:how (?:much|full|many|high|low|cold|warm|hot|far)|what(?:'s|s| is| was| were)?|where(?:'s|s| is| was)?)\b(?! (?:do|should|must|can) (?:i|we))"
)
_STILL_THERE = Lazy(
    _LEAD
    + r"(?:(?:what(?:'s|s| is| all is| else is)?|which readings are)(?: all)? (?:still|left|there|standing|remaining)(?: (?:still|left|there))*|(?:what|which readings) (?:do|have) (?:you|we)(?: still)?(?: (?:have|got|hold))?(?: left)?)(?: (?:on|in|down on)) (?:the |your |my |our |that )?(?:list|log|record|records|books?|notes?|sheet)(?: (?:now|then|again|so far))*$"
)
"""Asks for what stands after something was taken off."""
_STEP_AGAIN = Lazy(
    _LEAD
    + r"(?:what|which)(?:'s|s| is| was| were)? (?:the |that |my |our |this )?(?:last |current |first )?(?:step|steps|list|procedure)(?: (?:again|once more|i was on|we were on|were we on|was i on|now|please))+$"
)
_FIGURE_AGAIN = Lazy(
    _LEAD
    + r"what(?:'s|s| is| was| were) (?:the|that|your) (?:(?:last|allowed|legal|exact) )?(?P<what>limit|maximum|max|minimum|rule|allowance|cutoff|cut-off|number|figure|answer|result|total)(?: (?:again|once more|one more time|you (?:said|gave me|told me|just said|mentioned)|for that|on that|then|please))+$"
)
_HOW_TOLD = Lazy(
    _LEAD
    + r"(?P<how>how (?:cold|warm|hot|chilly|many|much|full|empty|high|low|far))(?: (?:of (?:us|them)|people|heads))? (?:did|have|had) (?:i|we) (?:just )?(?:say|said|tell you|told you|give you|given you|call it|read|put down|log|have)(?: (?:it|that|there|we|they|this)(?: (?:was|were|is|had|were at|was at))?)?(?: (?:in here|just now|before|earlier|again|now|last|a (?:minute|moment|while) ago|the last time))*$"
)
"""Asks back what was told last, by how it is measured."""
_BEFORE_THAT = Lazy(
    _LEAD
    + r"(?:(?:what|how (?:many|much|full|high|low|cold|warm)) (?:did (?:i|we) (?:have|say|tell you|give you|read)|was (?:it|that|the (?:one|number|reading|figure))|were (?:there|we)|had (?:i|we))(?: (?:aboard|at))?|(?:i|we|it) (?:had|said|told you|was|were)(?: at)? (?:how many|what|how much)) (?:before (?:that|this|then|it changed|the last one)|the time before|previously)$"
    r"|"
    + _LEAD
    + r"before (?:that|this) (?:(?:what|how many|how much) (?:did (?:i|we) (?:have|say)|was (?:it|that)|were (?:there|we))|(?:i|we|it) (?:had|said|was|were)(?: at)? (?:how many|what|how much))$"
)
"""Asks for the entry before the last one of its kind."""
_MEASURED = {
    "cold": ("outside_temp", "inside_temp"), "warm": ("outside_temp", "inside_temp"), "hot": ("outside_temp", "inside_temp"), "chilly": ("outside_temp", "inside_temp"), "many": ("passengers",), "far": ("odometer",),
}  # fmt: skip
_LIMITS = frozenset({"limit", "maximum", "max", "minimum", "rule", "allowance", "cutoff", "cut-off"})
_SAYS_LIMIT = Lazy(
    r"\b(?:allowed|allows?|limit|at most|at least|most|least|fail|pass|must|may|over|under|legal|\d+ CFR)\b"
)
_WHAT_DO_I = Lazy(
    _LEAD
    + r"(?:what|which (?:ones|one|things|thing|bits|of (?:them|those)|[a-z]+?s?)|what (?:all|else|exactly|things|stuff))(?: all| else| exactly)? (?:(?:do|should|must|can|would|could|am|are) (?:i|we)(?: (?:have|need|supposed|meant|got|going) to)?|(?:have|has|needs?|i|we) (?:to be |to |have to |need to |gotta |got to )?)(?: (?:actually|then|now|first))*"
    r" ?(?P<verb>switch(?:ed)? off|turn(?:ed)? off|shut off|shut down|turn(?:ed)? down|power down|kill|switch(?:ed)? on|turn(?:ed)? on|unplug|plug in|close|shut|open|drain|disconnect|connect|unhook|hook up|lock|unlock|chock|rinse|fill|wear|put on|check|tighten|loosen|look at)(?: (?:then|now|first|again|exactly|here|for this|for that|to start with|right now|off))*$"
)
"""Asks which part the walk in hand does something with."""
_VERBS: dict[str, str] = {
    "off": r"(?:turn|switch|shut|cut|stop)\b[^,.;]*\boff\b|(?:switch|turn|shut) off\b|(?:shut|stop|unplug)\b",
    "on": r"(?:turn|switch)\b[^,.;]*\bon\b",
    "shut": r"(?:close|shut)\b",
    "wear": r"(?:wear|put on)\b",
    "look": r"(?:look at|check|inspect|read)\b",
    "connect": r"(?:connect|plug|attach|hook|couple|screw)\b",
    "apart": r"(?:disconnect|unplug|unhook|detach|take off|unscrew)\b",
}
_OFTEN = {
    "kill": "off", "shut off": "off", "shut down": "off", "power down": "off", "turn down": "off", "close": "shut", "shut": "shut",
    "wear": "wear", "put on": "wear", "check": "look", "look at": "look", "connect": "connect", "hook up": "connect", "plug in": "connect",
    "disconnect": "apart", "unhook": "apart", "unplug": "apart",
}  # fmt: skip
_MOST_STEPS = 3


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The answer to a question about what was told, noted or listed before; None for anything else. No walk moves."""
    said = plain(text)
    if (told := _IF_TOLD.match(said)) is not None and (what := telling.named_in(told["what"])) is not None:
        return telling.read_back(what, state, mind, now, telling.which_named(told["what"], mind))
    if (how := _HOW_TOLD.match(said)) is not None and telling.named_in(said) is None:
        kinds = _MEASURED.get(how["how"].split()[1])
        told_last = [one.reading for one in state.stored if kinds is None or one.reading.what in kinds][-1:]
        return telling.read_back(told_last[0].what, state, mind, now, told_last[0].which) if told_last else None
    if _BEFORE_THAT.match(said) and state.stored:
        return _entry_before(state, mind, now)
    if (held := _held(said, state, mind)) is not None:
        what, which = held
        return telling.read_back(what, state, mind, now, which)
    if _STILL_THERE.match(said):
        if state.walk is not None:
            return walking.HANDLERS["how-many"](state, mind, now, Steer("how-many"))
        return telling.read_back(None, state, mind, now)
    if _STEP_AGAIN.match(said):
        if state.walk is not None:
            return walking.HANDLERS["repeat"](state, mind, now, Steer("repeat"))
        return walking.control(state, "No procedure is open. Ask for one in your own words, or say help.")
    if (figure := _FIGURE_AGAIN.match(said)) is not None:
        return _figure(state, figure["what"])
    if state.walk is not None and (wanted := _WHAT_DO_I.match(said)) is not None:
        return _steps_that(wanted["verb"], state.walk, state, mind)
    return None


def _entry_before(state: State, mind: Mind, now: datetime) -> Outcome | None:
    """The entry of the same name that stood before the last one; None when there was none."""
    last = state.stored[-1].reading
    older = [one for one in state.stored[:-1] if (one.reading.what, one.reading.which) == (last.what, last.which)]
    if not older or state.last is None or state.last.kind == "calculation":
        return None
    return telling.read_back(last.what, replace(state, stored=tuple(older[-1:])), mind, now, last.which)._replace(
        state=state
    )


_TEMPERATURES = ("outside_temp", "inside_temp")


def _held(said: str, state: State, mind: Mind) -> tuple[str, str | None] | None:
    """The kind of reading that is asked back, and which of that kind; None when none is."""
    if (weather := _WEATHER.match(said)) is not None:
        return _TEMPERATURES[weather["where"].startswith(("in", "like in"))], None
    if (figure := _FIGURE_HELD.match(said)) is not None and (what := telling.named_in(figure["what"])) is not None:
        return what, telling.which_named(figure["what"], mind)
    rest = " ".join(_FORGOT.sub(" ", said).split())
    if rest != said and _ASKS_LEVEL.match(rest) and (what := telling.named_in(rest)) is not None:
        told_of = any(held.reading.what == what for held in state.stored)
        return (what, telling.which_named(rest, mind)) if told_of else None
    return None


def _figure(state: State, what: str) -> Outcome | None:
    """The last number told, once more; of a limit only where it was judged by one."""
    told = state.given[-1] if state.given else None
    estimate = told.worked.estimate if told is not None else None
    if told is None or estimate is None or not estimate.verdict:
        return None
    if what in _LIMITS and not _SAYS_LIMIT.search(estimate.verdict):
        return None
    reply = walking.control(state, estimate.verdict).reply
    return Outcome(state, reply)


def _steps_that(verb: str, walk: Walk, state: State, mind: Mind) -> Outcome | None:
    """The steps of a walk, from the one in hand on, that do this to something; None when none does."""
    verb = re.sub(r"(switch|turn)ed\b", r"\1", verb)
    kind = _OFTEN.get(verb) or (verb.split()[-1] if verb.endswith((" off", " on")) else "")
    does = re.compile(rf"^(?:(?:then|now|if [^,]+,) )?(?:{_VERBS[kind] if kind else re.escape(verb) + chr(92) + 'b'})")
    steps = mind.knowledge.procedure(walk.topic).steps
    found = [
        (place, phrases.filled(steps[index].do, mind.facts))
        for place, index in enumerate(walk.plan, 1)
        if place >= walk.number and does.match(steps[index].do.lower())
    ]
    if not found:
        return None
    lines = [f"Step {place}: {do}" for place, do in found]
    more = len(lines) - _MOST_STEPS
    spoken = [*lines[:_MOST_STEPS], *([f"And {more} more."] if more > 0 else [])]
    standing = f"You are at step {walk.number} of {len(walk.plan)}."
    reply = Reply("step", " ".join([*spoken, standing]), (*lines, standing), topic=walk.topic, step=phrases.mark(walk))
    return Outcome(state, reply)
