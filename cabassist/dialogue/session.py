"""The rim of the dialogue: gathers what a turn needs, keeps the state, writes the journal.

Every turn is written before its answer is shown: a process killed in between loses nothing that was seen.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from cabassist import __version__, places
from cabassist.coach import Coach, facts, rebuilt
from cabassist.dialogue import telling
from cabassist.dialogue.turn import announce_due, take_turn
from cabassist.dialogue.types import Mind, Reply, State
from cabassist.errors import FileProblem, JournalError
from cabassist.journal import EventDraft, Journal
from cabassist.language.hazards import HazardScreen
from cabassist.language.matching import load_matcher
from cabassist.language.steering import Steering
from cabassist.procedures.library import Knowledge, load_knowledge, write_cache


def load_coach(path: Path, cache: Path | None = None) -> Coach:
    """A coach's profile. Raises ContentProblems naming file, line, field and what is allowed."""
    import contextlib
    import hashlib
    import json

    compiled = None
    if cache is not None and path.is_file():
        about = path.stat()
        mark = f"{__version__}\0{path.resolve()}\0{about.st_mtime_ns}\0{about.st_size}"
        compiled = cache / f"coach-{hashlib.blake2b(mark.encode(), digest_size=10).hexdigest()}.json"
        if compiled.exists():
            with contextlib.suppress(OSError, ValueError, KeyError, TypeError):  # a damaged copy is simply made again
                return rebuilt(Coach, json.loads(compiled.read_bytes()))
    from cabassist.procedures import yamlfile

    made = yamlfile.validate(yamlfile.load(path), Coach)
    if compiled is not None:
        write_cache(compiled, made.model_dump_json().encode(), "coach-*.json")
    return made


def load_terms(knowledge: Knowledge, cache: Path | None) -> dict[str, Any]:
    """The word lists of the dialogue (steering, hazard signs, twins), compiled like the knowledge."""
    import contextlib
    import json

    compiled = cache / f"terms-{knowledge.fingerprint}.json" if cache else None
    if compiled and compiled.exists():
        with contextlib.suppress(OSError, ValueError):
            return dict(json.loads(compiled.read_bytes()))
    from cabassist.procedures import yamlfile

    found = {
        name: yamlfile.load(knowledge.folder / f"{name}.yaml").data for name in ("steering", "hazard-signs", "twins")
    }
    if compiled:
        write_cache(compiled, json.dumps(found).encode(), "terms-*.json")
    return found


def load_mind(coach: Path | None = None, knowledge: Path | None = None, cache: Path | None = None) -> Mind:
    """Everything a turn knows, from the files in use."""
    cache = cache or places.cache_folder()
    known = load_knowledge(knowledge or places.knowledge_folder(), cache)
    terms = load_terms(known, cache)
    made = load_coach(coach or places.coach_file(), cache)
    signs = terms["hazard-signs"]
    twins = {a: b for pair in terms["twins"] for a, b in (pair, reversed(pair))}
    return Mind(
        knowledge=known,
        matcher=load_matcher(known, cache),
        steering=Steering(terms["steering"]),
        hazards=HazardScreen(signs["signs"], signs["words"]),
        coach=made,
        facts=facts(made),
        twins=twins,
    )


class Session:
    """One conversation, on record."""

    def __init__(self, mind: Mind, journal: Journal, *, actor: str = "driver", name: str | None = None) -> None:
        self.mind = mind
        self.journal = journal
        self.actor = actor
        self.name = name or secrets.token_hex(6)
        self.state = State()
        self._unsaved: list[tuple[list[EventDraft], datetime, str]] = []

    def hear(self, text: str, now: datetime, actor: str | None = None) -> Reply:
        """Take a turn and put it on record, in one append.

        A record that cannot be written (full disk, locked file) holds no answer back, least of all a hazard's: the
        reply says so, and what was not written is tried again at the next turn.
        """
        text = text.encode("utf-8", "replace").decode()  # lone surrogates cannot be stored
        outcome = take_turn(self.state, text, mind=self.mind, now=now)
        reply = outcome.reply
        answered = EventDraft(
            "answered",
            {
                "kind": reply.kind,
                "topic": reply.topic,
                "confidence": round(reply.confidence, 3),
                "step": [reply.step.index, reply.step.of] if reply.step else None,
                "say": reply.say,
                "options": list(reply.options),
                "nearest": list(reply.nearest),
            },
        )
        trouble = self._record([EventDraft("said", {"text": text[:10_000]}), *outcome.events, answered], now, actor)
        self.state = outcome.state
        return replace(reply, show=(*reply.show, f"Not recorded yet: {trouble}")) if trouble else reply

    def announcements(self, now: datetime) -> tuple[str, ...]:
        """Timers that have run out since anything was said; put on record."""
        state, over = announce_due(self.state, now)
        if over:
            self._record([EventDraft("timer", {"announce": announce}) for announce in over], now, None)
            self.state = state
        return over

    def _record(self, drafts: list[EventDraft], now: datetime, actor: str | None) -> str:
        """Write these drafts and what is still unwritten; what stands in the way, or nothing."""
        self._unsaved.append((drafts, now, actor or self.actor))
        try:
            while self._unsaved:
                first, at, who = self._unsaved[0]
                self.journal.append(first, at=at, coach=self.mind.coach.id, session=self.name, actor=who)
                self._unsaved.pop(0)
        except (JournalError, FileProblem) as error:
            return str(error)
        return ""


def restored(session: Session, said: Iterable[tuple[str, datetime]]) -> None:
    """Bring a session to where it stood by taking its turns again, without writing them again."""
    for text, at in said:
        session.state = take_turn(session.state, text, mind=session.mind, now=at).state


def as_contract(reply: Reply, milliseconds: float) -> dict[str, Any]:
    """A reply as the scripting contract writes it."""
    estimate = None
    if reply.estimate is not None:
        e = reply.estimate
        estimate = {
            "value": e.value, "unit": e.unit, "low": e.low, "high": e.high, "working": list(e.working), "assumptions": list(e.assumptions),
            "source": e.source, "verdict": e.verdict or None,
            "also": [{"name": f.name, "value": f.value, "unit": f.unit, "low": f.low, "high": f.high} for f in e.also],
        }  # fmt: skip
    return {
        "kind": reply.kind,
        "topic": reply.topic,
        "options": list(reply.options),
        "nearest": list(reply.nearest),
        "confidence": round(reply.confidence, 4),
        "step": {"index": reply.step.index, "of": reply.step.of} if reply.step else None,
        "readings": [telling.as_payload(reading) for reading in reply.readings],
        "withdrawn": [telling.as_payload(reading) for reading in reply.withdrawn],
        "estimate": estimate,
        "say": reply.say,
        "show": list(reply.show),
        "ms": round(milliseconds, 2),
    }


__all__ = ["Session", "as_contract", "load_coach", "load_mind", "restored"]
