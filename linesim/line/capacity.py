"""The rough-cut capacity sheet: what each station could make by itself, beside what demand asks for. No waiting in it.

Common practice: capacity from cycle, load time, breakdowns and stops. What a line makes stays below the least of these
figures, often far below; that gap is what the simulation is for.

Two simplifications, both under 1 % in common cases: a stop that people see to goes on while its machine is down, so the
two overlap a little; and on a machine with breakdowns by both clocks the calendar stands still during the other repair.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial

from linesim.line.calendar import planned_share
from linesim.line.demand import needed_per_h
from linesim.line.flows import Flow, entering, flows
from linesim.line.hands import hands
from linesim.line.hardly_meant import hardly_meant
from linesim.line.lead_time import least_lead_time_s
from linesim.line.loader_work import LoaderWork, load_s, loader_works
from linesim.line.machine_time import MachineTime, machine_time
from linesim.line.machines import each_machine, is_steady, part_cycle_s, parts_together
from linesim.line.model import Line
from linesim.line.problems import listed
from linesim.line.scrap_shares import drawn_share, spoilt_share
from linesim.line.size_shares import out_of_tolerance_share, sampled_share
from linesim.line.supply import ceilings
from linesim.line.ways import left_out, places, places_of_loop, share_at

__all__ = [
    "Sheet",
    "Stage",
    "capacity_sheet",
    "cycle_and_load_s",
    "ideal_interval_s",
    "least_lead_time_s",
    "load_s",
    "loader_works",
    "lost_share",
    "pace_stage",
    "rework_loops",
    "stages",
    "stopped_as_one_per_h",
]

HOUR_S = 3600.0
FEW_IN_LOOP = 3  # places of a rework loop; a part can enter only if one stays free after it
HIGH_LOADER_SHARE = 0.75  # common practice: a line with failures leaves its loader a fifth to a quarter of the time


@dataclass(frozen=True)
class Stage:
    """A station by itself, its crews always free, never starved or blocked.

    each: the time a part at each machine; load_s: loader's time at the machine for a part; lost_share: parts that its
    own or a later inspection rejects for its sake; needed_per_h: what it must make good so that the demand is met after
    later rejects, None without a demand; planned_share: its planned time by that of the line; visits: share of all
    parts that come to it, as far as their types say.
    cycle_s, breakdown_s, stop_s, up_share: of unequal machines the mean over the parts that each can make. Rates
    are those of a planned hour of the line.
    """

    station: str
    each: tuple[MachineTime, ...]
    load_s: float
    lost_share: float
    needed_per_h: float | None
    planned_share: float = 1.0
    visits: float = 1.0

    @property
    def machines(self) -> int:
        return len(self.each)

    @property
    def cycle_s(self) -> float:
        return self._mean([machine.cycle_s for machine in self.each])

    @property
    def breakdown_s(self) -> float:
        return self._mean([machine.breakdown_s for machine in self.each])

    @property
    def stop_s(self) -> float:
        return self._mean([machine.stop_s for machine in self.each])

    @property
    def up_share(self) -> float:
        return self._mean([machine.up_share for machine in self.each])

    def _mean(self, values: list[float]) -> float:
        parts_per_s = [machine.parts_per_s(self.load_s) for machine in self.each]
        if len(set(self.each)) == 1 or math.inf in parts_per_s:
            return values[0]
        return sum(value * rate for value, rate in zip(values, parts_per_s, strict=True)) / sum(parts_per_s)

    @property
    def ideal_interval_s(self) -> float:
        """Between parts of the line, with cycle and load time only."""
        return self.visits * _together_s([machine.cycle_s + self.load_s for machine in self.each])

    @property
    def starts_per_h(self) -> float | None:
        """Parts that must enter an hour for the demand, None without one."""
        return None if self.needed_per_h is None else self.needed_per_h / max(1 - self.lost_share, 1e-9)

    @property
    def capacity_per_h(self) -> float:
        """Good parts of all its machines; a rejected part is a lost cycle: it takes its time and gives nothing."""
        rate_per_s = sum(machine.parts_per_s(self.load_s) for machine in self.each)
        return (1 - self.lost_share) * self.planned_share * HOUR_S * rate_per_s


@dataclass(frozen=True)
class Sheet:
    """The whole sheet.

    takt_s, needed_per_h: time for a good part and good parts an hour that demand asks for, None without one;
    stopped_as_one_per_h: output if any stop halted the whole line, None where not defined; warnings: sentences.
    """

    takt_s: float | None
    needed_per_h: float | None
    stages: tuple[Stage, ...]
    loaders: tuple[LoaderWork, ...]
    pace_stage: str
    stopped_as_one_per_h: float | None
    warnings: tuple[str, ...]


def capacity_sheet(line: Line) -> Sheet:
    """The rough-cut capacity of a line."""
    needed = needed_per_h(line)
    rows = tuple(stages(line))
    starts = {row.station: row.starts_per_h for row in rows if row.starts_per_h is not None}
    loaders = tuple(loader_works(line, starts))
    return Sheet(
        takt_s=HOUR_S / needed if needed else None,
        needed_per_h=needed,
        stages=rows,
        loaders=loaders,
        pace_stage=pace_stage(line),
        stopped_as_one_per_h=stopped_as_one_per_h(line),
        warnings=tuple(_warnings(line, rows, loaders)),
    )


def stages(line: Line) -> list[Stage]:
    """A row for each station, in route order."""
    needed, flow = needed_per_h(line), flows(line, partial(lost_share, line))
    return [
        _stage(line, name, flow[name], None if needed is None else needed * flow[name].good)
        for name in line.route
        if name in line.stations
    ]


def entering_per_h(line: Line) -> float | None:
    """Blanks that must enter an hour for the demand, None without one."""
    needed = needed_per_h(line)
    return None if needed is None else needed * entering(line, partial(lost_share, line))


def cycle_and_load_s(line: Line) -> dict[str, float]:
    """Mean cycle plus exchange or load time of each station [s]; of unequal machines that of equal ones as quick."""
    return {name: len(times_s) * _together_s(times_s) for name, times_s in _cycles_and_loads_s(line).items()}


def ideal_interval_s(line: Line) -> dict[str, float]:
    """Least time between parts of the line at each station with all its machines, without stops and loader travel [s].

    A station that only a share of the parts comes to has so much more time for each.
    """
    return {name: share_at(line, name) * _together_s(times_s) for name, times_s in _cycles_and_loads_s(line).items()}


def _cycles_and_loads_s(line: Line) -> dict[str, list[float]]:
    """Station -> a part's mean cycle plus exchange or load time of each machine [s]."""
    return {
        name: [part_cycle_s(machine) + load_s(line, name) for machine in each_machine(name, station).values()]
        for name, station in line.stations.items()
    }


