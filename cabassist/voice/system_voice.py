"""The system's own voice, SAPI or NSSpeech, through pyttsx3 in a child process.

pyttsx3 wants a main thread with an event loop, prints to standard output, and can hang; so it gets a process of its
own, which is told what to say in JSON lines and writes each text to a sound file. One text at a time is asked for,
and a child that does not answer is ended. Run as a module, this file is that child.
"""

from __future__ import annotations

import contextlib
import json
import os
import queue
import subprocess
import sys
import tempfile
import threading
from pathlib import Path
from typing import IO, Any

from cabassist.errors import VoiceUnavailable
from cabassist.voice.synthesis import Sound, no_such_voice

SAMPLE_RATE = 22050
START_S, ANSWER_S = 20.0, 30.0
"""How long the child may take to start, and to write one text."""
WRITES_LATER = frozenset({"espeak"})
"""Drivers of pyttsx3 that come back before their file is written, and tell when it is."""


class SystemVoice:
    """pyttsx3 with one of its drivers; without a name, the one it takes for this system."""

    def __init__(self, driver: str = "", *, patience_s: float = START_S) -> None:
        self.name = f"pyttsx3 {driver}".strip()
        command = [sys.executable, "-m", "cabassist.voice.system_voice", driver]
        try:
            self._child = subprocess.Popen(
                command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, encoding="utf-8"
            )  # fmt: skip
        except OSError as error:
            raise self._silent(f"cannot be started ({error.strerror})") from None
        self._answers: queue.SimpleQueue[str] = queue.SimpleQueue()
        threading.Thread(target=self._listen, daemon=True).start()
        try:
            self._voices = [str(name) for name in self._answer(patience_s)["voices"]]
        except VoiceUnavailable:
            self.close()
            raise

    def _listen(self) -> None:
        assert self._child.stdout is not None
        for line in self._child.stdout:
            self._answers.put(line)
        self._answers.put("")

    def _answer(self, patience_s: float) -> dict[str, Any]:
        try:
            line = self._answers.get(timeout=patience_s)
        except queue.Empty:
            self.close()
            raise self._silent(f"did not answer within {patience_s:.0f} seconds") from None
        if not line:
            raise self._silent("stopped working")
        answer: dict[str, Any] = json.loads(line)
        if "error" in answer:
            raise self._silent(f"says: {answer['error']}")
        return answer

    @staticmethod
    def _silent(what: str) -> VoiceUnavailable:
        return VoiceUnavailable(f"The system's voice {what}. Answers go on as text.")

    def voices(self) -> list[str]:
        """The ids of the system's voices."""
        return self._voices

    def sound(self, text: str, *, rate: int, voice: str | None = None) -> Sound:
        """A text as sound. Raises VoiceUnavailable for an unknown voice, and when the child fails."""
        import miniaudio

        if voice is not None and voice not in self._voices:
            raise no_such_voice(voice, self._voices)
        with tempfile.TemporaryDirectory(prefix="cabassist-") as folder:
            path = Path(folder) / "said.wav"
            self._ask({"text": text, "rate": rate, "voice": voice, "path": str(path)})
            try:
                # NSSpeech writes AIFF whatever the name; miniaudio reads both
                decoded = miniaudio.decode(path.read_bytes(), miniaudio.SampleFormat.SIGNED16, 1, SAMPLE_RATE)
            except (OSError, miniaudio.DecodeError) as error:
                raise self._silent(f"wrote no sound ({error})") from None
        return Sound(bytes(decoded.samples.tobytes()), SAMPLE_RATE)

    def _ask(self, request: dict[str, Any]) -> None:
        assert self._child.stdin is not None
        try:
            self._child.stdin.write(json.dumps(request) + "\n")
            self._child.stdin.flush()
        except (OSError, ValueError):
            raise self._silent("stopped working") from None
        self._answer(ANSWER_S)

    def close(self) -> None:
        """End the child."""
        self._child.kill()
        self._child.wait()
        for pipe in (self._child.stdin, self._child.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError, ValueError):  # what was not sent to a dead child is lost anyway
                    pipe.close()


def serve(driver: str, requests: IO[str], answers: IO[str]) -> None:
    """What the child does: write each requested text to its file, and say so, until there are no more requests."""
    try:
        import pyttsx3

        if driver in WRITES_LATER:
            _show_library()
        engine = pyttsx3.init(driver or None)
        voices = [voice.id for voice in engine.getProperty("voices")]
    except Exception as error:  # every driver fails in its own way; all of them mean that there is no such voice
        _tell(answers, {"error": f"{type(error).__name__}: {error}"})
        return
    _tell(answers, {"voices": voices})
    done = threading.Event()
    engine.connect("finished-utterance", lambda **_: done.set())
    for line in requests:
        request = json.loads(line)
        try:
            if request["voice"]:
                engine.setProperty("voice", request["voice"])
            engine.setProperty("rate", request["rate"])
            done.clear()
            engine.save_to_file(request["text"], request["path"])
            engine.runAndWait()
            if driver in WRITES_LATER:
                done.wait(ANSWER_S)
        except Exception as error:  # as above
            _tell(answers, {"error": f"{type(error).__name__}: {error}"})
        else:
            _tell(answers, {"done": True})


def _show_library() -> None:
    """Let pyttsx3 find the wheel's espeak-ng: by its name, as it is in memory already."""
    with contextlib.suppress(ImportError, OSError, RuntimeError):  # without the wheel it looks for the system's
        import ctypes

        import espeakng_loader

        os.environ["ESPEAK_DATA_PATH"] = str(Path(espeakng_loader.get_data_path()).parent)
        ctypes.CDLL(espeakng_loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)


def _tell(answers: IO[str], answer: dict[str, Any]) -> None:
    answers.write(json.dumps(answer) + "\n")
    answers.flush()


if __name__ == "__main__":
    # what drivers print must not be taken for an answer
    out = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)
    serve(sys.argv[1] if len(sys.argv) > 1 else "", sys.stdin, out)
