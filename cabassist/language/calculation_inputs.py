"""The frame of a calculation question, with its amounts.

"how long to fill a hundred gallons at four and a half gallons a minute" becomes the amounts 100 gal and 4.5 gal/min and
the frame " how long to fill <gal> at <gal/min> ". What an amount is for is then told by patterns over the frame, in
which `{vol}`, `{flow}`, `{temp}` and the like stand for any amount of that kind. Pure: text in, amounts out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache, lru_cache

from cabassist.language.calculation_amounts import MARKS, Amount, amounts_among, merged, unmended
from cabassist.language.calculation_righted import put_right
from cabassist.language.calculation_short import said_short
from cabassist.language.calculation_units import HOURS, UNIT_WORDS
from cabassist.language.numbers import words_of
from cabassist.language.passing import without_passing
from cabassist.language.plain_amounts import plainly_written
from cabassist.language.rule_figures import without_rule_figures
from cabassist.language.run_together import set_apart
from cabassist.language.shorthand import written_out


@dataclass(frozen=True)
class Question:
    """A text as amounts in a frame of words."""

    text: str
    words: tuple[str, ...]
    amounts: tuple[Amount, ...]
    frame: str
    scale: str
    """F or C, for degrees whose scale is not said."""
    metric: bool
    """Whether the coach's driver thinks metric."""

    def has(self, pattern: str) -> bool:
        """Whether the pattern stands anywhere in the frame."""
        return compiled(pattern).search(self.frame) is not None

    def amount_at(self, character: int) -> Amount:
        """The amount whose tag starts at that character of the frame."""
        return self.amounts[self.frame.count("<", 0, character)]

    def find(self, *patterns: str) -> tuple[Amount, ...]:
        """The amounts in the groups of the first pattern that fits, or none."""
        for pattern in patterns:
            match = compiled(pattern).search(self.frame)
            if match:
                return tuple(
                    self.amount_at(match.start(i))
                    for i in range(1, (match.re.groups or 0) + 1)
                    if match.group(i) and match.group(i).startswith("<")
                )
        return ()

    def every(self, pattern: str) -> list[Amount]:
        """The amount in the first group of each place where the pattern fits."""
        return [self.amount_at(match.start(1)) for match in compiled(pattern).finditer(self.frame) if match.group(1)]

    def one(self, *patterns: str) -> Amount | None:
        """The first amount found by these patterns."""
        found = self.find(*patterns)
        return found[0] if found else None

    def of(self, kind: str) -> list[Amount]:
        """Every amount of a kind, in order."""
        return self.every(f"({{{kind}}})")


KINDS: dict[str, str] = {
    "vol": "gal|L|qt|pt|mL|floz|cup|tbsp|tsp|drop",
    "water": "gal|L|qt",
    "flow": r"(?:gal|L|qt|cup|n)/(?:min|s)|gpm",
    "rate": r"(?:gal|L|qt|n|percent)/(?:h|day|week)|gph",
    "use": r"(?:gal|L|qt|n|cup|pt)(?:/(?:day|h|week))?/each",
    "part": "percent|part",
    "percent": "percent",
    "temp": "F|C|temp",
    "n": "n",
    "time": "h|min|s|day|night|week",
    "h": "h|min|day|night|week",
    "A": "A",
    "V": "V",
    "W": "W|kW",
    "load": "A|W|kW",
    "Ah": "Ah",
    "btu": r"BTU/h|BTU|kW",
    "len": "ft|in|cm|m|yd|mm",
    "short": "in|cm|mm",
    "long": "ft|m|yd",
    "way": "mi|km",
    "speed": r"mph|km/h|kn|(?:mi|km)/h|m/s",
    "psi": "psi|kPa|bar",
    "lb": "lb|kg|ton",
    "people": "people",
    "awg": "awg",
    "ppm": r"ppm|mg/L",
    "weighed": "mg/m3",
    "mpg": r"mpg|(?:mi|km)/gallon",
    "perdeg": r"(?:W|BTU|BTU/h|kW|n)/deg[CF]?",
    "torque": "lb-ft|N·m",
    "clock": "clock",
    "any": r"[^<>]+",
    "count": "furnace|cylinder|shower|flush|heater|driver|cord|bag",
    "furnace": "furnace|heater",
    "cylinder": "cylinder",
    "shower": "shower",
    "flush": "flush(?:/day)?(?:/each)?",
}


_EDGE = r"(?:\b|(?<= )(?=<)|(?<=>)(?= ))"


@cache
def compiled(pattern: str) -> re.Pattern[str]:
    """A pattern with `{kind}` standing for an amount of that kind; `{gal|L}` names tags themselves.

    A word boundary also lies at the edge of an amount.
    """
    if "<" in pattern or "{" in pattern:
        pattern = pattern.replace(r"\b", _EDGE)
    return re.compile(re.sub(r"\{([A-Za-z|/·-]+|32nds)\}", lambda m: f"<(?:{KINDS.get(m[1], m[1])})>", pattern))


_SPELT = {
    "til": "till",
    "'til": "till",
    "untill": "until",
    "gonna": "will",
    "em": "them",
    "'em": "them",
    "n": "and",
    "'n": "and",
    "waist": "waste",
}
"""Words as drivers write them, and as the patterns have them."""


