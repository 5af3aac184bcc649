"""What must hold for sizes: limits in order, names of their own, stops that renew a tool, and gauges behind them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from linesim.line.checks import Finding
from linesim.line.machines import stop_names
from linesim.line.model import Characteristic, Line, Station
from linesim.line.problems import KeyPath, listed, nearest
from linesim.line.units import Dressings, with_unit


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
    for station_name, station in line.stations.items():
        yield from _gauges_come_after(line, station_name, station, made_at)


def _limits_in_order(path: KeyPath, station: Station, name: str) -> Iterator[Finding]:
    tolerance = station.characteristics[name].tolerance
    if tolerance.low >= tolerance.high:
        low, high = (with_unit("size", limit) for limit in (tolerance.low, tolerance.high))
        at = (*path, "tolerance")
        yield Finding(
            at, f"{low} to {high}", "low must be below high", "exchange them, or write the total", None, (at,)
        )


def _gauges_come_after(
    line: Line, station_name: str, station: Station, made_at: Mapping[str, str]
) -> Iterator[Finding]:
    """A station measures sizes that parts have got there, or before it on the route."""
    for name in station.inspection.measures if station.inspection else ():
        path: KeyPath = ("stations", station_name, "inspection", "measures", name)
        if name not in made_at:
            near = nearest(name, made_at)
            fix = "" if near else f"known: {listed(made_at)}" if made_at else "no station has characteristics"
            yield Finding(path, None, "is no characteristic of this line", fix, near)
        elif {station_name, made_at[name]} <= set(line.route) and (
            line.route.index(made_at[name]) > line.route.index(station_name)
        ):
            rule = f"{made_at[name]} gives parts their {name}, and comes after {station_name} on the route"
            yield Finding(path, None, rule, "measure it there or behind it")
        else:
            yield from _sample_says_which(path, station, name, line.stations[made_at[name]].characteristics[name])


def _sample_says_which(path: KeyPath, station: Station, name: str, size: Characteristic) -> Iterator[Finding]:
    sample = station.inspection.measures[name].sample if station.inspection else None
    if sample and sample.every is None and not sample.first_and_last and sample.after_pause is None:
        at = (*path, "sample")
        rule = "says not which parts are measured"
        yield Finding(at, None, rule, "write every, first_and_last or after_pause", None, (at,))
    if sample and isinstance(sample.every, Dressings):
        at = (*path, "sample", "every")
        yield Finding(at, with_unit("dressings", sample.every), "must be a number of parts or a time", "", None, (at,))
    if sample and sample.first_and_last and not size.after:
        at = (*path, "sample", "first_and_last")
        yield Finding(at, True, f"no stop renews the tool of {name}", f"name it in `after` of {name}", None, ())


def _tools_are_renewed_by_stops(path: KeyPath, station: Station, name: str) -> Iterator[Finding]:
    stops = stop_names(str(path[1]), station)
    for stop in station.characteristics[name].after:
        if stop not in stops:
            fix = (
                f"its stops are {listed(stops)}" if stops else "it has no tool change, dressing, measuring or cleaning"
            )
            yield Finding((*path, "after", stop), None, "is no stop of this station", fix, nearest(stop, stops))
