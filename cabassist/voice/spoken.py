"""What is said of a reply: cautions first, one step at a time, short when the coach rolls."""

from __future__ import annotations

import re
from typing import Literal

from cabassist.dialogue.rolling import MAX_WORDS, MORE, SPOKEN_S
from cabassist.dialogue.types import Reply
from cabassist.voice.words import in_words, measured_in

Pace = Literal["full", "short"]
"""`full` says the whole short form; `short` says the first sentence of what only informs and carries no caution."""

_LETTER_S, _STOP_S = 0.083, 0.43
"""What a letter and a stop take at 150 words a minute. Fitted to espeak-ng on what the demo coach says, rounded up so
that none of it takes longer than is reckoned; numbers are long words, and thirty of them may take fourteen seconds."""
TOO_LONG = "That takes longer to say. Ask again when parked."
NO_NUMBER = "There is no number in that."
SPELLED_WORDS = 4
"""A text up to this long is spelled whole; of a longer one only numbers and ids are."""

_SIGNAL = re.compile(r"^(DANGER|WARNING|CAUTION|NOTICE): (.+)$")
_SIGNALS = frozenset({"Danger.", "Warning.", "Caution.", "Notice."})
_SENTENCE = re.compile(r"(?<=[.!?]) +")
_ITEM = re.compile(r"(?<=[.!?;]) +")
_KEPT_WHOLE = frozenset({"procedure", "step", "hazard", "clarify"})


def for_ear(reply: Reply, *, pace: Pace = "full", rolling: bool = False) -> str:
    """What to say of a reply, in words and punctuation only.

    Cautions come first, each with its signal word, and nothing they belong to is said without them. With `rolling` it
    has at most `MAX_WORDS` words and takes at most `SPOKEN_S` at the usual pace: whole sentences in their order,
    and a word that there is more. A sentence is never cut, as half of one may mean the opposite.
    """
    sentences = _sentences(reply)
    if pace == "short" and reply.kind not in _KEPT_WHOLE and not any(map(_is_caution, sentences)):
        sentences = sentences[:1]
    said = " ".join(sentences)
    if not rolling or _fits(said):
        return said
    kept: list[str] = []
    for sentence in sentences:
        if not _fits(" ".join([*kept, sentence, MORE])):
            break
        kept.append(sentence)
    if kept:
        return " ".join([*kept, MORE]).replace("; " + MORE, ". " + MORE)
    figure = just_number(reply) if reply.estimate is not None else NO_NUMBER
    return f"{figure}. {MORE}" if figure != NO_NUMBER and _fits(figure) else TOO_LONG


def just_number(reply: Reply) -> str:
    """The number of a reply with its unit, in words; `NO_NUMBER` when it has none, or several that are not its result."""
    from cabassist.sums.working_words import number_said

    if reply.estimate is not None:
        if reply.estimate.value is None:
            return NO_NUMBER
        return in_words(number_said(reply.estimate.value, reply.estimate.unit))
    for reading in reversed(reply.readings):
        if reading.value is not None:
            share = reading.unit == "fraction"
            value, unit = (100 * reading.value, "percent") if share else (reading.value, reading.unit or "")
            return in_words(number_said(value, unit))
    found = measured_in(reply.say)
    return in_words(found[0]) if len(set(found)) == 1 else NO_NUMBER


def spelled(text: str) -> str:
    """A text letter by letter and digit by digit: "TW 38.5" is "T, W. three, eight, point, five."

    Of more than `SPELLED_WORDS` words only what holds a digit or is written in capitals is spelled, the rest is said.
    """
    words = text.split()
    whole = len(words) <= SPELLED_WORDS
    parts: list[str] = []
    plain: list[str] = []
    for word in words:
        bare = re.sub(r"^\W+(?=\w)|[^\w%]+$", "", word) if not re.match(r"-\d", word) else word.rstrip(".,;:?!")
        if whole or re.search(r"\d", bare) or re.fullmatch(r"[A-Z]{2,}", bare):
            parts += [in_words(" ".join(plain)), ", ".join(filter(None, map(_character, bare)))]
            plain = []
        else:
            plain.append(word)
    parts.append(in_words(" ".join(plain)))
    return " ".join(part if part[-1] in ".?!" else f"{part}." for part in parts if part)


def _character(one: str) -> str:
    if one == ".":
        return "point"
    if one == "-":
        return "dash"
    if one == "/":
        return "slash"
    return in_words(one.upper())


def _sentences(reply: Reply) -> list[str]:
    """The sentences of a reply in words, in the order in which they are said; a signal word stands with its sentence."""
    rest = reply.say
    first: list[str] = []
    if reply.kind == "hazard":
        first.append("Danger." if not rest.startswith("Danger.") else "")
    for line in reply.show:
        found = _SIGNAL.match(line)
        if found is None:
            continue
        signal, text = found.groups()
        for written in (f"{signal.capitalize()}. {text}", f"{signal}: {text}"):
            if written in rest:
                first.append(f"{signal.capitalize()}. {text}")
                rest = rest.replace(written, " ", 1)
                break
    split = _ITEM if reply.kind == "clarify" else _SENTENCE
    said = in_words(" ".join(filter(None, [*first, rest])))
    joined: list[str] = []
    for sentence in split.split(said):
        if joined and joined[-1] in _SIGNALS:
            joined[-1] += f" {sentence}"
        elif sentence:
            joined.append(sentence)
    return joined


def _is_caution(sentence: str) -> bool:
    return sentence.split(" ", 1)[0] in _SIGNALS


def _fits(text: str) -> bool:
    seconds = _LETTER_S * sum(c.isalpha() for c in text) + _STOP_S * sum(c in ".?!,;:" for c in text)
    return len(text.split()) <= MAX_WORDS and seconds <= SPOKEN_S
