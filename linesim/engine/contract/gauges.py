"""Gauges: what is read of the sizes of a part, with the gauge's own error, and what that says."""

from __future__ import annotations

from linesim.engine.contract.feedback import correct
from linesim.engine.contract.log import ROW_CORRECT, ROW_READ, note, note_reading
from linesim.engine.contract.records import (
    CORRECTION,
    GAIN,
    GAUGE_SIZE,
    GAUGED,
    GAUGED_DEFECT,
    GAUGES,
    MADE_IN,
    N_GAUGES,
    NONE,
    NUMBER,
    PART_ID,
    PART_SIZE,
    READ_ERROR,
    READS_FROM,
    READS_TO,
    SAMPLES,
    SIZE,
    SIZE_SIZE,
    SIZED_BY,
    Floor,
)
from linesim.engine.contract.sampling import is_sampled


def read_sizes(floor: Floor, step: int, machine: int, part: int) -> bool:
    """A station measures a part, if that is sampled. Returns whether a reading is out; one on the limit is not."""
    rejected = False
    for n in range(floor[step + N_GAUGES]):
        gauge = floor[step + GAUGES] + n * GAUGE_SIZE
        kept = part + PART_SIZE + floor[gauge + GAUGED] * SIZE_SIZE
        making = floor[kept + SIZED_BY]
        if making == NONE or (floor[gauge + SAMPLES] and not is_sampled(floor, gauge, making, kept)):
            continue
        reading = floor[kept + SIZE] + floor[gauge + READ_ERROR]
        number, maker = floor[machine + NUMBER], floor[floor[making + MADE_IN] + NUMBER]
        note(floor, ROW_READ, number, floor[part + PART_ID], reading)
        moved = correct(floor, gauge, making, kept, reading) if floor[gauge + GAIN] else 0
        if moved:
            note(floor, ROW_CORRECT, maker, floor[part + PART_ID], floor[making + CORRECTION])
        note_reading(floor, part, number, floor[gauge + GAUGED], maker, floor[kept + SIZE], reading, moved)
        if reading < floor[gauge + READS_FROM] or reading > floor[gauge + READS_TO]:
            rejected = True
    return rejected


def is_measured(floor: Floor, step: int, defect: int) -> bool:
    """Whether a defect is a size that this station measures: then readings alone judge it."""
    for n in range(floor[step + N_GAUGES]):
        if floor[floor[step + GAUGES] + n * GAUGE_SIZE + GAUGED_DEFECT] == defect:
            return True
    return False
