"""Stoppages: breakdowns and stops (tool change, dressing, ...), and the crews that answer their calls.

Both run the same course: off -> (due) -> called -> on the way -> there -> under way -> off. A breakdown strikes at
once; a stop that is due takes its machine as soon as that does not work.
"""

from __future__ import annotations

from linesim.engine.contract.leaving import scrap_part
from linesim.engine.contract.log import ROW_CREW, ROW_FAIL, ROW_REPAIRED, ROW_STOP, ROW_STOP_OVER, note
from linesim.engine.contract.places import touch, touch_room, touch_supply, wake
from linesim.engine.contract.records import (
    ALL_BUSY_SINCE,
    ALL_BUSY_TIME,
    BEGUN,
    BUSY_SINCE,
    BUSY_TIME,
    BY_COUNT,
    CALLED,
    CALLED_AT,
    CALLS,
    CALLS_WAITED,
    CLIENTS,
    COUNT,
    CREW,
    CREW_NUMBER,
    CREW_SIZE,
    CREWS,
    DOWN,
    DUE,
    EFFECT,
    EVERY,
    FREE,
    N_CLIENTS,
    N_CREWS,
    N_OWN_STOPPAGES,
    N_READY,
    N_WAITING,
    NONE,
    NOW,
    NUMBER,
    OFF,
    ON_THE_WAY,
    OWN_STOPPAGES,
    OWNER,
    OWNER_KIND,
    PART,
    PART_ID,
    PEOPLE,
    PHASE,
    PROGRESS,
    READY,
    RESPONDS,
    SCRAP_PART,
    START_RESPONSE,
    START_STOPPAGE,
    STATION,
    STEP,
    STOP,
    STOPPAGE_NUMBER,
    STOPPAGE_SIZE,
    THERE,
    TRIGGER,
    UNDER_WAY,
    WAITED_TIME,
    WORKING,
    Floor,
)
from linesim.engine.contract.spells import active_since, note_spell

# ---- breakdowns ----


def fail(floor: Floor, breakdown: int) -> None:
    """A breakdown strikes its owner in whatever it does; the part being worked on may be lost."""
    owner = floor[breakdown + OWNER]
    floor[owner + DOWN] = breakdown
    note(floor, ROW_FAIL, floor[owner + NUMBER], _part_on_board(floor, owner), floor[breakdown + STOPPAGE_NUMBER])
    if floor[owner + OWNER_KIND] == STATION:
        touch(floor, floor[owner + STEP])
        if floor[breakdown + EFFECT] == SCRAP_PART and floor[owner + PHASE] == WORKING:
            scrap_part(floor, owner, floor[owner + STEP])
            take_up_due_stop(floor, owner)
    _call(floor, breakdown)


def repaired(floor: Floor, breakdown: int) -> None:
    """The owner is up again, and its crew free."""
    owner = floor[breakdown + OWNER]
    floor[owner + DOWN] = NONE
    note(floor, ROW_REPAIRED, floor[owner + NUMBER], _part_on_board(floor, owner), floor[breakdown + STOPPAGE_NUMBER])
    _end(floor, breakdown)
    if floor[owner + OWNER_KIND] == STATION:
        touch_supply(floor, floor[owner + STEP])
        touch_room(floor, floor[owner + STEP])
        stop = floor[owner + STOP]
        if stop and floor[stop + PROGRESS] == THERE:
            _now_ready(floor, stop)


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
    """A stop by time is due."""
    floor[stop + PROGRESS] = DUE
    take_up_due_stop(floor, floor[stop + OWNER])


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
            _call(floor, stop)
            return


def stop_over(floor: Floor, stop: int) -> None:
    """A stop has ended; its count starts again, and the next due one begins."""
    machine = floor[stop + OWNER]
    floor[machine + STOP] = NONE
    floor[stop + COUNT] = 0
    note(floor, ROW_STOP_OVER, floor[machine + NUMBER], _part_on_board(floor, machine), floor[stop + STOPPAGE_NUMBER])
    _end(floor, stop)
    touch_supply(floor, floor[machine + STEP])
    touch_room(floor, floor[machine + STEP])
    take_up_due_stop(floor, machine)


