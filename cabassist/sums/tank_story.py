"""What a question tells of the tanks: levels, sizes, flows, people and times, each read from the words of its own.

Nothing is worked out here. An amount that is none of these leaves the question unread, so that no number is answered that
leaves one out (`told_tanks.py`).
"""

from __future__ import annotations

from dataclasses import dataclass, field

from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import FACTORS, HOURS, PER_H, converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed

WASTE = Lazy(r"\b(?:waste|black|gr[ae]y|sewage|holding|septic|sewer)\b")
FRESH = Lazy(r"\b(?:fresh|clean|drinking|potable)\b")
_SIZE_BEFORE = Lazy(
    r"\bfull (?:at )?$|\bfilling an? $|\b(?:holds|hold|capacity|size|takes|out of|that is|tank of|it is a|it an?|is an?|' s an?|of an?|(?:waste|fresh|black|gr[ae]y|holding) (?:tank )?(?:is|it)? ?an?|tank an?|tank (?:for|of) the (?:waste|fresh|black|gr[ae]y)(?: water)? (?:is|holds)) $|\btank (?:holds|is|takes) (?:about )?$"
)
_OF_SHARE = Lazy(r"^(?:full |empty )?, (?:it |tank |holds |is |it is )*$")
_TANK_IS = Lazy(r"\btank (?:' s |is )?$")
_OF = Lazy(r"^(?:full |gallons |gal |in it )?(?:out )?of (?:a |an |the |our |its |that )?$")
_SIZE_AFTER = Lazy(
    r"^(?:(?:waste|fresh|black|gr[ae]y|holding|water|clean|plastic|u s|us) ){0,2}(?:tank|tanker|when full|capacity|total)\b"
)
_NAMES_IT = Lazy(r"^(?:(?:waste|fresh|black|gr[ae]y|holding|clean|water) )+(?:with|at|is|has|that|and|tank)|tank\b")
_KEEP_BEFORE = Lazy(
    r"\b(?:(?:keep(?:ing)? )?(?:hang|hanging|hold|holding) (?:on to|onto|of)|keep|keeping|kept|leave|leaving|hold back|holding back|save|saving|reserve(?: of)?|(?:not|never|don ' t|do not|no|won ' t|will not|can not|cannot) (?:\w+ ){0,6}?(?:below|under|less than|lower than|past)|below|less than|no less than|stop at|wants?|needs?)(?: (?:at least|about|with|to keep|me|us|back|the last|last|another|a|some|of))* $"
)
_WANTS = Lazy(r"\b(?:wants?|needs?)(?: (?:at least|about|to|us|me|with|another))* $")
_ADDED_BEFORE = Lazy(
    r"\b(?:wants?|needs?|short|shy|add|put|puts|putting|pump|run|taking on|another|further)(?: (?:in|by|of|about|another|a|on|me|to put in))* $"
)
_ADDED_AFTER = Lazy(
    r"^(?:gallons |litres |liters )?(?:more|to go|to come|to put in|to add|wanted|needed|required|short)\b"
)
_GOAL_AFTER = Lazy(r"^(?:gallons )?(?:is )?(?:reached|hit)\b")
_GOAL = Lazy(
    r"\b(?:dump(?:ed)? at|till?|until|before|hits?|reach(?:es)?|(?:gets?|comes?|goes|drops?|falls?|rises?|climbs?)(?: down| up)? (?:to|at|past|below)|(?:when|what time|how long)\b[^<.]* (?:down to|up to|at|past|below|to))(?: (?:it is|it|at|to|about|the|down to|only|reads|shows))* $"
)
"""A level that is not there yet, but asked about."""
_KEEP_AFTER = Lazy(
    r"^(?:gallons )?(?:kept|held|in reserve|reserve|saved|left over|back|left|still (?:in|aboard|there|left|to be)|in there (?:still|when|once|at)|for (?:the|tomorrow|later|breakfast|morning)|to stay|spare)\b"
)
_KEPT = Lazy(
    r"^(?:gallons )?(?:(?:is|are|has|have|to be|must be) )*(?:kept|held|in reserve|for reserve|set aside|not to be touched|to stay|staying)\b"
)
_ROOM = Lazy(
    r"^(?:gallons )?(?:of )?(?:room|space|free|empty)\b|^(?:gallons )?(?:off|short of|shy of|below|from) full\b|^(?:gallons )?(?:to go|to spare|left|left in it|left in (?:the )?(?:\w+ )?tank) (?:before|till|until)\b"
)
_ROOM_BEFORE = Lazy(
    r"\b(?:room|space) (?:left )?(?:for|of|is) (?:about |only |another )?$|\b(?:can|will|could) (?:still )?(?:take|hold) (?:another|a further|about|only|still)(?: about| only)? $"
)
_LATER = Lazy(r"^(?:later|after|ago|earlier|since|apart|passed|gone by|now|went by)\b")
_ELAPSED_BEFORE = Lazy(r"\b(?:in|over|after|within|past|last|took|during)(?: (?:the|about|just|only|last|past))* $")
_WAS = Lazy(
    r"\b(?:was|were|had|started|starting|began|begun|used to be|pulled out|left with|from|yesterday|last night|filled to|earlier)\b"
)
_NOW = Lazy(r"\b(?:now|currently|at the moment|today|it is|reads|down to|up to)\b")
_FLUSH = Lazy(r"\b(?:flush\w*|uses?|visits?|showers?|goes?|trips?|rinse\w*)\b")
_TIMES_AFTER = Lazy(r"^(?:flushes|times|uses|visits|showers|goes|trips|a head|flush|each|apiece|per)\b")
_PER_USE = Lazy(
    r"^(?:gallons? )?(?:of water )?(?:(?:a|per|each|every|for each|for a|for every|for one|on ours|for|to a|to the) )*(?:flush|use|visit|shower|go|trip|time|rinse)\b"
)
_DRAIN = Lazy(
    r"^(?:\w+ )?(?:of (?:that|it|them|which) )?(?:\w+ ){0,3}?(?:down|into|in|to|ends?|lands?) (?:\w+ )?(?:the )?(?:drain|waste|tank|black|gr[ae]y)\b|^of (?:that|it|which)\b"
)
_CLOCK_BEFORE = Lazy(r"\b(?:at|by|from|till?|until|around|about|since|before|between|and|to) $")


