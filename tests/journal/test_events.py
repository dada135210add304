"""Ids that sort by time, payloads with one form, digests that chain."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime, timedelta, timezone

from hypothesis import given
from hypothesis import strategies as st

from cabassist.journal.events import canonical, chained, new_id

START = datetime(2026, 1, 15, 21, 40, tzinfo=UTC)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)


def test_an_id_holds_its_time():
    """48 bits of milliseconds, 16 of counter, 64 of chance: 32 hexadecimal digits.

    By hand: 56 years with 14 leap days and 14 days more are 20 468 days of 86 400 s; 21:40 adds 78 000 s.
    """
    made = new_id(START, "")

    assert len(made) == 32
    assert int(made[:12], 16) == (20_468 * 86_400 + 78_000) * 1000
    assert int(made[12:16], 16) == 0


@given(st.lists(st.integers(-86_400_000, 86_400_000), min_size=2, max_size=30))
def test_ids_sort_in_the_order_in_which_they_were_made(steps: list[int]):
    """Whatever the clock does in between: standing still, jumping ahead, going back a day."""
    made = [new_id(START, "")]
    for milliseconds in steps:
        made.append(new_id(START + timedelta(milliseconds=milliseconds), made[-1]))

    assert made == sorted(made)
    assert len(set(made)) == len(made)


def test_a_later_time_gives_a_later_id_without_knowing_the_one_before():
    """Ids of different journals sort by time as well."""
    assert new_id(START, "") < new_id(START + timedelta(milliseconds=1), "")


def test_the_same_moment_in_another_zone_is_the_same_moment():
    """An id does not depend on where the coach is."""
    elsewhere = START.astimezone(timezone(timedelta(hours=-6)))

    assert new_id(elsewhere, "")[:12] == new_id(START, "")[:12]


def test_a_full_counter_moves_on_to_the_next_millisecond():
    """65 536 events in a millisecond do not run over."""
    full = f"{int(START.timestamp() * 1000):012x}ffff{'0' * 16}"
    after = new_id(START, full)

    assert after > full
    assert (int(after[:12], 16), after[12:16]) == (int(START.timestamp() * 1000) + 1, "0000")


def test_ids_sort_even_when_the_clock_is_before_1970():
    """A board computer with an empty clock battery may begin anywhere."""
    old = new_id(datetime(1960, 1, 1, tzinfo=UTC), "")
    later = new_id(datetime(1961, 1, 1, tzinfo=UTC), old)

    assert old < later < new_id(START, later)
    assert len(old) == len(later) == 32
    assert int(old, 16) >= 0


@given(st.dictionaries(st.text(max_size=5), JSON, max_size=4))
def test_the_same_payload_has_the_same_text(payload: dict[str, object]):
    """The order in which keys were put in does not matter."""
    assert canonical(payload) == canonical(dict(reversed(list(payload.items()))))


def test_a_payload_is_compact_and_readable():
    """Sorted keys, no spaces, letters of every language as they are."""
    assert canonical({"b": "°F ≥ 🚌", "a": [1, None, True]}) == '{"a":[1,null,true],"b":"°F ≥ 🚌"}'


def test_the_digest_is_sha_256_over_the_one_before_and_each_part_with_its_length():
    """Worked out here a second time with hashlib alone."""
    by_hand = hashlib.sha256(b"before" + (3).to_bytes(8, "big") + b"abc" + (2).to_bytes(8, "big") + "é".encode())

    assert chained("before", "abc", "é") == by_hand.hexdigest()


def test_moving_a_letter_from_one_part_to_the_next_changes_the_digest():
    """Lengths are part of it, so that fields cannot run into each other."""
    assert chained("", "ab", "c") != chained("", "a", "bc")
    assert chained("x", "ab", "c") != chained("", "ab", "c")
