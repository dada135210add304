"""Which amount belongs to which subject.

Self-repairs are settled first ("forty, uh, forty five"), then subjects that share an amount are gathered
("fresh and waste are both full"), then each amount takes the subject before or after it, whichever costs less
in all. The costs are small steps; what matters is their order, which the comments give.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from cabassist.language.reading_parts import STRONG_PUNCTUATION, Amount, Reader, Subject
from cabassist.language.reading_values import NEVER

Part = Subject | Amount
Group = tuple[Subject, ...]
Misfit = Callable[[Subject, Amount], float]
"""How ill an amount fits a subject: 0 well, `NEVER` not at all."""

ALONE = 6.0
"""Cost of an amount that takes no subject."""
TWICE = 3.0
"""Cost of a subject that takes another amount."""
IDLE = 2.0
"""Cost of a subject that takes no amount; less where the word is often said by the way."""
IDLE_WORDS = {"elsewhere": 0.0, "other": 0.0, "side": 0.0, "pair": 0.0, "place": 0.5, "tank": 0.5, "temperature": 0.5}
FORWARD_LINKS = frozenset({"in", "on", "of", "for", "from", "inside", "at", "aboard", "out", "to"})
"""Words that lead from an amount to the subject behind it: "forty in the fresh"."""
SAYING = frozenset(
    {
        "is",
        "are",
        "was",
        "were",
        "at",
        "reads",
        "reading",
        "shows",
        "showing",
        "has",
        "says",
        "got",
        "now",
        "=",
        ":",
        "sitting",
        "down",
        "up",
        "to",
        "about",
        "have",
    }
)
"""Words that lead from a subject to the amount behind it: "fresh is at forty"."""
MARKS = frozenset({",", "but", "—", "–", "-", "and", "then", ".", ";", "?", "!", "…", "(", ")", ":", "/"})
JOINING = frozenset({"and", ",", "the", "both", "/", "plus", "then", "in", "on", "for", "are", "our", "also", "a"})
FILLERS = frozenset({"uh", "um", "er", "erm", "ah", "hmm", "well", "oh"})
LEADING = MARKS | {"", "the", "on", "our", "my", "in", "for"}
"""Before a place that belongs to what follows it."""
CANCELLING = frozenset({"disregard", "scratch", "strike", "forget", "ignore", "cancel", "belay", "nix"})
TEMPERATE = frozenset({"outside_temp", "inside_temp", "temperature", "place", "air_pressure"})
"""Subjects that can be below zero; "air" may be the open air."""


@dataclass(frozen=True)
class Pair:
    """An amount and the subjects it belongs to."""

    subjects: Group
    amount: Amount


@dataclass(frozen=True)
class Pairing:
    """All pairs, and what is left over."""

    pairs: tuple[Pair, ...]
    amounts: tuple[Amount, ...]
    subjects: Group


def pair(reader: Reader, subjects: Sequence[Subject], amounts: Sequence[Amount], misfit: Misfit) -> Pairing:
    """The cheapest pairing of amounts with subjects, in order."""
    parts = _grouped(_settled(reader, subjects, amounts), reader)
    groups = [part for part in parts if isinstance(part, tuple)]
    listed = [part for part in parts if isinstance(part, Amount)]
    in_turn = _paired_in_turn(parts, listed)
    if in_turn:
        used = {id(one.subjects[0]) for one in in_turn}
        return Pairing(tuple(in_turn), (), tuple(s for group in groups for s in group if id(s) not in used))
    chosen = _cheapest(reader, parts, groups, listed, misfit)
    pairs = [Pair(groups[index], amount) for amount, index in zip(listed, chosen, strict=True) if index >= 0]
    spare = [group[0] if len(group) == 1 else group for k, group in enumerate(groups) if k not in chosen]
    pairs, left = _with_places(reader, pairs, spare)
    return Pairing(tuple(pairs), tuple(a for a, index in zip(listed, chosen, strict=True) if index < 0), tuple(left))


# Self-repair


def correction_between(reader: Reader, start: int, end: int) -> str:
    """The strongest correction between two places: "cancel", "not", "strong", "weak" or ""."""
    kind = ""
    i = start
    while i < end:
        if reader.text(i) == "not" and end - i <= 3:
            return "not"
        found = reader.vocabulary.corrections.at(reader.texts, i)
        if found is None or found[0] > end:
            i += 1
            continue
        if reader.text(i) in CANCELLING:
            return "cancel"
        kind = "strong" if "strong" in (found[1], kind) else "weak"
        i = found[0]
    return kind


def _settled(reader: Reader, subjects: Iterable[Subject], amounts: Iterable[Amount]) -> list[Part]:
    """Subjects and amounts in order, without those that were taken back in the same breath."""
    parts: list[Part] = sorted([*subjects, *amounts], key=lambda part: part.start)
    for k in range(len(parts) - 1, 0, -1):
        part, before = parts[k], parts[k - 1]
        if isinstance(part, Subject) and part.what == "pair" and isinstance(before, Subject):
            # "fresh and waste are both full": the pair has been named.
            parts[k - 1 : k + 1] = [replace(before, both=True)]
    k = 0
    while k + 1 < len(parts):
        kind = correction_between(reader, parts[k].end, parts[k + 1].start)
        repaired = _repaired(reader, parts, k, kind)
        parts, k = (parts, k + 1) if repaired is None else (repaired, max(0, k - 1))
    return parts


def _repaired(reader: Reader, parts: list[Part], k: int, kind: str) -> list[Part] | None:
    """The parts after a repair between `k` and the next, or None when nothing is repaired there."""
    first, second = parts[k], parts[k + 1]
    if isinstance(first, Amount) and isinstance(second, Amount):
        return _repaired_amount(reader, parts, k, first, second, kind)
    if not kind:
        return None
    if isinstance(first, Subject) and isinstance(second, Subject):
        return _repaired_subject(parts, k, first, second, kind)
    if kind == "weak":
        return None
    if isinstance(first, Amount) and isinstance(second, Subject):
        return _repaired_pair(parts, k, first, second, kind)
    before, after = _at(parts, k - 1), _at(parts, k + 2)
    if isinstance(before, Amount) and not isinstance(_at(parts, k - 2), Subject) and not isinstance(after, Subject):
        # "forty in the fresh, no, fifty"
        return [*parts[: k - 1], first, second, *parts[k + 2 :]]
    return None


def _at(parts: Sequence[Part], k: int) -> Part | None:
    return parts[k] if 0 <= k < len(parts) else None


def _repaired_amount(
    reader: Reader, parts: list[Part], k: int, first: Amount, second: Amount, kind: str
) -> list[Part] | None:
    """ "forty, uh, forty five", "fifty not fifteen", and a number spelled out again: "fifty, five oh"."""
    spelled = (
        first.number is not None
        and first.number == second.number
        and first.unit in ("", second.unit)
        and second.start - first.end <= 3
    )
    if not kind and _trails_off(reader, parts, k):
        # The pause stands before the first telling as well.
        kind, second = "weak", replace(second, start=first.start)
    if not kind and not spelled:
        return None
    if kind == "not":
        return parts[: k + 1] + parts[k + 2 :]
    if (
        kind == "weak"
        and first.unit in ("V", "A")
        and second.unit in ("percent", "V", "A")
        and first.unit != second.unit
    ):
        return None
    plain = not (second.unit or second.level or "fraction" in (first.kind, second.kind))
    if plain and first.unit:
        second = replace(second, unit=first.unit, counted_from=second.counted_from or first.counted_from)
    return [*parts[:k], second, *parts[k + 2 :]]


def _trails_off(reader: Reader, parts: Sequence[Part], k: int) -> bool:
    """Whether an amount is broken off and told anew: "thirty one... thirty two"; not when each has its own subject."""
    first, second = parts[k], parts[k + 1]
    if not isinstance(first, Amount) or not isinstance(second, Amount):
        return False
    between = reader.texts[first.end : second.start]
    dots, dashes = between.count("."), between.count("-")
    broken = dots > 1 or dashes > 1 or "…" in between or "—" in between
    alike = first.unit in ("", second.unit) and first.level == second.level
    following = _at(parts, k + 2)
    owned = isinstance(following, Subject) and all(
        word in FORWARD_LINKS or word in JOINING for word in reader.texts[second.end : following.start]
    )
    only = all(word in FILLERS or word in (".", "…", "-", "—", ",") for word in between)
    return broken and only and alike and not owned and isinstance(_at(parts, k - 1), Subject)


def _repaired_subject(parts: list[Part], k: int, first: Subject, second: Subject, kind: str) -> list[Part] | None:
    """ "inside um outside cylinder", "fresh, no, waste"."""
    if kind == "not":
        return parts[: k + 1] + parts[k + 2 :]
    owns_amount_before = isinstance(_at(parts, k - 1), Amount) and not isinstance(_at(parts, k - 2), Subject)
    if kind == "weak" and owns_amount_before and isinstance(_at(parts, k + 2), Amount):
        return None
    if second.what == "place" and first.what == "propane":
        second = replace(second, what="propane")
    elif second.what == "propane" and second.place is None:
        second = replace(second, place=first.place)
    return [*parts[:k], second, *parts[k + 2 :]]


def _repaired_pair(parts: list[Part], k: int, first: Amount, second: Subject, kind: str) -> list[Part] | None:
    """What a correction after a whole report takes back: "fresh sixty, scratch that, waste sixty", "fresh forty, no, waste"."""
    owner, after = _at(parts, k - 1), _at(parts, k + 2)
    if not isinstance(after, Amount):
        if kind == "not":
            return parts[: k + 1] + parts[k + 2 :]
        # The amount moves to the second subject.
        return [*parts[: k - 1], first, second, *parts[k + 2 :]] if isinstance(owner, Subject) else None
    if not isinstance(owner, Subject):
        return None
    placed = owner.place in (None, second.place) and owner.which in (None, second.which)
    same = owner.what == second.what and placed and (not owner.tire or owner.tire == second.tire)
    again = after.kind == "same" or (after.number == first.number and after.unit in (first.unit, ""))
    return parts[: k - 1] + parts[k + 1 :] if same or again or kind == "cancel" else None


# Gathering


def _grouped(parts: Sequence[Part], reader: Reader) -> list[Group | Amount]:
    """The parts with subjects gathered that are named together before their amounts."""
    out: list[Group | Amount] = []
    k = 0
    while k < len(parts):
        part = parts[k]
        if isinstance(part, Amount):
            out.append(part)
            k += 1
            continue
        run = [part]
        while (
            isinstance(following := _at(parts, k + len(run)), Subject)
            and _joined(reader, run[-1], following)
            and not _set_apart(reader, part, following)
        ):
            run.append(following)
        listed = {"and", ",", "/", "plus"} & set(reader.texts[run[0].end : run[-1].start])
        # "forty in the fresh and the waste is at sixty": the fresh already has its amount.
        served = bool(out) and isinstance(out[-1], Amount) and not (len(out) > 1 and isinstance(out[-2], tuple))
        stray = [subject.what for subject in run] == ["place", "propane"] and not {"and", "plus"} & listed
        if len(run) > 1 and listed and not stray and not (served and isinstance(following, Amount)):
            out.append(_sharing(run))
        else:
            out.extend((subject,) for subject in run)
        k += len(run)
    return out


def _set_apart(reader: Reader, first: Subject, second: Subject) -> bool:
    """Whether a subject stands alone before a pause, so that what follows is told of the other: "only the outside, the inside is low"."""
    before = [word for word in reader.texts[: first.start] if word not in ("the", "our", "my", "is", "was")]
    return before[-1:] in (["only"], ["just"], ["that"]) and "," in reader.texts[first.end : second.start]


def _joined(reader: Reader, first: Subject, second: Subject) -> bool:
    return all(word in JOINING for word in reader.texts[first.end : second.start])


def _sharing(run: Sequence[Subject]) -> Group:
    """ "inside and outside cylinder", "left and right front": what one names serves the others."""
    first, last = run[0], run[-1]
    shared: list[Subject] = []
    for subject in run:
        what, tire = subject.what, subject.tire
        if what == "place":
            what = (
                last.what if last.what in ("propane", "temperature") else "propane" if first.what == "propane" else what
            )
        elif what in ("side", "tire_pressure") and last.what == "tire_pressure":
            what = "tire_pressure"
            tire = {**{k: v for k, v in last.tire.items() if k not in tire}, **tire} if len(tire) == 1 else tire
        elif what == "side" and first.what == "tire_pressure":
            what, tire = "tire_pressure", {**first.tire, **tire}
        shared.append(replace(subject, what=what, tire=tire, both=False))
    return tuple(shared)


def _paired_in_turn(parts: Sequence[Group | Amount], listed: Sequence[Amount]) -> list[Pair]:
    """Pairs of "fresh and waste are at forty and sixty": as many amounts as subjects, in the same order."""
    for k, part in enumerate(parts):
        following = parts[k + 1 :]
        if isinstance(part, tuple) and len(part) > 1 and len(part) == len(following) == len(listed):
            return [Pair((subject,), amount) for subject, amount in zip(part, listed, strict=True)]
    return []


# The cheapest pairing


def _cheapest(
    reader: Reader, parts: Sequence[Group | Amount], groups: Sequence[Group], listed: Sequence[Amount], misfit: Misfit
) -> list[int]:
    """For each amount the index of its group, or -1, at the least cost in all."""
    states: dict[int, tuple[float, list[int]]] = {-1: (0.0, [])}
    for amount in listed:
        seen = sum(isinstance(part, tuple) for part in parts[: parts.index(amount)])
        prices = {-1: ALONE}
        for index in (seen - 1, seen):
            if 0 <= index < len(groups):
                prices[index] = _cost(reader, groups[index], amount, misfit, is_before=index < seen)
        following: dict[int, tuple[float, list[int]]] = {}
        for last, (cost, chosen) in states.items():
            for index, price in prices.items():
                if price >= NEVER or -1 < index < last:
                    continue
                state = max(index, last)
                skipped = sum(_idle(group) for group in groups[last + 1 : index]) if index > last else 0.0
                total = cost + price + skipped + (TWICE if index == last >= 0 else 0.0)
                if state not in following or total < following[state][0]:
                    following[state] = (total, [*chosen, index])
        states = following
    ends = [
        (cost + sum(_idle(group) for group in groups[last + 1 :]), chosen) for last, (cost, chosen) in states.items()
    ]
    return min(ends, key=lambda end: end[0])[1]


def _idle(group: Group) -> float:
    subject = group[0]
    return 0.5 if subject.loose else IDLE_WORDS.get(subject.what, IDLE)


def _cost(reader: Reader, group: Group, amount: Amount, misfit: Misfit, is_before: bool) -> float:
    """What it costs an amount to take a group that stands before or after it."""
    cost = max(misfit(subject, amount) for subject in group)
    start, end = (group[-1].end, amount.start) if is_before else (amount.end, group[0].start)
    words = [reader.text(i) for i in range(start, end) if not reader.taken[i]]
    if amount.level and words[-2:] == ["good", "and"]:
        words = words[:-2]
    if correction_between(reader, start, end):
        # What was taken back between them does not part them.
        words = [word for word in words if word not in reader.vocabulary.corrections.words and word not in MARKS]
    below = (amount.number or 0) < 0 and not amount.unit and not amount.below_zero
    if (
        cost >= NEVER
        or _too_far(reader, amount, words, is_before)
        or (below and not is_before and group[0].what not in TEMPERATE)
    ):
        # "minus thirty, water aboard" is the weather.
        return NEVER
    cost += sum(_parting(word, reader) for word in words)
    if is_before:
        return cost - (0.5 if reader.words[group[-1].end - 1].owner or any(word in SAYING for word in words) else 0.0)
    if any(word in FORWARD_LINKS for word in words[:2]):
        return cost - 1.0
    return cost + (0.5 if all(word == "the" for word in words) else 1.0)


def _parting(word: str, reader: Reader) -> float:
    """How much a word between a subject and an amount sets them apart."""
    if word in STRONG_PUNCTUATION:
        return 3.0
    if word in ("and", "then"):
        return 1.5
    if word in (",", "but", "—", "–"):
        return 1.0
    return 0.0 if _tells_nothing(word, reader) else 0.7


def _tells_nothing(word: str, reader: Reader) -> bool:
    return word in SAYING or word in FORWARD_LINKS or word in reader.vocabulary.between


def _too_far(reader: Reader, amount: Amount, words: Sequence[str], is_before: bool) -> bool:
    """Whether too much stands between a subject and an amount; a number without a unit must stand close."""
    foreign = [word for word in words if word not in MARKS and not _tells_nothing(word, reader)]
    bare = not amount.unit and amount.kind != "fraction"
    linked = is_before or reader.text(amount.end - 1) == "of" or any(word in FORWARD_LINKS for word in words[:2])
    if amount.level and not linked and amount.kind != "lamp":
        # "the empty bottle" names a bottle; it reports nothing.
        return True
    if is_before and len(words) > 1 and (words[-1] == "it" or list(words[-2:]) in (["it", "is"], ["it", "now"])):
        # "the waste was dumped and it's empty"
        return len(foreign) > 2
    allowed = 1 if amount.level else 0 if bare else 3 if is_before else 2 if linked else 1
    marked = any(word in MARKS for word in words)
    paused = is_before and not foreign and all(word == "," for word in words if word in MARKS)
    plain = paused or all(word in SAYING or word in MARKS or word in ("it", "the") for word in words)
    return len(foreign) > allowed or ((bare or amount.level) and marked and not plain)


# Places told after the amount


def _with_places(
    reader: Reader, pairs: list[Pair], spare: Sequence[Subject | Group]
) -> tuple[list[Pair], list[Subject]]:
    """The pairs with places that stand apart from their subject: "propane forty percent on the outside"."""
    left: list[Subject] = []
    for item in spare:
        if isinstance(item, tuple):
            left += item
            continue
        taker = next(
            (k for k, one in enumerate(pairs) if _takes_place(one, item, len(pairs) == 1 and item.what == "propane")),
            None,
        )
        if taker is None:
            left.append(item)
            continue
        owner = pairs[taker].subjects[0]
        if item.what == "place" and item.end <= owner.start and reader.text(item.start - 1) not in LEADING:
            continue  # "we are parked outside, propane is at forty"
        place = owner.place or item.place or (item.what.removesuffix("_temp") if item.what.endswith("_temp") else None)
        filled = replace(owner, place=place, which=owner.which or item.which, tire={**item.tire, **owner.tire})
        pairs[taker] = Pair((filled,), pairs[taker].amount)
    return pairs, left


def _takes_place(one: Pair, spare: Subject, alone: bool) -> bool:
    owner = one.subjects[0]
    if len(one.subjects) > 1 or owner is spare:
        return False
    if owner.what == "propane" and owner.place is None and spare.place and spare.what in ("place", "propane"):
        return alone or abs(spare.start - one.amount.end) <= 4 or abs(spare.end - owner.start) <= 3
    if owner.what == "temperature" and owner.place is None:
        return spare.what in ("place", "outside_temp", "inside_temp")
    if owner.what == "tire_pressure" and spare.what in ("side", "tire_pressure"):
        return not (set(owner.tire) & set(spare.tire))
    return owner.what == spare.what == "air_pressure" and owner.which is None and spare.which is not None
