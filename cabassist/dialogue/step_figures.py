"""A figure told in a sentence at a step that asks for one: "buzzer went off at 68", "26 kids and two coaches".

At such a step a number without a name is of what the step asks for, whatever was told last: the wrong level put down, and the right
one taken back for it, makes every forecast after it wrong. Where the step says within which bounds the figure must lie, one that lies
outside finishes nothing: a brake that fails its test must not be ticked.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import datetime

from cabassist.dialogue import bare_numbers, deciding, following, phrases, telling, walking, whose_level
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain
from cabassist.language.numbers import NUMBER_WORDS, parse_number
from cabassist.language.reading_types import Heard, Reading
from cabassist.procedures.model import Step

MOST_WORDS = 18
_WORDS = "|".join(sorted(NUMBER_WORDS - {"a", "an"}, key=len, reverse=True))
_SPELT = rf"(?:a (?=hundred\b))?(?:{_WORDS})(?:(?: (?:and (?<=hundred and ))?|-)(?:{_WORDS})\b)*"
_FIGURE = Lazy(rf"(?<![\w.])(?:\d+(?:\.\d+)?|{_SPELT})(?![\w]|\.\d)")
_CUE = Lazy(rf"\d|\b(?:{_WORDS}|full|empty|nobody|none|no one|not a soul|half|quarters?|thirds?|eighths?)\b")
_PSI = r"(?:psi|pounds?|lbs?)"
_SECONDS = r"(?:seconds?|secs?|s)"
_OTHER_UNIT = re.compile(
    r"^ ?(?:°|%|-|percent\b|degrees?\b|volts?\b|amps?\b|minutes?\b|mins?\b|hours?\b|days?\b|times\b|seconds?\b|secs?\b|gallons?\b|miles\b|inch(?:es)?\b|feet\b|wheels?\b|tires?\b|chocks?\b|needles?\b|gauges?\b|taps\b|more\b|of (?:them|us|the)\b|o'?clock\b|rears?\b|fronts?\b|duals?\b|th\b|pumps?\b|presses\b|strokes\b|kids?\b|people\b)"
)
_DENIES = Lazy(
    r"\b(?:not|\w+n't|never|nothing|no|if|until|till|should|supposed|want|need|before it|yet|yesterday|last (?:time|night|week))\b"
)


_COMMANDS = Lazy(r"\b(?:steps?|timer|remind|reminder|wake|alarm me|call|dial|skip|go to|jump)\b")
"""What steers or asks for a reminder holds no reading."""
_NOT_UNTIL = Lazy(
    r"\b(?:\w+n't|not|never)\b(?: \w+){1,5}? (?:till|until)\b|\b(?:not|only) (?:till|until|at|when it (?:was|hit|got to))\b"
)
"""Something came late, and did come: "it didn't come on till 50"."""


@dataclass(frozen=True)
class Bounds:
    """Within what a figure must lie for the step to be done."""

    least: float
    most: float
    unit: str
    loss: bool = False
    """Whether it is by how much the needles fall."""


_NUMBER = r"(\d+(?:\.\d+)?)"
_BETWEEN = re.compile(rf"between {_NUMBER} and {_NUMBER} (psi)")
_MOST = re.compile(rf"(?P<loss>fall )?(?:by |takes )?no more than {_NUMBER} (psi|seconds)")
_LEAST = re.compile(rf"(?:falls to|never below|at least) {_NUMBER}(?: (psi))?")


def bounds_of(step: Step) -> Bounds | None:
    """The bounds that the end of a step names, in psi or seconds; None where it names none."""
    text = step.done_when or ""
    if found := _BETWEEN.search(text):
        ends = sorted((float(found[1]), float(found[2])))
        return Bounds(ends[0], ends[1], "psi")
    if found := _MOST.search(text):
        return Bounds(0.0, float(found[2]), found[3], loss=bool(found["loss"]))
    if (found := _LEAST.search(text)) and "psi" in text:
        return Bounds(float(found[1]), float("inf"), "psi")
    return None


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The reading stored, or the test passed, and the next step; or that it is not passed. None where the text tells no such figure."""
    walk, said = state.walk, plain(text)
    if walk is None or walk.paused or state.pending is not None or not _CUE.search(said):
        return None
    if (state.asking is not None and state.asking.what not in ("reading", "resume", "choice")) or "?" in text:
        return None
    if (
        len(said.split()) > MOST_WORDS
        or _COMMANDS.search(said)
        or following.ASKS.match(bare(text))
        or _opens_correction(text)
    ):
        return None
    if state.last is not None and state.last.kind == "calculation" and following.VARIES.match(said):
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    if procedure.kind == "hazard":
        return None
    step = phrases.step_of(procedure, walk)
    bounds = bounds_of(step)
    if bounds is not None and (step.reading in ("", None, "air_pressure")):
        return _measured(state, walk, step, bounds, text, mind, now)
    return _read(state, step, text, mind, now) if step.reading else None


