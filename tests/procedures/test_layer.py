"""A trainer's layer: read leniently for drivers, strictly for trainers."""

from __future__ import annotations

from pathlib import Path

import pytest

from cabassist.procedures.layer import Layer, mended, read_layer

TOPICS = {"dump-waste-tank": 1, "fill-fresh-water": 1}


def write(folder: Path, name: str, text: str | bytes) -> None:
    """A file of the layer."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode() if isinstance(text, str) else text)


def test_no_folder_is_an_empty_layer(tmp_path: Path):
    """Most coaches have none."""
    assert read_layer(tmp_path / "none", TOPICS) == (Layer(), [])
    assert not Layer()


def test_wordings_and_misheard_words_are_read(tmp_path: Path):
    """Blank lines and space around them do not count."""
    write(tmp_path, "wordings/fill-fresh-water.txt", "put water in\n\n  top her up \n")
    write(tmp_path, "misheard.txt", "Die Sell = diesel\n")
    layer, problems = read_layer(tmp_path, TOPICS)

    assert layer.wordings == (("put water in", "fill-fresh-water"), ("top her up", "fill-fresh-water"))
    assert layer.misheard == (("die sell", "diesel"),)
    assert problems == []


@pytest.mark.parametrize(
    ("name", "text", "message"),
    [
        ("wordings/renamed-topic.txt", "put water in\n", "there is no procedure 'renamed-topic'"),
        ("wordings/dump-waste-tank.txt", "good one\n" + "x" * 300 + "\n", "at most 200"),
        ("wordings/dump-waste-tank.txt", "good one\n123\n", "must be words"),
        ("wordings/dump-waste-tank.txt", b"\xff\xfe", "UTF-8"),
        ("misheard.txt", "no sign here\n", "heard = meant"),
        ("misheard.txt", "a = b = c\n", "heard = meant"),
    ],
)
def test_what_cannot_be_used_is_left_out_and_named(tmp_path: Path, name: str, text: str | bytes, message: str):
    """A driver is answered with the rest; the trainer is told file and line."""
    write(tmp_path, "wordings/fill-fresh-water.txt", "top her up\n")
    write(tmp_path, name, text)
    layer, problems = read_layer(tmp_path, TOPICS)

    assert ("top her up", "fill-fresh-water") in layer.wordings
    assert len(problems) == 1
    assert message in str(problems[0])


def test_a_wording_cannot_mean_two_things(tmp_path: Path):
    """The first file keeps it, and it is named."""
    write(tmp_path, "wordings/dump-waste-tank.txt", "do the tank\n")
    write(tmp_path, "wordings/fill-fresh-water.txt", "do the tank\n")
    layer, problems = read_layer(tmp_path, TOPICS)

    assert layer.wordings == (("do the tank", "dump-waste-tank"),)
    assert "already means 'dump-waste-tank'" in str(problems[0])


def test_the_later_layer_wins():
    """What is proposed stands above what was accepted."""
    joined = Layer((("a", "x"), ("b", "x"))) | Layer((("a", "y"),), (("h", "m"),))

    assert joined == Layer((("a", "y"), ("b", "x")), (("h", "m"),))


@pytest.mark.parametrize(
    ("text", "mended_text"),
    [
        ("die sell half", "diesel half"),
        ("DIE SELL half", "diesel half"),
        ("the dye sells well", "the dye sells well"),
        ("jenny and jennys", "genny and jennys"),
        ("", ""),
    ],
)
def test_only_whole_words_are_mended(text: str, mended_text: str):
    """In any case of letters; a longer word is left alone."""
    assert mended(text, (("die sell", "diesel"), ("jenny", "genny"))) == mended_text
    assert mended(text, ()) == text
