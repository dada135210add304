"""Questions about propane cylinders as a set: which to run from first, and how much one may legally hold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.sums.told_parted import parts
from cabassist.sums.working_propane import coach_burn
from cabassist.sums.working_roles import by_words
from cabassist.sums.working_sheet import Missing, Sheet, quantity
from cabassist.sums.working_unplaced import WORDED

_CYLINDER = Lazy(r"\b(?:cylinders?|cyls?|bottles?|pounders?|propane tanks?|lp tanks?)\b|<cylinder>")
_ORDER = Lazy(
    r"\b(?:which|what|wich)\b[^?.]*\b(?:cylinders?|cyls?|bottles?|tanks?|ones?|sides?|pounders?)\b[^?.]*\b(?:first|run (?:on|from|off)|draw from|burn from|feed from|start (?:with|on))\b"
    r"|\b(?:what|which|right|best|in what|proper) order\b|\border (?:of use|to use|do (?:i|we))\b|\bfirst\b[^?.]*\b(?:which|or)\b|\b(?:use|run|burn|open|draw)\b[^?.]*\bfirst\b|\bfirst\b[^?.]*\b(?:use|run|burn|open|draw|feed)\b"
)
_ASKS = Lazy(r"\b(?:which|what|wich|should|do (?:i|we)|does|or)\b")
_NOT_USE = Lazy(
    r"\b(?:fill\w*|refill\w*|swap\w*|weigh\w*|leak\w*|smell\w*|date|stamp\w*|retest\w*|requal\w*|clos\w*|shut\w*|waste|fresh|water|battery|batteries|diesel|connect\w*|disconnect\w*|take (?:out|off)|load\w*|check\w*|inspect\w*|read|heav\w*)\b|<(?:BTU|BTU/h|W|A|V|people|day|night|h)(?:/\w+)?>"
)
_PLACES = r"near|far|main|outside|outer|curb ?-?side|curb|inside|inner|street ?-?side|street|spare|left|right|front|rear|back|driver(?: '?s)?(?: side)?|passenger(?: side)?"
_PLACE = Lazy(rf"\b({_PLACES})\b")
_FULL = Lazy(
    rf"\b({_PLACES})\b(?: (?:one|bottle|cylinder|tank|side|is|are|at|shows|reads|about|almost|nearly|still|brand|new|and|the)){{0,4}} (full|empty)\b"
)
_FEEDS = Lazy(
    rf"\b(?:running|feeding|burning|drawing|we are|we ' re|on) (?:now )?(?:on|off|from) (?:the )?({_PLACES})\b|\b({_PLACES})\b(?: (?:one|bottle|cylinder|side|is|that)){{0,3}} (?:feeding|running|in use|on now|feeds now)\b"
)


def order_asked(q: Question) -> bool:
    """Whether it asks from which cylinder to run first."""
    frame = q.frame
    if not _CYLINDER.search(frame) or _NOT_USE.search(frame) or not (_ORDER.search(frame) and _ASKS.search(frame)):
        return False
    told = [a for a in q.amounts if not (a.unit == "n" and a.value in (1, 2, 3))]
    measured = ("part", "percent", "lb", "kg", "gal", "L", "F", "C", "temp", "cylinder")
    return all(a.unit in measured or (a.unit == "n" and (_share(a) or _beside(q))) for a in told)


def order_said(s: Sheet) -> None:
    """Inputs of "outside is a quarter and inside half, which do I run first"."""
    q = s.q
    levels, earlier = _levels(q)
    for place, value, unit in earlier:
        s.note(f"{_role(s, place)} earlier", value, unit)
    for place, value, unit in levels:
        s.note(f"{_role(s, place)} left", value, unit)
    if not levels:  # "the half empty one or the full one": the rule alone tells it
        s.note(WORDED, by_words(q, *(a for a in q.amounts if a.unit in ("part", "percent"))))
    feeds = _FEEDS.search(q.frame)
    if feeds is not None:
        s.note("feeds", _role(s, feeds[1] or feeds[2]))
    air = next((a for a in q.amounts if a.unit in ("F", "C", "temp")), None)
    s.say("outside", air)
    named = q.one(r"({lb}) (?:propane |steel )?(?:bottles?|cylinders?|pounders?|tanks?)\b")
    s.say("size", named)


_MEASURES = ("part", "percent", "lb", "kg", "gal", "L")


def _share(one: Amount) -> bool:
    """Whether a bare number can only be a share: "point six"."""
    return one.unit == "n" and 0 < one.value < 1


def _beside(q: Question) -> str:
    """The one unit that is said of another cylinder, in which a bare number is then; "" when there is none, or are several."""
    units = {one.unit for one in q.amounts if one.unit in ("lb", "kg", "percent")}
    return units.pop() if len(units) == 1 else ""


_NOW = Lazy(r"\b(?:now|currently)(?: (?:it|is|only|at|just|about|down|to|reads|shows))* $|^ (?:now|at the moment)\b")
_IN_IT = Lazy(rf"^ (?:of (?:propane|gas|lp) )?(?:left )?in (?:the |our |my )({_PLACES})\b")
"""What is told in a place that stands right behind is of no other."""
_BEFORE = Lazy(r"\b(?:was|were|had|been)\b")


def levels_told(q: Question) -> Iterator[tuple[str, float, str]]:
    """What is told to be in each cylinder: the word for its place, the amount and its unit, "part" for full and empty.

    A second level of one cylinder that is told to be now takes the place of the first.
    """
    yield from _levels(q)[0]


_Levels = list[tuple[str, float, str]]


def _levels(q: Question) -> tuple[_Levels, _Levels]:
    """The levels that are now, and those that were before."""
    earlier: _Levels = []
    told: dict[str, tuple[float, str]] = {}
    place = ""
    was = False
    for part in parts(q):
        unit = part.unit
        if unit == "n" and part.value not in (1, 2, 3):
            unit = "part" if _share(part.amount) else _beside(q)
        if unit not in _MEASURES:
            continue
        places = _IN_IT.findall(part.right) or _PLACE.findall(part.left) or (_PLACE.findall(part.right)[:1] if not (was and _NOW.search(part.left)) else [])  # fmt: skip
        value = part.amount.value
        if places:
            place = places[-1]
            was = _BEFORE.search(part.left) is not None
            told[place] = value, unit
        elif was and (_NOW.search(part.left) or _NOW.search(part.right)):
            earlier.append((place, *told[place]))
            told[place] = value, unit
            was = False
    found = [(name, value, unit) for name, (value, unit) in told.items()]
    found += [(match[1], 1.0 if match[2] == "full" else 0.0, "part") for match in _FULL.finditer(q.frame)]
    return found, earlier


def _role(s: Sheet, place: str) -> str:
    """What the profile calls the cylinder of a place: "curb side" is the outside one; other words stay as they are."""
    word = place.replace("-", " ").removesuffix(" side").removesuffix(" 's").replace("curbside", "curb").replace("streetside", "street")  # fmt: skip
    for cylinder in s.coach.propane.cylinders:
        if cylinder.side_name.startswith(word) and cylinder.side_name != "none":
            return cylinder.role
    return {"outer": "outside", "inner": "inside"}.get(word, word)


def _spoken(place: str) -> str | None:
    """How a cylinder is named that was told by its side of the coach, so that its driver knows it again; else None."""
    return next((f"{side}-side" for side in ("curb", "street") if place.startswith(side)), None)


def order(s: Sheet) -> Estimate:
    """The order of use by what is in each cylinder, with hours when the burn is known; the rule when nothing is."""
    from cabassist.estimate.cylinders import CylinderLevel, order_of_use

    own = s.coach.propane.cylinders
    size = s.number("size", "lb") if s.has("size") else own[0].nominal_lb if own else 40.0
    told = {name.removesuffix(" left"): given for name, given in s.inputs.items() if name.endswith(" left")}
    left: dict[str, Any] = {}
    for place, given in told.items():
        value = float(given.value) / (100 if given.unit == "percent" else 1)
        left[place] = quantity(value * size, "lb") if given.unit in ("part", "percent") else s.amount(f"{place} left")
    for cylinder in own:
        if cylinder.role not in left and not set(left) - {one.role for one in own}:
            share = _share_read(s, cylinder.role)
            if share is not None:
                left[cylinder.role] = quantity(share * cylinder.nominal_lb, "lb")
    feeding = [one.role for one in own if one.role != "spare"]
    if not left:
        return _rule(s)
    missing = [role for role in feeding if role not in left]
    if len(left) == 1 and missing and set(left) <= set(feeding):
        raise Missing(f"{missing[0]} left", f"How full is the {missing[0]} cylinder?", "percent")
    spoken = {_role(s, place): _spoken(place) for place, _, _ in levels_told(s.q)}
    levels = [
        CylinderLevel(spoken.get(role) or role, amount, feeding=s.text("feeds") == role, connected=role != "spare")
        for role, amount in left.items()
    ]
    burn = None
    if s.from_reading("outside", "outside_temp", "outside temperature", "F"):
        heat = coach_burn(s)
        burn = quantity(heat.value, "BTU/h") if heat.value else None
    return order_of_use(levels, burn, automatic_changeover=s.coach.propane.automatic_changeover, now=s.now)


def _share_read(s: Sheet, role: str) -> float | None:
    from cabassist.language.plausibility import fraction_of_full

    held = s.latest("propane", role)
    share = None if held is None else fraction_of_full(held.reading, s.coach)
    if held is not None and share is not None:
        s.assumed.append(f"{role} cylinder at {shown(100 * share, 3)} %, {s.age(held)}")
    return share


def _rule(s: Sheet) -> Estimate:
    spare = any(one.role == "spare" for one in s.coach.propane.cylinders)
    turn = "The changeover then goes to the other by itself" if s.coach.propane.automatic_changeover else "Then turn the lever to the other"  # fmt: skip
    last = " The spare on its rack comes last." if spare else ""
    return Estimate(
        "cylinder to run from first",
        None,
        "",
        working=("the one that feeds goes on; otherwise the one with least left goes first",),
        source="common practice, no source",
        verdict=f"The one with least left first, so that it can be filled while the other feeds. {turn}.{last} Tell me how full each is and ask again: I name it.",
    )


_LEGAL = Lazy(
    r"\b(?:legal\w*|allowed|max\w*|most|limit|law|lawful|how full|may|supposed to|permitted|safely|is that all|all (?:they|i|you) can)\b|\bhow much\b[^?.]*\b(?:put|go|goes|fill|hold|holds|fit|fits|take|takes|pump)\b"
)
_FILLS = Lazy(
    r"\b(?:put|fill\w*|refill\w*|hold|holds|go|goes|fit|fits|take|takes|full|pump\w*|most|max\w*|carry|in it|in (?:a|one|the|each|my|our))\b"
)
_NOT_LEGAL = Lazy(
    r"\b(?:water capacity|wc|tw|tare|weigh\w*|scale|left|last|lasts|burn\w*|already|furnace\w*|fresh|waste|water tank|hours?|days?|need|cost|price|pay|more|room|over ?fill\w*|over the|top (?:it )?(?:up|off)|empty|still|has|have|with)\b"
)
_SIZE = Lazy(
    r"<(?:lb|kg)> (?:(?:propane|steel|aluminum|lp|gas) )?(?:cylinders?|cyls?|bottles?|tanks?|pounders?|ones?)\b"
)
_GRAVITY = r"\b(?:specific gravity|gravity|sg) (?:of |is |at |around |about )?({n})|({n}) (?:specific )?gravity"
KNOWN_CORRECTION = {60: 1.0, 40: 1.031}
"""Table H-29 of 29 CFR 1910.110 at the temperatures whose factor is confirmed."""


_TWICE = Lazy(
    r"\b(?:do|must|should|shall|does|would|have|is it|so) (?:i|we|you|he|they|that|only|to|it)\b[^.?]*<percent>[^.?]*\b(?:of (?:that|it|those|this|<lb>)|again|once more|off)\b| <percent> (?:of (?:that|it|those) )?(?:already|again)\b"
)
"""Whether 80 percent of the pounds in a cylinder's name is to be taken once more."""


