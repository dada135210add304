"""One turn of the conversation: (state, what was said, now) to (state, reply, events).

The order is the safety rule: a hazard outranks everything, by its signs or by its likeness to known reports, also in
passing. Somebody hurt or ill comes next. Only a command of a few words, which can hold no report without a sign, is
obeyed before the matcher has looked. Then come commands, what the assistant waits for, and reminders; then readings, reports and calculations; last
the question, with the wishes that must be refused.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime

from cabassist.dialogue import (
    act_by,
    alarm_chirps,
    alarm_tested,
    all_out,
    all_well,
    amp_one,
    asides,
    bank_volts,
    bare_numbers,
    building,
    changing,
    cleared,
    coach_asked,
    cold_hands,
    converting,
    cord_told,
    correcting,
    cries,
    cylinder_levels,
    danger_first,
    danger_steps,
    dark_light,
    dead_alarm,
    deciding,
    defect_numbered,
    defect_put_right,
    defect_undone,
    defects,
    denied,
    differences,
    done_asked,
    done_before,
    duty,
    duty_ends,
    duty_told,
    exits_asked,
    first_aid,
    following,
    framing,
    freezing_point,
    gas_on_road,
    gas_until,
    generator_asked,
    going_back_in,
    going_on,
    grade_asked,
    greeting,
    hands_smell,
    heads_changed,
    heads_missing,
    heat_again,
    heat_supposed,
    held,
    how_known,
    how_often,
    ill_in_danger,
    keeping,
    lasting_words,
    left_over,
    levels_heard,
    limits_asked,
    manner,
    may_go,
    misopened,
    moving,
    night_watch,
    no_hookup,
    no_reading,
    no_wish,
    not_aboard,
    not_applying,
    nth_told,
    obeying,
    odd_noises,
    odours,
    of_bleach,
    of_last,
    of_number,
    of_the_step,
    of_trip,
    of_water,
    on_record,
    once_more,
    others_do_it,
    outlet_told,
    outlook,
    outside_world,
    over_asked,
    pages_named,
    parting_words,
    phrases,
    plain_peril,
    pointing,
    progress,
    properties,
    read_where,
    reading_asked,
    reckoning,
    relief_on,
    reminders,
    reminders_set,
    returning,
    riders_asked,
    rolling,
    rules_asked,
    second_thoughts,
    sheltering,
    shifting,
    shortly,
    sickness,
    snowed_in,
    stay_and_air,
    staying,
    step_asked,
    step_figures,
    stopping,
    struck,
    supposed_level,
    supposing,
    swapping,
    taking_up,
    telling,
    tingle_told,
    told_ahead,
    told_asked,
    told_at_step,
    told_done,
    too_low_asked,
    two_levels,
    unfounded,
    unit_asked,
    urgent,
    vaguely_asked,
    valves_told,
    volts_again,
    walk_asked,
    walking,
    waste_asked,
    well_in_danger,
    what_waits,
    which_supply,
    who_stays,
    whose_level,
    will_do,
    wrong_asked,
)
from cabassist.dialogue.cold_inside import is_chilled, only_cold_inside
from cabassist.dialogue.types import Given, Kept, Mind, Outcome, Reply, State
from cabassist.journal.events import EventDraft
from cabassist.language import needles
from cabassist.language.cylinder_sides import UNPLACED
from cabassist.language.danger_network import Judged
from cabassist.language.gluing import glued
from cabassist.language.matching import Ranking
from cabassist.language.normalise import MAX_CHARACTERS, bare, clean, has_words, plain, spelled_out
from cabassist.language.reading_types import Heard, Reading
from cabassist.language.routing import BOUNDS, Decision
from cabassist.language.steering import Steer
from cabassist.procedures.layer import mended
from cabassist.record.defect_words import safety_of, told_fault

_NO_NUMBER = ("step", "procedure", "unknown")
STATEMENT_WORDS = 4
"""A statement up to this long that tells a reading tells nothing else."""


def take_turn(state: State, said: str, *, mind: Mind, now: datetime) -> Outcome:
    """Answer one utterance. Timers that have run out are announced before the answer."""
    state, over = walking.due(state, now)
    outcome = keeping.after_walk(_turn(state, said, mind, now), mind, now)
    outcome = cord_told.after(state, danger_first.held(state, outcome, mind), said, mind)
    outcome = unfounded.after(state, tingle_told.after(state, outcome, said, mind, now), said, mind)
    outcome = valves_told.after(state, ill_in_danger.after(outcome, said, mind), said, mind, now)
    outcome = rolling.held(state, defects.repeated(heads_missing.after(state, outcome, said, now)), mind, now)
    reply = outcome.reply
    if state.rolling and outcome.state.rolling:
        reply, unsaid = rolling.short(reply, over)
        kept = rolling.keep(outcome.state, *(Kept(f"Timer: {announce}") for announce in unsaid))
        outcome = Outcome(kept, outcome.reply, outcome.events)
    elif over:
        lines = tuple(f"Timer: {announce}" for announce in over)
        reply = replace(reply, say=" ".join([*over, reply.say]), show=(*lines, *reply.show))
    events = tuple(EventDraft("timer", {"announce": announce}) for announce in over)
    whole = outcome.reply if state.rolling else reply  # "repeat" gives all of it once the coach is parked
    whole = manner.kept(state, outcome, whole)
    refused = reply if reply.kind == "refuse" else state.refused if reply.kind in _STILL_ABOUT_IT else None
    after = replace(outcome.state, last=whole, refused=refused)
    if after.worked is not state.worked:
        after = replace(after, earlier=state.worked, sums=(*state.sums, after.question)[-_SUMS_KEPT:])
        if reply.kind == "calculation" and after.worked is not None:
            told = Given(after.question or state.question, after.worked)
            after = replace(after, given=(*state.given, told)[-_NUMBERS_KEPT:])
    return Outcome(after, reply, (*events, *outcome.events))


_SUMS_KEPT, _NUMBERS_KEPT = 4, 8


_STILL_ABOUT_IT = ("control", "unknown")
"""Kinds of reply after which a wish that was refused may still be haggled over."""


def _turn(state: State, said: str, mind: Mind, now: datetime) -> Outcome:
    text = spelled_out(clean(said))
    if not has_words(text):
        lines = ("I heard nothing I can use. Say what you want to do, or say help.",)
        return Outcome(state, Reply("unknown", lines[0], lines, confidence=0.0))
    if mind.hazards.find(text) is None:  # a word list must never talk a hazard away
        text = glued(mended(text, mind.misheard))
    cut = len(text) > MAX_CHARACTERS
    text = text[:MAX_CHARACTERS]
    outcome = misopened.below(state, text, mind, lambda lower: _settled(lower, text, mind, now))
    outcome = misopened.after(state, text, outcome or _settled(state, text, mind, now), mind)
    outcome = odd_noises.beside(state, text, _figure_told(state, text, outcome, mind, now), mind)
    outcome = unfounded.asked_again(state, text, danger_steps.told(state, text, outcome, mind, now), mind)
    if outcome.reply.kind == "clarify" and not outcome.reply.options:
        ranking = mind.ranked(framing.without_interjection(text))
        outcome = going_on.gone_on(state, text, ranking, mind, now) or outcome
    if (
        following.unplaced(state, text, outcome)
        or following.same_again(state, text, outcome)
        or (outcome.reply.kind in _NO_NUMBER and levels_heard.varies_asked(state, text))
    ):
        outcome = following.which_number(state, mind)
    if cut:
        note = f"That was long. I used the first {MAX_CHARACTERS} characters."
        outcome = outcome._replace(reply=replace(outcome.reply, show=(note, *outcome.reply.show)))
    return outcome


def _settled(state: State, text: str, mind: Mind, now: datetime) -> Outcome:
    """What is understood, kept from leading away from the walk in hand by a report of it."""
    outcome = _understood(state, text, mind, now)
    if misopened.gone_below(state, outcome):
        return outcome
    outcome = of_the_step.held(state, text, outcome, mind, now)
    outcome = told_at_step.settled(state, text, outcome, mind, now)
    outcome = told_done.acknowledged(state, text, told_ahead.held(state, text, outcome, mind), mind)
    alone = replace(state, walks=(), asking=None)
    return walk_asked.answered(state, text, outcome, mind, lambda asked: _understood(alone, asked, mind, now))


def _commands(steer: Steer | None, text: str) -> bool:
    """Whether a text is said to the assistant and reports nothing: "next", "we are rolling now"."""
    most = ROLLING_WORDS if steer is not None and steer.verb in ("rolling", "parked") else obeying.COMMAND_WORDS
    return steer is not None and len(text.split()) <= most


ROLLING_WORDS = 6


def _judged(sign: str | None, steer: Steer | None, text: str, mind: Mind) -> Judged | None:
    """What the danger network makes of a text; None of a command, of a head count, a bare number and, without a sign, of a plain fault that it is not sure of."""
    if (
        _commands(steer, text)
        or deciding.COUNTS_HEADS.match(bare(text))
        or who_stays.counts_sleepers(text)
        or (sign is None and (only_cold_inside(text) or is_chilled(text)))
        or bare_numbers.only_a_number(text)
        or (sign is None and deciding.asks_place(text))
    ):
        return None
    judged = mind.judge(text)
    if judged is None or sign is not None or told_fault(text, mind.defect_words) is None:
        return judged
    parked = safety_of(bare(text), mind.defect_words).move == "no"  # the record says that the coach must not move
    if judged.danger >= (BOUNDS.judged_sure if parked else BOUNDS.judged_urgent):
        return judged
    alike = mind.ranked(framing.without_interjection(text)).hazard >= BOUNDS.hazard
    return judged if alike else None  # "brake's hissing at the left rear" is a defect


def _spoken_out(state: State, text: str, mind: Mind) -> str:
    """The text with what it only points at put in: a handshake, the battery's volts, the reminder that is due, the bottle, the breaker, the cylinder."""
    text = bank_volts.spoken_out(relief_on.without_handshake(text), mind)
    text = of_bleach.spoken_out(state, reminders.what_is_due(state, will_do.spelled(state, text)))
    return lasting_words.spelled(state, which_supply.spoken_out(state, amp_one.spoken_out(state, text)), mind)


