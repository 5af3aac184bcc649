"""Tests of so many hours, each simulated from empty with luck of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pandas as pd

from linesim.line import Line
from linesim.results.acceptance import OUTPUT_COLUMNS, Acceptance
from linesim.results.measures.output import counts
from linesim.study.batch import Batch, naming
from linesim.study.one_run import drawn_seed
from linesim.study.run_settings import check_run_settings, times_h


def acceptance(
    lines: Mapping[str, Line],
    *,
    hours: float = 8.0,
    mark: float | None = None,
    risk_percent: float = 5.0,
    warmup_hours: float | None = None,
    replications: int = 200,
    seed: int | None = None,
    engine: str = "auto",
    progress: bool = False,
    workers: int | None = None,
) -> Acceptance:
    """Simulates so many tests (replications) of every line; the first is the one that was promised.

    lines: name -> line, one at least. hours: length of a test [h], after warmup_hours from empty (20 h if not given).
    mark: good parts that pass. risk_percent: how often the promised line may fail, for which a mark is told. Tests are
    replications, so they are independent of each other, and test n of all lines meets the same luck.

    Raises ValueError without a line, and what `simulate` raises; LockUp then tells the name of the `line`.
    """
    if not lines:
        raise ValueError("an acceptance test needs a line")
    check_run_settings(
        hours=hours,
        warmup_hours=warmup_hours,
        replications=replications,
        seed=seed,
        engine=engine,
        workers=workers,
        mark=mark,
        risk_percent=risk_percent,
    )
    seed = drawn_seed() if seed is None else seed
    measured_h, warmup_h = times_h({"hours": hours, "warmup_hours": warmup_hours})
    rows: list[tuple[Any, ...]] = []
    for place, (name, line) in enumerate(lines.items(), 1):
        batch = Batch(line, seed, measured_h, warmup_h, measured_h, engine, workers)
        with naming(name):
            batch.play(range(1, replications + 1), progress, f"line {place} of {len(lines)}, ")
        rows += [(name, ledger.replication, int(counts(ledger)["good_parts"])) for ledger in batch.ledgers()]
    about = {
        "lines": list(lines),
        "hours": measured_h,
        "warmup_hours": warmup_h,
        "seed": seed,
        "mark": mark,
        "risk": risk_percent / 100,
    }
    return Acceptance(pd.DataFrame(rows, columns=OUTPUT_COLUMNS), about)
