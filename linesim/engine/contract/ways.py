"""Ways on: which part is ready, where it would be put now, and how room is kept for it.

These questions never change anything, except `reserve` and `release`.
"""

from __future__ import annotations

from linesim.engine.contract.batches import see_whether_full
from linesim.engine.contract.loops import cancel_entry, enter_loops, loops_admit
from linesim.engine.contract.part_types import step_after, type_at
from linesim.engine.contract.records import (
    BUFFER,
    CAPACITY,
    CHUTE_TO,
    CHUTE_WAY,
    COMING,
    DOWN,
    DRAWER_TO,
    DRAWER_WAY,
    EMPTY,
    ENDS_WATCHED,
    ENTRY_CLOSED,
    FINISHED,
    FIRST_PLACE,
    INDEX,
    INFEED,
    INSIDE,
    KIND,
    LEVEL,
    MACHINE_SIZE,
    N_DONE,
    N_INSIDE,
    N_LOOPS,
    N_PLACES,
    NEXT_BY_TYPE,
    NONE,
    OVERLAPS,
    OWNER_KIND,
    PART_TO,
    PARTS_TAKEN,
    PASSABLE,
    PHASE,
    PITCH,
    REWORK_WAY,
    RIPE,
    ROOM,
    ROOM_FOR,
    ROOM_TAKEN,
    SINCE,
    STATION,
    STEP,
    STEP_SIZE,
    STOP,
    TAKING,
    WAY_OUT,
    WAYS_PAST,
    WIP_LIMIT,
    Floor,
)
from linesim.engine.contract.touch import touch, touch_room


def can_be_served(floor: Floor, machine: int) -> bool:
    """A machine that is down or in a stop can be neither loaded nor unloaded, unless the stop overlaps loading."""
    if floor[machine + DOWN]:
        return False
    stop = floor[machine + STOP]
    return stop == NONE or floor[stop + OVERLAPS] == 1


def is_ready(floor: Floor, place: int) -> bool:
    """Whether a part here waits to be taken on and no tour has claimed it."""
    kind = floor[place + OWNER_KIND]
    if kind == STATION:
        return floor[place + PHASE] == FINISHED and floor[place + TAKING] == NONE and can_be_served(floor, place)
    if floor[place + PARTS_TAKEN] and floor[floor[place + STEP] + NEXT_BY_TYPE]:
        return False  # the next part may go another way than the one that a tour has claimed, and must not get ahead
    if kind == BUFFER:
        return floor[place + RIPE] > floor[place + PARTS_TAKEN]
    return kind == INFEED and (floor[ENDS_WATCHED] == 0 or _may_enter(floor, place))


def _may_enter(floor: Floor, infeed: int) -> bool:
    """Whether there is a blank that no tour has claimed, and few enough parts are inside or about to come in."""
    claimed = floor[infeed + PARTS_TAKEN]
    if floor[infeed + LEVEL] <= claimed:
        return False
    return floor[WIP_LIMIT] == 0 or floor[INSIDE] + claimed < floor[WIP_LIMIT]


def next_step(floor: Floor, place: int) -> int:
    """The step that the (next) part of this place goes to."""
    if floor[place + OWNER_KIND] == STATION:
        return floor[place + PART_TO]
    return step_after(floor, floor[place + STEP], type_at(floor, place))


def way_between(floor: Floor, step: int, to_step: int) -> int:
    """The carriage that takes parts from a step to the next, past others to a further one, back to another or aside;
    NONE for a direct hand-over."""
    if to_step == step + STEP_SIZE:
        return floor[step + WAY_OUT]
    if to_step < step:
        return floor[step + REWORK_WAY]
    if to_step == floor[step + CHUTE_TO]:
        return floor[step + CHUTE_WAY]
    if to_step == floor[step + DRAWER_TO]:
        return floor[step + DRAWER_WAY]
    return floor[floor[step + WAYS_PAST] + floor[to_step + INDEX]]


def way_of(floor: Floor, place: int) -> int:
    """The carriage that takes the (next) part of this place on, NONE for a direct hand-over."""
    return way_between(floor, floor[place + STEP], next_step(floor, place))


