"""The pocketsphinx engine: always there, as its English model comes inside its package.

Its first search expects what the knowledge says (see `domain`) and listens while the driver speaks. When that explains
the sound hardly better than plain English does, the second, wide search says so, and offers what it heard. A third one
looks for the few hazard phrases that can be spotted without false alarms.

pocketsphinx holds the interpreter's lock while it decodes, so it runs in a child process (see `worker`).
"""

from __future__ import annotations

import math
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cabassist.errors import VoiceUnavailable
from cabassist.voice.heard import Alternative, Hypothesis, nothing_heard
from cabassist.voice.language_files import LanguageFiles

NAME = "pocketsphinx"
_DOMAIN, _WIDE, _SPOT = "_default", "wide", "spot"
_LOG_BASE = math.log(1.0001)
_TINIEST = 1e-300
_KEEP = 5
"""Alternatives asked for."""
_SURE_MARGIN = 4.0
_UNSURE_MARGIN = -4.0
"""Log score a frame by which the narrow search must win, or may lose, to be fully sure or not sure at all."""

HAZARD_PHRASES = (
    "i smell gas", "smells of gas", "smell propane", "smells like gas", "rotten eggs", "carbon monoxide", "propane alarm",
    "smell of burning", "burning plastic", "smells like burning", "bus is on fire", "coach is on fire", "smoke coming from",
)  # fmt: skip
"""Only phrases of many sounds: short ones such as "fire" are spotted everywhere."""
_SPOT_THRESHOLD = 1e-15


@dataclass(frozen=True)
class BundledModel:
    """The English model inside the pocketsphinx package."""

    acoustic: Path
    dictionary: Path
    wide: Path


def bundled_model() -> BundledModel:
    """Where the model is. Raises VoiceUnavailable when pocketsphinx or its model is not installed."""
    try:
        import pocketsphinx
    except ImportError:
        raise VoiceUnavailable("pocketsphinx is not installed. Install cabassist again, or type instead.") from None
    folder = Path(pocketsphinx.get_model_path()) / "en-us"
    found = BundledModel(folder / "en-us", folder / "cmudict-en-us.dict", folder / "en-us.lm.bin")
    if not (found.acoustic.is_dir() and found.dictionary.is_file() and found.wide.is_file()):
        raise VoiceUnavailable(f"The model of pocketsphinx is missing from {folder}. Install pocketsphinx again.")
    return found


