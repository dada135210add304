"""Where a walk ends before its last step: a step that says so, everything left at once, and a danger left early."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases, progress, walking
from cabassist.dialogue.types import Asking, Mind, Outcome, Reply, State, Walk
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain
from cabassist.language.steering import Steer
from cabassist.language.steering_families import tells
from cabassist.language.steering_words import beyond

_STOPS_IF = re.compile(r"^If (?P<that>[^,]+), (?:[^.]+\. )?stop here\.$", re.IGNORECASE)
_NOT = Lazy(
    r"\b(?:no|not|\w+n't|isnt|aint|none|nothing|dark|black|unlit|dead|out|off|whole|sound|fine|good|warm|warmer|nope|nah)\b"
)
_SAME = {
    "lit": r"lit|on|glow\w*|burning|red|shin\w+|showing|bright|steady|works|working",
    "shows": r"copper|bare|showing|shows|cut through|stripped",
    "bare": r"cracked|bare|broken|split|copper",
    "that": r"colder|cold|below|too cold|freezing",
}
"""What else a driver calls it, by the last word of the condition."""
_FEW = 8


def _stops_if(walk: Walk, at: int, mind: Mind) -> str:
    """The condition on which the step at a place of the plan ends the walk, or nothing."""
    if at >= len(walk.plan):
        return ""
    found = _STOPS_IF.match(mind.knowledge.procedure(walk.topic).steps[walk.plan[at]].do)
    return found["that"] if found is not None else ""


def at_stop(state: State, text: str, steer: Steer | None, mind: Mind, now: datetime) -> Outcome | None:
    """An answer at a step that ends the walk when something is so: "it's lit" ends it, "it's dark" and "next" go on; else None."""
    walk, said = state.walk, bare(text)
    if walk is None or walk.paused or len(said.split()) > _FEW or "?" in text:
        return None
    here = _stops_if(walk, walk.at, mind)
    ahead = "" if here else _stops_if(walk, walk.at + 1, mind)
    that = here or ahead
    if not that or re.match(r"(?:how|what|where|why|when|which|who|if|is|does|can|should)\b", said):
        return None
    verb = steer.verb if steer is not None else ""
    words = _SAME.get(that.rsplit(maxsplit=1)[-1], re.escape(that.rsplit(maxsplit=1)[-1]))
    named = re.search(rf"\b(?:{words})\b", said) is not None
    denied = _NOT.search(said) is not None
    if named and not denied:
        return _ended(state, that, mind)
    if not here:
        return None
    if verb == "yes" and re.match(r"(?:yes|yep|yeah|yup|it is|it does|they are|correct|affirmative|right)\b", said):
        return _ended(state, that, mind)
    if verb == "no" or (denied and verb in ("", "next")):
        return walking.forward(replace(state, asking=None, failures=0), mind, now)
    if verb == "next":
        return walking.forward(state, mind, now, f"Go on only if that is not so: {that}.")
    return None


def _ended(state: State, that: str, mind: Mind) -> Outcome:
    """The walk in hand over at a step that says so."""
    walk, rest = state.walks[-1], state.walks[:-1]
    procedure = mind.knowledge.procedure(walk.topic)
    lines = [f"{that[:1].upper()}{that[1:]}: nothing more to do. {procedure.title} ends here."]
    if rest:
        lines.append(phrases.back_to(rest[-1], mind))
    state = replace(
        walking.remembered(state, "finishing"),
        walks=rest,
        asking=Asking("resume") if rest else None,
        topic=walk.topic,
        timers=tuple(timer for timer in state.timers if timer.topic != walk.topic),
        failures=0,
    )
    event = EventDraft("walk", {"topic": walk.topic, "step": walk.number, "of": len(walk.plan), "move": "end"})
    return walking.control(state, " ".join(lines), lines=tuple(lines), topic=walk.topic, events=(event,))


_ALL = Lazy(
    r"^(?:(?:ok|okay|right|just|please|now|no|forget it|i said|let's|can you|can we) )*(?:(?:stop|cancel|quit|leave|drop|close|end|abort|forget|never ?mind|scrap|kill|exit|clear|ditch|dump) (?:out of )?(?:about )?(?:it all|(?:them|these|those) all|all of (?:it|that|this|them|those|these)|(?:them |these |those )?both(?: of (?:them|those|these))?|everything|the (?:whole )?lot|all (?:of )?(?:(?:the|these|those|my|our|open) )*(?:walks?|procedures?|lists?|steps|checklists?)|all (?:that|this|those|these)|all|every (?:walk|procedure|list|one)|the whole (?:thing|lot|stack|pile))"
    r"|(?:i'm |we're )?(?:done|finished|through) with (?:all of (?:it|that|this|them)|everything|the (?:whole )?lot)|get me out of (?:everything|all (?:of )?(?:this|that|it)))(?: (?:now|please|then|at once|that's open|open|for now))*$"
)


def all_left(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Stop everything": every walk but one through a danger is left; None when that is not said or may mean something else."""
    if (others := others_left(state, text, mind, now)) is not None:
        return others
    if not _ALL.match(plain(text)):
        return None
    if not state.walks:
        stops = not state.timers and state.asking is None and _STOPS.match(plain(text))
        return walking.control(state, "Nothing is open: there is nothing to stop.") if stops else None
    kept = tuple(walk for walk in state.walks if walk.topic in mind.knowledge.hazards)
    left = [walk for walk in state.walks if walk not in kept]
    names = ", ".join(f"{mind.knowledge.title(walk.topic)} at step {walk.number} of {len(walk.plan)}" for walk in left)
    lines = [f"Stopped: {names}."] if left else []
    for walk in kept:
        lines.append(f"Still open: {mind.knowledge.title(walk.topic)}. {_clears(walk, mind)}")
    if kept:
        lines.append("Say false alarm if it was none, or that it is over.")
    topics = {walk.topic for walk in left}
    state = replace(
        walking.remembered(state, "stopping all"),
        walks=kept,
        asking=None,
        timers=tuple(timer for timer in state.timers if timer.topic not in topics),
        failures=0,
    )
    events = tuple(
        EventDraft("walk", {"topic": walk.topic, "step": walk.number, "of": len(walk.plan), "move": "stop"})
        for walk in left
    )
    topic = kept[-1].topic if kept else left[-1].topic
    state = walking.leaving(state, left, now)
    return walking.control(state, " ".join(lines), lines=tuple(lines), topic=topic, events=events)