def has_place(floor: Floor, machine: int) -> bool:
    """Whether a machine has a place for a part; one that holds several may have while it is unloaded."""
    phase = floor[machine + PHASE]
    if floor[machine + PITCH]:
        return floor[machine + ENTRY_CLOSED] == 0
    return phase == EMPTY or (phase == FINISHED and floor[machine + N_INSIDE] < floor[machine + ROOM_FOR])


def free_machine(floor: Floor, step: int) -> int:
    """The machine with a place that is up, not reserved and has waited longest; ties in file order. NONE: none is.

    Of those that hold several parts the one with most parts to work on goes before others.
    """
    best = NONE
    machine = floor[step + FIRST_PLACE]
    for _ in range(floor[step + N_PLACES]):
        if (
            has_place(floor, machine)
            and floor[machine + COMING] == NONE
            and can_be_served(floor, machine)
            and (best == NONE or _is_filled_before(floor, machine, best))
        ):
            best = machine
        machine += MACHINE_SIZE
    return best


def _is_filled_before(floor: Floor, machine: int, other: int) -> bool:
    more = floor[machine + N_INSIDE] - floor[machine + N_DONE] - floor[other + N_INSIDE] + floor[other + N_DONE]
    return more > 0 or (more == 0 and floor[machine + SINCE] < floor[other + SINCE])


def may_pass_over(floor: Floor, step: int, after: int, carriage: int) -> bool:
    """Whether a carriage may pass over this buffer to the step after it: it is empty, with nothing on its way to it,
    and without a least stay."""
    if not floor[step + PASSABLE] or way_between(floor, step, after) != carriage:
        return False
    buffer = floor[step + FIRST_PLACE]
    return floor[buffer + LEVEL] == 0 and floor[buffer + ROOM_TAKEN] == 0


def room_in(floor: Floor, from_step: int, to_step: int, carriage: int, part_type: int) -> int:
    """The place where a part from one step would be put now on its way to another; NONE if there is no room.

    A carriage passes over empty buffers as far as it can; the furthest place with room wins.
    """
    found = NONE
    step = to_step
    while floor[N_LOOPS] == 0 or loops_admit(floor, from_step, step):
        kind = floor[step + KIND]
        if kind == STATION:
            machine = free_machine(floor, step)
            return machine if machine else found
        place = floor[step + FIRST_PLACE]
        if floor[place + LEVEL] + floor[place + ROOM_TAKEN] < floor[place + CAPACITY]:
            found = place
        if kind != BUFFER:
            return found
        after = step_after(floor, step, part_type)
        if carriage == NONE or not may_pass_over(floor, step, after, carriage):
            return found
        step = after
    return found


def way_on(floor: Floor, place: int) -> int:
    """The place where the (next) part of this place would be put now, or NONE."""
    if floor[place + OWNER_KIND] == STATION and floor[place + ROOM]:
        return floor[place + ROOM]
    step, to_step = floor[place + STEP], next_step(floor, place)
    return room_in(floor, step, to_step, way_between(floor, step, to_step), type_at(floor, place))


def reserve(floor: Floor, from_step: int, place: int, bringer: int) -> None:
    """Keep room in a place for the part that a carriage or machine will bring from a step."""
    if floor[place + OWNER_KIND] == STATION:
        floor[place + COMING] = bringer
    else:
        floor[place + ROOM_TAKEN] += 1
    enter_loops(floor, from_step, floor[place + STEP])
    touch(floor, floor[place + STEP])


def release(floor: Floor, from_step: int, place: int) -> None:
    """Give up the room kept in a place for a part from a step."""
    if floor[place + OWNER_KIND] == STATION:
        floor[place + COMING] = NONE
        if floor[place + ROOM_FOR] and not floor[place + PITCH]:
            see_whether_full(floor, place)
    else:
        floor[place + ROOM_TAKEN] -= 1
    cancel_entry(floor, from_step, floor[place + STEP])
    touch_room(floor, floor[place + STEP])


def index_of(floor: Floor, place: int) -> int:
    """The place's position on the route."""
    return floor[floor[place + STEP] + INDEX]
