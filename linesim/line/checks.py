"""What must hold between the parts of a line: names, the route, stations with their stops, rework, assumptions.

Each check yields findings: the path of the key, its value, the rule it breaks and a fix. Loaders: checks_loaders.py.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from typing import Any, NamedTuple

from linesim.line.carriers import carriers, path_of
from linesim.line.machines import each_machine
from linesim.line.model import STOP_KINDS, Line, Loader, Station, Stop, Zone
from linesim.line.part_types import ByPart
from linesim.line.power import CARRIAGE_WORDS, MACHINE_WORDS, words_for
from linesim.line.problems import KeyPath, listed, nearest
from linesim.line.sources import Origins
from linesim.line.units import KINDS, kind_of_interval, with_unit
from linesim.line.ways import apart, comes_to, places, way

NAMED = ("infeed", "outfeed", "stations", "buffers", "loaders", "drawers", "crews")
PLACES = ("infeed", "stations", "buffers", "outfeed")


class Finding(NamedTuple):
    """Something wrong; `beside` are other keys whose own problems may have caused it."""

    path: KeyPath
    value: Any
    rule: str
    fix: str = ""
    suggestion: str | None = None
    beside: tuple[KeyPath, ...] = ()


def check(line: Line, content: Mapping[str, Any], origins: Origins) -> Iterator[Finding]:
    """Everything of this file; content: the plain map the line was read from, origins: where its keys were written."""
    yield from names_are_not_shared(line)
    yield from route_names_every_place_once(line, _nulled_buffers(line, origins))
    yield from route_runs_from_infeed_to_outfeed(line)
    for name, station in line.stations.items():
        yield from stops_make_sense(("stations", name), station)
        yield from stops_of_machines_make_sense(name, station)
        yield from defects_stay_below_all(("stations", name), station)
        yield from rework_goes_back(line, name, station)
    for name, loader in carriers(line).items():
        for zone, opening in loader.zone.items():
            yield from _stop(opening, (*path_of(name), "zone", zone))
    yield from dwell_has_places(line)
    yield from time_passes(line)
    yield from power_names_states(line)
    yield from assumptions_exist(line, content)


def names_are_not_shared(line: Line) -> Iterator[Finding]:
    owners: dict[str, str] = {}
    for kind in NAMED:
        for name in getattr(line, kind):
            if name in owners:
                rule = f"the name {name} is taken: {owners[name]}.{name}"
                yield Finding((kind, name), None, rule, "give every place, loader and crew its own name")
            owners.setdefault(name, kind)
    for station, of_line in line.stations.items():
        for name in of_line.unequal:
            if name in owners:
                rule = f"the name {name} is taken: {owners[name]}.{name}"
                yield Finding(("stations", station, "machines", name), None, rule, "give every machine its own name")
            owners.setdefault(name, f"stations.{station}.machines")


def route_names_every_place_once(line: Line, nulled: Collection[str]) -> Iterator[Finding]:
    known = [name for kind in PLACES for name in getattr(line, kind)]
    left_out = [name for name in known if name not in line.route]
    meant = {nearest(name, left_out) for name in line.route if name not in [*known, *nulled]}
    for at, name in enumerate(line.route):
        if name in nulled:
            fix = f"set buffers.{name}.capacity=0 instead (direct hand-over), or take it off the route too"
            yield Finding(("route", at), name, "is a buffer that was taken away but is still on the route", fix)
        elif name not in known:
            fix = f"places of this line are {listed(known)}" if known else ""
            near = nearest(name, left_out) or nearest(name, known)
            yield Finding(("route", at), name, "is no place of this line", "" if near in meant else fix, near)
    for name, count in Counter(line.route).items():
        if count > 1:
            at = len(line.route) - 1 - line.route[::-1].index(name)
            yield Finding(("route", at), name, f"stands {count} times on the route", "name each place once")
    for kind in PLACES:
        for name in getattr(line, kind):
            if name not in line.route and name not in meant:  # one that is meant is told at its misspelt name
                yield Finding((kind, name), None, "is not on the route", "put it on the route, or remove it")
    if not line.stations:
        yield Finding(("stations",), None, "has no station", "a line needs at least one", None, (("route",),))


def _nulled_buffers(line: Line, origins: Origins) -> set[str]:
    """Buffers that stand in a file or override but not in the line: null took them away."""
    written = {str(path[1]) for path in origins if len(path) == 2 and path[0] == "buffers"}
    return written - line.buffers.keys()


def route_runs_from_infeed_to_outfeed(line: Line) -> Iterator[Finding]:
    for kind, end, word in (("infeed", 0, "begin"), ("outfeed", -1, "end")):
        names = list(getattr(line, kind))
        if len(names) > 1:
            yield Finding((kind,), names, f"a route has one {kind} at most", "remove the others")
        elif names and names[0] in line.route and line.route[end] != names[0]:
            rule = f"must {word} with the {kind} {names[0]}"
            yield Finding(("route",), list(line.route), rule, f"move it to the {'start' if end == 0 else 'end'}")


def stops_make_sense(path: KeyPath, station: Station) -> Iterator[Finding]:
    for kind in STOP_KINDS:
        for name, stop in getattr(station, kind).items():
            yield from _stop(stop, (*path, kind, name))


def stops_of_machines_make_sense(name: str, station: Station) -> Iterator[Finding]:
    """As far as a machine's stops are not those of its station."""
    for machine, own in station.unequal.items():
        for kind in STOP_KINDS:
            for cause, stop in getattr(own, kind).items():
                if stop != getattr(station, kind).get(cause):
                    yield from _stop(stop, ("stations", name, "machines", machine, kind, cause))


