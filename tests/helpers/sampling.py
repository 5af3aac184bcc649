"""Samples of a measure from independent replications of a line, in the line's own seconds."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np

import linesim
from linesim.engine.compiled import run  # equal to the readable engine to the last bit (tests/differential), far faster
from linesim.engine.contract.ledger import US, Fate, Ledger, MachineState
from linesim.engine.contract.times import Times

Measure = Callable[[Ledger], Any]


def sample(
    plain: Mapping[str, Any], seed: int, replications: int, warmup_s: float, measured_s: float, measure: Measure
) -> np.ndarray:
    """The measure of each replication, shape (replications,) or (replications, values it gives)."""
    line = linesim.load_line(plain)
    horizon_us = round((warmup_s + measured_s) * US)
    times = Times(round(warmup_s * US), horizon_us, horizon_us)
    taken = []
    for replication in range(replications):
        ledger, _ = run(line, seed, replication, times)
        taken.append(measure(ledger))
    return np.array(taken, dtype=float)


def good_parts_per_s(ledger: Ledger) -> float:
    """Good parts that left in the window, per second."""
    in_window = ledger.departures[ledger.departures[:, 0] >= ledger.warmup_us]
    return float((in_window[:, 3] == Fate.GOOD).sum() / ledger.measured_us * US)


def share(ledger: Ledger, state: MachineState, machines: Sequence[str] | None = None) -> float:
    """Mean share of the window that machines (all, if not named) spent in a state."""
    names = machines or [owner.name for owner in ledger.owners if owner.kind == "machine"]
    return float(np.mean([ledger.states[name][state] for name in names]) / ledger.measured_us)


def machines_in(ledger: Ledger, state: MachineState) -> float:
    """Mean number of machines in a state."""
    return share(ledger, state) * sum(owner.kind == "machine" for owner in ledger.owners)


def repair_beyond_its_share(ledger: Ledger, repair_per_work: float, machines: Sequence[str]) -> float:
    """Share of time under repair less what is due for the time at work; zero in the long run, whatever the line does.

    repair_per_work: mean time to repair over mean time to failure, for breakdowns that age only at work.
    """
    repair = share(ledger, MachineState.UNDER_REPAIR, machines)
    return repair - repair_per_work * share(ledger, MachineState.WORKING, machines)
