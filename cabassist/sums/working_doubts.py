"""Words of a question that make a number doubtful, whichever reader gave it, and what is asked instead.

A reader that takes every amount may still answer another question: two flows of which it knows one, a load while something charges,
a rate that is "half as fast" today. These words are looked for behind all readers.
"""

from __future__ import annotations

from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy

OTHER_WORDS = "I can't work that out from these numbers. Ask it in other words."
_A_FOOT = r"{W} (?:a|per|each|every) (?:foot|ft|meter|metre)\b"
"""A heat tape is told by the foot: its watts are no load yet."""
_FLOWS = r"({water}|{n}) (?:every|each|in|over|within|per) (?:the )?(?:last )?({time})"
_GIVES = r"\b(?:solar|panels?|alternator|sun)\b[^.,]{0,24}\b(?:gives?|puts?|makes?|adds?|brings?)\b[^.,<]{0,14}{load}|{load} (?:of |from )?(?:the )?(?:solar|panels?|alternator)\b"
_LOST_TO_COLD = r"\b(?:lost|lose|loses|losing|less|down) (?:\w+ ){0,2}{part}[^.,]{0,20}\b(?:cold|frost|age)\b|\b(?:cold|frost|age) (?:\w+ ){0,3}?(?:takes?|costs?|robs?|took|eats?) (?:\w+ ){0,2}{part}"
"""What the cold takes is no charge that is left."""
_AS_FAST = r"(?:<part>|<n>|<percent>|\bhalf|\btwice|\bdouble|\btimes) (?:times )?as (?:fast|quick|quickly|slow|slowly|strong)\b"
_SOME_OF_THEM = (
    r"\b(?:but|except) (?:\w+ )?(?:<people>|<n> of (?:them|us|those)\b)|<people> (?:\w+ ){0,3}?only\b.*<(?:n|gal|L)"
)
"""Some of those aboard are told apart from the others."""
_COME_OR_GO = r"\b(?:get|gets|getting|got|hop|step|climb|come|comes|coming|go|goes|are|leave|leaves|leaving|left|join|joins|joining|board|boards) (?:off|on|aboard|out|in|home|us|away|tomorrow|tonight|at|after|when|here|there)\b|\b(?:join|joins|joining|leave|leaves)\b|\b(?:more|others?|extra|less|fewer)\b"
_MANY = r"<people>.*<people>|<people>.*<n> (?:more |others? |of (?:them|us) )?(?:get|gets|join|leave|hop|come|go|are|will|stay|board)\b"
"""Some come aboard or leave while the tank runs."""
_TWO_DUTIES = r"{part} (?:of )?the time\b.*\b(?:other|second|rear|back)(?: one)?(?: is| runs| on| only)* {part}"
"""Two furnaces, each on for another share of the time."""
_SOME_OF_ALL = r"<n> of (?:them|us|those|these)\b.*(?:{part}|\b(?:only|less|more|half|twice|double)\b)"
_NEEDED = r"\b(?:needs?|loses?|losing|wants?|loss (?:is|of)) (?:about |only )?{btu}|\b(?:needs?|loses?|losing|loss (?:is|of)) (?:about |only )?{n/h}"
"""What the coach needs is no second burner."""
_UNLIKE = r"<(?:heater|furnace)> (?:at|of|with|each) <[^>]*> (?:and|,|plus) <n> (?:at|of|with)\b"
_BOUND = r"\b(?:past|below|above|over|under|beyond|limit|max\w*|least|keep|leave) (?:of |at |is |about )?(?:{part}|{water}|{n})"
"""A bound that is told: where the answer is "already past it", the level and the bound may have changed places."""
_SAVED = r"{part} (?:is |are |gets |get |of (?:it|that|them|the water) )?(?:saved|less|more|lost|wasted|spilled|spilt|splashed|evaporates|longer|worse|better|slower|faster|leaks?)\b|\b(?:saves?|loses?|wastes|saving|losing|wasting) (?:about |us |another )?{part}"
"""A share by which a use is smaller or larger is no level."""
_TIMES_SHARE = Lazy(r"[x×] (?:0?\.\d+|1\.\d+|\d+ ?%)")
_BAY_LIMIT = r"\b(?:bay|bays|locker|hold|rack|shelf) (?:limit|rating|plate|placard)\b|\blimit for (?:the )?(?:bags|luggage|gear)\b"
_ADDED = Lazy(r"\d \+ \d[\d,]* = [\d,]+ BTU/h")
_SIZE_ASKED = r"\bhow (?:big|large) (?:is|was|must|does|should) (?:the |our |my |that )?(?:house )?(?:bank|batter\w+)\b|\b(?:what|which) (?:capacity|size) (?:is|was|has|does|of|must)?\b"


