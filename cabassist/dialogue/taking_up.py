"""Going on with a procedure that waits or was stopped, in a driver's own words: "not that, parking", "oops no, carry on with the hookup".

What is left for it was opened by mistake more often than not, so no step of it may be skipped or done by such words. A name
alone is too little to move a walk: it takes a word that leaves what is in hand, or one that goes back.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import choosing, moving, phrases, progress, walking
from cabassist.dialogue.framing import SURE
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import beginnings, plain
from cabassist.language.steering import Steer
from cabassist.language.steering_families import tells

STOPPED_WITHIN = timedelta(hours=12)
"""What was stopped longer ago belongs to another day."""
MOST_WORDS = 20
_NAME_WORDS = 8

_CUES = ("not ", "stop", "leave", "drop", "close", "cancel", "quit", "forget", "scrap", "end", "kill", "exit", "enough", "never", "wrong", "want", "need", "mean", "ask", "said", "later", "another time", "tomorrow", "out of", "back", "return", "on with", "going with", "continue", "proceed", "resume", "finish", "pick up", "doing", "middle of", "busy", "working on", "trying to", "stick", "stay", "still", " was ", " were ")  # fmt: skip
_LEAD = Lazy(
    r"^(?:(?:no|nah|nope|ok|okay|oh|oops|whoops|ah|argh|ugh|wait|sorry|hey|well|right|alright|actually|so|and|but|then|now|please|yeah|hang on|hold on|just|damn|shit|look|listen|instead|for now|my bad|my mistake|i guess) )+(?=\w)"
)
_ENDED_VERB = Lazy(r"\b(stop|leave|drop|close|cancel|quit|scrap|end|kill|exit|abort|forget|never ?mind)\s*[.,;:!-]+\s+(?=\w)", re.IGNORECASE)  # fmt: skip
"""A comma tells "stop, parking" from "stop the parking"."""
_BACK = (
    r"(?:(?:(?:can|could|may) (?:we|you|i)|let's|lets|let me|lemme|i want to|i'd like to|i would like to|i need to|i have to|we need to|i'll|we'll|we should|i should|i'd rather|we'd better|i better|time to|rather|please|just) )*"
    r"(?:(?:take|get|bring|put|send|lead|guide) (?:me|us) back(?: to)?|(?:go|get|come|head|jump|switch|move)(?: right| straight)? back (?:to|on to|onto|into|with)|back (?:to|on to|onto|into|with)|return(?:ing)? to|(?:go|carry|get|keep|move|keep going)(?: back)? on (?:with|doing)|on with|keep going with|keep doing|continue(?: on)?(?: with| doing)?|proceed with|resume|pick up"
    r"|finish(?: off| up| doing)?|(?:stick|stay) (?:to|with|on|in)"
    r"|(?:i'm|i am|we're|we are|i was|we were)(?: still| just| actually| in fact)* (?:doing|in the middle of|in|on|at|busy with|busy doing|working on|trying to(?: do| finish)?)"
    r"|(?:(?:i'm|i am|we're|we are) still|(?:i|we) (?:was|were)(?: still| just)?)(?= [a-z]+ing\b)"
    r"|(?:i said|i asked (?:you )?for|i (?:only |just )?(?:want|wanted|meant|mean|need|needed)(?: to)?(?: do| finish)?|it's|it was|that's|make it|give me|open))"
)
_BACKS = Lazy(rf"^{_BACK}(?= |$)")
_PLAIN_BACK = Lazy(r"\b(?:back|return\w*|on with|going with|continue|proceed|resume|pick up|carry on|finish|middle of|doing|still|was|were)\b")  # fmt: skip
"""What goes back by itself, without a word that leaves the walk in hand."""
_LEAVES = Lazy(
    r"^(?:(?P<ends>(?:stop|leave|drop|close|cancel|quit|scrap|end|kill|exit|abort) (?:it|that|this|here|there)(?: one| list| procedure| walk)?|(?:forget|never ?mind)(?: about)? (?:it|that|this)(?: one)?|never ?mind(?= (?:and |then )?(?:back|take|go|carry|continue|resume|return)\b)|enough (?:of|with) (?:it|that|this)|(?:get|take) (?:me |us )?out of (?:it|that|this|here)|i'm (?:done|finished|through) with (?:it|this|that))"
    r"|(?P<later>not (?:right )?(?:now|yet)|(?:maybe )?(?:later|another time|some other time|tomorrow)|(?:that|this|it)(?:'ll| will| can) (?:wait|keep)|(?:we'll|i'll) (?:do|get to|look at|see to) (?:that|this|it)(?: one)? (?:later|tomorrow|afterwards))"
    r"|not (?:that|this|it|these|those)(?: (?:one|list|procedure|thing|stuff))?|(?:that's |this is |it's )?(?:the )?wrong (?:one|list|thing|procedure|way|page)|(?:that's|that is|this is|it's|this) (?:not|isn't) (?:it|that|this|what i (?:meant|want(?:ed)?|asked(?: for)?|need(?:ed)?|said)|the (?:right )?(?:one|list))|why this"
    rf"|(?:i|we) (?:don't|do not|didn't|did not|never) (?:want|need|mean|ask(?:ed)?(?: for)?|wanted|meant|say|said)(?: to)?(?: (?:do|see|check|know|open|start))?(?: (?:it|that|this)(?: (?:one|list|now))?(?= |$)|(?: (?!(?:back|take|get|go|carry|continue|resume|return)\b)[a-z'-]+){{1,5}}?(?= {_BACK} )))(?: (?:though|now|just now|at all|tonight|today|any ?more|for now))*(?= |$)"
)
_TAIL = Lazy(
    r"(?: (?:(?:so |and |let's |can we |please )?(?:(?:go|get|take me|bring me|put me) )?back to (?:that|it|this)(?: one)?|again|now|please|instead|then|first|after all|procedure|list|walk|steps|checklist|check list|thing|stuff|bit|part|job|one|though|where (?:i|we) (?:was|were|left off|stopped|left it)|from where (?:i|we) (?:was|were|left off|stopped|left it)|(?:that|which) (?:i|we) (?:was|were|had|started|stopped|began)(?: \w+)*|before))+$"
)
_AT_STEP = Lazy(r" (?:(?:at|from|on|with|to) )?(?:the )?(?:step |number )+(?P<n>\w+)$")
_ARTICLE = Lazy(r"^(?:(?:the|that|this|my|our|with|to|doing|do) )+")
_UNNAMED = Lazy(
    r"^(?:what (?:i|we) (?:was|were) (?:doing|on|at|in|working on)|where (?:i|we) (?:was|were|left off|stopped)|(?:the )?(?:one|list|procedure|thing|job|step|other one|last one|other|previous one)|it|that|this|before|work)$"
)
_NOT_NAMED = Lazy(r"\b(?:how|what|why|when|where|which|who|is|are|was|were|if|not|no|\w+n't|because|cause|since|but|has|have|had|done|and|i|we|you|he|she|they|never|i'm|i've|we've|we're)\b|[\d?%]")  # fmt: skip
"""A name holds none of these: "not that, it's leaking" tells something."""
_SAYS_NO = Lazy(r"^(?:(?:oh|wait|ok|okay|well|um|uh) )*(?:no|nah|nope)\b")
_GOES_ON = Lazy(r"^(?:carry on|go on|continue|keep going|move on|proceed|go ahead)$")
_DOING = Lazy(r"\b([a-z]{3,})ing\b")
_LITTLE = frozenset("the and for with that this one again please now stuff thing procedure list walk steps step job part bit coach bus our night tonight".split())  # fmt: skip
LEAST = 0.3
"""Least likeness of a few words to the wordings of an open walk that they mean, when they share none with its name."""


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What is gone on with when the words name it, or what was stopped last when they name nothing; None for anything else."""
    if "?" in text or len(text.split()) > MOST_WORDS or _asks(state):
        return None
    done = _step_done(state, text, mind, now)
    if done is not None:
        return done
    if state.walk is None and (goes := _said_then_goes_on(state, text, mind, now)) is not None:
        return goes
    said = plain(_ENDED_VERB.sub(r"\1 it ", _not_this(text, state, mind)))
    if (alone := _name_alone(state, said, mind, now)) is not None:
        return alone
    if not (names_any(f" {said} ", _CUES) or _SAYS_NO.match(said) or _GOES_ON.match(_without_lead(said))):
        return None
    rest, leaves, back = _parted(said)
    if not (leaves or back) and _just_opened(state) and _SAYS_NO.match(said):
        leaves = "other"  # "no, the parking", to what was opened in the turn before
    goes_on = _GOES_ON.match(rest) is not None
    if state.walk is None and (goes_on or (back and (not rest or _UNNAMED.match(rest)))):
        return _last_stopped(state, mind, now)
    if goes_on or not (leaves or back):
        return None
    if state.walk is not None and state.walk.topic in mind.knowledge.hazards:
        return None
    if _UNNAMED.match(rest):
        return _under(state, leaves, mind, now) if leaves else None
    name, number = _with_step(rest, mind)
    if not name or _NOT_NAMED.search(name) or len(name.split()) > _NAME_WORDS:
        return None
    return _named(state, name, number, leaves, bool(_PLAIN_BACK.search(back)), text, mind, now)


