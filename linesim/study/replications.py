"""A line run several times with other random numbers, gathered into results."""

from __future__ import annotations

from collections.abc import Callable
from importlib.metadata import version

from linesim.engine.contract import LockUp
from linesim.engine.contract.ledger import HOUR_US
from linesim.line import Line
from linesim.results import Results
from linesim.study.engines import choose_engine
from linesim.study.one_run import Run, drawn_seed, run_once
from linesim.study.progress import Progress, Tally
from linesim.study.run_settings import check_run_settings, filled, in_hours
from linesim.study.side_by_side import cores, one_by_one, side_by_side


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
) -> Results:
    """Runs the line and returns its results.

    hours: measured time of each replication [h], after warmup_hours [h]; or both in weeks, each in one or the other;
    500 h and 20 h if neither is given. A run starts on Monday 0:00. replications: numbered from 1 on; with
    only_replication just that one is run, and gives the same numbers as among the others. seed: drawn if None; the
    results store it. engine: "auto", "simpy" or "compiled"; the same numbers from each. window_h: width of the output
    windows [h]. trace: keep every event too. progress: tell on stderr how far a long run is. workers: how many
    replications at a time on the compiled engine, None for one on each core; SimPy takes one after another.

    Raises LineError (a ValueError) for settings that can't be; LockUp if the line comes to a stand; Stopped on Ctrl-C.
    """
    check_run_settings(
        hours=hours,
        warmup_hours=warmup_hours,
        weeks=weeks,
        warmup_weeks=warmup_weeks,
        replications=replications,
        seed=seed,
        engine=engine,
        window_h=window_h,
        only_replication=only_replication,
        workers=workers,
    )
    seed = drawn_seed() if seed is None else seed
    numbers = [only_replication] if only_replication else list(range(1, replications + 1))
    times = filled({"hours": hours, "weeks": weeks, "warmup_hours": warmup_hours, "warmup_weeks": warmup_weeks})
    warmup_us = round(in_hours(times["warmup_hours"], warmup_weeks) * HOUR_US)
    horizon_us = warmup_us + round(in_hours(times["hours"], weeks) * HOUR_US)
    window_us = round(window_h * HOUR_US)
    finished: dict[int, Run] = {}

    def play(number: int, report: Callable[[int], None]) -> Run:
        try:
            return run_once(ran_on, line, seed, number, warmup_us, horizon_us, window_us, trace, report)
        except LockUp as stand:
            before_h = max(0.0, stand.time_us / HOUR_US - 0.05)
            way = f"seed={seed} replication={number} from_h={before_h:.2f} events=1000"
            stand.add_note(f"to see how it came about: linesim trace LINE {way}")
            raise

    try:
        ran_on = choose_engine(engine, line, len(numbers) * horizon_us / HOUR_US)
        with Progress(len(numbers) * horizon_us, on=progress) as shown:
            tally = Tally(shown, len(numbers), horizon_us)
            if ran_on == "compiled":
                side_by_side(play, numbers, workers or cores(), tally.report, finished)
            else:
                one_by_one(play, numbers, tally.report, finished)
    except KeyboardInterrupt:
        kept = _results(line, finished, ran_on) if finished else None
        raise Stopped(kept, len(finished), len(numbers)) from None
    return _results(line, finished, ran_on)


def _results(line: Line, finished: dict[int, Run], ran_on: str) -> Results:
    runs = [finished[number] for number in sorted(finished)]
    results = Results(line, [ledger for ledger, _ in runs], [trace for _, trace in runs if trace is not None])
    results.about["engine"] = ran_on
    if ran_on == "compiled":
        results.about["versions"]["numba"] = version("numba")
    return results
