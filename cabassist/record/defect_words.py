"""What a report of a defect says: the fault, its place, how bad it is, and whether the coach may move.

The words are data (`knowledge/defect-words.yaml`). Whether the coach may move follows the parts that 49 CFR 392.7,
392.8 and 396.11 name: a fault in one of them keeps the coach parked until somebody who may says otherwise; when the words
leave open whether the part still works, that is asked, and until it is answered the coach stays.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from cabassist.coach import Coach, Side
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import bare, plain
from cabassist.record.good_news import without_good_news

Severity = Literal["stop", "today", "service", ""]
"""As the procedure for a defect grades: stop the coach, repair today, next service; empty while nobody has said."""
Move = Literal["no", "unclear", "yes"]

GRADES: dict[Severity, str] = {
    "stop": "stops the coach",
    "today": "repair today",
    "service": "next service",
    "": "not graded",
}
NUMBERS = {
    "one": 1, "won": 1, "first": 1, "two": 2, "to": 2, "too": 2, "second": 2, "three": 3, "tree": 3, "third": 3, "four": 4,
    "for": 4, "fore": 4, "fourth": 4, "five": 5, "fifth": 5, "six": 6, "sixth": 6, "seven": 7, "seventh": 7, "eight": 8,
    "ate": 8, "eighth": 8, "nine": 9, "ninth": 9, "ten": 10, "tenth": 10, "eleven": 11, "twelve": 12, "thirteen": 13,
    "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19, "twenty": 20,
}  # fmt: skip
"""Number words of bays and entries, with what recognisers make of them."""

_LOG = (
    r"log(?: it| this| that)?(?: down)?|loge?|note(?: it| this)?(?: down)?|record|recrod|write (?:it |this |that )?(?:down|up|in)|rite down|put (?:it |this |that )(?:down|in|on)|put down|make (?:a |an )?(?:note|knote|entry)"
    r"|take (?:a note|this down)|jot(?: that| it| this)?(?: down)?|report|add|flag|mark (?:it |this |that )?down|enter|file|pencil in|register"
)
_WANTED = Lazy(
    rf"^(?:(?:fine|ok|okay|well|then|right|alright|so|and|yeah|yes|also) )*(?:please |can you |could you |would you |will you |would ya |i want to |i'd like to |i need to |let's |gotta |need to |y'all |mind )*(?:{_LOG}|logging)\b(?! (?:in|on|off)$| (?:says?|said|book|sheet|form|pole|reads?|entry shows)\b)"
)
"""How a request to record something begins."""
_HINTS = (
    "log", "lock", "not", "rec", "writ", "rite", "put", "make", "take", "jot", "report", "add", "flag", "mark", "enter", "file",
    "pencil", "register", "defect", "fault", "in there", "knows", "down",
)  # fmt: skip
"""One of these stands in every request; to look for them first saves the patterns for most utterances."""
_ENDING = Lazy(
    r"(?:[ ,]+(?:so |and |but |please )?(?:log (?:it|that|this)|note (?:it|that|this)(?: down)?|write (?:it|that|this) (?:down|up)|record (?:it|that)|jot (?:it|that) down|(?:put|get|mark|take) (?:it|that|this) down|put (?:it|that|this) (?:in|on)(?: the (?:log|book|list|sheet))?|add (?:it|that)(?: to the (?:log|list))?"
    r"|add to (?:the )?log|make a note|get that in the log|put that in the (?:log|book)|log as (?:a )?(?:\w+)"
    r"|(?:just )?so (?:it's|it is|that's|that is|its) (?:all )?(?:in (?:there|the (?:log|book|report|list))|on (?:the )?(?:record|list|log|sheet|books)|noted|logged|recorded|written (?:down|up)|down)|(?:just )?for the (?:record|log|log ?book)"
    r"|(?:just )?so (?:he|she|they|the (?:next|other) (?:guy|driver|one|fellow)|the (?:shop|mechanic|yard|garage)|maintenance) knows?(?: (?:about )?(?:it|that))?)(?: please| as (?:an? )?\w+(?: (?:defect|fault))?| for (?:the (?:shop|yard|garage|mechanics?|record|(?:next|other|day|night|relief) (?:driver|guy|one|crew))|him|her|them|me|us|later|tomorrow|maintenance)| down| somewhere| too| as well| also)*)$"
)
_ALSO = Lazy(r"(?<=\w)(?:,? (?:too|as well|also))+$")
_NOUN = Lazy(r"^(?:new |a |the |another |one more |open a |start a )*(?:defects?|faults?)\b(?: note| entry| report)*\b")
_DROPPED = Lazy(
    r"^(?:(?:that|this|then|so|too|as well|down|a note|for me|for the (?:log|record|shop|book|mechanics?)|(?:in|to|on|under)? ?(?:the |teh |that )?(?:defect )?(?:log|book|list|report|sheet|journal|defects)|a defect|as a defect|defects?|of|it|the defect"
    r"|also|record|one more|with a tag of \w+|as (?:urgent|minor|severe|serious|critical|cosmetic)|that one|one)\b[ ,:]*(?:that\b )?)+"
)
_QUESTION = Lazy(
    r"^(?:how|what|what's|where|where's|why|when|which|who|can (?:i|we|it|the|he|she|they|this|that)|could (?:i|we)|should|shall|may|must|do|does|did|is|are|am|has|have (?:i|we|you))\b"
)
_ASKS_WITHIN = Lazy(
    r"\b(?:(?:how|where|what|when|who) (?:do|does|should|can|must|else|'s) |do i|do we|should (?:i|we)|can (?:i|we)|who's told|what (?:else|headings|details))"
)
_EMPTY = Lazy(
    r"^(?:(?:a|an|the|some|new|one|more|another|something|thing|defects?|faults?|problems?|issues?|it|this|that|for me|will you|in|to|down|log|book|entry|note|please|as well|too|also|then|now|though|up|so)\b ?)*$"
)
_OVER = Lazy(r"^(?:report (?:a |the |this )?(?:defect|fault|problem|issue))s?$")
"""The name of the procedure, not of a fault."""
_READINGS = Lazy(r"\b(?:levels?|readings?|odometer|mileage)\b$")
_SIDES: tuple[tuple[str, str], ...] = (
    (r"\b(?:left(?: hand)?|port)\b", "left"),
    (r"\b(?:right(?: hand)?|starboard)\b", "right"),
    (r"\b(?:driver'?s? side|traffic side|street side|offside|off side)\b", "driver"),
    (r"\b(?:passenger'?s? side|curb ?side|kerb ?side|nearside|near side)\b", "passenger"),
    (r"\b(?:rear|back)\b", "rear"),
    (r"\bfront\b", "front"),
)


_NOTHING = Lazy(r"(?!)")


@dataclass(frozen=True)
class SafetyPart:
    """A part whose fault can keep the coach parked."""

    name: str
    words: Lazy
    apart: Lazy | None
    """What sounds like it and is something else."""
    unless: Lazy | None
    """What shows that another thing is meant, wherever it stands."""
    fails: Lazy | None
    """What says for sure that this part fails, in place of the words for all parts."""
    stops: str
    rule: str
    asks: str
    topics: tuple[str, ...] = ()
    """Procedures that deal with a fault of this part."""

    def named_in(self, text: str) -> bool:
        """Whether a plain text names this part."""
        if self.unless is not None and self.unless.search(text):
            return False
        left = self.apart.sub(" ", text) if self.apart else text
        return self.words.search(left) is not None


@dataclass(frozen=True)
class DefectWords:
    """The words of defects, made from the knowledge."""

    parts: tuple[SafetyPart, ...] = ()
    fails: Lazy = field(default=_NOTHING)
    works: Lazy = field(default=_NOTHING)
    severity: Mapping[str, Lazy] = field(default_factory=dict)
    places: Lazy = field(default=_NOTHING)
    faults: Lazy = field(default=_NOTHING)
    """What is said of a part that has a fault, of any kind."""
    damage: Lazy = field(default=_NOTHING)
    """Names of a damage that can be told without the part: "chip by the rear hinge"."""

    @classmethod
    def made(cls, terms: Mapping[str, Any]) -> DefectWords:
        """From the file's content. Raises KeyError when a list is missing; patterns are judged by `check`."""
        parts = tuple(
            SafetyPart(
                name, _any(body["words"]), _given(body, "except"), _given(body, "unless"), _given(body, "fails"),
                str(body["stops"]), str(body["rule"]), str(body["asks"]),
                tuple(body.get("topics", ())),
            )
            for name, body in terms["parts"].items()
        )  # fmt: skip
        severity = {grade: _any(patterns) for grade, patterns in terms["severity"].items()}
        return cls(
            parts, _any(terms["fails"]), _any(terms["works"]), severity, _any(terms["places"]),
            _any(terms["faults"]), _any(terms["damage"]),
        )  # fmt: skip

    def check(self) -> None:
        """Look at every pattern. Raises re.error for a wrong one."""
        of_parts = [p for part in self.parts for p in (part.words, part.apart, part.unless, part.fails)]
        for pattern in (
            *of_parts,
            self.fails,
            self.works,
            self.places,
            self.faults,
            self.damage,
            *self.severity.values(),
        ):
            if pattern is not None:
                pattern.check()


