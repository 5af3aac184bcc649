"""Machines that work on several parts together: they start when full, or with fewer that have waited long enough.

PART is the part that would be taken next; the others stand behind it in a ring, finished ones first. A place that is
free can be loaded while finished parts still stand in others. A machine that waits for a part that is on its way does
not start without it, however long the others have waited.
"""

from __future__ import annotations

from linesim.engine.contract.held import put_last, take_first
from linesim.engine.contract.records import (
    AT_LEAST,
    COMING,
    EMPTY,
    FINISHED,
    FIRST_CAME,
    LOADED,
    LONGEST_WAIT,
    N_DONE,
    N_INSIDE,
    NONE,
    NOW,
    PART,
    PHASE,
    PITCH,
    ROOM_FOR,
    SINCE,
    STEP,
    WAIT_IS_TIMED,
    WAITED,
    Floor,
)
from linesim.engine.contract.touch import touch


def join_batch(floor: Floor, machine: int, part: int) -> bool:
    """A part comes into a machine. Returns whether the wait of a new batch is to be timed."""
    put_last(floor, machine, part)
    begins = floor[machine + FIRST_CAME] < 0
    if begins:
        floor[machine + FIRST_CAME] = floor[NOW]
    see_whether_full(floor, machine)
    if not begins or floor[machine + LONGEST_WAIT] < 0 or floor[machine + WAIT_IS_TIMED]:
        return False
    floor[machine + WAIT_IS_TIMED] = 1
    return True


def see_whether_full(floor: Floor, machine: int) -> None:
    """Settle the phase of a machine that does not work: finished while it holds finished parts, loaded once it may
    start."""
    to_work_on = floor[machine + N_INSIDE] - floor[machine + N_DONE]
    phase = EMPTY
    if floor[machine + N_DONE]:
        phase = FINISHED
    elif floor[machine + COMING] == NONE and (
        to_work_on == floor[machine + ROOM_FOR] or (floor[machine + WAITED] and to_work_on >= floor[machine + AT_LEAST])
    ):
        phase = LOADED
    if phase != floor[machine + PHASE]:
        floor[machine + PHASE] = phase
        floor[machine + SINCE] = floor[NOW]


def begin_batch(floor: Floor, machine: int) -> None:
    """The parts of a batch start together."""
    floor[machine + FIRST_CAME] = -1
    floor[machine + WAITED] = 0


def leave_batch(floor: Floor, machine: int) -> None:
    """The part at hand leaves the machine."""
    if floor[machine + N_DONE]:
        floor[machine + N_DONE] -= 1
    take_first(floor, machine)
    see_whether_full(floor, machine)


def finish_batch(floor: Floor, machine: int) -> None:
    """An operation has ended, for all parts that it worked on."""
    floor[machine + N_DONE] = parts_at_work(floor, machine)


def look_at_next(floor: Floor, machine: int) -> None:
    """The part at hand goes behind the others; once all had their turn they stand as before."""
    if floor[machine + PITCH]:
        return
    part = floor[machine + PART]
    take_first(floor, machine)
    put_last(floor, machine, part)


def parts_at_work(floor: Floor, machine: int) -> int:
    """How many parts the operation that starts or ends works on."""
    return floor[machine + N_INSIDE] if floor[machine + ROOM_FOR] and not floor[machine + PITCH] else 1


def wait_ends_at(floor: Floor, machine: int) -> int:
    """When the wait of the batch that gathers will be over [us]; -1 where none does, or it is over."""
    if floor[machine + FIRST_CAME] >= 0 and not floor[machine + WAITED]:
        return floor[machine + FIRST_CAME] + floor[machine + LONGEST_WAIT]
    floor[machine + WAIT_IS_TIMED] = 0
    return -1


def wait_over(floor: Floor, machine: int) -> None:
    """Those parts that came first into a machine have waited long enough for others, if they still do."""
    if floor[machine + FIRST_CAME] >= 0 and wait_ends_at(floor, machine) <= floor[NOW]:
        floor[machine + WAITED] = 1
        see_whether_full(floor, machine)
        touch(floor, floor[machine + STEP])
