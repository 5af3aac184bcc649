"""What an engineer would write in an afternoon for just one line: serial, exponential times, breakdowns, small buffers.

No names, no states, no trace, no ledger, one random source: machines, SimPy's own stores between them, and two counts.
"""

from __future__ import annotations

import random
from collections.abc import Generator

import simpy

from tests.benchmark.serial_line import BUFFER_PARTS, CYCLE_S, MTBF_S, MTTR_S


def run_bare_script(stations: int, horizon_s: float, seed: int = 1) -> tuple[int, int]:
    """Run the line; returns operations ended, parts out. Blocking after service, age by working time, part resumes."""
    env = simpy.Environment()
    buffers = [simpy.Store(env, BUFFER_PARTS) for _ in range(stations - 1)]
    source = random.Random(seed)
    draw = source.expovariate
    visits, out = [0] * stations, [0]

    def machine(number: int) -> Generator[simpy.Event, object, None]:
        before = buffers[number - 1] if number else None
        behind = buffers[number] if number < stations - 1 else None
        timeout = env.timeout
        to_failure_s = draw(1 / MTBF_S)
        while True:
            part = (yield before.get()) if before is not None else 1
            left_s = draw(1 / CYCLE_S)
            while left_s > to_failure_s:
                yield timeout(to_failure_s)
                left_s -= to_failure_s
                yield timeout(draw(1 / MTTR_S))
                to_failure_s = draw(1 / MTBF_S)
            yield timeout(left_s)
            to_failure_s -= left_s
            visits[number] += 1
            if behind is not None:
                yield behind.put(part)
            else:
                out[0] += 1

    for number in range(stations):
        env.process(machine(number))
    env.run(until=horizon_s)
    return sum(visits), out[0]
