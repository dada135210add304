"""A calculation asked again with one amount changed: "what if it's twelve an hour", "make that 80 gallons".

The question is put once more in its own words with the new amount in the place of the old one of its kind, so that nothing has
to be guessed about the rest. Where the new amount could stand in two places, it is asked which is meant.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question, read_question
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.language.steering_words import beyond

MAX_WORDS = 12
_NAMELESS = frozenset(
    "tank charger breaker cord bottle cylinder stuff kind size one ones more fewer less extra additional turns mistake average make made change put what if same try call suppose supposing say not only instead each per them they she he find found next another different new better faster slower stronger weaker".split()
)
_VARIES = Lazy(
    r"^(?:(?:ok|okay|so|and|but|no|wait|oh|well|hm+|sorry|actually|right|alright|then|now) )*(?:what if|what about|what for|how about|and if|but if|if|and for|and at|and with|with|make (?:it|that|this)|say|suppose|supposing|let's say|call it|change (?:it|that|this) to"
    r"|i meant?|i should have said|turns out(?: it's| it is)?|my mistake|it's|it is|that's|that should be|(?:and |so )?(?:only|all) (?:i've|i have|we've|we have) (?:got|is)|all (?:i've|we've) got(?: is| here is)?|all (?:i|we) have(?: is)?|i only have|i've only got|not|at|for|only|same (?:for|with|at)|same thing (?:for|with|at)|and|try|plus|add|on top of that)\b"
)
_ASKS_ANEW = Lazy(
    r"\b(?:how (?:long|many|much|far|big|heavy|full)|when|which|where|why|who|can we|should|will it|is it|enough)\b"
)
_USED = Lazy(
    r"\b(?:use|uses|using|used|gets?|makes|does|averag\w*|go through|burn\w*|draw\w*|drop\w*|fall\w*|goes? up|rising|rises?|pour\w*|runs? at|pull\w*|fill\w* at|come\w* in)\b"
)
_PEOPLE = Lazy(r"\b(?:people|of (?:us|them)|guys|kids|players|passengers|aboard|riders|persons?|heads)\b")


INSTEAD = Lazy(
    r"(?<=\w),? (?:not|instead of|rather than) (?:the )?(?:\d[\d.]*|[a-z]+(?:ty|teen|ten|eleven|twelve|one|two|three|four|five|six|seven|eight|nine)(?: [a-z]+)?)$"
)
"""What an amount was before: "it's thirty six people not thirty"."""
_SUPPOSES = Lazy(
    r"\b(?:if|what about|how about|make|say|suppose|supposing|call|change|try|and (?:at|for|with)|meant?)\b"
)
"""Changes an amount of the question; without it "it's minus eighteen out" tells what the weather is."""
_ADDS = Lazy(r"\b(?:more|extra|another|additional|on top|as well|besides)\b|\b(?:too|also)$|^(?:and )?plus\b")
_FEWER = Lazy(r"\b(?:fewer|less)\b")
"""Tells by how much an amount changes, not what it comes to."""


_BROUGHT = Lazy(
    r"^(?:(?:ok|okay|so|and|but|oh|well|hm+|right|now|then) )*(?:what )?(?:if|when|say|suppose|supposing) (?:(?:the|this|that|my|our|all the|all this|a) )?(?:(?!how\b)[a-z'-]+ ){1,3}?(?:slows?|drops?|cuts?|knocks?|brings?|takes?|gets?|holds?|keeps?|pushes?|pulls?|drags?|limits?|sends?)"
    r" (?:us|it|me|that|things|her|him|them|everybody|everyone|the (?:mileage|speed|rate|average|flow|pressure|economy))(?: (?:all the way|right|way))?(?: (?:down|back|up))? (?:to|at) (?:about |only |around |just )?(?=[a-z0-9.-]+(?: [a-z0-9.-]+){0,4}$)"
)
"""Supposes that something brings the amount to another one: "and if the pass slows us to forty"."""


_OTHER_GO = Lazy(
    r"^(?:(?:ok|okay|so|and|but|well|now|then) )*(?:(?:on )?(?:the |my |our )?(?:second|third|other|next|last|first) (?:go|time|try|test|run|round|attempt|one|axle|side)|this time|tried (?:it )?again|did it again|the time before|again)(?: and)?(?: (?:it|i|we|that one)(?: was| is|'s| lost| got| had| came (?:out )?(?:at|to)| dropped| read| reads| showed| said)| lost| was| dropped| read| came out at)(?: only| about| just)? (?=[a-z0-9.]+(?: [a-z0-9.]+){0,4}$)"
)
"""The same measured another time: "second go it was three and a half"."""
_RESULT = Lazy(
    r"^(?P<why>(?:[a-z'-]+ ){2,10}?[a-z'-]+),? (?:so(?: that's| it's| call it| say| make it| more like| only| maybe)?|which (?:makes(?: it)?|is|means)|making it|that makes(?: it)?|meaning|that's more like|say|call it|make it|call that) (?:about |only |just |maybe )*(?P<change>[a-z0-9.]+(?: [a-z0-9.]+){0,5})$"
)
_OF_SOME = Lazy(
    r"\b(?:half|a (?:third|quarter)|two thirds|three quarters|some|most|one|two|three|four) of (?:them|us|the [a-z]+)\b"
)
_ASKED_WHY = Lazy(r"\b(?:how|what|when|which|why|where|who)\b")


def result_of(said: str) -> str | None:
    """The change alone where it is told why: "at three an hour" of "if half of them don't bother, so three an hour"."""
    found = _RESULT.match(said)
    if found is None or _ASKED_WHY.search(said):
        return None
    why, change = _OF_SOME.sub(" ", found["why"]), read_question(found["change"])
    if read_question(why).amounts or len(change.amounts) != 1:
        return None
    return f"and at {found['change']}"


class Restated(NamedTuple):
    """The question with the new amount in it, or the words of the amounts it could replace."""

    text: str
    between: tuple[str, ...] = ()


def restated(
    before: str, text: str, *, only_by_unit: bool = False, used: Callable[[Amount], bool] | None = None
) -> Restated | None:
    """The question `before` with its amount of the same kind changed to that of `text`; None when the text changes none.

    Args:
        before: the question that was answered last, in words.
        text: what was said now.
        only_by_unit: whether the new amount must have a unit, since it may be the correction of a reading.
        used: whether the last answer was worked out from an amount; of several that fit, only these are changed.
    """
    text = _OTHER_GO.sub("what if it's ", plain(text)) if _OTHER_GO.match(plain(text)) else text
    text = _BROUGHT.sub("and at ", plain(text)) if _BROUGHT.match(plain(text)) else result_of(plain(text)) or text
    asked = _ASKS_IF.match(plain(text)) or when_so(plain(text))
    said = f"what if {asked['change']}" if asked is not None else _without_remark(text)
    instead = _in_place_of(before, said)
    if instead is not None:
        return instead
    if not varies(said):
        return None
    old, new = read_question(before), read_question(_ONE.sub("", INSTEAD.sub("", said)))
    if len(new.amounts) != 1 or not old.amounts or _OF_THEM.search(said):
        return None
    given = new.amounts[0]
    if given.unit == "used":
        given = given._replace(unit="n")
    if _ADDS.search(said) or _FEWER.search(said):
        return _changed_by(old, given, -1.0 if _FEWER.search(said) else 1.0)
    again = (_colder(old, given) if _SUPPOSES.search(said) else None) or _same_rate(old, new, given)
    again = again or (_by_its_word(old, new, given) if _SUPPOSES.search(said) else None)
    if again is not None:
        return Restated(put(old, again, new, given))
    named = [unit for units, words in _OF_WORD if words.search(said) for unit in units.split("|")]
    fitting = _not_of_rule(old, [amount for amount in old.amounts if _fits(amount, given)])
    by_word = [one for one in fitting if one.tag in named] if given.unit == "n" else []
    if not by_word and _USES.search(said) and (rates := [one for one in fitting if one.per]):
        by_word = rates
    if len(by_word) == 1:
        return Restated(put(old, by_word[0], new, given))
    if _names_more(old, new, given):
        return None
    if only_by_unit and given.unit == "n":
        return None
    if given.unit in _TEMPERATURES or given.value < 0:
        return None  # of several temperatures the words tell which is meant, and the calculation knows them
    if len(fitting) > 1 and used is not None:
        fitting = [amount for amount in fitting if used(amount)] or fitting
    if len(fitting) > 1 and _USED.search(said):
        fitting = [amount for amount in fitting if amount.per] or fitting
    elif len(fitting) > 1 and _PEOPLE.search(said):
        fitting = [amount for amount in fitting if amount.unit == "people"] or fitting
    if len(fitting) > 1 and given.unit == "n":
        fitting = _of_its_size(fitting, given.value) or fitting
    if not fitting:
        return None
    if len(fitting) == 1 and given.unit == "n" and _far_off(fitting[0], given):
        return Restated("")
    if len(fitting) > 1:
        return Restated("", tuple(_words(old, amount) for amount in fitting))
    return Restated(put(old, fitting[0], new, given))


_OF_THEM = Lazy(r"\b(?:\d|both|two|three|four|five|six|a pair) of (?:them|those|these)$")
"""Counts what was spoken of, and is in the place of no amount."""
_ABSURD = 50.0
"""A bare number that many times greater or smaller than the only amount that it could stand for is meant for something else."""


def _far_off(old: Amount, given: Amount) -> bool:
    return min(old.value, given.value) > 0 and max(old.value / given.value, given.value / old.value) > _ABSURD


def _changed_by(old: Question, given: Amount, sign: float) -> Restated:
    """The question with its one amount of that kind more or less by as much; without words when there is not just one."""
    fitting = [
        one for one in old.amounts if one.tag == given.tag and one.unit != "n" and one.value > 0 and not one.pieces
    ]
    if (
        len(fitting) != 1
        or given.unit in _TEMPERATURES
        or given.value < 0
        or fitting[0].value + sign * given.value <= 0
    ):
        return Restated("")
    amount = fitting[0]
    unit = old.words[amount.start + _figure(list(old.words[amount.start : amount.end])) : amount.end]
    total = f"{amount.value + sign * given.value:g}"
    return Restated(" ".join([*old.words[: amount.start], total, *unit, *old.words[amount.end :]]))


_ASKS_IF = Lazy(
    r"^(?:(?:and|so|ok|okay|then|but) )*(?:how (?:long|many (?:hours|days|minutes|gallons|miles|pounds)|much|far)|when|what)(?: (?:is|does|will|would|do|it|that|we|be|last|then|have|get)){0,4} if (?P<change>.+)$"
)
"""Asks for the same again with one amount changed: "how many hours if it's only four an hour"."""
_WHEN_SO = Lazy(
    r"^(?:(?:and|or|but|well|then|maybe|probably|more like|closer to|up to|say|only|call it|make it|they're|it's|at) )*(?P<change>[\w.%]+(?: [\w.%]+){0,4}?) (?:if|when|once|while|with) (?:it's|it|the|there's|they|we|that)\b.*$"
)


def when_so(said: str) -> re.Match[str] | None:
    """ "Sixty percent if it's windy": one amount and when it would be so."""
    found = _WHEN_SO.match(said)
    if found is None or len(said.split()) > MAX_WORDS:
        return None
    change = read_question(found["change"])
    alone = len(change.amounts) == 1 and (change.amounts[0].start, change.amounts[0].end) == (0, len(change.words))
    return found if alone and len(read_question(said).amounts) == 1 and not _ASKS_ANEW.search(said) else None


_MADE = Lazy(
    r"^(?:(?:ok|okay|so|no|wait|oh|well|sorry|actually|right|then|now|and) )*(?:make|change|call) (?:it|that|this)(?: to)? "
)
_REMARK = Lazy(r",? (?:because|cause|cuz|since|as|i|we|it's|its|it is|that's|they|he|she|the|there's) [^,]*$|,[^,]*$")


def _without_remark(text: str) -> str:
    """ "Make it fifty, it's icy" without why; nothing is left out that holds an amount."""
    said = text.lower().replace("’", "'").strip(" .!")
    if not _MADE.search(plain(said)):
        return plain(text)
    while (found := _REMARK.search(said)) is not None and not read_question(found[0]).amounts:
        shorter = said[: found.start()]
        if len(read_question(shorter).amounts) != 1:
            break
        said = shorter
    return plain(said)


_NOT_THAT = Lazy(
    r"^(?:(?:no|sorry|wait|oh|ok|okay|i mean|i meant|correction|make it|make that|it's|it is|it was|was|that's) )*(?P<new>.+?),? (?:not|instead of|rather than) (?:the )?(?P<old>[\w. ]+)$"
)
_ONE = Lazy(r"(?<=\w) ones?(?=$| (?:that|which|with|doing|does|gives|giving|runs|running|pours|puts)\b)")


def _in_place_of(before: str, said: str) -> Restated | None:
    """The question with the amount that was named as wrong replaced: "sorry, forty five gallons not sixty"."""
    found = _NOT_THAT.search(said)
    if found is None:
        return None
    old, new, wrong = read_question(before), read_question(found["new"]), read_question(found["old"])
    if len(new.amounts) != 1 or len(wrong.amounts) != 1 or len(new.words) > _MOST_WORDS:
        return None
    given, gone = new.amounts[0], wrong.amounts[0]
    meant = [
        one for one in old.amounts if one.value == gone.value and gone.unit in ("n", one.unit) and _fits(one, given)
    ]
    return Restated(put(old, meant[0], new, given)) if len(meant) == 1 else None


_MOST_WORDS = 6
_USES = Lazy(r"\b(?:use|uses|using|drink|drinks|go through|goes through|get through|burns?|burning|averag\w*)\b")
""" "Use three": what is used in a time, not what is there."""
_OF_WORD = (
    ("mph|mi/h|km/h", Lazy(r"\b(?:blow\w*|wind|gust\w*|breeze|drive|driving|go|going|doing|average)\b")),
    ("V", Lazy(r"\b(?:volts?|meter|said|says|reads?)\b")),
    ("lb", Lazy(r"\b(?:weigh\w*|heavy)\b")),
    ("people", Lazy(r"\b(?:people|heads|of (?:us|them)|aboard)\b")),
)
"""What a bare number measures by a word of the text."""


_LINKS = frozenset("a an the and or of in at on per each is it was were be been to for by with only just about what if i i'd id we he she they you had have , then so but my our".split())  # fmt: skip


def _by_its_word(old: Question, new: Question, given: Amount) -> Amount | None:
    """The one amount of the question that the same word stands beside: "and if I'd only driven five" after "seven hours driving"."""
    beside = _besides(new, given.start - 1, given.end)
    fitting = [one for one in old.amounts if _fits(one, given)]
    after = [one for one in fitting if beside & _besides(old, one.end)]
    before = [one for one in fitting if beside & _besides(old, one.start - 1)]
    found = after if len(after) == 1 else before
    return found[0] if len(found) == 1 else None


def _besides(question: Question, *places: int) -> set[str]:
    """The beginnings of the words at some places that tell what an amount is of."""
    words = (question.words[place] for place in places if 0 <= place < len(question.words))
    return {_stem(word) for word in words if word.isalpha() and word not in _LINKS}


def _colder(old: Question, given: Amount) -> Amount | None:
    """The one amount below zero of the question, for another one below zero told in the same scale or in none."""
    below = [amount for amount in old.amounts if amount.value < 0 and amount.unit in (*_TEMPERATURES, "n")]
    if given.value >= 0 or given.per or len(below) != 1:
        return None
    return below[0] if given.unit in ("n", "temp", below[0].unit) else None


def _same_rate(old: Question, new: Question, given: Amount) -> Amount | None:
    """The one rate of the question told anew by its own verb: "it only loses four a degree" after "it loses five watts a degree"."""
    rates = [amount for amount in old.amounts if amount.per]
    if not given.per or len(rates) != 1 or not _fits(rates[0], given):
        return None
    verb, before = new.words[given.start - 1], old.words[rates[0].start - 1]
    return rates[0] if min(given.start, rates[0].start) > 0 and _stem(verb) == _stem(before) else None


def varies(text: str) -> bool:
    """Whether a text changes something of what was asked before and asks nothing else."""
    said = plain(text)
    return len(said.split()) <= MAX_WORDS and _VARIES.match(said) is not None and not _ASKS_ANEW.search(said)


def _names_more(old: Question, new: Question, given: Amount) -> bool:
    """Whether a text names something that the question did not: "and if I rest 8 hours" changes no hours at the wheel."""
    words = [*new.words[: given.start], *new.words[given.end :]]
    left = beyond(_PEOPLE.sub(" ", _USED.sub(" ", " ".join(words)))).split()
    known = {_stem(word) for word in old.words}
    return any(_stem(word) not in known for word in left if word.isalpha() and word not in _NAMELESS)


def _stem(word: str) -> str:
    return "driv" if word.startswith(("driv", "drov")) else word[:4]


def _fits(old: Amount, given: Amount) -> bool:
    """Whether a new amount can stand in the place of an old one: the same unit and time, or none said."""
    if given.pieces or old.pieces:
        return False
    if given.unit == "n" and not given.per:
        return True
    if given.per and old.per != given.per:
        return False
    if (
        old.per and not given.per
    ):  # "two gallons" after "a gallon a head a day": so much a head a day, when of that size
        return given.unit == old.unit and 1 / NEAR <= given.value / (old.value or 1e-9) <= NEAR
    return given.unit in ("n", old.unit) or (old.unit == "n" and bool(old.per))


_TEMPERATURES = frozenset({"F", "C", "temp"})
CLOSE, NEAR, FAR = 1.5, 2.5, 4.0
"""A new amount within this factor of an old one takes its place, when every other is further off than the last factor; or within the first, when
every other is further off than the second."""


def _of_its_size(fitting: list[Amount], value: float) -> list[Amount]:
    """The one amount of about the size of the new one, or none when that is not clear."""
    if value <= 0:
        return []
    apart = sorted(
        ((max(one.value / value, value / one.value), one) for one in fitting if one.value > 0), key=lambda row: row[0]
    )
    clear = apart and (
        (apart[0][0] <= NEAR and (len(apart) == 1 or apart[1][0] >= FAR))
        or (apart[0][0] <= CLOSE and apart[1][0] >= NEAR)
    )
    return [apart[0][1]] if clear and len(apart) == len(fitting) else []


def put(old: Question, amount: Amount, new: Question, given: Amount) -> str:
    """The words of the old question with the new amount's in the place of the old one."""
    words = list(old.words)
    said = list(new.words[given.start : given.end])
    bare = given.unit == "n" and (not given.per or amount.unit != "n")  # "make that 8" keeps what it is eight of
    if bare or (amount.per and not given.per) or (amount.each and not given.each):  # it stays so much a head and day
        said = said[: _figure(said)] + _beyond_figure(words[amount.start : amount.end])
    if amount.start and words[amount.start - 1] == "it":
        said = ["is", *said]  # of "till it's three quarters full" the words keep no "'s"
    return " ".join([*words[: amount.start], *said, *words[amount.end :]])