def unsure(question: Question, calculation: str, estimate: Estimate, assumes_use: bool = False) -> str:
    """What is asked instead of giving the number; "" when nothing speaks against it.

    Args:
        question: what was asked.
        calculation: the calculation that gave the estimate.
        estimate: the number.
        assumes_use: whether what people use is assumed in it.
    """
    if estimate.value is None:
        return ""
    if estimate.value == 0 and estimate.unit in ("h", "min", "days") and question.has(_BOUND):
        return "How full is it now, and where does it count as full or empty? Say both."
    filling = calculation in ("fill-time", "when-to-look")
    water = filling or calculation in ("fresh-hours", "waste-hours", "which-first", "dump-deadline", "fill-by")
    bank = calculation.startswith("battery-")
    if filling and len(question.of("flow")) > 1 and question.has(r"\b(?:leak\w*|tap|open|drains?|losing|out)\b"):
        return "What comes in and what goes out meanwhile? Say what is left of the flow, in gallons a minute."
    if (water or calculation == "unit-conversion") and question.has(_AS_FAST):
        return "Say what it gives now, in gallons and minutes."
    if (
        (water or calculation == "fresh-hours")
        and question.has(_SAVED)
        and not _TIMES_SHARE.search(" ".join(estimate.working))
    ):
        return OTHER_WORDS
    sooner = question.has(r"\b(?:sooner|longer|less time|shorter)\b")
    if water and question.has(_MANY) and question.has(_COME_OR_GO) and not sooner:
        return "How many are aboard for all of that time? Ask it for each stretch apart."
    if water and question.has(r"<people>") and question.has(_SOME_OF_THEM):
        return "Some use more than others there. Say what all of them use together in a day."
    if calculation == "battery-hours" and question.has(_GIVES):
        return "Something charges it meanwhile. Say the amps that are left of the load."
    if (
        calculation == "battery-hours"
        and question.has(_LOST_TO_COLD)
        and "in the cold" not in " ".join(estimate.working)
    ):
        return "How full is it, and down to how much may it go? Say both."
    if calculation.startswith("propane") and question.has(_UNLIKE) and " x " not in " ".join(estimate.working[1:2]):
        return "How many of each kind burn, and how much does each? Say what all of them burn together in an hour."
    if water and question.has(_SOME_OF_ALL) and not sooner:
        return "Some use more than others there. Say what all of them use together in a day."
    if calculation.startswith("propane") and question.has(_NEEDED) and _ADDED.search(" ".join(estimate.working)):
        return "Which is what the furnace burns, and which is what the coach needs? Ask it with one of them."
    if calculation.startswith("propane") and question.has(_TWO_DUTIES):
        return "How much of the time does each burn? Ask it for each furnace apart."
    if calculation == "axle-load" and question.has(_BAY_LIMIT) and question.has(r"<people>"):
        return "Does that limit count the people too? Ask it with what it is a limit of."
    if bank and question.has(_SIZE_ASKED) and estimate.unit != "Ah":
        return OTHER_WORDS
    if question.has(_A_FOOT) and "a foot" not in " ".join(estimate.working):
        return OTHER_WORDS
    if calculation == "tire-pressure" and question.has(r"\b(?:each|every|per) {temp}"):
        return OTHER_WORDS  # so many degrees are a step, and no temperature
    return OTHER_WORDS if assumes_use and question.has(_FLOWS) else ""
