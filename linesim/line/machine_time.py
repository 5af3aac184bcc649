"""What a part costs a machine, on the mean: its cycle, and its share of breakdowns and stops. For the rough-cut sheet.

Common practice; its simplifications are those of capacity.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from linesim.line.distributions import Distribution
from linesim.line.machines import mean_cycle_s
from linesim.line.model import STOP_KINDS, Line, Station
from linesim.line.part_types import changeover_s
from linesim.line.tool_life import breakage_of, replacement, worn_by
from linesim.line.units import Dressings


@dataclass(frozen=True)
class MachineTime:
    """A machine by itself, its crews always free.

    cycle_s: mean cycle; breakdown_s, stop_s: a part's share of the breakdowns and stops that come with work;
    up_share: time left by those of the calendar clock; broken_share: share of the parts that breaking tools take with
    them; stop_cost: cost of stops that come with work, for a part; cost_per_s: of those that come with time [currency].
    """

    cycle_s: float
    breakdown_s: float
    stop_s: float
    up_share: float
    broken_share: float
    stop_cost: float
    cost_per_s: float

    def parts_per_s(self, load_s: float) -> float:
        """Parts that come out, with so much loader time for each [s]."""
        time_s = self.cycle_s + load_s + self.breakdown_s + self.stop_s
        return self.up_share / time_s if time_s else math.inf


def machine_time(line: Line, machine: Station) -> MachineTime:
    """machine: the station as it holds for this machine."""
    cycle_s = mean_cycle_s(machine)
    breakdown_s, stop_s, up_share, cost_per_s = 0.0, 0.0, 1.0, 0.0
    for breakdown in machine.breakdowns.values():
        ratio = _with_response_s(line, breakdown.mttr, breakdown.crew) / breakdown.mtbf.mean
        if breakdown.clock == "working":
            breakdown_s += cycle_s * ratio
        else:
            up_share /= 1 + ratio
    stop_cost, kept = 0.0, 1.0
    for stop in (stop for kind in STOP_KINDS for stop in getattr(machine, kind).values()):
        takes_s, cost, interval = _with_response_s(line, stop.takes, stop.crew), stop.cost, stop.every
        in_parts, on_calendar = isinstance(interval, int), stop.clock == "calendar"
        if stop.life:
            tool = replacement(stop)
            broken = breakage_of(stop)
            broken_s = _with_response_s(line, broken.takes, broken.crew)
            takes_s += tool.broken_share * (broken_s - takes_s)
            cost += tool.broken_share * (broken.cost - cost)
            interval, in_parts, on_calendar = tool.mean_age, stop.life.in_parts, False
            kept *= 1 - tool.broken_share * (1 / interval if in_parts else min(1.0, cycle_s / interval))
        elif isinstance(stop.every, Dressings):
            dressing = machine.dressing[worn_by(machine, stop)]
            assert dressing.every is not None
            interval = stop.every * dressing.every
            in_parts, on_calendar = isinstance(dressing.every, int), dressing.clock == "calendar"
        assert interval is not None
        if in_parts:
            stop_s += takes_s / interval
            stop_cost += cost / interval
        elif not on_calendar:
            stop_s += cycle_s * takes_s / interval
            stop_cost += cycle_s * cost / interval
        else:
            up_share /= 1 + takes_s / interval
            cost_per_s += cost / (interval + takes_s)
    stop_s += changeover_s(line, machine)
    return MachineTime(cycle_s, breakdown_s, stop_s, up_share, 1 - kept, stop_cost, cost_per_s)


def _with_response_s(line: Line, lasts: Distribution, crew: str | None) -> float:
    return lasts.mean + (line.crews[crew].response.mean if crew else 0.0)
