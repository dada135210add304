"""A number told of nothing by name: "it's at 62", "yep, on 62", "there are 20 left".

What was told last is not what the number is of merely because it was told. At a step that names the number it is the setting,
and the step is done. Right after one reading it renews that reading, where it can; anything else is asked back and nothing
stored, for a wrong temperature outside makes every reckoning of the night wrong.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import correcting, levels_heard, phrases, telling, walking, whose_level
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.numbers import NUMBER_WORDS, parse_number
from cabassist.language.plausibility import converted
from cabassist.language.reading_types import Reading

_MOST_WORDS = 10
_WORD = "|".join(sorted(NUMBER_WORDS))
_NUMBER = rf"(?P<number>\d{{1,3}}(?:\.\d+)?|(?:{_WORD})(?: (?:{_WORD}))*)"
_THING = r"(?:(?:the|my|our|that) )?(?:(?:wall|temp|temperature|heat|furnace) )?(?:thermostat|stat|setting|set ?point|dial|heat|heater|heating|thing|display|screen|number|furnaces?|one|knob)(?:'s| is)? "
_SAYS = r"(?:it|them|that|all|both|each|just|now|set|put|turned|dialed|cranked|reading|showing|sitting|standing|up|down|still|only|around|about|roughly|nearly|almost|at|on|to|says|reads|shows|said|gone|went|dropped|got|have|is|are|was|like|exactly|here|there)"
_BARE = Lazy(
    r"^(?:(?:ok|okay|yep|yup|yeah|yes|so|and|well|right|alright|now|hey|done|good|cool|um|uh|oh) )*"
    rf"(?P<lead>(?:{_THING}|(?:it's|its|it is|it|that's|that is|she's|they're|they are|both|we're|we are|there's|there is|there are|there|i|we|i've|we've|got|have|put|turned|set|dialed) )?"
    rf"(?:{_SAYS} )*)"
    rf"\b{_NUMBER}(?P<unit> degrees?(?: fahrenheit| f)?| f\b)?"
    r"(?P<tail>(?: (?:now|again|left|flat|dead|even|there|here|then|exactly|today|tonight|already|done|ok|okay|all|even|it is|on the dot|(?:like|as) (?:it|you) (?:says?|said)))*)$"
)
_PEOPLE = re.compile(r"\b(?:there's|there is|there are|we're|we are)\b")
"""Says how many there are, not how cold it is."""
_HOW_MANY_LEFT = re.compile(r"\b(?:left|there are|there's|there is)\b")
LEAP_F = 40.0
"""The weather hardly ever turns further between two readings."""
_TEMPERATURES = ("outside_temp", "inside_temp")


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The step that such a number finishes, or the question what it is of; None where it may be told as it is."""
    said = plain(text)
    if state.pending is not None or (state.asking is not None and state.asking.what != "resume"):
        return None
    if not 0 < len(said.split()) <= _MOST_WORDS or "?" in text:
        return None
    if not _NUMBERS.search(said):
        return None
    if (metered := _metered(state, text, mind, now)) is not None:
        return metered
    if (awaited := _awaited(state, text, mind, now)) is not None:
        return awaited
    found = _BARE.match(said)
    number = parse_number(found["number"]) if found is not None else None
    if found is None or number is None:
        return None
    setting = _set_here(state, number, (found["lead"] + found["tail"]).strip(), text, mind, now)
    summed = state.last is not None and state.last.kind == "calculation"
    if setting is not None or (summed and "now" not in said.split()):
        return setting
    if found["unit"] and not state.told:
        return None
    if not state.told:
        return asked_back(state, whose_level.NUMBER_OF, text) if _of_nothing(state, number, said) else None
    meant = _meant(state, text, mind)
    if meant is None:
        return None
    heads = any(one.what == "passengers" for one in state.told)
    if heads and meant.what != "passengers" and _PEOPLE.search(said):
        heard = mind.readings_in(f"passengers {found['number']}")
        return telling.told(heard, text, state, mind, now) if heard.readings else None
    fresh = correcting.just_told(state, mind)
    if len(_names(fresh, meant.what)) > 1 and meant.what == "propane":
        return asked_back(state, "Which cylinder is that?", text)
    strange = _leaps(state, meant) or (meant.what in _TEMPERATURES and _HOW_MANY_LEFT.search(said))
    if strange or not (fresh or _walk_is_of(state, meant, mind)):
        return asked_back(state, _IN_OR_OUT if found["unit"] else whose_level.NUMBER_OF, text)
    if fresh and meant.what in _TEMPERATURES:  # however like another report its few words are: "its 64 now"
        heard = levels_heard.heard_in(text, state, mind)
        if heard.readings and not heard.refused:
            return telling.told(heard, text, replace(state, failures=0), mind, now)
    return None


_ANSWERS = Lazy(
    r"^(?:(?:ok|okay|yep|yup|yeah|yes|so|and|well|right|alright|now|um|uh|oh|about|around|roughly|nearly|almost|just|it's|its|it is|that's|they're|it|they|says?|reads?|shows?|at|on|got|only|still|is|are|both|each|all|we're|we are|there's|there are|minus|negative) )*"
    rf"-?{_NUMBER}(?: (?:degrees?|below(?: zero)?|above(?: zero)?|fahrenheit|celsius|[fcv]|volts?|psi|pounds|lbs?|percent|%|gallons?|gal|miles|mi|km|hours?|people|of us|aboard|on board|heads|inches|in|on both|both|each|all (?:round|around)|and {_NUMBER.replace('?P<number>', '?:')}))*(?: (?:now|here|then|exactly|there))*$"
)


