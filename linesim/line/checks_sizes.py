"""What must hold for sizes: limits in order, names of their own, and stops that renew a tool and are there."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.checks import Finding
from linesim.line.machines import each_machine
from linesim.line.model import STOP_KINDS, Line, Station
from linesim.line.problems import KeyPath, listed, nearest
from linesim.line.units import with_unit


def check_sizes(line: Line) -> Iterator[Finding]:
    """Everything about characteristics."""
    made_at: dict[str, str] = {}
    for station_name, station in line.stations.items():
        for name in station.characteristics:
            path: KeyPath = ("stations", station_name, "characteristics", name)
            yield from _limits_in_order(path, station, name)
            yield from _tools_are_renewed_by_stops(path, station, name)
            if name in station.defects:
                rule = f"the name {name} is taken by a defect of this station"
                yield Finding(path, None, rule, "a size out of tolerance is a defect by itself: rename one of them")
            if name in made_at:
                rule = f"{made_at[name]} gives parts a {name} already"
                yield Finding(path, None, rule, "give each characteristic of the line its own name")
            made_at.setdefault(name, station_name)


def _limits_in_order(path: KeyPath, station: Station, name: str) -> Iterator[Finding]:
    tolerance = station.characteristics[name].tolerance
    if tolerance.low >= tolerance.high:
        low, high = (with_unit("size", limit) for limit in (tolerance.low, tolerance.high))
        at = (*path, "tolerance")
        yield Finding(
            at, f"{low} to {high}", "low must be below high", "exchange them, or write the total", None, (at,)
        )


def _tools_are_renewed_by_stops(path: KeyPath, station: Station, name: str) -> Iterator[Finding]:
    machines = each_machine(str(path[1]), station).values()
    stops = list(dict.fromkeys(stop for machine in machines for kind in STOP_KINDS for stop in getattr(machine, kind)))
    for stop in station.characteristics[name].after:
        if stop not in stops:
            fix = (
                f"its stops are {listed(stops)}" if stops else "it has no tool change, dressing, measuring or cleaning"
            )
            yield Finding((*path, "after", stop), None, "is no stop of this station", fix, nearest(stop, stops))
