"""Words that move a walk or the conversation: next, back, why, the second one, step four.

The wordings are data (`knowledge/steering.yaml`), so a trainer can add one. Short and exact beats clever
here: a sentence that only contains "next" is not a command. What a list cannot hold is in `steering_families`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from cabassist.language.called_away import called_away
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain, without_politeness
from cabassist.language.steering_families import family, tells
from cabassist.language.steering_words import beyond, by_words

MAX_WORDS = 9
LONGEST_REASON = 13
"""Words of a reason told beside a command, at most."""
FUZZY_SCORE = 88.0
"""Least likeness, 0 to 100, at which a misheard command still counts."""
BY_WORDS = 0.75
"""How sure a command put together from small words is: sure enough in a walk, too little to say that none is open."""

_NUMBERS = {
    "one": 1, "first": 1, "1st": 1, "two": 2, "second": 2, "2nd": 2, "too": 2, "to": 2, "three": 3, "third": 3, "3rd": 3,
    "four": 4, "fourth": 4, "for": 4, "4th": 4, "five": 5, "fifth": 5, "5th": 5, "six": 6, "sixth": 6, "seven": 7,
    "seventh": 7, "eight": 8, "eighth": 8, "ate": 8, "nine": 9, "ninth": 9, "ten": 10, "tenth": 10, "eleven": 11,
    "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18,
    "nineteen": 19,
}  # fmt: skip
_TENS = {"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}
_UNITS = "one|two|three|four|five|six|seven|eight|nine"
_NUMBER = re.compile(
    rf"\b(\d{{1,3}}|(?:{'|'.join(_TENS)})(?:[ -](?:{_UNITS}))?|"
    + "|".join(sorted(_NUMBERS, key=len, reverse=True))
    + r")\b"
)
_OPENINGS = {
    "pause": re.compile(r"^(pause|hold on|hang on|hang about|hang fire|hold up|hold that thought|hold the line|sit tight|bear with me|(?:half a|two|one) (?:tick|ticks|mo)|wait|just a (sec|second|minute|moment)|one (sec|second|minute|moment)|stand ?by|give me (a|one) (sec|second|minute|moment)|gimme a (sec|minute)|back in a (sec|minute))\b"),
    "resume": re.compile(r"^(i'?m back|i am back|back again|let'?s (continue|carry on|resume)|resume)\b"),
    "why": re.compile(r"^why( do| would| should| is| are| not|'s)?\b"),
    "done-when": re.compile(r"^how (do|will|would|can) i (know|tell) (it'?s|if it'?s|when it'?s|that it'?s) (done|right|finished|working|in|on|off|shut|closed|tight|empty|full)$"),
}  # fmt: skip
_MORE = re.compile(
    r"^ (?:(?:first|before that|but|and|so|then|now|actually) )*(?:how|what|what's|where|where's|why|which|who|when|is|are|do|does|did|can|could|should|will|would"
    r"|show|tell me|give me|explain|go|take me|walk|run|read|check|note|log|write|put|start|stop|skip|remind|set|call)\b"
)
"""What follows "hang on" and is a question or a command of its own."""
_HOLDS = frozenset({"pause", "repeat", "back", "stop"})
_HELD_OR_ANEW = _HOLDS | {"start-over"}
_REASON = re.compile(
    r"^(?:because|cause|cuz|since|as|i|i'm|i've|my|we|we're|someone|somebody|the (?:phone|door|kids?|boss|coach|driver|\w+ (?:was|were))|there's|it's (?:late|loud|noisy|dark|cold)|couldn't|didn't|was|got)\b"
)
_CUT_SHORT = Lazy(
    r"^(?:(?:ok|okay|right|sorry|no|well|hey|oh) )*(?:stop|quit|end|drop|leave|cancel|forget)(?: (?:it|this|that|there|here|now|the (?:list|walk|procedure)))*(?: (?:because|cause|cuz|since|as))? "
    r"(?:(?:i|we)(?:'ve| have|'m|'re| am| are|'d)? (?:just |really )?(?:gotta|got to|have to|need to|must|should|going to|gonna|better)(?: (?:go|be|get))?(?: and)? (?:go|going|move|moving|drive|driving|leave|leaving|roll|rolling|run|pull (?:out|over|up|away)|head|set off|take off|catch|pick up|meet|help|see|eat|sleep|shift|clear out|out|off|back|on the road)\b.*"
    r"|(?:i'm|we're|i am|we are) (?:leaving|going|off|out of time|late|moving|rolling|driving|needed|running late|being called)\b.*|it's (?:late|time to (?:go|leave|roll))\b.*|(?:i|we) (?:must|gotta|have to|need to|better) go"
    r"|(?:the |my |our )?(?:kids|boys|girls|team|players|lads|guys|passengers|everybody|everyone|bus|ride)(?:'s|'re| is| are| has| have)? (?:coming|back|here|waiting|boarding|loading up|leaving|ready to go)\b.*)$"
)
"""The walk left for something that cannot wait: "stop, I have to drive", "quit, the boys are back"."""
_CALM = Lazy(r"\b(?:stop|quit|drop|leave|waiting|running late|out of time|roll|rolling|back|off|out|late)\b")
"""Words of leaving that may tell of trouble elsewhere."""
_OTHERS = re.compile(r"\b(?:he|she|they|who|said|says|told|tells|should|if)\b")
_GOES_ON = re.compile(
    r"\b(?:to|the|a|an|my|our|you|we|i|it|that|can|could|would|will|won't|must|not|when|how|what|for|with|of|in|on|at|is|was|and then|while|before|after|until|till|if|unless|once|whenever)$"
)
"""The end of words that what follows belongs to: "I need the mechanic to say that again" is no command."""
_BACK_TO = Lazy(
    r"^(?:(?:ok|okay|right|alright|so|and|now|well|yeah|good|great|anyway|then|let's|lets) )*(?:get |go )?back (?:to|onto|on with) (?:the|that|this|my|our) \w+$"
)
"""Goes on with what it names, and asks nobody to wait: "right, back to the loading"."""
_A_STOP = Lazy(
    r"\b(?:truck|rest|bus|pit|fuel|gas|next|last|first|food|lunch|coffee|dinner|short|long|every|each|which|another|service|scheduled|unscheduled|overnight)$"
)
"""Before "stop" these make it a place."""
_LEANS = re.compile(r"^(?:is|was|are|were|be|been|again|once|one|to|for|of|with|from|by)\b")
_MINUTES = re.compile(r"\b(?:one|two|three|four|five|ten|\d{1,2}|half) (?=min|sec|mo)")
_FIGURES = re.compile(r"\d")
"""A figure that no wording has is no slip of the recogniser: "scratch that, 45" tells a reading."""
_OPENING_WORDS = {"pause": 16, "resume": 10, "why": 9, "done-when": 12}


_LEAD = re.compile(
    r"^(?:(?:anyway|anyhow|righto|alrighty|ok|okay|alright|right|so|well|now|then|back to business) )+(?=\w)"
)


_TWICE = Lazy(r"^(?!\d)([a-z]+)(?: \1)+$")
"""One word said more than once: "next next"."""


def _number(word: str) -> int:
    if word.isdigit():
        return int(word)
    tens, _, unit = word.replace("-", " ").partition(" ")
    return _TENS[tens] + (_NUMBERS[unit] if unit else 0) if tens in _TENS else _NUMBERS[word]


@dataclass(frozen=True)
class Steer:
    """A command: what, and the number said with it."""

    verb: str
    number: int | None = None
    sure: float = 1.0


class Steering:
    """Finds commands. Built from the wordings by verb."""

    def __init__(self, wordings: Mapping[str, Sequence[str]]) -> None:
        self._exact: dict[str, str] = {}
        self._numbered: dict[str, str] = {}
        for verb, phrases in wordings.items():
            for phrase in phrases:
                target = self._numbered if "{n}" in phrase else self._exact
                target.setdefault(plain(phrase.replace("{n}", "number")), verb)
        self.verbs = frozenset(wordings)

    def find(self, text: str) -> Steer | None:
        """The command in a text, or None. Texts of more than a few words are rarely one."""
        text = _TWICE.sub(r"\1", plain(text)) if _TWICE.match(plain(text)) else text
        forms = list(dict.fromkeys([plain(text), bare(text), without_politeness(text), _LEAD.sub("", plain(text))]))
        for form in forms:
            if form in self._exact:
                return Steer(self._exact[form])
        for form in forms:
            found = self._with_number(form)
            if found:
                return found
        for form in forms:
            if verb := family(form):
                return Steer(verb, sure=0.9)
        for form in forms:
            if put_together := by_words(form):
                return Steer(*put_together, sure=BY_WORDS)
        for form in forms:
            for verb, opening in _OPENINGS.items():
                begun = opening.match(form)
                if begun is None or len(form.split()) > _OPENING_WORDS[verb]:
                    continue
                if verb != "pause" or not _MORE.search(form[begun.end() :]) and not tells(form):
                    return Steer(verb, sure=0.8)
        if any(called_away(form) for form in forms):
            return Steer("pause", sure=0.9)
        for form in forms:
            if excused := self._excused(form):
                return excused
        return _slip(forms[-1]) or self._fuzzy(forms[-1])

    def _excused(self, form: str) -> Steer | None:
        """A command that holds the walk or goes back, with a reason beside it: "go back one, I was on the phone"."""
        if _CUT_SHORT.match(form) and not tells(_CALM.sub(" ", form)):
            return Steer("stop", sure=BY_WORDS)
        if tells(_MINUTES.sub(" ", form)) or _OTHERS.search(form) or _BACK_TO.match(form):
            return None
        words = form.split()
        if not beyond(form):
            return None  # all small words: `by_words` has seen that it is no command
        for at in range(2, min(len(words) - 1, LONGEST_REASON)):
            before, after = " ".join(words[:at]), " ".join(words[at:])
            verb = family(before) or (by_words(before) or ("",))[0]
            if verb in _HELD_OR_ANEW and (verb == "pause" or _REASON.match(after)):
                return Steer(verb, sure=BY_WORDS)
            verb = family(after) or (by_words(after) or ("",))[0]
            if (
                verb in _HOLDS
                and len(after.split()) > 1
                and not _MORE.match(f" {before}")
                and not _GOES_ON.search(form[: len(before)])
                and not _LEANS.match(after)
                and not (after.startswith("stop") and _A_STOP.search(before))
            ):
                return Steer(verb, sure=BY_WORDS)
        return None

    def _with_number(self, form: str) -> Steer | None:
        for match in _NUMBER.finditer(form):
            shape = form[: match.start()] + "number" + form[match.end() :]
            verb = self._numbered.get(shape)
            if verb:
                return Steer(verb, _number(match.group(1)))
        return None

    def _fuzzy(self, form: str) -> Steer | None:
        from rapidfuzz import fuzz, process

        if len(form) < 5 or len(form.split()) > MAX_WORDS or _FIGURES.search(form):
            return None
        found = process.extractOne(form, self._exact.keys(), scorer=fuzz.ratio, score_cutoff=FUZZY_SCORE)
        if found is None or abs(len(found[0]) - len(form)) > 3:
            return None
        if set(_THINGS.findall(form)) - set(found[0].split()):
            return None  # "the waste one" is not "the last one" misheard
        return Steer(self._exact[found[0]], sure=found[1] / 100)


_THINGS = Lazy(r"\b(?:waste|fresh|water|propane|gas|tank|heat|hose|tape|post|cord|bay|tire|lamp|light)\b")
_COMMANDS = {"next": "next", "back": "back", "stop": "stop", "skip": "skip", "undo": "undo", "again": "repeat", "pause": "pause", "repeat": "repeat", "resume": "resume", "continue": "next", "cancel": "stop"}  # fmt: skip
"""Commands of one word, of which a slip of thumb or ear is still one."""
_NEARLY = re.compile(r"^(?:nex[a-z]{0,3}|text(?:ed|s))$")


def _slip(form: str) -> Steer | None:
    """A command of one word with two letters swapped, or one wrong in a long one: "bakc", "repaet"."""
    if len(form) < 4 or not form.isalpha():
        return None
    if _NEARLY.match(form):
        return Steer("next", sure=BY_WORDS)
    from rapidfuzz.distance import OSA

    for word, verb in _COMMANDS.items():
        if form[0] == word[0] and OSA.distance(form, word, score_cutoff=1) == 1:
            swapped = sorted(form) == sorted(word)
            if swapped or (len(word) > 4 and len(form) >= len(word) and form not in _OTHER_WORDS):
                return Steer(verb, sure=BY_WORDS)
    return None


_OTHER_WORDS = frozenset({"repeal", "paused", "against", "cancer"})
