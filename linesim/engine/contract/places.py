"""Parts come and go: what a part's move changes at the place it leaves and the place it reaches."""

from __future__ import annotations

from linesim.engine.contract.batches import join_batch, leave_batch
from linesim.engine.contract.levels import count_inside, count_level, count_stock
from linesim.engine.contract.log import GOOD, ROW_ARRIVE, ROW_LEAVE, ROW_PART_TYPE, note, note_departure
from linesim.engine.contract.part_types import take_type
from linesim.engine.contract.records import (
    BORN,
    BUFFER,
    CAPACITY,
    COMING,
    DEFECT,
    DWELL,
    EMPTY,
    ENTERED,
    HEAD,
    INFEED,
    LEVEL,
    LIMITED,
    LOADED,
    MIX,
    N_CHARACTERISTICS,
    N_SLOTS,
    NEXT_PART,
    NO_PART,
    NONE,
    NOW,
    NUMBER,
    OUTFEED,
    OWNER_KIND,
    PART,
    PART_ID,
    PART_SIZE,
    PART_TO,
    PART_TYPE,
    PHASE,
    PITCH,
    REWORKS,
    RING,
    RIPE,
    ROOM,
    ROOM_FOR,
    SINCE,
    SIZE_SIZE,
    SIZED_BY,
    SLOTS,
    START_DWELL,
    START_TRANSIT,
    START_WAIT,
    STATION,
    STEP,
    STEP_SIZE,
    STEPS,
    TAKING,
    WIP_LIMIT,
    Floor,
)
from linesim.engine.contract.through_feed import enter_feed, leave_feed
from linesim.engine.contract.touch import touch, touch_room, touch_supply, wake


def take_part(floor: Floor, place: int, carrier: int) -> int:
    """A part leaves a place: for a carriage (its number) or on its own (-1). Returns the part's record."""
    step = floor[place + STEP]
    kind = floor[place + OWNER_KIND]
    if kind == INFEED:
        part = enter_line(floor, place)
        if floor[place + LIMITED]:
            count_stock(floor, place, -1)
    elif kind == BUFFER:
        part = floor[floor[place + RING] + floor[place + HEAD]]
        floor[place + HEAD] = _in_ring(floor[place + HEAD] + 1, floor[place + CAPACITY])
        floor[place + RIPE] -= 1
        count_level(floor, place, -1)
    else:
        part = floor[place + PART]
        clear_machine(floor, place)
    note(floor, ROW_LEAVE, floor[place + NUMBER], floor[part + PART_ID], carrier)
    touch_room(floor, step)
    return part


def clear_machine(floor: Floor, machine: int) -> None:
    """The part at hand has left a machine."""
    if floor[machine + PITCH]:
        leave_feed(floor, machine)
    elif floor[machine + ROOM_FOR]:
        leave_batch(floor, machine)
    else:
        floor[machine + PART] = NO_PART
        floor[machine + PHASE] = EMPTY
        floor[machine + SINCE] = floor[NOW]
        floor[machine + PART_TO] = floor[machine + STEP] + STEP_SIZE
    floor[machine + TAKING] = NONE
    floor[machine + ROOM] = NONE


def enter_line(floor: Floor, infeed: int) -> int:
    """A new part comes in through an infeed. Returns its record."""
    floor[N_SLOTS] -= 1
    part = floor[floor[SLOTS] + floor[N_SLOTS]]
    floor[part + PART_ID] = floor[NEXT_PART]
    floor[part + BORN] = floor[NOW]
    floor[part + PART_TYPE] = -1
    floor[part + DEFECT] = -1
    floor[part + REWORKS] = 0
    for n in range(floor[N_CHARACTERISTICS]):
        floor[part + PART_SIZE + n * SIZE_SIZE + SIZED_BY] = NONE
    floor[NEXT_PART] += 1
    floor[ENTERED] += 1
    count_inside(floor, 1)
    if floor[MIX]:
        floor[part + PART_TYPE] = take_type(floor)
        note(floor, ROW_PART_TYPE, floor[infeed + NUMBER], floor[part + PART_ID], floor[part + PART_TYPE])
    return part


def put_part(floor: Floor, place: int, part: int, carrier: int) -> None:
    """A part reaches a place, where room was found or reserved for it."""
    kind = floor[place + OWNER_KIND]
    note(floor, ROW_ARRIVE, floor[place + NUMBER], floor[part + PART_ID], carrier)
    if kind == OUTFEED:
        depart(floor, part, GOOD)
        if floor[place + LIMITED]:
            count_stock(floor, place, 1)
    elif kind == BUFFER:
        capacity = floor[place + CAPACITY]
        at = _in_ring(floor[place + HEAD] + floor[place + LEVEL], capacity)
        floor[floor[place + RING] + at] = part
        count_level(floor, place, 1)
        if floor[place + DWELL] == 0:
            floor[place + RIPE] += 1
            touch_supply(floor, floor[place + STEP])
        else:
            floor[floor[place + RING] + capacity + at] = floor[NOW] + floor[place + DWELL]
            if floor[place + LEVEL] == floor[place + RIPE] + 1:
                wake(floor, START_DWELL, place)
    elif kind == STATION:
        floor[place + COMING] = NONE
        if floor[place + PITCH]:
            enter_feed(floor, place, part)
            wake(floor, START_TRANSIT, place)
        elif floor[place + ROOM_FOR]:
            if join_batch(floor, place, part):
                wake(floor, START_WAIT, place)
            touch_room(floor, floor[place + STEP])  # if a place was reserved for it, others may come now
        else:
            floor[place + PART] = part
            floor[place + PHASE] = LOADED
            floor[place + SINCE] = floor[NOW]
    touch(floor, floor[place + STEP])


def depart(floor: Floor, part: int, fate: int) -> None:
    """A part leaves the line for good."""
    note_departure(floor, part, fate)
    floor[floor[SLOTS] + floor[N_SLOTS]] = part
    floor[N_SLOTS] += 1
    count_inside(floor, -1)
    if floor[WIP_LIMIT]:
        touch_supply(floor, floor[STEPS])  # another blank may enter


def ripe_at(floor: Floor, buffer: int) -> int:
    """When the first part that is not ripe will be [us], or -1 if there is none."""
    if floor[buffer + LEVEL] == floor[buffer + RIPE]:
        return -1
    capacity = floor[buffer + CAPACITY]
    at = _in_ring(floor[buffer + HEAD] + floor[buffer + RIPE], capacity)
    return floor[floor[buffer + RING] + capacity + at]


def ripen(floor: Floor, buffer: int) -> None:
    """The least stay of the next part in a buffer is over."""
    floor[buffer + RIPE] += 1
    touch_supply(floor, floor[buffer + STEP])


def _in_ring(at: int, capacity: int) -> int:
    """A position that went once beyond the end of a ring goes on at its beginning; far quicker than a division."""
    return at - capacity if at >= capacity else at
