"""The faster-whisper engine: hears open questions that stand in no language model.

It takes any CTranslate2 folder of Whisper weights. It hears an utterance as a whole, so it gives no partials.

The weights were trained on windows of 30 s, and nine tenths of the work for a short utterance go into the silence behind
it. So the window here is as long as the utterance, though for weights as they come not shorter than `_AS_IT_COMES`: below that
they say an utterance over again until they are stopped. Tuned weights (see `tuning`) have learned to stop.
"""

from __future__ import annotations

import logging
import math
import re
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from cabassist.errors import VoiceUnavailable
from cabassist.language.normalise import plain
from cabassist.voice.heard import RATE, Alternative, Hypothesis, nothing_heard, seconds
from cabassist.voice.sound import as_floats
from cabassist.voice.words import in_words

NAME = "whisper"
PROMPT = (
    "Coach driver: waste tank, fresh water, dump valve, sewer hose, propane cylinder, furnace, shore power, generator, "
    "house battery, bay latch, heat tape, gelled diesel, torque wrench. Waste is at forty percent. Next step."
)
"""Words of the trade said beforehand, which leans the engine towards them."""
_LONGEST = 29.0
"""Seconds that fit its window; the rest of a longer utterance is left to the other engines."""


class _Window(NamedTuple):
    """What an utterance is given to the engine in, seconds."""

    least: float
    """Sound and silence together."""
    before: float
    """Silence before the utterance."""
    after: float


_AS_IT_COMES = _Window(6.0, 0.3, 0.5)
"""For weights as they come: 6 s cost an eighth of what 30 s cost and are heard as well."""
_TUNED = _Window(1.0, 0.2, 0.3)
"""For weights that were tuned on short windows."""
_BEAM = 4
"""Hypotheses followed at once, and given as alternatives; in noise the first alone is wrong a sixth more often."""
_TOKENS, _TOKENS_A_SECOND = 10, 6.5
"""Most tokens of an answer: what nobody says so fast is the same words over again."""
_WORTHLESS = 0.3
"""Average probability of the tokens that it gives to sound without words."""
_NO_SPEECH, _NO_WORDS = 0.7, -1.0
"""Probability that nobody spoke, and average log probability, beyond which it is taken at its word."""
_LEAST_SPEECH = 0.25


