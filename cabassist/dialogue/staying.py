"""What a walk in hand holds its ground against: wishes that only the walk makes unsafe, haggling after a no, remarks."""

from __future__ import annotations

import re
from dataclasses import replace

from cabassist.dialogue import deciding, framing, phrases
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare, beginnings, plain
from cabassist.language.routing import Decision
from cabassist.language.steering_families import tells

HAGGLING_WORDS = 14
"""Longer than this nobody haggles; it is a matter of its own."""
EXCUSE_WORDS = 8
REMARK_SURE = 0.9
"""Probability from which on a mere remark is believed to ask for a procedure."""
REMARK_LEAST = 0.45
"""A procedure that is less likely than this by the words alone is not opened in a walk, unless it is named or asked for."""

_WISHES = Lazy(
    r"^(?:(?:but|and|so|then|or|well|oh|hey|look|listen|say|ok|okay|no|yeah|anyway) )*(?:can(?:'t)?|could(?:n't)?|may|might|should(?:n't)?|shall|would(?:n't)?|is it|isn't it|do you mind|mind if|what if|how about|why not|why don't (?:i|we)"
    r"|let's|lets|i'll|we'll|ill (?=just|give|use|run|warm|put|pour|let|leave|take)|i'd|i'm (?:just |only )?(?:gonna|going to|thinking|tempted)|i am going to|we're (?:just |only )?(?:gonna|going to)|gonna|going to|if i|if we|thinking (?:of|about)|easier to|quicker to|i (?:just )?want to|i could|we could|i might|all i've got|all we've got)\b"
    r"|(?:won't it|isn't it|right|ok|okay|yeah|yes|no harm)$"
)
"""Words that wish or ask leave, whatever for; a mere report has none of them."""
_TANK = Lazy(r"\b(?:the|my|our|this|that) tank\b")
_TANKS = (
    ("diesel tank", ("diesel", "fuel", "cold-start")),
    ("waste tank", ("waste", "dump")),
    ("fresh tank", ("fresh", "water")),
)
"""The tank that a walk speaks of, by words of its name."""


def _with_subject(text: str, topic: str, mind: Mind) -> str:
    """The text with what the walk is about before it: "can I just let it go here", in a dump, is about the waste."""
    tank = next((tank for tank, words in _TANKS if any(word in topic for word in words)), None)
    if tank is not None:
        text = _TANK.sub(f"the {tank}", text.lower())
    return f"{mind.knowledge.title(topic)}: {text}"


def wished(text: str, state: State, mind: Mind) -> Decision | None:
    """A wish that is unsafe because of what is being done: "could I just run it out over the gravel"; else None."""
    walk = state.walk
    if walk is None or not _WISHES.search(plain(text)) or mind.wishes.find(mind.knowledge.title(walk.topic)):
        return None
    for name in mind.wishes.find(_with_subject(text, walk.topic, mind)):
        wish = mind.knowledge.wish(name)
        if walk.topic in {wish.caution_topic, *wish.also}:
            return Decision("refuse", (), 0.6, name)
    return None


_HAGGLES = Lazy(
    r"^(?:(?:but|oh|ah|aw|well|and|look|listen|please|ok|okay|so|yeah|no|hey|come on|c'mon|go on|man|seriously|really) )*"
    r"(?:even\b|this once$|not even (?:a|one|just|for|if)\b|(?:just|only) (?:a |an |one|once|this|for |the |till |until |to |half|\d|two|three|four|five|ten|tonight)"
    r"|(?:it|that|this|there|they|we|i)(?:'s|'re|'m| is| are| was|'d be| would be)? (?:really |pretty |still )?(?:only|just|mostly|mainly|hardly|barely|nearly|almost|practically|not that|not much|not so|not even|no big)\b"
    r"|(?:nobody|no one|no-one|everybody|everyone|every driver|all the (?:other )?drivers|the other (?:driver|drivers|guys?|crews?)|my (?:boss|partner|mate|old boss)|the boss|we|i)(?:'s|'ll|'d|'ve| has| have| will| would| is)? (?:always |all |usually |never |ever )*(?:done|did|do|does|see|sees|seen|know|knows|notice|notices|care|cares|said|says|told|around|about|looking|watching|here|checks?|find|finds|going to|gonna)\b.*"
    r"|who(?:'s|'ll|'d| is| will| would)? (?:ever |even |going to |gonna )*(?:know|see|notice|find|care|check)"
    r"|(?:come on|c'mon|please|oh go on|just this once|just once|you sure about that)$"
    r"|how about (?:just |only )?(?:a |an |half|one|if|for)|what about (?:just|only) |what if (?:it's|i|we|they|nobody|i'm) |a (?:little|tiny|small|wee|bit|splash|drop|few|couple)\b"
    r"|(?:i|we)(?:'ll| will|'d|'m| am|'re| are) (?:be |just |only |really |very |going to be )*(?:quick|careful|fast|slow|keep|watch|stand|stay|hold|only|sober|fine)\b"
    r"|.{2,60} (?:though|just this once|just once|won't hurt|can't hurt|wouldn't hurt|no harm|for a (?:minute|sec|second|bit)|what's the (?:harm|difference|problem))$)"
)
"""After a no: the same wish made smaller, or a reason why this once it would not matter."""
_KIDDING = Lazy(
    r"\b(?:i'm|i am|i was|was|just|only) (?:just |only )?(?:kidding|joking|teasing|messing|pulling your leg)\b|^(?:just |only )?(?:kidding|joking)\b"
)
"""A wish that was none: nobody haggles for it any more."""
_STILL = "Still no."
_ASKS_RIGHT_WAY = Lazy(
    r"^(?:(?:ok|okay|so|then|well|fine) )*(?:how (?:do|should|can|else)|what (?:do|should|can|else)|where|when|who|show|walk|take me|next|log|note)\b"
)