TAKEN_TWICE = 0.8
"""Of the pounds in its name, what somebody says that a cylinder gets."""


def _asks_twice(q: Question) -> bool:
    others = [one for one in q.amounts if one.unit not in ("lb", "kg", "percent", "cylinder")]
    shares = [one.value for one in q.amounts if one.unit == "percent"]
    sizes = {one.value for one in q.amounts if one.unit in ("lb", "kg")}
    if len(sizes) == 2 and min(sizes) == TAKEN_TWICE * max(sizes) and _LEGAL.search(q.frame):
        return shares in ([80], []) and not others and (_CYLINDER.search(q.frame) is not None or _is_pounder(q))
    named = _is_pounder(q) or _SIZE.search(q.frame) is not None
    return named and shares == [80] and len(sizes) == 1 and not others and _TWICE.search(q.frame) is not None


def fill_asked(q: Question) -> bool:
    """Whether it asks for the legal fill of a cylinder of some size, with nothing in it told."""
    frame = q.frame
    if _asks_twice(q):
        return True
    if _NOT_LEGAL.search(frame) or not (_LEGAL.search(frame) and _FILLS.search(frame)):
        return False
    if q.has(_GRAVITY) and q.has(r"<gal>"):
        return Lazy(r"\b(?:propane|lp|container|tank|cylinder)\b").search(frame) is not None
    if not (_CYLINDER.search(frame) or _is_pounder(q) or (_SIZE.search(frame) and "propane" in frame)):
        return False
    sizes = [a for a in q.amounts if a.unit in ("lb", "kg")]
    rest = [a for a in q.amounts if a not in sizes and not (a.unit == "percent" and a.value == 80) and not (a.unit == "n" and a.value == 1) and a.unit != "cylinder"]  # fmt: skip
    if rest or len(sizes) > 1 or (sizes and not (_SIZE.search(frame) or _is_pounder(q))):
        return False
    return bool(sizes) or Lazy(r"\b(?:legal\w*|law|lawful|max\w*|how full|most|limit)\b").search(frame) is not None


