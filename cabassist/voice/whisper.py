"""The faster-whisper engine: hears open questions that stand in no language model.

It takes any CTranslate2 folder of Whisper weights. It hears an utterance as a whole, so it gives no partials, and a turn
costs the same whatever its length, as its input is always padded to 30 s.
"""

from __future__ import annotations

import logging
import math
import re
from pathlib import Path
from typing import Any

from cabassist.errors import VoiceUnavailable
from cabassist.language.normalise import plain
from cabassist.voice.heard import Hypothesis, nothing_heard, seconds
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
_WORTHLESS = 0.3
"""Average probability of the tokens that it gives to sound without words."""
_LEAST_SPEECH = 0.25


class Whisper:
    """Whisper weights in CTranslate2 form, on one thread."""

    name = NAME

    def __init__(self, folder: Path, *, beam: int = 1, prompt: str = PROMPT) -> None:
        """Load the weights, in half a second. Raises VoiceUnavailable when the folder or the package is not usable."""
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
        self._prompt = prompt
        self._kept = bytearray()

    def accept(self, block: bytes) -> None:
        """Take a block of sound; there are no partials."""
        self._kept += block

    def finish(self) -> Hypothesis:
        """The final hypothesis; `confidence` is the average probability of its tokens, less what noise gets too."""
        pcm = bytes(self._kept)
        self.reset()
        if seconds(pcm) < _LEAST_SPEECH:
            return nothing_heard(NAME)
        samples = as_floats(pcm)[: int(_LONGEST * 16_000)]
        pieces, _ = self._model.transcribe(
            samples,
            language="en",
            beam_size=self._beam,
            temperature=0.0,
            initial_prompt=self._prompt or None,
            condition_on_previous_text=False,
            without_timestamps=True,
            no_speech_threshold=0.7,
        )
        heard = list(pieces)
        text = said(" ".join(piece.text for piece in heard))
        if not text or _is_echo(text, self._prompt):
            return nothing_heard(NAME)
        average = sum(piece.avg_logprob for piece in heard) / len(heard)
        return Hypothesis(text, max(0.0, (math.exp(average) - _WORTHLESS) / (1 - _WORTHLESS)), NAME)

    def reset(self) -> None:
        """Forget the utterance in hand."""
        self._kept = bytearray()

    def close(self) -> None:
        """Free the weights."""
        self._model = None


def said(written: str) -> str:
    """What Whisper writes ("40%", "1/3", "it's") as plain words."""
    words = plain(in_words(written)).replace("%", " percent ").replace("-", " ")
    return " ".join(re.sub(r"[^a-z' ]+", " ", words).split())


def _is_echo(text: str, prompt: str) -> bool:
    """Whether noise made it say its own prompt again."""
    return len(text) > 24 and text in said(prompt)
