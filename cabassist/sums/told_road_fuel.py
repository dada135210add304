"""The fuel of a trip: how far a tank goes, what a distance takes, the mileage, what it costs."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.fuel import MPG_TIMES_L_PER_100_KM
from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.lazy import Lazy
from cabassist.sums.families import Told
from cabassist.sums.told_parts import asks_lack, result
from cabassist.sums.told_road_hours import legs_told

FLUID = r"\b(?:def|exhaust fluid|ad ?blue|urea)\b"
"""Exhaust fluid."""


def _capacity(t: Told) -> float:
    """Gallons of the coach's own tank: of diesel, or of exhaust fluid where that is spoken of."""
    return float(t.coach.diesel.def_capacity_gal if t.question.has(FLUID) else t.coach.diesel.capacity_gal)


def _tank(t: Told) -> tuple[float, tuple[str, ...]] | None:
    """Gallons that may be used: what is in the tank less what is to stay in it."""
    fuel, share = t.value("fuel"), t.value("share")
    if fuel is None:
        if share is None:
            return None
        fuel = _capacity(t)
        t.assumed.append(f"a {shown(fuel)} gal tank (profile)")
    whole, lines = fuel, []
    if share is not None:
        lines.append(f"{shown(100 * share)} % of {shown(fuel)} gal = {shown(fuel * share)} gal")
        whole = fuel * share
    stays, part = t.value("reserve"), t.value("reserve_share")
    if part is not None:
        stays = (stays or 0.0) + part * fuel
    if stays is not None:
        lines.append(f"{shown(whole)} - {shown(stays)} gal = {shown(whole - stays)} gal")
        whole -= stays
    burnt, hours = t.value("idle"), t.value("idle_hours")
    if (burnt is None) != (hours is None):
        return None
    if burnt is not None and hours is not None:
        lines.append(f"- {shown(burnt)} gal an hour x {shown(hours)} h = {shown(whole - burnt * hours)} gal")
        whole -= burnt * hours
    return (whole, tuple(lines)) if whole > 0 else None


def mpg_told(t: Told) -> float | None:
    """The mileage that was told, less what a headwind or a load takes from it; None when it was not."""
    worse = t.value("worse")
    found = _mileage_told(t)
    if found is None or worse is None:
        return found
    t.assumed.append(f"{shown(found)} mpg less {shown(100 * worse)} %")
    return found * (1 - worse)


def _mileage_told(t: Told) -> float | None:
    litres, far = t.value("per_litres"), t.value("per_km")
    if litres is not None:
        if t.has("mileage"):
            return None
        return (62.137119 if far is None else far) / litres if litres else None
    return t.value("mileage") if far is None else None


def _burned(t: Told) -> float | None:
    """Gallons that a run took: told so, as a share of the tank, or as what was in it before and is now."""
    took, was, share, fuel = t.one("burned"), t.one("was"), t.one("share"), t.one("fuel")
    if (took is None) is (was is None):
        return None
    size = fuel.value if fuel is not None and share is not None else _capacity(t)
    if took is not None:
        return took.value * (size if took.kind == "share" else 1.0)
    if was is None or (was.kind == "share" and share is None):
        return None
    now = fuel if share is None else share
    if now is None:
        return None
    before = was.value / 100 if was.kind == "n" and share is not None and was.value > 1 else was.value
    return (before - now.value) * (1.0 if share is None else size)


def as_before(t: Told) -> Estimate | None:
    """How far a tank goes, or what a distance takes, at what an earlier run took: the miles over the gallons put in."""
    burned, readings, before = _burned(t), [one.value for one in t.all("odometer")], t.total("done")
    if t.has("mileage") or t.has("start") or t.has("arrive") or t.has("speed") or not burned or burned < 0:
        return None
    if (len(readings) == 2) is (before is not None):
        return None
    run = abs(readings[1] - readings[0]) if before is None else before
    mileage = run / burned
    fluid = t.question.has(FLUID)
    least, most = (_LEAST_DEF, _MOST_DEF) if fluid else (_LEAST_MPG, _MOST_MPG)
    if not least <= mileage <= most:
        return None
    legs = [one.value for one in t.all("distance")]
    if t.want.kind == "mileage" and not legs and not fluid:
        work = f"{shown(run)} mi ÷ {shown(burned)} gal = {shown(mileage)} mpg"
        if t.has("was") and t.one("share") is None:
            t.one("fuel")
        return result(t, "mileage", mileage, "mpg", (work,), also=(figure("burned", burned, "gal"),))
    line = f"{shown(run)} mi ÷ {shown(burned)} gal = {shown(mileage)} mi a gallon"
    if t.want.kind in ("volume", "share") and legs:
        needed = _needed(t, mileage, sum(legs))
        return None if needed is None else replace(needed, working=(line, *needed.working))
    tank = _tank(t)
    if tank is None or t.want.kind not in ("distance", "") or len(legs) > 1:
        return None
    reach = tank[0] * mileage
    lines = (line, *tank[1], f"{shown(tank[0])} gal x {shown(mileage)} = {shown(reach)} mi")
    verdict = f"{'Yes, it reaches' if reach >= legs[0] else 'No'}: {shown(legs[0])} mi asked, {shown(reach)} mi there." if legs else ""  # fmt: skip
    return result(t, "range", reach, "mi", lines, verdict, (figure("mileage", mileage, "mpg"),))


