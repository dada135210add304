"""Make `knowledge/dangers.npz`: the small network that tells whether a danger is there now, or something unsafe is wished for.

    python tests/bench/train_dangers.py

It goes on from the layers of `knowledge/encoder.npz`, whose word pieces it shares. It learns from the wordings of hazards and
of unsafe wishes, from `knowledge/dangers/*.txt`, and from everything else, where nothing is wrong: what drivers say of steps
that are done (`knowledge/reports/`) and all other wordings. Two matters in one breath,
slips and dropped words are drawn anew in every epoch. Question sets under `tests/data/` are never read.

Needs packages that the assistant does not: see "Train the encoder" in DEVELOPERS.md.
"""

from __future__ import annotations

import argparse
import math
import random
import time
from pathlib import Path
from typing import NamedTuple

import numpy as np
import torch
import torch.nn.functional as F
import yaml
from torch import nn
from torch.optim.swa_utils import AveragedModel, get_ema_multi_avg_fn
from train_encoder import AVERAGED, JOINTS, KNOWLEDGE, learn, mean_of, stored_heads, stored_layers, vary
from train_roles import begin, optimiser_for, start_from, take_head
from transformers import BertModel

from cabassist import places
from cabassist.dialogue.session import load_mind
from cabassist.language.danger_network import MOST_PIECES, WISH, parted
from cabassist.language.encoder import Encoder
from cabassist.procedures.library import WISH as WISHED
from cabassist.procedures.library import compile_knowledge, knowledge_files
from cabassist.procedures.reports import blocks_in

CALM, WISHED_LINES, UNWISHED = "calm", "wished", "unwished"
"""Files of lines in which nothing is wrong, of unsafe wishes with their ids, and of what is no such wish, be there a danger or not."""
UNTOLD = -1.0
"""Where it is not known whether a text reports a danger: somebody who wishes to tape over an alarm may hear it."""


IN_PASSING = (5, 3, 2)
"""How often a danger, something near one and a wish stand beside other matters."""
THIRD = 0.3
"""How many of these breaths hold a third matter."""
MOST_WORDS = 48

WHICH = 0.5
"""What telling one wish from another counts beside telling wishes from everything else."""


class Row(NamedTuple):
    """A text, and for each label whether it fits: 1, 0, or UNTOLD."""

    text: str
    truth: tuple[float, ...]
    which: int = -100
    """Which wish it is, where it is one."""


class Texts(NamedTuple):
    """What there is to learn from."""

    labels: list[str]
    kinds: list[str]
    """The ids of the wishes."""
    close: list[Row]
    """Dangers, wishes that hang on a small word, and what stands near them; all are seen in every epoch."""
    wishes: list[Row]
    other: list[Row]
    told: list[Row]
    """What is said of steps that are done, without any sign of a danger."""

    @classmethod
    def read(cls) -> Texts:
        compiled = compile_knowledge(KNOWLEDGE, knowledge_files(KNOWLEDGE))
        hazards = {p["id"] for p in compiled["procedures"].values() if p["kind"] == "hazard"}
        lines = [
            (path.stem, line)
            for path in sorted((KNOWLEDGE / "dangers").glob("*.txt"))
            for line in path.read_text().splitlines()
            if line.strip()
        ]
        labels = sorted({*hazards, *(label for label, _ in lines if label not in (CALM, WISHED_LINES, UNWISHED)), WISH})
        kinds = sorted(compiled["wishes"])

        def only(label: str) -> tuple[float, ...]:
            if label in (WISH, UNWISHED):
                return tuple(float(label == WISH) if one == WISH else UNTOLD for one in labels)
            return tuple(1.0 if one == label else 0.0 for one in labels)

        def row(label: str, line: str) -> Row:
            if label != WISHED_LINES:
                return Row(line, only(label))
            name, _, text = line.partition("\t")
            return Row(text, only(WISH), kinds.index(name))

        close = [row(label, line) for label, line in lines]
        wishes: list[Row] = []
        other: list[Row] = []
        harmless = {row["ask"] for row in yaml.safe_load((KNOWLEDGE / "harmless.yaml").read_text())}
        for text, label in compiled["phrases"]:
            if label in hazards:
                close.append(Row(text, only(label)))
            elif label.startswith(WISHED):
                wishes.append(Row(text, only(WISH), kinds.index(label.removeprefix(WISHED))))
            else:
                (close if text in harmless else other).append(Row(text, only("")))
        screen = load_mind(places.demo_coach()).hazards
        told = [
            Row(said, only(""))
            for path in sorted((KNOWLEDGE / "reports").glob("*.txt"))
            for block in blocks_in(path)
            for said in block.done
            if screen.find(said) is None
        ]
        return cls(labels, kinds, merged(close), wishes, other, told)


