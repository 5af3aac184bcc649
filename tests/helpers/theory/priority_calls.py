"""Two classes of calls at one person who takes the more urgent first and finishes what was begun.

Cobham, A. (1954), Priority assignment in waiting line problems, Operations Research 2(1), 70-76 (from memory): mean
waits of Poisson calls. With as many calls as there are machines, a Markov chain; given calls without number it must
give Cobham's waits.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import spsolve

Rate = Callable[[int], float]  # calls a unit of time while so many of the class are waiting or at work


def cobham_waits(rates: tuple[float, float], mean_works: tuple[float, float]) -> tuple[float, float]:
    """Mean wait of urgent and of other calls: Poisson calls, exponential work, one person."""
    loads = [rate * work for rate, work in zip(rates, mean_works, strict=True)]
    left_over = sum(rate * work**2 for rate, work in zip(rates, mean_works, strict=True))
    return left_over / (1 - loads[0]), left_over / ((1 - loads[0]) * (1 - sum(loads)))


def priority_waits(
    rates: tuple[Rate, Rate], mean_works: tuple[float, float], most: tuple[int, int]
) -> tuple[float, float]:
    """Mean wait of urgent and of other calls, exponential in everything. most: calls of each class at a time.

    State: calls of each class in the shop, and the class at work (0: nobody is). Waits follow from the mean numbers
    that wait and the rates at which calls come (Little 1961).
    """
    states = [(0, 0, 0)] + [
        (urgent, other, at_work)
        for urgent, other in itertools.product(range(most[0] + 1), range(most[1] + 1))
        for at_work in (1, 2)
        if (urgent, other)[at_work - 1]
    ]
    index = {state: n for n, state in enumerate(states)}
    flows = sparse.lil_matrix((len(states), len(states)))
    for state, n in index.items():
        for to, rate in _ways_on(state, rates, mean_works, most):
            flows[index[to], n] += rate
            flows[n, n] -= rate
    flows[0, :] = 1.0
    shares = spsolve(flows.tocsc(), np.eye(len(states))[0])
    waits = []
    for kind in (0, 1):
        both = list(zip(states, shares, strict=True))
        waiting = sum(share * (state[kind] - (state[2] == kind + 1)) for state, share in both)
        coming = sum(share * rates[kind](state[kind]) for state, share in both)
        waits.append(float(waiting / coming))
    return waits[0], waits[1]


def _ways_on(
    state: tuple[int, int, int], rates: tuple[Rate, Rate], mean_works: tuple[float, float], most: tuple[int, int]
) -> list[tuple[tuple[int, int, int], float]]:
    urgent, other, at_work = state
    found = []
    if urgent < most[0]:
        found.append(((urgent + 1, other, at_work or 1), rates[0](urgent)))
    if other < most[1]:
        found.append(((urgent, other + 1, at_work or 2), rates[1](other)))
    if at_work:
        left = (urgent - (at_work == 1), other - (at_work == 2))
        following = 1 if left[0] else 2 if left[1] else 0
        found.append(((*left, following), 1 / mean_works[at_work - 1]))
    return found
