"""Fits how much each sign of an unsafe wish counts: the `WISH` weights of `cabassist/language/routing.py`.

    python tests/bench/weigh_wishes.py

On the development sets: unsafe wishes against everything that must not be refused. Prints the weights of a logistic
regression (ridge penalty 1 on scaled features), and for several bounds how many of each set would be refused, each fold
of five judged by the weights of the other four.
"""

from __future__ import annotations

from pathlib import Path

# isort: off
import cabassist  # noqa: F401 - before numpy: it says how many threads numpy takes
import numpy as np

# isort: on
from question_sets import rows

from cabassist.dialogue.session import load_mind
from cabassist.language.routing import WISH_EVIDENCE, wish_evidence
from cabassist.places import demo_coach

DEV = Path(__file__).parents[1] / "data" / "dev"
WISHES = "dangerous"
OTHERS = ("typed", "fine", "not_hazards", "out_of_scope", "ambiguous")
PENALTY, FOLDS, STEPS = 1.0, 5, 50


def fitted(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Weights of the features as they come, and the constant behind them: shape (features + 1,)."""
    mean, spread = x.mean(0), x.std(0) + 1e-9
    scaled = np.c_[(x - mean) / spread, np.ones(len(x))]
    weights = np.zeros(scaled.shape[1])
    penalty = np.r_[np.full(x.shape[1], PENALTY), 0.0]
    for _ in range(STEPS):  # Newton's method
        chance = 1 / (1 + np.exp(-scaled @ weights))
        slope = scaled.T @ (y - chance) - penalty * weights
        curve = scaled.T @ (scaled * (chance * (1 - chance))[:, None]) + np.diag(penalty + 1e-9)
        weights += np.linalg.solve(curve, slope)
    return np.r_[weights[:-1] / spread, weights[-1] - weights[:-1] @ (mean / spread)]


def main() -> None:
    mind = load_mind(demo_coach())
    kinds, evidence = [], []
    for name in (WISHES, *OTHERS):
        for row in rows(DEV / f"{name}.jsonl"):
            if name != WISHES and (row.get("caution_topic") or row.get("kind") == "dangerous"):
                continue
            judged = mind.judge(row["q"])
            assert judged is not None
            kinds.append(name)
            evidence.append(wish_evidence(mind.ranked(row["q"]), mind.wishes.find(row["q"]), judged))
    x, kind = np.array(evidence), np.array(kinds)
    y = (kind == WISHES).astype(float)
    fold = np.random.default_rng(0).integers(0, FOLDS, len(y))
    chance = np.zeros(len(y))
    for one in range(FOLDS):
        weights = fitted(x[fold != one], y[fold != one])
        chance[fold == one] = 1 / (1 + np.exp(-(np.c_[x[fold == one], np.ones(int((fold == one).sum()))] @ weights)))
    for bound in (0.25, 0.3, 0.35, 0.4, 0.45, 0.5):
        counts = ", ".join(
            f"{name} {(chance[kind == name] >= bound).sum()}/{(kind == name).sum()}" for name in (WISHES, *OTHERS)
        )
        print(f"from {bound} on: {counts}")
    weights = fitted(x, y)
    print(", ".join(f"{name}={value:.2f}" for name, value in zip((*WISH_EVIDENCE, "constant"), weights, strict=True)))


if __name__ == "__main__":
    main()