def haggled(state: State, text: str, decision: Decision, mind: Mind) -> Outcome | None:
    """ "Even just five percent?", "nobody's looking", after a no: the same no once more; else None."""
    if state.refused is None or decision.verdict == "hazard" or len(text.split()) > HAGGLING_WORDS:
        return None
    if _KIDDING.search(plain(text)):
        return None
    if decision.verdict == "refuse" and mind.wishes.find(text):
        return None  # another wish, with a no of its own
    argues = (
        state.last is not None
        and state.last.kind == "refuse"
        and decision.verdict in ("clarify", "unknown")
        and _states(text)
    )
    if not (argues or _HAGGLES.search(plain(text))) or _ASKS_RIGHT_WAY.match(bare(text)):
        return None
    before = state.refused
    say = before.say if before.say.startswith(_STILL) else f"{_STILL} {before.say.replace('No. ', '', 1)}"
    return Outcome(state, replace(before, say=say))


_INSTEAD = Lazy(
    r"^(?:(?:ok|okay|fine|alright|right|so|then|well|and|what about|how about|what if i use|can i use|could i use|may i use|i'll use|i'll take|use|with) )*(?:the |a |an |some |my |our )?(?P<what>[a-z]+(?: (?:and |or )?[a-z]+){0,3}?)(?: (?:then|instead|ok|okay|right|on it|for it|on that|though))*$"
)
"""After a no: something else to do it with, in a few words: "hair dryer then"."""
_NOT_WITH = Lazy(r"^(?:wash|rinse)\b|\b(?:not|never|no|without|off|away|unplug|remove|stop|instead of)\b")


def other_means(state: State, text: str, decision: Decision, mind: Mind) -> Outcome | None:
    """ "Hair dryer then", after a no: the step of the walk in hand that uses it, and where the walk stands; else None."""
    walk, last = state.walk, state.last
    if walk is None or last is None or last.kind != "refuse" or decision.verdict == "hazard" or mind.wishes.find(text):
        return None
    found = _INSTEAD.match(plain(text))
    said = _singular(found["what"]) if found is not None else set()
    if not said:
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    for place, index in enumerate(walk.plan, 1):
        do = phrases.filled(procedure.steps[index].do, mind.facts)
        if any(said <= _singular(part) and not _NOT_WITH.search(part) for part in do.lower().split(",")):
            lines = (f"Step {place} uses that: {do}", f"You are at step {walk.number} of {len(walk.plan)}.")
            reply = Reply("step", " ".join(lines), lines, topic=walk.topic, step=phrases.mark(walk))
            return Outcome(state, reply)
    return None


def _singular(words: str) -> set[str]:
    """The words that name something, each as of one thing."""
    return {word.removesuffix("s") for word in re.findall(r"[a-z]{3,}", words) if word not in _LITTLE_BESIDE}


