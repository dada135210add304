"""What a flow of water comes to: how long until a tank is full or empty, or what is in it after a time."""

from __future__ import annotations

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate, Figure
from cabassist.language.lazy import Lazy
from cabassist.language.sum_terms import hours_until
from cabassist.sums.families import Told, at_clock, done, today_at
from cabassist.sums.sums_water_tank import Tank, gallons_there, within_waste
from cabassist.sums.sums_water_verdict import asks_end, verdict_at
from cabassist.sums.told_parts import to_deadline


def _clock_now(t: Told) -> float | None:
    """The hour it is: "two" after "seven this morning" is in the afternoon."""
    now = t.value("now")
    if (
        now is None
        or not t.has("clock_before")
        or (t.roles["now"][0].kind == "clock" and not t.roles["now"][0].amount.pieces)
    ):
        return now
    before = t.roles["clock_before"][0]
    passed = hours_until(before.amount, t.roles["now"][0].amount)
    return now if passed is None else (before.value + passed) % 24


def hours_needed(t: Told) -> float | None:
    """Hours it has to last: told as such, or until a deadline from now; None when neither was told."""
    needed = t.value("needed")
    if needed is not None or not t.has("deadline"):
        return needed
    return to_deadline(t)


def how_long(t: Told, tank: Tank, gallons: float, goal: str, hourly: float, line: str, needed: float | None, filling: bool) -> Estimate | None:  # fmt: skip
    """How long until the end; or, when a time is told, what is left, short, or in the tank after it."""
    if hourly <= 0 or t.want.kind in ("times", "people"):
        return None
    tank.assume()
    now = _clock_now(t)
    if gallons <= 0:
        return None  # it is past: likelier an amount was taken for another
    hours = gallons / hourly - (t.value("early") or 0.0)
    if hours <= 0:
        return None  # that hour is past
    work = (line, f"{shown(gallons)} gal ÷ {shown(hourly)} gal an hour = {shown(hours)} h")
    if needed is not None and tank.waste and _TO_DUMP.search(t.question.frame):
        much = hourly * needed - gallons
        lines = (line, f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(hourly * needed)} gal", f"- {shown(gallons)} gal of room = {shown(much)} gal")  # fmt: skip
        return done("to be dumped", max(0.0, much), "gal", t, lines, "" if much > 0 else "Nothing: there is room enough.")  # fmt: skip
    if needed is not None:
        if t.want.kind in ("", "volume") and not t.want.judged and _USED.search(t.question.frame):
            used, over = hourly * needed, "" if hours >= needed else "There is not as much."
            return done("flows in that time", used, "gal", t, (line, f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(used)} gal"), over, figure("lasts", hours, "h"))  # fmt: skip
        if t.want.kind == "" and not t.want.judged and not t.want.difference and goal in ("full", "empty") and _THEN.search(t.question.frame):  # fmt: skip
            return level_then(t, tank, tank.capacity - gallons if goal == "full" else gallons, hourly, line, needed, filling)  # fmt: skip
        if t.want.kind == "volume" and (filling or tank.waste) and goal == "full" and _IN_IT.search(t.question.frame):
            return level_then(t, tank, tank.capacity - gallons, hourly, line, needed, filling)
        if t.want.kind == "share":
            if goal not in ("full", "empty"):
                return None
            inside = tank.capacity - gallons if goal == "full" else gallons
            then = inside + (hourly if tank.waste or filling else -hourly) * needed
            share = 100 * then / tank.capacity
            moved = f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(hourly * needed)} gal"
            over = "That is more than full." if share > 100 else "It is empty before." if share < 0 else ""
            return done("full then", share, "percent", t, (line, moved, f"{shown(then)} ÷ {shown(tank.capacity)} gal = {shown(share, 3)} %"), over, figure("in the tank then", then, "gal"))  # fmt: skip
        if t.want.kind == "volume" or t.want.difference:
            left = gallons - hourly * needed
            word = "left over" if left >= 0 else "short"
            used = hourly * needed
            return done(
                word, abs(left), "gal", t,
                (line, f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(used)} gal", f"{shown(gallons)} - {shown(used)} = {shown(left)} gal"),
                f"{'Yes' if (left >= 0) is not asks_end(t.question, tank.waste) else 'No'}, {'with ' if left >= 0 else ''}{shown(abs(left))} gallons {'to spare' if left >= 0 else 'short'}.",
                figure("flows in that time", used, "gal"), figure("lasts", hours, "h"),
            )  # fmt: skip
        enough = hours <= needed if filling or tank.dumped else hours >= needed
        verdict = verdict_at(t, enough, hours, needed, filling or tank.dumped, tank.waste)
        return done("lasts", hours, "h", t, work, verdict, figure("flows in that time", hourly * needed, "gal"), figure("needed", needed, "h"))  # fmt: skip
    if t.want.kind != "time" and (t.want.kind or _THEN.search(t.question.frame)):
        return None
    word = {"empty": "lasts", "full": "until it is full"}.get(goal, f"until it is {goal}")
    verdict = ""
    if t.want.clock or now is not None:
        verdict = at_clock(today_at(t.now, now), hours)
    minutes = filling and t.want.unit in ("", "min")
    also = (figure("days", hours / 24, "days"),) if not minutes else ()
    return done("filling takes" if minutes else word, hours * 60 if minutes else hours, "min" if minutes else "h", t, work, verdict, *also)  # fmt: skip


