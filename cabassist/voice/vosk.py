"""The vosk engine, used when a model folder is found.

Where the model allows it, recognition is narrowed to the words of the knowledge with an escape for all others; when
that hears unknown words or is unsure, the same sound is heard again without the narrowing.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from cabassist.errors import VoiceUnavailable
from cabassist.voice.heard import RATE, Alternative, Hypothesis, nothing_heard

NAME = "vosk"
UNKNOWN = "[unk]"
_SURE = 0.85
"""Average confidence of the words from which on the narrowed hearing is believed."""
_ALWAYS = ("am/final.mdl", "final.mdl")


def looks_like_model(folder: Path) -> bool:
    """Whether a folder holds a vosk model; a damaged one may still look so."""
    return any((folder / name).is_file() for name in _ALWAYS)


class Vosk:
    """Hears with a vosk model."""

    name = NAME

    def __init__(self, folder: Path, sentences: Iterable[str] = ()) -> None:
        """Load the model, which takes some seconds. Raises VoiceUnavailable when it cannot be used."""
        try:
            import vosk
        except (ImportError, OSError):
            raise VoiceUnavailable("vosk is not installed. Install it with: pip install vosk") from None
        advice = "Fetch the model again, or add it with `cabassist voice model add`."
        if not looks_like_model(folder):
            raise VoiceUnavailable(f"{folder} holds no vosk model. {advice}")
        vosk.SetLogLevel(-1)
        self._vosk: Any = vosk
        try:
            self._model: Any = vosk.Model(str(folder))
            self._open: Any = self._recogniser()
        except Exception as error:
            # vosk raises plain Exception
            raise VoiceUnavailable(f"The vosk model in {folder} is damaged ({error}). {advice}") from None
        self._narrow: Any = self._narrowed(folder, sentences)
        self._kept = bytearray()
        self._partial = ""

    def _recogniser(self, grammar: list[str] | None = None) -> Any:
        more = () if grammar is None else (json.dumps(grammar, ensure_ascii=False),)
        made = self._vosk.KaldiRecognizer(self._model, RATE, *more)
        made.SetWords(True)
        return made

    def _narrowed(self, folder: Path, sentences: Iterable[str]) -> Any:
        """A recogniser for these sentences, or None when the model's graph is fixed or has no unknown word.

        An empty list or a word that the model lacks must not reach vosk: it crashes on the one and writes warnings
        about the other.
        """
        dynamic = any((folder / name).is_file() for name in ("graph/HCLr.fst", "HCLr.fst"))
        if not dynamic or self._model.vosk_model_find_word(UNKNOWN) < 0:
            return None
        known: dict[str, bool] = {}

        def all_known(sentence: str) -> bool:
            for word in sentence.split():
                if word not in known:
                    known[word] = self._model.vosk_model_find_word(word) >= 0
            return all(known[word] for word in sentence.split())

        usable = [sentence for sentence in sentences if all_known(sentence)]
        return self._recogniser([*usable, UNKNOWN]) if usable else None

    def accept(self, block: bytes) -> Hypothesis | None:
        """Take a block of sound."""
        self._kept += block
        live = self._narrow or self._open
        if live.AcceptWaveform(bytes(block)):
            # The engine has found an end of its own; the utterance goes on until `finish`.
            self._partial = " ".join([self._partial, _text(live.Result())]).strip()
            return Hypothesis(self._partial, 0.0, NAME, final=False)
        text = json.loads(live.PartialResult()).get("partial", "")
        if not text:
            return None
        return Hypothesis(" ".join([self._partial, text]).strip(), 0.0, NAME, final=False)

    def finish(self) -> Hypothesis:
        """The final hypothesis; `confidence` is the average of its words'."""
        if not self._kept:
            return nothing_heard(NAME)
        pcm = bytes(self._kept)
        self.reset()
        text, confidence = self._whole(self._narrow or self._open, pcm)
        if self._narrow is None or (confidence >= _SURE and UNKNOWN not in text):
            return Hypothesis(_known(text), confidence if text else 0.0, NAME)
        other, how_sure = self._whole(self._open, pcm)
        narrow = _known(text)
        if UNKNOWN in text or not narrow:
            return Hypothesis(other, how_sure, NAME, alternatives=(Alternative(narrow, confidence),) if narrow else ())
        alternatives = (Alternative(other, how_sure),) if other and other != narrow else ()
        return Hypothesis(narrow, confidence, NAME, alternatives=alternatives)

    def _whole(self, recogniser: Any, pcm: bytes) -> tuple[str, float]:
        recogniser.Reset()
        rows: list[dict[str, Any]] = []
        if recogniser.AcceptWaveform(pcm):
            rows += json.loads(recogniser.Result()).get("result", [])
        rows += json.loads(recogniser.FinalResult()).get("result", [])
        if not rows:
            return "", 0.0
        return " ".join(str(row["word"]) for row in rows), sum(float(row["conf"]) for row in rows) / len(rows)

    def reset(self) -> None:
        """Forget the utterance in hand."""
        self._kept = bytearray()
        self._partial = ""
        for recogniser in (self._narrow, self._open):
            if recogniser is not None:
                recogniser.Reset()

    def close(self) -> None:
        """Free the model."""
        self._narrow = self._open = self._model = None


def _text(result: str) -> str:
    return str(json.loads(result).get("text", ""))


def _known(text: str) -> str:
    return " ".join(word for word in text.split() if word != UNKNOWN)