def merged(rows: list[Row]) -> list[Row]:
    """Each text once: one that stands in the files of two dangers tells of both."""
    truths: dict[str, Row] = {}
    for row in rows:
        held = truths.get(row.text)
        truth = row.truth if held is None else tuple(map(max, held.truth, row.truth))
        truths[row.text] = Row(row.text, truth, max(row.which, held.which if held is not None else row.which))
    return list(truths.values())


def joined(one: Row, two: Row, rng: random.Random) -> Row:
    """Two matters in one breath."""
    first, second = (one, two) if rng.random() < 0.5 else (two, one)
    truth = tuple(
        UNTOLD if UNTOLD in pair and 1.0 not in pair else max(pair) for pair in zip(one.truth, two.truth, strict=True)
    )
    return Row(first.text.rstrip("?.! ") + rng.choice(JOINTS) + second.text, truth, max(one.which, two.which))


def epoch_of(texts: Texts, given: argparse.Namespace, rng: random.Random) -> list[Row]:
    """What one epoch shows."""
    close, other = texts.close, rng.sample(texts.other, min(given.others, len(texts.other)))
    wishes = rng.sample(texts.wishes, min(given.wishes, len(texts.wishes)))
    told = rng.sample(texts.told, min(given.told, len(texts.told)))
    dangers = [row for row in close if 1.0 in row.truth]
    calm = [row for row in close if 1.0 not in row.truth]
    beside = [*texts.other, *texts.told]
    pairs = []
    while len(pairs) < given.pairs:
        main = rng.choice(rng.choices([dangers, calm, wishes], IN_PASSING)[0])
        row = joined(main, rng.choice(beside), rng)
        if rng.random() < THIRD:
            row = joined(row, rng.choice(beside), rng)
        if len(row.text.split()) < MOST_WORDS:
            pairs.append(row)
    return [*close, *other, *wishes, *told, *pairs]


class Network(nn.Module):
    def __init__(self, bert: BertModel, labels: int, kinds: int) -> None:
        super().__init__()
        self.bert = bert
        self.label = nn.Linear(2 * bert.config.hidden_size, labels)
        self.which = nn.Linear(2 * bert.config.hidden_size, kinds)
        self.drop = nn.Dropout(0.2)

    def forward(self, ids: torch.Tensor, mask: torch.Tensor) -> tuple[torch.Tensor, torch.Tensor]:
        hidden = self.bert(input_ids=ids, attention_mask=mask).last_hidden_state
        weight = mask.unsqueeze(-1).float()
        mean = (hidden * weight).sum(1) / weight.sum(1)
        most = hidden.masked_fill(weight == 0, -1e4).max(1).values
        said = self.drop(torch.cat([mean, most], -1))
        return self.label(said), self.which(said)


def batch_of(texts: list[str], encoder: Encoder) -> tuple[torch.Tensor, torch.Tensor]:
    """Ids and mask of texts; of a long one its first part."""
    rows = [parted(encoder, text)[0] for text in texts]
    longest = max(map(len, rows))
    ids, mask = torch.zeros(len(rows), longest, dtype=torch.long), torch.zeros(len(rows), longest, dtype=torch.long)
    for i, row in enumerate(rows):
        ids[i, : len(row)], mask[i, : len(row)] = torch.tensor(row), 1
    return ids, mask


def loss_of(logits: torch.Tensor, kinds: torch.Tensor, rows: list[Row]) -> torch.Tensor:
    """How far the network is from the truth, where it is told."""
    truth = torch.tensor([row.truth for row in rows])
    known = (truth != UNTOLD).float()
    soft = truth.clamp(0.0, 1.0) * 0.97 + 0.01
    loss = (F.binary_cross_entropy_with_logits(logits, soft, reduction="none") * known).sum() / len(rows)
    which = torch.tensor([row.which for row in rows])
    if (which >= 0).any():
        loss = loss + WHICH * F.cross_entropy(kinds, which, label_smoothing=0.05) * (which >= 0).float().mean()
    return loss


