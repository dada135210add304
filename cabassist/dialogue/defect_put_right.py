"""A defect's place or words put right: "no wait, it's bay 2, not bay 3", "change defect 2 to bay 2 latch sticks"."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import defects, walking
from cabassist.dialogue.defect_undone import numbered
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain
from cabassist.record.defect_words import GRADES, Place, place_in, read_report, severity_in, told_trouble
from cabassist.record.defects import Defect, all_defects, noted, open_defects

_LEAD = r"(?P<lead>(?:(?:no|nope|nah|oh|wait|sorry|actually|hang on|hold on|correction|my mistake|my bad|oops|whoops|scratch that|i mean|i meant|well|that's wrong|that is wrong|wrong|make that|make it) )*)"
_BE = r"(?:(?:it's|its|it is|it was|that's|that is|that was|it should be|that should be|should be|should have been|make (?:it|that)|i (?:meant|mean)|the (?:defect|fault|entry|place|bay|side|last one)(?:'s| is| was| should be| should say)|put (?:it|that) (?:down )?(?:as|in|on|under))(?: really| actually| on| in| at)* )"
_PLACE = r"(?:on |in |at )?(?:the )?(?P<right>[\w' ]{3,40}?)"
_WRONG = r"(?:on |in |at )?(?:the )?(?P<wrong>[\w' ]{1,30})"
_MOVED = Lazy(rf"^{_LEAD}{_BE}?{_PLACE}(?: (?:not|instead of|rather than) {_WRONG})?$")
_NOT_FIRST = Lazy(rf"^{_LEAD}{_BE}?(?:it's |it is |its )?not {_WRONG} (?:but |it's |its |it is |that's )+{_PLACE}$")
_NUMBER = r"(?:the )?(?:(?:defect|fault|entry|report|item)(?: number| no)?|number) (?P<number>[a-z0-9-]+)"
_REWORDED = Lazy(
    rf"^(?:(?:no|oh|wait|sorry|actually|ok|okay|and|please|can you|could you|hang on|i want to|let's) )*(?:(?:change|correct|fix up|amend|edit|reword|update|rename|rewrite) {_NUMBER} (?:to|into|so (?:that )?it (?:says|reads)|to (?:say|read|be)) "
    rf"|{_NUMBER.replace('<number>', '<other>')} (?:should (?:say|read|be|have been)|is (?:really|actually|supposed to (?:be|say|read)|meant to (?:be|say))|ought to (?:be|say|read)|was (?:really|actually)) )(?:that )?(?P<what>.+)$"
)
_NUMBERED_PLACE = Lazy(
    rf"^(?:(?:no|oh|wait|sorry|actually|ok|okay|and|please) )*(?:(?:change|correct|fix|amend|edit|update) )?{_NUMBER}(?:'s| is| it's| its| it is| that's| goes| belongs)+(?: really| actually)? (?:on |in |at )?(?P<what>(?:the )?[\w' ]{{3,30}})$"
)
""" "Fix number 1, it's bay 5", "defect 2 is in bay 5": its place alone."""
_SMALL = frozenset(
    "the a an on in at of it its side bay number door left right front rear back inside outside and one two three four five six seven eight nine ten".split()
)
"""Words of a place that name no fault."""
_SIDE = frozenset("the a left right side hand one it on".split())


def told(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The defect put right that is named by its number, or the one just spoken of; None for anything else."""
    if not open_defects(state.record) or "?" in text:
        return None
    said = plain(text)
    if (reworded := _REWORDED.match(said)) is not None and not defects.SAYS_FIXED.search(said):
        return _reworded(state, reworded["number"] or reworded["other"], reworded["what"], text, mind, now)
    if (numbered := _NUMBERED_PLACE.match(said)) is not None:
        place = place_in(numbered["what"], mind.coach, mind.defect_words)
        if (place.bays or place.side) and not place.unknown and _only_place(numbered["what"], place):
            return _reworded(state, numbered["number"], numbered["what"], text, mind, now)
    of_defect = state.last is not None and state.last.kind == "defect"
    found = (_NOT_FIRST.match(said) or _MOVED.match(said)) if of_defect else None
    if found is None or not (found["lead"] or found["wrong"]):
        return None
    place = place_in(found["right"], mind.coach, mind.defect_words)
    if not (place.bays or place.side) or place.unknown or not _only_place(found["right"], place):
        return None
    if not (place.bays or place.near) and set(found["right"].split()) - _SIDE:
        place = Place((), place.side, (found["right"],))  # "the left rear door" is another place, not only a side
    meant = _meant(state, found["wrong"] or "", mind)
    return _placed(state, meant, place, text, mind, now) if meant is not None else None


