"""Cold starts: a machine that has stood off duty for long warms up first, and scraps its first parts."""

from __future__ import annotations

from linesim.engine.contract.records import (
    COLD_START,
    DUE,
    EVERY,
    NONE,
    NOW,
    OFF,
    PROGRESS,
    STOOD_SINCE,
    Floor,
)
from linesim.engine.contract.stoppages import take_up_due_stop


def warm_up_if_cold(floor: Floor, machine: int) -> None:
    """A machine opens again: after standing for long enough it has its cold start before anything else."""
    stop = floor[machine + COLD_START]
    if (
        stop != NONE
        and floor[stop + PROGRESS] == OFF
        and floor[NOW] - floor[machine + STOOD_SINCE] >= floor[stop + EVERY]
    ):
        floor[stop + PROGRESS] = DUE
        take_up_due_stop(floor, machine)
