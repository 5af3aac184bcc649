"""A machine that serves parts in batches, behind random arrivals, solved as a Markov chain."""

from __future__ import annotations

import numpy as np


def mean_number(rate: float, mean_cycle: float, least: int, most: int, longest_queue: int = 400) -> float:
    """Mean number of parts waiting or at work; arrivals at this rate, exponential cycles, any number up to infinity.

    The machine starts with all that wait, at least `least`, at most `most`; who comes later waits for the next batch.
    General bulk service, as in Bailey 1954 and Neuts 1967 (from memory); here the balance equations of the states
    (parts at work, parts waiting) are solved directly, cut off at a queue that hardly ever comes.
    """
    states = [(0, waiting) for waiting in range(least)]
    states += [(work, waiting) for work in range(least, most + 1) for waiting in range(longest_queue + 1)]
    number = {state: at for at, state in enumerate(states)}
    flow = np.zeros((len(states), len(states)))
    for (work, waiting), at in number.items():
        if work == 0:
            more = (0, waiting + 1) if waiting + 1 < least else (waiting + 1, 0)
            flow[at, number[more]] += rate
            continue
        if waiting < longest_queue:
            flow[at, number[work, waiting + 1]] += rate
        taken = min(waiting, most)
        after = (0, waiting) if waiting < least else (taken, waiting - taken)
        flow[at, number[after]] += 1 / mean_cycle
    balance = flow.T - np.diag(flow.sum(axis=1))
    balance[-1] = 1.0
    share = np.linalg.solve(balance, np.append(np.zeros(len(states) - 1), 1.0))
    return float(sum(share[at] * (work + waiting) for (work, waiting), at in number.items()))
