"""A smell that is told to be of sewage, and of nothing else: no escaping gas, no smoke and no spill.

Propane is given the smell of rotten eggs (49 CFR 192.625 asks as much of natural gas), which sewer gas has too; so a smell
of eggs, of gas, or one near anything that burns propane stays a danger.
"""

from __future__ import annotations

from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare

_SMELL = Lazy(
    r"\b(?:smell\w*|stink\w*|stank|stunk|reek\w*|odou?rs?|whiff\w*|pong\w*|stench|nasty smell|supposed to smell)\b"
)
_SEWAGE = (
    r"(?:sewage|sewer|septic|(?:black|gr[ae]y|waste|toilet) ?water|(?:waste|black|gr[ae]y|holding|sewage|toilet) tank|waste hose|sewer hose|toilets?|john|loo|bathroom|washroom|restroom|poo|poop|pee|urine"
    r"|outhouse|latrine|porta ?potty|drains?|shower drain|p ?trap)"
)
_OF_SEWAGE = Lazy(rf"\b{_SEWAGE}\b")
_ELSE = Lazy(
    r"\b(?:gas|gassy|propane|lpg|lp|eggs?|eggy|rotten|sul(?:f|ph)ur\w*|skunk\w*|garlic|exhaust|fumes?|smok\w*|burn\w*|fire|flames?|diesel|fuel|gasoline|hot|electric\w*|plastic|rubber|chemical\w*|bleach|chlorine|oil|sweet|coolant"
    r"|furnaces?|stove|oven|heater|cylinders?|bottles?|locker|regulator|engine|generator|battery|batteries|dizz\w*|sick|headache\w*|nause\w*|vomit\w*|faint\w*|alarm|beep\w*|hiss\w*"
    r"|spill\w*|spilt|leak\w*|overflow\w*|over ?flowing|puddle\w*|floor|carpet|ground|pavement|snow|parking|drip\w*|drib\w*|pour\w*|splash\w*|spray\w*|squirt\w*|running|backing|backed|coming (?:up|out|from|down)|all over|everywhere|burst|broke\w*|split|cracked|mess|bay|bays|under"
    r"|clothes|gloves?|hands?|skin|coat|face|eyes?|mouth|bunks?|bed|beds|mattress|pillows?|wall|seats?|fresh|drinking|tap|taps|faucet|sink water|plant|outside|out there|can't breathe|breathe)\b"
)
_DEED = Lazy(
    r"^(?:log|record|note|report|write|put|remind|add)\b|\b(?:how do (?:i|we)|how to|walk me|show me|need to|want to|let's|can i|can we|should i|where do)\b"
)
"""Asks for something to be done, not about the smell."""
_MOST_WORDS = 16


def of_sewage(text: str) -> bool:
    """Whether a text tells of a smell of sewage and of nothing that may be gas, smoke or a spill."""
    said = bare(text)
    if len(said.split()) > _MOST_WORDS or _ELSE.search(said) or _DEED.search(said):
        return False
    return _SMELL.search(said) is not None and _OF_SEWAGE.search(said) is not None
