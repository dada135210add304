"""State of a conversation, what is answered, and what it knows. All frozen; a turn makes new ones."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from cabassist.coach import Coach
from cabassist.estimate.types import Estimate
from cabassist.journal.events import EventDraft
from cabassist.language.hazards import HazardScreen
from cabassist.language.hurt import HurtScreen
from cabassist.language.matching import Matcher, Ranking
from cabassist.language.normalise import plain
from cabassist.language.reading_types import Heard, Reading
from cabassist.language.steering import Steering
from cabassist.language.wishes import WishScreen
from cabassist.procedures.library import Knowledge
from cabassist.record.defect_words import DefectWords
from cabassist.record.entries import Record

if TYPE_CHECKING:
    from cabassist.language.danger_network import Judged
    from cabassist.language.reading_terms import Terms
    from cabassist.language.report_network import ReportNetwork
    from cabassist.language.role_network import RoleNetwork
    from cabassist.sums.working import Pending, Worked

ReplyKind = Literal[
    "procedure", "step", "hazard", "reading", "calculation", "clarify", "defect", "refuse", "control", "unknown"
]
MAX_WALKS = 6
"""Walks kept on the stack; the oldest beyond that are dropped and said to be."""


class Given(NamedTuple):
    """A number that was told, and the question it answered."""

    question: str
    worked: Worked


class ValvesShut(NamedTuple):
    """Since when the cylinder valves are told to be shut, whether for a leak, and the day on which it was last recalled."""

    at: datetime
    leak: bool = False
    reminded: date | None = None


@dataclass(frozen=True)
class Skip:
    """A step left out, and why."""

    step: int
    reason: str


class ToldDone(NamedTuple):
    """A step told to be done, or not to apply, before it was reached: its place in the plan, and the words."""

    at: int
    said: str
    applies: bool = True


@dataclass(frozen=True)
class Walk:
    """A procedure being walked: `plan` holds the steps that apply, `at` the place in the plan."""

    topic: str
    plan: tuple[int, ...]
    at: int = 0
    paused: bool = False
    skipped: tuple[Skip, ...] = ()
    asked: str = field(default="", compare=False)
    """The words that opened it, by which it may be named again."""
    done: tuple[ToldDone, ...] = ()
    """Steps that were told to be done before they were reached."""
    likened: bool = field(default=False, compare=False)
    """Whether it opened on top of another by likeness alone, and was not asked for."""
    not_meant: tuple[str, ...] = field(default=(), compare=False)
    """Procedures that opened on top of this walk and were not meant."""

    @property
    def number(self) -> int:
        """The step's number as the driver hears it."""
        return self.at + 1


class Left(NamedTuple):
    """A walk that is no longer open and not all done: stopped before its end, or ended with steps skipped."""

    walk: Walk
    at: datetime
    ended: bool = False


@dataclass(frozen=True)
class Timer:
    """A wait that is running, or something to be reminded of."""

    due: datetime
    announce: str
    topic: str | None
    step: int | None = None
    clock: bool = False
    """Whether it was set for a time of day."""
    about: str = ""
    """The supply whose deadline this is; a newer reading of it replaces the timer."""


@dataclass(frozen=True)
class Alert:
    """A level to speak up at: a share of full, or the value where there is no full."""

    what: str
    which: str | None
    level: float
    falling: bool
    name: str
    words: str


@dataclass(frozen=True)
class Stored:
    """A reading that stands, and when it was said."""

    reading: Reading
    at: datetime


@dataclass(frozen=True)
class Kept:
    """Something put off while rolling: its words, and the procedure it asks for."""

    words: str
    topic: str | None = None


@dataclass(frozen=True)
class Asking:
    """What the assistant waits for: a choice among `options`, the reason of a skip, a reading, or more about a defect.

    For a level of nothing in particular, `reading` holds the names of what it may be of, with | between, and `said` the level.
    For a defect, `reading` names what is asked (what, where, works, severity, which, or offer) and `options` the defects' keys.
    """

    what: Literal["choice", "skip-reason", "reading", "resume", "defect", "level", "out"]
    options: tuple[str, ...] = ()
    reading: str = ""
    said: str = ""


@dataclass(frozen=True)
class Undoable:
    """What stood before a change, so that it can be taken back."""

    what: str
    walks: tuple[Walk, ...]
    stored: tuple[Stored, ...]
    timers: tuple[Timer, ...]
    record: Record = field(default_factory=Record)


@dataclass(frozen=True)
class StepMark:
    """Step `index` of `of`, both counted from 1."""

    index: int
    of: int


@dataclass(frozen=True)
class Reply:
    """What is answered. `show` is for the eye, cautions first; `say` is short, for the ear."""

    kind: ReplyKind
    say: str
    show: tuple[str, ...]
    topic: str | None = None
    options: tuple[str, ...] = ()
    nearest: tuple[str, ...] = ()
    confidence: float = 1.0
    step: StepMark | None = None
    readings: tuple[Reading, ...] = ()
    withdrawn: tuple[Reading, ...] = ()
    estimate: Estimate | None = None