_AND_PART = Lazy(r"\band (?:a|an|one|two|three|five|seven) (?:half|halves|thirds?|quarters?|eighths?)\b ?")
_PARTS = frozenset("half third thirds quarter quarters eighth eighths".split())


def _beyond_figure(words: list[str]) -> list[str]:
    """What an amount is of: "gallon a head a day" of "a gallon and a half a head a day"."""
    at = _figure(words)
    if words[at - 1] in _PARTS:
        while at < len(words) - 1 and words[at] in ("of", "a", "an"):
            at += 1
    return _AND_PART.sub("", " ".join(words[at:])).split()


def _figure(words: list[str]) -> int:
    """How many words at the beginning are the number itself."""
    from cabassist.language.numbers import find_numbers, words_of

    found = find_numbers(words_of(" ".join(words)))
    return found[0].end if found and found[0].start == 0 else 1


def _words(question: Question, amount: Amount) -> str:
    return " ".join(question.words[amount.start : amount.end])


def only_one(before: str, text: str) -> tuple[str, float] | None:
    """The question with its one amount of the unit that the text's only amount has told anew, and what it is now; else None."""
    said = plain(text)
    if len(said.split()) > MAX_WORDS or _ADDS.search(said) or _FEWER.search(said):
        return None
    old, new = read_question(before), read_question(text)
    if len(new.amounts) != 1 or new.amounts[0].unit in ("n", "used", "clock", *_TEMPERATURES):
        return None
    given = new.amounts[0]
    fitting = [one for one in old.amounts if one.tag == given.tag and not one.pieces]
    return (put(old, fitting[0], new, given), given.value) if len(fitting) == 1 and not given.pieces else None


