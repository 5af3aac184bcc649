"""Parts that leave the line: scrap, from a machine or by a chute; good ones where the route ends without outfeed."""

from __future__ import annotations

from linesim.engine.contract.ahead import call_off_tour
from linesim.engine.contract.aside import set_aside
from linesim.engine.contract.held import parts_inside
from linesim.engine.contract.log import GOOD, ROW_LEAVE, ROW_SCRAP, SCRAP, note
from linesim.engine.contract.loops import leave_loops
from linesim.engine.contract.places import clear_machine, depart
from linesim.engine.contract.records import (
    CALLS_AHEAD,
    CHARGED_TO,
    CHUTE_TO,
    DEFECT,
    LOST_AT,
    MADE_AT,
    N_STEPS,
    NONE,
    NUMBER,
    PART,
    PART_ID,
    ROOM,
    SCRAPPED,
    SOON,
    STEP,
    TAKING,
    Floor,
)
from linesim.engine.contract.touch import touch_room
from linesim.engine.contract.ways import release


def scrap_part(floor: Floor, machine: int, charged_step: int) -> None:
    """The part in a machine is scrap, charged to a station (its step). It leaves now, or goes to a chute."""
    give_up_room(floor, machine)
    step = floor[machine + STEP]
    part = floor[machine + PART]
    floor[part + LOST_AT] = step
    floor[part + CHARGED_TO] = charged_step
    if floor[step + CHUTE_TO]:
        set_aside(floor, machine, floor[step + CHUTE_TO])
        return
    if floor[machine + CALLS_AHEAD] >= 0:
        call_off_tour(floor, machine)
        floor[machine + SOON] = 0
    taking = floor[machine + TAKING]
    clear_machine(floor, machine)
    floor[machine + TAKING] = taking  # a carriage on its way to this part finds the machine empty when it gets there
    _scrap(floor, machine, part)
    _leave_loops(floor, machine)


def reject_part(floor: Floor, machine: int, defect: int) -> None:
    """The part in a machine is scrap because of what has just happened to it here; a defect from before stays."""
    part = floor[machine + PART]
    if floor[part + DEFECT] < 0:
        floor[part + DEFECT] = defect
        floor[part + MADE_AT] = floor[machine + STEP]
    scrap_part(floor, machine, floor[machine + STEP])


def fall_into_chute(floor: Floor, chute: int, part: int) -> None:
    """A carriage has brought scrap to a chute: there it leaves."""
    _scrap(floor, chute, part)


def _scrap(floor: Floor, place: int, part: int) -> None:
    note(floor, ROW_SCRAP, floor[place + NUMBER], floor[part + PART_ID], floor[part + DEFECT])
    floor[floor[part + CHARGED_TO] + SCRAPPED] += 1
    depart(floor, part, SCRAP)


def scrap_work(floor: Floor, machine: int) -> None:
    """All parts in a machine that works leave as scrap, charged to its own station."""
    for _ in range(parts_inside(floor, machine)):
        scrap_part(floor, machine, floor[machine + STEP])


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
    depart(floor, part, GOOD)
    _leave_loops(floor, machine)


def _leave_loops(floor: Floor, machine: int) -> None:
    leave_loops(floor, floor[machine + STEP], floor[N_STEPS])
    touch_room(floor, floor[machine + STEP])
