"""Questions about the house battery: hours it lasts, its charge, hours to charge it, when it freezes."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import exact, figure, interpolated, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.numbers import as_decimal
from cabassist.sums.told_bank import NO_LOSSES, STAYS_IN
from cabassist.sums.working_bank import charge_told, hours_told, size, size_told
from cabassist.sums.working_levels import needed_hours
from cabassist.sums.working_roles import by_words
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_also, with_verdict
from cabassist.sums.working_unplaced import WORDED


def _volts(q: Question, low: float, high: float) -> Amount | None:
    """A voltage in a range; "twelve four" is 12.4."""
    told = q.of("V")
    if len(told) > 1 and any(a.value not in (6, 12, 24, 48) for a in told):
        told = [a for a in told if a.value not in (6, 12, 24, 48)]  # "a 24 volt bank at 24.9 volts"
    for amount in (*told, *q.of("n")):
        if amount.per or (q.has(r"\binverter\b") and amount.unit == "n"):
            continue
        if low <= amount.value <= high and (amount.unit == "V" or amount.value != int(amount.value) or amount.pieces):
            return amount._replace(unit="V")
        said = as_decimal(amount.pieces, low, high) if amount.pieces else None
        if said is not None:
            return amount._replace(value=said, unit="V")
    return None


_STOPS = (
    r"\b(?:until|till|til|down to|before|stop at) (?:it |it is |it hits |the \w+ (?:is |hits )?)?(?:at |down to )?({part}|{percent})(?! charge| charged| battery)(?=[ ,]|$)",
    r"\b(?:to|hits?|reach\w*|at) (?:it |it is )?(?:at |down to )?({part}|{percent})(?! charge| charged| battery)(?=[ ,]|$)",
)


def _charge_said(s: Sheet) -> list[Amount]:
    """Note the battery's charge now, by percent, words or voltage, and where it is to end."""
    q = s.q
    used: list[Amount] = []
    levels = [a for a in q.of("part") if not a.per]
    efficiency = q.one(
        r"\bat ({percent}) efficien\w*",
        r"({percent}) efficien\w*",
        r"\befficien\w* (?:of |is |at )?({percent}|{n})",
        r"{A} at ({percent})",
        rf"({{percent}}) {STAYS_IN}",
    )
    if efficiency is not None:
        s.note("efficiency", efficiency.value / (100 if efficiency.value > 1 else 1))
        used.append(efficiency)
    rest = [a for a in levels if a not in used]
    stops = [a for pattern in _STOPS for a in q.every(pattern) if a in rest]
    stop = stops[0] if stops else None
    start = q.one(
        r"\bfrom ({part}|{percent})",
        r"\b(?:bank|battery|batteries|house|it) (?:is |at |sits at |it )*({part}|{percent})",
        r"({part}|{percent}) (?:charge|charged|full|battery)",
    )
    ends = q.has(
        r"\b(?:until|till|til|down to|before) (?:it |it is |the \w+ (?:is |hits )?)?(?:at |hits )?<(?:part|percent)>"
    )
    if stop is not None and ends and (start is None or stop == start):
        start = None
        rest_first = next((a for a in rest if a != stop), None)
        s.note("stop", stop.value / (100 if stop.unit == "percent" else 1))
        rest = [a for a in rest if a != stop]
        if rest_first is None:
            return used
    if (
        stop is not None
        and (start is None or stop != start)
        and stop in rest
        and (len(rest) > 1 or q.has(r"\b(?:down to|until|till|to|hits?|before|stop at)\b"))
    ):
        s.note("stop", stop.value / (100 if stop.unit == "percent" else 1))
        rest.remove(stop)
    elif q.has(r"\bhits half\b|\bto half\b|\buntil half\b"):
        s.note("stop", 0.5)
    elif q.has(r"\b(?:flat|dead|empty|run out|runs out|all of it|to zero|die|dies|goes dead)\b") and not q.has(
        r"\bdead flat\b.*\bis\b|\bdead battery\b|\bflat battery\b"
    ):
        s.note("stop", 0.0)
    first = start if start in rest else rest[0] if rest else None
    if first is not None:
        s.note("charge", first.value / (100 if first.unit == "percent" else 1))
        s.drop("volts")
        used.append(first)
    elif q.has(r"\bfull (?:bank|battery|charge)\b|\bfrom full\b|\bfully charged\b"):
        s.note("charge", 1.0)
    elif q.has(r"\bhalf charge(?:d)?\b"):
        s.note("charge", 0.5)
    elif q.has(r"\b(?:dead|flat|empty) batter\w*\b|\bfrom (?:dead |flat |empty|zero)"):
        s.note("charge", 0.0)
    big = s.coach.house_battery.volts == 24 or any(a.value == 24 for a in q.of("V"))
    volts = _volts(q, 10.4, 15.0) or (_volts(q, 20.8, 29.0) if big else None)
    if volts is None:
        whole = q.one(r"\b(?:at|from|of|reading|reads|shows) ({n})\b", r"({V})")
        if (
            whole is not None
            and 11 <= whole.value <= 14
            and (whole.unit == "V" or q.has(r"\bvolts?\b|\bvoltage\b|\b(?:reading|reads|shows) <n>"))
            and not q.has(r"<V> (?:system|bank|battery|batteries|inverter|circuit)|\bon <V>")
        ):
            volts = whole._replace(unit="V")
    if (
        volts is not None
        and volts.value in (12, 24)
        and (q.of("Ah") or q.of("W"))
        and not q.has(r"\b(?:reads|reading|shows|from) <V>")
    ):
        s.say("system", volts)
        volts = None
    if volts is not None and (len(q.of("V")) > 1 or not q.has(r"\bon <V>|<V> (?:system|circuit|bank)\b")):
        s.drop("charge")
        s.say(
            "stop_volts"
            if q.has(r"\b(?:down to|hits?|until it is at|before it is at|drops to) (?:<V>|<n>)")
            and not q.has(r"\bfrom (?:<V>|<n>)")
            else "volts",
            volts,
        )
        used.append(volts)
    return used


