"""Sums over outlets, inverters and cords: amps through an inverter, volts lost on the way, room on a breaker, one wire against another."""

from __future__ import annotations

from cabassist.dialogue.sums import Family, Told, role
from cabassist.dialogue.told_parts import OTHERS, listed, result
from cabassist.estimate.power import CONTINUOUS_SHARE
from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.sum_terms import Term
from cabassist.language.wanted import Wanted

_NEC = "NEC 210.20(A)"
_MAINS = (85.0, 260.0)
_POWER_ROLES = (
    role("load", "watts|current", 0.5, many=True, never=r"# (?:\w+ )?(?:breaker|circuit|outlet|supply|pedestal|plug|hook ?up|service|post)\b"),
    role("breaker", "current", 0.2, (2.5, r"# (?:<V> )?(?:<n> )?(?:volt )?(?:\w+ )?(?:breaker|circuit|outlet|supply|pedestal|plug|hook ?up|service|post|receptacle|socket)\b|\b(?:on|breaker|circuit|pedestal) (?:an? |of |is )?# ")),
    role("volts", "volts", 0.5),
    role("volts", "n", -1.6, (2.6, r"\b(?:at|<A>|volts?|off|on) # (?:breaker|circuit|outlet|v|supply|,|$)")),
    role("efficiency", "share", -1.6, (3.6, r"# (?:\w+ )?(?:effic|inverter)|\b(?:at|effic\w*|inverter)(?: of| is| about| only)* # ")),
    role("lost", "share", -1.6, (5.1, r"\b(?:los(?:es|ing|s|e)|wast(?:es|ing|e))(?: about| of)* # ")),
    role("near", "volts", -0.3, (1.5, r"\b(?:pedestal|socket|outlet|post|panel|source|building|wall|plug|inlet)\b[^#]{0,20} # |# (?:at|on|in) the (?:\w+ )?(?:pedestal|socket|outlet|post|panel|source|building|wall|plug)\b")),
    role("far", "volts", -0.3, (1.5, r"\b(?:coach|bus|far end|end|inside|here|cord)\b[^#]{0,20} # |# (?:at|on|in) the (?:\w+ )?(?:coach|bus|far|end|inlet|other)\b")),
    role("near", "n", -1.6, (2.8, r"\b(?:pedestal|socket|outlet|post|panel|wall|volts)\b[^#]{0,20} # |# (?:at|on|in) the (?:\w+ )?(?:pedestal|socket|outlet|post|panel|wall)\b")),
    role("far", "n", -1.6, (2.8, r"\b(?:coach|bus|far end|end)\b[^#]{0,20} # |# (?:at|on|in) the (?:\w+ )?(?:coach|bus|far|end)\b")),
    OTHERS,
    role("beside", "people|temperature|clock", -1.0, many=True),
)  # fmt: skip


