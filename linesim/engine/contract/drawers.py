"""Drawers of samples: which good parts go there, and how people empty them. A drawer that is full gets none."""

from __future__ import annotations

from linesim.engine.contract.aside import goes_on, set_aside
from linesim.engine.contract.leaving import give_up_room
from linesim.engine.contract.levels import count_stock
from linesim.engine.contract.log import ROW_SKIPPED, ROW_STOCK, SAMPLE, note
from linesim.engine.contract.places import depart
from linesim.engine.contract.records import (
    BY_LEVEL,
    CAPACITY,
    DRAWER_TO,
    DUE,
    ENDED_AT,
    EVERY,
    FIRST_PLACE,
    LEVEL,
    LOST_AT,
    NOW,
    NUMBER,
    OFF,
    OPENED_BY,
    PART_ID,
    PROGRESS,
    ROOM_TAKEN,
    SAMPLE_NEXT,
    SAMPLED_AT,
    SAMPLED_PARTS,
    SAMPLED_PAUSE,
    SAMPLED_TIME,
    SKIPPED,
    STEP,
    TRIGGER,
    UNSAMPLED,
    Floor,
)
from linesim.engine.contract.zones import ask_for_zone


def take_sample(floor: Floor, machine: int, part: int) -> None:
    """An operation has ended: a good part goes to the drawer if it is to be a sample, and there is room."""
    step = floor[machine + STEP]
    pause = floor[NOW] - floor[machine + ENDED_AT]
    floor[machine + ENDED_AT] = floor[NOW]
    if not goes_on(floor, machine, part):
        return
    floor[machine + UNSAMPLED] += 1
    if not _is_due(floor, step, machine, pause):
        return
    floor[machine + UNSAMPLED] = 0
    floor[machine + SAMPLE_NEXT] = 0
    floor[machine + SAMPLED_AT] = floor[NOW]
    drawer = floor[floor[step + DRAWER_TO] + FIRST_PLACE]
    if floor[drawer + LEVEL] + floor[drawer + ROOM_TAKEN] >= floor[drawer + CAPACITY]:
        floor[step + SKIPPED] += 1
        note(floor, ROW_SKIPPED, floor[machine + NUMBER], floor[part + PART_ID], floor[drawer + NUMBER])
        return
    give_up_room(floor, machine)
    floor[part + LOST_AT] = step
    set_aside(floor, machine, floor[step + DRAWER_TO])


def _is_due(floor: Floor, step: int, machine: int, pause: int) -> bool:
    if floor[machine + SAMPLE_NEXT] or 0 < floor[step + SAMPLED_PAUSE] <= pause:
        return True
    if floor[step + SAMPLED_PARTS]:
        return floor[machine + UNSAMPLED] >= floor[step + SAMPLED_PARTS]
    last = floor[machine + SAMPLED_AT]
    return floor[step + SAMPLED_TIME] > 0 and (last < 0 or floor[NOW] - last >= floor[step + SAMPLED_TIME])


def put_into_drawer(floor: Floor, drawer: int, part: int) -> None:
    """A carriage has brought a sample: it leaves, and lies there until people empty the drawer."""
    depart(floor, part, SAMPLE)
    count_stock(floor, drawer, 1)
    zone = floor[drawer + OPENED_BY]
    if (
        floor[zone + TRIGGER] == BY_LEVEL
        and floor[zone + PROGRESS] == OFF
        and floor[drawer + LEVEL] >= floor[zone + EVERY]
    ):
        floor[zone + PROGRESS] = DUE
        ask_for_zone(floor, zone)


def empty_drawer(floor: Floor, drawer: int) -> None:
    """People have taken all samples out."""
    count_stock(floor, drawer, -floor[drawer + LEVEL])
    note(floor, ROW_STOCK, floor[drawer + NUMBER], -1, 0)