def _charge(s: Sheet) -> float | None:
    """Share of full now: as said, by voltage, or as read."""
    from cabassist.estimate import battery

    if s.has("charge"):
        return s.number("charge")
    if not s.has("volts"):
        held = s.latest("house_battery")
        if held is None or held.reading.value is None:
            return None
        if held.reading.unit in ("percent", "fraction"):
            s.assumed.append(
                f"house battery at {shown(held.reading.value)} {'percent' if held.reading.unit == 'percent' else 'of full'}, {s.age(held)}"
            )
            return held.reading.value / (100 if held.reading.unit == "percent" else 1)
        s.from_reading("volts", "house_battery", "house battery", "V")
    found = battery.state_of_charge(
        quantity(s.number("volts"), "V"), nominal=quantity(24 if s.number("volts") > 18 else 12, "V")
    )
    if found.value is None:
        return 1.0 if s.number("volts") > 12.6 else 0.0
    s.assumed.append(f"{shown(s.number('volts'))} V at rest is about {shown(found.value, 2)} percent")
    return found.value / 100


def _load_said(s: Sheet, used: list[Amount]) -> None:
    q = s.q
    load = next((a for a in q.of("load") if a not in used and not q.has(r"<A> (?:charger|breaker)")), None)
    amps = [a for a in q.of("A") if a not in used]
    watts = [a for a in q.of("W") if a not in used]
    if len(watts) > 1:
        s.note("load", sum(converted(a.value, a.unit, "W") for a in watts), "W")
    elif len(amps) > 1 and q.has(r"\b(?:and|plus)\b"):
        s.note("load", sum(a.value for a in amps), "A")
    elif load is not None:
        s.say("load", load)
    hours = q.one(r"\b(?:for|over|in|run\w*|last) (?:about |the next )?({h}|{min})", r"({h}) (?:a|of|overnight|night)")
    if hours is not None and q.has(r"\bhow many amp hours\b|\bhow many ah\b|\bamp hours (?:does|do|is|will)\b"):
        s.note("hours", converted(hours.value, hours.unit, "h"), "h")
        s.note("ask", "amp hours")


