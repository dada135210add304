"""Somebody is missing at the head count: told in words, or by a count that has fallen short. Nothing moves until he is found.

A coach that leaves one behind in deep cold kills, so the answer is an order and no menu. A count at the step that asks for it is
set against what was counted before; how many slept aboard is no measure for it. Said again, the smaller count stands.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import step_told, telling, walking
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.numbers import NUMBER_WORDS, parse_number

_CUES = ("missing", "missed the", "short", "not here", "n't here", "not back", "n't back", "not aboard", "n't aboard", "not on", "n't on", "never came", "unaccounted", "can't find", "cannot find", "can't see", "lost", "left behind", "off by", "fewer", "should be", "supposed to be", "not all", "not every", "gone", "list ", "roster", "manifest", "forgot", "left", "match", "add up", "not right", "n't right", "come out", "tally", "nowhere", "n't come", "not come", "where is", "where's", "didn't get", "did not get", "no sign")  # fmt: skip
_WORD = "|".join(sorted(NUMBER_WORDS))
_N = rf"(?:\d{{1,2}}|(?:{_WORD})(?: (?:{_WORD}))?)"
_A = rf"(?:a|an|one|{_N}|some|another|one of (?:the|my|our)|{_N} of (?:the|my|our))(?: (?:last|little|young|small|older|other))*"
_WHO = r"(?:kids?|child|children|boys?|girls?|players?|passengers?|persons?|people|athletes?|skaters?|team ?mates?|students?|guys?|man|men|woman|women|lady|heads?|trainers?|goalie|assistant|members?|youngsters?|teenagers?|of (?:us|them|ours)|of the (?:team|kids|players|boys|girls|group|passengers))"
_ONE_OF_THEM = r"(?:kid|child|boy|girl|player|passenger|person|athlete|skater|team ?mate|student|guy|man|woman|lady|trainer|goalie|assistant|youngster|teenager)"
_SOMEONE = rf"(?:some ?one|somebody|(?:the|our|my|that|this)(?: (?:other|last|little|young|small|older))* {_ONE_OF_THEM}\b|{_A} {_WHO}|{_N} of (?:us|them))"
_IS = r"(?:'s|'re|s)?(?: (?:is|are|was|were|has|have|seems|still|now|all|went|just|might be|may be))*"
_AWAY = r"(?:missing(?! (?:an?|the|his|her|their|my|some|one|two) )|unaccounted(?: for)?|(?<!has )(?<!have )gone(?! (?:to|home|with|into|for|back|off|out|on|in)\b)|nowhere(?: to be (?:found|seen))?|not (?:here|back|aboard|on board|accounted for|on the (?:bus|coach)|in (?:his|her|their|the) (?:seat|bunk))|(?:isn't|aren't|ain't|wasn't) (?:here|back|aboard|on board|on the (?:bus|coach)|accounted for|in (?:his|her|their|the) (?:seat|bunk))|(?:never|hasn't|haven't|didn't|did not|has not|have not) (?:came|come|got|get|made it|make it|gotten|return\w*|shown? up|turned up)(?: (?:back|aboard|on|on board|up|off|out|yet))*|not (?:come|got|returned)(?: (?:back|on))?|left behind|gone missing|missed the (?:head ?)?(?:count|call|bus|coach))"
_WHERE_FROM = r"(?: (?:from|in|at|on|to|off|of) (?:the |my |our |his |her )?(?:bus|coach|team|group|list|head ?count|count|bunks?|lobby|hotel|motel|washroom|restroom|bathroom|toilet|store|shop|rink|arena|rooms?|station|stop|parking lot|lot))?"
_TAIL = rf"{_WHERE_FROM}(?: (?:now|yet|still|again|here|today|this morning|i think|somewhere|from the (?:list|count|team|bus|coach)))*"
_PERSON_AWAY = Lazy(
    rf"\b(?:{_SOMEONE}(?: (?:in|from|of) (?:the |my |our )?[a-z]+(?: \w+)?)?(?: (?:went|got off|ran|walked)(?: \w+){{1,5}}? (?:and|but))?{_IS} {_AWAY}|{_SOMEONE}(?: (?:got|was|is|has been|were|been))* left (?:behind|at|in|on|back)\b|(?:left|forgot|forgotten) {_SOMEONE}(?: (?:behind|at|in|back|inside))?|(?:missing|we're missing|short|lost|we lost|i lost|can't find|cannot find|can't see|no sign of|left behind) (?:{_SOMEONE}|(?:{_N}) {_WHO})"
    rf"|not (?:every ?one|every ?body|all of (?:them|us)|all the (?:kids|players|boys|girls|passengers))(?:'s|'re| is| are)? (?:here|back|aboard|on board|accounted for|on|in)"
    rf"|(?:(?:every ?one|every ?body)(?:'s| is)? not|(?:they|(?:the )?(?:kids|players|boys|girls|passengers))(?:'re| are)? not all) (?:here|back|aboard|on board)"
    rf"|{_ONE_OF_THEM} (?:isn't|is not|never|hasn't|didn't) (?:here|back|aboard|on board|came back|come back|got back on|get back on))\b"
)
"""A person who is not there."""
_SHORT = Lazy(
    rf"^(?:(?:ok|okay|so|and|well|no|hey|uh|um|wait|but|crap|damn|oh|hold on|hang on|help|still) )*(?:(?:the |my |our )?(?:head ?counts?|count|head tally|nose count|number|numbers)(?:'s|s| is| are| (?:comes?|came)(?: (?:up|out|in))?| still| was| i get)*|(?:we're|we are|we come up|i'm|i am|we count|i count|i'm counting|it's|that's|they're)(?: (?:still|now|coming up))*)"
    rf" (?:a )?(?:(?:short|off|down)(?: by)? {_N}|{_N} (?:{_WHO} )?(?:short|too few|missing|less|fewer|under|down|off)|(?:short|wrong|off)|missing {_N}|(?:doesn't|don't|does not|do not|isn't|aren't|is not|won't) (?:match|add up|right|agree|tally|come out|fit)|not right)(?: (?:of us|of them|heads?|people|persons?|kids?|players?|passengers?|again|now|here|on the (?:count|bus|coach)|at the count|guys?|boys?|girls?))*{_TAIL}$"
)
"""The count is less than it should be; what else may be short has its name beside it."""
_NAMED_AWAY = Lazy(
    rf"^(?:(?:ok|okay|so|and|but|wait|hey|oh|no|hold on|hang on) )*(?P<name>(?!it\b|that\b|this\b|everything\b|nothing\b|nobody\b|which\b|what\b|anything\b|he\b|she\b)[a-z]{{3,14}}){_IS} {_AWAY}{_TAIL}$"
)
"""Somebody called by name, where heads were spoken of."""
_TOO_MANY = Lazy(rf"\b{_N} too many$")
_ALL_HERE = Lazy(
    r"^(?:(?:ok|okay|yes|yeah|yep|so|and|good|great) )*(?:(?:they(?:'re| are)|we(?:'re| are)) all|every ?one(?:'s| is)?|every ?body(?:'s| is)?|all(?: of (?:them|us))?(?: are)?|no ?body(?:'s| is)? missing|no one(?:'s| is)? missing|none missing|the count(?:'s| is) (?:right|good|fine|ok|okay)|count matches|all accounted(?: for)?)(?: (?:here|aboard|on board|on|in|back|present|seated|accounted for|now|and seated|strapped in))*$"
)
_HEADS = Lazy(r"\b(?:head ?count|count|heads?|tally)\b")
_ONLY_SHORT = Lazy(
    r"\b(?:'re|'s|'m|are|is|was|am|still|now|numbers?) (?:short|wrong|off)$|\bwe're (?:short|wrong|off)$|\bi'm (?:short|wrong|off)$"
)
_ONE_AWAY = Lazy(
    rf"(?:^|\b(?:and|but|so|then|think|well|ok|okay|aboard|here|{_WORD}|\d+) ){_N}(?: of (?:them|us))?(?:'s| is| are)?(?: still)? (?:missing|not here|not back|not aboard|gone missing)\b"
)
"""One of no name: a person where heads were spoken of."""
_OUGHT = Lazy(
    rf"[,;. ]*\b(?:and |but )*(?:(?:it |there |we |that )?(?:should(?: have| have been| be)?|ought to be|supposed to be|are supposed to be|was|were|had)(?: be)?|instead of|out of|not|of|from|(?:the |my |our )?(?:list|sheet|manifest|roster)(?: says| has| is)?) (?P<ought>{_N})\b"
)
_COUNT = rf"(?P<count>{_N})"
_COUNTED = Lazy(
    rf"^(?:(?:ok|okay|so|and|well|no|hey|uh|um|right|now|yeah|alright|done|again|but) )*(?:(?:i|we)(?:'ve| have|'m| am)? (?:(?:only|just|still|keep|kept) )*(?:count|counted|counting|make it|get|got|getting|have)|only|(?:it )?keeps? coming (?:to|out at|up)|i'm counting|counting|counted|(?:(?:the|our|my) )?(?:head ?count|count)(?:'s| is| comes to)?|{_N} of us|we're|we are|there are|there's)(?: (?:only|just|to|about|all|again|now|twice and (?:get|got)))* {_COUNT}"
    rf"(?: (?:aboard|on board|people|heads|of us|of them|kids|players|passengers|persons|now|only|here|in all|total|again|all told|everybody|seated|on|and|in|came|got|are|back|made it|every time|each time|the (?:bus|coach)))*$"
)
"""A head count, also without a word for people; "we are" and "there are" only count where heads are counted."""
_COUNTS = Lazy(r"\b(?:count|counted|counting|head ?count|i make it|we make it)\b")
_WHAT_TO_DO = Lazy(r"\bwhat (?:do|should|must|can|shall|to|now)\b")
_ASKS_WHAT = Lazy(r"(?: (?:so|and|now))* what (?:do|should|must|can|shall) (?:i|we) do(?: (?:now|then))*$")
_OF_HEADS = Lazy(r"\b(?:aboard|on board|we're|we are|people|heads|(?:head ?)?count\w*|kids|players|passengers|here)\b")
_GETS = Lazy(
    r"\b(?:i|we) (?:only |just |still |keep )*(?:get|getting|have)\b|^(?:but )?only\b.*\bof (?:them|us)\b|\bkeeps? coming\b"
)
_OTHERS = Lazy(
    r"\?|^(?:what|how|where (?:do|can|should)|why|which|when|if|can|could|should|do|does|who|is|are)\b(?!')|\b(?:if|in case|when|unless|last (?:week|month|year|trip|season)|used to|remind|once|not missing|nobody(?:'s| is)? missing|no one(?:'s| is)? missing|(?:he|she|they|it|kid|boy|girl|player)(?:'s|'re| is| are| was)? (?:all )?(?:back|found|here)|found (?:him|her|them|it)|never mind|bolt|nut|chock|key|cord|strap|hose)s?\b"
)
_MOST_WORDS = 22
_COUNT_CUES = ("count", "make it", "get", "have", "only", "keep")
_HARM = Lazy(
    r"\b(?:smell\w*|smok\w*|fire|flames?|alarm\w*|beep\w*|sick|dizz\w*|headaches?|faint\w*|shock\w*|hurt|injur\w*|unconscious|won't wake|can't wake|collaps\w*)\b"
)
_DEPARTS = ("prepare-to-depart", "supervise-passengers", "brief-passengers")
"""Procedures in which heads are counted before the coach moves; who sleeps aboard or stays in at a stop is another count."""
_LATELY = timedelta(hours=24)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The order not to move, where somebody is missing by words or by count; None for anything else."""
    said = plain(text)
    if not 0 < len(said.split()) <= _MOST_WORDS or mind.hurt.find(text) is not None:
        return None
    counts_here = state.asking is not None and state.asking.reading == "passengers"
    if not (state.missing or counts_here or names_any(said, (*_CUES, *_COUNT_CUES, "too many"))):
        return None
    if _HARM.search(said):
        return None  # a danger that is told with it comes first
    asks_what, said = _WHAT_TO_DO.search(said) is not None, _ASKS_WHAT.sub("", said)
    if state.missing and _FOUND.search(said) and not _OTHERS_STILL.search(said) and "?" not in text:
        count, _ = _counted(said)
        if count is not None:
            return of_count(state, text, count, mind, now)
        again = "Good. Count heads once more before the coach moves, and tell me the count."
        return walking.control(replace(state, failures=0), again)
    if (said_many := _TOO_MANY.search(said)) is not None and (
        _HEADS.search(said) or re.search(r"\b(?:we're|we are|people|aboard)\b", said)
    ):
        return walking.control(
            replace(state, failures=0),
            f"{said_many.group().capitalize()}: count once more, and ask who is new, before the coach moves.",
        )
    missing = names_any(said, _CUES) and _is_missing(said, state, mind)
    if missing and _OTHERS.search(f"{said}?" if "?" in text else said):
        missing = asks_what
    if missing and any(walk.topic in mind.knowledge.hazards for walk in state.walks):
        return _in_danger(state, mind)
    count, ought = _counted(said)
    if missing:
        if count is not None and ought is None:
            ought = _expected(state, now)
        return _ordered(state, text, count, ought, mind, now)
    if counts_here and state.walk is not None:
        return _at_count(state, text, mind, now)
    if count is None or not _counts_heads(said, state):
        return None
    return of_count(state, text, count, mind, now)


