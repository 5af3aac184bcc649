"""What has changed: where the next decision must look, and which timers it asks the engine to start or to settle."""

from __future__ import annotations

from linesim.engine.contract.records import (
    BUFFER,
    CHANGED,
    FINISHED,
    FIRST_PLACE,
    KIND,
    MOVES,
    MOVES_DIRECTLY,
    N_CALLERS,
    N_CHANGED,
    N_MOVES,
    N_PLACES,
    N_SENDERS,
    N_SETTLES,
    N_STALE,
    N_WAKES,
    ON_CHANGED,
    ON_MOVES,
    ON_STALE,
    PHASE,
    RIPE,
    SENDERS,
    SETTLES,
    STALE,
    STATION,
    WAKES,
    Floor,
)


def touch(floor: Floor, step: int) -> None:
    """Something changed at this step: the next decision looks at it and at whatever depends on it."""
    if not floor[step + ON_CHANGED]:
        floor[step + ON_CHANGED] = 1
        floor[floor[CHANGED] + floor[N_CHANGED]] = step
        floor[N_CHANGED] += 1
    if floor[step + N_CALLERS] and not floor[step + ON_STALE]:
        floor[step + ON_STALE] = 1
        floor[floor[STALE] + floor[N_STALE]] = step
        floor[N_STALE] += 1


def touch_supply(floor: Floor, step: int) -> None:
    """A part at this step may now be able to go on."""
    touch(floor, step)
    if floor[step + MOVES_DIRECTLY]:
        _look_for_move(floor, step)


def touch_room(floor: Floor, step: int) -> None:
    """This step may now have room for a part."""
    touch(floor, step)
    for at in range(floor[step + SENDERS], floor[step + SENDERS] + floor[step + N_SENDERS]):
        _look_for_move(floor, floor[at])


def _look_for_move(floor: Floor, step: int) -> None:
    """Look whether a part of this step can move on, unless it surely has none that is done."""
    place = floor[step + FIRST_PLACE]
    kind = floor[step + KIND]
    if kind == STATION:
        if floor[place + PHASE] != FINISHED and floor[step + N_PLACES] == 1:
            return
    elif kind == BUFFER and floor[place + RIPE] == 0:
        return
    if not floor[step + ON_MOVES]:
        floor[step + ON_MOVES] = 1
        insert(floor, floor[MOVES], floor[N_MOVES], step)
        floor[N_MOVES] += 1


def insert(floor: Floor, first: int, count: int, value: int) -> None:
    """Put a value into an ascending list that begins at address `first`; such lists are short."""
    at = first + count
    while at > first and floor[at - 1] > value:
        floor[at] = floor[at - 1]
        at -= 1
    floor[at] = value


def wake(floor: Floor, what: int, who: int) -> None:
    """Ask the engine to start a timer once the decision is made."""
    at = floor[WAKES] + 2 * floor[N_WAKES]
    floor[at] = what
    floor[at + 1] = who
    floor[N_WAKES] += 1


def ask_to_settle(floor: Floor, owner: int) -> None:
    """Ask the engine to let the owner's timers run or stand still once the decision is made."""
    floor[floor[SETTLES] + floor[N_SETTLES]] = owner
    floor[N_SETTLES] += 1