def tell(model: Network, rows: list[Row], labels: list[str], encoder: Encoder) -> None:
    """Print how many of these texts the network judges as they are marked."""
    model.eval()
    right = dict.fromkeys(("danger", "calm", "wish"), 0)
    of = dict.fromkeys(right, 0)
    with torch.no_grad():
        for start in range(0, len(rows), 64):
            chunk = rows[start : start + 64]
            chances = torch.sigmoid(model(*batch_of([row.text for row in chunk], encoder))[0])
            for row, chance in zip(chunk, chances, strict=True):
                wish, dangers = labels.index(WISH), [i for i, one in enumerate(labels) if one != WISH]
                kind = "wish" if row.truth[wish] == 1 else "danger" if 1.0 in row.truth else "calm"
                of[kind] += 1
                if kind == "wish":
                    right[kind] += int(chance[wish] >= 0.5)
                else:
                    right[kind] += int((chance[dangers].max() >= 0.5) == (kind == "danger"))
    print("  kept back: " + ", ".join(f"{kind} {right[kind]} of {of[kind]}" for kind in right), flush=True)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--epochs", type=int, default=8)
    parser.add_argument("--batch", type=int, default=64)
    parser.add_argument("--rate", type=float, default=3e-4)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--threads", type=int, default=2)
    parser.add_argument("--others", type=int, default=8000, help="harmless wordings of everything else, drawn anew each epoch")  # fmt: skip
    parser.add_argument("--wishes", type=int, default=6000, help="unsafe wishes drawn anew each epoch")
    parser.add_argument("--told", type=int, default=3000, help="reports of steps that are done, drawn anew each epoch")
    parser.add_argument(
        "--pairs", type=int, default=8000, help="two or three matters in one breath, made anew each epoch"
    )
    parser.add_argument("--held", type=float, default=0.0, help="share of the texts kept back, to see how it does on them")  # fmt: skip
    parser.add_argument("--go-on", type=Path, help="go on from this network, for lines that came later")
    parser.add_argument("--mean", type=Path, nargs=2, help="train nothing: write the mean of two networks, one of which went on from the other")  # fmt: skip
    parser.add_argument("--to", type=Path, default=KNOWLEDGE / "dangers.npz")
    given = parser.parse_args()
    if given.mean:
        np.savez(given.to, **mean_of(*given.mean))
        return
    torch.set_num_threads(given.threads)
    torch.manual_seed(given.seed)
    rng = random.Random(given.seed)

    encoder = Encoder(KNOWLEDGE / "encoder.npz")
    parts, places, before = start_from(given.go_on, MOST_PIECES)
    texts = Texts.read()
    kept_back: list[Row] = []
    for rows in (texts.close, texts.wishes):
        rng.shuffle(rows)
        kept_back += rows[: int(len(rows) * given.held)]
        del rows[: int(len(rows) * given.held)]
    print(f"{len(texts.close)} dangers and lines near them, {len(texts.wishes)} wishes, {len(texts.other)} others; labels: {' '.join(texts.labels)}", flush=True)  # fmt: skip

    model = Network(begin(encoder, parts, places), len(texts.labels), len(texts.kinds))
    take_head(model.label, "label", texts.labels, before, "labels")
    take_head(model.which, "which", texts.kinds, before, "wishes")
    optimiser = optimiser_for(model, given.rate)
    steps = given.epochs * math.ceil(
        (len(texts.close) + given.others + given.wishes + given.told + given.pairs) / given.batch + 1
    )
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimiser, [given.rate, 2e-3], total_steps=steps, pct_start=0.1)
    kept = AveragedModel(model, multi_avg_fn=get_ema_multi_avg_fn(AVERAGED))
    begun = time.monotonic()
    for epoch in range(given.epochs):
        model.train()
        total = 0.0
        mixed = epoch_of(texts, given, rng)
        rng.shuffle(mixed)
        # batches of like length waste little padding; the order of batches stays random
        chunks = [sorted(mixed[i : i + given.batch * 8], key=lambda row: len(row.text)) for i in range(0, len(mixed), given.batch * 8)]  # fmt: skip
        batches = [chunk[i : i + given.batch] for chunk in chunks for i in range(0, len(chunk), given.batch)]
        rng.shuffle(batches)
        for batch in batches:
            loss = loss_of(*model(*batch_of([vary(row.text, rng) for row in batch], encoder)), batch)
            learn(model, loss, optimiser, schedule, kept)
            total += loss.item()
        print(f"epoch {epoch + 1}: loss {total / len(batches):.4f}, {time.monotonic() - begun:.0f} s", flush=True)
        if kept_back and (epoch + 1) % 2 == 0:
            tell(kept.module, kept_back, texts.labels, encoder)
    export(kept.module, texts, given.to)


def export(model: Network, texts: Texts, to: Path) -> None:
    """Write the network: 8-bit layers, 16-bit rest; the word pieces are the encoder's."""
    weights = {name: value.detach().numpy() for name, value in model.state_dict().items()}
    arrays: dict[str, np.ndarray] = {
        "labels": np.array("\n".join(texts.labels)),
        "wishes": np.array("\n".join(texts.kinds)),
        "places": weights["bert.embeddings.position_embeddings.weight"].astype(np.float16),
    }
    arrays |= stored_heads(weights, "label", "which")
    arrays |= stored_layers(weights, model.bert.config.num_hidden_layers)
    np.savez(to, **arrays)
    print(f"{to}: {to.stat().st_size / 1e6:.1f} MB")


if __name__ == "__main__":
    main()
