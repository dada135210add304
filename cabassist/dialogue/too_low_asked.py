"""Whether a tire's pressure or the battery's volts are too low: "a rear tire went down to 85, is that too low to drive", "is 11.9 volts bad".

Held against what the profile and the tables say, in one line, with the step in hand as it is. What is told is stored; a number that is
only asked about is not. Nobody is told to drive on a tire that loses air.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, telling, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.estimate.quantities import interpolated
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Heard

_JUDGED = r"(?:too (?:low|little|soft|flat|bad|high|much)|low|bad|ok|okay|fine|good|enough|all right|alright|safe|dangerous|a problem|normal|worrying|flat|dead|empty|charged)"
_TIRE = Lazy(
    r"\b(?:tires?|tyres?|steers?|duals?|(?:front|rear|left|right|inner|outer|inside|outside) (?:one|dual)|drives)\b"
)
_PSI = Lazy(r"(?<![/.\d])\b(?P<psi>\d{2,3}(?:\.\d)?)(?: (?:psi|pounds|lbs|p s i))?\b")
_UNIT = Lazy(r"\b(?:psi|pounds|lbs|p s i|pressure|air)\b|\b(?:is|reads|at|to) \d{2,3}\b")
_TIRE_ASKED = Lazy(
    rf"\b(?:is|it's|would|will) (?:that|it|this|\d+(?: (?:psi|pounds|lbs))?)(?: (?:be|really|way|already))* {_JUDGED}\b|\b(?:can|may|should|could) (?:i|we|it) (?:still |even |really )?(?:drive|go|roll|run|leave|use)\b|\b(?:too low|low enough|low|bad|safe|ok|okay|fine) to (?:drive|go|roll|run)\b|\bdo i (?:have|need) to (?:fill|air|stop)\b|\b(?:too low|ok|okay|bad|safe)$"
)
_OTHER_TIRE = Lazy(r"\b(?:degrees?|below|outside|temperature|cold|warm|miles|hours?|if|when|tomorrow|bleed|let|shoot|max|limit|sidewall|blow|bang|smok\w+|shred\w*|off the rim|bulg\w*)\b")  # fmt: skip
RUN_FLAT = 0.8
"""Below this share of its cold pressure a tire counts as run flat (from memory, as in the tire procedure)."""
GAUGE_PSI = 3.0
"""A hand gauge is trusted within this much (common practice, no source)."""

_NUMBER = r"(?P<volts>\d{1,2}(?:\.\d{1,2})?)"
_V = r"(?: ?(?:v|volts?))?"
_NIGHT = r"(?:all night(?: long)?|overnight|the (?:whole )?night|through (?:the )?night|tonight|till morning|until morning|(?:till|until|to) (?:six|seven|eight|[5-9])(?: in the morning| am)?|the night|a night)"
_BANK = r"(?:(?:on |from |off )?(?:the |our |my )?(?:house |coach |cabin )?(?:batter(?:y|ies)|bank))"
_LEAD = r"^(?:(?:so|and|but|ok|okay|hey|right|well|now|hmm|um|uh|then) )*"
_MAKE = r"(?:go|last|run|make it|get through|get by|hold|do|carry|stay|survive|see us through|carry us)"
_VOLTS_ASKED = Lazy(
    _LEAD
    + rf"(?:(?:is|are|would|will) {_BANK} (?:at |of )?(?P<bank>\d{{1,2}}(?:\.\d{{1,2}})?){_V} {_JUDGED}|(?:is|are) {_BANK} {_JUDGED} (?:at|with|on) (?P<bank2>\d{{1,2}}(?:\.\d{{1,2}})?){_V}|is {_NUMBER}{_V}(?: (?:on|at|in|from|for) {_BANK})? {_JUDGED}"
    rf"|{_BANK}(?:'s| is| are| at| reads| says| shows| was| down| to| it| only| just| now)+ (?P<told>\d{{1,2}}(?:\.\d{{1,2}})?){_V} (?:and |so )?(?:(?:is (?:that|it|this) )?{_JUDGED}(?: for {_NIGHT})?|will (?:it|that) {_MAKE}(?: us)? {_NIGHT}))"
    rf"(?: (?:for (?:{_NIGHT}|{_BANK}|a battery|us|now|it|the furnaces?)|{_NIGHT}|on {_BANK}|or (?:not|bad|good|ok|what)|at rest|then|now))*$"
)
_NIGHT_ASKED = Lazy(
    _LEAD
    + rf"(?:(?:can|will|could|would|does|do) (?:i|we|it|that|they|this|{_BANK}|the (?:heat|furnaces?)) (?:be able to )?{_MAKE}(?: us| on)*(?: {_NIGHT})?(?: (?:on|from|off|with) (?:just )?(?:the )?{_BANK})?(?: {_NIGHT})?|(?:is there )?enough (?:{_BANK} )?(?:for|to last) {_NIGHT}|how long(?: (?:can|will|do|does|would))?(?: (?:i|we|it|{_BANK}))?(?: {_MAKE})?(?: {_BANK})?)"
    rf" (?:at|with|on|from|when it's at|if it's at) (?:only |just )?(?:{_BANK} (?:at )?)?{_NUMBER}{_V}(?: (?:on|in|from) {_BANK})?(?: {_NIGHT})?(?: (?:then|now))*$"
)
_CUES = ("volt", "batter", "bank", " v ", ".")


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The verdict on a tire's pressure or on the battery's volts; None for anything else."""
    waits = state.asking.what if state.asking is not None else ""
    if waits in ("defect", "skip-reason", "out") or state.pending is not None:
        return None
    if danger_first.danger(state, mind) is not None or mind.wishes.find(text):
        return None
    said = re.sub(r"[?!,]+|\.(?= |$)", "", plain(text)).strip()
    return _tire(state, said, text, mind, now) or _bank(state, said, text, mind, now)


