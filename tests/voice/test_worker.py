"""Engines beside each other, and in a process of their own."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from cabassist import places
from cabassist.errors import VoiceUnavailable
from cabassist.voice import worker
from cabassist.voice.heard import Hypothesis
from cabassist.voice.sound import read_sound
from cabassist.voice.worker import Ears, Setup, Worker

from ..test_imports import imported_rooms, modules

SOUNDS = Path(__file__).parents[1] / "data" / "voice"


class Counting:
    """An engine that hears how many bytes it was given."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.size = self.begun = 0

    def accept(self, block: bytes) -> Hypothesis | None:
        self.size += len(block)
        return Hypothesis(str(self.size), 0.0, self.name, final=False)

    def begin(self) -> None:
        self.begun += 1

    def finish(self) -> Hypothesis:
        found = Hypothesis(str(self.size), 0.9, self.name)
        self.size = 0
        return found

    def reset(self) -> None:
        self.size = 0

    def close(self) -> None:
        self.size = -1


BLOCK = bytes(1024)


def test_the_slow_engine_begins_before_the_quick_one_is_asked():
    """So that both are ready when the longer of the two is."""
    slow = Counting("slow")

    class Asking(Counting):
        def finish(self) -> Hypothesis:
            assert slow.begun == 1
            return super().finish()

    ears = Ears([Asking("quick")], [slow])
    ears.begin(b"")
    ears.sound(BLOCK * 2)
    ears.prepare()

    assert [h.engine for h in ears.look().hypotheses] == ["quick", "slow"]


def test_the_slow_engine_is_only_asked_for_more():
    quick, slow = Counting("quick"), Counting("slow")
    ears = Ears([quick], [slow])
    ears.begin(b"")
    ears.sound(BLOCK * 2)
    looked = ears.look()
    more = ears.more()

    assert [h.engine for h in looked.hypotheses] == ["quick"]
    assert looked.more
    assert [(h.engine, h.text) for h in more.hypotheses] == [("quick", "2048"), ("slow", "2048")]
    assert not more.more


def test_going_on_after_a_look_is_heard_from_the_beginning():
    """A pause in the middle of a sentence loses nothing."""
    ears = Ears([Counting("quick")], [Counting("slow")])
    ears.begin(b"")
    ears.sound(BLOCK)
    ears.look()
    ears.sound(BLOCK * 2)

    assert ears.look().best.text == "3072"
    assert [h.text for h in ears.more().hypotheses] == ["3072", "3072"]


SHORT, LONG = BLOCK * 5, BLOCK * 20
"""Silence between preparing and the pause, and more than that."""


def test_what_was_prepared_is_ready_at_the_pause():
    """Only silence has come since; no engine is asked twice."""
    ears = Ears([Counting("quick")], [Counting("slow")])
    ears.begin(b"")
    ears.sound(BLOCK)
    ears.prepare()
    ears.sound(SHORT)
    looked = ears.look()

    assert [(h.engine, h.text) for h in looked.hypotheses] == [("quick", "1024"), ("slow", "1024")]
    assert not looked.more
    assert ears.more() == looked


def test_what_was_prepared_is_dropped_when_the_driver_goes_on():
    """Nothing is lost, and there are partials again."""
    ears = Ears([Counting("quick")], [Counting("slow")])
    ears.begin(b"")
    ears.sound(BLOCK)
    ears.prepare()
    partial = ears.sound(LONG)
    ears.sound(BLOCK)
    looked = ears.look()

    assert partial is not None
    assert partial.text == str(21 * len(BLOCK))
    assert looked.more
    assert [h.text for h in ears.more().hypotheses] == [str(22 * len(BLOCK))] * 2


def test_each_short_silence_is_prepared_anew():
    ears = Ears([Counting("quick")], [Counting("slow")])
    ears.begin(b"")
    ears.sound(BLOCK)
    ears.prepare()
    ears.sound(SHORT)
    ears.prepare()

    assert [h.text for h in ears.look().hypotheses] == [str(6 * len(BLOCK))] * 2


def test_what_was_prepared_does_not_outlive_its_utterance():
    ears = Ears([Counting("quick")], [Counting("slow")])
    ears.begin(b"")
    ears.sound(BLOCK)
    ears.prepare()
    ears.begin(b"")
    ears.sound(SHORT)

    assert ears.look().best.text == str(len(SHORT))


def test_a_new_utterance_begins_empty():
    ears = Ears([Counting("quick")])
    ears.begin(b"")
    ears.sound(BLOCK)
    ears.begin(b"")
    ears.sound(BLOCK)

    assert ears.look().best.text == "1024"


