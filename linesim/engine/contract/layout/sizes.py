"""Sizes on the floor: what each machine makes, and which stops renew its tools."""

from __future__ import annotations

import math

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.engine.contract.ledger import to_us
from linesim.line.machines import each_machine
from linesim.line.model import STOP_KINDS, Characteristic, Inspection, Sample, Station
from linesim.line.size_shares import gauge_sd_um
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


def write_gauges(layout: Layout, step: int, inspection: Inspection) -> None:
    """What a station measures, with one stream of errors for each characteristic. Sizes must stand there already."""
    name = layout.name_of(step)
    names = [characteristic for _, characteristic in layout.characteristics]
    first = layout.room(r.GAUGE_SIZE * len(inspection.measures))
    layout.set(step, GAUGES=first, N_GAUGES=len(inspection.measures))
    for n, (characteristic, gauge) in enumerate(inspection.measures.items()):
        record, number = first + n * r.GAUGE_SIZE, names.index(characteristic)
        maker = layout.characteristics[number]
        given = layout.line.stations[maker[0]].characteristics[characteristic]
        layout.set(record, GAUGED=number, READS_FROM=nm(given.tolerance.low), READS_TO=nm(given.tolerance.high))
        layout.set(record, GAUGED_DEFECT=layout.defects.index(maker))
        if gauge.sample:
            _write_sample(layout, record, gauge.sample, layout.stations[maker[0]], number)
        if gauge.grr:
            sd_nm = 1000 * gauge_sd_um(gauge, given.tolerance)
            stream = layout.add_stream(name, f"gauge.{characteristic}", None, sd_nm)
            for machine in layout.places_of(step):
                layout.draw_at_end(machine, stream, record + r.READ_ERROR)


def _write_sample(layout: Layout, gauge: int, sample: Sample, step: int, number: int) -> None:
    """Which parts a gauge measures of those of each machine that makes this size, in the station of this step."""
    parts = sample.every if isinstance(sample.every, int) else 0
    time_us = to_us(sample.every) if isinstance(sample.every, float) else 0
    layout.set(gauge, SAMPLES=1, SAMPLE_PARTS=parts, SAMPLE_TIME=time_us, SAMPLE_OF_TOOL=sample.first_and_last)
    machines = layout.places_of(step)
    watch = layout.room(r.WATCH_SIZE * len(machines))
    layout.set(gauge, WATCHES=watch)
    for machine in machines:
        layout.set(watch, UNMEASURED=max(0, parts - 1), MEASURED_AT=-1)  # the first part is measured
        watch += r.WATCH_SIZE
        if sample.first_and_last:
            layout.set(_making(layout, machine, number), TELLS_OF_TOOL=1)


def _making(layout: Layout, machine: int, number: int) -> int:
    """The record of how a machine makes the characteristic of this number."""
    makings, count = (layout.floor[machine + at] for at in (r.MAKINGS, r.N_MAKINGS))
    records = range(makings, makings + count * r.MAKING_SIZE, r.MAKING_SIZE)
    return next(making for making in records if layout.floor[making + r.CHARACTERISTIC] == number)


def _is_renewed_by_count(station: Station, given: Characteristic) -> bool:
    stops = [stop for kind in STOP_KINDS for stop in getattr(station, kind).items()]
    return any(
        name in given.after and isinstance(stop.every, int) and not isinstance(stop.every, Dressings)
        for name, stop in stops
    )


def nm(um: float) -> int:
    """Whole nanometres, rounded once."""
    return math.floor(1000 * um + 0.5)
