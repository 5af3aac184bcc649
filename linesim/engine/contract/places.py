"""Parts come and go: what a part's move changes at the place it leaves and the place it reaches."""

from __future__ import annotations

from linesim.engine.contract.batches import join_batch, leave_batch, see_whether_full, wait_ends_at
from linesim.engine.contract.log import GOOD, ROW_ARRIVE, ROW_LEAVE, ROW_PART_TYPE, note, note_departure
from linesim.engine.contract.part_types import take_type
from linesim.engine.contract.records import (
    BORN,
    BUFFER,
    CAPACITY,
    CHANGED,
    COMING,
    DEFECT,
    DWELL,
    EMPTY,
    EMPTY_TIME,
    END_JOB,
    ENTERED,
    ENTRY_CLOSED,
    FINISHED,
    FIRST_CAME,
    FIRST_PLACE,
    FULL_TIME,
    HEAD,
    INFEED,
    INSIDE,
    INSIDE_SINCE,
    KIND,
    LASTING_TIME,
    LEVEL,
    LEVEL_SINCE,
    LEVEL_TIME,
    LIMITED,
    LOADED,
    MIX,
    MOVES,
    MOVES_DIRECTLY,
    N_CALLERS,
    N_CHANGED,
    N_CHARACTERISTICS,
    N_MOVES,
    N_PLACES,
    N_SENDERS,
    N_SETTLES,
    N_SLOTS,
    N_STALE,
    N_WAKES,
    NEXT_PART,
    NO_PART,
    NONE,
    NOW,
    NUMBER,
    OFF,
    ON_CHANGED,
    ON_MOVES,
    ON_STALE,
    OUTFEED,
    OWNER_KIND,
    PART,
    PART_ID,
    PART_SIZE,
    PART_TO,
    PART_TYPE,
    PHASE,
    PITCH,
    PROGRESS,
    REWORKS,
    RING,
    RIPE,
    ROOM,
    ROOM_FOR,
    SENDERS,
    SETTLES,
    SINCE,
    SIZE_SIZE,
    SIZED_BY,
    SLOTS,
    STALE,
    START_DWELL,
    START_TRANSIT,
    START_WAIT,
    STATION,
    STEP,
    STEP_SIZE,
    STEPS,
    STOCK_AREA,
    TAKING,
    UNDER_WAY,
    WAITED,
    WAITING_TIME,
    WAKES,
    WIP_AREA,
    WIP_LIMIT,
    WIP_TIME,
    Floor,
)
from linesim.engine.contract.through_feed import enter_feed, leave_feed


def touch(floor: Floor, step: int) -> None:
    """Something changed at this step: the next decision looks at it and at whatever depends on it."""
    if not floor[step + ON_CHANGED]:
        floor[step + ON_CHANGED] = 1
        floor[floor[CHANGED] + floor[N_CHANGED]] = step
        floor[N_CHANGED] += 1
    if floor[step + N_CALLERS] and not floor[step + ON_STALE]:
        floor[step + ON_STALE] = 1
        floor[floor[STALE] + floor[N_STALE]] = step
        floor[N_STALE] += 1


def touch_supply(floor: Floor, step: int) -> None:
    """A part at this step may now be able to go on."""
    touch(floor, step)
    if floor[step + MOVES_DIRECTLY]:
        _look_for_move(floor, step)


def touch_room(floor: Floor, step: int) -> None:
    """This step may now have room for a part."""
    touch(floor, step)
    for at in range(floor[step + SENDERS], floor[step + SENDERS] + floor[step + N_SENDERS]):
        _look_for_move(floor, floor[at])


def _look_for_move(floor: Floor, step: int) -> None:
    """Look whether a part of this step can move on, unless it surely has none that is done."""
    place = floor[step + FIRST_PLACE]
    kind = floor[step + KIND]
    if kind == STATION:
        if floor[place + PHASE] != FINISHED and floor[step + N_PLACES] == 1:
            return
    elif kind == BUFFER and floor[place + RIPE] == 0:
        return
    if not floor[step + ON_MOVES]:
        floor[step + ON_MOVES] = 1
        insert(floor, floor[MOVES], floor[N_MOVES], step)
        floor[N_MOVES] += 1


def insert(floor: Floor, first: int, count: int, value: int) -> None:
    """Put a value into an ascending list that begins at address `first`; such lists are short."""
    at = first + count
    while at > first and floor[at - 1] > value:
        floor[at] = floor[at - 1]
        at -= 1
    floor[at] = value


def wake(floor: Floor, what: int, who: int) -> None:
    """Ask the engine to start a timer once the decision is made."""
    at = floor[WAKES] + 2 * floor[N_WAKES]
    floor[at] = what
    floor[at + 1] = who
    floor[N_WAKES] += 1


def ask_to_settle(floor: Floor, owner: int) -> None:
    """Ask the engine to let the owner's timers run or stand still once the decision is made."""
    floor[floor[SETTLES] + floor[N_SETTLES]] = owner
    floor[N_SETTLES] += 1


def count_inside(floor: Floor, change: int) -> None:
    """The number of parts inside changes; 0 only brings the tallies up to now."""
    lasted = floor[NOW] - floor[INSIDE_SINCE]
    floor[floor[WIP_TIME] + floor[INSIDE]] += lasted
    floor[WIP_AREA] += lasted * floor[INSIDE]
    floor[INSIDE_SINCE] = floor[NOW]
    floor[INSIDE] += change


def count_level(floor: Floor, buffer: int, change: int) -> None:
    """The level of a buffer changes; 0 only brings its tally up to now."""
    floor[floor[buffer + LEVEL_TIME] + floor[buffer + LEVEL]] += floor[NOW] - floor[buffer + LEVEL_SINCE]
    floor[buffer + LEVEL_SINCE] = floor[NOW]
    floor[buffer + LEVEL] += change


def count_stock(floor: Floor, end: int, change: int) -> None:
    """The stock of an infeed or outfeed changes; 0 only brings its tallies, and those of its job, up to now."""
    lasted = floor[NOW] - floor[end + LEVEL_SINCE]
    level = floor[end + LEVEL]
    floor[end + STOCK_AREA] += lasted * level
    if level == 0:
        floor[end + EMPTY_TIME] += lasted
    elif level >= floor[end + CAPACITY]:
        floor[end + FULL_TIME] += lasted
    job = floor[end + END_JOB]
    if job and floor[job + PROGRESS] != OFF:
        floor[job + (LASTING_TIME if floor[job + PROGRESS] == UNDER_WAY else WAITING_TIME)] += lasted
    floor[end + LEVEL_SINCE] = floor[NOW]
    floor[end + LEVEL] += change


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


def _in_ring(at: int, capacity: int) -> int:
    """A position that went once beyond the end of a ring goes on at its beginning; far quicker than a division."""
    return at - capacity if at >= capacity else at


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


def wait_over(floor: Floor, machine: int) -> None:
    """Those parts that came first into a machine have waited long enough for others, if they still do."""
    if floor[machine + FIRST_CAME] >= 0 and wait_ends_at(floor, machine) <= floor[NOW]:
        floor[machine + WAITED] = 1
        see_whether_full(floor, machine)
        touch(floor, floor[machine + STEP])


def open_entry(floor: Floor, machine: int) -> None:
    """The part that entered a through-feed last is a pitch inside: another may follow."""
    floor[machine + ENTRY_CLOSED] = 0
    touch_room(floor, floor[machine + STEP])
