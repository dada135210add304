"""The record: append-only events in SQLite; its proof, copy, rescue, and the erasing of a session under a tombstone.

May import `errors` only.
"""

from cabassist.journal.events import Event, EventDraft
from cabassist.journal.store import Journal

__all__ = ["Event", "EventDraft", "Journal"]
