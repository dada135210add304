"""Whether an amount beside a number is that of each or of all: "both furnaces are eighty thousand together", "thirty people at two gallons a day".

Readers take heat beside a number of furnaces for that of each: told in all, it is put as that of one. Water that people are
"at" is what each uses, when it is no more than one can.
"""

from __future__ import annotations

from cabassist.language.calculation_inputs import read_question
from cabassist.language.lazy import Lazy

_MANY = r"(?:both|the two|two|2|the three|three|3|all the|the|my|our)(?: of)?(?: (?:the|my|our|those|these))?"
_SEVERAL = Lazy(rf"(?i)\b{_MANY} (?P<thing>furnace|heater|burner)s\b")
_HEAT = r"(?:\d{1,3},\d{3}|\d{4,}|\d{1,3} ?k|(?:[a-z]+[ -]){0,4}?(?:thousand|grand))(?: ?btus?(?: ?/ ?h(?:r|our)?)?)?(?: (?:an|per|a) hour)?"
_IN_ALL = r"(?:together|(?:in )?total|combined|altogether|in all|all told|all in|between (?:the two(?: of them)?|the pair|them|both))"
_AFTER = Lazy(rf"(?i)\b(?P<heat>{_HEAT}),? (?:when |if )?{_IN_ALL}\b")
_BEFORE = Lazy(
    rf"(?i)\b(?:(?:together|combined|between them|in total|altogether|in all)(?: (?:is|are|make|burn|draw|put out|come to|use|take|eat|rate|total))*|(?:a )?(?:total|combined(?: total)?|sum)(?: of)?|totall?ing|adding up to) (?:about |around |some )?(?P<heat>{_HEAT})(?= |,|$)"
)
_EACH = Lazy(r"(?i)\b(?:each|apiece|a ?piece|either)\b")


def as_one(text: str) -> str:
    """The text with heat that is told of several furnaces in all as that of one; as it is when none is."""
    if _SEVERAL.search(text) is None or _EACH.search(text):
        return text
    found = _AFTER.search(text) or _BEFORE.search(text)
    if found is None:
        return text
    whole = f"{text[: found.start()]}{found['heat'].strip()}{text[found.end() :]}"
    return _SEVERAL.sub(r"one \g<thing>", whole)


_PEOPLE_AT = Lazy(
    r"<people>,? (?:each )?(?:at|with|on|using|times|x) (?:about |around |only |roughly |maybe )*<(?:gal|L)/day>(?! (?:each|total|in all|together|altogether|between|among))"
)
_MOST_A_HEAD = {"gal": 15.0, "L": 57.0}


def by_head(text: str) -> str:
    """The text with "each" behind water that so many people are at a day, unless it is more than one uses."""
    question = read_question(text)
    heads = [one for one in question.amounts if one.unit == "people"]
    rates = [one for one in question.amounts if one.unit in _MOST_A_HEAD and one.per == "day"]
    if len(heads) != 1 or len(rates) != 1 or rates[0].each or not _PEOPLE_AT.search(question.frame):
        return text
    if rates[0].value > _MOST_A_HEAD[rates[0].unit]:
        return text
    words = question.words
    return " ".join([*words[: rates[0].end], "each", *words[rates[0].end :]])