_LEAST_DEF, _MOST_DEF = 40.0, 2000.0
"""Miles to a gallon of exhaust fluid; it goes with two to six percent of the diesel."""
_LEAST_MPG, _MOST_MPG = 1.5, 40.0


_TO_SPARE = Lazy(r"# (?:\w+ )?(?:to spare|spare|in hand|in reserve|left over)\b")


def _miles_to_spare(t: Told) -> float:
    """Miles that must be left at the end, where they were not told as a leg."""
    return sum(one.value for one in t.roles.get("beside", []) if one.kind == "distance" and _TO_SPARE.search(one.around))  # fmt: skip


def fuelled(t: Told, mileage: float | None) -> Estimate | None:
    """What follows from a mileage and a distance: fuel, cost, range or share of the tank."""
    legs = legs_told(t)
    far = sum(legs) + _miles_to_spare(t) if legs else None
    other, price = t.value("other_mileage"), t.value("price")
    if price is not None:
        price /= gallons_priced(t)
    kind = t.want.kind
    if kind == "mileage":
        tank = _tank(t)
        if mileage is not None or far is None or tank is None or other is not None or price is not None:
            return None
        value = far / tank[0]
        return result(t, "mileage", value, "mpg", (*tank[1], f"{shown(far)} mi ÷ {shown(tank[0])} gal = {shown(value)} mpg"), also=(figure("liters for 100 km", MPG_TIMES_L_PER_100_KM / value, "L/100 km"),))  # fmt: skip
    if mileage is None or not _LEAST_MPG <= mileage <= _MOST_MPG:
        return None
    if other is not None:
        if far is None or not t.want.difference or t.has("fuel") or t.has("reserve") or price is not None:
            return None
        gallons = abs(far / other - far / mileage)
        work = f"{shown(far)} mi ÷ {shown(other)} - {shown(far)} mi ÷ {shown(mileage)} = {shown(gallons)} gal"
        also = (figure("at the first mileage", far / mileage, "gal"), figure("at the other", far / other, "gal"))
        return result(t, "difference", gallons, "gal", (work,), "More." if other < mileage else "Less.", also)
    if price is not None:
        if far is None or t.has("fuel") or (kind != "money" and not (kind == "" and not t.want.judged)):
            return None
        cost = far / mileage * price
        return result(
            t,
            "fuel cost",
            cost,
            "dollars",
            (f"{shown(far)} mi ÷ {shown(mileage)} mpg x {shown(price)} = {shown(cost)}",),
        )
    if kind in ("volume", "money", "share"):
        return _needed(t, mileage, far)
    if t.want.difference and far is None:
        return None
    tank = _tank(t)
    if tank is None or kind == "time":
        return None
    reach = tank[0] * mileage
    working = (*tank[1], f"{shown(tank[0])} gal x {shown(mileage)} mpg = {shown(reach)} mi")
    verdict = ""
    if far is not None:
        near = " It is close." if 0.93 * reach < far <= reach else ""
        verdict = f"Yes, {'barely' if near else 'it reaches'}: {shown(far)} mi asked, {shown(reach)} mi there.{near}" if reach >= far else f"No: {shown(far)} mi asked, {shown(reach)} mi there."  # fmt: skip
        if "km" in {one.unit for one in t.question.amounts}:
            verdict = "Yes, it reaches." if reach >= far else "No, it does not reach."
        if asks_lack(t.question) and not t.question.has(r"\b(?:make it|reach|get there|get us there|enough)\b"):
            verdict = f"{'No' if reach >= far else 'Yes'}: {shown(far)} mi asked, {shown(reach)} mi there."
        if t.question.has(r"\bhow (?:far|many miles|many km)\b.*\b(?:after|beyond|past|left|more)\b"):
            return None
    beside = () if far is None else (figure("to spare", (reach - far) / mileage, "gal"),)
    return result(t, "range", reach, "mi", working, verdict, beside)


