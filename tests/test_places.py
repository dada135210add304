"""Where files live, and how that is moved."""

from __future__ import annotations

from pathlib import Path

import platformdirs
import pytest

from cabassist import places


def test_the_shipped_knowledge_is_found():
    """Without any setting the knowledge is where it was installed, with the demo coach in it."""
    assert (places.knowledge_folder() / "style.yaml").is_file()
    assert places.demo_coach().is_file()


@pytest.mark.parametrize(
    ("variable", "place"),
    [
        ("CABASSIST_KNOWLEDGE", places.knowledge_folder),
        ("CABASSIST_DATA", places.data_folder),
        ("CABASSIST_CACHE", places.cache_folder),
        ("CABASSIST_COACH", places.coach_file),
        ("CABASSIST_JOURNAL", places.journal_file),
    ],
)
def test_every_place_can_be_moved_by_its_variable(variable: str, place, monkeypatch: pytest.MonkeyPatch):
    """A variable in the environment wins over the usual place."""
    monkeypatch.setenv(variable, "/somewhere/else")

    assert place() == Path("/somewhere/else")


@pytest.mark.parametrize("variable", ["CABASSIST_DATA", "CABASSIST_CACHE", "CABASSIST_KNOWLEDGE"])
def test_an_empty_variable_counts_as_unset(variable: str, monkeypatch: pytest.MonkeyPatch):
    """`CABASSIST_DATA= cabassist` does not write into the current folder."""
    monkeypatch.setenv(variable, "")

    for folder in (places.data_folder(), places.cache_folder(), places.knowledge_folder()):
        assert folder != Path()


def test_the_usual_places_are_those_of_the_platform(monkeypatch: pytest.MonkeyPatch):
    """Without variables, data and cache are in the folders that the platform keeps for programs."""
    monkeypatch.delenv("CABASSIST_DATA")
    monkeypatch.delenv("CABASSIST_CACHE")

    assert places.data_folder() == Path(platformdirs.user_data_dir("cabassist", appauthor=False))
    assert places.cache_folder() == Path(platformdirs.user_cache_dir("cabassist", appauthor=False))


def test_the_journal_is_kept_with_the_users_data():
    """The record is data, not cache: nothing cleans it away."""
    assert places.journal_file().parent == places.data_folder()


def test_the_users_own_coach_is_used_once_there_is_one():
    """Until `coach.yaml` stands in the data folder, the bundled coach is in use."""
    before = places.coach_file()
    own = places.data_folder() / "coach.yaml"
    own.parent.mkdir(parents=True)
    own.write_text("id: mine\n", encoding="utf-8")

    assert before == places.demo_coach()
    assert places.coach_file() == own
