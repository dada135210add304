"""Everything raised on purpose is one family, and says what to do next."""

from __future__ import annotations

import inspect
from pathlib import Path

from cabassist import errors
from cabassist.errors import CabassistError, ContentProblems, FileProblem, Problem, UnknownName


def test_every_error_of_ours_has_one_base_and_stands_in_the_list():
    """The list at the top of the module is complete, so that a caller can catch by kind."""
    ours = [kind for _, kind in inspect.getmembers(errors, inspect.isclass) if issubclass(kind, Exception)]

    assert CabassistError in ours
    for kind in ours:
        assert issubclass(kind, CabassistError)
        assert kind.__name__ in (errors.__doc__ or "")


def test_a_problem_reads_as_file_line_place_and_message():
    """An editor can jump to `file:line`; a problem of the whole file names no place."""
    placed = Problem("coach.yaml", 7, "tanks[0].gauge", "must be true or false")
    whole = Problem("coach.yaml", 1, "", "not sound YAML")

    assert str(placed) == "coach.yaml:7: tanks[0].gauge: must be true or false"
    assert str(whole) == "coach.yaml:1: not sound YAML"


def test_all_problems_of_a_file_are_shown_a_line_each():
    """Nobody has to mend a file one error at a time."""
    first, second = Problem("a.yaml", 1, "id", "wrong"), Problem("a.yaml", 9, "name", "too short")
    raised = ContentProblems([first, second])

    assert raised.problems == [first, second]
    assert str(raised).splitlines() == [str(first), str(second)]


def test_a_file_problem_names_the_file_and_the_next_action():
    """What happened, which file, what to do."""
    raised = FileProblem(Path("/data/coach.yaml"), "does not exist.", "Check the name.")

    assert raised.path == "/data/coach.yaml"
    assert str(raised) == "/data/coach.yaml: does not exist. Check the name."


def test_an_unknown_name_offers_the_nearest_and_the_next_action():
    """The hint is left out when nothing is near."""
    near = UnknownName("procedure", "dump-tank", ["dump-waste-tank"], "See `cabassist topics`.")
    far = UnknownName("procedure", "qqq", [], "See `cabassist topics`.")

    assert str(near) == (
        "There is no procedure called 'dump-tank'. Did you mean dump-waste-tank? See `cabassist topics`."
    )
    assert near.nearest == ["dump-waste-tank"]
    assert str(far) == "There is no procedure called 'qqq'. See `cabassist topics`."