@dataclass
class Tank:
    """What is told of one tank, in gallons; its share where the gallons are not known yet."""

    levels: list[Level] = field(default_factory=list)
    size: float | None = None
    room: float | None = None
    rates: list[float] = field(default_factory=list)
    """Gallons an hour, in or out."""
    bare_rate: bool = False
    """Whether the rate has no unit: it is in what the level is told in."""
    uses: list[float] = field(default_factory=list)
    """Gallons an hour for each person."""


@dataclass
class Level:
    """A level as it was told."""

    value: float
    kind: str
    """gal, share or bare."""
    said: Said
    clock: float | None = None
    sure: bool = False
    """Whether it is known which half of the day that is."""


@dataclass
class Story:
    """Everything a question tells."""

    fresh: Tank = field(default_factory=Tank)
    waste: Tank = field(default_factory=Tank)
    tank: Tank = field(default_factory=Tank)
    """The tank that has no name."""
    keep: float | None = None
    people: float | None = None
    flow: float | None = None
    """Gallons a minute of a hose or a shower."""
    factor: float = 1.0
    """Gallons in one of what numbers without a unit are told in."""
    by_volume: bool = False
    """Whether anything that stands in a tank is told in gallons or liters."""
    minutes_each: float | None = None
    per_use: float | None = None
    times: float | None = None
    elapsed: float | None = None
    needed: float | None = None
    goal: Level | None = None
    """Where the question ends: "when is it down to fifteen"."""
    clocks: list[tuple[float, bool, Said]] = field(default_factory=list)
    target: float | None = None
    """Share of full up to which it may rise."""

    def of(self, name: str) -> Tank:
        """The tank of that name."""
        return {"fresh": self.fresh, "waste": self.waste}.get(name, self.tank)


def tank_story(question: Question) -> Story | None:
    """What the question tells, or None when an amount of it has no place."""
    found = placed(question)
    if found is None:
        return None
    story = Story()
    names = _names(question)
    story.by_volume = any(one.unit in ("gal", "L", "qt") and not one.amount.per for one in found)
    metric = {one.unit for one in found if one.unit in ("L", "gal", "gpm", "gph", "L/min", "qt")} <= {"L", "L/min"}
    if metric and any(one.unit in ("L", "L/min") for one in found):
        story.factor = converted(1.0, "L", "gal")
    for one, name in zip(found, names, strict=True):
        if not _put(story, one, name, found, question):
            return None
    return story


