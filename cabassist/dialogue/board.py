"""The board: every supply with its level, the age of that, the time left, when to act, and why.

One frozen value for the terminal, for programs and for the screen; the numbers come from `estimate/ledger.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from cabassist.coach import Coach
from cabassist.dialogue import phrases
from cabassist.dialogue.accounts import Accounts, Cylinders
from cabassist.dialogue.board_words import (
    act_words,
    amount_words,
    left_words,
    moved_lines,
    odd_words,
    rate_lines,
    rate_words,
)
from cabassist.dialogue.types import Mind, State, Stored
from cabassist.estimate.clock import later
from cabassist.estimate.ledger import Account, Entry, entry
from cabassist.estimate.quantities import shown
from cabassist.estimate.types import Estimate
from cabassist.language.plausibility import label


@dataclass(frozen=True)
class BoardLine:
    """One supply as it stands. What is not known is None, and its words say what to tell."""

    what: str
    """Name of the reading: fresh, waste, propane, house_battery, diesel, def, or another tank's name."""
    which: str | None
    """The cylinder's role, else None."""
    name: str
    """What a driver calls it: "Fresh water", "Outside cylinder"."""
    level: float | None
    """Share of full now, 0–1: the last reading carried on by what is used."""
    level_words: str
    said_at: datetime | None
    """When the latest reading was said."""
    age_words: str
    left_h: float | None
    """Hours from `Board.at` until it is empty, or the waste tank at its limit; in the middle."""
    left_low_h: float | None
    """The same with a chance of one in ten that it comes sooner."""
    left_high_h: float | None
    """The same with a chance of one in ten that it comes later; None when it is beyond the hours looked at."""
    left_words: str
    """The time left in words, with its range; or what must be told to know it."""
    act_by: datetime | None
    """Fill or dump by then: the early end less a margin."""
    act_words: str
    history: tuple[tuple[datetime, float], ...] = ()
    """Levels as they were read, oldest first: moment, share of full."""
    forecasts: tuple[tuple[datetime, float], ...] = ()
    """How the forecast has moved: moment of each reading, hours left as forecast then."""
    why: tuple[str, ...] = ()
    """Working lines, results first; then what was assumed, and the source."""
    rate_words: str = ""
    """How fast it goes, with its range."""
    estimate: Estimate | None = None
    """The time left as a calculation, with everything needed to check it."""
    odd: str = ""
    """A short question when the last reading does not fit what was known, else nothing."""


@dataclass(frozen=True)
class Board:
    """Everything at one moment."""

    at: datetime
    lines: tuple[BoardLine, ...]


def board_of(state: State, mind: Mind, now: datetime) -> Board:
    """The board from the readings that stand: every supply this coach has, in the same order every time."""
    return board_from(state.stored, mind.coach, now)


def board_from(stored: Sequence[Stored], coach: Coach, now: datetime) -> Board:
    """The board from readings and a profile alone."""
    accounts = Accounts(coach, stored, now)
    lines = [_line(tank.name, accounts) for tank in coach.tanks]
    lines += _propane(accounts)
    lines += [_line("house_battery", accounts), _line("diesel", accounts)]
    if coach.diesel.def_capacity_gal:
        lines.append(_line("def", accounts))
    return Board(now, tuple(lines))


def lines_of(what: str, state: State, mind: Mind, now: datetime) -> tuple[BoardLine, ...]:
    """The lines of one supply: each cylinder for propane, one line for any other."""
    accounts = Accounts(mind.coach, state.stored, now)
    return tuple(_propane(accounts)) if what == "propane" else (_line(what, accounts),)


def first_due(board: Board) -> BoardLine | None:
    """The line on which something must be done first, or that is over soonest where nothing must."""
    known = [line for line in board.lines if line.estimate is not None and line.left_low_h is not None]
    acts = [line for line in known if line.act_by is not None]
    if acts:
        return min(acts, key=lambda line: (line.act_by, line.name))
    return min(known, key=lambda line: (line.left_low_h, line.name)) if known else None


# -- lines ---------------------------------------------------------------------------------------------------------


def _blank(what: str, which: str | None) -> BoardLine:
    return BoardLine(what, which, label(what, which), None, "not read yet", None, "", None, None, None, "", None, "")


def _line(what: str, accounts: Accounts) -> BoardLine:
    """One supply that is not propane."""
    line = _read(_blank(what, None), accounts)
    account, ask = accounts.account(what)
    if account is None:
        return replace(line, left_words=ask)
    made = entry(account, accounts.now)
    line = _settled(line, account, made, accounts, made.level / account.supply.capacity)
    before = line.history[-2][1] if len(line.history) > 1 else None
    return replace(line, odd=odd_words(what, made, before))


