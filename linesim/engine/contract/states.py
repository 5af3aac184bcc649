"""States: exactly one at any instant, set once after each decision, and the time spent in each."""

from __future__ import annotations

from linesim.engine.contract.calls import called_for_by
from linesim.engine.contract.ledger import CarriageState, MachineState
from linesim.engine.contract.log import ROW_STATE, note
from linesim.engine.contract.records import (
    ACTIVE_SINCE,
    BOOKED_AS,
    CALL_SINCE,
    CARRIAGE,
    CARRIAGE_SIZE,
    CARRIAGES,
    CLOSED,
    COMING,
    DOWN,
    DUTY,
    FINISHED,
    FIRST_PLACE,
    HAND_JOB,
    HANDLED,
    HANDLING,
    HELD,
    IDLE,
    IN_BREAK,
    IN_VIEW,
    LASTING_TIME,
    LOADED,
    MACHINE_SIZE,
    MOTION,
    N_CARRIAGES,
    N_IN_VIEW,
    N_PLACES,
    NO_PART,
    NONE,
    NOW,
    NUMBER,
    OWNER,
    OWNER_KIND,
    PHASE,
    PROGRESS,
    STANDING,
    STATE,
    STATE_CAUSE,
    STATE_SINCE,
    STOP,
    TAKING,
    TALLY,
    UNDER_WAY,
    WAITING_TIME,
    WANTS,
    WORKING,
    Floor,
)
from linesim.engine.contract.spells import active_since, note_spell
from linesim.engine.contract.tours import is_on_a_tour
from linesim.engine.contract.ways import way_of

NOT_ON_SHIFT = int(MachineState.OFF_SHIFT)
AT_PLANNED_STOP = int(MachineState.PLANNED_STOP)
WAITING_REPAIR = int(MachineState.WAITING_REPAIR)
UNDER_REPAIR = int(MachineState.UNDER_REPAIR)
WAITING_SETTER = int(MachineState.WAITING_SETTER)
AT_WORK = int(MachineState.WORKING)
LOADING = int(MachineState.LOADING)
WAITING_LOADER = int(MachineState.WAITING_LOADER)
WAITING_OPERATOR = int(MachineState.WAITING_OPERATOR)
BLOCKED = int(MachineState.BLOCKED)
STARVED = int(MachineState.STARVED)

CARRIAGE_OFF_SHIFT = int(CarriageState.OFF_SHIFT)
CARRIAGE_WAITING_REPAIR = int(CarriageState.WAITING_REPAIR)
CARRIAGE_UNDER_REPAIR = int(CarriageState.UNDER_REPAIR)
MOVING_EMPTY = int(CarriageState.MOVING_EMPTY)
MOVING_LOADED = int(CarriageState.MOVING_LOADED)
AT_HANDLING = int(CarriageState.HANDLING)
WAITING_AT_MACHINE = int(CarriageState.WAITING_AT_MACHINE)
ZONE_OPEN = int(CarriageState.ZONE_OPEN)
WAITING_FOR_WAY = int(CarriageState.WAITING_FOR_WAY)
AT_REST = int(CarriageState.IDLE)

# An owner is active while it does something or has something done to it, and passive while it waits for others. Waiting
# for a crew is passive: the crew is then the one that holds the line up.
ACTIVE_MACHINE_STATES = frozenset(
    {
        MachineState.UNDER_REPAIR,
        MachineState.TOOL_CHANGE,
        MachineState.DRESSING,
        MachineState.CHANGEOVER,
        MachineState.MEASURING_STOP,
        MachineState.CLEANING,
        MachineState.WORKING,
        MachineState.LOADING,
    }
)
ACTIVE_CARRIAGE_STATES = frozenset(
    {
        CarriageState.UNDER_REPAIR,
        CarriageState.MOVING_EMPTY,
        CarriageState.MOVING_LOADED,
        CarriageState.HANDLING,
        CarriageState.ZONE_OPEN,
    }
)
_ACTIVE_MACHINE = sum(1 << state for state in ACTIVE_MACHINE_STATES)
_ACTIVE_CARRIAGE = sum(1 << state for state in ACTIVE_CARRIAGE_STATES)


def set_states(floor: Floor) -> None:
    """Set the states of every machine in view, in route order, and of every carriage."""
    for n in range(floor[N_IN_VIEW]):
        step = floor[floor[IN_VIEW] + n]
        machine = floor[step + FIRST_PLACE]
        for _ in range(floor[step + N_PLACES]):
            _set_machine(floor, step, machine)
            machine += MACHINE_SIZE
    for n in range(floor[N_CARRIAGES]):
        _set_carriage(floor, floor[CARRIAGES] + n * CARRIAGE_SIZE)


