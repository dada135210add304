"""What a driver tells of the walk in hand without a command: "gloves are on", "everybody's out", "it was a false alarm"."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import over_asked, phrases, step_told, walking
from cabassist.dialogue.types import Mind, Outcome, Reply, State, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, beginnings, plain
from cabassist.language.steering import Steer
from cabassist.language.steering_families import tells
from cabassist.record.defect_words import wants_record, without_set_hiss

MAX_WORDS = 14
_NO_REPORT = Lazy(
    r"\?|^(?:how|what|what's|where|why|when|which|who|can|could|should|shall|may|must|do|does|did|is|are|am|will|would|any|if|show|tell|give|remind|note|log|write|put)\b"
    r"|\b(?:if|should|will|would|gonna|going to|about to|want|wants|need|needs|needed|trying|try|let me|i'll|we'll|maybe|think|guess|supposed|full|empty|half|low|almost|nearly|until|till|before|after|again|yesterday|last (?:week|night|time)|other|another|how (?:much|many|long)|the (?:dose|sum|amount|total)|(?:for|with|to|of) what(?:'s|s| is))\b"
)
_LEAD = re.compile(
    r"^(?:(?:yeah|yep|yup|yes|aye|okay|ok|alright|right|there|good|great|fine|so|and|now|all) )+(?=\w+ \w)"
)
_THEN = re.compile(
    r"(?: (?:and|so|then|okay|ok|right))*(?: (?:what (?:else|now|next)|what's (?:next|now|after that)|whats next|now what|then what|next(?: (?:one|step|please))?|go on|carry on|crack on|move on|keep going))+$"
)
_OUT = Lazy(
    r"\b(?:every(?:body|one)s?|they|they're|kids|team|players|passengers|people|folks|lot|crew)\b.*\b(?:out(?:side)?|off|clear|away|accounted for|safe|evacuated|back)\b"
    r"|^(?:we're |we are )?(?:all )?(?:out(?:side)?|clear|off)(?: (?:of (?:the|there).{0,12}|the (?:coach|bus)|of it|now|and safe|and clear|and accounted for|safe))*$"
    r"|\b(?:nobody|no one|none of (?:them|us))(?:'s|s| is| are)? (?:\w+ )?touching\b"
    r"|\b(?:got|gotten|moved|cleared|evacuated|took|led|woke) (?:every(?:body|one)|them|the (?:kids|team|players|passengers|lot))\b"
)
_ALL_OUT = Lazy(
    r"^(?:(?:every(?:body|one)(?:'s|s| is)?|they're|they are|we're|we are|the (?:kids|team|players|passengers)(?: are|'re)?|all(?: of)? (?:them|us)(?: are)?) (?:all |now |safely )*(?:out(?:side)?|off|evacuated)"
    r"|(?:i |we |i've |we've )?(?:got|gotten|moved|cleared|led) (?:every(?:body|one)|them|the (?:kids|team|players|passengers)) (?:all )?(?:out(?:side)?|off))(?: (?:now|safe|and (?:safe|clear|accounted for)|of (?:the|there) ?\w*|the (?:coach|bus)|in the (?:open|fresh air)))*(?: (?:and |so |then )?(?:what(?:'s| is|s)? (?:next|now)|now what|next|what do (?:i|we) do(?: now)?))?$"
)
"""Plainly all are out of the coach, which answers a danger wherever the talk has gone since."""
_CALLED = Lazy(
    r"\b(?:called|phoned|rang|dialed|dialled|on (?:the|their) way|coming|on (?:its|his) way|on the phone|been called)\b"
)
_SHUT = Lazy(
    r"\b(?:it's|gas|propane|valves?|main|power|bottles?|cylinders?|both|engine|pump|cord|breaker)(?:'s| is| are)? (?:all |now )*(?:shut|turned|switched|closed|cut|unplugged|off)\b"
    r"|^(?:it's |we're |all |now )*unplugged\b|\b(?:shut|turned|switched|cut|closed|unplugged|killed|stopped|pulled) (?:it|them|the [\w ]{2,20}|both|everything)(?: off| down| out)?\b"
)
"""What is told while people get out of danger: that they are out, that help is called, that something is shut."""
_LEADS_OUT = Lazy(r"\b(?:everyone|them all|them|sleeper)\b.*\b(?:out|upwind|back|by hand|by voice)\b")
_CALLS = Lazy(r"^(?:if .*, )?(?:have someone )?call\b|ambulance|fire service from")
_SHUTS = Lazy(r"\b(?:close|shut|stop it|turn off|switched off|cut that)\b")
_STILL = Lazy(
    r"\b(?:not|\w+n't|no|still|except|but|missing|inside|trapped|worse|more|again|help|cannot|stuck|dizzy|sick|headache\w*|unconscious|passed|cold|asleep|breath\w*|collaps\w*|down|won't|hurt\w*|burn\w*|smok\w*|flame\w*|smell\w*|(?:getting|climbing|filing|piling|heading|coming|going|hopping|hurrying|moving|stepping) (?:off|out\w*)|(?:should|ought to|must) be|soon|most(?: of)?|some(?: of)?|half)\b"
)
_OVER = Lazy(
    r"\bfalse alarm\b|\ball[- ]clear\b|\b(?:its|it|that|this|(?:the )?(?:spill|mess|puddle))(?:'s| is| has)? (?:all |been )*(?:over|passed|gone|sorted|dealt with|taken care of|under control|cleared up|cleaned(?: up)?|mopped(?: up)?|hosed (?:down|off)|washed (?:down|away|off)|cleared|safe again)(?: now)?$"
    r"|\b(?:it|that) (?:was|turned out(?: to be)?|is) (?:only |just |nothing|a false)|\bturned out(?: to be)? (?:nothing|only|just|a|the|somebody|someone)|\b(?:wasn't|weren't|was not) (?:anything|(?:any |a )?(?:real |gas |fuel )?(?:gas|propane|smoke|fire|leak|danger|sewage|co|carbon monoxide|alarm))\b|\bnothing (?:was )?(?:wrong|there|to it|serious|after all)\b|\bnever mind (?:the|about the) (?:smell|alarm|gas|smoke|fire)"
    r"|\b(?:fire (?:department|dept|service|crew|brigade|fighters|guys|men|people|truck|engine)|firefighters|firemen|mechanic|gas (?:man|guy|company)|tech|technician|electrician|medics?|paramedics?)\b.*\b(?:checked|cleared|said|says|found|signed|looked|okay|ok|fine|safe|gave|fixed|repaired|mended|sorted|let (?:us|everyone|everybody|them)|(?:measured|read|reads|got|gets|shows?|showed) (?:zero|0|nothing|none)\b)"
    r"|\b(?:cleaned|hosed|mopped|washed|wiped|swept|bleached|aired|vented|scrubbed|shut|fixed)\b.* (?:(?:and|so|it's|its|it is|that's|we're|everything's|everything is|now) )*(?:all (?:good|clear|clean|done|set|sorted|safe)|good to go)(?: (?:now|again|here))*$"
    r"|\b(?:emergency|danger|smell|smoke|fire)(?:'s|s| is| has)? (?:all |completely )*(?:over|out|gone|cleared)(?: now)?\b|\bno (?:danger|emergency|problem) (?:any ?more|after all)\b"
)
"""The danger is said to be over."""
_EXPLAINED = Lazy(
    r"\b(?:false alarm|all[- ]clear|turned out|was (?:only|just|nothing)|wasn't|weren't|checked|cleared|cleaned up|mopped up|after all)\b"
)
_KEEPS_OUT = Lazy(
    r"\b(?:(?:stay|keep|staying|kept|remain|get|wait|waiting|hold) (?:\w+ ){0,3}?(?:out|outside|off|away|back|clear|here|there|upwind|for|until|till|put|on)|to wait|(?:must|have to|need to|should|better|please|just|can|says?|said|told us) (?:\w+ )?wait|not yet|hang on|(?:on (?:the|their|its) way|coming|minutes? (?:out|away))$|found (?:a |the |some |it |high |gas |carbon )|too high|high (?:levels?|readings?)|evacuate|(?:can't|cannot|can not|mustn't|must not|shouldn't|should not|don't|do not|couldn't|not allowed to|not to) (?:\w+ ){0,2}?(?:carry on|go on|continue|resume|go back|drive|stay|sleep|go (?:in|inside|aboard)|come (?:in|back)|re-?enter|return|use|run|light|turn))\b"
)
"""Those who came say that it is not over."""
_MENDED = Lazy(
    r"\b(?:fixed|repaired|mended|sorted|replaced|tightened|cleared|all clear|false alarm|found (?:it|everything) (?:all )?(?:safe|fine|ok|okay|clear))\b"
)
_WORSE = Lazy(
    r"\b(?:but|except|though|dizzy|sick|head\w*|hurt\w*|pain|burn(?:s|ing|t|ed)|unconscious|faint\w*|vomit\w*|still|again|more|(?:is|it's|came|come) back)\b"
)
_NOT_OVER = Lazy(
    r"\b(?:not|\w+n't|never|cannot) (?:\w+ ){0,3}(?:over|clear|gone|safe|sure|false|nothing)\b|\b(?:is it|are we|can we|could it|should|do you think|maybe|might|probably|hope|i think|not sure|still|again|what if|if it)\b|\b(?:will|going to|gonna|about to|has to|have to|needs? to|must) (?:\w+ ){0,2}?(?:fix|check|come|measure|look|clear|mend|repair|test|be|see)\b|\?"
)


_STANDS = r"(?:on|off|in|tight|clear|clean|open|shut|closed|ready|set|down|up|in place|put away|away|done|finished)"
_ACTED = Lazy(
    r"(?<![\w'])(?:turned|opened|closed|shut|plugged|unplugged|pulled|pushed|put|checked|cleaned|drained|emptied|filled|locked|unlocked|tightened"
    r"|loosened|connected|disconnected|switched|flipped|laid|stowed|washed|rinsed|wiped|told|asked|walked|hung|folded|capped|uncapped|removed|fitted|attached|hooked"
    r"|tested|parked|chocked|torqued|loaded|strapped|unhooked|secured|latched|fastened|screwed|taken|grabbed|got (?:my|the|our|a)|have (?:my|the))\b"
    rf"|(?:'s|'re| is| are| been| now| all) {_STANDS}(?: now| good| tight| already| there| properly| nicely)*$|\b(?:triangles?|cones?|flares?|chocks?|pads?|hoses?|cords?|legs|steps?|blocks?|mats?|signs?|jack|stands?|pins?)(?:'s| is| are| all)* (?:out|down|up|laid out|set out|under (?:it|there|the \w+)|in position)(?: now)?$|^(?:[a-z]+ ){{1,2}}(?:on|off|in|shut|closed|open|tight|in place)(?: now)?$"
)
"""A thing done, or how a part stands now that it is."""
AILS = Lazy(
    r"\b(?:lights?|lamps?|bulbs?|markers?|gauges?|signals?|blinkers?|horn|wipers?|heaters?|furnaces?|fridge|screen|display|alarms?|detectors?|mirrors?|belts?|t[iy]res?|power|water|engine|motor|fan|heat)\b"
    r".*\b(?:out|down|gone|off|open|on)\b|\b(?:came|coming|come|fell|blew|went|goes|going|gone|turns|sounds?|feels?|looks?|seems?)\b"
)
"""What may be a fault as well as a thing done: "the marker light is off", "the cap came off"."""


_PLAIN = Lazy(
    r"^(?:(?:the|my|our|both|all(?: the)?|that) )?(?:[a-z]+ ){0,2}?[a-z]+(?:'s|'re| is| are| has been| have been) (?:all |now |both |nice and )*(?:on|off|in|shut|closed|open|tight|clear|clean|connected|locked|unlocked|ready|set|stowed|latched|plugged in|hooked up|in place|put away|done|out|down|under it|in position|chocked|drained|rinsed|washed|emptied|filled|capped|fitted|cleaned|unplugged|unhooked|tightened|torqued|loaded|strapped|secured|fastened|parked|connected)(?: now| there| good)*$"
)
"""A short report of how one thing now stands; in a walk it is about the walk, whatever the step calls the thing."""
_SERVICE = re.compile(
    r"\b(?:the )?fire (?:trucks?|departments?|dept|services?|crews?|brigades?|guys|men|people|engines?|fighters?)\b|\bfire(?:men|fighters?)\b|\bsmoke (?:detector|alarm)s?\b(?= (?:was|had|needs))"
)


_OF_GAS = ("propane", "cylinder")


def sign_in_walk(text: str, state: State, mind: Mind) -> str | None:
    """The danger that a text tells because of what is worked on: a hiss is air at a brake, and gas at a cylinder."""
    walk = state.walk
    if walk is None or not any(part in walk.topic for part in _OF_GAS) or not _HISS.search(bare(text)):
        return None
    return mind.hazards.find(f"{text} from the propane cylinder")


_HISS = Lazy(r"\b(?:hiss\w*|leaks?|leaking|bubbl\w+|whistl\w+)\b")


def without_services(text: str, state: State, mind: Mind) -> str:
    """The text without the names of those who come to help, which are no report of fire once a danger is being walked."""
    if not any(mind.knowledge.procedure(walk.topic).kind == "hazard" for walk in state.walks):
        return text
    return _SERVICE.sub("they", text.lower())


_FINE = re.compile(
    r"^(?:[a-z]+ ){0,2}?[a-z]+(?:'s|'re| is| are| looks?| seems?| checks out| feels?)(?: all)?(?: (?:fine|ok|okay|good|alright|all right|right|normal|as it should be))?$"
    r"|^(?:[a-z]+ ){1,3}(?:fine|ok|okay|good|alright|all right)$"
)
"""A part found in order, which moves a walk on only when the next step is asked for in the same breath."""
_WHICH = re.compile(r"\b(?:the )?(?:full|empty|other|low) (?:one|bottle|cylinder|tank|side)\b")


_SUBJECTS = frozenset(
    "waste dump sewage toilet fresh water propane gas cylinder cylinders tape plugged plug cord post outlet power bay bays battery generator tire tires wheel"
    " wheels thermostat furnace heater lights lamps engine luggage bags latch door doors hose brake brakes triangles windshield wipers".split()
)
"""What a walk is about, by its words; a report that names one of them is of no walk that has none of them."""


def of_other(said: str, walk: Walk, mind: Mind) -> bool:
    """Whether a report names what no step of the walk in hand speaks of: "the waste valve is shut", at the propane gauges."""
    subjects = stems(" ".join(word for word in said.split() if word in _SUBJECTS))
    procedure = mind.knowledge.procedure(walk.topic)
    spoken = " ".join(f"{step.do} {step.done_when or ''}" for step in procedure.steps)
    return bool(subjects) and not subjects & stems(phrases.filled(f"{procedure.title} {spoken}", mind.facts))


_GUIDED = Lazy(r"\b(?:walk|talk|lead|take|run|guide) (?:me|us) through\b|\bshow (?:me|us) how\b")
"""Asks to be led, and tells nothing done."""
_ASKS_AFTER = Lazy(
    r"[,.;] *(?:(?:so|and|but|ok|okay|now) )*(?:what|which|who|when|how|where|why)\b(?!(?:'s| is| do (?:i|we) do| comes| should (?:i|we) do)? (?:now|next|else|then|after)\b)(?= \w+ \w+)"
)
"""A question after what is told: "they put the wheel on, what torque do the nuts get"."""


def done_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Gloves are on": work of the walk in hand reported as done in its own words; or None.

    Only a statement without trouble, amount, doubt or wish counts, and only when it names what the walk handles.
    """
    walk = state.walk
    if walk is None or state.pending is not None:
        return None
    said = _THEN.sub("", _LEAD.sub("", bare(text)))
    if _and_next(text):
        said = _SINCE.sub("", said)
    said = without_set_hiss(step_told.without_begun(said))
    plainly = _WHICH.sub("one", said)
    if not (1 < len(said.split()) <= MAX_WORDS or _and_next(text)) or "?" in text or _NO_REPORT.search(plainly):
        return None
    if _ASKS_AFTER.search(text.lower()) or _GUIDED.search(said):
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    setting, shown = _SETTING.match(said), step_told.shown(said, walk, mind)
    if procedure.kind == "hazard" or (not shown and tells(setting["thing"] if setting is not None else said)):
        return None
    if step_told.being_done(plain(text), walk, mind):
        return walking.control(replace(state, failures=0), f"Good. {_still(walk)}", topic=walk.topic)
    then = said != _LEAD.sub("", bare(text))
    in_order = (then and _FINE.match(said) is not None) or _and_next(text) or _is_set(said, text, then, walk, mind)
    in_order = in_order or shown
    if not in_order and (not _ACTED.search(said) or AILS.search(said)):
        return None
    if wants_record(text) or mind.wishes.find(text):
        return None
    if phrases.step_of(procedure, walk).reading:  # a step that waits for a figure is not done by words
        asked = _and_next(text) and not of_other(said, walk, mind)
        return walking.HANDLERS["next"](replace(state, failures=0), mind, now, Steer("next")) if asked else None
    at, named = walk.at, stems(said)
    texts = [phrases.filled(f"{step.do} {step.done_when or ''}", mind.facts) for step in procedure.steps]
    ahead = {stem for index in walk.plan[at:] for stem in stems(texts[index])} | stems(" ".join(procedure.needs))
    if not in_order and not named & ahead and not _PLAIN.match(said):
        return None
    if not in_order and of_other(said, walk, mind):
        return None
    if not in_order and step_told.names_other(said, walk, mind):
        return walking.control(replace(state, failures=0), _still(walk), topic=walk.topic)
    return walking.told_done(state, text, mind, now)


