"""Make `knowledge/reports.npz`: the small network that tells whether what is said at a step tells that the step is done.

    python tests/bench/train_reports.py

It goes on from the layers of `knowledge/encoder.npz`, whose word pieces it shares, and learns from `knowledge/reports/*.txt`:
each line with its own step, and with others of the same procedure and of other ones, of which it tells nothing. Wordings of
questions, wishes, dangers and commands and what is said to others show it what is no report. Slips and dropped words are drawn
anew in every epoch. Question sets under `tests/data/` are never read.

Needs packages that the assistant does not: see "Train the encoder" in DEVELOPERS.md.
"""

from __future__ import annotations

import argparse
import math
import random
import re
import time
from pathlib import Path
from typing import NamedTuple

import numpy as np
import torch
import torch.nn.functional as F
from torch import nn
from torch.optim.swa_utils import AveragedModel, get_ema_multi_avg_fn
from train_encoder import AVERAGED, KNOWLEDGE, learn, stored_heads, stored_layers, vary
from train_roles import begin, optimiser_for, start_from
from transformers import BertModel

from cabassist import places
from cabassist.coach import facts
from cabassist.dialogue.phrases import filled
from cabassist.dialogue.session import load_coach
from cabassist.language.encoder import Encoder
from cabassist.language.report_network import ACTS, MOST_PIECES, paired, words_of_step
from cabassist.procedures.library import OUT_OF_SCOPE, STEER, WISH, compile_knowledge, knowledge_files
from cabassist.procedures.reports import Block, blocks_in

SENSED = re.compile(
    r"\b(?:smell|sniff|hiss|listen|leak|bubble|smoke|burn|alarm|detector|hot|warm|touch|feel|wet|drip|gas)", re.I
)
"""Steps at which something dangerous may be found."""
UNTOLD = -1.0
"""Where it is not known whether a text tells the step done: "sorted", at any."""


class Row(NamedTuple):
    """A text at a step."""

    said: str
    step: str
    done: float
    act: str


class Texts(NamedTuple):
    """What there is to learn from."""

    blocks: dict[str, list[Block]]
    steps: dict[str, list[str]]
    """The steps of each procedure as they are said on the demo coach."""
    asks: list[tuple[str, str]]
    """Wordings that ask for something, with the procedure."""
    others: dict[str, list[str]]
    """Texts of the acts that belong to no step."""

    @classmethod
    def read(cls) -> Texts:
        compiled = compile_knowledge(KNOWLEDGE, knowledge_files(KNOWLEDGE))
        told = facts(load_coach(places.demo_coach()))
        steps = {
            name: [filled(words_of_step(step["do"], step.get("done_when")), told) for step in raw["steps"]]
            for name, raw in compiled["procedures"].items()
        }
        blocks = {path.stem: blocks_in(path) for path in sorted((KNOWLEDGE / "reports").glob("*.txt"))}
        asks, others = [], {act: list[str]() for act in ACTS}
        for text, label in compiled["phrases"]:
            if label in compiled["procedures"]:
                hazard = compiled["procedures"][label]["kind"] == "hazard"
                others["trouble"].append(text) if hazard else asks.append((text, label))
            elif label.startswith(WISH) or label == OUT_OF_SCOPE:
                others["asks"].append(text)
            elif label.startswith(STEER):
                verb = label.removeprefix(STEER)
                act = {"none": "aside", "next": "report"}.get(verb, "command")
                others[act].append(text)
        for path in (KNOWLEDGE / "dangers").glob("*.txt"):
            if path.stem not in ("calm", "wished", "unwished"):
                others["trouble"] += path.read_text().splitlines()
        return cls(blocks, steps, asks, others)


