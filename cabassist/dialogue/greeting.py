"""A greeting, and somebody who is about to leave: "good morning", "is the coach ready", "what do I need to do before we go".

Who comes in the morning wants to know what was left open, and who leaves wants the last round. Nobody is told that the coach is
ready: only what is on record can be told, and the round is offered.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, deciding, rolling, walking, what_waits
from cabassist.dialogue.types import Asking, Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.routing import Decision

ROUND, INSPECTION = "prepare-to-depart", "pre-trip-inspection"
_CUES = ("morning", "evening", "afternoon", "hello", "hi", "hey", "howdy", "ready", "leav", "leave", "depart", "go", "roll", "head", "set off", "drive", "pull out", "good to", "day", "greetings")  # fmt: skip
_HELLO = r"(?:(?:good |a good |very good )?(?:morning|evening|afternoon|day)|hello|hi|hey|howdy|hiya|greetings|yo)"
_WHOM = r"(?: (?:there|again|cabassist|all|everyone|everybody|folks|to you|you|buddy|pal|mate|friend|computer|assistant|how are you(?: (?:doing|today|this morning))?|how's it going|how goes it|what's up))*"
_GREETING = Lazy(rf"^(?:(?:ok|okay|well|oh|and|so) )*{_HELLO}{_WHOM}(?: {_HELLO}{_WHOM})?$")
_GREETED = Lazy(rf"^{_HELLO}(?: (?:there|again|all|everyone))* (?P<rest>.+)$")
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|alright|well|then|now|hey|please|oh|tell me|just|we're|we are|i'm|i am|i think we're) )*"
_GOES = r"(?:go|leave|drive|roll|depart|move|head (?:out|off)|hit the road|pull out|set off|take off|get (?:going|rolling|moving|on the road)|drive off|move off|start (?:driving|the day|rolling))"
_GOING = r"(?:going|leaving|driving|rolling|departing|departure|moving|heading (?:out|off)|hitting the road|pulling out|setting off|taking off|getting (?:going|rolling|on the road))"
_WHEN = r"(?: (?:now|yet|today|tonight|tomorrow|tomorrow morning|this morning|in the morning|in a (?:bit|minute|few|while)|soon|here|at (?:about |around )?(?:\d{1,2}(?: ?\d\d)?(?: ?(?:am|pm))?|noon|midnight|six|seven|eight|nine|ten|eleven|twelve|first light|dawn|sunrise)(?: sharp)?|in (?:an|one|two|half an|\d+) ?(?:hours?|minutes?|mins?)|for (?:the )?(?:day|rink|road|next (?:leg|stop|rink))|again|out of here|from (?:here|the hotel|the rink)))*"
_READY = Lazy(
    _LEAD
    + rf"(?:is|are|am|would you say|do you think)?(?: ?(?:the|our|this|my))? ?(?:coach|bus|everything|it all|all|we|i|it|she|things|rig|vehicle)?(?:'s| is| are)? ?(?:all |now |really |good and )*(?:ready|set|good|fit|okay|ok|clear|cleared|safe) (?:to|for) (?:{_GOES}|{_GOING}|the road|the trip|the next leg|a drive){_WHEN}$"
    rf"|{_LEAD[1:]}(?:is|are) (?:the |our |this )?(?:coach|bus|everything|rig|we) (?:all )?(?:ready|set|good to go){_WHEN}$"
    rf"|{_LEAD[1:]}(?:can|may|could|should) (?:we|i) (?:{_GOES}){_WHEN}$"
)
_BEFORE = Lazy(
    _LEAD
    + rf"(?:(?:what|which)(?: all| else| things| checks)?(?: (?:do|should|must|have|has|needs?|am|are|is|else) ?(?:i|we|there|got)?(?: supposed)?(?: (?:need|have|got|still|to|be|do|done|check|checked|see|look at|get done|take care of|left))*)|anything(?: (?:else|left))?(?: (?:i|we) (?:need|have|should|must))?(?: (?:to|do|check|done|be))*|what(?:'s| is) (?:there )?(?:left )?to (?:do|check))"
    rf"(?: (?:on (?:the|this) (?:coach|bus)|with (?:the|this) (?:coach|bus)))? before (?:(?:we|i|they|you|the (?:coach|bus|team)) )?(?:{_GOES}|{_GOING}|leaves?|goes|rolls){_WHEN}$"
)
_LEAVING = Lazy(
    _LEAD
    + rf"(?:getting|about|almost|nearly|all|just)? ?(?:ready|set|fixing|preparing|prepping|about|going) to (?:{_GOES}){_WHEN}$|{_LEAD[1:]}(?:getting|make|making|get) (?:the (?:coach|bus) |her |everything )?ready to (?:{_GOES}){_WHEN}$"
)


def said(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The answer to a greeting or to somebody about to leave; None for anything else, on the road and in a danger."""
    words = plain(text)
    if not names_any(words, _CUES) or state.rolling or danger_first.danger(state, mind) is not None:
        return None
    if state.asking is not None and state.asking.what in ("out", "defect", "skip-reason"):
        return None
    if _GREETING.match(words):
        return _greeted(state, words, mind, now)
    found = _GREETED.match(words)
    rest = found["rest"] if found is not None else words
    if ROUND not in mind.knowledge.ids or (state.walk is not None and state.walk.topic == ROUND):
        return None
    if _BEFORE.match(rest) or _LEAVING.match(rest):
        choices = tuple(name for name in (ROUND, INSPECTION, HOURS) if name in mind.knowledge.ids)
        if found is None and len(rest.split()) <= _FEW and len(choices) > 1:
            return deciding.answered(state, Decision("clarify", choices, 0.5), text, mind, now)
        return walking.open_walk(ROUND, state, mind, now, 0.95, text, _first(mind))
    if state.walk is not None and _MAY.match(rest):
        return None  # it is said of the work in hand: "can we go" on to the next step
    return _ready(state, mind, now) if _READY.match(rest) else None


