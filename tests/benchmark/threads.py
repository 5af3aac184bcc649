"""Replications in threads: how much sooner two of them end in two threads than one after the other, by the clock."""

from __future__ import annotations

import os
import time
from concurrent.futures import ThreadPoolExecutor

import linesim
from linesim.engine import compiled
from linesim.engine.contract.times import Times
from tests.benchmark.speed import HOUR_US
from tests.benchmark.timing import TURNS, Figure, figure, ratios

HOURS = {"ring_divided": 300, "ring_cell": 1000}


def figures() -> list[Figure]:
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else float("nan")
    told = [figure("processors, and work waiting for them before", [os.cpu_count() or 0, load], "")]
    for name, hours in HOURS.items():
        one, two = [], []
        _seconds(name, hours, 2)
        for _ in range(TURNS):
            one.append(_seconds(name, hours, 1))
            two.append(_seconds(name, hours, 2))
        told.append(figure(f"{name}, two threads against one", ratios(one, two), "times", ">= 1.8"))
    return told


def _seconds(name: str, hours: float, threads: int) -> float:
    """Time for four replications [s]."""
    line = linesim.load_line(name)

    def replication(number: int) -> int:
        return compiled.run(line, 1, number, Times(0, round(hours * HOUR_US), HOUR_US))[0].visits

    began_s = time.perf_counter()
    with ThreadPoolExecutor(threads) as pool:
        list(pool.map(replication, range(1, 5)))
    return time.perf_counter() - began_s