def battery_hours_said(s: Sheet) -> None:
    """Inputs of "how long will the house battery last"."""
    if size_told(s) or (not s.follows and hours_told(s)):
        return
    q = s.q
    used = _charge_said(s)
    capacity = q.one(r"({Ah})")
    if capacity is not None:
        s.say("capacity", capacity)
        count = q.one(r"({n}) {Ah} (?:batteries|bats)")
        if count is not None:
            s.note("capacity", capacity.value * count.value, "Ah")
        s.note(
            "whole",
            0.0
            if q.has(
                r"<Ah> (?:left|remaining|usable|available|to use|in it|good)\b|\b(?:left|usable|available) <Ah>|\bdown <Ah>"
            )
            or "usable" in q.words
            or "available" in q.words
            else 1.0,
        )
    _load_said(s, used)
    needed_hours(s)
    if s.has("hours"):
        s.drop("needed")
    system = q.one(r"\b(?:on|at|a) ({V})\b", r"({V}) (?:system|bank|battery|batteries)")
    if system is not None and system.value in (12, 24, 36, 48):
        s.say("system", system)
    if q.has(r"\bpeukert\b"):
        s.note("ask", "peukert")
    if q.has(r"\b(?:usable half|half (?:of it )?usable|only half|half of (?:it|that)|use half)\b"):
        s.note("stop", 0.5)
        s.drop("charge")
        s.inputs.pop("charge", None)
    inverter = q.one(r"({percent}) (?:inverter|efficien\w*)", r"\b(?:inverter|efficien\w*) (?:\w+ )?({percent})")
    if inverter is not None:
        s.note("efficiency", inverter.value / 100)
        for name in ("charge", "stop"):
            if s.number_or(name) == inverter.value / 100:
                s.inputs.pop(name)


def battery_hours(s: Sheet) -> Estimate:
    """Hours a battery carries a load."""
    from cabassist.estimate import battery

    if s.has("size"):
        return size(s)
    volts = s.number("system") if s.has("system") else float(s.coach.house_battery.volts)
    nominal = quantity(volts, "V")
    if s.text("ask") == "amp hours" and s.has("load", "hours"):
        efficiency = s.number("efficiency") if s.has("efficiency") else 1.0
        load = s.amount("load")
        power = load if s.inputs["load"].unit in ("W", "kW") else quantity(s.number("load") * volts, "W")
        return battery.amp_hours_used(power, s.amount("hours"), nominal, efficiency=efficiency)
    own = not s.has("capacity")
    if own:
        bank = s.coach.house_battery
        s.profile("capacity", bank.capacity_ah, "Ah", f"{shown(bank.capacity_ah)} Ah bank")
    if not s.has("load"):
        raise Missing("load", "How many amps or watts does it draw?", "A")
    load = s.amount("load")
    if s.has("efficiency") and s.inputs["load"].unit in ("W", "kW"):
        load = load / s.number("efficiency")
    available = s.has("whole") and s.number("whole") == 0.0
    charge = 1.0 if available else _charge(s)
    if charge is None:
        if own:
            raise Missing("charge", "How full is the house battery? Its charge in percent, or its volts.", "percent")
        charge = 1.0
    if s.has("stop_volts") and not s.has("stop"):
        level = battery.state_of_charge(s.amount("stop_volts")).value
        s.note("stop", (level or 0.0) / 100)
        s.assumed.append(
            f"{shown(s.number('stop_volts'))} V at rest is about {shown(level or 0.0, 2)} percent; under load it shows sooner"
        )
    if s.has("stop"):
        stop = s.number("stop")
    else:
        stop = 0.0 if available or not own and not s.has("charge") else 0.5
    if stop >= charge:
        return Estimate(
            "hours on battery",
            0.0,
            "h",
            0.0,
            0.0,
            (f"{shown(100 * charge, 3)} % now, stop at {shown(100 * stop)} %",),
            (),
            battery.PEUKERT_SOURCE,
            f"It is at {shown(100 * charge, 2)} percent already, at or below {shown(100 * stop, 2)}. Charge it.",
        )
    found = battery.battery_hours(s.amount("capacity"), load, nominal=nominal, charge=charge, stop_at=stop)
    exponent = s.coach.house_battery.peukert
    law = battery.house_battery_hours(
        s.amount("capacity"), load, nominal=nominal, charge=charge, stop_at=stop, exponent=exponent
    )
    if s.text("ask") == "peukert":
        return law
    if found.value is None or law.value is None:
        return found
    pair = sorted((found.value, law.value)) if own else (found.value, found.value)
    if stop == 0.0 and not available and not s.has("stop"):
        half = battery.battery_hours(s.amount("capacity"), load, nominal=nominal, charge=charge, stop_at=charge / 2)
        found = with_also(found, figure("half of it, which is kinder to the battery", half.value or 0.0, "h"))
    found = replace(found, low=pair[0], high=pair[1])
    found = with_also(found, figure(f"by Peukert's law, exponent {exponent:g}", law.value, "h"))
    if s.has("needed"):
        hours = s.number("needed", "h")
        word = "Yes" if (found.value or 0.0) >= hours else "No"
        found = with_verdict(found, f"{word}: {roughly(hours)} needed.")
    return found


