"""Several carriages on one rail: they keep apart, never cross, reserve their way before a leg, and give way.

Carriages stand on their rail in the order of their records. Each holds a stretch of it: the point where it stands, or,
until its leg has ended, all from where that began to where it ends. Two neighbours' stretches stay the least distance
apart, so whatever happens under way, a breakdown included, two carriages never come nearer.

A carriage that can't set off waits for its way. Who has waited longest goes first, ties in file order: nobody may go
where it would be in the way of one that has waited longer, and who stands idle, or before a place where it can't do
anything yet, moves aside, just as far as needed. One that was sent away comes back when it can act.

Why nothing locks up: take the carriage that has waited longest. Each other one ends its leg or handling, which needs no
way, and then either handles at the very place it stands at, a tour has few stops, or sets off to where it is in
nobody's way, or moves aside, outer ones first; the rail goes on behind the last stop. So the way becomes free. All that
a tour needs but its way was reserved when it was chosen.
"""

from __future__ import annotations

from linesim.engine.contract.records import (
    APART,
    AT,
    CARRIAGE_SIZE,
    FIRST_ON_RAIL,
    GAVE_WAY,
    HIGH,
    IDLE,
    LOW,
    MOTION,
    N_LOADER_STOPS,
    N_ON_RAIL,
    NONE,
    NOW,
    PARK_AT,
    POSITION_OF,
    WANTED_SINCE,
    WANTS,
    Floor,
)


def position(floor: Floor, carriage: int, halt: int) -> int:
    """Where one of a carriage's halts lies on the rail [um]."""
    return floor[floor[carriage + POSITION_OF] + halt]


def way_is_free(floor: Floor, carriage: int, halt: int) -> bool:
    """Whether a carriage that stands could keep its distance on the whole way to a halt."""
    to = position(floor, carriage, halt)
    low = to if to < floor[carriage + LOW] else floor[carriage + LOW]
    high = to if to > floor[carriage + HIGH] else floor[carriage + HIGH]
    first = floor[carriage + FIRST_ON_RAIL]
    last = first + (floor[carriage + N_ON_RAIL] - 1) * CARRIAGE_SIZE
    apart = floor[carriage + APART]
    if carriage > first and low < floor[carriage - CARRIAGE_SIZE + HIGH] + apart:
        return False
    return carriage == last or high <= floor[carriage + CARRIAGE_SIZE + LOW] - apart


def may_set_off(floor: Floor, carriage: int, halt: int) -> bool:
    """Whether a carriage that stands may go to a halt now."""
    return way_is_free(floor, carriage, halt) and not is_in_the_way(floor, carriage, position(floor, carriage, halt))


def hold_way(floor: Floor, carriage: int, halt: int) -> None:
    """A leg begins: the stretch up to its end belongs to this carriage, which waits no longer."""
    to = position(floor, carriage, halt)
    if to < floor[carriage + LOW]:
        floor[carriage + LOW] = to
    if to > floor[carriage + HIGH]:
        floor[carriage + HIGH] = to


def give_up_way(floor: Floor, carriage: int) -> None:
    """A leg has ended: the carriage holds no more than the point where it stands."""
    here = position(floor, carriage, floor[carriage + AT])
    floor[carriage + LOW] = here
    floor[carriage + HIGH] = here


def wait_for_way(floor: Floor, carriage: int, halt: int) -> None:
    floor[carriage + WANTS] = halt
    if floor[carriage + WANTED_SINCE] < 0:
        floor[carriage + WANTED_SINCE] = floor[NOW]


def wait_for_no_way(floor: Floor, carriage: int) -> None:
    floor[carriage + WANTS] = -1
    floor[carriage + WANTED_SINCE] = -1


def forget_way(floor: Floor, carriage: int) -> None:
    """The carriage waits for no way, or no longer, and does not stand aside."""
    wait_for_no_way(floor, carriage)
    floor[carriage + GAVE_WAY] = 0


def is_in_the_way(floor: Floor, carriage: int, here: int) -> bool:
    """Whether a carriage at this point [um] would be in the way of one that has waited longer."""
    return _whose_way(floor, carriage, here) != NONE


def must_give_way(floor: Floor, carriage: int) -> bool:
    """Whether an idle carriage must move aside before it may take a call. It waits for no way itself."""
    forget_way(floor, carriage)
    return is_in_the_way(floor, carriage, floor[carriage + LOW])


def _whose_way(floor: Floor, carriage: int, here: int) -> int:
    """The carriage that has waited longest of those in whose way this one would be; NONE if there is none."""
    found = NONE
    other = floor[carriage + FIRST_ON_RAIL]
    for _ in range(floor[carriage + N_ON_RAIL]):
        if (
            other != carriage
            and _waits_longer(floor, other, carriage)
            and not _clears(floor, carriage, here, other)
            and (found == NONE or _waits_longer(floor, other, found))
        ):
            found = other
        other += CARRIAGE_SIZE
    return found


def _waits_longer(floor: Floor, one: int, other: int) -> bool:
    if floor[one + WANTS] < 0:
        return False
    if floor[other + WANTS] < 0 or floor[one + WANTED_SINCE] < floor[other + WANTED_SINCE]:
        return True
    return floor[one + WANTED_SINCE] == floor[other + WANTED_SINCE] and one < other


def _clears(floor: Floor, carriage: int, here: int, other: int) -> bool:
    """Whether a carriage at this point [um] leaves another one, and those between them, room where that wants to be."""
    gap = (other - carriage) // CARRIAGE_SIZE * floor[carriage + APART]
    wanted = position(floor, other, floor[other + WANTS])
    return here <= wanted - gap if gap > 0 else here >= wanted - gap


def halt_aside(floor: Floor, carriage: int) -> int:
    """Where a carriage that stands should move now to give way; -1: it is in nobody's way, or can't move yet.

    An idle one goes to where it parks, if that will do and is free, any other to the nearest halt that does. Only that
    one is sure to come free: those further out need not leave room for more.
    """
    here = floor[carriage + LOW]
    other = _whose_way(floor, carriage, here)
    if other == NONE:
        return -1
    best = -1
    least = 0
    for halt in range(floor[carriage + N_LOADER_STOPS]):
        there = position(floor, carriage, halt)
        distance = there - here if there > here else here - there
        if _clears(floor, carriage, there, other) and (best < 0 or distance < least):
            best = halt
            least = distance
    park = floor[carriage + PARK_AT] if floor[carriage + MOTION] == IDLE else -1
    if park >= 0 and _clears(floor, carriage, position(floor, carriage, park), other):
        best = park if way_is_free(floor, carriage, park) else best
    return best if way_is_free(floor, carriage, best) else -1