_NOT_THING = Lazy(r"\bnot (?:the |this |these |my |any )?(?P<what>(?:[a-z'-]+ ){0,2}[a-z'-]+)\s*[,.;:!-]+\s+(?=\w)", re.IGNORECASE)  # fmt: skip


def _not_this(text: str, state: State, mind: Mind) -> str:
    """The text with "not that" in place of "not the tires", where the walk in hand is of them."""
    found = _NOT_THING.search(text)
    walk = state.walk
    if found is None or walk is None:
        return text
    own = beginnings(f"{walk.topic} {mind.knowledge.title(walk.topic)}", _LITTLE)
    named = beginnings(found["what"], _LITTLE)
    return _NOT_THING.sub("not that ", text, count=1) if named and named <= own else text


_TAIL_GOES_ON = Lazy(
    r"^(?P<head>.+\w)\s*[,.;!:-]+\s*(?:(?:so|and|just|please|let's|lets|ok|okay|now) )*(?:carry on|go on|continue|keep going|resume|move on)(?: (?:now|please|then|with it|with that))*[.! ]*$",
    re.IGNORECASE,
)
_HEAD_WORDS = 8
_STOP = Lazy(
    r"\b(?:(?:didn't|don't|did not|do not|never|not)(?: really)?(?: mean| want| say)?(?: to)?(?: say)? )?stop\w*\b"
)


