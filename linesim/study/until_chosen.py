"""Replications where they matter: for the lines of a comparison that may still be the best, until one is left."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pandas as pd

from linesim.results.definitions import LESS_IS_BETTER
from linesim.results.selection import survivors
from linesim.results.tables import Yardstick, measures
from linesim.study.batch import Batch, naming

STEP = 5  # replications that a round adds to each line that may still be the best


def play_until_chosen(
    batches: Mapping[str, Batch], measure: str, indifference: float, first: int, most: int, progress: bool = False
) -> dict[str, Any]:
    """Adds replications to the lines, of which `first` are played, until one is left or those left have `most`.

    Returns what came of it, as JSON can hold it: measure, indifference, first, most_replications, left (names) and
    decided. Decisions look at complete rounds only and at nothing but their figures. What a round has not finished when
    the user stops it is dropped again.
    """
    names, count = list(batches), first
    columns = {at: _values(batches[name], measure, range(1, first + 1)) for at, name in enumerate(names)}
    while True:
        table = pd.DataFrame(columns)
        going = survivors(table, first, len(names), indifference, most_is_best=measure not in LESS_IS_BETTER)
        columns = {at: columns[at] for at in going}
        if len(going) < 2 or count >= most:
            break
        more = range(count + 1, min(count + STEP, most) + 1)
        try:
            for place, at in enumerate(going, 1):
                with naming(names[at]):
                    batches[names[at]].play(more, progress, f"{len(going)} lines may be the best, line {place}: ")
        except BaseException:
            for at in going:
                batches[names[at]].keep(count)
            raise
        for at in going:
            columns[at] += _values(batches[names[at]], measure, more)
        count = more[-1]
    return {
        "measure": measure,
        "indifference": indifference,
        "first": first,
        "most_replications": most,
        "left": [names[at] for at in going],
        "decided": len(going) == 1,
    }


def _values(batch: Batch, measure: str, numbers: range) -> list[float]:
    yardstick = Yardstick.of(batch.line)
    return [measures(batch.finished[number][0], yardstick)[measure] for number in numbers]
