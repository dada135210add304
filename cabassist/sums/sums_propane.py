"""Sums over propane: how long it lasts, how much is burned, pounds and gallons, what a stamp allows.

Everything is put into pounds: gallons by the trade weight, heat by what a pound gives.
"""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted
from cabassist.sums.families import Family, Told
from cabassist.sums.sums_propane_asked import count_wanted, duty_of, may_burn, rated
from cabassist.sums.sums_propane_burn import EVERY, asks_duty, burn_rate, must_last
from cabassist.sums.sums_propane_held import SPENDING, held_now, kept_lb, like_other
from cabassist.sums.sums_propane_roles import ROLES
from cabassist.sums.sums_propane_time import WHICH_LASTS, burned_within, lasts, left_after, of_two, share_left
from cabassist.sums.sums_propane_weight import as_wanted, cost, gone_between, heavy, stamped, weighed_out

_PROPANE = Lazy(
    r"\b(?:propane|propain|lp|lpg|cylinders?|bottles?|furnaces?|btus?|pounders?|cilinders?|heater|burners?|water capacity|wc|tare|tw|(?:pounds|lbs?|weight) of gas)\b|<BTU(?:/h)?(?:/each)?>"
)
_ELSEWHERE = Lazy(
    r"\b(?:diesel|mpg|batter\w*|bank|amps?|tires?|axles?|luggage|bags?|vs|versus|water(?! capacity)|miles|chill|freez\w*|fro[sz]e\w*|ice|idle|generator|bleach|fresh|waste|showers?|hose|fan|per degree|cabin|due|retest\w*|requal\w*|space heaters?|vapou?r\w*|feeds?|keep up)\b"
)


def applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    """Whether the sum is about propane."""
    frame = question.frame
    counted = want.kind == "times" and want.unit in ("cylinders", "bottles")
    if not (counted or want.kind in ("time", "volume", "mass", "energy", "power", "share", "")) or _ELSEWHERE.search(
        frame
    ):
        return False
    burned = any(term.kind == "mass" for term in terms) and (
        _BURNED.search(frame) or _PASSED.search(frame) or want.rate
    )
    return _PROPANE.search(frame) is not None or bool(_FILLER.search(frame) or burned)


_PASSED = Lazy(r"<lb> (?:left )?at <clock>")
_BURNED = Lazy(r"\b(?:burn\w*|burnt|used|using|left|go(?:ing|es)? th\w+|went th\w+)\b")
_FILLER = Lazy(r"\b(?:filler|pump guy|the guy pumped|guy put|fill station)\b")


def solve(t: Told) -> Estimate | None:
    """What follows from the amounts; None when nothing does."""
    if any(term.kind == "n" for term in t.roles.get("share", [])):  # "eighty percent at six and fifty now"
        shares = [one._replace(kind="share", value=one.value / 100) if one.kind == "n" else one for one in t.roles["share"]]  # fmt: skip
        t.roles = {**t.roles, "share": shares}
    for name in ("before", "reserve"):
        if t.has("share", name) and all(term.kind == "n" for term in t.roles[name]):
            t.roles = {**t.roles, name: [one._replace(kind="share", value=one.value / 100) for one in t.roles[name]]}
    if not _bare_fit(t):
        return None
    if t.has("gross", "tare"):  # "scale says 27 kilos, tare thirteen"
        scale, empty = t.roles["gross"][0], t.roles["tare"][0]
        t.roles = {**t.roles, "gross": [like_other(one, empty) for one in t.roles["gross"]], "tare": [like_other(one, scale) for one in t.roles["tare"]]}  # fmt: skip
    warm = any(term.kind == "temperature" for term in t.roles.get("beside", []))
    if (
        warm
        and not _FLAT_OUT.search(t.question.frame)
        and not any(t.has(name) for name in ("rate", "moved", "before", "duty", "on", "loss", "water_capacity"))
    ):
        return None  # how cold it is changes nothing about a rate that is told, but much about what is not
    if not _shares_fit(t):
        return None
    asked = _HOW_MANY.search(t.question.frame)
    if asked:
        t.want = replace(t.want, kind="times", unit="furnaces" if asked[1][0] in "fh" else "cylinders")
    if t.has("price"):
        return None if t.want.kind in ("time", "share", "power", "energy") else cost(t)
    if t.has("water_capacity"):
        return None if t.want.kind in ("time", "share", "power", "energy") else stamped(t)
    if t.has("tare") and not t.has("gross"):
        return heavy(t)
    if t.has("gross") and not any(t.has(name) for name in SPENDING):
        return weighed_out(t)
    if asks_duty(t):
        return duty_of(t)
    if t.has("before") and not any(t.has(name) for name in ("moved", "elapsed", "clock_before", "now", "needed")):
        return gone_between(t)
    content = held_now(t) if t.want.kind != "times" or t.has("left") or t.has("share") else (None, ())
    if content is None:
        return None
    pounds, lines = content
    burn = burn_rate(t)
    if burn is None:
        return None
    hourly, line = burn
    held = kept_lb(t)
    if held and pounds is not None:
        if held >= pounds:
            return None
        lines = (*lines, f"{shown(pounds)} - {shown(held)} lb kept = {shown(pounds - held)} lb")
        pounds -= held
    span = must_last(t)
    if span is None:
        return None
    needed = span or None
    if t.want.kind == "times":
        return count_wanted(t, pounds, hourly, line, needed)
    if (
        hourly == 0.0
        and pounds is not None
        and needed
        and (t.want.kind == "power" or (t.want.kind == "energy" and t.has("duty")))
    ):
        return may_burn(t, pounds, lines, needed)
    if t.want.kind == "share":
        return share_left(t, pounds, lines, hourly, line, needed)
    allowed = _PER.search(t.question.frame) if hourly == 0.0 and needed and not t.want.rate else None
    if allowed and t.want.kind in ("mass", "volume"):
        t.want = replace(t.want, rate="h" if allowed[1] == "hour" else "day")
    asked_per = _BURNS_PER.search(t.question.frame)
    if asked_per and not t.want.rate and pounds is None and needed is None and t.want.kind in ("mass", "volume", ""):
        t.want = replace(t.want, rate="h" if asked_per[1] == "hour" else "day")
    if t.want.rate and t.want.kind in ("mass", "volume", "energy", "") and not (t.has("nightly") and needed):
        return rated(t, pounds, lines, hourly, line, needed)
    if hourly == 0.0:
        return as_wanted(t, pounds, lines) if needed is None and pounds is not None else None
    if pounds is None:
        return burned_within(t, hourly, line, needed, held or 0.0)
    if needed is not None and (
        t.want.kind in ("mass", "volume") or (t.want.kind == "" and _BUY.search(t.question.frame))
    ):
        return left_after(t, pounds, lines, hourly, line, needed)
    if t.want.kind not in ("time", "") or (t.want.kind == "" and needed is None and not t.want.judged):
        return None
    return lasts(t, pounds, lines, hourly, line, needed)


