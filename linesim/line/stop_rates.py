"""How often the stops of a machine come, on the mean: for the rough-cut sheet and the cost of a part."""

from __future__ import annotations

import math
from dataclasses import dataclass

from linesim.line.machines import part_cycle_s, parts_together
from linesim.line.model import STOP_KINDS, Station, Stop
from linesim.line.tool_life import breakage_of, replacement, worn_by
from linesim.line.units import Dressings


@dataclass(frozen=True)
class StopRate:
    """A stop of a machine and how often it comes.

    kind: one of STOP_KINDS, or "breakage"; per_part: stops for a part; per_s: stops for a second of the calendar, its
    own time not counted. One of the two is zero.
    """

    kind: str
    name: str
    stop: Stop
    per_part: float
    per_s: float = 0.0


def stop_rates(machine: Station) -> list[StopRate]:
    """A row for each stop; of a tool with a life one for the planned change and one for the change after a break."""
    return [rate for kind, name, stop in _planned(machine) for rate in _rates(machine, kind, name, stop)]


def parts_between(machine: Station, kind: str, name: str) -> float:
    """How many parts a machine makes from one stop to the next, whatever brings it, if it works all the time."""
    rates = _rates(machine, kind, name, getattr(machine, kind)[name])
    return 1 / max(sum(rate.per_part + rate.per_s * part_cycle_s(machine) for rate in rates), 1e-12)


def _planned(machine: Station) -> list[tuple[str, str, Stop]]:
    return [(kind, name, stop) for kind in STOP_KINDS for name, stop in getattr(machine, kind).items()]


def _rates(machine: Station, kind: str, name: str, stop: Stop) -> list[StopRate]:
    if stop.life:
        tool = replacement(stop)
        changes = (1.0 if stop.life.in_parts else part_cycle_s(machine)) / tool.mean_age
        broken = StopRate("breakage", name, breakage_of(stop), tool.broken_share * changes)
        return [broken, StopRate(kind, name, stop, (1 - tool.broken_share) * changes)]
    assert stop.every is not None
    if isinstance(stop.every, Dressings):
        (dressing,) = _rates(machine, "dressing", worn_by(machine, stop), machine.dressing[worn_by(machine, stop)])
        return [StopRate(kind, name, stop, dressing.per_part / stop.every, dressing.per_s / stop.every)]
    if isinstance(stop.every, int):
        together = parts_together(machine)  # a batch is made to its end
        return [StopRate(kind, name, stop, 1 / (together * math.ceil(stop.every / together)))]
    if stop.clock == "working":
        return [StopRate(kind, name, stop, part_cycle_s(machine) / stop.every)]
    return [StopRate(kind, name, stop, 0.0, 1 / stop.every)]
