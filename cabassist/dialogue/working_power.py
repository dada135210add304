"""Questions about electricity: the house battery, breakers, loads on shore power, cords."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from cabassist.dialogue.working_levels import needed_hours
from cabassist.dialogue.working_sheet import Missing, Sheet, quantity, with_also, with_verdict
from cabassist.estimate.quantities import exact, figure, interpolated, roughly, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Amount, Question, converted
from cabassist.language.numbers import as_decimal


def _volts(q: Question, low: float, high: float) -> Amount | None:
    """A voltage in a range; "twelve four" is 12.4."""
    for amount in (*q.of("V"), *q.of("n")):
        if amount.per or (q.has(r"\binverter\b") and amount.unit == "n"):
            continue
        if low <= amount.value <= high and (amount.unit == "V" or amount.value != int(amount.value) or amount.pieces):
            return amount._replace(unit="V")
        said = as_decimal(amount.pieces, low, high) if amount.pieces else None
        if said is not None:
            return amount._replace(value=said, unit="V")
    return None


def _charge_said(s: Sheet) -> list[Amount]:
    """Note the battery's charge now, by percent, words or voltage, and where it is to end."""
    q = s.q
    used: list[Amount] = []
    stop = q.one(
        r"\b(?:down to|to|hits?|reach\w*|until|till|stop at|before|at) (?:it |it is |it hits |the \w+ (?:is|hits) )?(?:at |down to )?({part}|{percent})(?! charge| charged| battery)(?=[ ,]|$)",
    )
    levels = [a for a in q.of("part") if not a.per]
    efficiency = q.one(r"\bat ({percent}) efficien\w*", r"({percent}) efficien\w*", r"\befficien\w* (?:of |is |at )?({percent}|{n})", r"{A} at ({percent})")
    if efficiency is not None:
        s.note("efficiency", efficiency.value / (100 if efficiency.value > 1 else 1))
        used.append(efficiency)
    rest = [a for a in levels if a not in used]
    start = q.one(r"\bfrom ({part}|{percent})", r"\b(?:bank|battery|batteries|house|it) (?:is |at |sits at |it )*({part}|{percent})", r"({part}|{percent}) (?:charge|charged|full|battery)")
    ends = q.has(r"\b(?:until|till|til|down to|before) (?:it |it is |the \w+ (?:is |hits )?)?(?:at |hits )?<(?:part|percent)>")
    if stop is not None and stop == start and ends:
        start = None
    if stop is not None and (start is None or stop != start) and stop in rest and (len(rest) > 1 or q.has(r"\b(?:down to|until|till|to|hits?|before|stop at)\b")):
        s.note("stop", stop.value / (100 if stop.unit == "percent" else 1))
        rest.remove(stop)
    elif q.has(r"\bhits half\b|\bto half\b|\buntil half\b"):
        s.note("stop", 0.5)
    elif q.has(r"\b(?:flat|dead|empty|run out|runs out|all of it|to zero|die|dies|goes dead)\b") and not q.has(r"\bdead flat\b.*\bis\b|\bdead battery\b|\bflat battery\b"):
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
    volts = _volts(q, 10.4, 15.0) or (_volts(q, 20.8, 29.0) if s.coach.house_battery.volts == 24 else None)
    if volts is None:
        whole = q.one(r"\b(?:at|from|of|reading|reads|shows) ({n})\b", r"({V})")
        if whole is not None and 11 <= whole.value <= 14 and (whole.unit == "V" or q.has(r"\bvolts?\b|\bvoltage\b|\b(?:reading|reads|shows) <n>")) and not q.has(r"<V> (?:system|bank|battery|batteries|inverter|circuit)|\bon <V>"):
            volts = whole._replace(unit="V")
    if volts is not None and volts.value in (12, 24) and (q.of("Ah") or q.of("W")) and not q.has(r"\b(?:reads|reading|shows|from) <V>"):
        s.say("system", volts)
        volts = None
    if volts is not None and not q.has(r"\bon <V>|<V> (?:system|circuit|bank)\b"):
        s.drop("charge")
        s.say("stop_volts" if q.has(r"\b(?:down to|hits?|until it is at|before it is at|drops to) (?:<V>|<n>)") and not q.has(r"\bfrom (?:<V>|<n>)") else "volts", volts)
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
            s.assumed.append(f"house battery at {shown(held.reading.value)} {'percent' if held.reading.unit == 'percent' else 'of full'}, {s.age(held)}")
            return held.reading.value / (100 if held.reading.unit == "percent" else 1)
        s.from_reading("volts", "house_battery", "house battery", "V")
    found = battery.state_of_charge(quantity(s.number("volts"), "V"), nominal=quantity(24 if s.number("volts") > 18 else 12, "V"))
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
    q = s.q
    used = _charge_said(s)
    capacity = q.one(r"({Ah})")
    if capacity is not None:
        s.say("capacity", capacity)
        count = q.one(r"({n}) {Ah} (?:batteries|bats)")
        if count is not None:
            s.note("capacity", capacity.value * count.value, "Ah")
        s.note("whole", 0.0 if q.has(r"<Ah> (?:left|remaining|usable|available|to use|in it|good)\b|\b(?:left|usable|available) <Ah>|\bdown <Ah>") or "usable" in q.words or "available" in q.words else 1.0)
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
            raise Missing("charge", "How full is the house battery, in percent or volts?", "percent")
        charge = 1.0
    if s.has("stop_volts") and not s.has("stop"):
        level = battery.state_of_charge(s.amount("stop_volts")).value
        s.note("stop", (level or 0.0) / 100)
        s.assumed.append(f"{shown(s.number('stop_volts'))} V at rest is about {shown(level or 0.0, 2)} percent; under load it shows sooner")
    if s.has("stop"):
        stop = s.number("stop")
    else:
        stop = 0.0 if available or not own and not s.has("charge") else 0.5
    if stop >= charge:
        return Estimate("hours on battery", 0.0, "h", 0.0, 0.0, (f"{shown(100 * charge, 3)} % now, stop at {shown(100 * stop)} %",), (), battery.PEUKERT_SOURCE, f"It is at {shown(100 * charge, 2)} percent already, at or below {shown(100 * stop, 2)}. Charge it.")
    found = battery.battery_hours(s.amount("capacity"), load, nominal=nominal, charge=charge, stop_at=stop)
    exponent = s.coach.house_battery.peukert
    law = battery.house_battery_hours(s.amount("capacity"), load, nominal=nominal, charge=charge, stop_at=stop, exponent=exponent)
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
        word = "Yes" if found.value >= hours else "No"
        found = with_verdict(found, f"{word}: {roughly(hours)} needed.")
    return found


