"""Stoppages: breakdowns and stops (tool change, dressing, ...), from the call of a crew to their end.

Both run the same course: off -> (due) -> called -> on the way -> there -> under way -> off. A breakdown strikes at
once; a stop that is due takes its machine as soon as that does not work.
"""

from __future__ import annotations

from linesim.engine.contract.ahead import forget_call_ahead
from linesim.engine.contract.crews import call, now_ready, release
from linesim.engine.contract.drawers import empty_drawer
from linesim.engine.contract.ends import call_for_job, job_done
from linesim.engine.contract.leaving import scrap_work
from linesim.engine.contract.levels import count_stock
from linesim.engine.contract.log import ROW_FAIL, ROW_REPAIRED, ROW_STOP, ROW_STOP_OVER, note
from linesim.engine.contract.records import (
    BREAKS,
    BY_COUNT,
    CARRIAGE,
    CLOSED,
    COUNT,
    CREW,
    DOWN,
    DUE,
    EFFECT,
    EMPTIES,
    EVERY,
    HOLDS,
    INFEED,
    IS_BREAKDOWN,
    N_OWN_STOPPAGES,
    N_READY,
    NONE,
    NUMBER,
    OFF,
    OUTFEED,
    OVERLAPS,
    OWN_STOPPAGES,
    OWNER,
    OWNER_KIND,
    PART,
    PART_ID,
    PARTNER,
    PHASE,
    PROGRESS,
    READY,
    RESTART,
    SAMPLE_NEXT,
    SAMPLED_AFTER,
    SCRAP_PART,
    START_STOPPAGE,
    START_UP_SCRAP,
    STATION,
    STEP,
    STOP,
    STOPPAGE_NUMBER,
    STOPPAGE_SIZE,
    THERE,
    TO_SCRAP,
    TRIGGER,
    UNDER_WAY,
    WEARS,
    WORKING,
    Floor,
)
from linesim.engine.contract.sizes import renew_tools
from linesim.engine.contract.tool_life import count_dressing, tool_is_new
from linesim.engine.contract.touch import ask_to_settle, touch, touch_room, touch_supply, wake
from linesim.engine.contract.zones import ask_for_zone, begin_with_loader

# ---- breakdowns ----


def fail(floor: Floor, breakdown: int) -> None:
    """A breakdown strikes its owner in whatever it does; the part being worked on may be lost."""
    owner = floor[breakdown + OWNER]
    floor[owner + DOWN] = breakdown
    note(floor, ROW_FAIL, floor[owner + NUMBER], _part_on_board(floor, owner), floor[breakdown + STOPPAGE_NUMBER])
    if floor[owner + OWNER_KIND] == STATION:
        touch(floor, floor[owner + STEP])
        if floor[breakdown + EFFECT] == SCRAP_PART and floor[owner + PHASE] == WORKING:
            scrap_work(floor, owner)
            take_up_due_stop(floor, owner)
        elif floor[breakdown + EFFECT] == RESTART:
            forget_call_ahead(floor, owner)
    call(floor, breakdown)


def repaired(floor: Floor, breakdown: int) -> None:
    """The owner is up again, and its crew free."""
    owner = floor[breakdown + OWNER]
    floor[owner + DOWN] = NONE
    note(floor, ROW_REPAIRED, floor[owner + NUMBER], _part_on_board(floor, owner), floor[breakdown + STOPPAGE_NUMBER])
    release(floor, breakdown)
    back_to_work(floor, owner)


def back_to_work(floor: Floor, owner: int) -> None:
    """An owner no longer stands still: a machine may be served again, and a stop that waited for that begins."""
    if floor[owner + OWNER_KIND] == STATION:
        touch_supply(floor, floor[owner + STEP])
        touch_room(floor, floor[owner + STEP])
        stop = floor[owner + STOP]
        if stop and floor[stop + PROGRESS] == THERE:
            now_ready(floor, stop)


def _part_on_board(floor: Floor, owner: int) -> int:
    if floor[owner + OWNER_KIND] != STATION or floor[owner + PART] < 0:
        return -1
    return floor[floor[owner + PART] + PART_ID]


# ---- stops ----


def count_part(floor: Floor, machine: int) -> None:
    """An operation has ended: stops by count come nearer, and the first one due begins."""
    for n in range(floor[machine + N_OWN_STOPPAGES]):
        stop = floor[machine + OWN_STOPPAGES] + n * STOPPAGE_SIZE
        if floor[stop + TRIGGER] == BY_COUNT:
            floor[stop + COUNT] += 1
            if floor[stop + COUNT] >= floor[stop + EVERY] and floor[stop + PROGRESS] == OFF:
                floor[stop + PROGRESS] = DUE
    take_up_due_stop(floor, machine)


