"""A reading asked back by its name alone: "what is the shore voltage", "outside temp", "how many did I have last night".

Such a question invents no load and opens no procedure: only what was told can answer it, with its age.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from cabassist.dialogue import phrases, telling, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_CUES = (
    "volt",
    "temp",
    "how many",
    "head count",
    "headcount",
    "odometer",
    "mileage",
    "air pressure",
    "how cold",
    "how warm",
)
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|now|hey|wait|well|sorry|um|uh|oh|again|quick|remind me|tell me|say) )*"
_ASKS = r"(?:(?:what(?:'s|s| is| was| were| are)?|what (?:do|did|have) (?:you|we|i) (?:have|say|got|get|tell you|put|put down|read)(?: for| about| on)?|what did i (?:say|tell you|read)|give me|read me|tell me|do you (?:know|have|remember)|how (?:much|many|high|low) (?:is|was|are|were)?) ?)?"
_END = r"(?: (?:is|was|were|are|again|now|right now|at the moment|currently|at|please|reading|said|told|i (?:said|told you|gave you|read)|you have|we have|on record|down as|last|then|it was|so far|today|tonight|before))*$"
_OF_ALL = (
    ("shore_voltage", r"shore(?: power| line)? (?:voltage|volts|reading)|(?:volts|voltage) (?:on|of|at|from) (?:the |our )?(?:shore(?: power| line| cord)?|pedestal|post|outlet)|line (?:voltage|volts)|(?:pedestal|post) (?:voltage|volts)"),
    ("volts", r"volts|voltage"),
    ("house_battery", r"(?:house )?batter(?:y|ies)(?:'s)? (?:voltage|volts)|house (?:voltage|volts)"),
    ("outside_temp", r"(?:outside|outdoor|outdoors|out there) (?:temp|temps|temperature)|(?:temp|temps|temperature) (?:outside|outdoors|out there|out here|out)"),
    ("inside_temp", r"(?:inside|indoor|indoors|cabin|bunk) (?:temp|temps|temperature)|(?:temp|temps|temperature) (?:inside|indoors|in here|in the (?:cabin|coach|bus|bunks))"),
    ("passengers", r"head ?count"),
    ("odometer", r"odometer|mileage on the (?:clock|odometer)"),
)  # fmt: skip
_NAMED = Lazy(
    _LEAD
    + _ASKS
    + r"(?:(?:the|our|my|your|that|those|these) )?(?:(?:current|latest|last|present) )?(?:"
    + "|".join(f"(?P<{what}>{words})" for what, words in _OF_ALL)
    + ")"
    + _END
)
_SPOKEN_OF = Lazy(
    r"^(?:[a-z']+ )*(?:what|give|read|tell|know|remember|how)\b|\btemp(?:erature)?s? (?:outside|out)|\b(?:outside|shore) (?:temp|volt)"
)
_HEADS_BEFORE = Lazy(
    _LEAD
    + r"how many (?:(?:people|heads|passengers|kids|players|of (?:us|them)|souls|bodies|guys) )?(?:(?:did|had|have|were|was|are|do) )?(?:(?:i|we|you|there|they) )?(?:(?:have|had|got|count|counted|carry|say|tell you|put down|were|was|sleep|slept|stay|stayed|aboard|on board|on|in|here|the (?:bus|coach)|sleeping|bunks?|in (?:the )?bunks?) ?)*"
    r"(?: ?(?:last night|last time|yesterday|the (?:night|day) before|overnight|this morning|before|earlier|in the evening|yesterday evening|at the last (?:count|stop)|when we (?:left|started|set off|arrived|parked)|on the way here))+$"
)
_LATELY = timedelta(hours=36)
_MOST = 4


_ALL_BACK = Lazy(
    r"^(?:(?:so|and|ok|okay|now|hey|please|can you|could you|right) )*(?:read|give|say|tell|run|go)(?: me| us)? (?:(?:both|all|the|those|my|of|our|two) )*(?:tanks?|tank levels?|levels?|readings?|numbers?|gauges?|figures?)(?: (?:back|again|once more|to me|for me|please|so far))+$"
    r"|^(?:(?:so|and|ok|okay|now|hey) )*(?:read|say|tell) (?:me )?back (?:(?:both|all|the|those|my|of|our|two) )*(?:tanks?|levels?|readings?|numbers?|gauges?|figures?)(?: please| to me)*$"
)


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The reading with its age, or that none stands; None for any other question."""
    said = plain(text)
    if names_any(said, (" back", "again", "once more", "so far")) and _ALL_BACK.match(said) and state.stored:
        return telling.read_back(None, state, mind, now)
    if not names_any(said, _CUES):
        return None
    if _HEADS_BEFORE.match(said):
        return _counts(state, mind, now)
    found = _NAMED.match(said)
    if found is None or not _SPOKEN_OF.search(said):
        return None
    what = str(found.lastgroup)
    if what == "volts":
        volts = [one.reading.what for one in state.stored if one.reading.unit == "V"]
        what = volts[-1] if volts else ""
    stands = any(one.reading.what == what for one in state.stored)
    if not what or not (stands or what in ("shore_voltage", "outside_temp", "inside_temp")):
        return None
    return telling.read_back(what, state, mind, now)


def _counts(state: State, mind: Mind, now: datetime) -> Outcome:
    """The head counts of the last day and a half, each with its age, newest first."""
    counts = [one for one in state.stored if one.reading.what == "passengers" and now - one.at <= _LATELY]
    if not counts:
        return walking.control(state, "No head count stands. Count heads, and tell me the count.")
    lines = tuple(
        f"{telling.echo(one.reading, mind.coach)}{telling.READ_BACK}{phrases.ago(one.at, now)}."
        for one in reversed(counts[-_MOST:])
    )
    return walking.control(state, " ".join(lines[:2]), lines=lines)
