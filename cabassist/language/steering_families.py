"""Steering in a driver's own words: families of phrasing beside the fixed wordings of `knowledge/steering.yaml`.

"yep, that bit's done, what now", "hang on, say that one more time" and "that'll do, close it out" are put together from
few parts, in more ways than a list can hold. Each family is a pattern over a whole utterance, so that a sentence which
only contains such words is no command. A report of work done counts as one only with "what now" or "next" after it and
with no word of trouble in it.
"""

from __future__ import annotations

from cabassist.language.lazy import Lazy, names_any

_LEAD = r"(?:(?:yeah|yep|yup|yes|aye|okay|ok|oh|alright|all right|right|sure|fine|great|good|cool|well|so|and|now|then|sorry|look|jeez|man|thanks|hey|no problem) )*"
_TAIL = r"(?: (?:please|now|then|thanks|thank you|man|buddy|pal|mate|for me|i think|i guess|if you can|will you|would you|ok|okay))*"
_OBJECT = (
    r"(?:it|that|this|those|these|them|all (?:of )?(?:it|that|this|them)"
    r"|(?:that|this|the|those|these) (?:last )?(?:one|ones|bit|part|step|thing|piece|item|job)(?: too)?)"
)
_OVER = r"(?:done|finished|complete|completed|taken care of|sorted(?: out)?|covered|handled|all set|good to go|in order|checked(?: off)?|over with|out of the way|behind (?:me|us)|seen to|squared away|wrapped up|dealt with|ticked off)"
_NEXT = (
    r"(?:(?:so|and|then|okay|ok) )*(?:what(?:'s| is|s)? (?:now|next|then)|now what(?:'s next)?|then what|what (?:do|should) (?:i|we) do (?:now|next|after that)"
    r"|what (?:comes|do i have|have i got|have we got|else is there) (?:next|after (?:that|this))|what(?:'s| is|s) (?:after (?:that|this)|the next (?:one|step|thing|bit|part|item)|up next|coming next)"
    r"|(?:give me |gimme |on to |onto |let's have |let's hear |let's do |read me |ready for |hit me with )?(?:the )?next(?: (?:one|step|thing|bit|part|item|up))?"
    r"|(?:let's )?(?:go|carry|move|press|push) on(?: with it)?|(?:let's )?(?:move|moving) (?:along|on)|(?:let's )?keep (?:going|moving)|on we go|on with it|continue|proceed)"
)
_IS = r"(?:'s|s| is| are|'re| was| were| has| have|'ve| got)?(?: been)?"
_DONE = (
    rf"(?:(?:(?:{_OBJECT}|everything|we|i){_IS}|(?:i|we)(?:'m| am|'re| are)) (?:all |now |just |both )*|(?:all |now |just |been )*){_OVER}"
    rf"(?: (?:with|on) (?:that|it|those|them|(?:that|the) (?:one|bit|part|step|thing|last one))| {_OBJECT})?(?: up| now| too)?"
    rf"|(?:(?:i|we)(?:'ve| have)? )?(?:just )?(?:did|got|checked|cleared|took care of) {_OBJECT}(?: done| off| too)?"
)
_ACTS = (
    r"(?:turned|opened|closed|shut|poured|plugged|unplugged|pulled|pushed|put|set|checked|looked|cleaned|drained|emptied|filled|locked|unlocked|tightened"
    r"|loosened|connected|disconnected|switched|flipped|lifted|laid|stowed|washed|rinsed|wiped|told|walked|did|got|hung|folded|capped|uncapped|removed|fitted"
    r"|hooked|warmed|tested|started|parked|moved|run|ran|gone|went|found|done|finished|on|off|in|out|up|down|tight|clear|clean|open|ready|set|empty|fine|good|ok|okay|normal)"
)
_TROUBLE = Lazy(
    r"\b(?:not|\w+n't|no|never|nothing|none|cannot|without|but|except|still|stuck|br[oe]k\w*|crack\w*|leak\w*|fro[sz]\w*|jam\w*|trip\w*|popp\w*|smell\w*|stink\w*|stank|smok\w*|fire|flame\w*"
    r"|alarm\w*|chirp\w*|beep\w*|spill\w*|splash\w*|hurt\w*|burn\w*|shock\w*|zap\w*|tingl\w*|spark\w*|hiss\w*|dizzy|sick|headache\w*|wrong|bad|snap\w*|tor[en]|lost|fell|flood\w*|spray\w*|bent"
    r"|dead|red|wet|gas|propane|fail\w*|hot|sewage|blood|hard|weird|funny|noise|dripp\w*|pour(?:s|ing)\b|gush\w*|blow ?outs?|skid\w*|slid|sliding|crash\w*|ditch|stranded|shoulder|burst|smash\w*|slipp\w*|quit|died|dropp\w*|blew|blown|down on|how|why|where|who|which)\b"
)
_AMOUNT = Lazy(
    r"\d|%|\b(?:zero|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twent\w+|thirt\w+|fort\w+|fift\w+|sixt\w+|sevent\w+|eight\w+|ninet\w+|hundred|half|quarters?|third|percent|psi|volts?|gallons?|pounds?|inches|degrees)\b"
)
_REPORT = Lazy(rf"^(?P<report>(?:[\w'/-]+ ){{1,9}}?[\w'/-]+) (?P<then>{_NEXT}){_TAIL}$")
_ACTED = Lazy(rf"(?<![\w']){_ACTS}\b")
_ASKS_HELP = Lazy(r"\bwhat (?:do|should) (?:i|we)\b")
"""After a report this asks what to do about it: "water is running out, what do I do now"."""

