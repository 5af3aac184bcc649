"""A line, the line with one thing better at a time, and with its assumptions at their limits, on one luck."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pandas as pd

from linesim.line import Line, build, line_mapping
from linesim.line.assumed import at_the_ends
from linesim.line.levers import PERSON, Lever, levers
from linesim.results import Results
from linesim.results.measures.output import counts
from linesim.results.sensitivity import BASE, LEVER, RANGE, VALUE_COLUMNS, Sensitivity
from linesim.study.batch import Batch, naming
from linesim.study.one_run import drawn_seed
from linesim.study.run_settings import check_run_settings, times_h
from linesim.study.warm_up import common_cut_h, run_pilot


def sensitivity(
    source: str | Path | Mapping[str, Any],
    overrides: Sequence[str] = (),
    change: str | Path | Sequence[str | Path] | None = None,
    *,
    step_percent: float = 10.0,
    hours: float | None = None,
    warmup_hours: float | None = None,
    replications: int = 10,
    seed: int | None = None,
    engine: str = "auto",
    progress: bool = False,
    workers: int | None = None,
    weeks: float | None = None,
    warmup_weeks: float | None = None,
    warmup: str | None = None,
) -> Sensitivity:
    """Runs all of these lines on the same random numbers and tells what each change is worth in good parts/h.

    source, overrides, change: as for `load_line`. step_percent: by how much a thing is made better; its worth is told
    for 1 %. The rest as for `simulate`; a warm-up is found on the line as it is, and holds for all.

    Raises what `simulate` raises, KeyboardInterrupt on Ctrl-C; LockUp then tells the name of the changed `line`.
    """
    times: dict[str, Any] = {"hours": hours, "weeks": weeks, "warmup_hours": warmup_hours, "warmup_weeks": warmup_weeks}
    times["warmup"] = warmup
    check_run_settings(
        **times, replications=replications, seed=seed, engine=engine, workers=workers, step_percent=step_percent
    )
    content = line_mapping(source, overrides, change)
    line = build(content)
    lines = [(BASE, "", "", line), *_changed(line, content, step_percent)]
    seed = drawn_seed() if seed is None else seed
    measured_h, warmup_h = times_h(times)
    pilot = None
    if warmup == "auto":
        pilot = run_pilot(line, measured_h, seed, engine, workers, progress)
        warmup_h = common_cut_h({line.name: pilot})
    rows: list[tuple[Any, ...]] = []
    about: dict[str, Any] = {}
    for place, (kind, name, at, changed) in enumerate(lines, 1):
        batch = Batch(changed, seed, measured_h, warmup_h, measured_h, engine, workers)
        with naming(f"{name} {at}".strip()):
            batch.play(range(1, replications + 1), progress, f"line {place} of {len(lines)}, ")
        about = about or _about(line, batch.results(pilot), step_percent)
        rows += [(kind, name, at, ledger.replication, counts(ledger)["throughput_per_h"]) for ledger in batch.ledgers()]
    return Sensitivity(pd.DataFrame(rows, columns=VALUE_COLUMNS), about)


def _changed(line: Line, content: Mapping[str, Any], step_percent: float) -> Iterator[tuple[str, str, str, Line]]:
    for lever in levers(line):
        at = PERSON if lever.unit == PERSON else f"{step_percent:g} %"
        yield LEVER, lever.name, at, lever.improved(step_percent / 100)
    for key, value, changed in at_the_ends(content, line):
        yield RANGE, key, value, changed


def _about(line: Line, results: Results, step_percent: float) -> dict[str, Any]:
    all_of_them: list[Lever] = list(levers(line))
    return {
        **results.about,
        "step_percent": step_percent,
        "units": {lever.name: lever.unit for lever in all_of_them},
        "words": {lever.name: lever.words for lever in all_of_them},
    }