def _is_pounder(q: Question) -> bool:
    return any(q.words[a.end - 1] in ("pounder", "pounders") for a in q.amounts)


def fill_said(s: Sheet) -> None:
    """Inputs of "how much can I legally put in a 40 pound cylinder"."""
    q = s.q
    s.say("size", max((a for a in q.amounts if a.unit in ("lb", "kg")), key=lambda a: a.value, default=None))
    s.say("claimed", min((a for a in q.amounts if a.unit in ("lb", "kg") and a.value != s.number_or("size")), key=lambda a: a.value, default=None))  # fmt: skip
    s.say("container", next((a for a in q.amounts if a.unit == "gal"), None))
    gravity = q.one(_GRAVITY)
    if gravity is not None:
        s.note("gravity", gravity.value)
    s.say("liquid", next((a for a in q.amounts if a.unit in ("F", "C", "temp")), None))
    for one in q.amounts:
        if one.unit == "percent":
            s.note("by volume", one.value, "percent")


def fill(s: Sheet) -> Estimate:
    """Pounds a cylinder may legally hold, with gallons beside; gallons of a container at a gravity and temperature."""
    from cabassist.estimate import cylinders

    if s.has("container", "gravity"):
        s.assume("liquid", 60.0, "F", "the liquid at 60 °F")
        fahrenheit = round(float(s.amount("liquid").m_as("degF")))
        if fahrenheit not in KNOWN_CORRECTION:
            raise ValueError("I know the volume correction at 40 and 60 °F only. Fill by weight, or by the gauge of the filler.")  # fmt: skip
        return cylinders.maximum_fill(
            s.amount("container"), specific_gravity=s.number("gravity"), volume_correction=KNOWN_CORRECTION[fahrenheit]
        )
    if not s.has("size"):
        own = s.coach.propane.cylinders
        s.profile("size", own[0].nominal_lb if own else 40.0, "lb", f"{shown(own[0].nominal_lb if own else 40.0)} lb cylinders")  # fmt: skip
    pounds = s.number("size", "lb")
    stamped = cylinders.fill_from_water_capacity(quantity(pounds / cylinders.FILLING_DENSITY, "lb"))
    gallons = next(one.value for one in stamped.also if one.unit == "gal")
    water = pounds / cylinders.FILLING_DENSITY
    lines = (
        f"{shown(pounds)} lb is what the cylinder is called by: {cylinders.FILLING_DENSITY} x {shown(water)} lb of water capacity",
        *stamped.working[1:],
    )
    return replace(
        exact("legal fill", pounds, "lb", working=lines, source=stamped.source),
        assumptions=(
            "propane of specific gravity 0.504 to 0.510",
            "the WC stamp decides: 0.42 of it is the legal fill",
        ),
        verdict=f"{'No: ' if _asks_twice(s.q) and ' or ' not in s.q.frame else ''}{shown(pounds)} pounds of propane, no more: that is about 80 percent of its space. Do not take 80 percent of the pounds again; the filler stops at the bleeder.",
        also=(figure("gallons", gallons, "gal"),),
    )
