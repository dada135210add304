"""Which words of an utterance speak about the present state, so that an amount among them is a reading.

Questions, plans, conditions, the past, what was poured in and what something holds are not. The signs are data
(`knowledge/reading-terms.yaml`); this module only decides how far each sign reaches.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from cabassist.language.reading_parts import Reader, Subject

CLAUSE_ENDS = frozenset({",", ".", ";", "?", "!", "…", "(", ")", "—", "–", "but"})
SAYS = frozenset({"is", "are", "reads", "shows", "has", "says", "reading", "showing"})
UNSETTLED = frozenset({"sure", "that", "hope", "hoping", "if", "when", "until", "till", "see", "check", "checking", "think", "whether", "because", "once",
    "before", "after", "while", "than", "max", "maximum", "usual", "normal", "average", "what", "how", "where", "why", "which", "is", "are", "does", "do", "will", "would", "should", "can", "could"})  # fmt: skip
"""Words that bind the statement behind them to what stands before."""
PAST = re.compile(r"^(?:was|were|had|earlier|had been|started.*)$")


def spoken_of_now(reader: Reader, subjects: Sequence[Subject], start: int = 0) -> list[bool]:
    """For each word, whether an amount there tells the present state; words before `start` are left out of account."""
    texts = reader.texts
    now = [True] * len(texts)
    signs = reader.vocabulary.signs
    whole = " ".join(texts[start:])
    recorded = signs.record.search(whole) is not None
    if signs.everything.search(whole) and not (recorded and signs.record.match(whole)):
        return [False] * len(texts)
    for begin, end in _clauses(texts, start):
        _judge(reader, subjects, begin, end, now, recorded)
    return now


def _clauses(texts: Sequence[str], start: int) -> list[tuple[int, int]]:
    cuts = [i for i in range(start, len(texts)) if texts[i] in CLAUSE_ENDS]
    edges = [start - 1, *cuts, len(texts)]
    return [(a + 1, b) for a, b in zip(edges, edges[1:], strict=False) if b > a + 1]


def _judge(reader: Reader, subjects: Sequence[Subject], begin: int, end: int, now: list[bool], recorded: bool) -> None:
    signs = reader.vocabulary.signs
    words = _masked(reader, begin, end)
    text = " ".join(words)
    present = signs.present.search(text)
    if present:
        text = text[: present.start()] + re.sub(r"\S", "~", present.group()) + text[present.end() :]
    places: list[int] = []
    at = 0
    for word in words:
        places.append(at)
        at += len(word) + 1

    def index(character: int) -> int:
        return begin + max(k for k, place in enumerate(places) if place <= character)

    rest = signs.rest.search(text)
    if rest and recorded and rest.start() < 12:
        # "can you put down ..." asks to record, not to know.
        rest = None
    if rest:
        first = index(rest.start())
        for i in range(first, end):
            now[i] = False
    asked = end < len(reader.texts) and reader.texts[end] == "?" and not rest
    if not recorded and (asked or signs.clause.search(text)):
        for i in range(begin, end):
            now[i] = False
        return
    cuts = [begin, *_statements(reader, subjects, begin, end), end]
    for a, b in zip(cuts, cuts[1:], strict=False):
        part = text[places[a - begin] : places[b - begin] if b < end else None].strip()
        found = signs.part.search(part)
        if found and not (present and PAST.match(found.group())) and not (recorded and a == begin and signs.record.search(part)):
            for i in range(a, b):
                now[i] = False


def _masked(reader: Reader, begin: int, end: int) -> list[str]:
    """The words of a clause, with phrases hidden that only make it vague: "i would say", "must be"."""
    words = list(reader.texts[begin:end])
    i = begin
    while i < end:
        found = reader.vocabulary.sentence_hedges.at(reader.texts, i) or reader.vocabulary.hedges.at(reader.texts, i)
        # Single words such as "about" stay: "about to" is a plan.
        long_enough = found is not None and (found[0] > i + 1 or reader.vocabulary.sentence_hedges.at(reader.texts, i) is not None)
        stop = min(found[0], end) if found and long_enough else 0
        for k in range(i, stop):
            words[k - begin] = "~"
        i = max(stop, i + 1)
    return words


def _statements(reader: Reader, subjects: Sequence[Subject], begin: int, end: int) -> list[int]:
    """Where plain statements begin inside a clause: "we need to dump | the waste is at ninety"."""
    cuts: list[int] = []
    texts = reader.texts
    for subject in subjects:
        at = subject.start
        if not begin < at < end or subject.what == "elsewhere":
            continue
        if reader.text(at - 1) in ("the", "my", "our"):
            at -= 1
        says = reader.text(subject.end) in SAYS or reader.words[subject.end - 1].owner
        if says and at > begin and texts[at - 1] not in UNSETTLED and _amount_soon(reader, subject.end, end):
            cuts.append(at)
    for i in range(begin + 1, end):
        if texts[i] in ("it", "now") and texts[i - 1] not in UNSETTLED and (reader.words[i].owner or reader.text(i + 1) in ("is", "it", "at")):
            if _amount_soon(reader, i + 1, end):
                cuts.append(i)
    return sorted(set(cuts))


def _amount_soon(reader: Reader, start: int, end: int) -> bool:
    return any(reader.taken[i] for i in range(start, min(start + 5, end)))
