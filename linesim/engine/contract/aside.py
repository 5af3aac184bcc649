"""Parts that do not go on: a loader brings them from their machine to a place aside of the route, chute or drawer.

Until then they stay in the machine like any finished part, and open calls. A tour that was chosen for such a part
before its operation ended keeps what lies before its machine, and goes to the place aside from there.
"""

from __future__ import annotations

from linesim.engine.contract.log import ROW_SET_ASIDE, ROW_TOUR, note
from linesim.engine.contract.part_types import step_after
from linesim.engine.contract.records import (
    FINISHED,
    FIRST_PLACE,
    N_TOUR,
    NONE,
    NOW,
    NUMBER,
    PART,
    PART_ID,
    PART_TO,
    PART_TYPE,
    PHASE,
    PLANNED,
    PUT,
    ROOM,
    ROOM_TAKEN,
    SINCE,
    SOON,
    STEP,
    TAKING,
    TOUR,
    TOUR_AT,
    Floor,
)
from linesim.engine.contract.touch import touch_supply
from linesim.engine.contract.tours import cut_off_behind


def set_aside(floor: Floor, machine: int, to_step: int) -> None:
    """The part in a machine, finished or given up, will be brought to a place aside, where room is kept for it."""
    place = floor[to_step + FIRST_PLACE]
    floor[machine + PHASE] = FINISHED
    floor[machine + SINCE] = floor[NOW]
    floor[machine + SOON] = 0
    floor[machine + PART_TO] = to_step
    note(floor, ROW_SET_ASIDE, floor[machine + NUMBER], floor[floor[machine + PART] + PART_ID], floor[place + NUMBER])
    floor[place + ROOM_TAKEN] += 1
    carriage = floor[machine + TAKING]
    if carriage != NONE and floor[carriage + PLANNED]:
        _divert_tour(floor, carriage, machine, place)
    else:
        floor[machine + ROOM] = place
    touch_supply(floor, floor[machine + STEP])


def goes_on(floor: Floor, machine: int, part: int) -> bool:
    """Whether the part that a machine has just ended is still there, and to go on along the route."""
    if floor[machine + PART] != part:
        return False
    return floor[machine + PART_TO] == step_after(floor, floor[machine + STEP], floor[part + PART_TYPE])


def _divert_tour(floor: Floor, carriage: int, machine: int, place: int) -> None:
    """A tour ends at a place aside with the part of this machine; what it had reserved further on is free again."""
    tour = floor[carriage + TOUR]
    here = floor[carriage + TOUR_AT]
    while floor[tour + 2 * here] != machine:
        here += 1
    cut_off_behind(floor, carriage, here)
    floor[tour + 2 * here + 2] = place
    floor[tour + 2 * here + 3] = PUT
    floor[carriage + N_TOUR] = here + 2
    note(floor, ROW_TOUR, floor[carriage + NUMBER], -1, floor[place + NUMBER])
