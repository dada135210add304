"""Questions about the driver's hours, under the passenger-carrier rule."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from cabassist.estimate.clock import clock, time_of_day
from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.sums.working_levels import clock_hours, hours_until_clock
from cabassist.sums.working_roles import Role, placed
from cabassist.sums.working_sheet import Input, Missing, Sheet, with_also, with_verdict
from cabassist.sums.working_shift import TOGETHER, pair_said, spells_said
from cabassist.sums.working_trip import trip, trip_said, trip_unsped
from cabassist.sums.working_week import hours, week, week_said

ASK_HOURS = "How many hours have you driven, and been on duty, since your last 8 hours off?"
_OTHER_MAN = r"(?:he|she|co ?driver|other (?:guy|driver|fellow|man|one)|partner|mate|second driver|relief|buddy)"


def _note(s: Sheet, used: list[Amount], name: str, *patterns: str) -> bool:
    """Note the first amount of these patterns that is not spent yet."""
    if name in s.fresh and name in ("driven", "duty"):
        return True
    found = next((a for p in patterns for a in s.q.every(p) if a not in used and 0 <= hours(a) <= 100), None)
    if found is None:
        return False
    used.append(found)
    s.note(name, hours(found), "h")
    return True


def driving_said(s: Sheet) -> None:
    """Inputs of "how many hours can I still drive"."""
    q = s.q
    if trip_said(s) or trip_unsped(s) or (not s.follows and pair_said(s)) or _special(s):
        return
    used = _other_driver(s)

    left = q.find(
        r"({h}|{n}) (?:hours )?left .*?\b(?:other|another|second|partner|mate|co ?driver|he|she)\b.*?({h}|{n})",
        r"\b(?:have|got) ({h}|{n}) (?:hours )?(?:left )?and (?:the other|he|she|my \w+) (?:\w+ )?({h}|{n})(?: left)?",
    )
    if len(left) == 2 and q.has(r"\bleft\b") and q.has(r"\bbetween us\b|\bboth\b|\btogether\b|\bin all\b|\btotal\b"):
        s.note("ask", "sum")
        s.note("left_a", hours(left[0]), "h")
        s.note("left_b", hours(left[1]), "h")
        return
    week_said(s, used)
    if not spells_said(s, used):
        _day_said(s, used)
    _by_clock(s, used)
    _late_hours(s, used)
    _in_parts(s)
    _mood(s)


def _spell(amount: Amount) -> bool:
    return 0 <= hours(amount) <= 24


_DAY = (
    Role(
        "driven",
        "h|n",
        r"drove|drv|driven|driving(?: for)?|behind the wheel",
        r"(?:hours? )?(?:of )?(?:driving|driven|behind the wheel)",
        _spell,
    ),
    Role(
        "duty",
        "h|n",
        r"on duty(?: for)?|duty(?: of| is)?|on the clock|worked",
        r"(?:hours? )?(?:on duty|on the clock|of duty|duty)",
        _spell,
    ),
)


def _day_said(s: Sheet, used: list[Amount]) -> None:
    """Hours driven, on duty and off duty in between, and what is still planned."""
    both = placed(s.q, _DAY, used)
    if len(both) == 2 and hours(both["driven"]) <= hours(both["duty"]):
        for name, amount in both.items():
            s.note(name, hours(amount), "h")
        used += both.values()
    _note(
        s,
        used,
        "planned",
        r"\b(?:make|do|take|manage|fit|handle) (?:a |an |another |the )*({h}) (?:run|drive|leg|trip|day|haul)",
        r"\bis ({h}|{n}) (?:of |more )*driving\b",
        r"\b(?:would|will|can|could|do) (?:i (?:do|drive) |we (?:do|drive) )?({h}|{n}) more",
        r"\bcan (?:i|we) (?:still )?(?:legally )?drive (?:another |for )?({h})",
    )
    _note(
        s,
        used,
        "driven",
        r"\bused (?:up )?({h}|{n}) of my (?:<n>|<h>)",
        r"\b(?:driven|drove|driving for|been driving|driving) (?:for |about |a total of |so far |already |only |around |some )*({h}|{n})(?! (?:hours? )?(?:of )?(?:other|loading|work|fuel\w*|on duty))",
        r"({h}|{n}) (?:hours? )?(?:of )?(?:driving|behind the wheel|at the wheel|on the road|driven|drove|of that driving|at the helm)\b",
        r"\bbehind the wheel (?:for |about )?({h}|{n})",
        r"({h}|{n}) (?:of (?:it|that|them|those|which) )?(?:was |were |spent )?(?:driv|behind the wheel)",
    )
    _note(
        s,
        used,
        "off_inside",
        r"({h}|{n}) of (?:those|them|that|it|which)(?: hours)? (?:were |was |are |is |i was |spent )*(?:off|resting|sleeping|asleep)",
        r"\b(?:including|with|counting|minus|less) ({h}|{n}) off(?: duty)?\b",
        r"({h}|{n}) (?:off duty|off) (?:at|in|while|during|in between|for)\b",
        r"\b(?:with|had|took) (?:a |an )?({h}) (?:break |rest )?off(?: duty)?\b",
        r"\boff(?: duty)? (?:for )?({h}|{n}) (?:of (?:it|that|those))",
    )
    _note(
        s,
        used,
        "duty",
        r"\bon duty (?:for |about |since |a total of |now |all told |only )*({h}|{n})",
        r"({h}|{n}) (?:hours? )?(?:on duty|on the clock|of duty|duty|all told on duty|at work)\b",
        r"\b(?:been on|on for|worked|working for|been at it) (?:for |about )?({h}|{n})",
        r"\bduty (?:time )?(?:is |of )?({h}|{n})",
    )
    _note(
        s,
        used,
        "other_work",
        r"({h}|{n}) (?:hours? )?(?:of )?(?:loading|fueling|fuelling|other\b|pre ?trip|waiting|wait|work\b|paperwork|inspect\w*|on duty not driving|detention)",
        r"\b(?:loading|fueling|waited|waiting) (?:for )?({h}|{n})",
    )


def _late_hours(s: Sheet, used: list[Amount]) -> None:
    """Hours driven that are said in roundabout ways."""
    q = s.q
    if not s.has("driven"):
        _note(s, used, "driven", r"\bi have (?:done|got in|put in|used) ({h}|{n})(?! (?:on duty|of duty))")
    except_for = q.one(r"\ball (?:of it |of that )?driving except (?:for )?({h})")
    if except_for is not None and s.has("duty"):
        s.note("driven", s.number("duty", "h") - hours(except_for), "h")
        s.inputs.pop("other_work", None)
    if not s.has("driven") and (
        q.has(
            r"<h> (?:hours )?(?:in the (?:berth|bunk|sleeper)|off|of sleep|sleep)\b.*\b(?:fresh|start|can i drive|before i stop)\b"
        )
        or q.has(
            r"\b(?:driven|drove) (?:nothing|none|zero)|\bnot driven\b|\bjust (?:starting|started|came on)\b|\bstarting fresh\b|\bi am fresh\b"
        )
    ):
        s.note("driven", 0.0, "h")
    pending_bare = [a for a in (*q.of("h"), *q.of("n")) if a not in used and hours(a) <= 24]
    if s.follows and s.text("awaits") and pending_bare and "driven" not in s.fresh:
        s.note("driven", hours(pending_bare[0]), "h")
        if len(pending_bare) > 1 and "duty" not in s.fresh:
            s.note("duty", hours(pending_bare[1]), "h")
    if "driven" in s.fresh or "duty" in s.fresh:
        s.drop("off_inside", "other_work")


def _in_parts(s: Sheet) -> None:
    """ "drove three and a half this morning and two this afternoon" is a sum."""
    parts = s.q.find(
        r"\b(?:drove|driven|driving) (?:for )?({h}|{n})[^<,]{0,25}\b(?:and|then|plus) (?:another )?({h}|{n}) (?:more|later|after|this (?:morning|afternoon|evening)|since|tonight|again)"
    )
    if len(parts) == 2:
        s.note("driven", hours(parts[0]) + hours(parts[1]), "h")


def _mood(s: Sheet) -> None:
    """Bad weather, and whether a time of day or the duty limit is asked for."""
    q = s.q
    if q.has(r"\b(?:blizzard|snow|storm|adverse|weather|fog|ice storm)\b"):
        known = q.has(r"\b(?:knew|known|forecast|before (?:we|i) left|expected|predicted)\b(?<!un)")
        s.note("adverse", "known before" if known else "met on the way")
    if q.has(
        r"\b(?:when (?:do|must|should|will) (?:i|we)|what time|when my|clock up|stop driving|must i quit|when am i)\b"
    ):
        s.note("ask", "when")
    elif q.has(
        r"\bleft on (?:my|the) (?:fifteen|<n>|duty|on duty)\b|\bduty (?:hours|time) left\b|\bhow (?:long|many hours) can i (?:still )?(?:work|be on duty|stay on duty)\b"
    ):
        s.note("ask", "duty")


def _special(s: Sheet) -> bool:
    """Splits, restarts and rests, which are questions of their own."""
    q = s.q
    if q.has(r"\b(?:restart|reset)\b|\b34\b|\bthirty four\b"):
        s.note("ask", "restart")
        return True
    if q.has(
        r"\b(?:half hour|thirty minute|30 minute|half an hour|<min>) (?:rest )?break\b|\bbreak after <h>|\b(?:need|require|must|have to)\b.*\bbreak\b"
    ):
        s.note("ask", "break")
        return True
    rests = [a for a in (*q.of("h"), *q.of("n")) if 0 < hours(a) <= 12]
    if (
        len(rests) == 2
        and q.has(r"\b(?:split|berth|bunk|sleeper)\b")
        and q.has(r"\b(?:split|valid|counts?|legal\w*|allowed|work|ok|okay|good|add up|enough)\b")
        and not q.has(r"\b(?:driven|drove|left)\b")
    ):
        first, second = sorted(rests, key=lambda a: a.start)
        s.note("ask", "split")
        s.note("split_a", hours(first), "h")
        s.note("split_b", hours(second), "h")
        return True
    if q.has(
        r"\b(?:driv(?:e|ing) again|start driving|back behind the wheel|when can (?:i|he|she|we) driv\w+(?= $| again)|before (?:i|he|we) can drive|how (?:long|much) (?:do|must|should) (?:i|we|he) (?:need |have to )?(?:be |rest|off|sleep)|more rest|need off|how long off|off before)\b"
    ):
        s.note("ask", "rest")
        so_far = q.one(
            r"({h}|{n}) (?:hours? )?(?:off|of rest|rest|sleep|in the bunk|in the berth|asleep)",
            r"\b(?:off|rested|slept|sleeping|resting|bunk) (?:for |since )?(?:about )?({h}|{n})",
        )
        stopped = q.one(r"\b(?:stopped|quit|off|finished|parked|since|went off) (?:at |since |duty at )*({clock}|{n})")
        if so_far is not None and so_far.unit != "clock":
            s.note("rested", hours(so_far), "h")
        elif stopped is not None:
            s.note("stopped", stopped.value, "clock" if stopped.unit == "clock" and not stopped.pieces else "clock?")
        return True
    return False


def _other_driver(s: Sheet) -> list[Amount]:
    """ "and the other guy he's fresh", "my co-driver's driven two"."""
    q = s.q
    if not q.has(rf"\b{_OTHER_MAN}\b"):
        if q.has(r"\b(?:two drivers|both (?:of us|drivers)|between (?:us|both|the two))\b|{driver}"):
            s.note("two", 1.0)
        return []
    s.note("two", 1.0)
    driven = q.one(
        rf"\b{_OTHER_MAN}\b(?: \w+){{0,4}}? (?:driven|drove|driving|at the wheel) (?:for |about )?({{h}}|{{n}})"
    )
    duty = q.one(
        rf"\b{_OTHER_MAN}\b.*?\bon duty (?:for )?({{h}}|{{n}})",
        rf"\b{_OTHER_MAN}\b(?: \w+){{0,3}}? on (?:for )?({{h}})",
    )
    rest = q.one(
        rf"\b{_OTHER_MAN}\b.*?({{h}}|{{n}}) (?:hours? )?(?:off|in the (?:bunk|berth|sleeper)|of rest|rest|sleep|asleep)"
    )
    if driven is not None:
        s.note("his_driven", hours(driven), "h")
        s.note("his_duty", hours(duty) if duty is not None else hours(driven), "h")
        return [a for a in (driven, duty) if a is not None]
    if (
        rest is not None
        and hours(rest) >= 8
        or q.has(
            r"\b(?:fresh|rested|rests|just came on|full night|starting fresh|slept|hasn't driven|has not driven|not driven)\b"
        )
    ):
        s.note("his_driven", 0.0, "h")
        s.note("his_duty", 0.0, "h")
        if q.has(r"\b(?:how long can (?:he|she)|he|she|other)\b"):
            s.note("ask", "him")
        return [rest] if rest is not None else []
    return []


def _by_clock(s: Sheet, used: list[Amount]) -> None:
    """On duty since a time of day."""
    q = s.q
    since = q.one(
        r"\b(?:on duty since|since|been on since|started at|start at|came on (?:duty )?at|on at|began at|clocked in at|started work at|ended at|up since) (?:about |around )?({clock}|{n})\b",
        r"\bstarted (?:driving )?({clock})",
    )
    if since is None or since in used or s.has("duty") and "duty" in s.fresh:
        return
    now = Amount(s.now.hour + s.now.minute / 60, "clock")
    at = next((a for a in q.every(r"\b(?:now|it|it is now|it now) (?:is |it )?({clock})") if a != since), None)
    spent = clock_hours(since, at or now)
    if spent >= 20:
        spent = 0.0
    if spent < s.number_or("driven", 0.0) and spent + 12 <= 24 and (since.unit == "n" or since.pieces):
        spent += 12
    s.note("duty", spent, "h")
    s.note("since", since.value, "clock")
    used.append(since)
    if (
        q.has(r"\b<h> (?:off duty|off)\b|\bhad <h> off\b")
        and "off_inside" not in s.fresh
        and not q.has(r"<h> off ended")
    ):
        off = q.one(r"({h}) off")
        if off is not None:
            s.note("off_inside", hours(off), "h")
    if q.has(r"\boff ended at\b|\bended at\b") and not s.has("driven"):
        s.note("driven", 0.0, "h")
        s.assumed.append("nothing driven yet since then: say if you have")


def driving_hours(s: Sheet) -> Estimate:
    """Hours of driving left, for one or two drivers."""
    from cabassist.estimate import driving_hours as rule

    ask = s.text("ask")
    if ask == "trip":
        return trip(s)
    if ask == "restart":
        return rule.restart()
    if ask == "break":
        return rule.half_hour_break()
    if ask == "split":
        return rule.split_rest(s.number("split_a"), s.number("split_b"))
    if ask == "sum":
        mine, his = s.number("left_a"), s.number("left_b")
        line = f"{shown(mine)} + {shown(his)} = {shown(mine + his)} h"
        return Estimate(
            "driving left for both",
            mine + his,
            "h",
            mine + his,
            mine + his,
            (line,),
            (rule.HELPER, "the one who does not drive is off duty or in a berth that counts"),
            rule.SOURCE,
            f"{shown(mine + his)} hours between both. {rule.HELPER}",
        )
    if ask == "rest":
        return _rest(s)
    if s.has("his_driven") and not s.has("driven") and s.q.has(TOGETHER):
        raise Missing("driven", ASK_HOURS, "h")
    if ask == "him" or (s.has("his_driven") and not s.has("driven")):
        return _his(s)
    if not s.has("driven") and s.has("week") and not s.has("duty"):
        return week(s)
    if not s.has("driven"):
        s.inputs["awaits"] = s.inputs.get("awaits") or Input("awaits", "hours")
        if s.has("duty"):
            raise Missing("driven", "And how many hours of that did you drive?", "h")
        raise Missing("driven", ASK_HOURS, "h")
    driven = s.number("driven", "h")
    duty = (
        s.number("duty", "h")
        if s.has("duty")
        else driven + (s.number("other_work", "h") if s.has("other_work") else 0.0)
    )
    if not s.has("duty"):
        s.assumed.append(
            "on-duty limit not checked: say your hours on duty"
            if not s.has("other_work")
            else f"on duty {shown(duty)} h: driving and the other work"
        )
    if duty < driven:
        if s.has("since"):
            raise ValueError(
                f"{shown(driven)} hours of driving do not fit into {shown(duty)} hours on duty. Say both again."
            )
        duty = driven
    days = round(s.number("week_days")) if s.has("week_days") else None
    week_days: Literal[7, 8] | None = 8 if days == 8 else 7 if days == 7 else None
    adverse = s.text("adverse")
    met: Literal["met on the way", "known before"] | None = (
        "met on the way" if adverse.startswith("met") else "known before" if adverse else None
    )
    found = rule.hours_left(
        driven,
        duty,
        off_duty_inside_h=min(s.number("off_inside", "h"), max(0.0, duty - driven))
        if s.has("off_inside", "duty")
        else 0.0,
        week_total_h=s.number("week", "h") if s.has("week") else None,
        week_days=week_days,
        adverse=met,
        planned_driving_h=s.number("planned", "h") if s.has("planned") else None,
    )
    if s.has("two") and s.has("his_driven"):
        return _both(s, found)
    if s.has("two") and not s.has("his_driven"):
        found = with_verdict(found, "For you:")
    if ask == "duty" and found.value is not None:
        limit = next((f for f in found.also if "on-duty" in f.name), None)
        if limit is not None:
            return replace(
                found,
                name="on duty left",
                value=limit.value,
                low=limit.value,
                high=limit.value,
                also=(figure("driving left", found.value, "h"), *(f for f in found.also if f is not limit)),
            )
    if ask == "when" and found.value is not None and found.value > 0:
        return with_verdict(found, f"Stop by {clock(s.now, found.value)} if you drive on without a pause.")
    return found


def _his(s: Sheet) -> Estimate:
    from cabassist.estimate import driving_hours as rule

    his = rule.hours_left(s.number("his_driven"), s.number("his_duty"))
    if not s.has("driven"):
        return his
    mine = rule.hours_left(
        s.number("driven"),
        max(s.number("driven"), s.number("duty") if s.has("duty") else 0.0),
        off_duty_inside_h=s.number("off_inside") if s.has("off_inside") else 0.0,
    )
    both = rule.two_drivers(mine, his, names=("you", "the other driver"))
    return with_also(
        with_verdict(his, f"His own {shown(his.value or 0.0)} hours."),
        figure("both together", both.value or 0.0, "h"),
        figure("you", mine.value or 0.0, "h"),
    )


def _both(s: Sheet, mine: Estimate) -> Estimate:
    from cabassist.estimate import driving_hours as rule

    his = rule.hours_left(s.number("his_driven"), max(s.number("his_driven"), s.number("his_duty")))
    return rule.two_drivers(mine, his, names=("you", "the other driver"))


def _rest(s: Sheet) -> Estimate:
    from cabassist.estimate import driving_hours as rule

    if s.has("stopped"):
        given = s.inputs["stopped"]
        at = Amount(float(given.value), "clock", pieces=("?",) if given.unit == "clock?" else ())
        ahead = hours_until_clock(s, at)
        ago = 24 - ahead
        if ago >= 16:
            left = rule.rest_needed(0.0)
            needed = ahead + rule.REST_H
            line = f"{shown(ahead, 3)} h until then + {rule.REST_H:g} h off"
            return replace(
                with_verdict(left, f"Not before {clock(s.now, needed)}."),
                value=needed,
                low=needed,
                high=needed,
                working=(line,),
            )
        s.note("rested", max(0.0, ago), "h")
        left = rule.rest_needed(min(ago, 8.0))
        needed = left.value or 0.0
        ended = f"Now: 8 hours off were up at {time_of_day(float(given.value) + rule.REST_H)}."
        return with_verdict(left, f"Not before {clock(s.now, needed)}." if needed > 0 else ended)
    found = rule.rest_needed(s.number("rested", "h") if s.has("rested") else 0.0)
    return found
