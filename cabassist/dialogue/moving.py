"""Moves through a walk that name what they mean: a skip with its reason, back to a walk left, on to a part of this one."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import framing, phrases, progress, staying, walking
from cabassist.dialogue.following import AMOUNT
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, beginnings, plain
from cabassist.language.steering import Steer

_STEP = r"(?:it|that|this|(?:that|this|the) (?:one|bit|part|step|thing)(?: too)?)"
_SKIP_WHY = (
    re.compile(
        rf"^(?:let's |we can |we'll |i'll |just )?(?:skip|pass on|leave out|miss out) {_STEP}(?: out)?(?: because| since| as| for)? (?P<why>\w+ .+)$|^skip because (?P<only>.+)$"
    ),
    re.compile(
        rf"^(?P<why>(?!i |we |who |what |that |it |this )(?:[\w'-]+ ){{1,3}}?(?:has |have |had |'s )?(?:already )?(?:did|done|got|checked|handled|finished|took care of|taken care of|seen to) {_STEP}(?: (?:already|earlier|before|today|this morning|last night|for me|for us))*)"
        r"(?: (?:skip|next|go on|move on|move along|carry on).{0,12})?$"
    ),
    re.compile(
        rf"^(?P<why>(?:{_STEP}(?:'s| is| has|'s already| has already| was)? |already )?been (?:done|checked|handled|taken care of|seen to|sorted)(?: (?:already|earlier|before|today|this morning|by \w+(?: \w+)?))*)"
        r"(?: (?:skip|next|go on|move on|move along|carry on).{0,12})?$"
    ),
    re.compile(
        rf"^(?P<why>no need(?: (?:for|to do) {_STEP})?|(?:we |i )?(?:don't|do not) (?:need|have) (?:to do )?(?:{_STEP}|one|one of (?:those|them)|any of (?:that|those))|{_STEP} (?:doesn't|does not|don't) apply(?: (?:to (?:us|me|this coach)|here|today))*"
        r"|(?:that's |it's )?not (?:needed|necessary|applicable)(?: (?:here|today|tonight))?)(?: (?:skip|next|go on|move on).{0,12})?$"
    ),
)
"""A skip with its reason: "skip that, Dale did it", "somebody did that already", "no need for that"."""


def skip_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A skip with its reason in one breath, or None."""
    if state.walk is None:
        return None
    form = _YES.sub("", bare(text))
    if (only := _skip_if(state, form, mind, now)) is not None:
        return only
    for pattern in _SKIP_WHY:
        found = pattern.match(form)
        if found is not None:
            reason = found["why"] if "only" not in pattern.groupindex else found["why"] or found["only"]
            if (other := _reason_of_waiting(state, reason, mind)) is not None:
                return other
            return walking.skipped(state, mind, now, reason)
    return None


def _reason_of_waiting(state: State, reason: str, mind: Mind) -> Outcome | None:
    """Right after another walk was opened: that the reason speaks of the step at which the one under it waits, so that nothing is skipped; else None."""
    if len(state.walks) < 2 or state.walks[-1].at:
        return None
    here, under = state.walks[-1], state.walks[-2]
    steps = [
        phrases.filled(phrases.step_of(mind.knowledge.procedure(walk.topic), walk).do, mind.facts)
        for walk in (here, under)
    ]
    if _stems(reason) & _stems(steps[0]) or not _stems(reason) & _stems(steps[1]):
        return None
    title = mind.knowledge.title(under.topic)
    lines = (
        f"Nothing is skipped. You are at step 1 of {mind.knowledge.title(here.topic)}: {steps[0]}",
        f"To skip a step of {title}, say: not this, {title.lower()}. Then skip it.",
    )
    return walking.control(replace(state, failures=0), " ".join(lines), lines=lines, topic=here.topic)


