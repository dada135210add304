"""How long, how thick, how big a thing of the coach is: told from the profile, and never taken for another procedure.

In a walk "how long is the hose" means the hose in hand. What the profile does not have is said to be not known, and the
walk stays where it is.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cabassist.dialogue import deciding, phrases, walking
from cabassist.dialogue.types import Asking, Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare
from cabassist.language.routing import Decision

_THE = r"(?:the |our |my |this |that |its |a |one )?"
_OWN = r"(?P<what>[a-z]+(?: [a-z]+){0,3}?)"
_ASKED = tuple(
    (kind, Lazy(rf"^(?:{words})(?: (?:again|anyway|here|then|by the way|exactly|supposed to be|roughly|about))*$"))
    for kind, words in (  # the alternatives name their thing each by a group of its own
        ("length", rf"(?:how (?:long|many feet(?: long)?)|what length)(?: is| are|'s) {_THE}{_OWN}|(?:what(?:'s| is) the )?length of {_THE}{_OWN.replace('what', 'what2')}|how far (?:does|will|do|can) {_THE}{_OWN.replace('what', 'what3')} (?:reach|go|stretch)"),
        ("gauge", rf"(?:how (?:thick|heavy)|what gauge|which gauge)(?: is| are|'s) {_THE}{_OWN}|(?:what(?:'s| is) the )?(?:gauge|thickness|wire size) of {_THE}{_OWN.replace('what', 'what2')}"),
        ("capacity", rf"how (?:big|large)(?: is| are|'s) {_THE}{_OWN}|how (?:much|many gallons|many pounds|many) (?:water )?(?:does|do|will|can) {_THE}{_OWN.replace('what', 'what2')} (?:hold|take|fit)|how (?:much|many gallons) (?:fits|goes|go|fit|will fit) in(?:to)? {_THE}{_OWN.replace('what', 'what3')}|(?:what(?:'s| is) the )?(?:capacity|size) of {_THE}{_OWN.replace('what', 'what4')}|(?:what|which) size(?: is| are|'s) {_THE}{_OWN.replace('what', 'what5')}"),
    )
)  # fmt: skip
_OTHER_PROPERTY = Lazy(
    r"^(?:how (?:long|thick|wide|heavy|big|large|deep|tall|high|old|strong|many feet)(?: is| are|'s) (?:the|our|my|this|that|these|those|it|they|its)\b|(?:what|which) (?:size|color|colour|make|brand|diameter|length|gauge|thread|model)(?: is| are|'s)\b"
    r"|(?:what|which) (?:\w+ ){0,2}(?:goes|comes|gets|is|do i \w+|should i \w+|do we \w+)(?: \w+){0,2} first$|which first$|what color\b)"
)
_TIME = Lazy(
    r"\b(?:wait|waits?|drive|trip|ride|take|takes|run|going|gonna|left|until|till|good for|since|walk|procedure|step|steps|list|thing|day|shift|break|time|timer)\b|\d"
)
_FIRST = Lazy(r"^(?:what|which) (?:waste |black |grey |gray |holding )?tank\b.* first$")
_LENGTHS = {"waste": "waste_hose.length", "fresh": "fresh_hose.length"}
_ALSO = Lazy(r"^(?:(?:and|what about|how about|also) )*(?:the |our )?(?P<what>[a-z]+(?: [a-z]+)?)$")
_SHORTLY = Lazy(r" one$|(?<=waste)$|(?<=fresh)$|(?<=diesel)$|(?<=fuel)$|(?<=sewer)$")
_ALSO_ASKED = {
    "length": (" hose", "how long is the"),
    "gauge": (" cord", "what gauge is the"),
    "capacity": (" tank", "how big is the"),
}
"""What "and the fresh one" asks for after an answer of that kind: what is meant by "one", and the question."""
_TOPICS = {
    "shore cord": "connect-shore-power",
    "waste hose": "dump-waste-tank",
    "fresh hose": "fill-fresh-water",
    "waste tank": "check-waste-level",
    "fresh tank": "check-fresh-level",
    "propane": "read-propane-gauges",
}
"""The procedure that is offered with what is told of a thing."""
_WASTE = Lazy(r"\b(?:waste|sewer|sewage|dump\w*|black|grey|gray|drain)\b")
_FRESH = Lazy(r"\b(?:fresh|water|fill\w*|white|drinking|potable)\b")


def asked(state: State, text: str, decision: Decision, mind: Mind) -> Outcome | None:
    """What the profile says about a thing asked about, or that it is not known while a walk stays; else None."""
    said = bare(text)
    also = _ALSO.match(said)
    if also is not None and state.asking is not None and state.asking.said in _ALSO_ASKED:
        noun, opens = _ALSO_ASKED[state.asking.said]
        said = f"{opens} {_SHORTLY.sub(noun, also['what'])}"
    for kind, pattern in _ASKED:
        found = pattern.match(said)
        if found is None:
            continue
        what = next(group for group in found.groups() if group)
        if _TIME.search(said):
            return None
        known = [line for line in _known(kind, what, state, mind) if line]
        if known:
            topic = next((topic for word, topic in _TOPICS.items() if word in known[0]), "")
            return told(
                state, " ".join(known), mind, topic="" if state.walk is not None else topic, said=text, kept=kind
            )
    walk = state.walk
    if walk is None or decision.verdict in ("hazard", "refuse") or _TIME.search(said):
        return None
    if _FIRST.match(said) and "waste" in walk.topic:
        count = sum(_WASTE.search(tank.name) is not None for tank in mind.coach.tanks)
        if count == 1:
            return told(state, "This coach has one waste tank.", mind)
    if _OTHER_PROPERTY.search(said) and not (decision.verdict == "answer" and walk.topic == decision.topics[0]):
        return told(state, "I do not have that.", mind)
    return None


def told(state: State, line: str, mind: Mind, topic: str = "", said: str = "", kept: str = "") -> Outcome:
    """One line about the coach. In a walk the step in hand is said after it; else a procedure that fits is offered."""
    walk = state.walk
    if walk is None and topic and (state.asking is None or state.asking.what == "choice"):
        offer = f"Say yes for: {mind.knowledge.title(topic)}."
        state = replace(state, asking=Asking("choice", (topic,), said=kept), topic=topic, question=said, failures=0)
        outcome = walking.control(state, f"{line} {offer}", lines=(line, offer), topic=topic)
        return outcome._replace(reply=replace(outcome.reply, options=(topic,)))
    if walk is None:
        if state.asking is not None and state.asking.what == "choice" and state.asking.said:
            state = replace(state, asking=None)  # what the fact before this one offered
        return walking.control(state, line, topic=topic or None)
    step = phrases.filled(phrases.step_of(mind.knowledge.procedure(walk.topic), walk).do, mind.facts)
    outcome = walking.control(
        state, f"{line} Still at step {walk.number}: {step}", lines=(line,), topic=topic or walk.topic
    )
    return outcome._replace(reply=deciding.standing(outcome.reply, state, mind))


def _known(kind: str, what: str, state: State, mind: Mind) -> Iterable[str]:
    """The facts of the profile about a thing, each as a sentence."""
    topic = state.walk.topic if state.walk is not None else ""
    system = mind.knowledge.procedure(topic).system if topic else ""
    pointed = what in ("it", "that", "this", "one", "thing")
    if "hose" in what and kind == "length":
        for name in _sides(what, system):
            yield _sentence(f"The {name} hose", "long", _LENGTHS[name], mind)
    elif (any(word in what for word in ("cord", "cable", "lead")) and "jumper" not in what) or (
        pointed and ("shore" in topic or "cord" in topic)
    ):
        if kind == "length" and "second" not in what and "extension" not in what:
            yield _sentence("The shore cord", "long", "cord.length", mind)
        elif kind in ("gauge", "capacity"):
            yield _sentence("The shore cord", "", "cord.gauge", mind)
    elif kind == "capacity" and ("tank" in what or pointed):
        if any(word in what for word in ("propane", "gas", "lpg")):
            yield _sentence("Each propane cylinder", "", "propane.size", mind, verb="holds")
            return
        named = "diesel" if "diesel" in what or "fuel" in what else "def" if "def" in what else ""
        names = (
            [named] if named else list(_sides(what, system)) if what.rsplit(maxsplit=1)[-1] == "tank" or system else []
        )
        for name in names:
            yield _sentence(f"The {name} tank", "", f"{name}.capacity", mind, verb="holds")
    elif kind == "capacity" and any(word in what for word in ("cylinder", "bottle")):
        yield _sentence("Each propane cylinder", "", "propane.size", mind, verb="holds")


def _sides(what: str, system: str) -> tuple[str, ...]:
    """Whether the thing is of the waste, of the fresh water, or may be of either."""
    if _WASTE.search(what):
        return ("waste",)
    if _FRESH.search(what):
        return ("fresh",)
    return {"waste": ("waste",), "water": ("fresh",)}.get(system, ("waste", "fresh"))


def _sentence(subject: str, adjective: str, fact: str, mind: Mind, verb: str = "is") -> str:
    value = mind.facts.get(fact)
    return f"{subject} {verb} {value}{' ' + adjective if adjective else ''}." if value else ""
