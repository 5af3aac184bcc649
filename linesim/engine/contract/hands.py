"""People who load machines by hand: when they are called, and what they carry once a call is taken.

Each tour that the people of a group of stations can make at a time has hands of its own, a carriage without a rail.
Calls for parts open as for a loader. While one is open the first idle hands call for people, among all else that these
are called for, as of when the call opened that has waited longest. Who takes it has that part from this instant on: all
places of the tour are reserved. Nothing holds a tour up: people come and finish it, even where a machine goes down or
into a stop meanwhile, or one of them could wait in front of it for a repair that only they can do.
"""

from __future__ import annotations

from linesim.engine.contract.calls import refresh_calls
from linesim.engine.contract.crews import count_waiting
from linesim.engine.contract.log import ROW_CALL_HANDS, note
from linesim.engine.contract.records import (
    BEGUN,
    CALL_SINCE,
    CALLED,
    CALLED_AT,
    CALLS_OF,
    CARRIAGE_SIZE,
    CARRIAGES,
    DUTY,
    HAND_JOB,
    N_CALLS,
    N_CARRIAGES,
    NONE,
    NUMBER,
    OFF,
    ON_DUTY,
    OWNER,
    PROGRESS,
    STOPPAGE_NUMBER,
    Floor,
)
from linesim.engine.contract.tours import choose_tour, first_call


def call_for_hands(floor: Floor) -> None:
    """Of each group the first idle hands call for people as long as a part waits for them; all others are silent."""
    refresh_calls(floor)
    calling = NONE  # the group that has been looked at
    for n in range(floor[N_CARRIAGES]):
        hands = floor[CARRIAGES] + n * CARRIAGE_SIZE
        job = floor[hands + HAND_JOB]
        if job == NONE or floor[job + PROGRESS] > CALLED:
            continue
        group = floor[hands + CALLS_OF]
        oldest = NONE
        if group != calling and floor[group + N_CALLS] and floor[hands + DUTY] == ON_DUTY:
            oldest = first_call(floor, hands)
        calling = group
        if oldest:
            _call(floor, job, floor[oldest + CALL_SINCE])
        elif floor[job + PROGRESS] == CALLED:
            _call_off(floor, job)


def _call(floor: Floor, job: int, since: int) -> None:
    """The call of these hands is open since then."""
    if floor[job + PROGRESS] == OFF:
        floor[job + PROGRESS] = CALLED
        count_waiting(floor, job, 1)
    elif floor[job + CALLED_AT] == since:
        return
    floor[job + CALLED_AT] = since
    note(floor, ROW_CALL_HANDS, floor[floor[job + OWNER] + NUMBER], since, floor[job + STOPPAGE_NUMBER])


def _call_off(floor: Floor, job: int) -> None:
    """No part waits for these hands any more."""
    floor[job + PROGRESS] = OFF
    count_waiting(floor, job, -1)
    note(floor, ROW_CALL_HANDS, floor[floor[job + OWNER] + NUMBER], -1, floor[job + STOPPAGE_NUMBER])


def begin_tour_by_hand(floor: Floor, job: int) -> None:
    """Somebody has taken the call: the part that has waited longest is theirs, and the next one calls others."""
    floor[job + BEGUN] += 1
    choose_tour(floor, floor[job + OWNER])
    call_for_hands(floor)
