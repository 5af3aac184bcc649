"""How the time for one event grows with the length of the run, the stations, the places and the replications."""

from __future__ import annotations

from functools import partial

import linesim
from linesim.engine import compiled
from linesim.engine.contract.times import Times
from tests.benchmark.serial_line import serial_line
from tests.benchmark.speed import HOUR_US, events
from tests.benchmark.timing import Figure, Program, figure, ratios, speeds

TURNS = 5


def figures() -> list[Figure]:
    ring = linesim.load_line("ring_cell")
    return [
        *_times("ring cell, run of", "h", {h: partial(events, compiled.run, ring, h) for h in (10, 100, 1000, 5000)}),
        *_times(
            "serial line, stations:",
            "",
            {n: partial(events, compiled.run, serial_line(n), 10_000 / n) for n in (2, 5, 10, 20, 40, 80, 160)},
        ),
        *_times(
            "serial line, places in a buffer:",
            "",
            {n: partial(events, compiled.run, serial_line(10, n), 1000) for n in (0, 1, 5, 50, 500)},
        ),
        *_times("ring cell 100 h, replications:", "", {n: partial(_replications, n) for n in (1, 4, 16)}),
    ]


def _replications(count: int) -> float:
    line, done = linesim.load_line("ring_cell"), 0
    for number in range(1, count + 1):
        done += compiled.run(line, 1, number, Times(0, 100 * HOUR_US, HOUR_US))[0].events
    return float(done)


def _times(what: str, unit: str, programs: dict[int, Program]) -> list[Figure]:
    """Nanoseconds an event, and as many times as with the first size."""
    found = speeds({str(size): program for size, program in programs.items()}, TURNS)
    first = next(iter(found.values()))
    told = []
    for size, speed in found.items():
        name = f"{what} {size} {unit}".rstrip()
        told.append(figure(name, [1e9 / one for one in speed], "ns/event"))
        if speed is not first:
            told.append(figure("  as many times the first", ratios(first, speed), "times"))
    return told
