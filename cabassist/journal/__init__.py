"""The record: append-only events in SQLite. Append and read, nothing else.

May import `units`, `coach` and `errors`.
"""

from cabassist.journal.events import Event, EventDraft
from cabassist.journal.store import Journal

__all__ = ["Event", "EventDraft", "Journal"]
