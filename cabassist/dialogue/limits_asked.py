"""Limits and figures asked for in few words: axle weights, tread, torque again, CO, a bay's load, the generator's amps, what a tank holds.

With a procedure open or without, a number that the profile or a rule holds is told at once and the step in hand stays; what neither
holds is said to be not known, with where it stands written. Whoever asks for a limit reports nothing and wishes for nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

from cabassist.dialogue import danger_first, properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.dialogue.wholly import known
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain


class _Limit(NamedTuple):
    cues: tuple[str, ...]
    needs: tuple[Lazy, ...]
    words: frozenset[str]
    told: Callable[[Mind, str], str]
    topic: str


def _axle(mind: Mind, said: str) -> str:
    """No profile has it, and a guess would load an axle over its tires."""
    return (
        "The profile does not hold the axle limits. The maker's plate on the coach gives each axle, the sidewall each tire: the lower counts. "
        "On US interstates 20,000 pounds is the usual limit of one axle, with exceptions for buses (23 CFR 658.17, 49 CFR 393.75)."
    )


def _again(mind: Mind, said: str) -> str:
    return f"Torque them again after {mind.facts['wheels.recheck']}, to {mind.facts['wheels.torque']}. The coach's plate beats that."


def _tread(mind: Mind, said: str) -> str:
    front, others = (
        "A front tire needs at least 4 thirty-seconds of an inch",
        "the others at least 2 thirty-seconds",
    )
    rule = "in every major groove (49 CFR 393.75)"
    named = (
        re.search(r"\b(?:front|fronts|steers?)\b", said),
        re.search(r"\b(?:rears?|back|drives?|duals?|others?|tag)\b", said),
    )
    if named[0] and not named[1]:
        return f"{front} of tread, {rule}."
    if named[1] and not named[0]:
        return f"Tires that are not on the front axle need {others.removeprefix('the others ')} of an inch of tread, {rule}."
    return f"{front} of tread, {others}, {rule}."


def _bay_load(mind: Mind, said: str) -> str:
    return "The profile gives no weight limit for a bay, so none is known here. What the axles and tires may carry counts: the maker's plate, and a scale if in doubt."


def _co(mind: Mind, said: str) -> str:
    """No number is told to be safe: the alarm itself stays silent below 70."""
    return (
        "No number is safe: it should read 0. Any number aboard, an alarm or a headache: everyone out into fresh air, and tell me. "
        "Long-time limits at work are 25 to 50 ppm; 70 brings headaches, 150 and up can kill. An alarm may stay silent below 70 (UL 2034, OSHA, NIOSH)."
    )


def _amps(mind: Mind, said: str) -> str:
    generator, volts = mind.coach.generator, mind.coach.shore.volts
    if generator is None:
        return "This coach has no generator."
    return f"The generator gives {generator.watts:g} watts: about {generator.watts / volts:.0f} amps at {volts} volts, all loads together. Its own breakers may be smaller; the profile does not say."


def _holds(mind: Mind, said: str) -> str:
    """What the tanks that are named hold when they are full."""
    found = []
    for tank in mind.coach.tanks:
        of = _TANKS.get(tank.name, re.compile(rf"\b{re.escape(tank.name.replace('_', ' '))}\b"))
        if of.search(said):
            found.append(f"The {tank.name.replace('_', ' ')} tank holds {mind.facts.get(f'{tank.name}.capacity', f'{tank.capacity_gal:g} gallons')}.")  # fmt: skip
    if re.search(r"\b(?:diesel|fuel)\b", said):
        found.append(f"The diesel tank holds {mind.facts['diesel.capacity']}.")
    if re.search(r"\b(?:def|exhaust fluid)\b", said) and mind.coach.diesel.def_capacity_gal:
        found.append(f"The exhaust fluid tank holds {mind.facts.get('def.capacity', f'{mind.coach.diesel.def_capacity_gal:g} gallons')}.")  # fmt: skip
    return " ".join(found)


_TANKS = {
    "fresh": re.compile(
        r"\b(?:fresh|drinking|potable|clean)\b|(?<!waste )(?<!black )(?<!gray )(?<!grey )\bwater tank\b"
    ),
    "waste": re.compile(r"\b(?:waste|black|gr[ae]y|sewage|sewer|holding|dirty)\b"),
}
_WEIGHT = r"weight|weights|heav\w*|load\w*|limits?|rating|ratings|rated|pounds|carr(?:y|ies)|max\w*|most|gawr|gvwr"
_LIMITS: tuple[_Limit, ...] = tuple(
    _Limit(tuple(cues.split("|")), tuple(Lazy(need) for need in needs), frozenset(words.split()), told, topic)
    for cues, needs, words, told, topic in (
        ("axle|gawr|steer|drive|tag", (r"\b(?:axles?|gawr|steers?|drives?)\b", rf"\b(?:{_WEIGHT})\b", r"\b(?:axles?|gawr)\b|\bon the (?:steers?|drives?|front|rear)\b"),
            "axle axles gawr gvwr steer steers drive drives tag front rear back single tandem weight weights weigh heavy heaviest load loads loaded loading limit limits rating ratings rated pounds carry carries take takes max maximum most biggest largest highest greatest allowed allow allows permitted legal legally law hold put per each",
            _axle, "load-luggage"),
        ("torque|tighten|nuts|lugs", (r"\b(?:re ?torqu\w*|torqu\w*|re ?tighten\w*|tighten\w*|re ?check\w*|check\w*|nuts|lugs)\b", r"\b(?:when|miles|kilometers|km|how (?:far|soon|long|many)|after what|interval|distance|due)\b", r"\b(?:again|re ?torqu\w*|re ?check\w*|re ?tighten\w*|second time|after|next|interval)\b"),
            "torque torquing torqued retorque retorqued retorquing re tighten tightened tightening retighten check checked checking recheck rechecked wheel wheels lug lugs nut nuts bolts again next time second interval distance due miles mile kilometers km far soon long after before change changing changed tire tyre tires driving drive run new put back",
            _again, "torque-wheel-nuts"),
        ("tread|32nd|thirty", (r"\b(?:tread|treads|32nds|thirty ?seconds?)\b", r"\b(?:limit|limits|minimum|min|least|legal|how (?:much|many|deep|low|thin|worn)|what(?:'s|s)?|thirty ?seconds?|32nds?|depth|lowest|allowed|law)\b"),
            "tread depth deep limit limits minimum min least legal legally law lowest low thin worn allowed permitted thirty second seconds thirtysecond thirtyseconds 32nd 32nds 32 inch inches tire tires tyre tyres front fronts steer steers rear rears back drive drives dual duals tag axle left go down must before replace change changed keep drive run",
            _tread, "check-tires"),
        ("bay|locker|bays|compartment", (r"\b(?:bays?|lockers?|compartments?)\b", rf"\b(?:{_WEIGHT}|weigh)\b"),
            "bay bays locker lockers luggage compartment compartments baggage weight weights weigh heavy load loads loaded loading limit limits rating rated pounds pound carry carries take takes max maximum most biggest hold holds put allowed permitted per each floor 1 2 3 4 5 6 7 8 9 10 two three four five six seven eight nine stuff bags into go goes",
            _bay_load, "load-luggage"),
        ("generator|genset|gen set|gennie", (r"\b(?:generator|genset|gen set|gennie)(?:'s)?\b", r"\bamp(?:s|ere|eres|erage)?\b"),
            "generator generator's genset gen set gennie amp amps ampere amperes amperage output rating rated make makes give gives put puts out produce produces supply supplies deliver good handle capacity max maximum size run pull draw use off",
            _amps, "look-after-generator"),
        ("hold|capacity|fit|big|size|take|gallon|full|litre|liter", (r"\b(?:fresh|drinking|potable|clean|water tank|waste|black|gr[ae]y|sewage|sewer|holding|dirty|diesel|fuel|def)\b", r"\b(?:holds?|capacity|fits?|big|size|takes?|how (?:many|much) (?:gallons|liters|litres)|gallons when full|volume)\b", r"\btanks?\b|\bcapacity\b|\bholds?\b|\b(?:fresh|waste|diesel|fuel|def|black|gr[ae]y|water)(?:'s)? takes?\b"),
            "fresh drinking potable clean water waste black grey gray sewage sewer holding dirty diesel fuel def exhaust fluid tank tanks hold holds capacity fit fits big size take takes gallon gallons liter liters litre litres full volume total altogether when inside into",
            _holds, ""),
    )
)  # fmt: skip
_CO_ASKED = _Limit(
    ("co ", "co2", "monoxide", "ppm", "c o "),
    (Lazy(r"\b(?:co|c o|monoxide|ppm|parts per million)\b"), Lazy(r"\b(?:number|numbers|ppm|reading|readings|level|levels|how (?:high|much|many)|figure|limit|parts per million)\b"), Lazy(r"\b(?:bad|dangerous|danger|unsafe|harmful|deadly|lethal|worry|worried|worrying|safe|too (?:high|much)|ok|okay|normal|limit|kills?|allowed|concern|evacuate|out|serious|fine)\b"), Lazy(r"\b(?:what|which|how|whats|what's|when|tell me|limit)\b")),
    frozenset(
        "co c o carbon monoxide ppm parts per million number numbers reading readings level levels high much many figure limit bad dangerous danger unsafe harmful deadly lethal worry worried worrying start safe too ok okay normal kill kills allowed concern evacuate get everybody everyone out serious fine display meter alarm detector show shows go goes off before at what people us you air counts count considered".split()
    ),
    _co,
    "carbon-monoxide-alarm",
)  # fmt: skip
_NOW = Lazy(
    r"\b(?:take on|(?:is|are|how much|what) (?:there )?in|how (?:do|to|should) (?:i |we )?(?:do|check|torque)|are we|we are|am i at|is she|is it now|right now)\b"
)
"""Asks how it stands, which only a scale or a gauge tells."""
_DIGIT_OR_NOW = Lazy(r"\b(?:now|left|remaining|currently|reads|shows|says|it's|beeping|sounding|went|going)\b|\d")


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The limit that is asked for, or that it is not known; the walk in hand stays. None for anything else."""
    if _kept_for_other(state, mind):
        return None
    said = _said(text)
    for limit in _LIMITS:
        if (
            names_any(said, limit.cues)
            and not _NOW.search(said)
            and known(said, limit.needs, limit.words)
            and (line := limit.told(mind, said))
        ):
            topic = limit.topic or _tank_topic(said)
            kept = "capacity" if limit.told is _holds else ""
            known_topic = topic if topic in mind.knowledge.ids else ""
            return properties.told(state, line, mind, topic=known_topic, said=text, kept=kept)
    return None


def co_asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """What a number of carbon monoxide means in general, where no number, alarm or headache is told; None for anything else."""
    if _kept_for_other(state, mind):
        return None
    said = _said(text)
    if not names_any(f"{said} ", _CO_ASKED.cues) or _DIGIT_OR_NOW.search(said):
        return None
    if not known(said, _CO_ASKED.needs, _CO_ASKED.words):
        return None
    return properties.told(state, _co(mind, said), mind)


def _kept_for_other(state: State, mind: Mind) -> bool:
    """Whether free words are waited for, or a danger is not over."""
    waits = state.asking.what if state.asking is not None else ""
    return waits in ("defect", "skip-reason", "out") or danger_first.danger(state, mind) is not None


def _said(text: str) -> str:
    return re.sub(r"[?!.,]+(?= |$)", "", plain(text)).strip()


def _tank_topic(said: str) -> str:
    if _TANKS["waste"].search(said):
        return "check-waste-level"
    return "check-fresh-level" if _TANKS["fresh"].search(said) else ""


__all__ = ["asked", "co_asked"]
