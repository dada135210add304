"""The hand-over page: what it holds, how long it takes to say, and that it prints."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cabassist.coach import Coach
from cabassist.journal import EventDraft, Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.record.entries import Record
from cabassist.record.handover import MOST_WORDS, Level, Page, json_of, lines_of, page_of, spoken
from cabassist.record.kit import moved
from cabassist.record.pages import handover_html
from tests.record.conftest import NOON

LEVELS = (
    Level("Fresh water", "60 %", "2 hours ago", "about 20 hours left", "fill by 08:00 Fri"),
    Level("Waste", "not read yet", "", "", ""),
)


@pytest.fixture
def page(report, coach: Coach) -> Page:
    kit = {item.id: item for item in coach.kit}
    record = Record(
        (report("scratch on the left, minor"), report("horn does not sound"), moved(kit["mop"], "missing", NOON, "Bob", ""))
    )  # fmt: skip
    with Journal(IN_MEMORY) as journal:
        for text in ("how do I dump the waste tank", "how do you dump it again", "next"):
            kind = "step" if text == "next" else "procedure"
            answered = EventDraft("answered", {"kind": kind, "topic": "dump-waste-tank"})
            journal.append([EventDraft("said", {"text": text}), answered], at=NOON, coach=coach.id, session="s", actor="Bob")  # fmt: skip
        events = list(journal.read())
    return page_of(coach, record, NOON, levels=LEVELS, events=events, titles={"dump-waste-tank": "Dump the waste tank"})


def test_what_keeps_the_coach_parked_stands_first(page: Page):
    lines = lines_of(page)

    assert page.may_not_move == ["defect 2, horn does not sound"]
    assert lines[2].startswith("WARNING: The coach stays parked: defect 2")


def test_it_holds_all_that_the_next_driver_must_know(page: Page):
    text = "\n".join(lines_of(page))

    for part in ("1, scratch on the left", "fill by 08:00 Fri", "Waste: not read yet", "Test the CO alarm", "mop and bucket", "Dump the waste tank: 2 times (Bob)", "reported by Ann"):  # fmt: skip
        assert part in text


def test_the_summary_says_the_danger_the_levels_and_what_is_missing(page: Page):
    said = spoken(page)

    assert said.index("stays parked") < said.index("Fresh water")
    for part in ("Fresh water 60 %, fill by 08:00 Fri", "Not read: Waste", "Missing: mop", "Dump the waste tank"):
        assert part in said


@given(st.lists(st.text("ab c", min_size=1, max_size=400), max_size=30), st.integers(0, 20))
def test_the_summary_never_takes_a_minute(names: list[str], levels: int):
    """At 150 words a minute; however much there is, the sentence about what keeps it parked is begun."""
    many = tuple(Level(name, "60 %", "now", "long", "fill by 08:00") for name in names[:levels])
    from cabassist.record.defect_words import Place
    from cabassist.record.defects import Defect, Stage

    held = tuple(
        Defect(str(n), n, name, Place(), "stop", "no", "horn", "w", "r", "a", (Stage("reported", "Ann", NOON),))
        for n, name in enumerate(names, 1)
    )
    said = spoken(Page("the Loon", NOON, (), (), many, held, (), (), ()))

    assert len(said.split()) <= MOST_WORDS
    assert ("stays parked" in said) is bool(names)


class Reader(HTMLParser):
    """Collects the elements and what they load."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.loads: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.loads += [str(value) for name, value in attrs if name in ("src", "href")]
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_page_is_whole_loads_nothing_and_prints(page: Page):
    """One file: no link, script or picture; a print style; a language, a title and a head for every table (WCAG 1.3.1)."""
    html = handover_html(page)
    reader = Reader()
    reader.feed(html)

    assert reader.open == []
    assert reader.loads == []
    assert not {"script", "link", "img"} & set(reader.tags)
    assert "@media print" in html
    assert 'lang="en"' in html
    assert reader.tags.count("table") == reader.tags.count("caption") == len(re.findall("<thead>", html))


def test_what_was_said_is_escaped(report, coach: Coach):
    record = Record((report("<img src=x onerror=alert(1)> torn seal & more"),))
    html = handover_html(page_of(coach, record, NOON, levels=LEVELS))

    assert "<img" not in html
    assert "&lt;img" in html


def test_programs_get_the_same(page: Page):
    body = json_of(page)

    assert body["may_not_move"] == page.may_not_move
    assert [row["stops"] for row in body["defects"]] == [True, False]
    assert body["missing"][0]["id"] == "mop"