def _still(walk: Walk) -> str:
    return f"Still at step {walk.number}. Say next when it is done."


_FIGURE = r"(?:\d[\d.]*|(?:[a-z]+ty|[a-z]+teen|ten|eleven|twelve|hundred|oh|zero|one|two|three|four|five|six|seven|eight|nine|half|full|high|max|and|a|point)(?: |$))"
_SETTING = Lazy(
    rf"^(?:(?:i|we|i've|we've|just|have|got) )*(?P<thing>(?:(?:the|my|our|both) )?(?:[a-z]+ )?(?:thermostat|stat|heat|heater|dial|knob|setpoint|set point|setting|timer|switch)s?(?:'s| is| are)?(?: (?:all|now|set|turned|up|down|cranked|on|dialed|put))*(?: (?:to|at|on))?"
    rf"|(?:set|turned|cranked|put|dialed|torqued|tightened|pumped|inflated) (?:it|them|that|both|the [a-z]+(?: [a-z]+)?)(?: all)?(?: up| down)? (?:to|at|on)) {_FIGURE}(?: ?{_FIGURE})*(?: ?(?:degrees|fahrenheit|celsius|f|c|psi|pounds|foot pounds|percent))?(?: now)?$"
)
"""What a thing was set to: "thermostat's at seventy". A setting is no reading, so its figure is none."""