def battery_state_said(s: Sheet) -> None:
    """Inputs of "what percent is twelve point four volts"."""
    q = s.q
    _charge_said(s)
    temp = q.one(r"({temp})")
    s.say("temp", temp)
    s.note(WORDED, by_words(q, *q.of("h")))  # how long it rested
    if len(q.of("V")) > 1:
        s.say("system", next((a for a in q.of("V") if a.value in (12, 24, 48)), None))
    if q.has(r"\b(?:what voltage|how many volts|what should (?:a full|it|they) |in volts|what volts)\b"):
        s.note("ask", "volts")
        if not s.has("charge") and q.has(r"\bfull\b"):
            s.note("charge", 1.0)
    elif q.has(r"\bamp hours left\b|\bhow many amp hours\b"):
        s.note("ask", "amp hours")
        s.say("capacity", q.one(r"({Ah})"))
    below = q.one(r"\bunder ({part}|{percent})")
    if below is not None:
        s.note("against", below.value * (100 if below.unit == "part" else 1))


def battery_state(s: Sheet) -> Estimate:
    """Charge by rest voltage, or the voltage of a charge."""
    from cabassist.estimate import battery

    if s.text("ask") == "volts" and s.has("charge"):
        table = tuple(sorted((share, volts) for volts, share in battery.REST_VOLTS))
        volts = interpolated(table, s.number("charge"))
        assert volts is not None
        line = f"Table: {shown(100 * s.number('charge'))} % is {shown(volts)} V at rest and 80 °F."
        return Estimate(
            "rest voltage",
            volts,
            "V",
            volts - battery.METER_V,
            volts + battery.METER_V,
            (line,),
            ("lead-acid, some hours at rest without charge or load",),
            battery.BCI_SOURCE,
            f"About {shown(volts, 4)} volts at rest.",
        )
    if not s.has("volts"):
        if s.has("charge"):
            percent = 100 * s.number("charge")
            return exact("charge", percent, "percent")
        if not s.from_reading("volts", "house_battery", "house battery", "V"):
            raise Missing("volts", "What does the battery read, in volts?", "V")
        if s.inputs["volts"].unit in ("percent", "fraction"):
            value = s.number("volts") * (100 if s.inputs["volts"].unit == "fraction" else 1)
            return exact("charge", value, "percent", verdict=f"{shown(value, 3)} percent, as last read.")
    volts_now = s.number("volts")
    nominal = quantity(24 if volts_now > 18 else 12, "V")
    found = battery.state_of_charge(
        quantity(volts_now, "V"), nominal=nominal, battery_temperature=s.amount("temp") if s.has("temp") else None
    )
    if found.value is None:
        return found
    if s.text("ask") == "amp hours":
        capacity = s.number("capacity") if s.has("capacity") else s.coach.house_battery.capacity_ah
        if not s.has("capacity"):
            s.assumed.append(f"{shown(capacity)} Ah bank (profile)")
        value = capacity * found.value / 100
        line = f"{shown(found.value, 3)} % of {shown(capacity)} Ah = {shown(value, 4)} Ah"
        return replace(
            found,
            name="amp hours left",
            value=value,
            unit="Ah",
            low=(found.low or 0) / 100 * capacity,
            high=(found.high or 0) / 100 * capacity,
            working=(*found.working, line),
            also=(figure("charge", found.value, "percent", found.low, found.high), *found.also),
        )
    if s.has("against"):
        return with_verdict(found, f"{'Yes' if found.value < s.number('against') else 'No'}.")
    if s.q.has(r"\blow\b"):
        return with_verdict(found, "Yes, low." if found.value <= 60 else "Not low.")
    return found