_YES = Lazy(
    r"^(?:(?:yeah|yep|yup|yes|no(?! need)|nah|oh|fine|good|great|perfect|cool|ok|okay|right|alright|there|so|well|thanks|hm+|anyway) )+(?=\w)"
)
_RETURN = Lazy(
    r"^(?:(?:forget|leave|drop|never mind|enough of|done with) (?:about )?(?:the |that |this )?\w+ (?:and |then |now )?)?(?:(?:let's|lets|let us|can we|could we|i want to|we can|time to|ready to) )*(?:(?:get |go |come |head )?back (?:to|on|onto)|return(?:ing)?(?: back)? to|(?:(?:carry|get|go|move) )?on with|(?:continue|proceed|keep going)(?: on)? with"
    r"|(?:continue|go on|carry on)(?: (?:doing|on))?(?= (?:the|that|my|our|this|where) )|resume|pick up|(?:where|which step|what step) (?:were we|was i|am i|are we|did (?:i|we) (?:get to|leave off|stop)) (?:with|on|in|at)) (?:the |that |this |my |our )?(?P<what>.+)$"
)
_UNNAMED = Lazy(
    r"^(?:it|that|this|steps?|list|procedure|walk|checklist|instructions|job|where (?:we|i) (?:were|was|left off|stopped)|what (?:we|i) (?:were|was) (?:doing|on|at)|work)(?: (?:before|again|please))*$"
)
_LITTLE = frozenset(
    "the a an of on to with for it that this thing part bit again please now stuff procedure list walk steps job up in and".split()
)


_NOT_NOW = Lazy(
    r"^(?:(?:not (?:right )?(?:now|yet|tonight|today)|(?:we'll|i'll|let's|we can|i can) (?:do|see to|look at|worry about|deal with|leave|get to) (?:that|it|this)(?: one)?(?: later| tomorrow| after| afterwards| then| for (?:now|later))?|(?:that|this|it)(?:'ll| will| can) (?:wait|keep)|(?:maybe )?(?:some other time|another time|later on|later|tomorrow)|leave (?:that|it|this)(?: for (?:now|later))?|never mind (?:that|it|this)(?: now)?)(?: (?:though|then|just|so|and|but|now|please|no))*) (?=\w)"
)
"""Puts off what was opened in between, before it is said what is gone on with."""
_WHERE_LEFT = Lazy(
    r" (?:from )?where (?:we|i) (?:\w+ )?(?:left|stopped|were|was|got to|quit)(?: (?:it|off|that|at|to|on))*$"
)
_DOING = Lazy(r"\b([a-z]{3,})ing\b")


def _stems(words: str) -> set[str]:
    return beginnings(words, _LITTLE)


LIKELIEST = 3
"""A walk among so many of the likeliest procedures for a name is meant by it, when it is the only one."""


def _mentions(said: set[str], walk: Walk, mind: Mind) -> int:
    """How many steps of a walk name one of the things said."""
    steps = mind.knowledge.procedure(walk.topic).steps
    return sum(bool(said & _stems(phrases.filled(steps[index].do, mind.facts))) for index in walk.plan)


