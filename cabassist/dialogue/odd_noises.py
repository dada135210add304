"""Odd noises and puddles of the engine's fluids, told or asked about: what can be said, what cannot, and the offer to report a defect.

A noise is no diagnosis, so the answer says what to watch for and when to stop, never that it is harmless. Noises of gas, of alarms and of
brakes are known elsewhere, and so are faults told by the name of their part. Coolant on the ground keeps the coach where it is.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import danger_first, step_asked, walking
from cabassist.dialogue.types import Asking, Mind, Outcome, State
from cabassist.dialogue.wholly import known
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.record.defect_words import told_fault

DEFECT, FLUIDS = "report-a-defect", "check-fluids"
_LOUD = r"\b(?:nois\w*|sounds?|squeal\w*|squeak\w*|rattl\w*|clunk\w*|clank\w*|knock\w*|thump\w*|grind\w*|whin(?:e|es|ing)|rumbl\w*|humm?(?:s|ing)?|tick(?:s|ing)|click(?:s|ing)|screech\w*|vibrat\w*|scrap(?:e|es|ing))\b"
_ODD = r"\b(?:odd|weird|strange|funny|new|bad|unusual|different|squeal\w*|squeak\w*|rattl\w*|clunk\w*|clank\w*|knock\w*|thump\w*|grind\w*|whin(?:e|es|ing)|rumbl\w*|screech\w*|scrap\w*|ticking|clicking|vibrat\w*|what(?:'s|s)? (?:is )?(?:that|this|the) (?:noise|sound)|nois\w*)\b"
_NOISE_WORDS = frozenset(
    "noise noises noisy sound sounds sounding squeal squeals squealing squeaky squeak squeaks squeaking rattle rattles rattling clunk clunks clunking clank clanks clanking knock knocks knocking thump thumps thumping grind grinds grinding whine whines whining rumble rumbles rumbling hum hums humming tick ticking click clicking clicks screech screeches screeching vibrate vibrates vibrating vibration scrape scrapes scraping"
    " odd weird strange funny new bad unusual different loud quiet high low pitched metallic little big make makes making made hear hears heard hearing comes coming came came's keeps starts started stops stopped goes away"
    " back front rear underneath under below behind left right side middle engine motor belt fan outside up down hood bonnet floor wheels wheel road"
    " cold warm first start starting startup started morning running idle idling driving drive turning turn hood while when after until warms warmed every time mornings whole sometimes always today since yesterday last night"
    " mean means normal worry worried worrying about wrong cause causes causing do i do should bad serious dangerous ok okay stop go on something someplace somewhere kind sort type during over bumps speed faster slow brake brakes braking pedal press end minute minutes couple few seconds bit".split()
)  # fmt: skip
_OWN = Lazy(
    r"\b(?:pump|furnace|heater|generator|genset|toilet|tap|fridge|refrigerator|door|latch|bay|fans? in the|alarm|detector|beep\w*|chirp\w*|hiss\w*|buzz\w*|crackl\w*|bang\w*|pop\w*|boom|gas|propane|cylinder|bottle|people|team|kids?|snor\w*|phone|radio|tank|valve|hose|charger|inverter|microwave|bunk)\b"
)
"""What has a procedure or a danger of its own."""
_BELT = Lazy(r"\b(?:squeal\w*|squeak\w*|screech\w*|chirp\w*|whin(?:e|es|ing))\b")
_COLD_ENGINE = Lazy(r"\b(?:engine|motor|belt|cold|start\w*|morning\w*|warm\w*)\b")
BELT = (
    "A squeal from a cold engine is often a slipping belt; I cannot be sure (common practice, no source). Engine off before anyone looks or reaches in. "
    "A frayed, cracked or loose belt, a squeal that stays, a charge or heat lamp: do not drive, call the carrier's maintenance."
)
NOISE = (
    "I cannot tell from a noise what it is. A new noise while driving, braking or steering: stop at the next safe place and look at wheels, tires and what hangs down. "
    "Grinding, knocking, or a pull, smell, heat or warning lamp with it: do not go on, call the carrier's maintenance. Hissing or beeping: tell me just that."
)
BRAKE = (
    "A new noise under braking may be a brake worn through or dragging; I cannot tell which. Stop at the next safe place and carry nobody further: "
    "brakes must be in good order before a bus drives (49 CFR 392.7). Call the carrier's maintenance."
)
_PUDDLE = Lazy(
    r"\b(?:(?:green|greenish|orange|yellow green|neon|bright) (?:\w+ )?(?:puddles?|pool|stuff|fluid|liquid|drips?|dripping|spots?|water|stain|patch|goo)|(?:puddles?|pool|spots?|drips?|trail|patch|stain)(?: of| is| are)? (?:something |bright )?(?:green|greenish|orange|antifreeze|coolant)|(?:antifreeze|anti freeze|coolant)(?:'s| is| are)?(?: \w+){0,3}? (?:puddles?|pool|(?:under\w*|below|beneath)(?: the| my| our)? (?:front|engine|motor|radiator|bumper|coach|bus|nose|rig|grille|middle|back|rear|us|her)|on the (?:ground|snow|road|floor|ice|pavement|asphalt|lot)|in the snow|dripping|drips|leaking|running out|coming out|pouring|all over)|(?:losing|lost|loses|leaking) (?:coolant|antifreeze|anti freeze)|puddle (?:\w+ ){0,3}smells sweet|sweet smelling (?:puddle|fluid|liquid|stuff))\b"
)
_UNDER = Lazy(
    r"\b(?:under\w*|below|beneath|behind|front|engine|motor|radiator|bumper|nose|axle|coolant|anti ?freeze)\b"
)
_NO_PUDDLE = Lazy(
    r"\b(?:may|can|could|want|store|nobody|lot|snowbank|lines|bucket|marks?|write|log|note|put it|plumbing|extension|plug|runny|level|no|not|never|isn't|aren't|without|if|when|where|how|why do|buy|need|needs|put|pour|add|top|spare|crate|bay|pink|potable|rv|winteriz\w*|flush\w*|trap|drain\w*|toilet|sink|steam\w*|hot|spray\w*|burn\w*|smok\w*|fire|inside the|cabin|bunk|galley|mended|fixed|hose|dump\w*|station|pump|last (?:week|month|year)|was)\b"
)
_LOGGED = Lazy(r"\b(?:coolant|antifreeze) (?:leak\w*|drip\w*|spot)|\bleak\w* (?:coolant|antifreeze)\b")
"""The record's own words for a leak, which it logs."""
COOLANT = (
    "Most likely that is coolant: do not drive on. Engine off, and leave the cap shut until it is cold. Without coolant the engine is ruined in minutes.",
    "Keep people and animals off it: antifreeze is poison. Call the carrier's maintenance; the level is looked at in check the engine's fluids.",
)


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """What is known of an odd noise or of coolant on the ground, with the report of a defect offered; None for anything else."""
    waits = state.asking.what if state.asking is not None else ""
    if waits in ("defect", "skip-reason", "out") or danger_first.danger(state, mind) is not None:
        return None
    if mind.wishes.find(text) or len(text.split()) > MOST_WORDS:
        return None
    said = plain(text)
    if names_any(said, ("puddle", "pool", "green", "orange", "antifreeze", "anti freeze", "coolant", "sweet")):
        if _PUDDLE.search(said) and _UNDER.search(said) and not _NO_PUDDLE.search(said) and not _LOGGED.search(said):
            return _offering(state, COOLANT, mind)
    if _OWN.search(said) or told_fault(text, mind.defect_words) is not None:
        return None
    if not known(said, (Lazy(_LOUD), Lazy(_ODD)), _NOISE_WORDS, told=True):
        return None
    if names_any(said, ("brak", "pedal")):
        return _offering(state, (BRAKE,), mind)
    of_belt = _BELT.search(said) and _COLD_ENGINE.search(said)
    if of_belt:
        return _offering(state, (BELT,), mind)
    if state.walk is None or not _HEARD.search(said) or _NORMAL.search(said):
        return None  # with no walk in hand the usual answer, or a choice, comes with it: `beside`
    return _offering(state, (NOISE,), mind)


