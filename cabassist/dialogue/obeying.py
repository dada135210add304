"""Commands obeyed where the conversation stands, and words that answer what the assistant asked."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from cabassist.dialogue import (
    choosing,
    correcting,
    defects,
    manner,
    moving,
    of_number,
    phrases,
    progress,
    reminders,
    reminders_set,
    rolling,
    step_asked,
    step_told,
    stopping,
    taking_up,
    telling,
    walking,
    whose_level,
)
from cabassist.dialogue.following import AMOUNT, ASKS, OTHER
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.called_away import called_away
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, plain
from cabassist.language.steering import Steer
from cabassist.language.steering_families import tells
from cabassist.language.steering_words import beyond
from cabassist.procedures.library import NO_VERB

if TYPE_CHECKING:
    from cabassist.sums.working import Worked

NAME_WORDS = 3
"""So few words name a thing that was offered, and report nothing."""
COMMAND_WORDS = 3
"""A command up to this long is obeyed at once."""

ANYTIME = frozenset({"undo", "help", "readings", "timers", "cancel-timer", "thanks", "source"})
"""Commands that make sense without a walk."""

HELP = (
    "Ask in your own words: how do I dump the waste tank? It smells of gas. Where is the torque wrench?",
    "Tell readings: waste at forty percent. Outside bottle a quarter, minus twelve out.",
    "In a procedure: next, back, repeat, why, how many left, skip, pause, resume, stop, start over, undo.",
    "A danger is answered first, whatever else is going on.",
)

_TIME = Lazy(r"\b(?:timer|clock|wait|minutes)\b", re.IGNORECASE)

ENDS_TIMER = Lazy(
    r"^(?:kill|cancel|scrap|stop|end|lose|drop|forget|clear|delete|bin|ditch|axe|nix|remove|get rid of|switch off|turn off) (?:it|that|that one|the last one)$|^(?:turn|switch) it off$"
)


_COMES_FROM = Lazy(
    r"\bwhere\b.*\b(?:water|wet|drips?|dripping|leaks?|leaking|puddle|smells?|smoke|noise|sound|hiss\w*|air|draft|draught|cold|oil|fuel|diesel|coolant|gas|propane|heat|light|steam)\b.*\b(?:from|out of)\b"
)
_OTHER_SPAN = Lazy(
    r"^(?:(?:no|actually|sorry|wait|oh|hm+) )*(?:make (?:it|that)|change (?:it|that) to|set (?:it|that) to|i meant?|better make it|call it|bump it (?:up )?to|put it (?:up )?to|sorry|no)(?: for)? (?P<span>.+)$"
)
_SET_FOR = Lazy(r"^I remind you in (?P<span>.+), at \d\d:\d\d\.$")


def retimed(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Make that half an hour", after a timer was set: the same timer, with that time; else None."""
    found = _OTHER_SPAN.match(bare(text))
    if found is None or not state.timers or not reminders.timer_spoken_of(state):
        return None
    last = state.timers[-1]
    if (moved := reminders_set.moved(state, found["span"], now)) is not None:
        return moved
    about = last.announce.removeprefix("Reminder: ").rstrip(".") if last.announce.startswith("Reminder: ") else ""
    span, before = found["span"], _SET_FOR.match(state.last.say) if state.last is not None else None
    if before is not None and AMOUNT.search(span) and " " not in span.removesuffix(" minutes"):
        span = span if span.endswith(_UNITS) else f"{span} {before['span'].split()[-1]}"  # "make it four" of hours
    wish = f"remind me in {span}" + (f" to {about}" if about else "")
    set_anew = reminders.reminder(wish, replace(state, timers=state.timers[:-1]), mind, now)
    # what was no length of time leaves the timer that runs
    return set_anew if set_anew is not None and len(set_anew.state.timers) == len(state.timers) else None


_UNITS = ("hour", "hours", "minutes", "minute", "mins", "min", "seconds", "second", "secs", "sec", "hr", "hrs")


_TAKES_NO = Lazy(
    r"^(?:(?:ok|okay|fine|right|alright|fair enough|got it|understood) )+(?:no|without|not?|i won't|we won't|i'll leave) [a-z' ]{2,30}? (?:(?:so|then|and) )?(?:(?:the )?next(?: (?:step|one|thing))?(?: please)?|go on|carry on|keep going|move on|what(?:'s|s| is) next|what now|now what|continue)$"
)


