"""Work of a later step of the walk in hand, told before that step is reached: "engine's off", while the chocks are still in hand.

A round is seldom done in the order of its list. What is told ahead of its step is kept with the walk, and the step is passed with
a word about it when it is reached (`walking.forward`); one with a caution or a figure is still said, for both are wanted then.
The words must name what the step names and tell the state that it wants, so that no trouble and no other work is taken for it.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.types import Mind, Outcome, State, ToldDone, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import beginnings, plain
from cabassist.language.numbers import parse_number
from cabassist.record.defect_words import told_fault, wants_record

MOST_WORDS = 14
_SMALL = frozenset(
    "the and for with that this are was has have its all now into onto from then them they you your our off out not any each every both one two second"
    " first again still just here there back down over okay yes yeah been put set get got make sure done side part step thing when until what see look"
    " look looks looked check checks checked turn turned switch switched took taken pull pulled went gone ahead nice good fine well also too already".split()
)
_LEAD = Lazy(
    r"^(?:(?:ok|okay|yep|yup|yeah|yes|so|and|well|right|alright|now|hey|good|great|cool|um|uh|oh|also|no|done|oh by the way|by the way|fyi|there|i think we said|just so you know) )+(?=\w)"
)
TAIL = r"(?: (?:now|already|too|as well|again|here|there|then|for the night|tonight|by the way|while i was (?:there|at it)|on the way|all round|all around|nice and tight|no problem|no trouble|all good))*$"
_OBJECT = r"(?:the |my |our |both |all |that |those |every |each |all the |both the |a )*(?P<thing>[a-z][a-z' -]*?)"
_WHO = r"(?:(?:i|we|he|she|they|my partner|the other driver|i've|we've|he's|i have|we have) )?(?:just |already |also |gone and |went and |have |ve )*"
_KINDS = {
    "off": (
        r"(?:turned|switched|shut|killed|cut|stopped|flipped)",
        r"(?:off|shut off|turned off|switched off|shut down|stopped|dark|silent|killed)",
        Lazy(r"^(?:switch|turn|shut) (?:it |them |[^.]* )?off\b|^stop (?:the|both)\b|^check that no .* (?:light|lamp)|^turn off\b"),
    ),
    "on": (
        r"(?:turned|switched|flipped|started|lit|fired)",
        r"(?:on|running|going|switched on|turned on|lit|started|up and running)",
        Lazy(r"^(?:switch|turn) (?:it |them |[^.]* )?on\b|^(?:start|light) |^look for .* light\b|^look at .* light\b"),
    ),
    "in": (
        r"(?:plugged|put|connected|hooked|stuck|pushed|got)",
        r"(?:in|plugged in|connected|hooked up|plugged)",
        Lazy(r"^(?:plug|connect|insert|hook)\b|^put [^.]* in\b|^push [^.]* in\b"),
    ),
    "out": (
        r"(?:unplugged|disconnected|pulled|unhooked|took|taken)",
        r"(?:unplugged|disconnected|unhooked|out|pulled|pulled out)",
        Lazy(r"^(?:unplug|disconnect|unhook|pull)\b"),
    ),
    "locked": (r"(?:locked|locked up)", r"(?:locked|locked up)", Lazy(r"^lock\b")),
    "shut": (
        r"(?:shut|closed|latched|locked|pushed|capped|secured)",
        r"(?:shut|closed|latched|locked|locked up|tight|secured|capped)",
        Lazy(r"^(?:close|shut|latch|cap|push on)\b(?!.*\boff\b)|\bevery bay door\b"),
    ),
    "open": (r"(?:opened|cracked open)", r"(?:open|opened)", Lazy(r"^open\b")),
    "away": (
        r"(?:stowed|picked|put|packed|stored|hung|coiled|brought|loaded)",
        r"(?:stowed|away|put away|packed|packed away|up|in|in place|back|picked up|aboard|loaded|coiled up)",
        Lazy(r"^(?:stow|pick up|put .* (?:back|away)|store|hang|pack|check that .* (?:stowed|away|back)|load)\b"),
    ),
    "clear": (
        r"(?:cleared|swept|wiped|brushed|scraped|shoveled|shovelled|knocked|cleaned|dug)",
        r"(?:clear|cleared|clean|free|open|swept|wiped|scraped|clear of snow|free of snow|free of ice|clean of snow)",
        Lazy(r"^(?:clear|wipe|sweep|brush|scrape|clean|dig)\b"),
    ),
    "set": (
        r"(?:set|pulled|chocked|laid|put)",
        r"(?:set|on|pulled|down|out|in|in place|chocked|under|tight)",
        Lazy(r"^(?:set|chock|lay)\b"),
    ),
    "told": (
        r"(?:briefed|told|talked to|ran through|explained)",
        r"(?:briefed|told)",
        Lazy(r"^(?:brief|tell)\b"),
    ),
    "counted": (r"(?:counted)", r"(?:counted)", Lazy(r"^count\b")),
    "seen": (
        r"(?:checked|looked at|looked over|looked in|looked under|looked along|inspected|tested|walked|read|felt|pressed|confirmed|went through|did|done|been over|been through|looked around|walked around|walked round)",
        r"(?:checked|clear(?: of [a-z]+(?: and [a-z]+)?)?|clean|fine|ok|okay|good|done|tested|checked out|inspected|in order|looked at|looks good|all right)",
        Lazy(r"^(?:check|look|inspect|test|walk|read|feel|press|confirm|shine|listen|smell|see)\b"),
    ),
}  # fmt: skip
"""What kind of work a step is, by how its order begins; the verbs by which it is told done, and how its thing then stands."""
_DEEDS = {
    kind: Lazy(rf"^{_WHO}{verb}(?: (?:off|on|in|out|up|down|away|back|shut|open|under|over|round|around))? {_OBJECT}(?: (?:off|on|in|out|up|down|away|back|shut|open|under))?{TAIL}")
    for kind, (verb, _, _) in _KINDS.items()
}  # fmt: skip
_STATES = {
    kind: Lazy(rf"^{_OBJECT}(?:'s|'re|s)?(?: (?:is|are|was|were|has been|have been|been|looks?|got|get))?(?: (?:all|both|now|already|nice and|still|just))* {state}(?: and (?:locked|latched|shut|tight|dark|good|on|set))?{TAIL}")
    for kind, (_, state, _) in _KINDS.items()
}  # fmt: skip
_ORDERS = Lazy(r"^(?:set|shut|put|cut|read)\b")
"""What may be ordered or wished as well as told: "read the gauges"."""
_COMMANDS = Lazy(
    r"^(?:please )?(?:turn|switch|open|close|plug|unplug|take|check|look|test|use|find|get|go|start|stop|lock|unlock|push|pull|connect|disconnect|fill|dump|empty|drain|clean|wash|walk|keep|move|change|replace|fix|make|do|hook|unhook|back|load|park|lay|leave|bring|report|count|stow|call|pick|clear|press|skip|end|brief|rinse|wipe|sweep|scrape|cover|inspect|free|raise|drive|torque|oil|adjust|mind|work|hand|plan|touch|pump|jack)\b(?!.*(?:'s|'re|\b(?:is|are|was|were|has|have|looks?))\b)"
    r"|^(?:that's|that is) (?:the|my|our|it)\b|\b(?:check|inspection|procedure|checklist|list|walk|round|lot)(?:'s| is)? (?:done|finished|over)\b"
)
"""What orders or asks for a thing, or speaks of the walk itself, though its words end like a report: "turn the lights off"."""
_COMPLAINED = Lazy(r"\b(?:furnaces?|heat|heaters?|heating|fridge|power)\b")
"""What is mostly told to be off because it fails."""
_ORDER = Lazy(r"^(?:if [^,]+, |then |now |when [^,]+, )")
_ALIKE = {
    "plug": "shore power", "plugged": "shore power", "cord": "shore power cord", "outlet": "shore power", "stat": "thermostat", "heat": "heat",
    "motor": "engine", "bottle": "cylinder", "tank": "tank", "pads": "pad", "breaker": "breaker", "doors": "door", "passengers": "passengers",
    "team": "passengers", "guys": "passengers", "bays": "bay door", "folks": "passengers", "kids": "passengers", "players": "passengers", "everyone": "passengers",
    "compartments": "bay", "storage": "bay", "stairs": "steps", "parkbrake": "parking brake",
}  # fmt: skip
"""Words that drivers use for what a step names otherwise; only tried where the words themselves name nothing of the walk."""
_NO_THING = {"in": ("shore power", "plug", "cord"), "out": ("shore power", "plug", "cord")}
"""What "plugged in" and "unplugged" are of when nothing is named."""
_ALONE = Lazy(
    rf"^{_WHO}(?:we're |i'm |it's |she's |coach is |bus is )?(?P<how>plugged in|hooked up|unplugged|unhooked)(?: (?:to|from) (?:shore(?: power)?|the (?:post|wall|outlet|pedestal|hotel|building)))?{TAIL}"
)
_SECOND = Lazy(r"\b(?:second|other|spare|reserve|inside) (?:one|bottle|cylinder|tank)\b")
_OPENS_SECOND = Lazy(r"\bopen the second\b")
_OTHERWISE = Lazy(
    r"\?|^(?:(?:and|so|but|ok|okay) )*(?:is|are|do|does|did you|has|have you|am|was|were|any|how|what|where|why|when|which|who|can|could|should|shall|may|must|will|would|tell|show|give|remind|note|log|write|let)\b"
    r"|\b(?:not|\w+n't|no|never|nothing|none|nobody|without|but|except|though|unless|until|till|if|should|would|could|can|may|might|maybe|perhaps|think|guess|hope|probably|almost|nearly|half|part|some|most|want|wants|need|needs|try|trying|tried|going to|gonna|about to|i'll|we'll|let me|instead|skip|wrong|stuck|froze\w*|frozen|jam\w*|broke\w*|br[oe]ak\w*|dead|died|trip\w*|popp\w*|smell\w*|smok\w*|fire|hiss\w*|leak\w*|drip\w*|spark\w*|burn\w*|hurt\w*|hot|keeps?|kept|went|goes|goes|by itself|on its own|suddenly|again and again|tomorrow|yesterday|last (?:night|week|time)|other (?:bus|coach)|supposed|alarm is|alarm's|detector is|won't|red|amber|warning|himself|herself|accident\w*|by mistake|too (?:soon|early|hot|cold|tight|loose))\b"
)
_LIT = Lazy(rf"^(?:the |that |its |my |i see (?:the|a) |there's a |got (?:a|the) )*(?P<thing>(?:red |green |amber |little |pilot |heat tape |tape |indicator )*(?:light|lamp|led|pilot|glow))(?:'s| is)?(?: (?:on|lit|glowing|burning|shining|up))*{TAIL}")  # fmt: skip
_LIGHT_STEP = Lazy(r"^look for [^.]*\b(?:light|lamp)\b")
_PARTS = Lazy(r"\s*[,;.!]+\s+|\s+and\s+(?=(?:the |my |our |all |both |i |we |[a-z]+(?:'s| is| are) |[a-z]+ed ))")
_CUES = (" off", " on", " in", "out", "shut", "close", "lock", "latch", "open", "stow", "away", " up", "clear", "clean", "set", "plug", "hook", "connect", "chock", "brief", "check", "look", "test", "walk", "read", "stop", "kill", "turn", "dark", "done", "did", "lit", "light", "fine", "good", "ok", "count", "swept", "wiped", "scrap", "start", "running", "told", "press", "felt", "going", "tight", "found", "spotted", "grab", "fetch", "got ")  # fmt: skip
_BESIDE = Lazy(
    rf"^(?:(?:the )?(?:tester|meter|pilot|plug tester|light)(?: (?:is|was|says|reads|shows|looks?))? (?:ok|okay|good|fine|green|happy)|all good|all set|done|no problem|no trouble|that's done|looks? (?:good|fine)|good to go|that too){TAIL}"
)
"""What may be said beside such a report, and tells no other thing."""


_GOES_ON = Lazy(
    r"^(?:so |and |then )?(?:next(?: one| step)?|what's next|what now|go on|carry on|keep going|move on)(?: please)?$"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The later step that is told to be done is kept, and the step in hand stays; None for anything else."""
    walk = state.walk
    if walk is None or walk.paused or state.pending is not None or "?" in text:
        return None
    if mind.knowledge.procedure(walk.topic).kind == "hazard":
        return None
    if state.asking is not None and state.asking.what not in ("reading", "resume"):
        return None
    if (figure := _figure_ahead(text, state, walk, mind)) is not None:
        return kept(state, (figure,), text, AHEAD, f"Noted for step {figure + 1}.")
    if not names_any(f" {text.lower()}", _CUES):
        return None
    parts = [one for one in (_LEAD.sub("", plain(part)) for part in _PARTS.split(text)) if one]
    reports = [part for part in parts if not _BESIDE.match(part)]
    if not reports or sum(len(part.split()) for part in parts) > MOST_WORDS or _OTHERWISE.search(_at_light(parts)):
        return None
    if wants_record(text) or told_fault(text, mind.defect_words) is not None or mind.wishes.find(text):
        return None
    goes_on = len(reports) > 1 and _GOES_ON.match(reports[-1]) is not None
    reports = reports[:-1] if goes_on else reports
    found = [_steps_of(report, walk, mind) for report in reports]
    if not all(found) or any(walk.at in places for places in found):
        return None  # the step in hand is judged by its own rules
    ahead = tuple(sorted({places[0] for places in found if len(places) == 1}))
    later = tuple(at for at in ahead if at > walk.at)
    if not later:
        return None if goes_on else walking.control(replace(state, failures=0), still(walk), topic=walk.topic)
    numbers = " and ".join(str(at + 1) for at in later)
    line = f"Noted for step{'s' if len(later) > 1 else ''} {numbers}."
    if goes_on:
        noted = kept(state, later, text, AHEAD, line)
        if phrases.step_of(mind.knowledge.procedure(walk.topic), walk).reading:
            return noted  # its figure is asked for first
        outcome = walking.forward(replace(noted.state, asking=None), mind, now, line)
        return Outcome(outcome.state, outcome.reply, (*noted.events, *outcome.events))
    return kept(state, later, text, AHEAD, line)


