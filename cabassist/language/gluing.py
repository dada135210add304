"""Words that were taken apart, put together again: "dis connect", "re fill", "pre pair", "conn nect".

A recogniser writes a word that it does not know as several that it does, and thumbs put a space into the middle of one. The
meaning can turn on it: "dis connect" is not "connect". Only words of the list are made, and two whole words that mean
something side by side ("hand over", "pull out") are never among them.
"""

from __future__ import annotations

import re
from functools import cache

from cabassist.language.lazy import Lazy

_WHOLE = (
    "connect connected connecting connection disconnect disconnected disconnecting disconnection reconnect reconnected reconnecting unplug unplugged unplugging"
    " unhook unhooked unhooking uncouple uncoupled unlock unlocked unlatch unload unloaded unloading unfreeze unroll unscrew undo untie refill refilled refilling"
    " refuel refueled refueling reset resetting restart restarted restarting replace replaced replacing recheck rechecked retorque reload relight relit relighting recharge recharged"
    " repair repaired repairing repeat repeated resume reopen remove removed rewind discharge discharged discharging disinfect disinfecting dispose prepare prepared preparing"
    " preheat pressurize depart departure defrost defrosting deice decouple continue cancel inspect inspecting inspection winterize winterizing dewinterize sanitize"
    " sanitizing sterilize ventilate evacuate emergency extinguisher generator furnace propane cylinder cylinders battery batteries thermostat compressor radiator regulator"
    " alternator carbon monoxide passenger passengers luggage pressure antifreeze diesel coolant torque outrigger triangle triangles hydrant flashlight"
).split()
_STEMS = frozenset("pre pri re ree un dis diss dys con conn kon cun com de sani gen ventil e em".split())
"""What begins a word and is none, so that the rest may be spelt by ear."""
_AFTER_A_LETTER = frozenset("on and or the is was in at of to by for with from stamped stamp mark".split())
_MOST_PIECES = 4
_SHORTEST = 4
_THIS = Lazy(r"\bthis (?=connect(?:ed|ing|s)?\b)")
""" "Dis" as a recogniser hears it; nobody says "this connect"."""
_UNCONNECT = Lazy(r"\b(?:un|dis|de)[ -]?(?=connect(?:ed|ing)?\b)")
_PROPANE = Lazy(
    r"\b(?:pro|pur|purr|per|pra|prow|pre|poor|pole)[ -](?:pain|pane|payne|paine|pains)\b(?! (?:reliever|killer|in (?:my|the|his|her|their))\b)",
    re.IGNORECASE,
)
"""Propane as a recogniser writes it: as two words, neither of which is said in a coach."""
_PIECE = re.compile(r"[a-z]+(?:-(?= |$))?", re.IGNORECASE)


@cache
def _by_spelling() -> dict[str, str]:
    return {_single(word): word for word in _WHOLE}


@cache
def _by_ear() -> dict[str, str]:
    heard: dict[str, str] = {}
    for word in _WHOLE:
        sound = _sound(word)
        heard[sound] = "" if sound in heard else word  # two words that sound alike are told apart by nobody
    return heard


_PROPANE = Lazy(r"\b(?:purr|pur|per|pro|prow|pra|pruh|puh|prole)[ -]?(?:pane|payne|paine|pain|pein)s?\b", re.IGNORECASE)
"""Propane as a recogniser that lacks the word writes it; both halves are words, so that no spelling tells."""


def glued(text: str) -> str:
    """The text with the words of the list that stand in pieces put together."""
    text = _PROPANE.sub("propane", text) if "pa" in text.lower() or "pe" in text.lower() else text
    words = text.split()
    if len(words) < 2 or len(text) < _SHORTEST:
        return text
    if (gas := _PROPANE.sub("propane", text)) != text:
        return glued(gas)
    out: list[str] = []
    at = 0
    while at < len(words):
        whole, taken = _at(words, at)
        out.append(whole)
        at += taken
    made = " ".join(out)
    if "connect" in made.lower():
        made = _UNCONNECT.sub("dis", _THIS.sub("dis", made))
    return made if made != " ".join(words) else text


def _at(words: list[str], at: int) -> tuple[str, int]:
    """The word that begins at a place, and of how many pieces it is made."""
    by_ear = ("", 0)
    for count in range(min(_MOST_PIECES, len(words) - at), 1, -1):
        *first, last = words[at : at + count]
        tail = last.rstrip(".,!?;:")
        pieces = [*first, tail]
        if not all(_PIECE.fullmatch(piece) for piece in pieces):
            continue
        joined = "".join(piece.strip("-").lower() for piece in pieces)
        if len(joined) < _SHORTEST or any(piece.lower() in _WHOLE for piece in first):
            continue
        if whole := _by_spelling().get(_single(joined)):
            return whole + last[len(tail) :], count
        if pieces[0].lower() == "e" and pieces[1].lower() in _AFTER_A_LETTER:
            continue  # "stamped 03-22 E on the collar" is no "untie"
        if pieces[0].lower() in _STEMS and (whole := _by_ear().get(_sound(joined))):
            by_ear = (whole + last[len(tail) :], count)  # the fewest pieces: the next word is one of its own
    return by_ear if by_ear[1] else (words[at], 1)


def _single(word: str) -> str:
    """Spelling without doubled letters, which pieces double where they meet."""
    return re.sub(r"(.)\1+", r"\1", word)


def _sound(word: str) -> str:
    """About how a word sounds: vowels are one, silent and doubled letters left out."""
    sound = word.replace("ph", "f").replace("ck", "k").replace("tion", "shun")
    sound = re.sub(r"c(?=[eiy])", "s", sound).replace("c", "k").replace("q", "k").replace("z", "s")
    return re.sub(r"[aeiouwhy]+", "a", _single(sound).rstrip("e")).rstrip("a")
