"""Several lines run alike and on the same random numbers, so that their differences show soonest."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from typing import Any, TypeVar

from linesim.engine.contract import LockUp
from linesim.line import Line
from linesim.results import Comparison, Pilot
from linesim.study.batch import Batch
from linesim.study.one_run import drawn_seed
from linesim.study.run_settings import check_run_settings, times_h
from linesim.study.warm_up import common_cut_h, run_pilot

T = TypeVar("T")


class StoppedComparison(KeyboardInterrupt):
    """The user stopped a comparison. `comparison` holds the lines that were finished; None with fewer than two."""

    def __init__(self, comparison: Comparison | None, finished: int, planned: int) -> None:
        super().__init__(f"stopped after {finished} of {planned} lines")
        self.comparison = comparison


def compare(
    lines: Mapping[str, Line],
    *,
    hours: float | None = None,
    warmup_hours: float | None = None,
    replications: int = 10,
    seed: int | None = None,
    engine: str = "auto",
    window_h: float = 1.0,
    progress: bool = False,
    workers: int | None = None,
    weeks: float | None = None,
    warmup_weeks: float | None = None,
    warmup: str | None = None,
) -> Comparison:
    """Runs every line and sets them side by side; the first is the base.

    lines: name -> line, two at least. seed: drawn if None, the same for all: every station, cause and purpose has its
    own random numbers, so what two lines share meets the same luck. The other settings are those of `simulate`, for all
    lines; with warmup="auto" the latest cut of all lines holds for each.

    Raises ValueError for fewer than two lines, and what `simulate` raises; LockUp then tells the name of the `line`,
    and Ctrl-C raises StoppedComparison.
    """
    if len(lines) < 2:
        raise ValueError("a comparison needs two lines at least")
    times: dict[str, Any] = {"hours": hours, "weeks": weeks, "warmup_hours": warmup_hours, "warmup_weeks": warmup_weeks}
    times["warmup"] = warmup
    check_run_settings(**times, replications=replications, seed=seed, engine=engine, window_h=window_h, workers=workers)
    seed = drawn_seed() if seed is None else seed
    measured_h, warmup_h = times_h(times)
    pilots: dict[str, Pilot] = {}
    batches: dict[str, Batch] = {}
    whole: list[str] = []
    try:
        if warmup == "auto":
            for name, line in _told(lines, progress):
                pilots[name] = run_pilot(line, measured_h, seed, engine, workers, progress)
            warmup_h = common_cut_h(pilots)
        for name, line in lines.items():
            batches[name] = Batch(line, seed, measured_h, warmup_h, window_h, engine, workers)
        for name, batch in _told(batches, progress):
            batch.play(range(1, replications + 1), progress)
            whole.append(name)
    except LockUp as stand:
        stand.line = name
        raise
    except KeyboardInterrupt:
        kept = _together(batches, whole, pilots) if len(whole) > 1 else None
        raise StoppedComparison(kept, len(whole), len(lines)) from None
    return _together(batches, whole, pilots)


def _together(batches: Mapping[str, Batch], whole: list[str], pilots: Mapping[str, Pilot]) -> Comparison:
    return Comparison({name: batches[name].results(pilots.get(name)) for name in whole})


def _told(things: Mapping[str, T], progress: bool) -> Iterator[tuple[str, T]]:
    """One line's thing after another; on a terminal it is told which line it is."""
    for number, (name, thing) in enumerate(things.items(), 1):
        if progress and sys.stderr.isatty():
            print(f"line {number} of {len(things)}: {name}", file=sys.stderr)
        yield name, thing
