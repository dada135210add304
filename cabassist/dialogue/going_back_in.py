"""Asked whether people may go back into the coach: never on the assistant's word after a danger; who clears it is said."""

from __future__ import annotations

from cabassist.dialogue import danger_first, phrases, staying, walking
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

_LEAD = r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|please|they're freezing|it's cold|it's freezing|everyone's cold|they're cold|we're cold) )*"
_WHO = r"(?:i|we|they|he|she|you|people|everyone|everybody|anyone|anybody|someone|(?:the |my |our )?(?:kids|boys|girls|team|players|passengers|crew|guys|lot|drivers?))"
_MOVES = r"(?:go|get|come|head|step|climb|move|walk|pile|be let|be allowed|let (?:them|people|everyone|everybody|the (?:kids|team|boys|girls|players|passengers)))"
_IN = r"(?:back (?:in|inside|aboard|on board|onboard|on|indoors|(?:in|into|to|on|onto) (?:the |our |their )?(?:coach|bus|cabin|bunks?|beds?|seats?))(?: (?:the|our) (?:coach|bus|cabin))?|(?:in|inside|aboard|into the (?:coach|bus|cabin)))"
_END = r"(?: (?:now|again|yet|already|then|please|safely|to (?:sleep|bed|get (?:warm|our \w+|their \w+))|and (?:sleep|get warm|warm up)|or not|soon|tonight|any ?time soon))*$"
_ASKS = Lazy(
    _LEAD
    + rf"(?:(?:(?:when|how soon) )?(?:can|can't|could|may|might|shall|should|will) {_WHO}|(?:is it|are we|am i|are they|is the (?:coach|bus|air)|is everything) (?:now |all )?(?:ok|okay|safe|fine|clear|good|all right|alright|allowed|enough)(?: enough)?(?: now)?(?: for (?:us|me|them|people|the (?:kids|team|players)))? to|(?:ok|okay|safe|clear|fine|all right) (?:for (?:us|them) )?to|how long (?:before|until|till) {_WHO}(?: can| may| could)?|do {_WHO} (?:have|need) to wait (?:before|until) {_WHO}(?: can)?|let's|are {_WHO} allowed to|am i allowed to) "
    rf"(?:all |just |maybe |finally |already |now )*{_MOVES} {_IN}{_END}"
    rf"|{_LEAD}(?:is it|is the air|is the (?:coach|bus)) (?:safe|ok|okay|clear|fine) (?:in there|inside|to breathe)(?: (?:now|again|yet))*$"
)


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """No, and who clears it, after a danger; without one, what would keep people out. None for anything else."""
    if not _ASKS.match(plain(text)):
        return None
    in_hand = danger_first.danger(state, mind)
    if in_hand is not None and in_hand is state.walk:
        return staying.not_yet(state, mind)
    topic = in_hand.topic if in_hand is not None else _lately(state, mind)
    if topic is None:
        line = "Was there an alarm, a smell, smoke or a shock? Then stay out until the fire service has cleared the coach. If there was none, I know of nothing that keeps you out."
        return walking.control(state, line)
    clears = phrases.filled(mind.knowledge.procedure(topic).steps[-1].do, mind.facts)
    line = f"Not on my word. {clears} Once that is so, yes."
    walk = state.walk
    reply = Reply("refuse", line, (line,), topic=topic, step=phrases.mark(walk) if walk else None)
    return Outcome(state, reply)


def _lately(state: State, mind: Mind) -> str | None:
    """The danger that was walked through last, as far back as changes can be taken back; or None."""
    if state.topic in mind.knowledge.hazards:
        return state.topic
    walked = (walk.topic for note in reversed(state.undo) for walk in reversed(note.walks))
    return next((topic for topic in walked if topic in mind.knowledge.hazards), None)
