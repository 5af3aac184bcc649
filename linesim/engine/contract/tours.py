"""Tours of a loader, or of people by hand: pick, with two grippers swaps on the way, and place.

All places are reserved when a tour is chosen.
"""

from __future__ import annotations

from linesim.engine.contract.calls import close_call
from linesim.engine.contract.log import ROW_TOUR, note
from linesim.engine.contract.loops import loops_admit
from linesim.engine.contract.records import (
    AT,
    CALL_SINCE,
    CALL_TO,
    CALLS_OF,
    COMING,
    EXCHANGE,
    EXCHANGES,
    FIRST_PLACE,
    GRIPPERS,
    INDEX,
    LEVEL,
    LONGEST_WAITING,
    MOTION,
    N_CALLS,
    N_LOADER_STOPS,
    N_PLACES,
    N_SERVED,
    N_TOUR,
    NEAREST,
    NONE,
    NUMBER,
    OWNER_KIND,
    PARTS_TAKEN,
    PASSABLE,
    PHASE,
    PICK,
    PITCH,
    PLACE_SIZE,
    PLANNED,
    PRIORITY,
    PUT,
    RANKS,
    ROOM,
    ROOM_TAKEN,
    RULE,
    SERVED,
    SINCE,
    SKIPS,
    STANDING,
    STATION,
    STEP,
    STEP_SIZE,
    STOP_OF,
    TAKING,
    TOUR,
    TOUR_AT,
    TRAVEL,
    WAY_OUT,
    Floor,
)
from linesim.engine.contract.touch import touch
from linesim.engine.contract.upstream import ready_upstream
from linesim.engine.contract.ways import is_ready, next_step, release, reserve, way_of


def choose_tour(floor: Floor, carriage: int) -> None:
    """An idle carriage takes the call that its rule puts first, if one is open."""
    call = first_call(floor, carriage)
    if call:
        target = floor[call + CALL_TO]
        _plan(floor, carriage, call, target)
        commit_tour(floor, carriage)


def first_call(floor: Floor, carriage: int) -> int:
    """Ties go to the more downstream place, then to the machine that finished first, then to file order."""
    rule = floor[carriage + RULE]
    best = NONE
    best_key = 0
    for n in range(floor[carriage + N_SERVED]):
        place = floor[floor[carriage + SERVED] + n]
        if floor[place + CALL_SINCE] < 0 or way_of(floor, place) != floor[carriage + CALLS_OF]:
            continue
        if rule == LONGEST_WAITING:
            key = floor[place + CALL_SINCE]
        elif rule == NEAREST:
            key = travel_time(floor, carriage, _first_stop(floor, carriage, place))
        elif rule == PRIORITY:
            key = floor[floor[carriage + RANKS] + n]
        else:
            key = -floor[floor[place + STEP] + INDEX]
        if best == NONE or key < best_key or (key == best_key and _finished_before(floor, place, best)):
            best = place
            best_key = key
    return best


def _finished_before(floor: Floor, place: int, other: int) -> bool:
    """Between two machines of one station; other pairs are told apart by their order on the route.

    One that has finished goes before one that has called ahead.
    """
    if floor[place + STEP] != floor[other + STEP]:
        return False
    if floor[place + PHASE] != floor[other + PHASE]:
        return floor[place + PHASE] > floor[other + PHASE]
    return floor[place + SINCE] < floor[other + SINCE]


def travel_time(floor: Floor, carriage: int, place: int) -> int:
    """Time for a carriage to go from where it stands to a place [us]."""
    return floor[
        floor[carriage + TRAVEL]
        + floor[carriage + AT] * floor[carriage + N_LOADER_STOPS]
        + stop_of(floor, carriage, place)
    ]


def stop_of(floor: Floor, carriage: int, place: int) -> int:
    """The number of the carriage's stop at a place."""
    return floor[floor[carriage + STOP_OF] + floor[place + NUMBER]]


def is_on_a_tour(floor: Floor, carriage: int, machine: int) -> bool:
    """Whether a tour for some open call would swap this machine's part in on its way."""
    if floor[carriage + GRIPPERS] < 2 or floor[carriage + N_CALLS] == 0:
        return False
    for at in range(floor[carriage + SERVED], floor[carriage + SERVED] + floor[carriage + N_SERVED]):
        place = floor[at]
        if floor[place + CALL_SINCE] >= 0 and way_of(floor, place) == carriage:
            for _ in range(floor[carriage + EXCHANGES]):
                place = _part_to_swap_in(floor, carriage, place)
                if place == machine:
                    return True
                if place == NONE:
                    break
    return False


def _first_stop(floor: Floor, carriage: int, call: int) -> int:
    """Where the tour for a call would begin."""
    place = call
    for _ in range(floor[carriage + EXCHANGES]):
        source = _part_to_swap_in(floor, carriage, place)
        if source == NONE:
            break
        place = source
    return place


