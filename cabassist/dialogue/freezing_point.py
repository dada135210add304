"""How cold it must be before tanks, lines and the waste valve freeze: where water freezes, and what pad and tape hold off.

The heat that a pad or tape gives makes up for so many degrees by the profile's heat loss, taken at its worst; no more is promised,
for a valve, a line and a tank in the wind freeze before.
"""

from __future__ import annotations

from cabassist.coach import Tank
from cabassist.dialogue import danger_first, properties
from cabassist.dialogue.types import Mind, Outcome, State
from cabassist.estimate.lumped import LOSS_SPREAD
from cabassist.language.lazy import Lazy, names_any
from cabassist.language.normalise import plain

_WASTE = r"(?:waste|sewage|black|dump|gray|grey|holding|drain|sewer)"
_WHAT = rf"(?:water|tanks?|pipes?|lines?|plumbing|taps?|hose|pump|{_WASTE}(?: (?:water|tank|valve|line|hose))?|valves?|toilet)"
_FREEZES = r"(?:fre?ezes?|freezing|froze|frozen|ices?(?: up)?|iced|turns? to ice|locks? up|seizes?)"
_ASKED = Lazy(
    rf"^(?:(?:so|and|but|ok|okay|hey|well|now|tell me|about|roughly) )*(?:(?:how (?:cold|low|far down|many degrees)|(?:at |below |under )?(?:what|which)(?:'s| is)?(?: the)? (?:outside )?(?:temp\w*|degrees?|point|cold))\b.*\b(?:{_WHAT}\b.*\b{_FREEZES}|{_FREEZES}\b.*\b{_WHAT})\b.*|(?:what(?:'s| is) )?(?:the )?freezing (?:point|temp\w*) (?:of|for) (?:the )?(?:[a-z]+ )?{_WHAT}|when (?:is|does) it (?:get )?cold enough (?:for|to) .*\b{_FREEZES}\b.*)$"
)
_OTHER = Lazy(
    r"\d|\b(?:how long|hours?|diesel|fuel|def|gel\w*|antifreeze|washer|batter\w*|inside|cabin|bunks?|bleach|skin|finger\w*|hands?|people|furnaces?|propane|gas|brakes?|air (?:line|tank)s?|unfreeze|thaw\w*|tonight|morning|by|minus|below zero|zero|ten|twenty|thirty|forty)\b"
)
_POINT = "Water begins to freeze at 32 °F (0 °C)."


def asked(state: State, text: str, mind: Mind) -> Outcome | None:
    """Where it freezes and what the coach holds off; None for anything else, with a figure to reckon with, and in a danger."""
    said = plain(text)
    if not names_any(said, ("freez", "frez", "froze", " ice", "iced", "seize", "lock up", "locks up")):
        return None
    if not _ASKED.match(said) or _OTHER.search(said) or danger_first.danger(state, mind) is not None:
        return None
    waste = Lazy(rf"\b{_WASTE}\b|\bvalve\b").search(said) is not None
    tank = mind.coach.tank("waste" if waste else "fresh")
    lines = [_POINT]
    watts = (tank.heat_tape.power_w if tank.heat_tape else 0.0) or tank.heat_pad_w
    name = f"{'waste' if waste else 'fresh'} tank"
    if watts:
        warmer = "heat tape" if tank.heat_tape else "heat pad"
        lines.append(
            f"By the profile the {warmer} of {watts:g} watts holds the {name} down to about {_coldest(watts, tank)}, with power on and the bay shut."
        )
    first = "The valve" if waste else "Lines and hoses"
    lines.append(f"{first} may freeze before, and wind brings it sooner.")
    if waste and tank.heat_tape is not None:
        place, color = mind.facts.get("heat_tape.light_place"), mind.facts.get("heat_tape.light_color")
        lines.append(f"See that the tape's light is {color}: {place}.")
        return properties.told(state, " ".join(lines), mind, topic="check-heat-tape", said=text)
    return properties.told(state, " ".join(lines), mind, topic="protect-water-from-freezing", said=text)


def _coldest(watts: float, tank: Tank) -> str:
    """The air at which the heat given still equals the heat lost, were the loss as great as it may be."""
    celsius = -watts / (tank.heat_loss_w_per_k * (1 + LOSS_SPREAD))
    return f"{round(celsius * 1.8 + 32):g} °F ({round(celsius):g} °C)"
