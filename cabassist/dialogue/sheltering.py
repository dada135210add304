"""People who freeze outside during a danger: where they go, and that it is never back into the coach.

Whoever stands in the snow asks for warmth before anything else, and the coach is the only warm thing in sight. An answer
that does not name another place sends them back in.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.dialogue import danger_first, phrases, well_in_danger
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

MOST_WORDS = 30
_BUILDING = "Take them into the nearest building: hotel, rink, shop or house."
_HUDDLE = "None near? Stand close together out of the wind, smallest in the middle, and keep moving."
_TELL = "Tell the fire service that people are out in the cold and you need a warm vehicle."
_ELSEWHERE = {
    "propane-smell": (
        "No. Nobody goes back in or waits in the coach, not with the doors open either.",
        f"{_BUILDING} It must lie upwind, a hundred steps off.",
        "A vehicle only if it stands well upwind. Start no engine near the gas.",
    ),
    "carbon-monoxide-alarm": (
        "No. Nobody goes back in or waits in the coach, not with the doors open either.",
        _BUILDING,
        "Another vehicle will do. Keep its exhaust clear of snow and people.",
    ),
    "smoke-or-fire": (
        "No. Nobody goes back in or waits in the coach, not with the doors open either.",
        f"{_BUILDING} It must lie upwind of the smoke.",
        "Another vehicle will do if it stands well upwind.",
    ),
    "shock-from-coach-body": (
        "No. Nobody climbs on or off until the power is cut. Who is aboard sits still and stays in.",
        f"{_BUILDING} Keep them clear of the coach, its cord and puddles.",
        "Another vehicle will do if it does not touch the coach or the cord.",
    ),
}
"""Where people go, by the danger that keeps them out."""
_CUES = ("cold", "freez", "froz", "frost", "shiver", "hypotherm", "warm", "wait", "sit", "go", "stay", "stand", "put", "take", "shelter", "coat", "socks", "barefoot", "blue", "huddle", "shirt", "pajama", "pyjama", "with", "back", "on the", "inside", "aboard", "in the", "minus", "below")  # fmt: skip
_WHO = r"(?:i|we|they|he|she|you|people|everyone|everybody|anyone|anybody|someone|folks|all of (?:us|them)|them|us|(?:the |my |our |these |those )?(?:\w+ )?(?:kids?|boys|girls|team|players?|passengers?|crew|guys|lot|sleepers?|children|people|women|men|driver|drivers|coach))"
_COLD_PEOPLE = Lazy(
    rf"\b(?:{_WHO}|some|most|half|one|two|three)(?: of (?:them|us|the \w+))?(?:'s|'re|'ll|s| is| are| will| gonna| going to| have| has| all| both| just| can| could| might| are going to)* (?:\w+ )?(?:freez\w*|frozen|frostbit\w*|hypotherm\w*|shiver\w*|(?:so |too |very |really |getting |bitterly |damn |pretty )*cold\b|turning blue|(?:go|gone|going) (?:numb|blue)|barefoot|(?:only )?(?:out |outside )?in (?:the (?:cold|wind)|t[- ]?shirts?|socks|pajamas|pyjamas|shorts|underwear|their (?:socks|underwear|pajamas|pyjamas|t[- ]?shirts?|shorts)))"
    r"|\b(?:frostbite|hypothermia)\b|\b(?:no|without|haven't got|don't have|left) (?:\w+ ){0,2}?(?:coats?|jackets?|shoes|boots|blankets)\b|\b(?:get|keep|stay|keeping|getting|staying|warm) (?!the (?:cabin|coach|bus|water|engine|tanks?|bays?)\b)(?:\w+ ){0,3}?warm(?: up)?\b|\bwarm (?:\w+ ){0,2}?up\b"
    r"|\b(?:it's|its|it is|there's|way|far|much|too|so|bitterly|really|damn|freezing|awfully|pretty) (?:\w+ ){0,2}?(?:cold|freezing)(?: (?:out|for|to (?:stand|wait|stay|be)|here|outside|tonight|here)\b|$)"
)
"""Somebody is cold, and not a pipe."""
_WHERE = Lazy(
    rf"\bwhere(?:'s| is| are| can| could| do| should| shall| will| would| else| to| am i| might)* (?:{_WHO} )?(?:supposed to |else |all |then |now )*(?:go|wait|stand|sit|stay|sleep|shelter|warm up|gather|put|take|bring|send|keep|lead|huddle)\b"
    rf"|\bwhat (?:do|should|can|shall|am) (?:i|we) (?:supposed to )?(?:do )?with (?:{_WHO}|\d+ (?:people|kids|players|passengers))\b(?! (?:leak|valve|cord))|\b(?:any|some) ?where (?:\w+ )?(?:for (?:them|us)|warm|to (?:go|wait|sit|stay))\b"
)
_INSIDE = r"(?:(?:back )?(?:inside|aboard|on board|onboard|indoors|in(?: here| there)?|on)(?: (?:the |our |their )?(?:coach|bus|cabin|cab|bunks?|beds?|seats?|lounge|front|doorway|steps?|bay|stairwell))?|(?:back )?(?:in|into|to|on|onto|by) (?:the |our |their )?(?:coach|bus|cabin|cab|bunks?|beds?|seats?|lounge|front|doorway|steps?|bays?|stairwell|heaters?)|where (?:they|we) (?:are|were))"
_WAIT_IN = Lazy(
    rf"\b(?:{_WHO} )?(?:can(?:'t)?|could(?:n't)?|may|might|shall|should|would|is it (?:ok|okay|safe|alright|all right|fine)(?: if| for)?|ok(?:ay)? (?:if|for)|(?:asks?|asking|beg|begging)|what if|let|letting|i'll let|we'll let|why can't|let's|i'll|we'll|rather|better|easier|want|wants|wanna|need|needs)\b(?: {_WHO})?(?: to| just| all| not| at least| maybe| quickly)*"
    rf" (?:wait|sit|stay|warm up|shelter|huddle|go|get|come|stand|climb|hop|crawl|sleep|lie down|pile|gather|be)(?: (?:back|down|up|it out|warm|close|together|just|right|there|for a (?:bit|minute|while)))* {_INSIDE}\b"
)
_LEADS_OUT = Lazy(r"\b(?:is|are|was) (?:still |left )?(?:in|inside|aboard)\b(?! .*\b(?:can|could|may)\b)")
_ELSEWHERE_ASKED = Lazy(
    r"\b(?:cars?|vans?|pick ?ups?|(?:tow ?|fire ?)?trucks?|tow|ambulance|taxis?|cabs?|other (?:bus|coach)|another (?:bus|coach)|hotel|motel|lobby|building|rink|arena|shop|store|house|school|gym|station|bar|diner|barn|garage|shed)\b"
)
"""A place that is not the coach: no "no" stands before the answer then."""
_DONE_SO = Lazy(
    r"\b(?:went|gone|walked|moved|brought|took|taken|are all in|they're in|we're in) (?:\w+ ){0,2}?(?:to|in|into|over to|inside) (?:the |a )?(?:hotel|building|rink|lobby|arena|school|shop|store|house|motel|gym|office|station|bar|diner)\b"
)
"""They are in a building already."""


_MEASURED = Lazy(r"\b(?:ppm|parts per million|(?:co|carbon monoxide) (?:meter|level|reading))\b")
"""A reading told beside it is stored, and says more than the cold."""


def is_cold(text: str) -> bool:
    """Whether people are told to be cold, who need a place and not only a "not yet"."""
    said = plain(text)
    return names_any(said, _CUES) and _COLD_PEOPLE.search(said) is not None


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """Where they go, and the step in hand; None without a danger that keeps people out, or for anything else.

    Words of another danger, or of somebody who is down, are answered as such.
    """
    danger = danger_first.danger(state, mind)
    if danger is None:
        return None
    topic, said = danger.topic, plain(text)
    if topic not in _ELSEWHERE or not names_any(said, _CUES) or len(said.split()) > MOST_WORDS:
        return None
    cold, where, inside = _COLD_PEOPLE.search(said), _WHERE.search(said), _WAIT_IN.search(said)
    if not (where or inside or cold) or _DONE_SO.search(said):
        return None
    if _MEASURED.search(said) or well_in_danger.is_down(text) or _LEADS_OUT.search(said):
        return None
    other = mind.hazards.find(text)
    if other is not None and other != topic:
        return None
    lines = [*_ELSEWHERE[topic], _HUDDLE, _TELL]
    if (not inside or _ELSEWHERE_ASKED.search(said)) and not lines[0].endswith("stays in."):
        lines[0] = "Not into the coach, not with the doors open either."
    step = phrases.step_of(mind.knowledge.procedure(danger.topic), danger)
    lines.append(f"Step {danger.number} of {len(danger.plan)}: {phrases.filled(step.do, mind.facts)}")
    reply = Reply("refuse", " ".join(lines[:2]), tuple(lines), topic=topic, step=phrases.mark(danger))
    return Outcome(replace(state, failures=0), reply)
