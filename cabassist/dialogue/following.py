"""Questions that lean on the one before: another thing, an amount changed or told late, the number that was asked for."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import deciding, reckoning, telling
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain
from cabassist.language.reading_types import Heard
from cabassist.language.routing import Decision

if TYPE_CHECKING:
    from cabassist.sums.working import Worked

WORTH_WORKING_OUT = 0.15
"""Probability of a calculation from which on the text is looked at for one."""

_FOLLOW_UP = Lazy(
    r"^(?:and |but |no |nope |not that |i meant? |i mean |what about |how about |and what about |sorry )+(?:the |for the |on the |with the |in the |at the )?(?P<rest>.+)$"
)

VARIES = Lazy(
    r"^(?:ok |okay |so |well |no |sorry )*(?:and|i meant?|what if|what about|how about|same|but if|if|make (?:it|that))\b"
)
"""Opens a question that changes an input of the last calculation."""

OTHER = Lazy(r"\b(?:the )?other (?:one|side|tank|cylinder|bottle|end|thing|way)\b|\bthe opposite\b")

ASKS = re.compile(
    r"^(?:how|what|where|why|when|which|who|can|could|should|shall|may|must|do|does|did|is|are|am|will|would|any)\b"
)

AMOUNT = Lazy(
    r"\d|%|\b(?:zero|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twent\w+|thirt\w+|fort\w+|fift\w+"
    r"|sixt\w+|sevent\w+|eight\w+|ninet\w+|hundred|thousand|half|quarter\w*|thirds?|tenths?|per ?cent|minus|below)\b"
)


def follow_up(state: State, text: str, decision: Decision, mind: Mind) -> tuple[Decision, str] | None:
    """A question that leans on the one before: "and the other one?", "no, the waste tank"."""
    if not state.topic or decision.verdict in ("hazard", "refuse"):
        return None
    short = bare(text)
    twin = mind.twins.get(state.topic)
    if twin and OTHER.search(short) and len(short.split()) <= 8:
        return Decision("answer", (twin,), 0.7), text
    if OTHER.search(short) and len(short.split()) <= 4 and state.last is not None and state.last.kind == "unknown":
        return replace(decision, verdict="clarify"), text  # what was not understood has no other one
    match = _FOLLOW_UP.match(plain(text))
    if not match or len(match.group("rest").split()) > 5:
        return None
    if decision.verdict == "answer" and decision.confidence > 0.85:
        return None
    rest = match.group("rest")
    if not state.question:
        return None
    joined = f"{state.question} {rest}" if decision.verdict != "unknown" else f"{state.question}, {rest}"
    swapped = _swapped(state.question, rest)
    whole = swapped or joined
    again = deciding.decided(whole, mind.ranked(whole), None, mind)
    return (again, whole) if again.verdict in ("answer", "clarify") else None


_THINGS = (
    "fresh",
    "waste",
    "black",
    "grey",
    "gray",
    "propane",
    "water",
    "outside",
    "inside",
    "front",
    "rear",
    "left",
    "right",
    "diesel",
)


def _swapped(question: str, rest: str) -> str | None:
    """The question before with the thing it was about replaced by the new one."""
    new = next((word for word in rest.split() if word in _THINGS), None)
    old = next((word for word in plain(question).split() if word in _THINGS), None)
    if new is None or old is None or new == old:
        return None
    return re.sub(rf"\b{old}\b", new, plain(question), count=1)


_OF_NUMBER = Lazy(
    r"\b(?:how (?:many|much|long|far|full|soon|often|cold|heavy|big|low|high)|when|enough|last(?! (?:night|week|time|month|year|season|trip|one|game)\b)|left|till?|until|work out|calculate|figure|what time|range|will it|legal|over(?:weight)?|too much)\b"
)


def wants_walk(text: str, decision: Decision, state: State) -> bool:
    """Whether a procedure is asked for rather than a number that would have to be asked for: "time to dump the tank"."""
    return (
        state.pending is None
        and decision.verdict == "answer"
        and decision.confidence >= 0.5
        and not AMOUNT.search(bare(text))
        and not _OF_NUMBER.search(bare(text))
    )


def asks_for_number(text: str, ranking: Ranking, decision: Decision, state: State) -> bool:
    """Whether it is worth looking for a calculation; that loads the unit registry, which takes a while."""
    if state.pending is None and decision.verdict == "answer" and how_to(text):
        return False
    if state.pending is None and "?" not in text and _ONCE.match(bare(text)) and not _NUMBER_ASKED.search(bare(text)):
        return False
    if state.pending is not None or ranking.work_out >= WORTH_WORKING_OUT:
        return True
    if (
        state.worked is not None
        and len(text.split()) <= 12
        and not (decision.verdict == "answer" and decision.confidence > 0.9)
    ):
        return True
    said = bare(text)
    if _DISTANCE.search(said):
        return True
    return bool(AMOUNT.search(said)) and not (decision.verdict == "answer" and decision.confidence > 0.9)


_ONCE = Lazy(
    r"^(?:(?:and|so|oh|well|the|our|my|it) )*\w+(?: \w+)? (?:was|were|had been|used to be|stood|sat)\b.*\b(?:last night|yesterday|this morning|ago|earlier|when (?:i|we|he|she|they) \w+)\b.*$"
)
"""Tells how things were once."""
_NUMBER_ASKED = Lazy(
    r"\b(?:how|what|till?|until|enough|left|which|will|would|can|does|do|is)\b|^when\b|\bwhen (?:will|do|does|is|are)\b"
)
_HOW_TO = Lazy(
    r"\bhow (?:do|would|should|can|could|d|am|to)(?: (?:i|we|you|he|she|they))?(?: (?:supposed|going) to)? (?!(?:i|we|you|he|she|they)\b)(?!(?:figure|work|calculate|know|tell|reckon|count|convert|split|add|compute|estimate|guess|say|you)\b)[a-z]+\b"
)


def how_to(text: str) -> bool:
    """Whether a text asks how something is done, which no number answers: "how do I turn it over to the inside bottle"."""
    said = bare(text)
    found = list(_HOW_TO.finditer(said))
    return (
        bool(found)
        and _OF_NUMBER.search(said[found[-1].start() + 4 :]) is None
        and not AMOUNT.search(said[found[-1].start() :])
    )


_DISTANCE = Lazy(r"\btriangles?\b.*\b(?:feet|met(?:er|re)s|yards|paces)\b|\b(?:feet|met(?:er|re)s|yards|paces)\b.*\btriangles?\b")  # fmt: skip
"""Distances of a rule are asked for without a number."""
_CLOCK_ASKED = Lazy(r"\b(?:when (?:are|do|will|would|is|am)|when's|what time)\b")
_CLOCK_TOLD = Lazy(r"\d:\d\d")
_AN_AMOUNT = Lazy(r"^(?P<amount>(?:minus )?[\w.%]+(?: [\w.%]+){0,2})$")
_MEANT = Lazy(r"^(?:(?:no|sorry|oh|wait|well) )*i (?:mean|meant) (?P<amount>(?:minus )?[\w.%]+(?: [\w.%]+){0,4})$")


def meant(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "I mean minus thirty Celsius" right after a sum: the amount just supposed, put right; it is no reading."""
    last, found = state.last, _MEANT.match(plain(text))
    if found is None and state.worked is not None and state.worked.calculation == "unit-conversion":
        found = _AN_AMOUNT.match(plain(text))  # one more number to be turned likewise
    if found is None or last is None or last.kind != "calculation" or state.pending is not None:
        return None
    if not AMOUNT.search(found["amount"]):
        return None
    worked = worked_out(state, f"what if it's {found['amount']}", ranking, mind, now)
    return worked if worked is not None and worked.reply.estimate is not None else None