def _bare_fit(t: Told) -> bool:
    """Put what is left or kept without a unit into the unit told beside it, and a share "every night" into one an hour."""
    if any(one.kind == "n" and not 0 < one.value <= 1 for one in t.roles.get("duty", [])):
        return False
    rates = t.roles.get("rate", [])
    if len(rates) == 1 and "/" not in rates[0].kind:
        every = EVERY.search(rates[0].around)
        if every is None or rates[0].kind == "n":
            return False
        hourly = rates[0].value / (1.0 if every[1] == "hour" else 24.0)
        rates = [rates[0]._replace(kind=f"{rates[0].kind}/time", value=hourly)]
        t.roles = {**t.roles, "rate": rates}
    kept = [one._replace(kind="n", value=one.amount.value) if one.unit == "in" else one for one in t.roles.get("reserve", [])]  # fmt: skip
    if any(one.kind == "length" for one in kept):
        return False
    t.roles = {**t.roles, "reserve": kept} if kept else t.roles
    told = [one for name in ("left", "reserve", "filled", "before") for one in t.roles.get(name, []) if one.kind in ("mass", "volume")]  # fmt: skip
    told += [one._replace(kind=one.kind.partition("/")[0], value=one.amount.value) for one in rates if one.unit in ("lb", "gal")]  # fmt: skip
    if told:
        for name in ("left", "reserve"):
            if name in t.roles:
                t.roles = {**t.roles, name: [like_other(one, told[0]) for one in t.roles[name]]}
    return True


_IS_EFFICIENCY = Lazy(
    r"# (?:\w+ )?effic|\beffic\w* (?:(?:of|is|at|about|around) )*# |\b(?:burns|burning) at (?:about )?# (?!(?:of )?(?:the |that )?(?:time|hour|night|day|duty)|duty)"
)
_IS_DUTY = Lazy(
    r"# (?:of )?(?:the |that |each |every |an? )?(?:time|hour|night|day|clock)\b|# duty\b|\bduty (?:cycle )?(?:(?:of|is|at|about) )*# "
)
_LEAST_EFFICIENT = 0.5
"""No furnace gets less of its heat into the air; what is told below that is something else."""
_BURNS_WELL = 0.7


def _shares_fit(t: Told) -> bool:
    """Whether no efficiency was taken for a share of the time, and no share of the time for an efficiency."""
    for one in t.roles.get("duty", []):
        if _IS_EFFICIENCY.search(one.around) and (one.value >= _BURNS_WELL or "effic" in one.around):
            return False
    return all(one.value >= _LEAST_EFFICIENT and not _IS_DUTY.search(one.around) for one in t.roles.get("efficiency", []))  # fmt: skip


_FLAT_OUT = Lazy(r"\b(?:flat out|wide open|full bore|full blast)\b")
"""The furnace is told to burn all the time."""
_HOW_MANY = Lazy(
    r"\bhow many (?:(?:of those|of these|of the|more|full|fresh|new|spare|extra|such|<lb>|propane|big|little) ){0,3}(furnaces|heaters|bottles|cylinders|<lb>(?= (?:do|does|would|will|should|must|for|to|is|are|at)))(?![\w])"
)
_PER = Lazy(r"\b(?:an|a|per|each|every) (hour|day|night)\b")
_BURNS_PER = Lazy(
    r"\b(?:what|how (?:much|many))\b[^,.]* (?:do|does|will|would|did|is)\b[^,.]* (?:burn|burns|use|uses|eat|drink|consume|take|takes|go through|burned|used)(?: \w+){0,2}? (?:a|an|per|each|every|in an|in a) (hour|day|night)\b"
)
""" "What do they burn an hour, in gallons": a rate, though the unit stands alone."""
_BUY = Lazy(r"\bhow much (?:more|extra|propane|gas|lp|fuel|(?:\w+ ){0,3}(?:buy|get|fetch|put in))\b")


def _calculation(question: Question) -> str:
    if Lazy(r"\b(?:how long|days?|nights?|hours?|hrs|burn|last)\b|<BTU").search(question.frame):
        return "propane-hours" if "<BTU" in question.frame else "propane-days-left"
    return "propane-weight"


def _solve(t: Told) -> Estimate | None:
    """Two lots of gas set against each other, or one sum."""
    two = len(t.roles.get("left", [])) == 2 == len(t.roles.get("burner", []))
    return of_two(t) if two and WHICH_LASTS.search(t.question.frame) else solve(t)


PROPANE = Family("propane", _calculation, applies, ROLES, _solve)