def still(walk: Walk) -> str:
    """That the walk stands where it stood."""
    return f"Still at step {walk.number}. Say next when it is done."


def stays(state: State, walk: Walk) -> Outcome:
    """The walk at its step, and that it stands there said."""
    return walking.control(replace(state, failures=0), still(walk), topic=walk.topic)


def kept(state: State, places: tuple[int, ...], text: str, when: str, line: str) -> Outcome:
    """The state with what was told of later steps of the walk in hand, which stays at its step."""
    walk = state.walks[-1]
    noted = tuple(ToldDone(at, text, applies=when == AHEAD) for at in places)
    walk = replace(walk, done=(*(one for one in walk.done if one.at not in places), *noted))
    before = walking.remembered(replace(state, failures=0), "that report")
    after = replace(before, walks=(*state.walks[:-1], walk))
    events = tuple(
        EventDraft("told-done", {"topic": walk.topic, "step": at + 1, "said": text, "when": when}) for at in places
    )
    return walking.control(after, f"{line} {still(walk)}", topic=walk.topic, events=events)


_ASIDE = ("procedure", "clarify", "unknown")


def held(state: State, text: str, outcome: Outcome, mind: Mind) -> Outcome:
    """The walk kept at its step, where a plain statement would have opened something else or been asked back."""
    walk, reply = state.walk, outcome.reply
    if (
        walk is None
        or walk.paused
        or state.pending is not None
        or mind.knowledge.procedure(walk.topic).kind == "hazard"
    ):
        return outcome
    if state.asking is not None and state.asking.what not in ("reading", "resume"):
        return outcome
    again = reply.kind == "step" and reply.show[0].startswith("You are in this one") and reply.topic == walk.topic
    if reply.readings or (reply.kind not in _ASIDE and not again) or (reply.topic or "") in mind.knowledge.hazards:
        return outcome
    titled = reply.kind == "procedure" and stems(mind.knowledge.title(reply.topic or "")) <= stems(text)
    if titled or set(reply.options) & mind.knowledge.hazards or not only_tells(text, mind):
        return outcome
    return walking.control(replace(state, failures=0), still(walk), topic=walk.topic)


