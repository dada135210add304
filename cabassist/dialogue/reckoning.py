"""Calculation questions in a turn: those that hold what they are worked out from, and how an answer is put."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from cabassist.dialogue import phrases, telling
from cabassist.dialogue.framing import without_interjection
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare
from cabassist.language.reading_types import Heard, Reading
from cabassist.language.routing import BOUNDS

if TYPE_CHECKING:
    from cabassist.sums.working import Worked

_QUESTION = re.compile(
    r"[?]|^(?:bleach|dose)\b|\b(?:how|what|whats|when|where|which|will|would|can|could|does|do|did|is|are|am|enough|legal|ok|okay|pass|fail|good|hours|days|minutes|miles"
    r"|left|till?|until|or not|recheck|due|gonna|going to|range|reading|soc|eta|arrival|mpg|mileage|drop|over|total|in all|worry|risk|count|split|valid)\b"
)
_ENDS_OPEN = Lazy(
    r"\b(?:full|empty|dry|gone|out|flat|done|there|overflow\w*|runs? out|at (?:the )?(?:top|limit|ninety|90)(?: percent)?) (?:in|at|by|after|around)$|^(?:full|empty|dry|gone) (?:in|at|by)\b"
)
"""A question left open at its end: "waste at 35 and climbs 6 an hour, full in"."""
_A_LIST = 2
"""So many amounts without a question, none of them a reading, are to be added up: "34 bags at 38 lb, 6 at 55"."""
_SUPPOSED = re.compile(r"\b(?:if|suppose|supposing|say|what about|would|were to|assume|assuming|imagine)\b")


_HARM = Lazy(
    r"\b(?:smell\w*|smok\w*|fire|flames?|sparks?|alarm\w*|beep\w*|leak\w*|hiss\w*|sick|dizz\w*|headaches?|faint\w*|shock\w*|melt\w*|monoxide|puk\w*|hurt|injur\w*"
    r"|climb|crawl|stove|oven|grill|torch|tape|taped|taping|wedge\w*|ground|drain|ditch|roads?|roadside|street(?! side)|snow|gasoline|alcohol|mix|ammonia|bypass|over ?fill\w*|safe"
    r"|stink\w*|stank|whiff\w*|reek\w*|odou?rs?|rotten|eggs?|eggy|fumes|exhaust|spill\w*|groggy|drowsy|woozy|nause\w*|vomit\w*|throw\w* up|pass\w* out|unconscious"
    r"|can'?t wake|won'?t wake|cough\w*|chok\w*|tingl\w*|zap\w*|sizzl\w*|arc(?:s|ing)?)\b"
)
"""With one of these a question may be about more than its numbers."""
_HARMLESS = Lazy(
    r"\b(?:goes|go|ends up|runs|all|gets) (?:right |straight )?(?:down|into|in) the (?:drain|waste)\b|\b(?:heat|heating|warming|pipe|watts?|w) tapes?\b|\bleak\w* (?:\w+ )?heat\b|\bheat leak\w*|\b(?:aired|pumped|inflated|psi|tires?|tyres?)\b.*\bleak\w*(?= *$| or\b)"
)
"""Heat tape is a load on a breaker, a bay that leaks heat is not wet, and whether a tire leaks or is only cold is a sum."""


def only_a_sum(text: str, mind: Mind, now: datetime) -> bool:
    """Whether a question that sounds like a danger or an unsafe wish only wants a number, with every amount placed.

    "The coach loses 18,000 BTU an hour, how much propane for ten hours" has many words of a report of gas.
    """
    if _HARM.search(_HARMLESS.sub(" ", bare(text))):
        return False
    from cabassist.language.calculation_inputs import read_question
    from cabassist.sums.summing import summed
    from cabassist.sums.told_plainly import told_plainly
    from cabassist.sums.told_stamp import stamped
    from cabassist.sums.told_sums import told_sum
    from cabassist.sums.working import wholly_told

    question = read_question(text)
    if stamped(question, now) is not None:
        return True
    if len(question.amounts) < 2:
        return False
    whole = (
        told_plainly(question, mind.coach, now)
        or summed(question, mind.coach, now)
        or told_sum(question, mind.coach, now)
    )
    return whole is not None or wholly_told(question, mind.coach, now)


_PLAIN_WORDS, _PLAIN_SURE, _PLAIN_AGAINST = 7, 0.6, 0.7
"""The last where the danger network holds the question for something else."""


def plainly_a_sum(text: str, mind: Mind, now: datetime) -> bool:
    """Whether a whole question with two amounts or more is so surely a sum that no command, timer or report is heard in it.

    "What'll a hundred pound cylinder give me in BTU an hour with sixty pounds in it" sets no timer of an hour.
    """
    said = bare(text)
    asks = "?" in text or _QUESTION.search(said) is not None
    if not asks or len(said.split()) < _PLAIN_WORDS or not _AN_AMOUNT.search(said):
        return False
    if mind.wishes.find(text) or _HARM.search(_HARMLESS.sub(" ", said)):
        return False
    from cabassist.language.calculation_inputs import read_question

    question = read_question(text, metric=mind.coach.units == "metric")
    if len(question.amounts) < 2 or mind.role_network is None:
        return False
    from cabassist.sums.handing import handed_out

    ranking, judged = mind.ranked(without_interjection(text)), mind.judge(text)
    if ranking.wish >= BOUNDS.wish and (judged is None or judged.wish >= BOUNDS.some_wish):
        return False
    found = handed_out(question, mind.role_network, mind.coach, now)
    doubt = judged is not None and (judged.wish >= BOUNDS.judged_wish or judged.danger >= BOUNDS.judged_danger)
    return found is not None and found.sure >= (_PLAIN_AGAINST if doubt else _PLAIN_SURE)


_WEIGHED = Lazy(
    r"\b(?:of (?:diesel|fuel|water|propane|fresh|waste) (?:weigh|is|are)\w*|weight of|heav\w*|lighter|how much (?:do|does|would|will)\b.* weigh)\b"
)
"""So much of something is weighed; it is no level."""
_FIRST = Lazy(r"\bfirst\b")
_SHARE = Lazy(r"%|\bper ?cent\b|\bpct\b")
_VOLUME = Lazy(r"\b(?:gal|gals|gallons?|lit(?:er|re)s?)\b")
_DOSE = Lazy(r"\b(?:bleach\w*|chlorin\w*|clorox|sanitiz\w*)\b")


def _of_co(asked: str, heard: Heard) -> bool:
    """Whether ppm are of carbon monoxide, not of bleach."""
    dose = _DOSE.search(asked) or (_SHARE.search(asked) and _VOLUME.search(asked))
    return any(reading.what == "co_ppm" for reading in heard.readings) and not dose


_OUTRIGHT = (
    "jack", "boil", "freez", "froze", "ice", "btu", "heat", "energy", "kilowatt", "kwh", "cylinder", "bottle", "propane", "pound", "lb", "kilo", "lp ", "flush", "burn", "degree day",
)  # fmt: skip
"""One of these stands in every question that is asked outright."""
_LEAVE_ASKED = Lazy(
    r"\b(?:can|could|may|might|should|shall) (?:i|we|he|she|they|you)\b|\b(?:ok|okay|fine|all right|alright|allowed|safe|good) (?:to|if)\b|\b(?:i|we) (?:will|ll|want|am|are|re|'ll|'m|plan|gonna|going to)\b|\blet (?:us|me|it|them)\b|\b(?:leave|leaving)\b"
)
"""Leave is asked, or a plan told: where that sounds like an unsafe wish, no number answers it."""


_GOES_ON_WORDS = 14
_GOES_ON_LIKE = 0.75
"""A wish likelier than this is one, also right after a sum."""


def goes_on(state: State, text: str, ranking: Ranking, mind: Mind) -> bool:
    """Whether words with an amount go on with the last sum, though they are somehow like an unsafe wish.

    "Two furnaces that size, each running half the time", "plus a half hour fuel stop": no leave is asked, and nothing is
    named that harms.
    """
    if state.worked is None or ranking.wish >= _GOES_ON_LIKE or len(text.split()) > _GOES_ON_WORDS:
        return False
    said = bare(text)
    if not _AN_AMOUNT.search(said) or mind.wishes.find(text):
        return False
    return not (_LEAVE_ASKED.search(said) or _MEANS_TO.search(said) or _HARM.search(_HARMLESS.sub(" ", said)))


_MEANS_TO = Lazy(
    r"\b(?:ill (?!be\b)|gonna|anyway|anyhow|regardless|skip\w*|nobody|no one|trust|risk\w*|drive (?:it|on|her|through)|keep (?:going|driving)|(?:push|carry|press|roll) on|log ?book|logs?|good enough|close enough|brakes?)\b"
)
"""Says what its speaker is about to do, or makes light of it."""
_AN_AMOUNT = Lazy(
    r"\d|\b(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twent\w+|thirt\w+|fort\w+|fift\w+|sixt\w+|sevent\w+|eight\w+|ninet\w+|hundred|half|quarters?|thirds?|twice|double|both)\b"
)


def outright(
    state: State, text: str, heard: Heard, ranking: Ranking, verdict: str, mind: Mind, now: datetime
) -> Outcome | None:
    """A calculation that nothing else can be meant by, whatever the matcher makes of it: "which cylinder do I use first"."""
    said = bare(text)
    if heard.withdrawn or not names_any(said, _OUTRIGHT):
        return None
    if mind.wishes.find(text) and (_LEAVE_ASKED.search(said) or _HARM.search(said)):
        return None
    if verdict in ("hazard", "refuse") and _HARM.search(_HARMLESS.sub(" ", said)):
        return None
    from cabassist.language.calculation_inputs import read_question
    from cabassist.sums.outright import asked_outright
    from cabassist.sums.working import work_out

    plainly = asked_outright(read_question(text, metric=mind.coach.units == "metric"), mind.coach)
    if plainly is None:
        return None
    worked = work_out(text, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    if worked is None:
        return None
    outcome = answer(state, worked, text, ranking, mind)
    if not (plainly.tells and heard.readings) or _SUPPOSED.search(said):
        return outcome
    kept, _, events = telling.beside(heard, text, outcome.state, mind, now)
    return Outcome(kept, replace(outcome.reply, readings=heard.readings), (*events, *outcome.events))


_LATELY = timedelta(hours=1)


def from_odometer(worked: Worked, text: str, state: State, mind: Mind, now: datetime) -> tuple[Worked, str] | None:
    """When the nuts are due, counted from the odometer told while the wheel was put on; None for anything else."""
    if worked.calculation != "wheel-recheck" or any(one.name == "odometer" for one in worked.inputs):
        return None
    from cabassist.sums.working import work_out

    read = [held.reading for held in state.stored if held.reading.what == "odometer" and now - held.at <= _LATELY]
    if not read or read[-1].value is None or read[-1].unit != "mi":
        return None
    whole = f"{text.rstrip(' .?!')}, odometer {read[-1].value:g}"
    again = work_out(whole, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    same = again is not None and again.calculation == worked.calculation and again.estimate is not None
    return (again, whole) if again is not None and same else None


_RATE = Lazy(r"\b(?:per|an|a|every|each) (?:hour|hr|day)\b|/ ?(?:h|hr|hour|d|day)\b|\bhourly\b")
_LASTING = frozenset({"fresh", "waste", "propane", "diesel"})


def at_rate(state: State, text: str, heard: Heard, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """A level and how fast it moves, told without a question: "waste 35 percent and climbs 6 an hour, full in"; else None.

    The level is stored, the rate never is. Of the waste tank the time to the mark of the board is told too.
    """
    asked, told = bare(text), {reading.what for reading in heard.readings}
    if len(told) != 1 or not told <= _LASTING or heard.withdrawn or not _RATE.search(asked) or _QUESTION.search(asked):
        return None
    waste = told == {"waste"}
    begun = _ENDS_OPEN.sub("", text.lower().rstrip(" .!?")).rstrip(" ,")
    whole = f"{begun}, {'when is it full' if waste else 'how long does it last'}"
    outcome = reckoned(state, whole, heard, ranking, mind, now)
    estimate = outcome.reply.estimate if outcome is not None else None
    if outcome is None or estimate is None or estimate.unit not in ("h", "days", "min") or estimate.value is None:
        return None
    level = telling.level_of(heard.readings[-1], mind.coach) if waste else None
    if level is None or level >= _MARK:
        return outcome
    from cabassist.estimate.quantities import figure

    until = estimate.value * (_MARK - level) / (1.0 - level)
    estimate = replace(estimate, also=(*estimate.also, figure("until 90 percent", until, estimate.unit)))
    line = f"At 90 percent after {until:.1f} {'hours' if estimate.unit == 'h' else estimate.unit}."
    reply = replace(
        outcome.reply, estimate=estimate, say=f"{outcome.reply.say} {line}", show=(*outcome.reply.show, line)
    )
    return outcome._replace(reply=reply)


_MARK = 0.9
"""The share of the waste tank at which the board says to dump."""


_ASKS_MORE = Lazy(
    r"^(?:is|are|was|am)\b|\b(?:how|what|whats|when|where|which|who|will|would|can|could|should|does|do|did|if|enough|gallons?|gal|lit(?:er|re)s?|pounds|per ?cent|full in|empty in|is (?:that|it)|or not)\b"
)


def _only_a_depth(asked: str, text: str, heard: Heard) -> bool:
    """Whether nothing but how deep a tank stands is told: "fresh is eight inches deep"."""
    depths = [one for one in heard.readings if one.unit in ("in", "cm", "ft")]
    return len(depths) == len(heard.readings) == 1 and "?" not in text and not _ASKS_MORE.search(asked)


_WHEN_TOLD = Lazy(
    r"(?<=\w) when (?:i|we|he|she|they|you) (?:last |just |first )?(?:\w+ed|left|got|came|went|began|drove|saw|took|read|had|was|were)\b"
)
"""When something was so: "the waste was at sixty when we parked"."""


def _put_as_question(text: str, asked: str) -> bool:
    asked = _WHEN_TOLD.sub(" ", asked)
    return "?" in text or _QUESTION.search(asked) is not None or _ENDS_OPEN.search(asked) is not None


def _set_to(reading: Reading, worked: Worked) -> bool:
    """Whether a pressure told is one of the sum, of no tire in particular: to what they were set, and no reading."""
    of_sum = any(one.name == "set_to" and one.value == reading.value for one in worked.inputs)
    return of_sum and reading.what == "tire_pressure" and reading.which is None


def reckoned(state: State, text: str, heard: Heard, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """A question that names what it is worked out from, as its words show whatever the matcher makes of it.

    "60 gallons, 8 an hour going in, how long" tells a level, but asks something that the level alone does not answer.
    What it tells beside is stored, unless it supposes or tells one thing twice.
    """
    asked = bare(text)
    if heard.withdrawn or _of_co(asked, heard) or _only_a_depth(asked, text, heard):
        return None
    from cabassist.language.asked_for import asked_for
    from cabassist.language.calculation_inputs import asked_unit, read_question
    from cabassist.language.wanted import implied, wanted

    question = read_question(text)
    want = wanted(question) or implied(question)
    asks = _put_as_question(text, asked) or (want is not None and (bool(want.unit) or len(question.amounts) > 1))
    if not asks and sum(one.unit != "clock" for one in question.amounts) > 1:
        of_road = asked_for(question)
        asks = of_road is not None and bool(of_road.kind)
    turned = not asks and bool(asked_unit(question))  # "minus 20 C in fahrenheit"
    levels = len(heard.readings) and len(heard.readings) + len(heard.refused)
    if not turned and levels >= len(question.amounts) > 0 and not _put_as_question(text, asked):
        return None  # "diesel three quarters, def nine gallons" are levels, and nothing is asked
    if not asks and not turned and len(question.amounts) < _A_LIST:
        return None
    from cabassist.sums.working import work_out

    worked = work_out(text, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    first_asked = worked is not None and worked.calculation == "which-first" and _FIRST.search(asked) is not None
    if worked is None or (worked.estimate is None and not ((worked.whole or first_asked) and worked.question)):
        return None
    if worked.estimate is None:
        if not asks or (heard.readings and not first_asked and worked.pending is not None):
            return None
        return answer(state, worked, text, ranking, mind)
    if worked.calculation == "unit-conversion" and worked.estimate.value is not None:
        return answer(state, worked, text, ranking, mind)  # what is only turned into another unit is no reading
    told = {(reading.what, reading.which) for reading in heard.readings}
    once = len(told) == len(heard.readings)
    given = sum(one.origin == "said" and not isinstance(one.value, str) for one in worked.inputs)
    if not asks and not (worked.whole and (not told or given >= len(told) + 2)):
        return None
    named = worked.whole or (want is not None and bool(want.unit) and given > 0)
    if not named and (given < (2 if once else 1) or (once and given <= len(told))):
        return None
    outcome = answer(state, worked, text, ranking, mind)
    gravity = any(one.name == "gravity" for one in worked.inputs)  # which a reader of reports takes for a charge
    weighed = worked.calculation.endswith("-weight") and _WEIGHED.search(asked) is not None
    if not heard.readings or not once or gravity or weighed or _SUPPOSED.search(asked):
        return outcome
    heard = replace(heard, readings=tuple(one for one in heard.readings if not (_used_up(one, worked, asked) or _set_to(one, worked))))  # fmt: skip
    if not heard.readings:
        return outcome
    kept, _, events = telling.beside(heard, text, outcome.state, mind, now)
    return Outcome(kept, replace(outcome.reply, readings=heard.readings), (*events, *outcome.events))


_DRAWS = Lazy(r"\b(?:draw\w*|pull\w*|load|loads|us(?:e|es|ing)|run\w*|at|take\w*)\b")
_METER = Lazy(r"\b(?:meter|hour ?meter|reads?|shows?|says?|on the clock)\b")


def _used_up(reading: Reading, worked: Worked, asked: str) -> bool:
    """Whether what sounds like a reading is so much that is drawn, or so long that something runs, of a sum."""
    if reading.unit == "A":
        return _DRAWS.search(asked) is not None
    if reading.what != "generator_hours" or _METER.search(asked):
        return False
    from cabassist.dialogue.trusting import uses

    return uses(worked, reading.value or 0.0)


def standing(state: State) -> Worked | None:
    """The last number worked out, while it can be spoken of: until a procedure opens or a step is told.

    A reading, a command or a line that was not understood leaves it at hand; in a walk a command is about the walk.
    """
    worked, last, walk = state.worked, state.last, state.walk
    if worked is None or worked.estimate is None or last is None or state.pending is not None:
        return None
    if last.kind in ("calculation", "clarify", "unknown"):
        return worked
    if last.kind == "control":
        return worked if walk is None or last.topic == worked.topic else None
    return worked if last.kind == "reading" and walk is None else None


def answer(state: State, worked: Worked, text: str, ranking: Ranking, mind: Mind) -> Outcome:
    """What came of a calculation as a reply, with the walk in hand named below it."""
    from cabassist.sums.sums_fill import PAST_LEGAL_FILL
    from cabassist.sums.working import say, show

    walk = state.walk
    topic = worked.topic or (walk.topic if walk else None)
    refused = worked.estimate is not None and worked.estimate.name == PAST_LEGAL_FILL
    reply = Reply(
        "refuse" if refused else "calculation" if worked.estimate is not None else "clarify",
        say(worked),
        show(worked),
        topic=topic,
        confidence=max(ranking.work_out, 0.5),
        estimate=worked.estimate,
        step=phrases.mark(walk) if walk else None,
    )
    if walk is not None:
        standing = f"You are at step {walk.number} of {len(walk.plan)}, {mind.knowledge.title(walk.topic)}."
        reply = replace(reply, show=(*reply.show, standing))
    value = worked.estimate.value if worked.estimate is not None else None
    event = EventDraft(
        "worked-out", {"said": text, "calculation": worked.calculation, "value": value, "asked": worked.question}
    )
    state = replace(state, pending=worked.pending, worked=worked, topic=topic or state.topic, question=text, failures=0)
    return Outcome(state, reply, (event,))
