"""What can be looked at, entered and saved: pages, fields, forms, long work."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest
import yaml
from textual.widgets import Input

from cabassist.coach import Coach
from cabassist.dialogue.board import board_of
from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Mind
from cabassist.errors import FileProblem
from cabassist.journal import Journal
from cabassist.screen import fields, work
from cabassist.screen.board import countdown, hours_words, moment_words
from cabassist.screen.fields import changed, fields_of, save
from cabassist.screen.look import Look
from cabassist.screen.pages import PAGES, View
from cabassist.screen.values import values_of

from .conftest import LARGE, SMALL, START, Cab

Drive = Callable[..., None]
NOW = datetime.fromisoformat(START)


def seen(mind: Mind, journal: Journal, page: str, *said: str, look: Look | None = None) -> str:
    """A page after these were said, ten minutes apart."""
    session, now = Session(mind, journal), NOW
    for text in said:
        now += timedelta(minutes=10)
        session.hear(text, now)
    view = View(session.state, mind, board_of(session.state, mind, now), now, look or Look(), 70)
    return str(PAGES[page].text(view))


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("look", [Look(), Look(ascii=True)])
def test_every_page_has_something_to_say_before_anything_was_told(mind: Mind, journal: Journal, page: str, look: Look):
    text = seen(mind, journal, page, look=look)

    assert len(text) > 10
    assert text.isascii() or not look.ascii


def test_supplies_show_their_working(mind: Mind, journal: Journal):
    text = seen(mind, journal, "supplies", "fresh at half", "twelve aboard")

    assert re.search(r"Fresh water +█+░+ +\d+ %", text)
    assert re.search(r"Not read yet: .*House battery", text)
    assert len(text.splitlines()) > 20


def test_readings_are_plotted(mind: Mind, journal: Journal):
    """Columns as high as the level: full first, then half, so the right end is lower."""
    text = seen(mind, journal, "readings", "fresh is full", "fresh at half", "fresh at 10 percent", "minus twelve out")
    rows = [line for line in text.splitlines() if "|" in line]

    assert len(rows) == 5
    assert rows[0].startswith("  100 % |")
    assert rows[-1].count("█") > rows[0].count("█") > 0
    assert "Outside -12 °F." in text


def test_defects_say_whether_the_coach_may_move(mind: Mind, journal: Journal):
    text = seen(mind, journal, "defects", "log a defect: the left front brake does not hold")

    assert "left front brake does not hold" in text
    assert "must not move" in text


def test_duty_is_no_logging_device(mind: Mind, journal: Journal):
    assert "no logging device" in seen(mind, journal, "duty")


def test_the_profile_is_listed_with_units(mind: Mind, journal: Journal):
    text = seen(mind, journal, "coach")

    words = " ".join(text.split())
    assert "Fresh tank name fresh fresh, waste, or another name in small letters. capacity 120 gal" in words
    assert "Waste tank heat tape power 90 W Power of the heat tape." in words
    assert "gauge no Whether a working gauge shows the level." in words
    assert "capacity_gal" not in text


@pytest.mark.parametrize(
    ("hours", "words"), [(0.5, "30 min"), (1.49, "89 min"), (7.2, "7 h"), (47.4, "47 h"), (48, "2.0 d"), (61, "2.5 d")]
)
def test_spans_in_few_letters(hours: float, words: str):
    assert hours_words(hours) == words


@pytest.mark.parametrize(
    ("after", "words"),
    [
        (timedelta(0), "now"),
        (timedelta(hours=2), "23:40"),
        (timedelta(hours=4), "Fri 01:40"),
        (timedelta(days=9), "24 Jan"),
    ],
)
def test_moments_as_a_driver_says_them(after: timedelta, words: str):
    assert moment_words(NOW + after, NOW) == words


@pytest.mark.parametrize(("seconds", "shown"), [(59, "00:59"), (600, "10:00"), (3661, "1:01:01"), (-5, "00:00")])
def test_countdowns(seconds: int, shown: str):
    assert countdown(NOW + timedelta(seconds=seconds), NOW) == shown


# -- fields ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "text", "ok", "words"),
    [
        ("fresh-", "two thirds", True, "80 gallons"),
        ("fresh-", "130 percent", False, ""),
        ("fresh-", "900 gallons", False, "120"),
        ("fresh-", "banana", False, "two thirds or full; or up to 120 gallons"),
        ("propane-outside", "a quarter", True, "10 pounds"),
        ("house_battery-", "12.4 volts", True, "12.4 volts"),
        ("house_battery-", "99 volts", False, ""),
        ("outside_temp-", "minus 12", True, "-12 °F"),
        ("outside_temp-", "minus 400", False, ""),
        ("passengers-", "12", True, "12 people aboard"),
        ("odometer-", "120400 miles", True, "120,400 miles"),
    ],
)
def test_a_reading_is_checked_while_it_is_typed(mind: Mind, name: str, text: str, ok: bool, words: str):
    field = {field.name: field for field in fields_of("readings", mind)}[name]
    verdict = field.check(text)

    assert verdict.ok is ok, verdict.words
    assert words in verdict.words


@pytest.mark.parametrize("form", fields.FORMS)
@pytest.mark.parametrize("text", ["x", "\x1b[31m", "[b]", "1e999", "-" * 400, "ünïcode ° 🚌", "how do I dump"])
def test_no_field_breaks_on_odd_texts(mind: Mind, form: str, text: str):
    for field in fields_of(form, mind):
        assert isinstance(field.check(text).words, str)


@pytest.mark.parametrize(
    ("text", "status"), [("driving", "driving"), ("off duty since 20:00", "off duty"), ("in the berth", "berth")]
)
def test_a_duty_status_is_understood(mind: Mind, text: str, status: str):
    (field,) = fields_of("duty", mind)

    assert field.check(text).words == f"Your status: {status}."
    assert not field.check("asleep at the wheel maybe").ok


# -- the profile ----------------------------------------------------------------------------------


def test_a_value_of_the_profile_is_changed_in_any_unit(coach: Coach):
    """450 L are 118.9 gallons: 450 / 3.785411784 (NIST SP 811, by hand)."""
    made = changed(coach, "tanks.0.capacity_gal = 450 L")

    assert made.tanks[0].capacity_gal == pytest.approx(118.877, abs=0.001)
    assert changed(coach, "Fresh tank  capacity = 450 L") == made
    assert changed(coach, "outside cylinder tare = 31.5").propane.cylinders[0].tare_lb == 31.5
    assert made.tanks[1] == coach.tanks[1]
    assert changed(coach, "shore.pilot_light = no").shore.pilot_light is False
    assert changed(coach, "people.drivers = 3").people.drivers == 3


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("tanks.0.capacity_gal = 9000", "less than or equal to 500"),
        ("tanks.0.capacity_gal = heavy", "cannot be read as a quantity in gal"),
        ("tanks.0.capacity_gall = 90", "Did you mean tanks.0.capacity_gal"),
        ("fresh tank capasity = 90", "Did you mean fresh tank capacity"),
        ("tanks.0.shape = round", "rectangular"),
        ("people.drivers", "equals sign"),
        ("= 4", "equals sign"),
    ],
)
def test_a_wrong_value_says_what_is_allowed(coach: Coach, text: str, words: str):
    with pytest.raises(ValueError, match=re.escape(words)):
        changed(coach, text)


def test_the_profile_is_saved_whole_and_reads_back(coach: Coach, tmp_path: Path):
    path = tmp_path / "new" / "coach.yaml"
    save(changed(coach, "people.drivers = 3"), path)

    assert Coach.model_validate(yaml.safe_load(path.read_text(encoding="utf-8"))).people.drivers == 3
    assert [file.name for file in path.parent.iterdir()] == ["coach.yaml"]


def test_a_profile_that_cannot_be_saved_leaves_the_old_one(coach: Coach, tmp_path: Path):
    path = tmp_path / "coach.yaml"
    path.mkdir()

    with pytest.raises(FileProblem, match="cannot be written"):
        save(coach, path)
    assert [file.name for file in tmp_path.iterdir()] == ["coach.yaml"]


def test_every_value_of_the_profile_can_be_named(coach: Coach):
    values = list(values_of(coach))

    for names in ([value.place for value in values], [value.dotted for value in values]):
        assert len(names) == len(set(names)) > 300
    assert all(value.about for value in values)


# -- long work ------------------------------------------------------------------------------------


def test_a_stopped_export_leaves_nothing_behind(mind: Mind, journal: Journal, tmp_path: Path):
    session = Session(mind, journal)
    for minute in range(30):
        session.hear("thanks", NOW + timedelta(minutes=minute))
    shares: list[float] = []

    def told(share: float) -> bool:
        shares.append(share)
        return False

    with pytest.raises(work.Stopped):
        work.export(journal, tmp_path / "out.jsonl", told)
    assert shares
    assert list(tmp_path.iterdir()) == []


def test_an_export_that_finds_no_room_says_so(journal: Journal, tmp_path: Path):
    (tmp_path / "out.jsonl").mkdir()

    with pytest.raises(FileProblem, match="cannot be written"):
        work.export(journal, tmp_path / "out.jsonl", lambda share: True)


# -- on the screen --------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [SMALL, LARGE])
def test_pages_are_opened_by_key_and_by_touch(drive: Drive, size: tuple[int, int]):
    async def story(cab: Cab) -> None:
        await cab.say("fresh at half")
        await cab.press("f9")
        assert "Fresh water" in cab.text
        await cab.press("right")
        assert "Fresh water, " in cab.text
        await cab.pilot.click("#tab-coach")
        await cab.pilot.pause(0.2)
        assert "northern-loon" in cab.text
        await cab.press("escape")
        assert "you>" in cab.text

    drive(story, size)


def test_a_form_says_what_it_was_given(drive: Drive):
    """Checked while typed; entered as if said; the journal holds it."""

    async def story(cab: Cab) -> None:
        await cab.press("f9", "e")
        assert "Allowed: a level such as 40 percent" in cab.text
        first = cab.app.screen.query(Input).first()
        first.value = "130 percent"
        await cab.pilot.pause(0.2)
        assert "NOT YET:" in cab.text
        await cab.press("f2")
        assert cab.session.state.stored == ()
        first.value = "two thirds"
        await cab.pilot.pause(0.2)
        assert "OK: Fresh water two thirds, about 80 gallons." in cab.text
        await cab.press("f2")
        assert [stored.reading.what for stored in cab.session.state.stored] == ["fresh"]
        assert [e.payload["text"] for e in cab.session.journal.read(kind="said")] == ["fresh at two thirds"]

    drive(story)


def test_the_profile_is_changed_in_its_form(drive: Drive, tmp_path: Path):
    async def story(cab: Cab) -> None:
        cab.app.action_look("coach")
        await cab.pilot.pause(0.2)
        await cab.press("e")
        cab.app.screen.query(Input).first().value = "people.drivers = 3"
        await cab.pilot.pause(0.2)
        await cab.press("f2")
        saved = yaml.safe_load((tmp_path / "coach.yaml").read_text(encoding="utf-8"))
        assert saved["people"]["drivers"] == 3

    drive(story, folder=tmp_path)


def test_a_trip_is_begun_changed_and_looked_ahead_on(drive: Drive, tmp_path: Path):
    """In a worker; what the sample holds and what was told decide."""

    async def story(cab: Cab) -> None:
        await cab.say("fresh at half, waste at forty percent", "outside bottle full, inside bottle full")
        cab.app.action_look("trip")
        await cab.pilot.pause(0.2)
        assert "No trip is planned yet." in cab.text
        await cab.press("e")
        for _ in range(500):
            await cab.pilot.pause(0.02)
            if "Fewest service stops" in cab.text:
                break
        assert "Fewest service stops" in cab.text
        assert "between" in cab.text
        await cab.press("e")
        line = cab.app.screen.query(Input).first()
        line.value = "aboard = 900"
        await cab.pilot.pause(0.2)
        assert "NOT YET:" in cab.text
        line.value = "aboard = 14"
        await cab.pilot.pause(0.2)
        await cab.press("f2")
        assert yaml.safe_load((tmp_path / "trip.yaml").read_text(encoding="utf-8"))["aboard"] == 14

    drive(story, folder=tmp_path)


def test_a_broken_trip_says_where(drive: Drive, tmp_path: Path):
    (tmp_path / "trip.yaml").write_text("name: ours\nabord: 3\n", encoding="utf-8")

    async def story(cab: Cab) -> None:
        cab.app.action_look("trip")
        await cab.pilot.pause(0.3)
        assert "trip.yaml:2" in cab.text

    drive(story, LARGE, folder=tmp_path)
