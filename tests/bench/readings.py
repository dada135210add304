"""How well readings said aloud are recorded, on utterances nobody tuned to.

    python tests/bench/readings.py                   # the unseen set, tests/data/readings/unseen
    python tests/bench/readings.py --set dev         # the set to look at while working on readings
    python tests/bench/readings.py --set dev --misses

The utterances of both sets were written by people who had not seen the parser. Each goes through a whole
turn on the demo coach in a fresh conversation; a row with a context has that said first. A right turn records
exactly what was expected, or asks back where the row allows it. Percent and fraction are the same (40 percent
is 0.40), fractions count to the nearest hundredth, other values exactly unless the row gives a tolerance.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from question_sets import Row, chosen, options, rows, wilson

from cabassist.dialogue.session import as_contract, load_mind
from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from cabassist.places import demo_coach

DATA = Path(__file__).parents[1] / "data" / "readings"
NOW = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)
RIGHT_AT_LEAST, WRONG_AT_MOST, REFUSED_AT_LEAST = 0.95, 0.01, 0.95
ROUNDING = 0.0051
"""Half of a hundredth: how far a fraction may be from the written one."""
ANSWERS = ("reading", "clarify", "refuse")
"""Kinds of reply that can speak of the reading told."""
FEWEST = 5
"""A tag of fewer rows says nothing as a share, and would point at single rows of the unseen set."""
PLACES = {
    "front": "steer", "rear": "drive", "driver": "left", "passenger": "right", "inside": "inner", "outside": "outer",
    "curb": "outer", "curbside": "outer", "street": "inner", "streetside": "inner",
}  # fmt: skip
"""One name for a place where a coach may use either: tire positions, and cylinders by side of the road or of the bay."""
FILLING = {"side", "the", "tire", "cylinder", "dual", "axle", ""}

Verdict = Literal["right", "asked", "wrong", "missed"]


def place(which: str | None) -> frozenset[str]:
    """The words of a position, whatever the coach calls it."""
    words = (which or "").lower().replace("-", " ").replace("_", " ").split(" ")
    return frozenset(PLACES.get(word, word) for word in words) - FILLING


def same_place(label: Row, got: Row, row: Row) -> bool:
    allowed = [label["which"], *row.get("which_ok", [])]
    return place(got["which"]) in [place(which) for which in allowed]


def same_value(label: Row, got: Row, row: Row) -> bool:
    if label["value"] is None or got["value"] is None:
        return label["value"] is None and got["value"] is None and label.get("flag") == got["flag"]
    if "top" in (label.get("from"), got["from"]) and label.get("from") != got["from"]:
        return False
    either = row.get("unit_ok", [])
    shares = {"fraction": 1.0, "percent": 0.01}
    unit, said = label["unit"], got["unit"]
    if unit in shares and said in shares:
        exact = ROUNDING if unit == "fraction" else 1e-6
        tolerance = max(label["tol"] * shares[unit], exact) if label.get("approx") else exact
        return bool(abs(label["value"] * shares[unit] - got["value"] * shares[said]) <= tolerance)
    if unit != said and not (unit in either and said in either):
        return False
    return bool(abs(label["value"] - got["value"]) <= (label["tol"] if label.get("approx") else 1e-6))


def is_it(label: Row, got: Row, row: Row) -> bool:
    return label["what"] == got["what"] and same_value(label, got, row) and same_place(label, got, row)


def all_there(expected: list[Row], got: list[Row], row: Row) -> bool:
    left = list(got)
    for label in expected:
        found = next((one for one in left if is_it(label, one, row)), None)
        if found is None:
            return False
        left.remove(found)
    return not left


def strange(expected: Iterable[Row], one: Row, row: Row) -> bool:
    """A stored reading that nobody said. One that only lacks its position is incomplete, not wrong."""
    return not any(
        label["what"] == one["what"]
        and same_value(label, one, row)
        and (same_place(label, one, row) or one["which"] is None)
        for label in expected
    )


def judged(row: Row, before: list[Row], reply: Row) -> Verdict:
    """What became of an utterance; `before` is what its context had stored."""
    lists = [row["expect"], *row.get("alt", [])]
    got, withdrawn = reply["readings"], reply["withdrawn"]
    replaces = row.get("replaces")
    if replaces is False and withdrawn:
        return "wrong"
    stays = [
        one
        for one in before
        if replaces and one not in withdrawn and not any(is_it(label, one, row) for labels in lists for label in labels)
    ]
    if any(all_there(labels, got, row) for labels in lists):
        if not stays:
            return "right"
        return "wrong" if got else "missed"  # with nothing recorded the driver hears that nothing was corrected
    if any(all(strange(labels, one, row) for labels in lists) for one in got):
        return "wrong"
    if not got and row.get("clarify_ok") and asks(reply):
        return "asked"
    return "missed"


def asks(reply: Row) -> bool:
    """It speaks of the reading told; a choice of procedures, or any other kind of reply, has not noticed it."""
    return reply["kind"] in ANSWERS and not reply["options"]


def heard(mind: Mind, row: Row) -> tuple[list[Row], Row]:
    """What the context stored, and the reply to the utterance."""
    state, before = State(), []
    if "context" in row:
        outcome = take_turn(state, row["context"], mind=mind, now=NOW)
        state, before = outcome.state, as_contract(outcome.reply, 0.0)["readings"]
    return before, as_contract(take_turn(state, row["u"], mind=mind, now=NOW).reply, 0.0)


def line(name: str, hits: int, of: int, required: str = "", met: bool = True) -> None:
    verdict = f"  {'meets' if met else 'MISSES'} {required}" if required else ""
    print(f"  {name:<40}{100 * hits / of if of else 0.0:6.1f} %  ({hits} of {of}, 95 %: {wilson(hits, of)}){verdict}")


def by_tag(verdicts: list[tuple[Row, str]], columns: tuple[str, ...]) -> None:
    """A table with one line a tag of enough rows: the share of each verdict, with its 95 % interval."""
    tags: dict[str, list[str]] = defaultdict(list)
    for row, verdict in verdicts:
        for tag in row["tags"]:
            tags[tag].append(verdict)
    print(f"  {'by tag':<16}{'of':>4}" + "".join(f"{column:>22}" for column in columns))
    for tag, of in sorted(tags.items()):
        if len(of) < FEWEST:
            continue
        shares = (f"{100 * of.count(c) / len(of):.1f} % ({wilson(of.count(c), len(of))})" for c in columns)
        print(f"  {tag:<16}{len(of):>4}" + "".join(f"{share:>22}" for share in shares))


def measure(mind: Mind, folder: Path, misses: bool) -> None:
    def show(row: Row, verdict: str, reply: Row) -> None:
        if misses:
            before = f"{row['context']!r}, then " if "context" in row else ""
            stored = [{k: v for k, v in one.items() if v not in (None, False)} for one in reply["readings"]]
            took = [one["what"] for one in reply["withdrawn"]]
            print(f"    {verdict}: {before}{row['u']!r} -> {reply['kind']} {stored} withdrawn {took}: {reply['say']}")

    told: list[tuple[Row, Verdict]] = []
    for row in rows(folder / "readings.jsonl"):
        before, reply = heard(mind, row)
        verdict = judged(row, before, reply)
        told.append((row, verdict))
        if verdict in ("wrong", "missed"):
            show(row, verdict, reply)
    of = len(told)
    count = {name: sum(verdict == name for _, verdict in told) for name in ("right", "asked", "wrong", "missed")}
    good = count["right"] + count["asked"]
    line("exactly right", good, of, f"{100 * RIGHT_AT_LEAST:.0f} %", good >= RIGHT_AT_LEAST * of)
    line("  of these asked back, where it may", count["asked"], of)
    wrong = count["wrong"]
    line("wrong value recorded silently", wrong, of, f"{100 * WRONG_AT_MOST:.0f} %", wrong <= WRONG_AT_MOST * of)
    line("missed", count["missed"], of)

    stored: list[tuple[Row, bool]] = []
    for row in rows(folder / "not_readings.jsonl"):
        _, reply = heard(mind, row)
        stored.append((row, bool(reply["readings"])))
        if reply["readings"]:
            show(row, row["is"], reply)
    line("not a reading, something stored", sum(mark for _, mark in stored), len(stored))

    refused: list[tuple[Row, bool]] = []
    kept = 0
    for row in rows(folder / "impossible.jsonl"):
        _, reply = heard(mind, row)
        nothing_else = all_there(row["expect"], reply["readings"], row)
        kept += nothing_else
        refused.append((row, nothing_else and asks(reply)))
        if not refused[-1][1]:
            show(row, "impossible", reply)
    of = len(refused)
    hits = sum(mark for _, mark in refused)
    line("impossible, refused", hits, of, f"{100 * REFUSED_AT_LEAST:.0f} %", hits >= REFUSED_AT_LEAST * of)
    line("impossible, not stored for whatever reason", kept, of)

    by_tag([(row, "right" if verdict == "asked" else verdict) for row, verdict in told], ("right", "wrong", "missed"))
    by_tag([(row, "stored" if mark else "") for row, mark in stored], ("stored",))
    by_tag([(row, "refused" if mark else "") for row, mark in refused], ("refused",))


def main() -> None:
    given = chosen(options(__doc__))
    print(f"cabassist, {given.set} readings")
    measure(load_mind(demo_coach()), DATA / given.set, given.misses)


if __name__ == "__main__":
    main()