def _only_place(words: str, place: Place) -> bool:
    """Whether the words name a place and nothing else."""
    named = {word for near in place.near for word in near.split()}
    return all(word in _SMALL or word in named or word.isdigit() for word in words.split())


def _meant(state: State, wrong: str, mind: Mind) -> Defect | None:
    """The open defect spoken of last, if what is called wrong stands in it; else the only one in which it does."""
    still = open_defects(state.record)
    last = next((defect for defect in still if defect.key == state.defect), None)
    if not wrong:
        known = last is not None and (last.place.known or last.place.unknown)
        return last if known else None  # without a place told before, it is the answer to where it is
    place = place_in(wrong, mind.coach, mind.defect_words)

    def stands_in(defect: Defect) -> bool:
        text = plain(f"{defect.what} {defect.place.words()} {defect.place.unknown}")
        return bool(set(place.bays) & set(defect.place.bays)) or re.search(rf"\b{re.escape(wrong)}\b", text) is not None

    if last is not None and stands_in(last):
        return last
    named = [defect for defect in still if stands_in(defect)]
    return named[0] if len(named) == 1 else None


def _placed(state: State, defect: Defect, place: Place, text: str, mind: Mind, now: datetime) -> Outcome:
    """The defect at another place, in its own words too."""
    what, bays = defect.what, place.bays
    for old, new in zip(defect.place.bays, bays, strict=False):
        what = re.sub(rf"\b{re.escape(plain(old))}\b", plain(new), what)
    if not bays and place.near:
        for old in defect.place.bays:
            what = re.sub(rf"\b{re.escape(plain(old))}\b", f"the {' '.join(place.near)}", what)
    elif not bays:  # the side alone
        bays = defect.place.bays
        what = re.sub(r"\b(?:left|right)\b", place.side, what)
    near = tuple(word for word in defect.place.near if re.search(rf"\b{re.escape(word)}\b", what))
    near = tuple(dict.fromkeys((*near, *place.near)))
    entry = noted(
        defect,
        now,
        state.actor,
        said=text,
        what=what,
        bays=list(bays),
        side=place.side,
        places=list(near),
        unknown_bay="",
    )
    after = replace(defect, what=what, place=Place(bays, place.side, near))
    return defects.put_right(state, defect, entry, f"Put right: defect {after.words()}.", mind)


def _reworded(state: State, number: str, what: str, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The defect of that number with other words, another place or another grade."""
    told = numbered(state, number)
    if told is None:
        return None
    wanted, defect = told
    if defect is None:
        known = any(one.number == wanted for one in all_defects(state.record))
        line = f"Defect {wanted} is signed off." if known else f"There is no defect {wanted} on record."
        return walking.control(state, line)
    grade = severity_in(what, mind.defect_words)
    if grade and not told_trouble(what, mind.defect_words):
        entry = noted(defect, now, state.actor, said=text, severity=grade)
        return defects.put_right(state, defect, entry, f"Defect {wanted}: {GRADES[grade]}.", mind)
    place = place_in(what, mind.coach, mind.defect_words)
    if (place.bays or place.side) and not place.unknown and _only_place(what, place):
        return _placed(state, defect, place, text, mind, now)
    report = read_report(what, mind.coach, mind.defect_words, what)
    safety, place = report.safety, report.place if report.place.known or report.place.unknown else defect.place
    graver = "stop" if defect.severity == "stop" else report.severity
    entry = noted(
        defect, now, state.actor, said=text, what=report.what, bays=list(place.bays), side=place.side,
        places=list(place.near), unknown_bay=place.unknown, move=safety.move, part=safety.part, why=safety.why,
        rule=safety.rule, asks=safety.asks, severity=graver,
    )  # fmt: skip
    after = replace(defect, what=report.what, place=place)
    return defects.put_right(state, defect, entry, f"Put right: defect {after.words()}.", mind)
