"""Calls ahead: a machine calls its loader before its operation ends, and the loader may come and wait in front of it.

The planned end counts, since nobody knows how long a cycle will really take. A machine that a stop will hold right
after this part doesn't call. While it is down, or once a stop falls due, a call that nobody has taken closes.
"""

from __future__ import annotations

from linesim.engine.contract.log import ROW_CALL, note
from linesim.engine.contract.part_types import step_after, type_at
from linesim.engine.contract.rails import forget_way
from linesim.engine.contract.records import (
    BREAKS,
    BY_COUNT,
    COUNT,
    DUE,
    EVERY,
    IDLE,
    MOTION,
    MOVING,
    N_OWN_STOPPAGES,
    NONE,
    NUMBER,
    OFF,
    OVERLAPS,
    OWN_STOPPAGES,
    OWNER_KIND,
    PARKING,
    PART,
    PART_ID,
    PART_TO,
    PICK,
    PLANNED,
    PROGRESS,
    SOON,
    STATION,
    STEP,
    STOPPAGE_SIZE,
    TAKING,
    TOUR,
    TRIGGER,
    Floor,
)
from linesim.engine.contract.touch import touch
from linesim.engine.contract.ways import can_be_served, release


def call_ahead(floor: Floor, machine: int) -> None:
    """The planned end of a machine's operation is near: its part may be called for, unless a stop comes first."""
    if _will_stop(floor, machine):
        return
    step = floor[machine + STEP]
    floor[machine + SOON] = 1
    floor[machine + PART_TO] = step_after(floor, step, type_at(floor, machine))
    note(floor, ROW_CALL, floor[machine + NUMBER], floor[floor[machine + PART] + PART_ID], -1)
    touch(floor, step)


def _will_stop(floor: Floor, machine: int) -> bool:
    """Whether a stop that keeps the loader off falls due with the part in work, or is due already."""
    for n in range(floor[machine + N_OWN_STOPPAGES]):
        stop = floor[machine + OWN_STOPPAGES] + n * STOPPAGE_SIZE
        comes = floor[stop + PROGRESS] == DUE or (
            floor[stop + TRIGGER] == BY_COUNT
            and not floor[stop + BREAKS]  # that comes as a surprise
            and floor[stop + PROGRESS] == OFF
            and floor[stop + COUNT] + 1 >= floor[stop + EVERY]
        )
        if comes and not floor[stop + OVERLAPS]:
            return True
    return False


def forget_call_ahead(floor: Floor, machine: int) -> None:
    """The part in work will not be ready as soon as it was called: a stop falls due, or the work is lost."""
    if floor[machine + SOON]:
        floor[machine + SOON] = 0
        touch(floor, floor[machine + STEP])


def is_expected(floor: Floor, place: int) -> bool:
    """Whether a part here has called ahead, can be awaited at its machine, and no tour has claimed it."""
    return (
        floor[place + OWNER_KIND] == STATION
        and floor[place + SOON] == 1
        and floor[place + TAKING] == NONE
        and can_be_served(floor, place)
    )


def call_off_tour(floor: Floor, machine: int) -> None:
    """The part that a tour was to begin with is scrapped: the tour is given up, and what it had reserved.

    A carriage on its way ends its leg first. One that brings a part here comes all the same, to put it in.
    """
    carriage = floor[machine + TAKING]
    tour = floor[carriage + TOUR]
    if carriage == NONE or not floor[carriage + PLANNED] or floor[tour] != machine or floor[tour + 1] != PICK:
        return
    release(floor, floor[machine + STEP], floor[tour + 2])
    floor[machine + TAKING] = NONE
    floor[carriage + MOTION] = PARKING if floor[carriage + MOTION] == MOVING else IDLE
    forget_way(floor, carriage)