def _together_s(times_s: list[float]) -> float:
    """Time between parts of machines side by side [s], from the time a part at each of them."""
    if len(set(times_s)) == 1:
        return times_s[0] / len(times_s)
    return 1 / sum(1 / time_s for time_s in times_s) if all(times_s) else 0.0


def pace_stage(line: Line) -> str:
    """The station with the largest ideal interval; the first on the route when several share it."""
    intervals = ideal_interval_s(line)
    return max((place for place in line.route if place in intervals), key=lambda place: intervals[place])


def lost_share(line: Line, name: str, part: str | None = None) -> float:
    """Share of a station's parts that are rejected for its sake: its defects as far as found, its own false alarms,
    parts that need too many strokes, that breaking tools take with them, or that come first after a stop, and
    samples that go to a drawer. A size that is measured counts as the first gauge reads it.

    Rejects that are reworked count like scrap, as a lost cycle: on the safe side for stations before the loop.
    part: of the parts of a type, which only stations on its way can inspect.
    """
    behind = places(line, part)[places(line, part).index(name) :]
    inspections = [line.stations[place].inspection for place in behind if place in line.stations]
    missed = math.prod(1 - inspection.catches for inspection in inspections if inspection)
    own = line.stations[name].inspection
    sound = 1 - sum(line.stations[name].defects.values())
    read_as_good = 1.0
    for characteristic in line.stations[name].characteristics:
        gauges = [inspection.measures.get(characteristic) for inspection in inspections if inspection]
        gauge = next((gauge for gauge in gauges if gauge), None)
        out = out_of_tolerance_share(line.stations[name], characteristic, gauge)
        good = 1 - out * (sampled_share(line.stations[name], characteristic, gauge) if gauge else 1)
        sound, read_as_good = (sound, read_as_good * good) if gauge else (sound * good, read_as_good)
    passed = read_as_good * (1 - (1 - sound) * (1 - missed))
    kept = passed * (1 - (own.false_alarms if own else 0)) * (1 - drawn_share(line, name))
    return 1 - (1 - spoilt_share(line, name)) * kept


