"""Questions answered by one figure of a table: heat in diesel or propane, how long to boil drinking water, how cold propane boils."""

from __future__ import annotations

from dataclasses import replace

from cabassist.estimate.quantities import exact, figure, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_inputs import Question
from cabassist.language.calculation_units import converted
from cabassist.language.lazy import Lazy
from cabassist.sums.working_sheet import Sheet, quantity

_HEAT = Lazy(r"\b(?:btus?|b t us?|heat|energy|kilowatt hours?|kwh|kw h)\b|<kW> hours?")
_IN_IT = Lazy(
    r"\b(?:in|of|from|has|have|hold|holds|contain\w*|give|gives|worth|is|are|there)\b|\bper (?:gallon|pound)\b|\ba (?:gallon|pound)\b"
)
_DIESEL = Lazy(r"\b(?:diesel|diesle)\b")
_PROPANE = Lazy(r"\b(?:propane|propain|lpg?|lp gas)\b")
_OTHER = Lazy(
    r"\b(?:furnaces?|heaters?|los(?:e|es|ing|s)|needs?|hours?(?! (?:in|of|from|per|are|is|does|do))|burn\w*|last|lasts|outside|inside|boil\w*|vapou?r\w*|freez\w*|ice|idle|idling|miles|exchanger|efficien\w*|percent|left|days|nights|stove|keep|water|cabin|coach|an hour|per hour)\b"
)


def heat_in_asked(q: Question) -> bool:
    """Whether it asks for the heat in one amount of diesel or propane and tells nothing else."""
    frame = Lazy(r"\b(?:kilowatt|kw) hours?\b").sub(" kwh ", q.frame)
    diesel, propane = _DIESEL.search(frame) is not None, _PROPANE.search(frame) is not None
    if diesel == propane or not _HEAT.search(frame) or not _IN_IT.search(frame) or _OTHER.search(frame):
        return False
    allowed = ("gal", "L") if diesel else ("gal", "L", "lb", "kg")
    return len(q.amounts) == 1 and q.amounts[0].unit in allowed and not q.amounts[0].per and q.amounts[0].value >= 0


def heat_in_said(s: Sheet) -> None:
    """Inputs of "how many BTU in 5 gallons of diesel"."""
    amount = next((a for a in s.q.amounts if a.unit in ("gal", "L", "lb", "kg")), None)
    s.say("fuel", amount)
    if _DIESEL.search(s.q.frame):
        s.note("which", "diesel")
    elif _PROPANE.search(s.q.frame):
        s.note("which", "propane")


def heat_in(s: Sheet) -> Estimate:
    """BTU in an amount of fuel, with kilowatt hours beside it; in these when they are asked for."""
    from cabassist.estimate import fuel, propane

    s.need("fuel", "How many gallons?", "gal")
    heat = fuel.diesel_heat if s.text("which") == "diesel" else propane.energy
    found = heat(s.amount("fuel"))
    value = found.value or 0.0
    kwh = converted(value, "BTU", "kWh")
    if s.q.has(r"\b(?:kilowatt|kw) ?hours?\b|\bkwh\b"):
        line = f"{shown(value)} BTU ÷ 3,412 BTU/kWh = {shown(kwh)} kWh"
        also = (figure(found.name, value, "BTU"),)
        return replace(found, value=kwh, low=kwh, high=kwh, unit="kWh", working=(*found.working, line), also=also)
    verdict = "All the heat in it; a furnace brings only its efficiency's share of that inside."
    return replace(found, also=(figure("the same", kwh, "kWh"), *found.also), verdict=verdict)


_BOILS = Lazy(r"\bboil(?:s|ed|ing)?\b")
_TO_DRINK = Lazy(
    r"\b(?:safe|drink\w*|potable|boil (?:water )?(?:order|notice|advisory)|germs?|bacteria|purif\w*|disinfect\w*|sanit\w*|kill|tap water|(?:the |our |fresh )?water)\b"
)
_HOW_LONG = Lazy(r"\bhow (?:long|many minutes|much time)\b|\bminutes\b|\bhow long for\b|\blong enough\b")
_NO_DRINK = Lazy(
    r"\b(?:btu\w*|freez\w*|propane|gas|cylinders?|bottles?|coolant|engine|radiator|boil(?:s|ing)? (?:off|over|dry|point)|kettle|coffee|eggs?|pasta|rice|hot dogs?|watts?|heater|until it boils|to (?:a|the) boil|come to|bring)\b|<(?:W|kW|BTU|gal|L|A|V)(?:/\w+)?>"
)


