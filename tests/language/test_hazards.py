"""Signs of hazards, and what only sounds like one."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cabassist.language.hazards import HazardScreen
from cabassist.procedures import yamlfile
from cabassist.procedures.library import Knowledge

REPORTS = [
    ("the socket behind the bunk is spitting sparks", "smoke-or-fire"),
    ("the tape by the sewage tank is spitting sparks", "smoke-or-fire"),
    ("sparks are flying out of the breaker panel", "smoke-or-fire"),
    ("something is sizzling behind the galley wall", "smoke-or-fire"),
    ("the paint on the furnace panel is bubbling", "smoke-or-fire"),
    ("the wall round the heater is charred and too hot to touch", "smoke-or-fire"),
    ("the carpet is charring next to the furnace", "smoke-or-fire"),
    ("it smells of hot plastic near the inverter", "smoke-or-fire"),
    ("smell of burning rubber from the back left", "smoke-or-fire"),
    ("there's a smell like burning hair by the outlet", "smoke-or-fire"),
    ("the plug has melted into the socket and it's still hot", "smoke-or-fire"),
    ("orange glow under the engine lid", "smoke-or-fire"),
    ("flames out of the toaster", "smoke-or-fire"),
    ("the hub is glowing red", "smoke-or-fire"),
    ("the whole row in the back is nauseous", "carbon-monoxide-alarm"),
    ("a group of players woke up with headaches", "carbon-monoxide-alarm"),
    ("two girls fainted in the bunks", "carbon-monoxide-alarm"),
    ("I can hardly wake the boys in the back", "carbon-monoxide-alarm"),
    ("he's hard to wake and the furnace has been running all night", "carbon-monoxide-alarm"),
    ("the detector gives four chirps, a pause, four chirps", "carbon-monoxide-alarm"),
    ("that CO thing beeps four times over and over", "carbon-monoxide-alarm"),
    ("half the team is throwing up since the heater came on", "carbon-monoxide-alarm"),
    ("three of them passed out by the galley", "carbon-monoxide-alarm"),
    ("kids in the rear bunks are all groggy and sick", "carbon-monoxide-alarm"),
    ("there is a hissing sound somewhere behind the outside bottles", "propane-smell"),
    ("I hear hissing near one of the two cylinders", "propane-smell"),
    ("the bottle we just changed is hissing at the nut", "propane-smell"),
    ("the joint by the regulator is blowing bubbles", "propane-smell"),
    ("the bay handle kicked him with electricity", "shock-from-coach-body"),
    ("it's bubbling at the fitting", "propane-smell"),
    ("the soap foams up round the pigtail", "propane-smell"),
    ("it reeks of gas in here", "propane-smell"),
    ("no longer smells as strong of gas but still a bit", "propane-smell"),
    ("skunky smell by the propane locker", "propane-smell"),
    ("the propane detector is beeping", "propane-smell"),
    ("I get a tingle when I grab the door handle", "shock-from-coach-body"),
    ("the steps tingle under my wet boots", "shock-from-coach-body"),
    ("my fingers tingle on the bay latch", "shock-from-coach-body"),
    ("the metal bites when you touch it", "shock-from-coach-body"),
    ("one of the players got zapped climbing on", "shock-from-coach-body"),
    ("raw sewage is all over the ground by the valve", "clean-up-waste-spill"),
    ("there's raw sewage on the floor of bay six", "clean-up-waste-spill"),
    ("toilet water running across the floor", "clean-up-waste-spill"),
    ("the black tank backed up onto the bathroom floor", "clean-up-waste-spill"),
    ("the dump hose popped off and there's muck everywhere", "clean-up-waste-spill"),
    ("sewage seeping out onto the snow under the coach", "clean-up-waste-spill"),
    ("poop dripping down the side of the coach", "clean-up-waste-spill"),
    ("there are sparks coming from under the dash", "smoke-or-fire"),
    ("no sparks but the outlet is smoking", "smoke-or-fire"),
    ("nothing is burning but it smells of burnt plastic", "smoke-or-fire"),
    ("nobody can wake him", "carbon-monoxide-alarm"),
    ("no headaches but the co alarm is going off", "carbon-monoxide-alarm"),
    ("the waste is running out of the cap onto the ground", "clean-up-waste-spill"),
    ("no sewage smell, just muck all over the floor from the toilet", "clean-up-waste-spill"),
]
HARMLESS = [
    "the pilot lamp on the heat tape glows at the back of the bay",
    "a glow from the heat tape lamp in the rear bay, is that the on light",
    "the heat tape light glows orange in bay six",
    "no headaches, everybody's happy and warm",
    "nobody has a headache and the alarm is quiet",
    "everyone is fine, no dizziness, just checking",
    "no sign of smoke or fire, just cold",
    "nothing is burning, the oven is just warm",
    "nobody's sick, they're just tired",
    "no hissing at the cylinders after the swap",
    "there are no bubbles on the joint",
    "do I look for bubbles at the fitting",
    "should it bubble at the joint",
    "no leak and no hiss at the bottles, what next",
    "I smell no gas, what's next",
    "air brakes hiss when I park, is that normal",
    "the entry door cylinder hisses air when it closes",
    "the air suspension hisses when it levels",
    "spark plugs on the small engine",
    "how do I clean battery terminals without a spark",
    "bubbles in the soap test, none at the nut",
    "the paint is bubbling with rust on the lower panel",
    "bubbling noise in the toilet when it flushes",
    "char on the barbecue grill, how do I clean it",
    "sizzling steaks for the team tonight",
    "hot water smells of plastic from the new hose",
    "the new hose smells of plastic",
    "my foot tingles from sitting too long",
    "the horn chirps when I lock it",
    "the smoke alarm chirps once a minute",
    "one chirp a minute from the CO alarm",
    "the detector test gives four beeps when I press the button, ok?",
    "which alarm gives four beeps",
    "no tingle at the handle, plugged in fine",
    "no shock at the door after we moved the plug",
    "waste tank is full, where's the next station",
    "the sewage tank is at half",
    "rinse the dump hose without dripping",
    "no sewage on the ground, cap is on",
    "fresh water is running across the floor",
    "water all over the bathroom floor from the shower",
    "fire up the generator",
    "light the furnace pilot flame",
    "headlights glow dim at the back",
    "brake lights glow at the rear all the time",
    "can I set a wake-up alarm for six",
    "how do I wake the co-driver at five",
    "the girls are hard to please",
    "the schedule is one big headache",
    "parking here is a headache",
    "burn marks on the table, note it",
    "melted snow on the floor by the door",
    "plug glows green",
    "she's smoking outside",
    "running water on the floor of the washroom",
    "the goalie is on fire tonight",
    "prices by the bay are shocking",
    "hiss from the air ride when I park",
]


@pytest.fixture(scope="module")
def screen(knowledge_folder: Path) -> HazardScreen:
    signs = yamlfile.load(knowledge_folder / "hazard-signs.yaml").data
    return HazardScreen(signs["signs"], signs["words"])


@pytest.mark.parametrize(
    ("text", "topic"),
    [
        ("it smells like rotten eggs by the bunks", "propane-smell"),
        ("I can hear propane hissing at the regulator", "propane-smell"),
        ("the CO alarm went off", "carbon-monoxide-alarm"),
        ("grey smoke is curling out of the vent", "smoke-or-fire"),
        ("someone saw smoke in the bunks", "smoke-or-fire"),
        ("the LP detector is going off", "propane-smell"),
        ("the door skin bites", "shock-from-coach-body"),
        ("he has a headache and the heater is on", "carbon-monoxide-alarm"),
        ("everyone in the back has a headache", "carbon-monoxide-alarm"),
        ("there's smoke coming from the panel", "smoke-or-fire"),
        ("the left brake is smoking", "smoke-or-fire"),
        ("he got a zap off the bay door", "shock-from-coach-body"),
        ("the coach tingles when I touch it", "shock-from-coach-body"),
        ("sewage spilled on the pavement", "clean-up-waste-spill"),
        ("black water all over my boots", "clean-up-waste-spill"),
    ],
)
def test_a_report_is_found(screen: HazardScreen, text: str, topic: str):
    """By its signs alone, without the matcher."""
    assert screen.find(text) == topic


@pytest.mark.parametrize(
    "text",
    [
        "how do I test the CO alarm",
        "the smoke detector chirps, which battery does it take",
        "where is the fire extinguisher",
        "who is our co driver tonight",
        "the rear shock absorbers are worn",
        "how do I avoid spilling waste on my boots",
        "how do I do the soap test for a leak",
        "is there a gas station that smells less",
        "firing up the furnace for the night",
        "I don't smell any propane",
    ],
)
def test_a_harmless_word_raises_no_alarm(screen: HazardScreen, text: str):
    """Words alone are no hazard."""
    assert screen.find(text) is None


@pytest.mark.parametrize(("text", "topic"), REPORTS)
def test_an_indirect_report_is_found(screen: HazardScreen, text: str, topic: str):
    """What is seen, heard or felt, beside what is denied; the more urgent hazard when two could be meant."""
    assert screen.find(text) == topic


@pytest.mark.parametrize("text", HARMLESS)
def test_a_denial_or_a_lamp_raises_no_alarm(screen: HazardScreen, text: str):
    """Nor does anything else that only shares its words with a hazard."""
    assert screen.find(text) is None


def test_no_report_is_missed_for_want_of_a_cue(screen: HazardScreen, knowledge_folder: Path, knowledge: Knowledge):
    """The cues only save work."""
    body = yamlfile.load(knowledge_folder / "hazard-signs.yaml").data
    thorough = HazardScreen(
        {topic: {kind: rows for kind, rows in sign.items() if kind != "cues"} for topic, sign in body["signs"].items()},
        body["words"],
    )
    texts = [phrase.text for phrase in knowledge.phrases if phrase.label in knowledge.hazards]

    assert len(texts) > 1000
    assert [text for text in texts if screen.find(text) != thorough.find(text)] == []
    assert [text for text, _ in REPORTS if thorough.find(text) != screen.find(text)] == []


def test_a_pattern_is_compiled_when_a_cue_asks_for_it_and_proved_on_demand():
    """A wrong pattern is found when the knowledge is compiled, not in the middle of a conversation."""
    screen = HazardScreen({"smoke-or-fire": {"cues": ["smok"], "reports": ["("]}}, {})

    assert screen.find("how do I dump the tank") is None
    with pytest.raises(re.error):
        screen.prove()
    with pytest.raises(KeyError):
        HazardScreen({"smoke-or-fire": {"reports": ["<nothing>"]}}, {}).prove()
