"""Answers: which call free people take, of all that are open for breakdowns, stops and parts to carry by hand."""

from __future__ import annotations

from linesim.engine.contract.crews import count_busy, count_waiting, now_ready, watch_all_busy
from linesim.engine.contract.hands import begin_tour_by_hand, call_for_hands
from linesim.engine.contract.log import ROW_CREW, note
from linesim.engine.contract.records import (
    BY_HAND,
    CALLED,
    CALLED_AT,
    CALLS,
    CALLS_WAITED,
    CHOICES,
    CLIENTS,
    CREW,
    CREW_NUMBER,
    CREW_SIZE,
    CREWS,
    FREE,
    HANDS,
    HELD_BACK,
    N_CHOICES,
    N_CLIENTS,
    N_CREWS,
    N_STOPPAGES,
    N_WAITING,
    NEEDS,
    NONE,
    NOW,
    OFF_DUTY,
    ON_THE_WAY,
    PEOPLE,
    PROGRESS,
    RESPONDS,
    RESPONSE_STREAM,
    SKILLS,
    START_RESPONSE,
    STOPPAGE_NUMBER,
    STOPPAGE_SIZE,
    STOPPAGES,
    TAKEN_BY,
    TRIGGER,
    URGENCY,
    WAITED_TIME,
    Floor,
)
from linesim.engine.contract.touch import wake


def answer_calls(floor: Floor) -> None:
    """Free people on duty take the calls of the highest priority, of these the ones that have waited longest, ties in
    file order. What only one crew may do, one person at a time, needs no look at other crews."""
    if floor[HANDS]:
        call_for_hands(floor)
    if floor[SKILLS]:
        _answer_in_order(floor)
        return
    for n in range(floor[N_CREWS]):
        crew = floor[CREWS] + n * CREW_SIZE
        while floor[crew + FREE] > floor[crew + OFF_DUTY] and floor[crew + N_WAITING]:
            _answer(floor, crew, _first_call(floor, crew))


def _first_call(floor: Floor, crew: int) -> int:
    best = NONE
    for at in range(floor[crew + CLIENTS], floor[crew + CLIENTS] + floor[crew + N_CLIENTS]):
        stoppage = floor[at]
        if floor[stoppage + PROGRESS] == CALLED and (best == NONE or _goes_before(floor, stoppage, best)):
            best = stoppage
    return best


def _goes_before(floor: Floor, stoppage: int, other: int) -> bool:
    """Whether a call is taken before another one: by priority, then by the time that it has waited, then by file."""
    if floor[stoppage + URGENCY] != floor[other + URGENCY]:
        return floor[stoppage + URGENCY] < floor[other + URGENCY]
    if floor[stoppage + CALLED_AT] != floor[other + CALLED_AT]:
        return floor[stoppage + CALLED_AT] < floor[other + CALLED_AT]
    return stoppage < other


# ---- calls for one of several crews, and for several people at once ----


def _answer_in_order(floor: Floor) -> None:
    """Each call in its order goes to the first of its crews that has enough people free.

    Nobody waits at a machine for others to come: all of them are sent at once. Lest a call for several people wait for
    ever, the free people of its preferred crew take no later call, if so many of that crew are on duty at all.
    """
    if not _somebody_may_answer(floor):
        return
    for n in range(floor[N_CREWS]):
        floor[floor[CREWS] + n * CREW_SIZE + HELD_BACK] = 0
    stoppage = _next_call(floor, NONE)
    while stoppage:
        crew = _who_can_take(floor, stoppage)
        first = floor[stoppage + CREW]
        if crew:
            _answer(floor, crew, stoppage)
        elif floor[stoppage + NEEDS] > 1 and floor[first + PEOPLE] - floor[first + OFF_DUTY] >= floor[stoppage + NEEDS]:
            floor[first + HELD_BACK] = 1
        stoppage = _next_call(floor, stoppage)


def _somebody_may_answer(floor: Floor) -> bool:
    for n in range(floor[N_CREWS]):
        crew = floor[CREWS] + n * CREW_SIZE
        if floor[crew + N_WAITING] and floor[crew + FREE] > floor[crew + OFF_DUTY]:
            return True
    return False


def _next_call(floor: Floor, after: int) -> int:
    """The call that is to be taken next after this one, of the whole line."""
    best = NONE
    for n in range(floor[N_STOPPAGES]):
        stoppage = floor[STOPPAGES] + n * STOPPAGE_SIZE
        if floor[stoppage + PROGRESS] != CALLED or (after and not _goes_before(floor, after, stoppage)):
            continue
        if best == NONE or _goes_before(floor, stoppage, best):
            best = stoppage
    return best


def _who_can_take(floor: Floor, stoppage: int) -> int:
    """The first crew of a call with enough people free; what its response draws from is then that of this crew."""
    first = floor[stoppage + CHOICES]
    for choice in range(first, first + 2 * floor[stoppage + N_CHOICES], 2):
        crew = floor[choice]
        if not floor[crew + HELD_BACK] and floor[crew + FREE] - floor[crew + OFF_DUTY] >= floor[stoppage + NEEDS]:
            floor[stoppage + RESPONSE_STREAM] = floor[choice + 1]
            return crew
    return NONE


def _answer(floor: Floor, crew: int, stoppage: int) -> None:
    floor[stoppage + TAKEN_BY] = crew
    count_busy(floor, crew)
    floor[crew + FREE] -= floor[stoppage + NEEDS]
    watch_all_busy(floor, crew)
    count_waiting(floor, stoppage, -1)
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
    if floor[stoppage + TRIGGER] == BY_HAND:
        begin_tour_by_hand(floor, stoppage)