_LITTLE_BESIDE = frozenset("the and for with that this some one use using then all right next thanks".split())
_LEAVE_ASKED = r"(?:can(?:'t)?|could(?:n't)?|may|might|should|shall|is it (?:ok|okay|safe|all right|alright|fine)|are we (?:ok|okay|safe|good|fine|all right)|am i|do you think|ok(?:ay)? (?:if|to)|mind if|what if|how about|let's|lets|i'll|we'll|i'm (?:just )?(?:going to|gonna)|we're (?:just )?(?:going to|gonna)|surely|i think (?:we|i)(?:'ll| can))"
_GOES_ON = Lazy(
    rf"^(?:(?:but|and|so|then|well|oh|hey|look|ok|okay|no|yeah|anyway|they're freezing|it's freezing|it's cold) )*{_LEAVE_ASKED}\b.*"
    r"\b(?:anyway|anyhow|regardless|drive|driving|roll on|stay|sleep\w*|wait (?:inside|in here|aboard|on)|keep|leave (?:it|them|her|him|everything|the \w+)|carry on|press on|continue|back (?:in|inside|on board|aboard|to bed)|go (?:in|inside|aboard)|get in|ignore|silence|reset|finish"
    r"|(?:turn|switch|plug|put) (?:it|them|that|the \w+(?: \w+)?) (?:back )?(?:on|in)|(?:run|start|use|light|relight) (?:it|the|a|my|our) ?(?:furnaces?|heaters?|heat|stove|engine|generator|cooker|burner|lighter|match|pump|fans?|lights?|lamps?|microwave|kettle)?)\b"
)
_MAY = Lazy(
    r"^(?:(?:but|and|so|then|well|oh|hey|ok|okay) )*(?:can|could|may|should|shall) (?:i|we|they|he|she|the (?:kids|team|players|passengers))\b(?!.*\b(?:back to|where (?:we|i)|what (?:we|i) (?:were|was)|instead)\b)"
)
_SAFER = Lazy(
    r"\b(?:outside|outdoors|upwind|clear of|far|further|away|accounted|extinguisher|blanket|call|phone|fire (?:service|department|brigade)|ambulance|warn|next|steps?|list|procedure|shut|close|turn (?:it |them |the \w+ )?off)\b"
    r"|\b(?:keep|leave|get|move) (?:everyone|everybody|them|people|folks|the (?:kids|team|players|passengers|coach|bus|lot)|clear|out|back|away)\b"
)


EXCUSES = Lazy(
    r"\b(?:probably|prob|maybe|perhaps|might|must be|could be|i (?:think|guess|bet|reckon|suppose)|no big deal|nothing to worry|whatever|hung ?over|faking|carsick|(?:they|he|she|kids?|guys?|it|that)(?:'s|'re|s|re| is| are| was| were|'ll be| will be| just| only)* (?:just|only|fine|okay|ok|alright|tired|asleep|always))\b"
)
"""Makes light of a danger that nobody has looked into: no reason to go on with anything else."""


def leave_asked(state: State, text: str, decision: Decision, mind: Mind) -> Outcome | None:
    """ "Can we drive on with the windows open", in a danger: no, and who must clear it; else None.

    What only may be about it and is put as a question of leave, or makes light of it, is answered with the step in hand: nothing leads away from it.
    """
    walk = state.walk
    if walk is None or decision.verdict == "hazard" or mind.knowledge.procedure(walk.topic).kind != "hazard":
        return None
    said = plain(text)
    if decision.verdict == "refuse" and (mind.wishes.find(text) or walk.topic == _caution(decision, mind)):
        return None
    if _GOES_ON.match(said) and not _SAFER.search(said):
        return not_yet(state, mind)
    excuse = len(said.split()) <= EXCUSE_WORDS and EXCUSES.search(said) is not None and _states(text, 2)
    if decision.verdict == "refuse" or not (excuse or (decision.confidence < REMARK_SURE and _MAY.match(said))):
        return None
    step = phrases.step_of(mind.knowledge.procedure(walk.topic), walk)
    line = f"This comes first: {phrases.filled(step.do, mind.facts)}"
    return Outcome(state, Reply("step", line, (line,), topic=walk.topic, step=phrases.mark(walk)))


def _caution(decision: Decision, mind: Mind) -> str:
    return mind.knowledge.wish(decision.wish).caution_topic if decision.wish else ""


def not_yet(state: State, mind: Mind) -> Outcome:
    """No to going on as before while a danger is in hand, with the step that ends it."""
    walk = state.walks[-1]
    clears = phrases.filled(mind.knowledge.procedure(walk.topic).steps[walk.plan[-1]].do, mind.facts)
    line = f"Not yet. {clears}"
    reply = Reply("refuse", line, (line,), topic=walk.topic, step=phrases.mark(walk))
    return Outcome(state, reply)


