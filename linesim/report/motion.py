"""Where a carriage is at any time, from the rows of a trace: legs by a trapezoid of speed, halted while it is down."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from linesim.engine.contract.ledger import US, CarriageState
from linesim.engine.contract.trace import Trace, What
from linesim.line.carriers import carrier_of, carriers
from linesim.line.machines import each_machine
from linesim.line.model import Line, Loader

LEGS = (What.LEG, What.GIVE_WAY)
UM_PER_M = 1e6
MOVING = (CarriageState.MOVING_EMPTY, CarriageState.MOVING_LOADED)


class Stretch(NamedTuple):
    """A carriage runs from from_us to to_us on a leg between two positions [m], of which done_us lay behind it then."""

    from_us: int
    to_us: int
    from_m: float
    to_m: float
    done_us: int


@dataclass
class _Carriage:
    at_m: float
    state: int = CarriageState.IDLE
    since_us: int = 0
    from_m: float = 0.0
    to_m: float = 0.0
    left_us: int = 0
    done_us: int = 0


def gone_m(distance_m: float, time_s: float, speed_m_s: float, acceleration_m_s2: float) -> float:
    """How far a carriage has come so long after it began to move; it starts, runs and stops. At most distance_m."""
    top = min(speed_m_s, math.sqrt(distance_m * acceleration_m_s2))
    whole_s = distance_m / top + top / acceleration_m_s2 if top > 0 else 0.0
    if time_s >= whole_s:
        return distance_m
    rising_s = top / acceleration_m_s2
    if time_s < rising_s:
        return acceleration_m_s2 * time_s**2 / 2
    if time_s > whole_s - rising_s:
        return distance_m - acceleration_m_s2 * (whole_s - time_s) ** 2 / 2
    return top * (time_s - rising_s / 2)


def positions(trace: Trace, line: Line) -> dict[int, dict[int, float]]:
    """Number of each carriage on a rail -> number of each place that it serves -> position [m]."""
    numbers = {owner.name: number for number, owner in enumerate(trace.owners)}
    return {
        number: {numbers[name]: at for name, at in stops_of(line, carriers(line)[carrier_of(owner.name)]).items()}
        for number, owner in enumerate(trace.owners)
        if owner.group in line.loaders
    }


def stops_of(line: Line, loader: Loader) -> dict[str, float]:
    """Name of each machine, buffer or end -> its position on the rail [m], the first stop first."""
    found: dict[str, float] = {}
    for place, stop in loader.stops.items():
        names = each_machine(place, line.stations[place]) if place in line.stations else [place]
        found.update(zip(names, stop.at, strict=False))
    return found


def stretches(trace: Trace, line: Line) -> dict[int, list[Stretch]]:
    """Number of each carriage -> its moves in order; between two of them it stands where the last one ended."""
    at = positions(trace, line)
    carriages = {number: _Carriage(next(iter(stops.values()))) for number, stops in at.items()}
    moves: dict[int, list[Stretch]] = {number: [] for number in at}
    of_carriages = np.isin(trace.rows[:, 2], list(at)) & np.isin(trace.rows[:, 1], (What.STATE, *LEGS))
    for time_us, what, owner, place, value in trace.rows[of_carriages].tolist():
        carriage = carriages[owner]
        _run(carriage, time_us, moves[owner])
        if what == What.STATE:
            carriage.state = value
        else:
            _stop(carriage, carriers(line)[carrier_of(trace.owners[owner].name)])
            to_m = place / UM_PER_M if what == What.GIVE_WAY else at[owner][place]
            carriage.from_m, carriage.to_m = carriage.at_m, to_m
            carriage.left_us, carriage.done_us = value, 0
    for number, carriage in carriages.items():
        _run(carriage, carriage.since_us + carriage.left_us, moves[number])
    return moves


def _run(carriage: _Carriage, now_us: int, moves: list[Stretch]) -> None:
    """What the carriage did since the last row about it."""
    ran_us = min(now_us - carriage.since_us, carriage.left_us) if carriage.state in MOVING else 0
    if ran_us > 0:
        begin = carriage.since_us
        moves.append(Stretch(begin, begin + ran_us, carriage.from_m, carriage.to_m, carriage.done_us))
        carriage.done_us += ran_us
        carriage.left_us -= ran_us
    if carriage.left_us == 0 and carriage.done_us > 0:
        carriage.at_m = carriage.to_m
    carriage.since_us = now_us


def _stop(carriage: _Carriage, loader: Loader) -> None:
    """A leg that ends before its time, for another one: the carriage is where it has come to."""
    if carriage.left_us > 0:
        way = carriage.to_m - carriage.from_m
        gone = gone_m(abs(way), carriage.done_us / US, loader.speed, loader.acceleration)
        carriage.at_m = carriage.from_m + math.copysign(gone, way)
