"""What levels and other readings a text tells, as the conversation stands when it is said.

Much sounds like a level and is none: a supposition, a dose, what is to be kept back, "and forty" after a sum.
"""

from __future__ import annotations

import re
from dataclasses import replace

from cabassist.dialogue import (
    correcting,
    deciding,
    differences,
    following,
    heads_changed,
    multiplied,
    reckoning,
    spent_by,
    supposing,
    telling,
    whose_level,
)
from cabassist.dialogue.types import Mind, State
from cabassist.language import needles
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain
from cabassist.language.numbers import NUMBER_WORDS
from cabassist.language.reading_types import Heard
from cabassist.language.weather_told import things_out

_GOES_ON = re.compile(r"^(?:(?:ok|okay|so) )*(?:and|with|plus|add)\b(?! (?:it's|that's|now it's|the))")
"""Opens what goes on with the last sum."""
_ADDS = re.compile(r"\b(?:more|extra|on top|together|combined|altogether|in total|added up)$")
"""Ends what is added to a level or adds levels up, and tells none."""
_THOSE_TWO = re.compile(r"\b(swap|switch|flip|reverse)( those| these| them| the) two\b", re.IGNORECASE)
"""The two readings just told; no amount."""
_WHEN_SEEN = Lazy(
    r"(?<=\w)(?<!\bhow)(?<!\bwhat),? (?:when|as) (?:i|we) (?:first |just |last )?(?:opened|started|began|checked|looked at|looked|lifted|pulled)(?: (?:it|up|up to it|the (?:lid|cap|valve|door|bay|hatch|job|dump|fill)))?$",
    re.IGNORECASE,
)
"""When a level was seen; the thing opened is no part of it."""
_HOUR = r"(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\d{1,2})"
_CLOCK_TOLD = Lazy(
    rf"(?<=[,;])\s*(?:at )?(?:(?:quarter|half|five|ten|twenty(?: five)?) (?:past|till|after)|(?:quarter|ten|twenty(?: five)?) to) {_HOUR}(?: (?:now|in the (?:morning|evening)|am|pm))?(?= *(?:[,;.]|$))",
    re.IGNORECASE,
)
"""A time of day after what was told: "outside dry, ten to six"."""
_ONLY_FEEDS = Lazy(
    r"\b(?:the )?(?:inside|outside|first|second|other)(?: (?:one|cylinder|bottle|tank))?(?:'s| is)? (?:on|off|feeding|feedin'?|open|shut|closed|running)(?:, (?=(?:the )?(?:inside|outside|first|second|other)\b)| and (?=(?:the )?(?:inside|outside|first|second|other)\b))",
    re.IGNORECASE,
)
"""A cylinder of which only is told that it feeds: the level that follows is the other's."""
_FRESH_PERSON = Lazy(r"\b(?:he|she|i|we|they|you)(?:'s|'m|'re| is| am| are) fresh\b", re.IGNORECASE)
"""Somebody who is rested."""
_ONE_THING = Lazy(
    rf"\b((?:only |just )?(?:the )?(?:galley|bathroom|kitchen|shower|sink|toilet|bunk|dry|frozen|same|wrong|right|only|other|every|each)) one\b(?! (?:hundred|point|degrees?|below|above|oh|and a|{'|'.join(sorted(NUMBER_WORDS))}|\d))",
    re.IGNORECASE,
)
"""A thing, and no number: "it's only the galley one"."""
_GAUGE = Lazy(r"\b(?:needle|pointer|gauge|dial|sight glass)\b", re.IGNORECASE)
_HOW_MANY = re.compile(r"\bhow (?:many|much|long|far|full)\b")


