"""All people told to be out of the coach in a danger of the air: nobody is sent back in to wake or to lead those who stand outside.

Whoever says plainly that all are out is led on to what comes next for people outside, and is told to make sure of the count:
with carbon monoxide the call for help; with fire and gas first far away, unless that is told too. A hint that somebody may be
inside, a doubt or a wish leaves the step as it is.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import danger_first, phrases, progress, telling, walking, well_in_danger
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

MOST_WORDS = 24
_NUMBER = r"(?:\d{1,2}|(?:twenty|thirty|forty|fifty|sixty)(?: (?:one|two|three|four|five|six|seven|eight|nine))?|ten|eleven|twelve|[a-z]+teen)"
_ALL = (
    r"(?:every(?: ?body|(?: ?| last |single )one|(?: single)? (?:soul|person))(?: (?:of (?:us|them)|i (?:had|have|got)(?: aboard| on board)?|aboard|on board|on the (?:bus|coach)))*"
    rf"|(?:they|we|you|people|kids|players|the (?:kids|players|passengers|people|team)|us)(?:'re|'ve| are| have| got)* (?:now )?(?:all|both)|all (?:of (?:us|them)|(?:the )?{_NUMBER}(?: of (?:us|them)| people| heads| souls)?|hands|aboard)|(?:the )?(?:whole|entire) (?:team|lot|bus|coach|crew|group|bunch|busload)|(?:the )?lot of (?:us|them))"
)
_OUT = r"(?:out(?:side|doors)?|off (?:the |of the |this |of this )?(?:bus|coach|rig|her|it)|off|evacuated|clear of (?:the |this )?(?:bus|coach|rig|it)|in (?:the )?(?:fresh|open|clean) air|(?:away|well away|far away) from (?:the |this )?(?:bus|coach|rig|it)|in(?:side)? the (?:building|rink|arena|lobby|motel|hotel|gym|school|hall|station|store|shop|diner|terminal)|across the (?:road|street|lot|highway|parking lot)|up the road|down the road|on the (?:grass|shoulder|verge|sidewalk))"
_IS = r"(?:'s|'re|s|'ve)?(?: (?:is|are|has|have|now|all|already|safely|safe|got|gotten|made it|here|standing|stood|up|been|accounted for|counted|well|way|right|both|well out|awake and|and|just))*"
_PLAINLY = Lazy(
    rf"\b{_ALL}{_IS} {_OUT}\b|\b(?:got|gotten|have|led|moved|brought|took|herded|cleared|evacuated) (?:every ?(?:one|body)|them all|all of them|(?:the )?(?:whole|entire) (?:team|lot|bus|group)|all {_NUMBER}(?: of them)?) (?:safely |all |right |well )*{_OUT}\b"
    rf"|\b{_NUMBER} (?:of (?:us|them) |people |heads |kids )?{_OUT}(?:,| and)? (?:\w+ ){{0,3}}?{_NUMBER} (?:on the list|aboard|were aboard|counted|in all)\b"
)
_EMPTY = r"(?:(?:no ?body|no one|none|not (?:a soul|one(?: of them)?|anyone|anybody)|there's (?:no ?body|no one))(?:'s| is| are)? (?:(?:is|are|was|still|left|stayed|remains|else) )*(?:in|inside|in there|aboard|on board|behind|on (?:the |this )?(?:bus|coach)|in (?:the )?(?:bus|coach|bunks?))(?: any ?more)?|(?:the |this )?(?:bus|coach|rig|cabin|every bunk)(?:'s| is) (?:all |now |completely )?(?:empty|cleared|evacuated))"
_NOBODY_IN = Lazy(rf"\b{_EMPTY}\b")
_COUNTED = Lazy(
    r"\b(?:(?:re)?counted|head ?counts?|count(?:'s| is)? (?:is )?(?:right|good|done|fine|ok|complete|matches)|accounted for|ticked off|checked off|(?:nobody|no one|none)(?:'s| is| are)? (?:missing|unaccounted(?: for)?|left behind)|roll call|nose count|tally|i make it|list (?:matches|agrees|says))\b"
)
_DOUBT = Lazy(
    r"\?|\b(?:but|except|apart|besides|only|still|not|\w+n't|cannot|almost|nearly|most|some|half|think|thinks|hope|guess|maybe|probably|might|should|missing|inside|in there|without|unless|until|till|before|trapped|asleep|sleeping|getting|going|coming|climbing|trying|try|will|'ll|soon|gonna|about to|want|need|needs|let|let's|one more|last one|left|how|what|where|when|if|or|bar|yet|minus|last \w+ (?:is|are)|ill|sick|dizzy|as far as|looks like|seems?|supposed|reckon|believe|assume|going back|back in|for a (?:bag|coat|phone)|get|tell|told|order\w*|who|which|guess|apparently|says? (?:he|she|they)|was|few|others?|rest|hurry)\b"
)
"""Whatever leaves it open whether all are out, or whether it is told at all."""
_FAR = Lazy(
    r"\b(?:(?:a|one|two|three|couple|few|over a|good) hundred(?: (?:or (?:so|more)|long|good|big|odd|plus))* (?:yards?|met(?:er|re)s?|steps?|paces?)|hundreds of (?:yards|met(?:er|re)s|steps|paces)|[1-9]\d\d (?:long )?(?:yards?|met(?:er|re)s?|m|steps?|paces?))\b"
)
_LEADS = Lazy(r"^(?:wake every|lead every|get every|if you are driving|as you leave)")
_SENDS_AWAY = Lazy(r"^(?:send them all|lead them|move everyone) ")
_CALLS = Lazy(r"^call ")
_STILL_IN = Lazy(
    r"\b(?:(?:is|are|'s|'re|am|was) (?:still |stuck |trapped |asleep )*(?:inside|in there|in (?:his|her|their|the) bunks?|on (?:the|that) (?:bus|coach)|aboard|on board|asleep)|(?:still|stuck|trapped|left) (?:inside|in there|aboard|on board|on (?:the|that) (?:bus|coach)|asleep|in (?:his|her|their|the|a) bunks?))\b"
)
_DENIED = Lazy(r"\b(?:nobody|no one|none|not|\w+n't|never)\b")
_GOES_BACK = Lazy(
    r"\b(?:going|goes|go|went|gone|heading|headed|ran|running|popping|popped|nipping|nipped|climbing|climbed|crawl\w*|dash\w*|duck\w*|stepp\w+) (?:right |straight |just )?back (?:in|inside|aboard|on board|on the (?:bus|coach)|into the (?:bus|coach)|for (?:the|a|his|her|my|their|our|some)\b)"
)
_NOT_BACK = Lazy(
    r"\b(?:nobody|no one|none|not|\w+n't|never|don't|won't)\b(?: \w+){0,3} back\b|\b(?:can|may|could|should|must|let|lets|allowed|cleared|(?:ok|okay|safe|fine) to|said|says|told)\b"
)
"""Nobody goes, or it is asked or told by somebody's leave, which is answered elsewhere."""
_WHO = Lazy(
    r"\b(?:one|two|three|some|some ?body|some ?one|coach|driver|co-?driver|kids?|players?|boys?|girls?|people|person|guys?|man|woman|trainer|manager|he|she|they|others?|few|rest)(?:'s|'re| is| are)? (?:(?:is|are|still|stuck|trapped|left|asleep|of them|back|in the back|more) )*(?:still|stuck|trapped|inside|in there|asleep|left|aboard|on (?:the|that) (?:bus|coach)|in (?:his|her|their|the|a) bunks?)\b"
)
_MAKE_SURE = "Count heads against the list, all of them by name: is nobody missing? Nobody goes back in; who is missing is told to the fire service."
_CONFIRM = "Count once more to be sure that nobody is missing. Nobody goes back in; who is missing is told to the fire service."  # fmt: skip
_NO_ONE_BACK = "No. Nobody goes back in, for nothing and nobody. Call back whoever went; the fire service must know who is inside."  # fmt: skip
_INSIDE = "Then not all are out. Whoever is out stays out and shouts to them; the fire service must know who is inside."


