"""How bad a defect was put down as: "what grade did you give that", "how bad did you log the toilet"."""

from __future__ import annotations

from cabassist.dialogue import phrases
from cabassist.dialogue.types import Outcome, Reply, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare, beginnings
from cabassist.record.defects import all_defects

_LEAD = r"^(?:(?:and|so|ok|okay|but|hey|wait|well|just|now) )*"
_GIVEN = Lazy(
    _LEAD
    + r"(?:(?:how (?:bad|badly|serious|seriously|severe|urgent)|(?:as )?what(?: kind of)?(?: (?:grade|severity|urgency|level|rating|priority))?|which (?:grade|severity)) (?:did|have|had) (?:you|we) (?:put|log|logged|grade|graded|mark|marked|rate|rated|call|called|give|given|make|made|write|written|note|noted|set|enter|entered|got)"
    r"(?: (?P<what>it|that|this|them|the .+?|my .+?))?(?: (?:down|up|in))?(?: (?:as|for|at|under|to be))?"
    r"|(?:what's|what is|whats) the (?:grade|severity|urgency|rating|priority)(?: (?:of|on|for) (?P<of>it|that|this|that one|the .+?))?)(?: (?:then|again|now))*$"
)
_JUST_LOGGED = Lazy(
    _LEAD
    + r"(?:how (?:bad|serious|urgent|severe) is (?:it|that|this|that one)(?: then)?|what (?:grade|severity) is (?:it|that|this))$"
)
_LITTLE = frozenset("the a an of on at in to for my our one defect fault it that this".split())


def asked(state: State, text: str) -> Outcome | None:
    """The grade of the defect named, or of the one logged last, and whether the coach may move with it; else None."""
    said = bare(text)
    found = _GIVEN.match(said)
    just = state.last is not None and state.last.kind == "defect" and _JUST_LOGGED.match(said)
    defects = [one for one in all_defects(state.record) if one.open] if found is not None or just else []
    if not defects:
        return None
    what = (found["what"] or found["of"] or "") if found is not None else ""
    named = beginnings(what, _LITTLE)
    fitting = [one for one in defects if named <= beginnings(one.words(), _LITTLE)]
    if not fitting:
        return None
    line = f"Defect {fitting[-1].words()}: {fitting[-1].verdict()}"
    step = phrases.mark(state.walk) if state.walk is not None else None
    return Outcome(state, Reply("defect", line, (line,), topic="report-a-defect", step=step))
