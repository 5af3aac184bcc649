"""A line run several times with other random numbers, gathered into results."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from linesim.line import Line
from linesim.results import Results
from linesim.results.precision import read_wanted
from linesim.study.batch import Batch
from linesim.study.one_run import drawn_seed
from linesim.study.run_settings import check_run_settings, times_h
from linesim.study.until_precise import play_until_precise
from linesim.study.warm_up import common_cut_h, run_pilot


class Stopped(KeyboardInterrupt):
    """The user stopped a study. `results` holds the replications that were finished by then; None without any."""

    def __init__(self, results: Results | None, finished: int, planned: int) -> None:
        super().__init__(f"stopped after {finished} of {planned} replications")
        self.results = results


def simulate(
    line: Line,
    hours: float | None = None,
    warmup_hours: float | None = None,
    replications: int = 10,
    seed: int | None = None,
    engine: str = "auto",
    window_h: float = 1.0,
    trace: bool = False,
    progress: bool = False,
    only_replication: int | None = None,
    workers: int | None = None,
    weeks: float | None = None,
    warmup_weeks: float | None = None,
    warmup: str | None = None,
    precision: Mapping[str, Any] | None = None,
    most_replications: int = 100,
) -> Results:
    """Runs the line and returns its results.

    hours: measured time of each replication [h], after warmup_hours [h]; or both in weeks, each in one or the other;
    500 h and 20 h if neither is given. A run starts on Monday 0:00. warmup: "auto" finds the time before
    the measured one by a pilot run, see `run_pilot`; None for as given. replications: numbered from 1 on; with
    only_replication just that one is run, and gives the same numbers as among the others. seed: drawn if None; the
    results store it. engine: "auto", "simpy" or "compiled"; the same numbers from each. window_h: width of the output
    windows [h]. trace: keep every event too. progress: tell on stderr how far a long run is. workers: how many
    replications at a time on the compiled engine, None for one on each core; SimPy takes one after another.
    precision: measure -> half width that its interval is to have, "1 %" of its mean, or a number in its unit; then
    replications are added until it has that, most_replications at most; `about["precision"]` tells what became of it.

    Raises LineError (a ValueError) for settings that can't be; LockUp if the line comes to a stand; Stopped on Ctrl-C.
    """
    check_run_settings(
        hours=hours,
        warmup_hours=warmup_hours,
        weeks=weeks,
        warmup_weeks=warmup_weeks,
        warmup=warmup,
        replications=replications,
        seed=seed,
        engine=engine,
        window_h=window_h,
        only_replication=only_replication,
        workers=workers,
        precision=precision,
        most_replications=most_replications if precision else None,
    )
    seed = drawn_seed() if seed is None else seed
    numbers = [only_replication] if only_replication else list(range(1, replications + 1))
    given = {"hours": hours, "weeks": weeks, "warmup_hours": warmup_hours, "warmup_weeks": warmup_weeks}
    measured_h, warmup_h = times_h({**given, "warmup": warmup})
    batch = pilot = met = None
    try:
        if warmup == "auto":
            pilot = run_pilot(line, measured_h, seed, engine, workers, progress)
            warmup_h = common_cut_h({line.name: pilot})
        batch = Batch(line, seed, measured_h, warmup_h, window_h, engine, workers, trace)
        if precision:
            met = play_until_precise(batch, read_wanted(precision)[0], replications, most_replications, progress)
        else:
            batch.play(numbers, progress)
    except KeyboardInterrupt:
        kept = batch.results(pilot) if batch and batch.finished else None
        raise Stopped(kept, len(batch.finished) if batch else 0, len(numbers)) from None
    results = batch.results(pilot)
    results.about["precision"] = met
    return results
