"""The tank of a sum over water: which one it is, what is in it in gallons, and what flows until it is full or empty."""

from __future__ import annotations

from cabassist.estimate.quantities import shown
from cabassist.estimate.tanks import fraction_at_depth
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.sums.families import Told

WASTE = Lazy(
    r"\b(?:waste|black|gr[ae]y|sewage|holding tank|septic|poop?|lavvy|lav|loo|bog|crapper|toilets?|dump\w*|effluent|flush\w*|sewer)\b"
)
"""Words of the waste tank."""
FRESH = Lazy(r"\b(?:fresh|clean|drinking|potable|showers?|taps?|drink)\b")
"""Words of the fresh tank."""
_IN_GALLONS = Lazy(
    r"# (?:left|remaining|in it|in there|in the (?:\w+ )?tank|aboard|to go|on board)\b|\b(?:has|have|got|there is|there) (?:only |about |s )?# |\bfull at # "
)
_OF_SIZE = Lazy(r"# (?:full )?(?:out )?of (?:a |an |the |our |my )?(?:total )?<(?:gal|L)> ")
"""A bare level beside a size: "seventy of eighty gallons"."""


class Tank:
    """The tank a question is about, and amounts of it in gallons."""

    def __init__(self, told: Told) -> None:
        self.told = told
        frame = told.question.frame
        named = WASTE.search(frame) is not None and not (FRESH.search(frame) and not says_waste(frame))
        flushing = _DOES_TOILETS.search(frame) or (told.has("reserve") and _FOR_TOILETS.search(frame))
        self.waste = named and (says_waste(frame) or not flushing) and not _beside_waste(told)
        self.name = "waste" if self.waste else "fresh"
        self.named = WASTE.search(frame) is not None or FRESH.search(frame) is not None
        self.rising = True
        """Whether a waste tank fills; not while it is dumped."""
        self.dumped = False
        """Whether it is let out on purpose, so that sooner is better."""
        own = told.coach.tank(self.name)
        size = told.one("capacity")
        said = None if size is None else size.value * (_unit_told(told) if size.kind == "n" else 1.0)
        self.said = said is not None
        self.capacity = (said if said is not None else own.capacity_gal) * (told.value("tanks") or 1.0)
        height = told.value("height")
        self.height = height if height is not None else own.depth_in
        self.other = abs(self.height - own.depth_in) > 0.1 and self.in_gallons(told)
        self.shape = own.shape if height is None else "rectangular"
        kinds = {t.kind for name in ("level", "before", "target", "room", "reserve") for t in told.roles.get(name, []) if t.kind != "n"}  # fmt: skip
        rates = {t.kind.partition("/")[0] for t in told.roles.get("rate", []) if t.kind != "n/time"}
        rates |= {t.kind.partition("/")[0] for t in (*told.roles.get("use", []), *told.roles.get("per_event", []), *told.roles.get("moved", []), *told.roles.get("bucket", [])) if t.kind not in ("n", "n/time")}  # fmt: skip
        if not kinds and any(_OF_SIZE.search(t.around) for t in told.roles.get("level", [])):
            kinds = {"volume"}
        self.bare = next(iter(kinds)) if len(kinds) == 1 else ""
        self.bare_rate = next(iter(rates)) if not kinds and len(rates) == 1 else ""
        self.factor = _unit_told(told) if "volume" in (self.bare, self.bare_rate) else 1.0
        """Gallons in one of what numbers without a unit are told in."""
        self.used_capacity = False

    @staticmethod
    def in_gallons(told: Told) -> bool:
        """Whether anything is told or wanted in gallons, so that the size of the tank counts."""
        kinds = {term.kind for found in told.roles.values() for term in found}
        return bool(kinds & {"volume", "volume/time"}) or told.want.kind == "volume"

    def gallons(self, term: Term, flows: bool = False) -> float | None:
        """An amount of the tank in gallons; None when it is not known in what it was told, or can not be.

        What `flows` in is in the unit of the rate.
        """
        kind = term.kind if term.kind != "n" else self.bare or (self.bare_rate if flows else self._as_the_rate(term))
        if kind == "volume":
            return term.value * (self.factor if term.kind == "n" else 1.0)
        self.used_capacity = True
        if kind == "share":
            share = term.value / (100 if term.kind == "n" else 1)
            return share * self.capacity if share <= 1 else None
        if kind == "length":
            if self.other and not self.said:
                return None  # a tank of another height than the coach's, whose size is not told
            return self.capacity * fraction_at_depth(term.value / self.height, self.shape) if term.value <= self.height else None  # fmt: skip
        return None

    def _as_the_rate(self, term: Term) -> str:
        """What a bare level is in when only the rate has a unit: "63 left" is in gallons, "at 63" may be percent."""
        told = [one for name in ("level", "reserve") for one in self.told.roles.get(name, []) if one.kind == "n"]
        sure = self.bare_rate != "volume" or any(
            one.value > 100 or _IN_GALLONS.search(one.around) for one in (term, *told)
        )
        return self.bare_rate if sure else ""

    def assume(self) -> None:
        """Say which size was taken from the profile."""
        if self.used_capacity and not self.said:
            self.told.assumed.append(f"{self.name} tank {shown(self.capacity)} gal (profile)")


