"""Steering made of nothing but small words: "no worries, on to the next", "hang on, I missed one, go back".

Drivers put a command together in more ways than any list of phrases holds, but they do it with few words. An utterance
in which every word is one of these names no part, no level and no trouble, so it can only be about the walk itself; which
command it is, its cues say. One word from outside ("next week", "stop the leak") and it is none.
"""

from __future__ import annotations

from cabassist.language.lazy import Lazy

MAX_WORDS = 16

_SMALL = """
a an the that this those these it its it's that's thats this's i i'm im i've i'll i'd we we're we've we'll you you're me us my your our
they there here there's here's of on in to for with from at by up out and or but so then now just is are was were be been being am
do does did doing done have has had having get got gotten give gimme let let's lets can could would will shall may please thanks thank
cheers ta sorry ok okay okey doke dokey alright all right righto righty ho oh ah aha hm hmm hey hi um uh er erm well yes yeah yep yup
aye sure no nope nah not fine great good cool nice perfect lovely super fair enough problem worries thing things stuff bit bits part parts
piece step steps one ones item items list procedure checklist walk point place spot number which what what's whats where where's who how
how's why why's come same other else more another next following last previous before after again once twice over back forward ahead along
through done finished complete completed sorted covered handled dusted behind ready already earlier later today tonight tomorrow morning
stop stopped quit end ended cancel abort abandon exit enough forget forgot leave left drop close closed call day night whole entire thing
start started starting begin beginning restart top very first scratch go goes going gone carry keep move moving move jump skip skipping
pass miss missed missing continue proceed resume resuming pick picked repeat repeating say says said saying tell told hear heard read run
listen listening catch caught show remind supposed meant mean need needed needs want wanted bother bothered matter matters use point reason
think guess know idea sure wrong mistake mind changed change wait hold hang stand minute minutes min mins second seconds sec secs moment while bit
on off hit bring slow slower slowly louder loud please time times soon away around about than too also as still yet anymore any longer
much many long far lot lots almost nearly halfway take takes taking took care of seen checked check roger copy understood understand
took buddy mate pal man boss sir ma'am folks guys everybody phone ringing someone someone's somebody calling door knocking later
source rule rules law regulation regulations official opinion based according written come comes came from get number figure reading entry
current present only really actually maybe perhaps quite pretty little lost wasn't didn't don't doesn't isn't haven't hasn't couldn't won't can't
till until where'd what'd who's should undo anything something nothing everything way put pardon excuse me huh eh oops whoa jeez blimey
looked looks looking quits calling if never walking aid paying attention concentrating watching long's tried nothing's everything's everyone's straight wanna gonna gotta ought outta lemme kinda nex gotcha anyway anyhow whatever righto leaving tick yourself myself ourselves step's one's bit's part's reckon suppose first's thought horses
""".split()
_WORDS = frozenset(_SMALL)
_NUMBER = Lazy(
    r"^(?:\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen"
    r"|nineteen|twenty(?:-?\w+)?)$"
)
_ASIDE = Lazy(
    r"\b(?:you know what|when(?:ever)? (?:you're|you are|ur)(?: ready)?|when(?:ever)? you (?:like|can|want)|if you (?:like|can|would|don't mind|please)|if (?:that's|it's) (?:ok|okay|all right)"
    r"|fair enough|good enough|no (?:problem|worries|wait|sorry)|never you mind|thank you|(?:i|you) (?:think|guess|know|reckon|suppose)|excuse me)\b"
)
"""Words around a command that could be taken for one."""
_IDIOMS = Lazy(r"\b(?:crack on|fire away|push on|plough on|plow on|roll on|shoot$)")
"""Other words for "go on", of which each means something else when it stands alone."""
_MISHEARD = Lazy(r"\b(?:two|too)(?= (?:step|number|the)\b)")
_SOUNDS = {
    "necks": "next", "nex": "next", "nekst": "next", "nest": "next", "gain": "again", "agen": "again", "weight": "wait", "cary": "carry",
    "kerry": "carry", "reed": "read", "won": "one", "wan": "one", "bak": "back", "bach": "back", "beck": "back", "skipp": "skip", "stepp": "step",
    "steppe": "step", "paws": "pause", "dun": "done", "wear": "where", "too": "to", "rite": "right", "reddy": "ready", "stob": "stop",
}  # fmt: skip
"""What recognisers write for a word of a command; only where all the other words are of commands too."""
_WEIGHT = Lazy(r"\b(?:the|its|that|what|in|total|by|of) weight\b|\bweight of\b")
"""A weight that is asked about, and no "wait"."""
_RATE = Lazy(
    r"\b(?:at|with|of|by) [\w.]+(?: and a half)? (?:a|an|per|each|every) (?:minute|min|second|sec|hour|day|night|time|head)\b"
)
"""So much a minute, which belongs to a sum."""
_OF_SOMETHING_ELSE = Lazy(
    r"\b(?:remind|wake|tell|call) me (?:in|at|when|if)\b|\b(?:it|that|this|they|something|somebody|someone) (?:just )?(?:won't|keeps?|stopped|started|can't|doesn't|didn't|isn't|wasn't|hasn't|couldn't|goes|came|comes|did it|does it|is going|will not|says)\b"
    r"|\b(?:how (?:do|can|could|should|would) (?:i|we|you)(?! know)|when|where (?:do|can|should) (?:i|we)|should (?:i|we)|(?:do|may|must) (?:i|we)|(?:is|are|was|were) (?:it|that|this|they|the|we|there)(?! (?:a lot|lots|much|many|any|nearly|almost|done|needed|your|a rule|the law|official|long))|does (?:it|that|this))\b"
    r"|\bif\b|\b(?:he|she|they|who|who's|somebody|someone|everybody) (?!calling|knocking|ringing)|\bwrong\b(?!.*\bundo\b)|^(?:is|are) (?:it|that|this) (?:done|long)"
)
"""A report or question in small words: "it won't stop", "should I go on", "how do I start it"."""

