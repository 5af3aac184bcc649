"""Parts that rest in buffers when a run begins: they pass the infeed at time 0 and are put where they rest."""

from __future__ import annotations

from linesim.engine.contract.log import ROW_LEAVE, note
from linesim.engine.contract.loops import enter_loops
from linesim.engine.contract.places import enter_line, put_part
from linesim.engine.contract.records import (
    AT_START,
    BUFFER,
    FIRST_PLACE,
    KIND,
    N_STEPS,
    NUMBER,
    PART_ID,
    STEP_SIZE,
    STEPS,
    Floor,
)


def fill_buffers(floor: Floor) -> None:
    """Before the first decision, the most downstream buffer first. A limited stock of the infeed is not used for it."""
    first = floor[STEPS]
    infeed = floor[first + FIRST_PLACE]
    for n in range(floor[N_STEPS] - 1, 0, -1):
        step = first + n * STEP_SIZE
        if floor[step + KIND] == BUFFER:
            buffer = floor[step + FIRST_PLACE]
            for _ in range(floor[buffer + AT_START]):
                part = enter_line(floor, infeed)
                note(floor, ROW_LEAVE, floor[infeed + NUMBER], floor[part + PART_ID], -1)
                enter_loops(floor, first, step)
                put_part(floor, buffer, part, -1)