def _beside_waste(t: Told) -> bool:
    """Whether both tanks are told: the fresh water that is used, and the waste tank it ends up in."""
    return t.has("waste_room") or t.has("waste_level")


def within_waste(t: Told, gallons: float) -> tuple[float, str] | None:
    """What may be used of so much fresh water, as it all ends up in the waste tank, and which of the two sets the limit.

    (gallons, "") when nothing was told of the waste tank; None when it has no room.
    """
    if not _beside_waste(t):
        return gallons, ""
    room, level, size, limit = t.one("waste_room"), t.one("waste_level"), t.value("waste_size"), t.one("waste_limit")
    if room is not None and (level is not None or limit is not None):
        return None
    if size is None:
        size = t.coach.tank("waste").capacity_gal
        if any(one is not None and one.kind == "share" for one in (room, level)) or (limit is None and level is not None):  # fmt: skip
            t.assumed.append(f"waste tank {shown(size)} gal (profile)")

    def inside(one: Term) -> float:
        if one.kind == "n":
            return one.value * _unit_told(t)
        return one.value * size if one.kind == "share" else one.value

    if room is not None:
        free = inside(room)
    elif level is not None:
        free = (size if limit is None else inside(limit)) - inside(level)
    else:
        return None
    if free <= 0:
        return None
    which = "the fresh water" if gallons <= free else "the room in the waste tank"
    return min(gallons, free), f"{which[0].upper()}{which[1:]} sets the limit: {shown(gallons)} gallons fresh, {shown(free)} of room."  # fmt: skip


_FOR_TOILETS = Lazy(r"\b(?:for|to|in) (?:the |our )?(?:toilets?|flush\w*)\b")
"""What stays in "for the toilets" is clean water that flushes them."""
_DOES_TOILETS = Lazy(
    r"\b(?:do|does|run|runs|feed|feeds|supply|supplies|keep) (?:the |our |all |both )?(?:toilets?|flush\w*)\b"
)


def _unit_told(told: Told) -> float:
    """Gallons in the unit of volume that the tank is told in, or else what flows: of litres, 0.264."""
    for names in (("level", "before", "target", "room", "capacity"), ("rate", "use", "moved", "add", "bucket", "second", "against")):  # fmt: skip
        for term in (term for name in names for term in told.roles.get(name, [])):
            if term.kind in ("volume", "volume/time"):
                return 1.0 if term.unit == "gph" or term.unit == "gpm" else converted(1.0, "L" if term.unit == "L/min" else term.unit, "gal")  # fmt: skip
    return 1.0


def says_waste(frame: str) -> bool:
    """Whether the waste tank is named outright, and not only by what fills it."""
    return Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding)\b").search(frame) is not None


def first_in(t: Told, tank: Tank, *names: str) -> float | None:
    """The first amount there is of some roles, in gallons."""
    found = next((t.roles[name][0] for name in names if name in t.roles), None)
    return None if found is None else tank.gallons(found)