_LATE = re.compile(r"^(?:there was )?no [a-z]+(?: at all)? (?:until|till)\b")
""" "No buzzer until 48" puts nothing right."""


def _opens_correction(text: str) -> bool:
    from cabassist.language import putting_right

    if _LATE.match(plain(text)):
        return False
    return putting_right.puts_right(text) or deciding.CORRECTS.match(plain(text)) is not None


# A test with bounds


_DROPPED = Lazy(
    r"\b(?:lost|lose|loses|dropp?(?:ed|s)?|fell|falls?|fallen|down|leaked|leaks?|went down|loss|drop)\b(?! to\b| below\b| from\b)"
)
_FROM_TO = Lazy(r"\bfrom (?P<a>[\w.]+(?: \w+){0,3}?) (?:down )?to (?P<b>[\w.]+(?: \w+){0,3}?)(?: psi| pounds?)?$")
_NO_LOSS = Lazy(
    r"\b(?:no (?:drop|loss|change)|didn't (?:move|drop|budge|fall)|did not (?:move|drop|budge|fall)|never moved|zero)\b"
)


def _measured(
    state: State, walk: Walk, step: Step, bounds: Bounds, text: str, mind: Mind, now: datetime
) -> Outcome | None:
    """What a measured figure makes of a step with bounds."""
    if bounds.loss:
        lost = _lost(text)
        found = [lost] if lost is not None else []
    else:
        found = _figures_told(text, step, bounds.unit, mind)
    outside = [one for one in found if not bounds.least <= one <= bounds.most]
    figure = next(iter(outside or sorted(found)), None)  # of two needles the lower
    if figure is None or (not outside and not bounds.loss and _DENIES.search(_NOT_UNTIL.sub(" at ", plain(text)))):
        return None
    heard = _air(figure, mind) if step.reading else Heard()
    if step.reading and not heard.readings:
        return None
    if not bounds.least <= figure <= bounds.most:
        return _failed(state, walk, step, heard, text, mind, now)
    if heard.readings:
        return telling.told(heard, text, replace(state, failures=0), mind, now)
    return _passed(state, walk, text, mind, now)


def _air(figure: float, mind: Mind) -> Heard:
    return mind.readings_in(f"air pressure {figure:g} psi")


def _lost(text: str) -> float | None:
    """By how much the needles fell, told as a loss or as where they stood before and after."""
    said = plain(text)
    if (moved := _FROM_TO.search(said)) is not None:
        ends = parse_number(moved["a"]), parse_number(moved["b"])
        return abs(ends[0] - ends[1]) if None not in ends else None  # type: ignore[operator]
    if not _DROPPED.search(said):
        return None
    found = _figures(said, "psi", least=False)
    found = [value for value in found if value < _LEAST_STANDING]
    return found[0] if len(found) == 1 else None


_LEAST_STANDING = 40.0
"""A loss is never told of so many pounds; it is where a needle stands."""


def _figures_told(text: str, step: Step, unit: str, mind: Mind) -> list[float]:
    """The figures of a unit in a text, at most two, that are no figures of the step itself."""
    said = plain(text)
    if telling.named_in(said) not in (None, "air_pressure", "outside_temp"):
        return []
    own = {float(one) for one in re.findall(_NUMBER, phrases.filled(step.do, mind.facts))}
    found = [value for value in _figures(said, unit) if value not in own]
    return found if len(found) <= _NEEDLES else []


_NEEDLES = 2


_CLOCK_LEADS = re.compile(r"\b(?:in|for|after|within)(?: about| another| like)? $")
"""Before a bare number these make it minutes."""


def _figures(said: str, unit: str, least: bool = True) -> list[float]:
    """The figures of a plain text that have this unit or none; with `least` no bare one that is too low for where a needle stands."""
    own = re.compile(rf"^ ?{_PSI if unit == 'psi' else _SECONDS}\b")
    found: list[float] = []
    for one in _FIGURE.finditer(said):
        value, after = parse_number(one.group()), said[one.end() :]
        pronoun = one.group() == "one" and not own.match(after)
        counts = unit == "psi" and value is not None and value < _LEAST_PRESSURE and not own.match(after)
        clock = _CLOCK_LEADS.search(said[: one.start()]) or after.startswith(" past ")
        if (
            value is None
            or pronoun
            or (clock and not own.match(after))
            or (counts and least)
            or (_OTHER_UNIT.match(after) and not own.match(after))
        ):
            continue
        found.append(value)
    return found