def battery_state_said(s: Sheet) -> None:
    """Inputs of "what percent is twelve point four volts"."""
    q = s.q
    _charge_said(s)
    temp = q.one(r"({temp})")
    s.say("temp", temp)
    if q.has(r"\b(?:what voltage|how many volts|what should a full|what volts)\b"):
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
        return Estimate("rest voltage", volts, "V", volts - battery.METER_V, volts + battery.METER_V, (line,), ("lead-acid, some hours at rest without charge or load",), battery.BCI_SOURCE, f"About {shown(volts, 4)} volts at rest.")
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
    found = battery.state_of_charge(quantity(volts_now, "V"), nominal=nominal, battery_temperature=s.amount("temp") if s.has("temp") else None)
    if found.value is None:
        return found
    if s.text("ask") == "amp hours":
        capacity = s.number("capacity") if s.has("capacity") else s.coach.house_battery.capacity_ah
        if not s.has("capacity"):
            s.assumed.append(f"{shown(capacity)} Ah bank (profile)")
        value = capacity * found.value / 100
        line = f"{shown(found.value, 3)} % of {shown(capacity)} Ah = {shown(value, 4)} Ah"
        return replace(found, name="amp hours left", value=value, unit="Ah", low=(found.low or 0) / 100 * capacity, high=(found.high or 0) / 100 * capacity, working=(*found.working, line), also=(figure("charge", found.value, "percent", found.low, found.high), *found.also))
    if s.has("against"):
        return with_verdict(found, f"{'Yes' if found.value < s.number('against') else 'No'}.")
    if s.q.has(r"\blow\b"):
        return with_verdict(found, "Yes, low." if found.value <= 60 else "Not low.")
    return found


