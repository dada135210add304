"""Standing requests: "remind me in ten minutes", "tell me when the waste gets to ninety percent"."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

from cabassist.dialogue import walking
from cabassist.dialogue.types import Alert, Mind, Outcome, State, Timer
from cabassist.estimate.quantities import roughly
from cabassist.journal.events import EventDraft
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import bare
from cabassist.language.reading_types import Reading
from cabassist.language.steering_families import tells

LONGEST = timedelta(days=7)
_REMIND = Lazy(
    r"\b(?:remind|wake|alert|warn|call|ping|nudge|poke|tell|beep|buzz|(?:shout|yell|holler) (?:at|to)|give) me\b.*\b(?:in|after)\b|"
    r"\b(?:set(?! off)|start|put on|run) (?:a |an |the |me a )?(?:\w+ ){0,3}(?:timer|alarm|reminder|countdown)\b|\b(?:timer|reminder|countdown) for\b|^timer\b"
)
_LENGTH = (
    r"(?P<span>(?:[a-z]+[ -]|\d[\d.]*[ -]?){0,4}?(?:hours?|hrs?|minutes?|mins?|seconds?|secs?)(?: and a half| and (?:[a-z]+ ){0,3}(?:minutes?|mins?|seconds?|half|quarter)| (?:[a-z]+ |\d+ ){1,2}(?:minutes?|mins?))?"
    r"|(?:half|quarter|three quarters) (?:of )?an hour|half hour|quarter hour)"
)
_CLOCK_WORD = r"(?:timer|countdown|count down|count-down|alarm|reminder)"
_TIMER = Lazy(
    rf"^(?:(?:please|ok|okay|can you|could you|would you|can i|could i|now|and|also|hey|go ahead and|i'd like|i want|i need|we need|we want|need|gimme|give me|give us|get me|get|have|let me have|set|set me|set up|set us|start|run|put|put on|make|make me|do|do me|throw on) )*(?:(?:a|an|another|up|on|the) )*{_LENGTH} (?:long )?{_CLOCK_WORD}(?: (?:on|going|running|for (?:me|us|this|that|it|the wait)|up|would (?:you|ya)|if you (?:can|would)|start(?:ing)?|from now))*$".replace(
        "(?P<span>", "(?P<of>"
    ),
)
_TIMED = Lazy(
    rf"^(?:(?:please|ok|okay|can you|could you|would you|now|and|also|hey) )*(?:(?:time|clock) (?:me|us|it|this|that)(?: for)?|(?:put|set|start)(?: me| us)? (?:one|it|the (?:clock|timer|countdown))(?: (?:going|running))? (?:for|to|at)|count(?: me)? down(?: from)?|{_CLOCK_WORD}(?: for| of)?) {_LENGTH}(?: (?:from now|on the clock))?$"
    rf"|^(?:(?:please|can you|could you|now|and) )*(?:put|set|start|give me) {_LENGTH.replace('<span>', '<clock>')} on (?:the|a|my|your) (?:clock|timer)$"
)
_STARTED = Lazy(
    rf"^(?:(?:please|ok|okay|now|and|so) )*(?:start|set|count off|count me|count down|count|time|clock)(?: me| us)?(?: (?:a|an|another|my|the|for))* {_LENGTH}(?: (?:now|please|from now|for me))*$"
)
"""The length alone: "start ten minutes"."""
_OPENERS = frozenset("start set time clock count timer put run give".split())
_NO_COMMAND = frozenset(
    "to we they you i it he she who will would should could can cannot not don't won't didn't the a an and or when if before after first best good last next this that our my race race's game practice bed dinner departure".split()
)
"""Before one of the openers these make no command of it: "we start ten minutes late", "a set time"."""
_MOST_BEFORE = 5
_ASKS_SPAN = "In how many minutes?"
_ASKS_LENGTH = Lazy(r"^(?:how|what|when|where|why|which|who|can|could|should|do|does|did|is|are|will|would|if)\b")
_BARE = Lazy(r"^(?:(?:no|sorry|actually|make it|say|oh|in|uh|um|for|call it) )*(?P<span>[\w. -]{2,30})$")


def _length_named(plain: str) -> str:
    """How long a timer is asked for by its length: "give me a ten minute timer", "time me for an hour"; or ""."""
    found = _TIMER.match(plain)
    if found is not None:
        return str(found["of"])
    found = _TIMED.match(plain)
    if found is not None:
        return str(found["span"] or found["clock"])
    found = _STARTED.match(plain)
    return str(found["span"]) if found is not None else ""


def _length_after_report(plain: str) -> str:
    """How long a timer is asked for after a short report: "cord's in, start a quarter of an hour"; or ""."""
    words = plain.split()
    if _ASKS_LENGTH.match(plain):
        return ""
    for at in range(1, min(_MOST_BEFORE, len(words) - 2) + 1):
        commands = words[at] in _OPENERS and words[at - 1] not in _NO_COMMAND and not words[at - 1].endswith("n't")
        if commands and not tells(" ".join(words[:at])):
            return _length_named(" ".join(words[at:]))
    return ""


def running(state: State, now: datetime) -> list[str]:
    """The timers that run, each with how long it has to go."""
    lines = []
    for timer in state.timers:
        minutes = max(0, round((timer.due - now).total_seconds() / 60))
        left = f"{minutes} minute{'s' if minutes != 1 else ''}" if minutes < 90 else roughly(minutes / 60)
        lines.append(f"{left} to go, then: {timer.announce}")
    return lines


def timer(state: State, text: str, now: datetime) -> Outcome | None:
    """A timer asked for by its length, or the length that was asked back; None for any other text."""
    plain = bare(text)
    if state.timers and _ENDS_NAMED.match(bare(without_why(text))):
        return None  # "bin the ten minute timer" sets none
    length = _length_named(plain) or ("" if "?" in text else _length_after_report(plain))
    if not length and state.last is not None and state.last.say.startswith(_ASKS_SPAN):
        told = _BARE.match(plain)
        length = told["span"] if told is not None else ""
        length = length if _span(length)[0] or not _span(f"{length} minutes")[0] else f"{length} minutes"
    about = ""
    if not length and (found := _ONE_MORE.match(plain)) is not None and (state.timers or found["clock"]):
        if found["clock"] or timer_spoken_of(state):
            length, about = found["span"], found["about"] or ""
    elif not length and timer_spoken_of(state) and (found := _ONE_MORE_BARE.match(plain)) is not None:
        length, about = (
            f"{found['span']} {_unit_before(state)}",
            found["about"] or "",
        )  # "and another for three, noodles are on"
    if _OF_REASON.match(about):
        about = re.sub(r" (?:is |are )?on$", "", _OF_REASON.sub("", about))
    seconds, span = _span(length)
    if not seconds or timedelta(seconds=seconds) > LONGEST:
        return None
    return _set(state, seconds, span, about, text, now)


_ONE_MORE = Lazy(
    rf"^(?:(?:please|ok|okay|and|also|now|then|plus|so|can you|could you|give me|set|set me|start|add|put on|make|i need|i want) )*"
    rf"(?:another|one more|a second|a third|one|a new|also)(?: (?:one|(?P<clock>{_CLOCK_WORD})))?(?: (?:for|of|in|at|set to))* {_LENGTH}(?: (?:from now|too|as well|please))*(?: (?:(?:for|about|to|on) )?(?P<about>(?!more\b|later\b|longer\b|each\b|a\b)[a-z][\w' ]{{1,40}}))?$"
)
"""A timer beside the one just spoken of, and what it is for: "another one, ten minutes, for the cord"."""


_ONE_MORE_BARE = Lazy(
    r"^(?:(?:please|ok|okay|and|also|now|then|plus|so|can you|could you|give me|set|set me|start|add|put on|make|i need|i want) )*(?:another|one more|a second|a third|a new)(?: (?:one|timer|countdown|alarm|reminder))?(?: (?:for|of|in|at|set to))*"
    r" (?P<span>(?:\d+|(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twenty|thirty|forty|fifty|sixty)(?:[ -](?:one|two|three|four|five|six|seven|eight|nine))?))(?: (?:from now|too|as well|please))*"
    r"(?: (?P<about>(?:for|because|cause|cuz|since|i'm|i am|i've|i have|i|we've|we have|got|the|my|our|to) .{2,40}))?$"
)
"""The same with its number alone: the minutes or hours are those of the timer before."""
_OF_REASON = Lazy(
    r"^(?=(?:for|because|cause|cuz|since|i|i've|we|we've|got|have|having)\b)(?:(?:for|because|cause|cuz|since|i've|i have|i|we've|we have|we|got|have|having|a|an|some|the|my|our) )+(?=\w)"
)


def _unit_before(state: State) -> str:
    """Minutes or hours, whichever the timer just spoken of was told in."""
    before = state.last.say if state.last is not None else ""
    return "hours" if re.search(r"I remind you in (?:\w+ ){0,3}hours?,", before) else "minutes"


_HOW_DONE = Lazy(
    r"^(?:(?:and|so|ok|okay|now|then|wait|hey) )*how (?P<asks>(?:do|would|should|can) (?:i|we|you)) (?P<verb>\w+) (?:it|that|this|them|one of those)(?: (?:again|then|now|though|anyway|please))*$"
)


def what_is_due(state: State, text: str) -> str:
    """ "And how do I check it again", after a reminder to check something: the question with that thing in it, else the text."""
    found = _HOW_DONE.match(bare(text)) if state.timers and timer_spoken_of(state) else None
    about = state.timers[-1].announce if found is not None else ""
    if found is None or not about.startswith("Reminder: "):
        return text
    deed = about.removeprefix("Reminder: ").rstrip(".")
    same = found["verb"] == "do" or deed.split()[0] == found["verb"]
    return f"how {found['asks']} {deed}" if same else text


def timer_spoken_of(state: State) -> bool:
    """Whether the last answer was about a timer or reminder."""
    last = state.last
    told = (" to go, then: ", "I remind you", "Timer off: ")
    return last is not None and last.kind == "control" and any(words in last.say for words in told)


_SHOUT = r"(?:shout|yell|holler|call out|sing out|speak up)(?: (?:at|to|for) (?:me|us))?|give (?:me|us) an? (?:shout|call|nudge|reminder|yell|holler|buzz|ping|poke|bell|ring|kick|heads ?up)|give (?:me|us) (?:shout|call|nudge|reminder)"
_WAKE = rf"(?:remind|wake|alert|call|ping|nudge|poke|tell|beep|buzz|warn) (?:me|us)|set (?:an |the |a |me an? )?(?:alarm|reminder|timer)|{_SHOUT}|let (?:me|us) know"
"""How a request to be told later begins."""
_SPAN = {"s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1, "m": 60, "min": 60, "mins": 60, "minute": 60, "minutes": 60,
         "h": 3600, "hr": 3600, "hrs": 3600, "hour": 3600, "hours": 3600}  # fmt: skip
_ASKED = rf"(?:(?:tell|warn|alert|remind|call|ping|wake|nudge|poke|buzz|beep) (?:me|us)|let (?:me|us) know|say so|say something|{_SHOUT}|i want to know)"
_ALERT = Lazy(
    rf"^(?:please )?{_ASKED} (?:when|if|once|as soon as|the moment) (?P<what>.+)$|^(?:when|if|once|as soon as) (?P<then>.+?),? (?:then )?(?:please )?{_ASKED}(?: so)?$"
)
_MOVES = Lazy(
    r"\b(?:(?:is|gets|get|goes|go|drops|drop|falls|fall|sinks|dips|rises|rise|climbs|hits|hit|reaches|reach|comes|passes|runs)(?: back)?"
    r"(?: (?:down|up))?(?: (?:to|at|below|under|beneath|over|above|past|less than|more than))?|(?:below|under|over|above|past))\b"
)
_FALLING = Lazy(r"\b(?:below|under|beneath|drops?|falls?|down|sinks|dips|less than|low|lower)\b")
_RISING = Lazy(r"\b(?:over|above|past|rises?|climbs|up|more than)\b")
RISES = frozenset({"waste", "co_ppm", "passengers", "odometer", "generator_hours"})
"""What is watched for going up when the words do not say."""


def reminder(text: str, state: State, mind: Mind, now: datetime) -> Outcome | None:
    """Set what the text asks to be told later, or None when it asks for nothing of the kind."""
    plain = bare(text)
    alert = _alert(plain, state, mind)
    if alert is not None:
        state = replace(walking.remembered(state, "that alert"), alerts=(*state.alerts, alert))
        direction = "falls to" if alert.falling else "reaches"
        line = f"I will tell you when {alert.name} {direction} {alert.words}."
        return walking.control(
            state,
            line,
            events=(
                EventDraft("alert", {"said": text, "what": alert.what, "which": alert.which, "level": alert.level}),
            ),
        )
    if not _REMIND.search(plain):
        return None
    seconds, span = _span(plain)
    if not seconds:
        return walking.control(state, f"{_ASKS_SPAN} Say, for example: remind me in ten minutes.")
    if timedelta(seconds=seconds) > LONGEST:
        return walking.control(state, "That is more than a week. Write it into the coach log instead.")
    about = re.search(r"\b(?:to|about|that) (?P<about>.+)$", plain) or re.search(
        rf"\b{re.escape(span)} (?:(?:timer|alarm|reminder|countdown) )?for (?P<about>(?:the|my|our) [a-z][\w' ]{{2,40}})$",
        plain,
    )
    what = about.group("about") if about else ""
    what = re.sub(rf"\b(?:in|after) {re.escape(span)}.*$", "", what).strip()
    return _set(state, seconds, span, what, text, now)


def _set(state: State, seconds: float, span: str, what: str, text: str, now: datetime) -> Outcome:
    """A timer of so many seconds, and what it reminds of."""
    span = _MANY.sub(lambda found: f"{found[1]} {found[2]}s", span) if seconds not in (1, 60, 3600) else span
    announce = (
        f"Reminder: {what}."
        if what
        else f"{span.capitalize()} {'is' if _ONE.match(span) else 'are'} over."
        if span[:1].isdigit() or " " in span
        else "Time is up."
    )
    state = replace(
        walking.remembered(state, "that reminder"),
        timers=(*state.timers, Timer(now + timedelta(seconds=seconds), announce, None)),
    )
    at = (now + timedelta(seconds=seconds)).strftime("%H:%M")
    return walking.control(
        state, f"I remind you in {span}, at {at}.", events=(EventDraft("reminder", {"said": text, "seconds": seconds}),)
    )


_ONE = Lazy(r"^(?:an?|one|half|quarter|three quarters|1) ")
_MANY = re.compile(r"^((?!an?\b|half|quarter|three quarters|one\b)[\w. ]+) (minute|hour|second)$")


_AT = Lazy(rf"^(?:(?:ok|okay|so|and|then|please|can you|could you|will you) )*(?:{_WAKE})\b")
_HOURS = {
    word: hour for hour, word in enumerate("one two three four five six seven eight nine ten eleven twelve".split(), 1)
}
_MINUTES = {"thirty": 30, "fifteen": 15, "forty five": 45, "forty-five": 45, "ten": 10, "twenty": 20, "oh five": 5}
_CLOCK = Lazy(
    rf"\b(?:at|by|around|about|for|come) (?P<half>half past |quarter past |quarter to )?(?P<hour>\d{{1,2}}|{'|'.join(_HOURS)})(?:[ :.]?(?P<minute>[0-5]\d|{'|'.join(_MINUTES)})|(?: ?o'?clock))?(?: ?(?P<part>a\.?m|p\.?m|(?:in the )?(?:morning|afternoon|evening)|at night|tonight|tomorrow(?: morning| evening| night)?|hundred))?\b(?! (?:percent|gallons?|seconds?|secs?|minutes?|mins?|hours?|hrs?|days?|miles|degrees|psi|volts?|amps?|people)\b)"
    r"|\b(?:at|by|around) (?P<named>noon|midday|midnight)\b"
)


def clock_of(plain: str, now: datetime) -> datetime | None:
    """The next moment at which the clock stands as the text says, or None when it names no time of day."""
    found = _CLOCK.search(plain)
    if found is None:
        return None
    if found["named"]:
        hour, minute, part = (0 if found["named"] == "midnight" else 12), 0, "fixed"
    else:
        said = found["hour"]
        hour, minute = int(said) if said.isdigit() else _HOURS[said], 0
        if found["minute"]:
            minute = int(found["minute"]) if found["minute"].isdigit() else _MINUTES[found["minute"]]
        past = {"half past ": 30, "quarter past ": 15, "quarter to ": -15}.get(found["half"] or "", 0)
        hour, minute = (hour, past) if past > 0 else (hour - 1, 45) if past < 0 else (hour, minute)
        part = found["part"] or ""
    if not (0 <= hour <= 24 and 0 <= minute < 60):
        return None
    small = hour == 12 or hour <= SMALL_HOURS
    by_night = small and re.search(r"night", part) is not None  # "at two tonight" comes after midnight
    late = (
        re.search(r"p\.?m|evening|afternoon|night", f"{part} {plain}") is not None
        and part != "fixed"
        and not re.search(r"a\.?m|morning", part)
        and not by_night
    )
    early = by_night or re.search(r"a\.?m|morning", part) is not None
    hours = (
        [hour % 24]
        if part == "fixed" or hour > 12 or hour == 0
        else [hour % 12 + 12]
        if late
        else [hour % 12]
        if early
        else [hour % 12, hour % 12 + 12]
    )
    day = now.replace(hour=0, minute=0, second=0, microsecond=0)
    moments = [day + timedelta(days=days, hours=h, minutes=minute) for days in (0, 1) for h in hours]
    if "tomorrow" in plain:
        moments = [moment for moment in moments if moment.date() > now.date()]
    return min((moment for moment in moments if moment > now), default=None)


def at_clock(state: State, text: str, now: datetime) -> Outcome | None:
    """Set what the text asks to be told at a time of day, or None when it asks for nothing of the kind."""
    plain = bare(text)
    moment = clock_of(plain, now) if _AT.search(plain) else None
    if moment is None:
        return None
    spoken = _CLOCK.sub(" ", plain)
    about = re.search(rf"^.*?(?:{_WAKE})(?: (?:up|a shout))?(?: (?:to|about|that|for))?(?P<about>.*)$", spoken)
    what = re.sub(
        r"\b(?:tonight|tomorrow(?: morning| evening| night)?|please|today|in the morning|and)\b",
        " ",
        about["about"] if about else "",
    )
    what = re.sub(
        r"^(?:(?:anyhow|anyway|so (?:that )?(?:i|we) can|so (?:i|we)|to|that|about) )+", "", " ".join(what.split())
    )
    announce = f"Reminder: {what}." if what else f"It is {moment:%H:%M}."
    state = replace(
        walking.remembered(state, "that reminder"), timers=(*state.timers, Timer(moment, announce, None, clock=True))
    )
    when = f"{moment:%H:%M}" if moment.date() == now.date() else f"{moment:%A %H:%M}"
    seconds = (moment - now).total_seconds()
    line = f"I remind you at {when}.{_or_other(plain, moment, now)}"
    return walking.control(state, line, events=(EventDraft("reminder", {"said": text, "seconds": seconds}),))


SMALL_HOURS = 5
"""Hours up to this are of the night, when that is said."""


def _or_other(plain: str, moment: datetime, now: datetime) -> str:
    """Which half of the day a wake-up call at "two" is set for, and how to have the other; nothing where the words say it."""
    found = _CLOCK.search(plain)
    if found is None or found["named"] or found["part"] or not re.search(r"\bwake\b", plain):
        return ""
    if found["hour"].startswith("0") or (found["hour"].isdigit() and int(found["hour"]) > 12) or "tomorrow" in plain:
        return ""
    other = moment + timedelta(hours=12)
    minutes = f":{other:%M}" if other.minute else ""
    half = "am" if other.hour < 12 else "pm"
    return f" For {other:%H:%M} say: make it {other.hour % 12 or 12}{minutes} {half}."


_OF_CLOCK = Lazy(r"\bwake\b|\balarm\b")
_NO_NAME = frozenset("the that this one cancel kill stop drop forget clear scrap lose end delete never mind about turn switch off timer reminder alarm countdown for set please and again can you just".split())  # fmt: skip


def _meant(timers: tuple[Timer, ...], text: str) -> Timer:
    """The timer that the words name by what it is for, its length or its time of day; else the one set last."""
    said = bare(text)
    if _OF_CLOCK.search(said):
        at_clock = [timer for timer in timers if timer.announce.startswith("It is ")]
        if at_clock:
            return at_clock[-1]
    if (by_place := _by_place(timers, said)) is not None:
        return by_place
    words = {_singular(word) for word in said.split() if word not in _NO_NAME}
    named = [
        timer
        for timer in timers
        if words & {_singular(word) for word in bare(timer.announce.removeprefix("Reminder: ")).split()}
    ]
    return named[-1] if named else timers[-1]


_PLACE = Lazy(
    r"\b(?:(?P<short>short|shorter|shortest|quick|soonest|nearest)|(?P<long>long|longer|longest)|(?P<first>first|earlier|earliest|other|old)|(?P<last>second|last|latest|newest|new))(?: one| timer| reminder)?$"
)


def _by_place(timers: tuple[Timer, ...], said: str) -> Timer | None:
    """Of several timers "the short one", "the long one", "the first"; None when the words tell no such thing."""
    found = _PLACE.search(re.sub(r"(?: (?:now|then|please|instead))+$", "", said)) if len(timers) > 1 else None
    if found is None:
        return None
    if found["short"] or found["long"]:
        by_time = sorted(timers, key=lambda timer: timer.due)
        return by_time[0] if found["short"] else by_time[-1]
    return timers[-2 if len(timers) == 2 else 0] if found["first"] else timers[1 if "second" in found[0] else -1]


def _by_span(timers: tuple[Timer, ...], text: str, now: datetime) -> Timer | None:
    """The timer that was set for the time named, "the ten minute one": the one with the most of it still to go; else None."""
    seconds, words = _span(bare(text))
    runs = [one for one in timers if not one.clock and words and 0 < (one.due - now).total_seconds() <= seconds + 1]
    return max(runs, key=lambda one: one.due, default=None)


_WHY = Lazy(
    r"(?<=\w)\s*[,;.]+\s*(?:it's|its|it is|that's|i|i'm|i'll|i've|we|we're|we'll|he|he's|she|she's|they|they're|my|our|the|no need|not|because|cause|since|don't)\b.*$",
    re.IGNORECASE,
)


def without_why(text: str) -> str:
    """A command without the reason after it: "bin that" of "bin that, my partner's doing it"."""
    return _WHY.sub("", text)


_ENDS_NAMED = Lazy(
    r"^(?:(?:ok|okay|and|so|now|no|please|actually) )*(?:kill|cancel|drop|scrap|clear|delete|bin|ditch|axe|nix|remove|forget|lose|stop|end|get rid of|switch off|turn off) (?:about )?(?:the |that |my )(?P<what>.+?)(?: (?:one|thing|reminder|timer))?(?: (?:now|then|please|instead))*$"
)


def named_off(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """ "Kill the hotel one": the timer that is for it taken back; None when none is."""
    text = without_why(text)
    found = _ENDS_NAMED.match(bare(text)) if state.timers or timer_spoken_of(state) else None
    words = set(found["what"].split()) - _NO_NAME if found is not None else set()
    words = {_singular(word) for word in words}
    about = [{_singular(word) for word in bare(timer.announce.removeprefix("Reminder: ")).split()} for timer in state.timers]  # fmt: skip
    spoken_of = timer_spoken_of(state) or re.search(r"\b(?:timer|reminder)s?\b", bare(text)) is not None
    named = bool(words) and any(words <= one for one in about)
    named = named or (spoken_of and _by_place(state.timers, bare(text)) is not None)
    of_span = _by_span(state.timers, text, now) if found is not None and not named else None
    if of_span is not None:
        return off(state, of_span)
    if words and not named and timer_spoken_of(state) and state.last is not None and words <= _spoken(state.last.say):
        return walking.control(state, "That one has run out already.")
    return cancelled(state, mind, now, text) if named else None


def _spoken(say: str) -> set[str]:
    """The words by which the last answer named timers."""
    return {_singular(word) for word in bare(say.replace("Reminder:", " ")).split()}


def _singular(word: str) -> str:
    return re.sub(r"(?<=[a-z]{3})s$", "", word)


def cancelled(state: State, mind: Mind, now: datetime, text: str = "") -> Outcome:
    """Take back the timer that is named, or the one that was set last; those that still run are named."""
    if not state.timers:
        return walking.control(state, "No timer is running.")
    return off(state, _meant(state.timers, text))


def off(state: State, gone: Timer) -> Outcome:
    """That timer taken back."""
    left = tuple(timer for timer in state.timers if timer is not gone)
    line = f"Timer off: {gone.announce}"
    if left:
        line += f" {len(left)} still running: {' '.join(timer.announce for timer in left)}"
    event = EventDraft("timer-off", {"announce": gone.announce})
    return walking.control(replace(walking.remembered(state, "the timer"), timers=left), line, events=(event,))


def _span(plain: str) -> tuple[float, str]:
    """The length of time named, in seconds, and its words."""
    from cabassist.language.numbers import find_numbers, words_of

    half_more = re.search(r"\b(?P<whole>(?:\w+ hours?|hour)) and a (?P<part>half|quarter)\b", plain)
    if half_more is not None:
        whole, _ = _span("an hour" if half_more["whole"] in ("hour", "a hour") else half_more["whole"])
        return (whole + (1800 if half_more["part"] == "half" else 900), half_more.group()) if whole else (0.0, "")
    words = words_of(plain)
    seconds, first, last = 0.0, None, 0
    for number in find_numbers(words):
        after = words[number.end].text if number.end < len(words) else ""
        if after in _SPAN:
            seconds += number.value * _SPAN[after]
            first = words[number.start].start if first is None else first
            last = words[number.end].end
    if seconds:
        return seconds, plain[first:last]
    for words_said, worth in (
        ("half an hour", 1800),
        ("three quarters of an hour", 2700),
        ("quarter of an hour", 900),
        ("half hour", 1800),
        ("quarter hour", 900),
        ("an hour", 3600),
        ("a minute", 60),
        ("couple of minutes", 120),
        ("couple of hours", 7200),
    ):
        if words_said in plain:
            return float(worth), words_said
    return 0.0, ""


_REPORTED = Lazy(r"^(?:i|we|he|she) (?:report|tell you|say|read|log|give you|call|put)(?: (?:that|the|my|our))*(?= \w)")
_IT = Lazy(r"^(?:it|that|this|the (?:level|gauge|needle|tank))(?:'s)?(?= )")


def _alert(plain: str, state: State, mind: Mind) -> Alert | None:
    match = _ALERT.match(plain)
    if match is None:
        return None
    what = _REPORTED.sub("", match.group("what") or match.group("then")).strip()
    if state.told and _IT.match(what):  # the level told last
        last = state.told[-1]
        what = _IT.sub(f"{last.which or ''} {last.what.replace('_', ' ')}".strip(), what)
    statement = _MOVES.sub(" is at ", what, count=1)
    statement = re.sub(r"is at (?:is |at |to |down |up |under |below |over |above )*", "is at ", statement)
    heard = mind.readings_in(statement)
    if len(heard.readings) != 1:
        return None
    reading = heard.readings[0]
    level = _level(reading, mind)
    if level is None:
        return None
    falling = bool(_FALLING.search(what)) or (not _RISING.search(what) and reading.what not in RISES)
    name = f"{(reading.which + ' ') if reading.which else ''}{reading.what.replace('_', ' ')}"
    words = statement.split("is at ", 1)[-1].strip()
    return Alert(reading.what, reading.which, level, falling, name, words)


def _level(reading: Reading, mind: Mind) -> float | None:
    """A level that readings can be compared by: the share of full where there is one, else the value."""
    from cabassist.language.plausibility import fraction_of_full

    share = fraction_of_full(reading, mind.coach)
    return share if share is not None else reading.value


def crossed(readings: tuple[Reading, ...], state: State, mind: Mind) -> tuple[State, tuple[str, ...]]:
    """The alerts that these readings set off; each speaks once."""
    said, left = [], []
    for alert in state.alerts:
        levels = [_level(r, mind) for r in readings if r.what == alert.what and alert.which in (None, r.which)]
        if any(
            level is not None and (level <= alert.level if alert.falling else level >= alert.level) for level in levels
        ):
            said.append(
                f"You wanted to know: {alert.name} is at {alert.words} or {'below' if alert.falling else 'above'}."
            )
        else:
            left.append(alert)
    return (replace(state, alerts=tuple(left)), tuple(said)) if said else (state, ())
