"""Rules of the road asked for: idling, a split of berth time with passengers, hours a day in Canada, a lamp that is out.

Such a question gets the rule with its source, or the word that the rule is local and not known here. It reports nothing, so nothing
is logged, and the step in hand stays. Whether the propane may stay on while driving is told by `gas_on_road.py`.
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
from cabassist.record.defects import open_defects

HOURS, DEFECT = "plan-driving-hours", "report-a-defect"
IDLING = "Idling rules are set by state, city or site, and I do not hold them: read the signs and ask the site or the carrier. Many allow only a few minutes, some more in hard cold (common practice, no source)."
BERTH = (
    "Yes, bus drivers may split it: two rests in the berth that make 8 hours in all, neither under 2 hours (49 CFR 395.1(g)(3)). "
    "The bunk must be a legal sleeper berth (49 CFR 393.76); a team bunk may not count, so ask the carrier."
)
CANADA = (
    "In Canada south of 60 degrees north: at most 13 hours of driving and 14 on duty in a day, with 10 hours off, 8 of them in a row before you drive again. "
    "No driving past 16 hours from the start of the shift (SOR/2005-313). North of 60 other limits hold; ask the carrier which are yours."
)
LAMP = "No. Lamps that the rules require, marker and clearance lamps too, must all work before a bus drives (49 CFR 392.7, 393.9). Mend it first, or ask the carrier's maintenance. Nothing is logged by asking."


class _Rule(NamedTuple):
    cues: tuple[str, ...]
    needs: tuple[Lazy, ...]
    words: frozenset[str]
    told: Callable[[str], str]
    topic: str


_ALLOWED = r"\b(?:legal\w*|illegal|law|laws|allow\w*|permitted|may|can|could|ok|okay|rules?|ticket\w*|fin(?:e|ed|es)|limits?|against|get away|forbidden|banned|all right|alright|fine|must|should|have to|need)\b"
_MAY = "legal legally illegal law laws allow allows allowed permitted ok okay rule rules ticket ticketed tickets fine fined fines limit limits limited against forbidden banned alright right away police cop cops dot".split()
_RULES: tuple[_Rule, ...] = tuple(
    _Rule(tuple(cues.split("|")), tuple(Lazy(need) for need in needs), frozenset([*_MAY, *words.split()]), told, topic)
    for cues, needs, words, told, topic in (
        ("idl", (r"\bidl(?:e|es|ed|ing)\b", rf"{_ALLOWED}|\bhow long\b|\bhow many minutes\b|\bregulations?\b|\brestrictions?\b"),
            "idle idles idled idling engine motor leave leaving let keep run running regulation regulations restriction restrictions anti long minutes hours many time city town state province lot parked parking night overnight all place area site school hotel street stopped standing stop diesel waiting minute have before about up",
            lambda said: IDLING, ""),
        ("sleeper|berth|split", (r"\bsplit\w*\b", r"\b(?:sleeper|berth|sleep|rest|off ?duty|off duty|8|eight|2|two|7|3|seven|three)\b", rf"{_ALLOWED}|\b(?:how|what|what's|do|does|work\w*|count\w*|apply|applies|is)\b", r"\b(?:sleeper|berth)\b|\bpassengers?\b|\bbus(?:es)?\b"),
            "split splits splitting sleeper berth berths sleep time rest rests off duty hours hour 8 2 7 3 10 eight two seven three ten work works working count counts apply applies passenger passengers people carrying carrier carriers bus buses motorcoach team board aboard onboard two drivers' driver's use take do rule into up two-hour still provision option",
            lambda said: BERTH, HOURS),
        ("canad", (r"\bcanad\w+\b", r"\b(?:hours?|driv\w+|duty|hos|long|shift|day)\b", r"\b(?:hours?|hos|long|limit\w*|rules?|law|max\w*|most)\b"),
            "canada canadian hours hour hos long drive drives driving driven duty shift day daily days a limit max maximum most work working service regulations many up there north border across cross over per can behind wheel before stop stopping off rest",
            lambda said: CANADA, HOURS),
        ("lamp|light|lite|marker|bulb|blinker|signal|reflector|headlamp", (r"\b(?:lamps?|lights?|lites?|markers?|bulbs?|blinkers?|signals?|reflectors?|headlights?|headlamps?|tail ?lights?|tail ?lamps?)\b", r"\b(?:out|dead|dark|burned|burnt|broken|missing|off|gone|not working|bust|busted|blown|doesn't work|cracked)\b", r"\b(?:legal\w*|illegal|allow\w*|permitted|may|can|could|ok|okay|ticket\w*|fined?|against|law|all right|alright|get away|must|rules?|have to)\b", r"\b(?:driv\w+|go|going|roll\w*|leave|run|running|move|on the road|law|legal|legally|illegal|ticket\w*|fined?|fix)\b"),
            "lamp lamps light lights lite lites marker markers clearance side roof running bulb bulbs blinker blinkers signal signals turn reflector reflectors headlight headlights headlamp tail taillight taillights brake stop plate license licence one two single out dead dark burned burnt broken missing off gone working bust busted blown doesn't work cracked drive driving go going roll rolling leave run move on road highway with front rear left back top upper lower fix fixed mend have before home next stop tonight day daylight still",
            lambda said: LAMP, DEFECT),
    )
)  # fmt: skip
_OTHER_LIGHT = Lazy(r"\b(?:warning|dash|galley|bunk|cabin|bay|reading|aisle|pilot|check engine|oil|abs|interior|inside) (?:lamps?|lights?)\b|\bpilot\b")  # fmt: skip
_HAS_TO = Lazy(
    r"\b(?:(?:does|do|should|must) (?:it|i|we|the engine) (?:have to |need to )?(?:let it |leave it )?idle|has to|leave it|before)\b"
)
"""Asks how long it takes to warm up, or means another engine."""


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The rule that is asked for, or that it is local; the walk in hand stays, and nothing is logged. None for anything else."""
    waits = state.asking.what if state.asking is not None else ""
    if waits in ("defect", "skip-reason", "out") or danger_first.danger(state, mind) is not None:
        return None
    said = re.sub(r"[?!.,]+(?= |$)", "", plain(text)).strip()
    for rule in _RULES:
        if not names_any(said, rule.cues) or not known(said, rule.needs, rule.words):
            continue
        if rule.told(said) is IDLING and _HAS_TO.search(said):
            return None
        if rule.topic == DEFECT and (_OTHER_LIGHT.search(said) or open_defects(state.record)):
            return None  # what is on record is answered with it
        topic = rule.topic if rule.topic in mind.knowledge.ids else ""
        line = rule.told(said)
        idle = mind.coach.diesel.idle_gal_per_h
        line += f" At idle this coach burns {idle:g} gallons an hour." if line is IDLING and "long" in said else ""
        return properties.told(state, line, mind, topic=topic, said=text)
    return None


__all__ = ["asked"]
