"""Several lines run alike and on the same random numbers, so that their differences show soonest."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from typing import Any

from linesim.line import Line
from linesim.results import Comparison
from linesim.study.one_run import drawn_seed
from linesim.study.replications import simulate


def compare(
    lines: Mapping[str, Line], *, seed: int | None = None, progress: bool = False, **settings: Any
) -> Comparison:
    """Runs every line and sets them side by side; the first is the base.

    lines: name -> line, two at least. seed: drawn if None, the same for all: every station, cause and purpose has its
    own random numbers, so what two lines share meets the same luck. settings: those of `simulate`, for all lines.

    Raises ValueError for fewer than two lines, and what `simulate` raises.
    """
    if len(lines) < 2:
        raise ValueError("a comparison needs two lines at least")
    seed = drawn_seed() if seed is None else seed
    found = {}
    for number, (name, line) in enumerate(lines.items(), 1):
        if progress and sys.stderr.isatty():
            print(f"line {number} of {len(lines)}: {name}", file=sys.stderr)
        found[name] = simulate(line, seed=seed, progress=progress, **settings)
    return Comparison(found)
