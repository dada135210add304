"""Which calculation a question tells by itself: the one whose inputs all have their words beside them.

A driver in a hurry names no calculation: "68 in, 0 out, time constant 12 hours, after six?" The readers of some families
know whether every role they need is filled; theirs is the question then, whatever other cues stand in it.
"""

from __future__ import annotations

from collections.abc import Callable

from cabassist.sums.told_wheels import unwarmed
from cabassist.sums.working_bank import charge_told, hours_told, size_told
from cabassist.sums.working_cooling import cooling_said
from cabassist.sums.working_fuel import mileage_said, unfuelled_said
from cabassist.sums.working_loads import axle_change_said, luggage_said, unweighed_said
from cabassist.sums.working_sheet import Sheet
from cabassist.sums.working_shift import pair_said
from cabassist.sums.working_tires import tires_placed
from cabassist.sums.working_trip import trip_said, trip_unsped
from cabassist.sums.working_week import week_told


def _tires(s: Sheet) -> bool:
    named = s.q.has(
        r"\b(?:tires?|tyres?|psi|bar|kpa|steers?|duals?|drives|fronts|rears|aired|pumped|inflated|gauge|shop)\b"
    )
    return bool(named or s.q.of("psi")) and tires_placed(s)


def _charge(s: Sheet) -> bool:
    return s.q.has(
        r"\b(?:re)?charg\w*|\bchgr?\b|\balternator\b|\bput\b.*\bback\b|\bgoing in\b|\befficien\w*"
    ) and charge_told(s)


def _drop(s: Sheet) -> bool:
    """Volts lost: gauge, amps, length, and the word for it."""
    q = s.q
    gauge = q.of("awg") or q.every(r"({n}) ga\b")
    asked = q.has(r"\b(?:drop\w*|los[est]\w*|loss|lost|left (?:at|for)|see at|far end|at the end|round trip|one way)\b")
    return (
        bool(gauge and q.of("A") and q.of("long"))
        and asked
        and not q.has(r"\b(?:longest|farthest|furthest|how long|how far|max\w*|good for|ampacity|carry)\b")
    )


def _range(s: Sheet) -> bool:
    """How far: a mileage and the fuel there is."""
    q = s.q
    if q.has(r"\bidl\w+\b"):
        return False
    if q.of("mpg") and q.of("way") and not q.of("water"):
        return q.has(r"\b(?:fuel|diesel|gallons|how much|how many)\b")
    return bool(q.of("mpg") and q.of("water")) and q.has(r"\b(?:range|how far|miles|how many miles|make it|reach)\b")


def _idle(s: Sheet) -> bool:
    """What idling burns: an hourly rate and hours."""
    q = s.q
    return q.has(r"\bidl\w+\b") and bool(q.every(r"({gal/h|L/h|gph})") and [a for a in q.of("h") if not a.per])


def _day(s: Sheet) -> bool:
    """Hours driven and on duty since the last rest."""
    q = s.q
    driven = q.every(r"\b(?:drove|driven|driving) (?:for |about )?({h|n})") or q.every(
        r"({h|n}) (?:hours? )?(?:driving|driven)\b"
    )
    asked = q.has(r"\b(?:left|can (?:i|we) (?:still )?drive|how (?:much|many|long))\b")
    return bool(driven) and asked


def _rest(s: Sheet) -> bool:
    """A restart or a break, neither of which there is with passengers."""
    q = s.q
    if q.has(r"\b(?:reset|restart)\b"):
        return any(a.value == 34 for a in q.amounts)
    return q.has(r"<min> (?:rest )?break\b") and q.has(r"\b(?:need|require\w*|must|have to)\b")


def _rested(s: Sheet) -> bool:
    """When one may drive again, from when one went off duty."""
    q = s.q
    return q.has(r"\bwhen can (?:i|he|she|we) (?:start )?driv\w+\b") and bool(
        q.every(r"\b(?:off|quit|parked|stopped|finished)\b[^<]{0,12}({clock})")
    )


def _split(s: Sheet) -> bool:
    spans = (*s.q.of("h"), *s.q.of("n"))
    return (
        len(spans) == 2
        and s.q.has(r"\b(?:berth|bunk|sleeper)\b")
        and s.q.has(r"\b(?:split|valid|counts?|legal\w*)\b")
        and not s.q.has(r"\b(?:left|drove|driven)\b")
    )