_IT_HAPPENED = Lazy(
    r"\b(?:it|that)(?:'s| is| has)? (?:just )?(?:did|does|doing|done|happened)\b|\b(?:reading|figure|entry)\b|\b(?:start|run|do|try|close|move|put|take|pick)\w* (?:it|that|this)(?: \w+)? again\b"
)
"""No wish to hear the step again: "it did it again", "what was the reading again"."""

_RULES: tuple[tuple[str, str], ...] = (
    ("undo", r"\bundo\b"),
    ("repeat", r"\bwhere(?:'d| did) (?:we|i|you) (?:leave|stop|quit|finish|get|end)\b|\bwhere (?:were|was) (?:we|i)(?: (?:at|on|up to|in this|again|now))*$"),
    ("peek", r"\b(?:what|what's|whats|which|tell|show|read|give)\b.*\b(?:one|step|thing|bit|part) (?:that )?(?:comes |is |will be |coming |gonna be |going to be )?after (?:this|that|it)\b"
             r"|\bwhat(?:'s|s| is| will)? (?:the )?(?:next|following) (?:one|step|thing|bit|part)? ?(?:be|going to be|gonna be)\b|\bwhat(?:'s|s| is| will) (?:be )?coming (?:up )?after (?:this|that)\b"
             r"|\b(?:peek|look) (?:ahead|at the next)\b"),
    ("next", r"\b(?:done|finished|did|completed) (?:with )?(?:step|number) (?:@|one\b)"),
    ("jump", r"\b(?:step|number|point|item) @(?! (?:left|more))|\bto @$"),
    ("start-over", r"\b(?:from|to|at) (?:the )?(?:very )?(?:beginning|top|scratch|start|first(?: (?:one|step|thing|item|point))?|(?:step |number )one)\b|\b(?:start|begin|starting) (?:it |this |that |the (?:whole )?(?:thing|list|walk|procedure) |all )?(?:over|afresh)\b|\b(?:start|begin) again\b"
                   r"|\brestart\b|\ball over again\b|\bthe (?:whole|entire) (?:thing|list|walk|lot) (?:over|again|once more)\b|\b(?:do|run|take) (?:it|this) all (?:over|again)\b"),
    ("resume", r"\b(?:i'm|im|we're|i am|we are) (?:now |right |all |both )?(?:back|here)\b|^back(?: now| again| here)?$|\bback (?:with you|at it|here|to it|to (?:where|what)|to the (?:list|procedure|walk|checklist))\b|\bwhere (?:we|i|you) (?:\w+ )?(?:left|stopped|finished|ended|got to|quit)"
               r"|\bpick (?:it|this|that|us)? ?(?:back )?up\b|\bresum(?:e|ing)\b"),
    ("pause", r"\b(?:be|right|come) (?:right )?back\b|\bback in (?:a|an|one|two|@|no time|half)\b|\bon hold\b|\bnot (?:yet|done|finished|ready|quite|there yet)\b|\bhaven't (?:\w+ )?(?:done|finished|got|started)|\bdon't (?:go|skip|move|carry|continue|stop)\b|\b(?:give|gimme)\b.*\b(?:minutes?|mins?|secs?|seconds?|moment|while)\b"),
    ("stop", r"\b(?:don't|do not|won't) (?:need|want) (?:this|it|the (?:list|procedure|walk|rest)|any more of (?:this|it)|to (?:do|go on|continue)(?: (?:this|it))?)(?: (?:any ?more|any longer|now|tonight|today|list|procedure|walk))+|\b(?:leave|drop|skip|stop) (?:walking|this (?:list|procedure|walk|checklist|whole thing)|the (?:rest|whole thing))\b"),
    ("skip", r"\b(?:don't|do not|won't|didn't|doesn't) (?:\w+ ){0,2}(?:need|want|bother|matter)|\bno (?:need|point|use|reason)\b|\bskip\w*\b|\b(?:leave|miss) (?:it|that|this|(?:that|this|the next) (?:one|step|bit|part))(?: out\b|$)|\bcan leave (?:it|this|that|them)\b|\bpass\b"
             r"|\balready (?:did|done|took care|taken care|checked|seen|sorted|covered|handled)\b.*\bearlier\b"),
    ("back", r"^(?:(?:no|nope|wait|whoa|oops|sorry|not that|hang on|hold on) )+back(?: up| please)?$|\bprevious\b|\b(?:one|step|bit|part|thing) (?:right |just )?before\b|\bbefore (?:that|this)\b|\b(?:go|going|move|jump|take \w+|bring \w+|send \w+|step|back|get) (?:it )?back(?! (?:in|on|with|here|now|again|to it|at it|later|soon)\b)|\bback (?:a|one|up|@|it up|to the (?:one|step|last|previous))\b|\b(?:last|earlier) (?:step|one) again\b"),
    ("repeat", r"\b(?:did|could)n't (?:\w+ ){0,2}(?:get|catch|hear|understand)|\bwasn't (?:\w+ )?(?:listening|ready|paying|watching|concentrating)|\b(?:i|i've|we) (?:\w+ )?(?:missed|forgot|lost) (?:it|that|what|you|my|the last|where|which)"),
    ("stop", r"\bstop\b|\bquit\b|\b(?:cancel|abort|abandon|exit|end)\b(?! of)|\b(?:had|that's|thats|that is) (?:quite |about |just about )?enough\b|^enough\b|\benough (?:of (?:this|that|it)|for)\b|\b(?:done|finished|through) (?:here|with (?:this|the|all|everything)(?! (?:one|step|bit|part|thing)))|\b(?:leave|call|calling) it(?: (?:quits|there|here|a|at|for|now|alone)|$)|\b(?:forget|drop|close|leave(?! it (?:in|on|out|off|open|up|down)\b)) (?:about )?(?:it|this|that|all|the (?:rest|whole|list|procedure|walk|thing))\b"
             r"|\bthat'?s (?:all|it)\b(?! (?:done|sorted|finished|covered|handled))|\bnever mind\b(?!.*\b(?:next|go on|go ahead|carry on|continue|keep going|skip|back|again)\b)|\bget me out\b|\bchanged my mind\b|\bdon't need (?:this|it)\b"),
    ("repeat", r"\bagain\b|\b(?:once|one) more(?: time|$)|\banother time\b|\brepeat\w*\b|(?<!it )\bsay (?:what|that|it)\b|\bcome again\b|^(?:sorry )?(?:what|pardon|huh|eh)$|\b(?:current|present) (?:one|step|thing)\b|\bthis (?:one|step) is\b"
               r"|\b(?:which|what|where)\b.*\b(?:am i|are we|was i|were we|did we|did i) ?(?:\w+ ){0,2}(?:on|at|to|up to|in|get|leave|stop)?$|\bsupposed\b|\bmeant to\b|\bremind me\b|\bwhat (?:did|was|is|were) (?:you|it|that)\b.*\b(?:say|said|saying|to do|tell|told)\b"
               r"|\bwhat (?:was|is|were|'s) (?:the|that|this|it|my) ?(?:last |first )?(?:step|one|thing|bit)?$|\bwhat's (?:the|that|this|my) (?:(?!next|following)\w+ )?(?:step|one|thing)$|\b(?:you|i) (?:just )?said$|\bwhat's first$|\bwhat (?:was|were|am|are) (?:i|we) (?:doing|up to|on|at)\b|\bwhat (?:comes|do i do|is) first\b|\bwhere (?:do i|to) (?:start|begin)\b"),
    ("how-many", r"\bhow (?:many|far)\b|\bhow much (?:more|longer|further|is left|of (?:this|it) is|have)|\bhow long (?:is|are|does|will|has|is it|until|till)?.*\b(?:take|takes|go|going|left|list|procedure|walk)\b|\b(?:a lot|lots|many|much) (?:more )?(?:steps )?(?:left|to go|of (?:these|this|them))\b"
                 r"|\bmany more\b|\bhow long's left\b|\bthat (?:it|all) or\b|(?:@|\bone) (?:more|left)(?: to go)?\b|\bis there (?:any )?more\b|\b(?:almost|nearly|halfway) (?:done|there|finished|through)\b|\b(?:steps|ones) (?:are )?(?:left|to go)\b|\bwhat number\b|\bhow's (?:\w+ )?far\b"),
    ("why", r"\bwhy\b|\bwhat for\b|\bin aid of\b|\bwhat(?:'s|s| is) (?:this|that|it|this (?:step|one|bit)|the (?:step|point)) (?:step |one )?(?:for|about)\b|\bhow come\b|\bwhat(?:'s|s| is| would be) the (?:point|reason|use|idea)\b|\bwhat happens\b|\b(?:does|do) (?:that|it|this) (?:really )?matter\b|\bwhat (?:does|do|will|would) (?:that|it|this) do\b|(?<!what )(?<!else )\bdo (?:i|we) (?:really |actually )?(?:have|need) to\b|\bis (?:that|this|it) (?:really )?needed\b"),
    ("needs", r"\bwhat (?:else )?(?:do|should|will) (?:i|we) (?:need|have to have)\b"),
    ("source", r"\bsource\b|\bwho (?:says|said|told)\b|\bsays who\b|\baccording\b|\bbased\b|\bhow do you know\b|\b(?:the|a|which|what) (?:rule|law|regulation)\b|\bopinion\b|\bofficial\b|\bwritten\b(?! down)|\bwhere(?:'s|'d| is| does| did)\b.*\b(?:from|get|got|say|come|written)\b|\b(?:are )?you sure\b"),
    ("pause", r"\bhold (?:on|it|up|that|there|your|here)\b|\bhang on\b|\bwait\b|\b(?:a|one|few) (?:minute|min|second|sec|moment|while)\b|\bstand by\b|\bhold\b$"),
    ("next", r"\bnext\b|\b(?:done|finished|complete|completed|sorted|covered|handled|dusted|behind)\b|\b(?:go|carry|move|moving|press|on|get) (?:on|ahead|along|forward)\b|\bcontinue\b|\bkeep (?:\w+ )?(?:going|moving|it)\b|\bproceed\b|\b(?:what|now|then) (?:now|what|then)\b|\bwhat (?:else|comes after|'s after)\b"
             r"|\bready\b|\bgot (?:it|that|this|them|you)\b|\bgotcha\b|\ball (?:good|fine|clear|set|ok|okay)\b|\band now$|\btried (?:it|that|this)\b|\bafter (?:that|this)\b|\banother\b|\bhit me\b|\bon we go\b|\bthat's that\b|\b(?:did|checked|took care of) (?:it|that|this|them|those|(?:that|this) (?:one|bit|part|step))\b|\bon (?:with|to) (?:it|the next)\b|\b(?:check|copy|roger|understood)$|\bbring (?:it )?on\b|\b(?:that's|thats|it's|looks|looking) (?:all )?(?:good|fine|great|ok|okay|alright|perfect)\b|\bfollowing one\b"),
)  # fmt: skip
"""Verb and cues in the order in which they count: "wait, say that again" repeats, "no, stop, go back one" goes back."""
_CUES = tuple((verb, Lazy(pattern)) for verb, pattern in _RULES)


