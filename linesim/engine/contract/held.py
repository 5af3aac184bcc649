"""The parts in a machine that holds several: the one at hand stands in PART, the others behind it in a ring."""

from __future__ import annotations

from linesim.engine.contract.part_types import step_after
from linesim.engine.contract.records import (
    N_INSIDE,
    NO_PART,
    PART,
    PART_TO,
    PART_TYPE,
    QUEUE,
    QUEUE_AT,
    ROOM_FOR,
    STEP,
    Floor,
)


def part_in(floor: Floor, machine: int, n: int) -> int:
    """The n-th part in a machine, from 0 on: the one to be taken next, then those behind it."""
    if n == 0:
        return floor[machine + PART]
    return floor[floor[machine + QUEUE] + (floor[machine + QUEUE_AT] + n - 1) % floor[machine + ROOM_FOR]]


def put_last(floor: Floor, machine: int, part: int) -> None:
    if floor[machine + PART] == NO_PART:
        _set_at_hand(floor, machine, part)
    else:
        at = (floor[machine + QUEUE_AT] + floor[machine + N_INSIDE] - 1) % floor[machine + ROOM_FOR]
        floor[floor[machine + QUEUE] + at] = part
    floor[machine + N_INSIDE] += 1


def take_first(floor: Floor, machine: int) -> None:
    floor[machine + N_INSIDE] -= 1
    if floor[machine + N_INSIDE]:
        _set_at_hand(floor, machine, floor[floor[machine + QUEUE] + floor[machine + QUEUE_AT]])
        floor[machine + QUEUE_AT] = (floor[machine + QUEUE_AT] + 1) % floor[machine + ROOM_FOR]
    else:
        floor[machine + PART] = NO_PART


def parts_inside(floor: Floor, machine: int) -> int:
    """How many parts are in a machine that is not empty."""
    return floor[machine + N_INSIDE] if floor[machine + ROOM_FOR] else 1


def _set_at_hand(floor: Floor, machine: int, part: int) -> None:
    """This part will be the next to be taken, and go where its type goes."""
    floor[machine + PART] = part
    floor[machine + PART_TO] = step_after(floor, floor[machine + STEP], floor[part + PART_TYPE])