_OTHERS = Lazy(
    r"^(?:(?:ok|okay|right|just|please|now|no|so|and|then|well|yeah|can you|can we|let's|you can|we can|i said) )*(?:stop|cancel|quit|leave|drop|close|end|abort|forget|scrap|kill|clear|ditch|dump|lose|get rid of)(?: about)? (?:all |every )?(?:(?:of )?(?:the|these|those|my) )?"
    r"(?:(?:other|waiting|paused|remaining|old) (?:ones?|walks?|procedures?|lists?|things?|jobs?|four|three|two|stuff)|others?|rest(?: of (?:them|the (?:walks?|procedures?|lists?)))?|ones (?:waiting|paused)|(?:walks?|procedures?|lists?|ones|jobs|everything|all|what)(?: that(?:'s| is| are|'re)?| which are)? (?:waiting|waits?|paused|on hold|underneath|in the background)|(?:everything|all|anything|all of them|everything else|anything else|all the (?:walks|procedures|lists|ones))(?: else)? (?:but|except|apart from|besides|other than) (?:this|that|the)(?: (?:one|walk|list|procedure|current one|last one))?|everything else|all else)"
    r"(?: (?:now|please|then|too|and (?:stay|stick|keep|go on|carry on|continue) (?:with|on|to) (?:this|that)(?: one)?))*$"
)


