"""Whether the cylinder valves were told to be shut: by a walk past that step, or in so many words; and where it is said again.

With the valves shut there is no propane heat, whatever the gauges read. Whoever shut them in a hurry at night has forgotten it
when the heat is to be set, and the next driver never knew. After a leak nobody opens them again but on a technician's word.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import over_asked, phrases, walking
from cabassist.dialogue.still_shut import VALVES
from cabassist.dialogue.types import Mind, Outcome, State, ValvesShut, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare, plain

GAS = "propane-smell"
_SHUT_STEPS = Lazy(
    r"\bclose (?:the propane at )?\{propane\.shutoff_place\}|^Close the valve of (?:the second|every) cylinder"
)
_OPEN_STEPS = Lazy(r"\bopen the valve fully\b")
_VALVES = r"(?:(?:the |my |our |both |all |of |both of |all of |those |these )*(?:(?:gas|propane|lp|cylinder|bottle|tank) )?(?:valves|bottles|cylinders|propane|gas|lp)(?: (?:valves|bottles|cylinders|tanks|supply))?)"
_LEAD = r"^(?:(?:ok|okay|yes|yeah|yep|and|so|right|done|now|by the way|also|i think|since|because|after) )*"
_DID = r"(?:i|we|he|she|they|i've|we've|he's|she's|have|has|had|just|already|then|also|(?:the )?(?:\w+ driver|gas (?:man|guy|company)|technician|tech|mechanic|plumber|fire (?:service|crew|department|dept|guys|men)|firemen))"
_BY_HAND = Lazy(
    rf"{_LEAD}(?:(?:{_DID} )+(?:shut|cut)|(?:{_DID} )*(?:closed|turned|switched|screwed))(?: (?:off|down))? {_VALVES}(?: (?:off|down|shut|closed|tight))?(?: (?:earlier|before|tonight|last night|now|already|again|outside|at the locker|in the locker|by hand|yesterday|this morning))*(?: (?:so|how|and|what|but|because|when|after|since|can|do) .*)?$"
    rf"|{_LEAD}{_VALVES}(?:'s| is| are| was| were| has been| have been)? (?:now |all |both |still |already |been )*(?:off|shut|shut off|shut down|closed|turned off)(?: (?:now|again|tonight|at the (?:locker|bottles|cylinders|valves?)))*(?: (?:so|how|and|what|but|because|when|after|since|can|do) .*)?$"
)
_OPENED = Lazy(
    rf"{_LEAD}(?:{_DID} )*(?:opened|reopened|re-opened|turned|switched)(?: (?:on|up))? {_VALVES}(?: (?:on|back on|up|open|again|back|now|slowly|fully))*(?: (?:and|so|how) .*)?$"
    rf"|{_LEAD}{_VALVES}(?:'s| is| are| has been| have been)? (?:now |all |both |already |been |back )*(?:on|open|opened|turned on|back on|on again|open again|opened again)(?: (?:now|again))*(?: (?:and|so) .*)?$"
)
_NOT_SO = Lazy(
    r"\?|\b(?:not|\w+n't|if|before|once|unless|until|till|should|could|would|never|almost|about to|going to|will|i'll|can i|may i|want to|need to|forgot|remind)\b(?! (?:i|we) get)"
)
_ASKS = Lazy(
    r"^(?:(?:and|so|but|ok|okay) )*(?:is|are|did|do|does|have|has|should|can|could|must|how|what|where|when|why|which|who)\b"
)
_CUES = ("valve", "bottle", "cylinder", "propane", "gas", " lp")
_FIXED = Lazy(
    r"\b(?:fire|firemen|firefighters?|technician|tech|gas (?:man|guy|company)|plumber|mechanic|all clear|they)\b|\b(?:fixed|repaired|mended|replaced|tightened)\b"
)
"""A gas danger closed with such words had a leak, and was no skunk."""
HEAT = frozenset({"keep-cabin-warm", "furnace-will-not-light"})
MORNING = frozenset({"prepare-to-depart", "cold-start", "pre-trip-inspection", "hand-over-coach"})
_OF_HEAT = ("propane", "gas", "heat", "furnace", "cylinder", "bottle")
DAWN, NOON = 4, 12
_LEAST = timedelta(hours=3)


def after(before: State, outcome: Outcome, said: str, mind: Mind, now: datetime) -> Outcome:
    """The outcome, whose state holds whether the valves are shut; where heat, propane or the morning is spoken of, it is said."""
    valves = _told(before, outcome, said, mind, now)
    changed = valves != outcome.state.valves_shut
    if changed:
        event = EventDraft(VALVES, {"shut": valves is not None, "leak": valves is not None and valves.leak})
        outcome = Outcome(replace(outcome.state, valves_shut=valves), outcome.reply, (*outcome.events, event))
    if valves is None or outcome.reply.kind == "hazard":
        return outcome
    if _gas_left(before, outcome):
        return _said(outcome, at_end(valves, tested=_TESTED.search(plain(said)) is not None), first=False)
    if any(walk.topic in mind.knowledge.hazards for walk in outcome.state.walks):
        return outcome
    opened = outcome.reply.topic if outcome.reply.kind == "procedure" else None
    supply = outcome.reply.kind == "calculation" and _of_heat(outcome, said)
    if opened in HEAT or opened in MORNING or supply or _read_to(outcome, changed):
        return _said(outcome, (note(valves, now),), first=True)
    if DAWN <= now.hour < NOON and now - valves.at > _LEAST and valves.reminded != now.date():
        state = replace(outcome.state, valves_shut=valves._replace(reminded=now.date()))
        return _said(outcome._replace(state=state), (note(valves, now),), first=False)
    return outcome


def note(valves: ValvesShut, now: datetime) -> str:
    """That there is no propane heat, since when, and who may change that."""
    since = f"{valves.at:%H:%M}" if valves.at.date() == now.date() else f"{valves.at:%H:%M on %A}"
    line = f"The cylinder valves are shut since {since}: no propane heat."
    if valves.leak:
        return f"{line} They stay shut until a licensed propane technician has tested for leaks. Then tell me that the valves are open."
    return f"{line} Tell me when they are open."


def at_end(valves: ValvesShut, *, tested: bool = False) -> tuple[str, ...]:
    """What holds after a danger from gas."""
    if not valves.leak:
        return (
            "The cylinder valves are shut: no propane heat.",
            "Ask me how to get the heat back. Tell me when they are open.",
        )
    if tested:
        return (
            "The cylinder valves are still shut: no propane heat.",
            "Did the technician test every joint for leaks? Then let him open them. If not, they stay shut.",
            "Tell me when the valves are open.",
        )
    return (
        "The cylinder valves stay shut: no propane heat.",
        "First a licensed propane technician finds the leak, and tests. The fire service's word is for the air alone.",
        "Until then everyone sleeps in a building. For the water say: keep the fresh water from freezing.",
        "Tell me when the valves are open.",
    )  # fmt: skip


def _said(outcome: Outcome, lines: tuple[str, ...], *, first: bool) -> Outcome:
    """The reply with these lines, before what it says or after its first lines about the danger."""
    reply = outcome.reply
    show = (*lines, *reply.show) if first else (*reply.show, *lines)
    say = f"{lines[0]} {reply.say}" if first else f"{reply.say} {lines[0]}"
    return outcome._replace(reply=replace(reply, show=show, say=say))


def _gas_left(before: State, outcome: Outcome) -> bool:
    """Whether this turn ended a danger from gas."""
    was = any(walk.topic == GAS for walk in before.walks)
    return was and not any(walk.topic == GAS for walk in outcome.state.walks)


def _of_heat(outcome: Outcome, said: str) -> bool:
    """Whether a number is about the propane or the heat."""
    worked = outcome.state.worked
    about = f"{worked.calculation} {worked.topic or ''}" if worked is not None else ""
    return "propane" in about or names_any(bare(said), _OF_HEAT)


def _read_to(outcome: Outcome, changed: bool) -> bool:
    """Whether a cylinder's level was told, from which the time that it lasts is worked out."""
    return not changed and any(one.what == "propane" for one in outcome.reply.readings)


