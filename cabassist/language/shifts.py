"""Readings told by how far they are from the one before: "two less than that", "dropped another two since", "one more just got on".

What is said only tells the way, the amount and, where it is named, the thing; the reading that stands is looked for by the conversation.
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from cabassist.language.amounts import find_amounts
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain
from cabassist.language.numbers import words_of
from cabassist.language.reading_parts import Amount, Reader
from cabassist.language.reading_terms import Terms, mended
from cabassist.language.steering_families import tells


class Shift(NamedTuple):
    """How a reading differs from the one that stands."""

    way: Literal[-1, 1]
    amount: Amount | None
    """None when it was only said to be a little."""
    thing: str = ""
    """The words before it, which may name the reading."""
    corrects: bool = False
    """Whether the one that stands was wrong; else it was right then and has changed since."""
    heads: bool = False
    """Whether people got on or off."""


_LEAD = r"(?:(?:no|nope|nah|wait|sorry|actually|oops|whoops|hang on|hold on|oh|uh|um|hm+|ah|aw|ok|okay|right|just|and|well|hey|so|but|make|correction|my mistake|my bad|by the way|now|then|also|plus|call|say) )*"
_NUMBER = r"(?P<n>(?!more\b|less\b)[\w.%]+(?: (?!more\b|less\b)[\w.%]+){0,4}?)"
_UP = r"more|higher|above|over|up on|up from|warmer|hotter|further|on top of"
_DOWN = r"less|fewer|lower|below|under|beneath|down on|down from|short of|shy of|colder|cooler|off"
_WAY = rf"(?:(?P<up>{_UP})|(?P<down>{_DOWN}))"
_THAT = r"(?:that|it was|what (?:i|we) (?:just )?(?:said|told you|gave you|had|read(?: out)?|put(?: in| down)?|called(?: out)?)(?: (?:before|earlier|just now|last))?|(?:the|my) (?:last|first|previous) (?:one|number|figure|reading)|(?:i|we) (?:just )?(?:said|told you|gave you)|it said|last time)"
_IT = rf"(?:it|{_THAT})"
_THING = r"(?:(?P<thing>(?:(?!it\b|its\b|it's\b|that\b|that's\b|make\b)[a-z']+ ){1,5}?))?"
_BY_THAT = Lazy(rf"^(?P<head>(?:\S+ )+?){_WAY}(?: than)? {_THAT}(?P<after>(?: .*)?)$")
_LITTLE = Lazy(
    r"^(?P<head>(?:\S+ )*?)(?:just )?(?:a (?:little |wee |tiny )?(?:bit|hair|touch|shade|tad|smidge|smidgen|notch|whisker|sliver|fraction|little|lot|few)|slightly|somewhat|some|just|barely|well|quite a bit|way|much)$"
)
_MADE_LESS = Lazy(
    rf"^{_LEAD}(?:(?:minus|subtract|take|knock|shave|deduct) (?P<a>.+?) (?:from|off(?: of)?|away from) {_IT}|(?:drop|lower|bring down|cut|reduce) {_IT}(?: down)? by (?P<b>.+?)|(?:bring|take|knock) {_IT} down (?:by )?(?P<c>.+?)|down (?P<d>.+?) on {_THAT})(?P<after>(?: .*)?)$"
)
_MADE_MORE = Lazy(
    rf"^{_LEAD}(?:(?:plus|add|put|stick) (?P<a>.+?) (?:to|on(?:to)?|on top of) {_IT}|(?:raise|up|bump|increase) {_IT}(?: up)? by (?P<b>.+?)|(?:bring|bump|push) {_IT} up (?:by )?(?P<c>.+?)|up (?P<d>.+?) on {_THAT})(?P<after>(?: .*)?)$"
)
_TOO = Lazy(
    rf"^{_LEAD}(?:(?:that's|that is|that was|it's|it was|i was|i'm|i had it|i said it|i read it|i read that|i put it|my number was|the (?:gauge|needle|meter) (?:reads|is|was|shows)) )(?P<a>.+?) too (?:(?P<down>high|much|many|far up)|(?P<up>low|little|few|far down))(?P<after>(?: .*)?)$"
)
_RATHER = Lazy(
    rf"^(?=.*\b(?:no|nope|wait|sorry|oops|actually|make|call|correction)\b){_LEAD}(?:(?:it|that|it's|that's|really|actually) )*(?P<a>.+?) {_WAY}(?P<after>(?: (?:actually|really|in fact|than that|please|sorry))*)$"
)
"""A reading made less or more by so much."""
_BESIDE = Lazy(
    r"(?:(?:^| )(?:it's|its|it is|that's|that is|it was|that was|is|was|are|were|make it|make that|call it|put it|put that|put|should be|should read|really|actually|about|around|only|maybe|probably|more like|closer to|at|now|by|it|so|no|nope|nah|wait|sorry|oops|whoops|hang on|hold on|oh|uh|um|hm+|ah|ok|okay|right|just|and|well|hey|but|correction|my mistake|my bad|by the way|then|also|reads|shows|in fact|say|down|up))+$"
)
"""Words between what an amount is of and the amount itself."""
_AGAIN = r"(?:since(?: then)?|now|again|already|further|in the meantime|on top|overnight|tonight|so far|in the last (?:hour|while))"
_MOVED = Lazy(
    rf"^{_LEAD}{_THING}(?:(?:it|its|it's|that|that's|has|have|'s|is|just|now|since) )*(?:(?P<down>dropped|drops|dropping|sagged|dipped|sank|shrunk|drained|fallen|fell|falling|gone down|went down|going down|come down|came down|sunk|lost|slipped|down)|(?P<up>risen|rose|rising|crept up|picked up|climbed|climbing|gone up|went up|going up|come up|came up|gained|jumped|warmed|up)) (?:by )?(?:about |around |roughly )?(?P<another>another |a further )?{_NUMBER}(?P<more> more| extra| further)?(?P<again>(?: {_AGAIN})*)(?P<than> since (?!then\b)(?:[a-z]+ ?){{1,4}}| from (?:this morning|last night|yesterday|before|earlier))?$"
)
_STANDS = Lazy(rf"^(?P<head>(?:\S+ )+?){_WAY}(?P<again>(?: {_AGAIN})*)$")
_WHO = r"(?:(?:of (?:them|us|the \w+)|people|persons?|passengers?|players?|kids?|guys?|girls?|boys?|lads?|riders?|bodies|heads?|parents?|coach(?:es)?|fans?|stragglers?|late ?comers?|students?) ?)"
_MANY = r"(?P<n>another (?:one|two|three|four|five)|another|a|an|a couple(?: of)?|a pair(?: of)?|[a-z]+|\d+)"
_ABOARD = rf"^(?:(?:no|wait|oh|ah|uh|ok|okay|right|and|well|hey|so|but|plus|now|then|also|looks like|actually|by the way) )*{_MANY} (?:(?:more|extra|other|late|last|additional) )*{_WHO}?(?:(?:more|just|have|has|now|also|then|only) )*"
_DONE = r"(?P<done>(?: (?:again|now|here|too|as well|just now|by the way|at the (?:last )?(?:stop|hotel|rink|gas station|corner)|back there|after all|for good|late|safely|already))*)$"
_GOT = (
    r"(?:got|gotten|get|gets|getting|hopped|hopping|jumped|climbed|climbing|stepped|stepping|came|come|coming|walked)"
)
_ON = Lazy(
    rf"{_ABOARD}(?:{_GOT}(?: back)?(?: (?:on(?: board)?|onboard|aboard|in))(?: (?:the|this) (?:bus|coach))?|boarded|joined(?: us)?|showed up|turned up|made it (?:aboard|on))(?: (?:the|this) (?:bus|coach))?{_DONE}"
)
_OFF = Lazy(
    rf"{_ABOARD}(?:{_GOT}(?: back)? (?:off|out|down)(?: (?:of )?(?:the|this) (?:bus|coach))?|(?:went|gone|going) (?:home|back (?:in|inside|home|to the (?:hotel|rink|arena|room)))|left (?:us|the (?:bus|coach|team))|stayed (?:behind|here|back|home)|(?:is|are|'s) (?:staying|riding|going|driving) (?:behind|here|home|back|with (?:his|her|their|the) \w+))(?: with (?:his|her|their|the) \w+)?{_DONE}"
)
_TOOK = Lazy(
    rf"^(?:(?:ok|okay|and|so|we|we've|i|i've|just|also|then|have) )*(?:(?P<up>picked up|took on|taken on|collected|loaded)|(?P<down>dropped off|let off|dropped|left behind)) {_MANY} (?:(?:more|extra|other) )*{_WHO}(?P<rest>(?:off|more|too|as well|now|again|here|there|(?:at|by) the \w+) ?)*$"
)
_CUES = ("less", "fewer", "lower", "more", "higher", "under", "below", "above", "over", "off", "drop", "fall", "fell", "rose", "risen", "down", "up", " on", " in", "aboard", "board", "join", "colder", "warmer", "cooler", "hotter", "shy", "short", "home", "left", "climb", "lost", "sunk", "gain", "out", "stay", "riding", "minus", "subtract", "take", "knock", "add", "plus", "too ", "sag", "dip", "sank", "raise", "bump", "shave")  # fmt: skip
_NO_TELLING = Lazy(
    r"\?|^(?:(?:and|so|but|ok|okay|well) )*(?:how|what|what's|why|where|when|which|who|can|could|should|do|does|did|is|are|will|would|if|suppose|say if|let's say|unless|until|warn|tell|remind|wake)\b"
    r"|\b(?:if|would|should we|could|might|gonna|going to|want|wants|need|needs|per|an? (?:minute|hour|day|head|mile)|each|apiece)\b"
)
_OF_READING = Lazy(
    r"\b(?:gauge|needle|sender|meter|dial|scale|stick|float|panel|reading|read|misread|saw|seen|looked|eyes?|glasses|shine|glare|angle|settled|seated|seating|fooled|sticks?|stuck|off|wrong|mistake|bad)\b"
)
"""What tells why a reading was wrong."""
_OTHER_TIME = Lazy(
    r"\b(?:yesterday|last|morning|tomorrow|when|then|noon|midnight|usually|normally|tonight|ago|once|by|until|till|after|before)\b"
)
"""What was so at another time puts nothing right."""
_MOST_AFTER, _MOST_OF_AMOUNT, _MOST_OF_NAME = 9, 6, 5


def shift(text: str, vocabulary: Terms) -> Shift | None:
    """What a text tells by its distance from a reading that stands, or None when it tells nothing so.

    Args:
        text: what was said.
        vocabulary: the words of readings on this coach.
    """
    said = plain(text)
    if not names_any(f" {said}", _CUES) or "?" in text or _NO_TELLING.search(said):
        return None
    return _heads(said, vocabulary) or _made(said, vocabulary) or _by_that(said, vocabulary) or _since(said, vocabulary)


def _amount(words: str, vocabulary: Terms) -> Amount | None:
    """The amount that a few words are and nothing else."""
    words = re.sub(r"^(?:another|about|around|a further) ", "", words)
    if words in ("another", "a", "an", "a couple", "a couple of", "a pair", "a pair of"):
        words = "2" if words.startswith(("a couple", "a pair")) else "1"
    words = re.sub(r"^half an? (?=\w)", "0.5 ", re.sub(r"^an? (?:couple|pair)(?: of)? (?=\w)", "2 ", words))
    if found := re.match(
        r"(?:a|an|one) (?:degree|point|notch|tick)s?$|(?P<n>[\w.]+(?: [\w.]+)*) (?:points?|ticks?)$", words
    ):
        words = found["n"] or "1"
    reader = Reader(mended(words_of(words), vocabulary), vocabulary)
    amounts = find_amounts(reader)
    if len(amounts) != 1 or (amounts[0].start, amounts[0].end) != (0, len(reader.texts)):
        return None
    one = amounts[0]
    plainly = (
        one.number is not None and one.number > 0 and not one.level and one.kind not in ("relative", "same", "flag")
    )
    return one if plainly and one.counted_from is None and not one.below_zero else None


def _by_that(said: str, vocabulary: Terms) -> Shift | None:
    """ "Two less than that", also with why it was wrong before or behind it."""
    found = _BY_THAT.match(said)
    if found is None or len(found["after"].split()) > _MOST_AFTER or _OTHER_TIME.search(found["after"]):
        return None
    little = _LITTLE.match(found["head"].strip())
    head, amount = (little["head"], None) if little is not None else _parted(found["head"], vocabulary)
    if amount is None and little is None:
        return None
    thing = _BESIDE.sub("", head.strip())
    for part in (thing, found["after"]):
        if _holds_amount(part, vocabulary) or (tells(part) and not _OF_READING.search(part)):
            return None
    changed = re.search(r"\b(?:now|since|already)\b", said) is not None
    return Shift(1 if found["up"] else -1, amount, thing, corrects=not changed)


def _made(said: str, vocabulary: Terms) -> Shift | None:
    """ "Knock two off that", "that's four too high", "no, five higher": the reading told was wrong by so much."""
    for pattern, way in ((_MADE_LESS, -1), (_MADE_MORE, 1), (_TOO, 0), (_RATHER, 0)):
        found = pattern.match(said)
        if found is None:
            continue
        parts = found.groupdict()
        amount = _amount(next(parts[name] for name in "abcd" if parts.get(name)), vocabulary)
        if (
            amount is None
            or _holds_amount(parts["after"] or "", vocabulary)
            or _OTHER_TIME.search(parts["after"] or "")
        ):
            continue
        up = bool(parts.get("up")) if way == 0 else way > 0
        return Shift(1 if up else -1, amount, corrects=True)
    return None


def _since(said: str, vocabulary: Terms) -> Shift | None:
    """ "Dropped another two since", "now it's two less": what was right then and has changed."""
    found = _MOVED.match(said)
    if found is not None:
        amount, thing = _amount(found["n"], vocabulary), (found["thing"] or "").strip()
    elif (found := _STANDS.match(said)) is not None:
        head, amount = _parted(found["head"], vocabulary)
        thing = _BESIDE.sub("", head.strip())
        if len(thing.split()) > _MOST_OF_NAME:
            return None
    marked = found is not None and re.search(
        r"\b(?:another|more|further|since|now|again|already|overnight|tonight)\b", said
    )
    if found is None or amount is None:
        return None
    compares = found.groupdict().get("than") is not None
    if (
        compares or not marked
    ):  # "up ten since this morning" may be said of the figure just told, "down two" of anything
        return None if thing else Shift(1 if found["up"] else -1, None)
    return Shift(1 if found["up"] else -1, amount, thing)


def _parted(head: str, vocabulary: Terms) -> tuple[str, Amount | None]:
    """The words before the amount with which a text ends, and the amount; None when it ends with none."""
    words = head.split()
    for start in range(max(0, len(words) - _MOST_OF_AMOUNT), len(words)):
        if (amount := _amount(" ".join(words[start:]), vocabulary)) is not None:
            return " ".join(words[:start]), amount
    return head, None


def _heads(said: str, vocabulary: Terms) -> Shift | None:
    """ "One more just got on", "dropped off two kids": people who got on or off."""
    on, off, took = _ON.match(said), _OFF.match(said), _TOOK.match(said)
    found = on or off or took
    if found is None:
        return None
    amount = _amount(found["n"], vocabulary)
    if amount is None or amount.unit not in ("", "persons") or amount.number is None or amount.number % 1:
        return None
    up = bool(on) if not took else bool(took["up"])
    return Shift(1 if up else -1, amount, heads=True)


def _holds_amount(words: str, vocabulary: Terms) -> bool:
    return bool(find_amounts(Reader(mended(words_of(words), vocabulary), vocabulary)))
