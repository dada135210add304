"""Questions told as a story: people, scores and roads beside the numbers that count, and text without marks.

Expected values are worked out by hand from the rule or formula named in the comment above them.
"""

from __future__ import annotations

import pytest

from cabassist.dialogue.turn import take_turn
from cabassist.dialogue.types import Mind, Reply, State
from tests.dialogue.conversation import NOON


def said(mind: Mind, text: str) -> Reply:
    return take_turn(State(), text, mind=mind, now=NOON).reply


NUMBERS = (
    # Distance ÷ speed + stops, and the time zones of the United States: arithmetic.
    ("if we pull out at quarter to seven and average fifty over three hundred and five miles with forty minutes for lunch, when do we get to the hotel", 6.1 + 40 / 60, "h", "13:31"),
    ("left at six two hundred forty miles at fifty five two stops of twenty when do we get there", 240 / 55 + 40 / 60, "h", "11:02"),
    ("Doors open at 18:00 and I want to be there an hour before. 240 miles, average 48. When's the latest I can roll?", 5, "h", "12:00"),
    ("We left Mountain time at 6:15 am, 540 miles at 60, two 20 minute stops. It's Central there. Local arrival time?", 9 + 40 / 60, "h", "16:55"),
    ("flight lands 3:40 pm, airport's 65 miles away, 40 mph in this, and I want 20 minutes cushion. When do I leave?", 65 / 40, "h", "13:42"),
    ("what average speed do i need for 285 miles between 9:15 and 2:45 with a 30 minute fuel stop", 57, "mph", ""),
    ("got 3 and a quarter hours till face off at seven, 170 miles left, doing 55, do we make it", 170 / 55, "h", "Yes"),
    ("6 pm pacific is what time eastern", 3, "h", "21:00"),
    ("off at ten to seven this evening two hundred and sixty miles at fifty two an hour and two fifteen minute stops what time do we get in", 5.5, "h", "00:20"),
    ("hotel at 0800 two hundred and seventy miles avg fifty four thirty minutes of stops when do we have to roll out", 5.5, "h", "02:30"),
    ("leaving at half past eight tonight a hundred and eighty miles at forty five with one fifty minute stop when are we there", 4 + 50 / 60, "h", "01:20"),
    ("six hour drive, off at ten past nine tonight with thirty minutes of stops, when do we land", 6.5, "h", "03:40"),
    ("face off at seven, i want to be there at 5:30, 3 hours 10 of driving plus 20 min of stops, leave when", 3.5, "h", "14:00"),
    # 49 CFR 395.5: ten hours for each of two drivers, and no driving after fifteen on duty.
    ("two of us, i've driven three and a half and my partner's driven six, how much driving is left between us", 10.5, "h", ""),
    ("both rested. one's driven 4 h, the other 1.5 h. combined driving hours left?", 14.5, "h", ""),
    ("me five hours at the wheel, co-driver fresh, how many hours can the two of us still drive", 15, "h", ""),
    ("i drove four hours and i'm on duty thirteen, she drove two, how many hours driving between us", 10, "h", ""),
    ("driven 9 on duty 11 can i do another 2 hours", 1, "h", "No"),
    ("drove nine and a half, 40 miles to go at 50, legal?", 0.8, "h", "No, not enough"),
    ("partner drove three hours forty and i drove five twenty whats left between us driving", 11, "h", ""),
    ("he's fresh and i have three hours of driving left how many hours together", 13, "h", ""),
    ("I've done 6 h, he's done 3 h, can the two of us drive 560 miles at 56 together legally?", 11, "h", "Yes: 10 h needed"),
    # 49 CFR 395.5 and 395.1(b)(1): ten hours of driving, fifteen on duty, two more in weather nobody could know of.
    ("Woke up at 5, on duty 6:15 after ten hours off. Drove 4h30 to the arena, sat in the hotel four hours off duty, now it's 4 pm and there's 180 miles home at 60. How many hours of driving do I have left?", 5.5, "h", ""),
    ("drove 6 hours, on duty 9, 190 miles to go at 55, can I make it legally", 190 / 55, "h", "Yes, enough"),
    ("i signed on at five fifteen this morning and i've had three hours off at the rink when does my fifteen run out", 18, "h", "23:15"),
    ("shut down at 10:40 last night, when's the earliest i can drive again", 8, "h", "06:40"),
    ("If I go off at midnight can I be driving at 7", 1, "h", "No, not rested"),
    # 49 CFR 395.1(g)(3): at least eight hours in two periods, neither under two.
    ("four and a half in the berth and three and three quarters later, does the split count", 8.25, "h", "Yes"),
    # Peukert's law in its rated form, 20 h x (Ah ÷ (20 h x A))^exponent (electrotechnik.net).
    ("a three hundred and sixty amp hour bank, peukert one point two five, twenty hour rate, steady forty five amps, hours to flat", 20 * (360 / 900) ** 1.25, "h", ""),
    ("exponent 1.1 and 24 A off 150 Ah (C20), how long till it's empty", 20 * (150 / 480) ** 1.1, "h", ""),
    ("drawing thirty amps off a bank of two hundred amp hours peukert one point one two twenty hour rating how long", 20 * (200 / 600) ** 1.12, "h", ""),
    # Amp hours ÷ (amps x what stays in).
    ("have to put ninety amp hours back with a thirty amp charger and only eighty percent sticks how long", 90 / 24, "h", ""),
    ("charger makes thirty amps with eighty percent going in, we lost sixty amp hours, how long to get it back", 2.5, "h", ""),
    ("36 amp hours used between ten pm and seven am, average amps", 4, "A", ""),  # nothing is charged: no losses
    ("900 watts through the inverter for half an hour at 12 volts 90 percent, how many amp hours", 900 / 12 / 0.9 / 2, "Ah", ""),
    ("furnace fan 7 amps from 9 pm to 5 am, 70 usable amp hours, make it?", 10, "h", "Yes"),
    ("lights at 5 amps and a fan at 2 from a 210 amp hour battery usable half how long", 15, "h", ""),
    ("from forty to ninety percent of a three hundred amp hour bank at fifty amps no losses how long", 3, "h", ""),
    ("200 Ah, 20->80%, 40A, no losses. h?", 3, "h", ""),
    ("200 amp hour battery, inverter load 360 watts at 12 volts, 90 percent, how long to half", 100 / (360 / 12 / 0.9), "h", ""),
    # Army TM 5-1185: 40 % of the cranking power at 0 °F.
    ("battery cranks six hundred amps at eighty degrees what have i got of it at zero", 240, "A", ""),
    ("at zero fahrenheit what is left of 900 cranking amps measured at 80", 360, "A", ""),
    # Gas law: (p + 14.696)(T2 + 459.67) ÷ (T1 + 459.67) - 14.696.
    ("put one oh five pounds in the tires at fifty degrees and it's ten below now what should the gauge say", (105 + 14.696) * 449.67 / 509.67 - 14.696, "psi", ""),
    ("i want 100 psi out on the road at 20 below, what do i set in a 60 degree shop", (100 + 14.696) * 519.67 / 439.67 - 14.696, "psi", ""),
    # 49 CFR 392.22(b)(2)(v): 200 ft on a divided road, 61 m.
    ("stuck on a motorway, how many metres back is the last triangle", 60.96, "m", "Three behind"),
    # NIST: 3.785 L a gallon.
    ("what would a hundred and ten litres be in your gallons", 110 / 3.785411784, "gal", ""),
    ("how many amps does an eight hundred watt microwave pull from the twelve volt bank through an 85 percent inverter", 800 / 12 / 0.85, "A", ""),
    # CDL manual 5.3: 3 psi a minute applied, 2 released; 85 to 100 psi within 45 seconds.
    ("foot on the pedal engine off it went from a hundred twenty to a hundred eleven in three minutes is that ok", 3, "psi/min", "Yes"),
    ("released, 122 to 117 in 2 min. ok?", 2.5, "psi/min", "No"),
    ("85 up to 100 psi takes 52 seconds, compressor ok?", 52, "s", "Fail"),
    # Magnus formula, Alduchov and Eskridge 1996: 66 °F at 35 % has its dew point at 37.6 °F.
    ("It's 66 in the cabin with 35 % humidity. Will a window at 40 degrees sweat?", 37.6, "F", "No, it stays dry"),
    ("How humid may the air be at 70 °F before glass at 45 °F sweats?", 40.7, "percent", ""),
    # Gas law and U.S. Standard Atmosphere 1976: 14.696 psi at sea level, 10.50 at 9,000 feet.
    ("105 psi at sea level, going up to 9,000 feet, same temp. reading?", 105 + 14.696 - 10.50, "psi", ""),
    ("aired the steers to 120 in a 68 degree garage with 30 kids waiting, twelve below out this morning after a 300 mile run yesterday, what should they show", 134.696 * 447.67 / 527.67 - 14.696, "psi", ""),
    # Water 8.337 lb a gallon (CoolProp); the rest is arithmetic.
    ("drive axle 21,300 and the law says 20,000 how many gallons of water do I have to dump if the tank is over that axle", 1300 / 8.337, "gal", "come off"),
    ("bay's rated 2,400 pounds and each duffel runs about 52, how many duffels fit", 46, "count", ""),
    ("we carry 36 bags of 44 lb and 12 sets of goalie gear at 85, bay limit 3,000 lb. over or under", 396, "lb", "Under"),
    # Fuel: arithmetic.
    ("The genny sips 0.8 gallon an hour. There's 140 gallons in the diesel tank, the pickup won't draw below 40, and I need 36 for tomorrow's 220 miles. Number 9 wants his movie. How many hours can it run?", 80, "h", ""),
    ("fuel 160 gallons, DEF at 20 percent of its 15, she takes 2.5 percent def and gets 6 to the gallon, which runs out first and after how many miles", 720, "mi", "DEF"),
    ("half a tank of 200 at 5.9 mpg, can we make the 480 miles to the hotel with 20 gallons kept", 80 * 5.9, "mi", "No"),
    ("odometer was 218,400 leaving and 219,012 now, put in 99 gallons, what's that to the gallon", 612 / 99, "mpg", ""),
    ("we've got ninety gallons of diesel and wanna hang on to twenty five, she's burning point eight an hour idling, how many hours", 65 / 0.8, "h", ""),
    ("three eighths of a 160 gallon tank and she burns one point two an hour idling how long till dry", 50, "h", ""),
    ("gallons left after 9 hours idling at 1.2 from 80", 80 - 10.8, "gal", ""),
    ("have i enough diesel for 15 hours of idling at 0.8 with 40 gallons and 20 kept back", 25, "h", "Yes"),
    ("0.8 gph, 10 nights of 9 hours, how much diesel", 72, "gal", ""),
    ("how many gallons of waste to dump to lose 400 pounds", 400 / 8.337, "gal", ""),
    ("how many nights of eight hours can we idle on 88 gallons at 1.1 an hour", 10, "nights", ""),
    ("we are 500 pounds over on the drives, how many 45 lb bags have to come off", 12, "count", ""),
    ("quarter of a tank, idling at 1 gallon an hour, hours?", 50, "h", ""),  # the coach's tank holds 200
    ("how many gallons of def for a thousand miles at six and a quarter to the gallon and two percent", 3.2, "gal", ""),
    ("def tank 16 gal, half left, takes 4 gal per 100 gal diesel, how much diesel will it cover", 200, "gal", ""),
    ("for each hundred gallons of diesel she drinks three of def and there's six gallons left, how much diesel before i'm out of def", 200, "gal", ""),
    ("tag axle shows eight thousand eight hundred of ten thousand allowed and hockey bags go forty eight pounds how many more fit", 25, "count", ""),
    ("how many 45 lb bags make 1,000 lb", 22, "count", ""),
    ("2 percent def on 150 gallons of diesel, how much def", 3, "gal", ""),
    ("front axle 12,900 lb limit 14,000 duffels of 44 lb how many more may i put on", 25, "count", ""),
    # NIST Handbook 44: exact conversions. Trucknews: 450 to 500 lb-ft on hub-piloted wheels.
    ("Fellow in Winnipeg sold us 310 litres at the pump for 480 dollars. How many US gallons did we get?", 310 / 3.785411784, "gal", ""),
    ("guy torqued the wheel nuts to 690 N·m. too tight? what's that in lb-ft", 690 / 1.3558179, "lb-ft", "Yes"),
    # National Weather Service, 2001: 6 °F in 35 mph; 30 minutes from about -18 °F wind chill.
    ("Trainer wants half an hour outside for 40 bags. Board says minus 6 Fahrenheit and 25 miles an hour. What's the wind chill and can bare skin get frostbite?", -32.03, "F", "Yes"),
    # CDL manual 2.7 (from memory): a second for each ten feet, one more above 40 mph.
    ("how far back should I stay, 45 foot coach at 60 mph, in seconds", 5.5, "s", ""),
)  # fmt: skip


