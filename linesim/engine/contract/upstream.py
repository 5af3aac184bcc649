"""Which part a tour could swap into a machine on its way, where part types skip places and so come from several."""

from __future__ import annotations

from linesim.engine.contract.loops import loops_admit
from linesim.engine.contract.part_types import step_after, type_at
from linesim.engine.contract.records import (
    FIRST_PLACE,
    N_PLACES,
    NONE,
    OWNER_KIND,
    PLACE_SIZE,
    ROOM,
    SINCE,
    STATION,
    STEP,
    STEP_SIZE,
    STEPS,
    Floor,
)
from linesim.engine.contract.ways import is_ready, may_pass_over, next_step, way_of


def ready_upstream(floor: Floor, carriage: int, step: int) -> int:
    """The place nearest upstream with a part ready that this carriage would take straight to a step, or NONE.

    Of several machines of a station it is the one that finished first.
    """
    source = step - STEP_SIZE
    while source >= floor[STEPS]:
        best = NONE
        for n in range(floor[source + N_PLACES]):
            place = floor[source + FIRST_PLACE] + n * floor[source + PLACE_SIZE]
            if (
                is_ready(floor, place)
                and (floor[place + OWNER_KIND] != STATION or floor[place + ROOM] == NONE)
                and (best == NONE or floor[place + SINCE] < floor[best + SINCE])
                and _leads_to(floor, carriage, place, step)
            ):
                best = place
        if best and loops_admit(floor, source, step):
            return best
        source -= STEP_SIZE
    return NONE


def _leads_to(floor: Floor, carriage: int, place: int, step: int) -> bool:
    """Whether a carriage takes the part of a place to a step, with nothing but empty buffers in between."""
    to_step = next_step(floor, place)
    if to_step <= floor[place + STEP] or way_of(floor, place) != carriage:
        return False
    part_type = type_at(floor, place)
    while to_step < step:
        after = step_after(floor, to_step, part_type)
        if not may_pass_over(floor, to_step, after, carriage):
            return False
        to_step = after
    return to_step == step
