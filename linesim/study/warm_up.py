"""The warm-up of lines, found by pilot runs from empty, and one cut for all lines of a study."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from linesim.line import Line
from linesim.line.calendar import has_calendar
from linesim.line.problems import LineError, Problem
from linesim.results.measures.output import windows
from linesim.results.warm_up import PILOT_COLUMNS, SERIES, Pilot
from linesim.study.batch import Batch
from linesim.study.run_settings import WEEK_H

PILOTS = 10  # replications of a pilot run; their mean is what is looked at
FEWEST_WEEKS = 10  # of a line with shifts, which has but one value a week
LONGER = (1, 2, 4)  # a pilot may take so many times the measured time before it is given up
WINDOWS = 100  # at least, in a pilot of a line without shifts; of 1 h if it is long enough


def run_pilot(
    line: Line, hours: float, seed: int, engine: str = "auto", workers: int | None = None, progress: bool = False
) -> Pilot:
    """Replications 1 to 10 of the line from empty, as long as the measured time is to be [h].

    One that has not settled in its first half is made again, twice and then four times as long.
    Raises LineError for a line with shifts and fewer than 10 weeks, and what `Batch.play` raises.
    """
    weekly = has_calendar(line)
    if weekly and hours < FEWEST_WEEKS * WEEK_H:
        rule = f"takes {FEWEST_WEEKS} weeks of measured time or more on a line with shifts"
        fix = f"write weeks={FEWEST_WEEKS}, or give the warm-up, for example warmup_weeks=1"
        raise LineError([Problem("warmup", "auto", rule, fix)], "the run settings")
    window_h = WEEK_H if weekly else min(1.0, hours / WINDOWS)
    for times in LONGER:
        pilot = _pilot(Batch(line, seed, times * hours, 0.0, window_h, engine, workers), weekly, progress)
        if pilot.has_settled:
            break
    return pilot


def _pilot(batch: Batch, weekly: bool, progress: bool) -> Pilot:
    batch.play(range(1, PILOTS + 1), progress, "finding the warm-up, ")
    tables = [windows(ledger).assign(replication=ledger.replication) for ledger in batch.ledgers()]
    whole = [table[table["whole"]] for table in tables]
    return Pilot(pd.concat(whole, ignore_index=True)[PILOT_COLUMNS], weekly)


def common_cut_h(pilots: Mapping[str, Pilot]) -> float:
    """The latest cut of all lines and series [h]. Raises LineError if a line has not settled."""
    problems = []
    for name, pilot in pilots.items():
        column, latest = max(pilot.cuts_h().items(), key=lambda item: item[1])
        if not pilot.has_settled:
            of = f" of {name}" if len(pilots) > 1 else ""
            settles = f"settles after {latest:g} of {pilot.hours:g} h"
            rule = f"finds no end of the warm-up: the {SERIES[column]}{of} {settles}"
            fix = "look whether the line can settle at all, write more hours, or give warmup_hours"
            problems.append(Problem("warmup", "auto", rule, fix))
    if problems:
        raise LineError(problems, "the run settings")
    return max(cut for pilot in pilots.values() for cut in pilot.cuts_h().values())
