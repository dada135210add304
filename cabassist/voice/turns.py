"""The spoken conversation, without its sound: trigger words, read-backs, "say again", and manners of speaking.

`Turns` takes what was heard and gives what to show and to say. It is fed by `conversation`, and by tests.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from cabassist.dialogue.manner import MANNERS
from cabassist.dialogue.session import Session
from cabassist.dialogue.types import Reply
from cabassist.errors import FileProblem, JournalError
from cabassist.journal import EventDraft
from cabassist.language.numbers import NUMBER_WORDS
from cabassist.voice.heard import Hypothesis
from cabassist.voice.judging import BOUNDS, Bounds, Verdict, judge
from cabassist.voice.repair import Repairer
from cabassist.voice.worker import Hearing

DEFAULT_TRIGGER = "hey cabbie"
AWAKE = timedelta(seconds=40)
"""How long after an answer no trigger is needed."""
TRIGGER_LIKENESS = 75.0
"""Likeness, 0 to 100, at which words count as the trigger."""
ECHO_LIKENESS = 85.0
FAILURES_UNTIL_CHOICES = 2
CHOICES = 3
EARLY = 0.8
"""Confidence from which on the quick engines need no second opinion."""
AT_ONCE = 0.65
"""Confidence from which on an utterance is answered at its first pause, unless more may follow."""


@dataclass(frozen=True)
class Answer:
    """What to show and to say; nothing at all when the utterance was not meant for us."""

    show: tuple[str, ...] = ()
    say: str = ""
    reply: Reply | None = None
    verdict: Verdict | None = None
    manner: str | None = None
    """A wish about the voice, one of `manner.MANNERS`, for whoever has the voice to fulfil."""

    @property
    def silent(self) -> bool:
        """Whether there is nothing to answer."""
        return not (self.show or self.say or self.manner)


NOTHING = Answer()


class Turns:
    """One spoken conversation on a session.

    `ear` makes the short spoken form of a reply. With a trigger, speech is only taken when it begins with the trigger
    words, shortly after an answer, in an open walk, or when it reports a hazard.
    """

    def __init__(
        self,
        session: Session,
        *,
        repairer: Repairer | None = None,
        trigger: str = "",
        ear: Callable[[Reply], str] = lambda reply: reply.say,
        bounds: Bounds = BOUNDS,
    ) -> None:
        self.session = session
        self.trigger = trigger
        self._repairer = repairer
        self._ear = ear
        self._bounds = bounds
        self._asked: Verdict | None = None
        self._choices: tuple[str, ...] = ()
        self._failures = 0
        self._awake_until: datetime | None = None

    def consider(self, hearing: Hearing, now: datetime) -> tuple[Hearing, Verdict]:
        """What was heard without the trigger words, and the verdict on it. Nothing changes by it."""
        called, rest = self._without_trigger(hearing)
        if not called and not self._awake(now):
            verdict = self._judged(hearing, now)
            return hearing, verdict if verdict.kind == "hazard" else replace(verdict, action="ignore")
        if called and not rest.best.text:
            return rest, Verdict("act", "", self.trigger, 1.0, kind="called")
        return rest, self._judged(rest, now)

    def enough(self, verdict: Verdict) -> bool:
        """Whether what the quick engines heard needs no second opinion."""
        return settled(verdict) or verdict.kind == "called"

    def settled(self, verdict: Verdict) -> bool:
        """Whether to answer at once instead of waiting for a longer silence."""
        return at_once(verdict)

    def take(self, hearing: Hearing, now: datetime) -> Answer:
        """The answer to one utterance."""
        heard, verdict = self.consider(hearing, now)
        return self.resolve(heard, verdict, now)

    def resolve(self, hearing: Hearing, verdict: Verdict, now: datetime) -> Answer:
        """The answer to an utterance that has been considered."""
        if verdict.action == "ignore":
            return NOTHING
        self._awake_until = now + AWAKE
        if verdict.kind == "called":
            return Answer(("Yes?",), "Yes?", verdict=verdict)
        if verdict.kind != "hazard":
            wishes = (self._wish(hypothesis.text) for hypothesis in hearing.hypotheses)
            known = next(filter(None, wishes), None) or self._answered(hearing, now)
            if known is not None:
                return known
        self._asked, self._choices = None, ()
        if verdict.action == "act":
            return self._acted(verdict, now)
        self._note(verdict, now)
        if verdict.action == "confirm":
            self._asked = verdict
            question = f"Did you say: {verdict.text}?"
            return Answer((question, "Say yes or no."), question, verdict=verdict)
        return self._again(verdict)

    def typed(self, text: str, now: datetime) -> Answer:
        """The answer to something typed in between; a wish about the voice leaves open what is waited for."""
        self._awake_until = now + AWAKE
        wish = self._wish(text)
        if wish is not None:
            return wish
        self._asked, self._choices, self._failures = None, (), 0
        return self._answer(self.session.hear(text, now), None)

    def _judged(self, hearing: Hearing, now: datetime) -> Verdict:
        return judge(
            hearing,
            self.session.state,
            mind=self.session.mind,
            now=now,
            repairer=self._repairer,
            bounds=self._bounds,
        )

    def _awake(self, now: datetime) -> bool:
        walk = self.session.state.walk
        return (
            not self.trigger
            or (self._awake_until is not None and now <= self._awake_until)
            or (walk is not None and not walk.paused)
        )

    def _without_trigger(self, hearing: Hearing) -> tuple[bool, Hearing]:
        if not self.trigger:
            return False, hearing
        cut = [_cut(hypothesis, self.trigger) for hypothesis in hearing.hypotheses]
        called = any(new is not None for new in cut)
        kept = tuple(new or old for new, old in zip(cut, hearing.hypotheses, strict=True))
        return called, replace(hearing, hypotheses=kept) if called else hearing

    def _wish(self, text: str) -> Answer | None:
        """A wish about the voice, if the words are one exactly: "smell that" must not be taken for "spell that"."""
        steer = self.session.mind.steering.find(text) if text else None
        return Answer(manner=steer.verb) if steer and steer.sure == 1.0 and steer.verb in MANNERS else None

    def _answered(self, hearing: Hearing, now: datetime) -> Answer | None:
        """A yes, a no or a choice, while one is waited for; then little confidence is needed."""
        if self._asked is None and not self._choices:
            return None
        for hypothesis in hearing.hypotheses:
            steer = self.session.mind.steering.find(hypothesis.text) if hypothesis.text else None
            if steer is None:
                continue
            if self._asked is not None and steer.verb in ("yes", "no"):
                asked, self._asked = self._asked, None
                if steer.verb == "yes":
                    return self._acted(replace(asked, confidence=1.0), now)
                return self._again(asked)
            if self._choices and steer.verb == "choose" and 1 <= (steer.number or 0) <= len(self._choices):
                chosen = self._choices[(steer.number or 1) - 1]
                self._choices = ()
                title = self.session.mind.knowledge.title(chosen)
                return self._acted(Verdict("act", title, hypothesis.text, 1.0, hypothesis.engine), now)
            if self._choices and steer.verb == "no":
                self._choices = ()
                return Answer(("All right. Say it in other words, or type it.",), "All right. Say it in other words.")
        return None

    def _acted(self, verdict: Verdict, now: datetime) -> Answer:
        self._failures = 0
        self._note(verdict, now)
        return self._answer(self.session.hear(verdict.text, now), verdict)

    def _answer(self, reply: Reply, verdict: Verdict | None) -> Answer:
        return Answer(reply.show, self._ear(reply), reply, verdict)

    def _again(self, verdict: Verdict) -> Answer:
        self._failures += 1
        if self._failures < FAILURES_UNTIL_CHOICES or not verdict.text:
            return Answer(("Say again.",), "Say again.", verdict=verdict)
        self._failures = 0
        knowledge = self.session.mind.knowledge
        ranked = self.session.mind.ranked(verdict.text).procedures
        self._choices = tuple(name for name, _ in ranked[:CHOICES])
        titles = [knowledge.title(name) for name in self._choices]
        lines = [
            "I did not get that. Is it one of these?",
            *(f"  {i}. {title}" for i, title in enumerate(titles, start=1)),
        ]
        spoken = " ".join(f"{i}: {title}." for i, title in zip(("One", "Two", "Three"), titles, strict=False))
        return Answer(
            (*lines, "Say the number, or no. You can also type it."),
            f"I did not get that. Is it one of these? {spoken} Say the number, or no.",
            verdict=verdict,
        )

    def _note(self, verdict: Verdict, now: datetime) -> None:
        """Keep what the recogniser wrote. If that cannot be written, the session says so with its own record."""
        draft = EventDraft(
            "heard",
            {
                "text": verdict.text,
                "original": verdict.original,
                "engine": verdict.engine,
                "confidence": round(verdict.confidence, 3),
                "action": verdict.action,
            },
        )
        with contextlib.suppress(JournalError, FileProblem):
            self.session.journal.append(
                [draft],
                at=now,
                coach=self.session.mind.coach.id,
                session=self.session.name,
                actor=self.session.actor,
            )


def settled(verdict: Verdict, bound: float = EARLY) -> bool:
    """Whether there is no doubt about a verdict."""
    return (
        verdict.action == "act" and verdict.confidence >= bound and verdict.kind not in ("unknown", "clarify", "called")
    )


def at_once(verdict: Verdict) -> bool:
    """Whether an utterance needs no longer silence to be answered. After a bare number, and a defect, more may follow.

    A danger that is sure enough to be raised is raised now: what follows can still take it back.
    """
    if verdict.kind == "hazard":
        return verdict.action == "act"
    if verdict.kind == "reading":
        last = verdict.text.split()[-1:]
        return settled(verdict) and not (last and last[0] in NUMBER_WORDS)
    return settled(verdict, AT_ONCE) and verdict.kind != "defect"


def _cut(hypothesis: Hypothesis, trigger: str) -> Hypothesis | None:
    """A hypothesis without the trigger it begins with; None when it does not."""
    rest = after_trigger(hypothesis.text, trigger)
    if rest is None:
        return None
    others = tuple(
        replace(other, text=cut) for other in hypothesis.alternatives if (cut := after_trigger(other.text, trigger))
    )
    return replace(hypothesis, text=rest, alternatives=others)


def after_trigger(text: str, trigger: str) -> str | None:
    """What follows the trigger words at the beginning of a text; None when it does not begin with them."""
    from rapidfuzz import fuzz

    words, wanted = text.split(), trigger.split()
    for size in (len(wanted), len(wanted) + 1, max(1, len(wanted) - 1)):
        if len(words) >= size and fuzz.ratio(" ".join(words[:size]), trigger) >= TRIGGER_LIKENESS:
            return " ".join(words[size:])
    return None


def is_echo(text: str, saying: str) -> bool:
    """Whether what was heard are the assistant's own words from the speaker."""
    from rapidfuzz import fuzz

    return len(text.split()) >= 2 and fuzz.partial_ratio(text, saying.lower()) >= ECHO_LIKENESS
