"""`linesim trace`: one replication from empty, event by event."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

from linesim.cli.job import Job
from linesim.cli.trace_table import HOUR_US, selected, table
from linesim.engine.contract import LockUp, Times, Trace
from linesim.line.calendar import WEEK_US, first_planned_us
from linesim.line.model import Line
from linesim.line.problems import LineError, Problem
from linesim.results import trace_table
from linesim.study.engines import choose_engine
from linesim.study.one_run import run_once

SHOWN_H = 8.0  # printed from from_h on, unless to_h says otherwise


def task(job: Job) -> int:
    """Runs the line as long as the printed part needs, prints it, and writes the whole trace if asked."""
    wanted = job.settings
    file = _parquet_file(wanted["parquet"])
    from_h, to_h = _window(wanted, job.line)
    trace, stand = _run(job, round(to_h * HOUR_US) + 1)  # what happens exactly at to_h is shown too
    rows = selected(trace, from_h, to_h, wanted["part"], wanted["machine"])
    print(f"{job.line.name}: seed {wanted['seed']}, replication {wanted['replication']}")
    if wanted["from_h"] is None and from_h > 0:
        print(f"from {from_h:g} h on, the first planned working time; from_h=0 shows what comes before")
    print("\n".join(table(trace, rows[: wanted["events"]])))
    if len(rows) == 0:
        print(f"linesim: no such event between {from_h:g} h and {to_h:g} h", file=sys.stderr)
    elif len(rows) > wanted["events"]:
        print(f"... {len(rows) - wanted['events']} more up to {to_h:g} h; events={len(rows)} prints all")
    if file is not None:
        file.parent.mkdir(parents=True, exist_ok=True)
        trace_table(trace).to_parquet(file, index=False)
        print(f"{len(trace.rows)} events in {file}")
    if stand is not None:
        print(f"linesim: {stand}", file=sys.stderr)
    return 0 if stand is None else 1


def _window(wanted: dict[str, Any], line: Line) -> tuple[float, float]:
    """The times [h] between which events are printed."""
    from_h, to_h = wanted["from_h"], wanted["to_h"]
    if from_h is None:
        from_h = first_planned_us(line, 0, WEEK_US if to_h is None else round(to_h * HOUR_US)) / HOUR_US
    to_h = from_h + SHOWN_H if to_h is None else to_h
    if to_h <= from_h:
        fix = f"write for example to_h={from_h + 1:g}"
        raise LineError([Problem("to_h", to_h, f"must be later than from_h = {from_h:g}", fix)], "the run settings")
    return from_h, to_h


def _run(job: Job, horizon_us: int) -> tuple[Trace, LockUp | None]:
    """The trace up to the horizon, or up to the instant at which the line locks up, and that error."""
    seed, replication = job.settings["seed"], job.settings["replication"]
    engine = choose_engine(job.settings["engine"], job.line, horizon_us / HOUR_US)
    stand = None
    try:
        trace = run_once(engine, job.line, seed, replication, Times(0, horizon_us, horizon_us), trace=True)[1]
    except LockUp as error:
        stand = error
        until_us = max(1, error.time_us)
        trace = run_once(engine, job.line, seed, replication, Times(0, until_us, until_us), trace=True)[1]
    assert trace is not None
    return trace, stand


def _parquet_file(name: str | None) -> Path | None:
    """The file to write, refused if it is there already, since results are never lost, or can't be written."""
    file = Path(name) if name else None
    if file is not None and file.exists():
        fix = "write another name, or move that file"
        raise LineError([Problem("parquet", name, "is there already", fix)], "the run settings")
    if file is not None:
        there = next(path for path in file.absolute().parents if path.exists())
        if not (there.is_dir() and os.access(there, os.W_OK)):
            rule = f"can't be written: {there} is {'closed to you' if there.is_dir() else 'a file'}"
            raise LineError([Problem("parquet", name, rule, "write another name")], "the run settings")
    return file
