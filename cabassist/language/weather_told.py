"""The temperature outside, told plainly inside a longer sentence: "just got in, it's 24 below and blowing, now what"."""

from __future__ import annotations

from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_FIGURE = (
    r"(?:\d+(?:\.\d+)?|zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|(?:thir|four|fif|six|seven|eigh|nine)teen"
    r"|(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?)"
)
_SCALE = r"(?: ?(?:degrees?|deg|f|c|fahrenheit|celsius)\b)*"
_DEGREES = rf"(?:(?:minus |negative |-)?{_FIGURE}{_SCALE}(?: (?:below|above)(?: zero| freezing)?)?{_SCALE})"
_SAYS = (
    r"(?:it's|it is|its|it was|sitting at|we're at|we are at|woke (?:up )?to|(?:thermometer|gauge|dash|sign|bank sign) (?:says|reads|shows|said)|temp(?:erature)?(?: outside| out here)?(?:'s| is| of)?"
    r"|outside(?:'s| is| it's| temp is| temperature is)?)(?: (?:about|around|only|still|like|at|down to|nearly|almost|maybe|already|dropped to|now|just|roughly|a balmy|a cold))*"
)
_OUT = r"(?: (?:out (?:here|there)|out|outside|outdoors)\b(?! (?:of|the|my|our|a)\b))"
_TOLD = Lazy(
    rf"(?:^|(?<=[ ,]))(?:{_SAYS} (?P<a>{_DEGREES})(?P<out>{_OUT})?|(?<!past )(?<!at )(?<!by )(?<!to )(?P<b>{_DEGREES}){_OUT}|(?:^|(?<=, )|(?<=and ))(?P<c>{_FIGURE}{_SCALE} below)(?= (?:and|zero|with|but)\b|,|$)|(?<=, )(?P<d>(?:minus |negative ){_FIGURE}{_SCALE})(?= ?(?:[,;?]|$)))(?![\w%./:]| (?:hundred|thousand|point|and a|{_FIGURE})\b)"
)
_COLD = Lazy(r"\b(?:minus|negative|below|above|degrees?|deg|f|c|fahrenheit|celsius)\b|-\d|\d ?[fc]\b")
_NOT_NOW = Lazy(
    r"\b(?:if|when|once|forecast|forecasts|forecasted|tonight|tomorrow|overnight|going|gonna|supposed|expect\w*|will|would|might|may|could|calling|drops?|gets|goes|yesterday|last|was|rated|rating|until|unless|inside|cabin|indoors|fridge|freezer|thermostat|set|setpoint|water|tank|coolant|engine|oil|battery|suppose|say|at night|in here|(?:other|another|lead|second|next|their) (?:\w+ )?(?:coach|bus|rig)|(?:coach|bus|rig|team|crew) (?:ahead|behind|next|beside|in front)|below what|how (?:cold|long|many|much))\b"
)
_NOT_AFTER = Lazy(
    r"^(?: ?(?:percent|volts?|psi|amps?|watts?|hours?|minutes?|miles?|gallons?|pounds|inches|feet|people|o'?clock|am|pm|in here|inside|in the|on the|tonight|tomorrow|overnight|yesterday|last|by|forecast|the limit|the mark|the line|half|empty|full)\b|[%:/])"
)
_CLAUSE = Lazy(r"[,;.!?]| (?:and|but|so|because|cause|since) ")


_THINGS_OUT = Lazy(
    r"\b(?:one|two|three|four|1|2|3|4|both|all)(?: (?:of them|more))? out (?:front|back|behind|in|on|at|of|the|ahead|by|past|to|for|along|near)\b|\b(?:three|two|one|all) out,"
)
_WEATHER_SAID = Lazy(r"\b(?:degrees?|below|minus|above|zero|cold|temp\w*|thermometer|fahrenheit|celsius|it's|its)\b")


def things_out(text: str) -> bool:
    """Whether things stand out there, and no weather is told: "three out, one at ten feet", "with one out front"."""
    return _THINGS_OUT.search(text.lower()) is not None and not _WEATHER_SAID.search(plain(text))


def told_outside(text: str) -> str:
    """The words of a temperature that a text states to be that outside now, as a report of its own; else nothing."""
    if things_out(text):
        return ""
    lowered = " ".join(text.lower().replace("’", "'").replace("−", "-").split())
    for found in _TOLD.finditer(lowered):
        degrees = found["a"] or found["b"] or found["c"] or found["d"]
        out = found["out"] or found["b"]
        if not (out or _COLD.search(degrees)):
            continue
        starts = [one.end() for one in _CLAUSE.finditer(lowered) if one.end() <= found.start()]
        before = lowered[max(starts, default=0) : found.start()]
        after = lowered[found.end() :]
        until = _CLAUSE.search(after)
        rest = after[: until.start()] if until is not None else after
        if _NOT_NOW.search(before) or _NOT_AFTER.match(after) or _NOT_NOW.search(rest):
            continue
        return f"it's {plain(degrees)} outside"
    return ""


_CLOCK = Lazy(
    rf"\b(?:quarter|half|five|ten|twenty|\d+) (?:minutes )?(?:past|to|till|after) {_FIGURE} (?:out|outside)\b"
)


def is_clock(text: str) -> bool:
    """Whether the figure before "outside" is a time: "it's ten past nine outside the arena"."""
    return _CLOCK.search(plain(text)) is not None