def battery_charge_said(s: Sheet) -> None:
    """Inputs of "how long to charge"."""
    if size_told(s):
        return
    if not s.follows and charge_told(s):
        needed_hours(s)
        return
    q = s.q
    pair = q.find(r"\bfrom ({n}) (?:up )?to ({percent})")
    if len(pair) == 2:
        s.note("charge", pair[0].value / 100)
        s.note("target", pair[1].value / 100)
    target = q.one(
        r"\b(?:to|at|up to|reach\w*) ({percent}|{part})(?! efficien)(?= |$|,)",
        r"\bbefore the \w+ (?:is )?at ({n}|{percent})",
    )
    used = _charge_said(s) if len(pair) != 2 else list(pair)
    s.inputs.pop("stop", None)
    if (
        target is not None
        and (s.has("charge") or s.has("volts"))
        and abs(target.value / (1 if target.unit == "part" else 100) - (s.number("charge") if s.has("charge") else -1))
        > 1e-9
        and target not in used
    ):
        s.note("target", target.value / (1 if target.unit == "part" else 100))
    last = q.one(r"\blast ({percent})")
    if last is not None:
        s.note("charge", 1 - last.value / 100)
        s.note("target", 1.0)
    missing = q.one(
        r"\b(?:down|used|short|missing|put back|replace|took out|draw|draws|drew|drawn|pulled|lost|need|charge|put) (?:of |about |out |in )?({Ah}|{Ah/day})",
        r"({Ah}) (?:down|used|short|to put back|gone|out|missing|low)",
    )
    capacity = q.one(r"({Ah}) (?:bank|battery|batteries)", r"\b(?:bank|battery) (?:is |of |holds )?({Ah})")
    if missing is not None and missing != capacity and not s.has("charge"):
        s.note("missing", missing.value, "Ah")
    elif capacity is not None or q.of("Ah"):
        only = capacity or q.of("Ah")[0]
        if s.has("charge") or s.has("volts") or capacity is not None:
            s.say("capacity", only)
        else:
            s.say("missing", only)
    amps = q.one(r"({A})")
    if amps is None:
        bare = q.one(
            r"(?<!plugged in)(?<!house is)(?<!house)(?<!bank is)(?<!bank)(?<!battery)(?<!batteries) at ({n})(?! percent)(?= |$)"
        )
        amps = bare if bare is not None and 3 <= bare.value <= 300 and not _is_volts(bare) else None
    s.say("amps", amps, "A")
    watts = q.one(r"({W}) (?:of )?(?:charger|solar|charging)")
    if watts is not None and amps is None:
        s.note("amps", converted(watts.value, watts.unit, "W") / float(s.coach.house_battery.volts), "A")
    needed = q.one(r"({h}|{min})")
    if needed is not None:
        s.note("needed", converted(needed.value, needed.unit, "h"), "h")
    else:
        needed_hours(s)
    if q.has(r"\bhow much charge\b|\bhow many (?:amp hours|percent)\b"):
        s.note("ask", "gained")


def _is_volts(amount: Amount) -> bool:
    return 10.4 <= amount.value <= 15 and amount.value != int(amount.value)


def battery_charge(s: Sheet) -> Estimate:
    """Hours to charge."""
    from cabassist.estimate import battery

    if s.has("size"):
        return size(s)
    if not s.has("amps"):
        charger = next((load for load in s.coach.loads if "charger" in load.name), None)
        if charger is None:
            raise Missing("amps", "How many amps does the charger give?", "A")
        amps = charger.watts * 0.85 / (1.15 * float(s.coach.house_battery.volts))
        s.assume(
            "amps",
            round(amps),
            "A",
            f"charger gives about {round(amps)} amps ({shown(charger.watts)} W in the profile); say your own",
        )
    if not s.has("efficiency") and s.q.has(NO_LOSSES):
        s.note("efficiency", 1.0)
    efficiency = s.number("efficiency") if s.has("efficiency") else 0.85
    if not s.has("efficiency"):
        s.assumed.append("85 % of the charge stays in the battery (common practice, no source)")
    if s.text("ask") == "gained" and s.has("needed"):
        value = s.number("amps") * s.number("needed", "h") * efficiency
        line = f"{shown(s.number('amps'))} A x {shown(s.number('needed', 'h'))} h x {shown(efficiency)} = {shown(value)} Ah"
        capacity = s.number("capacity") if s.has("capacity") else s.coach.house_battery.capacity_ah
        return exact(
            "amp hours gained",
            value,
            "Ah",
            working=(line,),
            source="arithmetic",
            also=(figure("of the bank", 100 * value / capacity, "percent"),),
        )
    if s.has("missing"):
        found = battery.charge_hours(s.amount("missing"), s.amount("amps"), efficiency=efficiency)
    else:
        charge = _charge(s)
        if charge is None:
            raise Missing("charge", "How full is the house battery? Its charge in percent, or its volts.", "percent")
        if not s.has("capacity"):
            s.profile(
                "capacity",
                s.coach.house_battery.capacity_ah,
                "Ah",
                f"{shown(s.coach.house_battery.capacity_ah)} Ah bank",
            )
        target = s.number("target") if s.has("target") else 1.0
        if target <= charge:
            return exact("hours to charge", 0.0, "h", verdict=f"It is at {shown(100 * charge, 3)} percent already.")
        found = battery.charge_hours_between(
            s.amount("capacity"), charge, target, s.amount("amps"), efficiency=efficiency
        )
    if s.has("needed") and found.value is not None:
        hours = s.number("needed", "h")
        word = "Yes" if (found.high or found.value) <= hours else "No" if found.value > hours else "Nearly"
        found = with_verdict(found, f"{word}: {roughly(found.value)} needed, {roughly(hours)} there.")
    return found