STARTS_FULL = Lazy(r"\b(?:full (?:fresh|clean|water|tank)|(?:tank|fresh|water)(?: tank)? (?:is )?(?:brim )?full|starts? full|with a full|topped (?:off|up))\b(?! in| by| at)")  # fmt: skip
"""A tank that is full to begin with."""
_STARTS_EMPTY = Lazy(r"\b(?:from (?:bone |dead )?(?:empty|dry|scratch|zero)|(?:is|was|just|tank) (?:bone )?(?:empty|dry|dumped|emptied)|empty (?:waste|tank|fresh|black|(?:\w+ )?<gal> tank))\b")  # fmt: skip
EMPTY_NOW = Lazy(r"\b(?:an empty|empty now|now empty|starts? empty|starting empty|it is empty and|just (?:been )?(?:dumped|emptied))\b|\bempty (?:\w+ )?<(?:gal|L)>")  # fmt: skip
"""A tank that is empty to begin with."""
_AND = Lazy(r"\b(?:another|plus|and|then)(?: \w+)? # ")
_INSIDE = Lazy(
    r"# (?:\w+ ){0,2}?(?:in|already|now|left|aboard)\b|\b(?:has|have|had|got|at|is|reads?|with|from|holding) (?:about |only )?# "
)


def to_the_end(t: Told, tank: Tank, filling: bool) -> tuple[float | None, str] | None:
    """The gallons that flow until the end, and what the end is; (None, "") when no level was told; None when it fits nothing."""
    frame = t.question.frame
    rising = (tank.waste and tank.rising) or filling
    if t.has("room"):
        room = t.one("room")
        return None if room is None or t.has("level") else (tank.gallons(room), "full")
    level = None
    if t.has("level"):
        term = t.one("level")
        level = None if term is None else tank.gallons(term)
        if term is None or level is None or (rising and level and EMPTY_NOW.search(frame)):
            return None
        if filling and term.kind == "volume" and not _INSIDE.search(term.around):
            t.doubt += 2.0  # "fill 75 gallons" is what goes in, not what is in already
    elif rising and (_STARTS_EMPTY.search(frame) or EMPTY_NOW.search(frame)):
        level = 0.0
    elif STARTS_FULL.search(frame) and not rising:
        level, tank.used_capacity = tank.capacity, True
    if t.has("add"):
        parts = t.all("add")
        if level is not None or t.has("target", "capacity") or (tank.rising and not filling):
            return None
        if t.want.kind != "time" and not (
            t.want.judged and any(name in t.roles for name in ("needed", "elapsed", "deadline"))
        ):
            return None
        if any(not _AND.search(term.around) for term in parts[1:]):
            return None
        put = [tank.gallons(term, flows=True) for term in parts]
        return None if any(one is None for one in put) else (sum(one or 0.0 for one in put), "in")
    goal = t.one("target") or t.one("reserve")
    end = None if goal is None else tank.gallons(goal)
    if goal is not None and end is None:
        return None
    if level is None:
        if t.want.kind == "time" and filling and goal is None and t.has("capacity"):
            tank.used_capacity = True
            return tank.capacity, "full"
        return (None, "") if goal is None else None
    if rising:
        tank.used_capacity = tank.used_capacity or end is None
        return (end if end is not None else tank.capacity) - level, _goal(goal, "full")
    if goal is not None and goal in t.roles.get("target", []) and filling:
        return None
    return level - (end or 0.0), _goal(goal, "empty")


def _goal(goal: Term | None, otherwise: str) -> str:
    if goal is None:
        return otherwise
    return f"at {shown(100 * goal.value, 3)} %" if goal.kind == "share" else f"at {shown(goal.value)}"


def gallons_there(t: Told, tank: Tank) -> float | None:
    """The water there is to use, or the room there is for it; None when neither was told."""
    frame = t.question.frame
    if t.has("room"):
        return tank.gallons(t.roles["room"][0]) if t.one("room") else None
    goal = t.one("reserve") or t.one("target")
    kept = None if goal is None else tank.gallons(goal)
    level = t.one("level")
    inside = None if level is None else tank.gallons(level)
    if (level is not None and inside is None) or (goal is not None and kept is None):
        return None
    if inside is None and (tank.waste and (_STARTS_EMPTY.search(frame) or EMPTY_NOW.search(frame))):
        inside = 0.0
    elif inside is None and (t.has("capacity") or STARTS_FULL.search(frame)):
        inside, tank.used_capacity = 0.0 if tank.waste else tank.capacity, True
    if inside is None:
        return None
    tank.used_capacity = tank.used_capacity or (tank.waste and kept is None)
    return (tank.capacity if kept is None else kept) - inside if tank.waste else inside - (kept or 0.0)
