"""What a carriage does next: choose a tour, set off, handle at a stop, or wait there."""

from __future__ import annotations

from linesim.engine.contract.calls import refresh_calls
from linesim.engine.contract.changeovers import set_up
from linesim.engine.contract.crews import release
from linesim.engine.contract.drawers import put_into_drawer
from linesim.engine.contract.ends import stock_changed
from linesim.engine.contract.leaving import fall_into_chute
from linesim.engine.contract.log import ROW_GIVE_WAY, ROW_LEG, note
from linesim.engine.contract.loops import leave_loops
from linesim.engine.contract.places import put_part, take_part
from linesim.engine.contract.rails import (
    forget_way,
    give_up_way,
    halt_aside,
    hold_way,
    may_set_off,
    must_give_way,
    position,
    wait_for_no_way,
    wait_for_way,
)
from linesim.engine.contract.records import (
    AT,
    CARRIAGE_SIZE,
    CARRIAGES,
    CHUTE,
    CLOSED,
    DOWN,
    DRAWER,
    DUTY,
    EMPTY,
    ENDS_WATCHED,
    EXCHANGE,
    FINISHED,
    FIXED,
    GAVE_WAY,
    HAND_JOB,
    HANDLED,
    HANDLING,
    HELD,
    IDLE,
    LEG_STREAM,
    LEG_TIME,
    MIX,
    MOTION,
    MOVING,
    N_CALLS,
    N_CARRIAGES,
    N_LOADER_STOPS,
    N_ON_RAIL,
    N_TOUR,
    NEXT_BY_TYPE,
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
    PROGRESS,
    PUT,
    RAILS_SHARED,
    ROOM_TAKEN,
    RULE,
    STANDING,
    START_LEG,
    STATION,
    STEP,
    STOP,
    THERE,
    TIMES,
    TOUR,
    TOUR_AT,
    TRAVEL,
    UNDER_WAY,
    WANTS,
    ZONES,
    Floor,
)
from linesim.engine.contract.rounds import go_to_next_start, plan_round_tour
from linesim.engine.contract.touch import touch, touch_supply, wake
from linesim.engine.contract.tours import choose_tour, end_tour_here, stop_of
from linesim.engine.contract.ways import can_be_served, has_place, index_of
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
        if floor[carriage + HAND_JOB]:
            _go_on_by_hand(floor, carriage)
        elif not _stands_still(floor, carriage):
            _drive(floor, carriage)
    if floor[RAILS_SHARED]:
        while _share_rails(floor):
            pass


def _stands_still(floor: Floor, carriage: int) -> bool:
    return bool(floor[carriage + DOWN] or floor[carriage + STOP] or floor[carriage + CLOSED])


def _drive(floor: Floor, carriage: int) -> None:
    if floor[carriage + MOTION] == STANDING:
        _go_on(floor, carriage)
    if floor[carriage + MOTION] == IDLE and not (floor[carriage + N_ON_RAIL] and must_give_way(floor, carriage)):
        _find_work(floor, carriage)
        if floor[carriage + MOTION] == STANDING:
            _go_on(floor, carriage)
    refresh_calls(floor)


def _share_rails(floor: Floor) -> bool:
    """Who waits for its way sets off as soon as that is free; who is in the way moves aside. Whether anyone did."""
    moved = False
    for n in range(floor[N_CARRIAGES]):
        carriage = floor[CARRIAGES] + n * CARRIAGE_SIZE
        if floor[carriage + N_ON_RAIL] and not _stands_still(floor, carriage):
            if floor[carriage + MOTION] == STANDING and floor[carriage + WANTS] >= 0:
                _drive(floor, carriage)
                moved = moved or floor[carriage + MOTION] == MOVING
            if floor[carriage + MOTION] == IDLE or floor[carriage + MOTION] == STANDING:
                halt = halt_aside(floor, carriage)
                if halt >= 0:
                    _move_aside(floor, carriage, halt)
                    moved = True
    return moved


def _find_work(floor: Floor, carriage: int) -> None:
    if floor[carriage + DUTY] != ON_DUTY:
        return
    if floor[carriage + RULE] == FIXED:
        go_to_next_start(floor, carriage)
    elif floor[carriage + N_CALLS]:
        choose_tour(floor, carriage)
    park = floor[carriage + PARK_AT]
    if floor[carriage + MOTION] != IDLE or park < 0 or park == floor[carriage + AT]:
        return
    if floor[carriage + N_ON_RAIL] == 0 or may_set_off(floor, carriage, park):
        _set_off(floor, carriage, park, PARKING)


def _set_off(floor: Floor, carriage: int, stop: int, motion: int) -> None:
    """Start a leg to a stop."""
    _start_leg(floor, carriage, stop, motion)
    place = floor[floor[carriage + PLACE_OF] + stop]
    note(floor, ROW_LEG, floor[carriage + NUMBER], floor[place + NUMBER], floor[carriage + LEG_TIME])
    if floor[carriage + N_ON_RAIL]:
        forget_way(floor, carriage)


