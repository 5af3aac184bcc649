"""Tiny lines as plain maps, the way a line file gives them. Invented data throughout."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

Plain = dict[str, Any]

AT_ONCE = "1000000000 m/s2"  # an acceleration that leaves a move of d metres at v m/s exactly d / v seconds long


def seconds(value: float) -> str:
    """A duration the way a line file writes it."""
    return f"{value:.6f} s"


def constant(value_s: float) -> Plain:
    """A distribution that always gives this duration; a plain time to failure or repair would be exponential."""
    return {"family": "constant", "value": seconds(value_s)}


def exponential(mean_s: float) -> Plain:
    """An exponential duration with this mean."""
    return {"family": "exponential", "mean": seconds(mean_s)}


def serial(stations: Mapping[str, Any], places: Sequence[int] | None = None, **rest: Any) -> Plain:
    """Stations in a row between a stocker and a tray.

    stations: name -> its map, or just its cycle; places: waiting places between neighbours [parts], none if not given,
    in buffers park_1, park_2, ... as far as they hold anything; rest: further keys of the line.
    """
    route, buffers = ["stocker"], {}
    for number, name in enumerate(stations):
        capacity = places[number - 1] if places and number else 0
        if capacity:
            buffers[f"park_{number}"] = {"capacity": capacity}
            route.append(f"park_{number}")
        route.append(name)
    line: Plain = {
        "name": "test line",
        "route": [*route, "tray"],
        "infeed": {"stocker": {}},
        "outfeed": {"tray": {}},
        "stations": {name: as_station(given) for name, given in stations.items()},
        "buffers": {**buffers, **rest.pop("buffers", {})},
    }
    return {**line, **rest}


def as_station(given: Any) -> Plain:
    """A station's map from a map, a cycle in seconds or a distribution."""
    if isinstance(given, (int, float)):
        return {"cycle": seconds(given)}
    return {"cycle": given} if "family" in given else dict(given)


def alone(station: Any, **rest: Any) -> Plain:
    """One station between a stocker and a tray."""
    return serial({"mill": station}, **rest)


def loader(stops: Mapping[str, Any], handling_s: float = 1.0, **rest: Any) -> Plain:
    """A loader that makes one metre a second without time to speed up.

    stops: place -> metres (or a list of metres); handling_s: pick, place, load, unload and exchange take this long.
    """
    handling = {key: seconds(handling_s) for key in ("pick", "place", "load", "unload", "exchange")}
    return {"stops": {name: metres(at) for name, at in stops.items()}, "speed": "1 m/s", "acceleration": AT_ONCE} | (
        handling | rest
    )


def metres(at: Any) -> Any:
    """A position, a list of them or a stop's map with its position in metres, as a line file gives it."""
    if isinstance(at, Mapping):
        return {**at, "at": metres(at["at"])}
    return [f"{one} m" for one in at] if isinstance(at, (list, tuple)) else f"{at} m"


def breakdown(mtbf_s: float, mttr_s: float, **rest: Any) -> Plain:
    """A cause that strikes after exactly so much time on its clock and is repaired in exactly so much."""
    return {"mtbf": constant(mtbf_s), "mttr": constant(mttr_s), **rest}


def shift(begin: str, end: str, days: str = "mon", **breaks: tuple[str, str]) -> Plain:
    """A shift; its breaks by name: (time of day, how long)."""
    given: Plain = {"days": days, "from": begin, "to": end}
    if breaks:
        given["breaks"] = {name: {"at": at, "takes": takes} for name, (at, takes) in breaks.items()}
    return given


def robot_cell(processing_s: Sequence[float], handling_s: float, travel_s: float, **loader_keys: Any) -> Plain:
    """Infeed, machines m1, m2, ... and outfeed in a row, one loader, neighbours `travel_s` apart."""
    names = [f"m{number}" for number in range(1, len(processing_s) + 1)]
    line = serial(dict(zip(names, processing_s, strict=True)))
    stops = {place: number * travel_s for number, place in enumerate(line["route"])}
    return {**line, "loaders": {"gantry": loader(stops, handling_s, **loader_keys)}}
