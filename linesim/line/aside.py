"""Places aside of the route: chutes that loaders bring scrap to."""

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


def ways_aside(line: Line) -> Iterator[tuple[str, str, str]]:
    """Station, its chute, and each carriage that has both among its stops; in a sound line there is one for each."""
    for name, station in line.stations.items():
        for carrier, loader in carriers(line).items():
            if station.chute and {name, station.chute} <= loader.stops.keys():
                yield name, station.chute, carrier
