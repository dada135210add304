"""Equipment that no procedure of this coach names: inside lights, water heater, tire chains, stove, screens, retarder and the like.

What is nearest in words ("turn the bunk lights off" and the scene lights) would send the driver to the wrong switch. It is said that
it is not known; what is broken may still be written up.
"""

from __future__ import annotations

from cabassist.dialogue import danger_first, phrases
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_LIGHTS = r"(?:(?:bunk|hall|hallway|aisle|cabin|galley|lounge|reading|ceiling|inside|interior|indoor|corridor|berth|bathroom|washroom|dome|overhead|night|floor|seat|living|step) (?:area )?(?:lights?|lamps?|lighting)|lights? (?:in|inside|over|above|of) the (?:bunks?|hall|hallway|aisle|cabin|galley|lounge|berths?|bathroom|washroom|corridor|seats?))"
_DEVICES = r"(?:(?:hot )?water (?:heater|boiler)|hot water|hot[- ]water tank|(?:tire |tyre |snow )?chains|stove|cook ?top|hob|range|oven|burners?|tvs?|televisions?|dvds?(?: player)?|wi ?-?fi|wifi|internet|retarder|jake(?: brake)?|engine brake|heated mirrors?|mirror heat(?:er|ers|ing)?|defrosters?|defrost|wind(?:shield|screen) (?:heat\w*|fan)|microwave|fridge|refrigerator|freezer|coffee (?:maker|machine)|air ?con\w*|a/c|ac|radio|stereo|speakers?|(?:pa|p a) (?:system|mic\w*)|cruise(?: control)?|awning|usb ports?|(?:door |brake )?interlock)"
_THING = rf"(?:{_LIGHTS}|{_DEVICES})"
_CUES = ("light", "lamp", "water heater", "boiler", "hot water", "hot-water", "chain", "stove", "top", "hob", "range", "oven", "burner", "tv", "television", "dvd", "wifi", "wi fi", "wi-fi", "internet", "retarder", "jake", "engine brake", "mirror", "defrost", "wind", "microwave", "fridge", "refrigerator", "freezer", "coffee", "air con", "aircon", "a/c", " ac", "radio", "stereo", "speaker", "pa ", "p a ", "cruise", "awning", "usb", "interlock")  # fmt: skip
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|please|oh|uh|um|tell me|show me|remind me|(?:can|could|would|will) you|i (?:want|need|have) to|we (?:want|need|have) to|let's|any idea|the|our|my|this|that|these|there's|is) )*"
_DO = r"(?:turn|switch|shut|kill|dim|brighten|put|set|start|reset|reboot|restart|light|hang|mount|fit|install|hook|connect|use|work|operate|adjust|get|run|make|open|tighten|lower|cut|take|pair|join|log|play|watch)"
_HOW = Lazy(
    rf"{_LEAD}(?:(?:how|where|when|which way|what) (?:do|can|should|would|does|must|could) (?:i|we|you|one|they|the (?:guys|team)) (?:\w+ )?|how to )?{_DO} (?:[\w']+ ){{0,4}}?{_THING}\b(?: [\w']+){{0,8}}$"
)
_WHERE = Lazy(
    rf"{_LEAD}(?:where(?:'s| is| are)|which(?: one)?(?: is)?|what(?:'s| is|s)|is there) (?:the |a |any )?(?:(?:switch|switches|button|knob|control|controls|dial|remote|password|code|breaker|setting|thermostat|key|fan|vent|order|way)(?: (?:for|of|to|on|in|that))* (?:the |our |my )?(?:\w+ )?{_THING}|{_THING} (?:switch\w*|buttons?|knobs?|controls?|remote|password|code|setting|key|name)|(?<=where is )(?:the |our |a )?{_THING}$|(?<=where's )(?:the |our |a )?{_THING}$)\b(?: [\w']+){{0,4}}$"
)
_FAULT = Lazy(
    rf"{_LEAD}(?:no {_DEVICES}$|(?:[\w']+ )?{_DEVICES}(?:'s| is| are| stays?| won't| isn't| aren't| doesn't| don't| does not| keeps?| quit| stopped| died| has| just| only| not| went| never| still| again)*(?: (?:cold|cool|cold only|lukewarm|working|work|works|on|off|out|dead|broken|down|slow|come on|coming on|turn on|light|heat|heating|hot|start|connect|connecting|warm|warming|get hot|get warm|get cold|cold enough|stuck|blank|black|load|loading|play|playing|warm up|clear|clearing|busted|gone|engage|release|tight|loose))+$)"
)
_FOGGED = Lazy(
    r"\b(?:wind ?(?:shield|screen)|front glass|glass|windows?)\b(?: [\w']+){0,4}? (?:fog\w*|mist\w*|steam\w*|haz\w+|clouded)\b|\b(?:fog\w*|mist\w*|steam\w*) (?:[\w']+ ){0,3}?(?:wind ?(?:shield|screen)|front glass)\b|\bdefog\w*\b"
)
_OTHER = Lazy(
    r"\b(?:smell\w*|smok\w*|burn(?:ing|t|ed)?|gas|leak\w*|hot to|spark\w*|shock\w*|tingl\w*|fire|alarm|amps?|watts?|volts?|breaker\w*|trip\w*|batter\w*|generator|propane|bays?|scene|outside|marker|head ?lights?|flicker\w*|how (?:long|much|many)|cylinder|furnaces?|freez\w*|frozen|melt\w*|pilot|tape|pad|block|engine heater|shore|plug\w*|while (?:driving|rolling|moving)|warm the|heat the|to (?:heat|warm)|for heat|past|around|bypass|override|defeat|ice|iced|wipers?|crack\w*|logged|defect)\b"
)
_LINE = "I do not have that."
_WRITE = "If it is broken, say: report a defect."


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """That it is not known; None for anything else, for what may be a danger, and while one is not over."""
    said = plain(text)
    fogged = names_any(said, ("fog", "mist", "steam", "haz", "cloud")) and _FOGGED.search(said) is not None
    if not (fogged or names_any(f" {said} ", _CUES)) or danger_first.danger(state, mind) is not None:
        return None
    fault = fogged or _FAULT.match(said) is not None
    if not (fault or _HOW.match(said) or _WHERE.match(said)) or _OTHER.search(said) or mind.wishes.find(text):
        return None
    lines = (_LINE, _WRITE) if fault else (_LINE,)
    walk = state.walk
    nearest = ("report-a-defect",) if fault else ()
    step = phrases.mark(walk) if walk is not None else None
    return Outcome(state, Reply("unknown", " ".join(lines), lines, nearest=nearest, step=step))
