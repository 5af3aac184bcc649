"""When a run is warm, when it ends, and how long its output windows are."""

from __future__ import annotations

from typing import NamedTuple

from linesim.engine.contract.ledger import HOUR_US


class Times(NamedTuple):
    """End of the warm-up and end of the run, both since its start, and the length of an output window [us]."""

    warmup_us: int
    horizon_us: int
    window_us: int


def times_in_hours(measured_h: float, warmup_h: float, window_h: float) -> Times:
    """The times of a run that is measured for so long after its warm-up [h]."""
    warmup_us = round(warmup_h * HOUR_US)
    return Times(warmup_us, warmup_us + round(measured_h * HOUR_US), round(window_h * HOUR_US))
