"""Speech is really synthesised; the loudspeaker is a fake, or the file that ALSA writes in place of a card."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
import wave
from pathlib import Path

import numpy as np
import pytest

from cabassist.dialogue.rolling import SPOKEN_S
from cabassist.errors import FileProblem, VoiceUnavailable
from cabassist.voice import playback, speaking, synthesis, system_voice
from cabassist.voice.playback import PERIOD_MS, PERIODS, Loudspeaker, Playing, fed
from cabassist.voice.speaking import FASTEST, LOUDEST, SLOWEST, SOFTEST, Speaker, open_speaker
from cabassist.voice.spoken import for_ear
from cabassist.voice.synthesis import Sound

SENTENCE = "Warning. A wet plug can shock you. The shore cord is 50 ft."


class FakePlayer:
    """Takes what is played, and plays for as long as it is told to."""

    def __init__(self) -> None:
        self.sounds: list[Sound] = []
        self.stopped = 0
        self.closed = False

    def play(self, sound: Sound) -> Playing:
        self.sounds.append(sound)
        return Playing(sound.seconds, self._halt)

    def _halt(self) -> None:
        self.stopped += 1

    def close(self) -> None:
        self.closed = True


@pytest.fixture
def player() -> FakePlayer:
    return FakePlayer()


@pytest.fixture
def speaker(player: FakePlayer) -> Speaker:
    return open_speaker(player=player)


def peak(sound: Sound) -> int:
    return int(np.abs(np.frombuffer(sound.pcm, "<i2").astype(int)).max())


def test_a_sentence_becomes_sound_at_the_usual_pace(speaker: Speaker, player: FakePlayer):
    """Thirteen words with three stops: near 150 words a minute, and not silence."""
    playing = speaker.say(SENTENCE)

    assert 3.5 < playing.seconds < 7.0
    assert playing.seconds == player.sounds[0].seconds
    assert peak(player.sounds[0]) > 10_000


def test_what_is_said_is_put_into_words_first(speaker: Speaker, player: FakePlayer):
    """The engine gets the same sound from figures as from words."""
    speaker.say("12 V at 21:40, 49 CFR 392.7")
    speaker.say("twelve volt at twenty one forty, the federal transport rules")

    # the engine shakes its voice a little, so no two sounds are equal
    assert player.sounds[0].seconds == pytest.approx(player.sounds[1].seconds, rel=0.01)


def test_slower_takes_longer_up_to_a_limit(speaker: Speaker):
    """And says when it cannot get slower."""
    usual = speaker.say(SENTENCE).seconds

    assert speaker.slower()
    assert speaker.say(SENTENCE).seconds > 1.1 * usual
    while speaker.slower():
        pass
    assert speaker.rate == SLOWEST
    while speaker.faster():
        pass
    assert speaker.rate == FASTEST
    assert speaker.say(SENTENCE).seconds < 0.75 * usual


def test_louder_and_softer_change_the_sound_up_to_a_limit(speaker: Speaker, player: FakePlayer):
    """3 dB a step; the loudest does not clip."""
    speaker.say(SENTENCE)
    assert speaker.softer()
    speaker.say(SENTENCE)

    assert peak(player.sounds[1]) == pytest.approx(peak(player.sounds[0]) / 1.4, rel=0.01)
    while speaker.louder():
        pass
    speaker.say(SENTENCE)
    assert speaker.volume == LOUDEST
    assert peak(player.sounds[2]) < 32767
    while speaker.softer():
        pass
    assert speaker.volume == SOFTEST


def test_settings_out_of_bounds_are_brought_inside(player: FakePlayer):
    """A wrong number in a settings file does not silence the assistant."""
    assert open_speaker(rate=9999, volume=7.0, player=player).rate == FASTEST
    assert open_speaker(rate=-1, volume=-7.0, player=player).volume == SOFTEST


def test_a_new_text_stops_the_one_before(speaker: Speaker, player: FakePlayer):
    """Two voices at once are understood by nobody."""
    first = speaker.say(SENTENCE)
    speaker.say("Stop.")

    assert first.over
    assert player.stopped == 1
    assert first.wait() is False


def test_stopping_ends_a_wait_at_once(speaker: Speaker):
    """The driver interrupts: whoever waits for the end goes on."""
    playing = speaker.say(SENTENCE)
    heard: list[bool] = []
    waiter = threading.Thread(target=lambda: heard.append(playing.wait()))
    waiter.start()
    playing.stop()
    playing.stop()
    waiter.join(timeout=2)

    assert heard == [False]


def test_a_text_without_words_is_over_before_it_begins(speaker: Speaker, player: FakePlayer):
    """Nothing is sent to the loudspeaker."""
    playing = speaker.say(" … \x07 日本 ")

    assert playing.wait() is True
    assert playing.seconds == 0.0
    assert player.sounds == []


def test_closing_silences_and_lets_the_device_go(speaker: Speaker, player: FakePlayer):
    """Also in the middle of a sentence."""
    speaker.say(SENTENCE)
    speaker.close()

    assert (player.stopped, player.closed) == (1, True)


def test_a_file_needs_no_loudspeaker(tmp_path: Path):
    """And holds the whole sentence."""
    speaker = open_speaker(aloud=False)
    seconds = speaker.to_wav(SENTENCE, tmp_path / "said.wav")
    with wave.open(str(tmp_path / "said.wav")) as file:
        assert file.getnchannels() == 1
        assert file.getsampwidth() == 2
        assert file.getnframes() / file.getframerate() == pytest.approx(seconds)
    with pytest.raises(VoiceUnavailable, match="for files only"):
        speaker.say("x")
    assert [path.name for path in tmp_path.iterdir()] == ["said.wav"]


@pytest.mark.parametrize("place", ["no-such-folder/said.wav", "."])
def test_a_file_that_cannot_be_written_is_said(tmp_path: Path, place: str):
    """With the place, and nothing left lying about."""
    with pytest.raises(FileProblem, match="cannot be written"):
        open_speaker(aloud=False).to_wav("x", tmp_path / place)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["no-such-voice", "", "\0", "en-us\0x", "../../etc/passwd", "ü" * 500])
def test_an_unknown_voice_is_refused_with_what_there_is(player: FakePlayer, name: str):
    """Never another voice in silence; the empty name means the usual one."""
    if not name:
        assert open_speaker(voice=name, player=player).say("x").seconds > 0
        return
    with pytest.raises(VoiceUnavailable, match="There is no voice called"):
        open_speaker(voice=name, player=player)


def test_every_listed_voice_speaks(player: FakePlayer):
    """A name that is offered can be used."""
    names = synthesis.espeak().voices()

    assert "en-us" in names
    for name in names:
        assert synthesis.espeak().sound("hello", rate=150, voice=name).seconds > 0.2, name


def test_no_engine_is_said_once_and_says_what_to_install(monkeypatch: pytest.MonkeyPatch, player: FakePlayer):
    """Neither in the system nor in the wheel."""
    monkeypatch.setattr(synthesis, "SOURCES", ())
    synthesis.espeak.cache_clear()
    try:
        with pytest.raises(VoiceUnavailable, match=r"no speech engine.*pip install espeakng-loader"):
            open_speaker(player=player)
    finally:
        synthesis.espeak.cache_clear()


def test_the_wheel_alone_is_enough():
    """In a process of its own, as the library can be started once: with the system's espeak-ng out of reach."""
    pytest.importorskip("espeakng_loader")
    code = (
        "from cabassist.voice import synthesis, speaking; synthesis.SOURCES = synthesis.SOURCES[1:]\n"
        "s = speaking.open_speaker(aloud=False)._sound('twelve volt'); print(round(s.seconds, 1), s.rate)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert done.stderr == ""
    seconds, rate = done.stdout.split()
    assert 0.5 < float(seconds) < 2.0
    assert rate == "22050"


def test_damaged_speech_data_is_an_error_and_no_exit(tmp_path: Path):
    """The library would end the process by itself when a file of its data is missing."""
    loader = pytest.importorskip("espeakng_loader")
    (tmp_path / "espeak-ng-data").mkdir()
    (tmp_path / "espeak-ng-data" / "phontab").write_bytes(b"x")
    code = (
        "import ctypes, sys; from pathlib import Path; from cabassist.voice import synthesis\n"
        "try: synthesis.Espeak(ctypes.CDLL(sys.argv[1]), Path(sys.argv[2]))\n"
        "except synthesis.VoiceUnavailable as error: print(error)"
    )
    command = [sys.executable, "-c", code, loader.get_library_path(), str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)

    assert done.returncode == 0
    assert "does not start" in done.stdout


def test_two_threads_may_speak_at_once():
    """The library has one state; the texts do not run into each other."""
    engine = synthesis.espeak()
    texts = ["one", "one two three four", "a much longer sentence about the waste tank", "four"] * 4
    alone = [engine.sound(text, rate=150).seconds for text in texts]
    together: dict[int, float] = {}
    threads = [
        threading.Thread(target=lambda i=i, text=text: together.update({i: engine.sound(text, rate=150).seconds}))
        for i, text in enumerate(texts)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert [together[i] for i in range(len(texts))] == pytest.approx(alone, rel=0.01)


def test_what_is_said_on_the_move_really_takes_twelve_seconds_at_most():
    """The reckoning of `for_ear` holds on the real engine, also for numbers, which are long words."""
    from cabassist.dialogue.types import Reply

    texts = [
        "Warning. Spray mist can catch fire. Keep away from flame, smoking, hot lamps and furnace outlets. "
        "Warning. Door springs hold great force. Never unhook, loosen or pry one.",
        "0.8 × 30 A = 24 A. 24 A × 120 V = 2,880 W. Assumed: nothing else is plugged in on the same breaker.",
        "About 9.92 volts, between 8.16 and 9.92 volts. More than 5 percent: 8.27. 8.3 percent lost: over 5, too much.",
        "577,777.77 and 377,777.37 and 277,377.77 gal.",
        "It is done. " * 20,
    ]
    for text in texts:
        said = for_ear(Reply("control", text, ()), rolling=True)
        assert synthesis.espeak().sound(said, rate=150).seconds <= SPOKEN_S, said


# -- the loudspeaker -----------------------------------------------------------------------------


def test_the_device_gets_every_sample_and_then_silence():
    """It is over only when the device has played what it holds ahead."""
    pcm = np.arange(1, 1001, dtype="<i2").tobytes()
    playing = Playing(1000 / 8000)
    feed = fed(Sound(pcm, 8000), playing)
    next(feed)
    got = b""
    asked = 0
    while not playing.over:
        asked += 1
        try:
            got += feed.send(160)
        except StopIteration:
            break

    assert playing.wait() is True
    assert got[: len(pcm)] == pcm
    assert not any(got[len(pcm) :])
    assert len(got) - len(pcm) >= 8000 * PERIOD_MS * PERIODS // 1000 * 2


def test_a_device_that_went_does_not_keep_anybody_waiting(monkeypatch: pytest.MonkeyPatch):
    """Unplugged in the middle: it asks for no more, and the wait ends by the clock."""
    monkeypatch.setattr(playback, "LATE_S", 0.05)
    halted: list[int] = []
    began = time.monotonic()

    assert Playing(0.1, lambda: halted.append(1)).wait() is False
    assert halted == [1]
    assert time.monotonic() - began < 5


ALSA_TO_NOWHERE = """
pcm.null {{ type null }}
pcm.f {{ type file slave.pcm null file {file} format raw }}
pcm.!default {{ type plug slave.pcm f }}
"""
PLAY = """
import sys
from cabassist.voice.playback import Loudspeaker
from cabassist.voice.synthesis import Sound
device = Loudspeaker()
first = device.play(Sound(bytes([0, 64]) * 22050 * 4, 22050))
first.stop()
second = device.play(Sound(bytes([0, 32]) * 8000, 16000))
print(second.wait())
device.close()
"""
NO_CARD = """
from cabassist.voice.speaking import open_speaker
from cabassist.errors import VoiceUnavailable
try: open_speaker()
except VoiceUnavailable as error: print(error)
"""


def run_with_alsa(tmp_path: Path, config: str, code: str) -> subprocess.CompletedProcess[str]:
    (tmp_path / "asound.conf").write_text(config)
    away = {"PULSE_SERVER": "unix:/nonexistent", "ALSA_CONFIG_PATH": str(tmp_path / "asound.conf")}
    return subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, env={**os.environ, **away}, timeout=60
    )  # fmt: skip


linux = pytest.mark.skipif(sys.platform != "linux", reason="ALSA is the sound of Linux")


@linux
def test_the_real_player_plays(tmp_path: Path):
    """Through miniaudio and ALSA into a file in place of a card, at one sample rate after the other."""
    pytest.importorskip("miniaudio")
    done = run_with_alsa(tmp_path, ALSA_TO_NOWHERE.format(file=tmp_path / "out.raw"), PLAY)
    if "There is no loudspeaker" in done.stderr:
        pytest.skip("this system has no ALSA library")

    assert done.stderr == ""
    assert done.stdout == "True\n"
    assert any((tmp_path / "out.raw").read_bytes())


@linux
def test_without_a_card_one_sentence_is_said_and_nothing_else(tmp_path: Path):
    """ALSA itself would write pages to the terminal."""
    pytest.importorskip("miniaudio")
    done = run_with_alsa(tmp_path, "pcm.!default { type hw card 99 }\nctl.!default { type hw card 99 }\n", NO_CARD)

    assert done.stderr == ""
    assert done.stdout.startswith("There is no loudspeaker. Connect a loudspeaker")


def test_without_the_player_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch):
    """The package is part of the extra for voice."""
    monkeypatch.setitem(sys.modules, "miniaudio", None)

    with pytest.raises(VoiceUnavailable, match=r"pip install 'cabassist\[voice\]'"):
        Loudspeaker()


