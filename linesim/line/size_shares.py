"""How many parts come out of tolerance, as reckoned before any run: normal sizes around a mean that wears away.

Common practice: reject fraction = P(size < low) + P(size > high) for a normal size with mean and standard deviation.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from linesim.line.machines import each_machine, part_cycle_s
from linesim.line.model import STOP_KINDS, Characteristic, Gauge, Station, Tolerance
from linesim.line.stop_rates import parts_between

MOST_POINTS = 200  # of the life of a tool at which the share is reckoned


def gauge_sd_um(gauge: Gauge, tolerance: Tolerance) -> float:
    """Standard deviation of what a gauge adds [um]: GRR is 6 of them, as a share of the tolerance.

    From memory: common practice of measurement system analysis.
    """
    return gauge.grr * tolerance.width / 6


def out_of_tolerance_share(station: Station, name: str, gauge: Gauge | None = None) -> float:
    """Share of its parts whose size is out of tolerance, or is read so by a gauge; the mean over the life of a tool.

    The stop that renews most often sets the life and the step. A drift that no stop ends is left out.
    """
    given = station.characteristics[name]
    sd_um = math.hypot(given.spread, gauge_sd_um(gauge, given.tolerance) if gauge else 0)
    means = [mean for machine in each_machine(name, station).values() for mean in _means_um(machine, given)]
    return sum(share_outside(given.tolerance, mean, sd_um) for mean in means) / len(means)


def sampled_share(station: Station, name: str, gauge: Gauge) -> float:
    """About what share of the parts of a station is measured; time counts in cycles."""
    if not gauge.sample:
        return 1.0
    every = gauge.sample.every
    if isinstance(every, float):
        every = max(1.0, every / max(part_cycle_s(station), 1e-9))
    regular = 1 / every if every else 0.0
    lives = [parts for parts, _ in _lives(station, station.characteristics[name])]
    ends = 2 / min(lives) if lives and gauge.sample.first_and_last else 0.0
    return min(1.0, regular + ends)


def share_outside(tolerance: Tolerance, mean_um: float, sd_um: float) -> float:
    """Share of a normal size [um] outside its limits; one that stands on a limit is good."""
    if sd_um == 0:
        return float(not tolerance.low <= mean_um <= tolerance.high)
    below = _below((tolerance.low - mean_um) / sd_um)
    return below + _below((mean_um - tolerance.high) / sd_um)


def _below(standard: float) -> float:
    return math.erfc(-standard / math.sqrt(2)) / 2


def _means_um(station: Station, given: Characteristic) -> Iterator[float]:
    parts, step = min(_lives(station, given), default=(1, 0.0))
    last = max(0.0, parts - 1)
    points = min(MOST_POINTS, math.ceil(last) + 1)
    for n in range(points):
        yield given.offset + step + given.drift * (last * n / (points - 1) if points > 1 else 0.0)


def _lives(station: Station, given: Characteristic) -> list[tuple[float, float]]:
    """Of each stop that renews the tool: after how many parts, and its step [um]."""
    return [
        (parts_between(station, kind, name), given.after[name])
        for kind in STOP_KINDS
        for name in getattr(station, kind)
        if name in given.after
    ]
