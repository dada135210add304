"""Propane by weight and volume: what a cylinder weighs, what the scale or a stamp says, pounds as gallons or heat, what a fill costs."""

from __future__ import annotations

from cabassist.estimate.propane import BTU_PER_LB, HEAT_SOURCE, LB_PER_GAL, WEIGHT_SOURCE
from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import Term
from cabassist.sums.families import Told, done
from cabassist.sums.sums_fill import MOST_OF_VOLUME
from cabassist.sums.sums_propane_burn import burn_rate, fallen, must_last
from cabassist.sums.sums_propane_held import GONE, TO_FILL, held_now, how_many, on_scale, pounds_of, size_lb

_BY_POUND = Lazy(r"<n> (?:dollars |bucks )?(?:a|per|the|/) (?:pound|lb)\b")


def heavy(t: Told) -> Estimate | None:
    """What a cylinder weighs with what is in it."""
    content, tare = held_now(t), t.value("tare")
    if content is None or not content[0] or tare is None or t.want.kind not in ("mass", ""):
        return None
    many = how_many(t)
    whole = content[0] + tare * many
    work = (
        *content[1],
        f"{shown(content[0])} lb + {shown(tare)} lb{'' if many == 1 else f' x {shown(many)}'} = {shown(whole)} lb",
    )
    return done("weighs", whole, "lb", t, work, "", figure("propane", content[0], "lb"))


def cost(t: Told) -> Estimate | None:
    """What a fill costs at a price for a gallon or a pound."""
    price, unit = t.value("price"), t.one("priced")
    content, burn, span = held_now(t), burn_rate(t), must_last(t)
    if price is None or content is None or burn is None or span is None:
        return None
    pounds = burn[0] * span if burn[0] else content[0]
    if not pounds or (burn[0] and content[0] is not None):
        return None
    name = "lb" if (unit.kind == "mass" if unit else _BY_POUND.search(t.question.frame)) else "gal"
    count = pounds / (pounds_of(unit) if unit else LB_PER_GAL if name == "gal" else 1.0)
    work = (*content[1], burn[1], f"{shown(count)} {name} x {shown(price)} = {shown(count * price)}")
    return done("cost", count * price, "dollars", t, work, source=WEIGHT_SOURCE)


def gone_between(t: Told) -> Estimate | None:
    """What is gone between two readings."""
    fall = fallen(t)
    if fall is None or t.want.kind not in ("mass", "volume", "energy", "") or t.want.rate:
        return None
    return amount_wanted(t, fall[0], (fall[1],), "gone")


def as_wanted(t: Told, pounds: float, lines: tuple[str, ...]) -> Estimate | None:
    """An amount of propane in what it is wanted in."""
    gone = t.want.kind == "" and GONE.search(t.question.frame) is not None
    if (t.want.kind not in ("mass", "volume", "energy") and not gone) or t.want.rate:
        return None
    said = {term.kind for name in ("left", "filled") for term in t.roles.get(name, [])} or {"mass"}
    same = {term.unit for name in ("left", "filled") for term in t.roles.get(name, [])} & {t.want.unit}
    if t.want.kind in said and len(t.question.amounts) == 1 and (same or not t.want.unit):
        return None
    return amount_wanted(t, pounds, lines, "propane")


def amount_wanted(t: Told, pounds: float, work: tuple[str, ...], name: str) -> Estimate:
    """Pounds of propane as pounds, gallons or heat, whichever is wanted."""
    gallons = pounds / LB_PER_GAL
    by_weight = t.want.kind in ("mass", "")
    if t.want.kind == "energy":
        heat = pounds * BTU_PER_LB
        line = f"{shown(pounds)} lb x {shown(BTU_PER_LB)} BTU/lb = {shown(heat)} BTU"
        return done(name, heat, "BTU", t, (*work, line), "", figure("pounds", pounds, "lb"), source=HEAT_SOURCE)
    line = f"{shown(pounds)} lb ÷ {LB_PER_GAL} lb/gal = {shown(gallons)} gal"
    value, unit = (pounds, "lb") if by_weight else (gallons, "gal")
    other = figure("gallons", gallons, "gal") if by_weight else figure("pounds", pounds, "lb")
    return done(name, value, unit, t, (*work, line), "", other, source=WEIGHT_SOURCE)


_WEIGHS = Lazy(r"\b(?:weigh|weighs|gross|on the scale)\b")


def stamped(t: Told) -> Estimate | None:
    """What the water capacity on the collar allows."""
    from cabassist.estimate.cylinders import fill_from_water_capacity
    from cabassist.sums.working_sheet import quantity

    stamp = t.one("water_capacity")
    tare = t.value("tare")  # stamped beside it
    if stamp is None:
        return None
    if t.has("gross"):
        return _room_by_stamps(t, stamp, tare)
    if tare is not None and stamp.kind != "volume" and _WEIGHS.search(t.question.frame):
        fill = fill_from_water_capacity(quantity(stamp.value, "lb"))
        pounds = fill.value or 0.0
        line = f"{shown(pounds)} + {shown(tare)} lb = {shown(pounds + tare)} lb"
        return done("weighs when filled", pounds + tare, "lb", t, (*fill.working, line), "", figure("propane", pounds, "lb"), source=fill.source)  # fmt: skip
    if stamp.kind != "volume":
        found = fill_from_water_capacity(quantity(stamp.value, "lb"))
        if t.want.kind == "volume":
            from cabassist.sums.working_sheet import in_unit

            return in_unit(found, "gal")
        return found
    most = MOST_OF_VOLUME * stamp.value
    return done(
        "most that may be filled", most, "gal", t, (f"80 % of {shown(stamp.value)} gal = {shown(most)} gal",),
        "80 percent at most, the outage gauge decides.", figure("pounds", most * LB_PER_GAL, "lb"), source=f"80 % fill rule (NFPA 58, from memory); {WEIGHT_SOURCE}",
    )  # fmt: skip