def names_amounts(state: State, text: str, decision: Decision) -> bool:
    """Whether a text taken for the walk in hand holds several amounts, and so asks for a number about it."""
    walk = state.walk
    return walk is not None and decision.topics[:1] == (walk.topic,) and len(AMOUNT.findall(bare(text))) > 1


def worked_out(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """Work out what the text asks for, ask for what is missing, or None when it asks for no number."""
    from cabassist.dialogue.restating import varies
    from cabassist.dialogue.trusting import doubtful
    from cabassist.sums.working import work_out

    worked = work_out(
        text,
        ranking.calculations,
        coach=mind.coach,
        network=mind.role_network,
        stored=state.stored,
        now=now,
        pending=state.pending,
        last=state.worked,
    )
    if worked is None:
        return None
    if (counted := reckoning.from_odometer(worked, text, state, mind, now)) is not None:
        worked, text = counted
    before = state.worked
    if worked.leans and before is not None and (_missed(state) or doubtful(before, worked, text)):
        return put_back(NOT_PLACED, state, mind)
    stands = (
        before is not None and state.last is not None and state.last.kind not in ("procedure", "reading", "unknown")
    )
    if (
        not stands
        and worked.estimate is not None
        and (_goes_on(text) or (_CHANGES.match(bare(text)) and not worked.whole))
    ):
        return put_back(NOT_PLACED, state, mind)
    if before is None or before.calculation != worked.calculation or worked.estimate is None:
        return reckoning.answer(state, worked, text, ranking, mind)
    if state.pending is not None:  # what was missing belongs to the question, should one of its amounts change later
        outcome = reckoning.answer(state, worked, text, ranking, mind)
        return outcome._replace(state=replace(outcome.state, question=f"{state.question}, {text}"))
    if not varies(text):
        return reckoning.answer(state, worked, text, ranking, mind)
    if _unchanged(before, worked):
        return put_back(NOT_PLACED, state, mind)
    outcome = reckoning.answer(state, worked, text, ranking, mind)
    # words that held no amount hold none that was changed; others no longer hold what was
    whole = f"{state.question}, {text}" if state.question and not AMOUNT.search(bare(state.question)) else ""
    return outcome._replace(state=replace(outcome.state, question=whole))


_CHANGES = Lazy(r"^(?:(?:and|so|ok|okay|no|but) )*(?:make|change|call) (?:it|that|them|this)\b|^and i want\b|^same\b")
"""Changes what was asked before, and is no question of its own."""


_AND_AT = Lazy(r"^(?:(?:ok|okay|so) )*and (?:at|with|for|on|only|if it's|if it is)\b")


def _goes_on(text: str) -> bool:
    """Whether a text with one amount leans on a sum: "and at two gallons a minute"."""
    said = bare(text)
    return _AND_AT.match(said) is not None and len(AMOUNT.findall(said)) < 2


def _missed(state: State) -> bool:
    """Whether the change asked for before this one was not made, so that what stands is not what the driver has in mind."""
    last = state.last
    if last is None or last.kind not in ("clarify", "unknown", "procedure", "hazard", "refuse"):
        return False
    return last.say == NOT_PLACED or (
        VARIES.match(plain(state.question)) is not None and AMOUNT.search(bare(state.question)) is not None
    )


NOT_PLACED = "I can't place that in the last sum. Ask it once more with all its numbers."


def not_placed(state: State, mind: Mind) -> Outcome:
    """What goes on with the last sum and has no place in it is asked for once more, with all its numbers."""
    return put_back(NOT_PLACED, state, mind)


_LEANS = Lazy(
    r"^(?:(?:and|but|so|or|no|nope|wait|sorry|ok|okay|oh|well|then|now|actually) )*(?:if|what if|what about|how about|make (?:it|that)|at|with|for|it was|it's|that's|they're|they|say|suppose|supposing|only|just|call it|i mean|i meant)\b"
)
_OF_THAT = Lazy(r"\bhow (?:many|much|long|far)\b.*\b(?:is|are|does|do|will|would) (?:that|it|this|those)\b")
_IN_FEW_WORDS = Lazy(r"^(?:and|plus|or|with|at)\b(?: [\w.%$]+){1,2}(?: of (?:them|those|these|that|it)| more)?$")
"""A number by itself, or so many of what was spoken of: "and two of them"."""
_LEANING_WORDS = 12
_SURELY = 0.8
"""A procedure taken for as likely is meant."""
_WHICH_NUMBER = "Which number do you mean? Ask it once more with all its numbers."


NOT_MADE = (NOT_PLACED, _WHICH_NUMBER)
"""What is said where a change or a number could not be placed."""


def unplaced(state: State, text: str, outcome: Outcome) -> bool:
    """Whether words that lean on the last number, and have an amount, were taken for a procedure or for nothing known."""
    reply, last, said = outcome.reply, state.last, plain(text)
    if reply.kind not in ("procedure", "unknown") and not (reply.kind == "clarify" and reply.options):
        return False
    if last is None or last.kind not in ("calculation", "clarify") or state.pending is not None or reckoning.standing(state) is None:  # fmt: skip
        return False
    few = _IN_FEW_WORDS.match(said) is not None
    if reply.kind == "procedure" and reply.confidence >= _SURELY and not few or len(said.split()) > _LEANING_WORDS:
        return False
    return AMOUNT.search(bare(text)) is not None and (
        few or _LEANS.match(said) is not None or _OF_THAT.search(said) is not None
    )


_ONLY = Lazy(
    r"\b(?:with|at|on|for|if|about) (?:it's |there's |we have |we've got |i have |they're |it were )?(?:only|just) "
)


def same_again(state: State, text: str, outcome: Outcome) -> bool:
    """Whether a last sum that is to be varied by less comes out just the same: what was meant to change has not been changed."""
    before, after = state.worked, outcome.state.worked
    if outcome.reply.kind != "calculation" or before is None or after is None or after is before:
        return False
    said = plain(text)
    if before.estimate is None or after.estimate is None or not VARIES.match(said) or not _ONLY.search(said):
        return False
    return (
        before.estimate.value is not None
        and before.estimate.value == after.estimate.value
        and before.estimate.verdict == after.estimate.verdict
    )


_ONLY_SUPPOSED = Lazy(r"^(?:(?:ok|okay|so|well|no) )*(?:and|but|what|or) (?:what )?(?:with|if|on) ")


def supposes_level(state: State, text: str) -> bool:
    """Whether a level is only supposed, for the sum just told: "and with only half a cylinder". It stands nowhere."""
    summed = state.last is not None and state.last.kind == "calculation" and state.worked is not None
    return summed and _ONLY_SUPPOSED.match(plain(text)) is not None


def which_number(state: State, mind: Mind) -> Outcome:
    """Which of the numbers told is meant, where words that lean on one cannot be placed."""
    return put_back(_WHICH_NUMBER, state, mind)


def put_back(line: str, state: State, mind: Mind) -> Outcome:
    """A question about the last sum, which stays as it is."""
    reply = Reply("clarify", line, (line,), topic=state.worked.topic if state.worked else None)
    return Outcome(state, deciding.standing(reply, state, mind))


def _unchanged(before: Worked, after: Worked) -> bool:
    """Whether two answers to the same calculation are the same number, though an amount was changed in between."""
    if before.estimate is None or after.estimate is None:
        return False
    return (before.estimate.value, before.estimate.unit) == (after.estimate.value, after.estimate.unit)


ASKS_WHICH = "Which do you change:"


def restated(state: State, text: str, heard: Heard, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last calculation with one amount of its question changed, or None; asked back when it could be either of two."""
    last = state.worked
    if last is None or last.estimate is None or state.last is None:
        return None
    asked_back = state.last.kind == "clarify" and state.last.say.startswith(ASKS_WHICH)
    from cabassist.dialogue.by_heads import FOR_ALL, SO_MANY, for_heads, more_heads

    if (heads := FOR_ALL.match(bare(text))) is not None and state.pending is None:
        return for_heads(state, heads["heads"], ranking, mind, now)
    many = SO_MANY.match(bare(text))
    if many is not None and state.pending is None and not heard.withdrawn and state.last.kind == "calculation":
        counted = for_heads(state, many["heads"], ranking, mind, now)
        if counted is not None:
            return counted
    not_placed = state.last.kind == "clarify" and state.last.say == NOT_PLACED
    if state.last.kind not in ("calculation", "control") and not asked_back and not not_placed:
        return None
    if state.pending is not None or not AMOUNT.search(bare(text)):
        return None
    from cabassist.dialogue.restating import Restated, varies, with_several
    from cabassist.dialogue.restating import restated as with_amount
    from cabassist.dialogue.trusting import other_roles, uses
    from cabassist.sums.working import work_out

    if _KEEPS.search(bare(text)):
        return _kept_back(state, text, ranking, mind, now)
    if (not_placed and varies(text)) or (asked_back and re.match(r"(?:and|plus)\b", bare(text))):
        return put_back(NOT_PLACED, state, mind)  # the change before this one was not made
    found = with_amount(
        state.question, text, only_by_unit=bool(heard.withdrawn), used=lambda one: uses(last, one.value)
    )
    if found is None and heard.readings and varies(text) and _MAKES.search(plain(text)):
        return _with_readings(state, text, heard, ranking, mind, now)
    if found is None and (several := with_several(state.question, state.sums, text)):
        found = Restated(several)
    if found is None:
        return None
    if not found.text and not found.between:
        more = more_heads(state, text, ranking, mind, now) or _with_stop(state, text, ranking, mind, now)
        if more is not None:
            return more
        return put_back("Say what it comes to altogether, and I work it out again.", state, mind)
    if found.between:
        return put_back(f"{ASKS_WHICH} {', or '.join(found.between)}? Say it with its unit.", state, mind)
    from cabassist.dialogue.building import by_head

    if (shared := by_head(state, found.text, ranking, mind, now)) is not None:
        return shared
    for whole in (found.text, *_named(state, last, found.text)):
        hints = mind.ranked(whole).calculations
        worked = work_out(whole, hints, coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
        if worked is not None and worked.estimate is not None and worked.calculation == last.calculation:
            if other_roles(last, worked):
                return put_back(NOT_PLACED, state, mind)
            return reckoning.answer(state, worked, whole, ranking, mind)
    return None


_KEEPS = Lazy(
    r"\b(?:keep\w*|leav\w*|want\w*|need\w*|sav\w*|hold\w*)\b.* (?:left|back|spare|over|in reserve|in hand|to spare|in it|in there)(?: (?:after|over|at the end|for \w+(?: \w+)?))*$"
)
"""What is to be left is no amount of the question put anew."""


def _kept_back(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome:
    """ "And I want twenty gallons left after": the same sum with so much kept back, or asked back."""
    from cabassist.sums.working import work_out

    whole, last = f"{state.question.rstrip(' .?!')}, {text}", state.worked
    worked = work_out(whole, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    same = worked is not None and last is not None and worked.calculation == last.calculation
    if worked is None or last is None or not (same and worked.whole and worked.estimate) or _unchanged(last, worked):
        return put_back(NOT_PLACED, state, mind)
    return reckoning.answer(state, worked, whole, ranking, mind)


def _named(state: State, last: Worked, text: str) -> tuple[str, ...]:
    """The text with the reading before it that the last sum was worked out from, should it not name its tank."""
    from cabassist.dialogue.building import in_words

    about = {one.name.partition("_")[0] for one in last.inputs if one.origin == "reading"}
    held = [one.reading for one in state.stored if one.reading.what in about and one.reading.value is not None]
    return (f"{in_words(held[-1])}, {text}",) if len(about) == 1 and held else ()


_STOP = Lazy(r"\b(?:stop|stops|break|breaks|rest|fuel|fueling|meal|lunch|dinner|supper|coffee)\b")


def _with_stop(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "Plus a half hour stop", after the hours of a trip: the trip with that stop; else None."""
    from cabassist.dialogue.of_last import is_trip
    from cabassist.sums.working import work_out

    last = state.worked
    if last is None or last.estimate is None or not _STOP.search(plain(text)) or not is_trip(last):
        return None
    whole = f"{state.question}, {text}"
    worked = work_out(whole, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    if worked is None or worked.estimate is None or worked.calculation != last.calculation or _unchanged(last, worked):
        return None
    return reckoning.answer(state, worked, whole, ranking, mind)


_MAKES = Lazy(r"\b(?:make|change|call|say|what if|suppose|supposing|what about)\b")
_SUPPOSES = Lazy(r"\b(?:if|suppose|supposing|say|what about)\b")


def _with_readings(
    state: State, text: str, heard: Heard, ranking: Ranking, mind: Mind, now: datetime
) -> Outcome | None:
    """The last calculation with readings told anew: "make that 14 people". What is only supposed is not stored."""
    from cabassist.dialogue import act_by
    from cabassist.sums.working import work_out

    last = state.worked
    told, echoes, events = telling.beside(heard, text, state, mind, now)
    from_board = act_by.asked(told, state.question, ranking, mind, now)
    if from_board is not None and not _SUPPOSES.search(plain(text)):
        reply = replace(
            from_board.reply, show=(*echoes, *from_board.reply.show), readings=heard.readings, withdrawn=heard.withdrawn
        )
        return Outcome(from_board.state, reply, (*events, *from_board.events))
    calculations = mind.ranked(state.question).calculations
    worked = work_out(
        state.question, calculations, coach=mind.coach, network=mind.role_network, stored=told.stored, now=now
    )
    if last is None or worked is None or worked.estimate is None or worked.calculation != last.calculation:
        return None
    if _unchanged(last, worked):
        return None
    if _SUPPOSES.search(plain(text)):
        return reckoning.answer(state, worked, state.question, ranking, mind)
    outcome = reckoning.answer(told, worked, state.question, ranking, mind)
    reply = replace(
        outcome.reply, show=(*echoes, *outcome.reply.show), readings=heard.readings, withdrawn=tuple(heard.withdrawn)
    )
    return Outcome(outcome.state, reply, (*events, *outcome.events))


def _count(said: str) -> int:
    """How many amounts are told; those of several words, as "three quarters" or "forty five", are one each."""
    number = [AMOUNT.search(word) is not None for word in said.split() if word not in ("and", "a", "point", "oh")]
    return sum(here and not before for before, here in zip([False, *number], number, strict=False))


def completed(state: State, text: str, heard: Heard, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """Amounts told after a question for a number, or a question after the amounts: "drove six so far", "how long have I got".

    The two are worked out as one, when either alone gives no number and all amounts find their place.
    """
    last = state.last
    if state.pending is not None or last is None or last.kind not in ("procedure", "clarify", "unknown", "calculation"):
        return None
    text = _STOPS_AT.sub("up to", text)
    short, before = bare(text), bare(state.question)
    if not before or state.question == text:
        return None
    if heard.withdrawn:
        return None
    if AMOUNT.search(short) and _asked_back(state) and len(short.split()) <= _TOLD_WORDS and not _asks(text):
        pass  # "twenty six pounds" is what the sum was asked back for
    elif AMOUNT.search(short) and not _asks(text):
        asks_before = _OF_NUMBER.search(before) is not None
        told_late = (
            (not heard.readings or _count(short) > max(1, len(heard.readings)))
            and asks_before
            and (state.asking is None or len(short.split()) >= 3)
        )
        if not told_late or (last.kind != "calculation" and AMOUNT.search(before)):
            return None
    elif last.kind == "calculation" or not (
        AMOUNT.search(before) and _OF_NUMBER.search(short) and not ASKS.match(before)
    ):
        return None
    from cabassist.dialogue.restating import INSTEAD
    from cabassist.dialogue.trusting import doubtful
    from cabassist.sums.working import work_out

    several = len(AMOUNT.findall(short)) > 1 or len(short.split()) > _LEANING_WORDS
    if _OF_NUMBER.search(short) and several:
        hints = ranking.calculations if len(short.split()) > _LEANING_WORDS else ()
        alone = work_out(text, hints, coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
        if alone is not None and alone.estimate is not None:
            return None  # a whole question of its own, however like the last it is
    if _same_units(state.question, text):
        if heard.readings or last.kind != "calculation":
            return None
        return _instead(state, text, ranking, mind, now) or put_back(NOT_PLACED, state, mind)
    # "thirty six people not thirty" tells no thirty of anything
    whole = ", ".join(INSTEAD.sub("", part.rstrip(" .")) for part in (state.question, text))
    worked = work_out(
        whole,
        mind.ranked(whole).calculations,
        coach=mind.coach,
        network=mind.role_network,
        stored=state.stored,
        now=now,
    )
    if worked is None or worked.estimate is None:
        return None
    if state.worked is not None and not AMOUNT.search(short) and _unchanged(state.worked, worked):
        return None  # what was said has no part in that number, which was told before
    if _CLOCK_ASKED.search(short) and not _CLOCK_TOLD.search(worked.estimate.verdict):
        return None  # hours are no answer to what time it will be
    if last.kind == "calculation" and (
        state.worked is None or worked.calculation != state.worked.calculation or _unchanged(state.worked, worked)
    ):
        return None
    if last.kind == "calculation" and state.worked is not None and doubtful(state.worked, worked, text):
        return None
    outcome = reckoning.answer(replace(state, asking=None), worked, whole, ranking, mind)
    if not heard.readings:
        return outcome
    kept, _, events = telling.beside(heard, text, outcome.state, mind, now)
    return Outcome(kept, replace(outcome.reply, readings=heard.readings), (*events, *outcome.events))


_HAS_ONLY = Lazy(
    r"\b(?:got|have|has|had|carr(?:y|ies)|sells?|stocks?|only|just|all|instead|is|it's|that's|says|turns out|mine|ours|theirs|actually|really|found|bought|using|use)\b"
)


def _instead(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "The store's only got six percent": the one amount of its kind in the last sum told anew; else None."""
    from cabassist.dialogue.restating import only_one
    from cabassist.dialogue.trusting import other_roles, uses
    from cabassist.sums.working import work_out

    last, said = state.worked, plain(text)
    found = only_one(state.question, text) if _HAS_ONLY.search(said) and not _asks(text) else None
    if last is None or found is None:
        return None
    whole, value = found
    worked = work_out(whole, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    if worked is None or worked.estimate is None or worked.calculation != last.calculation or not uses(worked, value):
        return None
    return None if other_roles(last, worked) or _unchanged(last, worked) else reckoning.answer(state, worked, whole, ranking, mind)  # fmt: skip


_TOLD_WORDS = 9
"""Longer than this nobody answers what was asked back; it is a matter of its own."""


def _asks(text: str) -> bool:
    return "?" in text or ASKS.match(bare(text)) is not None


def _asked_back(state: State) -> bool:
    """Whether the last reply asked for an amount that a sum lacks."""
    worked, last = state.worked, state.last
    return (
        worked is not None
        and last is not None
        and last.kind == "clarify"
        and worked.estimate is None
        and bool(worked.question)
        and last.say.startswith(worked.question)
    )


def _same_units(question: str, text: str) -> bool:
    """Whether an amount told after a sum is of a kind that the sum has: it changes one, and is no further one."""
    from cabassist.language.calculation_inputs import read_question

    return bool({one.tag for one in read_question(question).amounts} & {one.tag for one in read_question(text).amounts})


_STOPS_AT = Lazy(
    r"\b(?:and )?(?:if|when) (?:i|we|you) (?:stop|quit|shut (?:it )?off|turn it off)(?: it)? at\b", re.IGNORECASE
)
"""Fills up to a level; what is there already is no level to stop at."""
