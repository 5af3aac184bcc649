"""What share of the parts that come to a station becomes scrap or a sample there, as reckoned before any run.

Common practice.
"""

from __future__ import annotations

import math

from linesim.line.machine_time import machine_time
from linesim.line.machines import each_machine, mean_cycle_s, overdone_share
from linesim.line.model import Line, Samples, Station
from linesim.line.size_shares import out_of_tolerance_share, sampled_share
from linesim.line.stop_rates import stop_rates
from linesim.line.ways import places


def spoilt_share(line: Line, name: str) -> float:
    """Share of a station's parts that need too many strokes, that breaking tools take with them, or that are scrapped
    after a stop."""
    each = [machine_time(line, name, machine) for machine in each_machine(name, line.stations[name]).values()]
    by_tools = sum(machine.spoilt_share for machine in each) / len(each)
    return 1 - (1 - overdone_share(line.stations[name])) * (1 - by_tools)


def drawn_share(line: Line, name: str) -> float:
    """Share of a station's good parts that go to a drawer, if that is never full; time counts in cycles.

    Those that come first after a stop add to the regular ones; those after a pause are left out.
    """
    samples = line.stations[name].samples
    if samples is None:
        return 0.0
    machines = each_machine(name, line.stations[name]).values()
    return sum(_drawn_share(machine, samples) for machine in machines) / len(machines)


def _drawn_share(machine: Station, samples: Samples) -> float:
    cycle_s = max(mean_cycle_s(machine), 1e-9)
    every: float = samples.every or math.inf
    if isinstance(samples.every, float):
        every = max(1, math.ceil(samples.every / cycle_s))
    rates = [rate for rate in stop_rates(machine) if rate.name in samples.after]
    return min(1.0, 1 / every + sum(rate.per_part + rate.per_s * cycle_s for rate in rates))


def scrapped_share(line: Line, name: str, part: str | None = None) -> float:
    """Share of the parts, or those of a type, that come to a station for the first time and become scrap there: spoilt
    or rejected.

    One that may be reworked n times is taken to be rejected n + 1 times, by the same chance each. Parts in work that a
    breakdown scraps are left out.
    """
    found = line.stations[name].inspection
    spoilt = spoilt_share(line, name)
    if found is None:
        return spoilt
    times = 1 + (found.rework.at_most if found.rework else 0)
    return spoilt + (1 - spoilt) * _rejected_share(line, name, part) ** times


def _rejected_share(line: Line, name: str, part: str | None) -> float:
    """Share of the parts that a station inspects and rejects: bad ones that nobody found before, and false alarms."""
    visited = places(line, part)
    before = [line.stations[place] for place in visited[: visited.index(name) + 1] if place in line.stations]
    found = line.stations[name].inspection
    assert found is not None
    sound = read_as_good = 1.0
    for at, station in enumerate(before):
        missed = math.prod(1 - each.inspection.catches for each in before[at:-1] if each.inspection)
        share = 1 - (1 - sum(station.defects.values())) * (1 - _out_and_unmeasured(station, before[at:]))
        sound *= 1 - share * missed
        for characteristic in station.characteristics:
            gauge = found.measures.get(characteristic)
            if gauge and not _is_measured(before[at:-1], characteristic):
                out = out_of_tolerance_share(station, characteristic, gauge)
                read_as_good *= 1 - out * sampled_share(station, characteristic, gauge)
    passed = sound * (1 - found.false_alarms) + (1 - sound) * (1 - found.catches)
    return 1 - passed * read_as_good


def _out_and_unmeasured(station: Station, behind: list[Station]) -> float:
    """Share of a station's parts with a size out of tolerance that no gauge of these stations reads."""
    blind = [name for name in station.characteristics if not _is_measured(behind, name)]
    return 1 - math.prod(1 - out_of_tolerance_share(station, name) for name in blind)


def _is_measured(stations: list[Station], characteristic: str) -> bool:
    return any(it.inspection and characteristic in it.inspection.measures for it in stations)
