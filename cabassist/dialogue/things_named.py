"""Things of a coach by the words drivers have for them: the carried kit, and every place that the profile names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from cabassist.coach import NOT_NAMED, SWITCH_NAMES, Coach
from cabassist.language.lazy import Lazy
from cabassist.language.normalise import plain

KIT = "find-tools-and-spares"


@dataclass(frozen=True)
class Thing:
    """One thing: the words for it as a pattern, its name, where it is, and the procedure it belongs to, if any."""

    words: str
    label: str
    place: str
    topic: str
    side: str = ""
    carried: bool = False

    @property
    def line(self) -> str:
        """Where it is, as one line."""
        if self.place in ("none", NOT_NAMED, ""):
            return f"The profile does not say where the {self.label.lower()} is."
        return f"{self.label[:1].upper()}{self.label[1:]}: {self.place}."

    @property
    def sided(self) -> str:
        """Which side it is on, and where."""
        if not self.side:
            return f"{self.line} The profile does not name a side for it."
        if self.side in self.place.split():
            return self.line
        return f"{self.side.capitalize()}{' side' if self.side in ('left', 'right') else ''}. {self.line}"


_WASTE = r"(?:waste|dump|sewage|sewer|black|grey|gray|holding)(?: water)?(?: tank)?(?:'s)?"
_FRESH = r"(?:fresh|water|fresh water|drinking water|clean water|potable water|potable)(?: tank)?(?:'s)?"
_GAS = r"(?:propane|gas|lpg)"
_BOTTLE = rf"(?:{_GAS} )?(?:cylinder|bottle|tank)"
_LAY = {
    "gloves": r"(?:rubber |work |nitrile |dump |disposable )?gloves?",
    "flashlight": r"flash ?lights?|torch(?:es)?",
    "headlamp": r"head ?lamp|head torch",
    "soap-solution": r"soap(?: solution| spray bottle| spray| bottle| stuff)?|soapy (?:water|stuff)|leak (?:spray|soap)|spray bottle",
    "adjustable-wrench": r"(?:adjustable|crescent|monkey) ?(?:wrench|spanner)?|wrench(?:es)?|spanners?",
    "socket-set": r"sockets?(?: set)?|ratchet(?: set)?",
    "screwdrivers": r"screw ?drivers?",
    "pliers": r"pliers",
    "torque-wrench": r"torque (?:wrench|bar)|(?:wheel|lug)(?: nut)? (?:wrench|bar|spanner)|wrench(?:es)?",
    "impact-wrench": r"impact(?: wrench| gun| driver)?|rattle gun|wheel gun|(?:wheel|lug)(?: nut)? (?:wrench|gun)|wrench(?:es)?",
    "low-jack": r"(?:low|short|small)(?: profile)? jack|jacks?",
    "large-jack": r"(?:large|big|tall|bottle)(?: bottle)? jack|jacks?",
    "cribbing": r"crib(?:bing)?(?: (?:wood|timbers|blocks))?|wood(?:en)? blocks|timbers|blocks",
    "ramps": r"(?:wheel )?ramps?",
    "wheel-chocks": r"(?:wheel )?(?:chocks?|wedges?)",
    "triangles": r"(?:(?:warning|reflective|reflector|safety|emergency|roadside) )?triangles?|reflectors?",
    "extinguisher": r"(?:fire )?extinguishers?|fire bottles?",
    "first-aid": r"first aid(?: kit| box| bag| stuff)?|band ?aids?|bandages?|plasters|med(?:ical)? ?kit",
    "tire-gauge": r"t[iy]re(?: pressure)? gauges?",
    "air-hose": r"air (?:hose|line|chuck)|t[iy]re (?:hose|inflator)",
    "spare-fuses": r"(?:spare |extra )?fuses|fuse kit|spare fuse",
    "spare-lamps": r"(?:spare |extra |replacement )?(?:bulbs|globes)|(?:spare|extra|replacement) (?:lamps?|lights?|bulb)",
    "multimeter": r"(?:multi|volt) ?meters?",
    "outlet-tester": r"(?:(?:outlet|socket|plug|polarity) )?(?:tester|checker)",
    "bleach": r"(?:household )?bleach",
    "funnel": r"funnels?",
    "pressure-regulator": r"water(?: pressure)? regulator",
    "disinfectant": r"disinfectant",
    "absorbent": r"absorbent(?: granules)?|granules|spill (?:kit|granules|stuff)|oil dry",
    "mop": r"mop(?: and(?: the)? bucket)?|bucket",
    "towels": r"(?:old )?(?:towels?|rags?)",
    "trash-bags": r"(?:trash|garbage|rubbish|bin|refuse) (?:bags?|liners?|sacks?)",
    "hair-dryer": r"(?:hair|blow) ?dr[yi]er",
    "antifreeze-potable": r"(?:(?:potable|pink|rv|plumbing)(?: water)? )?antifreeze",
    "penetrating-oil": r"(?:light )?penetrating oil|penetrant|wd ?40",
    "silicone-spray": r"silicone(?: spray)?",
    "touch-up-paint": r"(?:touch ?up )?paint|touch ?up bottle",
    "sandpaper": r"(?:fine )?(?:sand|emery) ?paper",
    "seal-tape": r"(?:cold weather|weather|seal) tape",
    "cable-ties": r"(?:cable|zip) ?ties|tie ?wraps",
    "fuel-filter": r"spare (?:fuel )?filters?",
    "fuel-treatment": r"(?:winter )?(?:fuel|diesel) (?:treatment|additive)|anti ?gel|de ?geller",
    "engine-oil": r"(?:engine|motor|spare|extra) oil",
    "coolant": r"(?:spare )?coolant|antifreeze",
    "washer-fluid": r"(?:(?:winter|windshield|windscreen) )?washer (?:fluid|juice)|screen ?wash",
    "snow-brush": r"snow (?:brush|broom)|(?:ice )?scrapers?",
    "shovel": r"(?:snow )?shovels?|spade",
    "vest": r"(?:(?:reflective|hi ?vis|high vis|safety|reflector) )?vests?|hi ?vis",
    "key-ring": r"(?:(?:bay|locker|luggage|coach|bus) )?keys|key ring|bay key",
    "logbook": r"(?:(?:coach|driver'?s'?|bus|vehicle|daily|trip|defect|report|fault|log) )?(?:log ?book|book|log)(?: book| sheets?)?|log sheets?",
    "jumper-cables": r"(?:jumper|jump|booster) (?:cables|leads)|jumpers",
    "extension-cord": r"(?:second|spare|other|extra)(?: shore)?(?: power)? (?:cord|cable|lead)|extension(?: cord| lead| cable)?",
}
"""What drivers call the kit that procedures name; a word of several items means them all."""
_TOOLS = ("socket-set", "screwdrivers", "adjustable-wrench")
_SWITCHES = {
    "bay_lights": r"bay (?:lights?|lamps?)",
    "rear_bay_lamp": r"rear bay (?:lights?|lamps?)",
    "scene_lights": r"(?:scene|outside|outer|work|flood|exterior|(?:big )?side) ?(?:lights?|lamps?)|floods",
    "marker_lights": r"(?:marker|clearance) (?:lights?|lamps?)|markers",
}
_SWITCH_TOPICS = {"bay_lights": "bay-lights", "rear_bay_lamp": "bay-lights"}
_BESIDE = Lazy(
    r"(?:the|our|my|your|his|her|their|its|this|that|those|these|a|an|any|some|all|both|and|or|plus|also|then|where|are|is|of|damn|bloody|darn|little|carried|single|set)(?= |$)"
)
"""Words around the names of things."""


def things(coach: Coach) -> Iterator[Thing]:
    """Everything the profile gives a place."""
    for item in coach.kit:
        words = _LAY.get(item.id, re.escape(item.id.replace("-", " ")) + "s?")
        yield _at(coach, f"{re.escape(plain(item.name))}|{words}", item.name, item.place, KIT, carried=True)
    tools = next((item for key in _TOOLS for item in coach.kit if item.id == key), None)
    if tools is not None:
        yield _at(coach, r"tool ?(?:box|kit|chest)|(?:hand )?tools", "tools", tools.place, KIT, carried=True)
    yield from _of_tanks(coach)
    yield from _of_gas(coach)
    yield from _of_power(coach)
    yield from _of_body(coach)


def _at(coach: Coach, words: str, label: str, place: str, topic: str, side: str = "", *, carried: bool = False) -> Thing:  # fmt: skip
    return Thing(words, label, place, topic, side or _side(place, coach), carried)


def _side(place: str, coach: Coach) -> str:
    """The side that a place names, or that its bay is on."""
    for side in ("left", "right"):
        if f"{side} side" in place or f"{side} front" in place or f"{side} rear" in place:
            return side
    return next((bay.side for bay in coach.bays if re.search(rf"\b{re.escape(bay.name)}\b", place)), "")


def _of_tanks(coach: Coach) -> Iterator[Thing]:
    fresh, waste = coach.tank("fresh"), coach.tank("waste")
    rows = (
        (rf"{_WASTE} (?:gate )?(?:valve|handle|lever|gate|t handle)", "waste valve", waste.valve_place, "dump-waste-tank", waste.side),
        (rf"{_WASTE} (?:outlet|drain|cap|connection|port|spout)|(?:outlet|drain) (?:of|for|on) the (?:waste|sewage) tank", "waste outlet", waste.drain_place, "dump-waste-tank", waste.side),
        (rf"{_WASTE} level", "waste level, seen at", waste.level_view_place, "check-waste-level", waste.side),
        (rf"{_FRESH} (?:fill(?:er)?|inlet|intake|cap|neck)(?: (?:cap|port|neck|hole|point))?", "fresh water fill", fresh.fill_place, "fill-fresh-water", fresh.side),
        (rf"(?:{_FRESH} )?overflow(?: (?:tube|pipe|spout|vent|outlet))?", "fresh tank overflow", fresh.overflow_place, "fill-fresh-water", fresh.side),
        (rf"{_FRESH} drain(?: (?:cock|valve|plug))?|drain (?:cock|valve|plug)|drain (?:of|for|on) the (?:fresh|water)(?: water)? tank", "fresh tank drain", fresh.drain_place, "winterize-water", fresh.side),
        (rf"{_FRESH} level", "fresh level, seen at", fresh.level_view_place, "check-fresh-level", fresh.side),
        (r"(?:fresh|water|fill|drinking|drinking water|fresh water|potable) hose|hoses?", "fresh water hose", coach.fresh_hose.place, "fill-fresh-water", ""),
        (r"(?:waste|sewer|sewage|dump|drain|dirty) hose|hoses?", "waste hose", coach.waste_hose.place, "stow-waste-hose", ""),
        (r"(?:water )?pump(?:'s)? switch|switch (?:for|of) the (?:water )?pump", "water pump switch", coach.toilet.pump_switch_place, "no-water-at-tap", ""),
        (r"(?:fresh|water|fresh water|drinking water|clean water|potable water) tank", "fresh tank", fresh.bay, "check-fresh-level", fresh.side),
        (r"(?:waste|sewage|sewer|black|grey|gray|holding|dirty)(?: water)? tank", "waste tank", waste.bay, "check-waste-level", waste.side),
    )  # fmt: skip
    for words, label, place, topic, side in rows:
        yield _at(coach, words, label, place, topic, side)
    for tank in coach.tanks:
        if tank.name not in ("fresh", "waste"):
            name = tank.name.replace("_", " ")
            yield _at(coach, f"{name} tank", f"{name} tank", tank.bay, "", tank.side)
    if waste.heat_tape is not None:
        tape, lamp = (
            r"(?:waste(?: tank)? )?heat (?:tape|trace)(?:'s)?",
            r"(?:pilot |indicator )?(?:light|lamp|led|indicator)",
        )
        words = rf"{tape} {lamp}|{lamp} (?:of|for|on) the {tape}"
        yield _at(coach, words, "heat tape light", waste.heat_tape.pilot_light_place, "check-heat-tape", waste.side)


def _of_gas(coach: Coach) -> Iterator[Thing]:
    gas = coach.propane
    yield _at(coach, rf"(?:{_GAS} )?(?:auto(?:matic)? )?change ?over(?: (?:valve|switch|indicator|lever))?", "propane changeover", gas.changeover_place, "change-over-cylinders")  # fmt: skip
    yield _at(coach, rf"(?:main )?{_GAS}(?: main)? (?:shut ?off|isolator|cut ?off|tap)(?: valve)?|shut ?off (?:of|for) the {_GAS}", "propane shutoff", gas.shutoff_place, "shut-off-propane")  # fmt: skip
    lay = {"outside": "outside|outer|curb ?side", "inside": "inside|inner|street ?side", "spare": "spare|extra"}
    for cylinder in gas.cylinders:
        topic = "swap-or-refill-cylinder" if cylinder.role == "spare" else "read-propane-gauges"
        words = rf"(?:{lay[cylinder.role]}) {_BOTTLE}|{_GAS} (?:cylinder|bottle|tank)s?|(?:cylinder|gas bottle)s?"
        yield _at(coach, words, f"{cylinder.role} cylinder", cylinder.place, topic)
    for furnace in coach.furnaces:
        words = rf"{re.escape(plain(furnace.name))}|furnaces?"
        yield _at(coach, words, furnace.name, furnace.place, "keep-cabin-warm")


def _of_power(coach: Coach) -> Iterator[Thing]:
    shore, cord, bank = coach.shore, coach.shore.cord, coach.house_battery
    rows = (
        (r"shore (?:power )?(?:inlet|plug|socket|connection|hook ?up|receptacle|port)|power inlet|hook ?up (?:inlet|socket)", "shore inlet", shore.inlet_place, "connect-shore-power"),
        (r"(?:breaker|electrical|power|distribution) (?:panel|box)|(?:coach |inside )?breakers", "coach breakers", shore.panel_place, "no-shore-power"),
        (r"(?:shore|shore power|power|hook ?up) (?:cord|cable|lead)|cord", "shore cord", cord.place, "connect-shore-power"),
        (r"(?:shore )?cord(?:'s)? (?:port|hole|hatch|opening|flap|mouse ?hole)|(?:port|hole|hatch|opening|flap) (?:for|of) the (?:shore )?(?:cord|cable|lead)", "cord port", cord.port_place, "route-cord-and-lock-bay"),
        (r"(?:(?:plug|cord|shore|power|shore power|dog ?bone) )?adapt[eo]rs?|dog ?bone", "plug adapter", cord.adapter_place, "connect-shore-power"),
        (r"(?:that |if |whether )?(?:the )?(?:shore )?power(?: is|'s) (?:on|in|live|here|connected)(?: inside)?", "power is confirmed at", shore.confirm_place, "connect-shore-power"),
        (r"(?:house|leisure|cabin|coach) (?:batter(?:y|ies)(?: bank)?|bank)|battery bank", "house battery", bank.place, "house-battery-low"),
        (r"(?:house |battery |house battery )?charger", "battery charger", bank.charger_place, "house-battery-low"),
    )  # fmt: skip
    for words, label, place, topic in rows:
        yield _at(coach, words, label, place, topic)
    if coach.generator is not None:
        name, topic = r"(?:generator|genset|gen ?set)", "look-after-generator"
        yield _at(coach, rf"{name}(?: module)?", "generator", coach.generator.place, topic)
        words = rf"{name}(?:'s)? (?:air )?(?:screens?|grilles?|intake)|(?:screens?|grille) (?:of|on|for) the {name}"
        yield _at(coach, words, "generator screens", coach.generator.screen_place, topic)


def _of_body(coach: Coach) -> Iterator[Thing]:
    cabin, diesel = coach.cabin, coach.diesel
    yield _at(coach, "thermostat", "thermostat", cabin.thermostat_place, "keep-cabin-warm")
    yield _at(coach, r"(?:co|carbon monoxide|monoxide) (?:alarm|detector|sensor)", "CO alarm", cabin.co_alarm_place, "keep-cabin-warm")  # fmt: skip
    yield Thing(r"(?:emergency )?exits|emergency exit|ways out", "exits", cabin.exits, "brief-passengers")
    yield _at(coach, r"(?:diesel|fuel)(?: tank)? (?:fill(?:er)?|cap|inlet|door|flap|neck)(?: (?:cap|door|flap|neck))?", "diesel fill", diesel.fill_place, "")  # fmt: skip
    yield _at(coach, r"(?:engine )?block heater(?:'s)?(?: (?:plug|socket|cord|outlet|lead))?", "block heater plug", diesel.block_heater_place, "cold-start")  # fmt: skip
    lay = {SWITCH_NAMES[key]: (words, _SWITCH_TOPICS.get(key, "outside-lights")) for key, words in _SWITCHES.items()}
    for switch in coach.switches:
        words, topic = lay.get(switch.name, (re.escape(plain(switch.name)), ""))
        words = rf"(?:{words})(?:'s)? switch(?:es)?|switch(?:es)? (?:for|of) (?:the|those|these|our) (?:{words})"
        yield _at(coach, words, f"{switch.name} switch", switch.place, topic)


def named(said: str, coach: Coach) -> tuple[Thing, ...] | None:
    """The things that these words list; None where a word names none of them."""
    every = [(thing, Lazy(rf"(?:{thing.words})(?= |$)")) for thing in things(coach)]
    found: list[Thing] = []
    rest = said.strip()
    while rest:
        lengths = [(match.end(), thing) for thing, words in every if (match := words.match(rest)) is not None]
        if lengths:
            longest = max(length for length, _ in lengths)
            found += [thing for length, thing in lengths if length == longest and thing not in found]
            rest = rest[longest:].strip()
            continue
        beside = _BESIDE.match(rest)
        if beside is None:
            return None
        rest = rest[beside.end() :].strip()
    return tuple(found) or None
