"""The propane there is: how many cylinders of which size, how full they are, and the pounds in them."""

from __future__ import annotations

from cabassist.estimate.propane import LB_PER_GAL
from cabassist.estimate.quantities import shown
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.sums.families import Told


def pounds_of(term: Term) -> float:
    """A weight or volume of propane in pounds."""
    return term.value * LB_PER_GAL if term.kind.startswith("volume") else term.value


def size_lb(t: Told) -> float | None:
    """Pounds that the one cylinder spoken of holds."""
    size = t.one("size")
    return None if size is None else pounds_of(size)


SPENDING = ("burner", "loss", "rate", "moved", "before", "needed", "deadline", "nightly")
"""Roles that make more of a weight than what is in the cylinder."""


def capacity_lb(t: Told) -> float:
    """Pounds that all cylinders together hold."""
    sizes = t.all("size")
    if len(sizes) > 1:
        return sum(pounds_of(term) for term in sizes)
    one = pounds_of(sizes[0]) if sizes else t.coach.propane.cylinders[0].nominal_lb
    if not sizes:
        t.assumed.append(f"a {shown(one)} lb cylinder (profile)")
    return one * max(how_many(t), float(len(t.roles.get("share", []))))


def kept_lb(t: Told) -> float | None:
    """Pounds that are to stay in."""
    kept = t.one("reserve")
    if kept is None:
        return None
    return kept.value * capacity_lb(t) if kept.kind == "share" else pounds_of(kept)


def how_many(t: Told) -> float:
    """How many cylinders are spoken of."""
    count = t.one("bottles")
    frame = of_cylinders(t.question.frame)
    if Lazy(r"\b(?:the|and) other\b").search(frame):
        return 2.0
    if count is not None:
        return count.value
    return 2.0 if Lazy(r"\bboth\b").search(frame) else 1.0


def of_cylinders(frame: str) -> str:
    """The words without the "both" and "the other" that are said of furnaces."""
    return BOTH_BURN.sub(" ", _OTHER_BURNS.sub(" ", frame))


BOTH_BURN = Lazy(
    r"\bboth (?:of (?:them|the|those) )?(?:(?!bottles|cylinders|tanks|full|at\b)\w+ )?(?:furnaces|heaters|burners|burning|running|firing|going|lit|on|run|burn|fire|<BTU(?:/h)?(?:/each)?>|<furnace>|<heater>)"
    r"|<(?:BTU|BTU/h|furnace|heater)(?:/each)?> (?:(?:furnaces|heaters|burners) )?both\b"
)
""" "Both" of the furnaces, which says nothing of cylinders."""
_OTHER_BURNS = Lazy(
    r"\b(?:the|and) other (?:furnace|heater|burner)\b|\b(?:the|and) other(?: one)?(?: (?:is|at|a|of|burns|does))* <(?:BTU|BTU/h)>"
    r"|<(?:BTU|BTU/h)>(?: \w+| ,){0,2} the other(?: one)?(?: (?:is|at|a|of|burns|does))* <n>"
)
_EACH = Lazy(r"<lb(?:/each)?> (?:\w+ )?(?:each|apiece)\b")
_BOTH = Lazy(
    r"\b(?:both|two) (?:of (?:the|them) )?(?:bottles|cylinders|tanks|have|has|got|are|together)\b|\b<cylinder>\b"
)
_TOGETHER = Lazy(r"\b(?:together|total|in all|between|combined|altogether|each|apiece)\b|\bin <cylinder>")
_SIDES = Lazy(
    r"\b(?:outside|outer|curb|left)\b.*\b(?:inside|inner|street|right)\b|\b(?:inside|inner|street|right)\b.*\b(?:outside|outer|curb|left)\b"
)
TO_FILL = Lazy(
    r"\bto (?:fill|top)\b|\btop(?:ping)? (?:(?:it|her|him|this|that) )?(?:up|off)\b|\bshort of\b|\b(?:it take|fits?|can i (?:add|put in|get in)|room|more (?:can|will|does|to))\b"
)
"""Asks what still goes into a cylinder."""
GONE = Lazy(
    r"\bhow (?:much|many(?= (?:pounds|lbs?|gallons|gal|kilos|kg)\b)) (?:\w+ ){0,2}(?:is|are|has been|have been|have i|have we|did we|did i)? ?(?:gone|used|missing|burned|burnt|short)\b"
)
"""Asks what is gone from a cylinder."""


def _to_fill(t: Told, size: float | None, left: list[Term]) -> tuple[float, tuple[str, ...]] | None:
    """What still goes into a cylinder up to its legal fill, which is what it is called by."""
    if size is None or len(left) != 1 or t.has("rate") or t.has("moved") or t.has("burner"):
        return None
    room = size - pounds_of(left[0])
    return (room, (f"{shown(size)} - {shown(pounds_of(left[0]))} lb = {shown(room)} lb",)) if room > 0 else None