@pytest.mark.parametrize(("text", "value", "unit", "words"), NUMBERS, ids=[row[0][:60] for row in NUMBERS])
def test_what_counts_is_found_among_what_is_told_beside(mind: Mind, text: str, value: float, unit: str, words: str):
    reply = said(mind, text)
    assert reply.estimate is not None, reply.say
    assert (reply.estimate.unit, reply.estimate.value) == (unit, pytest.approx(value, rel=4e-3))
    assert words in reply.say


WITHOUT = (
    # 49 CFR 395.3 is for goods; 395.5 has no break and no restart.
    ("buddy who hauls freight says the rule is a 30 minute break before hour eight, do I need that with passengers", "Not required"),
    ("Left front reads 92 this morning, 10 below zero. 340 miles on yesterday. How many psi is it down from where it ought to be at this temperature?", "set to"),
    ("when do we get there at fifty five miles an hour", "How far"),
    ("how much def do i need for eight hundred miles", "miles to the gallon"),
    ("on since six this morning with some breaks in between, how much can i still drive", "How many hours have you driven"),
)  # fmt: skip


@pytest.mark.parametrize(("text", "words"), WITHOUT, ids=[row[0][:60] for row in WITHOUT])
def test_no_number_where_a_rule_is_missing_or_an_input(mind: Mind, text: str, words: str):
    reply = said(mind, text)
    assert reply.estimate is None or reply.estimate.value is None
    assert words in reply.say


def test_a_long_rest_gives_no_week_back(mind: Mind):
    # 49 CFR 395.5(b): 70 - (11 + 12 + 10 + 13 + 9 + 4 + 0).
    reply = said(mind, "Sat 38 hours at home. My last seven days go 11, 12, 10, 13, 9, 4, 0, nothing today. We run 70 in 8. Does the 38 off reset me? How many have I got?")  # fmt: skip
    assert reply.estimate is not None
    assert reply.estimate.value == pytest.approx(11)
    assert "No restart" in reply.say
