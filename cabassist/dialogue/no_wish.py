"""What the network alone hears as an unsafe wish, though it answers the step in hand: "fifteen amp breaker, it feeds the ice machine too".

The danger network reads a text without the step it was said at, and a report that shares words with a wish ("leave it running",
"pop at 35 pounds") is refused. Without a sign of a wish in the words, what is a plain report at the step, or tells the amount that
the step asks for, is not refused. What asks leave or says what its speaker is about to do is left as it is.
"""

from __future__ import annotations

from cabassist.dialogue import choosing, phrases, told_ahead
from cabassist.dialogue.types import Mind, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain
from cabassist.language.numbers import NUMBER_WORDS
from cabassist.language.wishes import asks_leave

REPORTS, ASKS = 0.75, 0.2
"""From this chance of a report on, with no greater chance of a question or a wish, what is said is a report at the step."""
DONE, SURELY = 0.5, 0.9
_ORDERS = Lazy(r"^(?:put|set|let|have|throw|spit|store|bung|hand|chain|chock|mix|clear|rinse|bucket|pull|take|fill|run|leave|light|drop|tip|pour|stick|shove|hang|keep|use|plug|bring|dump|drain|cover|hide|skip|tie|pack)\b")  # fmt: skip
"""What orders or wishes for a deed as well as tells of it."""
_HOW_MANY = Lazy(r"\bhow (?:many|much|high|far|long|cold|warm|full) (?P<unit>[a-z]+)\b")
_NUMBER = Lazy(rf"\d|\b(?:{'|'.join(sorted(NUMBER_WORDS))})\b")
ABOUT_TO = Lazy(r"\b(?:going to|gonna|i'll|we'll|let's|want|wanna|could|can|may|should|shall|would|if|instead|rather|bigger|swap|tape\w*|foil|jam\w*|bypass\w*|bridge\w*|wedge\w*)\b")  # fmt: skip
_GOES_ON = Lazy(
    r"[,.; ]+(?:and |so )?(?:(?:go on|carry on|continue|move on|going on|moving on|keep going|keep on|back)(?: (?:with|to) (?:the|this|my|our) [a-z]+(?: [a-z]+)?)?|next)[.! ]*$"
)
_GENERATOR = Lazy(r"\b(?:run|running|start|starting|use|using|fire up|turn on|switch on)\b(?: up)? (?:the |our |my |just )*(?:coach's |onboard |own |built in )*(?:generator|genny|gen ?set)\b")  # fmt: skip
_FED = Lazy(r"\b(?:(?<!no )outlet|cord|back ?feed\w*|into|feed\w*|house|building|panel|male|suicide|neighbou?r\w*|bay|inside|garage|closed|indoors|shed|asleep|sleep\w*|night|window|vent|door)\b")  # fmt: skip
_LEVEL_ALRIGHT = Lazy(r"^(?:(?:so|and|ok|well|hey) )*(?:is|would|will) (?:the )?(?P<number>\d{2}(?:\.\d{1,2})?)(?: volts?| v)? (?:be )?(?:alright|all right|ok|okay|enough|good|fine|low|bad|healthy|too low|plenty)(?: (?:then|enough|for (?:it|that|this|now)))*$")  # fmt: skip


_MINDED = Lazy(
    r"^(?:(?:ok|okay|so|and|well|yeah|right) )*(?!(?:\w+ ){0,3}?(?:kid|boy|girl|player|child|captain|goalie|oldest|eldest|teen\w*|brother|sister|nobody|no one|none|never|not|\w+n't)\b)(?:(?:my|the|our|one of the) )?(?:[a-z]+ ){0,2}?[a-z]+(?:'s|'ll| is| will| has)?(?: (?:gonna|going to|just|still|already|now|staying|stays))*"
    r" (?:sit(?:s|ting)?|stay(?:s|ing|ed)?|wait(?:s|ing)?|keep(?:s|ing)? an eye|watch(?:es|ing)?|mind(?:s|ing)?|look(?:s|ing)? after|babysit\w*|be)(?: (?:in|inside|in there|here|aboard|back|on board|with|on|over|for))* (?:the |our |my |all the )?(?:kids|children|players|team|passengers|boys|girls|little ones|youngsters)(?: (?:inside|in here|in there|aboard|on board|on the (?:bus|coach)|here|there|up front|now|today|for me|for now|the whole time))*(?:,? (?:while|when|as) (?:i|we|he|she)(?:'m|'re|'s)? (?:go(?:ing)?|walk(?:ing)?|do(?:ing)?|check(?:ing)?|look(?:ing)?|open(?:ing)?|clos(?:e|ing)|unload(?:ing)?|count(?:ing)?|see(?:ing)? to)\b(?!.*\b(?:under|driv\w*|roll\w*|mov\w*|jack\w*|off|away|home|town|shop|store|sleep|eat|bar)\b)(?: [\w']+){0,5})?$"
)
"""Somebody grown stays with the young: nobody is left alone."""


def answers(state: State, text: str, mind: Mind) -> bool:
    """Whether a text without a sign of a wish plainly answers or reports at the step in hand, or asks of the volts just told."""
    if mind.hazards.find(text) is not None:
        return False
    if state.walk is not None and "?" not in text and _MINDED.match(plain(text)):
        return True
    if mind.wishes.find(text):
        return False
    if of_last_level(state, text):
        return True
    walk = state.walk
    if walk is None or walk.paused or state.refused is not None or mind.report_network is None or "?" in text:
        return False
    if mind.knowledge.procedure(walk.topic).kind == "hazard":
        return False
    said = plain(_GOES_ON.sub("", text.lower()))
    words = phrases.words_at(walk, walk.at, mind)
    if _GENERATOR.search(said) and not _FED.search(said):
        return True  # the coach's own, which feeds the coach
    if ABOUT_TO.search(said) or asks_leave(said):
        return False
    asked = _HOW_MANY.search(words.lower())
    if asked is not None and _NUMBER.search(said) and asked["unit"].rstrip("s") in said:
        return True
    if _ORDERS.match(said) or choosing.begins_deed(said, mind):
        return False  # "rinse it in the galley sink"
    here = phrases.heard_here(text, walk, mind)
    if here.acts["report"] < REPORTS or here.acts["asks"] > ASKS:
        return False
    if here.done >= SURELY:
        return True
    named = bool(told_ahead.stems(bare(text)) & told_ahead.stems(words.lower()))
    return named and (here.done >= DONE or not _of_walk(text, walk.topic, mind))


def _of_walk(text: str, topic: str, mind: Mind) -> bool:
    """Whether the wish that is heard is one of the walk in hand, so that it may be meant though it is told."""
    judged = mind.judge(text)
    if judged is None:
        return True
    for name, _ in judged.which:
        wish = mind.knowledge.wish(name)
        if topic == wish.caution_topic or topic in wish.also:
            return True
    return False


def of_last_level(state: State, text: str) -> bool:
    """Whether a text asks whether the volts that were just told will do."""
    found = _LEVEL_ALRIGHT.match(plain(text))
    return found is not None and any(_same(one.reading.value, found["number"]) for one in state.stored[-3:])


def _same(value: float | None, number: str) -> bool:
    return value is not None and abs(value - float(number)) < 0.05
