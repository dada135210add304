"""What is told to be in order and asks for nothing: "engine's off", "vents are clear of snow", "no leaks under the sink and the floor's dry".

Such a report opens no procedure. In a walk it is a step done only where it answers the step in hand; else it is acknowledged.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, phrases, progress, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

MOST_WORDS = 18
_LEAD = r"^(?:(?:ok|okay|so|and|well|right|alright|yeah|yep|yes|no|hey|oh|good|great|also|plus|then|now|fyi|by the way|just so you know|looks like|looked at it|checked|checked it|i checked|i see|i've got|we've got|we have|i have|there's|there is|there are|that) )*"
_OF = (
    r"(?:(?:the|my|our|both|all|all the|all of the|both of the|all our|that|this|these|those|every|each|each of the) )*"
)
_IS = r"(?:'s|'re|s)?(?: (?:is|are|was|were|has been|have been|look|looks|looking|seems?|feels?|sounds?|tests?|checks?(?: out)?|reads?|came out|turned out|runs?|works?|got))?(?: (?:all|now|both|still|just|really|very|nice and|pretty|perfectly|totally|also|already|been|looking|out|laid out|lying|sitting|hanging|standing|rolled out|lined up|nicely|completely|properly|back))*"
_WHERE = r"(?: (?:on|in|at|under|over|around|behind|by|of|to|from|along|for|up) (?:(?:the|my|our|it|that|each|every|all|both|ours?|either) ?)*(?:[a-z]+ ?){0,2}?)?"
_TAIL = r"(?: (?:too|as well|also|now|here|there|inside|outside|out here|in here|back here|back there|again|already|tonight|today|so far|all round|all around|all the way(?: (?:round|around|in|down|up))?|both sides|everywhere|anywhere|at all|then|just so you know|for now|either|still|by the way|so you know|fyi|or anything|on it|both of them|all of them|each|front and back|left and right|like it should|as it should(?: be)?|enough|thanks|by me))*$"
_GOOD = r"(?:fine|ok|okay|good|great|perfect|alright|all right|normal|in order|sound|solid|happy|as (?:it|they) should(?: be)?|like (?:it|they) should(?: be)?|working(?: (?:fine|well|again|ok|okay|right|properly))?|running (?:fine|well|smooth(?:ly)?|good|ok|okay)|tight|snug|dry|clean|clear(?: of (?:snow|ice|leaves|mud|people|traffic|everything|junk|slush))?|straight|level|green|legal|intact|undamaged|spotless|bone dry)"
_CLOSED = r"(?:latched|locked|shut|closed|sealed|secured?|stowed|capped|bolted|fastened|strapped(?: down| in)?|chocked|tied down|put away|packed(?: away)?|rolled up|coiled(?: up)?|unplugged|disconnected|unhooked|handed (?:over|in|back))"
_IN_PLACE = r"(?:in|in place|plugged in|hooked up|connected|seated|set|on tight|laid out)"
_PUT_OUT = r"(?:triangles?|cones?|mats?|legs?|steps?|flares?)"
_THINGS_IN = r"(?:block heater|engine heater|cord|cable|plug|shore cord|power cord|shore line|shore power|hose|pin|pins|key|keys|chocks?|wheel chocks?|pads?|blocks?|jacks?|legs?|stands?|cones?|triangles?|mats?|parking brake|brakes?|brake|steps?)"
_STOPS = r"(?:engine|motor|main engine|generator|genny|gen|gen ?set|pump|water pump|(?:[a-z]+ )?valves?|loads?|breakers?|main breaker|space heaters?|switch(?:es)?|inverter|ignition|burners?|stove|flashers|music|taps?|charger|appliances)"
_RUNS = r"(?:pump|water pump|heat tape|heat tapes|tape|fans?|exhaust fan|generator|genny|gloves|goggles|soap|parking brake|brake|brakes|flashers|hazard flashers|hazards|cap|caps|lid|cover|covers|strap|straps|block heater|charger|inverter|(?:green|charging|charge|power|pilot|shore|ready|running) (?:light|lamp|led)|(?:green|charging|power) (?:one|indicator))"
_NOUNS = r"(?:leaks?|drips?|dripping|kinks?|nicks?|cuts?|cracks?|scorch(?:ing| marks?)?|burn marks?|marks?|bubbles?|damage|rust|corrosion|wear|ice|snow|frost|puddles?|stains?|wet spots?|water on the floor|play|gaps?|bulges?|(?:warning )?(?:lights?|lamps?)(?= on)|codes?|faults?|problems?|trouble|issues?|complaints?|dents?|chips?|scratches|splits?|tears|frays?|fraying|rattles?|odd noises?|noises?|loose (?:ends|bolts|nuts|wires|parts|bits)|bare wires?|sharp edges|obstructions?|snags?|ice on (?:it|them))"
_AILING = r"(?:dim|loose|leaking|dripping|wet|cracked|bent|frozen|hot|warm|worn|split|torn|frayed|rusty|flickering|stuck|blocked|damaged|low|flat|kinked|iced up|icy|sagging|rubbing|broken|missing|out of place|burned|burnt|wrong|off|amiss)"
_THING = r"(?:(?!(?:i|he|she|him|her|you|somebody|someone|anybody|kid|kids|child|boy|girl|player|nothing|it|never|hardly|barely|not|if|when|until|till|because|as|while|no|won't|can't|only|almost|nearly|half|one|two|three|four|five|six|some|most|is|are|was|were|looks?)\b)[a-z]+ ){0,3}?(?!(?:is|are|was|were|looks?|one|two|three|four|five|six|some|most|half|i|he|she|it|not|no|they|we|you|that|this|these|those|there|here|what|road|roads|highway|pass|route|exit|lot|shop|store|station|gate|border)\b)[a-z]+?"
_WARM_AIR = r"(?:the |nice |good |lovely )*(?:warm|hot) (?:air|water)(?:'s| is)?(?: (?:now|already|finally))* (?:coming|blowing|flowing|running|comes)(?: (?:out|through|in|from (?:the|both|all) [a-z]+))*"
_CLAUSES = (
    Lazy(rf"{_LEAD}{_OF}{_THING}{_WHERE}{_IS} (?:{_GOOD}|{_CLOSED})(?: and (?:{_GOOD}|{_CLOSED}))?{_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}{_OF}(?:[a-z]+ )?{_THINGS_IN}{_IS} {_IN_PLACE}{_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}(?:(?:i|we|i've|we've|he|she|they|just|already|have|also) )+(?:put|plugged|hooked|stuck) (?:{_OF}(?:[a-z]+ )?{_THINGS_IN} (?:in|up)|(?:in|up) {_OF}(?:[a-z]+ )?{_THINGS_IN}){_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}plugged (?:in )?{_OF}(?:[a-z]+ )?{_THINGS_IN}(?: in)?{_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}{_OF}(?:[a-z]+ )?{_PUT_OUT}{_IS} (?:out|down|set out|laid out){_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}{_OF}{_STOPS}{_IS} (?:off|shut off|shut down|turned off|switched off|stopped){_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}{_OF}{_RUNS}{_IS} (?:on|running|set|going|lit|glowing|working){_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}(?:done )?(?:{_OF}(?:furnaces?|heaters?|heat|blower){_IS} (?:on|running|going|lit|blowing|up and running|fired up)(?: (?:fine|well|good|nicely))?(?: (?:now|again))*(?: (?:and |with )?{_WARM_AIR})?|{_WARM_AIR}){_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}(?:no|not a|not a single|zero|without any|don't see any|can't see any|no sign of(?: any)?|not seeing any|found no)(?: (?:visible|obvious|other|more|big|new|odd))? {_NOUNS}(?: or {_NOUNS})*{_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}(?:nothing|none of (?:it|them|the [a-z]+))(?:'s| is| are| looks?| feels?)? (?:{_AILING}){_WHERE}{_TAIL}"),
    Lazy(rf"{_LEAD}{_OF}{_THING} (?:isn't|aren't|is not|are not|not) {_AILING}(?: or {_AILING})*{_TAIL}"),
)  # fmt: skip
_BESIDE = Lazy(
    r"^(?:(?:well|so|and|ok|okay) )*(?:done|all done|that's done|all good|it's all good|all fine|just so you know|so you know|fyi|for the record|by the way|thanks|(?:well )?(?:both|all|the two|two|all four|each) of (?:them|it)|front and back|left and right|that part'?s? (?:is )?(?:fine|done|good)|good to go|as far as i can (?:see|tell)|far as i can (?:see|tell)|thank god|no worries|nice|lovely|i checked(?: it| them| twice)?|checked (?:it|them|twice)|looked (?:all over|everywhere))$"
)
"""What may be said beside such a report."""
_OTHERWISE = Lazy(
    r"\?|^(?:(?:and|so|but|ok|okay) )*(?:is|are|do|does|did|has|have|am|was|were|any)\b(?! (?:the )?all )|\b(?:stuck|froze\w*|frozen|iced|jam\w*|seized|rusted|dead|died|broke\w*)(?= (?:shut|closed|in|off|on|solid|tight|down))|\b(?:but|except|though|however|unless|until|till|if|when|should|would|could|can|may|might|maybe|perhaps|think|guess|hope|probably|almost|nearly|half|wish|want|wants|need|needs|how|what|why|where|which|who|log|note|write|remind|red|amber|yellow|orange|warning light|check engine|fault|low|tomorrow|yesterday|last (?:night|week|time)|alarms?|detectors?|kept|keeps|went|goes|going out|supposed|too (?:hot|cold|low|high)|not (?:\w+ )?(?:working|running|on|lit|plugged|set|in|right|good|well|ok|okay|fine|normal|tight|shut|closed|latched|locked|level|straight|sealed)|(?:tanks?|waste|fresh|water|propane|gas|batter(?:y|ies)|fuel|diesel|oil|coolant|fluid|def|the|a|an|what|check) levels?|won't|can't get|again and again|smell\w*|smoke|fire|gas|co|monoxide|hurt|sick|dizzy|unconscious|bleed\w*|is anything|still (?:off|on|wet|cold|stuck)|(?:tanks?|waste|fresh|water|cylinders?|bottles?|black|gr[ea]y)(?:'s| is| are| looks)?(?: (?:all|bone|now|totally|completely))* (?:dry|clear|clean)$|(?<!under the )(?:showers?|taps?|faucets?|spigots?|sinks?|basins?|toilets?)(?:'s| is| are| runs?| ran| went| goes)?(?: (?:all|bone|now|totally|completely|still))* dry\b|than|don't need|let me|i'll|we'll)\b|\d"
)
"""What makes something else of it: doubt, a wish, a fault, a danger, another time."""
_PARTS = Lazy(r"\s*[,;.!]+\s+|\s*[,;.!]+$|\s+(?:and|with)\s+(?=(?:the |my |our |all |both |no |nothing |it's |that's |everything|[a-z]+(?:'s| is| are) |[a-z]+ [a-z]+(?:'s| is| are) ))", re.IGNORECASE)  # fmt: skip
_CUES = (" ok", "fine", "good", "great", " off", " on", " in", "clear", "dry", "tight", "shut", "close", "lock", "latch", "green", "clean", "work", "running", "stow", "plugged", "no ", "nothing", "isn't", "aren't", "not ", "straight", "normal", "order", "secure", "connected", "set", "down", "out", "unplugged", "put away", "all right", "alright", "level", "sound", "perfect", "cap", "strapped", "chocked", "intact", "happy", " air", "handed", "heat", "dark")  # fmt: skip
_CHECKS = Lazy(r"^(?:(?:then|now|if [^,]+,) )?(?:check|look (?:at|over)|inspect|see|feel|make sure|examine)\b")
_HEAD = Lazy(
    r"^(?:(?:then|now|if [^,]+,) )?(?:look (?:at|over)|make sure|[a-z]+)(?: (?:off|on|out|up|down|that|both|all|the|your|each|every|any|one))*(?P<of>(?: (?!(?:for|in|into|on|onto|at|with|of|under|behind|to|from|that|and|or|until|by|is|are|has|off|out|over|near|beside|before|after|so|while|as|outside|inside|first|again|now|there|carefully|closely|once|twice|all|round|yourself)\b)[a-z'-]+)+)"
)
"""What an order is given about: its last word names the thing."""
_ANSWERS = (
    (Lazy(r"\boff$|\b(?:shut|turned|switched) (?:off|down)\b|\bstopped\b"), Lazy(r"^(?:(?:then|now) )?(?:stop|shut|turn|switch)\b(?!.*\bon\b)")),
    (Lazy(r"\b(?:latched|locked|shut|closed|sealed|secured?|capped)\b"), Lazy(r"^(?:(?:then|now) )?(?:close|shut|latch|lock|push|cap|seal|press)\b")),
    (Lazy(r"\b(?:in|plugged in|connected|hooked up|seated)\b"), Lazy(r"^(?:(?:then|now) )?(?:plug|connect|push|put|hook)\b")),
    (Lazy(r"\b(?:unplugged|disconnected|unhooked)\b"), Lazy(r"^(?:(?:then|now) )?(?:unplug|disconnect|unhook|pull)\b")),
    (Lazy(r"\b(?:set|on|running|chocked|laid out|set out)\b"), Lazy(r"^(?:(?:then|now) )?(?:set|turn|switch|put|start|wear|chock|lay|run)\b(?!.*\boff\b)")),
)  # fmt: skip
"""How something stands, and the orders that are done when it stands so."""


def is_well(text: str, parts: list[str] | None = None) -> bool:
    """Whether a text tells of something that it is in order, shut, off or without damage, and nothing else."""
    said = plain(text)
    if len(said.split()) > MOST_WORDS or not names_any(f" {said}", _CUES) or "?" in text or _OTHERWISE.search(said):
        return False
    told = [plain(part) for part in _PARTS.split(text) if plain(part)]
    reports = [part for part in told if not _BESIDE.match(part)]
    if not reports or not all(any(clause.match(part) for clause in _CLAUSES) for part in reports):
        return False
    if parts is not None:
        parts.extend(reports)
    return True


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The acknowledgement of such a report, or the next step of the walk in hand where it answers this one; else None."""
    reports: list[str] = []
    if state.pending is not None or danger_first.danger(state, mind) is not None or not is_well(text, reports):
        return None
    if state.rolling and any(re.search(r"\b(?:engine|motor|brakes?)\b", part) for part in reports):
        return None  # an engine that is off on the road is trouble
    walk = state.walk
    if walk is None:
        return walking.control(replace(state, failures=0), "Good. Say what you need next.", topic=None)
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    do = phrases.filled(step.do, mind.facts)
    if not step.reading and (_answers(reports, do) or _whole(reports, do)):
        return walking.told_done(state, text, mind, now)
    line = f"Good. Still at step {walk.number}. Say next when it is done."
    return walking.control(replace(state, failures=0), line, topic=walk.topic)


_WHOLE = Lazy(
    rf"{_LEAD}(?:everything|it all|all of it|all|the whole (?:coach|bus|thing|lot))(?:'s| is| looks?)?(?: \w+)?(?: (?:dark|shut|closed|locked|and|good|fine|clear|off|quiet))+{_TAIL}"
)
_LOOKS_ROUND = Lazy(r"^look (?:back )?(?:once|round|around|over|back)\b")


def _whole(reports: list[str], do: str) -> bool:
    """Whether all is told to be in order where the step only wants a look at all of it: "everything dark and shut"."""
    return _LOOKS_ROUND.match(do.lower()) is not None and all(_WHOLE.match(part) for part in reports)


def _answers(reports: list[str], do: str) -> bool:
    """Whether one thing is reported just as the step wants it: the thing named in its order, and in the state that it asks for."""
    order = do.lower()
    found = _HEAD.match(order)
    thing = progress.stems(found["of"].split()[-1]) if found is not None else set()
    if not thing or len(reports) > _MOST_REPORTS:
        return False
    return any(
        thing <= progress.stems(part)
        and (_CHECKS.match(order) or any(state.search(part) and orders.match(order) for state, orders in _ANSWERS))
        for part in reports
    )


_MOST_REPORTS = 2