def only_tells(text: str, mind: Mind) -> bool:
    """Whether a text tells how something stands or what was done, without trouble, doubt or wish, and asks for nothing."""
    if (
        not names_any(f" {text.lower()}", _CUES)
        or wants_record(text)
        or told_fault(text, mind.defect_words) is not None
    ):
        return False
    parts = [one for one in (_LEAD.sub("", plain(part)) for part in _PARTS.split(text)) if one]
    reports = [part for part in parts if not _BESIDE.match(part)]
    if not reports or sum(len(part.split()) for part in parts) > MOST_WORDS or _OTHERWISE.search(_at_light(parts)):
        return False
    if any(_COMPLAINED.search(part) or _DARK.search(part) or _COMMANDS.match(part) for part in reports):
        return False
    return all(
        _DID.match(part) is not None
        or _FOUND.match(part) is not None
        or (_ORDERS.match(part) is None and any(form.match(part) for form in _DEEDS.values()))
        or any(form.match(part) for form in _STATES.values())
        for part in reports
    )


_FOUND = Lazy(
    r"^(?:(?:i|we|i've|we've|just|have|got|there's|finally) )*(?:found|located|spotted|picked|borrowed|grabbed|fetched) (?:the|a|an|one|another|it|some|my|our|two)\b[a-z' ]{0,40}$|^(?:one|two|three|four) (?:holes?|prongs?|pins?|slots?)$"
)
_DID = Lazy(
    r"^(?:i|we|he|she|they|my partner|the other driver)(?:'ve|'s| have| has)? (?:just |already |also )*(?:[a-z]+ed|put|shut|set|took|got|hung|swept|ran|found) (?:up |down |on |off |out |in |over |back )?(?:the|my|our|all|both|every|that|it|them)\b[a-z' ]{0,40}$"
)
_DARK = Lazy(
    r"\b(?:lights?|lamps?|markers?|signals?|bulbs?|water|engine|motor|alarms?|detectors?|sensors?|gauges?)(?:'s| is| are)?(?: (?:all|now|both|still))* (?:out|down|dark|stopped|off|shut off)\b"
)
"""What may have failed where it is told to be out, though lights are switched off as well."""


