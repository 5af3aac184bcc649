"""Planned time (PBT, planned busy time, of ISO 22400-2): what is left of the measured time without planned stops."""

from __future__ import annotations

import numpy as np

from linesim.engine.contract.ledger import CarriageState, Ledger, MachineState


def planned_us(ledger: Ledger) -> int:
    """Planned time of the line in the measured time [us]."""
    begin, end = planned_before_us(ledger, np.array([ledger.warmup_us, ledger.horizon_us]))
    return int(end - begin)


def planned_before_us(ledger: Ledger, times_us: np.ndarray) -> np.ndarray:
    """Planned time of the line from 0 up to each of these times [us]; differences are the planned time in between."""
    begin, end = ledger.planned.T
    before = np.concatenate([[0], np.cumsum(end - begin)])
    at = np.searchsorted(begin, times_us, side="right")  # stretches that have begun by then
    running = np.minimum(times_us, np.append(0, end)[at]) - np.append(0, begin)[at]
    return np.where(at > 0, before[at - 1] + running, 0)


def planned_of_machine_us(states_us: np.ndarray) -> int:
    """Planned time of a machine [us] from its time in each state, shape (16,)."""
    return int(states_us.sum() - states_us[MachineState.OFF_SHIFT] - states_us[MachineState.PLANNED_STOP])


def planned_of_carriage_us(states_us: np.ndarray) -> int:
    """Planned time of a carriage [us] from its time in each state, shape (10,)."""
    return int(states_us.sum() - states_us[CarriageState.OFF_SHIFT])


def of_station_us(ledger: Ledger, station: str) -> np.ndarray:
    """Time in each state [us] of all machines of a station together, shape (16,)."""
    machines = (machine.machine for machine in ledger.of_machines if machine.station == station)
    return np.sum([ledger.states[name] for name in machines], axis=0)


def ratio(part: float, whole: float) -> float:
    """part / whole; NaN where that is not defined."""
    return part / whole if whole else float("nan")