# -- the system's own voice ----------------------------------------------------------------------


@pytest.fixture
def own() -> type[system_voice.SystemVoice]:
    pytest.importorskip("pyttsx3")
    pytest.importorskip("espeakng_loader")
    return system_voice.SystemVoice


def test_the_child_writes_one_text_after_the_other(own: type[system_voice.SystemVoice]):
    """With the driver that runs everywhere; SAPI and NSSpeech use the same way. Its chatter is no answer."""
    voice = own("espeak")
    try:
        short, long = (
            voice.sound(text, rate=150) for text in ("Go.", "Drive the coach to the other side of the yard.")
        )
        assert 0.2 < short.seconds < 1.5
        assert long.seconds > 2 * short.seconds
        with pytest.raises(VoiceUnavailable, match="There is no voice called 'nobody'"):
            voice.sound("x", rate=150, voice="nobody")
    finally:
        voice.close()


def test_a_driver_that_is_not_there_is_an_error(own: type[system_voice.SystemVoice]):
    """And leaves no child behind."""
    with pytest.raises(VoiceUnavailable, match="The system's voice says"):
        own("no-such-driver")


def test_a_child_that_died_is_an_error(own: type[system_voice.SystemVoice]):
    """The conversation goes on in text."""
    voice = own("espeak")
    voice.close()

    with pytest.raises(VoiceUnavailable, match="stopped working"):
        voice.sound("x", rate=150)


def test_a_child_that_does_not_answer_is_ended(own: type[system_voice.SystemVoice]):
    """pyttsx3 hangs on some systems."""
    with pytest.raises(VoiceUnavailable, match="did not answer within 0 seconds"):
        own("espeak", patience_s=0.0)


@pytest.mark.parametrize("fails", [True, False])
def test_where_the_system_has_a_voice_it_comes_first(monkeypatch: pytest.MonkeyPatch, player: FakePlayer, fails: bool):
    """And espeak-ng when it does not work."""

    class Own:
        name = "own"

        def __init__(self) -> None:
            if fails:
                raise VoiceUnavailable("no")

        def voices(self) -> list[str]:
            return ["a"]

        def sound(self, text: str, *, rate: int, voice: str | None = None) -> Sound:
            return Sound(bytes(100), 22050)

        def close(self) -> None:
            pass

    monkeypatch.setattr(speaking, "_OWN_VOICES", (sys.platform,))
    monkeypatch.setattr(system_voice, "SystemVoice", Own)

    assert open_speaker(player=player).engine == ("espeak-ng" if fails else "own")
    assert open_speaker(player=player, voice="en-gb").engine == "espeak-ng"