def battery_charge_said(s: Sheet) -> None:
    """Inputs of "how long to charge"."""
    q = s.q
    pair = q.find(r"\bfrom ({n}) (?:up )?to ({percent})")
    if len(pair) == 2:
        s.note("charge", pair[0].value / 100)
        s.note("target", pair[1].value / 100)
    target = q.one(r"\b(?:to|at|up to|reach\w*) ({percent}|{part})(?! efficien)(?= |$|,)", r"\bbefore the \w+ (?:is )?at ({n}|{percent})")
    used = _charge_said(s) if len(pair) != 2 else list(pair)
    s.inputs.pop("stop", None)
    if target is not None and (s.has("charge") or s.has("volts")) and abs(target.value / (1 if target.unit == "part" else 100) - (s.number("charge") if s.has("charge") else -1)) > 1e-9 and target not in used:
        s.note("target", target.value / (1 if target.unit == "part" else 100))
    last = q.one(r"\blast ({percent})")
    if last is not None:
        s.note("charge", 1 - last.value / 100)
        s.note("target", 1.0)
    missing = q.one(
        r"\b(?:down|used|short|missing|put back|replace|took out|drawn|pulled|lost|need|charge|put) (?:of |about |out |in )?({Ah})",
        r"({Ah}) (?:down|used|short|to put back|gone|out|missing|low)",
    )
    capacity = q.one(r"({Ah}) (?:bank|battery|batteries)", r"\b(?:bank|battery) (?:is |of |holds )?({Ah})")
    if missing is not None and missing != capacity and not s.has("charge"):
        s.say("missing", missing)
    elif capacity is not None or q.of("Ah"):
        only = capacity or q.of("Ah")[0]
        if s.has("charge") or capacity is not None:
            s.say("capacity", only)
        else:
            s.say("missing", only)
    amps = q.one(r"({A})")
    if amps is None:
        bare = q.one(r"(?<!plugged in)(?<!house is)(?<!house)(?<!bank is)(?<!bank)(?<!battery)(?<!batteries) at ({n})(?! percent)(?= |$)")
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

    if not s.has("amps"):
        charger = next((load for load in s.coach.loads if "charger" in load.name), None)
        if charger is None:
            raise Missing("amps", "How many amps does the charger give?", "A")
        amps = charger.watts * 0.85 / (1.15 * float(s.coach.house_battery.volts))
        s.assume("amps", round(amps), "A", f"charger gives about {round(amps)} amps ({shown(charger.watts)} W in the profile); say your own")
    efficiency = s.number("efficiency") if s.has("efficiency") else 0.85
    if not s.has("efficiency"):
        s.assumed.append("85 % of the charge stays in the battery (common practice, no source)")
    if s.text("ask") == "gained" and s.has("needed"):
        value = s.number("amps") * s.number("needed", "h") * efficiency
        line = f"{shown(s.number('amps'))} A x {shown(s.number('needed', 'h'))} h x {shown(efficiency)} = {shown(value)} Ah"
        capacity = s.number("capacity") if s.has("capacity") else s.coach.house_battery.capacity_ah
        return exact("amp hours gained", value, "Ah", working=(line,), source="arithmetic", also=(figure("of the bank", 100 * value / capacity, "percent"),))
    if s.has("missing"):
        found = battery.charge_hours(s.amount("missing"), s.amount("amps"), efficiency=efficiency)
    else:
        charge = _charge(s)
        if charge is None:
            raise Missing("charge", "How full is the house battery, in percent or volts?", "percent")
        if not s.has("capacity"):
            s.profile("capacity", s.coach.house_battery.capacity_ah, "Ah", f"{shown(s.coach.house_battery.capacity_ah)} Ah bank")
        target = s.number("target") if s.has("target") else 1.0
        if target <= charge:
            return exact("hours to charge", 0.0, "h", verdict=f"It is at {shown(100 * charge, 3)} percent already.")
        found = battery.charge_hours_between(s.amount("capacity"), charge, target, s.amount("amps"), efficiency=efficiency)
    if s.has("needed") and found.value is not None:
        hours = s.number("needed", "h")
        word = "Yes" if (found.high or found.value) <= hours else "No" if found.value > hours else "Nearly"
        found = with_verdict(found, f"{word}: {roughly(found.value)} needed, {roughly(hours)} there.")
    return found