def fall_due(floor: Floor, stop: int) -> None:
    """A stop by time is due, or a refill or emptying. A tool that breaks takes the part in work with it."""
    machine = floor[stop + OWNER]
    kind = floor[machine + OWNER_KIND]
    if kind in (INFEED, OUTFEED):
        call_for_job(floor, stop)
        return
    floor[stop + PROGRESS] = DUE
    if kind == CARRIAGE:
        ask_for_zone(floor, stop)
        return
    if floor[stop + BREAKS] and floor[machine + PHASE] == WORKING:
        scrap_work(floor, machine)
    if not floor[stop + OVERLAPS]:
        forget_call_ahead(floor, machine)
    take_up_due_stop(floor, machine)


def take_up_due_stop(floor: Floor, machine: int) -> None:
    """The first due stop takes a machine that does not work and has no other: tool changes go before dressings,
    then measuring, then cleaning; within a kind in file order."""
    if floor[machine + STOP] or floor[machine + PHASE] == WORKING:
        return
    for n in range(floor[machine + N_OWN_STOPPAGES]):
        stop = floor[machine + OWN_STOPPAGES] + n * STOPPAGE_SIZE
        if floor[stop + PROGRESS] == DUE:
            floor[machine + STOP] = stop
            part = _part_on_board(floor, machine)
            note(floor, ROW_STOP, floor[machine + NUMBER], part, floor[stop + STOPPAGE_NUMBER])
            touch(floor, floor[machine + STEP])
            call(floor, stop)
            return


def stop_over(floor: Floor, stop: int) -> None:
    """A stop has ended; its count starts again, and the next due one begins."""
    machine = floor[stop + OWNER]
    if floor[machine + OWNER_KIND] in (INFEED, OUTFEED):
        job_done(floor, stop)
        return
    floor[machine + STOP] = NONE
    floor[stop + COUNT] = 0
    note(floor, ROW_STOP_OVER, floor[machine + NUMBER], _part_on_board(floor, machine), floor[stop + STOPPAGE_NUMBER])
    renew_tools(floor, stop)
    if floor[stop + EMPTIES]:
        empty_drawer(floor, floor[stop + EMPTIES])
    if floor[stop + START_UP_SCRAP]:
        floor[machine + TO_SCRAP] = max(floor[machine + TO_SCRAP], floor[stop + START_UP_SCRAP])
    release(floor, stop)
    if floor[machine + OWNER_KIND] != STATION:
        return
    if floor[stop + SAMPLED_AFTER]:
        floor[machine + SAMPLE_NEXT] = 1
    if floor[stop + HOLDS]:
        floor[floor[stop + HOLDS] + STOP] = NONE
        ask_to_settle(floor, floor[stop + HOLDS])  # it may have broken down in its leg, and been repaired meanwhile
    if floor[stop + PARTNER]:
        tool_is_new(floor, stop)
    if floor[stop + WEARS]:
        count_dressing(floor, stop)
    touch_supply(floor, floor[machine + STEP])
    touch_room(floor, floor[machine + STEP])
    take_up_due_stop(floor, machine)


def begin_ready(floor: Floor) -> None:
    """Repairs and stops whose crew is there begin; one that a machine does by itself waits while it is down or closed.

    A repair that ends as a shift begins calls the same stop up twice. A zone of a carriage is opened when that stands.
    """
    for n in range(floor[N_READY]):
        stoppage = floor[floor[READY] + n]
        owner = floor[stoppage + OWNER]
        if floor[owner + OWNER_KIND] == CARRIAGE and not floor[stoppage + IS_BREAKDOWN]:
            continue
        by_itself = floor[stoppage + CREW] == NONE and not floor[stoppage + IS_BREAKDOWN]
        if by_itself and (floor[owner + DOWN] or floor[owner + CLOSED]):
            continue  # the end of the repair, or the next shift, calls it up again
        if floor[stoppage + HOLDS]:
            if floor[stoppage + PROGRESS] == THERE:
                begin_with_loader(floor, stoppage)
            continue
        if floor[stoppage + PROGRESS] != THERE:
            continue
        if floor[owner + OWNER_KIND] in (INFEED, OUTFEED):
            count_stock(floor, owner, 0)
        floor[stoppage + PROGRESS] = UNDER_WAY
        wake(floor, START_STOPPAGE, stoppage)
        if floor[owner + OWNER_KIND] == STATION:
            touch(floor, floor[owner + STEP])
    floor[N_READY] = 0
