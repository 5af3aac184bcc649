"""The event loop: end every timer that is due, then decide once, and so on. Mirrors the shop of the readable engine.

It returns whenever Python must do something, with all its state on the floor; called again, it goes on where it was.
Plain functions, compiled by `translate.py`.
"""

from __future__ import annotations

import numpy as np

from linesim.engine.compiled.clock import RANK_BITS, settle
from linesim.engine.compiled.row import bare
from linesim.engine.compiled.stories import begin_stories, draw_types, end, start
from linesim.engine.contract.at_start import fill_buffers
from linesim.engine.contract.decide import decide
from linesim.engine.contract.ends import waits_for_the_outside
from linesim.engine.contract.layout import ROWS_KEPT
from linesim.engine.contract.lockup import MOST_ROUNDS
from linesim.engine.contract.records import (
    DECISION_DUE,
    DRAWS_LOW,
    EVENTS,
    LAST_INSTANT,
    MIX,
    N_AT_WORK,
    N_DEPARTURES,
    N_READINGS,
    N_SETTLES,
    N_SIZES,
    N_SPELLS,
    N_TRACE,
    N_WAKES,
    N_WINDOWS,
    NOW,
    ROUNDS,
    SETTLES,
    WAKES,
    WINDOW_ENDS,
)
from linesim.engine.contract.shifts import may_rest
from linesim.engine.contract.windows import close_window

REACHED, ROWS_FULL, NEEDS_DRAWS, LOCKED_UP, STUCK_IN_TIME = range(5)


def begin(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray) -> None:
    """Before time 0."""
    begin_stories(bare(floor), bare(tree), bare(numbers))
    fill_buffers(bare(floor))


def advance(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray, until_us: int) -> int:
    """Run up to an instant; what is due at that instant itself comes later. Returns why it stopped."""
    return _advance(bare(floor), bare(tree), bare(numbers), until_us)


def _advance(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray, until_us: int) -> int:
    """Window by window."""
    while floor[WINDOW_ENDS] < until_us:
        why = _run_until(floor, tree, numbers, floor[WINDOW_ENDS])
        if why != REACHED:
            return why
        close_window(floor)
        if floor[N_WINDOWS] >= ROWS_KEPT:
            return ROWS_FULL
    return _run_until(floor, tree, numbers, until_us)


def _run_until(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray, until_us: int) -> int:
    while floor[NOW] < until_us:
        due = tree[1] >> RANK_BITS
        if due == floor[NOW] or (not floor[DECISION_DUE] and due < until_us):
            floor[NOW] = due
            floor[EVENTS] += 1
            floor[DECISION_DUE] = 1
            end(floor, tree, numbers, tree[1] & ((1 << RANK_BITS) - 1))
        elif floor[DECISION_DUE]:
            why = _decide(floor, tree, numbers)
            if why != REACHED:
                return why
        else:
            floor[NOW] = until_us
    return REACHED


def _decide(floor: np.ndarray, tree: np.ndarray, numbers: np.ndarray) -> int:
    floor[DECISION_DUE] = 0
    floor[ROUNDS] = floor[ROUNDS] + 1 if floor[NOW] == floor[LAST_INSTANT] else 1
    floor[LAST_INSTANT] = floor[NOW]
    if floor[ROUNDS] > MOST_ROUNDS:
        return STUCK_IN_TIME
    decide(floor)
    count = floor[N_WAKES]
    floor[N_WAKES] = 0
    for at in range(floor[WAKES], floor[WAKES] + 2 * count, 2):
        start(floor, tree, numbers, floor[at], floor[at + 1])
    if floor[N_SETTLES]:
        for at in range(floor[SETTLES], floor[SETTLES] + floor[N_SETTLES]):
            settle(floor, tree, floor[at])
        floor[N_SETTLES] = 0
    if floor[MIX]:
        draw_types(floor, numbers)
    if count == 0 and floor[N_AT_WORK] == 0 and not waits_for_the_outside(floor) and not may_rest(floor):
        return LOCKED_UP
    if floor[DRAWS_LOW]:
        return NEEDS_DRAWS
    if (
        floor[N_TRACE] >= ROWS_KEPT
        or floor[N_DEPARTURES] >= ROWS_KEPT
        or floor[N_SPELLS] >= ROWS_KEPT
        or floor[N_SIZES] >= ROWS_KEPT
        or floor[N_READINGS] >= ROWS_KEPT
    ):
        return ROWS_FULL
    return REACHED