class Pocketsphinx:
    """Hears with the language model made from the knowledge; without one, with plain English only."""

    name = NAME

    def __init__(self, files: LanguageFiles | None, *, second_pass: bool = True) -> None:
        """Load the models, which takes about two seconds. Raises VoiceUnavailable when they cannot be used."""
        import pocketsphinx

        bundled = bundled_model()
        self._narrow = files is not None
        model, dictionary = (files.model, files.dictionary) if files else (bundled.wide, bundled.dictionary)
        try:
            self._decoder: Any = pocketsphinx.Decoder(
                hmm=str(bundled.acoustic), dict=str(dictionary), lm=str(model), loglevel="FATAL"
            )
        except RuntimeError:
            raise VoiceUnavailable(f"The language model {model} cannot be used. Delete it and start again.") from None
        self._wide: Any = None
        self._second_pass = second_pass and self._narrow
        self._bundled = bundled
        self._sentences: frozenset[str] = frozenset()
        if files is not None:
            self._sentences = frozenset(files.sentences.read_text(encoding="utf-8").splitlines())
            self._add_spotting(HAZARD_PHRASES)
        self._kept = bytearray()
        self._started = False
        self._partial = ""

    def _add_spotting(self, phrases: Sequence[str]) -> None:
        usable = [p for p in phrases if all(self._decoder.lookup_word(word) for word in p.split())]
        with tempfile.TemporaryDirectory() as folder:
            listed = Path(folder) / "phrases"
            listed.write_text("".join(f"{p} /{_SPOT_THRESHOLD}/\n" for p in usable), encoding="utf-8")
            self._decoder.add_kws(_SPOT, str(listed))

    def accept(self, block: bytes) -> Hypothesis | None:
        """Take a block of sound."""
        if not block:
            return None
        if not self._started:
            self._decoder.activate_search(_DOMAIN)
            self._decoder.start_utt()
            self._started = True
        self._kept += block
        self._decoder.process_raw(block)
        found = self._decoder.hyp()
        text = _words(found.hypstr) if found else ""
        if text == self._partial:
            return None
        self._partial = text
        return Hypothesis(text, 0.0, NAME, final=False)

    def finish(self) -> Hypothesis:
        """The final hypothesis."""
        if not self._started:
            return nothing_heard(NAME)
        pcm = bytes(self._kept)
        self._decoder.end_utt()
        self._started = False
        first = self._decoder.hyp()
        score = _score(first) if first else -math.inf
        frames = max(1, self._decoder.n_frames())
        others = self._alternatives(first)
        self.reset()
        if first is None or not first.hypstr:
            return nothing_heard(NAME)
        text = _words(first.hypstr)
        fit, expected = score / frames, text in self._sentences
        if not self._narrow:
            return Hypothesis(text, _posterior(first), NAME, alternatives=tuple(others))
        spotted = self._spotted(pcm)
        margin = None
        if self._second_pass:
            wide_text, wide_score = self._heard_wide(pcm)
            if wide_text:
                margin = (score - wide_score) / frames
                others.append(Alternative(wide_text, _sureness(-margin)))
        confidence = _sureness(margin) if margin is not None else _posterior(first)
        alternatives = tuple(a for a in others if a.text and a.text != text)
        return Hypothesis(
            text,
            confidence,
            NAME,
            alternatives=alternatives,
            margin=margin,
            fit=fit,
            expected=expected,
            spotted=spotted,
        )

    def _alternatives(self, first: Any) -> list[Alternative]:
        if first is None:
            return []
        found: dict[str, Alternative] = {}
        for other, _ in zip(self._decoder.nbest() or (), range(_KEEP * 3), strict=False):
            text = _words(other.hypstr) if other is not None and other.hypstr else ""
            if text and text != _words(first.hypstr):
                found.setdefault(text, Alternative(text, 0.3))
            if len(found) >= _KEEP:
                break
        return list(found.values())

    def _heard_wide(self, pcm: bytes) -> tuple[str, float]:
        """What plain English makes of the same sound, and its score."""
        if self._wide is None:
            import pocketsphinx

            # Narrower beams: the score of this search is wanted more than its words, and it is the slowest of all.
            self._wide = pocketsphinx.Decoder(
                hmm=str(self._bundled.acoustic),
                dict=str(self._bundled.dictionary),
                lm=str(self._bundled.wide),
                fwdflat=False,
                loglevel="FATAL",
            )
        found = _whole(self._wide, pcm)
        return (_words(found.hypstr), _score(found)) if found is not None and found.hypstr else ("", 0.0)

    def _spotted(self, pcm: bytes) -> tuple[str, ...]:
        self._decoder.activate_search(_SPOT)
        found = _whole(self._decoder, pcm)
        self._decoder.activate_search(_DOMAIN)
        if found is None or not found.hypstr:
            return ()
        return tuple(phrase for phrase in HAZARD_PHRASES if phrase in " ".join(found.hypstr.split()))

    def reset(self) -> None:
        """Forget the utterance in hand."""
        if self._started:
            self._decoder.end_utt()
        self._kept = bytearray()
        self._started = False
        self._partial = ""

    def close(self) -> None:
        """Free the models."""
        self._decoder = self._wide = None


def _whole(decoder: Any, pcm: bytes) -> Any:
    decoder.start_utt()
    decoder.process_raw(pcm, full_utt=True)
    decoder.end_utt()
    return decoder.hyp()


def _words(text: str) -> str:
    """A hypothesis without silences, noises and the numbers of alternative pronunciations."""
    kept = (word.partition("(")[0] for word in text.split() if word[0] not in "<[+")
    return " ".join(word for word in kept if word)


def _score(found: Any) -> float:
    """Log score of a hypothesis; what the decoder gives is its base 1.0001 power."""
    return math.log(max(found.score, _TINIEST)) / _LOG_BASE


def _posterior(found: Any) -> float:
    """Probability of a hypothesis among all that were considered, 0 to 1."""
    return float(min(1.0, max(0.0, found.prob)))


def _sureness(margin: float) -> float:
    return min(1.0, max(0.0, (margin - _UNSURE_MARGIN) / (_SURE_MARGIN - _UNSURE_MARGIN)))
