"""`cabassist voice`: ask and be answered aloud; check, transcribe, say, and add models."""

from __future__ import annotations

import queue
import sys
import threading
from collections.abc import Callable, Iterable
from contextlib import ExitStack
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cabassist import places
from cabassist.cli.shared import (
    ANSWERED,
    NOT_ANSWERED,
    Commands,
    Given,
    json_option,
    now,
    open_journal,
    plain_output,
    print_json,
    print_lines,
    safe,
)
from cabassist.errors import CabassistError, VoiceUnavailable

if TYPE_CHECKING:
    from cabassist.dialogue.types import Mind, Reply
    from cabassist.voice.repair import Repairer
    from cabassist.voice.speaking import Speaker
    from cabassist.voice.worker import Setup

METER_CELLS, METER_FLOOR_DB = 20, -60.0
PACES = ("short", "full")


@click.group(cls=Commands, invoke_without_command=True)
@click.option("--device", help="Microphone: its number or part of its name (see `cabassist voice check`).")
@click.option("--push/--hands-free", default=False, help="Press Enter to talk, or be listened to all the time.")
@click.option("--trigger", help="Words that wake it in hands-free use.  [default: hey cabbie]")
@click.option("--always", is_flag=True, help="Take everything that is said as meant for it, without trigger words.")
@click.option(
    "--interrupt/--no-interrupt", default=True, help="Whether speaking stops an answer. Turn it off if it hears itself."
)
@click.option(
    "--pace", type=click.Choice(PACES), default="full", show_default=True, help="How much of an answer is said."
)
@click.option("--rate", type=click.IntRange(90, 260), help="Words a minute.")
@click.option("--mute", is_flag=True, help="Listen, but answer in text only.")
@click.option("--sound", type=click.Path(path_type=Path), help="Hear this sound file instead of a microphone.")
@click.pass_context
def voice(ctx: click.Context, /, **options: Any) -> None:
    """Talk with the assistant, hands free.

    Say "hey cabbie" and what you want to know. In a procedure, and shortly after an answer, no trigger is needed; a
    danger is answered at any time. "slower", "louder", "repeat", "spell it" and "just the number" change what you hear. What you type in
    between is taken as said. Say goodbye, or press Ctrl-C, to leave.
    """
    if ctx.invoked_subcommand is None:
        _talk(ctx.obj, **options)


def setup_of(given: Given, trigger: str, told: Callable[[str], None]) -> Setup:
    """What the recognisers are loaded from. A named model that is missing is told, and the others go on."""
    from cabassist.voice import models
    from cabassist.voice.worker import Setup

    data = places.data_folder()
    found: dict[str, Path | None] = {}
    for name, finder in (("vosk", models.vosk_model), ("whisper", models.whisper_model)):
        try:
            found[name] = finder(data)
        except VoiceUnavailable as error:
            told(str(error))
            found[name] = None
    return Setup(
        knowledge=given.knowledge_folder(),
        coach=given.coach_file(),
        cache=places.cache_folder(),
        vosk=found["vosk"],
        whisper=found["whisper"],
        trigger=trigger,
    )


def _told(text: str) -> None:
    click.echo(safe(text), err=True)


def repairer_of(given: Given, mind: Mind, trigger: str) -> Repairer:
    """Mends what was heard by the words that this knowledge and this coach use. Raises CabassistError."""
    from cabassist.voice.language_files import language_files
    from cabassist.voice.repair import Repairer
    from cabassist.voice.sphinx import bundled_model

    own = bundled_model().dictionary
    files = language_files(mind.knowledge, mind.coach, places.cache_folder(), own, trigger=trigger)
    return Repairer.from_files(files.dictionary, own)


def speaker_of(rate: int | None, told: Callable[[str], None]) -> Speaker | None:
    """A speaker, or None after telling once why there is none. `rate` in words a minute."""
    from cabassist.voice.speaking import USUAL, open_speaker

    try:
        return open_speaker(rate=rate or USUAL)
    except VoiceUnavailable as error:
        told(f"{error}\nAnswers are shown as text.")
        return None


