"""What stops cost: the tools, wheels and abrasives that each uses up, for a good part at the demand."""

from __future__ import annotations

import math
from collections.abc import Iterator

from linesim.line.called import response_s
from linesim.line.capacity import HOUR_S, Stage, stages
from linesim.line.demand import needed_per_h
from linesim.line.machines import each_machine
from linesim.line.model import Line, Station
from linesim.line.stop_rates import stop_rates
from linesim.line.tool_life import stops_of


def costs_each(line: Line) -> dict[tuple[str, str, str], float]:
    """Machine, kind and name of every stop -> money for each [currency]. Kinds as in the table of stoppages."""
    return {
        (machine, kind, name): stop.cost
        for station_name, station in line.stations.items()
        for machine, own in each_machine(station_name, station).items()
        for kind, name, stop in stops_of(own)
    }


def stop_costs_per_good_part(line: Line) -> dict[tuple[str, str, str], float]:
    """Station, kind and name of each stop with a cost -> what it costs for a good part at the demand [currency].

    Scrapped parts use up tools too: theirs are in it. Empty without a demand.
    """
    needed, found = needed_per_h(line), dict[tuple[str, str, str], float]()
    for row in stages(line) if needed else []:
        starts = (row.starts_per_h or 0.0) / (needed or 1.0)  # for a good part of the line
        for machine, share in _shares(line, row):
            for rate in stop_rates(machine):
                if rate.stop.cost:
                    lasts_s = rate.stop.takes.mean + response_s(line, rate.stop)
                    by_time = rate.per_s / (1 + lasts_s * rate.per_s) * row.planned_share * HOUR_S / (needed or 1.0)
                    key = (row.station, rate.kind, rate.name)
                    found[key] = found.get(key, 0.0) + rate.stop.cost * (starts * share * rate.per_part + by_time)
    return found


def _shares(line: Line, row: Stage) -> Iterator[tuple[Station, float]]:
    """Each machine of a station, with the share of its parts that it makes: as much as it can beside the others."""
    machines = each_machine(row.station, line.stations[row.station]).values()
    rates = [time.parts_per_s(row.load_s) for time in row.each]
    for machine, rate in zip(machines, rates, strict=True):
        yield machine, 1 / len(rates) if math.inf in rates else rate / sum(rates)
