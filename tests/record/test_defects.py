"""Defects from the first report to the signature."""

from __future__ import annotations

import pytest

from cabassist.coach import Coach
from cabassist.journal import Journal
from cabassist.journal.store import IN_MEMORY
from cabassist.record.defects import NO_REPAIR, all_defects, noted, open_defects, staged, which
from cabassist.record.entries import Record, recorded, withdrawal
from tests.record.conftest import NOON, later


def test_a_defect_goes_from_reported_to_checked_each_by_whom_and_when(report):
    """49 CFR 396.11 and 396.13: report, review, repair, signature."""
    record = Record((report("cracked lamp in bay three"),))
    for hours, state, by in ((1, "acknowledged", "Bob"), (2, "repaired", "Carl"), (3, "checked", "Bob")):
        record = record.with_entries(staged(all_defects(record)[0], state, later(hours), by))  # type: ignore[arg-type]
    (defect,) = all_defects(record)

    assert [(s.state, s.by, s.at) for s in defect.stages] == [
        ("reported", "Ann", NOON), ("acknowledged", "Bob", later(1)), ("repaired", "Carl", later(2)), ("checked", "Bob", later(3)),
    ]  # fmt: skip
    assert open_defects(record) == []


def test_nothing_is_signed_off_before_it_is_repaired(report):
    (defect,) = all_defects(Record((report("horn does not sound"),)))

    with pytest.raises(ValueError, match="Nobody has said that defect 1 is repaired"):
        staged(defect, "checked", NOON, "Bob")


def test_a_repair_does_not_free_the_coach_before_somebody_has_seen_it_work(report):
    record = Record((report("horn does not sound"),))
    record = record.with_entries(staged(all_defects(record)[0], "repaired", later(1), "Carl"))

    assert all_defects(record)[0].stops
    record = record.with_entries(staged(all_defects(record)[0], "checked", later(2), "Bob"))
    assert not all_defects(record)[0].stops


def test_no_repair_needed_is_a_repair_with_its_note(report):
    """49 CFR 396.11 lets the carrier certify that a repair is unnecessary."""
    record = Record((report("scratch on the left"),))
    record = record.with_entries(staged(all_defects(record)[0], "repaired", NOON, "Carl", note=NO_REPAIR))

    assert all_defects(record)[0].stages[-1].note == NO_REPAIR


def test_a_correction_adds_and_overwrites_nothing(report):
    """The first words, the first place and who said what stay in the record."""
    record = Record((report("cracked lamp in bay three"),))
    before = record.entries[0]
    record = record.with_entries(noted(all_defects(record)[0], later(1), "Bob", said="it is bay four", bays=["bay 4"], side="right", places=[]))  # fmt: skip
    (defect,) = all_defects(record)

    assert defect.place.bays == ("bay 4",)
    assert defect.remarks == ("Bob: it is bay four",)
    assert record.entries[0] is before


def test_open_defects_come_with_the_gravest_first(report):
    record = Record(
        (report("scratch on the left, minor"), report("torn seal bay two, urgent"), report("horn does not sound"), report("squeaky brake pedal"))
    )  # fmt: skip

    assert [d.number for d in open_defects(record)] == [3, 4, 2, 1]


@pytest.mark.parametrize(
    ("asked", "numbers"),
    [
        ("the lamp", [1, 2]),
        ("cracked lamp", [1]),
        ("lamp in bay 2", [2]),
        ("lamp in bay two", [2]),
        ("number 3", [3]),
        ("defect two", [2]),
        ("lampp in bay three", [1]),
        ("furnace", []),
        ("the", []),
        ("number 9", []),
    ],
)
def test_a_defect_is_found_by_number_or_by_most_of_its_words(asked: str, numbers: list[int], report):
    """Several that fit equally are all given back, so that it can be asked."""
    record = Record((report("cracked lamp in bay three"), report("dead lamp in bay two"), report("torn curtain")))

    assert [d.number for d in which(asked, all_defects(record))] == numbers


def test_the_record_survives_the_journal(report, coach: Coach):
    """What is read back is what was kept, by coach; what was taken back is gone; a stranger's event is passed over."""
    first, second = report("cracked lamp in bay three"), report("torn seal", later(1))
    with Journal(IN_MEMORY) as journal:
        for drafts, of in (([first.draft(), second.draft()], coach.id), ([report("other").draft()], "another-coach")):
            journal.append(drafts, at=NOON, coach=of, session="s", actor="Ann")
        journal.append([withdrawal([second.key])], at=later(2), coach=coach.id, session="s", actor="Ann")
        found = recorded(journal.read(), coach.id)

    assert [d.what for d in all_defects(found)] == ["cracked lamp in bay three"]


def test_strange_payloads_do_not_break_the_record(coach: Coach):
    """An imported journal may hold anything; an old entry without a key or a place is still a defect."""
    odd = [
        ("defect", {"what": "old one", "said": "log old one", "near": None}),
        ("defect", {"what": 7, "bays": "x", "key": 3}),
        ("defect-stage", {"defect": None, "state": "exploded"}),
        ("defect-note", {"defect": [], "severity": {}}),
        ("upkeep", {"on": "yesterday-ish", "item": 5}),
        ("duty", {"status": "asleep", "at": 4}),
        ("taken-back", {"keys": "all"}),
    ]
    with Journal(IN_MEMORY) as journal:
        from cabassist.journal import EventDraft

        journal.append([EventDraft(k, p) for k, p in odd], at=NOON, coach=coach.id, session="s", actor="Ann")
        defects = all_defects(recorded(journal.read(), coach.id))

    assert [d.what for d in defects] == ["old one", "not described"]