_NEXT_CUES = (" now ", " next ", " then ", " after ", " on ", " along ", " keep ", " continue ", " proceed ")
_OVER_CUES = (
    "done",
    "finished",
    "complete",
    "care of",
    "sorted",
    "covered",
    "handled",
    "all set",
    "good to go",
    "in order",
    "checked",
    "over with",
    "out of the way",
    "behind",
    "seen to",
    "squared",
    "wrapped",
    "dealt",
    "ticked",
    " did ",
    " got ",
    "cleared",
)
_FAMILIES: tuple[tuple[str, tuple[str, ...], str], ...] = (
    (
        "stop",
        (
            "ll do",
            "ould do",
            "that's ",
            " quit ",
            " stop ",
            " end ",
            " exit ",
            " cancel ",
            " abort ",
            " close ",
            " wrap ",
            " bail ",
            "get out",
            " leave ",
            " break ",
            " call it",
            " drop ",
            " done",
            " finished",
            " through",
            "never mind",
            " forget",
            " skip ",
            " enough ",
        ),
        r"(?:that'll|that will|this will|that should) do(?: it| us| me| nicely)?(?: for (?:now|today|tonight))?(?: (?:quit|stop|end|close|exit|drop) (?:it|this|that)(?: out| up| here)?)?"
        r"|that's (?:all|enough|all of (?:them|it|that)|everything)(?: (?:for (?:now|today|tonight)|i need(?:ed)?|i think|then|thanks))*(?: (?:quit|stop|end|close|wrap|exit|drop) (?:it|this|that)(?: out| up| here)?)?"
        r"|(?:let's |we can |you can |we'll |i'll |just )?(?:quit|stop|end|exit|cancel|abort|close|wrap|bail on|get out of) (?:it|this|that|here|there|this (?:one|list|thing|procedure|walk|stuff|checklist)|the (?:list|procedure|checklist|walk))(?: (?:out|up|here|right here|there|for (?:now|today|tonight)))*"
        r"|(?:let's |we can |we'll |i'll |just )?(?:stop|end|quit|leave off|break off|leave it|call it)(?: right)? (?:here|there|at that|a day|quits|good|a night)"
        r"|(?:stop|quit|cancel|end|drop) (?:this|it|here|that) (?:i'll|i will|we'll|i'm going to|i'm gonna|i am going|because|since|gonna) .{3,60}"
        r"|(?:i'm|we're|i am|we are) (?:all )?(?:done|finished|through) (?:here|with (?:this|all this|the|this whole) (?:list|checklist|procedure|walk|thing|whole thing))"
        r"|(?:never mind|forget|leave|skip|drop) (?:about )?the (?:rest|remainder)(?: of (?:it|this|that|them))?|enough of (?:this|that|it)",
    ),
    (
        "pause",
        (" minute", " min", " sec", " moment", " park ", " pin ", " on hold", " put "),
        r"(?:let's |let me |can we |we'll |i'll )?(?:park|put) (?:it|that|this|(?:that|this|the) (?:one|bit|step|job)) (?:(?:on (?:hold|ice|pause)|aside|to one side|down)(?: (?:for (?:now|a (?:bit|sec|second|minute|moment|while))))?|for (?:now|a (?:bit|sec|second|minute|moment|while)))"
        r"|put a pin in (?:it|that|this)(?: for (?:now|a (?:bit|sec|minute)))?"
        r"|(?:(?:can|could) you )?(?:give|gimme|just need|i just need|i need|need|i'll be|be|back in|hold on for|wait for)(?: me| us)? (?:like )?(?:a|an|one|two|three|four|five|ten|\d{1,2}|half a|a few|a couple(?: of)?|another) (?:minutes?|mins?|secs?|seconds?|moments?)(?: (?:will you|here|there|more|would you))*",
    ),
    (
        "start-over",
        (
            "start",
            "begin",
            " top ",
            " first ",
            " over ",
            "scratch",
        ),
        r"(?:can (?:we|you) |let's )?(?:take me|take us|take it|send me|go|get|start|come|run it) (?:all the way )?(?:back )?(?:to|from|at) (?:the )?(?:start|very start|beginning|top|first (?:one|step))(?: again| of (?:it|this|the list))?"
        r"|(?:can (?:we|you) |let's )?(?:start|begin|do|run) (?:it |this |that |them |the whole (?:thing|list) )?(?:all )?(?:over|over again|from scratch|from the (?:start|top|beginning))(?: again)?",
    ),
    (
        "back",
        (
            "back",
            " up ",
            "before",
            "previous",
            "prior",
            "preceding",
        ),
        r"(?:can (?:we|you|i) |let's |just |please )?(?:(?:go|step|back|move|jump|roll) (?:it )?(?:back|up)|take me back|back) (?:one|a|one more|by one|to the|to the step|to the one)(?: (?:step|bit|notch|previous|previous one|previous step|last one|last step|one before|one before (?:that|this|it)|before))?(?: please)?"
        r"|(?:(?:hm+|uh|um|no|wait|read|say|give me|go over|tell me|run|what was) )*(?:the )?(?:(?:previous|preceding|prior) (?:one|step|bit|part)|(?:one|step|bit|part) (?:right |just )?before(?: (?:that|this|it|this one|that one))?)(?: (?:read|say|give|tell|run|go over|do|hear))?(?: (?:me|it|that))*(?: (?:out|again|once more|one more time|over|over again|back|to me|for me))*"
        r"|(?:what (?:was|is|'s) )?the (?:one|step|bit|part) (?:right )?before(?: (?:that|this|it|this one|that one))?(?: again)?",
    ),
    (
        "repeat",
        (
            "again",
            "once more",
            "one more",
            "another time",
            " over ",
            "back",
            "second time",
            "slow",
            "for me",
            " go ",
            "i was on",
            "you said",
            "you just",
            "supposed",
            "what'd",
            "what did",
            " lost",
            " forgot",
            " missed",
            " didn't",
            " did not",
            "re we",
            "re i",
            "as we",
            "as i",
            "am we",
            "am i",
            "remind",
        ),
        r"(?:(?:hang|hold) (?:on|up) |wait |whoa |sorry |hold it |hm+ |what )*(?:can you |could you |would you )?(?:"
        rf"(?:say|read|tell me|give me|give us|run|go over|go through|repeat|play|hit me with)(?: me| us)?(?: {_OBJECT}| what you said)?(?: (?:by|past) me)?(?: (?:again|once more|one more time|another time|over|over again|back|back to me|a second time|slower|slowly|once again|for me))+"
        rf"|(?:what was|what's|what is|what were|how was|how did) (?:{_OBJECT}|the (?:last|current) (?:one|step|thing|bit|part)|you saying|your last)(?: (?:go|again|one more time|once more|i was on|you said|you just said|supposed to be))+"
        r"|what(?:'d|'d you| did you)(?: just)? (?:you )?(?:say|just say|tell me)(?: (?:to do|there|again))*"
        r"|(?:again|once more|one more time|another time)(?: (?:please|slower|slowly|but slower|more slowly|for me|louder))*"
        r"|(?:i )?(?:lost|forgot|missed|didn't (?:get|catch|hear)|did not (?:get|catch|hear)) (?:you|my (?:place|spot)|where (?:i|we) (?:was|were)|the last (?:one|bit|part|thing)|what you (?:just )?said|it all|a word|any of (?:it|that)|that(?: one| bit| part| last one)?)(?: there| completely)?"
        r"|(?:where|what step|which step|which one|what bit) (?:were|was|are|am) (?:we|i)(?: (?:at|on|now|again|up to))*"
        r"|remind me (?:what|which) (?:step|one|bit|part)(?: .{2,20})?)",
    ),
    (
        "resume",
        (
            "back",
            "let's ",
        ),
        r"(?:i'm|i am|we're|we are) back(?: (?:now|again|here|at it|on it|with you|inside))*(?: (?:go on|carry on|let's (?:go|continue|carry on)|where were we))?"
        r"|let's (?:get|go|pick) (?:going|at it|back at it|to it|it up|it back up)(?: again)?",
    ),
    (
        "how-many",
        (
            "how many",
            "how far",
            "how much",
        ),
        r"how many(?: more)?(?: (?:steps|of (?:these|them)|things|items))?(?: (?:are there|are|have (?:i|we)(?: got)?|do (?:i|we) (?:have|got)|is there))?(?: still)?(?: left)? to (?:do|go)"
        r"|how many(?: more)? (?:steps|of (?:these|them))(?: (?:are there|are|have (?:i|we)(?: got)?|do (?:i|we) have|left|still|more|is it|after this(?: one)?))*|how (?:far|much further) (?:along|through|into it) (?:am i|are we)|how far (?:through|along) (?:this|it|the list) (?:am i|are we)",
    ),
    (
        "why",
        (
            "how you ",
            "work",
            " math",
            " sum",
            "arithmetic",
            "number",
            "calculat",
            "figure",
            "you get",
            "you got",
            "you come",
            "you came",
            "you arrive",
            "you reach",
            "come from",
            "based on",
            "computed",
            "add up",
            "explain",
            " mean ",
        ),
        r"(?:can you |could you )?(?:show|tell|give|walk|run|take) (?:me )?(?:through )?(?:how you (?:got|get|came up with|come up with|worked|figured|work|figure|reached|arrived at) .{2,24}|(?:the|your) (?:working|workings|work|math|maths|sums?|arithmetic|numbers|calculation|figures)(?: (?:on|for|behind|of) (?:that|it|this))?)"
        r"|how(?:'d| did| do| have| would) you (?:get|got|come up with|came up with|work|figure|figured|calculate|arrive at|reach)(?: (?:that|it|this|to that|at that|to it|there))?(?: (?:out|number|figure|answer))*"
        r"|where(?:'d| did| does) (?:that|it|this|the)(?: (?:number|figure|answer))? come from|what(?:'s| is) (?:that|it) based on|how(?:'s| is| was| does) (?:that|it) (?:worked out|figured|calculated|computed|work out|add up)"
        rf"|explain (?:{_OBJECT}|that number|the number|yourself)|what(?:'s| does| do)(?: (?:that|it|this|you)) mean(?: by (?:that|it|this))?|what (?:does|do) (?:that|it|this|you) mean(?: by (?:that|it|this))?",
    ),
    (
        "readings",
        (
            " logged",
            " recorded",
            " told",
            " written",
            " noted",
            " down ",
        ),
        r"what(?:'ve| have|'s| has| did)? (?:we|i|you|been) (?:got )?(?:logged|recorded|told you|written down|noted|down)(?: (?:so far|today|already|down))*",
    ),
    (
        "readings",
        (" back", " what", "what ", "everything", " all"),
        r"(?:read|run|go|play|say|tell)(?: (?:me|us))?(?: (?:back|over|through|out))* (?:what|everything|all)(?: that)? (?:(?:i|we|you)(?:'ve| have|'d| had)? )?(?:(?:got|said|told you|reported|report|gave you|given you|logged|noted|recorded|written down|put down|have|had)(?: (?:down|on record|written down|noted|logged|in the log|on file))*)(?: (?:so far|today|tonight|this morning|already|back|to (?:me|us)))*"
        r"|(?:read|play)(?: (?:me|us))? back (?:everything|all of it|it all|the lot|all)|(?:read|play)(?: (?:me|us))? (?:it all|everything|all of it|the lot) back(?: to (?:me|us))?"
        r"|what (?:have|did) (?:i|we) (?:report|reported|report to you|reported to you|log|note|give you|tell you)(?: (?:so far|today|tonight|this morning|already|earlier))*|what(?:'s| is| have you got| do you have) (?:all )?on record(?: (?:so far|now|for (?:me|us|today)))*",
    ),
    (
        "timers",
        (
            "timers",
            "reminders",
            "alarms",
            " running ",
            " counting ",
            " ticking ",
        ),
        r"(?:what(?:'s| is)|what have you got|is there anything|anything|which timers are|what timers are) (?:still )?(?:running|counting|ticking)(?: (?:on the clock|now|down))?|(?:what|which|any) (?:timers|reminders|alarms)(?: (?:have|do|are|did))?(?: (?:i|we|you))?(?: (?:got|have|running|set|there))*",
    ),
    (
        "timers",
        (" left", " timer", "clock", " countdown", "how long", "how much", "how many", "wait", "time"),
        r"how (?:long|much time|much longer|many minutes)(?: (?:is|are|is there|do i have|do we have|have i got|have we got|has it got))*(?: (?:left|to go|still|remaining))* (?:on|for|of|in) (?:it|that|this|the (?:timer|clock|wait|countdown|reminder)|that (?:timer|wait))(?: (?:now|still|left|to go))*"
        r"|(?:how(?:'s| is)|what(?:'s| is)|what does) (?:the |that |my )?(?:timer|clock|countdown)(?: (?:doing|at|on|say|looking|now|up to))*|(?:is|has) (?:the |that |my )?(?:timer|wait|time)(?: (?:up|over|done|out|run out|gone off|finished|still running))+(?: (?:yet|now))*",
    ),
    (
        "source",
        (
            "where'd you",
            "where you",
            "where did you",
            "where do you",
            " from ",
            " written ",
            "come from",
            "who says",
            "who told",
            "who decided",
            "who made",
            " rule",
            " law",
            " reg",
            " section",
            " book",
            " standard",
            " page",
            " manual",
            " part ",
            " source",
            " reference",
            " authority",
            " basis",
            " cite",
            " prove",
            " back ",
            " know ",
        ),
        r"where(?:'d| did| do) you (?:get|find|take|read|pull|dig up)(?: up)? (?:(?:that|this|those|these|the)(?: [a-z]+){0,3} (?:numbers?|figures?|values?|rules?|answers?|rates?|doses?|limits?|times?|percent|weights?|ratings?|facts?|info|information)|that|this|it|those)(?: (?:from|out of))?|where (?:does|did|do) (?:(?:that|this|the)(?: [a-z]+){0,2} (?:numbers?|figures?|values?|rules?|answers?|rates?|doses?|limits?|weights?|ratings?|facts?)|that|this|it|those) come from"
        r"|(?:what|which) (?:rule|law|regulation|regs?|part|section|book|standard|page|manual)(?: (?:is|was|says|does|did))*(?: (?:that|this|it|so))*(?: (?:from|in|out of|come from|under|say))*|what(?:'s| is) (?:your|the) (?:source|reference|authority|basis)(?: (?:for|on|of) (?:that|this|it|the \w+))?"
        r"|where(?:'s| is) (?:that|this|it|the (?!water|drip|leak|air|cold|draft|wet|mess|oil|fluid|noise|sound|stuff|rattle|heat|puddle|smell|stink)\w+)(?: \w+)? (?:from|written|written down|coming from)(?: (?:and )?how do you know(?: (?:it|that|this))?)?|who (?:says|told you|decided|made)(?: (?:that|so|this|it|the rule))*|can you (?:cite|prove|back up|source) (?:that|it|this)(?: up)?|how (?:do|would|did) you know(?: (?:that|this|it|all that))?(?: for sure)?|(?:and )?(?:is|are) (?:that|this|you) (?:from|in) (?:a|the) (?:book|rule|law|manual|regulation)s?",
    ),
    (
        "cancel-timer",
        (
            "timer",
            "reminder",
            "alarm",
            "countdown",
            "wake",
        ),
        r"(?:can you |just )?(?:forget|cancel|kill|stop|drop|clear|scrap|turn off|switch off|delete|lose|never mind|end|take off)(?: about)? (?:the|that|my|those|all|all the|both|any)(?: \w+)? ?(?:timers?|reminders?|countdowns?|wake ?-?up(?: call| alarm)?)(?: off)?"
        r"|no (?:more )?(?:need for )?(?:the |that )?(?:timer|reminder)(?: needed| anymore| any more)?"
        r"|(?:never mind|forget) (?:about )?(?:the|that|my) (?:timer|reminder|countdown|alarm)(?: (?:drop|kill|cancel|forget|scrap|stop) (?:it|that))?",
    ),
    ("next", (*_OVER_CUES, *_NEXT_CUES), rf"(?:{_DONE})(?: {_NEXT})?|{_NEXT}"),
)
"""Verb, cues and pattern. Every utterance of a family holds one of its cues, so that others need not compile the pattern."""
_WHOLE = tuple((verb, cues, Lazy(rf"^{_LEAD}(?:{family}){_TAIL}$")) for verb, cues, family in _FAMILIES)


def family(form: str) -> str | None:
    """The verb of the family a whole utterance belongs to, or None.

    Args:
        form: the utterance as `normalise.plain` writes it.
    """
    padded = f" {form} "
    for verb, cues, pattern in _WHOLE:
        if names_any(padded, cues) and pattern.match(form):
            return verb
    return "next" if reported(form) else None


def tells(form: str) -> bool:
    """Whether it tells of trouble or of an amount, which must never be taken for a mere command."""
    return _TROUBLE.search(form) is not None or _AMOUNT.search(form) is not None


def reported(form: str) -> bool:
    """Whether it reports a step as done and asks for the next: "lever's turned, what now"."""
    match = _REPORT.match(form) if names_any(f" {form} ", _NEXT_CUES) else None
    if match is None or tells(form) or _ASKS_HELP.search(match["then"]):
        return False
    return _ACTED.search(match["report"]) is not None
