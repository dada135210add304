"""The last sum asked again of somebody or something else: "and the other guy, he's fresh", "and the fresh at sixty, four an hour".

Hours at the wheel are a person's: what one driver did says nothing of the other. So the hours of the new person are read by
themselves, and the sum is put once more in plain words. The same way time off duty that was counted as duty is taken out of it.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import NamedTuple

from cabassist.dialogue import reckoning
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.estimate.driving_hours import SPLIT_SOURCE
from cabassist.language.lazy import Lazy
from cabassist.language.matching import Ranking
from cabassist.language.normalise import plain

CALCULATION = "driving-hours"
_OTHER = Lazy(
    r"\b(?:the |my )?(?:other (?:guy|driver|fell?ow|fella|man|woman|one|half|lady)|second (?:driver|guy|man)|co ?-?driver|partner|relief(?: driver)?|mate|buddy|team ?mate|husband|wife)\b"
    r"|\b(?:he|she|him|her|his)(?:'s|'d)?\b"
)
_SPEAKER = Lazy(r"\b(?:i|i've|i'd|i'm|my|me|we|us|our|both|together|between)\b")
_MINE = Lazy(r"\bmy (?=(?:other|second|co ?-?driver|partner|relief|mate|buddy|team|husband|wife)\b)")
_FRESH = Lazy(
    r"\b(?:fresh|rested|(?:just|only just) (?:got up|woke up|woken up|out of (?:bed|the bunk)|come on|came on|starting)"
    r"|(?:has ?n'?t|have ?n'?t|has not|did ?n'?t|never|not) (?:even )?(?:driven|drove|drive|touched the wheel|been behind the wheel|started)"
    r"|slept (?:all|the whole) night|full night|(?:driven|drove|done|did) (?:nothing|none|zero|not (?:a|one) (?:mile|minute)))\b"
)
_LEFT = Lazy(
    r"\b(?:left|remaining|plans?|planned|will|going to|gonna|needs?|wants?|tomorrow|per|mph|miles?|percent)\b|%"
)
_DROVE = Lazy(
    r"\b(?:driven|drove|driving|drive|done|did|does|at the wheel|behind the wheel|wheel time|used|put in|rolled|got in)\b"
)
_DUTY = Lazy(r"\b(?:on duty|duty|on the clock|on shift|in total|altogether|all told|all in|been on|been up|worked)\b")
_OFF = Lazy(
    r"\b(?:off(?: duty)?|rest(?:ed|ing)?|nap(?:ped|ping)?|slept|sleeping|asleep|sleep|bunk|berth|break|lunch|dinner|supper|hotel|free|personal time)\b"
)
_OF_THOSE = Lazy(
    r"\b(?:of (?:those|that|them|it|these|which)|were|was|i had|i was|i took|i spent|there was|there were|minus|less|forgot|not counting|don't count|that includes?|including|inside that|in there)\b"
)
_CHANGES = Lazy(
    r"^(?:(?:and|so|but|ok|okay|no|wait|oh|well|sorry|actually|scratch that|correction|my mistake|i mean|i meant|make that|make it|what if|if|say|suppose|it's|it was) )+"
)
_ASKED = Lazy(r"\b(?:week|seven days|eight days|snow|weather|adverse|split|both|together|between|restart|reset)\b")


class _Hours(NamedTuple):
    driven: float | None = None
    duty: float | None = None
    off: float = 0.0


def again(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """Driving hours left for another driver, or with time off duty or one amount changed; None when the text is something else.

    Asks back when more would be driven than was on duty.
    """
    last, said = state.worked, _SINCE_REST.sub(" ", plain(text))
    if state.pending is not None or len(said.split()) > _MOST_WORDS:
        return None
    if last is None or last.calculation != CALCULATION:
        return _first_told(state, said, ranking, mind, now)
    if (both := _together(state, said, ranking, mind)) is not None:
        return both
    if (longer := _weather_met(state, said, ranking, mind, now)) is not None:
        return longer
    if _LEFT.search(said) and not _STILL.search(said) or _ASKED.search(said):
        return None
    stands = {one.name: float(one.value) for one in last.inputs if isinstance(one.value, (int, float))}
    his = _OTHER.search(said) is not None and not _SPEAKER.search(_MINE.sub(" ", said))
    is_his = last.estimate is not None and last.estimate.verdict.startswith(_WHO)
    if (
        since := _on_since(state, said, stands.get("driven") if his == is_his else None, ranking, mind, now)
    ) is not None:
        return since
    found = _told(said)
    if found is None or (found.driven is None and found.duty is None and _fresh(plain(text))):
        found = _fresh(plain(text)) if not _DROVE_SO_LONG.search(said) else None
    if found is None:
        return None
    if last.estimate is not None and last.estimate.source == SPLIT_SOURCE:
        from cabassist.dialogue.following import put_back

        return put_back("Say all the hours again, in the order in which they were.", state, mind)
    if his:
        if found.driven is None and found.duty is None and found.off >= _REST_H:
            found = _Hours(0.0, 0.0)  # who has been off that long begins anew
        if found.driven is None or (found.off and found.duty is None):
            return None
        if is_his and found.duty is None and found.driven and _CHANGES.match(said):
            found = found._replace(duty=stands.get("duty"))
        return _worked(state, found, _WHO, ranking, mind, now)
    if "driven" not in stands or _OTHER.search(said):
        return None
    whose = _WHO if is_his and not _SPEAKER.search(said) else ""
    if found.off and found.driven is None and found.duty is None:
        if found.off >= _REST_H:
            from cabassist.dialogue.following import put_back

            line = "Eight hours off in a row begin the count anew. Say what you drove and worked since."
            return put_back(line, state, mind)
        return _worked(state, _Hours(stands["driven"], stands.get("duty"), found.off), whose, ranking, mind, now)
    if found.off or not (_CHANGES.match(said) or said.startswith(("i've", "i have", "i drove", "i was", "i had"))):
        return None
    if found.driven is None and found.duty is None:
        return None
    if _SPEAKER.search(said) and is_his and None in (found.driven, found.duty):
        from cabassist.dialogue.following import put_back

        return put_back("Say your hours driven and on duty, both.", state, mind)
    driven = stands["driven"] if found.driven is None else found.driven
    duty = stands.get("duty") if found.duty is None else found.duty
    return _worked(state, _Hours(driven, duty), whose, ranking, mind, now)


_WEATHER = r"(?:snow ?storms?|snow(?:s|ing|fall)?|blizzard|ice(?: storm)?|storm|fog|white ?out|weather|adverse conditions|squalls?|freezing rain|sleet)"
_UNFORESEEN = r"(?:(?:nobody|no one|no ?body|the forecast|they|the radio) (?:had |has )?(?:ever )?(?:forecast(?:ed)?|predicted|called(?: for)?|expected|saw(?: coming)?|warned(?: of| about)?|mentioned|said anything about)|(?:was|were|is|it)(?: ?n'?t| not)(?: been)? (?:forecast(?:ed)?|predicted|expected|in the forecast)|not in the forecast|unforeseen|unexpected(?:ly)?|unforecast(?:ed)?|out of nowhere|by surprise|surprise|without (?:any )?warning|no warning|adverse)"
_MET = Lazy(
    rf"^(?!.*\b(?:rest|split|break|berth|week)\b)(?:.*\b{_WEATHER}\b.*\b{_UNFORESEEN}\b|.*\b{_UNFORESEEN}\b.*\b{_WEATHER}\b|.*\badverse conditions\b)"
)
"""Weather that was not known before the drive began (49 CFR 395.1(b)(1))."""


def _weather_met(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And it turns into a snowstorm nobody forecast", after hours left: with the hours more that the rule gives; else None."""
    from cabassist.sums.working import work_out

    last = state.worked
    if (
        last is None
        or reckoning.standing(state) is None
        or not _MET.match(said)
        or any(sign.isdigit() for sign in said)
    ):
        return None
    stands = {one.name: float(one.value) for one in last.inputs if isinstance(one.value, (int, float))}
    if "driven" not in stands or last.estimate is None or last.estimate.verdict.startswith(_WHO):
        return None
    duty = f" and on duty {stands['duty']:g} hours" if "duty" in stands else ""
    text = f"driven {stands['driven']:g} hours{duty}, how many hours can I still drive with unexpected snow"
    worked = work_out(text, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    if worked is None or worked.estimate is None or worked.calculation != CALCULATION:
        return None
    if not any(one.name == "adverse" for one in worked.inputs):
        return None
    return reckoning.answer(state, worked, text, ranking, mind)


_ON = Lazy(
    r"\b(?:(?:on |my |his )?duty|(?:came|come|gone?|went|been|was) on|on since|on the clock|(?:clock|punch|sign|check)(?:ed)? (?:in|on)|log(?:ged)? (?:in|on)|(?:shift|day|work)(?:day)? (?:start|began|begun)\w*|(?:start|began|begun)\w* (?:(?:my|his|the|our) (?:shift|day)|work\w*|at)|working since)\b"
)
_NOT_ON = Lazy(r"\b(?:off|slept|sleep\w*|bunk|nap\w*|awake|woke\w*|up since|got up|tomorrow|yesterday|driving at)\b")
_AT_HOUR = Lazy(
    r"\b(?:at|since|around|from) (?:about |around )?\w+(?: o'?clock)?(?: (?:and|with|without|no|today)\b.*)?$"
)
_LONG_SHIFT_H = 18.0
_NO_BREAK = Lazy(r"\b(?:no|without|not a|never took a|didn't take a|haven't had a|had no|zero)(?: single| real)? (?:break|stop|rest|nap|time off|lunch)\w*\b")  # fmt: skip


def _on_since(
    state: State, said: str, driven: float | None, ranking: Ranking, mind: Mind, now: datetime
) -> Outcome | None:
    """ "But I came on duty at five this morning": hours on duty by the clock, with the hours driven that stand; else None."""
    from cabassist.dialogue.following import put_back
    from cabassist.language.calculation_inputs import read_question

    found = read_question(said).amounts
    if len(found) != 1 or not _ON.search(said) or _NOT_ON.search(_NO_BREAK.sub(" ", said)):
        return None
    hour = found[0].unit == "n" and not found[0].per and found[0].value in range(1, 13) and _AT_HOUR.search(said)
    if found[0].unit != "clock" and not hour:
        return None
    ago = (now.hour + now.minute / 60 - found[0].value) % _DAY_H
    either = hour or found[0].pieces  # in the morning or in the evening
    fitting = [ago, (ago + _DAY_H / 2) % _DAY_H] if either else [ago]
    fitting = [one for one in fitting if (driven or 0.0) <= one <= (_LONG_SHIFT_H if either else _DAY_H)]
    if driven is None:
        return put_back("Say the hours driven and the hours on duty, both.", state, mind)
    if len(fitting) != 1:
        return put_back("Say how many hours on duty that is.", state, mind)
    his = state.worked is not None and state.worked.estimate is not None and state.worked.estimate.verdict.startswith(_WHO)  # fmt: skip
    return _worked(state, _Hours(driven, round(fitting[0], 3)), _WHO if his else "", ranking, mind, now)


_SINCE_REST = Lazy(
    r",? ?\b(?:since|after|coming off|fresh (?:off|from|out of)|just off|following) (?:his|her|my|the|their|an?|our)? ?(?:last |full |own )?(?:eight|ten|8|10)(?: (?:hours?|h))?(?: (?:off(?: duty)?|of rest|rest|break|sleep|in the bunk))*\b(?! (?:driving|at the wheel|on duty))"
)
"""The rest that the hours are counted from; none of the hours themselves."""
_DROVE_SO_LONG = Lazy(
    r"\b(?:driven|drove|driving|done|did|put in) (?:only |just |about |some )*(?:\d|one|two|three|four|five|six|seven|eight|nine|ten|a (?:couple|few)|half)"
)
_OUR_HOURS = Lazy(
    r"\b(?:between (?:us|the two of us|the pair of us|both of us)|(?:both|the two|the pair) of us|us both|together|combined|in total|altogether)\b"
)


def _first_told(state: State, said: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """Hours driven and on duty, told in full of one driver: "my partner's driven two and been on duty three"; else None."""
    his = _OTHER.search(said) is not None and not _SPEAKER.search(_MINE.sub(" ", said))
    if not (his or _I_DROVE.search(said)) or _LEFT.search(said) or _ASKED.search(said) or _OF_THOSE.search(said):
        return None
    found = _told(said)
    if found is None or found.driven is None or found.duty is None or found.off or found.duty < found.driven:
        return None
    return _worked(state, found, _WHO if his else "", ranking, mind, now)


_I_DROVE = Lazy(r"\bi(?:'ve| have)? (?:only |just )?(?:driven|drove|been driving|done)\b")


def _together(state: State, said: str, ranking: Ranking, mind: Mind) -> Outcome | None:
    """ "So what's that between the two of us", after the hours of both drivers; else None."""
    mine, his = state.earlier, state.worked
    if mine is None or his is None or not _OUR_HOURS.search(said) or any(sign.isdigit() for sign in said):
        return None
    if mine.estimate is None or his.estimate is None or mine.calculation != CALCULATION:
        return None
    if mine.estimate.verdict.startswith(_WHO) == his.estimate.verdict.startswith(_WHO):
        return None
    hours = [one.value for one in (mine.estimate, his.estimate) if one.value is not None and one.unit == "h"]
    if len(hours) != len((mine, his)):
        return None
    from cabassist.estimate.quantities import shown

    line = f"{shown(hours[0])} + {shown(hours[1])} = {shown(sum(hours))} h"
    verdict = f"{shown(sum(hours))} hours of driving between both, one at the wheel at a time. A helper, not a logging device."
    estimate = replace(
        his.estimate, value=round(sum(hours), 3), low=None, high=None, also=(), working=(line,), verdict=verdict
    )
    return reckoning.answer(state, replace(his, estimate=estimate), state.question, ranking, mind)


_SUPPLY = Lazy(
    r"^(?:(?:and|so|ok|okay|now|then|what about|how about|same (?:for|with)|for|with|what if) )*(?:the |my |our )?(?:(?P<fills>(?:waste|black|grey|gray|sewage|holding)(?: water)?)|(?P<empties>fresh(?: water)?|drinking water|potable|diesel|def|propane"
    r"|(?:inside|outside|left|right|first|second|other|main|reserve|spare)(?: (?:propane|gas))? (?:cylinder|bottle)))(?: tank)?\b(?!.*\b(?:how|when|which|what|why|where|who)\b)"
)
_TIMES = frozenset({"h", "min", "day", "days"})


def of_other_supply(state: State, text: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """ "And the fresh is at sixty, using four an hour", after how long the waste lasts: the same asked of the other tank; else None."""
    last, found = state.worked, _SUPPLY.search(plain(text))
    if found is None or last is None or last.estimate is None or last.estimate.unit not in _TIMES:
        return None
    if last.calculation == CALCULATION or state.pending is not None:
        return None
    from cabassist.language.calculation_inputs import read_question
    from cabassist.sums.working import work_out

    amounts = read_question(text).amounts
    if len(amounts) < _LEVEL_AND_USE or amounts[0].unit == "n":
        return None
    whole = f"{text.rstrip(' .?!')}, {'when is it full' if found['fills'] else 'how long does it last'}"
    worked = work_out(whole, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    if worked is None or worked.estimate is None or not worked.whole or worked.estimate.unit not in _TIMES:
        return None
    return reckoning.answer(state, worked, whole, ranking, mind)


_LEVEL_AND_USE = 2
_MOST_WORDS = 22
_REST_H = 8.0
_WHO = "The other driver"
_STILL = Lazy(
    r"\b(?:can|may|could) (?:he|she)\b|\b(?:does|has) (?:he|she) (?:have |got )?|\b(?:he|she) (?:have|got) left\b"
)


def _fresh(said: str) -> _Hours | None:
    return _Hours(0.0, 0.0) if _FRESH.search(said) and not any(sign.isdigit() for sign in said) else None


def _told(said: str) -> _Hours | None:
    """The hours that a text tells, by the words beside them; None when one has no place or two have the same."""
    from cabassist.language.calculation_inputs import read_question
    from cabassist.sums.working_week import hours

    question = read_question(said)
    found = question.amounts
    if not found or any(a.unit not in ("h", "min", "n") or a.per or not 0 < abs(hours(a)) <= _DAY_H for a in found):
        return None
    ends = [0, *(one.end for one in found)]
    starts = [*(one.start for one in found), len(question.words)]
    gaps = [_role(" ".join(question.words[end:start])) for end, start in zip(ends, starts, strict=True)]
    whole = _role(said) if len(found) == 1 else ""
    for roles in (gaps[:-1], gaps[1:], [whole]):  # "driving six, on duty nine", or "six driving, nine on duty"
        if all(roles) and len(set(roles)) == len(found):
            placed = {role: abs(hours(amount)) for role, amount in zip(roles, found, strict=True)}
            if "off" in placed and len(placed) == 1 and not (_OF_THOSE.search(said) or _CHANGES.match(said)):
                return None
            return _Hours(placed.get("driven"), placed.get("duty"), placed.get("off", 0.0))
    return None


def _role(words: str) -> str:
    """What hours between or beside these words are: off, driven, duty, or nothing that is known."""
    roles = (("off", _OFF), ("driven", _DROVE), ("duty", _DUTY))
    return next((role for role, pattern in roles if pattern.search(words)), "")


def _worked(state: State, hours: _Hours, who: str, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The hours left of these hours, as the sum that later changes are made in."""
    from cabassist.dialogue.following import put_back
    from cabassist.estimate.driving_hours import ON_DUTY_H
    from cabassist.estimate.quantities import duration, shown
    from cabassist.sums.working import work_out

    driven, duty = hours.driven or 0.0, hours.duty
    on_duty = None if duty is None else duty - hours.off
    if on_duty is not None and on_duty < driven:
        line = f"That leaves {shown(max(0.0, on_duty))} hours on duty for {shown(driven)} of driving. Say both again."
        return put_back(line, state, mind)
    text = f"driven {driven:g} hours"
    if on_duty is not None:
        text += f" and on duty {on_duty:g} hours"
    text += ", how many hours can I still drive"
    worked = work_out(text, (), coach=mind.coach, network=mind.role_network, stored=state.stored, now=now)
    if worked is None or worked.estimate is None or worked.calculation != CALCULATION:
        return None
    verdict = worked.estimate.verdict
    if hours.off:
        rest = "" if on_duty is None else f", which leaves {duration(on_duty)} on duty"
        verdict = f"{duration(hours.off)} off duty does not count{rest}. {verdict}"
    if who:
        verdict = f"{who}: {verdict}"
    if who and duty is None:
        verdict += f" That holds up to {shown(ON_DUTY_H - (worked.estimate.value or 0.0))} hours on duty so far."
    worked = replace(worked, estimate=replace(worked.estimate, verdict=verdict))
    return reckoning.answer(state, worked, text, ranking, mind)


_DAY_H = 24.0
