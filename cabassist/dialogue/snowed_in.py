"""The coach is stuck in snow, mud or a ditch: "we slid into a drift and the wheels just spin".

There is no procedure for getting a heavy coach out, which is the work of a tow truck. What kills there is known: an exhaust pipe under the
snow, traffic, and people who push.
"""

from __future__ import annotations

from cabassist.dialogue import danger_first, properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_CUES = ("stuck", "spin", "bogged", "ditch", "drift", "snow bank", "snowbank", "traction", "dug in", "sunk", "off the road", "high centered", "buried")  # fmt: skip
_COACH = r"(?:we|we're|we are|i|i'm|it|it's|she|she's|coach|bus|rig|wheels?|(?:drive |rear |back )?(?:tires|duals|wheels)|rear end|back end)"
_WHERE = r"(?:snow ?(?:bank|drift)?s?|drifts?|ditch|mud|soft shoulder|slush|ruts?|sand|soft ground|median)"
_STUCK = Lazy(
    rf"\b{_COACH}(?:'s|'re|s| is| are| am| got| have| has| just| now| all| totally| really| hopelessly| been| gotten)*(?: \w+){{0,2}}? (?:stuck|bogged(?: down)?|dug in|sunk|high centered|buried|planted|hung up)\b.{{0,30}}\b{_WHERE}\b"
    rf"|\b(?:slid|slipped|ran|went|drove|backed|pulled|gone|left|put (?:it|her|us)|ended up|we're|are|is|it's|she's|stuck|in)\b(?: \w+){{0,5}}? (?:into|in|off into|onto) (?:(?:a|the|some|deep|big) )*(?:snow ?(?:bank|drift)s?|drift|ditch|deep snow)\b.{{0,50}}\b(?:stuck|spin\w*|can't (?:get|move|back)|won't (?:move|come|budge)|not moving|get (?:out|unstuck|going))\b"
    r"|\b(?:wheels?|tires|duals|drive wheels|rear wheels)(?:'s|'re| are| is| just| only| keep)*(?: just| only| keep)* (?:spin|spins|spinning)\b.{0,30}\b(?:snow|ice|stuck|slush|mud|ditch|drift|going nowhere|don't move|not moving|won't move)\b"
    r"|\b(?:get|getting|got to get|how (?:do|can) (?:i|we) get) (?:the |this |our )?(?:coach|bus|rig|us|it|her|him|ourselves)? ?(?:unstuck|out of (?:the |this |a )?(?:snow ?(?:bank|drift)|drift|ditch|mud|deep snow))\b|\bneed to get unstuck\b"
)
_OTHER = Lazy(
    r"\b(?:door|latch|hose|valve|handle|cap|cord|bays?|drawer|window|knob|lock|key|exhaust|generator|tail ?pipe|if|avoid|in case|last (?:week|month|trip|year|night|winter)|yesterday|tow(?:ed)? us|got us out|movie|elevator|traffic jam|line|queue|head\w*|dizzy|woozy|smell\w*|smoke|fire|car|truck|van|pickup|somebody else)\b"
)
_LINE = "Stop: spinning the wheels digs it in. Flashers on, parking brake set; in or near a lane, triangles out. Dig the exhaust pipe free before the engine idles, and keep it free: carbon monoxide comes in. Nobody pushes or stands near the wheels. I have no steps for getting it out: call a heavy tow, and the police if you block a lane."


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """What to do at once where the coach is stuck, and whom to call; None for anything else and in a danger."""
    said = plain(text)
    if not names_any(said, _CUES) or danger_first.danger(state, mind) is not None:
        return None
    if not _STUCK.search(said) or _OTHER.search(said):
        return None
    return properties.told(state, _LINE, mind, topic="set-warning-triangles", said=text)