def _is_set(said: str, text: str, then: bool, walk: Walk, mind: Mind) -> bool:
    """Whether something is told to be set to a figure that the step in hand names, or the next step is asked for with it."""
    setting = _SETTING.match(said)
    if setting is None or mind.readings_in(text).readings:
        return False
    return then or bool(stems(setting["thing"]) & stems(phrases.step_of(mind.knowledge.procedure(walk.topic), walk).do))


_PART_FINE = Lazy(
    r" (?:(?:so|and) )?(?:(?:that|this|the) (?:part|bit|one|side)(?:'s|s| is) (?:fine|good|done|ok|okay|all right|sorted)|all good|all fine|no problem)$"
)


def set_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Thermostat's turned up to seventy, that part's fine", at a step that is of something else: the walk stays; else None."""
    walk, said = state.walk, _PART_FINE.sub("", _THEN.sub("", _LEAD.sub("", bare(text))))
    if walk is None or "?" in text or not _SETTING.match(said) or mind.knowledge.procedure(walk.topic).kind == "hazard":
        return None
    if mind.readings_in(text).readings or mind.wishes.find(text):
        return None
    line = f"Still at step {walk.number}. Say next when it is done."
    return walking.control(replace(state, failures=0), line, topic=walk.topic)


_NEXT_ASKED = re.compile(
    r"(?: (?:and|so|then|okay|ok|right))*(?: (?:next(?: (?:one|step|bit|please))?|what's next|whats next|go on|carry on|keep going|move on|crack on|on we go))$"
)


