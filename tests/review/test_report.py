"""The figures and the page."""

from __future__ import annotations

import csv
import io
import json
import re
from collections import Counter
from datetime import date, datetime, timedelta
from html.parser import HTMLParser

import pytest

from cabassist.review.charts import nice, shade, stacked
from cabassist.review.conversation import Conversation, Reading, Turn, Walk
from cabassist.review.figures import ASKED_BACK, MAX_COLUMNS, NOT_ANSWERED, Figures, Figuring, columns
from cabassist.review.needs import Need
from cabassist.review.report import Content, as_json, days_csv, needs_csv, page
from cabassist.review.sheet import Sheet, sheets

AT = datetime.fromisoformat("2026-01-15T21:40:00-06:00")
HOSTILE = "<script>alert(1)</script> \"&' {{7*7}} =cmd|x"


def turn(
    kind: str, minute: int, topic: str | None = None, verdict: str = "answer", readings: tuple[Reading, ...] = ()
) -> Turn:
    """A turn of a test."""
    return Turn(
        f"t{minute}",
        AT + timedelta(minutes=minute),
        "Ann",
        HOSTILE,
        verdict=verdict,
        kind=kind,
        topic=topic,
        readings=readings,
    )


def told() -> Conversation:
    """Questions of every outcome, readings that rise steadily, and a hazard."""
    hazard = Walk("propane-smell", AT, "Ann", of=9, step=9, ended="stop", seconds={1: 20.0, 9: 5.0})
    readings = [
        turn("reading", 60 * n, verdict="", readings=(Reading("waste", "", level, "percent"),))
        for n, level in enumerate((10, 20, 32))
    ]
    return Conversation(
        "s",
        "loon",
        [
            turn("procedure", 0, "dump-waste-tank"),
            turn("unknown", 1, None, "unknown"),
            turn("clarify", 2, None, "clarify"),
            turn("hazard", 3, "propane-smell", "hazard"),
            *readings,
        ],
        [hazard],
    )


def figured(*conversations: Conversation) -> Figures:
    """The figures of these."""
    figuring = Figuring({"dump-waste-tank": "waste", "propane-smell": "propane"}, frozenset({"propane-smell"}))
    for one in conversations:
        figuring.add(one)
    return figuring.figures


def content(
    figures: Figures, needs: list[Need], made: dict[str, Sheet], aliases: dict[str, str] | None = None
) -> Content:
    """What a report is made of."""
    return Content("the Loon", AT, figures, needs, [f"q{n}" for n in range(len(needs))], made, {}, aliases or {})


def full(aliases: dict[str, str] | None = None) -> Content:
    """A report with something in every part, and hostile texts."""
    need = Need("question", HOSTILE)
    need.add("unanswered", "s", "t", HOSTILE)
    need.wordings["=1+1"] += 1
    return content(figured(told()), [need], sheets([told()], []), aliases)


def test_questions_are_counted_by_outcome_and_day():
    """Readings are no questions."""
    f = figured(told())

    assert (f.questions, f.unanswered, f.asked_back, f.turns) == (4, 1, 1, 7)
    assert f.by_day[date(2026, 1, 15)] == Counter({"waste": 1, "propane": 1, NOT_ANSWERED: 1, ASKED_BACK: 1})


def test_a_hazard_that_was_walked_through_counts_as_handled():
    """With the time until the driver went on in it."""
    row = figured(told()).hazards["propane-smell"]

    assert (row.times, row.to_the_end, row.seconds) == (1, 1, [20.0])


def test_two_readings_foretell_the_third():
    """By hand: 10 % and 20 % an hour apart foretell 30 % after another hour; 32 % was read."""
    (forecast,) = figured(told()).forecasts

    assert forecast.foretold == pytest.approx(0.30)
    assert forecast.actual == pytest.approx(0.32)


def test_a_tank_that_was_dumped_is_no_wrong_forecast():
    """The direction changed: no rate holds across that."""
    levels = (10, 20, 5, 9)
    turns = [
        turn("reading", 60 * n, verdict="", readings=(Reading("waste", "", level, "percent"),))
        for n, level in enumerate(levels)
    ]

    assert figured(Conversation("s", "loon", turns, [])).forecasts == []


def cylinders() -> Conversation:
    """Two cylinders, read one after the other each hour."""
    levels = {"outside": (90, 80, 70), "inside": (40, 35, 30)}
    return Conversation(
        "s",
        "loon",
        [
            turn("reading", 60 * n, verdict="", readings=(Reading("propane", which, levels[which][n], "percent"),))
            for n in range(3)
            for which in levels
        ],
        [],
    )