def _part_to_swap_in(floor: Floor, carriage: int, place: int) -> int:
    """With two grippers: the place upstream on this loader with a part ready for the machine whose part is called for.

    NONE if there is none, or the place is no machine, or one that has its entry elsewhere than its exit.
    """
    if floor[carriage + GRIPPERS] < 2 or floor[place + OWNER_KIND] != STATION:
        return NONE
    if floor[place + COMING] or floor[place + PITCH]:
        return NONE
    step = floor[place + STEP]
    if floor[SKIPS]:
        return ready_upstream(floor, floor[carriage + CALLS_OF], step)
    source = step - STEP_SIZE
    while True:
        if floor[source + WAY_OUT] != floor[carriage + CALLS_OF] or not loops_admit(floor, source, step):
            return NONE
        ready = _ready_place(floor, source)
        if ready:
            return ready
        buffer = floor[source + FIRST_PLACE]
        if not floor[source + PASSABLE] or floor[buffer + LEVEL] or floor[buffer + ROOM_TAKEN]:
            return NONE
        source -= STEP_SIZE


def _ready_place(floor: Floor, step: int) -> int:
    """The place of a step with a part ready for the next step: of several machines the one that finished first."""
    best = NONE
    for n in range(floor[step + N_PLACES]):
        place = floor[step + FIRST_PLACE] + n * floor[step + PLACE_SIZE]
        if (
            is_ready(floor, place)
            and next_step(floor, place) == step + STEP_SIZE
            and (floor[place + OWNER_KIND] != STATION or floor[place + ROOM] == NONE)
            and (best == NONE or floor[place + SINCE] < floor[best + SINCE])
        ):
            best = place
    return best


def _plan(floor: Floor, carriage: int, call: int, target: int) -> None:
    """Write down the stops of the tour: from the called part upstream as far as swaps go, then turned around."""
    tour = floor[carriage + TOUR]
    count = 1
    floor[tour] = call
    while count <= floor[carriage + EXCHANGES]:
        source = _part_to_swap_in(floor, carriage, floor[tour + 2 * (count - 1)])
        if source == NONE:
            break
        floor[tour + 2 * count] = source
        count += 1
    for n in range(count // 2):
        first, last = tour + 2 * n, tour + 2 * (count - 1 - n)
        place = floor[first]
        floor[first] = floor[last]
        floor[last] = place
    for n in range(count):
        floor[tour + 2 * n + 1] = EXCHANGE
    floor[tour + 1] = PICK
    floor[tour + 2 * count] = target
    floor[tour + 2 * count + 1] = PUT
    floor[carriage + N_TOUR] = count + 1


def commit_tour(floor: Floor, carriage: int) -> None:
    """Reserve every place of the planned tour; the carriage can set off."""
    tour = floor[carriage + TOUR]
    floor[carriage + PLANNED] = 1
    floor[carriage + TOUR_AT] = 0
    floor[carriage + MOTION] = STANDING
    before = NONE
    for n in range(floor[carriage + N_TOUR]):
        place = floor[tour + 2 * n]
        action = floor[tour + 2 * n + 1]
        note(floor, ROW_TOUR, floor[carriage + NUMBER], -1, floor[place + NUMBER])
        if action != PICK:
            _reserve_for_tour(floor, before, place, carriage)
        if action != PUT:
            claim_part(floor, place, carriage)
        before = place


def _reserve_for_tour(floor: Floor, before: int, place: int, carriage: int) -> None:
    """Room that the machine of the stop before reserved when it started passes to the tour."""
    if floor[before + OWNER_KIND] == STATION and floor[before + ROOM] == place:
        floor[before + ROOM] = NONE
        if floor[place + OWNER_KIND] == STATION:
            floor[place + COMING] = carriage
    else:
        reserve(floor, floor[before + STEP], place, carriage)


def claim_part(floor: Floor, place: int, carriage: int) -> None:
    """Keep the (next) part of a place for a tour; if another is ready there, it opens a call of its own."""
    close_call(floor, place)
    if floor[place + OWNER_KIND] == STATION:
        floor[place + TAKING] = carriage
    else:
        floor[place + PARTS_TAKEN] += 1
    touch(floor, floor[place + STEP])


def end_tour_here(floor: Floor, carriage: int) -> None:
    """The part to be swapped out at this stop is gone: put the new one in, and give up what was reserved behind it."""
    tour = floor[carriage + TOUR]
    here = floor[carriage + TOUR_AT]
    floor[tour + 2 * here + 1] = PUT
    floor[floor[tour + 2 * here] + TAKING] = NONE
    cut_off_behind(floor, carriage, here)


def cut_off_behind(floor: Floor, carriage: int, here: int) -> None:
    """A tour ends at this stop of it: what it had reserved and claimed further on is free again."""
    tour = floor[carriage + TOUR]
    for n in range(here + 1, floor[carriage + N_TOUR]):
        place = floor[tour + 2 * n]
        release(floor, floor[floor[tour + 2 * n - 2] + STEP], place)
        if floor[tour + 2 * n + 1] == EXCHANGE:
            floor[place + TAKING] = NONE
    floor[carriage + N_TOUR] = here + 1
