"""The stories, told by what happens when a timer starts and when it ends. Mirrors the stories of the readable engine.

Plain functions, compiled by `translate.py`.
"""

from __future__ import annotations

import numpy as np

from linesim.engine.compiled.clock import end_timer, go_on, set_timer, settle
from linesim.engine.compiled.draws import next_number
from linesim.engine.contract.ahead import call_ahead
from linesim.engine.contract.batches import parts_at_work, wait_ends_at, wait_over
from linesim.engine.contract.carriages import end_handling, end_leg
from linesim.engine.contract.crews import crew_arrives
from linesim.engine.contract.ends import parts_arrive
from linesim.engine.contract.part_types import add_type, types_to_draw
from linesim.engine.contract.places import ripe_at, ripen
from linesim.engine.contract.records import (
    AHEAD_TIMER,
    ARRIVAL,
    ARRIVAL_STREAM,
    BATCH,
    BATCH_WAIT,
    BREAKS,
    BY_COUNT,
    CALENDAR,
    CALENDAR_TIMER,
    CALL_AHEAD,
    CALLS_AHEAD,
    COUNT,
    CYCLE_STREAM,
    DEFECT_STREAM,
    DRAWN,
    EFFECT,
    EVERY,
    FEED_CLOCK_SIZE,
    FEED_CLOCKS,
    FEED_OF,
    FEED_TIMER,
    FIRST_PLACE,
    FULL,
    GAUGE_STREAM,
    HANDLING,
    INTERVAL_STREAM,
    IS_BREAKDOWN,
    JOB_TIMER,
    LEFT,
    LEG,
    LEG_STREAM,
    LEG_TIME,
    MIX,
    MIX_STREAM,
    MOTION,
    N_DRAWN,
    N_STOPPAGES,
    N_STROKES,
    NOW,
    ON_THE_WAY,
    OPERATION,
    OWNER,
    OWNER_KIND,
    PARTNER,
    PHASE,
    PITCH,
    PITCH_CLOCK,
    PITCH_TIMER,
    PROGRESS,
    RESPONSE_STREAM,
    RESTART,
    RESUME,
    ROOM_FOR,
    START_DWELL,
    START_LEG,
    START_OPERATION,
    START_RESPONSE,
    START_TRANSIT,
    START_WAIT,
    STATION,
    STAY,
    STEP,
    STEPS,
    STOPPAGE_SIZE,
    STOPPAGES,
    STROKE_STREAM,
    STROKES_STREAM,
    TAKES_STREAM,
    TIMED,
    TIMER,
    TIMER_KIND,
    TIMER_SIZE,
    TIMERS,
    TRANSIT,
    TRANSIT_CLOCK,
    TRIGGER,
    TRIGGER_CLOCK,
    TRIGGER_TIMER,
    WAIT_TIMER,
    WEEK,
    WORKING,
)
from linesim.engine.contract.shifts import next_edge_in, turn_edge
from linesim.engine.contract.stoppages import fail, fall_due, repaired, stop_over
from linesim.engine.contract.strokes import strokes_to_make
from linesim.engine.contract.through_feed import open_entry
from linesim.engine.contract.tool_life import new_life
from linesim.engine.contract.work import clock_of_entry, end_operation, note_start


def begin_stories(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray) -> None:
    """Before time 0: breakdowns begin to age, stops come nearer, by time from the age that stands in their count."""
    if floor[CALENDAR]:
        _wait_for_next_edge(floor, tree)
    for n in range(floor[N_STOPPAGES]):
        stoppage = floor[STOPPAGES] + n * STOPPAGE_SIZE
        if floor[stoppage + IS_BREAKDOWN]:
            _age_again(floor, tree, numbers, stoppage)
        else:
            _begin_anew(floor, tree, numbers, stoppage)
    draw_types(floor, numbers)
    infeed = floor[floor[STEPS] + FIRST_PLACE]
    if floor[infeed + BATCH]:
        _wait_for_arrival(floor, tree, numbers, infeed)


def draw_types(floor: np.ndarray, numbers: np.ndarray) -> None:
    """Draw the types of the blanks that may leave the infeed next."""
    for _ in range(types_to_draw(floor)):
        add_type(floor, next_number(floor, numbers, floor[floor[MIX] + MIX_STREAM]))


