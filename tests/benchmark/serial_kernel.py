"""A kernel for just the serial line, as fast as it could be made by hand: the ceiling for a general engine.

Times in whole microseconds. A machine has one key, the time at which it acts next and its number in one integer; the
least key is the next event. After an event only the machine and its two neighbours are looked at. It counts visits,
events, parts out, and, if asked, what a ledger keeps of such a line: time in each state and at each buffer level, the
number inside over time, and when each part went in and came out.
"""

from __future__ import annotations

import numba
import numpy as np

STARVED, WORKING, BLOCKED, DOWN = range(4)
NUMBER_BITS = 10
NEVER = np.int64((1 << 62) - 1)
VISITS, EVENTS, OUT = range(3)


@numba.njit(nogil=True, cache=True)
def run_kernel(
    stations: int,
    room: int,
    cycle_us: float,
    mtbf_us: float,
    mttr_us: float,
    horizon_us: int,
    tallies: bool,
    source: np.random.Generator,
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Run the line; returns counts (VISITS, EVENTS, OUT), state times (stations, 4), level times (stations, room + 2),
    time with n inside, and rows (in, out) of the parts that left; the last four stay empty without `tallies`.
    """
    mask = (1 << NUMBER_BITS) - 1
    key = np.full(stations, NEVER, dtype=np.int64)
    state = np.full(stations, STARVED, dtype=np.int64)
    left = np.zeros(stations, dtype=np.int64)  # of the running operation, behind the next act
    to_failure = np.empty(stations, dtype=np.int64)
    level = np.zeros(stations, dtype=np.int64)  # of the buffer before each machine
    counts = np.zeros(3, dtype=np.int64)

    since = np.zeros(stations, dtype=np.int64)
    state_time = np.zeros((stations, 4), dtype=np.int64)
    level_since = np.zeros(stations, dtype=np.int64)
    level_time = np.zeros((stations, room + 2), dtype=np.int64)
    inside, inside_since = 0, 0
    inside_time = np.zeros(stations * (room + 2) if tallies else 1, dtype=np.int64)
    born = np.zeros(stations * (room + 2), dtype=np.int64)  # parts never overtake: a ring of entry times
    n_in = 0
    parts = np.empty((4096 if tallies else 1, 2), dtype=np.int64)

    now = 0
    for at in range(stations):
        to_failure[at] = int(source.standard_exponential() * mtbf_us + 0.5)
    acting = 0  # machine 0 starts by itself at time 0
    visits, events, out = 0, 0, 0
    first = True
    while True:
        if not first:
            least = key[0]
            for at in range(1, stations):
                if key[at] < least:
                    least = key[at]
            now = least >> NUMBER_BITS
            if now >= horizon_us:
                break
            acting = least & mask
            events += 1
        was = state[acting]
        starts = -1  # machine that may start, the one after it and before it follow
        if first:
            first = False
            starts = 0
        elif was == DOWN:
            to_failure[acting] = int(source.standard_exponential() * mtbf_us + 0.5)
            if tallies:
                state_time[acting, DOWN] += now - since[acting]
                since[acting] = now
            state[acting] = WORKING
            run = min(left[acting], to_failure[acting])
            left[acting] -= run
            to_failure[acting] -= run
            key[acting] = ((now + run) << NUMBER_BITS) | acting
        elif left[acting] > 0:  # the failure came first
            if tallies:
                state_time[acting, WORKING] += now - since[acting]
                since[acting] = now
            state[acting] = DOWN
            key[acting] = ((now + int(source.standard_exponential() * mttr_us + 0.5)) << NUMBER_BITS) | acting
        else:
            visits += 1
            if tallies:
                state_time[acting, WORKING] += now - since[acting]
                since[acting] = now
            if acting == stations - 1:
                if tallies:
                    inside_time[inside] += now - inside_since
                    inside_since = now
                    inside -= 1
                    if out == len(parts):
                        longer = np.empty((2 * len(parts), 2), dtype=np.int64)
                        longer[:out] = parts
                        parts = longer
                    parts[out, 0] = born[out % len(born)]
                    parts[out, 1] = now
                out += 1
                starts = acting
            else:
                behind = acting + 1
                if state[behind] == STARVED:  # its buffer is empty
                    state[acting] = STARVED
                    if tallies:
                        state_time[behind, STARVED] += now - since[behind]
                        since[behind] = now
                    _start(behind, now, key, state, left, to_failure, cycle_us, source)
                    starts = acting
                elif level[behind] < room:
                    if tallies:
                        level_time[behind, level[behind]] += now - level_since[behind]
                        level_since[behind] = now
                    level[behind] += 1
                    starts = acting
                else:
                    state[acting] = BLOCKED
                    key[acting] = NEVER
        # A machine that is free takes a part; the room this leaves frees the one before it, and so on upstream.
        while starts >= 0:
            free = starts
            starts = -1
            if free == 0:
                if tallies:
                    if state[0] == BLOCKED:
                        state_time[0, BLOCKED] += now - since[0]
                        since[0] = now
                    inside_time[inside] += now - inside_since
                    inside_since = now
                    inside += 1
                    born[n_in % len(born)] = now
                    n_in += 1
                _start(0, now, key, state, left, to_failure, cycle_us, source)
                break
            if tallies:
                if state[free] == BLOCKED:
                    state_time[free, BLOCKED] += now - since[free]
                since[free] = now
            before = free - 1
            if level[free] > 0:
                if state[before] != BLOCKED:
                    if tallies:
                        level_time[free, level[free]] += now - level_since[free]
                        level_since[free] = now
                    level[free] -= 1
                else:
                    starts = before  # its part takes the place
            elif state[before] == BLOCKED:
                starts = before
            else:
                state[free] = STARVED
                key[free] = NEVER
                break
            _start(free, now, key, state, left, to_failure, cycle_us, source)
    counts[VISITS], counts[EVENTS], counts[OUT] = visits, events, out
    if tallies:
        for at in range(stations):
            state_time[at, state[at]] += horizon_us - since[at]
            level_time[at, level[at]] += horizon_us - level_since[at]
        inside_time[inside] += horizon_us - inside_since
    return counts, state_time, level_time, inside_time, parts[:out]


@numba.njit(nogil=True, cache=True, inline="always")
def _start(at, now, key, state, left, to_failure, cycle_us, source):
    duration = int(source.standard_exponential() * cycle_us + 0.5)
    run = min(duration, to_failure[at])
    left[at] = duration - run
    to_failure[at] -= run
    state[at] = WORKING
    key[at] = ((now + run) << NUMBER_BITS) | at
