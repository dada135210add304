"""A level told of nothing in particular, and what it is of when that was asked back: "the tank's empty", "the fresh one"."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import telling, unit_asked, walking
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain
from cabassist.language.reading_types import Heard

ASKS = "Which one:"
"""Begins the question of `language.readings` which supply an amount is of."""
ONE = "This coach has one"
"""Begins the question which of two levels told of one tank is right."""
_CHECKS = {"waste": "check-waste-level", "propane": "read-propane-gauges", "diesel": "check-fluids"}
"""The procedure by which each is read off; every other tank holds fresh water or waste, by its name."""
_FILLS = {"waste": "check-waste-level", "propane": "swap-or-refill-cylinder", "diesel": "check-fluids"}
"""What is wanted when it is empty."""
_EMPTY = re.compile(r"\b(?:empty|dry|low|out)\b")
_FULL = re.compile(r"(?<!half )\b(?:full|brimming|overflowing)\b")
_WASTE = re.compile(r"\b(?:waste|black|gr[ae]y|sewage|holding)\b")
_THING = Lazy(
    r"\b(?:the |our |my )?(?:tank|gauge|needle|level|one|thing)(?:'s| is)?\b|\b(?:it|that|this|she)(?:'s| is)?\b"
)
_PICKS = Lazy(
    r"^(?:(?:no|oh|it's|its|that's|that is|it is|i mean|i meant|the|our|my|sorry|yeah|yes|um|uh|well) )*(?P<name>[a-z]+(?: (?:water|tank|cylinder|bottle|fuel))?)(?: (?:one|tank|please|i mean|of course))*$"
)
_MOST_WORDS = 7
_OF_NOTHING = Lazy(
    r"^(?:(?:it's|it is|that's|the gauge is|the tank is|tank's|the tank's|this is|we're|we are|it|she's|i think it's|looks|it looks|now it's) )?(?:(?:getting|running|pretty|quite|very|really|a bit|down|about|almost|nearly|just about|close to) )*(?:low|empty|full|dry)(?: again| now| already)?$"
)


def of_nothing(text: str, mind: Mind) -> Heard | None:
    """A level in few words that name nothing, as what has to be asked back: "it's getting low", "nearly empty"; else None."""
    said = bare(text)
    if not _OF_NOTHING.match(said) or len(said.split()) < _LEAST_WORDS or text.rstrip().endswith("?"):
        return None
    from cabassist.language.readings import which_tank

    return Heard(ask=which_tank(mind.coach))


_LEAST_WORDS = 2


def asked(outcome: Outcome, said: str, mind: Mind) -> Outcome:
    """The question which supply is meant, with the procedure each may call for, so that a number or a name picks one."""
    state, reply = outcome.state, outcome.reply
    if reply.kind == "clarify" and reply.say in _OF_A_PLACE and state.asking is None:
        return Outcome(replace(state, asking=Asking("level", (), "", said)), reply, outcome.events)
    if reply.kind != "clarify" or not reply.say.startswith(ASKS) or state.asking is not None:
        return outcome
    names = _names(reply.say)
    options = tuple(one for one in (_wanted(name, plain(said)) for name in names) if one in mind.knowledge.ids)
    if len(options) != len(names):
        return outcome
    state = replace(state, asking=Asking("level", options, "|".join(names), said))
    lines = tuple(f"  {number}. {name}" for number, name in enumerate(names, 1))
    return Outcome(state, replace(reply, options=options, show=(*reply.show, *lines)), outcome.events)


def _names(question: str) -> list[str]:
    """What the question names, in its order."""
    return re.split(r", | or ", question[len(ASKS) :].strip(" ?"))


def _procedure(name: str) -> str:
    return _CHECKS["waste"] if _WASTE.search(name) else _CHECKS.get(name, "check-fresh-level")


def _wanted(name: str, said: str) -> str:
    """The procedure that a level calls for: an empty tank is filled, a full waste tank dumped, any other looked at."""
    if _EMPTY.search(said):
        return _FILLS["waste"] if _WASTE.search(name) else _FILLS.get(name, "fill-fresh-water")
    return "dump-waste-tank" if _FULL.search(said) and _WASTE.search(name) else _procedure(name)


def picked(state: State, text: str, number: int | None, mind: Mind, now: datetime) -> Outcome | None:
    """The level that was told, stored of what was picked by its number or name; None when the words pick nothing.

    Only right after the question: later "the fresh" may mean anything.
    """
    asking, last = state.asking, state.last
    if asking is None or asking.what != "level" or last is None:
        return None
    if last.say.startswith(unit_asked.OPENS) and "|" in asking.reading:
        return unit_asked.picked(state, text, number, mind, now)
    if last.say in _OF_A_PLACE:
        return _placed(state, asking, text, mind, now) if number is None else None
    if not last.say.startswith((ASKS, _HOW, ONE)):
        return None
    names, free = asking.reading.split("|"), replace(state, asking=None)
    if not asking.said:
        heard = mind.readings_in(f"{_subject(names[0])} {text}") if len(text.split()) <= _MOST_WORDS else Heard()
        return telling.told(heard, text, free, mind, now) if heard.readings or heard.refused else None
    if number is not None:
        if not 1 <= number <= len(names):
            return walking.control(state, f"There are {len(names)}. Say a number from 1 to {len(names)}, or its name.")
        name = names[number - 1]
    else:
        found = _named(text, names)
        if found is None:
            return None
        name = found
    level = _THING.sub(" ", plain(asking.said))
    for words in (f"{_subject(name)} is {' '.join(level.split())}", f"{_subject(name)} {asking.said}"):
        heard = mind.readings_in(words)
        if heard.readings or heard.refused:
            return telling.told(heard, f"{asking.said}, {text}", free, mind, now)
    return how_much(free, name, mind)


NUMBER_OF = "What is that number of? Say its name, such as outside or fresh water."
"""Asks back a number that was told of nothing."""
_OF_A_PLACE = (
    NUMBER_OF, "Is that inside or outside?", "Which pressure: a tire, or the air gauge?", "Which cylinder is that?", "Is that the house battery or shore power?",
)  # fmt: skip
"""Questions of `language.readings` that are answered by a place or an instrument."""


def _placed(state: State, asking: Asking, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What was told without its name, of the place or instrument that is now named in few words: "the left front"."""
    name = _NAMING.sub("", plain(text))
    if AMOUNT.search(bare(text)) or text.rstrip().endswith("?") or not 0 < len(name.split()) <= _MOST_WORDS:
        return None
    level = _THING.sub(" ", _TELLS.sub(" ", plain(asking.said)))
    heard = mind.readings_in(f"{name} {' '.join(level.split())}")
    if len(heard.readings) + len(heard.refused) != 1:
        return None
    return telling.told(heard, f"{asking.said}, {text}", replace(state, asking=None), mind, now)