def fluid_for(t: Told) -> Estimate | None:
    """What exhaust fluid a distance takes, at so much to the diesel, and whether what is in its tank is enough."""
    takes, of, mileage, legs = t.one("takes"), t.value("takes_of"), mpg_told(t), legs_told(t)
    if takes is None or mileage is None or not legs or not _LEAST_MPG <= mileage <= _MOST_MPG:
        return None
    if (takes.kind == "share") is not (of is None) or (of is not None and of <= 0):
        return None
    part = takes.value if of is None else takes.value / of
    if not 0 < part < _MOST_FLUID or t.want.kind not in ("volume", "share", "distance", ""):
        return None
    diesel = sum(legs) / mileage
    uses = diesel * part
    lines = (f"{shown(sum(legs))} mi ÷ {shown(mileage)} mpg = {shown(diesel)} gal of diesel", f"x {shown(100 * part)} % = {shown(uses)} gal of DEF")  # fmt: skip
    tank = _tank(t) if t.has("fuel") or t.has("share") else None
    if tank is None:
        return None if t.want.judged or t.has("fuel") else result(t, "DEF", uses, "gal", lines, also=(figure("diesel", diesel, "gal"),))  # fmt: skip
    left = tank[0] - uses
    enough = left >= 0
    said = "Yes" if enough is not asks_lack(t.question) else "No"
    verdict = f"{said}: {shown(uses)} against {shown(tank[0])} gallons of DEF, {shown(abs(left))} {'to spare' if enough else 'short'}."  # fmt: skip
    also = (figure("to spare" if enough else "short", abs(left), "gal"), figure("there is enough for", tank[0] / part * mileage, "mi"))  # fmt: skip
    return result(t, "DEF", uses, "gal", (*tank[1], *lines), verdict, also)


_MOST_FLUID = 0.15
"""Exhaust fluid goes with two to six percent of the diesel; beyond that it is no fluid."""


def gallons_priced(t: Told) -> float:
    """Gallons that a price is for: one, or what a liter is of it."""
    each = [one.value for one in t.all("a gallon")]
    return each[0] if each and each[0] > 0 else 1.0


def bought(t: Told) -> Estimate | None:
    """What so many gallons cost, or what is saved on them at another price."""
    gallons, price, other = t.value("fuel"), t.value("price") or 0.0, t.value("other_price")
    each = gallons_priced(t)
    price, other = price / each, None if other is None else other / each
    if gallons is None or t.want.kind not in ("money", "volume", ""):
        return None
    if other is not None:
        saved = gallons * abs(price - other)
        return result(t, "difference", saved, "dollars", (f"{shown(gallons)} x ({shown(max(price, other))} - {shown(min(price, other))}) = {shown(saved)}",))  # fmt: skip
    return result(t, "fuel cost", gallons * price, "dollars", (f"{shown(gallons)} gal x {shown(price)} = {shown(gallons * price)}",))  # fmt: skip


def _needed(t: Told, mileage: float, far: float | None) -> Estimate | None:
    """Gallons for a distance, with what is to be kept, or still to be taken on beside what there is."""
    if far is None or t.want.kind == "money":
        return None
    share = t.value("share")
    gallons = far / mileage
    lines = [f"{shown(far)} mi ÷ {shown(mileage)} mpg = {shown(gallons)} gal"]
    spare = t.value("reserve")
    if spare is not None:
        gallons += spare
        lines.append(f"+ {shown(spare)} gal = {shown(gallons)} gal")
    have = t.value("fuel")
    if share is not None:
        have = share * (_capacity(t) if have is None else have)
    if have is None:
        if t.want.kind == "share":
            return None
        return result(t, "fuel", gallons, "gal", tuple(lines))
    left = have - gallons
    lines.append(f"{shown(have)} - {shown(gallons)} = {shown(left)} gal")
    if t.question.has(r"\b(?:left|leaves?|remain\w*|spare)\b") and left >= 0 and spare is None:
        full = have / share if share else have
        if t.want.kind == "share":
            return result(t, "left", 100 * left / full, "percent", tuple(lines), also=(figure("left", left, "gal"),))
        return result(t, "left", left, "gal", tuple(lines), also=(figure("of what it was full", 100 * left / full, "percent"),))  # fmt: skip
    if t.want.kind == "share":
        return None
    if left < 0 and t.question.has(r"\b(?:take on|buy|add|put in|short|more)\b"):
        return result(t, "still to take on", -left, "gal", tuple(lines))
    return None
