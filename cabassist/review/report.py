"""The report: one page that needs no network, and its figures as CSV and JSON."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from statistics import median
from typing import Any

from cabassist.journal.exchange import ROLES, hider
from cabassist.language.normalise import plain
from cabassist.review import charts
from cabassist.review.figures import ASKED_BACK, NOT_ANSWERED, Figures, columns
from cabassist.review.needs import Need
from cabassist.review.sheet import Sheet

MAX_NEEDS, MAX_TOPICS, MAX_DRIVERS = 15, 8, 40
ENDED = {"end": "to the last step", "stop": "stopped by the driver", "left": "left open"}


@dataclass(frozen=True)
class Content:
    """What a report is made of. `titles` gives the title of each topic, `keys` the key of each need in order."""

    coach: str
    made: datetime
    figures: Figures
    needs: Sequence[Need]
    keys: Sequence[str]
    sheets: Mapping[str, Sheet]
    titles: Mapping[str, str]
    aliases: Mapping[str, str]
    """A pseudonym for each person (see `pseudonyms` of the journal's export); empty when names are kept."""

    def name(self, driver: str) -> str:
        """The driver's name or pseudonym."""
        return self.aliases.get(driver, driver)

    @cached_property
    def hidden(self) -> Callable[[str], str]:
        """Replaces the persons' names in what was said, also as wordings are kept: small letters, no hyphens."""
        spoken = {plain(name): alias for name, alias in self.aliases.items() if plain(name) not in ROLES}
        return hider({**spoken, **self.aliases})

    @cached_property
    def need_rows(self) -> list[dict[str, Any]]:
        """What needs work, as the page, the JSON and the CSV show it."""
        return _needs(self)

    @cached_property
    def driver_rows(self) -> list[dict[str, Any]]:
        """The drivers, most walks first, as the page and the JSON show them."""
        return _drivers(self)


def page(content: Content, beside: Iterable[str]) -> str:
    """The report as HTML. `beside` names the files that go with it."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("cabassist.review"), autoescape=True, undefined=StrictUndefined, trim_blocks=True
    )
    environment.filters["n"] = lambda value: f"{value:.1f}".removesuffix(".0")
    f = content.figures
    unit, days = columns(f.by_day)
    return environment.get_template("report.html").render(
        coach=content.coach,
        made=f"{content.made:%Y-%m-%d %H:%M}",
        span=f"{f.first:%Y-%m-%d} to {f.last:%Y-%m-%d}" if f.first and f.last else "no sessions",
        pseudonymised=bool(content.aliases),
        tiles=_tiles(content),
        rate_line=_rate(f),
        columns=days,
        unit=unit,
        stack=charts.stacked(days),
        heat=_heat(days),
        needs=content.need_rows,
        hazards=_hazards(content),
        points=charts.scattered(f.forecasts, 250.0),
        supplies=sorted({forecast.supply for forecast in f.forecasts}),
        forecast_line=_forecast(f),
        walks=[
            {"name": ENDED[name], "value": f.walks[name], "share": 100 * f.walks[name] / max(1, f.walks.total())}
            for name in ENDED
            if f.walks[name]
        ],
        topics=[(content.titles.get(topic, topic), count) for topic, count in f.topics.most_common(MAX_TOPICS)],
        drivers=content.driver_rows[:MAX_DRIVERS],
        more_drivers=max(0, len(content.sheets) - MAX_DRIVERS),
        beside=", ".join(beside),
    )


def _tiles(content: Content) -> list[dict[str, str]]:
    f = content.figures
    rows = [("sessions", f.sessions), ("turns", f.turns), ("questions", f.questions)]
    tiles = [{"name": name, "value": f"{value:,}"} for name, value in rows]
    tiles.append({"name": "not answered", "value": _percent(f.unanswered, f.questions)})
    tiles.append({"name": "hazards reported", "value": f"{sum(h.times for h in f.hazards.values()):,}"})
    tiles.append({"name": "readings told", "value": f"{f.readings:,}"})
    return tiles


def _percent(part: int, whole: int) -> str:
    return f"{100 * part / whole:.1f} %" if whole else "none"


def _rate(f: Figures) -> str:
    if not f.questions:
        return "No questions were asked."
    return (
        f"Of {f.questions:,} questions {f.unanswered:,} were not answered ({_percent(f.unanswered, f.questions)}) and "
        f"{f.asked_back:,} were asked back ({_percent(f.asked_back, f.questions)})."
    )


def _heat(days: Sequence[tuple[str, Any]]) -> list[dict[str, Any]]:
    total: dict[str, int] = {}
    for _, count in days:
        for name, value in count.items():
            total[name] = total.get(name, 0) + value
    most = max((value for _, count in days for value in count.values()), default=0)
    last = {ASKED_BACK: 1, NOT_ANSWERED: 2}
    names = sorted(total, key=lambda name: (last.get(name, 0), -total[name]))
    return [
        {
            "name": name,
            "total": total[name],
            "cells": [{"value": count[name], "shade": charts.shade(count[name], most)} for _, count in days],
        }
        for name in names
    ]


def _needs(content: Content) -> list[dict[str, Any]]:
    most = max((need.badness for need in content.needs), default=1.0)
    return [
        {
            "key": key,
            "sort": need.sort,
            "name": content.hidden(need.name),
            "also": _also(need, content.hidden),
            "troubles": ", ".join(f"{name} {count}" for name, count in need.troubles.most_common()),
            "sessions": len(need.sessions),
            "badness": need.badness,
            "share": 100 * need.badness / most,
        }
        for key, need in zip(content.keys, content.needs[:MAX_NEEDS], strict=False)
    ]


def _also(need: Need, hidden: Callable[[str], str]) -> str:
    """The other wordings of a question, what was meant by a word, or what the assistant says at a step."""
    if need.sort == "step":
        said = next((example.text for example in need.examples if example.text), "")
        return hidden(said)[:120]  # in this order: half a name would not be known as one
    others = hidden("; ".join(wording for wording, _ in need.wordings.most_common(5) if wording != need.name))
    return f"meant: {others}" if need.sort == "word" else others and f"also: {others}"


def _hazards(content: Content) -> list[dict[str, Any]]:
    rows = sorted(content.figures.hazards.values(), key=lambda row: -row.times)
    return [
        {
            "title": content.titles.get(row.topic, row.topic),
            "times": row.times,
            "to_the_end": row.to_the_end,
            "share": 100 * row.to_the_end / row.times,
            "median": f"{median(row.seconds):.0f} s" if row.seconds else "did not go on",
            "passed_over": row.passed_over,
        }
        for row in rows
    ]


def _forecast(f: Figures) -> str:
    if not f.forecasts:
        return "Not enough readings one after the other to compare: three of a supply, rising or falling steadily."
    wrong = median(abs(forecast.foretold - forecast.actual) for forecast in f.forecasts)
    return (
        f"The rate between two readings, carried on to the next one: {len(f.forecasts)} comparisons, half of them "
        f"within {100 * wrong:.0f} points of what was read."
    )


def _drivers(content: Content) -> list[dict[str, Any]]:
    rows = [
        {
            "name": content.name(sheet.driver),
            "topics": len(sheet.topics),
            "walks": sum(row.times for row in sheet.topics.values()),
            "done": sum(row.done for row in sheet.topics.values()),
            "skipped": sum(row.skipped for row in sheet.topics.values()),
            "signed": sum(row.signed is not None for row in sheet.topics.values()),
        }
        for sheet in content.sheets.values()
    ]
    return sorted(rows, key=lambda row: (-int(row["walks"]), str(row["name"])))


def as_json(content: Content) -> str:
    """Every figure of the report."""
    f = content.figures
    body = {
        "coach": content.coach,
        "made": content.made.isoformat(),
        "sessions": f.sessions,
        "turns": f.turns,
        "questions": f.questions,
        "not_answered": f.unanswered,
        "asked_back": f.asked_back,
        "kinds": dict(f.kinds),
        "by_day": {day.isoformat(): dict(count) for day, count in sorted(f.by_day.items())},
        "topics": dict(f.topics.most_common()),
        "walks": dict(f.walks),
        "hazards": [{**vars(row), "seconds": [round(s, 1) for s in row.seconds]} for row in f.hazards.values()],
        "forecasts": [{**vars(row), "at": row.at.isoformat()} for row in f.forecasts],
        "needs": content.need_rows,
        "drivers": content.driver_rows,
    }
    return json.dumps(body, ensure_ascii=False, indent=2)


def days_csv(content: Content) -> str:
    """One row a day and system: questions."""
    rows = [
        (day.isoformat(), name, count)
        for day, counts in sorted(content.figures.by_day.items())
        for name, count in sorted(counts.items())
    ]
    return _csv(("day", "system", "questions"), rows)


def needs_csv(content: Content) -> str:
    """One row a need."""
    names = ("key", "sort", "name", "badness", "sessions", "troubles", "also")
    return _csv(names, [tuple(_harmless(row[name]) for name in names) for row in content.need_rows])


def _harmless(value: Any) -> Any:
    """A cell that no spreadsheet takes for a formula: what drivers said may begin with an equals sign."""
    return f"'{value}" if isinstance(value, str) and value[:1] in tuple("=+-@\t\r") else value


def _csv(names: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(names)
    writer.writerows(rows)
    return out.getvalue()
