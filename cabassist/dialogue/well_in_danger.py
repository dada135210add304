"""What is told of people while they get out of danger: that one is ill, that nobody is, that one of them is out. The step stays."""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import phrases, walking
from cabassist.dialogue.types import Mind, Outcome, State, Walk
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, plain

MOST_WORDS = 14
_LEAD = r"^(?:(?:ok|okay|so|and|well|yes|yeah|right|no|good|also|now|both|checked|i asked|asked) )*"
_ILLS = r"(?:headaches?|sick|ill|dizzy|sleepy|drowsy|nauseous|hurt|injured|bad|unwell|weak|confused|symptoms?|queasy|woozy|light ?headed|coughing|(?:sore|aching) heads?|a bad head)"
_WELL = Lazy(
    rf"{_LEAD}(?:(?:nobody|no one|no-one|none of (?:us|them)|not one of (?:us|them))(?:'s|s| is| are| has| have| feels?| got| seems?| looks?| complain\w*(?: of)?)*(?: (?:a|any|the))?(?: \w+)? {_ILLS}(?: or (?:a )?{_ILLS})*"
    rf"|no (?:headaches?|symptoms?|one sick)(?: or {_ILLS})*"
    r"|(?:every(?:one|body)|we|they|all(?: of (?:us|them))?|the (?:kids|team|players|boys|girls))(?:'s|'re|s| is| are| feels?| feel| looks?| look| seems?| seem| say they'?re)*(?: (?:all|both|feeling|awake and|perfectly|just))* (?:fine|ok|okay|well|good|alright|all right|normal|clear headed))(?: (?:so far|now|here|out here|at the moment|right now|at all|yet|thank god|thanks))*$"
)
_NOT_YET = Lazy(r"\b(?:except|but|though|only|still|was|were|had|earlier|before|any ?more|maybe|think|guess|hope)\b")
_ONE = r"(?:(?:the |my |our |his |her )?(?:(?:lead|other|second|relief|co-?|night|day|first|front|back|rear|last) ?)?(?:drivers?|co-?driver|codriver|coach|trainer|manager|player|kid|kids|boy|girl|man|woman|guy|sleeper|partner|mate|team|assistant|medic)|he|she|they|one(?: of (?:them|the \w+))?|two|three|four|five|six|seven|eight|nine|ten|most(?: of them)?|some(?: of them)?|half(?: of them)?|the (?:front|back|rear|upper|lower) bunks?)"
_ONE_OUT = Lazy(
    rf"{_LEAD}{_ONE}(?:'s|'re| is| are| has| have)?(?: (?:now|up|awake|already|all|got|come|safely|woken|just|and))* (?:out(?:side)?|off|with me|clear|awake|up)(?: (?:of|from) (?:(?:the|his|her|their|my) )?(?:bunks?|beds?|coach|bus|back|it))?(?: (?:and|now|safe|outside|out|with me|with us|here|off|in the (?:open|fresh air|snow)|(?:the|of the) (?:coach|bus)|awake|walking|fine|ok|okay))*$"
)


_CLAUSES = Lazy(r"\b(?:but|except(?: for)?|though|although|and|only|while|apart from)\b|[,;.]")
_DOWN = Lazy(
    r"\b(?:passed|passing|blacked|out) (?:right )?(?:out|cold)\b|\b(?:faint\w*|collaps\w+|unconscious|unresponsive|seizure|convuls\w+|limp|blue lips)\b|(?:'s|\b(?:is|are|was|started|keeps|starts|be)) fitting\b"
    r"|\b(?:won't|will not|can't|cannot|doesn't|isn't|not|didn't|hardly|barely) (?:be )?(?:wake|woken|waking|breath\w*|respond\w*|mov\w+|come round)\b|\bkeel\w* over\b"
)
"""Somebody is down, whatever else is denied in the same words."""
_ILL = Lazy(
    rf"\b(?:{_ILLS}|bleed\w*|throw\w* up|threw up|vomit\w*|puk\w+|wobbly|stagger\w*|slurr\w+|chest pains?|short of breath|burn(?:t|ed)|shivering)\b"
)
_DENIED = Lazy(r"\b(?:no|not|nobody|none|never|without|\w+n't|no-one)\b")


_OF_THINGS = Lazy(
    r"\b(?:hose|line|cord|cable|tube|pipe|strap|tap|faucet|water|pressure|jet|flow|stream|battery|signal|light|lamp|beam|smell|road|weather|reception|spring|belt|plate|valve|fitting)(?:'s|s| is| are| was| feels?| hangs?| looks?| went| gone| now| all| pretty| quite| a bit)* (?:limp|weak|bad|burn(?:t|ed)|hurt|confused)\b"
)
"""What is told of a thing, and of nobody: "the hose hangs limp"."""


def is_down(text: str) -> bool:
    """Whether somebody is told to be down, who needs more than a warm place."""
    return _DOWN.search(_OF_THINGS.sub(" ", plain(text))) is not None


def is_ill(text: str) -> bool:
    """Whether somebody is told to be down or ill: each clause for itself, as "nobody is sick but one is drowsy" tells of one."""
    clauses = [bare(clause) for clause in _CLAUSES.split(_OF_THINGS.sub(" ", plain(text)))]
    return any(_DOWN.search(one) or (_ILL.search(one) and not _DENIED.search(one)) for one in clauses)


def somebody_down(state: State, text: str, mind: Mind) -> bool:
    """Whether somebody is told to be down while a danger is being dealt with: help is called, whatever danger that is a sign of."""
    return state.walk is not None and state.walk.topic in mind.knowledge.hazards and is_down(text)


_LEADS_OUT = Lazy(r"^(?:Lead|Get|Bring) everyone out\b")


def _still_in(walk: Walk, text: str, mind: Mind) -> bool:
    """Whether the walk has not yet led everyone out, and somebody is down who cannot walk out."""
    steps = mind.knowledge.procedure(walk.topic).steps
    leads = [place for place, index in enumerate(walk.plan) if _LEADS_OUT.match(steps[index].do)]
    return bool(leads) and walk.at <= leads[0] and is_down(text)


def told(state: State, text: str, mind: Mind) -> Outcome | None:
    """The answer to such a report in a walk through a danger, with the step that is to be done; None for anything else."""
    walk, said = state.walk, bare(text)
    if walk is None or walk.topic not in mind.knowledge.hazards:
        return None
    if is_ill(text):
        title = mind.knowledge.title(walk.topic)
        carry = "If you are still inside, carry them out with you now. " if _still_in(walk, text, mind) else ""
        line = f"Call the emergency services now and do what they say. Tell them: {title}. {carry}Go back in for nobody; say who is missing."
        outcome = walking.control(replace(state, failures=0), line, topic=walk.topic)
        return outcome._replace(reply=replace(outcome.reply, kind="hazard"))
    if "?" in text or len(said.split()) > MOST_WORDS or _NOT_YET.search(said):
        return None
    procedure = mind.knowledge.procedure(walk.topic)
    step = phrases.filled(phrases.step_of(procedure, walk).do, mind.facts)
    if _WELL.match(said):
        line = f"Good. It can still come on: go on. Step {walk.number} of {len(walk.plan)}: {step}"
    elif _ONE_OUT.match(said):
        line = f"Good. Is anybody else inside? Step {walk.number} of {len(walk.plan)}: {step} Say everybody is out when they are."
    else:
        return None
    return walking.control(replace(state, failures=0), line, topic=walk.topic)