def _talk(
    given: Given,
    *,
    device: str | None,
    push: bool,
    trigger: str | None,
    always: bool,
    interrupt: bool,
    pace: str,
    rate: int | None,
    mute: bool,
    sound: Path | None,
) -> None:
    from cabassist.dialogue.resuming import take_up
    from cabassist.dialogue.session import Session, load_mind
    from cabassist.voice.endpoint import Endpointer, Silero
    from cabassist.voice.microphone import DeviceMicrophone, FileMicrophone
    from cabassist.voice.turns import DEFAULT_TRIGGER, Turns
    from cabassist.voice.worker import Worker

    words = " ".join((trigger or DEFAULT_TRIGGER).lower().split())
    called = "" if always or push else words
    mind = load_mind(given.coach_file(), given.knowledge_folder())
    click.echo(f"cabassist, coach: {mind.coach.name}.")
    with open_journal(given.journal_file()) as journal, ExitStack() as opened:
        session = Session(mind, journal, actor=given.actor)
        offer = take_up(session, now())
        if offer:
            click.echo(safe(offer))
        try:
            microphone = FileMicrophone(sound) if sound else DeviceMicrophone(device)
            opened.callback(microphone.close)
            endpointer = Endpointer(Silero())
            worker = Worker(setup_of(given, words, _told), _told)
            opened.callback(worker.close)
            repairer = repairer_of(given, mind, words)
        except CabassistError as error:
            opened.close()
            click.echo(f"{safe(str(error))}\nThe conversation goes on in text.", err=True)
            _in_text(session)
            return
        speaker = None if mute else speaker_of(rate, _told)
        if speaker is not None:
            opened.callback(speaker.close)
            if offer:
                speaker.say(offer)
        turns = Turns(session, repairer=repairer, trigger=called, ear=_for_ear(session, pace))
        typed = None if sound else _keyboard()
        try:
            _run(turns, worker, endpointer, microphone, speaker, typed, push, interrupt, called)
        except VoiceUnavailable as error:
            opened.close()
            click.echo(f"{safe(str(error))}\nThe conversation goes on in text.", err=True)
            _in_text(session, typed)
        except (KeyboardInterrupt, EOFError):
            pass
    click.echo("Goodbye. Everything said is in the journal.")


def _run(
    turns: Any,
    worker: Any,
    endpointer: Any,
    microphone: Any,
    speaker: Speaker | None,
    typed: queue.Queue[str] | None,
    push: bool,
    interrupt: bool,
    called: str,
) -> None:
    from cabassist.voice.conversation import Conversation, Show

    meter = _Meter()

    def lines(shown: Iterable[str]) -> None:
        meter.clear()
        print_lines(shown)
        click.echo("")

    def heard(text: str) -> None:
        meter.clear()
        if text:
            click.echo(safe(f"heard> {text}"))

    show = Show(lines=lines, partial=meter.partial, loudness=meter.loudness, heard=heard)
    conversation = Conversation(
        turns,
        worker,
        endpointer,
        show,
        clock=now,
        voice=speaker,
        interruptible=interrupt,
        typed=typed,
        push_to_talk=push,
    )
    how = "Press Enter to talk." if push else f'Say "{called}" and your question.' if called else "Speak."
    click.echo(f"Listening on {safe(microphone.name)} with {', '.join(worker.engines)}. {how} Ctrl-C leaves.\n")
    conversation.run(microphone)


def _for_ear(session: Any, pace: str) -> Any:
    from cabassist.voice.spoken import for_ear

    def ear(reply: Reply) -> str:
        return for_ear(reply, pace="short" if pace == "short" else "full", rolling=session.state.rolling)

    return ear


def _keyboard() -> queue.Queue[str]:
    """Lines typed while the microphone is open."""
    typed: queue.Queue[str] = queue.Queue()

    def read() -> None:
        for line in sys.stdin:
            typed.put(line)

    threading.Thread(target=read, daemon=True, name="cabassist-keyboard").start()
    return typed


def _in_text(session: Any, typed: queue.Queue[str] | None = None) -> None:
    """Go on by typing, on the same session, so that nothing is lost."""
    from cabassist.dialogue.resuming import LEAVE

    click.echo("Type what you want to say, or quit.")
    try:
        while True:
            line = (typed.get() if typed is not None else input("you> " if sys.stdin.isatty() else "")).strip()
            if line.lower() in LEAVE:
                break
            if line:
                print_lines(session.hear(line, now()).show)
                click.echo("")
    except (EOFError, KeyboardInterrupt):
        pass
    click.echo("Goodbye. Everything said is in the journal.")


