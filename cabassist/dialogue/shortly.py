"""Short answers where only a number is wanted and no walk: a level, whether the gas lasts till morning, the cold inside once the heat stops."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from cabassist.coach import holds
from cabassist.dialogue import danger_first, phrases, reckoning, telling
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

if TYPE_CHECKING:
    from cabassist.dialogue.board import BoardLine

_LEAD = r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|please|tell me|remind me) )*"
_LEVEL = Lazy(
    _LEAD
    + r"(?:what(?:'s|s| is)|whats|give me|read me|show me|say)(?: the| our| my)? (?P<what>(?:(?:inside|outside|fresh|waste|black|grey|gray|house|shore|propane|gas|diesel|fuel|def|cabin|clean|sewage|holding|battery|left|right|front|rear|first|second) ){0,2}(?:(?:water|tank|bottle|cylinder|battery|tire) )?)(?:levels?|readings?|gauges?|at)(?: (?:at|now|right now|on|like|again|showing|reading|please|tonight|at the moment))*$"
)
"""Asks how a supply stands by the word level: only what was told can answer."""
_NAMED = Lazy(
    _LEAD
    + r"(?:what about |how about |and )?(?:the |our |my )?(?P<what>(?:inside|outside|spare) (?:cylinder|bottle|propane(?: (?:cylinder|bottle|tank))?|gas(?: (?:cylinder|bottle|tank))?)|(?:fresh|waste|black|house|diesel|propane)(?: (?:water|tank|battery|level|reading))?(?: level)?)$"
)
"""A supply and nothing else, put as a question."""
_COLDER = r"(?:heat|heater|heating|furnaces?|propane|gas|power|shore power|flame)"
_STOPS = r"(?:quits?|dies?|stops?|fails?|(?:goes|go|went|is|are) (?:out|off|down|dead)|runs? out|ran out|shuts? (?:off|down)|conks? out|cuts? out|gives? (?:out|up)|(?:has |have )?(?:quit|died|stopped|failed)|breaks?(?: down)?|won't (?:light|run))"
_PIPES = (
    r"(?:the |our |my )?(?:bathroom |water |galley )?(?:pipes?|plumbing|lines?|water lines?|pump|toilet|taps?|bathroom)"
)
_FREEZES = Lazy(
    _LEAD
    + rf"(?:(?:if|when|once|say) (?:the |both |our |my )?{_COLDER} {_STOPS}(?: (?:tonight|at night|overnight|now|on us))*(?: then)? (?:how long (?:till|until|til|before|have (?:we|i) got (?:till|until|before)|do (?:we|i) have (?:till|until|before))|when do|how (?:soon|fast|quick(?:ly)?) (?:do|will|would)) {_PIPES}(?: (?:freezes?|start freezing|start to freeze|ice up|are frozen|freeze up))"
    rf"|(?:how long (?:till|until|til|before)|when (?:do|will|would)|how (?:soon|fast|quick(?:ly)?) (?:do|will|would)) {_PIPES} (?:freezes?|start freezing|start to freeze|ice up|freeze up|are frozen) (?:up )?(?:if|when|once|after) (?:the |both |our )?{_COLDER} {_STOPS})(?: (?:tonight|at night|overnight|then|on us))*$"
)
_TIME = r"(?:(?:half past |quarter past |quarter to )?(?:\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)(?: [0-5]\d)?(?: ?o'?clock)?(?: ?(?:am|pm)| in the morning| at night| tonight)?|midnight)"
_DROPS = Lazy(
    _LEAD
    + rf"(?:what (?:temp(?:erature)?|does (?:it|the (?:cabin|coach|inside|temp(?:erature)?)))|how (?:cold|low|far)|what will (?:it|the cabin)|what would (?:it|the cabin))\b[a-z' ]{{0,50}}?\b(?:drop|fall|go|get|sink|be|cool)s?\b[a-z' ]{{0,40}}? (?:if|when|once|after) (?:the |both |our )?{_COLDER} {_STOPS}(?: (?:at|around|by|about) (?P<at>{_TIME}))?(?: (?:tonight|in the night|overnight|on us))*$"
)
_LASTS = Lazy(
    _LEAD
    + r"(?:(?:will|would|does|is|can) (?:the |our |my )?(?P<what>(?:outside|inside|first|second|both|that|this|one|current|other)? ?(?:cylinders?|bottles?|propane|gas|tank|one|heat)) (?:be )?(?:make it|last|lasts|get us|enough|do(?: us)?|hold(?: out)?|carry us|see us|going to (?:make it|last)|run out|go empty)(?: (?:us|enough|through|out))*(?: (?:to|till|until|til|through|for|before|by|into|overnight|tonight))+(?: the)?(?: (?:morning|night|tomorrow(?: morning)?|breakfast|sunrise|daylight|dawn|wake up))*"
    r"|(?:do|should|must|will|would) (?:i|we) (?:really )?(?:need to |have to |got to )?(?:change|switch|swap|turn)(?: over)? (?:the |to the |over the )?(?:bottles?|cylinders?|tanks?|propane|gas|other (?:bottle|cylinder|one)|outside|inside)(?: (?:bottle|cylinder|one))?(?: over)?(?: (?:before (?:i|we) (?:sleep|go to (?:bed|sleep)|turn in|crash)|before (?:bed|the night|midnight|morning)|tonight|for the night|in the night|overnight))+)$"
)
_MORNING_H = 7
_HEATS_UP = Lazy(
    _LEAD
    + r"how (?:long|many (?:minutes|hours)|much time)(?: (?:will|does|would|do|is|it|they|take|takes|need|needs|the (?:furnaces?|heat(?:er)?s?)|furnaces?|to))* (?:heat|warm|bring)(?: up)? (?:the |this |our )?(?:cabin|coach|bus|inside|bunks?|place|it|her)(?: (?:back )?up)?(?: (?:again|from|to|up|back|degrees|minus|zero|below|above|\d+))*$"
)


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The short answer, or what is missing for it; None for anything else and while a danger is not over."""
    if state.pending is not None or danger_first.danger(state, mind) is not None:
        return None
    said = plain(text)
    level = _LEVEL.match(said) or (_NAMED.match(said) if "?" in text and state.asking is None else None)
    if level is not None:
        return _level(state, level["what"], mind, now)
    if _FREEZES.match(said):
        return _worked(
            state,
            text,
            f"how long until the cabin cools from {_inside(state, mind)} to 32 degrees",
            mind,
            now,
            _OF_PIPES,
        )
    if (drops := _DROPS.match(said)) is not None:
        return _dropped(state, text, drops["at"], mind, now)
    if _LASTS.match(said):
        return _till_morning(state, text, said, mind, now)
    if _HEATS_UP.match(said):
        line = "I have no sum for how long it takes to warm up. Note the time and tell me how warm it is inside."
        walk = state.walk
        return Outcome(state, Reply("unknown", line, (line,), nearest=("keep-cabin-warm",), step=phrases.mark(walk) if walk else None))  # fmt: skip
    return None