@dataclass(frozen=True)
class Place:
    """Where a defect is: bays by their name, a side, and what else was named; `unknown` is a bay nobody has."""

    bays: tuple[str, ...] = ()
    side: str = ""
    near: tuple[str, ...] = ()
    unknown: str = ""
    remark: str = ""
    """Where the words and the profile differ."""

    @property
    def known(self) -> bool:
        """Whether somebody could go there."""
        return bool(self.bays or self.near or self.side) and not self.unknown

    def words(self, beside: str = "") -> str:
        """As a driver says it; what the words `beside` it say already is left out."""
        said = figures(beside)
        parts = [part for part in (*self.bays, *self.near) if part and not (said and figures(part) in said)]
        told = f"{said} {' '.join(parts)}"
        if self.side and not re.search(rf"\b{self.side}\b", told):
            parts.append(f"{self.side} side" if self.side in ("left", "right") else self.side)
        return ", ".join(parts)


@dataclass(frozen=True)
class Safety:
    """Whether the coach may move with the defect, and why."""

    move: Move
    part: str = ""
    why: str = ""
    rule: str = ""
    asks: str = ""


@dataclass(frozen=True)
class Report:
    """A defect as it was told."""

    what: str
    place: Place
    severity: Severity
    safety: Safety


def _any(patterns: Sequence[str]) -> Lazy:
    return Lazy(r"(?<!\w)(?:" + "|".join(f"(?:{pattern})" for pattern in patterns) + r")(?!\w)")


