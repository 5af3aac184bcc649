"""How long one short `linesim run` takes: while it compiles, when it was compiled before, and without compiled code."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.benchmark.timing import Figure, figure

TURNS = 5
PROJECT = Path(__file__).resolve().parents[2]
COMMAND = ["run", "line=ring_cell", "hours=2", "warmup_hours=0", "replications=1", "seed=1", "plots=false"]


def figures() -> list[Figure]:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        cold = [_linesim_run("compiled", place)]
        warm = [_linesim_run("compiled", place) for _ in range(TURNS)]
        unused = [_linesim_run("simpy", place) for _ in range(TURNS)]
    return [
        figure("linesim run, 2 h of ring_cell: first start, compiling", cold, "s"),
        figure("linesim run: compiled before", warm, "s", "< 3"),
        figure("linesim run: engine=simpy, compiled engine unused", unused, "s"),
    ]


def _linesim_run(engine: str, folder: Path) -> float:
    """Seconds by the clock, imports included, with a cache of its own below `folder`."""
    path = os.pathsep.join(filter(None, [str(PROJECT), os.environ.get("PYTHONPATH")]))
    environment = {**os.environ, "XDG_CACHE_HOME": str(folder / "cache"), "PYTHONPATH": path}
    words = [sys.executable, "-m", "linesim", *COMMAND, f"engine={engine}", f"out={time.monotonic_ns()}"]
    began_s = time.perf_counter()
    ran = subprocess.run(words, cwd=folder, env=environment, capture_output=True, encoding="utf-8", timeout=900)
    lasted_s = time.perf_counter() - began_s
    assert ran.returncode == 0, ran.stderr
    return lasted_s