def _move_aside(floor: Floor, carriage: int, halt: int) -> None:
    """Give way, with what is carried; the tour, if there is one, goes on later."""
    if floor[carriage + MOTION] == IDLE:
        _start_leg(floor, carriage, halt, PARKING)
    else:
        _start_leg(floor, carriage, halt, MOVING)
        floor[carriage + GAVE_WAY] = 1
    where = position(floor, carriage, halt)
    note(floor, ROW_GIVE_WAY, floor[carriage + NUMBER], where, floor[carriage + LEG_TIME])


def _start_leg(floor: Floor, carriage: int, halt: int, motion: int) -> None:
    table = floor[carriage + TRAVEL] + floor[carriage + AT] * floor[carriage + N_LOADER_STOPS]
    floor[carriage + LEG_TIME] = floor[table + halt]
    floor[carriage + AT] = halt
    floor[carriage + MOTION] = motion
    if floor[carriage + N_ON_RAIL]:
        hold_way(floor, carriage, halt)
    wake(floor, START_LEG, carriage)


def end_leg(floor: Floor, carriage: int) -> None:
    """A carriage arrives."""
    floor[carriage + MOTION] = IDLE if floor[carriage + MOTION] == PARKING else STANDING
    if floor[carriage + N_ON_RAIL]:
        give_up_way(floor, carriage)


def _go_on(floor: Floor, carriage: int) -> None:
    """A carriage that stands: go to the stop of its tour, or handle there if the place lets it, or wait."""
    place = floor[floor[carriage + TOUR] + 2 * floor[carriage + TOUR_AT]]
    stop = stop_of(floor, carriage, place)
    if stop != floor[carriage + AT]:
        if floor[carriage + GAVE_WAY] and not _can_act(floor, carriage, place):
            wait_for_no_way(floor, carriage)  # it stays aside until it can act there
        elif floor[carriage + N_ON_RAIL] == 0 or may_set_off(floor, carriage, stop):
            _set_off(floor, carriage, stop, MOVING)
        else:
            wait_for_way(floor, carriage, stop)
        return
    if _can_act(floor, carriage, place):
        floor[carriage + LEG_TIME] = _begin_handling(floor, carriage, place)


def _begin_handling(floor: Floor, carriage: int, place: int) -> int:
    """What stands in the table of times for the running action of the tour."""
    if floor[place + OWNER_KIND] == STATION:
        floor[place + HANDLED] = carriage
        touch(floor, floor[place + STEP])
    floor[carriage + MOTION] = HANDLING
    wake(floor, START_LEG, carriage)
    action = floor[floor[carriage + TOUR] + 2 * floor[carriage + TOUR_AT] + 1]
    return floor[floor[carriage + TIMES] + 3 * floor[carriage + AT] + action]


def _go_on_by_hand(floor: Floor, hands: int) -> None:
    """Whoever is there handles at the next place of the tour; whatever has become of it meanwhile."""
    job = floor[hands + HAND_JOB]
    if floor[hands + MOTION] == STANDING and floor[job + PROGRESS] >= THERE:
        floor[job + PROGRESS] = UNDER_WAY
        place = floor[floor[hands + TOUR] + 2 * floor[hands + TOUR_AT]]
        floor[hands + AT] = stop_of(floor, hands, place)
        floor[hands + LEG_STREAM] = _begin_handling(floor, hands, place)


def _can_act(floor: Floor, carriage: int, place: int) -> bool:
    """Whether the next stop of the tour lets the carriage handle; a fixed round plans its tour once that is so."""
    if not floor[carriage + PLANNED]:
        if floor[carriage + DUTY] != ON_DUTY:
            return False
        plan_round_tour(floor, carriage)
        if not floor[carriage + PLANNED]:
            return False
    if floor[place + OWNER_KIND] != STATION:
        return True
    if not can_be_served(floor, place):
        return False
    action_at = floor[carriage + TOUR] + 2 * floor[carriage + TOUR_AT] + 1
    phase = floor[place + PHASE]
    if floor[action_at] == EXCHANGE and phase == EMPTY:
        end_tour_here(floor, carriage)
    return has_place(floor, place) if floor[action_at] == PUT else phase == FINISHED


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
        if kind == CHUTE:
            fall_into_chute(floor, place, brought)
        elif kind == DRAWER:
            put_into_drawer(floor, place, brought)
        if floor[MIX]:
            set_up(floor, place)
    if kind == STATION:
        floor[place + HANDLED] = NONE
    else:
        floor[place + (PARTS_TAKEN if action == PICK else ROOM_TAKEN)] -= 1
        if floor[floor[place + STEP] + NEXT_BY_TYPE]:
            touch_supply(floor, floor[place + STEP])  # the part behind may go another way
        if floor[ENDS_WATCHED]:
            stock_changed(floor, place)
    floor[carriage + TOUR_AT] += 1
    is_over = floor[carriage + TOUR_AT] == floor[carriage + N_TOUR]
    floor[carriage + MOTION] = IDLE if is_over else STANDING
    if is_over and floor[carriage + HAND_JOB]:
        release(floor, floor[carriage + HAND_JOB])
