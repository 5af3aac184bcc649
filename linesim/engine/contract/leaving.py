"""Parts that leave the line from inside a machine: scrap, and good parts where the route ends without an outfeed."""

from __future__ import annotations

from linesim.engine.contract.ahead import call_off_tour
from linesim.engine.contract.log import GOOD, ROW_LEAVE, ROW_SCRAP, SCRAP, note
from linesim.engine.contract.loops import leave_loops
from linesim.engine.contract.places import clear_machine, depart, touch_room
from linesim.engine.contract.records import (
    CALLS_AHEAD,
    DEFECT,
    N_STEPS,
    NONE,
    NUMBER,
    PART,
    PART_ID,
    ROOM,
    SCRAPPED,
    SOON,
    STATION_NUMBER,
    STEP,
    TAKING,
    Floor,
)
from linesim.engine.contract.ways import release


def scrap_part(floor: Floor, machine: int, charged_step: int) -> None:
    """The part in a machine leaves as scrap at this instant, charged to a station (its step)."""
    give_up_room(floor, machine)
    if floor[machine + CALLS_AHEAD] >= 0:
        call_off_tour(floor, machine)
        floor[machine + SOON] = 0
    taking = floor[machine + TAKING]
    part = floor[machine + PART]
    note(floor, ROW_SCRAP, floor[machine + NUMBER], floor[part + PART_ID], floor[part + DEFECT])
    clear_machine(floor, machine)
    floor[machine + TAKING] = taking  # a carriage on its way to this part finds the machine empty when it gets there
    floor[charged_step + SCRAPPED] += 1
    _leave(floor, machine, part, SCRAP, floor[charged_step + STATION_NUMBER])


def give_up_room(floor: Floor, machine: int) -> None:
    """The part in a machine will not need the room that was reserved for it at the start."""
    if floor[machine + ROOM]:
        release(floor, floor[machine + STEP], floor[machine + ROOM])
        floor[machine + ROOM] = NONE


def finish_route(floor: Floor, machine: int) -> None:
    """The part in a machine leaves as good: the route ends here and has no outfeed."""
    give_up_room(floor, machine)
    part = floor[machine + PART]
    note(floor, ROW_LEAVE, floor[machine + NUMBER], floor[part + PART_ID], -1)
    clear_machine(floor, machine)
    _leave(floor, machine, part, GOOD, -1)


def _leave(floor: Floor, machine: int, part: int, fate: int, charged_to: int) -> None:
    depart(floor, part, fate, charged_to)
    leave_loops(floor, floor[machine + STEP], floor[N_STEPS])
    touch_room(floor, floor[machine + STEP])