def _is_missing(said: str, state: State, mind: Mind) -> bool:
    """Whether a text tells that a person is missing."""
    if _PERSON_AWAY.search(said):
        return True
    if _SHORT.match(said) is not None:  # "we're off" is no count
        return _HEADS.search(said) is not None or not _ONLY_SHORT.search(said)
    counted, ought = _counted(said)
    if _NAMED_AWAY.match(said) and _heads_spoken_of(state) and not _knows(_NAMED_AWAY.match(said), mind):
        return True
    if _ONE_AWAY.search(said) and (counted is not None or _heads_spoken_of(state)):
        return True
    if counted is not None and ought is not None and counted < ought:
        return _OF_HEADS.search(said) is not None or _heads_spoken_of(state)
    return False


def _counted(said: str) -> tuple[float | None, float | None]:
    """How many a text counts, and how many there should be."""
    found = _OUGHT.search(said)
    ought = parse_number(found["ought"]) if found is not None else None
    rest = " ".join(_OUGHT.sub(" ", said).split()) if found is not None else said
    rest = re.sub(
        rf"\b(?:one|{_N})(?:'s)? (?:is |are |{_WHO} )*(?:missing|short|gone|not here)\b|\bmissing {_N}\b", " ", rest
    )
    rest = " ".join(rest.split())
    if (counted := _COUNTED.match(rest)) is not None:
        return parse_number(counted["count"]), ought
    aboard = _ABOARD.search(rest)
    return (parse_number(aboard["count"]) if aboard is not None else None), ought


