"""The rim of the dialogue: gathers what a turn needs, keeps the state, writes the journal.

Every turn is written before its answer is shown: a process killed in between loses nothing that was seen.
"""

from __future__ import annotations

import contextlib
import json
import re
import secrets
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any, Literal

from cabassist import __version__, places
from cabassist.coach import Coach, facts, rebuilt
from cabassist.dialogue import rolling, telling, walking
from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State
from cabassist.errors import ContentProblems, FileProblem, JournalError
from cabassist.journal import EventDraft, Journal
from cabassist.language.hazards import HazardScreen
from cabassist.language.hurt import HurtScreen
from cabassist.language.lazy import keep_patterns
from cabassist.language.matching import load_matcher
from cabassist.language.steering import Steering
from cabassist.language.wishes import WishScreen
from cabassist.procedures.layer import read_layer
from cabassist.procedures.library import Knowledge, load_knowledge, write_cache
from cabassist.record.defect_words import DefectWords
from cabassist.record.entries import KINDS, TAKEN_BACK, Record, recorded


def load_coach(path: Path, cache: Path | None = None) -> Coach:
    """A coach's profile. Raises ContentProblems naming file, line, field and what is allowed."""
    import hashlib

    compiled = None
    if cache is not None and path.is_file():
        about = path.stat()
        mark = f"{__version__}\0{path.resolve()}\0{about.st_mtime_ns}\0{about.st_size}"
        compiled = cache / f"coach-{hashlib.blake2b(mark.encode(), digest_size=10).hexdigest()}.json"
        # a missing or damaged copy is simply made again
        with contextlib.suppress(OSError, ValueError, KeyError, TypeError):
            return rebuilt(Coach, json.loads(compiled.read_bytes()))
    from cabassist.procedures import yamlfile

    made = yamlfile.validate(yamlfile.load(path), Coach)
    if compiled is not None:
        write_cache(compiled, made.model_dump_json().encode(), "coach-*.json")
    return made


def load_terms(knowledge: Knowledge, cache: Path | None) -> dict[str, Any]:
    """The word lists of the dialogue (see WORD_LISTS), compiled like the knowledge."""
    compiled = cache / f"terms-{knowledge.fingerprint}.json" if cache else None
    if compiled:
        with contextlib.suppress(OSError, ValueError):
            stored = dict(json.loads(compiled.read_bytes()))
            if stored.keys() == WORD_LISTS.keys():  # an older program wrote fewer lists
                return stored
    from cabassist.language.reading_terms import terms

    found = {name: _word_list(knowledge.folder / f"{name}.yaml", shape) for name, shape in WORD_LISTS.items()}
    signs = found["hazard-signs"]
    proofs: dict[str, Callable[[], object]] = {
        "hazard-signs": lambda: HazardScreen(signs["signs"], signs["words"]).prove(),
        "hurt-signs": lambda: HurtScreen(found["hurt-signs"]).prove(),
        "wish-signs": lambda: WishScreen(found["wish-signs"]),
        "reading-terms": lambda: terms(found["reading-terms"], ()),
        "defect-words": lambda: DefectWords.made(found["defect-words"]).check(),
    }
    for name, prove in proofs.items():
        try:
            prove()
        except (re.error, LookupError, TypeError, ValueError, AttributeError) as error:
            path = knowledge.folder / f"{name}.yaml"
            raise FileProblem(path, f"lacks a list or holds a wrong one ({error}).", "Mend the list.") from None
    if compiled:
        write_cache(compiled, json.dumps(found).encode(), "terms-*.json")
    return found


WORD_LISTS: dict[str, Any] = {
    "steering": dict[str, list[str]],
    "hazard-signs": dict[Literal["words", "signs"], dict[str, Any]],
    "hurt-signs": dict[Literal["words", "signs", "leave"], Any],
    "wish-signs": dict[Literal["safe", "fixed", "words", "signs"], Any],
    "twins": list[tuple[str, str]],
    "defect-words": dict[Literal["parts", "fails", "works", "severity", "places", "faults", "damage"], Any],
    "reading-terms": dict[str, Any],
}
"""The shape of each word list."""


def _word_list(path: Path, shape: Any) -> Any:
    from pydantic import TypeAdapter, ValidationError

    from cabassist.procedures import yamlfile

    file = yamlfile.load(path)
    try:
        TypeAdapter(shape).validate_python(file.data)
    except ValidationError as error:
        found = error.errors()[0]
        raise ContentProblems([file.problem(tuple(found["loc"]), found["msg"])]) from None
    return file.data


