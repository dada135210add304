"""The pocketsphinx engine: always there, as its English model comes inside its package.

Three searches listen while the driver speaks, so that little is left to do at the end. One expects all that the knowledge
says (see `domain`); one expects plain English and tells, by how much worse it does, how sure the others are; one looks
for the few hazard phrases that can be spotted without false alarms. When the utterance has ended, a quick one goes over
it again, which expects commands, readings and hazards only and wins in noise; in the same decoder, as it hears better
with what that has learnt of the sound by then. Beside an engine that is tuned to the trade only the first and the third do.

pocketsphinx holds the interpreter's lock while it decodes, so it runs in a child process (see `worker`).
"""

from __future__ import annotations

import math
import mmap
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from cabassist.errors import FileProblem, VoiceUnavailable
from cabassist.files import write_whole
from cabassist.voice.heard import RATE, SAMPLE_BYTES, Alternative, Hypothesis, nothing_heard
from cabassist.voice.language_files import LanguageFiles

NAME = "pocketsphinx"
Beside = Literal["nothing", "open", "tuned"]
"""What hears besides: nothing, an engine for open questions, or one that is tuned to the trade."""
_DOMAIN, _CORE = "_default", "core"
_LOG_BASE = math.log(1.0001)
_TINIEST = 1e-300
_KEEP = 5
"""Alternatives asked for."""
_FIT_MIDDLE, _FIT_SLOPE = -41.0, 0.25
_MARGIN_MIDDLE, _MARGIN_SLOPE = 16.0, 0.2
"""Log scores a frame, of the search itself and by which it beats the hasty plain one, at which its words are as often
wrong as right, and how fast that changes."""
_ALONE_MIDDLE, _ALONE_SLOPE = -33.9, 0.178
"""The same where nothing searches for plain English and the first score must do."""
_SWIFT: dict[str, object] = {"fwdflat": False, "topn": 3, "maxwpf": 20, "maxhmmpf": 1200, "pl_window": 5}
"""Bounds for the searches of what is expected, when another engine hears too. In noise they cost a third of what the usual ones cost."""
_OVER_BELOW: dict[Beside, float] = {"nothing": math.inf, "open": 0.9, "tuned": 0.0}
"""How sure the words must be so that they are not gone over again, by what else hears. Beside an engine for open
questions it would change one in twelve, for the worse as often as for the better; one that is tuned hears better itself,
so that neither this search nor that of plain English is worth its time and memory."""
_HASTY: dict[str, object] = {
    "fwdflat": False,
    "bestpath": False,
    "ds": 3,
    "topn": 2,
    "maxwpf": 3,
    "maxhmmpf": 1500,
    "beam": 1e-30,
    "wbeam": 1e-18,
    "pbeam": 1e-30,
}
"""Beams for the search of plain English: its score is wanted, not its words. Ten times as fast as with the usual ones."""
_AT_ONCE = 2 * RATE * SAMPLE_BYTES
"""Bytes of sound a decoder is given at a time: with more, after it has gone over an utterance again, it crashes."""
_COMMON = 20_000
"""Words of plain English that are searched for: with all 130,000 its score is no better, and it takes 35 MB more."""

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

    def __init__(self, files: LanguageFiles | None, *, beside: Beside = "nothing") -> None:
        """Load the models, which takes about two seconds. `beside` another engine it hears a little worse in less time.

        Raises VoiceUnavailable when they cannot be used.
        """
        bundled = bundled_model()
        model, dictionary = (files.model, files.dictionary) if files else (bundled.wide, bundled.dictionary)
        self._plain = self._spot = None
        self._sentences: mmap.mmap | None = None
        try:
            if files is None:
                self._domain: Any = _decoder(bundled, dictionary, lm=str(model))
            else:
                self._domain = _decoder(bundled, dictionary, lm=str(model), **({} if beside == "nothing" else _SWIFT))
                if beside != "tuned":
                    self._domain.add_lm_file(_CORE, str(files.core))
                    common = _common(bundled, files.dictionary.parent)
                    self._plain = _decoder(bundled, common, lm=str(bundled.wide), **_HASTY)
                self._spot = self._spotting(bundled, dictionary)
                with files.sentences.open("rb") as sentences:
                    self._sentences = mmap.mmap(sentences.fileno(), 0, access=mmap.ACCESS_READ)
        except (RuntimeError, ValueError, OSError):
            raise VoiceUnavailable(f"The language model {model} cannot be used. Delete it and start again.") from None
        self._over_below = _OVER_BELOW[beside]
        self._kept = bytearray()
        self._started = False
        self._partial = ""

    def _spotting(self, bundled: BundledModel, dictionary: Path) -> Any:
        usable = [p for p in HAZARD_PHRASES if all(self._domain.lookup_word(word) for word in p.split())]
        with tempfile.TemporaryDirectory() as folder:
            listed = Path(folder) / "phrases"
            listed.write_text("".join(f"{p} /{_SPOT_THRESHOLD}/\n" for p in usable), encoding="utf-8")
            # Any beam here misses "I smell gas"; scoring every second frame misses three in ten in noise.
            return _decoder(bundled, dictionary, kws=str(listed))

    @property
    def _listening(self) -> list[Any]:
        return [decoder for decoder in (self._domain, self._plain, self._spot) if decoder is not None]

    def accept(self, block: bytes) -> Hypothesis | None:
        """Take a block of sound."""
        if not block:
            return None
        self._kept += block
        for decoder in self._listening:
            if not self._started:
                decoder.start_utt()
            for begin in range(0, len(block), _AT_ONCE):
                decoder.process_raw(block[begin : begin + _AT_ONCE])
        self._started = True
        found = self._domain.hyp()
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
        self.reset()
        first = self._domain.hyp()
        if first is None or not first.hypstr:
            return nothing_heard(NAME)
        text = _words(first.hypstr)
        others = self._alternatives(first)
        if self._spot is None:
            return Hypothesis(text, _posterior(first), NAME, alternatives=tuple(others))
        frames = max(1, self._domain.n_frames())
        score = _score(first)
        spotted = self._spot.hyp()
        margin = self._margin(score) if self._plain is not None else None
        if margin is not None and sureness(score / frames, margin) < self._over_below:
            core = self._over(pcm)
            if core is not None and core.hypstr and _score(core) > score:
                others.insert(0, Alternative(text, 0.5))
                margin += (_score(core) - score) / frames
                text, score = _words(core.hypstr), _score(core)
        fit = score / frames
        return Hypothesis(
            text,
            sureness(fit, margin),
            NAME,
            alternatives=tuple(a for a in others if a.text and a.text != text),
            expected=self._sentences is not None and _is_line(self._sentences, text.encode()),
            spotted=_phrases(spotted.hypstr) if spotted is not None and spotted.hypstr else (),
        )

    def _margin(self, score: float) -> float:
        """By how much a frame this score beats plain English."""
        assert self._plain is not None
        plain = self._plain.hyp()
        return (score - _score(plain)) / max(1, self._domain.n_frames()) if plain is not None else 0.0

    def _alternatives(self, first: Any) -> list[Alternative]:
        if first is None:
            return []
        found: dict[str, Alternative] = {}
        for other, _ in zip(self._domain.nbest() or (), range(_KEEP * 3), strict=False):
            text = _words(other.hypstr) if other is not None and other.hypstr else ""
            if text and text != _words(first.hypstr):
                found.setdefault(text, Alternative(text, 0.3))
            if len(found) >= _KEEP:
                break
        return list(found.values())

    def _over(self, pcm: bytes) -> Any:
        """What the search of the core makes of the same sound."""
        self._domain.activate_search(_CORE)
        found = _whole(self._domain, pcm)
        self._domain.activate_search(_DOMAIN)
        return found

    def reset(self) -> None:
        """Forget the utterance in hand."""
        if self._started:
            for decoder in self._listening:
                decoder.end_utt()
        self._kept = bytearray()
        self._started = False
        self._partial = ""

    def close(self) -> None:
        """Free the models."""
        self._domain = self._plain = self._spot = None
        if self._sentences is not None:
            self._sentences.close()
            self._sentences = None