_FIGURE = Lazy(
    r"^(?:(?:ok|okay|yep|yeah|so|and|right|done|good|the|it's|its|it is|i|we|i've|thermostat|stat|heat|dial|furnace|at|to|on|set|put|turned|dialed|is|'s|thermostat's|stat's|heat's) )*(?P<number>\d{2,3}|(?:fifty|sixty|seventy|eighty)(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?)(?: (?:degrees|it is|like (?:it|you) (?:says?|said)|now|already|inside))*$"
)
_FIGURE_CUE = Lazy(r"\b(?:it is|it's|its|set|put|turned|dialed|thermostat|stat|heat|dial)\b")


def _figure_ahead(text: str, state: State, walk: Walk, mind: Mind) -> int | None:
    """The place of the one later step that sets something to just the figure that is told: "62 it is"."""
    said = plain(text)
    found = _FIGURE.match(said)
    number = parse_number(found["number"]) if found is not None else None
    here = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    if number is None or not _FIGURE_CUE.search(said):
        return None
    if here.reading and here.reading != "passengers" or (here.reading and number <= (mind.coach.people.max_passengers)):
        return None
    steps = mind.knowledge.procedure(walk.topic).steps
    orders = {at: phrases.filled(steps[walk.plan[at]].do, mind.facts) for at in range(walk.at + 1, len(walk.plan))}
    places = [
        at for at, order in orders.items() if order.startswith("Set ") and f" {number:g} " in f"{order.rstrip('.')} "
    ]
    return places[0] if len(places) == 1 else None