def _state(s: Sheet) -> bool:
    """A battery's rest voltage, and the word for its charge."""
    q = s.q
    volts = [a for a in q.of("V") if a.value not in (6, 12, 24, 48)] or [a for a in q.of("n") if a.value % 1]
    asked = q.has(
        r"\b(?:soc|state of charge|percent|how (?:full|charged)|charge level|what charge|how much charge)\b|<V> %"
    )
    rest = len(volts) == 1 and (10.4 <= volts[0].value <= 15 or 20.8 <= volts[0].value <= 29.5)
    return asked and rest and not q.of("load") and not q.of("Ah")


def _breaker(s: Sheet) -> bool:
    """The most that a breaker carries, or whether loads are too much for it."""
    q = s.q
    rated = q.has(
        r"<A> (?:amp )?(?:\w+ )?(?:breaker|brkr|bkr|circuit|outlet|plug|receptacle|pedestal|ped|inlet|supply)\b|\b(?:breaker|brkr|circuit|outlet) (?:is |of |at )*<A>|<percent> of (?:a |an )?<A>"
    )
    return rated and q.has(
        r"<percent>|\bcont\b|\b(?:most|max\w*|continuous\w*|all night|overnight|through the night|how much|over|ok|okay|too much|trip|fine|left|for hours)\b"
    )


def _amps(s: Sheet) -> bool:
    """Watts at a voltage in amps, or amps in watts."""
    q = s.q
    asked = q.has(r"\b(?:how many|in|what|total) (?:amps|watts)\b|\b(?:amps|watts) $|\bamps does\b")
    limited = q.has(
        r"\b(?:breakers?|outlets?|circuits?|plugs?|receptacles?|pedestals?|inlets?|fuses?|continuous\w*|night|overnight|max\w*|most|safe\w*|limit|supply|service)\b"
    )
    if limited or len(q.of("load")) != 1 or q.of("percent"):
        return False
    return bool(q.of("V")) and asked and not (q.of("Ah") or q.of("awg") or q.of("len") or q.of("h"))


def _brakes(s: Sheet) -> bool:
    """A leak of the air brakes in a time."""
    q = s.q
    named = q.has(r"\b(?:brakes?|pedal|air|leak ?down|applied|released)\b")
    lost = q.has(r"\b(?:lost|los(?:e|es|ing)|leak\w*|drop\w*|applied|released|static)\b")
    timed = q.has(r"<(?:psi|lb|n)> (?:\w+ ){0,3}(?:in|per|over|a) (?:the |a |one )?(?:minute|<min>)|<(?:psi|lb|n)/min>")
    return named and lost and timed and not q.has(r"\b(?:tires?|tyres?|propane|regulator)\b")


def _torque(s: Sheet) -> bool:
    """A torque, and whether it is right."""
    named = s.q.has(r"\b(?:torque\w*|flange nuts?|lug ?nuts?|wheel nuts?)\b") and not s.q.has(r"\bmiles?\b|<(?:mi|km)>")
    return named and s.q.has(r"\b(?:right|good|ok|okay|enough|fine|too (?:much|tight|low))\b")


def _tread(s: Sheet) -> bool:
    return "<32nds>" in s.q.frame and s.q.has(
        r"\b(?:legal|good to go|ok|okay|can i|above|over|left|pass|fine|minimum|limit|illegal)\b"
    )


def _recheck(s: Sheet) -> bool:
    """When wheel nuts are checked again, from the odometer at the change."""
    q = s.q
    wheel = q.has(
        r"\b(?:nuts?|lugs?|wheel (?:change\w*|back on|on|off|went on)|(?:tire|tyre|wheel)s? (?:was |were |got )?(?:changed|swapped|fitted|mounted))\b"
    )
    again = q.has(r"\b(?:re ?check\w*|re ?torque\w*|re ?tighten\w*|check(?:ed)?|torque check|overdue)\b")
    return wheel and again and any(a.value >= 1000 and a.unit in ("n", "mi", "km") for a in q.amounts)


def _gravity(s: Sheet) -> bool:
    """The acid's gravity, and whether it freezes."""
    q = s.q
    value = any(1.0 < a.value < 1.3 or 1050 <= a.value <= 1300 for a in q.of("n"))
    return value and q.has(r"\b(?:hydrometer|gravity|sg)\b") and q.has(r"\bfr(?:eez\w*|oze\w*)\b")