def _of_people(
    state: State, text: str, sign: str | None, judged: Judged | None, mind: Mind, now: datetime
) -> Outcome | None:
    """What is told of people in a danger: all out, somebody inside, hurt or ill; None for anything else."""
    out = None if cleared.is_cleared(state, text, mind) else all_out.told(state, text, mind, now)
    if out is not None or not (sign is None or well_in_danger.somebody_down(state, text, mind)):
        return out
    return (
        well_in_danger.told(state, text, mind)
        or first_aid.told(state, text, judged, mind)
        or urgent.told(state, text, judged, mind)
    )


def _understood(state: State, text: str, mind: Mind, now: datetime) -> Outcome:
    if (early := _cried(state, text, mind, now) or _early(state, text, mind, now)) is not None:
        return early
    text = _spoken_out(state, text, mind)
    sign = seen = mind.hazards.find(progress.without_services(text, state, mind))
    steer = mind.steering.find(text) if sign is None else None
    judged = _judged(sign, steer, text, mind)
    if sign is None and (
        plain_first := returning.titled(text, state, mind, now)
        or plain_peril.told(state, text, mind, now)
        or heads_missing.told(state, text, mind, now)
        or riders_asked.unbelted(state, text, mind)
        or _in_passing(state, text, mind, now)
        or _plain_sum(state, steer, text, judged, mind, now)
    ):
        return plain_first
    sign = urgent.weighed(sign, text, judged, state, mind)
    if (other := _of_people(state, text, sign, judged, mind, now)) is not None:
        return other
    steer = steer if sign is None and not supposing.goes_on(state, text) else None
    if sign is None and (obeyed := _at_once(state, steer, text, mind, now)) is not None:
        return obeyed
    heard = unit_asked.settled(
        correcting.put_right(levels_heard.heard_in(text, state, mind), text, state, mind), text, mind
    )
    ranking = mind.ranked(framing.without_interjection(text))
    decision = _doubted(_decision(state, text, ranking, sign, mind), seen, judged, mind)
    alarming = any(one.what == "co_ppm" and (one.value or 0) > telling.CO_CONCERN_PPM for one in heard.readings)
    if not alarming and (ongoing := _ongoing(state, text, sign, decision, mind, now)) is not None:
        return telling.noted_beside(heard, text, ongoing, mind, now)
    if sign is None and (plainly := _how_far(state, text, heard, decision, mind, now) or coach_asked.asked(state, text, decision, mind) or may_go.with_fault(state, text, mind) or _no_in_walk(state, text, decision, mind, now) or (None if defects.keeps_fault(text, mind) else reckoning.outright(state, text, heard, ranking, decision.verdict, mind, now))) is not None:  # fmt: skip
        return plainly
    if sign is None and decision.verdict in ("hazard", "refuse") and reckoning.only_a_sum(text, mind, now):
        if (only := reckoning.reckoned(state, text, heard, ranking, mind, now)) is not None:
            return only
    if decision.verdict == "hazard":
        if (kept := defects.kept_in_danger(state, decision.topics[0], text, mind, now)) is not None:
            return kept
        weather = telling.with_weather(heard, text, mind)
        return defects.beside(_hazard(state, decision, weather, text, mind, now), text, mind, now)
    wished = decision.verdict == "refuse" and bool(mind.wishes.find(text))
    if sign is None:
        turned = (
            once_more.asked(state, text, ranking, mind, now)
            or differences.asked(state, text, ranking, mind, now)
            or of_number.asked(state, text, ranking, mind, now)
            or of_trip.asked(state, plain(text), text, ranking, mind, now)
            or (None if wished else of_water.asked_on(state, plain(text), ranking, mind, now))
            or left_over.asked(state, plain(text), ranking, mind, now)
            or held.asked(state, text, ranking, mind, now)
            or converting.in_unit(state, text, ranking, mind, now)
            or converting.in_ours(state, text, mind)
            or converting.another(state, text)
            or (None if mind.wishes.find(text) else act_by.asked(state, text, ranking, mind, now))
            or (None if wished else changing.changed(state, text, ranking, mind, now))
        )
        if turned is not None:
            return turned
    if sign is None:
        expected = _expected(state, None if _lies(text, heard) else steer, text, mind, now) or _recorded(
            state, text, ranking, decision, mind, now
        )
        if expected is not None:
            return expected
    plain_words = sign is None and decision.verdict != "refuse" and not (heard.readings or heard.withdrawn)
    if plain_words:
        free = all_well.told(state, text, mind, now) or obeying.in_free_words(state, text, ranking, mind, now)
        if free is not None:
            return free
    if sign is None and not wished and (meant := following.meant(state, text, ranking, mind, now)) is not None:
        return meant
    doubtful = decision.verdict == "refuse" or bool(heard.refused)
    if doubtful and not wished and (varied := _varied(state, text, heard, ranking, mind, now)) is not None:
        return varied
    if sign is None and not wished and not _put_right(heard, state):
        again = (
            swapping.again(state, text, ranking, mind, now)
            or swapping.of_other_supply(state, text, ranking, mind, now)
            or building.built(state, text, ranking, mind, now)
            or following.restated(state, text, heard, ranking, mind, now)
            or of_last.of_last(state, text, ranking, mind, now)
            or following.completed(state, text, heard, ranking, mind, now)
        )
        if again is None and not _level_told(text, heard):  # what is only asked back is looked at again in `_turn`
            again = going_on.gone_on(state, text, ranking, mind, now)
        if again is not None:
            return again
    if sign is None and not wished and not _no_sum(text, heard, decision) and following.AMOUNT.search(bare(text)) and not defects.keeps_fault(text, mind):  # fmt: skip
        rated = reckoning.at_rate(state, text, heard, ranking, mind, now)
        if (reckoned := rated or reckoning.reckoned(state, text, heard, ranking, mind, now)) is not None:
            return reckoned
    if sign is None and _is_telling(text, heard, ranking, decision, state, mind):
        return _told(state, telling.with_weather(heard, text, mind), text, mind, now)
    heard = telling.with_weather(heard, text, mind)
    if not heard.readings or heard.withdrawn:
        return _asked(state, text, sign, ranking, decision, mind, now)
    # What is told beside a question is stored before the question is answered, for the answer may need it.
    state, echoes, events = telling.beside(levels_heard.without_set(heard, text), text, state, mind, now)
    outcome = _asked(state, text, sign, ranking, decision, mind, now)
    reply = replace(outcome.reply, show=(*echoes, *outcome.reply.show), readings=heard.readings)
    return Outcome(outcome.state, reply, (*events, *outcome.events))


