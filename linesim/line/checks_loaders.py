"""What must hold for loaders: every stop is served, every way has one loader at most, handling times are there."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from linesim.line.aside import places_aside, ways_aside
from linesim.line.carriers import carriers, path_of, whole_um
from linesim.line.checks import Finding
from linesim.line.model import Line, Loader
from linesim.line.problems import listed
from linesim.line.units import with_unit
from linesim.line.ways import all_ways, visited, ways


def check_loaders(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    yield from one_loader_joins_neighbours(line)
    for name, loader in line.loaders.items():
        yield from positions_fit_machines(line, name, loader)
        yield from carriages_share_a_rail(line, name, loader)
    for name, loader in carriers(line).items():
        yield from stops_are_served(line, name, loader)
        yield from machines_can_be_served(line, name, loader)
        yield from grippers_fit_exchanges(name, loader)
        yield from fixed_round_has_no_rework(line, name, loader)
        yield from loader_resumes(name, loader)
    for name in line.stations:
        yield from calls_ahead_are_heard(line, name)


def one_loader_joins_neighbours(line: Line) -> Iterator[Finding]:
    for way in all_ways(line):
        if len(way.loaders) > 1 and way.loaders[0] in carriers(line):
            rule = f"{way.start} and {way.end} are neighbours, and {listed(way.loaders)} serve both: which one carries?"
            if way not in ways(line):
                rule = (
                    f"parts that skip what is between {way.start} and {way.end} could go by {listed(way.loaders, 'or')}"
                )
            yield Finding((*path_of(way.loaders[1]), "stops", way.end), None, rule, "let one loader only serve both")


def stops_are_served(line: Line, name: str, loader: Loader) -> Iterator[Finding]:
    joined = {place for way in all_ways(line) if name in way.loaders for place in (way.start, way.end)}
    joined |= {place for station, place, carrier in ways_aside(line) if carrier == name for place in (station, place)}
    for place in loader.stops:
        if place in {*visited(line), *places_aside(line)} and place not in joined:
            rule = f"{name} never serves {place}: no neighbour of it on the route is a stop of {name}"
            fix = "add the neighbour's stop, or remove this one"
            if place not in line.route:
                rule = f"{name} never serves {place}: no station that sends parts there is a stop of {name}"
                fix = "add the station's stop, or remove this one"
            yield Finding((*path_of(name), "stops", place), None, rule, fix)


def positions_fit_machines(line: Line, name: str, loader: Loader) -> Iterator[Finding]:
    for place, stop in loader.stops.items():
        machines = line.stations[place].machines if place in line.stations else 1
        if place in (*line.route, *places_aside(line)) and len(stop.at) != machines:
            given = [f"{at:g} m" for at in stop.at]
            fix = f"give {machines} position{'s' * (machines > 1)}" + (
                ", or change machines" * (place in line.stations)
            )
            rule = (
                f"has {len(stop.at)} position{'s' * (len(stop.at) != 1)} for {machines} machine{'s' * (machines > 1)}"
            )
            if place not in line.stations:
                rule = f"has {len(stop.at)} positions, but only a station has several"
            path = ("loaders", name, "stops", place)
            yield Finding(path, given, rule, fix, None, (path, ("stations", place, "machines")))


def machines_can_be_served(line: Line, name: str, loader: Loader) -> Iterator[Finding]:
    """A stop at machines needs an exchange time; with one gripper, load and unload will do."""
    lacking = []
    for place, stop in loader.stops.items():
        exchange = stop.exchange if stop.exchange is not None else loader.exchange
        both = all(
            one is not None or other is not None
            for one, other in ((stop.load, loader.load), (stop.unload, loader.unload))
        )
        if place in line.stations and exchange is None and not (loader.grippers == 1 and both):
            lacking.append(place)
    if lacking:
        other = " (or load and unload)" if loader.grippers == 1 else ""
        rule = f"is missing{other}: {name} serves the machines of {listed(lacking)}"
        yield Finding((*path_of(name), "exchange"), None, rule, "write exchange: 7 s, the time to swap two parts")


def grippers_fit_exchanges(name: str, loader: Loader) -> Iterator[Finding]:
    if loader.grippers == 1 and loader.exchanges_per_tour > 1:
        path = (*path_of(name), "exchanges_per_tour")
        rule = "one gripper can't exchange on its tour"
        yield Finding(
            path,
            loader.exchanges_per_tour,
            rule,
            "write grippers: 2, or remove it",
            None,
            ((*path_of(name), "grippers"),),
        )


def fixed_round_has_no_rework(line: Line, name: str, loader: Loader) -> Iterator[Finding]:
    reworking = [place for place, it in line.stations.items() if it.inspection and it.inspection.rework]
    if loader.next_call.rule == "fixed" and reworking:
        path = (*path_of(name), "next_call")
        rule = f"a fixed round can't serve rejects that {listed(reworking)} sends back"
        yield Finding(path, None, rule, "choose another rule, or let rejects be scrapped")


def loader_resumes(name: str, loader: Loader) -> Iterator[Finding]:
    for cause, breakdown in loader.breakdowns.items():
        if breakdown.part != "resume":
            path = (*path_of(name), "breakdowns", cause, "part")
            rule = "a loader always goes on where it stopped, with the part it carries"
            yield Finding(path, breakdown.part, rule, "remove it; only machines restart or scrap a part")


def calls_ahead_are_heard(line: Line, name: str) -> Iterator[Finding]:
    """Who calls ahead must be unloaded by a loader that heeds calls, and must know where the part will go."""
    station = line.stations[name]
    if not station.call_ahead or name not in visited(line):
        return
    path = ("stations", name, "call_ahead")
    given = with_unit("duration", station.call_ahead)
    carrier = next((way.loader for way in all_ways(line) if way.start == name and way.loader), None)
    if carrier is None:
        yield Finding(path, given, f"no loader takes parts away from {name}", "remove it, or add a loader's stops")
    elif carrier in carriers(line) and carriers(line)[carrier].next_call.rule == "fixed":
        rule = f"{carrier} makes a fixed round: it travels ahead and waits in any case"
        yield Finding(path, given, rule, "remove it, or choose another next_call")
    if station.inspection and station.inspection.rework:
        rule = f"{name} sends rejects back, so nobody knows ahead where its part will go"
        yield Finding(path, given, rule, "remove it, or let rejects be scrapped")


def carriages_share_a_rail(line: Line, name: str, loader: Loader) -> Iterator[Finding]:
    """Carriages of one loader need a least distance, and begin in their order on the rail, at least so far apart."""
    path, apart = ("loaders", name), loader.apart
    if not loader.carriages:
        if apart is not None:
            rule = "has a meaning only between carriages"
            yield Finding((*path, "apart"), with_unit("length", apart), rule, "remove it, or give carriages")
        return
    if apart is None:
        rule = "is missing: the least distance between two carriages"
        yield Finding((*path, "apart"), None, rule, "write apart: 1.2 m")
    for zone in loader.zone:
        rule = "which carriage stands still while it is open?"
        yield Finding((*path, "zone", zone), None, rule, "write it under each carriage that does")
    reached = {place for carriage in loader.carriages.values() for place in carriage.stops}
    for place in loader.stops:
        if place in line.route and place not in reached:
            rule = f"no carriage of {name} has {place} among its stops"
            yield Finding((*path, "stops", place), None, rule, "give it to a carriage, or remove this stop")
    starts = [(own, next(iter(it.stops.values())).at) for own, it in loader.carriages.items() if it.stops]
    for (one, here), (other, there) in itertools.pairwise(starts):
        if here and there and whole_um(there[0]) - whole_um(here[0]) < whole_um(apart or 0.0):
            rule = (
                f"begins at {there[0]:g} m, {one} at {here[0]:g} m: carriages stand in file order along the rail, "
                f"{other} at least {apart or 0.0:g} m further than {one}"
            )
            fix = "name another stop first, or change the order of the carriages"
            yield Finding((*path, "carriages", other, "stops"), None, rule, fix)