class Whisper:
    """Whisper weights in CTranslate2 form, on one thread of their own."""

    name = NAME

    def __init__(self, folder: Path, *, beam: int = _BEAM, prompt: str = PROMPT, tuned: bool = False) -> None:
        """Load the weights, in half a second; tuned ones are told no prompt.

        Raises VoiceUnavailable when the folder or the package is not usable.
        """
        try:
            from faster_whisper import WhisperModel
        except (ImportError, OSError):
            raise VoiceUnavailable(
                "faster-whisper is not installed. Install it with: pip install 'cabassist[voice-open]'"
            ) from None
        logging.getLogger("faster_whisper").setLevel(logging.WARNING)
        try:
            self._model: Any = WhisperModel(
                str(folder), device="cpu", compute_type="int8", cpu_threads=1, num_workers=1, local_files_only=True
            )
        except (RuntimeError, ValueError, OSError) as error:
            reason = " ".join(str(error).split())[:120]
            raise VoiceUnavailable(
                f"The Whisper model in {folder} cannot be used ({reason}). Give a CTranslate2 model folder."
            ) from None
        self._beam = beam
        self.tuned = tuned
        self._prompt = "" if tuned else prompt
        self._opening = self._tokens(self._prompt)
        self._window = _TUNED if tuned else _AS_IT_COMES
        self._kept = bytearray()
        self._working: Any = None

    def _tokens(self, prompt: str) -> list[int]:
        """What the decoder is told to have written before the utterance."""
        tokens = self._model.hf_tokenizer
        before = tokens.encode(f" {prompt}", add_special_tokens=False).ids if prompt else []
        language = ["<|en|>", "<|transcribe|>"] if self._model.model.is_multilingual else []
        opening = ["<|startoftranscript|>", *language, "<|notimestamps|>"]
        lead = [tokens.token_to_id("<|startofprev|>"), *before] if before else []
        return [*lead, *(tokens.token_to_id(name) for name in opening)]

    def accept(self, block: bytes) -> None:
        """Take a block of sound; there are no partials."""
        self._kept += block

    def begin(self) -> None:
        """Begin to work on what was accepted, on a thread that does not hold the interpreter's lock."""
        pcm = bytes(self._kept)
        if seconds(pcm) < _LEAST_SPEECH:
            return
        samples = as_floats(pcm)[: int(_LONGEST * RATE)]
        window = self._window
        size = max(int(window.least * RATE), samples.size + int((window.before + window.after) * RATE))
        whole = np.zeros(min(size, int(_LONGEST * RATE)), np.float32)
        begin = min(int(window.before * RATE), whole.size - samples.size)
        whole[begin : begin + samples.size] = samples
        features = self._model.feature_extractor(whole, padding=0)
        features = np.ascontiguousarray(features[None, :, : features.shape[1] // 2 * 2])
        from ctranslate2 import StorageView

        (self._working,) = self._model.model.generate(
            StorageView.from_array(features),
            [self._opening],
            asynchronous=True,
            beam_size=self._beam,
            num_hypotheses=self._beam,
            max_length=len(self._opening) + _TOKENS + int(_TOKENS_A_SECOND * seconds(pcm)),
            return_scores=True,
            return_no_speech_prob=True,
        )

    def finish(self) -> Hypothesis:
        """The final hypothesis; `confidence` is the average probability of its tokens, less what noise gets too."""
        if self._working is None:
            self.begin()
        working = self._working
        self.reset()
        if working is None:
            return nothing_heard(NAME)
        found = working.result()
        if found.no_speech_prob > _NO_SPEECH and found.scores[0] < _NO_WORDS:
            return nothing_heard(NAME)
        told: dict[str, float] = {}
        chances: dict[str, float] = {}
        for ids, average in zip(found.sequences_ids, found.scores, strict=True):
            text = once(said(self._model.hf_tokenizer.decode(ids)))
            if text and not _is_echo(text, self._prompt):
                told.setdefault(text, max(0.0, (math.exp(average) - _WORTHLESS) / (1 - _WORTHLESS)))
                chances.setdefault(text, average * (len(ids) + 1))
        if not told:
            return nothing_heard(NAME)
        (text, sure), *others = told.items()
        if self.tuned:
            others = [(other, sure * math.exp(min(0.0, chances[other] - chances[text]))) for other, _ in others]
        return Hypothesis(
            text, sure, NAME, alternatives=tuple(Alternative(*other) for other in others), weighed=self.tuned
        )

    def reset(self) -> None:
        """Forget the utterance in hand."""
        self._kept, self._working = bytearray(), None

    def close(self) -> None:
        """Free the weights."""
        self._model = None


def said(written: str) -> str:
    """What Whisper writes ("40%", "1/3", "it's") as plain words."""
    words = plain(in_words(written)).replace("%", " percent ").replace("-", " ")
    return " ".join(re.sub(r"[^a-z' ]+", " ", words).split())


def once(text: str) -> str:
    """Words that only begin over again, once: "next step next step nex", where it was stopped, is "next step"."""
    words = text.split()
    for size in range(1, len(words) - 1):
        again = words[size:]
        same = all(word == words[at % size] for at, word in enumerate(again[:-1]))
        if same and words[(len(again) - 1) % size].startswith(again[-1]) and (len(again) >= size or len(again) > 2):
            return " ".join(words[:size])
    return text


def _is_echo(text: str, prompt: str) -> bool:
    """Whether noise made it say its own prompt again."""
    return len(text) > 24 and text in said(prompt)
