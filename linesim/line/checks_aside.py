"""What must hold for chutes and drawers: names of their own, and one loader that brings parts there."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.aside import ways_aside
from linesim.line.carriers import carriers, path_of
from linesim.line.checks import NAMED, Finding
from linesim.line.machines import stop_names
from linesim.line.model import Line, Samples, Station
from linesim.line.problems import KeyPath, listed, nearest
from linesim.line.reading_machines import NAME
from linesim.line.units import Dressings, with_unit
from linesim.line.ways import all_ways


def check_aside(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    for name, station in line.stations.items():
        path: KeyPath = ("stations", name)
        if station.chute is not None:
            taken = list(_name_is_free(line, (*path, "chute"), station.chute))
            yield from taken or _one_loader_brings(line, (*path, "chute"), name, station.chute, "scrap")
        if station.samples and station.samples.to in line.drawers:
            yield from _one_loader_brings(line, (*path, "samples", "to"), name, station.samples.to, "samples")
        if station.samples:
            yield from _samples_say_which((*path, "samples"), name, station, station.samples)
    for drawer in line.drawers:
        yield from _one_loader_stands_still(line, drawer)


def _samples_say_which(path: KeyPath, name: str, station: Station, samples: Samples) -> Iterator[Finding]:
    if isinstance(samples.every, Dressings):
        given = with_unit("dressings", samples.every)
        yield Finding((*path, "every"), given, "must be a number of parts or a time", "write 50 parts, or 2 h")
    if samples.every is None and not samples.after and samples.after_pause is None:
        yield Finding(path, None, "says not which parts are samples", "write every, after or after_pause")
    stops = stop_names(name, station)
    for at, stop in enumerate(samples.after):
        if stop not in stops:
            fix = f"its stops are {listed(stops)}" if stops else "it has none"
            yield Finding((*path, "after", at), stop, "is no stop of this station", fix, nearest(stop, stops))


def _name_is_free(line: Line, path: KeyPath, name: str) -> Iterator[Finding]:
    if not NAME.fullmatch(name):
        yield Finding(path, name, "names hold letters, digits and _ only, a letter first", "rename it")
    taken = {thing: kind for kind in NAMED for thing in getattr(line, kind)}
    taken |= {machine: f"stations.{at}.machines" for at, it in line.stations.items() for machine in it.unequal}
    if name in taken:
        rule = f"the name {name} is taken: {taken[name]}.{name}"
        yield Finding(path, name, rule, "a chute has a name of its own, and stands among the stops of a loader")


def _one_loader_brings(line: Line, path: KeyPath, name: str, place: str, what: str) -> Iterator[Finding]:
    """One loader only, and if it is called ahead or makes a fixed round, the one that takes parts away from there."""
    serving = [carrier for at, aside, carrier in ways_aside(line) if (at, aside) == (name, place)]
    if len(serving) != 1:
        rule = f"no loader has both {name} and {place} among its stops"
        if serving:
            rule = f"could be reached by {listed(serving, 'or')}"
        yield Finding(path, place, rule, f"let one loader only have {name} and {place} among its stops")
        return
    onward = {way.loader for way in all_ways(line) if way.start == name and way.loader}
    others = sorted(onward - {serving[0]})
    if line.stations[name].call_ahead and others:
        rule = f"{name} calls {others[0]} ahead, but {serving[0]} brings its {what} away"
        yield Finding(path, place, rule, f"give {place} to {others[0]}, or remove call_ahead")
    if serving[0] not in onward and carriers(line)[serving[0]].next_call.rule == "fixed":
        rule = f"{serving[0]} makes a fixed round, and does not take parts away from {name}"
        yield Finding(path, place, rule, f"choose another next_call, or another loader for {place}")


def _one_loader_stands_still(line: Line, drawer: str) -> Iterator[Finding]:
    """A drawer gets samples, and one carriage only, which stands still while it is emptied, has it among its stops."""
    if not any(station.samples and station.samples.to == drawer for station in line.stations.values()):
        yield Finding(("drawers", drawer), None, "no station puts samples into it", f"write samples: {{to: {drawer}}}")
    serving = [carrier for carrier, loader in carriers(line).items() if drawer in loader.stops]
    if len(serving) > 1:
        rule = f"{listed(serving)} have {drawer} among their stops: which one stands still while it is emptied?"
        yield Finding((*path_of(serving[1]), "stops", drawer), None, rule, "give each a drawer of its own")