_NAMED = Lazy(
    r"# (?:\w+ )?(?:pounders?|cylinders?|bottles?|tanks?)\b|\b(?:cylinders?|bottles?) (?:of|is|are|hold|holds) # "
)
_PLURAL = Lazy(r"\b(?:cylinders|bottles|tanks|ones|pounders) (?:\w+ ){0,3}?<(?:n|percent|part)> and\b")
_EMPTY = Lazy(r"\b(?:one|the other|other one|other)(?: is)? empty\b")


def _left(t: Told, left: list[Term]) -> tuple[float | None, tuple[str, ...]] | None:
    """Pounds left in all cylinders with the working; None when the amounts fit nothing."""
    if all(term.kind == "n" for term in left) and not any(t.has(name) for name in ("rate", "moved", "before")):
        return None
    gallons = any(term.kind == "volume" for term in left)
    pounds = sum(term.value * LB_PER_GAL if gallons and term.kind == "n" else pounds_of(term) for term in left)
    size = size_lb(t)
    spent = any(t.has(name) for name in SPENDING)
    if TO_FILL.search(t.question.frame) and not t.has("filled") and not spent and not t.has("price"):
        return _to_fill(t, size, left)
    both = _BOTH.search(t.question.frame)
    if both and len(left) == 1 and not _TOGETHER.search(t.question.frame):
        return None  # in each, or in both together?
    if len(left) > 1:
        t.all("bottles")
    if len(left) == 1 and t.has("bottles"):
        if not Lazy(
            r"<(?:lb|kg|gal|L)(?:/each)?> (?:\w+ ){0,3}?(?:each|apiece|every)\b|\beach (?:\w+ ){1,3}?<(?:lb|kg|gal)"
        ).search(t.question.frame):
            t.all("bottles")
        else:
            pounds *= how_many(t)
    if t.has("filled") and left[0].each:
        pounds *= how_many(t)
    if both and len(left) == 1 and _EACH.search(t.question.frame):
        pounds *= 2
    line = f"{' + '.join(shown(pounds_of(term)) for term in left)} lb" if len(left) > 1 else ""
    gal = (
        f"{shown(left[0].value)} gal x {LB_PER_GAL} lb/gal = {shown(pounds)} lb"
        if left[0].kind == "volume" and len(left) == 1
        else ""
    )
    return pounds, tuple(one for one in (line, gal) if one)


def held_now(t: Told) -> tuple[float | None, tuple[str, ...]] | None:
    """Pounds in all cylinders with the working; (None, ()) when none were told; None when they fit nothing."""
    if t.has("gross"):
        return on_scale(t)
    if t.has("before", "moved"):
        return _since(t)
    left = t.all("left")
    if t.has("filled"):
        if left or t.has("size", "share"):
            return None
        left = t.all("filled")
    shares = [term.value for term in t.all("share")]
    if left:
        return _beside_full(t, left, shares) if shares else _left(t, left)
    if len(shares) == 1 and (TO_FILL.search(t.question.frame) or GONE.search(t.question.frame)):
        size = size_lb(t)
        if size is None or t.has("bottles") or any(t.has(name) for name in ("rate", "moved", "burner")):
            return None
        room = size * (1 - shares[0])
        return room, (f"{shown(size)} lb x (1 - {shown(shares[0], 3)}) = {shown(room)} lb",)
    if len(t.roles.get("size", [])) > 1:
        return _unlike(t, shares)
    named = t.has("size") and _NAMED.search(t.roles["size"][0].around) is not None
    size = size_lb(t)
    sides = _SIDES.search(t.question.frame)
    if size is None and shares and (sides or t.has("before")):
        size = t.coach.propane.cylinders[0].nominal_lb
        t.assumed.append(f"a {shown(size)} lb cylinder (profile)")
    if size is None:
        return None if shares or t.has("bottles") else (None, ())
    many = 2.0 if sides else how_many(t)
    if len(shares) == 1 and many == 1 and _AND_ONE.search(t.question.frame):
        many = 2.0  # "one forty pounder full and one at three eighths"
    full = len(
        Lazy(r"(?<!<part> )(?<!<percent> )(?<!when )\b(?:full|<n> full)\b(?! (?:of|at|time|blast|on|bore))").findall(
            t.question.frame
        )
    )
    if len(shares) > 1 and many == 1 and not full and not t.has("bottles") and _PLURAL.search(t.question.frame):
        many = float(len(shares))  # "cylinders at 70 and 20 percent, forty pounds each"
    if not shares and not full and t.has("moved") and t.roles["moved"][0].kind == "share":
        return None, ()
    if not shares:
        shares = [1.0] * (round(many) if full else 0)
        if (
            not full
            and named
            and (
                t.has("left") or t.has("burner", "duty") or t.want.kind in ("energy", "volume", "mass") or t.has("rate")
            )
        ):
            shares = [1.0] * round(many)
        if not shares:
            return None
    elif len(shares) + 1 == many and not full and _EMPTY.search(t.question.frame):
        shares = [*shares, 0.0]
    elif len(shares) < many:
        shares = (
            [*shares, *([1.0] * full)]
            if full and len(shares) + full == many
            else shares * round(many)
            if len(shares) == 1
            else shares
        )
    if len(shares) != round(many):
        return None
    pounds = size * sum(shares)
    parts = " + ".join(f"{shown(size)} x {shown(one, 3)}" for one in shares)
    return pounds, (f"{parts} = {shown(pounds)} lb",)