def battery_freezing_said(s: Sheet) -> None:
    """Inputs of "will the batteries freeze"."""
    q = s.q
    _charge_said(s)
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
                return Estimate("lowest charge that does not freeze", float(percent), "percent", float(percent), min(100.0, percent + 10.0), (line,), ("straight lines between the table's points",), battery.ARMY_SOURCE, f"Keep it above {percent} percent, with some in hand.")
        return Estimate("lowest charge that does not freeze", None, "percent", None, None, (), (), battery.ARMY_SOURCE, "Colder than the table's figures for a full battery. Keep it warm.")
    if s.has("gravity"):
        return battery.freezing_point(s.number("gravity"), outside=outside)
    charge = _charge(s)
    if charge is None:
        raise Missing("charge", "How full is the battery, in percent or volts?", "percent")
    if outside is None and s.q.has(r"\btonight\b|\bcold enough\b|\bwill\b|\bdo\b") and s.from_reading("outside", "outside_temp", "outside temperature", "F"):
        outside = s.amount("outside")
    gravity = interpolated(battery.CHARGE_GRAVITY, charge)
    assert gravity is not None
    found = battery.freezing_point(gravity, outside=outside)
    line = f"{shown(100 * charge, 3)} % of charge is a gravity of about {shown(gravity)}."
    found = replace(found, working=(line, *found.working))
    if outside is None and found.value is not None:
        found = with_verdict(found, f"About {shown(found.value, 2)} °{found.unit}.")
    return found


# -- breakers and loads -----------------------------------------------------------------------------

_NAMED = {
    "microwave": r"\bmicrowave\b", "coffee maker": r"\bcoffee\b", "block heater": r"\bblock heater\b", "heat pad": r"\b(?:heat )?pads?\b",
    "heat tape": r"\b(?:heat )?tape\b", "charger": r"\bcharger\b", "refrigerator": r"\b(?:fridge|refrigerator)\b", "outlets": r"\b(?:cabin )?outlets\b(?! (?:is|at|for))",
}  # fmt: skip


def loads_said(s: Sheet, breaker: Amount | None) -> None:
    """Note loads by name or in watts and amps."""
    q = s.q
    watts = 0.0
    lines: list[str] = []
    for name, pattern in _NAMED.items():
        if not q.has(pattern):
            continue
        load = next((one for one in s.coach.loads if name in one.name or (name == "outlets" and "outlets" in one.name)), None)
        if load is not None and not q.has(rf"<W> (?:{pattern})|(?:{pattern}) (?:is |at |of |takes |draws )*<k?W>"):
            watts += load.watts
            lines.append(f"{load.name} {shown(load.watts)} W")
    counts = {a.start: a for a in q.every(r"({n}) {W}")}
    for amount in q.of("W"):
        count = next((c.value for c in counts.values() if c.end == amount.start), 1.0)
        watts += converted(amount.value, amount.unit, "W") * count
        lines.append(f"{shown(count)} x {shown(amount.value)} W" if count != 1 else f"{shown(amount.value)} {amount.unit}")
    amps = [a for a in q.of("A") if a != breaker]
    if watts:
        s.note("watts", watts, "W")
        s.note("loads", "; ".join(lines))
    if amps:
        s.note("load_amps", sum(a.value for a in amps), "A")
    if q.has(r"\b(?:everything|whole coach|all of it|total)\b") and not lines:
        s.note("loads", "all")


_BREAKER = (
    r"({A}) (?:amp )?(?:\w+ ){0,1}?(?:breaker|outlet|circuit|receptacle|plug|gfci|fuse|service|socket|inlet|pedestal|hookup|supply|site|post|wall)\b",
    r"\b(?:breaker|outlet|circuit|receptacle|fuse|plug|inlet|supply)(?: is| of| at| it|'s)* (?:only )?(?:a |an |at )?({A}|{n})\b",
    r"\b(?:on|off|from|take|over|through) (?:a|an|the|one|that) ({A})",
    r"\b(?:pop|pops|trip|trips|blow|blows|on|for) (?:a|the|an) ({n})\b",
    r"\bthe ({n}) (?:trip|pop|hold|blow)",
    r"\b(?:a|the) ({n}) (?:amp )?(?:breaker|outlet|circuit|trip)",
    r"{percent} of ({A}|{n})",
)