def heard_in(text: str, state: State, mind: Mind) -> Heard:
    """The readings, corrections and refusals in a text, as the conversation stands; nothing where what sounds like a level is none."""
    # A plain question with no amount in it tells nothing, and the reader of reports takes a while to load.
    text = _CLOCK_TOLD.sub("", _WHEN_SEEN.sub("", _THOSE_TWO.sub(r"\1\2", text)))
    text = _ONE_THING.sub(r"\1", _FRESH_PERSON.sub("", _ONLY_FEEDS.sub("", text)))
    if state.told and correcting.disbelieved(text):
        return Heard()
    if state.told:
        text = correcting.without_reason(correcting.without_sizes(text))
    if state.told and not following.AMOUNT.search(bare(text)) and correcting.carries(text):
        return Heard()
    metered = _METER.search(text) if state.walk is not None and state.walk.topic == "carbon-monoxide-alarm" else None
    if metered is not None and (measured := mind.readings_in(f"co meter says {metered['told']}")).readings:
        return measured
    asked = bare(text)
    if not following.AMOUNT.search(asked) and (
        _HOW_MANY.search(asked) or (not state.told and following.ASKS.match(asked))
    ):
        return Heard()
    if state.told and spent_by.asks_until_due(asked):
        return Heard()  # the mark of a service is no reading of the meter
    if _BARE_AND.match(plain(text)) and state.told and state.last is not None and state.last.kind in _ELSEWHERE:
        return Heard()  # "and forty", after anything else than a reading, puts none right
    if state.worked is not None and _KEPT_BACK.search(asked):
        return Heard()  # what is to be left is no level now
    if state.last is not None and state.last.kind == "calculation" and differences.OTHER_UNIT.match(asked):
        return Heard()  # "in gallons" gives the level that was told no other unit
    summed = state.worked is not None and state.last is not None and state.last.kind == "calculation"
    varied = summed or varies_asked(state, text)
    goes_on = (_GOES_ON.search(plain(text)) if varied else None) or (state.told and _ADDS.search(plain(text)))
    if (goes_on or (summed and supposing.when_so(plain(text)))) and telling.named_in(plain(text)) is None:
        return Heard()  # "and a hundred and ten", "with forty gallons more", "sixty percent if it's windy" is no level
    by_head = _BY_HEAD.search(asked) and reckoning.standing(state) is not None
    if (by_head or (summed and _of_sum(state, plain(text)))) and telling.named_in(plain(text)) is None:
        return Heard()  # "eighteen but only once each", "make it thirty" are of the sum
    of_other = _SAME_FOR.match(asked)
    if of_other is not None and following.AMOUNT.search(of_other["told"]):
        text = of_other["told"]  # what is the same is the question; the level is told
    # What a calculation waits for is no correction of the reading that was told last, nor are people who came or went.
    leans = state.pending is None and not heads_changed.speaks_of_people(text)
    heard = _counted_together(
        _without_things_out(mind.readings_in(text, state.told if leans else ()), text), text, mind
    )
    supposed = {one.what for one in heard.readings} == {"passengers"} or multiplied.of_that(plain(text))
    if summed and supposed and _HEADS_SUPPOSED.match(plain(text)):
        return Heard()  # "and with only ten aboard, half of that" counts nobody
    if any(reading.what == "co_ppm" for reading in heard.readings) and _is_dose(text, state):
        return Heard()  # parts per million of chlorine are no carbon monoxide
    if heard.ask and not heard.readings and state.told and deciding.CORRECTS.match(plain(text)):
        again = mind.readings_in(
            f"{state.told[-1].what.replace('_', ' ')} {state.told[-1].which or ''} {text}", state.told
        )
        if again.readings and {reading.what for reading in again.readings} == {state.told[-1].what}:
            return again  # "my mistake, it's half a tank" puts right what was told last
    if heard.ask and not heard.readings and state.walk is not None and state.pending is None:
        return _of_walk(text, state.walk.topic, mind) or heard
    lies = heard == Heard() and _GAUGE.search(text) is not None and needles.only_told(text)
    if lies and state.walk is not None and state.pending is None:
        return _of_walk(text, state.walk.topic, mind) or heard  # "the needle's dead in the middle"
    if heard == Heard() and state.walk is not None and (rest := telling.without_opening(text)) != text:
        return heard_in(rest, state, mind)
    if heard == Heard() and (level := after_report(text)) is not None:
        return mind.readings_in(level)
    if heard == Heard() and state.walk is None and state.pending is None and state.asking is None:
        return whose_level.of_nothing(text, mind) or heard
    return heard