@pytest.fixture(scope="module")
def setup(cache: Path) -> Setup:
    pytest.importorskip("pocketsphinx")
    return Setup(places.knowledge_folder(), places.demo_coach(), cache, trigger="hey cabbie")


def test_the_child_hears_and_its_death_is_named(setup: Setup):
    """Pieces as they come from a microphone; a second utterance; then the child is killed."""
    ears = Worker(setup)
    try:
        pcm = read_sound(SOUNDS / "waste-forty.flac")
        ears.begin(b"")
        for at in range(0, len(pcm), 1024):
            ears.sound(pcm[at : at + 1024])
        looked = ears.look()
        ears.drop()

        assert ears.engines == ("pocketsphinx",)
        assert looked.best.text == "waste tank is at forty percent"
        assert ears.hear(read_sound(SOUNDS / "next.flac")).best.text == "next step"
        assert ears._process.pid is not None
        os.kill(ears._process.pid, signal.SIGKILL)
        with pytest.raises(VoiceUnavailable, match="has stopped working"):
            ears.hear(pcm)
    finally:
        ears.close()


def test_a_child_that_cannot_start_says_why(setup: Setup, tmp_path: Path):
    with pytest.raises(VoiceUnavailable, match="is not a folder of knowledge"):
        Worker(Setup(tmp_path / "none", setup.coach, setup.cache))


def test_a_child_that_cannot_write_its_cache_names_the_folder_and_what_to_do(setup: Setup, tmp_path: Path):
    """It was told as a recogniser that has stopped working, and nobody could know why."""
    (tmp_path / "voice").write_text("no folder")

    with pytest.raises(VoiceUnavailable) as caught:
        Worker(Setup(setup.knowledge, setup.coach, tmp_path, trigger=setup.trigger))
    assert "cannot be written" in str(caught.value)
    assert str(tmp_path / "voice") in str(caught.value)
    assert "CABASSIST_CACHE" in str(caught.value)


class Line:
    """The child's end of the connection, which brings these commands and then closes."""

    def __init__(self, *commands: tuple[str, object]) -> None:
        self._commands = iter(commands)
        self.sent: list[tuple[str, object]] = []

    def recv(self) -> tuple[str, object]:
        try:
            return next(self._commands)
        except StopIteration:
            raise EOFError from None

    def send(self, message: tuple[str, object]) -> None:
        self.sent.append(message)


@pytest.fixture
def child(monkeypatch: pytest.MonkeyPatch):
    """Runs the child's loop in this process, on ears that are given or fail to load."""
    monkeypatch.setattr(signal, "signal", lambda *_: None)

    def run(line: Line, ears: Ears | Exception) -> None:
        def load(*_: object) -> Ears:
            if isinstance(ears, Exception):
                raise ears
            return ears

        monkeypatch.setattr(worker, "load_ears", load)
        worker._child(line, Setup(Path(), Path(), Path()))  # type: ignore[arg-type]

    return run


def test_the_child_tells_what_stands_in_the_way_of_loading(child):
    line = Line()
    child(line, PermissionError(13, "Permission denied", "/models/en-us"))

    assert line.sent == [("failed", "[Errno 13] Permission denied: '/models/en-us'")]


def test_the_child_hides_no_fault_in_hearing(child):
    """A full disk while an engine hears is not the end of the connection."""

    class Failing(Counting):
        def finish(self) -> Hypothesis:
            raise OSError(28, "No space left on device")

    with pytest.raises(OSError, match="No space left"):
        child(Line(("begin", b""), ("sound", BLOCK), ("look", None)), Ears([Failing("quick")]))


def test_the_child_ends_with_its_connection(child):
    """Closed while it waits for a command, or broken when it answers."""
    line = Line(("begin", b""), ("sound", BLOCK), ("look", None))
    child(line, Ears([Counting("quick")]))

    class Broken(Line):
        def send(self, message: tuple[str, object]) -> None:
            raise BrokenPipeError

    assert [kind for kind, _ in line.sent] == ["ready", "partial", "heard"]
    child(Broken(), Ears([Counting("quick")]))


def test_the_engines_stay_out_of_the_main_process():
    """Starting the conversation loads no recogniser; they are the child's."""
    code = (
        "import sys, cabassist.voice.conversation, cabassist.voice.turns, cabassist.voice.worker;"
        "print([n for n in ('pocketsphinx', 'vosk', 'faster_whisper', 'miniaudio') if n in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "[]"


def test_the_room_knows_neither_the_screen_nor_the_command_line():
    """Both front ends may use the voice, so it may use neither of them."""
    wrong = [path.name for room, path in modules() if room == "voice" and imported_rooms(path) & {"cli", "screen"}]

    assert wrong == []