def breaker_said(s: Sheet) -> None:
    """Inputs of "how much can a fifteen amp breaker take"."""
    q = s.q
    breaker = q.one(*_BREAKER)
    amps = q.of("A")
    if breaker is None and amps:
        standard = [a for a in amps if a.value in (15, 20, 30, 50)]
        breaker = (standard or amps)[-1] if len(amps) > 1 or not (q.of("W") and s.has("breaker")) else amps[0]
        if s.has("breaker") and s.follows and not standard:
            breaker = None
    if breaker is not None and breaker.value > 0:
        s.say("breaker", breaker, "A")
    loads_said(s, breaker)
    volts = q.one(r"({V})", r"\b(?:on|at) ({n})(?: volts)?\b")
    if volts is not None and (volts.unit == "V" or 100 <= volts.value <= 250) and volts != breaker:
        s.say("volts", volts, "V")
    if q.has(r"\bhow many\b.*\b(?:heaters?|<W>|of them|fit|can i plug)\b") and q.of("W"):
        s.note("ask", "fit")
        s.say("each", q.of("W")[0])
    elif q.has(r"\b(?:for a (?:few|couple of) minutes|short|briefly|<min>|quick)\b"):
        s.note("ask", "short")
    elif q.has(r"\bhow (?:much|many)\b.*\b(?:left|more|else|spare|room)\b|\bwhat left\b"):
        s.note("ask", "left")
    elif not s.follows:
        s.drop("ask")


def _supply(s: Sheet) -> Any:
    if not s.has("volts"):
        held = s.latest("shore_voltage")
        if held is not None:
            s.from_reading("volts", "shore_voltage", "shore voltage", "V")
        else:
            s.profile("volts", float(s.coach.shore.volts), "V", f"{s.coach.shore.volts} volts")
    return s.amount("volts")


def breaker_limit(s: Sheet) -> Estimate:
    """What a breaker carries for hours on end, and whether the load is too much."""
    from cabassist.estimate import power

    if not s.has("breaker"):
        if s.q.has(r"\bthat breaker\b|\bthe breaker\b|\bbreaker\b") and not s.has("watts") and not s.has("load_amps"):
            raise Missing("breaker", "How many amps is the breaker?", "A")
        s.profile("breaker", float(s.coach.shore.amps), "A", f"{s.coach.shore.amps} amp inlet")
    supply = _supply(s)
    breaker = s.amount("breaker")
    limit = power.continuous_limit(breaker, supply)
    if s.text("ask") == "fit" and s.has("each"):
        found = power.outlet_capacity(breaker, supply, each=s.amount("each"))
        fit = next((f for f in found.also if f.unit == "loads"), None)
        if fit is not None and found.value is not None:
            return replace(found, name="loads that fit", value=fit.value, low=fit.value, high=fit.value, unit="loads", also=(figure("continuous power", found.value, "W"), *(f for f in found.also if f is not fit)))
        return found
    loads = [quantity(s.number(n), u) for n, u in (("watts", "W"), ("load_amps", "A")) if s.has(n)]
    if not loads:
        return limit
    found = power.breaker_left(breaker, supply, loads, continuous=s.text("ask") != "short")
    drawn = next((f for f in found.also if f.name == "drawn"), None)
    also = (*found.also, figure("continuous limit", limit.value or 0.0, "A"), *(f for f in limit.also if f.name == "continuous power"))
    line = (s.text("loads"),) if s.has("loads") else ()
    found = replace(found, also=also, working=(*line, *found.working))
    if s.text("ask") == "left" or drawn is None or found.value is None:
        return found
    left = figure("left", found.value, "A")
    return replace(found, name="drawn", value=drawn.value, low=drawn.value, high=drawn.value, also=(left, *(f for f in also if f is not drawn)))


