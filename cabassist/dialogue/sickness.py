"""One person aboard is sick to the stomach: "the kid in seat 4 is puking", "somebody's carsick".

There is no first aid here, but the same words may be the first sign of bad air, so what tells the two apart is said in one
breath. Several who are ill, a headache, sleep and engines are left to the danger, and what to mop with to its own procedure.
"""

from __future__ import annotations

from cabassist.dialogue import danger_first, properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_CUES = ("puk", "vomit", "throw", "threw", "barf", "sick", "nause", "queasy", "upchuck")
_ONE = r"(?:(?:the|a|one|this|that|my|our|some) )?(?:(?:little|young|small|other|sick|poor) )?(?:kids?|child|boy|girl|player|passenger|lad|guy|man|woman|lady|rookie|goalie|teenager|trainer|coach|manager|driver|teammate|somebody|someone|he|she|one of (?:the|our|my) [a-z]+)(?: (?:in|on|at|from) (?:(?:the|seat|bunk|row|number|back|front|upper|lower) ?)*(?:\d+|[a-z]+)?)?"
_SICK = Lazy(
    rf"\b{_ONE}(?:'s|s| is| has| just| keeps?| got| feels?| feeling| been| about to| going to| gonna| started| won't stop| says (?:he|she)(?:'s| is| feels))*(?: (?:all|really|so|a bit|very|getting|now))* (?:puk(?:ing|ed|es|e)|vomit(?:ing|ed|s)?|throw(?:ing|s|n)? up|threw up|barf(?:ing|ed|s)?|upchuck\w*|(?:car|motion|travel|bus|coach) ?sick|sick to (?:his|her|the) stomach|nauseous|nauseated|queasy|being sick|been sick|was sick|sick)\b"
)
_OTHER = Lazy(
    r"\b(?:head\w*|dizzy|faint\w*|collapsed|passed out|unconscious|woozy|drowsy|sleepy|slept|asleep|woke|wake|bunks?(?! \d)|generator|genny|engine|furnace|heater|exhaust|fumes?|alarm|detector|air|smell\w*|gas|blood|bleed\w*|hit|fell|they|them all|all of|everyone|everybody|half|several|two|three|four|five|six|both|another|more|mop\w*|clean\w*|bleach|bucket|carpet|floor|aisle|wipe|yesterday|last (?:night|week|trip|year)|sick (?:of|and tired|leave|note|day|pay|bay|bag)|seat rides|medication|medicine|pills?|if|alcohol|drunk|ate|eaten|drank|swallow\w*)\b"
)
_LINE = "One who is sick: gloves and a bag, and the next safe stop. I have no first aid. In pain, hard to rouse, a knock on the head, or it does not stop: call the emergency services. If a second one feels ill, or a head aches: everyone out into fresh air, for it may be carbon monoxide."


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """What to do for one who is sick, and when it may be the air; None for anything else and in a danger."""
    said = plain(text)
    if not names_any(said, _CUES) or danger_first.danger(state, mind) is not None:
        return None
    if not _SICK.search(said) or _OTHER.search(said):
        return None
    return properties.told(state, _LINE, mind)