AHEAD = "ahead of its step"
"""What is kept in the record with such a step."""


def _at_light(parts: list[str]) -> str:
    """All that is told, without the color of a light that is lit, which is no trouble."""
    return " ".join("light on" if _LIT.match(part) else part for part in parts)


def _steps_of(said: str, walk: Walk, mind: Mind) -> list[int]:
    """The places in the plan of the steps that a report may answer; the step in hand before later ones, those before earlier ones."""
    steps = mind.knowledge.procedure(walk.topic).steps
    orders = [phrases.filled(steps[index].do, mind.facts).lower() for index in walk.plan]
    ends = [phrases.filled(steps[index].done_when or "", mind.facts).lower() for index in walk.plan]
    places = _answered(said, orders, ends)
    if walk.at in places:
        return [walk.at]
    later = [at for at in places if at > walk.at]
    if not later:
        return places
    return [at for at in later if not _undone_first(orders[at], orders[walk.at : at])] or [_NOWHERE]


_NOWHERE = -1
"""The place of what is told too early: the walk undoes it before that step, as it starts the engine to stop it later."""
_UNDOES = {"off": "on", "on": "off", "in": "out", "out": "in", "shut": "open", "open": "shut"}


def _undone_first(order: str, before: list[str]) -> bool:
    """Whether a step before does the opposite to what the order is about."""
    kind = next((kind for kind, (_, _, begins) in _KINDS.items() if begins.search(_ORDER.sub("", order))), "")
    if kind not in _UNDOES:
        return False
    undoes = _KINDS[_UNDOES[kind]][2]
    return any(undoes.search(_ORDER.sub("", one)) and stems(one) & stems(order) for one in before)