def shore_load_said(s: Sheet) -> None:
    """Inputs of "what is our load on shore"."""
    q = s.q
    breaker = q.one(*_BREAKER[:2], r"\b(?:over|under) ({A})")
    s.say("breaker", breaker, "A")
    loads_said(s, breaker)
    volts = q.one(r"({V})", r"\b(?:on|at) ({n}) (?:volts)?$")
    if volts is not None and (volts.unit == "V" or 100 <= volts.value <= 250):
        s.say("volts", volts, "V")
    over = q.one(r"\b(?:over|under|more than|less than) ({W}|{A})")
    if over is not None:
        s.say("over", over)
        if over.unit in ("W", "kW") and s.has("watts"):
            s.note("watts", s.number("watts") - converted(over.value, over.unit, "W"), "W")
            if s.number("watts") <= 0:
                s.inputs.pop("watts")
                s.inputs.pop("loads", None)
    off = re.search(r"\b(?:shed|turn off|switch off|without|kill|drop) (?:the )?(\w+ ?\w*)", q.frame)
    if off:
        s.note("without", off[1])
        s.inputs.pop("watts", None)
        s.inputs.pop("loads", None)
    if q.has(r"\bhow many watts\b|\bwatts (?:is|are)\b") and not s.has("watts") and s.has("load_amps"):
        s.note("ask", "watts")


def shore_load(s: Sheet) -> Estimate:
    """Amps and watts of loads on shore power."""
    from cabassist.estimate import power

    supply = _supply(s)
    if s.text("ask") == "watts" and s.has("load_amps"):
        return power.watts(s.amount("load_amps"), supply)
    if s.has("watts") and not s.has("breaker") and not s.q.has(r"\bshore\b|\bover\b|\bunder\b|\bcan (?:we|i)\b") and ";" not in s.text("loads"):
        found = power.amps(s.amount("watts"), supply)
        return with_also(found, figure("power", s.number("watts"), "W"))
    if s.has("load_amps") and not s.has("watts"):
        return power.watts(s.amount("load_amps"), supply)
    without = s.text("without").split()
    chosen = [load for load in s.coach.loads if not without or not any(word in load.name for word in without if len(word) > 3)]
    if s.has("watts"):
        loads = [power.ElectricLoad(one, quantity(float(re.search(r"([\d.,]+) ?k?W", one)[1].replace(",", "")), "W")) for one in s.text("loads").split("; ") if re.search(r"[\d.,]+ ?k?W", one)]  # type: ignore[index]
    else:
        loads = [power.ElectricLoad(one.name, quantity(one.watts, "W"), one.duty, one.shed_order) for one in chosen]
        s.assumed.append("loads as in the profile")
    if not s.has("breaker"):
        s.profile("breaker", float(s.coach.shore.amps), "A", f"{s.coach.shore.amps} amp inlet")
    found = power.shore_load(loads, s.amount("breaker"), supply)
    total = sum(float(one.power.to("W").magnitude) for one in loads)
    found = with_also(found, figure("power", total, "W"))
    if s.has("over") and found.value is not None:
        limit, have = (s.number("over"), total) if s.inputs["over"].unit != "A" else (s.number("over"), found.value)
        found = with_verdict(found, f"{'Over' if have > limit else 'Under'} {shown(limit)} {s.inputs['over'].unit}: {shown(have, 4)}.")
    return found


# -- cords ------------------------------------------------------------------------------------------


