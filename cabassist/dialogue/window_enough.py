"""In a danger of gas, smoke or carbon monoxide: whether a window, a fan or leaving people asleep will do. It will not.

Such a question is short, names no danger, and comes from somebody who looks at sleeping children and thirty below. It gets a no,
and the step that brings everyone out.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import danger_first, phrases
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

IN_AIR = frozenset({"carbon-monoxide-alarm", "propane-smell", "smoke-or-fire"})
_CUES = ("window", "vent", "hatch", "door", "fan", "sleep", "wake", "asleep", "bunk", "air")
_ASKS = r"(?:can|can't|cant|could|couldn't|should|shouldn't|may|what if|isn't it (?:ok|okay|enough)|is it (?:ok|okay|enough|fine)|won't it (?:do|help)|would it (?:do|help)|why not|how about|do|i'll|we'll|let's|let me|i'd rather)"
_AIRS = Lazy(
    rf"\b{_ASKS} ?(?:i|we|it|they|to|that)?(?: (?:just|only|simply|maybe|not|if|i|we))* (?:crack|open|leave|air|run|turn on|switch on|put on|prop|roll down)(?:ing)? (?:open )?(?:(?:a|the|all|some|both|every|up) )*(?:(?:roof|side|bunk|rear|front) )?(?:windows?|vents?|hatch(?:es)?|doors?|fans?|roof hatch|it out|place out)\b"
    r"|^(?:(?:so|and|but|ok|okay) )*(?:what if|is it enough (?:if|to)|(?:just )?(?:cracking|opening)) .*\b(?:windows?|vents?|hatch(?:es)?|doors?)\b"
)
_SLEEPERS = Lazy(
    r"\b(?:do (?:i|we) (?:really |still )?(?:have|need) to|must (?:i|we)|should (?:i|we)|can't (?:i|we)|can (?:i|we)|could (?:i|we)|why) (?:not |just |really |even )*(?:wake|get|drag|let|leave|keep) (?:up )?(?:them|everyone|everybody|the (?:kids|team|boys|girls|players|whole \w+|guys)|people)(?: all| up)?(?: (?:sleep|asleep|sleeping|be|out|up|in (?:their|the) bunks?|where they are|in bed|there|inside))*"
)


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """The no, with the step in hand; None for anything else and without such a danger."""
    walk = danger_first.danger(state, mind)
    said = plain(text)
    if walk is None or walk is not state.walk or walk.topic not in IN_AIR or not names_any(said, _CUES):
        return None
    if not (_AIRS.search(said) or _SLEEPERS.search(said)):
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    do = phrases.filled(phrases.step_of(procedure, walk).do, mind.facts)
    lines = (
        "DANGER: No. An open window does not clear the air in time. Wake everyone, and get all of them out.",
        f"Still at step {walk.number} of {len(walk.plan)}: {do}",
    )
    say = " ".join(lines).replace("DANGER:", "Danger.")
    reply = Reply("refuse", say, lines, topic=walk.topic, step=phrases.mark(walk))
    return Outcome(replace(state, failures=0), reply)