def start(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray, what: int, who: int) -> None:
    """Start the timer that a decision has asked for."""
    if what == START_OPERATION and floor[who + PITCH]:
        settle(floor, tree, who)
    elif what == START_OPERATION:
        duration = next_number(floor, numbers, floor[who + CYCLE_STREAM])
        if floor[floor[who + STEP] + N_STROKES]:
            duration += _strokes_time(floor, numbers, who)
        note_start(floor, who, duration)
        set_timer(floor, floor[who + TIMER], duration)
        if 0 <= floor[who + CALLS_AHEAD] < duration:
            set_timer(floor, floor[who + AHEAD_TIMER], floor[who + CALLS_AHEAD])
        settle(floor, tree, who)
    elif what == START_LEG:
        duration = floor[who + LEG_TIME]
        if floor[who + LEG_STREAM] >= 0:
            duration = next_number(floor, numbers, floor[who + LEG_STREAM])
        set_timer(floor, floor[who + TIMER], duration)
        settle(floor, tree, who)
    elif what == START_DWELL:
        _wait_until_ripe(floor, tree, who)
    elif what == START_TRANSIT:
        position = clock_of_entry(floor, who)
        if position:
            set_timer(floor, floor[position + FEED_TIMER], floor[who + TRANSIT])
        set_timer(floor, floor[who + PITCH_TIMER], floor[who + PITCH])
        settle(floor, tree, who)
    elif what == START_WAIT:
        _wait_for_batch(floor, tree, who)
    else:
        stream = floor[who + (RESPONSE_STREAM if what == START_RESPONSE else TAKES_STREAM)]
        set_timer(floor, floor[who + JOB_TIMER], next_number(floor, numbers, stream))
        settle(floor, tree, floor[who + OWNER])


def _strokes_time(floor: np.ndarray, numbers: np.ndarray, machine: int) -> int:
    duration = 0
    draw = next_number(floor, numbers, floor[floor[machine + STEP] + STROKES_STREAM])
    for _ in range(strokes_to_make(floor, machine, draw)):
        duration += next_number(floor, numbers, floor[machine + STROKE_STREAM])
    return duration


def end(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray, rank: int) -> None:
    """A timer ends: the story it belongs to goes on."""
    timer = floor[TIMERS] + rank * TIMER_SIZE
    kind = floor[timer + TIMER_KIND]
    record = floor[timer + TIMED]
    end_timer(floor, tree, rank)
    if kind == OPERATION:
        for _ in range(parts_at_work(floor, record)):
            _end_for_a_part(floor, numbers, record)
        settle(floor, tree, record)
    elif kind == LEG:
        if floor[record + MOTION] == HANDLING:
            end_handling(floor, record)
        else:
            end_leg(floor, record)
        settle(floor, tree, record)
    elif kind == CALL_AHEAD:
        call_ahead(floor, record)
    elif kind == STAY:
        ripen(floor, record)
        _wait_until_ripe(floor, tree, record)
    elif kind == TRANSIT_CLOCK:
        _end_for_a_part(floor, numbers, floor[record + FEED_OF])
        settle(floor, tree, floor[record + FEED_OF])
    elif kind == PITCH_CLOCK:
        open_entry(floor, record)
    elif kind == BATCH_WAIT:
        wait_over(floor, record)
        _wait_for_batch(floor, tree, record)
    elif kind == ARRIVAL:
        parts_arrive(floor, record)
        _wait_for_arrival(floor, tree, numbers, record)
    elif kind == WEEK:
        turn_edge(floor)
        _wait_for_next_edge(floor, tree)
    elif kind == TRIGGER_CLOCK:
        if floor[record + IS_BREAKDOWN]:
            _break_down(floor, tree, record)
        else:
            _fall_due(floor, tree, record)
    elif floor[record + PROGRESS] == ON_THE_WAY:
        crew_arrives(floor, record)
    elif floor[record + IS_BREAKDOWN]:
        repaired(floor, record)
        _age_again(floor, tree, numbers, record)
    else:
        stop_over(floor, record)
        settle(floor, tree, floor[record + OWNER])
        _begin_anew(floor, tree, numbers, record)
        if floor[record + PARTNER]:
            _begin_anew(floor, tree, numbers, floor[record + PARTNER])


def _end_for_a_part(floor: np.ndarray, numbers: np.ndarray, machine: int) -> None:
    step = floor[machine + STEP]
    defect = next_number(floor, numbers, floor[step + DEFECT_STREAM])
    gauge = next_number(floor, numbers, floor[step + GAUGE_STREAM])
    for at in range(floor[machine + DRAWN], floor[machine + DRAWN] + 2 * floor[machine + N_DRAWN], 2):
        floor[floor[at + 1]] = next_number(floor, numbers, floor[at])
    end_operation(floor, machine, defect, gauge)