class _Meter:
    """One line at the bottom of a terminal with the level and what is understood so far; nothing elsewhere."""

    def __init__(self) -> None:
        self._live = sys.stdout.isatty() and not plain_output()
        self._text = ""
        self._blocks = 0
        self._peak = METER_FLOOR_DB

    def loudness(self, decibels: float) -> None:
        """Show the loudest of some blocks."""
        self._peak = max(self._peak, decibels)
        self._blocks += 1
        if self._live and self._blocks >= 4:
            click.echo(f"\r\x1b[K{bar(self._peak)} {safe(self._text)[-50:]}", nl=False)
            self._blocks, self._peak = 0, METER_FLOOR_DB

    def partial(self, text: str) -> None:
        """What is understood so far."""
        self._text = text

    def clear(self) -> None:
        """Make room for lines."""
        self._text = ""
        if self._live:
            click.echo("\r\x1b[K", nl=False)


def bar(decibels: float) -> str:
    """A level between -60 and 0 dB as a bar."""
    filled = round(METER_CELLS * min(1.0, max(0.0, 1 - decibels / METER_FLOOR_DB)))
    return "[" + "#" * filled + "." * (METER_CELLS - filled) + "]"


# -- check ---------------------------------------------------------------------------------------


@voice.command()
@click.option("--device", help="Microphone: its number or part of its name.")
@click.option("--seconds", type=click.FloatRange(0.5, 60), default=4.0, show_default=True, help="How long to listen.")
@json_option
@click.pass_obj
def check(given: Given, device: str | None, seconds: float, as_json: bool) -> None:
    """Test microphone, recognisers and speaker, and say what to mend."""
    rows = [
        _checked("microphone", lambda: _check_microphone(device, seconds)),
        _checked("end of speech", _check_detector),
        *_check_engines(given),
        _checked("speaker", _check_speaker),
    ]
    if as_json:
        print_json({"checks": [{"part": part, "works": works, "about": about} for part, works, about in rows]})
    else:
        for part, works, about in rows:
            click.echo(safe(f"{'works ' if works else 'FAILS '} {part}: {about}"))
        if all(works for _, works, _ in rows):
            click.echo("All of it works. Start with: cabassist voice")
    needed = {part: works for part, works, _ in rows}
    sys.exit(ANSWERED if needed["microphone"] and needed["pocketsphinx"] and needed["end of speech"] else NOT_ANSWERED)


def _checked(part: str, run: Any) -> tuple[str, bool, str]:
    try:
        works, about = run()
    except CabassistError as error:
        return part, False, str(error)
    return part, works, about


def _check_microphone(device: str | None, seconds: float) -> tuple[bool, str]:
    from cabassist.voice.microphone import DeviceMicrophone, devices
    from cabassist.voice.sound import level

    listed = "; ".join(f"{d.number} {d.name}" for d in devices())
    microphone = DeviceMicrophone(device)
    click.echo(f"Say something for {seconds:g} seconds.", err=True)
    pcm = bytearray()
    try:
        for block in microphone.blocks():
            pcm += block
            if len(pcm) >= seconds * 32_000:
                break
    finally:
        microphone.close()
    found = level(bytes(pcm))
    about = f"{microphone.name}, {bar(found.peak)} peak {found.peak:.0f} dB. All: {listed}."
    if found.peak < -50:
        return False, f"{about} Hardly any sound: raise its volume, unmute it, or choose another with --device."
    if found.clipped > 0.01:
        return False, f"{about} Too loud, the sound is cut off: lower its volume or hold it farther away."
    return True, about


def _check_detector() -> tuple[bool, str]:
    from cabassist.voice.endpoint import CHUNK_BYTES, Silero

    quiet = Silero()(bytes(CHUNK_BYTES))
    return quiet < 0.5, "silero"


def _check_engines(given: Given) -> Iterable[tuple[str, bool, str]]:
    from cabassist.voice import models
    from cabassist.voice.sphinx import bundled_model

    data = places.data_folder()
    yield _checked("pocketsphinx", lambda: (True, f"model in {bundled_model().acoustic.parent}"))
    yield _checked("vosk", lambda: _check_vosk(models.vosk_model(data)))
    yield _checked("whisper", lambda: _check_whisper(models.whisper_model(data)))


def _check_vosk(folder: Path | None) -> tuple[bool, str]:
    if folder is None:
        return True, "not used, no model is there. To add one: cabassist voice model add FOLDER, ZIP or ADDRESS"
    from cabassist.voice.vosk import Vosk

    Vosk(folder).close()
    return True, f"model {folder}"


