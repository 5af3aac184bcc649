"""Sizes on the floor: what each machine makes, and which stops renew its tools."""

from __future__ import annotations

import math

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.line.machines import each_machine
from linesim.line.model import STOP_KINDS, Characteristic, Station
from linesim.line.units import Dressings


def write_sizes(layout: Layout) -> None:
    """The sizes of each machine in route order. Machines and stops must stand there already."""
    layout.characteristics = [
        (name, characteristic)
        for name in layout.stations
        for characteristic in layout.line.stations[name].characteristics
    ]
    layout.floor[r.N_CHARACTERISTICS] = len(layout.characteristics)
    for name, step in layout.stations.items():
        station = layout.line.stations[name]
        if not station.characteristics:
            continue
        first_defect = len(layout.defects)
        layout.defects += [(name, characteristic) for characteristic in station.characteristics]
        layout.set(step, SIZED=1)
        for machine, own in zip(layout.places_of(step), each_machine(name, station).values(), strict=True):
            _write_makings(layout, machine, name, own, first_defect)


def _write_makings(layout: Layout, machine: int, name: str, station: Station, first_defect: int) -> None:
    sizes = station.characteristics
    first = layout.room(r.MAKING_SIZE * len(sizes))
    layout.set(machine, MAKINGS=first, N_MAKINGS=len(sizes))
    for n, (characteristic, given) in enumerate(sizes.items()):
        making = first + n * r.MAKING_SIZE
        layout.set(making, CHARACTERISTIC=layout.characteristics.index((name, characteristic)), MADE_IN=machine)
        layout.set(making, LOWEST=nm(given.tolerance.low), HIGHEST=nm(given.tolerance.high), OFFSET=nm(given.offset))
        layout.set(making, DRIFT=nm(1000 * given.drift), SIZE_DEFECT=first_defect + n)
        layout.set(making, MADE_AS=layout.places_of(layout.floor[machine + r.STEP]).index(machine))
        if _is_renewed_by_count(station, given):
            layout.set(making, WORN=r.NOT_KNOWN)
        if given.spread:
            owner = layout.machines[machine][0]
            stream = layout.add_stream(owner, f"size.{characteristic}", None, 1000 * given.spread)
            layout.draw_at_end(machine, stream, making + r.LUCK)
    for stop in layout.stoppages:
        if layout.floor[stop.record + r.OWNER] == machine and stop.kind in (*STOP_KINDS, "breakage"):
            pairs = [
                (first + n * r.MAKING_SIZE, nm(given.after[stop.name]))
                for n, given in enumerate(sizes.values())
                if stop.name in given.after
            ]
            layout.set(stop.record, RENEWS=layout.write(number for pair in pairs for number in pair))
            layout.set(stop.record, N_RENEWS=len(pairs))


def _is_renewed_by_count(station: Station, given: Characteristic) -> bool:
    stops = [stop for kind in STOP_KINDS for stop in getattr(station, kind).items()]
    return any(
        name in given.after and isinstance(stop.every, int) and not isinstance(stop.every, Dressings)
        for name, stop in stops
    )


def nm(um: float) -> int:
    """Whole nanometres, rounded once."""
    return math.floor(1000 * um + 0.5)
