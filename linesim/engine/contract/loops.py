"""Rework loops: a fresh part enters one only if at least one place of the loop stays free after it.

Without this limit a loop can lock up: every part in it waits for the place of the next one.
"""

from __future__ import annotations

from linesim.engine.contract.records import (
    INDEX,
    LOOP_FROM,
    LOOP_INSIDE,
    LOOP_PLACES,
    LOOP_SIZE,
    LOOP_TO,
    LOOPS,
    N_LOOPS,
    SKIPS,
    STEP_SIZE,
    STEPS,
    Floor,
)
from linesim.engine.contract.touch import touch_room


def loops_admit(floor: Floor, from_step: int, to_step: int) -> bool:
    """Whether a part may go from one step to another as far as rework loops are concerned."""
    for n in range(floor[N_LOOPS]):
        loop = floor[LOOPS] + n * LOOP_SIZE
        if _enters(floor, loop, from_step, to_step) and floor[loop + LOOP_INSIDE] + 1 >= floor[loop + LOOP_PLACES]:
            return False
    return True


def enter_loops(floor: Floor, from_step: int, to_step: int) -> None:
    """A part is on its way from one step to another: count it in the loops it enters."""
    for n in range(floor[N_LOOPS]):
        loop = floor[LOOPS] + n * LOOP_SIZE
        if _enters(floor, loop, from_step, to_step):
            floor[loop + LOOP_INSIDE] += 1


def leave_loops(floor: Floor, from_step: int, to_index: int) -> None:
    """A part leaves its place for the step with this index: loops it leaves have room for one more."""
    for n in range(floor[N_LOOPS]):
        loop = floor[LOOPS] + n * LOOP_SIZE
        if _holds(floor, loop, floor[from_step + INDEX]) and not _holds(floor, loop, to_index):
            floor[loop + LOOP_INSIDE] -= 1
            _touch_ways_in(floor, loop)


def cancel_entry(floor: Floor, from_step: int, to_step: int) -> None:
    """A part counted by `enter_loops` will not come."""
    for n in range(floor[N_LOOPS]):
        loop = floor[LOOPS] + n * LOOP_SIZE
        if _enters(floor, loop, from_step, to_step):
            floor[loop + LOOP_INSIDE] -= 1
            _touch_ways_in(floor, loop)


def _touch_ways_in(floor: Floor, loop: int) -> None:
    """Another part may enter the loop: at its first step, or further in where it skips that."""
    last = floor[loop + (LOOP_TO if floor[SKIPS] else LOOP_FROM)]
    for index in range(floor[loop + LOOP_FROM], last + 1):
        touch_room(floor, floor[STEPS] + index * STEP_SIZE)


def _enters(floor: Floor, loop: int, from_step: int, to_step: int) -> bool:
    """Also backwards: where loops cross, a reject of one may come into another."""
    return _holds(floor, loop, floor[to_step + INDEX]) and not _holds(floor, loop, floor[from_step + INDEX])


def _holds(floor: Floor, loop: int, index: int) -> bool:
    return floor[loop + LOOP_FROM] <= index <= floor[loop + LOOP_TO]
