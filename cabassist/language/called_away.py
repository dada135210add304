"""What a driver says whom a person or a telephone calls away: "dispatch is on the line", "hang about, one of the lads needs me"."""

from __future__ import annotations

from cabassist.language.lazy import Lazy, names_any

MAX_WORDS = 14
_WHO = (
    r"(?:(?:(?:the|my|our|a|an?other|one of (?:the|my|our)|some|that|this) )?(?:head |other |assistant |team |night |front )?(?:boss|coach|assistant|dispatch(?:er)?|office|wife|husband|missus|mom|mum|dad|daughter|son"
    r"|kids?|players?|lads?|girls?|boys?|trainer|manager|partner|mate|buddy|driver|co ?-?driver|cops?|police|officer|trooper|security|guard|(?:parking )?attendant|neighbou?r|guest|fan|worker|janitor|guys?|fella|bloke|lady|woman|man|mechanic"
    r"|desk|hotel|rink|clerk|passengers?|owner|landlord|customs)|someone|somebody|he|she|they)"
)
_CALLS = Lazy(
    rf"\b{_WHO}(?:'s|'re| is| are| has| have| just|'s just)* (?:(?:calling|ringing|phoning|texting|paging|(?:knock|tapp?|bang|rapp?)(?:ing|ed|s)|waving|waved|waves|shouting|yelling|hollering|beckoning)(?: (?:at|for|to|over))?(?: (?:me|us|you|again|now|over|out|(?:(?:at|on|by|through) )?(?:the|my) (?:door|window|glass|side|windscreen|windshield)))*$"
    r"|(?:at the (?:door|window|bus|coach|step)|on the (?:phone|line|other line|radio|horn|blower)|(?:here|over) to (?:see|talk|speak)|walking (?:up|over)|come over|coming over|talking to me|asking (?:for )?me)\b"
    r"|(?:wants?|needs?|asks|asking|asked|needing|wanting) (?:for )?(?:me|us|a word|a minute|a sec(?:ond)?|a moment|a hand|something|my (?:help|signature|attention)|to (?:talk|speak|see me|ask)(?: \w+){{0,3}})"
    r"(?: (?:now|quick|for a \w+|over (?:here|there)|inside|outside|back there|out back|up front|from me|with \w+|to (?:me|us)))*$)"
)
_COMES = Lazy(
    rf"\b(?:{_WHO}|one|some|two|three)(?: of (?:the|my|our|them|those|these)(?: \w+)?)?(?:'s|'re| is| are| has| have| just|'s just)*"
    r" (?:(?:came|come|coming|walk\w*|pull\w*|roll\w*|wander\w*)(?: just)? (?:up|over|along)|standing|stood|waiting|outside)(?: (?:outside|there))?(?: (?:to|at|by|outside|in front of) (?:the|my|our) (?:door|window|glass|coach|bus|step))?(?: (?:now|for me))*$"
)
"""Somebody has come, and waits. Players who stand in the aisle are no such thing, and neither are they who pulled up."""
_CREW = Lazy(
    r"\b(?:he|she|they|we|(?:the )?coach|kids?|players?|passengers?|lads|boys|girls|guys)(?:'s|'re| is| are| has| have| just)* (?:roll\w*|pull\w*|stood|standing)\b(?! (?:outside|at|by))"
)
_RINGS = Lazy(
    r"\b(?:phone|cell|cell ?phone|mobile|radio|pager|handset)(?:'s| is| just)?(?: \w+)? ?(?:ringing|rings|rang|going(?: off)?|buzzing|buzzed|went|call)$"
    r"|\b(?:phone|incoming|another|got a|a) call(?: (?:coming(?: in)?|from \w+(?: \w+)?))?$"
    r"|\b(?:take|taking|answer|answering|get|getting|make|making) (?:this|that|a|the|my) (?:quick )?(?:phone )?(?:call|phone)(?: (?:real )?quick| first)?$"
    r"|\b(?:knock|somebody|someone) (?:is )?(?:at|on) the (?:door|window|glass)$|^(?:i'm |i am )?on the phone$"
)
_CUES = ("call", "ring", "phone", "text", "pag", "knock", "tap", "bang", "rap", "wav", "standing", "waiting", "outside", "pull", "roll", "came", "wander", "walk", "stood", "shout", "yell", "holler", "beckon", "door", "window", " line", "radio", "horn", "blower", "see", "talk", "speak", "walking", "come over", "coming over", "ask", "want", "need", "buzz", "went", "going")  # fmt: skip
_ASKS = Lazy(
    r"^(?:(?:and|so|but) )*(?:how|what|where|why|when|which|can|could|should|is|are|do|does|did|will|if|remind|tell|note|log)\b|\b(?:if|when|after|before|until|how|should|can)\b"
)


def called_away(form: str) -> bool:
    """Whether it tells only that somebody or a telephone wants the driver, and no trouble and no amount.

    Args:
        form: the utterance as `normalise.plain` writes it.
    """
    from cabassist.language.steering_families import tells

    if len(form.split()) > MAX_WORDS or not names_any(form, _CUES) or _ASKS.search(form):
        return False
    comes = _COMES.search(form) is not None and _CREW.search(form) is None
    return bool(comes or _CALLS.search(form) or _RINGS.search(form)) and not tells(form.replace("one of", "some of"))
