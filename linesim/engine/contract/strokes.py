"""Work of so many strokes, another number for each part, such as straightening. One that needs too many is rejected."""

from __future__ import annotations

from linesim.engine.contract.leaving import reject_part
from linesim.engine.contract.log import ROW_STROKES, note
from linesim.engine.contract.records import (
    N_STROKES,
    NUMBER,
    PART,
    PART_ID,
    STEP,
    STROKES,
    STROKES_AT_MOST,
    STROKES_DEFECT,
    TOO_MANY,
    Floor,
)


def strokes_to_make(floor: Floor, machine: int, draw: int) -> int:
    """An operation starts: how many strokes it makes, by a whole number below 1e9 that says how many the part needs."""
    step = floor[machine + STEP]
    needed = 0
    while needed + 1 < floor[step + N_STROKES] and draw >= floor[floor[step + STROKES] + needed]:
        needed += 1
    floor[machine + TOO_MANY] = 1 if needed > floor[step + STROKES_AT_MOST] else 0
    note(floor, ROW_STROKES, floor[machine + NUMBER], floor[floor[machine + PART] + PART_ID], needed)
    return min(needed, floor[step + STROKES_AT_MOST])


def reject_after_too_many(floor: Floor, machine: int) -> None:
    """The most strokes are made and the part would need more: it is scrapped here, and charged here."""
    reject_part(floor, machine, floor[floor[machine + STEP] + STROKES_DEFECT])