def return_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Back to the inspection", "carry on with the dumping": the walk that is meant comes to the top at its step, or None.

    Without a name the walk under a hazard is meant, since that is what was interrupted.
    """
    found = _RETURN.match(_NOT_NOW.sub("", _YES.sub("", bare(text)))) if state.walk is not None else None
    if found is None:
        return None
    meant = _walk_meant(found["what"], text, state, mind)
    return returned(meant, state, mind, now) if meant is not None else None


def _walk_meant(what: str, text: str, state: State, mind: Mind) -> Walk | None:
    """The walk on the stack that a few words name: by its title, by what its steps handle, or by its likeness; or None."""
    ordinary = [walk for walk in reversed(state.walks) if mind.knowledge.procedure(walk.topic).kind != "hazard"]
    if _UNNAMED.match(what):
        return next(iter(ordinary), state.walks[-1])
    what = _WHERE_LEFT.sub("", what)
    said = _stems(what) | _stems(_DOING.sub(r"\1", what))  # "the loading" is of "load the luggage"
    shared = [(len(said & _stems(f"{w.topic} {mind.knowledge.title(w.topic)}")), w) for w in reversed(state.walks)]
    open_topics = {walk.topic for walk in ordinary}
    if not any(count for count, _ in shared):
        so_called = [walk for walk in ordinary if said & _stems(walk.asked)]
        if len(so_called) == 1:
            return so_called[0]  # "the heat", of "set the heat for the night"
        likely = [name for name, _ in mind.ranked(what).procedures[:LIKELIEST] if name in open_topics]
        if len(likely) == 1:
            return next(walk for walk in ordinary if walk.topic == likely[0])
        shared = [(_mentions(said, walk, mind), walk) for walk in reversed(ordinary)]
    best = max((count for count, _ in shared), default=0)
    if best:
        return next(walk for count, walk in shared if count == best)
    ranked = (*mind.ranked(what).procedures[:5], *mind.ranked(text).procedures[:5])
    near = next((name for name, _ in ranked if name in open_topics), None)
    return next((walk for walk in ordinary if walk.topic == near), None)


def returned(meant: Walk, state: State, mind: Mind, now: datetime) -> Outcome:
    """The walk that is meant on top, at its step; a danger that is still open is named."""
    left = [w for w in state.walks if w.topic != meant.topic]
    danger = next((w for w in reversed(left) if mind.knowledge.procedure(w.topic).kind == "hazard"), None)
    remark = f"Still open: {mind.knowledge.title(danger.topic)}." if danger is not None else ""
    if meant is state.walks[-1]:
        return walking.move_to(meant.at, state, mind, now, "resume", remark)
    state = replace(walking.remembered(state, "going back"), walks=(*left, meant))
    return walking.move_to(meant.at, state, mind, now, "return", remark)


_THEN_BACK = Lazy(
    r"^(?P<over>.+?) (?:(?:so|and|then|now|ok|okay|alright|right|let's|lets|can we|we can|go|get) )*(?P<back>back (?:to|on|onto) .+|(?:carry on|get on|go on|continue) with .+|(?:carry on|go on|continue|resume|pick up)(?: from)? where .+|(?:pick up|resume) .+|pick .+ up(?: again)?(?: (?:from )?where .+)?|carry on|go on|continue|resume|(?:where|which step|what step) (?:were we|was i|did (?:i|we) (?:get to|leave off|stop)) (?:with|on|in|at) .+)$"
)


_HELD = Lazy(r"\b(?:not|\w+n't|cannot|never|to|can|could|should|may|might|must|before|until|till|if|when|or|we|i)$")
"""Before "carry on" these tell that it is not done yet, or ask whether it may be."""
_GO_ON = frozenset({"carry on", "go on", "continue", "resume"})


def over_and_back(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "That's mopped up, back to the dumping": the danger is over and the walk under it goes on, in one breath; or None."""
    found = _THEN_BACK.match(bare(text)) if len(state.walks) > 1 else None
    over = progress.over_told(state, found["over"], mind, now) if found is not None else None
    if found is None or over is None or (found["back"] in _GO_ON and _HELD.search(found["over"])):
        return None
    where = "back to where i was" if found["back"] in _GO_ON else found["back"].replace(" from where ", " where ")
    where = re.sub(r"^pick (.+?) up\b(?: again)?", r"pick up \1", where)
    back = return_told(replace(over.state, asking=None), where, mind, now)
    if back is None:
        return None
    lines = tuple(line for line in over.reply.show if not line.startswith("You were"))
    reply = replace(back.reply, show=(*lines, *back.reply.show), say=f"{lines[0]} {back.reply.say}")
    return Outcome(back.state, reply, (*over.events, *back.events))


_REPORT_THEN = Lazy(
    r"^(?P<report>.+?) (?:(?:so|and|then|now|ok|okay|alright|right|let's|lets|can we|we can|i can|go|get|can get|carry|move) )*(?P<back>(?:back (?:to|onto)|on with|(?:continue|proceed|keep going|go ahead)(?: on)? with|(?:where|which step|what step) (?:were we|was i|did (?:i|we) (?:get to|leave off|stop)) (?:with|on|in|at)) (?:the |that |this |my |our )?(?P<what>\w+(?: \w+){0,4}))$"
)
_BACK_THERE = Lazy(r"\b(?:be|come|came|coming|gone|went|goes|put|puts|turn|turned|switch|switched|set|is|screwed|bring|brought|keeps?|slid|slides|fell|call|called|way)$")  # fmt: skip
"""Before "back to" these tell where a thing or a person goes, not what is gone on with."""
_SETTLED = Lazy(
    r"\b(?:dry|clean\w*|fixed|mended|sorted|gone|out|shut|closed|stowed|done|did|finished|tight\w*|freed?|moved|turned|works?|working|clear\w*|just|only|false alarm|got|found|plugged|unplugged|safe|fine|okay|good|washed|mopped|wiped|aboard|away|ready|set|swapped|replaced|patched|nothing)\b"
)
"""What interrupted the walk is told to be settled."""
_UNSETTLED = Lazy(r"\b(?:still|not|\w+n't|cannot|but|except|worse|again|if|should|can i|can we|until|how|what|why|when|where)\b")  # fmt: skip


