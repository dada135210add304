"""An alarm that gives one short chirp now and then: a low battery or its end of life, told with what the real alarm sounds like.

Only words that surely tell of single, short sounds with long silence between count. A chirp told with anything else, a sound that is
not described, or somebody unwell is an alarm: never talked down.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import danger_first, walking
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_CUES = ("chirp", "beep", "bleep", "peep", "blip", "cheep", "pip")
_ALARM = r"(?:alarms?|detectors?|sensors?|thing|box|unit|monitor|one|it)"
_OF = r"(?:(?:co|c o|carbon monoxide|monoxide|smoke|fire|gas|propane|lp|lpg|the|that|our|a|little|white|up there|on the ceiling|by the bunks|above the bunks|in the bunks|galley|bunk) )*"
_PLACED = r"(?: (?:on the ceiling|up there|above the bunks|over the bunks|by the bunks|in the (?:bunks|galley|cabin|hall|aisle)))?"
_NOISE = r"(?:chirp|beep|bleep|peep|blip|cheep|pip)"
_NOW_AND_THEN = r"(?:(?:only |just |about |maybe |like |roughly )*(?:(?:every )?(?:now and (?:then|again)|once in a while|so often)|once (?:a|every|per|in a) (?:minute|while|few minutes|half minute|thirty seconds|forty seconds)|(?:every|each) (?:minute(?: or so)?|half (?:a )?minute|couple of minutes|few minutes|other minute|\d+ (?:seconds|minutes)|(?:thirty|forty|forty five|fifty|sixty) (?:seconds|secs)|(?:two|three|five) minutes)|a minute|per minute|(?:once|one|1) (?:a|per) minute|(?:with )?(?:long|big) (?:gaps|pauses|breaks) (?:between|in between)|(?:and )?then (?:nothing|quiet|silence|it's quiet)(?: for (?:a|another) (?:minute|while))?))"
_ONE = r"(?:(?:one|1|a single|single|a|just one|only one|an occasional|the odd|odd|occasional) (?:(?:short|single|little|quick|small|lonely|tiny) )*)"
_LEAD = r"^(?:(?:so|and|but|ok|okay|hey|right|well|now|um|uh|why (?:is|does|would)|why's|what does it mean (?:when|if)|what (?:does|do)|what is it when|what if|what do i do (?:when|if)|my|what's it mean (?:when|if)|how come|there's|(?:i )?(?:can |keep )?hear(?:ing)?|i've got|we've got|we have|i keep hearing|we keep hearing|hearing) )*"
_END = r"(?:,? (?:(?:and |but )?(?:what is (?:it|that)|what's (?:that|up|it mean|that mean|going on|wrong|it about)|what does (?:it|that) mean|is (?:that|it) (?:the |a |just the |only the )?(?:battery|low battery|bad|normal|ok|okay|an alarm|a real alarm|the real thing|dangerous)|why|do (?:i|we) (?:have|need) to (?:get out|worry|get everyone out)|mean|what do i do|what now|should (?:i|we) worry|for|about|from|again|all night|tonight|now|here|aboard|in here|inside|in the (?:bunks|galley|cabin)|going on|since (?:last night|this morning|yesterday)|no (?:number|light|red light)|nothing else|is all|that's all)))*$"
_CHIRPS = Lazy(
    rf"{_LEAD}(?:{_OF}{_ALARM}{_PLACED}(?:'s| is| has| keeps| gives| gave| goes| makes| does| just| only| will| started| been| give| make)*(?: (?:chirping|beeping|bleeping|peeping|chirp(?:s|ed)?|beep(?:s|ed)?|bleeps?|peeps?|blips?|cheeps?|pips?))(?: (?:once|one time|a single time))? {_NOW_AND_THEN}"
    rf"|{_OF}{_ALARM}{_PLACED}(?:'s| is| has| keeps| gives| gave| goes| makes| does| just| only| will| give| make| lets out| let out| giving| making| doing)* {_ONE}{_NOISE}s?(?:,? (?:and )?{_NOW_AND_THEN})+"
    rf"|{_OF}{_ALARM}{_PLACED}(?:'s| is| has| keeps| just| only)* (?:chirp|beep|bleep|peep|pip)(?:s|ed|ing)? (?:just |only )?once(?:,? (?:and )?{_NOW_AND_THEN})+"
    rf"|{_ONE}{_NOISE}s?(?: (?:{_NOW_AND_THEN}))?(?: (?:from|out of|on|by) {_OF}{_ALARM}{_PLACED})(?:,? {_NOW_AND_THEN})?"
    rf"|(?:a |the |one |single )?(?:short )?{_NOISE}(?:s|ing)? {_NOW_AND_THEN} (?:from|out of|on|by) {_OF}{_ALARM}{_PLACED}"
    rf"|{_OF}{_ALARM} {_ONE}?{_NOISE}s? (?:mean|{_NOW_AND_THEN}))"
    rf"{_END}"
)
_MEANING = Lazy(
    rf"{_LEAD}(?:(?:a |one |the |single |short )*{_NOISE}(?:s|ing)? (?:from|of|on|by) {_OF}{_ALARM} mean|(?:the )?(?:difference|how do (?:i|we) (?:know|tell)) .*\bchirp\w* .*\balarm\w*|(?:does|do|is) (?:a|one|a single|the) (?:short )?(?:chirp|beep) mean (?:we|i|everyone|we all) (?:get|have to get|go|must get|need to get) (?:out|off)|(?:is|what's) (?:the )?(?:a )?(?:difference between|chirp) .*\b(?:alarm|chirp)\w*)$"
)
_NOT_ONE = Lazy(
    r"\b(?:four|4|three|3|twice|two times|double|several|fast|faster|constant\w*|continuous\w*|non ?stop|loud\w*|steady|steadily|going off|went off|scream\w*|series|pattern|headache|head|dizzy|sick\w*|sleepy|nausea\w*|throw\w*|smell\w*|smoke (?:in|from|coming)|red (?:light|lamp)|flashing|ppm|shows|reads|number \d|won't stop|louder|exhaust|haze|hazy|burn\w*|cover\w*|unplug\w*|rip\w*|take (?:it|the)|pull\w*|sock|drawer|bin|battery out|disconnect\w*|turn it off|silence it|shut it up)\b"
)
LINES = (
    "One short chirp every half minute or so is a low battery, or an alarm at the end of its life: fit a new battery, or a new alarm if it goes on, and test it. Until it sounds in the test, nobody sleeps aboard.",
    "A real alarm is four loud beeps again and again for carbon monoxide, three for smoke. If you hear that, see a number or red light, have a headache, smell anything or are not sure: everyone out, and tell me the alarm is sounding.",
    "Source: NFPA, sounds of alarms (published); UL 2034 and UL 217 patterns (from memory)",
)


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """What a lone chirp means and what an alarm sounds like; None for every other sound, for all in a danger, and where anything is added."""
    said = plain(text)
    if not names_any(said, _CUES) or danger_first.danger(state, mind) is not None or mind.wishes.find(text):
        return None
    if _NOT_ONE.search(said) or not (_CHIRPS.match(said) or _MEANING.match(said)):
        return None
    walk = state.walk
    still = (f"You are still at step {walk.number} of {len(walk.plan)}.",) if walk is not None else ()
    return walking.control(replace(state, failures=0), " ".join((*LINES[:2], *still)), lines=(*LINES, *still))


__all__ = ["told"]
