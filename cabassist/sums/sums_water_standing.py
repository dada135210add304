"""Sums over a tank in which nothing flows: what is in it, what still goes in, what went in or out between two readings."""

from __future__ import annotations

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.sums.families import Told, done
from cabassist.sums.sums_water_tank import Tank

_MORE = Lazy(r"\bhow many more gallons\b|\bhow much (?:\w+ )?more\b|\bhow many gallons more\b")
_ROOM = Lazy(
    r"\b(?:gallons|gal|liters|litres) to (?:fill|full|the top|top (?:it )?(?:off|up)|go)\b|\b(?:room|space)\b|\b(?:how (?:much|many (?:us )?(?:gallons|liters|litres))) (?:more|to (?:fill|top|bring|get)|can i (?:add|put|take)|does it (?:need|take)|will it (?:still )?take|fits?)\b|\bto (?:fill it|top it)\b"
    r"|\bhow (?:much|many (?:us )?(?:gallons|liters|litres)) (?:can |will |do |does |would )?(?:still )?(?:go(?:es)? in|fit)\b"
)


def standing(t: Told, tank: Tank) -> Estimate | None:
    """What is in a tank, or what still goes in, when nothing flows."""
    term = t.one("level")
    if term is not None and t.has("before"):
        return _changed(t, tank, term)
    if term is None or t.want.kind not in ("volume", "share", "") or t.has("needed", "people"):
        return None
    inside = tank.gallons(term)
    if inside is not None and t.has("add") and not t.has("target") and not tank.waste:
        return _to_have(t, tank, inside)
    goal = t.value("target")
    if inside is None or inside > tank.capacity:
        return None
    own = abs(tank.height - t.coach.tank(tank.name).depth_in) < 0.1
    if term.kind == "length" and (_DOWN.search(term.around) or not (own or tank.said or t.want.kind == "share")):
        return None  # told from the top, or in another tank, whose size is not said
    tank.assume()
    if _ROOM.search(t.question.frame) or _MORE.search(t.question.frame):
        top = tank.capacity if goal is None else goal * tank.capacity if goal <= 1 else goal
        room = top - inside
        tank.used_capacity = True
        return done("room", room, "gal", t, (f"{shown(top)} - {shown(inside)} gal = {shown(room)} gal",)) if room > 0 else None  # fmt: skip
    if goal is not None:
        return None
    if t.want.kind == "volume" and term.kind in ("share", "length"):
        share = 100 * inside / tank.capacity
        return done("in the tank", inside, "gal", t, (f"{shown(share, 3)} % of {shown(tank.capacity)} gal = {shown(inside)} gal",))  # fmt: skip
    if t.want.kind == "share" and term.kind in ("volume", "length"):
        share = 100 * inside / tank.capacity
        return done("full", share, "percent", t, (f"{shown(inside)} ÷ {shown(tank.capacity)} gal = {shown(share, 3)} %",))  # fmt: skip
    return None


_DOWN = Lazy(r"# (?:\w+ )?(?:from|off|below|under|shy of|down)\b|\bdown # ")
_MISSING = Lazy(r"\bhow (?:much|many (?:more )?(?:gallons|liters|litres)) (?:\w+ ){0,2}?(?:more|extra|do|must|should|to put|need|short)\b|\b(?:need|needed|short)\b")  # fmt: skip
_WANTS = Lazy(r"\b(?:need|needs|want|wants|have to have|must have|use|using) (?:[a-z]+ ){0,3}?# ")
_MOVED = Lazy(
    r"\b(?:went|gone|came|come|put|poured|added|add|used|use|lost|gained|flowed|ran|run|drained|taken|took|increase|between)\b"
)


def _to_have(t: Told, tank: Tank, inside: float) -> Estimate | None:
    """What is still to be put in for what will be needed."""
    parts = t.all("add")
    if len(parts) != 1 or not _WANTS.search(parts[0].around) or not _MISSING.search(t.question.frame):
        return None
    missing = parts[0].value - inside
    tank.assume()
    line = f"{shown(parts[0].value)} - {shown(inside)} gal = {shown(missing)} gal"
    if missing <= 0:
        return done("still to be put in", 0.0, "gal", t, (line,), f"Nothing more: {shown(inside)} gallons are in it.", figure("to spare", -missing, "gal"))  # fmt: skip
    over = "" if parts[0].value <= tank.capacity else "That is more than the tank holds."
    return done("still to be put in", missing, "gal", t, (line,), over, figure("in it now", inside, "gal"))


def _changed(t: Told, tank: Tank, last: Term) -> Estimate | None:
    """What went in or out between two readings of one tank, when no time is told with them."""
    first = t.one("before")
    if first is None or t.want.kind not in ("volume", "") or t.want.rate or not _MOVED.search(t.question.frame):
        return None
    a, b = tank.gallons(first), tank.gallons(last)
    if a is None or b is None or (first.kind != last.kind and "n" not in (first.kind, last.kind)):
        return None
    if t.has("elapsed", "needed"):
        return None
    t.all("elapsed"), t.all("needed")
    tank.assume()
    return done("went in" if b > a else "went out", abs(b - a), "gal", t, (f"{shown(max(a, b))} - {shown(min(a, b))} gal = {shown(abs(b - a))} gal",))  # fmt: skip
