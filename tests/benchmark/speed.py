"""How fast the engines are, beside a bare script and a kernel made by hand for one line."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np

import linesim
from linesim.engine import compiled, simpy
from linesim.engine.contract.ledger import US, Ledger
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace
from linesim.line.model import Line
from tests.benchmark import serial_line as it
from tests.benchmark.bare_simpy import run_bare_script
from tests.benchmark.serial_kernel import VISITS, run_kernel
from tests.benchmark.timing import Figure, Program, figure, ratios, speeds

HOUR_US = 3600 * US
Engine = Callable[..., tuple[Ledger, Trace | None]]


def visits(engine: Engine, line: Line, hours: float) -> float:
    return engine(line, 1, 1, Times(0, round(hours * HOUR_US), HOUR_US))[0].visits


def events(engine: Engine, line: Line, hours: float, trace: bool = False) -> float:
    return engine(line, 1, 1, Times(0, round(hours * HOUR_US), HOUR_US), trace=trace)[0].events


def kernel_visits(hours: float, tallies: bool) -> float:
    source = np.random.Generator(np.random.PCG64(1))
    times_us = [seconds * US for seconds in (it.CYCLE_S, it.MTBF_S, it.MTTR_S)]
    kernel: Callable[..., tuple[np.ndarray, ...]] = run_kernel
    counts = kernel(it.STATIONS, it.BUFFER_PARTS, *times_us, round(hours * HOUR_US), tallies, source)[0]
    return float(counts[VISITS])


def serial_line_figures() -> list[Figure]:
    """Five programs for the ten-station serial line. They must agree on what the line makes."""
    line = it.serial_line()
    hours = {"readable": 8.0, "bare": 25.0, "compiled": 2000.0, "kernel": 10_000.0, "with tallies": 10_000.0}
    programs: dict[str, Program] = {
        "readable": partial(visits, simpy.run, line, hours["readable"]),
        "bare": lambda: float(run_bare_script(it.STATIONS, hours["bare"] * 3600)[0]),
        "compiled": partial(visits, compiled.run, line, hours["compiled"]),
        "kernel": partial(kernel_visits, hours["kernel"], False),
        "with tallies": partial(kernel_visits, hours["with tallies"], True),
    }
    found = speeds(programs)
    made = {"compiled": programs["compiled"]() / hours["compiled"], "kernel": programs["kernel"]() / hours["kernel"]}
    made["bare"] = run_bare_script(it.STATIONS, 2000 * 3600)[0] / 2000
    assert max(made.values()) < 1.03 * min(made.values()), f"the programs make different lines: {made} visits/h"
    compiled_events = programs["compiled"]() / events(compiled.run, line, hours["compiled"])
    return [
        figure("serial line: bare SimPy script", found["bare"], "visits/s"),
        figure("serial line: SimPy engine", found["readable"], "visits/s"),
        figure("serial line: compiled engine", found["compiled"], "visits/s"),
        figure("serial line: compiled engine", [one / compiled_events for one in found["compiled"]], "events/s"),
        figure("serial line: kernel by hand", found["kernel"], "visits/s"),
        figure("serial line: kernel by hand with tallies", found["with tallies"], "visits/s"),
        figure("SimPy engine / bare script", ratios(found["readable"], found["bare"]), "times"),
        figure("compiled / bare script", ratios(found["compiled"], found["bare"]), "times", ">= 40, aim 100"),
        figure("compiled / SimPy engine, serial line", ratios(found["compiled"], found["readable"]), "times", ">= 100"),
        figure("compiled / kernel by hand", ratios(found["compiled"], found["kernel"]), "times", ">= 0.5"),
        figure("compiled / kernel by hand with tallies", ratios(found["compiled"], found["with tallies"]), "times"),
    ]


def gantry_figures(name: str, readable_hours: float, compiled_hours: float) -> list[Figure]:
    """The two engines on a line with gantries."""
    line = linesim.load_line(name)
    found = speeds(
        {
            "readable": partial(events, simpy.run, line, readable_hours),
            "compiled": partial(events, compiled.run, line, compiled_hours),
            "traced": partial(events, compiled.run, line, compiled_hours / 4, trace=True),
        }
    )
    return [
        figure(f"{name}: SimPy engine", found["readable"], "events/s"),
        figure(f"{name}: compiled engine", found["compiled"], "events/s", ">= 2 million, aim 5"),
        figure(f"{name}: compiled engine with trace", found["traced"], "events/s"),
        figure(f"compiled / SimPy engine, {name}", ratios(found["compiled"], found["readable"]), "times", ">= 100"),
    ]


def figures() -> list[Figure]:
    return [
        *serial_line_figures(),
        *gantry_figures("ring_cell", 10.0, 1000.0),
        *gantry_figures("ring_divided", 2.5, 200.0),
    ]
