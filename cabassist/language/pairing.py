"""Which amount belongs to which subject.

Self-repairs are settled first ("forty, uh, forty five"), then subjects that share an amount are gathered
("fresh and waste are both full"), then each amount takes the subject before or after it, whichever costs less
in all. The costs are small whole steps; what matters is their order, which the comments give.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from cabassist.language.reading_parts import Amount, Reader, Subject

Part = Subject | Amount
Fits = Callable[[Subject, Amount], float]
"""How ill an amount fits a subject: 0 well, `NEVER` not at all."""

NEVER = 100.0
ALONE = 6.0
"""Cost of an amount that takes no subject."""
IDLE = 2.0
"""Cost of a subject that takes no amount."""
TWICE = 3.0
"""Cost of a subject that takes another amount."""
FORWARD_LINKS = frozenset({"in", "on", "of", "for", "from", "inside", "at", "aboard", "with", "out", "to"})
SAYING = frozenset({"is", "are", "at", "reads", "reading", "shows", "showing", "has", "says", "got", "now", "=", ":", "sitting", "down", "up", "to", "about", "have"})
SMALL = SAYING | FORWARD_LINKS | frozenset(
    """
    balmy bloody built chilly cold cozy sagging toasty warm slowly mostly lovely nice good ish down minus
    a about actually again all already also an and approximately around as back bang be been believe bit both call calls came check checks close come
    comfortably counting counts currently dead definitely down dropped even exactly finally gauge getting gives giving going gone got guess guys he her
    here him hit hits hitting holding holds hovering i in indicated indicates indicating it just kind know level levels like listed lists little looking
    looks marked maybe me measured measures measuring merely meter morning my near nearly needle nicely now of on only our out perhaps plumb presently
    pressure pretty probably reached reaches read reckon registered registering registers remaining remains reported reports right roughly running said
    say says see seeing she showed sits smack so somewhat somewhere sort spot stands stays steadily steady still stood tank tells that the then there
    these they think this those today tonight too total up us value we well went
    """.split()
)  # fmt: skip
JOINING = frozenset({"and", ",", "the", "both", "/", "plus", "then", "&", "in", "on", "for", "are", "our", "also", "a"})
CANCELLING = frozenset({"scratch", "strike", "forget", "ignore", "cancel", "belay", "nix"})
MARKS = frozenset({",", "but", "—", "–", "-", "and", "then", ".", ";", "?", "!", "…", "(", ")", ":", "/"})
STOPS = frozenset({".", ";", "?", "!", "…"})


@dataclass(frozen=True)
class Pair:
    """An amount and the subjects it belongs to."""

    subjects: tuple[Subject, ...]
    amount: Amount


@dataclass(frozen=True)
class Pairing:
    """All pairs, and what is left over."""

    pairs: tuple[Pair, ...]
    amounts: tuple[Amount, ...]
    subjects: tuple[Subject, ...]


def correction_between(reader: Reader, start: int, end: int) -> str:
    """"strong", "weak" or "" for the words between two places; "cancel" and "not" are strong ones with a name."""
    kind = ""
    i = start
    while i < end:
        if reader.text(i) == "not" and end - i <= 3:
            return "not"
        found = reader.vocabulary.corrections.at(reader.texts, i)
        if found and found[0] <= end:
            if reader.text(i) in CANCELLING:
                return "cancel"
            if found[1] == "strong" or not kind:
                kind = found[1]
            i = found[0]
        else:
            i += 1
    return kind


def settled(reader: Reader, subjects: Sequence[Subject], amounts: Sequence[Amount]) -> list[Part]:
    """Subjects and amounts in order, without those that were taken back in the same breath."""
    parts: list[Part] = sorted([*subjects, *amounts], key=lambda part: part.start)
    for k in range(len(parts) - 1, 0, -1):
        part, before = parts[k], parts[k - 1]
        if isinstance(part, Subject) and part.what == "pair" and isinstance(before, Subject):
            # "fresh and waste are both full": the pair has been named.
            parts[k - 1 : k + 1] = [replace(before, both=True)]
    k = 0
    while k + 1 < len(parts):
        first, second = parts[k], parts[k + 1]
        kind = correction_between(reader, first.end, second.start)
        step = _repair(reader, parts, k, kind)
        if step is None:
            k += 1
        else:
            parts = step
            k = max(0, k - 1)
    return parts


def _repair(reader: Reader, parts: list[Part], k: int, kind: str) -> list[Part] | None:
    """The parts after one repair at `k`, or None when nothing is repaired there."""
    first, second = parts[k], parts[k + 1]
    gap = reader.texts[first.end : second.start]
    if isinstance(first, Amount) and isinstance(second, Amount):
        return _repaired_amount(parts, k, kind, gap)
    if not kind:
        return None
    before = parts[k - 1] if k else None
    after = parts[k + 2] if k + 2 < len(parts) else None
    if isinstance(first, Subject) and isinstance(second, Subject):
        if kind == "not":
            return parts[: k + 1] + parts[k + 2 :]
        free = isinstance(before, Amount) and not isinstance(parts[k - 2] if k >= 2 else None, Subject)
        if kind == "weak" and free and isinstance(after, Amount):
            return None
        merged = second
        if second.what == "place" and first.what == "propane":
            merged = replace(second, what="propane")
        elif second.what == "propane" and second.place is None and first.place:
            merged = replace(second, place=first.place)
        return [*parts[:k], merged, *parts[k + 2 :]]
    if isinstance(first, Amount) and isinstance(second, Subject) and kind != "weak":
        owner = before if isinstance(before, Subject) else None
        if kind == "not" and not isinstance(after, Amount):
            return parts[: k + 1] + parts[k + 2 :]
        if owner is None:
            return None
        if not isinstance(after, Amount):
            # "fresh forty, no, waste": the amount moves.
            return [*parts[: k - 1], first, second, *parts[k + 2 :]]
        same = owner.what == second.what and owner.place in (None, second.place) and owner.which in (None, second.which) and (owner.tire == second.tire or not owner.tire)
        if same or kind == "cancel" or (after.number == first.number and after.unit in (first.unit, "")) or after.kind == "same":
            return parts[: k - 1] + parts[k + 1 :]
    if isinstance(first, Subject) and isinstance(second, Amount) and isinstance(before, Amount) and kind != "weak":
        earlier = parts[k - 2] if k >= 2 else None
        if not isinstance(earlier, Subject) and not isinstance(after, Subject):
            # "forty in the fresh, no, fifty"
            return [*parts[: k - 1], first, second, *parts[k + 2 :]]
    return None


def _repaired_amount(parts: list[Part], k: int, kind: str, gap: Sequence[str]) -> list[Part] | None:
    first, second = parts[k], parts[k + 1]
    assert isinstance(first, Amount) and isinstance(second, Amount)
    spelled = first.number == second.number and first.unit in ("", second.unit) and len(gap) <= 3
    if not kind and not spelled:
        return None
    if kind == "not":
        return parts[: k + 1] + parts[k + 2 :]
    if second.unit == "" and second.kind not in ("fraction", "flag") and first.unit and not second.level and first.kind != "fraction":
        second = replace(second, unit=first.unit, counted_from=second.counted_from or first.counted_from)
    if first.unit in ("V", "A") and second.unit in ("percent", "V", "A") and first.unit != second.unit and kind == "weak":
        return None
    return [*parts[:k], second, *parts[k + 2 :]]


def grouped(reader: Reader, parts: Sequence[Part]) -> list[tuple[Subject, ...] | Amount]:
    """The parts with subjects gathered that are named together before one amount or as many."""
    out: list[tuple[Subject, ...] | Amount] = []
    k = 0
    while k < len(parts):
        part = parts[k]
        if isinstance(part, Amount):
            out.append(part)
            k += 1
            continue
        run = [part]
        while k + len(run) < len(parts):
            following = parts[k + len(run)]
            if not isinstance(following, Subject) or not _joined(reader, run[-1], following):
                break
            run.append(following)
        loose_amount = bool(out) and isinstance(out[-1], Amount) and not (len(out) > 1 and isinstance(out[-2], tuple))
        ends_in_amount = k + len(run) < len(parts) and isinstance(parts[k + len(run)], Amount)
        if len(run) > 1 and not (loose_amount and ends_in_amount):
            out.append(tuple(_shared_words(run)))
        else:
            out.extend((subject,) for subject in run)
        k += len(run)
    return out


def _joined(reader: Reader, first: Subject, second: Subject) -> bool:
    gap = reader.texts[first.end : second.start]
    return bool(gap) and all(word in JOINING for word in gap) and any(word in ("and", ",", "/", "plus", "&") for word in gap)


def _shared_words(run: Sequence[Subject]) -> list[Subject]:
    """"inside and outside cylinder" and "left and right front": what one names serves the others."""
    last = run[-1]
    first = run[0]
    shared: list[Subject] = []
    for subject in run:
        if subject.what == "place" and last.what in ("propane", "temperature"):
            subject = replace(subject, what=last.what)
        elif subject.what == "place" and first.what == "propane":
            subject = replace(subject, what="propane")
        elif subject.what in ("side", "tire_pressure") and last.what == "tire_pressure":
            subject = replace(subject, what="tire_pressure", tire={**{k: v for k, v in last.tire.items() if k not in subject.tire}, **subject.tire} if len(subject.tire) == 1 else subject.tire)
        elif subject.what == "tire_pressure" and last.what == "side" or (subject is last and subject.what == "side" and first.what == "tire_pressure"):
            subject = replace(subject, what="tire_pressure", tire={**first.tire, **subject.tire})
        shared.append(replace(subject, both=False))
    return shared


def pair(reader: Reader, subjects: Sequence[Subject], amounts: Sequence[Amount], fits: Fits) -> Pairing:
    """The cheapest pairing of amounts with subjects, in order."""
    parts = grouped(reader, settled(reader, subjects, amounts))
    groups = [part for part in parts if isinstance(part, tuple)]
    listed = [part for part in parts if isinstance(part, Amount)]
    pairs, used = _zipped(parts)
    if pairs:
        left = [a for a in listed if a not in [p.amount for p in pairs]]
        return Pairing(tuple(pairs), tuple(left), tuple(s for g in groups if g not in used for s in g))
    chosen = _cheapest(reader, parts, groups, listed, fits)
    made = [Pair(groups[index], amount) for amount, index in zip(listed, chosen, strict=True) if index >= 0]
    made, spare = _with_places(reader, made, [g for k, g in enumerate(groups) if k not in chosen])
    alone = tuple(amount for amount, index in zip(listed, chosen, strict=True) if index < 0)
    return Pairing(tuple(made), alone, tuple(subject for group in spare for subject in group))


def _zipped(parts: Sequence[tuple[Subject, ...] | Amount]) -> tuple[list[Pair], list[tuple[Subject, ...]]]:
    """"fresh and waste are at forty and sixty": as many amounts as subjects, in the same order."""
    for k, part in enumerate(parts):
        if isinstance(part, tuple) and len(part) > 1:
            following = list(parts[k + 1 :])
            if len(following) == len(part) == len([p for p in parts if isinstance(p, Amount)]) and all(isinstance(p, Amount) for p in following):
                return [Pair((subject,), amount) for subject, amount in zip(part, following, strict=True) if isinstance(amount, Amount)], [part]
    return [], []


def _cheapest(
    reader: Reader, parts: Sequence[tuple[Subject, ...] | Amount], groups: Sequence[tuple[Subject, ...]], listed: Sequence[Amount], fits: Fits
) -> list[int]:
    """For each amount the index of its group, or -1, at the least cost in all."""
    place = {id(part): k for k, part in enumerate(parts)}
    order = [k for k, part in enumerate(parts) if isinstance(part, tuple)]
    states: dict[int, tuple[float, list[int]]] = {-1: (0.0, [])}
    for amount in listed:
        at = place[id(amount)]
        before = max((g for g, k in enumerate(order) if k < at), default=-1)
        after = min((g for g, k in enumerate(order) if k > at), default=-1)
        following: dict[int, tuple[float, list[int]]] = {}
        for last, (cost, chosen) in states.items():
            options = [(-1, ALONE)]
            for option in {before, after} - {-1}:
                if option >= last:
                    options.append((option, _cost(reader, groups[option], amount, fits, option == before)))
            for option, price in options:
                if price >= NEVER:
                    continue
                total = cost + price
                state = last
                if option >= 0:
                    total += TWICE if option == last else sum(_idle(groups[g]) for g in range(last + 1, option))
                    state = option
                if state not in following or total < following[state][0]:
                    following[state] = (total, [*chosen, option])
        states = following
    ends = {last: (cost + sum(_idle(groups[g]) for g in range(last + 1, len(groups))), chosen) for last, (cost, chosen) in states.items()}
    return min(ends.values(), key=lambda end: end[0])[1]


def _idle(group: Sequence[Subject]) -> float:
    subject = group[0]
    return 0.0 if subject.what in ("elsewhere", "gauge", "other", "side", "pair") else 0.5 if subject.loose or subject.what in ("place", "tank", "temperature") else IDLE


def _cost(reader: Reader, group: Sequence[Subject], amount: Amount, fits: Fits, is_before: bool) -> float:
    misfit = max(fits(subject, amount) for subject in group)
    if misfit >= NEVER:
        return NEVER
    first, last = group[0], group[-1]
    start, end = (last.end, amount.start) if is_before else (amount.end, first.start)
    gap = [(i, reader.text(i)) for i in range(start, end) if not reader.taken[i]]
    cost = misfit
    for _, word in gap:
        if word in STOPS:
            cost += 3.0
        elif word in (",", "but", "—", "–", ";"):
            cost += 1.0
        elif word in ("and", "then"):
            cost += 1.5
        elif word not in SMALL:
            cost += 0.7
    words = [word for _, word in gap]
    repaired = correction_between(reader, start, end) != ""
    if repaired:
        words = [word for word in words if word not in reader.vocabulary.corrections.words and word not in MARKS]
    if _too_far(amount, words, is_before, out_of=reader.text(amount.end - 1) == "of"):
        return NEVER
    if not is_before and (amount.number or 0) < 0 and not amount.unit and not amount.below_zero and not _is_temperature(group[0]):
        # "minus thirty, water aboard" is the weather.
        return NEVER
    if is_before:
        # "fresh is forty": a verb between them binds.
        cost -= 0.5 if any(word in SAYING for word in words) or reader.words[last.end - 1].owner else 0.0
    elif any(word in FORWARD_LINKS for word in words[:2]):
        # "forty in the fresh"
        cost -= 1.0
    else:
        cost += 0.5 if not words or all(word == "the" for word in words) else 1.0
    return cost


def _is_temperature(subject: Subject) -> bool:
    return subject.what in ("outside_temp", "inside_temp", "temperature", "place", "air_pressure")


def _too_far(amount: Amount, words: Sequence[str], is_before: bool, out_of: bool) -> bool:
    """Whether too much stands between a subject and an amount; a number without a unit must stand close."""
    # "the waste was dumped and it's empty"
    points_back = is_before and len(words) > 1 and (words[-1] == "it" or words[-2:] == ["it", "is"] or words[-2:] == ["it", "now"])
    foreign = [word for word in words if word not in SMALL and word not in MARKS]
    bare = not amount.unit and amount.kind != "fraction"
    linked = is_before or out_of or any(word in FORWARD_LINKS for word in words[:2])
    if amount.level and not linked:
        # "the empty bottle" names a bottle; it reports nothing.
        return True
    if amount.level:
        allowed = 1
    else:
        allowed = 0 if bare else 3 if is_before else 2 if linked else 1
    if points_back and len(foreign) <= 2:
        return False
    marked = any(word in MARKS for word in words)
    parted = marked and (bool(foreign) or not all(word in SAYING or word in MARKS or word in ("it", "the") for word in words))
    return len(foreign) > allowed or (parted and (bare or amount.level))


def _with_places(reader: Reader, pairs: list[Pair], spare: list[tuple[Subject, ...]]) -> tuple[list[Pair], list[tuple[Subject, ...]]]:
    """Places that stand after the amount, given to the subject before it: "propane forty percent on the outside"."""
    left: list[tuple[Subject, ...]] = []
    for group in spare:
        subject = group[0]
        taker = next((k for k, p in enumerate(pairs) if _takes_place(reader, p, subject)), None)
        if taker is None:
            left.append(group)
            continue
        owner = pairs[taker].subjects[0]
        where = subject.place or (subject.what.removesuffix("_temp") if subject.what.endswith("_temp") else None)
        filled = replace(owner, place=owner.place or where, which=owner.which or subject.which, tire={**subject.tire, **owner.tire})
        pairs[taker] = Pair((filled,), pairs[taker].amount)
    return pairs, left


def _takes_place(reader: Reader, pair: Pair, subject: Subject) -> bool:
    owner = pair.subjects[0]
    if len(pair.subjects) > 1 or owner is subject:
        return False
    if owner.what == "propane" and owner.place is None and subject.place and subject.what in ("place", "propane"):
        return abs(subject.start - pair.amount.end) <= 4 or abs(subject.end - owner.start) <= 3
    if owner.what == "temperature" and owner.place is None:
        return subject.what in ("place", "outside_temp", "inside_temp")
    if owner.what == "tire_pressure" and subject.what in ("side", "tire_pressure"):
        return not (set(owner.tire) & set(subject.tire))
    if owner.what == "air_pressure" and owner.which is None:
        return subject.what == "air_pressure" and subject.which is not None
    return False
