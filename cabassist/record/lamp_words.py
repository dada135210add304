"""A lamp of the coach told to be dead: "left tail light is out", "reading light over bunk 6 quit".

No procedure here deals with a single dead lamp, so it is a defect whatever procedure its words are like. All lamps at once tell of
no power, a light that a step looks for tells of what it stands for, and a smashed bay lamp has its own procedure: none of them is meant.
"""

from __future__ import annotations

from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_MOST_WORDS = 14
_NOUN = r"(?:lights?|lamps?|bulbs?|leds?)"
_WHICH = (
    r"(?:head|tail|brake|stop|turn|signal|turn signal|blinker|indicator|marker|side marker|clearance|running|identification|id|plate|license plate|licence plate|number plate|tag|hazard|fog|low beam|high beam|back ?up|reverse|reversing"
    r"|reading|dome|step|entry|stairwell|aisle|floor|courtesy|bathroom|toilet|galley|kitchen|bunk|cabin|lounge|driver's|driver|map|dash|ceiling|night|engine bay|exit)"
)
_LAMP = rf"(?:(?:{_WHICH}) ?{_NOUN}|turn signals?|blinkers?|(?:side )?markers?|low beams?|high beams?|head ?(?:lights?|lamps?)|tail ?(?:lights?|lamps?)|backup lights?)"
_DEAD = (
    r"(?:(?:is|are|'s|has|just|went|gone|has gone|completely|also|still|both|all|now|again) )*(?:out|dead|dark|burn(?:ed|t) out|blown|gone|unlit|not (?:working|lit|on|coming on|lighting(?: up)?)|isn't (?:working|lit|on|coming on|lighting up)|aren't (?:working|lit|on|coming on)"
    r"|ain't working|quit(?: working| on (?:me|us))?|stopped working|died|failed|blew|doesn't (?:work|light(?: up)?|come on|go on)|does not (?:work|light|come on)|don't (?:work|light|come on)|won't (?:work|light(?: up)?|come on|go on|turn on|flash|blink)|flickers?|flickering|keeps? (?:flickering|cutting out)|burned out|burnt out|doesn't (?:flash|blink))"
)
_PLACE = r"(?: (?:on|at|in|by|over|above|under|near|up|of|beside|behind)(?: (?:the|my|our))?(?: [a-z0-9'-]+){1,4}?| (?:left|right|front|rear|driver's|driver|passenger|passenger's)(?: side)?| (?:up )?top| upstairs| outside| in back| up front)"
_FORMS = (
    Lazy(
        rf"^(?:(?:ok|okay|hey|so|and|also|oh|fyi|by the way|uh|um|looks like|i think|noticed|i noticed|i see|there's|we've got|i've got|got) )*(?:(?:a|an|the|my|our|one|two|another|both|all|of|upper|lower|top|left|right|front|rear|side|driver's|driver|passenger|passenger's|outer|inner|first|second|third|left-hand|right-hand|hand|curb|street|that|little|roof) )*{_LAMP}{_PLACE}? {_DEAD}{_PLACE}*(?: (?:too|again|now|already|also|tonight|today))*$"
    ),
    Lazy(
        rf"^(?:(?:ok|okay|hey|so|and|also|oh|got|we've got|i've got|there's|we have|found|i found) )*(?:a |an |the |one )?(?:dead|burned out|burnt out|blown|dark|broken) (?:[a-z]+ )?{_LAMP}{_PLACE}*(?: (?:too|again|now|also))*$"
    ),
)
_CUES = ("light", "lamp", "marker", "signal", "blinker", "bulb", "beam", "led")
_OTHERWISE = Lazy(
    r"\?|\b(?:all (?:the |our )?(?:cabin |inside |interior )?lights|lights in|every light|bay|scene|pilot|tester|heat tape|warning|check|charging|charge|power|shore|if|when|should|would|could|until|unless|how|what|why|where|can|fixed|replaced|mended|last (?:week|night|trip)|switch(?:ed)?|turned)\b"
)
_ALL = Lazy(r"^(?:(?:ok|okay|hey|so|and|all|the|our|both) )*(?:cabin |bunk |dome |ceiling |aisle )?lights\b")


def is_dead_lamp(text: str) -> bool:
    """Whether a plain statement tells that one lamp of the coach, named by what it is, gives no light."""
    said = plain(text).replace("'s ", " 's ").replace("driver 's", "driver's").replace("passenger 's", "passenger's")
    if not names_any(said, _CUES) or len(said.split()) > _MOST_WORDS or "?" in text or _OTHERWISE.search(said):
        return False
    return not _ALL.match(said) and any(form.match(said) for form in _FORMS)