def _given(body: Mapping[str, Any], name: str) -> Lazy | None:
    return _any(body[name]) if body.get(name) else None


def figures(text: str) -> str:
    """Plain text with the number words of bays as figures."""
    return " ".join(str(NUMBERS[w]) if w in NUMBERS and len(w) > 2 and w != "too" else w for w in plain(text).split())


def wants_record(text: str, likely: float = 0.0) -> str | None:
    """What a text wants recorded as a defect, in its words; empty when it names nothing, None when it wants none.

    Args:
        text: what was said.
        likely: probability, 0 to 1, that it wants a defect recorded, as the matcher sees it.
    """
    said = bare(text)
    if likely < 0.5 and not names_any(said, _HINTS):
        return None
    asks = _QUESTION.match(said) or _ASKS_WITHIN.search(said) or text.rstrip().endswith("?")
    if _OVER.match(said) or (asks and not _WANTED.match(said)):
        return None
    if _WANTED.match(said):
        what = _DROPPED.sub("", _WANTED.sub("", said, count=1).strip(" ,:"))
    elif _NOUN.match(said):
        what = _NOUN.sub("", said, count=1).strip(" ,:")
    elif likely >= 0.5 or (_ENDING.search(said) and len(said.split()) > 3):
        what = said
    else:
        return None
    trimmed = _ALSO.sub("", _ENDING.sub("", what)).strip(" ,:")
    what = trimmed or what
    if _READINGS.search(what) and likely < 0.5:
        return None
    return "" if _EMPTY.match(what) else what


_LONGEST_FAULT = 14
"""Words of a fault told in so many words, at most; what is longer tells more than a fault."""
_TOLD_OTHERWISE = Lazy(
    r"\b(?:if|when|whenever|unless|before|after|until|would|should|might|may|could|want|need|let's|please|help|how|what|why|where|last (?:week|winter|year|trip)|yesterday|fixed|mended|replaced|repaired)\b"
)


_BRAKE_SET = Lazy(r"\bbrakes?(?:'s|'re| is| are| now| just| knob)* (?:set|on|applied|pulled|out)\b|\b(?:set|pulled|applied) (?:the |my |both )?(?:parking |park )?brakes?\b")  # fmt: skip
_HISSED = Lazy(r",? ?\b(?:and |i |we |then )*(?:(?:heard|hear|could hear) )?(?:it |they |the air |air )?(?:hiss\w*(?: out| off)?|(?:let|go|goes|went|blew|dumped|dump) (?:go|off|out))\b(?: of air| like it should| as it should)?")  # fmt: skip
_GOES_ON = Lazy(r"\b(?:still|keeps?|kept|won't|does not|doesn't|never|constant\w*|all the time|non ?stop|leak\w*|since|when (?:driving|rolling))\b")  # fmt: skip


def without_set_hiss(said: str) -> str:
    """A report that the brake is set, without the air that is heard to leave as it sets: that is no leak."""
    return _HISSED.sub("", said) if _BRAKE_SET.search(said) and not _GOES_ON.search(said) else said


def told_fault(text: str, words: DefectWords) -> SafetyPart | None:
    """The part that the coach needs to move and of which a plain statement tells a fault: "the horn does not work"."""
    text = without_good_news(text, words.faults)
    said = bare(text)
    said = without_set_hiss(said)
    if not _plainly_told(text, said) or not words.faults.search(said):
        return None
    return next((part for part in words.parts if part.named_in(said)), None)