def boil_asked(q: Question) -> bool:
    """Whether it asks how long drinking water is boiled, with the height above the sea or nothing told."""
    frame = q.frame
    if not (_BOILS.search(frame) and _HOW_LONG.search(frame) and _TO_DRINK.search(frame)) or _NO_DRINK.search(frame):
        return False
    heights = [a for a in q.amounts if a.unit in ("ft", "m", "n") and not a.per]
    return len(q.amounts) == len(heights) <= 1


def boil_said(s: Sheet) -> None:
    """Inputs of "how long do I boil water at 7,000 feet"."""
    height = next((a for a in s.q.amounts if a.unit in ("ft", "m") or (a.unit == "n" and a.value >= 200)), None)
    s.say("height", height, "m" if s.q.metric else "ft")


def boil(s: Sheet) -> Estimate:
    """Minutes of rolling boil, by the height; below 5,000 feet when no height is told, and both are said."""
    from cabassist.estimate.bleach import boil_time

    if s.has("height"):
        return boil_time(s.amount("height"))
    found = boil_time(quantity(0.0, "ft"))
    high = boil_time(quantity(5001.0, "ft")).value
    s.assumed.append("not above 5,000 feet: say the height if you are in the mountains")
    return replace(
        found, high=high, working=("not above 5,000 ft: 1 min; above it 3 min",),
        verdict="Let it boil hard for 1 minute; 3 minutes above 5,000 feet.",
    )  # fmt: skip


_GAS = Lazy(r"\b(?:propane|propain|lpg?|lp gas|gas|bottles?|cylinders?)\b")
_GASSES = r"(?:boil\w*|vapou?ri[sz]\w*|turn\w* (?:in)?to (?:gas|vapou?r)|mak(?:e|es|ing) (?:any |no )?(?:gas|vapou?r)|giv(?:e|es|ing) (?:any |off )?(?:gas|vapou?r)|gas(?:s?ing)? off)"
_STOPS = Lazy(
    rf"\b(?:quits?|stops?|ceases?|no longer|won'?t|will not|does ?n'?t|does not|can(?:not| not|'t)|never|fails? to)(?: \w+){{0,2}}? {_GASSES}\b|\b(?:boiling point|boils? at|too cold (?:to|for it to) {_GASSES})\b"
)
_HOW_COLD = Lazy(
    r"\b(?:how cold|what temp\w*|which temp\w*|at what|below what|when|where|what(?: is|'s| s| ' s)? (?:the )?(?:propane |its )?boiling)\b"
)
_NO_PROPANE = Lazy(r"\b(?:water|coolant|kettle|engine|furnaces?|btu\w*|both|feed|diesel)\b|<(?:lb|kg|gal|percent|part|BTU)[/>]")  # fmt: skip


def boils_asked(q: Question) -> bool:
    """Whether it asks how cold it must be for propane to give no gas, with one temperature or none told."""
    frame = q.frame
    if not (_GAS.search(frame) and _STOPS.search(frame) and _HOW_COLD.search(frame)) or _NO_PROPANE.search(frame):
        return False
    return len(q.amounts) <= 1 and all(a.unit in ("F", "C", "temp", "n") and not a.per for a in q.amounts)


def boils_said(s: Sheet) -> None:
    """Inputs of "how cold before propane quits boiling, it may go to minus 50"."""
    s.say("outside", next(iter(s.q.amounts), None), s.q.scale)


def boils(s: Sheet) -> Estimate:
    """The boiling point of propane, and whether there is any gas at a temperature that is told."""
    from cabassist.estimate.boil_off import BOILING_F, vapor_pressure

    unit = "C" if s.q.scale == "C" else "F"
    value = converted(BOILING_F, "F", unit)
    verdict = f"At {shown(value, 3)} °{unit} and below propane does not boil: no gas."
    if s.has("outside"):
        told = s.number("outside", unit)
        pressure = vapor_pressure(s.amount("outside")).value
        verdict = (
            f"{verdict} {'No gas' if pressure is None else f'Still {shown(pressure, 2)} psi of it'} at {shown(told)}."
        )
    verdict = f"{verdict} Long before that it gives too little for a furnace."
    return exact("boiling point", value, unit, working=(f"propane boils at {shown(BOILING_F)} °F",), source="OSHA chemical data 563 (official)", verdict=verdict)  # fmt: skip