def reported_back(state: State, text: str, sure: bool, mind: Mind, now: datetime) -> Outcome | None:
    """ "Cord's stowed, back to the departure list": what came between is told to be settled, and the walk named goes on; else None.

    Args:
        state: where the conversation stands.
        text: what was said.
        sure: whether the text alone is like no danger and no wish; otherwise it must tell that the matter is settled.
        mind: what the turn knows.
        now: the clock.
    """
    found = _REPORT_THEN.match(bare(text)) if state.walk is not None and "?" not in text else None
    if found is None:
        return None
    report = found["report"]
    if state.walks[-1].topic in mind.knowledge.hazards and staying.EXCUSES.search(report):
        return staying.not_yet(state, mind)
    paused = re.search(rf"[.,;!]\s*(?:\w+ ){{0,3}}{re.escape(found['back'][:7])}", text.lower()) is not None
    if (
        (not paused and _BACK_THERE.search(report))
        or _UNSETTLED.search(report)
        or not (sure or _SETTLED.search(report))
    ):
        return None
    meant = _walk_meant(found["what"], found["what"], state, mind)
    if meant is None:
        return None
    if meant is state.walk:
        done = progress.done_told(state, report, mind, now)
        return done or (returned(meant, state, mind, now) if sure else None)
    return returned(meant, state, mind, now)


_THANKED = Lazy(
    r"^(?:(?:ok|okay|oh|ah|right|great|perfect|lovely|good|yep|yeah|alright) )*(?:got (?:it|them|that|one)|found (?:it|them|that|one)|there (?:it is|they are)|i (?:see|have) (?:it|them)|thanks|thank you|cheers|ta)(?: (?:thanks|thank you|cheers|ta|got (?:it|them|that)|found (?:it|them)|now|then|so|ok|okay|and|anyway))*"
    r" (?:(?:so|now|and|ok|okay) )*(?:where (?:was i|were we)|what (?:was i|were we) (?:doing|on|at)|back to (?:what|where) (?:i|we) (?:was|were)(?: (?:doing|on|at))?|which step (?:was i|were we) (?:on|at)|where did (?:i|we) (?:leave off|stop|get to))(?: (?:again|before|then|with (?:it|that)))*$"
)