def others_left(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Drop all the others": the walks that wait under the one in hand are left, none through a danger; None for anything else."""
    said = plain(text)
    if state.walk is None or not _OTHERS.match(said) or (_REST.search(said) and len(state.walks) < 2):
        return None  # "leave the rest" of the walk in hand, where none waits
    here, below = state.walks[-1], state.walks[:-1]
    kept = tuple(walk for walk in below if walk.topic in mind.knowledge.hazards)
    left = [walk for walk in below if walk not in kept]
    names = ", ".join(f"{mind.knowledge.title(walk.topic)} at step {walk.number} of {len(walk.plan)}" for walk in left)
    lines = [f"Stopped: {names}." if left else "No other waits."]
    lines += [f"Still open: {mind.knowledge.title(walk.topic)}. {_clears(walk, mind)}" for walk in kept]
    lines.append(f"You are still at step {here.number} of {len(here.plan)}: {mind.knowledge.title(here.topic)}.")
    topics = {walk.topic for walk in left}
    if left:
        state = walking.leaving(walking.remembered(state, "stopping the others"), left, now)
    timers = tuple(timer for timer in state.timers if timer.topic not in topics)
    state = replace(state, walks=(*kept, here), timers=timers, failures=0)
    events = tuple(
        EventDraft("walk", {"topic": walk.topic, "step": walk.number, "of": len(walk.plan), "move": "stop"})
        for walk in left
    )
    return walking.control(state, " ".join(lines), lines=tuple(lines), topic=here.topic, events=events)


_REST = Lazy(r"\brest\b")
_STOPS = Lazy(r"\b(?:stop|quit|end|abort|close|exit|kill)\b")
"""Said of what runs, and not of what was told."""


def _clears(walk: Walk, mind: Mind) -> str:
    """The last step of a walk through a danger: who clears it."""
    return phrases.filled(mind.knowledge.procedure(walk.topic).steps[walk.plan[-1]].do, mind.facts)


# -- a danger left early, and what it interrupted ---------------------------------------------------------------------

_OUT = "Is everybody out?"
_ALL_OUT = frozenset(
    "yes yeah yep yup sure of course all everyone everybody everyone's everybody's they they're we we're the kids team lot is are out outside off clear safe accounted for and now already coach bus it side".split()
)
_ASKS_BACK = re.compile(r"(?:is|are|does|do|did|has|have)\b")
_ALL_SAFE = frozenset(
    "yes yeah yep yup sure of course and for now already the a it it's is that's that they they're are we we're all both in everyone everybody everyone's everybody's dead off cut unplugged pulled killed switched shut breaker power plug cord breaker's power's plug's cord's clear away back from spill safe well out".split()
)
_MADE_SAFE = Lazy(
    r"^(?:yes|yeah|yep|yup|sure|of course)\b|^dead$|\b(?:unplugged|away|clear|(?:breaker|power|plug|cord|it|that)(?:'s| is)? (?:\w+ )?(?:dead|off|cut|out|pulled|killed))\b"
)
"""Where something else is asked than whether everybody is out."""
_KEEPS_OFF = Lazy(
    r"\b(?:nobody|no one|no-one|none)(?:'s| is| are)? (?:\w+ )?(?:touch\w*|near|close to|holding|in)(?: (?:to )?(?:it|the (?:coach|bus|spill|cord)))?\b|\b(?:still )?(?:aboard|inside|in there)\b|\b(?:sit|sits|sitting|stay|stays|staying) (?:still|in|put)\b|\bon board\b"
)
_NOT_OUT = Lazy(
    r"\b(?:no|not|\w+n't|still|inside|missing|except|but|some|two|three|one|asleep|don't know|not sure|nope|maybe)\b"
)


def question(topic: str, mind: Mind) -> str:
    """What is asked when a walk through this danger is stopped early."""
    return mind.knowledge.procedure(topic).safe_question or _OUT


def asks_out(outcome: Outcome, walk: Walk, mind: Mind) -> Outcome:
    """A walk through a danger that was stopped early: what stays to be done is said, and once whether all are safe."""
    if walk.topic not in mind.knowledge.hazards or walk.at + 1 >= len(walk.plan):
        return outcome
    state, reply = outcome.state, outcome.reply
    waits = [one for one in reply.show if one.startswith("Back to step")]
    shown = (
        *(one for one in reply.show if one not in waits),
        f"It stays so: {_clears(walk, mind)}",
        *waits,
        question(walk.topic, mind),
    )
    said = " ".join(shown)
    asking = Asking("out", (walk.topic,), reading=str(walk.at))
    return Outcome(replace(state, asking=asking), replace(reply, say=said, show=shown), outcome.events)


def out_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The answer whether everybody is out: a no takes the danger up again, a yes leaves it; None for anything else."""
    asking, said = state.asking, bare(text)
    if asking is None or asking.what != "out" or len(said.split()) > _FEW:
        return None
    if "?" in text or _ASKS_BACK.match(said):
        return None
    topic = asking.options[0]
    own = question(topic, mind) != _OUT
    if own:
        said = " ".join(_KEEPS_OFF.sub("in", said).split())
    if _NOT_OUT.search(said):
        return walking.open_walk(topic, replace(state, asking=None), mind, now, 1.0, text)
    if not set(said.split()) <= (_ALL_SAFE if own else _ALL_OUT):
        return None
    if own and not _MADE_SAFE.search(said):  # "they are all inside" is half an answer
        return walking.control(state, question(topic, mind), topic=topic)
    rest = state.walk
    lines = ["Good."]
    if rest is not None:
        lines.append(phrases.back_to(rest, mind))
    freed = replace(state, asking=Asking("resume") if rest is not None else None, failures=0)
    return walking.control(freed, " ".join(lines), lines=tuple(lines), topic=topic)


_PLAIN_NO = Lazy(
    r"^(?:no|nope|nah|wrong (?:one|list)|not (?:that|this)(?: one)?|that's (?:not it|wrong|not what i (?:meant|want|asked)))\b"
)


def not_meant(state: State, text: str, mind: Mind) -> Outcome | None:
    """ "No" right after a question opened a walk: it is closed again, and what it goes back to is named; else None."""
    last, walk = state.last, state.walk
    if last is None or last.kind != "procedure" or walk is None or walk.topic != last.topic or walk.at:
        return None
    if not _PLAIN_NO.match(bare(text)) or len(text.split()) > _FEW:
        return None
    rest = state.walks[:-1]
    title = mind.knowledge.title(walk.topic)
    others = state.offered if walk.topic in state.offered and len(state.offered) > 1 and not rest else ()
    asks = f"Say a number from 1 to {len(others)}, or ask in other words." if others else "Ask in other words."
    back = phrases.back_to(rest[-1], mind) if rest else asks
    lines = (f"All right, not that. {title} is closed.", back)
    state = replace(
        walking.remembered(state, "closing that"),
        walks=rest,
        timers=tuple(timer for timer in state.timers if timer.topic != walk.topic),
        asking=Asking("resume") if rest else Asking("choice", others) if others else None,
        topic=rest[-1].topic if rest else None,
    )
    event = EventDraft("walk", {"topic": walk.topic, "step": walk.number, "of": len(walk.plan), "move": "stop"})
    return walking.control(state, " ".join(lines), lines=lines, topic=state.topic, events=(event,))


_NAY = r"^(?:(?:nah|no|nope|ok|okay|actually|you know what|well|oh|yeah|right|hm+|ah|look|sorry|wait|so|and|but) )*"
_PUT_OFF = Lazy(
    _NAY
    + r"(?:leave|drop|forget|scrap|stop|cancel|quit|close) (?:it|this|that)(?: one)?(?: for (?:now|today|tonight|later))?(?: (?:because|cause|since|and|then|so))? (?P<why>(?:i'll|i will|we'll|we will|let's|i'd rather|we can|i can|he'll|she'll|they'll|(?:the )?[a-z]+(?: driver| guy)?(?:'ll| will| can)) (?:\w+ )?(?:do|finish|sort|see to|deal with|get to|get back to|come back to|handle|take care of|pick|start|try) (?:it|this|that|the rest|all of it)\b.*|(?:there's |there is |we've |i've |got )?no time\b.*)$"
)
"""The walk put off: "leave it, I'll do it at the hotel"."""
_NEVER_MIND = Lazy(
    r"^(?:(?:nah|no|nope|ok|okay|oh|ah|actually|well|right|sorry|wait|yeah|so)[, ]+)*(?:never ?mind|forget (?:it|about it))(?: (?:it|that|about (?:it|that)))?(?P<cut>[,.;:!-]+ ?| )(?:(?:then|actually|because|cause|since|so|and|but) )*(?P<why>.+)$"
)
_STOPS_AS_DONE = Lazy(
    r"^(?:(?:nah|no|nope|ok|okay|oh|ah|actually|well|right|sorry|wait|yeah|so|hey|hang on|hold on)[, ]+)*(?:stop|quit|cancel|end|drop|scrap|abort|leave|forget)(?: (?:it|this|that|here|there|this one|that one|the (?:list|walk|procedure|whole thing)))?[,.;:!-]+ ?(?:(?:because|cause|since|turns out|apparently|i see) )*"
    r"(?P<why>(?:no need[,.;]? ?)?(?:[\w']+ ){0,4}?(?:[\w']+(?:'s|'ve)?|has|have|had|was|were|got|been) ?(?:already |just |all )*(?:did|done|doing|finished|checked|handled|fixed|sorted|seen to|taken care of|took care of|looked after|dealt with) ?(?:it|them|that|this|those|the (?:whole )?lot|all of (?:it|them|that))?(?: (?:already|earlier|before|yesterday|last night|this morning|today|for (?:me|us)|by (?:the )?[\w']+(?: [\w']+)?|(?:at|in) the (?:shop|yard|depot|garage|hotel)))*|no need(?: (?:for (?:it|that|this)|to do (?:it|this|that)|any ?more|after all|now|today|tonight))*)$"
)
"""The walk ended because somebody has done its work: "stop, the other driver already did it"."""
_BY_WHEN = Lazy(r"\bno need\b|\bdone\b|\blast night\b")
_SETTLED = Lazy(
    r"^(?:(?:the|my|our) (?:other|co|relief|second|day|night)?[ -]?(?:driver|guy|fella|fellow|man|one|partner|mate|buddy|crew|staff)(?:'s|'ll)?|my (?:partner|mate|buddy)(?:'s|'ll)?|i|i'm|i've|i'll|we|we're|we've|we'll|it|it's|its|that|that's|he|he's|she|she's|they|they're|they've|someone|somebody|someone's|somebody's|turns out|everyone's|everything's|there's|all)\b"
)
_OF_THING = Lazy(r"^(?:the|our|my|his|[a-z]+'s)\b")
_WISHED_ON = Lazy(
    r"\b(?:next|go on|carry on|continue|keep going|going without|skip|go(?:ing)? back|back (?:to|one|a|up)|again|repeat|what|how|where|which|why|who|when|found|got (?:it|one|them)|see it|have it|read|reads|mean|meant|instead|want|wants|need|needs|anyway|note|log|remind|undo|step|without|under)\b"
)
_CLOSES = Lazy(
    r"[, ]+(?:so |and |just |please )*(?:close|stop|end|quit|drop|cancel|leave|forget|exit|kill) (?:it|this|that|out)(?: (?:now|please|then))*$"
)
_LIKE_WISH = 0.5


def given_up(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Leave it, we'll do it tomorrow", "never mind, it was only the breaker": the walk in hand is left; None for anything else.

    A walk through a danger is not left by that, nor one left with words of trouble or of an unsafe wish.
    """
    walk = state.walk
    if walk is None or walk.topic in mind.knowledge.hazards or "?" in text or mind.wishes.find(text):
        return None
    if (off := _PUT_OFF.match(plain(text))) is not None and not tells(_TIMES.sub(" ", off["why"])):
        return _left(state, mind, now)
    lower = " ".join(text.lower().replace("\u2019", "'").split()).rstrip(" .!")
    if (done := _STOPS_AS_DONE.match(lower)) is not None and not tells(_BY_WHEN.sub(" ", done["why"])):
        return _left(state, mind, now)
    found = _NEVER_MIND.match(lower)
    if found is None:
        return None
    why = _CLOSES.sub("", found["why"])
    if why == found["why"] and _CLOSES.match(f" {why}"):
        return _left(state, mind, now)
    stated = _SETTLED.match(why) or (found["cut"].strip() and _OF_THING.match(why))
    if not stated or len(why.split()) > _REASON_WORDS or tells(why) or _WISHED_ON.search(why):
        return None
    ranking = mind.ranked(why)
    if ranking.wish >= _LIKE_WISH or ranking.hazard >= _LIKE_WISH:
        return None
    return _left(state, mind, now)


_WORKED = Lazy(
    r"^(?:(?:ok|okay|right|well|and|so|there|good|great|ha|hey|yes|yeah|oh|phew|finally|alright) )*(?:(?:i |we )?got (?:it|that|them|the \w+(?: \w+)?) (?:loose|free|out|unstuck|open|working|going|running|lit|back in|sorted)"
    r"|(?:it|that|they|the \w+(?: \w+)?)(?:'s|'re| is| are| has| just| finally)* (?:(?:popped|came|come|pulled|slid|worked|broke|sprang|wiggled|let|wriggled|snapped|jumped) (?:itself |right |back |all )*(?:loose|free|out|open|in|unstuck|go)|(?:unstuck|free|freed|loose|working|lit|running|mended|fixed|sorted|works|runs)))"
    r"(?: (?:now|again|finally|by itself|on its own|at last|all right|fine|already))*"
    r"[,.;! ]+(?:(?:so|and|then|ok|okay|we can|you can|let's|i'll|just|please) )*(?:quit|stop|stop (?:it|this|here|there)|end (?:it|this)|cancel(?: (?:it|this))?|close (?:it|this)|drop (?:it|this)|never ?mind|forget (?:it|this)|leave (?:it|this)|we're done|i'm done|done here)(?: (?:now|here|then|please|the rest|this|the list))*$"
)
""" "It popped loose, quit": what was wrong is over, and the walk with it."""


def mended(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The walk in hand left because what it was for is done; a walk through a danger is not left by that. None for anything else."""
    walk, said = state.walk, text.lower().replace("\u2019", "'").strip(" .!")
    if walk is None or walk.topic in mind.knowledge.hazards or not _WORKED.match(said):
        return None
    return None if mind.hazards.find(text) is not None or mind.wishes.find(text) else _left(state, mind, now)


THAT_IS_ALL = Lazy(
    r"^(?:(?:ok|okay|right|well|and|so|there|good|great|alright) )*(?:that's|thats|that is) (?:it|all|everything|all of it|the lot)(?: then| now)? (?:[\w' ]{2,40} )?(?:(?:we're|were|we are|i'm|im|i am) (?:all )?|all )(?:done|finished|through)(?: (?:here|now|then|thanks|cheers|for (?:today|tonight|now)|with (?:it|this|that)))*$"
)
"""The whole of it is done: "that's it, cord's stowed, we're done"."""


def of_its_walk(state: State, said: str, mind: Mind) -> State:
    """The walk on top that a report of the end is about: the one whose steps speak of most that is told, when the one in hand speaks of less."""
    named = progress.stems(beyond(said))
    spoken = []
    for walk in state.walks:
        steps = mind.knowledge.procedure(walk.topic).steps
        words = " ".join(steps[index].do for index in walk.plan)
        spoken.append(len(named & progress.stems(phrases.filled(words, mind.facts))))
    most = max(spoken)
    if spoken[-1] == most or spoken.count(most) != 1 or any(w.topic in mind.knowledge.hazards for w in state.walks):
        return state
    meant = state.walks[spoken.index(most)]
    return replace(state, walks=(*(walk for walk in state.walks if walk is not meant), meant))


_TIMES = Lazy(r"\b(?:in|after|at|by|until|till|before) .*$|\bno time\b")
_REASON_WORDS = 9


def _left(state: State, mind: Mind, now: datetime) -> Outcome:
    """The walk in hand stopped where it stands."""
    return walking.HANDLERS["stop"](replace(state, asking=None, failures=0), mind, now, Steer("stop"))


def waits_after(state: State, mind: Mind) -> Outcome | None:
    """A plain "next" after the last step of a danger: what waits is named, and nothing moves yet; else None."""
    asking, walk = state.asking, state.walk
    if asking is None or asking.what != "resume" or asking.said or walk is None:
        return None
    if state.topic not in mind.knowledge.hazards:
        return None
    line = f"{phrases.waits(walk, mind)} Say resume to go on with it, or stop."
    step = phrases.mark(walk)
    reply = Reply("control", line, (line,), topic=walk.topic, step=step)
    return Outcome(replace(state, asking=replace(asking, said="asked")), reply)
