"""`python -m tests.benchmark [speed growth memory threads startup sweeps reports]`: the figures, or some parts of them.

Written to `outputs/benchmark/<time>.txt` too, with the machine and the versions.
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import time
from importlib import import_module
from importlib.metadata import version
from pathlib import Path

from tests.benchmark.timing import Figure, table

PARTS = ("speed", "growth", "memory", "threads", "startup", "sweeps", "reports")
FOLDER = Path(__file__).resolve().parents[2] / "outputs" / "benchmark"


def main(names: list[str]) -> int:
    unknown = [name for name in names if name not in PARTS]
    if unknown:
        print(f"no such part: {', '.join(unknown)}; there are {', '.join(PARTS)}", file=sys.stderr)
        return 2
    subprocess.run([sys.executable, "-m", "linesim.engine.compiled"], check=True)  # kept code is what all runs use
    told = [_setting()]
    print(told[0], flush=True)
    for name in names or PARTS:
        found: list[Figure] = import_module(f"tests.benchmark.{name}").figures()
        told.append(f"{name}\n{table(found)}")
        print(f"\n{told[-1]}", flush=True)
    FOLDER.mkdir(parents=True, exist_ok=True)
    file = FOLDER / f"{time.strftime('%Y-%m-%d_%H%M%S')}.txt"
    file.write_text("\n\n".join(told) + "\n", encoding="utf-8")
    return 0


def _setting() -> str:
    versions = ", ".join(f"{name} {version(name)}" for name in ("simpy", "numba", "numpy"))
    load = f", work waiting {os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else ""
    return f"{platform.machine()}, {os.cpu_count()} processors{load}; Python {platform.python_version()}, {versions}"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