_NAMING = Lazy(
    r"^(?:(?:no|oh|it's|its|that's|that is|it is|that was|i mean|i meant|sorry|yeah|yes|um|uh|well|of|on|at|for) )*"
)
_TELLS = Lazy(r"\b(?:says|said|reads|reading|shows|showing|at|is)\b")


def _subject(name: str) -> str:
    return "diesel tank" if name == "diesel" else name


_OTHER_UNIT = Lazy(
    r"^(?:(?:no|oh|sorry|wait|i mean|i meant|in|that's|it's|make that|should be) )*(?P<unit>gal(?:lon)?s?|galons|lit(?:er|re)s?|pounds|lbs|kilos|inches|cent\w+|celsius|fahrenheit|psi|volts|percent)(?: (?:i mean|i meant|that is|sorry|not percent|of course))*$"
)
_CANNOT = Lazy(r"^(?P<name>[A-Z][\w ]+?): (?P<value>-?[\d.,]+) ?(?P<unit>\D*?) can't be[;,.]")
_PUT_RIGHT = Lazy(
    r"^(?:(?:no|nope|oh|ah|ha|haha|oops|whoops|sorry|wait|hang on|actually|i mean|i meant|i said|make (?:it|that)|it's|it is|that's|should be|should read|meant to say|my bad|my mistake|only|just|yeah|about) )*(?P<level>[a-z0-9.%/ -]+?)(?: (?:i mean|i meant|sorry|actually|rather|that is|of course|i should say|my bad|my mistake|make that|then))*$"
)
_AT_NOW = Lazy(
    r"^(?:(?:so|and|well|ok|okay|right|oh|but|yeah) )*(?:it|that|she|the (?:tank|gauge|level|needle)|gauge|tank|level|needle)(?:'s| is| was|s)? ?(?:(?:now|just|currently|only|already|still|about|around|sitting|standing|reading|showing|reads|shows|says|down|up|at|to|on|a|over|under) )*(?:[a-z0-9.%/-]+ ?){1,5}$"
)
_NO_STANDS = Lazy(r"^No (?P<name>[a-z ]+) reading stands\b")


