"""Clocks that can stand still, kept on the floor, and the tree that finds the next one to end.

The tree holds a key for each running timer, its due time and rank in one number, in its leaves; every knot above holds
the smaller of its two children, so the next timer to end stands at the top.
Plain functions, compiled by `translate.py`.
"""

from __future__ import annotations

import numpy as np

from linesim.engine.contract.order import may_run, strikes_now
from linesim.engine.contract.records import (
    BY_WORKING_CLOCK,
    DUE_AT,
    FULL,
    HOLDER,
    IS_SET,
    LEAVES,
    LEFT,
    N_AT_WORK,
    N_OWN_TIMERS,
    NOW,
    OWN_TIMERS,
    RUNS,
    TIMED,
    TIMER,
    TIMER_KIND,
    TIMER_SIZE,
    TIMERS,
    TRIGGER,
    TRIGGER_CLOCK,
)

RANK_BITS = 14
MOST_TIMERS = 1 << RANK_BITS
NEVER = (1 << 63) - 1


def new_tree(timers: int) -> np.ndarray:
    """A tree without any key for so many timers, int64, shape (twice the leaves,)."""
    leaves = 1
    while leaves < timers:
        leaves *= 2
    return np.full(2 * leaves, NEVER, dtype=np.int64)


def put_key(tree: np.ndarray, leaves: int, rank: int, key: int) -> None:
    at = leaves + rank
    tree[at] = key
    while at > 1:
        other = tree[at ^ 1]
        at >>= 1
        smaller = key if key < other else other
        if tree[at] == smaller:
            return
        tree[at] = smaller
        key = smaller


def set_timer(floor: np.ndarray, rank: int, duration: int) -> int:
    """Set a timer, still standing. Returns its record."""
    timer = floor[TIMERS] + rank * TIMER_SIZE
    floor[timer + IS_SET] = 1
    floor[timer + LEFT] = duration
    floor[timer + FULL] = duration
    return timer


def go_on(floor: np.ndarray, tree: np.ndarray, rank: int) -> None:
    timer = floor[TIMERS] + rank * TIMER_SIZE
    due = floor[NOW] + floor[timer + LEFT]
    floor[timer + RUNS] = 1
    floor[timer + DUE_AT] = due
    kind = floor[timer + TIMER_KIND]
    if kind < TRIGGER_CLOCK:
        floor[N_AT_WORK] += 1
    elif kind == TRIGGER_CLOCK and _will_be_held_before(floor, timer, due):
        return
    put_key(tree, floor[LEAVES], rank, (due << RANK_BITS) | rank)


def _will_be_held_before(floor: np.ndarray, trigger: int, due: int) -> bool:
    """Whether a working clock stands still before it is due, as its owner stops working first: it needs no key then."""
    if floor[floor[trigger + TIMED] + TRIGGER] != BY_WORKING_CLOCK:
        return False
    work = floor[TIMERS] + floor[floor[trigger + HOLDER] + TIMER] * TIMER_SIZE
    return floor[work + RUNS] == 1 and floor[work + DUE_AT] < due


def stand_still(floor: np.ndarray, tree: np.ndarray, rank: int) -> None:
    timer = floor[TIMERS] + rank * TIMER_SIZE
    if floor[timer + RUNS]:
        floor[timer + RUNS] = 0
        floor[timer + LEFT] = floor[timer + DUE_AT] - floor[NOW]
        if floor[timer + TIMER_KIND] < TRIGGER_CLOCK:
            floor[N_AT_WORK] -= 1
        put_key(tree, floor[LEAVES], rank, NEVER)


def end_timer(floor: np.ndarray, tree: np.ndarray, rank: int) -> None:
    """A timer has come to its end, or is given up."""
    stand_still(floor, tree, rank)
    floor[floor[TIMERS] + rank * TIMER_SIZE + IS_SET] = 0


def settle(floor: np.ndarray, tree: np.ndarray, owner: int) -> None:
    """Let every timer of an owner run or stand still, as its present state asks for."""
    for at in range(floor[owner + OWN_TIMERS], floor[owner + OWN_TIMERS] + floor[owner + N_OWN_TIMERS]):
        rank = floor[at]
        timer = floor[TIMERS] + rank * TIMER_SIZE
        if floor[timer + IS_SET]:
            kind = floor[timer + TIMER_KIND]
            if may_run(floor, kind, floor[timer + TIMED], floor[timer + HOLDER]):
                if not floor[timer + RUNS]:
                    go_on(floor, tree, rank)
            elif floor[timer + RUNS] and (floor[timer + DUE_AT] != floor[NOW] or not strikes_now(floor, kind, owner)):
                stand_still(floor, tree, rank)