def thanked_back(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Got it, thanks, where was I", right after another walk was opened: that one is left for the one under it; else None."""
    if len(state.walks) < 2 or state.last is None or state.last.kind != "procedure" or not _THANKED.match(plain(text)):
        return None
    if {walk.topic for walk in state.walks[-2:]} & mind.knowledge.hazards or state.walks[-1].at:
        return None
    state = replace(walking.remembered(state, "going back"), walks=state.walks[:-1], asking=None, failures=0)
    return walking.move_to(state.walks[-1].at, state, mind, now, "return")


_SKIP_IF = Lazy(
    r"^(?:(?P<why>(?:i |we )?(?:already |i've |we've |have )*(?:did|done|checked|handled|got|seen to|took care of) (?P<thing>.+?)(?: (?:when|while|as|before|earlier|already|yesterday|this morning) .+?)?) (?:so )?)?(?:you can |we can |just |please |can we )*(?:skip|pass on|leave out) (?:it|this|that)(?: (?:one|step))? if (?:it's|it is|that's|this is|it was) (?:that|it|that one|the one|(?:about |for |on )?(?P<about>.+))$"
)


def _skip_if(state: State, said: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "I did the cord already, so skip this if it's that": skipped when the step in hand is of it, said once more when it is not."""
    found, walk = _SKIP_IF.match(said), state.walk
    if found is None or walk is None or not _stems(found["about"] or found["thing"] or ""):
        return None
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    if _stems(found["about"] or found["thing"]) <= _stems(phrases.filled(step.do, mind.facts)):
        return walking.skipped(state, mind, now, found["why"] or said)
    return walking.move_to(walk.at, replace(state, failures=0), mind, now, "same", "This is another one.")


_FROM_TOP = Lazy(
    r"^(?P<what>.+?) (?:(?:again|over|all|right|straight|starting) )*(?:from (?:the )?(?:very )?(?:top|start|beginning|scratch|step one|first step|first one)|all over(?: again)?)$"
)
_ANEW = Lazy(
    r"^(?:(?:let's|lets|can we|could we|we'll|we should|i want to|i'd like to|please|now|then|so|and|we can|can you|you can|time to) )*"
    r"(?:(?:restart|redo|rerun) (?P<again>.+)|(?:start|begin|do|run|take|walk me through|take me through) (?P<what>(?!it\b|that\b|this\b|all\b|again\b|over\b).+?) (?:all )?(?:over|afresh|anew|again from (?:the )?(?:top|start|beginning|scratch))(?: again)?)$"
)
_SUM = Lazy(r"\b(?:sums?|maths?|calculations?|numbers?|figures?|arithmetic|estimate)\b")
_FRAME_OF_NAME = Lazy(r"^(?:the|that|this|our|my|whole|entire) ")


def afresh(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Start the hookup over", "take me through the brake test from the top": that procedure at its first step, or None.

    One that is on the stack begins anew; without one of that name it opens.
    """
    said = _YES.sub("", bare(text.rsplit(". ", 1)[-1]))
    found, from_top = _ANEW.match(said), _FROM_TOP.match(said)
    what = (found["again"] or found["what"]) if found is not None else from_top["what"] if from_top is not None else ""
    if not what or AMOUNT.search(what) or _SUM.search(what):
        return None  # "six inches from the top" is a level
    framed = framing.unframed(what)
    name = framed or re.sub(r"^(?:start|begin|do|run|go through|read|open|give me|show me) ", "", what)
    name = _FRAME_OF_NAME.sub("", _FRAME_OF_NAME.sub("", name))
    name = re.sub(r" (?:steps|list|procedure|checklist|walk|thing|stuff)$", "", name)
    if not _stems(name):
        return None
    ordinary = [walk for walk in state.walks if mind.knowledge.procedure(walk.topic).kind != "hazard"]
    topics = {walk.topic for walk in ordinary}
    titled = [walk for walk in ordinary if _stems(name) <= _stems(f"{walk.topic} {mind.knowledge.title(walk.topic)}")]
    ranked = [row for form in (name, f"how do i {name}") for row in mind.ranked(form).procedures[:LIKELIEST]]
    likely = sorted(ranked, key=lambda row: -row[1])
    topic = titled[-1].topic if len(titled) == 1 else next((one for one, _ in likely if one in topics), None)
    if topic is not None and (len(titled) == 1 or likely[0][0] == topic or likely[0][1] < framing.SURE):
        meant = next(walk for walk in state.walks if walk.topic == topic)
        others = tuple(walk for walk in state.walks if walk.topic != topic)
        state = replace(state, walks=(*others, meant), asking=None, failures=0)
        return walking.HANDLERS["start-over"](state, mind, now, Steer("start-over"))
    if (found is None and framed is None) or likely[0][1] < framing.SURE or likely[0][0] in mind.knowledge.hazards:
        return None  # "it drips from the top" asks for no walk
    return walking.open_walk(likely[0][0], state, mind, now, likely[0][1], text)


_WORK = r"(?:test|check|inspection|round|list|checklist|procedure|walk|steps|briefing|talk|drill|hookup|dump|dumping|fill|filling|changeover|sanitizing|sanitising|planning|report|handover|loading|thaw|swap|winterizing)"
_ENDS = Lazy(
    rf"^(?:(?:ok|okay|right|let's|lets|please|can you|can we|now|just) )*(?:end|stop|quit|finish|close|abandon|cancel|drop|leave|forget) (?:the |this |that |my |our )(?P<what>(?:[a-z]+ )?{_WORK})(?: (?:now|please|here|there|for (?:now|today|tonight)))*$"
)
_DONE_WITH = Lazy(
    rf"^(?:(?:ok|okay|right|so|and|good|great|well|there) )*(?:that's|that is|thats|there's|we're|i'm|i've|we've)(?: all)?(?: (?:finished|done|through|got))?(?: with)? (?:the |this |that |my |our )(?P<what>(?:[a-z]+ )?{_WORK})(?: (?P<done>done|finished|over|over with|over and done with|out of the way|sorted|in the bag|complete|completed|wrapped up))?(?: (?:then|now|thanks|cheers))*$"
)


def end_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "End the brake test", "that's the briefing done": the walk named is over; None when none of that name is open."""
    said = plain(text)
    ends, done = _ENDS.match(said), _DONE_WITH.match(said)
    found = ends or done
    if found is None or not state.walks:
        return None
    if done is not None and not done["done"] and not re.search(r"\b(?:finished|done|through) with\b", said):
        return None
    names = _stems(re.sub(r" (?:list|procedure|walk|steps|checklist)$", "", found["what"])) or None
    fitting = [
        walk
        for walk in state.walks
        if names is None or names & _stems(f"{walk.topic} {mind.knowledge.title(walk.topic)}")
    ]
    if not fitting:
        return None
    meant = fitting[-1]
    others = tuple(walk for walk in state.walks if walk.topic != meant.topic)
    state = replace(state, walks=(*others, meant), asking=None, failures=0)
    if done is not None and meant.at + 1 == len(meant.plan):
        return walking.forward(state, mind, now)
    return walking.HANDLERS["stop"](state, mind, now, Steer("stop"))


_TO_SKIPPED = Lazy(
    r"^(?:(?:no|wait|actually|sorry|hang on|hold on|oh|hey|then) )*(?:let's |lets |can we |we can )?(?:(?:go|get|come|head|take me|jump)(?: right)? back (?:to|and do)|do|back to)(?: the)? (?:that|the|it|this)?(?: one| step| bit| part| thing)?(?: (?:that )?(?:i|we) (?:just )?(?:skipped|left out|passed on|missed))?(?: (?:after all|now|then))?(?: (?P<why>(?:they|it|he|she|we|i|i'm|i've|we're|we've|it's|there|the|turns|someone|somebody|because|cause|since|as) .+))?$"
)


def skip_taken_back(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "No, go back to that one, they cancelled" right after a skip: the step skipped is in hand again; else None."""
    walk = state.walk
    just = walk is not None and walk.skipped and state.last is not None and " skipped. " in f"{state.last.say} "
    if walk is None or not just or not _TO_SKIPPED.match(bare(text)) or walk.skipped[-1].step not in walk.plan:
        return None
    at = walk.plan.index(walk.skipped[-1].step)
    state = walking.remembered(state, "going back")
    state = replace(state, walks=(*state.walks[:-1], replace(walk, skipped=walk.skipped[:-1])))
    return walking.move_to(at, state, mind, now, "back")


_PART = Lazy(
    r"^(?:(?:can we|let's|can you|please) )*(?:jump|skip|go|move|take me|get|go straight|skip ahead|jump ahead|go forward|fast forward)(?: (?:ahead|on|forward|down|straight|right))? to (?:the |where )?(?P<what>.+?)(?P<part> (?:part|bit|step|section|one|piece|stuff))?$"
)
_PART_ABOUT = Lazy(
    r"^(?:(?:can we|let's|can you|please|ok|okay|now) )*(?:(?:jump|skip|go|move|take me|get|go straight|read me|give me|do)(?: (?:ahead|on|back|forward|down|straight|right))?(?: to)?|what(?:'s| was)|where(?:'s| was)) (?:the |that )?(?P<part>part|bit|step|section|one|piece) (?:about|on|with|for|where (?:i|we|you)|that (?:says|talks about|is about)|which says) (?:the |my |our )?(?P<what>[a-z][\w' ]{2,30}?)(?: (?:please|again|now))*$"
)
_END = Lazy(r"^(?:very )?(?:last|end|final)$|^last (?:one|step)$|^end of (?:it|this|the list)$")


def part_told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Jump to the tread part", "skip to the last one": the step whose words say so, or None."""
    walk = state.walk
    found = (_PART_ABOUT.match(bare(text)) or _PART.match(bare(text))) if walk is not None else None
    if walk is None or found is None:
        return None
    what = found["what"]
    steps = mind.knowledge.procedure(walk.topic).steps
    if _END.match(what):
        return walking.jump(state, mind, now, Steer("jump", len(walk.plan)))
    if found["part"] is None and not bare(text).startswith(("jump", "skip")):
        return None
    said = _stems(what)
    where = [
        at for at, index in enumerate(walk.plan) if said and said <= _stems(phrases.filled(steps[index].do, mind.facts))
    ]
    if not where and found["part"] is not None:
        near = [at for at, index in enumerate(walk.plan) if said & _stems(phrases.filled(steps[index].do, mind.facts))]
        where = near if len(near) == 1 else []
    ahead = [at for at in where if at > walk.at] or where
    if not ahead and found["part"] is not None and bare(text).startswith(("jump", "skip")):
        return walking.control(
            state, f"No step here speaks of {what}. You are at step {walk.number} of {len(walk.plan)}."
        )
    return walking.jump(state, mind, now, Steer("jump", ahead[0] + 1)) if ahead else None


_BEFORE_JUMP = Lazy(
    r"^(?:(?:no|wait|oh|ok|okay|right|so|now|hey|sorry|well|then|just|please|actually|hang on|hold on|can you|can we|could you|could we|let's|i want to|i need to) )+(?=(?:jump|skip|go|fast forward)\b)"
)
_JUMPS = Lazy(
    r"^(?:jump|(?:skip|go|fast forward)(?: straight| right| ahead| forward| on)?) .*\bto the .+ (?:part|bit|step|section)$"
)


def plain_jump(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "No wait, skip to the foot pedal part": so plainly a move that no wish is heard in it; else None."""
    said = _BEFORE_JUMP.sub("", bare(text))
    if state.walk is None or "?" in text or AMOUNT.search(said) or not _JUMPS.match(said):
        return None
    return part_told(state, said, mind, now)


_SKIP_NAMED = Lazy(
    r"^(?:(?:ok|okay|so|and|well|right|then|let's|lets|can i|can we|we can|i can|we'll|i'll|i will|i'm going to|i'm gonna|we're|i'm|just|please) )*(?:skip(?:ping)?|leav(?:e|ing) out|pass(?:ing)? on|miss(?:ing)? out) (?:the |that |this |our )?(?P<what>(?!it\b|this\b|that\b|one\b)[a-z][\w'-]*(?: [\w'-]+){0,3}?)(?: (?:part|bit|step|one))?"
    r"(?: (?:because|since|as|cause|seeing as|so))? (?P<why>(?:there's|there is|there're|there are|we've|we have|we've got|it's got|it has|this one has|i've got|she's got|we got|i see|got) (?:no|none|not)\b.+|(?:there|we|it|this|this one|i|she) (?:isn't|aren't|don't have|doesn't have|haven't got|hasn't got|haven't|hasn't|can't see|don't see)\b.+|no such thing.*|(?:ours|this one|this coach|this bus) (?:has none|hasn't one|hasn't got one|doesn't have one))$"
)
"""A thing left out because the coach has none."""
_SUPPLIES = Lazy(
    r"\b(?:antifreeze|bleach|gloves?|goggles|mask|chocks?|stands?|cribbing|blocks?|triangles?|extinguisher|flashlight|headlamp|wrench|gauge|test|tester|soap|detector|alarm)\b"
)
"""What is carried or done, and not left out because there is none at hand."""


def skip_named(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "I'll skip the water heater, we have none": the step in hand if it is of that; another is named and nothing moves; else None."""
    walk, found = state.walk, _SKIP_NAMED.match(plain(text))
    if walk is None or found is None or "?" in text or _SUPPLIES.search(plain(text)) or mind.wishes.find(text):
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    said = _stems(found["what"])
    if procedure.kind == "hazard" or not said:
        return None
    named = [said <= _stems(phrases.filled(procedure.steps[index].do, mind.facts)) for index in walk.plan]
    if named[walk.at]:
        return walking.skipped(replace(state, failures=0), mind, now, found["why"])
    later = next((at for at, of_it in enumerate(named) if of_it and at > walk.at), None)
    if later is None:
        return None
    line = f"That is step {later + 1}; say skip when you are there. You are at step {walk.number} of {len(walk.plan)}."
    return walking.control(replace(state, failures=0), line, topic=walk.topic)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The move that the text asks for, or None when it asks for none or no walk is open."""
    moves = (
        skip_taken_back,
        skip_told,
        afresh,
        return_told,
        part_told,
        progress.done_told,
        progress.set_told,
        progress.no_help,
    )
    for move in moves:
        outcome = move(state, text, mind, now)
        if outcome is not None:
            return outcome
    return None
