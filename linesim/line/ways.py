"""How parts get from place to place: which neighbours on the route a loader joins, and how long its moves take."""

from __future__ import annotations

import itertools
import math
from typing import NamedTuple

from linesim.line.carriers import carriers
from linesim.line.model import Line, Loader, LoaderStop


class Way(NamedTuple):
    """Two neighbours on the route; `loaders` join them, none means direct hand-over (a sound line has one at most)."""

    start: str
    end: str
    loaders: tuple[str, ...]

    @property
    def loader(self) -> str | None:
        return self.loaders[0] if self.loaders else None


def places(line: Line) -> list[str]:
    """The route without buffers of capacity 0, which hand parts over directly."""
    return [name for name in line.route if name not in line.buffers or line.buffers[name].capacity > 0]


def ways(line: Line) -> list[Way]:
    """Every step from one place of the route to the next."""
    names = places(line)
    return [way(line, start, end) for start, end in itertools.pairwise(names)]


def way(line: Line, start: str, end: str) -> Way:
    """The step between two places, neighbours or not (a reject that goes back)."""
    return Way(
        start, end, tuple(name for name, loader in carriers(line).items() if {start, end} <= loader.stops.keys())
    )


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