_OF_PIPES = "That is the cabin; pipes by an outer wall freeze before."


def _level(state: State, words: str, mind: Mind, now: datetime) -> Outcome | None:
    """The level read back that is named; None when nothing of the kind was told, for then it has to be looked at."""
    what = telling.named_in(words) or ("propane" if re.search(r"\b(?:in|out)side\b", words) else None)
    if what is None or not any(one.reading.what == what for one in state.stored):
        return None
    return telling.read_back(
        what, state, mind, now, telling.which_named(f"propane {words}" if what == "propane" else words, mind)
    )


def _inside(state: State, mind: Mind) -> str:
    """How warm it is inside, as told last, else as set, in words of a question."""
    told = next((one.reading for one in reversed(state.stored) if one.reading.what == "inside_temp"), None)
    if told is not None and told.value is not None:
        return f"{told.value:g} degrees {'celsius' if told.unit == 'C' else 'fahrenheit'}"
    return f"{mind.coach.cabin.setpoint_f:g} degrees fahrenheit"


def _worked(state: State, text: str, question: str, mind: Mind, now: datetime, note: str = "") -> Outcome | None:
    """A question put in words that have a sum, answered; what is missing is asked back."""
    from cabassist.sums.working import work_out

    worked = work_out(question, (), coach=mind.coach, network=None, stored=state.stored, now=now)
    if worked is None:
        return None
    outcome = reckoning.answer(state, worked, text, mind.ranked(text), mind)
    if note and outcome.reply.kind == "calculation":
        reply = outcome.reply
        outcome = outcome._replace(reply=replace(reply, say=f"{reply.say} {note}", show=(*reply.show, note)))
    return outcome