def _triangles(s: Sheet) -> bool:
    """How far back the triangles go, on a road that is told."""
    q = s.q
    road = q.has(
        r"\b(?:divided|undivided|interstate|freeway|motorway|dual carriageway|highway|one way|two way|two lane|country road|back road)\b|<n> (?:lane|way)\b"
    )
    far = r"\b(?:where|how (?:far|many (?:feet|yards|met(?:er|re)s|paces|steps))|feet|yards|met(?:er|re)s|distances?|spots?|spacing)\b"
    return road and q.has(r"\b(?:triangles?|reflectors?)\b") and q.has(far) and not q.has(r"\bhow do i\b")


def _tires_unset(s: Sheet) -> bool:
    return not s.q.has(r"\b(?:low|flat|what do i do)\b") and tires_placed(s) and not s.has("set_at")


def _half_drop(s: Sheet) -> bool:
    """Volts lost, with two of gauge, amps and length told."""
    q = s.q
    told = sum(map(bool, (q.of("awg") or q.every(r"({n}) ga\b"), q.of("A"), q.of("long"))))
    return (
        told == 2
        and q.has(r"\b(?:volt\w* )?drop\b|\b(?:will|do|would) (?:i|we) lose\b|\bvolts? lost\b|\bvoltage loss\b")
        and not q.has(r"\b(?:tires?|pressure|heat)\b")
    )


def _bare_constant(s: Sheet) -> bool:
    return s.q.has(r"\btime constant\b|\btau\b") and bool(s.q.of("h"))


def _unweighed(s: Sheet) -> bool:
    return s.q.has(r"\b(?:weigh\w*|heavy|how many pounds|total weight)\b") and not s.q.of("lb") and unweighed_said(s)


TOLD: tuple[tuple[str, Callable[[Sheet], bool]], ...] = (
    ("driving-hours", trip_said),
    ("driving-hours", pair_said),
    ("driving-hours", week_told),
    ("driving-hours", _rest),
    ("driving-hours", _split),
    ("driving-hours", _rested),
    ("driving-hours", _day),
    ("axle-load", luggage_said),
    ("axle-load", axle_change_said),
    ("cabin-cool-down", cooling_said),
    ("tire-pressure", _tires),
    ("diesel-range", mileage_said),
    ("diesel-range", _range),
    ("idle-hours", _idle),
    ("battery-hours", size_told),
    ("battery-charge-time", _charge),
    ("battery-hours", hours_told),
    ("voltage-drop", _drop),
    ("battery-state", _state),
    ("breaker-limit", _breaker),
    ("shore-load", _amps),
    ("air-brake-verdict", _brakes),
    ("tread-limit", _tread),
    ("wheel-recheck", _recheck),
    ("wheel-torque", _torque),
    ("battery-freezing", _gravity),
    ("triangle-distances", _triangles),
)
"""Each calculation with what knows whether its inputs are all told, in the order in which they are tried."""


def _undriven(s: Sheet) -> bool:
    """How long one may still drive, without the hours driven."""
    q = s.q
    asked = q.has(
        r"\bhow (?:long|much longer|many (?:more )?hours|much more) (?:can|may|could) (?:i|he|she|we) (?:still |legally |keep )*driv\w+\b"
    )
    asked = asked or q.has(
        r"\bhow (?:long|much longer|many (?:more )?hours) (?:i|he|she|we) (?:can|may) (?:still )?drive\b"
    )
    told = [a for a in q.amounts if a.unit in ("h", "min", "day")]
    return asked and not told and not q.has(r"\b(?:drove|driven|<n> (?:so far|already))\b")


def _unrated(s: Sheet) -> bool:
    """How many amps a supply gives for hours, without its rating."""
    return not s.q.amounts and s.q.has(
        r"\bhow many amps (?:can|may|could) (?:i|we) (?:\w+ ){0,2}(?:on|from|off|out of) (?:it|this|that|here|there|them)\b"
    )


ASKED: tuple[tuple[str, Callable[[Sheet], bool]], ...] = (
    ("driving-hours", _undriven),
    ("breaker-limit", _unrated),
    ("tire-pressure", _tires_unset),
    ("tire-pressure", lambda s: unwarmed(s.q) is not None),
    ("voltage-drop", _half_drop),
    ("cabin-cool-down", _bare_constant),
    ("driving-hours", trip_unsped),
    ("diesel-range", unfuelled_said),
    ("axle-load", _unweighed),
)
"""The same for questions that lack one input, which is asked for."""

HARMLESS = frozenset(
    {
        "battery-charge-time",
        "battery-hours",
        "cabin-cool-down",
        "diesel-range",
        "idle-hours",
        "tire-pressure",
        "voltage-drop",
        "shore-load",
    }
)
"""Families whose numbers are all there is to say: no wish to exceed a limit is told in them."""
