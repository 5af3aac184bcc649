"""How parts get from place to place: what a part visits, which places loaders or people join, and how long that takes.

Every part goes along the route, but leaves out what its type skips. Where no type skips anything all go the same way.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from typing import NamedTuple

from linesim.line.carriers import carriers
from linesim.line.hands import Hands, hands, join
from linesim.line.model import Line, Loader, LoaderStop, NextCall
from linesim.line.part_types import mix

OLDEST_FIRST = NextCall("longest_waiting")


class Way(NamedTuple):
    """Two places that parts visit one after the other; `loaders` join them, none means direct hand-over.

    In a sound line one loader joins them at most. Where people carry, their hands count as a loader.
    """

    start: str
    end: str
    loaders: tuple[str, ...]

    @property
    def loader(self) -> str | None:
        return self.loaders[0] if self.loaders else None


def places(line: Line, part: str | None = None) -> list[str]:
    """The route without buffers of capacity 0, which hand parts over directly, and without what this part skips."""
    skips = line.parts[part].skips if part else ()
    rests = [name for name in line.route if name not in line.buffers or line.buffers[name].capacity > 0]
    return [name for name in rests if name not in skips]


def ways(line: Line, part: str | None = None) -> list[Way]:
    """Every step from one place to the next: of the whole route, or of what a part type visits."""
    names = places(line, part)
    return [way(line, start, end) for start, end in itertools.pairwise(names)]


def all_ways(line: Line) -> list[Way]:
    """Every step that a part of some type makes, each once, in route order."""
    at = {name: number for number, name in enumerate(line.route)}
    taken = {way for part in apart(line) for way in ways(line, part)}
    return sorted(taken, key=lambda way: (at[way.start], at[way.end]))


def visited(line: Line) -> set[str]:
    """Places that parts of some type come to and can rest in."""
    return {name for part in apart(line) for name in places(line, part)}


def apart(line: Line) -> list[str | None]:
    """The part types, where some leave out places; else None, which stands for all parts."""
    return list(line.parts) if any(part.skips for part in line.parts.values()) else [None]


def shares_apart(line: Line) -> dict[str | None, float]:
    """Each of `apart` with its share of what enters."""
    shares = mix(line)
    return {part: 1.0 if part is None else shares[part] for part in apart(line)}


def share_at(line: Line, place: str) -> float:
    """Share of all parts that come to a place, as far as their types say."""
    return sum(share for part, share in shares_apart(line).items() if comes_to(line, part, place))


def comes_to(line: Line, part: str | None, place: str) -> bool:
    """Whether parts of a type, or all parts (None), come to a place."""
    return part is None or place not in line.parts[part].skips


def places_of_loop(line: Line, start: str, end: str) -> list[str]:
    """Places from one to another on the route that every part between the two must come through.

    One that skips a place can pass by it if it comes to places of the loop before and behind it.
    """
    inside = list(line.route[line.route.index(start) : line.route.index(end) + 1])
    passed: set[str] = set()
    for part in apart(line):
        own = [at for at, name in enumerate(inside) if comes_to(line, part, name)]
        passed |= {inside[at] for at in range(own[0], own[-1])} - {inside[at] for at in own} if own else set()
    return [name for name in inside if name not in passed]


def left_out(line: Line) -> Iterator[tuple[str, list[str], str, str]]:
    """Places without a stop between two stops of one loader, by loader, with the stops before and behind them.

    Parts get there and on without any loader or people. That may be meant, or a stop has been forgotten.
    """
    names = places(line)
    for name, loader in carriers(line).items():
        stops = [at for at, place in enumerate(names) if place in loader.stops]
        for before, behind in itertools.pairwise(stops):
            between = names[before : behind + 1]
            if len(between) > 2 and not any(way(line, *step).loader for step in itertools.pairwise(between)):
                yield name, between[1:-1], between[0], between[-1]


def way(line: Line, start: str, end: str) -> Way:
    """The step between two places, neighbours or not (a reject that goes back)."""
    by_rail = tuple(name for name, loader in carriers(line).items() if {start, end} <= loader.stops.keys())
    return Way(start, end, by_rail or join(line, start, end))


def loaders_at(line: Line, place: str, part: str | None = None) -> tuple[str | None, str | None]:
    """What brings parts to a place and what takes them away; None where they hand themselves over, or don't come."""
    names = places(line, part)
    at = names.index(place)
    brings = way(line, names[at - 1], place).loader if at > 0 else None
    return brings, way(line, place, names[at + 1]).loader if at + 1 < len(names) else None


def carriers_and_hands(line: Line) -> dict[str, Loader]:
    """All that carries parts on a line: its loaders' carriages, then hands, as loaders whose ways take no time."""
    return carriers(line) | {name: _as_loader(line, name, each) for name, each in hands(line).items()}


def _as_loader(line: Line, name: str, each: Hands) -> Loader:
    """Mean times of people, without their way to the place; they hold two parts as they exchange them."""
    steps = [way for way in [*all_ways(line), *_ways_back(line)] if way.loader == name]
    served = {place for way in steps for place in (way.start, way.end)}
    stops = {}
    for place in [place for place in line.route if place in served]:
        at = (0.0,) * (line.stations[place].machines if place in line.stations else 1)
        given = each.stations.get(place)
        stops[place] = (
            LoaderStop(at, load=given.loads.mean, unload=given.unloads.mean, exchange=given.exchange.mean)
            if given
            else LoaderStop(at)
        )
    return Loader(stops, speed=1.0, acceleration=1.0, pick=0.0, place=0.0, grippers=2, next_call=OLDEST_FIRST)


def _ways_back(line: Line) -> list[Way]:
    """Ways of rejects that are worked on again."""
    found = []
    for name, station in line.stations.items():
        rework = station.inspection.rework if station.inspection else None
        if rework and name in line.route and rework.to in line.route:
            found.append(way(line, name, rework.to))
    return found


def serving(line: Line, station: str) -> str | None:
    """The carriage that takes parts away from a station; if none does, the one that brings them."""
    by_rail = [way for way in ways(line) if way.loader in carriers(line)]
    onward = next((way.loader for way in by_rail if way.start == station), None)
    return onward or next((way.loader for way in by_rail if way.end == station), None)


def travel_s(distance_m: float, speed_m_s: float, acceleration_m_s2: float) -> float:
    """Time to start, move and stop [s]: trapezoid of speed, or triangle where full speed is not reached."""
    if distance_m * acceleration_m_s2 >= speed_m_s**2:
        return distance_m / speed_m_s + speed_m_s / acceleration_m_s2
    return 2 * math.sqrt(distance_m / acceleration_m_s2)


class Handling(NamedTuple):
    """Times a loader needs at one of its stops [s]; what can't happen there is 0."""

    pick_s: float
    place_s: float
    load_s: float
    unload_s: float
    exchange_s: float


def handling(loader: Loader, stop: LoaderStop) -> Handling:
    """Handling times at a stop: its own where it names them, else the loader's; load and unload default to exchange."""
    exchange = _first(stop.exchange, loader.exchange)
    return Handling(
        pick_s=_first(stop.pick, loader.pick),
        place_s=_first(stop.place, loader.place),
        load_s=_first(stop.load, loader.load, exchange),
        unload_s=_first(stop.unload, loader.unload, exchange),
        exchange_s=exchange,
    )


def _first(*values: float | None) -> float:
    return next((value for value in values if value is not None), 0.0)
