"""Make `knowledge/reports.npz`: the small network that tells whether what is said at a step tells that the step is done.

    python tests/bench/train_reports.py

It goes on from the layers of `knowledge/encoder.npz`, whose word pieces it shares, and learns from `knowledge/reports/*.txt`:
each line with its own step, and with others of the same procedure and of other ones, of which it tells nothing. Wordings of
questions, wishes, dangers and commands and what is said to others show it what is no report; the lines of `knowledge/dangers/` at steps
that share words with them, beside what is rightly told done there, show it what is a danger or an unsafe wish at a step. Slips and dropped words are drawn
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
from train_encoder import AVERAGED, KNOWLEDGE, learn, mean_of, stored_heads, stored_layers, vary
from train_roles import begin, optimiser_for, start_from
from transformers import BertModel

from cabassist import places
from cabassist.coach import facts
from cabassist.dialogue.phrases import filled
from cabassist.dialogue.session import load_coach
from cabassist.language.encoder import Encoder
from cabassist.language.report_network import ACTS, MOST_PIECES, RISKS, paired, words_of_step
from cabassist.procedures.library import OUT_OF_SCOPE, STEER, WISH, compile_knowledge, knowledge_files
from cabassist.procedures.reports import Block, blocks_in

SENSED = re.compile(
    r"\b(?:smell|sniff|hiss|listen|leak|bubble|smoke|burn|alarm|detector|hot|warm|touch|feel|wet|drip|gas)", re.I
)
"""Steps at which something dangerous may be found."""
UNTOLD = -1.0
"""Where something is not known of a text: whether "sorted" tells a step done, at any."""
NO_ACT = -100
"""In place of an act that is not known."""


class Row(NamedTuple):
    """A text at a step. Whatever is UNTOLD, nothing is learnt of."""

    said: str
    step: str
    done: float
    act: str | None
    danger: float = UNTOLD
    """Whether it tells, at this step, of a danger that is there now."""
    wish: float = UNTOLD
    """Whether it wishes, at this step, for something unsafe."""


class Texts(NamedTuple):
    """What there is to learn from."""

    blocks: dict[str, list[Block]]
    steps: dict[str, list[str]]
    """The steps of each procedure as they are said on the demo coach."""
    asks: list[tuple[str, str]]
    """Wordings that ask for something, with the procedure."""
    others: dict[str, list[str]]
    """Texts of the acts that belong to no step, in which nothing is dangerous."""
    dangers: list[str]
    """Reports of dangers, whatever step is in hand."""
    wishes: list[str]
    """Unsafe wishes, whatever step is in hand."""
    harmless: list[str]
    """The same words where nothing is wrong and nothing unsafe is wished for."""
    unwished: list[str]
    """Texts of which only that is known that they wish for nothing unsafe."""

    @classmethod
    def read(cls) -> Texts:
        compiled = compile_knowledge(KNOWLEDGE, knowledge_files(KNOWLEDGE))
        coach = facts(load_coach(places.demo_coach()))
        steps = {
            name: [filled(words_of_step(step["do"], step.get("done_when")), coach) for step in raw["steps"]]
            for name, raw in compiled["procedures"].items()
        }
        blocks = {path.stem: blocks_in(path) for path in sorted((KNOWLEDGE / "reports").glob("*.txt"))}
        asks, others, dangers, wishes = [], {act: list[str]() for act in ACTS}, list[str](), list[str]()
        for text, label in compiled["phrases"]:
            if label in compiled["procedures"]:
                hazard = compiled["procedures"][label]["kind"] == "hazard"
                dangers.append(text) if hazard else asks.append((text, label))
            elif label.startswith(WISH):
                wishes.append(text)
            elif label == OUT_OF_SCOPE:
                others["asks"].append(text)
            elif label.startswith(STEER):
                verb = label.removeprefix(STEER)
                act = {"none": "aside", "next": "report"}.get(verb, "command")
                others[act].append(text)
        lines = {path.stem: path.read_text().splitlines() for path in sorted((KNOWLEDGE / "dangers").glob("*.txt"))}
        wishes += [line.partition("\t")[2] for line in lines.pop("wished")]
        harmless, unwished = lines.pop("calm"), lines.pop("unwished")
        for told in lines.values():
            dangers += told
        return cls(blocks, steps, asks, others, dangers, wishes, harmless, unwished)


def epoch_of(texts: Texts, rng: random.Random, others: int) -> list[Row]:
    """What one epoch shows."""
    rows: list[Row] = []
    names = sorted(texts.blocks)
    for name, blocks in texts.blocks.items():
        steps = texts.steps[name]
        for at, block in enumerate(blocks):
            for said in block.done:
                rows.append(Row(said, steps[at], 1.0, "report", 0.0, 0.0))
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
                    rows.append(Row(whole, steps[at], 1.0, "report", 0.0, 0.0))
                if rng.random() < 0.06:  # done, and a danger in the same breath
                    peril = rng.choice(texts.dangers)
                    whole = rng.choice([f"{said} and {peril}", f"{peril}, {said}", f"{said}, {peril}", f"{said} but {peril}"])  # fmt: skip
                    rows.append(Row(whole, steps[at], UNTOLD, None, 1.0, UNTOLD))
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
        rows.append(Row(said, rng.choice(steps), 0.0, "asks", 0.0, 0.0))
    every = [step for name in names for step in texts.steps[name]]
    looking = [step for step in every if SENSED.search(step)]
    for act, said_ in texts.others.items():
        for said in rng.sample(said_, min(others // 3, len(said_))):
            done = UNTOLD if act == "report" else 0.0
            rows.append(Row(said, rng.choice(every), done, act, 0.0, 0.0))
    for said in rng.sample(texts.dangers, min(others, len(texts.dangers))):
        # where a danger is looked for, finding it is not "done"; and at a step that is about the same things it is one all the same
        step = rng.choice(looking) if rng.random() < 0.4 else likest(said, rng.sample(every, 40))
        rows.append(Row(said, step, 0.0, "trouble", 1.0, UNTOLD))
    for said in rng.sample(texts.wishes, min(others, len(texts.wishes))):
        rows.append(Row(said, likest(said, rng.sample(every, 40)), UNTOLD, None, UNTOLD, 1.0))
    for said in rng.sample(texts.harmless, min(others, len(texts.harmless))):
        rows.append(Row(said, likest(said, rng.sample(every, 20)), UNTOLD, None, 0.0, 0.0))
    for said in texts.unwished:
        rows.append(Row(said, rng.choice(every), UNTOLD, None, UNTOLD, 0.0))
    return rows


def likest(said: str, steps: list[str]) -> str:
    """The step of these that shares most words with what is said."""
    words = set(re.findall(r"[a-z]{4,}", said.lower()))
    return max(steps, key=lambda step: len(words & set(re.findall(r"[a-z]{4,}", step.lower()))))


class Network(nn.Module):
    def __init__(self, bert: BertModel) -> None:
        super().__init__()
        self.bert = bert
        width = bert.config.hidden_size
        self.done = nn.Linear(3 * width, 1)
        self.act = nn.Linear(3 * width, len(ACTS))
        self.risk = nn.Linear(3 * width, len(RISKS))
        self.drop = nn.Dropout(0.2)

    def forward(self, ids: torch.Tensor, mask: torch.Tensor, said: torch.Tensor) -> tuple[torch.Tensor, ...]:
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
        return self.done(pooled).squeeze(-1), self.act(pooled), self.risk(pooled)


def batch_of(pairs: list[tuple[str, str]], encoder: Encoder) -> tuple[torch.Tensor, ...]:
    """Ids, mask, and which of the pieces were said."""
    rows = [paired(encoder, said, step) for said, step in pairs]
    longest = max(len(ids) for ids, _ in rows)
    ids, mask, said = (torch.zeros(len(rows), longest, dtype=torch.long) for _ in range(3))
    for i, (row, split) in enumerate(rows):
        ids[i, : len(row)], mask[i, : len(row)], said[i, :split] = torch.tensor(row), 1, 1
    return ids, mask, said


def told_loss(found: torch.Tensor, truth: torch.Tensor) -> torch.Tensor:
    """How far chances are from what is known; of what is not, nothing."""
    known = (truth != UNTOLD).float()
    soft = truth.clamp(0.0, 1.0) * 0.94 + 0.03
    return (F.binary_cross_entropy_with_logits(found, soft, reduction="none") * known).mean()


def loss_of(done: torch.Tensor, act: torch.Tensor, risk: torch.Tensor, rows: list[Row]) -> torch.Tensor:
    """How far the network is from what is known."""
    loss = told_loss(done, torch.tensor([row.done for row in rows]))
    loss = loss + 2 * told_loss(risk, torch.tensor([[row.danger, row.wish] for row in rows]))
    acts = torch.tensor([NO_ACT if row.act is None else ACTS.index(row.act) for row in rows])
    each = F.cross_entropy(act, acts, label_smoothing=0.05, ignore_index=NO_ACT, reduction="none")
    return loss + 0.5 * each.mean()


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
    parser.add_argument("--mean", type=Path, nargs=2, help="train nothing: write the mean of two networks, one of which went on from the other")  # fmt: skip
    given = parser.parse_args()
    if given.mean:
        np.savez(given.to, **mean_of(*given.mean))
        return
    torch.set_num_threads(given.threads)
    torch.manual_seed(given.seed)
    rng = random.Random(given.seed)
    encoder = Encoder(KNOWLEDGE / "encoder.npz")
    parts, places_, before = start_from(given.go_on, MOST_PIECES)
    texts = Texts.read()
    model = Network(begin(encoder, parts, places_))
    if before:
        with torch.no_grad():
            for name, layer in (("done", model.done), ("act", model.act), ("risk", model.risk)):
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
            done, act, risk = model(*batch_of([(vary(row.said, rng), row.step) for row in batch], encoder))
            loss = loss_of(done, act, risk, batch)
            learn(model, loss, optimiser, schedule, kept)
            total += loss.item()
        print(f"epoch {epoch + 1}: loss {total / len(batches):.4f}, {time.monotonic() - begun:.0f} s", flush=True)
    export(kept.module, given.to)


def export(model: Network, to: Path) -> None:
    """Write the network: 8-bit layers, 16-bit rest; the word pieces are the encoder's."""
    weights = {name: value.detach().numpy() for name, value in model.state_dict().items()}
    arrays = {"places": weights["bert.embeddings.position_embeddings.weight"].astype(np.float16)}
    arrays |= stored_heads(weights, "done", "act", "risk")
    arrays |= stored_layers(weights, model.bert.config.num_hidden_layers)
    np.savez(to, **arrays)
    print(f"{to}: {to.stat().st_size / 1e6:.1f} MB")


if __name__ == "__main__":
    main()