_USED = Lazy(
    r"\bhow (?:much|many (?:gallons|liters|litres))(?: of it| water)? (?:will|do|would|are|is|get|gets) (?:\w+ ){0,2}?(?:use|used|using|go through|going through|put in|putting in|drink|drunk)\b"
)
_TO_DUMP = Lazy(r"\bhow (?:much|many gallons) (?:\w+ ){0,4}?(?:dump|empty|let out|drain|pump out)\b")
_THEN = Lazy(
    r"\b(?:what|how (?:much|full|many))\b.*\b(?:will|would|have|be|is|in|after|then|left)\b|\bwhere (?:will|would|is)\b|\bwhat (?:is|does)\b"
)
_IN_IT = Lazy(r"\b(?:will|would) (?:be|there be|it (?:be|have|hold)|i have|we have)\b|\bin (?:it|the tank|there)\b|\bdo (?:i|we) have\b|\bend up\b")  # fmt: skip


def level_then(t: Told, tank: Tank, inside: float, hourly: float, line: str, needed: float, filling: bool) -> Estimate:  # fmt: skip
    """What is in the tank after a time; in percent when it was told so."""
    rising = filling or tank.waste
    moved = hourly * needed
    then = inside + moved if rising else inside - moved
    tank.used_capacity = True
    tank.assume()
    work = (line, f"{shown(hourly)} gal an hour x {shown(needed)} h = {shown(moved)} gal", f"{shown(inside)} {'+' if rising else '-'} {shown(moved)} = {shown(then)} gal")  # fmt: skip
    over = ""
    if then > tank.capacity:
        over = f"It is full before, {shown(then - tank.capacity)} gallons too many."
        then = tank.capacity
    elif then < 0:
        over = f"It is empty before, {shown(-then)} gallons short."
        then = 0.0
    share = 100 * then / tank.capacity
    told = {term.kind for name in ("level", "before") for term in t.roles.get(name, [])} - {"n"}
    if told == {"share"} and t.want.kind == "" and not filling:
        return done("full then", share, "percent", t, work, over, figure("in the tank then", then, "gal"))
    return done("in the tank then", then, "gal", t, work, over, figure("full then", share, "percent"), figure("flows in that time", moved, "gal"))  # fmt: skip


def flows_within(t: Told, tank: Tank, hourly: float, line: str, needed: float | None, filling: bool) -> Estimate | None:
    """What flows in a time that was told."""
    hours = t.value("elapsed") if needed is None and filling else needed
    if hours is None or t.want.kind not in ("volume", "", "share"):
        return None
    total = hourly * hours
    if t.want.kind == "share":
        tank.used_capacity = True
        tank.assume()
        line = f"{shown(total)} ÷ {shown(tank.capacity)} gal = {shown(100 * total / tank.capacity, 3)} %"
        return done("of the tank", 100 * total / tank.capacity, "percent", t, (line,), "", figure("gallons", total, "gal"))  # fmt: skip
    work = (line, f"{shown(hourly)} gal an hour x {shown(hours)} h = {shown(total)} gal")
    return (
        beside_stock(t, tank, total, work) if t.has("capacity") else done("flows in that time", total, "gal", t, work)
    )


def beside_stock(t: Told, tank: Tank, total: float, work: tuple[str, ...]) -> Estimate | None:
    """A total beside the room or the water there is for it."""
    have = gallons_there(t, tank)
    then: tuple[Figure, ...] = ()
    if have is None and any(name in t.roles for name in ("level", "room", "reserve", "target")):
        return None
    if have is None:
        return done("comes to", total, "gal", t, work)
    if tank.waste and t.has("level"):
        inside = tank.gallons(t.roles["level"][0])
        then = () if inside is None else (figure("in the tank then", inside + total, "gal"),)
    limited = within_waste(t, have)
    if limited is None:
        return None
    have, limit = limited
    tank.assume()
    fits = total <= have
    over = abs(total - have)
    yes = fits is not asks_end(t.question, tank.waste)
    verdict = f"{'Yes' if yes else 'No'}: {shown(total)} gallons against {shown(have)}, {shown(over)} {'to spare' if fits else ('over' if tank.waste else 'short')}."  # fmt: skip
    verdict = f"{verdict} {limit}".strip()
    if t.want.difference or _LEFT.search(t.question.frame):
        return done("to spare" if fits else "short", over, "gal", t, work, verdict, figure("comes to", total, "gal"))
    if then and t.want.judged and t.want.kind == "":
        return done("in the tank then", then[0].value, "gal", t, work, verdict, figure("comes to", total, "gal"))
    return done("comes to", total, "gal", t, work, verdict, figure("to spare" if fits else "short", over, "gal"), *then)


_LEFT = Lazy(
    r"\bhow (?:much|many gallons) (?:\w+ )?(?:is |are |do we have |have we got )?left\b|\bwhat (?:is |are )?left\b"
)