def _set_machine(floor: Floor, step: int, machine: int) -> None:
    down = floor[machine + DOWN]
    stop = floor[machine + STOP]
    phase = floor[machine + PHASE]
    cause = NONE
    if floor[machine + CLOSED]:
        state = AT_PLANNED_STOP if floor[machine + DUTY] == IN_BREAK else NOT_ON_SHIFT
    elif down:
        state = UNDER_REPAIR if floor[down + PROGRESS] == UNDER_WAY else WAITING_REPAIR
        cause = down
    elif stop:
        state = floor[stop + BOOKED_AS] if floor[stop + PROGRESS] == UNDER_WAY else WAITING_SETTER
        cause = stop
    elif phase == WORKING:
        state = AT_WORK
    elif floor[machine + HANDLED]:
        state = LOADING
    elif floor[machine + TAKING]:
        state = _waits_for(floor, floor[machine + TAKING])
    elif _is_reserved_by_tour(floor, machine):
        state = _waits_for(floor, floor[machine + COMING])
    elif phase == FINISHED:
        state = _waits_for(floor, way_of(floor, machine)) if _could_be_fetched(floor, machine) else BLOCKED
    elif phase == LOADED:
        state = BLOCKED  # before service: no room for its part
    else:
        carriage = called_for_by(floor, step)
        state = _waits_for(floor, carriage) if carriage else STARVED
    _set_state(floor, machine, state, cause, _ACTIVE_MACHINE)


def _waits_for(floor: Floor, carriage: int) -> int:
    return WAITING_OPERATOR if floor[carriage + HAND_JOB] else WAITING_LOADER


def _could_be_fetched(floor: Floor, machine: int) -> bool:
    """Whether a free loader could choose a tour for this finished part now, as its call or on the way to another."""
    if floor[machine + CALL_SINCE] >= 0:
        return True
    carriage = way_of(floor, machine)
    return carriage != NONE and is_on_a_tour(floor, carriage, machine)


def _is_reserved_by_tour(floor: Floor, machine: int) -> bool:
    bringer = floor[machine + COMING]
    return bringer != NONE and floor[bringer + OWNER_KIND] == CARRIAGE


def _set_carriage(floor: Floor, carriage: int) -> None:
    down = floor[carriage + DOWN]
    motion = floor[carriage + MOTION]
    cause = NONE
    if floor[carriage + CLOSED]:
        state = CARRIAGE_OFF_SHIFT
    elif down:
        state = CARRIAGE_UNDER_REPAIR if floor[down + PROGRESS] == UNDER_WAY else CARRIAGE_WAITING_REPAIR
        cause = down
    elif floor[carriage + STOP]:
        state = ZONE_OPEN if floor[floor[carriage + STOP] + OWNER] == carriage else AT_HANDLING
        cause = floor[carriage + STOP] if state == ZONE_OPEN else NONE
    elif motion == IDLE:
        state = AT_REST
    elif motion == STANDING and floor[carriage + HAND_JOB]:
        state = MOVING_EMPTY  # people are on their way
    elif motion == STANDING:
        state = WAITING_AT_MACHINE if floor[carriage + WANTS] < 0 else WAITING_FOR_WAY
    elif motion == HANDLING:
        state = AT_HANDLING
    else:
        state = MOVING_EMPTY if floor[carriage + HELD] == NO_PART else MOVING_LOADED
    active = _ACTIVE_CARRIAGE if floor[carriage + HAND_JOB] == NONE else 0  # of hands their crew is the active one
    _set_state(floor, carriage, state, cause, active)


def _set_state(floor: Floor, owner: int, state: int, cause: int, active_states: int) -> None:
    if state == floor[owner + STATE]:
        if cause == floor[owner + STATE_CAUSE]:
            return
    else:
        note(floor, ROW_STATE, floor[owner + NUMBER], -1, state)
    count_state(floor, owner)
    floor[owner + STATE] = state
    floor[owner + STATE_CAUSE] = cause
    since = floor[owner + ACTIVE_SINCE]
    if (active_states >> state) & 1:
        if since < 0:
            floor[owner + ACTIVE_SINCE] = active_since(floor, floor[owner + NUMBER])
    elif since >= 0:
        note_spell(floor, floor[owner + NUMBER], since)
        floor[owner + ACTIVE_SINCE] = -1


def count_state(floor: Floor, owner: int) -> None:
    """Book the time since the last call on the owner's state, and on the breakdown or stop that it is in."""
    lasted = floor[NOW] - floor[owner + STATE_SINCE]
    floor[owner + STATE_SINCE] = floor[NOW]
    if floor[owner + STATE] < 0:  # before the first decision
        return
    floor[owner + TALLY + floor[owner + STATE]] += lasted
    cause = floor[owner + STATE_CAUSE]
    if cause:
        is_waiting = floor[owner + STATE] == WAITING_REPAIR or floor[owner + STATE] == WAITING_SETTER
        if floor[owner + OWNER_KIND] == CARRIAGE:
            is_waiting = floor[owner + STATE] == CARRIAGE_WAITING_REPAIR
        floor[cause + (WAITING_TIME if is_waiting else LASTING_TIME)] += lasted
