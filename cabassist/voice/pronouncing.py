"""How a word that the recogniser's dictionary lacks is pronounced, in the phones of the CMU dictionary.

espeak-ng knows how to say any word; its phonemes (in the International Phonetic Alphabet, American English) are
written in ARPAbet by a table. Without espeak-ng only possessives and plurals of known words can be made.
"""

from __future__ import annotations

import ctypes
import os
from collections.abc import Callable, Sequence

_ARPABET = {
    "tʃ": "CH", "dʒ": "JH", "aɪɚ": "AY ER", "aɪə": "AY AH", "aɪ": "AY", "aʊ": "AW", "eɪ": "EY", "oʊ": "OW", "ɔɪ": "OY", "əʊ": "OW",
    "ɑːɹ": "AA R", "ɔːɹ": "AO R", "oːɹ": "AO R", "ɛɹ": "EH R", "ɪɹ": "IH R", "ʊɹ": "UH R", "iə": "IY AH", "ɜːɹ": "ER", "əl": "AH L", "ən": "AH N",
    "iː": "IY", "uː": "UW", "ɑː": "AA", "ɔː": "AO", "ɜː": "ER", "oː": "AO", "n̩": "AH N", "l̩": "AH L",
    "ɚ": "ER", "ɝ": "ER", "æ": "AE", "ɛ": "EH", "ɪ": "IH", "ᵻ": "IH", "i": "IY", "ɒ": "AA", "ɑ": "AA", "ɔ": "AO", "o": "OW", "ʌ": "AH", "ə": "AH", "ɐ": "AH",
    "ʊ": "UH", "u": "UW", "e": "EH", "a": "AA", "b": "B", "d": "D", "ð": "DH", "f": "F", "ɡ": "G", "g": "G", "h": "HH", "j": "Y", "k": "K", "l": "L",
    "ɬ": "L", "m": "M", "n": "N", "ŋ": "NG", "p": "P", "ɹ": "R", "r": "R", "s": "S", "ʃ": "SH", "t": "T", "ɾ": "T", "θ": "TH", "v": "V", "w": "W",
    "ʍ": "W", "x": "K", "z": "Z", "ʒ": "ZH",
}  # fmt: skip
_LONGEST = max(map(len, _ARPABET))
_HISSING = frozenset({"S", "Z", "SH", "ZH", "CH", "JH"})
_VOICELESS = frozenset({"P", "T", "K", "F", "TH"})


def arpabet(ipa: str) -> str | None:
    """Phonemes of the International Phonetic Alphabet as ARPAbet; None when one of them is not known."""
    text = "".join(c for c in ipa if c not in "ˈˌ_ ;.‍")
    phones: list[str] = []
    at = 0
    while at < len(text):
        size = next((n for n in range(_LONGEST, 0, -1) if text[at : at + n] in _ARPABET), 0)
        if not size:
            if text[at] != "ː":
                return None
            size = 1
        else:
            phones += _ARPABET[text[at : at + size]].split()
        at += size
    return " ".join(phones) or None


def with_s(phones: str) -> str:
    """The phones of a word with the ending 's."""
    last = phones.rsplit(maxsplit=1)[-1]
    ending = "IH Z" if last in _HISSING else "S" if last in _VOICELESS else "Z"
    return f"{phones} {ending}"


def pronounced(words: Sequence[str], known: Callable[[str], str | None]) -> dict[str, str]:
    """Phones of each word for which a way can be found; `known` gives those of the dictionary's own words."""
    found: dict[str, str] = {}
    left: list[str] = []
    for word in words:
        stem = word[:-2] if word.endswith("'s") else word[:-1] if word.endswith("s") else ""
        phones = known(stem) if len(stem) > 1 else None
        if phones is not None:
            found[word] = with_s(phones)
        else:
            left.append(word)
    if left:
        say = _espeak()
        for word in left if say is not None else ():
            assert say is not None
            spoken = arpabet(say(word))
            if spoken:
                found[word] = spoken
    return found


def _espeak() -> Callable[[str], str] | None:
    """A function from a word to its phonemes, or None when there is no espeak-ng."""
    try:
        import espeakng_loader

        data, library = espeakng_loader.get_data_path(), espeakng_loader.get_library_path()
        os.environ.setdefault("ESPEAK_DATA_PATH", os.path.dirname(data))
        lib = ctypes.CDLL(library)
    except (ImportError, OSError):
        return None
    retrieve, no_exit = 2, 0x8000
    if lib.espeak_Initialize(retrieve, 0, data.encode(), no_exit) < 0 or lib.espeak_SetVoiceByName(b"en-us") != 0:
        return None
    lib.espeak_TextToPhonemes.restype = ctypes.c_char_p
    lib.espeak_TextToPhonemes.argtypes = [ctypes.POINTER(ctypes.c_char_p), ctypes.c_int, ctypes.c_int]
    utf8, ipa = 1, 2

    def say(word: str) -> str:
        rest = ctypes.c_char_p(word.encode())
        parts: list[str] = []
        while rest.value:
            spoken = lib.espeak_TextToPhonemes(ctypes.byref(rest), utf8, ipa)
            parts.append((spoken or b"").decode("utf-8", "replace"))
        return "".join(parts)

    return say