_RULE = r"<(?:cup|tbsp|tsp|floz|pt|qt)> (?:of )?(?:\w+ ){0,2}?(?:per|for|to|every|each|in|into)(?: (?:every|each|a))? ({gal|L})(?= )"


def _not_of_rule(old: Question, fitting: list[Amount]) -> list[Amount]:
    """What may be changed without the water of a rule: "a quarter cup for every 15 gallons, tank holds 60", then "make it 90 gallons"."""
    base = old.one(_RULE)
    if base is None or base not in fitting:
        return fitting
    rest = [one for one in fitting if one is not base]
    return rest or [one for one in old.amounts if one.unit == "n" and not one.per]


_THE = ("the", "that", "those")


def with_several(before: str, earlier: Sequence[str], text: str) -> str:
    """The question with two amounts or more told anew at once, each by its unit: "what about fifty feet of the twelve"; else empty.

    A bare number with "the" before it is one that was spoken of before, and measures what it measured then.
    """
    said = plain(text)
    old, new = read_question(before), read_question(said)
    if len(new.amounts) < _SEVERAL or not varies(said) or _ADDS.search(said) or _FEWER.search(said):
        return ""
    swaps: dict[int, Amount] = {}
    for given in new.amounts:
        units = {given.unit}
        if given.unit == "n" and not given.per and given.start and new.words[given.start - 1] in _THE:
            spoken = [one for question in (before, *earlier) for one in read_question(question).amounts]
            units = {one.unit for one in spoken if one.value == given.value and not one.per}
        fitting = [
            at for at, one in enumerate(old.amounts) if one.unit in units and one.per == given.per and not one.pieces
        ]
        if len(units) != 1 or units & {"n", *_TEMPERATURES} or len(fitting) != 1 or given.pieces or fitting[0] in swaps:
            return ""
        swaps[fitting[0]] = given
    words = list(old.words)
    for at in sorted(swaps, reverse=True):
        amount, given = old.amounts[at], swaps[at]
        told = list(new.words[given.start : given.end])
        if given.unit == "n":
            told = told[: _figure(told)] + _beyond_figure(words[amount.start : amount.end])
        words[amount.start : amount.end] = told
    return " ".join(words)


_SEVERAL = 2