def is_plain(text: str) -> bool:
    """Whether it is told beyond doubt that all people are out of the coach."""
    said = plain(text)
    if "?" in text or len(said.split()) > MOST_WORDS:
        return False
    rest = _NOBODY_IN.sub(" ", said)
    empty = rest != said
    if _DOUBT.search(_FAR.sub(" ", _COUNTED.sub(" ", rest))):
        return False
    return empty or _PLAINLY.search(rest) is not None


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The danger in hand led on where all are plainly out, or kept at its step where somebody is told to be inside; else None.

    Args:
        state: where the conversation stands.
        text: what was said.
        mind: what the turn knows.
        now: the clock.
    """
    walk = state.walk
    if walk is None or walk.topic not in danger_first.OF_AIR or mind.hurt.find(text) or well_in_danger.is_ill(text):
        return None
    said = plain(text)
    if _GOES_BACK.search(said) and not _NOT_BACK.search(said) and "?" not in text and len(said.split()) <= MOST_WORDS:
        outcome = _stays(state, walk, _NO_ONE_BACK, mind)
        return outcome._replace(reply=replace(outcome.reply, kind="refuse"))
    if mind.hazards.find(text) not in (None, walk.topic):
        return None
    if not is_plain(text):
        return _somebody_in(state, walk, text, mind)
    heard = mind.readings_in(text)
    if progress.asks_next(text) or any(one.what == "co_ppm" for one in heard.readings):
        return None  # the next step is asked for by name, so none is passed over; what was measured is told first
    at = _where_next(walk, said, mind)
    if at is None:
        return None
    before = f"Good. {_CONFIRM if _COUNTED.search(said) else _MAKE_SURE}"
    state = walking.remembered(replace(state, asking=None, failures=0), "that report")
    moved = walking.move_to(at, state, mind, now, "next", before)
    counted = bool(heard.readings) and all(one.what == "passengers" for one in heard.readings)
    if not counted:
        return moved
    after, echoes, events = telling.beside(heard, text, moved.state, mind, now)
    reply = replace(moved.reply, show=(*echoes, *moved.reply.show), readings=heard.readings)
    return Outcome(after, reply, (*events, *moved.events))


def _orders(walk: Walk, mind: Mind) -> list[str]:
    steps = mind.knowledge.procedure(walk.topic).steps
    return [phrases.filled(steps[index].do, mind.facts).lower() for index in walk.plan]


def _where_next(walk: Walk, said: str, mind: Mind) -> int | None:
    """The step at which people who are outside go on; None where the walk is past leading them out."""
    orders = _orders(walk, mind)
    away = next((at for at, do in enumerate(orders) if _SENDS_AWAY.match(do)), None)
    calls = next((at for at, do in enumerate(orders) if _CALLS.match(do)), None)
    if calls is None or walk.at >= calls:
        return None
    far = away is None or walk.at > away or _FAR.search(said) is not None
    if far:
        return calls if away is None or walk.at <= away else None
    return away if _LEADS.match(orders[walk.at]) else None


def _somebody_in(state: State, walk: Walk, text: str, mind: Mind) -> Outcome | None:
    """ "All the kids are out but coach is still in there": the step stays, and nobody goes back for him; None for anything else."""
    said = plain(text)
    clauses = _NOBODY_IN.sub(" ", said)
    if not (_WHO.search(clauses) and _STILL_IN.search(clauses)) or _DENIED.search(clauses) or "?" in text:
        return None
    if len(said.split()) > MOST_WORDS or well_in_danger.is_down(text):
        return None
    return _stays(state, walk, _INSIDE, mind)


def _stays(state: State, walk: Walk, first: str, mind: Mind) -> Outcome:
    """What must be said, and the step in hand."""
    order = phrases.filled(phrases.step_of(mind.knowledge.procedure(walk.topic), walk).do, mind.facts)
    line = f"{first} Step {walk.number} of {len(walk.plan)}: {order}"
    return walking.control(replace(state, failures=0), line, topic=walk.topic)
