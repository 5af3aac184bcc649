"""What must hold for chutes: names of their own, and one loader that brings scrap there."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.aside import ways_aside
from linesim.line.carriers import carriers
from linesim.line.checks import NAMED, Finding
from linesim.line.model import Line
from linesim.line.problems import KeyPath, listed
from linesim.line.reading_machines import NAME
from linesim.line.ways import all_ways


def check_aside(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    for name, station in line.stations.items():
        if station.chute is not None:
            path: KeyPath = ("stations", name, "chute")
            taken = list(_name_is_free(line, path, station.chute))
            yield from taken or _one_loader_brings(line, path, name, station.chute)


def _name_is_free(line: Line, path: KeyPath, name: str) -> Iterator[Finding]:
    if not NAME.fullmatch(name):
        yield Finding(path, name, "names hold letters, digits and _ only, a letter first", "rename it")
    taken = {thing: kind for kind in NAMED for thing in getattr(line, kind)}
    taken |= {machine: f"stations.{at}.machines" for at, it in line.stations.items() for machine in it.unequal}
    if name in taken:
        rule = f"the name {name} is taken: {taken[name]}.{name}"
        yield Finding(path, name, rule, "a chute has a name of its own, and stands among the stops of a loader")


def _one_loader_brings(line: Line, path: KeyPath, name: str, chute: str) -> Iterator[Finding]:
    """One loader only, and if it is called ahead or makes a fixed round, the one that takes parts away from there."""
    station = line.stations[name]
    serving = [carrier for at, place, carrier in ways_aside(line) if (at, place) == (name, chute)]
    if len(serving) != 1:
        rule = f"no loader has both {name} and {chute} among its stops"
        if serving:
            rule = f"could be reached by {listed(serving, 'or')}"
        yield Finding(path, chute, rule, f"let one loader only have {name} and {chute} among its stops")
        return
    onward = {way.loader for way in all_ways(line) if way.start == name and way.loader}
    others = sorted(onward - {serving[0]})
    if station.call_ahead and others:
        rule = f"{name} calls {others[0]} ahead, but {serving[0]} brings its scrap away"
        yield Finding(path, chute, rule, f"give {chute} to {others[0]}, or remove call_ahead")
    if serving[0] not in onward and carriers(line)[serving[0]].next_call.rule == "fixed":
        rule = f"{serving[0]} makes a fixed round, and does not take parts away from {name}"
        yield Finding(path, chute, rule, "choose another next_call, or another loader for the chute")