def _names(question: Question) -> list[str]:
    """The tank each amount belongs to: the one named behind it, or else the one named last before it."""
    tokens = question.frame.split()
    names, current = [], ""
    for i, token in enumerate(tokens):
        if token.startswith("<") and len(token) > 1:
            near = " ".join(tokens[i + 1 : i + 5])
            cut = next((k for k, word in enumerate(near.split()) if word.startswith("<") or word in (",", ".", "and", "or", "waste" if current == "fresh" else "")), None)  # fmt: skip
            words = " ".join(near.split()[:cut]) if cut is not None else near
            behind = "fresh" if FRESH.search(words) else "waste" if WASTE.search(words) else ""
            names.append(behind or current)
        elif FRESH.search(token):
            current = "fresh"
        elif WASTE.search(token):
            current = "waste"
    return names


_LEVELS = frozenset({"gal", "percent", "part", "n", "L"})
_LEVEL_AT = Lazy(r"^(?:(?:of|in|the|fresh|waste|water|left|full|it|tank|gallons|,) )*(?:at|by) (?:about )?$")
_DEPARTED = Lazy(
    r"\b(?:left|leaving|pulled out|rolled(?: out)?|started|woke(?: up)?|parked|arrived|stopped|departed|set off|got (?:in|here)|it is|now|it was|dumped|filled up) (?:at|about|around) $"
)


def _hourly_bare(one: Said) -> bool:
    return one.unit == "n" and not one.amount.per and one.value % 1 == 0 and 1 <= one.value <= 12


def _hourly(one: Said) -> bool:
    return _hourly_bare(one) and _LEVEL_AT.search(one.left) is not None


_IT_IS = Lazy(r"\bit (?:is )?(?:now |about |just |only )*$")
_TILL = Lazy(r"\b(?:till?|until) (?:about )?$")
_LASTS = Lazy(r"\b(?:will|does|do|is|can)\b[^<]*\b(?:last|do|hold|make|get|see|ok|okay|enough|go)\b")


def _since(one: Said, found: tuple[Said, ...]) -> bool:
    """Whether "it's four now" tells the end of a span, for both levels are told beside it."""
    levels = sum(other.unit in _LEVELS and not other.amount.per and other is not one for other in found)
    return levels > 1 and any(other.unit == "clock" for other in found)


def _clocked(one: Said, found: tuple[Said, ...], frame: str) -> float | None:
    """A bare number that is a time of day: "at nine", "until four forty", "it's two now"."""
    value = one.value
    if _hourly_bare(one):
        of_day = any(_TILL.search(other.left) or _IT_IS.search(other.left) for other in found if other is not one and (other.unit == "clock" or _hourly_bare(other)))  # fmt: skip
        if _TILL.search(one.left) and (of_day or _LASTS.search(frame)):
            return value
        if _IT_IS.search(one.left) and (of_day or (one.right.startswith("now") and _since(one, found))):
            return value
    if one.unit != "n" or one.amount.per or value % 1 or not _CLOCK_BEFORE.search(one.left):
        return None
    others = any(other.unit == "clock" for other in found)
    if (
        100 <= value < 1300
        and value % 100 < 60
        and (one.amount.pieces or one.amount.end - one.amount.start == 1)  # "one ten", not "a hundred and ten"
        and Lazy(r"\b(?:at|by|from|till?|until|since|around) $").search(one.left)
    ):
        return value // 100 + value % 100 / 60
    told_at = one.before in _LEVELS and _LEVEL_AT.search(one.left) is not None and sum(_hourly(other) for other in found) > 1  # fmt: skip
    if 1 <= value <= 12 and (_DEPARTED.search(one.left) or told_at):
        return value
    if not others or not 1 <= value <= 12 or value in {other.value for other in found if other.unit != "n" and other.unit != "clock"}:  # fmt: skip
        return None
    timed = Lazy(r"\b(?:at|by|from|till?|until|since|between) $").search(one.left)
    spanned = one.before == "clock" and Lazy(r"^(?:and|to|till?|until) $").search(one.left)
    return value if timed or spanned else None