def _answered(said: str, orders: list[str], ends: list[str]) -> list[int]:
    """The places of the steps whose thing is told to stand as they want it."""
    if _SECOND.search(said) and "open" in said:
        return [at for at, order in enumerate(orders) if _OPENS_SECOND.search(order)]
    if _LIT.match(said):
        return [at for at, order in enumerate(orders) if _LIGHT_STEP.match(order)]
    if (alone := _ALONE.match(said)) is not None:
        kind = "out" if alone["how"].startswith("un") else "in"
        tries = (_of_kind(kind, stems(thing), said, orders, ends) for thing in _NO_THING[kind])
        return next((places for places in tries if places), [])
    if _COMMANDS.match(said):
        return []
    ordered = _ORDERS.match(said) is not None
    for kind in _KINDS:
        for form in (_STATES[kind],) if ordered else (_DEEDS[kind], _STATES[kind]):
            found = form.match(said)
            named = stems(found["thing"]) if found is not None else set()
            places = _of_kind(kind, named, said, orders, ends) if named else []
            if named and not places:
                other = stems(" ".join(_ALIKE.get(word, word) for word in (found or {"thing": ""})["thing"].split()))
                places = _of_kind(kind, other, said, orders, ends) if other != named else []
            if places:
                return places
    return []


def _of_kind(kind: str, named: set[str], said: str, orders: list[str], ends: list[str]) -> list[int]:
    """The places of the steps of one kind of work that name all that is named; those whose order itself does come first."""
    begins = _KINDS[kind][2]
    of_kind = [at for at, order in enumerate(orders) if begins.search(_ORDER.sub("", order))]
    if kind == "off" and _COMPLAINED.search(said):
        of_kind = [at for at in of_kind if not orders[at].startswith("if ")]
    plainly = [at for at in of_kind if named <= stems(orders[at])]
    return plainly or [at for at in of_kind if named <= stems(f"{orders[at]} {ends[at]}")]


def stems(words: str) -> set[str]:
    """The beginnings of the words that name something, in the singular."""
    return beginnings(_PLURAL.sub("", words), _SMALL)


_PLURAL = re.compile(r"(?<=[a-z]{3})s\b(?<!ss)|'s\b")
"""What makes a short word look like another: "bays" and "bay"."""
