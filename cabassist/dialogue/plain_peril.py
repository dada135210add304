"""Perils that a few plain words tell and that are no procedure of the coach: somebody shut in a bay, brakes that fade, a driver about
to sleep, a tire that comes apart, ice under the wheels, an engine that quits, a plug that gets hot.

They are few and their words are sure, so no network need weigh them; each is told what to do at once.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import deciding, walking
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

BAY, BRAKES, HOURS = "lock-and-unlock-bay", "check-air-brakes", "plan-driving-hours"
TIRES, SHORE, ROAD = "change-a-tire", "no-shore-power", "set-warning-triangles"

_PERSON = r"(?:some ?body|some ?one|a (?:kid|child|boy|girl|player|passenger|guy|man|woman|person|teammate)|(?:the |my |our )?(?:kid|child|boy|girl|player|passenger|goalie|lad|trainer|assistant|driver|other driver|mechanic)|(?:one|two) of (?:the|our|my) (?:kids|boys|girls|players|lads|guys|passengers|team)|(?:two|three) (?:kids|boys|girls|players|lads)|he|she|they|i)"
_STUCK = r"(?:locked|shut|stuck|trapped|caught|closed|latched|knocking|banging|pounding|yelling|shouting|screaming|crying|tapping|kicking)"
_IN_BAY = r"(?:(?:up )?(?:in|inside|into|from inside|from in|from|out of|within|down in)(?: (?:of|one of))? (?:(?:the|a|that|this|one of the|our) )*(?:(?:luggage|cargo|baggage|big|rear|front|side|gear|storage|empty|left|right|street side|curb side) )*(?:bays?|luggage hold|hold|luggage compartment|compartment|boot|belly|underfloor)(?: (?:number )?(?:\d+|one|two|three|four|five|six))?)"
_SHUT_IN = Lazy(
    rf"\b{_PERSON}(?:'s|'re|'m| is| are| am| got| has been| have been| been| has got)? (?:gone and got |got |been |still |now |apparently )?{_STUCK} (?:in )?{_IN_BAY}\b"
    rf"|\b(?:there's|there is|we have|i hear|i can hear|hear|think there's) (?:maybe )?{_PERSON} (?:{_STUCK} )?{_IN_BAY}\b"
    rf"|\b{_STUCK} {_PERSON} {_IN_BAY}\b|\b(?:knocking|banging|voices?|yelling|screaming|pounding) (?:coming )?{_IN_BAY}\b"
)
_NOT_SHUT_IN = Lazy(
    r"\b(?:if|could|might|would|can(?! hear)|want|wants|love|let|lets|ride|riding|used to|last (?:year|week|trip|month)|yesterday|was|were|drill|never|how (?:do|to) (?:i|we) (?:keep|stop|prevent)|so (?:that )?no|nobody|no one|out now|got (?:him|her|them) out|is out|load\w*|work\w*|fix\w*|look\w*|lights?|loose|rattl\w*|something|bag|bags)\b"
)
_PEDAL = Lazy(
    r"\b(?:brake )?pedal(?:'s|s| is| just| keeps?)?(?: [a-z]+){0,2}? (?:sink(?:s|ing)|drop(?:s|ping)|go(?:es|ing) (?:lower|down|to the floor|all the way|soft|further)|get(?:s|ting) (?:lower|softer|longer)|to the floor|soft|spongy|mushy|longer and longer)\b"
    r"|\bbrakes?(?: pedal)?(?: (?:feels?|are|is|'re|seems?|getting|gone|went|going|feeling|a bit|kinda|really|all|so|getting))+ (?:soft|spongy|mushy|fading|weak|weaker|like mush)\b|\bbrakes? (?:fade|fading|faded)\b|\bno (?:brakes|brake pedal)\b|\bbarely (?:slows?|stops?|brakes?|braking)\b"
)
_NOT_PEDAL = Lazy(
    r"\b(?:toilet|flush|bowl|foot flush|if|in case|when should|why do|how do brakes|what makes|would|last (?:week|month|trip|year)|yesterday|fixed|replaced|used to|chat|exam|quiz|report|write|written|log|logged|note|not moving|isn't moving|tagged|parked)\b"
)
_ASLEEP = Lazy(
    r"\b(?:i|i'm|im|i am|driver|he|she|my eyes|eyes)\b.{0,30}\b(?:can't|cannot|can not|can hardly|can barely|could hardly|struggling to|fighting to|trouble|hard to) (?:stay|staying|keep|keeping) (?:my eyes (?:open)|awake|(?:his|her) eyes open)\b"
    r"|^(?:(?:so|and|ok|okay|well|man|honestly|help|guys) )*(?:i )?(?:can't|cannot|can barely|can hardly) (?:stay awake|keep my eyes open|keep awake)\b"
    r"|\bi (?:just |nearly |almost |keep |kept |think i |must have |may have )*(?:nodded off|nodding off|dozed off|dozing off|fell asleep|falling asleep|drifted off|micro ?sleeps?|microslept|dropped off)\b"
    r"|\b(?:i )?(?:don't|do not|can't|cannot) (?:even )?(?:remember|recall) (?:driving )?(?:the |these |those |any of the )?(?:last|past) (?:few |couple of |couple |\w+ )?(?:miles?|kilomet(?:er|re)s|exits?|towns?|stretch|hour|half hour|minutes?)\b"
)
_NOT_ASLEEP = Lazy(
    r"\b(?:last night|yesterday|at the (?:hotel|motel)|in (?:the|my) bunk|in bed|movie|film|meeting|if|used to|the (?:kids?|boys|girls|team|players)|alarm|headaches?|dizz\w*|sick|fumes?|parked|partner (?:is |will )?(?:takes|taking|drives|driving)|pulled over)\b"
)
_TIRE = r"(?:(?:front|rear|back|left|right|outer|inner|steer(?:ing)?|drive|tag|dual|side|outside|inside) )*(?:t[iy]res?|tread|duals?)"
_BURST = Lazy(
    rf"\b{_TIRE}(?:'s|s| is| has| have| just| went and)*(?: [a-z]+){{0,2}}? (?:blew(?: out| up)?|blown(?: out)?|burst|bursted|exploded|popped|let go|coming (?:apart|off)|came apart|shredd(?:ed|ing)|shreds?|in shreds|peel(?:ed|ing)(?: off)?|separat(?:ed|ing)|thrown its tread|disintegrat\w+)\b"
    rf"|\b(?:blew|burst|popped|shredded|lost|blown) (?:out )?(?:a|an|the|our|one of the) {_TIRE}\b|\b(?:had|have|got|that was|it's|think it's) (?:a )?(?:blow ?out|tire burst)\b"
    r"|\b(?:steering|wheel|coach|bus|rear|back|front|back end|rear end)(?:'s| is| has| just)?(?: [a-z]+){0,2}? (?:shak\w+|shudder\w*|wobbl\w+|pull\w+)\b.{0,30}\b(?:flapping|slapping|thumping|whacking|banging|slaps|flaps|thumps)\b"
    r"|\b(?:something|rubber|tread)(?:'s| is)? (?:flapping|slapping|thumping|whacking|beating)\b.{0,24}\b(?:wheels?|t[iy]res?|duals?|wheel (?:well|arch)|fender|(?:left|right) (?:rear|front)|(?:rear|front) (?:left|right))\b"
)
_NOT_BURST = Lazy(
    r"\b(?:if|in case|what happens|when (?:a|one)|how do (?:i|we) (?:prevent|avoid)|last (?:week|month|trip|year|night)|yesterday|changed it|replaced|fixed|parked|smoke|smoking|fire|flames?|burning|spare (?:was|is)|bicycle|bike|(?:their|another|other) (?:bus|coach|truck|car))\b"
)
_QUIT = Lazy(
    r"\b(?:engine|motor|coach|bus|rig|she|everything)(?:'s|s| is| has| have| just| went and)*(?: [a-z]+){0,1}? (?:quit|died|dead|stalled|cut out|conked out|shut (?:itself )?(?:down|off)|lost power|lost all power|gave out|stopped)\b.{0,50}\b(?:highway|freeway|interstate|road|lane|traffic|shoulder|coasting|rolling|moving|driving|hill|bridge|curve|mph)\b"
    r"|\b(?:coasting|rolling) (?:to|onto|toward\w*) (?:the |a )?(?:shoulder|stop|side|exit|ramp)\b"
)
_NOT_QUIT = Lazy(
    r"\b(?:if|in case|what happens|how do|last (?:week|month|trip|year|night)|yesterday|test|parked|log|note|smok\w*|fire|flames?|should|brakes?)\b"
)
_ICE = Lazy(
    r"\b(?:black ice|glare ice|sheet ice|sheer ice|pure ice|all ice|solid ice)\b.{0,40}\b(?:ahead|bridge|ramp|hill|curve|bend|under (?:us|me)|road's|road is|highway|all over|everywhere|sideways|jack ?knif\w+|spun|spinning|sliding)\b"
    r"|\b(?:truck|car|semi|trailer|lorry|van|bus)s?(?: [a-z]+){0,4}? (?:ahead|in front)(?: [a-z]+){0,3}? (?:sideways|jack ?knif\w+|spun|spinning|sliding|crashed)\b"
    r"|\b(?:we're|we are|i'm|i am|the (?:back|rear|tail)(?: end)?(?:'s| is)?|(?:the |this )?(?:coach|bus|rig)(?:'s| is)?|it's|she's)(?: [a-z]+){0,2}? (?:skidding|sliding (?:on|down|across|toward\w*|off|sideways|all over)|fishtailing|aquaplaning|hydroplaning|losing (?:grip|traction)|going sideways|jack ?knifing)\b"
    r"|\b(?:hit|on) (?:a patch of )?black ice\b|\b(?:white ?out|can't see (?:the road|a thing|past the hood|the lines|the lane))\b.{0,20}\b(?:snow|fog|driving|road|blizzard|now|here|moving|rolling|highway)\b"
)
_NOT_ICE = Lazy(
    r"\b(?:if|in case|what happens|how do (?:i|we) (?:get|melt|scrape|chip)|last (?:week|month|trip|year|night)|yesterday|forecast|expect\w*|steps?|stairs|walkway|parking lot|sidewalk|on foot|someone|somebody|kids?|bags?|luggage|drawer|parked|windshield|backing|bay|lot|slipped|chains?)\b"
)
_PLUG = r"(?:plug|cord|cable|shore (?:cord|cable|line|lead)|outlet|socket|receptacle|connector|adapter|adaptor|inlet|lead|pedestal|power post|extension)"
_HOT = r"(?:(?:too |very |really |pretty |quite |getting |kinda |kind of |a bit |a little |damn |awful |awfully |awful |so |fairly |burning |red |piping |rather )*(?:hot|warm|warmer|hotter|roasting|toasty|scalding|boiling))"
_HOT_PLUG = Lazy(
    rf"\b{_PLUG}(?: (?:end|head|itself|there|on the (?:wall|post)|to the [a-z]+|at the [a-z]+|for the [a-z]+|we're on|outside|in the wall))*(?:'s|s)?(?: (?:is|are|has|feels?|gets?|got|gone|going|seems?|runs?|running|was|it's))*(?: (?:all|now|already))* {_HOT}\b"
    rf"|\b{_HOT} (?:(?:shore|power|the|our|a) )*{_PLUG}\b|\b{_PLUG}\b.{{0,24}}\b(?:can't|cannot|can hardly|can barely) (?:hold|touch|keep a hand on|leave (?:my|a) hand on)\b"
    rf"|\b(?:heat|warmth) (?:coming |comes )?(?:off|from|out of|in) (?:the|our) (?:shore |power )?{_PLUG}\b"
)
_NOT_HOT = Lazy(
    r"\b(?:if|should|keep\w*|warm enough|hot water|hot enough|heat(?:er)? (?:lead|tape)|air (?:inlet|outlet)|water|not|isn't|wasn't|never|no longer|how (?:hot|warm)|can (?:a|an|it)|block heater|engine|spark|glow|drain|tank|waste|sewage|smok\w*|smell\w*|stinks?|burn(?:ing|t|ed|s)?|melt\w*|flames?|fire|sparks|sparking|arc\w*|glow\w*|buzz\w*|crackl\w*|siz+l\w*|shock\w*|tingl\w*|inside|indoors|phone|laptop|coffee|kettle|toaster|last (?:week|month|trip|year|winter|summer|season|night|time)|ever since|yesterday|replaced|fixed)\b"
)


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What to do about such a peril; None for anything else."""
    said = plain(text)
    on_road = _of_road(state, said, text, mind, now)
    if on_road is not None:
        return on_road
    if names_any(said, ("bay", "hold", "compartment", "boot", "belly", "underfloor")):
        if _SHUT_IN.search(said) and not _NOT_SHUT_IN.search(said):
            return _at_once(state, text, mind, now, BAY, _OPEN, "common practice, no source")
    if names_any(said, ("pedal", "brake", "barely")) and _PEDAL.search(said) and not _NOT_PEDAL.search(said):
        return _at_once(
            state, text, mind, now, BRAKES, _STOP, "AAMVA commercial driver's manual, section 2 (from memory)"
        )
    if names_any(
        said, ("awake", "eyes", "nod", "doz", "asleep", "drift", "sleep", "dropped off", "remember", "recall")
    ):
        if _ASLEEP.search(said) and not _NOT_ASLEEP.search(said):
            return _at_once(state, text, mind, now, HOURS, _REST, "49 CFR 392.3")
    if names_any(
        said, ("hot", "warm", "heat", "roasting", "toasty", "scalding", "boiling", "hold", "touch", "hand on")
    ):
        if _HOT_PLUG.search(said) and not _NOT_HOT.search(said):
            return _at_once(
                state, text, mind, now, SHORE, _COOL, "NFPA 70, article 110.14, loose terminals (from memory)"
            )
    return None


