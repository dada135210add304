"""Make `knowledge/roles.npz`: the small network that tells what each amount of a sum is for.

    python tests/bench/train_roles.py

It goes on from the layers of `knowledge/encoder.npz`, whose word pieces it shares, and learns from the marked wordings of
`knowledge/roles/*.txt`; wordings of everything else show it what is no sum of these families. Numbers are drawn anew, units
changed, words misspelt and amounts that play no part put beside in every epoch. Question sets under `tests/data/` are never read.

Needs packages that the assistant does not: see "Train the encoder" in DEVELOPERS.md.
"""

from __future__ import annotations

import argparse
import math
import random
import time
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import torch
import torch.nn.functional as F
from torch import nn
from torch.optim.swa_utils import AveragedModel, get_ema_multi_avg_fn
from train_encoder import AVERAGED, KNOWLEDGE, NAMES, NORMS, learn, mean_of, slip, stored_heads, stored_layers
from transformers import BertConfig, BertModel

from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import read_question
from cabassist.language.encoder import Encoder
from cabassist.language.role_network import MOST_PIECES, NO_SUM, laid_out, pieces_of, shown
from cabassist.procedures.library import compile_knowledge, knowledge_files
from cabassist.sums.marked import answer_kind, marked


class Row(NamedTuple):
    """One wording, as it was read."""

    words: tuple[str, ...]
    amounts: tuple[Amount, ...]
    family: str
    roles: tuple[str, ...]
    """Of each amount; none when it is none of these sums."""
    kind: str
    """Of the answer."""


class Shown(NamedTuple):
    """One wording, as the network reads it."""

    words: list[str]
    spans: list[tuple[int, int]]
    family: str
    roles: tuple[str, ...]
    kind: str


NONE = KNOWLEDGE / "roles" / "none.txt"
"""Texts with amounts that are none of these sums."""
OTHER_UNITS = {"gal": "L", "L": "gal", "lb": "kg", "kg": "lb", "F": "C", "C": "F", "mi": "km", "km": "mi", "percent": "part", "part": "percent", "min": "h", "h": "min", "ft": "m", "in": "cm"}  # fmt: skip
BESIDE = ["{n} F outside", "{n} people aboard", "{n} mi to go", "it is {n} o'clock", "{n} h to the hotel", "paid {n} for it", "bay {n}"]  # fmt: skip


def sums() -> list[Row]:
    """The marked wordings."""
    found: list[Row] = []
    for path in sorted(set((KNOWLEDGE / "roles").glob("*.txt")) - {NONE}):
        for line in path.read_text().splitlines():
            if line.strip():
                one = marked(line)
                question = read_question(one.text)
                if len(question.amounts) == len(one.roles):
                    found.append(Row(question.words, question.amounts, path.stem, one.roles, answer_kind(one.answer)))
    return found


