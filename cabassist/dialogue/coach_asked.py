"""A fact of this coach asked for: where a thing is, which side, how many, what size. One line; the procedure is only offered.

The whole utterance must be such a question, and every thing in it one that the profile has: a question with more in it
("where do I put the gloves after", "where's the cord, it tingles") is none. What has a place is in `things_named.py`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

from cabassist.dialogue import danger_first, properties
from cabassist.dialogue.things_named import KIT, Thing, named
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare
from cabassist.language.routing import Decision
from cabassist.record import kit

PLACE = "place"
"""What `Asking.said` holds while "and the gloves" asks for one more place."""


class _Fact(NamedTuple):
    line: str
    topic: str = ""


_LEAD = r"(?:(?:(?:can|could|would) you (?:please )?)?(?:tell|remind|show) me |do (?:you|we) know |(?:have you )?any (?:idea|clue) |(?:do you|i can't|i don't|can't|don't) remember |i (?:forget|forgot|don't know) |(?:and|so|ok|quick question|sorry) )*"
_COACH = r"(?:coach|bus|rig|thing|motor|vehicle|one|wagon|unit)"
_HERE = rf"(?: (?:again|anyway|exactly|usually|normally|aboard|on board|onboard|(?:on|in)(?:side)? here|here|(?:on|in) (?:this|the|our) {_COACH}))*"
_KEPT = r"(?: (?:kept|stored|stowed|stashed|located|hidden|hiding|found|mounted|carried|at|supposed to be|meant to be|supposed to live|live|lives|living|hid|stuck|put|gone|got to|sitting|hanging|tucked away|tucked|packed))*"
_OPENS, _CLOSES, _STANDS = Lazy(f"^{_LEAD}"), Lazy(f"{_HERE}$"), Lazy(f"{_KEPT}$")
_WHERE = r"(?:where(?:abouts)?|were|wher)(?: exactly| the heck| on earth)?"
_HOLDERS = ("bay", "locker", "compartment", "cupboard", "cabinet", "box", "crate", "drawer", "shelf", "bin", "pocket", "hook", "case", "hatch")  # fmt: skip
_HOLDER = f"(?:{'|'.join(_HOLDERS)})"
_WHO = r"(?:we|you|i|they|one|he|she|the crew|the drivers)"
_REST = r"(?P<rest>.+?)"
_PLACES = tuple(
    Lazy(f"^{words}$")
    for words in (
        rf"{_WHERE}(?:'s| is| are|'re) {_REST}",
        rf"{_WHERE} (?:do|does|did|would|will|can|could|might|have) {_WHO} (?:usually |normally )?(?:keep|kept|find|stow|store|stash|have|got|carry) {_REST}",
        rf"{_WHERE} should {_REST} be (?:kept|stored|stowed)",
        rf"{_WHERE} (?:do|does|would|should) {_REST} (?:live|hang out|hang|hide|sit|stay|ride|get (?:kept|stored|stowed))",
        rf"where {_REST} (?:is|are|lives?|went|has gone|have gone|got to|might be|could be|would be|ended up|(?:is|are|gets?) (?:kept|stored|stowed))",
        rf"{_WHERE}(?:'d| did) {_WHO} (?:put|leave|stash|stick|hide|stow|pack) {_REST}",
        rf"{_WHERE} (?:do|does|did|would|will|can|could|might|am|are) {_WHO} (?:supposed to |meant to |expected to |likely to )?(?:get|look for|find|put) {_REST}(?: from)?",
        rf"{_WHERE}(?:'d| did|'ve| have| has) {_REST} (?:go|gone|get to|got to|end up)",
        rf"(?:{_WHERE}|(?:in )?(?:which|what) {_HOLDER}) (?:would|might|will|could) {_REST} be(?: in| on| at)?",
        rf"(?:in |on )?(?:which|what) {_HOLDER}(?:'s| is| are|'re) {_REST}(?: in| on| at| under| behind)?",
        rf"(?:in )?(?:which|what) {_HOLDER} (?:do|does|did|would) {_WHO} (?:keep|store|stow|have|find) {_REST}(?: in| on)?",
        rf"(?:which|what) {_HOLDER} (?:holds|has(?: got)?|have) {_REST}(?: in(?: it)?)?",
        rf"(?:what(?:'s| is) )?(?:the )?(?:place|location|spot|home) (?:of|for) {_REST}",
        rf"{_REST}(?: is| are)? (?:where(?: (?:is it|are they))?|whereabouts|location|where kept|kept where|(?:in )?(?:which|what) {_HOLDER})",
    )
)
_SEEN = Lazy(rf"^where (?:do|can|would) (?:i|we|you|one) (?:see|read|look at|check) {_REST}$")
_CARRIED = tuple(
    Lazy(f"^{words}$")
    for words in (
        rf"(?:do|have) (?:we|you|they) (?:have|carry|got|keep) (?:any |a |an |some )?{_REST}{_HERE}",
        rf"(?:is|are) there (?:any |a |an |some )?{_REST} (?:somewhere|anywhere|in the kit|aboard|on board|carried|on (?:this|the|our) {_COACH})",
        rf"(?:i'm |i am |we're )?(?:looking|hunting|searching) for {_REST}",
        rf"(?:help me )?(?:locate|find me) {_REST}",
    )
)
_SIDE_OF = rf"(?:which|what) side(?: of (?:the|this|our) {_COACH})?"
_SIDES = tuple(
    Lazy(f"^{words}$")
    for words in (
        rf"{_SIDE_OF}(?:'s| is| are) {_REST}(?: on| at)?",
        rf"(?:on )?{_SIDE_OF} (?:has|have|holds) {_REST}(?: on it)?",
        rf"{_REST} (?:on )?{_SIDE_OF}(?: is (?:it|that))?",
        rf"(?:is|are) {_REST} (?:on|at) (?:the )?(?:left|right|driver's|passenger|curb|street|near|off)(?: side)? or (?:on |at )?(?:the )?(?:left|right|driver's|passenger|curb|street|near|off)(?: side)?",
    )
)
_DEED_SIDE = Lazy(rf"^{_SIDE_OF} (?:do|would|should|does) (?:we|you|i|one) (?P<deed>fuel|dump|fill|plug in|take on|hook up)(?: up)?(?P<of>(?: (?:the|her|it|fresh|water|tank|waste|diesel|fuel|shore|power))*)(?: on| from| at)?$")  # fmt: skip
_DEEDS = {"fuel": "diesel fill", "dump": "waste outlet", "fill": "fresh fill", "take on": "fresh fill", "plug in": "shore inlet", "hook up": "shore inlet"}  # fmt: skip
_OF_WALK = Lazy(r"\b((?:the|that|this|our) )(hose|valve|outlet|drain|filler|overflow)\b")
_MORE = Lazy(rf"^(?:(?:what|how) about|also|where(?:'s| is| are))? ?{_REST}$")
_BETWEEN = Lazy(r",? and (?=(?:where|which|what|how) \w+ )|[?;,] ?(?=(?:where|which|what|how)\b)")


def _count(mind: Mind, found: re.Match[str]) -> _Fact | None:
    coach = mind.coach
    what = found["what"]
    gas = coach.propane.cylinders
    if re.fullmatch(r"(?:(?:propane|gas|lpg) )?(?:cylinder|bottle)s?|(?:propane|gas|lpg) tanks?", what):
        spare = sum(one.role == "spare" for one in gas)
        feeding = len(gas) - spare
        rest = f" and {spare} spare" if spare else ", no spare"
        return _Fact(f"This coach has {feeding} propane cylinder{_s(feeding)} in use{rest}.", "read-propane-gauges")
    if re.fullmatch(r"(?:propane |gas )?(?:furnace|heater)s?", what):
        names = ", ".join(one.name for one in coach.furnaces)
        return _Fact(f"This coach has {len(coach.furnaces)} propane furnace{_s(len(coach.furnaces))}{': ' if names else ''}{names}.", "keep-cabin-warm")  # fmt: skip
    if re.fullmatch(r"(?:water )?tanks?", what):
        names = ", ".join(tank.name.replace("_", " ") for tank in coach.tanks)
        return _Fact(f"This coach has {len(coach.tanks)} water tanks: {names}.")
    if re.fullmatch(r"(?:luggage )?(?:bay|locker)s", what):
        left = sum(bay.side == "left" for bay in coach.bays)
        right = sum(bay.side == "right" for bay in coach.bays)
        return _Fact(f"This coach has {len(coach.bays)} bays, {left} on the left and {right} on the right.", "load-luggage")  # fmt: skip
    if re.fullmatch(r"(?:emergency )?exits?", what):
        return _Fact(f"Exits: {coach.cabin.exits}.", "brief-passengers")
    if _NOT_COUNTED.match(what):
        return _Fact(f"The profile does not say how many {what} there are.")
    things = named(what, coach)
    if things is None or not all(thing.carried for thing in things):
        return None
    lines = " ".join(thing.line for thing in things)
    numbered = len(things) > 1 or re.search(r"\b(?:two|three|four|five|six|\d+)\b", things[0].label)
    return _Fact(lines if numbered else f"{lines} The profile gives no number.", KIT)


_NOT_COUNTED = Lazy(
    r"(?:bunks?|beds?|berths?|seats?|belts?|seat belts?|windows?|axles?|doors?|toilets?|sinks?|outlets?|hammers?|sleepers?)$"
)


def _s(number: int) -> str:
    return "" if number == 1 else "s"


def _carries(mind: Mind, found: re.Match[str]) -> _Fact:
    return _Fact(f"This coach carries at most {mind.facts['people.max']} passengers.", "brief-passengers")


def _crew(mind: Mind, found: re.Match[str]) -> _Fact:
    count = mind.coach.people.drivers
    return _Fact(f"This coach is for {count} driver{_s(count)}.", "plan-driving-hours")


def _inlet(mind: Mind, found: re.Match[str]) -> _Fact:
    facts = mind.facts
    return _Fact(f"The shore inlet is rated {facts['shore.amps']} at {facts['shore.volts']}.", "connect-shore-power")


def _cord(mind: Mind, found: re.Match[str]) -> _Fact:
    facts = mind.facts
    line = f"The shore cord is {facts['cord.gauge']}, {facts['cord.length']} long, for an inlet of {facts['shore.amps']}."  # fmt: skip
    return _Fact(line, "connect-shore-power")


def _bank(mind: Mind, found: re.Match[str]) -> _Fact:
    amp_hours = f"{mind.coach.house_battery.capacity_ah:g}"
    return _Fact(f"The house battery holds {amp_hours} amp hours at {mind.facts['house.volts']}.", "house-battery-low")


def _generator(mind: Mind, found: re.Match[str]) -> _Fact | None:
    generator = mind.coach.generator
    if generator is None:
        return _Fact("This coach has no generator.")
    return _Fact(f"The generator gives {generator.watts:g} watts.", "look-after-generator")


def _tires(mind: Mind, found: re.Match[str]) -> _Fact:
    front, rear = mind.facts["wheels.front_psi"], mind.facts["wheels.rear_psi"]
    said = found.group()
    one = re.search(r"\b(?:front|fronts|steers?)\b", said), re.search(r"\b(?:rear|rears|back|drives?|duals?)\b", said)
    if bool(one[0]) != bool(one[1]):
        name, value = ("front", front) if one[0] else ("rear", rear)
        return _Fact(f"The {name} tires take {value}, cold.", "check-tires")
    return _Fact(f"The front tires take {front} and the rear tires {rear}, cold.", "check-tires")


def _fuel(mind: Mind, found: re.Match[str]) -> _Fact:
    return _Fact(f"The diesel tank holds {mind.facts['diesel.capacity']}.")


def _bay(mind: Mind, found: re.Match[str]) -> _Fact | None:
    bay = next((bay for bay in mind.coach.bays if bay.name == f"bay {found['bay']}"), None)
    if bay is None:
        return _Fact(f"The profile has no bay {found['bay']}.")
    users = {"team": "the team", "drivers": "the drivers", "equipment": "equipment only"}[bay.users]
    return _Fact(f"{bay.name.capitalize()}, {bay.side} side, for {users}: {bay.holds}.", "load-luggage")


def _lamp(mind: Mind, found: re.Match[str]) -> _Fact | None:
    color = mind.facts.get("heat_tape.light_color")
    return _Fact(f"The heat tape light is {color} when the tape works.", "check-heat-tape") if color else None


def _not_measured(mind: Mind, found: re.Match[str]) -> _Fact:
    thing, verb = ("coach", "is") if found["thing"] == "we" else (found["thing"], found["is"])
    return _Fact(f"The profile does not say how {found['how']} the {thing} {verb}.")


def _warmth(mind: Mind, found: re.Match[str]) -> _Fact | None:
    night, place = mind.facts.get("cabin.night_setpoint"), mind.facts.get("cabin.thermostat_place")
    if night is None:
        return None
    return _Fact(f"For the night set it to {night}{f', at {place}' if place else ''}.", "keep-cabin-warm")


_SHORE = r"(?:shore|shore line|shoreline)(?: power)?"
_TIRE = r"(?:the |our |my )?(?:cold )?(?:(?:fronts?|rears?|steers?|drives?|duals?|back)(?: and (?:the )?(?:fronts?|rears?|steers?|drives?|duals?|back))?)?(?: ?(?:axle )?t[iy]res?)?(?: t[iy]res?)?"
_BODY = r"(?:wheel ?base|coach|bus|rig|vehicle|bunks?|aisle|roof|front overhang|rear overhang|overhang|bumper|entry door|bay doors?)"
_BUILT = r"(?:wheel ?base|ground clearance|clearance height|overall (?:height|length|width)|turning (?:circle|radius)|gvwr|gross (?:vehicle )?weight(?: (?:limit|rating))?|curb weight|empty weight|top speed|vin|number plate|license plate|licence plate|t[iy]re size|(?:height|length|width|weight) of (?:the|this|our) (?:coach|bus|rig|vehicle|wheel ?base)|(?:coach|bus)(?:'s)? (?:height|length|width|weight))"
_AMP = r"(?:15|20|30|50|fifteen|twenty|thirty|fifty)"
_AMPS = r"(?:how many amps|what amp(?:erage|s)?|what size|how big|what rating|what voltage|how many volts)"
_FACTS: tuple[tuple[tuple[str, ...], Lazy, Callable[[Mind, re.Match[str]], _Fact | None]], ...] = tuple(
    (tuple(hints.split("|")), Lazy(f"^(?:{words}){_HERE}$"), told)
    for hints, words, told in (
        ("passengers|people|persons|players|heads|seating", r"how many (?:passengers|people|persons|players|heads) (?:is (?:it|this|she|the coach|the bus) (?:for|built for|rated for|meant for)|(?:does|will|can|may) (?:it|this|she|we|the coach|the bus|this coach|this bus|i)(?: legally)? (?:take|carry|hold|seat|have(?: on(?: board)?)?)|(?:are|am) (?:we|i) allowed(?: to (?:have|carry|take))?(?: on| on board| aboard)?|(?:may|can) ride(?: with us| along)?|fit)|what(?:'s| is) (?:the|our) (?:most|max(?:imum)?(?: number of)?) (?:passengers|people)(?: (?:we|it) (?:can|may) (?:carry|take))?|(?:what(?:'s| is) )?(?:the |our )?(?:passenger|seating) (?:limit|capacity)", _carries),
        ("many drivers", r"how many drivers (?:is (?:it|this|she|the coach|the bus) for|does (?:it|this|the coach|the bus) (?:have|take|carry|need))", _crew),
        ("how many", r"how many (?P<what>[a-z]+(?: [a-z]+){0,3}?)(?: (?:do (?:we|you) (?:have|carry)|have we(?: got)?|are there|does (?:it|this|she|the coach|the bus|this coach|this bus) (?:have|carry|run on)|are (?:we carrying|carried)|are in the kit)){1}(?: and where(?: are they| is it)?)?", _count),
        ("how many", r"how many (?P<what>[a-z]+(?: [a-z]+){0,2}?) (?:aboard|on board|on (?:this|the|our) (?:coach|bus))", lambda m, f: None if re.search(r"passenger|people|person|player|head|kid|soul|gallon|pound|lit", f["what"]) else _count(m, f)),
        ("amp|volt|size|how big|rating", rf"{_AMPS}(?: breaker| fuse| plug| service| supply)?(?: is|'s| are| does| do)? (?:the |our |my |this )?(?:{_SHORE}(?: (?:inlet|plug|connection|breaker|service|supply|receptacle))?|(?:coach|bus)(?:'s)? (?:inlet|plug))(?: (?:need|take|rated(?: (?:for|at))?|have))?|(?:is|are) (?:the |our |this )?(?:{_SHORE}(?: (?:inlet|plug|connection|breaker|service))?|we|coach|bus) (?:a )?(?:15|20|30|50|fifteen|twenty|thirty|fifty)(?: amps?)? or (?:a )?(?:15|20|30|50|fifteen|twenty|thirty|fifty) ?amps?(?: (?:inlet|plug|breaker|service))?|(?:(?:and|so|which|what|is it|do (?:we|i) (?:need|use|want|take)|one|outlet|plug|breaker|the|a|was it|again|should (?:it|i) (?:be|use)) )*{_AMP} (?:amps? )?or (?:the |a )?{_AMP} ?amps?(?: (?:one|outlet|plug|breaker|receptacle|socket))?", _inlet),
        ("cord|cable|lead", r"(?:what size|what amps|how many amps)(?: is|'s) (?:the |our )?(?:shore |shore power |power )?(?:cord|cable|lead)(?: (?:rated(?: (?:for|at))?|good for))?|(?:what(?:'s| is) )?(?:the )?(?:gauge and length|length and gauge|size) of (?:the |our )?(?:shore |shore power )?(?:cord|cable)", _cord),
        ("batter|bank", r"(?:how (?:big|large|many amp hours)|what size|what voltage|how many (?:amp hours|volts))(?: is| are|'s| has| does| do| in)? (?:the |our )?(?:house|leisure|cabin) (?:batter(?:y|ies)|bank|battery bank)(?: (?:have|hold|got))?|what(?:'s| is) the (?:capacity|size|voltage) of the (?:house|leisure) (?:batter(?:y|ies)|bank)", _bank),
        ("generator|genset", r"(?:how (?:big|strong|powerful)|what size)(?: is|'s) (?:the |our )?(?:generator|genset)|how (?:many watts|much power) (?:does|can|will) (?:the |our )?(?:generator|genset) (?:make|put out|give|have|supply|produce)|(?:what(?:'s| is) )?(?:the )?(?:size|output|rating|wattage) of (?:the |our )?(?:generator|genset)", _generator),
        ("tire|tyre|pressure|psi|air|front|rear|steer|drive", rf"(?:what|how much)(?:'s| is| are)? (?:the |our )?(?:right |correct |proper |cold |normal )?(?:(?:t[iy]re )?pressures?|psi|air)(?: is| are)?(?: (?:should|do|does|are|is|goes? in(?:to)?|belongs in|for|in|of|on|must))? {_TIRE}(?: (?:be|take|need|get|have|supposed to be|meant to be|at|run(?: at)?))*|what should (?:the )?(?:t[iy]re pressures?|psi)(?: of| in| for)?{_TIRE} be|what(?:'s| is| are) the (?:front |rear )?(?:and (?:front |rear ))?t[iy]re pressures?(?: supposed to be| meant to be)?|what should (?:the |my )?(?:fronts|rears|steers|drives|duals|(?:front|rear|steer|drive) t[iy]res) be(?: at)?|how much (?:air|pressure) (?:should|do) {_TIRE} (?:have|take|need|get)", _tires),
        ("diesel|fuel", r"how (?:much|many gallons of|many litres of|many liters of) (?:diesel|fuel) (?:does|do|will|can) (?:it|she|we|this|the coach|the bus|this coach|this bus) (?:hold|carry|take)|(?:what(?:'s| is) )?(?:the |our )?(?:diesel|fuel) (?:tank )?(?:capacity|tank size)|what size (?:fuel|diesel) tank(?: (?:is it|do we have|has it|does (?:it|she) have))?", _fuel),
        ("bay", r"what(?:'s| is| do we keep| goes| lives) (?:kept |stored |carried |in )*bay (?P<bay>\d+)(?: for)?", _bay),
        ("heat t", r"what colou?r (?:is|should) (?:the )?(?:heat (?:tape|trace)(?:'s)? (?:pilot )?(?:light|lamp)|(?:pilot )?(?:light|lamp) (?:of|on|for) the heat (?:tape|trace))(?: be)?", _lamp),
        ("warm|temp|heat|thermostat|degrees|set", r"(?:how warm|how hot|what temp(?:erature)?|what(?: degrees)?|how many degrees|what setting|where) (?:should|do|must|would|can) (?:i|we|it|the (?:cabin|coach|bus|heat|thermostat|inside|furnaces?)) (?:(?:leave|keep|set|have|put|be|turn) )+(?:(?:the|this) )?(?:(?:it|thermostat|heat|heater|furnaces?|cabin|coach|bus|inside|dial|temp(?:erature)?|her) ?)?(?:(?:set|kept|left) )?(?:(?:to|at|on) ?)?(?:inside|in here|in there)?(?: ?(?:tonight|overnight|for the night|at night|while (?:we|they|people) sleep|for sleeping|till morning|until morning))*|what(?:'s| is) the (?:night |overnight |sleeping )(?:temp(?:erature)?|setting|setpoint|set point|heat setting)", _warmth),
        ("how long|how wide|how tall|how high|how heavy|how big", rf"how (?P<how>long|wide|tall|high|heavy|big) (?P<is>is|are) (?:(?:the|our|this) )?(?P<thing>{_BODY}|we)", _not_measured),
        ("what's|what is", rf"what(?:'s| is) (?:(?:the|our|its) )?(?P<named>{_BUILT})", lambda mind, found: _Fact(f"The profile does not say the {found['named']}.")),
        ("what size", r"what size(?: of)? (?P<named>t[iy]res|wheels|rims|bunks|mattress(?:es)?)(?: (?:do we (?:run|have|take)|does (?:it|she) (?:take|run|have)|are (?:these|they)))?", lambda mind, found: _Fact(f"The profile does not say the size of the {found['named']}.")),
    )
)  # fmt: skip


def asked(state: State, text: str, decision: Decision, mind: Mind) -> Outcome | None:
    """The one line that the profile has for a question of facts, and the offer of the procedure; else None."""
    waits = state.asking.what if state.asking is not None else ""
    if waits in ("defect", "skip-reason", "out") or decision.verdict == "hazard" or mind.wishes.find(text):
        return None
    if danger_first.danger(state, mind) is not None:
        return None
    said = _in_hand(bare(text), state, mind)
    more = waits == "choice" and state.asking is not None and state.asking.said == PLACE
    facts: list[_Fact] = []
    for part in _BETWEEN.sub("\n", said).split("\n"):
        told = _told(part.strip(), mind, more)
        if told is None:
            return None
        facts += told
    topic = next((fact.topic for fact in facts if fact.topic), "")
    line = " ".join(dict.fromkeys(fact.line for fact in facts))
    away = [row.item.name for row in kit.missing(mind.coach, state.record) if f"{row.item.name[:1].upper()}{row.item.name[1:]}: " in line]  # fmt: skip
    line += f" On record as missing: {', '.join(away)}." if away else ""
    return properties.told(state, line, mind, topic=topic, said=text, kept=PLACE)


_TROUBLE = Lazy(
    r"\b(?:leak\w*|drip\w*|puddle|smell\w*|smok\w*|noise|sound|hiss\w*|beep\w*|alarm|coming|comes?|draft|draught|fire|burn\w*|kid|kids|child|players?|he|she|they|everyone|everybody|we|i|you|missing|nearest|closest|next|go|town|road|highway|hospital|fuel stop|station|and|how|what|who|which|it's|goes|set|to)\b"
)
"""No thing that is kept somewhere."""


def place_wanted(text: str) -> str:
    """The words for a thing of which only the place is asked, whatever thing it is; nothing for any other text."""
    said = bare(text)
    core = _CLOSES.sub("", _OPENS.sub("", said))
    if "where" not in said and not any(holder in core for holder in _HOLDERS):
        return ""
    found = next((one for one in (pattern.match(core) for pattern in _PLACES) if one is not None), None)
    rest = _STANDS.sub("", found["rest"]) if found is not None else ""
    return rest if len(rest.split()) <= _THING_WORDS and not _TROUBLE.search(rest) else ""


_THING_WORDS = 6


def _in_hand(said: str, state: State, mind: Mind) -> str:
    """The question with the hose, valve or drain of the walk in hand named as such."""
    if state.walk is None:
        return said
    of = {"waste": "waste", "water": "fresh"}.get(mind.knowledge.procedure(state.walk.topic).system)
    return _OF_WALK.sub(rf"\1{of} \2", said) if of is not None else said


def _told(said: str, mind: Mind, more: bool) -> list[_Fact] | None:
    """The facts that one question asks for; None where it is none that the profile answers."""
    said = _OPENS.sub("", said)
    deed = _DEED_SIDE.match(said) if "side" in said else None
    if deed is not None:
        fuels = deed["deed"] in ("fill", "take on") and re.search("diesel|fuel", deed["of"])
        things = named("diesel fill" if fuels else _DEEDS[deed["deed"]], mind.coach) or ()
        return [_Fact(thing.sided, thing.topic) for thing in things]
    for hints, pattern, told in _FACTS:
        found = pattern.match(said) if names_any(said, hints) else None
        fact = told(mind, found) if found is not None else None
        if fact is not None:
            return [fact]
    core = _CLOSES.sub("", said)
    for hints, patterns, fitting, line in _KINDS:
        for pattern in patterns if names_any(said, hints) else ():
            things = _meant(pattern.match(said if patterns is _CARRIED else core), mind)
            if things and all(fitting(thing) for thing in things):
                return [_Fact(line(thing), thing.topic) for thing in things]
    things = _meant(_MORE.match(core), mind) if more else ()
    return [_Fact(thing.line, thing.topic) for thing in things] or None


def _meant(found: re.Match[str] | None, mind: Mind) -> tuple[Thing, ...]:
    """The things that the words in the place of a thing list."""
    return (named(_STANDS.sub("", found["rest"]), mind.coach) or ()) if found is not None else ()


def _is_seen(thing: Thing) -> bool:
    return thing.label.endswith(" at")


_KINDS: tuple[tuple[tuple[str, ...], tuple[Lazy, ...], Callable[[Thing], bool], Callable[[Thing], str]], ...] = (
    (("side", " or "), _SIDES, lambda thing: not _is_seen(thing), lambda thing: thing.sided),
    (("wher", "were ", "location", "place", "spot", "home", *_HOLDERS), _PLACES, lambda thing: not _is_seen(thing), lambda thing: thing.line),
    (("where",), (_SEEN,), _is_seen, lambda thing: thing.line),
    (("do we", "do you", "do they", "have we", "have you", "there", "ing for", "locate", "find me"), _CARRIED, lambda thing: thing.carried, lambda thing: thing.line),
)  # fmt: skip
"""The kinds of question for places: words that they hold, how they are asked, of which things, and what is told of each."""
