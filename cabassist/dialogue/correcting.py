"""Entries put right later: "scratch the battery one", "inside was fifty five not seventy five", "make waste two thirds"."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from cabassist.dialogue import telling
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Heard, Reading

_AFTER_ALL = re.compile(r"(?: (?:after all|in fact|really|actually|in the end))+$")
LATELY = timedelta(hours=2)
"""How far back an entry is put right; what was told earlier has simply changed since."""


_REASON = Lazy(
    r"[,;.]? *\b(?:(?:cause|cuz|because|since|turns out|sorry|my bad|my mistake) )?(?:i|we|he|she)(?:'d| had| have|'ve|'s| has)?(?: been| was| were)? (?:just )?(?:looking at|look(?:ed)? at|reading|read|checking|checked|went by|going by|mixing up|mixed up)(?: off| from)? (?:the )?(?:other|wrong|next|neighbou?ring) (?:gauge|dial|needle|meter|display|line|one|sender|scale|tank|bottle|row)(?:'s (?:gauge|dial|level))?\b[,;.]?",
    re.IGNORECASE,
)
"""Why the entry before was wrong; it names no other thing that the amount would be of."""


_WRONG_WAY = Lazy(
    r"[,;.]? *\b(?:(?:cause|cuz|because|since|as) )?(?:i|we|he|she)(?:'d| had| have|'ve)?(?: been)?(?: (?:holding|held|had|got|read|reading|put|stuck|dipped))(?: (?:it|the|my|that) ?(?:stick|dip ?stick|tape|ruler|rod|gauge|meter|glasses|card|scale|thing|it)?(?: in)?)? (?:upside down|backwards?|(?:the )?wrong (?:way|end)(?: (?:up|round|around|in))?|the other way (?:up|round|around)|crooked|at an angle)\b[,;.]?",
    re.IGNORECASE,
)
_THE_FIGURE = Lazy(
    r"^(?P<lead>(?:(?:sorry|no|wait|oops|whoops|oh|actually|hang on|hold on|correction|my mistake|my bad)[, ]+)+)(?:the|that) (?:depth|level|reading|gauge|figure|number|stick|dip ?stick)(?:'s| is| was| should be| should have been| ought to be| reads?)(?: really| actually)? (?=\w)",
    re.IGNORECASE,
)
"""A correction that names what was told only as a depth or a figure."""
_MISREAD = Lazy(
    r"^(?P<lead>(?:(?:wait|no|oh|hang on|hold on|sorry|oops|whoops|actually|ah|um)[, ]+)*)(?:(?:i|we)(?:'ve)? )?(?:mis(?:read|counted|heard|judged|took)|(?:read|got|had|saw) (?:it|that|this|the [a-z]+)(?: all)? wrong(?:ly)?|looked at (?:it|that) wrong(?:ly)?)(?: (?:the|that|my|it|this)(?: [a-z]+)?)?[,;. ]+(?:and |but |so )?(?=(?:it|that|the|this|last|make|should|it's|that's|really)\b)",
    re.IGNORECASE,
)
"""That it was misread, before what is right."""
_LAST_ONE = Lazy(
    r"\b(?:that |the |my )?(?:last|latest|previous) (?:one|reading|number|figure)(?: (?:i (?:said|gave you|told you|read)))? (?:was|is|should be|should have been|should read|ought to be)(?: (?:really|actually))? (?=\w)",
    re.IGNORECASE,
)
_IS_OF = Lazy(r"\b(?:was|is|'s|for|of)\b")


_OTHERS = r"(?:co-?driver|codriver|co driver|partner|mate|buddy|wife|husband|boss|trainer|relief(?: driver)?|(?:second|other|night|day) driver|(?:guy|fellow|man|woman|lady) (?:with|beside|next to) me)"
_TRUSTED = (
    r"(?:(?:he|she|they)(?:'s|'re| is| are)? (?:probably |usually |always )?right|(?:i )?(?:agree|believe (?:him|her|them)|trust (?:him|her|them))"
    r"|(?:i'd |let's |we'll |i'll )?(?:go|going) (?:with|by) (?:that|it|his|hers|him|her|theirs)(?: (?:number|one|figure|reading))?"
    r"|(?:so )?(?:use|take|put|log|write|note)(?: down)? (?:that|his|hers|it|theirs)(?: (?:number|one|figure|reading|instead|down))*"
    r"|(?:he|she|they)(?:'s| is|'re| are| has|'ve)? (?:standing at it|standing there|looking (?:right )?at it|closer|got (?:the )?better eyes)|(?:his|her|their) (?:eyes|gauge|meter|thermometer)(?:'s| is| are) better"
    r"|i (?:was wrong|was off|stand corrected|misread it|read it wrong)|my (?:mistake|bad|fault|error))"
)
_SEEN_BY_OTHER = Lazy(
    rf"^(?:(?:no|nope|well|hang on|hold on|wait|oh|actually|sorry|ah|hm+|but|ok|okay)[, ]+)*(?:(?:(?:my|the|our) )?{_OTHERS}|he|she|they)(?: just| only)? (?:says|said|reads|read|makes|made|reckons|gets|got|counts|counted|sees|saw|has|calls|called|thinks)"
    rf"(?: (?:it|that))?(?:'s| is| was)?(?: (?:at|as|only|more like|reading|down to|up to))* (?P<level>.+?)[,;. ]+(?:(?:and|so|but|then)[, ]+)*{_TRUSTED}[ .!]*$",
    re.IGNORECASE,
)
"""What somebody else read, who is believed: "my co-driver says seven eighths and he's right"."""
_DISBELIEVED = Lazy(
    rf"\b(?:{_OTHERS}|he|she|they)(?: just| only)? (?:says|said|reads|makes|reckons|gets|got|sees|saw|calls|thinks)\b.*[,;. ]+(?:(?:but|and|though)[, ]+)*(?:(?:he|she|they|that)(?:'s|'re| is| are) (?:wrong|off|mistaken|lying|blind|seeing things|full of it|not right|never right)|i (?:don't|do not) (?:believe|trust|buy|think so)\b|i (?:doubt|disagree)\b|(?:he|she) (?:isn't|is not|needs glasses|misread))",
    re.IGNORECASE,
)


def disbelieved(text: str) -> bool:
    """Whether a text tells what somebody else read and is wrong about."""
    return _DISBELIEVED.search(text) is not None


_LOOKED_AT = Lazy(
    r"^(?:(?:no|nope|wait|sorry|oh|ah|actually|oops|whoops|hang on|hold on|scratch that|strike that|cancel that|my mistake|my bad|correction|wrong (?:gauge|one|dial|needle|tire|bottle))[,;. ]+)+(?:(?:i|we)(?:'d| had)?(?: been| was| were)? ?(?:just )?(?:looking at|reading|checking|looked at|read|checked|seeing|facing|going by|had my eyes? on)(?: off| from)?) (?:the |my |our )?"
    r"(?P<what>(?!other\b|wrong\b|next\b|gauge\b)[a-z][a-z -]*?)(?: (?:one|gauge|dial|needle|meter|thermometer|sensor|display))?[ .!]*$",
    re.IGNORECASE,
)
"""What the figure was really of: "no, I was looking at the waste gauge"."""


_LEADS = Lazy(
    r"^(?:(?:a|an|the|about|around|nearly|almost|just|over|under|maybe|only|more|like|closer|to|not|quite|it's|it|is|at|full|empty) )*"
)


def _is_level(said: str) -> bool:
    """Whether words begin with an amount, or name what is read: not "dinner's at six"."""
    first = _LEADS.sub("", plain(said)).split(" ")[0]
    return (
        AMOUNT.match(first) is not None
        or first in ("one", "full", "empty")
        or telling.named_in(plain(said)) is not None
    )


def _pointed(text: str) -> str:
    """A text that only tells what was looked at by mistake, as what the last figure was of; else nothing."""
    found = _LOOKED_AT.match(text)
    return f"no, that was the {found['what']}" if found is not None and not AMOUNT.search(found["what"].lower()) else ""


_SIZED = Lazy(
    r"\b(?:a |an )?(?:\d[\d.]*|half|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty)(?:[ -](?:and a half|gallon and a half))?[ -](?:gallon|liter|litre|quart|pint|minute|pound)(?=[ -](?:shower|flush|flushe|jug|bucket|can|jerry can|wash|washe|load|pot|kettle|pan|pitcher|cooler|bottle of (?:bleach|water))s?\b)",
    re.IGNORECASE,
)


def without_sizes(text: str) -> str:
    """A text without the size of what is used or filled, which is no level: "showers again" of "two gallon showers again"."""
    return _SIZED.sub(" ", text)


def without_reason(text: str) -> str:
    """A correction without why it is made: of "it isn't fifty, I was looking at the other gauge, it's sixty" the first and the last part."""
    by_other = _SEEN_BY_OTHER.match(text)
    if by_other is not None and _is_level(by_other["level"].lower()):
        return f"no, {by_other['level']}"
    if pointed := _pointed(text):
        return pointed
    text = _THE_FIGURE.sub(r"\g<lead>it's ", text)
    if (upright := _WRONG_WAY.sub(",", text).strip(" ,")) != text and AMOUNT.search(upright.lower()):
        text = upright
    found = _MISREAD.match(text)
    shorter = f"{found['lead'] or 'no, '}{text[found.end() :]}" if found is not None else text
    if (pointed := _LAST_ONE.sub("it's ", shorter)) != shorter:
        shorter = pointed if found is not None or _LAST_ONE.match(text) is None else f"no, {pointed}"
    if shorter != text and AMOUNT.search(shorter.lower()):
        return shorter
    rest = _REASON.sub(",", text)
    return rest.strip(" ,") if rest != text and AMOUNT.search(rest.lower()) else text


def _standing(state: State) -> list[Reading]:
    """The entries of about the same time as the last, oldest first."""
    newest = state.stored[-1].at
    return [held.reading for held in state.stored if newest - held.at <= LATELY]


def just_told(state: State, mind: Mind) -> tuple[Reading, ...]:
    """What "that" means: the one just read back, the readings told in the turn before, or in a walk that has only moved on since."""
    last = state.last
    if last is None or not state.told or state.pending is not None:
        return ()
    if last.kind == "control" and last.say.count(telling.READ_BACK) == 1:
        return tuple(one.reading for one in state.stored if last.say.startswith(telling.echo(one.reading, mind.coach)))[
            -1:
        ]
    fresh = last.kind == "reading" or (last.kind == "control" and bool(last.withdrawn)) or bool(last.readings)
    return state.told if fresh else ()


_SWAPS = Lazy(
    r"^(?:(?:no|wait|sorry|oh|oops|actually|ok|hang on|hold on|my mistake) )*(?:(?:swap|switch|flip|reverse) (?:those|them|these|the two)(?: two)?(?: (?:around|round|over))?|(?:i |we )?(?:(?:had|got|have|said|gave you) )?(?:(?:those|them|these|that) )?(?:two )?(?:the )?(?:other way (?:round|around)|wrong way (?:round|around)|backwards|mixed up|swapped)|mixed (?:those|them|the two)(?: two)? up)(?: (?:sorry|please|my bad|my mistake))*$"
)
APART = timedelta(minutes=15)
"""So far apart two readings are told at most that "swap those" means."""


def _last_two(state: State) -> tuple[Reading, ...]:
    """The two readings told one after the other that may have been mixed up; none when it is not clear of which that is said."""
    if len(state.told) != 1 or len(state.stored) < 2 or state.last is None or state.last.kind != "reading":
        return ()
    before, last = state.stored[-2:]
    alike = before.reading.unit == last.reading.unit and before.reading.value != last.reading.value
    other = (before.reading.what, before.reading.which) != (last.reading.what, last.reading.which)
    near = last.at - before.at <= APART and last.reading == state.told[0]
    return (before.reading, last.reading) if alike and other and near else ()


_ALSO_GOES = Lazy(
    r"^(?:(?:and|also|ok|okay|so|then|plus|now|oh|same (?:with|for|goes for|thing (?:with|for))|do the same (?:with|for|to)) )*(?:the |my |that )?(?P<what>[a-z]+(?: (?:tank|water|battery|bottle|cylinder))?)(?: (?:one|reading|figure|number|level))?(?P<too>(?: (?:too|as well|also|back|out|can go|goes|should go|has to go|needs to go|take (?:it|that|that one) (?:back|out|off)(?: (?:too|as well|also))?))+)$"
)
"""Another entry that goes the way of the one just taken back: "and the waste too"."""


def taken_back(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """An entry taken back by its name or value, or the last one with the reason; None when the text takes none back.

    When the reason holds what is right ("undo that, it was a third"), that is stored in its place.
    """
    if not state.stored or "?" in text:
        return None
    from cabassist.language import putting_right

    just = state.last is not None and bool(state.last.withdrawn) and not state.last.readings
    also = _ALSO_GOES.match(plain(text)) if just else None
    if also is not None and telling.named_in(also["what"]) is not None:
        text = f"take the {also['what']} reading back"  # what was just done to one entry is wished for another
    if not putting_right.takes_back(text):
        return None
    found = putting_right.taken_back(
        text, mind.coach, mind.vocabulary, _standing(state), just_told(state, mind), going_on=just
    )
    if found is None:
        return None
    gone, why = found
    instead = mind.readings_in(f"no {_AFTER_ALL.sub('', why)}", gone) if why else Heard()
    same = {(one.what, one.which) for one in instead.readings} == {(one.what, one.which) for one in gone}
    same = same and AMOUNT.search(why) is not None  # "I was guessing" puts nothing in its place
    other = putting_right.renamed(why, gone, mind.coach, mind.vocabulary) if why else None
    if other is None and len(gone) == 1 and (pointed := _pointed(f"no {why}")):
        moved = mind.readings_in(pointed, gone)
        other = moved if [one.value for one in moved.readings] == [gone[0].value] and moved.withdrawn else None
    heard = other or (instead if instead.readings and same else Heard(withdrawn=gone))
    return telling.told(heard, text, state, mind, now)


def carries(text: str) -> bool:
    """Whether a text only takes something back or out, by hand or from the record."""
    from cabassist.language.putting_right import carries as carried

    return carried(text)


def completes(state: State, said: str, mind: Mind) -> bool:
    """Whether a unit by itself tells in what the figure just told was meant, which had none: "gallons", after "fresh at forty"."""
    told = just_told(state, mind)
    if len(told) != 1 or state.last is None or state.last.kind != "reading" or told[0].unit == "fraction":
        return False
    from cabassist.language.putting_right import names_unit

    return names_unit(said, mind.vocabulary, alone=True) and not names_unit(told[0].said, mind.vocabulary)


def puts_right(text: str, state: State, mind: Mind) -> bool:
    """Whether a text puts an entry right that stands: "no wait, thirty four, two went by car"."""
    heard = put_right(Heard(), text, state, mind)
    return bool(heard.readings and heard.withdrawn)


def put_right(heard: Heard, text: str, state: State, mind: Mind) -> Heard:
    """What was heard, with the earlier entry that it replaces; read anew where a correction was not understood by itself."""
    if not state.stored or state.pending is not None or heard.refused or heard.withdrawn:
        return heard
    from cabassist.language import putting_right

    if not heard.readings and (AMOUNT.search(plain(text)) and _IS_OF.search(plain(text))):
        other = putting_right.renamed(text, just_told(state, mind), mind.coach, mind.vocabulary)
        if other is not None:
            return other
    if not heard.readings and _SWAPS.match(plain(text)) and (two := _last_two(state)):
        return mind.readings_in("the other way round", two)
    if not putting_right.puts_right(text):
        return heard
    standing = _standing(state)
    if heard.readings:
        return putting_right.replaced(heard, standing)
    return putting_right.put_right(text, mind.coach, mind.vocabulary, standing, just_told(state, mind)) or heard