def told_trouble(text: str, words: DefectWords) -> bool:
    """Whether a plain statement tells a fault or a damage of anything: enough where defects are being told."""
    text = without_good_news(text, words.faults)
    said = bare(text)
    return _plainly_told(text, said) and bool(words.faults.search(said) or words.damage.search(said))


def told_damage(text: str, words: DefectWords, coach: Coach) -> bool:
    """Whether a text without a verb of asking names a damage and its place: "chip by the rear hinge, two inches"."""
    text = without_good_news(text, words.faults)
    said = bare(text)
    begun = words.damage.search(said)
    return (
        begun is not None
        and len(said[: begun.start()].split()) <= 4
        and _plainly_told(text, said)
        and place_in(text, coach, words).known
    )


def _plainly_told(text: str, said: str) -> bool:
    if text.rstrip().endswith("?") or len(said.split()) > _LONGEST_FAULT:
        return False
    return not (_QUESTION.match(said) or _ASKS_WITHIN.search(said) or _TOLD_OTHERWISE.search(said))


def place_in(text: str, coach: Coach, words: DefectWords) -> Place:
    """The place that a text names, by the profile's bays and sides."""
    said = plain(text)
    bays, unknown = _bays(said, coach)
    side = _side(said, coach)
    near = tuple(dict.fromkeys(match.group(0).strip() for match in words.places.finditer(said)))
    sides: dict[str, Side] = {bay.name: bay.side for bay in coach.bays}
    own = {sides[name] for name in bays}
    remark = ""
    if len(own) == 1:
        only = next(iter(own))
        if side in ("left", "right") and only != side:
            remark = f"The profile has {bays[0]} on the {only} side; you said {side}. Kept as you said it."
        elif side not in ("left", "right"):
            side = only
    return Place(bays, side, near[:3], unknown, remark)


def _bays(said: str, coach: Coach) -> tuple[tuple[str, ...], str]:
    """The profile's bays that are named, and a bay that is named and is not there."""
    named: list[str] = []
    unknown = ""
    known = {plain(bay.name): bay.name for bay in coach.bays}
    for name, own in known.items():
        if re.search(rf"\b{re.escape(name)}\b", said):
            named.append(own)
    word = "|".join(sorted(NUMBERS, key=len, reverse=True))
    pattern = re.compile(
        rf"\bbays? (?:number |door )?(?P<a>\d{{1,2}}|{word})\b|\b(?P<b>first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth) bay\b"
    )
    for match in pattern.finditer(said):
        raw = match["a"] or match["b"]
        number = int(raw) if raw.isdigit() else NUMBERS[raw]
        own_name = known.get(f"bay {number}")
        if own_name is not None:
            if own_name not in named:
                named.append(own_name)
        elif raw not in ("to", "for", "too", "ate", "won"):  # "bay to the left" names no number
            unknown = f"bay {number}"
    return tuple(named), unknown


def _side(said: str, coach: Coach) -> str:
    driver = "left" if coach.drive == "left-hand" else "right"
    meant = {"driver": driver, "passenger": "right" if driver == "left" else "left"}
    for pattern, side in _SIDES:
        if re.search(pattern, said):
            return meant.get(side, side)
    return ""


def safety_of(text: str, words: DefectWords) -> Safety:
    """Whether the coach may move with what the text tells."""
    said = plain(text)
    for part in words.parts:
        if not part.named_in(said):
            continue
        if words.works.search(said):
            return Safety("unclear", part.name, part.stops, part.rule, part.asks)
        move: Move = "no" if (part.fails or words.fails).search(said) else "unclear"
        return Safety(move, part.name, part.stops, part.rule, part.asks)
    if words.severity and words.severity["stop"].search(said):
        return Safety("no", "", "it was reported as unsafe", "49 CFR 396.7")
    return Safety("yes")


def severity_in(text: str, words: DefectWords) -> Severity:
    """The grade that the words give, or none."""
    said = plain(text)
    for grade in ("stop", "service", "today"):
        pattern = words.severity.get(grade)
        if pattern is not None and pattern.search(said):
            return grade
    return ""


def read_report(what: str, coach: Coach, words: DefectWords, said: str = "") -> Report:
    """A defect from its words; `said` is all that was said, where the grade may stand too.

    A fault that keeps the coach parked is graded so, whatever else was said.
    """
    safety = safety_of(what, words)
    severity = severity_in(said or what, words)
    if safety.move == "no":
        severity = "stop"
    return Report(what, place_in(what, coach, words), severity, safety)


__all__ = [
    "GRADES",
    "NUMBERS",
    "DefectWords",
    "Place",
    "Report",
    "Safety",
    "Severity",
    "place_in",
    "read_report",
    "safety_of",
    "severity_in",
    "told_damage",
    "told_fault",
    "told_trouble",
    "wants_record",
]
