"""What to look at in the night, from the coach's own places, and whether it is safe to sleep aboard: nobody can see that from here."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import holds
from cabassist.dialogue import danger_first, phrases, walking
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.steering import Steer

TOPIC = "park-for-the-night"
_LEAD = r"^(?:(?:so|and|but|ok|okay|right|well|then|now|hey|please|tell me|remind me|you know) )*"
_LOOKS = r"(?:look at|look for|look in on|look out for|check(?: on| up on)?|watch(?: for| out for)?|keep an eye on|keep (?:my|our) eye on|see to|mind|inspect|monitor|go (?:round|around) and (?:look at|check))"
_NIGHT = r"(?:(?:during|in|through|throughout|over|for) (?:the|this) night|in the middle of the night|overnight|over night|all night|tonight|while (?:we|i|they|everyone|everybody|the (?:kids|team|boys|players)) (?:sleeps?|am asleep|are asleep|is asleep)|while (?:we're|they're|i'm|everyone's|everybody's) asleep|between now and (?:morning|breakfast)|(?:when|if|each time|every time) (?:i|we) (?:wake(?: up)?|get up|am up|are up)(?: in the night| at night)?|at (?:two|three|2|3) (?:in the morning|am)|on night watch|on the night watch)"
_IN_NIGHT = Lazy(
    _LEAD
    + rf"(?:what (?:else )?(?:should|must|do|would|shall|can|am|are|is there|are there|ought)(?: (?:i|we|you|somebody|someone|the (?:night|other) driver))?(?: (?:have|need|want|supposed|meant|got|to|things))*|what(?:'s| is| needs)(?: there)?(?: to)?(?: be)?|anything(?: (?:else|i|we|should|must|to|need|needs))*|which things (?:do|should) (?:i|we)) (?:{_LOOKS}|looking at|checking|watching|checked|looked at|watched) (?:out )?(?:at )?{_NIGHT}$"
    rf"|{_LEAD}(?:what (?:things )?(?:do i|should i|to) {_LOOKS} {_NIGHT}|night watch(?: list)?(?: what do i (?:check|look at))?|{_NIGHT} what (?:should|do|must) (?:i|we) {_LOOKS})$"
)
_LEFT = Lazy(
    _LEAD
    + r"(?:what(?: else)?(?:'s| is)?(?: there)?|is there anything|anything|is anything) (?:still )?(?:left|else|more|remaining)(?: is)?(?: there)? (?:to|for (?:me|us) to|needs|that needs) (?:be )?(?:check|checked|checking|look at|look(?:ed|ing) at|see to|do|be done)(?: (?:on|for|at))?(?: (?:tonight|the night|before (?:bed|i sleep|we sleep|sleep|i turn in|we turn in)|in the night|overnight))+$"
)
_SLEEPS = Lazy(
    _LEAD
    + r"(?:is it|are we|am i|would it be|will it be|is the (?:coach|bus|cabin)|it's) (?:really |all |still )?(?:safe|ok|okay|fine|all right|alright)(?: for (?:us|me|them|the (?:team|kids|boys|players)|anyone|people))? (?:to|for) (?:sleep|sleeping|nap|bed down|stay the night|spend the night|turn in|crash)(?: (?:the night|tonight|overnight))*(?: (?:in here|in there|here|aboard|on board|on it|in it|in the (?:coach|bus|bunks|cabin|back)|on the (?:coach|bus)))*(?: (?:tonight|now|then|overnight|or not))*$"
)


def asked(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The list of what to look at in the night; None for anything else, and while a danger is not over."""
    said = plain(text)
    if not said or danger_first.danger(state, mind) is not None:
        return None
    left, sleeps = _LEFT.match(said), _SLEEPS.match(said)
    if not (left or sleeps or _IN_NIGHT.match(said)):
        return None
    if left and state.walk is not None and not state.walk.paused:
        return walking.HANDLERS["how-many"](state, mind, now, Steer("how-many"))
    first = (
        "I cannot see that from here. Before anyone sleeps, look at this:" if sleeps else "In the night look at this:"
    )
    things = _things(mind)
    last = "At an alarm, a smell or a headache: everyone out. Common practice, no rule."
    walk = state.walk
    say = " ".join([first, *(f"{thing}." for thing in things), last])
    shown = (first, *(f"  {thing}." for thing in things), last)
    return Outcome(state, Reply("control", say, shown, topic=TOPIC, step=phrases.mark(walk) if walk else None))


def _things(mind: Mind) -> tuple[str, ...]:
    """What to look at and what it should show, where the coach has it."""
    facts, coach = mind.facts, mind.coach
    gauges = [facts[f"propane.{role}_place"] for role in ("outside", "inside") if coach.cylinder(role) is not None]
    found = [f"CO alarm on {facts['cabin.co_alarm_place']}: silent, its light as it should be"]
    if gauges and holds("cylinder-gauge", coach):
        both = "Both cylinder gauges" if len(gauges) == 2 else "Cylinder gauge"
        found.append(f"{both}, at {' and '.join(gauges)}: not near empty")
    if holds("heat-tape", coach):
        found.append(
            f"Heat tape: the {facts['heat_tape.light_color']} light at {facts['heat_tape.light_place']} is lit"
        )
    found.append(f"Shore power: {facts['shore.confirm_place']} shows it")
    found.append("Warm air from the furnaces, and doors shut that still open from inside")
    return tuple(found)