def _counted_together(heard: Heard, text: str, mind: Mind) -> Heard:
    """What was heard, with groups of people counted together: "ten kids and two adults in the bunks"."""
    groups = [one for one in heard.readings if one.what == "passengers"]
    if len(groups) < _GROUPS or heard.withdrawn:
        return heard
    from cabassist.dialogue.step_figures import heads

    count = heads(text)
    told = mind.readings_in(f"passengers {count}").readings if count is not None else ()
    return replace(heard, readings=(*(one for one in heard.readings if one not in groups), *told))


_GROUPS = 2


def _without_things_out(heard: Heard, text: str) -> Heard:
    """What was heard, without weather where things stand out there: "three out, one at ten feet", "with one out front"."""
    if not any(one.what == "outside_temp" for one in heard.readings) or not things_out(text):
        return heard
    return replace(heard, readings=tuple(one for one in heard.readings if one.what != "outside_temp"))


_HOW_FAR = Lazy(
    r"\bhow (?:far|many (?:more )?(?:miles|kilometers|km)|long)(?: (?:can|will|does|do|have|is|'ll|till|until|left|more|i|we|it|that|this|me|us|go|get|got|drive|run|last|take|before|it's|out|empty|dry|on))*$"
)


def asks_how_far(text: str, heard: Heard) -> bool:
    """Whether a tank of the engine is told and how far that goes is asked, which its forecast answers: "DEF at a tenth, how far"."""
    return (
        len(heard.readings) == 1
        and not heard.withdrawn
        and heard.readings[0].what in ("diesel", "def")
        and _HOW_FAR.search(plain(text)) is not None
    )


_SET_TO = Lazy(
    r"\b(?:set|pumped|put|inflated|filled|aired|started|left)\b.{0,40}\b(?:to|at|with)\b|\b(?:was|were) (?:set |at |put )|\bif\b|\bwhen\b|\bwhat(?:'ll|'d| will| would| do| does| did| should)?\b|\bhow (?:much|far|many)\b"
)


def without_set(heard: Heard, text: str) -> Heard:
    """What was heard, without a pressure of no tire in particular told in a question about pressures: to what it was set once."""
    if not any(one.what == "tire_pressure" and one.which is None for one in heard.readings) or not _SET_TO.search(plain(text)):  # fmt: skip
        return heard
    kept = tuple(one for one in heard.readings if one.what != "tire_pressure" or one.which is not None)
    return replace(heard, readings=kept)


_BY_HEAD = Lazy(
    r"\b(?:once|twice|times|gallons?|minutes|pounds|[a-z]+) (?:each|apiece|a head|a person|per person|per head)\b"
)
_MAKE_IT = Lazy(
    r"^(?:(?:ok|okay|so|and|but|no|well|actually|right|then|now|sorry|wait) )*(?:make (?:it|that|them)|call it|let's say|say) (?:only |about |just )?[a-z0-9]+(?: [a-z0-9]+)?(?: (?:then|instead|now))*$"
)


def _of_sum(state: State, said: str) -> bool:
    """Whether "make it thirty" changes the sum just answered, which was about no level that was told."""
    worked = state.worked
    if worked is None or _MAKE_IT.match(said) is None or any(one.origin == "reading" for one in worked.inputs):
        return False
    name = worked.estimate.name if worked.estimate is not None else ""
    return not name.startswith("held-") and telling.named_in(plain(state.question)) is None


