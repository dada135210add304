"""A file is there whole or not at all."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from cabassist.errors import FileProblem
from cabassist.files import whole_file, write_whole


def test_a_file_and_its_folder_are_made(tmp_path: Path):
    """What was written stands in it, and nothing stands beside it."""
    write_whole(tmp_path / "new" / "page.txt", "one\ntwo\n")

    assert (tmp_path / "new" / "page.txt").read_text(encoding="utf-8") == "one\ntwo\n"
    assert [path.name for path in (tmp_path / "new").iterdir()] == ["page.txt"]


def test_a_file_that_is_there_is_written_over_only_when_that_is_wanted(tmp_path: Path):
    """Without it the old one stands."""
    path = tmp_path / "page.txt"
    path.write_text("old", encoding="utf-8")

    with pytest.raises(FileProblem, match="exists already"), whole_file(path):
        pass
    assert path.read_text(encoding="utf-8") == "old"
    write_whole(path, "new")
    assert path.read_text(encoding="utf-8") == "new"


def test_writing_that_ends_early_leaves_what_stood_before(tmp_path: Path):
    """A full disk says so; the half-written part is taken away."""
    path = tmp_path / "page.txt"
    path.write_text("old", encoding="utf-8")

    def half() -> None:
        with whole_file(path, over=True) as file:
            file.write("half")
            raise OSError(errno.ENOSPC, "No space left on device")

    with pytest.raises(FileProblem, match="Free some space"):
        half()
    assert path.read_text(encoding="utf-8") == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["page.txt"]


def test_a_folder_that_cannot_be_made_names_the_file_and_what_to_do(tmp_path: Path):
    """The advice is the caller's."""
    (tmp_path / "plain").write_text("", encoding="utf-8")

    with pytest.raises(FileProblem, match="Choose another folder"):
        write_whole(tmp_path / "plain" / "page.txt", "x", advice="Choose another folder.")