# ---- crews ----


def _call(floor: Floor, stoppage: int) -> None:
    crew = floor[stoppage + CREW]
    floor[stoppage + BEGUN] += 1
    floor[stoppage + CALLED_AT] = floor[NOW]
    if crew:
        floor[stoppage + PROGRESS] = CALLED
        floor[crew + N_WAITING] += 1
    else:
        _now_ready(floor, stoppage)


def _now_ready(floor: Floor, stoppage: int) -> None:
    floor[stoppage + PROGRESS] = THERE
    floor[floor[READY] + floor[N_READY]] = stoppage
    floor[N_READY] += 1


def _end(floor: Floor, stoppage: int) -> None:
    floor[stoppage + PROGRESS] = OFF
    crew = floor[stoppage + CREW]
    if crew:
        count_busy(floor, crew)
        if floor[crew + FREE] == 0:
            note_spell(floor, floor[crew + CREW_NUMBER], floor[crew + ALL_BUSY_SINCE])
        floor[crew + FREE] += 1


def answer_calls(floor: Floor) -> None:
    """Free people take the calls that have waited longest, ties in file order."""
    for n in range(floor[N_CREWS]):
        crew = floor[CREWS] + n * CREW_SIZE
        while floor[crew + FREE] and floor[crew + N_WAITING]:
            _answer(floor, crew, _longest_waiting(floor, crew))


def _longest_waiting(floor: Floor, crew: int) -> int:
    best = NONE
    for at in range(floor[crew + CLIENTS], floor[crew + CLIENTS] + floor[crew + N_CLIENTS]):
        stoppage = floor[at]
        if floor[stoppage + PROGRESS] == CALLED and (
            best == NONE or floor[stoppage + CALLED_AT] < floor[best + CALLED_AT]
        ):
            best = stoppage
    return best


def _answer(floor: Floor, crew: int, stoppage: int) -> None:
    count_busy(floor, crew)
    floor[crew + FREE] -= 1
    if floor[crew + FREE] == 0:
        floor[crew + ALL_BUSY_SINCE] = active_since(floor, floor[crew + CREW_NUMBER])
    floor[crew + N_WAITING] -= 1
    floor[crew + CALLS] += 1
    waited = floor[NOW] - floor[stoppage + CALLED_AT]
    if waited:
        floor[crew + CALLS_WAITED] += 1
        floor[crew + WAITED_TIME] += waited
    note(floor, ROW_CREW, floor[crew + CREW_NUMBER], -1, floor[stoppage + STOPPAGE_NUMBER])
    if floor[stoppage + RESPONDS]:
        floor[stoppage + PROGRESS] = ON_THE_WAY
        wake(floor, START_RESPONSE, stoppage)
    else:
        _now_ready(floor, stoppage)


def crew_arrives(floor: Floor, stoppage: int) -> None:
    """The crew has come to the machine."""
    _now_ready(floor, stoppage)


def count_busy(floor: Floor, crew: int) -> None:
    """Bring the crew's tally of busy time up to now."""
    lasted = floor[NOW] - floor[crew + BUSY_SINCE]
    floor[crew + BUSY_TIME] += lasted * (floor[crew + PEOPLE] - floor[crew + FREE])
    if floor[crew + FREE] == 0:
        floor[crew + ALL_BUSY_TIME] += lasted
    floor[crew + BUSY_SINCE] = floor[NOW]


def begin_ready(floor: Floor) -> None:
    """Repairs and stops whose crew is there begin; one that needs no crew waits while its machine is down."""
    for n in range(floor[N_READY]):
        stoppage = floor[floor[READY] + n]
        owner = floor[stoppage + OWNER]
        if floor[stoppage + CREW] == NONE and floor[owner + DOWN] not in (NONE, stoppage):
            continue  # the end of the repair calls it up again
        floor[stoppage + PROGRESS] = UNDER_WAY
        wake(floor, START_STOPPAGE, stoppage)
        if floor[owner + OWNER_KIND] == STATION:
            touch(floor, floor[owner + STEP])
    floor[N_READY] = 0