def epoch_of(texts: Texts, rng: random.Random, others: int) -> list[Row]:
    """What one epoch shows."""
    rows: list[Row] = []
    names = sorted(texts.blocks)
    for name, blocks in texts.blocks.items():
        steps = texts.steps[name]
        for at, block in enumerate(blocks):
            for said in block.done:
                rows.append(Row(said, steps[at], 1.0, "report"))
                near = [i for i in range(max(0, at - 3), min(len(steps), at + 4)) if i != at]
                rows.append(Row(said, steps[rng.choice(near)], 0.0, "report"))
                if rng.random() < 0.5:
                    far = [i for i in range(len(steps)) if i != at]
                    rows.append(Row(said, steps[rng.choice(far)], 0.0, "report"))
                if rng.random() < 0.3:
                    rows.append(Row(said, rng.choice(texts.steps[rng.choice(names)]), 0.0, "report"))
                if rng.random() < 0.15:  # with something else in the same breath
                    beside = rng.choice(rng.choice(texts.blocks[rng.choice(names)]).done)
                    whole = rng.choice([f"{said} and {beside}", f"{beside}, {said}", f"{said}, {beside}"])
                    rows.append(Row(whole, steps[at], 1.0, "report"))
            for said in block.undone:
                rows.append(Row(said, steps[at], 0.0, "trouble"))
                rows.append(Row(said, steps[at], 0.0, "trouble"))
                if rng.random() < 0.3 and block.done:  # done, and something is wrong
                    whole = (
                        f"{rng.choice(block.done)}{rng.choice([' but ', ', but ', ', ', ' and ', ' except '])}{said}"
                    )
                    rows.append(Row(whole, steps[at], 0.0, "trouble"))
                if rng.random() < 0.3:
                    rows.append(Row(said, rng.choice(steps), 0.0, "trouble"))
            for said in block.asked:
                rows.append(Row(said, steps[at], 0.0, "asks"))
                if rng.random() < 0.3:
                    rows.append(Row(said, rng.choice(steps), 0.0, "asks"))
    for said, name in rng.sample(texts.asks, min(others, len(texts.asks))):
        steps = texts.steps[name if rng.random() < 0.5 else rng.choice(names)]
        rows.append(Row(said, rng.choice(steps), 0.0, "asks"))
    looking = [step for name in names for step in texts.steps[name] if SENSED.search(step)]
    for act, said_ in texts.others.items():
        for said in rng.sample(said_, min(others // 3, len(said_))):
            done = UNTOLD if act == "report" else 0.0
            step = rng.choice(texts.steps[rng.choice(names)])
            if act == "trouble" and rng.random() < 0.6:  # where a danger is looked for, finding it is not "done"
                step = rng.choice(looking)
            rows.append(Row(said, step, done, act))
    return rows


class Network(nn.Module):
    def __init__(self, bert: BertModel) -> None:
        super().__init__()
        self.bert = bert
        width = bert.config.hidden_size
        self.done = nn.Linear(3 * width, 1)
        self.act = nn.Linear(3 * width, len(ACTS))
        self.drop = nn.Dropout(0.2)

    def forward(self, ids: torch.Tensor, mask: torch.Tensor, said: torch.Tensor) -> tuple[torch.Tensor, torch.Tensor]:
        """`said` is 1 at the pieces of what is said, as `mask` is at all."""
        hidden = self.bert(input_ids=ids, attention_mask=mask).last_hidden_state
        spoken, step = said.unsqueeze(-1).float(), (mask - said).unsqueeze(-1).float()
        pooled = self.drop(
            torch.cat(
                [
                    (hidden * spoken).sum(1) / spoken.sum(1),
                    hidden.masked_fill(spoken == 0, -1e4).max(1).values,
                    (hidden * step).sum(1) / step.sum(1),
                ],
                -1,
            )
        )
        return self.done(pooled).squeeze(-1), self.act(pooled)


def batch_of(pairs: list[tuple[str, str]], encoder: Encoder) -> tuple[torch.Tensor, ...]:
    """Ids, mask, and which of the pieces were said."""
    rows = [paired(encoder, said, step) for said, step in pairs]
    longest = max(len(ids) for ids, _ in rows)
    ids, mask, said = (torch.zeros(len(rows), longest, dtype=torch.long) for _ in range(3))
    for i, (row, split) in enumerate(rows):
        ids[i, : len(row)], mask[i, : len(row)], said[i, :split] = torch.tensor(row), 1, 1
    return ids, mask, said


def loss_of(done: torch.Tensor, act: torch.Tensor, rows: list[Row]) -> torch.Tensor:
    """How far the network is from what is known."""
    truth = torch.tensor([row.done for row in rows])
    known = (truth != UNTOLD).float()
    soft = truth.clamp(0.0, 1.0) * 0.94 + 0.03
    loss = (F.binary_cross_entropy_with_logits(done, soft, reduction="none") * known).mean()
    acts = torch.tensor([ACTS.index(row.act) for row in rows])
    return loss + 0.5 * F.cross_entropy(act, acts, label_smoothing=0.05)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--epochs", type=int, default=8)
    parser.add_argument("--batch", type=int, default=64)
    parser.add_argument("--rate", type=float, default=3e-4)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--threads", type=int, default=2)
    parser.add_argument(
        "--others", type=int, default=3000, help="wordings that ask for something, drawn anew each epoch"
    )
    parser.add_argument("--go-on", type=Path, help="go on from this network, for lines that came later")
    parser.add_argument("--to", type=Path, default=KNOWLEDGE / "reports.npz")
    given = parser.parse_args()
    torch.set_num_threads(given.threads)
    torch.manual_seed(given.seed)
    rng = random.Random(given.seed)
    encoder = Encoder(KNOWLEDGE / "encoder.npz")
    parts, places_, before = start_from(given.go_on, MOST_PIECES)
    texts = Texts.read()
    model = Network(begin(encoder, parts, places_))
    if before:
        with torch.no_grad():
            for name, layer in (("done", model.done), ("act", model.act)):
                layer.weight.copy_(torch.tensor(before[name].astype(np.float32)))
                layer.bias.copy_(torch.tensor(before[f"{name}_bias"].astype(np.float32)))
    optimiser = optimiser_for(model, given.rate)
    count = len(epoch_of(texts, random.Random(0), given.others))
    steps = given.epochs * (math.ceil(count * 1.1 / given.batch) + 1)
    print(f"about {count} pairs an epoch", flush=True)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimiser, [given.rate, 2e-3], total_steps=steps, pct_start=0.1)
    kept = AveragedModel(model, multi_avg_fn=get_ema_multi_avg_fn(AVERAGED))
    begun = time.monotonic()
    for epoch in range(given.epochs):
        model.train()
        total = 0.0
        mixed = epoch_of(texts, rng, given.others)
        rng.shuffle(mixed)
        # batches of like length waste little padding; the order of batches stays random
        chunks = [sorted(mixed[i : i + given.batch * 8], key=lambda row: len(row.said) + len(row.step)) for i in range(0, len(mixed), given.batch * 8)]  # fmt: skip
        batches = [chunk[i : i + given.batch] for chunk in chunks for i in range(0, len(chunk), given.batch)]
        rng.shuffle(batches)
        batches = batches[: steps // given.epochs]
        for batch in batches:
            done, act = model(*batch_of([(vary(row.said, rng), row.step) for row in batch], encoder))
            loss = loss_of(done, act, batch)
            learn(model, loss, optimiser, schedule, kept)
            total += loss.item()
        print(f"epoch {epoch + 1}: loss {total / len(batches):.4f}, {time.monotonic() - begun:.0f} s", flush=True)
    export(kept.module, given.to)


def export(model: Network, to: Path) -> None:
    """Write the network: 8-bit layers, 16-bit rest; the word pieces are the encoder's."""
    weights = {name: value.detach().numpy() for name, value in model.state_dict().items()}
    arrays = {"places": weights["bert.embeddings.position_embeddings.weight"].astype(np.float16)}
    arrays |= stored_heads(weights, "done", "act")
    arrays |= stored_layers(weights, model.bert.config.num_hidden_layers)
    np.savez(to, **arrays)
    print(f"{to}: {to.stat().st_size / 1e6:.1f} MB")


if __name__ == "__main__":
    main()
