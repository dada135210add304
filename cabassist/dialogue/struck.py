"""The coach hit an animal, a thing, a car or somebody: "we clipped a post backing up", "hit a deer, radiator looks ok".

What has come loose or leaks is seen only by whoever gets out and looks. Damage that is told is kept as a defect before this is
asked; somebody hurt, fire and gas are heard first.
"""

from __future__ import annotations

from cabassist.dialogue import danger_first, properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_CUES = ("hit", "clip", "struck", "strike", "bump", "scrap", "back", "ran ", "run ", "graz", "swipe", "tap", "nudg", "brush", "ding", "knock", "smack", "drove over", "into", "curb", "kerb")  # fmt: skip
_ANIMAL = r"(?:deers?|moose|elks?|animals?|dogs?|cows?|bears?|coyotes?|turkeys?|birds?|geese|goose|raccoons?|foxe?s?|horses?|hogs?|pigs?|buck|doe|antelope|caribou|reindeer|sheep|owl|hawk)"
_THING = r"(?:posts?|poles?|bollards?|curbs?|kerbs?|walls?|pillars?|guard ?rails?|railings?|fences?|mail ?box(?:es)?|signs?|sign ?posts?|trees?|branch(?:es)?|limbs?|barriers?|gates?|rocks?|boulders?|debris|tire treads?|pot ?holes?|something|snow ?banks?|ditch|buildings?|awnings?|overhangs?|canopy|(?:loading )?docks?|hydrants?|light ?poles?|lamp ?posts?|dumpsters?|concrete|cone|stump|trash cans?)"
_DID = r"(?:hit|clipped|struck|bumped(?: into)?|scraped(?: (?:along|against|past))?|backed (?:up )?into|ran (?:into|over)|run (?:into|over)|grazed|side ?swiped|tapped|nudged|brushed|dinged|knocked(?: (?:into|over))?|smacked(?: into)?|drove (?:over|into)|slid into|caught)"
_PERSON = r"(?:person|pedestrian|man|woman|guy|kid|child|boy|girl|cyclist|bicycl\w*|biker|motor ?cycl\w*|worker|player|skater|somebody|someone|passenger|fan|driver)"
_VEHICLE = r"(?:cars?|trucks?|pickups?|suvs?|vans?|vehicles?|(?:another |other |team's )?(?:bus|coach)(?:es)?|semis?|trailers?|snow ?plows?|taxi|cab)"
_OPENS = r"^(?:(?:so|and|ok|okay|well|hey|uh+|um+|oh|crap|damn|shit|sorry|think|i think|yeah|help|look) )*(?:what (?:do|should|now) (?:(?:i|we) )?(?:do )?(?:(?:if|when|after|now that|since) )?)?(?:(?:i|we|he|she|they|somebody|my partner|the (?:coach|bus|other driver)|you) )?(?:(?:just|may have|might have|must have|have|'ve|think (?:i|we)|accidentally|kind of|sort of|lightly|barely|only) )*"
_OF = r" (?:(?:a|an|the|some|another|one of the|his|her|their) )?(?:[\w']+ (?:on|of|against|with) (?:a|an|the|some) )?(?:(?:big|small|little|low|wooden|steel|concrete|dead|young|old|hard|parked|light|stop|road|large|metal|other) )*"
_STRUCK = Lazy(rf"{_OPENS}{_DID}{_OF}(?:{_ANIMAL}|{_THING})\b")
_CAR = Lazy(rf"{_OPENS}{_DID}{_OF}{_VEHICLE}\b")
_SOMEBODY = Lazy(
    rf"{_OPENS}(?:hit|clipped|struck|backed (?:up )?into|ran over|run over|drove (?:over|into)|knocked (?:over|down)){_OF}{_PERSON}\b(?! up\b)"
)
_WITH_SIDE = Lazy(
    rf"\b(?:scraped|clipped|hit|tapped|bumped|dinged|caught) (?:the|our|my|a) (?:[\w']+ ){{1,3}}(?:on|against|with|into) (?:a|an|the|some) (?:\w+ )?(?:{_THING})\b"
)
_OTHER = Lazy(
    r"\b(?:tired|sleepy|asleep|fatigue|per|hours|light switch|kill switch|reset|button|brakes|hurt|injur\w*)\b"
)
_CALL = "Stop now, brake set, flashers on. Call the emergency services and do what they say."
_SCENE = "Stop safely and stay there, flashers on. If anyone is hurt, call the emergency services. Swap details, and tell the carrier (49 CFR 390.15, from memory). Then tell me each thing that is broken."
_LINE = "Stop where it is safe, brake set, flashers on. Look at lamps, mirrors, glass, doors, tires and under the coach; a leak means engine off. Then tell me each thing that is broken."


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """Stop, look and report, or whom to call; None for anything else and in a danger."""
    said = plain(text)
    if not names_any(said, _CUES) or _OTHER.search(said):
        return None
    if _SOMEBODY.match(said):
        kit = mind.facts.get("kit.first-aid")
        return properties.told(state, f"{_CALL} The first aid kit is at {kit}." if kit else _CALL, mind)
    if danger_first.danger(state, mind) is not None:
        return None
    if _STRUCK.match(said) or _WITH_SIDE.search(said):
        return properties.told(state, _LINE, mind, topic="report-a-defect", said=text)
    return properties.told(state, _SCENE, mind, topic="report-a-defect", said=text) if _CAR.match(said) else None
