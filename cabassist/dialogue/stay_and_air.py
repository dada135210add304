"""In an open danger of the air: "they're all sleeping, can't I just crack a window" is told no, and the alarm's label is no news.

An opened window neither stops the gas nor clears it soon enough, and who sleeps in it may not wake.
"""

from __future__ import annotations

from cabassist.dialogue import danger_first, phrases
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_TOPICS = ("carbon-monoxide-alarm", "propane-smell", "smoke-or-fire")
_CUES = ("window", "vent", "hatch", "door", "sleep", "bed", "bunk", "wake", "fan", "air")
_WISHES = Lazy(
    r"\b(?:can|can't|could|couldn't|do (?:i|we) (?:really |have to|need to)|must (?:i|we)|should(?:n't)? (?:i|we)|is it (?:ok|okay|fine|enough)|isn't it enough|what if|why not|why can't|rather|instead|enough|just|let's|hate to|don't want to|would it (?:help|do|work))\b"
)
_AIRS = Lazy(
    r"\b(?:crack|open|opening|cracking|roll down|slide|pop|prop)\b.{0,16}\b(?:windows?|vents?|hatch(?:es)?|doors?|roof|something)\b|\bair (?:it|the (?:coach|bus|place)|her|this) out\b|\blet (?:some|in some) (?:fresh )?air in\b"
)
_SLEEP = Lazy(
    r"\b(?:sleeping|asleep|in bed|in (?:their|the) (?:bunks?|beds?))\b|\b(?:let|leave) (?:them|everybody|everyone|the (?:kids|boys|girls|team|players|guys)|him|her) (?:\w+ )?(?:sleep|asleep|be|in bed|in there|lie)\b|\b(?:wake|waking|get(?:ting)?) (?:them|everybody|everyone|the (?:kids|boys|girls|team|players|guys)|all of them)\b"
)
_OUT_BY = 2
"""From this place on in a walk through such a danger everybody is out."""
_OUT = Lazy(
    r"\b(?:everybody|everyone|they|we|all)(?:'s|'re| is| are)? (?:all )?(?:out|outside|off)\b|\bafter\b|\bonce\b"
)
_NAMED = Lazy(
    r"^(?:(?:ok|okay|so|and|but|yeah|yes|well|oh|uh|um|no|wait) )*(?:(?:it|that|the|this|there|label|sticker|alarm|thing|detector|box|one|screen|display|front) ?)*(?:says|say|reads|shows|has|is|is marked|'s marked|spells|it's|it is|that's|said|got)(?: (?:a|an|the|just|only|like|letters|something|one|it's))* (?:c ?o|carbon(?: monoxide)?|monoxide)(?: (?:on|across|in|at|it|the|front|label|lid|side|of|alarm|detector|one|there|thing|big|red|letters))*$"
)


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The no, with the first thing to do; None where no such danger is in hand, or everybody is told to be out."""
    walk = danger_first.danger(state, mind)
    said = plain(text)
    if walk is None or walk.topic not in _TOPICS:
        return None
    if walk.topic == "carbon-monoxide-alarm" and walk is state.walk and _NAMED.match(said):
        return Outcome(state, phrases.opening(mind.knowledge.procedure(walk.topic), walk, mind, 1.0))
    if not names_any(said, _CUES) or not (_WISHES.search(said) or "?" in text) or _OUT.search(said):
        return None
    if not (_AIRS.search(said) or (_SLEEP.search(said) and _WISHES.search(said))):
        return None
    line = "No. Wake everyone and get them all out now. An open window does not make it safe."
    if walk.at >= _OUT_BY:
        line = "No. Nobody goes back in to open or fetch anything. Wait outside."
    step = phrases.mark(state.walk) if state.walk is not None else None
    return Outcome(state, Reply("refuse", line, (line,), topic=walk.topic, step=step))