@lru_cache(maxsize=16)  # one turn reads the same text for several of its decisions
def read_question(text: str, *, metric: bool = False) -> Question:
    """The amounts of a text and its frame. `metric` says what degrees and the like mean when no scale is said."""
    # "<" and ">" mark the amounts in the frame, so none may stand there that was typed
    written = plainly_written(written_out(text))
    words = [w._replace(text=MARKS.get(w.text, w.text)) for w in set_apart(words_of(written))]
    words = [unmended(words, i, written) for i, w in enumerate(words)]
    newtons = any(w.text in ("m", "·", "*") for w in words)  # "80 n m" is no "80 and m"
    words = [
        w if w.text == "n" and newtons else w._replace(text=_SPELT.get(w.text, w.text))
        for w in words
        if w.text and w.text not in "<>"
    ]
    texts = [w.text for w in words]
    joined = said_short(merged(amounts_among(words, texts), texts), texts)
    found, told = without_rule_figures(without_passing(put_right(joined, words, written), texts), texts)
    lowered = re.sub(r"\b(?:per|a|each|every) (?:degrees?|deg) (?:c\b|cel[sc]ius|centigrade)", "", text.lower())
    scales = {a.unit for a in found if a.unit in ("F", "C")}
    said = (
        "C"
        if scales == {"C"} or (not scales and re.search(r"\bcel[sc]ius\b|\bcentigrade\b", lowered))
        else "F"
        if scales
        else ""
    )
    scale = said or ("C" if metric or _all_metric(found) else "F")
    frame: list[str] = []
    at = 0
    for amount in found:
        inside = texts[amount.start : amount.end]
        thing = inside[inside.index("of") : inside.index("of") + 2] if amount.per and "of" in inside else []
        thing = [] if thing[1:] in (["a"], ["an"]) else thing  # "point six of a gallon"
        if "more" in inside and amount.unit in HOURS:
            thing = ["more", *thing]  # "six more hours" as "six hours more"
        frame += [*(texts[k] for k in range(at, amount.start) if k not in told), f"<{amount.tag}>", *thing]
        at = amount.end
    frame += [texts[k] for k in range(at, len(texts)) if k not in told]
    return Question(text, tuple(texts), tuple(found), _asked_out(f" {' '.join(frame)} "), scale, metric)


_METRIC = frozenset({"kPa", "bar", "km", "km/h", "kg", "L", "L/min", "cm"})
_US = frozenset({"psi", "lb", "gal", "gpm", "gph", "mi", "mph", "ft", "in", "BTU", "BTU/h", "mpg", "qt", "floz"})


def _all_metric(found: list[Amount]) -> bool:
    """Whether all that is measured is metric, so that the degrees are too: "8 bar at 20 degrees"."""
    units = {one.unit for one in found}
    return bool(units & _METRIC) and not units & _US


_QUANTITIES = "gallons|galons|gal|pounds|lbs?|days|hours|hrs?|minutes|mins?|amps|watts|volts|feet|miles|inches|cups|ounces|percent|kilos|liters|litres|psi|btus?|months"


_TERSE = (
    (
        re.compile(rf"(?<=[>\w]) (?:, |[-–] |\. )(?:and |in )?({_QUANTITIES})( left)?(?: please)? $"),
        r" , how many \1\2 ",
    ),
    (re.compile(rf"^ ((?:{_QUANTITIES}) (?:for|to|in|of|needed|per|on|at) )"), r" how many \1"),
    (re.compile(r" (?:, |- |\. )(?:charge |fill |charging |run |burn )?time(?: please| needed)? $"), " , how long "),
    (re.compile(r" (?:, |- |\. )(range|drop|dose|weight|load|wind ?chill)(?: please)? $"), r" , what \1 "),
    (re.compile(r" (?:, |- |\. )(?:h|hrs?) $"), " , how many hours "),
    (
        re.compile(r" (?:, |- |\. )(min|mins|minutes|hours|hrs|time) (to|till?|until) (full|empty|dry) $"),
        r" , how many \1 \2 \3 ",
    ),
    (re.compile(r" (?:, |- |\. )left(?: please)? $"), " , how much left "),
)


def _asked_out(frame: str) -> str:
    """The frame of a question in shorthand, spelled out: "80 gal, pounds?" asks how many pounds."""
    for pattern, full in _TERSE:
        frame = pattern.sub(full, frame)
    return frame


_NAME = "|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True))


_WANTED = (
    re.compile(
        rf"\b(?:how|hom|howm?any) (?:many|manny|much) (?:more |whole |us |american |fluid |of (?:the|your|our) |(?:your|our) )*({_NAME})\b"
    ),
    re.compile(
        rf"\b(?:in|to|into|as) (?:us |american |fluid |your |our )*({_NAME})(?= |$)(?! (?:of (?:the|a)|tank|water|cord|on hand))"
    ),
    re.compile(
        rf"^ (?:what (?:the )?|give me |work out |tell me |total |max |longest |howmany )?(?:the )?(?!foot (?:on|off|down))({_NAME}) (?:in|of|to|is|for|per|needed|left|until|till|on|off|at)\b"
    ),
    re.compile(rf"\b(?:what|which|wat) ({_NAME})\b"),
)


def asked_unit(question: Question) -> str:
    """The unit an answer is wanted in, or "": "how many days", "in liters", "what percent"."""
    for pattern in _WANTED:
        match = pattern.search(question.frame)
        if match and not (match[1] in ("c", "f") and match.re is _WANTED[2]):
            return UNIT_WORDS[match[1]]
    return ""