_ABOARD = Lazy(
    rf"\b{_COUNT} (?:of us |of them |people |heads |kids |players |passengers )?(?:aboard|on board|here|on the (?:bus|coach)|counted)\b"
)


def _counts_heads(said: str, state: State) -> bool:
    """Whether a number is a count of heads: by the word, or where heads are counted before the coach moves."""
    if state.pending is not None or state.rolling or not _COUNTED.match(said):
        return False
    walk = state.walk
    if walk is not None and walk.topic not in _DEPARTS:
        return False
    return _COUNTS.search(said) is not None or (_GETS.search(said) is not None and _heads_spoken_of(state))


def _at_count(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A count at the step that asks for it, where it has fallen short; any other goes its own way."""
    if state.walk is None or state.walk.topic not in _DEPARTS or "?" in text or len(text.split()) > _MOST_BESIDE:
        return None
    if _ALL_HERE.match(plain(text)):
        return walking.control(replace(state, failures=0), "How many is that? Count heads, and say the number.")
    found = [
        one.value
        for words in (text, f"passengers {text}")
        for one in mind.readings_in(words).readings
        if one.what == "passengers" and one.value is not None
    ]
    count, said = found[0] if found else None, plain(text)
    counted = _COUNTED.match(said)
    count = parse_number(counted["count"]) if count is None and counted is not None else count
    ought = _expected(state, now)
    if count is None or ought is None or count >= ought:
        return None if found or count is None else of_count(state, text, count, mind, now)
    return of_count(state, text, count, mind, now)


_MOST_BESIDE = 10


def _knows(named: re.Match[str] | None, mind: Mind) -> bool:
    """Whether the coach or its procedures have what is named, so that it is nobody's name."""
    return named is None or step_told.is_known(named["name"], mind.knowledge)


def _heads_spoken_of(state: State) -> bool:
    """Whether heads were just counted, or are about to be."""
    asked = state.asking is not None and state.asking.reading == "passengers"
    leaves = state.walk is not None and state.walk.topic == "prepare-to-depart"
    return asked or leaves or state.missing or any(one.what == "passengers" for one in state.told)


_FOUND = Lazy(
    r"\b(?:found (?:him|her|them|the (?:kid|boy|girl|player|guy|passenger)|everyone|everybody)|(?:he|she|they)(?:'s|'re| is| are| was| were)(?: all| now| both)* (?:here|back|aboard|on|on board|found|in (?:his|her|the) bunk)|(?:every ?one|every ?body)(?:'s| is)?(?: now| all)? (?:here|back|aboard|on board|accounted for)|(?:all|nobody|no one)(?: \w+)?(?:'s| is| are)? (?:here|accounted for|aboard|missing))\b"
)
_OTHERS_STILL = Lazy(r"\b(?:not|n't|still|but|except|other|another)\b|n't\b")


def after(before: State, outcome: Outcome, said: str, now: datetime) -> Outcome:
    """An outcome that keeps that somebody is missing until heads are counted anew, and names a count that has just fallen."""
    counts = [one.value for one in outcome.reply.readings if one.what == "passengers" and one.value is not None]
    if not counts or outcome.reply.kind == "hazard":
        return outcome
    state, reply = outcome.state, outcome.reply
    ought = _expected(before, now)
    fallen = ought is not None and 0 < ought - counts[-1] <= _FEW and reply.kind == "reading"
    in_walk = before.walk is not None and before.walk.topic not in _DEPARTS
    explained = _said_again(before, counts[-1]) or _WENT.search(plain(said)) or before.told == reply.withdrawn != ()
    if fallen and not (in_walk or explained):
        line = f"It was {ought:g}. If one is missing, do not move the coach."
        reply = replace(reply, say=f"{reply.say} {line}", show=(*reply.show, line))
    return outcome._replace(state=replace(state, missing=False) if state.missing else state, reply=reply)


_FEW = 3
_WENT = Lazy(
    r"\b(?:off|left|leaves|went|gone|goes|going|home|hotel|motel|stay\w*|sleep\w*|bed|tonight|car|driv\w+|without|sorry|no|wait|not|mistake|miscounted|actually|correction)\b"
)
"""Tells why there are fewer, or puts the count right."""


def _expected(state: State, now: datetime) -> float | None:
    """How many there should be: the last count, unless it was that of the few who slept aboard."""
    counts = [
        held.reading.value
        for held in state.stored
        if held.reading.what == "passengers" and held.reading.value is not None and now - held.at <= _LATELY
    ]
    return None if not counts else counts[-1] if counts[-1] >= max(counts) / 2 else max(counts)


def of_count(state: State, text: str, count: float, mind: Mind, now: datetime) -> Outcome | None:
    """What a head count means against the one before: short of it, the coach does not move; None where it cannot be stored."""
    heard = mind.readings_in(f"passengers {count:g}")
    if len(heard.readings) != 1:
        return None
    ought = _expected(state, now)
    if ought is not None and count < ought and not _said_again(state, count):
        return _ordered(state, text, count, ought, mind, now)
    return telling.told(heard, text, replace(state, failures=0), mind, now)


def _said_again(state: State, count: float) -> bool:
    """Whether this count was told right before and not believed."""
    return state.last is not None and state.last.say.startswith(f"{count:g} counted")


def _ordered(state: State, text: str, count: float | None, ought: float | None, mind: Mind, now: datetime) -> Outcome:
    """Do not move, where to look, whom to call; the walk stays where it is."""
    short = int(ought - count) if count is not None and ought is not None and ought > count else 0
    first = (
        f"{count:g} counted, {ought:g} before. {'One is' if short == 1 else f'{short} are'} missing: do not move the coach."
        if short
        else "Somebody is missing: stop where it is safe. Go no further."
        if state.rolling
        else "Somebody is missing: do not move the coach."
    )
    lines = (
        first,
        "Set the parking brake. Ask the others who it is and where they last saw that person.",
        "Look in every bunk and in the bathroom. Look around the coach, under it and in the bays.",
        "Then look and call where you stopped: the lobby, the rooms, the washrooms, the shop.",
        "Not found within ten minutes, or a child in the cold: call the emergency services.",
        *((f"If {count:g} is right, say the count again.",) if short else ()),
    )
    walk = state.walk
    standing = (f"You are still at step {walk.number} of {len(walk.plan)}.",) if walk is not None else ()
    event = EventDraft("person-missing", {"said": text, "counted": count, "before": ought})
    reply = Reply("hazard", " ".join(lines[:3]), (*lines, *standing), topic=walk.topic if walk is not None else None)
    return Outcome(replace(state, failures=0, missing=True), reply, (event,))


def _in_danger(state: State, mind: Mind) -> Outcome:
    """Somebody is missing while all get out of a danger: nobody goes back, the emergency services are told."""
    line = "Go back in for nobody. Tell the emergency services now: who is missing, and where that person was last."
    outcome = walking.control(replace(state, failures=0), line)
    return outcome._replace(reply=replace(outcome.reply, kind="hazard"))
