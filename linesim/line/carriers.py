"""The carriages of a line: a loader with one carriage is one, a loader with several is one for each of them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from linesim.line.model import Line, Loader

# What may differ from carriage to carriage; the rest is said once for the whole loader.
OF_ONE_CARRIAGE = (
    *("stops", "grippers", "exchanges_per_tour", "next_call", "park_at", "speed", "acceleration"),
    *("pick", "place", "load", "unload", "exchange", "breakdowns", "zone"),
)
OF_THE_LOADER = ("carriages", "apart", "zone", "power", "price")  # a carriage doesn't take these over


def carriers(line: Line) -> dict[str, Loader]:
    """Name -> the loader as it holds for that carriage, in file order: "gantry", or "gantry.left" of several."""
    found: dict[str, Loader] = {}
    for name, loader in line.loaders.items():
        if loader.carriages:
            found |= {f"{name}.{carriage}": own for carriage, own in loader.carriages.items()}
        else:
            found[name] = loader
    return found


def owner_name(carrier: str) -> str:
    """The name of a carriage in results: "gantry.1" if it is the only one of its loader, or the first of some hands."""
    return carrier if "." in carrier else f"{carrier}.1"


def carrier_of(owner: str) -> str:
    """The carriage that has this name in results."""
    loader, _, number = owner.rpartition(".")
    return loader if number.isdigit() else owner  # no carriage of several is called by a number


def loader_of(carrier: str) -> str:
    """The loader that a carriage belongs to."""
    return carrier.partition(".")[0]


def whole_um(at_m: float) -> int:
    """A point on the rail, or a distance there [um]; whole, so that two distances are equal or clearly not."""
    return math.floor(at_m * 1e6 + 0.5)


def path_of(carrier: str) -> tuple[str, ...]:
    """Where the line file speaks of a carriage."""
    loader, _, own = carrier.partition(".")
    return ("loaders", loader, "carriages", own) if own else ("loaders", loader)


def inherited(loader: Mapping[str, Any], own_stops: list[str]) -> dict[str, Any]:
    """What a carriage with these stops takes over from its loader's map, unless it says otherwise."""
    taken = {key: value for key, value in loader.items() if key not in OF_THE_LOADER}
    if taken.get("park_at") not in own_stops:
        taken.pop("park_at", None)
    rule = taken.get("next_call")
    if isinstance(rule, list):
        taken["next_call"] = [place for place in rule if place in own_stops] or "downstream_first"
    elif isinstance(rule, Mapping) and isinstance(rule.get("fixed"), list):
        own_round = [place for place in rule["fixed"] if place in own_stops]
        taken["next_call"] = {"fixed": own_round} if own_round else "downstream_first"
    stops = loader.get("stops")
    known = stops if isinstance(stops, Mapping) else {}
    return {**taken, "stops": {place: known[place] for place in own_stops if place in known}}
