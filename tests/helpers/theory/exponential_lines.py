"""Serial lines with exponential service, never starved, never blocked at the end, blocking after service.

Source: Hunt, G.C. (1956), Operations Research 4(6), 674-683; Hillier, F.S. & Boling, R.W. (1967), Operations Research
15(2), 286-303 (both from memory; the published cells are reproduced). Solved here as a Markov chain.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import spsolve


class State(NamedTuple):
    """A saturated line between two events. machines: "w" working, "b" blocked, "s" starved; waiting: buffer levels."""

    machines: tuple[str, ...]
    waiting: tuple[int, ...]


def throughput(rates: Sequence[float], places: Sequence[int]) -> float:
    """Parts per unit of time that leave the last station in the long run.

    rates: service rate of each station [1/time], shape (stations,); places: waiting places between neighbours, places
    on machines not counted, shape (stations - 1,).
    """
    states, flows = _chain(rates, places)
    size = len(states)
    balance = csc_matrix((size, size)).tolil()
    for (source, target), rate in flows.items():
        balance[target, source] += rate
        balance[source, source] -= rate
    balance[0, :] = 1.0  # one balance equation is redundant; the shares sum to one instead
    right = np.zeros(size)
    right[0] = 1.0
    shares = spsolve(balance.tocsc(), right)
    last_works = np.array([state.machines[-1] == "w" for state in states])
    return float(rates[-1] * shares[last_works].sum())


def number_of_states(stations: int, places: int) -> int:
    """States that a balanced line can reach, found by exploring it."""
    return len(_chain([1.0] * stations, [places] * (stations - 1))[0])


def number_of_states_by_recursion(stations: int, places: int) -> int:
    """m(K+2) = (b+3) m(K+1) - m(K), m(0) = 0, m(1) = 1.

    Source: Papadopoulos, H.T., Heavey, C. & O'Kelly, M.E.J. (1989/90), Computers in Industry 13.
    """
    before, here = 0, 1
    for _ in range(stations - 1):
        before, here = here, (places + 3) * here - before
    return here


def _chain(rates: Sequence[float], places: Sequence[int]) -> tuple[list[State], dict[tuple[int, int], float]]:
    """All states reached from the empty line (each of them recurs) and the rates between them by (from, to)."""
    first = State(("w",) + ("s",) * (len(rates) - 1), (0,) * len(places))
    number, states = {first: 0}, [first]
    flows: dict[tuple[int, int], float] = {}
    for state in states:  # grows while it is walked
        for station, rate in enumerate(rates):
            if state.machines[station] == "w":
                after = _finish(state, station, places)
                if after not in number:
                    number[after] = len(states)
                    states.append(after)
                way = (number[state], number[after])
                flows[way] = flows.get(way, 0.0) + rate
    return states, flows


def _finish(state: State, station: int, places: Sequence[int]) -> State:
    """The line right after this station ends its operation."""
    machines, waiting = list(state.machines), list(state.waiting)
    if station < len(machines) - 1:
        if machines[station + 1] == "s":
            machines[station + 1] = "w"
        elif waiting[station] < places[station]:
            waiting[station] += 1
        else:
            machines[station] = "b"
            return State(tuple(machines), tuple(waiting))
    empty = station
    while empty > 0:  # an empty machine takes a part; the place that becomes free may unblock the machine before it
        if waiting[empty - 1] == 0 and machines[empty - 1] != "b":
            machines[empty] = "s"
            return State(tuple(machines), tuple(waiting))
        machines[empty] = "w"
        if machines[empty - 1] != "b":
            waiting[empty - 1] -= 1
            return State(tuple(machines), tuple(waiting))
        empty -= 1
    machines[0] = "w"
    return State(tuple(machines), tuple(waiting))