def _stop(stop: Stop | Zone, path: KeyPath) -> Iterator[Finding]:
    if stop.every is None:
        if isinstance(stop, Stop) and stop.life is None:
            yield Finding((*path, "every"), None, "is missing", "a stop needs it")
        return
    counts, every = isinstance(stop.every, int), ((*path, "every"),)
    if stop.age is not None and kind_of_interval(stop.age) != kind_of_interval(stop.every):
        unit = {"parts": "parts", "dressings": "dressings"}.get(kind_of_interval(stop.every), "min")
        kind, zero = KINDS[kind_of_interval(stop.every)].name, f"0 {unit}"
        yield Finding(
            (*path, "age"), _with_unit(stop.age), f"must be {kind}, as every is", f"write {zero}", None, every
        )
    elif stop.age is not None and stop.age >= stop.every:
        rule = f"must be below every ({_with_unit(stop.every)})"
        yield Finding((*path, "age"), _with_unit(stop.age), rule, "leave it out to have it drawn", None, every)
    if counts and stop.clock != "calendar":
        rule = "has a meaning only where every is a time"
        yield Finding((*path, "clock"), stop.clock, rule, "remove it, or write every in min or h", None, every)


def defects_stay_below_all(path: KeyPath, station: Station) -> Iterator[Finding]:
    total = sum(station.defects.values())
    if total > 1:
        path, rule = (*path, "defects"), "must not add up to more than 100 %"
        yield Finding(path, with_unit("share", total), rule, "lower them", None, (path,))


def rework_goes_back(line: Line, name: str, station: Station) -> Iterator[Finding]:
    rework = station.inspection.rework if station.inspection else None
    if rework is None or rework.to not in line.route or name not in line.route:
        return
    path = ("stations", name, "inspection", "rework", "to")
    before = line.route[: line.route.index(name)]
    earlier = [place for place in before if place in places(line) and place not in line.infeed]
    if rework.to not in earlier:
        fix = f"choose from {listed(earlier)}" if earlier else "there is no such place; let rejects be scrapped"
        rule = f"must be a station or buffer before {name} on the route, with room for a part"
        yield Finding(path, rework.to, rule, fix)
        return
    back = way(line, name, rework.to)
    if len(back.loaders) > 1:
        yield Finding(path, rework.to, f"could go by {listed(back.loaders, 'or')}", "let one loader only serve both")
    loop = line.route[line.route.index(rework.to) : line.route.index(name) + 1]
    if not back.loaders and _takes_no_time(line, loop):
        rule = "parts could go round in no time at all"
        yield Finding(path, rework.to, rule, "give one station of this loop a cycle")


def dwell_has_places(line: Line) -> Iterator[Finding]:
    for name, buffer in line.buffers.items():
        if buffer.dwell > 0 and buffer.capacity == 0:
            rule = "parts can't stay in a buffer of capacity 0"
            dwell, capacity = ("buffers", name, "dwell"), ("buffers", name, "capacity")
            given = with_unit("duration", buffer.dwell)
            yield Finding(dwell, given, rule, "give it places, or no dwell", None, (capacity,))


def time_passes(line: Line) -> Iterator[Finding]:
    if line.stations and all(no_time(line, name) for name in line.stations):
        rule = "every cycle is 0 s, so parts could pass in no time at all"
        yield Finding(("stations",), None, rule, "give at least one station a cycle")


def _takes_no_time(line: Line, loop: tuple[str, ...]) -> bool:
    goes_round = [part for part in apart(line) if comes_to(line, part, loop[-1])]
    return any(_takes_a_part_no_time(line, loop, part) for part in goes_round)


def _takes_a_part_no_time(line: Line, loop: tuple[str, ...], part: str | None) -> bool:
    inside = [place for place in loop if place in places(line, part)]
    cycles = all(no_time(line, place, part) for place in inside if place in line.stations)
    dwells = any(line.buffers[place].dwell > 0 for place in inside if place in line.buffers)
    carried = any(way(line, start, end).loaders for start, end in itertools.pairwise(inside))
    return cycles and not dwells and not carried


def no_time(line: Line, name: str, part: str | None = None) -> bool:
    """Whether some machine of a station works on a part, or on parts of one type, in no time."""
    cycles = [machine.cycle for machine in each_machine(name, line.stations[name]).values()]
    known = [cycle.laws if isinstance(cycle, ByPart) else {part or "": cycle} for cycle in cycles]
    return any(law.mean == 0 for laws in known for name, law in laws.items() if part in (None, name))


def power_names_states(line: Line) -> Iterator[Finding]:
    owners: list[tuple[KeyPath, Station | Loader, list[str]]] = [
        (("stations", name), station, words_for(MACHINE_WORDS)) for name, station in line.stations.items()
    ]
    owners += [(("loaders", name), loader, words_for(CARRIAGE_WORDS)) for name, loader in line.loaders.items()]
    for path, owner, known in owners:
        for word in owner.power:
            if word not in known:
                rule, fix = "is no state, nor a group of states", f"known: {listed(known)}"
                yield Finding((*path, "power", word), None, rule, fix, nearest(word, known))


def assumptions_exist(line: Line, content: Mapping[str, Any]) -> Iterator[Finding]:
    for key, assumption in line.assumptions.items():
        path = ("assumptions", key)
        here: Any = content
        for step in key.split("."):
            known = list(here) if isinstance(here, Mapping) else []
            if step not in known:
                fix = f"there it has {listed(known)}" if known else "name a key of this file"
                yield Finding(path, None, f"{step} is no key of this line", fix, nearest(step, known))
                break
            here = here[step]
        if len(assumption.range) not in (0, 2):
            yield Finding((*path, "range"), list(assumption.range), "must be two values", "write [lowest, highest]")


def _with_unit(value: int | float) -> str:
    return with_unit(kind_of_interval(value), value)