def load_mind(
    coach: Path | None = None, knowledge: Path | None = None, cache: Path | None = None, trainer: Path | None = None
) -> Mind:
    """Everything a turn knows, from the files in use; what a trainer taught lies on top."""
    cache = cache or places.cache_folder()
    keep_patterns(cache)
    known = load_knowledge(knowledge or places.knowledge_folder(), cache)
    terms = load_terms(known, cache)
    made = load_coach(coach or places.coach_file(), cache)
    signs = terms["hazard-signs"]
    twins = {a: b for pair in terms["twins"] for a, b in (pair, reversed(pair))}
    layer = read_layer(trainer or places.trainer_folder(), known.raw_procedures)[0]
    matcher = load_matcher(known, cache)
    if layer.wordings:
        from cabassist.language.taught import with_taught

        matcher = with_taught(matcher, layer, cache)
    return Mind(
        knowledge=known,
        matcher=matcher,
        steering=Steering(terms["steering"]),
        hazards=HazardScreen(signs["signs"], signs["words"]),
        hurt=HurtScreen(terms["hurt-signs"]),
        wishes=WishScreen(terms["wish-signs"], known.raw_wishes),
        coach=made,
        facts=facts(made),
        twins=twins,
        misheard=layer.misheard,
        defect_words=DefectWords.made(terms["defect-words"]),
        reading_words=terms["reading-terms"],
    )


_NEWEST = "SELECT id FROM events ORDER BY seq DESC LIMIT 1"
_ROLLING = "SELECT id, payload FROM events WHERE id > ? AND coach = ? AND kind = 'rolling' ORDER BY id DESC LIMIT 1"


class Session:
    """One conversation, on record."""

    def __init__(self, mind: Mind, journal: Journal, *, actor: str = "driver", name: str | None = None) -> None:
        self.mind = mind
        self.journal = journal
        self.actor = actor
        self.name = name or secrets.token_hex(6)
        self.state = State(record=record_in(journal, mind.coach.id), actor=_storable(actor))
        self._unsaved: list[tuple[list[EventDraft], datetime, str]] = []
        self._seen = next((str(row[0]) for row in journal.select(_NEWEST)), "")
        self._own: set[str] = set()

    def hear(self, text: str, now: datetime, actor: str | None = None) -> Reply:
        """Take a turn and put it on record, in one append.

        A record that cannot be written (full disk, locked file) holds no answer back, least of all a hazard's: the
        reply says so, and what was not written is tried again at the next turn.
        """
        text = text.encode("utf-8", "replace").decode()  # lone surrogates cannot be stored
        speaker = _storable(actor or self.actor)
        self.look_around(now)
        self.state = replace(self.state, actor=speaker)
        outcome = take_turn(self.state, text, mind=self.mind, now=now)
        reply = outcome.reply
        if outcome.state.actor != speaker:  # somebody else said so, and goes on speaking
            self.actor = outcome.state.actor
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
        trouble = self._record(
            [EventDraft("said", {"text": text[:10_000]}), *outcome.events, answered], now, outcome.state.actor
        )
        self.state = outcome.state
        return replace(reply, show=(*reply.show, f"Not recorded yet: {trouble}")) if trouble else reply

    def look_around(self, now: datetime) -> bool:
        """Take up whether the coach rolls from another terminal on the same journal; whether that changed anything.

        Two screens in one cab must not differ on it: the one that was not told would go on to lead through work.
        """
        with contextlib.suppress(JournalError, FileProblem):
            for name, payload in self.journal.select(_ROLLING, (self._seen, self.mind.coach.id)):
                self._seen = str(name)
                on = bool(json.loads(payload).get("on"))
                if name not in self._own and on != self.state.rolling:
                    told = rolling.set_rolling if on else rolling.set_parked
                    self.state = told(self.state, self.mind, now).state
                    return True
        return False

    def announcements(self, now: datetime) -> tuple[str, ...]:
        """Timers that have run out since anything was said; put on record."""
        state, over = walking.due(self.state, now)
        if over:
            self._record([EventDraft("timer", {"announce": announce}) for announce in over], now, None)
            self.state = state
        return over

    def _record(self, drafts: list[EventDraft], now: datetime, actor: str | None) -> str:
        """Write these drafts and what is still unwritten; what stands in the way, or nothing."""
        who = _storable(actor or self.state.actor)
        self._unsaved.append((drafts, now, who))
        try:
            while self._unsaved:
                first, at, who = self._unsaved[0]
                written = self.journal.append(first, at=at, coach=self.mind.coach.id, session=self.name, actor=who)
                self._own |= {event.id for event in written if event.kind == "rolling"}
                self._unsaved.pop(0)
        except (JournalError, FileProblem) as error:
            return str(error)
        return ""


def record_in(journal: Journal, coach: str) -> Record:
    """What the journal holds of defects, upkeep, duty status and kit; other events are not looked at."""
    events = [event for kind in (*KINDS, TAKEN_BACK) for event in journal.read(kind=kind)]
    return recorded(sorted(events, key=lambda event: event.id), coach)


def _storable(name: str) -> str:
    return name.encode("utf-8", "replace").decode()  # lone surrogates cannot be stored


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


__all__ = ["Session", "as_contract", "load_coach", "load_mind"]
