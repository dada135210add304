"""How long the heat lasts in a cold that is only supposed, or from levels that are: "how many hours is that at thirty-four below".

The board knows how fast the propane goes. A temperature, a level or a time of day in such a question is no load of a breaker and no
reading: nothing of it is stored, what was read stands beside it. "Two bottles, half and full" are two of the cylinders that feed.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from typing import NamedTuple

from cabassist.dialogue import danger_first, gas_until
from cabassist.dialogue.types import Mind, Outcome, State, Stored
from cabassist.estimate.quantities import roughly
from cabassist.estimate.types import Estimate
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Reading

_ONES = r"(?:one|two|three|four|five|six|seven|eight|nine)"
_TENS = r"(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)"
_WORD = rf"(?:{_TENS}(?: {_ONES})?|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|a hundred|one hundred|{_ONES}|zero)"
_NUM = rf"(?:\d{{1,3}}(?:\.\d)?|{_WORD})"
_SCALE = r"(?: ?(?:degrees?|f|fahrenheit|c|celsius)\b)*"
_COLD = Lazy(
    rf"(?:\b(?:at|when it's|when it is|if it's|if it is|if it gets|if it goes|if it drops|when it gets|in|with|outside|it's|down|to|and) )*(?P<degrees>(?:(?:\bminus|\bnegative) |(?<![\w.])-){_NUM}{_SCALE}(?: (?:below|outside|out|out there))?|\b{_NUM}{_SCALE} below(?: zero)?(?: (?:outside|out|out there))?|\bzero(?: degrees)?(?= (?:outside|out)\b)(?: (?:outside|out)))(?: (?:tonight|all night|overnight))?"
)
_PART = r"(?:(?:(?:a|one|three|two) )?(?:quarters?|thirds?|eighths?)|(?:a )?half|full|empty)(?: (?:full|empty))?"
_PCT = rf"{_NUM} ?(?:%|percent|per cent)"
_LBS = rf"{_NUM} ?(?:pounds|lbs|lb)(?: of (?:propane|gas))?"
_LEVEL = rf"(?:{_PCT}|{_LBS}|{_PART}|{_NUM})"
_NOUN = r"(?:bottles?|cylinders?|tanks?|ones?)"
_TWO = Lazy(
    rf"\b(?:(?:two|both|2|the two|our two) (?:propane |gas )?(?:bottles|cylinders|tanks)(?: (?:at|with|of|are|one|on))* )?(?:a |one |the )?(?:(?:outside|outer|curb side|first) (?:one |{_NOUN} )?(?:is |at )*)?(?P<first>{_LEVEL})(?: (?:one|{_NOUN}|on one|in one|in the one))?(?: and| plus) (?:a |one |the |the other |another )?(?:(?:inside|inner|street side|second) (?:one |{_NOUN} )?(?:is |at )*)?(?P<second>{_LEVEL})(?: (?:one|{_NOUN}|on the other|in the other))?\b"
)
_BOTH = Lazy(
    rf"\b(?:(?:two|both|on|with) (?P<each>full|half)(?: full)? (?:bottles|cylinders|tanks)|(?:both|two) (?:bottles|cylinders|tanks)?(?: (?:at|are|both))* ?(?P<level>{_LEVEL}))\b"
)
_ONE = Lazy(
    rf"\b(?P<level>{_LEVEL})(?: (?:of )?(?:propane|gas))?(?: (?:left|hold|last|do|be enough))* (?:on|in|of|left in) (?:just |only )?(?:one|a|a single|the one|the last|the outside|the inside) (?:bottle|cylinder|tank)\b|\b(?:one|a|a single|the last|only one|just one) (?:bottle|cylinder|tank) (?:at |with |of |is )*(?P<after>{_LEVEL})\b|\b(?:one|a) (?P<of>full|half|half full) (?:bottle|cylinder|tank)\b|\bhalf a (?P<part>bottle|cylinder|tank)\b"
)
_CLOCK = Lazy(
    r"\b(?:until|till|til|to|by|through to|up to) (?:about |around )?(?:(?:half past |quarter (?:past|to) )?(?:\d{1,2}(?:[: ]?[0-5]\d)?|six|seven|eight|nine|ten|eleven|twelve|five|four|three|two|one)(?: ?o'?clock)?(?: ?(?:a\.?m|p\.?m))?(?: in the (?:morning|evening)| tomorrow(?: morning)?)?|noon|midday|(?:the |tomorrow )?morning|sunrise|daylight|breakfast)(?= |$)|\b(?:overnight|all night(?: long)?|through the night|for the night|the night|tonight)\b"
)
_HOURS = Lazy(r"\bhow (?:many hours|long|many nights|many days)\b|\bwhat (?:does|will|would) (?:that|it|this) give\b")
_WILL = Lazy(r"\b(?:will|would|does|do|can|is|does that|enough|hold|last|holds|lasts)\b")
_GAS = Lazy(r"\b(?:propane|gas|heat|heating|furnaces?|bottles?|cylinders?|lpg|tank of gas|tank of propane)\b")
_SMALL = frozenset(
    "so and but ok okay then now well hey right with at on in of for the a an our my this that it us we i is are be will would does do can could how many much long hours nights days last lasts lasting hold holds holding good go goes get gets"
    " through make keep keeps keeping warm enough me heat heating furnaces furnace propane gas lpg both two one bottle bottles cylinder cylinders tank tanks left still have got what's there outside if say suppose tell what does give gives about roughly around only just"
    " cold when cabin coach bus people aboard burn burning run running runs out see till until by to survive carry stretch".split()
)  # fmt: skip


SLOW_F = -20.0
SLOW_GAS = "In such cold a cylinder, a low one most of all, may give gas too slowly for the furnaces (NFPA 58 Annex B): have other warmth ready."
"""The vapor pressure of propane nears nothing at -44 °F; where a furnace starves before hangs on cylinder and regulator (common practice)."""


class _Supposed(NamedTuple):
    stored: tuple[Stored, ...]
    words: tuple[str, ...]


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """How long the heat lasts as supposed, or whether until then; None for any other question."""
    said = re.sub(r"[?!,]+|\.(?= |$)", "", plain(text)).strip()
    if state.pending is not None or not names_any(said, ("how", "will", "do", "last", "hold", "enough", "is ")):
        return None
    if danger_first.danger(state, mind) is not None or mind.wishes.find(text):
        return None
    rest, until, cold, levels = _parts(said)
    if cold is None and levels is None:
        return None
    if not (_HOURS.search(rest) or (until and _WILL.search(said))):
        return None
    if any(word not in _SMALL for word in rest.split()):
        return None
    read = any(one.reading.what == "propane" for one in state.stored)
    if levels is None and not read:
        return None
    if cold is None and not until and not any(one.reading.what == "outside_temp" for one in state.stored):
        return None  # how long a cylinder burns is another sum
    if levels is None and not _GAS.search(said) and not _lately(state):
        return None
    return _answer(state, text, said, cold, levels, until, mind, now)


def own(text: str) -> bool:
    """Whether no sum of propane reads such a question: it has a time of day, two different levels, or only points at a level."""
    _, until, _, levels = _parts(re.sub(r"[?!,]+|\.(?= |$)", "", plain(text)).strip())
    return bool(until) or levels is None or len(set(levels)) > 1


def _parts(said: str) -> tuple[str, str, str | None, tuple[str, ...] | None]:
    """The rest of a question, its time of day, its cold and its levels, each taken out before the next is looked for."""
    rest = said
    clock = _CLOCK.search(rest)
    until = clock.group() if clock is not None else ""
    rest = rest.replace(until, " ", 1) if until else rest
    found = _COLD.search(rest)
    cold = found["degrees"].strip() if found is not None else None
    rest = rest[: found.start()] + " " + rest[found.end() :] if found is not None else rest
    rest = " ".join(rest.split())
    levels: tuple[str, ...] | None = None
    if (both := _BOTH.search(rest)) is not None and (each := both["each"] or both["level"]) and not _TWO.search(rest):
        levels, rest = (each, each), _BOTH.sub(" ", rest, count=1)
    elif (two := _TWO.search(rest)) is not None and _GAS.search(f"{said} "):
        levels, rest = (two["first"], two["second"]), _TWO.sub(" ", rest, count=1)
    elif (one := _ONE.search(rest)) is not None:
        level = one["level"] or one["after"] or one["of"] or ("half" if one["part"] else "")
        levels, rest = (level,), _ONE.sub(" ", rest, count=1)
    return " ".join(rest.split()), until, cold, levels


def _lately(state: State) -> bool:
    """Whether "that" points at propane: it was told last, or the last number was of it."""
    if state.told and any(one.what in ("propane", "outside_temp", "passengers") for one in state.told):
        return True
    walk = state.walk
    return walk is not None and ("propane" in walk.topic or "cylinder" in walk.topic or "warm" in walk.topic)


def _answer(
    state: State,
    text: str,
    said: str,
    cold: str | None,
    levels: tuple[str, ...] | None,
    until: str,
    mind: Mind,
    now: datetime,
) -> Outcome | None:
    from cabassist.dialogue.accounts import Accounts
    from cabassist.estimate.ledger import entry

    supposed = _supposed(state, cold, levels, mind, now)
    if isinstance(supposed, str):
        return gas_until.replied(state, (supposed,), "clarify", mind)
    if supposed is None:
        return None
    account, ask = Accounts(mind.coach, supposed.stored, now).account("propane")
    if account is None:
        return gas_until.replied(state, (ask or "Tell me the propane level and the outside temperature, and I work it out.",), "clarify", mind)  # fmt: skip
    left = entry(account, now).left
    if left.value is None or left.low is None or left.high is None:
        words = f"With {' and '.join(supposed.words)}: {left.verdict[:1].lower()}{left.verdict[1:]}"
        return gas_until.replied(state, (words,), "calculation", mind) if left.verdict else None
    return _told(state, text, said, supposed, left, until, mind, now)


def _supposed(
    state: State, cold: str | None, levels: tuple[str, ...] | None, mind: Mind, now: datetime
) -> _Supposed | str | None:
    """The readings as they stand with what is supposed put in; a question where a level may be of two kinds."""
    stored, words = tuple(state.stored), []
    if cold is not None:
        found = [one for one in mind.readings_in(f"outside temperature {cold}").readings if one.what == "outside_temp"]
        if len(found) != 1 or found[0].value is None or found[0].value > 0:
            return None  # a sign that was lost would promise warmth
        stored = (*(one for one in stored if one.reading.what != "outside_temp"), Stored(found[0], now))
        words.append(f"{found[0].value:g} °{found[0].unit or ('C' if mind.coach.units == 'metric' else 'F')} outside")
    if levels is not None:
        roles = [str(one.role) for one in mind.coach.propane.cylinders if one.role != "spare"]
        if len(levels) > len(roles):
            return None
        read: list[Reading] = []
        for role, level in zip(roles, levels, strict=False):
            unit = _unit(level, state, mind)
            if unit is None:
                return f"Is {level} percent or pounds? Ask again with that."
            told = [one for one in mind.readings_in(f"{role} cylinder {level}{unit}").readings if one.what == "propane"]
            if len(told) != 1 or told[0].value is None:
                return None
            read.append(replace(told[0], which=role))
        stored = (*(one for one in stored if one.reading.what != "propane"), *(Stored(one, now) for one in read))
        names = " and ".join(f"{level}{_unit(level, state, mind) or ''}" for level in levels)
        words.insert(0, f"one cylinder at {names}" if len(levels) == 1 else f"cylinders at {names}")
    return _Supposed(stored, tuple(words))


def _unit(level: str, state: State, mind: Mind) -> str | None:
    """The unit to put behind a level: none where it has one; None where percent and pounds are both possible."""
    if not re.fullmatch(_NUM, level):
        return ""
    read = [
        one.value for one in mind.readings_in(f"outside cylinder {level} percent").readings if one.what == "propane"
    ]
    value = read[0] if read else None
    if value is None:
        return " percent"
    for held in reversed(state.stored):
        if held.reading.what == "propane" and held.reading.value == value:
            return {"percent": " percent", "lb": " pounds"}.get(held.reading.unit or "")
    most = max(one.nominal_lb for one in mind.coach.propane.cylinders)
    return " percent" if value > most else None


def _told(
    state: State, text: str, said: str, supposed: _Supposed, left: Estimate, until: str, mind: Mind, now: datetime
) -> Outcome:
    from cabassist.sums.working import Worked

    value, low, high = left.value or 0.0, left.low or 0.0, left.high or 0.0
    with_ = f"With {' and '.join(supposed.words)}: "
    lasts = f"the heat lasts about {roughly(value)}, between {roughly(low)} and {roughly(high)}"
    if until:
        then = gas_until.until_when(f"x {until}", now)
        hours = (then - now).total_seconds() / 3600
        word = "Yes" if low >= hours else "No" if value < hours else "Not surely"
        by_amount = ", by the amount of gas" if word == "Yes" and _hardly_boils(supposed) else ""
        lines = [f"{word}{by_amount}. {with_}{lasts}; it is {roughly(hours)} until {then:%H:%M}."]
        if word != "Yes":
            lines.append("Fill before the night, or have other warmth ready.")
    else:
        lines = [f"{with_}{lasts}."]
    if _hardly_boils(supposed):
        lines.append(SLOW_GAS)
    if not any(one.reading.what == "passengers" for one in state.stored):
        lines.append(
            f"That counts {mind.coach.people.usual_passengers} people aboard, who warm it. Nothing of it is stored."
        )
    else:
        lines.append("Nothing of it is stored.")
    outcome = gas_until.replied(state, tuple(lines), "calculation", mind)
    told = replace(left, verdict=lines[0])
    event = EventDraft("worked-out", {"said": text, "calculation": "propane-days-left", "value": round(value, 2), "asked": ""})  # fmt: skip
    after = replace(outcome.state, question=text, worked=Worked("propane-days-left", None, told))
    return Outcome(after, replace(outcome.reply, estimate=told), (event,))


def _hardly_boils(supposed: _Supposed) -> bool:
    """Whether it is so cold that the amount of gas alone promises nothing."""
    out = next((one.reading for one in reversed(supposed.stored) if one.reading.what == "outside_temp"), None)
    if out is None or out.value is None:
        return False
    return (out.value * 1.8 + 32 if out.unit == "C" else out.value) <= SLOW_F


__all__ = ["asked", "own"]