def others(rng: random.Random, count: int) -> list[Row]:
    """Wordings that are no sums of these families, those with an amount first."""
    texts = [
        text
        for text, label in compile_knowledge(KNOWLEDGE, knowledge_files(KNOWLEDGE))["phrases"]
        if not label.startswith("steer:")
    ]
    rng.shuffle(texts)
    with_amounts: list[Row] = []
    without: list[Row] = []
    for line in NONE.read_text().splitlines():
        question = read_question(line)
        with_amounts.append(Row(question.words, question.amounts, NO_SUM, (), ""))
    known = len(with_amounts)
    for text in texts:
        if any(c.isdigit() for c in text) or rng.random() < 0.1:
            question = read_question(text)
            (with_amounts if question.amounts else without).append(
                Row(question.words, question.amounts, NO_SUM, (), "")
            )
        if len(with_amounts) >= count + known:
            break
    return [*with_amounts, *without[: count // 3]]


def redrawn(row: Row, rng: random.Random) -> Row:
    """The row with other numbers and here and there another unit, slips, or an amount beside."""
    words, amounts, family, roles, kind = row
    swap = rng.random() < 0.15
    changed = []
    for one in amounts:
        value, unit = one.value, one.unit
        if unit == "clock":
            value = (value + rng.choice([0, 0.25, 0.5, 1, 2, 3, 5, 7])) % 24
        elif unit in ("percent", "part"):
            top = 100.0 if unit == "percent" else 1.0
            value = min(top, max(0.0, value * rng.uniform(0.7, 1.4)))
            value = round(value, 0 if unit == "percent" else 2)
        elif rng.random() < 0.85:
            value *= math.exp(rng.gauss(0, 0.35))
            value = round(value) if abs(value) > 20 or one.value % 1 == 0 else round(value, 1)
        if swap and unit in OTHER_UNITS:
            value, unit = (value / 100 if unit == "percent" else value * 100 if unit == "part" else value), OTHER_UNITS[unit]  # fmt: skip
        if rng.random() < 0.04 and unit in ("gal", "lb", "percent", "h", "mph", "mi") and not one.per:
            unit = "n"
        changed.append(one._replace(value=value, unit=unit))
    spelt = list(words)
    inside = {i for one in amounts for i in range(one.start, one.end)}
    if rng.random() < 0.3:
        spelt = [slip(w, rng) if i not in inside and rng.random() < 0.12 else w for i, w in enumerate(spelt)]
    if rng.random() < 0.3:
        spelt = ["" if w in (",", ".", "?", "!", "-") and i not in inside else w for i, w in enumerate(spelt)]
    if rng.random() < 0.1:
        at = rng.randrange(len(spelt))
        if at not in inside:
            spelt[at] = ""
    return Row(tuple(spelt), tuple(changed), family, roles, kind)


def in_passing(row: Row, chatter: list[tuple[str, ...]], rng: random.Random) -> Shown:
    """What the network reads of a row, sometimes with something else said before or after it."""
    words, amounts, family, roles, kind = row
    said, spans = laid_out(words, amounts)
    draw = rng.random()
    if draw > 0.8 and any(role != "beside" for role in roles):
        return followed(row, rng)
    if draw < 0.12:
        other = list(rng.choice(chatter))
        ahead = rng.random() < 0.6
        if ahead:
            spans = [(a + len(other) + 1, b + len(other) + 1) for a, b in spans]
        said = [*other, ",", *said] if ahead else [*said, ",", *other]
    elif draw < 0.22 and roles:
        first, _, last = rng.choice(BESIDE).partition("{n}")
        number = str(rng.randrange(2, 80))
        before, after = first.split(), last.split()
        added = [*before, number, *after]
        unit = len(after[:1]) if after and after[0] in ("F", "people", "mi", "h", "o'clock") else 0
        spot = (len(before), len(before) + 1 + unit)
        if rng.random() < 0.5:
            spans = [spot, *((a + len(added) + 1, b + len(added) + 1) for a, b in spans)]
            said, roles = [*added, ",", *said], ("beside", *roles)
        else:
            spans = [*spans, (spot[0] + len(said) + 1, spot[1] + len(said) + 1)]
            said, roles = [*said, ",", *added], (*roles, "beside")
    return Shown(said, spans, family, roles, kind)


FOLLOWS = [
    "and if it is {}", "and if it's {}", "what about {}", "how about {}", "and at {}", "and with {}", "with {} instead", "make it {}", "no {}", "sorry {}",
    "say {}", "more like {}", "it's only {}", "call it {}", "what if it's {}", "and {}", "{} then", "but only {}", "and for {}", "all they had was {}",
    "this one is {}", "if it drops to {}", "if it goes up to {}", "and on {}", "{} in this wind", "i mean {}", "no wait {}", "same with {}", "okay and {} ?", "now it is {}",
]  # fmt: skip
"""How a driver changes one amount of the sum just answered."""


def followed(row: Row, rng: random.Random) -> Shown:
    """What the network reads of a sum and a follow-up that changes one of its amounts: that one then plays no part."""
    words, amounts, family, roles, kind = row
    at = rng.randrange(len(amounts))
    old = amounts[at]
    value = old.value * math.exp(rng.gauss(0, 0.5)) if old.unit != "clock" else (old.value + rng.randrange(1, 12)) % 24
    if old.unit == "percent":
        value = min(value, 100.0)
    new = old._replace(value=round(value, 0 if abs(value) > 10 else 1))
    if rng.random() < 0.4 and new.unit not in ("clock", "part"):
        new = new._replace(unit="n", per="")
    said, spans = laid_out(words, amounts)
    first, _, last = rng.choice(FOLLOWS).partition("{}")
    begun = len(said) + 1 + len(first.split())
    told = shown(new).split()
    said = [*said, ".", *first.split(), *told, *last.split()]
    kept = [role if place != at else "beside" for place, role in enumerate(roles)]
    return Shown(said, [*spans, (begun, begun + len(told))], family, (*kept, roles[at]), kind)


class Network(nn.Module):
    def __init__(self, bert: BertModel, families: int, kinds: int, roles: int) -> None:
        super().__init__()
        self.bert = bert
        width = bert.config.hidden_size
        self.family = nn.Linear(width, families)
        self.kind = nn.Linear(width, kinds)
        self.role = nn.Linear(2 * width, roles)
        self.drop = nn.Dropout(0.2)

    def forward(self, ids: torch.Tensor, mask: torch.Tensor, pick: torch.Tensor) -> tuple[torch.Tensor, ...]:
        """`pick` (amounts, texts * longest) takes the mean state of each amount; its rows know their text by `pick.sum`."""
        hidden = self.bert(input_ids=ids, attention_mask=mask).last_hidden_state
        weight = mask.unsqueeze(-1).float()
        whole = (hidden * weight).sum(1) / weight.sum(1)
        spans = pick @ hidden.reshape(-1, hidden.shape[-1])
        text_of = pick.reshape(len(pick), *mask.shape).sum(2).argmax(1)
        whole_ = self.drop(whole)
        return self.family(whole_), self.kind(whole_), self.role(self.drop(torch.cat([spans, whole[text_of]], -1)))


Weights = dict[str, np.ndarray]


def arrays_of(path: Path) -> Weights:
    """The arrays of a file of weights."""
    with np.load(path) as stored:
        return {name: stored[name] for name in stored.files}


def start_from(earlier: Path | None, most: int) -> tuple[Weights, np.ndarray, Weights]:
    """The layers to begin with, the places of `most` pieces, and an earlier network when it is gone on from (else nothing)."""
    if earlier:
        before = arrays_of(earlier)
        return before, before["places"].astype(np.float32), before
    parts = arrays_of(KNOWLEDGE / "encoder.npz")
    known = parts["places"].astype(np.float32)
    # beyond the encoder's places each goes on from the one 32 before it
    return parts, np.concatenate([known, *(known[-32:] for _ in range(4))])[:most], {}


def optimiser_for(model: nn.Module, rate: float) -> torch.optim.AdamW:
    """Layers that go on from known ones learn slowly, new heads fast."""
    body = [p for n, p in model.named_parameters() if n.startswith("bert") and p.requires_grad]
    heads = [p for n, p in model.named_parameters() if not n.startswith("bert")]
    return torch.optim.AdamW([{"params": body, "lr": rate}, {"params": heads, "lr": 2e-3}], weight_decay=0.01)


def take_head(layer: nn.Linear, head: str, names: list[str], before: Weights, stored: str) -> None:
    """Set what tells the names that an earlier network knew, listed there as `stored`, to what that had."""
    rows = {name: at for at, name in enumerate(str(before[stored]).split("\n"))} if stored in before else {}
    with torch.no_grad():
        for at, name in enumerate(names):
            if name in rows:
                layer.weight[at] = torch.tensor(before[head][rows[name]].astype(np.float32))
                layer.bias[at] = float(before[f"{head}_bias"][rows[name]])


def begin(encoder: Encoder, parts: dict[str, Any], places: np.ndarray) -> BertModel:
    """The encoder's layers as a network that can learn."""
    layers = sum(1 for name in parts if name.endswith("_q"))
    config = BertConfig(vocab_size=len(encoder.pieces), hidden_size=384, num_hidden_layers=layers, num_attention_heads=12, intermediate_size=parts["0_up"].shape[1], max_position_embeddings=len(places))  # fmt: skip
    bert = BertModel(config, add_pooling_layer=False)
    state = bert.state_dict()

    def put(name: str, value: np.ndarray) -> None:
        assert state[name].shape == value.shape, name
        state[name] = torch.tensor(value.astype(np.float32))

    put("embeddings.word_embeddings.weight", encoder.alone(list(range(len(encoder.pieces)))))
    put("embeddings.position_embeddings.weight", places)
    state["embeddings.token_type_embeddings.weight"].zero_()
    put("embeddings.LayerNorm.weight", parts["start_weight"])
    put("embeddings.LayerNorm.bias", parts["start_bias"])
    for layer in range(layers):
        base = f"encoder.layer.{layer}."
        for ours, theirs in NAMES:
            whole = (
                parts[f"{layer}_{ours}"].T.astype(np.float32)
                * parts[f"{layer}_{ours}_scale"].astype(np.float32)[:, None]
            )
            put(base + theirs + ".weight", whole)
            put(base + theirs + ".bias", parts[f"{layer}_{ours}_bias"])
        for ours, theirs in NORMS:
            put(base + theirs + ".weight", parts[f"{layer}_{ours}"])
            put(base + theirs + ".bias", parts[f"{layer}_{ours}_bias"])
    bert.load_state_dict(state)
    bert.embeddings.word_embeddings.weight.requires_grad_(False)
    bert.embeddings.token_type_embeddings.weight.requires_grad_(False)
    return bert


class Labels(NamedTuple):
    """What the heads of the network tell."""

    families: list[str]
    kinds: list[str]
    roles: list[str]
    inside: torch.Tensor
    """(families, roles): which roles are the family's."""

    @classmethod
    def of(cls, rows: list[Row]) -> Labels:
        families = [NO_SUM, *sorted({row.family for row in rows})]
        roles = sorted({f"{row.family}.{role}" for row in rows for role in (*row.roles, "beside")})
        belongs = np.array([families.index(role.partition(".")[0]) for role in roles])
        inside = torch.tensor(belongs[None, :] == np.arange(len(families))[:, None])
        return cls(families, sorted({row.kind for row in rows}), roles, inside)


class Batch(NamedTuple):
    """Some questions as the network takes them, with what it should say."""

    ids: torch.Tensor
    mask: torch.Tensor
    pick: torch.Tensor
    family: torch.Tensor
    kind: torch.Tensor
    """-100 where no answer is known."""
    role: torch.Tensor
    """One for each amount, as `family_of_amount` is."""
    family_of_amount: torch.Tensor

    @classmethod
    def of(cls, texts: list[Shown], encoder: Encoder, labels: Labels) -> Batch:
        laid = [pieces_of(encoder, one.words, one.spans) for one in texts]
        longest = max(len(pieces) for pieces, _ in laid)
        ids, mask = torch.zeros(len(laid), longest, dtype=torch.long), torch.zeros(len(laid), longest, dtype=torch.long)
        picks, role, family_of_amount = [], [], []
        for i, (one, (pieces, spans)) in enumerate(zip(texts, laid, strict=True)):
            ids[i, : len(pieces)], mask[i, : len(pieces)] = torch.tensor(pieces), 1
            for (first, last), name in zip(spans, one.roles, strict=False):
                row = torch.zeros(len(laid), longest)
                row[i, first : max(last, first + 1)] = 1 / max(last - first, 1)
                picks.append(row.reshape(-1))
                role.append(labels.roles.index(f"{one.family}.{name}"))
                family_of_amount.append(labels.families.index(one.family))
        return cls(
            ids,
            mask,
            torch.stack(picks) if picks else torch.zeros(0, len(laid) * longest),
            torch.tensor([labels.families.index(one.family) for one in texts]),
            torch.tensor([labels.kinds.index(one.kind) if one.kind in labels.kinds else -100 for one in texts]),
            torch.tensor(role, dtype=torch.long),
            torch.tensor(family_of_amount, dtype=torch.long),
        )


def loss_of(model: Network, batch: Batch, labels: Labels) -> torch.Tensor:
    """How far the network is from the marks: in the family, the kind of answer, and the roles within the family."""
    family, kind, role = model(batch.ids, batch.mask, batch.pick)
    loss = F.cross_entropy(family, batch.family, label_smoothing=0.05)
    if (batch.kind >= 0).any():
        loss = loss + F.cross_entropy(kind, batch.kind, label_smoothing=0.05)
    if len(batch.role):
        loss = loss + F.cross_entropy(role.masked_fill(~labels.inside[batch.family_of_amount], -1e4), batch.role)
    return loss


def tell(model: Network, rows: list[Row], encoder: Encoder, labels: Labels) -> None:
    """Print how many of these wordings the network reads as they are marked."""
    model.eval()
    family_right = kind_right = roles_right = whole = amounts = 0
    with torch.no_grad():
        for words, found, family, roles, kind in rows:
            batch = Batch.of([Shown(*laid_out(words, found), family, roles, kind)], encoder, labels)
            family_, kind_, role_ = model(batch.ids, batch.mask, batch.pick)
            good = (
                (role_.masked_fill(~labels.inside[batch.family_of_amount], -1e9).argmax(1) == batch.role).sum().item()
            )
            family_right += int(family_.argmax(1) == batch.family)
            kind_right += int(kind_.argmax(1) == batch.kind)
            roles_right += good
            amounts += len(batch.role)
            whole += int(family_.argmax(1) == batch.family and good == len(batch.role))
    shares = (family_right / len(rows), kind_right / len(rows), roles_right / max(1, amounts), whole / len(rows))
    print("  kept back: family {:.3f}, kind of answer {:.3f}, roles {:.3f}, family and all roles {:.3f}".format(*shares), flush=True)  # fmt: skip


def shuffled(data: list[Row], size: int, chatter: list[tuple[str, ...]], rng: random.Random) -> list[list[Shown]]:
    """An epoch's batches, every row drawn anew; those of like length together, which wastes little padding."""
    mixed = [in_passing(redrawn(row, rng), chatter, rng) for row in data]
    rng.shuffle(mixed)
    chunks = [sorted(mixed[i : i + size * 8], key=lambda one: len(one.words)) for i in range(0, len(mixed), size * 8)]
    batches = [chunk[i : i + size] for chunk in chunks for i in range(0, len(chunk), size)]
    rng.shuffle(batches)
    return batches[: math.ceil(len(data) / size)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--epochs", type=int, default=16)
    parser.add_argument("--batch", type=int, default=32)
    parser.add_argument("--rate", type=float, default=3e-4)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--threads", type=int, default=2)
    parser.add_argument("--held", type=float, default=0.0, help="share of the wordings kept back, to see how it does on them")  # fmt: skip
    parser.add_argument("--go-on", type=Path, help="go on from this network, for wordings that came later")
    parser.add_argument("--to", type=Path, default=KNOWLEDGE / "roles.npz")
    parser.add_argument("--mean", type=Path, nargs=2, help="train nothing: write the mean of two networks, one of which went on from the other")  # fmt: skip
    given = parser.parse_args()
    if given.mean:
        np.savez(given.to, **mean_of(*given.mean))
        return
    torch.set_num_threads(given.threads)
    torch.manual_seed(given.seed)
    rng = random.Random(given.seed)

    encoder = Encoder(KNOWLEDGE / "encoder.npz")
    parts, places, before = start_from(given.go_on, MOST_PIECES)
    rows = sums()
    labels = Labels.of(rows)
    rng.shuffle(rows)
    kept_back, rows = rows[: int(len(rows) * given.held)], rows[int(len(rows) * given.held) :]
    data = [*rows, *others(rng, max(400, len(rows) // 5))]
    chatter = [row.words for row in data if row.family == NO_SUM and not row.amounts]
    print(f"{len(rows)} sums of {len(labels.families) - 1} families with {len(labels.roles)} roles, {len(data) - len(rows)} others", flush=True)  # fmt: skip

    model = Network(begin(encoder, parts, places), len(labels.families), len(labels.kinds), len(labels.roles))
    take_head(model.family, "family", labels.families, before, "families")
    take_head(model.kind, "kind", labels.kinds, before, "kinds")
    take_head(model.role, "role", labels.roles, before, "roles")
    optimiser = optimiser_for(model, given.rate)
    steps = given.epochs * math.ceil(len(data) / given.batch)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimiser, [given.rate, 2e-3], total_steps=steps + 1, pct_start=0.1)
    kept = AveragedModel(model, multi_avg_fn=get_ema_multi_avg_fn(AVERAGED))
    begun = time.monotonic()
    for epoch in range(given.epochs):
        model.train()
        total = 0.0
        batches = shuffled(data, given.batch, chatter, rng)
        for batch in batches:
            loss = loss_of(model, Batch.of(batch, encoder, labels), labels)
            learn(model, loss, optimiser, schedule, kept)
            total += loss.item()
        print(f"epoch {epoch + 1}: loss {total / len(batches):.3f}, {time.monotonic() - begun:.0f} s", flush=True)
        if kept_back and (epoch + 1) % 4 == 0:
            tell(kept.module, kept_back, encoder, labels)
    export(kept.module, labels, given.to)


def export(model: Network, labels: Labels, to: Path) -> None:
    """Write the network: 8-bit layers, 16-bit rest; the word pieces are the encoder's."""
    weights = {name: value.detach().numpy() for name, value in model.state_dict().items()}
    arrays: dict[str, np.ndarray] = {
        "families": np.array("\n".join(labels.families)), "kinds": np.array("\n".join(labels.kinds)), "roles": np.array("\n".join(labels.roles)),
        "places": weights["bert.embeddings.position_embeddings.weight"].astype(np.float16),
    }  # fmt: skip
    arrays |= stored_layers(weights, model.bert.config.num_hidden_layers)
    arrays |= stored_heads(weights, "family", "kind", "role")
    np.savez(to, **arrays)
    print(f"{to}: {to.stat().st_size / 1e6:.1f} MB")


if __name__ == "__main__":
    main()
