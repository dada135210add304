"""Degrees between two temperatures in the other scale: "it came up by 18 °F, what is that in Celsius" is 10, not -7.8."""

from __future__ import annotations

from cabassist.estimate.quantities import exact, shown
from cabassist.estimate.types import Estimate
from cabassist.language.calculation_amounts import Amount
from cabassist.language.calculation_inputs import Question

_MOVED = (
    r"\b(?:(?:came|come|comes|went|gone|goes|going|go|warmed|warms|cooled|cools|is|was|are|be|been|heated|got|gotten|climbed|moved|shot|crept|brought|bring|raise|raised|turn|turned) (?:it |her |the \w+ |back )*(?:up|down)|(?:up|down)"
    r"|rose|risen|rises?|warmed|warms|cooled|cools|dropped|drops?|fell|falls?|fallen|climbed|climbs|gained|gains?|lost|loses?|increased|increases?|decreased|decreases?|changed|changes?|swung|plunged|jumped|raised?(?: it| the \w+)?|lower(?:ed)?(?: it| the \w+)?)"
)
_BY = r"(?: (?:by|about|around|only|just|another|nearly|almost|roughly|some|a|good|full|as much as))*"
_APART = (
    rf"{_MOVED}{_BY} ({{temp}}|{{n}})(?! (?:to|from) <)",
    rf"\b(?:change|difference|differential|drop|rise|swing|increase|decrease|gap|spread|delta|fall|step|gain|loss)(?: (?:in|of) (?:the )?temp\w*)? (?:of|is|was|by){_BY} ({{temp}}|{{n}})",
    r"({temp}) (?:of )?(?:(?:temp\w* )?(?:difference|differential|change|swing|rise|drop|spread|gap|warm ?up)|apart|warmer|colder|hotter|cooler|higher|lower|more|less)\b",
)
_TO = r"\b(?:to|at|from|until|till) (?:about |around )?{temp}"


def degrees_apart(q: Question, wanted: str) -> tuple[float, str] | None:
    """How far two temperatures are apart and in which scale; None where a temperature itself is told, as in "fell to ten".

    Args:
        q: the question.
        wanted: the unit that the answer is asked in, or "".
    """
    degrees = q.of("temp")
    if wanted not in ("", "F", "C") or len(degrees) > 1 or q.has(_TO):
        return None
    apart = q.one(*_APART)
    if apart is None or apart.per or (degrees and apart is not degrees[0]):
        return None
    scale = _scale(apart, wanted)
    return (abs(apart.value), scale) if scale and scale != wanted else None


def _scale(apart: Amount, wanted: str) -> str:
    return apart.unit if apart.unit in ("F", "C") else {"C": "F", "F": "C"}.get(wanted, "")


def in_other_scale(degrees: float, scale: str) -> Estimate:
    """A difference of temperature in the other scale.

    Args:
        degrees: the difference.
        scale: F or C, the scale that it is told in.
    """
    other = "C" if scale == "F" else "F"
    value = degrees / 1.8 if scale == "F" else degrees * 1.8
    line = f"{shown(degrees)} °{scale} {'÷' if scale == 'F' else 'x'} 1.8 = {shown(value)} °{other}, as a difference"
    return exact("difference", value, other, working=(line,), source="exact definitions (NIST Handbook 44 App. C)")
