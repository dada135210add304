"""How long a supply lasts, asked in words that its readers do not know: "does it fit till seven", "how long are the lights good for".

The question is put in plain words before anybody reads it. Each form is the whole utterance, so that nothing said beside it is lost;
"it" is only meant where a level was the last thing told.
"""

from __future__ import annotations

from cabassist.dialogue import danger_first
from cabassist.dialogue.types import Mind, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_LEAD = r"^(?:(?:so|and|but|ok|okay|well|right|now|then|hey|tell me|do you think|you think) )*"
_CLOCK = r"(?:(?:half past |quarter (?:past|to) )?(?:\d{1,2}(?:[: ]?[0-5]\d)?|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)(?: ?o'?clock)?(?: ?(?:a\.?m|p\.?m))?(?: (?:in the morning|tomorrow(?: morning)?|at night|tonight))?|(?:the |tomorrow )?morning|tomorrow|noon|midnight|breakfast)"
_TILL = rf"(?:(?:till|until|til|to|through to|up to) (?P<till>{_CLOCK})|(?P<night>overnight|all night|through the night|the (?:whole )?night|for the night))"
_FITS = Lazy(
    rf"{_LEAD}(?:(?:does|will|would|can|could|is|did) (?:it|that|this|the tank|that much|this much) (?:(?:all|still|be|really) )*(?:fit|fits|hold|go|reach|stretch|cover us|be good|good|ok|okay|fine|carry|carry us|see us|take us|work|work out|hold up)|is there (?:enough )?(?:room|space)(?: (?:left|in it|in the tank|enough))*|(?:are|will) (?:we|i) (?:be )?(?:good|ok|okay|fine|set|covered)|(?:do|will|can|would) (?:we|i) (?:make it|get there|get by|manage|hold out))(?: (?:with (?:it|that|this)|on (?:it|that|this)|like (?:this|that)|us|for us))* {_TILL}(?: (?:without (?:dumping|filling|a (?:dump|fill)|emptying(?: it)?)|or not|then|like this))*$"
)
_LIGHTS = r"(?:(?:the |our )?(?:lights?|power|juice|electric\w*|lamps|batter(?:y|ies) power|house power))"
_UNPLUGGED = r"(?:(?:with|without) (?:no |any |a |the )?(?:hook ?up|shore(?: power| line)?|plug|cord|outlet|power cord|charger|charging|connection|engine(?: running)?)|unplugged|not plugged in|off (?:the )?(?:shore(?: power)?|grid|cord|plug)|on (?:the )?(?:house )?batter(?:y|ies)(?: (?:alone|only))?|when (?:we're )?unplugged|while (?:we're )?unplugged|with nothing plugged in|dry camping|boondocking)"
_LIT = Lazy(
    rf"{_LEAD}(?:how (?:long|many hours) (?:are|is|will|do|does|can|would|could|have) (?:{_LIGHTS}(?: (?:be|stay|are|keep|going|good for|good|last|on|up|run|hold|hold out|work|lit))+|(?:we|i) (?:have|got|keep|run|use|get|leave) {_LIGHTS}(?: (?:for|on|going|left))*)|how (?:long|soon) (?:till|until|til|before) {_LIGHTS} (?:go|goes|die|dies|quit|run|runs|fail|fails|cut|give)(?: (?:out|off|down|dead))*|(?:how much time|how many hours of (?:light|power|juice))(?: (?:do|have|will) (?:we|i)(?: (?:have|get|got))?)?)(?: {_UNPLUGGED})*$"
)
_LIT_TILL = Lazy(
    rf"{_LEAD}(?:will|do|does|can|are) {_LIGHTS} (?:be )?(?:last|stay on|hold(?: out)?|make it|good|ok|run|hold up)(?: {_UNPLUGGED})* {_TILL}(?: {_UNPLUGGED})*$"
)
_FURNACES = r"(?:(?:both|the|our|the two|two|all) )*(?:furnaces?|heaters?)"
_NONSTOP = r"(?:non ?-?stop|without (?:stopping|a (?:break|stop|pause)|ever stopping|shutting off|cycling)|constant(?:ly)?|continuous(?:ly)?|flat out|full (?:blast|on|time|out)|on full|all the time|the whole time|never (?:stop|shut off|cycle|go off|quit)|don't (?:stop|shut off|cycle)|round the clock|straight(?: through)?|at full)"
_BURNS = Lazy(
    rf"{_LEAD}(?:(?:what |how long )?(?:if|with|when|suppose|supposing|say)|what about|how about) {_FURNACES}(?: (?:to|both|are|is|just|had to|have to|have|got|were|was|keep|kept|ran|runs?|running|on|going|burning?|burn))*(?: (?:all night(?: long)?|overnight|the whole night|through the night|tonight|till morning|until morning))* {_NONSTOP}(?: (?:all night(?: long)?|overnight|the whole night|through the night|tonight|till morning|until morning|at full|on full|how long (?:do we have|have we got|does it last|will it last|is that)|do we (?:make it|last)|does it last|then|though))*$"
    rf"|{_LEAD}how long (?:do we have|have we got|does it last|will (?:it|the (?:gas|propane)) last|is that) (?:if|with|when) {_FURNACES}(?: (?:are|is|run|running|on|going))* {_NONSTOP}$"
)
_BOTTLE_HEATS = Lazy(
    rf"{_LEAD}how long (?:will|does|would|can|do) (?:one|a|1)(?: single)?(?: (?P<size>\w+ pounds?))? full (?:propane )?(?:bottle|cylinder|tank)(?: of (?:propane|gas))? (?:heat|warm|keep) (?:her|it|us|them|this (?:thing|rig)|the (?:bus|coach|rig|cabin|bunks|place|team|kids|boys|girls))(?: warm| heated)?(?P<cold> (?:at|when it's|if it's|in) .*)?$"
)
_LEVELS = ("waste", "fresh", "propane", "diesel")


def spelled(state: State, text: str, mind: Mind) -> str:
    """The question in words that are read; the text itself for anything else, and in a danger."""
    said = plain(text)
    if state.pending is not None or not names_any(said, _CUES) or danger_first.danger(state, mind) is not None:
        return text
    if _LIT_TILL.match(said) or (_LIT.match(said) and (_ON_BATTERY.search(said) or _battery_told(state))):
        return "how long does the house battery last"
    last = state.last
    if (fits := _FITS.match(said)) is not None and last is not None and last.kind in ("reading", "calculation"):
        told = {one.what for one in state.told} if last.kind == "reading" else set()
        worked = state.worked.calculation if state.worked is not None and last.kind == "calculation" else ""
        if any(what in told or worked == f"{what}-hours" for what in _LEVELS):
            return f"will it last till {fits['till'] or 'morning'}"
    if (heats := _BOTTLE_HEATS.match(said)) is not None and heats["size"] is None:
        return f"how long does a full cylinder keep us warm{heats['cold'] or ''}"
    if _BURNS.match(said) and any(one.reading.what == "propane" for one in state.stored):
        return "how long with both furnaces flat out"
    return text


_CUES = ("till", "until", "til ", " to ", "overnight", "night", "light", "power", "juice", "electric", "lamp", "time", "furnace", "heater", "bottle", "cylinder", "tank")  # fmt: skip
_ON_BATTERY = Lazy(rf"\b(?:{_UNPLUGGED})\b")


def _battery_told(state: State) -> bool:
    """Whether the house battery was the last thing told."""
    return any(one.what == "house_battery" for one in state.told)