def test_each_cylinder_is_foretold_from_its_own_readings():
    """By hand: 90, 80 foretell 70; 40, 35 foretell 30. Both are points of propane, and mixed there would be none."""
    forecasts = figured(cylinders()).forecasts

    assert [forecast.supply for forecast in forecasts] == ["propane", "propane"]
    assert [forecast.foretold for forecast in forecasts] == pytest.approx([0.7, 0.3])
    assert [forecast.actual for forecast in forecasts] == pytest.approx([0.7, 0.3])


def test_every_point_has_a_color_of_the_page():
    """A supply is named by what it is, never by which cylinder: no style may name a color that is not defined."""
    text = page(content(figured(cylinders()), [], {}), [])

    assert text.count('fill="var(--dot-propane)"') == 2
    assert set(re.findall(r"var\(([^,)]*)", text)) <= set(re.findall(r"(--[\w-]+):", text))


@pytest.mark.parametrize(
    ("days", "unit"), [(1, "day"), (31, "day"), (32, "week"), (200, "week"), (300, "month"), (4000, "month")]
)
def test_a_long_time_becomes_weeks_and_months(days: int, unit: str):
    """Never more columns than can be read, and no question of the shown time is lost."""
    by_day = {date(2025, 1, 1) + timedelta(days=n): Counter({"waste": 1}) for n in range(days)}
    found, rows = columns(by_day)

    assert found == unit
    assert len(rows) <= MAX_COLUMNS
    if days <= 300:
        assert sum(count["waste"] for _, count in rows) == days


def test_days_without_questions_have_their_place():
    """A gap is seen as a gap."""
    by_day = {date(2026, 1, 1): Counter(a=1), date(2026, 1, 4): Counter(a=1)}

    assert [count["a"] for _, count in columns(by_day)[1]] == [1, 0, 0, 1]


@pytest.mark.parametrize(("value", "top"), [(0, 2), (2, 2), (3, 4), (7, 8), (11, 20), (99, 100), (101, 200)])
def test_axes_end_on_round_numbers(value: float, top: float):
    """At or above the highest bar."""
    assert nice(value) == top


def test_bars_stand_on_each_other_and_stay_inside():
    """The heights are in the ratio of the numbers."""
    stack = stacked([("Jan 15", Counter({"waste": 3, ASKED_BACK: 2, NOT_ANSWERED: 1}))])
    heights = [bar.height for bar in stack.bars]

    assert [bar.name for bar in stack.bars] == ["answered", ASKED_BACK, NOT_ANSWERED]
    assert heights == pytest.approx([heights[2] * 3, heights[2] * 2, heights[2]])
    assert all(bar.y >= 0 for bar in stack.bars)
    assert stack.bars[0].y == pytest.approx(stack.bars[1].y + stack.bars[1].height)


def test_only_nothing_has_no_shade():
    """One of a thousand is still seen; the most is the strongest."""
    assert [shade(value, 1000) for value in (0, 1, 1000)] == [0, 1, 5]