def cord_said(s: Sheet) -> None:
    """Inputs of questions about cords."""
    q = s.q
    gauge = q.one(r"({awg})")
    if gauge is None:
        bare = q.one(r"\b(?:on|through|of|a) (?:a )?({n})(?: cord| wire| cable)?(?= |$)(?! (?:amp|volt|feet|foot|twenty))", r"\bawg ({n})")
        gauge = bare if bare is not None and bare.value in (18, 16, 14, 12, 10, 8, 6) and not q.has(r"\b(?:breaker|circuit)\b") else None
    if gauge is not None:
        s.note("gauge", gauge.value)
    amps = q.one(r"({A})") or q.one(r"\b(?:at|for|carry|pull|pulling) ({n})(?= |$)(?! (?:gauge|volts))")
    if amps is not None and amps != gauge and (amps.unit == "A" or (5 <= amps.value <= 60 and amps.value not in (100, 110, 115, 120))):
        s.drop("watts")
        s.say("amps", amps, "A")
    loads_said(s, amps)
    s.inputs.pop("load_amps", None)
    if "watts" in s.fresh and "amps" not in s.fresh:
        s.inputs.pop("amps", None)
    cords = q.find(r"({n}|{cord}) ({ft}|{m}) (?:<awg> )?(?:\w+ )?(?:cord|cable|extension|footer|lead)s")
    length = q.one(r"({long})")
    if len(cords) == 2:
        s.note("length", cords[0].value * cords[1].value, cords[1].unit)
    elif length is not None:
        more = q.has(r"\b(?:another|add|adding|extra|one more)\b.*<(?:ft|m)>")
        if more:
            s.note("more", converted(length.value, length.unit, "ft"), "ft")
        else:
            s.say("length", length)
    volts = q.one(r"({V})", r"\b(?:on|at|from|with|has|reads|got) ({n})(?: volts| at the wall| volt)?(?= |$)", r"({n}) (?:at the wall|volts|at the outlet|at the church)")
    if volts is not None and volts != gauge and volts != amps and (90 <= volts.value <= 260) and volts.unit in ("V", "n"):
        s.say("volts", volts, "V")
    drop = q.one(r"({percent})")
    if drop is not None:
        s.note("most", drop.value / 100)
    above = q.one(r"\b(?:above|over|below|under) ({n}|{V})(?= |$)(?! ?percent)")
    if above is not None and 90 <= above.value <= 260 and q.has(r"\bhold\b|\bstay\b|\bdrop below\b|\babove\b"):
        s.note("above", above.value)
        if s.has("volts") and s.number("volts") == above.value:
            s.inputs.pop("volts")
    if q.has(r"\bcold\b|\bcopper at\b"):
        temp = q.one(r"({temp})")
        s.say("wire_temp", temp)


def _cord(s: Sheet, *, length: bool) -> None:
    cord = s.coach.shore.cord
    if not s.has("gauge"):
        s.profile("gauge", float(cord.gauge_awg), "", f"{cord.gauge_awg} gauge cord")
    if length and not s.has("length"):
        s.profile("length", cord.length_ft, "ft", f"{shown(cord.length_ft)} ft cord")
    if length and s.has("more"):
        s.note("length", s.number("length", "ft") + s.number("more"), "ft")
        s.inputs.pop("more")


def _amps(s: Sheet, question: str) -> None:
    if not s.has("amps") and s.has("watts"):
        supply = float(_supply(s).magnitude)
        s.inputs["amps"] = s.inputs["watts"]._replace(name="amps", value=s.number("watts") / supply, unit="A")
        s.assumed.append(f"{shown(s.number('watts'))} W ÷ {shown(supply)} V = {shown(s.number('watts') / supply)} A")
    if not s.has("amps"):
        raise Missing("amps", question, "A")


def voltage_drop(s: Sheet) -> Estimate:
    """Volts lost along a cord."""
    from cabassist.estimate import cords

    _amps(s, "How many amps run through it?")
    _cord(s, length=True)
    if s.q.has(r"\b(?:percent|percentage) drop\b|\b(?:what|how many) percent\b|\bdrop in percent\b"):
        s.note("unit", "percent")
    supply = _supply(s)
    found = cords.voltage_drop(supply, s.amount("amps"), s.amount("length"), round(s.number("gauge")), conductor_temperature=s.amount("wire_temp") if s.has("wire_temp") else None)
    if found.value is None:
        return found
    if s.has("above"):
        end = float(supply.magnitude) - found.value
        found = with_verdict(found, f"{'Yes' if end >= s.number('above') else 'No'}: {shown(end, 4)} volts at the end.")
    if s.has("most"):
        share = 100 * found.value / float(supply.magnitude)
        most = 100 * s.number("most")
        found = with_verdict(found, f"{'More' if share > most else 'Less'} than {shown(most)} percent: {shown(share, 3)}.")
    if s.q.has(r"\bvoltage at the end\b|\bleft at the end\b|\bhave left at\b|\bwhat do we see\b|\bleft at the coach\b|\bleft for the coach\b|\bvolts (?:are )?left\b|\bat the far end\b|\bwhat voltage\b|\bsee at the coach\b|\bvolts at the coach\b") or (s.follows and s.text("ask") == "end"):
        s.note("ask", "end")
        end_figure = next(f for f in found.also if f.name == "at the end")
        lost = figure("lost", found.value, "V", found.low, found.high)
        found = replace(found, name="at the end", value=end_figure.value, low=end_figure.low, high=end_figure.high, also=(lost, *(f for f in found.also if f is not end_figure)))
    return found