def _doubted(decision: Decision, seen: str | None, judged: Judged | None, mind: Mind) -> Decision:
    """The decision; a sign that the network doubts is asked about where nothing better is known."""
    if seen is None or judged is None or judged.dangers.get(seen, 0.0) < BOUNDS.judged_askable:
        return decision
    dangerous = not mind.knowledge.hazards.isdisjoint(decision.topics[:1])
    if decision.verdict not in ("unknown", "clarify") or (dangerous and decision.verdict == "clarify"):
        return decision
    if dangerous:
        return Decision("clarify", decision.topics[:3], judged.danger)
    calm = [name for name in decision.topics if name != seen]
    return Decision("clarify", (seen, *calm[:2]), judged.danger)


def _cried(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """The danger that is cried out in a word, a question whether it is there, or what to say to a cry for help."""
    if (cry := cries.help_cried(state, text)) is not None:
        return cry
    decision = cries.danger(text, mind)
    if decision is None:
        return None
    if decision.verdict == "hazard":
        return _hazard(state, decision, Heard(), text, mind, now)
    opens = state.walk is None and state.asking is None and state.pending is None and not state.told
    return deciding.answered(state, decision, text, mind, now) if opens else None


def _early(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What is answered before signs and networks are asked, as they would hear something else in it; each has its own narrow words."""
    return (
        over_asked.answered(state, text, mind)
        or cleared.coming(state, text, mind, now)
        or cleared.told(state, text, mind)
        or tingle_told.by_hand(state, text, mind)
        or outlet_told.told(state, text, mind, now)
        or valves_told.should(state, text, mind)
        or _down(state, text, mind)
        or (None if cleared.is_cleared(state, text, mind) else _back_inside(state, text, mind))
        or limits_asked.co_asked(state, text, mind)
        or alarm_chirps.told(state, text, mind)
        or hands_smell.told(state, text, mind)
        or odours.told(state, text, mind, now)
        or alarm_tested.told(state, text, mind, now)
        or dead_alarm.told(state, text, mind, now)
        or stay_and_air.asked(state, text, mind)
        or unfounded.told(state, text, mind, now)
        or denied.told(state, text, mind, now)
    )


def _down(state: State, text: str, mind: Mind) -> Outcome | None:
    """Whom to call for somebody who is down in a danger, which names no other danger: more than the danger's first line again."""
    danger = state.walk.topic if state.walk is not None else ""
    if not well_in_danger.is_down(text) or mind.hazards.find(text) not in (None, danger):
        return None
    return well_in_danger.told(state, text, mind)


def _back_inside(state: State, text: str, mind: Mind) -> Outcome | None:
    """The no to going or waiting inside in a danger, and where else people go; None for anything else."""
    if sheltering.is_cold(text):
        return sheltering.asked(state, text, mind) or going_back_in.asked(state, text, mind)
    return going_back_in.asked(state, text, mind) or sheltering.asked(state, text, mind)


def _in_passing(state: State, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A rule, a noise or the way to a reading, each known by all of its words; the walk in hand stays."""
    return (
        read_where.asked(state, text, mind)
        or rules_asked.asked(state, text, mind)
        or gas_on_road.asked(state, text, mind)
        or odd_noises.told(state, text, mind)
    )


_SUMS_OF_FIGURES = frozenset({"tread-limit", "wheel-torque", "wheel-recheck", "axle-load", "tire-pressure", "battery-state", "battery-hours", "propane-days-left", "propane-hours"})  # fmt: skip


def _figure_told(state: State, text: str, outcome: Outcome, mind: Mind, now: datetime) -> Outcome:
    """The outcome, or a limit, a verdict or the heat in a supposed cold that is asked for by all of the words, where no sum has it with its working."""
    if outcome.reply.kind == "hazard":
        return outcome
    supposed = heat_supposed.asked(state, text, mind, now)
    figure = limits_asked.asked(state, text, mind) or too_low_asked.asked(state, text, mind, now) or supposed
    if figure is None:
        return outcome
    worked = outcome.state.worked if outcome.reply.kind == "calculation" and outcome.reply.estimate else None
    own = figure is supposed and heat_supposed.own(text)
    return outcome if worked is not None and worked.calculation in _SUMS_OF_FIGURES and not own else figure


def _plain_sum(
    state: State, steer: Steer | None, text: str, judged: Judged | None, mind: Mind, now: datetime
) -> Outcome | None:
    """The answer to a question that is so plainly a sum that nothing else is heard in it; else None."""
    if judged is not None and judged.danger >= BOUNDS.judged_sure and judged.worst in mind.knowledge.hazards:
        return None
    if steer is not None or not reckoning.plainly_a_sum(text, mind, now) or defects.keeps_fault(text, mind):
        return None
    ranking = mind.ranked(framing.without_interjection(text))
    leaning = of_trip.asked(state, plain(text), text, ranking, mind, now)
    leaning = leaning or of_water.asked_on(state, plain(text), ranking, mind, now)
    leaning = leaning or building.built(
        state, text, ranking, mind, now
    )  # on the heads aboard, a level or the last number
    return leaning or reckoning.reckoned(state, text, levels_heard.heard_in(text, state, mind), ranking, mind, now)


def _varied(state: State, text: str, heard: Heard, ranking: Ranking, mind: Mind, now: datetime) -> Outcome | None:
    """The last sum varied by what only sounds like a wish or an impossible reading: "and if it only runs half the time", "minus thirty Celsius"."""
    if state.worked is None or heard.readings or following.VARIES.match(plain(text)) is None:
        return None
    restated = following.restated(state, text, heard, ranking, mind, now)
    return restated or following.worked_out(state, text, ranking, mind, now)


def _decision(state: State, text: str, ranking: Ranking, sign: str | None, mind: Mind) -> Decision:
    """What a text is taken for, by its wording and by the walk in hand."""
    if sign is None and (wished := staying.wished(text, state, mind)) is not None:
        return wished
    asked = framing.without_interjection(text)
    if sign is None and (main := framing.main_clause(asked, ranking, mind)) is not None:
        asked, ranking = main, mind.ranked(main)
    decision = deciding.decided(asked, ranking, sign, mind, deciding.in_hand(state))
    if sign is None and decision.verdict == "hazard" and (named := obeying.option_named(state, text, mind)) is not None:
        return Decision("answer", (named,), 0.9)  # "the sewage handle", where a frozen one was among the choices
    if sign is None:
        decision = framing.by_verb(asked, framing.framed(asked, ranking, decision, mind), mind)
        in_hand = state.walk.topic if state.walk is not None else ""
        decision = framing.of_request(asked, decision, pointing.spoken_of(state, mind), in_hand, mind)
        decision = framing.connected(asked, decision, mind)
    decision = deciding.in_context(text, ranking, decision, state, mind)
    if (
        sign is None
        and decision.verdict == "refuse"
        and (reckoning.goes_on(state, text, ranking, mind) or no_wish.answers(state, text, mind))
    ):
        decision = Decision("unknown", tuple(name for name, _ in ranking.procedures[:3]), 0.5)
    near = progress.sign_in_walk(text, state, mind)
    return Decision("hazard", (near,), 0.8) if near is not None else decision


def _at_once(state: State, steer: Steer | None, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """What is so plainly a command that its likeness to anything else does not count; the text has no sign of danger."""
    other = (
        obeying.undo_said(state, text, mind, now)
        or defect_undone.told(state, text, mind, now)
        or valves_told.told(state, text, mind)
        or heat_again.asked(state, text, mind, now)
        or who_stays.told(state, text, mind, now)
        or step_figures.told(state, text, mind, now)
        or done_before.told(state, text, mind, now)
        or no_hookup.told(state, text, mind, now)
        or not_applying.told(state, text, mind, now)
        or cylinder_levels.told(state, text, mind, now)
        or told_ahead.told(state, text, mind, now)
        or dark_light.told(state, text, mind)
        or dark_light.asked(state, text, mind)
        or defect_put_right.told(state, text, mind, now)
        or reminders_set.at_other_time(state, text, now)
        or reminders_set.timer_off(state, text, mind, now)
        or how_known.asked(state, text, mind)
        or told_asked.asked(state, text, mind, now)
        or wrong_asked.asked(state, text, mind)
        or alarm_tested.asked(state, text, mind)
        or greeting.said(state, text, mind, now)
        or vaguely_asked.asked(state, text, mind, now)
        or what_waits.asked(state, text, mind, now)
        or parting_words.said(state, text, mind)
        or stopping.at_stop(state, text, steer, mind, now)
        or moving.thanked_back(state, text, mind, now)
        or second_thoughts.left_for(state, text, mind, now)
        or misopened.told(state, text, mind, now)
        or taking_up.told(state, text, mind, now)
        or second_thoughts.place_asked(state, text, mind, now)
        or second_thoughts.thing_asked(state, text, mind)
        or moving.plain_jump(state, text, mind, now)
        or moving.skip_named(state, text, mind, now)
        or stopping.all_left(state, text, mind, now)
        or stopping.out_told(state, text, mind, now)
        or stopping.given_up(state, text, mind, now)
        or others_do_it.told(state, text, mind, now)
        or relief_on.takes_over(state, text, mind, now)
        or relief_on.told(state, text, mind, now)
        or stopping.mended(state, text, mind, now)
        or whose_level.said_again(state, text, mind, now)
        or unit_asked.answered(state, text, mind, now)
        or nth_told.told(state, text, mind, now)
        or volts_again.told(state, text, mind, now)
        or supposed_level.asked(state, text, mind, now)
        or duty_told.told(state, text, mind, now)
        or heads_changed.told(state, text, mind, now)
        or bare_numbers.told(state, text, mind, now)
        or obeying.other_meant(state, text, mind, now)
        or done_asked.asked(state, text, mind)
        or obeying.finished(state, text, mind, now)
    )
    if other is None and steer is not None and len(text.split()) <= obeying.COMMAND_WORDS:
        other = obeying.steered(state, steer, text, mind, now)
    return (
        other
        or reminders.at_clock(state, text, now)
        or reminders.timer(state, text, now)
        or obeying.timers_asked(state, text, mind, now)
        or obeying.after_remark(state, text, mind, now)
        or obeying.after_report(state, text, mind, now)
        or obeying.called(state, text, mind, now)
        or moving.end_told(state, text, mind, now)
        or correcting.taken_back(state, text, mind, now)
        or no_reading.told(state, text, mind, now)
        or shifting.told(state, text, mind, now)
        or cold_hands.told(state, text, mind, now)
        or pages_named.named(state, text, mind, now)
        or reading_asked.asked(state, text, mind, now)
        or will_do.asked(state, text, mind, now)
        or gas_until.asked(state, text, mind, now)
        or asides.asked(state, text, mind, now)
        or on_record.asked(state, text, mind, now)
        or night_watch.asked(state, text, mind, now)
        or outside_world.clock(state, text, now)
        or outside_world.asked(state, text, mind)
        or duty_ends.told(state, text, mind, now)
        or shortly.asked(state, text, mind, now)
        or progress.approved(state, text, mind, now)
        or reminders_set.alert_off(state, text)
        or whose_level.vaguely(state, text, mind)
        or whose_level.long_past(state, text)
    )


def _ongoing(
    state: State, text: str, sign: str | None, decision: Decision, mind: Mind, now: datetime
) -> Outcome | None:
    """A danger that is over or goes on, and a matter in between that is settled."""
    parted = (framing.parted(text) or framing.to_log(text)) if sign is None else None
    over = progress.over_told(state, parted[0], mind, now) if parted is not None else None
    if parted is not None and over is not None:
        return _then(over, parted[1], mind, now)
    back = moving.over_and_back(state, text, mind, now)
    if back is None and sign is None:
        sure = decision.verdict not in ("hazard", "refuse")
        back = moving.reported_back(state, text, sure, mind, now)
    back = back or progress.over_told(state, text, mind, now) or cleared.closes(state, text, mind)
    if back is not None or sign is not None:
        return back
    return progress.danger_told(state, text, mind, now) or two_levels.told(state, text, mind, now)


def _how_far(state: State, text: str, heard: Heard, decision: Decision, mind: Mind, now: datetime) -> Outcome | None:
    """The level of a tank of the engine with its forecast, which answers how far that goes; None for anything else."""
    if decision.verdict in ("hazard", "refuse") or not levels_heard.asks_how_far(text, heard):
        return None
    return _told(state, heard, text, mind, now)


def _level_told(text: str, heard: Heard) -> bool:
    """Whether a level is told by its name or put right, so that it is stored whatever sum it may be put into: "waste is at sixty"."""
    said = plain(text)
    supposes = following.VARIES.match(said) is not None or following.ASKS.match(said) is not None or "?" in text
    return bool(heard.readings) and not supposes and (bool(heard.withdrawn) or telling.named_in(said) is not None)


def _put_right(heard: Heard, state: State) -> bool:
    """Whether readings just told are put right, so that no sum is meant."""
    return bool(heard.readings and heard.withdrawn) and state.last is not None and state.last.kind == "reading"


def _no_in_walk(state: State, text: str, decision: Decision, mind: Mind, now: datetime) -> Outcome | None:
    """The no to what is unsafe because of the walk in hand, to haggling after a no, and to going on in a danger."""
    wished = staying.wished(text, state, mind)
    if wished is not None:
        return deciding.answered(state, wished, text, mind, now)
    return (
        staying.other_means(state, text, decision, mind)
        or staying.haggled(state, text, decision, mind)
        or staying.leave_asked(state, text, decision, mind)
    )


def _then(over: Outcome, request: str, mind: Mind, now: datetime) -> Outcome:
    """A danger that is over, and what is asked in the same breath."""
    outcome = _understood(replace(over.state, asking=None), request, mind, now)
    lines = tuple(line for line in over.reply.show if not line.startswith(("You were", "Back to")))
    reply = replace(outcome.reply, show=(*lines, *outcome.reply.show), say=f"{lines[0]} {outcome.reply.say}")
    return Outcome(outcome.state, reply, (*over.events, *outcome.events))


def _asked(
    state: State, text: str, sign: str | None, ranking: Ranking, decision: Decision, mind: Mind, now: datetime
) -> Outcome:
    """The answer to what is no mere report: a level asked back, a defect, an outlook, a calculation, a question."""
    if state.pending is not None and sign is None and _asks_anew(text, decision):
        state = replace(state, pending=None)
    asked = telling.asked_level(plain(text), state.last) if sign is None else None
    if asked is not None:
        return telling.read_back(asked, state, mind, now, telling.which_named(plain(text), mind))
    if sign is None and (decision.verdict != "refuse" or defects.only_asks_record(text, mind)):
        logged = defects.logged(state, text, ranking, decision, mind, now)
        if logged is not None:
            return logged
    if (
        sign is None
        and decision.verdict != "hazard"
        and (fact := _of_fact(state, text, decision, mind, now)) is not None
    ):
        return fact
    if sign is None and decision.verdict != "refuse" and state.pending is None and outlook.asked(text, ranking):
        return outlook.answer(state, text, mind, now)
    if sign is None and decision.verdict != "refuse" and following.asks_for_number(text, ranking, decision, state):
        worked = following.worked_out(state, text, ranking, mind, now)
        if worked is not None and not (worked.reply.kind == "clarify" and following.wants_walk(text, decision, state)):
            return worked
    if sign is None and decision.verdict == "answer" and following.names_amounts(state, text, decision):
        # a walk in hand is not asked for by figures: "what should 110 drop to if it was set at 70 and it's zero out"
        worked = following.worked_out(state, text, ranking, mind, now)
        if worked is not None and worked.reply.estimate is not None:
            return worked
    if sign is None and (property_ := properties.asked(state, text, decision, mind)) is not None:
        return property_
    decision = pointing.pointed(state, text, decision, mind) or decision
    follow = following.follow_up(state, text, decision, mind)
    if follow is not None:
        decision, text = follow
    if sign is None and follow is None and decision.verdict == "unknown" and ranking.wish >= BOUNDS.wish_with_cue:
        if reckoning.goes_on(state, text, ranking, mind):
            return following.not_placed(state, mind)
    if sign is None and follow is None and (passing := step_asked.asked(state, text, decision, mind) or step_asked.well_told(state, text, decision, mind)) is not None:  # fmt: skip
        return passing
    remark = staying.remarked(state, text, ranking, decision, mind) if sign is None and follow is None else None
    return remark or defects.warned(deciding.answered(state, decision, text, mind, now), text, mind)


def _of_fact(state: State, text: str, decision: Decision, mind: Mind, now: datetime) -> Outcome | None:
    """What one line answers and no procedure does, or that it is not known; likeness alone would open something else."""
    wished = decision.verdict == "refuse"
    if state.pending is not None:
        return None
    riders = riders_asked.asked(state, text, mind, wished)
    if riders is not None or wished:
        return riders
    return (
        how_often.asked(state, text, mind)
        or exits_asked.asked(state, text, mind)
        or generator_asked.asked(state, text, mind)
        or freezing_point.asked(state, text, mind)
        or waste_asked.asked(state, text, mind, now)
        or gas_on_road.asked(state, text, mind)
        or snowed_in.told(state, text, mind)
        or struck.told(state, text, mind)
        or sickness.told(state, text, mind)
        or not_aboard.asked(state, text, mind)
    )


ANEW = 0.8
"""From this confidence on a procedure named while a sum waits for an amount is asked for in its own right."""


def _asks_anew(text: str, decision: Decision) -> bool:
    """Whether a text without any amount asks for a procedure, so that a sum waits for its amount no longer."""
    plainly = decision.verdict == "answer" and decision.confidence >= ANEW
    return plainly and following.AMOUNT.search(bare(text)) is None


def _expected(state: State, steer: Steer | None, text: str, mind: Mind, now: datetime) -> Outcome | None:
    """A longer command, an answer to what the assistant asked, or a reminder to be set."""
    if (off := reminders.named_off(state, text, mind, now)) is not None:
        return off
    if state.stored and (level := telling.recalled(plain(text))) is not None:
        return telling.read_back(level, state, mind, now, telling.which_named(plain(text), mind))
    named = (
        defects.taken_off(state, text, mind, now)
        or defects.answered_late(state, text, mind, now)
        or grade_asked.asked(state, text)
        or returning.by_name(state, text, mind, now)
    )
    if named is not None:
        return named
    if steer is not None and len(text.split()) > obeying.COMMAND_WORDS:
        steered = obeying.steered(state, steer, text, mind, now)
        if steered is not None:
            return steered
    taken = obeying.takes_no(state, text, mind, now)
    if taken is not None:
        return taken
    if state.asking is not None:
        waited = obeying.waited_for(state, text, mind, now)
        if waited is not None:
            return waited
    if reminders.timer_spoken_of(state) and obeying.ENDS_TIMER.match(bare(reminders.without_why(text))):
        return reminders.cancelled(state, mind, now)
    return (
        obeying.retimed(state, text, mind, now)
        or reminders.reminder(text, state, mind, now)
        or moving.told(state, text, mind, now)
        or pointing.remedy_told(state, text, mind, now)
        or pointing.judged_told(state, text)
    )


def _recorded(
    state: State, text: str, ranking: Ranking, decision: Decision, mind: Mind, now: datetime
) -> Outcome | None:
    """What belongs to the record and is stated as such: defects that move on, duty status, upkeep, kit, hours left."""
    told = (
        may_go.asked(state, text, mind, decision.verdict == "refuse")
        or defects.told(state, text, mind, now)
        or defect_numbered.told(state, text, mind, now)
        or duty.told(state, text, mind, now)
        or keeping.told(state, text, mind, now)
    )
    if told is not None or decision.verdict == "refuse":
        return told
    return duty.hours(state, text, ranking, mind, now)


def _lies(text: str, heard: Heard) -> bool:
    """Whether a reading is told by where the needle lies, which neither commands nor asks: "against the top stop"."""
    return bool(heard.readings) and needles.only_told(text)


def _no_sum(text: str, heard: Heard, decision: Decision) -> bool:
    """Whether amounts are told with nothing to reckon: in how something is done, or "split the difference between a half and full"."""
    return (decision.verdict == "answer" and following.how_to(text)) or _lies(text, heard)


def _is_telling(text: str, heard: Heard, ranking: Ranking, decision: Decision, state: State, mind: Mind) -> bool:
    """Whether the text states readings and nothing else that needs an answer."""
    if not (heard.readings or heard.refused or heard.withdrawn or heard.ask):
        return False
    if state.pending is not None and not (heard.readings or heard.refused or heard.withdrawn):
        return False  # the amount is what the calculation waits for
    only_asked = not (heard.readings or heard.refused or heard.withdrawn)
    if only_asked and decision.verdict == "clarify" and decision.topics[0] in mind.knowledge.hazards:
        return False  # "our tank has just emptied on the bank" asks for no level
    if heard.withdrawn and not heard.readings:
        # "scratch that" means the reading only while one stands that was told.
        return any(telling.same(stored.reading, gone) for stored in state.stored for gone in heard.withdrawn)
    if heard.withdrawn or heard.refused or heard.ask == UNPLACED:
        return True
    states = not following.ASKS.match(bare(text)) and "?" not in text
    if states and (len(text.split()) <= STATEMENT_WORDS or telling.to_be_noted(text, mind)):
        return True  # "waste is empty" holds nothing beside the reading, "meter shows 1142, jot it down" asks for no defect
    if states and decision.verdict != "refuse" and _lies(text, heard):
        return True  # "the needle's halfway between E and the quarter" asks for no way to read it
    if states and decision.verdict != "refuse" and levels_heard.after_report(text) is not None:
        return True  # "wheel's on, odometer's 48,210" asks for nothing
    if states and _seen_to(heard) and _STATES_LEVEL.match(bare(text)):
        return True  # nobody who has dumped asks how to
    if (
        states
        and {reading.what for reading in heard.readings} == {"passengers"}
        and deciding.COUNTS_HEADS.match(bare(text))
    ):
        return True  # a head count asks nothing
    if states and state.walk is not None and decision.verdict != "refuse":
        wanted = {step.reading for step in mind.knowledge.procedure(state.walk.topic).steps}
        if heard.readings and all(reading.what in wanted for reading in heard.readings):
            return True  # water from the overflow is no leak while the tank is being filled
    return not (decision.verdict in ("answer", "refuse") and ranking.telling < 0.5)


_STATES_LEVEL = re.compile(
    r"^(?:(?:ok|okay|right|so|and|good|great|well|there|all done|done|that's it) )*(?:the |my |our |that )?(?:[a-z]+ ){0,2}?(?:tank|waste|fresh|water|black|sewage)s?(?:'s| is| has| are)? (?:now |all |totally |completely |bone |finally |about |been |reads? |reading )*(?:empty|empties|emptied|full|filled|dry|topped up|topped off|drained|clear)(?: (?:now|again|too|already|up|tonight))*$"
)


def _seen_to(heard: Heard) -> bool:
    """Whether what is told is a waste tank that is empty or a fresh tank that is full."""
    return len(heard.readings) == 1 and (heard.readings[0].what, heard.readings[0].value) in _SEEN_TO


_SEEN_TO = (("waste", 0.0), ("fresh", 1.0))


def _told(state: State, heard: Heard, text: str, mind: Mind, now: datetime) -> Outcome:
    if any(r.what == "co_ppm" and (r.value or 0) > telling.CO_CONCERN_PPM for r in heard.readings):
        return _hazard(state, Decision("hazard", ("carbon-monoxide-alarm",), 0.9), heard, text, mind, now)
    if (unit := unit_asked.asked(state, text, heard, mind, now)) is not None:
        return unit
    if heard.readings and not heard.withdrawn and following.supposes_level(state, text):
        return following.which_number(state, mind)
    topic = "house-battery-low" if any(telling.is_flat(reading, mind.coach) for reading in heard.readings) else None
    told = telling.told(heard, text, replace(state, failures=0), mind, now, topic)
    return whose_level.asked(told, text, mind) if heard.ask else told


def _hazard(state: State, decision: Decision, heard: Heard, text: str, mind: Mind, now: datetime) -> Outcome:
    """A hazard: its escape line at once; what stands under it waits."""
    topic = decision.topics[0]
    events: tuple[EventDraft, ...] = (
        EventDraft("hazard", {"topic": topic, "said": text, "confidence": round(decision.confidence, 3)}),
    )
    readings: tuple[Reading, ...] = ()
    stood = state.stored
    if heard.readings and not heard.withdrawn:
        state, _, stored = telling.beside(heard, text, state, mind, now)
        readings, events = heard.readings, (*events, *stored)
    if state.walk is not None and state.walk.topic == topic:
        walk = state.walk
        procedure = mind.knowledge.procedure(topic)
        reply = replace(phrases.opening(procedure, walk, mind, decision.confidence), readings=readings)
        return Outcome(state, reply, events)
    outcome = walking.open_walk(topic, state, mind, now, decision.confidence, text)
    after = outcome.state
    if readings and after.undo:  # one "undo" takes back what was told, and with it nothing of the danger
        note = replace(after.undo[-1], what="that report", stored=stood)
        after = replace(after, undo=(*after.undo[:-1], note))
    return Outcome(after, replace(outcome.reply, readings=readings), (*events, *outcome.events))