def _beside_full(t: Told, left: list[Term], shares: list[float]) -> tuple[float, tuple[str, ...]] | None:
    """Pounds told of one cylinder, with the share that another one of a size is full."""
    size = size_lb(t)
    if len(left) != 1 or left[0].kind == "n" or len(shares) != 1 or size is None:
        return None
    if not Lazy(r"\b(?:other|another|second)\b|\band <n> <lb>").search(t.question.frame):
        return None
    t.all("bottles")
    pounds = pounds_of(left[0]) + size * shares[0]
    return pounds, (f"{shown(pounds_of(left[0]))} + {shown(size)} x {shown(shares[0], 3)} = {shown(pounds)} lb",)


def like_other(one: Term, other: Term) -> Term:
    """An amount told without a unit in that of the other."""
    if one.kind != "n" or other.kind not in ("mass", "volume", "share"):
        return one
    return one._replace(kind=other.kind, value=one.amount.value * other.factor)


def _since(t: Told) -> tuple[float, tuple[str, ...]] | None:
    """Pounds left of what there was, without what was burned of it."""
    first, moved = t.one("before"), t.one("moved")
    if first is None or moved is None or any(t.has(name) for name in ("left", "share", "gross", "filled")):
        return None
    first, moved = like_other(first, moved), like_other(moved, first)  # "started at eighteen kilos and used nine"
    had, gone = (one.value * capacity_lb(t) if one.kind == "share" else pounds_of(one) for one in (first, moved))
    t.all("size")
    return (had - gone, (f"{shown(had)} - {shown(gone)} lb = {shown(had - gone)} lb",)) if had > gone else None


def _unlike(t: Told, shares: list[float]) -> tuple[float, tuple[str, ...]] | None:
    """Pounds in cylinders of different sizes, full ones when nothing else was told."""
    sizes = [pounds_of(term) for term in t.all("size")]
    t.all("bottles")
    if shares and len(shares) not in (1, len(sizes)):
        return None
    parts = _one_share(t) if len(shares) == 1 else shares or [1.0] * len(sizes)
    if parts is None:
        return None
    pounds = sum(size * part for size, part in zip(sizes, parts, strict=True))
    return pounds, (
        f"{' + '.join(f'{shown(size)} x {shown(part, 3)}' for size, part in zip(sizes, parts, strict=True))} = {shown(pounds)} lb",
    )


_AND_ONE = Lazy(
    r"(?:<n>|<cylinder>|\bone\b)(?: (?:<lb>|is|one|bottle|cylinder|pounder|,))* full\b(?! of)(?: \S+){0,4}? (?:and|,) (?:one|<n>|the other|another)\b"
)
_ALL_ALIKE = Lazy(r"\b(?:both|each|all|every|apiece|they)\b")
_ONE_FULL = Lazy(
    r"(?:<n>|<cylinder>|\b(?:one|other|spare|second|first|another)\b)(?: \w+){0,2} full\b(?! of)|\bfull (?:<n>|<lb>|one)|<lb> (?:\w+ ){0,2}full\b(?! of)|\bfull (?:forty|hundred)"
)


def _one_share(t: Told) -> list[float] | None:
    """How full cylinders of different sizes are when one share is told: all the same, or one of them with the other full or empty."""
    frame, share = t.question.frame, t.roles["share"][0]
    sizes = t.roles["size"]
    if _ALL_ALIKE.search(frame):
        return [share.value] * len(sizes)
    rest = 1.0 if _ONE_FULL.search(frame) else 0.0 if _EMPTY.search(frame) else None
    ahead = [k for k, one in enumerate(sizes) if one.amount.start < share.amount.start]
    if rest is None or not ahead:
        return None
    return [share.value if k == ahead[-1] else rest for k in range(len(sizes))]


def on_scale(t: Told) -> tuple[float | None, tuple[str, ...]] | None:
    """Pounds in the cylinders on a scale, without their tare; (None, ()) when no tare was told, so that only a fall is known."""
    gross, tare = [term.value for term in t.all("gross")], [term.value for term in t.all("tare")]
    if t.has("left") or t.has("share"):
        return None
    t.all("size")
    if not tare:
        return (None, ()) if t.has("before") else None
    if len(tare) not in (1, len(gross)):
        return None
    parts = [
        one - empty for one, empty in zip(gross, tare * (1 if len(tare) == len(gross) else len(gross)), strict=True)
    ]
    if min(parts) <= 0:
        return None
    many = how_many(t) if len(parts) == 1 else 1.0
    t.all("bottles")
    pounds = sum(parts) * many
    return pounds, (
        f"{' + '.join(shown(one) for one in gross)} lb on the scale less the tare{'' if many == 1 else f', x {shown(many)}'} = {shown(pounds)} lb",
    )
