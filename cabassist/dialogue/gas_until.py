"""What heating costs in propane until a time of day, and what is left then: "what does that cost in propane", "how much is left by 8".

The board knows how fast the propane goes at the temperature that was told; a sum of the burners' labels would be several times
as much. A time of day in such a question is never an amount.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import phrases, reminders
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.estimate.quantities import roughly
from cabassist.estimate.types import Estimate
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_CUES = ("propane", "gas", "heat", "furnace", "lpg", "bottle", "cylinder", "pounds", "lbs", "burn")
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|now|hey|well|then|um|uh|tell me|roughly|about) )*"
_GAS = r"(?:propane|lp ?gas|lpg|gas|pounds(?: of (?:propane|gas))?|lbs(?: of (?:propane|gas))?)"
_HEAT = r"(?:that|this|it|we|the night|a night|one night|tonight|(?:the |our |both |two )?(?:heat|heating|heaters?|furnaces?)|(?:running|keeping|having|leaving) (?:the |our |both )?(?:heat|heating|heaters?|furnaces?)(?: on| running| going)?|heating(?: (?:the |this )?(?:coach|bus|cabin))?|keeping (?:it|the (?:coach|cabin|bus)) warm|a night of heat(?:ing)?)"
_USE = r"(?:cost|use|burn|take|need|eat|go through|use up|burn up|burn through|get through|consume)s?(?: (?:us|me))?"
_CLOCK = r"(?:(?:until|till|til|to|by|at|before|through to|up to) (?:about |around )?(?:(?:half past |quarter (?:past|to) )?(?:\d{1,2}(?:[: ]?[0-5]\d)?|six|seven|eight|nine|ten|eleven|twelve|five|four)(?: ?o'?clock)?(?: ?(?:a\.?m|p\.?m))?(?: in the morning| tomorrow(?: morning)?)?|noon|midday|(?:the |tomorrow )?morning|sunrise|daylight|departure|breakfast|we (?:leave|go|roll|depart)|then))"
_NIGHT = r"(?:overnight|all night(?: long)?|tonight|through the night|(?:for |in )?(?:the|one|a) (?:whole )?night|this night)"
_WHEN = rf"(?: (?:{_CLOCK}|{_NIGHT}|at (?:this|that) (?:temp|temperature|setting)|at 62|for us|about|roughly|now|from now))*"
_COST = Lazy(
    rf"{_LEAD}(?:what(?:'s|s)? (?:does|do|will|would|is|'ll)? ?{_HEAT}{_WHEN} {_USE}(?: (?:in|of) {_GAS})?{_WHEN}"
    rf"|what(?:'s|s| is| would be| will be)? (?:the )?(?:cost in {_GAS}|{_GAS} (?:cost|use|bill|burn)|burn)(?: (?:of|for|to|from))?(?: {_HEAT})?{_WHEN}"
    rf"|how much(?: (?:does|do|will|would|is))? {_HEAT}{_WHEN} {_USE} (?:in|of) {_GAS}{_WHEN}"
    rf"|how (?:much|many) {_GAS}(?: (?:does|do|will|would|is|are|'ll))? {_HEAT}{_WHEN} {_USE}{_WHEN}"
    rf"|how (?:much|many) {_GAS} (?:to|for|would it take to|does it take to) (?:heat|keep|run|running|heating|keeping)\b[a-z ]*?{_WHEN}"
    rf"|how (?:much|many) {_GAS}(?: (?:will|would|does|do))? (?:be |get |gets )?(?:go|goes|burned|burnt|used|gone)(?: up)?{_WHEN})$"
)
_LEFT = Lazy(
    rf"{_LEAD}(?:how (?:much|many) {_GAS}(?: (?:will|would|do|does|is|are|'ll))?(?: (?:we|i|there|it|be|still|have))* (?:left|remain|remaining|in (?:the (?:tanks?|bottles?|cylinders?)))"
    rf"|what(?:'s|s| is| will| will be|'ll be)?(?: (?:be|the))* (?:{_GAS}(?: level)? (?:be )?(?:at|down to)|left of the {_GAS}|{_GAS} left)) {_CLOCK}{_WHEN}$"
)
_HELD = r"(?:propane|lp ?gas|lpg|gas|heat)"
_LASTS = r"(?:last|hold|hold out|do|be enough|get us(?: through)?|see us through|carry us|make it|keep us warm|stretch|reach|go)(?: us)?"
_ENOUGH = Lazy(
    rf"{_LEAD}(?:(?:will|would|does|can|could|is) (?:the |our |my |this |that |what )*(?:{_HELD}|cylinders?|bottles?)(?: (?:we have|we've got|i have|left|that's left|on board|aboard|both|alone|going to|gonna|really|surely))* (?:{_LASTS}|enough(?: (?:for us|to last|to hold))?)"
    rf"|(?:is there|is that|have (?:we|i)(?: got)?|do (?:we|i) have|(?:we|i) got|there's|got)(?: still)? enough (?:of the )?{_HELD}(?: left)?(?: (?:for us|to last|to hold|to get|to make it|to heat|for heat))*"
    rf"|(?:will|can|do|would) (?:we|i) (?:make it|last|hold out|get there|have heat|stay warm)(?: (?:on|with) (?:this|the|that|our) {_HELD})?)"
    rf"(?: (?:about|roughly|at this rate|like this|through|all the way|for))*(?: (?:{_CLOCK}|{_NIGHT}))+(?: (?:on|with) (?:this|the|that|our) {_HELD})?$"
)
_NAMES_GAS = Lazy(r"\b(?:propane|gas|lpg|lp|pounds|lbs)\b")
_TIME = Lazy(rf"\b{_CLOCK}")
MORNING_H = 8
"""When the night ends, where no time was said."""


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The answer from the board; what it lacks is asked for. None for any other question."""
    said = plain(text)
    if not names_any(said, _CUES) or state.pending is not None:
        return None
    enough = (
        _ENOUGH.match(said) is not None
        and _NAMES_GAS.search(said) is not None
        and _OTHER_AMOUNT.search(_TIME.sub("", said)) is None
    )
    left = _LEFT.match(said)
    if left is None and not enough and (_COST.match(said) is None or not _NAMES_GAS.search(said)):
        return None
    from cabassist.dialogue.accounts import Accounts
    from cabassist.estimate.ledger import entry
    from cabassist.estimate.quantities import shown

    then = until_when(said, now)
    account, ask = Accounts(mind.coach, state.stored, now).account("propane")
    later, _ = Accounts(mind.coach, state.stored, then).account("propane")
    if account is None or later is None:
        words = ask or "Tell me the propane level and the outside temperature, and I work it out."
        return replied(state, (words,), "clarify", mind)
    made = entry(account, now)
    if enough:
        return _enough(state, text, made.left, then, now, mind)
    per, unit = account.written.per_amount, account.written.amount
    holds, stays = made.level * per, entry(later, then).level * per
    burned = holds - stays
    rate, low, high = (one or 0.0 for one in (made.rate.value, made.rate.low, made.rate.high))
    hours = (then - now).total_seconds() / 3600
    at = f"{then:%H:%M}"
    name = {"lb": "pounds", "kg": "kg"}.get(unit, unit)
    few, many = (burned * end / rate for end in (low, high)) if rate > 0 else (burned, burned)
    if stays <= 0:
        first = f"All {shown(holds, 2)} {name} may be gone before {at}."
    elif left is not None:
        first = f"About {shown(stays, 2)} {name} of propane left at {at}, of {shown(holds, 2)} now."
    else:
        first = f"About {shown(burned, 2)} {name} of propane until {at}, of your {shown(holds, 2)}."
    lines = [first]
    if stays > 0 and few > 0:
        lines.append(
            f"Between {shown(few, 2)} and {shown(many, 2)} {name} are burned; about {shown(burned / hours, 2)} an hour."
        )
    if many >= holds:
        lines.append("It may not last that long. Fill before the night, or have other warmth ready.")
    outcome = replied(state, tuple(lines), "calculation", mind)
    value = stays if left is not None else burned
    event = EventDraft(
        "worked-out", {"said": text, "calculation": "propane-until", "value": round(value, 2), "asked": ""}
    )
    return outcome._replace(state=replace(outcome.state, question=text), events=(event,))


