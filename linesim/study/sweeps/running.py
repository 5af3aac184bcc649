"""The runs of a plan that are missing in its folder, done by whoever is there, and the tables written at the end."""

from __future__ import annotations

import math
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pandas as pd
from filelock import FileLock, Timeout

from linesim.engine.contract.ledger import HOUR_US
from linesim.line import LineError, Problem
from linesim.results import sweep_store
from linesim.results.sweep import Sweep, open_sweep
from linesim.results.sweep_store import keep, put_together
from linesim.study.engines import choose_engine
from linesim.study.progress import Progress
from linesim.study.side_by_side import cores
from linesim.study.sweeps.blocks import Block, Run
from linesim.study.sweeps.cluster import cluster as cluster_of
from linesim.study.sweeps.executing import execute
from linesim.study.sweeps.plan import Plan, begin_or_go_on
from linesim.study.sweeps.points import line_of
from linesim.study.sweeps.rounds import Wanted, wanted
from linesim.study.sweeps.standing import Standing
from linesim.study.sweeps.threads import threads

LOCK = ".lock"


class SweepStopped(KeyboardInterrupt):
    """The user stopped a sweep; what was finished by then is in its folder."""

    def __init__(self, done: int, planned: int) -> None:
        super().__init__(f"stopped after {done} of {planned} runs")


def run_sweep(
    plan: Plan,
    folder: Path,
    *,
    engine: str = "auto",
    workers: int | None = None,
    cluster: str | None = None,
    budget_s: float | None = None,
    plots: bool = True,
    progress: bool = False,
) -> Sweep:
    """Does what is missing of a plan in its folder, and writes the tables; returns what is there then.

    engine: "auto", "simpy" or "compiled". workers: how many runs at a time, None for one on each core. cluster: None
    for threads of this process, else see `cluster.cluster`. budget_s: time by the clock after which no more is begun. A
    run that fails is kept with its error.

    Raises LineError if the folder holds another sweep or one that is being run; SweepStopped on Ctrl-C; OSError if the
    disk is full or the cluster gone. Whatever happens, finished runs are kept, and the same call goes on from there.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with _alone_in(folder):
        began_s = time.monotonic()
        begin_or_go_on(plan, folder)
        deadline_s = math.inf if budget_s is None else began_s + budget_s
        last = _run_rounds(plan, folder, engine, workers or cores(), cluster, deadline_s, progress)
        put_together(folder)
        sweep_store.tell(folder, {**plan.about(), **_how_it_ended(plan, last)})
        sweep = open_sweep(folder)
        sweep.save_tables(folder, plots)
        return sweep


def _run_rounds(
    plan: Plan,
    folder: Path,
    engine: str,
    workers: int,
    cluster: str | None,
    deadline_s: float,
    progress: bool,
) -> Wanted:
    """Round after round until no more is wanted or time is up; returns what was wanted last."""
    rows = sweep_store.rows_of(folder)
    now = wanted(plan.rounds, plan.numbers, rows)
    missing = _missing(now, rows)
    if not missing:
        return now
    points = {point.number: point for point in plan.points.points}
    first = line_of(plan.points, plan.points.points[0])
    ran_on = choose_engine(engine, first, len(missing) * plan.times.horizon_us / HOUR_US)
    standing = Standing(rows, sweep_store.shown_points(folder))

    def block_of(runs: Sequence[Run]) -> Block:
        contents = {number: plan.points.content(points[number]) for number in dict.fromkeys(run.point for run in runs)}
        return Block(runs, contents, plan.times, plan.seed, ran_on)

    def in_time() -> bool:
        return time.monotonic() < deadline_s

    at_work = threads(workers) if cluster is None else cluster_of(cluster, workers)
    with at_work as those:
        while missing and in_time():
            standing.planned = sum(now.replications.values())
            with Progress(len(missing), on=progress) as shown:
                before = standing.done

                def take(rows: list[dict[str, Any]], shown: Progress = shown, before: int = before) -> None:
                    keep(folder, rows)
                    standing.note(rows)
                    shown.update(standing.done - before, standing.words())

                try:
                    execute(missing, block_of, those, take, lambda: not in_time())
                except KeyboardInterrupt:
                    raise SweepStopped(standing.done, standing.planned) from None
            rows = sweep_store.rows_of(folder)
            now = wanted(plan.rounds, plan.numbers, rows)
            missing = _missing(now, rows)
    return now


def _missing(now: Wanted, rows: pd.DataFrame) -> list[Run]:
    """The runs that are wanted and not there, point by point."""
    have = set(zip(rows["point"], rows["replication"], strict=True))
    runs = (Run(point, number) for point, count in now.replications.items() for number in range(1, count + 1))
    return [run for run in runs if run not in have]


def _how_it_ended(plan: Plan, last: Wanted) -> dict[str, Any]:
    """What sweep.json says beside the plan once all is done that will be."""
    return {
        "planned": sum(last.replications.values()),
        "round": last.round,
        "cut_short": not last.over,
        "left_out": last.left_out,
        "imprecise": sorted({*plan.numbers} - {*last.precise, *last.left_out}) if plan.rounds.precision else [],
    }


@contextmanager
def _alone_in(folder: Path) -> Iterator[None]:
    """The operating system holds the lock for a process that lives, so that one that died blocks nobody."""
    lock = FileLock(folder / LOCK)
    try:
        lock.acquire(timeout=0)
    except Timeout:
        fix = "wait until it ends, or write another folder after out="
        raise LineError([Problem("out", str(folder), "another sweep is running in there", fix)], "the sweep") from None
    try:
        yield
    finally:
        lock.release()
