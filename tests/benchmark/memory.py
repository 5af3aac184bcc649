"""A year of the divided line in a process of its own: how long it takes and how much memory the process has at most."""

from __future__ import annotations

import json
import subprocess
import sys

from tests.benchmark.timing import Figure, figure

YEAR_H = 5220  # planned hours, about 375,000 good parts
TURNS = 3

CODE = """
import json, resource, sys, time
import linesim
def peak_mb():  # what getrusage tells begins with what the process had that started this one
    try:
        with open("/proc/self/status") as status:
            return next(int(line.split()[1]) for line in status if line.startswith("VmHWM")) / 1024
    except OSError:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
from linesim.engine import compiled
from linesim.engine.contract import Times
line, hour_us = linesim.load_line("ring_divided"), 3_600_000_000
compiled.run(line, 1, 1, Times(0, hour_us, hour_us))  # so that compiling is over
before_mb = peak_mb()
began_s, processor_s = time.perf_counter(), time.process_time()
ledger, _ = compiled.run(line, 1, 1, Times(0, round(float(sys.argv[1]) * hour_us), hour_us))
print(json.dumps({
    "parts": int((ledger.departures[:, 3] == 0).sum()),
    "events": ledger.events,
    "wall_s": time.perf_counter() - began_s,
    "processor_s": time.process_time() - processor_s,
    "before_mb": before_mb,
    "peak_mb": peak_mb(),
}))
"""


def figures() -> list[Figure]:
    years = [_run(YEAR_H) for _ in range(TURNS)]
    short, double = _run(YEAR_H / 10), _run(2 * YEAR_H)
    return [
        figure("a year of ring_divided: good parts", [year["parts"] for year in years], "parts"),
        figure("a year of ring_divided: events", [year["events"] for year in years], "events"),
        figure("a year of ring_divided: processor time", [year["processor_s"] for year in years], "s"),
        figure("a year of ring_divided: by the clock", [year["wall_s"] for year in years], "s", "< 15, aim 6"),
        figure("most memory of the process, a tenth of a year", [short["peak_mb"]], "MB"),
        figure("most memory of the process, a year", [year["peak_mb"] for year in years], "MB", "< 450"),
        figure("most memory of the process, two years", [double["peak_mb"]], "MB"),
        figure("memory of the process before the run", [year["before_mb"] for year in years], "MB"),
    ]


def _run(hours: float) -> dict[str, float]:
    ran = subprocess.run(
        [sys.executable, "-c", CODE, str(hours)], check=True, capture_output=True, encoding="utf-8", timeout=1800
    )
    found: dict[str, float] = json.loads(ran.stdout)
    return found
