"""Calls: a part that is ready, or soon will be, and has a place to go by loader opens one.

It closes when either ends or it is taken.
"""

from __future__ import annotations

from linesim.engine.contract.ahead import is_expected
from linesim.engine.contract.records import (
    CALL_SINCE,
    CALL_TO,
    CALLERS,
    FEEDERS,
    FIRST_PLACE,
    HAND_JOB,
    N_CALLERS,
    N_CALLS,
    N_FEEDERS,
    N_PLACES,
    N_STALE,
    NONE,
    NOW,
    ON_STALE,
    PLACE_SIZE,
    STALE,
    STEP,
    Floor,
)
from linesim.engine.contract.ways import is_ready, way_of, way_on


def refresh_calls(floor: Floor) -> None:
    """Open and close the calls that may have changed since the last look."""
    while floor[N_STALE]:
        floor[N_STALE] -= 1
        step = floor[floor[STALE] + floor[N_STALE]]
        floor[step + ON_STALE] = 0
        for at in range(floor[step + CALLERS], floor[step + CALLERS] + floor[step + N_CALLERS]):
            source = floor[at]
            for n in range(floor[source + N_PLACES]):
                _refresh(floor, floor[source + FIRST_PLACE] + n * floor[source + PLACE_SIZE])


def _refresh(floor: Floor, place: int) -> None:
    target = NONE
    if is_ready(floor, place) or is_expected(floor, place):
        carriage = way_of(floor, place)
        if carriage:
            target = way_on(floor, place)
    if target:
        floor[place + CALL_TO] = target
        if floor[place + CALL_SINCE] < 0:
            floor[place + CALL_SINCE] = floor[NOW]
            floor[carriage + N_CALLS] += 1
    else:
        close_call(floor, place)


def close_call(floor: Floor, place: int) -> None:
    """Close the call of a place, if it has one open."""
    if floor[place + CALL_SINCE] >= 0:
        floor[place + CALL_SINCE] = -1
        floor[way_of(floor, place) + N_CALLS] -= 1


def called_for_by(floor: Floor, step: int) -> int:
    """The carriage that an open call would have bring a part to this step, of a loader rather than hands; or NONE."""
    found = NONE
    for at in range(floor[step + FEEDERS], floor[step + FEEDERS] + floor[step + N_FEEDERS]):
        feeder = floor[at]
        for n in range(floor[feeder + N_PLACES]):
            place = floor[feeder + FIRST_PLACE] + n * floor[feeder + PLACE_SIZE]
            if floor[place + CALL_SINCE] >= 0 and floor[floor[place + CALL_TO] + STEP] == step:
                found = way_of(floor, place)
                if floor[found + HAND_JOB] == NONE:
                    return found
    return found
