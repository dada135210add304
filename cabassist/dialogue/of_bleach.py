"""The bottle that is spoken of while the fresh tank is sanitized holds bleach: "bottle says 8.25", "all they sell is six percent"."""

from __future__ import annotations

from cabassist.dialogue.types import State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_TOPIC = "sanitize-fresh-tank"
_DIGITS = "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
_STRENGTH = rf"(?P<n{{0}}>1?\d(?:\.\d+)?|(?:{_DIGITS})(?: (?:and )?a (?:half|quarter)| (?:and )?three quarters| point(?: (?:oh|zero|{_DIGITS}|twenty[ -]five|seventy[ -]five))+)?)(?: ?(?:percent|per cent|%))?"
_SAYS = Lazy(
    r"\b(?:(?:the|this|my|our|that|a) )?(?:(?:jug|bottle|label|container|can|stuff)(?: (?:here|i got|i have|we have|we got|of it))?(?:'s| is| says| said| reads| shows|'s marked| is marked| has|'s got)(?: (?:at|only|about))?)"
    rf" {_STRENGTH.format('')}(?=$| (?:how|what|and|so|for|on)\b)"
)
_SOLD = Lazy(
    r"^(?:(?:and|so|but|ok|okay|well|what) )*(?:if )?(?:all|the only (?:kind|one|stuff|thing|bleach)) (?:they|i|we|he|the (?:store|shop|place)|you) (?:sell|sells|sold|have|has|had|got|find|could find|can find|can get|carry|carries|stock)(?:'s| is| was) "
    rf"{_STRENGTH.format('')}(?: (?:bleach|stuff|kind))?$"
)
_SAME = Lazy(
    r"^(?:(?:and|so|but|ok|okay|well|what about|how about) )*(?:the )?same (?:stuff|bleach|bottle|jug|kind|strength|one)(?: (?:but|and|for|with|only|just|if it's|at))* (?P<part>(?:a )?(?:half|third|quarter)(?: of)?(?: a| the)? (?:tank|tankful)|half full|a (?:third|quarter) full|three quarters(?: of a tank| full)?)(?: of (?:fresh )?water)?$"
)
_GAS = Lazy(r"\b(?:propane|lp|gas|cylinders?|furnaces?|pounds?|inside|outside|spare)\b")


def spoken_out(state: State, text: str) -> str:
    """The text with bleach named where a bottle and a strength are told of in that walk or after a dose of it; else the text."""
    dose = state.worked is not None and "bleach" in state.worked.calculation
    if not dose and (state.walk is None or state.walk.topic != _TOPIC):
        return text
    said = plain(text)
    if _GAS.search(said):
        return text
    if dose and (same := _SAME.match(said)) is not None:
        return f"and for {same['part']}"
    if dose and (sold := _SOLD.match(said)) is not None:
        return f"and if it's {sold['n']} percent"
    found = _SAYS.search(said)
    if found is None:
        return text
    rest = said[found.end() :].strip()
    return f"{said[: found.start()]}bleach is {found['n']} percent{'. ' + rest if rest else ''}"
