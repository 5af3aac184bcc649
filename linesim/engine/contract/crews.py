"""Crews: people who are called for breakdowns and stops, one call at a time each, and finish what they began."""

from __future__ import annotations

from linesim.engine.contract.records import (
    ALL_BUSY_SINCE,
    ALL_BUSY_TIME,
    BEGUN,
    BUSY_SINCE,
    BUSY_TIME,
    CALLED,
    CALLED_AT,
    CHOICES,
    CREW,
    CREW_NUMBER,
    DUTY_TIME,
    FREE,
    N_CHOICES,
    N_READY,
    N_WAITING,
    NEEDS,
    NOW,
    OFF,
    OFF_DUTY,
    PEOPLE,
    PROGRESS,
    READY,
    TAKEN_BY,
    THERE,
    Floor,
)
from linesim.engine.contract.spells import active_since, note_spell


def call(floor: Floor, stoppage: int) -> None:
    """A breakdown has struck or a stop is due: it calls its crew, or is ready for work if it needs none."""
    floor[stoppage + BEGUN] += 1
    floor[stoppage + CALLED_AT] = floor[NOW]
    if floor[stoppage + CREW]:
        floor[stoppage + PROGRESS] = CALLED
        count_waiting(floor, stoppage, 1)
    else:
        now_ready(floor, stoppage)


def count_waiting(floor: Floor, stoppage: int, change: int) -> None:
    """A call is to be heard by every crew that may take it, or no longer."""
    first = floor[stoppage + CHOICES]
    for choice in range(first, first + 2 * floor[stoppage + N_CHOICES], 2):
        floor[floor[choice] + N_WAITING] += change


def now_ready(floor: Floor, stoppage: int) -> None:
    """Nothing is missing any more: the next decision lets it begin."""
    floor[stoppage + PROGRESS] = THERE
    floor[floor[READY] + floor[N_READY]] = stoppage
    floor[N_READY] += 1


def release(floor: Floor, stoppage: int) -> None:
    """A repair or stop has ended; who did it is free again."""
    floor[stoppage + PROGRESS] = OFF
    if floor[stoppage + CREW]:
        crew = floor[stoppage + TAKEN_BY]
        count_busy(floor, crew)
        floor[crew + FREE] += floor[stoppage + NEEDS]
        watch_all_busy(floor, crew)


def crew_arrives(floor: Floor, stoppage: int) -> None:
    """The crew has come to the machine."""
    now_ready(floor, stoppage)


def watch_all_busy(floor: Floor, crew: int) -> None:
    """Somebody has become busy or free, or has come or gone: is anybody on duty free now?"""
    free = floor[crew + FREE]
    all_busy = free <= floor[crew + OFF_DUTY] and free < floor[crew + PEOPLE]
    since = floor[crew + ALL_BUSY_SINCE]
    if all_busy and since < 0:
        floor[crew + ALL_BUSY_SINCE] = active_since(floor, floor[crew + CREW_NUMBER])
    elif since >= 0 and not all_busy:
        note_spell(floor, floor[crew + CREW_NUMBER], since)
        floor[crew + ALL_BUSY_SINCE] = -1


def count_busy(floor: Floor, crew: int) -> None:
    """Bring the crew's tallies of time on duty and busy up to now."""
    lasted = floor[NOW] - floor[crew + BUSY_SINCE]
    floor[crew + DUTY_TIME] += lasted * (floor[crew + PEOPLE] - floor[crew + OFF_DUTY])
    floor[crew + BUSY_TIME] += lasted * (floor[crew + PEOPLE] - floor[crew + FREE])
    if floor[crew + ALL_BUSY_SINCE] >= 0:
        floor[crew + ALL_BUSY_TIME] += lasted
    floor[crew + BUSY_SINCE] = floor[NOW]