def _put(story: Story, one: Said, name: str, found: tuple[Said, ...], question: Question) -> bool:
    """Give an amount its place; False when it has none."""
    amount, unit = one.amount, one.unit
    hour = _clocked(one, found, question.frame)
    if unit == "clock" or hour is not None:
        value = one.value if hour is None else hour
        story.clocks.append((value, unit == "clock" and not amount.pieces, one))
        return True
    if unit == "people" and not amount.per:
        if story.people is not None and story.people != one.value:
            return False
        story.people = one.value
        return True
    if unit in HOURS and not amount.per:
        return _time(story, one)
    if unit in ("flush", "shower"):
        story.times = one.value
        return story.times is not None
    if unit in ("percent", "part") and not amount.per:
        share = one.value / (100 if unit == "percent" else 1)
        if not 0 <= share <= 1:
            return False
        if _KEEP_BEFORE.search(one.left) and not _TARGET.search(one.left):
            return False
        if _TARGET.search(one.left):
            if story.target is not None:
                return False
            story.target = share
            return True
        story.of(name).levels.append(Level(share, "share", one))
        return True
    if unit in ("mi", "km", "F", "C", "temp") and not amount.per:
        return True  # how far or how cold it is flows nowhere
    if unit == "n" and story.people is None and 2 <= one.value <= 80 and _ABOARD.search(one.right) and _WITH.search(one.left):  # fmt: skip
        story.people = one.value
        return True
    flows = any(other.unit in ("gpm", "L/min") or other.amount.per in ("min", "s") for other in found)
    return _volume(story, one, name, flows or _HOSE.search(question.frame) is not None)


_ABOARD = Lazy(r"^(?:on|on it|asleep|along|bunks|riding|sleeping|to look after|in the back)(?: ,| \.|$| and\b)")
_WITH = Lazy(r"\b(?:with|have|got|are|is|there|of) $")
_TARGET = Lazy(
    r"\b(?:till?|until|hits?|reach\w*|at most|limit(?: of)?|before) (?:it is |it ' s |it |at |the |tank |waste |we are |about )*$|\bwhen (?:is|will|does|do|are) (?:\w+ ){0,4}?(?:at|hit|reach|be) (?:about )?$|\bto $"
)


def _time(story: Story, one: Said) -> bool:
    hours = one.value * HOURS[one.unit]
    if one.unit in ("min", "s") and (one.amount.each or Lazy(r"^(?:shower|showers|each|apiece|rinse|a head)\b|^long shower").search(one.right) or Lazy(r"\b(?:showers? (?:of|is|are|at|takes?|lasts?)|each) (?:\w+ )?$").search(one.left)):  # fmt: skip
        story.minutes_each = hours * 60
        return True
    gone = _ELAPSED_BEFORE.search(one.left) and _PAST_TENSE.search(one.left) and not _IS_TO_LAST.search(one.left)
    if _LATER.search(one.right) or gone:
        if story.elapsed is not None:
            return False
        story.elapsed = hours
        return True
    if story.needed is not None:
        return False
    story.needed = hours
    return True


_IS_TO_LAST = Lazy(r"\b(?:will|would|it|to|does|that|they|must|should|this) last (?:(?:us|the|about|another|for) )*$")
_PAST_TENSE = Lazy(r"\b(?:went|dropped|fell|rose|lost|used|gained|came|moved|climbed|took|last|past|burned)\b")


def _volume(story: Story, one: Said, name: str, hose: bool) -> bool:
    """A volume, with or without its unit, or a flow."""
    amount, unit = one.amount, one.unit
    if unit in ("gpm", "gph", "L/min"):
        gallons = one.value * (converted(1.0, "L", "gal") if unit == "L/min" else 1.0)
        return _flow(story, one, name, gallons, "min" if unit != "gph" else "h")
    if unit in FACTORS and FACTORS[unit][0] == "volume":
        gallons = converted(one.value, unit, "gal")
    elif unit == "n":
        gallons = one.value * story.factor
    else:
        return False
    if amount.per:
        return amount.per in PER_H and _flow(story, one, name, gallons, amount.per)
    if _PER_USE.search(one.right) or (unit != "n" and gallons < 6 and Lazy(r"\b(?:flush|shower|use|visit|toilet) (?:\w+ )?(?:is|takes?|uses?|of|about|at) (?:about )?$").search(one.left)):  # fmt: skip
        story.per_use = gallons
        return True
    if unit == "n" and _TIMES_AFTER.search(one.right) and one.value <= 12:
        if story.times is not None:
            return False
        story.times = one.value
        return True
    if amount.each and unit == "n" and story.per_use is not None and story.times is None and one.value <= 12:
        story.times = one.value
        return True
    if amount.each and unit != "n" and gallons < _MOST_A_FLUSH and _FLUSHES_ASKED.search(f"{one.left} {one.right}") and story.per_use is None and story.people is None:  # fmt: skip
        story.per_use = gallons
        return True
    if amount.each:
        if story.per_use is None and _FLUSH.search(one.left):
            story.times = one.value if unit == "n" else story.times
            return unit == "n"
        return False
    drains = story.fresh.uses and gallons / 24 <= story.fresh.uses[-1]
    if unit == "n" and story.people is not None and drains and _DRAIN.search(one.right):
        story.waste.uses.append(gallons / 24)
        return True
    return _standing(story, one, name, gallons, hose)