_REPORT_THEN = re.compile(r"^(?P<report>[^,.;?\d]{4,60})[,.;] *(?:and )?(?P<level>[^?]+?)[ .!]*$")
_DONE = Lazy(
    r"\b(?:'s|is|are) (?:all )?(?:on|off|done|in|out|up|down|back on|shut|closed|open|tight|torqued|changed|connected|set|ready|parked)$"
)


def after_report(text: str) -> str | None:
    """The level told after work reported as done: "odometer's 48,210 miles" of "wheel's on, odometer's 48,210 miles"; else None."""
    found = _REPORT_THEN.match(text.lower().replace("\u2019", "'").strip())
    if found is None or not _DONE.search(found["report"]) or following.AMOUNT.search(found["report"]):
        return None
    level = found["level"]
    if telling.named_in(plain(level)) is None or not following.AMOUNT.search(bare(level)):
        return None
    return None if following.ASKS.match(bare(level)) or following.ASKS.match(bare(found["report"])) else level


def varies_asked(state: State, text: str) -> bool:
    """Whether a text varies a sum that could not be told as it was put: "and at twenty below"."""
    last, said = state.last, bare(text)
    asked = last is not None and last.kind == "clarify" and not last.options
    if not asked or state.pending is not None or state.asking is not None:
        return False
    varies = following.VARIES.match(plain(text)) is not None and following.AMOUNT.search(said) is not None
    return varies and following.AMOUNT.search(bare(state.question)) is not None


_BARE_AND = Lazy(
    r"^(?:(?:so|ok|okay|then) )*(?:and|or|plus|with)(?: (?:for|at|with|if|it's))*(?: (?:a|an|the|\d[\d.]*|[a-z]+ty|[a-z]+teen|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|hundred|and|half|quarters?|thirds?|point)){1,5}$"
)
_ELSEWHERE = ("procedure", "step", "clarify", "unknown", "calculation", "refuse")
_HEADS_SUPPOSED = Lazy(r"^(?:(?:and|but|so|or|ok|okay|then|now) )*(?:if|with|for|at)\b")
_SAME_FOR = re.compile(
    r"^(?:(?:and|so|ok|okay|now) )*(?:the )?same (?:for|with|thing for|thing with) (?:the )?(?P<told>.+)$"
)
_KEPT_BACK = re.compile(
    r"^(?:(?:and|but|so|ok|okay) )*(?:(?:i |we )?(?:keep|want|need|leave|save|hold)|keeping|leaving|saving|holding|with)\b.* (?:back|in reserve|spare|in hand|left(?: after| over| in (?:it|there))?|to spare)$"
)
_DOSE = re.compile(r"\b(?:bleach|chlorine|sanitiz\w+|sanitis\w+|disinfect\w*|hypochlorite)\b")
_METER = Lazy(
    r"\b(?:meter|detector|reader|monitor|sniffer|tester|handheld|display)(?:'s)?(?: is| was)? (?:says|said|reads|reading|shows|showing|at|saying) (?P<told>[\w. -]+?)(?= (?:and|but|so|though|while|now|with)\b|[,;!?]|\.(?: |$)|$)",
    re.IGNORECASE,
)
"""What measures while carbon monoxide is the danger measures that."""
_CO = re.compile(r"\b(?:co|carbon|monoxide|alarm|detector|meter)\b")


def _is_dose(text: str, state: State) -> bool:
    """Whether parts per million are spoken of that are a dose of bleach."""
    said = plain(text)
    pending = state.pending is not None and "bleach" in state.pending.calculation
    return (pending or _DOSE.search(said) is not None) and _CO.search(said) is None


def _of_walk(text: str, topic: str, mind: Mind) -> Heard | None:
    """A level told without a name in a walk that asks for one kind of reading only: "it's about half"."""
    kinds = {step.reading for step in mind.knowledge.procedure(topic).steps if step.reading}
    if len(kinds) != 1:
        return None
    named = mind.readings_in(f"{kinds.pop().replace('_', ' ')} {text}")
    return named if named.readings else None