_OTHER_AMOUNT = Lazy(r"\d|\b(?:half|quarter|third|dozen|pounds?|lbs?|gallons?|btus?|percent)\b")


def _enough(state: State, text: str, left: Estimate, then: datetime, now: datetime, mind: Mind) -> Outcome | None:
    """Whether it lasts until then, by the board: yes only where its early end is later."""
    if left.value is None or left.low is None or left.high is None:
        return None
    hours = (then - now).total_seconds() / 3600
    word = "Yes" if left.low >= hours else "No" if left.value < hours else "Not surely"
    lasts = f"the heat lasts about {roughly(left.value)}, between {roughly(left.low)} and {roughly(left.high)}"
    lines = [f"{word}: it is {roughly(hours)} until {then:%H:%M}, and {lasts}."]
    if word != "Yes":
        lines.append("Fill before the night, or have other warmth ready.")
    outcome = replied(state, tuple(lines), "calculation", mind)
    told = replace(left, verdict=lines[0])
    event = EventDraft(
        "worked-out", {"said": text, "calculation": "propane-until", "value": round(left.value, 2), "asked": ""}
    )
    reply = replace(outcome.reply, estimate=told)
    return outcome._replace(state=replace(outcome.state, question=text), reply=reply, events=(event,))


def until_when(said: str, now: datetime) -> datetime:
    """The moment that is asked about: the time of day that is said, else the morning."""
    found = _TIME.search(said)
    words = (
        re.sub(r"^(?:until|till|til|to|by|at|before|through to|up to) (?:about |around )?", "by ", found.group())
        if found
        else ""
    )
    moment = reminders.clock_of(words, now) if words else None
    if moment is not None:
        return moment
    morning = now.replace(hour=MORNING_H, minute=0, second=0, microsecond=0)
    return morning if morning > now else morning + timedelta(days=1)


def replied(state: State, lines: tuple[str, ...], kind: str, mind: Mind) -> Outcome:
    """The lines as a number ("calculation") or a question back ("clarify"), with where the walk in hand stands."""
    walk = state.walk
    standing = (f"You are at step {walk.number} of {len(walk.plan)}.",) if walk is not None else ()
    reply = Reply(
        "calculation" if kind == "calculation" else "clarify",
        " ".join(lines[:2]),
        (*lines, *standing),
        topic="read-propane-gauges",
        step=phrases.mark(walk) if walk is not None else None,
    )
    return Outcome(replace(state, failures=0), reply)


__all__ = ["asked", "replied", "until_when"]