def _passed(state: State, walk: Walk, text: str, mind: Mind, now: datetime) -> Outcome:
    return walking.told_done(state, text, mind, now)


def _failed(state: State, walk: Walk, step: Step, heard: Heard, text: str, mind: Mind, now: datetime) -> Outcome:
    """The figure kept, and that it lies outside what the step allows: with whom to call, at the same step."""
    state, echoes, events = telling.beside(heard, text, state, mind, now) if heard.readings else (state, (), ())
    procedure = mind.knowledge.procedure(walk.topic)
    lines = (
        *echoes,
        f"Not passed: still at step {walk.number}. Done when: {phrases.filled(step.done_when or '', mind.facts)}",
        f"Call: {phrases.filled(procedure.call, mind.facts)}",
    )
    outcome = walking.control(replace(state, failures=0), " ".join(lines), lines=lines, topic=walk.topic)
    return Outcome(outcome.state, replace(outcome.reply, readings=heard.readings), (*events, *outcome.events))


# A reading that a step asks for


_LEADS = Lazy(
    rf"^(?:(?:ok|okay|so|and|well|now|yeah|yep|right|um|uh|oh|it|that|this|she|they|it's|its|that's|the|a|needle|needles|gauge|meter|dial|one(?! (?:{_WORDS})\b)|both|just|only|about|around|roughly|maybe|at|on|is|are|was|reads?|reading|says?|saying|shows?|showing|sits?|sitting|stopped|stands?|standing|got|have|had|i've|we've|we|i|read|down|up|to) )*",
    re.IGNORECASE,
)


