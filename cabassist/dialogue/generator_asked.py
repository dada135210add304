"""How the generator is started or stopped and whether it runs: the engine drives it, so it has no starter of its own.

Whoever asks wants power, not the cleaning of its screens. What kills with an idling engine is said in the same breath.
"""

from __future__ import annotations

from cabassist.dialogue import danger_first, properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_CUES = ("generator", "genset", "gen set", "genny", "gennie", " gen ")
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|please|tell me|remind me|quick|um|uh|(?:can|could|would|will) you|i (?:want|need|have) to|i'd like to|we need to|let's|help me|is there a way to|what's the way to|show me how to|how to) )*"
_IT = r"(?:(?:the|our|my|this|that) )?(?:generator|gen ?set|genny|gennie|gen)"
_HOW = r"(?:(?:how|where|when|from where) (?:do|can|would|should|does|could|must) (?:i|we|you|one) )?"
_END = r"(?: (?:up|here|now|tonight|please|again|then|at night|in the cold|for (?:power|a bit|an hour|the night)|to (?:get|have) power|with the engine off|without the engine|by itself|from (?:here|inside|the cab|the dash)|or not|right now|at the moment|yet|still|while (?:we're )?parked|without starting the engine|manually))*$"
_START = Lazy(
    rf"{_LEAD}(?:{_HOW}(?:(?:start|fire|crank|run|power|boot|kick)(?: up)? {_IT}(?: up| going)?|(?:turn|switch|put|get|bring) (?:on {_IT}|{_IT} (?:on|going|started|running|up|to (?:run|start))))"
    rf"|(?:where(?:'s| is)|which is|what(?:'s| is)) (?:the )?(?:start(?:er)?|on|start(?:er)? (?:button|switch)|(?:start |on )?(?:button|switch|key))(?: (?:for|of|on|to start|that starts))? {_IT}|(?:how|what) (?:does {_IT} start|starts {_IT}|do you need to start {_IT})|(?:can|could|may) (?:i|we) (?:start|run|turn on) {_IT}|{_IT} (?:start(?:ing|up)?(?: procedure)?|won't start|on))(?:{_END[:-1]})$"
)
_ON = Lazy(
    rf"{_LEAD}(?:(?:is|was|isn't) {_IT} (?:on|running|going|working|off|making power)|(?:how|where) (?:do|can|would) (?:i|we|you) (?:tell|know|see)(?: if| whether| that)? {_IT}(?:'s| is)? (?:on|running|going|working)|(?:does|will) {_IT} (?:run|come on|work|make power|start)(?: (?:by itself|on its own|automatically|with the engine|when (?:we're|it's|i'm|the coach is) parked|when (?:the engine|it)(?:'s| is) off|all night|parked))*)(?:{_END[:-1]})$"
)
_OFF = Lazy(
    rf"{_LEAD}{_HOW}(?:(?:stop|kill|shut(?: down| off)?|turn off|switch off|cut) {_IT}(?: off| down)?|(?:turn|switch|shut|power) {_IT} (?:off|down)|{_IT} off)(?:{_END[:-1]})$"
)
_NIGHT = Lazy(
    rf"{_LEAD}(?:(?:can|may|could|should|do|is it (?:ok|okay|safe|fine)|ok|okay|safe)(?: (?:i|we|you))?(?: to| if (?:i|we))? )(?:run|leave|keep|have|use|let|idle) {_IT}(?: (?:on|running|going|run|idling))*(?: (?:all night(?: long)?|overnight|through the night|for the night|tonight|at night|till morning|until morning|while (?:they|we|people|the (?:team|kids|guys|others)|everybody|everyone|i)(?:'re| are| is|'m)? (?:sleep|asleep|sleeping|in (?:the )?bunks?|in bed|sleeps)))+(?:{_END[:-1]})$"
)
_NO_OUTLET = Lazy(
    r"\b(?:no|without(?: an?y?)?|isn't an?y?|aren't any|ain't (?:any|no)|don't have an?y?|haven't (?:got )?an?y?|not an?y?|nowhere to|can't|nothing to|never an?y?) (?:\w+ ){0,2}?(?:plug(?: |-)?ins?|plug|outlets?|hook ?ups?|hook up|shore(?: power| line)?|pedestals?|posts?|mains|power|electric\w*|sockets?|receptacles?|juice)\b"
)
_WANTED = Lazy(
    rf"\b(?:need|want|wanna|gotta|got to|have to|had better|better|would like|i'd like|like to|let's|can|could|may|how|when|where|get)\b(?: [\w']+){{0,6}}? {_IT}\b(?:(?: [\w']+){{0,3}}? (?:running|going|on|started|up|power\w*|fired up|to (?:run|start|work)|for (?:the )?(?:heat|power|lights|juice|loads))\b|$)"
    rf"|\b(?:use|using|run|running|live|living|power\w*|juice|electric\w*|heat|charge|go|going|operate|rely|lights|loads|things|everything|stuff|switch over|change over|get by)(?: [\w']+){{0,4}}? (?:off|on|from|with|by|through|to|out of) {_IT}\b|\buse {_IT}\b|\b(?:on|off) {_IT} power\b|\b(?:start|starting|fire up|firing up|crank up) {_IT}\b"
)
"""Its power is wanted, in a sentence of any shape."""
_UPKEEP = Lazy(
    r"\b(?:clean\w*|wip\w+|brush\w*|screens?|grilles?|hours?|meter|noise|noisy|loud|whin\w+|roar\w*|rattl\w+|smell\w*|smok\w*|leak\w*|fuel|diesel|oil|coolant|gallons?|hot|overheat\w*|won't|quit|quits|died|dies|dead|stopp\w+|shut|shuts|broke\w*|fault\w*|surg\w+|fans?|belts?|bay|bags?|servic\w+|maint\w+|check\w*|look after|inspect\w*|log|defect|watts?|amps?|volts?|kilowatts?|kw|how (?:long|much|many|big|strong|often)|percent|fill\w*|batter\w+|trip\w*|shock\w*|tingl\w*|dizzy|sick|headache\w*|faint|alarm|someone else|neighbou?r\w*|portable|don't need|no need|instead of|why)\b|\d"
)
_AT_NIGHT = Lazy(r"\b(?:night|overnight|tonight|sleep\w*|asleep|bunks?|bed|till morning|until morning)\b")
_INDOORS = Lazy(r"\b(?:in(?:side)? (?:a|the|this|our|here|of) ?(?:barn|garage|shed|shop|building|hall|warehouse|hangar|wash bay|tent)|indoors|closed (?:space|building|door)|doors? (?:shut|closed))\b")  # fmt: skip
_IDLE = "Never idle in a closed building, or by open vents while people sleep."


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """How the coach's own generator is had, seen and ended; None for anything else and in a danger."""
    said = plain(text)
    if not names_any(f" {said} ", _CUES) or danger_first.danger(state, mind) is not None:
        return None
    night = _NIGHT.match(said)
    starts, on, off = _START.match(said), _ON.match(said), _OFF.match(said)
    wanted = not (night or starts or on or off) and _wants_power(said, mind)
    if not (night or starts or on or off or wanted):
        return None
    if mind.coach.generator is None:
        return properties.told(state, "This coach has no generator.", mind)
    if night or (wanted and _AT_NIGHT.search(said)):
        line = "It runs only with the engine, and engine gas kills sleepers: never idle near open vents, windows or a doorway. Use shore power for the night."
        return properties.told(state, line, mind, topic="connect-shore-power", said=text)
    if wanted:
        first = "Not in here: engine gas kills in a closed building. Drive out first. " if _INDOORS.search(said) else ""
        place = mind.facts["shore.confirm_place"]
        line = f"{first}The engine drives the generator: start the engine, and it feeds the loads inside in place of shore power, {mind.coach.generator.watts:g} watts at most. {place[:1].upper()}{place[1:]} shows the power. {_IDLE}"
        return properties.told(state, line, mind, topic="cold-start", said=text)
    if starts:
        line = f"The generator has no starter: the engine drives it. Start the engine, and it gives power. {_IDLE}"
        return properties.told(state, line, mind, topic="cold-start", said=text)
    if off:
        return properties.told(state, "The engine drives the generator: stop the engine, and it stops.", mind)
    line = f"The engine drives it: it runs when the engine runs, and only then. For power inside, look at {mind.facts['shore.confirm_place']}."
    return properties.told(state, line, mind)


def _wants_power(said: str, mind: Mind) -> bool:
    """Whether a sentence of any shape wants the generator's power, and asks for no upkeep, no sum and tells of no trouble."""
    if _UPKEEP.search(_NO_OUTLET.sub(" ", said)) or mind.wishes.find(said):
        return False
    return _NO_OUTLET.search(said) is not None or _WANTED.search(said) is not None
