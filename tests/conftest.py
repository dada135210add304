"""Fixtures shared by all tests: the shipped knowledge and the demo coach, each read once, and places to write to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import settings

from cabassist import places
from cabassist.coach import Coach
from cabassist.procedures import yamlfile
from cabassist.procedures.library import Knowledge, load_knowledge

if TYPE_CHECKING:
    from cabassist.dialogue.types import Mind

# A busy machine is no fault, and a run must be repeatable.
settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")

VARIABLES = ("CABASSIST_COACH", "CABASSIST_JOURNAL", "CABASSIST_KNOWLEDGE", "NO_COLOR", "FORCE_COLOR", "COLUMNS")


@pytest.fixture(scope="session")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A cache folder that all tests share, so that the knowledge is compiled once."""
    return tmp_path_factory.mktemp("cache")


@pytest.fixture(scope="session")
def data_folders(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Names for data folders, a new one for each test; none is made here, as a test may look whether one was."""
    base = tmp_path_factory.mktemp("data")
    return (base / str(number) for number in count())


@pytest.fixture(autouse=True)
def own_places(data_folders: Iterator[Path], cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Send everything a test writes into temporary folders, and forget the settings of whoever runs it."""
    for name in VARIABLES:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("CABASSIST_DATA", str(next(data_folders)))
    monkeypatch.setenv("CABASSIST_CACHE", str(cache))


@pytest.fixture(scope="session")
def knowledge_folder() -> Path:
    """The shipped knowledge."""
    return places.knowledge_folder()


@pytest.fixture(scope="session")
def coach_text(knowledge_folder: Path) -> str:
    """The demo coach's profile as it is written."""
    return (knowledge_folder / "coaches" / "demo.yaml").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def coach(coach_text: str) -> Coach:
    """The demo coach."""
    return yamlfile.validate(yamlfile.parse(coach_text, "demo.yaml"), Coach)


@pytest.fixture(scope="session")
def other_coach(coach: Coach) -> Callable[[dict[str, Any]], Coach]:
    """Makes a coach like the demo coach, but with some parts replaced: `{"generator": None}`."""

    def made(parts: dict[str, Any]) -> Coach:
        return Coach.model_validate({**coach.model_dump(), **parts})

    return made


@pytest.fixture(scope="session")
def knowledge(knowledge_folder: Path, cache: Path) -> Knowledge:
    """Everything the assistant knows."""
    return load_knowledge(knowledge_folder, cache)


@pytest.fixture(scope="session")
def mind(knowledge_folder: Path, cache: Path) -> Mind:
    """Everything a turn of the conversation needs, for the demo coach."""
    from cabassist.dialogue.session import load_mind

    return load_mind(knowledge_folder / "coaches" / "demo.yaml", knowledge_folder, cache)


@pytest.fixture
def now() -> datetime:
    """The evening on which all tests happen."""
    return datetime(2026, 1, 15, 21, 40, tzinfo=UTC)


@pytest.fixture
def as_nobody() -> Callable[[], Any]:
    """A block in which file permissions count, also when the tests are run by root."""
    import os

    @contextmanager
    def lowered() -> Iterator[None]:
        if os.geteuid() != 0:
            yield
            return
        os.seteuid(65534)
        try:
            yield
        finally:
            os.seteuid(0)

    return lowered


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A temporary folder that other users can reach, for tests of permissions."""
    import shutil
    import tempfile

    made = Path(tempfile.mkdtemp(prefix="cabassist-"))
    made.chmod(0o777)
    yield made
    shutil.rmtree(made)