def _dropped(state: State, text: str, at: str | None, mind: Mind, now: datetime) -> Outcome | None:
    """How cold it is inside by the morning when the heat stops at a time of day."""
    from cabassist.dialogue.reminders import clock_of

    stops = clock_of(f"at {at}", now) if at else now
    if stops is None:
        return None
    if not re.search(r"am|pm|morning|night", at or "am") and stops.hour >= 12 and 1 <= stops.hour - 12 < _MORNING_H:
        stops = stops.replace(hour=stops.hour - 12) + timedelta(days=int(now.hour >= stops.hour - 12))
    hours = (_morning(stops) - stops).total_seconds() / 3600
    question = f"how cold does it get inside after {hours:.3g} hours without heat, cabin at {_inside(state, mind)}"
    outside = next((one.reading for one in reversed(state.stored) if one.reading.what == "outside_temp"), None)
    if outside is not None and outside.value is not None:
        unit = "celsius" if outside.unit == "C" else "fahrenheit"
        question = question.replace(", cabin", f" at {outside.value:g} degrees {unit} outside, cabin")
    return _worked(
        state, text, question, mind, now, f"That is at {_MORNING_H:02}:00, after {hours:.2g} hours without heat."
    )


def _morning(moment: datetime) -> datetime:
    """The next morning after a moment."""
    day = moment.replace(hour=_MORNING_H, minute=0, second=0, microsecond=0)
    return day if day > moment else day + timedelta(days=1)


def _till_morning(state: State, text: str, said: str, mind: Mind, now: datetime) -> Outcome | None:
    """Whether the gas lasts till the morning, by the board; the level is asked for when nobody has told it."""
    from cabassist.dialogue.board import lines_of
    from cabassist.dialogue.deadlines import as_worked, sentence

    lines = lines_of("propane", state, mind, now)
    if not any(line.history for line in lines):
        line = "Tell me the cylinders' levels and how cold it is outside, and I say whether they last."
        walk = state.walk
        return Outcome(state, Reply("clarify", line, (line,), topic="read-propane-gauges", step=phrases.mark(walk) if walk else None))  # fmt: skip
    known = [line for line in lines if line.estimate is not None]
    if not known:
        words = next((line.left_words for line in lines if line.left_words), "")
        return Outcome(state, Reply("clarify", words, (words,), topic="read-propane-gauges")) if words else None
    meant = _cylinder_meant(said, lines, known)
    if meant is None or meant.estimate is None:
        return None
    morning = _morning(now)
    hours = (morning - now).total_seconds() / 3600
    low, high = meant.left_low_h or 0.0, meant.left_high_h
    changes = _CHANGES.search(said) is not None
    if changes:
        turn = "open the other one, so that it can take over" if _by_itself(mind) else "change over before you sleep"
        first = "No, it lasts" if low >= hours else f"Yes, {turn}"
    else:
        likely = "Probably" if (meant.left_h or 0.0) >= hours else "Probably not"
        first = "Yes" if low >= hours else "No" if high is not None and high < hours else likely
    name = f"{meant.name}: " if meant.which and re.search(rf"\b{meant.which}\b|\bfirst\b", said) or changes else ""
    verdict = f"{first}: {hours:.2g} hours till {morning:%H:%M}. {name}{sentence(meant)}"
    estimate = replace(meant.estimate, verdict=verdict)
    walk = state.walk
    reply = Reply("calculation", verdict, (verdict, *(f"  {one}" for one in meant.why)), topic="read-propane-gauges", estimate=estimate, step=phrases.mark(walk) if walk else None)  # fmt: skip
    return Outcome(
        replace(state, worked=as_worked(meant, state), topic="read-propane-gauges", question=text, failures=0), reply
    )


_CHANGES = Lazy(r"\b(?:change|switch|swap|turn)\b")


def _by_itself(mind: Mind) -> bool:
    """Whether the second cylinder takes over by itself once it is open."""
    return holds("second-cylinder", mind.coach) and holds("automatic-changeover", mind.coach)


def _cylinder_meant(said: str, lines: tuple[BoardLine, ...], known: list[BoardLine]) -> BoardLine | None:
    """The cylinder named, all of them together for the gas, and the one that feeds now where it is asked whether to change over."""
    role = next((line for line in lines if line.which and re.search(rf"\b{line.which}\b", said)), None)
    changes = _CHANGES.search(said) is not None
    if role is not None and not changes:
        return role
    order = sorted(known, key=lambda line: line.left_low_h or 0.0)
    return order[0] if changes or re.search(r"\bfirst\b", said) else order[-1]