def _room_by_stamps(t: Told, stamp: Term, tare: float | None) -> Estimate | None:
    """What may still go into a cylinder that stands on the scale, by the two stamps on its collar."""
    from cabassist.estimate.cylinders import fill_from_water_capacity
    from cabassist.sums.working_sheet import quantity

    gross = t.value("gross")
    if gross is None or tare is None or gross < tare or stamp.kind == "volume" or t.want.kind not in ("mass", "volume", ""):  # fmt: skip
        return None
    fill = fill_from_water_capacity(quantity(stamp.value, "lb"))
    full = (fill.value or 0.0) + tare
    room = full - gross
    line = f"{shown(fill.value or 0.0)} + {shown(tare)} lb = {shown(full)} lb when filled, - {shown(gross)} = {shown(room)} lb"  # fmt: skip
    also = (figure("weighs when filled", full, "lb"), figure("propane in it", gross - tare, "lb"))
    if room < 0:
        return done("too much", -room, "lb", t, (*fill.working, line), f"Nothing more: it is {shown(-room)} pounds past its legal fill. Have it bled off.", *also, source=fill.source)  # fmt: skip
    by_volume = t.want.kind == "volume"
    value, unit = (room / LB_PER_GAL, "gal") if by_volume else (room, "lb")
    other = figure("pounds", room, "lb") if by_volume else figure("gallons", room / LB_PER_GAL, "gal")
    asks = Lazy(r"\bhow (?:many|much)\b").search(t.question.frame) is None and t.want.judged
    judged = "Yes, there is room." if asks and room > 0 else ""
    return done("may still go in", value, unit, t, (*fill.working, line), judged, other, *also, source=fill.source)


_STAMP = Lazy(r"\b(?:wc|w c|water capacity)\b")
_MORE_IN = Lazy(
    r"\b(?:more|else|still|can|may|might) (?:\w+ ){0,3}?(?:go|goes|fit|fits|put|take|takes|add|added) ?(?:in|into)?\b"
)


_LESS = Lazy(r"\b(?:less|under|below|lower|not even|short of)\b")


def _beside_share(t: Told, pounds: float, size: float | None, work: tuple[str, ...]) -> Estimate | None:
    """Whether what the scale says without the tare is more, or less, than a share of the fill."""
    share = t.value("share")
    if share is None or not size or not t.want.judged or not 0 < share <= 1 or pounds > size * 1.1:
        return None
    mark = share * size
    above = pounds > mark
    yes = above is not (_LESS.search(t.question.frame) is not None)
    verdict = f"{'Yes' if yes else 'No'}, {'more' if above else 'not more'} than {shown(mark)} of {shown(size)} pounds."
    lines = (*work, f"{shown(share)} x {shown(size)} lb = {shown(mark)} lb")
    return done("propane left", pounds, "lb", t, lines, verdict, figure("of its fill", pounds / size * 100, "percent"))


def weighed_out(t: Told) -> Estimate | None:
    """What the scale says without the tare."""
    if len(t.roles["gross"]) > 1 or (t.has("bottles") and t.value("bottles") != 1) or t.want.kind == "energy":
        content = on_scale(t)
        return amount_wanted(t, content[0], content[1], "propane left") if content and content[0] else None
    gross, tare = t.value("gross"), t.value("tare")
    if gross is None or tare is None or gross <= tare or t.has("left"):
        return None
    if _STAMP.search(t.question.frame) and (TO_FILL.search(t.question.frame) or _MORE_IN.search(t.question.frame)):
        return None  # how much more goes in is told by the water capacity
    size = size_lb(t)
    pounds = gross - tare
    work = (f"{shown(gross)} - {shown(tare)} lb = {shown(pounds)} lb",)
    if t.has("share"):
        return _beside_share(t, pounds, size, work)
    gone = GONE.search(t.question.frame) is not None
    if gone and size is None:
        return None
    if size and (gone or TO_FILL.search(t.question.frame)):
        room = size - pounds
        if room <= 0 or t.has("rate"):
            return None
        if t.want.kind == "share":
            return None
        return done("gone" if gone else "room", room, "lb", t, (*work, f"{shown(size)} - {shown(pounds)} = {shown(room)} lb"), "", figure("gallons", room / LB_PER_GAL, "gal"))  # fmt: skip
    if t.want.kind == "time":
        burn = burn_rate(t)
        if burn is None or burn[0] <= 0 or t.has("needed"):
            return None
        line = f"{shown(pounds)} lb ÷ {shown(burn[0])} lb an hour = {shown(pounds / burn[0])} h"
        return done("lasts", pounds / burn[0], "h", t, (*work, burn[1], line), "", figure("days", pounds / burn[0] / 24, "days"), source=HEAT_SOURCE)  # fmt: skip
    if size:
        share = figure("of its fill", pounds / size * 100, "percent")
        if t.want.kind == "share":
            return done("full", pounds / size * 100, "percent", t, (*work, f"÷ {shown(size)} lb = {shown(pounds / size * 100, 3)} %"), "", figure("pounds", pounds, "lb"))  # fmt: skip
        return done("propane left", pounds, "lb", t, work, "", figure("gallons", pounds / LB_PER_GAL, "gal"), share)
    return None if t.want.kind == "share" else done("propane left", pounds, "lb", t, work, "", figure("gallons", pounds / LB_PER_GAL, "gal"))  # fmt: skip
