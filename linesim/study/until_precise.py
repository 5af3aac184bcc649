"""Replications until measures are as precise as wanted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from linesim.line.problems import LineError, Problem
from linesim.results.intervals import estimate
from linesim.results.precision import LOOK_AHEAD, Wanted, reached, stands
from linesim.results.tables import Yardstick, measures
from linesim.study.batch import Batch

FEWEST = 10  # replications; the spread of fewer is too uncertain to stop by


def play_until_precise(
    batch: Batch, wanted: Sequence[Wanted], first: int, most: int, progress: bool = False
) -> dict[str, Any]:
    """Plays replications 1, 2, ... until all that is wanted stands, or there are `most`; returns what became of it.

    first: how many at least. How many are added at a time follows from the spread so far and from nothing else, so the
    same settings always end with the same replications. Raises LineError for a measure that the line has not.
    """
    values: dict[str, list[float]] = {each.measure: [] for each in wanted}
    yardstick = Yardstick.of(batch.line)
    count, goal = 0, min(max(first, FEWEST), most)
    while count < goal:
        batch.play(range(count + 1, goal + 1), progress, f"{count} done before, now " if count else "")
        for number in range(count + 1, goal + 1):
            found = measures(batch.finished[number][0], yardstick)
            for name, column in values.items():
                column.append(found[name])
        _refuse_undefined(values)
        count = goal
        if not stands(wanted, values):
            goal = min(most, count + _more(wanted, values, count))
    return reached(wanted, values)


def _more(wanted: Sequence[Wanted], values: dict[str, list[float]], count: int) -> int:
    """Half of what seems to be missing: a spread found so far may be too large."""
    needed = max(each.needed(estimate(values[each.measure])) for each in wanted)
    return min(max(LOOK_AHEAD, math.ceil(min(needed - count, 2 * count) / 2)), count)


def _refuse_undefined(values: dict[str, list[float]]) -> None:
    problems = [
        Problem(f"precision.{name}", None, "is not defined for this line", "leave it out, or give what it needs")
        for name, column in values.items()
        if all(map(math.isnan, column))
    ]
    if problems:
        raise LineError(problems, "the run settings")