HOURS = "plan-driving-hours"
_FEW = 7
"""Up to so many words may mean any of what comes before leaving."""
_MAY = Lazy(r"^(?:(?:so|and|ok|okay|now|then) )*(?:can|may|could|should)\b")


def _first(mind: Mind) -> str:
    """That the inspection comes before the last round."""
    if INSPECTION not in mind.knowledge.ids:
        return ""
    return f"If nobody did it today, this comes first: {mind.knowledge.title(INSPECTION)}."


def _greeted(state: State, words: str, mind: Mind, now: datetime) -> Outcome:
    hello = next((one for one in ("morning", "evening", "afternoon") if one in words), "")
    first = f"Good {hello}." if hello else "Hello."
    lines = what_waits.open_lines(state, mind, now)
    return walking.control(replace(state, failures=0), " ".join([first, *lines[:2]] if lines else [first, SAY]), lines=(first, *lines, SAY))  # fmt: skip


SAY = "Say what you need."


def _ready(state: State, mind: Mind, now: datetime) -> Outcome:
    """What is on record against going, what is open, and the last round offered."""
    against = rolling.held_back(state, mind, now)
    lines = what_waits.open_lines(state, mind, now)
    nothing = () if against or lines else ("Nothing is open on record. I only know what was told to me.",)
    offer = f"Say yes to open: {mind.knowledge.title(ROUND)}."
    shown = (*against, *nothing, *lines, _first(mind), offer)
    spoken = " ".join((*against[:2], *nothing, *lines[: 0 if against else 2], offer))
    outcome = walking.control(replace(state, failures=0), spoken, lines=tuple(line for line in shown if line))
    return outcome._replace(
        state=replace(outcome.state, asking=Asking("choice", (ROUND,))),
        reply=replace(outcome.reply, options=(ROUND,), nearest=(ROUND,)),
    )
