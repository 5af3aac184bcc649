"""What a planner can improve on a line: each lever makes a line in which one thing is better, all else equal."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeVar

from linesim.line.distributions import scaled
from linesim.line.model import Crew, Line, Loader, LoaderStop
from linesim.line.model_stations import Breakdown, Station

T = TypeVar("T", Loader, LoaderStop)
HANDLING = ("pick", "place", "load", "unload", "exchange")
PERCENT, PERSON = "1 %", "1 person"


@dataclass(frozen=True)
class Lever:
    """One thing to improve: its name, what it is told by, the unit in which its worth is told, and what it does.

    improved: the line with it better by a share such as 0.1; a person more whatever the share.
    """

    name: str
    words: str
    unit: str
    improved: Callable[[float], Line]


def levers(line: Line) -> Iterator[Lever]:
    """Every lever of a line, in file order: cycles, repairs and loading by hand of stations; speed, handling and
    repairs of loaders; people of crews."""
    for name, station in line.stations.items():
        yield Lever(f"{name}.cycle", f"{name}: shorter cycle", PERCENT, partial(_station, line, name, _cycle))
        if any(each.breakdowns for each in (station, *station.unequal.values())):
            yield Lever(f"{name}.mttr", f"{name}: shorter repairs", PERCENT, partial(_station, line, name, _mttr))
        if station.by_hand:
            words = f"{name}: quicker loading by hand"
            yield Lever(f"{name}.by_hand", words, PERCENT, partial(_station, line, name, _by_hand))
    for name, loader in line.loaders.items():
        yield Lever(f"{name}.speed", f"{name}: higher speed", PERCENT, partial(_loader, line, name, _speed))
        yield Lever(f"{name}.handling", f"{name}: shorter handling", PERCENT, partial(_loader, line, name, _handling))
        if loader.breakdowns:
            yield Lever(f"{name}.mttr", f"{name}: shorter repairs", PERCENT, partial(_loader, line, name, _loader_mttr))
    for name in line.crews:
        yield Lever(f"{name}.people", f"{name}: one more person", PERSON, partial(_one_more, line, name))


def _station(line: Line, name: str, better: Callable[[Station, float], Station], share: float) -> Line:
    station = line.stations[name]
    machines = {machine: better(each, share) for machine, each in station.unequal.items()}
    changed = replace(better(station, share), unequal=machines)
    return replace(line, stations={**line.stations, name: changed})


def _cycle(station: Station, share: float) -> Station:
    """Its strokes, if it has any, are not part of the lever. `planned_cycle` is what it is: a plan."""
    feed = station.through_feed
    if feed:
        feed = replace(feed, pitch=feed.pitch * (1 - share), transit=feed.transit * (1 - share))
    return replace(station, cycle=scaled(station.cycle, 1 - share), through_feed=feed)


def _mttr(station: Station, share: float) -> Station:
    return replace(station, breakdowns=_shorter_repairs(station.breakdowns, share))


def _by_hand(station: Station, share: float) -> Station:
    by_hand = station.by_hand
    if by_hand is None:
        return station
    quicker = replace(
        by_hand,
        exchange=scaled(by_hand.exchange, 1 - share),
        load=scaled(by_hand.loads, 1 - share),
        unload=scaled(by_hand.unloads, 1 - share),
    )
    return replace(station, by_hand=quicker)


def _shorter_repairs(breakdowns: Mapping[str, Breakdown], share: float) -> dict[str, Breakdown]:
    return {name: replace(each, mttr=scaled(each.mttr, 1 - share)) for name, each in breakdowns.items()}


def _loader(line: Line, name: str, better: Callable[[Loader, float], Loader], share: float) -> Line:
    return replace(line, loaders={**line.loaders, name: better(line.loaders[name], share)})


def _speed(loader: Loader, share: float) -> Loader:
    return replace(loader, speed=loader.speed * (1 + share))


def _handling(loader: Loader, share: float) -> Loader:
    stops = {place: _quicker(stop, share) for place, stop in loader.stops.items()}
    return replace(_quicker(loader, share), stops=stops)


def _quicker(thing: T, share: float) -> T:
    times = {key: getattr(thing, key) for key in HANDLING}
    return replace(thing, **{key: time_s * (1 - share) for key, time_s in times.items() if time_s is not None})


def _loader_mttr(loader: Loader, share: float) -> Loader:
    return replace(loader, breakdowns=_shorter_repairs(loader.breakdowns, share))


def _one_more(line: Line, name: str, share: float) -> Line:
    crew = line.crews[name]
    people = crew.people + 1 if isinstance(crew.people, int) else {s: n + 1 for s, n in crew.people.items()}
    changed: Crew = replace(crew, people=people)
    return replace(line, crews={**line.crews, name: changed})
