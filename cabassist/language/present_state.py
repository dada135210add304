"""Which words of an utterance speak about the present state, so that an amount among them is a reading.

Questions, plans, conditions, the past, what was poured in and what something holds are not. The signs are data
(`knowledge/reading-terms.yaml`); this module only decides how far each sign reaches.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate, pairwise

from cabassist.language.lazy import Lazy
from cabassist.language.reading_parts import Reader, Subject

CLAUSE_ENDS = frozenset({",", ".", ";", "?", "!", "…", "(", ")", "—", "–", "but"})
SAYS = frozenset({"is", "are", "reads", "shows", "has", "says", "reading", "showing"})
UNSETTLED = frozenset({"sure", "that", "hope", "hoping", "if", "when", "until", "till", "see", "check", "checking", "think", "whether", "because", "once",
    "before", "after", "while", "than", "max", "maximum", "usual", "normal", "average", "what", "how", "where", "why", "which", "is", "are", "does", "do", "will", "would", "should", "can", "could"})  # fmt: skip
"""Words that bind the statement behind them to what stands before."""
POLITE = 12
"""A question that begins this early may be a polite way to have something noted: "can you put down ..."."""
PAST = re.compile(r"^(?:was|were|had|earlier|had been|started.*|holds|carries)$")
"""Words that tell of the present all the same when "just now" or "at present" stands by."""

_WAS = re.compile(r"\b(?:was|were)\b")
_ASIDE = Lazy(
    r"\b(?:by the way|btw|at noon|fyi|(?:coming|pulling|driving|rolling) in(?: here)?|on (?:arrival|the way in)|(?:as|when) (?:i|we) (?:came|pulled|rolled|drove) in|for what it is worth|in case you wondered)\b"
)
"""Words that leave what was seen as good as new."""
_LONG_PAST = re.compile(
    r"\b(?:used to|when|then|before|after|until|till|once|today|tonight|now|still|already|again|started|first|last|ago|morning|but|not|only|yet|so)\b|^(?:it|that|there)\b"
)
"""Words that put what was seen into another time than this one, or leave open what it was seen of."""


def spoken_of_now(reader: Reader, subjects: Sequence[Subject], start: int = 0) -> list[bool]:
    """For each word, whether an amount there tells the present state; words before `start` are left out of account."""
    texts = reader.texts
    now = [True] * len(texts)
    signs = reader.vocabulary.signs
    whole = " ".join(texts[start:])
    recorded = signs.record.search(whole) is not None
    if signs.everything.search(whole) and not (recorded and signs.record.match(whole)):
        return [False] * len(texts)
    since = _since(reader, subjects, start, len(texts)) if not signs.rest.match(whole) else len(texts)
    for begin, end in _clauses(texts, start):
        if begin < since < end:
            asks_not = reader.text(since + 1) in ("is", "are")  # "and is now at half"
            _judge(reader, subjects, since + 1 + asks_not, end, now, recorded)
        _judge(reader, subjects, begin, min(end, since) if begin < since else end, now, recorded)
    if since < len(texts):
        _pass_over(reader, subjects, start, since, now)
    return now


def _pass_over(reader: Reader, subjects: Sequence[Subject], start: int, since: int, now: list[bool]) -> None:
    """Leave out what was once, from behind its name to where what is told of now begins, with all that is named in it."""
    was = next(i for i in range(start, since) if _WAS.fullmatch(reader.text(i)))
    now[was:since] = [False] * (since - was)
    first = next((subject.end for subject in subjects if subject.what != "elsewhere"), was)
    reader.take(first if first <= since else was, since + 1)


def _clauses(texts: Sequence[str], start: int) -> list[tuple[int, int]]:
    cuts = [i for i in range(start, len(texts)) if texts[i] in CLAUSE_ENDS]
    edges = [start - 1, *cuts, len(texts)]
    return [(a + 1, b) for a, b in pairwise(edges) if b > a + 1]


def _judge(reader: Reader, subjects: Sequence[Subject], begin: int, end: int, now: list[bool], recorded: bool) -> None:
    """Mark the words of one clause that do not tell the present state."""
    signs = reader.vocabulary.signs
    words = _masked(reader, begin, end)
    starts = list(accumulate((len(word) + 1 for word in words), initial=0))
    text = " ".join(words)
    present = signs.present.search(text)
    if present:
        text = text[: present.start()] + re.sub(r"\S", "~", present.group()) + text[present.end() :]
    rest = signs.rest.search(text)
    if rest and not (recorded and rest.start() < POLITE):
        first = begin + bisect_right(starts, rest.start()) - 1
        now[first:end] = [False] * (end - first)
    asked = reader.text(end) == "?" and not rest
    if not recorded and (asked or signs.clause.search(text)):
        now[begin:end] = [False] * (end - begin)
        return
    for a, b in pairwise([begin, *_statements(reader, subjects, begin, end), end]):
        part = text[starts[a - begin] : starts[b - begin]].strip()
        found = signs.part.search(part)
        noted = recorded and a == begin and signs.record.search(part)
        looked = found and not (asked or present) and _just_looked(reader, subjects, part)
        if found and not noted and not looked and not (present and PAST.match(found.group())):
            now[a:b] = [False] * (b - a)


def _since(reader: Reader, subjects: Sequence[Subject], begin: int, end: int) -> int:
    """Where what is told of now begins after what the same was once, or `end`: "it was nine below when I got up | and now it's four below"."""
    was = next((i for i in range(begin, end) if _WAS.fullmatch(reader.text(i))), end)
    for i in range(was + 1, end):
        if reader.text(i) not in _GOES_ON:
            continue
        amount = next((k for k in range(i + 1, min(i + _NEAR, end)) if reader.taken[k]), end)
        after = next((k for k in range(amount, end) if not reader.taken[k]), end)
        other = any(i < subject.start < end for subject in subjects)
        if (
            amount < end
            and not other
            and (
                "now" in reader.texts[i:amount] or reader.text(after) == "now" or _RAISED & set(reader.texts[i:amount])
            )
        ):
            return i
    return end


_RAISED = frozenset({"aired", "brought"})
"""What was raised since stands where it was raised to: "it was at seventy, aired it up to ninety five"."""
_GOES_ON = frozenset({"and", "but", ","})
_NEAR = 7
"""Words within which an amount follows "and now"."""


def _just_looked(reader: Reader, subjects: Sequence[Subject], part: str) -> bool:
    """Whether a text tells nothing but what was seen, and no time at which it was: "waste was at seven eighths by the way"."""
    plain = " ".join(_ASIDE.sub(" ", " ".join(reader.texts)).split())
    told = _WAS.search(plain)
    if told is None or _LONG_PAST.search(plain) or len(_WAS.findall(plain)) > 1:
        return False
    if reader.vocabulary.corrections.anywhere(reader.texts):
        return False  # "no wait, waste was nine" is read against what it corrects
    if not any(subject.start < reader.texts.index(told.group()) for subject in subjects):
        return False
    rest = _WAS.sub("is", " ".join(_ASIDE.sub(" ", part).split()))
    aside = _ASIDE.search(" ".join(reader.texts))
    return not reader.vocabulary.signs.part.search(rest) and reader.few_others(
        len(aside.group().split()) if aside else 0, subjects
    )


def _masked(reader: Reader, begin: int, end: int) -> list[str]:
    """The words of a clause, with phrases hidden that only make it vague: "i would say", "must be"."""
    words = list(reader.texts[begin:end])
    i = begin
    while i < end:
        stop = reader.vocabulary.sentence_hedges.end(reader.texts, i)
        longer = reader.vocabulary.hedges.end(reader.texts, i)
        # Single words such as "about" stay: "about to" is a plan.
        corrected = reader.vocabulary.corrections.end(reader.texts, i)
        stop = min(end, max(stop, longer if longer > i + 1 else 0, corrected if corrected > i + 2 else 0))
        for k in range(i, stop):
            words[k - begin] = "~"
        i = max(stop, i + 1)
    return words


def _statements(reader: Reader, subjects: Sequence[Subject], begin: int, end: int) -> list[int]:
    """Where plain statements begin inside a clause: "we need to dump | the waste is at ninety"."""
    cuts: set[int] = set()
    for subject in subjects:
        at = subject.start - (reader.text(subject.start - 1) in ("the", "my", "our"))
        says = reader.text(subject.end) in SAYS or reader.words[subject.end - 1].owner
        if (
            begin < at
            and subject.end < end
            and says
            and subject.what != "elsewhere"
            and _is_free(reader, at, subject.end, end)
        ):
            cuts.add(at)
    for i in range(begin + 1, end):
        says = reader.words[i].owner or reader.text(i + 1) in ("is", "it", "at")
        if reader.text(i) in ("it", "now") and says and _is_free(reader, i, i + 1, end):
            cuts.add(i)
    return sorted(cuts)


def _is_free(reader: Reader, at: int, after: int, end: int) -> bool:
    """Whether a statement at a place is bound to nothing before it, and an amount follows soon."""
    return reader.text(at - 1) not in UNSETTLED and any(reader.taken[after : min(after + 5, end)])
