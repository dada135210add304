"""Which calculation a question asks for: cue words over its frame first, what the matcher thinks second.

Each calculation has cues with weights. They are added up; a hint of the matcher adds a little. Below `ENOUGH` the
text is no question for a calculation.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache

from cabassist.language.calculation_inputs import Question, asked_unit, compiled, same_kind

ENOUGH = 3.0
HINT_WEIGHT = 2.0
LEAN = 1.5
"""With a hint of one half or more, this much from the cues is enough."""

_ASKED = re.compile(
    r"\b(?:how|hom|what|whats|wat|when|wen|which|wich|where|who|will|would|can|could|does|do|did|should|am|work out|calculate|figure out|convert|verdict"
    r"|tell me|give me|set me|add up|run me|reckon|equals?|versus|vs|howmany)\b"
    r"|^ (?:so |and |okay |but )?(?:is|are|was|were|am|would|max|maximum|longest|minutes|hours|days|pounds|gallons|watts|amps|feet|miles|total|percent|range|weight|wieght|days|latest)\b|[?]"
    r"|^ (?:\S+ ){0,3}(?:torque|distances?|time|spacing|capacity|drop|rating|loss|demand|limit|state of charge|days left|hours left|risk|dose) (?! at)"
    r"|\b(?:hours|minutes|days|time) (?:to|until|till|left)\b|\bbetween us\b"
    r"|<(?:psi|bar|kPa)> at <(?:F|C|temp|n)>.* at <(?:F|C|temp)>"
    r"|\b(?:is|are) (?:it|that|the|a|an|we|this|there|my|our|under|over)\b|\b(?:right|okay|ok|safe|legal|fine|pass|fail|allowed|enough|due|good|over)(?: or \w+)? $"
)
"""Words that make a question. Without any, the cues must be strong and the text no statement."""
_STATED = re.compile(r"\b(?:is|was|are|were|at|reads?|reading|shows?|have|has|got|now|down|up|looks|sits|sitting|showing|on|about|around|roughly|note|log|put)\b")
_STRONG = 4.5
_SURE_HINT = 0.5
_DOUBT, _DESPITE = 0.05, 5.0
"""When no hint is likelier than the first, the cues must reach the second, with amounts in the text."""

_MACROS = {
    "LONG": r"(?:how (?:long|many (?:\w+ )?(?:hours|ours|minutes|days|nights|flushes)|much (?:longer|more time|time|long)|soon|quick|quickly|fast|late)|when|what time|by what|(?:number of )?(?:hours|minutes|days|nights|time) (?:left|to|until|till|before|of)|(?:hours|time) for)",
    "FRESH": r"(?:fresh|frsh|clean|drinking|potable|taps?|water)",
    "WASTE": r"(?:waste|wste|black|gr[ae]y|sewage|holding|dirty|septic|poo|toilet|dump\w*|crap|effluent|sewer)",
    "GAS": r"(?:propane|propain|gas|lp|lpg|cylinders?|bottles?|cilinder|furnaces?|pounder|outside bottle)",
    "BATT": r"(?:batter(?:y|ies|ys)|battry|bat|house|bank|amp hours|volts?)",
    "CORD": r"(?:cords?|cable|extension|extention|lead|wire|footer)",
    "TIRE": r"(?:tires?|tyres?|psi|steers?|duals?|inflated|inflate|spare tire)",
    "NUTS": r"(?:wheel nuts?|lug ?nuts?|lugs?|nuts?|wheel (?:was|went|change\w*)|re ?torque\w*|torque)",
    "DIESEL": r"(?:diesel|diesle|fuel|fueling|fuelling|mpg|miles)",
}


def _expand(pattern: str) -> str:
    return re.sub(r"%([A-Z]+)%", lambda m: _MACROS[m[1]], pattern)


CUES: Mapping[str, tuple[tuple[float, str], ...]] = {
    "propane-days-left": (
        (2, r"\bburning <BTU|\boutside (?:bottle |one |cylinder )?(?:is |at )*(?:<part>|<percent>|full).*\binside (?:is |at )*(?:<part>|<percent>|full)"),
        (2, r"\b(?:propane|propain|gas|lp|lpg)\b"),
        (1.5, r"\b(?:cylinders?|bottles?|cilinder|pounder)\b|{cylinder}"),
        (1.5, r"\b%LONG%\b.*\b(?:last|left|run out|hold out|carry|go|empty|hang on|see us|keep|reach|heat|take|stretch|have|get|got)\b"),
        (1, r"\bhow many (?:more )?(?:days|nights)\b|\bdays\b|\bnights?\b"),
        (1, r"\b(?:last|enough|make it|carry us|see us|run out|get home|get us|hold out)\b"),
        (2, r"\bfurnaces? (?:fed|going)\b|{btu}.*\bdays\b|\bdays\b.*{btu}|\bnights of heat\b|\bburned {part}"),
        (2.5, r"{part}.*\bhow many (?:more )?(?:days|nights)\b|\b(?:outside|inside) bottle\b|{lb}.*\bdays\b|\bbottle and {part}|{lb}.*\bheat\b"),
        (1.5, r"{lb} .*\b(?:days|nights)\b|{gal}.*{btu}"),
        (1, r"{part}.*{cylinder}|{cylinder}.*{part}"),
        (-3, r"\b(?:waste|fresh|diesel|idle|battery|wheel|exhaust|gas ?station|btu .*needed)\b"),
        (-2, r"\b(?:boil|vapou?r\w*|quit|feed|both valves|requalif\w*|expire|stamped|retest\w*|date|how many (?:pounds|gallons|btus?)|weighs?|in gallons|in pounds)\b"),
    ),
    "propane-hours": (
        (3, r"\bhow (?:many|much) (?:gallons|pounds|propane)\b.*(?:{btu}|\bburn)|{btu}.*\bhow (?:many|much) (?:gallons|pounds|propane)\b"),
        (1.5, r"\b%GAS%\b|{cylinder}|{furnace}"),
        (2, r"\bhow many hours\b|\bhours\b"),
        (2.5, r"\bburn(?: time|s|ing)?\b|\bflat out\b|\bnon ?stop\b|\bconstant(?:ly)?\b|\bflame\b|\brun ?time\b|\ball the time\b"),
        (2.5, r"\b%LONG%\b.*{btu}|{btu}.*\b%LONG%\b"),
        (2.5, r"\b(?:full|spare|quarter)\b.*\brun the heat\b|{lb} last|{btu}.*{lb}|{furnace}.*{gal}|\bflat out\b"),
        (1.5, r"\bburn\b.*{btu}|{btu}.*\bburn"),
        (1.5, r"{lb}.*{btu}|{gal}.*{btu}|{lb}.*{furnace}|{furnace}.*{lb}"),
        (2.5, r"\bhow many btus?\b.*(?:{lb}|{gal}|gallon|{cylinder}|cylinder|bottle)"),
        (2, r"\b(?:energy|heat|btus?) (?:in|of)\b.*(?:{lb}|{gal}|cylinder|bottle)"),
        (-4, r"\b(?:waste|fresh|diesel|idle|battery|water|amp|amps)\b"),
        (-3.5, r"\bhow many days\b|\bdays\b|\bnights\b|\bvapou?r\w*|\bboil"),
    ),
    "propane-weight": (
        (3, r"\bwater capacity\b|\bwc\b"),
        (1.5, r"\b(?:propane|propain|gas|cylinders?|bottles?|pounder|lp)\b"),
        (3, r"\b(?:how many|what|in|to) (?:\w+ )?(?:gallons?|pounds?|lbs?|lit(?:er|re)s|kilos?)\b.*\b(?:propane|propain|gas|cylinder|bottle|pounder)\b|\b(?:propane|propain|gas|cylinder|bottle|pounder)\b.*\b(?:how many|what|in|to|it|from) (?:\w+ )?(?:gallons?|pounds?|lbs?|kilos|lit(?:er|re)s)\b"),
        (2.5, r"\b(?:weighs?|weighed|weight|tare|scales?|heavy)\b"),
        (1, r"{lb}"),
        (1.5, r"\bhow full\b|\bpercent full\b|\bhow much (?:propane|gas)\b"),
        (2.5, r"{lb} (?:bottle|cylinder)|{gal} (?:of )?(?:propane|gas)|{lb} (?:of )?(?:propane|gas)|\bpounder\b|\bgauge at {percent}"),
        (1, r"{lb}.*\bgallons\b|{gal}.*\bpounds\b"),
        (-3, r"\b(?:water|waste|fresh|diesel|fuel|axle|battery|luggage|bags?)\b"),
        (-2.5, r"\b%LONG%\b|\bdays\b|\bhours\b|{btu}"),
    ),
    "vaporization": (
        (3.5, r"\bvapou?ri[sz]\w*|\bvapou?r (?:rate|enough|capacity)|\bboil(?:s|ing)? off\b|\bboil\b.*\b(?:propane|gas|cylinder|bottle)|\bless vapou?r\b|\bmore vapou?r\b"),
        (3.5, r"\b(?:feed|feeds|fed|supply|supplies|keep up|give|make enough|put out|run)\b.*(?:\bfurnaces?\b|{furnace}|{btu}).*|{btu}.*\boff (?:one|a|the)\b"),
        (3, r"\bbtus? (?:an|per) hour\b.*\b(?:give|gives|make|makes|supply|put out)\b"),
        (1, r"\b(?:cylinder|bottle|propane|gas)\b|{cylinder}"),
        (1, r"{temp}|\bzero\b|\bcold\b"),
        (3, r"\bhow many btu\b.*\b(?:cylinder|bottle)\b.*\b(?:give|supply|make|put out|deliver|at)\b|\bbtu per hour from\b"),
        (3, r"\bpropane\b.*\b(?:quit|stop|too cold|freeze)|\btoo cold for propane\b|\bboth valves\b|\bmax furnace load\b|\bpropane (?:cold|temperature) limit\b"),
        (2.5, r"\bmake enough gas\b|\bcan't supply\b|\b(?:not|can) supply\b|\bhalf a cylinder keep up\b|\b(?:cylinder|bottle) keep up\b|\bvapou?r rate\b|\bvapou?ri\w+ at\b"),
        (-4, r"\b%LONG%\b.*\b(?:last|left)\b|\bdays\b|\binside\b.*\boutside\b.*\bkeep (?:it|the cabin)"),
        (-2.5, r"\b(?:heat loss|losing|hold sixty|keep it at)\b"),
    ),
    "requalification": (
        (4, r"\b(?:re ?qual\w*|re ?cert\w*|re ?test\w*|expires?|expired?|out of date|in date|stamped?|stamp)\b"),
        (2, r"\b(?:cylinders?|bottles?|cilinder|spare|collar|tank)\b"),
        (2.5, r"\b(?:dated?|made|manufactured|due)\b.*|\bten or twelve years\b|\bdate\b"),
        (1, r"\b(?:19|20)\d\d\b|\b(?:january|february|march|april|may|june|july|august|september|october|november|december)\b"),
        (2.5, r"\bretest year\b|\byears? (?:old )?bottle\b|{year}.*\b(?:bottle|cylinder)|\bnew cylinders\b"),
        (1.5, r"\bgood (?:until|for)\b|\bhow (?:long|many years)\b.*\b(?:spare|cylinder|bottle)\b.*\b(?:good|left)\b|\bhow many years\b"),
        (-5, r"\b(?:waste|fresh|dump|fill by|water|wheel|nuts?|lugs?|re ?torque|battery|odometer)\b"),
    ),
    "fill-time": (
        (3.5, r"\bhow many gallons (?:a|per) minute\b|\bwhat flow\b"),
        (2, r"\b(?:fill|fil|filling|filled|fills|fill up|top (?:it )?(?:off|up)|topping|put in|run in)\b"),
        (2, r"\b%LONG%\b.*\b(?:fill|fil|full|filling|filled|top|put|get|tank|gallons?|it)\b|\b(?:fill|fil) time\b"),
        (2.5, r"{flow}"),
        (2, r"\b(?:hose|bucket|pail|spigot|tap|faucet|flow\w*|jug)\b"),
        (1.5, r"{min}.*\b(?:enough|fill)\b|\bin {min}"),
        (1.5, r"\bfor the (?:other|rest)\b|{min} to (?:get|put|fill) {gal}"),
        (1.5, r"{vol} .*{flow}|{flow}.*{vol}|\bfrom {part}.*{flow}"),
        (1.5, r"{in} in {min}|\bminutes\b"),
        (-4, r"\b%WASTE%\b"),
        (-4, r"\b(?:propane|diesel|batter(?:y|ies)|charge|charger|furnaces?|cylinder|bleach|def|amps?)\b"),
        (-3, r"\bfill (?:by|fresh by|tonight)|\b(?:deadline|due|must|latest|have to fill|need to fill|fill due)\b"),
        (-2.5, r"\b(?:look|check|peek|come back|go back|walk away)\b|{use}|{people}|{day}"),
        (2, r"\bfrom empty\b|\bstand here\b|\bfull if i start\b|\bstarted at\b.*|\btime to fill\b"),
    ),
    "when-to-look": (
        (3, r"\b(?:look|looking|peek|check on|come back|go back|stick my head|walk away|watching|check (?:the )?(?:fill|hose|tank|water|waste|it|propane))\b"),
        (2, r"\b%LONG%\b|\bhow many minutes\b|\bwhen\b|\bset me a time\b|\bnext look\b|\bcan i go\b|\bis it safe\b"),
        (1.5, r"\b(?:hose|filling|fill|tank|water|overflow)\b"),
        (1, r"{flow}"),
        (-3, r"\b(?:nuts?|lugs?|re ?torque|torque|tires?|tyres?|engine)\b|\bdo i\b.*{mi}"),
    ),
    "fresh-hours": (
        (1.5, r"\bhow much longer\b|\bhow long (?:do we have|have we got|is that|have i got|do i have)\b"),
        (1.5, r"\b(?:fresh|frsh|clean|drinking|potable|taps?)\b"),
        (1, r"\bwater\b"),
        (2, r"\b%LONG%\b.*\b(?:last|left|run(?:s)? (?:out|dry)|hold|good|out of|empty|gone|dry|have|make|stretch|do us)\b|\bruns? out when\b|\bhow many (?:more )?hours\b"),
        (2.5, r"\bshowers?\b|{shower}"),
        (2, r"\b(?:how fast|what rate)\b.*\b(?:going through|using|use)\b|\bgoing through\b"),
        (1.5, r"\b(?:last|enough|make it|hold till|do us|see us|empty)\b"),
        (2, r"{vol} .*{people}|{people}.*{vol}|{use}|{part}.*{people}"),
        (2, r"{rate}|\bhow many <gal> showers|{gal} do {people}"),
        (2, r"\bhours? left on\b|\b(?:do|does|hold)\b.*\b(?:till morning|for {h}|us for)\b|\bout of fresh\b|\bleft of the water\b|\bwater good for\b|{vol} do us"),
        (2, r"\bhow (?:much|many gallons(?: of)?)(?: fresh| clean)?(?: water)?\b.*\b(?:need|use|take|go through|carry|want)\b"),
        (-5, r"\b%WASTE%\b"),
        (-4, r"\b(?:propane|diesel|batter(?:y|ies)|furnaces?|cylinder|bleach|freeze\w*|ice|weigh\w*|wieght|heavy|pounds|inches|mile|miles|pump)\b"),
        (-3, r"\b(?:fill by|must i fill|when do i fill|do i fill|have to fill|need to fill|deadline|latest|take on|hose|fill)\b|{flow}|{in}"),
    ),
    "fill-by": (
        (3, r"\b(?:when|what time|what day|latest|deadline|how late|how long before|by when|point|hour|tonight|tomorrow|morning|due|leave|wait|soon enough|plan)\b.*\b(?:fill|fil|filling|take on|top up|water|hose|fresh)\b|\bfill\w*\b.*\b(?:by when|due|deadline)\b|\bfill (?:it |the )?(?:fresh )?by\b"),
        (1.5, r"\bhave to fill\b|\btake on water\b"),
        (2, r"\b(?:must|have to|need to|got to|latest|by when|by what|deadline|due|how late|wait|absolutely|soon enough|taking on|plan on)\b|\bneed (?:\w+ )?by\b"),
        (1.5, r"\b(?:fresh|frsh|water|clean|drinking)\b"),
        (1.5, r"\bwhen (?:do|must|should|will) (?:i|we) (?:have to |need to )?fil"),
        (1.5, r"\bfill by\b|\bwater (?:in )?by\b"),
        (-5, r"\b%WASTE%\b|\b(?:propane|diesel|batter|cylinder|furnace|freeze\w*|wheel|charge)\b"),
        (-2, r"{flow}|\bhow many (?:hours|minutes)\b"),
    ),
    "waste-hours": (
        (1, r"\bhow much longer\b|\bhow long (?:do we have|have we got|is that|have i got|do i have)\b"),
        (2, r"\b(?:waste|wste|black|gr[ae]y|sewage|holding|dirty|septic|poo|toilet|crap|sewer)\b"),
        (2, r"\b%LONG%\b.*\b(?:full|fill\w*|left|tops? out|hold|have|got|it|room|last|overflow\w*|take|percent)\b|\bhours to full\b|\btime to full\b|\bwhen it full\b"),
        (1.5, r"\b(?:full|room|hold|top out|flushes)\b"),
        (1.5, r"\bhow fast\b.*\b(?:filling|rising|going)\b|\b(?:take|last)\b.*{h}|\blast the\b|{percent}.*{clock}"),
        (2, r"{part}.*{people}|{people}.*{part}|{use}|{rate}"),
        (1.5, r"\bflush(?:es)?\b|{flush}|\bhours? left on\b|{vol} of room"),
        (1.5, r"\b(?:take|takes|last|hold|holds)\b.*\b(?:hours?|overnight|till|until|night)\b"),
        (-4, r"\b(?:propane|diesel|batter(?:y|ies)|furnaces?|cylinder|bleach|freeze\w*|ice|weigh\w*|pounds|inches|tape|watts?)\b"),
        (-3, r"\b(?:when|latest|deadline|by what|by when|how late|how soon|before|need|due|must|wait|ok to leave|get away)\b.*\bdump|\bdump\w*\b.*\b(?:due|by|deadline|before|today|tonight|tomorrow)\b"),
        (-3, r"\bfirst\b|\bsooner\b|{in}|\bper inch\b|\bhow (?:full|deep)\b"),
    ),
    "dump-deadline": (
        (3, r"\b(?:when|latest|deadline|by what|by when|how late|how soon|how long|before|need|due|must|time|what day|wait|ok to leave|get away|today|tonight)\b.*\b(?:dump\w*|empt(?:y|ied|ying))\b|\bdump\w*\b.*\b(?:due|by|deadline|before|today|tonight|tomorrow|ride|wait|time|leave)\b|\bwaste\b.*\bby when\b|\bwaste has to go\b"),
        (1.5, r"\b(?:waste|black|sewage|holding|dump|dumping)\b"),
        (2, r"\b(?:what day|when)\b.*\bwaste\b.*\b(?:go|out)\b"),
        (1, r"\b(?:latest|deadline|by when|due|must)\b|\bput off\b"),
        (-4, r"\b(?:propane|diesel|batter|hose|cap|valve|freez\w*|weigh\w*|pounds|lighter)\b"),
        (-2, r"\bhow many hours\b|\bhow do (?:i|we|you)\b|\bhow to\b|\bwhere\b"),
        (-3, r"\bfirst\b|\bsooner\b"),
    ),
    "which-first": (
        (2, r"\bfull first\b|\bdry first\b"),
        (3, r"\b(?:first|sooner|soonest|more urgent|before the|limit tonight|fewer hours|at the same time|gets me|wins|give out|stop us|sooner or)\b"),
        (2, r"\b(?:fresh|clean|water)\b.*\b(?:waste|sewage|black|dirty|dump)\b|\b(?:waste|sewage|black|dirty|dump)\b.*\b(?:fresh|clean|water|fill)\b|\bof the {n} tanks\b|\bwhich (?:one|tank)\b|\bwhich of the\b|\bwich tank\b"),
        (1.5, r"\b(?:which|wich|what|who|will we|does the|do the|do i|are we|is it)\b"),
        (-4, r"\b(?:propane|bottle|cylinder|tire|weigh\w*|weight|how do|wash|dump first|fill first and|steps?|bleach|furnace|driver)\b"),
        (-3, r"\bshould i (?:dump|fill)|\bwhat do i do\b|\bdo i (?:dump|fill)\b.*\bor\b.*\b(?:dump|fill) first\b"),
    ),
    "water-weight": (
        (3.5, r"\b(?:weigh|weighs|weight|wieght|heavy|heavier|lighter|how many pounds|in pounds|to pounds|pounds of|in kilos|in kilograms|how much load|pounds)\b"),
        (2, r"\b(?:water|fresh|waste|tank|tanks|dump|clean)\b|{vol}"),
        (1.5, r"{vol} of water in|\btank over {lb}"),
        (-5, r"\b(?:propane|propain|diesel|fuel|cylinder|bottle|axle|axles|axel|tare|gas|people|bags|steer|jack|psi|torque|dump\w* .*first|tires?|number)\b|{psi}"),
        (-3, r"\bload luggage\b|\bfirst\b"),
    ),
    "tank-depth": (
        (2.5, r"{short}|\bdepth\b|\bhow deep\b|\bhow many inches\b|\bper inch\b|\binches? (?:to|of)\b|\binches\b"),
        (2, r"\b(?:fresh|waste|water|tank|black|sewage|holding|clean|deep)\b"),
        (2, r"\b(?:gallons?|galons|gal|percent|lit(?:er|re)s|how full|how much|what share|equals)\b"),
        (-5, r"\b(?:cord|tread|bolt|tire|propane|hose|triangle|wire|torque|freez\w*|pipe|weigh\w*|heavy|wieght|diameter|pounds)\b|{psi}|{awg}"),
        (-3, r"\b%LONG%\b.*\b(?:fill|full|top)\b|{min}|{people}"),
        (2.5, r"\btank\b.*{len} (?:by|x|times) {any} (?:by|x|times)|{any} (?:by|x|times) {any} (?:by|x|times) {any}"),
    ),
    "bleach-dose": (
        (4, r"\b(?:bleach|bleech|clorox|chlorine|saniti[sz]\w*|disinfect\w*|shock dose)\b"),
        (2, r"\bdose\b.*{ppm}|{ppm}.*\bdose\b"),
        (1.5, r"\b(?:how much|how many|dose|amount|ounces|cups?|tablespoons|teaspoons|drops|enough|strong|too much|quantity|number|percent|what)\b|{percent}|{ppm}|{vol}"),
        (-3, r"\b(?:how do i|how to|steps|where|spill|clean up|toilet)\b"),
        (-1.5, r"\bhow (?:do|should|often)\b"),
        (2.5, r"\bdrops\b.*\b(?:gallon|water|drink)|\bjug says\b"),
        (1, r"\bppm\b|{ppm}"),
    ),
    "freeze-time": (
        (2.5, r"\b(?:freezes?|freezing|frozen|froze|ice|solid|{n} hit thirty|ices?)\b|\bhit(?:s)? (?:{temp}|{n})|\bget down to (?:{temp}|{n})"),
        (2, r"\b(?:tank|fresh|waste|water|pipes?|hose|lines?|pad|tape|drain)\b"),
        (1.5, r"\b%LONG%\b|\bwill\b|\bcan we sit\b|\btoo long\b|\bovernight\b|\bby morning\b|\bhow cold can\b|\bhow cold will\b|\blowest\b|\bhow low can\b|\bhow much heat\b"),
        (1, r"{temp}|\bbelow\b|\bunplugged\b|\bpad (?:off|dead)\b"),
        (3, r"\b(?:unplugged|no power|pad off|pad dead)\b.*{temp}|{h} unplugged"),
        (2.5, r"\bhow (?:cold|low) (?:can|could|will|does|would)\b.*\b(?:tank|fresh|waste|water|pipe|hose|line)s?\b.*\b(?:get|go|drop)|\bcoldest\b.*\b(?:tank|water|pipe|hose)"),
        (-5, r"\b(?:batter(?:y|ies)|battry|bank|acid|diesel|gel\w*|fuel|skin|frostbite|cheeks|cabin|inside temp|wind ?chill feel|charged?)\b"),
        (-3, r"\b(?:how many watts|watts?|wattage)\b|{W}"),
        (3, r"\blos(?:e|es|ing) (?:about |a steady )?<W>"),
        (3, r"\b(?:water|tank|pipe|hose|line)\b.*\bcolder than\b"),
        (3, r"\b(?:lowest|coldest)\b.*\b(?:tank|water|pipes?|hose|lines?)\b.*\b(?:drop|get|go|reach)"),
        (-4, r"\b(?:what do i do|how do i|how to|thaw|is frozen|froze up|have frozen|already frozen|won't)\b"),
    ),
    "heat-pad-watts": (
        (3, r"\b(?:heat(?:ing)? pad|pad|tape|heating tape|heat tape)\b"),
        (2, r"\b(?:how many wat+s?|watts?|wattage|{W}|how much (?:power|heat))\b|{W}"),
        (2, r"\b(?:hold|holds|keep up|keeps up|enough|stand|cope|good (?:down )?to|strong enough|big enough|falls? behind|lowest|need|needs|lose|loses|draw|keep)\b"),
        (1.5, r"\b(?:tank|fresh|waste)\b.*\b(?:thawed|freezing|hold|lose|from freezing)\b"),
        (2, r"{perdeg}"),
        (1, r"{temp}"),
        (-4, r"\b(?:amps|breaker|shore|cord|outlet|battery|furnace|cabin|brake|total|load|heater)\b"),
        (-4, r"\b(?:how do i|check the (?:heat )?tape|is the tape on|light|lit|pilot|indicator|working|works)\b"),
        (-1.5, r"\b%LONG%\b"),
    ),
    "wind-chill": (
        (4, r"\bwind ?chil+\b|\bchill\b|\bfeels? like\b|\bdoes it (?:really )?feel\b|\bit really feel like\b|\bhow cold does .* feel\b|\bmuch colder does\b"),
        (1.5, r"\bwind\b|{speed}|\bblowing\b|\bgusting\b"),
        (0.5, r"{temp}"),
        (-4, r"\b(?:frost ?b[iy]te?|skin (?:safe|freez\w*)|tank|fresh|pipe|hose|minutes before|bare)\b"),
    ),
    "frostbite": (
        (4.5, r"\bfrost ?b[iy]te?\b|\bsafe time outside\b|\bfrostnip\b|\bskin\b.*\b(?:freez\w*|safe)\b|\bgloves off\b|\bbare ?hand\w*|\bexposed skin\b|\bcheeks\b"),
        (4.5, r"\b(?:kids|guys|players|people|stand|stay|wait|work|walk)\b.*\b(?:outside|out there|out)\b.*(?:{temp}|{speed}|\bwindy\b)"),
        (-4, r"\b(?:furnace|cabin|heat|tank|fresh|propane|bottle|triangle|inside)\b"),
    ),
    "gel-risk": (
        (3.5, r"\b(?:gel|gels|gelled|gelling|wax\w*|cloud ?points?)\b"),
        (3, r"\b(?:number {n}|blend|b {n})\b.*(?:{temp}|\bsafe\b|\bcold\b|\bhow low\b|\bgood to\b|\bhold\b)|{temp}.*\b(?:number {n}|blend|b {n})|\bworry about the diesel\b|\bhow cold\b.*\bfuel\b"),
        (2.5, r"\b(?:number (?:{n}|one|two)|blend|winter blend|b {n}|additive|kerosene|anti ?gel)\b"),
        (1, r"\b(?:diesel|diesle|fuel)\b"),
        (1, r"{temp}|\bcold\b|\bwhat temp"),
        (-4, r"\b(?:weigh\w*|weight|weigh a|gasoline|filter|clear|unclog|miles)\b"),
        (-3, r"\b(?:has gelled|it gelled|gelled up|is gelled|what do i do|how do i)\b"),
    ),
    "cabin-cool-down": (
        (3, r"\bhold its heat\b|\bbunks\b.*\bfreezing\b|\bfrom (?:{n}|{temp}) to freezing\b|\bunheated\b"),
        (2.5, r"\b(?:cool(?:s|ing)?|cool ?down|gets? cold|cold will it|hold its heat|lose heat|unheated|no heat|without heat|heat (?:quits|off|out)|furnaces? (?:off|out|quit|dead)|heat's out|furnaces are out|drop(?:s)? (?:below|under))\b"),
        (1.5, r"\b(?:inside|cabin|cabn|coach|bunks?|in here|people|aboard|overnight|by morning|indoors)\b"),
        (1.5, r"\b%LONG%\b|\bhow (?:cold|fast|many degrees)\b|\bwill it stay\b|\bcan we go\b|\bcool down time\b|\binside temp\b|\bwhat it inside\b|\btime to cool\b"),
        (1, r"{temp}|{n}"),
        (2, r"\b(?:from {any} to {any}|degrees an hour)\b|\bfurnaces? off\b.*\binside\b|\bhow many degrees <?\w*>? ?an hour\b"),
        (-4, r"\b(?:tank|fresh|waste|battery|diesel|propane|pad|btu|engine|coolant|frostbite|skin|tire|tyre)\b"),
        (-2, r"\bhow much heat\b|\bkeep up\b"),
    ),
    "heat-loss": (
        (2.5, r"\b(?:heat|heet) (?:loss|demand)\b|\bheat does the (?:coach|cabin|bus)\b"),
        (3, r"\b(?:heat|heet) (?:loss|demand|load|leaks?|goes|needed)\b|\bbtus? (?:are we )?losing\b|\blos(?:e|ing)\b.*\bbtus?\b|\bhow (?:much heat|many btus?|many kilowatts)\b|\bbtus? (?:needed|an hour|do i save)\b|\bbtu an hour\b"),
        (3, r"\bfurnaces?\b.*\b(?:keep up|hold|duty|working|percent of the time|run|running flat out|keep it)\b|\bduty\b|{furnace}.*\b(?:keep up|hold|keep it|enough)\b|{btu}.*\benough\b"),
        (1.5, r"{temp}|\binside\b|\boutside\b|\bthermostat\b"),
        (2, r"{perdeg}.*(?:{temp}|{n}).*|\bua\b"),
        (1, r"\b(?:coach|cabin|walls?|furnaces?)\b"),
        (-4, r"\b(?:propane|gas|cylinder|bottle|tank|fresh|waste|battery|water|pounds?|lb|pad|vapou?r\w*|days|gallons?)\b|{lb}|{gal}"),
        (-2.5, r"\b%LONG%\b(?!.*\bkeep up\b)"),
    ),
    "battery-hours": (
        (-3, r"\bhow many amp hours (?:are |is |do we have )?left\b"),
        (-4, r"\bput\b.*\bback\b"),
        (2, r"\b(?:batter(?:y|ies|ys)|battry|house bank|bank|amp hours?|bats)\b|{Ah}|\bhouse (?:down|flat|down to)\b"),
        (2, r"\b%LONG%\b.*\b(?:last|run|left|go|got|have|flat|carry|hits?|get|draw\w*|down|before|to)\b|\bruntime\b|\bhours left\b|\bhow many hours\b|\bwhen .* flat\b|\bhours of\b"),
        (2, r"{A}|{W}|\b(?:draw|drawing|pulling|pull|load|inverter|fans)\b"),
        (1.5, r"\b(?:make it|carry|enough|last|through the night|before the lights|lights)\b"),
        (1, r"{Ah}.*{load}|{load}.*{Ah}"),
        (1.5, r"\bhow many amp hours\b.*|{W}.*\bamp hours\b"),
        (-5, r"\b(?:charge|charger|charging|chrage|recharge|charged|full by|put it back|put back|freez\w*|freeze|alternator|plugged|shore|generator)\b(?! (?:is|at)? ?<)(?<!half charge)(?<!no charge)(?<!full charge)(?<!half charged)"),
        (-5, r"\b(?:cord|breaker|gauge|outlet|propane|diesel|tank)\b|{awg}"),
    ),
    "battery-state": (
        (2.5, r"\b(?:what|wat|how many) percent\b.*(?:{V}|{n})|\bpercentage at {n}|\bis {n} under half\b|\bdead flat\b|\bamp hours (?:are |is |do we have )?left\b"),
        (2, r"\b(?:batter(?:y|ies)|house|bank)\b|{Ah}"),
        (2.5, r"\b(?:what|how many|wat) percent\b|\bpercentage\b|\bin percent\b|\bhow (?:charged|full)\b|\bstate of charge\b|\bpercent\b.*\bvolts?\b|\bvolts? to percent\b|\bis that full\b|\bunder half\b|\bis (?:{n}|{V}) low\b|\bdead flat\b|\bhow many percent\b|\bhow many amp hours left\b|\bwhat voltage\b|\bfull battery read\b|\bhow full are the batteries\b|\bmean in charge\b"),
        (2, r"{V}|\bvolts?\b|\bvoltage\b"),
        (1, r"\blow\b|\bcharge\b|\bleft\b|\bread(?:s|ing)?\b"),
        (-4, r"\b(?:cord|drop|amps|breaker|freez\w*|freeze|hours? (?:to|on)|how long|charger|propane|tank|psi|ppm|bleach|shore|outlet)\b|{A}|{awg}|{psi}"),
    ),
    "battery-charge-time": (
        (2.5, r"\bput\b.*\bback\b"),
        (3, r"\b(?:charge|charging|recharge|chrage|put it back|put back|back up|charger|alternator|top (?:it )?up|be full|be charged|get to full|refill the batter\w*|replace)\b"),
        (2, r"\b%LONG%\b|\b(?:hours|time)\b|\bis .* enough\b|\bwhen\b|\bhow much charge\b|\bcan the alternator\b|\bdo we get\b|\bwill it be\b"),
        (1.5, r"{A}|{Ah}|\b(?:batter(?:y|ies)|bank|house|bat|amps)\b"),
        (1, r"\bfrom {any}\b|\bto full\b|\bto full\b|\bon shore\b|\bplugged in\b"),
        (-4, r"\b(?:draw|drawing|pulling|load|breaker|fresh|waste|water|propane|cord|freez\w*|tank|mean in charge|state of charge|half charge|with no charge)\b"),
        (-2, r"\blast (?:till|until|the night)\b|\bhow (?:charged|full)\b|\bin percent\b"),
        (2.5, r"\bfrom {any} to full\b|\blast {percent}|\bto full\b.*{A}"),
    ),
    "battery-freezing": (
        (3, r"\b(?:freez\w*|freeze|froze|survive|safe)\b"),
        (2.5, r"\b(?:batter(?:y|ies)|battry|bank|acid|charge|electrolyte)\b|{V}"),
        (1, r"{percent}|{V}|{part}|{temp}|\bflat\b|\bdead\b|\blowest safe charge\b|\bvolts\b"),
        (1.5, r"\b(?:lowest safe charge|what charge|how many volts|freezing point)\b|\bhow low\b.*\bbank\b"),
        (-5, r"\b(?:tank|fresh|waste|water|pipe|diesel|cabin|propane|pad|how long|hose)\b"),
    ),
    "shore-load": (
        (2.5, r"\b(?:total|add up|load|loads|pulling|drawing|draw|at the plug|together|at once|everything on|whole coach|shed|going)\b"),
        (2, r"\b(?:shore|microwave|coffee maker|block heater|fridge|refrigerator|charger|heat pad|tape|outlets|plug|heater|toaster|hair dryer)\b"),
        (1.5, r"\b(?:how many (?:amps|watts)|hom many amps|how much|watts|amps|is it over|is our|can (?:i|we)|what)\b"),
        (2.5, r"\bhow many amps (?:is|does|do|are|would)\b.*{W}|{W}.*\bhow many amps\b|\bhow many watts (?:is|are)\b.*{A}"),
        (2.5, r"\b(?:microwave|coffee maker|block heater|fridge|heat pad|tape)\b.*\b(?:plus|and|with|together)\b.*\b(?:microwave|coffee maker|charger|heater|fridge|outlets|tape)\b|\bamps do we use\b"),
        (2.5, r"\bhow much is left on the shore\b|\bshore load\b"),
        (-4, r"\b(?:cord|gauge|battery|batteries|bank|drop|tank the|fresh from|hold the tank|btu|hours)\b|{awg}|{Ah}"),
        (-2, r"{A} (?:amp )?(?:breaker|outlet|circuit|receptacle|plug|gfci|fuse)|\bbreaker\b"),
        (-3, r"\bhow do i\b|\bkeeps (?:popping|tripping)\b|\bdraw(?:er|ing board)"),
    ),
    "breaker-limit": (
        (3, r"\b(?:breakers?|braker|circuit|receptacle|outlet|fuse|gfci|socket)\b"),
        (3, r"{A} (?:amp )?(?:breaker|outlet|circuit|receptacle|plug|gfci|fuse|service|socket|inlet|pedestal|hookup|site)"),
        (2, r"\b(?:how much|how many|max|limit|continuous\w*|hold|handle|carry|take|safe\w*|pop|trip|run|dare draw|overnight|all night|hours on end|long term|steady|too much|eighty percent)\b|{percent} of\b"),
        (2, r"\bon (?:a |one )?(?:fifteen|twenty|thirty|fifty|{A}|{n})\b|\b(?:pop|trip)s? a {n}|\b{n} trip\b|\bthirty amp\b|\bhow close to the breaker\b"),
        (1, r"{W}|{A}"),
        (2.5, r"\bsafely on a {n}|\b{percent} of {n} at {V}"),
        (1, r"\b{percent} of {A}|\b{percent} of {n} at {V}"),
        (-4, r"\b(?:cord|gauge|drop|lose|loss|battery|batteries|amp hours|fresh|waste|cable)\b|{awg}|{Ah}"),
        (-4, r"\b(?:keeps (?:popping|tripping)|tape it|how do i|reset|won't|popped|tripped again|where)\b"),
    ),
    "voltage-drop": (
        (3, r"\b(?:voltage drop|volt(?:age)? drop|drop|volts? do (?:i|we) lose|voltage is lost|lose|loss|lost|volts? (?:are )?left|voltage at the end|voltage hold|see at the coach|at the far end|at the coach)\b"),
        (2, r"\b%CORD%\b|{awg}|{long}"),
        (1.5, r"{A}|{V}|\bvolts?\b|\bvoltage\b"),
        (1, r"{awg}.*{A}|{long}.*{A}"),
        (1.5, r"\bvoltage at the end\b|\bfar end\b"),
        (-3.5, r"\bhow (?:long|far|many feet)\b|\blongest\b|\bmax(?:imum)? (?:length|feet)\b|\blength\b.*\bkeeps\b|\bthickest\b|\bwhat gauge\b"),
        (-5, r"\b(?:tire|tyre|pressure|heat|btu|psi|water|tank|hours?|batter|degrees|furnace|altitude|propane|cabin)\b|{psi}|{temp}"),
    ),
    "cord-length": (
        (3, r"\b(?:how (?:long|far|many feet|many met(?:er|re)s)|longest|farthest|furthest|max(?:imum)? (?:\w+ )?(?:length|feet|run|cord)|length limit|too long|how far from|how much cord|limit)\b"),
        (2, r"\b%CORD%\b|{awg}|{long}"),
        (1.5, r"{A}|\bamps?\b|{V}|\bdrop\b|{W}|{awg}|\bten\b"),
        (2.5, r"\b(?:reach|go|run|is|together|fine|ok|okay)\b.*{long}.*(?:{A}|{awg}|\bon {n})|{long}.*\b(?:fine|too long|together|ok)\b"),
        (1, r"\bplug in\b|\bpark\b|\boutlet\b"),
        (-5, r"\b(?:last|battery|batteries|hose|triangle|fill|flow|battery|diesel|miles|waste|fresh|minutes)\b|{Ah}|{gal}|{h}"),
        (-3, r"\bdo (?:i|we) lose\b|\bhow much (?:voltage|do)\b|\bvolts? drop\b"),
    ),
    "cord-ampacity": (
        (2.5, r"{awg}|\b%CORD%\b"),
        (2.5, r"\b(?:how many amps|amp rating|ampacity|good for|carry|carries|rated|current limit|max amps|how many watts|how much can|pull|heavy enough|thick|enough for|handle|wattage)\b"),
        (2, r"\bampacity\b|\bcurrent limit\b|\bcord take\b"),
        (3, r"\bwhat (?:gauge|gage|size|wire|awg|cord)\b|\bhow thick\b|\bwhich gauge\b"),
        (1, r"{awg}.*{A}|{A}.*{awg}|\bthrough a\b|\bgood (?:enough )?for\b"),
        (-4, r"\b(?:drop|lose|loss|how (?:long|far)|longest|farthest|max feet|breaker|too long|length|keeps)\b"),
        (-5, r"\b(?:battery|tank|gallons?|hose|miles|fresh|water)\b|{Ah}"),
    ),
    "driving-hours": (
        (3, r"\b(?:driv(?:e|en|ing|er|ers)|drove|on duty|off duty|behind the wheel|co ?driver|drive time|my clock|my (?:fifteen|ten)|hours of service|logs?|hos|legal(?:ly)?|duty|berth|bunk|reset|restart|split)\b"),
        (2, r"\bhow (?:many|long) can (?:i|he|she|we) drive\b|\bsplit\b|\bsleeper\b"),
        (2, r"\b(?:how (?:many|much|long)(?: more)?|hours? left|how much left|do i have|have i got|can i (?:still |legally )?drive|when (?:do|must|can) i|over ten|quit|remain|still legal|stop driving|drive again|keep driving|keep going)\b"),
        (1.5, r"{h}|\bhours?\b|\bsince\b"),
        (2, r"\b(?:{h}|{n}) (?:in|hours in) (?:{day}|seven days|eight days)|\bin the last week\b|\blast (?:seven|eight|{day})|\bthis week\b|\brule\b.*\bhours\b|\b34 hour\b|\b(?:thirty four|{h}) (?:hour )?(?:restart|reset)\b|\bmust i quit\b|\b(?:half|thirty) (?:an )?(?:hour|minute) break\b"),
        (3, r"\bover (?:ten|{n})\b.*|\bput me over\b|{h} in {day}|{h} day\b.*\btake\b"),
        (1.5, r"\bstarted at\b.*\bdrove\b|\bdrove\b.*\bleft\b|\bon since\b|\b(?:hours )?off (?:ended|duty)\b"),
        (-5, r"\b(?:propane|waste|fresh|water|battery|batteries|idle|idling|miles|diesel|fuel|furnace|tires?|torque|bank|charge|alternator|generator|cord|wheel nuts?|axle)\b"),
        (-2, r"\bdrive axle\b|\bdrives\b|\bhow do (?:i|we|you)\b"),
    ),
    "tire-pressure": (
        (2, r"\b(?:tires?|tyres?|psi|steers?|duals?|rears?|fronts?|left front|right front|drives|inflated|pressure|presure|underinflated|tag)\b|{psi}"),
        (2, r"{psi}.*{temp}|{temp}.*{psi}|{psi} at\b|\bset (?:to|at)\b|{n} at {temp}|\bwarm up\b|\bwarm\b.*\bcold\b"),
        (1.5, r"\b(?:pressure|presure|psi|pounds)\b.*\b(?:lose|drop|be|read|should|add|at|low|target|right)\b|\bhow many psi\b|\bhow much .* pressure\b"),
        (1.5, r"\b(?:read|reads|what will|what should|drop|lose|low|underinflated|too low|over the max|spread|from spec|okay|cold)\b"),
        (1, r"{temp}"),
        (3, r"\b(?:pressure|presure|psi)\b.*\b(?:steers?|drives|rears|cold|tires?)\b|\btarget pressure\b|\btyre|\bpounds should i add\b|\bover the max\b|\bfrom spec\b|\bis {n} (?:low|okay|ok|fine)\b.*(?:{temp}|rears|fronts|steers|drives)"),
        (-5, r"\b(?:tread|{32nds}|32nds|air (?:leak|brake)|brakes?|governor|buzzer|low air|leak down|compressor|foot (?:on|off)|applied|released|cut (?:in|out)|popped|propane|regulator|water|battery|volts?|torque|nuts?|axle|seconds?|minutes?|bank|cloud|wind ?chill|kpa|convert)\b|{32nds}|{V}"),
        (-2, r"\bbelow\b.*\bpercent\b"),
    ),
    "tread-limit": (
        (4, r"\b(?:tread|tred|tread's)\b|{32nds}|\bthirty seconds?\b"),
        (1, r"\b(?:steers?|drives?|tag|front|rear|legal|limit|minimum|enough|pass|fail|allowed|how much|how many|left|good)\b"),
        (-3, r"\b(?:buil[dt]|psi|pump)\b|{psi}"),
    ),
    "wheel-torque": (
        (3, r"\bwrench\b.*{n}|\bstud nut\b|\bnumber for the wheels\b|\bfoot bar\b|\bnewton\b.*\bnuts?\b"),
        (3, r"\b(?:torque|torqued|foot pounds?|newton|lug ?nuts?|lugs|wheel nuts?|nuts|how tight)\b|{torque}"),
        (1.5, r"\b(?:how many|what|whats|enough|too much|how tight|spec|convert|set|number|should|is|over)\b"),
        (-4, r"\b(?:re ?check|recheck|re ?torque|re ?tighten|miles|km|mile|odometer|odo|checking again|due|how far|how soon)\b|{mi}|{km}"),
        (-3, r"\b(?:how do i|sequence|order|star|crisscross|steps|adapter|broke|loose nut|stripped)\b"),
    ),
    "wheel-recheck": (
        (4, r"\b(?:re ?check|recheck|re ?torque|retorque|re ?tighten|checking again|checking the nuts|check the nuts|check(?:ed)? (?:the )?(?:lug|nut|wheel)s?\b.*(?:again|after|change))\b"),
        (2, r"\b(?:wheel|nuts?|lugs?|tire change|torque check|changed a wheel|did the tire)\b"),
        (2, r"{mi}|{km}|\b(?:miles|odometer|odo|due|how far|how many|how soon|when|mileage)\b"),
        (3, r"\bnext torque check\b|\bdid the tire\b"),
        (-4, r"\b(?:bay latch|jam nuts?|psi|foot pounds)\b|{torque}"),
    ),
    "triangle-distances": (
        (4, r"\b(?:triangles?|flares|warning devices?|reflectors)\b"),
        (1.5, r"\b(?:how (?:far|many)|distances?|feet|paces|steps|met(?:er|re)s|enough|where|spacing|numbers|how far back|apart)\b"),
        (3, r"\bhow many (?:steps|paces)\b|\bhow far (?:back over|out front)\b|\bdivided (?:road|highway)\b.*\b(?:feet|far|{ft})|{ft}.*\bdivided\b|\bone way road\b.*\bfeet\b|\bcrest\b"),
        (-2, r"\bhow do i (?:unfold|set up)\b|\bwhere are the\b"),
    ),
    "air-brake-verdict": (
        (3, r"\b(?:brakes?|buzzer|low air|governor|compressor|leak ?down|spring brakes?|cut(?:s)? (?:in|out)|parking brake|built? (?:from|up)|static|applied|foot (?:on|off))\b"),
        (2, r"{psi}|{psi/min}|\bpsi\b|\bpounds\b|\b{n} (?:pounds|psi)\b|\bin {min}|\ba minute\b|{s}|{n}"),
        (2, r"\b(?:pass|fail|verdict|okay|ok|right|legal|fine|good|too much|too long|allowed|limits?|should|what psi|out of service|how much leak)\b"),
        (2, r"\b(?:spring brakes?|governor|parking brake|buzzer|low air)\b"),
        (2, r"\b(?:lost|loss|leak\w*|lose|drop)\b.*\b(?:min|minute)\b|{psi} (?:in|per|over) {min}|{psi/min}|\bpsi loss\b|{lb/min}"),
        (-5, r"\b(?:tires?|tyres?|cord|battery|breaker|gallons?|water|torque|tread|furnace|propane|regulator|volts?)\b|{awg}|{V}"),
        (-3, r"\bhow do i\b|\bsteps\b|\bburning\b"),
    ),
    "diesel-range": (
        (2, r"\b(?:diesel|diesle|fuel|tank|miles|mpg|to the gallon|range)\b|{mpg}"),
        (3, r"\b(?:how far|how many (?:miles|kilomet\w+|km)|how manny miles|range|miles left|miles to empty|where do i need to fuel|skip this fuel stop|get us to|get home|make {mi}|make {km}|will .* get us)\b"),
        (2, r"{mi}|{km}|{mpg}"),
        (2, r"\b(?:how much diesel|how many gallons|enough diesel|enough fuel|diesel for)\b"),
        (1, r"{gal}.*{mpg}|{mpg}.*{gal}|{part}.*\btank\b"),
        (-4, r"\b(?:idle|idling|idel|nuts?|lugs?|re ?torque|recheck|wheel|triangles?|odometer|wind|weigh\w*|weight|heavy|lighter|pounds|gel\w*|hours|ph|gallon is|furnace|propane|waste|fresh|tire|tires|duty|driven)\b|{A}|{awg}|{ft}"),
        (-3, r"\bconvert\b|\bmiles in\b|\bmiles per gallon is\b|\bin kilomet"),
    ),
    "idle-hours": (
        (4, r"\b(?:idle|idling|idel|idles)\b"),
        (1.5, r"\b(?:how (?:long|many|much)|hours?|burn|enough|will we|fuel|okay|cost|can we)\b"),
        (4, r"\bat {gal/h} how long\b|{gal/h}.*{gal}"),
        (2, r"\bburn\w*\b.*\bidl|\bidl\w*\b.*{h}"),
        (-3, r"\b(?:rough|stall\w*|won't|charge|bank|battery|alternator|people|water|waste|fresh)\b|{people}"),
    ),
    "diesel-weight": (
        (2.5, r"\b(?:diesel|diesle|fuel)\b"),
        (3, r"\b(?:weigh|weighs|weight|wieght|heavy|heavier|lighter|pounds|kilos|tons|tonnes)\b"),
        (2, r"\bburning {gal}"),
        (3, r"\bnumber {n}\b.*\bweigh|\bweight is number|\bgallons more weigh\b|\btopping off add\b"),
        (-4, r"\b(?:axles?|axel|gross|propane|miles|range|how far|water and|idle)\b"),
    ),
    "axle-load": (
        (4, r"\b(?:axles?|axel|gross weight|scaled?|on the (?:drive|steer|tag)|the gross|duals and tag|what the gross|bridge formula)\b"),
        (1.5, r"\b(?:over|under|legal|limit|how much|how many|weight|pass|left|load|going over|pounds)\b|{lb}"),
        (2.5, r"\bto the rear\b|\bscaled at\b|\bdrive axle\b"),
        (3.5, r"\b(?:push us over|load {bag}|load {n} bags|take us under|go(?:ing)? over|moving {lb})\b"),
        (-4, r"\b(?:tread|psi|shore|watts?|amps?|bleach|volts?|torque|nuts|over ten|weighs? {lb}|tare|propane|cylinder)\b|{32nds}|{psi}"),
    ),
    "co-meaning": (
        (3, r"{ppm}|\b(?:ppm|carbon monoxide|co (?:number|level|limit|display|reading)|co reads|parts per million)\b|\bsafe co\b"),
        (2, r"\b(?:mean|dangerous|how bad|safe|limit|okay|normal|too high|deadly|harmful|get out|alarm go off|get sick|right reading|what level|number|high is)\b"),
        (-5, r"\b(?:bleach|chlorine|dose|tank|water|gallons?)\b"),
        (1.5, r"\breading of {n}|\bif it says {n}|\bright reading\b"),
        (1.5, r"\bdetector\b|\balarm\b|\bmonitor\b|\bmeter\b"),
    ),
    "unit-conversion": (
        (3, r"\bconvert\b|\bin (?:celsius|celcius|fahrenheit|kpa|psi|f|c|kph|km/h|kilomet\w+|met(?:er|re)s|lit(?:er|re)s)\b"),
        (2, r"\bhow many (?:\w+ )?(?:lit(?:er|re)s|gallons|kilos|kilograms|feet|pounds|inches|miles|met(?:er|re)s|kilomet\w+|quarts|watts|ml|millilit\w+|ft|psi|ounces|cups|minutes|hours|centimet\w+)\b (?:is|are|in|per)\b|\bto (?:lit\w+|gallons|celsius|fahrenheit|us|kpa|psi|newton met\w+)\b|\bimperial\b"),
        (1.5, r"\bis what in\b|\bwhat (?:is )?{any} in\b|\bmiles in\b|^ {any} in [fc] $|\bin (?:kpa|psi|f|celsius|fahrenheit)\b"),
        (-4, r"\b(?:propane|propain|diesel|water|bleach|axle|cord|per inch|weigh\w*|tank|fill|battery|furnace|waste|fresh|wheel|nuts?|tread|tires?|cylinder|bottle|burn|how (?:far|long))\b|{people}"),
    ),
}
"""Cues of each calculation: weight and pattern over the frame."""


_NUMBERLESS = r"\bhow (?:long|many|much|far|soon|fast|quick|late|cold|full|deep|heavy|hot|low|high|hard|bad|strong)\b|\bhowmany\b|\bwhen\b|\bwhat(?:s|'s)?\b|<"

_YES_OR_NO = frozenset(
    "which-first dump-deadline fill-by propane-days-left battery-freezing gel-risk shore-load battery-hours fresh-hours waste-hours fill-time voltage-drop"
    " cord-length cabin-cool-down freeze-time vaporization".split()
)
"""Asked for without a number or a word like "how long": "do we need to dump today"."""

MUSTS: Mapping[str, tuple[str, ...]] = {
    "propane-days-left": (r"\b%GAS%\b|\bburning\b|\bnights of heat\b|{cylinder}|{lb}|\bburned {part}|\bheat\b", r"\b(?:days?|nights?|last|hold out|run out|enough|make it|see us|get (?:us )?home|how long|how much longer|carry|hang on|when do we|last bottle|how far)\b|{day}|{night}"),
    "propane-hours": (r"\b%GAS%\b|{furnace}|{btu}|\bhow many btu", r"\bhow (?:many|much) (?:gallons|pounds)\b|\bhours?\b|\bburn|\bhow long\b|\brun ?time\b|\bbtus?\b|{h}|{btu}", r"<|\bfull\b|\bfurnaces?\b|\bspare\b"),
    "propane-weight": (r"\b%GAS%\b|{lb}|\bpounder\b", r"\bwater capacity\b|\b(?:gallons?|pounds?|lbs?|weighs?|weighed|weight|heavy|how full|percent full|how much (?:propane|gas)|kilos|lit(?:er|re)s|scales?)\b|{lb}|{gal}", r"<|\bfull\b"),
    "vaporization": (r"\b(?:vapou?r\w*|boil|feed|feeds|supply|give|gives|keep up|enough gas|quit|too cold|both valves|run|max|furnace load)\b|\boff one\b", r"\b(?:vapou?r\w*|cylinders?|bottles?|propane|gas)\b|{cylinder}", r"{temp}|{n}|\bcold\b|\bzero\b|{btu}|\bvapou?r\w*\b"),
    "requalification": (r"\b(?:re ?qual\w*|re ?cert\w*|re ?test\w*|expires?|expired?|out of date|in date|stamp\w*|dated?|made|manufactured|how many years|years?|due)\b|{year}|{month}|\bgood (?:for|until)\b", r"\b(?:cylinders?|bottles?|cilinder|spare|collar|stamp\w*)\b|{cylinder}"),
    "fill-time": (r"\bfrom {part}|\b(?:fill|fil|fills|filling|filled|full|top|put|get|hose|bucket|tank|gallons?|it|water)\b|{flow}", r"\b%LONG%\b|\bminutes\b|\b(?:fill|fil) time\b|{min}|{s}|\btime to fill\b|\bhow many gallons (?:a|per) minute\b|\bhow much (?:water|goes)\b|{flow}", r"{flow}|{min}|{s}|{h}|\b(?:fill|fil|filling|hose|bucket|put in|started at)\b"),
    "when-to-look": (r"\b(?:look|looking|peek|come back|go back|stick my head|walk away|watching|check)\b", r"\b(?:when|how long|how soon|how many minutes|what time|set me a time|next look|is it safe to leave|can i (?:go|leave))\b", r"\b(?:hose|fill\w*|tank|water|overflow|waste|bay|propane gauges|next|back)\b|{flow}|{part}|\bhow many minutes\b|\bwhen do i need to look\b"),
    "fresh-hours": (r"\b%FRESH%\b|{vol}|{use}|{shower}|\bshowers?\b", r"\b%LONG%\b|\bhow many showers\b|{shower}|\benough\b|\bmake it\b|\bget us through\b|\btill morning\b|\bdo us\b|\bhow fast\b|\bhours\b|\bshowers?\b|{gal}.*\bdo\b.*{people}|\bhow (?:much|many gallons)\b.*(?:{people}|{day})|\bruns? out when\b", r"\b(?:last|left|run\w*|hold|good|empty|gone|dry|have|make|stretch|do us|showers?|shower|enough|going through|need|use|how long|hours|out of)\b|{shower}|{people}|{use}"),
    "fill-by": (r"\b(?:fresh|frsh|water|clean|fill|fil|filling|hose)\b", r"\b(?:when|what time|what day|latest|deadline|how late|how long before|by when|by what|tonight|tomorrow|due|wait|soon enough|before having to|at what point|hour)\b", r"\b(?:fill\w*|fil|take on|taking on|top up|water (?:in )?by|need (?:a hose|water)|need a hose|wait|hose)\b", r"\b(?:when (?:do|must|should|will|are|is)|latest|deadline|how late|by when|by what|due|must|have to|need|soon enough|before having|at what point|got to|wait|hour|fill (?:it )?by|fill tonight)\b"),
    "waste-hours": (r"\b(?:waste|wste|black|gr[ae]y|sewage|holding|dirty|septic|poo|toilet|crap|sewer|full)\b", r"\b%LONG%\b|\bhours\b|\btime to full\b|\bhow fast\b|\bhold overnight\b|\bflushes\b|{flush}|\b(?:last|take|hold)\b.*(?:{h}|\bhours?\b|\bovernight\b)|\beight hours\b|{h}|\bfit\b|\bhow full will\b", r"\b(?:full|fill\w*|left|hold|have|room|last|take|overflow\w*|tops?|flush\w*|going up|rising|gallons|got|fit|it)\b|{percent}"),
    "dump-deadline": (r"\bdump\w*\b|\bempt(?:y|ied|ying)\b|\bwaste (?:has|have) to go\b|\bget rid\b", r"\b(?:when|latest|deadline|how late|how soon|how long|by when|by what|before|due|wait|what day|time to|today|tonight|tomorrow|ok to leave|get away)\b", r"\b(?:when (?:do|must|should|will|does|is|are|the)|latest|deadline|how late|how soon|by when|by what|due|must|wait|what (?:day|hour)|time to dump|do we need|need to dump|ok to leave|get away|have to)\b"),
    "which-first": (r"\b(?:first|sooner|soonest|urgent|limit|fewer hours|same time|gets me|wins|give out|stop us|before)\b", r"\b(?:fresh|clean|water|tanks?)\b", r"\b(?:waste|sewage|black|dirty|dump|tanks)\b", r"\b(?:which|wich|what|who|will|does|do|are|is it|or)\b", r"\b(?:empty|dry|full|fills?|out|gone|limit|hours|urgent|sooner|gets me|stop us|first to|wins|runs?|comes?|goes|first|problem|soonest)\b"),
    "water-weight": (r"\b(?:weigh\w*|weight|wieght|heavy|heavier|lighter|pounds|kilos|kilograms|load|lbs?|tons?)\b|{lb}", r"\b(?:water|fresh|waste|tanks?|clean|dump)\b|{vol}", r"{vol}|{part}|{n}|{in}|\b(?:full|half|on board|what does|how much)\b"),
    "tank-depth": (r"{short}|\b(?:inch|inches|inchs|depth|deep)\b|{len} (?:by|x|times) {any}|{any} (?:by|x) {any} (?:by|x)", r"\b(?:fresh|waste|water|tank|black|sewage|holding|clean|deep|depth|gallons)\b", r"\b(?:how|what|convert|equals|is|per inch)\b|\bto gallons\b"),
    "bleach-dose": (r"\b(?:bleach|bleech|clorox|chlorine|saniti[sz]\w*|disinfect\w*|shock|dose|jug|drops)\b", r"\b(?:how much|how many|what dose|dose|ounces|cups?|tablespoons|teaspoons|drops|how strong|too much|quantity|number|amount|enough|millilit\w+|ml|what)\b", r"{vol}|{percent}|{ppm}|\bhow (?:much|many|strong)\b|\b(?:bleach|bleech) (?:dose|amount|number)\b|\btoo much\b|\bwhat quantity\b"),
    "freeze-time": (r"\bcolder than\b|\b(?:lowest|coldest|freez\w*|frozen|ice|solid|ices?|unplugged)\b|\bhit (?:{temp}|{n})|\bdown to (?:{temp}|{n})|\bhow (?:cold|low) (?:can|could|will|does|would)\b", r"\b(?:how long|how many (?:\w+ )?hours|how many ours|how quick|when (?:does|will|do|would)|will|hours? (?:to|until|till|before)|time to|can we|too long|how (?:cold|low)|coldest|colder than|lowest|by morning|overnight|how much heat|how much longer)\b", r"\b(?:tank|fresh|waste|water|pipes?|hose|lines?|it|pad|unplugged|ice|gallons)\b|{vol}"),
    "heat-pad-watts": (r"\b(?:pad|tape|watts?|wats|wattage|heat)\b|{W}|{perdeg}", r"\b(?:tank|pad|tape|fresh|waste)\b", r"{temp}|{n}|{W}|\bhow (?:many|much|cold)\b|\b(?:lowest|what outside temp|at what)\b", r"\b(?:stay|hold|holds|keep\w*|enough|stand|cope|good|strong|big|behind|lowest|need\w*|lose\w*|draw|watts?|wats|wattage|heat|will)\b"),
    "wind-chill": (r"\bchil+\b|\bwindchil+\b|\bfeels?\b|\bcolder\b",),
    "frostbite": (r"\bfrost ?b[iy]te?\b|\bfrostnip\b|\bskin\b|\bgloves\b|\bbare ?hand\w*|\bcheeks\b|\bsafe time\b|\boutside\b|\bout there\b", r"\b(?:how|what|can|will|is|are|does|do|when|minutes|time)\b", r"{temp}|{speed}|{min}|{n}|\bhow (?:long|many|soon)\b|\bwhat wind chill\b"),
    "gel-risk": (r"\b(?:gel\w*|wax\w*|cloud ?points?|number {n}|blend|additive|diesel|fuel|b {n})\b|\bnumber <n>", r"{temp}|{n}|\bwhat temp\w*|\bhow cold\b|\brisk\b|\bcloud point\b|\bcold enough\b|\bhow low\b", r"\b(?:gel\w*|wax\w*|cloud\w*|blend|safe|hold|good|how low|worry|how much number|number|treated|additive|winter)\b"),
    "cabin-cool-down": (r"\b(?:cool\w*|cold|colder|lose heat|hold its heat|unheated|no heat|without heat|heat (?:quits|off|out|is off)|heat's|no furnace|furnaces? (?:off|out|quit|dead|are out)|drop\w*|freezing|hit {n}|stay above|heat off)\b|\bhit <", r"\b(?:how (?:long|cold|fast|many|quick)|when|will it|can we|time to cool|cool ?down time|inside temp|what it inside|how soon|what will)\b", r"{temp}|{n}|{h}|\b(?:overnight|by morning|furnaces? off|heat|cool ?down|cold)\b"),
    "heat-loss": (r"\b(?:btus?|heat|heet|furnaces?|duty|kilowatts?)\b|{furnace}|{btu}", r"{temp}|{n}|\b(?:how many btu|heat loss|tonight|walls|keep up)\b", r"\b(?:loss|losing|lose|need\w*|demand|keep up|keep it|hold\w*|duty|enough|working|leaks?|percent|how cold|save|takes?|how (?:much|many|hard)|goes)\b"),
    "battery-hours": (r"\b(?:batter\w*|battry|bats?|bank|house|amp hours?|lights|inverter)\b|{Ah}|\bhow many hours\b", r"\b(?:how long|how many hours|hours left|hours of|runtime|last|make it|carry|when|enough|how much longer|how many amp hours)\b", r"{A}|{W}|{Ah}|{percent}|{part}|{V}|\b(?:batter\w*|battry|bank|lights|house)\b"),
    "battery-state": (r"{V}|{n}|\bvolts?\b|\bvoltage\b|\bstate of charge\b|\bhow (?:full|charged)\b|{percent}", r"\b(?:percent\w*|charge\w*|full|low|half|flat|amp hours left|voltage|volts)\b|{V}", r"\b(?:batter\w*|battry|bank|house|charge\w*|volts?|percent\w*|flat|low|amp hours)\b|{V}"),
    "battery-charge-time": (r"\b(?:charg\w*|recharge|chrage|put it back|put|back up|alternator|full|plugged in|replace)\b|\blast {percent}", r"\b(?:how long|how many hours|hours|time|when|is .* enough|can the|do we|will it|how much)\b", r"{A}|{Ah}|{percent}|{part}|{V}|{n}|{h}|\b(?:batter\w*|bank|house|bat)\b", r"\b(?:batter\w*|bank|house|bat|amps?|amp hours|charg\w*|chrage|recharge|full)\b|{A}|{Ah}"),
    "battery-freezing": (r"\bfreez\w*\b|\bfroze\b|\bsurvive\b|\bsafe\w*\b|\bhow low\b|\bbatteries at\b", r"\b(?:batter\w*|battry|bank|acid|charge|volts?)\b|{V}|{percent}"),
    "shore-load": (r"\b(?:load|loads|watts?|amps?|draw\w*|pull\w*|together|at once|run|plug|shore|everything)\b|{A}|{W}", r"\b(?:shore|microwave|coffee|block heater|fridge|refrigerator|charger|heat pad|pad|tape|outlets|plug|heater|toaster|dryer|coach|overnight|everything)\b|{W}|{A}", r"\b(?:how (?:many|much)|hom many|total|add up|what|can|is it|is our|are we|will|load|watts)\b"),
    "breaker-limit": (r"\b(?:breakers?|braker|circuit|receptacle|outlet|fuse|gfci|socket|plug|trip)\b|{A}|\bon (?:a )?<n>|{percent} of\b", r"{A}|{n}|{W}|\bthat breaker\b|\bbreaker limit\b", r"\b(?:how|what|can|will|is|max|limit|does|do|are|ok|okay|all night|fine|too much)\b"),
    "voltage-drop": (r"\b(?:drop|lose|loss|lost|left at|volts? left|at the end|far end|hold above|see at|at the coach)\b", r"\b%CORD%\b|{awg}|{long}|\bvolt\w*\b|{V}"),
    "cord-length": (r"\b(?:how (?:long|far|many feet|many met\w+)|longest|farthest|furthest|max\w*|limit|too long|length|reach|together|fine|go|run)\b", r"\b%CORD%\b|{awg}|\bplug in\b|{A}", r"{awg}|{A}|{long}|\b(?:cord|extension|extention|cable)\b", r"\bhow (?:long|far|many feet|many met\w+)\b|\blongest\b|\bfarthest\b|\bfurthest\b|\bmax\w* (?:\w+ )?(?:length|feet|run|cord)\b|\blength\b|{long}"),
    "cord-ampacity": (r"{awg}|\b(?:gauge|gage|cord|cable|wire|extension|extention)\b", r"\b(?:amps?|amp rating|ampacity|good|carry|carries|rated|limit|watts|pull|thick|enough|handle|what (?:gauge|gage|wire|size)|which gauge|take)\b|{A}|{W}", r"{awg}|{A}|{W}|\b(?:what (?:gauge|gage|wire|size)|how thick|current limit|how much can)\b"),
    "driving-hours": (r"\b(?:driv\w*|drove|on duty|off duty|behind the wheel|co ?driver|my clock|my (?:fifteen|ten)|hours of service|hos|duty|berth|bunk|sleeper|split|restart|reset|hours? off|remain|quit|on since|seven days|hours left|how many hours)\b|{driver}|{h} in the last|\b{h} day\b|\bmy {n}", r"\b(?:hours?|how long|how much|when|till|until|left|remain|legal\w*|allowed|more|split|restart|break|time)\b|{h}"),
    "tire-pressure": (r"\b(?:tires?|tyres?|psi|steers?|duals?|rears?|fronts?|left front|right front|drives|inflated|pressure|presure|tag|pounds|warm)\b|{psi}|\bis <n>|\bset to\b|\bspec\b", r"{psi}|{n}|{temp}|\bhow (?:much|many|low)\b|\bright psi\b"),
    "tread-limit": (r"\btread\b|\btred\b|{32nds}|\bthirty seconds?\b", r"\b(?:how|what|is|legal|minimum|limit|enough|pass|allowed|can we|convert)\b|{32nds}"),
    "wheel-torque": (r"\b(?:torque\w*|foot pounds?|newton|lugs?|nuts?|how tight|wheels|stud)\b|{torque}|\bfoot bar\b|\bwrench\b", r"\b(?:how many|how tight|what|whats|torque\w*|spec|convert|enough|too much|over|should|number|how hard)\b|{torque}"),
    "wheel-recheck": (r"\b(?:re ?check\w*|re ?torque\w*|re ?tighten\w*|checking|check)\b", r"\b(?:wheels?|nuts?|lugs?|tires?|torque\w*|recheck)\b", r"{mi}|{km}|{n}|\b(?:miles|how (?:far|many|soon)|when|due|distance|mileage|odometer)\b"),
    "triangle-distances": (r"\btriangles?\b|\bflares\b|\bwarning devices?\b|\breflectors\b|\bsteps\b|\bpaces\b|\bdivided\b|\bcrest\b|\bone way road\b|\bhow far out front\b", r"\bhow (?:far|many)\b|\bdistances?\b|\bfeet\b|\bpaces\b|\bsteps\b|\bspacing\b|\bnumbers\b|\bapart\b|{len}"),
    "air-brake-verdict": (r"\b(?:brakes?|buzzer|low air|governor|compressor|leak ?down|cuts? (?:in|out)|build|built|static|applied|foot (?:on|off)|released|psi|pounds)\b|{psi}", r"{psi}|{n}|{min}|{s}|{psi/min|lb/min}|\b(?:what psi|how (?:much|many|long))\b", r"\b(?:pass|fail|verdict|ok|okay|right|legal|fine|good|too (?:much|long)|allowed|limits?|should|what psi|out of service|how (?:much|long|many)|does|is)\b"),
    "diesel-range": (r"\b(?:diesel|diesle|fuel|tank|miles|range|how far)\b|{mpg}|{mi}|{gal}", r"{gal}|{L}|{part}|{mi}|{km}|{mpg}|\b(?:how far|how many (?:miles|kilomet\w+)|miles (?:left|to empty)|range please|diesel range|where do i need to fuel)\b", r"\b(?:how far|how many|how manny|how much|range|enough|miles|make|get us|get home|need to fuel|skip|get)\b|{mi}"),
    "idle-hours": (r"\bidl\w+\b|\bidel\b|{gal/h}", r"\b(?:how (?:long|many|much)|hours?|burn\w*|enough|will we|can we|does|okay|is|what|time)\b|{h}|{gal}"),
    "diesel-weight": (r"\b(?:diesel|diesle|fuel|topping off|number <n>|gallons)\b|{gal}", r"\b(?:weigh\w*|weight|wieght|heavy|heavier|lighter|pounds|kilos|tons?|tonnes)\b"),
    "axle-load": (r"\b(?:axles?|axel|gross|scaled?|duals|tag|drive|steer|over|rear)\b", r"\b(?:over|under|legal|limit|how much|how many|weight|pass|left|load|gross|pounds|moving)\b|{lb}"),
    "co-meaning": (r"{ppm}|\bppm\b|\bcarbon monoxide\b|\bco\b|\bparts per million\b|\b(?:detector|reading)\b", r"{ppm}|{n}|\bhow (?:high|much|many)\b|\bwhat\b|\bsafe co\b"),
    "unit-conversion": (r"<", r"\bconvert\b|\bhow many\b|\bin\b|\bto\b|\bper\b"),
}
"""What must stand in the frame for a calculation to be thought of at all, whatever the cues."""


@cache
def _cues() -> tuple[tuple[str, tuple[re.Pattern[str], ...], tuple[tuple[float, re.Pattern[str]], ...]], ...]:
    return tuple(
        (
            name,
            tuple(compiled(_expand(must)) for must in (*MUSTS[name], *(() if name in _YES_OR_NO else (_NUMBERLESS,)))),
            tuple((weight, compiled(_expand(pattern))) for weight, pattern in cues),
        )
        for name, cues in CUES.items()
    )


def scores(question: Question, hints: Mapping[str, float] = {}) -> dict[str, float]:
    """What the cues say for each calculation that can be meant; a sure hint stands in for what must be said."""
    found: dict[str, float] = {}
    for name, musts, cues in _cues():
        if hints.get(name, 0.0) < _SURE_HINT and not all(must.search(question.frame) for must in musts):
            continue
        found[name] = sum(weight for weight, pattern in cues if pattern.search(question.frame))
    return found


def chosen(question: Question, hints: Sequence[tuple[str, float]]) -> str | None:
    """The calculation asked for, or None."""
    hint = {name: chance for name, chance in hints if name in CUES}
    by_cue = scores(question, hint)
    if "unit-conversion" in by_cue and _converts(question):
        by_cue["unit-conversion"] += 5.0
    if not by_cue:
        return None
    total = {name: score + HINT_WEIGHT * hint.get(name, 0.0) for name, score in by_cue.items()}
    best = max(total, key=total.__getitem__)
    if hint.get(best, 0.0) >= _SURE_HINT:
        return best if by_cue[best] >= LEAN else None
    if doubted(hints):
        amounts = sum(a.unit != "n" for a in question.amounts)
        enough = by_cue[best] >= _DESPITE - min(2, max(0, amounts - 1))
        return best if enough and amounts and asks_something(question) else None
    needed = ENOUGH
    if not asks_something(question) and not (best == "unit-conversion" and _converts(question)):
        needed = _STRONG if not _STATED.search(question.frame.replace(" at <", " <")) else 99.0
    return best if by_cue[best] >= needed else None


def doubted(hints: Sequence[tuple[str, float]]) -> bool:
    """Whether the matcher thinks that the text asks for no calculation."""
    return bool(hints) and max(chance for _, chance in hints) < _DOUBT


def _converts(question: Question) -> bool:
    """Whether it asks for one amount in another unit of the same kind."""
    wanted = asked_unit(question)
    measured = [a for a in question.amounts if a.unit not in ("n", "part", "percent", "people")]
    if not wanted or len(measured) > 1 or (not measured and len(question.amounts) != 1):
        return False
    if not measured:
        return question.has(r"\bto\b") and not question.has(r"\b(?:from|fill|full)\b")
    tag = measured[0].tag.replace("gal/min", "gpm").replace("mi/h", "mph").replace("temp", "F" if wanted == "C" else "C")
    return tag != wanted and same_kind(tag, wanted)


def asks_something(question: Question) -> bool:
    """Whether the text has the shape of a question."""
    return _ASKED.search(question.frame) is not None or "?" in question.text
