"""Loads, supplies and volts of a question, each read from the words of its own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

from cabassist.estimate.power import CONTINUOUS_SHARE
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said

_SUPPLY = r"(?:breakers?|circuits?|outlets?|supply|pedestals?|plugs?|hook ?ups?|service|posts?|rece?pt[aei]cles?|sockets?|connection|shore|feed|line|limit|inlet|stand|rated|hook)"
_BREAKER_AFTER = Lazy(rf"^(?:(?:volt|shore|power|wall|rink|house|single|dedicated|main|, |on the) ?)*{_SUPPLY}\b")
_BREAKER_BEFORE = Lazy(
    rf"\b{_SUPPLY}(?: (?:is|of|at|are|rated|only|a|an|for|says?|has|just|marked|' s|,|on|it|from|with|gives|good|really|actually))* $|\b(?:on|off|from|into|has|have|got|only|one|there|gave us|it|just)(?: only| just)? (?:a|an|one|the) $|\b(?:only|just) (?:got |have |has )?$"
)
_GENERATOR_AFTER = Lazy(r"^(?:\w+ ){0,2}?(?:generator|genny|gennie|gen ?set|gen|rating|rated)\b")
_ON_IT = Lazy(r"^(?:\w+ )?on (?:the|our|my|this|that|her) (?:generator|genny|gennie|gen ?set|gen)\b")
"""What hangs on the generator is no rating of it."""
_ON_PLATE = Lazy(
    r"^(?:(?:it|that|is|what|says?|reads?|stands?|printed|stamped|' s) )*(?:on|off|by) (?:the|its|it|her) (?:name ?)?plate\b"
)
"""What the plate of the generator that was just spoken of says."""
_GENERATOR = Lazy(r"\b(?:generator|genny|gennie|gen ?set)\b")
_GENERATOR_BEFORE = Lazy(
    r"\b(?:generator|genny|gennie|gen ?set|gen)(?: (?:is|makes?|gives?|puts?|out|rated|at|for|of|does|good|can|do|a|our|' s|has|,))* $|\brated(?: (?:at|for))? $"
)
SIZE = Lazy(
    r"\b(?:how (?:big|large|heavy)|what size|what|which|smallest|minimum)(?: (?:an?|must|does|do|should|the|of|size|i|we))* (?:breaker|circuit)\b(?! (?:hold|take|carry|give|trip|can))|\b(?:breaker|circuit) (?:size )?(?:do (?:i|we) need|must (?:i|we) have|is needed|at least|needed)\b"
)
_AT_VOLTS = Lazy(
    r"\b(?:at|on|off|from|of|for|volts?|reads?|shows?|says?|is|have|see|got|gives?|only) (?:about |only )?$"
)
NEAR_END = Lazy(r"\b(?:pedestal|socket|outlet|post|panel|source|building|wall|plug|stand|hookup)\b")
FAR_END = Lazy(r"\b(?:coach|bus|far end|end|inside|here|inlet|aboard|panel inside|dash)\b")
_EFFICIENCY = Lazy(r"\beffic\w*|\binverter\b")
_WASTED = Lazy(r"\b(?:los(?:es|ing|s|e)|lost|wast(?:es|ing|ed|e))\b")
_LESS = Lazy(r"\bless $")
_LOAD_W = (150.0, 6000.0)
_DRAWS = r"(?:heater|fridge|refrigerator|freezer|charger|microwave|kettle|coffee(?: maker| machine| pot)?|fan|pump|light|lamp|tv|converter|blanket|toaster|tape|pad|dryer|iron|compressor|blower|cooker|computer|air con\w*|ac)"
"""What draws power, as it is named when it has to come off."""
_LOAD = Lazy(
    r"\b(?:heaters?|fridges?|refrigerator|freezer|chargers?|microwave|kettle|coffee|maker|machine|fans?|pumps?|lights?|lamps?|tvs?|units?|acs?|conditioner|converter|blankets?|toaster|tapes?|pads?|block|dryer|iron|compressor|blower|cooker|pot|computers?|screens?|cable|warmer|each|apiece|load|draws?|pulls?)\b"
)
_IDLE = Lazy(
    r"\b(?:nobody (?:touches|uses|runs|needs)|(?:is|are|stays?|will be|be) off|not (?:running|on|in use|used|plugged)|unplugged|is not on|never (?:on|runs))\b"
)
_IN_USE = Lazy(r"^(?:is |are |already |now )*(?:on|used|in use|running|drawn|pulled|going|taken)\b")
_COUNTER = Lazy(r"\b(?:meter|odometer|mileage|counter) (?:(?:says|reads|is|shows|at) )*$")
_TO_TIME = Lazy(r"^(?:(?:at night|pm|am|or so) )?(?:till?|until|to|through|-)$")
_FROM_TIME = Lazy(r"^(?:till?|until|to|through|-|o ' clock) $")


class Load(NamedTuple):
    """What one thing draws."""

    value: float
    unit: str
    """W or A."""
    name: str = ""
    """As it was called, or ""."""


@dataclass
class Plugged:
    """What was told of loads and supplies."""

    loads: list[Load] = field(default_factory=list)
    breaker: float | None = None
    weak: bool = False
    """Whether the breaker was told as a plug, which is only what a load is rated for when a circuit is told too."""
    supply: float | None = None
    volts: list[Said] = field(default_factory=list)
    share: float | None = None
    efficiency: float | None = None
    legs: int = 1
    """Two, where a supply is told with its two legs, each of those volts."""
    inverts: bool = False
    """Whether an inverter is spoken of, whose loss a share is."""

    @property
    def watts(self) -> list[float]:
        """Loads told in watts."""
        return [one.value for one in self.loads if one.unit == "W"]

    @property
    def amps(self) -> list[float]:
        """Loads told in amps."""
        return [one.value for one in self.loads if one.unit == "A"]


_BESIDE = frozenset(
    {"people", "clock", "h", "min", "night", "day", "F", "C", "temp", "mi", "km", "shower", "driver", "week", "bag"}
)
"""Told in passing: what a load draws does not turn on them."""


def plugged(found: tuple[Said, ...], frame: str) -> Plugged | None:
    """The loads and supplies among the amounts of a question; None when one amount is none of them.

    Args:
        found: the amounts with their own words.
        frame: the question, which may ask for a breaker's size.
    """
    told = Plugged(inverts="inverter" in frame)
    sizing = SIZE.search(frame) is not None
    count, last, whole = 0.0, None, None
    for k, one in enumerate(found):
        if one.unit == "n" and one.value == told.legs + 1 == _BOTH_LEGS and _LEGS.search(one.right):
            told.legs = _BOTH_LEGS
            continue
        after = found[k + 1] if k + 1 < len(found) else None
        if _ALL_OF.search(one.left) and one.unit in ("n", "heater") and not one.right.startswith("of "):
            whole = one.value
            continue
        if _counted(one):
            if count:
                return None
            count = one.value
            continue
        if one.unit == "A" and after is not None and _rates(one, after):
            continue
        loads = len(told.loads)
        following = after.right if after is not None and one.after in ("V", "n") and not one.right else one.right
        if not _taken(one, following, told, sizing):
            return None
        if len(told.loads) != loads:
            told.loads[-1] = told.loads[-1]._replace(name=called(one, last))
            last = one
            if count:
                told.loads[-1:] = [told.loads[-1]] * round(count)
                count = 0.0
    if told.breaker is None and found[0].unit == "A" and _heads(found[0]) and len(told.loads) > 1:
        told.breaker = told.loads.pop(0).value
    if BOTH_LEGS_SAID.search(frame):
        told.legs = _BOTH_LEGS
    if told.legs > 1 and told.breaker is None and told.supply is None and len(told.amps) == len(told.loads) == 1:
        told.breaker = told.loads.pop().value if not told.loads[0].name else None
    if whole is not None and whole != len(told.loads):
        return None
    alone = len(told.loads) == 1
    if count and not alone:
        return None
    if not count and alone and _BOTH.search(frame):
        if not (_EACH.search(frame) or _BOTH_OF.search(frame)):
            return None
        count = 2.0
    if count:
        told.loads *= round(count)
    return told


_BOTH_LEGS = 2
_LEGS = Lazy(r"^(?:(?:hot|full|separate|of the) )*(?:legs|hots|phases|lines|hot wires)\b")
BOTH_LEGS_SAID = Lazy(r"\b(?:both|two|on each of the two) (?:hot )?legs\b|\b(?:on|over|from) each leg\b")
_ALL_OF = Lazy(r"\b(?:all|these|those)(?: of)?(?: the| them| these| those)? $")
_RATES = Lazy(
    rf"^(?:(?:{_DRAWS}s?|plugs?|outlets?|rated|that|which|it|they|each|with|cabin|space|little|electric|block) )+(?:(?:at|of|is|are|draws?|drawing|pulls?|pulling|takes?|taking|uses?|using|rated|for|,|really|actually|about|only) )+$|^$"
)
_NAME = Lazy(rf"\b((?:(?!(?:plus|and|a|an|the|our|my|with|of|in|both|on) )[a-z]+ )?{_DRAWS})s?\b")
_NAME_BEFORE = Lazy(
    rf"\b{_DRAWS}s?(?: (?:is|are|at|draws?|pulls?|takes?|uses?|wants?|needs?|of|a|an|about|on|our|the|rated|for|that|which|'|s|=|-))* $"
)


def _rates(one: Said, after: Said) -> bool:
    """Whether amps are only what a load told in watts is rated for: "two 30 amp heaters at 1500 watts"."""
    return after.unit in ("W", "kW") and _RATES.search(after.left) is not None and not _heads(one)


def _heads(one: Said) -> bool:
    """Whether amps stand with volts before all that draws: "30 A, 120 V: heater 1500"."""
    return (
        not one.left.strip()
        and not one.before
        and one.after == "V"
        and one.right.strip() in ("", ",", "at", "/", "and")
    )


def called(one: Said, last: Said | None) -> str:
    """What a load is called, by the noun that leads to its number or follows it."""
    if _NAME_BEFORE.search(one.left) and not (last is not None and _names_last(last, one.left)):
        return str([*_NAME.finditer(one.left)][-1][1]).strip()
    found = _NAME.search(one.right)
    if found is None or _ANOTHER.search(one.right[: found.start()] + " "):
        return ""  # "1500 watts and a charger at 8 amps"
    return found[1].strip()


_ANOTHER = Lazy(r"\b(?:and|plus)\b|[,;]")


def _names_last(last: Said, between: str) -> bool:
    """Whether the one noun between two numbers belongs to the first: "1500 W heater 800 W fridge"."""
    return (
        last.unit in ("W", "kW", "A")
        and len([*_NAME.finditer(between)]) == 1
        and not _NAME.search(last.left)
        and between[:1] != ","
    )


_BOTH = Lazy(r"\bboth\b")
_BOTH_OF = Lazy(r"\bboth (?:of )?(?:the |our |my |those |these )?<(?:W|kW|A)>")
_EACH = Lazy(r"\b(?:each|apiece)\b")
_OF_RATING = Lazy(r"\b(?:rating|load|of|rated|full)\b")


def _counted(one: Said) -> bool:
    """Whether an amount says how many of the next load there are."""
    return (one.unit == "heater" and one.value < _LOAD_W[0]) or (one.unit == "n" and counted_things(one))


def _taken(one: Said, following: str, told: Plugged, sizing: bool) -> bool:
    """Give an amount its place; False when it has none."""
    value, unit = one.value, one.unit
    if unit in ("W", "kW", "heater") and not one.amount.per:
        if not _IDLE.search(one.right):
            _watts(one, value * (1000 if unit == "kW" else 1), told)
        return True
    if unit == "A" and not one.amount.per:
        return _current(one, following, told, sizing)
    if unit == "V":
        told.volts.append(one)
        return True
    if unit in ("percent", "part"):
        share = value / (100 if unit == "percent" else 1)
        if told.supply is not None and not told.loads and told.share is None and _LESS.search(one.left):
            told.share = 1 - share  # "4 kW less 20 percent up here"
            return 0 < told.share < 1
        if _WASTED.search(one.left) or _WASTED.search(one.right[:16]):
            told.efficiency = 1 - share
            return True
        if told.inverts or _EFFICIENCY.search(one.left) or _EFFICIENCY.search(one.right[:24]):
            told.efficiency = share
            return True
        of_rating = abs(share - CONTINUOUS_SHARE) < 1e-6 or _OF_RATING.search(one.right) is not None
        told.share = share if of_rating else None
        return of_rating
    if unit == "n":
        aside = (value == 1 and one.after == "A") or _IDLE.search(one.right) or _COUNTER.search(one.left)
        return bool(aside) or _time_of_day(one) or _bare(one, told)
    return unit in _BESIDE


def _watts(one: Said, value: float, told: Plugged) -> None:
    """A load in watts, or what a generator is rated for."""
    on_plate = _ON_PLATE.search(one.right) and _GENERATOR.search(one.left)
    if told.supply is not None and not told.loads and value < told.supply and _LESS.search(one.left):
        told.supply -= value  # "5 kW less 1,000 W for the altitude"
    elif told.supply is None and (
        on_plate
        or (_GENERATOR_AFTER.search(one.right) and not _ON_IT.search(one.right))
        or _GENERATOR_BEFORE.search(one.left)
    ):
        told.supply = value
    else:
        told.loads.append(Load(value, "W"))


def _current(one: Said, following: str, told: Plugged, sizing: bool) -> bool:
    """A load in amps, or the breaker; False when a second breaker is told."""
    value = one.value
    split = _two_in_one(one)
    if split is not None:
        told.volts.append(one._replace(amount=one.amount._replace(value=split[0], unit="V")))
        value = split[1]
    after, before = _BREAKER_AFTER.search(following), _BREAKER_BEFORE.search(one.left)
    weak = after is not None and _PLUG.search(after[0]) is not None
    if after and told.breaker is not None and not told.weak:
        return weak
    alone = (
        _ON.search(one.left)
        and (told.loads or one.before in ("", "n"))
        and _LOAD.search(" ".join(one.right.split()[:2])) is None
    )
    if (told.breaker is None or (after and told.weak)) and not sizing and (after or alone or (before and not _thing(one.right))):  # fmt: skip
        told.breaker, told.weak = value, weak
    else:
        told.loads.append(Load(value, "A"))
    return True


_ON = Lazy(r"(?:^|\b)(?:on|into|off)(?: only| just)? $")
_PLUG = Lazy(r"\bplugs?$")


def _two_in_one(one: Said) -> tuple[float, float] | None:
    """ "On one twenty twenty amp" is 120 volts and 20 amps, heard as a one and 2,020."""
    if one.before == "n" and not one.left and 2000 < one.value < 2100:
        return 120.0, one.value - 2000
    return (120.0, 20.0) if one.amount.pieces == ("20", "20") else None


def _thing(right: str) -> bool:
    """Whether a load is named behind the amps: "on a nine amp converter"."""
    return (
        Lazy(
            r"^(?:\w+ )?(?:converter|charger|heater|load|fridge|unit|microwave|compressor|pump|fan|draw|blower|kettle|toaster|coffee\w*)\b"
        ).search(right)
        is not None
    )


def counted_things(one: Said) -> bool:
    """Whether a small number says how many of a load: "two of those <W> heaters", "3 x <W>"."""
    if one.value % 1 or not 2 <= one.value <= 8 or one.amount.per or one.amount.each:
        return False
    things = r"(?:heaters|units|pads|lamps|lights|blankets|fans|chargers|bulbs|acs|conditioners|fridges|computers|screens|tvs|tapes|makers|machines|kettles|blocks|dryers|pumps|of (?:them|those|these)|x|\*|×)"
    return (
        Lazy(rf"^(?:[a-z]+ ){{0,3}}?{things}(?= |$)").search(one.right) is not None
        or (Lazy(r"^(?:,|of (?:the|our|my|those|these|your))?$").search(one.right.strip()) is not None and one.after in ("W", "kW", "A", "W/each", "A/each"))
    )  # fmt: skip


class Powered(Protocol):
    """What is told of something that has watts."""

    watts: float


def all_put(
    found: Sequence[Said], told: Powered, put: Callable[[int, Said], bool], counts: Callable[[Said], bool]
) -> bool:
    """Whether every amount has its place; a count multiplies the watts that come after it.

    Args:
        found: the amounts with their own words.
        told: what `put` fills.
        put: gives the amount of that index its place; False when it has none.
        counts: whether an amount says how many of a load.
    """
    count: float | None = None
    for k, one in enumerate(found):
        if counts(one):
            if count is not None:
                return False
            count = one.value
            continue
        before = told.watts
        if not put(k, one):
            return False
        if count is not None and told.watts > before:
            told.watts, count = before + count * (told.watts - before), None
    return count is None


def _time_of_day(one: Said) -> bool:
    """Whether a number is an hour of the clock: "at 11 till 6"."""
    whole = one.value % 1 == 0 and 1 <= one.value <= 12
    return whole and bool(_TO_TIME.search(one.right) or _FROM_TIME.search(one.left))


def _bare(one: Said, told: Plugged) -> bool:
    """Give a number without a unit its place; False when it has none."""
    value = one.value
    mains = 100 <= value <= 130 or 200 <= value <= 250
    before_breaker = one.before == "A" and not one.left and _BREAKER_AFTER.search(one.right) is not None
    loaded = (
        _NAME_BEFORE.search(one.left) is not None
        and not one.left.endswith(" at ")
        and not (NEAR_END.search(one.right) or FAR_END.search(one.right))
    )
    if mains and not loaded and not one.amount.each and (before_breaker or _AT_VOLTS.search(one.left) or NEAR_END.search(one.right) or FAR_END.search(one.right)):  # fmt: skip
        told.volts.append(one)
        return True
    if not (
        _LOAD.search(one.left)
        or one.amount.each
        or _IN_USE.search(one.right)
        or _LOAD.search(" ".join(one.right.split()[:3]))
    ):
        return False
    if _LOAD_W[0] <= value <= _LOAD_W[1]:
        told.loads.append(Load(value, "W"))
        return True
    if 0 < value < 60 and (told.amps or not told.watts):
        told.loads.append(Load(value, "A"))
        return True
    return False
