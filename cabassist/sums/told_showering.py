"""Water and showers: how long it runs, how much each takes, how long or how much there is for everybody."""

from __future__ import annotations

from datetime import datetime

from cabassist.coach import Coach
from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.lazy import Lazy
from cabassist.language.wanted import Wanted, implied, wanted

_SHOWER = Lazy(r"\b(?:showers?|showering|rinse|rinses|wash|washes|shower ?head)\b|<shower>")
_OTHER = Lazy(
    r"\b(?:hose|fill\w*|bucket|waste|black|gr[ae]y|diesel|propane|reserve|keep|saving|holding back|hold back|leave (?:me|us|at least|about)|each hour|every hour|pump|percent|kitchen|cooking|drinking|toilet|flush\w*)\b"
)
_FLOWS = frozenset({"gal/min", "gpm", "n/min"})
_MINUTES = frozenset({"min", "min/each"})
_EACH = Lazy(
    r"\b(?:each|apiece|every (?:one|body|man|player|guy|person)|everybody|everyone|per (?:head|person|man|player)|a (?:head|man|person|player)|one of (?:them|us))\b"
)
_ONE_SHOWER = Lazy(
    r"\b(?:is|in|does|for|of|take|takes|use|uses)\b.*<min> (?:\w+ )?(?:shower|rinse|wash)|\b(?:a|one|each|per) (?:shower|rinse|wash)\b|\bshower of <min>"
)
_LENGTHS = Lazy(r"\bhow (?:long|many minutes|much time)\b|\bminutes\b")
_COUNT_ASKED = Lazy(
    r"\bhow many (?:of (?:them|those) )?(?:showers|rinses|washes|can (?:i|we)|do (?:i|we)|will (?:it|that)|is (?:it|that))\b"
)
_SHARE_ASKED = Lazy(r"\bhow (?:much|many (?:gallons)?)(?: \w+){0,6} (?:each|apiece|per (?:head|person|man))\b")


def showering(q: Question, coach: Coach, now: datetime) -> Estimate | None:
    """Minutes of showering, gallons of a shower, minutes or gallons for each one aboard."""
    if _OTHER.search(q.frame) or len(q.amounts) < 2:
        return None
    tank = [one for one in q.amounts if one.tag == "gal"]
    flows = [one for one in q.amounts if one.tag in _FLOWS]
    people = [one for one in q.amounts if one.tag == "people"]
    minutes = [one for one in q.amounts if one.tag in _MINUTES]
    bare = [one for one in q.amounts if one.tag == "n"]
    days = [one for one in q.amounts if one.unit in ("day", "night") and not one.per]
    want = wanted(q) or implied(q) or Wanted()
    of_shower = _SHOWER.search(q.frame) is not None
    if len(bare) == 1 and not flows and of_shower and len(tank) == 1 and 0.3 <= bare[0].value <= 6 and q.has(r"\bat (?:about )?<n>"):  # fmt: skip
        flows, bare = bare, []  # "four minutes at one point eight"
    counts = [len(tank), len(flows), len(people), len(minutes), len(days)]
    if sum(counts) != len(q.amounts) or any(one > 1 for one in counts) or want.judged or want.clock:
        return None
    if (
        of_shower
        and counts == [1, 1, 0, 0, 0]
        and _LENGTHS.search(q.frame)
        and want.kind == "time"
        and flows[0].value > 0
    ):
        long = tank[0].value / flows[0].value
        line = f"{shown(tank[0].value)} ÷ {shown(flows[0].value)} = {shown(long)} min"
        return exact("runs", long, "min", working=(line,), source="arithmetic", verdict=f"{shown(long, 3)} minutes.")
    if of_shower and counts == [0, 1, 0, 1, 0] and want.kind in ("volume", "") and _ONE_SHOWER.search(q.frame):
        used = flows[0].value * minutes[0].value
        line = f"{shown(flows[0].value)} × {shown(minutes[0].value)} min = {shown(used)} gal"
        return exact("a shower", used, "gal", working=(line,), source="arithmetic")
    if of_shower and counts == [1, 1, 1, 0, 0] and want.kind == "time" and _EACH.search(q.frame):
        each = tank[0].value / flows[0].value / people[0].value
        line = f"{shown(tank[0].value)} ÷ {shown(flows[0].value)} ÷ {shown(people[0].value)} = {shown(each)} min"
        return exact(
            "each", each, "min", working=(line,), source="arithmetic", verdict=f"{shown(each, 3)} minutes each."
        )
    if (
        of_shower
        and counts == [1, 1, 0, 1, 0]
        and (want.kind == "times" or _COUNT_ASKED.search(q.frame))
        and want.kind not in ("time", "volume")
    ):
        each = flows[0].value * minutes[0].value
        number = int(tank[0].value / each + 1e-9)
        line = f"{shown(minutes[0].value)} min × {shown(flows[0].value)} = {shown(each)} gal; {shown(tank[0].value)} ÷ {shown(each)} = {shown(tank[0].value / each)}"
        return exact(
            "showers", number, "showers", working=(line,), source="arithmetic", also=(figure("a shower", each, "gal"),)
        )
    return _shared(q, tank[0].value, people[0].value, days[0].value if days else None, want) if counts in ([1, 0, 1, 0, 0], [1, 0, 1, 0, 1]) else None  # fmt: skip


def _shared(q: Question, gallons: float, people: float, days: float | None, want: Wanted) -> Estimate | None:
    """Gallons for each one: "ninety gallons for eighteen people, how much is that each"."""
    if not _SHARE_ASKED.search(q.frame) or want.kind not in ("volume", "") or people <= 0:
        return None
    each = gallons / people
    line = f"{shown(gallons)} ÷ {shown(people)} = {shown(each)} gal each"
    if days is None:
        return None if want.rate else exact("each", each, "gal", working=(line,), source="arithmetic")
    if not (want.rate == "day" or q.has(r"\b(?:a|per|each|every) day\b")):
        return None
    daily = each / days
    return exact("each a day", daily, "gal", working=(line, f"÷ {shown(days)} days = {shown(daily)} gal each a day"), source="arithmetic", also=(figure("each in all", each, "gal"),))  # fmt: skip
