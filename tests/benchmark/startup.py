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
IMPORT_AND_RUN = """
import linesim
from linesim.engine import compiled
compiled.run(linesim.load_line("ring_cell"), 1, 1, 0, 7_200_000_000, 3_600_000_000)
"""


def figures() -> list[Figure]:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        told = [figure("first start in Python, compiling", [_python(place)], "s")]
        told.append(figure("later start in Python", [_python(place) for _ in range(TURNS)], "s", "< 3"))
        refusal = _command(place, "compiled")[1]
        if refusal:
            told.append(figure(f"linesim run engine=compiled: {refusal}", [float("nan")], ""))
        else:
            again = [_command(place, "compiled")[0] for _ in range(TURNS)]
            told.append(figure("linesim run engine=compiled, compiled before", again, "s", "< 3"))
        unused = [_command(place, "simpy")[0] for _ in range(TURNS)]
        told.append(figure("linesim run engine=simpy, compiled engine unused", unused, "s"))
    return told


def _python(folder: Path) -> float:
    return _timed([sys.executable, "-c", IMPORT_AND_RUN], folder)[0]


def _command(folder: Path, engine: str) -> tuple[float, str]:
    return _timed([sys.executable, "-m", "linesim", *COMMAND, f"engine={engine}", f"out={folder}/{engine}"], folder)


def _timed(words: list[str], folder: Path) -> tuple[float, str]:
    """Seconds by the clock, and the first line of the error if there was one."""
    path = os.pathsep.join(filter(None, [str(PROJECT), os.environ.get("PYTHONPATH")]))
    environment = {**os.environ, "XDG_CACHE_HOME": str(folder / "cache"), "PYTHONPATH": path}
    began_s = time.perf_counter()
    ran = subprocess.run(words, cwd=folder, env=environment, capture_output=True, encoding="utf-8", timeout=900)
    error = "" if ran.returncode == 0 else (ran.stderr.strip().splitlines() or ["failed"])[0]
    return time.perf_counter() - began_s, error