@dataclass(frozen=True)
class State:
    """Everything the conversation stands on."""

    walks: tuple[Walk, ...] = ()
    left: tuple[Left, ...] = ()
    """Walks that were stopped, and those that ended with steps skipped, newest last."""
    asking: Asking | None = None
    timers: tuple[Timer, ...] = ()
    alerts: tuple[Alert, ...] = ()
    stored: tuple[Stored, ...] = ()
    told: tuple[Reading, ...] = ()
    """Readings of the last telling turn; corrections refer to these."""
    undo: tuple[Undoable, ...] = ()
    topic: str | None = None
    """What the last answer was about."""
    question: str = ""
    """The last question that was answered or asked back."""
    offered: tuple[str, ...] = ()
    """The options of the last choice that was made; another of them may have been meant."""
    failures: int = 0
    """Questions in a row that were not understood."""
    refused: Reply | None = None
    """The last no, while the talk is still about it."""
    last: Reply | None = None
    pending: Pending | None = None
    """A calculation that waits for an input."""
    record: Record = field(default_factory=Record)
    """Defects, upkeep, duty status and missing kit, as they stand."""
    actor: str = "driver"
    """Who is speaking."""
    defect: str = ""
    """Key of the defect that was last spoken of; "that one" means it."""
    worked: Worked | None = None
    """The last calculation; "why" and "what about at minus thirty" refer to it."""
    earlier: Worked | None = None
    """The calculation before the last one; what differs between the two was changed."""
    sums: tuple[str, ...] = ()
    """The questions of the last calculations, newest last."""
    given: tuple[Given, ...] = ()
    """The last numbers told in answer to a question, newest last."""
    rolling: bool = False
    """The coach is moving: short answers, hands-on work put off."""
    kept: tuple[Kept, ...] = ()
    """What was put off while rolling."""
    cord_in: bool = False
    """The shore cord was last told to be plugged in."""
    missing: bool = False
    """Somebody was told to be missing, and no heads were counted since."""
    valves_shut: ValvesShut | None = None
    """The cylinder valves were last told to be shut, and since when."""
    tingled: datetime | None = None
    """A tingle from the coach was told then, and no electrician has cleared it since: the coach stays off shore power."""
    ill_in: str = ""
    """The danger in which somebody was told to be ill or not to wake."""
    signed: tuple[str, ...] = ()
    """The open dangers of which a sign was told since, or that the driver chose; others were raised by likeness alone."""
    put_off: str = ""
    """The procedure last asked for while there was danger; offered once that is over."""

    @property
    def walk(self) -> Walk | None:
        """The walk in hand."""
        return self.walks[-1] if self.walks else None


class Outcome(NamedTuple):
    """What a turn gives."""

    state: State
    reply: Reply
    events: tuple[EventDraft, ...] = ()


@dataclass(frozen=True)
class Mind:
    """What a turn knows and may not change."""

    knowledge: Knowledge
    matcher: Matcher
    steering: Steering
    hazards: HazardScreen
    hurt: HurtScreen
    wishes: WishScreen
    coach: Coach
    facts: Mapping[str, str]
    twins: Mapping[str, str] = field(default_factory=dict)
    misheard: tuple[tuple[str, str], ...] = ()
    """Words that a trainer found misheard, and what was meant."""
    defect_words: DefectWords = field(default_factory=DefectWords)
    reading_words: Mapping[str, Any] = field(default_factory=dict)
    """The content of `reading-terms.yaml`."""

    @cached_property
    def vocabulary(self) -> Terms:
        """The words of readings on this coach, put together when the first are looked for."""
        from cabassist.language.reading_terms import terms

        return terms(self.reading_words, tuple(tank.name for tank in self.coach.tanks))

    @cached_property
    def role_network(self) -> RoleNetwork | None:
        """What hands out the roles of a sum's amounts, loaded with the first sum; None when the knowledge has none."""
        from cabassist.language.role_network import RoleNetwork

        path = self.knowledge.folder / "roles.npz"
        return RoleNetwork(path, self.matcher.encoder) if path.exists() else None

    @cached_property
    def report_network(self) -> ReportNetwork | None:
        """What tells whether a step is told done, loaded at the first walk; None when the knowledge has none."""
        from cabassist.language.report_network import ReportNetwork

        path = self.knowledge.folder / "reports.npz"
        return ReportNetwork(path, self.matcher.encoder) if path.exists() else None

    @cached_property
    def by_title(self) -> Mapping[str, str]:
        """Each procedure's id by the plain words of its title."""
        return {plain(self.knowledge.title(name)): name for name in self.knowledge.ids}

    @cached_property
    def ranked(self) -> Callable[[str], Ranking]:
        """What a text may mean, as the matcher ranks it; the latest are kept, as one turn and the ear ask for some more than once."""
        return lru_cache(maxsize=64)(self.matcher.rank)

    @cached_property
    def judge(self) -> Callable[[str], Judged | None]:
        """What tells whether a text reports a danger or wishes for something unsafe; None of any when the knowledge has no network."""
        from cabassist.language.danger_network import DangerNetwork

        path = self.knowledge.folder / "dangers.npz"
        if not path.exists():
            return lambda _: None
        return lru_cache(maxsize=256)(DangerNetwork(path, self.matcher.encoder).judge)

    def readings_in(self, text: str, previous: Sequence[Reading] = ()) -> Heard:
        """The readings that a text tells; `previous` are those it may lean on, newest last."""
        from cabassist.language.readings import hear

        return hear(text, self.coach, self.vocabulary, previous)
