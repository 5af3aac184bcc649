"""Shifts: who is on duty, and what becomes of the work in hand at the end of a shift, in breaks and planned stops.

Whoever is not on duty begins nothing: a machine starts no operation, a carriage chooses no tour, people take no call. A
machine first ends its operation, or a stop that it does by itself, unless it pauses; a carriage first ends its tour, as
far as nothing there makes it wait. Then they are closed, and all their clocks stand still. Who is down closes at once.
"""

from __future__ import annotations

from linesim.engine.contract.cold_start import warm_up_if_cold
from linesim.engine.contract.crews import count_busy, watch_all_busy
from linesim.engine.contract.log import ROW_DUTY, note
from linesim.engine.contract.records import (
    CALENDAR,
    CARRIAGE_SIZE,
    CARRIAGES,
    CLOSED,
    CREW,
    CREW_NUMBER,
    CREW_SIZE,
    CREWS,
    DOWN,
    DUTY,
    EDGE_AT,
    EDGES,
    HAND_JOB,
    HANDLING,
    IDLE,
    MACHINE_SIZE,
    MACHINES,
    MOTION,
    MOVING,
    N_CARRIAGES,
    N_CLOSING,
    N_CREWS,
    N_EDGES,
    N_MACHINES,
    N_OFF_DUTY,
    NONE,
    NOW,
    NUMBER,
    OFF_DUTY,
    ON_DUTY,
    OWNER_KIND,
    PARKING,
    PAUSES,
    PEOPLE,
    PHASE,
    PROGRESS,
    QUIET_EDGES,
    STATION,
    STEP,
    STOOD_SINCE,
    STOP,
    UNDER_WAY,
    VISITS,
    VISITS_BEFORE,
    WEEK_BEGAN,
    WORKING,
    Floor,
)
from linesim.engine.contract.stoppages import back_to_work
from linesim.engine.contract.touch import ask_to_settle, touch
from linesim.engine.contract.zones import is_held
from linesim.line.calendar import WEEK_US


def next_edge_in(floor: Floor) -> int:
    """Time until the week changes something for somebody [us]."""
    calendar = floor[CALENDAR]
    return floor[calendar + WEEK_BEGAN] + floor[_edge(floor, calendar)] - floor[NOW]


def turn_edge(floor: Floor) -> None:
    """An edge of the week: everybody learns whether they are on duty from now on."""
    calendar = floor[CALENDAR]
    at = _edge(floor, calendar) + 1
    for n in range(floor[N_MACHINES]):
        _set_duty(floor, floor[MACHINES] + n * MACHINE_SIZE, floor[at])
        at += 1
    for n in range(floor[N_CARRIAGES]):
        _set_duty(floor, floor[CARRIAGES] + n * CARRIAGE_SIZE, floor[at])
        at += 1
    for n in range(floor[N_CREWS]):
        _set_people(floor, floor[CREWS] + n * CREW_SIZE, floor[at])
        at += 1
    floor[calendar + EDGE_AT] += 1
    if floor[calendar + EDGE_AT] == floor[calendar + N_EDGES]:
        floor[calendar + EDGE_AT] = 0
        floor[calendar + WEEK_BEGAN] += WEEK_US
    floor[calendar + QUIET_EDGES] += 1
    if floor[VISITS] != floor[calendar + VISITS_BEFORE]:
        floor[calendar + QUIET_EDGES] = 0
        floor[calendar + VISITS_BEFORE] = floor[VISITS]


def _edge(floor: Floor, calendar: int) -> int:
    """Address of the row of the next edge."""
    width = 1 + floor[N_MACHINES] + floor[N_CARRIAGES] + floor[N_CREWS]
    return floor[calendar + EDGES] + floor[calendar + EDGE_AT] * width


def _set_duty(floor: Floor, owner: int, duty: int) -> None:
    before = floor[owner + DUTY]
    if duty == before:
        return
    floor[owner + DUTY] = duty
    note(floor, ROW_DUTY, floor[owner + NUMBER], -1, duty)
    if floor[owner + OWNER_KIND] == STATION:
        touch(floor, floor[owner + STEP])
    if before == ON_DUTY:
        floor[N_OFF_DUTY] += 1
        floor[N_CLOSING] += 1
    elif duty == ON_DUTY:
        floor[N_OFF_DUTY] -= 1
        if floor[owner + CLOSED]:
            _open(floor, owner)
        else:
            floor[N_CLOSING] -= 1


def _open(floor: Floor, owner: int) -> None:
    floor[owner + CLOSED] = 0
    ask_to_settle(floor, owner)
    back_to_work(floor, owner)
    if floor[owner + OWNER_KIND] == STATION:
        warm_up_if_cold(floor, owner)


def _set_people(floor: Floor, crew: int, people: int) -> None:
    off = floor[crew + PEOPLE] - people
    if off == floor[crew + OFF_DUTY]:
        return
    count_busy(floor, crew)
    if (floor[crew + OFF_DUTY] > 0) != (off > 0):
        floor[N_OFF_DUTY] += 1 if off > 0 else -1
    floor[crew + OFF_DUTY] = off
    watch_all_busy(floor, crew)
    note(floor, ROW_DUTY, floor[crew + CREW_NUMBER], -1, people)


def close_owners(floor: Floor) -> None:
    """Whoever is not on duty and has ended what it did stands still from now on."""
    for n in range(floor[N_MACHINES]):
        machine = floor[MACHINES] + n * MACHINE_SIZE
        if floor[machine + DUTY] != ON_DUTY and not floor[machine + CLOSED] and not _works_on(floor, machine):
            _close(floor, machine)
    for n in range(floor[N_CARRIAGES]):
        carriage = floor[CARRIAGES] + n * CARRIAGE_SIZE
        if floor[carriage + DUTY] != ON_DUTY and not floor[carriage + CLOSED]:
            moves = floor[carriage + MOTION] in (MOVING, HANDLING, PARKING) or is_held(floor, carriage)
            if floor[carriage + HAND_JOB]:  # people finish what they began
                moves = floor[carriage + MOTION] != IDLE
            if floor[carriage + DOWN] or not moves:
                _close(floor, carriage)


def _works_on(floor: Floor, machine: int) -> bool:
    """Whether a machine still has to end its operation, or a stop that it does by itself."""
    if floor[machine + DOWN] or floor[machine + PAUSES]:
        return False
    stop = floor[machine + STOP]
    by_itself = stop != NONE and floor[stop + PROGRESS] == UNDER_WAY and floor[stop + CREW] == NONE
    return by_itself or floor[machine + PHASE] == WORKING


def _close(floor: Floor, owner: int) -> None:
    floor[owner + CLOSED] = 1
    if floor[owner + OWNER_KIND] == STATION:
        floor[owner + STOOD_SINCE] = floor[NOW]
    floor[N_CLOSING] -= 1
    ask_to_settle(floor, owner)


def may_rest(floor: Floor) -> bool:
    """Whether it is no lock-up that nothing is at work: somebody is off duty, and it has not been so for two weeks."""
    if floor[N_OFF_DUTY] == 0:
        return False
    return floor[floor[CALENDAR] + QUIET_EDGES] <= 2 * floor[floor[CALENDAR] + N_EDGES]