def _age_again(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray, breakdown: int) -> None:
    """The next time to failure is drawn; the breakdown's clock runs as soon as it may."""
    interval = next_number(floor, numbers, floor[breakdown + INTERVAL_STREAM])
    set_timer(floor, floor[breakdown + TRIGGER_TIMER], interval)
    settle(floor, tree, floor[breakdown + OWNER])


def _begin_anew(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray, stop: int) -> None:
    """A stop has its whole interval before it again, less the age in its count; a new life if it is a breakage."""
    if floor[stop + BREAKS]:
        new_life(floor, stop, next_number(floor, numbers, floor[stop + INTERVAL_STREAM]))
    if floor[stop + TRIGGER] < BY_COUNT:
        rank = floor[stop + TRIGGER_TIMER]
        end_timer(floor, tree, rank)
        set_timer(floor, rank, floor[stop + EVERY] - floor[stop + COUNT])
        floor[stop + COUNT] = 0
        settle(floor, tree, floor[stop + OWNER])


def _fall_due(floor: np.ndarray, tree: np.ndarray, stop: int) -> None:
    """A stop by time is due. If a tool breaks in work, that ends."""
    machine = floor[stop + OWNER]
    takes_a_part = floor[stop + BREAKS] and floor[machine + PHASE] == WORKING
    fall_due(floor, stop)
    if takes_a_part:
        settle(floor, tree, machine)
        _give_up_work(floor, tree, machine)


def _break_down(floor: np.ndarray, tree: np.ndarray, breakdown: int) -> None:
    """A breakdown strikes: the running operation stands still, starts again, or is given up with its part."""
    owner = floor[breakdown + OWNER]
    was_working = floor[owner + OWNER_KIND] == STATION and floor[owner + PHASE] == WORKING
    fail(floor, breakdown)
    settle(floor, tree, owner)
    if was_working and floor[breakdown + EFFECT] == RESTART:
        _begin_again(floor, tree, owner)
    elif was_working and floor[breakdown + EFFECT] != RESUME:
        _give_up_work(floor, tree, owner)


def _begin_again(floor: np.ndarray, tree: np.ndarray, machine: int) -> None:
    """The operation of a machine has its whole duration before it again."""
    timer = floor[TIMERS] + floor[machine + TIMER] * TIMER_SIZE
    floor[timer + LEFT] = floor[timer + FULL]
    if floor[machine + CALLS_AHEAD] >= 0:
        end_timer(floor, tree, floor[machine + AHEAD_TIMER])
        if floor[machine + CALLS_AHEAD] < floor[timer + FULL]:
            set_timer(floor, floor[machine + AHEAD_TIMER], floor[machine + CALLS_AHEAD])


def _give_up_work(floor: np.ndarray, tree: np.ndarray, machine: int) -> None:
    """The operation of a machine, or every transit through it, does not come to its end."""
    if floor[machine + CALLS_AHEAD] >= 0:
        end_timer(floor, tree, floor[machine + AHEAD_TIMER])
    end_timer(floor, tree, floor[machine + TIMER])
    for n in range(floor[machine + ROOM_FOR] if floor[machine + PITCH] else 0):
        end_timer(floor, tree, floor[floor[machine + FEED_CLOCKS] + n * FEED_CLOCK_SIZE + FEED_TIMER])


def _wait_for_arrival(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray, infeed: int) -> None:
    set_timer(floor, floor[infeed + TIMER], next_number(floor, numbers, floor[infeed + ARRIVAL_STREAM]))
    go_on(floor, tree, floor[infeed + TIMER])


def _wait_for_next_edge(floor: np.ndarray, tree: np.ndarray) -> None:
    rank = floor[floor[CALENDAR] + CALENDAR_TIMER]
    set_timer(floor, rank, next_edge_in(floor))
    go_on(floor, tree, rank)


def _wait_until_ripe(floor: np.ndarray, tree: np.ndarray, buffer: int) -> None:
    due = ripe_at(floor, buffer)
    if due >= 0:
        set_timer(floor, floor[buffer + TIMER], due - floor[NOW])
        go_on(floor, tree, floor[buffer + TIMER])


def _wait_for_batch(floor: np.ndarray, tree: np.ndarray, machine: int) -> None:
    due = wait_ends_at(floor, machine)
    if due >= 0:
        set_timer(floor, floor[machine + WAIT_TIMER], due - floor[NOW])
        go_on(floor, tree, floor[machine + WAIT_TIMER])
