"""Work at the machines: when an operation starts, and what its end brings."""

from __future__ import annotations

from linesim.engine.contract.aside import goes_on
from linesim.engine.contract.batches import begin_batch, finish_batch, look_at_next, parts_at_work
from linesim.engine.contract.drawers import take_sample
from linesim.engine.contract.held import part_in
from linesim.engine.contract.inspection import inspect
from linesim.engine.contract.leaving import finish_route
from linesim.engine.contract.log import ROW_END, ROW_START, note
from linesim.engine.contract.overstay import set_limit
from linesim.engine.contract.part_types import step_after, type_at
from linesim.engine.contract.records import (
    BEFORE_SERVICE,
    CYCLE_STREAM,
    CYCLES,
    DEFECT,
    DEFECTS,
    DOWN,
    DRAWER_TO,
    DUTY,
    ENDS_HERE,
    FEED_CLOCK_SIZE,
    FEED_CLOCKS,
    FINISHED,
    FIRST_DEFECT,
    FIRST_PLACE,
    IN_VIEW,
    INSPECTS,
    LOADED,
    MACHINE_SIZE,
    MADE_AT,
    MAY_SPOIL,
    N_DEFECTS,
    N_IN_VIEW,
    N_INSIDE,
    N_PLACES,
    NEXT_CLOCK,
    NONE,
    NOW,
    NUMBER,
    ON_DUTY,
    PART,
    PART_ID,
    PART_TO,
    PART_TYPE,
    PHASE,
    PROCESSED,
    ROOM,
    ROOM_FOR,
    SINCE,
    SIZED,
    SOON,
    START_OPERATION,
    STEP,
    STOP,
    TRANSIT,
    VISITS,
    WORKING,
    Floor,
)
from linesim.engine.contract.sizes import make_sizes, set_sizes
from linesim.engine.contract.spoiling import spoil
from linesim.engine.contract.stoppages import count_part
from linesim.engine.contract.touch import touch_room, touch_supply, wake
from linesim.engine.contract.ways import reserve, room_in, way_between


def start_operations(floor: Floor) -> None:
    """Machines in view that have a part, are up, on duty and in no stop start, in route order."""
    for n in range(floor[N_IN_VIEW]):
        step = floor[floor[IN_VIEW] + n]
        if floor[step + BEFORE_SERVICE]:
            _start_with_room(floor, step)
            continue
        machine = floor[step + FIRST_PLACE]
        for _ in range(floor[step + N_PLACES]):
            if _can_start(floor, machine):
                _start(floor, machine)
            machine += MACHINE_SIZE


def _can_start(floor: Floor, machine: int) -> bool:
    return (
        floor[machine + PHASE] == LOADED
        and floor[machine + DOWN] == NONE
        and floor[machine + STOP] == NONE
        and floor[machine + DUTY] == ON_DUTY
    )


def _start_with_room(floor: Floor, step: int) -> None:
    """Blocking before service: a machine reserves the room its part will need; the one loaded first goes first."""
    while True:
        first = room = NONE
        machine = floor[step + FIRST_PLACE]
        for _ in range(floor[step + N_PLACES]):
            if _can_start(floor, machine) and (first == NONE or floor[machine + SINCE] < floor[first + SINCE]):
                found = _room_after(floor, step, machine)
                if found:
                    first = machine
                    room = found
            machine += MACHINE_SIZE
        if first == NONE:
            return
        reserve(floor, step, room, first)
        floor[first + ROOM] = room
        _start(floor, first)


def _room_after(floor: Floor, step: int, machine: int) -> int:
    """Room for the part in a machine, once it is finished and passes."""
    part_type = type_at(floor, machine)
    to_step = step_after(floor, step, part_type)
    return room_in(floor, step, to_step, way_between(floor, step, to_step), part_type)


def _start(floor: Floor, machine: int) -> None:
    floor[machine + PHASE] = WORKING
    floor[machine + SINCE] = floor[NOW]
    if floor[machine + CYCLES]:
        floor[machine + CYCLE_STREAM] = floor[floor[machine + CYCLES] + floor[floor[machine + PART] + PART_TYPE]]
    if floor[floor[machine + STEP] + SIZED]:
        set_sizes(floor, machine)
    if floor[machine + ROOM_FOR]:
        begin_batch(floor, machine)
    wake(floor, START_OPERATION, machine)


def note_start(floor: Floor, machine: int, duration: int) -> None:
    """Write down that an operation starts, for each of its parts."""
    for n in range(parts_at_work(floor, machine)):
        part = part_in(floor, machine, n)
        note(floor, ROW_START, floor[machine + NUMBER], floor[part + PART_ID], duration)
        set_limit(floor, machine, part, duration)


def clock_of_entry(floor: Floor, machine: int) -> int:
    """The clock for the part that has just entered; NONE if it was lost in the same instant."""
    if floor[machine + N_INSIDE] == 0:
        return NONE
    last = part_in(floor, machine, floor[machine + N_INSIDE] - 1)
    note(floor, ROW_START, floor[machine + NUMBER], floor[last + PART_ID], floor[machine + TRANSIT])
    set_limit(floor, machine, last, floor[machine + TRANSIT])
    position = floor[machine + FEED_CLOCKS] + floor[machine + NEXT_CLOCK] * FEED_CLOCK_SIZE
    floor[machine + NEXT_CLOCK] = (floor[machine + NEXT_CLOCK] + 1) % floor[machine + ROOM_FOR]
    return position


def end_operation(floor: Floor, machine: int, defect_draw: int, gauge_draw: int) -> None:
    """An operation ends for the part at hand; where it works on several, this is said for one after the other.

    The draws are whole numbers below 1e9; -1 where the station has none.
    """
    step = floor[machine + STEP]
    part = floor[machine + PART]
    if floor[machine + ROOM_FOR] and floor[machine + PHASE] == WORKING:
        finish_batch(floor, machine)
        touch_room(floor, step)  # free places can be loaded again
    floor[machine + PHASE] = FINISHED
    floor[machine + SINCE] = floor[NOW]
    floor[machine + SOON] = 0
    floor[machine + PART_TO] = step_after(floor, step, floor[part + PART_TYPE])
    floor[machine + PROCESSED] += 1
    floor[VISITS] += 1
    made = _defect_made(floor, step, defect_draw)
    if floor[step + SIZED]:
        bad_size = make_sizes(floor, machine, part)
        made = bad_size if made < 0 else made
    if made >= 0 and floor[part + DEFECT] < 0:
        floor[part + DEFECT] = made
        floor[part + MADE_AT] = step
    note(floor, ROW_END, floor[machine + NUMBER], floor[part + PART_ID], made)
    if floor[step + MAY_SPOIL]:
        spoil(floor, machine)
    if floor[step + INSPECTS] and goes_on(floor, machine, part):
        inspect(floor, step, machine, gauge_draw)
    if floor[step + DRAWER_TO]:
        take_sample(floor, machine, part)
    if floor[step + ENDS_HERE] and goes_on(floor, machine, part):
        finish_route(floor, machine)
    if floor[machine + ROOM_FOR] and floor[machine + PART] == part:
        look_at_next(floor, machine)
    touch_supply(floor, step)
    count_part(floor, machine)


def _defect_made(floor: Floor, step: int, draw: int) -> int:
    """The number of the defect that this operation made, or -1."""
    for n in range(floor[step + N_DEFECTS]):
        if draw < floor[floor[step + DEFECTS] + n]:
            return floor[step + FIRST_DEFECT] + n
    return -1
