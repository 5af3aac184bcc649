"""The machines of a station: equal ones by number, or unequal ones by name, each with what holds for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from linesim.line.layers import MODEL_KEYS
from linesim.line.model import STOP_KINDS, Station
from linesim.line.part_types import ByPart

# What may differ from machine to machine; the rest is said once for the whole station.
OF_ONE_MACHINE = ("cycle", "changeover", "planned_cycle", "breakdowns", *STOP_KINDS, "price", "size")


def each_machine(name: str, station: Station) -> dict[str, Station]:
    """Name of each machine, in file order -> the station as it holds for that machine."""
    if station.unequal:
        return dict(station.unequal)
    return {f"{name}.{number}": station for number in range(1, station.machines + 1)}


def stop_names(name: str, station: Station) -> list[str]:
    """Each name of a tool change, dressing, ... that some machine of a station has, once."""
    machines = each_machine(name, station).values()
    return list(dict.fromkeys(stop for machine in machines for kind in STOP_KINDS for stop in getattr(machine, kind)))


def mean_cycle_s(machine: Station, part: str | None = None) -> float:
    """Mean time that a machine works on a part or a batch [s], strokes included: on one of a type, or on any."""
    cycle_s = machine.cycle.mean
    if part and isinstance(machine.cycle, ByPart):
        cycle_s = machine.cycle.laws[part].mean
    if machine.strokes is None:
        return cycle_s
    number, at_most = machine.strokes.number, machine.strokes.at_most
    made = sum(share * (strokes if at_most is None else min(strokes, at_most)) for strokes, share in number.items())
    return cycle_s + made * machine.strokes.takes.mean


def part_cycle_s(machine: Station) -> float:
    """A part's share of the time that a machine works [s]: of a full batch, if it works on several together."""
    return mean_cycle_s(machine) / parts_together(machine)


def time_inside_s(machine: Station, part: str | None = None) -> float:
    """Mean time from the start of a part, or one of a type, to its end [s]."""
    return machine.through_feed.transit if machine.through_feed else mean_cycle_s(machine, part)


def places_inside(machine: Station) -> int:
    """How many parts a machine can hold."""
    return machine.through_feed.positions if machine.through_feed else parts_together(machine)


def parts_together(machine: Station) -> int:
    """How many parts a machine works on at a time."""
    return machine.batch.size if machine.batch else 1


def is_steady(machine: Station) -> bool:
    """Whether every part takes a machine the same time."""
    return machine.cycle.sd == 0 and machine.strokes is None


def overdone_share(station: Station) -> float:
    """Share of a station's parts that would need more strokes than it makes."""
    strokes = station.strokes
    if strokes is None or strokes.at_most is None:
        return 0.0
    return sum(share for number, share in strokes.number.items() if number > strokes.at_most)


def laid_over(station: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    """A machine's map laid over its station's: maps merge, a family's map replaces, null takes a name away."""
    merged = dict(station)
    for key, value in own.items():
        if value is None:
            merged.pop(key, None)
        elif isinstance(value, Mapping) and isinstance(merged.get(key), Mapping) and "family" not in value:
            merged[key] = laid_over(merged[key], value)
        else:
            merged[key] = laid_over({}, value) if isinstance(value, Mapping) else value
    return merged


def nothing_to_take_away(
    station: Mapping[str, Any], own: Mapping[str, Any], path: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], Mapping[str, Any]]]:
    """Paths of nulls in a machine's map for what its station does not have, each with the map it is missing from."""
    for key, value in own.items():
        if value is None and key not in station and key not in MODEL_KEYS:
            yield (*path, key), station
        elif isinstance(value, Mapping):
            inner = station.get(key)
            yield from nothing_to_take_away(inner if isinstance(inner, Mapping) else {}, value, (*path, key))