def asks_next(text: str) -> bool:
    """Whether something is told, and the next step asked for behind it."""
    return _NEXT_ASKED.search(bare(text)) is not None


def without_next(text: str) -> str:
    """What is told before the next step is asked for; nothing when nothing is."""
    said = bare(text)
    return "" if _NEXT_ASKED.search(f" {said}") and not _NEXT_ASKED.search(said) else _NEXT_ASKED.sub("", said)


_MOST_BESIDE = 6
_SINCE = Lazy(
    r" (?:(?:ever )?since|for|from|at|around|about|until|till) (?:about |around |the |like |at least |over |nearly |half past |half |quarter to |quarter past )*(?:(?:\d[\d:.]*|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|forty|an?|a few|a couple of|couple|last|this|early|midnight|noon|lunch|supper|dinner|breakfast|yesterday|ages)\b ?)+"
    r"(?:half )?(?:o'clock|am|pm|a\.m|p\.m|thirty|fifteen|hours?|minutes?|mins?|night|morning|evening|afternoon|now)*(?: (?:now|already|this morning|last night|tonight|today))*(?= |$)"
    r"| (?:(?:all|last|since last) (?:night|day|morning|evening)|overnight|(?:\w+ )?(?:hours?|minutes?) ago|yesterday)\b"
)
"""Since when, or for how long, something has been so: no amount and no trouble."""


