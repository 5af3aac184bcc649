"""Crews: people who answer the calls of breakdowns and stops, one at a time each, and finish what they began."""

from __future__ import annotations

from linesim.engine.contract.log import ROW_CREW, note
from linesim.engine.contract.places import wake
from linesim.engine.contract.records import (
    ALL_BUSY_SINCE,
    ALL_BUSY_TIME,
    BEGUN,
    BUSY_SINCE,
    BUSY_TIME,
    CALLED,
    CALLED_AT,
    CALLS,
    CALLS_WAITED,
    CLIENTS,
    CREW,
    CREW_NUMBER,
    CREW_SIZE,
    CREWS,
    DUTY_TIME,
    FREE,
    N_CLIENTS,
    N_CREWS,
    N_READY,
    N_WAITING,
    NONE,
    NOW,
    OFF,
    OFF_DUTY,
    ON_THE_WAY,
    PEOPLE,
    PROGRESS,
    READY,
    RESPONDS,
    START_RESPONSE,
    STOPPAGE_NUMBER,
    THERE,
    WAITED_TIME,
    Floor,
)
from linesim.engine.contract.spells import active_since, note_spell


def call(floor: Floor, stoppage: int) -> None:
    """A breakdown has struck or a stop is due: it calls its crew, or is ready for work if it needs none."""
    crew = floor[stoppage + CREW]
    floor[stoppage + BEGUN] += 1
    floor[stoppage + CALLED_AT] = floor[NOW]
    if crew:
        floor[stoppage + PROGRESS] = CALLED
        floor[crew + N_WAITING] += 1
    else:
        now_ready(floor, stoppage)


def now_ready(floor: Floor, stoppage: int) -> None:
    """Nothing is missing any more: the next decision lets it begin."""
    floor[stoppage + PROGRESS] = THERE
    floor[floor[READY] + floor[N_READY]] = stoppage
    floor[N_READY] += 1


def release(floor: Floor, stoppage: int) -> None:
    """A repair or stop has ended; who did it is free again."""
    floor[stoppage + PROGRESS] = OFF
    crew = floor[stoppage + CREW]
    if crew:
        count_busy(floor, crew)
        floor[crew + FREE] += 1
        watch_all_busy(floor, crew)


def answer_calls(floor: Floor) -> None:
    """Free people on duty take the calls that have waited longest, ties in file order."""
    for n in range(floor[N_CREWS]):
        crew = floor[CREWS] + n * CREW_SIZE
        while floor[crew + FREE] > floor[crew + OFF_DUTY] and floor[crew + N_WAITING]:
            _answer(floor, crew, _longest_waiting(floor, crew))


def _longest_waiting(floor: Floor, crew: int) -> int:
    best = NONE
    for at in range(floor[crew + CLIENTS], floor[crew + CLIENTS] + floor[crew + N_CLIENTS]):
        stoppage = floor[at]
        if floor[stoppage + PROGRESS] == CALLED and (
            best == NONE or floor[stoppage + CALLED_AT] < floor[best + CALLED_AT]
        ):
            best = stoppage
    return best


def _answer(floor: Floor, crew: int, stoppage: int) -> None:
    count_busy(floor, crew)
    floor[crew + FREE] -= 1
    watch_all_busy(floor, crew)
    floor[crew + N_WAITING] -= 1
    floor[crew + CALLS] += 1
    waited = floor[NOW] - floor[stoppage + CALLED_AT]
    if waited:
        floor[crew + CALLS_WAITED] += 1
        floor[crew + WAITED_TIME] += waited
    note(floor, ROW_CREW, floor[crew + CREW_NUMBER], -1, floor[stoppage + STOPPAGE_NUMBER])
    if floor[stoppage + RESPONDS]:
        floor[stoppage + PROGRESS] = ON_THE_WAY
        wake(floor, START_RESPONSE, stoppage)
    else:
        now_ready(floor, stoppage)


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