def _power_applies(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    powered = any(one.kind in ("current", "watts", "volts") for one in terms)
    return powered and not question.has(
        r"<(?:Ah|awg|ft|mi|gal|lb|mpg|psi|mph)>|\bhow many (?!amps|volts|watts|percent)"
    )


def _power(t: Told) -> Estimate | None:
    near, far = t.value("near"), t.value("far")
    if near is not None or far is not None:
        return _lost(t, near, far)
    loads, volts, breaker = t.all("load"), t.value("volts"), t.value("breaker")
    if breaker is not None:
        return _room(t, loads, volts, breaker)
    efficiency, lost = t.value("efficiency"), t.value("lost")
    share = efficiency if lost is None else 1 - lost
    if t.want.kind != "current" or not loads or volts is None or share is None or not 0.5 <= share <= 1:
        return None
    if any(one.kind != "watts" for one in loads):
        return None
    total = sum(one.value for one in loads)
    amps = total / (volts * share)
    return result(t, "drawn from the battery", amps, "A", (f"{listed([one.value for one in loads])} W ÷ ({shown(volts)} V x {shown(share)}) = {shown(amps)} A",))  # fmt: skip


def _lost(t: Told, near: float | None, far: float | None) -> Estimate | None:
    """Volts or percent lost between two readings of one supply."""
    if near is None or far is None or not _MAINS[0] <= far < near <= _MAINS[1]:
        return None
    lost = near - far
    share = 100 * lost / near
    lines = (f"({shown(near)} - {shown(far)}) ÷ {shown(near)} = {shown(share)} %",)
    verdict = "More than 5 percent is too much: a shorter or thicker cord." if share > 5 else ""
    if t.want.kind == "volts" and not t.question.has(r"\bpercent\w*"):
        return result(t, "volts lost", lost, "V", lines, verdict, (figure("share lost", share, "percent"),))
    return result(t, "share lost", share, "percent", lines, verdict, (figure("volts lost", lost, "V"),))


def _room(t: Told, loads: list[Term], volts: float | None, breaker: float) -> Estimate | None:
    """Amps that are still free on a breaker beside what is drawn, or whether the loads are too much for it."""
    asks_left = t.question.has(r"\b(?:left|spare|room|more can|can i (?:still )?(?:add|put)|free|headroom|remains?)\b")
    if not loads or not (asks_left or (t.want.judged and t.want.kind in ("", "current", "watts"))):
        return None
    if volts is None:
        if any(one.kind == "watts" for one in loads):
            return None
        volts = float(t.coach.shore.volts)
        t.assumed.append(f"{shown(volts)} V (profile)")
    drawn = [one.value / volts if one.kind == "watts" else one.value for one in loads]
    limit, total = CONTINUOUS_SHARE * breaker, sum(drawn)
    left = limit - total
    share = f"{shown(breaker)} A x {CONTINUOUS_SHARE} = {shown(limit)} A for hours on end"
    if not asks_left:
        over = f"{shown(total)} amps on a {shown(breaker)} amp breaker, {shown(limit)} are allowed for hours on end."
        verdict = f"{'Yes' if left >= -1e-6 else 'No, too much'}: {over}"
        return result(t, "drawn", total, "A", (f"{listed(drawn)} = {shown(total)} A", share), verdict, (figure("left", left, "A"),), _NEC)  # fmt: skip
    work = (share, f"{shown(limit)} - ({listed(drawn)}) = {shown(left)} A")
    if left < 0:
        return result(t, "over the limit", left, "A", work, f"Nothing is left: {shown(-left)} amps over what is allowed for hours.")  # fmt: skip
    amps, watts = figure("left in amps", left, "A"), figure("left in watts", left * volts, "W")
    if t.want.kind == "watts":
        return result(t, "left on the breaker", left * volts, "W", work, also=(amps,), source=_NEC)
    return result(t, "left on the breaker", left, "A", work, also=(watts,), source=_NEC)


POWER = Family(
    lambda q: "breaker-limit" if q.has(r"\bbreaker|circuit|outlet|supply") else "shore-load",
    _power_applies,
    _POWER_ROLES,
    _power,
)

_CORD_ROLES = (
    role("gauge", "awg", 1.0, many=True),
    role("gauge", "n", -2.0, (3.0, r"\b(?:of|a|with|in|to|or|vs|versus|than|and) (?:a )?# (?:gauge|wire|cord|at|or|,|instead)"), many=True),
    role("length", "length", 0.5, many=True),
    role("amps", "current", 0.5),
    role("volts", "volts", 0.3),
    role("volts", "n", -1.6, (2.6, r"<A> (?:at |, |on )?# |\bat # (?:volts|v)\b")),
)  # fmt: skip


def _cords_apply(question: Question, want: Wanted, terms: tuple[Term, ...]) -> bool:
    return question.has(r"<awg>") and want.difference


def _cords(t: Told) -> Estimate | None:
    """Volts that one cord loses less than another at the same load."""
    from cabassist.dialogue.working_sheet import quantity
    from cabassist.estimate.cords import voltage_drop

    gauges, lengths, amps, volts = t.all("gauge"), t.all("length"), t.value("amps"), t.value("volts")
    if amps is None or len({*(one.value for one in gauges), *(one.value for one in lengths)}) < 3 or len(lengths) > 2:
        return None
    if len(gauges) != 2:
        return None
    if volts is None:
        volts = float(t.coach.shore.volts)
        t.assumed.append(f"{shown(volts)} V (profile)")
    ends = lengths if len(lengths) == 2 else lengths * 2
    each = [
        (one.value, long.value, voltage_drop(quantity(volts, "V"), quantity(amps, "A"), quantity(long.value, "ft"), int(one.value)))
        for one, long in zip(gauges, ends, strict=True)
    ]  # fmt: skip
    drops = [found.value for _, _, found in each]
    if None in drops:
        return None
    first, second = (float(drop or 0.0) for drop in drops)
    low = 0 if first <= second else 1
    names = [f"{shown(gauge)} gauge, {shown(long)} ft" for gauge, long, _ in each]
    lines = tuple(f"{name}: {shown(drop or 0.0)} V" for name, drop in zip(names, drops, strict=True))
    saved = abs(first - second)
    return result(t, "volts saved", saved, "V", lines, f"{names[low]} loses less: {shown(saved, 3)} volts.", source=each[0][2].source)  # fmt: skip


CORDS = Family(lambda _q: "voltage-drop", _cords_apply, _CORD_ROLES, _cords)