def _read(line: BoardLine, accounts: Accounts) -> BoardLine:
    """The line with what was read, before anything is worked out."""
    history = accounts.history(line.what, line.which)
    if not history:
        return line
    at, level = history[-1]
    words = amount_words(line.what, line.which, level, accounts.coach)
    return replace(
        line, level=level, level_words=words, said_at=at, age_words=phrases.ago(at, accounts.now), history=history
    )


def _settled(line: BoardLine, account: Account, made: Entry, accounts: Accounts, level: float) -> BoardLine:
    """The line with what the ledger says."""
    now, left = accounts.now, made.left
    words = amount_words(line.what, line.which, level, accounts.coach)
    read = line.history[-1][1]
    if abs(level - read) >= 0.005:
        words = f"about {words} now; read {shown(100 * read, 3)} %"
    hours = account.written.span == "h"
    act_by = later(now, made.act) if hours and made.act is not None else None
    full = shown(account.supply.capacity * account.written.per_amount)
    of_full = f"level: {shown(made.level * account.written.per_amount)} ÷ {full} x 100 = {shown(100 * level)} %"
    sums = () if line.which else (of_full,)
    rates = rate_lines(account, made.rate, made.belief.rate_sd)
    why = (*sums, *left.working, *rates, *moved_lines(made.forecasts, account.written.span))
    return replace(
        line,
        level=level,
        level_words=words,
        left_h=left.value if hours else None,
        left_low_h=left.low if hours else None,
        left_high_h=left.high if hours else None,
        left_words=left_words(line.what, left),
        act_by=act_by,
        act_words=act_words(line.what, made.act, now, account.written.span),
        forecasts=made.forecasts,
        why=(*why, *(f"assumed: {one}" for one in left.assumptions), f"source: {left.source}"),
        rate_words=rate_words(account, made.rate),
        estimate=left,
    )


# -- propane -------------------------------------------------------------------------------------------------------


def _propane(accounts: Accounts) -> list[BoardLine]:
    """A line for each cylinder that feeds: the first until it is empty, the last until there is no heat."""
    roles = [str(c.role) for c in accounts.coach.propane.cylinders if c.role != "spare"]
    lines = {role: _read(_blank("propane", role), accounts) for role in roles}
    account, ask = accounts.account("propane")
    if account is None:
        return [replace(line, left_words=ask if line.history else "") for line in lines.values()]
    cylinders = accounts.cylinders()
    left = entry(account, accounts.now).level
    for place, role in enumerate(cylinders.order):
        lines[role] = _cylinder(lines[role], account, cylinders, place, left, accounts)
    return list(lines.values())


CHANGEOVER_MARGIN_H = 1.0
"""In hand before a changeover by hand. Common practice, no source."""


def _cylinder(
    line: BoardLine, account: Account, cylinders: Cylinders, place: int, together: float, accounts: Accounts
) -> BoardLine:
    role = cylinders.order[place]
    behind = sum(cylinders.shares[r] * accounts.size_kg(r) for r in cylinders.order[place + 1 :])
    before = sum(cylinders.shares[r] * accounts.size_kg(r) for r in cylinders.order[:place])
    # An empty one behind feeds nobody: the heat ends with this one.
    last = place == len(cylinders.order) - 1 or behind <= 0.0
    mine = accounts.size_kg(role) * cylinders.shares[role]
    # The cylinders behind stand untouched until this one is empty; one in front that is not empty leaves this whole.
    inside = min(max(together - behind, 0.0), mine if before else accounts.size_kg(role))
    # A changeover by hand has to be made before the first is empty; an automatic one needs nobody.
    by_hand = not last and not accounts.coach.propane.automatic_changeover
    own = replace(account, limit=behind, margin=CHANGEOVER_MARGIN_H if by_hand else account.margin if last else None)
    made = entry(own, accounts.now)
    line = _settled(line, own, made, accounts, inside / accounts.size_kg(role))
    per, unit = account.written.per_amount, account.written.amount
    size = accounts.size_kg(role)
    whole = f"{shown(together * per)} - {shown(behind * per)} = {shown((together - behind) * per)} {unit}"
    sums = (
        f"in the {role} cylinder, of all that is left: {whole}",
        f"level: {shown(inside * per)} ÷ {shown(size * per)} x 100 = {shown(100 * inside / size)} %",
    )
    line = replace(line, why=(*sums, *line.why))
    if not last:
        after = cylinders.order[place + 1]
        words = act_words("changeover", made.act, accounts.now, "h") if by_hand else f"then the {after} cylinder feeds"
        line = replace(line, act_words=words)
    return replace(line, odd=odd_words("propane", made, None) if last else "")


__all__ = ["Board", "BoardLine", "board_from", "board_of", "first_due", "lines_of"]