class Page(HTMLParser):
    """What a page is made of: tags in order, and addresses that would be fetched."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.fetched: list[str] = []
        self.headings: list[int] = []
        self.unnamed: list[str] = []
        self.ids: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.tags.append(tag)
        self.fetched += [str(found[name]) for name in ("src", "href", "srcset", "data") if name in found]
        self.ids += [str(found["id"])] if "id" in found else []
        if re.fullmatch(r"h[1-6]", tag):
            self.headings.append(int(tag[1]))
        named = found.get("aria-label") or found.get("aria-labelledby")
        if (found.get("role") == "img" or tag == "section") and not named:
            self.unnamed.append(tag)
        if tag == "th" and "scope" not in found:
            self.unnamed.append("th")


def test_the_page_fetches_nothing_and_runs_nothing():
    """Texts of drivers are shown, never obeyed."""
    text = page(full(), ["a.json"])
    found = Page(text)

    assert found.fetched == []
    assert "script" not in found.tags
    assert "@import" not in text
    assert "url(" not in text.replace("url(#hatch)", "")
    assert "49" not in re.findall(r"alert\(1\).{0,80}", text)[0]
    assert "&lt;script&gt;" in text


def test_the_page_can_be_read_without_eyes():
    """A language, a title, headings without gaps, a name for each picture and table head, each id once."""
    text = page(full(), ["a.json"])
    found = Page(text)

    assert '<html lang="en">' in text
    assert "<title>Review of sessions" in text
    assert found.headings[0] == 1
    assert all(later - earlier <= 1 for earlier, later in zip(found.headings, found.headings[1:], strict=False))
    assert found.unnamed == []
    assert len(found.ids) == len(set(found.ids))


def luminance(color: str) -> float:
    """Relative luminance of #rrggbb. Source: WCAG 2.2, "relative luminance"."""
    parts = [int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, 1 to 21. Source: WCAG 2.2, "contrast ratio"."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("scheme", [0, 1], ids=["light", "dark"])
def test_texts_and_bars_stand_out(scheme: int):
    """4.5 to 1 for texts, 3 to 1 for what a chart tells. Source: WCAG 2.2, 1.4.3 and 1.4.11."""
    rules = re.findall(r":root \{([^}]*)\}", page(full(), []))[scheme]
    color = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", rules))

    for name in ("ink", "soft"):
        assert contrast(color[name], color["card"]) >= 4.5
        assert contrast(color[name], color["paper"]) >= 4.5
    for name in ("answered", "asked", "not", "good", "dot-fresh", "dot-waste", "dot-propane", "dot-diesel"):
        assert contrast(color[name], color["card"]) >= 3
    for cell, ink in (("h1", "h-ink"), ("h2", "h-ink"), ("h4", "h-ink-strong"), ("h5", "h-ink-strong")):
        assert contrast(color[cell], color[ink]) >= 4.5


def test_an_empty_record_makes_a_page():
    """The first report is asked for before the first trip."""
    text = page(content(Figures(), [], {}), [])

    assert "No questions yet." in text
    assert "Nothing stands out." in text


def test_names_can_be_replaced():
    """Neither the page nor the figures hold them."""
    made = full({"Ann": "person-1"})

    for text in (page(made, []), as_json(made), days_csv(made), needs_csv(made)):
        assert "Ann" not in text
    assert "person-1" in page(made, [])


def test_names_are_replaced_in_what_was_said():
    """In questions, their other wordings, what was meant by a word, and what is said at a step, however it is written."""
    question, word, step = Need("question", "ask ann-marie about it"), Need("word", "an lee"), Need("step", "t:2")
    question.wordings.update(["ask ann-marie about it", "where is ann marie", "is anna here"])
    word.wordings["ann lee"] += 1
    step.add("left", "s", "t", "x" * 113 + " Ann Lee waits")
    aliases = {"Ann Lee": "person-1", "Ann-Marie": "person-2", "...": "person-3"}
    made = content(figured(told()), [question, word, step], {}, aliases)

    assert [(row["name"], row["also"]) for row in made.need_rows] == [
        ("ask person-2 about it", "also: where is person-2; is anna here"),
        ("an lee", "meant: person-1"),
        ("t:2", "x" * 113 + " person"),
    ]
    for text in (page(made, []), as_json(made), needs_csv(made)):
        assert not re.search(r"\bann\b", text, re.IGNORECASE)
    assert [row["key"] for row in made.need_rows] == ["q0", "q1", "q2"]


def test_all_files_of_a_report_are_of_one_set_of_rows():
    """Worked out once: the page, the JSON and the CSV cannot tell different needs or drivers."""
    made = full()
    body = json.loads(as_json(made))
    (row,) = csv.DictReader(io.StringIO(needs_csv(made)))

    assert made.need_rows is made.need_rows
    assert made.driver_rows is made.driver_rows
    assert body["needs"] == made.need_rows
    assert body["drivers"] == made.driver_rows
    assert row["key"] == made.need_rows[0]["key"] == "q0"
    assert made.driver_rows[0]["name"] in page(made, [])


def test_the_figures_beside_it_can_be_read_by_programs():
    """JSON with everything, CSV that no spreadsheet takes for a formula."""
    made = full()
    body = json.loads(as_json(made))
    rows = list(csv.DictReader(io.StringIO(needs_csv(made))))

    assert (body["questions"], body["not_answered"], len(body["needs"])) == (4, 1, 1)
    assert list(csv.reader(io.StringIO(days_csv(made))))[1] == ["2026-01-15", ASKED_BACK, "1"]
    assert rows[0]["name"] == HOSTILE
    assert not any(value.startswith(("=", "+", "@")) for row in rows for value in row.values())
