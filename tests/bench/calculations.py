"""How well calculation questions in drivers' words are answered, on questions nobody tuned to.

    python tests/bench/calculations.py                   # the unseen set, tests/data/calculations/unseen.jsonl
    python tests/bench/calculations.py --set dev         # the set to look at while working on calculations
    python tests/bench/calculations.py --set dev --misses

Each question is a fresh conversation with the demo coach. Its expected value was worked out from the published figure or
formula that the row names. `value` counts within `tol`, or between `lo` and `hi`, in any unit of the same kind, as the
answer or as a further figure beside it; a `clock` is hours after midnight, a `date` a month. Without a `value` only the
`verdict` counts: one of its words must be said, "yes" and "no" at the head of a sentence, and none of `verdict_not`.
A row with `ask` lacks an input: right is asking for it. A row whose value is null may be given no number at all.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from question_sets import Row, chosen, options, rows
from readings import line

from cabassist import units
from cabassist.dialogue.session import as_contract, load_mind
from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, State
from cabassist.places import demo_coach
from cabassist.sums.working import DOUBTFUL

DATA = Path(__file__).parents[1] / "data" / "calculations"
NOW = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)
UNITS = {
    "F": "degF", "C": "degC", "days": "day", "nights": "day", "weeks": "week", "months": "month", "mL": "milliliter", "fl oz": "US_fluid_ounce",
    "cup": "US_cup", "percent": "percent", "fraction": "dimensionless", "BTU": "Btu", "BTU/h": "Btu/h", "h": "hour", "in": "inch", "mi": "mile",
    "lb": "pound", "ppm": "mg/L", "gal": "US_liquid_gallon", "min": "minute", "V": "volt", "A": "ampere", "W": "watt", "Ah": "ampere_hour",
    "pieces": "count", "bags": "count", "bag": "count", "psi": "psi", "lb-ft": "foot*force_pound", "ft": "foot", "mpg": "mile/US_liquid_gallon", "1/32 in": "inch/32", "32nds": "inch/32", "L/100 km": "L/100km", "gal/h": "US_liquid_gallon/hour",
    "gal/min": "US_liquid_gallon/minute", "day": "day", "degF": "degF", "mg/L": "mg/L",
}  # fmt: skip
"""Names of the contract and of the rows, as the registry calls them."""
COUNTED = frozenset(
    "count showers flushes uses times heaters loads bags pieces cylinders bottles buckets jugs trips trunks boxes".split()
)
"""What is counted: "72 flushes" answers a row that calls them a count."""
_CLOCK = re.compile(r"\b(\d{1,2}):(\d{2})(?: ?(am|pm))?\b", re.IGNORECASE)
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December",
)  # fmt: skip

Verdict = Literal["right", "asked", "unsaid", "wrong", "missed"]


def converted(value: float, unit: str, to: str) -> float | None:
    """A figure in another unit; None when it measures something else."""
    if unit == to or UNITS.get(unit, unit) == UNITS.get(to, to) or {unit, to} <= COUNTED:
        return value
    registry = units.registry()
    try:
        return float(registry.Quantity(value, UNITS.get(unit, unit)).m_as(UNITS.get(to, to)))
    except Exception:  # a unit the registry does not know measures nothing we can compare
        return None


def figures(reply: Row) -> list[tuple[float, str]]:
    estimate = reply["estimate"]
    if estimate is None:
        return []
    first = [] if estimate["value"] is None else [(estimate["value"], estimate["unit"])]
    return [*first, *((also["value"], also["unit"]) for also in estimate["also"])]


def words(reply: Row) -> str:
    return " ".join((reply["say"], *reply["show"]))


def holds_value(expected: Row, reply: Row) -> bool:
    """Whether the number asked for is given."""
    unit = expected["unit"]
    if unit == "clock":
        return any(abs(_hours(match) - expected["value"]) <= expected["tol"] for match in _CLOCK.finditer(words(reply)))
    if unit == "date":
        year, month = str(expected["value"]).split("-")
        return f"{MONTHS[int(month) - 1]} {year}" in words(reply)
    low = expected.get("lo", expected.get("value", 0) - expected.get("tol", 0))
    high = expected.get("hi", expected.get("value", 0) + expected.get("tol", 0))
    found = (converted(value, one, unit) for value, one in figures(reply))
    return any(value is not None and low - 1e-9 <= value <= high + 1e-9 for value in found)


def _hours(match: re.Match[str]) -> float:
    hour = int(match[1]) % 12 + 12 if (match[3] or "").lower() == "pm" else int(match[1]) % (12 if match[3] else 24)
    return hour + int(match[2]) / 60


def said(phrase: str, text: str) -> bool:
    """Whether a word of a verdict is said; "yes" and "no" only count at the head of a sentence."""
    if phrase in ("yes", "no"):
        return re.search(rf"(?:^|[.!?:] +){phrase}\b", text, re.IGNORECASE) is not None
    return re.search(rf"(?<!\w){re.escape(phrase)}(?!\w)", text, re.IGNORECASE) is not None


def judged(row: Row, reply: Row) -> Verdict:
    """What became of a question. Wrong is a number, or a verdict, that the driver would believe."""
    expected, given = row["expect"], figures(reply)
    told = reply["estimate"]
    number = told is not None and told["value"] is not None
    asks = reply["kind"] == "clarify" and not reply["options"]
    if "value" in expected and expected["value"] is None:
        if number:
            return "wrong"
        wanted = expected.get("ask") or row.get("verdict", [])
        return "right" if (asks or not expected.get("ask")) and any(said(w, words(reply)) for w in wanted) else "missed"
    if told is None:
        return "asked" if asks else "missed"
    has_value = "value" in expected or "lo" in expected
    value = not has_value or holds_value(expected, reply)
    also = all(holds_value(figure, reply) for figure in row.get("also", []))
    verdict = not row.get("verdict") or any(said(w, words(reply)) for w in row["verdict"])
    denied = any(said(w, reply["say"]) for w in row.get("verdict_not", []))
    if value and also and verdict and not denied:
        return "right"
    if has_value and value and also and not denied:
        return "unsaid"
    return "wrong" if given else "missed"


def measure(mind: Mind, name: str, misses: bool) -> None:
    verdicts: list[tuple[Row, Verdict]] = []
    doubted = {"right": 0, "wrong": 0}
    for row in rows(DATA / f"{name}.jsonl"):
        reply = as_contract(take_turn(State(), row["q"], mind=mind, now=NOW).reply, 0.0)
        verdicts.append((row, judged(row, reply)))
        if verdicts[-1][1] in doubted:
            doubted[verdicts[-1][1]] += DOUBTFUL in reply["say"]
        if misses and verdicts[-1][1] != "right":
            found = [(round(value, 3), unit) for value, unit in figures(reply)]
            wanted = {**row["expect"], **({"verdict": row["verdict"][:2]} if "verdict" in row else {})}
            print(f"    {row['id']} {verdicts[-1][1]}: {row['q']}\n        {wanted}")
            print(f"        -> {reply['kind']} {reply['topic']} {found} {reply['say']}")
    of = len(verdicts)
    for verdict in ("right", "unsaid", "asked", "wrong", "missed"):
        name = {
            "asked": "asked back, though all was said",
            "unsaid": "right number, verdict not said",
            "wrong": "wrong number or verdict",
        }.get(verdict, verdict)
        line(name, sum(one == verdict for _, one in verdicts), of)
    line("  wrong, and does not say that it may be", sum(one == "wrong" for _, one in verdicts) - doubted["wrong"], of)
    line("  right, and says that it may be wrong", doubted["right"], of)
    without = [one for row, one in verdicts if "value" in row["expect"] and row["expect"]["value"] is None]
    line("input missing or no number may be given", without.count("right"), len(without))


def main() -> None:
    given = chosen(options(__doc__))
    print(f"cabassist, {given.set} calculations")
    measure(load_mind(demo_coach()), given.set, given.misses)


if __name__ == "__main__":
    main()