def takes_no(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Okay, no torch. Next step": a refusal taken, and the walk goes on; else None."""
    if state.walk is None or state.last is None or state.last.kind != "refuse" or not _TAKES_NO.match(plain(text)):
        return None
    return walking.forward(replace(state, asking=None, failures=0), mind, now)


_ERRAND = Lazy(
    r"\b(?:i'm|i am|i have to|i've got to|i got to|gotta|i need to|let me|lemme|i'll|while i|till i|until i|i want to) (?:\w+ )?(?:get|getting|grab|grabbing|find|finding|fetch|fetching|put|putting|go|going|run|running|talk|talking|answer|ask|call|help|take|look|see|check|be|wash|use)"
)
"""What somebody does meanwhile who asks to wait."""


def _waits(text: str, state: State, mind: Mind) -> bool:
    """Whether "hang on" only asks to wait: what follows it is not about the job in hand, and names no other."""
    rest = beyond(bare(text))
    if not rest or called_away(plain(text)):
        return True
    if state.walk is None or re.search(r"\b(?:first|instead)\b", text.lower()):
        return False
    if _ERRAND.search(plain(text)):
        return True
    procedure = mind.knowledge.procedure(state.walk.topic)
    words = " ".join([procedure.title, *(step.do for step in procedure.steps)])
    return not progress.stems(rest) & progress.stems(phrases.filled(words, mind.facts))


def called(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """Somebody knocks or waits outside: the walk in hand waits; None for anything else."""
    if not called_away(plain(text)) or (state.walk is not None and state.walk.paused):
        return None
    if state.walk is None:
        return walking.control(state, "All right. I am here.")
    return steered(state, Steer("pause", sure=0.9), text, mind, now)


_FINISHED = Lazy(
    r"^(?:.{0,40}[.,;!] ?|(?:(?!(?:not|if|when|once|until|till|before|almost|nearly|how|after|\w+n't)\b)[\w']+ ){1,6}(?=(?:that's|thats|that is) (?:me|us)\b|(?:all )?(?:done|finished|through) for (?:today|tonight|the (?:day|night))$))?(?:(?:ok|okay|right|well|and|so|all good|all set|cheers|thanks|thank you|great|good|lovely|perfect|brilliant) )*"
    r"(?:(?:that's|thats|that is) (?:me|us) (?:all )?(?:done|finished|through|sorted)(?: (?:with (?:it|this|that|the lot)|here|now|then|thanks|cheers|for (?:today|tonight|now|the (?:day|night))))*"
    r"|(?:(?:we're|we are|i'm|i am) )?(?:all )?(?:done|finished|through) for (?:today|tonight|the (?:day|night))(?: (?:then|thanks|cheers|here))*"
    r"|(?:all good|all set|cheers|thanks|great|lovely|perfect|brilliant) (?:then |so |and |now )?(?:we're|were|we are|i'm|im|i am) (?:all )?(?:done|finished|through)(?: (?:here|now|then|thanks|cheers|for (?:today|tonight|now)))*"
    r"|(?:i think |i guess |i reckon )?(?:i'll|ill|we'll|i will|i'm going to|i'm gonna|let's|lets) (?:just )?(?:stop|leave it|call it a (?:day|night)|quit|pack it in)(?: (?:here|there|at that|for (?:today|tonight|now)))+(?: and (?:get|call|ring|fetch|wait for|leave it to|ask) .{3,50})?)$"
)
"""The speaker is done with the whole walk: "that's me done with it", "cheers, we're done", "I'll stop here and get the mechanic"."""


def finished(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The walk in hand ends when its speaker is done with all of it; else None."""
    said = " ".join(text.lower().replace("\u2019", "'").split()).rstrip(" .!")
    flat = re.sub(r"(?<=\w)[,;](?= )", "", said)
    found = next(
        (one for one in (_FINISHED.match(said), _FINISHED.match(flat), stopping.THAT_IS_ALL.match(flat)) if one), None
    )
    if state.walk is None or "?" in text or found is None:
        return None
    state = stopping.of_its_walk(state, flat, mind)
    assert state.walk is not None
    if mind.knowledge.procedure(state.walk.topic).kind == "hazard" or tells(bare(text)):
        return None
    if state.walk.at + 1 == len(state.walk.plan):
        return walking.forward(replace(state, asking=None, failures=0), mind, now)
    return steered(state, Steer("stop", sure=0.95), text, mind, now)


_OF_SUM = Lazy(r"\b(?:work(?:ed|ing|ings)?|sums?|maths?|numbers?|figures?|got|calculat\w*)\b")


def _refusal_explained(state: State, steer: Steer, text: str) -> Outcome | None:
    """Why a wish was refused, or by what rule, when the refusal was the last thing said."""
    if state.last is None or state.last.kind != "refuse" or steer.verb not in ("why", "source"):
        return None
    if _OF_SUM.search(text.lower()):  # the number before is meant
        return _explained(replace(state, last=replace(state.last, kind="control")), steer)
    opens = "Why: " if steer.verb == "why" else "Source: "
    line = next((line for line in state.last.show if line.startswith(opens)), None)
    return walking.control(state, line.removeprefix("Why: "), topic=state.last.topic) if line is not None else None


_WHY = Lazy(r"^why ")


def _of_step(text: str, state: State, mind: Mind) -> bool:
    """Whether "why" asks about the step in hand: every thing it names is named there. "Why is the water brown" is not."""
    walk = state.walk
    if walk is None or len(text.split()) <= COMMAND_WORDS or not _WHY.match(bare(text)):
        return True
    if tells(_WHY.sub("", bare(text))):
        return False
    procedure = mind.knowledge.procedure(walk.topic)
    texts = [
        *(part for step in procedure.steps for part in (step.do, step.done_when or "", step.why or "")),
        procedure.title,
    ]
    texts += [
        caution.text for caution in (*procedure.cautions, *(c for step in procedure.steps for c in step.cautions))
    ]
    return progress.stems(beyond(bare(text))) <= progress.stems(
        phrases.filled(" ".join([*texts, *procedure.needs]), mind.facts)
    )


def steered(state: State, steer: Steer, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """Obey a command, when it makes sense where the conversation stands."""
    if steer.verb in manner.MANNERS:
        return manner.changed(state, steer.verb) if steer.sure == 1.0 else None
    if steer.verb in rolling.COMMANDS:
        return rolling.COMMANDS[steer.verb](state, mind, now) if steer.sure == 1.0 else None
    if state.asking is not None:
        answered = defects.expected(state, text, mind, now) or _answered(state, steer, text, mind, now)
        if answered is not None:
            return answered
    if steer.sure < 1.0 and steer.verb in ("skip", "resume") and state.walk is not None:
        moved = moving.told(state, text, mind, now)  # "no need for that" is a skip with its reason
        if moved is not None:
            return moved
    if steer.verb == "choose" and state.asking is None and state.last is not None and state.last.kind == "calculation":
        return None  # "and 90" changes an amount
    if (
        steer.verb == "choose"
        and state.asking is None
        and correcting.just_told(state, mind)
        and _RATHER.match(plain(text))
    ):
        return None  # "actually seven" puts the reading just told right
    if steer.verb == "choose" and (state.pending is not None or telling.reading_wanted(state) is not None):
        return None
    if steer.verb == "why" and len(text.split()) > 1 and state.last is not None and state.last.kind != "refuse":
        from cabassist.dialogue import deadlines  # the board's modules are loaded when it is asked for

        state = deadlines.of_supply(text, state, mind, now)
    explained = _explained(state, steer) or _refusal_explained(state, steer, text)
    if explained is not None:
        return explained
    if steer.verb == "how-many" and _of_miles(state, text):
        return None
    if steer.verb == "how-many" and state.timers and (state.walk is None or _TIME.search(text)):
        return _timers(state, mind, now)
    if steer.verb == "stop" and state.walk is None and state.timers and reminders.timer_spoken_of(state):
        return reminders.cancelled(state, mind, now)
    if steer.verb == "pause" and steer.sure < 0.9 and not _waits(text, state, mind):
        return None
    if steer.verb == "why" and state.walk is not None and not _of_step(text, state, mind):
        return None
    if steer.verb == "source" and _COMES_FROM.search(plain(text)):
        return None  # where water comes from is no question of sources
    if steer.verb == "cancel-timer":
        return reminders.cancelled(state, mind, now, text)
    if steer.verb in ANYTIME:
        return _ANYTIME[steer.verb](state, mind, now)
    if state.walk is not None:
        if steer.verb == "no" and (closed := stopping.not_meant(state, text, mind)) is not None:
            return closed
        if steer.verb in ("choose", "last", "no", "just-number") or (steer.verb == "yes" and state.walk.paused):
            return None if steer.verb != "yes" else walking.HANDLERS["resume"](state, mind, now, steer)
        if state.walk.paused and (
            steer.verb in ("next", "repeat") or (steer.verb == "back" and not _BEFORE.search(bare(text)))
        ):  # "back" is said by who is back
            return walking.HANDLERS["resume"](state, mind, now, steer)
        outcome = walking.HANDLERS[steer.verb](replace(state, failures=0), mind, now, steer)
        if steer.verb == "stop":
            outcome = stopping.asks_out(outcome, state.walk, mind)
        event = EventDraft("steer", {"verb": steer.verb, "sure": round(steer.sure, 3)})
        return Outcome(outcome.state, outcome.reply, (event, *outcome.events))
    if steer.verb == "repeat" and state.last is not None:
        return Outcome(state, replace(state.last, readings=(), withdrawn=()))
    if steer.verb == "resume" and state.undo and state.topic:
        return taking_up.resumed(state, mind, now)
    if steer.verb in ("why", "done-when", "needs", "cautions") and len(text.split()) > 3:
        return None
    if steer.verb in ("no", "yes", "stop"):
        return walking.control(replace(state, asking=None), "All right.")
    if steer.sure >= 0.8 and len(text.split()) <= _ONLY_STEERS:
        return walking.control(state, taking_up.none_open(state, mind, now))
    return None


_RATHER = Lazy(
    r"^(?:(?:oh|no|wait|sorry|hang on|hold on|oops|ah) )*(?:actually|rather|i mean|i meant|correction|make that|sorry|oops|wait)\b"
)
_BEFORE = Lazy(r"\b(?:previous|before|one|step|earlier)\b")
_OF_LIST = Lazy(r"\b(?:steps?|list|left|through|more|into|along|am i|are we|procedure|walk|done|in)\b")


def _of_miles(state: State, text: str) -> bool:
    """Whether "how far" asks for the road, since miles were worked out before: "so how far now"."""
    last = state.worked.estimate if state.worked is not None else None
    far = re.search(r"\bhow far\b", bare(text)) is not None and not _OF_LIST.search(bare(text))
    return far and last is not None and last.unit in ("mi", "km")


_ONLY_STEERS = 6
"""A longer sentence that ends in "now what" tells something when no procedure is open: "the roof drips on the bunks, now what"."""
_PICKS = 5
"""So many words may pick one of the nearest topics, which nobody asked for; more tell something else."""
MEANT = 0.6
"""How likely a way to steer must be to count without a known wording; without a walk in hand `MEANT_ALONE`."""
MEANT_ALONE = 0.85
_WITH_FIGURES = frozenset({"pause", "resume", "skip", "stop", "timers", "how-many", "repeat", NO_VERB})
"""What may be said with a figure in it: "give me two minutes", "is it ten minutes yet"."""
_ALONE = frozenset({"readings", "timers", "undo"})
_SUPPOSED = Lazy(r"\b(?:should|would|might|may|could|if|unless|until|gonna|going to|about to|wants?|needs?|supposed)\b")


_MEASURES = Lazy(r"\b(?:how (?:heavy|big|wide|tall|deep|hot|cold|warm|high|thick|old|fast|loud)|weigh\w*)\b")
"""Asks for a size or a weight, and moves no walk."""
_STOPS_THING = Lazy(
    r"\b(?:stop|shut|turn|switch|kill|close|end)\w* (?:off |down |up )?(?:the|my|our|that|this) (?!list|walk|procedure|checklist|check|steps?|one|rest|whole|job|thing|lot|test|inspection|round|briefing|talk|dump|fill)[a-z]+"
)


_LEAVES_OUT = Lazy(
    r"\b(?:skip\w*|leave|leaving|pass|miss|move on|go on|next|need\w*|apply|applies|already|step|bother)\b"
)


def in_free_words(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """A command that no list holds, by its likeness to those that drivers give in a walk; else None."""
    if not ranking.steering or state.pending is not None:
        return None
    if state.walk is not None and (level := telling.asked_level(plain(text), state.last)) is not None:
        which = telling.which_named(plain(text), mind)
        return telling.read_back(level, state, mind, now, which)  # "how many people did I say" asks for no step again
    verb, likely = ranking.steering[0]
    if likely < (MEANT if state.walk is not None else MEANT_ALONE) or (state.walk is None and verb not in _ALONE):
        return None
    if (verb not in _WITH_FIGURES and AMOUNT.search(bare(text))) or _MEASURES.search(bare(text)):
        return None
    said = bare(text)
    ticks = state.walk if verb == "next" else None
    other = ticks is not None and (progress.of_other(said, ticks, mind) or step_told.names_other(said, ticks, mind))
    if verb == NO_VERB or other:  # what is done elsewhere ticks no step of this walk
        walk = state.walks[-1]
        return walking.control(state, f"Still at step {walk.number}. Say next when it is done.", topic=walk.topic)
    if verb == "next" and (tells(said) or _SUPPOSED.search(said) or progress.AILS.search(said)):
        return None  # a step done with a "but", that should be done, or that shows a fault is not done
    if verb == "skip" and state.last is not None and state.last.kind == "calculation" and not _LEAVES_OUT.search(said):
        return None  # "no way that's enough" is said of the sum
    if verb in ("skip", "next") and taking_up.leaves_for_other(text):
        return None  # "not that, the sink" names another matter, and skips nothing of this one
    if verb == "stop" and _STOPS_THING.search(said):
        return None  # "I'll stop the engine now" ends no walk
    if verb in ("stop", "skip") and telling.reading_wanted(state) is not None and AMOUNT.search(said):
        return None  # the step waits for a figure: "so that's two with me"
    if verb == "readings" and (what := telling.named_in(plain(text))) is not None:
        return telling.read_back(what, state, mind, now, telling.which_named(plain(text), mind))
    return steered(state, Steer(verb, sure=likely), text, mind, now)


def _answered(state: State, steer: Steer, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A command that answers what the assistant asked."""
    asking = state.asking
    assert asking is not None
    if asking.what == "choice":
        if steer.verb == "yes" and len(asking.options) > 1:
            return walking.control(state, f"Which one? Say a number from 1 to {len(asking.options)}, or no.")
        number = {"choose": steer.number, "last": len(asking.options), "yes": 1}.get(steer.verb)
        if steer.verb == "next" and _offered(state) and _GO_ON.search(bare(text)):
            number = 1
        if number is not None:
            if 1 <= number <= len(asking.options):
                return _chosen(state, asking.options[number - 1], text, mind, now)
            return walking.control(
                state, f"There are {len(asking.options)} choices. Say a number from 1 to {len(asking.options)}, or no."
            )
        if steer.verb == "no":
            text = "All right, none of those. Ask in other words."
            outcome = walking.control(replace(state, asking=None, failures=state.failures + 1), text)
            return Outcome(
                outcome.state, outcome.reply, (EventDraft("choice", {"options": list(asking.options), "taken": None}),)
            )
        if steer.verb == "repeat" and state.last is not None and state.walk is None:
            return Outcome(state, state.last)
    if asking.what == "level":
        number = {"choose": steer.number, "last": len(asking.options)}.get(steer.verb)
        return whose_level.picked(state, text, number, mind, now) if number is not None else None
    if asking.what == "out":
        return stopping.out_told(state, text, mind, now)
    if asking.what == "resume" and state.walk is not None:
        if steer.verb == "next" and (waits := stopping.waits_after(state, mind)) is not None:
            return waits
        if steer.verb in ("yes", "resume", "next"):
            return walking.HANDLERS["resume"](replace(state, asking=None), mind, now, steer)
        if steer.verb == "no":
            return walking.HANDLERS["stop"](replace(state, asking=None), mind, now, steer)
    if asking.what == "skip-reason":
        if steer.verb in ANYTIME:
            return None
        if steer.verb in ("no", "back", "repeat", "stop", "pause", "start-over", "jump", "why", "how-many"):
            return walking.HANDLERS["repeat" if steer.verb == "no" else steer.verb](
                replace(state, asking=None), mind, now, steer
            )
        reason = "" if steer.verb in ("next", "yes") or bare(text).startswith("skip") else text
        return walking.skipped(replace(state, asking=None), mind, now, reason)
    if asking.what == "reading" and steer.verb == "no":
        return walking.HANDLERS["cannot-see"](state, mind, now, steer)
    return None


def _read_after_all(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The reading that the step asks for, told where the reason was awaited why it is left out; None where it is none."""
    walk = state.walks[-1]
    wanted = phrases.step_of(mind.knowledge.procedure(walk.topic), walk).reading
    heard = mind.readings_in(text) if wanted else None
    if heard is None or heard.withdrawn or {one.what for one in heard.readings} != {wanted}:
        return None
    return telling.told(heard, text, replace(state, asking=Asking("reading", reading=wanted or "")), mind, now)


def waited_for(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """Free words that answer what the assistant asked."""
    asking = state.asking
    assert asking is not None
    if asking.what == "defect":
        return defects.expected(state, text, mind, now)
    if asking.what == "skip-reason":
        return _read_after_all(state, text, mind, now) or walking.skipped(replace(state, asking=None), mind, now, text)
    if asking.what == "level":
        return whose_level.picked(state, text, None, mind, now)
    if asking.what == "out":
        return stopping.out_told(state, text, mind, now)
    if asking.what == "reading" and len(text.split()) <= 6:
        heard = mind.readings_in(text, state.told)
        if not heard.readings:
            heard = mind.readings_in(f"{asking.reading.replace('_', ' ')} {text}")
        if heard.readings or heard.refused:
            return telling.told(heard, text, state, mind, now)
    asked = telling.asked_level(plain(text)) if asking.what == "choice" else None
    if any(held.reading.what == asked for held in state.stored):
        return None  # "how many have I got aboard" is answered by what was told
    if asking.what == "choice" and asking.said == step_asked.IN_PASSING:
        return (
            None  # what was only offered beside an answer is taken by a yes: "engine off" is said of the step in hand
        )
    if asking.what == "choice" and defects.asks_list(text):
        return defects.listed(state, mind)
    if asking.what == "choice" and state.walk is not None and progress.asks_next(text):
        return None  # it is said of the walk in hand: "gloves are on, next"
    if asking.what == "choice" and state.walk is not None and choosing.reports(text):
        return None  # "chocks are in bay 5" is told of the walk, though a bay was among the choices
    unasked = state.last is not None and state.last.kind == "unknown"
    if asking.what == "choice" and state.last is not None and state.last.kind in ("reading", "calculation"):
        if ASKS.match(bare(text)) or correcting.puts_right(text, state, mind):
            return None
        if AMOUNT.search(bare(text)) and mind.readings_in(text, state.told).readings:
            return None  # what was told since the choice was offered is asked about or put right
        if len(text.split()) > _PICKS and not choosing.spoken_of(text, asking.options, mind):
            return None  # "measured from the bottom, that was" is about what was told since
    other = unasked and (OTHER.search(bare(text)) is not None or len(text.split()) > _PICKS)
    if asking.what == "choice" and not other and len(text.split()) <= choosing.MAX_WORDS and not mind.wishes.find(text):
        picked = choosing.deed_told(text, state.question, mind)
        picked = picked or choosing.named(text, state.question, asking.options, mind)
        if picked is not None:
            return _chosen(state, picked, text, mind, now)
    return None


def option_named(state: State, text: str, mind: Mind) -> str | None:
    """The offered procedure that a few words without a sign of danger name; None when they name none, or nothing is offered."""
    asking = state.asking
    if asking is None or asking.what != "choice" or asking.said == step_asked.IN_PASSING:
        return None
    if len(text.split()) > NAME_WORDS or mind.wishes.find(text):
        return None
    if set(asking.options) & mind.knowledge.hazards:
        return None
    return choosing.named(text, state.question, asking.options, mind, among=True)


def _chosen(state: State, topic: str, text: str, mind: Mind, now: datetime) -> Outcome:
    options = state.asking.options if state.asking else ()
    opened = replace(state, asking=None, offered=options)
    outcome = walking.open_walk(topic, opened, mind, now, 1.0, state.question or text)
    event = EventDraft("choice", {"options": list(options), "taken": topic, "question": state.question})
    return Outcome(outcome.state, outcome.reply, (event, *outcome.events))


_REMARK = Lazy(
    r"^(?:figures|typical|of course|great|lovely|wonderful|brilliant|sweet|nice(?: one)?|cheers|ta|right(?:y|ho|o)?|fair(?: enough)?|whatever|ugh|ha|haha|wow|super|smashing|grand|good stuff|good man|that (?:figures|makes sense)|makes sense|got (?:it|them|em|that)|no worries|all right|too bad|oh well|damn|shame) (?:(?:ok|okay|right|then|so|and|now|anyway) )*(?P<rest>.+)$"
)


def after_remark(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A short command after a remark: "figures. ok next"; else None."""
    found = _REMARK.match(plain(text)) if state.walk is not None else None
    steer = mind.steering.find(found["rest"]) if found is not None else None
    if steer is None or found is None or len(found["rest"].split()) > COMMAND_WORDS + 1 or steer.sure < 0.9:
        return None
    return steered(state, steer, found["rest"], mind, now)


_LAST_PART = Lazy(r"^(?P<head>.+\w)\s*[.,;!]+\s*(?:(?:so|and|ok|okay) )*(?P<tail>[^.,;!?]+?)[.!]*$")
_FIRST_PART = Lazy(
    r"^(?P<tail>(?:[\w'-]+ ){0,3}[\w'-]+)\s*[.,;!]+\s*(?P<head>(?:i|and|we|my) [^.,;!?]+)[.!]*$", re.IGNORECASE
)
_CALLED = Lazy(r"(?<=\w)\s*,\s*[a-z]+[.!]*$", re.IGNORECASE)
"""A name or the like after a command: "next step, maestro"."""
_NOT_GRASPED = Lazy(r"\b(?:not|didn't|don't|did not|do not) (?:understand|follow|get|catch|hear)\b")
_AFTER_REPORT = frozenset({"next", "repeat", "back", "resume", "skip"})
_BEFORE_REPORT = frozenset({"repeat", "back"})
_ASKED_LAST = Lazy(r"(?<=[a-z])\s*\?+$", re.IGNORECASE)
"""The mark of a command put as a question at the end: "back inside. where was I?"."""
_STRONGER = frozenset({"start-over", "stop", "skip", "jump", "undo"})
"""A command that what is said after it only explains: "start over, I lost my place"."""
_HEAD_WORDS = 9


def after_report(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A plain command after words that tell no trouble, no amount and no danger: "tough crowd. next step"; else None."""
    said = _ASKED_LAST.sub("", text.strip())
    if (state.walk is None and not _offered(state)) or "?" in said:
        return None
    for form, of in (
        (_LAST_PART.match(said), _AFTER_REPORT),
        (_LAST_PART.match(_CALLED.sub("", said)), _AFTER_REPORT),
        (_FIRST_PART.match(said), _BEFORE_REPORT),
    ):
        steer = mind.steering.find(form["tail"]) if form is not None else None
        if form is not None and steer is not None and steer.sure >= 0.9 and steer.verb in of:
            return _beside(state, steer, form["head"], form["tail"], mind, now)
    return None


def _offered(state: State) -> bool:
    """Whether one procedure is offered, as it is with a no, and none is open."""
    asking = state.asking
    return state.walk is None and asking is not None and asking.what == "choice" and len(asking.options) == 1


_GO_ON = Lazy(r"\b(?:next|go on|go ahead|carry on|continue|proceed|move on|keep going)\b")
"""What takes up an offer; "okay" and "got it" only take the no."""


_KNOWN_OR_DONE = Lazy(
    r"\b(?:knows?|already|(?:we|i|they|he|she|everybody|everyone|somebody)(?:'ve| have| has)? (?:did|done|have|has|got|heard|seen|told|said|counted|checked)|none|no (?:such|need)|don't (?:have|need)|doesn't (?:have|apply)|isn't one|never (?:had|needed))\b"
)


def _skipped_for(state: State, why: str, mind: Mind, now: datetime) -> Outcome | None:
    """The step in hand left out for a reason told before: "they know where the toilet is, skip to the next"; else None."""
    walk, said = state.walk, bare(why)
    if walk is None or len(said.split()) > _HEAD_WORDS or not _KNOWN_OR_DONE.search(plain(why)):
        return None
    if mind.knowledge.procedure(walk.topic).kind == "hazard" or AMOUNT.search(said):
        return None
    if progress.AILS.search(said) or _SUPPOSED.search(said) or mind.wishes.find(why):
        return None
    return walking.skipped(replace(state, failures=0), mind, now, why)


def _beside(state: State, steer: Steer, beside: str, command: str, mind: Mind, now: datetime) -> Outcome | None:
    """The command obeyed, when what is said beside it tells nothing; else None."""
    head = bare(beside)
    if steer.verb == "skip":
        return _skipped_for(state, beside, mind, now)
    first = mind.steering.find(beside)
    if first is not None and first.verb in _STRONGER and first.verb != steer.verb:
        return None
    if first is not None and first.verb == "back" and steer.verb == "repeat" and first.sure >= _SURE:
        return steered(state, first, beside, mind, now)  # "the one before that, read it again"
    if steer.verb != "next" and len(state.walks) > 1:
        return None  # it may name the walk that is meant: "the shore power again, where was I"
    if len(head.split()) > _HEAD_WORDS or len(command.split()) > COMMAND_WORDS + 1:
        return None
    waits = state.asking is not None and (state.asking.what, steer.verb) not in (("reading", "repeat"), ("choice", "next"))  # fmt: skip
    if waits or AMOUNT.search(head) or tells(head) or (progress.AILS.search(head) and not progress.runs(head)):
        return None
    if _SUPPOSED.search(head) or mind.wishes.find(beside):
        return None
    if progress.runs(head):
        return steered(state, steer, command, mind, now)
    if _SAID_OTHERWISE.search(_NOT_GRASPED.sub("", head)):
        return None
    ranking = mind.ranked(beside)
    if ranking.hazard >= LIKE_DANGER or ranking.wish >= LIKE_DANGER:
        return None
    return steered(state, steer, command, mind, now)


_SURE = 0.9
LIKE_DANGER = 0.3
"""As likely as this what is told before a command may be a danger or an unsafe wish, and is looked at as a whole."""
_SAID_OTHERWISE = Lazy(
    r"\b(?:but|not|no|\w+n't|cannot|how|what|why|where|when|which|who|undo|scratch|wrong|log|note|remind|skip|stop|read|reading|go|going|call|fills?|full|empty)\b"
)


_OTHER_MEANT = Lazy(
    r"^(?:(?:oh|no|nope|sorry|wait|hang on|hold on|actually|oops|damn|ah) )*(?:(?:i (?:meant?|wanted?|want)|make (?:it|that)|give me|should be|it's|it was|wrong one|not that one|try) )*(?:the |number )?(?P<which>first|second|third|fourth|last|other|1st|2nd|3rd|one|two|three|four|[1-4])(?: one| option)?(?: (?:instead|please|of (?:those|them)|not (?:that|this)(?: one)?))*$"
)
_PLACES = {"first": 0, "1st": 0, "one": 0, "1": 0, "second": 1, "2nd": 1, "two": 1, "2": 1, "third": 2, "3rd": 2, "three": 2, "3": 2, "fourth": 3, "four": 3, "4": 3, "last": -1}  # fmt: skip


def other_meant(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Oh no, I meant the first", right after a choice: that option in the place of the one just opened; else None."""
    walk, found = state.walk, _OTHER_MEANT.match(plain(text))
    if found is None and walk is not None and (topic := _named_instead(state, walk, text, mind)) is not None:
        state = replace(walking.remembered(state, "that choice"), walks=state.walks[:-1], asking=None)
        return walking.open_walk(topic, state, mind, now, 1.0, state.question)
    if walk is None or found is None or state.asking is not None or state.last is None or len(text.split()) < 2:
        return None
    if state.last.kind != "procedure" or walk.at or walk.topic not in state.offered:
        return None
    rest = [topic for topic in state.offered if topic != walk.topic]
    place = _PLACES.get(found["which"], 0)
    if found["which"] == "other":
        topic = rest[0] if len(rest) == 1 else None
    else:
        topic = state.offered[place] if -1 <= place < len(state.offered) else None
    if topic is None or topic == walk.topic:
        return None
    state = replace(walking.remembered(state, "that choice"), walks=state.walks[:-1])
    return walking.open_walk(topic, state, mind, now, 1.0, state.question)


_NAMED_INSTEAD = Lazy(
    r"^(?:(?:oh|no|nope|sorry|wait|hang on|hold on|actually|oops|damn|ah|my mistake) )*(?:(?:not that(?: one)?|wrong one) )?(?:(?:i (?:mean|meant|was (?:asking|talking) about|want(?:ed)?)|it's|it was|make (?:it|that)|give me)(?: about)? |(?<=not that one )|(?<=not that )|(?<=wrong one ))(?:the |my |our |that )?(?P<what>[a-z][\w' ]{2,40}?)(?: (?:one|instead|please|not (?:this|that)(?: one)?|though))*$"
)
_SOON = 2
"""Steps into a walk at which it may still have been the wrong one."""


def _named_instead(state: State, walk: Walk, text: str, mind: Mind) -> str | None:
    """The procedure meant in place of the one just chosen: "no, I meant the water line"; None when the words name none."""
    found = _NAMED_INSTEAD.match(plain(text))
    if found is None or walk.at >= _SOON or walk.topic not in state.offered or AMOUNT.search(found["what"]):
        return None
    rest = tuple(topic for topic in state.offered if topic != walk.topic)
    named = choosing.named(found["what"], state.question, rest, mind) if rest else None
    if named is None:
        best, chance = mind.ranked(f"{state.question} ({found['what']})").procedures[0]
        named = best if chance >= choosing.SURE and best not in mind.knowledge.hazards else None
    return named if named != walk.topic else None


def _of_working(last: Reply, worked: Worked) -> bool:
    """Whether what was said last is the working of the last number, or where it is from."""
    estimate = worked.estimate
    if estimate is None:
        return False
    return (
        last.show[:1] == ("Working:",)
        or estimate.verdict in last.say
        or last.say.startswith(f"From: {estimate.source}")
    )


def _explained(state: State, steer: Steer) -> Outcome | None:
    """How the last number came about, when a number was the last thing said."""
    if state.worked is None or state.worked.estimate is None or state.last is None:
        return None
    told = state.last.kind == "reading" and state.walk is None
    if (
        steer.verb == "why"
        and state.walk is not None
        and state.last.kind == "control"
        and not _of_working(state.last, state.worked)
    ):
        return None  # the walk has been spoken of since, so it is its step that is asked about
    if not (told or state.last.kind in ("calculation", "control", "clarify")) or steer.verb not in (
        "why",
        "source",
        "just-number",
    ):
        return None
    estimate = state.worked.estimate
    if steer.verb == "just-number":
        number = "No number." if estimate.value is None else f"{estimate.value:.3g} {estimate.unit}"
        return walking.control(state, number)
    if steer.verb == "source":
        note = "Rules change: check that it is current." if "CFR" in estimate.source else "Makers' figures come first."
        return walking.control(state, f"From: {estimate.source}. {note}", topic=state.worked.topic)
    return of_number.explained(state, state.worked)


_UNDO_SAID = Lazy(
    r"^(?:no+\b[^,.;!]{0,40}[,.;! ]+)?(?:(?:no|please|ok|okay|and|so|wait|hey|oh|sorry) )*undo(?: (?:that|it|this|the last(?: one| thing)?))?(?: please)?(?=[,.;!]|$)"
)


_RIGHT_NOW = Lazy(
    r"^[,.;! ]*(?:(?:it|that|this)(?:'s| is| was)|(?:should|i) (?:be|mean|meant))(?: [\w./%-]+){1,4}[.! ]*$"
)


def undo_said(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What was done last taken back, though a remark stands beside: "no, undo that, that was about our hours". None for anything else."""
    said = text.lower().replace("\u2019", "'").strip()
    found = _UNDO_SAID.match(said)
    if not state.undo or len(said.split()) <= COMMAND_WORDS or found is None:
        return None
    if _RIGHT_NOW.match(said[found.end() :]):
        return None  # it is put right: "undo that, it was two thirds"
    return _undo(state, mind, now)


def _undo(state: State, mind: Mind, now: datetime) -> Outcome:
    return telling.undone(state, mind, now)


def _help(state: State, mind: Mind, now: datetime) -> Outcome:
    return walking.control(state, HELP[0], lines=HELP)


def _readings(state: State, mind: Mind, now: datetime) -> Outcome:
    return defects.also_open(telling.read_back(None, state, mind, now))


def timers_asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "What have I got you waking me for": the reminders that are set; None for anything else."""
    return _timers(state, mind, now) if reminders_set.asks_what_is_set(text) else None


def _timers(state: State, mind: Mind, now: datetime) -> Outcome:
    if not state.timers:
        return walking.control(state, "No timer is running.")
    lines = reminders.running(state, now)
    return walking.control(state, " ".join(lines), lines=tuple(lines))


def _thanks(state: State, mind: Mind, now: datetime) -> Outcome:
    return walking.control(state, "You are welcome.")


def _source(state: State, mind: Mind, now: datetime) -> Outcome:
    topic = state.walk.topic if state.walk else state.topic
    if topic is None:
        return walking.control(state, "Ask something first; then I name its sources.")
    return walking.source_of(topic, state, mind)


_ANYTIME: dict[str, Callable[[State, Mind, datetime], Outcome]] = {
    "undo": _undo,
    "help": _help,
    "readings": _readings,
    "timers": _timers,
    "thanks": _thanks,
    "source": _source,
}
