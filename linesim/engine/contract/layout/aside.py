"""Chutes and drawers on the floor: steps of their own beside the route, and the carriages that go there."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import NO_LIMIT, Layout
from linesim.engine.contract.ledger import Owner, to_us
from linesim.line.aside import chutes, ways_aside
from linesim.line.model import Samples


def write_places_aside(layout: Layout, index: int) -> None:
    """Their index lies behind the end of the route: a part on its way there leaves all loops."""
    for name in chutes(layout.line):
        _write_place(layout, index + len(layout.aside), name, "chute", r.CHUTE, NO_LIMIT)
    for name, drawer in layout.line.drawers.items():
        place = _write_place(layout, index + len(layout.aside), name, "drawer", r.DRAWER, drawer.capacity)
        layout.set(place, LIMITED=1)


def _write_place(layout: Layout, index: int, name: str, word: str, kind: int, capacity: int) -> int:
    step, place = layout.room(r.STEP_SIZE), layout.room(r.END_SIZE)
    layout.aside[name] = step
    layout.set(step, KIND=kind, INDEX=index, FIRST_PLACE=place, N_PLACES=1)
    layout.add_place(place, step, kind, Owner(name, word, name))
    layout.set(place, CAPACITY=capacity)
    return place


def write_ways_aside(layout: Layout, carriages: dict[str, int]) -> None:
    """Each station learns who brings its scrap and samples away, and which parts are samples."""
    for name, place, carrier in ways_aside(layout.line):
        station, step = layout.line.stations[name], layout.stations[name]
        if place == station.chute:
            layout.set(step, CHUTE_TO=layout.aside[place], CHUTE_WAY=carriages[carrier])
        else:
            layout.set(step, DRAWER_TO=layout.aside[place], DRAWER_WAY=carriages[carrier])
        if station.samples:
            _write_samples(layout, step, station.samples)


def _write_samples(layout: Layout, step: int, samples: Samples) -> None:
    """With `every` the first part of each machine is one."""
    parts = samples.every if isinstance(samples.every, int) else 0
    layout.set(step, SAMPLED_PARTS=parts, SAMPLED_PAUSE=to_us(samples.after_pause or 0))
    layout.set(step, SAMPLED_TIME=to_us(samples.every) if isinstance(samples.every, float) else 0)
    for machine in layout.places_of(step):
        layout.set(machine, UNSAMPLED=max(0, parts - 1), SAMPLED_AT=-1)
