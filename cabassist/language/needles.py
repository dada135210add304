"""Where a needle lies, told by the marks beside it: "between a half and three quarters", "off its peg", "straight up".

Such words are put into those that the reader of amounts knows, each keeping its place in the text: a share of full with
its range, "on the low mark", "on the high mark". What only one kind of gauge can tell is left as it is.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence

from cabassist.language.lazy import Lazy
from cabassist.language.numbers import Word, find_numbers, number_at, words_of

_MARK_NOUNS = frozenset("mark marks line tick notch point position spot graduation hash".split())
_FULL = frozenset({"full", "f", "max", "maximum", "top"})
_EMPTY = frozenset({"empty", "e", "min", "minimum", "zero", "bottom"})
_HALF = frozenset({"half", "middle", "midpoint", "center", "centre"})
_ARTICLES = frozenset({"the", "a", "an", "at", "about", "maybe"})
_PREFIX = frozenset(
    "half square squarely smack dead right exactly plumb bang slap somewhere about just roughly maybe in sort of kind spot precisely perfectly".split()
)
"""What may stand before "between" and tells nothing more."""
_EXACTLY = frozenset("half square squarely smack dead right exactly plumb bang slap spot precisely perfectly".split())
"""Of these, the ones that put the needle in the very middle."""
_DIFFERENCE = Lazy(
    r"(?<!\S)(?:(?:i|we|you|it|would|will|could|can|let|us|call it|say|and|,) )*(?:split|splits|splitting) the difference(?: (?:between|of|on|from|with))?(?!\S)"
)
_BETWEEN = frozenset({"between", "tween", "betwixt", "twixt", "from"})
_TOWARD = Lazy(
    r"(?: ,)?(?: (?:but|and|though|maybe|just|only|it|is|a|bit|little|touch|hair|tad|slightly|much|way|more|if|anything))* (?:closer|nearer|leaning|leans|tending|edging|favoring|favouring|close|near|toward|towards|more)(?: (?:to|toward|towards|on|at|by))*(?!\S)"
)
_PULL, _EXACT = 0.25, 0.25
"""Share of the way between two marks: what "closer to" moves the needle, and how wide the middle of it is."""
_SMALL = r"(?:(?:(?:maybe|about|just|only|barely|like|one|a|an|the|half|two|couple|of) )*(?:wee |little |tiny |mere )?(?:needles?|hairs?|whiskers?|breaths?|smidge|smidgen|smidgin|skosh|touch|shade|tad|finger|fingers|fingernail|fuzz|bit|sliver|fraction|pinch|crumb|pencil|matchstick|eyelash|thread|notch|tick|mark|line)(?: of)?(?: (?:a|the))?(?: (?:width|widths|breadth|thickness))?)"
_NEAR = Lazy(
    rf"(?<!\S)(?:{_SMALL}|just|barely|only just) (?P<way>above|over|past|beyond|north of|up from|into|below|under|beneath|short of|shy of|shy|south of|down from|off of|off|away from|clear of|from|to the (?:low |high |left |right )(?:side )?of) (?:the )?(?P<mark>half|middle|center|centre|midpoint|(?:three |1 |one |a |an |two |five |seven )?(?:quarters?|thirds?|eighths?|fourths?)|\d/\d|full|empty)(?: (?:mark|line|tick|notch))?(?!\S)(?! (?:inch|inches|foot|gallon|pound)s?\b)"
)
_WAYS = frozenset(
    "above over past beyond north up below under beneath short shy south down off away clear from left right low high".split()
)
_SHARES = frozenset(
    "half middle center centre midpoint quarter quarters third thirds eighth eighths fourth fourths full empty 1/2 1/4 3/4 1/3 2/3 1/8 3/8 5/8 7/8".split()
)
_WHOLE_MARK = Lazy(
    r"(?<!\S)(?:one|a|an) (?:mark|line) (?:above|over|past|up|below|under|beneath|short|shy|down|off|away|clear|from)(?!\S)"
)
_OVER = frozenset(
    {
        "above",
        "over",
        "past",
        "beyond",
        "north of",
        "up from",
        "to the high side of",
        "to the right side of",
        "to the right of",
    }
)
_UNDER = frozenset("below|under|beneath|short of|shy of|shy|south of|down from|to the low side of|to the left side of|to the left of".split("|"))  # fmt: skip
_PLACES = "bottom|lower|lowest|low|last|final|first|top|upper|uppermost|highest|high|second|third"
_WITHIN = Lazy(
    rf"(?<!\S)(?:(?:sank|sunk|fell|fallen|dropped|climbed|rose|risen|slid|slipped) (?:down |up )?)?(?:(?P<how>half|(?:(?:a|one|two|three|1|2|3) )?(?:quarters?|thirds?)(?= of the way)|(?:the )?middle of|in the middle of|just|barely|only just|well|deep|far|way|part(?: of the)? way|partway|somewhere)(?: of the way| way)? )?(?:(?:down|up|right|now|somewhere|still|off|about) )*(?:(?:through|into|down|up|in|inside|within|of|to) (?:(?:the|it|that|our) )?(?:very )?(?=(?P<place>\w+) )(?:{_PLACES})|(?:the |it )?(?=(?P<end>\w+) )(?:bottom|lower|lowest|top|upper)) (?P<part>quarter|third|half|eighth|fourth)(?: of (?:the |its |it )?(?:gauge|dial|tank|glass|scale|range|sweep))?(?! (?:hour|gallon|inch|of an hour|time|period|mile|game)\b)(?!\S)"
)
_PARTS = {"half": 0.5, "third": 1 / 3, "quarter": 0.25, "fourth": 0.25, "eighth": 0.125}
_MIDDLE = Lazy(
    r"(?<!\S)(?:(?:lies|lying|smack|right|dead|bang|square|squarely|slap|plumb|exactly|almost|nearly|pretty much|somewhere|around|sitting|just|spot|about) )*(?:in|at|on|to|around|near|near|by|past|over|above|below|under)? ?(?:the )?(?:exact |very |dead |middle |center |centre )?(?:middle|center|centre|midpoint|midscale|midgauge|middial|midmark|mid (?:point|mark|line|scale|gauge|dial|tank|range)|half mark|half point)(?: (?:of|on|in|mark|line|tick|position|point))*(?: (?:the|its|it) )?(?: ?(?:dial|gauge|glass|scale|face|range|sweep|tank|travel))?(?= (?:and|now|but|today|again|on|for|,|\.|!|;)|$)"
)
_UPRIGHT = Lazy(
    r"(?<!\S)(?:(?:right|dead|bolt|almost|nearly|pretty|much|perfectly|standing|stands|pointing|points|pointed|sitting|sits|parked|aimed) )*(?:straight up and down|straight up|up and down|bolt upright|upright|straight vertical|vertical|straight at (?:12|twelve)(?: o ?clock| o)?|(?:at |to )?(?:the )?(?:12|twelve) (?:oclock|o clock|o)(?: position)?|at high noon|at noon)(?= (?:and|now|but|today|again|on|,|\.|!|;)|$)"
)
_POINTER = frozenset("needle needles gauge dial hand pointer arrow standing pointing points bolt".split())
_MIDDLES = frozenset("middle center centre midpoint midscale midgauge middial midmark mid half".split())
_PLACED = frozenset("in at on to past over above below under the dead".split())
_STRAIGHT = frozenset("up upright vertical noon 12 twelve".split())
_OTHER_SCALE = frozenset(
    "battery batteries volt volts voltmeter air oil temp temperature coolant shore tire tires".split()
)
"""Of these the middle of the dial is no half."""
_LYING = r"(?:(?:lying|laying|lies|laid|sitting|sits|resting|rests|hanging|hangs|parked|pinned|pegged|planted|buried|dropped|drops|fallen|sunk|sagged|wandering|wanders|hovering|hovers|bouncing|floating|dancing|flickering|quivering|glued|welded|slumped|settled|right|hard|dead|flat|down|way|still|back|just|only|barely|almost|nearly|round|around|about|away|all the way|over|up|out) )*"
_TO = r"(?:on|at|against|near|to|by|around|toward|towards|touching|kissing|hugging|nudging|in|past|into|about|below|under|between)"
_BESIDE = rf"(?:{_SMALL}|just|barely|only just) (?:above|over|off of|off|away from|up from|past|below|under|short of|shy of|shy|down from|inside|into|from|clear of|out of)"
_DET = r"(?:(?:the|it|its|that|his|her) )?(?:very )?"
_OF_GAUGE = r"(?: of (?:the |it )?(?:sight )?(?:gauge|dial|scale|range|sweep|glass|tube))?(?! (?:of|to)\b)"
_LOW = rf"{_DET}(?:(?:bottom|lower|lowest|low|empty|e|zero|min|minimum|refill)(?: warning)? (?:peg|pin|stop|mark|line|tick|notch|end|side|limit|post|bar|segment|light|rest){_OF_GAUGE}|bottom of (?:the |it )?(?:sight )?(?:gauge|dial|scale|range|sweep|glass|tube)|peg|pin)"
_HIGH = rf"{_DET}(?:(?:top|upper|highest|high|full|f|max|maximum) (?:peg|pin|stop|mark|line|tick|notch|end|side|limit|post|bar|segment|light|rest){_OF_GAUGE}|top of (?:the |it )?(?:sight )?(?:gauge|dial|scale|range|sweep|glass|tube))"
_EDGE = r"(?:the )?(?:(?:very )?(?:edge|top|start|beginning|rim|lip|border|brink|upper end|top end) of )(?:the )?red(?: zone| band| bit| line| arc| area)?"
_RED = r"(?:the )?red(?: zone| band| bit| line| arc| area)?"
_AT_LOW = Lazy(rf"(?<!\S){_LYING}(?:{_TO}|{_BESIDE}) {_LOW}(?!\S)")
_AT_HIGH = Lazy(rf"(?<!\S){_LYING}(?:{_TO}|{_BESIDE}) {_HIGH}(?!\S)")
_MOVED = r"(?:dropped|dropping|fallen|falling|sunk|sinking|slipped|climbed|climbing|moved|gone|crept|creeping|dipped|swung|come|risen|tipped)(?: (?:down|up|over|back))?"
_AT_RED = Lazy(
    rf"(?<!\S){_LYING}(?:(?:{_TO}|{_BESIDE}|above|over|off) {_EDGE}|(?:{_BESIDE}|{_MOVED} (?:in|into|to|onto)) {_RED})(?!\S)"
)
_AT_E = Lazy(
    rf"(?<!\S){_LYING}(?:{_BESIDE}|south of|north of|(?:tucked )?(?:in )?behind) (?:the )?(?:e|empty)(?! (?:cab|bus|tank)\b)(?!\S)"
)
_AT_F = Lazy(rf"(?<!\S){_LYING}(?:{_BESIDE}) (?:the )?f(?!\S)")
_NOT_OFF = Lazy(
    r"(?<!\S)(?:(?:is|has|have|had|did|does) )?(?:not|never|barely|hardly)(?: (?:even|yet|really|quite|been))*(?: (?:come|comes|came|coming|moved?|lift(?:ed|ing)?|climb(?:ed)?|risen?|rise|budged?|stirred?|get|got|gotten|shifted?|off|leave|left|leaves|cleared?|peeled?|dropped|fallen|sunk|down|pulled?|up|away|yet))+(?: (?:from|of))? (?P<mark>(?:(?:the|it|its) )?(?:\w+ )?(?:peg|pin|stop|rest|post|bottom|top|e|empty|f|full))(?: (?:yet|at all|so far))?(?!\S)"
)
_STILL_ON = Lazy(
    r"(?<!\S)(?:(?:still|lying|laying|sitting|resting|flat|dead|hard|down|back|just|right|up) )*(?:on|at|against) (?:it|its) (?:stop|rest|post|peg|pin)(?: still)?(?!\S)"
)
_DENYING = frozenset({"not", "never", "barely", "hardly"})
_STOPS = frozenset("peg pin stop rest post bottom top e empty f full".split())
_ENDS = frozenset(
    "peg pin stop mark line tick notch end side limit post bar segment light rest gauge dial scale range sweep glass tube".split()
)
_LOW_NAMES = frozenset("bottom lower lowest low empty e zero min minimum refill peg pin".split())
_TOPS = frozenset("top upper highest high full f max maximum".split())
_LAST_OF_IT = Lazy(
    r"(?<!\S)(?:(?:is|has|have|got|down|to|only|just|barely|hardly|showing|shows|about|a|an|the|last|one|thin|tiny|little|mere|any|at|on|in) )*(?:sliver|slivers|scrap|trace|hint|lick|whisper|any|no)(?: of)?(?: (?:the|it))? green(?! (?:light|lamp|led|cap|valve)s?\b)(?: (?:left|showing|zone|band|remaining|on (?:the|it) (?:gauge|dial)))*(?!\S)"
)
_SLIVER = Lazy(
    r"(?<!\S)(?:(?:is|has|got|down|to|only|just|barely|about|a|an|the|last|one|thin|tiny|little|mere|at|on) )*(?:sliver|slivers)(?: (?:left|remaining|showing))?(?=$| (?:in|on|now|and|,|\.))"
)
_LAMPS = r"(?:(?:panel|level|gauge|tank) )?(?:bars?|lights?|leds?|segments?|blocks?|dots|lamps?|squares|ticks)"
_LIT = r"(?: (?:is|are|all|now|still))*(?: (?:lit|on|up|showing|solid|glowing|full|left|going))+"
_ALL_LIT = Lazy(
    rf"(?<!\S)(?:(?:has|have|got|showing|shows|with) )?(?:every|all|each)(?: of)?(?: (?:the|it|single|one|of|two|three|four|five|six|seven|eight|ten|[2-9]))* {_LAMPS}(?:(?:{_LIT})?(?: ,)? (?:but|except|minus|less|save|other than|apart from|besides|bar)(?: for)?(?: (?:the|it))?(?: very)? (?:last|top|one|final|end|1|highest|upper|topmost)(?: (?:one|bar|light|segment|block))?(?:{_LIT})?|{_LIT})(?!\S)"
)
_ALL_BUT = Lazy(
    rf"(?<!\S)(?:(?:is|has|have|got|showing|shows|with) )?(?:one|1|a single) (?:(?:bar|segment|block) (?:missing|gone|dark|unlit)|(?:bar|light|segment|block|led) (?:short of|below|off|from) full)(?!\S)|(?<!\S)(?:(?:has|have|got|showing|shows|with) )?all but (?:(?:the|it) )?(?:one|last|top|last one|top one|1|final)(?: (?:of the|of it))? {_LAMPS}(?:{_LIT})?(?!\S)"
)
_NONE_LIT = Lazy(
    rf"(?<!\S)(?:(?:has|have|got|showing|shows|with) )?(?:no|not a|not one|zero)(?: single)? {_LAMPS}(?:{_LIT})(?!\S)|(?<!\S)(?:the |it )?last (?:bar|light|segment|block) (?:(?:is|has|just) )*(?:gone|went|out)(?: out)?(?!\S)"
)
_SEVERAL_OFF = Lazy(
    r"(?<!\S)(?:two|three|four|five|a couple(?: of)?|a few|several|\d) (?:bars|lights|leds|segments|blocks|marks|lines|ticks|notches) (?:(?:away|down|up) from|short of|shy of|below|under|above|over|off|from|past|less than) (?:the )?(?:full|f|empty|e|half|(?:a |one |three )?quarters?|top|bottom)(?!\S)"
)
"""So many marks from another, of which nobody knows how many there are."""
_TOP_LIT = Lazy(
    r"(?<!\S)(?:the |it )?(?:very )?(?:top|upper|highest|full) (?:bar|light|segment|lamp|led)(?: (?:is|has|just))*(?: come)? (?:lit|on)(?!\S)"
)
_ONE_LIT = Lazy(
    rf"(?<!\S)(?:(?:is|has|have|got|showing|shows|with) )?(?:(?:(?:down to|only|just|nothing but|on)(?: (?:the|it|it is|has|got))*(?: (?:one|a single|last|bottom|lowest|first|1|final|single))+ (?:bar|light|led|segment|block|dot|lamp|square)(?:{_LIT})?)|(?:one|1|a single|a|the bottom|the lowest|the last) (?:bar|light|led|segment|block)(?: (?:lit|left|showing|remaining))+)(?!\S)"
)
_HALF_LIT = Lazy(rf"(?<!\S)half(?: of)?(?: (?:the|it|its|a))? {_LAMPS}(?:{_LIT})?(?!\S)")
_LAMP_NOUNS = frozenset(
    "bar bars light lights led leds segment segments block blocks dot dots lamp lamps square squares ticks marks lines notches".split()
)
_LAMP_GAUGES = frozenset("fresh waste def fuel diesel propane cylinder bottle black grey gray water".split())
_PRESSURES = frozenset("tire tires psi pressure air".split())
_UNITS = frozenset("inch inches in cm centimeters foot feet gallon gallons gal liters litres pound pounds".split())


_ASKS_MORE = Lazy(
    r"(?<!\S)(?:how|what|why|where|which|when|who|should|can|could|will|shall|do (?:i|we|you)|need|help|show me|walk|please|stuck|broken|faulty|wrong|leak\w*|smell\w*|fault|defect|\?)(?!\S)"
)
_FAULTY = frozenset("after since though although even filled filling topped stuck broken".split())
"""Beside these a needle that does not leave its peg is a fault, and tells no level."""


def only_told(text: str) -> bool:
    """Whether a text tells where a needle lies and nothing beside it that needs an answer."""
    words = words_of(text)
    return by_marks(words) != words and _ASKS_MORE.search(" ".join(word.text for word in words)) is None


def by_marks(words: Sequence[Word]) -> list[Word]:
    """The words with the place of a needle in words that the reader of amounts knows."""
    out = list(words)
    for told in (_feet_and_inches, _dipped, _all_between, _nearly_off, _lamps, _edges, _middle):
        out = told(out)
    return out


def _put(words: Sequence[Word], start: int, end: int, texts: Sequence[str]) -> list[Word]:
    """The words with those of a span told in other words."""
    first, last = words[start], words[end - 1]
    new = [Word(text, first.start, last.end) for text in texts]
    return [*words[:start], *new, *words[end:]]


def _each(
    words: list[Word], pattern: Lazy, meant: Callable[[list[str], int, int], str | None], *needs: frozenset[str]
) -> list[Word]:
    """The words with every place of a pattern told in other words, where there are any for it.

    Without one word of each of `needs` the pattern stands nowhere, and is not compiled.
    """
    texts = {word.text for word in words}
    if not all(need & texts for need in needs):
        return words
    at = 0
    while True:
        joined = " ".join(word.text for word in words)
        starts = [0]
        for word in words:
            starts.append(starts[-1] + len(word.text) + 1)
        found = next((one for one in pattern.finditer(joined) if one.start() >= starts[min(at, len(words))]), None)
        if found is None:
            return words
        start = bisect_left(starts, found.start() + (found.group()[:1] == " "))
        end = bisect_left(starts, found.end())
        said = meant([word.text for word in words], start, end) if end > start else None
        if said is None:
            at = start + 1
            continue
        words = _put(words, start, end, said.split())
        at = start + len(said.split())


def _share(value: float) -> str:
    return f"{round(value * 10_000)}/10000"


def _range(low: float, high: float) -> str:
    return f"between {_share(low)} and {_share(high)}"


# Between two marks


def _mark(texts: Sequence[str], at: int) -> tuple[int, float] | None:
    """The end and the share of full of a mark that is named at a place: "the three quarter mark", "E"."""
    while at < len(texts) and texts[at] in _ARTICLES and not (number := number_at(texts, at)):
        at += 1
    if at >= len(texts):
        return None
    number = number_at(texts, at)
    if number is not None and number.kind == "fraction" and 0 < number.value <= 1:
        end, value = number.end, number.value
    elif texts[at] in _FULL | _EMPTY | _HALF:
        end, value = at + 1, 1.0 if texts[at] in _FULL else 0.0 if texts[at] in _EMPTY else 0.5
    else:
        return None
    return end + (end < len(texts) and texts[end] in _MARK_NOUNS), value


def _two_marks(texts: Sequence[str], at: int, links: Sequence[str]) -> tuple[int, float, float] | None:
    """The end and the shares of two marks that stand one after the other."""
    first = _mark(texts, at)
    if first is None or first[0] >= len(texts) or texts[first[0]] not in links:
        return None
    second = _mark(texts, first[0] + 1)
    return (second[0], first[1], second[1]) if second is not None and second[1] != first[1] else None


def _all_between(words: list[Word]) -> list[Word]:
    texts = [word.text for word in words]
    joined = " ".join(texts)
    if "differ" in joined and (split := _DIFFERENCE.search(joined)) is not None:
        start, end = len(joined[: split.start()].split()), len(joined[: split.end()].split())
        if (marks := _two_marks(texts, end, ("and", "to", "or"))) is not None:
            return _put(words, start, marks[0], _between(0.5, *marks[1:]).split())
        for at in range(start):  # "a half and three quarters, split the difference"
            marks = _two_marks(texts, at, ("and", "to", "or"))
            if marks is not None and marks[0] in (start, start - 1):
                return _put(words, at, end, _between(0.5, *marks[1:]).split())
    for at, text in enumerate(texts):
        if text in ("closer", "nearer") and (nearer := _than(texts, at)) is not None:
            return _put(words, at, nearer[0], _between(None, nearer[1], nearer[2], nearer[1]).split())
        marks = _two_marks(texts, at + 1, ("and", "to")) if text in _BETWEEN else None
        if marks is None:
            continue
        start, share = _way(texts, at)
        if text == "from" and share is None:
            continue  # "it went from a half to a quarter"
        if texts[start - 1 : start] == ["'"] and text == "tween":
            start -= 1
        toward, end = _toward(texts, marks[0])
        return _put(words, start, end, _between(share, marks[1], marks[2], toward).split())
    return words


def _than(texts: Sequence[str], at: int) -> tuple[int, float, float] | None:
    """The end, the nearer and the farther mark in "closer to a half than to a quarter"."""
    first = _mark(texts, at + 1 + (texts[at + 1 : at + 2] == ["to"]))
    if first is None or texts[first[0] : first[0] + 1] != ["than"]:
        return None
    second = _mark(texts, first[0] + 1 + (texts[first[0] + 1 : first[0] + 2] in (["to"], ["it"])))
    return (second[0], first[1], second[1]) if second is not None and second[1] != first[1] else None


def _way(texts: Sequence[str], at: int) -> tuple[int, float | None]:
    """Where the words before "between" begin that tell how far it is from one mark to the other, and how far."""
    for words, size in ((["of", "the", "way", "up"], 4), (["of", "the", "way", "down"], 4), (["of", "the", "way"], 3)):
        stop = at - size
        if stop > 0 and list(texts[stop:at]) == words:
            for start in (stop - 2, stop - 1):
                number = number_at(texts, start) if start >= 0 else None
                if number is not None and number.end == stop and number.kind == "fraction":
                    return start, number.value
    start = at
    while start and texts[start - 1] in _PREFIX:
        start -= 1
    exactly = _EXACTLY & set(texts[start:at])
    start -= bool(start) and texts[start - 1] in ("lies", "lying")  # which without it may be untrue
    return start, 0.5 if exactly else None


def _toward(texts: Sequence[str], end: int) -> tuple[float | None, int]:
    """The mark that the needle is nearer to, and where the words that say so end."""
    found = _TOWARD.match(" " + " ".join(texts[end:])) if end < len(texts) else None
    if found is None:
        return None, end
    after = end + len(found.group().split())
    mark = _mark(texts, after)
    return (mark[1], mark[0]) if mark is not None else (None, end)


def _between(share: float | None, first: float, second: float, toward: float | None = None) -> str:
    """The range that a needle between two marks lies in."""
    span = second - first
    if toward in (first, second):
        near, far = (first, second) if toward == first else (second, first)
        return _range(near, near + (far - near) * 2 * _PULL)
    if share is None:
        return _range(first, second)
    middle, half = first + share * span, _EXACT * abs(span)
    return _range(max(0.0, middle - half), min(1.0, middle + half))


# Depths


_SMALL_NUMBERS = {name: number for number, name in enumerate("one two three four five six seven eight nine ten eleven".split(), start=1)}  # fmt: skip
_FEET = Lazy(
    rf"(?<!\S)(?P<feet>an?|one|two|three|four|five|[1-5]) (?:foot|feet|ft) (?:and )?(?P<inches>{'|'.join(_SMALL_NUMBERS)}|1[01]|[1-9])(?P<half> and a half)?(?: (?:inch|inches|in))?(?!\S)(?! (?:foot|feet|ft|percent|gallons?|gal|quarters?|thirds?|eighths?|halves|pounds?|volts?|people|of|hours?|minutes?|days?)\b)"
)
_FOOT = frozenset({"foot", "feet", "ft"})
_STICKS = frozenset({"stick", "stick's", "dipstick", "dipstick's", "dip", "dipped", "ruler", "yardstick"})
_TOLD_UNITS = (_UNITS - {"in"}) | {"percent", "%", "ft", "cm", "degrees", "volts", "psi"}


def _feet_and_inches(words: list[Word]) -> list[Word]:
    """ "One foot two": one depth in inches."""

    def inches(texts: list[str], start: int, end: int) -> str | None:
        found = _FEET.search(" ".join(texts[start:end]))
        if found is None:
            return None
        feet = 1 if found["feet"] in ("a", "an") else _number(found["feet"])
        return f"{12 * feet + _number(found['inches'])}{'.5' if found['half'] else ''} inches"

    return _each(words, _FEET, inches, _FOOT)


def _number(word: str) -> int:
    return _SMALL_NUMBERS.get(word) or int(word)


def _dipped(words: list[Word]) -> list[Word]:
    """ "The stick's wet up to fourteen": a stick in a tank is read in inches."""
    texts = [word.text for word in words]
    if not _STICKS & set(texts) or _TOLD_UNITS & set(texts):
        return words
    numbers = [one for one in find_numbers(texts) if one.value > 1]
    if len(numbers) != 1:
        return words
    start, end = numbers[0].start, numbers[0].end
    return _put(words, start, end, [*texts[start:end], "inches"])


# Beside a mark, within a part


def _nearly_off(words: list[Word]) -> list[Word]:
    """ "A needle's width past three quarters", "half way through the bottom quarter"."""
    of_waste = {"waste", "black", "grey", "gray", "sewage", "holding"} & {word.text for word in words}

    def beside(texts: list[str], start: int, end: int) -> str | None:
        found = _NEAR.search(" ".join(texts[start:end]))
        if found is None or _measured(texts, start):
            return None
        way, mark = found["way"], found["mark"]
        if _WHOLE_MARK.search(found.group()):  # nobody knows how far apart the marks are
            return {"full": "on the high mark", "empty": "on the low mark"}.get(mark, f"about {mark}")
        if mark == "full":
            return f"just under {mark}" if way not in _OVER else None
        if mark == "empty":
            return "on the low mark"
        if way == "into":
            return None
        mark = "half" if mark in _HALF else mark
        return f"{'just over' if way in _OVER else 'just under' if way in _UNDER else 'about'} {mark}"

    def within(texts: list[str], start: int, end: int) -> str | None:
        found = _WITHIN.search(" ".join(texts[start:end]))
        return (
            None
            if found is None
            else _part(found["how"] or "", found["place"] or found["end"], found["part"], bool(of_waste))
        )

    def past(texts: list[str], start: int, end: int) -> str | None:
        found = _PAST.search(" ".join(texts[start:end]))
        return None if found is None else f"over {found['mark']}"

    words = _each(words, _NEAR, beside, _WAYS, _SHARES)
    words = _each(words, _PAST, past, frozenset({"past"}), _SHARES)
    return _each(words, _WITHIN, within, frozenset(_PLACES.split("|")), frozenset(_PARTS))


_PAST = Lazy(
    r"(?<!\S)(?:(?:well|way|nosing|creeping|edging|inching|just|some|now|good) )*past (?:the )?(?P<mark>half|(?:a |one |three )?quarters?|(?:a |one |two )?thirds?|(?:a |one |three |five |seven )?eighths?|\d/\d)(?: (?:mark|line|tick|notch))?(?= (?:on|and|now|but|,|\.|!|;)|$)"
)


def _part(how: str, place: str, part: str, of_waste: bool) -> str | None:
    """The range that a part of the gauge covers; "its last part", of which it is not known where it lies."""
    size = _PARTS[part]
    if place in ("last", "final"):
        low = None if of_waste else 0.0
    elif place == "first":
        low = 0.0 if of_waste else None
    elif place in ("second", "third"):
        low = size * (1 if place == "second" else 2)
    else:
        low = 0.0 if place in ("bottom", "lower", "lowest", "low") else 1 - size
    if low is None or low + size > 1.001:
        return "somewhere"
    edge = low + size if low == 0 else low  # where the needle comes in
    far = low if low == 0 else low + size
    if how.startswith(("half", "middle", "the middle", "in the middle")):
        return _range(low + size * _EXACT, low + size * (1 - _EXACT))
    if how in ("just", "barely", "only just") and (low == 0 or low + size > 0.999):
        return _range(edge, edge + (far - edge) * 0.4)
    if how in ("well", "deep", "far", "way") and (low == 0 or low + size > 0.999):
        return _range(far, far + (edge - far) * 0.6)
    return _range(low, low + size)


def _measured(texts: Sequence[str], start: int) -> bool:
    """Whether a length or an amount stands before a place, which then is counted from there."""
    return start > 0 and texts[start - 1] in _UNITS


# Marks at the ends, and lamps


def _lamps(words: list[Word]) -> list[Word]:
    """ "Every bar lit but the last one", "one bar left"."""
    texts = {word.text for word in words}
    if not _LAMP_GAUGES & texts or not _LAMP_NOUNS & texts or _PRESSURES & texts:
        return words
    for pattern, said in (
        (_SEVERAL_OFF, "somewhere"),
        (_ALL_LIT, "on the high mark"),
        (_ALL_BUT, "on the high mark"),
        (_TOP_LIT, "on the high mark"),
        (_NONE_LIT, "on the low mark"),
        (_ONE_LIT, "on the low mark"),
        (_HALF_LIT, "about half"),
    ):
        words = _each(words, pattern, lambda _texts, _start, _end, said=said: said)  # type: ignore[misc]
    return words


def _edges(words: list[Word]) -> list[Word]:
    """ "Not off its stop yet", "a breath above the low mark", "down to the last sliver of green"."""
    texts = {word.text for word in words}
    waste = bool({"waste", "black", "sewage", "grey", "gray"} & texts)

    def not_off(texts: list[str], start: int, end: int) -> str | None:
        if _FAULTY & set(texts):
            return None
        return "on the high mark" if _TOPS & set(texts[start:end]) else "on the low mark"

    def at(mark: str) -> Callable[[list[str], int, int], str | None]:
        return lambda texts, start, _end: None if _measured(texts, start) else mark

    words = _each(words, _NOT_OFF, not_off, _DENYING, _STOPS)
    words = _each(words, _STILL_ON, not_off, frozenset({"it"}), _STOPS)
    words = _each(words, _AT_RED, at("in the red"), frozenset({"red"}))
    words = _each(words, _AT_LOW, at("on the low mark"), _ENDS, _LOW_NAMES)
    words = _each(words, _AT_HIGH, at("on the high mark"), _ENDS, _TOPS)
    words = _each(words, _AT_E, at("on the low mark"), frozenset({"e", "empty"}), _WAYS | {"behind", "out", "in"})
    words = _each(words, _AT_F, at("on the high mark"), frozenset({"f"}), _WAYS)
    if not waste:
        words = _each(words, _LAST_OF_IT, at("on the low mark"), frozenset({"green"}))
    return _each(words, _SLIVER, at("on the low mark"), frozenset({"sliver", "slivers"}))


# The middle


def _middle(words: list[Word]) -> list[Word]:
    """ "Smack in the middle of the dial", and of a needle "straight up and down"."""
    texts = {word.text for word in words}
    if _OTHER_SCALE & texts:
        return words

    def middle(texts: list[str], start: int, end: int) -> str | None:
        said = set(texts[start:end])
        if not (said & _MIDDLES - {"middle", "center", "centre"} or said & _PLACED):
            return None  # "the middle" is told, "middle" alone is another's
        return f"{'just over' if said & _OVER else 'just under' if said & _UNDER else 'about'} half"

    words = _each(words, _MIDDLE, middle, _MIDDLES)
    told = [word.text for word in words]
    if any(number_at(told, at) and text not in ("12", "twelve") for at, text in enumerate(told)):
        return words  # "straight up half"
    return _each(words, _UPRIGHT, lambda _texts, _start, _end: "about half", _POINTER, _STRAIGHT)
