"""The decision: what the line does once all timers due at this instant have ended.

Order: direct moves, crews take calls (those for parts to carry by hand too), loaders take calls, repairs and stops
begin, machines start, whoever is off duty and has ended its work closes, states are set. A decision starts timers and
never ends them. It looks only at what changed and its neighbours; with LOOK_EVERYWHERE it looks at the whole line,
which must come to the same.
"""

from __future__ import annotations

from linesim.engine.contract.answers import answer_calls
from linesim.engine.contract.calls import refresh_calls
from linesim.engine.contract.carriages import drive_carriages
from linesim.engine.contract.moves import move_directly
from linesim.engine.contract.records import (
    CHANGED,
    ENDS_WATCHED,
    HANDS,
    IN_VIEW,
    LOOK_EVERYWHERE,
    MIX,
    N_CHANGED,
    N_CLOSING,
    N_IN_VIEW,
    N_MOVES,
    N_STEPS,
    N_VIEWERS,
    ON_CHANGED,
    ON_VIEW,
    STEP_SIZE,
    STEPS,
    VIEWERS,
    Floor,
)
from linesim.engine.contract.shifts import close_owners
from linesim.engine.contract.states import set_states
from linesim.engine.contract.stoppages import begin_ready
from linesim.engine.contract.touch import insert, touch_supply
from linesim.engine.contract.work import start_operations


def decide(floor: Floor) -> None:
    """Decide once, for the whole line; the timers to start stand in the list of wakes."""
    if floor[LOOK_EVERYWHERE]:
        look_at_everything(floor)
    move_directly(floor)
    answer_calls(floor)
    drive_carriages(floor)
    while floor[N_MOVES]:  # a tour cut short has given up room
        move_directly(floor)
        drive_carriages(floor)
    if floor[ENDS_WATCHED] or floor[MIX] or floor[HANDS]:  # a part that moved may have called for people
        answer_calls(floor)
    if floor[HANDS]:
        drive_carriages(floor)
    begin_ready(floor)
    _bring_into_view(floor)
    start_operations(floor)
    if floor[N_CHANGED]:  # room was reserved at a start
        refresh_calls(floor)
        _bring_into_view(floor)
    if floor[N_CLOSING]:
        close_owners(floor)
    set_states(floor)
    _clear_view(floor)


def look_at_everything(floor: Floor) -> None:
    """Let the next decision look at every step of the line, as the first one must."""
    for n in range(floor[N_STEPS]):
        touch_supply(floor, floor[STEPS] + n * STEP_SIZE)


def _bring_into_view(floor: Floor) -> None:
    """Every station whose start or state may follow from the changes, in route order."""
    for n in range(floor[N_CHANGED]):
        step = floor[floor[CHANGED] + n]
        floor[step + ON_CHANGED] = 0
        for at in range(floor[step + VIEWERS], floor[step + VIEWERS] + floor[step + N_VIEWERS]):
            viewer = floor[at]
            if not floor[viewer + ON_VIEW]:
                floor[viewer + ON_VIEW] = 1
                insert(floor, floor[IN_VIEW], floor[N_IN_VIEW], viewer)
                floor[N_IN_VIEW] += 1
    floor[N_CHANGED] = 0


def _clear_view(floor: Floor) -> None:
    for n in range(floor[N_IN_VIEW]):
        floor[floor[floor[IN_VIEW] + n] + ON_VIEW] = 0
    floor[N_IN_VIEW] = 0
