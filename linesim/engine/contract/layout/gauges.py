"""Gauges on the floor: what each station measures, of which parts, and what it corrects."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.engine.contract.layout.sizes import nm
from linesim.engine.contract.ledger import to_us
from linesim.line.model import Feedback, Gauge, Inspection, Sample, Tolerance
from linesim.line.size_shares import gauge_sd_um

GAIN_SCALE = 10**6  # gains are whole millionths


def write_gauges(layout: Layout, step: int, inspection: Inspection) -> None:
    """What a station measures, with one stream of errors for each characteristic. Sizes must stand there already."""
    name = layout.name_of(step)
    names = [characteristic for _, characteristic in layout.characteristics]
    first = layout.room(r.GAUGE_SIZE * len(inspection.measures))
    layout.set(step, GAUGES=first, N_GAUGES=len(inspection.measures))
    for n, (characteristic, gauge) in enumerate(inspection.measures.items()):
        record, number = first + n * r.GAUGE_SIZE, names.index(characteristic)
        made_at, _ = layout.characteristics[number]
        tolerance = layout.line.stations[made_at].characteristics[characteristic].tolerance
        layout.set(record, GAUGED=number, READS_FROM=nm(tolerance.low), READS_TO=nm(tolerance.high))
        layout.set(record, GAUGED_DEFECT=layout.defects.index((made_at, characteristic)))
        _watch_machines(layout, record, gauge, layout.places_of(layout.stations[made_at]))
        if gauge.feedback:
            _write_feedback(layout, record, gauge.feedback, tolerance)
            for machine in layout.places_of(layout.stations[made_at]) if gauge.feedback.outlasts_tools else ():
                layout.set(_making(layout, machine, number), OUTLASTS=1)
        if gauge.grr:
            stream = layout.add_stream(name, f"gauge.{characteristic}", None, 1000 * gauge_sd_um(gauge, tolerance))
            for machine in layout.places_of(step):
                layout.draw_at_end(machine, stream, record + r.READ_ERROR)


def _watch_machines(layout: Layout, gauge: int, given: Gauge, makers: list[int]) -> None:
    """Which parts are measured of those of each machine, and what is known of it."""
    sample = given.sample or Sample()
    parts = sample.every if isinstance(sample.every, int) else 0
    time_us = to_us(sample.every) if isinstance(sample.every, float) else 0
    layout.set(gauge, SAMPLES=given.sample is not None, SAMPLE_OF_TOOL=sample.first_and_last)
    layout.set(gauge, SAMPLE_PARTS=parts, SAMPLE_TIME=time_us, SAMPLE_PAUSE=to_us(sample.after_pause or 0))
    layout.set(gauge, WATCHES=layout.room(r.WATCH_SIZE * len(makers)))
    for n, machine in enumerate(makers):
        watch = layout.floor[gauge + r.WATCHES] + n * r.WATCH_SIZE
        layout.set(watch, UNMEASURED=max(0, parts - 1), MEASURED_AT=-1)  # the first part is measured
        if sample.first_and_last:
            layout.set(_making(layout, machine, layout.floor[gauge + r.GAUGED]), TELLS_OF_TOOL=1)


def _making(layout: Layout, machine: int, number: int) -> int:
    """The record of how a machine makes the characteristic of this number."""
    makings, count = (layout.floor[machine + at] for at in (r.MAKINGS, r.N_MAKINGS))
    records = range(makings, makings + count * r.MAKING_SIZE, r.MAKING_SIZE)
    return next(making for making in records if layout.floor[making + r.CHARACTERISTIC] == number)


def _write_feedback(layout: Layout, gauge: int, given: Feedback, tolerance: Tolerance) -> None:
    layout.set(gauge, GAIN=round(given.gain * GAIN_SCALE), AIMS_AT=nm(tolerance.middle), DEAD_BAND=nm(given.dead_band))
    layout.set(gauge, AVERAGES=given.average, ONLY_NEW=given.only_new)