# -- tires -------------------------------------------------------------------------------------------------------


def _tire(state: State, said: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    if not names_any(said, ("tire", "tyre", "steer", "dual", "drives", "front", "rear")) or _OTHER_TIRE.search(said):
        return None
    if not _TIRE_ASKED.search(said):
        return None
    numbers = [one for one in _PSI.finditer(said) if 20 <= float(one["psi"]) <= 160]
    if len(numbers) != 1:
        return None
    psi = float(numbers[0]["psi"])
    wheels = mind.coach.wheels
    ends = {"front": wheels.front_psi, "rear": wheels.rear_psi}
    front, rear = re.search(r"\b(?:front|fronts|steers?)\b", said), re.search(r"\b(?:rear|rears|back|drives|duals?|inner|outer)\b", said)  # fmt: skip
    named = {end: due for end, due in ends.items() if (end == "front" and front) or (end == "rear" and rear)} or ends
    line = _verdict(psi, named)
    heard = mind.readings_in(text)
    tires = tuple(one for one in heard.readings if one.what == "tire_pressure" and one.value is not None)
    if not tires and not (_TIRE.search(said) and _UNIT.search(said)):
        return None  # a bare number beside a tire may be its tread
    told = not re.match(r"(?:(?:so|and|ok|okay|hey) )*(?:is|are|can|may|would|should|could)\b", said)
    if not tires or not told:
        return _standing(state, (line,), mind)
    state, echoes, events = telling.beside(Heard(tires), text, state, mind, now)
    outcome = _standing(state, (line,), mind)
    reply = replace(outcome.reply, show=(*echoes, *outcome.reply.show), readings=tires)
    return Outcome(outcome.state, reply, events)


def _verdict(psi: float, ends: dict[str, float]) -> str:
    """Held against the cold pressure of the ends it may be of; the worse one counts."""
    due_words = " or ".join(f"{due:g} of a cold {end} tire" for end, due in ends.items())
    most = max(ends.values())
    if psi >= most:
        return f"Not too low: {psi:g} psi is at or above the {due_words}. Read it cold; a warm tire hides a loss."
    if len(ends) == 1 and most - psi <= GAUGE_PSI:
        return f"Not too low: {psi:g} psi is {most - psi:g} below the {due_words}, as near as a gauge tells. Top it up; if it sinks again, it leaks and is mended first."
    by = f"{psi:g} psi is {most - psi:g} below the {due_words}" if len(ends) == 1 else f"{psi:g} psi is below the {due_words}"  # fmt: skip
    if psi < RUN_FLAT * min(ends.values()):
        return f"Too low: {by}, more than a fifth low, which counts as run flat. Do not drive on it and do not pump it up: a tire shop looks at it first (from memory)."
    return f"Too low to set off: {by}. Fill it, and see that it holds. If it loses air, it is mended before the coach moves (49 CFR 393.75). Say check the tires for how."


# -- the battery -------------------------------------------------------------------------------------------------


def _bank(state: State, said: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    if not names_any(f" {said} ", _CUES):
        return None
    found = _VOLTS_ASKED.match(said)
    night = _NIGHT_ASKED.match(said) if found is None else None
    if found is None and night is None:
        return None
    groups = found.groupdict() if found is not None else night.groupdict() if night is not None else {}
    told = groups.get("told")
    number = told or groups.get("bank") or groups.get("bank2") or groups.get("volts")
    nominal = mind.coach.house_battery.volts
    if number is None or not 0.8 * nominal <= float(number) <= 1.28 * nominal:
        return None
    if not (re.search(r"volt|batter|bank|\d ?v\b", said) or "." in number):
        return None
    lines = _charge(float(number), nominal, mind, night=night is not None or re.search(_NIGHT, said) is not None)
    if told is not None:
        heard = Heard(tuple(one for one in mind.readings_in(f"house battery {number} volts").readings))
        state, echoes, events = telling.beside(heard, text, state, mind, now)
        outcome = _standing(state, lines, mind)
        reply = replace(outcome.reply, show=(*echoes, *outcome.reply.show), readings=heard.readings)
        return Outcome(outcome.state, reply, events)
    return _standing(state, lines, mind)


def _charge(volts: float, nominal: float, mind: Mind, *, night: bool) -> tuple[str, ...]:
    """How full that is at rest, and what follows; for a night the load is asked for."""
    from cabassist.dialogue.accounts import CHARGING_V
    from cabassist.estimate.battery import BCI_SOURCE, REST_VOLTS

    of12 = volts * 12 / nominal
    (lowest, _), (highest, _) = REST_VOLTS[0], REST_VOLTS[-1]
    source = f"Source: {BCI_SOURCE}"
    if of12 > highest + CHARGING_V:
        return (f"{volts:g} volts is more than a rested battery has: it is being charged, or was just now.", source)
    share = interpolated(REST_VOLTS, min(max(of12, lowest), highest)) or 0.0
    percent = round(share * 20) * 5
    about = (
        f"{volts:g} volts at rest is about {percent} percent"
        if percent
        else f"{volts:g} volts at rest is empty or nearly so"
    )
    amp_hours = mind.coach.house_battery.capacity_ah
    if share < 0.25:
        first = f"Too low: {about}. Charge it now, by shore power or the engine; switch off all but the furnaces and the CO alarm."
    elif share < 0.55:
        first = f"That is low: {about}, and half is where to stop. Charge it before the night."
    else:
        first = f"That will do for now: {about}, some {amp_hours * (share - 0.5):.0f} amp hours above half."
    if not night:
        return (first, source)
    if share < 0.55:
        return (f"No, do not count on it for a night. {first}", "Tell me the amps that are drawn, and I work out the hours.", source)  # fmt: skip
    return (f"{first} Whether that lasts hangs on the load: tell me the amps, and I work out the hours.", source)


def _standing(state: State, lines: tuple[str, ...], mind: Mind) -> Outcome:
    """The lines, and the step in hand."""
    walk = state.walk
    still = (f"You are still at step {walk.number} of {len(walk.plan)}.",) if walk is not None else ()
    spoken = " ".join(line for line in (*lines, *still) if not line.startswith("Source"))
    return walking.control(replace(state, failures=0), spoken, lines=(*lines, *still))


__all__ = ["asked"]
