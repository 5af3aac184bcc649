"""Inspection: what a station that measures rejects, and where rejects go."""

from __future__ import annotations

from linesim.engine.contract.gauges import is_measured, read_sizes
from linesim.engine.contract.leaving import give_up_room, scrap_part
from linesim.engine.contract.log import ROW_REWORK, note
from linesim.engine.contract.records import (
    CATCHES,
    DEFECT,
    FALSE_ALARMS,
    FALSE_REJECTS,
    FIRST_PLACE,
    INDEX,
    MADE_AT,
    N_GAUGES,
    NONE,
    NUMBER,
    PART,
    PART_ID,
    PART_TO,
    REWORK_TO,
    REWORKED,
    REWORKS,
    REWORKS_AT_MOST,
    Floor,
)


def inspect(floor: Floor, step: int, machine: int, draw: int) -> None:
    """Reject a part by its readings, a bad one that is caught, or one by false alarm: to rework if it may, or scrap."""
    part = floor[machine + PART]
    bad = floor[part + DEFECT] >= 0
    read_out = floor[step + N_GAUGES] > 0 and read_sizes(floor, step, machine, part)
    unmeasured = bad and not (floor[step + N_GAUGES] > 0 and is_measured(floor, step, floor[part + DEFECT]))
    if not read_out and draw >= (floor[step + CATCHES] if unmeasured else floor[step + FALSE_ALARMS]):
        return
    charged = floor[part + MADE_AT] if bad else step
    if not bad:
        floor[step + FALSE_REJECTS] += 1
    back = floor[step + REWORK_TO]
    if back == NONE or floor[part + REWORKS] >= floor[step + REWORKS_AT_MOST]:
        scrap_part(floor, machine, charged)
        return
    give_up_room(floor, machine)
    floor[charged + REWORKED] += 1
    floor[part + REWORKS] += 1
    floor[machine + PART_TO] = back
    note(floor, ROW_REWORK, floor[machine + NUMBER], floor[part + PART_ID], floor[floor[back + FIRST_PLACE] + NUMBER])
    if bad and floor[floor[part + MADE_AT] + INDEX] >= floor[back + INDEX]:
        floor[part + DEFECT] = -1  # the stations it passes again make it good, or make a new defect
