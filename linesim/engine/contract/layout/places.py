"""Stations, machines, buffers, infeed and outfeed on the floor."""

from __future__ import annotations

from collections.abc import Sequence

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.aside import write_places_aside
from linesim.engine.contract.layout.batches import write_batch, write_through_feed
from linesim.engine.contract.layout.form import CHANCE_SCALE, Layout
from linesim.engine.contract.layout.part_types import write_cycle
from linesim.engine.contract.layout.strokes import write_strokes
from linesim.engine.contract.ledger import Owner, to_us
from linesim.line.at_start import parts_at_start
from linesim.line.machines import each_machine, mean_cycle_s
from linesim.line.model import OVERSTAY, Line, Station
from linesim.line.ways import places


def names_of_steps(line: Line) -> list[str]:
    """The route with an infeed and an outfeed: unnamed ones where the line has none."""
    names = places(line)
    if names[0] not in line.infeed:
        names.insert(0, "")
    if names[-1] not in line.outfeed:
        names.append("")
    return names


def write_places(layout: Layout, names: Sequence[str]) -> dict[int, int]:
    """Write steps and their places; returns the steps' addresses by index."""
    first = layout.room(r.STEP_SIZE * len(names))
    layout.floor[r.STEPS], layout.floor[r.N_STEPS] = first, len(names)
    steps = {index: first + index * r.STEP_SIZE for index in range(len(names))}
    stations = [(index, name) for index, name in enumerate(names) if name in layout.line.stations]
    buffers = [(index, name) for index, name in enumerate(names) if name in layout.line.buffers]
    layout.floor[r.N_MACHINES] = sum(layout.line.stations[name].machines for _, name in stations)
    layout.floor[r.MACHINES] = machines = layout.room(r.MACHINE_SIZE * layout.floor[r.N_MACHINES])
    layout.floor[r.N_BUFFERS] = len(buffers)
    layout.floor[r.BUFFERS] = buffer = layout.room(r.BUFFER_SIZE * len(buffers))
    for index, name in enumerate(names):
        step = steps[index]
        if name in layout.line.stations:
            station = layout.line.stations[name]
            layout.set(step, KIND=r.STATION, FIRST_PLACE=machines, PLACE_SIZE=r.MACHINE_SIZE)
            _write_station(layout, step, name, station, machines)
            machines += station.machines * r.MACHINE_SIZE
        elif name in layout.line.buffers:
            layout.set(step, KIND=r.BUFFER, FIRST_PLACE=buffer, N_PLACES=1)
            _write_buffer(layout, step, name, buffer)
            buffer += r.BUFFER_SIZE
        else:
            kind, word = (r.INFEED, "infeed") if index == 0 else (r.OUTFEED, "outfeed")
            end = layout.room(r.END_SIZE)
            layout.set(step, KIND=kind, FIRST_PLACE=end, N_PLACES=1)
            layout.add_place(end, step, kind, Owner(name, word, name))
        layout.set(step, INDEX=index)
    write_places_aside(layout, len(names))
    return steps


def _write_station(layout: Layout, step: int, name: str, station: Station, machine: int) -> None:
    layout.set(step, N_PLACES=station.machines, STATION_NUMBER=len(layout.stations))
    layout.set(step, BEFORE_SERVICE=station.blocking == "before_service")
    layout.stations[name] = step
    for machine_name, own in each_machine(name, station).items():
        owner = Owner(machine_name, "machine", name)
        layout.add_place(machine, step, r.STATION, owner)
        layout.set(machine, PART=r.NO_PART, PHASE=r.EMPTY, PART_TO=step + r.STEP_SIZE)
        layout.set(machine, CALLS_AHEAD=_calls_ahead(own))
        write_cycle(layout, machine, owner.name, own.cycle)
        write_batch(layout, machine, station.batch)
        if station.through_feed:
            write_through_feed(layout, machine, station.through_feed)
        layout.machines[machine] = (owner.name, name)
        machine += r.MACHINE_SIZE
    # One stream of defects a station, not a machine: its n-th part keeps its fate when a machine is added.
    layout.set(step, DEFECT_STREAM=layout.add_stream(name, "defects", None) if station.defects else -1)
    layout.set(step, GAUGE_STREAM=layout.add_stream(name, "inspection", None) if station.inspection else -1)
    if station.defects:
        total = 0.0
        chances = []
        for defect, share in station.defects.items():
            total += share
            chances.append(round(total * CHANCE_SCALE))
            layout.defects.append((name, defect))
        layout.set(step, DEFECTS=layout.write(chances), N_DEFECTS=len(chances))
        layout.set(step, FIRST_DEFECT=len(layout.defects) - len(chances))
    if station.strokes:
        write_strokes(layout, step, name, station.strokes)
    if station.overstay is not None:
        layout.set(
            step, MAY_SPOIL=1, OVERSTAYS=1, OVERSTAY=to_us(station.overstay), OVERSTAY_DEFECT=len(layout.defects)
        )
        layout.defects.append((name, OVERSTAY))


def _calls_ahead(station: Station) -> int:
    """How long after the start of an operation its loader is called [us]; -1: never before the end."""
    if not station.call_ahead:
        return -1
    planned = station.planned_cycle if station.planned_cycle is not None else mean_cycle_s(station)
    return max(0, to_us(planned - station.call_ahead))


def _write_buffer(layout: Layout, step: int, name: str, buffer: int) -> None:
    capacity = layout.line.buffers[name].capacity
    dwell = to_us(layout.line.buffers[name].dwell)
    layout.set(step, PASSABLE=dwell == 0)
    layout.add_place(buffer, step, r.BUFFER, Owner(name, "buffer", name))
    layout.set(buffer, CAPACITY=capacity, DWELL=dwell, RING=layout.room(2 * capacity))
    layout.set(buffer, LEVEL_TIME=layout.room(capacity + 1), AT_START=parts_at_start(layout.line)[name])
    layout.buffers[buffer] = name
