"""Questions about cylinders: pounds and gallons, boiling off in the cold, the date stamped on them."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import Literal

from cabassist.estimate.quantities import figure, shown
from cabassist.estimate.types import Estimate
from cabassist.sums.working_propane import (
    ROLE_WORDS,
    burners_said,
    content,
    is_pounder,
    propane_said,
    share_of,
    weighed,
)
from cabassist.sums.working_sheet import Missing, Sheet, quantity, with_verdict


def propane_weight_said(s: Sheet) -> None:
    """Inputs of "how many gallons is thirty pounds"."""
    q = s.q
    propane_said(s, [])
    if not s.fresh:
        bare = q.one(r"({n})")
        if bare is not None and bare.value > 1:
            s.say("gross" if q.has(r"\b(?:weighs?|scales?)\b") else "pounds", bare, "lb")
    if q.has(r"\bhow full\b|\bpercent full\b|\bwhat percent\b"):
        s.note("ask", "percent")
    elif q.has(r"\bweigh when full\b|\b(?:should|does) a full\b.*\b(?:be|weigh)\b"):
        s.note("ask", "full weight")
    elif q.has(r"\b(?:to fill|to top|fill it|fill them|top (?:it|them) (?:up|off)|buy)\b"):
        s.note("ask", "fill")
    elif q.has(r"\bmore than\b|\bshould hold\b|\btoo much\b|\boverfill"):
        s.note("ask", "hold")


def propane_weight(s: Sheet) -> Estimate:
    """Pounds, gallons and BTU of an amount of propane."""
    from cabassist.estimate import propane

    if s.has("water_capacity"):
        from cabassist.estimate import cylinders

        return cylinders.fill_from_water_capacity(s.amount("water_capacity"))
    if s.text("ask") == "full weight":
        cylinder = s.coach.propane.cylinders[0]
        size = s.number("size", "lb") if s.has("size") else cylinder.nominal_lb
        tare = s.number("tare", "lb") if s.has("tare") else cylinder.tare_lb
        s.assumed.append(f"tare {shown(tare)} lb (profile); the TW stamp counts")
        line = f"{shown(tare)} lb tare + {shown(size)} lb of propane = {shown(tare + size)} lb"
        return Estimate(
            "full cylinder weighs",
            tare + size,
            "lb",
            tare + size,
            tare + size,
            (line,),
            ("the name of a cylinder is its legal fill",),
            "TW stamp plus legal fill",
        )
    if s.has("gross"):
        found = weighed(s)
        if s.text("unit") == "percent" or s.text("ask") == "percent":
            from cabassist.sums.working_sheet import in_unit

            return in_unit(found, "percent")
        return found
    amount, _, line = content(s)
    pounds = (
        float(amount.to("lb").magnitude)
        if amount.check("[mass]")
        else float(amount.to("gallon").magnitude) * propane.LB_PER_GAL
    )
    gallons = pounds / propane.LB_PER_GAL
    heat = propane.energy(amount)
    by_volume = not amount.check("[mass]")
    working = (
        *((line,) if line else ()),
        f"{shown(gallons)} gal x {propane.LB_PER_GAL} lb/gal = {shown(pounds)} lb"
        if by_volume
        else f"{shown(pounds)} lb ÷ {propane.LB_PER_GAL} lb/gal = {shown(gallons)} gal",
        *heat.working[-1:],
    )
    both = (figure("gallons", gallons, "gal"), figure("pounds", pounds, "lb"), figure("heat", heat.value or 0.0, "BTU"))
    wants = s.text("unit") or ("lb" if by_volume or line else "gal")
    first = both[1] if wants in ("lb", "kg", "ton") else both[2] if wants == "BTU" else both[0]
    others = tuple(f for f in both if f is not first)
    found = Estimate(
        "propane",
        first.value,
        first.unit,
        first.value,
        first.value,
        working,
        ("liquid at 60 °F; colder is a little heavier",),
        propane.WEIGHT_SOURCE,
        "",
        others,
    )
    if s.text("ask") == "fill" and s.has("cylinders"):
        return _to_fill(s, wants)
    if s.text("ask") == "hold":
        size = s.number("size", "lb") if s.has("size") else s.coach.propane.cylinders[0].nominal_lb
        over = pounds > size * 1.005
        found = with_verdict(
            found,
            f"{'Yes' if over else 'No'}: a {shown(size)} lb cylinder holds {shown(size / propane.LB_PER_GAL)} gallons, {shown(size)} pounds.",
        )
    return found


def _to_fill(s: Sheet, wants: str) -> Estimate:
    """What still fits into cylinders that are at a level."""
    from cabassist.estimate import propane

    size = s.number("size", "lb") if s.has("size") else s.coach.propane.cylinders[0].nominal_lb
    many = 2.0 if s.q.has(r"\b(?:both|two)\b") or any(a.value == 2 for a in s.q.of("cylinder")) else 1.0
    left = s.number("cylinders") if s.number("cylinders") <= many else many
    pounds = (many - left) * size
    gallons = pounds / propane.LB_PER_GAL
    working = (
        f"({shown(many)} - {shown(left)}) x {shown(size)} lb = {shown(pounds)} lb",
        f"{shown(pounds)} lb ÷ {propane.LB_PER_GAL} lb/gal = {shown(gallons)} gal",
    )
    by_weight = wants not in ("gal", "L")
    value, unit = (pounds, "lb") if by_weight else (gallons, "gal")
    other = figure("gallons", gallons, "gal") if by_weight else figure("pounds", pounds, "lb")
    return Estimate(
        "to a legal fill",
        value,
        unit,
        value,
        value,
        working,
        ("the name of a cylinder is its legal fill; the filler's scale decides",),
        propane.WEIGHT_SOURCE,
        "",
        (other,),
    )


def vaporization_said(s: Sheet) -> None:
    """Inputs of "can one bottle feed both furnaces"."""
    q = s.q
    used = burners_said(s)
    temp = q.one(r"({temp})", r"\bat ({n})\b(?! ?percent)", r"\b(?:degrees|cold) ({n})\b")
    if temp is not None and temp not in used:
        s.say("outside", temp, q.scale)
        used.append(temp)
    if q.has(r"\b(?:how much|how many btus?|max|rate|capacity|what can)\b") and not q.has(r"\bfeed\b"):
        s.note("ask", "rate")
    count = q.one(r"({cylinder})")
    if count is not None:
        s.note("bottles", count.value)
        used.append(count)
    elif q.has(
        r"\b(?:both (?:valves|bottles|cylinders)|two (?:half|full|bottles|cylinders))\b|<n> (?:<part>|half|full) (?:bottles|cylinders)"
    ):
        s.note("bottles", 2.0)
    share = q.one(r"({part}) (?:full|in the|left|a cylinder|a bottle)?", r"({percent})")
    sizes = q.every(r"({lb|kg}) (?:propane |steel |gas )?(?:bottle|cylinder|pounder|tank)s?\b") + [
        a for a in q.of("lb") if is_pounder(q, a)
    ]
    if sizes:
        s.say("size", sizes[0])
        used += sizes
    pounds = next((a for a in q.of("lb") if a not in used), None)
    if pounds is not None:
        s.drop("share")
        s.say("left", pounds)
    elif share is not None and share not in used:
        s.drop("left")
        s.note("share", share.value / (100 if share.unit == "percent" else 1))
    elif q.has(r"\bfull\b"):
        s.note("share", 1.0)


def vaporization(s: Sheet) -> Estimate:
    """Whether, and how fast, the cylinders boil off."""
    from cabassist.estimate import boil_off

    if s.q.has(r"\btoo cold\b") and s.has("outside"):
        return boil_off.vapor_pressure(s.amount("outside"))
    if s.has("input") and s.q.has(r"\bhow cold\b|\bwhat temp\w*\b") and not s.has("outside"):
        return _coldest_feeding(s)
    if s.q.has(r"\b(?:what temp\w*|how cold|too cold|quit|stop)\b") and not s.has("outside"):
        return boil_off.vapor_pressure(quantity(boil_off.BOILING_F - 1, "F"))
    s.outside("How cold is it at the cylinders?")
    if s.number("outside", "F") < boil_off.BOILING_F:
        return boil_off.vapor_pressure(s.amount("outside"))
    size = s.number("size", "lb") if s.has("size") else s.coach.propane.cylinders[0].nominal_lb
    if not s.has("size"):
        s.assumed.append(f"{shown(size)} lb cylinder (profile)")
    if s.has("left"):
        left = s.number("left", "lb")
    elif s.has("share"):
        left = s.number("share") * size
    else:
        share = share_of(s, "outside")
        if share is None:
            raise Missing("share", "How full is the cylinder?", "percent")
        left = share * size
    nominal = quantity(size, "lb")
    bottles = max(1, round(s.number("bottles"))) if s.has("bottles") else 1
    if s.text("ask") == "rate" and not s.has("input") and not s.has("furnaces"):
        return boil_off.vaporization(quantity(left, "lb"), s.amount("outside"), nominal=nominal)
    if s.has("input"):
        demand = s.number("input") * (s.number("furnaces") if s.has("furnaces") else 1)
    else:
        plates = [f.input_btu_per_h for f in s.coach.furnaces]
        count = min(len(plates), round(s.number("furnaces"))) if s.has("furnaces") else len(plates)
        demand = sum(plates[:count])
        s.assumed.append(f"{count} furnace{'s' if count != 1 else ''}, {shown(demand)} BTU/h together (profile)")
    return boil_off.can_feed(
        quantity(demand, "BTU/h"), s.amount("outside"), [quantity(left, "lb")] * bottles, nominal=nominal
    )


def _coldest_feeding(s: Sheet) -> Estimate:
    """The coldest air of the table in which a cylinder still feeds what burns."""
    from cabassist.estimate import boil_off

    size = s.number("size", "lb") if s.has("size") else s.coach.propane.cylinders[0].nominal_lb
    share = s.number("share") if s.has("share") else 1.0
    s.assumed.append(f"{shown(size)} lb cylinder, {shown(100 * share, 3)} % full")
    demand = s.number("input")
    for air in range(boil_off.BOIL_OFF_AIR_F[0], boil_off.BOIL_OFF_AIR_F[-1] + 1):
        found = boil_off.vaporization(
            quantity(share * size, "lb"), quantity(float(air), "F"), nominal=quantity(size, "lb")
        )
        if found.value is not None and found.value >= demand:
            verdict = (
                "It still feeds that at 0 °F; the table ends there."
                if air == 0
                else f"Below about {air} °F one cylinder cannot feed it all the time."
            )
            return replace(
                found,
                name="coldest it feeds that in",
                value=None if air == 0 else float(air),
                unit="F",
                low=None if air == 0 else float(air),
                high=None if air == 0 else float(air),
                verdict=verdict,
                also=(),
            )
    return Estimate(
        "coldest it feeds that in",
        None,
        "F",
        None,
        None,
        (),
        (),
        boil_off.BOIL_OFF_SOURCE,
        "Not even at 70 °F can one cylinder feed that all the time.",
    )


_MONTHS = "january february march april may june july august september october november december".split()


_DATE = (
    re.compile(
        r"\b(?P<name>jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec)(?:uary|ruary|ch|il|e|y|ust|tember|ober|ember)?\b\.?(?: of)?(?: \d{1,2}(?:st|nd|rd|th)?(?=,? ?(?:of )?\d{4}))?,? ?'?(?P<year>\d{4}|\d{2})\b"
    ),
    re.compile(
        r"\b(?P<month>0?[1-9]|1[0-2]) ?[-/. ] ?(?P<year>(?:19|20)\d{2}|\d{2})(?:\b|(?=[es]\b))(?! ?(?:percent|pounds|gallons))"
    ),
    re.compile(r"\b(?P<year>(?:19|20)\d{2})\b"),
)


_WEIGHT_STAMP = re.compile(
    r"\b(?:tw|wc|tare(?: weight)?|water capacity|scales?)\b(?: (?:is|of|says|reads|stamped|stamp|marked|shows))*[:= ]* \d+(?:\.\d+)?"
)
"""What is stamped, or read, beside the months is no month: "TW 10.25"."""
_TEENS = "ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen"
_STAMPED = re.compile(
    rf"\b(?<!past )(?:oh |o |zero )?(?P<month>one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)(?: dash| slash|-)? (?P<year>(?:{_TEENS}|twenty(?:[ -](?:one|two|three|four|five|six))?|(?:oh|o|zero) (?:six|seven|eight|nine)))\b(?! (?:pounds?|lb|gallons?|percent|amps?|volts?|hours?|degrees|btu|hundred|thousand|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen))"
)
"""A stamp read out: "oh six eighteen", "eleven twenty one"."""


_DAYS = {
    word: place
    for place, word in enumerate(
        "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth twentieth".split(),
        1,
    )
} | {f"twenty{gap}{word}": 20 + place for gap in " -" for place, word in enumerate("first second third fourth fifth sixth seventh eighth ninth".split(), 1)} | {"thirtieth": 30, **{f"thirty{gap}first": 31 for gap in " -"}}  # fmt: skip
_NAMED = rf"(?P<name>{'|'.join(_MONTHS)})"
_DAY = rf"(?P<day>{'|'.join(sorted(_DAYS, key=len, reverse=True))})"
_DAY_SAID = re.compile(rf"\b{_NAMED} (?:the )?{_DAY},? (?:of )?(?P<year>(?:19|20)\d{{2}})\b")
_DAY_FIRST = re.compile(rf"\b(?:the )?{_DAY} (?:of )?{_NAMED},? (?P<year>(?:19|20)\d{{2}})\b")
""" "December first 2026", "the first of december 2026"."""
_YEAR_SAID = re.compile(
    rf"\b{_NAMED}(?: of)? (?P<year>{_TEENS}|twenty(?:[ -](?:one|two|three|four|five|six))?|(?:oh|o|zero) (?:six|seven|eight|nine))\b(?! (?:people|of us|guys|players|pounds?|lb|gallons?|percent|amps?|volts?|hours?|degrees|btu|hundred|thousand|(?:19|20)\d\d))"
)
""" "March nineteen" is a month with its year."""


def dates_in(text: str) -> list[tuple[int, date]]:
    """Months and years as stamped or said, with their place: "03-16", "March 2013", "2014", "twenty fourteen"."""
    lowered = spoken_stamps(_WEIGHT_STAMP.sub(lambda stamp: "#" * len(stamp[0]), text.lower()))
    found: list[tuple[int, date]] = []
    taken: list[tuple[int, int]] = []
    for pattern in _DATE:
        for match in pattern.finditer(lowered):
            if any(match.start() < end and start < match.end() for start, end in taken):
                continue
            groups = match.groupdict()
            year = int(groups["year"])
            year += (2000 if year < 70 else 1900) if year < 100 else 0
            month = int(groups["month"]) if groups.get("month") else 0
            if groups.get("name"):
                month = next(i for i, m in enumerate(_MONTHS, 1) if m.startswith(groups["name"][:3]))
            taken.append(match.span())
            found.append((match.start(), date(year, month or 1, 1)))
    return sorted(found)


def spoken_stamps(text: str) -> str:
    """Years and stamps read out, in figures: "twenty thirteen" as 2013, "oh six eighteen" as 6-18."""
    from cabassist.language.numbers import parse_number

    def stamp(match: re.Match[str]) -> str:
        month, two = parse_number(match["month"]), parse_number(match["year"])
        return f"{int(month)}-{int(two):02d}" if month and two and 1 <= month <= 12 and 5 <= two < 60 else match[0]

    def year(match: re.Match[str]) -> str:
        value = parse_number(match[2])
        return str(2000 + int(value)) if value is not None and 0 < value < 60 else match[0]

    text = _STAMPED.sub(stamp, text)
    text = re.sub(
        r"\b(twenty(?![ -](?:one|two|three|four|five|six|seven|eight|nine)\b)|two thousand(?: and)?)[ -]((?:ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty(?: \w+)?|one|two|three|four|five|six|seven|eight|nine|oh \w+))\b",
        year,
        text,
    )
    text = _DAY_FIRST.sub(lambda m: f"{m['name']} {_DAYS[m['day']]} {m['year']}", text)
    text = _DAY_SAID.sub(lambda m: f"{m['name']} {_DAYS[m['day']]} {m['year']}", text)
    return _YEAR_SAID.sub(lambda m: f"{m['name']} {int(parse_number(m['year']) or 0):02d}", text)


def requalification_said(s: Sheet) -> None:
    """Inputs of "when is the cylinder due"."""
    text = s.q.text.lower()
    dates = dates_in(text)
    requalified = re.search(
        r"\b(?:re ?-?qualified|requal\w*|re ?-?tested|recertified|last (?:tested|checked|done|requalified)|with an? ['\"]?[es]\b|\d\d ?[es]\b|visual|letter [es]|[es] mark|mark [es]|proof)",
        text,
    )
    if (
        len(dates) == 2
        and not requalified
        and re.search(
            r"\b(?:legal|ok|okay|good|fill\w*|still|due|now|today|on|by)\b[^,.?]*$", text[dates[0][0] + 5 : dates[1][0]]
        )
    ):
        s.note("asked", dates[1][1].isoformat())
        dates = dates[:1]
    if len(dates) > 1:
        s.note("made", dates[0][1].isoformat())
        s.note("last", dates[1][1].isoformat())
    elif dates and s.follows and s.has("mark") and not s.has("made"):
        s.note("last", dates[0][1].isoformat())  # the date that was asked back for the letter
    elif (
        dates
        and requalified
        and not re.search(
            r"\b(?:made|manufactured|new|born|stamped new)\b(?!.*\brequalified\b)(?!.*\b(?:with an? e|visual)\b)", text
        )
    ):
        s.note("last", dates[0][1].isoformat())
    elif dates:
        s.drop("last", "mark", "role")
        s.note("made", dates[0][1].isoformat())
    mark = (
        "E"
        if re.search(r"\b(?:visual|with an? ['\"]?e\b|letter e|an e\b|\d\d? ?e\b|mark e|e mark)", text)
        else "S"
        if re.search(r"\bproof|with an? ['\"]?s\b|letter s\b|\d\d? ?s\b|\bs mark|mark s\b", text)
        else ""
    )
    if mark:
        s.note("mark", mark)
    elif "last" in s.fresh and not (s.follows and s.has("mark")):
        s.note("mark", "")
    for role, names in ROLE_WORDS.items():
        if re.search(rf"\b(?:{names})\b", text) and not dates:
            s.note("role", role)
    old = s.q.one(r"({year}) old", r"({n}) year old")
    if old is not None and not dates:
        s.note("made", date(s.now.year - int(old.value), s.now.month, 1).isoformat())
    if (
        re.search(r"\bhow many years\b|\bten or twelve\b|\bhow long (?:do|are|is)\b", text)
        and not dates
        and old is None
    ):
        s.note("ask", "rule")


def requalification(s: Sheet) -> Estimate:
    """When a cylinder is due."""
    from cabassist.estimate import cylinders
    from cabassist.sums.told_stamp import undated

    weighed = [one for one in s.q.amounts if one.unit in ("lb", "kg") and not one.per]
    if len(weighed) > 1 and not (s.has("made") or s.has("last")):
        raise ValueError("I hear weights and no date. Say what is on the scale, the tare, and what you want to know.")
    on = date.fromisoformat(s.text("asked")) if s.has("asked") else s.now.date()
    if s.has("made") or s.has("last"):
        made = date.fromisoformat(s.text("made")) if s.has("made") else date.fromisoformat(s.text("last"))
        last = date.fromisoformat(s.text("last")) if s.has("last") else None
        mark: Literal["", "E", "S"] = "E" if s.text("mark") == "E" else "S" if s.text("mark") == "S" else ""
        return cylinders.requalification(made, on, last=last, mark=mark)
    if s.text("ask") == "rule" and not s.has("role"):
        line = "first time 12 years after manufacture; 5 years after an external visual (E)"
        return Estimate(
            "years to the first requalification",
            12.0,
            "years",
            12.0,
            12.0,
            (line,),
            ("a 4-series cylinder in clean gas; the law may have changed since",),
            cylinders.REQUALIFY_SOURCE,
            "12 years after the month of manufacture the first time; 5 years after an external visual with an E.",
        )
    role = s.text("role")
    if not role and (asked := undated(s.q)):
        raise Missing("last", asked, "date")
    found: list[tuple[Estimate, str]] = []
    for cylinder in s.coach.propane.cylinders:
        if role and cylinder.role != role:
            continue
        one = cylinders.requalification(cylinder.made, on, last=cylinder.requalified, mark=cylinder.requalified_mark)
        found.append((one, cylinder.role))
    if not found:
        raise Missing("made", "What month and year is stamped on it?", "date")
    first, name = min(found, key=lambda pair: pair[0].value if pair[0].value is not None else 1e9)
    s.assumed.append("stamps as in the profile")
    others = tuple(
        figure(f"{n}: months left", e.value, "months") for e, n in found if e.value is not None and n != name
    )
    return replace(with_verdict(first, f"{name.capitalize()} cylinder:"), also=(*first.also, *others))
