"""Replications of one line under one set of settings, played as they are wanted: some, and more later."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from importlib.metadata import version

from linesim.engine.contract import LockUp
from linesim.engine.contract.ledger import HOUR_US, Ledger
from linesim.engine.contract.times import times_in_hours
from linesim.line import Line
from linesim.results import Pilot, Results
from linesim.study.engines import choose_engine
from linesim.study.one_run import Run, run_once
from linesim.study.progress import Progress, Tally
from linesim.study.side_by_side import cores, one_by_one, side_by_side


@contextmanager
def naming(line: str) -> Iterator[None]:
    """A line that comes to a stand in here is told by this name."""
    try:
        yield
    except LockUp as stand:
        stand.line = line
        raise


class Batch:
    """A line, how each of its replications is run, and those that are finished: number -> its run.

    hours, warmup_h, window_h: measured time, time before it, and width of an output window [h]. engine: "auto",
    "simpy" or "compiled"; "auto" is settled when the first are played. workers: None for one on each core.
    """

    def __init__(
        self,
        line: Line,
        seed: int,
        hours: float,
        warmup_h: float,
        window_h: float = 1.0,
        engine: str = "auto",
        workers: int | None = None,
        trace: bool = False,
    ) -> None:
        self.line, self.seed, self.engine, self.workers, self.trace = line, seed, engine, workers, trace
        self.times = times_in_hours(hours, warmup_h, window_h)
        self.finished: dict[int, Run] = {}
        self._settled = False

    def play(self, numbers: Sequence[int], progress: bool = False, doing: str = "") -> None:
        """Plays the replications of these numbers; `doing`: what they are for, told in front of the progress.

        Raises LineError if the wanted engine can't run the line, LockUp if the line comes to a stand. What was finished
        when it raises, or when the user stops it, is kept.
        """
        if not self._settled:
            self.engine = choose_engine(self.engine, self.line, len(numbers) * self.times.horizon_us / HOUR_US)
            self._settled = True
        with Progress(len(numbers) * self.times.horizon_us, on=progress) as shown:
            tally = Tally(shown, len(numbers), self.times.horizon_us, doing)
            if self.engine == "compiled":
                side_by_side(self._one, numbers, self.workers or cores(), tally.report, self.finished)
            else:
                one_by_one(self._one, numbers, tally.report, self.finished)

    def keep(self, first: int) -> None:
        """Forgets all replications but the first so many."""
        self.finished = {number: run for number, run in self.finished.items() if number <= first}

    def ledgers(self) -> list[Ledger]:
        """Those of the finished replications, by number."""
        return [self.finished[number][0] for number in sorted(self.finished)]

    def results(self, pilot: Pilot | None = None) -> Results:
        """All that is finished, gathered, at least one replication; pilot: the run by which the warm-up was found."""
        runs = [self.finished[number] for number in sorted(self.finished)]
        traces = [trace for _, trace in runs if trace is not None]
        results = Results(self.line, [ledger for ledger, _ in runs], traces, pilot)
        results.about["engine"] = self.engine
        if self.engine == "compiled":
            results.about["versions"]["numba"] = version("numba")
        return results

    def _one(self, number: int, report: Callable[[int], None]) -> Run:
        try:
            return run_once(self.engine, self.line, self.seed, number, self.times, self.trace, report)
        except LockUp as stand:
            before_h = max(0.0, stand.time_us / HOUR_US - 0.05)
            way = f"seed={self.seed} replication={number} from_h={before_h:.2f} events=1000"
            stand.add_note(f"to see how it came about: linesim trace LINE {way}")
            raise