_METER = Lazy(
    rf"^(?:(?:ok|okay|so|and|well|now|the|my|our|it says|says) )*(?:meter|volt ?meter|multi ?meter|tester|volt gauge|display|readout)(?:'s|s| is| was)? ?(?:showing|shows?|says?|saying|reads?|reading|at|on|gives?|giving)? (?P<number>\d{{1,3}}(?:\.\d+)?|(?:{_WORD})(?: (?:{_WORD}))*)(?: volts?)?(?: now| there| here)*$"
)
_VOLTS = ("shore_voltage", "house_battery")


def _metered(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The volts that a meter shows, in a walk whose steps want the volts of one thing only: "meter's showing 117"."""
    walk, found = state.walk, _METER.match(plain(text))
    if walk is None or walk.paused or found is None:
        return None
    wanted = {step.reading for step in mind.knowledge.procedure(walk.topic).steps if step.reading in _VOLTS}
    if len(wanted) != 1:
        return None
    name = "shore" if wanted == {"shore_voltage"} else "house battery"
    heard = mind.readings_in(f"{name} {found['number']} volts")
    if {one.what for one in heard.readings} != wanted:
        return None
    return telling.told(heard, text, replace(state, failures=0), mind, now)


def _awaited(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The reading for which the step in hand asks, told by its number alone: "-25" at the outside temperature."""
    walk = state.walk
    if state.last is not None and state.last.kind == "calculation":
        return None  # it varies the sum
    if walk is None or walk.paused or not _ANSWERS.match(plain(text)) or telling.named_in(plain(text)) is not None:
        return None
    wanted = phrases.step_of(mind.knowledge.procedure(walk.topic), walk).reading
    if not wanted:
        return None
    heard = mind.readings_in(f"{wanted.replace('_', ' ')} {text}")
    if {one.what for one in heard.readings} != {wanted}:
        return None
    return telling.told(heard, text, replace(state, failures=0), mind, now)


_IN_OR_OUT = "Is that inside or outside?"
_NUMBERS = Lazy(rf"\d|\b(?:{_WORD})\b")


def only_a_number(text: str) -> bool:
    """Whether a text is a bare number and no more, which reports no danger by itself: "it's 64 now"."""
    said = plain(text)
    if not 0 < len(said.split()) <= _MOST_WORDS or _NUMBERS.search(said) is None:
        return False
    return _BARE.match(said) is not None or _ANSWERS.match(said) is not None


_CLOCK = 12
"""So small a number may be the time of day, or the number of a step."""
_IT = re.compile(r"\b(?:it's|its|it is|there are|there's|there is)\b")


def _of_nothing(state: State, number: float, said: str) -> bool:
    """Whether a number is told while nothing was told before that it may be of; a small one may be the clock's."""
    asked = state.last is not None and state.last.kind == "clarify"
    return number > _CLOCK and state.worked is None and not asked and _IT.search(said) is not None


def _meant(state: State, text: str, mind: Mind) -> Reading | None:
    """The reading that the number would be put into because of what was told before; None where it is put into none."""
    heard = mind.readings_in(text, state.told)
    if not heard.readings or mind.readings_in(text).readings:
        return None
    return heard.readings[0]


def _names(told: tuple[Reading, ...], what: str) -> set[str | None]:
    return {one.which for one in told if one.what == what}


def _leaps(state: State, meant: Reading) -> bool:
    """Whether a temperature would have turned further than one does."""
    before = next((one for one in reversed(state.told) if one.what == meant.what), None)
    if meant.what not in _TEMPERATURES or before is None or before.value is None or meant.value is None:
        return False
    was, becomes = (converted(one.value or 0.0, one.unit or "F", "F") for one in (before, meant))
    return abs(becomes - was) > LEAP_F


def _walk_is_of(state: State, meant: Reading, mind: Mind) -> bool:
    """Whether a walk is in hand that is about what the reading is of: the level of the fresh tank, while it is filled."""
    walk = state.walk
    if walk is None:
        return False
    if telling.named_in(plain(mind.knowledge.title(walk.topic))) == meant.what:
        return True
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    return step.reading == meant.what


_SETS = Lazy(
    r"^(?:(?:then|now) )?(?:set|turn|put|dial|tighten|torque|pump|inflate|adjust|raise|lower)\b", re.IGNORECASE
)
_LEFT = re.compile(r"\b(?:there's|there is|there are|we're|we are|left)\b")


def _set_here(state: State, number: float, lead: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The next step, where the step in hand sets something to just this number: "yep, it's on 62"."""
    walk = state.walk
    if walk is None or walk.paused or (not lead and number <= _CLOCK) or _LEFT.search(plain(text)):
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    step = phrases.step_of(procedure, walk)
    do = phrases.filled(step.do, mind.facts)
    if procedure.kind == "hazard" or step.reading or not _SETS.match(do):
        return None
    figures = {float(one) for one in re.findall(r"(?<![\w.])\d+(?:\.\d+)?(?![\w.]*\d)", do)}
    if not figures:
        return None
    if number not in figures and not lead:
        return None
    if number not in figures:
        wanted = f"Not yet: {do}"
        return walking.control(replace(state, failures=0), wanted, topic=walk.topic)
    return walking.told_done(state, text, mind, now)


def asked_back(state: State, question: str, text: str) -> Outcome:
    """The question what the number is of; the name alone answers it, and until then nothing is stored."""
    walk = state.walk
    lines = (question,) if walk is None else (question, f"You are at step {walk.number} of {len(walk.plan)}.")
    reply = Reply("clarify", question, lines, topic=walk.topic if walk is not None else None, confidence=0.5)
    return Outcome(replace(state, asking=Asking("level", (), "", text), failures=0), reply)