def battery_freezing_said(s: Sheet) -> None:
    """Inputs of "will the batteries freeze"."""
    q = s.q
    _charge_said(s)
    if s.has("stop") and not s.has("charge") and not s.has("volts"):
        s.inputs["charge"] = s.inputs.pop("stop")._replace(name="charge")
    temp = q.one(r"({temp})", r"\bat ({n}) (?:fahrenheit|out)")
    s.say("outside", temp, q.scale)
    gravity = next((a for a in q.of("n") if 1.0 < a.value < 1.3 or 1100 <= a.value <= 1300), None)
    if gravity is not None:
        s.note("gravity", gravity.value / (1000 if gravity.value > 2 else 1))
    if q.has(r"\b(?:at what charge|lowest safe charge|what charge|how many volts keep|how many percent)\b"):
        s.note("ask", "charge")


def battery_freezing(s: Sheet) -> Estimate:
    """When the battery's acid freezes."""
    from cabassist.estimate import battery

    outside = s.amount("outside") if s.has("outside") else None
    if s.text("ask") == "charge":
        s.outside("How cold will it get?")
        for percent in range(0, 101):
            gravity = interpolated(battery.CHARGE_GRAVITY, percent / 100)
            freezing = battery.freezing_point(gravity or 1.12).value
            if freezing is not None and freezing <= s.number("outside", "F"):
                line = f"{percent} % has a gravity of {shown(gravity or 0)}, which freezes at {shown(freezing, 3)} °F."
                return Estimate(
                    "lowest charge that does not freeze",
                    float(percent),
                    "percent",
                    float(percent),
                    min(100.0, percent + 10.0),
                    (line,),
                    ("straight lines between the table's points",),
                    battery.ARMY_SOURCE,
                    f"Keep it above {percent} percent, with some in hand.",
                )
        return Estimate(
            "lowest charge that does not freeze",
            None,
            "percent",
            None,
            None,
            (),
            (),
            battery.ARMY_SOURCE,
            "Colder than the table's figures for a full battery. Keep it warm.",
        )
    if s.has("gravity"):
        return battery.freezing_point(s.number("gravity"), outside=outside)
    charge = _charge(s)
    if charge is None:
        raise Missing("charge", "How full is the battery, in percent or volts?", "percent")
    if (
        outside is None
        and s.q.has(r"\btonight\b|\bcold enough\b|\bwill\b|\bdo\b")
        and s.from_reading("outside", "outside_temp", "outside temperature", "F")
    ):
        outside = s.amount("outside")
    gravity = interpolated(battery.CHARGE_GRAVITY, charge)
    if gravity is None:
        raise Missing("charge", "How full is the battery, between 0 and 100 percent?", "percent")
    found = battery.freezing_point(gravity, outside=outside)
    line = f"{shown(100 * charge, 3)} % of charge is a gravity of about {shown(gravity)}."
    found = replace(found, working=(line, *found.working))
    if outside is None and found.value is not None:
        found = with_verdict(found, f"About {shown(found.value, 2)} °{found.unit}.")
    return found