def beyond(form: str) -> str:
    """What of an utterance, as `normalise.plain` writes it, is no small word: the things it names."""
    return " ".join(word for word in form.split() if word not in _WORDS)


def by_words(form: str) -> tuple[str, int | None] | None:
    """The command that an utterance of small words gives and the step's number named with it, or None.

    Args:
        form: the utterance as `normalise.plain` writes it.
    """
    words = _ASIDE.sub(" ", _MISHEARD.sub("to", _IDIOMS.sub("go on", form))).replace("a gain", "again").split()
    words = [_SOUNDS.get(word, word) for word in words]
    if not words or not 1 < len(form.split()) <= MAX_WORDS or _WEIGHT.search(form) or _RATE.search(form):
        return None
    numbers = [word for word in words if word not in _WORDS and _NUMBER.match(word)]
    if len(numbers) > 1 or any(word not in _WORDS and word not in numbers for word in words):
        return None
    said = " ".join("@" if word in numbers else word for word in words)
    verb = next((verb for verb, cues in _CUES if cues.search(said)), None)
    asks = verb in ("why", "source", "how-many", "repeat", "peek", "needs")
    if (
        verb is None
        or (not asks and _OF_SOMETHING_ELSE.search(said))
        or (verb == "repeat" and _IT_HAPPENED.search(said))
    ):
        return None
    return verb, _value(numbers[0]) if numbers and verb in ("jump", "back") else None


def _value(word: str) -> int | None:
    from cabassist.language.numbers import find_numbers, words_of

    found = find_numbers(words_of(word))
    return int(found[0].value) if found else None
