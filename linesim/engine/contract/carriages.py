"""What a carriage does next: choose a tour, set off, handle at a stop, or wait there."""

from __future__ import annotations

from linesim.engine.contract.calls import refresh_calls
from linesim.engine.contract.changeovers import set_up
from linesim.engine.contract.ends import stock_changed
from linesim.engine.contract.log import ROW_LEG, note
from linesim.engine.contract.loops import leave_loops
from linesim.engine.contract.places import put_part, take_part, touch, wake
from linesim.engine.contract.records import (
    AT,
    CARRIAGE_SIZE,
    CARRIAGES,
    CLOSED,
    DOWN,
    DUTY,
    EMPTY,
    ENDS_WATCHED,
    EXCHANGE,
    FINISHED,
    FIXED,
    HANDLED,
    HANDLING,
    HELD,
    IDLE,
    LEG_TIME,
    MIX,
    MOTION,
    MOVING,
    N_CALLS,
    N_CARRIAGES,
    N_LOADER_STOPS,
    N_TOUR,
    NO_PART,
    NONE,
    NUMBER,
    ON_DUTY,
    OWNER_KIND,
    PARK_AT,
    PARKING,
    PARTS_TAKEN,
    PHASE,
    PICK,
    PLACE_OF,
    PLANNED,
    PUT,
    ROOM_TAKEN,
    RULE,
    STANDING,
    START_LEG,
    STATION,
    STEP,
    STOP,
    TIMES,
    TOUR,
    TOUR_AT,
    TRAVEL,
    ZONES,
    Floor,
)
from linesim.engine.contract.rounds import go_to_next_start, plan_round_tour
from linesim.engine.contract.tours import choose_tour, end_tour_here, stop_of
from linesim.engine.contract.ways import can_be_served, index_of
from linesim.engine.contract.zones import open_zones


def drive_carriages(floor: Floor) -> None:
    """Loaders take calls and go on with their tours, in file order.

    One that is down, closed, or in an open zone stands still.
    """
    refresh_calls(floor)
    for n in range(floor[N_CARRIAGES]):
        carriage = floor[CARRIAGES] + n * CARRIAGE_SIZE
        if floor[carriage + ZONES]:
            open_zones(floor, carriage)
        if floor[carriage + DOWN] or floor[carriage + STOP] or floor[carriage + CLOSED]:
            continue
        if floor[carriage + MOTION] == STANDING:
            _go_on(floor, carriage)
        if floor[carriage + MOTION] == IDLE:
            _find_work(floor, carriage)
            if floor[carriage + MOTION] == STANDING:
                _go_on(floor, carriage)
        refresh_calls(floor)


def _find_work(floor: Floor, carriage: int) -> None:
    if floor[carriage + DUTY] != ON_DUTY:
        return
    if floor[carriage + RULE] == FIXED:
        go_to_next_start(floor, carriage)
    elif floor[carriage + N_CALLS]:
        choose_tour(floor, carriage)
    if floor[carriage + MOTION] == IDLE and floor[carriage + PARK_AT] >= 0:
        _set_off(floor, carriage, floor[carriage + PARK_AT], PARKING)


def _set_off(floor: Floor, carriage: int, stop: int, motion: int) -> None:
    """Start a leg, unless the carriage stands there already."""
    if stop == floor[carriage + AT]:
        return
    table = floor[carriage + TRAVEL] + floor[carriage + AT] * floor[carriage + N_LOADER_STOPS]
    floor[carriage + LEG_TIME] = floor[table + stop]
    floor[carriage + AT] = stop
    floor[carriage + MOTION] = motion
    place = floor[floor[carriage + PLACE_OF] + stop]
    note(floor, ROW_LEG, floor[carriage + NUMBER], floor[place + NUMBER], floor[carriage + LEG_TIME])
    wake(floor, START_LEG, carriage)


def end_leg(floor: Floor, carriage: int) -> None:
    """A carriage arrives."""
    floor[carriage + MOTION] = IDLE if floor[carriage + MOTION] == PARKING else STANDING


def _go_on(floor: Floor, carriage: int) -> None:
    """A carriage that stands: go to the stop of its tour, or handle there if the place lets it, or wait."""
    place = floor[floor[carriage + TOUR] + 2 * floor[carriage + TOUR_AT]]
    _set_off(floor, carriage, stop_of(floor, carriage, place), MOVING)
    if floor[carriage + MOTION] == MOVING:
        return
    if not floor[carriage + PLANNED]:
        if floor[carriage + DUTY] != ON_DUTY:
            return
        plan_round_tour(floor, carriage)
        if not floor[carriage + PLANNED]:
            return
    action_at = floor[carriage + TOUR] + 2 * floor[carriage + TOUR_AT] + 1
    if floor[place + OWNER_KIND] == STATION:
        if not can_be_served(floor, place):
            return
        phase = floor[place + PHASE]
        if floor[action_at] == EXCHANGE and phase == EMPTY:
            end_tour_here(floor, carriage)
        if phase != (EMPTY if floor[action_at] == PUT else FINISHED):
            return
        floor[place + HANDLED] = carriage
        touch(floor, floor[place + STEP])
    floor[carriage + MOTION] = HANDLING
    floor[carriage + LEG_TIME] = floor[floor[carriage + TIMES] + 3 * floor[carriage + AT] + floor[action_at]]
    wake(floor, START_LEG, carriage)


def end_handling(floor: Floor, carriage: int) -> None:
    """Handling takes effect: parts leave and arrive now."""
    at = floor[carriage + TOUR] + 2 * floor[carriage + TOUR_AT]
    place = floor[at]
    action = floor[at + 1]
    number = floor[carriage + NUMBER]
    kind = floor[place + OWNER_KIND]
    brought = floor[carriage + HELD]
    floor[carriage + HELD] = NO_PART
    if action != PUT:
        floor[carriage + HELD] = take_part(floor, place, number)
        leave_loops(floor, floor[place + STEP], index_of(floor, floor[at + 2]))
    if action != PICK:
        put_part(floor, place, brought, number)
        if floor[MIX]:
            set_up(floor, place)
    if kind == STATION:
        floor[place + HANDLED] = NONE
    else:
        floor[place + (PARTS_TAKEN if action == PICK else ROOM_TAKEN)] -= 1
        if floor[ENDS_WATCHED]:
            stock_changed(floor, place)
    floor[carriage + TOUR_AT] += 1
    floor[carriage + MOTION] = IDLE if floor[carriage + TOUR_AT] == floor[carriage + N_TOUR] else STANDING