def cord_length(s: Sheet) -> Estimate:
    """The longest cord for a load."""
    from cabassist.estimate import cords

    if not s.has("amps") and not s.has("watts"):
        s.assume("amps", 0.8 * s.coach.shore.amps, "A", f"{shown(0.8 * s.coach.shore.amps)} amps, all the {s.coach.shore.amps} amp inlet carries for hours")
    _amps(s, "How many amps is it to carry?")
    _cord(s, length=False)
    most = s.number("most") if s.has("most") else 0.03
    found = cords.longest_cord(_supply(s), s.amount("amps"), round(s.number("gauge")), most_drop=most)
    if s.has("more") and not s.has("length"):
        s.note("length", s.coach.shore.cord.length_ft + s.number("more"), "ft")
    if s.has("length") and found.value is not None:
        length = s.number("length", "ft")
        word = "Yes, fine" if length <= found.value else "Too long" if length > (found.high or found.value) else "At the limit"
        found = with_verdict(found, f"{word}: {shown(length)} feet asked.")
        lost = cords.voltage_drop(_supply(s), s.amount("amps"), quantity(length, "ft"), round(s.number("gauge")))
        if lost.value is not None:
            found = with_also(found, figure("drop over that length", lost.value, "V", lost.low, lost.high))
    return found


def cord_ampacity(s: Sheet) -> Estimate:
    """Amps a cord carries, or the wire a load needs."""
    from cabassist.estimate import cords

    wants_gauge = s.q.has(r"\bwhat (?:gauge|gage|wire|size|awg|cord)\b|\bhow thick\b|\bwhich gauge\b|\bwhat gage\b") or s.text("ask") == "gauge"
    if wants_gauge and not s.has("gauge"):
        s.note("ask", "gauge")
        _amps(s, "How many amps is it to carry?")
        return _thinnest(s)
    _cord(s, length=True)
    if not s.has("amps") and s.has("watts"):
        _amps(s, "")
    found = cords.cord_limit(round(s.number("gauge")), s.amount("length"), current=s.amount("amps") if s.has("amps") else None)
    if found.value is not None:
        found = with_also(found, figure("power", found.value * float(_supply(s).magnitude), "W"))
        if s.has("amps"):
            found = with_verdict(found, "Yes." if s.number("amps") <= found.value else "No.")
    return found


def _thinnest(s: Sheet) -> Estimate:
    """The thinnest wire that may carry the amps and does not lose too much."""
    from cabassist.estimate import cords

    if not s.has("length"):
        s.profile("length", s.coach.shore.cord.length_ft, "ft", f"{shown(s.coach.shore.cord.length_ft)} ft cord")
    amps = s.number("amps")
    most = s.number("most") if s.has("most") else 0.03
    by_drop = cords.thinnest_cord(_supply(s), s.amount("amps"), s.amount("length"), most_drop=most)
    carries: int | None = None
    for gauge in (18, 16, 14, 12, 10, 8, 6):
        limit = cords.cord_limit(gauge, s.amount("length"))
        if (limit.value if limit.value is not None else cords.AMPACITY[gauge]) >= amps:
            carries = gauge
            break
    if by_drop.value is None or carries is None:
        return by_drop
    value = min(float(carries), by_drop.value)
    lines = (*by_drop.working, f"{carries} gauge carries {shown(amps)} A; the thicker of the two counts: {shown(value)} gauge.")
    return replace(by_drop, value=value, low=value, high=value, working=lines, verdict=f"{shown(value)} gauge or thicker.")
