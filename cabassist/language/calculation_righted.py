"""Amounts put right in the same breath: "a half, no, three eighths", "forty no forty two", "30 gallons, sorry, 40"."""

from __future__ import annotations

from collections.abc import Sequence

from cabassist.language.calculation_types import Amount
from cabassist.language.calculation_units import same_kind
from cabassist.language.lazy import Lazy
from cabassist.language.numbers import Word

_ALONE = r"no|nope|nah|sorry|oops|whoops|correction|rather|actually|i mean|i meant|make that|scratch that|strike that|my mistake|my bad"
_PUT_RIGHT = Lazy(
    rf"(?:(?:{_ALONE}|or rather|make it|call it|wait|hang on|hold on|well|er|uh|um|it is|that is|let us say|say)(?: |$))+(?:(?:a|an|the|about|more like)(?: |$))?"
)
_SURELY = Lazy(rf"\b(?:{_ALONE})\b")
_AFTER_A_NOUN = Lazy(
    r"(?!(?:and|or|at|in|on|of|for|to|from|with|plus|is|by|per|the|a|an|no|not|then) )[a-z]+ (?:no )?(?:make that|make it|call it|scratch that|strike that|correction|i mean|i meant|sorry|my mistake|my bad)(?: it is| a| an)?"
)
"""What is measured stands between: "twenty amp outlet, make that thirty"."""
_NEAR = 4.0
"""A number put right behind its noun is at most so many times the first one, or less."""
_ENDS = Lazy(r"[?.!;]")
"""What follows these is said in another breath."""
_SHARES = frozenset({"part", "percent"})
_DEGREES = frozenset({"F", "C", "temp"})
_LONGEST = 7


def put_right(found: Sequence[Amount], words: Sequence[Word], text: str) -> list[Amount]:
    """The amounts without those that the next one puts right; that one stands for both."""
    texts = [word.text for word in words]
    out: list[Amount] = []
    for amount in found:
        last = out[-1] if out else None
        right = None
        counted = _count_again(out, amount, found, texts)
        if counted is not None:
            out[-2:] = counted
            continue
        if last is not None and not _ENDS.search(text[words[last.end - 1].end : words[amount.start].start]):
            right = _instead(last, amount, texts)
        if right is None:
            out.append(amount)
        else:
            out[-1] = right
    return out


def _count_again(
    out: Sequence[Amount], amount: Amount, found: Sequence[Amount], texts: Sequence[str]
) -> list[Amount] | None:
    """The last two amounts anew where the first of them is put right: "40 bags at 50, no, 36 bags at 50", or "no, 36 bags"."""
    if len(out) < 2 or amount.unit not in _COUNTED or out[-2].unit != amount.unit or out[-1].unit == amount.unit:
        return None
    between = " ".join(word for word in texts[out[-1].end : amount.start] if word not in (",", "-", "–", "—"))
    if not between or not _PUT_RIGHT.fullmatch(between) or not _SURELY.search(between):
        return None
    following = next((one for one in found if one.start >= amount.end), None)
    again = following is not None and texts[amount.end : following.start] == texts[out[-2].end : out[-1].start]
    if again:
        return [amount._replace(start=out[-2].start)]
    return [out[-2]._replace(value=amount.value), out[-1]._replace(end=amount.end)]


_COUNTED = frozenset({"bag", "people", "heater", "furnace", "cylinder", "cord", "driver"})


def _instead(first: Amount, amount: Amount, texts: Sequence[str]) -> Amount | None:
    """The second amount in place of the first; None where it is one of its own."""
    between = [word for word in texts[first.end : amount.start] if word not in (",", "-", "–", "—")]
    if not between or len(between) > _LONGEST:
        return None
    said = " ".join(between)
    if _AFTER_A_NOUN.fullmatch(said):
        if not (
            amount.unit in ("n", first.unit) and first.value > 0 and 1 / _NEAR < amount.value / first.value < _NEAR
        ):
            return None
    elif not _PUT_RIGHT.fullmatch(said) or not _SURELY.search(said):
        return None
    article = first.unit == "n" and texts[first.start - 1 : first.start] in (
        ["a"],
        ["an"],
    )  # "a fifteen, no, a twenty amp breaker"
    if " ".join(between) in ("no", "no a", "no an") and amount.describes and not first.describes and not article:
        return None  # "forty pounds, no twenty pound bottle"
    if amount.unit == "n" and first.unit not in ("n", "part"):
        below = first.unit in _DEGREES and first.value < 0 < amount.value
        value = -amount.value if below else amount.value
        return amount._replace(value=value, unit=first.unit, per=amount.per or first.per, each=amount.each or first.each, start=first.start, pieces=())  # fmt: skip
    if first.unit == "n" and not first.per:
        glued = amount.unit in ("s", "h") and texts[amount.end - 1] == amount.unit
        return None if glued else amount._replace(start=first.start)  # "we have 40, no 20s"
    alike = (
        first.unit == amount.unit
        or {first.unit, amount.unit} <= _SHARES
        or {first.unit, amount.unit} <= _DEGREES
        or same_kind(first.unit, amount.unit)
    )
    if not alike or (first.per and amount.per and first.per != amount.per):
        return None
    return amount._replace(start=first.start, per=amount.per or first.per, each=amount.each or first.each)