def _read(state: State, step: Step, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The reading that the step asks for, told without its name; asked back where it would be put down as another one."""
    wanted, said = step.reading or "", plain(text)
    if wanted == "propane":
        return None  # which cylinder a level is of is found out elsewhere
    if wanted == "passengers":
        count = 0 if _NOBODY.match(said) and "aboard" in (step.done_when or "") else heads(text)
        heard = mind.readings_in(f"passengers {count}") if count is not None else Heard()
    else:
        named = telling.named_in(said)
        if named is not None and named != wanted:
            return None
        in_part = _in_a_part(wanted, text, mind)
        if in_part is not None:
            return telling.told(in_part, text, replace(state, failures=0), mind, now)
        alone = mind.readings_in(text)
        if wanted == "tire_pressure" and (sides := _both_fronts(said, step, mind)) is not None:
            return telling.told(sides, text, replace(state, failures=0), mind, now)
        several = wanted == "tire_pressure" and not alone.readings  # which wheel has which is seen at the wheels
        if alone.readings or alone.refused or (alone.ask and not several):
            return None  # it is told with its name, or of something else
        heard = _of_wanted(wanted, step, text, mind)
    if heard.readings and {one.what for one in heard.readings} == {wanted} and not heard.withdrawn:
        return telling.told(heard, text, replace(state, failures=0), mind, now)
    if not state.told or wanted == "passengers":
        return None
    leaning = mind.readings_in(text, state.told)
    if leaning.withdrawn and wanted not in {one.what for one in leaning.readings}:
        return bare_numbers.asked_back(state, whose_level.NUMBER_OF, text)
    return None


def _of_wanted(wanted: str, step: Step, text: str, mind: Mind) -> Heard:
    """What a text without a name tells of one thing: read whole, from its figure on, or as pressures of one unit."""
    said = plain(text)
    if _DENIES.search(said):
        return Heard()
    name = wanted.replace("_", " ")
    if wanted == "air_pressure":
        found = [one for one in _figures(said, "psi") if one >= _LEAST_PRESSURE]
        return _air(min(found), mind) if 0 < len(found) <= 2 else Heard()
    if wanted == "tire_pressure":
        return _pressures(said, text)
    if len(said.split()) > _SHORT:
        return Heard()
    return mind.readings_in(f"{name} {_LEADS.sub('', text.strip())}")


_PARTS = re.compile(r"[,;.](?!\d)| and | but | so ")
_LEVEL_TOLD = Lazy(
    r"^(?:(?:it|it's|its|she|she's|that's|we're|now|is|the|gauge|needle|reads?|says?|shows?|at|about|dead|bone|all|totally|completely|i'd|say|call it|looks?|like|maybe|roughly) )*(?:full|empty|dry|topped (?:up|off)|(?:a |one |three |five |seven |two )?(?:half|quarters?|thirds?|eighths?)(?: full)?)$"
)
_TANKS = ("fresh", "waste", "diesel", "def")


def _in_a_part(wanted: str, text: str, mind: Mind) -> Heard | None:
    """The level of the tank that the step asks for, told in one part of what was said: "it spat at the overflow, full"; None where none is."""
    parts = [plain(part).strip() for part in _PARTS.split(text.lower())]
    levels = [part for part in parts if _LEVEL_TOLD.match(part)]
    if wanted not in _TANKS or len(parts) < 2 or len(levels) != 1 or _DENIES.search(plain(text)):
        return None
    heard = mind.readings_in(f"{wanted} {_LEADS.sub('', levels[0])}")
    return heard if {one.what for one in heard.readings} == {wanted} and not heard.withdrawn else None


_SHORT = 7
_LEAST_PRESSURE = 12.0
"""A bare number below this counts how often the pedal was pressed, or what else one does there."""
_TIRES = (40.0, 160.0)


_SIDES = re.compile(r"\b(?P<one>left|right)\b.*\b(?!(?P=one))(?P<other>left|right)\b")


def _both_fronts(said: str, step: Step, mind: Mind) -> Heard | None:
    """The pressures of both front tires where the step asks for them: "left 118, right 116"; None where not both are told."""
    found = [one for one in _figures(said, "psi") if _TIRES[0] <= one <= _TIRES[1]]
    sides = _SIDES.search(said)
    if sides is None or len(found) != _NEEDLES or "front" not in step.do or re.search(r"\brears?\b", said):
        return None
    return mind.readings_in(f"{sides['one']} front {found[0]:g} psi, {sides['other']} front {found[1]:g} psi")


def _pressures(said: str, text: str) -> Heard:
    """Pressures told of the tires that a step names, which hold for all of them: "all four rears between 95 and 98"."""
    found = [one for one in _figures(said, "psi") if _TIRES[0] <= one <= _TIRES[1]]
    if not found:
        return Heard()
    low, high = min(found), max(found)
    ends = [end for end in ("front", "rear") if re.search(rf"\b{end}s?\b", said)]
    which = ends[0] if len(ends) == 1 else None
    if low == high:
        return Heard((Reading("tire_pressure", which, low, "psi", said=text),))
    return Heard((Reading("tire_pressure", which, low, "psi", approx=True, low=low, high=high, said=text),))


# How many people


_PEOPLE = r"(?:people|persons?|passengers?|kids?|children|players?|skaters?|athletes?|students?|adults?|coach(?:es)?|trainers?|staff|drivers?|helpers?|parents?|chaperones?|girls|boys|men|women|guys|teens|teenagers|leaders?|managers?|doctors?|nurses?|medics?|goalies|heads|souls|of us|grown-?ups|volunteers?|teachers?)"
_GROUP = Lazy(
    rf"(?P<count>\d{{1,3}}|\ban?|\b(?:{_WORDS})(?:[ -](?:{_WORDS}))*) (?:\w+ )?{_PEOPLE}\b(?! (?:has|have|is|are (?:ill|sick|hurt|on)|needs?|with|gets?|uses?|takes?|who|looking|working|watching|waiting|checking|car ?sick|sick|ill|hurt|missing|late|short|asleep|in (?:seat|bunk|row))\b)"
)
_STAYS = Lazy(
    rf"\b(?P<count>\d{{1,2}}|(?:{_WORDS})(?:[ -](?:{_WORDS}))?)(?: (?:of (?:us|them|the \w+)|people|kids|players|drivers|staff|guys|still|will|are|is|more|asleep|going to|gonna))* (?:stay|stays|staying|sleep|sleeps|sleeping|asleep|aboard|on board|remain|remains|remaining|bunking|bunked|in (?:the |their )?bunks?|in (?:the )?beds?)\b"
)
_NOBODY = Lazy(
    r"^(?:(?:so|ok|okay|well|had a look|checked|looked) )*(?:nobody|no one|none|not a soul)\b(?!.*\b(?:but|except|besides|only|just|yet|checked|looked|knows|told)\b)"
)
_LISTED = Lazy(rf"\b(?:\d{{1,3}}|{_WORDS}) {_PEOPLE},? (?:and|plus) (?:\d{{1,3}}|a|an|{_WORDS}) {_PEOPLE}\b")
"""Groups told together, so that what follows is of them all."""
_BESIDE_US = Lazy(
    rf"^(?:(?:so|ok|okay|well|that's|it's|counted|heads|i count|i counted|we have|got) )*(?P<count>\d{{1,3}}|(?:{_WORDS})(?:[ -](?:{_WORDS}))?)(?: of (?:them|the (?:team|kids|players|lads)))?,? (?:plus|and|and then|not counting|besides) (?P<me>me|myself|the driver)(?: and (?P<other>(?:the |my )?[a-z]+(?: driver| partner)?))?$"
)
"""A count of the team, with the drivers beside it: "22 of them plus me and Benny"."""
_COUNT_FIRST = Lazy(
    rf"^(?:(?:so|ok|okay|well|that's|it's|i|we|counted|count|counts|heads|head|there's|there|are|have|got|of|makes|all|told) )*(?P<count>\d{{1,3}}|(?:{_WORDS})(?:[ -](?:{_WORDS}))?)(?: and (?:that's what|[a-z]+'s got|[a-z]+ has|nobody|one has|same as|it matches)\b.*| (?:same as|including|counting(?! on)|on the (?:nose|dot|money|button)|exactly|spot on|dead on|just (?:like|as)|like (?:the|it)|as (?:per|on|it|he|she|they)|(?:which |it |that )?(?:matches|agrees|fits|tallies)|with (?:me|us|the (?:two )?drivers?)|(?:the |our )?(?:manager|leader|list|sheet|roster|manifest) (?:agrees|says|has|matches))\b(?!.*\b(?:missing|short|but|except|gone)\b).*)?$"
)
"""A count, and a remark that counts nobody: "counted thirty one and that's what the list says"."""
_SUM = Lazy(
    rf"^(?:(?:so|ok|okay|well|that's|it's|i|we|counted|count|there's|there|are|have|got) )*(?P<one>\d{{1,3}}|(?:{_WORDS})(?:[ -](?:{_WORDS}))?) (?:and|plus) (?P<other>\d{{1,3}}|(?:{_WORDS})(?:[ -](?:{_WORDS}))?)(?: (?:that )?(?:makes?|is|are|equals|that's|comes to|for|so|in all) (?P<all>\d{{1,3}}|(?:{_WORDS})(?:[ -](?:{_WORDS}))?))?(?: (?:in all|all told|total|aboard|heads|of us|people))*$"
)
"""Two groups and what they come to: "ten and two makes twelve"."""
_ONE_MORE = Lazy(
    r"\b(?:and|plus|with) (?:(?:me|myself)\b(?! and\b)|(?:the|our|my|their|his|her) (?:\w+ )?(?:trainer|coach|manager|leader|driver|helper|chaperone|teacher|medic|nurse|doctor|co-?driver|partner)\b(?!'| (?:has|is|says|agrees|counted)\b))"
)
"""One person beside the groups that are counted: "fourteen girls plus the trainer"."""
_SUBSET = re.compile(r"\b(?:including|of (?:them|whom|those|which)|among them|counting)\b")


def counts(text: str) -> bool:
    """Whether a text holds a figure."""
    return _CUE.search(plain(text)) is not None


def heads(text: str) -> int | None:
    """How many people a text counts: those who stay where it says so, else all groups together; None where it counts none."""
    said = plain(text)
    if _DENIES.search(said):
        return None
    beside = _BESIDE_US.match(said)
    if beside is not None and (count := parse_number(beside["count"].replace("-", " "))) is not None:
        return int(count) + (1 if beside["me"] else 0) + (1 if beside["other"] else 0)
    if (both := _SUM.match(said)) is not None:
        parts = [parse_number(both[name].replace("-", " ")) for name in ("one", "other", "all") if both[name]]
        whole_numbers = all(one is not None and one == int(one) for one in parts)
        total = int(sum(one or 0 for one in parts[:2])) if whole_numbers else None
        return total if total is not None and parts[2:] in ([], [total]) else None
    first = _COUNT_FIRST.match(said)
    if first is not None and _GROUP.search(said) is None:
        count = parse_number(first["count"].replace("-", " "))
        return int(count) if count is not None and count == int(count) else None
    stays = {parse_number(one["count"]) for one in _STAYS.finditer(said)}
    if stays and not _LISTED.search(said):
        only = stays.pop()
        return int(only) if only is not None and not stays and only == int(only) else None
    whole = _SUBSET.split(said)[0]
    said_counts = [one["count"] for one in _GROUP.finditer(whole)]
    counts = [1 if one in ("a", "an") else parse_number(one.replace("-", " ")) for one in said_counts]
    if not set(said_counts) - {"a", "an"} or any(one is None or one != int(one) for one in counts):
        return None
    return int(sum(one or 0 for one in counts)) + len(_ONE_MORE.findall(whole))