def _and_next(text: str) -> bool:
    """ "All warm, next": a few words without trouble, amount or fault before the wish for the next step."""
    said = bare(text)
    report = _SINCE.sub("", _NEXT_ASKED.sub("", said)) if _NEXT_ASKED.search(said) else said
    short = 1 < len(report.split()) <= _MOST_BESIDE
    if not short or report == said or tells(report) or _NO_REPORT.search(report):
        return False
    return not AILS.search(report) or runs(report)


_APPROVED = Lazy(
    r"^(?:(?:yeah|yep|yup|yes|ok|okay|oh|alright|right|all|very|really|pretty|that's|thats|that is|it's|its|this is|looks|look|looking|they're|they are|they look|those are|these are) )*(?:good|great|fine|cool|excellent|super|solid|spot on)(?: (?:here|there|now|then|that|enough|as well|too|by me|with me|to me|too))*$"
)


def approved(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Good", right after a step was said: on to the next one. After anything else it may be said of that, and the walk stays."""
    walk, last = state.walk, state.last
    if walk is None or last is None or "?" in text or not _APPROVED.match(bare(text)):
        return None
    if walk.paused or (state.asking is not None and state.asking.what not in ("reading", "choice")):
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    step = phrases.step_of(procedure, walk)
    said = last.kind in ("procedure", "step") and phrases.filled(step.do, mind.facts) in last.say
    if not said or procedure.kind == "hazard":
        return walking.control(state, f"Still at step {walk.number}. Say next when it is done.", topic=walk.topic)
    return walking.HANDLERS["next"](replace(state, failures=0), mind, now, Steer("next"))


_RUNS = Lazy(
    r"^(?:(?:ok|okay|so|and|the|my|our|both) )*(?:[a-z]+ )?(?:dryers?|blowers?|fans?|heaters?|pump|engine|generator|genny|gen|furnaces?|compressor|charger|vacuum|motor|tape|water|hose)(?:'s|s| is| are)? (?:now |all )?(?:going|running|blowing|humming|on|up and running|ticking over|idling)(?: (?:now|good|nicely|well|fine|on (?:low|warm|high|medium)))*$"
)


def runs(said: str) -> bool:
    """Whether a machine is told to be running as it should: "dryer's going"."""
    return _RUNS.match(said) is not None


_NO_HELP = Lazy(
    r"^(?:(?:no|nope|nah|well|ok|okay|yeah|and|but|damn|hm+|tried (?:it|that)|did (?:it|that)) )*(?:(?:it's |that's |they're |it is )?still (?:[\w']+ ){1,4}|(?:(?:that|it|this) )?(?:didn't|doesn't|hasn't|did not|does not) (?:help|helped|work|worked|do it|do anything|do a thing|fix it|change a thing|change anything|make a difference) "
    r"|(?:it's |that's )?no (?:good|luck|change|joy|dice|difference|go|use|better|help|effect) (?:there )?|nothing (?:yet |changed |happened |there |doing )?|(?:it's )?(?:just |still )?the same (?:as before |thing |again )?|same (?:thing |as before |again )?)"
    r"(?:(?:and|so|then|okay|ok|right) )*(?:next(?: (?:one|step|thing|please))?|what(?:'s| is) next|what (?:else|now)|go on|carry on|keep going|move on|now what|then what)$"
)
"""A step done that did not mend it, and the next one asked for: "nope, still dead, next"."""


def no_help(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "No luck, what's next": the step in hand did not help, and the next one is said; None for anything else."""
    walk = state.walk
    if walk is None or state.pending is not None or mind.knowledge.procedure(walk.topic).kind == "hazard":
        return None
    if "?" in text.rstrip("?") or not _NO_HELP.match(bare(text)) or mind.wishes.find(text):
        return None
    return walking.told_done(state, text, mind, now)


_BACK_IN = Lazy(
    r"\b(?:can|may|could|should|shall|is it|are we|when|ok|okay|safe|let)\b.*\b(?:back (?:in|on|inside|aboard)|go in(?:side)?|re-?enter|inside again|get (?:in|on) again|get our (?:stuff|things|bags))\b"
)


def danger_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Everyone is out": how a walk through a danger goes on; None when the text tells of anything else, or of more trouble."""
    said = _LEAD.sub("", bare(text))
    walk = state.walk
    if _ALL_OUT.match(said):  # left for another walk, the danger that is open still has its next step
        walk = next((w for w in reversed(state.walks) if w.topic in mind.knowledge.hazards), walk)
    if walk is None or walk.topic not in mind.knowledge.hazards:
        return None
    if walk is not state.walk:
        others = tuple(one for one in state.walks if one.topic != walk.topic)
        state = replace(state, walks=(*others, replace(walk, paused=False)), asking=None)
    if _BACK_IN.search(said):
        clears = phrases.filled(mind.knowledge.procedure(walk.topic).steps[walk.plan[-1]].do, mind.facts)
        reply = Reply(
            "refuse", f"Not yet. {clears}", (f"Not yet. {clears}",), topic=walk.topic, step=phrases.mark(walk)
        )
        return Outcome(state, reply)
    if len(said.split()) > MAX_WORDS or "?" in text or _NO_REPORT.search(said):
        return None
    told = None if of_other(said, walk, mind) else _in_danger(state, said, mind, now)
    if told is not None and _NEXT_ASKED.search(bare(text)) and told.state.walks[-1].at > walk.at + 1:
        # the next step is asked for in so many words, so none is passed over
        return walking.move_to(
            walk.at + 1, walking.remembered(replace(state, failures=0), "next"), mind, now, "next", "Good."
        )
    return told


_NO_ONE = Lazy(r"\b(?:no one|none of (?:us|them))(?=(?:'?s| is| are)? (?:\w+ )?touching\b)")


def _in_danger(state: State, said: str, mind: Mind, now: datetime) -> Outcome | None:
    """A report from a walk through a danger. Only "everyone is out" passes steps that are implied by it; others never do."""
    said = _NO_ONE.sub("nobody", said)
    if _STILL.search(said) or not (_OUT.search(said) or _CALLED.search(said) or _SHUT.search(said)):
        return None
    walk = state.walks[-1]
    steps = mind.knowledge.procedure(walk.topic).steps
    at = walk.at
    if _OUT.search(said):
        led = [place for place, index in enumerate(walk.plan) if _LEADS_OUT.search(steps[index].do.lower())]
        early = [place for place in led if place + 1 < len(walk.plan) and place < 4]
        at = max([at - 1, *early]) + 1 if early else at
    do = steps[walk.plan[min(at, len(walk.plan) - 1)]].do.lower()
    if at + 1 < len(walk.plan) and (
        (_CALLED.search(said) and _CALLS.search(do)) or (_SHUT.search(said) and _SHUTS.search(do))
    ):
        at += 1
    if at == walk.at:
        return walking.move_to(at, replace(state, failures=0), mind, now, "same", "Good.")
    return walking.move_to(
        at, walking.remembered(replace(state, failures=0), "that report"), mind, now, "next", "Good."
    )


def over_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "False alarm": the walk through a danger is closed and what it interrupted is offered, or None.

    Unless the fire service or a mechanic has cleared it, the last step is said once more: who must clear it.
    """
    danger = next((w for w in reversed(state.walks) if mind.knowledge.procedure(w.topic).kind == "hazard"), None)
    said = bare(text)
    if danger is None or not _OVER.search(said) or _NOT_OVER.search(said) or _WORSE.search(said):
        return None
    if _KEEPS_OUT.search(said) and not _MENDED.search(said):
        return None
    if mind.hazards.find(without_services(text, state, mind)) is not None and not _EXPLAINED.search(said):
        return None
    return over_asked.first(state, danger, text, mind) or over_asked.closed(state, danger, text, mind)


_LITTLE = frozenset(
    "the and for with that this are was has have its all now into onto from then them they you your our off out not any each every both one two"
    " coach bus tank side part step thing place until when what see make sure done ready go get put set turn open close shut pull push on in it is of to a at by be or no so if as we".split()
)


def stems(words: str) -> set[str]:
    """The beginnings of the words that name something in a step."""
    return beginnings(words, _LITTLE)