_HEARD = Lazy(r"\b(?:noises?|sounds?|hear|there's an?|there is an?|something(?:'s| is)?)\b")
_NORMAL = Lazy(r"\b(?:normal|that clicking|is (?:a|the|that)|not|no)\b")


def beside(state: State, text: str, outcome: Outcome, mind: Mind) -> Outcome:
    """The outcome, with what can be said of a noise before a choice or before that nothing is known."""
    reply, said = outcome.reply, plain(text)
    if state.walk is not None or outcome.state.walk is not None or reply.kind not in ("clarify", "unknown"):
        return outcome
    if set(reply.options) & mind.knowledge.hazards or len(text.split()) > MOST_WORDS or not names_any(said, _NOISY):
        return outcome
    if (
        not _HEARD.search(said)
        or _OWN.search(said)
        or not known(said, (Lazy(_LOUD), Lazy(_ODD)), _NOISE_WORDS, told=True)
    ):
        return outcome
    return outcome._replace(reply=replace(reply, say=f"{NOISE} {reply.say}", show=(NOISE, *reply.show)))


_NOISY = ("nois", "sound", "squea", "rattl", "clunk", "clank", "knock", "thump", "grind", "whin", "rumbl", "hum", "tick", "click", "screech", "vibrat", "scrap")  # fmt: skip
MOST_WORDS = 22


def _offering(state: State, lines: tuple[str, ...], mind: Mind) -> Outcome:
    """The lines, the report of a defect offered, and the step in hand as it is."""
    walk = state.walk
    options = (DEFECT,) if DEFECT in mind.knowledge.ids else ()
    offer = ("Nothing is logged yet. Say yes to report a defect.",) if options else ()
    still = (f"You are still at step {walk.number} of {len(walk.plan)}.",) if walk is not None else ()
    shown = (*lines, *offer, *still)
    said = step_asked.IN_PASSING if walk is not None else ""
    asking = Asking("choice", options, said=said) if options else state.asking
    outcome = walking.control(replace(state, asking=asking, failures=0), " ".join(shown), lines=shown, topic=None)
    return outcome._replace(reply=replace(outcome.reply, options=options, nearest=options))


__all__ = ["told"]