def _said_then_goes_on(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "I didn't mean stop, keep going", with nothing but a stopped walk to go on with, and no trouble told before it; else None."""
    found = _TAIL_GOES_ON.match(text.strip())
    if found is None or len(found["head"].split()) > _HEAD_WORDS or tells(_STOP.sub("it", plain(found["head"]))):
        return None
    return _last_stopped(state, mind, now)


_ALONE_WORDS = 3


def _name_alone(state: State, said: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Parking", "the parking first", where a walk of that name waits and neither the one in hand nor its step speaks of it; else None."""
    walk = state.walk
    if walk is None or walk.topic in mind.knowledge.hazards or len(state.walks) < 2:
        return None
    name = _TAIL.sub("", _ARTICLE.sub("", _without_lead(said)))
    if not name or len(name.split()) > _ALONE_WORDS or _NOT_NAMED.search(name) or mind.steering.find(said) is not None:
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    step = phrases.step_of(procedure, walk)
    words = phrases.filled(f"{procedure.title} {step.do} {step.done_when or ''}", mind.facts)
    plain_name = beginnings(name, _LITTLE)
    if not plain_name or _stems(name) & beginnings(words, _LITTLE):
        return None
    whole = [
        one
        for one in state.walks[:-1]
        if one.topic not in mind.knowledge.hazards
        and len(_stems(name) & _stems(f"{one.topic} {mind.knowledge.title(one.topic)}")) >= len(plain_name)
    ]
    return _went_back(whole[0], state, "", mind, now) if len(whole) == 1 else None


def _asks(state: State) -> bool:
    """Whether the assistant waits for an answer in free words, which may be any."""
    return state.asking is not None and state.asking.what in ("defect", "skip-reason", "out", "level")


def _just_opened(state: State) -> bool:
    """Whether the walk in hand was opened by the turn before."""
    last, walk = state.last, state.walk
    return (
        last is not None and last.kind == "procedure" and walk is not None and walk.topic == last.topic and not walk.at
    )


def leaves_for_other(text: str) -> bool:
    """Whether words leave what is in hand for something that they name, so that they skip no step of it: "not that, the sink"."""
    rest, leaves, _ = _parted(plain(_ENDED_VERB.sub(r"\1 it ", text)))
    return bool(leaves and rest and not _NOT_NAMED.search(rest))


def _without_lead(said: str) -> str:
    return _LEAD.sub("", said)


def _parted(said: str) -> tuple[str, str, str]:
    """What is named, the words that leave what is in hand ("ends", "later", "other" or ""), and those that go back."""
    rest, leaves = _without_lead(said), ""
    while (found := _LEAVES.match(rest)) is not None:
        kind = "ends" if found["ends"] else "later" if found["later"] else "other"
        leaves = "ends" if "ends" in (leaves, kind) else kind
        rest = _without_lead(rest[found.end() :].strip())
    found = _BACKS.match(rest)
    back = found.group() if found is not None else ""
    rest = _ARTICLE.sub("", rest[len(back) :].strip())
    shorter = _TAIL.sub("", rest)
    return (shorter if shorter and not _UNNAMED.match(rest) else rest), leaves, back


def _step_done(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Brake set, next", while a walk is offered again that the words report a step of: that step is done; else None."""
    asking, walk = state.asking, state.walk
    if asking is None or asking.what != "resume" or walk is None or state.topic in mind.knowledge.hazards:
        return None
    report = progress.without_next(text)
    if not report or mind.steering.find(report) is not None:
        return None  # "okay, next" takes the walk up where it stands
    done = progress.done_told(replace(state, asking=None), text, mind, now)
    after = done.state.walk if done is not None else None
    moved = done is not None and (after is None or after.topic != walk.topic or after.at > walk.at)
    return done if moved else None


def stopped(state: State, mind: Mind, now: datetime) -> list[Walk]:
    """The walks stopped before their end that can still be gone on with, newest last; none through a danger."""
    here = {walk.topic for walk in state.walks} | mind.knowledge.hazards
    return [
        one.walk for one in state.left if not one.ended and one.walk.topic not in here and now - one.at < STOPPED_WITHIN
    ]


def _last_stopped(state: State, mind: Mind, now: datetime) -> Outcome | None:
    walks = stopped(state, mind, now)
    return taken_up(walks[-1], state, mind, now) if walks else None


def resumed(state: State, mind: Mind, now: datetime) -> Outcome:
    """ "Resume" where no walk is open: the one stopped last goes on, else that there is none."""
    last = _last_stopped(state, mind, now)
    return last or walking.control(state, "No procedure is paused. Ask for one in your own words.")


def none_open(state: State, mind: Mind, now: datetime) -> str:
    """What is said to a command for a walk when none is open."""
    walks = stopped(state, mind, now)
    if walks:
        last = walks[-1]
        return f"No procedure is open. {mind.knowledge.title(last.topic)} was stopped at step {last.number}: say resume to go on with it."
    return "No procedure is open. Ask for one in your own words, or say help."


def taken_up(walk: Walk, state: State, mind: Mind, now: datetime, before: str = "") -> Outcome:
    """A stopped walk in hand again, at the step where it was stopped."""
    state = walking.remembered(state, f"going on with {mind.knowledge.title(walk.topic)}")
    left = tuple(one for one in state.left if one.walk.topic != walk.topic)
    state = replace(state, walks=(*state.walks, replace(walk, paused=False)), left=left, asking=None, failures=0)
    remark = f"{before} {mind.knowledge.title(walk.topic)} goes on.".strip()
    return walking.move_to(walk.at, state, mind, now, "return", remark)


def _left_behind(state: State, leaves: str, mind: Mind, now: datetime) -> tuple[State, str, tuple[EventDraft, ...]]:
    """The state without the walk in hand where the words end it, or where it was only just opened; what is said of it; what is recorded."""
    walk = state.walk
    if walk is None or not leaves or leaves == "later" and walk.at:
        return state, "", ()
    if walk.at and leaves != "ends":
        return state, f"{phrases.waits(walk, mind)}", ()
    timers = tuple(timer for timer in state.timers if timer.topic != walk.topic)
    state = replace(walking.remembered(state, "going back"), walks=state.walks[:-1], timers=timers)
    title = mind.knowledge.title(walk.topic)
    said = f"{title} is closed."
    if walk.at:
        state = walking.leaving(state, (walk,), now)
        said = f"{title} is stopped at step {walk.number}."
    event = EventDraft("walk", {"topic": walk.topic, "step": walk.number, "of": len(walk.plan), "move": "stop"})
    return state, said, (event,)


def _went_back(meant: Walk, state: State, leaves: str, mind: Mind, now: datetime) -> Outcome:
    state, said, events = _left_behind(state, leaves, mind, now)
    state = replace(state, asking=None, failures=0)
    if any(walk.topic == meant.topic for walk in state.walks):
        back = moving.returned(meant, state, mind, now)
    else:
        back = taken_up(meant, state, mind, now)
    if said:
        reply = back.reply
        back = back._replace(reply=replace(reply, say=f"{said} {reply.say}", show=(said, *reply.show)))
    return Outcome(back.state, back.reply, (*events, *back.events))


def _under(state: State, leaves: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Not that, back to what I was doing": the walk under the one in hand; None where none waits."""
    under = state.walks[-2] if len(state.walks) > 1 else None
    if under is None or under.topic in mind.knowledge.hazards:
        return None
    return _went_back(under, state, leaves, mind, now)


def _stems(words: str) -> set[str]:
    return beginnings(words, _LITTLE) | beginnings(_DOING.sub(r"\1", words), _LITTLE)


def _with_step(rest: str, mind: Mind) -> tuple[str, int | None]:
    """A name without the number of the step that is wanted of it, and that number."""
    found = _AT_STEP.search(rest)
    steer = mind.steering.find(f"step {found['n']}") if found is not None else None
    if found is None or steer is None or steer.number is None:
        return rest, None
    return _TAIL.sub("", rest[: found.start()]), steer.number


def _named(
    state: State, name: str, number: int | None, leaves: str, back: bool, text: str, mind: Mind, now: datetime
) -> Outcome | None:
    """The walk that is named, gone on with; a procedure that is not open but surely named is opened in place of the one in hand."""
    meant = _meant(name, state, mind, now)
    if meant is not None and meant is state.walk:
        if number is not None and back:
            return walking.jump(replace(state, asking=None, failures=0), mind, now, Steer("jump", number))
        return None  # what is in hand is named, and other words are better placed to move it
    if meant is not None and (leaves or back):
        outcome = _went_back(meant, state, leaves, mind, now)
    else:
        titled = choosing.title_named(name, mind)
        best, chance = mind.ranked(name).procedures[0]
        topic = titled or (best if leaves and chance >= SURE else "")
        replaces = leaves and state.walk is not None
        if not topic or topic in mind.knowledge.hazards or not (replaces or titled):
            return None
        state, _, events = _left_behind(state, leaves, mind, now)
        opened = walking.open_walk(topic, state, mind, now, 1.0 if titled else chance, text)
        outcome = Outcome(opened.state, opened.reply, (*events, *opened.events))
    if number is None:
        return outcome
    # the cautions of the whole are said although its opening is passed over
    cautions = tuple(line for line in outcome.reply.show if line.startswith(_CAUTIONS))
    jumped = walking.jump(outcome.state, mind, now, Steer("jump", number))
    spoken = [f"{word[0]}{word[1:].lower()}." + rest for word, rest in (line.split(":", 1) for line in cautions)]
    reply = replace(jumped.reply, show=(*cautions, *jumped.reply.show), say=" ".join([*spoken, jumped.reply.say]))
    return Outcome(jumped.state, reply, (*outcome.events, *jumped.events))


_CAUTIONS = ("DANGER:", "WARNING:", "CAUTION:", "NOTICE:")


def _meant(name: str, state: State, mind: Mind, now: datetime) -> Walk | None:
    """The open or stopped walk that a few words name: by its title, by what it was asked for with, or by their likeness; else None."""
    walks = [walk for walk in reversed(state.walks) if walk.topic not in mind.knowledge.hazards]
    walks += reversed(stopped(state, mind, now))
    said = beginnings(name, _LITTLE)
    if not said or not walks:
        return None
    with_roots = _stems(name)
    for words in (lambda walk: f"{walk.topic} {mind.knowledge.title(walk.topic)}", lambda walk: walk.asked):
        shared = [(len(with_roots & _stems(words(walk))), walk) for walk in walks]
        whole = [walk for count, walk in shared if count >= len(said)]
        if whole:  # of two that the name fits, the one in hand is hardly meant by who leaves it
            return next((walk for walk in whole if walk is not state.walk), whole[0])
    likely = mind.ranked(name).procedures[:2]
    return next((walk for topic, chance in likely for walk in walks if walk.topic == topic and chance >= LEAST), None)


__all__ = ["none_open", "resumed", "stopped", "taken_up", "told"]