def _of_road(state: State, said: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What the wheels do on the road: a tire that comes apart, a skid."""
    if names_any(
        said, ("tire", "tyre", "tread", "dual", "blowout", "blow out", "flap", "slap", "thump", "whack", "bang")
    ):
        if _BURST.search(said) and not _NOT_BURST.search(said):
            return _at_once(
                state,
                text,
                mind,
                now,
                TIRES,
                _HOLD,
                "AAMVA commercial driver's manual, section 2, tire failure (from memory)",
            )
    if names_any(
        said,
        (
            "quit",
            "died",
            "dead",
            "stalled",
            "cut out",
            "conked",
            "shut",
            "lost",
            "gave out",
            "coasting",
            "rolling",
            "stopped",
        ),
    ):
        if _QUIT.search(said) and not _NOT_QUIT.search(said):
            return _at_once(state, text, mind, now, ROAD, _ASIDE, "49 CFR 392.22")
    if names_any(
        said,
        (
            "ice",
            "skid",
            "slid",
            "sideways",
            "knif",
            "spun",
            "spinning",
            "fishtail",
            "planing",
            "grip",
            "traction",
            "crashed",
            "see",
        ),
    ):
        if _ICE.search(said) and not _NOT_ICE.search(said):
            return _at_once(
                state,
                text,
                mind,
                now,
                ROAD,
                _EASE,
                "AAMVA commercial driver's manual, section 2, driving in winter and skids (from memory)",
            )
    return None


_OPEN = (
    "Open that bay now. The coach does not move.",
    "Bring them inside to the warm. If they are hurt, very cold or do not answer, call the emergency services.",
)
_STOP = (
    "If you are driving: stop now, while there are brakes. Shift down, flashers on, to the side, parking brake.",
    "Chock the wheels. Do not drive on before the carrier's maintenance has looked at them.",
)
_REST = (
    "If you are driving: stop at the first safe place now. Nobody drives who fights sleep.",
    "Are others drowsy, or does a head ache? Then it may be carbon monoxide: get everyone out.",
)
_HOLD = (
    "If you are driving: hold the wheel firmly and stay off the brake. Let the coach slow by itself.",
    "Then pull off well clear of the road, flashers on, parking brake. Do not drive on that tire.",
)
_ASIDE = (
    "If you are driving: flashers on, steer well off the road while it rolls. The steering and the brakes get heavy.",
    "Then parking brake, everyone belted or away from the traffic side, triangles out within ten minutes.",
)
_EASE = (
    "If you are driving: ease off. No hard braking, no sharp steering, retarder off. Leave a long gap.",
    "When you can see or grip no more, stop at the first safe place off the road.",
)
_COOL = (
    "Switch off the breaker at the outlet, then unplug. A plug that gets hot can start a fire.",
    "Do not use that outlet again, nor the plug before an electrician has seen it. Tell the building's staff.",
    "If it smokes or smells burned: everybody out, and call the fire service.",
)


def _at_once(
    state: State, text: str, mind: Mind, now: datetime, topic: str, orders: tuple[str, ...], source: str
) -> Outcome | None:
    """The orders, with the procedure that belongs to them below; on the road the orders alone."""
    if topic not in mind.knowledge.ids:
        return None
    lines = (f"DANGER: {orders[0]}", *orders[1:])
    if not state.rolling and not any(walk.topic == topic for walk in state.walks):
        opened = walking.open_walk(topic, state, mind, now, 0.95, text)
        show = (*lines, f"Source: {source}", *opened.reply.show)
        say = f"Danger. {' '.join(orders)} {opened.reply.say}"
        asked = EventDraft("asked", {"said": text, "verdict": "answer", "topics": [topic], "confidence": 0.95})
        return opened._replace(reply=replace(opened.reply, show=show, say=say), events=(asked, *opened.events))
    reply = Reply("hazard", f"Danger. {' '.join(orders)}", (*lines, f"Source: {source}"), topic=topic, confidence=0.95)
    event = EventDraft("hazard", {"topic": topic, "said": text, "confidence": 0.95})
    return Outcome(replace(state, failures=0), deciding.standing(reply, state, mind), (event,))