def _common(bundled: BundledModel, folder: Path) -> Path:
    """The part of the bundled dictionary that the commonest words are in, kept in this folder."""
    path = folder / f"common-{_COMMON}-{bundled.wide.stat().st_size}.words"
    if not path.is_file():
        from pocketsphinx import Config, LogMath, NGramModel

        model = NGramModel(Config(), LogMath(), str(bundled.wide))
        lines: dict[str, list[str]] = {}
        with bundled.dictionary.open(encoding="utf-8") as given:
            for line in given:
                lines.setdefault(line.split(maxsplit=1)[0].partition("(")[0], []).append(line)
        words = sorted(lines, key=lambda word: -model.prob([word]))[:_COMMON]
        try:
            write_whole(path, "".join(line for word in words for line in lines[word]))
        except FileProblem:
            return bundled.dictionary
    return path


def _is_line(data: mmap.mmap, text: bytes) -> bool:
    return data[: len(text) + 1] == text + b"\n" or data.find(b"\n" + text + b"\n") >= 0


def _whole(decoder: Any, pcm: bytes) -> Any:
    decoder.start_utt()
    decoder.process_raw(pcm, full_utt=True)
    decoder.end_utt()
    return decoder.hyp()


def _decoder(bundled: BundledModel, dictionary: Path, **given: object) -> Any:
    import pocketsphinx

    return pocketsphinx.Decoder(hmm=str(bundled.acoustic), loglevel="FATAL", dict=str(dictionary), **given)


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


def _phrases(spotted: str) -> tuple[str, ...]:
    heard = " ".join(spotted.split())
    return tuple(phrase for phrase in HAZARD_PHRASES if phrase in heard)


def sureness(fit: float, margin: float | None) -> float:
    """How likely the words are right, 0 to 1, from log scores a frame; `margin` is None where it is not known."""
    if margin is None:
        z = _ALONE_SLOPE * (fit - _ALONE_MIDDLE)
    else:
        z = _FIT_SLOPE * (fit - _FIT_MIDDLE) + _MARGIN_SLOPE * (margin - _MARGIN_MIDDLE)
    return 1 / (1 + math.exp(-max(-30.0, min(30.0, z))))