def rework_loops(line: Line) -> dict[str, tuple[str, int]]:
    """Station that sends rejects back -> where to, and the places of that loop: its machines and buffer places.

    Places that a part within the loop can pass by, since its type skips them, do not count.
    """
    loops = {}
    for name, station in line.stations.items():
        if station.inspection and (rework := station.inspection.rework):
            inside = places_of_loop(line, rework.to, name)
            stations = [line.stations[place] for place in inside if place in line.stations]
            machines = sum(each.machines * parts_together(each) for each in stations)
            between = sum(line.buffers[place].capacity for place in inside if place in line.buffers)
            loops[name] = (rework.to, machines + between)
    return loops


def stopped_as_one_per_h(line: Line) -> float | None:
    """Output of a line whose every stop halts all of it: 1 / (cycle + all breakdown and stop time a part).

    Source: Buzacott 1967 (from memory). Stations that stop one by one make somewhat more. Not defined (None) with
    parallel machines, batches, loaders, people who load, unequal or random cycles, calendar clocks, rejects or parts
    that skip stations.
    """
    rows = stages(line)
    equal = len({row.cycle_s for row in rows}) == 1 and all(row.machines == 1 for row in rows)
    machines = [each_machine(name, station).values() for name, station in line.stations.items()]
    steady = all(is_steady(machine) for side_by_side in machines for machine in side_by_side)
    if (
        line.loaders
        or any(station.by_hand for station in line.stations.values())
        or any(parts_together(station) > 1 for station in line.stations.values())
        or not (equal and steady)
        or any(row.up_share < 1 or row.lost_share > 0 or row.planned_share != 1 or row.visits < 1 for row in rows)
    ):
        return None
    return HOUR_S / (rows[0].cycle_s + sum(row.breakdown_s + row.stop_s for row in rows))


def _stage(line: Line, name: str, flow: Flow, needed: float | None) -> Stage:
    station = line.stations[name]
    each = tuple(machine_time(line, name, machine) for machine in each_machine(name, station).values())
    duty, visits = planned_share(line, station), share_at(line, name)
    return Stage(name, each, load_s(line, name), flow.lost_share, needed, duty, visits)


def _warnings(line: Line, rows: tuple[Stage, ...], loaders: tuple[LoaderWork, ...]) -> list[str]:
    warnings = []
    for row in rows:
        if row.needed_per_h is not None and row.capacity_per_h < row.needed_per_h:
            makes = f"{row.station} alone makes {row.capacity_per_h:.1f} good parts/h at best"
            warnings.append(f"{makes}; {row.needed_per_h:.1f} are needed")
    pace_per_h = HOUR_S / max(ideal_interval_s(line).values()) if any(ideal_interval_s(line).values()) else math.inf
    for name, buffer in line.buffers.items():
        if buffer.dwell and buffer.capacity * HOUR_S / buffer.dwell < pace_per_h * share_at(line, name):
            warnings.append(
                f"{name} lets {buffer.capacity * HOUR_S / buffer.dwell:.1f} parts/h through ({buffer.capacity} places, "
                f"{buffer.dwell:g} s dwell); the pace stage could make {pace_per_h * share_at(line, name):.1f}"
            )
    for work in loaders:
        if work.share is not None and work.share > HIGH_LOADER_SHARE:
            limit = "it can't carry the demand" if work.share > 1 else "lines with failures carry 75-80 % at most"
            if work.loader in hands(line):
                limit = "too few people" if work.share > 1 else "they have other calls too, and parts come irregularly"
            warnings.append(f"{work.loader} needs {100 * work.share:.0f} % of its time for the demand; {limit}")
    starts = entering_per_h(line)
    for ceiling in ceilings(line):
        needed = needed_per_h(line) if ceiling.what in line.outfeed else starts
        if needed is not None and ceiling.per_h < needed:
            warnings.append(f"{ceiling.what} lets {ceiling.per_h:.1f} parts/h through at best; {needed:.1f} must pass")
    warnings += [_small_loop(name, *loop) for name, loop in rework_loops(line).items() if loop[1] <= FEW_IN_LOOP]
    for loader, names, before, behind in left_out(line):
        missing = f"{listed(names)} {'is no stop' if len(names) == 1 else 'are no stops'} of {loader}"
        warnings.append(
            f"parts go from {before} to {behind} by direct hand-over, since {missing}: "
            f"if {loader} carries them, add the stop"
        )
    return [*warnings, *hardly_meant(line)]


def _small_loop(name: str, to: str, count: int) -> str:
    return (
        f"the rework loop from {to} to {name} has {count} places, machines included; one of them must stay free, so "
        f"at most {count - 1} part{'s' * (count != 2)} can be inside: put more buffer places between {to} and {name}"
    )
