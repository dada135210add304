"""What propane or antifreeze costs, from its price a gallon or a pound."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from cabassist.coach import Coach
from cabassist.estimate.propane import LB_PER_GAL, WEIGHT_SOURCE
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question, asked_unit
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.language.placed import Said, placed

_SOLD = Lazy(r"\b(?:propane|lp|lpg|refills?|bottles?|cylinders?|anti ?freeze|pink stuff)\b")
_OTHER = Lazy(r"\b(?:diesel|fuel|generator|genny|def|idl\w+|furnaces?|heaters?|burners?|btus?|miles)\b")
_MONEY = Lazy(
    r"\b(?:costs?|pay|paid|bill|owe|how many (?:dollars|bucks)|how much money|damage|come to|come out to|run (?:me|us)|set (?:me|us) back|in dollars|price|dollars)\b"
)
_HOW_MUCH = Lazy(
    r"\bhow much (?:is (?:that|it)|for|will (?:that|it) be|do i|is the)\b|\bwhat (?:is|does|do|will|did|the|that|' s|it)\b"
)
_SAVES = Lazy(r"\b(?:save|saves|saving|cheaper|difference|dearer|extra|more (?:do|would|will|does))\b")
_PRICED = Lazy(
    r"\b(?:at|for|costs?|is|' s|propane|antifreeze|stuff|refills?|price|charge|charges|charging|want|wants|pay|paying|asks?|asking|here|there|road|town|stop|place|says|sez|station|next)(?: (?:about|a|is|at|it|they|only))* (?:\$ )?$"
)
_PRICED_AFTER = Lazy(r"^(?:here|there|down the road|up the road|at (?:the|this|that) (?:next|other|last)?)\b")
_BOTTLES = Lazy(r"^(?:\w+ )?(?:bottles|cylinders)\b")
_A_DOLLAR = Lazy(r"\b(?:a|one) dollar (?:and )?$")
_HUNDRED = 100.0
_DEAREST = 20.0
_SHORT = Lazy(
    r"^(?:\w+ )?(?:short|down|low|light|shy|gone|used|empty|missing|to (?:go|fill)|worth)\b|^each (?:short|down|low|light)\b"
)
_GAS_UNITS = frozenset({"gal", "lb", "kg", "L"})
_BURNED_BEFORE = Lazy(r"\b(?:burned|burnt|used|went through|gone through|need|needs|take|takes|took|buy|buying|get|getting|want|bought|for|of|put|holds?|got|got in|with|short|down|,)(?: (?:about|another|in|a|around|up))* $|^$")  # fmt: skip
_LAST_NIGHT = Lazy(r"^(?:of (?:propane|gas|lp|the pink stuff|antifreeze|it) ?)?")


class _Price(NamedTuple):
    dollars: float
    of: str
    """What it is the price of: gal or lb; "" when it is not said."""


def cost(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Dollars for gallons, pounds or cylinders at a price, or what the cheaper of two prices saves."""
    frame = q.frame
    if not _SOLD.search(frame) or _OTHER.search(frame) or len(q.amounts) < 2:
        return None
    saves = _SAVES.search(frame) is not None
    if not (saves or _MONEY.search(frame) or _HOW_MUCH.search(frame)):
        return None
    if asked_unit(q) not in ("", "n", "dollars"):
        return None
    found = placed(q)
    if found is None:
        return None
    prices: list[_Price] = []
    amounts: list[Said] = []
    count: Said | None = None
    skip = -1
    for k, one in enumerate(found):
        if k == skip:
            continue
        after = found[k + 1] if k + 1 < len(found) else None
        price = _price(one, after)
        if price is not None:
            prices.append(price)
            skip = k + 1 if price.of and after is not None and after.value == 1 and after.amount.start == one.amount.end else -1  # fmt: skip
        elif (
            one.unit == "cylinder"
            and count is None
            or (
                one.unit == "n"
                and count is None
                and one.value in range(2, 9)
                and (_BOTTLES.search(one.right) or (after is not None and after.unit == "lb" and not one.right))
            )
        ):
            count = one
        elif one.unit in _GAS_UNITS and not one.amount.per:
            amounts.append(one)
        else:
            return None
    if len(amounts) != 1 or not 1 <= len(prices) <= 2 or (len(prices) == 2) != saves:
        return None
    held = amounts[0]
    many = 1.0
    if count is not None:
        each = held.amount.each or count.amount.each or _SHORT.search(held.right) is not None or Lazy(r"\beach\b|\bapiece\b").search(frame)  # fmt: skip
        if not each:
            return None
        many = count.value
    return _answer(q, held, many, prices)


def _price(one: Said, after: Said | None) -> _Price | None:
    """An amount as a price, or None."""
    if one.unit != "n" or one.amount.per:
        return None
    beside = (
        after is not None and after.amount.start == one.amount.end and after.value == 1 and after.unit in _GAS_UNITS
    )
    of = after.unit if beside and after is not None else ""
    value = one.value
    if _A_DOLLAR.search(one.left):
        value = 1 + value / _HUNDRED if 1 < value < _HUNDRED else value
    elif value >= _HUNDRED and not value % 1:
        value /= _HUNDRED  # "three sixty five"
    told = _PRICED.search(one.left) or _PRICED_AFTER.search(one.right)
    if not 0 < value < _DEAREST or not (of or (told and not value.is_integer())):
        return None
    return _Price(value, "gal" if of == "L" else of) if of != "L" else None


def _answer(q: Question, held: Said, many: float, prices: list[_Price]) -> Estimate | None:
    of = next((one.of for one in prices if one.of), "") or (
        "lb" if held.unit in ("lb", "kg") and "gallon" not in q.text else "gal"
    )
    if any(one.of not in ("", of) for one in prices) or of == "kg":
        return None
    amount, work, source = many * held.value, [], "arithmetic"
    told = f"{shown(many)} × {shown(held.value)} {held.unit}" if many != 1 else f"{shown(held.value)} {held.unit}"
    sold = amount
    if held.unit != of:
        if {held.unit, of} == {"gal", "L"}:
            sold = converted(amount, held.unit, of)
        else:
            if Lazy(r"\b(?:anti ?freeze|pink)\b").search(q.frame):
                return None
            pounds = converted(amount, held.unit, "lb") if held.unit in ("lb", "kg") else converted(amount, held.unit, "gal") * LB_PER_GAL  # fmt: skip
            sold = pounds / LB_PER_GAL if of == "gal" else pounds
            source = WEIGHT_SOURCE
        work.append(f"{told} = {shown(sold)} {of}")
        told = f"{shown(sold)} {of}"
    also = (figure("bought", sold, of),) if work or many != 1 else ()
    if len(prices) == 2:
        low, high = sorted(one.dollars for one in prices)
        saved = (high - low) * sold
        line = f"{told} × (${high:.2f} − ${low:.2f}) = ${saved:.2f}"
        return exact("saved", saved, "dollars", working=(*work, line), source=source, verdict=f"${low:.2f} is the cheaper one, by ${saved:.2f}.", also=also)  # fmt: skip
    dollars = sold * prices[0].dollars
    return exact("cost", dollars, "dollars", working=(*work, f"{told} × ${prices[0].dollars:.2f} = ${dollars:.2f}"), source=source, also=also)  # fmt: skip
