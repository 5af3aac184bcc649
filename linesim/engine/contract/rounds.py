"""A fixed round: the loader goes through a repeated cycle of starting places, travels ahead and waits for the part."""

from __future__ import annotations

from linesim.engine.contract.rails import forget_way
from linesim.engine.contract.records import (
    BEFORE_SERVICE,
    BUFFER,
    COMING,
    EMPTY,
    EXCHANGE,
    EXCHANGES,
    FINISHED,
    FIRST_PLACE,
    GRIPPERS,
    IDLE,
    KIND,
    LEVEL,
    LOADED,
    MOTION,
    N_PLACES,
    N_ROUND,
    N_TOUR,
    NONE,
    OWNER_KIND,
    PARTS_TAKEN,
    PHASE,
    PICK,
    PLACE_SIZE,
    PLANNED,
    PUT,
    ROUND,
    ROUND_AT,
    SINCE,
    STANDING,
    STATION,
    STEP,
    STEP_SIZE,
    TAKING,
    TOUR,
    TOUR_AT,
    WAY_OUT,
    Floor,
)
from linesim.engine.contract.touch import touch
from linesim.engine.contract.tours import commit_tour
from linesim.engine.contract.ways import can_be_served, is_ready, next_step, way_of, way_on


def go_to_next_start(floor: Floor, carriage: int) -> None:
    """Set off for the next starting place of the round that holds a part.

    An empty place that this carriage itself feeds is passed over: waiting there would be for ever. At one that is fed
    otherwise the round stands still until a part is there.
    """
    for _ in range(floor[carriage + N_ROUND]):
        step = floor[floor[carriage + ROUND] + floor[carriage + ROUND_AT]]
        place = _place_with_part(floor, step)
        if place == NONE and floor[step - STEP_SIZE + WAY_OUT] != carriage:
            return
        floor[carriage + ROUND_AT] = (floor[carriage + ROUND_AT] + 1) % floor[carriage + N_ROUND]
        if place:
            tour = floor[carriage + TOUR]
            floor[tour] = place
            floor[tour + 1] = PICK
            floor[carriage + N_TOUR] = 1
            floor[carriage + TOUR_AT] = 0
            floor[carriage + PLANNED] = 0
            floor[carriage + MOTION] = STANDING
            if floor[place + OWNER_KIND] == STATION:
                floor[place + TAKING] = carriage
                touch(floor, step)
            return


def _place_with_part(floor: Floor, step: int) -> int:
    """The place of a step that holds a part nobody has claimed; of several machines the one that has it longest."""
    if floor[step + KIND] == BUFFER:
        buffer = floor[step + FIRST_PLACE]
        return buffer if floor[buffer + LEVEL] > floor[buffer + PARTS_TAKEN] else NONE
    if floor[step + KIND] != STATION:
        return floor[step + FIRST_PLACE]
    return _oldest_part(floor, step)


def _oldest_part(floor: Floor, step: int) -> int:
    """The unclaimed machine whose part is furthest: finished ones before others, then by time in that phase."""
    best = NONE
    for n in range(floor[step + N_PLACES]):
        machine = floor[step + FIRST_PLACE] + n * floor[step + PLACE_SIZE]
        if floor[machine + PHASE] == EMPTY or floor[machine + TAKING]:
            continue
        if (
            best == NONE
            or floor[machine + PHASE] > floor[best + PHASE]
            or (floor[machine + PHASE] == floor[best + PHASE] and floor[machine + SINCE] < floor[best + SINCE])
        ):
            best = machine
    return best


def plan_round_tour(floor: Floor, carriage: int) -> None:
    """Standing at a starting place: once its part is ready and has a place to go, plan the tour and reserve its places.

    With two grippers a machine that still works may be on the tour: the loader will wait there for its part.
    """
    tour = floor[carriage + TOUR]
    start = floor[tour]
    if floor[start + OWNER_KIND] == STATION:
        if floor[start + PHASE] == EMPTY:  # scrapped while the loader waited for it
            _give_up_start(floor, carriage, start)
            return
        if floor[start + PHASE] == LOADED and _another_got_the_room(floor, start):
            _give_up_start(floor, carriage, start)
            floor[carriage + ROUND_AT] = (floor[carriage + ROUND_AT] - 1) % floor[carriage + N_ROUND]
            return
        if floor[start + PHASE] != FINISHED or not can_be_served(floor, start):
            return
    elif not is_ready(floor, start):
        return
    holder = start
    count = 1
    while way_of(floor, holder) == carriage:
        target = way_on(floor, holder)
        action = PUT
        if target == NONE and floor[carriage + GRIPPERS] == 2 and count <= floor[carriage + EXCHANGES]:
            target = _machine_to_swap(floor, next_step(floor, holder))
            action = EXCHANGE
        if target == NONE:
            return
        floor[tour + 2 * count] = target
        floor[tour + 2 * count + 1] = action
        count += 1
        if action == PUT:
            floor[carriage + N_TOUR] = count
            if floor[start + OWNER_KIND] == STATION:
                floor[start + TAKING] = NONE  # claimed again with the rest of the tour
            commit_tour(floor, carriage)
            return
        holder = target


def _give_up_start(floor: Floor, carriage: int, machine: int) -> None:
    floor[machine + TAKING] = NONE
    floor[carriage + MOTION] = IDLE
    forget_way(floor, carriage)
    touch(floor, floor[machine + STEP])


def _another_got_the_room(floor: Floor, machine: int) -> bool:
    """Blocking before service: whether another machine of the station has started meanwhile, so this one may not."""
    step = floor[machine + STEP]
    if not floor[step + BEFORE_SERVICE]:
        return False
    other = _oldest_part(floor, step)
    return other != NONE and floor[other + PHASE] > LOADED


def _machine_to_swap(floor: Floor, step: int) -> int:
    if floor[step + KIND] != STATION:
        return NONE
    machine = _oldest_part(floor, step)
    return machine if machine and floor[machine + COMING] == NONE else NONE