def _told(before: State, outcome: Outcome, said: str, mind: Mind, now: datetime) -> ValvesShut | None:
    """How the valves stand after this turn."""
    valves = before.valves_shut
    leak = any(walk.topic == GAS for walk in (*before.walks, *outcome.state.walks))
    words = plain(said)
    turned = in_words(said)
    if turned is not None:
        return (valves or ValvesShut(now, leak)) if turned else None
    for walk in before.walks:
        turned = _passed(walk, outcome, mind)
        if turned is not None:
            left_shut = (
                valves if valves is not None and valves.leak else None
            )  # no walk of the driver's is a technician
            valves = (valves or ValvesShut(now, leak)) if turned else left_shut
    if leak and _gas_left(before, outcome) and _FIXED.search(words):
        valves = (valves or ValvesShut(now, leak=True))._replace(leak=True)
    if valves is not None and not valves.leak and _walked(outcome.state):
        valves = valves._replace(leak=True)
    if valves is not None and _gas_left(before, outcome) and over_asked.explained_away(words):
        valves = valves._replace(leak=False)
    return valves


def _walked(state: State) -> bool:
    """Whether a danger from gas is open."""
    return any(walk.topic == GAS for walk in state.walks)


_PARTS = Lazy(r"[,;.!]+ +| and (?=(?:the|my|both|all|i|we|he|they|valves|gas|propane|bottles)\b)")