_MOST_A_FLUSH = 3.0
_FLUSHES_ASKED = Lazy(r"\b(?:flush\w*|pedal|toilet|head|go|trip|visit)\b")
_OUT_OF = Lazy(r"\bout of (?:the |our |my )?$")
_HOSE = Lazy(r"\b(?:hose|spigot|tap)\b")
_INSIDE = Lazy(r"^(?:gallons )?(?:in (?:it|there|her|the)|already)\b")
_TO_FILL = Lazy(r"\b(?:to|for) (?:fill|get|put in|run|draw|pump)? ?(?:a |the )?$")
_LONG_FOR = Lazy(r"\bhow long (?:for|to (?:fill|get|put in|run|pump))(?: another)? $")


def _standing(story: Story, one: Said, name: str, gallons: float, hose: bool) -> bool:
    """A level, a size, what is kept, or room; beside the flow of a hose what is wanted is what goes in."""
    tank, unit = story.of(name), one.unit
    if _ROOM.search(one.right) or _ROOM_BEFORE.search(one.left):
        if tank.room is not None:
            return False
        tank.room = gallons
        return True
    if _OUT_OF.search(one.left) and one.before not in ("gal", "n", "percent", "part", "L"):
        tank.levels.append(Level(gallons, "gal" if unit != "n" or story.by_volume else "bare", one))
        return len(tank.levels) <= 2  # "five hours out of 66 gallons"
    of_one = one.before in ("gal", "n", "percent", "part", "L") and _OF.search(one.left) is not None
    of_one = of_one or (one.before in ("percent", "part") and _OF_SHARE.search(one.left) is not None)
    of_one = of_one or (bool(tank.levels) and tank.size is None and _TANK_IS.search(one.left) is not None)
    if not _KEPT.search(one.right) and (of_one or _SIZE_AFTER.search(one.right) or (one.amount.describes and _NAMES_IT.search(one.right)) or _SIZE_BEFORE.search(one.left)):  # fmt: skip
        if tank.size is not None and tank.size != gallons:
            return False
        tank.size = gallons
        return True
    wanted = _WANTS.search(one.left) is not None
    if _GOAL.search(one.left) or _GOAL_AFTER.search(one.right):
        if story.goal is not None:
            return False
        story.goal = Level(gallons, "gal" if unit != "n" else "bare", one)
        return True
    added = hose and (_ADDED_BEFORE.search(one.left) or _ADDED_AFTER.search(one.right))
    if added and not (_KEEP_AFTER.search(one.right) or _INSIDE.search(one.right)):
        if tank.room is not None:
            return False
        tank.room = gallons
        return True
    if (
        _KEPT.search(one.right)
        or (_KEEP_BEFORE.search(one.left) and not wanted)
        or (wanted and _KEEP_AFTER.search(one.right))
    ):
        if story.keep is not None:
            return False
        story.keep = gallons
        return True
    if one.before in ("min", "s") and _TO_FILL.search(one.left):
        return False  # "4 minutes to fill 10 gallons" tells a flow
    if (
        wanted
        or _LONG_FOR.search(one.left)
        or Lazy(r"\b(?:add|put in|pump in|another|plus|used|lost|gained|dropped|down|up|by) $").search(one.left)
    ):
        return False
    tank.levels.append(Level(gallons, "gal" if unit != "n" or story.by_volume else "bare", one))
    return len(tank.levels) <= 2


def _flow(story: Story, one: Said, name: str, gallons: float, per: str) -> bool:
    if one.amount.each:
        (story.waste if name == "waste" else story.fresh).uses.append(gallons * PER_H[per])
        return True
    if per in ("min", "s"):
        if story.flow is not None:
            return False
        story.flow = gallons * PER_H[per] / 60
        return True
    story.of(name).rates.append(gallons * PER_H[per])
    story.of(name).bare_rate = one.unit == "n"
    return len(story.of(name).rates) == 1