_ASKS = re.compile(
    r"\?|^(?:(?:and|so|but|then|ok|okay|now|hey|also|meanwhile|well) )*(?:how|what|what's|where|where's|why|when|which|who|who's|can|could|should|shall|may|must|do|does|did|is|are|am|will|would|any|show|tell|give|take|walk|run|talk|lead|guide|help|start|begin|open|close|let's|lets|go|check|fill|empty|dump|drain|test|plug|unplug|connect|disconnect|switch|change|set|put|log|note|report|remind|read|look|find|get)\b"
)
_WANTS = Lazy(
    r"\b(?:need|needs|want|wants|wanna|have to|has to|gotta|got to|going to|gonna|about to|time (?:to|for)|ready (?:to|for)|should|must|please|meanwhile|first|instead|how|through|procedure|steps|list|report|again|low|empty|full|frozen|cold|hot|out of|stuck)\b"
)


_ARGUES = re.compile(r"^(?:(?:but|well|and|oh|look) )*(?:it|that|this|there|they|we|i|he|she|the|my|nobody|no one)\b")


def _states(text: str, least: int = 3) -> bool:
    """Whether a text argues: a statement of a few words that asks and wants nothing."""
    said = plain(text)
    return (
        len(said.split()) >= least
        and _ARGUES.match(said) is not None
        and not (_ASKS.search(text.lower()) or _WISHES_ELSE.search(said))
    )


_WISHES_ELSE = Lazy(r"\b(?:need|needs|want|wants|have to|next|step|done|ready|log|note|reading|level)\b")


_ORDERS = Lazy(
    r"^(?:(?:and|so|but|then|ok|okay|now|hey|also|meanwhile|well|right|let's|lets|time to|just) )*(?:show|tell|give|take|walk|run|talk|lead|guide|help|start|begin|open|close|go|check|fill|empty|dump|drain|test|plug|unplug|hook|unhook|connect|reconnect|disconnect|switch|swap|change|set|put|light|thaw|jack|stow|lock|unlock|oil|clean|read|find|get|turn|top)\b(?! (?:on|off|it|that|them)$)"
)
"""Begins with what is to be done."""
_REQUESTS = Lazy(
    r"\b(?:how (?:do|would|should|can|could|about|to)|show me|walk me|talk me|lead me|guide me|run me|take me|bring me|help me|tell me|what do (?:i|we)|what now|i (?:want|need)|we (?:want|need)|i'd like|let's|lets|go to|switch to|open)\b"
)
"""Asks for something to be done or shown, in so many words."""


def remarked(state: State, text: str, ranking: Ranking, decision: Decision, mind: Mind) -> Outcome | None:
    """A remark made in a walk that is only somehow like the wordings of another procedure: the walk stays; else None.

    What neither asks to be shown something nor names the procedure opens it only if it is likely by its own wording too,
    and not by what was spoken of before alone: "is propane off? what step was I on".
    """
    walk = state.walk
    if walk is None or decision.verdict != "answer" or not decision.topics:
        return None
    said, topic = plain(text), decision.topics[0]
    chance = dict(ranking.procedures).get(topic, 0.0)
    named = _names(said, topic, mind)
    if len(said.split()) < 3 or named or framing.unframed(text) is not None:  # so few words name what is wanted
        return None
    far = chance < REMARK_LEAST and topic != walk.topic and not (_REQUESTS.search(said) or _ORDERS.match(said))
    states = decision.confidence < REMARK_SURE and not (_ASKS.search(said) or _WANTS.search(said) or tells(said))
    if not (far or states):
        return None
    if walk.topic in mind.knowledge.hazards and _ASKS.search(said):  # "how far off should they stand"
        return Outcome(state, phrases.at_step(mind.knowledge.procedure(walk.topic), walk, mind, "This comes first."))
    reply = phrases.unknown(decision.topics, mind, decision.confidence, 1)
    return Outcome(state, deciding.standing(reply, state, mind))


_LITTLE = frozenset("the and for with that this coach bus out off".split())


def _names(said: str, topic: str, mind: Mind) -> bool:
    """Whether one of the words of a procedure's name stands in what was said: water on the floor may well be a leak."""
    return bool(
        beginnings(said, _LITTLE) & beginnings(f"{topic.replace('-', ' ')} {mind.knowledge.title(topic)}", _LITTLE)
    )
