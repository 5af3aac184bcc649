"""Places aside of the route: chutes that loaders bring scrap to, and drawers for samples."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from linesim.line.carriers import carriers
from linesim.line.model import Line


def chutes(line: Line) -> list[str]:
    """Name of each chute once, in the order in which the stations of the route name them."""
    named = (line.stations[name].chute for name in line.route if name in line.stations)
    return list(dict.fromkeys(chute for chute in named if chute))


def chutes_named(content: Mapping[str, Any]) -> list[str]:
    """Names of chutes, as the stations of a plain map give them."""
    stations = content.get("stations")
    given = stations.values() if isinstance(stations, Mapping) else ()
    named = (station.get("chute") for station in given if isinstance(station, Mapping))
    return [chute for chute in named if isinstance(chute, str)]


def places_aside(line: Line) -> list[str]:
    return [*chutes(line), *line.drawers]


def ways_aside(line: Line) -> Iterator[tuple[str, str, str]]:
    """Station, its chute or drawer, and each carriage that has both among its stops; in a sound line there is one."""
    for name, station in line.stations.items():
        for place in (station.chute, station.samples.to if station.samples else None):
            for carrier, loader in carriers(line).items():
                if place and {name, place} <= loader.stops.keys():
                    yield name, place, carrier


def drawers_of(line: Line, carrier: str) -> list[str]:
    """The drawers that a carriage brings samples to, and for which it stands still while they are emptied."""
    loader = carriers(line).get(carrier)
    return [drawer for drawer in line.drawers if loader and drawer in loader.stops]
