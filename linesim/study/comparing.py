"""Several lines run alike and on the same random numbers, so that their differences show soonest."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from typing import Any, TypeVar

from linesim.line import Line
from linesim.results import Comparison, Pilot
from linesim.results.selection import read_indifference
from linesim.study.batch import Batch, naming
from linesim.study.one_run import drawn_seed
from linesim.study.run_settings import check_run_settings, times_h
from linesim.study.until_chosen import play_until_chosen
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
    indifference: Mapping[str, float] | None = None,
    most_replications: int = 100,
) -> Comparison:
    """Runs every line and sets them side by side; the first is the base.

    lines: name -> line, two at least. seed: drawn if None, the same for all: every station, cause and purpose has its
    own random numbers, so what two lines share meets the same luck. The other settings are those of `simulate`, for all
    lines; with warmup="auto" the latest cut of all lines holds for each. indifference: {measure: a difference that does
    not matter, in its unit}; then replications, ten at least, are added to the lines that may still be the best until
    one is left, `most_replications` at most. It is the best with 95 % confidence if that leads by as much.

    Raises ValueError for fewer than two lines, and what `simulate` raises; LockUp then tells the name of the `line`,
    and Ctrl-C raises StoppedComparison.
    """
    if len(lines) < 2:
        raise ValueError("a comparison needs two lines at least")
    times: dict[str, Any] = {"hours": hours, "weeks": weeks, "warmup_hours": warmup_hours, "warmup_weeks": warmup_weeks}
    times["warmup"] = warmup
    how = {"replications": replications, "indifference": indifference}
    how |= {"most_replications": most_replications if indifference else None}
    check_run_settings(**times, **how, seed=seed, engine=engine, window_h=window_h, workers=workers)
    seed = drawn_seed() if seed is None else seed
    measured_h, warmup_h = times_h(times)
    pilots: dict[str, Pilot] = {}
    batches: dict[str, Batch] = {}
    whole: list[str] = []
    selection: dict[str, Any] | None = None
    try:
        if warmup == "auto":
            for name, line in _told(lines, progress):
                with naming(name):
                    pilots[name] = run_pilot(line, measured_h, seed, engine, workers, progress)
            warmup_h = common_cut_h(pilots)
        for name, line in lines.items():
            batches[name] = Batch(line, seed, measured_h, warmup_h, window_h, engine, workers)
        for name, batch in _told(batches, progress):
            with naming(name):
                batch.play(range(1, replications + 1), progress)
            whole.append(name)
        choice = read_indifference(indifference or {}, replications)[0]
        if choice is not None:
            selection = play_until_chosen(batches, *choice, replications, most_replications, progress)
    except KeyboardInterrupt:
        kept = _together(batches, whole, pilots) if len(whole) > 1 else None
        raise StoppedComparison(kept, len(whole), len(lines)) from None
    return _together(batches, whole, pilots, selection)


def _together(
    batches: Mapping[str, Batch],
    whole: list[str],
    pilots: Mapping[str, Pilot],
    selection: dict[str, Any] | None = None,
) -> Comparison:
    return Comparison({name: batches[name].results(pilots.get(name)) for name in whole}, selection)


def _told(things: Mapping[str, T], progress: bool) -> Iterator[tuple[str, T]]:
    """One line's thing after another; on a terminal it is told which line it is."""
    for number, (name, thing) in enumerate(things.items(), 1):
        if progress and sys.stderr.isatty():
            print(f"line {number} of {len(things)}: {name}", file=sys.stderr)
        yield name, thing
