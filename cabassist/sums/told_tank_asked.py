"""Questions of a tank that are told whole: showers until it is full, a flow from gallons and minutes, what goes in above the water, room after some hours."""

from __future__ import annotations

import math
from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, compiled
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.placed import placed
from cabassist.language.wanted import Wanted

_FLOWS = frozenset({"gal/min", "gpm", "n/min"})
_HOW_MANY = Lazy(r"\bhow many (?:(?:more|whole|full|such|good|of (?:those|these)) ){0,2}(?:showers|rinses)\b")


def whole_showers(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Whole showers of some minutes at so much a minute that so many gallons, of water or of room, are enough for."""
    if not names_any(q.text.lower(), ("shower", "rinse")) or not _HOW_MANY.search(q.frame) or len(q.amounts) != 3:
        return None
    stock = [one for one in q.amounts if one.tag == "gal"]
    flows = [one for one in q.amounts if one.tag in _FLOWS]
    minutes = [one for one in q.amounts if one.tag in ("min", "min/each")]
    if [len(stock), len(flows), len(minutes)] != [1, 1, 1] or q.has(r"\b(?:reserve|keep|leave|hose|percent|half)\b"):
        return None
    if names_any(q.text.lower(), ("waste", "gray", "grey", "black")) and not q.has(
        r"\b(?:room|space|empty|free|before)\b"
    ):
        return None  # what is in it already
    each = flows[0].value * minutes[0].value
    if not each:
        return None
    whole = math.floor(stock[0].value / each + 1e-9)
    lines = (f"{shown(flows[0].value)} x {shown(minutes[0].value)} = {shown(each)} gal a shower", f"{shown(stock[0].value)} ÷ {shown(each)} = {shown(stock[0].value / each)}")  # fmt: skip
    return exact("showers", whole, "showers", working=lines, source="arithmetic", also=(figure("a shower", each, "gal"),))  # fmt: skip


_FLOW_ASKED = Lazy(r"\b(?:what|how much|how fast|how many gallons)\b[^.?]*\b(?:flow\w*|rate|(?:a|per|each) minute|(?:an|per) hour|gpm)\b|\bwhat flow\b|\bflow (?:is|was|rate)\b")  # fmt: skip
_PUT = Lazy(r"\b(?:put|took|got|ran|filled?|pumped|gave|in|run|takes?|fills?)\b")


def flow_of(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Gallons a minute from gallons and the minutes they took."""
    if (
        len(q.amounts) != 2
        or not names_any(q.text.lower(), ("flow", "rate", "minute", "gpm"))
        or not _FLOW_ASKED.search(q.frame)
    ):
        return None
    gallons = [one for one in q.amounts if one.tag == "gal"]
    times = [one for one in q.amounts if one.tag in ("min", "s", "h")]
    if [len(gallons), len(times)] != [1, 1] or not _PUT.search(q.frame) or times[0].value <= 0:
        return None
    if q.has(r"\b(?:idl\w*|diesel|fuel|burn\w*|propane|leak\w*|drip\w*|people|shower|how long|left)\b"):
        return None
    minutes = times[0].value * {"min": 1.0, "s": 1 / 60, "h": 60.0}[times[0].tag]
    if q.has(r"\b(?:an|per|each) hour\b"):
        return None
    flow = gallons[0].value / minutes
    return exact("flow", flow, "gal/min", working=(f"{shown(gallons[0].value)} gal ÷ {shown(minutes)} min = {shown(flow)} gal/min",), source="arithmetic")  # fmt: skip


_ABOVE = compiled(r"({in}) (?:of )?(?:space|room|air|headroom|empty)(?: (?:is|left|still|at|above|on|to|free))*(?: the)? ?(?:top|lid|brim|in it|left)?\b")  # fmt: skip
_GOES_IN = Lazy(r"\bhow (?:many|much)\b[^.?]*\b(?:more|go in|fit|room|before|take|goes in)\b")


def above_water(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Gallons that still go into one of the coach's own tanks, by the inches of space at its top."""
    if len(q.amounts) != 1 or q.amounts[0].unit != "in" or not _GOES_IN.search(q.frame) or not _ABOVE.search(q.frame):
        return None
    waste, fresh = q.has(r"\b(?:waste|black|gr[ae]y|sewage|holding)\b"), q.has(r"\b(?:fresh|clean|drinking)\b")
    tank = next((one for one in coach.tanks if one.name == ("waste" if waste else "fresh")), None)
    if bool(waste) == bool(fresh) or tank is None or not tank.depth_in or tank.shape != "rectangular":
        return None
    inches = q.amounts[0].value
    if not 0 <= inches <= tank.depth_in:
        return None
    room = tank.capacity_gal * inches / tank.depth_in
    line = f"{shown(tank.capacity_gal)} gal x {shown(inches)} ÷ {shown(tank.depth_in)} in = {shown(room)} gal"
    return exact("room", room, "gal", working=(line,), source="arithmetic", assumptions=(f"the {tank.name} tank of the profile",))  # fmt: skip


_ROOM_LEFT = Lazy(
    r"\bhow (?:many|much)(?: \w+){0,2} (?:room|space)\b[^.?]*\bleft\b|\b(?:room|space) (?:will be |is |would be |are )?left\b"
)


def room_after(q: Question, want: Wanted, now: datetime, coach: Coach) -> Estimate | None:
    """Gallons of room in the waste tank after so many hours of so many people, and whether it holds till then."""
    if not names_any(q.text.lower(), ("room", "space")) or not _ROOM_LEFT.search(q.frame) or not q.has(r"\b(?:waste|black|gr[ae]y|holding)\b"):  # fmt: skip
        return None
    found = placed(q)
    if found is None or len(found) not in (4, 5):
        return None
    shares = [one for one in found if one.unit in ("percent", "part")]
    people = [one for one in found if one.unit == "people"]
    hours = [one for one in found if one.unit in ("h", "day") and not one.amount.per]
    uses = [one for one in found if one.unit == "gal" and one.amount.each and one.amount.per == "day"]
    sizes = [one for one in found if one.unit == "gal" and not one.amount.each and not one.amount.per]
    if [len(shares), len(people), len(hours), len(uses)] != [1, 1, 1, 1] or 4 + len(sizes) != len(found) or len(sizes) > 1:  # fmt: skip
        return None
    tank = next((one for one in coach.tanks if one.name == "waste"), None)
    size = sizes[0].value if sizes else tank.capacity_gal if tank is not None else 0.0
    level = shares[0].value / (100 if shares[0].unit == "percent" else 1)
    if not size or not 0 <= level <= 1 or Lazy(r"^(?:empty|of room|to go)\b").search(shares[0].right):
        return None
    span = hours[0].value * (24 if hours[0].unit == "day" else 1)
    into = people[0].value * uses[0].value * span / 24
    left = size * (1 - level) - into
    said = f"Yes: {shown(left)} gallons of room are left." if left >= 0 else f"No: {shown(-left)} gallons too many."
    lines = (f"{shown(people[0].value)} x {shown(uses[0].value)} x {shown(span)} ÷ 24 = {shown(into)} gal", f"{shown(size)} x (1 - {shown(level)}) - {shown(into)} = {shown(left)} gal")  # fmt: skip
    return exact("room left" if left >= 0 else "too much", abs(left), "gal", working=lines, source="arithmetic", verdict=said, also=(figure("goes in", into, "gal"),))  # fmt: skip
