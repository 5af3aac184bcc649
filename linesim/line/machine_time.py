"""What a part costs a machine, on the mean: its cycle, and its share of breakdowns and stops. For the rough-cut sheet.

Common practice; its simplifications are those of capacity.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from linesim.line.calendar import stands_us, station_h_per_week
from linesim.line.called import response_s
from linesim.line.machines import part_cycle_s
from linesim.line.model import Line, Station
from linesim.line.part_types import changeover_s
from linesim.line.stop_rates import stop_rates

US = 1_000_000
HOUR_S = 3600.0


@dataclass(frozen=True)
class MachineTime:
    """A machine by itself, its crews always free.

    cycle_s: mean cycle, of a full batch divided by its parts; breakdown_s, stop_s: a part's share of the breakdowns and
    stops that come with work; up_share: time left by those of the calendar clock; spoilt_share: share of the parts that
    breaking tools take with them, or that are scrapped after a stop.
    """

    cycle_s: float
    breakdown_s: float
    stop_s: float
    up_share: float
    spoilt_share: float

    def parts_per_s(self, load_s: float) -> float:
        """Parts that come out, with so much loader time for each [s]."""
        time_s = self.cycle_s + load_s + self.breakdown_s + self.stop_s
        return self.up_share / time_s if time_s else math.inf


def machine_time(line: Line, station: str, machine: Station) -> MachineTime:
    """machine: the station of this name as it holds for this machine."""
    cycle_s = part_cycle_s(machine)
    breakdown_s, up_share = 0.0, 1.0
    for breakdown in machine.breakdowns.values():
        ratio = (breakdown.mttr.mean + response_s(line, breakdown)) / breakdown.mtbf.mean
        if breakdown.clock == "working":
            breakdown_s += cycle_s * ratio
        else:
            up_share /= 1 + ratio
    up_share *= 1 - _cold_start_share(line, machine, cycle_s)
    stop_s, kept = changeover_s(line, station, machine), 1.0
    for rate in stop_rates(machine):
        takes_s = rate.stop.takes.mean + response_s(line, rate.stop)
        stop_s += takes_s * rate.per_part
        up_share /= 1 + takes_s * rate.per_s
        kept *= 1 - min(1.0, rate.stop.start_up_scrap * (rate.per_part + cycle_s * rate.per_s))
        if rate.kind == "breakage":
            kept *= 1 - min(1.0, rate.per_part)
    return MachineTime(cycle_s, breakdown_s, stop_s, up_share, 1 - kept)


def _cold_start_share(line: Line, machine: Station, cycle_s: float) -> float:
    """Share of its planned time that a machine warms up, or makes parts that are scrapped for it."""
    start = machine.cold_start
    hours = station_h_per_week(line, machine)
    if start is None or not hours:
        return 0.0
    starts = sum(stands >= start.after * US for stands in stands_us(line, machine))
    each_s = start.takes.mean + response_s(line, start) + start.scrap * cycle_s
    return min(1.0, starts * each_s / (hours * HOUR_S))
