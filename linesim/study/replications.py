"""A line run several times with other random numbers, one run after another, gathered into results."""

from __future__ import annotations

from collections.abc import Callable

from linesim.engine.contract import LockUp
from linesim.engine.contract.ledger import US
from linesim.line import Line
from linesim.results import Results
from linesim.study.one_run import Run, drawn_seed, run_once
from linesim.study.progress import Progress
from linesim.study.run_settings import check_run_settings

HOUR_US = 3600 * US


class Stopped(KeyboardInterrupt):
    """The user stopped a study. `results` holds the replications that were finished by then; None without any."""

    def __init__(self, results: Results | None, finished: int, planned: int) -> None:
        super().__init__(f"stopped after {finished} of {planned} replications")
        self.results = results


def simulate(
    line: Line,
    hours: float = 100.0,
    warmup_hours: float = 10.0,
    replications: int = 5,
    seed: int | None = None,
    engine: str = "auto",
    window_h: float = 1.0,
    trace: bool = False,
    progress: bool = False,
    only_replication: int | None = None,
) -> Results:
    """Runs the line and returns its results.

    hours: measured time of each replication [h], after warmup_hours [h]. replications: numbered from 1 on; with
    only_replication just that one is run, and gives the same numbers as among the others. seed: drawn if None; the
    results store it. engine: "auto", "simpy" or "compiled". window_h: width of the output windows [h]. trace: keep
    every event too. progress: tell on stderr how far a long run is.

    Raises LineError (a ValueError) for settings that can't be; LockUp if the line comes to a stand; Stopped on Ctrl-C.
    """
    check_run_settings(
        hours=hours,
        warmup_hours=warmup_hours,
        replications=replications,
        seed=seed,
        engine=engine,
        window_h=window_h,
        only_replication=only_replication,
    )
    seed = drawn_seed() if seed is None else seed
    numbers = [only_replication] if only_replication else list(range(1, replications + 1))
    warmup_us, window_us = round(warmup_hours * HOUR_US), round(window_h * HOUR_US)
    horizon_us = warmup_us + round(hours * HOUR_US)
    runs: list[Run] = []
    with Progress(len(numbers) * horizon_us, on=progress) as shown:
        try:
            for number in numbers:
                words = f"replication {len(runs) + 1} of {len(numbers)}"
                report = _reporter(shown, len(runs) * horizon_us, words)
                runs.append(run_once(line, seed, number, warmup_us, horizon_us, window_us, trace, report))
        except LockUp as stand:
            before_h = max(0.0, stand.time_us / HOUR_US - 0.05)
            way = f"seed={seed} replication={number} from_h={before_h:.2f} events=1000"
            stand.add_note(f"to see how it came about: linesim trace LINE {way}")
            raise
        except KeyboardInterrupt:
            raise Stopped(_results(line, runs) if runs else None, len(runs), len(numbers)) from None
    return _results(line, runs)


def _reporter(shown: Progress, before_us: int, words: str) -> Callable[[int], None]:
    return lambda now_us: shown.update(before_us + now_us, words)


def _results(line: Line, runs: list[Run]) -> Results:
    return Results(line, [ledger for ledger, _ in runs], [trace for _, trace in runs if trace is not None])