def _check_whisper(folder: Path | None) -> tuple[bool, str]:
    if folder is None:
        return True, "not used, no model is there. To hear open questions better: pip install 'cabassist[voice-open]'"
    from cabassist.voice.whisper import Whisper

    Whisper(folder).close()
    return True, f"model {folder}"


def _check_speaker() -> tuple[bool, str]:
    from cabassist.voice.speaking import open_speaker

    speaker = open_speaker()
    try:
        whole = speaker.say("This is how I sound.").wait()
    finally:
        speaker.close()
    return whole, speaker.engine if whole else f"{speaker.engine}, but the loudspeaker stopped. Connect it again."


# -- files ---------------------------------------------------------------------------------------


@voice.command()
@click.argument("file", type=click.Path(path_type=Path))
@json_option
@click.pass_obj
def transcribe(given: Given, file: Path, as_json: bool) -> None:
    """Write down what is said in a sound file, one line an utterance."""
    from cabassist.dialogue.session import load_mind
    from cabassist.voice.endpoint import Endpointer, Silero, utterances
    from cabassist.voice.microphone import FileMicrophone
    from cabassist.voice.turns import DEFAULT_TRIGGER
    from cabassist.voice.worker import load_ears

    microphone = FileMicrophone(file)
    ears = load_ears(setup_of(given, DEFAULT_TRIGGER, _told), _told)
    repairer = repairer_of(given, load_mind(given.coach_file(), given.knowledge_folder()), DEFAULT_TRIGGER)
    rows = []
    for utterance in utterances(microphone.blocks(), Endpointer(Silero())):
        hearing = ears.hear(utterance.pcm, utterance.noise)
        best = hearing.best
        if not best.text:
            continue
        text = repairer.repair(best.text).text
        rows.append(
            {
                "text": text,
                "original": best.text,
                "engine": best.engine,
                "confidence": round(best.confidence, 3),
                "seconds": round(hearing.seconds, 2),
                "others": [{"engine": h.engine, "text": h.text} for h in hearing.hypotheses if h is not best],
                "hazards": list(hearing.spotted),
            }
        )
        if not as_json:
            click.echo(safe(text))
    if as_json:
        print_json({"utterances": rows})
    elif not rows:
        click.echo("No speech was heard.", err=True)
    sys.exit(ANSWERED if rows else NOT_ANSWERED)


@voice.command()
@click.argument("text")
@click.option("--to", "path", type=click.Path(path_type=Path), help="Write a WAV file instead of speaking.")
@click.option("--rate", type=click.IntRange(90, 260), help="Words a minute.")
def say(text: str, path: Path | None, rate: int | None) -> None:
    """Say a text aloud, the way answers are said."""
    from cabassist.voice.speaking import USUAL, open_speaker

    speaker = open_speaker(rate=rate or USUAL, aloud=path is None)
    try:
        if path is not None:
            lasts = speaker.to_wav(text, path)
            click.echo(safe(f"{path}: {lasts:.1f} s"))
        else:
            speaker.say(text).wait()
    finally:
        speaker.close()


@voice.group(cls=Commands)
def model() -> None:
    """Models of the recognisers that do not come with the installation."""


@model.command()
@click.argument("source")
@click.option("--sha256", help="What its SHA-256 must be; another one is refused.")
@json_option
def add(source: str, sha256: str | None, as_json: bool) -> None:
    """Add a vosk or Whisper model from a folder, an archive or an address.

    A download that broke off goes on where it stopped when the same command is given again.
    """
    from cabassist.voice.model_store import add_model

    with click.progressbar(length=1, label="Fetching", file=sys.stderr) as shown:

        def progress(done: int, of: int | None) -> None:
            shown.length = of or done
            shown.pos = done
            shown.update(0)

        added = add_model(source, places.data_folder(), sha256=sha256, progress=progress)
    body = {"kind": added.kind, "folder": str(added.folder), "bytes": added.size, "sha256": added.sha256}
    if as_json:
        print_json(body)
        return
    click.echo(safe(f"Added the {added.kind} model {added.folder.name}, {added.size / 1e6:.0f} MB, in {added.folder}."))
    if added.sha256:
        click.echo(f"SHA-256 of the archive: {added.sha256}")
    click.echo("It is used from the next start on. To try it: cabassist voice check")