def said_again(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A level without its name, of what was just spoken of; else None.

    That is what could not be as it was told ("a hundred and five gallons I mean"), what is to be watched ("it's at half now",
    after "tell me when the fresh gets to a quarter"), and what was just asked back.
    """
    last = state.last
    said, unit = plain(text), ""
    if last is not None and last.kind == "clarify" and (other := _OTHER_UNIT.match(said)) is not None:
        if (cannot := _CANNOT.match(last.say)) is not None:  # "gallons", after a hundred and twenty percent
            said = text = f"{cannot['value']} {other['unit']}"
    if last is None or text.rstrip().endswith("?") or not AMOUNT.search(bare(text)) or telling.named_in(plain(text)):
        return None
    if last.kind == "clarify" and (cannot := _CANNOT.match(last.say)) is not None:
        found = _PUT_RIGHT.match(said)
        if found is None or len(said.split()) > _MOST_WORDS + 2:
            return None
        name, level, unit = cannot["name"], found["level"], cannot["unit"]
    elif _AT_NOW.match(said) and (about := _just_named(state, mind)):
        name, level = about, " ".join(_THING.sub(" ", said).split())
    else:
        return None
    kind = telling.named_in(name.lower())
    for words in (f"{name} {level}", f"{name} {level} {unit}")[:: -1 if unit and _UNITLESS.match(level) else 1]:
        heard = mind.readings_in(words)
        kinds = [*(one.what for one in heard.readings), *(one.what for one in heard.refused)]
        if kinds == [kind]:
            return telling.told(heard, text, replace(state, asking=None, failures=0), mind, now)
    return None


_UNITLESS = re.compile(r"^(?:[a-z]*(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|teen|ty|hundred)|and|a|oh|point|\d[\d.]*|[ -])+$")  # fmt: skip


def _just_named(state: State, mind: Mind) -> str:
    """The one supply that the last answer was about, or nothing."""
    last = state.last
    if last is None or last.kind != "control":
        return ""
    if state.alerts and last.say.startswith("I will tell you when "):
        return state.alerts[-1].name
    if (none := _NO_STANDS.match(last.say)) is not None:
        return none["name"]
    if last.say.count(telling.READ_BACK) == 1:
        held = next(
            (
                one.reading
                for one in reversed(state.stored)
                if last.say.startswith(telling.echo(one.reading, mind.coach))
            ),
            None,
        )
        return f"{held.which or ''} {held.what.replace('_', ' ')}".strip() if held is not None else ""
    return ""


def vaguely(state: State, text: str, mind: Mind) -> Outcome | None:
    """How low, asked back when a supply is said to be low and nothing else: "we're getting low on propane"; else None."""
    found = _LOW.match(bare(text))
    if found is None or text.rstrip().endswith("?") or state.walk is not None:
        return None
    said = found["a"] or found["b"]
    kind = telling.named_in(said)
    name = {"fresh": "fresh water", "waste": "waste", "propane": "propane", "diesel": "diesel"}.get(kind or "")
    if kind is None and said.removesuffix(" tank") == "water":
        name = "fresh water"
    return how_much(replace(state, failures=0), name, mind) if name else None


def long_past(state: State, text: str) -> Outcome | None:
    """A level that was once, which is no reading and asks for nothing: "the waste used to be half"; else None."""
    said = bare(text)
    once = _ONCE.match(said) if state.pending is None else None
    if text.rstrip().endswith("?") or not (_USED_TO_BE.match(said) or (once and AMOUNT.search(once["level"]))):
        return None
    return walking.control(state, "That is past: nothing is written down. Say what it is now.")


def how_much(state: State, name: str, mind: Mind) -> Outcome | None:
    """The question for the level of a supply that is named; None where the coach has no procedure to read it."""
    topic = _procedure(name)
    if topic not in mind.knowledge.ids:
        return None
    line = f"{_HOW} {name} at? Say the level, such as a quarter."
    reply = Reply("clarify", line, (line,), topic=topic, options=(topic,))
    return Outcome(replace(state, asking=Asking("level", (topic,), name), topic=topic, question=name), reply)


_HOW = "What is the"
_USED_TO_BE = Lazy(
    r"^(?:[a-z]+ ){0,4}used to (?:be|read|show|sit|stand)(?: (?:at|about|around|nearly|over|under|a|an|one|two|three|five|seven)){0,3} (?:half|full|empty|thirds?|quarters?|fourths?|eighths?|[\d.]+|\w+ty(?: \w+)?)(?: (?:full|percent|gallons|pounds|degrees|volts|of (?:a|the) tank)){0,2}$"
)
_WHEN = r"(?:yesterday|last (?:night|week|time|trip|month)|the (?:day|night) before(?: (?:yesterday|last))?|(?:this morning|earlier today|a (?:day|week|while) ago|(?:two|three|four|five|a few|a couple of|several) (?:hours|days|nights) ago|two days back))(?: (?:at|around|about|by) (?:this|the same|about this) time| (?:morning|evening|afternoon|night))?"
_WAS = r"(?:(?:the |our |my )?[a-z]+(?: [a-z]+){0,2}?) (?:was|were|read|showed|stood|had been)(?: (?:at|about|around|showing|reading|sitting at))*"
_ONCE = Lazy(
    rf"^(?:(?:and|so|but|oh|well|ok|okay|by the way|funny|hm+) )*(?:{_WHEN}(?: at this time)? {_WAS} |{_WAS} (?=.* {_WHEN}$))(?P<level>[a-z0-9.%]+(?: (?!now\b|today\b|but\b|and\b(?! a )|so\b)[a-z0-9.%]+){{0,5}}?)(?: {_WHEN})?$"
)
"""What a level was at another time."""
_LOW = Lazy(
    r"^(?:(?:the |our |my |it's |its )*(?P<a>(?:fresh|drinking|clean|waste|black|grey|gray|holding|propane|gas|lp|lpg|diesel|fuel|water)(?: (?:water|tank|cylinder|cylinders|bottle|bottles|level|gauge)){0,2})(?:'s| is| are|'re)?(?: (?:getting|running|pretty|quite|very|really|a bit|kinda|down|looking|on the)){0,3} (?:low|high|down|low side)"
    r"|(?:we're|we are|i'm|i am|we)?(?: ?(?:getting|running|run|pretty|quite|very|a bit|kinda)){0,3} ?(?:low|short) (?:on|of) (?:the )?(?P<b>[a-z]+(?: (?:water|tank|cylinder|bottle))?))(?: (?:now|again|already|here|back there|too))*$"
)


def _named(text: str, names: list[str]) -> str | None:
    found = _PICKS.match(bare(text))
    if found is None or len(text.split()) > _MOST_WORDS:
        return None
    word = found["name"].split()[0]
    kind = telling.named_in(found["name"])
    same = [one for one in names if word in one.split()] or [one for one in names if telling.named_in(one) == kind]
    return same[0] if kind and len(same) == 1 else None
