"""A sweep beside the plain loop that a user would write, by the clock: what handing over, checking and storing cost.

A thousand points of the ring cell, a simulated week and five replications each; and thirty with ten long ones.
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Callable
from itertools import product
from pathlib import Path
from typing import Any

from linesim.engine import compiled
from linesim.engine.contract.ledger import HOUR_US
from linesim.engine.contract.times import Times
from linesim.line import build
from linesim.line.layers import compose
from linesim.results import open_results
from linesim.results.tables import Yardstick, measures
from linesim.study.sweeps.sweep import sweep
from tests.benchmark.timing import Figure, figure

WEEK_H, REPLICATIONS, SEED = 168, 5, 1
FACTORS: dict[str, list[Any]] = {
    "buffers.park_1.capacity": list(range(1, 11)),
    "buffers.park_2.capacity": list(range(1, 11)),
    "stations.grind.cycle": [f"{number} s" for number in range(60, 70)],
}
LONG_H, LONG_REPLICATIONS = 500, 10
LONG_FACTORS: dict[str, list[Any]] = {
    "buffers.park_1.capacity": list(range(1, 7)),
    "stations.grind.cycle": [f"{number} s" for number in range(60, 70, 2)],
}
POINTS_AT_NIGHT, MACHINES = 1_000_000, 100  # the plan on paper


def figures() -> list[Figure]:
    _loop(20)  # compiles
    few_s = _seconds(lambda: _loop(100))
    with tempfile.TemporaryDirectory() as folder:
        one = Path(folder) / "one"
        loop_s = _seconds(lambda: _loop(1000))
        whole_s = _seconds(lambda: _swept(Path(folder) / "two", 2))
        alone_s = _seconds(lambda: _swept(one, 1))
        nothing_s = _seconds(lambda: _swept(one, 1))
        size_kb = sum(file.stat().st_size for file in (one / "rows").iterdir()) / 1000
        read_s = _seconds(lambda: open_results(one).table())
        long_ones = [_two_against_one(Path(folder) / f"long_{turn}") for turn in range(3)]
    runs = 1000 * REPLICATIONS
    run_s = loop_s / runs
    cores_h = POINTS_AT_NIGHT * REPLICATIONS * alone_s / runs / 3600
    return [
        figure(
            "runs a second of the plain loop, one core: a tenth, all",
            [100 * REPLICATIONS / few_s, runs / loop_s],
            "runs/s",
        ),
        figure(
            "sweep of 1,000 points x 5 weeks on one thread, against the plain loop",
            [alone_s / loop_s],
            "times",
            "< 1.3",
        ),
        figure("... on two threads", [whole_s], "s", "< 600"),
        figure("... two threads against one", [alone_s / whole_s], "times", ">= 1.8"),
        figure("two threads against one, 30 points x 10 runs of 500 h", long_ones, "times", ">= 1.8"),
        figure("overhead of a run: checking, handing over, storing, tables", [(alone_s - loop_s) / runs * 1000], "ms"),
        figure("... of it when all is there already: checks and tables", [nothing_s / runs * 1000], "ms"),
        figure("one run: simulated week with warm-up, and measures", [run_s * 1000], "ms"),
        figure("store: rows of 5,000 runs", [size_kb], "kB"),
        figure("store: read back", [read_s], "s"),
        figure(
            f"on paper: {POINTS_AT_NIGHT:,} points x 5 on {MACHINES} machines of 8 cores", [cores_h / MACHINES / 8], "h"
        ),
        figure("processors, and work waiting for them", [os.cpu_count() or 0, os.getloadavg()[0]], ""),
    ]


def _swept(
    folder: Path,
    workers: int,
    factors: dict[str, list[Any]] = FACTORS,
    hours: float = WEEK_H,
    replications: int = REPLICATIONS,
) -> None:
    sweep(
        "ring_cell", factors, folder, hours=hours, warmup_hours=20, replications=replications, seed=SEED,
        engine="compiled", workers=workers, plots=False,
    )  # fmt: skip


def _two_against_one(folder: Path) -> float:
    long_ones = (LONG_FACTORS, LONG_H, LONG_REPLICATIONS)
    two_s = _seconds(lambda: _swept(folder / "two", 2, *long_ones))
    return _seconds(lambda: _swept(folder / "one", 1, *long_ones)) / two_s


def _loop(points: int) -> None:
    """What a user would write: lines from overrides, run one after another, measures in a list."""
    found = []
    levels = [[f"{key}={level}" for key, level in zip(FACTORS, row, strict=True)] for row in product(*FACTORS.values())]
    for overrides in levels[:points]:
        line = build(compose("ring_cell", overrides).content)
        yardstick = Yardstick.of(line)
        for number in range(1, REPLICATIONS + 1):
            ledger, _ = compiled.run(line, SEED, number, Times(20 * HOUR_US, (20 + WEEK_H) * HOUR_US, HOUR_US))
            found.append(measures(ledger, yardstick))
    assert len(found) == points * REPLICATIONS


def _seconds(what: Callable[[], object]) -> float:
    began_s = time.perf_counter()
    what()
    return time.perf_counter() - began_s
