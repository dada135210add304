"""The answer to "how are we doing": the board, the most urgent first for the ear, every supply for the eye."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import phrases
from cabassist.dialogue.types import Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language.matching import Ranking
from cabassist.language.normalise import bare

TOPIC = "hand-over-coach"
SURE = 0.5
"""Probability from which the matcher's word counts that the whole is asked for."""
_ASKED = re.compile(
    r"^(?:(?:so|ok|okay|hey|and|now|well|alright|all right|tell me|show me|read me|give me|let me see|let's see) )*(?:"
    r"how(?: are|'re)? we (?:doing|fixed|standing|looking|set)|how do we (?:stand|look)|where do we stand|(?:what(?:'s| is) )?(?:the |our )?(?:outlook|board|big picture)"
    r"|(?:is )?anything (?:running|getting) (?:low|short|out)|how are (?:our|the) (?:supplies|tanks|levels)(?: doing| looking)?|what(?:'s| is) running (?:low|out|short)(?: first)?"
    r"|(?:what|which(?: (?:one|tank|supply|of (?:them|those|these|the tanks)|thing))?)(?: of (?:all that|them|those|it all))?(?:'s| is| will| would| do(?:es)?|'ll| do you think)? (?:it be that |going to |gonna |likely to |to )?(?:gives?|give|runs?|running|run|goes|go|going|gone|dries|dry|gets?|get|quits?|quit|fails?|fill(?:s|ed)?|due|comes?|come|is due|needs?|need)(?: (?:me|us|out|up|low|short|empty|full|over|due|dry|doing|seeing to|looking after|attention|bad))* (?:first|soonest|earliest|next|before the (?:rest|others))"
    r"|(?:what|which(?: (?:one|tank|supply|of (?:them|those|these|the tanks)|thing))?) (?:do|should|must|have) (?:i|we) (?:have to |need to |got to |gotta |to )?(?:look after|see to|deal with|take care of|worry about|mind|watch|fill or dump|act on|attend to) (?:first|soonest|next)"
    r"|(?:what|which)(?:'s| is)(?: the)? (?:most urgent|most pressing|first (?:to (?:go|run out|give out|fill up|deal with))?|soonest|tightest)"
    r")(?: (?:(?:on|for|with|of) )?(?:the |our )?(?:fresh(?: water)?|water|waste|black water|propane|gas|heat|diesel|fuel|def|house battery|battery|batteries|tanks)(?: (?:or|and)(?= ))?)*"
    r"(?: (?:now|today|tonight|then|please|overall|all round|so far|right now|on (?:everything|supplies|all of it)))*$"
)
_NAMED = {
    "fresh": r"\b(?:fresh|clean water|drinking|water)\b",
    "waste": r"\b(?:waste|black|sewage|grey|gray|holding)\b",
    "propane": r"\b(?:propane|gas|heat|bottles?|cylinders?|lpg)\b",
    "house_battery": r"\b(?:house|battery|batteries)\b",
    "diesel": r"\b(?:diesel|fuel)\b",
    "def": r"\b(?:def|exhaust fluid)\b",
}
_FIRST = re.compile(r"\b(?:first|soonest|earliest|urgent|pressing|tightest|next)\b")
NOTHING = "No level is known yet. Tell me the tanks, the cylinders and how cold it is outside."


def asked(text: str, ranking: Ranking) -> bool:
    """Whether the text asks how all supplies stand."""
    if _ASKED.match(bare(text).rstrip("?!. ")):
        return True
    return bool(ranking.calculations) and ranking.calculations[0][0] == "outlook" and ranking.calculations[0][1] >= SURE


def answer(state: State, text: str, mind: Mind, now: datetime) -> Outcome:
    """The board in words; of the supplies that the question names, or of all."""
    from cabassist.dialogue.board import board_of, first_due
    from cabassist.dialogue.deadlines import as_worked

    board = board_of(state, mind, now)
    named = {what for what, pattern in _NAMED.items() if re.search(pattern, bare(text))}
    board = replace(board, lines=tuple(line for line in board.lines if not named or line.what in named))
    known = [line for line in board.lines if line.level is not None]
    first = first_due(board)
    acts = sorted(
        (line for line in known if line.act_words), key=lambda line: (line.act_by is None, line.act_by or now)
    )
    acts = [line for line in acts if not line.act_words.startswith("then ")]
    spoken = [f"{line.name}: {line.act_words}." for line in acts] or [f"{x.name}: {x.level_words}." for x in known]
    if first is not None and len(known) == 1:
        spoken = [f"{first.left_words[:1].upper()}{first.left_words[1:]}; {first.act_words or 'nothing to do yet'}."]
    missing = [line.name.lower() for line in board.lines if line.level is None]
    if first is not None and len(known) > 1 and _FIRST.search(bare(text)):
        spoken = [f"{first.name} first: {first.act_words or first.left_words}.", *spoken]
    show = tuple(_shown(line.name, line.level_words, line.age_words, line.left_words, line.act_words) for line in known)
    if first is not None and len(known) > 1 and _FIRST.search(bare(text)):
        show = (spoken[0], *show)
    if missing and known:
        show += (f"Not read yet: {', '.join(missing)}.",)
    walk = state.walk
    if walk is not None:
        show += (f"You are at step {walk.number} of {len(walk.plan)}, {mind.knowledge.title(walk.topic)}.",)
    reply = Reply(
        "calculation",
        " ".join(spoken) or NOTHING,
        show or (NOTHING,),
        topic=TOPIC,
        estimate=first.estimate if first is not None else None,
        step=phrases.mark(walk) if walk else None,
    )
    event = EventDraft(
        "worked-out",
        {
            "said": text,
            "calculation": "outlook",
            "value": reply.estimate.value if reply.estimate else None,
            "asked": "",
        },
    )
    state = replace(state, worked=as_worked(first, state), topic=TOPIC, question=text, failures=0)
    return Outcome(state, reply, (event,))


def _shown(name: str, *parts: str) -> str:
    return f"{name}: {'; '.join(part for part in parts if part)}."