def in_words(said: str) -> bool | None:
    """Whether the valves are told to be shut (True) or open (False), in one of the clauses; None when neither."""
    if not names_any(said.lower(), _CUES):
        return None
    turned: bool | None = None
    for clause in _PARTS.split(said):
        words = plain(clause)
        if "?" in clause or _ASKS.match(words) or _NOT_SO.search(words):
            continue
        turned = False if _OPENED.match(words) else True if _BY_HAND.match(words) else turned
    return turned


_MORE = Lazy(r"\b(?:how|what|where|when|why|which|can|could|should|log|note|set|start|remind|next|done)\b|\?")


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """The acknowledgement of a plain report how the valves stand; None in a walk that turns them itself, or when more is asked."""
    turned, walk = in_words(text), state.walk
    if turned is None or _MORE.search(plain(text)):
        return None
    if walk is not None and (walk.topic in mind.knowledge.hazards or _turns(walk, mind)):
        return None
    if turned:
        lines = [
            "Noted: the cylinder valves are shut. No propane heat.",
            "If you smell gas, get everyone out and tell me.",
        ]
    elif state.valves_shut is not None and state.valves_shut.leak and not _TESTED.search(plain(text)):
        lines = [
            "Noted: the cylinder valves are open.",
            "Only a licensed technician's leak test makes that safe. Was there none? Close them again and tell me.",
        ]
    else:
        lines = [
            "Noted: the cylinder valves are open.",
            "Smell the air low down by the locker. A smell or hiss: walk away and tell me.",
        ]
    if walk is not None:
        lines.append(f"You are still at step {walk.number} of {len(walk.plan)}.")
    return walking.control(
        replace(state, failures=0, asking=None if walk is None else state.asking), " ".join(lines), lines=tuple(lines)
    )


_TESTED = Lazy(r"\b(?:gas (?:man|guy|company)|technician|tech|licensed|qualified|plumber)\b")


_SHOULD = Lazy(
    rf"^(?:(?:and|so|but|ok|okay|then|wait) )*(?:should|shall|do|can|could|must|may|what about|how about) (?:(?:i|we|he|she|you|someone) )?(?:need to |have to |go (?:and |back and )?|also |first |just )*(?:shut|shutting|close|closing|turn|turning|switch|switching|cut)(?: off| down)? {_VALVES}(?: off| down)?(?: (?:first|now|too|at the (?:locker|bottles)))*$"
)


def should(state: State, text: str, mind: Mind) -> Outcome | None:
    """Whether to shut the valves in a danger: on the way out, by its own step, and nobody goes back for it; else None."""
    danger = next((walk for walk in reversed(state.walks) if walk.topic in mind.knowledge.hazards), None)
    if danger is None or not names_any(text.lower(), _CUES) or not _SHOULD.match(plain(text)):
        return None
    procedure = mind.knowledge.procedure(danger.topic)
    shuts = [step for index, step in enumerate(procedure.steps) if index in danger.plan and _SHUT_STEPS.search(step.do)]
    if not shuts:
        return None
    here = phrases.filled(phrases.step_of(procedure, danger).do, mind.facts)
    lines = [phrases.caution_line(caution, mind.facts) for caution in shuts[0].cautions]
    lines += [phrases.filled(shuts[0].do, mind.facts), "Everyone out comes first. Nobody goes back for it."]
    lines.append(f"Step {danger.number} of {len(danger.plan)}: {here}")
    outcome = walking.control(replace(state, failures=0), " ".join(lines), lines=tuple(lines), topic=danger.topic)
    return outcome._replace(reply=replace(outcome.reply, kind="step", step=phrases.mark(danger)))


def _turns(walk: Walk, mind: Mind) -> bool:
    """Whether a walk has steps that shut or open the valves."""
    steps = mind.knowledge.procedure(walk.topic).steps
    return any(_SHUT_STEPS.search(step.do) or _OPEN_STEPS.search(step.do) for step in steps)


def _passed(walk: Walk, outcome: Outcome, mind: Mind) -> bool | None:
    """Whether a walk went past a step that shuts the valves (True) or opens them (False) in this turn."""
    later = next((one for one in outcome.state.walks if one.topic == walk.topic), None)
    ended = any(event.kind == "walk" and event.payload.get("move") == "end" for event in outcome.events)
    if later is None and not ended:
        return None
    jumped = any(event.kind == "walk" and event.payload.get("move") == "jump" for event in outcome.events)
    if jumped:
        return None  # what was jumped over was not done
    skipped = {skip.step for skip in later.skipped} if later is not None else set()
    skips = [skip for event in outcome.events for skip in event.payload.get("skipped") or () if isinstance(skip, dict)]
    skipped |= {skip["step"] - 1 for skip in skips}
    steps = mind.knowledge.procedure(walk.topic).steps
    turned: bool | None = None
    for place in range(walk.at, later.at if later is not None else len(walk.plan)):
        if walk.plan[place] in skipped:
            continue
        do = steps[walk.plan[place]].do
        turned = True if _SHUT_STEPS.search(do) else False if _OPEN_STEPS.search(do) else turned
    return turned
