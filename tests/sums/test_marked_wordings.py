"""The marked wordings that the role network learns from: with the roles that stand there, every one of them works out.

The answers were worked out by those who wrote the lines, from the formulas and values that the estimates name as their sources.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from cabassist import units
from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.language.asked_for import asked_for, terms_of
from cabassist.language.calculation_inputs import read_question
from cabassist.language.sum_terms import Term, terms
from cabassist.language.wanted import Wanted, implied, wanted
from cabassist.places import knowledge_folder
from cabassist.sums.families import Family, Told
from cabassist.sums.handing import OF_TANKS, marks_amiss, wanted_as
from cabassist.sums.marked import Marked, answer_kind, marked
from cabassist.sums.told_sums import FAMILIES

NOON = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)
BY_NAME = {family.name: family for family in (*OF_TANKS, *FAMILIES)}
PINT = {"F": "degF", "C": "degC", "h": "hour", "min": "minute", "days": "day", "gal": "US_liquid_gallon", "fl oz": "US_fluid_ounce", "cup": "US_cup", "lb": "pound", "in": "inch", "ft": "foot", "mi": "mile", "percent": "percent", "fraction": "dimensionless", "BTU": "Btu", "BTU/h": "Btu/hour", "A": "ampere", "V": "volt", "W": "watt", "Ah": "ampere_hour", "ppm": "mg/L", "tbsp": "US_tablespoon", "tsp": "US_teaspoon", "gal/h": "US_liquid_gallon/hour", "gal/min": "US_liquid_gallon/minute", "gal/day": "US_liquid_gallon/day", "mpg": "mile/US_liquid_gallon", "mph": "mile/hour", "km/h": "km/hour", "lb/h": "pound/hour", "lb/day": "pound/day"}  # fmt: skip
FILES = sorted(path for path in (knowledge_folder() / "roles").glob("*.txt") if path.stem != "none")


def in_unit(value: float, unit: str, to: str) -> float | None:
    if unit == to or not to:
        return value
    try:
        return float(units.registry().Quantity(value, PINT.get(unit, unit)).m_as(PINT.get(to, to)))
    except Exception:  # a unit that measures something else
        return None


def says(answer: str, estimate: Estimate) -> bool:
    """Whether an estimate gives every part of an answer as it is written behind the arrow."""
    for part in (part.strip() for part in answer.split(",")):
        number = re.fullmatch(r"(-?\d[\d.]*)(?: (.+))?", part)
        if part in ("yes", "no"):
            good = re.match(rf"{part}\b", estimate.verdict, re.IGNORECASE) is not None
        elif re.fullmatch(r"\d\d?:\d\d", part):
            good = part.zfill(5) in estimate.verdict
        elif number:
            wanted_ = float(number[1])
            figures = [(estimate.value, estimate.unit), *((one.value, one.unit) for one in estimate.also)]
            found = [in_unit(v, u, number[2] or "") for v, u in figures if v is not None]
            good = any(v is not None and abs(v - wanted_) <= max(0.006 * abs(wanted_), 0.06) for v in found)
        else:
            good = part.lower() in estimate.verdict.lower()
        if not good:
            return False
    return True


def asked(answer: str) -> Wanted:
    """What is wanted, where the words do not tell it: what the answer is."""
    return wanted_as(answer_kind(answer))


def trouble(family: Family, line: Marked, coach: Coach) -> str:
    """What does not come out; "" when all does."""
    question = read_question(line.text)
    if len(question.amounts) != len(line.roles):
        return f"amounts read: {[' '.join(question.words[one.start : one.end]) for one in question.amounts]}"
    unknown = set(line.roles) - {one.name for one in family.roles} - {"beside"}
    if unknown:
        return f"no such role: {unknown}"
    of_tanks = family in OF_TANKS
    found = terms(question) if of_tanks else terms_of(question)
    if found is None:
        return "an amount that the family does not take"
    role_at = {amount.start: role for amount, role in zip(question.amounts, line.roles, strict=True)}
    heard = (wanted(question) or implied(question)) if of_tanks else asked_for(question)
    given: dict[str, list[Term]] = {}
    for term in found:
        given.setdefault(role_at.get(term.amount.start, "beside"), []).append(term)
    for want in (heard, asked(line.answer)):
        if want is not None:
            told = Told({name: list(terms_) for name, terms_ in given.items()}, question, want, coach, NOON)
            estimate = family.solve(told)
            if estimate is not None and told.whole() and says(line.answer, estimate):
                return ""
    return "does not come out" if estimate is None else f"{estimate.value} {estimate.unit} {estimate.verdict}"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_wording_comes_out(path: Path, coach: Coach) -> None:
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]
    assert len(lines) >= 35
    amiss = {line: said for line in lines if (said := trouble(BY_NAME[path.stem], marked(line), coach))}
    assert not amiss, "\n".join(f"{line}\n    {said}" for line, said in amiss.items())


def test_every_family_has_wordings() -> None:
    assert {path.stem for path in FILES} == set(BY_NAME)


def test_a_mark_that_is_not_sound_says_so() -> None:
    for line in ("how long to fill {add=20 gallons -> 3 min", "no mark here -> 3 h", "{add=20 gallons} and no answer"):
        with pytest.raises(ValueError, match=r"mark|answer"):
            marked(line)


def test_a_wrong_answer_is_seen(coach: Coach) -> None:
    line = marked("how long to fill {add=a hundred gallons} at {rate=4.5 gallons a minute} -> 25 min")
    assert "22.2" in trouble(BY_NAME["water"], line, coach)


def test_a_wrong_mark_is_a_problem_with_its_line(tmp_path: Path) -> None:
    roles = tmp_path / "knowledge" / "roles"
    roles.mkdir(parents=True)
    (roles / "water.txt").write_text(
        "how long to fill {add=20 gallons} at {rate=4 gallons a minute} -> 5 min\n"
        "how long to fill {sum=20 gallons} at {rate=4 gallons a minute} -> 5 min\n"
        "how long to fill 20 gallons at {rate=4 gallons a minute} -> 5 min\n"
        "how long to fill {add=20 gallons}\n",
        encoding="utf-8",
    )
    (roles / "soup.txt").write_text("{add=20 gallons} -> 5 min\n", encoding="utf-8")
    (roles / "none.txt").write_text("step 4 again\n", encoding="utf-8")
    found = [(one.file, one.line, one.message) for one in marks_amiss(tmp_path / "knowledge")]
    assert [(file, line) for file, line, _ in found] == [
        ("knowledge/roles/soup.txt", 1),
        *(("knowledge/roles/water.txt", line) for line in (2, 3, 4)),
    ]
    assert "soup" in found[0][2]
    assert "sum" in found[1][2]
    assert "2 are read" in found[2][2]


def test_the_knowledge_is_well_marked() -> None:
    assert marks_amiss(knowledge_folder()) == []
